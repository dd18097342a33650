"""Following each line's share through the ops of one run of one column: how a trace is made."""

from collections.abc import Callable
from functools import partial

import numpy as np

from washline.chemistry.components import WATER
from washline.engine.chilling import WATER_DENSITY_G_PER_ML
from washline.engine.items import edible_yield
from washline.engine.liquid import NOTHING
from washline.engine.program import NONE, Program
from washline.engine.result import Result
from washline.engine.run import HELD, LIQUID, OUTPUT, POURED, Move, Run
from washline.engine.state import BITTER, COST, MASSES, ROWS, UNKNOWN_COST, Numbers, empty_state, mass_g
from washline.engine.traced import Inside, Outflow, Share, Source, StepTrace, Trace, Vessels, ratio
from washline.model.book import HouseBook
from washline.model.house import wash_line_ml
from washline.model.item import Build, RawIngredient
from washline.model.step import Add, Adjust, AnyStep, Infuse, Measurement, Strain, Weight

__all__ = ["Inside", "Outflow", "Share", "Source", "StepTrace", "Trace", "trace_of"]


def trace_of(book: HouseBook, build_id: int, source: Source) -> Trace:
    """The trace of a build whose inputs are up to date in ``source``."""
    read = source.reader_of(build_id)
    return _Tracer(book, book.builds[build_id], source.program(build_id), source.run(build_id)).trace(
        read, source
    )


Shares = dict[int, Numbers]
"""What of each step is in one place, (ROWS,) by step."""


