from __future__ import annotations

import hashlib
import hmac
import os
from pathlib import Path
from typing import Any

import pytest

from jambset.http.keys import Keys, entry_of, new_key, read_entries, require_keys
from jambset.http.rate import SECOND
from jambset.http.settings import Settings, SettingsError


class Log:
    def __init__(self) -> None:
        self.errors: list[str] = []

    def error(self, event: str, *, detail: str) -> None:
        assert event == "keys"
        self.errors.append(detail)


class Setup:
    """Keys over a file, with a clock to turn."""

    def __init__(self, folder: Path, **settings: Any) -> None:
        self.file = folder / "keys.txt"
        self.log = Log()
        self.now = 0
        self._settings = settings

    def keys(self) -> Keys:
        settings = Settings(auth="on", keys_file=str(self.file), **self._settings)
        return Keys(settings, log=self.log, clock=lambda: self.now)

    def write(self, text: str) -> None:
        """As a tool does that never leaves half a file: the file is another one each time."""
        fresh = self.file.with_suffix(".new")
        fresh.write_text(text, "utf-8")
        fresh.replace(self.file)

    def pass_(self, seconds: float) -> None:
        self.now += round(seconds * SECOND)


@pytest.fixture
def setup(tmp_path: Path) -> Setup:
    return Setup(tmp_path)


def test_a_new_key_is_long_random_and_fit_for_a_header() -> None:
    first, second = new_key(), new_key()
    assert first != second
    assert len(first) == 43  # 32 bytes in base64
    assert first.replace("-", "").replace("_", "").isalnum()
    assert entry_of("ci", first) == f"ci {hashlib.sha256(first.encode()).hexdigest()}"


def test_entries_are_read_with_comments_blank_lines_and_capitals() -> None:
    key = new_key()
    lines = ["# who calls", "", f"  {entry_of('ci', key).upper()}   # the pipeline", f"shop.2\t{'0' * 64}"]
    ci, shop = read_entries(lines, where="line")
    assert (ci.name, ci.digest) == ("CI", hashlib.sha256(key.encode()).digest())
    assert (shop.name, shop.digest) == ("shop.2", bytes(32))


@pytest.mark.parametrize(
    "entry",
    [
        "caller",
        f"ci {'0' * 63}",
        f"ci {'0' * 65}",
        f"ci {'g' * 64}",
        f"a b {'0' * 64}",
        f"{'n' * 65} {'0' * 64}",
        "0" * 64,
    ],
)
def test_a_malformed_entry_is_named_by_its_number_and_nothing_of_it_is_told(entry: str) -> None:
    with pytest.raises(SettingsError, match=r"^keys\.txt, line 2: write a name and ") as refused:
        tuple(read_entries(["# none", entry], where="keys.txt, line"))
    assert entry not in str(refused.value)


def test_keys_of_the_environment_and_of_the_file_are_known_by_their_names(setup: Setup) -> None:
    ours, theirs = new_key(), new_key()
    setup.write(entry_of("theirs", theirs))
    settings = Settings(auth="on", keys=f"{entry_of('ours', ours)}; ", keys_file=str(setup.file))
    keys = Keys(settings, log=setup.log, clock=lambda: 0)
    assert [keys.name_of(key.encode()) for key in (ours, theirs, new_key(), "")] == ["ours", "theirs", None, None]
    assert keys.name_of(hashlib.sha256(ours.encode()).hexdigest().encode()) is None


def test_a_digest_is_compared_with_all_of_them_in_constant_time(setup: Setup, monkeypatch: pytest.MonkeyPatch) -> None:
    made = [new_key() for _ in range(5)]
    setup.write("\n".join(entry_of(f"k{place}", key) for place, key in enumerate(made)))
    keys = setup.keys()
    compared: list[tuple[bytes, bytes]] = []
    real = hmac.compare_digest

    def watched(known: bytes, given: bytes) -> bool:
        compared.append((known, given))
        return real(known, given)

    monkeypatch.setattr(hmac, "compare_digest", watched)
    for key, name in ((made[0], "k0"), (made[4], "k4"), (new_key(), None)):
        compared.clear()
        assert keys.name_of(key.encode()) == name
        assert [known for known, _ in compared] == [hashlib.sha256(one.encode()).digest() for one in made]
        assert {given for _, given in compared} == {hashlib.sha256(key.encode()).digest()}


def test_a_changed_file_is_read_again_within_a_second_and_looked_at_no_more_often(
    setup: Setup, monkeypatch: pytest.MonkeyPatch
) -> None:
    old, new = new_key(), new_key()
    setup.write(entry_of("ci", old))
    keys = setup.keys()
    looks: list[Path] = []
    real = Path.stat

    def watched(path: Path) -> os.stat_result:
        looks.append(path)
        return real(path)

    monkeypatch.setattr(Path, "stat", watched)
    setup.write(entry_of("ci", new))
    setup.pass_(0.999)
    assert [keys.name_of(key.encode()) for key in (old, new)] == ["ci", None]
    assert looks == []
    setup.pass_(0.001)
    assert [keys.name_of(key.encode()) for key in (old, new, old)] == [None, "ci", None]
    assert looks == [setup.file]
    assert setup.log.errors == []


