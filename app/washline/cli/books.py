"""The house book that a command reads, and the drink or part in it that a name means."""

import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path

from washline.cli.console import NOT_FOUND, CommandError, Console
from washline.engine.workings import Workings
from washline.exchange.build_file import Choice, adoption, read_build, resolve
from washline.exchange.demo import demo_house
from washline.model.book import HouseBook
from washline.model.house import Settings
from washline.model.item import Build
from washline.presentation.card import LastChange
from washline.problem import UserError
from washline.quantity.names import fold

BUILD_FILE_ENDING = ".build.json"
STANDARD_INPUT = "-"
_MOST_CANDIDATES = 12


def _no_change(build_id: int) -> LastChange | None:
    return None


@dataclass(frozen=True, slots=True)
class OpenBook:
    """A house book open for reading: its content, its engine, what it is called, and where a build was last changed."""

    book: HouseBook
    workings: Workings
    words: str
    path: Path | None = None
    last_change: Callable[[int], LastChange | None] = _no_change


@contextmanager
def open_book(name: str | None, console: Console) -> Iterator[OpenBook]:
    """Opens the house book at ``name``, else the one opened last, else the demo house in memory; never to write in it.

    Raises ``UserError`` where it cannot be read.
    """
    path = Path(name) if name is not None else last_opened(console)
    if path is None:
        book = demo_house()
        console.detail(f"house book: {book.settings.house_name}, the demo house, in memory")
        yield OpenBook(book, Workings(book), f"{book.settings.house_name} (demo)")
        return
    console.detail(f"house book: {path}")
    # The store is loaded for a house book on disk only: it takes longer to load than a drink to compute.
    stored = import_module("washline.cli.stored_books")
    with stored.reading(path, console.clock) as opened:
        yield opened


def last_opened(console: Console) -> Path | None:
    """The house book that was opened last on this computer, if it is still there."""
    last = next(iter(console.places.recent.paths()), None)
    if last is not None and not last.is_file():
        console.note(f"{last} is not there any more: using the demo house")
        return None
    return last


@contextmanager
def open_build(name: str, book_name: str | None, console: Console) -> Iterator[tuple[OpenBook, Build]]:
    """Opens what ``name`` means: a build file, or a drink or part in the house book."""
    if is_build_file(name):
        book, build_id = book_of_build_file(read_bytes(name), console)
        yield OpenBook(book, Workings(book), name), book.builds[build_id]
        return
    with open_book(book_name, console) as opened:
        yield opened, find_build(opened.book, name, opened.words)


def is_build_file(name: str) -> bool:
    """Whether a word names a build file and not a drink."""
    return name == STANDARD_INPUT or name.lower().endswith(".json")


def read_bytes(name: str) -> bytes:
    """The content of a file, or of standard input for ``-``. Raises ``UserError``."""
    if name == STANDARD_INPUT:
        return sys.stdin.buffer.read()
    try:
        return Path(name).read_bytes()
    except OSError as error:
        raise UserError(f"“{name}” cannot be read.", f"The system says: {error.strerror}.") from error


def book_of_build_file(data: bytes, console: Console) -> tuple[HouseBook, int]:
    """A house book of what a build file holds and nothing else, counting as the file counts; and its main build."""
    draft = read_build(data)
    counting = {name: getattr(draft.counting, name) for name in draft.counting.__struct_fields__}
    house = HouseBook(settings=Settings(house_name="build file", **counting))
    resolution = resolve(draft, house)
    for note in resolution.notes:
        console.note(note)
    for doubt in resolution.open_doubts:
        resolution = resolve(draft, house, {**resolution.choices, doubt.key: Choice.THEIRS})
    adopted = adoption(resolution, house)
    return replace(adopted.book, settings=house.settings), adopted.build_id


def find_build(book: HouseBook, name: str, where: str) -> Build:
    """The drink or part of a name: written so, else but for case and accents, else the only one with it in its name.

    Raises ``CommandError`` where there is none or more than one.
    """
    builds = list(book.builds.values())
    wanted = fold(name)
    for found in (
        [build for build in builds if build.name == name],
        [build for build in builds if fold(build.name) == wanted],
        [build for build in builds if wanted and wanted in fold(build.name)],
    ):
        if len(found) == 1:
            return found[0]
        if found:
            raise CommandError(
                NOT_FOUND,
                f"“{name}” may be any of {len(found)}: {_listed(found)}.",
                "",
                "Write more of the name.",
            )
    near = [build for build in builds if set(wanted.split()) & set(fold(build.name).split())]
    remedy = f"Near it: {_listed(near)}." if near else ""
    raise CommandError(NOT_FOUND, f"There is no drink or part called “{name}” in {where}.", "", remedy)


def _listed(builds: Sequence[Build]) -> str:
    names = [build.name for build in builds[:_MOST_CANDIDATES]]
    more = len(builds) - len(names)
    return "; ".join(names) + (f"; and {more} more" if more else "")
