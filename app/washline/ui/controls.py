"""The plain controls of the window: buttons as words in a thin frame, thin scroll bars, lines of text."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import (
    QAction,
    QColor,
    QFont,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
    QWheelEvent,
)
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QGridLayout,
    QLabel,
    QPushButton,
    QScrollBar,
    QSizePolicy,
    QStyle,
    QStyleOptionButton,
    QStyleOptionSlider,
    QWidget,
)

from washline.ui.appearance import Appearance
from washline.ui.draw.marks import draw_focus_ring
from washline.ui.icons import draw_icon


class PlainButton(QPushButton):
    """A button as a word in a thin frame; ``is_first`` is the one thing to do here, in full ink."""

    def __init__(
        self, look: Appearance, text: str, parent: QWidget | None = None, *, is_first: bool = False
    ) -> None:
        super().__init__(text, parent)
        self._is_first = is_first
        self.setAutoDefault(False)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFont(look.fonts.row)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        look = self._look
        width = self.fontMetrics().horizontalAdvance(self.text().replace("&&", "&")) + look.px(26)
        return QSize(width, max(look.px(26), round(look.measures.smallest_target)))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        look, theme = self._look, self._look.theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        is_full = self._is_first and self.isEnabled()
        resting = theme.ink if is_full else QColor(Qt.GlobalColor.transparent)
        ground = theme.select if self.isDown() and not is_full else resting
        if self.underMouse() and self.isEnabled() and not is_full and not self.isDown():
            ground = theme.hover
        painter.setBrush(ground)
        painter.setPen(theme.ink if is_full else theme.edge)
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), look.px(3), look.px(3))
        painter.setPen(theme.sheet if is_full else theme.ink if self.isEnabled() else theme.edge)
        painter.setFont(self.font())
        flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextShowMnemonic
        painter.drawText(self.rect(), flags, self.text())
        if self.hasFocus():
            inset = look.px(2) if is_full else 0
            draw_focus_ring(
                painter, QRectF(self.rect()).adjusted(inset, inset, -inset, -inset), theme, look.unit
            )
        painter.end()


class ThinScrollBar(QScrollBar):
    """A scroll bar as one quiet line; it widens under the pointer."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Vertical, parent)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFixedWidth(look.px(10))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        option = QStyleOptionSlider()
        self.initStyleOption(option)
        part = QStyle.SubControl.SC_ScrollBarSlider
        rect = self.style().subControlRect(QStyle.ComplexControl.CC_ScrollBar, option, part, self)
        if self.maximum() <= self.minimum():
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        is_near = self.underMouse() or self.isSliderDown()
        width = self._look.px(6 if is_near else 3)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.theme.edge if is_near else self._look.theme.rule2)
        box = QRectF(self.width() - width - 1, rect.top(), width, rect.height())
        painter.drawRoundedRect(box, width / 2, width / 2)
        painter.end()


