"""A house whose doors are set: its lists, what is told apart, and its head lines."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec import UNSET
from tests.house_rechecks import body_of, house_of, told_of
from tests.openings import Wire, catalogue, door, floor, layer, ticks
from tests.rechecks import read, rechecked
from tests.unit.engine.test_other_unit import too_short
from tests.unit.engine.test_recheck import AS_SET, CARPET, TILE, was_set

from jambset.engine import report
from jambset.engine.recheck import FINE, LIVE_WITH, WORK
from jambset.engine.recheck import rechecked as worked_out
from jambset.errors import InvalidRequest
from jambset.model.advice import Phrase
from jambset.model.house_recheck import FixLine, HouseRecheckAdvice, SetTogether
from jambset.model.source import Asked
from jambset.quantity.ticks import Length
from jambset.render.language import SPANISH

FINE_AS_SET = was_set()
SHOWS = was_set(as_set={"foot": "1/2 in", "leaf_bottom": "1 1/2 in"})
"""Legs 1/2 in up, plank 1/4 in: they show 1/4 in. Fillers, 40 minutes."""
RUBS = was_set(pull_side=TILE, as_set={"foot": "0 in", "leaf_bottom": "3/4 in"}, frame={"undercut": "3/4 in"})
"""Tile 1/2 in: 1/4 in is left. 3/8 in off in place, 38 minutes."""
STEEL = was_set(leaf={"core": "steel"}, pull_side=floor("ceramic_tile 3/4 in"), push_side=floor("ceramic_tile 3/4 in"))
"""An inch over tile 3/4 in: 1/4 in is left, 5/8 in wanted. Steel isn't cut: set again 3/8 in up, 90 and 6 minutes."""
CUT_TOO_FAR = was_set(as_set={"foot": "0 in", "leaf_bottom": "1 3/4 in"})
"""3/4 in off a hollow leaf that gives 1/2 in: another leaf, 70 minutes."""
LABELLED = was_set(
    duties=["fire_label"], frame={"undercut": "1/2 in"}, as_set={"foot": "0 in", "leaf_bottom": "1/2 in"}
)
"""1/4 in over plank, 3/8 in accepted: 1/8 in off, if the listing allows."""


def fix(answer: HouseRecheckAdvice, mark: str) -> FixLine:
    (found,) = (line for line in answer.fix_list if line.mark == mark)
    return found


# --- each opening


def test_each_opening_is_answered_as_alone_in_the_order_of_the_request() -> None:
    requests = {"D2": SHOWS, "D10": RUBS, "D1": LABELLED}
    answer = house_of(requests, hall=["D1", "D2"])
    assert [one.mark for one in answer.openings] == ["D2", "D10", "D1"]
    assert [one.advice for one in answer.openings] == [
        rechecked({**request, "mark": mark}) for mark, request in requests.items()
    ]


def test_every_verdict_is_counted_with_its_marks_in_their_order() -> None:
    answer = house_of({"D10": FINE_AS_SET, "D2": FINE_AS_SET, "D1": SHOWS})
    assert [(one.verdict, one.count, one.marks) for one in answer.verdicts] == [
        (FINE, 2, ("D2", "D10")),
        (LIVE_WITH, 0, ()),
        (WORK, 1, ("D1",)),
        ("hold", 0, ()),
        ("conflict", 0, ()),
    ]


# --- lists


def test_steps_of_a_kind_stand_together_in_the_order_of_the_work() -> None:
    answer = house_of({"D1": SHOWS, "D2": RUBS, "D3": STEEL, "D4": SHOWS, "D5": CUT_TOO_FAR})
    assert [(line.kind, line.mark, line.minutes) for line in answer.fix_list] == [
        ("reset", "D3", 96),
        ("other_leaf", "D5", 70),
        ("trim", "D2", 38),
        ("fill_legs", "D1", 40),
        ("fill_legs", "D4", 40),
    ]
    assert [task.key for task in answer.tasks] == [
        "D1.fill_legs",
        "D2.trim",
        "D3.reset",
        "D4.fill_legs",
        "D5.other_leaf",
    ]
    assert answer.totals.minutes == 96 + 70 + 38 + 40 + 40
    assert [(one.trade, one.minutes) for one in answer.totals.by_trade] == [("finish_carpenter", 284)]
    assert (answer.totals.mended, answer.totals.held, answer.totals.cuts) == (5, 0, 1)


def test_a_step_says_what_its_remedy_says_of_it() -> None:
    first = rechecked(RUBS).remedies[0]
    line = fix(house_of({"D1": RUBS}), "D1")
    assert (line.trim, line.where, line.leaf_bottom, line.text) == (
        first.trim,
        first.where,
        first.leaf_bottom,
        first.text,
    )
    assert (line.foot, line.undercut, line.piece) == (UNSET, UNSET, UNSET)


TWO_STEPS = was_set(
    leaf={"core": "steel"},
    pull_side=TILE,
    frame={"undercut": "1/2 in"},
    as_set={"foot": "0 in", "leaf_bottom": "1/2 in"},
)
"""Tile and plank of two heights under a steel leaf: set higher for its gap, its legs show over one, and are filled."""


def test_a_remedy_of_two_steps_is_two_lines_each_with_its_own_words() -> None:
    alone = rechecked({**TWO_STEPS, "mark": "D1"})
    answer = house_of({"D1": TWO_STEPS})
    assert alone.remedies[0].steps == ("reset", "fill_legs")
    assert [(line.task, line.kind) for line in answer.fix_list] == [
        ("D1.reset", "reset"),
        ("D1.fill_legs", "fill_legs"),
    ]
    assert len({line.text for line in answer.fix_list}) == 2
    assert [task.waits_for for task in answer.tasks] == [(), ("D1.reset",)]


def test_all_that_follows_a_unit_set_off_its_line_waits_with_it() -> None:
    answer = house_of({"D1": TWO_STEPS, "D2": was_set(frame={"undercut": "1/2 in"}), "D3": TWO_STEPS},
                      hall=["D1", "D2"])  # fmt: skip
    assert [(task.key, task.questions) for task in answer.tasks] == [
        ("D1.reset", ("head_line_left",)),
        ("D1.fill_legs", ("head_line_left",)),
        ("D3.reset", ()),
        ("D3.fill_legs", ()),
    ]


