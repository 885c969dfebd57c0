"""The names that a request may use, each with the other words by which a refused one finds it.

Made once for each catalogue; the rim and the engine refuse by the same, so that one name is told one thing.
"""

from __future__ import annotations

from functools import lru_cache
from typing import get_args

import msgspec

from jambset.errors import Known
from jambset.quantity.grid import GRIDS
from jambset.rules.schema import Catalogue, Codes

FINISHES = "GET /v1/finishes"
"""Where materials and pieces are listed."""
GRID_NAMES = Known(GRIDS)


@lru_cache(maxsize=8)
def places(catalogue: Catalogue) -> Known:
    """Codes of places."""
    rows = catalogue.jurisdictions
    return Known(rows, also={code: row.also_called for code, row in rows.items()})


@lru_cache(maxsize=8)
def versions(catalogue: Catalogue) -> Known:
    """Versions of the catalogue."""
    return Known([catalogue.version])


@lru_cache(maxsize=8)
def materials(catalogue: Catalogue) -> Known:
    """Ids of layers."""
    rows = catalogue.materials
    return Known(rows, also={name: row.also_called for name, row in rows.items()}, listed=FINISHES)


@lru_cache(maxsize=8)
def pieces(catalogue: Catalogue) -> Known:
    """Ids of transition pieces."""
    rows = {row.id: row for row in catalogue.pieces}
    return Known(rows, also={name: row.also_called for name, row in rows.items()}, listed=FINISHES)


@lru_cache(maxsize=8)
def codes(catalogue: Catalogue) -> dict[str, Known]:
    """Codes of a request by the name of their enum."""
    enums = {field.name: get_args(field.type)[0] for field in msgspec.structs.fields(Codes)}
    return {enum.__name__: Known(enum, also=getattr(catalogue.codes, name)) for name, enum in enums.items()}
