"""What an operator may set. Made from environment variables by the composition root, a value everywhere else."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from ipaddress import ip_address
from typing import Annotated, Any

import msgspec
from msgspec import Meta

PREFIX = "JAMBSET_"
_PATHS = ("rules", "keys_file")

# In patterns \Z is the end: in Python a dollar sign also stands before a last line break.
_HOST = r"(\*\.)?[A-Za-z0-9._-]+|\[[0-9A-Fa-f:.]+\]"
_ORIGIN = r"https?://([A-Za-z0-9._-]+|\[[0-9A-Fa-f:.]+\])(:[0-9]+)?"


class SettingsError(ValueError):
    """A setting that can't be used; names the environment variable."""


def listed(item: str) -> str:
    """The pattern of a list with commas between its items. item: the pattern of one."""
    return rf"^(({item})( *, *({item}))*)?\Z"


def items(text: str) -> tuple[str, ...]:
    """The items of such a list, in small letters.

    >>> items("A.example, *.b.example")
    ('a.example', '*.b.example')
    """
    return tuple(item.strip().lower() for item in text.split(",") if item)


class Settings(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Settings of one server process; each is read from JAMBSET_ and its name in capitals."""

    host: Annotated[str, Meta(min_length=1, max_length=255)] = "127.0.0.1"
    port: Annotated[int, Meta(ge=0, le=65_535)] = 8080
    workers: Annotated[int, Meta(ge=1, le=64)] = 1
    max_body_bytes: Annotated[int, Meta(ge=1_024, le=16_777_216)] = 65_536
    """Longest body of a call on one opening [bytes]; a longer one is answered with 413."""
    max_house_bytes: Annotated[int, Meta(ge=1_024, le=67_108_864)] = 4_194_304
    """Longest body of a call on a house [bytes]."""
    max_house_pairs: Annotated[int, Meta(ge=1, le=1_000_000)] = 10_000
    """Most pairs of floors that the openings of a house may come to, those of each counted by themselves; more are
    answered with 422."""
    max_bulk_bytes: Annotated[int, Meta(ge=1_024, le=1_099_511_627_776)] = 1_073_741_824
    """Longest body of a stream of openings, once opened [bytes]; max_body_bytes holds for each of its lines."""
    max_bulk_lines: Annotated[int, Meta(ge=1, le=1_000_000_000)] = 1_000_000
    """Most lines of a stream."""
    max_held_bytes: Annotated[int, Meta(ge=1_024, le=1_099_511_627_776)] = 134_217_728
    """Bodies on one opening, and as much of houses, that one process holds at one time, read, waiting or worked on
    [bytes]; what comes beyond is answered with 503. No less than the longest body of either."""
    bulk_streams: Annotated[int, Meta(ge=0, le=1_000)] = 4
    """Streams that one process answers at one time; one more is answered with 503. 0 for none at all."""
    problem_base: Annotated[str, Meta(max_length=200, pattern=r"^(https?://[^\s?#]+[^\s?#/])?\Z")] = ""
    """What stands before /problems/{slug} in a problem's type; empty for a reference relative to this service."""
    rules: Annotated[str, Meta(max_length=4_096)] = ""
    """Folder of another rule catalogue; empty for the one in the package."""
    auth: Annotated[str, Meta(pattern=r"^(auto|on|off)\Z")] = "auto"
    """Whether callers need a key: auto asks for one unless the host is a loopback address and no keys are set."""
    keys: Annotated[str, Meta(max_length=1_000_000)] = ""
    """Keys that may call: a name and the key's SHA-256 in hexadecimal for each, one from the other by a semicolon."""
    keys_file: Annotated[str, Meta(max_length=4_096)] = ""
    """File of such keys, one a line; read again when it changes, without a restart."""
    rate: Annotated[str, Meta(pattern=r"^([1-9][0-9]{0,6}/[1-9][0-9]{0,4})?\Z")] = ""
    """Requests of one caller in so many seconds, as 60/60, in each server process; empty for no limit."""
    allowed_hosts: Annotated[str, Meta(max_length=4_096, pattern=listed(_HOST))] = ""
    """Names this service is called by, without ports, *.example for any below it; empty for any name."""
    cors_origins: Annotated[str, Meta(max_length=4_096, pattern=listed(_ORIGIN))] = ""
    """Origins whose pages may call from a browser, in full; empty for none."""
    metrics_port: Annotated[int, Meta(ge=0, le=65_535)] = 0
    """Port on which jambset serve answers /metrics, and there alone; 0 for the same port as everything else."""
    max_header_bytes: Annotated[int, Meta(ge=1_024, le=1_048_576)] = 16_384
    """Longest target and header section together [bytes]; longer headers are answered with 431, a longer target with
    414."""
    max_header_fields: Annotated[int, Meta(ge=16, le=10_000)] = 100
    """Most fields of a header section; more are answered with 431. Each takes twenty times the bytes that the shortest
    are sent in, before a key is seen."""
    body_seconds: Annotated[int, Meta(ge=1, le=3_600)] = 30
    """How long a body, or the next part of a stream, may take to arrive [s], then comes 408; and how long a part of a
    stream's answer may take to be taken, then the connection ends."""
    max_connections: Annotated[int, Meta(ge=1, le=1_000_000)] = 10_000
    """Connections that one process holds at one time, or as many as it may open files; one more ends the one that has
    been idle longest, or is answered with 503 where all are busy."""
    drain_seconds: Annotated[int, Meta(ge=1, le=3_600)] = 30
    """How long what is under way may take once the service is told to stop [s], then its connections end. A stream is
    told a fifth of this before, in a line."""

    @property
    def needs_key(self) -> bool:
        """Whether callers need a key; nothing but off, or auto at a loopback address, says that they don't."""
        named = bool(self.keys or self.keys_file)
        return self.auth != "off" and (self.auth != "auto" or named or not _is_loopback(self.host))

    @classmethod
    def from_env(cls, env: Mapping[str, str]) -> Settings:
        """Settings from environment variables; others are left alone, but those whose name is nearly one of ours.

        Raises SettingsError naming the variable.
        >>> Settings.from_env({"JAMBSET_PORT": "9000", "HOME": "/"}).port
        9000
        """
        _refuse_misspelt(env, [name.upper() for name in cls.__struct_fields__])
        given = {name: env[PREFIX + name.upper()] for name in cls.__struct_fields__ if PREFIX + name.upper() in env}
        for name, text in given.items():
            _refuse_bytes(name, text)
            _convert(cls, {name: text}, variable=PREFIX + name.upper())
        found = _convert(cls, given, variable=PREFIX)
        if found.metrics_port and found.metrics_port == found.port:
            raise SettingsError(f"{PREFIX}METRICS_PORT: {found.port} is the port of everything else; name another or 0")
        longest = max(found.max_body_bytes, found.max_house_bytes)
        if found.max_held_bytes < longest:
            raise SettingsError(f"{PREFIX}MAX_HELD_BYTES: a body may have {longest} bytes alone; allow as many or more")
        return found


def _refuse_misspelt(env: Mapping[str, str], known: Sequence[str]) -> None:
    """A limit or a list of hosts with a misspelt name would be off without a word.

    Names with SERVICE_ are those that Kubernetes gives its links.
    """
    ours = (name.removeprefix(PREFIX) for name in env if name.startswith(PREFIX) and f"{PREFIX}SERVICE_" not in name)
    for name in ours:
        if name not in known and (meant := get_close_matches(name, known, n=1, cutoff=0.7)):
            raise SettingsError(f"{PREFIX}{name}: there is no such setting. Did you mean {PREFIX}{meant[0]}?")


def _refuse_bytes(name: str, text: str) -> None:
    """Bytes that aren't UTF-8 come as surrogates (PEP 383). Files may be named so, nothing else."""
    if name not in _PATHS and any("\ud800" <= letter <= "\udfff" for letter in text):
        raise SettingsError(f"{PREFIX}{name.upper()}: must be text in UTF-8")


def _convert(cls: type[Settings], given: dict[str, Any], *, variable: str) -> Settings:
    try:
        return msgspec.convert(given, cls, strict=False)
    except msgspec.ValidationError as refusal:
        hint = "; a Kubernetes Service of this name sets it: turn enableServiceLinks off" if _linked(given) else ""
        message = f"{variable}: {str(refusal).partition(' - at ')[0]}{hint}"
        raise SettingsError(message) from None


def _linked(given: dict[str, Any]) -> bool:
    return any(str(text).startswith("tcp://") for text in given.values())


def _is_loopback(host: str) -> bool:
    """Whether an address is reached from this machine alone; of a name other than localhost that isn't known."""
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host.lower() == "localhost"
