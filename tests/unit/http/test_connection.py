"""A real server on a real socket: what a caller may do with a connection, and for how long."""

from __future__ import annotations

import asyncio
import contextlib
import re
import socket
import threading
import time
from collections.abc import Iterator
from functools import partial
from typing import Any

import pytest
import uvicorn
from uvicorn.server import ServerState

from jambset.errors import RequestError
from jambset.http.connection import ARRIVED, MOST_WAITING, PIECE, REFUSED, SAYS_NO_MORE, Bounds, Connection
from jambset.http.connection import Line as Answers
from jambset.http.crowd import Crowd

PATIENCE = 0.8
HEAD = 1_024
FIELDS = 20
MOST = 8


async def app(scope: Any, receive: Any, send: Any) -> None:
    """Answers at once, and reads a body only at /read, which takes longer than the server's patience at /think.

    At /parts without a length; at /fail not at all, at /half with a head alone; at /arrived with 202 where the body
    isn't there; at /end it says whether the caller ended his side of the connection, at /host what host he calls. What
    the connection minds it refuses, as the service does.
    """
    if scope["type"] != "http":
        return
    if (fault := scope["state"].get(REFUSED)) is not None:
        await _refuse(fault, send)
        return
    path = scope["path"]
    if path == "/read":
        while (await receive()).get("more_body"):
            if (fault := scope["state"].get(REFUSED)) is not None:
                await _refuse(fault, send)
                return
        await asyncio.sleep(0)
    if path in {"/think", "/end"}:
        await asyncio.sleep(2 * PATIENCE)
    if path == "/fail":
        raise ZeroDivisionError
    headers = [] if path in {"/parts", "/end", "/host"} else [(b"content-length", b"2")]
    status = 202 if path == "/arrived" and ARRIVED not in scope["state"] else 200
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await _before(path, send)
    said = b"%d" % scope["state"].get(SAYS_NO_MORE, False) if path == "/end" else b"ok"
    if path == "/host":
        said = b" ".join(value for name, value in scope["headers"] if name == b"host")
    await send({"type": "http.response.body", "body": said})


async def _before(path: str, send: Any) -> None:
    """What comes between a head and the last part of a body."""
    if path == "/half":
        raise ZeroDivisionError
    if path == "/parts":
        for part in (b"one ", b"", b"two "):
            await send({"type": "http.response.body", "body": part, "more_body": True})


async def _refuse(fault: RequestError, send: Any) -> None:
    text = str(fault).encode()
    headers = [(b"content-length", b"%d" % len(text))]
    await send({"type": "http.response.start", "status": fault.status, "headers": headers})
    await send({"type": "http.response.body", "body": text})


@pytest.fixture(scope="module")
def port() -> Iterator[int]:
    """A server of its own in a thread, which no halt of this side makes impatient."""
    with serving(120) as found:
        yield found


@pytest.fixture(scope="module")
def hasty_port() -> Iterator[int]:
    """One of little patience, for what a caller may take his time with."""
    with serving(PATIENCE) as found:
        yield found


@contextlib.contextmanager
def serving(patience: float) -> Iterator[int]:
    """The port of a server in a thread that waits so long."""
    protocol: Any = partial(Connection, bounds=Bounds(HEAD, FIELDS, patience, patience), crowd=Crowd(MOST))
    config = uvicorn.Config(
        app, port=0, http=protocol, ws="none", lifespan="off", log_level="critical", timeout_keep_alive=60
    )
    server = uvicorn.Server(config)
    sock = config.bind_socket()
    thread = threading.Thread(target=server.run, kwargs={"sockets": [sock]})
    thread.start()
    while not server.started:
        time.sleep(0.01)
    try:
        yield sock.getsockname()[1]
    finally:
        server.should_exit = True
        thread.join()


@pytest.fixture
def caller(port: int) -> Iterator[socket.socket]:
    with socket.create_connection(("127.0.0.1", port), timeout=10) as sock:
        yield sock


@pytest.fixture
def hasty(hasty_port: int) -> Iterator[socket.socket]:
    """A connection to it."""
    with socket.create_connection(("127.0.0.1", hasty_port), timeout=10) as sock:
        yield sock


def _answer(caller: socket.socket) -> bytes:
    """One answer of the application."""
    got = b""
    while not got.endswith(b"\r\n\r\nok"):
        part = caller.recv(65_536)
        assert part, f"the connection ended after {got!r}"
        got += part
    return got


