"""A house whose doors are set, over HTTP: what is refused where, and the forms it is answered in."""

from __future__ import annotations

import asyncio
import csv
import io
import threading
from collections.abc import Callable
from typing import Any

import httpx
import icalendar
import msgspec
import pytest
from lxml import html
from tests.contract.asgi import HOUSE, HOUSE_RECHECK, JSON_BODY, RECHECK, Reply, ask
from tests.contract.conftest import Ask
from tests.house_rechecks import paper
from tests.houses import merged

from jambset.http import houses
from jambset.http.app import create_app
from jambset.http.members import SET_MEMBERS
from jambset.http.observe import json_log
from jambset.http.sandbox import Scenario
from jambset.http.settings import Settings
from jambset.render.lists_recheck import RECHECK_LISTS
from jambset.rules.schema import Catalogue

Request = dict[str, Any]


def _post(asked: Ask, house: Any, accept: str = "application/json", query: str = "", **headers: str) -> Reply:
    told = {**JSON_BODY, "Accept": accept, **headers}
    return asked("POST", HOUSE_RECHECK + query, headers=told, body=msgspec.json.encode(house))


def _answer(asked: Ask, house: Request) -> Any:
    reply = _post(asked, house)
    assert reply.status == 200, reply.body
    return reply.json()


def _refused(answer: Any) -> dict[str, list[tuple[str, str]]]:
    """Faults of the openings that were refused, by mark."""
    return {
        one["mark"]: [(error["pointer"], error["code"]) for error in one["problem"]["errors"]]
        for one in answer["openings"]
        if "problem" in one
    }


def test_a_right_house_is_answered_as_promised(
    house_as_set: Request, asked: Ask, conforms: Callable[[str, Any], list[str]]
) -> None:
    assert conforms("HouseRecheck", house_as_set) == []
    reply = _post(asked, house_as_set)
    assert (reply.status, reply.headers["cache-control"], reply.headers["vary"]) == (
        200,
        "no-store",
        "Accept, Accept-Language",
    )
    answer = reply.json()
    assert conforms("HouseRecheckAdvice", answer) == []
    assert [one["mark"] for one in answer["openings"]] == ["D1", "D2", "D3"]
    assert _post(asked, house_as_set).body == reply.body


def test_each_opening_is_answered_as_if_it_had_come_alone(house_as_set: Request, asked: Ask) -> None:
    for whole, one in zip(merged(house_as_set), _answer(asked, house_as_set)["openings"], strict=True):
        body = msgspec.json.encode({**whole, "labour": house_as_set["labour"]})
        assert asked("POST", RECHECK, headers=JSON_BODY, body=body).json() == one["advice"]


# --- what is refused


def test_a_door_that_isnt_set_is_refused_by_name_and_fails_no_other(house_as_set: Request, asked: Ask) -> None:
    """All faults of all openings are told at once."""
    del house_as_set["defaults"]["as_set"]
    house_as_set["openings"][2]["leaf"] = {"height": "80 mm"}
    answer = _answer(asked, house_as_set)
    assert ["advice" in one for one in answer["openings"]] == [True, False, False]
    assert _refused(answer) == {
        "D2": [("#/openings/1/as_set", "missing_field")],
        "D3": [("#/openings/2/leaf/height", "implausible"), ("#/openings/2/as_set", "missing_field")],
    }
    assert answer["totals"]["refused"] == 2


@pytest.mark.parametrize(
    ("change", "faults"),
    [
        ({"as_set": None}, [("#/openings/1/as_set", "missing_field")]),
        ({"as_set": {"leaf_bottom": None}}, [("#/openings/1/as_set/leaf_bottom", "missing_field")]),
        ({"as_set": {"foot": "1 m"}}, [("#/openings/1/as_set/foot", "implausible")]),
        ({"as_set": {"fot": None}}, [("#/openings/1/as_set/fot", "unknown_field")]),
        ({"as_set": {"leaf_bottom": "1/4 in"}, "frame": None}, [("#/openings/1/as_set/leaf_bottom", "implausible")]),
        ({"frame": {"foot": "1/2 in"}}, [("#/openings/1/frame/foot", "contradiction")]),
        ({"frame": {"state": "to_order"}}, [("#/openings/1/frame/state", "contradiction")]),
        ({"mark": "D1"}, [("#/openings/1/mark", "repeated")]),
    ],
)
def test_a_fault_of_a_setting_is_told_in_its_place(
    change: Request, faults: list[tuple[str, str]], house_as_set: Request, asked: Ask
) -> None:
    house_as_set["openings"][1] |= change
    house_as_set["head_lines"] = []
    (found,) = _refused(_answer(asked, house_as_set)).values()
    assert found == faults


