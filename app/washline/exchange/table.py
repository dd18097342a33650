"""Reads a CSV table cell by cell; what is wrong with a cell is listed with its place, and its row is left out."""

import csv
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from washline.problem import UserError


@dataclass(frozen=True, slots=True)
class CellProblem:
    """What is wrong in one cell: file name, line of the file (the heads are line 1), column, and words."""

    file: str
    line: int
    column: str
    words: str

    def __str__(self) -> str:
        column = f", column {self.column}" if self.column else ""
        return f"{self.file}, line {self.line}{column}: {self.words}"


class TableRow:
    """One line of a table. Every getter notes what is wrong in its cell; ``is_good`` says whether anything was."""

    def __init__(self, file: str, line: int, cells: dict[str, str]) -> None:
        self.file = file
        self.line = line
        self.problems: list[CellProblem] = []
        self._cells = cells

    @property
    def is_good(self) -> bool:
        """Whether nothing was wrong in the cells read so far."""
        return not self.problems

    def refuse(self, column: str, words: str) -> None:
        """Notes a problem in a cell."""
        self.problems.append(CellProblem(self.file, self.line, column, words))

    def text(self, column: str) -> str:
        """The text of a cell, without the blanks around it."""
        return self._cells[column].strip()

    def name(self, column: str) -> str:
        """The text of a cell that must not be blank."""
        text = self.text(column)
        if not text:
            self.refuse(column, "expected a text, the cell is blank")
        return text

    def number(self, column: str, low: float = 0.0, high: float = 1e6) -> float | None:
        """The number of a cell; ``None`` where it is blank (not known), or noted as wrong."""
        text = self.text(column)
        if not text:
            return None
        try:
            value = float(text)
        except ValueError:
            self.refuse(column, f"expected a number, found “{text}”")
            return None
        if not math.isfinite(value) or not low <= value <= high:
            self.refuse(column, f"expected a number from {low:g} to {high:g}, found “{text}”")
            return None
        return value

    def needed_number(self, column: str, low: float = 0.0, high: float = 1e6) -> float:
        """The number of a cell that must not be blank; 0 where it was wrong, so that the next cell can be read."""
        if not self.text(column):
            self.refuse(column, "expected a number, the cell is blank")
        return self.number(column, low, high) or 0.0

    def whole(self, column: str) -> int | None:
        """The whole number of a cell; ``None`` where it is blank."""
        value = self.number(column)
        if value is not None and value != int(value):
            self.refuse(column, f"expected a whole number, found “{self.text(column)}”")
        return None if value is None else int(value)

    def one_of(self, column: str, words: Sequence[str]) -> str:
        """The text of a cell that must be one of a few words."""
        text = self.text(column)
        if text not in words:
            self.refuse(column, f"expected one of {', '.join(words)}, found “{text}”")
        return text

    def is_yes(self, column: str) -> bool:
        """Whether a cell that must say *yes* or *no* says *yes*."""
        return self.one_of(column, ("yes", "no")) == "yes"

    def keys(self, column: str) -> tuple[str, ...]:
        """The texts of a cell, parted by semicolons."""
        return tuple(part.strip() for part in self.text(column).split(";") if part.strip())


def read_table(
    path: Path, columns: Sequence[str], problems: list[CellProblem], own_key: str = ""
) -> Iterator[TableRow]:
    """The lines of a UTF-8 CSV file whose heads are at least ``columns``.

    A line with too few or too many cells, or that repeats the ``own_key`` of an earlier line, is added to ``problems``
    and left out, and so is a line in which a problem was noted while it was out with the caller. Raises ``UserError``
    where the file cannot be read at all.
    """
    lines = _lines(path)
    heads = next(lines, (1, []))[1]
    missing = [column for column in columns if column not in heads]
    problems.extend(CellProblem(path.name, 1, column, "the column is missing") for column in missing)
    if missing:
        return
    seen: dict[str, int] = {}
    for line, cells in lines:
        if len(cells) != len(heads):
            words = f"expected {len(heads)} cells, found {len(cells)}"
            problems.append(CellProblem(path.name, line, "", words))
            continue
        row = TableRow(path.name, line, dict(zip(heads, cells, strict=True)))
        if own_key:
            first = seen.setdefault(row.name(own_key), line)
            if first != line:
                row.refuse(own_key, f"“{row.text(own_key)}” stands in line {first} already")
        if row.is_good:
            yield row
        problems.extend(row.problems)


def _lines(path: Path) -> Iterator[tuple[int, list[str]]]:
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            reader = csv.reader(file, strict=True)
            for cells in reader:
                if cells:
                    yield reader.line_num, cells
    except OSError as error:
        raise UserError(f"{path.name} cannot be read.", f"The system says: {error.strerror}.") from error
    except UnicodeDecodeError as error:
        raise UserError(
            f"{path.name} cannot be read.", "It is not text in UTF-8.", "Save it as CSV in UTF-8."
        ) from error
    except csv.Error as error:
        raise UserError(f"{path.name} cannot be read.", f"It is not a whole CSV file: {error}.") from error
