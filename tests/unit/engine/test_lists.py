"""The lists of a house: keys of events, what follows what, and what is to be ordered."""

from __future__ import annotations

import unicodedata
from urllib.parse import unquote

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from tests.houses import CARPET, PLANK, TILE, Wire, house, merged
from tests.openings import catalogue, floor, read, ticks, told

from jambset.engine.house import advise_house
from jambset.engine.lists import question_turn, slug
from jambset.model.advice import Advice, Bevel, Minutes, Phrase
from jambset.model.house import HouseAdvice, HouseQuestion
from jambset.model.request import House
from jambset.model.source import Asked
from jambset.quantity.grid import GRIDS
from jambset.quantity.parse import dec_hook
from jambset.quantity.ticks import Length
from jambset.render.encode import writer
from jambset.rules.schema import Phase

ROOMS = st.text(st.characters(exclude_categories=("Cs", "Cc", "Cf", "Zl", "Zp")), min_size=1, max_size=12)


def _advised(body: Wire) -> HouseAdvice:
    return advise_house(msgspec.convert(body, House, dec_hook=dec_hook), [read(o) for o in merged(body)], catalogue())


def _house(*rooms: tuple[str | None, str | None]) -> Wire:
    """A door for each pair of rooms on its pull and its push side, D1 the first; plank meets plank."""
    openings: list[Wire] = [{"mark": f"D{place}"} for place in range(1, len(rooms) + 1)]
    for opening, names in zip(openings, rooms, strict=True):
        for side, name in zip(("pull_side", "push_side"), names, strict=True):
            opening[side] = {"build_up": PLANK} | ({} if name is None else {"room": name})
    return house(1, lines=0) | {"openings": openings}


def _floors(answer: HouseAdvice) -> dict[str, list[str]]:
    """Keys of the floors that are laid, and what each follows."""
    laid = [event for event in answer.events if event.key.startswith("external:floor-laid.")]
    return {event.key.removeprefix("external:floor-laid."): [link.task for link in event.follows] for event in laid}


def _same_room(one: str, other: str) -> bool:
    """Whether two names differ in case and blanks alone: canonical caseless matching (Unicode, D145)."""
    folded = [
        unicodedata.normalize("NFD", unicodedata.normalize("NFD", " ".join(name.split())).casefold())
        for name in (one, other)
    ]
    return folded[0] == folded[1]


# --- questions


@pytest.mark.parametrize(("rooms", "marks"), [(("Hall", "Bed"), [("D1", "D2")]), ((None, None), [("D1",), ("D2",)])])
def test_a_question_is_asked_once_of_a_room_but_of_each_door_where_it_has_no_name(
    rooms: tuple[str | None, str | None], marks: list[tuple[str, ...]]
) -> None:
    body = _house(rooms, rooms)
    for opening in body["openings"]:
        opening["pull_side"]["could_become"] = [{"build_up": TILE}]
    asked = [q for q in _advised(body).questions if q.code == "floor_may_change"]
    assert [q.marks for q in asked] == marks
    assert all(isinstance(q.minutes_at_stake, int) and q.minutes_at_stake > 0 for q in asked)


def test_a_room_whose_openings_name_different_floors_is_asked_about() -> None:
    """Told by its name, whatever its case and blanks; a floor of the same height and kind is the same floor."""
    body = _house(("Hall", "Bed"), ("hall ", "Bath"), ("HALL", "Den"))
    body["openings"][1]["pull_side"]["build_up"] = TILE
    (asked,) = [q for q in _advised(body).questions if q.code == "room_floors_differ"]
    assert (asked.ask, asked.marks, asked.holds) == ("superintendent", ("D1", "D3", "D2"), ())
    told = writer(GRIDS["1/16 in"]).sentence(asked.text)
    thin = "Rigid-core vinyl plank, floating, with its pad, 1/4 in in all (D1, D3)"
    thick = "Ceramic or porcelain tile, 13/16 in in all (D2)"
    assert told.startswith(f"Openings of “Hall” name different floors: {thin}; {thick}. Is that meant so, ")
    body["openings"][1]["pull_side"] = {"room": "hall", "certainty": "undecided"}
    assert "room_floors_differ" not in [q.code for q in _advised(body).questions]
    nameless = _house((None, "Bed"), (None, "Bath"))
    nameless["openings"][1]["pull_side"]["build_up"] = TILE
    assert "room_floors_differ" not in [q.code for q in _advised(nameless).questions]


def test_a_question_that_costs_nothing_says_no_minutes() -> None:
    body = _house(("Hall", "Bed"), ("Hall", "Bath"))
    for opening in body["openings"]:
        opening["subfloor"] = None
    (asked,) = (q for q in _advised(body).questions if q.code == "subfloor_unmeasured")
    assert (asked.marks, asked.minutes_at_stake) == (("D1", "D2"), msgspec.UNSET)


