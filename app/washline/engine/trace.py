"""One build in full detail: what each step put in, left and lost, and what of it is still there in the end.

A share is followed through every split: where a step leaves a part of a component behind, it leaves the same part of
every line's share of it, so that shares add up to the state.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Protocol

import numpy as np

from washline.chemistry.acidity import titratable_acidity_citric_g
from washline.chemistry.components import ETHANOL, SUGARS, WATER
from washline.engine.program import NONE, Program
from washline.engine.readings import dilution_pct, figures
from washline.engine.result import Result
from washline.engine.state import CATIONS, COST, MASSES, ROWS, Numbers, mass_g
from washline.engine.steps import Run
from washline.model.book import HouseBook
from washline.model.graph import maker_of
from washline.model.house import wash_line_ml
from washline.model.item import Build
from washline.model.step import AnyStep, Strain


class Source(Protocol):
    """Where a trace takes programs, runs and results from."""

    def result_now(self, build_id: int) -> Result:
        """The readings of a build, evaluated if need be."""

    def program(self, build_id: int) -> Program:
        """The compiled program of a build."""

    def run(self, build_id: int) -> Run:
        """A build run again with the state after every op."""


@dataclass(frozen=True, slots=True)
class Outflow:
    """What left the vessel: ``kind`` is vapour, leftover, loss, gas; ``masses`` (24,) in grams."""

    step_id: int | None
    kind: str
    grams: float
    masses: Numbers


@dataclass(frozen=True, slots=True)
class Share:
    """What is left of something in the end, (ROWS,)."""

    rows: Numbers

    @property
    def grams(self) -> float:
        """Grams in all."""
        return float(mass_g(self.rows[:, None])[0])

    @property
    def sugars_g(self) -> float:
        """Grams of sugars."""
        return float(np.add.accumulate(self.rows[list(SUGARS)])[-1])

    @property
    def acids_g(self) -> float:
        """Grams of titratable acid as citric acid: what is bound by strong cations does not count."""
        return float(titratable_acidity_citric_g(self.rows[MASSES, None], self.rows[CATIONS])[0])

    @property
    def ethanol_g(self) -> float:
        """Grams of ethanol."""
        return float(self.rows[ETHANOL])

    @property
    def cost(self) -> float:
        """Cost in the house's currency."""
        return float(self.rows[COST])


class _Vessels:
    """The vessel after every step, (ROWS, steps), and its readings, made when somebody asks for the first of them."""

    def __init__(self, states: Numbers, melted_g: Numbers, before_ice_ml: Numbers) -> None:
        self.states = states
        self._melted_g, self._before_ice_ml = melted_g, before_ice_ml
        self.dilution_pct = dilution_pct(melted_g, before_ice_ml)

    @cached_property
    def readings(self) -> Numbers:
        """The readings after every step, (len(READINGS), steps)."""
        return figures(self.states, np.zeros_like(self.states), self._melted_g, self._before_ice_ml).values


@dataclass(frozen=True, slots=True)
class StepTrace:
    """One step as it went. ``found_g`` and ``found_ml`` are what a line put in, what a strain or a take let through, or
    what a chill melted; ``estimate_g`` with its range is what a strain was expected to leave. ``after`` (ROWS,) is the
    vessel after the step and ``readings_after`` its readings, before any loss on pouring. ``share`` is what is left of
    a line in the end, and ``missed`` says which number could not be met."""

    step_id: int
    found_g: float | None
    found_ml: float | None
    estimate_g: float | None
    estimate_low_g: float | None
    estimate_high_g: float | None
    left_g: float | None
    loss_g: float | None
    share: Share
    missed: tuple[str, ...]
    is_on_glass: bool
    _vessels: _Vessels
    _place: int

    @property
    def after(self) -> Numbers:
        """The vessel after the step, (ROWS,)."""
        return self._vessels.states[:, self._place]

    @property
    def readings_after(self) -> Numbers:
        """The readings after the step, (len(READINGS),)."""
        return self._vessels.readings[:, self._place]

    @property
    def dilution_pct(self) -> float:
        """Water from ice so far, in percent of the volume before ice."""
        return float(self._vessels.dilution_pct[self._place])


@dataclass(slots=True)
class Trace:
    """A build in detail. ``steps`` has one entry per step of the build, those left out too, in its order."""

    build: Build
    book: HouseBook
    result: Result
    steps: tuple[StepTrace, ...]
    final_state: Numbers
    garnish: Share
    outflows: tuple[Outflow, ...]
    melted_g: float
    wash_line_ml: float | None
    output_shares: Mapping[int, Mapping[int, Numbers]]
    poured: Mapping[int, Numbers]
    source: Source
    _by_step: dict[int, StepTrace] = field(default_factory=dict)

    def step(self, step_id: int) -> StepTrace:
        """The trace of one step. Raises ``KeyError`` for a step of another build."""
        if not self._by_step:
            self._by_step.update({step.step_id: step for step in self.steps})
        return self._by_step[step_id]

    @property
    def total(self) -> Share:
        """All that is in the vessel in the end."""
        return Share(self.final_state)

    def inside(self, step_id: int, item_id: int) -> "Inside | None":
        """The build of the house-made part that a line pours, with each of its lines' share in this vessel."""
        initial, final = self.poured.get(step_id), self.step(step_id).share.rows
        if initial is None:
            return None
        return _inside(
            self.book, self.source, item_id, self.step(step_id).found_g or 0.0, _ratio(final, initial)
        )


