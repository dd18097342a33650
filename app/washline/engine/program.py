"""Compiling a build: its steps become a short program whose sequence is a key and whose typed numbers are a vector.

Builds with equal skeletons run together, one column each. A run of plain adds is sorted by item, so that the order in
which independent lines are poured changes no bit of the result.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from washline.engine.state import DASH, DROP, MASS, PIECE, VOLUME, Numbers
from washline.engine.units import kind_and_factor
from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.house import wash_line_ml
from washline.model.item import Build, RawIngredient
from washline.model.step import Add, Chill, Dry, Garnish, Heat, Reduce, Strain, Take, Top

Op = tuple[str | int | tuple[int, ...], ...]
"""One operation: its name, then indices of lines and numbers; two builds with equal ops differ in numbers only."""

NONE = -1
"""In an op: there is no such number or output."""


@dataclass(frozen=True, slots=True)
class LineProblem:
    """Why a step could not be computed, in words for the row. One on the glass spoils cost and energy only."""

    step_id: int
    words: str
    is_on_glass: bool = False


@dataclass(slots=True)
class Program:
    """A compiled build. Lines are its adds, tops and garnishes in canonical order; ``items``, ``kinds`` and ``amounts``
    run along them. ``numbers`` are all other typed numbers. ``op_steps`` gives the step of each op (``NONE`` for a run
    of pours), ``line_steps`` the step of each line."""

    build_id: int
    ops: tuple[Op, ...]
    items: NDArray[np.int64]
    kinds: NDArray[np.int64]
    amounts: Numbers
    numbers: Numbers
    line_steps: tuple[int, ...]
    op_steps: tuple[int, ...]
    outputs: tuple[int, ...]
    problems: tuple[LineProblem, ...] = ()

    @property
    def skeleton(self) -> tuple[tuple[Op, ...], int, int]:
        """What must be equal for two programs to run in one batch."""
        return self.ops, len(self.items), len(self.numbers)

    @property
    def is_whole(self) -> bool:
        """Whether everything in the vessel could be computed; a problem on the glass spoils no liquid."""
        return all(problem.is_on_glass for problem in self.problems)


@dataclass(slots=True)
class _Compiler:
    book: HouseBook
    build: Build
    ops: list[Op] = field(default_factory=list)
    op_steps: list[int] = field(default_factory=list)
    items: list[int] = field(default_factory=list)
    kinds: list[int] = field(default_factory=list)
    amounts: list[float] = field(default_factory=list)
    line_steps: list[int] = field(default_factory=list)
    numbers: list[float] = field(default_factory=list)
    outputs: list[int] = field(default_factory=list)
    problems: list[LineProblem] = field(default_factory=list)
    found_of: dict[int, int] = field(default_factory=dict)
    """Index of what a step put in or left, by step id: lines count up from 0, yields down from -2."""
    run: list[tuple[int, int, float, Add]] = field(default_factory=list)
    yields: int = 0
    is_on_glass: bool = False

    def number(self, value: float) -> int:
        self.numbers.append(value)
        return len(self.numbers) - 1

    def op(self, step_id: int, *op: str | int | tuple[int, ...]) -> None:
        self.ops.append(op)
        self.op_steps.append(step_id)

    def line(self, step: Add | Top | Garnish, kind: int, amount: float) -> int:
        self.items.append(step.item_id)
        self.kinds.append(kind)
        self.amounts.append(amount)
        self.line_steps.append(step.id)
        self.found_of[step.id] = len(self.items) - 1
        return len(self.items) - 1

    def problem(self, step_id: int, words: str) -> None:
        self.problems.append(LineProblem(step_id, words, self.is_on_glass))

    def flush(self) -> None:
        """Ends a run of plain adds: one op for all, in canonical order."""
        if not self.run:
            return
        first = len(self.items)
        for _item, kind, amount, step in sorted(self.run, key=lambda entry: entry[:3]):
            self.line(step, kind, amount)
        self.run.clear()
        self.op(NONE, "pour", first, len(self.items))

    def add(self, step: Add | Top) -> None:
        unit = self.unit(step, step.amount)
        if unit is None:
            return
        kind, factor = unit
        basis = step.amount.basis
        amount = step.amount.number * factor
        if basis is Basis.ABSOLUTE and isinstance(step, Add) and step.temperature_c is None:
            self.run.append((step.item_id, kind, amount, step))
            return
        refers = self.references(step)
        if refers is None:
            return
        self.flush()
        at = NONE if step.temperature_c is None else self.number(step.temperature_c)
        self.shared_line(step, kind, amount, refers, at)

    def shared_line(
        self, step: Add | Top, kind: int, amount: float, refers: tuple[int, ...], at: int
    ) -> None:
        basis = step.amount.basis
        if basis is Basis.ABSOLUTE:
            self.op(step.id, "pour_at", self.line(step, kind, amount), at)
        elif basis is Basis.PERCENT_OF_VESSEL:
            self.op(step.id, "share_of_vessel", self.line(step, MASS, amount / 100.0), at)
        elif basis is Basis.PERCENT_OF_LINES:
            self.op(step.id, "share_of_lines", self.line(step, MASS, amount / 100.0), at, refers)
        elif basis is Basis.PARTS:
            self.op(step.id, "share_of_lines", self.line(step, MASS, amount), at, refers)
        elif basis is Basis.TO_MASS:
            self.op(step.id, "to_mass", self.line(step, MASS, amount), at)
        else:
            mark = self.wash_line(step) if basis is Basis.TO_WASH_LINE else amount
            if mark is not None:
                self.op(step.id, "to_volume", self.line(step, MASS, mark), at)

    def wash_line(self, step: Add | Top) -> float | None:
        build = self.build
        mark = wash_line_ml(self.book.settings, self.book.glass_of(build), build.wash_line_ml, build.ice_g)
        if mark is None:
            self.problem(step.id, "no wash line: choose a glass for this drink")
        return mark

    def unit(self, step: Add | Top | Garnish | Take, amount: Amount) -> tuple[int, float] | None:
        """Kind and factor of an amount's unit, or ``None`` after saying why there is none."""
        if not isinstance(step, Take) and not self.knows(step):
            return None
        if amount.basis in (Basis.PERCENT_OF_VESSEL, Basis.PERCENT_OF_LINES, Basis.PARTS, Basis.TO_WASH_LINE):
            return MASS, 1.0
        found = kind_and_factor(self.book, amount.unit)
        if found is None:
            self.problem(step.id, f"unit not known here: {amount.unit}")
            return None
        words = "" if isinstance(step, Take) else self.cannot_measure(step.item_id, found[0])
        if words:
            self.problem(step.id, words)
        return None if words else found

    def cannot_measure(self, item_id: int, kind: int) -> str:
        """Why an item has no amount in that kind of unit; empty where it has one."""
        item = self.book.item(item_id)
        if kind == PIECE and getattr(item, "piece_g", None) is None:
            return "what one piece weighs is not known: give grams"
        if kind in (VOLUME, DASH, DROP) and isinstance(item, RawIngredient) and not item.is_poured:
            return "a solid is not poured by volume: give grams"
        return ""

    def knows(self, step: Add | Top | Garnish) -> bool:
        item = self.book.item(step.item_id)
        if item is None:
            self.problem(step.id, "this item is no longer in the house book")
        return item is not None

    def references(self, step: Add | Top) -> tuple[int, ...] | None:
        """The indices of what a share refers to, or ``None`` after saying what is missing."""
        basis = step.amount.basis
        if basis not in (Basis.PERCENT_OF_LINES, Basis.PARTS):
            return ()
        self.flush()
        refers = tuple(self.found_of[step_id] for step_id in step.amount.of if step_id in self.found_of)
        if not refers or len(refers) < len(step.amount.of):
            self.problem(step.id, "the line it is a share of is not above it")
            return None
        return refers

    def strain(self, step: Strain) -> None:
        expected = 100.0 if step.expected_pct is None else step.expected_pct
        if step.weighed_g is None and step.expected_pct is None:
            self.problem(step.id, "weigh what was strained, or say what percent is expected")
            return
        liquid = self.number(expected / 100.0 if step.weighed_g is None else step.weighed_g)
        kept = NONE if step.leftover_weighed_g is None else self.number(step.leftover_weighed_g)
        self.yields += 1
        self.found_of[step.id] = -1 - self.yields
        self.op(step.id, "strain_weighed" if step.weighed_g is not None else "strain", liquid, kept)
        self.outputs.append(step.leftover_id if step.leftover_id is not None else NONE)

    def evaporate(self, step: Heat | Reduce | Dry) -> None:
        kept = NONE if step.ethanol_kept_pct is None else self.number(step.ethanol_kept_pct / 100.0)
        if step.final_g is not None:
            self.op(step.id, "evaporate_to", self.number(step.final_g), kept)
        elif step.final_pct is not None:
            self.op(step.id, "evaporate_by", self.number(step.final_pct / 100.0), kept)
        elif kept != NONE:
            self.op(step.id, "evaporate_by", NONE, kept)

    def take(self, step: Take) -> None:
        if step.amount.basis is Basis.PERCENT_OF_VESSEL:
            self.op(step.id, "take_share", self.number(step.amount.number / 100.0))
        else:
            unit = self.unit(step, step.amount)
            if unit is None or unit[0] not in (MASS, VOLUME):
                self.problem(step.id, "take so many g or ml, or a percent of what is in the vessel")
                return
            self.op(
                step.id,
                "take_mass" if unit[0] == MASS else "take_volume",
                self.number(step.amount.number * unit[1]),
            )
        self.outputs.append(step.leftover_id if step.leftover_id is not None else NONE)

    def chill(self, step: Chill) -> None:
        method = self.book.methods.get(step.method)
        if method is None:
            self.problem(step.id, f"chilling method not known here: {step.method}")
            return
        end = self.number((method.end_low_c + method.end_high_c) / 2.0)
        if step.melted_g is not None:
            self.op(step.id, "chill_melted", self.number(step.melted_g), end)
        elif step.final_g is not None:
            self.op(step.id, "chill_to_mass", self.number(step.final_g), end)
        elif step.final_ml is not None:
            self.op(step.id, "chill_to_volume", self.number(step.final_ml), end)
        elif step.method in REGRESSIONS:
            self.op(step.id, f"chill_{step.method}", self.number(0.0), end)
        else:
            middle = (method.dilution_low_pct + method.dilution_high_pct) / 200.0
            self.op(step.id, "chill_by", self.number(middle), end)

    def garnish(self, step: Garnish) -> None:
        if step.in_liquid:
            self.add(
                Add(
                    id=step.id,
                    build_id=step.build_id,
                    place=step.place,
                    item_id=step.item_id,
                    amount=step.amount,
                )
            )
            return
        self.is_on_glass = True
        unit = self.unit(step, step.amount)
        self.is_on_glass = False
        if unit is None:
            return
        self.flush()
        self.op(step.id, "garnish", self.line(step, unit[0], step.amount.number * unit[1]))


