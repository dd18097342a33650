"""A new ingredient from its label or from readings: understood while typing, written as one step."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from tests.ui.balance.bench import Bench
from tests.ui.ingredient.conftest import clock
from washline.chemistry.components import CITRIC, SUCROSE
from washline.model.item import UNKNOWN
from washline.presentation.entry_parts import SugarsLike
from washline.ui.ingredient.entry import READINGS, IngredientEntry


@pytest.fixture
def entry(bench: Bench, qtbot: QtBot) -> IngredientEntry:
    widget = IngredientEntry(bench.document, bench.look, clock)
    qtbot.addWidget(widget)
    widget.resize(780, 900)
    with qtbot.waitExposed(widget):
        widget.show()
    return widget


def type_name(entry: IngredientEntry, name: str) -> None:
    field = entry.name.field
    assert isinstance(field, QLineEdit)
    field.setFocus()
    QTest.keyClicks(field, name)


def type_number(entry: IngredientEntry, key: str, text: str) -> None:
    field = entry.number(key).field
    assert isinstance(field, QLineEdit)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)


def said(entry: IngredientEntry) -> str:
    return "\n".join(entry.understanding.texts)


def test_nothing_can_be_written_before_something_is_known(entry: IngredientEntry) -> None:
    assert not entry.write_button.isEnabled()
    assert "Nothing of the label is entered yet" in said(entry)


def test_figures_are_understood_while_they_are_typed(entry: IngredientEntry) -> None:
    type_number(entry, "sugars", "9")
    assert "g/ml, solved on the model" in said(entry)
    assert "A name is missing." in said(entry)
    assert not entry.write_button.isEnabled()


def test_a_label_becomes_one_ingredient_in_one_step(
    entry: IngredientEntry, bench: Bench, qtbot: QtBot
) -> None:
    before = bench.document.book
    type_name(entry, "marsh tonic")
    entry.like.show_value(SugarsLike.SUCROSE)
    entry._put("like")(SugarsLike.SUCROSE)
    for key, text in (
        ("energy_kj", "153"),
        ("carbohydrate", "9"),
        ("sugars", "9"),
        ("strength_pct_vol", "0"),
    ):
        type_number(entry, key, text)
    type_number(entry, "price", "2.5")
    assert "they agree" in said(entry)
    with qtbot.waitSignal(entry.made) as made:
        QTest.mouseClick(entry.write_button, Qt.MouseButton.LeftButton)
    raw = bench.document.book.raws[made.args[0]]
    assert (raw.name, raw.slug, raw.allergens) == ("marsh tonic", "marsh-tonic", (UNKNOWN,))
    assert raw.composition[SUCROSE] == pytest.approx(8.66, abs=0.02)
    assert raw.composition[CITRIC] is None
    assert raw.prices[0].per_unit == 2.5
    bench.document.undo()
    assert bench.document.book.raws == before.raws


def test_a_label_in_kilocalories_is_checked_too(entry: IngredientEntry) -> None:
    type_number(entry, "sugars", "10")
    type_number(entry, "energy_kcal", "41")
    assert "label 172 kJ" in said(entry)


def test_the_unit_of_the_figures_follows_what_the_label_is_per(entry: IngredientEntry) -> None:
    assert entry.number("sugars").unit.text() == "g in 100 ml"
    entry._put("per")("100 g")
    assert entry.number("sugars").unit.text() == "g in 100 g"


def test_readings_make_a_juice(entry: IngredientEntry, bench: Bench, qtbot: QtBot) -> None:
    type_name(entry, "hedge apple juice")
    entry._put("way")(READINGS)
    assert entry.number("brix").isVisible()
    assert not entry.number("sugars").isVisible()
    for key, text in (("brix", "12"), ("ph", "3.4"), ("acidity_pct", "0.8")):
        type_number(entry, key, text)
    assert "mmol of cations" in said(entry)
    with qtbot.waitSignal(entry.made) as made:
        QTest.keyClick(entry, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    raw = bench.document.book.raws[made.args[0]]
    assert (raw.titratable_acidity_pct, raw.soluble_solids_pct, raw.ph_model) == (0.8, 12.0, "fitted")
    assert raw.composition[SUCROSE] is None


def test_what_is_no_number_keeps_the_button_shut(entry: IngredientEntry) -> None:
    type_name(entry, "x")
    type_number(entry, "sugars", "nine")
    assert "not understood yet" in said(entry)
    assert not entry.write_button.isEnabled()


def test_figures_that_cannot_be_together_say_why(entry: IngredientEntry) -> None:
    type_number(entry, "carbohydrate", "5")
    type_number(entry, "sugars", "8")
    assert "more than the carbohydrate" in said(entry)


def test_allergens_are_unknown_until_the_label_is_said_to_be_read(
    entry: IngredientEntry, bench: Bench, qtbot: QtBot
) -> None:
    type_name(entry, "celery soda")
    type_number(entry, "sugars", "3")
    assert "allergens are not known" in said(entry)
    for key in ("celery", UNKNOWN):
        QTest.mouseClick(entry.contains.choices.tick(key), Qt.MouseButton.LeftButton)
    assert "allergens are not known" not in said(entry)
    with qtbot.waitSignal(entry.made) as made:
        QTest.mouseClick(entry.write_button, Qt.MouseButton.LeftButton)
    assert bench.document.book.raws[made.args[0]].allergens == ("celery",)


def test_a_name_that_is_taken_is_said_and_allowed(entry: IngredientEntry, bench: Bench) -> None:
    taken = next(iter(bench.document.book.raws.values())).name
    entry.start(taken)
    type_number(entry, "sugars", "3")
    assert "of that name already" in said(entry)
    assert entry.write_button.isEnabled()


def test_escape_closes_and_writes_nothing(entry: IngredientEntry, bench: Bench, qtbot: QtBot) -> None:
    revision = bench.document.revision
    type_number(entry, "sugars", "3")
    entry.setFocus()
    with qtbot.waitSignal(entry.closed):
        QTest.keyClick(entry, Qt.Key.Key_Escape)
    assert bench.document.revision == revision