def test_a_question_worth_the_least_comes_before_one_worth_nothing_that_holds_more() -> None:
    least = HouseQuestion(
        code="a", ask=Asked.ARCHITECT, text=Phrase("a"), marks=("D1",), holds=(), minutes_at_stake=Minutes(1)
    )
    nothing = replace(least, minutes_at_stake=msgspec.UNSET, holds=(Phase.LEAF,))
    assert question_turn(least) < question_turn(nothing)


def test_questions_come_in_the_order_of_what_their_answers_are_worth() -> None:
    body = _house(("Hall", "Bed"), ("Hall", "Bed"))
    for opening in body["openings"]:
        opening["pull_side"]["could_become"] = [{"build_up": TILE}]
        opening["subfloor"] = None
    body["openings"][0]["push_side"]["could_become"] = [{"build_up": TILE, "weight": 0.01}]
    stakes = [q.minutes_at_stake for q in _advised(body).questions]
    # as likely as not over two doors, one in a hundred at one, and what costs nothing
    assert isinstance(stakes[0], int)
    assert isinstance(stakes[1], int)
    assert stakes[0] > stakes[1] > 0
    assert stakes[2:] == [msgspec.UNSET]


def test_a_leaf_cut_now_and_once_the_floors_lie_stands_twice_in_the_list() -> None:
    # carpet takes 1/2 in off, 1/2 in of wood 1/8 in (test_scenarios): 1/8 in on the bench, the rest hung
    carpet = floor("carpet_cushion 7/16 in", "carpet 1/2 in")
    carpet["could_become"] = [{**floor("engineered_wood 1/2 in"), "weight": 0.8}]
    body = _house(("Hall", "Bed"))
    body["openings"][0] |= {"pull_side": carpet, "push_side": floor("sheet_vinyl 1/8 in")}
    cuts = [(line.where, line.when, line.trim, line.height_after, line.hold) for line in _advised(body).trim_list]
    first, rest, short = ticks("1/8 in"), ticks("3/8 in"), ticks("79 1/2 in")
    assert cuts == [
        ("bench", "before_hanging", first, msgspec.UNSET, False),
        ("in_place", "after_floor", rest, short, True),
    ]


def test_a_leaf_that_every_floor_has_cut_alike_stands_in_the_list_once() -> None:
    # carpet for certain takes as much off as carpet that may become other carpet of the same height
    same = floor("carpet_cushion 7/16 in", "carpet 1/2 in")
    body = _house(("Hall", "Bed"))
    body["openings"][0] |= {"pull_side": same | {"could_become": [same]}, "push_side": floor("sheet_vinyl 1/8 in")}
    answer = _advised(body)
    (line,) = answer.trim_list
    assert (line.place, line.mark, line.leaf, line.when) == (1, "D1", "only", "before_hanging")
    assert answer.totals.trims == 1


def test_the_leaves_of_a_pair_are_cut_each_along_its_own_blocks() -> None:
    body = _house(("Hall", "Bed"))
    body["openings"][0] |= {
        "leaf": {"count": 2},
        "frame": {"state": "set", "foot": "0 in", "undercut": "3/4 in"},
        "subfloor": {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "1/8 in"},
        "pull_side": floor("carpet_cushion 7/16 in", "carpet 1/2 in"),
        "push_side": floor("sheet_vinyl 1/8 in"),
    }
    heights = {line.leaf: told(line.gauge_block.hinge_end) for line in _advised(body).trim_list if line.gauge_block}
    assert heights.keys() == {"first", "second"}
    assert heights["first"] - heights["second"] == ticks("1/8 in")  # by what the second stands higher


def test_a_leaf_whose_floor_is_not_named_counts_as_cut_by_nothing() -> None:
    body = _house(("Hall", "Bed"))
    body["openings"][0]["pull_side"] = {"certainty": "undecided"}
    answer = _advised(body)
    assert (answer.trim_list, answer.totals.trims) == ((), 0)


def test_the_installer_reads_room_by_room_and_last_what_has_no_name() -> None:
    body = _house(("den", None), ("bath", "den"))
    rooms = [line.room for line in _advised(body).undercut_list]
    assert rooms == ["bath", "den", "den", msgspec.UNSET]


