"""Rows of a build as text and as a table for other programs, and tables of other programs as lines of text."""

from collections.abc import Sequence
from html import escape
from html.parser import HTMLParser

from washline.presentation.build_rows import BuildRow
from washline.presentation.row_words import RowKind

_HEADS = ("Build", "Amount", "g in glass", "sugars, g", "acids, g", "ethanol, g", "cost")
_THIN_SPACES = str.maketrans({"\u202f": " ", "\u2009": " "})


def as_text(rows: Sequence[BuildRow]) -> str:
    """The rows tab separated, a row a line, as they are shown, with units."""
    return "\n".join("\t".join(_cells(row)).rstrip("\t") for row in rows)


def as_html(rows: Sequence[BuildRow]) -> str:
    """The rows as one table with headings; every text is escaped."""
    head = "".join(f"<th>{escape(word)}</th>" for word in _HEADS)
    body = "".join(
        "<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in _cells(row)) + "</tr>" for row in rows
    )
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def cell_as_text(row: BuildRow, column: int) -> str:
    """One cell as it is shown; name 0, amount and unit 1 and 2, then the contributions."""
    if column in (1, 2):
        return _amount(row)
    cells = _cells(row)
    return cells[column if column == 0 else column - 1] if column - 1 < len(cells) else ""


def _cells(row: BuildRow) -> list[str]:
    figures = [figure.text for figure in row.figures]
    if row.written:
        # As it is typed: read again, it is the same step.
        return [_one_line(row.written), "", *figures]
    # The word that makes the line a step again when it is pasted; a strain, a wash or a ferment has it in its name.
    word = "infuse " if row.kind is RowKind.INFUSE else ""
    return [_one_line(f"{word}{row.name}"), _amount(row), *figures]


def _amount(row: BuildRow) -> str:
    return _one_line(f"{row.amount} {row.unit}".strip())


def _one_line(text: str) -> str:
    return " ".join(text.translate(_THIN_SPACES).split())


def lines_of_table(html: str) -> list[str]:
    """The rows of the tables in ``html``, cells tab separated; line breaks within a cell are spaces. Empty where there
    is no table."""
    reader = _TableReader()
    reader.feed(html)
    reader.close()
    return [line for line in ("\t".join(cells).strip() for cells in reader.rows) if line]


class _TableReader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.rows: list[list[str]] = []
        self._is_in_cell = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "tr":
            self.rows.append([])
        elif tag in ("td", "th") and self.rows:
            self.rows[-1].append("")
            self._is_in_cell = tag == "td"
        elif tag == "br" and self._is_in_cell:
            self.handle_data(" ")

    def handle_endtag(self, tag: str) -> None:
        if tag in ("td", "th", "tr"):
            self._is_in_cell = False

    def handle_data(self, data: str) -> None:
        if self._is_in_cell and self.rows and self.rows[-1]:
            self.rows[-1][-1] = _one_line(f"{self.rows[-1][-1]} {data}")
