"""Plain forms: labels, fields that write when they are left, and one line of what was expected under each."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QKeySequence, QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QPlainTextEdit,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_number, format_trimmed
from washline.quantity.number import NumberProblem, read_number
from washline.ui.appearance import Appearance
from washline.ui.controls import QuietChoice, ThinScrollBar, Tick, Words
from washline.ui.draw.marks import draw_error_ring, draw_focus_ring

NOT_KNOWN = "not known"
_MIDDLE = Qt.AlignmentFlag.AlignVCenter
FIELD_WIDTH = 110
WIDE_FIELD = 320
LABEL_WIDTH, LABEL_GAP = 176, 8
ROOM_FOR_THREE = 680
ROOM_FOR_TWO = 520


class PlainField(QLineEdit):
    """A line to type into. ``left_with`` carries the text when it is left after typing; Esc gives the old one back."""

    left_with = Signal(str)

    def __init__(self, look: Appearance, name: str, width: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kept = ""
        self._width = width
        self.has_error = False
        self.setAccessibleName(name)
        self.setFrame(False)
        self.editingFinished.connect(self._leave)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFont(look.fonts.row)
        self.setTextMargins(look.px(7), 0, look.px(7), 0)
        self.setMinimumWidth(look.px(60))
        self.setMaximumWidth(look.px(self._width))
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setFixedHeight(max(look.px(26), self.fontMetrics().height() + look.px(6)))
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.Base, Qt.GlobalColor.transparent)
        self.setPalette(palette)

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(self._width), super().sizeHint().height())

    def set_kept(self, text: str) -> None:
        """Shows what is kept; what is being typed, or was not understood, stays."""
        self._kept = text
        if not (self.isModified() and self.hasFocus()) and not self.has_error:
            self.setText(text)
            self.setCursorPosition(0)
            self.setModified(False)

    @Slot()
    def _leave(self) -> None:
        if self.isModified():
            self.setModified(False)
            self.left_with.emit(self.text())

    def event(self, event: QEvent) -> bool:
        # A field that has nothing to take back leaves Undo and Redo to the house book.
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            is_undo = event.matches(QKeySequence.StandardKey.Undo) and not self.isUndoAvailable()
            is_redo = event.matches(QKeySequence.StandardKey.Redo) and not self.isRedoAvailable()
            if is_undo or is_redo:
                event.ignore()
                return False
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and (self.isModified() or self.has_error):
            self.has_error = False
            self.setModified(False)
            self.setText(self._kept)
            self.left_with.emit(self._kept)
            return
        super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, look = self._look.theme, self._look
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.setPen(theme.edge)
        painter.setBrush(theme.raised)
        box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        painter.drawRoundedRect(box, look.px(2), look.px(2))
        painter.end()
        super().paintEvent(event)
        painter.begin(self)
        if self.has_error:
            draw_error_ring(painter, QRectF(self.rect()), theme, look.unit)
        elif self.hasFocus():
            draw_focus_ring(painter, QRectF(self.rect()), theme, look.unit)
        painter.end()


class Row(QWidget):
    """A label, its field, what stands behind it, and under it what was expected. ``read`` says what a text means."""

    def __init__(self, look: Appearance, label: str, field: QWidget, unit: str = "", hint: str = "") -> None:
        super().__init__()
        self.field = field
        # Shown without a parent, words would be a window of their own for a moment and take the keyboard.
        self.label = Words(look, label, style="row", parent=self)
        self.label.setBuddy(field)
        self.unit = Words(look, unit, token="ink2", style="label", parent=self)
        self.problem = Words(look, "", token="alert", style="label", wraps=True, parent=self)
        self.hint = Words(look, hint, token="ink3", style="header", wraps=True, parent=self)
        self.problem.hide()
        self.hint.setVisible(bool(hint))
        line = self._line = QHBoxLayout()
        line.addWidget(
            self.label, 0, Qt.AlignmentFlag.AlignTop if isinstance(field, Choices | Paragraph) else _MIDDLE
        )
        line.addWidget(field)
        line.addWidget(self.unit)
        line.addStretch(1)
        below = self._below = QVBoxLayout()
        below.addWidget(self.problem)
        below.addWidget(self.hint)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(line)
        layout.addLayout(below)
        self._place(look)

    def _place(self, look: Appearance) -> None:
        """What stands below the field begins where the field begins."""
        self.label.setFixedWidth(look.px(LABEL_WIDTH))
        self._line.setSpacing(look.px(LABEL_GAP))
        self._below.setContentsMargins(look.px(LABEL_WIDTH) + look.px(LABEL_GAP), 0, 0, 0)
        layout = self.layout()
        assert layout is not None
        layout.setSpacing(look.px(2))

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        for words in (self.label, self.unit, self.problem, self.hint):
            words.set_appearance(look)
        self._place(look)
        if isinstance(self.field, PlainField | Paragraph | Choices):
            self.field.set_appearance(look)
        else:
            self.field.setFont(look.fonts.row)

    def say(self, problem: str) -> None:
        """Shows what was expected; an empty text takes it away."""
        self.problem.setText(problem)
        self.problem.setVisible(bool(problem))
        if isinstance(self.field, PlainField):
            self.field.has_error = bool(problem)
            self.field.update()


class TextRow(Row):
    """A line of text; ``write`` is called with it and returns why it was refused, or nothing."""

    def __init__(
        self,
        look: Appearance,
        label: str,
        write: Callable[[str], str],
        *,
        width: int = WIDE_FIELD,
        hint: str = "",
    ) -> None:
        field = PlainField(look, label, width)
        super().__init__(look, label, field, hint=hint)
        self._write = write
        self._field = field
        field.left_with.connect(self._take)

    def show_value(self, value: str) -> None:
        """Shows what is kept."""
        self._field.set_kept(value)

    @Slot(str)
    def _take(self, text: str) -> None:
        self.say(self._write(text.strip()))


class NumberRow(Row):
    """A number with its unit; an empty field means that it is not known, where ``may_be_unknown``."""

    def __init__(
        self,
        look: Appearance,
        label: str,
        unit: str,
        write: Callable[[float | None], str],
        *,
        may_be_unknown: bool = True,
        style: NumberStyle = ENGLISH_STYLE,
        hint: str = "",
        decimals: int | None = None,
    ) -> None:
        self._decimals = decimals
        field = PlainField(look, f"{label}, {unit}" if unit else label, FIELD_WIDTH)
        super().__init__(look, label, field, unit, hint)
        self._field, self._write = field, write
        self._may_be_unknown, self._style = may_be_unknown, style
        if may_be_unknown:
            field.setPlaceholderText(NOT_KNOWN)
        field.left_with.connect(self._take)

    @property
    def _of(self) -> str:
        return f" in {self.unit.text()}" if self.unit.text() else ""

    def show_value(self, value: float | None) -> None:
        """Shows what is kept; nothing where it is not known."""
        if value is None:
            self._field.set_kept("")
        elif self._decimals is not None:
            self._field.set_kept(format_number(value, self._decimals, self._style))
        else:
            self._field.set_kept(format_trimmed(value, 6, self._style))

    @Slot(str)
    def _take(self, text: str) -> None:
        words = text.strip()
        if words in ("", "?", NOT_KNOWN):
            self.say(self._write(None) if self._may_be_unknown else f"Expected a number{self._of}.")
            return
        reading = read_number(words, self._style.decimal, self._style.grouping or None, signed=True)
        if isinstance(reading, NumberProblem):
            self.say(f"“{words[:40]}” is not a number. Expected a number{self._of}.")
            return
        rest = reading.rest.strip()
        if rest and rest not in (self.unit.text(), self.unit.text().split(" ")[0]):
            self.say(f"“{rest[:30]}” was not understood. Expected a number{self._of}.")
        else:
            self.say(self._write(reading.value))


class ChoiceRow(Row):
    """One of a few; ``write`` is called with the key of the choice."""

    def __init__(
        self,
        look: Appearance,
        label: str,
        choices: Sequence[tuple[Any, str]],
        write: Callable[[Any], str],
        *,
        hint: str = "",
    ) -> None:
        field = QuietChoice()
        field.setAccessibleName(label)
        field.setFont(look.fonts.row)
        super().__init__(look, label, field, hint=hint)
        self._field, self._write = field, write
        self._keys: list[Any] = []
        self._words: list[str] = []
        self.set_choices(choices)
        field.activated.connect(self._take)

    def set_choices(self, choices: Sequence[tuple[Any, str]]) -> None:
        """Offers these, in order."""
        keys = [key for key, _ in choices]
        if keys == self._keys and [words for _, words in choices] == self._words:
            return
        self._keys, self._words = keys, [words for _, words in choices]
        self._field.clear()
        for words in self._words:
            self._field.addItem(words)

    def show_value(self, key: Any) -> None:
        """Shows what is kept; one that is not offered is offered from now on."""
        if key not in self._keys:
            self._keys.append(key)
            self._words.append(str(key))
            self._field.addItem(str(key))
        self._field.setCurrentIndex(self._keys.index(key))

    @Slot()
    def _take(self) -> None:
        self.say(self._write(self._keys[self._field.currentIndex()]))


class TickRow(Row):
    """Yes or no."""

    def __init__(self, look: Appearance, label: str, words: str, write: Callable[[bool], str]) -> None:
        field = Tick(words)
        field.setFont(look.fonts.row)
        super().__init__(look, label, field)
        self._field, self._write = field, write
        field.clicked.connect(self._take)

    def show_value(self, is_on: bool) -> None:
        """Shows what is kept."""
        self._field.setChecked(is_on)

    @Slot()
    def _take(self) -> None:
        self.say(self._write(self._field.isChecked()))


class Choices(QWidget):
    """Several of many, as ticks in columns; ``changed`` carries the keys that are ticked, in order."""

    changed = Signal(object)

    def __init__(
        self, look: Appearance, name: str, choices: Sequence[tuple[str, str, str]], columns: int = 3
    ) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self._ticks: dict[str, Tick] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(look.px(14))
        self._grid.setVerticalSpacing(0)
        for key, words, tip in choices:
            tick = Tick(words.replace("&", "&&"))
            tick.setObjectName(key)
            tick.setToolTip(tip.replace("<", "&lt;"))
            tick.setFont(look.fonts.row)
            tick.clicked.connect(self._tell)
            self._ticks[key] = tick
        self.set_columns(columns)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)

    def set_columns(self, columns: int) -> None:
        """Stands in so many columns, read downwards."""
        rows = -(-len(self._ticks) // columns)
        for number, tick in enumerate(self._ticks.values()):
            self._grid.addWidget(tick, number % rows, number // rows)

    def show_keys(self, keys: Sequence[str]) -> None:
        """Ticks these and no others."""
        for key, tick in self._ticks.items():
            tick.setChecked(key in keys)

    @property
    def keys(self) -> tuple[str, ...]:
        """What is ticked."""
        return tuple(key for key, tick in self._ticks.items() if tick.isChecked())

    def tick(self, key: str) -> Tick:
        """The tick of one key."""
        return self._ticks[key]

    @Slot()
    def _tell(self) -> None:
        self.changed.emit(self.keys)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        for tick in self._ticks.values():
            tick.setFont(look.fonts.row)


class Paragraph(QPlainTextEdit):
    """Some lines of text, written when it is left."""

    left_with = Signal(str)

    def __init__(self, look: Appearance, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kept = ""
        self.setAccessibleName(name)
        self.setTabChangesFocus(True)
        self.setVerticalScrollBar(ThinScrollBar(look, self))
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self.setFont(look.fonts.row)
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.Base, look.theme.raised)
        self.setPalette(palette)
        self.setMaximumWidth(look.px(440))
        self.setMinimumWidth(look.px(120))
        self.setFixedHeight(self.fontMetrics().lineSpacing() * 3 + look.px(12))

    def set_kept(self, text: str) -> None:
        """Shows what is kept; what is being typed stays."""
        self._kept = text
        if not (self.hasFocus() and self.document().isModified()) and self.toPlainText() != text:
            self.setPlainText(text)
            self.document().setModified(False)

    def focusOutEvent(self, event: object) -> None:
        super().focusOutEvent(event)  # type: ignore[arg-type]
        if self.document().isModified() and self.toPlainText() != self._kept:
            self.document().setModified(False)
            self.left_with.emit(self.toPlainText())


class ParagraphRow(Row):
    """Some lines of text."""

    def __init__(self, look: Appearance, label: str, write: Callable[[str], str], *, hint: str = "") -> None:
        field = Paragraph(look, label)
        super().__init__(look, label, field, hint=hint)
        self._field, self._write = field, write
        field.left_with.connect(self._take)

    def show_value(self, value: str) -> None:
        """Shows what is kept."""
        self._field.set_kept(value)

    @Slot(str)
    def _take(self, text: str) -> None:
        self.say(self._write(text.strip()))


class ChoicesRow(Row):
    """Several of many."""

    def __init__(
        self,
        look: Appearance,
        label: str,
        choices: Sequence[tuple[str, str, str]],
        write: Callable[[tuple[str, ...]], str],
        *,
        hint: str = "",
        columns: int = 3,
    ) -> None:
        field = Choices(look, label, choices, columns)
        super().__init__(look, label, field, hint=hint)
        self.choices, self._write = field, write
        field.changed.connect(self._take)

    def show_value(self, keys: Sequence[str]) -> None:
        """Shows what is kept."""
        self.choices.show_keys(keys)

    @Slot(object)
    def _take(self, keys: tuple[str, ...]) -> None:
        self.say(self._write(keys))


class FormSheet(QScrollArea):
    """A sheet with a title and rows under heads."""

    def __init__(self, look: Appearance, title: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._parts: list[Words | Row] = []
        self._columns = 3
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBar(ThinScrollBar(look, self))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._page = QWidget()
        self.rows = QVBoxLayout(self._page)
        self.rows.setContentsMargins(look.px(20), look.px(16), look.px(20), look.px(20))
        self.rows.setSpacing(look.px(6))
        self.title = Words(look, title, style="title", wraps=True)
        self.about = Words(look, "", token="ink2", style="label", wraps=True)
        self._parts += [self.title, self.about]
        self.rows.addWidget(self.title)
        self.rows.addWidget(self.about)
        self.setWidget(self._page)
        self.set_appearance(look)

    def add_head(self, text: str, about: str = "") -> None:
        """A head above rows that belong together."""
        self.rows.addSpacing(self._look.px(12))
        head = Words(self._look, text, style="row_strong")
        self._parts.append(head)
        self.rows.addWidget(head)
        if about:
            words = Words(self._look, about, token="ink3", style="header", wraps=True)
            self._parts.append(words)
            self.rows.addWidget(words)

    def add_row(self, row: Row) -> Row:
        """A row under those that are there."""
        self._parts.append(row)
        self.rows.addWidget(row)
        return row

    def end(self) -> None:
        """No row follows."""
        self.rows.addStretch(1)

    def set_read_only(self, is_read_only: bool) -> None:
        """Has fields that can only be looked at."""
        for part in self._parts:
            if isinstance(part, Row):
                part.field.setEnabled(not is_read_only)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
        for widget in (self, self.viewport(), self._page):
            widget.setPalette(palette)
            widget.setAutoFillBackground(True)
        for part in self._parts:
            part.set_appearance(look)
        bar = self.verticalScrollBar()
        if isinstance(bar, ThinScrollBar):
            bar.set_appearance(look)

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(320), self._look.px(200))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        width = self.width() / self._look.unit
        columns = 3 if width > ROOM_FOR_THREE else 2 if width > ROOM_FOR_TWO else 1
        if columns != self._columns:
            self._columns = columns
            for part in self._parts:
                if isinstance(part, ChoicesRow):
                    part.choices.set_columns(columns)

    def focus_first(self) -> None:
        """Puts the cursor into the first field."""
        for part in self._parts:
            if isinstance(part, Row):
                part.field.setFocus(Qt.FocusReason.OtherFocusReason)
                return