def test_the_installer_waits_at_a_side_for_word_on_its_floor_and_at_both_on_a_labelled_frame() -> None:
    body = _house(("hall", "den"), ("bath", "attic"), ("bed", "study"))
    may_change, labelled, allowed = body["openings"]
    may_change["pull_side"]["could_become"] = [{"build_up": TILE}]
    for rated in (labelled, allowed):
        rated["leaf"] = {"core": "solid", "fire_minutes": 20}
    allowed["answered"] = [{"code": "frame_label", "by": "door supplier, listing sheet"}]
    answer = _advised(body)
    told = [(one.room, one.note.code, one.hold) for one in answer.undercut_list]
    assert told == [
        ("attic", "flooring.labelled", True),
        ("bath", "flooring.labelled", True),
        ("bed", "flooring.labelled", False),
        ("den", "flooring.undercut", False),
        ("hall", "flooring.undercut", True),
        ("study", "flooring.labelled", False),
    ]
    held = {task.mark for task in answer.tasks if task.key.endswith("undercut-jambs") and task.hold}
    assert held == {one.mark for one in answer.undercut_list if one.hold} == {"D1", "D2"}


def test_legs_over_a_bare_slab_are_told_to_show_there_too() -> None:
    """By hand: 3/8 in of block on a slab that is the floor leaves 3/8 in under the legs, and 1/8 in over the plank."""
    body = _house(("hall", "garage"))
    body["openings"][0]["push_side"]["build_up"] = [{"material": "sealed_concrete", "thickness": "0 in"}]
    body["openings"][0]["frame"] = {"undercut": "1/2 in", "state": "set", "foot": "3/8 in"}
    notes = [(line.room, line.note.code, line.note.values.get("shows")) for line in _advised(body).undercut_list]
    assert notes == [
        ("garage", "flooring.shows", ticks("3/8 in")),
        ("hall", "flooring.shows", ticks("1/8 in")),
    ]


@pytest.mark.parametrize(("foot", "code"), [("11 mm", "clear"), ("11.5 mm", "shows")])
def test_legs_that_end_a_hair_above_a_floor_are_told_to_have_no_filler(foot: str, code: str) -> None:
    """10.5 mm of plank; less than 1/32 in, 0.8 mm, counts as reaching it (common practice, no source)."""
    body = _house(("den", "hall"))
    body["openings"][0]["pull_side"]["build_up"] = [{"material": "vinyl_plank", "thickness": "10.5 mm"}]
    body["openings"][0]["frame"] = {"undercut": "1 in", "state": "set", "foot": foot}
    (note,) = [line.note.code for line in _advised(body).undercut_list if line.room == "den"]
    assert note == f"flooring.{code}"


@pytest.mark.parametrize(
    ("foot", "code"), [("0 in", "carpet_down"), ("1/8 in", "carpet_low"), ("3/8 in", "carpet"), ("1/2 in", "carpet")]
)
def test_a_carpet_is_told_to_tuck_under_legs_only_where_it_has_the_room_it_has_under_the_base(
    foot: str, code: str
) -> None:
    """3/8 to 1/2 in is what is left for the edge of a carpet of 7/8 to 1 in; in 1/8 in none goes."""
    body = _house(("den", "hall"))
    body["openings"][0]["pull_side"]["build_up"] = CARPET
    body["openings"][0]["frame"] = {"undercut": "1 in", "state": "set", "foot": foot}
    (note,) = [line.note.code for line in _advised(body).undercut_list if line.room == "den"]
    assert note == f"flooring.{code}"


def test_rooms_stand_as_people_sort_them_however_they_are_written() -> None:
    body = _house(("bed 10", "bed 2"), ("Bed 2", "attic"))
    assert [line.room for line in _advised(body).undercut_list] == ["attic", "bed 2", "Bed 2", "bed 10"]


def test_of_questions_that_cost_alike_those_come_first_that_hold_most_then_those_of_most_doors() -> None:
    body = _house(("Hall", "Bed"), ("Hall", "Bed"))
    for opening in body["openings"]:
        opening["subfloor"] = None  # holds nothing
    body["openings"][0]["rough_opening"] = None  # neither does this, at one door
    body["openings"][1]["frame"] = {"undercut": None}  # holds setting and leaf
    asked = [(q.code, len(q.marks), len(q.holds)) for q in _advised(body).questions]
    assert asked == [
        ("undercut_unknown", 1, 2),
        ("subfloor_unmeasured", 2, 0),
        ("rough_opening_unknown", 1, 0),
    ]


# --- head lines


def test_doors_of_a_line_are_held_by_it_and_the_summary_counts_the_lines_kept() -> None:
    body = house(4, lines=2)
    (line,) = body["head_lines"]
    answer = _advised(body)
    advices = [one.advice for one in answer.openings if isinstance(one.advice, Advice)]
    held = {advice.mark for advice in advices if advice.setting.governed_by == ("head_line",)}
    assert held == set(line["marks"])
    assert "Head lines kept: 1 of 1." in writer(GRIDS["1/16 in"]).sentence(answer.summary)


