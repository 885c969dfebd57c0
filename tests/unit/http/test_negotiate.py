from __future__ import annotations

import pytest

from jambset.errors import NotAcceptable, WrongMediaType
from jambset.http.negotiate import choose, require_json

OFFERS = ("application/json", "text/html", "image/svg+xml")


@pytest.mark.parametrize(
    ("accept", "chosen"),
    [
        (None, "application/json"),
        ("", "application/json"),
        ("*/*", "application/json"),
        ("text/html", "text/html"),
        ("TEXT/HTML", "text/html"),
        ("text/*", "text/html"),
        ("image/*, text/*;q=0.9", "image/svg+xml"),
        ("text/html;q=0.1, */*;q=0.2", "application/json"),
        ("application/json;q=0.2, text/html;q=0.3", "text/html"),
        ("text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", "text/html"),
        ("*/*, application/json;q=0", "text/html"),
        ("application/*;q=0.5, application/json;q=0.1, text/html;q=0.3", "text/html"),
        ("text/html ; q=0.5 , application/json ; q=0.4", "text/html"),
        ("application/json;charset=utf-8", "application/json"),
        ("nonsense, text/html;q=0.001", "text/html"),
    ],
)
def test_the_most_welcome_offer_wins_and_the_most_exact_range_speaks_for_it(accept: str | None, chosen: str) -> None:
    assert choose(accept, OFFERS) == chosen


@pytest.mark.parametrize(
    "accept",
    [
        "application/pdf",
        "text/html;q=0",
        "nonsense",
        "*/json",
        "text/html;q=2",
        "text/html;q=-1",
        "text/html;q=x",
        ";",
        ",",
    ],
)
def test_no_welcome_offer_is_refused_with_the_list_of_offers(accept: str) -> None:
    with pytest.raises(NotAcceptable, match="application/json, text/html, image/svg"):
        choose(accept, OFFERS)


@pytest.mark.parametrize(
    ("content_type", "encoding"),
    [
        ("application/json", None),
        ("application/json; charset=utf-8", None),
        ('Application/JSON;Charset="UTF-8"', "identity"),
        ("application/json;", "Identity"),
    ],
)
def test_json_in_utf8_passes(content_type: str, encoding: str | None) -> None:
    require_json(content_type, encoding)


@pytest.mark.parametrize(
    ("content_type", "encoding", "words"),
    [
        (None, None, "must be application/json"),
        ("", None, "must be application/json"),
        ("text/plain", None, '"text/plain"'),
        ("application/problem+json", None, "problem"),
        ("application/json; charset=latin-1", None, "latin-1"),
        ("application/json; charset=utf-8; x=1", None, "x=1"),
        ("application/x-www-form-urlencoded", None, "urlencoded"),
        ("application/json", "gzip", '"gzip"'),
        ("tëxt/" + "x" * 99, None, "t?xt/xxx"),
    ],
)
def test_anything_else_is_refused(content_type: str | None, encoding: str | None, words: str) -> None:
    with pytest.raises(WrongMediaType) as refusal:
        require_json(content_type, encoding)
    assert words in refusal.value.detail
    assert len(refusal.value.detail) < 160
