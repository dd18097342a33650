"""The fields that open in a cell: one for amounts, one for names with completion, and the words beneath them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QModelIndex, QPoint, QRectF, QStringListModel, Qt, Signal, Slot
from PySide6.QtGui import (
    QFontMetricsF,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QPalette,
)
from PySide6.QtWidgets import QApplication, QCompleter, QLineEdit, QWidget

from washline.ui.build.look import Look
from washline.ui.draw.marks import draw_error_ring, draw_focus_ring
from washline.ui.field_undo import leaves_to_the_book

_SIDE = 5
_LEAVING = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab, Qt.Key.Key_Backtab)


class CellEditor(QLineEdit):
    """A field on the baseline of its row, with the ring of the focus or of an error around it.

    ``step_asked`` carries how many steps an arrow key asks for, ``other_asked`` that ``reads_other`` was switched: the text
    is then taken in its other reading, if it has one. ``lines_pasted`` comes before the
    first of several pasted lines goes in.
    """

    step_asked = Signal(int)
    other_asked = Signal()
    lines_pasted = Signal()

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self._look = look
        self._has_error = False
        self.reads_other = False
        self.textEdited.connect(self._read_plainly)
        self.setFrame(False)
        self.setFont(look.fonts.row_strong)
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.Base, look.theme.raised)
        palette.setColor(QPalette.ColorRole.Highlight, look.theme.select)
        palette.setColor(QPalette.ColorRole.HighlightedText, look.theme.ink)
        self.setPalette(palette)

    @property
    def has_error(self) -> bool:
        """Whether what stands in the field is not understood."""
        return self._has_error

    @has_error.setter
    def has_error(self, has_error: bool) -> None:
        if has_error != self._has_error:
            self._has_error = has_error
            self.update()

    @Slot()
    def _read_plainly(self) -> None:
        self.reads_other = False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_F2:
            # A text with two readings (1,200): the same key goes there and back.
            self.reads_other = not self.reads_other
            self.setModified(True)
            self.other_asked.emit()
            return
        if event.matches(QKeySequence.StandardKey.Paste):
            lines = [line for line in QGuiApplication.clipboard().text().splitlines() if line.strip()]
            if len(lines) > 1:
                self._paste_lines(lines)
                return
        super().keyPressEvent(event)

    def _paste_lines(self, lines: list[str]) -> None:
        """Of several lines a field takes the first; the line for adding hands all of them on."""
        self.lines_pasted.emit()
        if self.isVisible():
            self.insert(lines[0].strip())

    def event(self, event: QEvent) -> bool:
        return False if leaves_to_the_book(self, event) else super().event(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        rect = QRectF(self.rect())
        draw = draw_error_ring if self._has_error else draw_focus_ring
        draw(painter, rect, self._look.theme, self._look.unit)
        painter.end()


class AmountEditor(CellEditor):
    """The field of an amount: figures end where they end in the column, arrow keys step."""

    def __init__(self, look: Look, figure_right: float, parent: QWidget) -> None:
        super().__init__(look, parent)
        self._figure_right = figure_right
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setAccessibleName("Amount")
        self.textChanged.connect(self._place_text)

    @Slot()
    def _place_text(self) -> None:
        """Text that is too long for the column reaches over the unit, and then scrolls."""
        metrics = QFontMetricsF(self.font())
        number = self.text().rstrip("abcdefghijklmnopqrstuvwxyz %")
        behind = metrics.horizontalAdvance(self.text()) - metrics.horizontalAdvance(number)
        wanted = self.width() - (self._figure_right - self.x()) - behind
        room = self.width() - metrics.horizontalAdvance(self.text()) - self._look.px(14)
        self.setTextMargins(0, 0, max(_SIDE, round(min(wanted, room))), 0)

    def resizeEvent(self, event: object) -> None:
        super().resizeEvent(event)  # type: ignore[arg-type]
        self._place_text()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1}.get(Qt.Key(event.key()), 0)
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if steps and held in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier):
            self.step_asked.emit(steps * 10 if held == Qt.KeyboardModifier.ShiftModifier else steps)
            event.accept()
            return
        super().keyPressEvent(event)

    def replace_text(self, text: str) -> None:
        """Puts another text in that can be undone in the field."""
        self.selectAll()
        self.insert(text)


@dataclass(frozen=True, slots=True)
class Proposal:
    """One row under a name that is being typed: what it says, what choosing it means, and what then stands in the field
    (``None``: what was typed). Enter takes an item that is the only one that fits without its being chosen. One that
    ``goes_on`` only fills the field, for more to be typed behind it."""

    text: str
    choice: object
    fills: str | None = None
    is_item: bool = False
    goes_on: bool = False


class NameEditor(CellEditor):
    """The field of a name. ``proposals`` are asked at every key; choosing one commits at once (``chosen``)."""

    chosen = Signal()

    def __init__(self, look: Look, propose: Callable[[str], Sequence[Proposal]], parent: QWidget) -> None:
        super().__init__(look, parent)
        self.setFont(look.fonts.row)
        self.setTextMargins(2, 0, 2, 0)
        self.setAccessibleName("Name")
        self._propose = propose
        self._proposals: Sequence[Proposal] = ()
        self.choice: object | None = None
        self._rows = QStringListModel(self)
        completer = QCompleter(self._rows, self)
        completer.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        completer.setMaxVisibleItems(9)
        completer.activated[QModelIndex].connect(self._take)  # type: ignore[index]
        completer.setWidget(self)
        popup = completer.popup()
        assert popup is not None
        popup.setFont(look.fonts.row)
        popup.setAccessibleName("Proposals")
        popup.setMinimumWidth(round(look.px(280)))
        self._popup = popup
        self._completer = completer
        self.textEdited.connect(self._offer)

    @property
    def proposals(self) -> Sequence[Proposal]:
        """What is offered for the text as it stands."""
        return self._proposals

    @property
    def popup(self) -> QWidget:
        """The list of proposals."""
        return self._popup

    def event(self, event: QEvent) -> bool:
        """With no proposal chosen, Enter and Tab mean what is typed, as they do without the list: they come again, by
        the way on which the delegate hears them."""
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
            and event.key() in _LEAVING
            and self._popup.isVisible()
            and not self._popup.currentIndex().isValid()
        ):
            self._popup.hide()
            again = QKeyEvent(event.type(), event.key(), event.modifiers(), event.text())
            QApplication.sendEvent(self, again)
            event.accept()
            return True
        return super().event(event)

    @Slot(str)
    def _offer(self, text: str) -> None:
        self.choice = None
        self._show_proposals(self._propose(text) if text.strip() else ())

    def _show_proposals(self, proposals: Sequence[Proposal]) -> None:
        self._proposals = proposals
        self._rows.setStringList([proposal.text for proposal in self._proposals])
        if not self._proposals:
            self._popup.hide()
            return
        self._completer.setCompletionPrefix("")
        self._completer.complete()
        # A list that opens takes its first row as its current one without showing it: Enter would take that row.
        self._popup.setCurrentIndex(QModelIndex())

    @Slot(QModelIndex)
    def _take(self, index: QModelIndex) -> None:
        if not 0 <= index.row() < len(self._proposals):
            return
        proposal = self._proposals[index.row()]
        self._fill(proposal)
        if proposal.goes_on:
            self.choice = None
            return
        self.chosen.emit()

    def take_only_proposal(self) -> None:
        """Takes the one item that fits, if there is just one, before what is typed is committed with Enter."""
        self._popup.hide()
        items = [proposal for proposal in self._proposals if proposal.is_item and not proposal.goes_on]
        if self.choice is None and len(items) == 1:
            self._fill(items[0])

    def _fill(self, proposal: Proposal) -> None:
        self.choice = proposal.choice
        if proposal.fills is not None:
            self.setText(proposal.fills)
        self.setModified(True)

    def hideEvent(self, event: object) -> None:
        self._popup.hide()
        super().hideEvent(event)  # type: ignore[arg-type]


class ChoiceEditor(NameEditor):
    """The field of a detail: one of a few words, an item, or words of one's own. The down arrow lists what there is."""

    def __init__(self, look: Look, propose: Callable[[str], Sequence[Proposal]], parent: QWidget) -> None:
        super().__init__(look, propose, parent)
        self.setFont(look.fonts.row)
        self.setAccessibleName("Value")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Down:
            self.list_all()
            event.accept()
            return
        super().keyPressEvent(event)

    def list_all(self) -> None:
        """Opens the list with all there is, whatever stands in the field."""
        self._show_proposals(self._propose(""))


