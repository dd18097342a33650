"""The steps of a build: what happens to the vessel, one entry each.

Every step has an ``id`` of its own, so that a share can refer to a line whatever its position, and a ``place`` that
orders it within its build. A step that is ``left_out`` is kept, shown struck through, and does nothing.
"""

from enum import StrEnum

from msgspec import Struct

from washline.model.amount import Amount


class Weight(StrEnum):
    """Which weight of produce an amount means."""

    USED = "used"
    """What goes into the vessel."""
    TRIMMED = "trimmed"
    """Peeled, cored, stripped: it goes into the vessel as it is, and more of it was bought."""
    BOUGHT = "bought"
    """As it came; what the edible yield leaves of it goes into the vessel."""


class Step(Struct, frozen=True, kw_only=True, gc=False):
    """What all steps have. ``words`` is the house's own text for the paper: how, with what, in what state."""

    id: int
    build_id: int
    place: float
    words: str = ""
    left_out: bool = False


class Add(Step, frozen=True, kw_only=True, gc=False, tag="add"):
    """A line: an amount of an item goes into the vessel.

    It comes at the temperature at which its item is kept, unless ``temperature_c`` says otherwise (water at 80 °C).
    ``weight`` says which weight the amount means; ``bought_g`` is what was weighed as bought for it, which then tells
    the edible yield instead of the item's own.
    """

    item_id: int
    amount: Amount
    temperature_c: float | None = None
    weight: Weight = Weight.USED
    bought_g: float | None = None


class Work(Step, frozen=True, kw_only=True, gc=False):
    """Steps that change nothing in the ledger: time, temperature and kit for the paper."""

    duration_s: float | None = None
    temperature_low_c: float | None = None
    temperature_high_c: float | None = None


class Blend(Work, frozen=True, kw_only=True, gc=False, tag="blend"):
    """Blending, stirring or cutting, in words."""


class Muddle(Work, frozen=True, kw_only=True, gc=False, tag="muddle"):
    """Pressing in the vessel, in words."""


class Rest(Work, frozen=True, kw_only=True, gc=False, tag="rest"):
    """Waiting, covered or not."""


class Note(Work, frozen=True, kw_only=True, gc=False, tag="note"):
    """A sentence for the paper."""


class Infuse(Work, frozen=True, kw_only=True, gc=False, tag="infuse"):
    """A solid gives part of what it holds to the liquid, and stays in the vessel until it is strained off.

    The given shares are the house's own, in percent of what the solid holds of each group; ``None`` is not known: then
    nothing of that group is counted, and as much as the solid holds of it is unknown. ``given_spread_pct`` is one
    standard deviation of all given shares, relative.
    """

    item_id: int
    amount: Amount
    temperature_c: float | None = None
    weight: Weight = Weight.USED
    bought_g: float | None = None
    water_given_pct: float | None = None
    sugars_given_pct: float | None = None
    acids_given_pct: float | None = None
    salt_given_pct: float | None = None
    solids_given_pct: float | None = None
    given_spread_pct: float | None = None


class WashKind(StrEnum):
    """What washes: it takes something out of the liquid and is strained off with it."""

    FAT = "fat"
    MILK = "milk"


class Wash(Work, frozen=True, kw_only=True, gc=False, tag="wash"):
    """Fat or milk that is in the vessel parts from the liquid and takes shares of what the vessel holds along.

    The held shares are in percent of what the vessel holds of each group: ``None`` is all of the fat, no protein in a
    fat wash, the casein share in a milk wash, and no acid.
    """

    kind: WashKind = WashKind.FAT
    fat_held_pct: float | None = None
    protein_held_pct: float | None = None
    acids_held_pct: float | None = None


class Strain(Work, frozen=True, kw_only=True, gc=False, tag="strain"):
    """Splits the vessel into liquid that goes on, a leftover, and a loss on filter and jug.

    ``weighed_g`` is the liquid as weighed; without it the liquid is ``expected_pct`` of the vessel by mass, with the range
    ``low_pct`` to ``high_pct``. ``leftover_weighed_g`` is the leftover as weighed; without it the leftover is all that is
    not liquid. All insoluble solids stay behind, and the liquid in the cake has the composition of the strained liquid,
    unless something was measured on it: ``measured_brix`` (true °Bx) and ``measured_acidity_pct`` (g citric acid per
    100 g) are of the strained liquid, and what it does not hold stays in the cake. ``way`` is how it is clarified, a key
    of ``engine.straining.WAYS``, for the paper and for the usual yield.
    """

    way: str = ""
    weighed_g: float | None = None
    expected_pct: float | None = None
    low_pct: float | None = None
    high_pct: float | None = None
    leftover_id: int | None = None
    leftover_weighed_g: float | None = None
    measured_brix: float | None = None
    measured_acidity_pct: float | None = None


