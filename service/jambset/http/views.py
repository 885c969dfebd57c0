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
    """Id of the document."""
    title: str
    """What the document is called."""
    kind: str
    """law, code, standard, guidance, programme, handbook, practice."""
    reached: str
    """How its text was consulted when the rows were written."""
    last_checked: datetime.date


class EditionView(View, frozen=True, kw_only=True):
    """An edition of a document, as far as a rule rests on it."""

    edition: str
    """What the edition is called."""
    clause: str
    since: datetime.date
    """Permits from this day on may be held to it."""


class RuleView(View, frozen=True, kw_only=True):
    """One rule of the catalogue with its source."""

    id: str
    """As answers name it."""
    jurisdiction: str | UnsetType = UNSET
    """Place it belongs to and is inherited from; left out when it holds everywhere."""
    title: str
    topic: str
    """What it is about."""
    force: str
    """law, standard, programme, practice, preference: strongest first."""
    text: str
    """The requirement in our own words."""
    measured: str
    """What it bounds."""
    relation: str
    """at_least, at_most, prohibited, formula, ask, caution: how what is measured stands to the limit; ask and caution
    limit nothing."""
    length: Length | UnsetType = UNSET
    """The limit, of a rule on a length."""
    area: Area | UnsetType = UNSET
    """The limit, of a rule on an area."""
    pressure: Pressure | UnsetType = UNSET
    """The limit, of a rule on a pressure."""
    ratio: float | UnsetType = UNSET
    """The limit, of a rule on a slope: rise over run."""
    formula: str | UnsetType = UNSET
    """Name of what works its limit out, where that isn't one value."""
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
    """Those of its document that it is in."""
    verified: str
    """How its wording was checked: read, quoted, memory, none."""
    last_checked: datetime.date


class RuleList(View, frozen=True, kw_only=True):
    """Rules of the catalogue, filtered."""

    rule_set: str
    rule_set_digest: str
    count: int
    """How many follow."""
    rules: tuple[RuleView, ...]


class JurisdictionView(View, frozen=True, kw_only=True):
    """A place with rules of its own."""

    code: str
    """What requests call it."""
    title: str
    """What the place is called."""
    grid: str
    """Grid of its answers when the request names none."""
    parent: str | UnsetType = UNSET
    """Place whose rules it inherits."""
    adoption: str
    """What must be said of how its rules come into force."""
    also_called: tuple[str, ...]
    """Other words for it; requests use its code."""


class RuleSetView(View, frozen=True, kw_only=True):
    """A version of the catalogue that a request may pin."""

    version: str
    """What requests pin it by."""
    digest: str
    """Hash of every rule and value in it."""
    rules: int
    """How many rules it has."""
    jurisdictions: tuple[JurisdictionView, ...]


class RuleSetList(View, frozen=True, kw_only=True):
    """The rule sets this service has."""

    rule_sets: tuple[RuleSetView, ...]


class MaterialView(View, frozen=True, kw_only=True):
    """A typical layer of a build-up."""

    id: str
    """What requests call it."""
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
    heated: bool
    """Whether pipes or cables of a heating lie in it."""
    also_called: tuple[str, ...]
    """Other words for it; requests use its id."""
    note: str | UnsetType = UNSET
    document: DocumentView
    clause: str
    verified: str
    last_checked: datetime.date


class PieceView(View, frozen=True, kw_only=True):
    """A transition piece."""

    id: str
    """What requests call it."""
    title: str
    higher: str
    """hard, carpet: the finish it is made for on the higher side."""
    lower: str
    """hard, carpet: the finish it is made for on the lower side."""
    step_least: Length
    """Least difference of the finishes that it is made for."""
    step_greatest: Length
    """Greatest difference of the finishes that it is made for."""
    built_above: Length | UnsetType = UNSET
    """Over a greater difference it is built on site, not bought."""
    rise_least: Length
    """Least height of its top above the higher finish."""
    rise: Length
    """Usual height of its top above the higher finish."""
    rise_greatest: Length
    """Greatest height of its top above the higher finish."""
    floating: bool | UnsetType = UNSET
    """Only where a floating floor meets it (true), or only where none does (false)."""
    same: bool | UnsetType = UNSET
    """Only where one build-up runs through the doorway (true), or only where two differ (false)."""
    before_carpet: bool
    """Whether it is fastened before the carpet is laid that meets it, once the hard floor lies."""
    accessible: bool
    """Whether it may be chosen on an accessible route."""
    also_called: tuple[str, ...]
    """Other words for it; requests use its id."""
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
    """What requests call it."""
    title: str
    density_least: float
    """Least density, in kilograms per cubic metre."""
    density: float
    """Nominal density, in kilograms per cubic metre."""
    density_greatest: float
    """Greatest density, in kilograms per cubic metre."""
    note: str
    """What was assumed to get from the source to a leaf."""
    document: DocumentView
    clause: str
    verified: str
    last_checked: datetime.date


