"""The command ``check-values``: evaluates the rows of check files and says which are within their tolerance.

A check file is CSV with the columns quantity, inputs (``k=v;k=v``), value, unit, tolerance and source.
"""

import csv
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TextIO

from washline.cli.check_evaluators import EVALUATORS, evaluate
from washline.cli.check_inputs import InputError, Inputs, finite_number

COLUMNS = ("quantity", "inputs", "value", "unit", "tolerance", "source")

# A difference of exactly the tolerance passes although both have been rounded to binary numbers.
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Verdict:
    """What became of one row: its place, the text that tells it, and whether it passed."""

    place: str
    text: str
    passed: bool


def run(paths: Sequence[Path], out: TextIO) -> int:
    """Writes a line for each row of the files and a last line with the counts; 1 if a row failed, else 0."""
    passed = failed = 0
    for path in paths:
        for verdict in _verdicts(path):
            out.write(f"{'passed' if verdict.passed else 'FAILED'}  {verdict.place}  {verdict.text}\n")
            passed, failed = passed + verdict.passed, failed + (not verdict.passed)
    out.write(f"{passed} passed, {failed} failed\n")
    return 1 if failed else 0


def _verdicts(path: Path) -> Iterator[Verdict]:
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            yield from _rows(str(path), file)
    except OSError as error:
        yield Verdict(str(path), f"the file cannot be read: {error.strerror or error}", False)
    except UnicodeDecodeError:
        yield Verdict(str(path), "the file is not text in UTF-8", False)
    except csv.Error as error:
        yield Verdict(str(path), f"the file is not CSV: {error}", False)


def _rows(name: str, file: TextIO) -> Iterator[Verdict]:
    reader = csv.reader(file)
    header = [column.strip() for column in next(reader, [])]
    missing = [column for column in COLUMNS[:5] if column not in header]
    if missing:
        yield Verdict(f"{name}:1", f"this is no check file: it has no column '{missing[0]}'", False)
        return
    first_line = reader.line_num + 1
    for cells in reader:
        if any(cell.strip() for cell in cells):
            yield _row(f"{name}:{first_line}", header, cells)
        first_line = reader.line_num + 1


def _row(place: str, header: Sequence[str], cells: Sequence[str]) -> Verdict:
    if len(cells) != len(header):
        return Verdict(place, f"malformed: {len(cells)} cells under {len(header)} columns", False)
    row = {column: cell.strip() for column, cell in zip(header, cells, strict=True)}
    try:
        return _compare(place, row)
    except InputError as problem:
        return Verdict(place, f"{_title(row)}  malformed: {problem}", False)


def _title(row: dict[str, str]) -> str:
    return f"{row['quantity']}  {row['inputs']}"


def _compare(place: str, row: dict[str, str]) -> Verdict:
    evaluator = EVALUATORS.get(row["quantity"])
    if evaluator is None:
        return Verdict(place, f"{_title(row)}  no evaluator for '{row['quantity']}'", False)
    inputs = Inputs(_inputs(row["inputs"]))
    expected = finite_number(row["value"], "the value")
    tolerance = finite_number(row["tolerance"], "the tolerance")
    factor = evaluator.dimension.factor(row["unit"])
    if tolerance < 0.0:
        raise InputError("the tolerance is negative")
    if factor is None:
        raise InputError(f"'{row['unit']}' is no unit of {evaluator.dimension.name}")
    found = evaluate(evaluator, inputs)
    computed = found.value / factor
    difference = computed - expected
    within = abs(difference) <= tolerance + _ROUNDING * (abs(expected) + tolerance)
    text = (
        f"{_title(row)}  expected {expected:.10g} {row['unit']}, computed {computed:.10g},"
        f" difference {difference:+.3g}, tolerance {tolerance:.6g}:"
        f" {'within tolerance' if within else 'OUT OF TOLERANCE'}"
    )
    remarks = "".join(f" [{words}]" for words in evaluator.remarks(found))
    return Verdict(place, text + remarks, within)


def _inputs(text: str) -> dict[str, str]:
    """The inputs by name; ``InputError`` for a part that is no ``name=value`` or a name given twice."""
    found: dict[str, str] = {}
    for part in filter(None, (piece.strip() for piece in text.split(";"))):
        name, equals, worth = (piece.strip() for piece in part.partition("="))
        if not (name and equals and worth):
            raise InputError(f"'{part}' is not of the form name=value")
        if name in found:
            raise InputError(f"input '{name}' is given twice")
        found[name] = worth
    return found
