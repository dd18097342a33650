"""The sheet of the house's data as a person works on it: typing, adding, duplicating, removing, finding, sorting."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from msgspec import structs
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QKeySequence, QShortcut
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QMenu, QWidget

from tests.presentation.glass_house import DRINK, bar, with_drink
from tests.ui.costs.bench import Bench, Opener, settle
from washline.model.book import HouseBook
from washline.model.house import Calibration, Measure, MethodKind, Weighing
from washline.ui.appearance import Appearance
from washline.ui.fonts import application_fonts
from washline.ui.house_data.editors import ChoiceEditor
from washline.ui.house_data.view import HouseDataView
from washline.ui.measures import Measures
from washline.ui.theme import dark_theme

Made = tuple[Bench, HouseDataView]
Make = Callable[..., Made]
CONTROL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def make_view(make_bench: Opener) -> Make:
    def make(book: HouseBook | None = None, *, is_read_only: bool = False, width: int = 1180) -> Made:
        bench = make_bench(book or bar(), is_read_only=is_read_only)
        view = HouseDataView(bench.document, bench.bridge, bench.look)
        for table in view.tables.values():
            QAbstractItemModelTester(table.rows, QAbstractItemModelTester.FailureReportingMode.Fatal, table)
        bench.qtbot.addWidget(view)
        view.resize(width, 800)
        with bench.qtbot.waitExposed(view):
            view.show()
        view.focus_first()
        settle()
        return bench, view

    return make


def weighed_bar() -> HouseBook:
    weighing = Weighing(
        id=400, method="stir", ice="cubes", date="2026-11-20", build_id=DRINK,
        composition=(60.0, 20.0, *([0.0] * 22)), liquid_c=20.0, ice_g=180.0, seconds=30.0, melted_g=31.0,
    )  # fmt: skip
    calibration = Calibration(
        slug="stir/cubes", method="stir", ice="cubes", date="2026-11-21", tau_s=9.0, weighings=1
    )
    return bar().with_weighing(weighing).with_calibration(calibration)


def names(view: HouseDataView) -> list[str]:
    rows = view.table.rows
    return [str(rows.index(row, 0).data()) for row in range(rows.rowCount())]


def place(view: HouseDataView, key: str) -> int:
    return next(number for number, one in enumerate(view.table.rows.columns) if one.key == key)


def go(view: HouseDataView, table: str, row: str | int, column: str) -> None:
    view.show_table(table)
    view.table.go_to(row, place(view, column))
    view.table.setFocus()
    settle()


def type_text(view: HouseDataView, typed: str, leave: Qt.Key = Qt.Key.Key_Return) -> None:
    for letter in typed:
        QTest.keyClicks(view.table.editor or view.table, letter)
    QTest.keyClick(view.table.editor or view.table, leave)
    settle()


def press(widget: QWidget, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    QTest.keyClick(widget, key, held)
    settle()


def click(widget: QWidget) -> None:
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton)
    settle()


# What is shown


def test_each_kind_of_data_has_its_tab_with_how_much_there_is(make_view: Make) -> None:
    _, view = make_view(weighed_bar())
    assert [button.text() for button in view.tabs.values()] == [
        "Glassware 2", "Methods 4", "Ice 3", "Vessels 1", "Measures 0", "Weighings 1",
    ]  # fmt: skip
    assert names(view) == ["coupe", "rocks glass"]


def test_current_glass_is_drawn_with_its_levels_in_words_too(make_view: Make) -> None:
    _, view = make_view()
    go(view, "glass", "rocks", "name")
    assert view.panel.glass.isVisible()
    # 80 % of what 114.6 g of ice at 0.917 g/ml leave of 300 ml: 140 ml.
    assert view.panel.text.startswith("Brim 300\u202fml. Wash line 140\u202fml, by the house’s share.")
    assert "Wash line 140" in view.panel.glass.accessibleDescription()


def test_current_method_is_drawn_with_its_melt(make_view: Make) -> None:
    _, view = make_view()
    go(view, "method", "stir", "tau")
    assert view.panel.melt.isVisible()
    assert "100 ml of 20 % vol" in view.panel.melt.accessibleDescription()
    go(view, "method", "dry-shake", "tau")
    assert not view.panel.melt.isVisible()
    assert "Nothing melts by this method" in view.panel.text


def test_editing_the_time_constant_moves_the_curve(make_view: Make) -> None:
    _, view = make_view()
    go(view, "method", "stir", "tau")
    before = view.panel.melt.curve
    type_text(view, "5 s")
    view.table.go_to("stir", 0)
    after = view.panel.melt.curve
    assert before is not None
    assert after is not None
    assert after.melted_g[10] > before.melted_g[10]


def test_empty_table_says_what_stands_there_later(make_view: Make) -> None:
    _, view = make_view()
    view.show_table("weighing")
    settle()
    assert view.stack.currentWidget() is view._empty_page
    assert view._empty.text().startswith("Nothing was weighed yet.")


# Typing


def test_typed_figure_is_kept_and_enter_goes_down(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "glass", "coupe", "brim")
    type_text(view, "21 cl")
    assert bench.book.glasses["coupe"].brim_ml == pytest.approx(210.0)
    assert bench.book.glasses["coupe"].source == "brim (ml): this house"
    assert view.table.currentIndex().row() == 1
    assert bench.labels[0] == "change of glass coupe"


def test_typed_figure_can_be_undone(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "glass", "coupe", "brim")
    type_text(view, "210")
    bench.document.undo()
    settle()
    assert bench.book == bar()
    assert view.table.rows.index(0, place(view, "brim")).data() == "200"


def test_tab_goes_to_the_next_cell_that_is_typed_into(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "glass", "coupe", "brim")
    type_text(view, "210", Qt.Key.Key_Tab)
    editor = view.table.editor
    assert editor is not None
    assert view.table.currentIndex().column() == place(view, "fill")
    press(editor, Qt.Key.Key_Escape)
    assert bench.book.glasses["coupe"].usual_fill_ml == 100.0


def test_what_is_not_understood_stays_in_the_cell_with_one_line(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "vessel", "bottle", "rating")
    type_text(view, "6 bears")
    editor = view.table.editor
    assert editor is not None
    assert editor.text() == "6 bears"
    assert view.table.bubble.text.startswith(
        "“6 bears” is not a pressure. Expected a pressure over the atmosphere"
    )
    press(editor, Qt.Key.Key_Escape)
    assert view.table.editor is None
    assert bench.book.vessels["bottle"].rated_kpa == 400.0


def test_what_the_house_book_refuses_stays_in_the_cell_too(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "vessel", "bottle", "fill")
    type_text(view, "800")
    assert view.table.editor is not None
    assert "is above" in view.table.bubble.text
    assert bench.book.vessels["bottle"].fill_ml == 700.0


def test_delete_takes_a_rating_away_and_it_is_not_known(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "vessel", "bottle", "rating")
    press(view.table, Qt.Key.Key_Delete)
    assert bench.book.vessels["bottle"].rated_kpa is None
    assert view.table.currentIndex().data() == "not known"


def test_delete_on_what_must_be_there_is_refused_in_words(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "glass", "coupe", "brim")
    press(view.table, Qt.Key.Key_Delete)
    assert view.problem == "Brim cannot be empty."
    assert bench.book.glasses["coupe"].brim_ml == 200.0


def test_choice_is_typed_by_its_first_letters(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "method", "stir", "kind")
    type_text(view, "in the g")
    assert bench.book.methods["stir"].kind is MethodKind.IN_GLASS


def test_choice_goes_round_with_the_arrow_keys_and_says_what_there_is(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "method", "stir", "published")
    press(view.table, Qt.Key.Key_F2)
    editor = view.table.editor
    assert isinstance(editor, ChoiceEditor)
    assert view.table.bubble.text.startswith("none · stirred · shaken")
    press(editor, Qt.Key.Key_Down)
    press(editor, Qt.Key.Key_Return)
    assert bench.book.methods["stir"].published == "shaken"


def test_choices_stand_in_the_menu_of_their_cell(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "method", "stir", "stands")
    menu = view.menu()
    assert menu is not None
    below = menu.findChild(QMenu)
    assert below is not None
    action = next(one for one in below.actions() if one.text() == "at room")
    action.trigger()
    settle()
    assert bench.book.methods["stir"].vessel_is_cold is False


def test_unit_by_definition_opens_no_field_and_says_why(make_view: Make) -> None:
    ounce = Measure(
        slug="oz-us", name="Ounce", value=29.57, unit="ml", low=29.57, high=29.57, source_kind="standard"
    )
    bench, view = make_view(HouseBook(measures={"oz-us": ounce}))
    go(view, "measure", "oz-us", "value")
    with bench.qtbot.waitSignal(view.said) as said:
        press(view.table, Qt.Key.Key_Return)
    assert view.table.editor is None
    assert said.args == ["A unit by definition: it stays as it is."]


# Rows


def test_added_row_opens_its_name(make_view: Make) -> None:
    bench, view = make_view()
    view.show_table("ice")
    click(view.add_button)
    assert view.table.editor is not None
    view.table.editor.selectAll()
    type_text(view, "Hail")
    assert bench.book.ices["new-ice"].name == "Hail"
    assert bench.labels[:2] == ["change of ice Hail", "adding ice New ice"]


def test_duplicated_glass_is_drawn_as_the_first_and_may_be_drawn_like_another(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "glass", "coupe", "name")
    press(view.table, Qt.Key.Key_D, CONTROL)
    assert view.table.editor is not None
    press(view.table.editor, Qt.Key.Key_Escape)
    assert bench.book.glasses["coupe-2"].name == "coupe, copy"
    go(view, "glass", "coupe-2", "form")
    type_text(view, "flute")
    assert "coupe-2" not in bench.book.glasses
    assert bench.book.glasses["flute-2"].name == "coupe, copy"


def test_drinks_follow_their_glass_to_another_form(make_view: Make) -> None:
    book = bar()
    own = structs.replace(book.glasses["coupe"], slug="heirloom", name="heirloom")
    book = replace(book, glasses={"heirloom": own})
    bench, view = make_view(with_drink(book, glass="heirloom"))
    go(view, "glass", "heirloom", "form")
    type_text(view, "flute")
    assert bench.book.builds[DRINK].glass == "flute-2"
    assert list(bench.book.glasses) == ["flute-2"]
    assert view.table.currentIndex().data() == "flute"
    bench.document.undo()
    assert bench.book.builds[DRINK].glass == "heirloom"


def test_glass_of_the_pantry_is_drawn_as_it_is(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "glass", "coupe", "form")
    with bench.qtbot.waitSignal(view.said) as said:
        press(view.table, Qt.Key.Key_Return)
    assert view.table.editor is None
    assert said.args == ["A glass of the pantry is drawn as it is. Duplicate it to draw it like another."]


def test_row_in_use_is_not_removed_and_says_by_what_it_is_used(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "glass", "coupe", "name")
    press(view.table, Qt.Key.Key_Delete)
    assert "It is used by" in view.problem
    assert "Test drink" in view.problem
    assert "coupe" in bench.book.glasses


def test_row_that_nobody_uses_is_removed_and_comes_back(make_view: Make) -> None:
    bench, view = make_view()
    go(view, "ice", "spear", "pace")
    press(view.table, Qt.Key.Key_Delete, CONTROL)
    assert names(view) == ["Crushed", "Cubes"]
    bench.document.undo()
    settle()
    assert names(view) == ["Crushed", "Cubes", "Spear"]


def test_measures_are_neither_added_nor_removed(make_view: Make) -> None:
    bench, view = make_view(
        HouseBook(
            measures={"dash": Measure(slug="dash", name="Dash", value=0.8, unit="ml", low=0.4, high=1.1)}
        )
    )
    go(view, "measure", "dash", "name")
    press(view.table, Qt.Key.Key_Insert)
    press(view.table, Qt.Key.Key_Delete)
    assert not view.add_button.isVisible()
    assert list(bench.book.measures) == ["dash"]
    assert view.problem == "A measure stays: amounts are told in it."


def test_keys_of_the_table_win_over_those_of_the_window(make_view: Make) -> None:
    bench, view = make_view()
    elsewhere: list[str] = []
    for keys in ("Ctrl+D", "Ctrl+Del"):
        QShortcut(QKeySequence(keys), view, lambda: elsewhere.append("window"))
    go(view, "ice", "spear", "pace")
    press(view.table, Qt.Key.Key_D, CONTROL)
    assert "spear-2" in bench.book.ices
    assert not elsewhere


# Weighings


def test_weighing_stands_beside_what_is_computed_then_and_now(make_view: Make) -> None:
    _, view = make_view(weighed_bar())
    go(view, "weighing", 400, "name")
    rows = view.table.rows
    texts = {one.key: str(rows.index(0, number).data()) for number, one in enumerate(rows.columns)}
    assert texts["name"] == "2026-11-20, Test drink"
    assert texts["melted_g"] == "31.0"
    off = float(texts["now_g"]) - 31.0
    assert float(texts["off_g"].replace("\u2212", "-")) == pytest.approx(off, abs=0.11)


def test_calibration_is_forgotten_and_comes_back(make_view: Make) -> None:
    bench, view = make_view(weighed_bar())
    view.show_table("weighing")
    settle()
    assert view.panel.calibrations.texts[0].startswith("Stir, on Cubes: Time constant 9.0\u202fs")
    click(view.panel.calibrations.buttons[0])
    assert not bench.book.calibrations
    assert not view.panel.calibrations.buttons
    bench.document.undo()
    settle()
    assert len(view.panel.calibrations.buttons) == 1


def test_weighing_leads_to_its_drink(make_view: Make) -> None:
    bench, view = make_view(weighed_bar())
    go(view, "weighing", 400, "name")
    with bench.qtbot.waitSignal(view.item_asked) as asked:
        press(view.table, Qt.Key.Key_Return)
    assert asked.args == [DRINK]


# Finding, sorting, copying


def test_letters_on_a_name_find(make_view: Make) -> None:
    _, view = make_view()
    go(view, "glass", "coupe", "name")
    QTest.keyClicks(view.table, "r")
    QTest.keyClicks(view.field, "ocks")
    settle()
    assert names(view) == ["rocks glass"]
    view.field.clear()
    settle()
    assert names(view) == ["coupe", "rocks glass"]


def test_sorting_puts_what_is_not_set_last(make_view: Make) -> None:
    _, view = make_view()
    go(view, "glass", "coupe", "fill")
    for key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
        press(view.table, key, CONTROL)
        assert names(view) == ["coupe", "rocks glass"]


def test_rows_are_copied_for_other_programs(make_view: Make) -> None:
    _, view = make_view()
    go(view, "vessel", "bottle", "name")
    press(view.table, Qt.Key.Key_C, CONTROL)
    assert QGuiApplication.clipboard().text().splitlines()[1].startswith("rated bottle\t750\t700\t4")


def test_name_stays_in_sight_when_the_figures_are_scrolled(make_view: Make) -> None:
    _, view = make_view(width=700)
    go(view, "method", "stir", "source")
    table = view.table
    assert table.horizontalScrollBar().value() > 0
    assert table.visualRect(table.currentIndex().siblingAtColumn(0)).left() == 0
    assert table.visualRect(table.currentIndex()).left() >= table.columnWidth(0)
    assert table.indexAt(table.visualRect(table.currentIndex().siblingAtColumn(0)).center()).column() == 0


# Look and guards


def test_read_only_book_is_looked_at(make_view: Make) -> None:
    bench, view = make_view(is_read_only=True)
    go(view, "glass", "rocks", "brim")
    press(view.table, Qt.Key.Key_F2)
    press(view.table, Qt.Key.Key_Insert)
    assert view.table.editor is None
    assert not view.add_button.isEnabled()
    assert bench.book == bar()


def test_every_control_has_an_accessible_name(make_view: Make) -> None:
    _, view = make_view()
    for table in view.tables.values():
        assert table.accessibleName()
    assert view.field.accessibleName() == "Find in the table"
    go(view, "vessel", "bottle", "rating")
    index = view.table.currentIndex()
    assert index.data(Qt.ItemDataRole.AccessibleTextRole) == "rated bottle, rated for, bar: 4"


@pytest.mark.parametrize("unit", [1.0, 2.0])
def test_dark_and_large_it_paints_every_table(make_view: Make, unit: float) -> None:
    bench, view = make_view(weighed_bar())
    view.set_appearance(Appearance(dark_theme(), application_fonts(unit), Measures(unit), is_calm=True))
    for key in view.tabs:
        view.show_table(key)
        settle()
        picture = view.grab().toImage()
        colours = {picture.pixelColor(x, y).rgb() for x in range(0, 600, 7) for y in range(0, 400, 7)}
        assert len(colours) > 3
    assert view.tables["glass"].verticalHeader().defaultSectionSize() == round(52 * unit)
    assert bench.book == weighed_bar()


def test_escape_closes_the_sheet(make_view: Make) -> None:
    bench, view = make_view()
    with bench.qtbot.waitSignal(view.closed):
        press(view.table, Qt.Key.Key_Escape)
