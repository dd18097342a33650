"""Files of cards: page size, embedded fonts, words that can be copied, resolution, and that no file is half written."""

import re
from pathlib import Path

import pytest
from PySide6.QtGui import QImage
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QApplication

from tests.presentation.cards import card_of, house_with_verjus, signal_card
from tests.ui.papers.long_cards import with_lines
from tests.ui.papers.pdf_text import pdf_words
from washline.presentation.cautions import DEFERRAL, cautions
from washline.problem import UserError
from washline.ui.fonts import Fonts
from washline.ui.papers.page import A5, HALF_LETTER, Page, page_of
from washline.ui.papers.printing import card_file_name, pictures, print_card, print_on, write_pdf, write_png

pytestmark = pytest.mark.usefixtures("paper_fonts")


def letters(text: str) -> str:
    """Text without any blank: how a PDF parts its words is its own matter."""
    return re.sub(r"\s+", "", text.replace("\u00a0", "").replace("\u202f", ""))


@pytest.mark.parametrize(
    "page, width_pt, height_pt",
    # A5 is 148 mm × 210 mm (ISO 216), half letter 5.5 in × 8.5 in, in points of 1/72 in.
    [(A5, 419.5, 595.3), (HALF_LETTER, 396.0, 612.0)],
)
def test_pdf_has_the_size_of_its_page(page: Page, width_pt: float, height_pt: float, tmp_path: Path) -> None:
    write_pdf(signal_card(), tmp_path / "card.pdf", page)
    box = re.search(rb"/MediaBox \[([\d. ]+)\]", (tmp_path / "card.pdf").read_bytes())
    assert box is not None
    found = [float(number) for number in box[1].split()]
    assert found == pytest.approx([0.0, 0.0, width_pt, height_pt], abs=1.0)


def test_pdf_embeds_its_fonts_and_names_the_drink(tmp_path: Path) -> None:
    write_pdf(signal_card(), tmp_path / "card.pdf", A5)
    data = (tmp_path / "card.pdf").read_bytes()
    descriptors = data.count(b"/FontDescriptor\n") + data.count(b"/Type /FontDescriptor")
    assert data.count(b"/FontFile2") >= 3
    assert descriptors >= data.count(b"/FontFile2")
    assert b"SourceSans3" in data
    assert b"SourceSerif4" in data
    assert "Pear Signal".encode("utf-16-be") in data or b"Pear Signal" in data
    assert "My house".encode("utf-16-be") in data or b"My house" in data
    assert b"/Subtype /Image" not in data


def test_words_of_a_pdf_are_those_of_the_card(tmp_path: Path) -> None:
    card = card_of(house_with_verjus(allergens=("unknown",), cautions=tuple(cautions())))
    write_pdf(card, tmp_path / "card.pdf", A5)
    written = letters(pdf_words((tmp_path / "card.pdf").read_bytes()))
    assert letters("Unknown: verjus. Read the labels.") in written
    assert [key for key, one in cautions().items() if letters(one.bar) not in written] == []
    assert letters(DEFERRAL) in written
    assert "22.5" in written
    assert "¾" in written


def test_pdf_of_a_long_card_has_as_many_pages_as_it_says(tmp_path: Path) -> None:
    pages = write_pdf(with_lines(40), tmp_path / "card.pdf", A5)
    assert pages > 1
    data = (tmp_path / "card.pdf").read_bytes()
    assert len(re.findall(rb"/Type /Page\b", data)) == pages


def test_png_has_the_resolution_that_was_asked_for(tmp_path: Path) -> None:
    paths = write_png(signal_card(), tmp_path / "card.png", A5, 300)
    image = QImage(str(paths[0]))
    # 300 dots an inch are 11 811 dots a metre; A5 as Qt has it is 420 × 595 points.
    assert (image.dotsPerMeterX(), image.dotsPerMeterY()) == (11811, 11811)
    assert (image.width(), image.height()) == (round(420 / 72 * 300), round(595 / 72 * 300))
    assert image.text("Title") == "Pear Signal"


def test_second_page_of_a_png_is_a_file_of_its_own(tmp_path: Path) -> None:
    paths = write_png(with_lines(40), tmp_path / "card.png", A5, 72)
    assert [path.name for path in paths[:2]] == ["card.png", "card, page 2.png"]
    assert all(path.is_file() for path in paths)


def test_resolution_out_of_range_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="72 to 1200"):
        write_png(signal_card(), tmp_path / "card.png", A5, 20)
    assert list(tmp_path.iterdir()) == []


def test_file_that_cannot_be_written_is_told_with_its_cause(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="could not be written") as told:
        write_pdf(signal_card(), tmp_path / "not there" / "card.pdf", A5)
    assert "choose another folder" in str(told.value)


def test_old_file_stands_when_the_new_one_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "card.pdf"
    path.write_text("the old one")

    def fail(*_arguments: object) -> int:
        raise UserError("out of ink")

    monkeypatch.setattr("washline.ui.papers.printing.print_on", fail)
    with pytest.raises(UserError, match="out of ink"):
        write_pdf(signal_card(), path, A5)
    assert path.read_text() == "the old one"
    assert [one.name for one in tmp_path.iterdir()] == ["card.pdf"]


def test_print_card_goes_on_behind_a_card_that_fails(tmp_path: Path) -> None:
    told: dict[str, int | UserError] = {}
    jobs = [(signal_card(), tmp_path / "none" / "a.pdf"), (signal_card(), tmp_path / "b.pdf")]
    print_card(jobs, "half_letter", 300, lambda path, result: told.update({path.name: result}))
    assert isinstance(told["a.pdf"], UserError)
    assert told["b.pdf"] == 1


def test_print_card_raises_where_nobody_listens(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="no name for a spec card"):
        print_card([(signal_card(), tmp_path / "card.doc")], "a5")


def test_page_that_is_none_is_refused() -> None:
    with pytest.raises(UserError, match="a5, half-letter"):
        page_of("a3")


def test_file_name_holds_drink_day_and_paper() -> None:
    assert card_file_name(signal_card(), ".pdf") == "Pear Signal – 21 Nov 2026 – spec card.pdf"


def test_picture_and_pdf_break_their_pages_alike(qapp: QApplication, tmp_path: Path) -> None:
    card = with_lines(23)
    assert len(pictures(card, A5, 96)) == write_pdf(card, tmp_path / "card.pdf", A5)


def test_printer_gets_the_same_words(qapp: QApplication, tmp_path: Path) -> None:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    printer.setPageLayout(A5.layout())
    printer.setFullPage(True)
    assert print_on(printer, signal_card(), A5, printer.resolution()) == 1
    write_pdf(signal_card(), tmp_path / "written.pdf", A5)
    printed, written = (
        letters(pdf_words((tmp_path / name).read_bytes())) for name in ("printed.pdf", "written.pdf")
    )
    assert printed == written


def test_card_keeps_its_lines_without_colour(paper_fonts: Fonts) -> None:
    picture = pictures(signal_card(), A5, 144)[0].convertToFormat(QImage.Format.Format_Grayscale8)
    darkest = min(picture.pixelColor(x, 250).lightness() for x in range(560, 700))
    assert darkest < 120
