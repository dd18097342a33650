"""The rows of the open format: what a build file and a house file hold, by names and keys, never by ids.

A key is a short name that is unique within its file. Lines refer to items by key; shares refer to steps of the same build
by their number, the first being 1.
"""

from typing import Annotated, Final, Literal

from msgspec import Meta

from washline.exchange.kit_rows import CountingRow, GlassRow, IceRow, MeasureRow, MethodRow, VesselRow
from washline.exchange.row_types import (
    Acidity,
    Brix,
    Celsius,
    Days,
    FileRow,
    Grams,
    HouseScale,
    IceCelsius,
    Key,
    Kilopascal,
    Millilitres,
    Name,
    Percent,
    Positive,
    ReadingValue,
    Seconds,
    StepNumber,
    Words,
)
from washline.model.amount import Basis, Heft
from washline.model.item import UNKNOWN, BatchService, KeptAt
from washline.model.step import (
    BarStrainWay,
    ChillBy,
    FermentKind,
    GarnishWay,
    Goal,
    IceState,
    Measurable,
    Per,
    WashKind,
    Weight,
)

FORMAT: Final = "washline-build"
VERSION: Final = 3
"""Version 2 has all bench steps, breaking down and makings; version 3 the steps at the bar, methods as heat, ice, vessels,
weighings and batches. What an older version wrote is read as it stands."""

ALLERGENS = (
    "gluten", "crustaceans", "eggs", "fish", "peanuts", "soy", "milk", "nuts", "celery", "mustard", "sesame", "sulphites",
    "lupin", "molluscs",
)  # fmt: skip
"""The fourteen groups of Regulation (EU) No 1169/2011, Annex II, by the keys of the pantry."""


class AmountRow(FileRow, frozen=True, kw_only=True):
    """A number in a unit and what it is a share of; ``of`` are numbers of steps, ``typed`` is the text as typed."""

    number: Annotated[float, Meta(ge=0.0, le=1e6)]
    unit: Annotated[str, Meta(min_length=1, max_length=40)]
    basis: Basis = Basis.ABSOLUTE
    of: tuple[StepNumber, ...] = ()
    typed: Words = ""
    heft: Heft = Heft.EVEN


class LeftoverRow(FileRow, frozen=True, kw_only=True):
    """What a step leaves over: an item that other builds can use by its key. ``acts_as`` is the slug of the raw ingredient
    whose composition it takes."""

    key: Key
    name: Name
    kept_at: KeptAt = KeptAt.FRIDGE
    house_days: Days | None = None
    piece_g: Grams | None = None
    bitterness: HouseScale | None = None
    acts_as: Key | None = None
    value_per_kg: Positive | None = None
    may_contain: tuple[str, ...] = ()


class StepRow(FileRow, frozen=True, kw_only=True, tag_field="step"):
    """What all steps have."""

    words: Words = ""
    left_out: bool = False


class AddRow(StepRow, frozen=True, kw_only=True, tag="add"):
    """An amount of an item goes into the vessel."""

    item: Key
    amount: AmountRow
    temperature_c: Celsius | None = None
    weight: Weight = Weight.USED
    bought_g: Grams | None = None


class WorkRow(StepRow, frozen=True, kw_only=True):
    """A step that takes time, at a temperature."""

    duration_s: Seconds | None = None
    temperature_low_c: Celsius | None = None
    temperature_high_c: Celsius | None = None


class BlendRow(WorkRow, frozen=True, kw_only=True, tag="blend"):
    """Blending, stirring or cutting."""


class MuddleRow(WorkRow, frozen=True, kw_only=True, tag="muddle"):
    """Pressing in the vessel."""


class RestRow(WorkRow, frozen=True, kw_only=True, tag="rest"):
    """Waiting."""


class NoteRow(WorkRow, frozen=True, kw_only=True, tag="note"):
    """A sentence for the paper."""


class InfuseRow(WorkRow, frozen=True, kw_only=True, tag="infuse"):
    """A solid gives shares of what it holds to the liquid; a share that is left out is not known."""

    item: Key
    amount: AmountRow
    temperature_c: Celsius | None = None
    weight: Weight = Weight.USED
    bought_g: Grams | None = None
    water_given_pct: Percent | None = None
    sugars_given_pct: Percent | None = None
    acids_given_pct: Percent | None = None
    salt_given_pct: Percent | None = None
    solids_given_pct: Percent | None = None
    given_spread_pct: Percent | None = None


