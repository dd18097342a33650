"""The list of unused leftovers: what it says, how it is sorted, what opens from it."""

import pytest
from PySide6.QtCore import QModelIndex, QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from tests.ui.balance.bench import Bench
from washline.document.commands.lines import set_amount
from washline.model.amount import grams
from washline.ui.appearance import Appearance
from washline.ui.flow.unused_view import UnusedView
from washline.ui.fonts import application_fonts
from washline.ui.measures import Measures
from washline.ui.theme import dark_theme


@pytest.fixture
def view(bench: Bench, qtbot: QtBot) -> UnusedView:
    widget = UnusedView(bench.document, bench.bridge, bench.look)
    qtbot.addWidget(widget)
    widget.resize(1192, 846)
    with qtbot.waitExposed(widget):
        widget.show()
    bench.settle()
    return widget


def names(view: UnusedView) -> list[str]:
    return [row.name for row in view.rows]


def index_of(view: UnusedView, name: str) -> QModelIndex:
    return view.model.index(names(view).index(name), 0)


def test_every_leftover_that_is_left_stands_there_the_heaviest_first(view: UnusedView) -> None:
    weights = [row.left_g or 0.0 for row in view.rows]
    assert weights == sorted(weights, reverse=True)
    assert "spent hips" in names(view)
    assert "spent pear" not in names(view)


def test_a_row_says_grams_what_it_holds_and_how_long_it_keeps(view: UnusedView) -> None:
    row = next(one for one in view.rows if one.name == "apple curd")
    texts = view.texts(row)
    assert texts[:4] == ("apple curd", "sharp apple", "159.1", "179.1")
    assert texts[7:] == ("7 days, not tested", "fridge")


def test_under_a_leftover_stands_what_could_take_it_and_why(view: UnusedView) -> None:
    found = view.model.index(0, 0, index_of(view, "apple curd"))
    assert found.data() == "malted oat lace  ·  takes 20.0\u202fg of it already"
    assert view.tree.isExpanded(index_of(view, "apple curd"))


def test_enter_on_what_could_take_it_opens_that(view: UnusedView, bench: Bench, qtbot: QtBot) -> None:
    view.tree.setFocus()
    view.tree.setCurrentIndex(view.model.index(0, 0, index_of(view, "apple curd")))
    with qtbot.waitSignal(view.opened) as opened:
        QTest.keyClick(view.tree, Qt.Key.Key_Return)
    assert opened.args == [bench.build("malted oat lace").id]


def test_a_click_on_what_could_take_it_opens_that_once(view: UnusedView, bench: Bench, qtbot: QtBot) -> None:
    found: list[int] = []
    view.opened.connect(found.append)
    rect = view.tree.visualRect(view.model.index(0, 0, index_of(view, "apple curd")))
    QTest.mouseClick(view.tree.viewport(), Qt.MouseButton.LeftButton, pos=rect.center())
    assert found == [bench.build("malted oat lace").id]


def test_enter_on_a_leftover_opens_it(view: UnusedView, qtbot: QtBot) -> None:
    view.tree.setFocus()
    view.tree.setCurrentIndex(index_of(view, "spent hips"))
    with qtbot.waitSignal(view.opened) as opened:
        QTest.keyClick(view.tree, Qt.Key.Key_Return)
    assert opened.args == [next(row.item_id for row in view.rows if row.name == "spent hips")]


def test_it_sorts_by_any_column_and_back(view: UnusedView) -> None:
    view.sort_by(0)
    assert names(view) == sorted(names(view))
    view.sort_by(0)
    assert names(view) == sorted(names(view), reverse=True)
    view.sort_by(4)
    sugars = [row.matter.sugars_g for row in view.rows if row.matter is not None]
    assert sugars == sorted(sugars, reverse=True)


def test_a_click_on_a_head_sorts(view: UnusedView) -> None:
    header = view.header
    place = header.sectionViewportPosition(1) + 10
    QTest.mouseClick(header.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(place, 8))
    makers = [row.maker_name for row in view.rows]
    assert makers == sorted(makers)
    assert view.sort_choice.currentText() == "From"


def test_the_order_can_be_chosen_by_keys(view: UnusedView, bench: Bench) -> None:
    view.sort_choice.setFocus()
    QTest.keyClick(view.sort_choice, Qt.Key.Key_Home)
    bench.settle()
    assert names(view) == sorted(names(view))


def test_the_chosen_row_stays_chosen_when_the_order_changes(view: UnusedView) -> None:
    view.tree.setCurrentIndex(index_of(view, "spent hips"))
    view.sort_by(0)
    assert view.tree.currentIndex().data() == "spent hips"


def test_it_follows_an_edit(view: UnusedView, bench: Bench) -> None:
    lace = bench.build("malted oat lace")
    line = next(step for step in lace.steps if getattr(step, "item_id", 0) in bench.document.book.leftovers)
    bench.document.do(set_amount(lace.id, line.id, grams(100.0)), "more curd")
    bench.settle()
    assert next(row.left_g for row in view.rows if row.name == "apple curd") == pytest.approx(79.1)


def test_escape_closes(view: UnusedView, qtbot: QtBot) -> None:
    with qtbot.waitSignal(view.closed):
        QTest.keyClick(view, Qt.Key.Key_Escape)


def test_it_can_be_painted_dark_and_large(view: UnusedView, bench: Bench) -> None:
    theme = dark_theme()
    view.set_appearance(Appearance(theme, application_fonts(2.0), Measures(2.0)))
    bench.settle()
    assert view.grab().toImage().pixelColor(2, 2) == theme.sheet
    assert view.tree.visualRect(view.model.index(0, 0)).height() >= 50
