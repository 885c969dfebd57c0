"""Room for bodies: no more bytes are held than may be, and what was held is free again however a call ends."""

from __future__ import annotations

import pytest

from jambset.errors import Busy
from jambset.http.room import Room


def test_what_comes_beyond_is_refused_and_what_is_over_makes_room() -> None:
    room = Room(10)
    with room.share() as first, room.share() as second:
        first(6)
        second(4)
        with pytest.raises(Busy):
            second(1)
    with room.share() as third:
        third(10)


def _fail(room: Room) -> None:
    with room.share() as take:
        take(10)
        raise ZeroDivisionError


def test_a_call_that_fails_gives_its_room_back() -> None:
    room = Room(10)
    for _ in range(3):
        with pytest.raises(ZeroDivisionError):
            _fail(room)
