"""The colours of the window and the papers: one table of tokens, read by name, and the palettes made from it."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass, fields
from enum import Enum

from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtGui import QColor, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from washline.assets import resource


class ThemeChoice(Enum):
    """What the person chose: follow the system, or always one of the two."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"


@dataclass(frozen=True)
class Theme:
    """Every colour that anything is painted with, by the name of its token.

    ``is_high_contrast``: tints are dropped and the colours are those of the system's own palette; every line style
    stays. Grounds: sheet (work), ground (frame), raised (field), inner (opened part), hover, select (current row).
    """

    name: str
    is_dark: bool
    is_high_contrast: bool
    sheet: QColor
    ground: QColor
    raised: QColor
    inner: QColor
    hover: QColor
    select: QColor
    ink: QColor
    ink2: QColor
    ink3: QColor
    drink: QColor
    target: QColor
    band: QColor
    parent: QColor
    preview: QColor
    sugar: QColor
    acid: QColor
    ethanol: QColor
    alert: QColor
    focus: QColor
    edge: QColor
    rule2: QColor
    rule: QColor

    def colour(self, token: str) -> QColor:
        """The colour of a token by name; raises ``KeyError`` for a name that is no token."""
        if token not in TOKENS:
            raise KeyError(token)
        value: QColor = getattr(self, token)
        return value

    def faded(self, token: str, opacity: float) -> QColor:
        """The colour of a token at an opacity from 0 to 1; in high contrast, where tints are dropped, none of it."""
        colour = QColor(self.colour(token))
        colour.setAlphaF(0.0 if self.is_high_contrast else opacity)
        return colour

    def palette(self) -> QPalette:
        """The palette for the Fusion style, all three groups filled."""
        palette = QPalette()
        for role, token in _ROLES.items():
            palette.setColor(role, self.colour(token))
        for role in _TEXT_ROLES:
            palette.setColor(QPalette.ColorGroup.Disabled, role, self.edge)
        palette.setColor(QPalette.ColorGroup.Disabled, QPalette.ColorRole.Highlight, self.rule)
        return palette


TOKENS: tuple[str, ...] = tuple(
    field.name for field in fields(Theme) if field.name not in ("name", "is_dark", "is_high_contrast")
)

_ROLES: Mapping[QPalette.ColorRole, str] = {
    QPalette.ColorRole.Window: "ground",
    QPalette.ColorRole.WindowText: "ink",
    QPalette.ColorRole.Base: "sheet",
    QPalette.ColorRole.AlternateBase: "inner",
    QPalette.ColorRole.Text: "ink",
    QPalette.ColorRole.PlaceholderText: "ink3",
    QPalette.ColorRole.Button: "sheet",
    QPalette.ColorRole.ButtonText: "ink",
    QPalette.ColorRole.BrightText: "alert",
    QPalette.ColorRole.ToolTipBase: "raised",
    QPalette.ColorRole.ToolTipText: "ink",
    QPalette.ColorRole.Highlight: "select",
    QPalette.ColorRole.HighlightedText: "ink",
    QPalette.ColorRole.Accent: "focus",
    QPalette.ColorRole.Link: "focus",
    QPalette.ColorRole.LinkVisited: "preview",
    QPalette.ColorRole.Light: "raised",
    QPalette.ColorRole.Midlight: "rule",
    QPalette.ColorRole.Mid: "rule2",
    QPalette.ColorRole.Dark: "edge",
    QPalette.ColorRole.Shadow: "edge",
}
_TEXT_ROLES = (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText)


def token_table() -> dict[str, dict[str, str]]:
    """The rows of ``resources/theme/tokens.csv`` by token: light, dark, kind (ground, tint, text, mark, line), use."""
    with resource("theme", "tokens.csv").open(encoding="utf-8", newline="") as file:
        return {row["token"]: row for row in csv.DictReader(file)}


def _theme(column: str, overrides: Mapping[str, str], *, name: str) -> Theme:
    colours = {token: QColor(row[column]) for token, row in token_table().items()}
    colours |= {token: QColor(value) for token, value in overrides.items()}
    return Theme(name=name, is_dark=column == "dark", is_high_contrast=False, **colours)


def light_theme() -> Theme:
    """Ink on paper."""
    return _theme("light", {}, name="light")


def dark_theme() -> Theme:
    """Chalk on slate."""
    return _theme("dark", {}, name="dark")


def paper_theme() -> Theme:
    """The light colours on white, whatever the window shows."""
    return _theme("light", {"sheet": "#FFFFFF", "ground": "#FFFFFF"}, name="paper")


