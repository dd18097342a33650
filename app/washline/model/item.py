"""What can be poured or weighed into a build: raw ingredients, house-made parts, their leftovers; and drinks."""

from enum import StrEnum

from msgspec import Struct

from washline.model.step import AnyStep

UNKNOWN = "unknown"
"""The allergen key of an item whose label nobody has read: it is never the same as none."""


class KeptAt(StrEnum):
    """Where an item stands, and so how cold it is poured."""

    FREEZER = "freezer"
    FRIDGE = "fridge"
    ROOM = "room"
    ICE_WELL = "ice_well"


class Price(Struct, frozen=True, gc=False):
    """What was paid: ``per_unit`` in the house's currency for one ``unit`` ("l" or "kg"), on a ``date`` (ISO 8601)."""

    per_unit: float
    unit: str
    date: str
    note: str = ""


class Today(Struct, frozen=True, gc=False):
    """Today's fruit: how far its sugars and acids lie from the table, in percent of it, until a time the house sets.

    ``until`` is a local time (ISO 8601); ``how`` says in words what it rests on (a slider, a strip, a titration).
    """

    sugars_pct: float = 0.0
    acids_pct: float = 0.0
    until: str = ""
    how: str = ""


class RawIngredient(Struct, frozen=True, kw_only=True, gc=False, tag="raw"):
    """Something bought, not made.

    ``composition`` holds grams per 100 g in the order of ``chemistry.components.COMPONENTS``; ``None`` is not known, 0 is
    none. The rest of an incomplete row is mass of unknown kind. ``strong_cation_mmol_per_100g`` binds part of the acid,
    ``other_acid_name`` says which acid the component of that name is, and ``ph_model`` what the cation is: measured
    potassium, fitted, or none. ``titratable_acidity_pct`` (g citric acid per 100 g), ``soluble_solids_pct`` (°Bx) and the
    typical pH are as published, for comparison; the engine computes its own. ``today`` shifts the table until a set time.
    ``may_contain`` holds allergens that can get in by shared machines and tins.
    ``sugar_uncertainty_pct`` and ``acid_uncertainty_pct`` are one standard deviation between deliveries, relative.
    ``density_g_per_ml`` is of the degassed liquid at 20 °C, and is only known for what is poured. What ``foams`` makes a
    head when it is shaken.
    """

    id: int
    slug: str
    name: str
    category: str = ""
    form: str = "liquid"
    composition: tuple[float | None, ...]
    density_g_per_ml: float | None = None
    strength_pct_vol: float | None = None
    co2_g_per_l: float | None = None
    bitterness: float | None = None
    strong_cation_mmol_per_100g: float | None = None
    other_acid_name: str = ""
    ph_model: str = ""
    typical_ph_low: float | None = None
    typical_ph_high: float | None = None
    titratable_acidity_pct: float | None = None
    soluble_solids_pct: float | None = None
    sugar_uncertainty_pct: float | None = None
    acid_uncertainty_pct: float | None = None
    allergens: tuple[str, ...] = (UNKNOWN,)
    may_contain: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    kept_at: KeptAt = KeptAt.ROOM
    drop_ml: float | None = None
    dash_ml: float | None = None
    piece_g: float | None = None
    edible_yield: float | None = None
    edible_yield_basis: str = ""
    season_months: str = ""
    house_days: int | None = None
    prices: tuple[Price, ...] = ()
    today: Today | None = None
    vegan: str = ""
    vegetarian: str = ""
    foams: bool = False
    source: str = ""
    source_kind: str = ""
    from_memory_fields: str = ""
    note: str = ""

    @property
    def is_poured(self) -> bool:
        """Whether it is a liquid, so that a volume of it means something."""
        return self.form == "liquid"


class Sign(Struct, frozen=True, gc=False):
    """One line of *if it is off*: what is tasted, and what to do."""

    taste: str
    remedy: str


class BatchService(StrEnum):
    """How a batch is kept and served, and so whether its dilution goes in as water."""

    FREEZER = "freezer"
    FRIDGE = "fridge"
    TAP = "tap"
    CARBONATED = "carbonated"
    ON_ICE = "on_ice"
    """Undiluted: each serve still meets its ice."""


