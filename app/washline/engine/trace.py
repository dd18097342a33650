"""Following each line's share through the ops of one run of one column: how a trace is made."""

from collections.abc import Callable, Iterator
from functools import partial

import numpy as np

from washline.chemistry.components import CO2, WATER
from washline.engine.compiling_bar import ice_c_of, vessel_named
from washline.engine.items import edible_yield, foam_allowance_ml
from washline.engine.melting import WATER_DENSITY_G_PER_ML
from washline.engine.program import NONE, Program
from washline.engine.result import Result
from washline.engine.rinsing import HELD_BACK, POURED_AWAY, THROWN_AWAY
from washline.engine.run import HELD, LIQUID, OUTPUT, POURED, Move, Run
from washline.engine.state import BITTER, COST, MASSES, ROWS, Numbers, empty_state, mass_g
from washline.engine.trace_shares import Shares
from washline.engine.traced import Inside, Outflow, Share, Source, StepTrace, Trace, Vessels, ratio
from washline.engine.traced_ice import ChillTrace, GasTrace, Layer, gas_trace
from washline.model.book import HouseBook
from washline.model.house import wash_line_ml
from washline.model.item import Build, RawIngredient
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    BarStrain,
    Carbonate,
    Chill,
    Infuse,
    Measurement,
    Strain,
    Top,
    Weight,
)

__all__ = [
    "ChillTrace",
    "GasTrace",
    "Inside",
    "Layer",
    "Outflow",
    "Share",
    "Source",
    "StepTrace",
    "Trace",
    "trace_of",
]


def trace_of(book: HouseBook, build_id: int, source: Source) -> Trace:
    """The trace of a build whose inputs are up to date in ``source``."""
    read = source.reader_of(build_id)
    return _Tracer(book, book.builds[build_id], source.program(build_id), source.run(build_id)).trace(
        read, source
    )


