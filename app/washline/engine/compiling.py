"""Compiling a build: the lines of its steps, their amounts and units, in canonical order.

A run of plain adds is sorted by item, so that the order in which independent lines are poured changes no bit of the result.
"""

from dataclasses import dataclass, field

from washline.engine.items import edible_yield, foam_allowance_ml
from washline.engine.program import NONE, LineProblem, Op
from washline.engine.state import DASH, DROP, MASS, PIECE, VOLUME
from washline.engine.units import kind_and_factor
from washline.model.amount import Amount, Basis, Heft
from washline.model.book import HouseBook
from washline.model.house import wash_line_ml
from washline.model.item import Build, RawIngredient
from washline.model.step import Add, Garnish, Infuse, Rinse, Step, Take, Top, Weight

Poured = Add | Infuse | Rinse | Top
"""The steps whose one line goes into the vessel."""

_SHARES = (Basis.PERCENT_OF_VESSEL, Basis.PERCENT_OF_LINES, Basis.PARTS)
_MARKS = (Basis.TO_MASS, Basis.TO_VOLUME, Basis.TO_WASH_LINE)


@dataclass(frozen=True, slots=True)
class Line:
    """How a line finds its grams: kind and amount for the program, the basis that ``pouring`` knows, what it refers to, and
    the number of its typed temperature."""

    kind: int
    amount: float
    basis: str
    refers: tuple[int, ...]
    temperature: int


