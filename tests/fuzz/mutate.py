"""Changes of JSON that keep most of it right: what is refused at once finds nothing.

A document is a tree of places. A change picks one, knows by the contract's schema what belongs there, and puts in,
takes out, swaps or spoils something. Everything follows from the seed of `chance`.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from copy import deepcopy
from random import Random
from typing import Any, NamedTuple

from tests.fuzz.forms import Forms, Schema

HOSTILE: tuple[Any, ...] = (
    None, True, False, 0, -1, 1, 2**31, 2**63, -(2**64), 1e308, 5e-324, -0.0, 0.1, 0.30000000000000004, 1e16,
    "", " ", "0 in", "-0 in", "-3/8 in", "9999 mm", "1 in ", "1\u00a0in", "\u202e", "\ud800", "\0", "a\nb", "'", "=1",
    "\uffff", "\U0010ffff", "ﬁ", "x" * 200, "../..", "{{7*7}}", "%s", [], {}, [[]], {"value": 1, "unit": "in"},
)  # fmt: skip
LETTERS = "0123456789 /.-'\"″½¼inmcft°<>&=\\\u202e\u0301é"


class Place(NamedTuple):
    """Somewhere in a document: the container it stands in, its key there, and the schema of what belongs there."""

    parent: Any
    key: Any
    form: Schema

    @property
    def value(self) -> Any:
        """What stands there."""
        return self.parent[self.key]


class Mutator:
    """Changes documents of one kind. root: name of their schema."""

    def __init__(self, contract: Schema, chance: Random) -> None:
        self._chance, self._forms = chance, Forms(contract, chance)

    def changed(self, document: Any, root: str, other: Any = None) -> Any:
        """The document with one change or a few. other: one of the same kind that parts are taken from."""
        box = [deepcopy(document)]
        for _ in range(self._chance.choice((1, 1, 1, 2, 2, 3, 5, 8))):
            places = [*self._places(box, 0, self._forms.named(root))]
            self._chance.choice(CHANGES)(self, self._chance.choice(places), places, other)
        return box[0]

    def fresh(self, root: str) -> Any:
        """A new document of a kind."""
        return self._forms.sample(self._forms.named(root))

    def _places(self, parent: Any, key: Any, form: Schema) -> Iterator[Place]:
        yield Place(parent, key, form)
        value = parent[key]
        if isinstance(value, dict):
            for name in [*value]:
                yield from self._places(value, name, self._forms.member(form, name))
        elif isinstance(value, list):
            for number in range(len(value)):
                yield from self._places(value, number, self._forms.member(form, number))

    # --- changes: each of one place, all places and another document

    def _renew(self, place: Place, *_: Any) -> None:
        if place.form:
            place.parent[place.key] = self._forms.sample(place.form)

    def _add(self, place: Place, *_: Any) -> None:
        value = place.value
        if isinstance(value, dict) and (keys := self._forms.members(place.form)):
            key = self._chance.choice(keys)
            value[key] = self._forms.sample(self._forms.member(place.form, key))
        elif isinstance(value, list) and (form := self._forms.member(place.form, 0)):
            value.insert(self._chance.randint(0, len(value)), self._forms.sample(form))

    def _drop(self, place: Place, *_: Any) -> None:
        if len(place.parent) > 1:
            del place.parent[place.key]

    def _repeat(self, place: Place, *_: Any) -> None:
        if isinstance(place.parent, list):
            place.parent.insert(place.key, deepcopy(place.value))
        elif isinstance(place.value, list) and len(place.value) < 12:
            place.value.extend(deepcopy(place.value))

    def _shuffle(self, place: Place, *_: Any) -> None:
        if isinstance(place.value, list):
            self._chance.shuffle(place.value)

    def _swap(self, place: Place, places: list[Place], _: Any) -> None:
        """With another place of the same schema, where there is one."""
        alike = [one for one in places if one.form is place.form]
        other = self._chance.choice(alike if self._chance.random() < 0.9 else places)
        place.parent[place.key], new = deepcopy(other.value), deepcopy(place.value)
        other.parent[other.key] = new

    def _graft(self, place: Place, _: list[Place], other: Any) -> None:
        """What stands in another document at a key of the same name."""
        if found := [value for key, value in _members(other) if key == place.key]:
            place.parent[place.key] = deepcopy(self._chance.choice(found))

    def _tweak(self, place: Place, *_: Any) -> None:
        value = place.value
        if isinstance(value, str):
            place.parent[place.key] = self._text(value)
        elif isinstance(value, int | float) and not isinstance(value, bool):
            place.parent[place.key] = self._chance.choice(
                (-value, value + 1, value - 1, value * 10, value / 10, value / 3)
            )

    def _text(self, text: str) -> str:
        where = self._chance.randint(0, len(text))
        how = self._chance.choice(("put", "put", "take", "double"))
        if how == "double":
            return (text + text)[:100]
        return text[:where] + (self._chance.choice(LETTERS) if how == "put" else "") + text[where + (how == "take") :]

    def _spoil(self, place: Place, *_: Any) -> None:
        place.parent[place.key] = deepcopy(self._chance.choice(HOSTILE))

    def _misname(self, place: Place, *_: Any) -> None:
        if isinstance(place.parent, dict):
            place.parent[self._text(str(place.key))] = place.parent.pop(place.key)

    def _bury(self, place: Place, *_: Any) -> None:
        for _depth in range(self._chance.choice((1, 2, 60))):
            place.parent[place.key] = self._chance.choice(([place.value], {"a": place.value}))


Change = Callable[[Mutator, Place, list[Place], Any], None]
CHANGES: tuple[Change, ...] = (
    *(Mutator._renew,) * 8,
    *(Mutator._add,) * 8,
    *(Mutator._drop,) * 3,
    *(Mutator._swap,) * 3,
    *(Mutator._graft,) * 5,
    *(Mutator._repeat,) * 2,
    *(Mutator._tweak,) * 3,
    Mutator._shuffle,
    Mutator._spoil,
    Mutator._misname,
    Mutator._bury,
)


def _members(value: Any) -> Iterator[tuple[str, Any]]:
    if isinstance(value, dict):
        for key, part in value.items():
            yield key, part
            yield from _members(part)
    elif isinstance(value, list):
        for part in value:
            yield from _members(part)


def encoded(document: Any, chance: Random) -> bytes:
    """A document as bytes, now and then in a way that isn't JSON, or that few writers use."""
    text = json.dumps(document, ensure_ascii=chance.random() < 0.3, indent=chance.choice((None, None, None, 1)))
    spoil = chance.random()
    if spoil < 0.02:
        text = text.replace(
            chance.choice((", ", ": ", "{", '"')), chance.choice((",,", ":", "[", "'", "NaN", '"a":1,')), 1
        )
    data = text.encode("utf-8", "surrogatepass" if chance.random() < 0.3 else "replace")
    return b"\xef\xbb\xbf" + data if 0.02 < spoil < 0.023 else data
