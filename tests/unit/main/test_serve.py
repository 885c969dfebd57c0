"""The service as it is started: one process, its ports, its keys."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import msgspec
import pytest

from jambset.http.keys import entry_of, new_key

ROOT = Path(__file__).parents[3]
READY_SECONDS = 60
KEY = new_key()


class Started(NamedTuple):
    port: int
    metrics_port: int
    process: subprocess.Popen[bytes]


def _free_ports(count: int) -> list[int]:
    held = [socket.create_server(("127.0.0.1", 0)) for _ in range(count)]
    ports = [one.getsockname()[1] for one in held]
    for one in held:
        one.close()
    return ports


def _get(port: int, path: str, key: str | None = None) -> tuple[int, dict[str, str], bytes]:
    headers = {} if key is None else {"Authorization": f"Bearer {key}"}
    request = urllib.request.Request(f"http://127.0.0.1:{port}{path}", headers=headers)
    try:
        with urllib.request.urlopen(request, timeout=10) as reply:
            return reply.status, {k.lower(): v for k, v in reply.headers.items()}, reply.read()
    except urllib.error.HTTPError as refusal:
        with refusal:
            return refusal.code, {k.lower(): v for k, v in refusal.headers.items()}, refusal.read()


def _wait_for(port: int, process: subprocess.Popen[bytes]) -> None:
    end = time.monotonic() + READY_SECONDS
    while time.monotonic() < end and process.poll() is None:
        try:
            _get(port, "/health/ready")
        except OSError:
            time.sleep(0.05)
        else:
            return
    pytest.fail("the service didn't start")


@pytest.fixture(scope="module")
def started(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Started]:
    keys = tmp_path_factory.mktemp("serve") / "keys.txt"
    keys.write_text(f"# who calls\n{entry_of('ci', KEY)}\n", "utf-8")
    port, metrics_port = _free_ports(2)
    settings = {
        "JAMBSET_AUTH": "on",
        "JAMBSET_KEYS_FILE": str(keys),
        "JAMBSET_METRICS_PORT": str(metrics_port),
        "JAMBSET_BODY_SECONDS": "1",
        "PYTHONPATH": str(ROOT / "service"),
    }
    plain = {name: value for name, value in os.environ.items() if not name.startswith("JAMBSET_")}
    command = [sys.executable, "-m", "jambset.main", "serve", "--port", str(port)]
    with subprocess.Popen(command, env=plain | settings, stdout=subprocess.PIPE, stderr=subprocess.STDOUT) as process:
        try:
            _wait_for(port, process)
            yield Started(port, metrics_port, process)
        finally:
            process.kill()


def test_only_a_caller_with_the_key_is_answered(started: Started) -> None:
    status, headers, body = _get(started.port, "/v1/rule-sets")
    assert (status, headers["www-authenticate"]) == (401, 'Bearer realm="jambset"')
    assert msgspec.json.decode(body)["code"] == "missing_key"
    assert _get(started.port, "/v1/rule-sets", new_key())[0] == 401
    assert _get(started.port, "/v1/rule-sets", KEY)[0] == 200
    assert _get(started.port, "/health/ready")[0] == 200


def test_answers_have_a_date_and_dont_say_what_server_it_is(started: Started) -> None:
    for _, headers, _ in (_get(started.port, "/"), _get(started.port, "/v1/rules"), _get(started.metrics_port, "/x")):
        assert "server" not in headers
        assert headers["date"].endswith(" GMT")


def test_metrics_are_at_their_own_port_alone(started: Started) -> None:
    assert _get(started.metrics_port, "/metrics")[0] == 401
    status, _, body = _get(started.metrics_port, "/metrics", KEY)
    assert (status, b"jambset_requests_total" in body) == (200, True)
    assert _get(started.port, "/metrics", KEY)[0] == 404
    assert _get(started.metrics_port, "/v1/rules", KEY)[0] == 404


@pytest.mark.parametrize("workers", ["1", "2"])
def test_where_it_cant_listen_the_settings_are_named(workers: str, started: Started) -> None:
    settings = {"JAMBSET_PORT": str(started.port), "JAMBSET_WORKERS": workers, "PYTHONPATH": str(ROOT / "service")}
    plain = {name: value for name, value in os.environ.items() if not name.startswith("JAMBSET_")}
    command = [sys.executable, "-m", "jambset.main", "serve"]
    ended = subprocess.run(command, env=plain | settings, capture_output=True, text=True, check=False)
    assert (ended.returncode, ended.stdout) == (3, "")
    assert f"JAMBSET_HOST is 127.0.0.1, JAMBSET_PORT is {started.port}." in ended.stderr


def test_a_body_that_stands_still_is_answered_and_its_connection_closed(started: Started) -> None:
    head = f"POST /v1/openings/advice HTTP/1.1\r\nHost: a\r\nAuthorization: Bearer {KEY}\r\n"
    with socket.create_connection(("127.0.0.1", started.port), timeout=10) as caller:
        caller.sendall(f"{head}Content-Type: application/json\r\nContent-Length: 9999\r\n\r\n{{".encode())
        got = b""
        while part := caller.recv(65_536):
            got += part
    assert got.startswith(b"HTTP/1.1 408 ")
    assert b"\r\nconnection: close\r\n" in got.lower()
    assert b'"code":"slow_body"' in got


def test_it_stops_when_told_and_its_log_has_the_callers_name_and_no_key(started: Started) -> None:
    _get(started.port, "/v1/limits", KEY)
    started.process.send_signal(signal.SIGTERM)
    out, _ = started.process.communicate(timeout=30)
    lines = [msgspec.json.decode(line) for line in out.splitlines()]
    assert lines[-1]["caller"] == "ci"
    assert KEY.encode() not in out
    assert entry_of("ci", KEY).split()[1].encode() not in out
