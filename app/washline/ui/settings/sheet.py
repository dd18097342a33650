"""The settings as a plain sheet: what belongs to the house can be undone, what belongs to this computer is at once so."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QWidget

from washline.chemistry.alcohol import standard_drinks
from washline.document.commands import labels
from washline.document.commands.house import set_settings
from washline.document.document import Document
from washline.document.notice import Changed
from washline.model.house import Settings
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_trimmed
from washline.ui.appearance import Appearance
from washline.ui.bridge import Bridge
from washline.ui.controls import PlainButton
from washline.ui.form import ChoiceRow, FormSheet, NumberRow, Row, TextRow, TickRow
from washline.ui.preferences import Preferences
from washline.ui.theme import ThemeChoice

OUNCES = ((30.0, "30 ml, as the bar pours"), (29.5735, "29.5735 ml, the US fluid ounce"))
CURRENCIES = ("EUR", "GBP", "USD", "CAD", "AUD", "NZD", "CHF", "SEK", "NOK", "DKK", "PLN", "CZK", "JPY")
PAPERS = (("a5", "A5"), ("half_letter", "half letter"))
THEMES = (
    (ThemeChoice.SYSTEM, "as the system"),
    (ThemeChoice.LIGHT, "light"),
    (ThemeChoice.DARK, "dark"),
)
_TEMPERATURES = (
    ("freezer_c", "Freezer"),
    ("fridge_c", "Fridge"),
    ("room_c", "Room"),
    ("ice_well_c", "Ice well"),
)


class SettingsSheet(FormSheet):
    """``closed``: Done was pressed."""

    closed = Signal()

    def __init__(
        self,
        document: Document,
        bridge: Bridge,
        preferences: Preferences,
        look: Appearance,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(look, "Settings", parent)
        self._document, self._preferences, self._style = document, preferences, style
        self._shows: list[Callable[[Settings], None]] = []
        self._house_rows: list[Row] = []
        self._add_house()
        self._add_window()
        self._add_done()
        self.end()
        self._lock()
        bridge.changed.connect(self._follow)
        preferences.changed.connect(self._show_preferences)
        self.refresh()

    def refresh(self) -> None:
        """Shows what is set."""
        for show in self._shows:
            show(self._document.book.settings)
        self._show_preferences()

    def _set(self, name: str) -> Callable[[Any], str]:
        def write(value: Any) -> str:
            try:
                self._document.do(set_settings(**{name: value}), labels.change_of_settings(), self)
            except UserError as refusal:
                return str(refusal)
            return ""

        return write

    def _set_name(self, name: str) -> str:
        return self._set("house_name")(name) if name else "A house needs a name."

    def _number(self, name: str, label: str, unit: str, hint: str = "") -> None:
        row = NumberRow(
            self._look, label, unit, self._set(name), may_be_unknown=False, style=self._style, hint=hint
        )
        self._house(row)
        self._shows.append(lambda settings: row.show_value(getattr(settings, name)))

    def _choice(self, name: str, label: str, choices: Any, hint: str = "") -> None:
        row = ChoiceRow(self._look, label, choices, self._set(name), hint=hint)
        self._house(row)
        self._shows.append(lambda settings: row.show_value(getattr(settings, name)))

    def _house(self, row: Row) -> None:
        self._house_rows.append(row)
        self.add_row(row)

    def _add_house(self) -> None:
        self.add_head("This house", "Kept in the house book; each change can be undone.")
        name = TextRow(self._look, "Name", self._set_name)
        self._house(name)
        self._shows.append(lambda settings: name.show_value(settings.house_name))
        self._choice("oz_ml", "1 oz is", OUNCES)
        drinks = [
            (one.key, f"{one.place}: {format_trimmed(one.grams, 2, self._style)} g in one {one.unit_word}")
            for one in standard_drinks()
        ]
        self._choice("alcohol_units", "Alcohol is counted in", drinks)
        self._choice(
            "currency", "Currency", [(code, code) for code in CURRENCIES], "Amounts are not converted"
        )
        self._choice("paper_size", "Paper of the card", PAPERS)
        self.add_head("Temperatures", "As cold as what is kept there is poured.")
        for key, label in _TEMPERATURES:
            self._number(key, label, "°C")
        self.add_head("Serving")
        self._number("fizz_loss_pct", "Fizz lost on pouring", "%", "Share of the dissolved gas that leaves")
        self._number(
            "wash_line_pct",
            "Wash line",
            "%",
            "Of what the ice leaves of the brim, where a glass has no mark of its own",
        )

    def _add_window(self) -> None:
        self.add_head("This computer", "How the window looks, whatever house book is open.")
        self._theme = ChoiceRow(self._look, "Colours", THEMES, self._set_theme)
        self._roomy = TickRow(self._look, "Rows", "roomy", self._set_roomy)
        self._calm = TickRow(self._look, "Motion", "reduced", self._set_calm)
        for row in (self._theme, self._roomy, self._calm):
            self.add_row(row)

    def _add_done(self) -> None:
        self.rows.addSpacing(self._look.px(14))
        self._done = PlainButton(self._look, "Done", is_first=True)
        self._done.clicked.connect(self.closed)
        line = QHBoxLayout()
        line.addWidget(self._done)
        line.addStretch(1)
        self.rows.addLayout(line)

    def _lock(self) -> None:
        for row in self._house_rows:
            row.field.setEnabled(not self._document.is_read_only)

    @Slot()
    def _show_preferences(self) -> None:
        self._theme.show_value(self._preferences.theme)
        self._roomy.show_value(self._preferences.is_roomy)
        self._calm.show_value(self._preferences.is_calm)

    def _set_theme(self, choice: ThemeChoice) -> str:
        self._preferences.theme = choice
        return ""

    def _set_roomy(self, is_on: bool) -> str:
        self._preferences.is_roomy = is_on
        return ""

    def _set_calm(self, is_on: bool) -> str:
        self._preferences.is_calm = is_on
        return ""

    @Slot(object)
    def _follow(self, changed: Changed) -> None:
        if changed.change_set:
            self.refresh()

    def set_appearance(self, look: Appearance) -> None:
        super().set_appearance(look)
        if hasattr(self, "_done"):
            self._done.set_appearance(look)
