"""Work in steps, so that several openings can be taken through each of them together.

All that an advice takes is much more code than a processor keeps at hand: done for one opening after another, most
of it is fetched anew for each. Done step by step for eight of them, it takes a fifth less. So what is long is a
generator that rests between its steps, knows nothing of others, and returns what it came to. Whoever takes the steps
may look after something else between two of them.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator
from itertools import islice
from typing import Generic, ParamSpec, TypeVar

T = TypeVar("T")
P = ParamSpec("P")
Steps = Generator[None, None, T]
"""The steps of one piece of work; it may be taken up by any thread."""


def whole(steps: Steps[T]) -> T:
    """Take all steps of one, one after the other: what it comes to. Raises what it raises."""
    while True:
        try:
            next(steps)
        except StopIteration as end:
            found: T = end.value
            return found


class Few(Generic[T]):
    """Works that take each step one after the other before the next of any; one that fails ends no other."""

    def __init__(self, works: Iterable[Steps[T]]) -> None:
        self._under_way = deque(enumerate(works))
        self._found: dict[int, T | Exception] = {}
        self._count = len(self._under_way)

    def step(self) -> bool:
        """Take the next step; whether there are more."""
        if self._under_way:
            place, steps = self._under_way.popleft()
            try:
                next(steps)
                self._under_way.append((place, steps))
            except StopIteration as end:
                self._found[place] = end.value
            except Exception as fault:  # noqa: BLE001 (whoever asked for it is told)
                self._found[place] = fault
        return bool(self._under_way)

    @property
    def found(self) -> list[T | Exception]:
        """What each came to, or what it raised, in their order; once there are no more steps."""
        return [self._found[place] for place in range(self._count)]


def all_of(works: Iterable[Steps[T]], *, together: int) -> Iterator[T]:
    """What each of many works comes to, in their order, so many of them taken together.

    Raises what the first that fails raises.
    """
    left = iter(works)
    while taken := tuple(islice(left, together)):
        few = Few(taken)
        while few.step():
            pass
        for found in few.found:
            if isinstance(found, Exception):
                raise found
            yield found


def one_step(work: Callable[P, T]) -> Callable[P, Steps[T]]:
    """Work that nothing is gained by parting, as steps."""

    def steps(*args: P.args, **more: P.kwargs) -> Steps[T]:
        yield
        return work(*args, **more)

    return steps
