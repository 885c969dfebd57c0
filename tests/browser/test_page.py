"""The sandbox page in a browser, against the service itself."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Literal

import pypdf
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Locator, Page, Route, ViewportSize, expect
from tests.browser.conftest import Watched
from tests.faults.served import served

from jambset.http.keys import entry_of

ADVICE, RECHECK, HOUSE = "/v1/openings/advice", "/v1/openings/recheck", "/v1/houses/advice"
HOUSE_RECHECK = "/v1/houses/recheck"
PLANK = "carpet-and-plank"
SANDBOX = Path(__file__).parents[2] / "examples" / "sandbox"
SCENARIOS = [json.loads(file.read_bytes()) for file in sorted(SANDBOX.glob("*.json"))]
PLANK_REQUEST: dict[str, Any] = next(s["request"] for s in SCENARIOS if s["scenario"] == PLANK)

SIZES: tuple[ViewportSize, ...] = ({"width": 320, "height": 640}, {"width": 1280, "height": 900})
SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")
CHOICE_MS = 120
PUT_CURSOR = """async ([line, column]) => {
  const { EditorView } = await import("/page/assets/editor.js");
  const view = EditorView.findFromDOM(document.querySelector(".cm-editor"));
  view.dispatch({ selection: { anchor: view.state.doc.line(line + 1).from + column }, scrollIntoView: true });
}"""
BROKEN = r"""() => {
  const walker = document.createTreeWalker(document.querySelector("#answer"), NodeFilter.SHOW_TEXT);
  const found = { whole: 0, broken: [] };
  for (let text = walker.nextNode(); text; text = walker.nextNode()) {
    for (const { 0: quantity, index } of text.data.matchAll(/(?:\d+\s)?\d+(?:\/\d+)?\s(?:in|cfm|Pa)\b/g)) {
      const range = document.createRange();
      range.setStart(text, index);
      range.setEnd(text, index + quantity.length);
      const lines = new Set([...range.getClientRects()].map((box) => Math.round(box.top)));
      if (lines.size === 1) found.whole += 1;
      if (lines.size > 1) found.broken.push(quantity);
    }
  }
  return found;
}"""
"""Quantities of the answer that are shown: how many on one line, and those on two."""
LABELS_HIT = """() => [...document.querySelectorAll("#drawing [role=button] text")].map((text) => {
  const { left, top, width, height } = text.getBoundingClientRect();
  const hit = document.elementFromPoint(left + width / 2, top + height / 2)?.closest("[role=button]");
  const own = text.closest("[role=button]");
  return { text: text.textContent, own: own.ariaLabel, hit: hit?.ariaLabel ?? null };
})"""
"""The labels of the drawing: the dimension that each belongs to, and the one that a pointer at its middle chooses."""
LAID_OUT = """json => {
  window.laidOut = new Set();
  json.addEventListener("contentvisibilityautostatechange", ({ target, skipped }) => {
    if (!skipped) window.laidOut.add([...json.children].indexOf(target));
  });
}"""
"""Keeps the numbers of those parts of a text that were laid out."""
FOCUSED = "() => (e => e.id || e.dataset.path || e.getAttribute('class') || e.tagName)(document.activeElement)"
"""Id of what has the focus, else the path of its number, else its class."""
AXE_OPTIONS = {"resultTypes": ["violations"]}


# --- what a reader does


def opened(watched: Watched, scenario: str = PLANK, *, language: str = "en") -> Page:
    """The page with a scenario's answer and, of one opening, its drawing."""
    page = watched.page
    page.goto(f"{watched.origin}/?lang={language}#{scenario}")
    answered(page)
    expect(page.locator("#what-if-sides fieldset")).to_have_count(2)
    if call_of(page) != HOUSE:
        expect(page.locator("#drawing svg")).to_be_visible()
    return page


def answered(page: Page) -> None:
    """Wait until what is shown belongs to what is written."""
    expect(page.locator("#answer")).to_have_attribute("aria-busy", "false")
    expect(page.locator("#answer")).not_to_have_class("stale")


def call_of(page: Page) -> str:
    return page.locator("#call").input_value()


def written(page: Page) -> str:
    """The text in the editor."""
    lines: list[str] = page.eval_on_selector_all(".cm-line", "lines => lines.map(line => line.textContent)")
    return "\n".join(lines)


def write(page: Page, text: str) -> None:
    """Paste a text in place of what the editor holds."""
    page.evaluate("text => navigator.clipboard.writeText(text)", text)
    page.locator(".cm-content").focus()
    page.keyboard.press("Control+a")
    page.keyboard.press("Control+v")


def put_cursor(page: Page, *, line: int, column: int) -> None:
    page.locator(".cm-content").focus()
    page.evaluate(PUT_CURSOR, [line, column])


def cursor_line(page: Page) -> str:
    """Text of the line that the cursor is in."""
    return page.locator(".cm-activeLine").inner_text()


def number(page: Page, path: str) -> Locator:
    return page.locator(f"#numbers [data-path='{path}']")


def shown_json(page: Page) -> dict[str, Any]:
    answer: dict[str, Any] = json.loads(page.locator("#json").text_content() or "")
    return answer


def changed(**parts: Any) -> str:
    return json.dumps({**PLANK_REQUEST, **parts}, indent=2)


# --- loading and picking


def test_it_loads_without_a_complaint_and_asks_nobody_else(watched: Watched) -> None:
    page = opened(watched)
    page.wait_for_load_state("networkidle")
    assert watched.complaints == []
    assert watched.elsewhere() == []
    assert {"/openapi.json", "/v1/finishes", ADVICE} <= {r.url.removeprefix(watched.origin) for r in watched.requests}


def test_every_scenario_can_be_picked_and_is_answered_as_the_sandbox_says(watched: Watched) -> None:
    page = opened(watched)
    offered = page.locator("#scenario option").evaluate_all("options => options.map(option => option.value)")
    assert offered == ["", *(scenario["scenario"] for scenario in SCENARIOS)]
    for scenario in SCENARIOS:
        call = scenario.get("call", ADVICE)
        page.select_option("#scenario", scenario["scenario"])
        expect(page.locator("#story")).to_have_text(scenario["story"])
        expect(page.locator("#json")).to_contain_text(scenario["response"]["advice_id"])
        answered(page)
        assert call_of(page) == call
        assert shown_json(page) == scenario["response"]
        expect(page.locator("#verdict .summary")).to_have_text(scenario["response"]["summary"])
        expect(page.locator("#details .notice")).to_have_text(scenario["response"]["notice"])
        assert page.locator("#drawing-part").is_visible() == (call not in (HOUSE, HOUSE_RECHECK))
        assert page.locator("#what-if").is_visible() == (call not in (HOUSE, HOUSE_RECHECK))
    assert watched.complaints == []


