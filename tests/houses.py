"""Houses in tests and benchmarks: openings as a builder's schedule has them, from a seed.

A house has halls whose doors keep one head line, bedrooms with carpet, baths with tile, and floors that may
change on a share of the sides. Everything is invented.
"""

from __future__ import annotations

import random
from typing import Any

Wire = dict[str, Any]

CARPET = [{"material": "carpet_cushion", "thickness": "7/16 in"}, {"material": "carpet", "thickness": "1/2 in"}]
LOOP = [{"material": "cushion_rubber_flat", "thickness": "1/4 in"}, {"material": "carpet_loop", "thickness": "1/4 in"}]
PLANK = [{"material": "vinyl_plank", "thickness": "1/4 in", "fixing": "floating"}]
WOOD = [{"material": "solid_wood", "thickness": "3/4 in", "fixing": "nailed"}]
ENGINEERED = [{"material": "engineered_wood", "thickness": "1/2 in"}]
TILE = [
    {"material": "backer_board", "thickness": "1/4 in"},
    {"material": "thin_bed_mortar", "thickness": "3/16 in"},
    {"material": "ceramic_tile", "thickness": "3/8 in"},
]
SHEET = [{"material": "sheet_vinyl", "thickness": "1/8 in", "fixing": "glued"}]
FLOORS = (CARPET, LOOP, PLANK, WOOD, ENGINEERED, TILE, SHEET)


def house(
    count: int, *, seed: int = 1, lines: int = 4, alternatives: int = 3, share: float = 0.25, on_line: float = 0.5
) -> Wire:
    """A house of so many openings. share: of the sides that may change; on_line: of the openings on a head line."""
    chance = random.Random(seed)
    openings = [_opening(place, chance, alternatives=alternatives, share=share) for place in range(count)]
    marks = [opening["mark"] for opening in openings]
    halls: list[Wire] = [{"name": f"hall {line + 1}", "marks": []} for line in range(lines)]
    for mark in marks if halls else ():
        if chance.random() < on_line:
            chance.choice(halls)["marks"].append(mark)
    return {
        "house": "made of paper",
        "defaults": {
            "jurisdiction": "US",
            "grid": "1/16 in",
            "leaf": {"width": "30 in", "height": "80 in", "thickness": "1 3/8 in", "core": "hollow"},
            "frame": {"undercut": "1 in", "head_gap": "1/8 in", "head_thickness": "11/16 in"},
            "rough_opening": {"height": "83 in"},
            "subfloor": {"kind": "level"},
        },
        "head_lines": [hall for hall in halls if hall["marks"]],
        "openings": openings,
    }


def _opening(place: int, chance: random.Random, *, alternatives: int, share: float) -> Wire:
    opening: Wire = {
        "mark": f"D{place + 1:03}",
        "leaf": {
            "core": chance.choice(["hollow", "hollow", "solid"]),
            "width": chance.choice(["28 in", "30 in", "32 in"]),
        },
        "frame": {"undercut": chance.choice(["3/4 in", "1 in", "1 in", "1 1/4 in"])},
        "rough_opening": {"height": chance.choice(["82 3/4 in", "83 in", "83 in", "83 1/2 in"])},
        "pull_side": _side(f"room {place + 1}", chance, alternatives=alternatives, share=share),
        "push_side": _side(f"hall {chance.randrange(4) + 1}", chance, alternatives=alternatives, share=share),
    }
    if chance.random() < 0.2:
        legs = {"hinge_leg": "0 in", "strike_leg": chance.choice(["1/16 in", "1/8 in", "3/16 in"])}
        opening["subfloor"] = {"kind": "legs", **legs}
    if chance.random() < 0.2:
        opening["datum"] = chance.choice(["1/16 in", "1/8 in", "-1/8 in"])
    if chance.random() < 0.3:
        opening["duties"] = ["transfer_air"]
        opening["air"] = {"supply_flow": f"{chance.randrange(30, 90, 10)} cfm", "pressure_limit": "3 Pa"}
    return opening


def _side(room: str, chance: random.Random, *, alternatives: int, share: float) -> Wire:
    floors = chance.sample(FLOORS, alternatives + 1)
    side: Wire = {"room": room, "build_up": floors[0]}
    if chance.random() < share:
        side["could_become"] = [
            {"build_up": floor, "weight": chance.choice([0.05, 0.1, 0.2, 0.25])} for floor in floors[1:]
        ]
    return side


def merged(body: Wire) -> list[Wire]:
    """The openings of a house with its defaults, as the service reads them (RFC 7396), written once more for tests."""
    return [_patched(body.get("defaults", {}), opening) for opening in body["openings"]]


def _patched(target: Any, patch: Any) -> Any:
    if not isinstance(patch, dict):
        return patch
    found = dict(target) if isinstance(target, dict) else {}
    for name, value in patch.items():
        if value is None:
            found.pop(name, None)
        else:
            found[name] = _patched(found.get(name), value)
    return found
