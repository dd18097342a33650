"""Pouring: lines go into the liquid by an amount, a share or to a mark; an infused solid goes into what is held."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from washline.chemistry import heat, mixture
from washline.chemistry.components import (
    ETHANOL,
    NACL,
    OTHER_CARBOHYDRATE,
    OTHER_SOLIDS,
    POLYOL,
    PROTEIN,
    SUGARS,
    WATER,
)
from washline.engine.liquid import ACID_ROWS, total
from washline.engine.program import NONE
from washline.engine.run import ALREADY_ABOVE, HELD, LIQUID, POURED, Run
from washline.engine.state import (
    BITTER,
    COST,
    ENTHALPY,
    MASSES,
    ROWS,
    UNKNOWN_ACID,
    UNKNOWN_BUFFER,
    UNKNOWN_COST,
    UNKNOWN_ETHANOL,
    UNKNOWN_SALT,
    UNKNOWN_SUGAR,
    Numbers,
    empty_state,
    mass_g,
)
from washline.model.house import ICE_DENSITY_G_PER_ML

FEW_COLUMNS = 8
"""Up to so many columns a run of lines is summed in one call, above it line by line; both from left to right."""

MARK_PASSES = 16
"""Passes of the search for a mark: each leaves less than a tenth of the error, so the last digit stands."""

SUGAR_ROWS = (*SUGARS, OTHER_CARBOHYDRATE, POLYOL)
SOLID_ROWS = (OTHER_SOLIDS, PROTEIN)
"""What the shares given of sugars and of other solids move; water, acids and salt are single rows or ``ACID_ROWS``."""


def pour(running: Run, first: int, last: int) -> None:
    """A run of plain lines, in canonical order."""
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


def _absolute_g(running: Run, line: int, refers: tuple[int, ...]) -> Numbers:
    grams: Numbers = running.amounts[line] * running.per_unit[line]
    return grams


def _share_of_vessel_g(running: Run, line: int, refers: tuple[int, ...]) -> Numbers:
    grams: Numbers = running.amounts[line] * running.vessel_g
    return grams


def _share_of_lines_g(running: Run, line: int, refers: tuple[int, ...]) -> Numbers:
    grams: Numbers = running.amounts[line] * running.referred_g(refers)
    return grams


def _to_mass_g(running: Run, line: int, refers: tuple[int, ...]) -> Numbers:
    missing = running.amounts[line] - running.vessel_g
    running.miss(ALREADY_ABOVE, missing < 0.0)
    grams: Numbers = np.maximum(missing, 0.0)
    return grams


def _to_volume_g(running: Run, line: int, refers: tuple[int, ...]) -> Numbers:
    grams, is_missed = grams_to_volume(running, running.per_gram[:, line], running.amounts[line])
    running.miss(ALREADY_ABOVE, is_missed)
    return grams


def _to_wash_line_g(running: Run, line: int, refers: tuple[int, ...]) -> Numbers:
    """To the wash line that the ice leaves: the mark stands for the ice of the number it refers to first, and each ml of
    ice that is not there lifts it by the share that is the second."""
    mark_ml = running.amounts[line]
    if running.glass_ice is not None:
        usual_g, share = running.numbers[refers[0]], running.numbers[refers[1]]
        mark_ml = mark_ml + share * (usual_g - running.glass_ice[0]) / ICE_DENSITY_G_PER_ML
    grams, is_missed = grams_to_volume(running, running.per_gram[:, line], mark_ml)
    running.miss(ALREADY_ABOVE, is_missed)
    return grams


def line_g(running: Run, line: int, basis: str, refers: tuple[int, ...]) -> Numbers:
    """Grams (n,) of a line by its basis."""
    return _GRAMS[basis](running, line, refers)


_GRAMS: dict[str, Callable[[Run, int, tuple[int, ...]], Numbers]] = {
    "absolute": _absolute_g,
    "share_of_vessel": _share_of_vessel_g,
    "share_of_lines": _share_of_lines_g,
    "to_mass": _to_mass_g,
    "to_volume": _to_volume_g,
    "to_wash_line": _to_wash_line_g,
}


def pour_by(running: Run, line: int, basis: str, temperature: int, refers: tuple[int, ...]) -> None:
    """One line by its basis, at its own temperature or at a typed one."""
    running.mix(line, _GRAMS[basis](running, line, refers), temperature)


def grams_to_volume(running: Run, per_gram: Numbers, mark_ml: Numbers) -> tuple[Numbers, NDArray[np.bool_]]:
    """Grams (n,) of a line, (ROWS, n), that bring the vessel to a volume at 20 °C; none where it is already above it."""
    masses, per_gram_masses = running.state[MASSES], per_gram[MASSES]
    held_ml = 0.0 if running.held is None else mixture.volume_ml(running.held[MASSES])
    mark_ml = mark_ml - held_ml
    start = mixture.volume_ml(masses)
    is_missed = start > mark_ml
    density = mixture.density_g_per_ml(per_gram_masses)
    grams = np.maximum(mark_ml - start, 0.0) * density
    for _ in range(MARK_PASSES):
        short = mark_ml - mixture.volume_ml(masses + per_gram_masses * grams)
        grams = np.where(is_missed, 0.0, np.maximum(grams + short * density, 0.0))
    return grams, is_missed


def pay(running: Run, line: int, bought: int) -> None:
    """What was weighed as bought is paid for: ``bought`` grams, in terms of what the item's own yield leaves of them."""
    state = running.state.copy()
    state[COST] += running.per_gram[COST, line] * (running.numbers[bought] - running.found[line])
    running.state = state


