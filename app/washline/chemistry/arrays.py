"""The few array operations that chemistry is made of, each with a fixed order of additions."""

import math
from collections.abc import Callable, Sequence
from typing import Any, TypeAlias, TypeVar

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Flags: TypeAlias = NDArray[np.bool_]
Number = TypeVar("Number", float, Floats)

# One broadcast product is quicker for few columns, a loop over the rows needs no large temporary for many.
_FEW_COLUMNS = 64


def horner(coefficients: Sequence[float], x: Number) -> Number:
    """The value of a polynomial at ``x``, coefficients in rising powers (at least two), evaluated from the highest down.

    >>> horner((1.0, 2.0, 3.0), 2.0)
    17.0
    """
    result = x * coefficients[-1] + coefficients[-2]
    for coefficient in coefficients[-3::-1]:
        result = result * x + coefficient
    return result


def weighted_totals(weights: Floats, masses_g: Floats) -> Floats:
    """Several weighted sums over the components at once: weights (q, k) and masses (k, n) give (q, n).

    The additions run from the first component to the last, whatever the number of columns.

    >>> weighted_totals(np.array([[1.0, 1.0], [0.5, 0.0]]), np.array([[2.0], [3.0]]))[:, 0].tolist()
    [5.0, 1.0]
    """
    if masses_g.shape[1] <= _FEW_COLUMNS:
        products = weights[:, :, None] * masses_g
        totals: Floats = np.add.accumulate(products, axis=1)[:, -1]
        return totals
    totals = weights[:, :1] * masses_g[0]
    for row in range(1, masses_g.shape[0]):
        totals += weights[:, row : row + 1] * masses_g[row]
    return totals


def weighted_total(weights: Floats, masses_g: Floats) -> Floats:
    """One weighted sum over the components: weights (k,) and masses (k, n) give (n,).

    >>> weighted_total(np.array([1.0, 0.5]), np.array([[2.0], [3.0]])).tolist()
    [3.5]
    """
    total: Floats = weighted_totals(weights[None, :], masses_g)[0]
    return total


def product_down(rows: Floats) -> Floats:
    """The product of the rows of (k, n), from the first to the last: (n,).

    >>> product_down(np.array([[2.0], [3.0], [0.5]])).tolist()
    [3.0]
    """
    if rows.shape[1] <= _FEW_COLUMNS:
        accumulated: Floats = np.multiply.accumulate(rows, axis=0)[-1]
        return accumulated
    product: Floats = rows[0].copy()
    for row in rows[1:]:
        product *= row
    return product


def ratio(numerator: Number, denominator: Number) -> Number:
    """The quotient, and NaN (no value) where there is nothing to divide by.

    >>> ratio(np.array([1.0, 1.0]), np.array([2.0, 0.0])).tolist()
    [0.5, nan]
    """
    if not isinstance(denominator, np.ndarray):
        return numerator / denominator if denominator != 0.0 else float("nan")
    quotient: Floats = np.full(np.shape(denominator), np.nan)
    np.divide(numerator, denominator, out=quotient, where=denominator != 0.0)
    return quotient


def share(part: Number, whole: Number) -> Number:
    """The part of the whole, and 0 where there is no whole: for use inside a formula, never as a result.

    >>> share(np.array([1.0, 0.0]), np.array([4.0, 0.0])).tolist()
    [0.25, 0.0]
    """
    if not isinstance(whole, np.ndarray):
        return part / whole if whole != 0.0 else 0.0
    quotient: Floats = np.zeros(np.shape(whole))
    np.divide(part, whole, out=quotient, where=whole != 0.0)
    return quotient


def by_column(kernel: Callable[..., Any], *arguments: Floats | float) -> Floats:
    """The kernel on arrays; for a single column on plain numbers, which is many times quicker and gives the same bytes.

    >>> by_column(lambda x, t: x * t, np.array([3.0]), 2.0).tolist()
    [6.0]
    """
    if all(not isinstance(argument, np.ndarray) or argument.size == 1 for argument in arguments):
        numbers = [
            argument.item() if isinstance(argument, np.ndarray) else argument for argument in arguments
        ]
        return np.array([kernel(*numbers)], dtype=np.float64)
    result: Floats = kernel(*arguments)
    return result


