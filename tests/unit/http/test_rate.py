from __future__ import annotations

import pytest

from jambset.http.rate import SECOND, Buckets, Quota, Standing


class Clock:
    def __init__(self) -> None:
        self.now = 1_000 * SECOND

    def __call__(self) -> int:
        return self.now

    def pass_(self, seconds: float) -> None:
        self.now += round(seconds * SECOND)


@pytest.fixture
def clock() -> Clock:
    return Clock()


def _taken(buckets: Buckets, caller: str, times: int) -> list[bool]:
    return [buckets.take(caller).allowed for _ in range(times)]


def test_an_empty_text_is_no_quota() -> None:
    assert Quota.of("") is None
    assert Quota.of("7/60") == Quota(7, 60)


def test_what_is_left_is_told_by_hand_worked_numbers(clock: Clock) -> None:
    buckets = Buckets(Quota(4, 60), clock=clock)  # one more every 15 s
    assert buckets.take("a") == Standing(allowed=True, remaining=3, more=15, retry=0)
    assert buckets.take("a") == Standing(allowed=True, remaining=2, more=15, retry=0)
    clock.pass_(5)  # 25 s are missing of 60: 35 s are there, two requests and a third of one
    assert buckets.take("a") == Standing(allowed=True, remaining=1, more=10, retry=0)
    assert buckets.take("a") == Standing(allowed=True, remaining=0, more=10, retry=10)
    assert buckets.take("a") == Standing(allowed=False, remaining=0, more=10, retry=10)
    clock.pass_(9.5)  # half a second too early is a whole second to wait, and a refusal costs nothing
    assert buckets.take("a") == Standing(allowed=False, remaining=0, more=1, retry=1)
    clock.pass_(0.5)
    assert buckets.take("a") == Standing(allowed=True, remaining=0, more=15, retry=15)


@pytest.mark.parametrize("taken", [1, 2, 5])
@pytest.mark.parametrize("quota", [Quota(5, 60), Quota(7, 3_600), Quota(60, 600)])
def test_after_the_seconds_told_one_more_may_come_and_a_second_sooner_not(
    quota: Quota, taken: int, clock: Clock
) -> None:
    """So draft-ietf-httpapi-ratelimit-headers-10 has t, as its editor told at IETF 124: seconds until there is
    additional quota. It asks the server that t and Retry-After name one point in time.
    """
    for early in (0, 1):
        buckets = Buckets(quota, clock=clock)
        told = [buckets.take("a") for _ in range(taken)][-1]
        assert told.retry in {0, told.more}
        clock.pass_(told.more - early)
        assert _taken(buckets, "a", told.remaining + 1) == [True] * told.remaining + [not early]


@pytest.mark.parametrize("requests", [1, 3, 7, 59, 60, 61, 1_000])
def test_exactly_the_quota_may_come_at_once_and_again_once_it_is_full(requests: int, clock: Clock) -> None:
    buckets = Buckets(Quota(requests, 60), clock=clock)
    assert _taken(buckets, "a", requests + 1) == [True] * requests + [False]
    clock.pass_(60)
    assert _taken(buckets, "a", requests + 1) == [True] * requests + [False]


def test_a_bucket_never_holds_more_than_the_quota(clock: Clock) -> None:
    buckets = Buckets(Quota(2, 10), clock=clock)
    buckets.take("a")
    clock.pass_(100_000)
    assert _taken(buckets, "a", 3) == [True, True, False]


def test_callers_dont_share_a_bucket(clock: Clock) -> None:
    buckets = Buckets(Quota(1, 10), clock=clock)
    assert _taken(buckets, "a", 2) == [True, False]
    assert _taken(buckets, "b", 2) == [True, False]


@pytest.mark.parametrize("jump", [-5, -500_000])
def test_a_clock_that_jumps_back_stops_nobody_for_longer_than_the_quotas_seconds(jump: int, clock: Clock) -> None:
    buckets = Buckets(Quota(2, 10), clock=clock)
    buckets.take("a")
    clock.pass_(jump)
    assert buckets.take("a").retry <= 10
    clock.pass_(10)
    assert buckets.take("a").allowed


def test_beyond_the_most_the_caller_idle_longest_is_forgotten(clock: Clock) -> None:
    buckets = Buckets(Quota(1, 1_000), clock=clock, most=2)
    assert _taken(buckets, "a", 1) == _taken(buckets, "b", 1) == [True]
    assert _taken(buckets, "a", 1) == [False]  # and so asked later than b
    assert _taken(buckets, "c", 1) == [True]
    assert _taken(buckets, "a", 1) == [False]
    assert _taken(buckets, "b", 1) == [True]
