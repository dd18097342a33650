"""The sheet *In the glass*: it follows edits, is edited in place, says what is missing, in any look and without a mouse."""

from datetime import UTC, datetime

import pytest
from msgspec import structs
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.balance.bench import Bench
from washline.document.commands.items import new_drink, set_build
from washline.document.commands.lines import set_amount
from washline.document.commands.steps import add_step
from washline.model.amount import millilitres
from washline.model.step import BarStrain, Carbonate, Chill, Top
from washline.presentation.glass_level import Fill
from washline.presentation.serving import NO_ICE
from washline.ui.appearance import Appearance
from washline.ui.fonts import application_fonts
from washline.ui.form import NumberRow, PlainField
from washline.ui.glass.view import GlassView
from washline.ui.measures import Measures
from washline.ui.theme import dark_theme, light_theme


def now() -> datetime:
    return datetime(2026, 11, 21, tzinfo=UTC)


@pytest.fixture
def view(bench: Bench, qtbot: QtBot) -> GlassView:
    widget = GlassView(bench.session, bench.look, now)
    qtbot.addWidget(widget)
    widget.resize(1192, 846)
    with qtbot.waitExposed(widget):
        widget.show()
    bench.settle()
    return widget


def plain(text: str) -> str:
    return text.replace("\u202f", " ")


def facts(view: GlassView) -> dict[str, str]:
    return {fact.key: plain(fact.figure) for fact in view.facts.facts}


def field_of(row: NumberRow) -> PlainField:
    assert isinstance(row.field, PlainField)
    return row.field


def type_into(row: NumberRow, text: str, key: Qt.Key = Qt.Key.Key_Return) -> None:
    field = field_of(row)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    if key != Qt.Key.Key_unknown:
        QTest.keyClick(field, key)


def choose(box: QWidget, text: str) -> None:
    assert isinstance(box, QComboBox)
    index = next(number for number in range(box.count()) if plain(box.itemText(number)).startswith(text))
    box.setCurrentIndex(index)
    box.activated.emit(index)


def test_it_shows_the_drink_that_is_open_with_level_and_ice(view: GlassView) -> None:
    assert view.about.text() == "Drift · Rocks glass, double"
    assert view.level is not None
    assert facts(view)["brim"] == "350 ml"
    # A cube of 115 g less what melts of it when the drink is strained over it.
    assert facts(view)["ice"] == "112 g"
    assert view.picture.level is view.level


def test_it_follows_what_is_typed_elsewhere_and_says_that_nothing_is_written(
    view: GlassView, bench: Bench
) -> None:
    before = facts(view)["wash_line"]
    bench.session.set_preview(set_build(bench.build("Drift").id, wash_line_ml=110.0))
    bench.settle()
    assert (before, facts(view)["wash_line"]) == ("188 ml", "110 ml")
    assert view.about.text().endswith("preview, nothing is written")
    bench.session.set_preview(None)
    assert facts(view)["wash_line"] == "188 ml"


def test_a_hidden_sheet_follows_when_it_is_shown_again(view: GlassView, bench: Bench) -> None:
    view.hide()
    bench.show("Pear Signal")
    assert view.about.text().startswith("Drift")
    view.show()
    bench.settle()
    assert view.about.text().startswith("Pear Signal")


def test_a_wash_line_is_typed_in_place_previewed_and_undone(view: GlassView, bench: Bench) -> None:
    type_into(view.fields.wash_line, "96", Qt.Key.Key_unknown)
    assert facts(view)["wash_line"] == "96 ml"
    assert bench.build("Drift").wash_line_ml is None
    assert view.level is not None
    assert view.level.fill is Fill.OVER_LINE
    QTest.keyClick(field_of(view.fields.wash_line), Qt.Key.Key_Return)
    assert bench.build("Drift").wash_line_ml == 96.0
    bench.document.undo()
    bench.settle()
    assert facts(view)["wash_line"] == "188 ml"
    assert field_of(view.fields.wash_line).text() == ""


def test_escape_takes_a_typed_wash_line_back(view: GlassView, bench: Bench) -> None:
    type_into(view.fields.wash_line, "96", Qt.Key.Key_Escape)
    bench.settle()
    assert facts(view)["wash_line"] == "188 ml"
    assert bench.build("Drift").wash_line_ml is None


def test_what_is_no_number_stays_in_its_field_with_one_line(view: GlassView, bench: Bench) -> None:
    type_into(view.fields.foam, "much")
    bench.settle()
    assert field_of(view.fields.foam).text() == "much"
    assert view.fields.foam.problem.text() == "“much” is not a number. Expected a number in ml."
    assert bench.build("Drift").foam_ml is None


def test_foam_set_for_a_drink_stands_on_it(view: GlassView) -> None:
    type_into(view.fields.foam, "12")
    assert view.level is not None
    assert view.level.drawn.foam_ml == 12.0
    assert facts(view)["foam"] == "12 ml"


