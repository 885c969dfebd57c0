"""The section of a recheck: the unit as found, what of it misses a rule, and where a first remedy leaves it."""

from __future__ import annotations

from collections.abc import Iterator

from jambset.render.dimension import Dimension
from jambset.render.language import Language
from jambset.render.section import CASING, LEG, Own, Says, Scale, Subject, drawn, upright
from jambset.render.shapes import Drawing
from jambset.render.wire import SIDES, Wire, mm, text

HINGE, STRIKE = "hinge_leg", "strike_leg"
FEET = ("hinge_foot", "strike_foot")
LEGS = (HINGE, STRIKE)
SEEN = (HINGE, "first_hinge_leg")
"""What findings call the leg that is seen."""
ENDS = {"rubs": "least", "tight": "least", "wide": "greatest", "much_air": "greatest"}
"""Kinds of findings on a gap under the leaf, each with the end of its range that misses a rule."""


def recheck_section(answer: Wire, language: Language, *, keyed: bool = True) -> Drawing:
    """The section of an opening as it was found. keyed: with the names of all layers and what is missed."""
    says = language.sentences
    own = Own(
        title=says["draw.recheck"].format(mark=answer["mark"]),
        left=_left,
        right=_right,
        notes=_notes,
        below=_missed,
        missed=dict(_marks(answer, says)),
    )
    return drawn(subject(answer), own, language, keyed=keyed)


def subject(answer: Wire) -> Subject:
    """What there is to show: the hinge leg of the unit as found, its leaf, and where a first remedy leaves both."""
    taken = answer["taken"]
    bottom = float(answer["found"]["leaf_bottom"]["mm"])
    then = mm(_first(answer), "leaf_bottom")
    return Subject(
        answer=answer,
        ground=float(taken["subfloor"]["under_leaf"]["mm"]),
        stands=float(taken["subfloor"]["hinge_leg"]["mm"]),
        foot=float(answer["found"]["hinge_foot"]["mm"]),
        bottom=bottom,
        ends=("found", "leaf_bottom"),
        blocked=False,
        then=bottom if then is None else then,
        thick=float(taken["leaf_thickness"]["mm"]),
        legs_then=_foot_then(answer) if _is_lower(answer) else None,
    )


def _first(answer: Wire) -> Wire:
    """The first remedy, without one nothing."""
    first: Wire = next(iter(answer["remedies"]), {})
    return first


def _foot_then(answer: Wire) -> float | None:
    """Where the lower leg ends after the first remedy [mm]; None where it is left there, or cut to stand."""
    foot, now = mm(_first(answer), "foot"), min(answer["found"][leg]["mm"] for leg in FEET)
    return None if foot is None or foot < 0 or foot == now else foot


def _is_lower(answer: Wire) -> bool:
    """Whether the leg that is seen then ends where the lower one does: the legs of another unit end alike."""
    hinge, strike = (answer["found"][leg]["mm"] for leg in FEET)
    return "other_unit" in _first(answer).get("steps", ()) or hinge <= strike


# --- dimensions


def _left(it: Subject, scale: Scale, says: Says) -> Iterator[Dimension]:
    """Where the legs end, now and then, and how far the one that is seen shows over the floor of the pull side."""
    beside = scale.x(0) - CASING
    value = text(it.answer, "found", "hinge_foot")
    alike = it.answer["found"]["hinge_foot"] == it.answer["found"]["strike_foot"]
    name = says["draw.foot"] if alike else says["draw.foot_of"].format(leg=says[f"draw.{_seen(it)}"])
    yield upright("found.hinge_foot", name, value, beside - 50, scale.datum, scale.y(it.foot))
    yield from _shows(it, scale, says, "pull_side", beside - 43)
    if it.legs_then is not None:
        value = text(_first(it.answer), "foot")
        yield upright("remedies.0.foot", _then("foot", it, says), value, beside + 4, scale.datum, scale.y(it.legs_then))


def _seen(it: Subject) -> str:
    """The leg that is seen."""
    return SEEN[it.taken["leaves"] > 1]


def _right(it: Subject, scale: Scale, says: Says) -> Iterator[Dimension]:
    """Where the leaf then ends, and how far the leg that is seen shows over the floor of the push side."""
    push = scale.x(it.thick)
    if it.then != it.bottom:
        value = text(_first(it.answer), "leaf_bottom")
        low, high = scale.datum, scale.y(it.then)
        yield upright("remedies.0.leaf_bottom", _then("leaf", it, says), value, push + 9, low, high, None, push)
    yield from _shows(it, scale, says, "push_side", push + LEG + CASING + 14)


def _then(what: str, it: Subject, says: Says) -> str:
    """What is called where something ends after the first remedy; who has to be asked first is asked."""
    name = says[f"draw.then_{what}"]
    return says["draw.ask_first"].format(what=name) if _first(it.answer).get("needs") else name


