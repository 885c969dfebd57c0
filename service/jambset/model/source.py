"""Where a rule comes from, how strong it is and how well it was checked."""

from __future__ import annotations

from enum import StrEnum


class Force(StrEnum):
    """How binding a rule is, strongest first."""

    LAW = "law"
    """Law, or a regulation with the force of law."""
    STANDARD = "standard"
    """A model code, a standard, or guidance on how a law is met."""
    PROGRAMME = "programme"
    """The requirement of a programme in which the project takes part."""
    PROJECT = "project"
    """The caller's own value, sent as project_rules."""
    PRACTICE = "practice"
    """What the trade accepts."""
    PREFERENCE = "preference"
    """A wish, given up first."""


STRENGTH: dict[Force, int] = {force: place for place, force in enumerate(Force)}
"""Place of each force, 0 strongest."""

NEVER_RELAXED = frozenset({Force.LAW, Force.STANDARD, Force.PROGRAMME})
"""A bound of these forces that can't hold is a conflict for somebody to decide, never a compromise."""


class Verified(StrEnum):
    """How a rule's wording was checked: read at its issuer, read as quoted, remembered, or no source."""

    READ = "read"
    """Read at its issuer."""
    QUOTED = "quoted"
    """Read where somebody else quotes it."""
    MEMORY = "memory"
    """Remembered, not looked up."""
    NONE = "none"
    """There is no published source."""


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