def _rest(caller: socket.socket) -> bytes:
    """All that comes until the server closes."""
    got = b""
    with contextlib.suppress(ConnectionResetError):
        while part := caller.recv(65_536):
            got += part
    return got


def _dribble(caller: socket.socket, text: bytes, every: float, *, began: float) -> float:
    """Sends a byte now and then until the server closes; how many seconds after it began it did [s].

    began: no later than the time that the server allows did, so that a halt of this side makes nothing too short.
    """
    caller.settimeout(every)
    for place in range(200):
        try:
            caller.sendall(text[place % len(text) :][:1])
            if caller.recv(65_536) == b"":
                return time.monotonic() - began
        except TimeoutError:
            continue
        except OSError:
            return time.monotonic() - began
    pytest.fail("the server never closed")


class Wire(asyncio.Transport):
    """A transport that keeps each write."""

    def __init__(self) -> None:
        super().__init__()
        self.written: list[bytes] = []

    def write(self, data: Any) -> None:
        """Keep it."""
        self.written.append(bytes(data))

    def is_closing(self) -> bool:
        """Never."""
        return False


SIZED = b"HTTP/1.1 200 OK\r\ncontent-length: 2\r\n\r\n"
UNSIZED = b"HTTP/1.1 200 OK\r\ntransfer-encoding: chunked\r\n\r\n"
GO_ON = b"HTTP/1.1 100 Continue\r\n\r\n"


@pytest.mark.parametrize(
    ("told", "written"),
    [
        ([SIZED, b"ok"], [SIZED + b"ok"]),
        ([SIZED, b"o", b"k"], [SIZED + b"o", b"k"]),
        ([UNSIZED, b"1\r\no\r\n"], [UNSIZED, b"1\r\no\r\n"]),  # its caller may wait for the head before he sends more
        ([GO_ON, SIZED, b"ok"], [GO_ON, SIZED, b"ok"]),
        ([UNSIZED, b"\r\ncontent-length: 2"], [UNSIZED, b"\r\ncontent-length: 2"]),  # a body that looks like a head
    ],
    ids=["sized", "parts", "unsized", "continue", "looks-alike"],
)
def test_a_head_goes_with_the_body_whose_length_it_says(told: list[bytes], written: list[bytes]) -> None:
    wire = Wire()
    line = Answers(wire, lambda: None)
    for _ in range(2):  # of one connection the second answer goes as the first
        line.begin()
        for data in told:
            line.write(data)
        line.flush()
    assert wire.written == 2 * written


@pytest.mark.parametrize("ends", [Answers.flush, Answers.close])
def test_a_head_without_a_body_goes_once_its_answer_has_ended_or_its_connection_does(ends: Any) -> None:
    wire = Wire()
    left: list[list[bytes]] = []
    line = Answers(wire, lambda: left.append(list(wire.written)))
    line.begin()
    line.write(SIZED)
    assert wire.written == []
    ends(line)
    ends(line)
    assert wire.written == [SIZED]
    assert left in ([], [[SIZED], [SIZED]])


def test_an_answer_to_head_and_one_that_breaks_off_send_their_heads(caller: socket.socket) -> None:
    caller.sendall(b"HEAD / HTTP/1.1\r\nHost: a\r\n\r\n")
    assert caller.recv(65_536).endswith(b"content-length: 2\r\n\r\n")
    caller.sendall(b"GET /half HTTP/1.1\r\nHost: a\r\n\r\n")
    assert _rest(caller).endswith(b"content-length: 2\r\n\r\n")


def test_the_application_is_told_whether_all_of_a_body_is_there(caller: socket.socket) -> None:
    head = b"POST /arrived HTTP/1.1\r\nHost: a\r\nContent-Length: 2\r\n\r\n"
    caller.sendall(head + b"{}")
    assert _answer(caller).startswith(b"HTTP/1.1 200")
    caller.sendall(head)
    assert _answer(caller).startswith(b"HTTP/1.1 202")


def test_requests_follow_each_other_on_one_connection(caller: socket.socket) -> None:
    for _ in range(3):
        caller.sendall(b"GET / HTTP/1.1\r\nHost: a\r\n\r\n")
        assert _answer(caller).startswith(b"HTTP/1.1 200")


