"""What the sheet is painted with, and where its columns stand."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF

from washline.ui.build.columns import AMOUNT, COLUMN_COUNT, COST, ETHANOL, FIRST_FIGURE, NAME, UNIT
from washline.ui.fonts import Fonts
from washline.ui.measures import SHEET_MARGIN_PX, Measures
from washline.ui.theme import Theme

SPINE_X = 22.0
NAME_X = 38.0
INDENT = 26.0
CHEVRON_WIDTH = 16.0
AMOUNT_WIDTH = 84.0
UNIT_WIDTH = 90.0
FIGURE_WIDTH = 68.0
UNIT_GAP = 6.0
NARROWEST_NAME = 190.0

FOLDED_FIRST = (COST, ETHANOL, FIRST_FIGURE + 2, FIRST_FIGURE + 1, FIRST_FIGURE)
"""The contribution columns in the order in which they fold; name, amount and unit never do."""


@dataclass(frozen=True)
class Look:
    """Theme, fonts and row heights of the sheet."""

    theme: Theme
    fonts: Fonts
    measures: Measures

    @property
    def unit(self) -> float:
        """What all sizes are multiples of."""
        return self.measures.unit

    def px(self, at_100_percent: float) -> float:
        """A distance of the design in pixels of the widget."""
        return self.measures.px(at_100_percent)


@dataclass(frozen=True, slots=True)
class Columns:
    """Left and right edge of every column; a folded one has no width."""

    lefts: tuple[float, ...]
    rights: tuple[float, ...]

    def is_folded(self, column: int) -> bool:
        """Whether the column is not shown."""
        return self.rights[column] <= self.lefts[column]

    def amount_cell(self, top: float, height: float, unit: float) -> QRectF:
        """The box of amount and unit together: what is ringed, and where an editor stands."""
        left = self.lefts[AMOUNT] + 2 * unit
        return QRectF(left, top, self.rights[UNIT] - 26 * unit - left, height)


def column_widths(width: float, unit: float) -> list[int]:
    """The widths of the columns of a sheet, 0 for those that fold; what is left over is the name's."""
    widths = [0.0] * COLUMN_COUNT
    widths[AMOUNT], widths[UNIT] = AMOUNT_WIDTH * unit, UNIT_WIDTH * unit
    for column in range(FIRST_FIGURE, COLUMN_COUNT):
        widths[column] = FIGURE_WIDTH * unit
    margin = SHEET_MARGIN_PX * unit
    folding = list(FOLDED_FIRST)
    while folding and width - sum(widths) - margin < NARROWEST_NAME * unit:
        widths[folding.pop(0)] = 0.0
    shown = [column for column in range(FIRST_FIGURE, COLUMN_COUNT) if widths[column] > 0]
    # The margin belongs to the last column shown, so that figures end on it.
    widths[shown[-1] if shown else UNIT] += margin
    whole = [round(one) for one in widths]
    whole[NAME] = max(0, round(width) - sum(whole))
    return whole