def test_another_glass_is_chosen_in_place(view: GlassView, bench: Bench) -> None:
    choose(view.fields.glass.field, "Highball, 350 ml")
    bench.settle()
    assert bench.build("Drift").glass == "highball"
    assert view.about.text() == "Drift · Highball"


def test_ice_is_taken_out_and_put_back(view: GlassView, bench: Bench) -> None:
    choose(view.fields.ice.field, "no ice")
    bench.settle()
    assert bench.build("Drift").ice_g == 0.0
    assert facts(view)["ice"] == "none"
    assert view.serving_words.text() == NO_ICE
    choose(view.fields.ice.field, "as usual for the glass")
    bench.settle()
    assert bench.build("Drift").ice_g is None
    assert facts(view)["ice"] == "115 g"


def test_ice_on_which_a_drink_is_built_is_changed_in_its_step_too(view: GlassView, bench: Bench) -> None:
    bench.show("Pear Signal")
    assert "Build on ice" in view.fields.ice_g.hint.text()
    type_into(view.fields.ice_g, "90")
    bench.settle()
    drink = bench.build("Pear Signal")
    chill = next(step for step in drink.steps if isinstance(step, Chill))
    assert (drink.ice_g, chill.ice_g) == (90.0, 90.0)
    assert facts(view)["ice"] == "80 g"
    choose(view.fields.ice.field, "Crushed")
    bench.settle()
    assert view.level is not None
    assert view.level.drawn.ice is not None
    assert view.level.drawn.ice.kind == "crushed"
    bench.document.undo()
    bench.document.undo()
    bench.settle()
    assert facts(view)["ice"] == "105 g"


def test_fresh_ice_under_a_strain_is_changed_in_place(view: GlassView, bench: Bench) -> None:
    type_into(view.fields.ice_g, "140")
    bench.settle()
    strain = next(step for step in bench.build("Drift").steps if isinstance(step, BarStrain))
    assert strain.fresh_ice_g == 140.0
    assert len(view.chills.table.rows) == 2


def test_serving_over_time_follows_the_paint_with_its_assumptions_and_a_table(
    view: GlassView, bench: Bench
) -> None:
    assert view.curve.curves is not None
    assert view.serving_words.text().startswith("In 20 minutes: strength ")
    assert view.curve.curves.assumptions[0] in view.serving_words.text()
    assert [plain(row.name) for row in view.serving_table.rows][:2] == ["0 min", "2 min"]
    strengths = [float(row.cells[0]) for row in view.serving_table.rows]
    assert strengths == sorted(strengths, reverse=True)


def test_a_burst_of_keys_is_followed_over_time_once_it_rests(
    view: GlassView, bench: Bench, qtbot: QtBot
) -> None:
    before = view.curve.curves
    drift = bench.build("Drift")
    for millilitres_poured in (50.0, 55.0, 60.0):
        amount = millilitres(millilitres_poured)
        bench.session.set_preview(set_amount(drift.id, drift.steps[0].id, amount))
        bench.settle()
    assert view.curve.curves is before
    qtbot.waitUntil(lambda: view.curve.curves is not before)
    assert view.serving_words.text().startswith("In 20 minutes: strength ")
    bench.session.set_preview(None)
    bench.settle()
    assert view.curve.curves == before


def test_a_part_says_that_it_has_no_glass_and_what_to_do(view: GlassView, bench: Bench, qtbot: QtBot) -> None:
    bench.show("pear-sorrel cordial")
    assert view.empty.text().startswith("pear-sorrel cordial is a house-made part")
    assert not view.picture.isVisible()
    assert not view.fields.isVisible()
    assert not view.chills.isVisible()
    with qtbot.waitSignal(view.closed):
        QTest.mouseClick(view.build_button, Qt.MouseButton.LeftButton)


def test_nothing_open_says_so(view: GlassView, bench: Bench) -> None:
    bench.session.show(None)
    bench.settle()
    assert view.empty.text() == "No drink or part is open."
    assert not view.chills.isVisible()


def test_a_drink_without_a_glass_asks_for_one_and_puts_the_cursor_there(
    view: GlassView, bench: Bench
) -> None:
    bench.session.commit(set_build(bench.build("Drift").id, glass=None), "glass")
    bench.settle()
    assert view.empty.text().startswith("No glass is chosen for Drift.")
    assert view.level is None
    view.focus_first()
    assert view.fields.glass.field.hasFocus()


def test_a_new_drink_says_that_nothing_is_poured(view: GlassView, bench: Bench) -> None:
    bench.document.do(new_drink("Ebb tide", glass="coupe"), "drink")
    bench.show("Ebb tide")
    assert view.verdict.text() == "Nothing is poured yet. Add a first line in the build."
    assert view.chills.empty.text().startswith("Nothing chills this. Add a step in the build")


