"""What else carries air beside the gap, and what is offered when it isn't enough."""

from __future__ import annotations

from math import pi, sqrt
from typing import Any

import pytest
from tests.openings import advised, assessed, door, floor
from tests.rechecks import answered

from jambset.quantity.ticks import INCH, MM, Flow, Length

PLANKS = door(
    pull_side=floor("vinyl_plank 1/4 in"),
    push_side=floor("vinyl_plank 1/4 in"),
    frame={"undercut": "1 in"},
    duties=["transfer_air"],
)
CFM = 4.719474432e-4


def air(**members: Any) -> Any:
    return assessed(door(PLANKS, air={"pressure_limit": "3 Pa", **members})).air


def carried(*paths: dict[str, Any]) -> float:
    """Flow at 3 Pa of the paths alone, without the gap."""
    return float(air(other_paths=list(paths)).flow_at_limit - air().flow_at_limit)


def test_a_grille_carries_by_its_free_area() -> None:
    # orifice equation at 20 °C and sea level; louvres of unknown make: metal 75 %, wood 25 % free (NFPA 54, as quoted)
    speed = 0.607 * sqrt(2 * 3 / 1.20415)
    face = 10 * 6 * 0.0254**2
    grille = {"kind": "grille", "width": "10 in", "height": "6 in"}
    assert carried(grille) == pytest.approx(0.75 * face * speed, rel=1e-4)
    assert carried(grille | {"material": "wood"}) == pytest.approx(0.25 * face * speed, rel=1e-4)
    assert carried(grille | {"free_area": "30 in2"}) == pytest.approx(30 * 0.0254**2 * speed, rel=1e-4)


@pytest.mark.parametrize(("free", "status", "area"), [("77 in2", "fail", 99.5), ("77.5 in2", "pass", 100.0)])
def test_a_grille_counts_for_an_area_that_is_asked_for(free: str, status: str, area: float) -> None:
    """A dryer's closet wants 100 in2: 3/4 in over the plank by 30 in are 22.5, so that a louvre of 77.5 is enough."""
    louvre = {"kind": "grille", "width": "12 in", "height": "12 in", "free_area": free}
    frame = {"undercut": "1 in", "state": "set", "foot": "0 in"}
    told = advised(door(PLANKS, duties=["dryer_closet"], frame=frame, air={"other_paths": [louvre]}))
    (check,) = [check for check in told["checks"] if check["rule"] == "us-dryer-closet"]
    assert (check["status"], check["actual"]["in2"]) == (status, area)
    assert told["verdict"] == {"pass": "go", "fail": "conflict"}[status]


@pytest.mark.parametrize(("paths", "status", "area"), [([], "fail", 3810), (["duct"], "pass", 11_860)])
def test_a_duct_counts_for_an_area_as_the_opening_that_passes_as_much(paths: list[str], status: str, area: int) -> None:
    """England, 7600 mm2, and a ducted path is named as a way out: 5 mm under 762 mm are 3810.

    150 mm and 3 m with 130 cm2 of grille: 0.5 + 1.0 + 0.5 and 0.0524 * 3 / 0.15 on 176.7 cm2, and 1 / 0.607^2 twice on
    130 cm2, in series are 48.86 cm2 without loss, or 80.5 cm2 with a sharp edge.
    """
    duct = {"kind": "duct", "diameter": "150 mm", "length": "3 m", "grille_free_area": "130 cm2"}
    request = door(
        jurisdiction="GB-ENG",
        leaf={"core": "steel"},
        frame={"undercut": "5 mm"},
        pull_side=floor("sealed_concrete 0 mm"),
        push_side=floor("sealed_concrete 0 mm"),
        air={"other_paths": [duct for _ in paths]},
        project_rules={"hard_floor_clearance": "5 mm", "trim_limit": "0 mm"},
        rough_opening={"height": "2058 mm"},
    )
    (check,) = [check for check in advised(request)["checks"] if check["rule"] == "gb-eng-air-hard"]
    assert check["status"] == status
    assert check["actual"]["mm2"] == pytest.approx(area, abs=10)


