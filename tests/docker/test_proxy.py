from __future__ import annotations

import http.client
import json
import signal
import socket
import subprocess
from collections.abc import Iterator
from http.client import HTTPConnection, HTTPResponse
from itertools import count, repeat
from pathlib import Path

import httpx
import pytest
from docker.processes import CONFIGURATION, configure, free_port, nginx, wait_until_ready
from tests.docker.blocks import read
from tests.docker.conftest import HOST, Served
from tests.programs import required

from jambset.http.addresses import ADVICE, BULK, HOUSE, HOUSE_RECHECK
from jambset.http.negotiate import PROBLEM_JSON
from jambset.http.problems import kinds
from jambset.http.settings import Settings
from jambset.main import CUT_SECONDS, KEEP_ALIVE_SECONDS

HTTP = read(CONFIGURATION).one("http")
SERVER = HTTP.one("server")
OPENING = json.loads((Path(__file__).parents[2] / "examples" / "sandbox" / "01-carpet-bedroom.json").read_bytes())[
    "request"
]
BODY = json.dumps(OPENING).encode()
JSON = {"Content-Type": "application/json"}
HOUSES = (HOUSE, HOUSE_RECHECK)


# --- what it says


def test_no_body_limit_is_below_the_services_own() -> None:
    limits = Settings()
    assert SERVER.one("client_max_body_size").size >= limits.max_body_bytes
    for call in HOUSES:
        assert SERVER.one("location", "=", call).one("client_max_body_size").size >= limits.max_house_bytes
    assert SERVER.one("location", "=", BULK).one("client_max_body_size").size >= limits.max_bulk_bytes


def test_a_body_within_its_limit_never_becomes_a_file() -> None:
    for place in (SERVER, *[SERVER.one("location", "=", call) for call in HOUSES]):
        assert place.one("client_body_buffer_size").size >= place.one("client_max_body_size").size
    assert HTTP.one("proxy_max_temp_file_size").size == 0


def test_a_pure_call_is_tried_again_and_a_stream_only_before_it_began() -> None:
    stream = SERVER.one("location", "=", BULK)
    again = ("proxy_next_upstream", "error", "timeout")
    assert HTTP.one("proxy_next_upstream").words == (*again, "non_idempotent")
    assert stream.one("proxy_next_upstream").words == again
    assert {each.words for each in stream.inside} >= {("proxy_request_buffering", "off"), ("proxy_buffering", "off")}
    name = stream.one("proxy_pass").words[1].removeprefix("http://")
    assert HTTP.one("upstream", name).all("keepalive") == []


@pytest.mark.parametrize("call", HOUSES)
def test_a_house_is_tried_again_for_as_long_as_its_process_may_be_stopping_and_never_after_its_own_time(
    call: str,
) -> None:
    house = SERVER.one("location", "=", call)
    again = house.one("proxy_next_upstream_timeout").seconds
    assert Settings().drain_seconds + CUT_SECONDS < again < house.one("proxy_read_timeout").seconds


def test_it_drops_an_idle_connection_before_the_service_does() -> None:
    assert HTTP.one("upstream", "jambset").one("keepalive_timeout").seconds < KEEP_ALIVE_SECONDS


def test_a_stream_that_stands_still_is_ended_by_the_service() -> None:
    stream = SERVER.one("location", "=", BULK)
    for name in ("client_body_timeout", "send_timeout", "proxy_send_timeout", "proxy_read_timeout"):
        assert stream.one(name).seconds > Settings().body_seconds


def test_a_header_line_may_be_as_long_as_the_service_takes_it() -> None:
    assert HTTP.one("large_client_header_buffers").size >= Settings().max_header_bytes


def test_what_a_caller_says_of_an_address_is_not_passed_on() -> None:
    told = ("proxy_set_header", "X-Forwarded-For")
    assert HTTP.one(*told).words == (*told, "$remote_addr")
    places = [SERVER, *SERVER.all("location")]
    assert [each for place in places for each in place.all("proxy_set_header")] == []  # one there would undo all