class WashRow(WorkRow, frozen=True, kw_only=True, tag="wash"):
    """Fat or milk takes shares of what the liquid holds along."""

    kind: WashKind = WashKind.FAT
    fat_held_pct: Percent | None = None
    protein_held_pct: Percent | None = None
    acids_held_pct: Percent | None = None


class StrainRow(WorkRow, frozen=True, kw_only=True, tag="strain"):
    """Splits the vessel into liquid, a leftover and a loss. What was measured is of the liquid."""

    way: Words = ""
    weighed_g: Grams | None = None
    expected_pct: Percent | None = None
    low_pct: Percent | None = None
    high_pct: Percent | None = None
    leftover: LeftoverRow | None = None
    leftover_weighed_g: Grams | None = None
    measured_brix: Brix | None = None
    measured_acidity_pct: Percent | None = None


class EvaporateRow(WorkRow, frozen=True, kw_only=True):
    """Water leaves until the vessel weighs a final mass or a percent of what it weighed, or its liquid has a final °Bx."""

    final_g: Grams | None = None
    final_pct: Percent | None = None
    final_brix: Brix | None = None
    ethanol_kept_pct: Percent | None = None
    ethanol_way: Words = ""


class HeatRow(EvaporateRow, frozen=True, kw_only=True, tag="heat"):
    """Heating."""


class ReduceRow(EvaporateRow, frozen=True, kw_only=True, tag="reduce"):
    """Boiling down."""


class DryRow(EvaporateRow, frozen=True, kw_only=True, tag="dry"):
    """Drying."""


class FermentRow(WorkRow, frozen=True, kw_only=True, tag="ferment"):
    """Sugars become acid, alcohol and gas, as far as it was measured."""

    kind: FermentKind = FermentKind.LACTIC
    gas_lost_g: Grams | None = None
    final_acidity_pct: Percent | None = None
    final_brix: Brix | None = None
    final_ph: Acidity | None = None
    discard_above_ph: Acidity | None = None
    discard_on_day: Positive | None = None


class PortionRow(FileRow, frozen=True, kw_only=True):
    """One item of those that an adjustment adds together, in parts by weight."""

    item: Key
    parts: Positive = 1.0


class AdjustRow(WorkRow, frozen=True, kw_only=True, tag="adjust"):
    """As much of some items as brings the vessel to a reading: to a ``value``, or to that of the item ``like``."""

    goal: Goal
    value: Positive | None = None
    per: Per = Per.MASS
    like: Key | None = None
    portions: Annotated[tuple[PortionRow, ...], Meta(min_length=1)]


class MeasurementRow(WorkRow, frozen=True, kw_only=True, tag="measure"):
    """A value measured on the vessel; ``gain`` is the share of the difference that the vessel takes over."""

    quantity: Measurable
    value: ReadingValue
    instrument: Words = ""
    uncertainty: Positive | None = None
    gain: Annotated[float, Meta(ge=0.0, le=1.0)] = 1.0


class TakeRow(StepRow, frozen=True, kw_only=True, tag="take"):
    """An amount of the vessel is set aside as a leftover, or poured away."""

    amount: AmountRow
    leftover: LeftoverRow | None = None


class ChillRow(WorkRow, frozen=True, kw_only=True, tag="chill"):
    """Cooling by one of the file's methods. ``end_c`` is the temperature at the end, as measured."""

    method: Key
    ice: Words = ""
    ice_g: Grams | None = None
    count: Positive | None = None
    count_unit: Words = ""
    melted_g: Grams | None = None
    final_g: Grams | None = None
    final_ml: Millilitres | None = None
    ice_state: IceState = IceState.USUAL
    ice_c: IceCelsius | None = None
    vessel_c: Celsius | None = None
    by: ChillBy = ChillBy.USUAL
    end_c: Celsius | None = None


class BarStrainRow(WorkRow, frozen=True, kw_only=True, tag="bar_strain"):
    """A drink is strained into its glass, over fresh ice or not."""

    way: BarStrainWay = BarStrainWay.STRAIN
    held_back_ml: Millilitres | None = None
    fresh_ice: Words = ""
    fresh_ice_g: Grams | None = None
    vessel_c: Celsius | None = None


class RinseRow(StepRow, frozen=True, kw_only=True, tag="rinse"):
    """A glass is rinsed with an item and poured out; a film stays."""

    item: Key
    amount: AmountRow
    film_ml: Millilitres | None = None
    temperature_c: Celsius | None = None


class SmokeRow(WorkRow, frozen=True, kw_only=True, tag="smoke"):
    """Smoke over or in the drink."""


