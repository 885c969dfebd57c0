"""Reads docker/Dockerfile, so that what it says can be tested and carried out where no engine runs."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import NamedTuple

DOCKERFILE = Path(__file__).with_name("Dockerfile")


class Instruction(NamedTuple):
    """One instruction, its continued lines joined. flags: what stands before the rest as --name=value."""

    name: str
    flags: tuple[str, ...]
    text: str

    @property
    def words(self) -> list[str]:
        """The words of an exec form, else those between spaces."""
        return list(json.loads(self.text)) if self.text.startswith("[") else self.text.split()

    @property
    def pairs(self) -> dict[str, str]:
        """What an ENV or LABEL sets."""
        found = re.findall(r'([\w.]+)=(?:"([^"]*)"|(\S+))', self.text)
        return {key: quoted or plain for key, quoted, plain in found}


class Stage(NamedTuple):
    """One FROM and what follows it."""

    base: str
    name: str | None
    instructions: tuple[Instruction, ...]

    def all(self, name: str) -> list[Instruction]:
        """Its instructions of one name, in order."""
        return [each for each in self.instructions if each.name == name]

    def one(self, name: str) -> Instruction:
        """Its only instruction of a name. Raises ValueError where there is none or another."""
        (found,) = self.all(name)
        return found

    def pairs(self, name: str) -> dict[str, str]:
        """What all its ENV or LABEL instructions set."""
        return {key: value for each in self.all(name) for key, value in each.pairs.items()}


def instructions(text: str) -> list[Instruction]:
    """The instructions of a Dockerfile."""
    lines = (line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#"))
    joined = re.sub(r"\\\n\s*", "", "\n".join(lines))
    return [_instruction(line) for line in joined.splitlines()]


def _instruction(line: str) -> Instruction:
    name, _, rest = line.partition(" ")
    found = re.fullmatch(r"((?:--\S+\s+)*)(.*)", rest.strip(), re.DOTALL)
    flags, text = found.groups() if found else ("", rest)
    return Instruction(name.upper(), tuple(flags.split()), text)


def stages(path: Path = DOCKERFILE) -> list[Stage]:
    """The stages of a Dockerfile."""
    found: list[tuple[Instruction, list[Instruction]]] = []
    for each in instructions(path.read_text("utf-8")):
        if each.name == "FROM":
            found.append((each, []))
        elif found:
            found[-1][1].append(each)
    return [_stage(start, tuple(body)) for start, body in found]


def _stage(start: Instruction, body: tuple[Instruction, ...]) -> Stage:
    base, *name = re.split(r"\s+AS\s+", start.text, flags=re.IGNORECASE)
    return Stage(base, name[0] if name else None, body)


def health_command(stage: Stage) -> list[str]:
    """The words of a stage's HEALTHCHECK in exec form."""
    return list(json.loads(stage.one("HEALTHCHECK").text.removeprefix("CMD ")))
