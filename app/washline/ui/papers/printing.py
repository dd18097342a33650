"""Spec cards as files and on paper: one drawing for all of them. No file is ever half written."""

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from PySide6.QtCore import QIODevice, QPointF, QSaveFile, Qt
from PySide6.QtGui import (
    QFontDatabase,
    QGuiApplication,
    QImage,
    QImageWriter,
    QPagedPaintDevice,
    QPainter,
    QPdfWriter,
)

from washline import __version__
from washline.presentation.card import Card
from washline.problem import UserError
from washline.quantity.names import safe_file_name
from washline.ui.fonts import SANS, Fonts, load_fonts
from washline.ui.papers.card_pages import LaidOut, lay_out
from washline.ui.papers.draw_card import draw_page
from washline.ui.papers.page import PX_PER_INCH, Page, page_of
from washline.ui.theme import paper_theme

PDF_DPI = 1200
PNG_DPI = 300
LEAST_DPI, MOST_DPI = 72, 1200
_INCHES_PER_METRE = 1 / 0.0254

After = Callable[[Path, int | UserError], None]
"""Is told of each file: how many pages it has, or why it could not be written."""


def print_card(
    cards: Iterable[tuple[Card, Path]], page: str, dpi: int = PNG_DPI, after: After | None = None
) -> None:
    """Writes cards as PDF or PNG by the ending of each path, without a display.

    What cannot be written is told to ``after`` and the next card follows; without ``after`` it is raised.
    """
    chosen = page_of(page)
    with _application():
        for card, path in cards:
            try:
                told: int | UserError = write(card, path, chosen, dpi)
            except UserError as error:
                if after is None:
                    raise
                told = error
            if after is not None:
                after(path, told)


def write(card: Card, path: Path, page: Page, dpi: int = PNG_DPI) -> int:
    """Writes a card in the format of its path's ending; the number of its pages. Raises ``UserError``."""
    if path.suffix.lower() == ".pdf":
        return write_pdf(card, path, page)
    if path.suffix.lower() == ".png":
        return len(write_png(card, path, page, dpi))
    raise UserError(
        f"“{path.name}” is no name for a spec card.",
        "A card is written as PDF or PNG, which its ending says.",
        "Let the name end in .pdf or .png.",
    )


def write_pdf(card: Card, path: Path, page: Page) -> int:
    """Writes a card as a PDF with embedded fonts; the number of its pages. The old file stands until the new is whole.

    Raises ``UserError`` where it cannot be written.
    """
    with _saved(path) as file:
        writer = QPdfWriter(file)
        writer.setPageLayout(page.layout())
        writer.setResolution(PDF_DPI)
        writer.setTitle(card.name)
        writer.setAuthor(card.house)
        writer.setCreator(f"Washline {__version__}")
        return print_on(writer, card, page, PDF_DPI, path)


def write_png(card: Card, path: Path, page: Page, dpi: int = PNG_DPI) -> tuple[Path, ...]:
    """Writes a card as pictures, one a page: the second is called *…, page 2*. The paths written.

    Raises ``UserError`` where one cannot be written, or for a resolution out of range.
    """
    if not LEAST_DPI <= dpi <= MOST_DPI:
        raise UserError(
            f"A picture of {dpi} dots per inch is not made.",
            remedy=f"Choose a resolution from {LEAST_DPI} to {MOST_DPI}.",
        )
    paths = []
    for number, image in enumerate(pictures(card, page, dpi), start=1):
        own = path if number == 1 else path.with_name(f"{path.stem}, page {number}{path.suffix}")
        with _saved(own) as file:
            writer = QImageWriter(file, b"png")
            if not writer.write(image):
                raise _not_written(own, writer.errorString())
        paths.append(own)
    return tuple(paths)