def test_a_leaf_is_not_cut_for_an_area_that_a_grille_has() -> None:
    """England, 7600 mm2: a leaf of 610 mm wants 12.5 mm of gap, and has 10. With 16 cm2 of grille it has 7700 mm2."""
    narrow = door(
        jurisdiction="GB-ENG",
        project_rules={"hard_floor_clearance": "10 mm"},
        leaf={"width": "610 mm", "core": "solid"},
        frame={"undercut": "18 mm"},
        pull_side=floor("laminate 8 mm"),
        push_side=floor("laminate 8 mm"),
    )
    grille = {"kind": "grille", "width": "100 mm", "height": "60 mm", "free_area": "16 cm2"}
    there = door(narrow, air={"other_paths": [grille]})
    assert advised(narrow)["leaf"]["bottom"]["mm"] == 21
    assert advised(there)["leaf"]["bottom"]["mm"] == 18
    assert advised(there)["leaf"]["trim"]["mm"] == 0


def test_a_duct_carries_less_than_a_hole_of_its_size() -> None:
    # 8 in, 3 m, roughness 3 mm, bends 0.5, two grilles of 10 in square at 75 %: 67.7 cfm at 3 Pa, worked with scipy
    duct = {"kind": "duct", "diameter": "8 in", "length": "3 m", "grille_free_area": "75 in2"}
    assert carried(duct | {"roughness": "3 mm"}) / CFM == pytest.approx(67.7, rel=0.02)
    assert carried(duct) == carried(duct | {"roughness": "3 mm"})  # unstated: the rough end of what is used
    smooth = duct | {"roughness": "0.15 mm"}  # sheet metal; the same, worked with fluids: 69.47 cfm
    assert carried(smooth) / CFM == pytest.approx(69.47, rel=1e-3)
    hole = pi * (8 * 0.0254) ** 2 / 4
    assert carried(duct) < 0.607 * hole * sqrt(2 * 3 / 1.20415)


def test_a_crack_carries_by_its_leakage_area() -> None:
    # NIST residential table: 25 cm² of door frame at 4 Pa passes 11.33 cfm at 3 Pa with n 0.65
    assert carried({"kind": "crack", "leakage_area": "25 cm2"}) / CFM == pytest.approx(11.33, rel=2e-3)


@pytest.mark.parametrize(("limit", "gap"), [("3 Pa", "1 1/8 in"), ("5 Pa", "7/8 in")])
def test_the_pressure_that_is_allowed_counts_and_no_stricter_wish(limit: str, gap: str) -> None:
    # 60 cfm under 30 in, k 1.07: 60 / (1.07 * 30 * sqrt(3)) = 1.08 in, and 0.84 in at 5 Pa, for which the leaf is cut
    told = advised(door(PLANKS, frame={"undercut": "3/4 in"}, air={"supply_flow": "60 cfm", "pressure_limit": limit}))
    assert told["air"]["pressure_limit"]["text"] == limit.replace(" ", ".0 ")
    assert told["air"]["gap_needed"]["text"] == gap
    assert told["verdict"] == {"3 Pa": "hold", "5 Pa": "go_with_trim"}[limit]


