"""Sheets: what stands on them and in which order, as a page that loads nothing and as a PDF read back."""

from __future__ import annotations

import gc
import io
import re
from collections import Counter
from collections.abc import Iterator
from typing import Any

import msgspec
import pypdf
import pytest
from lxml import etree, html
from reportlab.lib.pagesizes import A4, LETTER
from tests.houses import house
from tests.openings import advised, catalogue, door, floor
from tests.unit.render.test_drawing import HOSTILE, TILE, TWO_GOES

from jambset.http.advise import house_adviser
from jambset.render.language import ENGLISH, SPANISH, Language
from jambset.render.pages import house_page, opening_page
from jambset.render.pdf import MARK, Heading, house_pdf, pdf_of
from jambset.render.sheet import house_sheet, opening_sheet
from jambset.render.sheet_parts import Card, Points, Section, Sheet, Table
from jambset.render.wire import NOTHING

DEN = door(
    frame={"undercut": "1 in"},
    rough_opening={"width": "32 in", "height": "83 in"},
    pull_side={"room": "den", **floor("carpet_cushion 7/16 in", "carpet 1/2 in")},
    push_side={"room": "hall", **floor("vinyl_plank 1/4 in")},
)


def answered(body: Any, language: Language = ENGLISH) -> Any:
    return msgspec.json.decode(house_adviser(catalogue())(msgspec.json.encode(body), language))


@pytest.fixture(scope="module")
def eight() -> Any:
    """A house of eight openings, one of which can't be read, and one of whose floors nobody knows."""
    body = house(8, seed=3)
    body["openings"][2]["push_side"] = {"room": "nobody knows"}
    body["openings"][5]["leaf"] = {"height": "80 mm"}
    return answered(body)


@pytest.fixture(scope="module")
def pdf(eight: Any) -> bytes:
    """Its sheet."""
    return house_pdf(eight, ENGLISH)


def table(sheet: Sheet, title: str) -> Table:
    (part,) = [part for part in sheet.sections if part.title == title]
    (found,) = [block for block in part.blocks if isinstance(block, Table)]
    return found


def cards(sheet: Sheet) -> list[Card]:
    return [block for part in sheet.sections for block in part.blocks if isinstance(block, Card)]


# --- what stands on a sheet


def test_an_opening_is_told_in_working_order_each_step_with_its_numbers() -> None:
    advice = advised(DEN)
    (glance,) = cards(opening_sheet(advice, ENGLISH))
    assert [step.title for step in glance.steps] == [task["title"] for task in advice["tasks"]]
    cut, set_, undercut, piece, check = glance.steps
    assert cut.numbers[:2] == (
        ("Cut off the leaf", "1/2 in (on the bench)"),
        ("Check once hung: gauge block on the subfloor, leaf at 90°", "1 1/2 in"),
    )
    assert dict(set_.numbers)["Block under hinge leg"] == "none, on the subfloor"
    assert undercut.numbers == (("Cut legs and casing at, push side", "5/16 in"),)
    assert piece.numbers[0] == ("Piece", "Carpet bar, clamped")
    assert dict(check.numbers) == {
        "Leaf bottom above subfloor": "1 1/2 in",
        "Gap, pull side": "9/16 in",
        "Gap, push side": "1 1/4 in",
        "Gap, transition piece": "3/8 in",
    }
    assert cut.who == "finish carpenter, 28 min. After: unit delivered."
    assert piece.who == (
        "flooring installer, 25 min. After: floor laid on the push side. Before: floor laid on the pull side."
    )


@pytest.mark.parametrize("undercut", ["3/4 in", "1 1/2 in", None])
@pytest.mark.parametrize("state", ["on_site", "set", "to_order"])
def test_whoever_works_from_paper_reads_of_both_leaves_of_a_pair(state: str, undercut: str | None) -> None:
    carpet = floor("carpet_cushion 7/16 in", "carpet 1/2 in")
    tile = floor("thin_bed_mortar 3/16 in", "ceramic_tile 3/8 in")
    leaf = {"count": 2, "core": "solid"}
    pair = door(leaf=leaf, pull_side=carpet, push_side=tile, frame={"state": state, "undercut": undercut})
    for opening in (pair, door(pair, pull_side={"build_up": None})):
        told = advised(opening)
        said = [told["summary"], told["order"]["why"], told["leaf"]["why"], *[task["title"] for task in told["tasks"]]]
        work = re.compile("(leave|leaves|cut|Trim|hang|off|take|with) the leaf", re.IGNORECASE)
        assert not [text for text in said if work.search(text)]
        (glance,) = cards(opening_sheet(told, ENGLISH))
        assert "Cut off the leaf" not in [name for step in glance.steps for name, _ in step.numbers]


def test_an_edge_is_told_with_what_may_stand_upright_below_its_bevel() -> None:
    # 3/4 in of stone and mortar beside 1/4 in of plank: 1/2 in, the lower 1/4 upright, the upper over 1/2 (ADA 303.3)
    stone = floor("medium_bed_mortar 1/4 in", "stone_tile 1/2 in")
    step = door(pull_side=stone, push_side=floor("vinyl_plank 1/4 in"), duties=["accessible_route"])
    (glance,) = cards(opening_sheet(advised(step), ENGLISH))
    (piece,) = [dict(step.numbers) for step in glance.steps if step.numbers[0][0] == "Piece"]
    assert piece["Upright below the bevel, at most"] == "1/4 in"
    assert piece["bevel, rise : run"] == "1/4 in : 1/2 in"


def test_a_leaf_that_hangs_already_is_cut_at_the_height_of_its_gauge_block() -> None:
    """A leaf on the bench is measured; blocks are for one that hangs (common practice, no source)."""
    hung = advised(door(DEN, frame={"undercut": "1 in", "state": "set", "foot": "0 in"}))
    (glance,) = cards(opening_sheet(hung, ENGLISH))
    (cut,) = [dict(step.numbers) for step in glance.steps if "Cut off the leaf" in dict(step.numbers)]
    assert cut["Gauge block on the subfloor, leaf at 90°"] == "1 1/2 in"


