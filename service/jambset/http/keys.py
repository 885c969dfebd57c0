"""Bearer keys: who calls. A key is long and random, so its plain SHA-256 can't be guessed from; only that is kept."""

from __future__ import annotations

import errno
import hashlib
import hmac
import os
import re
import secrets
import stat
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

from jambset.http.rate import SECOND, Clock
from jambset.http.settings import Settings, SettingsError

CHECK = SECOND
"""How often the file is looked at, at most [ns]."""
KEY_BYTES = 32
"""Randomness in a new key [bytes]."""
NAME = re.compile(r"[A-Za-z0-9._-]{1,64}")
"""A key's name: it goes into the log as it is."""

_ENTRY = re.compile(rf"({NAME.pattern})[ \t]+([0-9A-Fa-f]{{64}})")
_MEND = "write a name and the key's SHA-256 in 64 hexadecimal digits, as jambset key NAME prints them"

Stamp = tuple[int, ...] | None
"""What changes when a file does; None where the file can't be seen."""


class Key(NamedTuple):
    """One key: what it is called, and its digest."""

    name: str
    digest: bytes


def new_key() -> str:
    """A new key, to be given to one caller."""
    return secrets.token_urlsafe(KEY_BYTES)


def entry_of(name: str, key: str) -> str:
    """The line of a key for the file.

    >>> entry_of("ci", "abc")
    'ci ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'
    """
    return f"{name} {_digest(key.encode()).hex()}"


def read_entries(texts: Iterable[str], *, where: str) -> Iterator[Key]:
    """The keys of an operator's entries; # begins a comment. A name may stand twice, while its key is changed.

    where: what an entry is called, its number goes after it. Raises SettingsError, with nothing of the entry in it.
    """
    for number, text in enumerate(texts, 1):
        if entry := text.partition("#")[0].strip():
            if (match := _ENTRY.fullmatch(entry)) is None:
                raise SettingsError(f"{where} {number}: {_MEND}")
            yield Key(match[1], bytes.fromhex(match[2]))


def require_keys(settings: Settings) -> tuple[Key, ...]:
    """The keys an operator set, for a service that asks for them. Raises SettingsError where there is none."""
    found = (*_set_keys(settings), *(_file_keys(Path(settings.keys_file)) if settings.keys_file else ()))
    if not found:
        raise SettingsError(
            f"No key is set, and callers at {settings.host} need one: set JAMBSET_KEYS_FILE or JAMBSET_KEYS to what "
            "jambset key NAME prints, or JAMBSET_AUTH=off if anybody who reaches this address may call"
        )
    return found


class Keys:
    """The keys in use: those of the environment and those of a file, which is read again when it changed.

    Raises SettingsError where there is no key or one can't be read.
    """

    def __init__(self, settings: Settings, *, log: Any, clock: Clock) -> None:
        self._log, self._clock = log, clock
        self._path = Path(settings.keys_file) if settings.keys_file else None
        self._stamp = _stamp(self._path)  # before it is read: a change meanwhile is seen at the next look
        self._settings, self._keys = settings, require_keys(settings)
        self._look_at = clock() + CHECK

    def name_of(self, given: bytes) -> str | None:
        """What the key is called that was given, None when it isn't one of ours."""
        self._look()
        digest, found = _digest(given), None
        for key in self._keys:  # all of them, so that the time taken doesn't say which one it was
            if hmac.compare_digest(key.digest, digest):
                found = key.name
        return found

    def _look(self) -> None:
        """Read the file again when it changed. One that can't be read changes nothing, and is told once."""
        now = self._clock()
        if self._path is None or now < self._look_at:
            return
        self._look_at = now + CHECK
        if (stamp := _stamp(self._path)) == self._stamp:
            return
        self._stamp = stamp
        try:
            self._keys = (*_set_keys(self._settings), *_file_keys(self._path))
        except SettingsError as fault:
            self._log.error("keys", detail=f"{fault}; the keys read before stay in use")


def _set_keys(settings: Settings) -> Iterator[Key]:
    return read_entries(settings.keys.split(";"), where="JAMBSET_KEYS, entry")


def _file_keys(path: Path) -> tuple[Key, ...]:
    try:
        text = _text_of(path)
    except OSError as fault:
        raise SettingsError(f"JAMBSET_KEYS_FILE, {path.name}: can't be read ({fault.strerror})") from None
    return tuple(read_entries(text.splitlines(), where=f"JAMBSET_KEYS_FILE, {path.name}, line"))


def _text_of(path: Path) -> str:
    """The text of a regular file. Raises OSError for any other: who reads a pipe waits for somebody to write."""
    with open(path, "rb", opener=_open_at_once) as file:
        if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
            raise OSError(errno.EINVAL, "it isn't a regular file")
        return file.read().decode("utf-8", "replace")


def _open_at_once(path: str, flags: int) -> int:
    """Open without waiting, as for a pipe that nobody writes to."""
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))


def _stamp(path: Path | None) -> Stamp:
    """The change time is in it, since permission to read a file leaves no other trace."""
    try:
        seen = path.stat() if path else None
    except OSError:
        return None
    return (seen.st_mtime_ns, seen.st_ctime_ns, seen.st_size, seen.st_ino) if seen else None


def _digest(key: bytes) -> bytes:
    return hashlib.sha256(key).digest()
