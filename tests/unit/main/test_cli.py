from __future__ import annotations

import gc
import hashlib
import itertools
import json
import pickle
import resource
import shutil
import signal
import socket
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import click
import msgspec
import pytest
import uvicorn
from click.testing import CliRunner, Result
from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol

from jambset import main
from jambset.http import workers as several
from jambset.http.connection import Bounds
from jambset.http.settings import Settings, SettingsError
from jambset.model.version import VERSION
from jambset.render.language import LANGUAGES

OPENING = {
    "mark": "T1",
    "jurisdiction": "US",
    "frame": {"undercut": "1 in"},
    "leaf": {"width": "30 in", "height": "80 in", "thickness": "1 3/8 in", "core": "hollow"},
    "pull_side": {"build_up": [{"material": "vinyl_plank", "thickness": "1/4 in"}]},
    "push_side": {"build_up": [{"material": "vinyl_plank", "thickness": "1/4 in"}]},
}
SCENARIOS = Path(__file__).parents[3] / "examples" / "sandbox"


@pytest.fixture(autouse=True)
def _no_settings(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("JAMBSET_HOST", "JAMBSET_PORT", "JAMBSET_WORKERS", "JAMBSET_RULES", "JAMBSET_AUTH", "COLUMNS"):
        monkeypatch.setenv(name, "")  # so that what a command sets is taken back, too
        monkeypatch.delenv(name)


def _call(*arguments: str, stdin: str | None = None) -> Result:
    return CliRunner().invoke(main.cli, arguments, input=stdin, catch_exceptions=False)


def test_version() -> None:
    assert _call("--version").output == f"jambset, version {VERSION}\n"


# --- advise


def test_advise_prints_the_advice_as_json() -> None:
    called = _call("advise", "-", stdin=json.dumps(OPENING))
    assert called.exit_code == 0
    advice = json.loads(called.output)
    assert (advice["mark"], advice["leaf"]["bottom"]["in"]) == ("T1", 1.0)


def test_advise_reads_a_file_and_prints_a_table(tmp_path: Path) -> None:
    soft = [{"material": "carpet_cushion", "thickness": "7/16 in"}, {"material": "carpet", "thickness": "1/2 in"}]
    opening = {**OPENING, "pull_side": {"build_up": soft}}
    (tmp_path / "opening.json").write_text(json.dumps(opening), "utf-8")
    called = _call("advise", "--table", str(tmp_path / "opening.json"))
    lines = called.output.splitlines()
    assert lines[0].split() == ["mark", "verdict", "foot", "trim", "gaps", "air", "transition"]
    assert lines[2].split()[:2] == ["T1", "go"]
    below = lines[lines.index("T1") :]
    assert below[1].startswith("  Stand both legs on ")
    assert "Leaf above the subfloor under carpet, wanted (preference)" in "\n".join(below[2:])


@pytest.mark.parametrize("width", [80, 100, 120])
def test_a_table_is_no_wider_than_its_terminal_and_breaks_no_word(width: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", str(width))
    lines = _call("advise", "--table", "-", stdin=json.dumps(OPENING)).output.splitlines()
    assert max(map(len, lines)) <= width
    monkeypatch.setenv("COLUMNS", "400")
    wide = _call("advise", "--table", "-", stdin=json.dumps(OPENING)).output
    assert {word for line in lines for word in line.split()} - {"─" * width} <= {*wide.split()}


def test_a_mark_is_printed_as_it_is_written() -> None:
    called = _call("advise", "--table", "-", stdin=json.dumps({**OPENING, "mark": "[b]:door:"}))
    assert called.output.count("[b]:door:") == 2


def test_what_a_terminal_would_obey_is_not_repeated_to_it() -> None:
    called = _call("advise", "-", stdin=json.dumps({**OPENING, "mark": "D\x1b[2J", "grid": "\x9b\x1b]0;x\x07"}))
    assert called.exit_code == 2
    assert "#/mark  Leave out U+001B: " in called.stderr
    assert '"��]0;x�" is not known here' in called.stderr


def test_an_unknown_place_is_told_like_any_other_fault() -> None:
    called = _call("advise", "-", stdin=json.dumps({**OPENING, "jurisdiction": "USA"}))
    assert called.exit_code == 2
    assert '  #/jurisdiction  "USA" is not known here' in called.stderr


@pytest.mark.parametrize(
    ("body", "line"),
    [
        (json.dumps(OPENING).replace("80 in", "80 mm"), "  #/leaf/height  80 mm is not a plausible leaf height"),
        (json.dumps(OPENING).replace('"mark"', '"marc"'), "  #/mark  "),
    ],
)
def test_advise_says_which_field_to_mend_and_exits_with_2(body: str, line: str) -> None:
    called = _call("advise", "-", stdin=body)
    assert called.exit_code == 2
    assert called.stdout == ""
    assert any(shown.startswith(line) for shown in called.stderr.splitlines()), called.stderr


def test_advise_refuses_what_is_no_json() -> None:
    called = _call("advise", "-", stdin="{")
    assert called.exit_code == 2
    assert called.stderr.startswith("The body can't be read: ")


def test_advise_names_a_missing_file() -> None:
    called = _call("advise", "no-such-file.json")
    assert called.exit_code == 2
    assert "no-such-file.json" in called.stderr


# --- recheck

SET = {**OPENING, "as_set": {"foot": "1/2 in", "leaf_bottom": "1 1/2 in"}}


def test_recheck_prints_what_was_found_as_json() -> None:
    called = _call("recheck", "-", stdin=json.dumps(SET))
    assert called.exit_code == 0
    found = json.loads(called.output)
    assert (found["mark"], found["found"]["hinge_foot"]["in"]) == ("T1", 0.5)


def test_recheck_prints_a_table_with_the_remedies_below_cheapest_first() -> None:
    answer = json.loads(_call("recheck", "-", stdin=json.dumps(SET)).output)
    lines = _call("recheck", "--table", "-", stdin=json.dumps(SET)).output.splitlines()
    assert lines[0].split("  ")[0] == "mark"
    assert lines[2].split()[:4] == ["T1", answer["verdict"], "1/2", "in"]
    below = " ".join(" ".join(lines[lines.index("T1") :]).split())
    places = [below.index(remedy["text"]) for remedy in answer["remedies"]]
    assert places
    assert places == sorted(places)
    assert below.startswith(f"T1 {answer['summary']}")


def test_recheck_of_a_unit_that_needs_nothing_says_no_remedy() -> None:
    right = {**SET, "as_set": {"foot": "0 in", "leaf_bottom": "1 in"}}
    assert json.loads(_call("recheck", "-", stdin=json.dumps(right)).output)["remedies"] == []
    line = _call("recheck", "--table", "-", stdin=json.dumps(right)).output.splitlines()[2]
    assert line.split()[:2] == ["T1", "fine"]
    assert line.rstrip().endswith("  -")


def test_recheck_prints_a_drawing_a_sheet_and_a_pdf_in_a_language_and_no_two_at_once() -> None:
    drawing = _call("recheck", "--drawing", "--language", "es", "-", stdin=json.dumps(SET)).output
    assert drawing.startswith("<svg ")
    assert "sección tal como se halló" in drawing
    assert _call("recheck", "--pdf", "-", stdin=json.dumps(SET)).stdout_bytes.startswith(b"%PDF-")
    sheet = _call("recheck", "--sheet", "--language", "es", "-", stdin=json.dumps(SET)).output
    assert '<html lang="es">' in sheet
    answer = json.loads(_call("recheck", "--language", "es", "-", stdin=json.dumps(SET)).output)
    assert answer["summary"] in sheet.replace("\N{NO-BREAK SPACE}", " ")
    for two in itertools.combinations(("--table", "--drawing", "--sheet", "--pdf"), 2):
        both = _call("recheck", *two, "-", stdin=json.dumps(SET))
        assert (both.exit_code, both.stdout) == (2, "")
        assert "Choose one of --table, --drawing, --sheet and --pdf." in both.stderr


def test_recheck_says_which_field_to_mend_and_exits_with_2() -> None:
    called = _call("recheck", "-", stdin=json.dumps(OPENING))
    assert (called.exit_code, called.stdout) == (2, "")
    assert "  #/as_set  as_set is required here" in called.stderr


@pytest.mark.parametrize("command", ["advise", "recheck", "house"])
def test_a_command_speaks_every_language_there_is(command: str) -> None:
    (option,) = [param for param in main.cli.commands[command].params if param.name == "language"]
    assert isinstance(option.type, click.Choice)
    assert list(option.type.choices) == list(LANGUAGES)


def test_advise_prints_a_drawing_and_a_sheet_in_a_language() -> None:
    drawing = _call("advise", "--drawing", "-", stdin=json.dumps(OPENING)).output
    assert drawing.startswith("<svg ")
    assert "Leaf bottom" in drawing
    sheet = _call("advise", "--sheet", "--language", "es", "-", stdin=json.dumps(OPENING)).output
    assert '<html lang="es">' in sheet
    assert json.loads(_call("advise", "--language", "es", "-", stdin=json.dumps(OPENING)).output)["summary"] in sheet


def test_advise_refuses_two_forms_at_once() -> None:
    assert _call("advise", "--pdf", "-", stdin=json.dumps(OPENING)).stdout_bytes.startswith(b"%PDF-")
    called = _call("advise", "--drawing", "--table", "-", stdin=json.dumps(OPENING))
    assert (called.exit_code, "Choose one of --table, --drawing, --sheet and --pdf." in called.stderr) == (2, True)


# --- house

HOUSE = {
    "house": "Lot 4",
    "defaults": {name: part for name, part in OPENING.items() if name != "mark"},
    "openings": [{"mark": "T1"}, {"mark": "T2", "grid": "1 mm"}, {"mark": "T3", "leaf": {"height": "80 mm"}}, {}],
    "head_lines": [{"name": "hall", "marks": ["T1", "T2"]}],
}


def test_house_prints_the_whole_answer_as_json() -> None:
    called = _call("house", "-", stdin=json.dumps(HOUSE))
    assert called.exit_code == 0
    assert [one.get("mark") for one in json.loads(called.output)["openings"]] == ["T1", "T2", "T3", None]


def test_house_prints_a_table_of_its_openings_its_summary_and_what_is_wrong() -> None:
    answer = json.loads(_call("house", "-", stdin=json.dumps(HOUSE)).output)
    lines = _call("house", "--table", "-", stdin=json.dumps(HOUSE)).output.splitlines()
    assert lines[0].split() == ["mark", "verdict", "foot", "trim", "gaps", "air", "transition"]
    assert [line.split()[:2] for line in lines if line[:1] in "T-"][:4][-2:] == [["T3", "refused"], ["-", "refused"]]
    below = " ".join(" ".join(lines[lines.index("Lot 4") :]).split())
    assert below.startswith(f"Lot 4 {answer['summary']} hall: {answer['head_lines'][0]['text']}")
    assert "#/openings/2/leaf/height: 80 mm is not a plausible leaf height" in below
    assert "#/openings/3/mark: " in below


def test_house_prints_a_list_as_csv_and_its_tasks_as_a_calendar() -> None:
    listed = _call("house", "--csv", "openings", "-", stdin=json.dumps(HOUSE))
    assert listed.exit_code == 0
    assert listed.stdout_bytes.startswith(b"mark,external_id,verdict,foot_mm,foot,")
    assert listed.stdout_bytes.count(b"\r\n") == 5
    tasks = _call("house", "--calendar", "-", stdin=json.dumps(HOUSE)).stdout_bytes
    assert tasks.startswith(b"BEGIN:VCALENDAR\r\n")
    assert tasks.endswith(b"END:VCALENDAR\r\n")


def test_house_prints_its_sheet_as_a_page_and_as_a_pdf() -> None:
    page = _call("house", "--sheet", "-", stdin=json.dumps(HOUSE)).output
    assert page.startswith("<!doctype html>")
    assert str(HOUSE["house"]) in page
    assert _call("house", "--pdf", "-", stdin=json.dumps(HOUSE)).stdout_bytes.startswith(b"%PDF-")


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--csv", "doors"), "Invalid value for --csv: must be one of: openings, head_lines, "),
        (("--csv", "trim", "--calendar"), "Choose one of --table, --csv, --calendar, --sheet and --pdf."),
        (("--table", "--calendar"), "Choose one of --table, --csv, --calendar, --sheet and --pdf."),
    ],
)
def test_house_refuses_options_that_it_cant_follow(options: tuple[str, ...], words: str) -> None:
    called = _call("house", *options, "-", stdin=json.dumps(HOUSE))
    assert (called.exit_code, called.stdout) == (2, "")
    assert words in called.stderr


