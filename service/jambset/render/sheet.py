"""What stands on a sheet, before it is a page for a browser or a PDF: sections of tables, lists and cards, in words.

Reads answers as they are decoded from JSON and decides nothing. The order is that of the work: what is cut and set
first, then what is ordered, left to the flooring installer, asked, minded, and where it all comes from.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from jambset.render.elevation import elevation
from jambset.render.language import Language
from jambset.render.section import section
from jambset.render.shapes import Drawing
from jambset.render.sheet_words import SHEET
from jambset.render.wire import NOTHING, TO_ORDER, Wire, left_out, mm, text

WARNING = frozenset(("hold", "conflict"))
"""Verdicts with which somebody has to be asked, before anything or before a later step."""
_EVENT = "sheet.event."
EVENTS = frozenset(f"external:{code.removeprefix(_EVENT)}" for code in SHEET if code.startswith(_EVENT))
"""What tasks wait for and no task brings about; whatever else they wait for is a task, also one of such a name."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of texts under their heads. widths: how wide the columns are to each other."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Points:
    """Sentences, each a point of a list."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """One step of work: what is done, the numbers it needs, who does it in how long, and what it waits for."""

    title: str
    numbers: tuple[tuple[str, str], ...]
    who: str


@dataclass(frozen=True, slots=True)
class Card:
    """One opening at a glance: drawings beside its steps in working order. warns: whether somebody has to be asked."""

    mark: str
    rooms: str
    verdict: str
    warns: bool
    summary: str
    steps: tuple[Step, ...]
    drawings: tuple[Drawing, ...]


Block = Table | Points | Card


@dataclass(frozen=True, slots=True)
class Section:
    """A part of a sheet under its heading."""

    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole sheet. lead: its first paragraph. about: which answer it is, at its end. page: how a page is numbered."""

    title: str
    lead: str
    sections: tuple[Section, ...]
    notice: str
    about: str
    page: str
    language: str


class Words:
    """The words of a language as sheets use them."""

    def __init__(self, language: Language) -> None:
        self._says, self._terms = language.sentences, language.terms

    def __call__(self, code: str, **values: object) -> str:
        """A sentence or word by its code."""
        return self._says[f"sheet.{code}"].format_map(values)

    def code(self, value: str) -> str:
        """A code of an answer in words; one that has none as it is, for code lists are open."""
        return self._says.get(f"code.{value}", value.replace("_", " "))

    def term(self, word: str) -> str:
        """A word of the catalogue's own; a name that has no other in this language as it is."""
        return self._terms.get(word, word)


def opening_sheet(advice: Wire, language: Language) -> Sheet:
    """The sheet of one opening."""
    words = Words(language)
    parts = (
        (words("work"), (card(advice, language, whole=True),)),
        (words("superintendent"), _order(advice, words)),
        (words("air"), _air(advice, words)),
        (words("flooring"), _flooring([advice], words)),
        (words("outlook"), _outlook(advice, words)),
        (words("conflicts"), _conflicts([advice], words)),
        (words("questions"), _questions(advice["questions"], words)),
        (words("assumptions"), _points(one["text"] for one in advice["assumptions"])),
        (words("cautions"), _points(one["text"] for one in advice["cautions"])),
        (words("sources"), _sources([advice], words)),
    )
    return _sheet(words("opening", mark=advice["mark"]), advice["summary"], parts, advice, words, language)


