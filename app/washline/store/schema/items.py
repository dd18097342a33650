"""Tables of what can be poured: raw ingredients, builds, leftovers. An item's id is given once, whatever its kind."""

from sqlalchemy import Index
from sqlalchemy.orm import Mapped, mapped_column

from washline.store.schema.base import (
    Acidity,
    Base,
    Count,
    Days,
    Grams,
    GramsPer100Grams,
    GramsPerLitre,
    GramsPerMillilitre,
    HouseScale,
    Id,
    Millilitres,
    MillimolePer100Grams,
    Money,
    Percent,
    PercentMoreOrLess,
    Position,
    Share,
    one_of,
    refers_to,
)

KEPT_AT = ("freezer", "fridge", "room", "ice_well")
BATCH_SERVICES = ("freezer", "fridge", "tap", "carbonated", "on_ice")


class ItemRow(Base):
    """Any item: the row that lines refer to."""

    __tablename__ = "item"
    __table_args__ = (one_of("kind", ("raw", "build", "leftover")),)

    id: Mapped[Id] = mapped_column(primary_key=True)
    kind: Mapped[str]


class RawRow(Base):
    """A raw ingredient; its composition in grams per 100 g, where NULL is not known and 0 is none."""

    __tablename__ = "raw"
    __table_args__ = (one_of("kept_at", KEPT_AT),)

    id: Mapped[Id] = mapped_column(refers_to("item.id"), primary_key=True)
    slug: Mapped[str]
    name: Mapped[str]
    category: Mapped[str]
    form: Mapped[str]
    water: Mapped[GramsPer100Grams | None]
    ethanol: Mapped[GramsPer100Grams | None]
    sucrose: Mapped[GramsPer100Grams | None]
    glucose: Mapped[GramsPer100Grams | None]
    fructose: Mapped[GramsPer100Grams | None]
    lactose: Mapped[GramsPer100Grams | None]
    maltose: Mapped[GramsPer100Grams | None]
    other_carbohydrate: Mapped[GramsPer100Grams | None]
    polyol: Mapped[GramsPer100Grams | None]
    citric: Mapped[GramsPer100Grams | None]
    malic: Mapped[GramsPer100Grams | None]
    tartaric: Mapped[GramsPer100Grams | None]
    lactic: Mapped[GramsPer100Grams | None]
    acetic: Mapped[GramsPer100Grams | None]
    ascorbic: Mapped[GramsPer100Grams | None]
    phosphoric: Mapped[GramsPer100Grams | None]
    other_acid: Mapped[GramsPer100Grams | None]
    nacl: Mapped[GramsPer100Grams | None]
    other_solids: Mapped[GramsPer100Grams | None]
    protein: Mapped[GramsPer100Grams | None]
    fat: Mapped[GramsPer100Grams | None]
    fibre: Mapped[GramsPer100Grams | None]
    insoluble: Mapped[GramsPer100Grams | None]
    co2: Mapped[GramsPer100Grams | None]
    density_g_per_ml: Mapped[GramsPerMillilitre | None]
    strength_pct_vol: Mapped[Percent | None]
    co2_g_per_l: Mapped[GramsPerLitre | None]
    bitterness: Mapped[HouseScale | None]
    strong_cation_mmol_per_100g: Mapped[MillimolePer100Grams | None]
    other_acid_name: Mapped[str]
    ph_model: Mapped[str]
    typical_ph_low: Mapped[Acidity | None]
    typical_ph_high: Mapped[Acidity | None]
    titratable_acidity_pct: Mapped[Percent | None]
    soluble_solids_pct: Mapped[Percent | None]
    sugar_uncertainty_pct: Mapped[Percent | None]
    acid_uncertainty_pct: Mapped[Percent | None]
    kept_at: Mapped[str]
    drop_ml: Mapped[Millilitres | None]
    dash_ml: Mapped[Millilitres | None]
    piece_g: Mapped[Grams | None]
    edible_yield: Mapped[Share | None]
    edible_yield_basis: Mapped[str]
    season_months: Mapped[str]
    house_days: Mapped[Days | None]
    vegan: Mapped[str]
    vegetarian: Mapped[str]
    foams: Mapped[bool]
    source: Mapped[str]
    source_kind: Mapped[str]
    from_memory_fields: Mapped[str]
    note: Mapped[str]


