"""Today's fruit in words and figures: what the table says, what was read on the fruit, and how far apart the two are.

A reading is turned into percent of the table's sugars or acids on the full model: the refraction of the juice, its
charge balance, its titration. More sugar or acid takes the place of water.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

import numpy as np
from msgspec import structs

from washline.chemistry.acidity import titratable_acidity_citric_g
from washline.chemistry.components import ACIDS, INSOLUBLE, SUGARS
from washline.chemistry.ph import ph
from washline.chemistry.solids import brix_refractometer
from washline.engine.items import is_buffer_known, raw_per_gram, shift_group
from washline.engine.state import CATIONS, MASSES, Numbers, bound_mmol
from washline.model.book import HouseBook
from washline.model.item import RawIngredient, Today
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_number, format_range

LOWEST, HIGHEST = -0.95, 3.0
"""How far a shift is looked for: shares of the table's own value."""

STRIP_ERROR = 0.2
"""What a pH strip is read to, each way (common practice, no source)."""

_PASSES = 60
_ROUNDS = 3


@dataclass(frozen=True, slots=True)
class Figures:
    """A raw ingredient as a refractometer (°Bx), a strip (pH) and a titration (g citric acid per 100 g) would read it;
    ``None`` where that cannot be told."""

    brix: float | None
    ph: float | None
    acidity_pct: float | None


@dataclass(frozen=True, slots=True)
class Measured:
    """What was read on today's fruit; ``None`` is not measured. pH and acidity both tell the acids: the titration wins."""

    brix: float | None = None
    ph: float | None = None
    acidity_pct: float | None = None


def figures(book: HouseBook, raw: RawIngredient) -> Figures:
    """What the instruments would read on a raw ingredient as it stands, its shift of today included."""
    column = raw_per_gram(book, raw)
    return Figures(
        _number(_brix(column)),
        _number(_ph(column)) if is_buffer_known(raw) and _has(raw, ACIDS) else None,
        _number(_acidity(column)) if _is_known(raw, ACIDS) else None,
    )


def of_table(raw: RawIngredient) -> RawIngredient:
    """The raw ingredient as the table has it."""
    return structs.replace(raw, today=None)


def shifts(book: HouseBook, raw: RawIngredient, measured: Measured) -> tuple[float | None, float | None]:
    """Percent by which today's sugars and acids lie above the table, from what was measured; ``None``: not told by it.

    Raises ``UserError`` where the reading cannot be reached, or says nothing about this ingredient.
    """
    column = raw_per_gram(book, of_table(raw))
    sugars = acids = 0.0
    for _ in range(_ROUNDS):
        acids = _acid_share(raw, column, sugars, measured, acids)
        sugars = _sugar_share(raw, column, acids, measured, sugars)
    tells_acids = measured.ph is not None or measured.acidity_pct is not None
    return (
        None if measured.brix is None else 100.0 * sugars,
        100.0 * acids if tells_acids else None,
    )


def strip_range(book: HouseBook, raw: RawIngredient, strip_ph: float) -> tuple[float, float] | None:
    """Percent of acids from the least to the most that a strip can mean, read to ``STRIP_ERROR``; ``None`` beyond reach."""
    found = []
    for reading in (strip_ph + STRIP_ERROR, strip_ph - STRIP_ERROR):
        try:
            _, acids = shifts(book, raw, Measured(ph=reading))
        except UserError:
            return None
        found.append(acids or 0.0)
    return found[0], found[1]


def _acid_share(
    raw: RawIngredient, column: Numbers, sugars: float, measured: Measured, start: float
) -> float:
    if measured.acidity_pct is not None:
        _refuse_unknown(raw, ACIDS, "acids")
        return _share(
            raw, lambda share: _acidity(_shifted(column, sugars, share)), measured.acidity_pct, "g per 100 g"
        )
    if measured.ph is None:
        return start
    _refuse_unknown(raw, ACIDS, "acids")
    if not is_buffer_known(raw):
        raise UserError(
            f"The pH of {raw.name} does not tell its acids.",
            "It holds something whose buffer is not known.",
            "Titrate it, or use the slider.",
        )
    # pH falls as acid rises: the search runs on its negative.
    return _share(raw, lambda share: -_ph(_shifted(column, sugars, share)), -measured.ph, "pH")