# --- what it does


def test_nginx_takes_the_configuration(tmp_path: Path) -> None:
    program = required(nginx(), "nginx isn't installed, so the proxy's configuration can't be tried")
    configuration = configure(tmp_path, free_port(), (1, 2))
    command = [program, "-t", "-q", "-c", str(configuration), "-p", str(tmp_path), "-e", "stderr"]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (run.returncode, run.stderr) == (0, "")


@pytest.fixture
def caller(served: Served) -> Iterator[httpx.Client]:
    with httpx.Client(base_url=f"http://127.0.0.1:{served.port}", timeout=20) as client:
        yield client


def _is_problem(response: httpx.Response, status: int) -> bool:
    told = json.loads(response.content)
    return response.headers["content-type"] == PROBLEM_JSON and told["status"] == response.status_code == status


def test_an_answer_passes_as_it_is(served: Served, caller: httpx.Client) -> None:
    asked = {**JSON, "X-Request-ID": "a-caller-s-own"}
    through = caller.post(ADVICE, content=BODY, headers=asked)
    direct = httpx.post(f"http://127.0.0.1:{served.ports[0]}{ADVICE}", content=BODY, headers=asked)
    assert through.status_code == 200
    assert through.content == direct.content
    assert through.headers["x-request-id"] == "a-caller-s-own"


@pytest.mark.parametrize("path", ["/metrics", "/metrics/", "//metrics", "/%6Detrics", "/v1/../metrics", "/%2Fmetrics"])
def test_counters_are_not_to_be_had_in_any_spelling(served: Served, path: str) -> None:
    assert httpx.get(f"http://127.0.0.1:{served.ports[0]}/metrics").status_code == 200
    connection = HTTPConnection("127.0.0.1", served.port, timeout=5)
    connection.putrequest("GET", path)
    connection.endheaders()
    response = connection.getresponse()
    assert (response.status, response.getheader("content-type")) == (404, PROBLEM_JSON)
    connection.close()


@pytest.mark.parametrize(
    ("path", "limit"),
    [(ADVICE, Settings().max_body_bytes), *[(call, Settings().max_house_bytes) for call in HOUSES]],
)
def test_a_body_at_the_limit_reaches_the_service_and_one_above_is_refused_in_its_form(
    caller: httpx.Client, path: str, limit: int
) -> None:
    at_limit = caller.post(path, content=b"{}".ljust(limit), headers=JSON)
    above = caller.post(path, content=b"{}".ljust(limit + 1), headers=JSON)
    assert (at_limit.status_code, "x-request-id" in at_limit.headers) == (422, True)
    assert _is_problem(above, 413)
    assert above.json()["type"].removeprefix("/problems/") in kinds()


@pytest.mark.parametrize(
    "sent",
    [
        b"\x16\x03\x01\r\n\r\n",
        b"GET / HTTP/1.1\r\n\r\n",
        b"TRACE / HTTP/1.1\r\nHost: a\r\n\r\n",
        b"GET /%b HTTP/1.1\r\nHost: a\r\n\r\n" % (b"a" * 20_000),
        b"GET / HTTP/1.1\r\nHost: a\r\nX: %b\r\n\r\n" % (b"a" * 20_000),
        b"POST / HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: gzip\r\n\r\n",
    ],
)
def test_what_cant_be_read_is_refused_in_its_form_too(sent: bytes, served: Served) -> None:
    with socket.create_connection(("127.0.0.1", served.port), timeout=5) as caller:
        caller.sendall(sent)
        response = HTTPResponse(caller)
        response.begin()
        assert (response.status, response.getheader("content-type")) == (400, PROBLEM_JSON)
        assert json.loads(response.read())["status"] == 400


