"""The rows of the build tree: what each step is called, how much of it there is, and what it brings to this glass."""

from collections.abc import Callable, Collection
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property, lru_cache, partial

import numpy as np

from washline.engine.state import (
    COST,
    ROWS,
    UNKNOWN_ACID,
    UNKNOWN_COST,
    UNKNOWN_ETHANOL,
    UNKNOWN_SUGAR,
    Numbers,
)
from washline.engine.trace import Inside, Share, StepTrace, Trace
from washline.engine.traced import brought_by
from washline.model.amount import Basis
from washline.model.book import HouseBook
from washline.model.graph import maker_of, outputs_of
from washline.model.item import Build, Leftover
from washline.model.step import AnyStep, Garnish, Infuse, Line, Measurement, Strain, Take
from washline.presentation import row_words
from washline.presentation.bar_lines import bar_line
from washline.presentation.detail import Detail
from washline.presentation.kitchen_words import far_words, residual_words
from washline.presentation.pour_view import AS_TYPED, PourUnit, PourView
from washline.presentation.row_words import AmountState, AmountText, RowKind
from washline.presentation.step_details import details_of, has_details
from washline.presentation.strip import WeightScale
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    UNIT_SPACE,
    UNKNOWN,
    NumberStyle,
    format_contribution,
    format_number,
)

Key = tuple[int, ...]
"""Where a row stands: the ids of the steps that lead to it through opened parts, itself last."""

UsersOf = Callable[[int], Collection[int]]
"""The builds that use an item."""

LEFTOVER_ROW = -1
FOOT_ROW = -2
NEW_LINE_ROW = -3
FIRST_DETAIL_ROW = -10
"""Details of a step count down from here by their place."""

COLUMN_DECIMALS = (1, 2, 3, 1, 2)
"""Decimals of grams in the glass, sugars, acids, ethanol and cost."""

SHARE_STEPS = 50.0
AT_LEAST = "\u2265"
_NOTHING = np.zeros(ROWS)
_UNKNOWN_ROWS = (None, UNKNOWN_SUGAR, UNKNOWN_ACID, UNKNOWN_ETHANOL, UNKNOWN_COST)


class Tone(StrEnum):
    """How a note is said: quietly, or as something that is out of what the house wants."""

    QUIET = "quiet"
    OUT = "out"


@dataclass(frozen=True, slots=True)
class Figure:
    """One contribution as shown, and its share of the column's total, 0 to 1."""

    text: str = ""
    share: float = 0.0


@dataclass(frozen=True, slots=True)
class BuildRow:
    """One row of the tree.

    ``figures`` are the five contributions (none for a step that brings nothing); ``remark`` stands in their place where
    a row has something to say instead. ``edit_text`` and ``name_text`` are what an editor of
    the amount and of the name opens with. ``users`` are the drinks
    that use the item of a house-made line. ``problem`` is one line of what is wrong here. A row that ``has_details``
    unfolds them under it; ``detail`` is such a line itself. ``written`` is a step of the bar as one line, as it is typed.
    """

    key: Key
    build_id: int
    step_id: int | None
    item_id: int | None
    kind: RowKind
    name: str
    note: str = ""
    note_tone: Tone = Tone.QUIET
    goes_to: str = ""
    amount: str = ""
    unit: str = ""
    amount_state: AmountState = AmountState.TYPED
    edit_text: str = ""
    name_text: str = ""
    figures: tuple[Figure, ...] = ()
    remark: str = ""
    scale: WeightScale | None = None
    is_left_out: bool = False
    can_open: bool = False
    users: tuple[int, ...] = ()
    problem: str = ""
    has_details: bool = False
    detail: Detail | None = None
    written: str = ""

    @property
    def depth(self) -> int:
        """How many opened parts the row stands in."""
        return len(self.key) - (2 if self.kind in (RowKind.LEFTOVER, RowKind.DETAIL) else 1)

    @property
    def opens(self) -> bool:
        """Whether rows can unfold under it: those of a part, or its own details."""
        return self.can_open or self.has_details

    @property
    def has_amount(self) -> bool:
        """Whether its amount can be typed."""
        if self.detail is not None:
            return self.detail.can_edit
        return self.kind not in (RowKind.SERVED, RowKind.BOTTLE, RowKind.NOTE)

    @property
    def is_step(self) -> bool:
        """Whether it is a step of the build, to be moved, removed and copied."""
        return self.step_id is not None and self.kind not in (RowKind.LEFTOVER, RowKind.DETAIL)