def test_while_a_key_is_changed_both_go_by_the_same_name(setup: Setup) -> None:
    old, new = new_key(), new_key()
    setup.write(f"{entry_of('ci', old)}\n{entry_of('ci', new)}\n")
    keys = setup.keys()
    assert keys.name_of(old.encode()) == keys.name_of(new.encode()) == "ci"


def _spoil_by_text(setup: Setup, _: str) -> None:
    setup.write("ci x\n")


def _spoil_by_bytes(setup: Setup, _: str) -> None:
    setup.file.write_bytes(b"\xff\xfe\x00")


def _spoil_by_loss(setup: Setup, _: str) -> None:
    setup.file.unlink()


def _spoil_by_pipe(setup: Setup, _: str) -> None:
    setup.file.unlink()
    os.mkfifo(setup.file)


def _spoil_by_folder(setup: Setup, _: str) -> None:
    setup.file.unlink()
    setup.file.mkdir()


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (_spoil_by_text, "JAMBSET_KEYS_FILE, keys.txt, line 1: write a name and "),
        (_spoil_by_bytes, "JAMBSET_KEYS_FILE, keys.txt, line 1: write a name and "),
        (_spoil_by_loss, "JAMBSET_KEYS_FILE, keys.txt: can't be read ("),
        (_spoil_by_folder, "JAMBSET_KEYS_FILE, keys.txt: can't be read ("),
        pytest.param(
            _spoil_by_pipe,
            "JAMBSET_KEYS_FILE, keys.txt: can't be read (it isn't a regular file)",
            marks=pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no pipes with a name here"),
        ),
    ],
)
def test_a_file_that_cant_be_read_any_more_keeps_the_keys_and_is_told_once(spoil: Any, told: str, setup: Setup) -> None:
    key, next_key = new_key(), new_key()
    setup.write(entry_of("ci", key))
    keys = setup.keys()
    spoil(setup, key)
    for _ in range(3):
        setup.pass_(2)
        assert keys.name_of(key.encode()) == "ci"
    (line,) = setup.log.errors
    assert line.startswith(told)
    assert line.endswith("; the keys read before stay in use")
    assert key not in line
    if setup.file.is_dir():
        setup.file.rmdir()
    setup.write(entry_of("ci", next_key))
    setup.pass_(1)
    assert [keys.name_of(one.encode()) for one in (key, next_key)] == [None, "ci"]
    assert len(setup.log.errors) == 1


def test_leave_to_read_that_comes_back_is_noticed(setup: Setup, monkeypatch: pytest.MonkeyPatch) -> None:
    old, new = new_key(), new_key()
    setup.write(entry_of("ci", old))
    keys = setup.keys()
    setup.write(entry_of("ci", new))
    with monkeypatch.context() as barred:
        barred.setattr(os, "open", _barred)
        setup.pass_(1)
        assert keys.name_of(old.encode()) == "ci"
    seen = setup.file.stat()
    setup.file.chmod(0o640)
    assert (setup.file.stat().st_mtime_ns, setup.file.stat().st_ino) == (seen.st_mtime_ns, seen.st_ino)
    setup.pass_(1)
    assert keys.name_of(new.encode()) == "ci"


def _barred(*_: object) -> int:
    raise PermissionError(13, os.strerror(13))


def test_a_file_emptied_while_the_service_runs_takes_every_key_away(setup: Setup) -> None:
    key = new_key()
    setup.write(entry_of("ci", key))
    keys = setup.keys()
    setup.write("# nobody\n")
    setup.pass_(1)
    assert keys.name_of(key.encode()) is None


# --- at the start


def test_a_service_that_asks_for_keys_doesnt_start_without_one() -> None:
    with pytest.raises(SettingsError, match=r"^No key is set, and callers at 0\.0\.0\.0 need one: set JAMBSET_KEYS"):
        require_keys(Settings(host="0.0.0.0"))


def test_nor_with_a_file_that_isnt_there_or_holds_no_key(setup: Setup) -> None:
    with pytest.raises(SettingsError, match=r"^JAMBSET_KEYS_FILE, keys\.txt: can't be read \(No such file"):
        setup.keys()
    setup.write("# later\n")
    with pytest.raises(SettingsError, match=r"^No key is set"):
        setup.keys()


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no pipes with a name here")
def test_nor_with_a_pipe_for_which_it_would_wait(setup: Setup) -> None:
    os.mkfifo(setup.file)
    with pytest.raises(SettingsError, match=r"^JAMBSET_KEYS_FILE, keys\.txt: can't be read \(it isn't a regular file"):
        setup.keys()


def test_nor_with_a_malformed_line_which_it_names(setup: Setup) -> None:
    setup.write(f"{entry_of('ci', new_key())}\n\nshop {new_key()}\n")
    with pytest.raises(SettingsError, match=r"^JAMBSET_KEYS_FILE, keys\.txt, line 3: "):
        setup.keys()
    with pytest.raises(SettingsError, match=r"^JAMBSET_KEYS, entry 2: "):
        require_keys(Settings(keys=f"{entry_of('ci', new_key())};shop"))
