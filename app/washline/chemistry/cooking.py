"""Ethanol that stays in a dish or a syrup when it is heated: the published retention factors."""

from collections.abc import Mapping
from functools import cache
from itertools import pairwise

import numpy as np

from washline.chemistry.arrays import Number, choose
from washline.chemistry.coefficients import value

SIMMERED = "simmered"

_SINGLE: Mapping[str, str] = {
    "stirred_into_boiling": "added to boiling liquid, taken off the heat",
    "flamed": "flamed",
    "stood_overnight": "no heat, stored overnight",
    "baked_on_top": "baked 25 min, not stirred in",
    "closed": "closed",
}
"""For each way that has one factor, its row in the tables."""

_TABLE_MINUTES = (15, 30, 60, 90, 120, 150)

LONGEST_MINUTES = 150.0
"""Where the table of ``simmered`` ends."""


def ways() -> tuple[str, ...]:
    """The ways of heating that have a retention factor.

    Arguments: none
    Returns: names for ``ethanol_kept_pct`` (text, no unit)
    Valid: everywhere
    Error: none, a list
    Source: USDA Table of Nutrient Retention Factors, release 6 (2007)

    >>> ways()[:2]
    ('simmered', 'stirred_into_boiling')
    """
    return (SIMMERED, *_SINGLE)


@cache
def _simmered() -> tuple[tuple[float, float], ...]:
    """Minutes and percent kept; at no minutes what is stirred into boiling liquid and taken off the heat."""
    first = (0.0, value("ethanol_retained", _SINGLE["stirred_into_boiling"]))
    rows = [
        (float(minutes), value("ethanol_retained", f"baked or simmered {minutes} min"))
        for minutes in _TABLE_MINUTES
    ]
    return (first, *rows)


def ethanol_kept_pct(way: str, minutes: Number) -> Number:
    """Part of the ethanol that is still there after heating in an open vessel.

    ``simmered`` (simmered or baked, stirred in) depends on the time: straight lines between the rows of the table, from
    85 % at no minutes (stirred into boiling liquid, taken off the heat); the other ways have one factor, whatever the time.

    Arguments:
        way: one of ``ways`` (text, no unit)
        minutes: time on the heat, min, float or array (n,)
    Returns: % of the ethanol's g, float or array (n,); NaN for a negative time. ``KeyError`` for another way
    Valid: to 150 min, flagged beyond, where the last value (5 %) stands; dishes in open vessels
    Error: about 10 of 100; a small deep pan keeps more; weighing before and after is the safe check
    Source: USDA Table of Nutrient Retention Factors, release 6 (2007); closed vessels keep all

    >>> ethanol_kept_pct("simmered", 30.0), ethanol_kept_pct("flamed", 0.0)
    (35.0, 75.0)
    """
    kept: Number
    if way == SIMMERED:
        kept = _interpolated(minutes)
    else:
        kept = minutes * 0.0 + value("ethanol_retained", _SINGLE[way])
    kept = choose(minutes >= 0.0, kept, float("nan"))
    return kept if isinstance(kept, np.ndarray) else float(kept)


def _interpolated(minutes: Number) -> Number:
    rows = _simmered()
    kept: Number = minutes * 0.0 + rows[0][1]
    for (start, high), (end, low) in pairwise(rows):
        line = high + (minutes - start) * ((low - high) / (end - start))
        kept = choose(minutes > start, line, kept)
    held: Number = choose(minutes > LONGEST_MINUTES, rows[-1][1], kept)
    return held