class LiftView(View, frozen=True, kw_only=True):
    """Published guidance on what one person lifts; no law."""

    id: str
    """As sources of an advice name it."""
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
    """What to do, in our own words."""
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
    """The number."""
    unit: str
    """The unit it counts."""


class Notation(View, frozen=True, kw_only=True):
    """How one kind of quantity is written in a request."""

    quantity: str
    """Length, Area, Flow, Pressure, Temperature: as the schemas of the contract are named."""
    units: tuple[str, ...]
    """Units of the object form."""
    pattern: str
    """What the text form must match."""
    longest_text: int
    """Most characters of the text form."""
    examples: str
    """Both forms, as prose."""


class PlausibleRange(View, frozen=True, kw_only=True):
    """The range that is plausible for one measured field; both ends are accepted."""

    measure: str
    """Name of the range; fields of the contract that have it say its ends as x-plausible."""
    title: str
    """What is measured, as errors call it."""
    quantity: str
    """Length, Area, Flow, Pressure, Temperature: its kind, as of the notations."""
    least: Amount
    greatest: Amount


class Count(View, frozen=True, kw_only=True):
    """How many items a list, or characters a text, of a request may have."""

    field: str
    """Schema and property of the contract."""
    least: int | UnsetType = UNSET
    """At least so many; left out where there is no such limit."""
    most: int
    """At most so many."""


class Rate(View, frozen=True, kw_only=True):
    """A number of requests in a number of seconds; all of them may come at once."""

    requests: int
    """How many."""
    seconds: int
    """In how many seconds."""


class Limits(View, frozen=True, kw_only=True):
    """What this service takes."""

    body_bytes: int
    """Longest body of a call on one opening."""
    house_bytes: int
    """Longest body of a call on a house."""
    house_pairs: int
    """Most pairs of floors in a house that is still to be set: those that may come on the pull side of an opening by
    those on its push side."""
    held_bytes: int
    """Bodies on one opening, and as much of houses, that one process holds at one time."""
    bulk_bytes: int
    """Longest body of a stream of openings, as it comes and once opened; body_bytes holds for each of its lines."""
    bulk_lines: int
    """Most lines of a stream."""
    bulk_streams: int
    """Streams that one process answers at one time."""
    header_bytes: int
    """Longest target and header section together: names and values, and four for each."""
    header_fields: int
    """Most fields of a header section."""
    query_bytes: int
    """Longest query of a target."""
    body_seconds: int
    """How long a body, or the part of a stream that comes next, may take to arrive."""
    connections: int
    """Connections that one process holds at one time; one more ends the one that has been idle longest."""
    drain_seconds: int
    """How long what is under way may take once the service is told to stop."""
    rate: Rate | UnsetType = UNSET
    """Requests of one caller, where they are limited."""
    grids: tuple[str, ...]
    """Steps of the tape that a request may name."""
    notations: tuple[Notation, ...]
    """How quantities are written."""
    plausible: tuple[PlausibleRange, ...]
    """Ranges outside of which a quantity is refused."""
    items: tuple[Count, ...]
    """Of lists."""
    characters: tuple[Count, ...]
    """Of texts."""


class ScenarioEntry(View, frozen=True, kw_only=True):
    """A worked example in the list."""

    scenario: str
    """Id of the example."""
    title: str
    story: str
    """What is going on at the site."""
    call: str
    """Address that its request is posted to."""
    href: str
    """Address of the whole example."""


class ScenarioList(View, frozen=True, kw_only=True):
    """The worked examples."""

    scenarios: tuple[ScenarioEntry, ...]


class ScenarioView(View, frozen=True, kw_only=True):
    """A worked example in full."""

    scenario: str
    """Id of the example."""
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
    """Version of the program."""
    rule_set: str | UnsetType = UNSET
    rule_set_digest: str | UnsetType = UNSET


class Links(View, frozen=True, kw_only=True):
    """Where things are."""

    advice: str
    """POST an opening."""
    bulk: str
    """POST a stream of openings."""
    recheck: str
    """POST an opening as it was set."""
    house: str
    """POST a house."""
    house_recheck: str
    """POST a house whose doors are set."""
    rules: str
    """GET the rules."""
    rule_sets: str
    """GET the versions of the catalogue."""
    finishes: str
    """GET layers and transition pieces."""
    labour: str
    """GET minutes of work and weights of leaves."""
    limits: str
    """GET the limits of requests."""
    sandbox: str
    """GET the worked examples."""
    contract: str
    """GET the contract."""
    documentation: str
    """GET the contract as a page."""
    live: str
    """GET whether the process answers."""
    ready: str
    """GET whether it is ready."""
    metrics: str | UnsetType = UNSET
    """GET counts and durations; left out where they have a port of their own."""


class ServiceIndex(View, frozen=True, kw_only=True):
    """What this service is and where its parts are."""

    service: str
    """Its name."""
    release: str
    """Version of the program."""
    rule_set: str
    rule_set_digest: str
    links: Links