def house_sheet(house: Wire, language: Language) -> Sheet:
    """The sheet of a house: its lists, each opening at a glance, and what all of them share."""
    words = Words(language)
    advices = _by_mark(house)
    parts = (
        (words("begin"), _begin(advices, words)),
        (words("ask_before"), _ask_before(advices, words)),
        (words("head_lines"), _head_lines(house, words)),
        (words("blocks"), _blocks(house, words)),
        (words("trims"), _trims(house, words)),
        (words("each"), tuple(card(advice, language) for advice in advices)),
        (words("order"), _order_list(house, words)),
        (words("air"), _air_list(advices, words)),
        (words("flooring"), _undercuts(house, words)),
        (words("pieces"), _pieces(advices, words)),
        (words("conflicts"), _conflicts(advices, words)),
        (words("questions"), _questions(house["questions"], words)),
        (words("refused"), _refused(house, words)),
        (words("assumptions"), _shared(advices, "assumptions")),
        (words("cautions"), _shared(advices, "cautions")),
        (words("sources"), _sources(advices, words)),
    )
    return _sheet(house["house"], house["summary"], parts, house, words, language)


def _by_mark(house: Wire) -> list[Wire]:
    """The advices of a house in the order of its tasks, which is that of marks; whatever order the openings came in."""
    place = {mark: at for at, mark in enumerate(dict.fromkeys(task["mark"] for task in house["tasks"]))}
    advices = (one["advice"] for one in house["openings"] if "advice" in one)
    return sorted(advices, key=lambda advice: place.get(advice["mark"], len(place)))


def _sheet(
    title: str,
    lead: str,
    parts: Iterable[tuple[str, tuple[Block, ...]]],
    answer: Wire,
    words: Words,
    language: Language,
) -> Sheet:
    """A sheet of those parts that hold something."""
    return Sheet(
        title=title,
        lead=lead,
        sections=tuple(Section(heading, blocks) for heading, blocks in parts if blocks),
        notice=answer["notice"],
        about=words("about", rule_set=answer["rule_set"], advice_id=answer["advice_id"]),
        page=language.sentences["sheet.page"],
        language=language.code,
    )


def _points(items: Iterable[str]) -> tuple[Points, ...]:
    """A list of sentences, each once."""
    found = tuple(dict.fromkeys(items))
    return (Points(found),) if found else ()


def _table(heads: Sequence[str], rows: Iterable[Sequence[str]], widths: Sequence[float]) -> tuple[Table, ...]:
    found = tuple(tuple(row) for row in rows)
    return (Table(tuple(heads), found, tuple(widths)),) if found else ()


# --- one opening at a glance


def card(advice: Wire, language: Language, *, whole: bool = False) -> Card:
    """One opening: drawings, verdict, and the steps with their numbers.

    whole: with all numbers and the elevation; otherwise with those that the hands need, and the elevation only where
    the rough opening is short.
    """
    words = Words(language)
    short = any(mm(advice, "framing", name) for name in ("short_by", "width_short_by"))
    drawn = (section(advice, language), elevation(advice, language) if whole or short else None)
    sides = (advice["flooring"][side].get("room") for side in ("pull_side", "push_side"))
    return Card(
        mark=advice["mark"],
        rooms=" / ".join(room for room in sides if room),
        verdict=words.code(advice["verdict"]),
        warns=advice["verdict"] in WARNING,
        summary=advice["summary"],
        steps=tuple(_step(task, advice, words, whole=whole) for task in advice["tasks"]),
        drawings=tuple(drawing for drawing in drawn if drawing is not None),
    )


def _step(task: Wire, advice: Wire, words: Words, *, whole: bool) -> Step:
    name = task["key"].removeprefix(f"{advice['mark']}.")
    tables = (NUMBERS, BESIDES) if whole else (NUMBERS,)
    found = [pair for table in tables if name in table for pair in table[name](advice, words)]
    who = f"{words.code(task['trade'])}, {task['minutes']} min. {_waits(task, words)}"
    return Step(task["title"], tuple(pair for pair in found if pair[1] != NOTHING), who.strip())


def _waits(task: Wire, words: Words) -> str:
    """What a step waits for that no other step brings about."""
    held = words("held") if task.get("hold") else ""
    events = [words(f"event.{name.removeprefix('external:')}") for name in task.get("waits_for", ()) if name in EVENTS]
    after = words("after", events=", ".join(events)) if events else ""
    return " ".join(part for part in (held, after) if part)