@dataclass(slots=True)
class Compiler:
    """A program while it is written."""

    book: HouseBook
    build: Build
    ops: list[Op] = field(default_factory=list)
    op_steps: list[int] = field(default_factory=list)
    items: list[int] = field(default_factory=list)
    kinds: list[int] = field(default_factory=list)
    amounts: list[float] = field(default_factory=list)
    line_steps: list[int] = field(default_factory=list)
    numbers: list[float] = field(default_factory=list)
    doubtful: list[tuple[int, str, int]] = field(default_factory=list)
    outputs: list[int] = field(default_factory=list)
    problems: list[LineProblem] = field(default_factory=list)
    openings: list[tuple[int, float]] = field(default_factory=list)
    """Steps whose closed bottle is opened in the end, with the share of the gas that leaves then."""
    found_of: dict[int, int] = field(default_factory=dict)
    """Index of what a step put in or left, by step id: lines count up from 0, yields down from -2."""
    run: list[tuple[int, int, float, Add]] = field(default_factory=list)
    yields: int = 0
    is_on_glass: bool = False
    is_holding: bool = False
    """Whether something may be in the vessel that is no part of the liquid."""

    def number(self, value: float, step_id: int = NONE, doubt: str = "") -> int:
        """The index of a number; ``doubt`` names it for the causes of uncertainty of its step."""
        self.numbers.append(value)
        if doubt:
            self.doubtful.append((step_id, doubt, len(self.numbers) - 1))
        return len(self.numbers) - 1

    def number_or_none(self, value: float | None, step_id: int = NONE, doubt: str = "") -> int:
        """The index of a number, ``NONE`` where none was given."""
        return NONE if value is None else self.number(value, step_id, doubt)

    def share_or_none(self, percent: float | None, step_id: int = NONE, doubt: str = "") -> int:
        """The index of a percentage as a share, ``NONE`` where none was given."""
        return NONE if percent is None else self.number(percent / 100.0, step_id, doubt)

    def op(self, step_id: int, *op: str | int | tuple[int, ...]) -> None:
        """Writes one operation."""
        self.ops.append(op)
        self.op_steps.append(step_id)

    def line(self, step_id: int, item_id: int, kind: int, amount: float) -> int:
        """Writes one line; its index."""
        self.items.append(item_id)
        self.kinds.append(kind)
        self.amounts.append(amount)
        self.line_steps.append(step_id)
        if step_id != NONE:
            self.found_of[step_id] = len(self.items) - 1
        return len(self.items) - 1

    def leaves_yield(self, step_id: int) -> None:
        """A later share may refer to what the step leaves."""
        self.yields += 1
        self.found_of[step_id] = -1 - self.yields

    def problem(self, step_id: int, words: str) -> None:
        """Says why a step cannot be computed."""
        self.problems.append(LineProblem(step_id, words, self.is_on_glass))

    def flush(self) -> None:
        """Ends a run of plain adds: one op for all, in canonical order."""
        if not self.run:
            return
        first = len(self.items)
        for item_id, kind, amount, step in sorted(self.run, key=lambda entry: entry[:3]):
            self.line(step.id, item_id, kind, amount)
        self.run.clear()
        self.op(NONE, "pour", first, len(self.items))

    def add(self, step: Add | Top) -> None:
        """A line into the liquid: with the run of plain adds, or by its basis."""
        unit = self.unit(step, step.amount)
        factor = None if unit is None else self.used_of_amount(step)
        if unit is None or factor is None:
            return
        kind, amount = unit[0], self.size(step.amount, *unit) * factor
        is_plain = isinstance(step, Add) and step.temperature_c is None and self.paid_g(step) is None
        if is_plain and step.amount.basis is Basis.ABSOLUTE:
            self.run.append((step.item_id, kind, amount, step))  # type: ignore[arg-type]
            return
        line = self.line_of(step, kind, amount)
        if line is not None:
            index = self.line(step.id, step.item_id, line.kind, line.amount)
            self.op(step.id, "pour_by", index, line.basis, line.temperature, line.refers)
            self.pay(step, index)

    def size(self, amount: Amount, kind: int, factor: float) -> float:
        """An amount in its kind of unit; a volume that is scant or heavy is as much under or over as the house says."""
        size = amount.number * factor
        if amount.heft is Heft.EVEN or amount.basis is not Basis.ABSOLUTE or kind != VOLUME:
            return size
        if amount.heft is Heft.SCANT:
            return max(size - self.book.settings.scant_ml, 0.0)
        return size + self.book.settings.heavy_ml

    def line_of(self, step: Poured, kind: int, amount: float) -> Line | None:
        """How a line finds its grams, or ``None`` after saying why it does not; ends the run of plain adds."""
        refers = self.references(step)
        if refers is None:
            return None
        self.flush()
        at = self.number_or_none(step.temperature_c)
        basis = step.amount.basis
        if basis is Basis.ABSOLUTE:
            return Line(kind, amount, "absolute", refers, at)
        if basis is Basis.PERCENT_OF_VESSEL:
            return Line(MASS, amount / 100.0, "share_of_vessel", refers, at)
        if basis is Basis.PERCENT_OF_LINES:
            return Line(MASS, amount / 100.0, "share_of_lines", refers, at)
        if basis is Basis.PARTS:
            return Line(MASS, amount, "share_of_lines", refers, at)
        if basis is Basis.TO_MASS:
            return Line(MASS, amount, "to_mass", refers, at)
        return (
            self.wash_line(step, at)
            if basis is Basis.TO_WASH_LINE
            else Line(MASS, amount, "to_volume", refers, at)
        )

    def wash_line(self, step: Step, at: int) -> Line | None:
        """To the mark of the drink's glass, which the ice in it may move; ``None`` after saying that there is none."""
        build, settings = self.build, self.book.settings
        glass = self.book.glass_of(build)
        foam_ml = foam_allowance_ml(self.book, build)
        mark = wash_line_ml(settings, glass, build.wash_line_ml, build.ice_g, foam_ml)
        if mark is None:
            self.problem(step.id, "no wash line: choose a glass for this drink")
            return None
        if glass is None or build.wash_line_ml is not None or glass.wash_line_ml is not None:
            return Line(MASS, mark, "to_volume", (), at)
        ice = self.number(glass.ice_g if build.ice_g is None else build.ice_g)
        return Line(MASS, mark, "to_wash_line", (ice, self.number(settings.wash_line_pct / 100.0)), at)

    def used_of_amount(self, step: Poured) -> float | None:
        """What goes into the vessel of one unit of the amount: the edible yield where the amount is as bought; ``None``
        after saying that nobody knows it."""
        if isinstance(step, Top | Rinse) or step.weight is not Weight.BOUGHT or step.amount.basis in _MARKS:
            return 1.0
        share = edible_yield(self.book.item(step.item_id))
        if share is None:
            self.problem(step.id, "the edible yield is not known: weigh what is used")
        return share

    def paid_g(self, step: Add | Infuse | Top) -> float | None:
        """What was weighed as bought, in terms of what the item's own yield leaves of it; ``None`` where that yield tells
        what was bought."""
        if isinstance(step, Top) or step.bought_g is None or step.weight is Weight.BOUGHT:
            return None
        item = self.book.item(step.item_id)
        return step.bought_g * (edible_yield(item) or 1.0) if isinstance(item, RawIngredient) else None

    def pay(self, step: Add | Infuse | Top, line: int) -> None:
        """Pays for what was weighed as bought."""
        paid = self.paid_g(step)
        if paid is not None:
            self.op(step.id, "pay", line, self.number(paid))

    def unit(self, step: Poured | Garnish | Take, amount: Amount) -> tuple[int, float] | None:
        """Kind and factor of an amount's unit, or ``None`` after saying why there is none."""
        if not isinstance(step, Take) and not self.knows(step.id, step.item_id):
            return None
        if amount.basis in _SHARES or amount.basis is Basis.TO_WASH_LINE:
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

    def knows(self, step_id: int, item_id: int) -> bool:
        """Whether the item is there; says so where it is not."""
        item = self.book.item(item_id)
        if item is None:
            self.problem(step_id, "this item is no longer in the house book")
        return item is not None

    def references(self, step: Poured) -> tuple[int, ...] | None:
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
