"""Tables of what a house sets: its ways of counting, targets, glasses, methods, ice, vessels, measures and weighings."""

from sqlalchemy import CheckConstraint, Index
from sqlalchemy.orm import Mapped, mapped_column

from washline.store.schema.base import (
    AnyReading,
    Base,
    Celsius,
    Count,
    Factor,
    Grams,
    HeatCapacity,
    Id,
    Kilopascal,
    Millilitres,
    Money,
    Offset,
    Percent,
    Position,
    Seconds,
    Share,
    one_of,
    refers_to,
)

JOINT_COSTS = ("main", "mass", "value")
KEPT_AT = ("freezer", "fridge", "room", "ice_well")
METHOD_KINDS = ("on_ice", "in_glass", "all_in", "no_ice", "cold_store", "hot", "other")


class SettingsRow(Base):
    """How the house counts: one row, with the id 0."""

    __tablename__ = "settings"
    __table_args__ = (
        CheckConstraint("id = 0", name="is_one_row"),
        one_of("joint_cost", JOINT_COSTS),
    )

    id: Mapped[Position] = mapped_column(primary_key=True)
    house_name: Mapped[str]
    is_demo: Mapped[bool]
    currency: Mapped[str]
    oz_ml: Mapped[Millilitres]
    alcohol_units: Mapped[str]
    freezer_c: Mapped[Celsius]
    fridge_c: Mapped[Celsius]
    room_c: Mapped[Celsius]
    ice_well_c: Mapped[Celsius]
    fizz_loss_pct: Mapped[Percent]
    wash_line_pct: Mapped[Percent]
    paper_size: Mapped[str]
    joint_cost: Mapped[str]
    tax_pct: Mapped[Percent]
    wanted_pour_cost_pct: Mapped[Percent]
    labour_per_hour: Mapped[Money | None]
    service_ends: Mapped[str]
    foam_allowance_ml: Mapped[Millilitres]
    egg_foam_pct: Mapped[Percent]
    glass_w_per_k: Mapped[Count]
    glass_j_per_k: Mapped[Count]
    rinse_film_ml: Mapped[Millilitres]
    scant_ml: Mapped[Millilitres]
    heavy_ml: Mapped[Millilitres]
    wording_law: Mapped[str]
    warmest_c: Mapped[Celsius]
    salt_batch_pct: Mapped[Percent]
    bitters_batch_pct: Mapped[Percent]


