"""Words of the contract: every member is described, every code that needs it explained, nothing said for nobody."""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import StrEnum
from typing import Any

import pytest
from tests.openings import door, floor
from tests.rechecks import rechecked

from jambset.errors import InvalidRequest
from jambset.http.docstrings import member_docs
from jambset.http.words import ANYWHERE
from jambset.model.request import Certainty, Duty, FlowBasis, FrameState, Hinges, ThicknessOf
from jambset.model.source import Force, Verified
from jambset.quantity.parse import PATTERNS
from jambset.render.encode import FORMS
from jambset.rules.schema import Measured

Document = dict[str, Any]
MEASURED = {form.__name__ for form in (*FORMS.values(), *PATTERNS)} | {"Measure"}
TWINS = "Patch"
"""What is merged into something says of its members what that says."""


@pytest.fixture(scope="module")
def schemas(contract: Document) -> dict[str, Document]:
    found: dict[str, Document] = contract["components"]["schemas"]
    return found


def _members(schemas: dict[str, Document]) -> Iterator[tuple[str, str, Document]]:
    for name, schema in schemas.items():
        if not name.endswith(TWINS) and name not in ("OpeningDefaults", "RecheckDefaults"):
            yield from ((name, field, form) for field, form in schema.get("properties", {}).items())


def _held(form: Document) -> str:
    """Name of the schema that a member, or each item of it, refers to."""
    return str(form.get("$ref") or form.get("items", {}).get("$ref")).rpartition("/")[2]


def test_every_member_is_described(schemas: dict[str, Document]) -> None:
    """A measured one by itself, since of a length alone nobody knows between which points; others by what they hold."""
    told = schemas.keys() - MEASURED
    missing = [
        f"{name}.{field}"
        for name, field, form in _members(schemas)
        if not _said(form) and "const" not in form and _held(form) not in told
    ]
    assert missing == []


def _said(form: Document) -> str:
    """What is said of a member but its default, which says nothing of what it is."""
    return re.sub(r"^When left out: [^.]*\.$", "", form.get("description", ""))


def test_every_schema_is_described_with_a_paragraph_or_a_code_a_line(schemas: dict[str, Document]) -> None:
    """An indented line would be shown as code, and one that breaks in a sentence breaks there on a page too."""
    assert [name for name, schema in schemas.items() if not schema.get("description")] == []
    lines = {line for schema in schemas.values() for line in schema["description"].split("\n")}
    assert [line for line in lines - {""} if not re.fullmatch(r"- `[a-z_]+`: .+\.|[A-Z].*\.", line)] == []


@pytest.mark.parametrize(
    "kind", [Duty, Certainty, FrameState, Hinges, FlowBasis, ThicknessOf, Force, Verified, Measured]
)
def test_every_code_that_no_name_explains_is_explained(kind: type[StrEnum], schemas: dict[str, Document]) -> None:
    docs = member_docs(kind)
    assert docs.keys() == set(kind)
    meanings = "\n".join(f"- `{code}`: {about}" for code, about in docs.items())
    told = [schema["description"] for schema in schemas.values()]
    told += [form.get("description", "") for _, _, form in _members(schemas)]
    assert [about for about in told if about.endswith(meanings)]


def test_what_a_field_is_anywhere_is_said_of_some_field(schemas: dict[str, Document]) -> None:
    said = {field for _, field, form in _members(schemas) if _begins(form, ANYWHERE.get(field))}
    assert said == ANYWHERE.keys()


def _begins(form: Document, about: str | None) -> bool:
    return about is not None and str(form.get("description", "")).startswith(about)


def test_what_stands_below_an_attribute_goes_before_what_a_field_is_anywhere(schemas: dict[str, Document]) -> None:
    assert schemas["CoreView"]["properties"]["note"]["description"] != ANYWHERE["note"]
    assert schemas["FlooringSide"]["properties"]["note"]["description"] == ANYWHERE["note"]


def test_what_stands_below_an_attribute_goes_before_what_its_type_says(schemas: dict[str, Document]) -> None:
    assert schemas["AsSet"]["properties"]["foot"]["description"].startswith("Legs' bottom above the datum")
    assert schemas["AsSet"]["properties"]["foot"]["title"] == "foot of the legs"


def test_what_a_recheck_refuses_of_the_opening_it_follows_is_said(schemas: dict[str, Document]) -> None:
    floors = {"pull_side": floor("vinyl_plank 1/4 in"), "push_side": floor("vinyl_plank 1/4 in")}
    as_set = {"foot": "0 in", "leaf_bottom": "1 in"}
    with pytest.raises(InvalidRequest) as refused:
        rechecked({**door(**floors, frame={"state": "to_order", "foot": "0 in"}), "as_set": as_set})
    assert {error.pointer for error in refused.value.errors} == {"#/frame/foot", "#/frame/state"}
    assert "Leave foot out of its frame; state isn't to_order." in schemas["Recheck"]["description"]


def test_a_struct_says_of_what_it_inherits_what_its_base_says(schemas: dict[str, Document]) -> None:
    opening, recheck = schemas["Opening"]["properties"], schemas["Recheck"]["properties"]
    assert {name: recheck[name] for name in opening} == opening
    problem, line = schemas["Problem"]["properties"], schemas["LineProblem"]["properties"]
    assert {name: line[name] for name in problem} == problem
