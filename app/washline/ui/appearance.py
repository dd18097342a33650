"""What everything in the window is painted with: colours, type scale and row heights of one moment."""

from dataclasses import dataclass

from washline.ui.fonts import Fonts
from washline.ui.measures import Measures
from washline.ui.theme import Theme


@dataclass(frozen=True)
class Appearance:
    """Theme, fonts and measures that belong together. ``is_calm``: nothing moves by itself."""

    theme: Theme
    fonts: Fonts
    measures: Measures
    is_calm: bool = False

    @property
    def unit(self) -> float:
        """What all sizes are multiples of."""
        return self.measures.unit

    def px(self, at_100_percent: float) -> int:
        """A distance of the design in whole pixels of the widget."""
        return round(self.measures.px(at_100_percent))
