"""What an operator may set. Made from environment variables by the composition root, a value everywhere else."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

import msgspec
from msgspec import Meta

PREFIX = "JAMBSET_"


class SettingsError(ValueError):
    """A setting that can't be used; names the environment variable."""


class Settings(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Settings of one server process; each is read from JAMBSET_ and its name in capitals."""

    host: Annotated[str, Meta(min_length=1, max_length=255)] = "127.0.0.1"
    port: Annotated[int, Meta(ge=0, le=65_535)] = 8080
    workers: Annotated[int, Meta(ge=1, le=64)] = 1
    max_body_bytes: Annotated[int, Meta(ge=1_024, le=16_777_216)] = 65_536
    """Longest body of a call on one opening [bytes]; a longer one is answered with 413."""
    max_house_bytes: Annotated[int, Meta(ge=1_024, le=67_108_864)] = 4_194_304
    """Longest body of a call on a house [bytes]."""
    problem_base: Annotated[str, Meta(max_length=200, pattern=r"^(https?://[^\s?#]+[^\s?#/])?$")] = ""
    """What stands before /problems/{slug} in a problem's type; empty for a reference relative to this service."""
    rules: Annotated[str, Meta(max_length=4_096)] = ""
    """Folder of another rule catalogue; empty for the one in the package."""

    @classmethod
    def from_env(cls, env: Mapping[str, str]) -> Settings:
        """Settings from environment variables; other variables are left alone.

        Raises SettingsError naming the variable.
        >>> Settings.from_env({"JAMBSET_PORT": "9000", "HOME": "/"}).port
        9000
        """
        given = {name: env[PREFIX + name.upper()] for name in cls.__struct_fields__ if PREFIX + name.upper() in env}
        for name, text in given.items():
            _convert(cls, {name: text}, variable=PREFIX + name.upper())
        return _convert(cls, given, variable=PREFIX)


def _convert(cls: type[Settings], given: dict[str, Any], *, variable: str) -> Settings:
    try:
        return msgspec.convert(given, cls, strict=False)
    except msgspec.ValidationError as refusal:
        hint = "; a Kubernetes Service of this name sets it: turn enableServiceLinks off" if _linked(given) else ""
        message = f"{variable}: {str(refusal).partition(' - at ')[0]}{hint}"
        raise SettingsError(message) from None


def _linked(given: dict[str, Any]) -> bool:
    return any(str(text).startswith("tcp://") for text in given.values())
