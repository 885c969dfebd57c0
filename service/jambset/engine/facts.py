"""From a request to the facts the rules ask about: floor tops, subfloor, frame, what is assumed.

Everything that can be wrong with a readable request is found here, all at once; after that the engine
never fails.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from msgspec import UNSET, Struct, UnsetType
from msgspec.structs import replace

from jambset.engine.answers import answer_faults
from jambset.engine.contradictions import (
    REPEATED,
    angle_faults,
    certainty_faults,
    day_faults,
    foot_faults,
    grille_faults,
    height_faults,
    is_repeated,
    parts_of,
    weight_faults,
)
from jambset.engine.floors import Floor, Unusual, build_up_faults, doubt, floor_of, is_loose
from jambset.engine.swing import Ground, ground
from jambset.errors import FieldError, refusal, unknown
from jambset.model.advice import WHOLE, Assumption, Phrase, Term
from jambset.model.request import Alternative, Certainty, Duty, FrameState, Grille, Layer, Leaf, Opening, Side
from jambset.quantity.grid import GRIDS, Grid
from jambset.quantity.ticks import Length
from jambset.rules import naming
from jambset.rules.schema import Catalogue, Defaults, FinishKind

PULL, PUSH = "pull_side", "push_side"


class SideFacts(Struct, frozen=True, gc=False):
    """One side of the opening: its floor (none when undecided), and the floors it may become.

    others: with a likelihood each, in parts of WHOLE; what they leave is the floor's. confirmed: whether somebody
    has confirmed the floor. listed: whether all that may come is known, by that or by a list, which may name one floor
    twice. layers, pointer: the floor's build-up and where the request has it. unusual: of all these
    floors, with pointers to their thickness. doubt: by how much typical thicknesses of the floor may lie off [ticks].
    loose: whether nobody states how the carpet of the build-up is held. assumed: of the build-up's layers.
    """

    name: str
    floor: Floor | None
    others: tuple[tuple[Floor, int], ...]
    rug: int
    room: str | UnsetType
    confirmed: bool
    listed: bool
    layers: tuple[Layer, ...]
    pointer: str
    unusual: tuple[tuple[str, Unusual], ...]
    doubt: int
    loose: bool
    assumed: tuple[Assumption, ...]

    @property
    def kind(self) -> FinishKind:
        """What its finish is now said to be."""
        return self.floor.kind if self.floor else FinishKind.UNDECIDED

    @property
    def certain(self) -> bool:
        """Whether its floor is named and confirmed, and can't become another."""
        return self.floor is not None and self.confirmed and not self.others

    @property
    def floors(self) -> tuple[tuple[Floor, int], ...]:
        """Its floor and all it may become, each with its likelihood in parts of WHOLE; they sum to WHOLE."""
        if self.floor is None or not self.others:
            return self.others if self.floor is None else ((self.floor, WHOLE),)
        return ((self.floor, WHOLE - sum([weight for _, weight in self.others])), *self.others)


class Pass(Struct, frozen=True, gc=False):
    """A named floor that the leaf passes, and the highest subfloor it passes there [ticks].

    The leaf swings over the pull side and only closes over the push side.
    """

    side: str
    floor: Floor
    under: int
    rug: int


class Facts(Struct, frozen=True, gc=False):
    """Everything known of the opening, lengths in ticks. None is unknown."""

    opening: Opening
    grid: Grid
    pull: SideFacts
    push: SideFacts
    ground: Ground
    duties: frozenset[Duty]
    """The caller's, and the fire label of a leaf whose rating is stated."""
    as_set: int | None
    """Foot at which a frame that is fixed already stands; None where it isn't fixed or nobody measured it."""
    undercut: int | None
    above_leaf: int
    """Leaf height, gap at the head and thickness of the head together."""
    leaf_and_gap: int
    legs: int
    """Thickness of a jamb leg."""
    stop: int
    header: int | None
    width_needed: int
    slot_width: int
    defaults: Defaults
    assumptions: tuple[Assumption, ...]

    @property
    def sides(self) -> tuple[SideFacts, SideFacts]:
        """Pull side first."""
        return (self.pull, self.push)

    @property
    def decided(self) -> bool:
        """Whether both floors are named."""
        return self.pull.floor is not None and self.push.floor is not None

    @property
    def certain(self) -> bool:
        """Whether both floors are certain."""
        return self.pull.certain and self.push.certain

    @property
    def weighed(self) -> bool:
        """Whether settings are weighed: a floor isn't certain, and all that may come are listed."""
        return not self.certain and all(side.floors for side in self.sides)

    @property
    def undercut_free(self) -> bool:
        """Whether the undercut may still be chosen: the unit is to be ordered, and nobody says with which."""
        return self.undercut is None and self.opening.frame.state is FrameState.TO_ORDER

    @property
    def piece(self) -> str | UnsetType:
        """The transition piece that the request names."""
        chosen = self.opening.transition
        return UNSET if chosen is UNSET else chosen.piece

    @property
    def piece_rise(self) -> Length | UnsetType:
        """How high the request says that the piece stands above the higher finish [ticks]."""
        chosen = self.opening.transition
        return UNSET if chosen is UNSET else chosen.rise

    def passes(self, finish: FinishKind | UnsetType = UNSET) -> list[Pass]:
        """Named floors, pull side first, of the finish that a rule asks for; of UNSET, all of them."""
        sides = ((self.pull, self.ground.swing_high), (self.push, self.ground.closed_high))
        return [
            Pass(side.name, side.floor, under, side.rug)
            for side, under in sides
            if side.floor is not None and finish in (UNSET, side.floor.kind)
        ]

    @property
    def gauge_known(self) -> bool:
        """Whether survey points stand near enough to tell the floor under both ends of each leaf at its cut."""
        return all(max(ends) <= self.defaults.survey_reach for ends in self.ground.gauge_distance)