def test_a_fault_of_the_defaults_is_told_where_it_was_sent(house_as_set: Request, asked: Ask) -> None:
    house_as_set["defaults"]["as_set"]["foot"] = "1 m"
    answer = _answer(asked, house_as_set)
    assert _refused(answer) == {mark: [("#/defaults/as_set/foot", "implausible")] for mark in ("D2", "D3")}


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"defaults": {"as_sett": {}}}, ("#/defaults/as_sett", "unknown_field")),
        ({"defaults": {"as_set": {"gaps": {"left": None}}}}, ("#/defaults/as_set/gaps/left", "unknown_field")),
        ({"head_lines": [{"name": "a", "marks": ["D9"]}]}, ("#/head_lines/0/marks/0", "unknown_mark")),
        ({"as_set": {}}, ("#/as_set", "unknown_field")),
        ({"openings": []}, ("#/openings", "too_few")),
        ({"openings": [{"mark": "D"}] * 501}, ("#/openings", "too_many")),
    ],
)
def test_a_fault_of_the_house_refuses_it(
    change: Request, fault: tuple[str, str], house_as_set: Request, asked: Ask
) -> None:
    reply = _post(asked, {**house_as_set, "head_lines": [], **change})
    assert reply.status == 422
    assert fault in [(error["pointer"], error["code"]) for error in reply.json()["errors"]]


def test_a_field_at_another_level_is_told_where_it_belongs(house_as_set: Request, asked: Ask) -> None:
    (error,) = _post(asked, {**house_as_set, "as_set": {}}).json()["errors"]
    assert error["detail"].endswith("It belongs at #/openings/0/as_set.")


def test_the_settings_of_a_house_that_is_still_to_be_set_are_unknown(house_as_set: Request, asked: Ask) -> None:
    reply = asked("POST", HOUSE, headers=JSON_BODY, body=msgspec.json.encode(house_as_set))
    told = {(e["pointer"], e["code"]): e["detail"] for e in reply.json()["errors"]}
    assert told["#/defaults/as_set", "unknown_field"].endswith(f" It belongs to POST {HOUSE_RECHECK}.")


def test_so_is_what_keeps_its_head_lines(house_as_set: Request, asked: Ask) -> None:
    line = {"name": "hall", "marks": ["D1", "D2"], "keep": True}
    reply = asked("POST", HOUSE, headers=JSON_BODY, body=msgspec.json.encode({**house_as_set, "head_lines": [line]}))
    told = {e["pointer"]: e["detail"] for e in reply.json()["errors"]}
    assert told["#/head_lines/0/keep"].endswith(f" remove it. It belongs to POST {HOUSE_RECHECK}.")


def test_null_takes_away_what_the_contract_names_and_nothing_else(contract: Request) -> None:
    patch = contract["components"]["schemas"]["RecheckPatch"]["properties"]
    assert SET_MEMBERS.keys() == patch.keys()
    setting = contract["components"]["schemas"]["AsSetPatch"]["properties"]
    assert SET_MEMBERS["as_set"].keys() == setting.keys()


# --- renditions


@pytest.mark.parametrize("name", [None, *RECHECK_LISTS])
def test_a_list_is_csv_with_titles_in_a_file_of_its_name(name: str | None, house_as_set: Request, asked: Ask) -> None:
    house_as_set["openings"].append({"mark": "=SUM(A1)", "leaf": {"height": "80 mm"}})
    reply = _post(asked, house_as_set, "text/csv", "" if name is None else f"?list={name}")
    assert reply.status == 200
    assert reply.headers["content-disposition"] == f'attachment; filename="{name or "openings"}.csv"'
    titles, *rows = csv.reader(io.StringIO(reply.body.decode(), newline=""), strict=True)
    assert titles == [title for column in RECHECK_LISTS[name or "openings"].columns for title in column.titles]
    assert all(len(row) == len(titles) for row in rows)
    assert not [cell for row in rows for cell in row if cell.startswith("=")]


