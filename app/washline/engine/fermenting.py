"""Changes of matter, closed by mass: fat and curd part from the liquid, sugars become acid, alcohol and gas."""

from collections.abc import Sequence
from functools import cache

import numpy as np

from washline.chemistry import heat
from washline.chemistry.coefficients import value
from washline.chemistry.components import (
    CO2,
    ETHANOL,
    FAT,
    FRUCTOSE,
    GLUCOSE,
    LACTIC,
    LACTOSE,
    MALTOSE,
    PROTEIN,
    SUCROSE,
    SUGARS,
    WATER,
)
from washline.chemistry.ph import cations_mmol_for_ph
from washline.engine.liquid import (
    ACID_ROWS,
    brix_liquid_g,
    citric_g_per_mmol,
    dissolved_g,
    enough_liquid,
    free_acid_g,
    share_of,
    titrated_liquid_g,
)
from washline.engine.program import NONE
from washline.engine.run import HELD, LIQUID, Run
from washline.engine.state import ACID_EXCESS, CATIONS, ENTHALPY, MASSES, Numbers, empty_state

NOT_THAT_MUCH_SUGAR = "more than the sugar in the vessel can become: all of it was used"
MORE_GAS_THAN_ACID = "the gas that left means more acid than that: the gas stands"
ALREADY_DRIER = "already below its °Bx: nothing was fermented"
ALREADY_SOURER = "already above its acidity: nothing was fermented"

YEAST_SUGARS = (SUCROSE, GLUCOSE, FRUCTOSE, MALTOSE)
"""What yeast ferments; milk sugar stays (common knowledge of brewing; lactose is used as a sweetener that stays)."""

_DOUBLE = frozenset((SUCROSE, LACTOSE, MALTOSE))


def wash(running: Run, fat: int, protein: int, acids: int) -> None:
    """Shares of fat, protein and acids of the liquid part from it and are held; ``NONE`` is nothing."""
    state = running.state
    parted = empty_state(state.shape[1])
    for rows, number in (((FAT,), fat), ((PROTEIN,), protein), (ACID_ROWS, acids)):
        if number != NONE:
            parted[list(rows)] = state[list(rows)] * np.clip(running.numbers[number], 0.0, 1.0)
    warm_c = heat.temperature_from_enthalpy(state[MASSES], state[ENTHALPY])
    parted[ENTHALPY] = heat.enthalpy_j(parted[MASSES], np.where(np.isnan(warm_c), 0.0, warm_c))
    running.state = state - parted
    running.held = parted if running.held is None else running.held + parted
    running.move(LIQUID, HELD, parted)


@cache
def _molar_mass(name: str) -> float:
    return value("molar_mass", name)


@cache
def _hexose_g_per_mol() -> float:
    """Of what becomes two of lactic acid: the sum of its products, so that the ledger closes."""
    return 2.0 * _molar_mass("lactic")


@cache
def _hexose_per_double_sugar() -> float:
    """Grams of hexose from a gram of a sugar of two, with the water that splits it."""
    return 2.0 * _hexose_g_per_mol() / (2.0 * _hexose_g_per_mol() - _molar_mass("water"))


def _hexose_g(state: Numbers, sugars: Sequence[int]) -> Numbers:
    """Grams (n,) of hexose that the sugars of a state are, the water of splitting included."""
    grams = np.zeros(state.shape[1])
    for row in sugars:
        grams = grams + state[row] * (_hexose_per_double_sugar() if row in _DOUBLE else 1.0)
    return grams


def _most(state: Numbers, sugars: Sequence[int]) -> Numbers:
    """The share (n,) of the sugars that can become something: there must be water to split those of two."""
    needed = np.zeros(state.shape[1])
    for row in sugars:
        if row in _DOUBLE:
            needed = needed + state[row] * (_hexose_per_double_sugar() - 1.0)
    has = needed > state[WATER]
    share: Numbers = np.where(has, state[WATER] / np.where(has, needed, 1.0), 1.0)
    return share


