"""One build in full detail: what each step put in, left and lost, and what of it is still there in the end.

A share is followed through every split: where a step leaves a part of a component behind, it leaves the same part of
every line's share of it, so that shares add up to the state.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Protocol

import numpy as np

from washline.chemistry.acidity import titratable_acidity_citric_g
from washline.chemistry.components import ETHANOL, SUGARS
from washline.engine.liquid import NOTHING
from washline.engine.program import LineProblem, Program
from washline.engine.readings import BY_ITSELF, dilution_pct, figures, one_reading
from washline.engine.result import Result
from washline.engine.run import Run
from washline.engine.state import COST, MASSES, ROWS, Numbers, bound_mmol, mass_g
from washline.engine.traced_ice import ChillTrace, GasTrace, Layer
from washline.model.book import HouseBook
from washline.model.graph import maker_of
from washline.model.item import Build


class Source(Protocol):
    """Where a trace takes programs, runs and results from."""

    def result_now(self, build_id: int) -> Result:
        """The readings of a build, evaluated if need be."""

    def reader_of(self, build_id: int) -> Callable[[], Result]:
        """Gives the readings of a build as they are now, however late it is asked."""

    def program(self, build_id: int) -> Program:
        """The compiled program of a build."""

    def run(self, build_id: int) -> Run:
        """A build run again with the state after every op."""

    def columns_of(self, item_id: int) -> tuple[Numbers, Numbers] | None:
        """What a gram (ROWS,) and a unit (UNIT_KINDS,) of an item bring."""


@dataclass(frozen=True, slots=True)
class Outflow:
    """What left the vessel: ``kind`` is vapour, gas, leftover, loss, difference, "held back" in a tin, "poured away" of a
    rinse or "thrown away" of a garnish; ``masses`` (24,) in grams. A difference
    is what a measured mass or volume says is not there, below 0 where there is more. ``item_id`` is the leftover that it
    became, ``None`` for what is no item."""

    step_id: int | None
    kind: str
    grams: float
    masses: Numbers
    item_id: int | None = None


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
        return float(titratable_acidity_citric_g(self.rows[MASSES, None], bound_mmol(self.rows))[0])

    @property
    def ethanol_g(self) -> float:
        """Grams of ethanol."""
        return float(self.rows[ETHANOL])

    @property
    def cost(self) -> float:
        """Cost in the house's currency."""
        return float(self.rows[COST])


def brought_by(shares: Sequence[Numbers]) -> list[tuple[float, ...]]:
    """Of each share (ROWS,) its grams, sugars, acids, ethanol and cost, as ``Share`` has them, all at once."""
    if not shares:
        return []
    rows = np.ascontiguousarray(np.array(shares).T)
    sugars = np.add.accumulate(rows[list(SUGARS)], axis=0)[-1]
    acids = titratable_acidity_citric_g(rows[MASSES], bound_mmol(rows))
    columns = (mass_g(rows), sugars, acids, rows[ETHANOL], rows[COST])
    return list(zip(*(column.tolist() for column in columns), strict=True))


class Vessels:
    """The liquid after every step, (ROWS, steps), what is held then in grams, (steps,), and the readings of the liquid,
    made when somebody asks for the first of them."""

    def __init__(self, states: Numbers, held_g: Numbers, melted_g: Numbers, before_ice_ml: Numbers) -> None:
        self.states, self.held_g = states, held_g
        self._melted_g, self._before_ice_ml = melted_g, before_ice_ml
        self.dilution_pct = dilution_pct(melted_g, before_ice_ml)
        self._by_key: dict[str, Numbers] = {}

    @cached_property
    def vessel_g(self) -> Numbers:
        """Grams of liquid and held after every step, (steps,)."""
        total: Numbers = mass_g(self.states) + self.held_g
        return total

    @cached_property
    def readings(self) -> Numbers:
        """The readings after every step, (len(READINGS), steps)."""
        return figures(self.states, np.zeros_like(self.states), self._melted_g, self._before_ice_ml).values

    def reading(self, key: str, place: int) -> float:
        """One reading after the step at a place, without the others; of what is dear, without the other steps."""
        if key == "ph" and "readings" not in self.__dict__:
            here = slice(place, place + 1)
            ice = self._melted_g[here], self._before_ice_ml[here]
            return float(one_reading(key, np.ascontiguousarray(self.states[:, here]), *ice)[0])
        if key not in self._by_key:
            self._by_key[key] = one_reading(key, self.states, self._melted_g, self._before_ice_ml)
        return float(self._by_key[key][place])


