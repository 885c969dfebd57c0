"""Many connections on one server: who rests makes room, who takes nothing is let go, who breaks off leaves nothing."""

from __future__ import annotations

import asyncio
import gc
import logging
import socket
import struct
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from functools import partial
from typing import Any

import pytest
import uvicorn
from tests.faults.served import PATIENCE, rest, statuses, until

from jambset.http.connection import REFUSED, Bounds, Connection
from jambset.http.crowd import Crowd

MOST = 4
HASTY = 1
"""How long a server waits that is to give up [s]; any other has all the patience that a test has."""
LARGE = 16_000_000
"""More than the system keeps for one connection [bytes]."""
GET = b"GET / HTTP/1.1\r\nHost: a\r\n\r\n"
THINK = GET.replace(b"/ ", b"/think ", 1)
OK = b"\r\n\r\nok"


class Small:
    """A server for few connections, in a thread, and the questions it thinks about."""

    def __init__(self, seconds: float) -> None:
        self.think = threading.Event()
        protocol: Any = partial(Connection, bounds=Bounds(1_024, 100, seconds, seconds), crowd=Crowd(MOST))
        options: dict[str, Any] = {"interface": "asgi3", "ws": "none", "lifespan": "off", "log_config": None}
        config = uvicorn.Config(self._answer, port=0, http=protocol, **options)
        self._listens = config.bind_socket()
        self._server = uvicorn.Server(config)
        self._thread = threading.Thread(target=self._server.run, kwargs={"sockets": [self._listens]})
        self._callers = ExitStack()

    async def _answer(self, scope: Any, _: Any, send: Any) -> None:
        if scope["path"] == "/think":
            await asyncio.to_thread(self.think.wait)
        body = b"ok" * (LARGE // 2 if scope["path"] == "/large" else 1)
        headers = [(b"content-length", str(len(body)).encode())]
        status = scope["state"][REFUSED].status if REFUSED in scope["state"] else 200
        await send({"type": "http.response.start", "status": status, "headers": headers})
        await send({"type": "http.response.body", "body": body})

    def start(self) -> None:
        self._thread.start()
        until_true(lambda: self._server.started)

    def stop(self) -> None:
        self._callers.close()
        self.think.set()
        self._server.should_exit = True
        self._thread.join()

    @property
    def connections(self) -> int:
        return len(self._server.server_state.connections)

    @property
    def tasks(self) -> int:
        return len(self._server.server_state.tasks)

    def call(self, *, room: int = 0) -> socket.socket:
        """A connection that is there, unless it was refused. room: for what comes in, 0 for as much as is usual."""
        before = set(self._server.server_state.connections)
        caller = self._callers.enter_context(socket.socket())
        caller.settimeout(PATIENCE)
        if room:
            caller.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, room)
        caller.connect(("127.0.0.1", self._listens.getsockname()[1]))
        until_true(lambda: self.tasks == MOST or bool(set(self._server.server_state.connections) - before))
        return caller


def until_true(true: Callable[[], bool]) -> None:
    end = time.monotonic() + PATIENCE
    while not true():
        assert time.monotonic() < end
        time.sleep(0.005)


@contextmanager
def serving(seconds: float) -> Iterator[Small]:
    server = Small(seconds)
    server.start()
    try:
        yield server
    finally:
        server.stop()


@pytest.fixture
def small() -> Iterator[Small]:
    with serving(PATIENCE) as server:
        yield server


@pytest.fixture
def hasty() -> Iterator[Small]:
    with serving(HASTY) as server:
        yield server


@pytest.fixture
def callers(small: Small) -> list[socket.socket]:
    """As many as there may be, each answered once."""
    found = [small.call() for _ in range(MOST)]
    for one in found:
        one.sendall(GET)
        until(one, OK)
    return found


def test_one_more_ends_the_one_that_has_rested_longest(small: Small, callers: list[socket.socket]) -> None:
    first, second, *others = callers
    first.sendall(GET)  # and now the second has rested longest
    until(first, OK)
    more = small.call()
    assert rest(second) == b""
    for one in (first, *others, more):
        one.sendall(GET)
        assert statuses(until(one, OK)) == [200]


@pytest.mark.parametrize("begun", [b"", GET[:-3]])
def test_who_hasnt_asked_yet_rests_as_well(begun: bytes, small: Small) -> None:
    first = small.call()
    first.sendall(begun)
    others = [small.call() for _ in range(MOST)]
    assert rest(first) == b""
    for one in others:
        one.sendall(GET)
        assert statuses(until(one, OK)) == [200]


def test_who_waits_for_an_answer_keeps_his_place_and_one_more_is_told_so(
    small: Small, callers: list[socket.socket]
) -> None:
    for one in callers:
        one.sendall(THINK)
    until_true(lambda: small.tasks == MOST)
    assert statuses(rest(small.call())) == [503]
    small.think.set()
    assert [statuses(until(one, OK)) for one in callers] == [[200]] * MOST


def test_who_breaks_off_leaves_nothing_behind(small: Small, callers: list[socket.socket]) -> None:
    """Not even a timer, which would keep all of a connection for as long as it might have rested."""
    callers[0].sendall(THINK)
    until_true(lambda: small.tasks == 1)
    for one in callers:
        one.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
        one.close()
    until_true(lambda: small.connections == 0)
    small.think.set()
    until_true(lambda: small.tasks == 0)
    until_true(lambda: not _alive())


def _alive() -> list[Any]:
    gc.collect()
    return [one for one in gc.get_objects() if type(one) is Connection]


@pytest.mark.skipif(not hasattr(socket, "TCP_USER_TIMEOUT"), reason="the system can't end such a connection")
@pytest.mark.parametrize("count", [1, 3])
def test_who_takes_nothing_of_his_answers_is_let_go(count: int, hasty: Small, caplog: pytest.LogCaptureFixture) -> None:
    """Also while one of them waits to be sent, and nothing is told of it as a fault."""
    caplog.set_level(logging.WARNING)
    caller = hasty.call(room=4_096)
    caller.sendall(GET.replace(b"/ ", b"/large ", 1) * count)
    until_true(lambda: hasty.connections == hasty.tasks == 0)
    assert caplog.records == []
