"""The sheet *Papers* through its visible controls: preview, words of the house, files, all cards, print."""

import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrinterInfo
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from tests.presentation.small_house import CORDIAL, OTHER, SIGNAL, house
from tests.ui.papers.long_cards import book_with_lines
from washline.document.document import Document
from washline.document.opening import create_document, open_document
from washline.model.item import Sign
from washline.ui.appearance import Appearance
from washline.ui.bridge import Bridge
from washline.ui.fonts import Fonts, application_fonts
from washline.ui.measures import Measures
from washline.ui.papers.batch import jobs_for
from washline.ui.papers.page import HALF_LETTER
from washline.ui.papers.papers_view import PapersView
from washline.ui.papers.preview import screen_dpi
from washline.ui.session import Session
from washline.ui.theme import dark_theme, light_theme


def noon() -> datetime:
    return datetime(2026, 11, 21, 12, 0, tzinfo=UTC)


@dataclass
class FakeAsker:
    """Answers in the place of a person; keeps what was asked."""

    folder_: Path
    changes_mind: bool = False
    wishes: list[str] = field(default_factory=list)

    def file(self, parent: QWidget, title: str, wish: Path, kinds: str, suffix: str) -> Path | None:
        """The wished name in the folder."""
        self.wishes.append(wish.name)
        return None if self.changes_mind else self.folder_ / wish.name

    def folder(self, parent: QWidget, title: str, wish: Path) -> Path | None:
        """The folder."""
        return None if self.changes_mind else self.folder_


@dataclass
class Desk:
    """A papers sheet that is shown, with all that it works on."""

    view: PapersView
    document: Document
    session: Session
    asker: FakeAsker
    said: list[str]

    def press(self, name: str) -> None:
        """Presses the button of that name."""
        button = self.view.findChild(QPushButton, name)
        assert isinstance(button, QPushButton)
        assert button.isEnabled()
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)

    def field(self, name: str) -> QLineEdit:
        """The field that is read out as that."""
        return next(one for one in self.view.findChildren(QLineEdit) if one.accessibleName() == name)

    def settle(self) -> None:
        """Lets everything happen that waits for its turn."""
        for _ in range(8):
            QApplication.processEvents()

    @property
    def strip(self) -> str:
        """What the strip at the foot says."""
        return self.view.strip.words.text() if self.view.strip.isVisible() else ""


@pytest.fixture
def look(paper_fonts: Fonts) -> Appearance:
    assert paper_fonts
    return Appearance(light_theme(), application_fonts(), Measures())


@pytest.fixture
def desk(qtbot: QtBot, look: Appearance, tmp_path: Path) -> Iterator[Desk]:
    document = create_document(tmp_path / "h.housebook", house(), "making it", clock=noon)
    yield from _desk(qtbot, look, tmp_path, document)


def _desk(qtbot: QtBot, look: Appearance, tmp_path: Path, document: Document) -> Iterator[Desk]:
    bridge = Bridge(document)
    session = Session(document, bridge)
    folder = tmp_path / "cards"
    folder.mkdir()
    asker = FakeAsker(folder)
    view = PapersView(document, session, look, asker=asker)
    said: list[str] = []
    view.said.connect(said.append)
    qtbot.addWidget(view)
    view.resize(1100, 800)
    session.show(SIGNAL)
    view.show()
    made = Desk(view, document, session, asker, said)
    made.settle()
    yield made
    view.close()
    bridge.close()
    document.close()


def test_card_of_the_open_drink_is_shown_at_its_true_size(desk: Desk) -> None:
    assert desk.view.card is not None
    assert desk.view.card.name == "Pear Signal"
    size = desk.view.preview.images[0].deviceIndependentSize()
    dpi = screen_dpi(desk.view)
    # A5 as Qt has it: 420 × 595 points of 1/72 inch.
    assert size.width() == pytest.approx(420 / 72 * dpi, abs=1)
    assert size.height() == pytest.approx(595 / 72 * dpi, abs=1)


def test_another_page_and_a_larger_size_are_shown_at_once(desk: Desk) -> None:
    desk.view.paper.setFocus()
    QTest.keyClick(desk.view.paper, Qt.Key.Key_Down)
    QTest.keyClick(desk.view.zoom, Qt.Key.Key_Down)
    desk.view.zoom.activated.emit(1)
    size = desk.view.preview.images[0].deviceIndependentSize()
    assert size.width() == pytest.approx(HALF_LETTER.width_px / 144 * screen_dpi(desk.view) * 1.5, abs=1)


def test_another_drink_brings_its_card(desk: Desk) -> None:
    desk.session.show(OTHER)
    desk.settle()
    assert desk.view.card is not None
    assert desk.view.card.name == "Other Signal"


