"""The rows of what a house has and how it counts: glasses, methods, measures, ice, vessels, and its ways of counting."""

from typing import Annotated, Literal

from msgspec import Meta

from washline.exchange.row_types import (
    Celsius,
    FileRow,
    Grams,
    IceCelsius,
    Key,
    Millilitres,
    Name,
    Percent,
    Positive,
    Seconds,
    Share,
    Words,
)
from washline.model.house import JointCost, MethodKind
from washline.model.item import KeptAt

Published = Literal["", "stirred", "shaken"]
"""The regressions of ``chemistry.dilution`` that a method can be made for; empty: none."""


class GlassRow(FileRow, frozen=True, kw_only=True):
    """A glass and the ice it is served with."""

    slug: Key
    name: Name
    brim_ml: Annotated[float, Meta(gt=0.0, le=1e6)]
    usual_fill_ml: Millilitres | None = None
    ice: Words = ""
    ice_g: Grams = 0.0
    wash_line_ml: Millilitres | None = None
    source: Words = ""
    note: Words = ""


class MethodRow(FileRow, frozen=True, kw_only=True):
    """A way to chill, with the published ranges of its dilution and end temperature, and what a balance of heat takes."""

    slug: Key
    name: Name
    ice: Words = ""
    ice_g: Grams | None = None
    time_low_s: Seconds | None = None
    time_high_s: Seconds | None = None
    dilution_low_pct: Positive
    dilution_high_pct: Positive
    end_low_c: Celsius
    end_high_c: Celsius
    kind: MethodKind = MethodKind.ON_ICE
    published: Published = ""
    approach: Share = 0.9
    tau_s: Annotated[float, Meta(ge=0.01, le=1e5)] = 13.0
    core: Share = 1.0
    ice_g_per_ml: Annotated[float, Meta(ge=0.0, le=100.0)] = 2.0
    surface_water_pct: Percent = 0.0
    vessel_j_per_k: Annotated[float, Meta(ge=0.0, le=1e6)] = 0.0
    vessel_is_cold: bool = True
    kept_at: KeptAt | None = None
    source: Words = ""
    source_kind: Words = ""
    note: Words = ""


class IceRow(FileRow, frozen=True, kw_only=True):
    """A kind of ice: its pace beside 30 mm cubes, how cold it is, and what water clings to it."""

    slug: Key
    name: Name
    pace: Annotated[float, Meta(ge=0.01, le=100.0)] = 1.0
    temperature_c: IceCelsius = 0.0
    surface_water_pct: Percent | None = None
    wet_pct: Percent = 5.0
    edge_mm: Annotated[float, Meta(ge=0.1, le=2_000.0)] = 30.0
    piece_g: Grams | None = None
    source: Words = ""
    source_kind: Words = ""
    note: Words = ""


class VesselRow(FileRow, frozen=True, kw_only=True):
    """A bottle, keg, siphon or jug. A rating (kPa over the atmosphere) that is left out is not known: not for pressure."""

    slug: Key
    name: Name
    volume_ml: Annotated[float, Meta(ge=1.0, le=1e7)]
    fill_ml: Annotated[float, Meta(ge=1.0, le=1e7)] | None = None
    rated_kpa: Annotated[float, Meta(ge=1.0, le=10_000.0)] | None = None
    source: Words = ""
    source_kind: Words = ""
    note: Words = ""


class MeasureRow(FileRow, frozen=True, kw_only=True):
    """A bar measure: what one of it holds, and the range met in practice."""

    slug: Key
    name: Name
    value: Positive
    unit: Literal["ml", "g"]
    low: Positive
    high: Positive
    source: Words = ""
    source_kind: Words = ""
    note: Words = ""


class CountingRow(FileRow, frozen=True, kw_only=True):
    """How the house that wrote the file counts; a house that counts otherwise gets other readings."""

    currency: Words = "EUR"
    oz_ml: Annotated[float, Meta(gt=0.0, le=1000.0)] = 30.0
    freezer_c: Celsius = -18.0
    fridge_c: Celsius = 4.0
    room_c: Celsius = 20.0
    ice_well_c: Celsius = 0.0
    fizz_loss_pct: Percent = 25.0
    wash_line_pct: Percent = 82.5
    joint_cost: JointCost = JointCost.MAIN
    foam_allowance_ml: Annotated[float, Meta(ge=0.0, le=1_000.0)] = 5.0
    egg_foam_pct: Percent = 17.5
    glass_w_per_k: Annotated[float, Meta(ge=0.0, le=100.0)] = 0.4
    glass_j_per_k: Annotated[float, Meta(ge=0.0, le=10_000.0)] = 80.0
    rinse_film_ml: Annotated[float, Meta(ge=0.0, le=100.0)] = 1.5
    scant_ml: Annotated[float, Meta(ge=0.0, le=100.0)] = 2.5
    heavy_ml: Annotated[float, Meta(ge=0.0, le=100.0)] = 2.5
    warmest_c: Annotated[float, Meta(ge=-20.0, le=80.0)] = 25.0