@pytest.mark.parametrize("duty", ["transfer_air", "exhaust_makeup"])
def test_a_flow_without_a_duty_is_asked_about(duty: str) -> None:
    # 80 cfm under a 1/2 in gap is far beyond the 3 Pa that a return is held to, and no rule says what this air does
    open_ = door(PLANKS, frame={"undercut": "3/4 in"}, duties=[], air={"supply_flow": "80 cfm"})
    told = advised(open_)
    (asked,) = [question for question in told["questions"] if question["code"] == "air_duty_unlisted"]
    assert (asked["ask"], asked["pointer"], asked["holds"]) == ("hvac_contractor", "#/duties", ["air"])
    assert told["air"]["pressure_at_supply"]["Pa"] > 3
    assert told["verdict"] == "go", "the door may be set; its air is asked about beside it"
    assert "Still to ask, apart from the door: A flow of air is stated and no duty for it" in told["summary"]
    listed = advised(door(open_, duties=[duty]))
    assert "air_duty_unlisted" not in {question["code"] for question in listed["questions"]}
    none = advised(door(open_) | {"air": {}})
    assert "air_duty_unlisted" not in {question["code"] for question in none["questions"]}


def test_a_large_flow_is_held_to_what_its_programme_allows() -> None:
    # 150 cfm at 5 Pa: 150 / (1.07 * 30 * sqrt(5)) = 2.09 in of gap; at the 3 Pa of smaller flows it would be 2.70 in
    rated = door(PLANKS, duties=["transfer_air", "rated_home_programme"], air={"supply_flow": "150 cfm"})
    (conflict,) = advised(rated)["conflicts"]
    assert conflict["rules"] == ["us-energy-star-pressure-high"]
    assert "The gap alone would have to be 2 1/8 in" in conflict["text"]


@pytest.mark.parametrize("flow", [100, 200, 300])
def test_the_prescribed_way_is_one_when_it_is_asked_about_again(flow: int) -> None:
    # Florida: 50 in2 per 100 cfm beside 1 in. Were it face of which 3/4 are free, 200 cfm would come to 3.2 Pa, not 2.5
    room = door(PLANKS, jurisdiction="US-FL", frame={"undercut": "1 1/4 in"}, air={"supply_flow": f"{flow} cfm"})
    (way,) = [way for way in advised(room)["air"]["ways_out"] if way["kind"] == "prescribed_grille"]
    assert f"a grille of {flow / 2} in² (free area, to be safe), plus 1 in clear" in way["text"]
    grille = {"kind": "grille", "width": "20 in", "height": "20 in", "free_area": f"{way['free_area']['in2']} in2"}
    there = advised(door(room, air={"supply_flow": f"{flow} cfm", "other_paths": [grille]}))
    assert (there["verdict"], there["conflicts"]) == ("go", [])


def test_a_path_that_is_shut_is_none() -> None:
    shut = {"kind": "crack", "leakage_area": "0 cm2"}
    steel = door(PLANKS, leaf={"core": "steel"}, frame={"undercut": "0 in"}, rough_opening={"height": "81 in"})
    nothing = assessed(door(steel, air={"pressure_limit": "3 Pa", "supply_flow": "50 cfm", "other_paths": [shut]}))
    assert nothing.air.gap == 0
    assert not nothing.air.pressure_at_supply  # infinite, so left out
    (failed,) = [c for c in nothing.checks if c.rule == "project.pressure_limit"]
    assert (failed.status, bool(failed.actual)) == ("relaxed", False)


def test_a_standard_flow_is_more_air_at_altitude() -> None:
    # psychrolib: 1609.344 m and 20 °C give 0.99146 kg/m³; standard air is 0.075 lb/ft³
    high = {"supply_flow": "60 cfm", "altitude": "1609.344 m"}
    assert air(**high).supply_flow == pytest.approx(60 * CFM, rel=1e-9)
    assert air(**high, flow_basis="standard").supply_flow == pytest.approx(60 * CFM * 1.201385 / 0.99146, rel=1e-4)


def test_warm_air_and_a_stated_coefficient_count() -> None:
    # density at 35 °C 1.14554 against 1.20415: the flow goes with its root
    assert air(temperature="35 C").flow_at_limit / air().flow_at_limit == pytest.approx(
        sqrt(1.20415 / 1.14554), rel=1e-4
    )
    stated = air(discharge_coefficient=0.7)
    assert stated.flow_at_limit == stated.flow_at_limit_high
    assert stated.flow_at_limit / air().flow_at_limit == pytest.approx(0.7 / 0.607, rel=1e-9)


