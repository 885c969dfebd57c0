"""A stream of openings: answered line by line, in order, in bounded memory, beside everything else."""

from __future__ import annotations

import asyncio
import gzip
import io
from collections.abc import Callable
from functools import partial
from typing import Any

import httpx
import msgspec
import pytest
import zstandard
from litestar import Litestar
from litestar.exceptions import LitestarException
from tests.contract.asgi import ADVICE, JSON_BODY, Reply, ask, run
from tests.contract.conftest import Ask

from jambset.engine.steps import one_step
from jambset.http import bulk
from jambset.http.addresses import BULK, RECHECK
from jambset.http.advise import adviser
from jambset.http.app import create_app
from jambset.http.bulk import FORMS, NDJSON, PART
from jambset.http.codings import PIECE
from jambset.http.observe import json_log
from jambset.http.settings import Settings
from jambset.rules.schema import Catalogue

Request = dict[str, Any]
LINES = {"Content-Type": NDJSON}
PATIENCE = 300
"""How long anything that has to happen may take here before the test fails [s]; the machine may be busy."""


def written(*bodies: Any) -> bytes:
    return b"\n".join(body if isinstance(body, bytes) else msgspec.json.encode(body) for body in bodies)


def doors(opening: Request, count: int) -> list[Request]:
    return [{**opening, "mark": f"D{place}"} for place in range(1, count + 1)]


def stream(asked: Ask, body: bytes, **headers: str) -> Reply:
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    return asked("POST", BULK, headers={**LINES, **named}, body=body)


def lines(reply: Reply) -> list[Any]:
    assert reply.status == 200, reply.body
    return [msgspec.json.decode(line) for line in reply.body.splitlines()]


def app_with(catalogue: Catalogue, **settings: Any) -> tuple[Litestar, io.BytesIO]:
    log = io.BytesIO()
    return create_app(catalogue=catalogue, settings=Settings(**settings), sandbox=(), log=json_log(log)), log


def ended(log: io.BytesIO, place: int = -1) -> tuple[Any, Any]:
    """What a line of the log says of a stream."""
    told = msgspec.json.decode(log.getvalue().splitlines()[place])
    return told["lines"], told["end"]


# --- what is answered


def test_each_line_is_answered_in_order_as_if_it_had_come_alone(opening: Request, asked: Ask) -> None:
    bodies = doors(opening, 5)
    alone = [asked("POST", ADVICE, headers=JSON_BODY, body=msgspec.json.encode(body)).body for body in bodies]
    reply = stream(asked, written(*bodies))
    assert (reply.status, reply.media_type) == (200, NDJSON)
    assert reply.body == b"\n".join(alone) + b"\n"


SET = {"foot": "0 in", "leaf_bottom": "1 in"}


def test_a_line_that_says_how_its_opening_was_set_is_answered_as_a_recheck(
    opening: Request, asked: Ask, conforms: Callable[[str, Any], list[str]]
) -> None:
    first, last = ({**opening, "mark": mark, "as_set": SET} for mark in ("D2", "D3"))
    escaped = msgspec.json.encode(last).replace(b'"as_set"', b'"\\u0061s_set"')
    named = {**opening, "mark": "as_set"}
    told = stream(asked, written(opening, first, named, escaped)).body.splitlines()
    advised = [asked("POST", ADVICE, headers=JSON_BODY, body=msgspec.json.encode(one)).body for one in (opening, named)]
    judged = [asked("POST", RECHECK, headers=JSON_BODY, body=msgspec.json.encode(one)).body for one in (first, last)]
    assert told == [advised[0], judged[0], advised[1], judged[1]]
    assert conforms("RecheckAdvice", msgspec.json.decode(told[1])) == []


@pytest.mark.parametrize(
    ("as_set", "pointer"),
    [(None, "#/as_set"), ({**SET, "foot": "80 in"}, "#/as_set/foot"), ({**SET, "feet": 2}, "#/as_set/feet")],
)
def test_what_is_wrong_with_how_it_was_set_is_told_by_field(
    as_set: Any, pointer: str, opening: Request, asked: Ask
) -> None:
    wrong, fine = lines(stream(asked, written({**opening, "as_set": as_set}, {**opening, "as_set": SET})))
    assert (wrong["status"], wrong["mark"]) == (422, opening["mark"])
    assert [error["pointer"] for error in wrong["errors"]] == [pointer]
    assert "remedies" in fine


