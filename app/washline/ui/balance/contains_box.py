"""The box of what is contained: allergens first, the unknown loud beneath them, and cautions that open to their text."""

from html import escape

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QLabel, QSizePolicy, QWidget

from washline.presentation.contains import NONE_RECORDED, ContainedCaution, ContainsBox
from washline.ui.appearance import Appearance
from washline.ui.draw.marks import draw_focus_ring
from washline.ui.icons import draw_icon

_ICON = 14.0
_CHIP_FLAGS = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


_LONGEST_WORD = 14
_BREAK_HERE = "\u200b"


def breakable(text: str) -> str:
    """The text with places where a word longer than any column may be broken, so that none is cut off."""
    return " ".join(_broken(word) if len(word) > 2 * _LONGEST_WORD else word for word in text.split(" "))


def _broken(word: str) -> str:
    return _BREAK_HERE.join(word[at : at + _LONGEST_WORD] for at in range(0, len(word), _LONGEST_WORD))


class CautionButton(QAbstractButton):
    """A caution by its title and what brings it; pressed, it opens to its text beneath."""

    def __init__(self, look: Appearance, caution: ContainedCaution, parent: QWidget) -> None:
        super().__init__(parent)
        self.caution = caution
        self._look = look
        self.setCheckable(True)
        self.setText(caution.short)
        self.setToolTip(caution.text)
        self.setAccessibleName(f"Caution, {caution.short}")
        self.setAccessibleDescription(caution.text)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFont(look.fonts.label)
        self.update()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        text = self._text_rect(QRect(0, 0, width, 100_000))
        box = self._look.fonts.metrics(self.font()).boundingRect(
            QRectF(text), int(_CHIP_FLAGS), breakable(self.text())
        )
        return max(round(box.height() + self._look.px(4)), round(self._look.measures.smallest_target))

    def sizeHint(self) -> QSize:
        width = round(self._look.fonts.width(self.font(), self.text()) + self._look.px(28)) + 1
        return QSize(width, self.heightForWidth(width))

    def _text_rect(self, rect: QRect) -> QRect:
        return rect.adjusted(self._look.px(18), 0, -self._look.px(6), 0)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        look, theme = self._look, self._look.theme
        if self.underMouse():
            painter.fillRect(self.rect(), theme.hover)
        size = look.px(12)
        name = "chevron-down" if self.isChecked() else "chevron-right"
        draw_icon(painter, QRectF(look.px(2), (self.height() - size) / 2, size, size), name, theme.ink2)
        painter.setFont(self.font())
        painter.setPen(theme.ink)
        painter.drawText(self._text_rect(self.rect()), int(_CHIP_FLAGS), breakable(self.text()))
        if self.hasFocus():
            draw_focus_ring(painter, QRectF(self.rect()), theme, look.unit)
        painter.end()


class UnknownMark(QWidget):
    """The boxed question mark before what is not known."""

    def __init__(self, look: Appearance, parent: QWidget) -> None:
        super().__init__(parent)
        self.look = look
        self.setAccessibleName("Unknown")

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        draw_icon(painter, QRectF(self.rect()), "unknown", self.look.theme.ink)
        painter.end()