class CarbonateRow(WorkRow, frozen=True, kw_only=True, tag="carbonate"):
    """Carbon dioxide is dissolved under pressure, in one of the file's vessels; pressures are over the atmosphere."""

    vessel: Annotated[str, Meta(max_length=200)] = ""
    over_kpa: Kilopascal | None = None
    at_c: Celsius | None = None
    co2_g_per_l: Positive | None = None
    reached_pct: Percent | None = None
    fills: Positive | None = None
    warmest_c: Celsius | None = None
    opening_loss_pct: Percent | None = None


class TopRow(StepRow, frozen=True, kw_only=True, tag="top"):
    """A line that lengthens the drink, or lies on it as a layer."""

    item: Key
    amount: AmountRow
    temperature_c: Celsius | None = None
    is_layer: bool = False


class GarnishRow(StepRow, frozen=True, kw_only=True, tag="garnish"):
    """Something on the glass."""

    item: Key
    amount: AmountRow
    in_liquid: bool = False
    way: GarnishWay = GarnishWay.GARNISH
    stays_g: Grams | None = None


AnyStepRow = (
    AddRow | BlendRow | MuddleRow | RestRow | NoteRow | InfuseRow | WashRow | StrainRow | HeatRow | ReduceRow | DryRow
    | FermentRow | AdjustRow | MeasurementRow | TakeRow | ChillRow | BarStrainRow | RinseRow | SmokeRow | CarbonateRow
    | TopRow | GarnishRow
)  # fmt: skip


LineRow = AddRow | InfuseRow | RinseRow | TopRow | GarnishRow
"""The rows of steps that take in one item."""


class SignRow(FileRow, frozen=True, kw_only=True):
    """What is tasted when it is off, and what to do."""

    taste: Words
    remedy: Words


class StepYieldRow(FileRow, frozen=True, kw_only=True):
    """What a strain, by its number, left in one making: the vessel before it and the liquid after it, weighed."""

    step: StepNumber
    before_g: Grams
    weighed_g: Grams


class MakingRow(FileRow, frozen=True, kw_only=True):
    """One time that a part was made."""

    date: Annotated[str, Meta(max_length=40)]
    yields: tuple[StepYieldRow, ...] = ()
    note: Words = ""


class BatchRow(FileRow, frozen=True, kw_only=True):
    """How a drink is made ahead: so many serves, or as much as fills some of the file's vessels."""

    serves: Annotated[float, Meta(ge=0.1, le=1e5)] = 10.0
    vessel: Annotated[str, Meta(max_length=200)] = ""
    vessel_count: Annotated[float, Meta(ge=0.01, le=1e5)] | None = None
    service: BatchService = BatchService.FREEZER
    citrus_at_service: bool = False
    fizz_at_service: bool = True
    salt_pct: Annotated[float, Meta(ge=0.0, le=200.0)] | None = None
    bitters_pct: Annotated[float, Meta(ge=0.0, le=200.0)] | None = None
    round_g: Annotated[float, Meta(ge=0.001, le=1_000.0)] = 1.0


class BuildRow(FileRow, frozen=True, kw_only=True):
    """A drink or a house-made part. ``target`` is the name of a target; ``glass`` the key of a glass; ``twist_of`` the
    key of the drink in the same file that it was twisted from; ``acts_as`` the slug of the raw ingredient whose composition
    the main output of a breakdown takes. ``price`` is what a guest pays, tax included."""

    key: Key
    kind: Literal["drink", "part"]
    name: Name
    note: Words = ""
    glass: Key | None = None
    ice: Words | None = None
    ice_g: Grams | None = None
    wash_line_ml: Millilitres | None = None
    target: Name | None = None
    twist_of: Key | None = None
    kept_at: KeptAt = KeptAt.FRIDGE
    house_days: Days | None = None
    bitterness: HouseScale | None = None
    drop_ml: Millilitres | None = None
    dash_ml: Millilitres | None = None
    piece_g: Grams | None = None
    pour_ml: Millilitres | None = None
    added_allergens: tuple[str, ...] = ()
    may_contain: tuple[str, ...] = ()
    acts_as: Key | None = None
    value_per_kg: Positive | None = None
    keeps_by: Words = ""
    price: Positive | None = None
    labour_min: Positive | None = None
    waste_pct: Percent | None = None
    fizz_loss_pct: Percent | None = None
    foam_ml: Millilitres | None = None
    batch: BatchRow | None = None
    tastes_like: Words = ""
    if_off: tuple[SignRow, ...] = ()
    steps: tuple[AnyStepRow, ...] = ()
    makings: tuple[MakingRow, ...] = ()


