"""A measured value against a computed one: weighted by both uncertainties, and how far they lie apart."""

from functools import cache
from typing import Generic, NamedTuple

from washline.chemistry.arrays import Number, choose, square_root
from washline.chemistry.coefficients import keys, table


class Reconciled(NamedTuple, Generic[Number]):
    """What a measurement leaves: the value that both agree on and its standard uncertainty, in the unit of the quantity.

    ``gain`` is the part of the way from computed to measured that the value goes (0: the measurement says nothing,
    1: the computation says nothing), ``residual_sigmas`` the distance of the two in their joint standard uncertainty.
    """

    value: Number
    sigma: Number
    gain: Number
    residual_sigmas: Number


def reconcile(
    computed: Number, computed_sigma: Number, measured: Number, measured_sigma: Number
) -> Reconciled[Number]:
    """The least squares value of one quantity that is both computed and measured.

    Arguments:
        computed: value in any unit, float or array (n,)
        computed_sigma: its standard uncertainty in that unit, 0 or more, float or array (n,)
        measured: value in that unit, float or array (n,)
        measured_sigma: its standard uncertainty in that unit, 0 or more, float or array (n,)
    Returns: value and sigma in that unit, gain (1) and residual (1), floats or arrays (n,); where both are exact the
        computed value stands and the residual is 0, or infinite if they differ
    Valid: uncertainties that are independent and near normal
    Error: none, a definition
    Source: Gauss 1809; JCGM 100:2008, weighted mean of independent estimates

    >>> reconcile(10.0, 0.3, 11.0, 0.4).gain
    0.36
    """
    computed_square, measured_square = computed_sigma * computed_sigma, measured_sigma * measured_sigma
    joint = computed_square + measured_square
    is_exact = joint == 0.0
    gain: Number = computed_square / choose(is_exact, 1.0, joint)
    apart = measured - computed
    spread = square_root(choose(is_exact, 1.0, joint))
    exact_residual = choose(apart > 0.0, float("inf"), choose(apart < 0.0, -float("inf"), 0.0))
    residual: Number = choose(is_exact, exact_residual, apart / spread)
    left = square_root(measured_square * gain)
    return Reconciled(computed + gain * apart, left, gain, residual)


@cache
def instruments() -> tuple[str, ...]:
    """The instruments that have a usual standard uncertainty, in the order of the tables.

    Arguments: none
    Returns: names for ``instrument_sigma`` (text, no unit)
    Valid: everywhere
    Error: none, a list
    Source: common practice, no source

    >>> instruments()[:2]
    ('ph_strip', 'ph_meter')
    """
    return keys("instrument")


def instrument_unit(instrument: str) -> str:
    """The unit that an instrument's readings have here.

    Arguments:
        instrument: one of ``instruments`` (text, no unit)
    Returns: unit such as ``g`` or ``pH``; ``1`` for one whose uncertainty is a part of the reading. ``KeyError`` if unknown
    Valid: the instruments of the tables
    Error: none, a look-up
    Source: common practice, no source

    >>> instrument_unit("refractometer")
    '% by mass'
    """
    return table()["instrument", instrument][0].unit


def instrument_sigma(instrument: str, reading: Number) -> Number:
    """Usual standard uncertainty of one reading of an instrument; a house that knows its own enters that.

    Arguments:
        instrument: one of ``instruments`` (text, no unit)
        reading: what it shows, in the unit of ``instrument_unit``, float or array (n,)
    Returns: standard uncertainty in that unit, float or array (n,). ``KeyError`` if unknown
    Valid: an instrument in order and calibrated
    Error: a factor of two between one hand and the next
    Source: common practice, no source

    >>> instrument_sigma("ph_strip", 3.4), instrument_sigma("titration", 6.0)
    (0.3, 0.12)
    """
    row = table()["instrument", instrument][0]
    number = float(row.value)
    return abs(reading) * number if row.index == "relative" else reading * 0.0 + number