def test_leaves_are_cut_in_place_then_off_their_hinges_then_on_the_bench() -> None:
    """D3: another leaf, cut on the bench for carpet by all that it gives; D1 is cut too low to be sawn hung."""
    bench = was_set(pull_side=CARPET, as_set={"foot": "0 in", "leaf_bottom": "1 3/4 in"})
    answer = house_of({"D1": LABELLED, "D2": RUBS, "D3": bench})
    assert [(cut.place, cut.mark, cut.where, cut.hold) for cut in answer.trim_list] == [
        (1, "D2", "in_place", False),
        (2, "D1", "off_hinges", True),
        (3, "D3", "bench", False),
    ]
    assert [cut.height_after for cut in answer.trim_list] == [
        ticks("79 5/8 in"),
        ticks("79 7/8 in"),
        ticks("79 1/2 in"),
    ]


def test_both_leaves_of_a_pair_are_cut_and_counted() -> None:
    answer = house_of({"D1": door(RUBS, leaf={"count": 2})})
    assert [cut.leaf for cut in answer.trim_list] == ["first", "second"]
    assert (answer.totals.cuts, len(answer.tasks)) == (2, 1)


def test_leaves_that_can_be_ordered_alike_are_one_lot() -> None:
    other = door(CUT_TOO_FAR, leaf={"count": 2})
    wider = door(CUT_TOO_FAR, leaf={"width": "32 in"})
    answer = house_of({"D1": CUT_TOO_FAR, "D2": other, "D3": wider})
    assert [(lot.leaves, lot.leaf_width, lot.marks) for lot in answer.leaf_list] == [
        (3, ticks("30 in"), ("D1", "D2")),
        (1, ticks("32 in"), ("D3",)),
    ]
    assert answer.order_list == ()


def test_leaves_of_a_label_wait_for_it_and_come_last() -> None:
    rated = door(CUT_TOO_FAR, duties=["fire_label"])
    answer = house_of({"D1": rated, "D2": CUT_TOO_FAR})
    assert [(lot.marks, lot.hold, lot.duties) for lot in answer.leaf_list] == [
        (("D2",), False, ()),
        (("D1",), True, ("fire_label",)),
    ]


def test_a_leaf_is_ordered_with_the_minutes_it_is_rated_for() -> None:
    rated = [door(CUT_TOO_FAR, leaf={"core": "solid", "fire_minutes": minutes}) for minutes in (20, 45)]
    plain = door(CUT_TOO_FAR, leaf={"core": "solid"})
    for request in (*rated, plain):
        request["as_set"]["leaf_bottom"] = "2 1/2 in"  # 1 1/2 in off, where solid cores give less
    lots = house_of({"D1": rated[0], "D2": rated[1], "D3": plain}).leaf_list
    assert {lot.marks: lot.fire_minutes for lot in lots} == {("D1",): 20, ("D2",): 45, ("D3",): UNSET}


def test_units_to_exchange_are_ordered_with_their_undercut() -> None:
    answer = house_of({"D1": too_short(), "D2": too_short()})
    (lot,) = answer.order_list
    assert (lot.units, lot.undercut, lot.state, lot.hold) == (2, ticks("1 1/2 in"), "to_order", False)
    assert (lot.leaf_height, lot.marks) == (ticks("80 in"), ("D1", "D2"))


def test_pieces_are_those_once_the_first_remedies_are_done() -> None:
    """On an accessible route a saddle that is too high is changed; another doorway keeps its piece."""
    wrong = was_set(pull_side=TILE, duties=["accessible_route"], transition={"piece": "saddle", "rise": "5/8 in"})
    right = was_set(pull_side=TILE)
    answer = house_of({"D1": wrong, "D2": right, "D3": FINE_AS_SET})
    changed = fix(answer, "D1").piece
    found = {mark: lot.piece for lot in answer.piece_list for mark in lot.marks}
    assert found.keys() == {"D1", "D2"}
    assert found["D1"] == changed != "saddle"


def left_to_the_installer(answer: HouseRecheckAdvice) -> list[tuple[str, str, str, object]]:
    """Of each line its mark, its side, the code of its note, and where the legs are cut [ticks], if they are."""
    return [(one.mark, one.side, one.note.code, one.jamb_undercut) for one in answer.undercut_list]


def test_the_flooring_installer_is_told_what_is_left_once_the_work_is_done() -> None:
    """By hand: legs on the subfloor are cut for tile 1/2 in and for plank 1/4 in, each 1/16 in higher for the saw.

    D1 has fillers. D3 has one leg 1/4 in above its plank, the other cut for it. What D4 shows over plank and wood
    5/16 in, its moulding hides.
    """
    one_leg = was_set(as_set={"foot": None, "hinge_foot": "0 in", "strike_foot": "1/2 in", "leaf_bottom": "1 in"})
    covered = was_set(push_side=floor("engineered_wood 5/16 in"), as_set={"foot": "1/2 in", "leaf_bottom": "1 5/8 in"})
    answer = house_of({"D1": SHOWS, "D2": RUBS, "D3": one_leg, "D4": covered})
    assert [line.kind for line in answer.fix_list] == ["trim", "fill_legs", "fill_legs", "cover_legs"]
    assert left_to_the_installer(answer) == [
        ("D1", "pull_side", "flooring.filled", UNSET),
        ("D1", "push_side", "flooring.filled", UNSET),
        ("D2", "pull_side", "flooring.undercut", ticks("9/16 in")),
        ("D2", "push_side", "flooring.undercut", ticks("5/16 in")),
        ("D3", "pull_side", "flooring.undercut_one.filled", ticks("5/16 in")),
        ("D3", "push_side", "flooring.undercut_one.filled", ticks("5/16 in")),
        ("D4", "pull_side", "flooring.covered", UNSET),
        ("D4", "push_side", "flooring.covered", UNSET),
    ]


def test_what_is_cut_is_cut_off_the_legs_where_they_then_stand() -> None:
    """Legs 1/2 in up over plank 1/8 in show as found; set again on the subfloor they are cut for it, 3/16 in up."""
    doors = legs_show("1/8 in")
    assert rechecked(doors["D1"]).flooring.pull_side.jamb_undercut is UNSET
    answer = house_of(doors)
    assert [(line.kind, line.foot) for line in answer.fix_list] == [("reset", 0)]
    assert {cut for *_, cut in left_to_the_installer(answer)} == {ticks("3/16 in")}