def narrow_by(facts: Facts) -> int:
    """By how much the rough opening is narrower than frame and shims want [ticks]; 0 where it isn't, or isn't known."""
    hole = facts.opening.rough_opening
    return 0 if hole is UNSET or hole.width is UNSET else max(0, facts.width_needed - hole.width)


def grid_of(opening: Opening, catalogue: Catalogue) -> Grid:
    """The grid of an answer: the caller's, or the custom of the place. Raises KeyError for an unknown one."""
    if opening.grid is not UNSET:
        return GRIDS[opening.grid]
    return GRIDS[catalogue.jurisdictions[opening.jurisdiction].grid]


def faults(opening: Opening, catalogue: Catalogue) -> tuple[FieldError, ...]:
    """All that is wrong with a readable request, by field."""
    pull, push = opening.pull_side, opening.push_side
    return (
        *_name_faults(opening, catalogue),
        *(answer_faults(opening, catalogue) if opening.answered else ()),
        *_side_faults(PULL, pull.build_up, pull.could_become, pull.certainty, catalogue),
        *_side_faults(PUSH, push.build_up, push.could_become, push.certainty, catalogue),
        *_shape_faults(opening),
    )


def gather(opening: Opening, catalogue: Catalogue) -> Facts:
    """Facts of an opening. Raises InvalidRequest with every fault when there is one."""
    if found := faults(opening, catalogue):
        raise refusal(found)
    return _facts(opening, catalogue)


def _name_faults(opening: Opening, catalogue: Catalogue) -> Iterator[FieldError]:
    if opening.jurisdiction not in catalogue.jurisdictions:
        yield unknown("#/jurisdiction", opening.jurisdiction, naming.places(catalogue))
    if opening.grid is not UNSET and opening.grid not in GRIDS:
        yield unknown("#/grid", opening.grid, naming.GRID_NAMES)
    if opening.rule_set is not UNSET and opening.rule_set != catalogue.version:
        yield unknown("#/rule_set", opening.rule_set, naming.versions(catalogue))
    yield from day_faults(opening.as_of, catalogue)
    if opening.transition is not UNSET and isinstance(opening.transition.piece, str):
        pieces = naming.pieces(catalogue)
        if opening.transition.piece not in pieces.names:
            yield unknown("#/transition/piece", opening.transition.piece, pieces)


@lru_cache(maxsize=256)
def _side_faults(
    name: str,
    build_up: tuple[Layer, ...] | UnsetType,
    could_become: tuple[Alternative, ...],
    certainty: Certainty | UnsetType,
    catalogue: Catalogue,
) -> tuple[FieldError, ...]:
    found: list[FieldError] = []
    if build_up is not UNSET:
        found += build_up_faults(f"#/{name}/build_up", build_up, catalogue)
    for place, other in enumerate(could_become):
        found += build_up_faults(f"#/{name}/could_become/{place}/build_up", other.build_up, catalogue)
    named = build_up is not UNSET
    weights = [other.weight for other in could_become]
    found += certainty_faults(f"#/{name}", certainty, named=named, weights=weights)
    found += weight_faults(f"#/{name}", weights, named=named)
    return tuple(found)


def _shape_faults(opening: Opening) -> Iterator[FieldError]:
    leaf, hole, frame = opening.leaf, opening.rough_opening, opening.frame
    if is_repeated(opening.duties):
        yield FieldError("#/duties", "repeated", REPEATED)
    yield from foot_faults(frame.foot, frame.state)
    yield from height_faults(hole=UNSET if hole is UNSET else hole.height, leaf=leaf.height)
    yield from angle_faults(cut_angle=leaf.cut_angle, opening_angle=leaf.opening_angle)
    for place, path in enumerate(opening.air.other_paths):
        if isinstance(path, Grille):
            at = f"#/air/other_paths/{place}"
            yield from grille_faults(at, width=path.width, height=path.height, free_area=path.free_area)