def test_a_line_of_heads_is_named_where_it_stands_against_a_rule() -> None:
    # doors over plank stand on the subfloor, tile takes two up: on one line legs show over plank
    body = _house(("den", "hall"), ("bed", "hall"), ("bath", "hall")) | {"head_lines": [{"name": "hall"}]}
    body["head_lines"][0]["marks"] = ["D1", "D2", "D3"]
    for opening, build_up in zip(body["openings"], (PLANK, TILE, TILE), strict=True):
        opening["frame"] = {"undercut": "3/4 in"}
        for side in ("pull_side", "push_side"):
            opening[side]["build_up"] = build_up
    advice = _advised(body).openings[0].advice
    assert isinstance(advice, Advice)
    texts = [writer(GRIDS["1/16 in"]).sentence(c.text) for c in advice.conflicts if c.rules[0] == "leg.hard.accepted"]
    assert len(texts) == 1
    assert texts[0].endswith("it conflicts with: the head line.")


def test_legs_that_are_cut_for_the_line_arent_put_down_to_the_floors() -> None:
    """D2 is set with 1 in undercut, so D1 with 1 1/4 in stands 1/4 in too high for it, on whole legs over plank."""
    body = _house(("den", "hall"), ("bed", "hall")) | {"head_lines": [{"name": "hall", "marks": ["D1", "D2"]}]}
    body["openings"][0]["frame"] = {"undercut": "1 1/4 in"}
    body["openings"][1]["frame"] = {"undercut": "1 in", "state": "set", "foot": "0 in"}
    advice = _advised(body).openings[0].advice
    assert isinstance(advice, Advice)
    told = writer(GRIDS["1/16 in"]).sentence(advice.summary)
    assert "Cut 1/4 in off both legs to keep the head on the head line." in told


# --- keys


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Bed 1", "Bed-1"),
        ("Bed 1", "Bed1"),
        ("Bed-1", "Bed.1"),
        ("Büro", "Böro"),
        ("Büro", "Buro"),
        ("寝室", "居間"),
        ("Bed%2D1", "Bed-1"),
        ("Zimmer", "Zi\N{ZERO WIDTH NON-JOINER}mmer"),
    ],
)
def test_two_rooms_have_two_events(one: str, other: str) -> None:
    assert len(_floors(_advised(_house((one, other))))) == 2


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Bed 1", "bed  1"),
        (" Bath ", "BATH"),
        ("Büro", "Bu\N{COMBINING DIAERESIS}RO"),
        ("Straße", "STRASSE"),
        ("Bed 1", "Bed\N{NO-BREAK SPACE}1"),
        ("寝室", "寝室"),
    ],
)
def test_one_room_has_one_event_however_openings_write_it(one: str, other: str) -> None:
    answer = _advised(_house((one, "hall"), (other, "hall")))
    assert len(_floors(answer)) == 2
    (room,) = [event for event in answer.events if event.room not in (msgspec.UNSET, "hall")]
    assert room.room == " ".join(one.split())
    waiting = {task.mark for task in answer.tasks for link in task.links if link.task == room.key}
    assert waiting == {"D1", "D2"}


@given(one=ROOMS, other=ROOMS)
def test_parts_of_keys_are_alike_for_the_same_room_alone(one: str, other: str) -> None:
    for name in (other, one.swapcase(), unicodedata.normalize("NFD", one), f" {one}  ", f"{one} {other}"):
        assert (slug(one) == slug(name)) == _same_room(one, name)


@given(ROOMS)
def test_a_part_of_a_key_is_plain_and_reads_back_as_the_room(room: str) -> None:
    assert set(slug(room)) <= set("abcdefghijklmnopqrstuvwxyz0123456789-%ABCDEF")
    assert _same_room(unquote(slug(room).replace("-", " ")), room)


def test_a_room_without_a_name_is_told_apart_by_the_mark_and_the_side() -> None:
    answer = _advised(_house((None, "\N{NO-BREAK SPACE}"), ("D1.pull_side", None)))
    assert list(_floors(answer)) == ["D1.pull_side", "D1.push_side", "d1%2Epull%5Fside", "D2.push_side"]
    titles = [writer(GRIDS["1/16 in"]).sentence(event.title) for event in answer.events if "floor-laid" in event.key]
    assert titles == [
        "D1, pull side: floor laid",
        "D1, push side: floor laid",
        "D1.pull_side: floor laid",
        "D2, push side: floor laid",
    ]
    assert [event.mark for event in answer.events if "floor-laid" in event.key] == ["D1", "D1", msgspec.UNSET, "D2"]


def test_a_mark_that_begins_as_events_do_makes_no_event_of_a_step() -> None:
    body = _house(("den", "hall"))
    body["openings"][0]["mark"] = "external:floor-laid"
    answer = _advised(body)
    keys = [event.key for event in answer.events]
    steps = {task.key for task in answer.tasks}
    assert keys[2:] == ["external:floor-laid.den", "external:floor-laid.hall"]
    assert not steps & set(keys)
    assert "external:floor-laid.set-frame" in {link.task for task in answer.tasks for link in task.links}


