"""How poured lines are shown: as they were typed, in ml, in ounces, or in parts of one another."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.step import Add, AnyStep, Top
from washline.quantity.amount_text import TypedAmount
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_trimmed
from washline.quantity.rounding import fraction_text
from washline.quantity.units import MILLILITRES

MOST_PARTS = 12
"""More parts than this of the largest line are no plain ratio."""

_DENOMINATORS = (1, 2, 3, 4)
_OUNCE_DENOMINATORS = (1, 2, 3, 4, 6, 8)
_TOLERANCE = 0.002
_FRACTION_COST = {1: 0, 2: 3, 3: 6, 4: 3}


class PourUnit(StrEnum):
    """What poured lines are shown in."""

    AS_TYPED = "as typed"
    ML = "ml"
    OZ = "oz"
    PARTS = "parts"


@dataclass(frozen=True, slots=True)
class PourView:
    """How the poured lines of one build are shown: ``one_ml`` is what one ounce, or one part, holds."""

    unit: PourUnit = PourUnit.AS_TYPED
    one_ml: float = 1.0
    oz_ml: float = 30.0

    @property
    def is_as_typed(self) -> bool:
        """Whether nothing is converted."""
        return self.unit is PourUnit.AS_TYPED

    def shown(self, step: AnyStep) -> float | None:
        """What a line is shown as, in this view's unit; ``None`` where it is shown as it was typed."""
        if self.is_as_typed or not isinstance(step, Add | Top):
            return None
        ml = poured_ml(step.amount, self.oz_ml)
        return None if ml is None else ml / self.one_ml

    def number_text(self, value: float, style: NumberStyle = ENGLISH_STYLE) -> str:
        """The number as it is written: fractions of parts and ounces where they are plain."""
        if self.unit is PourUnit.ML:
            return format_trimmed(value, 2, style)
        denominators = _DENOMINATORS if self.unit is PourUnit.PARTS else _OUNCE_DENOMINATORS
        plain = _plain(value, denominators)
        return fraction_text(plain) if plain is not None else format_trimmed(value, 2, style)

    def unit_text(self, value: float) -> str:
        """The unit behind that number."""
        if self.unit is PourUnit.PARTS:
            return "part" if value <= 1.0 else "parts"
        return self.unit.value

    def meant(self, typed: TypedAmount, current: Amount | None = None) -> TypedAmount:
        """What an amount means that is typed into this view: a bare number is in its unit, and parts are parts of it.

        ``current`` is the amount of the line so far; what is typed in parts is kept in its unit.
        """
        is_bare = typed.unit is None and typed.basis == "absolute"
        is_parts = typed.basis == "parts" and typed.of is None and self.unit is PourUnit.PARTS
        if self.is_as_typed or not (is_bare or is_parts):
            return typed
        if current is not None and poured_ml(current, self.oz_ml) is None:
            return typed
        other = self.meant(typed.alternative, current) if typed.alternative is not None else None
        if self.unit is not PourUnit.PARTS:
            text = f"{typed.typed} {self.unit.value}".strip()
            return replace(typed, unit=self.unit.value, typed=text, alternative=other)
        unit = current.unit if current is not None else "ml"
        number = typed.number * self.one_ml / _one_ml(unit, self.oz_ml)
        return replace(typed, number=number, unit=unit, basis="absolute", typed="", alternative=other)


AS_TYPED = PourView()


def pour_view(unit: PourUnit, build: Build, book: HouseBook) -> PourView:
    """How the poured lines of a build are shown. Where they stand in no plain ratio a part is an ounce of the house."""
    oz_ml = book.settings.oz_ml
    if unit is PourUnit.OZ:
        return PourView(unit, oz_ml, oz_ml)
    if unit is not PourUnit.PARTS:
        return PourView(unit, 1.0, oz_ml)
    poured = (
        poured_ml(step.amount, oz_ml) for step in build.steps if isinstance(step, Add) and not step.left_out
    )
    volumes = [ml for ml in poured if ml is not None]
    # One line alone is in no ratio.
    part = part_ml(volumes) if len(volumes) > 1 else None
    return PourView(unit, part or oz_ml, oz_ml)


def poured_ml(amount: Amount, oz_ml: float) -> float | None:
    """The ml of an amount that is poured by volume, scant or heavy not counted; ``None`` for grams, shares, dashes and
    all else that has a measure of its own."""
    if amount.basis is not Basis.ABSOLUTE or (amount.unit != "oz" and amount.unit not in MILLILITRES):
        return None
    return amount.number * _one_ml(amount.unit, oz_ml)


def part_ml(volumes_ml: Sequence[float]) -> float | None:
    """The ml of one part at which volumes read as the simplest ratio; ``None`` where there is none.

    The largest is a whole number of parts, and the others are whole parts, halves, thirds or quarters. Of those ratios the
    one with the smallest numbers and the fewest fractions is taken, thirds last, for no jigger has them (common practice,
    no source): 60, 22.5 and 22.5 ml are 2 : ¾ : ¾, and 50, 25 and 25 ml 2 : 1 : 1.
    """
    poured = [ml for ml in volumes_ml if ml > 0.0]
    if not poured:
        return None
    largest = max(poured)
    ratios: list[tuple[int, int]] = []
    for count in range(1, MOST_PARTS + 1):
        parts = [_plain(ml * count / largest, _DENOMINATORS) for ml in poured]
        if None not in parts:
            ratios.append((_cost(part for part in parts if part is not None), count))
    return largest / min(ratios)[1] if ratios else None


def _cost(parts: Iterable[Fraction]) -> int:
    return sum(part.numerator // part.denominator + _FRACTION_COST[part.denominator] for part in parts)


def _plain(value: float, denominators: Sequence[int]) -> Fraction | None:
    """The plain fraction that a number is, within a fifth of a percent."""
    for denominator in denominators:
        count = round(value * denominator)
        if count > 0 and abs(value * denominator - count) <= _TOLERANCE * count:
            return Fraction(count, denominator)
    return None


def _one_ml(unit: str, oz_ml: float) -> float:
    return oz_ml if unit == "oz" else MILLILITRES[unit]
