"""Writes numbers: one way for window, paper and files.

Half is rounded away from zero on the decimal value that a person sees (2.675 is 2.68), the minus is a true minus, a
negative zero does not exist, and an unknown is a question mark and never a zero.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Context, Decimal
from functools import lru_cache
from types import MappingProxyType

from washline.quantity.unit_names import unit_word

UNKNOWN = "?"
LESS_THAN_LAST_DIGIT = "\u00b7"
UNIT_SPACE = "\u202f"
EN_DASH = "\u2013"
PLUS_MINUS = " \u00b1 "

_MOST_DIGITS = 400  # A float has at most 309 digits before the point.
_MOST_DECIMALS = 15  # Behind that a float of ordinary size is noise.


@dataclass(frozen=True, slots=True)
class NumberStyle:
    """The marks with which a person reads and types numbers."""

    decimal: str = "."
    grouping: str = ","
    minus: str = "\u2212"


ENGLISH_STYLE = NumberStyle()
"""A point, thousands commas, a true minus."""

FILE_STYLE = NumberStyle(decimal=".", grouping="", minus="-")
"""Numbers in CSV and JSON: ASCII, a point, no grouping."""

NUMBER_STYLES: Mapping[str, NumberStyle] = MappingProxyType(
    {
        "en_US": NumberStyle(".", ","),
        "en_GB": NumberStyle(".", ","),
        "de_DE": NumberStyle(",", "."),
        "de_CH": NumberStyle(".", "\u2019"),
        "fr_FR": NumberStyle(",", "\u202f"),
        "sv_SE": NumberStyle(",", "\u00a0"),
        "nb_NO": NumberStyle(",", "\u00a0"),
        "it_IT": NumberStyle(",", "."),
        "es_MX": NumberStyle(".", ","),
    }
)
"""Number styles by locale name, after the Unicode CLDR."""


def format_number(value: float | None, decimals: int, locale: NumberStyle = ENGLISH_STYLE) -> str:
    """``value`` with a fixed number of decimals; ``?`` where it is ``None`` or not finite.

    Below zero, ``decimals`` counts the places before the point that are rounded away (-1: to tens).
    """
    if value is None or not math.isfinite(value):
        return UNKNOWN
    return _written(rounded(value, decimals), max(decimals, 0), locale)


def format_trimmed(value: float | None, most_decimals: int, locale: NumberStyle = ENGLISH_STYLE) -> str:
    """``value`` with at most so many decimals and no zeros at the end: 60, 22.5."""
    if value is None or not math.isfinite(value):
        return UNKNOWN
    exact = rounded(value, most_decimals)
    decimals = next(places for places in range(most_decimals + 1) if exact == rounded(value, places))
    return _written(exact, decimals, locale)


def format_contribution(value: float | None, decimals: int, locale: NumberStyle = ENGLISH_STYLE) -> str:
    """A share in a column: blank for nothing, a centred dot for less than the last digit, ``?`` for not known."""
    if value is None or not math.isfinite(value):
        return UNKNOWN
    if value == 0.0:
        return ""
    exact = rounded(value, decimals)
    return LESS_THAN_LAST_DIGIT if exact == 0 else _written(exact, max(decimals, 0), locale)


def with_unit(number: str, unit: str) -> str:
    """A written number and its unit with a thin no-break space between; an unknown and a blank stay bare."""
    if not unit or number in ("", UNKNOWN, LESS_THAN_LAST_DIGIT):
        return number
    return f"{number}{UNIT_SPACE}{unit}"


def format_quantity(
    value: float | None, decimals: int, unit: str, locale: NumberStyle = ENGLISH_STYLE
) -> str:
    """``value`` with fixed decimals and its unit: ``168 ml``, ``−0.8 °C``."""
    return with_unit(format_number(value, decimals, locale), unit)


def format_amount(
    number: float | None, unit: str, locale: NumberStyle = ENGLISH_STYLE, most_decimals: int = 2
) -> str:
    """A number of a unit of ``unit_names.UNITS``, in its word: ``22.5 ml``, ``1 dash``, ``2 dashes``, ``42 %``."""
    return with_unit(format_trimmed(number, most_decimals, locale), unit_word(unit, number or 0.0))


def format_range(
    low: float | None, high: float | None, decimals: int, unit: str = "", locale: NumberStyle = ENGLISH_STYLE
) -> str:
    """``low`` to ``high`` with an en dash, in blanks where a minus stands; one number where both are written alike."""
    first, last = format_number(low, decimals, locale), format_number(high, decimals, locale)
    if first == last:
        return with_unit(first, unit)
    dash = f" {EN_DASH} " if first.startswith(locale.minus) or last.startswith(locale.minus) else EN_DASH
    return with_unit(f"{first}{dash}{last}", unit)


def spread_decimals(sigma: float, shown: int | None = None) -> int:
    """The decimals at which ``sigma`` has two significant digits (JCGM 100:2008, 7.2.6); negative means tens, hundreds.

    With ``shown``, the decimals now on the screen, a ``sigma`` that falls a little below a power of ten keeps them, so
    that figures do not flicker while someone types.
    """
    exponent = _exponent(sigma)
    decimals = 1 - exponent
    # 0.0996 has two digits as 0.10 and not as 0.100.
    if rounded(sigma, decimals) >= Decimal(1).scaleb(exponent + 1):
        decimals -= 1
    if shown is not None and shown == decimals - 1 and sigma >= 0.8 * 10.0 ** (exponent + 1):
        return shown
    return decimals


def spread_columns(
    value: float | None,
    sigma: float | None,
    locale: NumberStyle = ENGLISH_STYLE,
    most_decimals: int = _MOST_DECIMALS,
    shown: int | None = None,
) -> tuple[str, str]:
    """A reading and its standard uncertainty as two texts, rounded to the same place.

    ``sigma`` is written with at most two significant digits, and neither with more than ``most_decimals``. A ``sigma``
    of zero is no spread (an empty text), one below the last digit a centred dot, an unknown one ``?``.
    """
    if sigma is None or not math.isfinite(sigma) or sigma <= 0.0:
        plain = format_trimmed if most_decimals == _MOST_DECIMALS else format_number
        return plain(value, most_decimals, locale), "" if sigma == 0.0 else UNKNOWN
    decimals = min(spread_decimals(sigma, shown), most_decimals)
    return format_number(value, decimals, locale), format_contribution(sigma, decimals, locale)


def format_spread(
    value: float | None,
    sigma: float | None,
    locale: NumberStyle = ENGLISH_STYLE,
    most_decimals: int = _MOST_DECIMALS,
    shown: int | None = None,
) -> str:
    """A reading with its standard uncertainty, such as ``10.058 ± 0.027``; without one, the value alone."""
    written, spread = spread_columns(value, sigma, locale, most_decimals, shown)
    return f"{written}{PLUS_MINUS}{spread}" if spread and written != UNKNOWN else written


@lru_cache(maxsize=8192)
def rounded(value: float, decimals: int) -> Decimal:
    """``value`` as the shortest decimal that stands for it, rounded half away from zero; finite values only."""
    place = Decimal(1).scaleb(-decimals)
    # float() because the repr of a NumPy number names its type.
    return Decimal(repr(float(value))).quantize(
        place, rounding=ROUND_HALF_UP, context=Context(prec=_MOST_DIGITS)
    )


def _exponent(sigma: float) -> int:
    return Decimal(repr(float(sigma))).adjusted()


def _written(exact: Decimal, decimals: int, locale: NumberStyle) -> str:
    whole, _, behind = f"{abs(exact):.{decimals}f}".partition(".")
    grouped = f"{int(whole):,}".replace(",", locale.grouping) if len(whole) > 3 else whole
    sign = locale.minus if exact < 0 else ""
    return f"{sign}{grouped}{locale.decimal}{behind}" if behind else f"{sign}{grouped}"