@pytest.fixture
def example(sandbox: tuple[Scenario, ...]) -> Scenario:
    """A house with something in most of its lists."""
    return next(one for one in sandbox if one.call == HOUSE_RECHECK)


def test_the_lists_say_what_the_answer_says(example: Scenario, asked: Ask) -> None:
    answer = example.response

    def table(name: str) -> list[dict[str, str]]:
        reply = _post(asked, example.request, "text/csv", f"?list={name}")
        return list(csv.DictReader(io.StringIO(reply.body.decode())))

    assert [(row["task"], row["kind"], int(row["minutes"]), row["text"]) for row in table("fixes")] == [
        (line["task"], line["kind"], line["minutes"], line["text"]) for line in answer["fix_list"]
    ]
    assert [(row["mark"], float(row["trim_mm"]), row["where"]) for row in table("trim")] == [
        (cut["mark"], cut["trim"]["mm"], cut["where"]) for cut in answer["trim_list"]
    ]
    assert [
        (row["room"], row["mark"], row["side"], row["jamb_undercut"], row["note"]) for row in table("undercut")
    ] == [
        (line["room"], line["mark"], line["side"], line.get("jamb_undercut", {}).get("text", ""), line["note"])
        for line in answer["undercut_list"]
    ]
    assert [row["summary"] for row in table("openings")] == [one["advice"]["summary"] for one in answer["openings"]]
    assert [row["first_remedy"] for row in table("openings")] == [
        next((remedy["kind"] for remedy in one["advice"]["remedies"]), "") for one in answer["openings"]
    ]
    assert [row["off"] for row in table("head_lines")] == [
        "; ".join(off["text"] for off in line["off"]) for line in answer["head_lines"]
    ]
    assert [row["found"] for row in table("head_lines")] == [
        "; ".join(f"{head['mark']}: {head['found']['text']}" for head in line["heads"]) for line in answer["head_lines"]
    ]
    assert [int(row["leaves"]) for row in table("leaves")] == [lot["leaves"] for lot in answer["leaf_list"]]
    assert all((table(name), name)[0] for name in ("pieces", "questions", "tasks", "cautions", "fixes", "leaves"))


def test_the_tasks_are_a_calendar_that_says_what_a_held_head_waits_for(example: Scenario, asked: Ask) -> None:
    reply = _post(asked, example.request, "text/calendar")
    assert (reply.status, reply.headers["content-type"]) == (200, "text/calendar; charset=utf-8")
    todos = icalendar.Calendar.from_ical(reply.body).walk("VTODO")
    assert [str(todo["summary"]) for todo in todos] == [
        f"{task['mark']}: {task['title']}" for task in example.response["tasks"]
    ]
    (question,) = (one for one in example.response["questions"] if one["code"] == "head_line_left")
    (held,) = (todo for todo in todos if "x-jambset-hold" in todo)
    assert str(held["x-jambset-hold"]) == "head_line_left"
    assert str(held["description"]).startswith(question["text"])


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_sheet_tells_the_work_and_what_waits(language: str, example: Scenario, asked: Ask) -> None:
    said = _post(asked, example.request, **{"Accept-Language": language}).json()
    reply = _post(asked, example.request, "text/html", **{"Accept-Language": language})
    document: Any = html.document_fromstring(reply.body.decode())
    page = " ".join(document.text_content().split())
    plain = page.replace("\N{NO-BREAK SPACE}", " ")
    for text in (
        said["summary"],
        said["do_nothing"]["text"],
        *(line["text"] for line in said["fix_list"]),
        *(line["note"] for line in said["undercut_list"]),
        *(question["text"] for question in said["questions"]),
        *(off["text"] for line in said["head_lines"] for off in line["off"]),
        *(caution["text"] for caution in said["cautions"]),
        *(one["advice"]["summary"] for one in said["openings"]),
    ):
        assert text in plain


