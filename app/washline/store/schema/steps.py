"""The table of steps: one row per step of any kind, with the columns that its kind has and NULL in the others."""

from sqlalchemy import CheckConstraint, Index
from sqlalchemy.orm import Mapped, mapped_column

from washline.store.schema.base import (
    Acidity,
    AmountNumber,
    AnyReading,
    Base,
    Brix,
    Celsius,
    Count,
    Gain,
    Grams,
    GramsPerLitre,
    Id,
    Kilopascal,
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
HEFTS = ("", "scant", "heavy")
ICE_STATES = ("usual", "dry", "wet")
CHILL_BY = ("usual", "balance", "published")
BAR_STRAIN_WAYS = ("strain", "fine", "unstrained")
GARNISH_WAYS = ("garnish", "rim", "express")
WEIGHTS = ("used", "trimmed", "bought")
WASHES = ("fat", "milk")
FERMENTS = ("lactic", "yeast")
GOALS = ("brix", "acidity", "strength", "salt")
PER = ("mass", "volume")
MEASURABLES = ("mass", "volume", "density", "brix", "ph", "acidity", "strength")
PRODUCE = ("add", "infuse")
LINES = (*PRODUCE, "rinse", "top", "garnish")
MEASURED = (*LINES, "take")
EVAPORATING = ("heat", "reduce", "dry")
WORKING = (
    "blend",
    "muddle",
    "rest",
    "note",
    "infuse",
    "wash",
    "strain",
    *EVAPORATING,
    "ferment",
    "adjust",
    "measure",
    "chill",
    "bar_strain",
    "smoke",
    "carbonate",
)
KINDS = tuple(dict.fromkeys((*MEASURED, *WORKING)))

ALWAYS = {
    "item_id": LINES,
    "amount_number": MEASURED,
    "amount_unit": MEASURED,
    "amount_basis": MEASURED,
    "amount_typed": MEASURED,
    "amount_heft": MEASURED,
    "weight": PRODUCE,
    "in_liquid": ("garnish",),
    "wash_kind": ("wash",),
    "way": ("strain",),
    "ethanol_way": EVAPORATING,
    "ferment_kind": ("ferment",),
    "goal": ("adjust",),
    "per": ("adjust",),
    "quantity": ("measure",),
    "measured_value": ("measure",),
    "instrument": ("measure",),
    "gain": ("measure",),
    "method": ("chill",),
    "ice": ("chill",),
    "count_unit": ("chill",),
    "ice_state": ("chill",),
    "chill_by": ("chill",),
    "bar_strain_way": ("bar_strain",),
    "fresh_ice": ("bar_strain",),
    "vessel": ("carbonate",),
    "is_layer": ("top",),
    "garnish_way": ("garnish",),
}
"""Columns that are filled in these kinds of step and in no other."""

MAYBE = {
    "temperature_c": (*PRODUCE, "rinse", "top"),
    "bought_g": PRODUCE,
    "duration_s": WORKING,
    "temperature_low_c": WORKING,
    "temperature_high_c": WORKING,
    "water_given_pct": ("infuse",),
    "sugars_given_pct": ("infuse",),
    "acids_given_pct": ("infuse",),
    "salt_given_pct": ("infuse",),
    "solids_given_pct": ("infuse",),
    "given_spread_pct": ("infuse",),
    "fat_held_pct": ("wash",),
    "protein_held_pct": ("wash",),
    "acids_held_pct": ("wash",),
    "weighed_g": ("strain",),
    "expected_pct": ("strain",),
    "low_pct": ("strain",),
    "high_pct": ("strain",),
    "leftover_weighed_g": ("strain",),
    "measured_brix": ("strain",),
    "measured_acidity_pct": ("strain",),
    "leftover_id": ("strain", "take"),
    "final_g": (*EVAPORATING, "chill"),
    "final_pct": EVAPORATING,
    "final_brix": (*EVAPORATING, "ferment"),
    "ethanol_kept_pct": EVAPORATING,
    "gas_lost_g": ("ferment",),
    "final_acidity_pct": ("ferment",),
    "final_ph": ("ferment",),
    "discard_above_ph": ("ferment",),
    "discard_on_day": ("ferment",),
    "goal_value": ("adjust",),
    "like_item_id": ("adjust",),
    "uncertainty": ("measure",),
    "ice_g": ("chill",),
    "count": ("chill",),
    "melted_g": ("chill",),
    "final_ml": ("chill",),
    "ice_c": ("chill",),
    "vessel_c": ("chill", "bar_strain"),
    "end_c": ("chill",),
    "held_back_ml": ("bar_strain",),
    "fresh_ice_g": ("bar_strain",),
    "film_ml": ("rinse",),
    "over_kpa": ("carbonate",),
    "at_c": ("carbonate",),
    "co2_g_per_l": ("carbonate",),
    "reached_pct": ("carbonate",),
    "fills": ("carbonate",),
    "warmest_c": ("carbonate",),
    "opening_loss_pct": ("carbonate",),
    "stays_g": ("garnish",),
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
        one_of("amount_heft", HEFTS),
        one_of("weight", WEIGHTS),
        one_of("wash_kind", WASHES),
        one_of("ferment_kind", FERMENTS),
        one_of("goal", GOALS),
        one_of("per", PER),
        one_of("quantity", MEASURABLES),
        one_of("ice_state", ICE_STATES),
        one_of("chill_by", CHILL_BY),
        one_of("bar_strain_way", BAR_STRAIN_WAYS),
        one_of("garnish_way", GARNISH_WAYS),
        *_of_its_kind(),
        CheckConstraint(
            "kind <> 'adjust' OR (goal_value IS NULL) <> (like_item_id IS NULL)", name="has_one_goal"
        ),
        Index(None, "build_id"),
        Index(None, "item_id"),
        Index(None, "like_item_id"),
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
    amount_heft: Mapped[str | None]
    temperature_c: Mapped[Celsius | None]
    weight: Mapped[str | None]
    bought_g: Mapped[Grams | None]
    in_liquid: Mapped[bool | None]
    is_layer: Mapped[bool | None]
    film_ml: Mapped[Millilitres | None]
    garnish_way: Mapped[str | None]
    stays_g: Mapped[Grams | None]
    duration_s: Mapped[Seconds | None]
    temperature_low_c: Mapped[Celsius | None]
    temperature_high_c: Mapped[Celsius | None]
    water_given_pct: Mapped[Percent | None]
    sugars_given_pct: Mapped[Percent | None]
    acids_given_pct: Mapped[Percent | None]
    salt_given_pct: Mapped[Percent | None]
    solids_given_pct: Mapped[Percent | None]
    given_spread_pct: Mapped[Percent | None]
    wash_kind: Mapped[str | None]
    fat_held_pct: Mapped[Percent | None]
    protein_held_pct: Mapped[Percent | None]
    acids_held_pct: Mapped[Percent | None]
    way: Mapped[str | None]
    weighed_g: Mapped[Grams | None]
    expected_pct: Mapped[Percent | None]
    low_pct: Mapped[Percent | None]
    high_pct: Mapped[Percent | None]
    leftover_id: Mapped[Id | None] = mapped_column(refers_to("leftover.id"))
    leftover_weighed_g: Mapped[Grams | None]
    measured_brix: Mapped[Brix | None]
    measured_acidity_pct: Mapped[Percent | None]
    final_g: Mapped[Grams | None]
    final_pct: Mapped[Percent | None]
    final_brix: Mapped[Brix | None]
    ethanol_kept_pct: Mapped[Percent | None]
    ethanol_way: Mapped[str | None]
    ferment_kind: Mapped[str | None]
    gas_lost_g: Mapped[Grams | None]
    final_acidity_pct: Mapped[Percent | None]
    final_ph: Mapped[Acidity | None]
    discard_above_ph: Mapped[Acidity | None]
    discard_on_day: Mapped[Count | None]
    goal: Mapped[str | None]
    goal_value: Mapped[AmountNumber | None]
    per: Mapped[str | None]
    like_item_id: Mapped[Id | None] = mapped_column(refers_to("item.id"))
    quantity: Mapped[str | None]
    measured_value: Mapped[AnyReading | None]
    instrument: Mapped[str | None]
    uncertainty: Mapped[Count | None]
    gain: Mapped[Gain | None]
    method: Mapped[str | None] = mapped_column(refers_to("method.slug"))
    ice: Mapped[str | None]
    ice_g: Mapped[Grams | None]
    count: Mapped[Count | None]
    count_unit: Mapped[str | None]
    melted_g: Mapped[Grams | None]
    final_ml: Mapped[Millilitres | None]
    ice_state: Mapped[str | None]
    ice_c: Mapped[Celsius | None]
    vessel_c: Mapped[Celsius | None]
    chill_by: Mapped[str | None]
    end_c: Mapped[Celsius | None]
    bar_strain_way: Mapped[str | None]
    held_back_ml: Mapped[Millilitres | None]
    fresh_ice: Mapped[str | None]
    fresh_ice_g: Mapped[Grams | None]
    vessel: Mapped[str | None]
    over_kpa: Mapped[Kilopascal | None]
    at_c: Mapped[Celsius | None]
    co2_g_per_l: Mapped[GramsPerLitre | None]
    reached_pct: Mapped[Percent | None]
    fills: Mapped[Count | None]
    warmest_c: Mapped[Celsius | None]
    opening_loss_pct: Mapped[Percent | None]


class StepBaseRow(Base):
    """A step to which the amount of another refers."""

    __tablename__ = "step_base"
    __table_args__ = (Index(None, "base_id"),)

    step_id: Mapped[Id] = mapped_column(refers_to("step.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    base_id: Mapped[Id] = mapped_column(refers_to("step.id"))


class StepPortionRow(Base):
    """One item of those that an adjustment adds together."""

    __tablename__ = "step_portion"
    __table_args__ = (Index(None, "item_id"),)

    step_id: Mapped[Id] = mapped_column(refers_to("step.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    item_id: Mapped[Id] = mapped_column(refers_to("item.id"))
    parts: Mapped[Count]
