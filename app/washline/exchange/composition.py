"""From the columns of the pantry to a composition whose parts are disjoint and add up."""

from collections.abc import Sequence
from itertools import accumulate

from washline.chemistry.components import (
    CO2,
    COMPONENT_COUNT,
    FAT,
    FIBRE,
    INSOLUBLE,
    OTHER_CARBOHYDRATE,
    OTHER_SOLIDS,
    PROTEIN,
)

SUM_TOLERANCE_G = 1.5
"""How far a complete row of the pantry may be from 100 g, by the pantry's own rule; it is scaled to 100."""

DECIMALS = 6
"""Digits kept after splitting and scaling: a microgram in 100 g, so that a file shows 8.16 and not 8.159999999999997."""

_INSOLUBLE_FROM = (FIBRE, PROTEIN, OTHER_CARBOHYDRATE, OTHER_SOLIDS, FAT)


class CompositionError(Exception):
    """A composition that cannot be: it says why in words."""


def composition(
    parts: Sequence[float | None], insoluble_g: float | None, is_complete: bool
) -> tuple[float | None, ...]:
    """Grams per 100 g in the order of ``chemistry.components``, from the pantry's parts in the same order.

    ``parts`` is (24,); what stands there for insoluble solids and CO2 is not read. ``None`` is not known and stays so.

    The pantry's insoluble solids are an *of which*. They are taken out of fibre, then protein, then other carbohydrate
    (starch), then other solids (clay, silica), then fat (the oil that a nut's cells hold back), each as far as it goes,
    so that the sum stays the same. What then is still to be taken comes from the part of the row that nobody named: in a
    complete row what is missing to 100 g, in an incomplete one what is not known. If that is not enough, the row is
    refused. A complete row is scaled to 100 g; an incomplete one is left as it stands. Dissolved CO2 is a figure of its
    own and not part of the sum: 0 here.
    """
    result = [*parts]
    result[INSOLUBLE], result[CO2] = None, 0.0
    unnamed_g = 100.0 - _sum(result)
    if abs(unnamed_g) > SUM_TOLERANCE_G and (is_complete or unnamed_g < 0.0):
        raise CompositionError(f"the parts add up to {100.0 - unnamed_g:.2f} g in 100 g")
    if insoluble_g is not None:
        _split_off(result, insoluble_g, unnamed_g)
    scale = 100.0 / _sum(result) if is_complete else 1.0
    return tuple(part if part is None else round(part * scale, DECIMALS) for part in result)


def _split_off(result: list[float | None], insoluble_g: float, unnamed_g: float) -> None:
    left = insoluble_g
    for index in _INSOLUBLE_FROM:
        taken = min(left, result[index] or 0.0)
        if taken > 0.0:
            result[index] = (result[index] or 0.0) - taken
            left -= taken
    if left > max(unnamed_g, 0.0) + 1e-9:
        raise CompositionError(f"{left:.2f} g of the insoluble solids are in none of the parts")
    result[INSOLUBLE] = insoluble_g


def _sum(parts: Sequence[float | None]) -> float:
    return list(accumulate(part or 0.0 for part in parts))[COMPONENT_COUNT - 1]
