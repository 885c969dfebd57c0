"""Lines of the tables that the command line prints: plain strings from an advice or a rule as answered.

Reads decoded JSON, so that a table of answers fetched over HTTP and one of answers worked out here are
the same table. Lines break between words only: a quantity is one word, its spaces are no-break spaces.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from rich.cells import cell_len, set_cell_size

from jambset.model.request import UNSHOWN
from jambset.render import sheet_house_recheck, sheet_lists
from jambset.render.joined import JOINED, joined
from jambset.render.sheet_words import SHEET
from jambset.render.wire import Wire, left_out

COLUMNS = ("mark", "verdict", "foot", "trim", "gaps", "air", "transition")
RECHECK_COLUMNS = ("mark", "verdict", "foot", "leaf bottom", "gaps", "first remedy")
RULE_COLUMNS = ("rule", "what it asks, and its source")
NOTHING = "-"
BETWEEN = 2
"""Spaces between two columns."""
LEAST_MARK = 4
"""Least width of the first column where the others leave it no room; its texts are then cut short."""
_UNSHOWN = re.compile(f"[{UNSHOWN}]")


def plain(text: str) -> str:
    r"""A text without anything that a terminal would act on, line breaks included.

    >>> plain("D07\x1b[31m")
    'D07�[31m'
    """
    return _UNSHOWN.sub("\N{REPLACEMENT CHARACTER}", text)


# --- an opening


def row(advice: Wire) -> tuple[str, ...]:
    """One opening's line, a string for each of COLUMNS."""
    return (
        plain(advice["mark"]),
        _code(advice["verdict"]),
        f"{_text(advice['setting'], 'foot')}\n{_code(advice['setting']['method'])}",
        _trim(advice["leaf"]),
        _gaps(advice["clearance"]),
        _air(advice["air"]),
        plain(advice.get("transition", {}).get("title", NOTHING)),
    )


def explained(advice: Wire, rules: Mapping[str, Wire], *, heading: str = "", width: int = 80) -> str:
    """Mark, summary, and the titles of the rules that settled foot and leaf, in lines of at most the width.

    rules: as GET /v1/rules answers them, by id. heading: stands beside the mark.
    """
    summary = joined(plain(advice["summary"]))
    texts = (summary, *_settled(advice, rules))
    return "\n".join([wrapped(_title(advice["mark"], heading), width), *(indented(text, width) for text in texts)])


def _title(name: str, heading: str) -> str:
    return "  ".join(part for part in (plain(name), plain(heading)) if part)


def _settled(advice: Wire, rules: Mapping[str, Wire]) -> Iterator[str]:
    """Which rules settled foot, leaf or both, a text for each rule."""
    forces = {source["rule"]: source["force"] for source in advice.get("sources", ())}
    foot, leaf = (advice[part].get("governed_by", ()) for part in ("setting", "leaf"))
    for rule in dict.fromkeys((*foot, *leaf)):
        of = "Foot and leaf" if rule in foot and rule in leaf else "Foot" if rule in foot else "Leaf"
        yield f"{of} by: {_rule_title(rule, rules, forces)}"


def _rule_title(rule: str, rules: Mapping[str, Wire], forces: Mapping[str, str]) -> str:
    """Title of a rule, with its force here. A project's own rule has no title: the name of its value stands for one."""
    if (standing := f"standing.{rule}") in SHEET:  # stands where a rule's id stands and is no rule
        return SHEET[standing][0]
    title = plain(rules[rule]["title"] if rule in rules else rule.removeprefix("project.").replace("_", " "))
    return f"{title} ({plain(forces[rule])})" if rule in forces else title


def _code(code: str) -> str:
    return plain(code).replace("_", " ")