class CompositionRow(FileRow, frozen=True, kw_only=True):
    """Grams of each component in 100 g. A component that is left out is not known; 0 is none. Insoluble solids are apart
    from fibre, protein and other carbohydrate."""

    water: Percent | None = None
    ethanol: Percent | None = None
    sucrose: Percent | None = None
    glucose: Percent | None = None
    fructose: Percent | None = None
    lactose: Percent | None = None
    maltose: Percent | None = None
    other_carbohydrate: Percent | None = None
    polyol: Percent | None = None
    citric: Percent | None = None
    malic: Percent | None = None
    tartaric: Percent | None = None
    lactic: Percent | None = None
    acetic: Percent | None = None
    ascorbic: Percent | None = None
    phosphoric: Percent | None = None
    other_acid: Percent | None = None
    nacl: Percent | None = None
    other_solids: Percent | None = None
    protein: Percent | None = None
    fat: Percent | None = None
    fibre: Percent | None = None
    insoluble: Percent | None = None
    co2: Percent | None = None


class PriceRow(FileRow, frozen=True, kw_only=True):
    """What was paid for one ``unit``, in the currency of the file."""

    per_unit: Positive
    unit: Literal["l", "kg"]
    date: Words
    note: Words = ""


class RawRow(FileRow, frozen=True, kw_only=True):
    """A raw ingredient. ``allergens`` holds *unknown* where nobody has read the label; an empty list means none."""

    slug: Key
    name: Name
    category: Words = ""
    form: Literal["liquid", "solid", "powder", "gas"] = "liquid"
    composition: CompositionRow
    density_g_per_ml: Annotated[float, Meta(gt=0.0, le=25.0)] | None = None
    strength_pct_vol: Percent | None = None
    co2_g_per_l: Positive | None = None
    bitterness: HouseScale | None = None
    strong_cation_mmol_per_100g: Annotated[float, Meta(ge=-10_000.0, le=10_000.0)] | None = None
    other_acid_name: Words = ""
    ph_model: Words = ""
    typical_ph_low: Acidity | None = None
    typical_ph_high: Acidity | None = None
    titratable_acidity_pct: Percent | None = None
    soluble_solids_pct: Percent | None = None
    sugar_uncertainty_pct: Percent | None = None
    acid_uncertainty_pct: Percent | None = None
    allergens: tuple[str, ...]
    may_contain: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    kept_at: KeptAt = KeptAt.ROOM
    drop_ml: Millilitres | None = None
    dash_ml: Millilitres | None = None
    piece_g: Grams | None = None
    edible_yield: Annotated[float, Meta(gt=0.0, le=1.0)] | None = None
    edible_yield_basis: Words = ""
    season_months: Words = ""
    house_days: Days | None = None
    prices: tuple[PriceRow, ...] = ()
    vegan: Words = ""
    vegetarian: Words = ""
    foams: bool = False
    source: Words = ""
    source_kind: Words = ""
    from_memory_fields: Words = ""
    note: Words = ""


class AimRow(FileRow, frozen=True, kw_only=True):
    """One reading of a target: low ≤ ideal ≤ high. A gate is a limit and no axis."""

    reading: Key
    low: ReadingValue
    ideal: ReadingValue
    high: ReadingValue
    is_gate: bool = False
    source: Words = ""
    note: Words = ""


class TargetRow(FileRow, frozen=True, kw_only=True):
    """A named set of aims, in the order of the radar's axes."""

    name: Name
    aims: tuple[AimRow, ...]


class BuildFile(FileRow, frozen=True, kw_only=True):
    """One drink or house-made part with all it depends on. ``main`` is the key of that build; ``credits`` are owed where
    the raw ingredients are shown."""

    format: Literal["washline-build"]
    version: Literal[3]
    main: Key
    counting: CountingRow = CountingRow()
    builds: tuple[BuildRow, ...]
    raws: tuple[RawRow, ...] = ()
    targets: tuple[TargetRow, ...] = ()
    glasses: tuple[GlassRow, ...] = ()
    methods: tuple[MethodRow, ...] = ()
    measures: tuple[MeasureRow, ...] = ()
    ices: tuple[IceRow, ...] = ()
    vessels: tuple[VesselRow, ...] = ()
    credits: tuple[str, ...] = ()


UNKNOWN_OR_ALLERGEN = frozenset({*ALLERGENS, UNKNOWN})
