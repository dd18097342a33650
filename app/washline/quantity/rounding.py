"""Rounds as the trade does on paper: ounces to the fractions of a jigger, °F to what a dial shows.

Common practice, no source: which fractions are poured, and that kitchen temperatures go by fives. Every result carries
its error, so that a paper can declare it.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from fractions import Fraction

from washline.quantity.formatting import UNKNOWN, rounded
from washline.quantity.units import fahrenheit

DECLARED_FROM = 0.03
"""The relative error from which a paper says that an amount is rounded."""

_POURED_DENOMINATORS = (1, 2, 3, 4, 6, 8)
_SERVED_DENOMINATORS = (1, 3)
_TIE_OZ = 0.01
_TIE_RELATIVE = 0.01

_GLYPHS = {
    Fraction(1, 2): "½",
    Fraction(1, 3): "⅓",
    Fraction(2, 3): "⅔",
    Fraction(1, 4): "¼",
    Fraction(3, 4): "¾",
    Fraction(1, 6): "⅙",
    Fraction(5, 6): "⅚",
    Fraction(1, 8): "⅛",
    Fraction(3, 8): "⅜",
    Fraction(5, 8): "⅝",
    Fraction(7, 8): "⅞",
}


@dataclass(frozen=True, slots=True)
class TradeOunces:
    """Ounces as they stand on paper: the text, its value, and the error against the exact amount as a share of it
    (positive: the paper says more)."""

    text: str
    ounces: float
    relative_error: float

    @property
    def is_declared(self) -> bool:
        """Whether the error is large enough to be said on the paper."""
        return abs(self.relative_error) > DECLARED_FROM


@dataclass(frozen=True, slots=True)
class TradeFahrenheit:
    """A temperature in °F as the trade writes it, and how much it is off, in °F."""

    temperature_f: int
    error_f: float


def ounces_on_card(volume_ml: float, oz_ml: float = 30.0) -> TradeOunces:
    """A pour in ounces to the nearest eighth, sixth, quarter, third or half.

    Where two fractions lie equally near (within 1 % of the amount and a hundredth of an ounce) the one with the smaller
    denominator is written. An amount never rounds to nothing: below a sixteenth it is an eighth, with its error.
    """
    return _nearest(volume_ml, oz_ml, _POURED_DENOMINATORS)


def served_ounces(volume_ml: float, oz_ml: float = 30.0) -> TradeOunces:
    """The volume in a glass in ounces, to the nearest third."""
    return _nearest(volume_ml, oz_ml, _SERVED_DENOMINATORS)


def trade_fahrenheit(temperature_c: float, step_f: int = 5) -> TradeFahrenheit:
    """A temperature in °C as the trade writes it in °F: to the nearest five, 162.5 °F to the rounder 160 °F.

    ``step_f`` of 1 serves for a drink's temperature, where five degrees would hide the difference. Finite values only.
    """
    exact = fahrenheit(temperature_c)
    steps = rounded(exact, 9) / step_f
    below = int(steps.to_integral_value(rounding=ROUND_FLOOR))
    above_share = steps - below
    if above_share == Decimal("0.5"):
        nearest = below if below % 2 == 0 else below + 1
    else:
        nearest = below + (1 if above_share > Decimal("0.5") else 0)
    return TradeFahrenheit(nearest * step_f, nearest * step_f - exact)


def fraction_text(value: Fraction) -> str:
    """A number of halves, thirds, quarters, sixths or eighths with a true fraction: ``1½``, ``⅔``, ``5``."""
    whole, part = divmod(value, 1)
    if part == 0:
        return str(whole)
    return f"{whole or ''}{_GLYPHS[part]}"


def _nearest(volume_ml: float, oz_ml: float, denominators: Iterable[int]) -> TradeOunces:
    if not math.isfinite(volume_ml) or volume_ml < 0.0:
        return TradeOunces(UNKNOWN, math.nan, math.nan)
    if volume_ml == 0.0:
        return TradeOunces("0", 0.0, 0.0)
    exact = volume_ml / oz_ml
    candidates = [_candidate(exact, denominator) for denominator in denominators]
    off = {candidate: abs(float(candidate) - exact) for candidate in candidates}
    tie = min(_TIE_OZ, _TIE_RELATIVE * exact)
    near = [candidate for candidate in candidates if off[candidate] <= min(off.values()) + tie]
    chosen = min(near, key=lambda candidate: (candidate.denominator, off[candidate]))
    return TradeOunces(fraction_text(chosen), float(chosen), float(chosen) / exact - 1.0)


def _candidate(exact: float, denominator: int) -> Fraction:
    """The nearest multiple of a fraction, at least one of it."""
    return Fraction(max(1, int(rounded(exact * denominator, 0))), denominator)
