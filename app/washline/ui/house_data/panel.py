"""What stands beside a table of the house's data: the current row in words, its picture, and what was calibrated."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QVBoxLayout, QWidget

from washline.model.book import HouseBook
from washline.presentation.house_data import HouseTexts
from washline.presentation.house_data_columns import HouseRow, HouseTable
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, Words
from washline.ui.glass.picture import GlassPicture
from washline.ui.house_data.melt_picture import MeltPicture

GLASS_WIDTH, GLASS_HEIGHT = 350.0, 320.0
LOW_GLASS_HEIGHT = 210.0
WORDS_WIDTH = 220.0


class LowerGlassPicture(GlassPicture):
    """The picture of a glass that takes no more height than it is given."""

    is_low = False

    def sizeHint(self) -> QSize:
        return QSize(
            self._look.px(GLASS_WIDTH), self._look.px(LOW_GLASS_HEIGHT if self.is_low else GLASS_HEIGHT)
        )


class Calibrations(QWidget):
    """What the house calibrated, a line each with a button; ``forgotten`` carries the slug of one to forget."""

    forgotten = Signal(str)

    def __init__(self, look: Appearance) -> None:
        super().__init__()
        self._look = look
        self._lines: list[tuple[Words, PlainButton]] = []
        self._slugs: list[str] = []
        self.setAccessibleName("Calibrations")
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._head = Words(look, "Calibrations that count now", style="row_strong")
        self._none = Words(look, "None: methods stand on their usual figures.", token="ink2", style="label")
        self._column.addWidget(self._head)
        self._column.addWidget(self._none)

    @property
    def buttons(self) -> Sequence[PlainButton]:
        """The buttons that forget, in order."""
        return [button for _, button in self._lines if not button.isHidden()]

    @property
    def texts(self) -> Sequence[str]:
        """The lines, in order."""
        return [words.text() for words, _ in self._lines if not words.isHidden()]

    def show_lines(self, lines: Sequence[tuple[str, str]], *, is_read_only: bool) -> None:
        """Shows slugs with their words."""
        self._slugs = [slug for slug, _ in lines]
        self._none.setVisible(not lines)
        while len(self._lines) < len(lines):
            self._add_line()
        for number, (words, button) in enumerate(self._lines):
            is_shown = number < len(lines)
            words.setVisible(is_shown)
            button.setVisible(is_shown)
            if is_shown:
                words.setText(lines[number][1])
                button.setEnabled(not is_read_only)
                button.setAccessibleName(f"Forget the calibration: {lines[number][1]}")

    def _add_line(self) -> None:
        words = Words(self._look, "", token="ink2", style="label", wraps=True)
        button = PlainButton(self._look, "Forget")
        button.clicked.connect(self._forget)
        line = QHBoxLayout()
        line.addWidget(words, 1)
        line.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        self._column.addLayout(line)
        self._lines.append((words, button))

    @Slot()
    def _forget(self) -> None:
        sender = self.sender()
        number = next((at for at, (_, button) in enumerate(self._lines) if button is sender), -1)
        if 0 <= number < len(self._slugs):
            self.forgotten.emit(self._slugs[number])

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._column.setSpacing(look.px(4))
        for part in (self._head, self._none, *(part for line in self._lines for part in line)):
            part.set_appearance(look)


class RowPanel(QWidget):
    """Name, sentences and picture of the current row. ``way`` is how its picture and words lie."""

    def __init__(self, look: Appearance, style: NumberStyle = ENGLISH_STYLE) -> None:
        super().__init__()
        self._look = look
        self._is_beside = False
        self.name = Words(look, style="row_strong", wraps=True)
        self.words = Words(look, token="ink2", style="label", wraps=True)
        self.words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.glass = LowerGlassPicture(look)
        self.melt = MeltPicture(look, style)
        self.calibrations = Calibrations(look)
        self._told = QWidget()
        column = self._column = QVBoxLayout(self._told)
        column.setContentsMargins(0, 0, 0, 0)
        for part in (self.name, self.words, self.calibrations):
            column.addWidget(part)
        column.addStretch(1)
        layout = self._layout = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        layout.addWidget(self.glass, 0, Qt.AlignmentFlag.AlignTop)
        layout.addWidget(self.melt, 0, Qt.AlignmentFlag.AlignTop)
        layout.addWidget(self._told, 1)
        for hidden in (self.glass, self.melt, self.calibrations):
            hidden.hide()
        self.set_appearance(look)

    @property
    def text(self) -> str:
        """What it says."""
        return self.words.text()

    def stand(self, *, is_beside: bool) -> None:
        """Stands beside the table, or under it."""
        self._is_beside = is_beside
        self.glass.is_low = not is_beside
        self.glass.updateGeometry()
        direction = QBoxLayout.Direction
        self._layout.setDirection(direction.TopToBottom if is_beside else direction.LeftToRight)
        self.setFixedWidth(self._look.px(GLASS_WIDTH + 32)) if is_beside else self.setMaximumWidth(16777215)
        if not is_beside:
            self.setMinimumWidth(0)

    def show_row(
        self,
        book: HouseBook,
        texts: HouseTexts,
        table: HouseTable,
        row: HouseRow | None,
        *,
        is_read_only: bool,
    ) -> None:
        """Tells of another row; beside weighings stands what was calibrated, whether there is a row or not."""
        is_weighing = table.key == "weighing"
        self.calibrations.setVisible(is_weighing)
        if is_weighing:
            self.calibrations.show_lines(texts.calibrations(), is_read_only=is_read_only)
        level, curve = texts.pictured(row)
        self.glass.setVisible(level is not None)
        self.glass.set_level(level)
        self.melt.setVisible(curve is not None)
        self.melt.set_curve(curve)
        self.name.setText(texts.name(row) if row is not None else "")
        self.words.setText(" ".join(texts.told(table, row, level, curve)) if row is not None else "")
        self.setVisible(row is not None or (is_weighing and bool(book.calibrations)))

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._layout.setContentsMargins(look.px(20), look.px(10), look.px(16), look.px(12))
        self._layout.setSpacing(look.px(18))
        self._column.setSpacing(look.px(4))
        self._told.setMinimumWidth(look.px(WORDS_WIDTH))
        for part in (self.name, self.words, self.glass, self.melt, self.calibrations):
            part.set_appearance(look)
        self.stand(is_beside=self._is_beside)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.theme.sheet)
        edge = QRectF(0, 0, 1, self.height()) if self._is_beside else QRectF(0, 0, self.width(), 1)
        painter.fillRect(edge, self._look.theme.rule2)
        painter.end()