def test_gauge_blocks_of_two_heights_say_which_stands_at_the_hinges() -> None:
    """By hand: at 90° the free end of 30 in is over a subfloor 30/60 of 1 in higher, so its block is 1/2 in less."""
    sloping = {"kind": "slope", "rise": "1 in", "run": "60 in", "direction": 90}
    hung = door(DEN, subfloor=sloping)
    gauge = advised(hung)["leaf"]["gauge_block"]
    assert gauge["hinge_end"]["in"] - gauge["free_end"]["in"] == 0.5
    ends = f"hinge end {gauge['hinge_end']['text']}, free end {gauge['free_end']['text']}"
    (glance,) = cards(opening_sheet(advised(hung), ENGLISH))
    assert dict(glance.steps[0].numbers)["Check once hung: gauge block on the subfloor, leaf at 90°"] == ends
    (row,) = table(
        house_sheet(answered({"house": "one", "openings": [hung]}), ENGLISH), "Leaves to cut, in cutting order"
    ).rows
    assert f"{ends} on the subfloor" in row


def test_a_cutting_list_says_of_each_gauge_block_what_it_stands_on() -> None:
    """One leaf is cut from the subfloor on the bench, the other hung, once its floor lies: 15/16 in of it apart."""
    side: dict[str, Any] = floor("carpet_cushion 7/16 in", "carpet")
    side = {**side, "could_become": [{**floor("vinyl_plank"), "weight": 0.3}]}
    two = {"house": "two", "openings": [DEN, door(DEN, mark="D02", pull_side=side)]}
    rows = table(house_sheet(answered(two), ENGLISH), "Leaves to cut, in cutting order").rows
    ends = [cell.partition(" in on the ")[2] for row in rows for cell in row if " on the " in cell]
    assert [end for end in ends if end] == ["subfloor", "finish"]


def test_out_of_level_heights_are_told_above_the_highest_subfloor_under_the_legs() -> None:
    """Beside them stands what goes under each leg, counted from its own subfloor."""
    tilted = advised(door(DEN, subfloor={"kind": "legs", "hinge_leg": "0 in", "strike_leg": "1/4 in"}))
    (glance,) = cards(opening_sheet(tilted, ENGLISH))
    names = {name: value for step in glance.steps for name, value in step.numbers}
    assert names["Leaf bottom above the highest subfloor under the legs"] == tilted["leaf"]["bottom"]["text"]
    assert (
        names["Head, underside above the highest subfloor under the legs"] == tilted["setting"]["head_height"]["text"]
    )
    assert (
        names["Legs above the highest subfloor under them, no higher than"] == tilted["setting"]["foot_limit"]["text"]
    )
    above = f"{tilted['leaf']['bottom']['text']} above the highest subfloor under the legs."
    assert tilted["summary"].endswith(above)
    assert f"{advised(DEN)['leaf']['bottom']['text']} above the subfloor." in advised(DEN)["summary"]


def test_a_leaf_cut_in_two_goes_is_told_each_cut_at_its_step_as_in_the_cutting_list() -> None:
    """By hand: 1/8 in first, 3/8 in once the floors lie; never 1/2 in on top of 1/8."""
    (glance,) = cards(opening_sheet(advised(TWO_GOES), ENGLISH))
    first, *_, last, _ = glance.steps
    assert first.numbers[0] == ("Cut off now", "1/8 in")
    assert last.numbers[0] == ("Cut off what is left", "3/8 in (hung, in place)")
    listed = answered({"house": "one", "openings": [TWO_GOES]})["trim_list"]
    assert [line["trim"]["text"] for line in listed] == ["1/8 in", "3/8 in"]


@pytest.mark.parametrize("mark", ["A:1", "external:x", "external:floor-laid", "D-1.trim-leaf"])
def test_a_mark_like_the_name_of_an_event_is_a_mark(mark: str) -> None:
    (glance,) = cards(opening_sheet(advised({**DEN, "mark": mark}), ENGLISH))
    (plain,) = cards(opening_sheet(advised(DEN), ENGLISH))
    assert glance.steps == plain.steps


def points(sheet: Sheet, title: str) -> tuple[str, ...]:
    (part,) = [part for part in sheet.sections if part.title == title]
    (found,) = [block for block in part.blocks if isinstance(block, Points)]
    return found.items


def test_openings_that_must_wait_are_named_before_anything_else(eight: Any) -> None:
    sheet = house_sheet(eight, ENGLISH)
    waiting = [
        one["advice"]["mark"]
        for one in eight["openings"]
        if one.get("advice", {}).get("verdict") in ("hold", "conflict")
    ]
    assert waiting
    titles = {"Don't start yet", "Ask before these steps"}
    named = [item for part in sheet.sections[:2] if part.title in titles for item in points(sheet, part.title)]
    assert sorted(item.partition(":")[0] for item in named) == waiting


def test_a_frame_that_may_be_set_before_its_floor_is_certain_isnt_called_one_to_leave() -> None:
    """By hand: nothing is asked of the unit itself, so it is set; the leaf and what lies under it wait."""
    maybe = DEN["pull_side"] | {"could_become": [floor("vinyl_plank 1/4 in")]}
    sheet = house_sheet(answered({"house": "one", "openings": [{**DEN, "pull_side": maybe}]}), ENGLISH)
    assert sheet.sections[0].title == "Ask before these steps"
    (told,) = points(sheet, "Ask before these steps")
    (glance,) = cards(sheet)
    held = [step.title for step in glance.steps if "Wait:" in step.who]
    assert glance.steps[0].title not in held
    assert told == f"{glance.mark}: {'; '.join(held)} (superintendent)"


