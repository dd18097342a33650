"""The command ``import``: a build file is taken into a house book, as one step that can be undone in the window."""

import argparse
from importlib import import_module
from pathlib import Path

from washline.cli.books import last_opened, open_book, read_bytes
from washline.cli.console import DATA_ERROR, DONE, NOT_FOUND, CommandError, Console
from washline.document.commands.adopting import adopt
from washline.document.commands.labels import importing
from washline.exchange.build_file import Choice, Resolution, adoption, read_build, resolve
from washline.model.book import HouseBook

EXAMPLES = (
    "washline import pear-signal.build.json --dry-run",
    "washline import pear-signal.build.json --book winter.housebook",
    "washline import sloe-tide.build.json --on-doubt theirs",
)


def declare(parser: argparse.ArgumentParser) -> None:
    """Adds the file and what to do in doubt."""
    parser.add_argument("file", metavar="FILE.build.json", help="the build file; - for standard input")
    parser.add_argument("--dry-run", action="store_true", help="say what would be done and change nothing")
    parser.add_argument(
        "--on-doubt",
        choices=[choice.value for choice in Choice],
        help="where one name means two things: keep ours, or take theirs under a name of its own",
    )


def run(options: argparse.Namespace, console: Console) -> int:
    """Takes the file in, or says what a person has to decide first (exit code 1)."""
    data = read_bytes(options.file)
    if options.dry_run:
        with open_book(options.book, console) as opened:
            resolution = _resolved(data, opened.book, options.on_doubt)
            return _told(resolution, console, is_done=False)
    path = Path(options.book) if options.book else last_opened(console)
    if path is None:
        raise CommandError(
            NOT_FOUND,
            "There is no house book to take this into.",
            "The demo house is only in memory here.",
            "Name a house book with --book, or make one in the window first.",
        )
    stored = import_module("washline.cli.stored_books")
    with stored.writing(path, console.clock, console.places.backups) as document:
        resolution = _resolved(data, document.book, options.on_doubt)
        if resolution.open_doubts:
            return _told(resolution, console, is_done=False)
        adopted = adoption(resolution, document.book)
        name = adopted.book.builds[adopted.build_id].name
        changed = document.do(adopt(adopted.book, document.book), importing(name))
        code = _told(resolution, console, is_done=changed is not None)
        console.write(f"{name}: {'taken into' if changed is not None else 'is already in'} {path.name}")
        return code


def _resolved(data: bytes, book: HouseBook, on_doubt: str | None) -> Resolution:
    draft = read_build(data)
    resolution = resolve(draft, book)
    while on_doubt is not None and resolution.open_doubts:
        made = {
            doubt.key: Choice(on_doubt) if Choice(on_doubt) in doubt.choices else doubt.choices[0]
            for doubt in resolution.open_doubts
        }
        resolution = resolve(draft, book, {**resolution.choices, **made})
    return resolution


def _told(resolution: Resolution, console: Console, *, is_done: bool) -> int:
    for note in resolution.notes:
        console.note(note)
    for name in resolution.new:
        console.write(f"new: {name}")
    for name in resolution.reused:
        console.detail(f"used as it is: {name}")
    if not resolution.open_doubts:
        if not resolution.new and not is_done:
            console.write("nothing is new")
        return DONE
    for doubt in resolution.open_doubts:
        console.err.write(f"in doubt: {doubt.words}\n")
        for one in doubt.differences:
            console.err.write(f"    {one.what}: ours {one.ours}; theirs {one.theirs}\n")
    console.err.write("Nothing was changed. Say --on-doubt ours or --on-doubt theirs.\n")
    return DATA_ERROR