def test_house_says_which_field_to_mend_and_exits_with_2() -> None:
    called = _call("house", "-", stdin=json.dumps(HOUSE | {"defaults": {"jurisdicton": "US"}}))
    assert (called.exit_code, called.stdout) == (2, "")
    assert "  #/defaults/jurisdicton  No opening has a field of this name" in called.stderr


SET_HOUSE = {
    **HOUSE,
    "defaults": {name: part for name, part in SET.items() if name != "mark"},
    "openings": [{"mark": "T1"}, {"mark": "T2", "as_set": None}],
}


def test_house_rechecks_its_doors_as_they_were_set() -> None:
    whole = _call("house", "--recheck", "-", stdin=json.dumps(SET_HOUSE))
    answer = json.loads(whole.output)
    assert (whole.exit_code, answer["totals"]["rechecked"], answer["totals"]["refused"]) == (0, 1, 1)
    lines = _call("house", "--recheck", "--table", "-", stdin=json.dumps(SET_HOUSE)).output.splitlines()
    assert lines[0].split() == ["mark", "verdict", "foot", "leaf", "bottom", "gaps", "first", "remedy"]
    below = " ".join(" ".join(lines[lines.index("Lot 4") :]).split())
    assert below.startswith(f"Lot 4 {answer['summary']}")
    for line in answer["fix_list"]:
        assert f"{line['mark']}, {line['minutes']} min: {line['text']}" in below
    assert answer["do_nothing"]["text"] in below
    assert "#/openings/1/as_set: as_set is required here" in below