def test_a_line_with_faults_is_told_in_its_place_and_fails_no_other(
    opening: Request, asked: Ask, conforms: Callable[[str, Any], list[str]]
) -> None:
    bad = {**opening, "mark": "D2", "external_id": "a-2", "leaf": {**opening["leaf"], "height": "80 mm"}}
    first, wrong, unread, last = lines(
        stream(asked, written(opening, bad, b"", b"{no json", {**opening, "mark": "D5"}))
    )
    assert (first["mark"], last["mark"]) == (opening["mark"], "D5")
    assert (wrong["status"], wrong["line"], wrong["mark"], wrong["external_id"]) == (422, 2, "D2", "a-2")
    assert [error["pointer"] for error in wrong["errors"]] == ["#/leaf/height"]
    assert (unread["status"], unread["line"], unread["code"]) == (400, 4, "unreadable_body")
    assert not {"mark", "external_id"} & unread.keys()
    assert conforms("LineProblem", wrong) == conforms("LineProblem", unread) == conforms("Advice", first) == []


@pytest.mark.parametrize("line", [b'{"mark": "\xff"}', b"[" * 5_000], ids=["not-utf-8", "too-deep"])
def test_a_line_that_no_mark_can_be_read_from_fails_no_other(line: bytes, opening: Request, asked: Ask) -> None:
    wrong, last = lines(stream(asked, written(line, opening)))
    assert (wrong["status"], wrong["code"], wrong["line"], "mark" in wrong) == (400, "unreadable_body", 1, False)
    assert last["mark"] == opening["mark"]


@pytest.mark.parametrize("end", [b"", b"\n", b"\r\n", b"\n\n \n"])
def test_the_last_line_needs_no_end_and_blank_lines_are_passed_over(end: bytes, opening: Request, asked: Ask) -> None:
    assert [one["mark"] for one in lines(stream(asked, written(*doors(opening, 2)) + end))] == ["D1", "D2"]


def test_nothing_in_is_nothing_out(asked: Ask) -> None:
    reply = stream(asked, b"")
    assert (reply.status, reply.body) == (200, b"")


def test_prose_follows_the_language(opening: Request, asked: Ask) -> None:
    reply = stream(asked, written(opening), Accept_Language="es")
    assert reply.headers["content-language"] == "es"
    assert "jamba" in lines(reply)[0]["summary"]


@pytest.mark.parametrize("form", FORMS)
def test_both_names_of_the_form_are_read_and_given(form: str, opening: Request, asked: Ask) -> None:
    reply = asked("POST", BULK, headers={"Content-Type": form, "Accept": form}, body=written(opening))
    assert (reply.media_type, len(lines(reply))) == (form, 1)


@pytest.mark.parametrize(("coding", "pack"), [("gzip", gzip.compress), ("zstd", zstandard.compress)])
def test_a_coded_body_is_read(coding: str, pack: Callable[[bytes], bytes], opening: Request, asked: Ask) -> None:
    body = written(*doors(opening, 3))
    assert stream(asked, pack(body), Content_Encoding=coding).body == stream(asked, body).body


@pytest.mark.parametrize("way", [1, -1])
def test_lines_of_what_is_accepted_are_one_list_and_a_type_or_coding_stands_once(
    way: int, opening: Request, asked: Ask
) -> None:
    accepts = [("Accept-Encoding", "gzip"), ("Accept-Encoding", "br"), ("Accept", NDJSON), ("Accept", "image/png")]
    reply = asked("POST", BULK, headers=[*LINES.items(), *accepts[::way]], body=written(opening))
    assert (reply.status, reply.headers["content-encoding"]) == (200, "gzip")
    types = [("Content-Type", f"{NDJSON}; a=b"), ("Content-Type", "text/plain")]
    codings = [*LINES.items(), ("Content-Encoding", "gzip"), ("Content-Encoding", "identity")]
    for lines in (types, codings):
        assert asked("POST", BULK, headers=lines[::way], body=b"").status == 415


