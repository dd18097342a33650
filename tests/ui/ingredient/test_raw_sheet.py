"""The sheet of a raw ingredient: what it shows, what it writes, and that every edit is one step."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.balance.bench import Bench
from tests.ui.ingredient.conftest import by_slug, clock
from washline.document.commands.raws import set_raw
from washline.model.item import UNKNOWN, Today
from washline.presentation.raw_facts import component
from washline.ui.book.raw_sheet import RawSheet
from washline.ui.form import ChoicesRow, NumberRow

LEMON = "lemon-juice"


@pytest.fixture
def sheet(bench: Bench, qtbot: QtBot) -> RawSheet:
    widget = RawSheet(bench.document, bench.bridge, bench.look, clock)
    qtbot.addWidget(widget)
    widget.resize(780, 800)
    with qtbot.waitExposed(widget):
        widget.show()
    widget.show_raw(by_slug(bench, LEMON).id)
    return widget


def type_into(field: QWidget, text: str) -> None:
    assert isinstance(field, QLineEdit)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)


def row(sheet: RawSheet, label: str) -> NumberRow:
    return next(one for one in sheet.findChildren(NumberRow) if one.label.text() == label)


def choices(sheet: RawSheet, label: str) -> ChoicesRow:
    return next(one for one in sheet.findChildren(ChoicesRow) if one.label.text() == label)


def test_the_bar_says_its_composition_in_words(sheet: RawSheet) -> None:
    assert sheet.bar.words[0].startswith("sugars 2.0 g")
    assert sheet.bar.accessibleDescription().startswith("sugars 2.0 g, acids 5.0 g")


def test_a_sharper_lemon_is_one_step_with_water_giving_way(sheet: RawSheet, bench: Bench) -> None:
    before = by_slug(bench, LEMON)
    type_into(sheet.table.rows["citric"].field, "6")
    after = by_slug(bench, LEMON)
    assert component(after, "citric") == 6.0
    assert sum(part or 0.0 for part in after.composition) == pytest.approx(100.0, abs=0.01)
    bench.document.undo()
    assert by_slug(bench, LEMON) == before


def test_a_component_that_is_emptied_is_not_known(sheet: RawSheet, bench: Bench) -> None:
    field = sheet.table.rows["malic"].field
    assert isinstance(field, QLineEdit)
    field.setFocus()
    field.selectAll()
    QTest.keyClick(field, Qt.Key.Key_Delete)
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert component(by_slug(bench, LEMON), "malic") is None
    assert field.placeholderText() == "not known"


def test_what_does_not_fit_is_refused_where_it_was_typed(sheet: RawSheet, bench: Bench) -> None:
    before = by_slug(bench, LEMON)
    type_into(sheet.table.rows["citric"].field, "150")
    assert "from 0 to 101" in sheet.table.rows["citric"].problem.text()
    assert by_slug(bench, LEMON) == before


def test_what_is_ticked_is_known_and_the_rest_stays_unknown_until_the_label_is_read(
    sheet: RawSheet, bench: Bench
) -> None:
    bench.document.do(set_raw(by_slug(bench, LEMON).id, allergens=(UNKNOWN,)), "unknown")
    picked = choices(sheet, "Allergens").choices
    QTest.mouseClick(picked.tick("sulphites"), Qt.MouseButton.LeftButton)
    assert by_slug(bench, LEMON).allergens == (UNKNOWN, "sulphites")
    QTest.mouseClick(picked.tick(UNKNOWN), Qt.MouseButton.LeftButton)
    assert by_slug(bench, LEMON).allergens == ("sulphites",)


def test_may_contain_is_written_beside_contains(sheet: RawSheet, bench: Bench) -> None:
    QTest.mouseClick(choices(sheet, "May contain").choices.tick("nuts"), Qt.MouseButton.LeftButton)
    assert by_slug(bench, LEMON).may_contain == ("nuts",)


def test_users_are_named_with_their_amounts_and_lead_there(
    sheet: RawSheet, bench: Bench, qtbot: QtBot
) -> None:
    first = sheet.users.rows[0]
    assert (first.name, first.detail) == ("Marsh Sour", "22.5\u202fml")
    with qtbot.waitSignal(sheet.item_asked) as asked:
        QTest.mouseClick(first, Qt.MouseButton.LeftButton)
    assert asked.args == [bench.build("Marsh Sour").id]


def test_the_drinks_that_it_makes_unsure_are_found(sheet: RawSheet, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: bool(sheet.doubts.links.rows), timeout=5000)
    assert sheet.doubts.found[0].name == "Marsh Sour"
    assert "acidity ±" in sheet.doubts.links.rows[0].detail
    assert not sheet.doubts.is_working


def test_looking_for_doubts_ends_when_the_sheet_is_hidden(sheet: RawSheet) -> None:
    assert sheet.doubts.is_working
    sheet.hide()
    assert not sheet.doubts.is_working


def test_a_price_is_added_with_its_date_and_taken_off_again(sheet: RawSheet, bench: Bench) -> None:
    count = len(by_slug(bench, LEMON).prices)
    assert sheet.prices.day.text() == clock().astimezone().date().isoformat()
    type_into(sheet.prices.paid, "5.20")
    added = by_slug(bench, LEMON).prices[-1]
    assert (added.per_unit, added.unit) == (5.2, "l")
    bench.document.undo()
    assert len(by_slug(bench, LEMON).prices) == count


def test_a_price_or_date_that_is_none_stays_and_is_explained(sheet: RawSheet, bench: Bench) -> None:
    count = len(by_slug(bench, LEMON).prices)
    type_into(sheet.prices.paid, "cheap")
    assert "is no price" in sheet.prices.problem.text()
    assert sheet.prices.paid.text() == "cheap"
    type_into(sheet.prices.day, "yesterday")
    assert "is no date" in sheet.prices.problem.text()
    assert len(by_slug(bench, LEMON).prices) == count


# Today


def test_the_slider_moves_by_keys_and_holds_until_the_service_ends(sheet: RawSheet, bench: Bench) -> None:
    slider = sheet.today.shifts["acids_pct"].slider
    slider.setFocus()
    for _ in range(2):
        QTest.keyClick(slider, Qt.Key.Key_PageUp)
    QTest.keyClick(slider, Qt.Key.Key_Right)
    today = by_slug(bench, LEMON).today
    assert today is not None
    assert (today.acids_pct, today.sugars_pct, today.how) == (21.0, 0.0, "the slider")
    assert "acids +21 %" in sheet.today.state.text()
    assert "today: acids +21 %" in sheet.about.text()


def test_steps_of_the_slider_in_a_row_are_one_undo(sheet: RawSheet, bench: Bench) -> None:
    slider = sheet.today.shifts["acids_pct"].slider
    for _ in range(5):
        QTest.keyClick(slider, Qt.Key.Key_Right)
    assert bench.document.undo_label == "today's lemon juice"
    bench.document.undo()
    assert by_slug(bench, LEMON).today is None


def test_a_titration_becomes_percent_and_the_table_stays(sheet: RawSheet, bench: Bench) -> None:
    before = by_slug(bench, LEMON)
    type_into(sheet.today.titration.field, "6.0")
    after = by_slug(bench, LEMON)
    assert after.today is not None
    assert 20.0 < after.today.acids_pct < 25.0
    assert after.composition == before.composition
    assert sheet.today.titration.hint.text() == "The table reads 4.81, today 6.00"


def test_refractometer_and_titration_together_read_what_was_read(sheet: RawSheet, bench: Bench) -> None:
    type_into(sheet.today.brix.field, "7.5")
    type_into(sheet.today.titration.field, "6.0")
    assert sheet.today.brix.hint.text().endswith("today 7.5")
    assert sheet.today.titration.hint.text().endswith("today 6.00")
    type_into(sheet.today.ph.field, "2.2")
    today = by_slug(bench, LEMON).today
    assert today is not None
    assert "titration" in today.how


def test_a_strip_says_how_coarse_it_is(sheet: RawSheet, bench: Bench) -> None:
    type_into(sheet.today.ph.field, "2.2")
    today = by_slug(bench, LEMON).today
    assert today is not None
    assert "a strip reads to 0.2" in today.how


def test_a_reading_that_cannot_be_is_explained_and_kept(sheet: RawSheet, bench: Bench) -> None:
    type_into(sheet.today.titration.field, "40")
    assert "cannot read 40" in sheet.today.titration.problem.text()
    assert by_slug(bench, LEMON).today is None


def test_back_to_the_table_is_one_press(sheet: RawSheet, bench: Bench) -> None:
    raw = by_slug(bench, LEMON)
    bench.document.do(
        set_raw(raw.id, today=Today(10.0, 10.0, "2026-11-22T02:00+00:00", "the slider")), "today"
    )
    assert sheet.today.back_button.isVisible()
    QTest.mouseClick(sheet.today.back_button, Qt.MouseButton.LeftButton)
    assert by_slug(bench, LEMON).today is None
    assert not sheet.today.back_button.isVisible()


def test_the_wheel_moves_no_slider_without_focus(sheet: RawSheet) -> None:
    slider = sheet.today.shifts["sugars_pct"].slider
    assert slider.focusPolicy() == Qt.FocusPolicy.StrongFocus
    assert slider.value() == 0


# The rest


def test_a_correction_is_told_where_it_was_made(sheet: RawSheet, bench: Bench, qtbot: QtBot) -> None:
    raw = by_slug(bench, LEMON)
    sheet.say_moved((raw.id + 1,), "1 drink moved: 1 left its band.")
    assert not sheet.moved_words.isVisible()
    sheet.say_moved((raw.id,), "1 drink moved: 1 left its band.")
    assert sheet.moved_words.isVisible()
    with qtbot.waitSignal(sheet.moved_asked):
        QTest.mouseClick(sheet.moved_button, Qt.MouseButton.LeftButton)


def test_every_field_has_a_name_for_a_screen_reader(sheet: RawSheet) -> None:
    nameless = [
        widget
        for widget in sheet.findChildren(QWidget)
        if widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        and widget.isVisible()
        and not widget.accessibleName()
        and not getattr(widget, "text", lambda: "")()
        and widget.objectName() != "qt_spinbox_lineedit"
    ]
    assert nameless == []


def test_other_looks_are_taken_over(sheet: RawSheet, bench: Bench) -> None:
    sheet.set_appearance(bench.look)
    assert sheet.bar.height() > 0


def test_another_ingredient_lets_go_of_what_was_not_understood(sheet: RawSheet, bench: Bench) -> None:
    type_into(sheet.today.titration.field, "40")
    sheet.show_raw(by_slug(bench, "dry-gin").id)
    assert sheet.today.titration.problem.text() == ""
    assert sheet.title.text() == by_slug(bench, "dry-gin").name