def pictures(card: Card, page: Page, dpi: float, shown_ratio: float = 1.0) -> tuple[QImage, ...]:
    """The pages of a card as pictures; ``shown_ratio`` is the screen's own ratio where they are to be shown."""
    blank = blank_picture(page, dpi)
    fonts = Fonts.for_device(blank)
    laid_out = lay_out(card, page, fonts)
    made = []
    for index in range(len(laid_out.pages)):
        image = blank_picture(page, dpi)
        image.setText("Title", card.name)
        image.setText("Software", f"Washline {__version__}")
        painter = QPainter(image)
        painter.scale(dpi / PX_PER_INCH, dpi / PX_PER_INCH)
        draw_page(painter, laid_out.pages[index], card, fonts, paper_theme())
        painter.end()
        image.setDevicePixelRatio(shown_ratio)
        made.append(image)
    return tuple(made)


def print_on(device: QPagedPaintDevice, card: Card, page: Page, dpi: float, path: Path | None = None) -> int:
    """Paints a card on a paged device of that resolution; the number of pages. Raises ``UserError``."""
    painter = QPainter()
    if not painter.begin(device):
        raise _not_written(path, "The device takes no drawing")
    try:
        fonts = Fonts.for_device(device)
        laid_out = lay_out(card, page, fonts)
        _paint_pages(painter, device, laid_out, card, fonts, dpi)
    finally:
        painter.end()
    return len(laid_out.pages)


def _paint_pages(
    painter: QPainter, device: QPagedPaintDevice, laid_out: LaidOut, card: Card, fonts: Fonts, dpi: float
) -> None:
    origin = _paint_origin(device)
    for index, marks in enumerate(laid_out.pages):
        if index:
            device.newPage()
        painter.save()
        painter.translate(-origin)
        painter.scale(dpi / PX_PER_INCH, dpi / PX_PER_INCH)
        draw_page(painter, marks, card, fonts, paper_theme())
        painter.restore()


def _paint_origin(device: QPagedPaintDevice) -> QPointF:
    """Where the device starts to paint: a printer may keep a margin that it cannot print on."""
    layout = device.pageLayout()
    rect = layout.paintRectPixels(device.logicalDpiX())
    return QPointF(rect.topLeft())


def card_file_name(card: Card, ending: str) -> str:
    """The name of a card's file: drink, day of its last change, paper."""
    day = card.change[-1] if card.change else ""
    return safe_file_name([card.name, day, "spec card"], ending)


def blank_picture(page: Page, dpi: float) -> QImage:
    """A white picture of a page at a resolution."""
    scale = dpi / PX_PER_INCH
    image = QImage(round(page.width_px * scale), round(page.height_px * scale), QImage.Format.Format_RGB32)
    dots_per_metre = round(dpi * _INCHES_PER_METRE)
    image.setDotsPerMeterX(dots_per_metre)
    image.setDotsPerMeterY(dots_per_metre)
    image.fill(Qt.GlobalColor.white)
    return image


@contextmanager
def _saved(path: Path) -> Iterator[QSaveFile]:
    """A file that takes its place when all is written, and leaves no trace when something fails."""
    file = QSaveFile(str(path))
    if not file.open(QIODevice.OpenModeFlag.WriteOnly):
        raise _not_written(path, file.errorString())
    try:
        yield file
    except BaseException:
        file.cancelWriting()
        file.commit()
        raise
    if not file.commit():
        raise _not_written(path, file.errorString())


def _not_written(path: Path | None, cause: str) -> UserError:
    what = f"“{path.name}” could not be written." if path is not None else "The card could not be printed."
    where = f" in {path.parent}" if path is not None else ""
    remedy = "Close it where it is open, or choose another folder." if path is not None else "Save it as PDF."
    return UserError(what, f"The system says{where}: {cause.rstrip('.')}.", remedy)


@contextmanager
def _application() -> Iterator[None]:
    """A Qt that can draw: the one that is there, or one of its own that needs no display."""
    running = QGuiApplication.instance()
    own = None if running is not None else QGuiApplication(["washline", "-platform", "offscreen"])
    if SANS not in QFontDatabase.families():
        load_fonts()
    try:
        yield
    finally:
        if own is not None:
            own.shutdown()