class Listed:
    """A row that is listed, and made when somebody asks for it: off the screen nobody does."""

    __slots__ = ("_make", "_row", "key", "step_id")

    def __init__(self, key: Key, step_id: int | None, make: Callable[[], BuildRow]) -> None:
        self.key, self.step_id = key, step_id
        self._make = make
        self._row: BuildRow | None = None

    @property
    def row(self) -> BuildRow:
        """The row itself."""
        if self._row is None:
            self._row = self._make()
        return self._row

    @property
    def is_step(self) -> bool:
        """Whether it is the row of a step, and not of what the step leaves or of the foot."""
        return self.key[-1] == self.step_id


@dataclass(frozen=True)
class _Scope:
    """A build being listed; ``inside`` says how much of each of its lines is in this glass, if it is an opened part."""

    build: Build
    trace: Trace
    prefix: Key = ()
    inside: Inside | None = None

    def share(self, step: StepTrace) -> Numbers:
        """What a step still contributes to this glass, (ROWS,)."""
        if self.inside is None:
            return step.share.rows
        share = self.inside.shares.get(step.step_id)
        return share.rows if share is not None else _NOTHING

    @cached_property
    def shares(self) -> list[Numbers]:
        """What each step contributes, (ROWS,) by place."""
        return [self.share(step) for step in self.trace.steps]

    @cached_property
    def brought(self) -> list[tuple[float, ...]]:
        """The five contributions of each step, by place."""
        return brought_by(self.shares)


@dataclass(frozen=True, slots=True)
class _Remembered:
    """A row as it was made last, what it was made from, and what it brought."""

    made_from: tuple[object, ...]
    brought: tuple[float, ...]
    row: BuildRow


@dataclass(frozen=True, slots=True)
class RowMemory:
    """What was made before: while somebody types, nearly all lines bring what they brought at the key before.

    ``drinks`` holds, by part, who used it and which of them are drinks: in a large book those are thousands.
    """

    rows: dict[Key, _Remembered] = field(default_factory=dict)
    drinks: dict[int, tuple[Collection[int], tuple[int, ...]]] = field(default_factory=dict)

    def clear(self) -> None:
        """Forgets all of it."""
        self.rows.clear()
        self.drinks.clear()


