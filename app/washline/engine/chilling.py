"""Chilling: water melts from the ice, by weight, to a mark, or by the method's published dilution."""

from collections.abc import Callable

import numpy as np

from washline.chemistry import dilution, heat, mixture
from washline.chemistry.components import CO2, WATER
from washline.engine.pouring import grams_to_volume
from washline.engine.run import ALREADY_ABOVE, Run
from washline.engine.state import ENTHALPY, MASSES, Numbers, empty_state

WATER_DENSITY_G_PER_ML = 0.9982
"""Water at 20 °C (Kell 1975)."""


def chill_melted(running: Run, grams: int, end: int) -> None:
    """So many grams melted, as weighed."""
    _chill(running, running.numbers[grams], end)


def chill_to_mass(running: Run, final: int, end: int) -> None:
    """As much melted as brings the vessel to what it weighed."""
    melted = running.numbers[final] - running.vessel_g
    running.miss(ALREADY_ABOVE, melted < 0.0)
    _chill(running, np.maximum(melted, 0.0), end)


def chill_to_volume(running: Run, final: int, end: int) -> None:
    """As much melted as brings the vessel to the volume that was measured."""
    water = empty_state(running.state.shape[1])
    water[WATER] = 1.0
    melted, is_missed = grams_to_volume(running, water, running.numbers[final])
    running.miss(ALREADY_ABOVE, is_missed)
    _chill(running, melted, end)


def chill_by(running: Run, share: int, end: int) -> None:
    """A share of the volume before ice melted."""
    volume = mixture.volume_ml(running.state[MASSES])
    _chill(running, running.numbers[share] * volume * WATER_DENSITY_G_PER_ML, end)


def chill_stir(running: Run, extra: int, end: int) -> None:
    """The published dilution of a stirred drink."""
    _chill_by_strength(running, dilution.stirred_water_ml_per_ml, extra, end)


def chill_shake(running: Run, extra: int, end: int) -> None:
    """The published dilution of a shaken drink."""
    _chill_by_strength(running, dilution.shaken_water_ml_per_ml, extra, end)


def _chill_by_strength(running: Run, regression: Callable[[Numbers], Numbers], extra: int, end: int) -> None:
    """The published regression on the strength before ice; ``extra`` is its doubt in ml per ml, 0 but in a column of
    uncertainty."""
    masses = running.state[MASSES]
    volume = mixture.volume_ml(masses)
    strength = mixture.strength_pct_vol(masses)
    running.regression_pct_vol = strength
    share = regression(strength / 100.0) + running.numbers[extra]
    share = np.where(volume > 0.0, share, 0.0)
    _chill(running, share * volume * WATER_DENSITY_G_PER_ML, end)


def _chill(running: Run, melted_g: Numbers, end: int) -> None:
    volume = mixture.volume_ml(running.state[MASSES])
    running.before_ice_ml = np.where(
        (running.melted_g == 0.0) & (melted_g > 0.0), volume, running.before_ice_ml
    )
    running.melted_g = running.melted_g + melted_g
    running.melts[running.op] = melted_g
    state = running.state.copy()
    state[WATER] = state[WATER] + melted_g
    state[ENTHALPY] = heat.enthalpy_j(state[MASSES], running.numbers[end])
    running.state = state
    if running.held is not None:
        held = running.held.copy()
        held[ENTHALPY] = heat.enthalpy_j(held[MASSES], running.numbers[end])
        running.held = held


def serve(running: Run, loss: int) -> None:
    """On pouring a share of the gas leaves."""
    gas = empty_state(running.state.shape[1])
    gas[CO2] = running.state[CO2] * running.numbers[loss]
    running.leave("gas", gas)
    running.state = running.state - gas