def test_house_prints_its_rechecks_in_the_other_forms() -> None:
    def said(*options: str) -> bytes:
        called = _call("house", "--recheck", *options, "-", stdin=json.dumps(SET_HOUSE))
        assert called.exit_code == 0
        return called.stdout_bytes

    assert said("--csv", "fixes").startswith(b"task,mark,kind,trade,minutes,text,hold,questions,")
    assert said("--calendar").startswith(b"BEGIN:VCALENDAR\r\n")
    assert said("--sheet", "--language", "es").startswith(b"<!doctype html>")
    assert said("--pdf").startswith(b"%PDF-")
    blocks = _call("house", "--recheck", "--csv", "blocks", "-", stdin=json.dumps(SET_HOUSE))
    assert "must be one of: openings, open_doors, " in blocks.stderr


# --- rules


def _rules(*arguments: str) -> list[dict[str, Any]]:
    called = _call("rules", "--json", *arguments)
    assert called.exit_code == 0
    found: list[dict[str, Any]] = json.loads(called.output)
    return found


def test_rules_lists_every_rule_with_its_source() -> None:
    rules = _rules()
    assert {"leaf.hard.wanted", "gb-eng-air-hard", "us-fire-bottom-gap"} <= {rule["id"] for rule in rules}
    assert all(rule["document"]["title"] and rule["editions"] and rule["verified"] for rule in rules)