def test_legs_of_a_labelled_frame_are_cut_only_once_somebody_says_that_its_listing_allows_it() -> None:
    """As found nothing is cut, since the legs stand above the plank; set again on the subfloor they are."""
    (unit,) = legs_show("1/8 in").values()
    labelled = door(unit, leaf={"core": "solid", "fire_minutes": 20})
    answer = house_of({"D1": labelled, "D2": unit})
    assert [line.kind for line in answer.fix_list] == ["reset", "reset"]
    told = {(one.mark, one.note.code, one.jamb_undercut, one.hold) for one in answer.undercut_list}
    assert told == {
        ("D1", "flooring.labelled", ticks("3/16 in"), True),
        ("D2", "flooring.undercut", ticks("3/16 in"), False),
    }
    (asked,) = (one for one in answer.questions if one.code == "frame_label")
    assert (asked.marks, asked.holds, asked.text.code) == (("D1",), ("flooring",), "ask.frame_label.set")
    by_word = door(labelled, answered=[{"code": "frame_label", "by": "door supplier, listing sheet"}])
    assert {one.hold for one in house_of({"D1": by_word}).undercut_list} == {False}


def test_what_shows_at_a_door_without_work_is_hidden_by_nothing() -> None:
    undecided = was_set(pull_side={"build_up": None}, as_set={"foot": "1/2 in", "leaf_bottom": "1 1/2 in"})
    assert [code for _, _, code, _ in left_to_the_installer(house_of({"D1": undecided}))] == [
        "flooring.undecided",
        "flooring.shows",
    ]


def test_over_carpet_fillers_hide_what_shows_and_a_piece_hides_nothing() -> None:
    over = was_set(pull_side=floor("carpet 7/16 in"), as_set={"foot": "1/2 in", "leaf_bottom": "1 1/2 in"})
    answer = house_of({"D1": over})
    assert [line.kind for line in answer.fix_list] == ["fill_legs"]
    assert [code for _, _, code, _ in left_to_the_installer(answer)] == ["flooring.filled"] * 2
    found = worked_out(read(over), catalogue()).found.result
    assert report.flooring(found, report.COVERED).pull_side.note.code == "flooring.shows"
    assert report.flooring(found, report.COVERED).push_side.note.code == "flooring.covered"


def test_nothing_is_left_to_cut_beside_a_floor_that_lies() -> None:
    """Somebody measured the gap down to it; of a floor that runs through, on one side for both."""
    measured = {"foot": "0 in", "leaf_bottom": None, "gaps": {"pull_side": "3/4 in"}}
    answer = house_of({"D1": was_set(as_set=measured, pull_side=TILE), "D2": was_set(as_set=measured), "D3": RUBS})
    assert [(mark, side) for mark, side, *_ in left_to_the_installer(answer)] == [
        ("D1", "push_side"),
        ("D3", "pull_side"),
        ("D3", "push_side"),
    ]


# --- what waits, what is open


def test_a_change_of_floor_that_did_not_reach_all_doors_of_a_room_is_asked_about() -> None:
    """Gaps are measured down to one and the same floor, though not to a hair."""
    measured = {"foot": "0 in", "leaf_bottom": None}
    gaps = [{**measured, "gaps": {"push_side": gap}} for gap in ("3/4 in", "13/16 in")]
    doors = {f"D{place}": in_hall(was_set(as_set=one)) for place, one in enumerate(gaps, start=1)}
    assert "room_floors_differ" not in [one.code for one in house_of(doors).questions]
    answer = house_of({**doors, "D3": door(in_hall(FINE_AS_SET), push_side=TILE)})
    (asked,) = [one for one in answer.questions if one.code == "room_floors_differ"]
    assert (asked.marks, asked.holds) == (("D1", "D2", "D3"), ())


def test_what_waits_for_an_answer_says_for_which() -> None:
    answer = house_of({"D1": LABELLED, "D2": RUBS})
    held = fix(answer, "D1")
    assert held.hold
    assert held.questions == ("us-fire-trim-listing",)
    (asked,) = (one for one in answer.questions if one.code == "us-fire-trim-listing")
    assert (asked.marks, asked.ask, asked.holds) == (("D1",), "door_supplier", ("leaf",))
    assert not fix(answer, "D2").hold
    assert answer.totals.held == 1


def test_one_question_of_several_doors_is_asked_once() -> None:
    answer = house_of({"D2": LABELLED, "D1": LABELLED})
    assert [one.marks for one in answer.questions if one.code == "us-fire-trim-listing"] == [("D1", "D2")]


def test_a_door_that_nothing_mends_whole_is_told_apart_and_has_no_work() -> None:
    """A leaf cut to a hair of nothing off, steel, a header that allows no more: whatever is done, something stays."""
    low = door(STEEL, rough_opening={"height": "81 7/8 in"})
    alone = rechecked(low)
    assert (alone.tasks, alone.verdict in (FINE, LIVE_WITH)) == ((), False)
    answer = house_of({"D1": low, "D2": SHOWS})
    assert [(one.mark, one.verdict, one.text) for one in answer.open_doors] == [("D1", alone.verdict, alone.summary)]
    assert {line.mark for line in answer.fix_list} == {"D2"}
    assert answer.summary.values["open"].values["count"] == "1"


def test_a_floor_that_nobody_named_leaves_its_door_open() -> None:
    answer = house_of({"D1": was_set(pull_side={"build_up": None}), "D2": FINE_AS_SET})
    assert [(one.mark, one.verdict) for one in answer.open_doors] == [("D1", "hold")]
    assert answer.summary.code == "house.rechecked.nothing"


def test_cautions_are_those_of_what_is_done_and_of_what_holds_anyway() -> None:
    """The saw and its dust where a leaf is cut, small parts where legs are filled; of remedies not taken none."""
    answer = house_of({"D1": SHOWS, "D2": RUBS, "D3": FINE_AS_SET})
    marks = {caution.code: caution.marks for caution in answer.cautions}
    assert marks["small_parts"] == ("D1",)
    assert marks["saw.guard"] == ("D2",)
    taken = {code for mark in (SHOWS, RUBS) for code in rechecked(mark).remedies[0].cautions}
    assert set(marks) <= taken
    assert set(marks) < {caution.code for one in answer.openings if one.advice for caution in one.advice.cautions}


def in_hall(request: Wire, hall: str = "hall") -> Wire:
    return door(request, push_side={"room": hall})