class Batch(Struct, frozen=True, kw_only=True, gc=False):
    """How a drink is made ahead: so many ``serves``, or as much as fills ``vessel_count`` of a vessel.

    Citrus and fizz can be left out until service. ``salt_pct`` and ``bitters_pct`` are what goes in of the salt and bitters
    of the serves (``None``: what the house's settings say); ``round_g`` is what the scale can weigh.
    """

    serves: float = 10.0
    vessel: str = ""
    vessel_count: float | None = None
    service: BatchService = BatchService.FREEZER
    citrus_at_service: bool = False
    fizz_at_service: bool = True
    salt_pct: float | None = None
    bitters_pct: float | None = None
    round_g: float = 1.0


class BuildKind(StrEnum):
    """The two ends of a build: a glass, or a bottle."""

    DRINK = "drink"
    PART = "part"


class Build(Struct, frozen=True, kw_only=True, gc=False, tag="build"):
    """A vessel and its steps: a drink, or a house-made part whose main output is the item of the same ``id``.

    ``steps`` are in order of ``place``. ``glass`` is the slug of a glass; ``ice`` and ``ice_g`` say what ice is served in
    it (``None``: as usual for the glass; 0: none). ``wash_line_ml`` is the house's own mark for this drink. ``house_days``
    is how long the house keeps a part, not tested. ``parent_id`` is the drink this one was twisted from, and
    ``is_tried`` says that nobody has decided yet whether the twist stays.
    ``added_allergens`` are the house's additions: it may add, never remove; ``may_contain`` are those that can get in by
    what is shared. ``acts_as_id`` is the raw ingredient whose composition the main output of a breakdown takes, and
    ``value_per_kg`` what a kilogram of it is worth beside its leftovers. ``keeps_by`` is what lets a part outlive its
    shortest input, in words. ``price`` is what a guest pays for a drink, tax included; ``labour_min`` and ``waste_pct``
    are for one batch or one serve. ``fizz_loss_pct`` is what of its gas leaves on pouring and ``foam_ml`` the foam that
    stands on it (``None``: what the house's settings say). ``batch`` is how it is made ahead.
    """

    id: int
    kind: BuildKind
    name: str
    note: str = ""
    steps: tuple[AnyStep, ...] = ()
    glass: str | None = None
    ice: str | None = None
    ice_g: float | None = None
    wash_line_ml: float | None = None
    target_id: int | None = None
    parent_id: int | None = None
    is_tried: bool = False
    kept_at: KeptAt = KeptAt.FRIDGE
    house_days: int | None = None
    bitterness: float | None = None
    drop_ml: float | None = None
    dash_ml: float | None = None
    piece_g: float | None = None
    pour_ml: float | None = None
    added_allergens: tuple[str, ...] = ()
    may_contain: tuple[str, ...] = ()
    acts_as_id: int | None = None
    value_per_kg: float | None = None
    keeps_by: str = ""
    price: float | None = None
    labour_min: float | None = None
    waste_pct: float | None = None
    fizz_loss_pct: float | None = None
    foam_ml: float | None = None
    batch: Batch | None = None
    tastes_like: str = ""
    if_off: tuple[Sign, ...] = ()

    @property
    def is_drink(self) -> bool:
        """Whether it ends in a glass."""
        return self.kind is BuildKind.DRINK


class Leftover(Struct, frozen=True, kw_only=True, gc=False, tag="leftover"):
    """A by-product of one step of a build, an item like any other.

    Without ``house_days`` of its own it keeps as long as what it is left over from. ``acts_as_id`` and ``value_per_kg`` as
    for a build.
    """

    id: int
    build_id: int
    name: str
    kept_at: KeptAt = KeptAt.FRIDGE
    house_days: int | None = None
    piece_g: float | None = None
    bitterness: float | None = None
    acts_as_id: int | None = None
    value_per_kg: float | None = None
    may_contain: tuple[str, ...] = ()


class StepYield(Struct, frozen=True, gc=False):
    """What one strain left in one making: the vessel before it and the liquid after it, weighed, in grams."""

    step_id: int
    before_g: float
    weighed_g: float


class Making(Struct, frozen=True, kw_only=True, gc=False, tag="making"):
    """One time that a part was made: its ``date`` (ISO 8601) and the yields weighed then."""

    id: int
    build_id: int
    date: str
    yields: tuple[StepYield, ...] = ()
    note: str = ""


Item = RawIngredient | Build | Leftover