def infuse(
    running: Run, line: int, basis: str, temperature: int, refers: tuple[int, ...], given: tuple[int, ...]
) -> None:
    """A solid goes into what is held and gives shares of what it holds to the liquid; ``given`` are the numbers of its
    shares of water, sugars, acids, salt and solids, ``NONE`` for one that nobody knows."""
    poured = running.poured(line, _GRAMS[basis](running, line, refers), temperature)
    moved = empty_state(poured.shape[1])
    for (rows, unknown), number in zip(_GIVEN, given, strict=True):
        _give(running, poured, moved, rows, unknown, number)
    moved[ETHANOL], moved[UNKNOWN_ETHANOL] = poured[ETHANOL], poured[UNKNOWN_ETHANOL]
    moved[[COST, UNKNOWN_COST, BITTER]] = poured[[COST, UNKNOWN_COST, BITTER]]
    moved[UNKNOWN_BUFFER] = poured[UNKNOWN_BUFFER] * _buffer_share(running, given)
    own_c = heat.temperature_from_enthalpy(poured[MASSES], poured[ENTHALPY])
    moved[ENTHALPY] = heat.enthalpy_j(moved[MASSES], np.where(np.isnan(own_c), 0.0, own_c))
    running.state = running.state + moved
    kept = poured - moved
    kept[[UNKNOWN_SUGAR, UNKNOWN_ACID, UNKNOWN_SALT]] = np.maximum(
        kept[[UNKNOWN_SUGAR, UNKNOWN_ACID, UNKNOWN_SALT]], 0.0
    )
    running.held = kept if running.held is None else running.held + kept
    running.move(POURED, LIQUID, moved)
    running.move(POURED, HELD, kept)


_GIVEN: tuple[tuple[tuple[int, ...], int], ...] = (
    ((WATER,), NONE),
    (SUGAR_ROWS, UNKNOWN_SUGAR),
    (ACID_ROWS, UNKNOWN_ACID),
    ((NACL,), UNKNOWN_SALT),
    (SOLID_ROWS, NONE),
)
_ACIDS, _SOLIDS = 2, 4


def _give(
    running: Run, poured: Numbers, moved: Numbers, rows: tuple[int, ...], unknown: int, number: int
) -> None:
    """One group: a known share moves; of a share that nobody knows all that there is may be in the liquid."""
    if number != NONE:
        share = np.clip(running.numbers[number], 0.0, 1.0)
        moved[list(rows)] = poured[list(rows)] * share
        if unknown != NONE:
            moved[unknown] = poured[unknown] * share
    elif unknown != NONE:
        moved[unknown] = poured[unknown] + total(poured, tuple(row for row in rows if row < MASSES.stop))


def _buffer_share(running: Run, given: tuple[int, ...]) -> Numbers | float:
    """How much of an unknown buffer goes over: as much as of the acids or of the solids, all where one is not known."""
    if NONE in (given[_ACIDS], given[_SOLIDS]):
        return 1.0
    larger = np.maximum(running.numbers[given[_ACIDS]], running.numbers[given[_SOLIDS]])
    share: Numbers = np.clip(larger, 0.0, 1.0)
    return share


def act(running: Run, line: int) -> None:
    """At the end of a breakdown the main output takes the composition of the row that it acts as, gram for gram; what
    was paid for it stays its own, and it is as warm as it was."""
    own = running.state
    acting = running.per_gram[:, line] * mass_g(own)
    acting[[COST, UNKNOWN_COST]] = own[[COST, UNKNOWN_COST]]
    warm_c = heat.temperature_from_enthalpy(own[MASSES], own[ENTHALPY])
    acting[ENTHALPY] = heat.enthalpy_j(acting[MASSES], np.where(np.isnan(warm_c), 0.0, warm_c))
    running.before_acting = own
    running.state = acting


def taste(running: Run, bitterness: int) -> None:
    """A part is as bitter as the house says, whatever its lines bring."""
    state = running.state.copy()
    state[BITTER] = running.numbers[bitterness] * mass_g(state)
    running.state = state


def unite(running: Run) -> None:
    """At the end of a build what is held and the liquid are one."""
    if running.held is not None:
        running.held_at_end = running.held
        running.state = running.state + running.held
        running.held = None
