"""One aim of a target as a row of fields: low, ideal, high, whether it is a gate, and its place."""

from PySide6.QtCore import QEvent, QObject, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from washline.model.reading import BY_KEY
from washline.model.target import Aim
from washline.presentation.target import FIELDS, AimProblem, AimTexts, aim_texts, read_aim, step_words
from washline.quantity.formatting import NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.controls import CloseButton, PlainButton, Tick, Words
from washline.ui.draw.marks import draw_error_ring, draw_focus_ring
from washline.ui.field_undo import leaves_to_the_book

NAME_WIDTH = 104.0
FIELD_WIDTH = 74.0
UNIT_WIDTH = 66.0
STEP_WIDTH = 62.0


class EdgeField(QLineEdit):
    """A number of an aim. ``is_wrong`` puts the ring of an error round it; the text that was typed stays."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.is_wrong = False
        self.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.setFrame(False)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFont(look.fonts.row)
        self.setFixedSize(look.px(FIELD_WIDTH), look.px(28))
        self.setTextMargins(look.px(6), 0, look.px(6), 0)
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.Base, look.theme.raised)
        self.setPalette(palette)

    def event(self, event: QEvent) -> bool:
        return False if leaves_to_the_book(self, event) else super().event(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        theme, unit = self._look.theme, self._look.unit
        painter.setPen(theme.edge)
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        if self.is_wrong:
            draw_error_ring(painter, self.rect().toRectF(), theme, unit)
        elif self.hasFocus():
            draw_focus_ring(painter, self.rect().toRectF(), theme, unit)
        painter.end()


class AimRow(QWidget):
    """The fields of one aim. ``typed`` carries the aim that the texts say (``None``: they cannot be read) while somebody
    types, ``committed`` the one to write; ``gate_asked``, ``move_asked`` (−1 or 1) and ``remove_asked`` what else."""

    typed = Signal(str, object)
    committed = Signal(str, object)
    gate_asked = Signal(str, bool)
    move_asked = Signal(str, int)
    remove_asked = Signal(str)

    def __init__(self, look: Appearance, aim: Aim, style: NumberStyle, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._aim = aim
        self._style = style
        reading = BY_KEY[aim.reading]
        self._name = Words(look, reading.name, style="row_strong")
        self._name.setToolTip(f"{reading.definition}.")
        self.fields = {field: EdgeField(look) for field in FIELDS}
        for field, editor in self.fields.items():
            editor.setAccessibleName(f"{reading.name}, {field}, {reading.unit}")
            editor.textEdited.connect(self._type)
            editor.editingFinished.connect(self._commit)
            editor.installEventFilter(self)
        self._unit = Words(look, reading.unit, token="ink2", style="header")
        self._step = Words(look, f"step {step_words(reading, style)}", token="ink2", style="header")
        self._step.setToolTip("The house step of this reading: the distance of the ticks on radar and strip")
        self.gate = Tick("gate")
        self.gate.setToolTip("A gate is a limit and no axis of the radar")
        self.gate.setAccessibleName(f"{reading.name} is a gate")
        self.gate.clicked.connect(self._ask_gate)
        self.up, self.down = PlainButton(look, "Up"), PlainButton(look, "Down")
        self.up.setAccessibleName(f"Move {reading.name} up")
        self.down.setAccessibleName(f"Move {reading.name} down")
        self.up.clicked.connect(self._ask_up)
        self.down.clicked.connect(self._ask_down)
        self.remove = CloseButton(look)
        self.remove.setAccessibleName(f"Remove {reading.name}")
        self.remove.setToolTip(f"Take {reading.name.lower()} out of the target")
        self.remove.clicked.connect(self._ask_remove)
        self.problem = Words(look, token="alert", style="header_strong", wraps=True)
        self.problem.hide()
        self._lay_out(look)
        self.set_appearance(look)
        self.set_aim(aim)

    def _lay_out(self, look: Appearance) -> None:
        self._row = QHBoxLayout()
        self._row.addWidget(self._name)
        for editor in self.fields.values():
            self._row.addWidget(editor)
        for widget in (self._unit, self._step, self.gate):
            self._row.addWidget(widget)
        self._row.addStretch(1)
        for button in (self.up, self.down, self.remove):
            self._row.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, look.px(3), 0, look.px(3))
        column.setSpacing(0)
        column.addLayout(self._row)
        column.addWidget(self.problem)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._row.setSpacing(look.px(8))
        for words in (self._name, self._unit, self._step, self.problem):
            words.set_appearance(look)
        for editor in self.fields.values():
            editor.set_appearance(look)
        for button in (self.up, self.down, self.remove):
            button.set_appearance(look)
        self.gate.setFont(look.fonts.label)
        palette = QPalette(look.theme.palette())
        # The style draws the frame of the box darker than the window, which nobody sees on slate.
        palette.setColor(QPalette.ColorRole.Window, look.theme.ink3)
        palette.setColor(QPalette.ColorRole.Base, look.theme.raised)
        self.gate.setPalette(palette)
        self._name.setFixedWidth(look.px(NAME_WIDTH))
        self._unit.setFixedWidth(look.px(UNIT_WIDTH))
        self._step.setFixedWidth(look.px(STEP_WIDTH))
        self.problem.setContentsMargins(look.px(NAME_WIDTH + 8), 0, 0, look.px(2))

    @property
    def key(self) -> str:
        """The key of the reading."""
        return self._aim.reading

    def set_aim(self, aim: Aim) -> None:
        """Shows an aim; a field in which something is wrong keeps what was typed."""
        self._aim = aim
        self.gate.setChecked(aim.is_gate)
        texts = aim_texts(aim, self._style)
        for field, editor in self.fields.items():
            if not editor.is_wrong and not (editor.hasFocus() and editor.isModified()):
                editor.setText(getattr(texts, field))

    def set_places(self, *, is_first: bool, is_last: bool, is_read_only: bool) -> None:
        """Says which moves are possible."""
        self.up.setEnabled(not is_first and not is_read_only)
        self.down.setEnabled(not is_last and not is_read_only)
        self.gate.setEnabled(not is_read_only)
        self.remove.setEnabled(not is_read_only)
        for editor in self.fields.values():
            editor.setReadOnly(is_read_only)

    def say(self, words: str, field: str = "") -> None:
        """Puts one line of what is wrong beneath the fields, and the ring round one of them; empty takes both away."""
        for name, editor in self.fields.items():
            editor.is_wrong = bool(words) and name == field
            editor.setAccessibleDescription(words if editor.is_wrong else "")
            editor.update()
        self.problem.setText(words)
        self.problem.setVisible(bool(words))

    def _read(self) -> Aim | AimProblem:
        texts = AimTexts(*(self.fields[field].text() for field in FIELDS))
        return read_aim(self._aim, texts, self._style)

    @Slot()
    def _type(self) -> None:
        found = self._read()
        if isinstance(found, AimProblem):
            self.say(found.words, found.field)
            self.typed.emit(self.key, None)
        else:
            self.say("")
            self.typed.emit(self.key, found)

    @Slot()
    def _commit(self) -> None:
        found = self._read()
        if isinstance(found, AimProblem):
            self.say(found.words, found.field)
            return
        self.say("")
        for editor in self.fields.values():
            editor.setModified(False)
        if found != self._aim:
            self.committed.emit(self.key, found)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Esc in a field puts all three numbers back."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            is_changed = self.problem.isVisible() or any(
                editor.isModified() for editor in self.fields.values()
            )
            if event.key() == Qt.Key.Key_Escape and is_changed:
                self.restore()
                return True
        return super().eventFilter(watched, event)

    def restore(self) -> None:
        """Puts the texts back to what the house book holds."""
        self.say("")
        texts = aim_texts(self._aim, self._style)
        for field, editor in self.fields.items():
            editor.setText(getattr(texts, field))
            editor.setModified(False)
        self.typed.emit(self.key, self._aim)

    @Slot()
    def _ask_gate(self) -> None:
        self.gate_asked.emit(self.key, self.gate.isChecked())

    @Slot()
    def _ask_up(self) -> None:
        self.move_asked.emit(self.key, -1)

    @Slot()
    def _ask_down(self) -> None:
        self.move_asked.emit(self.key, 1)

    @Slot()
    def _ask_remove(self) -> None:
        self.remove_asked.emit(self.key)