def _facts(opening: Opening, catalogue: Catalogue) -> Facts:
    d = catalogue.defaults
    frame, leaf = opening.frame, opening.leaf
    head_gap = _or(frame.head_gap, d.head_gap)
    head = _or(frame.head_thickness, d.head_thickness)
    legs = _or(frame.leg_thickness, d.leg_thickness)
    pull, push = _side(PULL, opening.pull_side, catalogue), _side(PUSH, opening.push_side, catalogue)
    return Facts(  # the first by place: with more than 15 by name, a call goes by way of a dict and takes far longer
        opening,
        grid_of(opening, catalogue),
        pull,
        push,
        ground_of(opening, catalogue),
        duties=duties_of(opening),
        as_set=None if frame.foot is UNSET else int(frame.foot),
        undercut=None if frame.undercut is UNSET else int(frame.undercut),
        above_leaf=leaf.height + head_gap + head,
        leaf_and_gap=leaf.height + head_gap,
        legs=legs,
        stop=_or(frame.stop_thickness, d.stop_thickness),
        header=None if opening.rough_opening is UNSET else int(opening.rough_opening.height),
        width_needed=_between_legs(leaf, d) + 2 * legs + d.side_shims,
        slot_width=leaf.width * leaf.count,
        defaults=d,
        assumptions=_assumptions(opening, (pull, push), catalogue),
    )


def _between_legs(leaf: Leaf, defaults: Defaults) -> int:
    """Width of the leaves and of the gaps beside and between them [ticks]."""
    return leaf.width * leaf.count + defaults.side_gaps + defaults.meeting_gap * (leaf.count - 1)


def ground_of(opening: Opening, catalogue: Catalogue) -> Ground:
    """What the subfloor is like under an opening."""
    leaf = opening.leaf
    return ground(
        opening.subfloor,
        leaf_width=leaf.width,
        count=leaf.count,
        opening_angle=leaf.opening_angle,
        cut_angle=cut_angle(opening),
        total_width=_between_legs(leaf, catalogue.defaults),
    )


def under(facts: Facts, pull: Floor | None, push: Floor | None) -> Facts:
    """The same opening once these two floors are certain; None: that one isn't and nothing is known of it."""
    sides = (
        replace(side, floor=floor, others=(), confirmed=True)
        for side, floor in zip(facts.sides, (pull, push), strict=True)
    )
    one, other = sides
    return replace(facts, pull=one, push=other)


def duties_of(opening: Opening) -> frozenset[Duty]:
    """Duties of an opening: a leaf rated for any minutes is a labelled one, whatever the caller calls it."""
    rated = opening.leaf.fire_minutes is not UNSET
    return frozenset((*opening.duties, Duty.FIRE_LABEL)) if rated else frozenset(opening.duties)


def _or(given: Length | UnsetType, otherwise: Length) -> int:
    return int(otherwise) if given is UNSET else int(given)


def cut_angle(opening: Opening) -> float:
    """Angle at which the hung leaf is held to be cut: the caller's, else square to the opening or as far as it goes."""
    leaf = opening.leaf
    return min(90.0, leaf.opening_angle) if leaf.cut_angle is UNSET else leaf.cut_angle


def _side(name: str, side: Side, catalogue: Catalogue) -> SideFacts:
    rug = 0 if side.rug is UNSET else int(side.rug)
    planned = _planned(name, side.build_up, side.could_become, side.certainty, catalogue)
    return replace(planned, room=side.room, rug=rug)


@lru_cache(maxsize=256)
def _planned(
    name: str,
    build_up: tuple[Layer, ...] | UnsetType,
    could_become: tuple[Alternative, ...],
    certainty: Certainty | UnsetType,
    catalogue: Catalogue,
) -> SideFacts:
    """The facts of a side but for its room and rug; the same floors are planned at many openings.

    A floor that surely comes is the side's floor, wherever the request has it.
    """
    coming = _likely(build_up, could_become, certainty)
    every = [(place, layers, weight, floor_of(layers, catalogue)) for place, layers, weight in coming if weight]
    likely = every if len(every) < 2 else list(_apart(every))
    named = bool(likely) and (likely[0][0] == BUILD_UP or len(likely) == 1)
    pointer, layers, _, floor = likely[0] if named else ("", (), 0, None)
    confirmed = _is_sure(could_become, certainty, every)
    return SideFacts(
        name=name,
        floor=floor,
        others=tuple([(other, weight) for _, _, weight, other in (likely[1:] if named else likely)]),
        rug=0,
        room=UNSET,
        confirmed=confirmed,
        listed=confirmed or len(every) > 1,
        layers=layers,
        pointer=f"#/{name}/{pointer}",
        unusual=tuple(
            [(f"#/{name}/{place}/{one.place}/thickness", one) for place, _, _, up in every for one in up.unusual]
        ),
        doubt=doubt(layers, catalogue),
        loose=bool(layers) and is_loose(layers, catalogue),
        assumed=tuple(_layer_assumptions(f"#/{name}/{pointer}", layers, catalogue)),
    )


