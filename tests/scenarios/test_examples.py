"""Every documented example is run: client snippets, quickstart and the README's own lines."""

from __future__ import annotations

import os
import re
import shutil
import socket
import subprocess
import sys
import threading
from pathlib import Path
from typing import Any

import msgspec
import pytest
from docker.processes import free_port
from tests.faults.served import served
from tests.programs import required

from jambset.http.keys import entry_of

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"
README = (ROOT / "README.md").read_text("utf-8")


def _run(
    command: list[str], environment: dict[str, str], *, code: int = 0, **options: Any
) -> subprocess.CompletedProcess[str]:
    """A program that ends with a code, and what it said."""
    run = subprocess.run(command, env=environment, capture_output=True, text=True, timeout=120, check=False, **options)
    assert run.returncode == code, run.stdout + run.stderr
    return run


def _needs(program: str) -> str:
    return required(shutil.which(program), f"{program} isn't installed here")


@pytest.fixture
def shell_answer(live: str, environment: dict[str, str]) -> Any:
    """The advice that examples/advise_one.sh prints; the other clients send the same opening."""
    _needs("curl")
    return msgspec.json.decode(_run(["bash", str(EXAMPLES / "advise_one.sh"), live], environment).stdout)


def _short(advice: Any) -> str:
    foot, trim = advice["setting"]["foot"]["text"], advice["leaf"]["trim"]["text"]
    return f"{advice['summary']}\nlegs at {foot}\ntrim {trim}\n"


def test_the_curl_client_prints_the_advice(shell_answer: Any) -> None:
    assert shell_answer["mark"] == "D07"
    assert shell_answer["leaf"]["bottom"]["text"] == "1 1/2 in"


def test_the_stream_client_prints_an_answer_a_line(
    live: str, environment: dict[str, str], tmp_path: Path, shell_answer: Any
) -> None:
    script = (EXAMPLES / "advise_one.sh").read_text("utf-8")
    opening = msgspec.json.decode(script.partition("<<'JSON'\n")[2].rpartition("\nJSON")[0])
    file = tmp_path / "openings.ndjson"
    file.write_bytes(b"\n".join(msgspec.json.encode({**opening, "mark": mark}) for mark in ("D1", "D07", "D2")))
    run = _run([sys.executable, "-W", "error", str(EXAMPLES / "bulk_openings.py"), str(file), live], environment)
    answers = [msgspec.json.decode(line) for line in run.stdout.splitlines()]
    assert [answer["mark"] for answer in answers] == ["D1", "D07", "D2"]
    assert answers[1] == shell_answer


def test_the_stream_client_says_from_where_to_send_again(environment: dict[str, str], tmp_path: Path) -> None:
    """By a service that takes two lines and answers both, of three."""
    file = tmp_path / "openings.ndjson"
    file.write_bytes(b"{}\n" * 3)
    with served(tmp_path, max_bulk_lines="2") as service:
        command = [sys.executable, str(EXAMPLES / "bulk_openings.py"), str(file), f"http://127.0.0.1:{service.port}"]
        run = _run(command, environment, code=1)
    assert len(run.stdout.splitlines()) == 3
    assert run.stderr.endswith("Line 3 and those after it have no answer.\n")


@pytest.mark.parametrize("rest", [b"", b'40\r\n{"advice_id": "c'], ids=["between two chunks", "within a line"])
def test_the_stream_client_misses_the_answers_that_a_broken_connection_took_along(
    rest: bytes, environment: dict[str, str], tmp_path: Path
) -> None:
    """Two of three came, and no last chunk (RFC 9112 section 7.1), as of a proxy whose service died."""
    file = tmp_path / "openings.ndjson"
    file.write_bytes(b"{}\n\n{}\n{}\n")
    answers = b'{"advice_id": "a"}\n{"advice_id": "b"}\n'
    begun = b"HTTP/1.1 200 OK\r\nTransfer-Encoding: chunked\r\n\r\n%x\r\n%s\r\n" % (len(answers), answers)
    with socket.create_server(("127.0.0.1", 0)) as listening:
        answering = threading.Thread(target=_answer_and_leave, args=(listening, begun + rest))
        answering.start()
        base = f"http://127.0.0.1:{listening.getsockname()[1]}"
        run = _run([sys.executable, str(EXAMPLES / "bulk_openings.py"), str(file), base], environment, code=1)
        answering.join()
    assert run.stdout.encode() == answers
    assert run.stderr.endswith("the first 2 of 3 openings have an answer, the others none.\n")


def _answer_and_leave(listening: socket.socket, answer: bytes) -> None:
    """Takes one request whole, sends an answer that has no end, and closes the connection."""
    with listening.accept()[0] as connection:
        asked = b""
        while not asked.endswith(b"0\r\n\r\n"):
            asked += connection.recv(65_536)
        connection.sendall(answer)


