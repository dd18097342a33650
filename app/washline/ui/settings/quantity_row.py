"""A figure with a unit that may be typed in others: millilitres in ounces, Celsius in Fahrenheit."""

from collections.abc import Callable

from PySide6.QtCore import Slot

from washline.quantity.amount_text import ParseProblem, parse_amount
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_trimmed
from washline.quantity.step_text import EXPECTED_TEMPERATURE, parse_temperature
from washline.quantity.units import bar_units, convert
from washline.ui.appearance import Appearance
from washline.ui.form import FIELD_WIDTH, PlainField, Row

Read = Callable[[str], float | str]
"""The figure that a text says, in the unit of the row, or why it says none."""

EXPECTED_VOLUME = "Expected a volume, such as 2.5 ml or 1/4 oz."


def millilitres(text: str, oz_ml: float, style: NumberStyle = ENGLISH_STYLE) -> float | str:
    """The volume that a text says; a bare number is in ml."""
    found = parse_amount(text, style)
    if isinstance(found, ParseProblem) or found.basis != "absolute" or found.heft or found.tops:
        return EXPECTED_VOLUME
    try:
        return convert(found.number, found.unit or "ml", "ml", bar_units(oz_ml, {}))
    except ValueError:
        return EXPECTED_VOLUME


def degrees(text: str, style: NumberStyle = ENGLISH_STYLE) -> float | str:
    """The one temperature in °C that a text says; a bare number is in °C."""
    found = parse_temperature(text, style)
    if isinstance(found, ParseProblem):
        return found.expected
    return found.low_c if found.low_c == found.high_c else EXPECTED_TEMPERATURE


class QuantityRow(Row):
    """A figure that must be there; ``write`` is called with it and returns why it was refused, or nothing."""

    def __init__(
        self,
        look: Appearance,
        label: str,
        unit: str,
        read: Read,
        write: Callable[[float], str],
        *,
        style: NumberStyle = ENGLISH_STYLE,
        hint: str = "",
    ) -> None:
        field = PlainField(look, f"{label}, {unit}", FIELD_WIDTH)
        super().__init__(look, label, field, unit, hint)
        self._field, self._read, self._write, self._style = field, read, write, style
        field.left_with.connect(self._take)

    def show_value(self, value: float) -> None:
        """Shows what is kept."""
        self._field.set_kept(format_trimmed(value, 6, self._style))

    @Slot(str)
    def _take(self, text: str) -> None:
        found = self._read(text)
        self.say(found if isinstance(found, str) else self._write(found))
