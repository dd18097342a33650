"""Readings one by one, for where a mouse moves: what ``readings.one_reading`` would compute with all others is computed
here by itself, to the byte as ``readings.figures`` has it."""

from collections.abc import Callable, Mapping

import numpy as np

from washline.chemistry import heat, mixture
from washline.chemistry.components import CO2, ETHANOL, NACL
from washline.engine.liquid import SMALLEST_VOLUME_ML
from washline.engine.readings import BY_ITSELF, dilution_pct, one_reading
from washline.engine.run import Run
from washline.engine.state import BITTER, ENTHALPY, MASSES, Numbers, mass_g


def quick_reading(running: Run, key: str) -> Numbers:
    """One reading of what a run left in the vessel, (n,); nan where there is no liquid."""
    read = _QUICK.get(key)
    if read is None or key in BY_ITSELF:
        return one_reading(key, running.state, running.melted_g, running.before_ice_ml)
    volume = mixture.volume_ml(running.state[MASSES])
    return read(running, np.where(volume > SMALLEST_VOLUME_ML, volume, np.nan))


def _wet(volume: Numbers) -> Numbers:
    return np.where(np.isnan(volume), np.nan, 1.0)


def _chill(running: Run, volume: Numbers) -> Numbers:
    return heat.temperature_from_enthalpy(running.state[MASSES], running.state[ENTHALPY]) * _wet(volume)


_QUICK: Mapping[str, Callable[[Run, Numbers], Numbers]] = {
    "bitterness": lambda run, volume: run.state[BITTER] / (mass_g(run.state) * _wet(volume)),
    "fizz": lambda run, volume: run.state[CO2] * 10.0 * (100.0 / volume),
    "chill": _chill,
    "salt": lambda run, volume: run.state[NACL] * (100.0 / volume),
    "dilution": lambda run, volume: dilution_pct(run.melted_g, run.before_ice_ml) * _wet(volume),
    "density": lambda run, volume: mass_g(run.state) / 100.0 * (100.0 / volume),
    "ethanol": lambda run, volume: run.state[ETHANOL] * _wet(volume),
}
"""Readings of a run and its volume (n,), which is nan where there is no liquid."""