class SettingsSharedRow(Base):
    """An allergen that can get in by a shared place; a place without any has one row with NULL.

    Rows of one ``entry`` belong to one mention of a place.
    """

    __tablename__ = "settings_shared"

    settings_id: Mapped[Position] = mapped_column(refers_to("settings.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    entry: Mapped[Position]
    place: Mapped[str]
    allergen: Mapped[str | None]


class SettingsSwapRow(Base):
    """A rule for an alcohol-free version: one item gives way to another, or to nothing where that is NULL."""

    __tablename__ = "settings_swap"
    __table_args__ = (Index(None, "from_id"), Index(None, "to_id"))

    settings_id: Mapped[Position] = mapped_column(refers_to("settings.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    from_id: Mapped[Id] = mapped_column(refers_to("item.id"))
    to_id: Mapped[Id | None] = mapped_column(refers_to("item.id"))
    factor: Mapped[Factor]


class TargetRow(Base):
    """A named set of aims."""

    __tablename__ = "target"

    id: Mapped[Id] = mapped_column(primary_key=True)
    name: Mapped[str]


class TargetAimRow(Base):
    """What a target wants of one reading."""

    __tablename__ = "target_aim"
    __table_args__ = (CheckConstraint("low <= ideal AND ideal <= high", name="in_order"),)

    target_id: Mapped[Id] = mapped_column(refers_to("target.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    reading: Mapped[str]
    low: Mapped[AnyReading]
    ideal: Mapped[AnyReading]
    high: Mapped[AnyReading]
    is_gate: Mapped[bool]
    source: Mapped[str]
    note: Mapped[str]


class GlassRow(Base):
    """A glass."""

    __tablename__ = "glass"

    slug: Mapped[str] = mapped_column(primary_key=True)
    name: Mapped[str]
    brim_ml: Mapped[Millilitres]
    usual_fill_ml: Mapped[Millilitres | None]
    ice: Mapped[str]
    ice_g: Mapped[Grams]
    wash_line_ml: Mapped[Millilitres | None]
    source: Mapped[str]
    note: Mapped[str]


class MethodRow(Base):
    """A way to chill."""

    __tablename__ = "method"
    __table_args__ = (
        one_of("kind", METHOD_KINDS),
        one_of("kept_at", KEPT_AT),
        CheckConstraint("dilution_low_pct <= dilution_high_pct", name="dilution_in_order"),
        CheckConstraint("end_low_c <= end_high_c", name="end_in_order"),
    )

    slug: Mapped[str] = mapped_column(primary_key=True)
    name: Mapped[str]
    kind: Mapped[str]
    ice: Mapped[str]
    ice_g: Mapped[Grams | None]
    time_low_s: Mapped[Seconds | None]
    time_high_s: Mapped[Seconds | None]
    dilution_low_pct: Mapped[Percent]
    dilution_high_pct: Mapped[Percent]
    end_low_c: Mapped[Celsius]
    end_high_c: Mapped[Celsius]
    published: Mapped[str]
    approach: Mapped[Share]
    tau_s: Mapped[Seconds]
    core: Mapped[Share]
    ice_g_per_ml: Mapped[Factor]
    surface_water_pct: Mapped[Percent]
    vessel_j_per_k: Mapped[HeatCapacity]
    vessel_is_cold: Mapped[bool]
    kept_at: Mapped[str | None]
    source: Mapped[str]
    source_kind: Mapped[str]
    note: Mapped[str]


class MeasureRow(Base):
    """A bar measure."""

    __tablename__ = "measure"
    __table_args__ = (CheckConstraint("low <= high", name="in_order"),)

    slug: Mapped[str] = mapped_column(primary_key=True)
    name: Mapped[str]
    value: Mapped[Count]
    unit: Mapped[str]
    low: Mapped[Count]
    high: Mapped[Count]
    source: Mapped[str]
    source_kind: Mapped[str]
    note: Mapped[str]


class IceRow(Base):
    """A kind of ice."""

    __tablename__ = "ice"

    slug: Mapped[str] = mapped_column(primary_key=True)
    name: Mapped[str]
    pace: Mapped[Factor]
    temperature_c: Mapped[Celsius]
    surface_water_pct: Mapped[Percent | None]
    wet_pct: Mapped[Percent]
    edge_mm: Mapped[Count]
    piece_g: Mapped[Grams | None]
    source: Mapped[str]
    source_kind: Mapped[str]
    note: Mapped[str]


class VesselRow(Base):
    """A bottle, keg, siphon or jug. A pressure that is NULL is not known."""

    __tablename__ = "vessel"

    slug: Mapped[str] = mapped_column(primary_key=True)
    name: Mapped[str]
    volume_ml: Mapped[Millilitres]
    fill_ml: Mapped[Millilitres | None]
    rated_kpa: Mapped[Kilopascal | None]
    source: Mapped[str]
    source_kind: Mapped[str]
    note: Mapped[str]


class WeighingRow(Base):
    """One time that the house weighed what melted; the grams of each component before ice, where NULL is not known."""

    __tablename__ = "weighing"
    __table_args__ = (
        Index(None, "build_id"),
        Index(None, "step_id"),
        Index(None, "method"),
        Index(None, "ice"),
    )

    id: Mapped[Id] = mapped_column(primary_key=True)
    method: Mapped[str] = mapped_column(refers_to("method.slug"))
    ice: Mapped[str] = mapped_column(refers_to("ice.slug"))
    date: Mapped[str]
    build_id: Mapped[Id | None] = mapped_column(refers_to("build.id"))
    step_id: Mapped[Id | None] = mapped_column(refers_to("step.id"))
    water: Mapped[Grams | None]
    ethanol: Mapped[Grams | None]
    sucrose: Mapped[Grams | None]
    glucose: Mapped[Grams | None]
    fructose: Mapped[Grams | None]
    lactose: Mapped[Grams | None]
    maltose: Mapped[Grams | None]
    other_carbohydrate: Mapped[Grams | None]
    polyol: Mapped[Grams | None]
    citric: Mapped[Grams | None]
    malic: Mapped[Grams | None]
    tartaric: Mapped[Grams | None]
    lactic: Mapped[Grams | None]
    acetic: Mapped[Grams | None]
    ascorbic: Mapped[Grams | None]
    phosphoric: Mapped[Grams | None]
    other_acid: Mapped[Grams | None]
    nacl: Mapped[Grams | None]
    other_solids: Mapped[Grams | None]
    protein: Mapped[Grams | None]
    fat: Mapped[Grams | None]
    fibre: Mapped[Grams | None]
    insoluble: Mapped[Grams | None]
    co2: Mapped[Grams | None]
    liquid_c: Mapped[Celsius]
    ice_g: Mapped[Grams]
    ice_c: Mapped[Celsius]
    surface_water_g: Mapped[Grams]
    seconds: Mapped[Seconds | None]
    vessel_j_per_k: Mapped[HeatCapacity]
    vessel_c: Mapped[Celsius]
    melted_g: Mapped[Grams]
    note: Mapped[str]


class CalibrationRow(Base):
    """What the house's weighings say of one method on one ice."""

    __tablename__ = "calibration"
    __table_args__ = (Index(None, "method"), Index(None, "ice"))

    slug: Mapped[str] = mapped_column(primary_key=True)
    method: Mapped[str] = mapped_column(refers_to("method.slug"))
    ice: Mapped[str] = mapped_column(refers_to("ice.slug"))
    date: Mapped[str]
    tau_s: Mapped[Seconds | None]
    surface_water_pct: Mapped[Percent | None]
    factor: Mapped[Factor]
    offset: Mapped[Offset]
    weighings: Mapped[Position]
    left_ml_per_100_ml: Mapped[Count | None]