def high_contrast_theme(palette: QPalette) -> Theme:
    """A theme from a system palette of high contrast: its own roles, no tints, marks in text colour."""
    role = QPalette.ColorRole
    base, text = palette.color(role.Base), palette.color(role.Text)
    window = palette.color(role.Window)
    colours = dict.fromkeys(TOKENS, text)
    colours |= dict.fromkeys(("sheet", "raised", "inner", "hover", "band"), base)
    colours |= {"ground": window, "select": base}
    colours |= {"drink": palette.color(role.Link), "preview": palette.color(role.LinkVisited)}
    colours |= {"focus": palette.color(role.Highlight)}
    return Theme(
        name="high contrast", is_dark=base.lightnessF() < 0.5, is_high_contrast=True, **_readable(colours)
    )


def _readable(colours: dict[str, QColor]) -> dict[str, QColor]:
    """The same colours with every mark that would not stand out 4.5 : 1 from its ground replaced by the text's."""
    text, grounds = colours["ink"], (colours["sheet"], colours["ground"])
    keep = ("sheet", "ground", "raised", "inner", "hover", "band", "select")
    return {
        token: colour if token in keep or all(contrast(colour, ground) >= 4.5 for ground in grounds) else text
        for token, colour in colours.items()
    }


def relative_luminance(colour: QColor) -> float:
    """The relative luminance of an opaque colour, 0 to 1 (WCAG 2.2, definition of relative luminance)."""

    def linear(part: float) -> float:
        return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)

    return 0.2126 * linear(colour.redF()) + 0.7152 * linear(colour.greenF()) + 0.0722 * linear(colour.blueF())


def contrast(one: QColor, other: QColor) -> float:
    """The contrast ratio of two opaque colours, 1 to 21 (WCAG 2.2, definition of contrast ratio)."""
    lighter, darker = sorted((relative_luminance(one), relative_luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def choose_theme(choice: ThemeChoice, system: Qt.ColorScheme) -> Theme:
    """The theme for a choice; where the system says nothing (it does without a desktop plug-in) it is light."""
    if choice is ThemeChoice.SYSTEM:
        return dark_theme() if system == Qt.ColorScheme.Dark else light_theme()
    return dark_theme() if choice is ThemeChoice.DARK else light_theme()


class ThemeSwitch(QObject):
    """Holds the choice and the theme in force, and puts it on the application.

    Own palettes are set, since asking Qt for a colour scheme changes nothing without a desktop plug-in; Qt is asked as
    well, for the title bars. The system is followed in system mode only. Connect to ``changed`` and repaint from
    ``theme``. Where the system wants high contrast, its palette as it was at start is used.
    """

    changed = Signal()

    def __init__(self, application: QApplication, choice: ThemeChoice = ThemeChoice.SYSTEM) -> None:
        super().__init__(application)
        self._application = application
        self._choice = choice
        self._system_palette = QPalette(application.palette())
        application.setStyle("Fusion")
        hints = QGuiApplication.styleHints()
        hints.colorSchemeChanged.connect(self._follow)
        hints.accessibility().contrastPreferenceChanged.connect(self._follow)
        self._theme = light_theme()
        self._apply()

    @property
    def theme(self) -> Theme:
        """The theme in force."""
        return self._theme

    @property
    def choice(self) -> ThemeChoice:
        """What was chosen."""
        return self._choice

    def choose(self, choice: ThemeChoice) -> None:
        """Put another choice in force, at once and for every window."""
        self._choice = choice
        self._apply()

    @Slot()
    def _follow(self) -> None:
        self._apply()

    def _apply(self) -> None:
        hints = QGuiApplication.styleHints()
        wished = {ThemeChoice.LIGHT: Qt.ColorScheme.Light, ThemeChoice.DARK: Qt.ColorScheme.Dark}
        scheme = wished.get(self._choice, Qt.ColorScheme.Unknown)
        hints.colorSchemeChanged.disconnect(self._follow)
        hints.setColorScheme(scheme)
        hints.colorSchemeChanged.connect(self._follow)
        theme = choose_theme(self._choice, hints.colorScheme())
        if hints.accessibility().contrastPreference() == Qt.ContrastPreference.HighContrast:
            theme = high_contrast_theme(self._system_palette)
        is_new = theme != self._theme
        self._theme = theme
        self._application.setPalette(theme.palette())
        if is_new:
            self.changed.emit()
