"""The preview of a card: the very drawing that is exported, a page at a time, at its true size or larger."""

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QGuiApplication, QImage, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from washline.presentation.card import Card
from washline.ui.appearance import Appearance
from washline.ui.papers.page import Page
from washline.ui.papers.printing import pictures

_MARGIN = 16
_PLAUSIBLE_DPI = (60.0, 400.0)
_USUAL_DPI = 96.0


def screen_dpi(widget: QWidget) -> float:
    """How many of the widget's pixels are an inch of its screen, as far as the screen knows its size."""
    screen = widget.screen() or QGuiApplication.primaryScreen()
    dpi = screen.physicalDotsPerInch()
    return dpi if _PLAUSIBLE_DPI[0] <= dpi <= _PLAUSIBLE_DPI[1] else _USUAL_DPI


class Preview(QWidget):
    """One page of a card on its ground."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._images: tuple[QImage, ...] = ()
        self._number = 1
        self._card: Card | None = None
        self._page: Page | None = None
        self._zoom = 1.0
        self.setObjectName("card preview")

    @property
    def page_count(self) -> int:
        """How many pages the card has."""
        return len(self._images)

    @property
    def number(self) -> int:
        """The page that is shown, from 1."""
        return self._number

    @property
    def images(self) -> tuple[QImage, ...]:
        """The pages as they are shown."""
        return self._images

    def show_card(self, card: Card | None, page: Page, zoom: float) -> None:
        """Shows a card on a page size, ``zoom`` times as large as it is on paper."""
        if (card, page, zoom) == (self._card, self._page, self._zoom):
            return
        self._card, self._page, self._zoom = card, page, zoom
        self._paint_pages()

    def show_number(self, number: int) -> None:
        """Turns to a page."""
        self._number = min(max(number, 1), max(self.page_count, 1))
        self._describe()
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size; paper stays as it is."""
        self._look = look
        self.update()

    def _paint_pages(self) -> None:
        self._images = ()
        if self._card is not None and self._page is not None:
            ratio = self.devicePixelRatioF()
            self._images = pictures(self._card, self._page, screen_dpi(self) * self._zoom * ratio, ratio)
        self._number = min(self._number, max(self.page_count, 1))
        self._describe()
        self.setFixedSize(self._wanted_size())
        self.update()

    def _describe(self) -> None:
        name = self._card.name if self._card is not None else "nothing"
        self.setAccessibleName(f"Card of {name}, page {self._number} of {max(self.page_count, 1)}")
        if self._card is not None:
            self.setAccessibleDescription(
                f"Contains {self._card.box.contained_text}. {self._card.box.unknown_text}"
            )

    def _wanted_size(self) -> QSize:
        if not self._images:
            return QSize(2 * _MARGIN, 2 * _MARGIN)
        return self._images[0].deviceIndependentSize().toSize() + QSize(2 * _MARGIN, 2 * _MARGIN)

    def sizeHint(self) -> QSize:
        return self._wanted_size()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.theme.ground)
        if self._images:
            image = self._images[self._number - 1]
            sheet = QRect(_MARGIN, _MARGIN, 0, 0)
            sheet.setSize(image.deviceIndependentSize().toSize())
            painter.drawImage(sheet.topLeft(), image)
            painter.setPen(self._look.theme.rule2)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(sheet.adjusted(-1, -1, 0, 0))
        painter.end()