def test_other_paths_that_carry_it_all_leave_the_leaf_alone() -> None:
    grille = {"kind": "grille", "width": "20 in", "height": "12 in"}
    helped = air(supply_flow="75 cfm", other_paths=[grille])
    assert (helped.gap_needed, helped.shortfall, helped.ways_out) == (Length(0), Flow(0), ())


# What a jump duct of each size that is sold passes at 3 Pa and 20 °C [cfm and L/s], worked by the handbook's series
# losses with the friction factor of the library fluids: 10 ft or 3 m, roughness 3 mm, 0.5 for its bends, at each end
# a square grille 2 in or 50 mm wider than the duct, 75 % of it free.
INCHES = [(6, 38.878), (8, 67.663), (10, 103.251), (12, 145.609), (14, 194.739), (16, 250.647)]
MILLIMETRES = [(150, 17.7635), (200, 30.9232), (250, 47.1936), (315, 72.9727), (355, 91.4378), (400, 114.5819)]


def offered(short: float, **changes: Any) -> Any:
    """The jump duct that is offered where a flow is short [m³/s], if one is."""
    wide = door(PLANKS, **changes)
    much: Any = assessed(door(wide, air={"pressure_limit": "3 Pa", "supply_flow": "900 cfm"})).air
    supply = {"value": (much.supply_flow - much.shortfall + short) * 1000, "unit": "L/s"}
    ways = assessed(door(wide, air={"pressure_limit": "3 Pa", "supply_flow": supply})).air.ways_out
    return next((way for way in ways if way.kind == "jump_duct"), None)


@pytest.mark.parametrize(
    ("grid", "sizes", "unit", "beyond", "flow", "reach"),
    [
        ("1/16 in", INCHES, INCH, 2, CFM, "10 ft"),
        ("1 mm", MILLIMETRES, MM, 50, 1e-3, "3 m"),
    ],
)
def test_the_smallest_jump_duct_on_sale_that_carries_the_rest_is_offered(
    grid: str, sizes: list[tuple[int, float]], unit: int, beyond: int, flow: float, reach: str
) -> None:
    for size, most in sizes:
        way = offered(0.999 * most * flow, grid=grid)
        assert (way.diameter, way.text.values["grille"]) == (size * unit, (size + beyond) * unit)
        assert way.text.values["length"] == reach
    larger = [offered(1.001 * most * flow, grid=grid) for _, most in sizes]
    assert [way and way.diameter for way in larger] == [*(size * unit for size, _ in sizes[1:]), None]


@pytest.mark.parametrize(("grid", "unit", "step"), [("1 mm", "mm2", 1), ("1/16 in", "in2", 0.1)])
def test_a_grille_is_told_as_it_is_written_and_no_smaller(grid: str, unit: str, step: float) -> None:
    """Whole mm² and tenths of in² (common practice, no source), by the orifice equation with C = 0.607."""
    request = door(PLANKS, grid=grid, air={"pressure_limit": "1 Pa", "supply_flow": "400 cfm"})
    found: Any = assessed(request).air
    area = advised(request)["air"]["ways_out"][0]["free_area"][unit]
    assert area / step == pytest.approx(round(area / step), abs=1e-6)
    exact = found.shortfall / 0.607 / sqrt(2 / found.density_kg_m3) / {"mm2": 1e-6, "in2": 0.0254**2}[unit]
    assert (1 - 3e-5) * exact <= area <= (1 + 3e-5) * exact + step


def test_what_no_jump_duct_carries_is_offered_none() -> None:
    kinds = [
        way["kind"]
        for way in advised(door(PLANKS, air={"pressure_limit": "1 Pa", "supply_flow": "800 cfm"}))["air"]["ways_out"]
    ]
    assert kinds == ["transfer_grille", "ducted_return"]