def test_a_payload_that_is_pasted_and_then_changed_by_hand_changes_the_answer(watched: Watched) -> None:
    page = opened(watched)
    page.select_option("#scenario", "")
    write(page, text := changed(mark="D-OWN"))
    expect(page.locator("#json")).to_contain_text("D-OWN")
    answered(page)
    expect(number(page, "leaf.trim")).to_contain_text("1/2 in")
    line = next(place for place, one in enumerate(text.splitlines()) if '"undercut": "1 in"' in one)
    put_cursor(page, line=line, column=text.splitlines()[line].index("1") + 1)
    page.keyboard.type(" 1/4")
    expect(number(page, "leaf.trim")).to_contain_text("1/4 in")
    answered(page)
    assert shown_json(page)["order"]["why"].startswith("This unit has 1 1/4 in")


def test_a_payload_that_is_pasted_is_told_as_no_example_and_is_what_is_compared_with(watched: Watched) -> None:
    page = opened(watched)
    expect(page.locator("#scenario")).to_have_value(PLANK)
    write(page, changed(mark="D-OWN", subfloor={"kind": "legs", "hinge_leg": "0 in", "strike_leg": "3/8 in"}))
    expect(page.locator("#json")).to_contain_text("D-OWN")
    expect(page.locator("#scenario")).to_have_value("")
    expect(page.locator("#story")).to_contain_text("Paste your request")
    expect(page.locator("#what-if-change")).to_contain_text("No number differs from the request as picked or pasted.")


def test_each_leg_has_what_is_done_under_it(watched: Watched) -> None:
    """The subfloor is 3/8 in lower at the hinge leg. Plank 1/4 in thick ends there 1/8 in below the subfloor at the
    strike leg, and so do legs that it is to hide: 1/4 in on blocks, and 1/8 in cut off."""
    page = opened(watched)
    write(page, changed(subfloor={"kind": "legs", "hinge_leg": "0 in", "strike_leg": "3/8 in"}))
    expect(number(page, "setting.hinge_leg.block")).to_contain_text("hinge leg")
    expect(number(page, "setting.hinge_leg.block")).to_contain_text("1/4 in")
    expect(number(page, "setting.strike_leg.trim")).to_contain_text("1/8 in")
    expect(number(page, "setting.strike_leg.block")).to_have_count(0)


# --- faults


def test_a_refused_field_is_marked_where_it_stands_and_its_entry_leads_there(watched: Watched) -> None:
    page = opened(watched)
    layers = [{"material": "carpet_cushion", "thickness": "2/8"}, {"material": "carpet"}]
    write(page, changed(pull_side={"build_up": layers}))
    entry = page.locator("#faults-list button")
    expect(entry).to_have_count(1)
    expect(entry).to_contain_text("#/pull_side/build_up/0/thickness")
    expect(page.locator(".cm-lintRange-error")).to_have_text('"thickness": "2/8"')
    expect(page.locator("#answer")).to_have_class("stale")
    put_cursor(page, line=0, column=0)
    entry.focus()
    page.keyboard.press("Enter")
    expect(page.locator(".cm-content")).to_be_focused()
    assert cursor_line(page).strip() == '"thickness": "2/8"'
    write(page, changed())
    expect(page.locator("#faults")).to_be_hidden()
    expect(page.locator(".cm-lintRange-error")).to_have_count(0)
    answered(page)


def test_a_missing_field_is_marked_at_the_object_it_is_missing_in(watched: Watched) -> None:
    page = opened(watched)
    write(page, changed(leaf={"width": "30 in", "height": "80 in", "thickness": "1 3/8 in"}))
    entry = page.locator("#faults-list button")
    expect(entry).to_contain_text("#/leaf/core")
    entry.click()
    assert cursor_line(page).strip() == '"leaf": {'


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ('{\n  "mark": "D1"\n  "jurisdiction": "US"\n}', '"jurisdiction": "US"', "missing"),
        ('{\n  "mark": "D1",\n  "count": tru\n}', '"count": tru', "“tru” can't be here"),
        ('{\n  "mark": "D1",\n}', "}", "missing"),
        ('{\n  "mark": "a\\qb"\n}', '"mark": "a\\qb"', "can't be here"),
    ],
)
def test_what_is_no_json_is_marked_and_is_not_sent(text: str, line: str, says: str, watched: Watched) -> None:
    page = opened(watched)
    sent = len(watched.requests)
    write(page, text)
    entry = page.locator("#faults-list button").first
    expect(entry).to_contain_text(says)
    expect(page.locator("#status")).to_contain_text("isn't JSON")
    put_cursor(page, line=0, column=0)
    entry.click()
    assert cursor_line(page).strip() == line
    assert len(watched.requests) == sent
    assert watched.complaints == []


def test_a_service_that_is_down_is_told_and_asked_again(watched: Watched) -> None:
    page = opened(watched)
    page.route(f"**{ADVICE}", lambda route: route.abort())
    write(page, changed(mark="D99"))
    expect(page.locator("#status")).to_contain_text("can't be reached")
    expect(page.locator("#answer")).to_have_class("stale")
    page.unroute(f"**{ADVICE}")
    page.locator("#status button").click()
    answered(page)
    assert shown_json(page)["mark"] == "D99"


@pytest.mark.parametrize("status", [408, 429, 500, 502, 503, 504])
def test_after_a_refusal_that_passes_the_same_can_be_asked_again(status: int, watched: Watched) -> None:
    page = opened(watched)
    page.route(f"**{ADVICE}", lambda route: route.fulfill(status=status, json={"title": "Wait", "detail": "Wait 1 s."}))
    write(page, changed(mark="D95"))
    expect(page.locator("#status")).to_contain_text("Wait 1 s.")
    page.unroute(f"**{ADVICE}")
    page.locator("#status button").click()
    answered(page)
    assert shown_json(page)["mark"] == "D95"


def test_a_refusal_that_stays_is_not_asked_again(watched: Watched) -> None:
    page = opened(watched)
    write(page, changed(leaf={}))
    expect(page.locator("#faults-list button").first).to_be_visible()
    expect(page.locator("#status button")).to_have_count(0)


