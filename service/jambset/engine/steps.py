"""Work in steps, so that several openings can be taken through each step together.

An advice runs through more code than a processor caches: done for one opening after another, most of it is fetched
anew for each. Step by step for eight openings, it takes a fifth less time. So long work is a generator that pauses
between its steps, knows nothing of others, and returns its result. Whoever runs the steps may do something else between
two of them.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator
from itertools import islice
from typing import Generic, ParamSpec, TypeVar

T = TypeVar("T")
P = ParamSpec("P")
Steps = Generator[None, None, T]
"""The steps of one piece of work; any thread may run them."""


def whole(steps: Steps[T]) -> T:
    """Run all steps of one piece of work. Returns its result, raises what it raises."""
    while True:
        try:
            next(steps)
        except StopIteration as end:
            found: T = end.value
            return found


class Few(Generic[T]):
    """Several pieces of work, run in turns of a step each; one that fails ends no other."""

    def __init__(self, works: Iterable[Steps[T]]) -> None:
        self._under_way = deque(enumerate(works))
        self._found: dict[int, T | Exception] = {}
        self._count = len(self._under_way)

    def step(self) -> bool:
        """Run the next step. Returns whether there are more."""
        if self._under_way:
            place, steps = self._under_way.popleft()
            try:
                next(steps)
                self._under_way.append((place, steps))
            except StopIteration as end:
                self._found[place] = end.value
            except Exception as fault:  # noqa: BLE001 (whoever asked for it is told)
                # its trace leaves this frame out, which holds what holds the fault: only the collector frees a cycle
                self._found[place] = fault.with_traceback(fault.__traceback__ and fault.__traceback__.tb_next)
        return bool(self._under_way)

    @property
    def found(self) -> list[T | Exception]:
        """The result of each, or what it raised, in their order; complete once there are no more steps."""
        return [self._found[place] for place in range(self._count)]


def all_of(works: Iterable[Steps[T]], *, together: int) -> Iterator[T]:
    """The results of many pieces of work, in their order. together: how many are run in turns.

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
    """Work that gains nothing from being split, as a single step."""

    def steps(*args: P.args, **more: P.kwargs) -> Steps[T]:
        yield
        return work(*args, **more)

    return steps
