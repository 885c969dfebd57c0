"""The tables and lists of a sheet: what one opening, or all of a house, tell one reader."""

from __future__ import annotations

from collections.abc import Sequence

from jambset.render.sheet_parts import WARNING, Block, Points, Table, Words, ends_of, points, table
from jambset.render.wire import NOTHING, SIDES, TO_ORDER, Wire, left_out, mm, slope, text


def order(advice: Wire, words: Words) -> tuple[Table, ...]:
    """The rough opening that an opening needs, and the undercut to order."""
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
    return table(words.heads("what", "value", "why"), rows, (3, 2, 6))


def air(advice: Wire, words: Words) -> tuple[Block, ...]:
    """What passes one closed door, and what else would carry the rest."""
    air = advice["air"]
    names = (
        "gap", "free_area", "supply_flow", "pressure_limit", "flow_at_limit", "pressure_at_supply", "shortfall",
        "gap_needed",
    )  # fmt: skip
    rows = [(words(f"n.air_{name}"), text(air, name)) for name in names if name in air]
    ways = points(way["text"] for way in air.get("ways_out", ()))
    return (*table(words.heads("what", "value"), rows, (5, 3)), *ways)


def flooring(advice: Wire, words: Words) -> tuple[Block, ...]:
    """What is undercut on both sides of one opening, and the piece between them with its note."""
    heads = words.heads("mark", "room", "jamb", "base", "note", "piece")
    rows = (
        (
            advice["mark"],
            advice["flooring"][side].get("room", words.code(side)),
            text(advice["flooring"][side], "jamb_undercut"),
            text(advice["flooring"][side], "base_height"),
            advice["flooring"][side]["note"],
            advice.get("transition", {}).get("title", NOTHING),
        )
        for side in SIDES
    )
    notes = points([advice["transition"]["note"]] if "note" in advice.get("transition", ()) else [])
    return (*table(heads, rows, (2, 3, 3, 2.4, 6, 4)), *notes)


def air_list(advices: Sequence[Wire], words: Words) -> tuple[Table, ...]:
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
    return table(heads, rows, (2, 2.2, 2, 2.2, 2.2, 8))


def undercuts(house: Wire, words: Words) -> tuple[Table, ...]:
    """What the flooring installer cuts, room by room."""
    heads = words.heads("room", "mark", "jamb", "base", "note", "hold")
    rows = (
        (
            line.get("room", words.code(line["side"])),
            line["mark"],
            text(line, "jamb_undercut"),
            text(line, "base_height"),
            line["note"],
            words("yes") if line["hold"] else NOTHING,
        )
        for line in house["undercut_list"]
    )
    return table(heads, rows, (4, 2, 3, 2.4, 8, 1.6))


def pieces(house: Wire, advices: Sequence[Wire], words: Words) -> tuple[Block, ...]:
    """Transition pieces to fit; below them why one isn't the usual, and notes on floors that run through instead."""
    sizes = (words("n.step"), words("n.rise"))
    heads = (*words.heads("piece", "leaf_width"), *sizes, *words.heads("eased", "count", "marks"))
    rows = (
        (
            lot.get("title", NOTHING),
            text(lot, "leaf_width") if lot["leaves"] == 1 else f"{lot['leaves']} × {text(lot, 'leaf_width')}",
            text(lot, "step"),
            text(lot, "rise"),
            _eased(lot, words),
            str(lot["count"]),
            ", ".join(lot["marks"]),
        )
        for lot in house["piece_list"]
    )
    fitted = {mark: lot.get("piece") for lot in house["piece_list"] for mark in lot["marks"]}
    noted: dict[str, list[str]] = {}
    for advice in advices:
        joint = advice.get("transition", {})
        told = advice["mark"] not in fitted or ("instead_of" in joint and fitted[advice["mark"]] == joint["piece"])
        if told and "note" in joint:
            noted.setdefault(joint["note"], []).append(advice["mark"])
    minded = points(f"{', '.join(marks)}: {note}" for note, marks in noted.items())
    return (*table(heads, rows, (4.4, 2.4, 2.4, 2.6, 4.6, 1.8, 4)), *minded)


def _eased(lot: Wire, words: Words) -> str:
    """The bevel or ramp of a piece; nothing where no rule asks for one."""
    if "bevel" not in lot:
        return NOTHING
    bevel = lot["bevel"]
    told = f"{words.code(bevel['kind'])} {slope(bevel)}"
    return f"{told}, {words('upright', height=text(bevel, 'upright'))}" if "upright" in bevel else told


