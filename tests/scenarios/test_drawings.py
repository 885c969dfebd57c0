"""Drawings of the sandbox's openings hold what a reader would look for in them, by structure and not by bytes."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from tests.unit.render.test_drawing import dimensions, flat, parsed, shown

from jambset.main import read_sandbox, sandbox_folder
from jambset.render.hatch import HATCHES
from jambset.render.language import ENGLISH
from jambset.render.section_advice import section
from jambset.render.shapes import Drawing, Stroke, Text
from jambset.render.svg import svg_of

GOLDEN = tomllib.loads((Path(__file__).parent / "drawings.toml").read_text("utf-8"))["drawing"]
ANSWERS = {scenario.scenario: scenario.response for scenario in read_sandbox(sandbox_folder())}


def key(drawing: Drawing, side: str) -> list[str]:
    """The layers named in the key of a side, each as its body and thickness: told by hatch, not by name."""
    shapes = list(flat(drawing.shapes))
    start = next(n for n, shape in enumerate(shapes) if isinstance(shape, Text) and shape.text == side)
    column = shapes[start].x  # type: ignore[union-attr]
    found: list[str] = []
    for before, shape in zip(shapes[start:], shapes[start + 1 :], strict=False):
        if isinstance(before, Stroke) and before.closed and isinstance(shape, Stroke):
            left, top, right, bottom = *before.lines[0][0], *before.lines[0][2]
            if left == column:
                found.append(
                    next(body for body in HATCHES if tuple(HATCHES[body]((left, top, right, bottom))) == shape.lines)
                )
        if isinstance(shape, Text) and shape.bold and found and shape.x == column + 31:
            found[-1] += f" {shape.text}"
    return found


@pytest.mark.parametrize("golden", GOLDEN, ids=[golden["scenario"] for golden in GOLDEN])
def test_a_drawing_shows_what_its_reader_looks_for(golden: Any) -> None:
    drawing = section(ANSWERS[golden["scenario"]], ENGLISH)
    found = dimensions(parsed(svg_of(drawing, language="en").encode()))
    assert {kind.removeprefix("of-"): shown(group) for kind, group in found.items()} == golden["dimensions"]
    assert key(drawing, "Pull side, from the top") == golden["pull"]
    assert key(drawing, "Push side, from the top") == golden["push"]
    told = " ".join(shape.text for shape in flat(drawing.shapes) if isinstance(shape, Text))
    assert f"Heights are drawn {golden['larger']} times as large as widths." in told