@dataclass(frozen=True, slots=True)
class StepTrace:
    """One step as it went. ``found_g`` and ``found_ml`` are what a line put in, what an adjustment found, what a strain let
    through, or what a chill melted; ``estimate_g`` with its range is what a strain was expected to leave. ``after`` (ROWS,)
    is the liquid after the step and ``readings_after`` its readings, before any loss on pouring. ``share`` is what is left
    of a line in the end, and ``missed`` says which number could not be met.

    ``bought_g`` is what was bought for a line, ``None`` where nobody knows or it is used as it comes; ``portions_g`` the
    items of an adjustment with the grams found of each. ``computed`` and ``reconciled`` are of a measurement, before and
    after it, in its unit; ``residual_sigmas`` is how far the measured value lies from the computed one in their joint
    standard uncertainty, ``None`` where the instrument's is not known. ``chill`` says how a chill, or a straining over
    fresh ice, went, and ``gas`` how a carbonating did.
    """

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
    bought_g: float | None
    portions_g: tuple[tuple[int, float], ...]
    computed: float | None
    reconciled: float | None
    residual_sigmas: float | None
    _vessels: Vessels
    _place: int
    chill: ChillTrace | None = None
    gas: GasTrace | None = None

    @property
    def after(self) -> Numbers:
        """The liquid after the step, (ROWS,)."""
        return self._vessels.states[:, self._place]

    @property
    def readings_after(self) -> Numbers:
        """The readings after the step, (len(READINGS),)."""
        return self._vessels.readings[:, self._place]

    def reading_after(self, key: str) -> float | None:
        """One reading after the step, ``None`` where there is none."""
        number = self._vessels.reading(key, self._place)
        return None if number != number else number

    @property
    def dilution_pct(self) -> float:
        """Water from ice so far, in percent of the volume before ice."""
        return float(self._vessels.dilution_pct[self._place])

    @property
    def vessel_g(self) -> float:
        """Grams of all that is in the vessel after the step."""
        return float(self._vessels.vessel_g[self._place])

    @property
    def held_g(self) -> float:
        """Grams in the vessel after the step that are no part of the liquid."""
        return float(self._vessels.held_g[self._place])


