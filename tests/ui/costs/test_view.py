"""The sheet of costs as a person works on it: typing, sorting, finding, copying, and the ways that lead on."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QWidget

from tests.presentation.costing import (
    GUESS,
    LEFT,
    MIXED,
    NEAT,
    NOTHING,
    SECRET,
    SPENT,
    SPIRIT,
    SYRUP,
    TINCTURE,
    changed,
    house,
)
from tests.ui.costs.bench import Bench, settle
from washline.document.commands.items import new_drink, set_build
from washline.document.commands.raws import add_price
from washline.model.book import HouseBook
from washline.model.item import Price
from washline.ui.appearance import Appearance
from washline.ui.costs.view import CostsView
from washline.ui.fonts import application_fonts
from washline.ui.measures import Measures
from washline.ui.theme import dark_theme

NAME, SERVE, COST, PRICE, TAX, POUR_COST = range(6)
LABOUR, WASTE = 8, 9


@pytest.fixture
def make_view(make_bench: Callable[..., Bench]) -> Callable[..., tuple[Bench, CostsView]]:
    def make(book: HouseBook | None = None, *, is_read_only: bool = False) -> tuple[Bench, CostsView]:
        bench = make_bench(book or house(), is_read_only=is_read_only)
        view = CostsView(bench.document, bench.bridge, bench.look)
        for table in (view.drinks, view.parts):
            QAbstractItemModelTester(table.costs, QAbstractItemModelTester.FailureReportingMode.Fatal, table)
        bench.qtbot.addWidget(view)
        view.resize(1192, 700)
        with bench.qtbot.waitExposed(view):
            view.show()
        view.focus_first()
        settle()
        return bench, view

    return make


@pytest.fixture
def bench_and_view(make_view: Callable[..., tuple[Bench, CostsView]]) -> tuple[Bench, CostsView]:
    return make_view()


def names(view: CostsView) -> list[str]:
    costs = view.table.costs
    return [str(costs.index(row, NAME).data()) for row in range(costs.rowCount())]


def text(view: CostsView, key: int, column: int) -> str:
    costs = view.table.costs
    return str(costs.index(costs.number_of(key), column).data())


def go(view: CostsView, key: int, column: int) -> None:
    view.table.go_to(key, column)
    view.table.setFocus()
    settle()


def type_text(view: CostsView, typed: str, leave: Qt.Key | None = Qt.Key.Key_Return) -> None:
    for letter in typed:
        QTest.keyClicks(view.table.editor or view.table, letter)
    if leave is not None:
        QTest.keyClick(view.table.editor or view.table, leave)
    settle()


def press(widget: QWidget, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    QTest.keyClick(widget, key, held)
    settle()


def click(widget: QWidget) -> None:
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton)
    settle()


CONTROL = Qt.KeyboardModifier.ControlModifier

# What is shown


def test_all_drinks_stand_there_by_name(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    assert names(view) == ["Guess", "Left", "Mixed", "Neat", "Nothing"]
    assert view.drinks_button.text() == "&Drinks 5"


def test_parts_stand_with_what_they_leave_over(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    click(view.parts_button)
    assert names(view) == ["herb syrup", "spent root", "tincture"]
    assert text(view, TINCTURE, 3) == "23.00"


def test_current_row_says_what_its_cost_rests_on(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    go(view, MIXED, COST)
    assert "Joint cost of tincture: all stays with the main output" in view.foot.text


def test_house_without_drinks_says_the_first_thing_to_do(
    make_view: Callable[..., tuple[Bench, CostsView]],
) -> None:
    bench, view = make_view(HouseBook())
    assert view.start_button.isVisible()
    with bench.qtbot.waitSignal(view.new_drink_asked):
        click(view.start_button)


def test_new_drink_takes_its_row(make_view: Callable[..., tuple[Bench, CostsView]]) -> None:
    bench, view = make_view(HouseBook())
    bench.document.do(new_drink("Ebb"), "making Ebb")
    settle()
    assert names(view) == ["Ebb"]
    assert not view.start_button.isVisible()


# Typing


def test_price_is_typed_over_the_cell_as_one_step(bench_and_view: tuple[Bench, CostsView]) -> None:
    bench, view = bench_and_view
    go(view, NEAT, PRICE)
    type_text(view, "6,50")
    assert bench.book.builds[NEAT].price == 6.5
    assert bench.labels[0] == "change of price of Neat"
    assert text(view, NEAT, POUR_COST) == "18.5"
    bench.document.undo()
    settle()
    assert bench.book.builds[NEAT].price is None
    assert text(view, NEAT, PRICE) == "?"


def test_enter_goes_down_and_tab_to_the_next_cell_to_type_in(bench_and_view: tuple[Bench, CostsView]) -> None:
    bench, view = bench_and_view
    go(view, MIXED, PRICE)
    type_text(view, "8")
    assert view.table.keep_place() == (NEAT, PRICE)
    type_text(view, "6", Qt.Key.Key_Tab)
    assert view.table.keep_place() == (NEAT, LABOUR)
    assert view.table.editor is not None
    type_text(view, "3")
    assert (bench.book.builds[NEAT].price, bench.book.builds[NEAT].labour_min) == (6.0, 3.0)


def test_unit_may_stand_behind_the_figure(bench_and_view: tuple[Bench, CostsView]) -> None:
    bench, view = bench_and_view
    go(view, NEAT, PRICE)
    type_text(view, "7 eur")
    go(view, NEAT, WASTE)
    type_text(view, "5%")
    assert (bench.book.builds[NEAT].price, bench.book.builds[NEAT].waste_pct) == (7.0, 5.0)


def test_what_is_no_number_stays_in_the_cell_with_what_was_expected(
    bench_and_view: tuple[Bench, CostsView],
) -> None:
    bench, view = bench_and_view
    go(view, NEAT, PRICE)
    type_text(view, "six")
    editor = view.table.editor
    assert editor is not None
    assert (editor.text(), editor.has_error) == ("six", True)
    assert view.table.bubble.isVisible()
    assert "“six” is not a number. Expected a number in €" in view.table.bubble.text
    assert bench.labels == []
    press(editor, Qt.Key.Key_Escape)
    assert view.table.editor is None
    assert not view.table.bubble.isVisible()


def test_wrong_text_survives_an_edit_made_elsewhere(bench_and_view: tuple[Bench, CostsView]) -> None:
    bench, view = bench_and_view
    go(view, NEAT, PRICE)
    type_text(view, "6x")
    bench.document.do(set_build(MIXED, price=9.0), "elsewhere")
    settle()
    assert view.table.editor is not None
    assert view.table.editor.text() == "6x"
    assert text(view, MIXED, PRICE) == "9.00"
    press(view.table.editor, Qt.Key.Key_Escape)


def test_escape_gives_the_old_figure_back(make_view: Callable[..., tuple[Bench, CostsView]]) -> None:
    bench, view = make_view(changed(house(), NEAT, price=6.0))
    go(view, NEAT, PRICE)
    type_text(view, "9", None)
    press(view.table.editor or view.table, Qt.Key.Key_Escape)
    assert (bench.book.builds[NEAT].price, bench.labels) == (6.0, [])


def test_emptied_cell_is_not_set_and_never_zero(make_view: Callable[..., tuple[Bench, CostsView]]) -> None:
    bench, view = make_view(changed(house(), NEAT, price=6.0, labour_min=2.0))
    go(view, NEAT, PRICE)
    press(view.table, Qt.Key.Key_Delete)
    go(view, NEAT, LABOUR)
    press(view.table, Qt.Key.Key_F2)
    assert view.table.editor is not None
    view.table.editor.clear()
    view.table.editor.setModified(True)
    press(view.table.editor, Qt.Key.Key_Return)
    assert (bench.book.builds[NEAT].price, bench.book.builds[NEAT].labour_min) == (None, None)


def test_leaving_a_cell_as_it_was_makes_no_step(make_view: Callable[..., tuple[Bench, CostsView]]) -> None:
    bench, view = make_view(changed(house(), NEAT, price=6.0))
    go(view, NEAT, PRICE)
    press(view.table, Qt.Key.Key_F2)
    press(view.table.editor or view.table, Qt.Key.Key_Return)
    assert bench.labels == []


def test_value_of_a_leftover_is_typed_and_its_labour_is_not(bench_and_view: tuple[Bench, CostsView]) -> None:
    bench, view = bench_and_view
    click(view.parts_button)
    columns = [column.key for column in view.parts.costs.columns]
    go(view, SPENT, columns.index("value_per_kg"))
    type_text(view, "2")
    assert bench.book.leftovers[SPENT].value_per_kg == 2.0
    assert not view.parts.costs.is_typed(
        view.parts.costs.index(view.parts.costs.number_of(SPENT), columns.index("labour_min"))
    )
    go(view, TINCTURE, columns.index("labour_min"))
    type_text(view, "30")
    assert bench.book.builds[TINCTURE].labour_min == 30.0


def test_house_book_for_reading_only_takes_nothing(make_view: Callable[..., tuple[Bench, CostsView]]) -> None:
    _, view = make_view(is_read_only=True)
    go(view, NEAT, PRICE)
    press(view.table, Qt.Key.Key_F2)
    assert view.table.editor is None
    assert not view.tax.field.isEnabled()


# The figures of the house


def test_tax_and_wanted_pour_cost_move_every_row(make_view: Callable[..., tuple[Bench, CostsView]]) -> None:
    bench, view = make_view(changed(house(), NEAT, price=6.0))
    for number, typed in ((view.tax, "50"), (view.wanted, "25")):
        number.field.selectAll()
        QTest.keyClicks(number.field, typed)
        press(number.field, Qt.Key.Key_Return)
    assert (bench.book.settings.tax_pct, bench.book.settings.wanted_pour_cost_pct) == (50.0, 25.0)
    assert (text(view, NEAT, TAX), text(view, NEAT, POUR_COST), text(view, NEAT, 6)) == (
        "2.00",
        "25.0",
        "6.00",
    )


def test_emptied_wage_is_not_counted(make_view: Callable[..., tuple[Bench, CostsView]]) -> None:
    bench, view = make_view(changed(house(labour_per_hour=20.0), NEAT, labour_min=3.0, price=6.0))
    assert text(view, NEAT, 7) == "3.00"
    view.labour.field.selectAll()
    press(view.labour.field, Qt.Key.Key_Backspace)
    press(view.labour.field, Qt.Key.Key_Return)
    assert bench.book.settings.labour_per_hour is None
    assert text(view, NEAT, 7) == "4.00"


def test_tax_that_is_no_number_is_refused_where_it_was_typed(bench_and_view: tuple[Bench, CostsView]) -> None:
    bench, view = bench_and_view
    view.tax.field.selectAll()
    QTest.keyClicks(view.tax.field, "much")
    press(view.tax.field, Qt.Key.Key_Return)
    assert (view.tax.field.text(), view.tax.field.has_error) == ("much", True)
    assert bench.book.settings.tax_pct == 20.0


def test_bottle_is_the_size_that_was_chosen(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    click(view.parts_button)
    before = text(view, TINCTURE, 5)
    view.bottle.choose(1000.0)
    view.bottle.field.activated.emit(view.bottle.field.currentIndex())
    settle()
    assert (before, text(view, TINCTURE, 5)) == ("16.07", "22.96")


# Sorting, finding, copying


def test_click_on_a_head_sorts_and_the_unknown_stays_last(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    heads = view.drinks.heads
    for expected in (
        ["Left", "Mixed", "Guess", "Neat", "Nothing"],
        ["Guess", "Neat", "Mixed", "Left", "Nothing"],
    ):
        where = heads.sectionViewportPosition(COST) + 20
        QTest.mouseClick(heads.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(where, 8))
        settle()
        assert names(view) == expected


def test_keys_sort_by_the_current_column(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    go(view, NEAT, COST)
    press(view.table, Qt.Key.Key_Down, CONTROL)
    assert names(view)[-1] == "Nothing"
    assert names(view)[0] == "Guess"
    assert view.table.keep_place() == (NEAT, COST)


def test_rows_stay_where_they_are_while_figures_change(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    go(view, NEAT, PRICE)
    press(view.table, Qt.Key.Key_Up, CONTROL)
    before = names(view)
    type_text(view, "1")
    assert names(view) == before


def test_finding_narrows_the_table_while_one_types(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    QTest.keyClicks(view.field, "N")
    assert names(view) == ["Neat", "Nothing"]
    QTest.keyClicks(view.field, "ope")
    assert view.stack.currentIndex() == 2
    assert not view.start_button.isVisible()
    press(view.field, Qt.Key.Key_Escape)
    assert len(names(view)) == 5


def test_letters_typed_on_a_name_find(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    go(view, NEAT, NAME)
    press(view.table, Qt.Key.Key_M)
    assert view.field.text() == "m"
    assert names(view) == ["Mixed"]
    press(view.field, Qt.Key.Key_Return)
    assert view.table.hasFocus()


def test_chosen_rows_go_to_the_clipboard_with_heads(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    go(view, NEAT, COST)
    press(view.table, Qt.Key.Key_C, CONTROL)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert [line.split("\t")[0] for line in lines] == ["drink", "Neat"]
    click(view.copy_button)
    assert len(QGuiApplication.clipboard().text().splitlines()) == 6


# Ways that lead on


def test_missing_price_leads_to_what_has_none(bench_and_view: tuple[Bench, CostsView]) -> None:
    bench, view = bench_and_view
    go(view, GUESS, COST)
    assert text(view, GUESS, COST) == "at least 1.00"
    assert [button.text() for button in view.foot.buttons] == ["Open Guess", "Price of secret"]
    with bench.qtbot.waitSignal(view.item_asked) as asked:
        click(view.foot.buttons[1])
    assert asked.args == [SECRET]


def test_price_that_was_found_takes_the_doubt_away(bench_and_view: tuple[Bench, CostsView]) -> None:
    bench, view = bench_and_view
    bench.document.do(add_price(SECRET, Price(100.0, "kg", "2026-11-01")), "price")
    bench.compute()
    assert text(view, GUESS, COST) == "2.00"


def test_return_opens_what_is_not_typed_into(bench_and_view: tuple[Bench, CostsView]) -> None:
    bench, view = bench_and_view
    go(view, MIXED, NAME)
    with bench.qtbot.waitSignal(view.item_asked) as asked:
        press(view.table, Qt.Key.Key_Return)
    assert asked.args == [MIXED]


def test_menu_holds_every_way_and_act(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    go(view, GUESS, PRICE)
    menu = view.menu()
    assert menu is not None
    words = [action.text().split("\t")[0] for action in menu.actions() if action.text()]
    assert words == [
        "Open Guess", "Price of secret", "Change price", "Sort by price, rising", "Sort by price, falling", "Copy rows",
    ]  # fmt: skip
    menu.deleteLater()


def test_escape_closes_the_sheet(bench_and_view: tuple[Bench, CostsView]) -> None:
    bench, view = bench_and_view
    with bench.qtbot.waitSignal(view.closed):
        press(view.table, Qt.Key.Key_Escape)


# Look


def test_columns_give_way_in_a_narrow_window_and_the_name_never(
    bench_and_view: tuple[Bench, CostsView],
) -> None:
    _, view = bench_and_view
    view.resize(640, 600)
    settle()
    shown = [
        column.key
        for at, column in enumerate(view.drinks.costs.columns)
        if not view.drinks.isColumnHidden(at)
    ]
    assert shown[0] == "name"
    assert {"cost", "price", "pour_cost_pct"} <= set(shown)
    assert "alcohol_g" not in shown
    assert view.drinks.horizontalHeader().length() <= view.drinks.viewport().width()


def test_cells_are_read_with_row_and_column(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    costs = view.drinks.costs
    index = costs.index(costs.number_of(NEAT), PRICE)
    assert index.data(Qt.ItemDataRole.AccessibleTextRole) == "Neat, price, €: not known"


def test_names_that_are_mark_up_are_shown_as_they_are(
    make_view: Callable[..., tuple[Bench, CostsView]],
) -> None:
    _, view = make_view(changed(house(), NEAT, name="<b>Neat</b> & more"))
    costs = view.drinks.costs
    tip = costs.index(costs.number_of(NEAT), NAME).data(Qt.ItemDataRole.ToolTipRole)
    assert tip == "<p>&lt;b&gt;Neat&lt;/b&gt; &amp; more</p>"
    go(view, NEAT, NAME)
    assert view.foot.buttons[0].text() == "Open <b>Neat</b> && more"


def test_dark_colours_reach_every_part_while_it_is_open(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    view.set_appearance(Appearance(dark_theme(), application_fonts(), Measures(), is_calm=True))
    settle()
    picture = view.grab().toImage()
    theme = dark_theme()
    for x, y in ((4, 4), (600, picture.height() - 12), (600, 300)):
        assert picture.pixelColor(x, y) == theme.sheet


def test_hidden_sheet_is_up_to_date_when_it_is_shown_again(bench_and_view: tuple[Bench, CostsView]) -> None:
    bench, view = bench_and_view
    view.hide()
    bench.document.do(set_build(NEAT, price=6.0), "price")
    bench.document.do(add_price(SPIRIT, Price(40.0, "l", "2026-11-01")), "price")
    bench.compute()
    view.show()
    settle()
    assert (text(view, NEAT, COST), text(view, NEAT, PRICE)) == ("2.00", "6.00")


def test_ids_of_the_test_house_are_all_in_the_tables(bench_and_view: tuple[Bench, CostsView]) -> None:
    _, view = bench_and_view
    assert set(view.drinks.costs.keys) == {NEAT, MIXED, GUESS, NOTHING, LEFT}
    click(view.parts_button)
    assert set(view.parts.costs.keys) == {TINCTURE, SYRUP, SPENT}
