"""One opening on a sheet: its drawings beside its steps in working order, each with the numbers that it needs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from jambset.render.elevation import elevation
from jambset.render.language import Language
from jambset.render.section import of_floor
from jambset.render.section_advice import governed, section
from jambset.render.sheet_parts import WARNING, Card, Step, Words, ends_of
from jambset.render.sheet_words import SHEET
from jambset.render.wire import NOTHING, SIDES, Wire, mm, rooms, slope, step_of, text

_EVENT = "sheet.event."
EXTERNAL = "external:"
EVENTS = frozenset(f"{EXTERNAL}{code.removeprefix(_EVENT)}" for code in SHEET if code.startswith(_EVENT))
"""What tasks wait for and no task brings about; whatever else they wait for is a task, even if named alike."""


def card(advice: Wire, language: Language, *, whole: bool = False, keyed: bool = False) -> Card:
    """One opening: drawings, verdict, and the steps with their numbers.

    whole: with all numbers and the elevation; otherwise with those that the work needs, the elevation only where the
    rough opening is short. keyed: with floors and rules in a key of the section; otherwise in words below.
    """
    words = Words(language)
    short = any(mm(advice, "framing", name) for name in ("short_by", "width_short_by"))
    drawn = (section(advice, language, keyed=keyed), elevation(advice, language) if whole or short else None)
    return Card(
        mark=advice["mark"],
        rooms=rooms(advice),
        verdict=words.code(advice["verdict"]),
        warns=advice["verdict"] in WARNING,
        summary=advice["summary"],
        steps=tuple(_step(task, advice, words, whole=whole) for task in advice["tasks"]),
        drawings=tuple(drawing for drawing in drawn if drawing is not None),
        instead=_instead(advice),
        below=() if keyed else tuple(_below(advice, words, whole=whole)),
    )


def _below(advice: Wire, words: Words, *, whole: bool) -> Iterator[str]:
    """What a key would tell; how the drawing is read too, unless that stands once above many cards."""
    yield from floors(advice["taken"], words)
    yield from governed(advice, words.language)
    if whole:
        yield words.language.sentences["draw.beyond"]


def floors(taken: Wire, words: Words) -> Iterator[str]:
    """The layers of both sides, where the section doesn't name them."""
    return (_floor(taken[side], side, words) for side in SIDES)


def _floor(floor: Wire, side: str, words: Words) -> str:
    """The layers of a side, as they lie in the section."""
    says = words.language.sentences
    layers = "; ".join(f"{layer['title']} {layer['nominal']['text']}" for layer in reversed(floor["layers"]))
    told = f"{says[f'draw.floor_{side}']}: {layers or says['draw.undecided']}"
    more = "; ".join(of_floor(floor, says))
    return f"{told} ({more})" if more else told


def _step(task: Wire, advice: Wire, words: Words, *, whole: bool) -> Step:
    name = step_of(task, advice)
    tables = (NUMBERS, BESIDES) if whole else (NUMBERS,)
    found = [pair for table in tables if name in table for pair in table[name](advice, words)]
    who = f"{words.code(task['trade'])}, {task['minutes']} min. {_waits(task, words)}"
    numbers = tuple(pair for pair in found if pair[1] != NOTHING)
    return Step(task["title"], numbers, who.strip(), words("held") if task.get("hold") else "")


def _instead(advice: Wire) -> str:
    """That the leaf may be left whole, where the summary doesn't say so: it must be read before the cut."""
    told = str(advice["leaf"].get("uncut", {}).get("text", ""))
    return "" if told in advice["summary"] else told


def _waits(task: Wire, words: Words) -> str:
    """What a step waits for that no other step brings about, and which floor waits for a piece."""
    held = words("held") if task.get("hold") else ""
    after, before = (_events(task.get(name, ()), words) for name in ("waits_for", "before"))
    parts = [held, words("after", events=after) if after else ""]
    if before and task["phase"] == "transition":
        parts.append(words("before", events=before))
    return " ".join(part for part in parts if part)


def _events(names: Sequence[str], words: Words) -> str:
    return ", ".join(words(f"event.{name.removeprefix(EXTERNAL)}") for name in names if name in EVENTS)


Pair = tuple[str, str]


def _cut_numbers(advice: Wire, words: Words) -> Iterator[Pair]:
    leaf = advice["leaf"]
    name = "trim_rest" if "trim_rest" in leaf else "trim"
    trim = text(leaf, name)
    where = f" ({words.code(leaf['where'])})" if "where" in leaf and trim != NOTHING else ""
    yield words("n.trim.each" if name == "trim" and advice["taken"]["leaves"] > 1 else f"n.{name}"), trim + where
    hung = ".check" if leaf["when"] == "before_hanging" else ""  # blocks are for a leaf that hangs
    for name, gauge in (("n.gauge", leaf.get("gauge_block")), ("n.gauge_second", leaf.get("second_gauge_block"))):
        if gauge is not None:
            told = words(name + hung, on=words.code(gauge["stands_on"]), angle=f"{gauge['angle']:g}")
            yield told, ends_of(gauge, words)
    yield words("n.plunge"), text(leaf, "plunge_depth")
    yield words("n.height_after"), text(leaf, "height_after")


def _now_numbers(advice: Wire, words: Words) -> Iterator[Pair]:
    yield words("n.trim_now"), text(advice, "leaf", "trim_now")


def _set_numbers(advice: Wire, words: Words) -> Iterator[Pair]:
    setting = advice["setting"]
    for leg in ("hinge_leg", "strike_leg", "second_hinge_leg"):
        if leg in setting:
            cut = setting[leg]["trim"]["mm"] > 0
            yield words("n.leg_cut" if cut else "n.leg_block", leg=words.code(leg)), _leg(setting[leg], words)
    yield words(_above("n.head", advice)), text(setting, "head_height")


def _above(name: str, advice: Wire) -> str:
    """The code of a height's name, another where the subfloor isn't level and the name has to say above what."""
    level = {height["mm"] for height in advice["taken"]["subfloor"].values()}
    return name if len(level) == 1 else f"{name}.uneven"


def _leg(leg: Wire, words: Words) -> str:
    if leg["trim"]["mm"] > 0:
        return text(leg, "trim")
    return text(leg, "block") if leg["block"]["mm"] > 0 else words("n.on_subfloor")


def _undercut_numbers(advice: Wire, words: Words) -> Iterator[Pair]:
    for side in SIDES:
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
    yield words("n.bevel" if "run" in bevel else "n.bevel_rise", kind=words.code(bevel["kind"])), slope(bevel)


def _check_numbers(advice: Wire, words: Words) -> Iterator[Pair]:
    yield words(_above("n.leaf_bottom", advice)), text(advice, "leaf", "bottom")
    clearance = advice["clearance"]
    piece = ("piece",) if mm(advice, "transition", "rise") else ()  # without one there is nothing else to measure over
    for side in (*SIDES, *piece):
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
    yield words(_above("n.foot_limit", advice)), text(advice, "setting", "foot_limit")


def _piece_sizes(advice: Wire, words: Words) -> Iterator[Pair]:
    yield words("n.step"), text(advice, "transition", "step")
    yield words("n.rise"), text(advice, "transition", "rise")


BESIDES = {"trim-leaf": _cut_limits, "set-frame": _set_limits, "fit-piece": _piece_sizes}
"""What a whole card says besides."""
