"""Questions that no field of a request answers but somebody's word, and which advice rests on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from msgspec import UNSET

from jambset.engine.contradictions import REPEATED
from jambset.errors import FieldError, Known, unknown
from jambset.model.advice import Assumption, Phrase, Question
from jambset.model.request import Opening
from jambset.rules.schema import Catalogue, Relation

BY_WORD = (
    "authority",
    "floor_not_laid",
    "frame_instructions",
    "frame_label",
    "head_line_left",
    "leaf_label",
    "listing",
    "seal_listing",
    "smoke_seal",
    "undercut_to_order",
    "unit_label",
)
"""Of these questions, those that no rule asks."""


@lru_cache(maxsize=8)
def answerable(catalogue: Catalogue) -> tuple[str, ...]:
    """Codes of the questions that are answered by somebody's word: these, and what rules ask."""
    asked = {rule.id for rules in catalogue.rules.values() for rule in rules if rule.relation is Relation.ASK}
    return tuple(sorted(asked.union(BY_WORD)))


@lru_cache(maxsize=8)
def answer_names(catalogue: Catalogue) -> Known:
    """Those codes as a refusal tells them: all, since no call lists them."""
    return Known(answerable(catalogue))


def answer_faults(opening: Opening, catalogue: Catalogue) -> Iterator[FieldError]:
    """What is wrong with the answers that a request brings."""
    codes = [one.code for one in opening.answered]
    for place, code in enumerate(codes):
        pointer = f"#/answered/{place}/code"
        if code not in answerable(catalogue):
            yield unknown(pointer, code, answer_names(catalogue))
        elif code in codes[:place]:
            yield FieldError(pointer, "repeated", REPEATED)


def is_open(code: str, opening: Opening) -> bool:
    """Whether nobody has answered a question by word."""
    return all(one.code != code for one in opening.answered)


def unanswered(questions: tuple[Question, ...], opening: Opening) -> tuple[Question, ...]:
    """Those that are still open."""
    if not opening.answered:
        return questions
    return tuple([one for one in questions if one.pointer is not UNSET or is_open(one.code, opening)])


def by_word(questions: Iterable[Question], opening: Opening) -> tuple[Assumption, ...]:
    """On whose word questions count as answered, for those that are asked here at all."""
    if not opening.answered:
        return ()
    asked = {one.code: one.text for one in questions if one.pointer is UNSET}
    return tuple(
        [
            Assumption(
                pointer=f"#/answered/{place}",
                text=Phrase("assumed.answered", by=one.by, question=asked[one.code]),
            )
            for place, one in enumerate(opening.answered)
            if one.code in asked
        ]
    )
