"""What stands on a sheet, before it is a page for a browser or a PDF: sections of tables, lists and cards, in words.

Reads answers as they are decoded from JSON and decides nothing. The order is that of the work: what is cut and set
first, then what is ordered, left to the flooring installer, asked, cautioned, and where it all comes from. On the sheet
of one opening what is asked comes second: its card tells only the first of what waits. On that of a recheck it comes
before what fixes the unit, and after how that stands.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from jambset.render import sheet_house_recheck as merged
from jambset.render import sheet_lists as lists
from jambset.render import sheet_recheck as rechecks
from jambset.render.language import Language
from jambset.render.sheet_cards import card
from jambset.render.sheet_parts import Block, Section, Sheet, Words, points
from jambset.render.wire import Wire


def opening_sheet(advice: Wire, language: Language, *, keyed: bool = True) -> Sheet:
    """The sheet of one opening; its summary stands on its card, with the steps. keyed: as for `card`."""
    words = Words(language)
    parts = (
        (words("work"), (card(advice, language, whole=True, keyed=keyed),)),
        (words("conflicts"), lists.conflicts([advice], words)),
        (words("questions"), lists.questions(advice["questions"], words)),
        (words("superintendent"), lists.order(advice, words)),
        (words("air"), lists.air(advice, words)),
        (words("flooring"), lists.flooring(advice, words)),
        (words("outlook"), lists.outlook(advice, words)),
        (words("assumptions"), points(one["text"] for one in advice["assumptions"])),
        (words("cautions"), points(one["text"] for one in advice["cautions"])),
        (words("sources"), lists.sources([advice], words)),
    )
    return _sheet(words("opening", mark=advice["mark"]), "", parts, advice, words)


def recheck_sheet(answer: Wire, language: Language) -> Sheet:
    """The sheet of an opening as it was set: how it stands, what is asked before anything is cut, what mends it."""
    words = Words(language)
    asking = words("ask_first" if answer["remedies"] else "questions")
    parts = (
        (words("recheck"), (rechecks.glance(answer, words),)),
        (words("standing"), rechecks.standing(answer, words)),
        (asking, lists.questions(rechecks.asked(answer), words)),
        (words("ways"), rechecks.ways(answer, words)),
        (words("steps"), rechecks.steps(answer, words)),
        (words("cautions"), rechecks.cautions(answer)),
        (words("heights"), rechecks.heights(answer, words)),
        (words("air"), rechecks.air(answer, words)),
        (words("flooring"), lists.flooring(answer, words)),
        (words("assumptions"), points(one["text"] for one in answer["assumptions"])),
        (words("sources"), lists.sources([answer], words)),
    )
    return _sheet(words("rechecked", mark=answer["mark"]), "", parts, answer, words)


def house_sheet(house: Wire, language: Language) -> Sheet:
    """The sheet of a house: its lists, each opening at a glance, and what all of them share."""
    words = Words(language)
    advices = _by_mark(house)
    parts = (
        (words("begin"), lists.begin(advices, words)),
        (words("ask_before"), lists.ask_before(advices, words)),
        (words("head_lines"), lists.head_lines(house, words)),
        (words("blocks"), lists.blocks(house, words)),
        (words("trims"), lists.trims(house, words)),
        (words("each"), _cards(advices, words)),
        (words("order"), lists.order_list(house, words)),
        (words("air"), lists.air_list(advices, words)),
        (words("flooring"), lists.undercuts(house, words)),
        (words("pieces"), lists.pieces(house, advices, words)),
        (words("conflicts"), lists.conflicts(advices, words)),
        (words("questions"), lists.questions(house["questions"], words)),
        (words("refused"), lists.refused(house, words)),
        (words("assumptions"), lists.shared(advices, "assumptions")),
        (words("cautions"), lists.shared(advices, "cautions")),
        (words("sources"), lists.sources(advices, words)),
    )
    return _sheet(house["house"], house["summary"], parts, house, words)


def house_recheck_sheet(house: Wire, language: Language) -> Sheet:
    """The sheet of a house whose doors are set: what is decided and asked, the work merged, each opening in a line."""
    words = Words(language)
    answers = merged.in_order(house)
    parts = (
        (words("decide_first"), merged.open_doors(house, words)),
        (words("ask_first" if house["tasks"] else "questions"), lists.questions(house["questions"], words)),
        (words("head_lines"), merged.head_lines(house, words)),
        (words("trims"), merged.trims(house, words)),
        (words("fixes"), merged.fixes(house, words)),
        (words("by_trade"), merged.by_trade(house, words)),
        (words("order"), lists.order_list(house, words)),
        (words("order_leaves"), merged.order_leaves(house, words)),
        (words("flooring"), merged.undercuts(house, words)),
        (words("pieces"), merged.pieces(house, answers, words)),
        (words("air"), lists.air_list([rechecks.besides(answer) for answer in answers], words)),
        (words("each"), merged.each(house, answers, words)),
        (words("left"), points([house["do_nothing"]["text"]])),
        (words("refused"), lists.refused(house, words)),
        (words("assumptions"), lists.shared(answers, "assumptions")),
        (words("cautions"), merged.cautions(house, answers)),
        (words("sources"), lists.sources([house], words)),
    )
    return _sheet(house["house"], house["summary"], parts, house, words)


def _cards(advices: Sequence[Wire], words: Words) -> tuple[Block, ...]:
    """Each opening at a glance; before them, once, how their drawings are read."""
    cards = tuple(card(advice, words.language) for advice in advices)
    return (*points([words.language.sentences["draw.beyond"]]), *cards) if cards else ()


def _by_mark(house: Wire) -> list[Wire]:
    """The advices of a house in the order of its tasks, which is that of marks; whatever order the openings came in."""
    place = {mark: at for at, mark in enumerate(dict.fromkeys(task["mark"] for task in house["tasks"]))}
    advices = (one["advice"] for one in house["openings"] if "advice" in one)
    return sorted(advices, key=lambda advice: place.get(advice["mark"], len(place)))


def _sheet(title: str, lead: str, parts: Iterable[tuple[str, tuple[Block, ...]]], answer: Wire, words: Words) -> Sheet:
    """A sheet of the parts that aren't empty."""
    return Sheet(
        title=title,
        lead=lead,
        sections=tuple(Section(heading, blocks) for heading, blocks in parts if blocks),
        notice=answer["notice"],
        about=words("about", rule_set=answer["rule_set"], advice_id=answer["advice_id"]),
        page=words.language.sentences["sheet.page"],
        language=words.language.code,
    )
