"""The lists of a house as CSV: one table for each, for a spreadsheet or another program (RFC 4180).

Reads the answer as it is decoded from JSON and decides nothing. A length has two columns, millimetres as a
number and text on its grid; several marks or codes share a cell, with semicolons between. What a spreadsheet
would take for a formula gets an apostrophe before it; numbers stay numbers.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Iterator
from typing import Any, NamedTuple

from jambset.render.wire import TO_ORDER, Wire, found

Cell = str | int | float

BETWEEN = "; "
"""Stands between the items of one cell."""
REFUSED = "refused"
"""Stands in place of the verdict of an opening without advice."""
_SIGNS = frozenset(
    "=+-@\t\r\N{FULLWIDTH EQUALS SIGN}\N{FULLWIDTH PLUS SIGN}\N{FULLWIDTH HYPHEN-MINUS}\N{FULLWIDTH COMMERCIAL AT}"
)
"""What a formula begins with, blanks before it or not."""


class Column(NamedTuple):
    """One or two neighbouring columns: their titles, and their cells from a row."""

    titles: tuple[str, ...]
    cells: Callable[[Wire], tuple[Cell, ...]]


class Listing(NamedTuple):
    """One list of a house: its rows and its columns."""

    rows: Callable[[Wire], Iterable[Wire]]
    columns: tuple[Column, ...]


def csv_of(house: Wire, name: str) -> bytes:
    """One list of a decoded house in UTF-8, its titles first. Raises KeyError for a name that isn't in LISTS."""
    listing = LISTS[name]
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([title for column in listing.columns for title in column.titles])
    for row in listing.rows(house):
        writer.writerow([safe(cell) for column in listing.columns for cell in column.cells(row)])
    return out.getvalue().encode()


def safe(cell: Cell) -> Cell:
    """A cell that no spreadsheet takes for a formula.

    >>> safe("=1+1"), safe(" @a"), safe("D-07"), safe("-1/8 in"), safe(-3.175)
    ("'=1+1", "' @a", 'D-07', "'-1/8 in", -3.175)
    """
    if isinstance(cell, str) and (cell[:1] in _SIGNS or cell.lstrip()[:1] in _SIGNS):
        return f"'{cell}"
    return cell


# --- columns


def _found(row: Wire, path: tuple[str, ...]) -> Any:
    """What stands at a path; an empty text where nothing does."""
    at = found(row, *path)
    return "" if at is None else at


def _plain(title: str, *path: str) -> Column:
    """A text, number, or yes and no."""
    return Column((title,), lambda row: (_cell(_found(row, path or (title,))),))


def _cell(value: Any) -> Cell:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return BETWEEN.join(map(str, value)) if isinstance(value, list) else value


def _length(title: str, *path: str) -> Column:
    """A length in two columns."""

    def cells(row: Wire) -> tuple[Cell, ...]:
        length = _found(row, path or (title,))
        return (length["mm"], length["text"]) if length else ("", "")

    return Column((f"{title}_mm", title), cells)


def _units(row: Wire) -> tuple[Cell, ...]:
    """How many units to order, or, in a column of their own, are there already, so that no sum adds both."""
    return (row["units"], "") if row["state"] == TO_ORDER else ("", row["units"])


def _each(title: str, name: str, text: Callable[[Wire], str]) -> Column:
    """A list of objects in one cell, each as a text."""
    return Column((title,), lambda row: (BETWEEN.join(map(text, row[name])),))


def _link(link: Wire) -> str:
    return f"{link['task']} {link['relation']}"


# --- rows


def _rows(name: str) -> Callable[[Wire], Iterable[Wire]]:
    def rows(house: Wire) -> Iterable[Wire]:
        listed: list[Wire] = house[name]
        return listed

    return rows


def _openings(house: Wire) -> Iterator[Wire]:
    """Each opening of the request: its advice, or in its place the fact that there is none."""
    for result in house["openings"]:
        if "advice" in result:
            yield result["advice"]
        else:
            yield {**_names(result), "verdict": REFUSED, "summary": result["problem"]["detail"]}


def _faults(house: Wire) -> Iterator[Wire]:
    """Each fault of each opening that was refused. place: of the opening in the request, counted from 0."""
    for place, result in enumerate(house["openings"]):
        for fault in result["problem"]["errors"] if "problem" in result else ():
            yield {"place": place, **_names(result), **fault}


