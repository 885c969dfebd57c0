"""Keeps quantities whole: a line that breaks within "1 9/16 in" leaves "9/16 in" at the start of the next."""

from __future__ import annotations

import re

JOINED = "\N{NO-BREAK SPACE}"
_SPACED = re.compile(r"(?<=[0-9]) (?=[0-9]|(?:in|mm|cfm|L/s|m3/h|Pa)\b)")
"""The spaces within a quantity, as in "1 1/2 in"."""


def joined(text: str) -> str:
    r"""A text in which no line breaks within a quantity.

    >>> joined("Cut 1 9/16 in off"), joined("2 blocks")
    ('Cut 1\xa09/16\xa0in off', '2 blocks')
    """
    return _SPACED.sub(JOINED, text)