def test_an_answer_is_coded_on_request(opening: Request, asked: Ask) -> None:
    body = written(*doors(opening, 40))
    plain = stream(asked, body)
    assert "content-encoding" not in plain.headers
    packed = stream(asked, body, Accept_Encoding="gzip")
    assert (packed.headers["content-encoding"], gzip.decompress(packed.body)) == ("gzip", plain.body)
    zipped = stream(asked, body, Accept_Encoding="gzip, zstd")
    assert zipped.headers["content-encoding"] == "zstd"
    assert zstandard.ZstdDecompressor().decompressobj().decompress(zipped.body) == plain.body
    assert len(zipped.body) < len(plain.body) / 5
    assert plain.headers["vary"] == "Accept, Accept-Language, Accept-Encoding"


# --- what is refused


@pytest.mark.parametrize("parameters", ["charset=utf-16", "charset=latin-1", "charset=utf-8; x=1", "x=1"])
def test_lines_are_read_in_utf_8_alone_as_every_other_body_is(parameters: str, asked: Ask) -> None:
    for address, media in ((BULK, NDJSON), (ADVICE, JSON_BODY["Content-Type"])):
        reply = asked("POST", address, headers={"Content-Type": f"{media}; {parameters}"}, body=b"{}")
        assert (reply.status, reply.json()["code"]) == (415, "wrong_media_type")
        assert f'in UTF-8, not "{media}; {parameters}"' in reply.json()["detail"]


@pytest.mark.parametrize("parameters", ["", ";", "; charset=utf-8", ';charset="UTF-8"'])
def test_a_line_in_it_is_read_whether_it_says_so_or_not(parameters: str, opening: Request, asked: Ask) -> None:
    reply = asked("POST", BULK, headers={"Content-Type": NDJSON + parameters}, body=written(opening))
    assert [one["mark"] for one in lines(reply)] == [opening["mark"]]


def test_before_the_stream_begins_refusals_are_as_everywhere(asked: Ask) -> None:
    wrong = asked("POST", BULK, headers=JSON_BODY, body=b"{}")
    assert (wrong.status, wrong.headers["accept"]) == (415, "application/x-ndjson, application/jsonl")
    assert wrong.headers["accept-encoding"] == "identity, zstd, gzip"
    coded = stream(asked, b"", Content_Encoding="br")
    assert (coded.status, coded.headers["accept-encoding"]) == (415, "identity, zstd, gzip")
    assert coded.headers["accept"] == wrong.headers["accept"]
    assert stream(asked, b"", Accept="text/csv").status == 406
    assert asked("POST", f"{BULK}?list=trim", headers=LINES).status == 422
    assert asked("GET", BULK).status == 405
    assert asked("OPTIONS", BULK).headers["allow"] == "OPTIONS, POST"


def test_a_host_that_is_none_is_refused_as_the_contract_says(asked: Ask, contract: dict[str, Any]) -> None:
    reply = stream(asked, b"", Host="a b")
    assert (reply.status, reply.json()["code"]) == (400, "bad_request")
    assert "400" in contract["paths"][BULK]["post"]["responses"]


@pytest.mark.parametrize(("over", "code"), [(0, None), (1, "body_too_large")])
def test_a_line_may_be_as_long_as_a_body_and_no_longer(
    over: int, code: str | None, opening: Request, asked: Ask
) -> None:
    line = msgspec.json.encode(opening)
    padded = line + b" " * (65_536 - len(line) + over)
    first, second = lines(stream(asked, written(padded, {**opening, "mark": "D2"})))
    assert (first.get("code"), second["mark"]) == (code, "D2")
    (last,) = lines(stream(asked, padded))
    assert (last.get("code"), last.get("line")) == (code, 1 if code else None)


@pytest.mark.parametrize(("count", "ended"), [(3, False), (4, True)])
def test_a_stream_may_have_so_many_lines(count: int, ended: bool, opening: Request, catalogue: Catalogue) -> None:
    app, _ = app_with(catalogue, max_bulk_lines=3)
    *found, last = lines(ask(app, "POST", BULK, headers=LINES, body=written(*doors(opening, count))))
    assert len(found) == (3 if ended else 2)
    told = (last.get("code"), last.get("line"), last.get("ends"))
    assert told == (("body_too_large", 4, True) if ended else (None, None, None))


