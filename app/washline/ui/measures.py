"""Heights and distances of the window as multiples of one unit; density changes the height of rows and never the type."""

from dataclasses import dataclass

GRID_PX = 4.0
SHEET_MARGIN_PX = 20.0
BALANCE_MARGIN_PX = 18.0
BOOK_MARGIN_PX = 12.0
RULE_PX = 1.6
UNIT_GAP_PX = 6.0
SMALLEST_TARGET_PX = 24.0


@dataclass(frozen=True)
class Measures:
    """Row heights for a unit (1 at 100 % and usual text) and a density; ``is_roomy`` is the wider one."""

    unit: float = 1.0
    is_roomy: bool = False

    def px(self, at_100_percent: float) -> float:
        """A distance of the design in pixels of the widget."""
        return at_100_percent * self.unit

    @property
    def build_row(self) -> float:
        """A row of the build."""
        return self.px(30 if self.is_roomy else 25)

    @property
    def book_drink_row(self) -> float:
        """A drink in the house book, two lines."""
        return self.px(44 if self.is_roomy else 37)

    @property
    def book_part_row(self) -> float:
        """A house-made part in the house book."""
        return self.px(28 if self.is_roomy else 22.5)

    def reading_row(self, axis_count: int) -> float:
        """A reading with its strip; lower when there are many, and from nine on the band stands in the tooltip."""
        if self.is_roomy:
            return self.px(38)
        return self.px(34 if axis_count <= 6 else 30 if axis_count <= 8 else 28)

    @property
    def smallest_target(self) -> float:
        """What a pointer must be able to hit."""
        return self.px(SMALLEST_TARGET_PX)