def ferment_lactic(running: Run, gas: int, acidity: int, final_ph: int) -> None:
    """The gas that left tells how much sugar became lactic acid, ethanol and gas (heterolactic, one of each), the acidity
    reached how much more became lactic acid alone (homolactic, two)."""
    state = running.state
    hexose = _hexose_g(state, SUGARS)
    hexose_limit = hexose * _most(state, SUGARS)
    per_gas = _hexose_g_per_mol() / _molar_mass("co2")
    gas_wanted = _number(running, gas)
    mixed = np.minimum(gas_wanted * per_gas, hexose_limit)
    gas_g = mixed / per_gas
    mixed_acid = mixed * 0.5
    alone_wanted = np.zeros_like(mixed)
    if acidity != NONE:
        wanted = running.numbers[acidity] / 100.0 * (titrated_liquid_g(state) - gas_g) - free_acid_g(state)
        lactic = wanted / citric_g_per_mmol() * 0.001 * _molar_mass("lactic")
        running.miss(MORE_GAS_THAN_ACID, (lactic < mixed_acid * (1.0 - 1e-9)) & (mixed > 0.0))
        running.miss(ALREADY_SOURER, (lactic < -1e-9) & ~(mixed > 0.0))
        alone_wanted = np.maximum(lactic - mixed_acid, 0.0)
    alone = np.minimum(alone_wanted, hexose_limit - mixed)
    is_short = (alone_wanted - alone > 1e-9) | (gas_wanted - gas_g > 1e-9)
    running.miss(NOT_THAT_MUCH_SUGAR, is_short)
    ethanol = mixed - mixed_acid - gas_g
    _become(running, SUGARS, share_of(mixed + alone, hexose), alone + mixed_acid, ethanol, gas_g)
    _measured_ph(running, final_ph)


def ferment_yeast(running: Run, gas: int, brix: int, final_ph: int) -> None:
    """The gas that left, or the true °Bx reached, tells how much sugar became ethanol and gas, two of each."""
    state = running.state
    hexose, most = _hexose_g(state, YEAST_SUGARS), _most(state, YEAST_SUGARS)
    gas_share = 2.0 * _molar_mass("co2") / _hexose_g_per_mol()
    if gas != NONE:
        share = share_of(running.numbers[gas] / gas_share, hexose)
    elif brix != NONE:
        part = running.numbers[brix] / 100.0
        sugars = np.zeros(state.shape[1])
        for row in YEAST_SUGARS:
            sugars = sugars + state[row]
        excess = dissolved_g(state) - part * brix_liquid_g(state)
        running.miss(ALREADY_DRIER, excess < -1e-9)
        share = share_of(np.maximum(excess, 0.0), sugars - part * hexose * gas_share)
    else:
        share = np.zeros(state.shape[1])
    has_none = (_number(running, gas) > 0.0) & (hexose <= 0.0)
    running.miss(NOT_THAT_MUCH_SUGAR, (share > most * (1.0 + 1e-9)) | (share < 0.0) | has_none)
    share = np.where(share < 0.0, most, np.minimum(share, most))
    gas_g = hexose * share * gas_share
    _become(running, YEAST_SUGARS, share, np.zeros_like(gas_g), hexose * share - gas_g, gas_g)
    _measured_ph(running, final_ph)


def _number(running: Run, index: int) -> Numbers:
    return np.zeros(running.state.shape[1]) if index == NONE else running.numbers[index]


def _become(
    running: Run, sugars: Sequence[int], share: Numbers, lactic: Numbers, ethanol: Numbers, gas_g: Numbers
) -> None:
    """A share of each sugar goes, with the water that splits it; what it becomes comes, and the gas leaves."""
    state = running.state.copy()
    warm_c = heat.temperature_from_enthalpy(state[MASSES], state[ENTHALPY])
    for row in sugars:
        gone = state[row] * share
        state[row] = state[row] - gone
        if row in _DOUBLE:
            state[WATER] = state[WATER] - gone * (_hexose_per_double_sugar() - 1.0)
    state[LACTIC] = state[LACTIC] + lactic
    state[ETHANOL] = state[ETHANOL] + ethanol
    state[ENTHALPY] = heat.enthalpy_j(state[MASSES], np.where(np.isnan(warm_c), 0.0, warm_c))
    left = empty_state(state.shape[1])
    left[CO2] = gas_g
    running.leave("gas", left)
    running.state = state


def _measured_ph(running: Run, final_ph: int) -> None:
    """The measured pH stands: the cations are set to it, and what titration finds stays as it was."""
    if final_ph != NONE:
        set_ph(running, running.numbers[final_ph])


def set_ph(running: Run, ph: Numbers) -> None:
    """Sets the cations so that the computed pH is the given one, (n,). The titratable acidity stays: a pH says how the acid
    is buffered, titration how much there is, and a buffer that is not modelled must not change the amount."""
    state = running.state.copy()
    needed = cations_mmol_for_ph(enough_liquid(state[MASSES]), ph)
    needed = np.where(np.isnan(needed), state[CATIONS], needed)
    state[ACID_EXCESS] = state[ACID_EXCESS] + (needed - state[CATIONS])
    state[CATIONS] = needed
    running.state = state