def test_rules_of_a_place_are_its_own_and_those_it_inherits() -> None:
    assert {rule.get("jurisdiction", "") for rule in _rules("--jurisdiction", "US-FL")} == {"", "US", "US-FL"}


def test_rules_can_be_narrowed_by_topic_and_force() -> None:
    laws = _rules("--topic", "access", "--force", "law")
    assert laws
    assert {(rule["topic"], rule["force"]) for rule in laws} == {("access", "law")}


def test_rules_prints_a_table() -> None:
    lines = _call("rules", "--topic", "garage").output.splitlines()
    assert lines[0].split()[:4] == ["rule", "what", "it", "asks,"]
    assert any(line.split()[:1] == ["us-garage-leaf"] for line in lines)


@pytest.mark.parametrize("option", ["jurisdiction", "topic", "force"])
def test_rules_refuses_an_unknown_value_and_lists_the_known(option: str) -> None:
    called = _call("rules", f"--{option}", "nowhere")
    assert called.exit_code == 2
    assert f"Invalid value for --{option}: must be one of: " in called.stderr


# --- openapi


def test_openapi_prints_the_contract() -> None:
    assert json.loads(_call("openapi").output)["openapi"] == "3.1.0"


def test_openapi_check_passes_for_the_printed_document_alone(tmp_path: Path) -> None:
    document = tmp_path / "openapi.json"
    document.write_bytes(_call("openapi").stdout_bytes)
    assert _call("openapi", "--check", str(document)).exit_code == 0
    document.write_bytes(document.read_bytes().replace(b"3.1.0", b"3.1.1"))
    called = _call("openapi", "--check", str(document))
    assert called.exit_code == 1
    assert "differs from the contract" in called.stderr


