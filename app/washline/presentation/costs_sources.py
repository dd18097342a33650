"""What a cost rests on: whose price is missing, which is the oldest, which edible yields and joint costs are in it."""

from collections.abc import Iterable
from dataclasses import dataclass

from washline.engine.state import COST, UNKNOWN_COST
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.graph import inputs_of, maker_of
from washline.model.house import JointCost
from washline.model.item import Build, Leftover, Price, RawIngredient
from washline.model.step import Add, Infuse, Strain, Take, Weight

_WHOLE = 1.0 - 1e-9


@dataclass(frozen=True, slots=True)
class EdibleYield:
    """A raw ingredient of which only a share can be used, so that what is used costs more than what is bought."""

    raw_id: int
    share: float


@dataclass(frozen=True, slots=True)
class Sources:
    """What the cost of a build or an item rests on. ``unpriced`` and ``yields`` name raw ingredients in the order in which
    they are poured; ``oldest`` is the oldest of the prices that count, with its raw ingredient; ``joint`` are the builds
    whose cost is shared among several outputs."""

    unpriced: tuple[int, ...] = ()
    oldest: tuple[str, int] | None = None
    yields: tuple[EdibleYield, ...] = ()
    joint: tuple[int, ...] = ()


_NOTHING = Sources()


class CostSources:
    """Finds the sources of costs in one house book; what was found is kept until ``forget``."""

    def __init__(self, workings: Workings) -> None:
        self._workings = workings
        self._of_build: dict[int, Sources] = {}
        self._open: set[int] = set()

    @property
    def book(self) -> HouseBook:
        """The house book as it is."""
        return self._workings.book

    def forget(self) -> None:
        """Something changed: all is found anew when it is asked for."""
        self._of_build.clear()

    def of_build(self, build_id: int) -> Sources:
        """What the cost of a build rests on."""
        known = self._of_build.get(build_id)
        if known is not None:
            return known
        build = self.book.builds.get(build_id)
        # A loop, which only a damaged file can hold, is cut where it closes.
        if build is None or build_id in self._open:
            return _NOTHING
        self._open.add(build_id)
        try:
            joined = _joined(self.of_item(item_id) for item_id in inputs_of(build))
            joined = self._with_weighed_yields(build, joined)
        finally:
            self._open.discard(build_id)
        if is_joint(self.book, build):
            joined = Sources(
                joined.unpriced, joined.oldest, joined.yields, tuple(dict.fromkeys((*joined.joint, build_id)))
            )
        self._of_build[build_id] = joined
        return joined

    def of_item(self, item_id: int) -> Sources:
        """What the cost of an item rests on; of one that is free because its maker bears all, that rule alone."""
        raw = self.book.raws.get(item_id)
        if raw is not None:
            return self._of_raw(raw)
        maker = maker_of(self.book, item_id)
        if maker is None:
            return _NOTHING
        below = self.of_build(maker.id)
        columns = self._workings.columns_of(item_id)
        if columns is None:
            return below
        cost, unknown = float(columns[0][COST]), float(columns[0][UNKNOWN_COST])
        if cost == 0.0 and unknown == 0.0:
            return Sources(joint=below.joint)
        return below if unknown != 0.0 else Sources((), below.oldest, below.yields, below.joint)

    def _with_weighed_yields(self, build: Build, found: Sources) -> Sources:
        """What was weighed as bought for a line tells its own edible yield, in the place of the ingredient's."""
        weighed = {
            step.id: step.item_id
            for step in build.steps
            if isinstance(step, Add | Infuse) and step.bought_g and step.weight is not Weight.BOUGHT
            if step.item_id in self.book.raws and not step.left_out
        }
        if not weighed:
            return found
        yields = {one.raw_id: one for one in found.yields}
        for traced in self._workings.trace(build.id).steps:
            if traced.step_id in weighed and traced.bought_g and traced.found_g:
                raw_id = weighed[traced.step_id]
                yields[raw_id] = EdibleYield(raw_id, min(traced.found_g / traced.bought_g, 1.0))
        return Sources(found.unpriced, found.oldest, tuple(yields.values()), found.joint)

    def _of_raw(self, raw: RawIngredient) -> Sources:
        columns = self._workings.columns_of(raw.id)
        price = price_in_force(raw)
        if columns is None or price is None or float(columns[0][UNKNOWN_COST]) > 0.0:
            return Sources(unpriced=(raw.id,))
        share = usable_share(price, float(columns[0][COST]))
        yields = (EdibleYield(raw.id, share),) if share < _WHOLE else ()
        return Sources((), (price.date, raw.id), yields)


