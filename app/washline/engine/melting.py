"""What stands on ice, and how much water it takes up: by the published dilution where that was made for it, by the balance
of heat elsewhere, and by a part of each between the two, so that nothing jumps while somebody types."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from washline.chemistry import chilling, dilution
from washline.chemistry.chilling import Chilled
from washline.engine.state import Numbers
from washline.model.house import Method

WATER_DENSITY_G_PER_ML = 0.9982
"""Water at 20 °C (Kell 1975)."""

ETHANOL_DENSITY_G_PER_ML = 0.78924
"""Ethanol at 20 °C (OIML R 22)."""

REGRESSIONS: Mapping[str, Callable[[Numbers], Numbers]] = {
    "stirred": dilution.stirred_water_ml_per_ml,
    "shaken": dilution.shaken_water_ml_per_ml,
}
"""The published dilutions by the name that a method has for them."""

STRENGTH_FROM, STRENGTH_TO = (8.0, 10.0), (35.0, 38.0)
LIQUID_FROM, LIQUID_TO = (14.0, 18.0), (24.0, 28.0)
ICE_FROM = (-2.0, 0.0)
ENOUGH_ICE = (1.0, 1.5)
TIME_FADES = 0.4
"""Where a published dilution comes in and goes out: % vol before ice, °C of the liquid, °C of the ice, the ice for each
gram that it would melt, and the share of the usual time over which it goes out beside it."""


@dataclass(slots=True)
class OnIce:
    """A liquid (24, n) and the ice it meets, one column each: volume before ice in ml, strength in % vol, grams of ice and
    of the water that clings to it, °C, J/K of the vessel, and the part of the way to equilibrium that it goes.

    ``published`` names its published dilution (empty: none), to be corrected by ``factor`` and ``offset`` (ml per ml);
    with ``is_forced`` it counts wherever it is asked for, and ``usual_time`` is how usual the time on the ice is, from 0
    to 1.
    """

    masses: Numbers
    volume_ml: Numbers
    strength_pct_vol: Numbers
    liquid_c: Numbers
    ice_g: Numbers
    ice_c: Numbers
    surface_water_g: Numbers
    approach: Numbers
    core: Numbers
    vessel_j_per_k: Numbers
    vessel_c: Numbers
    published: str = ""
    is_forced: bool = False
    factor: Numbers | float = 1.0
    offset: Numbers | float = 0.0
    usual_time: Numbers | float = 1.0
    _balance: Chilled | None = None

    def balance(self) -> Chilled:
        """The balance of heat, made once."""
        if self._balance is None:
            self._balance = chilling.chill(
                self.masses,
                self.liquid_c,
                ice_g=self.ice_g,
                ice_c=self.ice_c,
                surface_water_g=self.surface_water_g,
                vessel_j_per_k=self.vessel_j_per_k,
                vessel_c=self.vessel_c,
                approach=self.approach,
                core=self.core,
            )
        return self._balance

    def balance_g(self) -> Numbers:
        """Grams (n,) of water taken up by the balance of heat, from the ice and from its surface."""
        found = self.balance()
        return found.melted_g + found.surface_water_g

    def published_g(self) -> Numbers:
        """Grams (n,) of water taken up by the published dilution, at most all the ice."""
        share = REGRESSIONS[self.published](self.strength_pct_vol / 100.0) * self.factor + self.offset
        grams = np.maximum(share, 0.0) * self.volume_ml * WATER_DENSITY_G_PER_ML
        capped: Numbers = np.minimum(grams, self.ice_g + self.surface_water_g)
        return capped

    def published_weight(self) -> Numbers:
        """How far (n,), from 0 to 1, the published dilution was made for what stands here."""
        if not self.published:
            return np.zeros_like(self.volume_ml)
        if self.is_forced:
            return np.ones_like(self.volume_ml)
        share = REGRESSIONS[self.published](self.strength_pct_vol / 100.0)
        melted_g = share * self.volume_ml * WATER_DENSITY_G_PER_ML
        weight: Numbers = (
            _rising(self.strength_pct_vol, *STRENGTH_FROM)
            * (1.0 - _rising(self.strength_pct_vol, *STRENGTH_TO))
            * _rising(self.liquid_c, *LIQUID_FROM)
            * (1.0 - _rising(self.liquid_c, *LIQUID_TO))
            * _rising(self.ice_c, *ICE_FROM)
            * _rising(self.ice_g, melted_g * ENOUGH_ICE[0], melted_g * ENOUGH_ICE[1])
            * self.usual_time
        )
        return weight

    def taken_up_g(self, weight: Numbers) -> Numbers:
        """Grams (n,) of water taken up, for a weight of the published dilution."""
        if bool(np.all(weight >= 1.0)):
            return self.published_g()
        if bool(np.all(weight <= 0.0)):
            return self.balance_g()
        return mixed(weight, self.published_g(), self.balance_g())


def usual_time(method: Method, seconds: float | None) -> float:
    """How usual a time on the ice is for a method: 1 within its times, 0 from two fifths outside them."""
    low, high = method.time_low_s, method.time_high_s
    if seconds is None or not low or not high:
        return 1.0
    short = (low - seconds) / (low * TIME_FADES)
    long = (seconds - high) / (high * TIME_FADES)
    return min(max(1.0 - max(short, long), 0.0), 1.0)


def mixed(weight: Numbers, published: Numbers, balance: Numbers) -> Numbers:
    """A weight (n,) of one and the rest of the other; where one of them counts alone it is that one to the byte."""
    between = weight * published + (1.0 - weight) * balance
    found: Numbers = np.where(weight >= 1.0, published, np.where(weight <= 0.0, balance, between))
    return found


def _rising(value: Numbers, low: Numbers | float, high: Numbers | float) -> Numbers:
    """From 0 at the low end to 1 at the high one."""
    width = np.maximum(high - low, 1e-9)
    part: Numbers = np.clip((value - low) / width, 0.0, 1.0)
    return part


@dataclass(slots=True)
class Melt:
    """How a chill went, each (n,): what stood on ice before it, the grams of water taken up, the weight of the published
    dilution in them (``None`` where they were weighed), the temperature at the end, and the ice left."""

    on_ice: OnIce
    taken_up_g: Numbers
    weight: Numbers | None
    end_c: Numbers
    ice_left_g: Numbers
