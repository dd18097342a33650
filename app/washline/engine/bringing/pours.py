"""The lines whose amounts may be found: how far each may go, in which steps, and what its number is to the program."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from msgspec import structs

from washline.engine.bringing.request import Limit, Request
from washline.engine.items import edible_yield
from washline.engine.mending import pour_step
from washline.engine.program import Program
from washline.engine.state import VOLUME, Numbers
from washline.engine.units import kind_and_factor
from washline.model.amount import Amount, Basis, Heft
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.step import Add, Infuse, Top, Weight

MOST_STEPS_MORE = 24
"""So many steps more than now are poured where nobody sets a limit: 60 ml in jigger steps."""

MOST_MORE_OF_A_COUNT = 3
"""So many more dashes, drops or barspoons: twenty dashes are another drink (common practice, no source)."""

STEPS_OF_NOTHING = 4.0
"""A change of a line that is at zero counts as a share of so many steps."""

ROUNDING = 1e-9
_LIKE_WATER = ("ml", "cl", "dl", "l", "oz", "US fl oz", "imp fl oz", "g", "kg")


@dataclass(frozen=True, slots=True)
class Pour:
    """One line whose number may change. ``line`` is its place in the program; ``numbers`` (k,) are the steps that it may
    be poured at, the number now among them where the limits let it; a change is counted in shares of ``scale``.

    What the program takes of a number is (number × ``factor`` + ``heft``, not below zero) × ``used``.
    """

    line: int
    step_id: int
    item_id: int
    before: Amount
    is_extra: bool
    low: float
    high: float
    step: float
    numbers: Numbers
    scale: float
    factor: float
    heft: float
    used: float

    @property
    def is_counted(self) -> bool:
        """Whether it comes in dashes, drops or spoons, which nobody pours a part of."""
        return self.before.unit not in _LIKE_WATER

    def sizes(self, numbers: Numbers) -> Numbers:
        """What the program takes of numbers, in the order of the compiler's own sum, so that the bits are the same."""
        sizes = numbers * self.factor
        if self.heft:
            sizes = np.maximum(sizes + self.heft, 0.0)
        return sizes * self.used

    def amount(self, number: float) -> Amount:
        """The amount at another number."""
        return structs.replace(self.before, number=round(number, 6), typed="")


def pours_of(book: HouseBook, build: Build, program: Program, request: Request) -> tuple[Pour, ...]:
    """The lines of a compiled build that are plain amounts and not held, in the canonical order of its program.

    ``build`` is the drink with a step for each extra, whose id is below zero.
    """
    extras = {extra_step_id(index): extra for index, extra in enumerate(request.extras)}
    steps = {step.id: step for step in build.steps}
    found = []
    for line, step_id in enumerate(program.line_steps):
        step = steps.get(step_id)
        if not is_plain(step) or step_id in request.held or not isinstance(step, Add | Top):
            continue
        extra = extras.get(step_id)
        limit = request.limits.get(step_id, Limit()) if extra is None else Limit(0.0, extra.high, extra.step)
        pour = _pour(book, line, step, limit, extra is not None)
        if pour is not None:
            found.append(pour)
    return tuple(found)


def extra_step_id(index: int) -> int:
    """The id of the step that stands for an extra while it is looked for: none of the book, and not ``NONE``."""
    return -2 - index


def is_plain(step: object) -> bool:
    """Whether a step is a line whose number one would change: a share or a mark follows by itself."""
    return (
        isinstance(step, Add | Top)
        and not isinstance(step, Infuse)
        and not step.left_out
        and step.amount.basis is Basis.ABSOLUTE
    )


def usual_step(amount: Amount) -> float:
    """The step that a line is poured in where nobody says otherwise, also where it is at zero now."""
    some = amount if amount.number > 0.0 else structs.replace(amount, number=1.0)
    return pour_step(some) or 1.0


def _pour(book: HouseBook, line: int, step: Add | Top, limit: Limit, is_extra: bool) -> Pour | None:
    amount = step.amount
    unit = kind_and_factor(book, amount.unit)
    if unit is None:
        return None
    kind, factor = unit
    size = limit.step if limit.step is not None and limit.step > 0.0 else usual_step(amount)
    low, high = _ends(amount, limit, size)
    scale = limit.high if is_extra and limit.high else max(amount.number, 0.0) or STEPS_OF_NOTHING * size
    return Pour(
        line,
        step.id,
        step.item_id,
        amount,
        is_extra,
        low,
        high,
        size,
        _numbers(amount.number, low, high, size),
        scale,
        factor,
        _heft(book, amount) if kind == VOLUME else 0.0,
        _used(book, step),
    )


def _ends(amount: Amount, limit: Limit, step: float) -> tuple[float, float]:
    """From one step (or what there is, if that is less) to so many steps more, or as the limits say."""
    number = max(amount.number, 0.0)
    most = max(MOST_STEPS_MORE, round(number / step / 2.0))
    more = most if amount.unit in _LIKE_WATER else MOST_MORE_OF_A_COUNT
    low = min(step, number) if limit.low is None else max(limit.low, 0.0)
    high = number + more * step if limit.high is None else limit.high
    return low, high


def _numbers(now: float, low: float, high: float, step: float) -> Numbers:
    first, last = int(np.ceil(low / step - ROUNDING)), int(np.floor(high / step + ROUNDING))
    numbers = {round(whole * step, 6) for whole in range(max(first, 0), last + 1)}
    if low - ROUNDING * step <= now <= high + ROUNDING * step:
        numbers = {number for number in numbers if abs(number - now) > ROUNDING * step} | {now}
    return np.array(sorted(numbers))


def _heft(book: HouseBook, amount: Amount) -> float:
    if amount.heft is Heft.SCANT:
        return -book.settings.scant_ml
    return book.settings.heavy_ml if amount.heft is Heft.HEAVY else 0.0


def _used(book: HouseBook, step: Add | Top) -> float:
    if isinstance(step, Top) or step.weight is not Weight.BOUGHT:
        return 1.0
    return edible_yield(book.item(step.item_id)) or 1.0


def starts(pours: Sequence[Pour]) -> Numbers:
    """The numbers now, (pours,), brought within the limits."""
    return np.array([min(max(pour.before.number, pour.low), pour.high) for pour in pours])


def without_room(pours: Sequence[Pour]) -> Iterator[Pour]:
    """The lines whose limits leave no amount that can be poured."""
    return (pour for pour in pours if not len(pour.numbers))