class RowMaker:
    """Makes the rows of one glass from its trace; make a new one for each house book that is shown.

    ``memory`` may be handed from one to the next; a row is taken from it only if all it was made from is the same.
    ``pour`` says what the poured lines are shown in; parts are those of the build itself, not of what is opened in it.
    """

    def __init__(
        self,
        book: HouseBook,
        users_of: UsersOf,
        style: NumberStyle = ENGLISH_STYLE,
        memory: RowMemory | None = None,
        pour: PourView = AS_TYPED,
    ) -> None:
        self._pour = pour
        self._book = book
        self._style = style
        self._users_of = users_of
        self._memory = RowMemory() if memory is None else memory

    def rows(self, trace: Trace) -> tuple[BuildRow, ...]:
        """The rows of the build itself, its foot last."""
        return tuple(listed.row for listed in self.listed(trace))

    def inside(self, trace: Trace, key: Key) -> tuple[BuildRow, ...]:
        """The rows of the house-made part that the line at ``key`` pours; empty where there is none."""
        return tuple(listed.row for listed in self.listed(trace, key))

    def listed(self, trace: Trace, key: Key = ()) -> tuple[Listed, ...]:
        """The rows of the build itself, or of the part that the line at ``key`` pours, each made when it is asked for."""
        scope = self._scope(trace, key)
        return self._listed(scope, _totals(trace)) if scope is not None else ()

    def details(self, trace: Trace, key: Key) -> tuple[BuildRow, ...]:
        """The details of the step at ``key``, a row each; empty where there are none."""
        scope = self._scope(trace, key[:-1])
        step = _step_of(scope.build, key[-1]) if scope is not None else None
        if scope is None or step is None:
            return ()
        found = details_of(step, scope.trace.step(step.id), self._book, self._style)
        return tuple(_detail_row(scope, step, detail) for detail in found)

    def _scope(self, trace: Trace, key: Key) -> _Scope | None:
        """The build that the lines of ``key`` lead to."""
        scope = _Scope(trace.build, trace)
        for step_id in key:
            step = _step_of(scope.build, step_id)
            if not isinstance(step, Line) or step.left_out:
                return None
            outer = scope.inside or scope.trace
            inner = outer.inside(step_id, step.item_id)
            if inner is None:
                return None
            scope = _Scope(inner.trace.build, inner.trace, (*scope.prefix, step_id), inner)
        return scope

    def _listed(self, scope: _Scope, totals: tuple[float, ...]) -> tuple[Listed, ...]:
        listed: list[Listed] = []
        is_own = not scope.prefix or self._pour.unit is not PourUnit.PARTS
        words = row_words.StepWords(scope.trace, self._style, self._pour if is_own else AS_TYPED)
        for place, (step, step_trace) in enumerate(zip(scope.build.steps, scope.trace.steps, strict=True)):
            key = (*scope.prefix, step.id)
            make = partial(self._step_row, scope, words, place, step, step_trace, totals)
            listed.append(Listed(key, step.id, make))
            if _leaves(step):
                leaves = partial(self._leftover_row, scope, step, step_trace)
                listed.append(Listed((*key, LEFTOVER_ROW), step.id, leaves))
        foot = partial(self._foot, scope, totals)
        listed.append(Listed((*scope.prefix, FOOT_ROW), None, foot))
        return tuple(listed)

    def _step_row(
        self,
        scope: _Scope,
        words: row_words.StepWords,
        place: int,
        step: AnyStep,
        trace: StepTrace,
        totals: tuple[float, ...],
    ) -> BuildRow:
        share, brought = scope.shares[place], scope.brought[place]
        if _stays_outside(step):
            brought = (0.0, 0.0, 0.0, 0.0, float(share[COST]))
        item_id = step.item_id if isinstance(step, Line) else None
        part = maker_of(self._book, item_id) if item_id is not None else None
        drinks = self._drinks_that_use(item_id) if part is not None else ()
        can_open = part is not None and not step.left_out and not isinstance(step, Infuse)
        key = (*scope.prefix, step.id)
        problem = _problem(scope.trace, step, trace, self._style)
        made_from = self._made_from(step, trace, share, drinks, problem)
        known = self._memory.rows.get(key)
        if known is not None and made_from is not None and known.made_from == made_from:
            return _with_bars(known, totals)
        amount = words.amount(step, trace)
        row = BuildRow(
            key=key,
            build_id=scope.build.id,
            step_id=step.id,
            item_id=item_id,
            kind=row_words.kind_of(step, self._book),
            name=words.name(step),
            note=words.note(step, trace, drinks),
            amount=amount.text,
            unit=amount.unit,
            amount_state=amount.state,
            edit_text=amount.edit_text,
            name_text=words.name_text(step),
            figures=self._figures(share, brought, totals, brings_mass=not _stays_outside(step)),
            remark=self._remark(scope, step, trace, amount),
            scale=_scale(step, trace),
            is_left_out=step.left_out,
            can_open=can_open,
            has_details=(part is None or isinstance(step, Infuse)) and has_details(step),
            users=drinks,
            problem=problem,
            written=bar_line(step, self._book, self._style),
        )
        if made_from is not None:
            self._memory.rows[key] = _Remembered(made_from, brought, row)
        return row

    def _made_from(
        self, step: AnyStep, trace: StepTrace, share: Numbers, drinks: tuple[int, ...], problem: str
    ) -> tuple[object, ...] | None:
        """All that the row of a line depends on, but for the totals of the columns; ``None`` where other steps or the
        vessel have a say."""
        if not isinstance(step, Line) or step.amount.basis is not Basis.ABSOLUTE:
            return None
        item = self._book.item(step.item_id)
        rows = share.tobytes()
        found = trace.found_g, trace.found_ml, trace.bought_g
        return step, id(item), item, self._book.settings, drinks, problem, found, rows, self._pour

    def _figures(
        self, share: Numbers, brought: tuple[float, ...], totals: tuple[float, ...], *, brings_mass: bool
    ) -> tuple[Figure, ...]:
        if not np.isfinite(brought[0]):
            return tuple(Figure(UNKNOWN) for _ in COLUMN_DECIMALS)
        return tuple(
            Figure(
                self._figure_text(value, column, share, brings_mass=brings_mass),
                _bar_share(value, total),
            )
            for column, (value, total) in enumerate(zip(brought, totals, strict=True))
        )

    def _figure_text(self, value: float, column: int, share: Numbers, *, brings_mass: bool) -> str:
        decimals = COLUMN_DECIMALS[column]
        text = _contribution(max(0.0, value), decimals, self._style) if value == value else UNKNOWN
        row = _UNKNOWN_ROWS[column]
        if row is None or (not brings_mass and row != UNKNOWN_COST):
            return text
        can_be_more_g = float(share[row])
        smallest = 1e-9 if row == UNKNOWN_COST else 0.5 * 10.0**-decimals
        if not can_be_more_g >= smallest:
            return text
        return f"{AT_LEAST}{text}" if text and text[0].isdigit() else UNKNOWN

    def _leftover_row(self, scope: _Scope, step: AnyStep, trace: StepTrace) -> BuildRow:
        leftover_id: int | None = getattr(step, "leftover_id", None)
        leftover = self._book.leftovers.get(leftover_id) if leftover_id is not None else None
        name = leftover.name if isinstance(leftover, Leftover) else "nothing kept"
        weighed_g = getattr(step, "leftover_weighed_g", None)
        state = AmountState.WEIGHED if weighed_g is not None else AmountState.ESTIMATED
        loss = trace.loss_g
        text = format_number(trace.left_g, 1, self._style)
        lost = f"{format_number(loss, 1, self._style)} g on filter and jug" if loss and loss > 0.05 else ""
        return BuildRow(
            key=(*scope.prefix, step.id, LEFTOVER_ROW),
            build_id=scope.build.id,
            step_id=step.id,
            item_id=leftover_id,
            kind=RowKind.LEFTOVER,
            name=f"left over: {name}",
            name_text=name if isinstance(leftover, Leftover) else "",
            goes_to=self._goes_to(leftover_id),
            amount=text,
            unit="g",
            amount_state=state if isinstance(step, Strain) else AmountState.TYPED,
            edit_text=f"{text.replace(self._style.grouping, '')} g" if self._style.grouping else f"{text} g",
            remark=", ".join(part for part in (self._holds(scope.trace, leftover_id), lost) if part),
            is_left_out=step.left_out,
        )

    def _holds(self, trace: Trace, leftover_id: int | None) -> str:
        """What a leftover is made of: *8.3 % sugars, 2.39 % acids*."""
        shares = trace.output_shares.get(leftover_id, {}) if leftover_id is not None else {}
        if not shares:
            return ""
        whole = Share(np.add.accumulate(np.array(list(shares.values())))[-1])
        if not whole.grams > 0.0:
            return ""
        found = (
            (whole.sugars_g, 1, "sugars"),
            (whole.acids_g, 2, "acids"),
            (whole.ethanol_g, 1, "ethanol"),
        )
        shown = ((format_number(100.0 * grams / whole.grams, decimals, self._style), decimals, word)
                 for grams, decimals, word in found)  # fmt: skip
        zero = {decimals: format_number(0.0, decimals, self._style) for decimals in (1, 2)}
        return ", ".join(
            f"{text}{UNIT_SPACE}% {word}" for text, decimals, word in shown if text != zero[decimals]
        )

    def _remark(self, scope: _Scope, step: AnyStep, trace: StepTrace, amount: AmountText) -> str:
        if isinstance(step, Strain):
            weighed = amount.state is AmountState.WEIGHED
            return "weighed replaces estimate" if weighed else "nobody has weighed it" if amount.text else ""
        if isinstance(step, Measurement) and (away := residual_words(step, trace, self._style)):
            return away
        return "" if scope.build.is_drink else self._vessel(step, trace)

    def _vessel(self, step: AnyStep, trace: StepTrace) -> str:
        """What is in the vessel after a step, and how much of it is held and no part of the liquid."""
        vessel_g = trace.vessel_g
        held_g = trace.held_g
        if step.left_out or isinstance(step, Line) or vessel_g is None:
            return ""
        held = f", {format_number(held_g, 1, self._style)} g of it held" if held_g and held_g > 0.05 else ""
        return f"vessel {format_number(vessel_g, 1, self._style)} g{held}"

    def _goes_to(self, leftover_id: int | None) -> str:
        if leftover_id is None:
            return ""
        names = [
            self._book.builds[user].name
            for user in sorted(self._users_of(leftover_id))
            if user in self._book.builds
        ]
        if not names:
            return "not used yet"
        return names[0] if len(names) == 1 else f"{names[0]} and {len(names) - 1} more"

    def _foot(self, scope: _Scope, totals: tuple[float, ...]) -> BuildRow:
        key = (*scope.prefix, FOOT_ROW)
        if scope.build.is_drink:
            return self._served(scope, key, totals)
        words = row_words.bottle_words(scope.trace, self._style)
        return BuildRow(
            key=key,
            build_id=scope.build.id,
            step_id=None,
            item_id=scope.build.id,
            kind=RowKind.BOTTLE,
            name="bottle",
            note=words.note if scope.prefix else ", ".join(filter(None, (words.note, words.pours))),
            amount=words.amount,
            unit="g",
            figures=() if scope.prefix else self._total_figures(scope, totals),
            remark=words.remark if scope.prefix else "",
        )

    def _served(self, scope: _Scope, key: Key, totals: tuple[float, ...]) -> BuildRow:
        length = scope.trace.value("length")
        note, is_out = row_words.wash_line_words(length, scope.trace.wash_line_ml, self._style)
        return BuildRow(
            key=key,
            build_id=scope.build.id,
            step_id=None,
            item_id=scope.build.id,
            kind=RowKind.SERVED,
            name="Served",
            note=note,
            note_tone=Tone.OUT if is_out else Tone.QUIET,
            amount=format_number(length, 0, self._style),
            unit="ml",
            figures=self._total_figures(scope, totals),
        )

    def _total_figures(self, scope: _Scope, totals: tuple[float, ...]) -> tuple[Figure, ...]:
        if scope.trace.value("mass") is None and scope.build.steps:
            return tuple(Figure(UNKNOWN) for _ in totals)
        share = scope.trace.final_state.copy()
        share[UNKNOWN_COST] += float(scope.trace.garnish.rows[UNKNOWN_COST])
        return tuple(
            Figure(self._figure_text(total, column, share, brings_mass=True))
            for column, total in enumerate(totals)
        )

    def _drinks_that_use(self, item_id: int | None) -> tuple[int, ...]:
        if item_id is None:
            return ()
        users, builds = self._users_of(item_id), self._book.builds
        known = self._memory.drinks.get(item_id)
        # What is a drink stays one: the list is made anew only where users came or went.
        if (
            known is not None
            and (known[0] is users or known[0] == users)
            and all(map(builds.__contains__, known[1]))
        ):
            return known[1]
        found = (builds.get(user) for user in sorted(users))
        drinks = tuple(build.id for build in found if build is not None and build.is_drink)
        self._memory.drinks[item_id] = users, drinks
        return drinks