# --- sandbox


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Two scenarios as they should be, and a third with an answer nobody gave."""
    for path in sorted(SCENARIOS.glob("*.json"))[:2]:
        shutil.copy(path, tmp_path)
    _call("sandbox", "--folder", str(tmp_path))
    scenario = msgspec.json.decode(min(tmp_path.iterdir()).read_bytes())
    scenario["response"]["verdict"] = "perhaps"
    (tmp_path / "03-stale.json").write_bytes(msgspec.json.encode(scenario))
    return tmp_path


def test_sandbox_check_names_the_stale_answer_and_changes_nothing(folder: Path) -> None:
    before = {path: path.read_bytes() for path in folder.iterdir()}
    called = _call("sandbox", "--check", "--folder", str(folder))
    assert called.exit_code == 1
    assert called.stderr == "Error: stale: 03-stale.json; mend with: jambset sandbox\n"
    assert {path: path.read_bytes() for path in folder.iterdir()} == before


def test_sandbox_writes_the_stale_answer_again(folder: Path) -> None:
    called = _call("sandbox", "--folder", str(folder))
    assert called.output == "wrote 03-stale.json\n"
    first, _, mended = sorted(folder.iterdir())
    assert mended.read_bytes() == first.read_bytes()
    assert _call("sandbox", "--check", "--folder", str(folder)).exit_code == 0


def test_sandbox_works_each_scenario_out_by_its_own_call(tmp_path: Path) -> None:
    houses: dict[str | None, Any] = {"/v1/houses/advice": HOUSE, "/v1/houses/recheck": SET_HOUSE}
    calls: dict[str | None, Any] = {"/v1/openings/recheck": SET, **houses, None: OPENING}
    for place, (call, request) in enumerate(calls.items()):
        scenario = {"scenario": "x", "title": "A title", "story": "A story.", "request": request, "response": {}}
        (tmp_path / f"0{place}-x.json").write_text(json.dumps(scenario | ({"call": call} if call else {})), "utf-8")
    assert _call("sandbox", "--folder", str(tmp_path)).output.count("wrote ") == 4
    answers = [json.loads(path.read_bytes())["response"] for path in sorted(tmp_path.iterdir())]
    assert [answer.keys() & {"found", "blocks", "fix_list", "leaf"} for answer in answers] == [
        {"found"}, {"blocks"}, {"fix_list"}, {"leaf"},
    ]  # fmt: skip


def test_the_committed_scenarios_are_fresh() -> None:
    assert _call("sandbox", "--check").exit_code == 0


def test_without_a_sandbox_folder_the_error_says_where_it_was_sought(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(main, "SANDBOXES", (tmp_path / "a", tmp_path / "b"))
    with pytest.raises(FileNotFoundError, match=r"no sandbox scenarios in .*a or .*b"):
        main.sandbox_folder()


# --- serve


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> list[dict[str, Any]]:
    """What uvicorn is called with, instead of a server."""
    calls: list[dict[str, Any]] = []
    monkeypatch.setattr(uvicorn, "run", lambda app, **options: calls.append({"app": app, **options}))
    return calls


def test_serve_starts_the_fast_server_without_access_log_or_server_header(started: list[dict[str, Any]]) -> None:
    assert _call("serve").exit_code == 0
    (options,) = started
    assert (options["app"], options["factory"]) == ("jambset.main:create", True)
    assert (options["host"], options["port"], options["workers"]) == ("127.0.0.1", 8080, 1)
    assert (options["access_log"], options["server_header"]) == (False, False)
    assert options.get("date_header", True)
    assert (options["ws"], options["timeout_keep_alive"]) == ("none", 65)
    assert issubclass(options["http"].func, HttpToolsProtocol)
    assert options["timeout_graceful_shutdown"] == 31
    for given in (options["http"], pickle.loads(pickle.dumps(options["http"]))):  # as workers get it
        assert given.keywords["bounds"] == Bounds(16_384, head_fields=100, seconds=30, drain_seconds=30)
        assert given.keywords["crowd"].most == main.connections_for(10_000)


def test_serve_takes_the_environment_and_options_over_it(
    started: list[dict[str, Any]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("JAMBSET_PORT", "9000")
    monkeypatch.setenv("JAMBSET_HOST", "127.0.0.2")
    assert _call("serve", "--port", "9001", "--workers", "1").exit_code == 0
    assert (started[0]["host"], started[0]["port"], started[0]["workers"]) == ("127.0.0.2", 9001, 1)
    assert main.settings_from_environment() == Settings(host="127.0.0.2", port=9001)  # what workers read


def test_serve_asks_for_a_key_where_others_reach_it_and_starts_with_one(started: list[dict[str, Any]]) -> None:
    called = _call("serve", "--host", "0.0.0.0")
    assert called.exit_code == 1
    assert called.stderr.startswith("Error: No key is set, and callers at 0.0.0.0 need one: set JAMBSET_KEYS_FILE or ")
    assert started == []
    with pytest.raises(SettingsError, match="No key is set"):
        main.create()


def test_serve_starts_for_others_with_a_key_or_when_told_that_none_is_needed(
    started: list[dict[str, Any]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("JAMBSET_KEYS", _call("key", "ci").stdout)
    assert _call("serve", "--host", "0.0.0.0").exit_code == 0
    monkeypatch.delenv("JAMBSET_KEYS")
    monkeypatch.setenv("JAMBSET_AUTH", "off")
    assert _call("serve", "--host", "0.0.0.0").exit_code == 0
    assert [options["host"] for options in started] == ["0.0.0.0"] * 2


@pytest.mark.parametrize(
    ("workers", "metrics", "runner"), [(1, True, "server"), (2, True, "supervisor"), (2, False, "supervisor")]
)
def test_serve_opens_a_second_port_for_the_metrics_and_runs_several_processes(
    workers: int, metrics: bool, runner: str, monkeypatch: pytest.MonkeyPatch, started: list[dict[str, Any]]
) -> None:
    ran: list[tuple[str, int, list[int]]] = []

    def ports(sockets: list[socket.socket]) -> list[int]:
        found = [one.getsockname()[1] for one in sockets]
        for one in sockets:
            one.close()
        return found

    class Supervisor:
        def __init__(self, config: uvicorn.Config, sockets: list[socket.socket]) -> None:
            self._said = ("supervisor", config.workers, ports(sockets))

        def run(self) -> None:
            ran.append(self._said)

    def run(server: uvicorn.Server, sockets: list[socket.socket]) -> None:
        ran.append(("server", server.config.workers, ports(sockets)))

    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    monkeypatch.setattr(several, "Workers", Supervisor)
    monkeypatch.setattr(uvicorn.Server, "run", run)
    monkeypatch.setenv("JAMBSET_METRICS_PORT", str(port if metrics else 0))
    assert _call("serve", "--port", "0", "--workers", str(workers)).exit_code == 0
    ((by, count, (first, *others)),) = ran
    assert (by, count, others) == (runner, workers, [port] if metrics else [])
    assert first not in {0, port}
    assert started == []


def test_serve_starts_no_processes_that_could_only_fail(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Whoever watches them starts them for ever, and their port takes calls that nobody answers."""
    ran: list[object] = []
    monkeypatch.setattr(several, "Workers", lambda *_, **__: SimpleNamespace(run=lambda: ran.append(None)))
    monkeypatch.setenv("JAMBSET_RULES", str(tmp_path))
    called = _call("serve", "--port", "0", "--workers", "2")
    assert (called.exit_code, ran) == (1, [])
    assert called.stderr == "Error: JAMBSET_RULES: common/defaults.toml, whole file: the file is missing\n"