RAISES = in_hall(
    was_set(
        leaf={"core": "steel"},
        duties=["fire_label"],
        pull_side=CARPET,
        frame={"undercut": "1 1/4 in"},
        as_set={"foot": "0 in", "leaf_bottom": "1 1/4 in"},
    )
)
"""An inch open over the hall's plank 1/4 in, 3/4 in the most under a label (NFPA 80): the hall 1/4 in higher."""


def test_a_floor_raised_for_one_door_is_told_of_the_others_in_its_room() -> None:
    """Its room is told by name as events are: whatever its case and blanks."""
    doors = {"D1": in_hall(FINE_AS_SET), "D2": RAISES, "D3": in_hall(SHOWS, " Hall"), "D4": in_hall(SHOWS, "bath")}
    answer = house_of(doors)
    assert (fix(answer, "D2").kind, fix(answer, "D2").layer) == ("raise_floor", ticks("1/4 in"))
    told = answer.cautions[0]
    assert (told.code, told.marks, told.text.values) == (
        "floor_raised",
        ("D1", "D3"),
        {"marks": "D2", "room": "hall", "layer": ticks("1/4 in")},
    )
    told_beside = [one for one in answer.undercut_list if one.note.code == "flooring.raised"]
    waits = {(one.mark, one.room): one.note for one in told_beside if one.hold}
    assert set(waits) == {("D1", "hall"), ("D3", " Hall")}
    note = waits["D1", "hall"]
    assert (note.code, note.values["marks"], note.values["layer"]) == ("flooring.raised", "D2", ticks("1/4 in"))
    assert note.values["text"].code == "flooring.undercut"  # as if it stayed
    assert {caution.code for caution in house_of({**doors, "D2": SHOWS}).cautions}.isdisjoint({"floor_raised"})


def test_doors_that_want_one_floor_raised_alike_are_told_together() -> None:
    answer = house_of({"D1": RAISES, "D2": RAISES})
    assert [line.kind for line in answer.fix_list] == ["raise_floor", "raise_floor"]
    assert "floor_raised" not in {caution.code for caution in answer.cautions}
    beside = house_of({"D1": RAISES, "D2": RAISES, "D3": in_hall(SHOWS)})
    (told,) = (caution for caution in beside.cautions if caution.code == "floor_raised")
    assert (told.marks, told.text.values["marks"]) == (("D3",), "D1, D2")


def test_a_floor_of_a_room_without_a_name_is_told_of_no_other_door() -> None:
    nameless = door(RAISES, push_side={"room": None})
    answer = house_of({"D1": nameless, "D2": door(FINE_AS_SET, push_side={"room": None})})
    assert fix(answer, "D1").kind == "raise_floor"
    assert "floor_raised" not in {caution.code for caution in answer.cautions}


def test_a_source_is_told_once() -> None:
    answer = house_of({"D1": SHOWS, "D2": SHOWS, "D3": RUBS})
    cited = [(one.rule, one.edition, one.clause) for one in answer.sources]
    assert len(cited) == len(set(cited))
    assert {source.rule for one in answer.openings if one.advice for source in one.advice.sources} == {
        rule for rule, _, _ in cited
    }


def test_what_may_not_be_left_so_is_told_by_its_doors() -> None:
    """A labelled leaf an inch over plank 1/4 in: 3/4 in is the most (NFPA 80, 4.8.4)."""
    wide = door(was_set(duties=["fire_label"]), as_set={"foot": "1/4 in", "leaf_bottom": "1 1/4 in"})
    answer = house_of({"D1": wide, "D2": FINE_AS_SET, "D3": SHOWS})
    assert (answer.do_nothing.lawful, answer.do_nothing.unlawful) == (False, ("D1",))
    told = told_of(body_of({"D1": wide, "D2": FINE_AS_SET, "D3": SHOWS}))["do_nothing"]["text"]
    assert told == (
        "By law or standard not to be left so: D1. Something firmer than a wish is missed, or isn't known yet: D3. "
        "Fine as found: D2."
    )


def test_a_house_that_cant_be_read_has_nothing_to_tell() -> None:
    answer = told_of({"house": "x", "openings": [{"mark": "D1"}], "head_lines": [{"name": "a", "marks": ["D1"]}]})
    assert (answer["totals"]["refused"], answer["do_nothing"]["text"]) == (1, "No opening could be rechecked.")
    assert answer["head_lines"] == [
        {
            "name": "a",
            "level": False,
            "level_then": False,
            "heads": [],
            "left_out": [{"mark": "D1", "why": "No opening that could be read has this mark."}],
            "off": [],
            "text": "No opening on this line could be read.",
        }
    ]


# --- head lines

LINE = {"D1": was_set(), "D2": was_set(), "D3": STEEL}
"""Three heads at 1 + 80 + 1/8 in; D3's goes up 3/8 in."""


def test_a_remedy_that_takes_a_head_off_its_line_is_told_asked_and_held() -> None:
    answer = house_of(LINE, hall=list(LINE))
    (line,) = answer.head_lines
    assert (line.level, line.level_then, line.head_height) == (True, False, ticks("81 1/8 in"))
    assert [(h.mark, h.found, h.then) for h in line.heads][-1] == ("D3", ticks("81 1/8 in"), ticks("81 1/2 in"))
    (off,) = line.off
    assert (off.mark, off.off, off.above, off.hold, off.remedy) == ("D3", ticks("3/8 in"), True, True, UNSET)
    assert off.text.code == "line.off.no_other"
    (asked,) = (one for one in answer.questions if one.code == "head_line_left")
    assert (asked.ask, asked.marks, asked.holds) == (Asked.ARCHITECT, ("D3",), ("setting",))
    (task,) = answer.tasks
    assert (task.key, task.hold, task.questions) == ("D3.reset", True, ("head_line_left",))
    assert (fix(answer, "D3").hold, fix(answer, "D3").questions) == (True, ("head_line_left",))
    alone = rechecked({**STEEL, "mark": "D3"})
    assert alone.tasks[0].questions == ()
    assert answer.openings[2].advice == alone


def test_a_mark_of_digits_isnt_read_as_part_of_a_height() -> None:
    """205, 3/8 in above its line, isn't "205 3/8 in above"."""
    answer = told_of(body_of({"203": was_set(), "204": was_set(), "205": STEEL}, hall=["203", "204", "205"]))
    (asked,) = (one for one in answer["questions"] if one["code"] == "head_line_left")
    off = answer["head_lines"][0]["off"][0]["text"]
    assert "205 (3/8 in above it)" in asked["text"]
    assert "opening 205 above the line by 3/8 in" in off
    spanish = told_of(body_of({"203": was_set(), "204": was_set(), "205": STEEL}, hall=["203", "204", "205"]), SPANISH)
    assert "205 3/8" not in str(spanish["questions"]) + str(spanish["head_lines"])