def test_the_stream_client_sends_its_key(environment: dict[str, str], tmp_path: Path) -> None:
    file = tmp_path / "openings.ndjson"
    file.write_bytes(b"{}\n")
    with served(tmp_path, auth="on", keys=entry_of("nightly", "abc")) as service:
        command = [sys.executable, str(EXAMPLES / "bulk_openings.py"), str(file), f"http://127.0.0.1:{service.port}"]
        answer = msgspec.json.decode(_run(command, {**environment, "KEY": "abc"}).stdout)
        refused = msgspec.json.decode(_run(command, environment, code=1).stderr)
    assert (answer["code"], refused["code"]) == ("invalid_request", "missing_key")


def test_the_drawing_client_writes_each_form(live: str, environment: dict[str, str], tmp_path: Path) -> None:
    _needs("curl")
    run = _run(["bash", str(EXAMPLES / "draw_one.sh"), live, str(tmp_path)], environment)
    assert run.stdout == "wrote D07.svg\nwrote D07.html\nwrote house.pdf\n"
    starts = {path.name: path.read_bytes()[:5] for path in tmp_path.iterdir()}
    assert starts == {"D07.svg": b"<svg ", "D07.html": b"<!doc", "house.pdf": b"%PDF-"}


def test_the_python_client_prints_what_the_carpenter_needs(
    live: str, environment: dict[str, str], shell_answer: Any
) -> None:
    run = _run([sys.executable, "-W", "error", str(EXAMPLES / "advise_one.py"), live], environment)
    assert run.stdout == _short(shell_answer)


def test_the_typescript_client_prints_what_the_carpenter_needs(
    live: str, environment: dict[str, str], shell_answer: Any
) -> None:
    """Its types are all inferred, so that Node runs the file as it stands."""
    command = [_needs("node"), "--input-type=module", "-", live]
    run = _run(command, environment, input=(EXAMPLES / "advise_one.ts").read_text("utf-8"))
    assert run.stdout == _short(shell_answer)


@pytest.mark.parametrize("client", ["advise_one.py", "advise_one.ts"])
def test_a_client_gives_a_held_door_no_numbers_but_who_is_asked(
    client: str, live: str, environment: dict[str, str], tmp_path: Path
) -> None:
    """A label on the leaf: its listing is asked about before anybody cuts."""
    name = '"duties"' if client.endswith("py") else "duties"
    text = (EXAMPLES / client).read_text("utf-8").replace('"D07",', f'"D07", {name}: ["fire_label"],', 1)
    path = tmp_path / client
    path.write_text(text, "utf-8")
    if client.endswith("py"):
        said = _run([sys.executable, "-W", "error", str(path), live], environment).stdout
    else:
        said = _run([_needs("node"), "--input-type=module", "-", live], environment, input=text).stdout
    assert "\nlegs at" not in said
    assert "\nask door_supplier: " in said


def test_the_recheck_client_prints_the_remedies_cheapest_first(live: str, environment: dict[str, str]) -> None:
    run = _run([sys.executable, "-W", "error", str(EXAMPLES / "recheck_one.py"), live], environment)
    summary, *remedies = run.stdout.splitlines()
    assert summary.startswith("The legs end 1/4 in above the finish")
    minutes = [int(line.partition(" min: ")[0]) for line in remedies]
    assert minutes
    assert minutes == sorted(minutes)


def test_the_house_client_prints_each_opening_and_writes_a_list_and_the_tasks(
    live: str, environment: dict[str, str], tmp_path: Path
) -> None:
    run = _run([sys.executable, "-W", "error", str(EXAMPLES / "house.py"), live, str(tmp_path)], environment)
    summary, *openings = run.stdout.splitlines()
    assert summary.startswith("3 openings: ")
    assert [line.partition(" ")[0] for line in openings] == ["D01", "D02", "D03"]
    assert (tmp_path / "trim.csv").read_bytes().startswith(b"place,mark,leaf,trim_mm,trim,")
    assert (tmp_path / "tasks.ics").read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")


@pytest.mark.parametrize(
    ("client", "pointer"),
    [("advise_one.py", "#/leaf/height"), ("recheck_one.py", "#/leaf/height")],
)
def test_a_client_shows_which_field_to_mend(
    client: str, pointer: str, live: str, environment: dict[str, str], tmp_path: Path
) -> None:
    broken = tmp_path / "broken.py"
    broken.write_text((EXAMPLES / client).read_text("utf-8").replace('"80 in"', '"80 mm"'), "utf-8")
    run = subprocess.run(
        [sys.executable, str(broken), live], env=environment, capture_output=True, text=True, timeout=60, check=False
    )
    assert run.returncode == 1
    assert f"{pointer}: 80 mm is not a plausible leaf height" in run.stderr


