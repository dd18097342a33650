"""The command ``batch``: what to weigh for a drink that is made ahead, as a table or as CSV."""

import argparse
from collections.abc import Iterator

from msgspec import structs

from washline.cli.books import open_build
from washline.cli.console import DATA_ERROR, DONE, WRONG_USE, CommandError, Console
from washline.document.commands.batched import batched
from washline.model.item import Batch, BatchService, Build
from washline.presentation.batch import BatchSheet, BatchTable, batch_sheet
from washline.presentation.batch_table import comma_separated
from washline.quantity.formatting import ENGLISH_STYLE, FILE_STYLE

EXAMPLES = (
    "washline batch Saltings --serves 10",
    "washline batch Drift --vessel spirit-bottle-700 --count 2 --service freezer",
    "washline batch 'Quince Ferry' --serves 40 --round 5 --csv",
)
_FIELDS = {
    "serves": "serves",
    "vessel": "vessel",
    "count": "vessel_count",
    "salt": "salt_pct",
    "bitters": "bitters_pct",
    "round": "round_g",
}
_NAME_WIDTH, _FIGURE_WIDTH = 44, 15


def declare(parser: argparse.ArgumentParser) -> None:
    """Adds what is made and how it is printed; what is not said stands as it is kept with the drink."""
    parser.add_argument("name", metavar="NAME|FILE", help="a drink, or a build file")
    parser.add_argument("--serves", type=float, metavar="N", help="so many serves")
    parser.add_argument("--vessel", metavar="SLUG", help="the vessel that it goes into")
    parser.add_argument("--count", type=float, metavar="N", help="as much as fills so many of the vessel")
    parser.add_argument(
        "--service", choices=[service.value for service in BatchService], help="how it is kept and served"
    )
    parser.add_argument(
        "--citrus-at-service", action="store_true", help="pour fresh citrus juice into each serve"
    )
    parser.add_argument("--fizz-in", action="store_true", help="pour what is fizzy into the batch")
    parser.add_argument("--salt", type=float, metavar="PERCENT", help="how much of the salt goes in")
    parser.add_argument("--bitters", type=float, metavar="PERCENT", help="how much of the bitters goes in")
    parser.add_argument("--round", type=float, metavar="G", help="the step of the scale; 0 rounds nothing")
    parser.add_argument("--csv", action="store_true", help="as CSV, for other programs")


def run(options: argparse.Namespace, console: Console) -> int:
    """Prints the weigh-out; 1 where something of it could not be computed."""
    with open_build(options.name, options.book, console) as (opened, build):
        if not build.is_drink:
            raise CommandError(WRONG_USE, f"“{build.name}” is no drink.", "A batch is made of a drink.")
        made = batched(opened.workings, build.id, _wanted(options, build))
        if options.csv:
            console.out.write(comma_separated(batch_sheet(made, FILE_STYLE)))
        else:
            for line in _lines(batch_sheet(made, ENGLISH_STYLE)):
                console.write(line)
    problems = [*made.trace.result.problems, *made.serve.result.problems]
    for words in dict.fromkeys(problem.words for problem in problems):
        console.note(f"{build.name}: {words}")
    return DATA_ERROR if problems else DONE


def _wanted(options: argparse.Namespace, build: Build) -> Batch:
    kept = build.batch or Batch()
    said = {
        field: getattr(options, name) for name, field in _FIELDS.items() if getattr(options, name) is not None
    }
    if options.serves is not None and options.count is None:
        said["vessel_count"] = None
    if options.service is not None:
        said["service"] = BatchService(options.service)
    if options.citrus_at_service:
        said["citrus_at_service"] = True
    if options.fizz_in:
        said["fizz_at_service"] = False
    return structs.replace(kept, **said)


def _lines(sheet: BatchSheet) -> Iterator[str]:
    yield sheet.title
    yield sheet.subtitle
    for table in sheet.tables:
        yield ""
        yield from _table(table)
    for told in sheet.told:
        yield ""
        yield f"{told.title}:"
        yield told.text


def _table(table: BatchTable) -> Iterator[str]:
    yield f"{table.name:<{_NAME_WIDTH}}" + "".join(f"{head:>{_FIGURE_WIDTH}}" for head in table.heads)
    for row in table.rows:
        name = f"{row.name}, {row.note}" if row.note else row.name
        yield f"{name:<{_NAME_WIDTH}}" + "".join(f"{figure:>{_FIGURE_WIDTH}}" for figure in row.figures)
