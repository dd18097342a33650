"""The sheet *Batch*: answers that are kept with the drink, tables by keys and pointer, in any look, and as files."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QAccessible, QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.presentation.batch_house import BOTTLE, GROWLER
from tests.ui.balance.bench import Bench
from tests.ui.papers.pdf_text import pdf_words
from washline.document.commands.items import new_drink, set_batch
from washline.document.commands.lines import set_amount
from washline.model.amount import millilitres
from washline.model.item import Batch, BatchService
from washline.ui.appearance import Appearance
from washline.ui.batch.controls import SERVES, VESSELS
from washline.ui.batch.view import BatchView
from washline.ui.batch.wrap import WrapLine
from washline.ui.costs.bar import HouseNumber, LabelledChoice
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


def opened(bench: Bench, qtbot: QtBot, path: Path | None = None) -> BatchView:
    widget = BatchView(bench.session, bench.look, asker=Answers(path))
    qtbot.addWidget(widget)
    widget.resize(1192, 846)
    with qtbot.waitExposed(widget):
        widget.show()
    bench.settle()
    return widget


@pytest.fixture
def view(bench: Bench, qtbot: QtBot) -> BatchView:
    return opened(bench, qtbot)


def kept(bench: Bench) -> Batch | None:
    return bench.build("Drift").batch


def type_into(number: HouseNumber, text: str) -> None:
    number.field.setFocus()
    number.field.selectAll()
    QTest.keyClicks(number.field, text)
    QTest.keyClick(number.field, Qt.Key.Key_Return)


def choose(choice: LabelledChoice, key: object) -> None:
    choice.choose(key)
    choice.field.activated.emit(choice.field.currentIndex())


def figures(view: BatchView, name: str) -> tuple[str, ...]:
    return next(row.figures for table in view.tables.tables for row in table.rows if row.name == name)


def test_it_shows_a_batch_of_the_drink_that_is_open(view: BatchView) -> None:
    assert view.about.text().startswith("Drift: 10 serves of 10")
    assert figures(view, "brown-butter rye")[3] == "419"
    assert "slush" in view.told.text


def test_nothing_is_written_by_looking(view: BatchView, bench: Bench) -> None:
    assert kept(bench) is None
    assert bench.document.undo_label == ""


def test_a_number_of_serves_is_kept_with_the_drink_and_undone_as_one_step(
    view: BatchView, bench: Bench
) -> None:
    type_into(view.controls.serves, "40")
    assert kept(bench) == Batch(serves=40.0)
    assert bench.document.undo_label == "change of the batch of Drift"
    assert figures(view, "brown-butter rye")[3] == "1,675"
    bench.document.undo()
    bench.settle()
    assert kept(bench) is None
    assert figures(view, "brown-butter rye")[3] == "419"
    assert view.controls.serves.field.text() == "10"


@pytest.mark.parametrize("text", ["none", "-3", "0", "1e9", ""])
def test_what_is_no_number_of_serves_stays_with_a_reason_and_writes_nothing(
    view: BatchView, bench: Bench, text: str
) -> None:
    number = view.controls.serves
    type_into(number, text) if text else _empty(number)
    assert kept(bench) is None
    assert view.problem.isVisible()
    assert number.field.has_error


def _empty(number: HouseNumber) -> None:
    number.field.setFocus()
    number.field.selectAll()
    QTest.keyClick(number.field, Qt.Key.Key_Delete)
    QTest.keyClick(number.field, Qt.Key.Key_Return)


def test_the_reason_goes_when_the_number_is_right(view: BatchView, bench: Bench) -> None:
    type_into(view.controls.serves, "none")
    type_into(view.controls.serves, "12")
    assert not view.problem.isVisible()
    assert kept(bench) == Batch(serves=12.0)


def test_full_vessels_need_a_vessel_first(view: BatchView, bench: Bench) -> None:
    choose(view.controls.by, VESSELS)
    assert view.problem.text().startswith("Choose a vessel first")
    assert view.controls.by.key == SERVES
    assert kept(bench) is None


def test_vessels_are_filled_to_their_mark(view: BatchView, bench: Bench) -> None:
    choose(view.controls.vessel, GROWLER)
    choose(view.controls.by, VESSELS)
    type_into(view.controls.count, "2")
    batch = kept(bench)
    assert batch is not None
    assert (batch.vessel, batch.vessel_count) == (GROWLER, 2.0)
    assert "2 × bottle 700 ml" in view.told.text
    assert view.controls.count.isVisible()
    assert not view.controls.serves.isVisible()


def test_another_fill_is_kept_with_the_vessel(view: BatchView, bench: Bench) -> None:
    choose(view.controls.vessel, GROWLER)
    type_into(view.controls.fill, "650")
    assert bench.document.book.vessels[GROWLER].fill_ml == 650.0
    assert bench.document.undo_label == "change of vessel bottle 700 ml"
    assert "filled to 650" in view.told.text


def test_a_vessel_is_never_filled_above_its_brim(view: BatchView, bench: Bench) -> None:
    choose(view.controls.vessel, GROWLER)
    type_into(view.controls.fill, "800")
    assert bench.document.book.vessels[GROWLER].fill_ml == 700.0
    assert "to the brim" in view.problem.text()


def test_no_vessel_means_a_number_of_serves_again(view: BatchView, bench: Bench) -> None:
    choose(view.controls.vessel, GROWLER)
    choose(view.controls.by, VESSELS)
    choose(view.controls.vessel, "")
    batch = kept(bench)
    assert batch is not None
    assert batch.vessel_count is None
    assert view.controls.serves.isVisible()


@pytest.mark.parametrize("service", list(BatchService))
def test_every_service_has_its_batch(view: BatchView, bench: Bench, service: BatchService) -> None:
    bench.document.do(set_batch(bench.build("Drift").id, Batch(vessel=BOTTLE)), "vessel")
    if service is not BatchService.FREEZER:
        choose(view.controls.service, service)
    batch = kept(bench)
    assert batch is not None
    assert batch.service is service
    assert view.sheet is not None
    assert "Strength" in [row.name for row in view.sheet.tables[-1].rows]


def test_ticks_leave_citrus_and_fizz_until_service(view: BatchView, bench: Bench) -> None:
    QTest.keyClick(view.controls.citrus, Qt.Key.Key_Space)
    QTest.keyClick(view.controls.fizz, Qt.Key.Key_Space)
    assert kept(bench) == Batch(citrus_at_service=True, fizz_at_service=False)


def test_shares_of_salt_and_bitters_are_the_houses_until_they_are_typed(
    view: BatchView, bench: Bench
) -> None:
    assert view.controls.salt.field.placeholderText() == "75"
    type_into(view.controls.salt, "50")
    type_into(view.controls.bitters, "80 %")
    assert kept(bench) == Batch(salt_pct=50.0, bitters_pct=80.0)
    _empty(view.controls.salt)
    assert kept(bench) == Batch(bitters_pct=80.0)


def test_a_share_that_cannot_be_is_refused(view: BatchView, bench: Bench) -> None:
    type_into(view.controls.salt, "900")
    assert kept(bench) is None
    assert "Expected 0 to 200" in view.problem.text()


def test_the_step_of_the_scale_rounds_the_weights(view: BatchView, bench: Bench) -> None:
    choose(view.controls.scale, 5.0)
    assert kept(bench) == Batch(round_g=5.0)
    assert figures(view, "brown-butter rye")[3] == "420"


def test_a_step_that_is_not_offered_is_shown_as_it_is(view: BatchView, bench: Bench) -> None:
    bench.document.do(set_batch(bench.build("Drift").id, Batch(round_g=0.25)), "scale")
    bench.settle()
    assert view.controls.scale.key == 0.25


# What follows


def test_it_follows_what_is_typed_in_the_build(view: BatchView, bench: Bench) -> None:
    drink = bench.build("Drift")
    bench.session.set_preview(set_amount(drink.id, drink.steps[0].id, millilitres(60)))
    bench.settle()
    assert figures(view, "brown-butter rye")[:2] == ("60", "2")
    bench.session.set_preview(None)
    bench.settle()
    assert figures(view, "brown-butter rye")[:2] == ("45", "1½")


def test_it_follows_to_another_drink(view: BatchView, bench: Bench) -> None:
    bench.show("Sloe Tide")
    assert view.about.text().startswith("Sloe Tide")


def test_of_a_part_there_is_no_batch(view: BatchView, bench: Bench, qtbot: QtBot) -> None:
    bench.show("pear-sorrel cordial")
    assert view.empty.text().startswith("A batch is made of a drink")
    assert not view.controls.isVisible()
    assert not view.copy_button.isEnabled()
    with qtbot.waitSignal(view.closed):
        QTest.mouseClick(view.build_button, Qt.MouseButton.LeftButton)


def test_of_nothing_poured_there_is_no_batch(view: BatchView, bench: Bench) -> None:
    bench.document.do(new_drink("Nothing Yet"), "new drink")
    bench.show("Nothing Yet")
    assert view.empty.text().startswith("Nothing is poured yet")


def test_with_nothing_open_it_says_so(view: BatchView, bench: Bench) -> None:
    bench.session.show(None)
    bench.settle()
    assert view.empty.text() == "No drink or part is open."
    assert not view.build_button.isVisible()


def test_a_batch_that_cannot_be_says_why_and_keeps_the_answers_in_reach(
    view: BatchView, bench: Bench
) -> None:
    bench.document.do(set_batch(bench.build("Drift").id, Batch(vessel_count=2.0)), "no vessel")
    bench.settle()
    assert view.empty.text().startswith("There is no vessel to fill")
    assert view.controls.isVisible()


# Keys, pointer, screen reader, looks


def test_rows_are_walked_by_keys_and_read_aloud(view: BatchView) -> None:
    view.tables.setFocus()
    QTest.keyClick(view.tables, Qt.Key.Key_Home)
    assert view.tables.accessibleDescription().startswith("brown-butter rye: weigh 419 grams")
    QTest.keyClick(view.tables, Qt.Key.Key_Down)
    assert view.tables.current_axis() == 1
    QTest.keyClick(view.tables, Qt.Key.Key_End)
    assert view.tables.current_axis() == len(view.tables.axis_sentences()) - 1


def test_enter_opens_what_a_row_pours(view: BatchView, bench: Bench, qtbot: QtBot) -> None:
    view.tables.setFocus()
    with qtbot.waitSignal(view.opened) as signal:
        QTest.keyClick(view.tables, Qt.Key.Key_Return)
    assert signal.args == [bench.build("brown-butter rye").id]


def test_a_click_chooses_a_row_and_a_second_opens_it(view: BatchView, bench: Bench, qtbot: QtBot) -> None:
    rect = view.tables.placed()[1][0]
    QTest.mouseClick(view.tables, Qt.MouseButton.LeftButton, pos=rect.center().toPoint())
    assert view.tables.current_axis() == 1
    with qtbot.waitSignal(view.opened) as signal:
        QTest.mouseDClick(view.tables, Qt.MouseButton.LeftButton, pos=rect.center().toPoint())
    assert signal.args == [bench.build("Drift").steps[1].item_id]


def test_a_row_says_why_it_is_scaled_as_it_is(view: BatchView) -> None:
    place = next(
        rect for rect, _table, row, _columns in view.tables.placed() if row.name.startswith("saline")
    )
    assert "sodium chloride" in view.tables.tip_at(place.center())
    assert view.tables.tip_at(QPointF(-5.0, -5.0)) == ""


def test_a_screen_reader_finds_every_row(view: BatchView) -> None:
    found = QAccessible.queryAccessibleInterface(view.tables)
    assert found.childCount() == len(view.tables.axis_sentences())
    assert "brown-butter rye" in found.child(0).text(QAccessible.Text.Name)


def test_every_field_has_a_name(view: BatchView) -> None:
    names = [field.accessibleName() or getattr(field, "text", str)() for field in view.controls.fields]
    assert all(names)


def test_escape_closes(view: BatchView, qtbot: QtBot) -> None:
    view.tables.setFocus()
    with qtbot.waitSignal(view.closed):
        QTest.keyClick(view.tables, Qt.Key.Key_Escape)


def test_tab_goes_through_the_answers_to_the_tables(view: BatchView) -> None:
    view.focus_first()
    assert view.controls.by.field.hasFocus()
    seen = set()
    for _ in range(14):
        QTest.keyClick(QGuiApplication.focusObject(), Qt.Key.Key_Tab)
        seen.add(QGuiApplication.focusObject())
    assert view.tables in seen
    assert view.controls.scale.field in seen


@pytest.mark.parametrize("width", [480, 700, 1000, 1440])
@pytest.mark.parametrize("unit", [1.0, 2.0])
def test_nothing_is_cut_at_any_width(view: BatchView, bench: Bench, width: int, unit: float) -> None:
    view.set_appearance(Appearance(light_theme(), application_fonts(unit), Measures(unit), is_calm=True))
    view.resize(width * round(unit), 900)
    bench.settle()
    for line in view.controls.findChildren(WrapLine):
        assert all(
            child.geometry().right() <= line.width()
            for child in line.findChildren(QWidget, options=Qt.FindChildOption.FindDirectChildrenOnly)
            if child.isVisible()
        )
    for rect, _table, row, columns in view.tables.placed():
        assert rect.right() <= view.tables.width()
        assert len(columns.rights) >= 2 or not row.figures


def test_the_dark_look_paints_other_colours(view: BatchView, bench: Bench) -> None:
    light = view.grab().toImage().pixelColor(5, 400)
    view.set_appearance(Appearance(dark_theme(), application_fonts(), Measures(), is_calm=True))
    bench.settle()
    assert view.grab().toImage().pixelColor(5, 400).lightness() < light.lightness() - 100


# Copies and files


def test_the_tables_are_copied_as_cells(view: BatchView, qtbot: QtBot) -> None:
    with qtbot.waitSignal(view.said):
        QTest.mouseClick(view.copy_button, Qt.MouseButton.LeftButton)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[1].split("\t")[0] == "brown-butter rye"
    assert lines[1].split("\t")[5] == "419"


def test_a_pdf_holds_the_weigh_out_and_what_to_know(bench: Bench, qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "weigh-out.pdf"
    view = opened(bench, qtbot, path)
    view.export("pdf")
    words = " ".join(pdf_words(path.read_bytes()).split())
    for expected in ("10 serves of 104", "brown-butter rye", "419", "1,027", "slush", "measure your batch"):
        assert expected in words


def test_a_long_batch_goes_on_on_the_next_page(bench: Bench, qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "long.pdf"
    bench.show("Pear Signal")
    view = opened(bench, qtbot, path)
    view.export("pdf")
    assert path.read_bytes().count(b"/Type /Page\n") >= 2


def test_a_csv_holds_plain_numbers(bench: Bench, qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "weigh-out.csv"
    view = opened(bench, qtbot, path)
    view.export("csv")
    text = path.read_text("utf-8-sig")
    assert ",1027," in text or ",1027\n" in text
    assert "1,027" not in text


def test_a_change_of_mind_writes_nothing(view: BatchView, tmp_path: Path) -> None:
    view.export("pdf")
    assert not list(tmp_path.iterdir())


def test_a_folder_that_cannot_be_written_is_said(bench: Bench, qtbot: QtBot, tmp_path: Path) -> None:
    view = opened(bench, qtbot, tmp_path / "missing" / "weigh-out.pdf")
    view.export("pdf")
    assert "could not be written" in view.strip.text


def test_another_ending_is_refused(bench: Bench, qtbot: QtBot, tmp_path: Path) -> None:
    view = opened(bench, qtbot, tmp_path / "weigh-out.txt")
    view.export("pdf")
    assert "no name for a weigh-out" in view.strip.text
