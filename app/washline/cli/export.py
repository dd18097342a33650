"""The command ``export``: a drink or part with all it depends on, as a build file."""

import argparse
import contextlib
import os
import sys
import tempfile
from pathlib import Path

from washline.cli.books import STANDARD_INPUT, find_build, open_book
from washline.cli.console import DONE, Console
from washline.exchange.build_file import write_build
from washline.problem import UserError

EXAMPLES = (
    "washline export 'Pear Signal' --out pear-signal.build.json",
    "washline export 'quince shrub' --out - | less",
    "washline export 'Sloe Tide' --book winter.housebook --out sloe-tide.build.json",
)


def declare(parser: argparse.ArgumentParser) -> None:
    """Adds what is exported and where to."""
    parser.add_argument("name", metavar="NAME", help="a drink or house-made part")
    parser.add_argument(
        "--out", required=True, metavar="FILE", help="the build file, *.build.json; - for standard output"
    )


def run(options: argparse.Namespace, console: Console) -> int:
    """Writes the build file; one that is there already is replaced whole."""
    with open_book(options.book, console) as opened:
        build = find_build(opened.book, options.name, opened.words)
        data = write_build(opened.book, build.id)
    if options.out == STANDARD_INPUT:
        sys.stdout.flush()
        sys.stdout.buffer.write(data)
        return DONE
    write_whole(Path(options.out), data)
    console.note(f"{build.name}: written to {options.out}")
    return DONE


def write_whole(path: Path, data: bytes) -> None:
    """Writes a file that is never seen half written. Raises ``UserError``."""
    beside = ""
    try:
        handle, beside = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(beside, 0o666 & ~_mask())
        os.replace(beside, path)
    except OSError as error:
        if beside:
            with contextlib.suppress(OSError):
                os.unlink(beside)
        raise UserError(
            f"“{path.name}” could not be written.",
            f"The system says: {error.strerror}.",
            "Choose another folder or name.",
        ) from error


def _mask() -> int:
    """The user's mask for new files, which can only be read by setting it."""
    mask = os.umask(0)
    os.umask(mask)
    return mask
