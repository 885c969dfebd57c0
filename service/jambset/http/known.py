"""What the service takes, as data: the names a catalogue knows, notations, plausible ranges, counts."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import msgspec
from msgspec import UNSET

from jambset.engine.answers import answer_names, answerable
from jambset.errors import Known
from jambset.http.guard import LONGEST_QUERY
from jambset.http.rate import Quota
from jambset.http.settings import Settings
from jambset.http.views import Amount, Count, Limits, Notation, PlausibleRange, Rate
from jambset.model import measures
from jambset.model.request import House, HouseRecheck, Opening, Recheck
from jambset.quantity.grid import GRIDS
from jambset.quantity.parse import EXAMPLES, LONGEST_TEXT, PATTERNS, UNITS, kind_of
from jambset.quantity.ticks import Length, SiFloat
from jambset.rules.naming import GRID_NAMES, codes, materials, pieces, places, versions
from jambset.rules.schema import Catalogue

REQUESTS: tuple[type[Any], ...] = (Opening, Recheck, House, HouseRecheck)
"""What a caller may send as a body."""


def names(catalogue: Catalogue) -> dict[str, tuple[str, ...]]:
    """Allowed values by "Struct.field", for the contract and for the errors of a refused body."""
    of_openings = {
        "jurisdiction": tuple(sorted(catalogue.jurisdictions)),
        "grid": tuple(GRIDS),
        "rule_set": (catalogue.version,),
    }
    return {
        **{f"{struct}.{field}": known for struct in ("Opening", "Recheck") for field, known in of_openings.items()},
        "Answered.code": answerable(catalogue),
        "Layer.material": tuple(sorted(catalogue.materials)),
        "Transition.piece": tuple(sorted(piece.id for piece in catalogue.pieces)),
    }


def vocabulary(catalogue: Catalogue) -> dict[str, Known]:
    """What errors of a refused body say of names: by "Struct.field" those above, by their enum the codes."""
    return {**codes(catalogue), **{place: _known(place, catalogue) for place in names(catalogue)}}


def _known(place: str, catalogue: Catalogue) -> Known:
    of_field = {
        "jurisdiction": places(catalogue),
        "grid": GRID_NAMES,
        "rule_set": versions(catalogue),
        "code": answer_names(catalogue),
        "material": materials(catalogue),
        "piece": pieces(catalogue),
    }
    return of_field[place.partition(".")[2]]


def empty(catalogue: Catalogue) -> dict[str, str]:
    """What to do in place of an empty list, by "Struct.field"."""
    slabs = [row.id for row in catalogue.materials.values() if row.finish == "hard" and row.nominal == 0]
    bare = f" A bare slab is a layer too: {slabs[0]}." if slabs else ""
    open_ = " Where the floor isn't decided yet, leave build_up out."
    return {"Side.build_up": f"{bare}{open_}", "Alternative.build_up": bare}


def limits(settings: Settings) -> Limits:
    """Everything a client can check before it sends."""
    return Limits(
        body_bytes=settings.max_body_bytes,
        house_bytes=settings.max_house_bytes,
        house_pairs=settings.max_house_pairs,
        held_bytes=settings.max_held_bytes,
        bulk_bytes=settings.max_bulk_bytes,
        bulk_lines=settings.max_bulk_lines,
        bulk_streams=settings.bulk_streams,
        header_bytes=settings.max_header_bytes,
        header_fields=settings.max_header_fields,
        query_bytes=LONGEST_QUERY,
        body_seconds=settings.body_seconds,
        connections=settings.max_connections,
        drain_seconds=settings.drain_seconds,
        rate=UNSET if (quota := Quota.of(settings.rate)) is None else Rate(**quota._asdict()),
        grids=tuple(GRIDS),
        notations=tuple(map(_notation, PATTERNS)),
        plausible=tuple(map(plausible, measured_fields())),
        items=tuple(_counts("minItems", "maxItems")),
        characters=tuple(_counts("minLength", "maxLength")),
    )


def _notation(kind: type[Any]) -> Notation:
    return Notation(
        quantity=kind.__name__,
        units=tuple(UNITS[kind]),
        pattern=PATTERNS[kind],
        longest_text=LONGEST_TEXT,
        examples=EXAMPLES[kind],
    )


def measured_fields() -> tuple[type[Any], ...]:
    """The classes of measured fields, in the order in which their module names them."""
    found = (cls for cls in vars(measures).values() if isinstance(cls, type) and issubclass(cls, (Length, SiFloat)))
    return tuple(cls for cls in found if cls.__module__ == measures.__name__)


def plausible(cls: type[Any]) -> PlausibleRange:
    """The range of a measured field, in the unit that writes both ends exactly and most briefly."""
    least, greatest = min(_ends(cls), key=lambda ends: sum(len(f"{end.value:g}") for end in ends))
    return PlausibleRange(
        measure=cls.__name__, title=cls.TITLE, quantity=kind_of(cls).__name__, least=least, greatest=greatest
    )


def _ends(cls: type[Any]) -> Iterator[tuple[Amount, Amount]]:
    """Both ends in each unit that writes them exactly; never in feet, which nobody uses for these."""
    for unit, (factor, offset) in UNITS[kind_of(cls)].items():
        low, high = ((Fraction(str(end + 0)) - offset) / factor for end in (cls.LEAST, cls.GREATEST))
        if _is_short(low) and _is_short(high) and not unit.startswith("ft"):
            yield Amount(value=float(low), unit=unit), Amount(value=float(high), unit=unit)


def _is_short(number: Fraction) -> bool:
    return (number * 10_000).denominator == 1


def _counts(least: str, most: str) -> Iterator[Count]:
    """Limits of lists or texts, read from the schema of the request."""
    _, components = msgspec.json.schema_components(REQUESTS, schema_hook=lambda _: {"x-quantity": True})
    for struct, schema in components.items():
        for field, form in schema.get("properties", {}).items():
            if most in form:
                yield Count(field=f"{struct}.{field}", least=form.get(least, UNSET), most=form[most])
