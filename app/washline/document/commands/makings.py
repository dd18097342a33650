"""Makings: what was weighed when a part was made is kept, and tells what to expect the next time."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date as calendar_date

from msgspec import structs

from washline.document.commands.command import Command, Refusal, build_of, next_id
from washline.document.naming import item_name
from washline.model.book import HouseBook
from washline.model.item import Build, Making, StepYield
from washline.model.step import AnyStep, Strain
from washline.presentation.makings import YieldHistory, makings_of, yield_history

HALF_WIDTH_PER_SIGMA = math.sqrt(3.0)
"""A rectangular range whose standard deviation is s reaches s·√3 to each side (JCGM 100:2008, 4.3.7)."""

_ROUNDING = 1e-9


def weighed_strains(build: Build) -> tuple[Strain, ...]:
    """The strains of a build whose liquid was weighed, in order; those left out do not count."""
    return tuple(
        step
        for step in build.steps
        if isinstance(step, Strain) and step.weighed_g is not None and not step.left_out
    )


def record_making(build_id: int, date: str, before_g: Mapping[int, float], note: str = "") -> Command:
    """Keeps the yields weighed now as a making; its id is ``next_id(book)``. The build stays as it is.

    ``date`` is ISO 8601. ``before_g`` says what the vessel weighed in grams before each strain, by the id of its step.
    Refused where no yield is weighed, or one is more than there was.
    """

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        yields = tuple(_yield(step, before_g) for step in weighed_strains(build))
        if not yields:
            raise Refusal(
                f"No yield of {build.name} is weighed yet.",
                remedy="Type what a strain left, then keep the making.",
            )
        making = Making(
            id=next_id(book), build_id=build_id, date=_day(date), yields=yields, note=note.strip()
        )
        return book.with_making(making)

    return command


def start_making(build_id: int, date: str, before_g: Mapping[int, float], note: str = "") -> Command:
    """Keeps the yields weighed now as a making, as ``record_making`` does, and makes the build ready for the next one.

    Of every strain that was weighed the weights of liquid and leftover are cleared; what is expected becomes the mean of
    its makings, and its range the mean ± s·√3, so that s is one standard deviation of it. After a single making the
    range stays the house's own, widened where the yield lies outside it.
    """

    def command(book: HouseBook) -> HouseBook:
        kept = record_making(build_id, date, before_g, note)(book)
        build = build_of(kept, build_id)
        makings = makings_of(kept, build_id)
        steps = tuple(_cleared(step, makings) for step in build.steps)
        return kept.with_build(structs.replace(build, steps=steps))

    return command


def remove_making(making_id: int) -> Command:
    """Forgets a making; what the strains are expected to leave stays as it is."""

    def command(book: HouseBook) -> HouseBook:
        if making_id not in book.makings:
            raise Refusal("This making is no longer in the house book.", remedy="Undo brings it back.")
        return replace(book, makings={key: row for key, row in book.makings.items() if key != making_id})

    return command


def recording_label(book: HouseBook, build_id: int) -> str:
    """*keeping a making of pear cordial*."""
    return f"keeping a making of {item_name(book, build_id)}"


def starting_label(book: HouseBook, build_id: int) -> str:
    """*starting the next making of pear cordial*."""
    return f"starting the next making of {item_name(book, build_id)}"


def removing_label(book: HouseBook, making_id: int) -> str:
    """*removing the making of pear cordial of 2026-11-25*."""
    making = book.makings.get(making_id)
    if making is None:
        return "removing a making"
    return f"removing the making of {item_name(book, making.build_id)} of {making.date}"


def _yield(step: Strain, before_g: Mapping[int, float]) -> StepYield:
    weighed_g = step.weighed_g or 0.0
    before = before_g.get(step.id)
    if before is None or not math.isfinite(before) or before <= 0.0:
        raise Refusal(
            "What was in the vessel before a strain is not known.",
            "The lines above it cannot be computed.",
            "Mend them first.",
        )
    if weighed_g > before * (1.0 + _ROUNDING):
        raise Refusal(
            f"A strain left {weighed_g:,.6g} g, which is more than the {before:,.6g} g that were in the vessel.",
            remedy="Weigh it again, or correct the lines above it.",
        )
    return StepYield(step.id, before, weighed_g)


def _cleared(step: AnyStep, makings: Sequence[Making]) -> AnyStep:
    if not isinstance(step, Strain) or step.weighed_g is None or step.left_out:
        return step
    history = yield_history(makings, step.id)
    assert history is not None
    low, high = _range(step, history)
    return structs.replace(
        step,
        weighed_g=None,
        leftover_weighed_g=None,
        expected_pct=history.mean_pct,
        low_pct=low,
        high_pct=high,
    )


def _range(step: Strain, history: YieldHistory) -> tuple[float | None, float | None]:
    mean, spread = history.mean_pct, history.spread_pct
    if spread is None:
        low = None if step.low_pct is None else min(step.low_pct, mean)
        high = None if step.high_pct is None else max(step.high_pct, mean)
        return low, high
    half = spread * HALF_WIDTH_PER_SIGMA
    return max(mean - half, 0.0), min(mean + half, 100.0)


def _day(date: str) -> str:
    try:
        return calendar_date.fromisoformat(date).isoformat()
    except ValueError:
        raise Refusal(f"“{date[:40]}” is not a day.", remedy="Type it as 2026-11-25.") from None
