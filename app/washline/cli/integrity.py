"""The command ``check``: is a house book whole?"""

import argparse
from importlib import import_module
from pathlib import Path

from washline.cli.books import last_opened
from washline.cli.console import DATA_ERROR, DONE, NOT_FOUND, CommandError, Console

EXAMPLES = (
    "washline check",
    "washline check 'The Saltmarsh Rooms.housebook'",
    "washline check winter.housebook && echo whole",
)


def declare(parser: argparse.ArgumentParser) -> None:
    """Adds the file."""
    parser.add_argument(
        "file", nargs="?", metavar="FILE.housebook", help="the house book; else that of --book, else the last"
    )


def run(options: argparse.Namespace, console: Console) -> int:
    """Prints what is wrong, a line each; 1 where something is. The file is only read."""
    named = options.file or options.book
    path = Path(named) if named else last_opened(console)
    if path is None:
        raise CommandError(
            NOT_FOUND,
            "There is no house book to check.",
            "None was named, and none was opened on this computer so far.",
            "Name one.",
        )
    found: list[str] = import_module("washline.cli.stored_books").faults(path, console.clock)
    for fault in found:
        console.write(fault)
    console.write(f"{path.name}: {'whole' if not found else f'{len(found)} faults'}")
    return DATA_ERROR if found else DONE
