"""Reads JSON into typed rows; what is wrong in a row is listed with its path, and that row is left out."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

import msgspec

from washline.problem import UserError

T = TypeVar("T")

NEWER_REMEDY = "Open it with a newer Washline; this one has changed nothing."


@dataclass(frozen=True, slots=True)
class PathProblem:
    """What is wrong at one place of a file: its path, such as ``$.builds[2].steps[4].amount``, and words."""

    path: str
    words: str

    def __str__(self) -> str:
        return f"{self.path}: {self.words}"


class _TwiceInOneObjectError(Exception):
    """A field that stands twice in one object, of which the second would silently win."""


def read_object(data: bytes, what: str) -> dict[str, Any]:
    """The JSON object in ``data``. Raises ``UserError`` where it is no JSON object, is nested too deep to be read, or
    holds a field twice; ``what`` names the kind of file."""
    try:
        value = msgspec.json.decode(data)
        json.loads(data, object_pairs_hook=_each_field_once)
    except RecursionError as error:
        raise UserError(
            f"This {what} cannot be read.",
            "It is nested far deeper than any build is.",
            "It holds parts one after another, not one inside another.",
        ) from error
    except _TwiceInOneObjectError as error:
        raise UserError(
            f"This {what} cannot be read.", f"The field “{error}” stands twice in one row."
        ) from error
    except (msgspec.DecodeError, UnicodeDecodeError, ValueError) as error:
        raise UserError(
            f"This is not a {what}.", f"It cannot be read as JSON: {_sentence(str(error))}"
        ) from error
    if not isinstance(value, dict):
        raise UserError(f"This is not a {what}.", "It holds no JSON object.")
    return value


def check_format(found: Mapping[str, Any], name: str, version: int, what: str) -> None:
    """Raises ``UserError`` unless the object is in the named format and of that version."""
    if found.get("format") != name:
        raise UserError(f"This is not a {what}.", f"Its field “format” does not say “{name}”.")
    stated = found.get("version")
    if not isinstance(stated, int) or isinstance(stated, bool) or stated < 1:
        raise UserError(f"This {what} cannot be read.", "Its field “version” is no whole number from 1.")
    if stated > version:
        cause = f"It is of version {stated}; this Washline reads up to version {version}."
        raise UserError(f"This {what} comes from a newer Washline.", cause, NEWER_REMEDY)


def convert(value: Any, kind: type[T], path: str, problems: list[PathProblem]) -> T | None:
    """A row of the given kind, or ``None`` with the problem noted: wrong type, out of range, or a field unknown."""
    try:
        return msgspec.convert(value, kind, strict=True)
    except msgspec.ValidationError as error:
        words, _, place = str(error).partition(" - at `$")
        problems.append(PathProblem(path + place.rstrip("`"), _sentence(words)))
    return None


def rows(
    found: Mapping[str, Any], field: str, kind: type[T], problems: list[PathProblem]
) -> Iterator[tuple[str, T]]:
    """The good rows of a list in a file, each with its path."""
    values = found.get(field, [])
    if not isinstance(values, list):
        problems.append(PathProblem(f"$.{field}", "Expected a list."))
        return
    for index, value in enumerate(values):
        path = f"$.{field}[{index}]"
        row = convert(value, kind, path, problems)
        if row is not None:
            yield path, row


def unknown_fields(found: Mapping[str, Any], known: tuple[str, ...], problems: list[PathProblem]) -> None:
    """Notes the fields of a file that nobody knows."""
    unknown = (field for field in found if field not in known)
    problems.extend(PathProblem(f"$.{field}", "This field is not known.") for field in unknown)


def _each_field_once(pairs: list[tuple[str, Any]]) -> None:
    seen: set[str] = set()
    for field, _ in pairs:
        if field in seen:
            raise _TwiceInOneObjectError(field)
        seen.add(field)


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:].rstrip(".") + "."