class Words(QLabel):
    """A line or paragraph of text in one of the theme's inks; never taken as mark-up."""

    def __init__(
        self,
        look: Appearance,
        text: str = "",
        *,
        token: str = "ink",
        style: str = "row",
        wraps: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(text, parent)
        self._token, self._style = token, style
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(wraps)
        self.set_appearance(look)

    def set_token(self, token: str) -> None:
        """Takes another ink."""
        self._token = token
        self.set_appearance(self._look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        font: QFont = getattr(look.fonts, self._style)
        self.setFont(font)
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.WindowText, look.theme.colour(self._token))
        self.setPalette(palette)


class QuietChoice(QComboBox):
    """A choice of a few words that the wheel changes only when it has the focus."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()


class Tick(QCheckBox):
    """A check box that is as tall as a target must be."""

    def sizeHint(self) -> QSize:
        hint = super().sizeHint()
        return QSize(hint.width(), max(hint.height(), 24))

    def paintEvent(self, event: QPaintEvent) -> None:
        """The box in ink: the style's own is as dark as the sheet in the dark."""
        option = QStyleOptionButton()
        self.initStyleOption(option)
        style = self.style()
        box = QRectF(style.subElementRect(QStyle.SubElement.SE_CheckBoxIndicator, option, self))
        ink = self.palette().color(QPalette.ColorRole.WindowText)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.setOpacity(1.0 if self.isEnabled() else 0.4)
        side = min(box.width(), box.height()) - 2.0
        square = QRectF(box.center().x() - side / 2.0, box.center().y() - side / 2.0, side, side)
        painter.setPen(QPen(ink, max(1.0, side / 14.0)))
        painter.setBrush(ink if self.isChecked() else Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(square, side / 7.0, side / 7.0)
        if self.isChecked():
            paper = self.palette().color(QPalette.ColorRole.Base)
            painter.setPen(QPen(paper, max(1.5, side / 7.0)))
            painter.drawPolyline(
                [
                    square.topLeft() + QPointF(side * across, side * down)
                    for across, down in ((0.22, 0.54), (0.43, 0.74), (0.79, 0.28))
                ]
            )
        painter.setOpacity(1.0)
        option.rect = style.subElementRect(QStyle.SubElement.SE_CheckBoxContents, option, self)
        style.drawControl(QStyle.ControlElement.CE_CheckBoxLabel, option, painter, self)
        if self.hasFocus():
            painter.setPen(QPen(ink, 1.0, Qt.PenStyle.DotLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
        painter.end()


class NoticeStrip(QWidget):
    """A sentence where something has just happened, with at most one thing to do about it; closed by Esc or ×."""

    closed = Signal()

    def __init__(self, look: Appearance, parent: QWidget | None = None, *, is_narrow: bool = False) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        self._look = look
        self._is_alert = False
        self._words = Words(look, wraps=True, style="label", parent=self)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._action: QAction | None = None
        self.button = PlainButton(look, "", self)
        self._close = CloseButton(look, self)
        self.button.clicked.connect(self._press)
        self._close.clicked.connect(self._leave)
        self._grid = layout = QGridLayout(self)
        layout.setContentsMargins(look.px(12), look.px(6), look.px(8), look.px(6))
        layout.setSpacing(look.px(8))
        layout.setColumnStretch(0, 1)
        layout.addWidget(self._words, 0, 0)
        layout.addWidget(self.button, *((1, 0) if is_narrow else (0, 1)))
        layout.addWidget(self._close, 0, 2, Qt.AlignmentFlag.AlignTop)
        self.hide()

    def height_for(self, width: int) -> int:
        """How high it is at a width, all its words shown."""
        return max(self._grid.totalHeightForWidth(width), self._grid.totalMinimumSize().height())

    @property
    def text(self) -> str:
        """What it says."""
        return self._words.text()

    def say(
        self, text: str, action: QAction | None = None, button: str = "", *, is_alert: bool = False
    ) -> None:
        """Shows a sentence, with a button that triggers ``action`` if one is given."""
        self._is_alert = is_alert
        self._action = action
        self._words.setText(text)
        self.button.setText(button or (action.text() if action is not None else ""))
        self.button.setVisible(action is not None)
        self.button.updateGeometry()
        self.setAccessibleName(text)
        self.show()
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        for widget in (self._words, self.button, self._close):
            widget.set_appearance(look)
        self.update()

    @Slot()
    def _press(self) -> None:
        self._leave()
        if self._action is not None:
            self._action.trigger()

    @Slot()
    def _leave(self) -> None:
        self.hide()
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self._leave()
            return
        super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        theme = self._look.theme
        painter.fillRect(self.rect(), theme.raised)
        painter.fillRect(0, 0, self._look.px(3), self.height(), theme.alert if self._is_alert else theme.ink)
        painter.setPen(theme.rule2)
        painter.drawLine(0, 0, self.width(), 0)
        painter.end()


class CloseButton(PlainButton):
    """The small cross that closes a strip or a sheet."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(look, "", parent)
        self.setAccessibleName("Close")
        self.setToolTip("Close (Esc)")

    def sizeHint(self) -> QSize:
        side = round(self._look.measures.smallest_target)
        return QSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:
        look = self._look
        painter = QPainter(self)
        if self.underMouse() or self.isDown():
            painter.fillRect(self.rect(), look.theme.hover)
        side = look.px(14)
        box = QRectF((self.width() - side) / 2, (self.height() - side) / 2, side, side)
        draw_icon(painter, box, "remove", look.theme.ink2)
        if self.hasFocus():
            draw_focus_ring(painter, QRectF(self.rect()), look.theme, look.unit)
        painter.end()
