"""What the two ways to enter a new raw ingredient share: what was understood, kinds of sugar, and sums in words."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from msgspec import structs

from washline.chemistry.arrays import Floats
from washline.chemistry.components import COMPONENT_COUNT, SUCROSE, SUGARS
from washline.model.item import RawIngredient
from washline.problem import UserError

_PASSES = 60
_CLOSE_ENOUGH = 1e-9


class SugarsLike(StrEnum):
    """What is said of the kinds of sugar; another ingredient can say it too."""

    UNKNOWN = "unknown"
    SUCROSE = "sucrose"


@dataclass(frozen=True, slots=True)
class Understood:
    """What was made of it: the fields of a raw ingredient, sentences to check before it is written, and doubts.

    ``lines`` are (what, value) for the sheet; a doubt is something that does not fit and is written all the same.
    """

    fields: dict[str, object]
    lines: tuple[tuple[str, str], ...]
    doubts: tuple[str, ...] = ()

    @property
    def composition(self) -> tuple[float | None, ...]:
        """g per 100 g; ``None`` is not known."""
        parts: tuple[float | None, ...] = self.fields["composition"]  # type: ignore[assignment]
        return parts


def split_of(raw: RawIngredient, group: Sequence[int], words: str) -> Floats:
    """Shares of a group of components, (24,), as in a known ingredient. Raises ``UserError`` where it knows none."""
    split = np.zeros(COMPONENT_COUNT)
    for part in group:
        split[part] = raw.composition[part] or 0.0
    total = float(np.add.accumulate(split)[-1])
    if total <= 0.0:
        raise UserError(f"{raw.name} has no known {words} to go by.", remedy="Choose another ingredient.")
    shares: Floats = split / total
    return shares


def put_sugars(parts: list[float | None], grams: float, like: SugarsLike | RawIngredient) -> None:
    """Puts grams of sugars into a composition by their kinds; of unknown kind they stay open."""
    if like is SugarsLike.UNKNOWN and grams > 0.0:
        return
    for part in SUGARS:
        parts[part] = 0.0
    if isinstance(like, RawIngredient):
        split = split_of(like, SUGARS, "sugars")
        for part in SUGARS:
            parts[part] = round(float(split[part]) * grams, 4)
    else:
        parts[SUCROSE] = round(grams, 4)


def sugar_lines(grams: float | None, like: SugarsLike | RawIngredient) -> tuple[tuple[str, str], ...]:
    """What is said of the kinds of sugar; nothing where there is none."""
    if not grams:
        return ()
    if isinstance(like, RawIngredient):
        return (("Kinds of sugar", f"as in {like.name}"),)
    if like is SugarsLike.SUCROSE:
        return (("Kinds of sugar", "all counted as sucrose"),)
    return (("Kinds of sugar", "not known: sweetness reads “at least” until you say what they are like"),)


def sum_line(parts: Sequence[float | None]) -> str:
    """What is known of 100 g, and what is of unknown kind."""
    known = sum(part for part in parts if part is not None)
    blanks = sum(part is None for part in parts)
    rest = 100.0 - known
    if not blanks or rest < 0.05:
        return f"{known:.1f} g in 100 g"
    return f"{known:.1f} g in 100 g known, {rest:.1f} g of unknown kind"


def solved_for(rising: Callable[[float], float], wanted: float, low: float, high: float) -> float:
    """Where a rising function has a value; an end where it does not reach it. The function is left at the place found.

    False position with the Illinois rule (Dowell and Jarratt 1971): the functions here are nearly straight.
    """
    below, above = rising(low) - wanted, rising(high) - wanted
    while np.isnan(above) and high - low > _CLOSE_ENOUGH:
        # Beyond the scale of a refractometer there is no value.
        high = low + (high - low) * 0.9
        above = rising(high) - wanted
    if below >= 0.0 or above <= 0.0:
        place = low if below >= 0.0 else high
        rising(place)
        return place
    place, side = low, 0
    for _ in range(_PASSES):
        place = (low * above - high * below) / (above - below)
        off = rising(place) - wanted
        if abs(off) < _CLOSE_ENOUGH:
            break
        if off < 0.0:
            low, below = place, off
            above = above / 2.0 if side < 0 else above
            side = -1
        else:
            high, above = place, off
            below = below / 2.0 if side > 0 else below
            side = 1
    return place


def filled(raw: RawIngredient, understood: Understood) -> RawIngredient:
    """A raw ingredient with what was understood put in."""
    return structs.replace(raw, **understood.fields)
