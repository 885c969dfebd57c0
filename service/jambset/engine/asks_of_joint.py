"""What is asked about the joint under the closed leaf: who builds a ramp, and whether its piece is meant."""

from __future__ import annotations

from collections.abc import Iterator

from jambset.engine.facts import Facts, SideFacts
from jambset.engine.transition import Joint
from jambset.model.advice import Phrase, Question, Term
from jambset.model.source import Asked
from jambset.quantity.ticks import Length


def joint_questions(facts: Facts, joint: Joint | None) -> Iterator[Question]:
    """What is open about the joint of two named floors; nothing while one is undecided."""
    if joint is None:
        return
    if joint.bevel is not None and joint.ramped:
        yield Question(
            code="ramp_needed",
            ask=Asked.SUPERINTENDENT,
            text=Phrase("ask.ramp_needed", drop=Length(joint.drop), run=joint.bevel.run),
            pointer=_lower(facts, joint).pointer,
            holds=("setting", "leaf", "transition", "flooring"),  # a ramp, and other floors too, move all of them
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
            holds=("transition",),
        )


def _lower(facts: Facts, joint: Joint) -> SideFacts:
    """The side whose finish lies lower, or either of two that are level."""
    return facts.push if joint.higher == facts.pull.name else facts.pull