def _text(part: Wire, name: str) -> str:
    r"""Text of a quantity in the caller's grid, as one word.

    >>> _text({"trim": {"mm": 12.7, "in": 0.5, "text": "1/2 in"}}, "trim"), _text({}, "trim")
    ('1/2\xa0in', '-')
    """
    found: str = plain(part.get(name, {}).get("text", NOTHING))
    return found.replace(" ", JOINED)


def _trim(leaf: Wire) -> str:
    when = _code(leaf["when"])
    return NOTHING if when == "none" else f"{_text(leaf, 'trim')}\n{when}"


def _gaps(clearance: Wire) -> str:
    sides = ("pull", "push")
    return "\n".join(f"{side}{JOINED}{_text(clearance.get(f'{side}_side', {}), 'nominal')}" for side in sides)


def _air(air: Wire) -> str:
    """What passes at the pressure limit against what is supplied."""
    passes, supplied = _text(air, "flow_at_limit"), _text(air, "supply_flow")
    return passes if supplied == NOTHING else f"{passes}\nof {supplied}"


# --- a house, a recheck


def result_row(result: Wire) -> tuple[str, ...]:
    """One opening's line of a house: its advice, or that there is none."""
    return row(result["advice"]) if "advice" in result else _refused(result, COLUMNS)


def recheck_result_row(result: Wire) -> tuple[str, ...]:
    """The same of a house whose doors are set."""
    return recheck_row(result["advice"]) if "advice" in result else _refused(result, RECHECK_COLUMNS)


def _refused(result: Wire, columns: Sequence[str]) -> tuple[str, ...]:
    return (plain(result.get("mark", NOTHING)), "refused", *[NOTHING] * (len(columns) - 2))


def house_told(house: Wire, *, heading: str = "", width: int = 80) -> str:
    """A house's name and summary, its head lines, its questions, and what is wrong with openings, in lines."""
    texts = [
        house["summary"],
        *(f"{line['name']}: {' '.join((line['text'], *left_out(line)))}" for line in house["head_lines"]),
        *_asked(house),
        *_faults(house),
    ]
    return _told(_title(house["house"], heading), texts, width)


def house_mended(house: Wire, *, heading: str = "", width: int = 80) -> str:
    """The same of a house whose doors are set, with what is decided first and the work on the others."""
    texts = [
        house["summary"],
        *(f"{one['mark']}: {one['text']}" for one in house["open_doors"]),
        *(f"{line['name']}: {' '.join(_line(line))}" for line in house["head_lines"]),
        *(f"{line['mark']}, {line['minutes']} min: {line['text']}" for line in house["fix_list"]),
        *_asked(house),
        house["do_nothing"]["text"],
        *_faults(house),
    ]
    return _told(_title(house["house"], heading), texts, width)


def _line(line: Wire) -> tuple[str, ...]:
    return (line["text"], *(off["text"] for off in line["off"]), *left_out(line))


def _asked(house: Wire) -> Iterator[str]:
    return (f"{', '.join(question['marks'])}: {question['text']}" for question in house["questions"])


def _faults(house: Wire) -> Iterator[str]:
    faults = (error for one in house["openings"] if "problem" in one for error in one["problem"]["errors"])
    return (f"{error['pointer']}: {error['detail']}" for error in faults)


def recheck_row(answer: Wire) -> tuple[str, ...]:
    """One line of a recheck, a string for each of RECHECK_COLUMNS."""
    found = answer["found"]
    first = answer["remedies"][0] if answer["remedies"] else None
    return (
        plain(answer["mark"]),
        _code(answer["verdict"]),
        _text(found, "hinge_foot"),
        _text(found, "leaf_bottom"),
        _gaps(answer["clearance"]),
        NOTHING if first is None else f"{_code(first['kind'])}\n{first['minutes']} min",
    )


def remedied(answer: Wire, *, heading: str = "", width: int = 80) -> str:
    """Mark, summary, what was found, and the remedies in their order, in lines of at most the width."""
    found = (finding["text"] for finding in answer["findings"])
    remedies = (f"{remedy['minutes']} min: {remedy['text']}" for remedy in answer["remedies"])
    return _told(_title(answer["mark"], heading), [answer["summary"], *found, *remedies], width)