def test_another_remedy_that_keeps_the_head_is_named() -> None:
    """With 20 minutes to set a unit again and 50 to cut in place, it is set again first; the cut keeps its head."""
    labour = {"trim_in_place": 50, "seal_edge": 5, "reset_unit": 20}
    quick = {**was_set(labour=labour), "pull_side": CARPET, "push_side": CARPET}
    remedies = rechecked(quick).remedies
    assert remedies[0].kind == "reset"
    answer = house_of({"D1": quick, "D2": was_set(), "D3": was_set()}, hall=["D1", "D2", "D3"])
    (off,) = answer.head_lines[0].off
    assert isinstance(off.remedy, int)
    assert remedies[off.remedy].kind == "trim"
    assert (off.text.code, off.text.values["remedy"]) == ("line.off.other", remedies[off.remedy].text)


def test_whoever_lets_a_head_leave_its_line_is_named_and_nothing_waits() -> None:
    word = {"answered": [{"code": "head_line_left", "by": "the architect, by letter"}]}
    answer = house_of({**LINE, "D3": {**STEEL, **word}}, hall=list(LINE))
    (off,) = answer.head_lines[0].off
    assert (off.hold, off.text.code, off.text.values["by"]) == (False, "line.off.by_word", "the architect, by letter")
    assert [one.code for one in answer.questions if one.code == "head_line_left"] == []
    assert not answer.tasks[0].hold


def test_a_line_whose_doors_all_move_alike_is_kept_at_another_height() -> None:
    answer = house_of({"D1": STEEL, "D2": STEEL}, hall=["D1", "D2"])
    (line,) = answer.head_lines
    assert (line.level, line.level_then, line.off) == (True, True, ())
    assert [head.then - head.found for head in line.heads] == [ticks("3/8 in")] * 2
    assert not answer.tasks[0].hold


def steel_over(thickness: str, **more: Any) -> Wire:
    """A steel leaf an inch over tile: 5/8 in is wanted, and it is never cut, so the unit is set again higher."""
    tiles = floor(f"ceramic_tile {thickness}")
    return was_set(leaf={"core": "steel"}, pull_side=tiles, push_side=tiles, **more)


HIGH = floor("ceramic_tile 1 in")
APART = {"D1": steel_over("3/4 in"), "D2": steel_over("13/16 in"), "D3": steel_over("3/4 in")}
"""Set again by themselves: 3/8, 7/16 and 3/8 in up."""


def test_units_of_a_line_that_are_all_set_again_are_set_at_one_height() -> None:
    """At the higher of the two, since it takes no longer and over the thicker tile the lower misses a wish."""
    answer = house_of(APART, hall=list(APART))
    (line,) = answer.head_lines
    together = line.together
    assert (line.level_then, line.off) == (True, ())
    assert [head.then for head in line.heads] == [ticks("81 9/16 in")] * 3
    assert isinstance(together, SetTogether)
    assert (together.minutes, together.minutes_alone, together.marks) == (288, 288, ("D1", "D3"))
    assert (together.least, together.greatest) == (ticks("81 1/2 in"), ticks("81 9/16 in"))
    assert [fix(answer, mark).foot for mark in APART] == [ticks("7/16 in")] * 3
    assert [(task.key, task.minutes, task.hold) for task in answer.tasks] == [
        (f"{mark}.reset", 96, False) for mark in APART
    ]
    assert (line.text.code, line.text.values["height"]) == ("line.together", ticks("81 9/16 in"))
    assert (line.text.values["minutes"], line.text.values["alone"]) == ("288", "288")
    assert (line.text.values["least"], line.text.values["most"]) == (ticks("81 1/2 in"), ticks("81 9/16 in"))
    assert "head_line_left" not in {question.code for question in answer.questions}


def test_each_of_them_is_answered_as_alone_all_the_same() -> None:
    answer = house_of(APART, hall=list(APART))
    assert [one.advice for one in answer.openings] == [
        rechecked({**request, "mark": mark}) for mark, request in APART.items()
    ]
    (found,) = (one for one in answer.verdicts if one.count)
    assert (found.verdict, found.marks) == (WORK, ("D1", "D2", "D3"))


def test_where_one_of_them_cant_stand_there_each_is_set_as_by_itself() -> None:
    """Over tile 1 1/4 in a unit goes up 7/8 in; D1, 3/8 in up, has 1/8 in to its header, and so D2 is left too low."""
    tall = {"D1": steel_over("3/4 in"), "D2": steel_over("1 1/4 in")}
    (line,) = house_of(tall, hall=["D1", "D2"]).head_lines
    assert [head.then for head in line.heads] == [ticks("82 in")] * 2
    low = {**tall, "D1": steel_over("3/4 in", rough_opening={"height": "82 5/16 in"})}
    (line,) = house_of(low, hall=["D1", "D2"]).head_lines
    assert line.together is UNSET
    assert [head.then for head in line.heads] == [ticks("81 1/2 in"), ticks("82 in")]
    assert {off.mark for off in line.off} == {"D1", "D2"}


def test_where_neither_the_lowest_nor_the_highest_height_suits_all_it_is_that_of_most() -> None:
    """By themselves 3/8, 5/8, 5/8 and 3/4 in up.

    3/8 in up leaves D4 1/4 in over its tile; under its header D1 has room to shim up to 5/8 in.
    """
    doors = {
        "D1": steel_over("3/4 in", rough_opening={"height": "82 9/16 in"}),
        "D2": steel_over("1 in"),
        "D3": steel_over("1 in"),
        "D4": steel_over("1 1/8 in"),
    }
    answer = house_of(doors, hall=list(doors))
    assert [fix(answer, mark).foot for mark in doors] == [ticks("5/8 in")] * 4
    together = answer.head_lines[0].together
    assert isinstance(together, SetTogether)
    assert together.marks == ("D1", "D4")


