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
    return table_of(house, LISTS[name])


def table_of(house: Wire, listing: Listing) -> bytes:
    """A list in UTF-8, its titles first."""
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


def plain(title: str, *path: str) -> Column:
    """A text, number, or yes and no."""
    return Column((title,), lambda row: (_cell(_found(row, path or (title,))),))


def _cell(value: Any) -> Cell:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return BETWEEN.join(map(str, value)) if isinstance(value, list) else value


def length(title: str, *path: str) -> Column:
    """A length in two columns."""

    def cells(row: Wire) -> tuple[Cell, ...]:
        found = _found(row, path or (title,))
        return (found["mm"], found["text"]) if found else ("", "")

    return Column((f"{title}_mm", title), cells)


def _units(row: Wire) -> tuple[Cell, ...]:
    """How many units to order, or, in a column of their own, are there already, so that no sum adds both."""
    return (row["units"], "") if row["state"] == TO_ORDER else ("", row["units"])


def each(title: str, name: str, text: Callable[[Wire], str]) -> Column:
    """A list of objects in one cell, each as a text."""
    return Column((title,), lambda row: (BETWEEN.join(map(text, row[name])),))


def link_text(link: Wire) -> str:
    """A predecessor of a task, with its relation."""
    return f"{link['task']} {link['relation']}"


# --- rows


def rows_of(name: str) -> Callable[[Wire], Iterable[Wire]]:
    """Reads the rows of a list that the answer has."""

    def rows(house: Wire) -> Iterable[Wire]:
        listed: list[Wire] = house[name]
        return listed

    return rows


def opening_rows(house: Wire) -> Iterator[Wire]:
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


LEFT_OUT = each("left_out", "left_out", lambda one: f"{one['mark']}: {one['why']}")
ORDER = Listing(
    rows_of("order_list"),
    (
        plain("state"),
        Column(("units_to_order", "units_there"), _units),
        length("undercut"),
        length("leaf_width"),
        length("leaf_height"),
        length("leaf_thickness"),
        length("head_gap"),
        length("head_thickness"),
        length("leg_thickness"),
        plain("core"),
        plain("leaves"),
        plain("hinges"),
        plain("fire_minutes"),
        plain("duties"),
        plain("hold"),
        plain("marks"),
    ),
)
UNDERCUTS = Listing(
    rows_of("undercut_list"),
    (
        plain("room"),
        plain("mark"),
        plain("side"),
        length("jamb_undercut"),
        length("casing_undercut"),
        length("base_height"),
        plain("hold"),
        plain("note"),
    ),
)
PIECES = Listing(
    rows_of("piece_list"),
    (
        plain("piece"),
        plain("title"),
        length("step"),
        length("rise"),
        plain("bevel", "bevel", "kind"),
        length("bevel_upright", "bevel", "upright"),
        length("bevel_rise", "bevel", "rise"),
        length("bevel_run", "bevel", "run"),
        length("leaf_width"),
        plain("leaves"),
        plain("count"),
        plain("marks"),
    ),
)
QUESTIONS = Listing(
    rows_of("questions"),
    (
        plain("code"),
        plain("ask"),
        plain("text"),
        plain("marks"),
        plain("holds"),
        plain("minutes_at_stake"),
    ),
)
TASKS = Listing(
    rows_of("tasks"),
    (
        plain("key"),
        plain("mark"),
        plain("title"),
        plain("trade"),
        plain("phase"),
        plain("work"),
        each("waits_for", "links", link_text),
        plain("hold"),
        plain("questions"),
        plain("conflicts"),
    ),
)
FAULTS = Listing(
    _faults,
    (
        plain("place"),
        plain("mark"),
        plain("external_id"),
        plain("pointer"),
        plain("code"),
        plain("detail"),
    ),
)
"""Lists, and a column, that a house has before its doors are set and after."""

LISTS: dict[str, Listing] = {
    "openings": Listing(
        opening_rows,
        (
            plain("mark"),
            plain("external_id"),
            plain("verdict"),
            length("foot", "setting", "foot"),
            length("head_height", "setting", "head_height"),
            length("undercut_to_order", "order", "undercut_to_order"),
            length("trim", "leaf", "trim"),
            plain("when", "leaf", "when"),
            length("leaf_bottom", "leaf", "bottom"),
            length("pull_gap", "clearance", "pull_side", "nominal"),
            length("push_gap", "clearance", "push_side", "nominal"),
            plain("piece", "transition", "title"),
            plain("summary"),
        ),
    ),
    "head_lines": Listing(
        rows_of("head_lines"),
        (
            plain("name"),
            plain("held"),
            length("head_height"),
            plain("marks"),
            LEFT_OUT,
            plain("minutes"),
            plain("strained"),
            plain("text"),
        ),
    ),
    "blocks": Listing(rows_of("blocks"), (length("size"), plain("count"), plain("marks"))),
    "order": ORDER,
    "trim": Listing(
        rows_of("trim_list"),
        (
            plain("place"),
            plain("mark"),
            plain("leaf"),
            length("trim"),
            plain("when"),
            plain("where"),
            plain("gauge_stands_on", "gauge_block", "stands_on"),
            plain("gauge_angle", "gauge_block", "angle"),
            length("gauge_hinge_end", "gauge_block", "hinge_end"),
            length("gauge_free_end", "gauge_block", "free_end"),
            length("height_after"),
            plain("hold"),
        ),
    ),
    "undercut": UNDERCUTS,
    "pieces": PIECES,
    "questions": QUESTIONS,
    "tasks": TASKS,
    "events": Listing(
        rows_of("events"),
        (plain("key"), plain("title"), plain("room"), plain("mark"), each("follows", "follows", link_text)),
    ),
    "shared_costs": Listing(rows_of("shared_costs"), (plain("kind"), plain("name"), plain("minutes"), plain("text"))),
    "refused": FAULTS,
}
"""Every list of a house by its name."""
