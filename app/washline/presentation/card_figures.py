"""The small figures of a spec card, each with what it stands on; what is not known is said, never shown as zero."""

import math
from dataclasses import dataclass

from washline.chemistry.alcohol import standard_drink, units
from washline.engine.result import Result
from washline.engine.spread import Spread
from washline.engine.trace import Trace
from washline.model.reading import BY_KEY
from washline.model.step import Chill
from washline.presentation.strength_words import (
    NEVER_NONE,
    LegalWords,
    highest_strength,
    is_trace,
    legal_words,
    proof_words,
    strength_number,
)
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    PLUS_MINUS,
    UNIT_SPACE,
    UNKNOWN,
    NumberStyle,
    format_contribution,
    format_number,
    format_trimmed,
    rounded,
    with_unit,
)
from washline.quantity.rounding import served_ounces, trade_fahrenheit

AT_LEAST = "at least "
WATER_G_PER_ML = 0.9982
"""Density of water at 20 °C: 0.99821 g/ml, CRC Handbook of Chemistry and Physics, from memory."""

_SURELY_NOTHING = 1e-9


@dataclass(frozen=True, slots=True)
class CardFigure:
    """One figure of the row: label, value with its unit, and a quiet second line."""

    label: str
    value: str
    second: str = ""


class Figures:
    """Writes the readings of one drink for paper."""

    def __init__(self, trace: Trace, spread: Spread | None, style: NumberStyle = ENGLISH_STYLE) -> None:
        self._trace = trace
        self._result: Result = trace.result
        self._spread = spread
        self._style = style
        self._country = trace.book.settings.alcohol_units
        self._unit_g = standard_drink(self._country).grams

    def row(self) -> tuple[CardFigure, ...]:
        """Melt, strength, temperature, alcohol, energy."""
        kilojoules = self.reading("energy_kj", "kJ", 0)
        return (
            self._melt(),
            self._strength(),
            self._served_at(),
            CardFigure("Alcohol", self.reading("ethanol", "g"), self.units_text()),
            CardFigure("Energy", self.reading("energy_kcal", "kcal"), kilojoules),
        )

    def part_row(self) -> tuple[CardFigure, ...]:
        """What a batch makes and how it should measure: yield, strength, °Bx, pH, acidity."""
        return (
            CardFigure("Makes", self.reading("mass", "g", 0), self.reading("length", "ml")),
            self._strength(),
            CardFigure(
                "°Bx true", self.reading("brix_true", ""), f"as shown {self.reading('brix_shown', '')}"
            ),
            CardFigure("pH", self.reading("ph", ""), "estimate: measure"),
            CardFigure("Acidity", self.reading("acidity", "g"), "citric in 100 ml"),
        )

    def makes(self) -> str:
        """What a batch makes, in one line: *makes 1,285 g, 1,093 ml · 48 pours of 22.5 ml*."""
        told = f"makes {self.reading('mass', 'g', 0)}, {self.reading('length', 'ml')}"
        length_ml, pour_ml = self._result.value("length"), self._trace.build.pour_ml
        if length_ml is None or not pour_ml:
            return told
        pours = format_number(math.floor(length_ml / pour_ml), 0, self._style)
        return f"{told} · {pours} pours of {format_trimmed(pour_ml, 1, self._style)}{UNIT_SPACE}ml"

    def alcohol(self) -> str:
        """Strength, grams and units in one line; grams of ethanol never stand without the unit explained."""
        grams = self.reading("ethanol", "g")
        proof = proof_words(self._result.value("strength"), self._country, self._style)
        parts = (self.reading("strength", "% vol"), proof, grams, self.units_text())
        return " · ".join(part for part in parts if part)

    def legal(self) -> LegalWords:
        """What the law that the house chose says of the strength."""
        sigma = self._spread.plus_minus("strength") if self._spread is not None else None
        highest = highest_strength(self._result.value("strength"), self._result.more_than("strength"), sigma)
        return legal_words(self._trace.book.settings.wording_law, highest)

    def units_text(self) -> str:
        """The units of the house's country, with the grams of one: *0.9 units of 10 g*."""
        grams = self._result.value("ethanol")
        one = f"{format_trimmed(self._unit_g, 1, self._style)}{UNIT_SPACE}g"
        if grams is None:
            return f"{UNKNOWN} units of {one}"
        count = float(units(grams, self._country))
        more = float(units(self._result.more_than("ethanol"), self._country))
        if is_trace(count):
            is_known = strength_number(grams, self._style, more=self._result.more_than("ethanol")) != UNKNOWN
            written = strength_number(count, self._style, more=more) if is_known else UNKNOWN
            return f"{written} units of {one}"
        return f"{_at_least(count, more, 1)}{format_number(count, 1, self._style)} units of {one}"

    def reading(self, key: str, unit: str, decimals: int | None = None) -> str:
        """A reading with its unit; *at least* where something in it is unknown, ``?`` where there is none."""
        value = self._result.value(key)
        if value is None:
            return UNKNOWN
        places = BY_KEY[key].decimals if decimals is None else decimals
        more = self._result.more_than(key)
        if key in NEVER_NONE and is_trace(value):
            return with_unit(strength_number(value, self._style, more=more), unit)
        least = _at_least(value, more, places)
        return f"{least}{format_number(value, places, self._style)}{UNIT_SPACE}{unit}".rstrip(UNIT_SPACE)

    def volume(self) -> tuple[str, str]:
        """What is served, in ml and in ounces to the third."""
        length_ml = self._result.value("length")
        if length_ml is None:
            return f"{UNKNOWN} ml", ""
        ounces = served_ounces(length_ml, self._trace.book.settings.oz_ml)
        return self.reading("length", "ml"), f"{ounces.text}{UNIT_SPACE}oz"

    def reasons(self) -> tuple[str, ...]:
        """Why a figure on the card is missing or less sure than usual, a sentence each."""
        told: dict[str, list[str]] = {}
        drink, part = ("chill", "ethanol", "energy_kcal"), ("brix_true", "ph", "acidity")
        for key in ("strength", "length", *(drink if self._trace.build.is_drink else part)):
            for words in self._reasons(key):
                told.setdefault(words, []).append(BY_KEY[key].name)
        return tuple(f"{', '.join(names)}: {words}" for words, names in told.items())

    def _reasons(self, key: str) -> tuple[str, ...]:
        words = self._result.reasons(key)
        if self._result.value(key) is None:
            return words or ("It could not be computed.",)
        places = BY_KEY[key].decimals
        if _at_least(self._result.value(key) or 0.0, self._result.more_than(key), places):
            return (*words, "something in it is not known, so it may be higher.")
        return words

    def _strength(self) -> CardFigure:
        value = self._result.value("strength")
        around = "" if is_trace(value) else self._plus_minus("strength", "")
        proof = proof_words(value, self._country, self._style)
        return CardFigure("Strength", self.reading("strength", "%"), f"vol{around}{proof and f' · {proof}'}")

    def _melt(self) -> CardFigure:
        chills = [s for s in self._trace.build.steps if isinstance(s, Chill) and not s.left_out]
        if not chills:
            return CardFigure("Melt", "none", "no ice is used")
        melted_g = self._trace.melted_g
        if melted_g != melted_g:
            return CardFigure("Melt", UNKNOWN, "from the ice")
        weighed = all(
            any(one is not None for one in (s.melted_g, s.final_g, s.final_ml))
            for s in chills
            if self._trace.step(s.id).found_g
        )
        value = f"{format_number(melted_g / WATER_G_PER_ML, 0, self._style)}{UNIT_SPACE}ml"
        return CardFigure("Melt", value, "from ice, weighed" if weighed else "from ice, estimated")

    def _served_at(self) -> CardFigure:
        value = self._result.value("chill")
        if value is None:
            return CardFigure("Served at", UNKNOWN)
        fahrenheit = (
            f"{format_number(trade_fahrenheit(value, 1).temperature_f, 0, self._style)}{UNIT_SPACE}°F"
        )
        celsius = format_number(value, 0, self._style)
        return CardFigure(
            "Served at", f"{celsius}{UNIT_SPACE}°C", f"{fahrenheit}{self._plus_minus('chill', '°C')}"
        )

    def _plus_minus(self, key: str, unit: str) -> str:
        """One standard uncertainty, where there is a cause of one that shows."""
        sigma = self._spread.plus_minus(key) if self._spread is not None else None
        if sigma is None:
            return ""
        written = format_contribution(sigma, 1, self._style)
        if not written[:1].isdigit():
            return ""
        return f",{PLUS_MINUS}{written}{UNIT_SPACE if unit else ''}{unit}"


def _at_least(value: float, more: float, decimals: int) -> str:
    """*at least* where what is unknown could show, or where a figure that reads as nothing may not be nothing."""
    could_show = more >= 0.5 * 10.0**-decimals
    reads_as_nothing = more > _SURELY_NOTHING and rounded(value, decimals) == 0
    return AT_LEAST if could_show or reads_as_nothing else ""