def test_an_example_that_could_not_be_had_can_be_asked_for_again(watched: Watched) -> None:
    page = opened(watched)
    page.route("**/v1/sandbox/low-header", lambda route: route.fulfill(status=503, json={"title": "Wait"}))
    page.select_option("#scenario", "low-header")
    expect(page.locator("#status")).to_contain_text("Wait")
    page.unroute("**/v1/sandbox/low-header")
    page.locator("#status button").click()
    answered(page)
    assert json.loads(written_text(page)) == next(s["request"] for s in SCENARIOS if s["scenario"] == "low-header")


@pytest.mark.parametrize(
    ("reply", "says"),
    [
        ({"status": 200, "content_type": "text/html", "body": "<h1>Sign in</h1>"}, "isn't an answer of this service"),
        ({"status": 200, "content_type": "application/json", "body": ""}, "isn't an answer of this service"),
        ({"status": 200, "content_type": "application/json", "body": "{}"}, "can't show this"),
        ({"status": 500, "content_type": "application/json", "body": "null"}, "answered with status 500"),
    ],
)
def test_what_is_no_answer_is_told_and_the_old_one_is_not_called_current(
    reply: dict[str, Any], says: str, watched: Watched
) -> None:
    """A proxy's own page, say: the answer before it still stands on the page."""
    page = opened(watched)
    page.route(f"**{ADVICE}", lambda route: route.fulfill(**reply))
    write(page, changed(mark="D97"))
    expect(page.locator("#status")).to_contain_text(says)
    expect(page.locator("#status")).to_contain_text("belongs to the previous request")
    expect(page.locator("#answer")).to_have_class("stale")
    expect(page.locator("#answer")).to_have_attribute("aria-busy", "false")


@pytest.mark.parametrize(
    ("thickness", "shown"), [(None, "null"), (7, "7"), (True, "true"), ({"value": 7}, '{"value":7}'), ([], "[]")]
)
def test_what_is_no_thickness_is_asked_about_and_refused(thickness: Any, shown: str, watched: Watched) -> None:
    page = opened(watched)
    layer = {"material": "vinyl_plank", "thickness": thickness}
    write(page, changed(push_side={"build_up": [layer]}))
    expect(page.locator("#faults-list button").first).to_contain_text("#/push_side/build_up/0/thickness")
    expect(page.locator("[data-side=push_side] output")).to_have_text(shown)
    expect(page.locator("#answer")).to_have_attribute("aria-busy", "false")


def test_a_page_that_cannot_load_its_examples_says_so(watched: Watched) -> None:
    page = watched.page
    page.route("**/v1/sandbox", lambda route: route.abort())
    page.goto(watched.origin)
    expect(page.locator("#status")).to_contain_text("can't be reached")
    page.unroute("**/v1/sandbox")
    page.locator("#status button").click()
    answered(page)
    expect(page.locator("#story")).to_have_text(SCENARIOS[0]["story"])


def test_a_drawing_that_fails_leaves_the_answer_standing(watched: Watched) -> None:
    page = opened(watched)

    def fail_drawings(route: Route) -> None:
        if route.request.headers["accept"] == "image/svg+xml":
            route.fulfill(status=500, body="no")
        else:
            route.continue_()

    page.route(f"**{ADVICE}", fail_drawings)
    write(page, changed(mark="D98"))
    expect(page.locator("#drawing")).to_contain_text("The drawing can't be shown")
    answered(page)
    assert shown_json(page)["mark"] == "D98"


def test_of_a_slow_answer_and_a_quick_one_the_latest_question_wins(watched: Watched) -> None:
    page = opened(watched)
    held: list[Route] = []

    def hold_first(route: Route) -> None:
        if '"D1"' in (route.request.post_data or ""):
            held.append(route)
        else:
            route.continue_()

    page.route(f"**{ADVICE}", hold_first)
    write(page, changed(mark="D1"))
    expect(page.locator("#status")).to_have_text("Asking the service …")
    write(page, changed(mark="D2"))
    expect(page.locator("#json")).to_contain_text('"mark": "D2"')
    assert len(held) == 1
    held[0].abort()
    page.wait_for_timeout(200)
    assert shown_json(page)["mark"] == "D2"
    answered(page)


# --- the schema's help


@pytest.fixture
def helped(watched: Watched) -> Page:
    """The page once it has the contract."""
    page = opened(watched)
    expect(page.locator("#editor-hint")).to_be_visible()
    return page


def offered(page: Page, expected: list[str]) -> None:
    """Wait until these completions are offered, and long enough that a key is taken for a choice, not for typing."""
    expect(page.locator(".cm-completionLabel")).to_have_text(expected)
    page.wait_for_timeout(CHOICE_MS)


def test_completion_offers_the_fields_that_are_left(helped: Page) -> None:
    write(helped, '{\n  "mark": "D1",\n  \n}')
    put_cursor(helped, line=2, column=2)
    helped.keyboard.press("Control+Space")
    labels = helped.locator(".cm-completionLabel")
    expect(labels.first).to_be_visible()
    found = labels.all_inner_texts()
    assert {"jurisdiction", "leaf", "pull_side", "push_side"} == set(found[:4])
    assert "air" in found
    assert "mark" not in found


def test_a_name_and_its_value_are_written_by_completion(helped: Page) -> None:
    write(helped, '{\n  "leaf": {}\n}')
    put_cursor(helped, line=1, column=11)
    helped.keyboard.type('"cor')
    offered(helped, ["core"])
    helped.keyboard.press("Enter")
    offered(helped, ["fibreglass", "hollow", "mdf", "solid", "steel", "stile_and_rail"])
    helped.keyboard.press("ArrowDown")
    helped.keyboard.press("Enter")
    assert written(helped) == '{\n  "leaf": {"core": "hollow"}\n}'


@pytest.mark.parametrize(
    ("text", "column", "expected"),
    [
        ('{"jurisdiction": ""}', 18, ["GB-ENG", "US", "US-FL"]),
        ('{"subfloor": {"kind": "level"}}', 23, ["legs", "level", "slope", "survey"]),
        ('{"subfloor": {"kind": "legs", "": 0}}', 31, ["hinge_leg", "strike_leg"]),
        ('{"duties": ["fire_"]}', 18, ["fire_label"]),
        ('{"air": {"natural_draft_appliance": }}', 36, ["false", "true"]),
    ],
)
def test_completion_follows_references_kinds_and_lists(
    text: str, column: int, expected: list[str], helped: Page
) -> None:
    write(helped, text)
    put_cursor(helped, line=0, column=column)
    helped.keyboard.press("Control+Space")
    offered(helped, expected)