def test_a_door_whose_air_alone_waits_may_be_begun() -> None:
    """All that mends too little air stands in the wall: no step waits, and who decides is told."""
    short = DEN | {"duties": ["transfer_air"], "air": {"supply_flow": "120 cfm", "pressure_limit": "3 Pa"}}
    sheet = house_sheet(answered({"house": "one", "openings": [short]}), ENGLISH)
    (told,) = points(sheet, "Ask before these steps")
    assert told == f"{DEN['mark']}: air (HVAC contractor)"


def test_who_is_to_be_asked_stands_with_what_may_not_begin() -> None:
    """A floor nobody knows is the superintendent's to tell, a leg that its line lifts too high the carpenter's."""
    frames = [{"undercut": "3/4 in", "state": "set", "foot": "3/8 in"}, {"undercut": "3/4 in"}]
    openings = [{**DEN, "mark": mark, "frame": frame} for mark, frame in zip(("A", "B"), frames, strict=True)]
    openings[1]["pull_side"] = {"room": "not decided"}
    body = {"house": "two", "openings": openings, "head_lines": [{"name": "hall", "marks": ["A", "B"]}]}
    begin = points(house_sheet(answered(body), ENGLISH), "Don't start yet")
    assert begin[1] == "B: hold, ask first (finish carpenter, superintendent)"


def test_an_opening_on_hold_says_so_at_its_steps() -> None:
    advice = advised(door(DEN, pull_side=None) | {"pull_side": {"room": "den"}})
    (glance,) = cards(opening_sheet(advice, ENGLISH))
    assert glance.warns
    held = [task["title"] for task in advice["tasks"] if task.get("hold")]
    assert [step.title for step in glance.steps if "Wait: a question or conflict is open." in step.who] == held != []


def test_the_parts_of_a_house_stand_in_the_order_of_the_work(eight: Any) -> None:
    titles = [part.title for part in house_sheet(eight, ENGLISH).sections]
    order = (
        "Don't start yet", "Ask before these steps", "Head lines", "Blocks to make",
        "Leaves to cut, in cutting order", "Each opening",
        "Units to order", "Air under the closed leaf", "For the flooring installer", "Transition pieces",
        "Conflicts, and who decides", "Questions to ask",
        "Openings that couldn't be read", "Assumed", "Cautions", "Rules and where they come from",
    )  # fmt: skip
    assert titles == [title for title in order if title in titles]
    assert {"Each opening", "Questions to ask", "Cautions", "Openings that couldn't be read"} <= set(titles)


def test_every_list_of_a_house_is_whole(eight: Any) -> None:
    sheet = house_sheet(eight, ENGLISH)
    trims = table(sheet, "Leaves to cut, in cutting order").rows
    assert [(row[1], row[3]) for row in trims] == [(line["mark"], line["trim"]["text"]) for line in eight["trim_list"]]
    assert len(table(sheet, "For the flooring installer").rows) == 2 * 7
    assert [card.mark for card in cards(sheet)] == [
        one["advice"]["mark"] for one in eight["openings"] if "advice" in one
    ]
    rules = {source["title"] for one in eight["openings"] for source in one.get("advice", {}).get("sources", ())}
    assert {rule for row in table(sheet, RULES).rows for rule in row[0].split("; ")} == rules
    ((_, pointer, _),) = table(sheet, "Openings that couldn't be read").rows
    assert pointer == "#/openings/5/leaf/height"


def test_a_sheet_stands_in_the_order_of_marks_whatever_order_the_openings_came_in() -> None:
    body = house(11, seed=3)
    turned = {**body, "openings": body["openings"][::-1]}
    assert house_sheet(answered(turned), ENGLISH) == house_sheet(answered(body), ENGLISH)


def test_the_flooring_installer_reads_room_by_room(eight: Any) -> None:
    rows = table(house_sheet(eight, ENGLISH), "For the flooring installer").rows
    assert [row[:2] for row in rows] == [(line["room"], line["mark"]) for line in eight["undercut_list"]]


def test_each_piece_that_is_fitted_is_counted_once_by_kind_and_width() -> None:
    pair = {**DEN, "mark": "C", "leaf": {**DEN["leaf"], "count": 2}}
    through = {**DEN, "mark": "D", "pull_side": floor("vinyl_plank 1/4 in")}
    unknown = {**DEN, "mark": "E", "pull_side": {"room": "not decided"}}
    openings = [{**DEN, "mark": "B"}, {**DEN, "mark": "A"}, pair, through, unknown]
    sheet = house_sheet(answered({"house": "five", "openings": openings}), ENGLISH)
    assert table(sheet, "Transition pieces").rows == (
        ("Carpet bar, clamped", "30 in", "11/16 in", "3/16 in", "–", "2", "A, B"),
        ("Carpet bar, clamped", "2 × 30 in", "11/16 in", "3/16 in", "–", "1", "C"),
        ("–", "30 in", "–", "–", "–", "1", "E"),
    )
    (glance,) = [card for card in cards(sheet) if card.mark == "D"]
    assert "Gap, transition piece" not in dict(glance.steps[-1].numbers)


def test_whoever_buys_a_piece_reads_how_it_is_eased() -> None:
    """From carpet of 15/16 in over a cap of 1/8 in down to plank of 1/4 in: 13/16 in.

    A ramp at 1:12 (ADA Standards 405.2), else a bevel at 1:2 above 1/4 in (IBC 1010.1.6).
    """
    cap = {**DEN, "transition": {"piece": "carpet_ramp_cap"}, "building": {"use": "apartment"}}
    openings = [{**cap, "mark": "A"}, {**cap, "mark": "B", "duties": ["accessible_route"]}]
    rows = table(house_sheet(answered({"house": "two", "openings": openings}), ENGLISH), "Transition pieces").rows
    assert [(rise, eased, marks) for *_, rise, eased, _, marks in rows] == [
        ("1/8 in", "bevel 9/16 in : 1 1/8 in, upright below it at most 1/4 in", "A"),
        ("1/8 in", "ramp 13/16 in : 9 3/4 in", "B"),
    ]