# --- what follows what


def test_a_floor_is_laid_when_each_jamb_is_undercut_that_it_passes_under() -> None:
    """Plank passes under the jambs of both doors in the hall; nothing else names their rooms."""
    floors = _floors(_advised(_house(("den", "Hall"), ("bath", "hall"))))
    assert floors == {
        "den": ["D1.undercut-jambs"],
        "hall": ["D1.undercut-jambs", "D2.undercut-jambs"],
        "bath": ["D2.undercut-jambs"],
    }


def test_a_door_within_one_room_is_named_once() -> None:
    assert _floors(_advised(_house(("hall", "HALL")))) == {"hall": ["D1.undercut-jambs"]}


def test_a_floor_that_passes_under_no_jamb_is_laid_when_the_unit_is_set() -> None:
    """Carpet is tucked against the jambs; tile on the other side passes under them."""
    body = _house(("bath", "hall"))
    carpet = [{"material": "carpet_cushion", "thickness": "7/16 in"}, {"material": "carpet", "thickness": "1/2 in"}]
    body["openings"][0] |= {"pull_side": {"room": "bath", "build_up": TILE}}
    body["openings"][0] |= {"push_side": {"room": "hall", "build_up": carpet}}
    assert _floors(_advised(body)) == {
        "bath": ["D1.undercut-jambs"],
        "hall": ["D1.set-frame", "external:floor-laid.bath"],
    }


def _meeting(pull: Wire, push: Wire, **more: Wire) -> Wire:
    body = _house(("bath", "hall"))
    body["openings"][0] |= {"pull_side": {"room": "bath"} | pull, "push_side": {"room": "hall"} | push} | more
    return body


CUSHIONED = floor("carpet_cushion 7/16 in", "carpet 1/2 in")
HARD = {"build_up": TILE}


@pytest.mark.parametrize(
    ("piece", "fits", "before"),
    [
        ("tuck_edge", {"external:floor-laid.bath", "external:floor-laid.hall"}, set()),
        ("carpet_bar", {"external:floor-laid.bath"}, {"D1.fit-piece"}),
    ],
)
def test_carpet_is_laid_after_the_hard_floor_it_meets_and_the_piece_that_it_is_fastened_to(
    piece: str, fits: set[str], before: set[str]
) -> None:
    """Common practice, no source: a bar or pad lies there before the carpet comes; a tucked edge is the carpet's."""
    answer = _advised(_meeting(HARD, CUSHIONED, transition={"piece": piece}))
    (fit,) = [task for task in answer.tasks if task.key == "D1.fit-piece"]
    assert {link.task for link in fit.links} == fits
    assert _floors(answer)["bath"] == ["D1.undercut-jambs"]
    assert set(_floors(answer)["hall"]) == {"D1.set-frame", "external:floor-laid.bath", *before}
    (check,) = [task for task in answer.tasks if task.key == "D1.check-clearances"]
    last = {"D1.fit-piece"} if not before else {"D1.fit-piece", "external:floor-laid.hall"}
    assert {link.task for link in check.links} == last


def test_a_piece_beside_a_bare_slab_goes_before_the_carpet_once_the_frame_is_set() -> None:
    slab = {"build_up": [{"material": "sealed_concrete", "thickness": "0 in"}]}
    answer = _advised(_meeting(slab, CUSHIONED, transition={"piece": "carpet_bar"}))
    (fit,) = [task for task in answer.tasks if task.key == "D1.fit-piece"]
    assert [link.task for link in fit.links] == ["D1.set-frame"]
    assert _floors(answer) == {"hall": ["D1.set-frame", "D1.fit-piece"]}


def test_rooms_that_are_carpet_at_one_door_and_tile_at_another_wait_for_each_other_nowhere() -> None:
    body = _house(("bath", "hall"), ("bath", "hall"))
    for opening, sides in zip(body["openings"], ((HARD, CUSHIONED), (CUSHIONED, HARD)), strict=True):
        opening |= {"pull_side": {"room": "bath"} | sides[0], "push_side": {"room": "hall"} | sides[1]}
        opening["transition"] = {"piece": "carpet_bar"}
    follows = {name: {key.rpartition(".")[2] for key in keys} for name, keys in _floors(_advised(body)).items()}
    assert follows == {"bath": {"undercut-jambs", "set-frame"}, "hall": {"set-frame", "undercut-jambs"}}


def test_units_are_delivered_and_openings_framed_whatever_else_is_done() -> None:
    answer = _advised(_house(("den", "hall")))
    others = {event.key: event.follows for event in answer.events if "floor-laid" not in event.key}
    assert others == {"external:unit-delivered.D1": (), "external:opening-framed.D1": ()}