def _names(result: Wire) -> Wire:
    """The caller's names for an opening that was refused."""
    return {name: result.get(name, "") for name in ("mark", "external_id")}


LISTS: dict[str, Listing] = {
    "openings": Listing(
        _openings,
        (
            _plain("mark"),
            _plain("external_id"),
            _plain("verdict"),
            _length("foot", "setting", "foot"),
            _length("head_height", "setting", "head_height"),
            _length("undercut_to_order", "order", "undercut_to_order"),
            _length("trim", "leaf", "trim"),
            _plain("when", "leaf", "when"),
            _length("leaf_bottom", "leaf", "bottom"),
            _length("pull_gap", "clearance", "pull_side", "nominal"),
            _length("push_gap", "clearance", "push_side", "nominal"),
            _plain("piece", "transition", "title"),
            _plain("summary"),
        ),
    ),
    "head_lines": Listing(
        _rows("head_lines"),
        (
            _plain("name"),
            _plain("held"),
            _length("head_height"),
            _plain("marks"),
            _each("left_out", "left_out", lambda one: f"{one['mark']}: {one['why']}"),
            _plain("minutes"),
            _plain("strained"),
            _plain("text"),
        ),
    ),
    "blocks": Listing(_rows("blocks"), (_length("size"), _plain("count"), _plain("marks"))),
    "order": Listing(
        _rows("order_list"),
        (
            _plain("state"),
            Column(("units_to_order", "units_there"), _units),
            _length("undercut"),
            _length("leaf_width"),
            _length("leaf_height"),
            _length("leaf_thickness"),
            _length("head_gap"),
            _length("head_thickness"),
            _length("leg_thickness"),
            _plain("core"),
            _plain("leaves"),
            _plain("hinges"),
            _plain("fire_minutes"),
            _plain("duties"),
            _plain("hold"),
            _plain("marks"),
        ),
    ),
    "trim": Listing(
        _rows("trim_list"),
        (
            _plain("place"),
            _plain("mark"),
            _plain("leaf"),
            _length("trim"),
            _plain("when"),
            _plain("where"),
            _plain("gauge_stands_on", "gauge_block", "stands_on"),
            _plain("gauge_angle", "gauge_block", "angle"),
            _length("gauge_hinge_end", "gauge_block", "hinge_end"),
            _length("gauge_free_end", "gauge_block", "free_end"),
            _length("height_after"),
            _plain("hold"),
        ),
    ),
    "undercut": Listing(
        _rows("undercut_list"),
        (
            _plain("room"),
            _plain("mark"),
            _plain("side"),
            _length("jamb_undercut"),
            _length("casing_undercut"),
            _length("base_height"),
            _plain("note"),
        ),
    ),
    "pieces": Listing(
        _rows("piece_list"),
        (
            _plain("piece"),
            _plain("title"),
            _length("step"),
            _length("rise"),
            _plain("bevel", "bevel", "kind"),
            _length("bevel_upright", "bevel", "upright"),
            _length("bevel_rise", "bevel", "rise"),
            _length("bevel_run", "bevel", "run"),
            _length("leaf_width"),
            _plain("leaves"),
            _plain("count"),
            _plain("marks"),
        ),
    ),
    "questions": Listing(
        _rows("questions"),
        (
            _plain("code"),
            _plain("ask"),
            _plain("text"),
            _plain("marks"),
            _plain("holds"),
            _plain("minutes_at_stake"),
        ),
    ),
    "tasks": Listing(
        _rows("tasks"),
        (
            _plain("key"),
            _plain("mark"),
            _plain("title"),
            _plain("trade"),
            _plain("phase"),
            _plain("work"),
            _each("waits_for", "links", _link),
            _plain("hold"),
            _plain("questions"),
            _plain("conflicts"),
        ),
    ),
    "events": Listing(
        _rows("events"),
        (_plain("key"), _plain("title"), _plain("room"), _plain("mark"), _each("follows", "follows", _link)),
    ),
    "shared_costs": Listing(_rows("shared_costs"), (_plain("kind"), _plain("name"), _plain("minutes"), _plain("text"))),
    "refused": Listing(
        _faults,
        (
            _plain("place"),
            _plain("mark"),
            _plain("external_id"),
            _plain("pointer"),
            _plain("code"),
            _plain("detail"),
        ),
    ),
}
"""Every list of a house by its name."""
