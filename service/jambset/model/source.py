"""Where a rule comes from, how strong it is and how well it was checked."""

from __future__ import annotations

from enum import StrEnum


class Force(StrEnum):
    """How binding a rule is, strongest first."""

    LAW = "law"
    STANDARD = "standard"
    PROGRAMME = "programme"
    PROJECT = "project"
    PRACTICE = "practice"
    PREFERENCE = "preference"


STRENGTH: dict[Force, int] = {force: place for place, force in enumerate(Force)}
"""Place of each force, 0 strongest."""

NEVER_RELAXED = frozenset({Force.LAW, Force.STANDARD, Force.PROGRAMME})
"""A bound of these forces that can't hold is a conflict for somebody to decide, never a compromise."""


class Verified(StrEnum):
    """How a rule's wording was checked: read at its issuer, read as quoted, remembered, or no source."""

    READ = "read"
    QUOTED = "quoted"
    MEMORY = "memory"
    NONE = "none"


class Asked(StrEnum):
    """Who can answer a question or decide a conflict."""

    SUPERINTENDENT = "superintendent"
    FLOORING_INSTALLER = "flooring_installer"
    DOOR_SUPPLIER = "door_supplier"
    FINISH_CARPENTER = "finish_carpenter"
    HVAC_CONTRACTOR = "hvac_contractor"
    FRAMER = "framer"
    ARCHITECT = "architect"
    AUTHORITY = "authority_having_jurisdiction"
    OWNER = "owner"
