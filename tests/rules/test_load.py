from __future__ import annotations

import inspect
import re
import shutil
from collections import Counter
from pathlib import Path
from typing import Any

import msgspec
import pytest

from jambset.errors import CatalogueError
from jambset.model.request import Core, Labour
from jambset.quantity.ticks import INCH, MM
from jambset.rules import faults, load
from jambset.rules.bounded import BOUNDED, Bounded
from jambset.rules.load import DATA, load_catalogue
from jambset.rules.schema import Body, Catalogue, Defaults, Name, PlaceCode, PlaceOrAny, RowId, Sentence, Word

HERE = Path(__file__).parent
GOOD = HERE / "good"
BROKEN = sorted((HERE / "broken").iterdir())


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(GOOD, tmp_path / "data"))


@pytest.fixture(scope="module")
def good() -> Catalogue:
    return load_catalogue(GOOD)


def test_without_a_folder_the_own_data_is_read() -> None:
    assert load_catalogue().digest == load_catalogue(DATA).digest


def test_the_good_catalogue_holds_its_rows_by_place(good: Catalogue) -> None:
    rows = {place: [rule.id for rule in rules] for place, rules in good.rules.items()}
    assert rows == {"": ["leaf.wanted"], "AA": ["aa-air"], "AA-B": []}
    assert list(good.jurisdictions) == ["AA", "AA-B"]
    assert list(good.documents) == ["statute", "habit", "code"]
    assert [list(good.materials), [piece.id for piece in good.pieces]] == [["plank"], ["bar", "strip", "ramp", "seam"]]
    assert list(good.labour) == list(Labour.__struct_fields__)
    assert list(good.cores) == list(Core)
    assert [lift.id for lift in good.lifts] == ["lift.common", "lift.aa"]
    assert good.version == "2026-11"


def test_quantities_are_read_into_ticks_and_si(good: Catalogue) -> None:
    assert good.rules[""][0].length == 5 * INCH // 8
    assert good.rules["AA"][0].area == pytest.approx(0.064516)
    assert good.materials["plank"].nominal == 13 * MM // 2
    assert good.defaults.head_thickness == 11 * INCH // 16
    assert good.cores[Core.SOLID].density == 400.0
    assert [(lift.one_person_kg, lift.two_person_height) for lift in good.lifts] == [(25, 96 * INCH), (20.5, 96 * INCH)]


def test_a_new_folder_is_a_new_country(folder: Path) -> None:
    shutil.copytree(folder / "aa-b", folder / "zz")
    place = folder / "zz" / "jurisdiction.toml"
    place.write_text(place.read_text("utf-8").replace("AA-B", "ZZ").replace('parent = "AA"\n', ""), "utf-8")
    assert list(load_catalogue(folder).jurisdictions) == ["AA", "AA-B", "ZZ"]


def test_rows_are_frozen(good: Catalogue) -> None:
    rule = good.rules[""][0]
    for row in (
        good,
        rule,
        rule.when,
        good.materials["plank"],
        good.pieces[0],
        good.cores[Core.MDF],
        good.lifts[0],
        good.defaults,
    ):
        with pytest.raises(AttributeError, match="immutable type"):
            setattr(row, row.__struct_fields__[0], "changed")


def test_the_digest_is_that_of_the_content_alone(folder: Path, good: Catalogue) -> None:
    for file in folder.rglob("*.toml"):
        file.write_bytes(file.read_bytes().replace(b"\n", b"\r\n"))
    (folder / "README.md").write_text("not read", "utf-8")
    assert load_catalogue(folder).digest == good.digest
    assert good.digest.startswith("sha256:")
    assert len(good.digest) == len("sha256:") + 64


@pytest.mark.parametrize("change", ["text", "name", "comment"])
def test_the_digest_changes_with_any_content_and_name(folder: Path, good: Catalogue, change: str) -> None:
    rules = folder / "aa" / "rules_air.toml"
    if change == "name":
        rules.rename(folder / "aa" / "rules_other.toml")
    else:
        old, new = {"text": ("100 in2", "101 in2"), "comment": ("[[rule]]", "# hand-checked\n[[rule]]")}[change]
        rules.write_text(rules.read_text("utf-8").replace(old, new), "utf-8")
    assert load_catalogue(folder).digest != good.digest


def _overlay(broken: Path, folder: Path) -> None:
    shutil.copytree(broken, folder, dirs_exist_ok=True, ignore=shutil.ignore_patterns("*.txt"))
    removed = broken / "remove.txt"
    for name in removed.read_text("utf-8").split() if removed.exists() else ():
        (folder / name).unlink()


@pytest.mark.parametrize("broken", BROKEN, ids=[path.name for path in BROKEN])
def test_a_broken_set_is_refused_with_its_message(broken: Path, folder: Path) -> None:
    _overlay(broken, folder)
    with pytest.raises(CatalogueError) as refused:
        load_catalogue(folder)
    assert str(refused.value) == (broken / "message.txt").read_text("utf-8").removesuffix("\n")


