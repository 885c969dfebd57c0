"""Which language a caller reads (RFC 9110 section 12.5.4)."""

from __future__ import annotations

from functools import lru_cache

from jambset.http.negotiate import weighted
from jambset.render.language import LANGUAGES

DEFAULT = next(iter(LANGUAGES))


@lru_cache(maxsize=512)
def choose_language(accept_language: str | None) -> str:
    """Code of the language a caller prefers among those there are; the default where none of them is asked for.

    accept_language: the header, None where there is none. A range covers a language that begins with it or that it
    begins with ("es-MX" is answered in "es"); a part that can't be read asks for nothing.
    >>> choose_language("es-MX, en;q=0.5"), choose_language("fr"), choose_language("de, es;q=0")
    ('es', 'en', 'en')
    """
    asked = [(name.lower(), quality) for name, quality in weighted(accept_language or "")]
    best = max(LANGUAGES, key=lambda code: _liking(code, asked))
    return best if _liking(best, asked) > 0 else DEFAULT


def _liking(code: str, asked: list[tuple[str, float]]) -> float:
    """The quality a caller gives a language: the highest of the ranges that name it, else that of `*`."""
    named = [quality for name, quality in asked if name.partition("-")[0] == code]
    return max(named) if named else next((quality for name, quality in asked if name == "*"), 0.0)