@pytest.mark.parametrize("scheme", SCHEMES)
def test_which_completion_is_chosen_shows_in_forced_colours(scheme: Literal["light", "dark"], helped: Page) -> None:
    """Whoever chooses by keyboard sees where they are (WCAG 2.2, 2.4.7) when grounds are the system's own."""
    helped.emulate_media(color_scheme=scheme, forced_colors="active")
    write(helped, '{"jurisdiction": ""}')
    put_cursor(helped, line=0, column=18)
    helped.keyboard.press("Control+Space")
    offered(helped, ["GB-ENG", "US", "US-FL"])
    chosen = helped.locator(".cm-tooltip-autocomplete li[aria-selected]")
    expect(chosen).to_have_count(1)
    ground = "one => getComputedStyle(one).backgroundColor"
    around = helped.locator(".cm-tooltip-autocomplete").evaluate(ground)
    assert chosen.evaluate(ground) not in {around, chosen.evaluate("one => getComputedStyle(one).color")}


def test_a_house_is_helped_by_its_own_schema(helped: Page) -> None:
    helped.select_option("#call", HOUSE)
    write(helped, '{"openings": [{"frame": {"state": ""}}]}')
    put_cursor(helped, line=0, column=35)
    helped.keyboard.press("Control+Space")
    offered(helped, ["on_site", "set", "to_order"])


def test_f1_and_the_pointer_explain_a_field(helped: Page) -> None:
    write(helped, '{\n  "leaf": {"height": "80 in"}\n}')
    put_cursor(helped, line=1, column=13)
    helped.keyboard.press("F1")
    tooltip = helped.locator(".field-help")
    expect(tooltip).to_contain_text("Height of the leaf as made, measured, not nominal.")
    expect(tooltip).to_contain_text("Plausible: 48 in to 144 in.")
    expect(helped.locator("#announce")).to_contain_text("Height of the leaf as made")
    helped.keyboard.press("Escape")
    expect(tooltip).to_have_count(0)
    helped.locator(".tok-propertyName", has_text="leaf").hover()
    expect(tooltip).to_contain_text("The leaf, or both leaves of a pair")


def test_the_help_on_a_code_explains_each_on_a_line_of_its_own(helped: Page) -> None:
    write(helped, '{\n  "frame": {"state": "set"}\n}')
    put_cursor(helped, line=1, column=14)
    helped.keyboard.press("F1")
    told = helped.locator(".field-help").inner_text().splitlines()
    assert "- `set`: Fixed in the opening, its leaf hung." in told
    assert any(line.startswith("- `to_order`: ") for line in told)


# --- drawing, numbers, rules


def test_a_dimension_of_the_drawing_shows_its_rule(watched: Watched) -> None:
    page = opened(watched)
    dimensions = page.locator("#drawing [role=button]")
    assert dimensions.count() >= 6
    named = dimensions.evaluate_all("all => all.map(one => [one.tabIndex, one.getAttribute('aria-label')])")
    assert [0, "Leaf bottom above subfloor: 1 1/2 in"] in named
    assert all(place == 0 and ": " in label for place, label in named)
    page.locator("#drawing .of-leaf-bottom").focus()
    page.keyboard.press("Enter")
    panel = page.locator("#rule")
    expect(panel).to_be_visible()
    expect(panel.locator("h2")).to_have_text("Leaf's bottom above the subfloor: 1\u00a01/2\u00a0in")
    expect(panel.locator("h3")).to_have_text("Leaf above the subfloor under carpet, wanted")
    page.keyboard.press("Escape")
    expect(panel).to_be_hidden()
    expect(page.locator("#drawing .of-leaf-bottom")).to_be_focused()


LEAST_LABELS = {PLANK: 16, "rated-pair": 16, "england-bedroom": 16, "plank-instead-of-carpet": 9, "swapped-phases": 9}


@pytest.mark.parametrize("scenario", LEAST_LABELS)
def test_every_label_of_the_drawing_shows_the_rule_of_its_own_dimension(scenario: str, watched: Watched) -> None:
    page = opened(watched, scenario)
    page.evaluate("() => document.querySelector('#drawing').scrollIntoView({ block: 'start', behavior: 'instant' })")
    labels = page.evaluate(LABELS_HIT)
    assert len(labels) >= LEAST_LABELS[scenario]
    assert [label for label in labels if label["own"] != label["hit"]] == []


def test_what_a_recheck_misses_is_named_so_and_shows_its_rule(watched: Watched) -> None:
    page = opened(watched, "plank-instead-of-carpet")
    gap = page.locator("#drawing .missed.of-clearance-pull-side")
    expect(gap).to_have_attribute("aria-label", "Gap over floor: 1 1/4 in, too much (preference), pull side")
    gap.focus()
    page.keyboard.press("Enter")
    expect(page.locator("#rule h2")).to_have_text("Clearance, pull side: 1\u00a01/4\u00a0in")
    expect(page.locator("#rule .rule")).not_to_have_count(0)
    assert watched.complaints == []


def test_dimensions_of_both_sides_are_named_by_their_side(watched: Watched) -> None:
    """What is named alike must do alike (WCAG 2.2, 2.4.6): only the column says which side "Gap over floor" is of."""
    page = opened(watched)
    for side, name in (("pull", "Gap over floor: 9/16 in, pull side"), ("push", "Gap over floor: 1 1/4 in, push side")):
        expect(page.locator(f"#drawing .of-clearance-{side}-side")).to_have_attribute("aria-label", name)
    names = page.locator("#drawing [role=button]").evaluate_all("all => all.map(one => one.ariaLabel.split(':')[0])")
    assert len(names) > len(set(names))