class RawPriceRow(Base):
    """What was paid for a raw ingredient, once per purchase."""

    __tablename__ = "raw_price"

    raw_id: Mapped[Id] = mapped_column(refers_to("raw.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    per_unit: Mapped[Money]
    unit: Mapped[str]
    date: Mapped[str]
    note: Mapped[str]


class RawAllergenRow(Base):
    """An allergen of a raw ingredient. The key ``unknown`` says that nobody read the label; no row says none."""

    __tablename__ = "raw_allergen"

    raw_id: Mapped[Id] = mapped_column(refers_to("raw.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    allergen: Mapped[str]


class RawMayContainRow(Base):
    """An allergen that can get into a raw ingredient where it is made or kept."""

    __tablename__ = "raw_may_contain"

    raw_id: Mapped[Id] = mapped_column(refers_to("raw.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    allergen: Mapped[str]


class RawTodayRow(Base):
    """How far today's fruit lies from the table; no row where it is not told apart."""

    __tablename__ = "raw_today"

    raw_id: Mapped[Id] = mapped_column(refers_to("raw.id"), primary_key=True)
    sugars_pct: Mapped[PercentMoreOrLess]
    acids_pct: Mapped[PercentMoreOrLess]
    until: Mapped[str]
    how: Mapped[str]


class RawCautionRow(Base):
    """A caution that goes with a raw ingredient."""

    __tablename__ = "raw_caution"

    raw_id: Mapped[Id] = mapped_column(refers_to("raw.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    caution: Mapped[str]


class BuildRow(Base):
    """A drink or a house-made part, without its steps."""

    __tablename__ = "build"
    __table_args__ = (
        one_of("kind", ("drink", "part")),
        one_of("kept_at", KEPT_AT),
        Index(None, "acts_as_id"),
        Index(None, "parent_id"),
        Index(None, "target_id"),
    )

    id: Mapped[Id] = mapped_column(refers_to("item.id"), primary_key=True)
    kind: Mapped[str]
    name: Mapped[str]
    note: Mapped[str]
    glass: Mapped[str | None] = mapped_column(refers_to("glass.slug"))
    ice: Mapped[str | None]
    ice_g: Mapped[Grams | None]
    wash_line_ml: Mapped[Millilitres | None]
    target_id: Mapped[Id | None] = mapped_column(refers_to("target.id"))
    parent_id: Mapped[Id | None] = mapped_column(refers_to("build.id"))
    is_tried: Mapped[bool]
    kept_at: Mapped[str]
    house_days: Mapped[Days | None]
    bitterness: Mapped[HouseScale | None]
    drop_ml: Mapped[Millilitres | None]
    dash_ml: Mapped[Millilitres | None]
    piece_g: Mapped[Grams | None]
    pour_ml: Mapped[Millilitres | None]
    acts_as_id: Mapped[Id | None] = mapped_column(refers_to("raw.id"))
    value_per_kg: Mapped[Money | None]
    keeps_by: Mapped[str]
    price: Mapped[Money | None]
    labour_min: Mapped[Count | None]
    waste_pct: Mapped[Percent | None]
    fizz_loss_pct: Mapped[Percent | None]
    foam_ml: Mapped[Millilitres | None]
    tastes_like: Mapped[str]


class BuildAllergenRow(Base):
    """An allergen that the house adds to what the lines of a build bring."""

    __tablename__ = "build_allergen"

    build_id: Mapped[Id] = mapped_column(refers_to("build.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    allergen: Mapped[str]


class BuildMayContainRow(Base):
    """An allergen that can get into a build by what is shared."""

    __tablename__ = "build_may_contain"

    build_id: Mapped[Id] = mapped_column(refers_to("build.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    allergen: Mapped[str]


class BuildSignRow(Base):
    """One line of *if it is off*: what is tasted, and what to do."""

    __tablename__ = "build_sign"

    build_id: Mapped[Id] = mapped_column(refers_to("build.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    taste: Mapped[str]
    remedy: Mapped[str]


class BuildBatchRow(Base):
    """How a drink is made ahead; no row where the house has not said."""

    __tablename__ = "build_batch"
    __table_args__ = (one_of("service", BATCH_SERVICES),)

    build_id: Mapped[Id] = mapped_column(refers_to("build.id"), primary_key=True)
    serves: Mapped[Count]
    vessel: Mapped[str]
    vessel_count: Mapped[Count | None]
    service: Mapped[str]
    citrus_at_service: Mapped[bool]
    fizz_at_service: Mapped[bool]
    salt_pct: Mapped[Percent | None]
    bitters_pct: Mapped[Percent | None]
    round_g: Mapped[Grams]


class LeftoverRow(Base):
    """A by-product of one step of a build."""

    __tablename__ = "leftover"
    __table_args__ = (one_of("kept_at", KEPT_AT), Index(None, "acts_as_id"), Index(None, "build_id"))

    id: Mapped[Id] = mapped_column(refers_to("item.id"), primary_key=True)
    build_id: Mapped[Id] = mapped_column(refers_to("build.id"))
    name: Mapped[str]
    kept_at: Mapped[str]
    house_days: Mapped[Days | None]
    piece_g: Mapped[Grams | None]
    bitterness: Mapped[HouseScale | None]
    acts_as_id: Mapped[Id | None] = mapped_column(refers_to("raw.id"))
    value_per_kg: Mapped[Money | None]


class LeftoverMayContainRow(Base):
    """An allergen that can get into a leftover by what is shared."""

    __tablename__ = "leftover_may_contain"

    leftover_id: Mapped[Id] = mapped_column(refers_to("leftover.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    allergen: Mapped[str]


class MakingRow(Base):
    """One time that a part was made."""

    __tablename__ = "making"
    __table_args__ = (Index(None, "build_id"),)

    id: Mapped[Id] = mapped_column(primary_key=True)
    build_id: Mapped[Id] = mapped_column(refers_to("build.id"))
    date: Mapped[str]
    note: Mapped[str]


class MakingYieldRow(Base):
    """What one strain left in one making."""

    __tablename__ = "making_yield"
    __table_args__ = (Index(None, "step_id"),)

    making_id: Mapped[Id] = mapped_column(refers_to("making.id"), primary_key=True)
    position: Mapped[Position] = mapped_column(primary_key=True)
    step_id: Mapped[Id] = mapped_column(refers_to("step.id"))
    before_g: Mapped[Grams]
    weighed_g: Mapped[Grams]
