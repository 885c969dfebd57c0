"""The lists of a house whose doors are set, as CSV. Reads the answer as it is decoded from JSON and decides nothing."""

from __future__ import annotations

from collections.abc import Iterator

from jambset.render.lists import (
    FAULTS,
    LEFT_OUT,
    ORDER,
    PIECES,
    QUESTIONS,
    TASKS,
    UNDERCUTS,
    Listing,
    each,
    length,
    opening_rows,
    plain,
    rows_of,
)
from jambset.render.wire import Wire, text


def _first_remedies(house: Wire) -> Iterator[Wire]:
    """Each opening of the request with its first remedy, and what is done in its place for its head line."""
    for row, result in zip(opening_rows(house), house["openings"], strict=True):
        yield {**row, "first": next(iter(row.get("remedies", ())), {}), "planned": result.get("planned")}


RECHECK_LISTS: dict[str, Listing] = {
    "openings": Listing(
        _first_remedies,
        (
            plain("mark"),
            plain("external_id"),
            plain("verdict"),
            length("hinge_foot", "found", "hinge_foot"),
            length("strike_foot", "found", "strike_foot"),
            length("leaf_bottom", "found", "leaf_bottom"),
            length("head_height", "found", "head_height"),
            length("trimmed", "found", "trimmed"),
            length("pull_gap", "clearance", "pull_side", "nominal"),
            length("push_gap", "clearance", "push_side", "nominal"),
            plain("lawful_as_found", "do_nothing", "lawful"),
            plain("first_remedy", "first", "kind"),
            plain("minutes", "first", "minutes"),
            plain("leaves", "first", "leaves"),
            plain("planned"),
            plain("summary"),
        ),
    ),
    "open_doors": Listing(rows_of("open_doors"), (plain("mark"), plain("verdict"), plain("text"))),
    "head_lines": Listing(
        rows_of("head_lines"),
        (
            plain("name"),
            plain("level"),
            plain("level_then"),
            length("head_height"),
            each("found", "heads", lambda head: f"{head['mark']}: {text(head, 'found')}"),
            each("then", "heads", lambda head: f"{head['mark']}: {text(head, 'then')}"),
            LEFT_OUT,
            each("off", "off", lambda off: str(off["text"])),
            plain("text"),
        ),
    ),
    "fixes": Listing(
        rows_of("fix_list"),
        (
            plain("task"),
            plain("mark"),
            plain("kind"),
            plain("trade"),
            plain("minutes"),
            plain("text"),
            plain("hold"),
            plain("questions"),
            length("foot"),
            length("undercut"),
            length("trim"),
            plain("where"),
            length("leaf_bottom"),
            length("layer"),
            plain("side"),
            plain("piece"),
            plain("free_area", "free_area", "text"),
        ),
    ),
    "trim": Listing(
        rows_of("trim_list"),
        (
            plain("place"),
            plain("mark"),
            plain("leaf"),
            length("trim"),
            plain("where"),
            length("leaf_bottom"),
            length("height_after"),
            plain("hold"),
            plain("questions"),
            plain("task"),
        ),
    ),
    "order": ORDER,
    "leaves": Listing(
        rows_of("leaf_list"),
        (
            plain("leaves"),
            length("leaf_width"),
            length("leaf_height"),
            length("leaf_thickness"),
            plain("core"),
            plain("hinges"),
            plain("fire_minutes"),
            plain("duties"),
            plain("hold"),
            plain("marks"),
        ),
    ),
    "undercut": UNDERCUTS,
    "pieces": PIECES,
    "questions": QUESTIONS,
    "tasks": TASKS,
    "cautions": Listing(rows_of("cautions"), (plain("code"), plain("text"), plain("rule"), plain("marks"))),
    "refused": FAULTS,
}
"""Every list of such a house by its name."""
