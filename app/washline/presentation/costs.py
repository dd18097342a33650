"""What drinks and house-made parts cost, what they sell for, and what that leaves.

Pour cost, margin and the like are terms of the trade: common practice, no source. Pour cost is what is poured, with what
is wasted of it, in percent of the price before tax; labour is no part of it, and counts in the margin where it is known.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from washline.engine.result import Result
from washline.engine.state import COST, VOLUME, Numbers, mass_g
from washline.engine.workings import Workings
from washline.model.amount import Basis
from washline.model.book import HouseBook
from washline.model.graph import inputs_of, maker_of, outputs_of
from washline.model.house import Settings
from washline.model.item import Build, Leftover
from washline.model.step import Add
from washline.presentation.costs_sources import CostSources, Sources
from washline.quantity.formatting import rounded

USUAL_STEP = 0.10
PRICE_STEPS = {"JPY": 10.0, "SEK": 1.0, "NOK": 1.0, "DKK": 1.0, "CZK": 1.0}
"""What prices on a list go by, where it is not a tenth: common practice, no source."""

MINUTES_PER_HOUR = 60.0
_NOISE_DECIMALS = 9


@dataclass(frozen=True, slots=True)
class Extra:
    """What waste and labour add to a build or to a gram of an item: money for waste, minutes of labour."""

    waste: float = 0.0
    labour_min: float = 0.0

    def times(self, factor: float) -> "Extra":
        """So many times as much."""
        return Extra(self.waste * factor, self.labour_min * factor)

    def plus(self, other: "Extra") -> "Extra":
        """Both together."""
        return Extra(self.waste + other.waste, self.labour_min + other.labour_min)


NO_EXTRA = Extra()


@dataclass(frozen=True, slots=True)
class DrinkCost:
    """One drink in the house's currency; ``None`` is not known, or not set by the house.

    ``cost`` is what is poured with the waste of it (``waste``), for one serve. It is a lower bound where ``is_at_least``,
    and then so are ``pour_cost_pct`` and the wanted price, while ``margin`` is an upper one. ``price`` has tax in it,
    ``net_price`` has not, ``tax`` is the difference. ``wanted_exact`` gives the wanted pour cost to the last digit,
    ``wanted_price`` is it rounded up. ``labour_min`` and ``labour`` are ``None`` where labour is not counted.
    """

    build_id: int
    name: str
    serve_ml: float | None
    cost: float | None
    waste: float
    waste_pct: float | None
    own_labour_min: float | None
    labour_min: float | None
    labour: float | None
    price: float | None
    net_price: float | None
    tax: float | None
    pour_cost_pct: float | None
    wanted_exact: float | None
    wanted_price: float | None
    margin: float | None
    alcohol_g: float | None
    is_at_least: bool
    is_alcohol_at_least: bool
    is_empty: bool
    is_stale: bool
    problems: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartCost:
    """One house-made part or leftover in the house's currency; ``None`` is not known, or not set by the house.

    ``batch`` is what one batch of it costs, waste included, ``batch_g`` and ``batch_ml`` how much that is. The other costs
    are for one kilogram, litre, bottle and pour of it. ``labour`` is for one batch and in none of them.
    """

    item_id: int
    build_id: int
    name: str
    is_leftover: bool
    batch_g: float | None
    batch_ml: float | None
    batch: float | None
    waste: float
    waste_pct: float | None
    own_labour_min: float | None
    labour_min: float | None
    labour: float | None
    per_kg: float | None
    per_litre: float | None
    per_bottle: float | None
    pour_ml: float | None
    per_pour: float | None
    value_per_kg: float | None
    is_at_least: bool
    is_stale: bool
    problems: tuple[str, ...]


def price_step(currency: str) -> float:
    """What prices on a list go by in a currency."""
    return PRICE_STEPS.get(currency, USUAL_STEP)


def money_decimals(currency: str) -> int:
    """The decimals of money in a currency."""
    return 0 if currency == "JPY" else 2


def rounded_up(exact: float, step: float) -> float:
    """The smallest multiple of a step that is not below a price; what rounding of numbers leaves does not count."""
    steps = (rounded(exact, _NOISE_DECIMALS) / Decimal(repr(step))).to_integral_value(rounding=ROUND_CEILING)
    return float(steps * Decimal(repr(step)))


def before_tax(price: float, settings: Settings) -> float:
    """A price without the tax that is in it."""
    return price / (1.0 + settings.tax_pct / 100.0)


def price_for_pour_cost(cost: float, settings: Settings) -> float | None:
    """The price with tax at which a cost is the wanted share of the price before tax; ``None`` where none is wanted."""
    if settings.wanted_pour_cost_pct <= 0.0:
        return None
    return cost / (settings.wanted_pour_cost_pct / 100.0) * (1.0 + settings.tax_pct / 100.0)


class Costs:
    """The costs of one house book, worked out when they are asked for; waste and labour of a part go with what is poured
    of it. ``forget`` says that something changed."""

    def __init__(self, workings: Workings) -> None:
        self._workings = workings
        self._sources = CostSources(workings)
        self._per_gram: dict[int, Extra] = {}
        self._has_extra: dict[int, bool] = {}
        self._open: set[int] = set()

    @property
    def book(self) -> HouseBook:
        """The house book as it is."""
        return self._workings.book

    def forget(self) -> None:
        """Something changed: all is worked out anew when it is asked for."""
        self._sources.forget()
        self._per_gram.clear()
        self._has_extra.clear()

    def sources(self, item_id: int) -> Sources:
        """What the cost of a drink, part or leftover rests on."""
        is_build = item_id in self.book.builds
        return self._sources.of_build(item_id) if is_build else self._sources.of_item(item_id)

    def drink(self, build_id: int) -> DrinkCost | None:
        """The figures of a drink, from its last known readings; ``None`` for one that is gone."""
        build = self.book.builds.get(build_id)
        if build is None:
            return None
        result = self._workings.result(build_id)
        settings = self.book.settings
        poured = result.value("cost") if result is not None else None
        is_empty = not any(True for _ in inputs_of(build))
        is_at_least = result is not None and result.more_than("cost") > 0.0
        if is_empty or (is_at_least and not poured):
            poured = None
        extra = self._extra_of(build, poured or 0.0)
        cost = None if poured is None else poured + extra.waste
        net = None if build.price is None else before_tax(build.price, settings)
        labour_min = self._labour_min(build, extra)
        labour = _labour(labour_min, settings)
        exact = None if cost is None else price_for_pour_cost(cost, settings)
        return DrinkCost(
            build_id=build_id,
            name=build.name,
            serve_ml=result.value("length") if result is not None else None,
            cost=cost,
            waste=extra.waste,
            waste_pct=build.waste_pct,
            own_labour_min=build.labour_min,
            labour_min=labour_min,
            labour=labour,
            price=build.price,
            net_price=net,
            tax=None if net is None or build.price is None else build.price - net,
            pour_cost_pct=None if cost is None or not net else 100.0 * cost / net,
            wanted_exact=exact,
            wanted_price=None if exact is None else rounded_up(exact, price_step(settings.currency)),
            margin=None if cost is None or net is None else net - cost - (labour or 0.0),
            alcohol_g=result.value("ethanol") if result is not None else None,
            is_at_least=is_at_least,
            is_alcohol_at_least=result is not None and result.more_than("ethanol") > 0.0,
            is_empty=is_empty,
            is_stale=self._workings.is_stale(build_id),
            problems=_problems(result),
        )

    def part(self, item_id: int, bottle_ml: float) -> PartCost | None:
        """The figures of a house-made part or a leftover, evaluated now if need be; ``None`` for one that is gone."""
        item = self.book.item(item_id)
        maker = maker_of(self.book, item_id)
        if not isinstance(item, Build | Leftover) or maker is None:
            return None
        result = self._workings.result_now(maker.id)
        batch_g, batch_ml, poured, is_at_least = self._output(item, maker, result)
        is_whole = isinstance(item, Build)
        if is_at_least and not poured:
            poured = None
        extra = self._extra_per_gram(item_id).times(batch_g or 0.0)
        batch = None if poured is None else poured + extra.waste
        labour_min = self._labour_min(maker, extra) if is_whole else None
        per_g = None if batch is None or not batch_g else batch / batch_g
        per_ml = None if batch is None or not batch_ml else batch / batch_ml
        pour_ml = item.pour_ml if isinstance(item, Build) else None
        return PartCost(
            item_id=item_id,
            build_id=maker.id,
            name=item.name,
            is_leftover=not is_whole,
            batch_g=batch_g,
            batch_ml=batch_ml,
            batch=batch,
            waste=extra.waste,
            waste_pct=maker.waste_pct if is_whole else None,
            own_labour_min=maker.labour_min if is_whole else None,
            labour_min=labour_min,
            labour=_labour(labour_min, self.book.settings),
            per_kg=_times(per_g, 1000.0),
            per_litre=_times(per_ml, 1000.0),
            per_bottle=_times(per_ml, bottle_ml),
            pour_ml=pour_ml,
            per_pour=_times(per_ml, pour_ml) if pour_ml is not None else None,
            value_per_kg=item.value_per_kg,
            is_at_least=is_at_least,
            is_stale=self._workings.is_stale(maker.id),
            problems=_problems(result),
        )

    def _output(
        self, item: Build | Leftover, maker: Build, result: Result
    ) -> tuple[float | None, float | None, float | None, bool]:
        """Grams, millilitres and cost of an output, and whether the cost is a lower bound."""
        if isinstance(item, Build):
            return (
                result.value("mass"),
                result.value("length"),
                result.value("cost"),
                result.more_than("cost") > 0.0,
            )
        state = self._states(maker).get(item.id)
        columns = self._workings.columns_of(item.id)
        if state is None or columns is None:
            return None, None, None, False
        grams, cost = float(mass_g(state)[0]), float(state[COST][0])
        is_unknown = bool(self._sources.of_item(item.id).unpriced)
        is_known = grams == grams and cost == cost
        if not is_known:
            return None, None, None, is_unknown
        density = float(columns[1][VOLUME])
        return grams, (grams / density if density > 0.0 else None), cost, is_unknown

    # What waste and labour add

    def _labour_min(self, build: Build, extra: Extra) -> float | None:
        """Minutes of labour; ``None`` where the house has said nothing of the build nor of any of its parts."""
        is_said = build.labour_min is not None or any(
            self._has_labour(item_id) for item_id in inputs_of(build)
        )
        return extra.labour_min if is_said else None

    def _has_labour(self, item_id: int) -> bool:
        return self._extra_per_gram(item_id).labour_min > 0.0

    def _extra_of(self, build: Build, poured: float) -> Extra:
        """What a build's own waste and labour and those of its parts add to it."""
        below = self._extra_below(build)
        own_waste = (build.waste_pct or 0.0) / 100.0 * (poured + below.waste)
        return below.plus(Extra(own_waste, build.labour_min or 0.0))

    def _extra_below(self, build: Build) -> Extra:
        if not any(self._may_have_extra(item_id) for item_id in inputs_of(build)):
            return NO_EXTRA
        self._workings.result_now(build.id)
        total = NO_EXTRA
        for item_id, grams in self._weighty_lines(build):
            if grams == grams:
                total = total.plus(self._extra_per_gram(item_id).times(grams))
        return total

    def _weighty_lines(self, build: Build) -> list[tuple[int, float]]:
        """Item and grams of each line whose item bears waste or labour. A plain amount needs no run of the build."""
        program, table = self._workings.program(build.id), self._workings.table
        steps = {step.id: step for step in build.steps}
        found = []
        for line, item_id in enumerate(program.items.tolist()):
            if not self._may_have_extra(item_id):
                continue
            step = steps.get(program.line_steps[line])
            if not isinstance(step, Add) or step.amount.basis is not Basis.ABSOLUTE:
                return self._lines_of_a_run(build)
            unit = table.per_unit[program.kinds[line], table.slot(item_id)]
            found.append((item_id, float(program.amounts[line] * unit)))
        return found

    def _lines_of_a_run(self, build: Build) -> list[tuple[int, float]]:
        program, running = self._workings.program(build.id), self._workings.run(build.id)
        grams = (float(one[0]) for one in running.found)
        return [
            (item_id, own)
            for item_id, own in zip(program.items.tolist(), grams, strict=True)
            if self._may_have_extra(item_id)
        ]

    def _may_have_extra(self, item_id: int) -> bool:
        """Whether the house has said anything of waste or labour in what an item is made of."""
        known = self._has_extra.get(item_id)
        if known is None:
            self._has_extra[item_id] = False
            maker = maker_of(self.book, item_id)
            known = maker is not None and (
                bool(maker.waste_pct or maker.labour_min)
                or any(self._may_have_extra(one) for one in inputs_of(maker))
            )
            self._has_extra[item_id] = known
        return known

    def _extra_per_gram(self, item_id: int) -> Extra:
        """What waste and labour add to a gram of an item; they are shared among outputs as the cost is."""
        known = self._per_gram.get(item_id)
        if known is not None:
            return known
        maker = maker_of(self.book, item_id)
        if maker is None or maker.id in self._open or not self._may_have_extra(item_id):
            return NO_EXTRA
        self._open.add(maker.id)
        try:
            states = self._states(maker)
            poured = sum(float(state[COST][0]) for state in states.values())
            extra = self._extra_of(maker, poured if poured == poured else 0.0)
        finally:
            self._open.discard(maker.id)
        for output_id, state in states.items():
            grams = float(mass_g(state)[0])
            share = _share(float(state[COST][0]), poured, is_main=output_id == maker.id)
            self._per_gram[output_id] = extra.times(share / grams) if grams > 0.0 else NO_EXTRA
        return self._per_gram.setdefault(item_id, NO_EXTRA)

    def _states(self, maker: Build) -> dict[int, Numbers]:
        """What a build yields, (ROWS, 1) each by the id of its item: itself, and the leftovers that have a name."""
        self._workings.result_now(maker.id)
        program, running = self._workings.program(maker.id), self._workings.run(maker.id)
        named = set(outputs_of(maker))
        states = {
            item_id: state
            for item_id, state in zip(program.outputs, running.outputs, strict=True)
            if item_id in named
        }
        return {maker.id: running.state, **states}


def _share(cost: float, total: float, *, is_main: bool) -> float:
    """The share of an output in the cost of its build; where nothing has a price the main output bears all."""
    if total > 0.0:
        return cost / total
    return 1.0 if is_main else 0.0


def _labour(minutes: float | None, settings: Settings) -> float | None:
    if minutes is None or settings.labour_per_hour is None:
        return None
    return minutes / MINUTES_PER_HOUR * settings.labour_per_hour


def _times(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor


def _problems(result: Result | None) -> tuple[str, ...]:
    if result is None:
        return ()
    return tuple(dict.fromkeys(problem.words for problem in result.problems))


def names_of(book: HouseBook, item_ids: Iterable[int]) -> tuple[str, ...]:
    """The names of items that are there."""
    items = (book.item(item_id) for item_id in item_ids)
    return tuple(item.name for item in items if item is not None)