class _Tracer:
    """One run of one column, op by op."""

    def __init__(self, book: HouseBook, build: Build, program: Program, run: Run) -> None:
        self.book, self.build, self.program, self.run_ = book, build, program, run
        self.lines_of: dict[int, list[int]] = {}
        for line, step_id in enumerate(program.line_steps):
            self.lines_of.setdefault(step_id, []).append(line)
        self.room = len({*program.line_steps, *program.op_steps})
        self.shares = Shares(self.room)
        self.held = Shares(self.room)
        self.on_glass: dict[int, Numbers] = {}
        self.poured: dict[int, Numbers] = {}
        self.after: dict[int, tuple[Numbers, float]] = {}
        self.melted: dict[int, float] = {}
        self.outputs: dict[int, dict[int, Numbers]] = {}
        names = enumerate(zip(program.op_steps, program.ops, strict=True))
        self.op_of = {
            step_id: op for op, (step_id, row) in names if step_id != NONE and row[0] != "open_bottle"
        }
        self.output_index = 0
        self.flows_of: dict[int, dict[str, float]] = {}
        for flow in run.outflows:
            of_step = self.flows_of.setdefault(program.op_steps[flow.op], {})
            of_step[flow.kind] = of_step.get(flow.kind, 0.0) + float(mass_g(flow.state)[0])
        self.missed_of: dict[int, list[str]] = {}
        for op, words, _columns in run.missed:
            self.missed_of.setdefault(program.op_steps[op], []).append(words)

    def trace(self, read: Callable[[], Result], source: Source) -> Trace:
        before = np.zeros(ROWS)
        for op, state in enumerate(self.run_.after):
            self._follow(op, before, state[:, 0])
            before = state[:, 0]
        self.outputs[self.build.id] = dict(self.shares.items())
        held, acted_from = self.run_.held_at_end, self.run_.before_acting
        ice_left_g, ice_left_c = self._ice_left()
        mark = wash_line_ml(
            self.book.settings,
            self.book.glass_of(self.build),
            self.build.wash_line_ml,
            ice_left_g,
            foam_allowance_ml(self.book, self.build),
        )
        return Trace(
            self.build,
            self.book,
            read,
            self.program.problems,
            self.program.is_whole,
            self._steps(),
            self.run_.state[:, 0],
            empty_state(1)[:, 0] if held is None else held[:, 0],
            None if acted_from is None else acted_from[:, 0],
            Share(self.run_.garnish[:, 0]),
            tuple(self._outflows()),
            float(self.run_.melted_g[0]),
            mark,
            self.outputs,
            self.poured,
            source,
            partial(_open, self.book, source),
            ice_left_g,
            ice_left_c,
            tuple(self._layers()),
        )

    def _ice_left(self) -> tuple[float, float]:
        """Grams and °C of the ice that a method or a straining left in the glass, else of its fresh ice."""
        if self.run_.glass_ice is not None:
            grams, celsius = self.run_.glass_ice
            return float(grams[0]), float(celsius[0])
        fresh_c = ice_c_of(self.book.ice_named(self.build.ice or ""), None)
        if self.build.ice_g is not None:
            return self.build.ice_g, fresh_c
        glass = self.book.glass_of(self.build)
        return (0.0 if glass is None else glass.ice_g), fresh_c

    def _layers(self) -> Iterator[Layer]:
        for step in self.build.steps:
            grams, millilitres = self._found(step.id)
            if isinstance(step, Top) and step.is_layer and not step.left_out and grams is not None:
                yield Layer(step.id, grams, millilitres, grams / millilitres if millilitres else None)

    def _follow(self, op: int, before: Numbers, after: Numbers) -> None:
        name = str(self.program.ops[op][0])
        step_id = self.program.op_steps[op]
        if name == "pour":
            self._follow_pours(op, before)
        elif name in ("pour_by", "adjust"):
            self._put_in(step_id)
        elif name == "pay":
            self._pay(step_id, float(after[COST] - before[COST]))
        elif name in ("garnish", "rinse", "spray"):
            self._put_in_part(op, step_id, is_on_glass=name == "garnish")
        elif name.startswith("chill"):
            melted = np.zeros(ROWS)
            melted[WATER] = self.melted[step_id] = float(self.run_.melts[op][0])
            self.shares[step_id] = melted
        elif name == "carbonate":
            self._carbonate(op, step_id, before, after)
        elif name == "unite":
            self._unite()
        elif name == "act":
            self.shares = self.shares.acting(after)
        elif name == "taste":
            self.shares = self.shares.tasting(float(after[BITTER]))
        elif op in self.run_.moves:
            self._move(op, name, before)
        elif name.startswith("ferment"):
            self.shares = self.shares.becoming(before, after, is_scaled=False)
        elif name == "measure":
            self.shares = self.shares.becoming(before, after, is_scaled=True)
        else:
            self._split(name, before, after)
        self.after[op] = after, self._held_g(op)

    def _held_g(self, op: int) -> float:
        held = self.run_.held_after[op]
        return 0.0 if held is None else float(mass_g(held)[0])

    def _follow_pours(self, op: int, before: Numbers) -> None:
        first, last = self.program.ops[op][1:3]
        steps = set(self.program.line_steps[int(str(first)) : int(str(last))])
        state, held_g = before, self._held_g(op)
        for step in self.build.steps:
            if step.id in steps:
                self._put_in(step.id)
                state = state + self.shares[step.id]
                self.after[-1 - step.id] = state, held_g

    def _put_in(self, step_id: int) -> None:
        first, *others = self.lines_of[step_id]
        rows = self.run_.per_gram[:, first, 0] * self.run_.found[first][0]
        for line in others:
            rows = rows + self.run_.per_gram[:, line, 0] * self.run_.found[line][0]
        self.shares[step_id] = self.poured[step_id] = rows

    def _put_in_part(self, op: int, step_id: int, is_on_glass: bool) -> None:
        """A line of which a part may be poured or thrown away: what stays carries all its cost."""
        line = self.lines_of[step_id][0]
        self.poured[step_id] = self.run_.per_gram[:, line, 0] * self.run_.found[line][0]
        moved = self.run_.moves.get(op)
        stays = self.poured[step_id] if moved is None else moved[0].rows[:, 0]
        (self.on_glass if is_on_glass else self.shares)[step_id] = stays

    def _carbonate(self, op: int, step_id: int, before: Numbers, after: Numbers) -> None:
        """Gas that came is the step's; gas that left, left every line's share of it."""
        came = np.zeros(ROWS)
        came[CO2] = float(self.run_.gained[op][0])
        self._split("carbonate", before, after - came)
        self.shares[step_id] = came

    def _pay(self, step_id: int, more: float) -> None:
        """What was weighed as bought is paid for by the line itself."""
        paid = np.zeros(ROWS)
        paid[COST] = more
        self.shares[step_id] = self.shares[step_id] + paid
        self.poured[step_id] = self.poured[step_id] + paid

    def _unite(self) -> None:
        self.shares.gain(self.held)
        self.held = Shares(self.room)

    def _split(self, name: str, before: Numbers, after: Numbers) -> None:
        """Whatever left, left the same part of every line's share of it."""
        if name in _SPLITS:
            kept = ratio(self.run_.outputs[self.output_index][:, 0], before)
            self._note_output(self.shares.scaled(kept))
        self.shares = self.shares.scaled(ratio(after, before))

    def _note_output(self, shares: Shares) -> None:
        self.outputs[self.program.outputs[self.output_index]] = dict(shares.items())
        self.output_index += 1

    def _move(self, op: int, name: str, before: Numbers) -> None:
        """The same between the places of the vessel, each move at once."""
        moves = self.run_.moves[op]
        if name == "infuse":
            self._infuse(self.program.op_steps[op], moves)
            return
        sources = {LIQUID: (before, self.shares), HELD: (self._held_before(op), self.held)}
        gained = {place: Shares(self.room) for place in (LIQUID, HELD, OUTPUT)}
        lost = {LIQUID: np.zeros(ROWS), HELD: np.zeros(ROWS)}
        for move in moves:
            whole, shares = sources[move.source]
            part = ratio(move.rows[:, 0], whole)
            lost[move.source] = lost[move.source] + part
            if move.target in gained:
                gained[move.target].gain(shares.scaled(part))
        self.shares = self.shares.scaled(1.0 - lost[LIQUID])
        self.held = self.held.scaled(1.0 - lost[HELD])
        self.shares.gain(gained[LIQUID])
        self.held.gain(gained[HELD])
        if name in _SPLITS:
            self._note_output(gained[OUTPUT])

    def _held_before(self, op: int) -> Numbers:
        held = self.run_.held_after[op - 1] if op else None
        return np.zeros(ROWS) if held is None else held[:, 0]

    def _infuse(self, step_id: int, moves: list[Move]) -> None:
        parts = {move.target: move.rows[:, 0] for move in moves if move.source == POURED}
        self.shares[step_id], self.held[step_id] = parts[LIQUID], parts[HELD]
        self.poured[step_id] = parts[LIQUID] + parts[HELD]

    def _outflows(self) -> list[Outflow]:
        """What left, in order; what left one step in one way is one outflow."""
        flows: dict[tuple[int, str, int], Outflow] = {}
        outputs = iter(self.program.outputs)
        for flow in self.run_.outflows:
            step_id = self.program.op_steps[flow.op]
            item_id = next(outputs) if flow.kind == "leftover" else NONE
            is_heated = str(self.program.ops[flow.op][0]).startswith("evaporate")
            if flow.kind == "gas" and is_heated and not np.any(flow.state):
                continue
            key = step_id, flow.kind, item_id
            masses, grams = flow.state[MASSES, 0], float(mass_g(flow.state)[0])
            if key in flows:
                masses, grams = flows[key].masses + masses, flows[key].grams + grams
            flows[key] = Outflow(
                None if step_id == NONE else step_id,
                flow.kind,
                grams,
                masses,
                None if item_id == NONE else item_id,
            )
        return list(flows.values())

    def _steps(self) -> tuple[StepTrace, ...]:
        states, held_g = self._states_in_order()
        count = len(states)
        block = np.array(states).T.reshape(ROWS, count) if count else np.zeros((ROWS, 0))
        vessels = Vessels(block, np.array(held_g), *self._ice_in_order())
        return tuple(self._step(step, vessels, place) for place, step in enumerate(self.build.steps))

    def _states_in_order(self) -> tuple[list[Numbers], list[float]]:
        states: list[Numbers] = []
        held_g: list[float] = []
        state, held = np.zeros(ROWS), 0.0
        for step in self.build.steps:
            if not step.left_out:
                found = self.after.get(-1 - step.id) or self.after.get(self.op_of.get(step.id, NONE - 1))
                state, held = found or (state, held)
            states.append(state)
            held_g.append(held)
        return states, held_g

    def _ice_in_order(self) -> tuple[Numbers, Numbers]:
        melted = np.zeros(len(self.build.steps))
        before = np.zeros(len(self.build.steps))
        total = 0.0
        for index, step in enumerate(self.build.steps):
            total += self.melted.get(step.id, 0.0)
            melted[index] = total
            before[index] = self.run_.before_ice_ml[0] if total > 0.0 else 0.0
        return melted, before

    def _step(self, step: AnyStep, vessels: Vessels, place: int) -> StepTrace:
        step_id = step.id
        found_g, found_ml = self._found(step_id)
        flows = self.flows_of.get(step_id, {})
        on_glass = step_id in self.on_glass
        rows = self.on_glass[step_id] if on_glass else self._share(step_id)
        return StepTrace(
            step_id,
            found_g,
            found_ml,
            *self._estimate(step),
            flows.get("leftover"),
            next((flows[kind] for kind in _LOSSES if kind in flows), None),
            Share(rows),
            tuple(self.missed_of.get(step_id, ())),
            on_glass,
            self._bought_g(step, found_g),
            self._portions_g(step),
            *self._measured(step),
            vessels,
            place,
            self._chill(step),
            self._gas(step),
        )

    def _share(self, step_id: int) -> Numbers:
        return self.shares[step_id] if step_id in self.shares else np.zeros(ROWS)

    def _chill(self, step: AnyStep) -> ChillTrace | None:
        op = self.op_of.get(step.id, NONE)
        melt = self.run_.chills.get(op)
        if melt is None or not isinstance(step, Chill | BarStrain):
            return None
        is_calibrated = False
        if isinstance(step, Chill):
            ice = self.book.ice_named(step.ice or self.book.methods[step.method].ice)
            is_calibrated = self.book.calibration_of(step.method, ice) is not None
        seconds = step.duration_s if isinstance(step, Chill) else None
        return ChillTrace(melt, self.program.ops[op][0] == "chill_on_ice", is_calibrated, seconds)

    def _gas(self, step: AnyStep) -> GasTrace | None:
        gas = self.run_.gases.get(self.op_of.get(step.id, NONE))
        if gas is None or not isinstance(step, Carbonate):
            return None
        vessel = vessel_named(self.book, step.vessel)
        return gas_trace(gas, "" if vessel is None else vessel.slug)

    def _found(self, step_id: int) -> tuple[float | None, float | None]:
        lines = self.lines_of.get(step_id, ())
        if len(lines) == 1:
            grams = float(self.run_.found[lines[0]][0])
            return grams, self._millilitres(lines[0], grams)
        if step_id in self.melted:
            return self.melted[step_id], self.melted[step_id] / WATER_DENSITY_G_PER_ML
        gained = self.run_.gained.get(self.op_of.get(step_id, NONE))
        if gained is not None:
            return float(gained[0]), None
        left = self.run_.yield_of.get(self.op_of.get(step_id, NONE))
        return None if left is None else float(left[0]), None

    def _millilitres(self, line: int, grams: float) -> float | None:
        density = float("nan") if self.run_.densities is None else float(self.run_.densities[line, 0])
        return grams / density if density > 0.0 else None

    def _estimate(self, step: AnyStep) -> tuple[float | None, float | None, float | None]:
        op = self.op_of.get(step.id)
        if not isinstance(step, Strain) or op is None or step.expected_pct is None:
            return None, None, None
        state, held_g = self.after[op - 1] if op else (np.zeros(ROWS), 0.0)
        mass = (float(mass_g(state[:, None])[0]) + held_g) / 100.0
        low = step.expected_pct if step.low_pct is None else step.low_pct
        high = step.expected_pct if step.high_pct is None else step.high_pct
        return step.expected_pct * mass, low * mass, high * mass

    def _bought_g(self, step: AnyStep, found_g: float | None) -> float | None:
        if not isinstance(step, Add | Infuse) or found_g is None:
            return None
        item = self.book.item(step.item_id)
        if step.bought_g is not None and step.weight is not Weight.BOUGHT and isinstance(item, RawIngredient):
            return step.bought_g
        usable = edible_yield(item)
        return None if usable is None else found_g / usable

    def _portions_g(self, step: AnyStep) -> tuple[tuple[int, float], ...]:
        if not isinstance(step, Adjust):
            return ()
        lines = self.lines_of.get(step.id, ())
        items = self.program.items
        return tuple((int(items[line]), float(self.run_.found[line][0])) for line in lines)

    def _measured(self, step: AnyStep) -> tuple[float | None, float | None, float | None]:
        found = self.run_.measured.get(self.op_of.get(step.id, NONE))
        if not isinstance(step, Measurement) or found is None:
            return None, None, None
        before, after = float(found[0][0]), float(found[1][0])
        return _known(before), _known(after), _known(_residual(step, before))


def _open(book: HouseBook, source: Source, build_id: int) -> Trace:
    return trace_of(book, build_id, source)


def _known(number: float) -> float | None:
    return None if number != number else number


def _residual(step: Measurement, computed: float) -> float:
    """The residual in sigmas: the gain that is kept with a measurement is the computed value's share of their joint
    variance, so that the joint one is the instrument's own over the rest."""
    if not step.uncertainty or step.gain >= 1.0:
        return float("nan")
    joint = step.uncertainty / float(np.sqrt(1.0 - step.gain))
    return (step.value - computed) / joint


_LOSSES = ("loss", "vapour", "gas", HELD_BACK, POURED_AWAY, THROWN_AWAY)
"""What a step lost, by the first of these kinds that left at it."""

_SPLITS = ("strain", "strain_weighed", "take_share", "take_mass", "take_volume")