class _Tracer:
    """One run of one column, op by op."""

    def __init__(self, book: HouseBook, build: Build, program: Program, run: Run) -> None:
        self.book, self.build, self.program, self.run_ = book, build, program, run
        self.lines_of: dict[int, list[int]] = {}
        for line, step_id in enumerate(program.line_steps):
            self.lines_of.setdefault(step_id, []).append(line)
        self.shares: Shares = {}
        self.held: Shares = {}
        self.poured: dict[int, Numbers] = {}
        self.after: dict[int, tuple[Numbers, float]] = {}
        self.melted: dict[int, float] = {}
        self.outputs: dict[int, Shares] = {}
        self.op_of = {step_id: op for op, step_id in enumerate(program.op_steps) if step_id != NONE}
        self.output_index = 0
        self.flows_of: dict[int, dict[str, float]] = {}
        for flow in run.outflows:
            self.flows_of.setdefault(program.op_steps[flow.op], {})[flow.kind] = float(mass_g(flow.state)[0])
        self.missed_of: dict[int, list[str]] = {}
        for op, words, _columns in run.missed:
            self.missed_of.setdefault(program.op_steps[op], []).append(words)

    def trace(self, read: Callable[[], Result], source: Source) -> Trace:
        before = np.zeros(ROWS)
        for op, state in enumerate(self.run_.after):
            self._follow(op, before, state[:, 0])
            before = state[:, 0]
        self.outputs[self.build.id] = dict(self.shares)
        held, acted_from = self.run_.held_at_end, self.run_.before_acting
        mark = wash_line_ml(
            self.book.settings, self.book.glass_of(self.build), self.build.wash_line_ml, self.build.ice_g
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
        )

    def _follow(self, op: int, before: Numbers, after: Numbers) -> None:
        name = str(self.program.ops[op][0])
        step_id = self.program.op_steps[op]
        if name == "pour":
            self._follow_pours(op, before)
        elif name in ("pour_by", "adjust"):
            self._put_in(step_id)
        elif name == "pay":
            self._pay(step_id, float(after[COST] - before[COST]))
        elif name == "garnish":
            line = self.lines_of[step_id][0]
            self.poured[step_id] = self.run_.per_gram[:, line, 0] * self.run_.found[line][0]
        elif name.startswith("chill"):
            melted = np.zeros(ROWS)
            melted[WATER] = self.melted[step_id] = float(self.run_.melts[op][0])
            self.shares[step_id] = melted
        elif name == "unite":
            self._unite()
        elif name == "act":
            self._act(after)
        elif name == "taste":
            self._taste(float(after[BITTER]))
        elif op in self.run_.moves:
            self._move(op, name, before)
        elif name.startswith("ferment"):
            self._become(before, after, is_scaled=False)
        elif name == "measure":
            self._become(before, after, is_scaled=True)
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

    def _pay(self, step_id: int, more: float) -> None:
        """What was weighed as bought is paid for by the line itself."""
        paid = np.zeros(ROWS)
        paid[COST] = more
        self.shares[step_id] = self.shares[step_id] + paid
        self.poured[step_id] = self.poured[step_id] + paid

    def _unite(self) -> None:
        for step_id, rows in self.held.items():
            self.shares[step_id] = self.shares.get(step_id, 0.0) + rows
        self.held = {}

    def _act(self, after: Numbers) -> None:
        """What acts as another item is its lines' by weight; what was paid stays each line's own."""
        grams = {step_id: float(mass_g(share[:, None])[0]) for step_id, share in self.shares.items()}
        whole = sum(grams.values())
        for step_id, share in self.shares.items():
            acting = after * (grams[step_id] / whole if whole > NOTHING else 0.0)
            acting[[COST, UNKNOWN_COST]] = share[[COST, UNKNOWN_COST]]
            self.shares[step_id] = acting

    def _taste(self, bitter: float) -> None:
        """What the house tastes is all lines' by weight."""
        grams = {step_id: float(mass_g(share[:, None])[0]) for step_id, share in self.shares.items()}
        whole = sum(grams.values())
        for step_id, share in self.shares.items():
            tasted = share.copy()
            tasted[BITTER] = bitter * (grams[step_id] / whole if whole > NOTHING else 0.0)
            self.shares[step_id] = tasted

    def _split(self, name: str, before: Numbers, after: Numbers) -> None:
        """Whatever left, left the same part of every line's share of it."""
        if name in _SPLITS:
            kept = ratio(self.run_.outputs[self.output_index][:, 0], before)
            self._note_output({step_id: share * kept for step_id, share in self.shares.items()})
        stays = ratio(after, before)
        self.shares = {step_id: share * stays for step_id, share in self.shares.items()}

    def _note_output(self, shares: Shares) -> None:
        self.outputs[self.program.outputs[self.output_index]] = shares
        self.output_index += 1

    def _move(self, op: int, name: str, before: Numbers) -> None:
        """The same between the places of the vessel, each move at once."""
        moves = self.run_.moves[op]
        if name == "infuse":
            self._infuse(self.program.op_steps[op], moves)
            return
        sources = {LIQUID: (before, self.shares), HELD: (self._held_before(op), self.held)}
        output: Shares = {}
        gained: dict[str, Shares] = {LIQUID: {}, HELD: {}, OUTPUT: output}
        lost: dict[str, Numbers] = {LIQUID: np.zeros(ROWS), HELD: np.zeros(ROWS)}
        for move in moves:
            whole, shares = sources[move.source]
            part = ratio(move.rows[:, 0], whole)
            lost[move.source] = lost[move.source] + part
            if move.target in gained:
                _collect(gained[move.target], shares, part)
        self.shares = _left(self.shares, lost[LIQUID])
        self.held = _left(self.held, lost[HELD])
        _merge(self.shares, gained[LIQUID])
        _merge(self.held, gained[HELD])
        if name in _SPLITS:
            self._note_output(output)

    def _held_before(self, op: int) -> Numbers:
        held = self.run_.held_after[op - 1] if op else None
        return np.zeros(ROWS) if held is None else held[:, 0]

    def _infuse(self, step_id: int, moves: list[Move]) -> None:
        parts = {move.target: move.rows[:, 0] for move in moves if move.source == POURED}
        self.shares[step_id], self.held[step_id] = parts[LIQUID], parts[HELD]
        self.poured[step_id] = parts[LIQUID] + parts[HELD]

    def _become(self, before: Numbers, after: Numbers, is_scaled: bool) -> None:
        """What becomes something else does so in each line's share; what comes new is of the lines that gave for it."""
        stays = ratio(after, before)
        is_new = np.abs(before) <= 0.0 if is_scaled else after > before
        kept = np.where(is_new, 1.0, stays)
        came = np.where(is_new, after - before, 0.0)
        held = {step_id: float(mass_g(share[:, None])[0]) for step_id, share in self.shares.items()}
        gave = {
            step_id: max(float(np.add.accumulate((share * (1.0 - kept))[MASSES])[-1]), 0.0)
            for step_id, share in self.shares.items()
        }
        # What is only the last digits of a sum gave nothing: then what came is shared by weight.
        gave = gave if sum(gave.values()) > LAST_DIGITS * sum(held.values()) else held
        total = sum(gave.values())
        self.shares = {
            step_id: share * kept + came * (gave[step_id] / total if total > NOTHING else 0.0)
            for step_id, share in self.shares.items()
        }

    def _outflows(self) -> list[Outflow]:
        flows = []
        outputs = iter(self.program.outputs)
        for flow in self.run_.outflows:
            step_id = self.program.op_steps[flow.op]
            item_id = next(outputs) if flow.kind == "leftover" else NONE
            is_heated = str(self.program.ops[flow.op][0]).startswith("evaporate")
            if flow.kind == "gas" and is_heated and not np.any(flow.state):
                continue
            flows.append(
                Outflow(
                    None if step_id == NONE else step_id,
                    flow.kind,
                    float(mass_g(flow.state)[0]),
                    flow.state[MASSES, 0],
                    None if item_id == NONE else item_id,
                )
            )
        return flows

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
        share = self.shares.get(step_id)
        on_glass = share is None and step_id in self.poured
        rows = self.poured[step_id] if on_glass else share if share is not None else np.zeros(ROWS)
        return StepTrace(
            step_id,
            found_g,
            found_ml,
            *self._estimate(step),
            flows.get("leftover"),
            flows.get("loss", flows.get("vapour", flows.get("gas"))),
            Share(rows),
            tuple(self.missed_of.get(step_id, ())),
            on_glass,
            self._bought_g(step, found_g),
            self._portions_g(step),
            *self._measured(step),
            vessels,
            place,
        )

    def _found(self, step_id: int) -> tuple[float | None, float | None]:
        lines = self.lines_of.get(step_id, ())
        if len(lines) == 1:
            grams = float(self.run_.found[lines[0]][0])
            return grams, self._millilitres(lines[0], grams)
        if step_id in self.melted:
            return self.melted[step_id], self.melted[step_id] / WATER_DENSITY_G_PER_ML
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


def _collect(target: Shares, shares: Shares, part: Numbers) -> None:
    for step_id, share in shares.items():
        target[step_id] = target.get(step_id, np.zeros(ROWS)) + share * part


def _left(shares: Shares, lost: Numbers) -> Shares:
    return {step_id: share * (1.0 - lost) for step_id, share in shares.items()}


def _merge(shares: Shares, more: Shares) -> None:
    for step_id, rows in more.items():
        shares[step_id] = shares.get(step_id, np.zeros(ROWS)) + rows


LAST_DIGITS = 1e-12
_SPLITS = ("strain", "strain_weighed", "take_share", "take_mass", "take_volume")
