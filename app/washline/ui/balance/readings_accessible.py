"""What a screen reader finds in the readings table: a list with one item for each figure, its strip in words."""

from collections.abc import Callable

from PySide6.QtCore import QObject
from PySide6.QtGui import QAccessible, QAccessibleInterface
from PySide6.QtWidgets import QWidget

from washline.ui.balance.radar_accessible import RadarAccessible


class ReadingsAccessible(RadarAccessible):
    """The table as a list; its items are those of the radar's chart: a sentence each."""

    def role(self) -> QAccessible.Role:
        """A list."""
        return QAccessible.Role.List


def list_factory_for(kind: type[QWidget]) -> Callable[[str, QObject], QAccessibleInterface | None]:
    """A factory to hand to ``QAccessible.installFactory``: lists for widgets of ``kind``, nothing for others."""

    def make(key: str, candidate: QObject) -> QAccessibleInterface | None:
        is_ours = key == kind.__name__ and isinstance(candidate, kind)
        return ReadingsAccessible(candidate) if is_ours and isinstance(candidate, QWidget) else None

    return make
