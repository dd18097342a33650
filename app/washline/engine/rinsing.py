"""What goes on, into and off a glass: a rinse of which a film stays, a spray, a garnish or rim, and straining at the bar.

What is not drunk is paid for all the same: its cost stays with the drink, and its grams leave by name."""

import numpy as np

from washline.chemistry import heat, mixture
from washline.chemistry.components import INSOLUBLE
from washline.engine.liquid import share_of
from washline.engine.pouring import line_g
from washline.engine.program import NONE
from washline.engine.run import AWAY, HELD, LIQUID, POURED, Run
from washline.engine.state import COST, ENTHALPY, MASSES, UNKNOWN_COST, Numbers, empty_state

HELD_BACK, POURED_AWAY, THROWN_AWAY = "held back", "poured away", "thrown away"
"""What leaves a drink at the bar: in tin and strainer, out of a rinsed glass, and of what is sprayed or eaten in part."""

MORE_THAN_POURED = "more than there is: all of it stays"
PAID = (COST, UNKNOWN_COST)


def rinse(running: Run, line: int, basis: str, temperature: int, refers: tuple[int, ...], film: int) -> None:
    """A film of so many ml, the number ``film``, goes into the liquid, and the rest is poured away."""
    grams = line_g(running, line, basis, refers)
    film_g = running.numbers[film] * mixture.density_g_per_ml(running.per_gram[MASSES, line])
    stays = _split(running, running.poured(line, grams, temperature), grams, film_g, POURED_AWAY)
    running.state = running.state + stays


def spray(running: Run, line: int, stays_g: int) -> None:
    """So many grams of a line, the number ``stays_g``, go into the liquid, and the rest is thrown away."""
    grams = running.amounts[line] * running.per_unit[line]
    whole = running.poured(line, grams, NONE)
    running.state = running.state + _split(running, whole, grams, running.numbers[stays_g], THROWN_AWAY)


def garnish(running: Run, line: int, stays_g: int) -> None:
    """What sits on the glass: all of a line, or so many grams of it with the rest thrown away."""
    grams = running.amounts[line] * running.per_unit[line]
    stays = running.poured(line, grams, NONE)
    if stays_g != NONE:
        stays = _split(running, stays, grams, running.numbers[stays_g], THROWN_AWAY)
    running.garnish = running.garnish + stays


def _split(running: Run, whole: Numbers, grams: Numbers, stays_g: Numbers, kind: str) -> Numbers:
    """What stays of a line, (ROWS, n), with all its cost; the rest leaves."""
    running.miss(MORE_THAN_POURED, stays_g > grams)
    stays = whole * share_of(np.minimum(stays_g, grams), grams)
    stays[list(PAID)] = whole[list(PAID)]
    running.leave(kind, whole - stays)
    running.move(POURED, LIQUID, stays)
    return stays


def bar_strain(running: Run, way: str, held_back: int) -> None:
    """Out of tin or mixing glass. So many ml, the number ``held_back``, stay in it; a strainer ("strain") keeps back what
    is no part of the liquid, a fine one ("fine") all insoluble solids too; "unstrained" the ice goes along."""
    state = running.state
    warm_c = heat.temperature_from_enthalpy(state[MASSES], state[ENTHALPY])
    share = np.zeros(state.shape[1])
    if held_back != NONE:
        wanted, volume = running.numbers[held_back], mixture.volume_ml(state[MASSES])
        running.miss(MORE_THAN_POURED, wanted > volume)
        share = np.minimum(share_of(wanted, volume), 1.0)
    left = state * share
    if way == "fine":
        left[INSOLUBLE] = state[INSOLUBLE]
    left[list(PAID)] = 0.0
    after = state - left
    if way == "fine":
        after[ENTHALPY] = heat.enthalpy_j(after[MASSES], np.where(np.isnan(warm_c), 0.0, warm_c))
        left[ENTHALPY] = state[ENTHALPY] - after[ENTHALPY]
    running.state = after
    if running.held is not None and way != "unstrained":
        left = left + _keep_held_back(running, left)
    if bool(np.any(left[MASSES])):
        running.leave(HELD_BACK, left)
    _change_ice(running, way)


def _keep_held_back(running: Run, left: Numbers) -> Numbers:
    """What is held stays in the tin, (ROWS, n); what was paid for it stays with the drink."""
    held = running.held_or_nothing
    stays = held.copy()
    stays[list(PAID)] = 0.0
    paid = empty_state(held.shape[1])
    paid[list(PAID)] = held[list(PAID)]
    running.state = running.state + paid
    running.move(LIQUID, AWAY, left)
    running.move(HELD, AWAY, stays)
    running.move(HELD, LIQUID, paid)
    running.held = np.zeros_like(held)
    return stays


def _change_ice(running: Run, way: str) -> None:
    """A strainer keeps ice back, of tin and of glass; without one the ice of the tin is in the glass."""
    if way == "unstrained":
        running.glass_ice = running.glass_ice if running.tin_ice is None else running.tin_ice
    else:
        running.glass_ice = None
    running.tin_ice = None
