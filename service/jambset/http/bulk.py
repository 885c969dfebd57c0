"""POST /v1/openings/bulk: a stream of openings in, a stream of advice out, one line for each, in order.

A line that says how its opening was set is answered as a recheck.

Nothing piles up: a part of the body is read when the answers to the one before it are under way, and more answers
are worked out only when those before them have been taken by the connection. Between slices of work the loop serves
other requests. Once the answer has begun its status stands, so what goes wrong then is a line that says so.
"""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Iterator, Sequence
from contextlib import aclosing, asynccontextmanager
from itertools import islice
from typing import Any, NamedTuple

import msgspec
from litestar import asgi
from litestar.handlers import ASGIRouteHandler
from litestar.types import Receive, Scope, Send
from msgspec import UNSET, UnsetType

from jambset.engine.steps import Few, Steps
from jambset.errors import BodyTooLarge, Busy, RequestError
from jambset.http.addresses import BULK
from jambset.http.advise import GiveInSteps, answerer_in_steps
from jambset.http.between import names_of
from jambset.http.calls import NOT_STORED, is_post
from jambset.http.codings import CODINGS, IDENTITY, PACKERS, Opener, Packer, choose_coding, opener_for
from jambset.http.fields import fields, text
from jambset.http.incoming import Body, reading
from jambset.http.languages import choose_language
from jambset.http.lines import Lines
from jambset.http.negotiate import choose, require_type
from jambset.http.observe import TOLD, Log
from jambset.http.pages import read_query
from jambset.http.problems import Problem, encode, kind_of, problem_of
from jambset.http.settings import Settings
from jambset.http.tally import ANSWERED, CUT_OFF, FAILED, GONE, NOT_TAKEN, REFUSED, WHOLE, Counters, Tally
from jambset.render.language import LANGUAGES, Language
from jambset.rules.schema import Catalogue

NDJSON, JSONL = "application/x-ndjson", "application/jsonl"
"""Two names of one form; neither is registered."""
FORMS = (NDJSON, JSONL)
CONTINUE = "100-continue"
SLICE_SECONDS = 0.002
"""How long the loop works on a stream before it looks after other requests."""
PART = 65_536
"""Answers gathered before they are sent [bytes]; fewer where no more of the body is there yet."""
TOGETHER = 4
"""Lines worked on together; with fewer each takes longer, with more a part is longer than it has to be."""


class LineProblem(Problem, frozen=True, kw_only=True, omit_defaults=True):
    """What stands in place of an answer: why a line couldn't be answered, or why the stream ends here."""

    line: int
    """Number of the line in the request, blank ones counted too, from 1. With ends, of the first that has no answer."""
    ends: bool = False
    """Whether the stream ends here, before the body does: this answers no line, and is the last."""
    mark: str | UnsetType = UNSET
    """Of the opening, where it can be read."""
    external_id: str | UnsetType = UNSET
    """Of the opening, where it can be read."""


def bulk_calls(catalogue: Catalogue, settings: Settings, log: Log, counters: Counters) -> list[ASGIRouteHandler]:
    """The call on a stream of openings. counters: of what becomes of its lines."""
    give, streams = answerer_in_steps(catalogue), Streams(settings.bulk_streams)

    async def call(scope: Scope, receive: Receive, send: Send) -> None:
        if not await is_post(scope, send):
            return
        asked = _terms(scope)
        async with streams.one(), reading(scope, receive, settings.body_seconds) as body:
            writer, tally = Writer(send, asked, settings.body_seconds), Tally(counters)
            bulk = Bulk(give, asked.language, settings, log, tally)
            if asked.expects:
                await body.begun()
            await writer.begin()
            scope["state"][TOLD] = tally.told
            end = CUT_OFF
            try:
                end = await bulk.run(body, asked.opener, writer)
            except TimeoutError:
                end = NOT_TAKEN
                log.warning("nobody takes the answers", route=BULK)
            finally:
                tally.end(end)

    return [asgi(BULK, copy_scope=False)(call)]