Pair = tuple[str, str]


def _cut_numbers(advice: Wire, words: Words) -> Iterator[Pair]:
    leaf = advice["leaf"]
    name = "trim_rest" if "trim_rest" in leaf else "trim"
    trim = text(leaf, name)
    where = f" ({words.code(leaf['where'])})" if "where" in leaf and trim != NOTHING else ""
    yield words(f"n.{name}"), trim + where
    for name, gauge in (("n.gauge", leaf.get("gauge_block")), ("n.gauge_second", leaf.get("second_gauge_block"))):
        if gauge is not None:
            yield words(name, on=words.code(gauge["stands_on"]), angle=f"{gauge['angle']:g}"), _ends(gauge)
    yield words("n.plunge"), text(leaf, "plunge_depth")
    yield words("n.height_after"), text(leaf, "height_after")


def _ends(gauge: Wire) -> str:
    """Heights of a gauge block at hinge and free end, once where they are alike."""
    ends = text(gauge, "hinge_end"), text(gauge, "free_end")
    return ends[0] if ends[0] == ends[1] else " / ".join(ends)


def _now_numbers(advice: Wire, words: Words) -> Iterator[Pair]:
    yield words("n.trim_now"), text(advice, "leaf", "trim_now")


def _set_numbers(advice: Wire, words: Words) -> Iterator[Pair]:
    setting = advice["setting"]
    for leg in ("hinge_leg", "strike_leg", "second_hinge_leg"):
        if leg in setting:
            cut = setting[leg]["trim"]["mm"] > 0
            yield words("n.leg_cut" if cut else "n.leg_block", leg=words.code(leg)), _leg(setting[leg], words)
    yield words("n.head"), text(setting, "head_height")


def _leg(leg: Wire, words: Words) -> str:
    if leg["trim"]["mm"] > 0:
        return text(leg, "trim")
    return text(leg, "block") if leg["block"]["mm"] > 0 else words("n.on_subfloor")


def _undercut_numbers(advice: Wire, words: Words) -> Iterator[Pair]:
    for side in ("pull_side", "push_side"):
        yield words("n.undercut", side=words.code(side)), text(advice, "flooring", side, "jamb_undercut")


def _piece_numbers(advice: Wire, words: Words) -> Iterator[Pair]:
    piece = advice.get("transition")
    if piece is not None:
        yield words("n.piece"), piece["title"]
        yield words("n.joint"), text(piece, "joint_from_pull_face")
        if piece["bevel"] is not None:
            yield from _bevel_numbers(piece["bevel"], words)


def _bevel_numbers(bevel: Wire, words: Words) -> Iterator[Pair]:
    yield words("n.upright"), text(bevel, "upright")
    kind, rise = words.code(bevel["kind"]), text(bevel, "rise")
    if "run" in bevel:
        yield words("n.bevel", kind=kind), f"{rise} : {text(bevel, 'run')}"
    else:
        yield words("n.bevel_rise", kind=kind), rise


def _check_numbers(advice: Wire, words: Words) -> Iterator[Pair]:
    yield words("n.leaf_bottom"), text(advice, "leaf", "bottom")
    clearance = advice["clearance"]
    piece = ("piece",) if mm(advice, "transition", "rise") else ()  # without one there is nothing else to measure over
    for side in ("pull_side", "push_side", *piece):
        if side in clearance:
            spread = clearance[side]
            yield words("n.gap", side=words.code(side)), text(spread, "nominal")


NUMBERS = {
    "trim-leaf": _cut_numbers,
    "trim-leaf-first": _now_numbers,
    "set-frame": _set_numbers,
    "undercut-jambs": _undercut_numbers,
    "fit-piece": _piece_numbers,
    "check-clearances": _check_numbers,
}
"""What each step needs to know, by the last part of its key."""


def _cut_limits(advice: Wire, words: Words) -> Iterator[Pair]:
    yield words("n.trim_limit"), text(advice, "leaf", "trim_limit")


