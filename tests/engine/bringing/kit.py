"""The demo house for tests of *Bring to target*, and a search that knows nothing of the one it checks."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import cache

import numpy as np
from msgspec import structs

from washline.engine.bringing.bring import bring
from washline.engine.bringing.columns import Columns, columns_of
from washline.engine.bringing.extras import with_changes
from washline.engine.bringing.pours import pours_of
from washline.engine.bringing.request import Answer, Proposal, Request
from washline.engine.state import Numbers
from washline.engine.workings import Workings
from washline.exchange.demo import demo_house
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.reading import BY_KEY, READING_INDEX
from washline.model.step import Add, Top
from washline.model.target import Aim, Target

DRINKS = (
    "Pear Signal",
    "Pear Signal, bay twist",
    "Sloe Tide",
    "Quince Ferry",
    "Drift",
    "Orchard Bell",
    "Fennel Rye",
    "Saltings",
    "Beet Lantern",
    "Ebb",
)

INSIDE, CHANGE = 0.1, 0.05
"""The proportions that ``terms`` documents, written down a second time."""


@cache
def demo() -> HouseBook:
    return demo_house()


def drink(name: str, book: HouseBook | None = None) -> Build:
    return next(build for build in (book or demo()).builds.values() if build.name == name and build.is_drink)


def target(build: Build) -> Target:
    assert build.target_id is not None
    return demo().targets[build.target_id]


def item_id(name: str) -> int:
    book = demo()
    items = (*book.raws.values(), *book.builds.values())
    return next(item.id for item in items if item.name.startswith(name))


def line(build: Build, name: str) -> Add | Top:
    """The line of a drink whose item's name begins so."""
    book = demo()
    for step in build.steps:
        if isinstance(step, Add | Top):
            item = book.item(step.item_id)
            if item is not None and item.name.startswith(name):
                return step
    raise AssertionError(name)


def poured(build: Build, amounts: Mapping[str, float]) -> Build:
    """The drink with other numbers on some of its lines."""
    numbers = {line(build, name).id: number for name, number in amounts.items()}
    return structs.replace(
        build,
        steps=tuple(
            structs.replace(step, amount=structs.replace(step.amount, number=numbers[step.id], typed=""))
            if isinstance(step, Add | Top) and step.id in numbers
            else step
            for step in build.steps
        ),
    )


def request(build: Build, **fields: object) -> Request:
    wanted = target(build)
    return replace(Request(build.id, wanted.axes, gates=wanted.gates), **fields)  # type: ignore[arg-type]


def ready(build: Build) -> tuple[HouseBook, Workings]:
    book = demo().with_build(build)
    workings = Workings(book)
    workings.result_now(build.id)
    return book, workings


def brought_to(build: Build, **fields: object) -> Answer:
    book, workings = ready(build)
    return bring(book, request(build, **fields), workings)


def taken(build: Build, proposal: Proposal) -> Build:
    """The drink with a proposal accepted."""
    return with_changes(build, proposal.changes, range(900_000, 900_010))


def only(build: Build, *names: str) -> frozenset[int]:
    """All lines held but these."""
    free = {line(build, name).id for name in names}
    return frozenset(step.id for step in build.steps if step.id not in free)


def columns(build: Build, asked: Request) -> Columns:
    book, workings = ready(build)
    program = workings.program(build.id)
    return columns_of(program, pours_of(book, build, program, asked), workings)


def within(aim: Aim, value: float | None) -> bool:
    slack = 1e-9 * (aim.high - aim.low or 1.0)
    return value is not None and aim.low - slack <= value <= aim.high + slack


def cost_of(asked: Request, on: Columns, numbers: Numbers) -> Numbers:
    """The objective at numbers (pours, n), one plain float after another: an array (n,)."""
    values = on.figures(numbers).values
    return np.array([_cost(asked, on, values[:, n], numbers[:, n]) for n in range(numbers.shape[1])])


def _cost(asked: Request, on: Columns, values: Numbers, numbers: Numbers) -> float:
    total = 0.0
    for aim in asked.aims:
        value = float(values[READING_INDEX[aim.reading]])
        weight = float(asked.weights.get(aim.reading, 1.0))
        above = aim.high - aim.ideal or aim.ideal - aim.low or BY_KEY[aim.reading].step
        below = aim.ideal - aim.low or aim.high - aim.ideal or BY_KEY[aim.reading].step
        total += weight * INSIDE * ((value - aim.ideal) / (above if value >= aim.ideal else below)) ** 2
        total += weight * (max(value - aim.high, 0.0) / above) ** 2
        total += weight * (max(aim.low - value, 0.0) / below) ** 2
    for pour, number in zip(on.pours, numbers.tolist(), strict=True):
        total += CHANGE * ((number - pour.before.number) / pour.scale) ** 2
    return total


def compass(
    cost: Callable[[Numbers], Numbers], start: Numbers, low: Numbers, high: Numbers, seed: int = 1
) -> tuple[float, Numbers]:
    """A direct search without any slope: steps along the axes and at random, halved whenever none of them is better (Hooke
    and Jeeves 1961; Kolda, Lewis and Torczon, SIAM Review 45 (2003) 385). The least cost and where it is."""
    random = np.random.default_rng(seed)
    best, best_cost = start, float(cost(start[:, None])[0])
    size = 0.25 * (high - low)
    share = 1.0
    while share > 1e-7:
        ways = np.concatenate(
            [np.eye(len(start)), -np.eye(len(start)), random.normal(size=(6 * len(start), len(start)))]
        )
        trials = np.clip(best[:, None] + share * size[:, None] * ways.T, low[:, None], high[:, None])
        costs = cost(trials)
        one = int(np.argmin(costs))
        if costs[one] < best_cost:
            best, best_cost = trials[:, one], float(costs[one])
        else:
            share *= 0.6
    return best_cost, best


def every_point(on: Columns) -> Iterator[tuple[float, ...]]:
    """All points of the lattice of some pours."""
    points: list[tuple[float, ...]] = [()]
    for pour in on.pours:
        points = [(*point, float(number)) for point in points for number in pour.numbers]
    return iter(points)
