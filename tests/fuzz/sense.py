"""Whether an answer makes sense: the properties that tests ask of sensible openings, asked of whatever was answered.

What a property needs beyond a readable request is a condition here. Those that hold of some openings alone are left
out, and so are those that pass over some with `assume`.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any, NamedTuple

from tests.contract.asgi import ADVICE, RECHECK, Reply
from tests.fuzz.messages import Message
from tests.fuzz.service import Service
from tests.openings import Wire
from tests.property import test_engine as engine
from tests.property import test_recheck as recheck


class Property(NamedTuple):
    """A property test of one request, and of which requests it holds."""

    test: Any
    holds_of: Callable[[Wire], bool]

    def ask(self, request: Wire) -> None:
        """Fails where the property doesn't hold."""
        self.test.hypothesis.inner_test(request)


def _any(_: Wire) -> bool:
    return True


def _gridded(request: Wire) -> bool:
    return "grid" in request


PROPERTIES = {
    ADVICE: (
        Property(engine.test_a_check_passes_exactly_when_its_unrounded_numbers_do, _any),
        Property(engine.test_what_was_checked_is_what_is_answered, _any),
        Property(engine.test_law_standard_and_programme_are_never_relaxed, _any),
        Property(engine.test_the_verdict_follows_from_what_is_open, _any),
        Property(engine.test_every_rule_named_has_its_source, _any),
        Property(engine.test_every_conflict_names_rules_that_exist, _any),
        Property(engine.test_every_rule_missed_is_told_of, _any),
        Property(engine.test_the_header_is_blamed_only_where_it_is_in_the_way, _any),
        Property(engine.test_heights_lie_on_the_grid_that_is_said, _gridded),
        Property(engine.test_no_block_and_no_cut_is_less_than_nothing, _any),
        Property(engine.test_clearances_stand_in_their_order, _any),
    ),
    RECHECK: (
        Property(recheck.test_remedies_stand_in_the_order_stated, _any),
        Property(recheck.test_the_verdict_says_what_the_checks_say, _any),
        Property(recheck.test_an_answer_can_be_written_and_names_only_rules_it_sources, _any),
        Property(recheck.test_no_seal_answers_to_a_rule_on_fire, _any),
    ),
}


def makes_sense(_: Service, message: Message, reply: Reply) -> None:
    """All that is asked of any sensible opening holds of one that was answered."""
    if reply.status != 200 or message.header("content-length"):
        return
    for one in PROPERTIES.get(message.path, ()):
        request = {"frame": {}, **json.loads(message.body)}
        if one.holds_of(request):
            one.ask(request)