def test_no_run_is_told_where_no_rule_says_how_steep_a_bevel_may_be() -> None:
    """12 mm of tile beside 3 mm of vinyl; 5 mm may stand upright, and more is chamfered (Approved Document M)."""
    england = {"jurisdiction": "GB-ENG", "duties": ["accessible_route"], "grid": "1 mm"}
    one = door(DEN, **england, pull_side=floor("ceramic_tile 12 mm"), push_side=floor("sheet_vinyl 3 mm"))
    (row,) = table(house_sheet(answered({"house": "one", "openings": [one]}), ENGLISH), "Transition pieces").rows
    assert row[4] == "bevel 4 mm, upright below it at most 5 mm"


RULES = "Rules and where they come from"


def test_rules_from_one_place_stand_together_the_strongest_first(eight: Any) -> None:
    """By hand, for opening D1: eye protection is law; what leaves legs whole is a preference."""
    rows = table(house_sheet(eight, ENGLISH), RULES).rows
    forces = ["law", "standard", "programme", "project", "practice", "preference"]
    told = [force for _, _, force, _ in rows]
    assert told == sorted(told, key=forces.index)
    assert len({row[1:] for row in rows}) == len(rows)
    by_rule = {rule: force for rules, _, force, _ in rows for rule in rules.split("; ")}
    assert (by_rule["Eye protection"], by_rule["Legs left whole"]) == ("law", "preference")
    assert max(len(rules.split("; ")) for rules, *_ in rows) > 5


def test_the_summary_of_an_opening_stands_once_on_its_sheet() -> None:
    advice = advised(DEN)
    root = page(opening_page(advice, ENGLISH))
    told = [" ".join(at.text_content().split()) for at in root.iter("p")]
    assert told.count(advice["summary"]) == 1
    assert next(part.text for part in root.iter("h2")) == "What to cut and set, in working order"


def test_what_waits_is_asked_right_below_the_steps_of_an_opening() -> None:
    """The card tells the first of what waits; the others must be read before the saw is."""
    open_ = {"room": "den"}, {"room": "hall"}
    advice = advised(
        door(DEN, pull_side=None, push_side=None) | dict(zip(("pull_side", "push_side"), open_, strict=True))
    )
    assert "First of 2: " in advice["summary"]
    sheet = opening_sheet(advice, ENGLISH)
    assert sheet.sections[1].title == "Questions to ask"
    asked = [row[1] for row in table(sheet, "Questions to ask").rows]
    assert sum(text.startswith("Which floor, layer by layer") for text in asked) == 2


def test_only_a_house_says_for_which_openings_it_asks(eight: Any) -> None:
    advice = advised(door(DEN, pull_side=None) | {"pull_side": {"room": "den"}})
    assert table(opening_sheet(advice, ENGLISH), "Questions to ask").heads == ("Ask", "Question", "Holds")
    asked = table(house_sheet(eight, ENGLISH), "Questions to ask")
    assert asked.heads == ("Ask", "Question", "Openings", "Holds")
    assert [row[2] for row in asked.rows] == [", ".join(question["marks"]) for question in eight["questions"]]


WHOLE = "Or leave the leaf whole"


@pytest.mark.parametrize("opening", ["one wish", "two wishes"])
def test_that_a_leaf_may_be_left_whole_is_told_once_before_it_is_cut(opening: str) -> None:
    """The summary tells so where one wish is given up; where two are, the card does."""
    plank, tile, wood = floor("vinyl_plank 1/4 in"), floor("ceramic_tile 3/8 in"), floor("engineered_wood 1/2 in")
    frame = {"undercut": "3/4 in"}
    doors = {
        "one wish": door(DEN, frame=frame, pull_side=tile, push_side=plank),
        "two wishes": door(DEN, frame=frame, pull_side=wood, push_side=plank),
    }
    advice = advised(doors[opening])
    told = advice["leaf"]["uncut"]["text"]
    assert (told in advice["summary"]) == (opening == "one wish")
    (glance,) = cards(opening_sheet(advice, ENGLISH))
    assert glance.instead == ("" if opening == "one wish" else told)
    root = page(opening_page(advice, ENGLISH))
    assert sum(WHOLE in at.text_content() for at in root.iter("p")) == 1
    house = answered({"house": "one", "openings": [doors[opening]]})
    text = " ".join(" ".join(part.extract_text() for part in read_back(house_pdf(house, ENGLISH)).pages).split())
    assert text.count(WHOLE) == 1


def test_on_the_sheet_of_a_house_floors_and_rules_stand_below_a_card_and_once_how_drawings_are_read(eight: Any) -> None:
    sheet = house_sheet(answered({"house": "two", "openings": [DEN, {**DEN, "mark": "B"}]}), ENGLISH)
    first = cards(sheet)[0]
    carpet = "Carpet, medium cut pile, with its backing 1/2 in; Carpet cushion, bonded foam 7/16 in"
    assert first.below[:2] == (
        f"Pull side, from the top: {carpet}",
        "Push side, from the top: Rigid-core vinyl plank, floating, with its pad 1/4 in",
    )
    assert first.below[2] == "Leaf by: Leaf above the subfloor under carpet, wanted (preference)"
    (read,) = points_of(sheet, "Each opening")
    assert "the width of the piece" in read
    unknown = [card for card in cards(house_sheet(eight, ENGLISH)) if card.warns]
    assert "Push side, from the top: Floor undecided" in [told for card in unknown for told in card.below]


def points_of(sheet: Sheet, title: str) -> tuple[str, ...]:
    """The sentences of a part, whatever else stands there."""
    blocks = [block for part in sheet.sections if part.title == title for block in part.blocks]
    return tuple(item for block in blocks if isinstance(block, Points) for item in block.items)