def by_column_each(kernel: Callable[..., tuple[Any, ...]], *arguments: Floats | float) -> tuple[Floats, ...]:
    """As ``by_column``, for a kernel that gives several results at once.

    >>> by_column_each(lambda x: (x, x + 1.0), np.array([3.0]))[1].tolist()
    [4.0]
    """
    if all(not isinstance(argument, np.ndarray) or argument.size == 1 for argument in arguments):
        numbers = [
            argument.item() if isinstance(argument, np.ndarray) else argument for argument in arguments
        ]
        return tuple(np.array([result], dtype=np.float64) for result in kernel(*numbers))
    return kernel(*arguments)


def choose(condition: Any, yes: Any, no: Any) -> Any:
    """One of two values for a plain number, element by element for an array.

    >>> choose(2.0 > 1.0, 5.0, 6.0), choose(np.array([True, False]), np.array([5.0, 5.0]), 6.0).tolist()
    (5.0, [5.0, 6.0])
    """
    if isinstance(condition, np.ndarray):
        return np.where(condition, yes, no)
    return yes if condition else no


def square_root(x: Number) -> Number:
    """The square root, a plain number for a plain number.

    >>> square_root(9.0)
    3.0
    """
    return np.sqrt(x) if isinstance(x, np.ndarray) else math.sqrt(x)


def exponential(x: Number) -> Number:
    """The exponential function, a plain number for a plain number with the bytes that an array gives.

    >>> exponential(0.0)
    1.0
    """
    return np.exp(x) if isinstance(x, np.ndarray) else float(np.exp(x))


def natural_logarithm(x: Number) -> Number:
    """The natural logarithm, a plain number for a plain number with the bytes that an array gives.

    >>> natural_logarithm(1.0)
    0.0
    """
    return np.log(x) if isinstance(x, np.ndarray) else float(np.log(x))


def is_all(condition: Any) -> bool:
    """Whether a condition holds for a plain number, or for every element of an array.

    >>> is_all(True), is_all(np.array([True, False]))
    (True, False)
    """
    return bool(condition.all()) if isinstance(condition, np.ndarray) else bool(condition)


def bisect_rising(
    function: Callable[[Any], Any], target: Number, low: float, high: float, slack: float = 0.0
) -> Number:
    """Where a rising function meets the target between ``low`` and ``high``; NaN for a target that it never meets.

    The number of halvings is fixed (56), so that a result never depends on its neighbours; the lower end is returned,
    so that a target at the function's foot gives ``low`` exactly. ``slack`` is how far a target may lie beyond the
    function's ends and still count as an end.

    >>> round(bisect_rising(lambda x: x * x, 2.0, 0.0, 2.0), 12)
    1.414213562373
    """
    if isinstance(target, np.ndarray):
        return _bisect_array(function, target, low, high, slack)
    foot, top = low, high
    for _ in range(56):
        middle = 0.5 * (foot + top)
        if function(middle) < target:
            foot = middle
        else:
            top = middle
    inside = function(low) - slack <= target <= function(high) + slack
    return foot if inside else float("nan")


def _bisect_array(
    function: Callable[[Any], Any], target: Floats, low: float, high: float, slack: float
) -> Floats:
    foot = np.full(target.shape, low)
    top = np.full(target.shape, high)
    for _ in range(56):
        middle = 0.5 * (foot + top)
        is_below = function(middle) < target
        foot = np.where(is_below, middle, foot)
        top = np.where(is_below, top, middle)
    lowest, highest = function(np.full(target.shape, low)), function(np.full(target.shape, high))
    inside = (lowest - slack <= target) & (target <= highest + slack)
    return np.where(inside, foot, np.nan)
