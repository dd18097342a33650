"""The composition as it is edited: grams in 100 g by group, side by side where there is room."""

from collections.abc import Callable

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from washline.model.item import RawIngredient
from washline.presentation.raw_facts import GROUPS, component
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.controls import Words
from washline.ui.form import NumberRow

ROOM_FOR_TWO = 700
SMALLEST_SHOWN_ROUNDED = 0.001


class CompositionTable(QWidget):
    """A number for every component; ``writer_of`` gives what takes the number of one, and says why it was refused."""

    def __init__(
        self,
        look: Appearance,
        writer_of: Callable[[str], Callable[[float | None], str]],
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._look = look
        self._columns = 0
        self._heads: list[Words] = []
        self._blocks: list[QVBoxLayout] = []
        self.rows: dict[str, NumberRow] = {}
        self._holders: list[QWidget] = []
        for group in GROUPS:
            names = group.components
            parts = [names] if len(self._blocks) < 2 else [names[: len(names) // 2], names[len(names) // 2 :]]
            for number, part in enumerate(parts):
                self._add_block(group.name if number == 0 else "", part, writer_of, style)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self.set_appearance(look)
        self._arrange(1)

    def _add_block(
        self,
        head: str,
        components: tuple[tuple[str, str], ...],
        writer_of: Callable[[str], Callable[[float | None], str]],
        style: NumberStyle,
    ) -> None:
        holder = QWidget(self)
        block = QVBoxLayout(holder)
        block.setContentsMargins(0, 0, 0, 0)
        words = Words(self._look, head, style="row_strong")
        self._heads.append(words)
        block.addWidget(words)
        for key, name in components:
            row = self.rows[key] = NumberRow(self._look, name, "g", writer_of(key), style=style)
            block.addWidget(row)
        block.addStretch(1)
        self._blocks.append(block)
        self._holders.append(holder)

    def show_raw(self, raw: RawIngredient) -> None:
        """Shows the composition of an ingredient."""
        for key, row in self.rows.items():
            row.show_value(_shown(component(raw, key)))

    def set_read_only(self, is_read_only: bool) -> None:
        """Has fields that can only be looked at."""
        for row in self.rows.values():
            row.field.setEnabled(not is_read_only)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        for head in self._heads:
            head.set_appearance(look)
        for row in self.rows.values():
            row.set_appearance(look)
        for block in self._blocks:
            block.setSpacing(look.px(6))
        self._grid.setVerticalSpacing(look.px(14))
        self._grid.setHorizontalSpacing(look.px(24))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange(2 if self.width() >= self._look.px(ROOM_FOR_TWO) else 1)

    def _arrange(self, columns: int) -> None:
        if columns == self._columns:
            return
        self._columns = columns
        for number, holder in enumerate(self._holders):
            self._grid.addWidget(holder, number // columns, number % columns)
        self._grid.setColumnStretch(1, 1 if columns == 2 else 0)
        for number, head in enumerate(self._heads):
            # The second half of a group has no head; beside the first it keeps the room of one.
            head.setVisible(bool(head.text()) or (columns == 2 and number % 2 == 1))


def _shown(grams: float | None) -> float | None:
    """To a milligram; what is less is shown as it is, for it is not nothing."""
    if grams is None or 0.0 < abs(grams) < SMALLEST_SHOWN_ROUNDED:
        return grams
    return round(grams, 3)
