"""What is asked about the joint under the closed leaf: who builds a ramp, and whether its piece is meant."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import UNSET

from jambset.engine.facts import Facts
from jambset.engine.transition import Joint
from jambset.model.advice import Phrase, Question, Term
from jambset.model.source import Asked
from jambset.quantity.ticks import Length
from jambset.rules.schema import Phase

_BY_RAMP = (Phase.SETTING, Phase.LEAF, Phase.TRANSITION, Phase.FLOORING)
"""What a ramp moves, and other floors too."""


def joint_questions(facts: Facts, joint: Joint | None) -> Iterator[Question]:
    """What is open about the joint of two named floors; nothing while one is undecided."""
    if joint is None:
        return
    for text in ramp_wanted(facts, joint, "ask"):
        yield Question(
            code="ramp_needed",
            ask=Asked.SUPERINTENDENT,
            text=text,
            pointer="#/transition/piece",
            holds=_BY_RAMP,
        )
    if joint.misfit:
        yield Question(
            code="piece_unsuited",
            ask=Asked.FLOORING_INSTALLER,
            text=Phrase(
                f"ask.piece_{joint.misfit}",
                piece=Term(joint.piece.title),
                step=Length(joint.step),
                rise=Length(joint.rise),
                high=Term(joint.high.title),
                low=Term(joint.low.title),
            ),
            pointer="#/transition/piece",
            holds=(Phase.TRANSITION,),
        )


def ramp_wanted(facts: Facts, joint: Joint, told: str) -> Iterator[Phrase]:
    """The ramp that somebody has to agree to: a rule wants one, or no piece is bought for so high a step.

    told: how it is said, as a question (ask) or as what a pair of floors comes to (outcome).
    """
    if _agreed(facts, joint):
        return
    above = joint.piece.built_above
    if joint.bevel is not None and joint.ramped:
        yield Phrase(f"{told}.ramp_needed", drop=Length(joint.drop), run=joint.bevel.run)
    elif above is not UNSET and joint.step > above:
        yield Phrase(f"{told}.ramp_built", step=Length(joint.step))


def _agreed(facts: Facts, joint: Joint) -> bool:
    """Whether the caller names a piece that is built as the ramp."""
    named = facts.piece is not UNSET
    return named and joint.piece.accessible and joint.drop <= joint.piece.step_greatest and not joint.misfit