def test_of_heights_that_take_as_much_the_lowest_is_taken() -> None:
    """Neither blocks nor the bench take time: D2 is right 3/16 in up, and 1/8 in up with 1/16 in off its leaf.

    Made with 1 in, D1 is right 1/8 to 3/8 in up in its tile, D2 3/16 to 7/16 in.
    """
    labour = {"fill_legs": 300, "block_legs": 0, "trim_on_bench": 0, "seal_edge": 0}
    high = was_set(as_set={"foot": "1 in", "leaf_bottom": "2 in"}, labour=labour)
    tiles = {"D1": floor("ceramic_tile 1/2 in"), "D2": floor("ceramic_tile 9/16 in")}
    doors = {mark: {**high, "pull_side": tile, "push_side": tile} for mark, tile in tiles.items()}
    assert [line.foot for line in house_of(doors).fix_list] == [ticks("1/8 in"), ticks("3/16 in")]
    answer = house_of(doors, hall=list(doors))
    assert [(line.foot, line.trim) for line in answer.fix_list] == [
        (ticks("1/8 in"), UNSET),
        (ticks("1/8 in"), ticks("1/16 in")),
    ]
    assert answer.totals.minutes == house_of(doors).totals.minutes


def test_a_head_that_goes_down_is_asked_about_as_below_its_line() -> None:
    (high,) = legs_show("1/8 in").values()
    stays = was_set(as_set={"foot": "1 in", "leaf_bottom": "2 in"}, **dict.fromkeys(("pull_side", "push_side"), HIGH))
    answer = house_of({"D1": high, "D2": stays, "D3": stays}, hall=["D1", "D2", "D3"])
    (off,) = answer.head_lines[0].off
    assert (off.mark, off.above) == ("D1", False)
    (asked,) = (one for one in answer.questions if one.code == "head_line_left")
    (told,) = asked.text.values["ask"].values["heads"]
    assert told.code == "part.off.below"


def test_what_is_left_out_of_a_line_stands_in_the_order_of_marks() -> None:
    body = body_of({"D1": SHOWS}, hall=["D10", "D2", "D1"])
    body["openings"] += [{"mark": "D10"}, {"mark": "D2"}]
    assert [one["mark"] for one in told_of(body)["head_lines"][0]["left_out"]] == ["D2", "D10"]


def test_one_that_stays_is_not_set_again_for_the_others_unasked() -> None:
    answer = house_of({**APART, "D4": was_set()}, hall=[*APART, "D4"])
    assert answer.head_lines[0].together is UNSET
    assert [task.mark for task in answer.tasks] == ["D1", "D2", "D3"]


# --- a line that is to be kept


def test_what_would_keep_a_line_is_told_and_not_done_unasked() -> None:
    """By hand: D1 and D2 are set 3/8 in up as D3 is, 96 each, and their legs then show 1/8 in over plank: 40 each."""
    answer = house_of(LINE, hall=list(LINE))
    (line,) = answer.head_lines
    assert line.keeping == SetTogether(
        head_height=Length(ticks("81 1/2 in")),
        minutes=96 + 2 * 136,
        minutes_alone=96,
        least=Length(ticks("81 1/8 in")),
        greatest=Length(ticks("81 1/2 in")),
        marks=("D1", "D2"),
    )
    assert (line.together, line.level_then, line.text.code) == (UNSET, False, "line.keeping")
    assert line.text.values["openings"] == Phrase("part.openings", count="2")
    assert [task.key for task in answer.tasks] == ["D3.reset"]
    (asked,) = (one for one in answer.questions if one.code == "head_line_left")
    assert (asked.text.code, asked.text.values["minutes"]) == ("ask.head_line.keeping", "368")


def test_a_line_that_is_to_be_kept_is_and_nobody_is_asked() -> None:
    answer = house_of(LINE, keep=True, hall=list(LINE))
    (line,) = answer.head_lines
    assert (line.off, line.level_then, line.keeping) == ((), True, UNSET)
    assert line.together == house_of(LINE, hall=list(LINE)).head_lines[0].keeping
    assert [(step.mark, step.kind, step.minutes, step.hold) for step in answer.fix_list] == [
        *[(mark, "reset", 96, False) for mark in LINE],
        ("D1", "fill_legs", 40, False),
        ("D2", "fill_legs", 40, False),
    ]
    assert [task.key for task in answer.tasks][:2] == ["D1.reset", "D1.fill_legs"]
    assert answer.questions == ()
    assert (answer.totals.minutes, answer.totals.mended, answer.totals.held) == (368, 3, 0)
    assert [code for _, _, code, _ in left_to_the_installer(answer)][:2] == ["flooring.filled"] * 2
    assert [one.planned is UNSET for one in answer.openings] == [False, False, True]
    assert [one.advice for one in answer.openings] == [rechecked({**LINE[mark], "mark": mark}) for mark in LINE]


def test_a_line_is_kept_where_it_is_if_that_takes_least() -> None:
    """Cut in place, 50 and 5, D1 keeps its head; set again with the others it would take more than twice 20."""
    quick = was_set(labour={"trim_in_place": 50, "seal_edge": 5, "reset_unit": 20}, pull_side=CARPET, push_side=CARPET)
    doors = {"D1": quick, "D2": was_set(), "D3": was_set()}
    answer = house_of(doors, keep=True, hall=list(doors))
    (line,) = answer.head_lines
    assert [(step.mark, step.kind, step.minutes) for step in answer.fix_list] == [("D1", "trim", 55)]
    assert isinstance(line.together, SetTogether)
    assert (line.together.marks, line.text.code, line.head_height) == (("D1",), "line.kept", line.heads[0].then)
    (free,) = house_of(doors, hall=list(doors)).head_lines
    assert free.text.values["openings"] == Phrase("part.opening", count="1")


def test_a_line_is_kept_between_heads_that_would_leave_it_up_and_down() -> None:
    """D1 would go up, 20 minutes, or is cut in place, 55; D2 down, 40, or has fillers, 41. All else takes more."""
    up = was_set(labour={"trim_in_place": 50, "seal_edge": 5, "reset_unit": 20}, pull_side=CARPET, push_side=CARPET)
    thin = floor(layer("vinyl_plank 1/8 in", fixing="glued"))
    down = was_set(
        as_set={"foot": "1/2 in", "leaf_bottom": "1 1/2 in"},
        datum="-1/2 in",
        pull_side=thin,
        push_side=thin,
        labour={"reset_unit": 40, "fill_legs": 41},
    )
    doors = {"D1": up, "D2": down, "D3": was_set()}
    alone = house_of(doors, hall=list(doors)).head_lines[0]
    assert [(head.then > head.found, head.then < head.found) for head in alone.heads] == [
        (True, False),
        (False, True),
        (False, False),
    ]
    assert isinstance(alone.keeping, SetTogether)
    assert (alone.keeping.head_height, alone.keeping.marks) == (alone.head_height, ("D1", "D2"))
    assert (alone.keeping.minutes, alone.text.values["openings"].values["count"]) == (96, "2")
    answer = house_of(doors, keep=True, hall=list(doors))
    assert [(step.mark, step.kind) for step in answer.fix_list] == [("D1", "trim"), ("D2", "fill_legs")]
    assert answer.head_lines[0].text.code == "line.kept"