class ContainsView(QWidget):
    """Shows a ``ContainsBox``; it is as high as its text needs at any width, and nothing in it is ever cut off.

    ``height_changed`` says that it needs another height.
    """

    height_changed = Signal()

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._box = ContainsBox()
        self._opened: set[str] = set()
        self._contains = self._label("contains")
        self._mark = UnknownMark(look, self)
        self._unknown = self._label("unknown")
        self._may_contain = self._label("may contain")
        self.buttons: list[CautionButton] = []
        self._texts: dict[str, QLabel] = {}
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName("Contains")
        self._fill()

    @property
    def box(self) -> ContainsBox:
        """What is shown."""
        return self._box

    @property
    def labels(self) -> tuple[QLabel, ...]:
        """All texts that are shown, in order."""
        shown = [self._contains]
        if self._box.unknown:
            shown.append(self._unknown)
        if self._has_more:
            shown.append(self._may_contain)
        return (*shown, *(self._texts[button.caution.key] for button in self.buttons if button.isChecked()))

    @property
    def _has_more(self) -> bool:
        """Whether anything may get in, or speaks against a diet."""
        return bool(self._box.may_contain or self._box.diet)

    def set_box(self, box: ContainsBox) -> None:
        """Shows another box; cautions that were open stay open."""
        if box != self._box:
            self._box = box
            self._fill()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._mark.look = look
        self._fill()

    def open(self, key: str) -> None:
        """Opens a caution to its text."""
        for button in self.buttons:
            if button.caution.key == key:
                button.setChecked(True)

    def _label(self, name: str) -> QLabel:
        label = QLabel(self)
        label.setObjectName(name)
        label.setWordWrap(True)
        label.setTextFormat(Qt.TextFormat.RichText)
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        label.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        label.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        return label

    def _fill(self) -> None:
        box = self._box
        self._style(self._contains, self._contains_markup())
        self._contains.setAccessibleName(f"Contains {box.contains_text}")
        self._style(self._unknown, self._unknown_markup())
        self._unknown.setAccessibleName(f"Unknown: {box.unknown_text}")
        self._unknown.setToolTip("\n".join(box.unknown_in_full))
        for widget in (self._mark, self._unknown):
            widget.setVisible(bool(box.unknown))
        self._style(self._may_contain, self._may_contain_markup())
        spoken = (f"May contain {box.may_contain_text}" if box.may_contain else "", *box.diet)
        self._may_contain.setAccessibleName(". ".join(one for one in spoken if one))
        self._may_contain.setVisible(self._has_more)
        self._fill_cautions()
        self.setAccessibleDescription(box.spoken)
        self._place_all()

    def _fill_cautions(self) -> None:
        focused = next((button.caution.key for button in self.buttons if button.hasFocus()), "")
        for old in (*self.buttons, *self._texts.values()):
            old.hide()
            old.deleteLater()
        self.buttons = [CautionButton(self._look, one, self) for one in self._box.cautions]
        self._texts = {one.key: self._label(f"caution {one.key}") for one in self._box.cautions}
        for button in self.buttons:
            key = button.caution.key
            label = self._texts[key]
            self._style(label, escape(button.caution.text))
            label.setAccessibleName(button.caution.text)
            button.setChecked(key in self._opened)
            label.setVisible(button.isChecked())
            button.toggled.connect(self._open_or_close)
            button.show()
            if key == focused:
                button.setFocus()

    def _open_or_close(self) -> None:
        self._opened = {button.caution.key for button in self.buttons if button.isChecked()}
        for button in self.buttons:
            self._texts[button.caution.key].setVisible(button.isChecked())
        self._place_all()

    def _style(self, label: QLabel, markup: str) -> None:
        label.setFont(self._look.fonts.label)
        palette = QPalette(self._look.theme.palette())
        palette.setColor(QPalette.ColorRole.WindowText, self._look.theme.ink)
        label.setPalette(palette)
        label.setText(markup)

    def _quiet(self, text: str) -> str:
        return f'<span style="color:{self._look.theme.ink2.name()}">{escape(breakable(text))}</span>'

    def _contains_markup(self) -> str:
        allergens = self._box.allergens
        if not allergens:
            return f"{_strong('Contains')} {_strong(NONE_RECORDED)}"
        found = [f"{_strong(one.word)} {self._quiet(one.origin)}" for one in allergens]
        return f"{_strong('Contains')} {' · '.join(found)}"

    def _unknown_markup(self) -> str:
        names = escape(breakable(", ".join(self._box.unknown)))
        return f"{_strong('Unknown:')} {names}; {_strong(self._box.what_to_do)}"

    def _may_contain_markup(self) -> str:
        """What may get in, apart from what is contained, and what speaks against a diet."""
        parts = []
        if self._box.may_contain:
            ways = [
                f"{_strong(', '.join(one.words))} {self._quiet(one.ways)}" for one in self._box.may_contain
            ]
            parts.append(f"{_strong('May contain')} {' · '.join(ways)}")
        parts += (self._quiet(one) for one in self._box.diet)
        return "<br>".join(parts)

    # Layout: heights follow the width, so that every text is whole.

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._place(width, moves=False)

    def sizeHint(self) -> QSize:
        width = max(self.width(), self._look.px(200))
        return QSize(width, self._place(width, moves=False))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(160), self._place(max(self.width(), self._look.px(160)), moves=False))

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._place(self.width(), moves=True)
        if event.size().width() != event.oldSize().width():
            self.height_changed.emit()

    def _place_all(self) -> None:
        self._place(max(self.width(), 1), moves=True)
        self.updateGeometry()
        self.height_changed.emit()

    def _place(self, width: int, *, moves: bool) -> int:
        look = self._look
        gap = look.px(4)
        y = self._put(self._contains, QPoint(0, 0), width, moves) + gap
        if self._box.unknown:
            side = look.px(_ICON)
            if moves:
                self._mark.setGeometry(0, y + look.px(2), side, side)
            inset = side + look.px(7)
            y = self._put(self._unknown, QPoint(inset, y), width - inset, moves) + gap
        if self._has_more:
            y = self._put(self._may_contain, QPoint(0, y), width, moves) + gap
        y = self._place_buttons(y, width, moves)
        for button in self.buttons:
            if button.isChecked():
                inset = look.px(18)
                label = self._texts[button.caution.key]
                y = self._put(label, QPoint(inset, y), width - inset, moves) + gap
        return y

    def _place_buttons(self, y: int, width: int, moves: bool) -> int:
        x, row_height = 0, 0
        for button in self.buttons:
            wanted = min(button.sizeHint().width(), width)
            if x and x + wanted > width:
                x, y, row_height = 0, y + row_height, 0
            height = button.heightForWidth(wanted)
            if moves:
                button.setGeometry(x, y, wanted, height)
            x, row_height = x + wanted + self._look.px(4), max(row_height, height)
        return y + row_height

    def _put(self, label: QLabel, corner: QPoint, width: int, moves: bool) -> int:
        height = max(label.heightForWidth(max(width, 1)), label.fontMetrics().height())
        if moves:
            label.setGeometry(corner.x(), corner.y(), width, height)
        return corner.y() + height


def _strong(text: str) -> str:
    return f'<span style="font-weight:600">{escape(breakable(text))}</span>'
