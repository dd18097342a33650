"""Rows as text and table, and tables as lines."""

from tests.presentation.small_house import CORDIAL_LINE, SIGNAL, workings
from washline.presentation.build_rows import BuildRow, Figure, RowMaker
from washline.presentation.clipboard import as_html, as_text, cell_as_text, lines_of_table
from washline.presentation.row_words import RowKind


def a_row(name: str) -> BuildRow:
    return BuildRow(
        key=(1,), build_id=1, step_id=1, item_id=None, kind=RowKind.LINE, name=name, amount="45", unit="ml",
        figures=(Figure("42.1", 0.5), Figure(), Figure(), Figure("16.7", 1.0), Figure("0.90", 1.0)),
    )  # fmt: skip


def test_rows_are_tab_separated_with_units_and_plain_spaces() -> None:
    assert as_text([a_row("dry gin")]) == "dry gin\t45 ml\t42.1\t\t\t16.7\t0.90"


def test_every_row_of_a_build_is_one_line() -> None:
    trace = workings().trace(SIGNAL)
    rows = RowMaker(trace.book, workings().users_of).rows(trace)
    assert len(as_text(rows).splitlines()) == len(rows)


def test_a_table_escapes_every_text() -> None:
    html = as_html([a_row("<b>gin</b> & tonic")])
    assert "<td>&lt;b&gt;gin&lt;/b&gt; &amp; tonic</td>" in html


def test_a_name_with_a_line_break_stays_one_line() -> None:
    assert as_text([a_row("dry\ngin\tcold")]).startswith("dry gin cold\t")


def test_one_cell_is_copied_as_it_is_shown() -> None:
    row = a_row("dry gin")
    assert [cell_as_text(row, column) for column in (0, 1, 2, 3, 7)] == [
        "dry gin",
        "45 ml",
        "45 ml",
        "42.1",
        "0.90",
    ]


def test_a_table_of_another_program_becomes_lines() -> None:
    first, second = "<tr><td>45 ml</td><td>dry<br>gin</td></tr>", "<tr><td>verjus</td><td>15 ml</td></tr>"
    html = f"<table><tr><th>what</th></tr>{first}{second}</table>"
    assert lines_of_table(html) == ["45 ml\tdry gin", "verjus\t15 ml"]


def test_our_own_table_comes_back_line_by_line() -> None:
    trace = workings().trace(SIGNAL)
    rows = RowMaker(trace.book, workings().users_of).rows(trace)
    chosen = [row for row in rows if row.key == (CORDIAL_LINE,)]
    assert lines_of_table(as_html(chosen))[0].startswith("pear cordial\t22.5 ml")


def test_html_without_a_table_gives_no_lines() -> None:
    assert lines_of_table("<p>45 ml dry gin</p>") == []