@pytest.mark.parametrize(("over", "ended"), [(0, False), (1, True)])
@pytest.mark.parametrize("pack", [None, gzip.compress])
def test_a_stream_may_be_so_long_once_opened(
    over: int, ended: bool, pack: Callable[[bytes], bytes] | None, opening: Request, catalogue: Catalogue
) -> None:
    app, _ = app_with(catalogue, max_bulk_bytes=2_048)
    line = msgspec.json.encode(opening)
    body = line + b"\n" + b" " * (2_047 - len(line) + over)
    headers = {**LINES, "Content-Encoding": "gzip" if pack else "identity"}
    found = lines(ask(app, "POST", BULK, headers=headers, body=pack(body) if pack else body))
    assert [one.get("code") for one in found] == [None, *(["body_too_large"] if ended else [])]
    assert not ended or (found[-1]["line"], found[-1]["ends"]) == (2, True)


NOTHING = {  # as often as one likes, before anything: no byte of a body comes of it
    "gzip": (b"\x1f\x8b\x08\0\0\0\0\0\0\xff", b"\0\0\0\xff\xff"),  # RFC 1951, 3.2.4: a stored block of 0 bytes
    "zstd": (b"", b"\x50\x2a\x4d\x18\x04\0\0\0mark"),  # RFC 8878, 3.1.2: a frame to be skipped
}