REGRESSIONS = ("stir", "shake")
"""The methods whose dilution has a published regression on the strength before ice."""


def compile_build(book: HouseBook, build: Build) -> Program:
    """The program of a build. Steps left out and steps of words alone leave no trace in it."""
    compiler = _Compiler(book, build)
    for step in build.steps:
        if step.left_out:
            continue
        if isinstance(step, Add):
            compiler.add(step)
            continue
        _compile_step(compiler, step)
    compiler.flush()
    if build.is_drink:
        compiler.op(NONE, "serve", compiler.number(book.settings.fizz_loss_pct / 100.0))
    return Program(
        build.id,
        tuple(compiler.ops),
        np.array(compiler.items, dtype=np.int64),
        np.array(compiler.kinds, dtype=np.int64),
        np.array(compiler.amounts, dtype=np.float64),
        np.array(compiler.numbers, dtype=np.float64),
        tuple(compiler.line_steps),
        tuple(compiler.op_steps),
        tuple(compiler.outputs),
        tuple(compiler.problems),
    )


def _compile_step(compiler: _Compiler, step: object) -> None:
    if isinstance(step, Garnish):
        compiler.garnish(step)
        return
    if isinstance(step, Top | Strain | Heat | Reduce | Dry | Take | Chill):
        compiler.flush()
    if isinstance(step, Top):
        compiler.add(step)
    elif isinstance(step, Strain):
        compiler.strain(step)
    elif isinstance(step, Heat | Reduce | Dry):
        compiler.evaporate(step)
    elif isinstance(step, Take):
        compiler.take(step)
    elif isinstance(step, Chill):
        compiler.chill(step)