def test_serve_leaves_the_signal_to_stop_as_it_was(started: list[dict[str, Any]]) -> None:
    before = signal.getsignal(signal.SIGTERM)
    assert _call("serve").exit_code == 0
    assert (len(started), signal.getsignal(signal.SIGTERM)) == (1, before)


@pytest.mark.parametrize(
    ("soft", "hard", "raised", "held"),
    [
        (1_024, 20_000, 10_064, 10_000),
        (1_024, resource.RLIM_INFINITY, 10_064, 10_000),
        (1_024, 4_096, 4_096, 4_032),
        (20_000, 20_000, None, 10_000),
        (resource.RLIM_INFINITY, resource.RLIM_INFINITY, None, 10_000),
        (32, 32, 32, 1),
    ],
)
def test_a_process_may_open_a_file_for_each_connection_as_far_as_the_system_lets_it(
    soft: int, hard: int, raised: int | None, held: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    given: list[tuple[int, int]] = []
    monkeypatch.setattr(resource, "getrlimit", lambda _: (soft, hard))
    monkeypatch.setattr(resource, "setrlimit", lambda _, limits: given.append(limits))
    assert main.connections_for(10_000) == held
    assert given == ([] if raised is None else [(raised, hard)])


def test_key_prints_a_new_key_and_apart_from_it_the_line_for_the_file() -> None:
    called, again = (_call("key", "ci-1.x") for _ in range(2))
    key = called.stderr.partition(": ")[2].strip()
    assert called.stdout == f"ci-1.x {hashlib.sha256(key.encode()).hexdigest()}\n"
    assert len(key) == 43
    assert key not in again.output


def test_what_key_prints_can_be_appended_to_the_file_as_it_is(
    tmp_path: Path, started: list[dict[str, Any]], monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "keys"
    file.write_text("".join(_call("key", name).stdout for name in ("one", "two")), "utf-8")
    monkeypatch.setenv("JAMBSET_KEYS_FILE", str(file))
    assert _call("serve", "--host", "0.0.0.0").exit_code == 0
    assert len(started) == 1


@pytest.mark.parametrize("name", ["", "a b", "a;b", "é", "n" * 65])
def test_key_refuses_a_name_that_the_file_or_the_log_couldnt_hold(name: str) -> None:
    called = _call("key", name)
    assert called.exit_code == 2
    assert "must be 1 to 64 letters, digits" in called.stderr


def test_create_builds_the_application_and_calms_the_collector() -> None:
    thresholds, frozen = gc.get_threshold(), gc.get_freeze_count()
    try:
        assert main.create().route_handler_method_map
        assert gc.get_freeze_count() > frozen
        assert gc.get_threshold() == main.GC_THRESHOLDS
    finally:
        gc.unfreeze()
        gc.set_threshold(*thresholds)


def test_create_takes_the_catalogue_the_environment_names(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("JAMBSET_RULES", str(tmp_path))
    with pytest.raises(SettingsError, match=r"^JAMBSET_RULES: common/defaults\.toml, whole file: the file is missing"):
        main.create()


# --- what can't be set up is told in a sentence


def test_a_bad_setting_names_its_variable(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("JAMBSET_PORT", "door")
    called = _call("serve")
    assert called.exit_code == 1
    assert called.stderr.startswith("Error: JAMBSET_PORT: ")


def test_a_damaged_catalogue_names_file_and_row(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("JAMBSET_RULES", str(tmp_path))
    called = _call("advise", "-", stdin=json.dumps(OPENING))
    assert called.exit_code == 1
    assert called.stderr == "Error: JAMBSET_RULES: common/defaults.toml, whole file: the file is missing\n"


def test_a_broken_scenario_names_its_file(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "01-x.json").write_text("{}", "utf-8")
    monkeypatch.setattr(main, "SANDBOXES", (tmp_path,))
    called = _call("openapi")
    assert called.exit_code == 1
    assert called.stderr.startswith("Error: 01-x.json: ")


def test_a_folder_of_rules_that_isnt_there_is_told_by_its_setting(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("JAMBSET_RULES", "/not/there")
    called = _call("rules")
    assert (called.exit_code, called.stderr) == (1, "Error: JAMBSET_RULES: there is no folder /not/there\n")
