"""GET /docs: the contract as a page to read and try, with script and style from this package alone."""

from __future__ import annotations

import pkgutil

from litestar.handlers import HTTPRouteHandler

from jambset.http.catalogue import constant
from jambset.http.negotiate import CSS, HTML, JAVASCRIPT
from jambset.http.pages import ASSET, page

ASSETS = {"swagger-ui-bundle.js": JAVASCRIPT, "docs.js": JAVASCRIPT, "swagger-ui.css": CSS, "docs.css": CSS}
"""Files served below /docs/assets with their media types."""

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""No script but our own files, nothing from elsewhere; inline style is what the reader draws with."""

HTML_PAGE = b"""<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>jambset: documentation of the API</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="/docs/assets/swagger-ui.css">
<link rel="stylesheet" href="/docs/assets/docs.css">
</head>
<body>
<div id="docs"></div>
<noscript><p>This page needs scripts; <a href="/openapi.json">the contract itself</a> doesn't.</p></noscript>
<script src="/docs/assets/swagger-ui-bundle.js"></script>
<script src="/docs/assets/docs.js"></script>
</body>
</html>
"""


def docs_calls() -> list[HTTPRouteHandler]:
    """The page and its files, read once from the package."""
    files = [constant(f"/docs/assets/{name}", page(asset(name), kind, cache=ASSET)) for name, kind in ASSETS.items()]
    headers = {"Content-Security-Policy": POLICY}
    return [constant("/docs", page(HTML_PAGE, HTML, headers=headers)), *files]


def asset(name: str) -> bytes:
    """A file of the package, by the import system."""
    data = pkgutil.get_data("jambset.http", f"assets/{name}")
    assert data is not None  # the loader of a package on disk always gives bytes
    return data
