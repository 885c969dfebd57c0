"""From the JSON of one opening to the JSON of its advice: what the service, the command line and the sandbox share."""

from __future__ import annotations

from collections.abc import Callable

from jambset.engine.assess import assess
from jambset.engine.facts import grid_of
from jambset.http.decode import opening_reader
from jambset.render.encode import encoder
from jambset.rules.schema import Catalogue


def adviser(catalogue: Catalogue) -> Callable[[bytes], bytes]:
    """Gives advice on the body of a request, by the rules of a catalogue; what it gives raises RequestError."""
    read = opening_reader(catalogue).read

    def advise(body: bytes) -> bytes:
        opening = read(body)
        advice = assess(opening, catalogue)
        return encoder(grid_of(opening, catalogue)).encode(advice)

    return advise