def warned(answers: Sequence[Wire], house: Wire | None = None, *, width: int = 80) -> str:
    """What endangers whoever does the work, each text once with its marks unless it is for all, and the notice.

    answers: of openings. house: theirs, which may have merged the cautions itself. Nothing where nothing was answered.
    """
    if house is not None and "cautions" in house:
        told = sheet_house_recheck.cautions(house, answers)
    else:
        told = sheet_lists.shared(answers, "cautions")
    texts = [text for part in told for text in part.items]
    notices = dict.fromkeys(one["notice"] for one in (answers if house is None else [house]))
    return _told("Cautions", [*texts, *notices], width) if answers else ""


def _told(title: str, texts: Sequence[str], width: int) -> str:
    spaced = (joined(plain(text)) for text in texts)
    return "\n".join([wrapped(title, width), *(indented(text, width) for text in spaced)])


# --- a rule


def rule_row(rule: Wire) -> tuple[str, ...]:
    """One rule's line, a string for each of RULE_COLUMNS; the source in its latest edition."""
    latest = rule["editions"][-1]
    cited = (part for part in (rule["document"]["title"], latest["edition"], latest["clause"]) if part != "none")
    source = f"{', '.join(cited)}; verified: {rule['verified']}"
    return (
        f"{rule['id']}\n{rule.get('jurisdiction', 'everywhere')}\n{rule['force']}, {rule['topic']}",
        f"{rule['text']}\n{source}",
    )


# --- lines


def wrapped(text: str, width: int) -> str:
    r"""A text in lines of at most the width where its words allow; a word is never broken.

    >>> wrapped("Carpet bar, clamped", 11)
    'Carpet bar,\nclamped'
    """
    return "\n".join(line for part in text.split("\n") for line in _lines(part, width)).replace(JOINED, " ")


def indented(text: str, width: int, by: int = 2) -> str:
    """The same, with all lines moved in, those after the first twice as far."""
    first, *rest = wrapped(text, width - 2 * by).split("\n")
    return "\n".join([" " * by + first, *(" " * 2 * by + line for line in rest)])


def _lines(part: str, width: int) -> Iterator[str]:
    line = ""
    for word in part.split(" "):
        longer = f"{line} {word}" if line else word
        if line and cell_len(longer) > width:
            yield line
            line = word
        else:
            line = longer
    yield line


def fitted(lines: Sequence[Sequence[str]], width: int) -> tuple[list[int], list[list[str]]]:
    """Widths of the columns of a table, and its cells wrapped to them; the first line has the titles.

    Columns narrow to their longest word, the widest first. Where that isn't enough, texts of the first are cut.
    """
    columns = list(zip(*lines, strict=True))
    least = [max(cell_len(word) for cell in column for word in re.split("[ \n]", cell)) for column in columns]
    room = width - BETWEEN * (len(columns) - 1)
    least[0] = max(LEAST_MARK, min(least[0], room - sum(least[1:])))
    widths = _narrowed(
        [max(cell_len(part) for cell in column for part in cell.split("\n")) for column in columns],
        least=least,
        room=room,
    )
    return widths, [[_cell(*pair) for pair in zip(cells, widths, strict=True)] for cells in lines]


def _narrowed(widths: list[int], *, least: Sequence[int], room: int) -> list[int]:
    while sum(widths) > room and (loose := [at for at, wide in enumerate(widths) if wide > least[at]]):
        widths[max(loose, key=widths.__getitem__)] -= 1
    return widths


def _cell(text: str, width: int) -> str:
    return "\n".join(_cut(line, width) for line in wrapped(text, width).split("\n"))


def _cut(line: str, width: int) -> str:
    return line if cell_len(line) <= width else f"{set_cell_size(line, width - 1)}…"