@pytest.mark.parametrize("keep", [True, False])
def test_a_line_that_nothing_leaves_is_kept_as_it_is(*, keep: bool) -> None:
    """Its heads stood apart; and where one comes nearer, there is nothing to keep."""
    high = was_set(as_set={"foot": "1/4 in", "leaf_bottom": "1 1/4 in"})
    answer = house_of({"D1": high, "D2": was_set(), "D3": was_set()}, keep=keep, hall=["D1", "D2", "D3"])
    (line,) = answer.head_lines
    assert (line.level, line.keeping, line.together, line.text.code) == (False, UNSET, UNSET, "line.as_set.stays")
    assert answer.tasks == ()
    up = was_set(as_set={"foot": "3/8 in", "leaf_bottom": "1 3/8 in"}, push_side=TILE, pull_side=TILE)
    (line,) = house_of({"D1": up, "D2": STEEL, "D3": up}, keep=keep, hall=["D1", "D2", "D3"]).head_lines
    assert (line.level_then, line.keeping, line.text.code) == (True, UNSET, "outcome.and")


@pytest.mark.parametrize(
    "stuck",
    [was_set(rough_opening={"height": "82 in"}), was_set(pull_side={"build_up": None})],
    ids=["header", "floor"],
)
@pytest.mark.parametrize("keep", [True, False])
def test_a_line_that_nothing_keeps_is_left_told_and_asked_about(stuck: Wire, *, keep: bool) -> None:
    """Set again 3/8 in up, D1's unit would need 82 3/16 in; and nobody sets one over a floor that isn't known."""
    answer = house_of({**LINE, "D1": stuck}, keep=keep, hall=list(LINE))
    (line,) = answer.head_lines
    assert (line.together, line.keeping, line.text.code) == (UNSET, UNSET, "line.no_keeping")
    assert [(off.mark, off.hold) for off in line.off] == [("D3", True)]
    (asked,) = (one for one in answer.questions if one.code == "head_line_left")
    assert asked.text.code == "ask.head_line"
    assert [task.key for task in answer.tasks] == ["D3.reset"]


def beside_one_that_goes_down(thickness: str = "5/8 in", **more: Any) -> Wire:
    """D1 shows over plank 1/8 in and goes down 1/2 in, 90 minutes, or has fillers, 300; D2 is fine over its tile.

    Down there D2 would have 1/8 in under its leaf: 1/2 in has to come off on the bench.
    """
    plank, tile = floor(layer("vinyl_plank 1/8 in", fixing="glued")), floor(f"ceramic_tile {thickness}")
    stood = {"frame": {"undercut": "3/4 in"}, "as_set": {"foot": "1/2 in", "leaf_bottom": "1 1/4 in"}}
    down = was_set(**stood, pull_side=plank, push_side=plank, labour={"fill_legs": 300})
    return {"D1": down, "D2": was_set(**stood, pull_side=tile, push_side=tile, **more)}


def test_a_leaf_may_be_cut_for_its_line() -> None:
    """90 to set it again, 20 and 8 to cut and seal it."""
    answer = house_of(beside_one_that_goes_down(), keep=True, hall=["D1", "D2"])
    assert answer.verdicts[0].marks == ("D2",)
    assert [(step.mark, step.minutes) for step in answer.fix_list] == [("D1", 90), ("D2", 118)]
    assert [(cut.mark, cut.trim, cut.where) for cut in answer.trim_list] == [("D2", ticks("1/2 in"), "bench")]


@pytest.mark.parametrize(
    "more",
    [
        {"duties": ["fire_label"], "leaf": {"core": "solid", "fire_minutes": 20}},
        {"thickness": "1/2 in", "duties": ["transfer_air"], "air": {"supply_flow": "15 cfm"}},
        {
            "duties": ["fire_label", "transfer_air"],
            "leaf": {"core": "solid", "fire_minutes": 20},
            "air": {"supply_flow": "40 cfm"},
        },
    ],
    ids=["fire", "air", "fire that wants air"],
)
def test_no_leaf_against_fire_is_cut_and_no_air_taken_for_a_line(more: dict[str, Any]) -> None:
    """So D1 has fillers, whatever they take, and D2 is left alone; cut, it would have 5/8 in over its tile, not 3/4."""
    answer = house_of(beside_one_that_goes_down(**more), keep=True, hall=["D1", "D2"])
    assert [(step.mark, step.kind) for step in answer.fix_list] == [("D1", "fill_legs")]


def legs_show(*floors: str) -> Wire:
    """Units that stand an inch too high over floors of these thicknesses, by marks in their order; fillers take long.

    Over 1/8 in a unit is set on its subfloor, 90 minutes; over 1/4 in 1/8 in higher, with blocks, 96. On the subfloor
    that one's leaf is cut 1/8 in on the bench, which takes 15.
    """
    labour = {"fill_legs": 300, "trim_on_bench": 10, "seal_edge": 5}
    return {
        f"D{place}": was_set(
            frame={"undercut": "3/4 in"},
            as_set={"foot": "1 in", "leaf_bottom": "1 3/4 in"},
            pull_side=floor(layer(f"vinyl_plank {thickness}", fixing="glued")),
            push_side=floor(layer(f"vinyl_plank {thickness}", fixing="glued")),
            labour=labour,
        )
        for place, thickness in enumerate(floors, start=1)
    }


@pytest.mark.parametrize(
    ("floors", "foot", "minutes"),
    [
        (("1/8 in", "1/8 in", "1/4 in"), "0 in", [90, 90, 105]),  # 285; with blocks 288
        (("1/8 in", "1/4 in", "1/4 in"), "1/8 in", [96, 96, 96]),  # 288; on the subfloor 300
    ],
)
def test_the_height_that_takes_least_work_is_taken(floors: tuple[str, ...], foot: str, minutes: list[int]) -> None:
    doors = legs_show(*floors)
    answer = house_of(doors, hall=list(doors))
    assert [line.foot for line in answer.fix_list] == [ticks(foot)] * 3
    assert [line.minutes for line in answer.fix_list] == minutes
    assert answer.totals.minutes == sum(minutes)


