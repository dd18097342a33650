"""Tables of what a house sets: its ways of counting, targets, glasses, methods and measures."""

from sqlalchemy import CheckConstraint
from sqlalchemy.orm import Mapped, mapped_column

from washline.store.schema.base import (
    AnyReading,
    Base,
    Celsius,
    Count,
    Grams,
    Id,
    Millilitres,
    Money,
    Percent,
    Position,
    Seconds,
    one_of,
    refers_to,
)

JOINT_COSTS = ("main", "mass", "value")


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
        CheckConstraint("dilution_low_pct <= dilution_high_pct", name="dilution_in_order"),
        CheckConstraint("end_low_c <= end_high_c", name="end_in_order"),
    )

    slug: Mapped[str] = mapped_column(primary_key=True)
    name: Mapped[str]
    ice: Mapped[str]
    ice_g: Mapped[Grams | None]
    time_low_s: Mapped[Seconds | None]
    time_high_s: Mapped[Seconds | None]
    dilution_low_pct: Mapped[Percent]
    dilution_high_pct: Mapped[Percent]
    end_low_c: Mapped[Celsius]
    end_high_c: Mapped[Celsius]
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
