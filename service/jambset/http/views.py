"""What the GETs answer. Code lists are open and every object may grow: clients ignore what they don't know."""

from __future__ import annotations

import datetime
from typing import Any

import msgspec
from msgspec import UNSET, UnsetType

from jambset.quantity.ticks import Area, Length, Pressure
from jambset.rules.schema import When


class View(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A part of an answer."""


class DocumentView(View, frozen=True, kw_only=True):
    """A source that rules cite."""

    id: str
    title: str
    kind: str
    """law, code, standard, guidance, programme, handbook, practice."""
    reached: str
    """How its text was reached when the rows were written."""
    last_checked: datetime.date


class EditionView(View, frozen=True, kw_only=True):
    """One edition of a document as far as a rule is concerned."""

    edition: str
    clause: str
    since: datetime.date
    """Permits from this day on may be held to it."""


class RuleView(View, frozen=True, kw_only=True):
    """One rule of the catalogue with its source."""

    id: str
    jurisdiction: str | UnsetType = UNSET
    """Place it belongs to and is inherited from; left out when it holds everywhere."""
    title: str
    topic: str
    force: str
    """law, standard, programme, practice, preference: strongest first."""
    text: str
    """The requirement in our own words."""
    measured: str
    """What it bounds."""
    relation: str
    """at_least, at_most, prohibited, formula, ask, caution."""
    length: Length | UnsetType = UNSET
    area: Area | UnsetType = UNSET
    pressure: Pressure | UnsetType = UNSET
    ratio: float | UnsetType = UNSET
    formula: str | UnsetType = UNSET
    when: When
    """Conditions under which it applies; all given ones must hold."""
    rank: int
    """Orders rules of one force, lower first."""
    binding: bool
    """A matter of construction: never relaxed, whatever its force."""
    drives: bool
    """Whether settings are moved to meet it; otherwise it is only checked."""
    project_key: str | UnsetType = UNSET
    """The project rule of a request that replaces it."""
    grade: str | UnsetType = UNSET
    """Of a pair of rows for one thing: wanted or accepted."""
    decides: str
    """Who decides when it can't be met."""
    holds: tuple[str, ...]
    """setting, leaf, air, transition, flooring: of a question, the phases that wait for its answer."""
    way_out: str | UnsetType = UNSET
    """What can be done instead when it can't be met."""
    document: DocumentView
    editions: tuple[EditionView, ...]
    verified: str
    """How its wording was checked: read, quoted, memory, none."""
    last_checked: datetime.date


class RuleList(View, frozen=True, kw_only=True):
    """Rules of the catalogue, filtered."""

    rule_set: str
    rule_set_digest: str
    count: int
    rules: tuple[RuleView, ...]


class JurisdictionView(View, frozen=True, kw_only=True):
    """A place with rules of its own."""

    code: str
    title: str
    grid: str
    """Grid of its answers when the request names none."""
    parent: str | UnsetType = UNSET
    """Place whose rules it inherits."""
    adoption: str
    """What must be said of how its rules come into force."""


class RuleSetView(View, frozen=True, kw_only=True):
    """A version of the catalogue that a request may pin."""

    version: str
    digest: str
    rules: int
    """How many rules it has."""
    jurisdictions: tuple[JurisdictionView, ...]


class RuleSetList(View, frozen=True, kw_only=True):
    """The rule sets this service has."""

    rule_sets: tuple[RuleSetView, ...]


class MaterialView(View, frozen=True, kw_only=True):
    """A typical layer of a build-up."""

    id: str
    title: str
    finish: str
    """What it is as a top layer: hard, carpet; none: it must be covered."""
    body: str
    """textile, foam, resilient, wood, panel, ceramic, mortar, membrane, concrete: what a drawing tells apart."""
    least: Length
    nominal: Length
    greatest: Length
    tolerance: Length | UnsetType = UNSET
    """Published tolerance of a stated thickness, either way."""
    floats: bool
    """Whether it is laid floating where no fixing is stated."""
    note: str | UnsetType = UNSET
    document: DocumentView
    clause: str
    verified: str
    last_checked: datetime.date


class PieceView(View, frozen=True, kw_only=True):
    """A transition piece."""

    id: str
    title: str
    higher: str
    lower: str
    step_least: Length
    step_greatest: Length
    rise_least: Length
    rise: Length
    rise_greatest: Length
    floating: bool | UnsetType = UNSET
    """Only where a floating floor meets it (true), or only where none does (false)."""
    same: bool | UnsetType = UNSET
    """Only where one build-up runs through the doorway (true), or only where two differ (false)."""
    accessible: bool
    """Whether it may be chosen on an accessible route."""
    note: str | UnsetType = UNSET
    document: DocumentView
    clause: str
    verified: str
    last_checked: datetime.date


class FinishList(View, frozen=True, kw_only=True):
    """Typical layers and the pieces between finishes."""

    rule_set: str
    rule_set_digest: str
    materials: tuple[MaterialView, ...]
    pieces: tuple[PieceView, ...]


class LabourView(View, frozen=True, kw_only=True):
    """Working minutes of one step; an assumption that a request's own minutes replace."""

    id: str
    """The field of `labour` in a request that replaces it."""
    title: str
    minutes: int


class CoreView(View, frozen=True, kw_only=True):
    """How heavy a leaf of one core is: densities over its whole volume, skins and voids together."""

    id: str
    title: str
    density_least: float
    """Kilograms per cubic metre."""
    density: float
    density_greatest: float
    note: str
    """What was assumed to get from the source to a leaf."""
    document: DocumentView
    clause: str
    verified: str
    last_checked: datetime.date


class LiftView(View, frozen=True, kw_only=True):
    """Published guidance on what one person lifts; no law."""

    id: str
    title: str
    jurisdictions: tuple[str, ...]
    """Places where it holds."""
    everywhere_else: bool
    """Whether it holds wherever no other row does."""
    one_person_kg: float
    """Greatest mass that one person may lift under good conditions."""
    two_person_height: Length
    """Height of a leaf from which two carry it whatever its mass."""
    text: str
    note: str
    document: DocumentView
    clause: str
    edition: str
    verified: str
    last_checked: datetime.date


class LabourList(View, frozen=True, kw_only=True):
    """What work is assumed to take, and what a leaf weighs."""

    rule_set: str
    rule_set_digest: str
    labour: tuple[LabourView, ...]
    cores: tuple[CoreView, ...]
    lifts: tuple[LiftView, ...]


class Amount(View, frozen=True, kw_only=True):
    """A number and its unit, as a request writes it."""

    value: float
    unit: str


class Notation(View, frozen=True, kw_only=True):
    """How one kind of quantity is written in a request."""

    quantity: str
    """Length, Area, Flow, Pressure, Temperature: as the schemas of the contract are named."""
    units: tuple[str, ...]
    """Units of the object form."""
    pattern: str
    """What the text form must match."""
    longest_text: int
    examples: str


class PlausibleRange(View, frozen=True, kw_only=True):
    """The range that is plausible for one measured field; both ends are accepted."""

    measure: str
    title: str
    quantity: str
    """Length, Area, Flow, Pressure, Temperature: its kind, as of the notations."""
    least: Amount
    greatest: Amount


class Count(View, frozen=True, kw_only=True):
    """How many items a list, or characters a text, of a request may have."""

    field: str
    least: int | UnsetType = UNSET
    most: int


class Rate(View, frozen=True, kw_only=True):
    """So many requests in so many seconds; as many may come at once."""

    requests: int
    seconds: int


class Limits(View, frozen=True, kw_only=True):
    """What this service takes."""

    body_bytes: int
    """Longest body of a call on one opening."""
    house_bytes: int
    """Longest body of a call on a house."""
    bulk_bytes: int
    """Longest body of a stream of openings, once opened; body_bytes holds for each of its lines."""
    bulk_lines: int
    """Most lines of a stream."""
    bulk_streams: int
    """Streams that one process answers at one time."""
    header_bytes: int
    """Longest target and header section together: names and values, and four for each."""
    query_bytes: int
    """Longest query of a target."""
    body_seconds: int
    """How long a body, or the part of a stream that comes next, may take to arrive."""
    connections: int
    """Connections that one process holds at one time; one more ends the one that has rested longest."""
    drain_seconds: int
    """How long what is under way may take once the service is told to stop."""
    rate: Rate | UnsetType = UNSET
    """Requests of one caller, where they are limited."""
    grids: tuple[str, ...]
    notations: tuple[Notation, ...]
    plausible: tuple[PlausibleRange, ...]
    items: tuple[Count, ...]
    characters: tuple[Count, ...]


class ScenarioEntry(View, frozen=True, kw_only=True):
    """A worked example in the list."""

    scenario: str
    title: str
    story: str
    call: str
    href: str


class ScenarioList(View, frozen=True, kw_only=True):
    """The worked examples."""

    scenarios: tuple[ScenarioEntry, ...]


class ScenarioView(View, frozen=True, kw_only=True):
    """A worked example in full."""

    scenario: str
    title: str
    story: str
    """What is going on at the site."""
    call: str
    """Address that the request is posted to."""
    request: dict[str, Any]
    """A whole body for it."""
    response: dict[str, Any]
    """What it is answered with, byte for byte once both are written compactly."""


class Health(View, frozen=True, kw_only=True):
    """State of the service."""

    status: str
    """pass, warn, fail."""
    version: str
    """Major version of the API."""
    release: str
    rule_set: str | UnsetType = UNSET
    rule_set_digest: str | UnsetType = UNSET


class Links(View, frozen=True, kw_only=True):
    """Where things are."""

    advice: str
    bulk: str
    recheck: str
    house: str
    rules: str
    rule_sets: str
    finishes: str
    labour: str
    limits: str
    sandbox: str
    contract: str
    documentation: str
    live: str
    ready: str
    metrics: str | UnsetType = UNSET
    """Left out where they have a port of their own."""


class ServiceIndex(View, frozen=True, kw_only=True):
    """What this service is and where its parts are."""

    service: str
    release: str
    rule_set: str
    rule_set_digest: str
    links: Links
