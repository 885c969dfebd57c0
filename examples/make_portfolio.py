"""Writes an invented portfolio: openings as they were set, each on a line as POST /v1/openings/recheck takes it.

python examples/make_portfolio.py COUNT FILE [SEED]

Houses of eight doors in three places: rooms, floors and their thicknesses, leaves, legs, trims, duties and air are
drawn from lists, the same for the same seed. A longer portfolio begins with the lines of a shorter one. Standard
library only.
"""

import json
import random
import sys
from collections.abc import Iterator, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any

Wire = dict[str, Any]

DOORS = 8
PLACES = ("US", "US", "US", "US-FL", "GB-ENG")
BUILDINGS = ("detached_house", "detached_house", "townhouse", "apartment")
PERMITS = (None, None, "2012-03-01", "2018-09-15", "2024-05-02")
CORES = ("hollow", "hollow", "hollow", "solid", "mdf", "stile_and_rail")
ROOMS = {
    "bedroom": ("carpet", "carpet", "loop", "plank", "wood"),
    "bath": ("tile", "tile", "sheet", "plank"),
    "closet": ("carpet", "plank", "wood"),
    "laundry": ("tile", "sheet", "plank"),
    "living": ("wood", "engineered", "plank", "laminate"),
}
HALL = ("carpet", "plank", "plank", "wood", "engineered", "laminate", "tile")
FLOORS: dict[str, tuple[tuple[str, Sequence[int]], ...]] = {
    "carpet": (("carpet_cushion", (6, 7, 8)), ("carpet", (6, 8, 10))),
    "loop": (("cushion_rubber_flat", (4, 5, 6)), ("carpet_loop", (4, 5))),
    "plank": (("vinyl_plank", (3, 4, 5)),),
    "laminate": (("foam_underlay", (1, 2)), ("laminate", (5, 6, 8))),
    "engineered": (("engineered_wood", (6, 8, 10)),),
    "wood": (("solid_wood", (8, 12)),),
    "tile": (("backer_board", (4, 8)), ("thin_bed_mortar", (2, 3)), ("ceramic_tile", (5, 6, 8))),
    "sheet": (("plywood_underlay", (4, 6)), ("sheet_vinyl", (2,))),
}
"""Layers from the subfloor up, each with the thicknesses it is sold or laid in [1/16 in]."""


class Tape:
    """What a place measures with. Lengths are whole marks: sixteenths of an inch, or millimetres."""

    def __init__(self, place: str) -> None:
        self.metric = place == "GB-ENG"

    def marks(self, sixteenths: int) -> int:
        """A size in the nearest marks."""
        return round(sixteenths * 1.5875) if self.metric else sixteenths

    def text(self, marks: int) -> str:
        """So many marks in the notation of a request."""
        if self.metric:
            return f"{marks} mm"
        whole, rest = divmod(marks, 16)
        parts = (str(whole) if whole or not rest else "", str(Fraction(rest, 16)) if rest else "")
        return f"{' '.join(filter(None, parts))} in"

    def size(self, sixteenths: int) -> str:
        """A size in the notation of a request."""
        return self.text(self.marks(sixteenths))


def floor(kinds: Sequence[str], chance: random.Random, tape: Tape) -> tuple[list[Wire], int]:
    """A build-up, and its height in marks."""
    drawn = [(material, tape.marks(chance.choice(sizes))) for material, sizes in FLOORS[chance.choice(kinds)]]
    return [{"material": name, "thickness": tape.text(marks)} for name, marks in drawn], sum(m for _, m in drawn)


def as_set(undercut: int, floors: tuple[int, int], chance: random.Random, tape: Tape) -> Wire:
    """Where the legs ended and the leaf: most for the floors that lie, the others for floors that never came.

    The leaf's bottom is given above the subfloor, or as the gap over the pull side's floor.
    """
    wanted = max(floors) + tape.marks(chance.choice((6, 7, 8, 10, 12)))
    foot, bottom = 0, min(max(undercut, wanted), undercut + tape.marks(8))
    if chance.random() < 0.3:
        foot = tape.marks(chance.choice((0, 2, 4, 6, 8)))
        bottom = foot + undercut + tape.marks(chance.choice((0, 0, 0, 2, 4, 8)))
    if bottom > floors[0] and chance.random() < 0.3:
        return {"foot": tape.text(foot), "gaps": {"pull_side": tape.text(bottom - floors[0])}}
    return {"foot": tape.text(foot), "leaf_bottom": tape.text(bottom)}


def duties(use: str, building: str, core: str, chance: random.Random) -> Wire:
    """What is asked of a door, and the air behind it."""
    if use == "bedroom" and chance.random() < 0.6:
        air = {"supply_flow": f"{chance.randrange(30, 130, 5)} cfm", "pressure_limit": "3 Pa"}
        return {"duties": ["transfer_air"], "air": air}
    if building == "apartment" and core == "solid" and chance.random() < 0.5:
        return {"duties": ["fire_label"]}
    if building == "apartment" and chance.random() < 0.3:
        return {"duties": ["accessible_route"]}
    return {}


def opening(mark: str, house: Wire, chance: random.Random) -> Wire:
    """One opening of a house, as it was set."""
    tape, use = Tape(house["jurisdiction"]), chance.choice(list(ROOMS))
    undercut, core = tape.marks(chance.choice((8, 12, 16, 16, 20))), chance.choice(CORES)
    pull, push = floor(ROOMS[use], chance, tape), floor(HALL, chance, tape)
    made: Wire = {
        **house,
        "mark": mark,
        "leaf": {
            "width": tape.size(16 * chance.choice((24, 27, 28, 30, 30, 32, 33, 36))),
            "height": tape.size(16 * chance.choice((78, 80, 80, 84) if not tape.metric else (78, 78, 80))),
            "thickness": tape.size(28 if core == "solid" else 22),
            "core": core,
        },
        "frame": {"undercut": tape.text(undercut), "head_gap": tape.size(2), "head_thickness": tape.size(11)},
        "pull_side": {"room": use, "use": use, "build_up": pull[0]},
        "push_side": {"room": "hall", "use": "hall", "build_up": push[0]},
        "as_set": as_set(undercut, (pull[1], push[1]), chance, tape),
        **duties(use, house["building"]["use"], core, chance),
    }
    if "leaf_bottom" in made["as_set"] and chance.random() < 0.2:
        made["subfloor"] = {"kind": "legs", "hinge_leg": tape.size(0), "strike_leg": tape.size(chance.randrange(4))}
    return made


def portfolio(count: int, seed: int = 1) -> Iterator[Wire]:
    """So many openings, house by house."""
    chance = random.Random(seed)  # noqa: S311 (nobody has to be kept from guessing it)
    house: Wire = {}
    for place in range(count):
        if place % DOORS == 0:
            house = {"jurisdiction": chance.choice(PLACES), "building": {"use": chance.choice(BUILDINGS)}}
            house |= {"as_of": permit} if (permit := chance.choice(PERMITS)) else {}
        yield opening(f"{place // DOORS + 1}-D{place % DOORS + 1}", house, chance)


def main(count: str, file: str, seed: str = "1") -> None:
    with Path(file).open("w", encoding="utf-8", newline="\n") as lines:
        lines.writelines(f"{json.dumps(one)}\n" for one in portfolio(int(count), int(seed)))


if __name__ == "__main__":
    main(*sys.argv[1:])
