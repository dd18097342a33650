"""Measuring: the vessel takes over a share of the difference between what was measured and what was computed.

Density and °Bx swap dissolved solids, acidity acids with their cations, strength ethanol, each against as much water: a
swap weighs nothing. Mass and volume scale the vessel, and the difference is named. pH sets the cations.
"""

from collections.abc import Callable, Mapping

import numpy as np

from washline.chemistry import heat, mixture, solids
from washline.chemistry.components import DISSOLVED, ETHANOL, WATER
from washline.chemistry.ph import ph
from washline.engine.fermenting import set_ph
from washline.engine.liquid import ACID_ROWS, enough_liquid, free_acid_g, share_of, titrated_liquid_g
from washline.engine.run import AWAY, HELD, LIQUID, Run
from washline.engine.state import ACID_EXCESS, CATIONS, ENTHALPY, MASSES, Numbers, mass_g

NOT_REACHED = "cannot be reached with what is in the vessel: it stays as near as it gets"
TRACE = 1e-9
"""What is a smaller share of the vessel is not there to be measured: nothing can be made of it."""

LARGEST_FACTOR = 1e6
"""Dissolved solids are never multiplied by more on the way to a reading."""

SECANT_PASSES = 10
ARRIVED = 1e-11
"""What an instrument would show is met where it is off by no larger share of what is wanted."""

DISSOLVED_ROWS = (*DISSOLVED, CATIONS, ACID_EXCESS)


def _acidity_pct(state: Numbers) -> Numbers:
    return (
        np.maximum(free_acid_g(state), 0.0)
        * 100.0
        / np.where(titrated_liquid_g(state) > 0.0, titrated_liquid_g(state), np.nan)
    )


LIQUID_READERS: Mapping[str, Callable[[Numbers], Numbers]] = {
    "density": lambda state: mixture.density_g_per_ml(state[MASSES]),
    "brix": lambda state: solids.brix_refractometer(state[MASSES]),
    "ph": lambda state: ph(enough_liquid(state[MASSES]), state[CATIONS]),
    "acidity": _acidity_pct,
    "strength": lambda state: mixture.strength_pct_vol(state[MASSES]),
}
"""What an instrument would show of a liquid (ROWS, n), in the unit of the measurable."""


def computed(running: Run, quantity: str) -> Numbers:
    """What is computed for a quantity of the vessel, (n,), in the unit of the measurable."""
    if quantity == "mass":
        return running.vessel_g
    if quantity == "volume":
        return running.vessel_ml
    return LIQUID_READERS[quantity](running.state)


def measure(running: Run, quantity: str, value: int, gain: int) -> None:
    """Reconciles one quantity."""
    before = computed(running, quantity)
    wanted = before + running.numbers[gain] * (running.numbers[value] - before)
    if quantity in ("mass", "volume"):
        _scale(running, share_of(wanted, before))
    elif quantity == "ph":
        set_ph(running, wanted)
    elif quantity == "acidity":
        free = free_acid_g(running.state)
        _swap(running, ACID_ROWS, _share_for_acid(wanted, free, titrated_liquid_g(running.state)))
    elif quantity == "strength":
        _swap_ethanol(running, wanted)
    else:
        _swap(running, DISSOLVED_ROWS, _factor(running.state, LIQUID_READERS[quantity], wanted, before))
    after = computed(running, quantity)
    running.miss(NOT_REACHED, np.abs(after - wanted) > 1e-6 * np.maximum(np.abs(wanted), 1.0))
    running.measured[running.op] = before, after


def _scale(running: Run, factor: Numbers) -> None:
    """The vessel in another size; what it gained or lost is the difference."""
    difference = running.state * (1.0 - factor)
    running.state = running.state - difference
    if running.held is not None:
        held = running.held * (1.0 - factor)
        running.move(LIQUID, AWAY, difference)
        running.move(HELD, AWAY, held)
        running.held = running.held - held
        difference = difference + held
    running.leave("difference", difference)


def _share_for_acid(wanted_pct: Numbers, free_g: Numbers, liquid_g: Numbers) -> Numbers:
    has = free_g > TRACE * liquid_g
    factor: Numbers = np.where(has, wanted_pct / 100.0 * liquid_g / np.where(has, free_g, 1.0), 1.0)
    return factor


