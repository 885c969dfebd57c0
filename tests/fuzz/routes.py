"""Any request to the service: answered as the contract says, never with a fault, the same for the same."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any
from urllib.parse import parse_qsl, unquote

from tests.contract.asgi import HOUSE, HOUSE_RECHECK, Reply
from tests.fuzz.messages import Message, read
from tests.fuzz.pointers import misplaced
from tests.fuzz.relations import CHANGING, Relation, said
from tests.fuzz.service import Service, operations

from jambset.http.addresses import BULK
from jambset.http.problems import FIELD_CODES, kinds

EVERY = {
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-resource-policy": "same-origin",
}
"""Headers of every answer."""
UNLISTED = {200, 204, 304, 400, 404, 405, 406, 414, 422, 431}
"""What an address may answer that the contract doesn't have: assets of pages, and what isn't there."""
OTHER_METHOD = {204, 400, 404, 405, 414, 422, 431}
"""What an address that the contract has may answer to a method that it hasn't there."""
_CODES = {kind.code: kind for kind in kinds().values()}


def check(service: Service, data: bytes, relations: Iterable[Relation]) -> bytes:
    """Asks what a file says; holds the answer to the contract, and to those of related requests. Returns the answer."""
    message = read(data)
    reply = service.ask(message)
    _check_status(message, reply)
    _check_headers(message, reply)
    if reply.status >= 400 and message.method != "HEAD":
        _check_problem(message, reply)
    if reply.status == 200 and message.path == BULK:
        _check_lines(message, reply)
    house = message.path in (HOUSE, HOUSE_RECHECK) and reply.media_type == "application/json"
    if reply.status == 200 and house and reply.body:
        _check_openings(message, reply)
    for relation in relations:
        relation(service, message, reply)
    status, body = said(reply)
    return b"%d %s" % (status, b"" if CHANGING in message.path else body)


def _check_status(message: Message, reply: Reply) -> None:
    calls = operations(unquote(message.path))
    operation = (calls or {}).get({"HEAD": "get"}.get(message.method, message.method.lower()))
    if operation:
        assert str(reply.status) in operation["responses"], (reply.status, reply.body)
    elif calls:
        assert reply.status in OTHER_METHOD, (reply.status, reply.body)
        assert reply.status not in {204, 405} or reply.headers["allow"]
    else:
        assert reply.status in UNLISTED, (reply.status, reply.body)


def _check_headers(message: Message, reply: Reply) -> None:
    assert reply.headers.items() >= EVERY.items()
    assert reply.headers["x-request-id"]
    assert not [value for value in reply.headers.values() if {"\r", "\n", "\0"} & set(value)]
    if message.method != "HEAD" and "content-length" in reply.headers:
        assert int(reply.headers["content-length"]) == len(reply.body)


def _check_problem(message: Message, reply: Reply) -> None:
    assert reply.media_type == "application/problem+json"
    problem = reply.json()
    assert problem["status"] == reply.status
    assert problem["instance"] == f"urn:request-id:{reply.headers['x-request-id']}"
    check_told(problem)
    errors = problem.get("errors", [])
    asked = parse_qsl(message.target.partition("?")[2], keep_blank_values=True)
    names = {name[:40] for name, _ in asked}
    assert {error["parameter"] for error in errors if "parameter" in error} <= names
    placed = [error for error in errors if "pointer" in error]
    assert not placed or misplaced(placed, json.loads(message.body)) == []


def check_told(problem: Any) -> None:
    """A problem says its type, and what is wrong in words and by codes that are listed."""
    kind = _CODES[problem["code"]]
    assert (problem["status"], problem["title"]) == (kind.status, kind.title)
    assert problem["type"].endswith(f"/problems/{kind.slug}")
    assert problem["detail"].strip()
    errors = problem.get("errors", [])
    assert all(error["code"] in FIELD_CODES and error["detail"].strip() for error in errors)
    assert bool(errors) == (kind.slug == "invalid-request")


def _check_openings(message: Message, reply: Reply) -> None:
    """What is wrong with an opening of a house is told at a place that was sent, unless it is missing."""
    refused = [one["problem"]["errors"] for one in reply.json()["openings"] if "problem" in one]
    placed = [error for errors in refused for error in errors if error["code"] != "missing_field"]
    assert misplaced(placed, json.loads(message.body)) == []


def _check_lines(message: Message, reply: Reply) -> None:
    """Each line of an answer is an advice or a problem, and says which line it is about; only the last ends it."""
    if "content-encoding" in reply.headers or message.method == "HEAD":
        return
    asked = message.body.split(b"\n")
    last = 0
    for line in (answers := reply.body.splitlines()):
        answer = json.loads(line)
        if "advice_id" in answer:
            continue
        check_told(answer)
        assert last < answer["line"]
        assert answer["line"] <= len(asked) + 1 or message.header("content-encoding")
        assert answer.get("ends", False) is False or line is answers[-1]
        last = answer["line"]
        placed = [error for error in answer.get("errors", []) if "pointer" in error]
        assert not placed or message.header("content-encoding") or misplaced(placed, json.loads(asked[last - 1])) == []
