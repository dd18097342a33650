"""Adjusting: as much of one item, or of several in parts, as brings the liquid to a reading, found on the full model.

A goal says that one quantity of the liquid is so many times another: dissolved solids of mass, acid or salt of mass or of
volume, ethanol of volume. Shares of mass are linear in what is added and have a closed form; volumes contract, and are
found by the secant from two first guesses, in so many passes that the last digit stands.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from washline.chemistry import mixture
from washline.chemistry.components import ETHANOL, NACL
from washline.engine.liquid import brix_liquid_g, dissolved_g, free_acid_g, share_of, titrated_liquid_g
from washline.engine.program import NONE
from washline.engine.run import ALREADY_ABOVE, ALREADY_BELOW, OUT_OF_REACH, Run
from washline.engine.state import MASSES, Numbers

SECANT_PASSES = 8
"""The volume of a mixture is nearly linear in what is added: each pass squares an error of some percent."""

LARGEST_FACTOR = 1e3
"""No mixture contracts so much that more than so many times the first guess is needed."""

ETHANOL_G_PER_ML = 0.78924
"""Pure ethanol at 20 °C (OIML R 22, 1975): the definition of strength by volume."""

Amount = Callable[[Numbers], Numbers]
"""Something that a state (ROWS, n) has so much of, (n,)."""


def volume_ml(state: Numbers) -> Numbers:
    """Volume (n,) of a liquid at 20 °C."""
    return mixture.volume_ml(state[MASSES])


@dataclass(frozen=True, slots=True)
class Aim:
    """A goal: so much of ``part`` in 100 of ``whole``; ``scale`` turns the unit of the value into that of the part."""

    part: Amount
    whole: Amount
    scale: float = 1.0
    is_linear: bool = True


def _ethanol_g(state: Numbers) -> Numbers:
    grams: Numbers = state[ETHANOL]
    return grams


def _salt_g(state: Numbers) -> Numbers:
    grams: Numbers = state[NACL]
    return grams


AIMS: Mapping[str, Aim] = {
    "brix": Aim(dissolved_g, brix_liquid_g),
    "strength": Aim(_ethanol_g, volume_ml, ETHANOL_G_PER_ML, is_linear=False),
    "acidity_mass": Aim(free_acid_g, titrated_liquid_g),
    "acidity_volume": Aim(free_acid_g, volume_ml, is_linear=False),
    "salt_mass": Aim(_salt_g, titrated_liquid_g),
    "salt_volume": Aim(_salt_g, volume_ml, is_linear=False),
}


def adjust(running: Run, aim_name: str, value: int, liked: int, first: int, last: int) -> None:
    """Adds the lines from ``first`` to ``last``, whose amounts are their shares of the mixture, until the aim's value, or
    that of the line ``liked``, is met. What cannot meet it adds nothing."""
    aim = AIMS[aim_name]
    mixed = running.per_gram[:, first] * running.amounts[first]
    for line in range(first + 1, last):
        mixed = mixed + running.per_gram[:, line] * running.amounts[line]
    if liked != NONE:
        like = running.per_gram[:, liked]
        wanted = share_of(aim.part(like), aim.whole(like))
    else:
        wanted = running.numbers[value] / 100.0 * aim.scale
    grams = _grams(running, aim, mixed, wanted)
    running.leave_yield(grams)
    for line in range(first, last):
        running.mix(line, grams * running.amounts[line], NONE)


def _grams(running: Run, aim: Aim, mixed: Numbers, wanted: Numbers) -> Numbers:
    """Grams (n,) of a mixture, (ROWS, n) in one gram, that bring the liquid to the wanted share."""
    state = running.state
    part, whole = aim.part(state), aim.whole(state)
    part_added, whole_added = aim.part(mixed), aim.whole(mixed)
    lacking, bringing = wanted * whole - part, part_added - wanted * whole_added
    raises, lowers = part_added * whole > part * whole_added, part_added * whole < part * whole_added
    is_met = np.abs(lacking) <= 1e-12 * np.abs(part)
    is_above = (lacking < 0.0) & ~is_met
    is_below = (lacking > 0.0) & ~is_met
    running.miss(ALREADY_ABOVE, is_above & raises)
    running.miss(ALREADY_BELOW, is_below & lowers)
    can = (is_below & raises & (bringing > 0.0)) | (is_above & lowers & (bringing < 0.0))
    running.miss(OUT_OF_REACH, ~is_met & ~can & ~(is_above & raises) & ~(is_below & lowers))
    grams: Numbers = np.where(can, share_of(lacking, bringing), 0.0)
    if not aim.is_linear:
        grams, is_solved = _by_secant(aim, state, mixed, wanted, grams)
        running.miss(OUT_OF_REACH, can & ~is_solved)
        grams = np.where(can & is_solved, grams, 0.0)
    # A value of an item that is not known must not pass for nothing to add.
    return np.where(np.isnan(lacking) | np.isnan(bringing), np.nan, grams)


def _by_secant(
    aim: Aim, state: Numbers, mixed: Numbers, wanted: Numbers, guess: Numbers
) -> tuple[Numbers, NDArray[np.bool_]]:
    """Grams (n,) at which nothing is lacking, from no grams and from the guess that volumes add up, and where it was found:
    far outside the tables of the volume it may not be."""

    def lacking(grams: Numbers) -> Numbers:
        after = state + mixed * grams
        return wanted * aim.whole(after) - aim.part(after)

    old, old_lacking = np.zeros_like(guess), lacking(np.zeros_like(guess))
    new, new_lacking = guess, lacking(guess)
    for _ in range(SECANT_PASSES):
        step = -new_lacking * share_of(new - old, new_lacking - old_lacking)
        # Where nothing is lacking, or no two places are left, no pass moves any more.
        if not step.any():
            break
        old, old_lacking = new, new_lacking
        new = np.clip(new + step, 0.0, LARGEST_FACTOR * guess)
        new_lacking = lacking(new)
    return new, np.abs(new_lacking) <= 1e-9 * np.abs(aim.part(state + mixed * new))