def test_house_made_part_has_its_own_card(desk: Desk) -> None:
    desk.session.show(CORDIAL)
    desk.settle()
    assert desk.view.card is not None
    assert desk.view.card.glass_name == "House-made part"
    assert desk.view.preview.page_count >= 1
    assert all(desk.view.buttons[key].isEnabled() for key in ("pdf", "png", "print", "build"))


def test_words_typed_for_a_drink_stay_with_it_when_a_part_is_shown(desk: Desk) -> None:
    desk.session.show(CORDIAL)
    desk.settle()
    taste = desk.field("Tastes like")
    taste.setFocus()
    QTest.keyClicks(taste, "green pear")
    QTest.keyClick(taste, Qt.Key.Key_Return)
    assert desk.document.book.builds[CORDIAL].tastes_like == "green pear"
    assert desk.document.book.builds[SIGNAL].tastes_like == ""


def test_words_move_the_preview_while_they_are_typed_and_are_written_when_the_field_is_left(
    desk: Desk,
) -> None:
    taste = desk.field("Tastes like")
    taste.setFocus()
    QTest.keyClicks(taste, "ripe pear")
    desk.settle()
    assert desk.view.card is not None
    assert desk.view.card.tastes_like == "Ripe pear."
    assert desk.document.book.builds[SIGNAL].tastes_like == ""
    QTest.keyClick(taste, Qt.Key.Key_Return)
    desk.settle()
    assert desk.document.book.builds[SIGNAL].tastes_like == "ripe pear"
    assert desk.document.undo_label == "change of Pear Signal"
    desk.document.undo()
    desk.settle()
    assert taste.text() == ""
    assert desk.view.card.tastes_like == ""


def test_escape_gives_the_words_back_that_were_kept(desk: Desk) -> None:
    taste = desk.field("Tastes like")
    taste.setFocus()
    QTest.keyClicks(taste, "nonsense")
    QTest.keyClick(taste, Qt.Key.Key_Escape)
    desk.settle()
    assert taste.text() == ""
    assert desk.document.undo_label == ""
    assert desk.view.card is not None
    assert desk.view.card.tastes_like == ""


def test_signs_are_written_with_what_to_do(desk: Desk) -> None:
    for name, words in (("Sign 1", "thin"), ("What to do about sign 1", "fewer turns")):
        one = desk.field(name)
        one.setFocus()
        QTest.keyClicks(one, words)
        QTest.keyClick(one, Qt.Key.Key_Return)
    desk.settle()
    assert desk.document.book.builds[SIGNAL].if_off == (Sign("thin", "fewer turns"),)
    assert desk.view.card is not None
    assert desk.view.card.signs == (("thin", "fewer turns"),)


def test_pdf_is_written_where_it_was_asked_for(desk: Desk) -> None:
    desk.press("papers_pdf")
    assert desk.asker.wishes == ["Pear Signal – spec card.pdf"]
    assert (desk.asker.folder_ / "Pear Signal – spec card.pdf").read_bytes().startswith(b"%PDF")
    assert desk.said[-1].startswith("Card written to")


def test_png_is_written_where_it_was_asked_for(desk: Desk) -> None:
    desk.press("papers_png")
    assert (desk.asker.folder_ / "Pear Signal – spec card.png").read_bytes().startswith(b"\x89PNG")


def test_build_file_is_written(desk: Desk) -> None:
    desk.press("papers_build")
    data = json.loads((desk.asker.folder_ / "Pear Signal.build.json").read_bytes())
    assert data["main"] == "pear-signal"


def test_change_of_mind_writes_nothing(desk: Desk) -> None:
    desk.asker.changes_mind = True
    for name in ("papers_pdf", "papers_png", "papers_build", "papers_all"):
        desk.press(name)
    desk.settle()
    assert list(desk.asker.folder_.iterdir()) == []


def test_fault_of_the_disk_is_told_in_place(desk: Desk) -> None:
    desk.asker.folder_.rmdir()
    desk.press("papers_pdf")
    assert "could not be written" in desk.strip
    desk.press("papers_build")
    assert "Pear Signal.build.json" in desk.strip


def test_all_cards_are_written_with_their_count(desk: Desk, qtbot: QtBot) -> None:
    desk.press("papers_all")
    assert desk.view.stop.isVisible()
    qtbot.waitUntil(lambda: bool(desk.said))
    assert sorted(path.name for path in desk.asker.folder_.iterdir()) == [
        "Other Signal – spec card.pdf",
        "Pear Signal – spec card.pdf",
    ]
    assert desk.said == ["2 cards written."]
    assert not desk.view.stop.isVisible()


