"""How sure a reading is: one column of the evaluator per physical cause and side, through the whole graph below a build.

A cause that enters by two ways is one column, so correlation needs no code. A range whose ends are known is taken as
rectangular: its standard uncertainty is the half-width over the square root of three (JCGM 100:2008, 4.3.7).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from washline.chemistry.components import ACIDS, SUGARS
from washline.chemistry.reconcile import instrument_sigma
from washline.engine.items import drop_measure, output_columns, shift_group
from washline.engine.program import Program
from washline.engine.readings import READING_COUNT, figures_of
from washline.engine.run import Run
from washline.engine.state import ROWS, UNIT_KINDS, Numbers
from washline.engine.steps import run
from washline.engine.units import measure_slug
from washline.model.book import HouseBook
from washline.model.graph import closure_of, rests_on
from washline.model.house import Measure, MethodKind
from washline.model.item import Build, RawIngredient
from washline.model.reading import READING_INDEX
from washline.model.step import BarStrain, Chill, Ferment, Infuse, Line, Measurable, Measurement, Step, Strain

ROOT_OF_THREE = float(np.sqrt(3.0))
ROUNDING = 1e-9
"""A relative change below this is the last digits of the sum, and no doubt."""

MELT_HALF_WIDTH_ML_PER_ML = 0.05
"""The honest spread of water from bar ice: 5 ml per 100 ml each way (sensitivity table of the heat balance)."""

FRESH_HALF_WIDTH_ML_PER_ML = 0.02
"""The same of the ice that a cold drink is strained over (common practice, no source)."""

END_HALF_WIDTH_C, STORE_HALF_WIDTH_C, MEASURED_HALF_WIDTH_C = 1.0, 2.0, 0.5
"""How far the temperature at the end is known: of a chill, of a freezer or fridge, and by a kitchen thermometer (common
practice, no source)."""


@dataclass(frozen=True, slots=True)
class Cause:
    """One physical cause of doubt: what it is, the item, measure or step it belongs to, and what it does to each reading
    (READING_COUNT,) when it is one standard uncertainty higher or lower."""

    kind: str
    key: int | str
    words: str
    higher: Numbers
    lower: Numbers


@dataclass(frozen=True, slots=True)
class Spread:
    """One standard uncertainty of each reading upward and downward, (READING_COUNT,) each, and its causes."""

    up: Numbers
    down: Numbers
    causes: tuple[Cause, ...]

    def has(self, key: str) -> bool:
        """Whether anything makes this reading uncertain."""
        index = READING_INDEX[key]
        return bool(self.up[index] > 0.0 or self.down[index] > 0.0)

    def plus_minus(self, key: str) -> float | None:
        """The larger of the two sides, or ``None`` where there is no cause of spread."""
        index = READING_INDEX[key]
        return float(max(self.up[index], self.down[index])) if self.has(key) else None


@dataclass(frozen=True, slots=True)
class Doubt:
    """A cause before it is evaluated: how far one standard uncertainty goes up and down, in its own terms."""

    kind: str
    key: int | str
    words: str
    up: float
    down: float


class Source(Protocol):
    """Where a spread takes programs and the columns of raw ingredients from."""

    def program(self, build_id: int) -> Program:
        """The compiled program of a build."""

    def columns_of(self, item_id: int) -> tuple[Numbers, Numbers] | None:
        """What a gram (ROWS,) and a unit (UNIT_KINDS,) of an item bring."""


def spread_of(book: HouseBook, build_id: int, source: Source) -> Spread:
    """The spread of the readings of one build. Columns: as it stands, then each doubt up, then each doubt down."""
    doubts = doubts_below(book, build_id)
    if not doubts:
        return Spread(np.zeros(READING_COUNT), np.zeros(READING_COUNT), ())
    values = figures_of(run_with_doubts(book, build_id, doubts, source)).values
    causes = causes_of(doubts, values)
    sides = np.array([[cause.higher, cause.lower] for cause in causes])
    up = np.maximum(np.maximum(sides[:, 0], sides[:, 1]), 0.0)
    down = np.maximum(np.maximum(-sides[:, 0], -sides[:, 1]), 0.0)
    return Spread(_root_of_squares(up.T), _root_of_squares(down.T), causes)


def doubts_below(book: HouseBook, build_id: int) -> tuple[Doubt, ...]:
    """Every cause of doubt in a build and below it, each once."""
    members = [book.builds[member] for member in closure_of(book, build_id)]
    return tuple(dict.fromkeys(_doubts(book, members)))


def run_with_doubts(book: HouseBook, build_id: int, doubts: Sequence[Doubt], source: Source) -> Run:
    """The run of a build through its whole closure. Columns: as it stands, then each doubt up, then each doubt down."""
    members = [book.builds[member] for member in closure_of(book, build_id)]
    return _Columns(book, doubts, source).run_all(members)


def causes_of(doubts: Sequence[Doubt], values: Numbers) -> tuple[Cause, ...]:
    """What each doubt does to some values, (values, 1 + 2 doubts)."""
    base = values[:, :1]
    count = len(doubts)
    change = values - base
    is_noise = np.abs(change) <= ROUNDING * np.abs(base)
    change = np.where(np.isnan(change) | is_noise, 0.0, change)
    higher, lower = change[:, 1 : count + 1], change[:, count + 1 :]
    return tuple(
        Cause(doubt.kind, doubt.key, doubt.words, higher[:, index], lower[:, index])
        for index, doubt in enumerate(doubts)
    )


def _root_of_squares(sides: Numbers) -> Numbers:
    root: Numbers = np.sqrt(np.add.accumulate(sides * sides, axis=1)[:, -1])
    return root


def _doubts(book: HouseBook, members: list[Build]) -> Iterator[Doubt]:
    for build in members:
        for step in build.steps:
            if not step.left_out:
                yield from _doubts_of_step(book, step)
        for item_id in rests_on(book, build):
            yield from _doubts_of_raw(book, item_id)


def _doubts_of_step(book: HouseBook, step: Step) -> Iterator[Doubt]:
    if isinstance(step, Line):
        yield from _doubts_of_raw(book, step.item_id)
        yield from _doubts_of_measure(book, step)
    if isinstance(step, Infuse):
        yield from _doubts_of_infusion(book, step)
    elif isinstance(step, Strain):
        yield from _doubts_of_yield(step)
        yield from _doubts_of_instruments(step.id, None, step.measured_brix, step.measured_acidity_pct)
    elif isinstance(step, Ferment):
        yield from _doubts_of_instruments(step.id, step.gas_lost_g, step.final_brix, step.final_acidity_pct)
    elif isinstance(step, Measurement):
        if step.uncertainty:
            words = f"the measured {_SPOKEN.get(step.quantity, step.quantity.value)}"
            yield Doubt("measurement", step.id, words, step.uncertainty, step.uncertainty)
    elif isinstance(step, Chill):
        yield from _doubts_of_chill(book, step)
    elif isinstance(step, BarStrain):
        yield from _doubts_of_bar_strain(step)


_SPOKEN = {Measurable.BRIX: "°Bx", Measurable.PH: "pH"}


def _doubts_of_raw(book: HouseBook, item_id: int) -> Iterator[Doubt]:
    raw = book.raws.get(item_id)
    if raw is None:
        return
    for kind, percent, group in (
        ("sugars", raw.sugar_uncertainty_pct, SUGARS),
        ("acids", raw.acid_uncertainty_pct, ACIDS),
    ):
        if percent and any(raw.composition[part] for part in group):
            yield Doubt(kind, raw.id, f"{kind} of {raw.name}", percent / 100.0, percent / 100.0)


def _doubts_of_infusion(book: HouseBook, step: Infuse) -> Iterator[Doubt]:
    if step.given_spread_pct:
        item = book.item(step.item_id)
        words = f"what {item.name if item else 'it'} gives, as the house set it"
        yield Doubt("given", step.id, words, step.given_spread_pct / 100.0, step.given_spread_pct / 100.0)


def _doubts_of_instruments(
    step_id: int, gas_g: float | None, brix: float | None, acidity_pct: float | None
) -> Iterator[Doubt]:
    """Of values that were measured in a step of another kind, by what its usual instrument is good for."""
    for kind, value, instrument, words in (
        ("gas", gas_g, "kitchen_scale", "the weighed gas"),
        ("measured brix", brix, "refractometer", "the measured °Bx"),
        ("measured acidity", acidity_pct, "titration", "the measured acidity"),
    ):
        if value is not None:
            sigma = instrument_sigma(instrument, value)
            yield Doubt(kind, step_id, words, sigma, sigma)


def _doubts_of_measure(book: HouseBook, step: Line) -> Iterator[Doubt]:
    measure = _measure_of(book, step)
    if measure is not None and measure.value > 0.0 and measure.high > measure.low:
        up = (measure.high / measure.value - 1.0) / ROOT_OF_THREE
        down = (1.0 - measure.low / measure.value) / ROOT_OF_THREE
        yield Doubt("measure", measure.slug, f"size of a {measure.slug.split('-')[0]}", up, down)


def _measure_of(book: HouseBook, step: Line) -> Measure | None:
    unit = step.amount.unit
    if unit == "drop":
        raw = book.raws.get(step.item_id)
        slug = "drop-water" if raw is None else drop_measure(raw)
        return book.measures.get(slug)
    slug_or_none = measure_slug(book, unit)
    return book.measures.get(slug_or_none) if slug_or_none else None


def _doubts_of_yield(step: Strain) -> Iterator[Doubt]:
    if step.weighed_g is not None or step.expected_pct is None:
        return
    low = step.expected_pct if step.low_pct is None else step.low_pct
    high = step.expected_pct if step.high_pct is None else step.high_pct
    if high > low:
        up = (high - step.expected_pct) / 100.0 / ROOT_OF_THREE
        down = (step.expected_pct - low) / 100.0 / ROOT_OF_THREE
        yield Doubt("yield", step.id, "estimated yield: weigh it", up, down)


def _doubts_of_chill(book: HouseBook, step: Chill) -> Iterator[Doubt]:
    method = book.methods.get(step.method)
    if method is None or (method.kind in _WITHOUT_HEAT and step.end_c is None):
        return
    half_c = STORE_HALF_WIDTH_C if method.kind is MethodKind.COLD_STORE else END_HALF_WIDTH_C
    if step.end_c is not None:
        half_c = MEASURED_HALF_WIDTH_C
    sigma_c = half_c / ROOT_OF_THREE
    yield Doubt("end temperature", step.id, "temperature at the end of the chill", sigma_c, sigma_c)
    is_weighed = step.melted_g is not None or step.final_g is not None or step.final_ml is not None
    if method.kind in _ON_ICE and not is_weighed:
        calibration = book.calibration_of(method.slug, book.ice_named(step.ice or method.ice))
        left = None if calibration is None else calibration.left_ml_per_100_ml
        sigma = MELT_HALF_WIDTH_ML_PER_ML / ROOT_OF_THREE if left is None else left / 100.0
        yield Doubt("melt", step.id, "estimated melt: weigh it", sigma, sigma)


def _doubts_of_bar_strain(step: BarStrain) -> Iterator[Doubt]:
    if step.fresh_ice or step.fresh_ice_g is not None:
        sigma = FRESH_HALF_WIDTH_ML_PER_ML / ROOT_OF_THREE
        yield Doubt("melt", step.id, "melt of the fresh ice", sigma, sigma)


_ON_ICE = (MethodKind.ON_ICE, MethodKind.IN_GLASS, MethodKind.ALL_IN)
_WITHOUT_HEAT = (MethodKind.NO_ICE, MethodKind.OTHER)


class _Columns:
    """The evaluation of a closure with one column per doubt and side."""

    def __init__(self, book: HouseBook, doubts: Sequence[Doubt], source: Source) -> None:
        self.book = book
        self.source = source
        self.columns = 1 + 2 * len(doubts)
        self.changes: dict[tuple[str, int | str], list[tuple[int, float]]] = {}
        for index, doubt in enumerate(doubts):
            self.changes[doubt.kind, doubt.key] = [
                (1 + index, doubt.up),
                (1 + len(doubts) + index, -doubt.down),
            ]
        self.per_gram: dict[int, Numbers] = {}
        self.per_unit: dict[int, Numbers] = {}

    def run_all(self, members: list[Build]) -> Run:
        """Runs the builds of a closure in order; the run of the last one."""
        for build in members:
            program = self.source.program(build.id)
            running = self.run(build, program)
            for item_id, state in zip(
                (build.id, *program.outputs), (running.state, *running.outputs), strict=True
            ):
                item = self.book.item(item_id)
                if item is not None and not isinstance(item, RawIngredient):
                    columns = output_columns(self.book, item, state, self._columns_of)
                    self.per_gram[item_id], self.per_unit[item_id] = columns
        return running

    def run(self, build: Build, program: Program) -> Run:
        for item_id in program.items.tolist():
            self._prepare(item_id)
        lines = program.items.tolist()
        per_gram = np.array([self.per_gram[item] for item in lines]).reshape(len(lines), ROWS, self.columns)
        per_unit = np.array(
            [self.per_unit[item][kind] for item, kind in zip(lines, program.kinds.tolist(), strict=True)]
        ).reshape(len(lines), self.columns)
        amounts = np.repeat(program.amounts[:, None], self.columns, axis=1)
        numbers = np.repeat(program.numbers[:, None], self.columns, axis=1)
        self._doubt_measures(build, program, amounts)
        self._doubt_numbers(program, numbers)
        return run(program.ops, np.moveaxis(per_gram, 0, 1), per_unit, amounts, numbers)

    def _columns_of(self, item_id: int) -> tuple[Numbers, Numbers] | None:
        self._prepare(item_id)
        return self.per_gram[item_id], self.per_unit[item_id]

    def _prepare(self, item_id: int) -> None:
        if item_id in self.per_gram:
            return
        found = self.source.columns_of(item_id) if item_id in self.book.raws else None
        if found is None:
            self.per_gram[item_id] = np.full((ROWS, self.columns), np.nan)
            self.per_unit[item_id] = np.full((UNIT_KINDS, self.columns), np.nan)
            return
        column, units = found
        block = np.repeat(column[:, None], self.columns, axis=1)
        for kind, group in (("sugars", SUGARS), ("acids", ACIDS)):
            for index, relative in self.changes.get((kind, item_id), ()):
                shift_group(block[:, index], group, relative)
        self.per_gram[item_id] = block
        self.per_unit[item_id] = np.repeat(units[:, None], self.columns, axis=1)

    def _doubt_measures(self, build: Build, program: Program, amounts: Numbers) -> None:
        steps: Mapping[int, object] = {step.id: step for step in build.steps}
        for line, step_id in enumerate(program.line_steps):
            step = steps.get(step_id)
            if isinstance(step, Line):
                measure = _measure_of(self.book, step)
                for index, relative in self.changes.get(("measure", measure.slug), ()) if measure else ():
                    amounts[line, index] *= 1.0 + relative

    def _doubt_numbers(self, program: Program, numbers: Numbers) -> None:
        for step_id, kind, number in program.doubtful:
            for index, extra in self.changes.get((kind, step_id), ()):
                numbers[number, index] += extra * numbers[number, index] if kind == "given" else extra