def test_a_room_with_a_fan_is_offered_no_return() -> None:
    fan = door(PLANKS, duties=["exhaust_makeup"], air={"pressure_limit": "3 Pa", "supply_flow": "110 cfm"})
    kinds = [way["kind"] for way in advised(fan)["air"]["ways_out"]]
    assert kinds == ["transfer_grille", "jump_duct", "ducted_supply"]


@pytest.mark.parametrize(
    ("duties", "use", "kind"),
    [
        ([], None, "ducted_return"),
        (["rated_home_programme"], "bedroom", "ducted_return"),
        (["transfer_air"], "bedroom", "ducted_return"),
        ([], "bath", "ducted_supply"),
        (["rated_home_programme"], "closet", "ducted_supply"),
        (["dryer_closet"], None, "ducted_supply"),
        (["rated_home_programme", "exhaust_makeup"], None, "ducted_supply"),
    ],
)
def test_a_room_that_air_is_supplied_to_is_offered_a_return_and_one_with_a_fan_none(
    duties: list[str], use: str | None, kind: str
) -> None:
    # 120 cfm in a room without a fan can't be brought there a second time; of a bath no return is taken (IMC 601.5)
    side = {**PLANKS["pull_side"], **({"use": use} if use else {})}
    air = {"supply_flow": "120 cfm", "pressure_limit": "3 Pa"}
    told = advised(door(PLANKS, duties=duties, pull_side=side, air=air))
    assert told["air"]["ways_out"][-1]["kind"] == kind


def test_who_moves_air_is_asked_for_flow_and_limit() -> None:
    fan = door(PLANKS, duties=["exhaust_makeup"])
    codes = {q.code: q.holds for q in assessed(fan).questions}
    assert codes == {"supply_flow_unknown": ("air",), "pressure_limit_unknown": ("air",)}


@pytest.mark.parametrize(
    ("flow", "here"),
    [
        # 3/4 in under 30 in, 0.607 of it: 0.00881 m2, so 2.14 m/s and 1.2042 / 2 x 2.14 ** 2
        ("40 cfm", "At 40.0 cfm it is 2.8 Pa here."),
        # 10.7 m/s, 69 Pa
        ("200 cfm", "At 200.0 cfm it would be over 50.0 Pa here: so little is open. Which other way does that air go?"),
    ],
)
def test_who_is_asked_for_a_limit_is_told_what_the_pressure_comes_to(flow: str, here: str) -> None:
    fan = door(PLANKS, duties=["exhaust_makeup"], air={"supply_flow": flow})
    (asked,) = (q for q in advised(fan)["questions"] if q["code"] == "pressure_limit_unknown")
    assert asked["text"].endswith(here)


FIRE = "Make no opening in the labelled leaf. Where the wall is rated for fire, the opening in it needs a fire damper"
SMOKE = "Make no opening in the leaf of a smoke door. Where the wall has to hold back smoke, the opening in it needs a"


@pytest.mark.parametrize(
    ("duties", "told"),
    [
        ([], set()),
        (["fire_label"], {FIRE}),
        (["smoke_control"], {SMOKE}),
        (["fire_label", "smoke_control"], {FIRE, SMOKE}),
    ],
)
def test_a_wall_is_opened_beside_fire_and_smoke_with_what_each_takes(duties: list[str], told: set[str]) -> None:
    # 3/4 in of gap under 30 in carry about 42 cfm at 3 Pa, fire allows no more: of 110 cfm much is short; in a duct or
    # through a grille alike, as it is advised and as it mends a door that is set
    leaf = {"core": "solid", "thickness": "1 3/4 in"}
    short = {"duties": ["transfer_air", *duties], "air": {"pressure_limit": "3 Pa", "supply_flow": "110 cfm"}}
    ways = advised(door(PLANKS, leaf=leaf, **short))["air"]["ways_out"]
    walls = {way["kind"]: way["text"] for way in ways if way["kind"] in ("transfer_grille", "jump_duct")}
    assert len(walls) == 2
    as_set = {"foot": "0 in", "leaf_bottom": "1 in"}
    mended = answered(door(PLANKS, leaf=leaf, as_set=as_set, **short))["remedies"]
    (grille,) = (remedy["text"] for remedy in mended if remedy["steps"] == ["transfer_grille"])
    for text in (*walls.values(), grille):
        assert {sentence for sentence in (FIRE, SMOKE) if sentence in text} == told