class Evaporate(Work, frozen=True, kw_only=True, gc=False):
    """Water leaves as vapour until the vessel weighs ``final_g``, or ``final_pct`` of what it weighed, or its liquid has
    ``final_brix`` true °Bx; with none, nothing leaves. ``ethanol_kept_pct`` is the share of the ethanol that stays;
    without it ``ethanol_way``, a key of ``chemistry.cooking``, looks it up for the time that it takes; without either all
    stays until the water that is to leave is used up."""

    final_g: float | None = None
    final_pct: float | None = None
    final_brix: float | None = None
    ethanol_kept_pct: float | None = None
    ethanol_way: str = ""


class Heat(Evaporate, frozen=True, kw_only=True, gc=False, tag="heat"):
    """Heating, with or without steam."""


class Reduce(Evaporate, frozen=True, kw_only=True, gc=False, tag="reduce"):
    """Boiling down in an open pan."""


class Dry(Evaporate, frozen=True, kw_only=True, gc=False, tag="dry"):
    """Drying in an oven or a dehydrator."""


class FermentKind(StrEnum):
    """Who ferments."""

    LACTIC = "lactic"
    YEAST = "yeast"


class Ferment(Work, frozen=True, kw_only=True, gc=False, tag="ferment"):
    """Sugars become acid, alcohol and gas, as far as it was measured.

    ``gas_lost_g`` is the CO2 that left, by weighing. Lactic: ``final_acidity_pct`` is the titratable acidity reached (g
    citric acid per 100 g). Yeast: ``final_brix`` is the true °Bx reached, where no gas was weighed. ``final_ph`` is as
    measured, and stands. ``discard_above_ph`` on day ``discard_on_day`` is the house's limit, for the paper.
    """

    kind: FermentKind = FermentKind.LACTIC
    gas_lost_g: float | None = None
    final_acidity_pct: float | None = None
    final_brix: float | None = None
    final_ph: float | None = None
    discard_above_ph: float | None = None
    discard_on_day: float | None = None


class Goal(StrEnum):
    """The reading that an adjustment meets."""

    BRIX = "brix"
    """True °Bx: g of dissolved solids per 100 g."""
    ACIDITY = "acidity"
    """Titratable, as g of citric acid."""
    STRENGTH = "strength"
    """% vol at 20 °C."""
    SALT = "salt"
    """g of sodium chloride."""


class Per(StrEnum):
    """What a share is of."""

    MASS = "mass"
    """In 100 g."""
    VOLUME = "volume"
    """In 100 ml at 20 °C."""


class Portion(Struct, frozen=True, gc=False):
    """One item of several that are added together, in parts by weight."""

    item_id: int
    parts: float = 1.0


class Adjust(Work, frozen=True, kw_only=True, gc=False, tag="adjust"):
    """As much of one item, or of several in parts, as brings the vessel to a reading.

    Of ``value`` and ``like_item_id`` ("as sour as lime juice") exactly one is given. °Bx and % vol are what they are;
    for acidity and salt ``per`` says whether the value is in 100 g or in 100 ml. What cannot meet its goal adds nothing.
    """

    goal: Goal
    value: float | None = None
    per: Per = Per.MASS
    like_item_id: int | None = None
    portions: tuple[Portion, ...] = ()


class Measurable(StrEnum):
    """What is measured on a vessel, and its unit."""

    MASS = "mass"
    """g"""
    VOLUME = "volume"
    """ml at 20 °C"""
    DENSITY = "density"
    """g/ml at 20 °C"""
    BRIX = "brix"
    """°Bx as a refractometer shows it"""
    PH = "ph"
    ACIDITY = "acidity"
    """titratable, g of citric acid in 100 g"""
    STRENGTH = "strength"
    """% vol"""


class Measurement(Work, frozen=True, kw_only=True, gc=False, tag="measure"):
    """A value measured on the vessel, reconciled with the computed one by both uncertainties.

    ``uncertainty`` is one standard deviation of the instrument in the unit of the quantity. ``gain`` is the share of the
    difference that the vessel takes over, 0 to 1: found once, when the value was typed, and kept.
    """

    quantity: Measurable
    value: float
    instrument: str = ""
    uncertainty: float | None = None
    gain: float = 1.0


class Take(Step, frozen=True, kw_only=True, gc=False, tag="take"):
    """An amount of the vessel, as it is, is set aside as an item of its own (``leftover_id``), or poured away."""

    amount: Amount
    leftover_id: int | None = None


class IceState(StrEnum):
    """How much water clings to the ice."""

    USUAL = "usual"
    """As usual for the method and the ice."""
    DRY = "dry"
    """Drained or straight from the freezer: none."""
    WET = "wet"
    """From the well, not drained."""


class ChillBy(StrEnum):
    """What tells how much melts, where nothing was weighed."""

    USUAL = "usual"
    """The published dilution where it was made for, the balance of heat elsewhere."""
    BALANCE = "balance"
    PUBLISHED = "published"