def test_that_a_step_waits_is_printed_bold(eight: Any) -> None:
    bold = [at.text for at in page(house_page(eight, ENGLISH)).xpath("//p[@class='who']/strong")]
    held = [task for one in eight["openings"] for task in one.get("advice", {}).get("tasks", ()) if task.get("hold")]
    assert bold == ["Wait: a question or conflict is open."] * len(held) != []


BREAK = (
    "One hard floor runs through, no piece. The floor floats: check its instructions on whether it needs a break in "
    "this doorway. A moulding over a break sticks up under the leaf."
)


def said_of_pieces(sheet: Sheet, title: str) -> list[str]:
    """The sentences below the tables of a part."""
    blocks = [block for part in sheet.sections if part.title == title for block in part.blocks]
    return [item for block in blocks if isinstance(block, Points) for item in block.items]


def test_a_break_that_a_floating_floor_may_need_is_on_paper_too() -> None:
    plank, tile = floor("vinyl_plank 1/4 in"), floor("ceramic_tile 1/4 in")
    through = {**DEN, "pull_side": plank, "push_side": plank}
    fixed = {**DEN, "mark": "T", "pull_side": tile, "push_side": tile}
    house = answered({"house": "two", "openings": [{**through, "mark": "P"}, {**through, "mark": "Q"}, fixed]})
    assert said_of_pieces(opening_sheet(advised(through), ENGLISH), "For the flooring installer") == [BREAK]
    assert said_of_pieces(house_sheet(house, ENGLISH), "Transition pieces") == [f"P, Q: {BREAK}"]


RATED = door(
    leaf={"core": "solid", "fire_minutes": 20},
    frame={"undercut": "1 in"},
    pull_side=floor("solid_wood 11/16 in"),
    push_side=floor("vinyl_plank 1/4 in"),
)
"""A label allows 3/4 in over the plank: over the usual reducer, 1/4 in above the wood, the leaf has no room."""


def test_whoever_fits_the_pieces_of_a_house_reads_why_one_isnt_the_usual() -> None:
    plain = {**RATED, "leaf": {**RATED["leaf"], "core": "hollow", "fire_minutes": None}}
    asked = {"house": "two", "openings": [{**RATED, "mark": "A"}, {**plain, "mark": "B"}]}
    house = answered(asked)
    note = house["openings"][0]["advice"]["transition"]["note"]
    assert "It takes the place of the usual piece here" in note
    assert said_of_pieces(house_sheet(house, ENGLISH), "Transition pieces") == [f"A: {note}"]
    changed = {**house, "piece_list": [{**lot, "piece": "saddle"} for lot in house["piece_list"]]}
    assert said_of_pieces(house_sheet(changed, ENGLISH), "Transition pieces") == []


def test_how_an_edge_is_eased_is_told_beside_its_piece() -> None:
    # 3/8 in of tile on a bare slab: 1/4 in upright, 1/8 in bevelled 1:2
    tile, slab = floor("ceramic_tile 3/8 in"), floor("sealed_concrete 0 in")
    sheet = opening_sheet(
        advised({**DEN, "pull_side": tile, "push_side": slab, "duties": ["accessible_route"]}), ENGLISH
    )
    (said,) = said_of_pieces(sheet, "For the flooring installer")
    assert said.endswith("1/4 in may stand upright; bevel the upper 1/8 in over a length of at least 1/4 in.")


def test_a_leaf_under_which_too_little_air_passes_is_told_with_what_else_may_carry_it() -> None:
    short = {**DEN, "mark": "A", "duties": ["transfer_air"], "air": {"supply_flow": "90 cfm"}}
    answer = answered({"house": "two", "openings": [short, {**DEN, "mark": "B"}]})
    ((mark, *_, lacks, ways),) = table(house_sheet(answer, ENGLISH), "Air under the closed leaf").rows
    air = answer["openings"][0]["advice"]["air"]
    assert (mark, lacks) == ("A", air["shortfall"]["text"])
    assert all(way["text"] in ways for way in air["ways_out"])


def test_an_opening_left_off_its_line_is_named_with_the_line(eight: Any) -> None:
    line = {**eight["head_lines"][0], "left_out": [{"mark": "D9", "why": "Its request was refused."}]}
    ((*_, note),) = table(house_sheet({**eight, "head_lines": [line]}, ENGLISH), "Head lines").rows
    assert note == f"{line['text']} D9: Its request was refused."


def test_units_that_are_there_are_none_to_order() -> None:
    ordered = {**DEN, "mark": "B", "frame": {"state": "to_order"}}
    answer = answered({"house": "two", "openings": [{**DEN, "mark": "A"}, ordered]})
    assert len(answer["order_list"]) == 2
    ((units, *_, marks, hold),) = table(house_sheet(answer, ENGLISH), "Units to order").rows
    assert (units, marks, hold) == ("1", "B", NOTHING)


def test_a_unit_to_order_is_told_with_what_it_is_made_for_and_whether_it_waits() -> None:
    rated = {"fire_minutes": 20, "hinges": "spring"}
    garage = {**DEN, "mark": "B", "frame": {"state": "to_order"}, "duties": ["garage_to_house"], "leaf": rated}
    answer = answered({"house": "one", "openings": [garage], "defaults": {"leaf": DEN["leaf"]}})
    ((*_, core, marks, hold),) = table(house_sheet(answer, ENGLISH), "Units to order").rows
    assert core.endswith(", 1, rated for 20 min, fire label, garage to house, spring hinges")
    assert (marks, hold) == ("B", "yes")


def test_whoever_orders_reads_what_of_a_unit_the_list_does_not_know(eight: Any) -> None:
    ordered = answered({"house": "one", "openings": [{**DEN, "frame": {"state": "to_order"}}]})
    unknown = "Hand, jamb depth and looks aren't known here: count each row by those before you order."
    assert points(house_sheet(ordered, ENGLISH), "Units to order") == (unknown,)
    assert "Units to order" not in [section.title for section in house_sheet(eight, ENGLISH).sections]


