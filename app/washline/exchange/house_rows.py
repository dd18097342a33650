"""The rows of a house file: what a house says of itself beside its builds."""

from typing import Annotated, Literal

from msgspec import Meta

from washline.exchange.kit_rows import CountingRow, IceRow, VesselRow
from washline.exchange.row_types import (
    FileRow,
    Grams,
    Key,
    Millilitres,
    Name,
    Percent,
    PercentMoreOrLess,
    Positive,
    TimeOfDay,
    Words,
)
from washline.exchange.rows import BuildRow


class SharedRow(FileRow, frozen=True, kw_only=True):
    """A place or machine that is shared, and the allergens that can get in by it."""

    place: Literal["freezer", "fridge", "room", "ice_well", "oven", "tins"]
    allergens: tuple[str, ...]


class SwapRow(FileRow, frozen=True, kw_only=True):
    """A rule for an alcohol-free version: an item gives way to another, ``factor`` times as much by volume; without one it
    is left out."""

    item: Key
    to: Key | None = None
    factor: Annotated[float, Meta(ge=0.0, le=100.0)] = 1.0


class HouseRow(FileRow, frozen=True, kw_only=True):
    """What a house is called, how it counts, what it asks and pays, and what it shares."""

    house_name: Name
    is_demo: bool = False
    alcohol_units: Key = "au"
    counting: CountingRow = CountingRow()
    tax_pct: Percent = 20.0
    wanted_pour_cost_pct: Annotated[float, Meta(ge=1.0, le=100.0)] = 20.0
    labour_per_hour: Positive | None = None
    shared: tuple[SharedRow, ...] = ()
    service_ends: TimeOfDay = "02:00"
    wording_law: Key = "strictest"
    salt_batch_pct: Annotated[float, Meta(ge=0.0, le=200.0)] = 75.0
    bitters_batch_pct: Annotated[float, Meta(ge=0.0, le=200.0)] = 60.0
    swaps: tuple[SwapRow, ...] = ()


class TodayRow(FileRow, frozen=True, kw_only=True):
    """How far today's fruit lies from the table, in percent of it, until a local time (ISO 8601)."""

    sugars_pct: PercentMoreOrLess = 0.0
    acids_pct: PercentMoreOrLess = 0.0
    until: Words = ""
    how: Words = ""


class OwnMeasureRow(FileRow, frozen=True, kw_only=True):
    """What a house weighed, tasted or read for itself of a raw ingredient of the pantry."""

    slug: Key
    may_contain: tuple[str, ...] | None = None
    today: TodayRow | None = None
    piece_g: Grams | None = None
    drop_ml: Millilitres | None = None
    dash_ml: Millilitres | None = None


class HouseFile(FileRow, frozen=True, kw_only=True):
    """The builds of a house that stands on the pantry: items, glasses, methods and targets go by the pantry's names."""

    format: Literal["washline-house"]
    version: Literal[3]
    house: HouseRow
    weighed: tuple[OwnMeasureRow, ...] = ()
    ices: tuple[IceRow, ...] = ()
    vessels: tuple[VesselRow, ...] = ()
    builds: tuple[BuildRow, ...]


class MeltRow(FileRow, frozen=True, kw_only=True):
    """What the house weighed at a chill of one of its builds, written at that step as ``weighed``.

    The rest of the conditions are those of the step: the liquid as it comes there, ice and tin as it says or as usual.
    ``ice`` is the slug of an ice; without it the words of the step for its ice, or of the method, say which.
    """

    date: Annotated[str, Meta(max_length=40)]
    melted_g: Grams
    ice: Key | None = None
    note: Words = ""