def test_the_house_client_tells_what_is_wrong_with_one_opening_and_with_the_house(
    live: str, environment: dict[str, str], tmp_path: Path
) -> None:
    text = (EXAMPLES / "house.py").read_text("utf-8")
    slip, broken = tmp_path / "slip.py", tmp_path / "broken.py"
    slip.write_text(text.replace('"28 in"', '"28 mm"'), "utf-8")
    broken.write_text(text.replace('"head_lines"', '"headlines"'), "utf-8")
    run = _run([sys.executable, str(slip), live, str(tmp_path)], environment)
    assert run.stdout.splitlines()[-1].startswith("D03 28 mm is not a plausible leaf width")
    refused = subprocess.run(
        [sys.executable, str(broken), live], env=environment, capture_output=True, text=True, timeout=60, check=False
    )
    assert refused.returncode == 1
    assert "#/headlines: There is no field of this name here" in refused.stderr


@pytest.mark.parametrize("width", [80, 120])
def test_the_quickstart_prints_every_scenario_and_stops(
    width: int, environment: dict[str, str], tmp_path: Path
) -> None:
    settings = {
        "QUICKSTART_ONCE": "1",
        "QUICKSTART_BIN": str(Path(sys.executable).parent),
        "QUICKSTART_STATE": str(tmp_path),
        "QUICKSTART_PORT": str(free_port()),
        "COLUMNS": str(width),
    }
    run = _run(["bash", str(EXAMPLES / "quickstart.sh")], environment | settings)
    scenarios = [msgspec.json.decode(path.read_bytes()) for path in sorted((EXAMPLES / "sandbox").glob("*.json"))]
    printed = " ".join(run.stdout.split())
    for scenario in scenarios:
        name = scenario["request"].get("mark", scenario["request"].get("house"))
        assert f"{name} {scenario['title']} {scenario['response']['summary']}" in printed
        rules = scenario["response"].get("setting", {}).get("governed_by", ())
        assert len(rules) <= len(_rules_below(scenario["title"], run.stdout))
    for told in ("remedies", "head_lines"):
        texts = [one["text"] for scenario in scenarios for one in scenario["response"].get(told, ())]
        assert texts
        assert all(" ".join(text.split()) in printed for text in texts)
    table = run.stdout[run.stdout.index("mark  ") :].splitlines()
    assert max(map(len, table)) <= width
    assert sorted(path.name for path in tmp_path.iterdir()) == ["jambset.log"]


def _rules_below(title: str, printed: str) -> list[str]:
    """The lines beneath a scenario's summary that name a rule by its title."""
    block = printed.partition(f"  {title}\n")[2].partition("\n\n")[0]
    return re.findall(r"^  (?:Foot|Leaf|Foot and leaf) by: [A-Z].*$", block, re.MULTILINE)


def _blocks(language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)


def test_the_readme_names_commands_that_exist() -> None:
    scripts = re.findall(r"^bash (\S+)$", "".join(_blocks("sh")), re.MULTILINE)
    assert scripts == ["examples/quickstart.sh", "tests/run.sh"]
    assert all(os.access(ROOT / script, os.X_OK) for script in scripts)


def test_the_readme_request_gives_the_readme_answer(live: str, environment: dict[str, str]) -> None:
    _needs("curl")
    (command,) = [block for block in _blocks("sh") if "curl" in block]
    (answer,) = _blocks("json")
    run = _run(["bash", "-c", command.replace("http://127.0.0.1:8080", live)], environment)
    advice, shown = msgspec.json.decode(run.stdout), msgspec.json.decode(answer)
    assert shown
    assert {name: _like(shown[name], advice[name]) for name in shown} == shown


def _like(shown: Any, full: Any) -> Any:
    """As much of the full answer as the README shows: members left out there are left out here."""
    if isinstance(shown, dict):
        return {name: _like(part, full[name]) for name, part in shown.items()}
    return full


def test_the_readme_picture_is_what_the_command_line_prints(environment: dict[str, str], tmp_path: Path) -> None:
    (command,) = [block for block in _blocks("sh") if "curl" in block]
    (picture,) = _blocks("text")
    request = tmp_path / "opening.json"
    request.write_text(command.partition("-d '")[2].rpartition("'")[0], "utf-8")
    advise = [sys.executable, "-c", "from jambset.main import cli; cli()", "advise", "--table", str(request)]
    printed = _run(advise, environment | {"COLUMNS": "100"}).stdout
    lines, shown = [line.rstrip() for line in printed.strip("\n").splitlines()], picture.splitlines()
    assert lines[: len(shown)] == shown
    assert shown.index("Cautions") == len(shown) - 2  # the others are left to the reader's own call