def test_a_number_shows_every_rule_that_governs_it_with_document_and_clause(watched: Watched) -> None:
    page = opened(watched, "rated-pair")
    answer = shown_json(page)
    page.locator("#numbers [data-path='air.pressure_at_supply']").click()
    rules = page.locator("#rule .rule")
    expect(rules).to_have_count(len(answer["air"]["governed_by"]))
    first = rules.first
    source = next(s for s in answer["sources"] if s["rule"] == answer["air"]["governed_by"][0])
    expect(first.locator("h3")).to_have_text("Pressure across closed doors")
    facts = dict(zip(first.locator("dt").all_inner_texts(), first.locator("dd").all_inner_texts(), strict=True))
    assert facts == {
        "Force": "law",
        "Document": source["document"],
        "Clause": source["clause"],
        "Edition": source["edition"],
        "How verified": "as quoted by others",
        "Id": source["rule"],
    }
    expect(page.locator("#rule")).to_contain_text("The project's own value: pressure limit")
    assert watched.complaints == []


def test_a_rule_of_practice_is_told_in_the_pages_language_without_a_clause_it_hasnt_got(watched: Watched) -> None:
    page = opened(watched, language="es")
    number(page, "leaf.bottom").click()
    first = page.locator("#rule .rule").first
    expect(first.locator("h3")).to_have_text("Hoja sobre el subpiso con alfombra, lo deseado")
    facts = dict(zip(first.locator("dt").all_inner_texts(), first.locator("dd").all_inner_texts(), strict=True))
    assert list(facts) == ["Fuerza", "Documento", "Cómo se verificó", "Identificador"]
    assert facts["Documento"] == "Práctica común, sin fuente"


@pytest.mark.parametrize(
    ("scenario", "path", "rules", "says"),
    [
        (PLANK, "clearance.pull_side", ["leaf.carpet.pile.wanted"], "The tightest of those checked against it"),
        (PLANK, "framing.rough_opening_needed", ["head.shim.wanted"], "What this number follows from"),
        (PLANK, "order.undercut_to_order", [], "The service names no rule for this number"),
        ("undecided-bath", "setting.foot", ["floors_may_change"], "The floors that may change"),
    ],
)
def test_which_rule_a_number_shows(scenario: str, path: str, rules: list[str], says: str, watched: Watched) -> None:
    page = opened(watched, scenario)
    number(page, path).click()
    panel = page.locator("#rule")
    expect(panel).to_contain_text(says)
    expect(panel.locator(".rule")).to_have_count(len(rules))
    assert panel.locator("dd:last-child").all_inner_texts() == rules
    assert watched.complaints == []


def test_a_recheck_says_what_is_wrong_and_what_mends_it(watched: Watched) -> None:
    page = opened(watched, "plank-instead-of-carpet")
    expect(page.locator("#verdict .verdict")).to_have_text("Needs work")
    answer = shown_json(page)
    expect(page.locator("#decision .findings li")).to_have_count(len(answer["findings"]))
    with page.expect_popup() as sheet:
        page.locator("#sheets button", has_text="Sheet to print").click()
    expect(sheet.value.locator("h1")).to_have_text(f"Recheck of opening {answer['mark']}")
    expect(page.locator("#decision .remedies li").first).to_have_text(f"{answer['remedies'][0]['text']} 40 min.")
    page.locator("#decision .findings button").first.click()
    expect(page.locator("#rule .rule")).to_have_count(1)


def test_a_house_opens_each_opening_and_leads_to_the_field_at_fault(watched: Watched) -> None:
    page = opened(watched, "small-house")
    fold = page.locator("#decision details.opening").first
    fold.locator("summary").first.focus()
    page.keyboard.press("Enter")
    fold.locator("[data-path='leaf.bottom']").click()
    expect(page.locator("#rule h3").first).to_be_visible()
    page.keyboard.press("Escape")
    page.locator("#decision .opening.fault button").click()
    assert cursor_line(page).strip() == '"height": "80 mm"'


def test_of_a_long_answer_only_what_is_looked_at_is_laid_out(watched: Watched) -> None:
    """Laying out the answer for 500 openings, 22 MB of text, held the page up for eleven seconds."""
    page = opened(watched, "small-house")
    assert shown_json(page) == next(s["response"] for s in SCENARIOS if s["scenario"] == "small-house")
    parts = page.locator("#json .part")
    assert parts.count() > 5
    page.locator("#json").evaluate(LAID_OUT)
    page.locator("#json").scroll_into_view_if_needed()
    page.wait_for_function("() => window.laidOut.has(0)")
    assert page.evaluate("() => window.laidOut.size") < 4
    page.locator("#json").evaluate("json => json.scrollTo(0, json.scrollHeight)")
    page.wait_for_function("last => window.laidOut.has(last)", arg=parts.count() - 1)
    reach = parts.evaluate_all("all => all.map(one => one.scrollWidth - one.clientWidth)")
    assert max(reach) == 0, "a part clips what is wider than itself"


# --- what if


def test_the_slider_redraws_by_keyboard_and_says_what_changed(watched: Watched) -> None:
    page = opened(watched)
    side = page.locator("[data-side=push_side]")
    expect(side.locator("output")).to_have_text("1/4 in")
    before = page.locator("#drawing").inner_html()
    asked = len([r for r in watched.requests if r.url.endswith(ADVICE)])
    side.locator("input").focus()
    for _ in range(3):
        page.keyboard.press("ArrowRight")
    expect(side.locator("output")).to_have_text("7/16 in")
    expect(number(page, "flooring.push_side.jamb_undercut")).to_contain_text("1/2 in")
    expect(side.locator("input")).to_be_focused()
    assert side.locator("input").get_attribute("aria-valuetext") == "7/16 in"
    expect(page.locator("#what-if-change")).to_contain_text("Jamb undercut, push side 1/2 in, was 5/16 in")
    answered(page)
    assert page.locator("#drawing").inner_html() != before
    assert json.loads(written_text(page))["push_side"]["build_up"] == [
        {"material": "vinyl_plank", "thickness": "7/16 in", "fixing": "floating"}
    ]
    asked = len([r for r in watched.requests if r.url.endswith(ADVICE)]) - asked
    assert asked <= 4, "three steps within the wait are one question and its drawing"
    for _ in range(3):
        page.keyboard.press("ArrowLeft")
    expect(page.locator("#what-if-change")).to_contain_text("No number differs from the request as picked or pasted.")


def written_text(page: Page) -> str:
    """The whole body, which the editor itself shows only in part."""
    text = page.locator("#snippet-TypeScript").text_content() or ""
    return text.partition("const body = ")[2].partition(";\nconst headers")[0]


