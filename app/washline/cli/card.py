"""The command ``card``: cards as PDF or PNG, of one drink or house-made part, or of all drinks."""

import argparse
from collections.abc import Iterator
from pathlib import Path

from washline.cli.books import OpenBook, open_book, open_build
from washline.cli.console import DATA_ERROR, DONE, WRONG_USE, CommandError, Console
from washline.engine.contents import contents
from washline.model.item import Build
from washline.presentation.card import Card, card_content
from washline.presentation.cautions import DEFERRAL
from washline.problem import UserError
from washline.quantity.names import safe_file_name

ENDINGS = (".pdf", ".png")
PAPERS = ("a5", "half-letter")

EXAMPLES = (
    "washline card 'Pear Signal' --out pear-signal.pdf",
    "washline card 'Sloe Tide' --page half-letter --out sloe-tide.png",
    "washline card --all --out cards --book winter.housebook",
)


def declare(parser: argparse.ArgumentParser) -> None:
    """Adds what is printed, where to and how."""
    parser.add_argument(
        "name", nargs="?", metavar="NAME", help="a drink, a house-made part, or a build file with one"
    )
    parser.add_argument("--all", action="store_true", help="every drink of the house book")
    parser.add_argument(
        "--out", required=True, metavar="FILE", help="the file, *.pdf or *.png; with --all the folder"
    )
    parser.add_argument("--page", choices=PAPERS, help="the page; else as the house has set it")
    parser.add_argument(
        "--format", choices=("pdf", "png"), default="pdf", help="with --all: pdf (as usual) or png"
    )
    parser.add_argument("--dpi", type=int, default=300, help="dots per inch of a PNG, 300 as usual")


def run(options: argparse.Namespace, console: Console) -> int:
    """Writes the cards; those that are there already are replaced whole."""
    if bool(options.name) == bool(options.all):
        raise CommandError(WRONG_USE, "Say which drink, or --all.", "", "washline card --help shows how.")
    return _all(options, console) if options.all else _one(options, console)


def card_of(opened: OpenBook, build: Build) -> Card:
    """The card of a drink or a house-made part."""
    trace, spread = opened.workings.trace(build.id), opened.workings.spread(build.id)
    return card_content(trace, spread, contents(opened.book, build.id), opened.last_change(build.id))


def _one(options: argparse.Namespace, console: Console) -> int:
    path = Path(options.out)
    if path.suffix.lower() not in ENDINGS:
        raise CommandError(
            WRONG_USE,
            f"“{path.name}” does not say what kind of file is wanted.",
            "",
            "Let the name end in .pdf or .png.",
        )
    with open_build(options.name, options.book, console) as (opened, build):
        card = card_of(opened, build)
        page = options.page or opened.book.settings.paper_size
    work = _Work(console, count=1)
    console.printer([(card, path)], page, options.dpi, work.after)
    return work.finish()


def _all(options: argparse.Namespace, console: Console) -> int:
    folder = Path(options.out)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise UserError(
            f"“{folder}” is no folder to write to.",
            f"The system says: {error.strerror}.",
            "Name another folder.",
        ) from error
    with open_book(options.book, console) as opened:
        drinks = list(opened.book.drinks())
        page = options.page or opened.book.settings.paper_size
        work = _Work(console, count=len(drinks))
        cards = _cards(opened, drinks, folder, f".{options.format}", work)
        if drinks:
            console.printer(cards, page, options.dpi, work.after)
    return work.finish()


def _cards(
    opened: OpenBook, drinks: list[Build], folder: Path, ending: str, work: "_Work"
) -> Iterator[tuple[Card, Path]]:
    """One card after another, so that a large house book needs no more memory than a small one."""
    taken: set[str] = set()
    for build in drinks:
        card = card_of(opened, build)
        day = card.change[-1] if card.change else ""
        name, number = safe_file_name([card.name, day, "spec card"], ending), 1
        while name.casefold() in taken:
            number += 1
            name = safe_file_name([card.name, day, f"spec card {number}"], ending)
        taken.add(name.casefold())
        work.begin(build.name)
        yield card, folder / name


class _Work:
    """Counts what was written and keeps what was not."""

    def __init__(self, console: Console, count: int) -> None:
        self._console = console
        self._count = count
        self._written = 0
        self._begun = 0
        self._problems: list[UserError] = []

    def begin(self, name: str) -> None:
        """Shows which card is made."""
        self._begun += 1
        self._console.progress(f"{self._begun} of {self._count}: {name}")

    def after(self, path: Path, told: int | UserError) -> None:
        """Takes note of a file."""
        if isinstance(told, UserError):
            self._problems.append(told)
            return
        self._written += 1
        self._console.detail(f"{path}: {told} {'page' if told == 1 else 'pages'}")

    def finish(self) -> int:
        """Says what came of it; 1 where a file could not be written."""
        self._console.progress("")
        for problem in self._problems:
            self._console.complain(problem)
        word = "card" if self._written == 1 else "cards"
        self._console.note(f"{self._written} {word} written. {DEFERRAL}")
        return DATA_ERROR if self._problems else DONE
