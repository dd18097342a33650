"""How the sheet looks: themes, density, what a row says by more than colour."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QColor, QImage, QPaintEvent, QRegion
from PySide6.QtWidgets import QApplication, QWidget

from tests.presentation.small_house import CORDIAL_LINE, PEAR_LINE, SIGNAL, VERJUS_LINE, VERMOUTH_LINE
from tests.ui.build.conftest import Bench
from washline.document.commands.lines import set_amount
from washline.model.amount import millilitres
from washline.presentation.build_rows import Key
from washline.ui.build.columns import AMOUNT, COST, MASS, NAME
from washline.ui.build.look import column_widths
from washline.ui.measures import Measures
from washline.ui.theme import dark_theme, light_theme


def picture(bench: Bench) -> QImage:
    QApplication.processEvents()
    return bench.sheet.tree.viewport().grab().toImage()


def colours_of_row(bench: Bench, key: Key, left: int = 0, right: int = 780) -> set[str]:
    rect = bench.sheet.tree.visualRect(bench.sheet.model.index_of(key))
    image = picture(bench)
    return {
        image.pixelColor(x, y).name()
        for y in range(rect.top(), rect.bottom())
        for x in range(left, min(right, image.width()))
    }


def test_a_dark_theme_is_taken_over_while_the_sheet_is_open(bench: Bench) -> None:
    bench.sheet.set_look(replace(bench.sheet.tree.look, theme=dark_theme()))
    image = picture(bench)
    assert image.pixelColor(image.width() - 3, image.height() - 3) == dark_theme().sheet


def test_roomy_rows_are_higher_and_text_stays_as_it_is(bench: Bench) -> None:
    assert bench.sheet.tree.row_height == 25
    bench.sheet.set_look(replace(bench.sheet.tree.look, measures=Measures(is_roomy=True)))
    QApplication.processEvents()
    rect = bench.sheet.tree.visualRect(bench.sheet.model.index_of((VERMOUTH_LINE,)))
    assert rect.height() == 30


def test_the_current_row_has_an_ink_bar_at_its_left(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    assert light_theme().ink.name() in colours_of_row(bench, (VERJUS_LINE,), 0, 3)
    assert light_theme().ink.name() not in colours_of_row(bench, (VERMOUTH_LINE,), 0, 3)


def test_an_opened_part_stands_on_its_own_ground(bench: Bench) -> None:
    bench.sheet.tree.expand(bench.sheet.model.index_of((CORDIAL_LINE,)))
    assert light_theme().inner.name() in colours_of_row(bench, (CORDIAL_LINE, PEAR_LINE))


class Painted(QObject):
    """Where a widget was painted anew."""

    def __init__(self, widget: QWidget) -> None:
        super().__init__(widget)
        self.region = QRegion()
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QPaintEvent):
            self.region += event.region()
        return False


def test_every_figure_that_moved_is_painted_anew_and_no_name_beside_it(bench: Bench) -> None:
    tree, model = bench.sheet.tree, bench.sheet.model
    tree.expand(model.index_of((CORDIAL_LINE,)))
    picture(bench)
    before = {row.key: row.figures for row in model.rows()}
    painted = Painted(tree.viewport())
    bench.session.set_preview(set_amount(SIGNAL, CORDIAL_LINE, millilitres(40.0)))
    QApplication.processEvents()
    moved = [row.key for row in model.rows() if row.figures != before[row.key]]
    assert (CORDIAL_LINE, PEAR_LINE) in moved
    for key in moved:
        cell = QRegion(tree.visualRect(model.index_of(key, MASS)))
        assert cell.subtracted(painted.region).isEmpty()
    assert not painted.region.contains(tree.visualRect(model.index_of((VERJUS_LINE,), NAME)))


def test_a_figure_that_moved_is_painted_as_a_preview_and_dotted_under(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.type("45")
    columns = bench.sheet.tree.columns
    left, right = round(columns.lefts[3]), round(columns.rights[3])
    assert light_theme().preview.name() in colours_of_row(bench, (VERMOUTH_LINE,), left, right)
    assert light_theme().preview.name() not in colours_of_row(bench, (VERJUS_LINE,), left, right)


def test_a_text_not_understood_has_a_ring_and_one_line_in_the_row(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    bench.type("10 mll\r")
    QApplication.processEvents()
    columns = bench.sheet.tree.columns
    alert = light_theme().alert.name()
    assert alert in colours_of_row(
        bench, (VERJUS_LINE,), round(columns.lefts[AMOUNT]), round(columns.rights[2])
    )
    assert alert in colours_of_row(
        bench, (VERJUS_LINE,), round(columns.lefts[3]), round(columns.rights[COST])
    )


def test_a_left_out_row_is_struck_and_its_figures_are_gone(bench: Bench) -> None:
    bench.go((VERJUS_LINE,), NAME)
    before = colours_of_row(bench, (VERJUS_LINE,), 420)
    bench.sheet.actions_of_build.left_out.trigger()
    bench.go((VERMOUTH_LINE,))
    after = colours_of_row(bench, (VERJUS_LINE,), 420)
    assert QColor(light_theme().ink).name() in before
    assert QColor(light_theme().ink).name() not in after


@pytest.mark.parametrize(
    "width, folded",
    [(780, []), (720, [7]), (620, [6, 7]), (580, [5, 6, 7]), (400, [3, 4, 5, 6, 7])],
)
def test_cost_folds_first_then_ethanol(width: int, folded: list[int]) -> None:
    widths = column_widths(width, 1.0)
    assert [column for column, one in enumerate(widths) if one == 0] == folded
    assert sum(widths) == width


def test_columns_are_multiples_of_the_unit() -> None:
    assert column_widths(1560, 2.0) == [2 * width for width in column_widths(780, 1.0)]


def test_the_height_wanted_grows_with_the_rows(bench: Bench) -> None:
    before = bench.sheet.wanted_height
    bench.sheet.tree.expand(bench.sheet.model.index_of((CORDIAL_LINE,)))
    # Six steps, a leftover and the bottle.
    assert bench.sheet.wanted_height == before + 8 * 25