@pytest.mark.parametrize("field", [b"Host: b\r\n", b"hOST: a@b\r\nX: y\r\n", b"Host:\r\n"])
@pytest.mark.parametrize(
    ("target", "host"),
    [(b"http://a.example:99/host?x", b"a.example:99"), (b"HTTPS://A/host", b"A"), (b"http://[::1]/host#x", b"[::1]")],
)
def test_a_target_that_names_its_host_stands_in_place_of_the_field(
    target: bytes, host: bytes, field: bytes, caller: socket.socket
) -> None:
    caller.sendall(b"GET %b HTTP/1.1\r\n%bConnection: close\r\n\r\n" % (target, field))
    assert b"\r\n\r\n%x\r\n%b\r\n" % (len(host), host) in _rest(caller)


def test_requests_sent_together_are_answered_though_their_bodies_are_longer_than_a_head(caller: socket.socket) -> None:
    one = b"POST /read HTTP/1.1\r\nHost: a\r\nContent-Length: 8000\r\n\r\n" + b"x" * 8_000
    caller.sendall(one * 3 + b"GET / HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n")
    assert _rest(caller).count(b"HTTP/1.1 200") == 4


@pytest.mark.parametrize("kept", [b"", b"Connection: keep-alive\r\n"])
@pytest.mark.parametrize("version", [b"0.9", b"1.0"])
def test_one_who_knows_no_chunks_gets_an_answer_that_ends_with_the_connection(
    version: bytes, kept: bytes, caller: socket.socket
) -> None:
    caller.sendall(b"GET /parts HTTP/" + version + b"\r\n" + kept + b"\r\n")
    head, _, body = _rest(caller).partition(b"\r\n\r\n")
    assert head.startswith(b"HTTP/1.1 200")
    assert b"transfer-encoding" not in head
    assert b"content-length" not in head
    assert b"\r\nconnection: close" in head
    assert body == b"one two ok"


@pytest.mark.parametrize(
    ("request_line", "status", "ends"),
    [
        (b"GET /", b"200", b"\r\n\r\nok"),
        (b"HEAD /parts", b"200", b"\r\n\r\n"),
        (b"GET /fail", b"500", b"\r\n\r\nInternal Server Error"),
    ],
)
def test_what_has_a_length_or_no_body_is_the_same_to_him(
    request_line: bytes, status: bytes, ends: bytes, caller: socket.socket
) -> None:
    caller.sendall(request_line + b" HTTP/1.0\r\n\r\n")
    said = _rest(caller)
    assert said.startswith(b"HTTP/1.1 " + status)
    assert said.endswith(ends)
    assert b"transfer-encoding" not in said


def test_nor_is_he_told_to_go_on_with_a_body(caller: socket.socket) -> None:
    """A 1xx is for HTTP/1.1 alone (RFC 9110, 15.2)."""
    head = b"POST /read HTTP/1.0\r\nExpect: 100-continue\r\nContent-Length: 2\r\n\r\n"
    caller.sendall(head + b"{}")
    assert _rest(caller).startswith(b"HTTP/1.1 200")


def test_one_who_knows_them_gets_them_and_keeps_his_connection(caller: socket.socket) -> None:
    for _ in range(2):
        caller.sendall(b"GET /parts HTTP/1.1\r\nHost: a\r\n\r\n")
        got = b""
        while not got.endswith(b"\r\n0\r\n\r\n"):
            got += caller.recv(65_536)
        assert b"\r\ntransfer-encoding: chunked\r\n" in got


def test_an_application_is_told_of_a_caller_who_says_no_more(hasty: socket.socket) -> None:
    hasty.sendall(b"GET /end HTTP/1.0\r\n\r\n")
    time.sleep(0.1 * PATIENCE)
    hasty.shutdown(socket.SHUT_WR)
    assert _last_answer(hasty).endswith(b"\r\n\r\n1")


def test_and_of_none_who_may_say_more(caller: socket.socket) -> None:
    caller.sendall(b"GET /end HTTP/1.0\r\n\r\n")
    assert _last_answer(caller).endswith(b"\r\n\r\n0")


def test_a_connection_rests_between_requests_longer_than_a_head_may_take(hasty: socket.socket) -> None:
    for _ in range(2):
        hasty.sendall(b"GET / HTTP/1.1\r\nHost: a\r\n\r\n")
        assert _answer(hasty).startswith(b"HTTP/1.1 200")
        time.sleep(1.5 * PATIENCE)


def test_an_answer_may_take_longer_than_a_head(hasty: socket.socket) -> None:
    hasty.sendall(b"GET /think HTTP/1.1\r\nHost: a\r\n\r\n")
    assert _answer(hasty).startswith(b"HTTP/1.1 200")


