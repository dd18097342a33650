"""The fold over steps: a program runs on a block of columns, one drink or ten thousand, with the same bytes in each.

Every gram that leaves the vessel is named in an outflow, so that masses in equal masses out.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from washline.chemistry import dilution, heat, mixture
from washline.chemistry.components import CO2, ETHANOL, INSOLUBLE, WATER
from washline.engine.program import NONE, Op
from washline.engine.state import COST, ENTHALPY, MASSES, ROWS, UNKNOWN_COST, Numbers, empty_state, mass_g

WATER_DENSITY_G_PER_ML = 0.9982
"""Water at 20 °C (Kell 1975)."""

FEW_COLUMNS = 8
"""Up to so many columns a run of lines is summed in one call, above it line by line; both from left to right."""

MARK_PASSES = 16
"""Passes of the search for a mark: each leaves less than a tenth of the error, so the last digit stands."""

ALREADY_ABOVE = "already above its mark: nothing was added"
MORE_THAN_THERE_IS = "weighed more than there is: the rest of the vessel was taken"
NOT_ENOUGH_WATER = "not that much water to lose: all of it left"


@dataclass(slots=True)
class Outflow:
    """What left the vessel at an op: masses and passengers, (ROWS, n)."""

    op: int
    kind: str
    state: Numbers


@dataclass(slots=True)
class Run:
    """A program while it runs on n columns. ``per_gram`` is (ROWS, lines, n) and ``per_unit`` (lines, n): the grams in
    one unit of each line's amount; ``amounts`` (lines, n) and ``numbers`` (numbers, n) are what was typed.

    After it: ``state`` (ROWS, n); ``found`` grams (n,) per line; ``yields`` grams (n,) per strain, in order; ``outputs``
    one state each; ``melted_g`` and ``before_ice_ml`` (n,); ``garnish`` (ROWS, n) is what sits on the glass; ``missed``
    holds (op, words, columns) where a number could not be met. ``regression_pct_vol`` is the strength that a published
    dilution was asked for, nan where none was; ``densities`` (lines, n) are known to a run of one build.
    """

    per_gram: Numbers
    per_unit: Numbers
    amounts: Numbers
    numbers: Numbers
    state: Numbers
    garnish: Numbers
    melted_g: Numbers
    before_ice_ml: Numbers
    regression_pct_vol: Numbers
    densities: Numbers | None = None
    found: list[Numbers] = field(default_factory=list)
    yields: list[Numbers] = field(default_factory=list)
    outputs: list[Numbers] = field(default_factory=list)
    outflows: list[Outflow] = field(default_factory=list)
    missed: list[tuple[int, str, NDArray[np.bool_]]] = field(default_factory=list)
    after: list[Numbers] = field(default_factory=list)
    melts: dict[int, Numbers] = field(default_factory=dict)
    op: int = 0

    def mix(self, line: int, grams: Numbers, temperature: int) -> None:
        """Puts grams (n,) of a line in, at its own temperature or at a typed one."""
        self.found[line] = grams
        poured = self.per_gram[:, line] * grams
        if temperature != NONE:
            poured[ENTHALPY] = heat.enthalpy_j(poured[MASSES], self.numbers[temperature])
        self.state = self.state + poured

    def referred_g(self, refers: tuple[int, ...]) -> Numbers:
        """The grams (n,) of the lines and yields that a share is of."""
        total = np.zeros(self.state.shape[1])
        for index in refers:
            total = total + (self.found[index] if index >= 0 else self.yields[-2 - index])
        return total

    def leave(self, kind: str, state: Numbers) -> None:
        """Names what left."""
        self.outflows.append(Outflow(self.op, kind, state))

    def miss(self, words: str, columns: NDArray[np.bool_]) -> None:
        """Notes the columns in which a number could not be met."""
        if bool(np.any(columns)):
            self.missed.append((self.op, words, columns))


def run(
    ops: tuple[Op, ...],
    per_gram: Numbers,
    per_unit: Numbers,
    amounts: Numbers,
    numbers: Numbers,
    keep: bool = False,
) -> Run:
    """Runs a program on n columns; with ``keep`` the state after every op stands in ``after``."""
    columns = amounts.shape[1]
    running = Run(
        per_gram,
        per_unit,
        amounts,
        numbers,
        empty_state(columns),
        empty_state(columns),
        np.zeros(columns),
        np.zeros(columns),
        np.full(columns, np.nan),
        found=[np.zeros(columns)] * amounts.shape[0],
    )
    for index, op in enumerate(ops):
        running.op = index
        _OPERATIONS[str(op[0])](running, *op[1:])
        if keep:
            running.after.append(running.state)
    return running


def _pour(running: Run, first: int, last: int) -> None:
    grams = running.amounts[first:last] * running.per_unit[first:last]
    for line in range(first, last):
        running.found[line] = grams[line - first]
    if running.state.shape[1] <= FEW_COLUMNS:
        terms = np.empty((ROWS, last - first + 1, running.state.shape[1]))
        terms[:, 0] = running.state
        terms[:, 1:] = running.per_gram[:, first:last] * grams
        running.state = np.add.accumulate(terms, axis=1)[:, -1]
        return
    state = running.state.copy()
    for line in range(first, last):
        state += running.per_gram[:, line] * grams[line - first]
    running.state = state


def _pour_at(running: Run, line: int, temperature: int) -> None:
    running.mix(line, running.amounts[line] * running.per_unit[line], temperature)


def _share_of_vessel(running: Run, line: int, temperature: int) -> None:
    running.mix(line, running.amounts[line] * mass_g(running.state), temperature)


def _share_of_lines(running: Run, line: int, temperature: int, refers: tuple[int, ...]) -> None:
    running.mix(line, running.amounts[line] * running.referred_g(refers), temperature)


def _to_mass(running: Run, line: int, temperature: int) -> None:
    missing = running.amounts[line] - mass_g(running.state)
    running.miss(ALREADY_ABOVE, missing < 0.0)
    running.mix(line, np.maximum(missing, 0.0), temperature)


def _to_volume(running: Run, line: int, temperature: int) -> None:
    column = running.per_gram[:, line]
    grams, is_missed = _grams_to_volume(running.state, column, running.amounts[line])
    running.miss(ALREADY_ABOVE, is_missed)
    running.mix(line, grams, temperature)


def _grams_to_volume(
    state: Numbers, per_gram: Numbers, mark_ml: Numbers
) -> tuple[Numbers, NDArray[np.bool_]]:
    """Grams (n,) of a line that bring a state to a volume at 20 °C; none where it is already above it."""
    start = mixture.volume_ml(state[MASSES])
    is_missed = start > mark_ml
    density = mixture.density_g_per_ml(per_gram[MASSES])
    grams = np.maximum(mark_ml - start, 0.0) * density
    for _ in range(MARK_PASSES):
        short = mark_ml - mixture.volume_ml(state[MASSES] + per_gram[MASSES] * grams)
        grams = np.where(is_missed, 0.0, np.maximum(grams + short * density, 0.0))
    return grams, is_missed


def _strain(running: Run, liquid: int, kept: int) -> None:
    _split(running, running.numbers[liquid] * mass_g(running.state), kept)


def _strain_weighed(running: Run, liquid: int, kept: int) -> None:
    _split(running, running.numbers[liquid], kept)


def _split(running: Run, wanted_g: Numbers, kept: int) -> None:
    """Liquid goes on, solids stay. What the cake and the filter hold has the composition of the liquid; what was paid
    stays with the main output."""
    state = running.state
    solids = state[INSOLUBLE]
    dissolved = mass_g(state) - solids
    running.miss(MORE_THAN_THERE_IS, wanted_g > dissolved + 1e-9 * mass_g(state))
    liquid_g = np.minimum(wanted_g, dissolved)
    running.yields.append(liquid_g)
    liquid = _part_of(state, liquid_g, dissolved)
    behind_g = mass_g(state) - liquid_g
    cake_g = behind_g if kept == NONE else np.minimum(running.numbers[kept], behind_g)
    if kept != NONE:
        running.miss(MORE_THAN_THERE_IS, running.numbers[kept] > behind_g * (1.0 + 1e-9))
    cake_solids = np.minimum(solids, cake_g)
    cake = _part_of(state, cake_g - cake_solids, dissolved)
    cake[INSOLUBLE] = cake_solids
    liquid[COST], liquid[UNKNOWN_COST] = state[COST], state[UNKNOWN_COST]
    cake[COST], cake[UNKNOWN_COST] = 0.0, 0.0
    lost = state - liquid - cake
    running.outputs.append(cake)
    running.leave("leftover", cake)
    if kept != NONE:
        running.leave("loss", lost)
    running.state = liquid


def _part_of(state: Numbers, grams: Numbers, dissolved_g: Numbers) -> Numbers:
    """So many grams of the liquid in a vessel, with none of its solids."""
    share = grams / np.where(dissolved_g > 0.0, dissolved_g, 1.0)
    part = state * share
    part[INSOLUBLE] = 0.0
    return part


def _evaporate_to(running: Run, final: int, kept: int) -> None:
    _evaporate(running, running.numbers[final], kept)


def _evaporate_by(running: Run, share: int, kept: int) -> None:
    mass = mass_g(running.state)
    if share != NONE:
        _evaporate(running, running.numbers[share] * mass, kept)
        return
    gone = running.state[ETHANOL] * (1.0 - running.numbers[kept])
    _evaporate(running, mass - gone, kept)


def _evaporate(running: Run, final_g: Numbers, kept: int) -> None:
    """Water leaves, after the ethanol that the house says leaves; ethanol goes on leaving where the water is used up."""
    state = running.state.copy()
    wanted = mass_g(state) - final_g
    running.miss(ALREADY_ABOVE.replace("above", "below").replace("added", "taken"), wanted < 0.0)
    wanted = np.maximum(wanted, 0.0)
    share = np.zeros_like(wanted) if kept == NONE else 1.0 - running.numbers[kept]
    ethanol = np.minimum(state[ETHANOL] * share, wanted)
    water = np.minimum(wanted - ethanol, state[WATER])
    ethanol = np.minimum(ethanol + (wanted - ethanol - water), state[ETHANOL])
    running.miss(NOT_ENOUGH_WATER, wanted - water - ethanol > 1e-9 * wanted)
    vapour = empty_state(state.shape[1])
    vapour[WATER], vapour[ETHANOL] = water, ethanol
    before = mass_g(state)
    vapour[ENTHALPY] = state[ENTHALPY] * (water + ethanol) / np.where(before > 0.0, before, 1.0)
    running.leave("vapour", vapour)
    running.state = state - vapour


def _take_share(running: Run, share: int) -> None:
    _take(running, running.numbers[share] * mass_g(running.state))


def _take_mass(running: Run, grams: int) -> None:
    _take(running, running.numbers[grams])


def _take_volume(running: Run, volume: int) -> None:
    _take(running, running.numbers[volume] * mixture.density_g_per_ml(running.state[MASSES]))


def _take(running: Run, grams: Numbers) -> None:
    mass = mass_g(running.state)
    running.miss(MORE_THAN_THERE_IS, grams > mass * (1.0 + 1e-9))
    share = np.minimum(grams, mass) / np.where(mass > 0.0, mass, 1.0)
    taken = running.state * share
    running.outputs.append(taken)
    running.leave("leftover", taken)
    running.state = running.state - taken


def _chill_melted(running: Run, grams: int, end: int) -> None:
    _chill(running, running.numbers[grams], end)


def _chill_to_mass(running: Run, final: int, end: int) -> None:
    melted = running.numbers[final] - mass_g(running.state)
    running.miss(ALREADY_ABOVE, melted < 0.0)
    _chill(running, np.maximum(melted, 0.0), end)


def _chill_to_volume(running: Run, final: int, end: int) -> None:
    water = empty_state(running.state.shape[1])
    water[WATER] = 1.0
    melted, is_missed = _grams_to_volume(running.state, water, running.numbers[final])
    running.miss(ALREADY_ABOVE, is_missed)
    _chill(running, melted, end)


def _chill_by(running: Run, share: int, end: int) -> None:
    volume = mixture.volume_ml(running.state[MASSES])
    _chill(running, running.numbers[share] * volume * WATER_DENSITY_G_PER_ML, end)


def _chill_stir(running: Run, extra: int, end: int) -> None:
    _chill_by_strength(running, dilution.stirred_water_ml_per_ml, extra, end)


def _chill_shake(running: Run, extra: int, end: int) -> None:
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


def _garnish(running: Run, line: int) -> None:
    grams = running.amounts[line] * running.per_unit[line]
    running.found[line] = grams
    running.garnish = running.garnish + running.per_gram[:, line] * grams


def _serve(running: Run, loss: int) -> None:
    """On pouring a share of the gas leaves."""
    gas = empty_state(running.state.shape[1])
    gas[CO2] = running.state[CO2] * running.numbers[loss]
    running.leave("gas", gas)
    running.state = running.state - gas


_OPERATIONS: dict[str, Callable[..., None]] = {
    "pour": _pour,
    "pour_at": _pour_at,
    "share_of_vessel": _share_of_vessel,
    "share_of_lines": _share_of_lines,
    "to_mass": _to_mass,
    "to_volume": _to_volume,
    "strain": _strain,
    "strain_weighed": _strain_weighed,
    "evaporate_to": _evaporate_to,
    "evaporate_by": _evaporate_by,
    "take_share": _take_share,
    "take_mass": _take_mass,
    "take_volume": _take_volume,
    "chill_melted": _chill_melted,
    "chill_to_mass": _chill_to_mass,
    "chill_to_volume": _chill_to_volume,
    "chill_by": _chill_by,
    "chill_stir": _chill_stir,
    "chill_shake": _chill_shake,
    "garnish": _garnish,
    "serve": _serve,
}