class Terms(NamedTuple):
    """What a stream and this service agreed on: how its body is read and how it is answered."""

    opener: Opener
    form: str
    language: Language
    coding: str
    expects: bool
    """Whether the caller waits for our word before it sends the body (RFC 9110 section 10.1.1)."""


def _terms(scope: Any) -> Terms:
    """Raises WrongMediaType, NotAcceptable or InvalidRequest before a byte of the body is read."""
    headers = fields(scope["headers"])
    require_type(text(headers, b"content-type"), FORMS, CODINGS)
    if scope["query_string"]:
        read_query(scope["query_string"], {})
    return Terms(
        opener=opener_for(text(headers, b"content-encoding"), media=FORMS),
        form=choose(text(headers, b"accept"), FORMS),
        language=LANGUAGES[choose_language(text(headers, b"accept-language"))],
        coding=choose_coding(text(headers, b"accept-encoding")),
        expects=(text(headers, b"expect") or "").lower() == CONTINUE and scope["http_version"] >= "1.1",
    )


class Streams:
    """Limits the number of streams. most: answered at one time."""

    def __init__(self, most: int) -> None:
        self._most, self._open = most, 0

    @asynccontextmanager
    async def one(self) -> AsyncIterator[None]:
        """Takes the place of one stream. Raises Busy where none is free."""
        if self._open >= self._most:
            raise Busy(f"{self._most} streams are being answered, as many as may be at one time; try again soon.")
        self._open += 1
        try:
            yield
        finally:
            self._open -= 1


# --- what goes out


class Writer:
    """Sends lines in parts as large as is sensible, packed as the caller likes; waits while the connection is full.

    seconds: how long a part may take to be taken [s].
    """

    def __init__(self, send: Send, asked: Terms, seconds: float) -> None:
        self._send, self._asked, self._seconds = send, asked, seconds
        self._packer: Packer = PACKERS[asked.coding]()
        self._held: list[bytes] = []
        self._size = 0

    async def begin(self) -> None:
        """The status and the headers."""
        coded = ((b"content-encoding", self._asked.coding.encode()),) if self._asked.coding != IDENTITY else ()
        own = ((b"content-type", self._asked.form.encode()), (b"content-language", self._asked.language.code.encode()))
        headers = [*own, *coded, NOT_STORED, (b"vary", b"Accept, Accept-Language, Accept-Encoding")]
        await self._send({"type": "http.response.start", "status": 200, "headers": headers})

    @property
    def full(self) -> bool:
        """Whether enough is held to be sent."""
        return self._size >= PART

    def add(self, line: bytes) -> None:
        """One more line."""
        self._held += (line, b"\n")
        self._size += len(line) + 1

    async def flush(self, *, last: bool = False) -> None:
        """Sends what is held. Raises TimeoutError where nobody takes it, as from one who sends and never reads."""
        data = self._packer.pack(b"".join(self._held), last=last)
        self._held.clear()
        self._size = 0
        if data or last:
            async with asyncio.timeout(self._seconds):
                await self._send({"type": "http.response.body", "body": data, "more_body": not last})


# --- the work