@dataclass(slots=True)
class Inside:
    """A part opened inside what pours it: its own trace, and ``shares`` by step of what of it is in the outer vessel."""

    trace: Trace
    item_id: int
    scale: Numbers
    shares: dict[int, Share]

    def inside(self, step_id: int, item_id: int) -> "Inside | None":
        """One level further down."""
        initial = self.trace.poured.get(step_id)
        if initial is None:
            return None
        final = self.trace.output_shares.get(self.item_id, {}).get(step_id, np.zeros(ROWS)) * self.scale
        found_g = self.trace.step(step_id).found_g or 0.0
        return _inside(self.trace.book, self.trace.source, item_id, found_g, _ratio(final, initial))


def _inside(book: HouseBook, source: Source, item_id: int, grams: float, kept: Numbers) -> Inside | None:
    maker = maker_of(book, item_id)
    if maker is None:
        return None
    trace = trace_of(book, maker.id, source)
    shares = trace.output_shares.get(item_id, {})
    total = np.zeros(ROWS)
    for share in shares.values():
        total = total + share
    mass = float(mass_g(total[:, None])[0])
    scale = kept * (grams / mass if mass > 0.0 else 0.0)
    return Inside(trace, item_id, scale, {step_id: Share(share * scale) for step_id, share in shares.items()})


def trace_of(book: HouseBook, build_id: int, source: Source) -> Trace:
    """The trace of a build whose inputs are up to date in ``source``."""
    result = source.result_now(build_id)
    return _Tracer(book, book.builds[build_id], source.program(build_id), source.run(build_id)).trace(
        result, source
    )


def _ratio(after: Numbers, before: Numbers) -> Numbers:
    """after / before row by row, 0 where there was nothing before."""
    has = before != 0.0
    ratio: Numbers = np.where(has, after / np.where(has, before, 1.0), 0.0)
    return ratio


