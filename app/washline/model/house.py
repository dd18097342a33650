"""What a house sets: its glasses, methods, measures and ways of counting."""

from enum import StrEnum

from msgspec import Struct

from washline.model.item import KeptAt


class Glass(Struct, frozen=True, kw_only=True, gc=False, tag="glass"):
    """A glass: what it holds to the brim, and the ice it is served with (0 g: none)."""

    slug: str
    name: str
    brim_ml: float
    usual_fill_ml: float | None = None
    ice: str = ""
    ice_g: float = 0.0
    wash_line_ml: float | None = None
    source: str = ""
    note: str = ""


class MethodKind(StrEnum):
    """What a method does with ice and heat."""

    ON_ICE = "on_ice"
    """In a tin or mixing glass: the ice stays behind."""
    IN_GLASS = "in_glass"
    """On the ice that is served."""
    ALL_IN = "all_in"
    """All the ice goes into the glass: blended, whipped."""
    NO_ICE = "no_ice"
    """Shaken or poured without ice: nothing melts."""
    COLD_STORE = "cold_store"
    """It stands until it is as cold as the place."""
    HOT = "hot"
    """Built hot: the glass takes heat."""
    OTHER = "other"
    """No chilling: carbonating, topping, rinsing."""


class Method(Struct, frozen=True, kw_only=True, gc=False, tag="method"):
    """A way to chill: its published dilution (percent of the volume before ice) and end temperatures, as ranges, and what
    the balance of heat takes where nobody says otherwise.

    ``published`` names the regression of ``chemistry.dilution`` that was made for it ("stirred", "shaken"; empty: none).
    ``approach`` is the part of the way to equilibrium (1) that it goes in its usual time, ``tau_s`` its time constant in
    seconds for a time that is known, on its usual ice; ``core`` as in ``chemistry.chilling``. ``ice_g_per_ml`` is the ice
    for each ml of drink where ``ice_g`` is not known, ``surface_water_pct`` the water that clings to the usual ice, in
    percent of it. ``vessel_j_per_k`` is the heat capacity of what else is cooled, which stands at room temperature unless
    ``vessel_is_cold``. ``kept_at`` is the place of a cold store.
    """

    slug: str
    name: str
    kind: MethodKind = MethodKind.ON_ICE
    ice: str = ""
    ice_g: float | None = None
    time_low_s: float | None = None
    time_high_s: float | None = None
    dilution_low_pct: float
    dilution_high_pct: float
    end_low_c: float
    end_high_c: float
    published: str = ""
    approach: float = 0.9
    tau_s: float = 13.0
    core: float = 1.0
    ice_g_per_ml: float = 2.0
    surface_water_pct: float = 0.0
    vessel_j_per_k: float = 0.0
    vessel_is_cold: bool = True
    kept_at: KeptAt | None = None
    source: str = ""
    source_kind: str = ""
    note: str = ""


class Ice(Struct, frozen=True, kw_only=True, gc=False, tag="ice"):
    """A kind of ice: how fast it chills beside 30 mm cubes (``pace``, 1), how cold it is, and what clings to it. On another
    ice than its usual one a method goes faster or slower in the ratio of their paces.

    ``surface_water_pct`` is in percent of the ice (``None``: as usual for the method); ``wet_pct`` what clings to it when
    it is wet. ``edge_mm`` is the edge of a piece and ``piece_g`` its weight, where it has one.
    """

    slug: str
    name: str
    pace: float = 1.0
    temperature_c: float = 0.0
    surface_water_pct: float | None = None
    wet_pct: float = 5.0
    edge_mm: float = 30.0
    piece_g: float | None = None
    source: str = ""
    source_kind: str = ""
    note: str = ""


class Vessel(Struct, frozen=True, kw_only=True, gc=False, tag="vessel"):
    """A bottle, keg, siphon or jug: what it holds to the brim, what it is filled to, and the pressure it is rated for.

    ``rated_kpa`` is in kPa over the atmosphere (``None``: not known, so nothing is carbonated in it).
    """

    slug: str
    name: str
    volume_ml: float
    fill_ml: float | None = None
    rated_kpa: float | None = None
    source: str = ""
    source_kind: str = ""
    note: str = ""


class Weighing(Struct, frozen=True, kw_only=True, gc=False, tag="weighing"):
    """One time that the house weighed what melted: what stood against one another, and the ``melted_g`` found.

    ``composition`` is grams of each component before ice, in the order of ``chemistry.components.COMPONENTS``; all else as
    in ``chemistry.chilling.chill``. ``step_id`` is the step of the build it was weighed for. What was weighed stands beside
    the computed figure; a calibration takes it up.
    """

    id: int
    method: str
    ice: str
    date: str
    build_id: int | None = None
    step_id: int | None = None
    composition: tuple[float | None, ...]
    liquid_c: float
    ice_g: float
    ice_c: float = 0.0
    surface_water_g: float = 0.0
    seconds: float | None = None
    vessel_j_per_k: float = 0.0
    vessel_c: float = 20.0
    melted_g: float
    note: str = ""


