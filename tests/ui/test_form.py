"""Rows of a form: what stands below a field keeps its place under it, whatever the text size."""

import pytest
from pytestqt.qtbot import QtBot

from washline.ui.appearance import Appearance
from washline.ui.fonts import application_fonts
from washline.ui.form import PlainField, Row, TextRow
from washline.ui.measures import Measures
from washline.ui.theme import light_theme


def look(unit: float) -> Appearance:
    return Appearance(light_theme(), application_fonts(unit), Measures(unit), is_calm=True)


def shown_row(qtbot: QtBot, unit: float) -> Row:
    row = TextRow(look(unit), "Ice", lambda text: "", hint="Empty: as usual for the glass")
    qtbot.addWidget(row)
    row.resize(1000, 120)
    with qtbot.waitExposed(row):
        row.show()
    return row


def places(row: Row) -> tuple[int, int, int]:
    layout = row.layout()
    assert layout is not None
    layout.activate()
    return row.field.x(), row.hint.x(), row.problem.x()


@pytest.mark.parametrize("unit", [0.8, 1.25, 2.0])
def test_hint_and_problem_follow_a_live_change_of_text_size(qtbot: QtBot, unit: float) -> None:
    row, fresh = shown_row(qtbot, 1.0), shown_row(qtbot, unit)
    for one in (row, fresh):
        one.say("Expected an ice.")
    at_first = places(row)
    row.set_appearance(look(unit))
    assert places(row) == places(fresh) != at_first


def test_hint_and_problem_begin_where_the_field_begins(qtbot: QtBot) -> None:
    row = shown_row(qtbot, 1.0)
    row.say("Expected an ice.")
    field, hint, problem = places(row)
    assert field == hint == problem
    row.set_appearance(look(2.0))
    field, hint, problem = places(row)
    assert field == hint == problem


def test_what_was_expected_is_ringed_and_taken_away(qtbot: QtBot) -> None:
    row = shown_row(qtbot, 1.0)
    row.say("Expected an ice.")
    assert isinstance(row.field, PlainField)
    assert row.field.has_error
    assert row.problem.isVisible()
    row.say("")
    assert not row.field.has_error
    assert not row.problem.isVisible()