class _Tracer:
    """Follows each line's share through the ops of one run of one column."""

    def __init__(self, book: HouseBook, build: Build, program: Program, run: Run) -> None:
        self.book, self.build, self.program, self.run_ = book, build, program, run
        self.line_of = {step_id: line for line, step_id in enumerate(program.line_steps)}
        self.shares: dict[int, Numbers] = {}
        self.poured: dict[int, Numbers] = {}
        self.after: dict[int, Numbers] = {}
        self.melted: dict[int, float] = {}
        self.yield_of: dict[int, float] = {}
        self.outputs: dict[int, dict[int, Numbers]] = {}
        self.op_of = {step_id: op for op, step_id in enumerate(program.op_steps) if step_id != NONE}
        self.output_index = 0
        self.yield_index = 0

    def trace(self, result: Result, source: Source) -> Trace:
        before = np.zeros(ROWS)
        for op, state in enumerate(self.run_.after):
            self._follow(op, before, state[:, 0])
            before = state[:, 0]
        self.outputs[self.build.id] = dict(self.shares)
        steps = self._steps()
        return Trace(
            self.build,
            self.book,
            result,
            steps,
            self.run_.state[:, 0],
            Share(self.run_.garnish[:, 0]),
            tuple(self._outflows()),
            float(self.run_.melted_g[0]),
            wash_line_ml(
                self.book.settings, self.book.glass_of(self.build), self.build.wash_line_ml, self.build.ice_g
            ),
            self.outputs,
            self.poured,
            source,
        )

    def _follow(self, op: int, before: Numbers, after: Numbers) -> None:
        name = str(self.program.ops[op][0])
        step_id = self.program.op_steps[op]
        if name == "pour":
            self._follow_pours(op, before)
        elif name in _LINE_OPS:
            self._put_in(step_id)
        elif name == "garnish":
            line = self.line_of[step_id]
            self.poured[step_id] = self.run_.per_gram[:, line, 0] * self.run_.found[line][0]
        elif name.startswith("chill"):
            melted = np.zeros(ROWS)
            melted[WATER] = self.melted[step_id] = float(self.run_.melts[op][0])
            self.shares[step_id] = melted
        else:
            self._split(op, name, before, after)
        self.after[op] = after

    def _follow_pours(self, op: int, before: Numbers) -> None:
        first, last = self.program.ops[op][1:3]
        steps = set(self.program.line_steps[int(str(first)) : int(str(last))])
        state = before
        for step in self.build.steps:
            if step.id in steps:
                self._put_in(step.id)
                state = state + self.shares[step.id]
                self.after[-1 - step.id] = state

    def _put_in(self, step_id: int) -> None:
        line = self.line_of[step_id]
        self.shares[step_id] = self.run_.per_gram[:, line, 0] * self.run_.found[line][0]
        self.poured[step_id] = self.shares[step_id]

    def _split(self, op: int, name: str, before: Numbers, after: Numbers) -> None:
        if name in _SPLITS:
            output = self.run_.outputs[self.output_index][:, 0]
            item_id = self.program.outputs[self.output_index]
            kept = _ratio(output, before)
            self.outputs[item_id] = {step_id: share * kept for step_id, share in self.shares.items()}
            self.output_index += 1
        if name.startswith("strain"):
            self.yield_of[self.program.op_steps[op]] = float(self.run_.yields[self.yield_index][0])
            self.yield_index += 1
        ratio = _ratio(after, before)
        self.shares = {step_id: share * ratio for step_id, share in self.shares.items()}

    def _outflows(self) -> list[Outflow]:
        flows = []
        for flow in self.run_.outflows:
            step_id = self.program.op_steps[flow.op]
            masses = flow.state[MASSES, 0]
            grams = float(mass_g(flow.state)[0])
            flows.append(Outflow(None if step_id == NONE else step_id, flow.kind, grams, masses))
        return flows

    def _steps(self) -> tuple[StepTrace, ...]:
        states = self._states_in_order()
        count = len(states)
        block = np.array(states).T.reshape(ROWS, count) if count else np.zeros((ROWS, 0))
        vessels = _Vessels(block, *self._ice_in_order())
        return tuple(self._step(step, vessels, place) for place, step in enumerate(self.build.steps))

    def _states_in_order(self) -> list[Numbers]:
        states: list[Numbers] = []
        state = np.zeros(ROWS)
        for step in self.build.steps:
            if not step.left_out:
                state = self.after.get(-1 - step.id, self.after.get(self.op_of.get(step.id, NONE - 1), state))
            states.append(state)
        return states

    def _ice_in_order(self) -> tuple[Numbers, Numbers]:
        melted = np.zeros(len(self.build.steps))
        before = np.zeros(len(self.build.steps))
        total = 0.0
        for index, step in enumerate(self.build.steps):
            total += self.melted.get(step.id, 0.0)
            melted[index] = total
            before[index] = self.run_.before_ice_ml[0] if total > 0.0 else 0.0
        return melted, before

    def _step(self, step: AnyStep, vessels: _Vessels, place: int) -> StepTrace:
        step_id = step.id
        found_g, found_ml = self._found(step_id)
        flows = {
            flow.kind: float(mass_g(flow.state)[0])
            for flow in self.run_.outflows
            if self.program.op_steps[flow.op] == step_id
        }
        estimate = self._estimate(step)
        missed = tuple(
            words for op, words, _columns in self.run_.missed if self.program.op_steps[op] == step_id
        )
        share = self.shares.get(step_id)
        on_glass = share is None and step_id in self.poured
        rows = self.poured[step_id] if on_glass else share if share is not None else np.zeros(ROWS)
        return StepTrace(
            step_id, found_g, found_ml, *estimate, flows.get("leftover"), flows.get("loss", flows.get("vapour")),
            Share(rows), missed, on_glass, vessels, place,
        )  # fmt: skip

    def _found(self, step_id: int) -> tuple[float | None, float | None]:
        if step_id in self.line_of:
            line = self.line_of[step_id]
            grams = float(self.run_.found[line][0])
            return grams, self._millilitres(line, grams)
        if step_id in self.melted:
            return self.melted[step_id], self.melted[step_id] / 0.9982
        return self.yield_of.get(step_id), None

    def _millilitres(self, line: int, grams: float) -> float | None:
        density = float("nan") if self.run_.densities is None else float(self.run_.densities[line, 0])
        return grams / density if density > 0.0 else None

    def _estimate(self, step: AnyStep) -> tuple[float | None, float | None, float | None]:
        op = self.op_of.get(step.id)
        if not isinstance(step, Strain) or op is None or step.expected_pct is None:
            return None, None, None
        before = self.run_.after[op - 1] if op else np.zeros((ROWS, 1))
        mass = float(mass_g(before)[0]) / 100.0
        low = step.expected_pct if step.low_pct is None else step.low_pct
        high = step.expected_pct if step.high_pct is None else step.high_pct
        return step.expected_pct * mass, low * mass, high * mass


_LINE_OPS = ("pour_at", "share_of_vessel", "share_of_lines", "to_mass", "to_volume")
_SPLITS = ("strain", "strain_weighed", "take_share", "take_mass", "take_volume")