def drinks_that_pour(book: HouseBook, users_of: UsersOf, item_id: int) -> tuple[int, ...]:
    """The drinks that a change of a house-made part reaches, through other parts and its leftovers too, by their ids."""
    reached: dict[int, None] = {}
    waiting = list(outputs_of(book.builds[item_id])) if item_id in book.builds else [item_id]
    while waiting:
        for user in users_of(waiting.pop()):
            if user not in reached and user in book.builds:
                reached[user] = None
                waiting += outputs_of(book.builds[user])
    return tuple(sorted(build_id for build_id in reached if book.builds[build_id].is_drink))


def _with_bars(known: _Remembered, totals: tuple[float, ...]) -> BuildRow:
    """A remembered row with its bars against the totals of now."""
    shares = [_bar_share(value, total) for value, total in zip(known.brought, totals, strict=True)]
    figures = known.row.figures
    if all(figure.share == share for figure, share in zip(figures, shares, strict=True)):
        return known.row
    changed = tuple(Figure(figure.text, share) for figure, share in zip(figures, shares, strict=True))
    return replace(known.row, figures=changed)


def _columns(rows: Numbers) -> tuple[float, ...]:
    share = Share(rows)
    return share.grams, share.sugars_g, share.acids_g, share.ethanol_g, share.cost