_Likely = tuple[str, tuple[Layer, ...], int, Floor]
"""A floor that may come: where the request has it, its layers, its likelihood in parts of WHOLE, and what they make."""


def _apart(every: list[_Likely]) -> Iterator[_Likely]:
    """Each floor once, as likely as all those together that make the same of it."""
    weights: dict[Floor, int] = {}
    for _, _, weight, floor in every:
        weights[floor] = weights.get(floor, 0) + weight
    for place, layers, _, floor in every:
        if floor in weights:
            yield place, layers, weights.pop(floor), floor


def _is_sure(could_become: tuple[Alternative, ...], certainty: Certainty | UnsetType, every: list[_Likely]) -> bool:
    """Whether a side's floor is confirmed: the build-up, or an alternative by a weight of 1 where no other can come.

    every: the floors that may come.
    """
    if could_become:
        certain = WHOLE in [weight for _, _, weight, _ in every]
        return certain and any(other.weight == 1 for other in could_become)
    return certainty in (UNSET, Certainty.CONFIRMED)


BUILD_UP = "build_up"


def _likely(
    build_up: tuple[Layer, ...] | UnsetType, could_become: tuple[Alternative, ...], certainty: Certainty | UnsetType
) -> list[tuple[str, tuple[Layer, ...], int]]:
    """The floors that may come: where the request has them, their layers, their likelihood in parts of WHOLE."""
    if not could_become:
        if build_up is UNSET or certainty is Certainty.UNDECIDED:
            return []
        return [(BUILD_UP, build_up, WHOLE)]
    named = [] if build_up is UNSET else [(BUILD_UP, build_up, UNSET)]
    others = [(f"could_become/{n}/build_up", o.build_up, o.weight) for n, o in enumerate(could_become)]
    floors: list[tuple[str, tuple[Layer, ...], float | UnsetType]] = [*named, *others]
    sharing = sum([weight is UNSET for _, _, weight in floors]) or 1
    share, odd = divmod(WHOLE - sum([parts_of(w) for _, _, w in floors if w is not UNSET]), sharing)
    found = []
    for place, up, weight in floors:
        parts = share + odd if weight is UNSET else parts_of(weight)
        found.append((place, up, parts))
        odd = 0 if weight is UNSET else odd
    return found


def _assumptions(opening: Opening, sides: tuple[SideFacts, ...], catalogue: Catalogue) -> tuple[Assumption, ...]:
    d, frame = catalogue.defaults, opening.frame
    found: list[Assumption] = []
    if frame.head_gap is UNSET:
        found.append(_of_frame("head_gap", d.head_gap))
    if frame.head_thickness is UNSET:
        found.append(_of_frame("head_thickness", d.head_thickness))
    if frame.leg_thickness is UNSET:
        found.append(_of_frame("leg_thickness", d.leg_thickness))
    if frame.state is FrameState.SET and frame.foot is UNSET:
        found.append(_SET_AS_ADVISED)
    if opening.subfloor is UNSET:
        found.append(_LEVEL)
    for side in sides:
        found.extend(side.assumed)
    return tuple(found)


# The same is assumed of many openings: it is said once.

_SET_AS_ADVISED = Assumption(pointer="#/frame/foot", text=Phrase("assumed.set_as_advised"))
_LEVEL = Assumption(pointer="#/subfloor", text=Phrase("assumed.subfloor"))


@lru_cache(maxsize=16)
def _of_frame(field: str, value: Length) -> Assumption:
    return Assumption(pointer=f"#/frame/{field}", value=value, text=Phrase(f"assumed.{field}", value=value))


def _layer_assumptions(pointer: str, layers: tuple[Layer, ...], catalogue: Catalogue) -> Iterator[Assumption]:
    for place, layer in enumerate(layers):
        material = catalogue.materials[layer.material]
        if layer.thickness is UNSET:
            text = Phrase(
                "assumed.thickness",
                material=Term(material.title),
                value=material.nominal,
                least=material.least,
                greatest=material.greatest,
            )
            yield Assumption(pointer=f"{pointer}/{place}/thickness", value=material.nominal, text=text)
        elif material.finish == "carpet" and layer.thickness_of is UNSET:
            yield Assumption(pointer=f"{pointer}/{place}/thickness_of", text=Phrase("assumed.carpet_total"))