class Bubble(QWidget):
    """Two lines beneath a field: what was understood, and what the keys do. An error takes the first line."""

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self._look = look
        self._ground = parent
        self._meaning = self._aside = self._keys = ""
        self._is_error = False
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.hide()

    @property
    def text(self) -> str:
        """What it says, for tests and screen readers."""
        return "\n".join(part for part in (f"{self._meaning} {self._aside}".strip(), self._keys) if part)

    def say(self, meaning: str, aside: str, keys: str, *, is_error: bool = False) -> None:
        """Puts other words in, and makes room for them."""
        self._meaning, self._aside, self._keys, self._is_error = meaning, aside, keys, is_error
        fonts = self._look.fonts
        first = fonts.width(fonts.label_strong, meaning) + fonts.width(fonts.label, f"  {aside}")
        width = max(first, fonts.width(fonts.header, keys)) + self._look.px(24)
        lines = bool(meaning or aside) + bool(keys)
        most = self._ground.width() - self._look.px(8)
        self.resize(round(min(width, most)), round(self._look.px(9 + 18 * lines)))
        self.setAccessibleName(self.text)
        self.update()

    def stand_above(self, field: QWidget) -> None:
        """Takes its place over a field whose list of proposals lies beneath it."""
        left = min(field.x(), max(0, self._ground.width() - self.width() - 4))
        self.move(QPoint(left, max(0, field.y() - self.height() - 1)))
        self.raise_()
        self.show()

    def stand_below(self, field: QWidget) -> None:
        """Takes its place under a field, or above it where there is no room."""
        parent = self._ground
        left = min(field.x(), max(0, parent.width() - self.width() - 4))
        below = field.y() + field.height() + 1
        is_room = below + self.height() <= parent.height()
        self.move(QPoint(left, below if is_room else max(0, field.y() - self.height() - 1)))
        self.raise_()
        self.show()

    def paintEvent(self, event: QPaintEvent) -> None:
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.setPen(theme.alert if self._is_error else theme.edge)
        painter.setBrush(theme.raised)
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), 2, 2)
        x, y = look.px(11), look.px(18)
        if self._meaning:
            painter.setFont(fonts.label_strong)
            painter.setPen(theme.alert if self._is_error else theme.ink)
            painter.drawText(round(x), round(y), self._meaning)
            x += fonts.width(fonts.label_strong, self._meaning) + look.px(8)
        if self._aside:
            painter.setFont(fonts.label)
            painter.setPen(theme.ink2)
            painter.drawText(round(x), round(y), self._aside)
        if self._keys:
            painter.setFont(fonts.header)
            painter.setPen(theme.ink2)
            line = y + look.px(18) if self._meaning or self._aside else y
            painter.drawText(round(look.px(11)), round(line), self._keys)
        painter.end()
