"""Runs commands for tests: in this process with everything caught, or in one of their own."""

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from washline.cli.main import run
from washline.document.opening import create_document
from washline.exchange.demo import demo_house
from washline.model.book import HouseBook
from washline.presentation.card import Card
from washline.problem import UserError

NOON = datetime(2026, 11, 21, 12, 0, tzinfo=UTC)


@dataclass
class FakePrinter:
    """A printer that keeps what it was given instead of painting it; paths named in ``broken`` cannot be written."""

    cards: list[tuple[Card, Path]] = field(default_factory=list)
    pages: list[str] = field(default_factory=list)
    broken: tuple[str, ...] = ()

    def __call__(
        self,
        cards: Iterable[tuple[Card, Path]],
        page: str,
        dpi: int,
        after: Callable[[Path, int | UserError], None],
    ) -> None:
        self.pages.append(page)
        for card, path in cards:
            if path.name in self.broken:
                after(path, UserError(f"“{path.name}” could not be written."))
                continue
            self.cards.append((card, path))
            after(path, 1)


@dataclass
class Said:
    """What a command answered."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The result as JSON; a NaN in it is a fault."""
        return json.loads(self.out, parse_constant=_no_constant)


def _no_constant(name: str) -> None:
    raise AssertionError(f"{name} in the JSON")


class Runner:
    """Runs commands with streams caught and the user's folders empty."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self._capsys = capsys
        self.printer = FakePrinter()

    def __call__(self, *words: str) -> Said:
        self._capsys.readouterr()
        code = run(words, self.printer)
        caught = self._capsys.readouterr()
        return Said(code, caught.out, caught.err)


def in_its_own_process(*words: str, code: str = "") -> subprocess.CompletedProcess[str]:
    """Runs ``washline`` with these words, or ``code``, in a fresh interpreter without any display."""
    variables = {**os.environ, "PYTHONPATH": str(Path(__file__).resolve().parents[2] / "app")}
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        variables.pop(name, None)
    start = ["-c", code, *words] if code else ["-m", "washline", *words]
    return subprocess.run(
        [sys.executable, *start], env=variables, capture_output=True, text=True, check=False, timeout=50
    )


def house_book_file(path: Path, book: HouseBook | None = None) -> Path:
    """A house book on disk: that of the demo house, unless another is given."""
    create_document(path, book or demo_house(), "making it", clock=lambda: NOON).close()
    return path
