"""The settings as a plain sheet: what belongs to the house can be undone, what belongs to this computer is at once so."""

import re
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QWidget

from washline.chemistry.alcohol import standard_drinks
from washline.document.commands import labels
from washline.document.commands.house import set_settings
from washline.document.document import Document
from washline.document.notice import Changed
from washline.model.house import JointCost, Settings, Shared
from washline.presentation.cautions import allergens
from washline.presentation.costs_sources import JOINT_SENTENCES
from washline.presentation.readings import currency_sign
from washline.presentation.strength_words import CHECK_LOCAL_RULE, laws
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_trimmed
from washline.ui.appearance import Appearance
from washline.ui.bridge import Bridge
from washline.ui.controls import PlainButton
from washline.ui.form import ChoiceRow, ChoicesRow, FormSheet, NumberRow, Row, TextRow, TickRow
from washline.ui.preferences import Preferences
from washline.ui.settings.quantity_row import QuantityRow, Read, degrees, millilitres
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


JOINT_CHOICES = (
    (JointCost.MAIN, "all to the main output"),
    (JointCost.MASS, "by weight"),
    (JointCost.VALUE, "by weight × value"),
)
SHARED_PLACES = (
    ("freezer", "freezer"),
    ("fridge", "fridge"),
    ("room", "room"),
    ("ice_well", "ice well"),
    ("oven", "oven and dryer"),
    ("tins", "shaking and stirring tins"),
)
_CLOCK = re.compile(r"(\d{1,2})(?:[:.h](\d{2}))?")


