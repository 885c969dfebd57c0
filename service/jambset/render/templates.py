"""The template engine; it escapes everything that is put into a template."""

from __future__ import annotations

from functools import lru_cache

from jinja2 import Environment, PackageLoader, StrictUndefined, Template

from jambset.render.joined import joined

FOLDER = "assets"


@lru_cache(maxsize=1)
def _environment() -> Environment:
    made = Environment(
        loader=PackageLoader("jambset.render", FOLDER),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.filters["joined"] = joined
    return made


def template(name: str) -> Template:
    """A template of the package by its file name. Raises TemplateNotFound."""
    return _environment().get_template(name)