def test_a_caller_far_above_the_rate_is_told_to_wait(served: Served) -> None:
    transport = httpx.HTTPTransport(local_address="127.0.2.1")
    with httpx.Client(base_url=f"http://127.0.0.1:{served.port}", transport=transport) as client:
        answers = [client.get("/health/live") for _ in range(400)]
    refused = [answer for answer in answers if answer.status_code != 200]
    assert all(answer.status_code == 200 for answer in answers[:100])
    assert refused
    assert all(_is_problem(answer, 429) and answer.headers["retry-after"] == "1" for answer in refused)


def _refused(served: Served, peer: str, told: Iterator[str]) -> int:
    """How many of many calls are refused that come from an address and say whom they are for."""
    transport = httpx.HTTPTransport(local_address=peer)
    with httpx.Client(base_url=f"http://127.0.0.1:{served.port}", transport=transport) as client:
        asked = ({"X-Forwarded-For": next(told)} for _ in range(400))
        return sum(client.get("/health/live", headers=headers).status_code == 429 for headers in asked)


def test_callers_behind_what_ends_tls_have_each_their_own_share(served: Served) -> None:
    """Whatever a caller wrote before the host's own word; and nobody but the host is asked who called."""
    assert _refused(served, HOST, (f"198.51.100.{number % 200}" for number in count())) == 0
    assert _refused(served, HOST, repeat("198.51.100.201")) > 0
    assert _refused(served, HOST, (f"198.51.100.{number % 200}, 198.51.100.202" for number in count())) > 0
    assert _refused(served, "127.0.2.2", (f"198.51.100.{number % 200}" for number in count())) > 0


def test_a_caller_who_never_ends_its_header_is_let_go(served: Served) -> None:
    """Without our limit the proxy waits for a minute."""
    with socket.create_connection(("127.0.0.1", served.port), timeout=30) as slow:
        slow.sendall(b"GET /health/live HTTP/1.1\r\nHost: a\r\n")
        with pytest.raises(ConnectionResetError):
            slow.recv(100)


def test_a_killed_process_costs_no_caller_an_answer(served: Served, caller: httpx.Client) -> None:
    for process, port in zip(served.processes, served.ports, strict=True):
        assert {caller.post(ADVICE, content=BODY, headers=JSON).status_code for _ in range(10)} == {200}
        process.end(signal.SIGKILL)
        assert {caller.post(ADVICE, content=BODY, headers=JSON).status_code for _ in range(10)} == {200}
        process.start()
        wait_until_ready(port)


def test_where_no_process_is_left_the_caller_is_told_so_in_its_form(served: Served, caller: httpx.Client) -> None:
    for process in served.processes:
        process.end(signal.SIGTERM)
    refused = caller.post(ADVICE, content=BODY, headers=JSON)
    for process, port in zip(served.processes, served.ports, strict=True):
        process.start()
        wait_until_ready(port)
    assert _is_problem(refused, 503)
    assert refused.headers["retry-after"] == "1"


def test_a_stream_is_answered_line_by_line_while_it_is_still_sent(served: Served) -> None:
    connection = HTTPConnection("127.0.0.1", served.port, timeout=10)
    connection.putrequest("POST", BULK)
    for name, value in (("Content-Type", "application/x-ndjson"), ("Transfer-Encoding", "chunked")):
        connection.putheader(name, value)
    connection.endheaders()
    _send(connection, BODY + b"\n")
    response = _begun(connection)
    first = json.loads(response.readline())
    _send(connection, BODY + b"\n")
    second = json.loads(response.readline())
    connection.send(b"0\r\n\r\n")
    assert response.status == 200
    assert first == second
    assert first["mark"] == OPENING["mark"]
    assert response.read() == b""
    connection.close()


def _send(connection: HTTPConnection, part: bytes) -> None:
    connection.send(b"%x\r\n%b\r\n" % (len(part), part))


def _begun(connection: HTTPConnection) -> HTTPResponse:
    """The response while the request goes on; http.client itself would have the request ended first."""
    assert connection.sock is not None
    response = http.client.HTTPResponse(connection.sock, method="POST")
    response.begin()
    return response
