"""How rules may bound each quantity. A new quantity gets a row here and its reader in the engine."""

from __future__ import annotations

from typing import NamedTuple

from jambset.quantity.ticks import INCH
from jambset.rules.schema import Measured, Relation

_LEAST, _MOST = (Relation.AT_LEAST,), (Relation.AT_MOST,)
EITHER = _LEAST + _MOST


class Bounded(NamedTuple):
    """How a rule bounds a quantity: by which of its fields, in which relations, and in what plausible range.

    The engine reads a quantity in these relations alone; a rule with the other would be applied the wrong way round.
    The range catches a wrong unit or a slipped digit, both ends allowed; ticks, m², Pa, ratios.
    """

    field: str
    relations: tuple[Relation, ...]
    least: float
    greatest: float


BOUNDED: dict[Measured, Bounded] = {
    Measured.FOOT: Bounded("length", EITHER, 0, 4 * INCH),
    Measured.LEG_COVER: Bounded("length", _LEAST, 0, 2 * INCH),
    Measured.LEAF_BOTTOM: Bounded("length", EITHER, 0, 4 * INCH),
    Measured.FLOOR_CLEARANCE: Bounded("length", EITHER, 0, 3 * INCH),
    Measured.PIECE_CLEARANCE: Bounded("length", EITHER, 0, 2 * INCH),
    Measured.LEG_TRIM: Bounded("length", _MOST, 0, 4 * INCH),
    Measured.TRIM: Bounded("length", _MOST, 0, 4 * INCH),
    Measured.HEAD_SHIM: Bounded("length", _LEAST, 0, INCH),
    Measured.CLEAR_HEIGHT: Bounded("length", _LEAST, 60 * INCH, 96 * INCH),
    Measured.OPENING_HEIGHT: Bounded("length", _LEAST, 60 * INCH, 96 * INCH),
    Measured.PILE: Bounded("length", _MOST, 0, INCH),
    Measured.THRESHOLD_HEIGHT: Bounded("length", _MOST, 0, 8 * INCH),
    Measured.VERTICAL_EDGE: Bounded("length", _MOST, 0, INCH),
    Measured.UNRAMPED_CHANGE: Bounded("length", _MOST, 0, 2 * INCH),
    Measured.GRILLE_UNDERCUT: Bounded("length", _LEAST, 0, 3 * INCH),
    Measured.FREE_AREA: Bounded("area", _LEAST, 1e-3, 0.2),
    Measured.DISTURBED_AREA: Bounded("area", _MOST, 0.05, 3.0),
    Measured.ROOM_PRESSURE: Bounded("pressure", _MOST, 0.5, 15.0),
    Measured.BEVEL_SLOPE: Bounded("ratio", _MOST, 0.1, 1.0),
    Measured.RAMP_SLOPE: Bounded("ratio", _MOST, 0.02, 0.2),
    Measured.GRILLE_AREA_PER_FLOW: Bounded("ratio", _LEAST, 0.1, 5.0),
}
LENGTHS = frozenset([measured for measured, bounded in BOUNDED.items() if bounded.field == "length"])
