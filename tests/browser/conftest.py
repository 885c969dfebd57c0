from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    Request,
    ViewportSize,
    expect,
    sync_playwright,
)
from tests.faults.served import served
from tests.programs import required

BROWSERS = ("chromium", "chromium-browser")
ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
PATIENCE_MS = 30_000
DESKTOP: ViewportSize = {"width": 1280, "height": 900}


class Watched:
    """A page, and what went on in it that a reader doesn't see."""

    def __init__(self, context: BrowserContext, origin: str) -> None:
        self.origin = origin
        self.page: Page = context.new_page()
        self.complaints: list[str] = []
        self.requests: list[Request] = []
        self.page.on("console", self._console)
        self.page.on("pageerror", lambda fault: self.complaints.append(str(fault)))
        self.page.on("request", self._request)

    def _request(self, request: Request) -> None:
        self.requests.append(request)

    def _console(self, message: ConsoleMessage) -> None:
        if message.type in {"error", "warning"}:
            self.complaints.append(message.text)

    def elsewhere(self) -> list[str]:
        """Addresses asked for that aren't this service's."""
        own = urlsplit(self.origin).netloc
        return [r.url for r in self.requests if urlsplit(r.url).netloc not in {own, ""}]


@pytest.fixture(scope="session")
def origin(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Where a service of its own answers, started for these tests."""
    with served(tmp_path_factory.mktemp("service")) as service:
        yield f"http://127.0.0.1:{service.port}"


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A browser; of one module alone, since its event loop would be in the way of other tests' own."""
    found = os.environ.get("CHROMIUM") or next(filter(None, map(shutil.which, BROWSERS)), None)
    program = required(found, f"no browser: neither CHROMIUM nor any of {', '.join(BROWSERS)} on PATH")
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=program, args=list(ARGUMENTS))
        yield launched
        launched.close()


@pytest.fixture(scope="module")
def context(browser: Browser) -> Iterator[BrowserContext]:
    """What the pages of all tests share: the cache of files, and leave to use the clipboard."""
    made = browser.new_context(locale="en-US", permissions=["clipboard-read", "clipboard-write"])
    made.set_default_timeout(PATIENCE_MS)
    expect.set_options(timeout=PATIENCE_MS)
    yield made
    made.close()


@pytest.fixture
def watched(context: BrowserContext, origin: str) -> Iterator[Watched]:
    """A fresh page; nothing in it may go elsewhere."""
    opened = Watched(context, origin)
    opened.page.set_viewport_size(DESKTOP)
    yield opened
    opened.page.close()
    assert opened.elsewhere() == []
