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


class Method(Struct, frozen=True, kw_only=True, gc=False, tag="method"):
    """A way to chill: its published dilution (percent of the volume before ice) and end temperatures, as ranges."""

    slug: str
    name: str
    ice: str = ""
    ice_g: float | None = None
    time_low_s: float | None = None
    time_high_s: float | None = None
    dilution_low_pct: float
    dilution_high_pct: float
    end_low_c: float
    end_high_c: float
    source: str = ""
    source_kind: str = ""
    note: str = ""


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


class Settings(Struct, frozen=True, kw_only=True, gc=False, tag="settings"):
    """How this house counts. ``alcohol_units`` is a key of ``chemistry.alcohol``'s table of standard drinks.

    ``tax_pct`` is what tax adds to a price before it, ``wanted_pour_cost_pct`` the share of that price that what is poured
    may cost, ``labour_per_hour`` what an hour of work costs (``None``: not counted). ``service_ends`` is the local time
    (HH:MM) until which today's fruit holds.
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
    settings: Settings, glass: Glass | None, own_ml: float | None, ice_g: float | None
) -> float | None:
    """The level in ml to which a drink fills its glass: as set for the drink, else for the glass, else a share of what
    the ice leaves of the brim (common practice, no source). ``None`` where there is no glass."""
    if own_ml is not None:
        return own_ml
    if glass is None:
        return None
    if glass.wash_line_ml is not None:
        return glass.wash_line_ml
    ice = glass.ice_g if ice_g is None else ice_g
    return settings.wash_line_pct / 100.0 * (glass.brim_ml - ice / ICE_DENSITY_G_PER_ML)
