"""Openings as a jobsite might send them, for property tests: any core, any stack of floors, any place and duty.

`openings` gives requests as JSON values, ready to be sent. `unwritten` gives the same with each length as a
Tape, so that one opening can be written in several notations: `written(opening, in_text)`. Lengths are whole
sixty-fourths of an inch, or whole millimetres where the place measures in them. Everything is plausible and
valid; what the service refuses is tested elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any

from hypothesis import strategies as st

from jambset.model.request import Core, Duty, Hinges, RoomUse
from jambset.quantity.ticks import INCH, MM
from jambset.rules.load import load_catalogue

# What one example draws with the next one draws with too: made once, a strategy is checked and labelled once, and that
# takes longer than the drawing. Hence the caches.

Wire = dict[str, Any]
SIXTY_FOURTH = INCH // 64


class Tape(int):
    """A length that is still to be written [ticks]."""


@lru_cache(maxsize=None, typed=True)
def pick(*values: Any) -> st.SearchStrategy[Any]:
    """One of some values, which may be told apart by their type alone."""
    return st.sampled_from(values)


# --- notations

Notation = Callable[[Tape], Any]


def in_text(length: Tape) -> str:
    """As on the tape: "1 1/2 in", or "38 mm" where sixty-fourths can't say it."""
    if length % SIXTY_FOURTH:
        return f"{_number(Fraction(length, MM))} mm"
    whole, rest = divmod(abs(length), INCH)
    part = str(Fraction(rest, INCH)) if rest else ""
    sign = "-" if length < 0 else ""
    return sign + " ".join(p for p in (str(whole) if whole or not part else "", part) if p) + " in"


def in_millimetres(length: Tape) -> Wire:
    return {"value": length / MM, "unit": "mm"}


def in_inches(length: Tape) -> Wire:
    return {"value": length / INCH, "unit": "in"}


def in_centimetres(length: Tape) -> Wire:
    return {"value": length / (10 * MM), "unit": "cm"}


def _number(value: Fraction) -> str:
    return str(value.numerator) if value.denominator == 1 else f"{float(value):.4f}"