def test_a_task_of_a_house_reads_like_that_of_its_opening_and_as_a_scheduler_takes_it() -> None:
    """A minute of working time is PTnM in ISO 8601; what ends before this begins is FS, as in RFC 9253."""
    answer = _advised(_house(("den", "hall")))
    (alone,) = [opening.advice.tasks for opening in answer.openings if opening.advice]
    for task, own in zip(answer.tasks, alone, strict=True):
        assert (task.key, task.minutes, task.work) == (own.key, own.minutes, f"PT{own.minutes}M")
        assert [(link.task, link.relation) for link in task.links] == [(key, "FS") for key in task.waits_for]
        steps = [key for key in own.waits_for if not key.startswith("external:")]
        assert [key for key in task.waits_for if not key.startswith("external:")] == steps
        assert len(task.waits_for) == len(own.waits_for)
    assert any(task.waits_for for task in answer.tasks)


@pytest.mark.parametrize("seed", range(4))
def test_whatever_is_waited_for_is_a_task_or_an_event_and_nothing_waits_for_itself(seed: int) -> None:
    answer = _advised(house(24, seed=seed))
    links = {task.key: {link.task for link in task.links} for task in answer.tasks}
    links |= {event.key: {link.task for link in event.follows} for event in answer.events}
    assert len(links) == len(answer.tasks) + len(answer.events)
    assert {key for waits in links.values() for key in waits} <= links.keys()
    done: set[str] = set()
    while ready := {key for key, waits in links.items() if key not in done and waits <= done}:
        done |= ready
    assert done == links.keys()


@pytest.mark.parametrize("seed", range(4))
def test_no_floor_is_laid_before_an_opening_beside_it_is_done_so_far(seed: int) -> None:
    answer = _advised(house(24, seed=seed))
    follows = _floors(answer)
    for line in answer.undercut_list:
        assert not isinstance(line.room, msgspec.UnsetType)
        before = follows[slug(line.room)]
        own = [key for key in before if key.rpartition(".")[0] == line.mark]
        if not isinstance(line.jamb_undercut, msgspec.UnsetType):
            assert f"{line.mark}.undercut-jambs" in own
        assert len([key for key in own if not key.endswith(".fit-piece")]) == 1


# --- pieces


def test_pieces_that_can_be_cut_alike_are_one_lot_and_none_lies_where_a_floor_runs_through() -> None:
    """By hand: tile 3/8 in on a bed of 3/16 and a board of 1/4 in beside plank of 1/4 and of 3/8 in."""
    body = _house(*[("bath", "hall")] * 6)
    thick = [{"material": "vinyl_plank", "thickness": "3/8 in"}]
    pulls = ({"build_up": TILE}, {"build_up": TILE}, {"build_up": TILE}, {"build_up": TILE}, None, {"build_up": None})
    for opening, pull in zip(body["openings"], pulls, strict=True):
        opening["pull_side"] |= pull or {}
    body["openings"][2]["push_side"]["build_up"] = thick
    body["openings"][3]["leaf"] = {"width": "32 in"}
    lots = _advised(body).piece_list
    assert [(lot.count, lot.marks) for lot in lots] == [(1, ("D3",)), (2, ("D1", "D2")), (1, ("D4",)), (1, ("D6",))]
    steps = [lot.step for lot in lots]
    assert steps == [*map(ticks, ("7/16 in", "9/16 in", "9/16 in")), msgspec.UNSET]


def test_a_piece_that_is_eased_or_rises_otherwise_is_not_cut_alike() -> None:
    """Carpet and cushion of 15/16 in brought down to plank of 1/4 in over a low cap of 1/8 in: a change of 13/16 in.

    On an accessible route more than 1/2 in is ramped at 1:12 (ADA Standards 303.4, 405.2): 9 3/4 in. Elsewhere the
    upper part is bevelled at 1:2 over 1/4 in that stands upright (IBC 1010.1.6): 9/16 in over 1 1/8 in. D3 states a
    piece that is 1/16 in lower: the change is 3/4 in, of which 1/2 in is bevelled.
    """
    body = _house(*[("den", "hall")] * 4)
    body["defaults"]["building"] = {"use": "apartment"}
    for opening in body["openings"]:
        opening["pull_side"]["build_up"], opening["transition"] = CARPET, {"piece": "carpet_ramp_cap"}
    body["openings"][1]["duties"] = ["accessible_route"]
    body["openings"][2]["transition"]["rise"] = "1/16 in"
    lots = {lot.marks: (lot.rise, lot.bevel) for lot in _advised(body).piece_list}
    low, cap = Length(ticks("1/16 in")), Length(ticks("1/8 in"))
    assert lots == {
        ("D1", "D4"): (cap, _upper(rise="9/16 in", run="1 1/8 in")),
        ("D2",): (cap, Bevel(kind="ramp", rise=Length(ticks("13/16 in")), run=Length(ticks("9 3/4 in")))),
        ("D3",): (low, _upper(rise="1/2 in", run="1 in")),
    }