def _totals(trace: Trace) -> tuple[float, ...]:
    mass, sugars, acids, ethanol, cost = _columns(trace.final_state)
    return mass, sugars, acids, ethanol, cost + trace.garnish.cost


@lru_cache(maxsize=4096)
def _contribution(value: float, decimals: int, style: NumberStyle) -> str:
    return format_contribution(value, decimals, style)


def _bar_share(value: float, total: float) -> float:
    """The share of a column in steps of a pixel of its bar, so that what does not look different is not repainted."""
    if not total > 0.0 or not value > 0.0:
        return 0.0
    return max(1.0, round(min(1.0, value / total) * SHARE_STEPS)) / SHARE_STEPS


def _leaves(step: AnyStep) -> bool:
    return isinstance(step, Strain | Take) and step.leftover_id is not None


def _stays_outside(step: AnyStep) -> bool:
    return isinstance(step, Garnish) and not step.in_liquid


def _step_of(build: Build, step_id: int) -> AnyStep | None:
    return next((step for step in build.steps if step.id == step_id), None)


def _detail_row(scope: _Scope, step: AnyStep, detail: Detail) -> BuildRow:
    return BuildRow(
        key=(*scope.prefix, step.id, FIRST_DETAIL_ROW - detail.place),
        build_id=scope.build.id,
        step_id=step.id,
        item_id=detail.item_id,
        kind=RowKind.DETAIL,
        name=detail.name,
        amount=detail.text,
        unit=detail.unit,
        edit_text=detail.edit_text,
        name_text=detail.name,
        remark=detail.says,
        detail=detail,
    )


def _scale(step: AnyStep, trace: StepTrace) -> WeightScale | None:
    estimate = trace.estimate_g
    if not isinstance(step, Strain) or step.left_out or estimate is None:
        return None
    low = estimate if trace.estimate_low_g is None else trace.estimate_low_g
    high = estimate if trace.estimate_high_g is None else trace.estimate_high_g
    return WeightScale(low, estimate, high, step.weighed_g)


def _problem(trace: Trace, step: AnyStep, step_trace: StepTrace, style: NumberStyle) -> str:
    words = [problem.words for problem in trace.problems if problem.step_id == step.id]
    far = (far_words(step, step_trace, style),) if isinstance(step, Measurement) else ()
    return next(iter(filter(None, (*words, *step_trace.missed, *far))), "")
