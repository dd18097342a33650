"""What a step that was written as one line says, part by part."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from washline.quantity.amount_text import TypedAmount
from washline.quantity.line_text import TypedLine


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedStep:
    """A step as it was understood; ``kind`` is the word for it. ``alternative`` is the other way to read its numbers."""

    kind: str
    duration_s: float | None = None
    low_c: float | None = None
    high_c: float | None = None
    words: str = ""
    alternative: "TypedStep | None" = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedInfusion(TypedStep):
    """So much of a solid goes in; ``given_pct`` holds the shares that it gives, by group."""

    line: TypedLine
    given_pct: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedWash(TypedStep):
    """A wash with *fat* or *milk*."""

    washes: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedStrain(TypedStep):
    """A strain: by which way, and what was weighed, or is expected in percent with its range."""

    way: str = ""
    weighed_g: float | None = None
    expected_pct: float | None = None
    low_pct: float | None = None
    high_pct: float | None = None
    leftover: str = ""
    leftover_g: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedEvaporation(TypedStep):
    """Heat, reduce or dry: how far, at most one of three ways, and how much of the alcohol stays."""

    final_g: float | None = None
    final_pct: float | None = None
    final_brix: float | None = None
    ethanol_kept_pct: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedFerment(TypedStep):
    """A ferment by *lactic* or *yeast*, with what was measured."""

    ferments: str
    gas_lost_g: float | None = None
    final_acidity_pct: float | None = None
    final_brix: float | None = None
    final_ph: float | None = None
    discard_above_ph: float | None = None
    discard_on_day: float | None = None


@dataclass(frozen=True, slots=True)
class TypedPortion:
    """The name of one item of several, and its parts by weight."""

    name: str
    parts: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedAdjustment(TypedStep):
    """What is added, and the reading that it brings the vessel to: ``goal`` is brix, acidity, strength or salt; of
    ``value`` and ``like`` (the name of what it shall be like) one is given. No portions: the house's usual."""

    portions: tuple[TypedPortion, ...]
    goal: str
    value: float | None = None
    is_by_volume: bool = False
    like: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedMeasurement(TypedStep):
    """A measured value; ``quantity`` is mass, volume, density, brix, ph, acidity or strength."""

    quantity: str
    value: float
    instrument: str = ""
    uncertainty: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedTake(TypedStep):
    """So much is set aside, under a name or without one."""

    amount: TypedAmount
    leftover: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedChill(TypedStep):
    """A chill: ``method`` is a key of the house, ``said`` the words for it, ``ice`` the name of its ice; *usual*, *dry* or
    *wet* is its state, and *usual*, *balance* or *published* what tells the melt. Of what was weighed at most one is given.
    """

    method: str = ""
    said: str = ""
    ice: str = ""
    ice_g: float | None = None
    ice_state: str = "usual"
    ice_c: float | None = None
    vessel_c: float | None = None
    by: str = "usual"
    count: float | None = None
    count_unit: str = ""
    melted_g: float | None = None
    final_g: float | None = None
    final_ml: float | None = None
    end_c: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedBarStrain(TypedStep):
    """A drink poured into its glass: *strain*, *fine* or *unstrained*, over fresh ice or none; ``vessel_c`` is how cold
    the glass is."""

    way: str = "strain"
    held_back_ml: float | None = None
    fresh_ice: str = ""
    fresh_ice_g: float | None = None
    vessel_c: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedRinse(TypedStep):
    """A glass is rinsed with something; ``film_ml`` of it stays."""

    line: TypedLine
    film_ml: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedFloat(TypedStep):
    """A layer on top of the drink."""

    line: TypedLine


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedGarnish(TypedStep):
    """A *garnish*, a *rim*, or a peel to *express*; ``stays_g`` of it stays where the rest is thrown away."""

    line: TypedLine
    way: str = "garnish"
    stays_g: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedCarbonation(TypedStep):
    """Carbonating in a vessel, a key of the house, to a level or at a pressure over the atmosphere."""

    vessel: str = ""
    over_kpa: float | None = None
    at_c: float | None = None
    co2_g_per_l: float | None = None
    reached_pct: float | None = None
    fills: float | None = None
    warmest_c: float | None = None
    opening_loss_pct: float | None = None
