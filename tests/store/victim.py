"""A program that edits a house book until it is killed. Run as ``python -m tests.store.victim``.

It imports all it needs once and then makes a process per line that it reads (``{"act": …, "path": …, "seed": …}``), so
that two hundred kills need not wait for two hundred starts. Before each act it says what the file will be, after it that
the act is acknowledged.
"""

import json
import os
import random
import subprocess
import sys
import time
import traceback
import zlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

from tests.store.books import NOW, large_book, new_amount, small_book
from washline.model.book import HouseBook
from washline.model.change import ChangeSet, apply, difference
from washline.store import HouseBookFile
from washline.store.migration import migrate

LINES = (101, 102, 200, 201)


def digest(book: HouseBook) -> int:
    """A number that tells one content of a house book from another."""
    return zlib.crc32(repr([book.builds, book.raws, sorted(book.glasses)]).encode())


def say(kind: str, state: Any = None) -> None:
    """One line, in one piece."""
    os.write(1, json.dumps([kind, state]).encode() + b"\n")


class Editor:
    """Knows what the file will be after each act before it is done."""

    def __init__(self, file: HouseBookFile) -> None:
        self.file = file
        self.book = file.load()
        self.newest = file.entries(1)[0].number
        self.position = file.position
        self.done: list[tuple[int, int, ChangeSet]] = []
        self.undone: list[tuple[int, int, ChangeSet]] = []
        say("acknowledged", self.state())

    def state(self) -> list[int]:
        """The newest entry, the newest standing one, and the content."""
        return [self.newest, self.position, digest(self.book)]

    def write(self, change_set: ChangeSet) -> None:
        """One change."""
        self.done.append((self.position, self.newest + 1, change_set))
        self.undone.clear()
        self.newest = self.position = self.newest + 1
        self._act(change_set, lambda: self.file.write(change_set, "change", NOW))

    def undo(self) -> None:
        """Takes the last change back."""
        self.undone.append(self.done.pop())
        self.position = self.undone[-1][0]
        self._act(self.undone[-1][2].reversed(), lambda: self.file.undo(NOW))

    def redo(self) -> None:
        """Does it again."""
        self.done.append(self.undone.pop())
        self.position = self.done[-1][1]
        self._act(self.done[-1][2], lambda: self.file.redo(NOW))

    def _act(self, change_set: ChangeSet, act: Callable[[], object]) -> None:
        self.book = apply(self.book, change_set)
        say("tries", self.state())
        act()
        say("acknowledged", self.state())


def edit(path: Path, seed: int) -> None:
    """Small edits, undo and redo, without end."""
    chance = random.Random(seed)
    with HouseBookFile.open(path) as file:
        editor = Editor(file)
        while True:
            if editor.done and chance.random() < 0.3:
                editor.undo()
            elif editor.undone and chance.random() < 0.5:
                editor.redo()
            else:
                line = chance.choice(LINES)
                editor.write(new_amount(editor.book, chance.uniform(1.0, 100.0), line))


def adopt(path: Path, seed: int) -> None:
    """Large changes, each of hundreds of rows, back and forth, with copies in between."""
    books = [small_book(), large_book(60 + seed % 40)]
    with HouseBookFile.open(path) as file:
        editor = Editor(file)
        while True:
            aim = books[0] if len(editor.book.builds) > 10 else books[1]
            editor.write(difference(editor.book, aim))
            file.backup()


def make(path: Path, seed: int) -> None:
    """A new house book."""
    say("tries")
    HouseBookFile.create(path, large_book(20 + seed), "Making", clock=lambda: NOW).close()
    say("acknowledged")


def bring_up_to_date(path: Path, seed: int) -> None:
    """A migration to a version that the test has made: the scripts lie beside the file."""
    say("tries")
    migrate(path, scripts=path.parent / "migrations", version=4)
    say("acknowledged")


def open_older(path: Path, seed: int) -> None:
    """Opens a house book of an older version, which brings it up to date."""
    say("tries")
    HouseBookFile.open(path).close()
    say("acknowledged")


def hold(path: Path, seed: int) -> None:
    """Opens the house book and waits."""
    with HouseBookFile.open(path) as file:
        say("holds", [file.is_read_only, file.held_by])
        time.sleep(60 + seed)


ACTS = {
    "edit": edit,
    "adopt": adopt,
    "make": make,
    "migrate": bring_up_to_date,
    "older": open_older,
    "hold": hold,
}


def act(order: str) -> None:
    """Does what an order says until it is killed."""
    what = json.loads(order)
    try:
        ACTS[what["act"]](Path(what["path"]), what["seed"])
    except BaseException:
        say("failed", traceback.format_exc())
        raise
    finally:
        os._exit(0)


def main() -> None:
    """Makes a victim per line; where a process cannot be split, by starting one."""
    for order in sys.stdin:
        if not hasattr(os, "fork"):
            with subprocess.Popen([sys.executable, "-m", "tests.store.victim", order]) as process:
                say("started", process.pid)
        elif child := os.fork():
            say("started", child)
            os.waitpid(child, 0)
        else:
            act(order)
        say("gone")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        act(sys.argv[1])
    main()
