"""The list of the house book: model, rows, keys and room, without a house book behind it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QStyleOptionViewItem
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from washline.presentation.book_list import Place
from washline.presentation.book_rows import BookRow, LastList, Section, SectionRows
from washline.ui.appearance import Appearance
from washline.ui.book.delegate import BookDelegate
from washline.ui.book.model import SectionModel
from washline.ui.book.panel import BookPanel, shared_out
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.measures import Measures
from washline.ui.theme import dark_theme, light_theme


@pytest.fixture
def look(qapp: QApplication) -> Appearance:
    load_fonts()
    return Appearance(light_theme(), application_fonts(), Measures())


@dataclass
class Plain:
    """A source of rows that are only names."""

    names: dict[Section, list[str]] = field(default_factory=dict)
    filled: list[int] = field(default_factory=list)

    def count(self, section: Section) -> int:
        return len(self.names.get(section, ()))

    def places(self, section: Section, words: str = "") -> list[Place]:
        names = self.names.get(section, [])
        return [Place(number) for number, name in enumerate(names) if words.casefold() in name.casefold()]

    def name(self, section: Section, key: int) -> str:
        return self.names[section][key]

    def row(self, section: Section, place: Place) -> BookRow:
        self.filled.append(place.key)
        name = self.names[section][place.key]
        return BookRow(key=place.key, name=name, full_name=name, detail="6.7 % · 168 ml", spoken=name)

    def column(self, section: Section) -> str:
        return "house date" if section is Section.PARTS else ""


def filled_model(names: Sequence[str]) -> tuple[SectionModel, Plain]:
    source = Plain({Section.DRINKS: list(names)})
    model = SectionModel()
    model.is_read_only = False
    model.set_fill(
        lambda place: source.row(Section.DRINKS, place), lambda key: source.name(Section.DRINKS, key)
    )
    model.set_places(source.places(Section.DRINKS))
    return model, source


@pytest.fixture
def panel(qtbot: QtBot, look: Appearance) -> Iterator[BookPanel]:
    made = BookPanel(look)
    names = {
        Section.DRINKS: ["Ebb", "Pear Signal", "Sloe Tide"],
        Section.PARTS: ["quince shrub", "bay tincture"],
        Section.RAWS: ["dry gin"],
    }
    made.set_source(Plain(names), is_read_only=False)
    made.resize(248, 700)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.close()
    made.deleteLater()


def test_model_keeps_qt_rules_while_rows_come_and_go(qtmodeltester: ModelTester) -> None:
    model, _ = filled_model(["a", "b", "c", "d"])
    qtmodeltester.check(model)
    for keys in ([0, 2, 3], [0, 2], [5, 0, 2], [], [1, 2, 3], [3, 2, 1]):
        places = [Place(key % 4) for key in dict.fromkeys(key % 4 for key in keys)]
        model.set_places(places)
        assert [model.key_at(number) for number in range(model.rowCount())] == [place.key for place in places]


def test_only_rows_that_are_looked_at_are_made(qapp: QApplication) -> None:
    model, source = filled_model([f"Drink {number}" for number in range(10_000)])
    assert source.filled == []
    model.data(model.index(9_000))
    assert source.filled == [9_000]


def test_row_is_made_once_until_it_is_refreshed(qapp: QApplication) -> None:
    model, source = filled_model(["a", "b"])
    for _ in range(3):
        model.data(model.index(1))
    assert source.filled == [1]
    model.refresh([1])
    model.data(model.index(1))
    assert source.filled == [1, 1]


def test_refresh_touches_only_the_rows_named(qtbot: QtBot) -> None:
    model, _ = filled_model(["a", "b", "c"])
    for number in range(3):
        model.data(model.index(number))
    with qtbot.waitSignal(model.dataChanged) as changed:
        model.refresh([1])
    first, last, *_ = changed.args or []
    assert (first.row(), last.row()) == (1, 1)


def test_typing_letters_finds_a_name_without_making_rows(qapp: QApplication) -> None:
    model, source = filled_model([f"a{number}" for number in range(5_000)] + ["zebra"])
    found = model.match(model.index(0), Qt.ItemDataRole.DisplayRole, "ZE")
    assert [index.row() for index in found] == [5_000]
    assert source.filled == []


def test_unchanged_name_is_no_change(qtbot: QtBot) -> None:
    model, _ = filled_model(["Ebb"])
    with qtbot.assertNotEmitted(model.renamed):
        model.setData(model.index(0), " Ebb ")


def test_last_composition_stays_while_it_is_computed_again(qapp: QApplication) -> None:
    rows = [
        BookRow(key=1, name="a", full_name="a", shares=(0.4, 0.1, 0.0)),
        BookRow(key=1, name="a", full_name="a", is_stale=True),
    ]
    model = SectionModel()
    model.set_fill(lambda place: rows[0], lambda key: "a")
    model.set_places([Place(1)])
    model.book_row(0)
    model.set_fill(lambda place: rows[1], lambda key: "a")
    model.set_fill(lambda place: rows[0], lambda key: "a")
    model.book_row(0)
    rows[0] = rows[1]
    model.refresh()
    stale = model.book_row(0)
    assert stale is not None
    assert stale.shares is None
    assert model.shares_of(stale) == (0.4, 0.1, 0.0)


def test_groups_share_the_room_and_the_upper_ones_come_first() -> None:
    assert shared_out({Section.DRINKS: 407, Section.PARTS: 450}, 720) == {
        Section.DRINKS: 407,
        Section.PARTS: 313,
    }


def test_ten_thousand_drinks_leave_room_for_the_parts() -> None:
    heights = shared_out({Section.DRINKS: 370_000, Section.PARTS: 450}, 720)
    assert heights == {Section.DRINKS: 540, Section.PARTS: 180}


def test_what_fits_is_given_whole() -> None:
    wanted = {Section.DRINKS: 100, Section.PARTS: 200}
    assert shared_out(wanted, 720) == wanted


def test_open_group_shows_its_rows_and_a_closed_one_its_head(panel: BookPanel) -> None:
    assert panel.views[Section.DRINKS].isVisible()
    assert not panel.views[Section.RAWS].isVisible()
    panel.heads[Section.RAWS].click()
    assert panel.views[Section.RAWS].isVisible()


def test_head_says_name_count_and_state(panel: BookPanel) -> None:
    assert panel.heads[Section.DRINKS].accessibleName() == "Drinks, 3, open"
    QTest.keyClick(panel.heads[Section.DRINKS], Qt.Key.Key_Left)
    assert panel.heads[Section.DRINKS].accessibleName() == "Drinks, 3, closed"


def test_cursor_leaves_a_list_at_its_end_into_the_next(panel: BookPanel, qtbot: QtBot) -> None:
    view = panel.views[Section.DRINKS]
    view.setCurrentIndex(view.rows.index(2))
    with qtbot.waitSignal(panel.chosen) as chosen:
        QTest.keyClick(view, Qt.Key.Key_Down)
    assert chosen.args == [Section.PARTS, 0]


def test_arrow_down_in_the_field_goes_to_the_first_row(panel: BookPanel, qtbot: QtBot) -> None:
    with qtbot.waitSignal(panel.chosen) as chosen:
        QTest.keyClick(panel.field, Qt.Key.Key_Down)
    assert chosen.args == [Section.DRINKS, 0]


def test_filtering_opens_nothing_by_itself(panel: BookPanel, qtbot: QtBot) -> None:
    panel.views[Section.DRINKS].setCurrentIndex(panel.views[Section.DRINKS].rows.index(2))
    with qtbot.assertNotEmitted(panel.chosen):
        QTest.keyClicks(panel.field, "pear")


def test_search_shows_how_many_match_of_how_many(panel: BookPanel) -> None:
    QTest.keyClicks(panel.field, "e")
    assert panel.heads[Section.DRINKS].accessibleName() == "Drinks, 3 of 3, open"
    QTest.keyClicks(panel.field, "bb")
    assert panel.heads[Section.DRINKS].accessibleName() == "Drinks, 1 of 3, open"
    assert not panel.heads[Section.PARTS].isVisible()


def test_search_looks_into_closed_groups(panel: BookPanel) -> None:
    QTest.keyClicks(panel.field, "gin")
    assert panel.views[Section.RAWS].isVisible()


def test_return_on_a_row_opens_it(panel: BookPanel, qtbot: QtBot) -> None:
    view = panel.views[Section.DRINKS]
    view.show_key(1)
    with qtbot.waitSignal(panel.opened) as opened:
        QTest.keyClick(view, Qt.Key.Key_Return)
    assert opened.args == [Section.DRINKS, 1]


def test_name_is_typed_in_its_row(panel: BookPanel, qtbot: QtBot) -> None:
    panel.edit_name(Section.DRINKS, 1)
    field_ = panel.views[Section.DRINKS].viewport().findChild(QLineEdit)
    assert field_ is not None
    field_.setText("Ebb Tide")
    with qtbot.waitSignal(panel.renamed) as renamed:
        QTest.keyClick(field_, Qt.Key.Key_Return)
    assert renamed.args == [Section.DRINKS, 1, "Ebb Tide"]


def test_empty_group_says_so_with_its_button(qtbot: QtBot, look: Appearance) -> None:
    made = BookPanel(look)
    made.set_source(Plain(), is_read_only=False)
    made.resize(248, 600)
    made.show()
    with qtbot.waitSignal(made.new_asked) as asked:
        made._empty_buttons[Section.DRINKS].click()
    assert asked.args == [Section.DRINKS]
    made.close()
    made.deleteLater()


def test_kept_list_is_shown_before_there_is_a_source(qtbot: QtBot, look: Appearance) -> None:
    made = BookPanel(look)
    row = BookRow(key=7, name="Ebb", full_name="Ebb", detail="9.1 % · 180 ml")
    sections = (SectionRows(Section.DRINKS, 1, (row,)),)
    made.show_last(LastList("/a", 1, 1, "Own", False, sections, (Section.DRINKS, 7)))
    assert made.views[Section.DRINKS].rows.data(made.views[Section.DRINKS].rows.index(0)) == "Ebb"
    assert made.views[Section.DRINKS].painter_of_rows.shown_key == 7
    made.deleteLater()


def painted(look: Appearance, section: Section, row: BookRow, shown: int | None = None) -> QImage:
    model = SectionModel()
    model.show_kept([row])
    delegate = BookDelegate(section, look, model)
    delegate.shown_key = shown
    image = QImage(QSize(248, delegate.row_height), QImage.Format.Format_RGB32)
    image.fill(look.theme.ground)
    option = QStyleOptionViewItem()
    option.rect = image.rect()
    painter = QPainter(image)
    delegate.paint(painter, option, model.index(0))
    painter.end()
    return image


ROW = BookRow(key=1, name="Ebb", full_name="Ebb", detail="9.1 % · 180 ml", radii=(0.6, 0.7, 0.5))


def test_shown_row_is_told_from_the_others_by_more_than_its_colour(look: Appearance) -> None:
    image = painted(look, Section.DRINKS, ROW, shown=1)
    assert image.pixelColor(7, 10) == look.theme.ink
    assert painted(look, Section.DRINKS, ROW).pixelColor(7, 10) == look.theme.ground


def test_row_that_is_out_says_so_in_the_drinks_colour(look: Appearance) -> None:
    from_out = painted(
        look, Section.DRINKS, BookRow(key=1, name="Ebb", full_name="Ebb", aside="1 out", is_out=True)
    )
    colours = {from_out.pixelColor(x, y).name() for x in range(190, 240) for y in range(15, 37)}
    assert look.theme.drink.name() in colours


def test_long_name_stays_in_its_row(look: Appearance) -> None:
    long = BookRow(key=1, name="W" * 80, full_name="W" * 80, aside="1 out", is_out=True)
    image = painted(look, Section.DRINKS, long)
    assert all(image.pixelColor(x, y) == look.theme.ground for x in range(236, 248) for y in range(37))


def test_stale_row_differs_from_a_fresh_one(look: Appearance) -> None:
    stale = BookRow(key=1, name="Ebb", full_name="Ebb", detail="9.1 % · 180 ml", is_stale=True)
    fresh = BookRow(key=1, name="Ebb", full_name="Ebb", detail="9.1 % · 180 ml")
    assert painted(look, Section.DRINKS, stale) != painted(look, Section.DRINKS, fresh)


def test_roomy_rows_are_higher_and_type_stays(qapp: QApplication) -> None:
    load_fonts()
    plain = Appearance(dark_theme(), application_fonts(), Measures())
    roomy = Appearance(dark_theme(), application_fonts(), Measures(is_roomy=True))
    heights = [BookDelegate(Section.DRINKS, one, qapp).row_height for one in (plain, roomy)]
    assert heights == [37, 44]
    assert plain.fonts.row == roomy.fonts.row