def test_files_that_are_there_are_asked_about_once(desk: Desk, qtbot: QtBot) -> None:
    old = desk.asker.folder_ / "Pear Signal – spec card.pdf"
    old.write_text("old")
    desk.press("papers_all")
    assert desk.strip == "1 of the 2 cards is in this folder already."
    assert desk.view.focusWidget() is desk.view.strip.second
    QTest.mouseClick(desk.view.strip.second, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bool(desk.said))
    assert old.read_text() == "old"
    assert desk.said == ["1 card written. 1 left as they were."]


def test_files_that_are_there_are_replaced_when_that_is_the_answer(desk: Desk, qtbot: QtBot) -> None:
    old = desk.asker.folder_ / "Pear Signal – spec card.pdf"
    old.write_text("old")
    desk.press("papers_all")
    QTest.mouseClick(desk.view.strip.first, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bool(desk.said))
    assert old.read_bytes().startswith(b"%PDF")


def test_escape_answers_the_question_with_no(desk: Desk) -> None:
    (desk.asker.folder_ / "Pear Signal – spec card.pdf").write_text("old")
    desk.press("papers_all")
    QTest.keyClick(desk.view.strip.first, Qt.Key.Key_Escape)
    desk.settle()
    assert len(list(desk.asker.folder_.iterdir())) == 1
    assert not desk.view.strip.isVisible()
    assert desk.view.isVisible()


def test_stop_leaves_whole_files_only(desk: Desk) -> None:
    desk.press("papers_all")
    QTest.mouseClick(desk.view.stop, Qt.MouseButton.LeftButton)
    desk.settle()
    assert "Stopped; every file is whole." in desk.said[-1]
    assert all(path.read_bytes().endswith(b"%%EOF\n") for path in desk.asker.folder_.iterdir())


def test_without_a_printer_it_says_so_and_offers_a_pdf(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(QPrinterInfo, "availablePrinterNames", staticmethod(list))
    desk.press("papers_print")
    assert "No printer is set up" in desk.strip
    QTest.mouseClick(desk.view.strip.first, Qt.MouseButton.LeftButton)
    assert (desk.asker.folder_ / "Pear Signal – spec card.pdf").is_file()


def test_escape_closes_the_sheet(desk: Desk, qtbot: QtBot) -> None:
    with qtbot.waitSignal(desk.view.closed):
        QTest.keyClick(desk.view, Qt.Key.Key_Escape)


def test_card_of_one_page_has_no_page_to_turn_to(desk: Desk) -> None:
    assert desk.view.count.text() == "1 of 1"
    assert not desk.view.next.isEnabled()
    assert not desk.view.previous.isEnabled()


def test_pages_are_turned_and_the_buttons_know_the_ends(
    qtbot: QtBot, look: Appearance, tmp_path: Path
) -> None:
    document = create_document(tmp_path / "l.housebook", book_with_lines(40), "making it", clock=noon)
    for made in _desk(qtbot, look, tmp_path, document):
        made.session.show(OTHER)
        made.settle()
        count = made.view.preview.page_count
        assert count > 1
        for _ in range(count - 1):
            QTest.mouseClick(made.view.next, Qt.MouseButton.LeftButton)
        assert made.view.count.text() == f"{count} of {count}"
        assert not made.view.next.isEnabled()
        QTest.mouseClick(made.view.previous, Qt.MouseButton.LeftButton)
        assert made.view.count.text() == f"{count - 1} of {count}"


def test_every_control_has_a_name_for_screen_readers(desk: Desk) -> None:
    for widget in desk.view.findChildren(QWidget):
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus and widget.isVisible():
            name = widget.accessibleName() or (widget.text() if isinstance(widget, QPushButton) else "")
            assert name, widget


def test_paper_stays_white_in_the_dark(desk: Desk) -> None:
    desk.view.set_appearance(Appearance(dark_theme(), application_fonts(), Measures()))
    desk.settle()
    assert desk.view.preview.images[0].pixelColor(3, 3).lightness() == 255
    shot = desk.view.grab().toImage()
    assert shot.pixelColor(5, 5).lightness() < 60


def test_read_only_house_book_can_be_printed_but_not_changed(
    qtbot: QtBot, look: Appearance, tmp_path: Path
) -> None:
    path = tmp_path / "r.housebook"
    create_document(path, house(), "making it", clock=noon).close()
    for made in _desk(qtbot, look, tmp_path, open_document(path, clock=noon, read_only=True)):
        assert made.field("Tastes like").isReadOnly()
        made.press("papers_pdf")
        assert made.said


def test_drinks_of_one_name_get_files_of_their_own() -> None:
    jobs = jobs_for([(1, "Ebb", ""), (2, "ebb", ""), (3, "Ebb", "21 Nov 2026")], Path("cards"))
    assert [job.path.name for job in jobs] == [
        "Ebb – spec card.pdf",
        "ebb – spec card 2.pdf",
        "Ebb – 21 Nov 2026 – spec card.pdf",
    ]