def test_what_is_taken_for_granted_stands_once_with_the_marks_it_is_for(eight: Any) -> None:
    told = points(house_sheet(eight, ENGLISH), "Assumed")
    taken = {one["text"] for found in eight["openings"] for one in found.get("advice", {}).get("assumptions", ())}
    assert taken
    assert sorted(item if item in taken else item.partition(": ")[2] for item in told) == sorted(taken)


def test_how_to_lift_stands_once_whatever_the_leaves_weigh(eight: Any) -> None:
    """OSHA's page names about 50 lb; each weight has its line, and what to do about it is the same for all."""
    told = points(house_sheet(eight, ENGLISH), "Cautions")
    advices = [one["advice"] for one in eight["openings"] if "advice" in one]
    weights = {c["text"] for one in advices for c in one["cautions"] if c["code"] == "handling"}
    assert len(weights) > 1
    (guidance,) = [n for n, line in enumerate(told) if "about 50 lb (22.7 kg) a lift is more likely to injure" in line]
    of_leaves = [n for n, line in enumerate(told) if line.partition(": ")[2] in weights]
    assert of_leaves == list(range(guidance - len(weights), guidance))  # below all weights, none between


def test_a_caution_stands_once_with_the_marks_it_is_for(eight: Any) -> None:
    (part,) = [part for part in house_sheet(eight, ENGLISH).sections if part.title == "Cautions"]
    (points,) = [block for block in part.blocks if isinstance(block, Points)]
    assert len(points.items) == len(set(points.items))
    texts = {caution["text"] for one in eight["openings"] for caution in one.get("advice", {}).get("cautions", ())}
    assert {text for text in texts if any(item.endswith(text) for item in points.items)} == texts


def test_in_spanish_a_sheet_says_no_english_of_ours() -> None:
    sheet = house_sheet(answered(house(8, seed=3), SPANISH), SPANISH)
    told = " ".join(cell for row in table(sheet, "Reglas y de dónde vienen").rows for cell in row)
    assert "Práctica común, sin fuente" in told
    ours = ("Common practice", "as read in", "undated", "see the document", "not checked", "project's own", "as sent")
    assert [words for words in ours if words in told] == []


def test_a_source_never_says_none_for_its_edition(eight: Any) -> None:
    rows = table(house_sheet(eight, ENGLISH), "Rules and where they come from").rows
    assert [row for row in rows if "none" in row[1]] == []
    assert {row[3] for row in rows} >= {"no published source", "read at its issuer"}


# --- as a page


def page(body: bytes) -> Any:
    return html.document_fromstring(body.decode())


def test_a_page_says_all_that_the_sheet_says(eight: Any) -> None:
    sheet, root = house_sheet(eight, ENGLISH), page(house_page(eight, ENGLISH))
    assert [heading.text for heading in root.iter("h2")] == [part.title for part in sheet.sections]
    cells = [" ".join(cell.text_content().split()) for cell in root.iter("td")]
    tables = [block for part in sheet.sections for block in part.blocks if isinstance(block, Table)]
    assert cells == [" ".join(cell.split()) for found in tables for row in found.rows for cell in row]
    assert len(list(root.iter("svg"))) == sum(len(card.drawings) for card in cards(sheet))
    assert eight["notice"] in root.find(".//header").text_content()


def test_a_page_loads_nothing_and_runs_nothing(eight: Any) -> None:
    root = page(house_page(eight, ENGLISH))
    assert not [element for element in root.iter() if element.tag in ("script", "img", "iframe", "object", "form")]
    links = [value for element in root.iter() for name, value in element.items() if name in ("href", "src")]
    assert links == ["data:,"]
    assert "url(" not in root.findtext(".//style")


def test_ids_are_unique_within_a_page(eight: Any) -> None:
    ids = [element.get("id") for element in page(house_page(eight, ENGLISH)).iter() if element.get("id")]
    assert len(ids) == len(set(ids)) > 20
    named = [
        found for element in page(house_page(eight, ENGLISH)).xpath("//@aria-labelledby") for found in element.split()
    ]
    assert set(named) <= set(ids)


def test_each_table_of_a_page_has_heads_for_print_and_for_readers(eight: Any) -> None:
    tables = list(page(house_page(eight, ENGLISH)).iter("table"))
    assert tables
    for found in tables:
        heads = found.findall("thead/tr/th")
        assert all(head.get("scope") == "col" for head in heads)
        assert all(len(row) == len(heads) for row in found.findall("tbody/tr"))
    assert "thead { display: table-header-group; }" in page(house_page(eight, ENGLISH)).findtext(".//style")


def test_a_page_names_its_language() -> None:
    assert page(opening_page(advised(DEN), SPANISH)).get("lang") == "es"
    assert "Qué cortar y colocar, en orden de trabajo" in opening_page(advised(DEN), SPANISH).decode()


@pytest.mark.parametrize("text", HOSTILE)
def test_whatever_marks_and_rooms_say_a_page_holds_it_as_text(text: str, eight: Any) -> None:
    told = msgspec.json.decode(msgspec.json.encode(eight))
    told["house"] = text
    told["openings"][0]["advice"]["mark"] = text
    told["openings"][0]["advice"]["flooring"]["pull_side"]["room"] = text
    root = page(house_page(told, ENGLISH))
    assert len(list(root.iter("h2"))) == len(house_sheet(told, ENGLISH).sections)
    assert [element.tag for element in root.iter() if element.tag in ("script", "iframe")] == []
    assert " ".join(readable(text).split()) in " ".join(root.findtext(".//h1").split())


def readable(text: str) -> str:
    return re.sub("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]", "\ufffd", text)


# --- as a PDF


def read_back(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf), strict=True)