def test_a_sheet_tells_both_heights_of_a_head_that_is_off_its_line(example: Scenario, asked: Ask) -> None:
    """As found and after its first remedy; of a head that stands at its line's and stays there, none."""
    high = {"as_set": {"foot": "9/16 in", "leaf_bottom": "1 9/16 in"}}
    openings = [{**one, **high} if one["mark"] == "202" else one for one in example.request["openings"]]
    document: Any = html.document_fromstring(
        _post(asked, {**example.request, "openings": openings}, "text/html").body.decode()
    )
    cells = [" ".join(cell.text_content().split()) for cell in document.xpath("//td")]
    assert "201, 202 (81 11/16 in)" in cells
    assert "203, 205 (81 1/8 in → 81 9/16 in)" in cells


def test_whoever_buys_pieces_by_a_sheet_is_told_that_some_lie_there_already(example: Scenario, asked: Ask) -> None:
    note = "see which lie there already before you buy"
    (through,) = (one for one in example.request["openings"] if one["mark"] == "204")
    several, none = example.request, {**example.request, "openings": [through], "head_lines": []}
    told = [
        _post(asked, house, "text/html").body.decode().replace("\N{NO-BREAK SPACE}", " ") for house in (several, none)
    ]
    assert [note in page for page in told] == [True, False]


def test_whoever_undercuts_by_a_sheet_is_told_when_it_holds(example: Scenario, asked: Ask) -> None:
    """Not where the gap was measured down to the only floor there is, which lies."""
    note = "wherever the floor doesn't lie yet"
    (through,) = (one for one in example.request["openings"] if one["mark"] == "204")
    lies = {**through, "as_set": {"leaf_bottom": None, "gaps": {"pull_side": "3/4 in"}}}
    for opening, told in ((through, True), (lies, False)):
        house = {**example.request, "openings": [opening], "head_lines": []}
        document: Any = html.document_fromstring(_post(asked, house, "text/html").body.decode())
        assert (note in document.text_content().replace("\N{NO-BREAK SPACE}", " ")) is told


def test_a_sheet_doesnt_go_by_the_order_of_the_request(example: Scenario, asked: Ask) -> None:
    turned = {**example.request, "openings": example.request["openings"][::-1]}
    assert _post(asked, turned, "text/html").body == _post(asked, example.request, "text/html").body


def test_a_list_of_the_other_call_is_refused(asked: Ask) -> None:
    reply = asked("POST", f"{HOUSE_RECHECK}?list=blocks", headers={**JSON_BODY, "Accept": "text/csv"}, body=b"{")
    assert [(e["parameter"], e["code"]) for e in reply.json()["errors"]] == [("list", "not_allowed")]


# --- large houses


def test_a_house_of_500_is_answered_while_others_are(catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch) -> None:
    """It waits before it is written until another call was answered: were the loop blocked, neither would end."""
    app: Any = create_app(catalogue=catalogue, settings=Settings(), sandbox=(), log=json_log(io.BytesIO()))
    begun, answered = threading.Event(), threading.Event()
    real = houses.RECHECK_RENDITIONS["application/json"]

    def slow(answer: bytes, asked: Any) -> Any:
        begun.set()
        assert answered.wait(timeout=60), "nothing else was answered meanwhile"
        return real(answer, asked)

    monkeypatch.setitem(houses.RECHECK_RENDITIONS, "application/json", slow)

    async def both() -> tuple[httpx.Response, int]:
        transport = httpx.ASGITransport(app=app)
        async with httpx.AsyncClient(transport=transport, base_url="http://test", timeout=120) as client:
            body = msgspec.json.encode(paper(500))
            waiting = asyncio.create_task(client.post(HOUSE_RECHECK, content=body, headers=JSON_BODY))
            other = await client.get("/health/live")
            assert not waiting.done()
            answered.set()
            return await waiting, other.status_code

    reply, other = asyncio.run(both())
    assert (reply.status_code, other) == (200, 200)
    totals = reply.json()["totals"]
    assert (totals["openings"], totals["rechecked"]) == (500, 500)


def test_floors_that_may_come_in_many_pairs_are_no_more_work_here(catalogue: Catalogue) -> None:
    """No setting is priced, so that the limit on pairs is the advice's alone."""
    few = create_app(catalogue=catalogue, settings=Settings(max_house_pairs=1), sandbox=(), log=json_log(io.BytesIO()))
    reply = ask(few, "POST", HOUSE_RECHECK, headers=JSON_BODY, body=msgspec.json.encode(paper(3)))
    assert reply.status == 200