def test_another_finish_is_asked_about_with_its_typical_thickness(watched: Watched) -> None:
    page = opened(watched)
    side = page.locator("[data-side=pull_side]")
    side.locator("select").select_option("ceramic_tile")
    expect(side.locator("output")).to_have_text("3/8 in")
    expect(page.locator("#what-if-change")).to_contain_text("Against the request as picked or pasted")
    answered(page)
    expect(page.locator("#snippet-TypeScript")).to_contain_text('"material": "ceramic_tile"')
    assert json.loads(written_text(page))["pull_side"]["build_up"][-1] == {
        "material": "ceramic_tile",
        "thickness": "3/8 in",
    }


@pytest.mark.parametrize(
    ("thickness", "grid", "shown", "after"),
    [
        ("6 mm", "1 mm", "6 mm", "7 mm"),
        ({"value": 0.25, "unit": "in"}, "1/16 in", "0.25 in", "5/16 in"),
        ('1/4"', "1/32 in", '1/4"', "9/32 in"),
        ("¼ in", "1/16 in", "¼ in", "5/16 in"),
        (None, "1/16 in", "about 1/4 in, typical", "5/16 in"),
    ],
)
def test_every_way_to_write_a_thickness_can_be_moved(
    thickness: Any, grid: str, shown: str, after: str, watched: Watched
) -> None:
    page = opened(watched)
    layer = {"material": "vinyl_plank"} | ({} if thickness is None else {"thickness": thickness})
    write(page, changed(grid=grid, push_side={"build_up": [layer]}))
    side = page.locator("[data-side=push_side]")
    expect(side.locator("output")).to_have_text(shown)
    answered(page)
    side.locator("input").focus()
    page.keyboard.press("ArrowRight")
    expect(side.locator("output")).to_have_text(after)
    expect(page.locator("#snippet-TypeScript")).to_contain_text(f'"thickness": "{after}"')


def test_a_leg_that_shows_is_told_in_words(watched: Watched) -> None:
    page = opened(watched, "plank-instead-of-carpet")
    page.locator("[data-side=pull_side] select").select_option("carpet_plush")
    expect(page.locator("#what-if-change")).not_to_contain_text("“bedroom 2”")
    expect(page.locator("#what-if-change")).to_contain_text("on the “upper hall” side: daylight shows.")


# --- calls and sheets


def test_the_copied_python_call_gives_the_answer_that_is_shown(watched: Watched) -> None:
    page = opened(watched)
    side = {**PLANK_REQUEST["pull_side"], "room": "Zoë's den"}
    write(page, changed(mark='D-7 "the owner\'s" \\ door', pull_side=side))
    expect(page.locator("#json")).to_contain_text("the owner's")
    answered(page)
    page.locator("#raw summary", has_text="Python").click()
    page.get_by_role("button", name="Copy the Python call").click()
    expect(page.locator("#announce")).to_have_text("Copied: the Python call.")
    snippet = page.evaluate("() => navigator.clipboard.readText()")
    ran = subprocess.run([sys.executable, "-c", snippet], capture_output=True, text=True, check=True, timeout=30)
    assert json.loads(ran.stdout) == shown_json(page)


def ran_by_bash(command: str, folder: Path) -> tuple[list[str], str]:
    """What a program called curl gets from a shell that runs this: its words, and its standard input."""
    program = folder / "curl"
    program.write_text('#!/bin/bash\nprintf "%s\\0" "$@"\ncat\n')
    program.chmod(0o755)
    path = f"{folder}:{os.environ['PATH']}"
    ran = subprocess.run(["bash"], input=command.encode(), capture_output=True, check=True, env={"PATH": path})
    *words, body = ran.stdout.decode().split("\0")
    return words, body


def test_the_curl_call_gives_a_shell_the_body_unharmed(watched: Watched, tmp_path: Path) -> None:
    page = opened(watched)
    write(page, changed(mark="O'Brien's $(D7) `x` \\"))
    expect(page.locator("#json")).to_contain_text("O'Brien's")
    answered(page)
    words, body = ran_by_bash(page.locator("#snippet-curl").text_content() or "", tmp_path)
    assert words[1] == f"{watched.origin}{ADVICE}"
    assert json.loads(body)["mark"] == "O'Brien's $(D7) `x` \\"
    assert {"Content-Type: application/json", "Accept: application/json", "Accept-Language: en"} <= set(words)


def test_the_curl_call_of_a_long_house_can_be_run(watched: Watched, tmp_path: Path) -> None:
    """A program's words may have no more than 128 KiB each (execve(2), Linux); a house of 500 openings has more."""
    page = opened(watched, "hall-line")
    text = json.dumps(next(s["request"] for s in SCENARIOS if s["scenario"] == "hall-line"), indent=400)
    assert len(text) > 128 * 1024
    write(page, text)
    answered(page)
    _, body = ran_by_bash(page.locator("#snippet-curl").text_content() or "", tmp_path)
    assert body == f"{text}\n"


def test_the_typescript_call_gives_the_answer_that_is_shown(watched: Watched) -> None:
    page = opened(watched)
    snippet = (page.locator("#snippet-TypeScript").text_content() or "").removesuffix("\nexport {};\n")
    with page.expect_console_message() as said:
        page.evaluate(f"(async () => {{ {snippet} }})()")
    assert json.loads(said.value.text) == shown_json(page)


# --- a service that asks for keys


