"""The documentation in a browser: what our own style and script mend of the reader's."""

from __future__ import annotations

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect
from tests.browser.conftest import Watched

MENDED = {
    "color-contrast": {"enabled": True},
    "select-name": {"enabled": True},
    "target-size": {"enabled": True},
}
"""Rules of axe for WCAG 2.2, 1.4.3, 4.1.2 and 2.5.8; others are missed by the reader's own markup."""

ALIKE = {"exclude": [[".response[data-code='200'] .highlight-code"]]}
"""An answer of four thousand parts, in the colours of the shorter ones."""


def test_the_documentation_can_be_read_and_its_choices_have_names(watched: Watched) -> None:
    page = watched.page
    page.goto(f"{watched.origin}/docs")
    for place in (0, -1):  # one with a body and examples, and one with parameters
        page.locator(".opblock-summary-control").nth(place).click()
    expect(page.locator(".opblock-body .responses-table")).to_have_count(2)
    expect(page.locator(".examples-select-element").first).to_be_visible()
    found = Axe().run(page, ALIKE, options={"runOnly": list(MENDED), "rules": MENDED}).response
    assert len(found["passes"]) == len(MENDED)
    assert [(one["id"], one["nodes"][0]["html"][:120]) for one in found["violations"]] == []
    assert watched.complaints == []