def price_in_force(raw: RawIngredient) -> Price | None:
    """The price that counts: the newest by its date."""
    return max(raw.prices, key=lambda paid: paid.date) if raw.prices else None


def usable_share(price: Price, cost_per_g: float) -> float:
    """The share of what is bought that can be used, as the engine has counted it: 1 for what is poured or used whole."""
    if price.unit != "kg" or cost_per_g <= 0.0:
        return 1.0
    return min(price.per_unit / 1000.0 / cost_per_g, 1.0)


def is_joint(book: HouseBook, build: Build) -> bool:
    """Whether the cost of a build is shared among outputs by the rule of the house: at a strain with a leftover, and at a
    take of what acts as something else. What is merely taken off carries its cost by weight under any rule."""
    for step in build.steps:
        if step.left_out or not isinstance(step, Strain | Take) or step.leftover_id is None:
            continue
        leftover = book.leftovers.get(step.leftover_id)
        if isinstance(step, Strain) or (leftover is not None and leftover.acts_as_id is not None):
            return True
    return False


def valueless(book: HouseBook, build_ids: Iterable[int]) -> tuple[str, ...]:
    """The names of outputs of builds for which the house has not said what a kilogram is worth."""
    names = []
    for build_id in build_ids:
        build = book.builds[build_id]
        outputs: list[Build | Leftover] = [build]
        outputs += [leftover for leftover in book.leftovers.values() if leftover.build_id == build_id]
        names += [item.name for item in outputs if item.value_per_kg is None]
    return tuple(names)


JOINT_SENTENCES = {
    JointCost.MAIN: "All stays with the main output; a leftover is free.",
    JointCost.MASS: "Shared by weight: a gram of leftover costs what a gram of the main output costs.",
    JointCost.VALUE: "Shared by weight × value per kg; by weight where the house has not said what a kilogram is worth.",
}
"""The rules of the house for what a step with several outputs costs, a sentence each."""

_JOINT_SHORT = {
    JointCost.MAIN: "all stays with the main output, leftovers are free",
    JointCost.MASS: "shared by weight",
    JointCost.VALUE: "shared by weight × value per kg",
}


def joint_words(book: HouseBook, build_ids: tuple[int, ...]) -> str:
    """The rule in force as a sentence, with the parts whose cost rests on it; empty where none does."""
    if not build_ids:
        return ""
    names = ", ".join(book.builds[build_id].name for build_id in build_ids)
    rule = book.settings.joint_cost
    words = f"Joint cost of {names}: {_JOINT_SHORT[rule]}."
    missing = valueless(book, build_ids) if rule is JointCost.VALUE else ()
    return f"{words} By weight where no value is set: {', '.join(missing)}." if missing else words


def _joined(parts: Iterable[Sources]) -> Sources:
    unpriced: dict[int, None] = {}
    yields: dict[int, EdibleYield] = {}
    joint: dict[int, None] = {}
    oldest: tuple[str, int] | None = None
    for part in parts:
        unpriced |= dict.fromkeys(part.unpriced)
        yields |= {one.raw_id: one for one in part.yields}
        joint |= dict.fromkeys(part.joint)
        if part.oldest is not None and (oldest is None or part.oldest[0] < oldest[0]):
            oldest = part.oldest
    return Sources(tuple(unpriced), oldest, tuple(yields.values()), tuple(joint))