@dataclass(slots=True)
class Trace:
    """A build in detail. ``steps`` has one entry per step of the build, those left out too, in its order. ``final_state``
    (ROWS,) is all that is in the vessel in the end, ``held_state`` what of it was held until then; ``acted_from`` what its
    lines make of a main output that acts as another item. ``problems`` are of lines that cannot be computed; the vessel
    ``is_whole`` if all of them are on the glass. ``ice_left_g`` at ``ice_left_c`` (°C) is the ice in the glass when
    it is served, and ``layers`` is what floats, in order."""

    build: Build
    book: HouseBook
    read: Callable[[], Result]
    problems: tuple[LineProblem, ...]
    is_whole: bool
    steps: tuple[StepTrace, ...]
    final_state: Numbers
    held_state: Numbers
    acted_from: Numbers | None
    garnish: Share
    outflows: tuple[Outflow, ...]
    melted_g: float
    wash_line_ml: float | None
    output_shares: Mapping[int, Mapping[int, Numbers]]
    poured: Mapping[int, Numbers]
    source: Source
    open: Callable[[int], "Trace"]
    ice_left_g: float = 0.0
    ice_left_c: float = 0.0
    layers: tuple[Layer, ...] = ()
    _result: Result | None = None
    _by_step: dict[int, StepTrace] = field(default_factory=dict)
    _opened: dict[int, "Trace"] = field(default_factory=dict)

    @property
    def result(self) -> Result:
        """The readings of the build, made when somebody asks for the first of them."""
        if self._result is None:
            self._result = self.read()
        return self._result

    @result.setter
    def result(self, result: Result) -> None:
        self._result = result

    def value(self, key: str) -> float | None:
        """One reading of the build, or ``None`` where there is none, without the others unless they are known."""
        if self._result is not None or key not in BY_ITSELF:
            return self.result.value(key)
        if self.problems and not self.is_whole:
            return None
        nothing = np.zeros(1)
        number = float(one_reading(key, self.final_state[:, None], nothing, nothing)[0])
        return None if number != number else number

    def opened(self, build_id: int) -> "Trace":
        """The trace of a part that a line of this build pours, made once."""
        if build_id not in self._opened:
            self._opened[build_id] = self.open(build_id)
        return self._opened[build_id]

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
        initial = self.poured.get(step_id)
        if initial is None:
            return None
        return _inside(self, step_id, item_id, initial, self.step(step_id).share.rows)

    def unclosed_g(self, item_id: int) -> Numbers | None:
        """What does not close, (24,) in grams, where an output takes its composition from another item: what it brings less
        what this build computes for it. ``None`` for an output with a composition of its own."""
        if item_id == self.build.id:
            return None if self.acted_from is None else (self.final_state - self.acted_from)[MASSES]
        item = self.book.item(item_id)
        acts_as_id = getattr(item, "acts_as_id", None)
        acted = None if acts_as_id is None else self.source.columns_of(acts_as_id)
        if acted is None or item_id not in self.output_shares:
            return None
        own = _added(self.output_shares[item_id])[MASSES]
        difference: Numbers = acted[0][MASSES] * np.add.accumulate(own)[-1] - own
        return difference


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
        if initial is None or step_id not in self.shares:
            return None
        return _inside(self.trace, step_id, item_id, initial, self.shares[step_id].rows)


def _inside(outer: Trace, step_id: int, item_id: int, initial: Numbers, final: Numbers) -> Inside | None:
    """A part opened in the line that pours it: ``initial`` is what the line brought, ``final`` what of it is shown.

    A part that acts as another item has a composition that is not its lines' own: what is shown is then theirs by weight.
    """
    maker = maker_of(outer.book, item_id)
    if maker is None:
        return None
    trace = outer.opened(maker.id)
    shares = trace.output_shares.get(item_id, {})
    whole = _added(shares)
    mass = float(mass_g(whole[:, None])[0])
    portion = dict(outer.step(step_id).portions_g).get(item_id, outer.step(step_id).found_g or 0.0)
    scale = ratio(final, initial) * (portion / mass if mass > 0.0 else 0.0)
    if getattr(outer.book.item(item_id), "acts_as_id", None) is None:
        return Inside(trace, item_id, scale, {inner: Share(rows * scale) for inner, rows in shares.items()})
    parts = {
        inner: float(mass_g(rows[:, None])[0]) / mass if mass > 0.0 else 0.0 for inner, rows in shares.items()
    }
    return Inside(trace, item_id, scale, {inner: Share(final * part) for inner, part in parts.items()})


def _added(shares: Mapping[int, Numbers]) -> Numbers:
    total = np.zeros(ROWS)
    for rows in shares.values():
        total = total + rows
    return total


def ratio(after: Numbers, before: Numbers) -> Numbers:
    """after / before row by row, 0 where there was nothing before."""
    has = np.abs(before) > NOTHING
    found: Numbers = np.where(has, after / np.where(has, before, 1.0), 0.0)
    return found
