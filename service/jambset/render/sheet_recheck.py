"""What stands on the sheet of a recheck and on no other: how the unit stands now, and what mends it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from jambset.render import sheet_lists as lists
from jambset.render.section_recheck import recheck_section
from jambset.render.sheet_cards import floors
from jambset.render.sheet_parts import WARNING, Block, Card, Points, Step, Table, Ways, Words, points, table
from jambset.render.wire import NOTHING, SIDES, Wire, mm, rooms, text

BETWEEN = "; "
"""Stands between several rules."""


def glance(answer: Wire, words: Words) -> Card:
    """Mark, rooms, verdict and summary, and the unit as found over its floors."""
    language = words.language
    return Card(
        mark=answer["mark"],
        rooms=rooms(answer),
        verdict=verdict_in_words(answer, words),
        warns=answer["verdict"] in WARNING,
        summary=answer["summary"],
        steps=(),
        drawings=(recheck_section(answer, language, keyed=False),),
        below=(*floors(answer["taken"], words), language.sentences["draw.beyond"]),
    )


def verdict_in_words(answer: Wire, words: Words) -> str:
    """What to make of a unit as found; a verdict that isn't known here as it is."""
    verdict = answer["verdict"]
    return words.language.sentences.get(f"sheet.recheck.{verdict}") or words.code(verdict)


def standing(answer: Wire, words: Words) -> tuple[Table | Points, ...]:
    """What is found and by which rule, and what it means to leave it so."""
    found, left = answer["findings"], answer["do_nothing"]
    rows = (
        (
            words.code(one["side"]) if "side" in one else NOTHING,
            one["text"],
            _title(one["rule"], answer),
            words.code(one["force"]),
        )
        for one in found
    )
    named = {one["rule"] for one in found}
    besides = _rules((rule for rule in left["leaves"] if rule not in named), answer, words)
    told = (left["text"], *([words("besides", rules=besides)] if besides else []))
    return (*table(words.heads("where", "found", "missed", "force"), rows, (2, 7, 5, 2)), *points(told))


def heights(answer: Wire, words: Words) -> tuple[Table, ...]:
    """The unit as it was judged. Whether its subfloor is level isn't answered, so each height says above what."""
    return table(words.heads("what", "value"), _heights(answer, words), (6, 3))


def _heights(answer: Wire, words: Words) -> Iterator[tuple[str, str]]:
    found, clearance = answer["found"], answer["clearance"]
    yield words("n.leaf_bottom.uneven"), text(found, "leaf_bottom")
    if found["hinge_foot"] == found["strike_foot"]:
        yield words("n.feet"), text(found, "hinge_foot")
    else:
        yield words("n.hinge_foot"), text(found, "hinge_foot")
        yield words("n.strike_foot"), text(found, "strike_foot")
    piece = ("piece",) if mm(answer, "transition", "rise") else ()
    for side in (*SIDES, *piece):
        if side in clearance:
            yield words("n.gap", side=words.code(side)), _spread(clearance[side], words)
    yield words("n.head.uneven"), text(found, "head_height")
    yield words("n.undercut_made"), text(found, "undercut")
    if found["trimmed"]["mm"]:
        yield words("n.trimmed"), text(found, "trimmed")


def _spread(spread: Wire, words: Words) -> str:
    least, nominal, greatest = (text(spread, name) for name in ("least", "nominal", "greatest"))
    if least == nominal == greatest:
        return nominal
    return words("spread", nominal=nominal, least=least, greatest=greatest)


def air(answer: Wire, words: Words) -> tuple[Block, ...]:
    """What passes the closed leaf, and what else may carry the rest; a grille that mends it is told as a remedy."""
    return lists.air(besides(answer), words)


def besides(answer: Wire) -> Wire:
    """An answer whose air has no way out that is a remedy of it."""
    made = {kind for remedy in answer["remedies"] for kind in remedy["steps"]}
    ways = [way for way in answer["air"].get("ways_out", ()) if way["kind"] not in made]
    return {**answer, "air": {**answer["air"], "ways_out": ways}}


def asked(answer: Wire) -> list[Wire]:
    """The questions; each holds the phases of the tasks that wait for it as well."""
    return [{**question, "holds": _holds(question, answer["tasks"])} for question in answer["questions"]]


def _holds(question: Wire, tasks: Iterable[Wire]) -> list[str]:
    waiting = (task["phase"] for task in tasks if question["code"] in task.get("questions", ()))
    return list(dict.fromkeys((*question.get("holds", ()), *waiting)))


def ways(answer: Wire, words: Words) -> tuple[Ways, ...]:
    """The remedies in the order of the answer, each with what it needs first and what it does to the rules."""
    items = tuple(_way(remedy, answer, words) for remedy in answer["remedies"])
    return (Ways(items),) if items else ()


def _way(remedy: Wire, answer: Wire, words: Words) -> Step:
    needs = remedy.get("needs", ())
    law = words("unlawful" if not remedy["lawful"] else "lawful_then" if needs else "lawful")
    told = (
        (words("n.needs"), " ".join(f"{need['text']} ({words.code(need['ask'])})" for need in needs)),
        (words("n.fixes"), _rules(remedy["fixes"], answer, words) or words("fixes_none")),
        (words("n.breaks"), _rules(remedy["breaks"], answer, words)),
        (words("n.leaves"), _rules(remedy["leaves"], answer, words) or words("leaves_none")),
        (words("n.if_listed"), _rules(remedy.get("if_listed", ()), answer, words)),
        (words("n.cautions"), _places(remedy.get("cautions", ()), answer, words)),
    )
    return Step(
        title=remedy["text"],
        numbers=tuple(pair for pair in told if pair[1]),
        who=f"{remedy['minutes']} min. {law}",
        held="" if remedy["lawful"] else law,
    )


def _rules(rules: Iterable[str], answer: Wire, words: Words) -> str:
    """Rules by their titles, each with its force."""
    forces = {source["rule"]: words.code(source["force"]) for source in answer["sources"]}
    told = (f"{_title(rule, answer)} ({forces[rule]})" if rule in forces else rule for rule in rules)
    return BETWEEN.join(dict.fromkeys(told))


def _title(rule: str, answer: Wire) -> str:
    return next((str(source["title"]) for source in answer["sources"] if source["rule"] == rule), rule)


def cautions(answer: Wire) -> tuple[Points, ...]:
    """The cautions, numbered for the remedies to name them."""
    return tuple(Points(found.items, numbered=True) for found in points(one["text"] for one in answer["cautions"]))


def _places(codes: Iterable[str], answer: Wire, words: Words) -> str:
    """The numbers of some cautions."""
    place = {told: at for at, told in enumerate(dict.fromkeys(one["text"] for one in answer["cautions"]), start=1)}
    known = {one["code"]: place[one["text"]] for one in answer["cautions"]}
    named = sorted({known[code] for code in codes if code in known})
    return words("numbers", places=", ".join(map(str, named))) if named else ""


def steps(answer: Wire, words: Words) -> tuple[Ways, ...]:
    """The tasks: the steps of the first remedy, where it leaves nothing firm missed."""
    items = tuple(_step(task, words) for task in answer["tasks"])
    return (Ways(items),) if items else ()


def _step(task: Wire, words: Words) -> Step:
    held = words("held") if task.get("hold") else ""
    return Step(task["title"], (), f"{words.code(task['trade'])}, {task['minutes']} min. {held}".strip(), held)
