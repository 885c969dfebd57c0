"""What stands on the sheet of a house whose doors are set and on no other: the work merged, each opening in a line."""

from __future__ import annotations

from collections.abc import Sequence

from jambset.render import sheet_lists as lists
from jambset.render.sheet_parts import Block, Points, Table, Words, points, table
from jambset.render.sheet_recheck import verdict_in_words
from jambset.render.wire import NOTHING, Wire, in_short, left_out, rooms, text


def in_order(house: Wire) -> list[Wire]:
    """The answers of the openings: what has to be decided first, what is fine last, each verdict in the order of marks.

    So the order of the request's openings changes nothing on the sheet.
    """
    known = {one["advice"]["mark"]: one["advice"] for one in house["openings"] if "advice" in one}
    return [known[mark] for verdict in reversed(house["verdicts"]) for mark in verdict["marks"]]


def open_doors(house: Wire, words: Words) -> tuple[Points, ...]:
    """Openings that aren't right and have no work listed."""
    return points(f"{one['mark']}: {verdict_in_words(one, words)}. {one['text']}" for one in house["open_doors"])


def by_trade(house: Wire, words: Words) -> tuple[Table, ...]:
    """Minutes of all work, by trade."""
    rows = ((words.code(one["trade"]), words("min", minutes=one["minutes"])) for one in house["totals"]["by_trade"])
    return table(words.heads("trade", "time"), rows, (5, 3))


def head_lines(house: Wire, words: Words) -> tuple[Table, ...]:
    """The head lines, with what takes heads off them."""
    rows = (
        (
            line["name"],
            text(line, "head_height"),
            ", ".join(_head(head, line) for head in line["heads"]),
            " ".join((line["text"], *(off["text"] for off in line["off"]), *left_out(line))),
        )
        for line in house["head_lines"]
    )
    return table(words.heads("line", "head", "marks", "note"), rows, (3, 2, 5, 7))


def _head(head: Wire, line: Wire) -> str:
    """A head's mark; where it doesn't stand at its line's height now and then, both its heights as well."""
    heights = list(dict.fromkeys([text(head, "found"), text(head, "then")]))
    return head["mark"] if heights == [text(line, "head_height")] else f"{head['mark']} ({' → '.join(heights)})"


def fixes(house: Wire, words: Words) -> tuple[Table, ...]:
    """Every step of the work, those of a kind together."""
    rows = (
        (
            line["mark"],
            line["text"],
            words.code(line["trade"]),
            words("min", minutes=line["minutes"]),
            _hold(line, words),
        )
        for line in house["fix_list"]
    )
    return table(words.heads("mark", "work", "trade", "time", "hold"), rows, (2, 9, 3, 2, 1.6))


def trims(house: Wire, words: Words) -> tuple[Table, ...]:
    """The cutting list."""
    rows = (
        (
            str(line["place"]),
            line["mark"],
            words.code(line["leaf"]),
            text(line, "trim"),
            words.code(line["where"]),
            text(line, "height_after"),
            _hold(line, words),
        )
        for line in house["trim_list"]
    )
    heads = words.heads("place", "mark", "leaf", "trim", "where", "height", "hold")
    return table(heads, rows, (1, 2, 2, 2, 4, 2.4, 1.6))


def order_leaves(house: Wire, words: Words) -> tuple[Table | Points, ...]:
    """Leaves to order for frames that stay."""
    rows = [
        (
            str(lot["leaves"]),
            " × ".join(text(lot, name) for name in ("leaf_width", "leaf_height", "leaf_thickness")),
            ", ".join((words.code(lot["core"]), *lists.made_for(lot, words))),
            ", ".join(lot["marks"]),
            _hold(lot, words),
        )
        for lot in house["leaf_list"]
    ]
    found = table(words.heads("count", "leaf_size", "core", "marks", "hold"), rows, (1.6, 5, 4, 4, 1.6))
    return (*found, *points([words("order_unknown")] if rows else []))


def pieces(house: Wire, answers: Sequence[Wire], words: Words) -> tuple[Block, ...]:
    """Pieces at the doorways, with a word to whoever buys by the list: no request tells which of them lie already."""
    return (*lists.pieces(house, answers, words), *points([words("pieces_lie")] if house["piece_list"] else []))


def undercuts(house: Wire, words: Words) -> tuple[Block, ...]:
    """What the flooring installer cuts, with a word on when it holds: no request tells which floors lie already."""
    return (*lists.undercuts(house, words), *points([words("floors_lie")] if house["undercut_list"] else []))


def each(house: Wire, answers: Sequence[Wire], words: Words) -> tuple[Table, ...]:
    """Each opening in a line: what it comes to by itself, and what is done in place of that for its head line."""
    told = {one["mark"]: in_short(one) for one in house["openings"] if "advice" in one}
    rows = (
        (
            one["mark"],
            rooms(one) or NOTHING,
            verdict_in_words(one, words),
            told[one["mark"]],
        )
        for one in answers
    )
    return table(words.heads("mark", "room", "verdict", "told"), rows, (2, 3, 3, 9))


def cautions(house: Wire, answers: Sequence[Wire]) -> tuple[Points, ...]:
    """Each caution once, with its openings unless it is for all."""
    return points(
        one["text"] if len(one["marks"]) == len(answers) else f"{', '.join(one['marks'])}: {one['text']}"
        for one in house["cautions"]
    )


def _hold(row: Wire, words: Words) -> str:
    return words("yes") if row["hold"] else NOTHING