def test_of_two_that_move_and_one_that_stays_the_two_leave_the_line() -> None:
    answer = house_of({"D1": STEEL, "D2": was_set(), "D3": was_set(), "D4": STEEL}, hall=["D1", "D2", "D3", "D4"])
    assert [off.mark for off in answer.head_lines[0].off] == ["D1", "D4"]
    (asked,) = (one for one in answer.questions if one.code == "head_line_left")
    assert asked.marks == ("D1", "D4")


def test_a_line_that_one_door_is_off_already_is_left_as_any_other() -> None:
    """D1 stands 1 in above the others as found, so that D4 then stands between them."""
    high = was_set(as_set={"foot": "1 in", "leaf_bottom": "2 in"})
    answer = house_of({"D1": high, "D2": was_set(), "D3": was_set(), "D4": STEEL}, hall=["D1", "D2", "D3", "D4"])
    (line,) = answer.head_lines
    assert (line.level, line.head_height, [off.mark for off in line.off]) == (False, ticks("81 1/8 in"), ["D4"])


def test_a_head_that_comes_nearer_its_line_leaves_none() -> None:
    """D2 stood 3/8 in below the others and is set again 3/8 in up."""
    up = was_set(as_set={"foot": "3/8 in", "leaf_bottom": "1 3/8 in"}, push_side=TILE, pull_side=TILE)
    answer = house_of({"D1": up, "D2": STEEL, "D3": up}, hall=["D1", "D2", "D3"])
    (line,) = answer.head_lines
    assert (line.level, line.level_then, line.off) == (False, True, ())


def test_heads_count_above_the_datum_of_the_house() -> None:
    lower = was_set(datum="-1/2 in", as_set={"foot": "1/2 in", "leaf_bottom": "1 1/2 in"})
    (line,) = house_of({"D1": was_set(), "D2": lower}, hall=["D1", "D2"]).head_lines
    assert (line.level, line.head_height) == (True, ticks("81 1/8 in"))


@pytest.mark.parametrize(("lines", "code"), [({"a": ["D9"]}, "unknown_mark"), ({"a": ["D1"], "b": ["D1"]}, "repeated")])
def test_a_line_that_cant_be_is_refused(lines: dict[str, Any], code: str) -> None:
    with pytest.raises(InvalidRequest) as caught:
        house_of({"D1": FINE_AS_SET}, **lines)
    assert [error.code for error in caught.value.errors] == [code]


# --- the whole


def test_the_order_of_openings_and_lines_changes_no_list() -> None:
    requests: dict[str, Wire] = {"D1": SHOWS, "D2": RUBS, "D3": STEEL, "D4": LABELLED, "D5": AS_FOUND}
    lines = {"a": ["D1", "D3"], "b": ["D4", "D5"]}
    one = told_of(body_of(requests, **lines))
    other = told_of(body_of(dict(reversed(requests.items())), a=["D3", "D1"], b=["D5", "D4"]))
    assert one.pop("openings")[::-1] == other.pop("openings")
    assert one == other


AS_FOUND = was_set(as_set=AS_SET)


def test_the_line_is_where_most_heads_stand_and_marks_are_in_their_order() -> None:
    answer = house_of({"D10": SHOWS, "D2": was_set(), "D1": SHOWS}, hall=["D10", "D2", "D1"])
    (line,) = answer.head_lines
    assert [head.mark for head in line.heads] == ["D1", "D2", "D10"]
    assert line.head_height == ticks("81 5/8 in")  # two of the three stand 1/2 in up
    assert line.off == ()


def test_a_head_that_goes_down_is_told_below_its_line() -> None:
    labour = {"fill_legs": 300}
    high = was_set(labour=labour, as_set={"foot": "1/2 in", "leaf_bottom": "1 1/2 in"})
    stays = was_set(as_set={"foot": "1/2 in", "leaf_bottom": "1 1/2 in"})
    told = told_of(body_of({"D1": high, "D2": stays, "D3": stays}, hall=["D1", "D2", "D3"]))
    (off,) = told["head_lines"][0]["off"]
    assert (off["mark"], off["above"], off["off"]["text"]) == ("D1", False, "1/2 in")
    other = next(one for one in told["openings"][0]["advice"]["remedies"] if one["kind"] == "fill_legs")
    assert off["text"] == (
        "The first remedy sets opening D1 below the line by 1/2 in. Another keeps its head where it is, "
        f"{other['minutes']} min: {other['text']}"
    )


def test_what_is_taken_as_answered_is_told_after_what_it_is_about() -> None:
    word = {"answered": [{"code": "head_line_left", "by": "the architect"}]}
    told = told_of(body_of({**LINE, "D3": {**STEEL, **word}}, hall=list(LINE)))
    (off,) = told["head_lines"][0]["off"]
    assert off["text"].startswith("The first remedy sets opening D3 above the line by 3/8 in. ")
    assert off["text"].endswith("on the word of the architect; nothing of it was checked here.")


def test_a_summary_tells_of_lines_only_where_heads_leave_one() -> None:
    kept = told_of(body_of({"D1": SHOWS}, hall=["D1"]))["summary"]
    assert kept.startswith("1 opening: fine as found 0, only wishes missed 0, to mend 1,")
    assert kept.endswith("refused 0. The work planned takes 40 min at 1 of them; waiting for an answer there: 0.")
    left = told_of(body_of({**LINE, "D4": was_set(), "D5": was_set()}, hall=list(LINE), bath=["D4", "D5"]))["summary"]
    assert left.startswith("5 openings: ")
    assert "Head lines that first remedies take heads off: 1 of 2. " in left


def test_lists_are_on_the_grid_of_the_first_mark_and_a_refused_opening_keeps_its_names() -> None:
    body = body_of({"D2": SHOWS, "D1": door(SHOWS, grid="1 mm")})
    body["openings"].append({"mark": "D3", "external_id": "a-3", "leaf": {"height": "80 mm"}})
    told = told_of(body)
    assert told["grid"] == "1 mm"
    assert {name: told["openings"][2].get(name) for name in ("mark", "external_id")} == {
        "mark": "D3",
        "external_id": "a-3",
    }
