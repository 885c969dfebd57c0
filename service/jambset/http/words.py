"""Words of the contract: attributes' docstrings, what a field of one name is anywhere, what each code means."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from inspect import cleandoc
from itertools import chain
from typing import Any

from jambset.http import bulk, problems, views
from jambset.http.docstrings import attribute_docs, member_docs
from jambset.model import advice, house, house_recheck, recheck, request
from jambset.quantity import text
from jambset.render import encode
from jambset.rules import schema as rules

Schema = dict[str, Any]

MODULES = (rules, request, advice, recheck, house, house_recheck, views, problems, bulk, text, encode)
"""Where the structs of the contract are; of two with one name the later counts."""
PROSE = "For people, in the language of the answer; programs use codes and numbers."
ANYWHERE: dict[str, str] = {
    "as_of": "Permit date, as sent.",
    "ask": "Who can answer it.",
    "cfm": "Cubic feet per minute.",
    "clause": "Place in the document.",
    "decides": "Who decides when it can't be met.",
    "edition": "Edition of the document.",
    "external_id": "The caller's own id of the opening, sent back as it came.",
    "force": "How binding the rule is, strongest first.",
    "governed_by": "Rules that hold it there, named as by governed_by of the setting.",
    "greatest": "Greatest value allowed for.",
    "grid": "Step of the tape that lengths are given in.",
    "hold": "Whether it has to wait for an answer or a decision.",
    "in": "Inches.",
    "in2": "Square inches.",
    "inH2O": "Inches of water.",
    "L_s": "Litres per second.",
    "m3_h": "Cubic metres per hour.",
    "mm": "Millimetres.",
    "mm2": "Square millimetres.",
    "Pa": "Pascals.",
    "ratio": "Rise over run.",
    "jurisdiction": "Place whose rules were applied.",
    "last_checked": "Day on which it was last compared with its source.",
    "least": "Least value allowed for.",
    "mark": "Number of the opening on the door schedule.",
    "marks": "Marks of the openings that it is about.",
    "minutes": "Working minutes.",
    "nominal": "Nominal value.",
    "note": PROSE,
    "notice": "Show it with any part of this answer that you show.",
    "outcome": PROSE,
    "room": "The room, as the request calls it.",
    "rule_set": "Version of the catalogue that was used.",
    "rule_set_digest": "Hash of every rule and value in it: another digest may give other answers.",
    "summary": PROSE,
    "text": PROSE,
    "title": "What it is called, for people.",
    "trade": "Who does it.",
    "verified": "How its wording was checked.",
    "why": PROSE,
}
"""What a field of this name is, wherever its schema says nothing more specific."""


def documented(components: Mapping[str, Schema]) -> dict[str, Schema]:
    """The schemas with the docstrings of the structs' attributes as descriptions of their fields."""
    docs: dict[str, dict[str, str]] = {}
    kinds: dict[str, Any] = {}
    for module in MODULES:
        docs |= attribute_docs(module)
        kinds |= vars(module)
    return {name: _described(schema, _inherited(kinds[name], docs)) for name, schema in components.items()}


def _inherited(kind: type[Any], docs: Mapping[str, Mapping[str, str]]) -> dict[str, str]:
    """What stands below the attributes of a class and of those it is made from."""
    made_from = (docs.get(base.__name__, {}) for base in reversed(kind.__mro__))
    return dict(chain.from_iterable(found.items() for found in made_from))


def _described(schema: Schema, docs: Mapping[str, str]) -> Schema:
    """A schema with what its attributes say first, then what their types say, then what is so anywhere."""
    about = {"description": _paragraphs(schema["description"])} if "description" in schema else {}
    if "properties" not in schema:
        return schema | about
    own = {name: {"description": docs[name]} if name in docs else {} for name in schema["properties"]}
    fields = {name: form | own[name] for name, form in schema["properties"].items()}
    return {**schema, **about, "properties": fields}


def _paragraphs(docstring: str) -> str:
    """A docstring with each paragraph on one line, since a page breaks its lines as it likes."""
    return "\n\n".join(" ".join(part.split()) for part in cleandoc(docstring).split("\n\n"))


def anywhere(name: str, form: Schema) -> Schema:
    """A field with what its name means anywhere, where nothing more specific is said of it."""
    told = "description" in form or name not in ANYWHERE
    return form if told else {"description": ANYWHERE[name], **form}


def explained(about: str, kind: type[StrEnum]) -> str:
    """A description with what each code means, where its members say it."""
    meanings = [f"- `{code}`: {meaning}" for code, meaning in member_docs(kind).items()]
    return "\n".join([about, "", *meanings]) if meanings else about
