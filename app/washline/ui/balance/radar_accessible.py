"""What a screen reader finds in the radar: a chart with one child for each axis, since a graphics view says nothing."""

from collections.abc import Callable
from typing import Protocol, cast

from PySide6.QtCore import QObject, QRect
from PySide6.QtGui import QAccessible, QAccessibleInterface, QWindow
from PySide6.QtWidgets import QAccessibleWidget, QWidget

_NOTHING = cast(QAccessibleInterface, None)


class AxisSource(Protocol):
    """What the interfaces need to know of the widget that shows the axes."""

    def axis_sentences(self) -> tuple[str, ...]:
        """Each axis as it is read aloud, in order."""

    def chart_sentence(self) -> str:
        """The chart in one sentence."""

    def axis_screen_rect(self, index: int) -> QRect:
        """Where an axis' vertex stands on the screen."""

    def current_axis(self) -> int | None:
        """The axis with the keyboard focus."""


class RadarAccessible(QAccessibleWidget):
    """The chart itself."""

    def __init__(self, widget: QWidget) -> None:
        super().__init__(widget, QAccessible.Role.Chart)
        self._children: dict[int, AxisAccessible] = {}

    @property
    def source(self) -> AxisSource:
        """The widget, asked for anew each time, so that this object does not keep it alive."""
        return cast(AxisSource, self.widget())

    def text(self, kind: QAccessible.Text) -> str:
        """The chart's name, and what it shows in one sentence."""
        if kind == QAccessible.Text.Description:
            return self.source.chart_sentence()
        return super().text(kind)

    def childCount(self) -> int:
        """One child for each axis."""
        return len(self.source.axis_sentences())

    def child(self, index: int) -> QAccessibleInterface:
        """The axis at an index; none beyond the last."""
        if not 0 <= index < self.childCount():
            return _NOTHING
        if index not in self._children:
            self._children[index] = AxisAccessible(self, index)
        return self._children[index]

    def indexOfChild(self, child: QAccessibleInterface) -> int:
        """The index of an axis, -1 for a stranger."""
        return child.index if isinstance(child, AxisAccessible) else -1

    def focusChild(self) -> QAccessibleInterface:
        """The axis with the keyboard focus."""
        index = self.source.current_axis()
        return _NOTHING if index is None else self.child(index)


class AxisAccessible(QAccessibleInterface):
    """One axis, read as *Sweetness 7.6 g per 100 ml, in band*."""

    def __init__(self, chart: RadarAccessible, index: int) -> None:
        super().__init__()
        self._chart = chart
        self.index = index

    def isValid(self) -> bool:
        """Whether the target still has this axis."""
        return self._chart.isValid() and self.index < len(self._chart.source.axis_sentences())

    def object(self) -> QObject:
        """There is no object behind an axis."""
        return cast(QObject, None)

    def window(self) -> QWindow:
        """The window of the chart."""
        return self._chart.window()

    def parent(self) -> QAccessibleInterface:
        """The chart."""
        return self._chart

    def child(self, index: int) -> QAccessibleInterface:
        """An axis has no children."""
        return _NOTHING

    def childCount(self) -> int:
        """An axis has no children."""
        return 0

    def childAt(self, x: int, y: int) -> QAccessibleInterface:
        """An axis has no children."""
        return _NOTHING

    def indexOfChild(self, child: QAccessibleInterface) -> int:
        """An axis has no children."""
        return -1

    def text(self, kind: QAccessible.Text) -> str:
        """The axis' sentence as its name."""
        sentences = self._chart.source.axis_sentences()
        return sentences[self.index] if kind == QAccessible.Text.Name and self.index < len(sentences) else ""

    def setText(self, kind: QAccessible.Text, text: str) -> None:
        """A reading cannot be renamed."""

    def rect(self) -> QRect:
        """Where the vertex stands on the screen."""
        return self._chart.source.axis_screen_rect(self.index)

    def role(self) -> QAccessible.Role:
        """A static figure."""
        return QAccessible.Role.StaticText

    def state(self) -> QAccessible.State:
        """Read only, and focused when it is the current axis of a chart with the focus."""
        state = QAccessible.State()
        state.readOnly = True
        state.focusable = True
        state.focused = self._chart.source.current_axis() == self.index
        return state


def factory_for(kind: type[QWidget]) -> Callable[[str, QObject], QAccessibleInterface | None]:
    """A factory to hand to ``QAccessible.installFactory``: charts for widgets of ``kind``, nothing for others."""

    def make(key: str, candidate: QObject) -> QAccessibleInterface | None:
        is_ours = key == kind.__name__ and isinstance(candidate, kind)
        return RadarAccessible(candidate) if is_ours and isinstance(candidate, QWidget) else None

    return make