@pytest.mark.parametrize(
    ("file", "old", "end", "beyond"),
    [
        ("pieces", 'step_greatest = "3 in"', 'step_greatest = "3 in"', 'step_greatest = "3 1/64 in"'),
        ("finishes", 'greatest = "9 mm"', 'greatest = "3 in"', 'greatest = "3 1/64 in"'),
        ("rules_first", 'finish = "hard"', "built_before = 1700", "built_before = 1699"),
        ("rules_first", 'finish = "hard"', "built_before = 2100", "built_before = 2101"),
        ("handling", 'height = "96 in"', 'height = "120 in"', 'height = "120 1/64 in"'),
        ("handling", 'height = "96 in"', 'height = "72 in"', 'height = "71 63/64 in"'),
    ],
)
def test_the_end_of_a_range_is_allowed_and_nothing_beyond_it(
    folder: Path, file: str, old: str, end: str, beyond: str
) -> None:
    rows = folder / "common" / f"{file}.toml"
    text = rows.read_text("utf-8")
    assert old in text
    rows.write_text(text.replace(old, end), "utf-8")
    load_catalogue(folder)
    rows.write_text(text.replace(old, beyond), "utf-8")
    with pytest.raises(CatalogueError):
        load_catalogue(folder)


@pytest.mark.parametrize(("length", "taken"), [(7, False), (8, True), (600, True), (601, False)])
def test_a_sentence_is_neither_a_word_nor_a_page(length: int, *, taken: bool) -> None:
    if taken:
        assert msgspec.convert("a" * length, Sentence) == "a" * length
    else:
        with pytest.raises(msgspec.ValidationError, match="length"):
            msgspec.convert("a" * length, Sentence)


@pytest.mark.parametrize(
    ("kind", "text"),
    [(RowId, "leaf.wanted"), (Name, "plank"), (PlaceCode, "AA-B"), (PlaceOrAny, ""), (Body, "wood"), (Word, "bar")],
)
def test_no_name_of_a_row_ends_in_a_line_break(kind: Any, text: str) -> None:
    assert msgspec.convert(text, kind) == text
    with pytest.raises(msgspec.ValidationError, match="regex"):
        msgspec.convert(f"{text}\n", kind)


def test_nor_does_the_version_of_the_rules(folder: Path) -> None:
    (folder / "rule_set.toml").write_text('version = "2026-11\\n"\n', "utf-8")
    with pytest.raises(CatalogueError, match="regex"):
        load_catalogue(folder)


def test_each_broken_set_breaks_one_file() -> None:
    assert BROKEN
    files = [(path.name, file) for path in BROKEN for file in path.rglob("*") if file.is_file()]
    counts = Counter(name for name, file in files if file.name != "message.txt")
    assert {name: count for name, count in counts.items() if count != 1} == {"missing-jurisdiction": 2}
    assert counts.keys() == {path.name for path in BROKEN}


def test_a_body_of_layers_beneath_is_none_of_a_finish(folder: Path) -> None:
    finishes = folder / "common" / "finishes.toml"
    plank = finishes.read_text("utf-8")
    for body in ("mortar", "membrane"):
        beneath = plank.replace('"plank"', f'"{body}"').replace('"hard"', '"none"').replace('"resilient"', f'"{body}"')
        finishes.write_text(f"{finishes.read_text('utf-8')}\n{beneath}", "utf-8")
    load_catalogue(folder)
    broken = (HERE / "broken" / "body-of-no-finish" / "aa" / "rules_new.toml").read_text("utf-8")
    idle = broken.replace('"mortar"]', '"mortar", "membrane"]')
    (folder / "aa" / "rules_new.toml").write_text(idle, "utf-8")
    with pytest.raises(CatalogueError, match="no finish is made of mortar, membrane;"):
        load_catalogue(folder)


def test_a_folder_named_like_a_file_of_rules_hides_none(folder: Path) -> None:
    (folder / "aa" / "rules_air.toml").rename(folder / "air.toml")
    (folder / "aa" / "rules_air").mkdir()
    (folder / "air.toml").rename(folder / "aa" / "rules_air" / "more.toml")
    with pytest.raises(CatalogueError, match="no file of this name is read here"):
        load_catalogue(folder)


@pytest.mark.parametrize("bounded", BOUNDED.values(), ids=list(BOUNDED))
def test_each_range_has_a_lower_and_an_upper_end(bounded: Bounded) -> None:
    assert 0 <= bounded.least < bounded.greatest


def test_every_default_has_a_range() -> None:
    assert faults.DEFAULT_RANGES.keys() == set(Defaults.__struct_fields__)


def test_only_the_loader_reads_files() -> None:
    package = DATA.parents[1]
    readers = re.compile(r"read_text|read_bytes|\bopen\(|tomllib")
    rooms = ("engine", "render", "model", "quantity", "rules")
    pure = [path for room in rooms for path in (package / room).glob("*.py")]
    found = {path.name for path in pure if readers.search(path.read_text("utf-8"))}
    assert found == {Path(inspect.getfile(load)).name}