def test_the_time_of_a_body_that_is_read_is_the_readers_business(hasty: socket.socket) -> None:
    hasty.sendall(b"POST /read HTTP/1.1\r\nHost: a\r\nContent-Length: 2\r\n\r\n{")
    time.sleep(1.5 * PATIENCE)
    hasty.sendall(b"}")
    assert _answer(hasty).startswith(b"HTTP/1.1 200")


def test_a_connection_on_which_nothing_comes_is_closed(hasty_port: int) -> None:
    began = time.monotonic()
    with socket.create_connection(("127.0.0.1", hasty_port), timeout=10) as caller:
        assert _rest(caller) == b""
    assert time.monotonic() - began >= 0.9 * PATIENCE


def test_a_head_that_dribbles_in_is_cut_off(hasty_port: int) -> None:
    began = time.monotonic()
    with socket.create_connection(("127.0.0.1", hasty_port), timeout=10) as caller:
        took = _dribble(caller, b"GET / HTTP/1.1\r\nHost: " + b"a" * 200, 0.05, began=began)
    assert took >= 0.9 * PATIENCE


def test_so_is_one_that_follows_a_whole_request(hasty: socket.socket) -> None:
    hasty.sendall(b"GET / HTTP/1.1\r\nHost: a\r\n\r\n")
    _answer(hasty)
    time.sleep(1.5 * PATIENCE)
    began = time.monotonic()
    took = _dribble(hasty, b"\r\nGET / HTTP/1.1\r\nHost: " + b"a" * 200, 0.05, began=began)
    assert took >= 0.9 * PATIENCE


def test_a_body_that_dribbles_on_after_its_answer_is_cut_off(hasty: socket.socket) -> None:
    began = time.monotonic()
    hasty.sendall(b"POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 999999\r\n\r\n")
    assert _answer(hasty).startswith(b"HTTP/1.1 200")
    assert _dribble(hasty, b"x", 0.05, began=began) >= 0.9 * PATIENCE


CLOSING = b"POST / HTTP/1.1\r\nHost: a\r\nConnection: close\r\nContent-Length: 999999\r\n\r\n"


def _last_answer(caller: socket.socket) -> bytes:
    """All that comes until the server says no more; fails where it resets the connection."""
    return b"".join(iter(partial(caller.recv, 65_536), b""))


def test_one_whose_body_nobody_reads_may_send_it_all_and_then_read_the_last_answer(caller: socket.socket) -> None:
    """What comes on a closed connection resets it, and the answer with it (RFC 9112, 9.6)."""
    caller.sendall(CLOSING + bytes(999_999))
    said = _last_answer(caller)
    assert said.startswith(b"HTTP/1.1 200 ")
    assert said.endswith(b"\r\n\r\nok")


def test_who_goes_on_sending_after_the_last_answer_is_cut_off(hasty: socket.socket) -> None:
    began = time.monotonic()
    hasty.sendall(CLOSING)
    assert _last_answer(hasty).endswith(b"ok")
    with contextlib.suppress(ConnectionError):
        for _ in range(200):
            hasty.sendall(b"x")
            time.sleep(0.05)
        pytest.fail("the server never closed")
    assert time.monotonic() - began >= 0.9 * PATIENCE


def test_the_last_answer_waits_for_nothing_that_is_left_of_the_body() -> None:
    """It is there long before a server is out of patience that has much of it."""
    with serving(120) as port, socket.create_connection(("127.0.0.1", port), timeout=60) as caller:
        caller.sendall(CLOSING)
        assert _last_answer(caller).endswith(b"ok")


def test_who_stays_after_the_last_answer_makes_room() -> None:
    """Of a server that knows no other callers: one of an earlier test whose end it hasn't seen would take a place."""
    with serving(120) as port, contextlib.ExitStack() as crowd:
        callers = [crowd.enter_context(socket.create_connection(("127.0.0.1", port), timeout=10)) for _ in range(MOST)]
        for one in callers:
            one.sendall(CLOSING)
            assert _last_answer(one).endswith(b"ok")
        another = crowd.enter_context(socket.create_connection(("127.0.0.1", port), timeout=10))
        another.sendall(b"GET / HTTP/1.1\r\nHost: a\r\n\r\n")
        assert _answer(another).startswith(b"HTTP/1.1 200 ")