def test_a_pdf_numbers_its_pages_and_says_what_the_sheet_says(eight: Any, pdf: bytes) -> None:
    sheet, reader = house_sheet(eight, ENGLISH), read_back(pdf)
    texts = [part.extract_text() for part in reader.pages]
    count = len(texts)
    assert count >= 5
    assert [f"Page {place} of {count}" in text for place, text in enumerate(texts, start=1)] == [True] * count
    assert all("Advice, not permission" in text for text in texts)
    whole = " ".join(" ".join(texts).split())
    for part in sheet.sections:
        assert part.title in whole
    for card in cards(sheet):
        assert f"{card.mark} {card.rooms}" in whole
        assert all(value in whole for step in card.steps for _, value in step.numbers)


BROKEN = re.compile(r"\w [0-9/]+ *\n(?:[0-9]+/[0-9]|in\b|mm\b)")
"""A quantity over two lines: "1" at the end of one and "9/16 in" at the head of the next reads as 9/16 in."""


@pytest.mark.parametrize("language", [ENGLISH, SPANISH], ids=["en", "es"])
def test_no_line_of_a_sheet_breaks_within_a_quantity(language: Language) -> None:
    told = answered(house(12, seed=3), language)
    lines = [part.extract_text() for part in read_back(house_pdf(told, language)).pages]
    assert BROKEN.findall("\n".join(lines)) == []
    texts = [
        text for at in page(house_page(told, language)).iter("p", "li", "td", "dt", "dd") for text in at.itertext()
    ]
    assert [text for text in texts if re.search("[0-9] (?:[0-9]+/[0-9]|in\\b|mm\\b)", text)] == []


def test_a_table_that_goes_over_pages_repeats_its_heads(eight: Any) -> None:
    many = answered(house(24, seed=4))
    pages = [part.extract_text() for part in read_back(house_pdf(many, ENGLISH)).pages]
    with_rows = [text for text in pages if "a little for" in text]
    assert len(with_rows) > 1
    assert all("Leg and casing" in text and "Base above" in text for text in with_rows)


def test_a_row_taller_than_a_page_is_parted() -> None:
    """Hundreds of openings that share one question, or one head line."""
    body = house(1, seed=1)
    one = {**body["openings"][0], "subfloor": None}
    marks = [f"an opening whose mark is as long as a mark may be, number {place:03}" for place in range(100)]
    body["defaults"].pop("subfloor")
    body["openings"] = [{**one, "mark": mark} for mark in marks]
    body["head_lines"] = [{"name": "hall", "marks": marks}]
    pages = read_back(house_pdf(answered(body), ENGLISH)).pages
    begun = " ".join(" ".join(part.extract_text() for part in pages[:8]).split())
    assert all(mark in begun for mark in marks)


FOUR = {
    "house": "four",
    "head_lines": [{"name": "hall", "marks": ["A", "B", "C"]}],
    "openings": [{**DEN, "mark": mark} for mark in "ABC"]
    + [{**DEN, "mark": "D", "pull_side": {"room": "bath", **floor(*TILE)}}],
}
"""Four doors as in a small flat."""


def lowest_words(part: pypdf.PageObject) -> float:
    """How far up from the bottom of a page its lowest words above the foot stand, as a share of its height."""
    heights: list[float] = []

    def visit(text: str, cm: Any, tm: Any, _font: Any, _size: Any) -> None:
        if text.strip():
            heights.append(tm[4] * cm[1] + tm[5] * cm[3] + cm[5])

    part.extract_text(visitor_text=visit)
    tall = float(part.mediabox.height)
    return min(height for height in heights if height > 54) / tall


def test_a_small_house_takes_few_pages_none_of_them_mostly_blank() -> None:
    pages = read_back(house_pdf(answered(FOUR), ENGLISH)).pages
    assert len(pages) <= 4
    assert "Each opening" in pages[0].extract_text()
    assert [lowest_words(part) < 0.5 for part in pages[:-1]] == [True] * (len(pages) - 1)


def test_three_openings_go_on_a_page_and_none_over_two() -> None:
    cut = {**DEN, "frame": {"undercut": "3/4 in"}}
    told = answered({"house": "twelve", "openings": [{**cut, "mark": f"M{place}"} for place in range(11, 23)]})
    assert [len(card.steps) for card in cards(house_sheet(told, ENGLISH))] == [5] * 12
    texts = [part.extract_text() for part in read_back(house_pdf(told, ENGLISH)).pages]
    begun = [len(re.findall(r"M\d\d +den / ", text)) for text in texts]
    ended = [len(re.findall("Leaf by: ", text)) for text in texts]
    assert (sum(begun), max(begun)) == (12, 3)
    assert begun == ended


@pytest.mark.parametrize("above", range(30, 60, 2))
def test_a_table_begins_on_a_page_that_has_room_for_its_first_row(above: int) -> None:
    """Rows of six lines, below ever more lines of text."""
    row = (" ".join(f"word{place:02}" for place in range(30)), "x")
    made = Table(("Told", "Mark"), (row, row), (1, 4))
    lines = Points(tuple(f"line {place}" for place in range(above)))
    sheet = Sheet(
        "one", "", (Section("First", (lines,)), Section("Second", (made,))), "notice", "about", "{page}", "en"
    )
    texts = [part.extract_text() for part in read_back(pdf_of(sheet, paper=LETTER)).pages]
    (begun,) = [text for text in texts if "Second" in text]
    assert "Told" in begun
    assert [text.count("word00") - text.count("word29") for text in texts] == [0] * len(texts)


def test_every_font_of_a_pdf_is_in_it(pdf: bytes) -> None:
    fonts: dict[str, Any] = {}
    for part in read_back(pdf).pages:
        resources: Any = part["/Resources"]
        fonts |= {name: font.get_object() for name, font in resources["/Font"].items()}
    assert {str(font["/BaseFont"]).partition("+")[2] for font in fonts.values()} == {
        "DejaVuSansCondensed",
        "DejaVuSansCondensed-Bold",
    }
    assert all("/FontFile2" in font["/FontDescriptor"].get_object() for font in fonts.values())


