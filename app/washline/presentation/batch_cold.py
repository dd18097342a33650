"""What the house's freezer or fridge makes of a batch: whether ice starts in it, how much, and whether it still pours."""

from dataclasses import dataclass
from enum import Enum

import numpy as np

from washline.chemistry.components import WATER
from washline.chemistry.freezing import COLDEST_C, ice_mass_fraction
from washline.chemistry.mixture import degassed_g, strength_pct_vol
from washline.engine.state import MASSES, Numbers
from washline.model.house import ICE_DENSITY_G_PER_ML, Settings
from washline.model.item import BatchService
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_number, with_unit

POURS_TO, SLUSH_TO = 0.03, 0.25
"""Shares of ice up to which a batch pours like a liquid, and as slush: common practice, no source."""
WATER_DENSITY_AT_0_C_G_PER_ML = 0.9998


class Pours(Enum):
    """How it pours."""

    LIQUID = "stays liquid"
    CRYSTALS = "a few crystals"
    SLUSH = "slush"
    FROZEN = "freezes"
    UNKNOWN = "not known"


@dataclass(frozen=True, slots=True)
class Cold:
    """A liquid in a cold place at ``at_c``: ``freezing_c`` where ice starts, ``ice_share`` of its weight that is ice there,
    ``pourable_pct_vol`` the strength at which this very liquid, with less water, would just stay liquid, and
    ``grows_pct`` what its volume gains by the ice. ``None`` is not known."""

    place: str
    at_c: float
    freezing_c: float | None
    ice_share: float | None
    pourable_pct_vol: float | None
    grows_pct: float | None

    @property
    def pours(self) -> Pours:
        """Whether it still pours."""
        if self.ice_share is None:
            return Pours.UNKNOWN
        if self.ice_share <= 0.0:
            return Pours.LIQUID
        if self.ice_share <= POURS_TO:
            return Pours.CRYSTALS
        return Pours.SLUSH if self.ice_share <= SLUSH_TO else Pours.FROZEN


def place_of(service: BatchService, settings: Settings) -> tuple[str, float]:
    """Where a batch stands until service, in words, and how cold that is in °C."""
    if service is BatchService.FREEZER:
        return "freezer", settings.freezer_c
    return "fridge", settings.fridge_c


def cold_of(state: Numbers, freezing_c: float | None, service: BatchService, settings: Settings) -> Cold:
    """What a place makes of a liquid, ``state`` (ROWS,)."""
    place, at_c = place_of(service, settings)
    masses = state[MASSES, None]
    share = _ice_share(masses, freezing_c, at_c)
    strength = grows = None
    if share is not None and share > 0.0:
        ice_g = share * float(degassed_g(masses)[0])
        left = masses.copy()
        left[WATER] = left[WATER] - ice_g
        strength = float(strength_pct_vol(left)[0])
        grown_ml = ice_g / ICE_DENSITY_G_PER_ML - ice_g / WATER_DENSITY_AT_0_C_G_PER_ML
        grows = 100.0 * grown_ml / float(degassed_g(masses)[0])
    return Cold(place, at_c, freezing_c, share, strength, grows)


def _ice_share(masses: Numbers, freezing_c: float | None, at_c: float) -> float | None:
    if at_c >= 0.0 or (freezing_c is not None and freezing_c <= at_c):
        return 0.0
    if freezing_c is None or at_c < COLDEST_C:
        return None
    share = float(ice_mass_fraction(masses, np.float64(at_c))[0])
    return 1.0 if share != share else share


def cold_words(
    cold: Cold,
    service: BatchService,
    style: NumberStyle = ENGLISH_STYLE,
    *,
    serve_g: float | None = None,
    water_g: float = 0.0,
) -> tuple[str, ...]:
    """Whether it freezes, how much of it is ice, and what to do, a sentence each. ``serve_g`` is the weight of a serve and
    ``water_g`` what of it is dilution, which could wait for service."""
    at = with_unit(format_number(cold.at_c, 0, style), "°C")
    starts = with_unit(format_number(cold.freezing_c, 1, style), "°C")
    where = f"this house's {cold.place}, {at}"
    if cold.pours is Pours.UNKNOWN:
        return (
            f"Whether it freezes in {where}, is not known: its freezing point cannot be computed. Try a little.",
        )
    if cold.pours is Pours.LIQUID:
        return _liquid(cold, where, starts, service, style)
    ice = with_unit(format_number(100.0 * (cold.ice_share or 0.0), 0, style), "%")
    told = {
        Pours.CRYSTALS: f"It pours, with a few crystals: {ice} of its weight is ice in {where}.",
        Pours.SLUSH: f"It turns to slush in {where}: {ice} of its weight is ice. It pours slowly.",
        Pours.FROZEN: f"It freezes in {where}: {ice} of its weight is ice. It does not pour.",
    }
    return told[cold.pours], f"Ice starts at {starts}.", _remedy(cold, style, serve_g, water_g)


def _remedy(cold: Cold, style: NumberStyle, serve_g: float | None, water_g: float) -> str:
    """How it would stay pourable: with less water, where the dilution is enough of it."""
    pourable = with_unit(format_number(cold.pourable_pct_vol, 0, style), "% vol")
    needs = f"To stay liquid there this drink needs about {pourable}"
    too_much_g = (cold.ice_share or 0.0) * (serve_g or 0.0)
    if serve_g is None or too_much_g > water_g:
        return f"{needs}, more than leaving its dilution out would give: keep it in the fridge."
    less, whole = (with_unit(format_number(weight, 0, style), "g") for weight in (too_much_g, water_g))
    return f"{needs}: leave {less} of the {whole} water a serve out, and add it at service."


def _liquid(
    cold: Cold, where: str, starts: str, service: BatchService, style: NumberStyle
) -> tuple[str, ...]:
    if service is not BatchService.FREEZER or cold.freezing_c is None:
        return (f"It stays liquid in {where}.",)
    room = with_unit(format_number(cold.at_c - cold.freezing_c, 1, style), "K")
    return (f"It stays liquid and pours in {where}: ice starts at {starts}, {room} below it.",)