def outlook(advice: Wire, words: Words) -> tuple[Block, ...]:
    """The setting chosen for one opening and each pair of floors that may come."""
    if "outlook" not in advice:
        return ()
    outlook = advice["outlook"]
    heads = words.heads("pull", "push", "weight", "minutes", "outcome")
    rows = (
        (one["pull_side"], one["push_side"], f"{100 * one['weight']:.3g} %", f"{one['minutes']} min", one["outcome"])
        for one in advice.get("scenarios", ())
    )
    tips = (tip["text"] for tip in outlook["tips"])
    return (*points((outlook["why"], *tips)), *table(heads, rows, (3, 3, 1.9, 1.5, 5)))


def conflicts(advices: Sequence[Wire], words: Words) -> tuple[Table, ...]:
    """Rules that stand against each other, who decides, and what can be done instead."""
    heads = words.heads("mark", "conflict", "decides", "ways_out")
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
    return table(heads, rows, (2, 6, 3, 6))


def questions(questions: Sequence[Wire], words: Words) -> tuple[Table, ...]:
    """What is asked, of whom, and, where a house asks, for which openings."""
    several = any("marks" in question for question in questions)
    rows = (
        (
            words.code(question["ask"]),
            question["text"],
            *((", ".join(question["marks"]),) if several else ()),
            ", ".join(words.code(phase) for phase in question.get("holds", ())) or NOTHING,
        )
        for question in questions
    )
    if several:
        return table(words.heads("ask", "question", "marks", "holds"), rows, (3, 8, 3, 3))
    return table(words.heads("ask", "question", "holds"), rows, (3, 11, 3))


FORCES = ("law", "standard", "programme", "project", "practice", "preference")
"""Forces of rules, the strongest first."""


def sources(advices: Sequence[Wire], words: Words) -> tuple[Table, ...]:
    """Where the rules come from, the strongest first: each document once for each force, with all rules from there."""
    heads = words.heads("rule", "document", "force", "verified")
    cited = {(source["rule"], source["clause"]): source for advice in advices for source in advice["sources"]}
    rules: dict[tuple[str, str, str], list[str]] = {}
    for source in sorted(cited.values(), key=lambda one: _place(one["force"])):
        rules.setdefault(_origin(source, words), []).append(source["title"])
    rows = (("; ".join(dict.fromkeys(titles)), *origin) for origin, titles in rules.items())
    return table(heads, rows, (9, 6, 2, 3))


def _place(force: str) -> int:
    return FORCES.index(force) if force in FORCES else len(FORCES)


def _origin(source: Wire, words: Words) -> tuple[str, str, str]:
    """Document, force and how it was checked."""
    parts = (source[part] for part in ("document", "edition", "clause") if source[part] != "none")
    return (", ".join(parts), words.code(source["force"]), words.code(f"verified_{source['verified']}"))


def begin(advices: Sequence[Wire], words: Words) -> tuple[Points, ...]:
    """Openings where nothing may be begun yet and whom to ask, told before any numbers."""
    return points(
        f"{advice['mark']}: {words.code(advice['verdict'])}{_whom(advice, words)}"
        for advice in advices
        if advice["verdict"] in WARNING and not _ready(advice)
    )


def ask_before(advices: Sequence[Wire], words: Words) -> tuple[Points, ...]:
    """Openings that may be begun although somebody must be asked: the steps that wait, and whom to ask."""
    return points(
        f"{advice['mark']}: {_waiting(advice, words)}{_whom(advice, words)}"
        for advice in advices
        if advice["verdict"] in WARNING and _ready(advice)
    )


def _ready(advice: Wire) -> bool:
    """Whether the first step waits for nobody."""
    return not any(task.get("hold") for task in advice["tasks"][:1])


def _waiting(advice: Wire, words: Words) -> str:
    """The steps that wait; where none does, what beside the door is to be decided."""
    steps = [task["title"] for task in advice["tasks"] if task.get("hold")]
    beside = [words.code(phase) for conflict in advice["conflicts"] for phase in conflict["holds"]]
    return "; ".join(steps or dict.fromkeys(beside))


def _whom(advice: Wire, words: Words) -> str:
    """Who decides on the conflicts and answers the questions that hold something."""
    deciding = [conflict["decides"] for conflict in advice["conflicts"]]
    asked = [question["ask"] for question in advice["questions"] if question.get("holds")]
    names = ", ".join(words.code(who) for who in dict.fromkeys((*deciding, *asked)))
    return f" ({names})" if names else ""


