"""What a text typed into a detail of a step means: a command with its label and words, or what was expected instead."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from msgspec import structs

from washline.document.commands import labels, steps
from washline.document.document import Document
from washline.model.item import Build
from washline.model.step import Adjust, AnyStep, Goal, Measurable, Measurement, Per, Portion, Strain
from washline.presentation.detail import Detail
from washline.presentation.kitchen_words import GOAL_LIKE, GOAL_NAMES, goal_unit, named
from washline.presentation.measuring import QUANTITIES
from washline.presentation.step_details import (
    ANOTHER,
    COOKING_CHOICES,
    FERMENT_CHOICES,
    GOAL_CHOICES,
    LEFTOVER,
    LIKE,
    PER_CHOICES,
    PORTION,
    QUANTITY_CHOICES,
    WASH_CHOICES,
    WAY_CHOICES,
    WEIGHT_CHOICES,
)
from washline.quantity.amount_text import ParseProblem
from washline.quantity.formatting import ENGLISH_STYLE, UNIT_SPACE, NumberStyle, format_trimmed
from washline.quantity.goal_line import parse_portions
from washline.quantity.names import fold
from washline.quantity.number import NumberProblem, read_number
from washline.quantity.step_line import parse_step
from washline.quantity.step_text import parse_duration, parse_temperature
from washline.quantity.strain_line import STRAIN_WAYS
from washline.quantity.typed_step import TypedMeasurement, TypedStrain
from washline.ui.build.bar_edits import (
    BAR_CHOICES,
    BAR_NUMBERS,
    BAR_PICKS,
    BAR_TEMPERATURES,
    picked,
    temperature_field,
)
from washline.ui.build.edits import leftover_name_edit
from washline.ui.build.meaning import Edit, NotUnderstood, Understood
from washline.ui.build.place import Place, found_item
from washline.ui.build.step_edits import measured_words, weighed_against
from washline.ui.build.typed_values import NumberField, TemperatureField, chosen, is_empty, one_of

EXPECTED_ITEM = "Expected the name of an item, from the list."
EXPECTED_PARTS = "Expected parts by weight, such as 2; empty takes it out."
EXPECTED_EXPECTED = "Expected a share of the vessel, such as 70 % or 62\u201376 %; empty is none."
EXPECTED_VALUE = "Expected a value and its unit, such as {}."
ONE_IS_LEFT = "One thing at least must be added; remove the step to add nothing."
GIVE_A_VALUE = "Expected an item; to go by a value instead, type it in the line above."

_PERCENT = ("%", "percent")
_BRIX = ("°bx", "bx", "brix", "ºbx", "° bx")
_ACIDITY = (*_PERCENT, "% acidity", "g/100 g", "acidity")


def _share(of: str, empty: str) -> NumberField:
    expected = f"Expected {of} in percent from 0 to 100, such as 60 %; empty is {empty}."
    return NumberField(_PERCENT, 0.0, 100.0, expected, empty, "%")


_GIVEN = _share("what the solid gives of its own", "not known")
_NUMBERS: Mapping[str, NumberField] = MappingProxyType(
    {
        **BAR_NUMBERS,
        "water_given_pct": _GIVEN,
        "sugars_given_pct": _GIVEN,
        "acids_given_pct": _GIVEN,
        "salt_given_pct": _GIVEN,
        "solids_given_pct": _GIVEN,
        "given_spread_pct": _share("one standard deviation of each share", "none"),
        "fat_held_pct": _share("what is held of the fat", "all of it"),
        "protein_held_pct": _share("what is held of the protein", "as usual"),
        "acids_held_pct": _share("what is held of the acids", "none"),
        "ethanol_kept_pct": _share("the alcohol that stays", "not weighed"),
        "measured_brix": NumberField(
            _BRIX, 0.0, 100.0,
            "Expected true °Bx of the strained liquid, such as 6.6 °Bx; empty is not measured.", "not measured", "°Bx",
        ),
        "measured_acidity_pct": NumberField(
            _ACIDITY, 0.0, 100.0,
            "Expected the acidity of the strained liquid in g per 100 g, such as 0.70 %; empty is not measured.",
            "not measured", "% acidity",
        ),
        "final_acidity_pct": NumberField(
            _ACIDITY, 0.0, 100.0,
            "Expected the acidity reached in g per 100 g, such as 0.73 %; empty is not measured.", "not measured",
            "% acidity",
        ),
        "final_brix": NumberField(
            _BRIX, 0.0, 100.0, "Expected the true °Bx reached, such as 3.2 °Bx; empty is not measured.", "not measured",
            "°Bx",
        ),
        "final_ph": NumberField(
            ("ph",), 0.0, 14.0, "Expected the pH as measured, such as 3.5; empty is not measured.", "not measured", "",
        ),
        "discard_above_ph": NumberField(
            ("ph",), 0.0, 14.0, "Expected the pH above which it is thrown away, such as 4.2; empty is no limit.",
            "no limit", "",
        ),
        "discard_on_day": NumberField(
            ("days", "day", "d"), 0.0, 3650.0, "Expected a day, such as 4; empty is none.", "none", "",
        ),
        "gas_lost_g": NumberField(
            ("g", "g gas", "g co2"), 0.0, 1e6, "Expected the gas that left in grams, such as 4 g; empty is not weighed.",
            "not weighed", "g",
        ),
        "bought_g": NumberField(
            ("g",), 0.0, 1e7, "Expected what was bought for it in grams, such as 1,333 g; empty is by the book.",
            "by the edible yield of the book", "g",
        ),
    }
)  # fmt: skip

_CHOICES: Mapping[str, tuple[str, Mapping[str, object]]] = MappingProxyType(
    {
        "weight": ("weight", WEIGHT_CHOICES),
        "wash_kind": ("kind", WASH_CHOICES),
        "ferment_kind": ("kind", FERMENT_CHOICES),
        "way": ("way", WAY_CHOICES),
        "ethanol_way": ("ethanol_way", COOKING_CHOICES),
        "per": ("per", PER_CHOICES),
        **BAR_CHOICES,
    }
)
"""The field of the step behind each choice, and the words for its values."""


@dataclass(frozen=True, slots=True)
class DetailEdit:
    """One detail of one step, being typed."""

    document: Document
    build: Build
    step: AnyStep
    detail: Detail
    style: NumberStyle = ENGLISH_STYLE
    chosen_id: int | None = None

    def read(self, text: str) -> Edit:
        """What ``text`` typed as the value means."""
        key = self.detail.key
        if key in _NUMBERS:
            return self._number(key, _NUMBERS[key], text)
        if key in _CHOICES:
            field, choices = _CHOICES[key]
            return self._choice(field, choices, text)
        if key in BAR_TEMPERATURES:
            return self._degrees(key, temperature_field(key, self.step), text)
        if key in BAR_PICKS:
            found = picked(self.document.book, key, text, self.style)
            return found if isinstance(found, NotUnderstood) else self._set_saying(found[0], "", found[1])
        own: Mapping[str, Callable[[str], Edit]] = {
            "words": self._words,
            "duration_s": self._time,
            "temperature": self._temperature,
            "temperature_c": self._one_temperature,
            "expected": self._expected,
            LEFTOVER: self._leftover,
            "goal": self._goal,
            "value": self._value,
            LIKE: self._like,
            PORTION: self._parts,
            ANOTHER: self._another,
            "quantity": self._quantity,
            "instrument": self._instrument,
            "uncertainty": self._uncertainty,
        }
        return own[key](text)

    def rename(self, text: str) -> Edit:
        """What ``text`` typed in the place of a portion's name means: another item in the same parts."""
        step = self.step
        assert isinstance(step, Adjust)
        item_id = found_item(self._place, " ".join(text.split()))
        if isinstance(item_id, NotUnderstood):
            return item_id
        portions = tuple(
            Portion(item_id, one.parts) if one.item_id == self.detail.item_id else one
            for one in step.portions
        )
        if len({one.item_id for one in portions}) < len(portions):
            return NotUnderstood(f"{named(self.document.book, item_id)} stands there already.")
        return self._portioned(named(self.document.book, item_id), portions)

    def _set(self, meaning: str, /, **fields: object) -> Understood:
        return self._set_saying(meaning, "", fields)

    def _set_saying(self, meaning: str, aside: str, fields: Mapping[str, object]) -> Understood:
        label = labels.change_of_step(self.document.book, self.build.id, self.step.id)
        return Understood(steps.set_step(self.build.id, self.step.id, **fields), label, meaning, aside)

    def _portioned(self, meaning: str, portions: tuple[Portion, ...]) -> Understood:
        label = labels.change_of_step(self.document.book, self.build.id, self.step.id)
        return Understood(steps.set_portions(self.build.id, self.step.id, portions), label, meaning)

    @property
    def _place(self) -> Place:
        """The step before this one: what is measured or looked for here stands behind that."""
        earlier = [step.id for step in self.build.steps if step.place < self.step.place and not step.left_out]
        return Place(
            self.document.book,
            self.build.id,
            earlier[-1] if earlier else None,
            self.style,
            self.chosen_id,
            self.document.workings,
        )

    def _written(self, value: float, unit: str) -> str:
        return f"{format_trimmed(value, 4, self.style)}{UNIT_SPACE}{unit}".strip(UNIT_SPACE)

    # Numbers

    def _number(self, key: str, field: NumberField, text: str) -> Edit:
        if is_empty(text):
            return self._set(field.empty, **{key: None})
        value = self._read(text, field.units)
        if value is None or not field.low <= value <= field.high:
            return NotUnderstood(field.expected)
        return self._set(self._written(value, field.shown), **{key: value})

    def _read(self, text: str, units: tuple[str, ...]) -> float | None:
        words = re.sub(r"^\s*(?:to|ph|±|\+/-)\s*", "", text, flags=re.IGNORECASE)
        found = read_number(words, self.style.decimal, self.style.grouping or None)
        if isinstance(found, NumberProblem):
            return None
        unit = " ".join(found.rest.casefold().split()).strip(". ")
        return found.value if not unit or unit in units else None

    def _time(self, text: str) -> Edit:
        if is_empty(text):
            return self._set("no time given", duration_s=None)
        found = parse_duration(text, self.style)
        if isinstance(found, ParseProblem):
            return NotUnderstood(_reason(found))
        return self._set(found.typed, duration_s=found.high_s)

    def _temperature(self, text: str) -> Edit:
        if is_empty(text):
            return self._set("none given", temperature_low_c=None, temperature_high_c=None)
        found = parse_temperature(text, self.style)
        if isinstance(found, ParseProblem):
            return NotUnderstood(_reason(found))
        low, high = self._written(found.low_c, "°C"), self._written(found.high_c, "°C")
        meaning = low if low == high else f"{low} to {high}"
        return self._set(meaning, temperature_low_c=found.low_c, temperature_high_c=found.high_c)

    def _degrees(self, key: str, field: TemperatureField, text: str) -> Edit:
        if is_empty(text):
            return self._set(field.empty, **{key: None})
        found = parse_temperature(text, self.style)
        if isinstance(found, ParseProblem):
            return NotUnderstood(_reason(found))
        if found.low_c != found.high_c or not field.low_c <= found.low_c <= field.high_c:
            return NotUnderstood(field.expected)
        return self._set(self._written(found.low_c, "°C"), **{key: found.low_c})

    def _one_temperature(self, text: str) -> Edit:
        if is_empty(text):
            return self._set("as it is kept", temperature_c=None)
        found = parse_temperature(text, self.style)
        if isinstance(found, ParseProblem):
            return NotUnderstood(_reason(found))
        if found.low_c != found.high_c:
            return NotUnderstood("Expected one temperature, such as 80 °C.")
        return self._set(self._written(found.low_c, "°C"), temperature_c=found.low_c)

    def _expected(self, text: str) -> Edit:
        if is_empty(text):
            return self._set("nothing is expected", expected_pct=None, low_pct=None, high_pct=None)
        typed = parse_step(f"strain {text}", self.style)
        if not isinstance(typed, TypedStrain) or typed.expected_pct is None or typed.words:
            return NotUnderstood(EXPECTED_EXPECTED)
        meaning = f"expected {self._written(typed.expected_pct, '%')} of the vessel"
        return self._set(
            meaning, expected_pct=typed.expected_pct, low_pct=typed.low_pct, high_pct=typed.high_pct
        )

    # Words and choices

    def _words(self, text: str) -> Edit:
        words = " ".join(text.split())
        return self._set(words or "nothing", words=words)

    def _leftover(self, text: str) -> Edit:
        assert isinstance(self.step, Strain)
        found = leftover_name_edit(self.document.book, self.build.id, self.step.id, text)
        return replace(found, shows=False) if isinstance(found, Understood) else found

    def _choice(self, field: str, choices: Mapping[str, object], text: str) -> Edit:
        words = chosen(choices, text)
        if field == "way" and words is None and fold(text) in STRAIN_WAYS:
            words = next(name for name, key in choices.items() if key == STRAIN_WAYS[fold(text)])
        if words is None:
            return NotUnderstood(one_of(choices))
        return self._set(words, **{field: choices[words]})

    # Adjusting

    def _goal(self, text: str) -> Edit:
        words = chosen(GOAL_CHOICES, text)
        if words is None:
            return NotUnderstood(one_of(GOAL_CHOICES))
        goal = GOAL_CHOICES[words]
        is_plain = goal in (Goal.BRIX, Goal.STRENGTH)
        return self._set_saying(words, "", {"goal": goal, **({"per": Per.MASS} if is_plain else {})})

    def _value(self, text: str) -> Edit:
        step = self.step
        assert isinstance(step, Adjust)
        unit = goal_unit(step.goal, step.per)
        value = self._read(text, (*_PERCENT, *_BRIX, "% vol", "vol", fold(unit), GOAL_NAMES[step.goal]))
        if value is None:
            return NotUnderstood(
                EXPECTED_VALUE.format(f"50 {unit}" if step.goal is Goal.BRIX else f"6 {unit}")
            )
        return self._set(f"to {self._written(value, unit)}", value=value, like_item_id=None)

    def _like(self, text: str) -> Edit:
        step = self.step
        assert isinstance(step, Adjust)
        if is_empty(text):
            return NotUnderstood(GIVE_A_VALUE)
        item_id = found_item(self._place, " ".join(text.split()))
        if isinstance(item_id, NotUnderstood):
            return item_id
        meaning = f"as {GOAL_LIKE[step.goal]} as {named(self.document.book, item_id)}"
        return self._set(meaning, like_item_id=item_id, value=None)

    def _parts(self, text: str) -> Edit:
        step = self.step
        assert isinstance(step, Adjust)
        rest = tuple(one for one in step.portions if one.item_id != self.detail.item_id)
        if is_empty(text):
            return (
                replace(self._portioned("taken out", rest), shows=False)
                if rest
                else NotUnderstood(ONE_IS_LEFT)
            )
        parts = self._read(text, ("parts", "part"))
        if parts is None or not 0.0 < parts <= 1e6:
            return NotUnderstood(EXPECTED_PARTS)
        portions = tuple(
            structs.replace(one, parts=parts) if one.item_id == self.detail.item_id else one
            for one in step.portions
        )
        return self._portioned(f"{self._written(parts, 'parts')} by weight", portions)

    def _another(self, text: str) -> Edit:
        step = self.step
        assert isinstance(step, Adjust)
        # Of one name alone a number would be part of it.
        typed = parse_portions(f"it + {text}", self.style)
        if isinstance(typed, ParseProblem) or len(typed) != 2:
            return NotUnderstood(EXPECTED_ITEM)
        name, parts = typed[1].name, typed[1].parts
        item_id = found_item(self._place, name)
        if isinstance(item_id, NotUnderstood):
            return item_id
        if any(one.item_id == item_id for one in step.portions):
            return NotUnderstood(f"{named(self.document.book, item_id)} stands there already.")
        portions = (*step.portions, Portion(item_id, parts))
        return self._portioned(f"and {named(self.document.book, item_id)}", portions)

    # Measuring

    def _measured(self, **fields: object) -> Understood:
        step = self.step
        assert isinstance(step, Measurement)
        changed = structs.replace(step, **fields)
        place = self._place
        if place.after is None:
            return self._set(measured_words(changed, self.style), **fields, gain=1.0)
        weighed, aside = weighed_against(place, changed)
        found = {"uncertainty": weighed.uncertainty, "gain": weighed.gain}
        return self._set_saying(measured_words(weighed, self.style), aside, {**fields, **found})

    def measured_value(self, text: str) -> Edit:
        """What ``text`` typed as the measured value means; a unit of another quantity makes it that quantity."""
        step = self.step
        assert isinstance(step, Measurement)
        quantity = QUANTITIES[step.quantity]
        typed = parse_step(f"measure {text}", self.style)
        if not isinstance(typed, TypedMeasurement):
            typed = parse_step(f"measure {quantity.name} {text}", self.style)
        if not isinstance(typed, TypedMeasurement):
            shown = f"6.6 {quantity.unit}" if quantity.unit else "pH 3.5"
            return NotUnderstood(EXPECTED_VALUE.format(shown))
        fields: dict[str, object] = {"quantity": Measurable(typed.quantity), "value": typed.value}
        if typed.quantity != step.quantity.value and not typed.instrument:
            fields |= {"instrument": "", "uncertainty": None}
        if typed.instrument:
            fields["instrument"] = typed.instrument
        if typed.uncertainty is not None:
            fields["uncertainty"] = typed.uncertainty
        found = self._measured(**fields)
        if typed.alternative is None or not isinstance(typed.alternative, TypedMeasurement):
            return found
        other = self._measured(**{**fields, "value": typed.alternative.value})
        return replace(found, alternative=other)

    def _quantity(self, text: str) -> Edit:
        words = chosen(QUANTITY_CHOICES, text)
        if words is None:
            return NotUnderstood(one_of(QUANTITY_CHOICES))
        return self._measured(quantity=QUANTITY_CHOICES[words], instrument="", uncertainty=None)

    def _instrument(self, text: str) -> Edit:
        step = self.step
        assert isinstance(step, Measurement)
        names = {one.name: one for one in QUANTITIES[step.quantity].instruments}
        words = chosen(names, text) or " ".join(text.split())
        return self._measured(instrument=words, uncertainty=None)

    def _uncertainty(self, text: str) -> Edit:
        step = self.step
        assert isinstance(step, Measurement)
        if is_empty(text):
            return self._measured(uncertainty=None)
        unit = QUANTITIES[step.quantity].unit
        value = self._read(text, (fold(unit), *_PERCENT, *_BRIX))
        if value is None or value < 0.0:
            return NotUnderstood(f"Expected one standard deviation of the instrument, such as 0.2 {unit}.")
        return self._measured(uncertainty=value)


def _reason(found: ParseProblem) -> str:
    """The reason without the text, which stands in the cell itself."""
    return re.sub(r"^\u201c.*?\u201d is not an? \w+\. ", "", found.expected)