def _sugar_share(
    raw: RawIngredient, column: Numbers, acids: float, measured: Measured, start: float
) -> float:
    if measured.brix is None:
        return start
    _refuse_unknown(raw, SUGARS, "sugars")
    return _share(raw, lambda share: _brix(_shifted(column, share, acids)), measured.brix, "°Bx")


def _share(raw: RawIngredient, rising: Callable[[float], float], wanted: float, unit: str) -> float:
    """The share at which a rising function has a value, by bisection. Refuses what lies outside."""
    low, high = LOWEST, HIGHEST
    lowest, highest = rising(low), rising(high)
    if not lowest <= wanted <= highest:
        ends = sorted((abs(lowest), abs(highest)))
        shown = format_range(ends[0], ends[1], 2 if unit != "°Bx" else 1)
        raise UserError(
            f"{raw.name} cannot read {abs(wanted):g} {unit} by more or less of what the table says.",
            f"That reaches {shown} {unit}.",
            "Check the reading, or correct the composition itself.",
        )
    for _ in range(_PASSES):
        middle = (low + high) / 2
        low, high = (middle, high) if rising(middle) < wanted else (low, middle)
    return (low + high) / 2


def _shifted(column: Numbers, sugars: float, acids: float) -> Numbers:
    shifted = column.copy()
    shift_group(shifted, SUGARS, sugars)
    shift_group(shifted, ACIDS, acids)
    return shifted


def _liquid(column: Numbers) -> Numbers:
    masses: Numbers = column[MASSES, None].copy()
    masses[INSOLUBLE] = 0.0
    return masses


def _brix(column: Numbers) -> float:
    return float(brix_refractometer(_liquid(column))[0])


def _ph(column: Numbers) -> float:
    return float(ph(_liquid(column), column[CATIONS, None])[0])


def _acidity(column: Numbers) -> float:
    return 100.0 * float(titratable_acidity_citric_g(column[MASSES, None], bound_mmol(column[:, None]))[0])


def _number(value: float) -> float | None:
    return None if np.isnan(value) else value


def _is_known(raw: RawIngredient, group: tuple[int, ...]) -> bool:
    return all(raw.composition[part] is not None for part in group)


def _has(raw: RawIngredient, group: tuple[int, ...]) -> bool:
    return any(raw.composition[part] for part in group)


def _refuse_unknown(raw: RawIngredient, group: tuple[int, ...], words: str) -> None:
    if not _has(raw, group):
        raise UserError(
            f"The table knows no {words} of {raw.name}, so that there is nothing to shift.",
            remedy="Enter its composition first.",
        )


# Words


def until_words(today: Today, now: datetime) -> str:
    """*until 02:00*, *until 02:00 tomorrow*, *until Saturday 02:00*, *until 2 May 2026, 02:00*; empty without an end."""
    try:
        end = datetime.fromisoformat(today.until).astimezone()
    except ValueError:
        return ""
    days = (end.date() - now.astimezone().date()).days
    clock = f"{end:%H:%M}"
    if days == 0:
        return f"until {clock}"
    if days == 1:
        return f"until {clock} tomorrow"
    return f"until {end:%A} {clock}" if 1 < days < 7 else f"until {end.day} {end:%B %Y}, {clock}"


def shift_words(today: Today, style: NumberStyle = ENGLISH_STYLE) -> str:
    """*sugars +12 %, acids −8 %*; what is as in the table is left out."""
    shown = [
        f"{name} {signed(percent, style)} %"
        for name, percent in (("sugars", today.sugars_pct), ("acids", today.acids_pct))
        if percent
    ]
    return ", ".join(shown) or "as in the table"


def list_words(today: Today, style: NumberStyle = ENGLISH_STYLE) -> str:
    """The mark in the list of the house book: *today: acids +20 %, until 02:00*."""
    try:
        end = f", until {datetime.fromisoformat(today.until).astimezone():%H:%M}"
    except ValueError:
        end = ""
    return f"today: {shift_words(today, style)}{end}"


def signed(percent: float, style: NumberStyle = ENGLISH_STYLE) -> str:
    """A percentage with its sign, whole where it is a whole one."""
    decimals = 0 if abs(percent) >= 10 or percent == round(percent) else 1
    number = format_number(percent, decimals, style)
    return f"+{number}" if percent > 0 and number.strip("0.,") else number