def head_lines(house: Wire, words: Words) -> tuple[Table, ...]:
    """The head lines of a house."""
    heads = words.heads("line", "head", "marks", "note")
    rows = (
        (line["name"], text(line, "head_height"), ", ".join(line["marks"]), " ".join((line["text"], *left_out(line))))
        for line in house["head_lines"]
    )
    return table(heads, rows, (3, 2, 5, 7))


def blocks(house: Wire, words: Words) -> tuple[Table, ...]:
    """Blocks by size."""
    heads = words.heads("block", "count", "marks")
    rows = ((text(lot, "size"), str(lot["count"]), ", ".join(lot["marks"])) for lot in house["blocks"])
    return table(heads, rows, (2, 2, 8))


def trims(house: Wire, words: Words) -> tuple[Table, ...]:
    """The cutting list of a house."""
    heads = words.heads("place", "mark", "leaf", "trim", "when", "gauge", "height", "hold")
    rows = (
        (
            str(line["place"]),
            line["mark"],
            words.code(line["leaf"]),
            text(line, "trim"),
            f"{words.code(line['when'])}, {words.code(line['where'])}",
            _gauge(line["gauge_block"], words) if "gauge_block" in line else NOTHING,
            text(line, "height_after"),
            words("yes") if line["hold"] else NOTHING,
        )
        for line in house["trim_list"]
    )
    return table(heads, rows, (1, 1.6, 1.8, 1.6, 4, 3.8, 2.2, 1.6))


def _gauge(block: Wire, words: Words) -> str:
    """Heights of a block and what it stands on: of a list of blocks on two, none is good without that."""
    return words("gauge_on", ends=ends_of(block, words), on=words.code(block["stands_on"]))


def order_list(house: Wire, words: Words) -> tuple[Table | Points, ...]:
    """Units still to be ordered, and what of them isn't known here.

    Those on site have an undercut already, and not the listed one.
    """
    heads = words.heads("units", "undercut", "leaf_size", "frame", "core", "marks", "hold")
    rows = [
        (
            str(lot["units"]),
            text(lot, "undercut"),
            " × ".join(text(lot, name) for name in ("leaf_width", "leaf_height", "leaf_thickness")),
            ", ".join(text(lot, name) for name in ("head_gap", "head_thickness", "leg_thickness")),
            ", ".join((words.code(lot["core"]), str(lot["leaves"]), *made_for(lot, words))),
            ", ".join(lot["marks"]),
            words("yes") if lot["hold"] else NOTHING,
        )
        for lot in house["order_list"]
        if lot["state"] == TO_ORDER
    ]
    return (*table(heads, rows, (2, 2, 4.5, 3.4, 3.6, 3.2, 1.6)), *points([words("order_unknown")] if rows else []))


BUTT = "butt"
"""Hinges that need no mention."""


def made_for(lot: Wire, words: Words) -> tuple[str, ...]:
    """What distinguishes a unit from others of its size and core."""
    rated = (words("rated", minutes=str(lot["fire_minutes"])),) if "fire_minutes" in lot else ()
    hung = () if lot["hinges"] == BUTT else (words.code(lot["hinges"]),)
    return (*rated, *map(words.code, lot["duties"]), *hung)


def refused(house: Wire, words: Words) -> tuple[Table, ...]:
    """Openings that couldn't be read, and why."""
    heads = words.heads("mark", "field", "wrong")
    rows = (
        (one.get("mark", NOTHING), fault["pointer"], fault["detail"])
        for one in house["openings"]
        for fault in one.get("problem", {}).get("errors", ())
    )
    return table(heads, rows, (2, 5, 9))


def shared(advices: Sequence[Wire], name: str) -> tuple[Points, ...]:
    """Each sentence of a list once, with the marks it is for unless it is for all; those on one rule stand together.

    They come in the order in which openings first name the rule, and what the rule says itself follows what it makes
    of an opening.
    """
    marks: dict[str, dict[str, None]] = {}
    places: dict[str, tuple[int, bool]] = {}
    of_rule: dict[str, int] = {}
    for advice in advices:
        for one in advice[name]:
            told, rule = one["text"], one.get("rule", one["text"])
            marks.setdefault(told, {})[advice["mark"]] = None
            places.setdefault(told, (of_rule.setdefault(rule, len(of_rule)), one.get("code") == rule))
    whole = len(advices)
    in_order = sorted(marks, key=places.__getitem__)
    return points(told if len(marks[told]) == whole else f"{', '.join(marks[told])}: {told}" for told in in_order)