class Chill(Work, frozen=True, kw_only=True, gc=False, tag="chill"):
    """Cooling (or warming) by a bar method, with the water that melts from the ice.

    Of ``melted_g``, ``final_g`` and ``final_ml`` at most one is given: what was weighed or measured wins over everything
    computed, and so does ``end_c``, the temperature as measured at the end. ``ice`` names an ice of the house; without
    ``ice_g`` it is as much as usual for the method. ``ice_c`` is how cold the ice is (``None``: as the house's ice is).
    ``vessel_c`` is the temperature of tin, mixing glass or glass (``None``: as usual for the method). ``count`` with
    ``count_unit`` is how it is done at the bar ("10 turns", "6 passes").
    """

    method: str
    ice: str = ""
    ice_g: float | None = None
    ice_state: IceState = IceState.USUAL
    ice_c: float | None = None
    vessel_c: float | None = None
    by: ChillBy = ChillBy.USUAL
    count: float | None = None
    count_unit: str = ""
    melted_g: float | None = None
    final_g: float | None = None
    final_ml: float | None = None
    end_c: float | None = None


class BarStrainWay(StrEnum):
    """How a drink leaves tin or mixing glass."""

    STRAIN = "strain"
    FINE = "fine"
    """Through a fine sieve as well: pulp and splinters of ice stay behind."""
    UNSTRAINED = "unstrained"
    """Poured with its ice."""


class BarStrain(Work, frozen=True, kw_only=True, gc=False, tag="bar_strain"):
    """A drink is strained into its glass, over fresh ice or not.

    ``held_back_ml`` is the liquid that stays in tin and strainer (``None``: not measured, none is counted). A fine strain
    keeps all insoluble solids back. ``fresh_ice`` and ``fresh_ice_g`` are the ice in the glass that it meets, and
    ``vessel_c`` is how cold that glass is (``None``: as warm as the room).
    """

    way: BarStrainWay = BarStrainWay.STRAIN
    held_back_ml: float | None = None
    fresh_ice: str = ""
    fresh_ice_g: float | None = None
    vessel_c: float | None = None


class Rinse(Step, frozen=True, kw_only=True, gc=False, tag="rinse"):
    """A glass is rinsed with an item and poured out: a film stays and goes into the drink; all of it is paid for.

    ``film_ml`` is what stays (``None``: what the house's settings say).
    """

    item_id: int
    amount: Amount
    film_ml: float | None = None
    temperature_c: float | None = None


class Smoke(Work, frozen=True, kw_only=True, gc=False, tag="smoke"):
    """Smoke over or in the drink, in words: what of it stays weighs nothing that a bar's scale shows."""


class Carbonate(Work, frozen=True, kw_only=True, gc=False, tag="carbonate"):
    """Carbon dioxide is dissolved under pressure.

    ``vessel`` names a vessel of the house: one whose rated pressure is not known is refused. The level is ``co2_g_per_l``
    where that is wanted or was measured; otherwise what ``over_kpa`` (kPa over the atmosphere) holds in equilibrium at
    ``at_c`` (°C; ``None``: as cold as the liquid is), of which ``reached_pct`` percent is reached in the ``fills`` and the
    time given (``None``: all). ``warmest_c`` is the warmest place where it may stand (``None``: what the house's settings
    say), and ``opening_loss_pct`` what leaves when it is opened (``None``: none is counted).
    """

    vessel: str = ""
    over_kpa: float | None = None
    at_c: float | None = None
    co2_g_per_l: float | None = None
    reached_pct: float | None = None
    fills: float | None = None
    warmest_c: float | None = None
    opening_loss_pct: float | None = None


class Top(Step, frozen=True, kw_only=True, gc=False, tag="top"):
    """A line that lengthens the drink at the end, by an amount or to a mark.

    One that ``is_layer`` is floated: it lies on top of the drink and is counted in it.
    """

    item_id: int
    amount: Amount
    temperature_c: float | None = None
    is_layer: bool = False


class GarnishWay(StrEnum):
    """What a garnish does on the glass."""

    GARNISH = "garnish"
    RIM = "rim"
    """Salt, sugar or crumb on the rim."""
    EXPRESS = "express"
    """The oil of a peel is sprayed over the drink; the peel may be thrown away."""


class Garnish(Step, frozen=True, kw_only=True, gc=False, tag="garnish"):
    """Something on the glass: it counts in cost, allergens and energy, and in the liquid only if told so.

    ``stays_g`` is what of it stays on the drink where the rest is thrown away (``None``: all of it): the oil of an
    expressed peel, the part of a rim that is eaten. All of it is paid for, and its allergens count.
    """

    item_id: int
    amount: Amount
    in_liquid: bool = False
    way: GarnishWay = GarnishWay.GARNISH
    stays_g: float | None = None


Line = Add | Infuse | Rinse | Top | Garnish
"""The steps that take in one item."""

AnyStep = (
    Add | Blend | Muddle | Rest | Note | Infuse | Wash | Strain | Heat | Reduce | Dry | Ferment | Adjust | Measurement
    | Take | Chill | BarStrain | Rinse | Smoke | Carbonate | Top | Garnish
)  # fmt: skip


def items_of(step: Step) -> tuple[int, ...]:
    """The ids of the items that a step takes in, in order."""
    if isinstance(step, Line):
        return (step.item_id,)
    return tuple(portion.item_id for portion in step.portions) if isinstance(step, Adjust) else ()
