"""Which one pour would put a drink back into its band: every line by itself, in the steps that the house pours in.

All amounts that are tried are columns of one run of the drink's own program, so each is the full model: chill, wash line
and all that is a share of the line follow. What is not a plain amount (a share, a mark) is no pour that one would change.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from msgspec import structs

from washline.engine.program import Program
from washline.engine.readings import figures_of
from washline.engine.run import Run
from washline.engine.spread import Source
from washline.engine.state import Numbers
from washline.engine.steps import run
from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.reading import BY_KEY, READING_INDEX
from washline.model.step import Add, Infuse, Top
from washline.model.target import Aim

MOST_STEPS = 24
"""So many steps are tried each way: 60 ml in jigger steps."""

MOST_STEPS_OF_A_BATCH = 120
MOST_MORE_OF_A_DASH = 3
"""So many more dashes, drops or barspoons than now are tried: twenty dashes are another drink."""

ALCOHOL_AS_BAD_G = 10.0
ROUNDING = 1e-9

_STEP_SIZES = {
    "ml": 2.5,
    "cl": 0.25,
    "dl": 0.1,
    "l": 0.05,
    "oz": 0.25,
    "US fl oz": 0.25,
    "imp fl oz": 0.25,
    "kg": 0.05,
}
_HALVES = ("barspoon", "teaspoon", "tablespoon")
_POURED = {*_STEP_SIZES, "g"}
_SMALL_G, _LARGE_G = 5.0, 100.0


@dataclass(frozen=True, slots=True)
class Mend:
    """One pour that brings back what left the band: the line, its amount before and now, how many grams it moves.

    ``values`` are the readings then, (READING_COUNT,). ``strained`` is how much farther out of their bands all other aims
    are than they stand now, in tolerances: 0 where none is; ``strains`` names those that are.
    """

    step_id: int
    item_id: int
    before: Amount
    amount: Amount
    moved_g: float
    values: Numbers
    strained: float = 0.0
    strains: tuple[str, ...] = ()

    def value(self, key: str) -> float | None:
        """A reading with this pour, or ``None`` where there is none."""
        number = float(self.values[READING_INDEX[key]])
        return None if number != number else number


def pour_step(amount: Amount) -> float | None:
    """By how much an amount is poured more or less: 2.5 ml, a quarter ounce, a whole dash; ``None``: it is no pour."""
    if amount.basis is not Basis.ABSOLUTE or not amount.number > 0.0:
        return None
    if amount.unit == "g":
        return 0.1 if amount.number < _SMALL_G else 1.0 if amount.number < _LARGE_G else 5.0
    if amount.unit in _HALVES:
        return 0.5
    return _STEP_SIZES.get(amount.unit, 1.0)


def tried_numbers(amount: Amount) -> tuple[float, ...]:
    """The numbers that an amount is tried at: whole steps of the house below and above it, none of them zero."""
    step = pour_step(amount)
    if step is None:
        return ()
    place = amount.number / step
    # A batch takes more steps than a glass.
    most = min(MOST_STEPS_OF_A_BATCH, max(MOST_STEPS, round(place / 2.0)))
    first = int(np.floor(place))
    highest = first + most + 1 if amount.unit in _POURED else first + MOST_MORE_OF_A_DASH
    numbers = (round(whole * step, 6) for whole in range(max(1, first - most), highest + 1))
    return tuple(number for number in numbers if abs(number - amount.number) > ROUNDING * step)


def mends(
    book: HouseBook, build: Build, aims: Sequence[Aim], wanted: Sequence[str], source: Source
) -> tuple[Mend, ...]:
    """For each line the smallest change that brings the wanted readings back into their bands, the best line first.

    The best pushes the other aims least, changes its line least and adds no alcohol (``_burden``). Empty: no single pour
    does it. ``wanted`` are keys of readings among the aims. ``source`` must
    have all that the build rests on up to date.
    """
    program = source.program(build.id)
    lines = list(_lines(build, program))
    if not lines or not program.is_whole:
        return ()
    columns = sum(len(numbers) for _line, _step, numbers in lines)
    amounts = np.repeat(program.amounts[:, None], columns + 1, axis=1)
    first = 1
    for line, step, numbers in lines:
        ratios = np.array(numbers) / step.amount.number
        amounts[line, first : first + len(numbers)] *= ratios
        first += len(numbers)
    running = _run(program, amounts, source)
    values = figures_of(running).values
    found: list[Mend] = []
    first = 1
    for line, step, numbers in lines:
        block = slice(first, first + len(numbers))
        grams = np.abs(running.found[line][block] - running.found[line][0])
        best = _best(step, numbers, grams, values[:, block], values[:, 0], aims, wanted)
        if best is not None:
            found.append(best)
        first += len(numbers)
    ethanol_g = float(values[READING_INDEX["ethanol"], 0])
    return tuple(sorted(found, key=lambda mend: (_burden(mend, ethanol_g), mend.moved_g, mend.step_id)))


def _burden(mend: Mend, ethanol_g: float) -> float:
    """What speaks against a pour (common practice, no source): a tolerance that another aim is pushed counts as much as a
    line changed by its whole, and as 10 g more of alcohol, which nobody asked for."""
    changed = abs(mend.amount.number / mend.before.number - 1.0)
    more_g = (mend.value("ethanol") or 0.0) - ethanol_g
    return mend.strained + changed + max(more_g, 0.0) / ALCOHOL_AS_BAD_G


def _lines(build: Build, program: Program) -> Iterator[tuple[int, Add | Top, tuple[float, ...]]]:
    """The lines whose amount can be tried: index in the program, step, numbers."""
    steps = {step.id: step for step in build.steps}
    for line, step_id in enumerate(program.line_steps):
        step = steps.get(step_id)
        if isinstance(step, Add | Top) and not isinstance(step, Infuse) and not step.left_out:
            numbers = tried_numbers(step.amount)
            if numbers:
                yield line, step, numbers


def _run(program: Program, amounts: Numbers, source: Source) -> Run:
    columns = amounts.shape[1]
    per_gram, per_unit = [], []
    for item_id, kind in zip(program.items.tolist(), program.kinds.tolist(), strict=True):
        found = source.columns_of(item_id)
        # A program that is whole knows all that it pours; what only sits on the glass may be missing.
        per_gram.append(found[0] if found is not None else np.full(amounts.shape[0], np.nan))
        per_unit.append(found[1][kind] if found is not None else np.nan)
    return run(
        program.ops,
        np.repeat(np.array(per_gram).T[:, :, None], columns, axis=2),
        np.repeat(np.array(per_unit)[:, None], columns, axis=1),
        amounts,
        np.repeat(program.numbers[:, None], columns, axis=1),
    )


def _best(
    step: Add | Top,
    numbers: Sequence[float],
    grams: Numbers,
    values: Numbers,
    now: Numbers,
    aims: Sequence[Aim],
    wanted: Sequence[str],
) -> Mend | None:
    """The number of one line that brings the wanted back with the least strain on the others, then the least moved."""
    strain = np.zeros(len(numbers))
    is_back = np.ones(len(numbers), dtype=np.bool_)
    pushed: dict[str, Numbers] = {}
    for aim in aims:
        index = READING_INDEX[aim.reading]
        beyond = _beyond(aim, values[index])
        if aim.reading in wanted:
            is_back &= beyond <= 0.0
            continue
        farther = np.maximum(beyond - _beyond(aim, now[index, None]), 0.0)
        # What nobody knows, before and after, is no reason against a pour.
        farther = np.where(np.isnan(farther), 0.0 if np.isnan(now[index]) else np.inf, farther)
        pushed[aim.reading] = farther
        strain = strain + np.where(farther > ROUNDING, farther, 0.0)
    order = sorted(np.flatnonzero(is_back).tolist(), key=lambda one: (float(strain[one]), float(grams[one])))
    if not order or not np.isfinite(strain[order[0]]):
        return None
    one = order[0]
    return Mend(
        step.id,
        step.item_id,
        step.amount,
        structs.replace(step.amount, number=numbers[one], typed=""),
        float(grams[one]),
        values[:, one].copy(),
        float(strain[one]),
        tuple(key for key, farther in pushed.items() if farther[one] > ROUNDING),
    )


def _beyond(aim: Aim, values: Numbers) -> Numbers:
    """How far values (n,) lie outside a band, in tolerances of their side; 0 within it, nan where not known."""
    above, below = aim.high - aim.ideal, aim.ideal - aim.low
    step = BY_KEY[aim.reading].step
    over = (values - aim.high) / (above or below or step)
    under = (aim.low - values) / (below or above or step)
    return np.maximum(np.maximum(over, under), 0.0)