def _set_limits(advice: Wire, words: Words) -> Iterator[Pair]:
    yield words("n.head_spare"), text(advice, "setting", "head_spare")
    yield words("n.foot_limit"), text(advice, "setting", "foot_limit")


def _piece_sizes(advice: Wire, words: Words) -> Iterator[Pair]:
    yield words("n.step"), text(advice, "transition", "step")
    yield words("n.rise"), text(advice, "transition", "rise")


BESIDES = {"trim-leaf": _cut_limits, "set-frame": _set_limits, "fit-piece": _piece_sizes}
"""What is good to know besides."""


# --- sections


def _order(advice: Wire, words: Words) -> tuple[Table, ...]:
    framing = advice.get("framing", {})
    sizes = (
        ("n.opening_needed", text(framing, "rough_opening_needed")),
        ("n.opening_there", text(advice, "taken", "rough_opening_height")),
        ("n.short_by", text(framing, "short_by") if mm(framing, "short_by") else NOTHING),
        ("n.width_needed", text(framing, "width_needed")),
        ("n.width_there", text(advice, "taken", "rough_opening_width")),
        ("n.width_short", text(framing, "width_short_by") if mm(framing, "width_short_by") else NOTHING),
    )
    rows = [
        (words("n.order"), text(advice, "order", "undercut_to_order"), advice["order"]["why"]),
        *((words(name), value, "") for name, value in sizes if value != NOTHING),
    ]
    return _table((words("h.what"), words("h.value"), words("h.why")), rows, (3, 2, 6))


def _air(advice: Wire, words: Words) -> tuple[Block, ...]:
    air = advice["air"]
    names = (
        "gap", "free_area", "supply_flow", "pressure_limit", "flow_at_limit", "pressure_at_supply", "shortfall",
        "gap_needed",
    )  # fmt: skip
    rows = [(words(f"n.air_{name}"), text(air, name)) for name in names if name in air]
    ways = _points(way["text"] for way in air.get("ways_out", ()))
    return (*_table((words("h.what"), words("h.value")), rows, (5, 3)), *ways)


def _flooring(advices: Sequence[Wire], words: Words) -> tuple[Table, ...]:
    heads = tuple(words(f"h.{name}") for name in ("mark", "room", "jamb", "base", "note", "piece"))
    rows = (
        (
            advice["mark"],
            advice["flooring"][side].get("room", words.code(side)),
            text(advice["flooring"][side], "jamb_undercut"),
            text(advice["flooring"][side], "base_height"),
            advice["flooring"][side]["note"],
            advice.get("transition", {}).get("title", NOTHING),
        )
        for advice in advices
        for side in ("pull_side", "push_side")
    )
    return _table(heads, rows, (2, 3, 3, 2.4, 6, 4))


def _air_list(advices: Sequence[Wire], words: Words) -> tuple[Table, ...]:
    """Openings under whose leaf too little air passes, and what else may carry it."""
    names = ("supply_flow", "pressure_limit", "flow_at_limit", "shortfall")
    heads = (words("h.mark"), *(words(f"n.air_{name}") for name in names), words("h.ways_out"))
    rows = (
        (
            advice["mark"],
            *(text(advice, "air", name) for name in names),
            " ".join(way["text"] for way in advice["air"]["ways_out"]),
        )
        for advice in advices
        if advice["air"].get("ways_out")
    )
    return _table(heads, rows, (2, 2.2, 2, 2.2, 2.2, 8))


def _undercuts(house: Wire, words: Words) -> tuple[Table, ...]:
    """What the flooring installer cuts, room by room."""
    heads = tuple(words(f"h.{name}") for name in ("room", "mark", "jamb", "base", "note"))
    rows = (
        (
            line.get("room", words.code(line["side"])),
            line["mark"],
            text(line, "jamb_undercut"),
            text(line, "base_height"),
            line["note"],
        )
        for line in house["undercut_list"]
    )
    return _table(heads, rows, (4, 2, 3, 2.4, 8))


