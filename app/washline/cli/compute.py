"""The command ``compute``: the readings of a drink or part, as a table or as JSON."""

import argparse
import json
from collections.abc import Iterator, Sequence

from washline.cli.books import OpenBook, open_build
from washline.cli.console import DATA_ERROR, DONE, Console
from washline.cli.readings_json import readings_document
from washline.engine.contents import Contents, brought_raws, contents
from washline.engine.spread import Spread
from washline.engine.step_cautions import step_cautions
from washline.engine.trace import Trace
from washline.model.item import Build
from washline.model.reading import READINGS, Reading
from washline.model.step import Line
from washline.presentation.card_box import contains_box
from washline.presentation.card_credits import credits_owed
from washline.presentation.card_figures import Figures
from washline.presentation.card_pressure import pressure_block
from washline.presentation.keeping import keeping_of
from washline.presentation.row_words import item_name
from washline.presentation.strength_words import NEVER_NONE, is_trace, strength_number
from washline.quantity.formatting import format_contribution, spread_columns

EXAMPLES = (
    "washline compute 'Pear Signal'",
    "washline compute 'quince shrub' --book winter.housebook",
    "washline compute pear-signal.build.json --json",
)

_NAME_WIDTH = 40


def declare(parser: argparse.ArgumentParser) -> None:
    """Adds what is computed and how it is printed."""
    parser.add_argument("name", metavar="NAME|FILE", help="a drink, a house-made part, or a build file")
    parser.add_argument("--json", action="store_true", help="all that is known, for other programs")


def run(options: argparse.Namespace, console: Console) -> int:
    """Prints the readings; 1 where a line of the build could not be computed."""
    with open_build(options.name, options.book, console) as (opened, build):
        trace, spread = opened.workings.trace(build.id), opened.workings.spread(build.id)
        held = contents(opened.book, build.id)
        if options.json:
            document = readings_document(opened, build, trace, spread, held)
            console.write(json.dumps(document, ensure_ascii=False, allow_nan=False, indent=2))
        else:
            for line in _table(opened, build, trace, spread, held):
                console.write(line)
    for problem in trace.result.problems:
        console.note(f"{build.name}: {problem.words}")
    return DATA_ERROR if trace.result.problems else DONE


def _table(opened: OpenBook, build: Build, trace: Trace, spread: Spread, held: Contents) -> Iterator[str]:
    yield f"{build.name} · {opened.words}"
    yield ""
    for reading in READINGS:
        yield _reading(reading, trace, spread, opened.book.settings.currency).rstrip()
    yield ""
    yield from _contributions(trace)
    yield ""
    box = contains_box(opened.book, build, held, "", step_cautions(trace))
    yield f"Contains: {box.contained_text}"
    if box.unknown_text:
        yield box.unknown_text
    if box.may_contain:
        yield f"May contain: {box.may_contain_text}"
    yield from (f"{words}." for words in box.diet)
    figures = Figures(trace, spread)
    yield f"Alcohol: {figures.alcohol()}"
    if wording := figures.legal().text:
        yield f"Wording: {wording}"
    if pressure := pressure_block(trace):
        yield f"Pressure: {' '.join(pressure)}"
    for caution in box.cautions:
        words = " ".join((caution.text, *caution.details))
        yield f"Caution: {words} ({', '.join(caution.sources)})" if caution.sources else f"Caution: {words}"
    yield box.deferral
    if not build.is_drink:
        yield from keeping_of(opened.book, build, trace.result).sentences
    for credit in credits_owed(
        opened.book.raws[raw_id].source for raw_id in brought_raws(opened.book, build.id)
    ):
        yield f"Data: {credit}"


def _reading(reading: Reading, trace: Trace, spread: Spread, currency: str) -> str:
    result = trace.result
    value, more = result.value(reading.key), result.more_than(reading.key)
    sigma = spread.plus_minus(reading.key)
    written, plus_minus = spread_columns(value, sigma or 0.0, most_decimals=reading.decimals)
    if reading.key in NEVER_NONE and is_trace(value):
        written, plus_minus = strength_number(value, more=more), ""
        more = 0.0
    least = "≥ " if value is not None and more >= 0.5 * 10.0**-reading.decimals else ""
    unit = reading.unit or (currency if reading.key == "cost" else "")
    around = f"± {plus_minus}" if plus_minus[:1].isdigit() else ""
    reasons = "; ".join(result.reasons(reading.key))
    return f"{reading.name:<16}{least + written:>10}  {unit:<10}{around:<10}{reasons}"


def _contributions(trace: Trace) -> Iterator[str]:
    heads = ("g", "sugars, g", "acids, g", "ethanol, g", "cost")
    yield f"{'what each line brings':<{_NAME_WIDTH}}" + "".join(f"{head:>12}" for head in heads)
    for step in trace.build.steps:
        if isinstance(step, Line) and not step.left_out:
            share = trace.step(step.id).share
            figures = (share.grams, share.sugars_g, share.acids_g, share.ethanol_g, share.cost)
            yield _row(item_name(trace.book, step.item_id), figures)
    total = trace.total
    yield _row(
        "in all",
        (total.grams, total.sugars_g, total.acids_g, total.ethanol_g, total.cost + trace.garnish.cost),
    )


def _row(name: str, figures: Sequence[float]) -> str:
    decimals = (1, 2, 3, 1, 2)
    written = [format_contribution(value, places) for value, places in zip(figures, decimals, strict=True)]
    cut = name if len(name) < _NAME_WIDTH else f"{name[: _NAME_WIDTH - 2]}…"
    return f"{cut:<{_NAME_WIDTH}}" + "".join(f"{text:>12}" for text in written)