@pytest.fixture(scope="module")
def keyed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Where a service answers that asks for the key "a-key"."""
    with served(tmp_path_factory.mktemp("keyed"), keys=entry_of("page", "a-key")) as service:
        yield f"http://127.0.0.1:{service.port}"


def give_key(page: Page, key: str) -> None:
    page.get_by_label("Key").fill(key)
    page.get_by_role("button", name="Use this key").click()


def test_where_a_key_is_asked_for_the_page_takes_one_and_goes_on(keyed: str, watched: Watched) -> None:
    watched.origin, page = keyed, watched.page
    page.goto(f"{keyed}/#{PLANK}")
    expect(page.locator("#status")).to_contain_text("asks for a key")
    found = Axe().run(page, options=AXE_OPTIONS).response["violations"]
    assert [violation["id"] for violation in found] == []
    give_key(page, "another")
    expect(page.locator("#status")).to_contain_text("isn't one of those this service knows")
    give_key(page, "a-key")
    answered(page)
    assert shown_json(page)["mark"] == PLANK_REQUEST["mark"]
    expect(page.get_by_label("Key")).to_be_hidden()
    assert page.evaluate(FOCUSED) == "answer"


def test_the_key_is_kept_nowhere_and_the_calls_take_it_from_the_environment(
    keyed: str, watched: Watched, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    watched.origin, page = keyed, watched.page
    page.goto(f"{keyed}/#{PLANK}")
    give_key(page, "a-key")
    answered(page)
    shown = page.content()
    assert "a-key" not in shown
    assert "Bearer ${process.env.KEY}" in shown
    words, _ = ran_by_bash("export KEY=a-key\n" + (page.locator("#snippet-curl").text_content() or ""), tmp_path)
    assert "Authorization: Bearer a-key" in words
    monkeypatch.setenv("KEY", "a-key")
    snippet = page.locator("#snippet-Python").text_content() or ""
    ran = subprocess.run([sys.executable, "-c", snippet], capture_output=True, text=True, check=True, timeout=30)
    assert json.loads(ran.stdout) == shown_json(page)
    page.goto("about:blank")
    page.go_back()
    expect(page.get_by_label("Key")).to_be_visible()
    assert page.evaluate("() => JSON.stringify([{ ...sessionStorage }, { ...localStorage }])").count("a-key") == 0


def test_copying_works_without_the_clipboard_api(watched: Watched) -> None:
    page = watched.page
    page.add_init_script("delete Navigator.prototype.clipboard")
    opened(watched)
    button = page.get_by_role("button", name="Copy the JSON answer")
    button.click()
    expect(page.locator("#announce")).to_have_text("Copied: the JSON answer.")
    expect(button).to_be_focused()
    page.select_option("#scenario", "")
    page.locator(".cm-content").focus()
    page.keyboard.press("Control+a")
    page.keyboard.press("Control+v")
    expect(page.locator("#faults-list button").first).to_contain_text("#/")
    put_cursor(page, line=0, column=0)
    expect(page.locator(".cm-line").nth(1)).to_contain_text(shown_json(page)["advice_id"])


@pytest.mark.parametrize(("scenario", "button"), [(PLANK, "Sheet to print"), ("hall-line", "Sheet to print")])
def test_a_sheet_opens_in_a_window_of_its_own(scenario: str, button: str, watched: Watched) -> None:
    page = opened(watched, scenario)
    with page.expect_popup() as window:
        page.get_by_role("button", name=button).click()
    sheet = window.value
    mark = "1-D05" if scenario == PLANK else "9-D03"
    expect(sheet.locator("body")).to_contain_text(mark)
    expect(page.locator("#sheet-status")).to_have_text("The sheet is open in a window of its own.")


@pytest.mark.parametrize("scenario", [PLANK, "hall-line", "swapped-phases"])
def test_where_the_browser_opens_no_window_the_pdf_is_saved(scenario: str, watched: Watched) -> None:
    page = watched.page
    page.add_init_script("window.open = () => null")
    opened(watched, scenario)
    with page.expect_download() as saved:
        page.get_by_role("button", name="PDF").click()
    assert saved.value.suggested_filename == "sheet.pdf"
    assert saved.value.path().read_bytes().startswith(b"%PDF-")
    expect(page.locator("#sheet-status")).to_have_text("The sheet is in your downloads.")


# --- what was written stays


def kept(page: Page, mark: str) -> None:
    """Wait until the page has come back with what was written in it."""
    expect(page.locator("#json")).to_contain_text(f'"mark": "{mark}"')
    answered(page)
    assert json.loads(written_text(page))["mark"] == mark


@pytest.mark.parametrize("scenario", [PLANK, ""])
def test_a_reload_keeps_what_was_written(scenario: str, watched: Watched) -> None:
    page = opened(watched)
    page.select_option("#scenario", scenario)
    put_cursor(page, line=1, column=len('  "mark": "'))
    page.keyboard.type("KEPT-")
    expect(page.locator("#json")).to_contain_text(mark := f"KEPT-{PLANK_REQUEST['mark']}")
    answered(page)
    page.reload()
    kept(page, mark)
    assert page.locator("#scenario").input_value() == scenario


def test_what_was_written_is_there_on_the_way_back(watched: Watched) -> None:
    page = opened(watched)
    write(page, changed(mark="D-BACK"))
    answered(page)
    page.get_by_role("link", name="Rules").first.click()
    page.wait_for_url("**/v1/rules")
    page.go_back()
    kept(page, "D-BACK")


def test_an_address_that_names_another_example_shows_that_one(watched: Watched) -> None:
    page = opened(watched)
    write(page, changed(mark="D-OLD"))
    answered(page)
    page.goto(f"{watched.origin}/openapi.json")
    opened(watched, "low-header")
    assert json.loads(written_text(page)) == next(s["request"] for s in SCENARIOS if s["scenario"] == "low-header")


def test_a_browser_without_storage_has_the_page_all_the_same(watched: Watched) -> None:
    watched.page.add_init_script(
        "Object.defineProperty(window, 'sessionStorage', { get() { throw new Error('no'); } })"
    )
    page = opened(watched)
    expect(page.locator("#story")).not_to_be_empty()
    assert watched.complaints == []


# --- languages


def test_the_language_can_be_switched_and_what_was_written_stays(watched: Watched) -> None:
    page = opened(watched)
    write(page, changed(mark="D-ES"))
    expect(page.locator("#json")).to_contain_text("D-ES")
    picked = page.locator("#scenario").input_value()
    page.get_by_role("link", name="Español").click()
    expect(page.locator("html")).to_have_attribute("lang", "es")
    expect(page.locator("#json")).to_contain_text("D-ES")
    answered(page)
    expect(page.locator("h1")).to_have_text("Coloque las jambas antes que los pisos")
    expect(page.locator("#verdict .verdict")).to_have_text("Adelante, recortando la hoja")
    assert page.locator("#scenario").input_value() == picked
    posts = [r for r in watched.requests if r.url.endswith(ADVICE)]
    assert posts[-1].headers["accept-language"] == "es"
    direct = urllib.request.Request(
        f"{watched.origin}{ADVICE}",
        data=changed(mark="D-ES").encode(),
        headers={"Content-Type": "application/json", "Accept-Language": "es"},
    )
    with urllib.request.urlopen(direct, timeout=10) as reply:
        assert shown_json(page) == json.load(reply)


def test_the_services_english_in_the_spanish_page_says_that_it_is_english(watched: Watched) -> None:
    """Problem details are in English whatever is asked for (WCAG 2.2, 3.1.2)."""
    page = opened(watched, language="es")
    write(page, changed(leaf={}))
    expect(page.locator("#faults-list [lang=en]").first).to_contain_text("is required here")
    expect(page.locator("#status [lang=en]")).to_contain_text("can't be accepted")
    page.locator("#faults-list button").first.click()
    page.keyboard.press("F8")
    expect(page.locator(".cm-diagnostic [lang=en]").first).to_contain_text("is required here")
    page.select_option("#scenario", "small-house")
    expect(page.locator(".opening.fault li [lang=en]")).to_contain_text("is not a plausible leaf height")


# --- keyboard, narrow windows, assistive technology


def test_the_page_is_walked_by_keyboard_alone(watched: Watched) -> None:
    page = opened(watched)
    page.keyboard.press("Tab")
    expect(page.locator(".skip").first).to_be_focused()
    page.keyboard.press("Enter")
    seen: list[str] = []
    while "json" not in seen and len(seen) < 80:
        page.keyboard.press("Tab")
        seen.append(page.evaluate(FOCUSED))
    order = ["scenario", "call", "cm-content cm-lineWrapping", "what-if-pull_side-finish"]
    order += ["what-if-push_side-thickness", "dimension of-leaf-bottom", "setting.foot", "snippet-curl", "json"]
    assert [stop for stop in seen if stop in order] == order


def test_a_long_room_name_and_mark_stay_within_a_narrow_window(watched: Watched) -> None:
    page = opened(watched)
    page.set_viewport_size({"width": 320, "height": 640})
    write(page, changed(mark="D" * 64, pull_side={**PLANK_REQUEST["pull_side"], "room": "W" * 80}))
    expect(page.locator("#json")).to_contain_text("W" * 80)
    answered(page)
    assert page.evaluate("() => document.documentElement.scrollWidth") == 320


@pytest.mark.parametrize("width", [320, 390])
@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("scenario", [PLANK, "swapped-phases"])
def test_the_drawing_is_whole_on_a_telephone_and_can_be_read(
    scenario: str, language: str, width: int, watched: Watched
) -> None:
    """A number whose end lies outside reads as another: "9/1" for 9/16 in. Nine pixels as on the sheets."""
    page = opened(watched, scenario, language=language)
    page.set_viewport_size({"width": width, "height": 800})
    texts: list[dict[str, float]] = page.locator("#drawing svg text").evaluate_all(
        """all => all.map((text) => {
          const { left, right, height } = text.getBoundingClientRect();
          return { left, right, height };
        })"""
    )
    assert len(texts) > 20
    assert [text for text in texts if text["left"] < 0 or text["right"] > width] == []
    assert min(text["height"] for text in texts) >= 9
    assert page.locator("#drawing").evaluate("drawing => drawing.scrollWidth - drawing.clientWidth") <= 0
    assert page.evaluate("() => document.documentElement.scrollWidth") == width


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_line_of_the_answer_breaks_within_a_quantity(language: str, watched: Watched) -> None:
    page = opened(watched, "low-header", language=language)
    whole = 0
    for width in range(320, 460, 10):
        page.set_viewport_size({"width": width, "height": 640})
        found = page.evaluate(BROKEN)
        assert found["broken"] == [], width
        whole += found["whole"]
    assert whole > 300


@pytest.mark.parametrize("language", ["en", "es"])
def test_axe_finds_nothing_serious(language: str, watched: Watched) -> None:
    page = opened(watched, language=language)
    found = {"page": serious(page)}
    number(page, "leaf.bottom").click()
    expect(page.locator("#rule .rule")).to_be_visible()
    found["rule panel"] = serious(page)
    page.keyboard.press("Escape")
    write(page, changed(mark="", leaf={}))
    expect(page.locator("#faults-list button").first).to_be_visible()
    found["faults"] = serious(page)
    assert found == {"page": [], "rule panel": [], "faults": []}


def serious(page: Page) -> list[str]:
    """What axe calls serious or critical in any size and scheme, with the first elements it means."""
    return [fault for size in SIZES for scheme in SCHEMES for fault in _serious(page, size, scheme)]


def _serious(page: Page, size: ViewportSize, scheme: Literal["light", "dark"]) -> Iterator[str]:
    page.set_viewport_size(size)
    page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
    assert page.evaluate("() => document.documentElement.scrollWidth") == size["width"]
    response = Axe().run(page, options=AXE_OPTIONS).response
    assert len(response["passes"]) > 10
    for violation in response["violations"]:
        if violation["impact"] in {"serious", "critical"}:
            where = [node["html"][:120] for node in violation["nodes"][:3]]
            yield f"{size['width']} {scheme} {violation['id']}: {where}"


def test_it_prints_the_answer_and_not_the_tools(watched: Watched) -> None:
    page = opened(watched)
    page.emulate_media(media="print")
    for printed in ("#verdict", "#drawing", "#numbers", "#details", ".intro .notice"):
        expect(page.locator(printed)).to_be_visible()
    for left_out in ("#request", "#what-if", "#raw", "header nav", "#sheets-part"):
        expect(page.locator(left_out).first).to_be_hidden()


def printed(page: Page) -> str:
    pages = pypdf.PdfReader(io.BytesIO(page.pdf(format="A4"))).pages
    return " ".join(" ".join(part.extract_text() for part in pages).split())


def test_what_was_assumed_is_printed_folded_or_not(watched: Watched) -> None:
    page = opened(watched)
    assumed = [assumption["text"] for assumption in shown_json(page)["assumptions"]]
    assert page.locator("details.assumptions").evaluate("fold => fold.open") is False
    paper = printed(page)
    assert assumed
    assert [text for text in assumed if text[:40] not in paper] == []


def test_an_answer_of_an_earlier_request_says_so_on_paper(watched: Watched) -> None:
    page = opened(watched)
    assert "belongs to the previous request" not in printed(page)
    write(page, changed(leaf={}))
    expect(page.locator("#answer")).to_have_class("stale")
    assert "What is shown belongs to the previous request." in printed(page)


def test_headings_labels_and_buttons_are_in_the_language_of_the_page(watched: Watched) -> None:
    page = opened(watched, language="es")
    words = json.loads(page.locator("#words").text_content() or "")
    labels = page.locator("h1, h2, h3, label, nav a:not([hreflang]), main button:not(.number)").all_text_contents()
    labels = [label for label in labels if label and not label.startswith("#/")]
    assert len(labels) > 20
    assert set(labels) <= set(words.values())
