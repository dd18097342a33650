"""Doubts: one name that stands for one thing in the house book and for another in a file."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from washline.exchange.row_types import FileRow


class Choice(StrEnum):
    """What to do where the file and the house book differ under one name."""

    OURS = "ours"
    """Keep what the house book says, and use it."""
    THEIRS = "theirs"
    """Take what the file says as something new, under a name of its own."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that differs: what it is, and what each side says."""

    what: str
    ours: str
    theirs: str


@dataclass(frozen=True, slots=True)
class Doubt:
    """A name that stands for one thing in the house book and for another in the file.

    ``key`` identifies it for ``settled``; ``choices`` are those that are possible; ``choice`` is the one made.
    """

    key: str
    kind: str
    name: str
    differences: tuple[Difference, ...]
    choices: tuple[Choice, ...]
    choice: Choice | None

    @property
    def words(self) -> str:
        """The doubt in one sentence."""
        return f"{self.kind} “{self.name}” is not the same here as in the file."


def differences(ours: FileRow, theirs: FileRow) -> tuple[Difference, ...]:
    """What differs between two rows of the same kind, field by field."""
    return tuple(
        Difference(name.replace("_", " "), _said(getattr(ours, name)), _said(getattr(theirs, name)))
        for name in theirs.__struct_fields__
        if getattr(ours, name) != getattr(theirs, name)
    )


def _said(value: Any) -> str:
    if value is None:
        return "not known"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, tuple):
        return ", ".join(_said(one) for one in value) or "none"
    if isinstance(value, FileRow):
        shown = (name for name in value.__struct_fields__ if getattr(value, name) not in (None, "", ()))
        return "; ".join(f"{name.replace('_', ' ')} {_said(getattr(value, name))}" for name in shown)
    return str(value)
