"""GET /: the service's index, and for a browser the sandbox page in the caller's language. All is made at start."""

from __future__ import annotations

from jinja2 import Environment, StrictUndefined
from litestar import route
from litestar.handlers import HTTPRouteHandler

from jambset.http.catalogue import constant
from jambset.http.docs import asset
from jambset.http.fields import fields, text
from jambset.http.languages import choose_language
from jambset.http.negotiate import CSS, HTML, JAVASCRIPT, TEXT
from jambset.http.pages import ASSET, READ, Answer, Call, Page, page, read_query, send
from jambset.render.language import LANGUAGES
from jambset.render.page_words import PAGE

LANG = "lang"
"""The query parameter that chooses the page's language."""

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""No script but our own files, nothing from elsewhere; inline style is what the editor and the drawing have."""

BUNDLE = "editor.js"
"""The one script that isn't ours: the editor, of a fixed version."""
SCRIPTS = (
    "answer.js",
    "copying.js",
    "dom.js",
    "drawing.js",
    "editor_help.js",
    "json_places.js",
    "lengths.js",
    "numbers.js",
    "page.js",
    "payload_editor.js",
    "rule_panel.js",
    "schema_help.js",
    "service.js",
    "sheets.js",
    "snippets.js",
    "what_if.js",
    "words.js",
)
ASSETS = {**dict.fromkeys((*SCRIPTS, BUNDLE), JAVASCRIPT), "page.css": CSS, f"{BUNDLE}.LICENSE.txt": TEXT}
"""Files served below /page/assets with their media types."""


def page_calls(index: Page) -> list[HTTPRouteHandler]:
    """The start of the service and the files of its page, read once from the package. index: the start as JSON."""
    return [_start(index), *(_asset(name, kind) for name, kind in ASSETS.items())]


def _start(index: Page) -> HTTPRouteHandler:
    query = {LANG: tuple(LANGUAGES)}
    pages = {code: html_page(code) for code in LANGUAGES}

    @route("/", http_method=READ, query=query)
    async def get(request: Call) -> Answer:
        wanted = read_query(request.scope["query_string"], query).get(LANG)
        liked = text(fields(request.scope["headers"]), b"accept-language")
        return send(request, index, pages[wanted or choose_language(liked)])

    return get


def _asset(name: str, kind: str) -> HTTPRouteHandler:
    """Our own files are revalidated soon, so that those of two releases are never mixed for long."""
    content = asset(f"page/{name}")
    served = page(content, kind, cache=ASSET) if name.startswith(BUNDLE) else page(content, kind)
    return constant(f"/page/assets/{name}", served)


def html_page(language: str) -> Page:
    """The page in a language. language: its code. Raises KeyError for one there are no words in."""
    words = words_in(language)
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    template = environment.from_string(asset("page/page.html.j2").decode())
    names = {code: one.name for code, one in LANGUAGES.items()}
    text = template.render(language=language, languages=names, words=words, say=lambda code: words[f"page.{code}"])
    headers = {
        "Content-Security-Policy": POLICY,
        "Content-Language": language,
        "Vary": "Accept, Accept-Language",
    }
    return page(text.encode(), HTML, headers=headers)


def words_in(language: str) -> dict[str, str]:
    """The page's words by code, in a language."""
    sentences = LANGUAGES[language].sentences
    return {code: sentences[code] for code in PAGE}
