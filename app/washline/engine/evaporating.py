"""Heating, reducing, drying: water leaves as vapour, and ethanol by the share that stays."""

import numpy as np

from washline.chemistry import heat
from washline.chemistry.components import CO2, ETHANOL, WATER
from washline.engine.liquid import brix_liquid_g, dissolved_g
from washline.engine.program import NONE
from washline.engine.run import AWAY, HELD, LIQUID, NOTHING_TAKEN, Run
from washline.engine.state import ENTHALPY, MASSES, Numbers, empty_state

NOT_ENOUGH_WATER = "not that much water to lose: all of it left"
ALREADY_STRONGER = "already above its °Bx: nothing was taken"


def evaporate_to(running: Run, final: int, kept: int) -> None:
    """Down to a mass of the vessel."""
    _evaporate(running, running.numbers[final], kept, NOTHING_TAKEN)


def evaporate_by(running: Run, share: int, kept: int) -> None:
    """Down to a share of what the vessel weighs."""
    _evaporate(running, running.numbers[share] * running.vessel_g, kept, NOTHING_TAKEN)


def evaporate_ethanol(running: Run, kept: int) -> None:
    """Only the ethanol that the house or the table says leaves."""
    gone = running.state[ETHANOL] * (1.0 - running.numbers[kept])
    _evaporate(running, running.vessel_g - gone, kept, NOTHING_TAKEN)


def evaporate_to_brix(running: Run, brix: int, kept: int) -> None:
    """Until so many grams in 100 g of the liquid are dissolved solids."""
    goal = running.numbers[brix]
    # No liquid is so large that it has 0 °Bx: it is stronger already.
    wanted_g = np.where(
        goal > 0.0, dissolved_g(running.state) * 100.0 / np.where(goal > 0.0, goal, 1.0), np.inf
    )
    _evaporate(running, running.vessel_g - (brix_liquid_g(running.state) - wanted_g), kept, ALREADY_STRONGER)


def _evaporate(running: Run, final_g: Numbers, kept: int, already: str) -> None:
    """Dissolved gas leaves first, then the ethanol that is said to leave, then water; ethanol goes on leaving where the
    water is used up. What is held in the vessel gives its water last."""
    wanted = running.vessel_g - final_g
    running.miss(already, wanted < 0.0)
    wanted = np.maximum(wanted, 0.0)
    wanted = wanted - _degas(running, wanted)
    state, held = running.state.copy(), running.held
    share = np.zeros_like(wanted) if kept == NONE else 1.0 - running.numbers[kept]
    ethanol = np.minimum(state[ETHANOL] * share, wanted)
    water = np.minimum(wanted - ethanol, state[WATER])
    held_water = np.zeros_like(water)
    if held is not None:
        held_water = np.minimum(wanted - ethanol - water, held[WATER])
    ethanol = np.minimum(ethanol + (wanted - ethanol - water - held_water), state[ETHANOL])
    running.miss(NOT_ENOUGH_WATER, wanted - water - held_water - ethanol > 1e-9 * wanted)
    vapour = _vapour(state, water, ethanol)
    running.state = state - vapour
    if held is not None:
        from_held = _vapour(held, held_water, np.zeros_like(held_water))
        running.move(LIQUID, AWAY, vapour)
        running.move(HELD, AWAY, from_held)
        running.held = held - from_held
        vapour = vapour + from_held
    running.leave("vapour", vapour)


def _degas(running: Run, wanted: Numbers) -> Numbers:
    """Grams (n,) of dissolved gas that left, at most what is to leave in all."""
    gone: Numbers = np.minimum(running.state[CO2], wanted)
    gas = empty_state(gone.shape[0])
    gas[CO2] = gone
    running.leave("gas", gas)
    if running.held is not None:
        running.move(LIQUID, AWAY, gas)
    running.state = running.state - gas
    return gone


def _vapour(state: Numbers, water: Numbers, ethanol: Numbers) -> Numbers:
    """Vapour as warm as what it leaves, so that the rest stays as warm as it is."""
    vapour = empty_state(state.shape[1])
    if not state.any():
        return vapour
    vapour[WATER], vapour[ETHANOL] = water, ethanol
    warm_c = heat.temperature_from_enthalpy(state[MASSES], state[ENTHALPY])
    left = state - vapour
    left_j = heat.enthalpy_j(left[MASSES], np.where(np.isnan(warm_c), 0.0, warm_c))
    vapour[ENTHALPY] = state[ENTHALPY] - left_j
    return vapour