class _Exchange:
    """Some rows of a state (ROWS, n) against as much water as there is; what does not change in a search is found once."""

    def __init__(self, state: Numbers, rows: tuple[int, ...]) -> None:
        self._state = state
        self._whole = np.zeros_like(state)
        self._whole[list(rows)] = state[list(rows)]
        self._has = mass_g(self._whole) > TRACE * mass_g(state)

    def times(self, factor: Numbers) -> Numbers:
        """The state, (ROWS, n), with the rows times a factor, (n,)."""
        more = self._whole * np.where(self._has, np.maximum(factor, 0.0) - 1.0, 0.0)
        grams, water = mass_g(more), self._state[WATER]
        is_short = grams > water
        if bool(is_short.any()):
            more *= np.where(is_short, water / np.where(is_short, grams, 1.0), 1.0)
            grams = mass_g(more)
        after: Numbers = self._state + more
        after[WATER] -= grams
        return after


def _swap(running: Run, rows: tuple[int, ...], factor: Numbers) -> None:
    running.state = _as_warm(running.state, _Exchange(running.state, rows).times(factor))


def _as_warm(before: Numbers, after: Numbers) -> Numbers:
    warm_c = heat.temperature_from_enthalpy(before[MASSES], before[ENTHALPY])
    after[ENTHALPY] = heat.enthalpy_j(after[MASSES], np.where(np.isnan(warm_c), 0.0, warm_c))
    return after


def _factor(state: Numbers, read: Callable[[Numbers], Numbers], wanted: Numbers, before: Numbers) -> Numbers:
    """The factor (n,) on the dissolved solids with which an instrument would show what is wanted, by the secant."""
    exchange = _Exchange(state, DISSOLVED_ROWS)

    def off(factor: Numbers) -> Numbers:
        shown = read(exchange.times(factor)) - wanted
        return np.where(np.isnan(shown), 0.0, shown)

    start = np.where(before > 0.0, wanted / np.where(before > 0.0, before, 1.0), 1.01)
    start = np.where(np.abs(start - 1.0) > 1e-4, np.clip(start, 0.5, 2.0), 1.01)
    new, new_off = _secant(off, (np.ones_like(wanted), before - wanted), start, wanted, (0.0, LARGEST_FACTOR))
    return np.where(np.abs(new_off) <= np.abs(before - wanted), new, 1.0)


def _secant(
    off: Callable[[Numbers], Numbers],
    first: tuple[Numbers, Numbers],
    second: Numbers,
    wanted: Numbers,
    within: tuple[float, float],
) -> tuple[Numbers, Numbers]:
    """Where ``off`` (n,) is nothing, beginning with one place and its ``off``, and another place; with what is left of it.

    A column that has arrived stays where it is: how long its neighbours still take is nothing to it.
    """
    (old, old_off), new, new_off = first, second, off(second)
    for _ in range(SECANT_PASSES):
        is_there = ~(np.abs(new_off) > ARRIVED * np.abs(wanted))
        if bool(is_there.all()):
            break
        step = -new_off * share_of(new - old, new_off - old_off)
        old, old_off = new, new_off
        new = np.where(is_there, old, np.clip(old + step, *within))
        new_off = np.where(is_there, old_off, off(new))
    return new, new_off


def _swap_ethanol(running: Run, wanted: Numbers) -> None:
    """Ethanol against water until the strength is the wanted one: between none, and all water turned to ethanol."""
    state = running.state

    def with_more(grams: Numbers) -> Numbers:
        after = state.copy()
        held = np.clip(grams, -state[ETHANOL], state[WATER])
        after[ETHANOL] = after[ETHANOL] + held
        after[WATER] = after[WATER] - held
        return after

    def off(grams: Numbers) -> Numbers:
        return mixture.strength_pct_vol(with_more(grams)[MASSES]) - wanted

    none = np.zeros_like(wanted)
    none_off = off(none)
    second = -none_off * 0.0078924 * mixture.volume_ml(state[MASSES])
    new, _left = _secant(off, (none, none_off), second, wanted, (-np.inf, np.inf))
    running.state = _as_warm(state, with_more(np.where(np.isnan(new), 0.0, new)))