class Bulk:
    """Answers the lines of one stream."""

    def __init__(self, give: GiveInSteps, language: Language, settings: Settings, log: Log, tally: Tally) -> None:
        self._give, self._language, self._settings, self._log, self._tally = give, language, settings, log, tally
        self._lines = Lines(settings.max_body_bytes)
        self._number, self._left, self._unread = 0, settings.max_bulk_bytes, settings.max_bulk_bytes
        self._clock = asyncio.get_running_loop().time
        self._rest = self._clock() + SLICE_SECONDS

    async def run(self, body: Body, opener: Opener, writer: Writer) -> str:
        """Answers line by line until the body ends, a limit is reached or the caller goes away: which of them it was.

        Raises TimeoutError where nobody takes the answers.
        """
        end = WHOLE
        try:
            async with aclosing(body.parts()) as parts:
                async for part in parts:
                    await self._read(opener.feed(part), body, writer)
                    self._count(part)
                    if body.gone:
                        return GONE
                    if body.waits:
                        await writer.flush()
            opener.finish()
            await self._last(writer)
        except RequestError as limit:
            end = kind_of(type(limit)).code
            writer.add(self._told(limit, line=self._number + 1, ends=True))
        if body.gone:
            return GONE
        await writer.flush(last=True)
        return end

    def _count(self, part: bytes) -> None:
        """Count what came, since blocks of a coding that stand for nothing may come for ever. Raises BodyTooLarge."""
        self._unread -= len(part)
        if self._unread < 0:
            raise BodyTooLarge(self._too_long)

    async def _read(self, pieces: Iterator[bytes], body: Body, writer: Writer) -> None:
        """Answers the lines that end in a part of the body, or as many as its caller stays for.

        Raises BodyTooLarge beyond the bytes of a whole stream, after the lines that end within them.
        """
        for piece in pieces:
            await self._rest_at_times()  # a thousand pieces may come of one part, and no line end in one of them
            for lines in by_few(self._lines.feed(piece[: self._left])):
                await self._answer(lines, writer)
                if writer.full:
                    await writer.flush()
                body.check()
                if body.gone:
                    return
            if len(piece) > self._left:
                raise BodyTooLarge(self._too_long)
            self._left -= len(piece)

    @property
    def _too_long(self) -> str:
        most = self._settings.max_bulk_bytes
        return f"A stream may have {most} bytes, as it comes and once opened; nothing after them was read."

    async def _last(self, writer: Writer) -> None:
        if (line := self._lines.finish()) != b"":
            await self._answer((line,), writer)

    async def _answer(self, lines: Sequence[bytes | None], writer: Writer) -> None:
        """Answers lines that came together. Raises BodyTooLarge once there are more than a stream may have."""
        most = self._settings.max_bulk_lines
        lines, beyond = lines[: most - self._number], len(lines) > most - self._number
        few = Few(self._given(line) for line in lines)
        while few.step():
            await self._rest_at_times()
        for line, found in zip(lines, few.found, strict=True):
            self._number += 1
            if isinstance(found, Exception):
                writer.add(self._refused(found, {} if line is None else _names(line)))
            elif found:
                self._tally.count(ANSWERED)
                writer.add(found)
        if beyond:
            raise BodyTooLarge(f"A stream may have {most} lines; nothing after them was read.")

    async def _rest_at_times(self) -> None:
        """Let the loop look after other requests, once the slice is used up."""
        if self._clock() > self._rest:
            await asyncio.sleep(0)
            self._rest = self._clock() + SLICE_SECONDS

    def _given(self, line: bytes | None) -> Steps[bytes]:
        """The answer to a line; nothing for a blank one. None: the line was too long."""
        if line is None:
            longest = self._settings.max_body_bytes
            raise BodyTooLarge(f"A line may have {longest} bytes; this one has more.")
        if not line or line.isspace():
            return b""
        return (yield from self._give(line, self._language))

    def _refused(self, fault: Exception, names: dict[str, str]) -> bytes:
        """Why a line isn't answered; a fault of ours is logged, as for a call on one opening."""
        if isinstance(fault, RequestError):
            self._tally.count(REFUSED)
            return self._told(fault, line=self._number, **names)
        self._tally.count(FAILED)
        self._log.error("fault", exc_info=fault, line=self._number)
        return self._told(None, line=self._number, **names)

    def _told(self, refusal: RequestError | None, **more: Any) -> bytes:
        problem = problem_of(refusal, base=self._settings.problem_base)
        return encode(LineProblem(**msgspec.structs.asdict(problem), **more))


def by_few(lines: Iterator[bytes | None]) -> Iterator[tuple[bytes | None, ...]]:
    """Lines in groups that are worked on together."""
    while few := tuple(islice(lines, TOGETHER)):
        yield few


def _names(line: bytes) -> dict[str, str]:
    try:
        return names_of(msgspec.json.decode(line))
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return {}
