"""A batch as text: tab-separated for a sheet of cells, comma-separated for a file."""

import csv
import io
from collections.abc import Iterator

from washline.presentation.batch import BatchSheet

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def tab_separated(sheet: BatchSheet) -> str:
    """The tables as cells that can be pasted, one after the other with an empty line between."""
    rows = (row for row in _tables(sheet))
    return "\n".join("\t".join(" ".join(cell.split()) for cell in row) for row in rows) + "\n"


def comma_separated(sheet: BatchSheet) -> str:
    """The whole sheet as CSV (RFC 4180): title, tables, then what is to be known. Make the sheet with ``FILE_STYLE``. A
    name that a sheet of cells would take for a formula gets an apostrophe before it."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([_plain(sheet.title), sheet.subtitle])
    writer.writerow([])
    writer.writerows([_plain(row[0]), *row[1:]] if row else [] for row in _tables(sheet))
    writer.writerow([])
    for told in sheet.told:
        writer.writerow([told.title, told.text])
    return text.getvalue()


def _tables(sheet: BatchSheet) -> Iterator[list[str]]:
    for number, table in enumerate(sheet.tables):
        if number:
            yield []
        yield [table.name, "", *table.heads]
        for row in table.rows:
            yield [row.name, row.note, *row.figures]


def _plain(name: str) -> str:
    return f"'{name}" if name.startswith(_FORMULA_STARTS) else name
