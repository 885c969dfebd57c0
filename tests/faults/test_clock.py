"""A machine whose time of day jumps: no limit, wait, duration or key goes by it."""

from __future__ import annotations

import json
import time
from contextlib import closing
from email.utils import parsedate_to_datetime
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path

from tests.faults.served import PATIENCE, served

from jambset.http.keys import entry_of, new_key

JUMPING = """
import itertools, time

days = itertools.cycle([0, 400, -400])
true = time.time

def jumping():
    return true() + 86_400 * next(days)

time.time = jumping
time.time_ns = lambda: int(1e9 * jumping())
"""
"""Each look at the time of day is on another day."""


def _asked(connection: HTTPConnection, key: str) -> HTTPResponse:
    connection.request("GET", "/v1/limits", headers={"Authorization": f"Bearer {key}"})
    with connection.getresponse() as answer:
        answer.read()
    return answer


def test_the_time_of_day_may_jump(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(JUMPING, "utf-8")
    key, keys, log = new_key(), tmp_path / "keys", tmp_path / "log"
    keys.write_text(entry_of("ci", key), "utf-8")
    with log.open("wb") as out, served(tmp_path, out, auth="on", keys_file=str(keys), rate="20/3600") as service:
        with closing(HTTPConnection("127.0.0.1", service.port, timeout=PATIENCE)) as connection:
            answers = [_asked(connection, key) for _ in range(21)]
            assert [answer.status for answer in answers] == [200] * 20 + [429]
            assert 0 < int(str(answers[-1].getheader("retry-after"))) <= 180
            assert _asked(connection, new_key()).status == 401
            assert _days_between(connection, key) > 300, "the clock didn't jump"
        assert service.left() == (0, "")
    lines = [json.loads(line) for line in log.read_bytes().splitlines()]
    assert all(0 <= line["duration_ms"] < 1e3 * PATIENCE for line in lines)


def _days_between(connection: HTTPConnection, key: str) -> float:
    """How far the dates of answers are apart, asked for until they are."""
    dates: set[float] = set()
    end = time.monotonic() + PATIENCE
    while (apart := (max(dates, default=0) - min(dates, default=0)) / 86_400) < 300 and time.monotonic() < end:
        dates.add(parsedate_to_datetime(str(_asked(connection, key).getheader("date"))).timestamp())
        time.sleep(0.1)
    return apart
