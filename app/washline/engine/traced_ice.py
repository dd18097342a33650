"""What a trace says of ice, gas and layers: how a chill went and why, how much gas was dissolved, what floats."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from washline.chemistry.components import WATER
from washline.chemistry.freezing import ice_mass_fraction
from washline.engine.liquid import enough_liquid
from washline.engine.melting import Melt
from washline.engine.run import Gas
from washline.engine.state import Numbers

WEIGHED, PUBLISHED, BALANCE, BETWEEN, NONE_MELTS = "weighed", "published", "balance", "between", "none"


class ChillTrace:
    """How a drink was chilled, or what it met on fresh ice. Grams and °C; what is dear is found when somebody asks.

    ``by`` is what told the melt: "weighed", "published", "balance", "between" (a part of each), or "none" where there is no
    ice. ``ice_g`` is the ice without the water that clings to it, ``seconds`` the time where it is known, ``approach`` the
    part of the way to equilibrium.
    """

    def __init__(self, melt: Melt, is_on_ice: bool, is_calibrated: bool, seconds: float | None) -> None:
        self._melt, self._is_on_ice = melt, is_on_ice
        self.is_calibrated, self.seconds = is_calibrated, seconds
        ice = melt.on_ice
        self.melted_g = float(melt.taken_up_g[0])
        self.from_c, self.end_c = _known(ice.liquid_c), _known(melt.end_c)
        self.ice_g, self.ice_c = float(ice.ice_g[0]), float(ice.ice_c[0])
        self.surface_water_g = float(ice.surface_water_g[0])
        self.ice_left_g = float(melt.ice_left_g[0])
        self.approach = float(ice.approach[0])
        self.vessel_j_per_k, self.vessel_c = float(ice.vessel_j_per_k[0]), _known(ice.vessel_c)

    @property
    def by(self) -> str:
        """What told how much melted."""
        if not self._is_on_ice:
            return NONE_MELTS if self.melted_g == 0.0 else WEIGHED
        if self._melt.weight is None:
            return WEIGHED
        weight = float(self._melt.weight[0])
        return PUBLISHED if weight >= 1.0 else BALANCE if weight <= 0.0 else BETWEEN

    @property
    def composition(self) -> tuple[float, ...]:
        """Grams of each component before ice, in the order of ``COMPONENTS``."""
        return tuple(self._melt.on_ice.masses[:, 0].tolist())

    @cached_property
    def balance_g(self) -> float | None:
        """Water taken up by the balance of heat, in grams."""
        return _known(self._melt.on_ice.balance_g()) if self._is_on_ice else None

    @cached_property
    def published_g(self) -> float | None:
        """Water taken up by the method's published dilution, in grams; ``None`` where it was not made for this ice."""
        return _known(self._melt.on_ice.published_g()) if self._melt.on_ice.published else None

    @cached_property
    def equilibrium_c(self) -> float | None:
        """Where liquid and ice would come to rest."""
        return _known(self._melt.on_ice.balance().equilibrium_c) if self._is_on_ice else None

    @cached_property
    def cold_left_j(self) -> float:
        """What is left of the cold where nothing melts; 0 where something does."""
        return (_known(self._melt.on_ice.balance().cold_left_j) or 0.0) if self._is_on_ice else 0.0

    @cached_property
    def frozen_pct(self) -> float | None:
        """Percent by mass of the liquid that is ice at the end, ``None`` where that is not known."""
        after = self._melt.on_ice.masses.copy()
        after[WATER] = after[WATER] + self._melt.taken_up_g
        frozen = _known(ice_mass_fraction(enough_liquid(after), self._melt.end_c))
        # Within the last digits of its freezing point a drink is liquid.
        return None if frozen is None else 100.0 * frozen if frozen > 1e-6 else 0.0


@dataclass(frozen=True, slots=True)
class GasTrace:
    """How a drink was carbonated. Pressures in kPa over the atmosphere, gas in g/L, °C; ``needed_over_kpa`` keeps the level
    at ``at_c``, ``warm_over_kpa`` stands in the closed vessel at ``warmest_c``. ``vessel`` is the slug of the vessel."""

    co2_g_per_l: float | None
    needed_over_kpa: float | None
    over_kpa: float | None
    equilibrium_g_per_l: float | None
    at_c: float | None
    warmest_c: float
    warm_over_kpa: float | None
    rated_kpa: float
    vessel: str


def gas_trace(gas: Gas, vessel: str) -> GasTrace:
    """The only column of a run."""
    return GasTrace(
        _known(gas.co2_g_per_l),
        _known(gas.needed_over_kpa),
        _known(gas.over_kpa),
        _known(gas.equilibrium_g_per_l),
        _known(gas.at_c),
        float(gas.warmest_c[0]),
        _known(gas.warm_over_kpa),
        float(gas.rated_kpa[0]),
        vessel,
    )


@dataclass(frozen=True, slots=True)
class Layer:
    """What floats on a drink, counted in it."""

    step_id: int
    grams: float
    ml: float | None
    density_g_per_ml: float | None


def _known(numbers: Numbers) -> float | None:
    number = float(np.ravel(numbers)[0])
    return None if number != number else number