def test_a_piece_that_stands_higher_is_another_though_its_floors_and_its_kind_are_the_same() -> None:
    body = _house(*[("bath", "hall")] * 3)
    for opening, rise in zip(body["openings"], ("1/8 in", "1/4 in", "1/8 in"), strict=True):
        opening["pull_side"]["build_up"], opening["transition"] = TILE, {"piece": "saddle", "rise": rise}
    assert [(lot.rise, lot.marks) for lot in _advised(body).piece_list] == [
        (ticks("1/8 in"), ("D1", "D3")),
        (ticks("1/4 in"), ("D2",)),
    ]


def _upper(*, rise: str, run: str) -> Bevel:
    """A bevel above 1/4 in that stands upright."""
    lengths = {"upright": Length(ticks("1/4 in")), "rise": Length(ticks(rise)), "run": Length(ticks(run))}
    return Bevel(kind="bevel", **lengths)


# --- orders


def test_units_still_to_be_ordered_come_first() -> None:
    """Three alike stand there already, of the two to be ordered each is of its own kind."""
    body = _house(*[("den", "hall")] * 5)
    for opening, width in zip(body["openings"], ("30 in", "30 in", "30 in", "32 in", "28 in"), strict=True):
        opening["leaf"] = {"width": width}
    for opening in body["openings"][3:]:
        opening["frame"] = {"state": "to_order"}
    del body["defaults"]["frame"]["undercut"]
    lots = [(lot.state, lot.marks) for lot in _advised(body).order_list]
    assert lots == [("to_order", ("D5",)), ("to_order", ("D4",)), ("on_site", ("D1", "D2", "D3"))]


def test_a_leaf_that_guards_is_another_unit_than_one_of_its_size() -> None:
    """One door is rated, one has to hold smoke back, one closes by its hinges; the two plain ones alone are alike."""
    body = _house(*[("den", "hall")] * 5)
    del body["defaults"]["frame"]["undercut"]
    body["defaults"]["frame"]["state"] = "to_order"
    _, rated, smoke, spring, _ = body["openings"]
    rated["leaf"], smoke["duties"], spring["leaf"] = {"fire_minutes": 20}, ["smoke_control"], {"hinges": "spring"}
    lots = {lot.marks: (lot.fire_minutes, lot.duties, lot.hinges) for lot in _advised(body).order_list}
    assert lots == {
        ("D1", "D5"): (msgspec.UNSET, (), "butt"),
        ("D2",): (20, ("fire_label",), "butt"),
        ("D3",): (msgspec.UNSET, ("smoke_control",), "butt"),
        ("D4",): (msgspec.UNSET, (), "spring"),
    }


def test_a_frame_of_other_sizes_is_another_unit() -> None:
    """Common practice, no source: head and legs of one thickness, or a gap over the leaf, are how a frame is made.

    D5 states what is assumed of D1.
    """
    body = _house(*[("den", "hall")] * 5)
    del body["defaults"]["frame"]
    frames: tuple[Wire, ...] = ({}, {"head_gap": "1/4 in"}, {"head_thickness": "1 1/4 in"}, {"leg_thickness": "1 in"})
    for opening, frame in zip(body["openings"], (*frames, {"head_thickness": "11/16 in"}), strict=True):
        opening["frame"] = {"state": "to_order", **frame}
    lots = {lot.marks: (lot.head_gap, lot.head_thickness, lot.leg_thickness) for lot in _advised(body).order_list}
    assert lots == {
        ("D1", "D5"): (ticks("1/8 in"), ticks("11/16 in"), ticks("11/16 in")),
        ("D2",): (ticks("1/4 in"), ticks("11/16 in"), ticks("11/16 in")),
        ("D3",): (ticks("1/8 in"), ticks("1 1/4 in"), ticks("11/16 in")),
        ("D4",): (ticks("1/8 in"), ticks("11/16 in"), ticks("1 in")),
    }


def test_a_unit_is_not_ordered_before_what_it_waits_for_is_answered() -> None:
    """D3: 80 13/16 in and 1/8 in leave 1/16 in of undercut under a header at 81 in. D4: who allows it is asked.

    D2's floor may become another: its undercut was chosen with a view to that, and is ordered before anybody knows.
    """
    body = _house(*[("den", "hall")] * 4)
    del body["defaults"]["frame"]["undercut"]
    body["defaults"]["frame"]["state"] = "to_order"
    _, may, low, garage = body["openings"]
    tile = [{"material": "ceramic_tile", "thickness": "3/4 in"}]
    may["pull_side"] = {**may["pull_side"], "could_become": [{"build_up": tile, "weight": 0.01}]}
    low["rough_opening"], garage["duties"] = {"height": "81 in"}, ["garage_to_house"]
    advised = _advised(body)
    assert {mark: lot.hold for lot in advised.order_list for mark in lot.marks} == {
        "D1": False,
        "D2": False,
        "D3": True,
        "D4": True,
    }
    assert [lot.hold for lot in advised.order_list] == sorted(lot.hold for lot in advised.order_list)


