"""The usual ways of chilling on ice as numbers for the balance of heat."""

from dataclasses import dataclass
from functools import cache

from washline.chemistry.coefficients import keys, table, value


@dataclass(frozen=True, slots=True)
class ChillPreset:
    """One way of chilling: what ``chilling.chill`` takes where nobody says otherwise.

    ``approach`` and ``core`` (1) as there; ``tau_s`` (s) for a time that is known, ``seconds`` (s) the time that the
    approach stands for; ``ice_g_per_ml`` the ice for each mL of drink, ``surface_water_g_per_g`` what clings to wet ice.
    """

    key: str
    approach: float
    core: float
    tau_s: float
    seconds: float
    ice_g_per_ml: float
    surface_water_g_per_g: float
    source: str


@cache
def chill_preset(key: str) -> ChillPreset:
    """One way of chilling by its key.

    Arguments:
        key: one of ``chill_presets`` such as ``stirred`` (text, no unit)
    Returns: its numbers (1, s, g per mL, g per g). ``KeyError`` if unknown
    Valid: ordinary ice and hands; a house sets its own
    Error: shaken and stirred 2 g per 100 mL against the regressions from 12 to 33 % vol; the others are common practice
    Source: fitted to D. Arnold 2014, Liquid Intelligence (from memory); common practice, no source, for the others

    >>> chill_preset("stirred").approach, chill_preset("shaken").surface_water_g_per_g
    (0.9, 0.03)
    """
    return ChillPreset(
        key,
        approach=value("chill_preset", key, "approach"),
        core=value("chill_preset", key, "core"),
        tau_s=value("chill_preset", key, "tau"),
        seconds=value("chill_preset", key, "seconds"),
        ice_g_per_ml=value("chill_preset", key, "ice"),
        surface_water_g_per_g=value("chill_preset", key, "wet"),
        source=table()["chill_preset", key][0].source,
    )


@cache
def chill_presets() -> tuple[ChillPreset, ...]:
    """Every way of chilling that has numbers, in the order of the tables.

    Arguments: none
    Returns: presets (1, s, g per mL, g per g)
    Valid: as ``chill_preset``
    Error: as ``chill_preset``
    Source: as ``chill_preset``

    >>> [preset.key for preset in chill_presets()][:4]
    ['shaken', 'stirred', 'throw', 'swizzle']
    """
    return tuple(chill_preset(key) for key in keys("chill_preset"))