@pytest.mark.parametrize(
    ("head", "more"),
    [(b"GET / HTTP/1.1\r\nHost: a\r\nX-Long: ", b"x" * 3_000), (b"GET /", b"y" * 3_000)],
)
def test_a_head_without_end_is_cut_off_with_431(head: bytes, more: bytes, caller: socket.socket) -> None:
    caller.sendall(head)
    time.sleep(0.05)
    caller.sendall(more)
    said = _rest(caller)
    assert said.startswith(b"HTTP/1.1 431 ")
    assert said.endswith(b"together may have 1024 bytes.")


def test_a_head_of_many_fields_is_cut_off_before_its_end(caller: socket.socket) -> None:
    """Each is kept as objects, for as long as a head may take: ten bytes of them as some hundred and fifty."""
    head = b"GET / HTTP/1.1\r\nHost: a\r\n" + b"X: y\r\n" * (FIELDS - 1)
    caller.sendall(head + b"\r\n")
    assert _answer(caller).startswith(b"HTTP/1.1 200 ")
    caller.sendall(head + b"X: y\r\nX")
    said = _rest(caller)
    assert said.startswith(b"HTTP/1.1 431 ")
    assert said.endswith(b"may have 20 fields; this one has more.")


def test_one_that_is_sent_while_an_answer_is_made_is_refused_after_it(hasty: socket.socket) -> None:
    hasty.sendall(b"GET /think HTTP/1.1\r\nHost: a\r\n\r\nGET / HTTP/1.1\r\n")
    for _ in range(3):
        time.sleep(0.05)
        with contextlib.suppress(OSError):
            hasty.sendall(b"X: y\r\n" * 300)
    said = _rest(hasty)
    assert re.findall(rb"HTTP/1.1 (\d+) ", said) == [b"200", b"431"]


@pytest.mark.parametrize("path", [b"/read", b"/think"])
def test_a_body_that_breaks_off_is_told_to_whoever_reads_it(path: bytes, caller: socket.socket) -> None:
    caller.sendall(b"POST %b HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: chunked\r\n\r\n2\r\n{}\r\n" % path)
    time.sleep(0.05)
    caller.sendall(b"zz\r\n")
    said = _rest(caller)
    told = (b"400", b"or fields after them have no end.") if path == b"/read" else (b"200", b"ok")
    assert (re.findall(rb"HTTP/1.1 (\d+) ", said), said.endswith(told[1])) == ([told[0]], True)
    assert b"\r\nconnection: close\r\n" in said


def test_a_body_that_breaks_off_once_it_is_answered_ends_the_connection(caller: socket.socket) -> None:
    caller.sendall(b"POST / HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: chunked\r\n\r\n")
    assert _answer(caller).startswith(b"HTTP/1.1 200 ")
    caller.sendall(b"zz\r\n")
    assert _rest(caller) == b""


class Line(asyncio.Transport):
    """A transport that keeps what is written. reading: whether more may come."""

    def __init__(self, sock: socket.socket) -> None:
        super().__init__({"socket": sock})
        self.written, self.reading = b"", True

    def write(self, data: Any) -> None:
        self.written += data

    def pause_reading(self) -> None:
        self.reading = False

    def resume_reading(self) -> None:
        self.reading = True

    def is_closing(self) -> bool:
        return False


def test_requests_wait_as_they_came_and_no_more_is_read_meanwhile() -> None:
    """Taken apart, each is kilobytes: of 27 bytes a caller could make what he likes."""
    many, most, bounds = 2_000, MOST_WAITING + PIECE // 50, Bounds(HEAD, FIELDS, 60, 60)

    async def talk(line: Line) -> None:
        config = uvicorn.Config(app, ws="none", lifespan="off", access_log=False)
        config.load()
        connection = Connection(config, ServerState(), {}, bounds=bounds, crowd=Crowd(MOST))
        connection.connection_made(line)
        connection.data_received(b"POST /read HTTP/1.1\r\nHost: a\r\nContent-Length: 2\r\n\r\n{}" * many)
        while line.written.count(b"HTTP/1.1 200") < many:
            assert len(connection.pipeline) <= most
            assert not line.reading or line.written.count(b"HTTP/1.1 200") >= many - most - 1
            await asyncio.sleep(0)
        assert line.reading

    with socket.socket() as sock:
        asyncio.run(talk(Line(sock)))


def test_a_head_that_ends_in_time_is_left_to_the_application(caller: socket.socket) -> None:
    caller.sendall(b"GET / HTTP/1.1\r\nHost: a\r\nX-Long: ")
    for _ in range(3):
        time.sleep(0.05)
        caller.sendall(b"x" * 500)
    caller.sendall(b"\r\n\r\n")
    assert _answer(caller).startswith(b"HTTP/1.1 200")
