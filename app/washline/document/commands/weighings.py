"""What the house weighed of its melting ice, and what it makes of that: weighings and calibrations."""

from collections.abc import Mapping
from dataclasses import replace

from msgspec import structs

from washline.document.commands.command import Command, Refusal, next_id
from washline.model.book import HouseBook
from washline.model.house import Calibration, Weighing, calibration_slug


def weighings_of(book: HouseBook, method: str, ice: str) -> tuple[Weighing, ...]:
    """The weighings of a method on an ice, in the order of their dates."""
    found = (row for row in book.weighings.values() if (row.method, row.ice) == (method, ice))
    return tuple(sorted(found, key=lambda row: (row.date, row.id)))


def weigh(weighing: Weighing) -> Command:
    """Keeps a weighing: with the id 0 as a new one, whose id is ``next_id(book)``, else in the stead of the one with that
    id."""

    def command(book: HouseBook) -> HouseBook:
        if weighing.id == 0:
            return book.with_weighing(structs.replace(weighing, id=next_id(book)))
        _weighing(book, weighing.id)
        return book.with_weighing(weighing)

    return command


def forget_weighing(weighing_id: int) -> Command:
    """Forgets a weighing; a calibration that used it stays as it is until it is fitted again."""

    def command(book: HouseBook) -> HouseBook:
        _weighing(book, weighing_id)
        return replace(
            book, weighings={key: row for key, row in book.weighings.items() if key != weighing_id}
        )

    return command


def calibrate(calibration: Calibration) -> Command:
    """Has what was fitted replace the usual figures of a method on an ice.

    Raises ``ValueError`` where its slug is not that of its method and ice: that is a fault of the caller.
    """
    if calibration.slug != calibration_slug(calibration.method, calibration.ice):
        raise ValueError(
            f"slug of a calibration of {calibration.method} on {calibration.ice}: {calibration.slug}"
        )
    return lambda book: book.with_calibration(calibration)


def forget_calibration(slug: str) -> Command:
    """Back to the usual figures of the method."""

    def command(book: HouseBook) -> HouseBook:
        if slug not in book.calibrations:
            raise Refusal("This calibration is no longer in the house book.", remedy="Undo brings it back.")
        return replace(book, calibrations={key: row for key, row in book.calibrations.items() if key != slug})

    return command


def weighings_without_build(book: HouseBook, build_id: int) -> HouseBook:
    """The book with the weighings of a build that goes standing alone: what melted under those conditions still holds."""
    return _changed(
        book,
        {
            row.id: structs.replace(row, build_id=None, step_id=None)
            for row in book.weighings.values()
            if row.build_id == build_id
        },
    )


def weighings_without_steps(book: HouseBook, step_ids: frozenset[int]) -> HouseBook:
    """The book with the weighings of steps that go standing alone."""
    return _changed(
        book,
        {
            row.id: structs.replace(row, step_id=None)
            for row in book.weighings.values()
            if row.step_id in step_ids
        },
    )


def with_weighings_moved(
    book: HouseBook, from_build: int, to_build: int, steps: Mapping[int, int]
) -> HouseBook:
    """The book with the weighings of one build made those of another; ``steps`` leads from the old steps to the new."""
    return _changed(
        book,
        {
            row.id: structs.replace(
                row, build_id=to_build, step_id=None if row.step_id is None else steps.get(row.step_id)
            )
            for row in book.weighings.values()
            if row.build_id == from_build
        },
    )


def _changed(book: HouseBook, rows: dict[int, Weighing]) -> HouseBook:
    return replace(book, weighings={**book.weighings, **rows}) if rows else book


def _weighing(book: HouseBook, weighing_id: int) -> Weighing:
    row = book.weighings.get(weighing_id)
    if row is None:
        raise Refusal("This weighing is no longer in the house book.", remedy="Undo brings it back.")
    return row
