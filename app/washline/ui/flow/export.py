"""The flow picture with its ledger as a file: PDF, SVG or PNG, drawn as the window draws it."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QRectF, QSize, QSizeF
from PySide6.QtGui import QImage, QImageWriter, QPageLayout, QPageSize, QPainter, QPdfWriter
from PySide6.QtSvg import QSvgGenerator

from washline import __version__
from washline.presentation.flow_graph import Flow
from washline.presentation.flow_layout import layout
from washline.presentation.ledger_table import LedgerTexts
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.flow.draw_flow import draw_flow, draw_text, measure_of
from washline.ui.flow.table import draw_table, table_height
from washline.ui.fonts import Fonts
from washline.ui.papers.files import write_bytes
from washline.ui.theme import paper_theme

PAGE_WIDTH = 1190.0
LEAST_PICTURE = 520.0
PDF_DPI = 1200
PNG_DPI = 300
HEAD_HEIGHT = 76.0
FOOT_HEIGHT = 34.0
_MARGIN = 20.0
_PX_PER_INCH = 96.0
_POINTS_PER_PX = 72.0 / 96.0
_INCHES_PER_METRE = 1 / 0.0254


@dataclass(frozen=True)
class FlowSheet:
    """All that stands on the exported page: heading, picture, ledger, and who made it when."""

    heading: str
    flow: Flow
    texts: LedgerTexts
    foot: str
    house: str
    style: NumberStyle = ENGLISH_STYLE


@dataclass(frozen=True)
class _Size:
    width: float
    picture: float
    table: float

    @property
    def height(self) -> float:
        return HEAD_HEIGHT + self.picture + self.table + FOOT_HEIGHT


def write(sheet: FlowSheet, path: Path) -> None:
    """Writes the sheet in the format that the name ends in: pdf, svg or png. Raises ``UserError``; no file is left half
    written."""
    makers: dict[str, Callable[[FlowSheet], bytes]] = {
        ".pdf": pdf_bytes,
        ".svg": svg_bytes,
        ".png": png_bytes,
    }
    make = makers.get(path.suffix.lower())
    if make is None:
        raise UserError(
            f"“{path.name}” is no name for a picture.",
            "The ending of the name says which kind of file it is.",
            "Let the name end in .pdf, .svg or .png.",
        )
    write_bytes(path, make(sheet))


def pdf_bytes(sheet: FlowSheet) -> bytes:
    """The sheet as one page of PDF of its own size."""
    size = _size(sheet, Fonts())
    buffer = _opened()
    writer = QPdfWriter(buffer)
    points = QSizeF(size.width * _POINTS_PER_PX, size.height * _POINTS_PER_PX)
    page = QPageSize(points, QPageSize.Unit.Point, "", QPageSize.SizeMatchPolicy.ExactMatch)
    writer.setPageLayout(QPageLayout(page, QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0)))
    writer.setResolution(PDF_DPI)
    writer.setTitle(sheet.heading)
    writer.setAuthor(sheet.house)
    writer.setCreator(f"Washline {__version__}")
    painter = QPainter(writer)
    painter.scale(PDF_DPI / _PX_PER_INCH, PDF_DPI / _PX_PER_INCH)
    draw_sheet(painter, sheet, Fonts.for_device(writer))
    painter.end()
    return _taken(buffer)


def svg_bytes(sheet: FlowSheet) -> bytes:
    """The sheet as SVG."""
    size = _size(sheet, Fonts())
    buffer = _opened()
    generator = QSvgGenerator()
    generator.setOutputDevice(buffer)
    whole = QSize(round(size.width), round(size.height))
    generator.setResolution(round(_PX_PER_INCH))
    generator.setSize(whole)
    generator.setViewBox(QRectF(0, 0, whole.width(), whole.height()))
    generator.setTitle(sheet.heading)
    generator.setDescription(f"{sheet.flow.subtitle}. {sheet.texts.in_less_out}. {sheet.texts.used}".strip())
    painter = QPainter(generator)
    draw_sheet(painter, sheet, Fonts.for_device(generator))
    painter.end()
    return _taken(buffer)


def png_bytes(sheet: FlowSheet) -> bytes:
    """The sheet as a picture of 300 dots per inch."""
    size = _size(sheet, Fonts())
    scale = PNG_DPI / _PX_PER_INCH
    image = QImage(round(size.width * scale), round(size.height * scale), QImage.Format.Format_RGB32)
    dots = round(PNG_DPI * _INCHES_PER_METRE)
    image.setDotsPerMeterX(dots)
    image.setDotsPerMeterY(dots)
    image.setText("Title", sheet.heading)
    image.setText("Software", f"Washline {__version__}")
    image.fill(paper_theme().sheet)
    painter = QPainter(image)
    painter.scale(scale, scale)
    draw_sheet(painter, sheet, Fonts.for_device(image))
    painter.end()
    buffer = _opened()
    if not QImageWriter(buffer, b"png").write(image):
        raise UserError("The picture could not be made.", "It is too large for this computer's memory.")
    return _taken(buffer)


def draw_sheet(painter: QPainter, sheet: FlowSheet, fonts: Fonts) -> None:
    """Draws the whole sheet at the painter's origin, 96 px to the inch, in the colours of paper."""
    theme, size = paper_theme(), _size(sheet, fonts)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    draw_text(painter, fonts, _MARGIN, 32.0, sheet.heading, fonts.title, theme.ink)
    draw_text(painter, fonts, _MARGIN, 60.0, sheet.flow.subtitle, fonts.label, theme.ink2)
    painter.save()
    painter.translate(0.0, HEAD_HEIGHT)
    places = layout(sheet.flow, size.width, size.picture, measure_of(fonts))
    draw_flow(painter, places, theme, fonts, sheet.style)
    painter.translate(0.0, size.picture)
    draw_table(painter, sheet.texts, size.width, theme, fonts)
    painter.restore()
    y = size.height - FOOT_HEIGHT / 2
    draw_text(painter, fonts, _MARGIN, y, sheet.foot, fonts.smallest, theme.ink3)


def _size(sheet: FlowSheet, fonts: Fonts) -> _Size:
    places = layout(sheet.flow, PAGE_WIDTH, LEAST_PICTURE, measure_of(fonts))
    width = float(round(places.width))
    return _Size(width, float(round(places.height)), float(round(table_height(sheet.texts, width, 1.0))))


def _opened() -> QBuffer:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    return buffer


def _taken(buffer: QBuffer) -> bytes:
    buffer.close()
    return bytes(buffer.data().data())
