"""What a command writes to and how it fails: results on stdout, everything else on stderr, exit codes."""

import argparse
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Protocol, TextIO

from washline.document.places import Places, user_places
from washline.problem import UserError

if TYPE_CHECKING:
    from washline.presentation.card import Card

DONE = 0
DATA_ERROR = 1
WRONG_USE = 2
NOT_FOUND = 3
NEWER_VERSION = 4
IN_USE = 5
INTERRUPTED = 130

EXIT_CODES = (
    (DONE, "all went well"),
    (DATA_ERROR, "something was wrong with the data or a file"),
    (WRONG_USE, "wrong use of a command"),
    (NOT_FOUND, "no such name, or more than one"),
    (NEWER_VERSION, "the file was written by a newer version"),
    (IN_USE, "the house book is open in another window"),
    (INTERRUPTED, "stopped by Ctrl+C"),
)


class CommandError(UserError):
    """A fault with an exit code of its own."""

    def __init__(self, exit_code: int, what: str, cause: str = "", remedy: str = "") -> None:
        super().__init__(what, cause, remedy)
        self.exit_code = exit_code


class Printer(Protocol):
    """Paints cards to files; handed in, for it is the one thing here that needs Qt."""

    def __call__(
        self,
        cards: "Iterable[tuple[Card, Path]]",
        page: str,
        dpi: int,
        after: Callable[[Path, int | UserError], None],
    ) -> object:
        """Writes each card to its path and tells ``after`` how many pages it has, or why it was not written."""


def now() -> datetime:
    """The present moment in UTC."""
    return datetime.now(UTC)


@dataclass
class Console:
    """The streams and the surroundings of one run of a command."""

    printer: Printer
    out: TextIO = field(default_factory=lambda: sys.stdout)
    err: TextIO = field(default_factory=lambda: sys.stderr)
    places: Places = field(default_factory=lambda: user_places())
    clock: Callable[[], datetime] = now
    is_quiet: bool = False
    is_verbose: bool = False

    def write(self, text: str) -> None:
        """Writes a line of the result."""
        self.out.write(f"{text}\n")

    def note(self, text: str) -> None:
        """Says something beside the result, unless it was asked to be quiet."""
        if not self.is_quiet:
            self.err.write(f"{text}\n")

    def detail(self, text: str) -> None:
        """Says something that only matters when one looks closely."""
        if self.is_verbose:
            self.err.write(f"{text}\n")

    def complain(self, error: UserError) -> None:
        """Says what went wrong; being quiet does not silence it."""
        self.err.write(f"washline: {error}\n")

    def progress(self, text: str) -> None:
        """Shows how far a long command is, on a terminal only, in one line that is written over."""
        if not self.is_quiet and self.err.isatty():
            self.err.write(f"\r\x1b[K{text}")
            self.err.flush()


class Module(Protocol):
    """What the module of a command offers."""

    EXAMPLES: Sequence[str]

    def declare(self, parser: argparse.ArgumentParser) -> None:
        """Adds the command's own arguments."""

    def run(self, options: argparse.Namespace, console: Console) -> int:
        """Does it, and returns the exit code."""
