"""Addresses of the calls that give advice, for the routes, the contract and the sandbox."""

from __future__ import annotations

from typing import Final

ADVICE: Final = "/v1/openings/advice"
BULK: Final = "/v1/openings/bulk"
RECHECK: Final = "/v1/openings/recheck"
HOUSE: Final = "/v1/houses/advice"
HOUSE_RECHECK: Final = "/v1/houses/recheck"