def written(value: Any, notation: Notation) -> Any:
    """The opening with its lengths written in one notation."""
    if isinstance(value, Tape):
        return notation(value)
    if isinstance(value, Mapping):
        return {name: written(part, notation) for name, part in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [written(part, notation) for part in value]
    return value


# --- lengths

INCHES, METRIC = "inches", "metric"


@cache
def tape(least: int, greatest: int, units: str, *, coarse: bool = False) -> st.SearchStrategy[Tape]:
    """Lengths from least to greatest [ticks] on the tape of the place; coarse: sixteenths or whole millimetres."""
    step = MM if units == METRIC else SIXTY_FOURTH * (4 if coarse else 1)
    return st.integers(-(-least // step), greatest // step).map(lambda n: Tape(n * step))


def _in(numerator: int, denominator: int = 1) -> int:
    return INCH * numerator // denominator


# --- floors

LAYERS: dict[str, tuple[int, int]] = {
    "carpet_cushion": (_in(3, 8), _in(1, 2)),
    "cushion_prime_foam": (_in(3, 8), _in(1, 2)),
    "cushion_grafted_prime": (_in(1, 4), _in(1, 2)),
    "cushion_densified_prime": (_in(1, 4), _in(1, 2)),
    "cushion_frothed": (_in(1, 4), _in(1, 2)),
    "cushion_fibre": (_in(1, 4), _in(1, 2)),
    "cushion_rubber_flat": (_in(1, 4), _in(1, 2)),
    "cushion_rubber_rippled": (_in(5, 16), _in(1, 2)),
    "carpet": (_in(3, 8), _in(5, 8)),
    "carpet_loop": (_in(3, 16), _in(3, 8)),
    "carpet_plush": (_in(1, 2), _in(3, 4)),
    "carpet_shag": (_in(3, 4), _in(3, 2)),
    "sheet_vinyl": (_in(1, 16), _in(1, 8)),
    "linoleum": (_in(5, 64), _in(1, 8)),
    "vinyl_tile": (_in(3, 32), _in(1, 8)),
    "vinyl_glue_down": (_in(5, 64), _in(3, 16)),
    "vinyl_plank": (_in(5, 32), _in(3, 8)),
    "rubber": (_in(1, 8), _in(3, 8)),
    "cork": (_in(5, 32), _in(5, 16)),
    "cork_floating": (_in(13, 32), _in(15, 32)),
    "laminate": (_in(1, 4), _in(1, 2)),
    "foam_underlay": (_in(1, 16), _in(1, 8)),
    "multilayer_panel": (_in(5, 32), _in(9, 16)),
    "engineered_wood": (_in(5, 16), _in(3, 4)),
    "solid_wood": (_in(5, 16), _in(3, 4)),
    "solid_softwood": (_in(3, 4), _in(5, 4)),
    "felt_paper": (_in(1, 64), _in(1, 16)),
    "ceramic_tile": (_in(1, 4), _in(1, 2)),
    "gauged_porcelain": (_in(9, 64), _in(1, 4)),
    "stone_tile": (_in(3, 8), _in(3, 4)),
    "thin_bed_mortar": (_in(3, 32), _in(1, 4)),
    "medium_bed_mortar": (_in(3, 32), _in(1, 2)),
    "backer_board": (_in(1, 4), _in(1, 2)),
    "uncoupling_mat": (_in(1, 8), _in(5, 16)),
    "mud_bed": (_in(3, 4), _in(3, 2)),
    "self_levelling": (_in(1, 8), _in(3, 4)),
    "plywood_underlay": (_in(1, 4), _in(3, 8)),
    "acoustic_mat": (_in(5, 64), _in(15, 32)),
    "heating_mat": (_in(1, 8), _in(1, 4)),
    "hydronic_panel": (_in(1, 2), _in(9, 8)),
    "gypsum_topping": (_in(3, 4), _in(3, 2)),
    "sealed_concrete": (0, _in(1, 16)),
}
"""Every material of the catalogue with a thickness that it is laid in."""

_CUSHIONS = ("", *(name for name in LAYERS if "cushion" in name))
_CARPETS = ("carpet", "carpet_loop", "carpet_plush", "carpet_shag")
_RESILIENT = ("sheet_vinyl", "linoleum", "vinyl_tile", "vinyl_glue_down", "rubber", "cork")
_FLOATING = ("vinyl_plank", "laminate", "cork_floating", "multilayer_panel", "engineered_wood")
_WOOD = ("solid_wood", "engineered_wood", "solid_softwood")
_TILES = ("ceramic_tile", "gauged_porcelain", "stone_tile")
_BEDS = ("thin_bed_mortar", "medium_bed_mortar")
_THIN_BASES = ("", "", "plywood_underlay", "self_levelling", "acoustic_mat")
_TILE_BASES = ("", "backer_board", "uncoupling_mat", "heating_mat", "plywood_underlay", "mud_bed")
_THICK_BASES = ("", "", "", "gypsum_topping", "hydronic_panel")

STACKS: dict[str, tuple[tuple[Sequence[str], ...], str]] = {
    "carpet": ((_THICK_BASES, _CUSHIONS, _CARPETS), "stretched"),
    "resilient": ((_THIN_BASES, _RESILIENT), "glued"),
    "floating": ((_THIN_BASES, ("", "foam_underlay"), _FLOATING), "floating"),
    "wood": ((("", "felt_paper", "plywood_underlay"), _WOOD), "nailed"),
    "tile": ((_TILE_BASES, _BEDS, _TILES), "bedded"),
    "concrete": ((("sealed_concrete",),), "bedded"),
}
"""Sensible build-ups: what each layer may be, from the subfloor up ("" is none), and how the finish is held."""


@cache
@st.composite
def _layer(draw: st.DrawFn, material: str, units: str, fixing: str | None) -> Wire:
    layer: Wire = {"material": material}
    least, greatest = LAYERS[material]
    if draw(st.booleans()):
        layer["thickness"] = thickness = draw(tape(least, greatest, units))
        if draw(st.integers(0, 3)) == 0:
            layer["least"] = Tape(max(0, thickness - draw(tape(0, _in(1, 8), units))))
            layer["greatest"] = Tape(thickness + draw(tape(0, _in(1, 8), units)))
        if material in _CARPETS:
            layer |= draw(_maybe("thickness_of", pick("total", "pile")))
    if fixing and draw(st.booleans()):
        layer["fixing"] = fixing
    return layer


@cache
@st.composite
def build_ups(draw: st.DrawFn, units: str = INCHES, kinds: Sequence[str] = tuple(STACKS)) -> list[Wire]:
    """A sensible build-up, each layer with a thickness given or left to the catalogue."""
    choices, fixing = STACKS[draw(pick(*kinds))]
    names = [name for names in choices if (name := draw(pick(*names)))]
    return [draw(_layer(name, units, fixing if name == names[-1] else None)) for name in names]


@cache
def _maybe(name: str, values: st.SearchStrategy[Any]) -> st.SearchStrategy[Wire]:
    """A member or none."""
    return st.one_of(st.builds(dict), values.map(lambda value: {name: value}))


@cache
def _alternatives(units: str) -> st.SearchStrategy[list[Wire]]:
    others = st.fixed_dictionaries({"build_up": build_ups(units)}, optional={"weight": st.just(0.25)})
    return st.lists(others, min_size=1, max_size=2)


@cache
@st.composite
def _side(draw: st.DrawFn, units: str, *, decided: bool | None) -> Wire:
    side: Wire = draw(_maybe("room", pick("bedroom 2", "hall", "bath")))
    side |= draw(_maybe("use", pick(*map(str, RoomUse))))
    if decided or (decided is None and draw(st.integers(0, 7)) > 0):
        side["build_up"] = draw(build_ups(units))
        if draw(st.integers(0, 3)) == 0:
            side["rug"] = draw(tape(0, _in(1, 2), units))
    if draw(st.integers(0, 4)) == 0:
        side["could_become"] = draw(_alternatives(units))
        if "build_up" not in side:
            side["could_become"][-1].pop("weight", None)  # takes what the others leave
    if "build_up" in side:
        sure = ["assumed", "undecided"] if "could_become" in side else ["confirmed", "assumed", "undecided"]
        if decided:
            sure.remove("undecided")
        side |= draw(_maybe("certainty", pick(*sure)))
    return side


# --- subfloor, unit, air, rules


@cache
@st.composite
def _survey(draw: st.DrawFn, units: str) -> Wire:
    height = tape(-_in(3, 8), _in(3, 8), units)
    point = st.fixed_dictionaries(
        {
            "radius": tape(_in(2), _in(48), units),
            "angle": st.sampled_from([0, 15, 45, 90, 120, 180]),
            "height": height,
        }
    )
    points = draw(st.lists(point, min_size=1, max_size=4))
    return {"kind": "survey", "hinge_leg": draw(height), "strike_leg": draw(height), "points": points}


@cache
def subfloors(units: str = INCHES) -> st.SearchStrategy[Wire]:
    """Any kind of subfloor: level, two legs, a slope, a survey."""
    height = tape(-_in(3, 8), _in(3, 8), units)
    runs = tape(_in(24), _in(240), units)
    legs = st.fixed_dictionaries({"kind": st.just("legs"), "hinge_leg": height, "strike_leg": height})
    slope = st.fixed_dictionaries(
        {
            "kind": st.just("slope"),
            "rise": tape(0, _in(1, 8), units),
            "run": runs,
            "direction": st.sampled_from([-135, 0, 45, 90, 135, 180]),
        }
    )
    return st.one_of(st.fixed_dictionaries({"kind": st.just("level")}), legs, slope, _survey(units))


@cache
@st.composite
def _frame(draw: st.DrawFn, units: str, *, measured: bool | None) -> Wire:
    frame: Wire = {"state": draw(pick("on_site", "on_site", "set", "to_order"))}
    if frame["state"] == "set" and draw(st.booleans()):
        frame["foot"] = draw(tape(0, _in(1, 2), units))
    if measured or (measured is None and draw(st.integers(0, 5)) > 0):
        frame["undercut"] = draw(tape(0, _in(2), units, coarse=True))
    for part, least, greatest in (
        ("head_gap", _in(1, 16), _in(1, 4)),
        ("head_thickness", _in(1, 2), _in(1)),
        ("leg_thickness", _in(1, 2), _in(1)),
        ("stop_thickness", _in(3, 8), _in(1, 2)),
    ):
        frame |= draw(_maybe(part, tape(least, greatest, units)))
    return frame


THICKNESSES = {INCHES: [Tape(_in(11, 8))], METRIC: [Tape(35 * MM), Tape(40 * MM)]}


@cache
@st.composite
def _leaf(draw: st.DrawFn, units: str) -> Wire:
    leaf: Wire = {
        "width": draw(tape(_in(18), _in(36), units, coarse=True)),
        "height": draw(tape(_in(78), _in(96), units, coarse=True)),
        "thickness": draw(pick(*THICKNESSES[units])),
        "core": draw(pick(*map(str, Core))),
        "count": draw(pick(1, 1, 1, 2)),
    }
    leaf |= draw(_maybe("opening_angle", pick(90, 110, 180)))
    leaf |= draw(_maybe("hinges", pick(*map(str, Hinges))))
    return leaf | draw(_maybe("fire_minutes", pick(20, 45, 90)))


def _flow(least: int, greatest: int) -> st.SearchStrategy[str]:
    return st.integers(least, greatest).map(lambda cfm: f"{cfm} cfm")


_PATHS = st.one_of(
    st.fixed_dictionaries(
        {"kind": st.just("grille"), "width": st.just(Tape(_in(12))), "height": st.just(Tape(_in(6)))},
        optional={"material": st.sampled_from(["metal", "wood"]), "free_area": st.just("40 in2")},
    ),
    st.fixed_dictionaries(
        {
            "kind": st.just("duct"),
            "diameter": st.just(Tape(_in(8))),
            "length": st.just(Tape(_in(120))),
            "grille_free_area": st.just("50 in2"),
        },
        optional={"roughness": st.just(Tape(MM))},
    ),
    st.fixed_dictionaries({"kind": st.just("crack"), "leakage_area": st.sampled_from(["2 in2", "10 cm2"])}),
)

_AIR: st.SearchStrategy[Wire] = st.fixed_dictionaries(
    {},
    optional={
        "supply_flow": _flow(10, 250),
        "flow_basis": st.sampled_from(["actual", "standard"]),
        "pressure_limit": st.sampled_from(["2.5 Pa", "3 Pa", "5 Pa"]),
        "altitude": st.sampled_from(["0 m", "1600 m"]),
        "temperature": st.sampled_from(["15 C", "25 C"]),
        "discharge_coefficient": st.just(0.65),
        "other_paths": st.lists(_PATHS, max_size=2),
        "natural_draft_appliance": st.booleans(),
    },
)

_BUILDING: st.SearchStrategy[Wire] = st.fixed_dictionaries(
    {},
    optional={
        "use": st.sampled_from(["detached_house", "townhouse", "apartment", "commercial"]),
        "year_built": st.sampled_from([1955, 1979, 2026]),
        "existing_threshold": st.booleans(),
    },
)


@cache
def project_rules(units: str = INCHES) -> st.SearchStrategy[Wire]:
    """Wishes of a project, each or none."""
    wishes = {
        "hard_floor_clearance": (_in(1, 4), _in(3, 4)),
        "carpet_clearance": (_in(1, 8), _in(1, 2)),
        "carpet_leaf_height": (_in(1), _in(2)),
        "piece_clearance": (_in(1, 16), _in(3, 8)),
        "greatest_gap": (_in(3, 4), _in(3, 2)),
        "leg_below_hard_floor": (0, _in(1, 4)),
        "leg_below_pile": (0, _in(1, 2)),
        "leg_under_carpet": (0, _in(3, 4)),
        "head_shim": (0, _in(1, 2)),
        "trim_limit": (0, _in(3, 2)),
    }
    optional = {name: tape(least, greatest, units) for name, (least, greatest) in wishes.items()}
    return st.fixed_dictionaries({}, optional=optional)


_DUTIES = st.lists(st.sampled_from([str(duty) for duty in Duty]), unique=True, max_size=3)
GRIDS = {INCHES: ["1/8 in", "1/16 in", "1/16 in", "1/32 in", "1/64 in"], METRIC: ["5 mm", "1 mm", "1 mm", "0.5 mm"]}
PIECES = ("t_moulding", "saddle", "reducer_overlap", "carpet_bar")
PLACES = {
    code: METRIC if place.grid.endswith("mm") else INCHES for code, place in load_catalogue().jurisdictions.items()
}


@cache
@st.composite
def unwritten(
    draw: st.DrawFn,
    *,
    decided: bool | None = None,
    measured: bool | None = None,
    bare: bool = False,
    places: Sequence[str] = tuple(PLACES),
) -> Wire:
    """An opening whose lengths are still to be written.

    decided: both floors named, or neither, or as it comes. measured: the undercut given for sure, or as it comes.
    bare: without project rules, alternatives, chosen pieces and duties, as most openings are.
    """
    place = draw(pick(*places))
    units = PLACES[place]
    leaf = draw(_leaf(units))
    opening: Wire = {
        "mark": draw(pick("D01", "2-D13b")),
        "jurisdiction": place,
        "leaf": leaf,
        "frame": draw(_frame(units, measured=measured)),
        "pull_side": draw(_side(units, decided=decided)),
        "push_side": draw(_side(units, decided=decided)),
        "grid": draw(pick(*GRIDS[units])),
    }
    if decided is False:
        unnamed = opening[draw(pick("pull_side", "push_side"))]
        for member in ("build_up", "could_become", "certainty"):
            unnamed.pop(member, None)
    if more := draw(_maybe("more", tape(_in(1, 2), _in(5), units))):
        opening["rough_opening"] = {"height": Tape(leaf["height"] + more["more"])}
    opening |= draw(_maybe("subfloor", subfloors(units)))
    opening |= draw(_maybe("building", _BUILDING))
    if bare:
        for side in ("pull_side", "push_side"):
            opening[side].pop("could_become", None)
        return opening
    opening |= draw(_maybe("duties", _DUTIES))
    opening |= draw(_maybe("air", _AIR))
    opening |= draw(_maybe("project_rules", project_rules(units)))
    opening |= draw(_maybe("transition", _transition(units)))
    return opening | draw(_maybe("as_of", pick("2008-05-01", "2019-05-01", "2026-05-01")))


@cache
def _transition(units: str) -> st.SearchStrategy[Wire]:
    return st.fixed_dictionaries({}, optional={"piece": st.sampled_from(PIECES), "rise": tape(0, _in(5, 8), units)})


def openings(**more: Any) -> st.SearchStrategy[Wire]:
    """Requests as JSON values, lengths as on the tape; more: as for unwritten."""
    return unwritten(**more).map(lambda opening: written(opening, in_text))