def test_a_unit_that_goes_in_is_ordered_though_less_room_than_wished_for_is_left_over_its_head() -> None:
    """Plank 1/4 in: 13/16 in of undercut and 80 13/16 in leave the 1/8 in that a shim takes under 81 3/4 in."""
    body = _house(("den", "hall"))
    body["defaults"]["frame"] = {"state": "to_order"}
    body["openings"][0]["rough_opening"] = {"height": "81 3/4 in"}
    advised = _advised(body)
    (lot,) = advised.order_list
    assert (lot.undercut, lot.hold, advised.questions) == (ticks("13/16 in"), False, ())


def test_whoever_counts_units_to_order_counts_those_that_wait_for_their_floors() -> None:
    """Two of D1 to D4 can be ordered; of one that is on site nobody orders anything, whatever floor comes.

    D5 waits as D4 does, and stands before it, since its undercut is told.
    """
    body = _house(*[("den", "hall")] * 6)
    del body["defaults"]["frame"]["undercut"]
    for opening, state in zip(body["openings"], (*["to_order"] * 5, "on_site"), strict=True):
        opening["frame"] = {"state": state}
    for opening in (body["openings"][2], body["openings"][3], body["openings"][5]):
        opening["pull_side"] = {"room": "not decided"}
    body["openings"][4]["rough_opening"] = {"height": "81 in"}
    lots = [lot for lot in _advised(body).order_list if lot.state == "to_order"]
    assert [(lot.units, lot.marks, lot.hold) for lot in lots] == [
        (2, ("D1", "D2"), False),
        (1, ("D5",), True),
        (2, ("D3", "D4"), True),
    ]
    assert [lot.undercut is msgspec.UNSET for lot in lots] == [False, False, True]


def test_a_unit_to_order_whose_undercut_is_stated_is_listed_with_what_is_cut_off_that_one() -> None:
    """1 in, and 1/2 in off it for carpet; whoever orders the 1 1/2 in that need no saw has that cut to 2 in."""
    body = _house(("den", "hall"), ("den", "hall"), (None, None))
    for opening, state in zip(body["openings"], ("to_order", "on_site", "to_order"), strict=True):
        opening["frame"] = {"undercut": "1 in", "state": state}
        opening["leaf"] = {"core": "solid"}
        opening["pull_side"] = {"build_up": CARPET} if opening["mark"] != "D3" else {"room": "not decided"}
    body["openings"][0]["answered"] = [{"code": "undercut_to_order", "by": "the shop makes no other"}]
    advised = _advised(body)
    assert [(line.mark, line.trim) for line in advised.trim_list] == [(m, ticks("1/2 in")) for m in ("D1", "D2")]
    lots = {lot.marks: (lot.state, lot.undercut) for lot in advised.order_list}
    assert lots == {
        ("D1",): ("to_order", ticks("1 in")),
        ("D2",): ("on_site", ticks("1 1/2 in")),
        ("D3",): ("to_order", ticks("1 in")),
    }


def test_a_unit_waits_to_be_ordered_until_somebody_says_that_its_leaf_is_to_be_cut() -> None:
    """1 in, and 1/2 in off it for carpet, where 1 1/2 in would need no saw."""
    body = _house(("den", "hall"), ("den", "hall"))
    for opening in body["openings"]:
        opening["frame"] = {"undercut": "1 in", "state": "to_order"}
        opening["pull_side"] = {"build_up": CARPET}
    body["openings"][1]["answered"] = [{"code": "undercut_to_order", "by": "the shop makes no other"}]
    advised = _advised(body)
    assert [(lot.marks, lot.hold) for lot in advised.order_list] == [(("D2",), False), (("D1",), True)]
    assert [one.marks for one in advised.questions if one.code == "undercut_to_order"] == [("D1",)]
    assert (advised.totals.go_with_trim, advised.totals.hold) == (2, 0)


def test_the_totals_count_what_goes_in_and_what_waits() -> None:
    """Of the second the floor in the den isn't named; the others lie as the first."""
    body = _house(*[("den", "hall")] * 3)
    body["openings"][1]["pull_side"]["build_up"] = None
    totals = _advised(body).totals
    assert (totals.go + totals.go_with_trim, totals.hold, totals.conflict, totals.refused) == (2, 1, 0, 0)
