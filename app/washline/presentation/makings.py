"""The makings of a part in words: what each strain left, and what that makes one expect."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from washline.engine.trace import Trace
from washline.model.book import HouseBook
from washline.model.item import Build, Making
from washline.model.step import Strain
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    PLUS_MINUS,
    UNIT_SPACE,
    NumberStyle,
    format_number,
    format_trimmed,
    rounded,
    spread_decimals,
)

GONE = "a strain that is no longer there"
SMALLEST_SPREAD_PCT = 0.05
"""Makings that lie closer together than this read as alike: no kitchen scale tells them apart."""


@dataclass(frozen=True, slots=True)
class YieldHistory:
    """The yields of one strain over its makings, oldest first, in percent of the vessel before it."""

    step_id: int
    percents: tuple[float, ...]

    @property
    def mean_pct(self) -> float:
        """The mean of the makings."""
        return math.fsum(self.percents) / len(self.percents)

    @property
    def spread_pct(self) -> float | None:
        """One standard deviation between makings (n − 1 in the divisor); ``None`` for a single one."""
        count, mean = len(self.percents), self.mean_pct
        if count < 2:
            return None
        return math.sqrt(math.fsum((one - mean) ** 2 for one in self.percents) / (count - 1))

    def words(self, style: NumberStyle = ENGLISH_STYLE) -> str:
        """*71 % ± 3 from 4 makings*; at most one decimal, for a scale in a kitchen bears no more."""
        return _words(self.mean_pct, self.spread_pct, len(self.percents), style)


@dataclass(frozen=True, slots=True)
class MakingRow:
    """One making: its day as it was typed, what was weighed in words, and the house's note."""

    making_id: int
    date: str
    yields: str
    note: str

    @property
    def spoken(self) -> str:
        """The row for a screen reader."""
        return ", ".join(word for word in (f"Making of {self.date}", self.yields, self.note) if word)


def grams_before_strains(trace: Trace) -> dict[int, float]:
    """What the vessel weighed in grams before each strain of a build, by the id of its step.

    A strain closes: liquid, leftover and loss are what was in the vessel. One that could not be computed is left out.
    """
    found = {}
    for step, traced in zip(trace.build.steps, trace.steps, strict=True):
        if not isinstance(step, Strain) or step.left_out or traced.found_g is None:
            continue
        grams = traced.found_g + (traced.left_g or 0.0) + (traced.loss_g or 0.0)
        if math.isfinite(grams):
            found[step.id] = grams
    return found


def strain_name(build: Build, step_id: int) -> str:
    """Which strain of a build: *strain*, or *strain at step 9* where there are several."""
    places = [(place, step.id) for place, step in enumerate(build.steps, start=1) if isinstance(step, Strain)]
    for place, own_id in places:
        if own_id == step_id:
            return "strain" if len(places) == 1 else f"strain at step {place}"
    return GONE


def makings_of(book: HouseBook, build_id: int) -> tuple[Making, ...]:
    """The makings of a build, oldest first; of one day, in the order in which they were kept."""
    own = (making for making in book.makings.values() if making.build_id == build_id)
    return tuple(sorted(own, key=lambda making: (making.date, making.id)))


def yield_history(makings: Sequence[Making], step_id: int) -> YieldHistory | None:
    """What a strain left in these makings; ``None`` where it was never weighed."""
    percents = tuple(
        100.0 * one.weighed_g / one.before_g
        for making in makings
        for one in making.yields
        if one.step_id == step_id and one.before_g > 0.0
    )
    return YieldHistory(step_id, percents) if percents else None


def yield_histories(build: Build, makings: Sequence[Making]) -> tuple[YieldHistory, ...]:
    """The yields of each strain that was ever weighed, in the order of the build; those that are gone come last."""
    order = {step.id: place for place, step in enumerate(build.steps)}
    weighed = {one.step_id for making in makings for one in making.yields}
    ids = sorted(weighed, key=lambda step_id: (order.get(step_id, len(order)), step_id))
    found = (yield_history(makings, step_id) for step_id in ids)
    return tuple(history for history in found if history is not None)


def making_rows(
    build: Build, makings: Sequence[Making], style: NumberStyle = ENGLISH_STYLE
) -> tuple[MakingRow, ...]:
    """The makings, newest first."""
    return tuple(_row(build, making, style) for making in reversed(makings))


def ready_words(build: Build, before_g: Mapping[int, float]) -> str:
    """What *Start the next making* would keep, or why there is nothing to keep."""
    strains = [step for step in build.steps if isinstance(step, Strain) and not step.left_out]
    if not strains:
        return "Nothing is strained here, so that there is no yield to keep."
    weighed = [step for step in strains if step.weighed_g is not None]
    if not weighed:
        return "No yield is weighed yet: type what a strain left."
    if any(step.id not in before_g for step in weighed):
        return "What was in the vessel before a strain cannot be computed."
    count = len(weighed)
    return "One yield is weighed." if count == 1 else f"{count} yields are weighed."


def _words(mean: float, spread: float | None, count: int, style: NumberStyle) -> str:
    if spread is None:
        return f"{format_number(mean, 1, style)}{UNIT_SPACE}% from one making"
    if spread < SMALLEST_SPREAD_PCT:
        return f"{format_number(mean, 1, style)}{UNIT_SPACE}%, alike in {count} makings"
    decimals = _decimals(spread)
    written = f"{format_number(mean, decimals, style)}{UNIT_SPACE}%"
    return f"{written}{PLUS_MINUS}{format_number(spread, decimals, style)} from {count} makings"


def _decimals(spread: float) -> int:
    """One digit of a spread of 2 or more, which is all that a few makings bear; else a decimal."""
    return 0 if rounded(spread, 1) >= 2 else min(max(spread_decimals(spread), 0), 1)


def _row(build: Build, making: Making, style: NumberStyle) -> MakingRow:
    parts = []
    for one in making.yields:
        percent = 100.0 * one.weighed_g / one.before_g if one.before_g > 0.0 else None
        weighed, before = (format_trimmed(grams, 1, style) for grams in (one.weighed_g, one.before_g))
        name = strain_name(build, one.step_id)
        head = "" if name == "strain" else f"{name}: "
        parts.append(
            f"{head}{weighed} of {before}{UNIT_SPACE}g, {format_number(percent, 1, style)}{UNIT_SPACE}%"
        )
    return MakingRow(making.id, making.date, "; ".join(parts), making.note)
