"""The command ``check-values``."""

import argparse
from pathlib import Path

from washline.cli import check_values
from washline.cli.console import Console

EXAMPLES = (
    "washline check-values ph.csv",
    "washline check-values reference/*.csv",
    "washline check-values density.csv | grep FAILED",
)


def declare(parser: argparse.ArgumentParser) -> None:
    """Adds the files."""
    parser.add_argument(
        "files",
        nargs="+",
        metavar="FILE.csv",
        type=Path,
        help="a check file: quantity, inputs (k=v;k=v), value, unit, tolerance",
    )


def run(options: argparse.Namespace, console: Console) -> int:
    """Says of each row whether it is within its tolerance; 1 where one is not."""
    return check_values.run(options.files, console.out)