class Calibration(Struct, frozen=True, kw_only=True, gc=False, tag="calibration"):
    """What the house's own weighings say of one method on one ice, kept until it is fitted again.

    ``slug`` is ``calibration_slug(method, ice)``. ``tau_s`` and ``surface_water_pct`` replace the method's in the balance
    of heat; ``factor`` and ``offset`` (ml per ml) correct its published dilution. ``weighings`` is how many were used, and
    ``left_ml_per_100_ml`` one standard deviation of what the fit leaves.
    """

    slug: str
    method: str
    ice: str
    date: str
    tau_s: float | None = None
    surface_water_pct: float | None = None
    factor: float = 1.0
    offset: float = 0.0
    weighings: int = 0
    left_ml_per_100_ml: float | None = None


def calibration_slug(method: str, ice: str) -> str:
    """The key of a calibration: method and ice by slug."""
    return f"{method}/{ice}"


class Measure(Struct, frozen=True, kw_only=True, gc=False, tag="measure"):
    """A bar measure: what one of it holds in ``unit`` ("ml" or "g"), and the range met in practice."""

    slug: str
    name: str
    value: float
    unit: str
    low: float
    high: float
    source: str = ""
    source_kind: str = ""
    note: str = ""


class JointCost(StrEnum):
    """How the cost of a step with several outputs is shared among them."""

    MAIN = "main"
    """All stays with the main output; a leftover is free."""
    MASS = "mass"
    """By weight."""
    VALUE = "value"
    """By weight times what a kilogram is worth; by weight where the house has not said what."""


class Shared(Struct, frozen=True, gc=False):
    """A place or machine that is shared, and the allergens that can get in by it.

    ``place`` is freezer, fridge, room or ice_well (for what is kept there), oven (for what is heated or dried) or tins
    (for what is shaken, thrown or stirred).
    """

    place: str
    allergens: tuple[str, ...]


class Swap(Struct, frozen=True, gc=False):
    """A rule for an alcohol-free version: one item gives way to another, ``factor`` times as much of it by volume.

    Without ``to_id`` the line is left out.
    """

    from_id: int
    to_id: int | None = None
    factor: float = 1.0


class Settings(Struct, frozen=True, kw_only=True, gc=False, tag="settings"):
    """How this house counts. ``alcohol_units`` is a key of ``chemistry.alcohol``'s table of standard drinks.

    ``tax_pct`` is what tax adds to a price before it, ``wanted_pour_cost_pct`` the share of that price that what is poured
    may cost, ``labour_per_hour`` what an hour of work costs (``None``: not counted). ``service_ends`` is the local time
    (HH:MM) until which today's fruit holds.

    ``foam_allowance_ml`` is what the wash line leaves for the head of a fizzy drink, ``egg_foam_pct`` the foam of a shaken
    drink with something that foams, in percent of its liquid. ``glass_w_per_k`` is the heat that a glass takes up from the
    room, in watts for each kelvin, and ``glass_j_per_k`` what it gives a drink that is strained into it, in joules for each
    kelvin. ``rinse_film_ml`` is what stays of a rinse. ``scant_ml`` and ``heavy_ml`` are what a
    scant or heavy pour is short or over. ``wording_law`` is a key of the table of legal words for low strengths.
    ``warmest_c`` is the warmest place where a closed bottle may stand. ``salt_batch_pct`` and ``bitters_batch_pct`` are
    what a batch starts with of the salt and bitters of its serves. ``swaps`` are the rules for alcohol-free versions.
    """

    house_name: str = "My house"
    is_demo: bool = False
    currency: str = "EUR"
    oz_ml: float = 30.0
    alcohol_units: str = "au"
    freezer_c: float = -18.0
    fridge_c: float = 4.0
    room_c: float = 20.0
    ice_well_c: float = 0.0
    fizz_loss_pct: float = 25.0
    wash_line_pct: float = 82.5
    paper_size: str = "a5"
    joint_cost: JointCost = JointCost.MAIN
    tax_pct: float = 20.0
    wanted_pour_cost_pct: float = 20.0
    labour_per_hour: float | None = None
    shared: tuple[Shared, ...] = ()
    service_ends: str = "02:00"
    foam_allowance_ml: float = 5.0
    egg_foam_pct: float = 17.5
    glass_w_per_k: float = 0.4
    glass_j_per_k: float = 80.0
    rinse_film_ml: float = 1.5
    scant_ml: float = 2.5
    heavy_ml: float = 2.5
    wording_law: str = "strictest"
    warmest_c: float = 25.0
    salt_batch_pct: float = 75.0
    bitters_batch_pct: float = 60.0
    swaps: tuple[Swap, ...] = ()

    def temperature_c(self, kept_at: KeptAt) -> float:
        """The temperature in °C at which something kept there is poured."""
        return {
            KeptAt.FREEZER: self.freezer_c,
            KeptAt.FRIDGE: self.fridge_c,
            KeptAt.ROOM: self.room_c,
            KeptAt.ICE_WELL: self.ice_well_c,
        }[kept_at]


ICE_DENSITY_G_PER_ML = 0.917


def wash_line_ml(
    settings: Settings, glass: Glass | None, own_ml: float | None, ice_g: float | None, foam_ml: float = 0.0
) -> float | None:
    """The level in ml to which a drink fills its glass: as set for the drink, else for the glass, else a share of what
    the ice leaves of the brim, less what is left for foam (common practice, no source). ``None`` where there is no
    glass."""
    if own_ml is not None:
        return own_ml
    if glass is None:
        return None
    if glass.wash_line_ml is not None:
        return glass.wash_line_ml
    ice = glass.ice_g if ice_g is None else ice_g
    return settings.wash_line_pct / 100.0 * (glass.brim_ml - ice / ICE_DENSITY_G_PER_ML) - foam_ml
