"""The table of steps: one row per step of any kind, with the columns that its kind has and NULL in the others."""

from sqlalchemy import CheckConstraint, Index
from sqlalchemy.orm import Mapped, mapped_column

from washline.store.schema.base import (
    AmountNumber,
    Base,
    Celsius,
    Count,
    Grams,
    Id,
    Millilitres,
    Percent,
    Place,
    Position,
    Seconds,
    one_of,
    refers_to,
)

BASES = (
    "absolute",
    "percent_of_vessel",
    "percent_of_lines",
    "parts",
    "to_volume",
    "to_mass",
    "to_wash_line",
)
LINES = ("add", "top", "garnish")
MEASURED = (*LINES, "take")
EVAPORATING = ("heat", "reduce", "dry")
WORKING = ("blend", "rest", "note", "strain", *EVAPORATING, "chill")
KINDS = (*MEASURED, *WORKING)

ALWAYS = {
    "item_id": LINES,
    "amount_number": MEASURED,
    "amount_unit": MEASURED,
    "amount_basis": MEASURED,
    "amount_typed": MEASURED,
    "in_liquid": ("garnish",),
    "method": ("chill",),
    "ice": ("chill",),
    "count_unit": ("chill",),
}
"""Columns that are filled in these kinds of step and in no other."""

MAYBE = {
    "temperature_c": ("add", "top"),
    "duration_s": WORKING,
    "temperature_low_c": WORKING,
    "temperature_high_c": WORKING,
    "weighed_g": ("strain",),
    "expected_pct": ("strain",),
    "low_pct": ("strain",),
    "high_pct": ("strain",),
    "leftover_weighed_g": ("strain",),
    "leftover_id": ("strain", "take"),
    "final_g": (*EVAPORATING, "chill"),
    "final_pct": EVAPORATING,
    "ethanol_kept_pct": EVAPORATING,
    "ice_g": ("chill",),
    "count": ("chill",),
    "melted_g": ("chill",),
    "final_ml": ("chill",),
}
"""Columns that may be filled in these kinds of step and are NULL in every other."""


def _words(kinds: tuple[str, ...]) -> str:
    return ", ".join(f"'{kind}'" for kind in kinds)


def _of_its_kind() -> tuple[CheckConstraint, ...]:
    always = (
        CheckConstraint(f"({column} IS NOT NULL) = (kind IN ({_words(kinds)}))", name=f"{column}_of_kind")
        for column, kinds in ALWAYS.items()
    )
    maybe = (
        CheckConstraint(f"{column} IS NULL OR kind IN ({_words(kinds)})", name=f"{column}_of_kind")
        for column, kinds in MAYBE.items()
    )
    return (*always, *maybe)


class StepRow(Base):
    """A step of a build, in the order of ``place``."""

    __tablename__ = "step"
    __table_args__ = (
        one_of("kind", KINDS),
        one_of("amount_basis", BASES),
        *_of_its_kind(),
        Index(None, "build_id"),
        Index(None, "item_id"),
        Index(None, "leftover_id"),
    )

    id: Mapped[Id] = mapped_column(primary_key=True)
    kind: Mapped[str]
    build_id: Mapped[Id] = mapped_column(refers_to("build.id"))
    place: Mapped[Place]
    words: Mapped[str]
    left_out: Mapped[bool]
    item_id: Mapped[Id | None] = mapped_column(refers_to("item.id"))
    amount_number: Mapped[AmountNumber | None]
    amount_unit: Mapped[str | None]
    amount_basis: Mapped[str | None]
    amount_typed: Mapped[str | None]
    temperature_c: Mapped[Celsius | None]
    in_liquid: Mapped[bool | None]
    duration_s: Mapped[Seconds | None]
    temperature_low_c: Mapped[Celsius | None]
    temperature_high_c: Mapped[Celsius | None]
    weighed_g: Mapped[Grams | None]
    expected_pct: Mapped[Percent | None]
    low_pct: Mapped[Percent | None]
    high_pct: Mapped[Percent | None]
    leftover_id: Mapped[Id | None] = mapped_column(refers_to("leftover.id"))
    leftover_weighed_g: Mapped[Grams | None]
    final_g: Mapped[Grams | None]
    final_pct: Mapped[Percent | None]
    ethanol_kept_pct: Mapped[Percent | None]
    method: Mapped[str | None] = mapped_column(refers_to("method.slug"))
    ice: Mapped[str | None]
    ice_g: Mapped[Grams | None]
    count: Mapped[Count | None]
    count_unit: Mapped[str | None]
    melted_g: Mapped[Grams | None]
    final_ml: Mapped[Millilitres | None]


class StepBaseRow(Base):
    """A step to which the amount of another refers."""

    __tablename__ = "step_base"
    __table_args__ = (Index(None, "base_id"),)

    step_id: Mapped[Id] = mapped_column(refers_to("step.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    base_id: Mapped[Id] = mapped_column(refers_to("step.id"))
