"""The sheet *Where the mass went*: picture and table, by keys and pointer, in any look, and as files."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QAccessible, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.balance.bench import Bench
from tests.ui.papers.pdf_text import pdf_words
from washline.document.commands.items import new_part, rename
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton
from washline.ui.flow.tips import plain_tip
from washline.ui.flow.view import FlowView
from washline.ui.fonts import application_fonts
from washline.ui.measures import Measures
from washline.ui.theme import dark_theme, light_theme


class Answers:
    """Answers with a file, or with a change of mind."""

    def __init__(self, path: Path | None) -> None:
        self.path = path
        self.wishes: list[Path] = []

    def file(self, parent: QWidget, title: str, wish: Path, kinds: str, suffix: str) -> Path | None:
        self.wishes.append(wish)
        return self.path

    def folder(self, parent: QWidget, title: str, wish: Path) -> Path | None:
        raise AssertionError("nobody asks for a folder")


def opened(bench: Bench, qtbot: QtBot, path: Path | None = None) -> FlowView:
    widget = FlowView(bench.session, bench.look, asker=Answers(path))
    qtbot.addWidget(widget)
    widget.resize(1192, 846)
    with qtbot.waitExposed(widget):
        widget.show()
    bench.settle()
    return widget


@pytest.fixture
def view(bench: Bench, qtbot: QtBot) -> FlowView:
    return opened(bench, qtbot)


def press(button: PlainButton) -> None:
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def names(view: FlowView) -> list[str]:
    assert view.picture.flow is not None
    return [node.name for node in view.picture.flow.nodes]


def test_it_shows_the_build_that_is_open(view: FlowView) -> None:
    assert view.about.text().startswith("pear-sorrel cordial: one batch")
    assert "spent pear" in names(view)
    assert view.table.texts is not None
    assert view.table.texts.closes


def test_it_follows_to_another_build(view: FlowView, bench: Bench) -> None:
    bench.show("Pear Signal")
    assert view.about.text().startswith("Pear Signal: one serve")
    assert not view.follow_button.isVisible()


def test_percent_and_grams_are_one_button(view: FlowView) -> None:
    assert view.picture.flow is not None
    assert not view.picture.flow.nodes[0].figure.endswith("%")
    press(view.unit_button)
    assert view.picture.flow.nodes[0].figure.endswith("%")
    assert view.table.texts is not None
    assert view.table.texts.all_in == "100.0"


def test_leftovers_are_followed_or_told(view: FlowView) -> None:
    assert "in pear leather" in names(view)
    press(view.follow_button)
    assert "in pear leather" not in names(view)
    assert "into pear leather" in names(view)


def test_bands_are_reached_by_arrows_in_reading_order_and_read_aloud(view: FlowView) -> None:
    view.picture.setFocus()
    QTest.keyClick(view.picture, Qt.Key.Key_Home)
    assert view.picture.axis_sentences()[0].startswith("Pear, with skin, as bought")
    QTest.keyClick(view.picture, Qt.Key.Key_Right)
    assert view.picture.current_axis() == 1
    QTest.keyClick(view.picture, Qt.Key.Key_End)
    last = view.picture.current_axis()
    assert last == len(view.picture.bands) - 1
    assert view.picture.accessibleDescription() == view.picture.axis_sentences()[last]


def test_enter_opens_the_item_of_a_band(view: FlowView, bench: Bench, qtbot: QtBot) -> None:
    place = next(i for i, one in enumerate(view.picture.axis_sentences()) if one.startswith("spent pear"))
    view.picture.setFocus()
    view.picture._choose(place)
    with qtbot.waitSignal(view.opened) as opened:
        QTest.keyClick(view.picture, Qt.Key.Key_Return)
    leftover = next(one for one in bench.document.book.leftovers.values() if one.name == "spent pear")
    assert opened.args == [leftover.id]


def test_a_screen_reader_finds_every_band_and_every_row(view: FlowView) -> None:
    bands = QAccessible.queryAccessibleInterface(view.picture)
    assert bands.childCount() == len(view.picture.bands)
    assert "Pear" in bands.child(0).text(QAccessible.Text.Name)
    rows = QAccessible.queryAccessibleInterface(view.table)
    assert rows.childCount() == len(view.table.rows())
    assert "in less out: 0.0" in rows.text(QAccessible.Text.Description)


def test_a_click_chooses_the_band_under_it_and_a_second_opens_it(view: FlowView, qtbot: QtBot) -> None:
    places = view.picture.places
    assert places is not None
    pear = next(node for node in places.nodes if node.node.name.startswith("Pear"))
    inside = QPoint(round(pear.bar.right + 12), round(pear.bar.y + pear.bar.height * 0.6))
    band = view.picture.band_at(QPointF(inside))
    assert band is not None
    assert band.source == pear.node.key
    with qtbot.waitSignal(view.opened) as opened:
        QTest.mouseDClick(view.picture, Qt.MouseButton.LeftButton, pos=inside)
    assert opened.args == [pear.node.item_id]


def test_a_hairline_can_still_be_pointed_at(view: FlowView) -> None:
    places = view.picture.places
    assert places is not None
    thin = min(places.bands, key=lambda one: one.width)
    assert thin.width < 1.0
    assert view.picture.band_at(QPointF(thin.x0 + 3, thin.y0 + 1.5)) is thin.band


def test_rows_are_chosen_by_arrows_and_opened_by_enter(view: FlowView, qtbot: QtBot) -> None:
    view.table.setFocus()
    QTest.keyClick(view.table, Qt.Key.Key_Down)
    with qtbot.waitSignal(view.opened) as opened:
        QTest.keyClick(view.table, Qt.Key.Key_Return)
    assert opened.args == [view.table.rows()[1][1].item_id]


def test_the_table_explains_its_columns_and_rows(view: FlowView) -> None:
    rect, row = view.table.rows()[0]
    assert view.table.tip_at(rect.center()) == row.spoken
    assert "by weight" in " ".join(view.table.tip_at(QPointF(x, 8)) for x in range(0, 1150, 10))


def test_escape_closes(view: FlowView, qtbot: QtBot) -> None:
    view.picture.setFocus()
    with qtbot.waitSignal(view.closed):
        QTest.keyClick(view.picture, Qt.Key.Key_Escape)


def test_tab_goes_from_the_buttons_to_the_picture_to_the_table(view: FlowView) -> None:
    view.activateWindow()
    view.unit_button.setFocus()
    seen: list[QWidget | None] = []
    for _ in range(5):
        focused = view.focusWidget()
        assert focused is not None
        QTest.keyClick(focused, Qt.Key.Key_Tab)
        seen.append(view.focusWidget())
    assert seen == [view.follow_button, view.export_button, view.close_button, view.picture, view.table]


def test_an_empty_vessel_says_what_to_do_first(view: FlowView, bench: Bench) -> None:
    bench.document.do(new_part("nothing yet"), "new part")
    bench.show("nothing yet")
    assert view.empty.isVisible()
    assert view.empty.text() == "Nothing is in the vessel yet. Add a first line to the build."
    assert not view.picture.isVisible()
    assert not view.export_button.isEnabled()
    assert view.build_button.isVisible()


def test_nothing_open_says_so(view: FlowView, bench: Bench) -> None:
    bench.session.show(None)
    bench.settle()
    assert view.empty.text() == "No drink or part is open."


@pytest.mark.parametrize("unit", [1.0, 1.25, 2.0, 3.0])
@pytest.mark.parametrize("is_dark", [False, True])
def test_it_can_be_painted_in_every_look(view: FlowView, bench: Bench, unit: float, is_dark: bool) -> None:
    theme = dark_theme() if is_dark else light_theme()
    view.set_appearance(Appearance(theme, application_fonts(unit), Measures(unit)))
    bench.settle()
    image = view.grab().toImage()
    assert image.pixelColor(2, 2) == theme.sheet
    assert view.picture.places is not None
    assert view.picture.height() >= 300 * unit - 1


def test_in_a_narrow_window_both_halves_stand_under_one_another(view: FlowView, bench: Bench) -> None:
    wide = view.table.height()
    view.resize(640, 846)
    bench.settle()
    assert view.table.height() > wide
    ins, outs = view.table.rows()[0][0], view.table.rows()[-1][0]
    assert outs.left() == ins.left()


def test_the_picture_takes_the_height_that_is_left(view: FlowView, bench: Bench) -> None:
    before = view.picture.height()
    view.resize(1192, 1100)
    bench.settle()
    assert view.picture.height() > before


@pytest.mark.parametrize("suffix", ["pdf", "svg", "png"])
def test_it_is_exported_through_the_same_painter(
    bench: Bench, qtbot: QtBot, tmp_path: Path, suffix: str
) -> None:
    path = tmp_path / f"mass.{suffix}"
    view = opened(bench, qtbot, path)
    with qtbot.waitSignal(view.said) as said:
        view.exports[suffix].trigger()
    assert said.args == [f"Picture written to {path}"]
    data = path.read_bytes()
    if suffix == "pdf":
        words = " ".join(pdf_words(data).split())
        assert "spent pear" in words
        assert "in less out: 0.0" in words
    elif suffix == "svg":
        text = data.decode()
        assert "spent pear" in text
        assert "<path" in text
    else:
        image = QImage(str(path))
        assert image.dotsPerMeterX() == 11811
        assert image.width() == round(1190 * 300 / 96)


def test_the_file_is_named_by_the_part_and_the_folder_is_remembered(
    bench: Bench, qtbot: QtBot, tmp_path: Path
) -> None:
    view = opened(bench, qtbot, tmp_path / "mass.svg")
    view.export("svg")
    view.export("svg")
    asker = view._asker
    assert isinstance(asker, Answers)
    assert asker.wishes[1] == tmp_path / "pear-sorrel cordial – where the mass went.svg"


def test_a_folder_that_is_not_there_is_said_in_place(bench: Bench, qtbot: QtBot, tmp_path: Path) -> None:
    view = opened(bench, qtbot, tmp_path / "nowhere" / "mass.pdf")
    view.export("pdf")
    assert view.strip.isVisible()
    assert "could not be written" in view.strip.text


def test_a_change_of_mind_writes_nothing(view: FlowView) -> None:
    view.export("pdf")
    assert not view.strip.isVisible()


def test_an_edit_is_followed_while_it_is_shown(view: FlowView, bench: Bench) -> None:
    before = view.table.texts
    bench.show("Pear Signal")
    bench.type_cordial(45.0)
    assert view.table.texts is not None
    assert view.table.texts != before
    assert view.table.texts.closes
    bench.session.set_preview(None)
    bench.settle()


def test_a_name_with_marks_is_shown_as_it_was_typed(view: FlowView, bench: Bench) -> None:
    cordial = bench.build("pear-sorrel cordial")
    bench.document.do(rename(cordial.id, "<b>pear</b> & 100 %1"), "rename")
    bench.settle()
    assert view.about.text().startswith("<b>pear</b> & 100 %1: one batch")
    assert plain_tip("<b>pear</b>") == "<p>&lt;b&gt;pear&lt;/b&gt;</p>"
    assert plain_tip("") == ""
