"""The bundled families and the type scale: every size is a multiple of one unit, so that text and layout grow as one."""

from dataclasses import dataclass, field
from functools import cached_property, lru_cache

from PySide6.QtGui import QFont, QFontDatabase, QFontInfo, QFontMetricsF, QGuiApplication, QPaintDevice

from washline.assets import resource
from washline.problem import UserError

SANS = "Source Sans 3"
SERIF = "Source Serif 4"
FONT_FILES = (
    "SourceSans3-Regular.ttf",
    "SourceSans3-It.ttf",
    "SourceSans3-Semibold.ttf",
    "SourceSans3-Bold.ttf",
    "SourceSerif4-Semibold.ttf",
)
SMALLEST_SERIF_PX = 18.0
_SYSTEM_FONT_PX = 14.0
_POINTS_PER_INCH = 72.0


def load_fonts() -> None:
    """Load the bundled fonts. Call before the first widget is made.

    Raises ``UserError`` when a font file is missing or cannot be read.
    """
    for name in FONT_FILES:
        path = resource("fonts", name)
        if QFontDatabase.addApplicationFont(str(path)) < 0:
            raise UserError(
                f"The font {name} could not be loaded.",
                f"{path} is missing or damaged.",
                "Install the program again.",
            )


def text_unit(system_font: QFont, scale: float = 1.0) -> float:
    """The unit that all sizes are multiples of: 1 for a usual system font, more when the person set larger text.

    ``system_font`` is the application's font before the program set its own; ``scale`` the own
    setting of the program. Stepped by eighths, so that lines keep whole pixels.
    """
    wanted = QFontInfo(system_font).pixelSize() / _SYSTEM_FONT_PX * scale
    return max(1.0, round(wanted * 8) / 8)


_MOST_FONTS = 64
_MOST_WIDTHS = 4096
"""So many fonts, and advances in each, are kept; then they are forgotten all at once."""


@lru_cache(maxsize=512)
def _font(family: str, size_px: float, weight: QFont.Weight, is_italic: bool, dots_per_inch: float) -> QFont:
    font = QFont(family)
    font.setPointSizeF(size_px * _POINTS_PER_INCH / dots_per_inch)
    font.setWeight(weight)
    font.setItalic(is_italic)
    # Widths then grow evenly with the scale, and paper sets the same lines as the screen.
    font.setHintingPreference(QFont.HintingPreference.PreferVerticalHinting)
    return font


@dataclass(frozen=True)
class Fonts:
    """The type scale for one device.

    ``unit`` multiplies every size (1 = the sizes of 100 %). ``dots_per_inch`` is the device's logical resolution: Qt
    sizes fonts in points, so that the same pixel height needs another point size on paper. Sizes are in pixels of the
    painter's own coordinates, whatever scale the painter has. ``device`` is what texts are measured on, the screen when
    ``None``; it must live as long as this object is used.
    """

    unit: float = 1.0
    dots_per_inch: float = 96.0
    device: QPaintDevice | None = field(default=None, compare=False, repr=False)

    @classmethod
    def for_device(cls, device: QPaintDevice, unit: float = 1.0) -> "Fonts":
        """The type scale for a widget, a picture or a paper."""
        return cls(unit, float(device.logicalDpiY()), device)

    def metrics(self, font: QFont) -> QFontMetricsF:
        """The metrics of a font of this scale, measured on the device that it will be drawn on."""
        return QFontMetricsF(font) if self.device is None else QFontMetricsF(font, self.device)

    def width(self, font: QFont, text: str) -> float:
        """The advance of a text in a font of this scale; measured once, for labels are asked for at every key."""
        held = self._widths.get(id(font))
        # Held with its widths, so that no other font can have its place in memory meanwhile.
        if held is None or held[0] is not font:
            if len(self._widths) >= _MOST_FONTS:
                self._widths.clear()
            held = self._widths[id(font)] = font, {}
        known = held[1].get(text)
        if known is None:
            if len(held[1]) >= _MOST_WIDTHS:
                held[1].clear()
            known = held[1][text] = self.metrics(font).horizontalAdvance(text)
        return known

    @cached_property
    def _widths(self) -> dict[int, tuple[QFont, dict[str, float]]]:
        return {}

    def sans(
        self, size_px: float, weight: QFont.Weight = QFont.Weight.Normal, *, is_italic: bool = False
    ) -> QFont:
        """The sans at a size in pixels of 100 %."""
        return QFont(_font(SANS, size_px * self.unit, weight, is_italic, self.dots_per_inch))

    def serif(self, size_px: float) -> QFont:
        """The serif, semibold, for what heads a sheet; never below 18 px, where it raises ``ValueError``."""
        if size_px < SMALLEST_SERIF_PX:
            raise ValueError(f"the serif starts at {SMALLEST_SERIF_PX:.0f} px, not {size_px}")
        weight = QFont.Weight.DemiBold
        return QFont(_font(SERIF, size_px * self.unit, weight, False, self.dots_per_inch))

    @cached_property
    def title(self) -> QFont:
        """The name that heads a sheet: serif 28."""
        return self.serif(28)

    @cached_property
    def title_second(self) -> QFont:
        """What stands beside a title (*and its*, *brought to target*): serif 20."""
        return self.serif(20)

    @cached_property
    def reading(self) -> QFont:
        """The value of a reading: 16 semibold."""
        return self.sans(16, QFont.Weight.DemiBold)

    @cached_property
    def row(self) -> QFont:
        """Names in rows: 14."""
        return self.sans(14)

    @cached_property
    def row_strong(self) -> QFont:
        """Amounts, opened parts, the current drink: 14 semibold."""
        return self.sans(14, QFont.Weight.DemiBold)

    @cached_property
    def row_estimated(self) -> QFont:
        """An amount that nobody has weighed: 14 italic."""
        return self.sans(14, is_italic=True)

    @cached_property
    def figure(self) -> QFont:
        """Secondary figures: 13.5."""
        return self.sans(13.5)

    @cached_property
    def figure_strong(self) -> QFont:
        """Totals and figures that moved: 13.5 semibold."""
        return self.sans(13.5, QFont.Weight.DemiBold)

    @cached_property
    def label(self) -> QFont:
        """Labels and menus: 13."""
        return self.sans(13)

    @cached_property
    def label_strong(self) -> QFont:
        """Names at the radar, heads of a pane: 13 semibold."""
        return self.sans(13, QFont.Weight.DemiBold)

    @cached_property
    def header(self) -> QFont:
        """Column headers, units, notes: 12.5."""
        return self.sans(12.5)

    @cached_property
    def header_strong(self) -> QFont:
        """Words of a state, such as *over by 0.7*: 12.5 semibold."""
        return self.sans(12.5, QFont.Weight.DemiBold)

    @cached_property
    def smallest(self) -> QFont:
        """The smallest text there is: 12."""
        return self.sans(12)


def application_fonts(unit: float = 1.0) -> Fonts:
    """The type scale for widgets on the primary screen."""
    screen = QGuiApplication.primaryScreen()
    return Fonts(unit, screen.logicalDotsPerInchY() if screen else 96.0)