def test_a_heavy_layer_is_told_to_sink(view: GlassView, bench: Bench) -> None:
    drink, syrup = bench.build("Sloe Tide"), bench.build("peel sugar syrup")
    layer = Top(id=0, build_id=drink.id, place=0.0, item_id=syrup.id, amount=millilitres(10.0), is_layer=True)
    bench.session.commit(add_step(drink.id, layer), "layer")
    bench.show("Sloe Tide")
    assert view.sinks.isVisible()
    assert view.sinks.text().startswith("peel sugar syrup will sink: it is heavier")


def test_a_carbonation_shows_its_pressure_and_cautions(view: GlassView, bench: Bench) -> None:
    drink = bench.build("Orchard Bell")
    vessel = next(one for one in bench.document.book.vessels.values() if one.rated_kpa)
    step = Carbonate(id=0, build_id=drink.id, place=0.0, vessel=vessel.slug, co2_g_per_l=4.0, at_c=2.0)
    bench.session.commit(add_step(drink.id, step), "gas")
    bench.show("Orchard Bell")
    (box,) = view.pressure_boxes
    assert box.isVisible()
    name, verdict, cautions = box.texts
    assert name == f"Carbonate in {vessel.name}"
    assert plain(verdict) == "Within the rating at 25 °C."
    assert "eye protection" in cautions
    bench.show("Drift")
    assert not box.isVisible()


def test_a_vessel_without_a_rating_is_refused_in_words(view: GlassView, bench: Bench) -> None:
    drink = bench.build("Orchard Bell")
    step = Carbonate(id=0, build_id=drink.id, place=0.0, co2_g_per_l=4.0)
    bench.session.commit(add_step(drink.id, step), "gas")
    bench.show("Orchard Bell")
    assert "rated for" in view.pressure_boxes[0].texts[1]


def test_escape_closes_it(view: GlassView, qtbot: QtBot) -> None:
    with qtbot.waitSignal(view.closed):
        QTest.keyClick(view, Qt.Key.Key_Escape)


def test_tab_goes_through_every_field_and_table_in_the_order_of_reading(view: GlassView) -> None:
    view.close_button.setFocus()
    seen: list[QWidget | None] = []
    for _ in range(12):
        QTest.keyClick(view.focusWidget() or view, Qt.Key.Key_Tab)
        seen.append(view.focusWidget())
    fields = [row.field for row in view.fields.rows]
    assert seen[: len(fields)] == fields
    assert view.chills.table in seen
    assert view.chills.weigh_button in seen
    assert view.serving_table in seen
    assert seen.index(view.chills.table) < seen.index(view.serving_table)


def test_a_screen_reader_finds_glass_rows_and_curves(view: GlassView) -> None:
    assert view.picture.accessibleName() == "The glass"
    assert view.picture.accessibleDescription().startswith("Right: ")
    assert view.curve.accessibleDescription().startswith("In 20 minutes")
    rows = QAccessible.queryAccessibleInterface(view.serving_table)
    assert rows.childCount() == 6
    assert "strength, % vol" in rows.child(0).text(QAccessible.Text.Name)


@pytest.mark.parametrize("unit", [1.0, 2.0])
def test_every_look_is_taken_and_nothing_goes_beyond_the_sheet(
    view: GlassView, bench: Bench, unit: float
) -> None:
    for theme in (dark_theme(), light_theme()):
        view.set_appearance(Appearance(theme, application_fonts(unit), Measures(unit), is_calm=True))
        view.resize(round(800 * unit), round(700 * unit))
        bench.settle()
        image = view.grab().toImage()
        assert image.pixelColor(2, image.height() - 3) == theme.sheet
        assert view._body.width() <= view._page.viewport().width()


def test_a_narrow_sheet_stacks_glass_and_facts(view: GlassView, bench: Bench) -> None:
    view.resize(600, 800)
    bench.settle()
    assert view.verdict.geometry().top() >= view.picture.geometry().bottom()
    assert view._body.width() <= view._page.viewport().width()


def test_what_is_read_only_cannot_be_changed(
    bench: Bench, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(type(bench.document), "is_read_only", property(lambda document: True))
    widget = GlassView(bench.session, bench.look, now)
    qtbot.addWidget(widget)
    with qtbot.waitExposed(widget):
        widget.show()
    bench.settle()
    assert not any(row.field.isEnabled() for row in widget.fields.rows)
    assert not widget.chills.weigh_button.isEnabled()


def test_a_name_that_looks_like_mark_up_is_shown_letter_by_letter(view: GlassView, bench: Bench) -> None:
    drift = bench.build("Drift")
    bench.session.commit(
        lambda book: book.with_build(structs.replace(drift, name="<b>Drift</b> & %1")), "name"
    )
    bench.settle()
    assert view.about.text().startswith("<b>Drift</b> & %1 · ")
