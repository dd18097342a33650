"""The window: a key press and a change until painted, the first frame that can be edited, memory with a large book.

The two frames and the memory are measured in processes of their own, on a file that is made once per run.
"""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any

from tests.bench.books import NESTED, forty_steps, large_book, sixty_lines
from tests.bench.measure import Measured, measured
from washline.document.opening import create_document
from washline.exchange.demo import demo_house
from washline.exchange.starter import starter_house
from washline.model.book import HouseBook

ROOT = Path(__file__).resolve().parents[2]
DRINKS = 10_000
STARTS = 7
KEYS = 150
COMMITS = 40

_folder = tempfile.TemporaryDirectory(prefix="washline-bench-")


def clock() -> datetime:
    """Now, in UTC."""
    return datetime.now(UTC)


def in_own_process(
    script: str, *arguments: str, pause_of: Callable[[], None] | None = None
) -> dict[str, Any]:
    """Runs a script of this folder offscreen with a home of its own; what it prints last is JSON."""
    home = Path(_folder.name) / "home"
    home.mkdir(exist_ok=True)
    places = {f"XDG_{kind}_HOME": str(home / kind.lower()) for kind in ("CONFIG", "DATA", "STATE", "CACHE")}
    runtime = home / "runtime"
    runtime.mkdir(mode=0o700, exist_ok=True)
    done = subprocess.run(
        [sys.executable, str(ROOT / "tests" / "bench" / script), *arguments],
        env={
            **os.environ,
            "HOME": str(home),
            "QT_QPA_PLATFORM": "offscreen",
            "XDG_RUNTIME_DIR": str(runtime),
            **places,
        },
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode:
        raise RuntimeError(done.stderr)
    found: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return found


@cache
def book_file(name: str) -> Path:
    """A house book on disk, with its results up to date: ``empty``, ``large``, ``sixty`` or ``forty``."""
    makers: dict[str, Callable[[], HouseBook]] = {
        "empty": lambda: starter_house("Empty"),
        "large": lambda: large_book(DRINKS),
        "sixty": lambda: sixty_lines(demo_house())[0],
        "forty": lambda: forty_steps(demo_house()),
    }
    path = Path(_folder.name) / f"{name}.housebook"
    document = create_document(path, makers[name](), "bench", clock=clock, backups=path.parent / "backups")
    while document.work_on():
        pass
    document.close()
    return path


@cache
def _starts(name: str) -> tuple[dict[str, float], ...]:
    return tuple(in_own_process("one_start.py", str(book_file(name))) for _ in range(STARTS))


def first_editable_frame() -> Measured:
    """Process start to the first frame whose sheet takes a key: 10,000 drinks against an empty house book."""
    floors = [start["editable_ms"] for start in _starts("empty")]
    samples = [start["editable_ms"] for start in _starts("large")]
    return measured("first-editable-frame", floors, samples, 2.0)


def memory() -> Measured:
    """Memory in MB once all is read and evaluated: 10,000 drinks against an empty house book."""
    floors = [start["memory_mb"] for start in _starts("empty")]
    samples = [start["memory_mb"] for start in _starts("large")]
    return measured("memory", floors, samples, 2.0)


def key_to_painted() -> Measured:
    """A key in an amount of a drink of sixty lines until all is painted: against the same window fed with ready numbers."""
    found = in_own_process("one_key.py", str(book_file("sixty")), str(KEYS), "Sixty lines", "3")
    return measured("key-to-painted", found["floors"], found["samples"], 1.5)


def house_made_key() -> Measured:
    """A key in the first amount of the innermost of three nested parts, opened in a part of forty bench steps, until all
    is painted: against the same window fed with ready numbers."""
    found = in_own_process("one_key.py", str(book_file("forty")), str(KEYS), "Forty steps", "0", *NESTED)
    return measured("house-made-key", found["floors"], found["samples"], 1.5)


def commit_to_painted() -> Measured:
    """Enter on a typed amount, and undo, until all is painted, in a house book of 10,000 drinks: against the same window
    fed with ready figures. The row is the slower of the two."""
    found = in_own_process("one_commit.py", str(book_file("large")), str(COMMITS))
    rows = [
        measured("commit-to-painted", found[f"{act}_floor"], found[act], 1.5) for act in ("enter", "undo")
    ]
    return max(rows, key=lambda row: row.median)