def _shows(it: Subject, scale: Scale, says: Says, side: str, x: float) -> Iterator[Dimension]:
    """How far the leg that is seen ends above a finish: as found, over the thinnest that it may be."""
    for place, one in enumerate(it.answer["findings"]):
        if one["kind"] == "shows" and one["side"] == side and _is_seen(one):
            amount = one["amount"]
            low, high = scale.y(it.foot - float(amount["mm"])), scale.y(it.foot)
            yield upright(f"findings.{place}.amount", says["draw.shows"], amount["text"], x, low, high)


# --- what is missed


def _marks(answer: Wire, says: Says) -> Iterator[tuple[str, str]]:
    """What is said of each dimension that misses a rule, of several that it misses the one found first."""
    for place, one in reversed([*enumerate(answer["findings"])]):
        if of := _measured(one, place, answer):
            yield of, _fault(one, of, answer, says)


def _measured(one: Wire, place: int, answer: Wire) -> str | None:
    """Where the answer has the number that a finding is about; None where the drawing shows none."""
    kind = one["kind"]
    if kind in ENDS:
        return _gap(one, answer)
    drawn_of = {
        "shows": (f"findings.{place}.amount", _is_seen(one)),
        "little_air": ("air.gap", "gap" in answer["air"]),
        "edge": ("transition.rise", _is_rise(one, answer)),
        "other": ("found.hinge_foot", _is_leg(one, answer)),
    }
    of, is_drawn = drawn_of.get(kind, ("", False))
    return of if is_drawn else None


def _gap(one: Wire, answer: Wire) -> str | None:
    """The gap that a finding is about; without one the leaf's bottom, unless as much is said of a side."""
    over = one.get("side", "piece")
    if over in answer["clearance"] and (over in SIDES or mm(answer, "transition", "rise")):
        return f"clearance.{over}"
    told = any(other["kind"] == one["kind"] and "side" in other for other in answer["findings"])
    return None if told and over not in SIDES else "found.leaf_bottom"


def _checks(one: Wire, answer: Wire) -> Iterator[Wire]:
    """The checks that a finding is about."""
    return (
        check for check in answer["checks"] if check["rule"] == one["rule"] and check.get("side") == one.get("side")
    )


def _is_seen(one: Wire) -> bool:
    """Whether a finding is about the leg that is seen, or both."""
    return one.get("leg", HINGE) in SEEN


def _is_rise(one: Wire, answer: Wire) -> bool:
    """Whether a finding is about how far the piece stands above the higher finish."""
    rise = mm(answer, "transition", "rise")
    return bool(rise) and any(mm(check, "actual") == rise for check in _checks(one, answer))


def _is_leg(one: Wire, answer: Wire) -> bool:
    """Whether a finding is about a leg that ends too high, and the one that is seen ends no lower than the other."""
    level = answer["taken"]["subfloor"]
    hinge, strike = (answer["found"][foot]["mm"] - level[leg]["mm"] for foot, leg in zip(FEET, LEGS, strict=True))
    return hinge >= strike and any(
        check["quantity"] == "leg_cover"
        or (check["quantity"] == "foot" and check["actual"]["mm"] > check["limit"]["mm"])
        for check in _checks(one, answer)
    )


def _fault(one: Wire, of: str, answer: Wire, says: Says) -> str:
    """What is wrong with a dimension; of a gap, with the end of its range that is, where that is another number."""
    told = says["draw.missed"].format(what=says[f"draw.missed.{one['kind']}"], force=says[f"code.{one['force']}"])
    end = ENDS.get(one["kind"], "nominal")
    value, nominal = (text(answer, *of.split("."), name) for name in (end, "nominal"))
    return told if value == nominal else says[f"draw.missed.{end}"].format(value=value, told=told)


def _missed(answer: Wire, language: Language) -> Iterator[str]:
    """All that is found, in words."""
    says = language.sentences
    for one in answer["findings"]:
        yield says["draw.found"].format(force=says[f"code.{one['force']}"], text=one["text"])


def _notes(it: Subject, says: Says) -> Iterator[str]:
    """How what is missed and what is to come are marked, and where the leg that isn't seen ends, if elsewhere."""
    if any(_measured(one, place, it.answer) for place, one in enumerate(it.answer["findings"])):
        yield says["draw.boxed"]
    if it.then != it.bottom or it.legs_then is not None:
        yield says["draw.then"]
    as_found, leg = it.answer["found"], says[f"draw.{'second_hinge_leg' if it.taken['leaves'] > 1 else STRIKE}"]
    if as_found["hinge_foot"] != as_found["strike_foot"]:
        what, value = says["draw.foot_of"].format(leg=leg), text(as_found, "strike_foot")
        yield says["draw.unseen"].format(what=what, value=value)
    if not _is_lower(it.answer) and _foot_then(it.answer) is not None:
        what, value = f"{_then('foot', it, says)}, {leg}", text(_first(it.answer), "foot")
        yield says["draw.unseen"].format(what=what, value=value)