def clock_time(text: str) -> str:
    """A time of day as HH:MM, from *2*, *02:00*, *2.30* or *23h15*; empty for what is none."""
    found = _CLOCK.fullmatch(text.strip().casefold())
    if found is None:
        return ""
    hours, minutes = int(found[1]), int(found[2] or 0)
    return f"{hours:02d}:{minutes:02d}" if hours < 24 and minutes < 60 else ""


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
        self._shared_place = SHARED_PLACES[0][0]
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

    def _volume(self, name: str, label: str, hint: str = "") -> None:
        self._quantity(name, label, "ml", self._millilitres, hint)

    def _degrees(self, name: str, label: str, hint: str = "") -> None:
        self._quantity(name, label, "°C", self._celsius, hint)

    def _quantity(self, name: str, label: str, unit: str, read: Read, hint: str) -> None:
        row = QuantityRow(self._look, label, unit, read, self._set(name), style=self._style, hint=hint)
        self._house(row)
        self._shows.append(lambda settings: row.show_value(getattr(settings, name)))

    def _millilitres(self, text: str) -> float | str:
        return millilitres(text, self._document.book.settings.oz_ml, self._style)

    def _celsius(self, text: str) -> float | str:
        return degrees(text, self._style)

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
        self.add_head("Temperatures", "As cold as what is kept there is poured; °C or °F.")
        for key, label in _TEMPERATURES:
            self._degrees(key, label)
        self._add_glass()
        self._add_pours()
        self._add_batches()
        self._add_strength_words()
        self._add_costs()
        self._add_shared()

    def _add_glass(self) -> None:
        self.add_head("In the glass", "Common practice, no source: weigh and measure your own.")
        self._number(
            "wash_line_pct",
            "Wash line",
            "%",
            "Of what the ice leaves of the brim, where a glass has no mark of its own",
        )
        self._volume(
            "foam_allowance_ml", "Room for foam", "What the wash line leaves for the head of a fizzy drink"
        )
        self._number(
            "egg_foam_pct",
            "Shaken foam",
            "%",
            "Foam on a shaken drink with egg white, aquafaba or the like, in percent of its liquid",
        )
        self._number("fizz_loss_pct", "Fizz lost on pouring", "%", "Share of the dissolved gas that leaves")
        self._number(
            "glass_w_per_k",
            "Glass warms by",
            "W/K",
            "The heat that a glass takes up from the room, for each kelvin that it is colder",
        )

    def _add_pours(self) -> None:
        self.add_head("Small amounts")
        self._volume(
            "rinse_film_ml", "Film of a rinse", "What stays in a glass that was rinsed and poured out"
        )
        self._volume("scant_ml", "Scant", "So much less than the amount is a scant pour")
        self._volume("heavy_ml", "Heavy", "So much more than the amount is a heavy pour")

    def _add_batches(self) -> None:
        self.add_head("Batches and bottles")
        self._number(
            "salt_batch_pct", "Salt of a batch", "%", "Of the salt of its serves: start here, then taste"
        )
        self._number(
            "bitters_batch_pct",
            "Bitters of a batch",
            "%",
            "Of the bitters of its serves: start here, then taste",
        )
        self._degrees(
            "warmest_c",
            "Warmest place",
            "Where a closed bottle may stand: the pressure there is held against its rating",
        )

    def _add_strength_words(self) -> None:
        self.add_head("Words for low strengths", f"Information, not advice. {CHECK_LOCAL_RULE}")
        self._choice(
            "wording_law",
            "Law",
            tuple(laws().items()),
            "Whose words a card may use for a drink with little alcohol",
        )

    def _add_costs(self) -> None:
        self.add_head("Costs", "What counts wherever a cost or a price is shown.")
        self._joint = ChoiceRow(self._look, "Joint cost", JOINT_CHOICES, self._set("joint_cost"), hint=" ")
        self._house(self._joint)
        self._shows.append(self._show_joint)
        self._number("tax_pct", "Tax", "%", "What it adds to a price before tax")
        self._number(
            "wanted_pour_cost_pct",
            "Wanted pour cost",
            "%",
            "The share of the price before tax that what is poured may cost",
        )
        labour = NumberRow(
            self._look,
            "Labour",
            "an hour",
            self._set("labour_per_hour"),
            style=self._style,
            hint="Empty: labour is not counted",
        )
        labour.field.setPlaceholderText("not counted")  # type: ignore[attr-defined]
        self._house(labour)
        self._shows.append(lambda settings: labour.show_value(settings.labour_per_hour))
        self._shows.append(
            lambda settings: labour.unit.setText(f"{currency_sign(settings.currency)} an hour")
        )

    def _show_joint(self, settings: Settings) -> None:
        self._joint.show_value(settings.joint_cost)
        self._joint.hint.setText(JOINT_SENTENCES[settings.joint_cost])

    def _add_shared(self) -> None:
        self.add_head(
            "Shared places and tins",
            "What can get into all that is kept or made there. The house may add to what labels say, never take away.",
        )
        self._place = ChoiceRow(
            self._look, "Place", self._places(self._document.book.settings), self._turn_to
        )
        self.add_row(self._place)
        known = [(one.key, one.word, one.group) for one in allergens().values()]
        self._may = ChoicesRow(self._look, "May get in", known, self._set_shared)
        self._house(self._may)
        self._shows.append(self._show_shared)
        self.add_head("Service")
        self._ends = TextRow(
            self._look,
            "Service ends",
            self._set_ends,
            width=110,
            hint="Today’s fruit holds until then, by the clock here",
        )
        self._house(self._ends)
        self._shows.append(lambda settings: self._ends.show_value(settings.service_ends))

    def _places(self, settings: Settings) -> list[tuple[str, str]]:
        """The places with what can get in there behind each."""
        words = {one.key: one.word for one in allergens().values()}
        shared = {one.place: one.allergens for one in settings.shared}
        return [
            (
                place,
                f"{name}: {', '.join(words.get(key, key) for key in shared[place])}"
                if shared.get(place)
                else name,
            )
            for place, name in SHARED_PLACES
        ]

    def _show_shared(self, settings: Settings) -> None:
        self._place.set_choices(self._places(settings))
        self._place.show_value(self._shared_place)
        shared = {one.place: one.allergens for one in settings.shared}
        self._may.show_value(shared.get(self._shared_place, ()))
        name = dict(SHARED_PLACES)[self._shared_place]
        self._may.choices.setAccessibleName(f"May get in: {name}")

    def _turn_to(self, place: str) -> str:
        self._shared_place = place
        self._show_shared(self._document.book.settings)
        return ""

    def _set_shared(self, keys: tuple[str, ...]) -> str:
        shared = {one.place: one for one in self._document.book.settings.shared}
        shared[self._shared_place] = Shared(self._shared_place, keys)
        order = (place for place, _ in SHARED_PLACES)
        kept = (shared[place] for place in order if place in shared and shared[place].allergens)
        return self._set("shared")(tuple(kept))

    def _set_ends(self, text: str) -> str:
        time = clock_time(text)
        return (
            self._set("service_ends")(time)
            if time
            else f"“{text[:20]}” is no time of day. Expected one such as 02:00."
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
