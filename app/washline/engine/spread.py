"""How sure a reading is: one column of the evaluator per physical cause and side, through the whole graph below a build.

A cause that enters by two ways is one column, so correlation needs no code. A range whose ends are known is taken as
rectangular: its standard uncertainty is the half-width over the square root of three (JCGM 100:2008, 4.3.7).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from washline.chemistry.components import ACIDS, SUGARS, WATER
from washline.engine.items import drop_measure, output_per_gram, output_per_unit
from washline.engine.program import NONE, Program
from washline.engine.readings import READING_COUNT, figures_of
from washline.engine.state import ROWS, UNIT_KINDS, Numbers
from washline.engine.steps import Run, run
from washline.engine.units import measure_slug
from washline.model.book import HouseBook
from washline.model.graph import closure_of
from washline.model.house import Measure
from washline.model.item import Build, RawIngredient
from washline.model.reading import READING_INDEX
from washline.model.step import Add, Chill, Garnish, Strain, Top

ROOT_OF_THREE = float(np.sqrt(3.0))
ROUNDING = 1e-9
"""A relative change below this is the last digits of the sum, and no doubt."""

REGRESSION_HALF_WIDTH_ML_PER_ML = 0.05
"""The honest spread of water from bar ice: 5 ml per 100 ml each way (sensitivity table of the heat balance)."""


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
class _Doubt:
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
    members = [book.builds[member] for member in closure_of(book, build_id)]
    doubts = list(dict.fromkeys(_doubts(book, members)))
    if not doubts:
        return Spread(np.zeros(READING_COUNT), np.zeros(READING_COUNT), ())
    values = figures_of(_Columns(book, doubts, source).run_all(members)).values
    base = values[:, :1]
    count = len(doubts)
    change = values - base
    is_noise = np.abs(change) <= ROUNDING * np.abs(base)
    change = np.where(np.isnan(change) | is_noise, 0.0, change)
    higher, lower = change[:, 1 : count + 1], change[:, count + 1 :]
    causes = tuple(
        Cause(doubt.kind, doubt.key, doubt.words, higher[:, index], lower[:, index])
        for index, doubt in enumerate(doubts)
    )
    up = np.maximum(np.maximum(higher, lower), 0.0)
    down = np.maximum(np.maximum(-higher, -lower), 0.0)
    return Spread(_root_of_squares(up), _root_of_squares(down), causes)


def _root_of_squares(sides: Numbers) -> Numbers:
    root: Numbers = np.sqrt(np.add.accumulate(sides * sides, axis=1)[:, -1])
    return root


def _doubts(book: HouseBook, members: list[Build]) -> Iterator[_Doubt]:
    for build in members:
        for step in build.steps:
            if step.left_out:
                continue
            if isinstance(step, Add | Top | Garnish):
                yield from _doubts_of_line(book, step)
            elif isinstance(step, Strain):
                yield from _doubts_of_yield(step)
            elif isinstance(step, Chill):
                yield from _doubts_of_chill(book, step)


def _doubts_of_line(book: HouseBook, step: Add | Top | Garnish) -> Iterator[_Doubt]:
    raw = book.raws.get(step.item_id)
    if raw is not None:
        for kind, percent, group in (
            ("sugars", raw.sugar_uncertainty_pct, SUGARS),
            ("acids", raw.acid_uncertainty_pct, ACIDS),
        ):
            if percent and any(raw.composition[part] for part in group):
                yield _Doubt(kind, raw.id, f"{kind} of {raw.name}", percent / 100.0, percent / 100.0)
    measure = _measure_of(book, step)
    if measure is not None and measure.value > 0.0 and measure.high > measure.low:
        up = (measure.high / measure.value - 1.0) / ROOT_OF_THREE
        down = (1.0 - measure.low / measure.value) / ROOT_OF_THREE
        yield _Doubt("measure", measure.slug, f"size of a {measure.slug.split('-')[0]}", up, down)


def _measure_of(book: HouseBook, step: Add | Top | Garnish) -> Measure | None:
    unit = step.amount.unit
    if unit == "drop":
        raw = book.raws.get(step.item_id)
        slug = "drop-water" if raw is None else drop_measure(raw)
        return book.measures.get(slug)
    slug_or_none = measure_slug(book, unit)
    return book.measures.get(slug_or_none) if slug_or_none else None


def _doubts_of_yield(step: Strain) -> Iterator[_Doubt]:
    if step.weighed_g is not None or step.expected_pct is None:
        return
    low = step.expected_pct if step.low_pct is None else step.low_pct
    high = step.expected_pct if step.high_pct is None else step.high_pct
    if high > low:
        up = (high - step.expected_pct) / 100.0 / ROOT_OF_THREE
        down = (step.expected_pct - low) / 100.0 / ROOT_OF_THREE
        yield _Doubt("yield", step.id, "estimated yield: weigh it", up, down)


def _doubts_of_chill(book: HouseBook, step: Chill) -> Iterator[_Doubt]:
    method = book.methods.get(step.method)
    if method is None:
        return
    half_c = (method.end_high_c - method.end_low_c) / 2.0 / ROOT_OF_THREE
    if half_c > 0.0:
        yield _Doubt("end temperature", step.id, "temperature at the end of the chill", half_c, half_c)
    if step.melted_g is not None or step.final_g is not None or step.final_ml is not None:
        return
    half = (method.dilution_high_pct - method.dilution_low_pct) / 200.0
    if step.method in ("stir", "shake"):
        half = REGRESSION_HALF_WIDTH_ML_PER_ML
    if half > 0.0:
        yield _Doubt("melt", step.id, "estimated melt: weigh it", half / ROOT_OF_THREE, half / ROOT_OF_THREE)


class _Columns:
    """The evaluation of a closure with one column per doubt and side."""

    def __init__(self, book: HouseBook, doubts: list[_Doubt], source: Source) -> None:
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
                    self.per_gram[item_id] = output_per_gram(self.book, item, state)
                    self.per_unit[item_id] = output_per_unit(self.book, item, self.per_gram[item_id])
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
                for part in group:
                    extra = column[part] * relative
                    block[part, index] += extra
                    block[WATER, index] -= extra
        self.per_gram[item_id] = block
        self.per_unit[item_id] = np.repeat(units[:, None], self.columns, axis=1)

    def _doubt_measures(self, build: Build, program: Program, amounts: Numbers) -> None:
        steps: Mapping[int, object] = {step.id: step for step in build.steps}
        for line, step_id in enumerate(program.line_steps):
            step = steps[step_id]
            if isinstance(step, Add | Top | Garnish):
                measure = _measure_of(self.book, step)
                for index, relative in self.changes.get(("measure", measure.slug), ()) if measure else ():
                    amounts[line, index] *= 1.0 + relative

    def _doubt_numbers(self, program: Program, numbers: Numbers) -> None:
        for op, step_id in zip(program.ops, program.op_steps, strict=True):
            if step_id == NONE:
                continue
            kind = "yield" if op[0] == "strain" else "melt"
            for index, extra in self.changes.get((kind, step_id), ()):
                numbers[int(str(op[1])), index] += extra
            for index, extra in self.changes.get(("end temperature", step_id), ()):
                numbers[int(str(op[2])), index] += extra
