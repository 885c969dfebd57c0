"""The service in this process: asked as a server would ask it, on one event loop, with nothing beside it.

Limits are far below those of a served process, so that inputs of a few kilobytes reach them. What belongs in a thread
is done on the loop: things happen in one order, and all work is counted.
"""

from __future__ import annotations

import asyncio
import atexit
import cProfile
import io
import re
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

import msgspec
from jsonschema import Draft202012Validator
from litestar import Litestar
from tests.contract.asgi import Reply, exchange
from tests.fuzz.messages import Message

from jambset.http.app import create_app
from jambset.http.observe import json_log
from jambset.http.sandbox import Scenario, read_scenario
from jambset.http.settings import Settings
from jambset.rules.load import load_catalogue
from jambset.rules.schema import Catalogue

ROOT = Path(__file__).parents[2]
SERVICE = ROOT / "service" / "jambset"
LIMITS = Settings(
    max_body_bytes=12_288,
    max_house_bytes=16_384,
    max_bulk_bytes=262_144,
    max_bulk_lines=40,
    max_header_bytes=2_048,
    body_seconds=3_600,  # a machine may stand still, and nothing here is about time
)
ID = "X-Request-ID"
Schema = dict[str, Any]


class InPlace(asyncio.SelectorEventLoop):
    """An event loop that does itself what is meant for a thread."""

    def run_in_executor(  # type: ignore[override]  # the base's type has a variable for each argument
        self, _: Executor | None, func: Callable[..., Any], *args: Any
    ) -> asyncio.Future[Any]:
        future = self.create_future()
        try:
            future.set_result(func(*args))
        except Exception as fault:  # noqa: BLE001 (whoever awaits it has it)
            future.set_exception(fault)
        return future


@cache
def _loop() -> InPlace:
    """The one loop, closed when the process ends."""
    loop = InPlace()
    atexit.register(loop.close)
    return loop


@cache
def catalogue() -> Catalogue:
    return load_catalogue()


@cache
def sandbox() -> tuple[Scenario, ...]:
    files = sorted((ROOT / "examples" / "sandbox").glob("*.json"))
    return tuple(read_scenario(file.read_bytes(), name=file.name) for file in files)


@cache
def contract() -> Schema:
    served: Schema = msgspec.json.decode((ROOT / "openapi" / "jambset.openapi.json").read_bytes())
    return served


class Service:
    """The application, and what the contract says of it."""

    def __init__(self) -> None:
        self._log = io.BytesIO()
        self.app: Litestar = create_app(
            catalogue=catalogue(), settings=LIMITS, sandbox=sandbox(), log=json_log(self._log)
        )

    def ask(self, message: Message, chunks: Sequence[bytes] | None = None) -> Reply:
        """The answer to a request. chunks: its body in parts. Fails where the log speaks of a fault."""
        given = message if message.header(ID) else message.with_header(ID, "fuzz")
        raw = [(name.lower().encode(), value.encode("latin-1")) for name, value in given.headers]
        if chunks is None and not message.header("content-length"):
            raw.append((b"content-length", str(len(message.body)).encode()))
        parts = [message.body] if chunks is None else [*chunks]
        reply = _loop().run_until_complete(exchange(self.app, message.method, message.target, raw, parts))
        self._refuse_faults()
        return reply

    def _refuse_faults(self) -> None:
        told = self._log.getvalue()
        self._log.seek(0)
        self._log.truncate()
        assert b'"event":"fault"' not in told, told.decode().replace("\\n", "\n")


@cache
def service() -> Service:
    return Service()


@cache
def _templates() -> tuple[tuple[re.Pattern[str], Schema], ...]:
    """Addresses of the contract as patterns, those without parameters first."""
    found = sorted(contract()["paths"].items(), key=lambda item: "{" in item[0])
    return tuple((re.compile(re.sub(r"\{\w+\}", "[^/]+", path)), calls) for path, calls in found)


def operations(path: str) -> Schema | None:
    """What the contract says of an address, by method; None for one that it doesn't know.

    Slashes too many are passed over, as the router does.
    """
    plain = re.sub("/+", "/", path).rstrip("/") or "/"
    return next((calls for pattern, calls in _templates() if pattern.fullmatch(plain)), None)


@cache
def _validator(name: str) -> Any:
    schema = {"$ref": f"#/components/schemas/{name}", "components": contract()["components"]}
    return Draft202012Validator(schema)


def conforms(name: str, value: Any) -> list[str]:
    """What is wrong with a value against a named schema of the contract."""
    return [f"{error.json_path}: {error.message[:200]}" for error in _validator(name).iter_errors(value)]


@contextmanager
def counted() -> Iterator[Callable[[], int]]:
    """Counts the calls of Python functions, as a measure of work that no clock has a part in."""
    profile = cProfile.Profile(builtins=False)
    profile.enable()
    try:
        yield lambda: sum(entry.callcount for entry in profile.getstats())
    finally:
        profile.disable()
