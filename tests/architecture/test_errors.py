from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TypeVar

import pytest

from jambset import errors
from jambset.errors import Busy, CatalogueError, FieldError, JambsetError, QuantityError, RequestError

E = TypeVar("E", bound=JambsetError)


def _below(cls: type[E]) -> Iterator[type[E]]:
    for child in cls.__subclasses__():
        yield child
        yield from _below(child)


TREE = tuple(_below(JambsetError))
REQUEST_ERRORS = tuple(_below(RequestError))


@pytest.mark.parametrize("cls", REQUEST_ERRORS)
def test_each_request_error_has_a_problem_type_a_title_and_a_status_to_mend(
    cls: type[RequestError],
) -> None:
    assert re.fullmatch("[a-z]+(-[a-z]+)*", cls.slug)
    assert cls.slug != RequestError.slug
    assert cls.title != RequestError.title
    assert 400 <= cls.status < 500 or cls is Busy


def test_no_two_errors_share_a_problem_type_unless_one_is_the_other() -> None:
    named = {cls for cls in REQUEST_ERRORS if "slug" in vars(cls)}
    assert len({cls.slug for cls in named}) == len(named)
    assert {cls for cls in REQUEST_ERRORS if cls not in named} == {QuantityError}


@pytest.mark.parametrize("cls", TREE)
def test_the_module_draws_each_error_with_its_status(cls: type[JambsetError]) -> None:
    line = next((line for line in (errors.__doc__ or "").splitlines() if f" {cls.__name__} " in line), "")
    assert line, f"{cls.__name__} isn't drawn"
    if issubclass(cls, RequestError) and cls is not RequestError:
        assert str(cls.status) in line


@pytest.mark.parametrize("cls", [cls for cls in REQUEST_ERRORS if cls is not QuantityError])
def test_each_request_error_carries_the_path_of_every_field(cls: type[RequestError]) -> None:
    wrong = (FieldError("#/leaf/height", "implausible", "80 mm is not a plausible leaf height."),)
    assert cls("Mend it.", wrong).errors == wrong


def test_a_quantity_error_points_at_itself_until_its_field_is_known() -> None:
    assert QuantityError("unreadable", "Write a unit.").errors == (FieldError("#", "unreadable", "Write a unit."),)


def test_a_catalogue_error_names_file_and_row() -> None:
    assert (
        str(CatalogueError(file="us/fire.toml", row="fire-gap", detail="no source"))
        == "us/fire.toml, fire-gap: no source"
    )