@pytest.mark.parametrize("coding", NOTHING)
def test_nor_may_more_come_of_which_nothing_is_opened(coding: str, catalogue: Catalogue) -> None:
    app, _ = app_with(catalogue, max_bulk_bytes=2_048)
    begin, again = NOTHING[coding]
    headers = {**LINES, "Content-Encoding": coding}
    within, beyond = (begin + again * ((size - len(begin)) // len(again)) for size in (2_048, 2_048 + len(again)))
    *_, end = lines(ask(app, "POST", BULK, headers=headers, body=beyond))
    assert (end["code"], end["line"], end["ends"]) == ("body_too_large", 1, True)
    assert end["detail"].startswith("A stream may have 2048 bytes, as it comes and once opened;")
    found = lines(ask(app, "POST", BULK, headers=headers, body=within))
    assert [one["code"] for one in found] == (
        ["unreadable_body"] if coding == "gzip" else []
    )  # its last block is missing


@pytest.mark.parametrize("size", [1, 7, 1_000, 100_000])
def test_what_is_answered_before_that_end_is_the_same_in_whatever_parts_it_comes(
    size: int, opening: Request, catalogue: Catalogue
) -> None:
    """Of four lines two end within the limit; the third is one byte too long for it, its end counted."""
    body = written(*doors(opening, 4)) + b"\n"
    within = len(written(*doors(opening, 3)))
    app, _ = app_with(catalogue, max_bulk_bytes=within)
    chunks = [body[start : start + size] for start in range(0, len(body), size)]
    first, second, end = lines(ask(app, "POST", BULK, headers=LINES, chunks=chunks))
    assert (first["mark"], second["mark"]) == ("D1", "D2")
    assert (end["code"], end["line"], end["ends"]) == ("body_too_large", 3, True)


def test_a_damaged_coding_ends_the_stream_with_a_line_that_says_so(opening: Request, asked: Ask) -> None:
    body = gzip.compress(written(*doors(opening, 2)) + b"\n")
    *found, last = lines(stream(asked, body[:-4], Content_Encoding="gzip"))
    assert [one["mark"] for one in found] == ["D1", "D2"]
    assert (last["code"], last["line"], last["ends"]) == ("unreadable_body", 3, True)


@pytest.mark.parametrize(
    ("coding", "pack", "check"),
    [
        ("gzip", partial(gzip.compress, compresslevel=0), 8),
        ("zstd", zstandard.ZstdCompressor(write_checksum=True, level=-100).compress, 4),
    ],
)
def test_a_damaged_coding_says_to_send_all_again_since_a_changed_line_was_answered(
    coding: str, pack: Callable[[bytes], bytes], check: int, opening: Request, app: Litestar
) -> None:
    """One digit changed where it stands as it is; what shows it comes last (RFC 1952, RFC 8878), check bytes of it."""
    packed = pack(written(opening) + b"\n").replace(b'"80 in"', b'"84 in"')
    headers = {**LINES, "Content-Encoding": coding}
    advice, end = lines(ask(app, "POST", BULK, headers=headers, chunks=[packed[:-check], packed[-check:]]))
    assert advice["taken"]["leaf_height"]["text"] == "84 in"
    assert (end["code"], end["line"], end["ends"]) == ("unreadable_body", 2, True)
    assert end["detail"].endswith("send all of it again.")


def test_the_end_of_a_stream_is_told_from_the_answer_to_its_last_line(
    opening: Request, asked: Ask, conforms: Callable[[str, Any], list[str]]
) -> None:
    """Two lines are whole, the second of them no JSON; the third breaks off with the coding, so it has no answer."""
    body = gzip.compress(written(opening, b"{bad", b'{"mark"'))[:-8]
    advice, wrong, end = lines(stream(asked, body, Content_Encoding="gzip"))
    assert "advice_id" in advice
    assert (wrong["code"], wrong["line"], "ends" in wrong) == ("unreadable_body", 2, False)
    assert (end["code"], end["line"], end["ends"]) == ("unreadable_body", 3, True)
    assert conforms("LineProblem", end) == []


def test_a_body_that_has_not_the_coding_it_names_ends_at_its_first_line(opening: Request, asked: Ask) -> None:
    (end,) = lines(stream(asked, written(opening), Content_Encoding="gzip"))
    assert (end["code"], end["line"], end["ends"]) == ("unreadable_body", 1, True)


def test_a_line_that_is_too_long_ends_nothing(opening: Request, catalogue: Catalogue) -> None:
    """Told once it is, at 65,537 bytes, and answered by that; the stream may end within it all the same."""
    app, _ = app_with(catalogue, max_bulk_bytes=80_000)
    body = written(opening, b" " * 90_000)
    advice, wrong, end = lines(ask(app, "POST", BULK, headers=LINES, body=body))
    assert advice["mark"] == opening["mark"]
    assert (wrong["code"], wrong["line"], "ends" in wrong) == ("body_too_large", 2, False)
    assert (end["code"], end["line"], end["ends"]) == ("body_too_large", 3, True)


def test_a_fault_of_ours_in_one_line_is_logged_and_ends_no_other(
    opening: Request, catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = adviser(catalogue)

    @one_step
    def faulty(body: bytes, *more: Any) -> bytes:
        if b'"D2"' in body:
            raise ZeroDivisionError("ours")
        return made(body, *more)

    monkeypatch.setattr(bulk, "answerer_in_steps", lambda _: faulty)
    app, log = app_with(catalogue)
    first, failed, third = lines(ask(app, "POST", BULK, headers=LINES, body=written(*doors(opening, 3))))
    assert (first["mark"], third["mark"]) == ("D1", "D3")
    assert (failed["status"], failed["code"], failed["line"], failed["mark"]) == (500, "internal_error", 2, "D2")
    assert "ours" not in str(failed)
    assert b"ZeroDivisionError" in log.getvalue()
    assert ended(log) == ({"answered": 2, "refused": 0, "failed": 1}, "whole")


def test_a_fault_of_ours_between_two_lines_cuts_the_stream_off_and_is_told(
    opening: Request, catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch
) -> None:
    def faulty(*_: Any, **__: Any) -> None:
        raise ZeroDivisionError("ours")

    monkeypatch.setattr(bulk.Writer, "flush", faulty)
    app, log = app_with(catalogue)
    with pytest.raises(LitestarException, match="after response started"):
        ask(app, "POST", BULK, headers=LINES, body=written(opening))
    assert ended(log) == ({"answered": 1, "refused": 0, "failed": 0}, "cut_off")


# --- how it flows


class Wire:
    """A connection whose both ends are in the test's hands."""

    def __init__(self, app: Litestar, *headers: tuple[bytes, bytes], version: str = "1.1") -> None:
        self.inward: asyncio.Queue[Any] = asyncio.Queue()
        self.sent: list[bytes] = []
        self.status = 0
        self.taking = asyncio.Event()
        self.taking.set()
        scope = {
            "type": "http", "asgi": {"version": "3.0"}, "http_version": version, "method": "POST", "scheme": "http",
            "path": BULK, "raw_path": BULK.encode(), "root_path": "", "query_string": b"",
            "headers": [(b"host", b"test"), (b"content-type", NDJSON.encode()), *headers],
            "client": ("127.0.0.1", 1), "server": ("127.0.0.1", 80),
        }  # fmt: skip
        self.task = asyncio.create_task(app(scope, self.inward.get, self._send))  # type: ignore[arg-type]

    async def _send(self, message: Any) -> None:
        if message["type"] == "http.response.start":
            self.status = message["status"]
            return
        self.sent.append(message["body"])
        await self.taking.wait()

    def say(self, part: bytes, *, more: bool = True) -> None:
        self.inward.put_nowait({"type": "http.request", "body": part, "more_body": more})

    def hang_up(self) -> None:
        self.inward.put_nowait({"type": "http.disconnect"})

    @property
    def answers(self) -> int:
        return b"".join(self.sent).count(b"\n")

    async def until(self, true: Callable[[], bool]) -> None:
        for _ in range(PATIENCE * 1_000):
            if true():
                return
            await asyncio.sleep(0.001)
        raise TimeoutError


def test_an_answer_is_sent_before_the_next_line_is_asked_for(opening: Request, app: Litestar) -> None:
    async def talk() -> None:
        wire = Wire(app)
        for count in (1, 2, 3):
            wire.say(written(opening) + b"\n")
            await wire.until(lambda count=count: wire.answers == count)  # type: ignore[misc]
        wire.say(b"", more=False)
        await wire.task

    asyncio.run(talk())


EXPECTS = (b"expect", b"100-Continue")


def test_who_waits_for_a_word_before_the_body_gets_no_answer_before_its_first_part(
    opening: Request, app: Litestar
) -> None:
    """The server says 100 once a part is asked for, and not after an answer has begun (RFC 9110, 10.1.1)."""

    async def talk() -> None:
        waits, goes_on, old = Wire(app, EXPECTS), Wire(app), Wire(app, EXPECTS, version="1.0")
        await goes_on.until(lambda: goes_on.status == old.status == 200)  # HTTP/1.0 knows no such word
        assert waits.status == 0
        for wire in (waits, goes_on, old):
            wire.say(written(opening) + b"\n")
            await wire.until(lambda wire=wire: wire.answers == 1)  # type: ignore[misc]
            wire.say(b"", more=False)
            await wire.task
        assert waits.status == 200

    asyncio.run(talk())


def test_one_who_then_sends_nothing_is_ended_in_time_and_one_who_leaves_at_once(catalogue: Catalogue) -> None:
    app, _ = app_with(catalogue, body_seconds=1)

    async def talk() -> bytes:
        silent, gone = Wire(app, EXPECTS), Wire(app, EXPECTS)
        gone.hang_up()
        await gone.task
        assert silent.status == 0
        await silent.task
        assert asyncio.get_running_loop().time() == pytest.approx(1)
        return b"".join(silent.sent)

    assert msgspec.json.decode(run(talk()))["status"] == 408


def test_who_reads_slowly_is_worked_for_slowly(
    opening: Request, app: Litestar, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Thousands of lines are there; while nothing is taken, no more is worked out than one part of answers."""

    async def talk() -> None:
        wire = Wire(app)
        wire.taking.clear()
        part = (written(opening) + b"\n") * 50
        for _ in range(40):
            wire.say(part)
        wire.say(b"", more=False)
        await wire.until(lambda: len(wire.sent) == 1)
        await asyncio.sleep(0.05)
        assert len(wire.sent) == 1
        assert len(wire.sent[0]) < PART + 65_536
        assert wire.inward.qsize() > 30
        wire.taking.set()
        await wire.task
        assert wire.answers == 2_000

    asyncio.run(talk())


def test_who_takes_no_answers_is_given_up_and_his_place_is_free(opening: Request, catalogue: Catalogue) -> None:
    """As from a caller that sends all it has before it reads: neither side could go on."""
    app, log = app_with(catalogue, bulk_streams=1, body_seconds=1)

    async def talk() -> None:
        wire = Wire(app)
        wire.taking.clear()
        wire.say((written(opening) + b"\n") * 50)
        await wire.task
        assert asyncio.get_running_loop().time() == pytest.approx(1)
        after = Wire(app)
        after.say(written(opening), more=False)
        await after.task
        assert (after.status, after.answers) == (200, 1)

    run(talk())
    assert b"nobody takes the answers" in log.getvalue()
    assert ended(log, 1)[1] == "not_taken"


def test_a_stream_that_stands_still_is_ended_with_a_line_that_says_so(opening: Request, catalogue: Catalogue) -> None:
    app, _ = app_with(catalogue, body_seconds=1)

    async def talk() -> bytes:
        wire = Wire(app)
        wire.say(written(opening) + b"\n")
        await wire.task
        return b"".join(wire.sent)

    first, last = (msgspec.json.decode(line) for line in run(talk()).splitlines())
    assert (first["mark"], last["status"]) == (opening["mark"], 408)
    assert (last["line"], last["ends"]) == (2, True)


def test_a_caller_who_goes_away_frees_the_work_and_the_place(opening: Request, catalogue: Catalogue) -> None:
    app, log = app_with(catalogue, bulk_streams=1)

    async def talk() -> None:
        wire = Wire(app)
        wire.say((written(opening) + b"\n") * 5_000)
        await wire.until(lambda: wire.answers > 0)
        wire.hang_up()
        await asyncio.wait_for(wire.task, PATIENCE)
        assert wire.answers < 5_000
        assert ended(log)[1] == "gone"
        after = Wire(app)
        after.say(written(opening), more=False)
        await after.task
        assert (after.status, after.answers) == (200, 1)

    asyncio.run(talk())


def test_no_more_streams_than_may_be_are_answered_at_one_time(opening: Request, catalogue: Catalogue) -> None:
    app, _ = app_with(catalogue, bulk_streams=2)

    async def talk() -> None:
        open_ = [Wire(app), Wire(app)]
        await open_[1].until(lambda: all(wire.status == 200 for wire in open_))
        refused = Wire(app)
        await refused.task
        assert refused.status == 503
        assert msgspec.json.decode(b"".join(refused.sent))["code"] == "busy"
        for wire in open_:
            wire.say(written(opening), more=False)
            await wire.task

    asyncio.run(talk())


def test_one_more_stream_is_told_when_to_try_again(catalogue: Catalogue) -> None:
    app, _ = app_with(catalogue, bulk_streams=0)
    reply = ask(app, "POST", BULK, headers=LINES)
    assert (reply.status, reply.headers["retry-after"], reply.json()["code"]) == (503, "1", "busy")


def test_other_requests_are_answered_while_a_stream_is(opening: Request, app: Any) -> None:
    """On one loop: did the stream keep it until its end, nothing else would be answered before all its lines are."""

    async def talk() -> None:
        wire = Wire(app)
        wire.say((written(opening) + b"\n") * 3_000, more=False)
        await wire.until(lambda: wire.answers > 0)
        async with httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://test") as client:
            for _ in range(3):
                assert (await client.get("/health/live")).status_code == 200
        assert wire.answers < 3_000
        await wire.task
        assert wire.answers == 3_000

    asyncio.run(talk())


def test_others_have_their_turn_while_what_is_opened_has_no_end_of_a_line(
    catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch
) -> None:
    app, _ = app_with(catalogue)
    monkeypatch.setattr(bulk, "SLICE_SECONDS", 0)
    pieces = 200

    async def talk() -> int:
        wire, turns = Wire(app, (b"content-encoding", b"gzip")), 0
        wire.say(gzip.compress(bytes(pieces * PIECE)), more=False)
        while not wire.task.done():
            await asyncio.sleep(0)
            turns += 1
        assert wire.answers == 1
        return turns

    assert asyncio.run(talk()) > pieces