def test_drawings_in_a_pdf_are_vectors(pdf: bytes) -> None:
    reader = read_back(pdf)
    assert [image for part in reader.pages for image in part.images] == []
    contents: list[Any] = [part.get_contents() for part in reader.pages]
    assert max(content.get_data().count(b" l ") for content in contents) > 300


def test_the_same_house_gives_the_same_bytes_and_another_language_others(eight: Any, pdf: bytes) -> None:
    assert house_pdf(eight, ENGLISH) == pdf
    assert house_pdf(eight, SPANISH) != pdf


def test_a_pdf_names_its_title_and_language_and_no_day(eight: Any) -> None:
    reader = read_back(house_pdf(eight, SPANISH))
    assert reader.metadata is not None
    assert reader.metadata.title == eight["house"]
    root: Any = reader.trailer["/Root"]
    assert root["/Lang"] == "es"
    assert str(reader.metadata.get("/CreationDate", "D:2000")).startswith("D:2000")
    assert "Página 1 de" in reader.pages[0].extract_text()


def outline(reader: pypdf.PdfReader, entries: Any, depth: int = 0) -> Iterator[tuple[int, str, str]]:
    """Depth and title of each entry in order, with the text of the page that it leads to."""
    for entry in entries:
        if isinstance(entry, list):
            yield from outline(reader, entry, depth + 1)
        else:
            place = reader.get_destination_page_number(entry)
            assert place is not None
            yield depth, str(entry.title), " ".join(reader.pages[place].extract_text().split())


def test_the_outline_of_a_pdf_leads_to_each_part_and_each_opening(eight: Any, pdf: bytes) -> None:
    """A house of hundreds of doors is hundreds of pages long."""
    sheet, reader = house_sheet(eight, ENGLISH), read_back(pdf)
    found = list(outline(reader, reader.outline))
    assert [title for depth, title, _ in found if depth == 0] == [part.title for part in sheet.sections]
    assert [title for depth, title, _ in found if depth == 1] == [f"{card.mark} {card.rooms}" for card in cards(sheet)]
    assert [title for _, title, text in found if title not in text] == []


def test_a_heading_that_goes_over_pages_is_listed_once() -> None:
    heading = Heading("D01 " * 40, MARK, entry="D01", level=1)
    heading.wrap(60, 1000)
    parts = heading.split(60, 100)
    assert [vars(part)["_entry"] for part in parts] == ["D01", ""]


def test_paper_goes_with_the_tape(eight: Any) -> None:
    def size(answer: Any) -> tuple[float, float]:
        first = read_back(house_pdf(answer, ENGLISH)).pages[0].mediabox
        return (float(first.width), float(first.height))

    assert size(eight) == pytest.approx(LETTER)
    assert size({**eight, "grid": "1 mm"}) == pytest.approx(A4, abs=0.01)


@pytest.mark.parametrize("text", HOSTILE)
def test_whatever_marks_and_rooms_say_a_pdf_is_made(text: str, eight: Any) -> None:
    told = msgspec.json.decode(msgspec.json.encode(eight))
    told["house"] = text
    told["openings"][0]["advice"]["mark"] = text
    told["openings"][0]["advice"]["flooring"]["pull_side"]["room"] = text
    reader = read_back(house_pdf(told, ENGLISH))
    assert len(reader.pages) >= 5
    if text.isascii() and " " not in text and len(text) < 100 and text.isprintable():
        assert text in reader.pages[0].extract_text()


def test_marks_in_a_script_that_the_fonts_lack_are_told_apart() -> None:
    """Unicode: 东 is U+4E1C, 西 U+897F; é and Д the fonts have."""
    openings = [{**DEN, "mark": mark} for mark in ("东1", "西1", "éД1")]
    read = pypdf.PdfReader(io.BytesIO(house_pdf(answered({"house": "three", "openings": openings}), ENGLISH)))
    text = "\n".join(page.extract_text() for page in read.pages)
    assert {"[U+4E1C]1", "[U+897F]1", "éД1"} <= set(re.findall(r"\S+1\b", text))


def test_the_sheet_of_a_house_of_refused_openings_alone_still_says_what_is_wrong() -> None:
    body = house(2, seed=1)
    for one in body["openings"]:
        one["leaf"] = {"height": "80 mm"}
    told = answered(body)
    titles = [part.title for part in house_sheet(told, ENGLISH).sections]
    assert titles[-1] == "Openings that couldn't be read"
    assert "Each opening" not in titles
    assert len(read_back(house_pdf(told, ENGLISH)).pages) == 1


def test_no_section_of_a_sheet_is_empty() -> None:
    assert [part.title for part in opening_sheet(advised(DEN), ENGLISH).sections if not part.blocks] == []


def test_the_drawings_of_a_page_are_well_formed(eight: Any) -> None:
    drawings = re.findall(r"<svg.*?</svg>", house_page(eight, ENGLISH).decode(), re.DOTALL)
    assert len(drawings) >= 7  # a section at least of each opening that could be read
    assert {etree.fromstring(svg.encode()).tag for svg in drawings} == {"{http://www.w3.org/2000/svg}svg"}


def test_what_a_pdf_was_drawn_from_is_freed_with_it(eight: Any) -> None:
    """Objects in cycles stay until a full collection, which is rare: sheet by sheet they would add up."""
    house_pdf(eight, ENGLISH)
    gc.collect()
    gc.disable()
    gc.set_debug(gc.DEBUG_SAVEALL)
    try:
        house_pdf(eight, ENGLISH)
        gc.collect()
        left = Counter(type(one).__module__ for one in gc.garbage)
    finally:
        gc.set_debug(0)
        gc.garbage.clear()
        gc.enable()
    assert left["jambset.render.shapes"] == 0
