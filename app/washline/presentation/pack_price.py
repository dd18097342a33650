"""A price as it stands on the invoice: for a litre or a kilogram, or for a pack of so much (*24.50 for 700 ml*)."""

import re
from dataclasses import dataclass

from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.number import NumberProblem, read_number

_PER_UNIT = {
    "ml": ("l", 0.001), "cl": ("l", 0.01), "dl": ("l", 0.1), "l": ("l", 1.0), "g": ("kg", 0.001), "kg": ("kg", 1.0),
}  # fmt: skip
_FOR = re.compile(r"\s+for\s+|\s*/\s*", re.IGNORECASE)
_TIMES = re.compile(r"\s*[x×*]\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class PackPrice:
    """What was paid for one ``unit`` ("l" or "kg"; empty: as the field beside it says), and the pack in words."""

    per_unit: float
    unit: str
    pack: str = ""


def read_pack_price(text: str, currency: str = "", style: NumberStyle = ENGLISH_STYLE) -> PackPrice | None:
    """The price in a text; ``None`` for what is none.

    >>> read_pack_price("24.50 for 700 ml")
    PackPrice(per_unit=35.0, unit='l', pack='24.50 for 700 ml')
    >>> read_pack_price("36 for 6 x 2 kg").per_unit
    3.0
    """
    paid, *pack = _FOR.split(text.strip(), maxsplit=1)
    number = _number(paid, style)
    if number is None or number[1] not in ("", currency):
        return None
    if not pack:
        return PackPrice(number[0], "")
    size = _size(pack[0], style)
    if size is None:
        return None
    amount, unit = size
    return PackPrice(number[0] / amount, unit, text.strip())


def _size(text: str, style: NumberStyle) -> tuple[float, str] | None:
    """How many litres or kilograms a pack holds."""
    *counts, one = _TIMES.split(text.strip())
    count = 1.0
    for part in counts:
        found = _number(part, style)
        if found is None or found[1]:
            return None
        count *= found[0]
    held = _number(one, style)
    if held is None:
        return None
    known = _PER_UNIT.get(held[1].lower())
    amount = count * held[0] * known[1] if known is not None else 0.0
    return (amount, known[0]) if known is not None and amount > 0.0 else None


def _number(text: str, style: NumberStyle) -> tuple[float, str] | None:
    found = read_number(text.strip(), style.decimal, style.grouping or None)
    return None if isinstance(found, NumberProblem) else (found.value, found.rest.strip())
