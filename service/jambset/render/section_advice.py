"""The section of an advice: where the leg is to end and what comes off the leaf, by which rules."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from jambset.render.dimension import Dimension
from jambset.render.language import Language
from jambset.render.section import CASING, Own, Says, Scale, Subject, drawn, upright
from jambset.render.shapes import Drawing
from jambset.render.wire import Wire, leaf_bottom, mm, step_of, text


def section(advice: Wire, language: Language, *, keyed: bool = True) -> Drawing:
    """The section of an opening as it is advised. keyed: with the names of all layers and the rules."""
    own = Own(
        title=language.sentences["draw.section"].format(mark=advice["mark"]),
        left=_foot,
        right=_trim,
        notes=_unseen,
        below=governed,
        missed={},
    )
    return drawn(subject(advice), own, language, keyed=keyed)


def subject(advice: Wire) -> Subject:
    """What there is to show. A leaf whose bottom isn't known is drawn clear of the floors."""
    taken, setting = advice["taken"], advice["setting"]
    stands = float(taken["subfloor"]["hinge_leg"]["mm"])
    bottom = leaf_bottom(advice)
    it = Subject(
        answer=advice,
        ground=float(taken["subfloor"]["under_leaf"]["mm"]),
        stands=stands,
        foot=stands + float(setting["hinge_leg"]["block"]["mm"]),
        bottom=bottom,
        ends=("leaf", "bottom") if "bottom" in advice["leaf"] else None,
        blocked=True,
        then=bottom - (mm(advice, "leaf", "trim") or 0.0),
        thick=float(taken["leaf_thickness"]["mm"]),
    )
    clear = max(bottom, it.highest + 6)
    return replace(it, bottom=clear, then=clear) if it.ends is None else it


def _foot(it: Subject, scale: Scale, says: Says) -> Iterator[Dimension]:
    """How high the legs end, and what is done to the one that is seen where that is another number."""
    foot, leg = it.answer["setting"]["foot"], it.answer["setting"]["hinge_leg"]
    x = scale.x(0) - CASING - 50
    yield upright("setting.foot", says["draw.foot"], foot["text"], x, scale.datum, scale.y(float(foot["mm"])))
    at = scale.x(0) - CASING / 2
    if leg["trim"]["mm"]:
        name, ends = says[_leg_trim(it.answer)].format(leg=says["draw.hinge_leg"]), ((at, scale.y(it.foot)),) * 2
        yield Dimension("setting.hinge_leg.trim", name, leg["trim"]["text"], ends, scaled=False)
    elif leg["block"]["mm"] != foot["mm"]:
        name = says["draw.block"].format(leg=says["draw.hinge_leg"])
        low, high = scale.y(it.stands), scale.y(it.foot)
        yield upright("setting.hinge_leg.block", name, leg["block"]["text"], at, low, high)


def _trim(it: Subject, scale: Scale, says: Says) -> Iterator[Dimension]:
    """What comes off the leaf, and of that what is cut first, where the rest waits."""
    leaf, push = it.answer["leaf"], scale.x(it.thick)
    if mm(leaf, "trim"):
        low, high = scale.y(it.then), scale.y(it.bottom)
        yield upright("leaf.trim", says["draw.trim"], text(leaf, "trim"), push + 9, low, high, push, push)
    if "trim_rest" in leaf:
        low, high = scale.y(it.then), scale.y(it.then + float(leaf["trim_now"]["mm"]))
        yield upright("leaf.trim_now", says["draw.trim_now"], text(leaf, "trim_now"), push + 17, low, high, push)


def _leg_trim(advice: Wire) -> str:
    """Code for a leg shorter than made: nobody cuts one of a frame that is set already."""
    steps = [step_of(task, advice) for task in advice["tasks"]]
    return "draw.leg_trim" if "set-frame" in steps else "draw.leg_shorter"


def _unseen(it: Subject, says: Says) -> Iterator[str]:
    """What is done to the leg that isn't seen, where that is another number than the legs' height."""
    setting = it.answer["setting"]
    for name in ("strike_leg", "second_hinge_leg"):
        if name not in setting:
            continue
        leg, of = setting[name], says[f"draw.{name}"]
        if leg["trim"]["mm"]:
            yield says["draw.unseen"].format(what=says[_leg_trim(it.answer)].format(leg=of), value=text(leg, "trim"))
        elif leg["block"]["mm"] != setting["foot"]["mm"]:
            yield says["draw.unseen"].format(what=says["draw.block"].format(leg=of), value=text(leg, "block"))


def governed(advice: Wire, language: Language) -> Iterator[str]:
    """The rules that settled the leaf and the foot, by their titles."""
    says = language.sentences
    titles = {s["rule"]: f"{s['title']} ({says['code.' + s['force']]})" for s in advice["sources"]}
    for code, part in (("draw.leaf_by", "leaf"), ("draw.foot_by", "setting")):
        names = [titles.get(rule, says.get(f"standing.{rule}", rule)) for rule in advice[part]["governed_by"]]
        if names:
            yield says[code].format(rules="; ".join(names))
