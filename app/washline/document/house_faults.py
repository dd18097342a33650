"""What cannot be in the rows of a house: methods, ice, vessels, weighings, calibrations, swaps and batches."""

from collections.abc import Iterator
from datetime import date as calendar_date

from msgspec import Struct

from washline.document.limits import Limits, fault, faults
from washline.document.naming import item_name
from washline.model.book import HouseBook
from washline.model.house import Calibration, Method, Settings, Weighing, calibration_slug
from washline.model.item import Build
from washline.model.step import Carbonate

PUBLISHED = ("", "stirred", "shaken")
"""The regressions of ``chemistry.dilution`` that a method can be made for."""

_MOST_GRAMS = 10_000_000.0


def row_faults(row: Struct) -> Iterator[str]:
    """What is wrong with a row of these kinds itself, in words: one sentence each."""
    if isinstance(row, Method) and row.published not in PUBLISHED:
        yield f"There is no published dilution “{row.published}”: it is stirred, shaken or none."
    if isinstance(row, Weighing):
        yield from _weighing_faults(row)
    if isinstance(row, Calibration):
        yield from _day_faults("a calibration", row.date)
    if isinstance(row, Build) and row.batch is not None:
        yield from faults(row.batch)
    if isinstance(row, Settings):
        yield from _swap_faults(row)


def reference_faults(book: HouseBook, row: Struct) -> Iterator[str]:
    """What a row of these kinds names that is not in the house book, in words."""
    if isinstance(row, Weighing | Calibration):
        what = "This weighing" if isinstance(row, Weighing) else "This calibration"
        yield from _missing(what, "method", row.method, row.method in book.methods)
        yield from _missing(what, "ice", row.ice, row.ice in book.ices)
    if isinstance(row, Calibration) and row.slug != calibration_slug(row.method, row.ice):
        yield f"The calibration {row.slug} is not of {row.method} on {row.ice}."
    if isinstance(row, Carbonate):
        yield from _missing(
            "A carbonation", "vessel", row.vessel, not row.vessel or row.vessel in book.vessels
        )
    if isinstance(row, Build) and row.batch is not None and row.batch.vessel:
        yield from _missing(
            f"The batch of {row.name}", "vessel", row.batch.vessel, row.batch.vessel in book.vessels
        )
    if isinstance(row, Settings):
        yield from _swaps_without_item(book, row)


def weighing_is_of_its_step(book: HouseBook, row: Weighing) -> bool:
    """Whether the build and the step that a weighing names are there and belong together."""
    if row.build_id is None:
        return row.step_id is None
    build = book.builds.get(row.build_id)
    return build is not None and (row.step_id is None or any(step.id == row.step_id for step in build.steps))


def _weighing_faults(row: Weighing) -> Iterator[str]:
    yield from _day_faults("a weighing", row.date)
    for grams in row.composition:
        yield from fault(grams, Limits(0.0, _MOST_GRAMS, "a component of what was weighed in grams"))
    most = row.ice_g + row.surface_water_g
    if row.melted_g > most:
        yield f"{row.melted_g:,.6g} g cannot melt of {most:,.6g} g of ice."


def _day_faults(what: str, date: str) -> Iterator[str]:
    try:
        calendar_date.fromisoformat(date)
    except ValueError:
        yield f"The day of {what} is written like 2026-11-21, not “{date[:40]}”."


def _swap_faults(settings: Settings) -> Iterator[str]:
    seen: set[int] = set()
    for swap in settings.swaps:
        yield from faults(swap)
        if swap.from_id == swap.to_id:
            yield "A swap for alcohol-free versions cannot give way to the same item."
        if swap.from_id in seen:
            yield "Two swaps for alcohol-free versions start from the same item."
        seen.add(swap.from_id)


def _swaps_without_item(book: HouseBook, settings: Settings) -> Iterator[str]:
    for swap in settings.swaps:
        for item_id in (swap.from_id, swap.to_id):
            if item_id is None:
                continue
            item = book.item(item_id)
            if item is None:
                yield "A swap for alcohol-free versions names an item that is not in the house book."
            elif isinstance(item, Build) and item.is_drink:
                yield f"{item_name(book, item_id)} is a drink, which ends in a glass: no swap can pour it."


def _missing(what: str, kind: str, slug: str, is_there: bool) -> Iterator[str]:
    if not is_there:
        yield f"{what} names the {kind} “{slug}”, which is not in the house book."