def _pieces(advices: Sequence[Wire], words: Words) -> tuple[Table, ...]:
    """Transition pieces that somebody fits, alike ones of one width of leaf together; last what isn't known yet."""
    lots: dict[tuple[str, str], list[str]] = {}
    for advice in advices:
        if any(task["key"].endswith(".fit-piece") for task in advice["tasks"]):
            leaves, width = advice["taken"]["leaves"], text(advice, "taken", "leaf_width")
            across = width if leaves == 1 else f"{leaves} × {width}"
            title = advice.get("transition", {}).get("title", NOTHING)
            lots.setdefault((title, across), []).append(advice["mark"])
    heads = tuple(words(f"h.{name}") for name in ("piece", "leaf_width", "count", "marks"))
    rows = ((title, across, str(len(marks)), ", ".join(marks)) for (title, across), marks in sorted(lots.items()))
    return _table(heads, rows, (5, 3, 2, 6))


def _outlook(advice: Wire, words: Words) -> tuple[Block, ...]:
    if "outlook" not in advice:
        return ()
    outlook = advice["outlook"]
    heads = tuple(words(f"h.{name}") for name in ("pull", "push", "weight", "minutes", "outcome"))
    rows = (
        (one["pull_side"], one["push_side"], f"{100 * one['weight']:.3g} %", f"{one['minutes']} min", one["outcome"])
        for one in advice.get("scenarios", ())
    )
    tips = (tip["text"] for tip in outlook["tips"])
    return (*_points((outlook["why"], *tips)), *_table(heads, rows, (3, 3, 1.4, 1.6, 5)))


def _conflicts(advices: Sequence[Wire], words: Words) -> tuple[Table, ...]:
    heads = tuple(words(f"h.{name}") for name in ("mark", "conflict", "decides", "ways_out"))
    rows = (
        (
            advice["mark"],
            conflict["text"],
            words.code(conflict["decides"]),
            " ".join(way["text"] for way in conflict.get("ways_out", ())) or NOTHING,
        )
        for advice in advices
        for conflict in advice["conflicts"]
    )
    return _table(heads, rows, (2, 6, 3, 6))


def _questions(questions: Sequence[Wire], words: Words) -> tuple[Table, ...]:
    heads = tuple(words(f"h.{name}") for name in ("ask", "question", "marks", "holds"))
    rows = (
        (
            words.code(question["ask"]),
            question["text"],
            ", ".join(question.get("marks", ())) or NOTHING,
            ", ".join(words.code(phase) for phase in question.get("holds", ())) or NOTHING,
        )
        for question in questions
    )
    return _table(heads, rows, (3, 8, 3, 3))


def _sources(advices: Sequence[Wire], words: Words) -> tuple[Table, ...]:
    heads = tuple(words(f"h.{name}") for name in ("rule", "document", "force", "verified"))
    cited = {(source["rule"], source["clause"]): source for advice in advices for source in advice["sources"]}
    rows = (
        (
            source["title"],
            ", ".join(words.term(source[part]) for part in ("document", "edition", "clause") if source[part] != "none"),
            words.code(source["force"]),
            words.code(f"verified_{source['verified']}"),
        )
        for source in cited.values()
    )
    return _table(heads, rows, (5, 8, 2, 3))


def _begin(advices: Sequence[Wire], words: Words) -> tuple[Points, ...]:
    """Openings at which nothing may be begun yet and whom to ask, before anybody reads on to the numbers."""
    return _points(
        f"{advice['mark']}: {words.code(advice['verdict'])}{_whom(advice, words)}"
        for advice in advices
        if advice["verdict"] in WARNING and not _ready(advice)
    )