def test_no_gap_is_prescribed_under_a_leaf_that_is_to_hold_back_smoke() -> None:
    # Florida: 50 in2 a 100 cfm and an inch of clear gap. At 0.10 in of water (24.9 Pa) that inch alone passes
    # 1.07 * 30 * 5 = 160 cfm, where a smoke door of 30 in by 80 in may leak 3.0 cfm a ft2 (IBC, UL 1784), 50 in all
    short = {"duties": ["transfer_air", "smoke_control"], "air": {"supply_flow": "110 cfm"}}
    told = advised(door(PLANKS, jurisdiction="US-FL", leaf={"core": "solid"}, **short))
    (conflict,) = told["conflicts"]
    kinds = [way["kind"] for way in conflict["ways_out"]]
    assert (
        kinds == [way["kind"] for way in told["air"]["ways_out"]] == ["transfer_grille", "jump_duct", "ducted_return"]
    )


@pytest.mark.parametrize(
    ("flow", "free", "clear", "verdict"),
    [
        (400, "200 in2", "1 in", "go_with_trim"),
        (400, "199.8 in2", "1 in", "conflict"),
        (400, "200 in2", "15/16 in", "conflict"),
        (200, "100 in2", "5/8 in", "go_with_trim"),
    ],
)
def test_what_florida_lists_in_place_of_the_pressure_does(flow: int, free: str, clear: str, verdict: str) -> None:
    """Mechanical 601.4, exception 2, as quoted: 50 in2 per 100 cfm beside an unrestricted undercut of 1 in.

    Of 400 cfm 230 in2 carry 1.07 * 230 * sqrt(2.5) = 389 at 2.5 Pa, and 200 cfm pass 119 in2, 201, whatever is listed.
    """
    grille = {"kind": "grille", "width": "20 in", "height": "20 in", "free_area": free}
    air = {"supply_flow": f"{flow} cfm", "other_paths": [grille]}
    stands = {"frame": {"undercut": "1/4 in"}, "project_rules": {"hard_floor_clearance": clear}}  # the rest is cut
    told = assessed(door(PLANKS, jurisdiction="US-FL", leaf={"core": "solid"}, air=air, **stands))
    assert told.verdict == verdict
    listed = [c.status for c in told.checks if c.rule in ("us-fl-transfer-grille", "us-fl-grille-undercut")]
    assert listed == (["pass"] * 2 if flow == 400 and verdict != "conflict" else ["not_checked"] * 2)
    assert ("prescribed_grille" in [way.kind for way in told.air.ways_out]) is (verdict == "conflict")


def test_nothing_passes_below_a_leaf_that_reaches_the_floor() -> None:
    """Steel isn't cut: 3/4 in of undercut over 3/4 in of wood, the legs on the subfloor as they were set."""
    wood = floor("solid_wood 3/4 in")
    frame = {"state": "set", "foot": "0 in", "undercut": "3/4 in"}
    request = door(pull_side=wood, push_side=wood, leaf={"core": "steel"}, frame=frame, duties=["transfer_air"])
    told = advised(door(request, air={"supply_flow": "60 cfm", "pressure_limit": "3 Pa"}))["air"]
    assert (told["gap"]["in"], told["flow_at_limit"]["L_s"], told["flow_at_limit_high"]["L_s"]) == (0, 0, 0)
