"""Facts in words beside a picture: name, figure, what is said of it; and a pressure as a bar with its rating."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QVBoxLayout, QWidget

from washline.presentation.glass_level import Fact
from washline.presentation.pressure import Pressure
from washline.ui.appearance import Appearance
from washline.ui.controls import Words
from washline.ui.draw.pens import filled_bar, hairline, on_pixel, square

_BAR_WIDTH = 320.0
_BAR_ROOM = 1.25
"""How much further than the rated pressure the bar reaches."""


class SectionHead(Words):
    """The name of a section, under a rule."""

    def __init__(self, look: Appearance, text: str, parent: QWidget | None = None) -> None:
        super().__init__(look, text, style="row_strong", parent=parent)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        super().set_appearance(look)
        self.setContentsMargins(0, look.px(10), 0, 0)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(QRectF(0, 0, self.width(), hairline(painter)), self._look.theme.rule2)
        painter.end()
        super().paintEvent(event)


class FactGrid(QWidget):
    """One line for each fact: name, figure, note. Each line is one label for a screen reader."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setColumnStretch(2, 1)
        self._lines: list[tuple[Words, Words, Words]] = []
        self._facts: tuple[Fact, ...] = ()
        self.set_appearance(look)

    @property
    def facts(self) -> tuple[Fact, ...]:
        """What is shown."""
        return self._facts

    def set_facts(self, facts: Sequence[Fact]) -> None:
        """Shows other facts; labels that are there are used again."""
        self._facts = tuple(facts)
        while len(self._lines) < len(self._facts):
            self._add_line()
        for number, line in enumerate(self._lines):
            is_shown = number < len(self._facts)
            for words in line:
                words.setVisible(is_shown)
            if is_shown:
                fact = self._facts[number]
                for words, text in zip(line, (fact.name, fact.figure, fact.note), strict=True):
                    words.setText(text)
                line[1].setAccessibleName(fact.spoken)

    def _add_line(self) -> None:
        look, row = self._look, len(self._lines)
        name = Words(look, "", token="ink2", style="label")
        figure = Words(look, "", style="figure_strong")
        note = Words(look, "", token="ink3", style="label", wraps=True)
        figure.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
        for column, words in enumerate((name, figure, note)):
            words.setAlignment(words.alignment() | Qt.AlignmentFlag.AlignTop)
            self._grid.addWidget(words, row, column)
        self._lines.append((name, figure, note))

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._grid.setHorizontalSpacing(look.px(12))
        self._grid.setVerticalSpacing(look.px(5))
        for line in self._lines:
            for words in line:
                words.set_appearance(look)


class PressureBar(QWidget):
    """The pressure at the warmest place against the rated one: a bar, a mark at the rating, and the words behind it."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._share: float | None = None
        self._words = ""
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def set_pressure(self, shown: Pressure) -> None:
        """Shows another pressure."""
        self._share, self._words = shown.share, shown.bar_words
        self.setAccessibleName(shown.bar_words)
        self.setVisible(shown.share is not None)
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(_BAR_WIDTH + 200), self._look.px(26))

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._share is None:
            return
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        painter = QPainter(self)
        height, width = look.px(10), min(look.px(_BAR_WIDTH), self.width() * 0.6)
        top = (self.height() - height) / 2
        full = width / _BAR_ROOM
        painter.setPen(square(theme.edge, look.unit))
        painter.drawRect(QRectF(0.5, top + 0.5, width, height))
        is_over = self._share > 1.0
        colour = theme.alert if is_over else theme.ink2
        filled_bar(painter, 1, top + 1, min(self._share, _BAR_ROOM) * full, height - 1, colour)
        mark = on_pixel(painter, full)
        painter.setPen(square(theme.ink, 2 * look.unit))
        painter.drawLine(round(mark), round(top - look.px(4)), round(mark), round(top + height + look.px(4)))
        painter.setFont(fonts.label)
        painter.setPen(theme.alert if is_over else theme.ink)
        room = QRectF(width + look.px(12), 0, self.width() - width - look.px(12), self.height())
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, self._words)
        painter.end()


class PressureBox(QWidget):
    """One carbonation: where it stands in words, its bar, its facts and its cautions."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = Words(look, "", style="row_strong")
        self._verdict = Words(look, "", wraps=True)
        self._bar = PressureBar(look)
        self._facts = FactGrid(look)
        self._cautions = Words(look, "", token="ink2", style="label", wraps=True)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        for part in self._parts:
            self._column.addWidget(part)
        self.set_appearance(look)

    @property
    def _parts(self) -> tuple[Words | PressureBar | FactGrid, ...]:
        return self._name, self._verdict, self._bar, self._facts, self._cautions

    @property
    def texts(self) -> tuple[str, str, str]:
        """Name, verdict and cautions as they stand there."""
        return self._name.text(), self._verdict.text(), self._cautions.text()

    def set_pressure(self, shown: Pressure) -> None:
        """Shows another carbonation."""
        self._name.setText(shown.name)
        self._verdict.setText(shown.words)
        self._verdict.set_token("alert" if shown.is_refused else "ink")
        self._bar.set_pressure(shown)
        self._facts.set_facts(shown.facts)
        self._facts.setVisible(bool(shown.facts))
        self._cautions.setText("\n".join(shown.cautions))

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._column.setSpacing(look.px(6))
        for part in self._parts:
            part.set_appearance(look)