def _ask_before(advices: Sequence[Wire], words: Words) -> tuple[Points, ...]:
    """Openings that may be begun although somebody must be asked: the steps that wait, and whom to ask."""
    return _points(
        f"{advice['mark']}: {'; '.join(task['title'] for task in advice['tasks'] if task.get('hold'))}"
        f"{_whom(advice, words)}"
        for advice in advices
        if advice["verdict"] in WARNING and _ready(advice)
    )


def _ready(advice: Wire) -> bool:
    """Whether the first step waits for no answer, and a later one does."""
    held = [bool(task.get("hold")) for task in advice["tasks"]]
    return any(held) and not held[0]


def _whom(advice: Wire, words: Words) -> str:
    """Who decides on the conflicts and answers the questions that hold something."""
    deciding = [conflict["decides"] for conflict in advice["conflicts"]]
    asked = [question["ask"] for question in advice["questions"] if question.get("holds")]
    names = ", ".join(words.code(who) for who in dict.fromkeys((*deciding, *asked)))
    return f" ({names})" if names else ""


def _head_lines(house: Wire, words: Words) -> tuple[Table, ...]:
    heads = tuple(words(f"h.{name}") for name in ("line", "head", "marks", "note"))
    rows = (
        (line["name"], text(line, "head_height"), ", ".join(line["marks"]), " ".join((line["text"], *left_out(line))))
        for line in house["head_lines"]
    )
    return _table(heads, rows, (3, 2, 5, 7))


def _blocks(house: Wire, words: Words) -> tuple[Table, ...]:
    heads = tuple(words(f"h.{name}") for name in ("block", "count", "marks"))
    rows = ((text(lot, "size"), str(lot["count"]), ", ".join(lot["marks"])) for lot in house["blocks"])
    return _table(heads, rows, (2, 2, 8))


def _trims(house: Wire, words: Words) -> tuple[Table, ...]:
    heads = tuple(words(f"h.{name}") for name in ("place", "mark", "leaf", "trim", "when", "gauge", "height", "hold"))
    rows = (
        (
            str(line["place"]),
            line["mark"],
            words.code(line["leaf"]),
            text(line, "trim"),
            f"{words.code(line['when'])}, {words.code(line['where'])}",
            _ends(line["gauge_block"]) if "gauge_block" in line else NOTHING,
            text(line, "height_after"),
            words("yes") if line["hold"] else NOTHING,
        )
        for line in house["trim_list"]
    )
    return _table(heads, rows, (1, 2, 2, 2, 4, 3, 2.4, 1.6))


def _order_list(house: Wire, words: Words) -> tuple[Table, ...]:
    """Units still to be ordered; those that are there have an undercut already, and it isn't the list's."""
    heads = tuple(words(f"h.{name}") for name in ("units", "undercut", "leaf_size", "core", "marks"))
    rows = (
        (
            str(lot["units"]),
            text(lot, "undercut"),
            " × ".join(text(lot, name) for name in ("leaf_width", "leaf_height", "leaf_thickness")),
            f"{words.code(lot['core'])}, {lot['leaves']}",
            ", ".join(lot["marks"]),
        )
        for lot in house["order_list"]
        if lot["state"] == TO_ORDER
    )
    return _table(heads, rows, (2, 2, 5, 3, 5))


def _refused(house: Wire, words: Words) -> tuple[Table, ...]:
    heads = tuple(words(f"h.{name}") for name in ("mark", "field", "wrong"))
    rows = (
        (one.get("mark", NOTHING), fault["pointer"], fault["detail"])
        for one in house["openings"]
        for fault in one.get("problem", {}).get("errors", ())
    )
    return _table(heads, rows, (2, 5, 9))


def _shared(advices: Sequence[Wire], name: str) -> tuple[Points, ...]:
    """Each sentence of a list once, with the marks it is for unless it is for all."""
    marks: dict[str, dict[str, None]] = {}
    for advice in advices:
        for one in advice[name]:
            marks.setdefault(one["text"], {})[advice["mark"]] = None
    whole = len(advices)
    return _points(told if len(of) == whole else f"{', '.join(of)}: {told}" for told, of in marks.items())
