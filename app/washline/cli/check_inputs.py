"""The inputs of one row of a check file: numbers and words by name, and the liquid that component inputs describe."""

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from washline.chemistry.arrays import Floats, bisect_rising
from washline.chemistry.coefficients import keys, value
from washline.chemistry.components import COMPONENT_COUNT, COMPONENTS, TABLE
from washline.chemistry.ethanol_water import ethanol_density_kg_per_m3
from washline.chemistry.solutes import solute_table, sums_of, volume_of

ABSOLUTE_ZERO_C = -273.15

# A chemist's name for a component.
_ALSO_CALLED = {"carbonic": "co2"}

# Names of the tables that are no component: the component that stands on them,
_SAME = {"glycerol": "polyol", "succinic": "other_acid", "minerals": "other_solids", "pectin": "fibre"}
# and the component that has the same heat capacity and the same limits, but another refraction.
_NEAREST = {
    "mannitol": "polyol",
    "kcl": "nacl",
    "nahco3": "nacl",
    "k2co3": "nacl",
    "kh2po4": "nacl",
    "trisodium_citrate_2h2o": "nacl",
}


class InputError(Exception):
    """An input that is missing, unknown or impossible; the text says which and why."""


@dataclass(frozen=True, slots=True)
class Liquid:
    """A liquid by names of the tables, in g: one litre of it at 20 degC, or 1000 g where only mass fractions are given."""

    names: tuple[str, ...]
    masses_g: Floats

    def volume_ml(self, temperature_c: float) -> float:
        """Volume by the mixing model."""
        return _volume_ml(self.names, self.masses_g, temperature_c)

    def grams_by_name(self) -> dict[str, float]:
        """Mass of each component in g."""
        return dict(zip(self.names, self.masses_g[:, 0].tolist(), strict=True))

    def total_g(self) -> float:
        """Mass of the liquid, without CO2, as its volume is."""
        return sum(mass_g for name, mass_g in self.grams_by_name().items() if name != "co2")

    def share_of(self, name: str) -> float:
        """Mass fraction of a component."""
        grams = self.grams_by_name()
        return grams[name] / sum(grams.values())

    def strength_pct_vol(self) -> float:
        """Ethanol in percent of the volume at 20 degC."""
        ethanol_ml = self.grams_by_name().get("ethanol", 0.0) / ethanol_density_kg_per_m3() * 1000.0
        return 100.0 * ethanol_ml / self.volume_ml(20.0)

    def component_masses_g(self, is_refracting: bool = False) -> Floats:
        """Masses by the 24 components, array (24, 1); a name that is no component counts as its nearest.

        ``InputError`` if the masses are wanted for refraction and the nearest refracts otherwise.
        """
        masses = np.zeros((COMPONENT_COUNT, 1))
        for name, mass_g in self.grams_by_name().items():
            if is_refracting and name in _NEAREST:
                raise InputError(f"the refraction of '{name}' is not known here")
            component = _SAME.get(name) or _NEAREST.get(name, name)
            masses[COMPONENTS.index(component), 0] += mass_g
        return masses


def _volume_ml(names: tuple[str, ...], masses_g: Floats, temperature_c: float) -> float:
    return float(volume_of(sums_of(solute_table(_solute_keys(names)), masses_g), temperature_c)[0])


def _solute_keys(names: tuple[str, ...]) -> tuple[str, ...]:
    stand_ins = _stand_ins()
    return tuple(stand_ins.get(name, name) for name in names)


@cache
def _stand_ins() -> Mapping[str, str]:
    return {component.key: component.solute_key or component.key for component in TABLE}


@cache
def component_names() -> frozenset[str]:
    """Every name that may follow ``w_``, ``gl_`` or ``c_``: the components and the solutes of the tables."""
    return frozenset((*COMPONENTS, *keys("phi"), *_ALSO_CALLED))


class Inputs:
    """The inputs of a row; what no evaluator has asked for is found by ``refuse_unused``."""

    def __init__(self, texts: Mapping[str, str]) -> None:
        self._texts = texts
        self._used: set[str] = set()

    def text(self, name: str, default: str | None = None) -> str:
        """The text of an input; ``InputError`` if it is missing and has no default."""
        self._used.add(name)
        found = self._texts.get(name, default)
        if found is None:
            raise InputError(f"input '{name}' is missing")
        return found

    def number(
        self, name: str, default: float | None = None, lowest: float = -math.inf, highest: float = math.inf
    ) -> float:
        """The finite number of an input, within its bounds."""
        self._used.add(name)
        if name not in self._texts:
            if default is None:
                raise InputError(f"input '{name}' is missing")
            return default
        number = finite_number(self._texts[name], f"input '{name}'")
        if not lowest <= number <= highest:
            raise InputError(f"input '{name}' is {number:g}, not between {lowest:g} and {highest:g}")
        return number

    def temperature_c(self) -> float:
        """The input ``T`` in degC; 20 if it is not given."""
        return self.number("T", 20.0, lowest=ABSOLUTE_ZERO_C)

    def has(self, name: str) -> bool:
        """Whether an input is given."""
        return name in self._texts

    def with_prefix(self, prefix: str, beside: Collection[str] = ()) -> dict[str, float]:
        """The numbers of all inputs whose name begins so, by the component that the rest names; none may be negative.

        Inputs named in ``beside`` are left to the caller.
        """
        found: dict[str, float] = {}
        for name in self._texts:
            if not name.startswith(prefix) or name in beside:
                continue
            component = name.removeprefix(prefix)
            if component not in component_names():
                raise InputError(f"input '{name}' names no component")
            component = _ALSO_CALLED.get(component, component)
            found[component] = found.get(component, 0.0) + self.number(name, lowest=0.0)
        return found

    def refuse_unused(self) -> None:
        """``InputError`` if an input was given that the quantity does not take."""
        unused = [name for name in self._texts if name not in self._used]
        if unused:
            raise InputError(f"input '{unused[0]}' is not one that this quantity takes")

    def liquid(self, beside: Collection[str] = ()) -> Liquid:
        """The liquid of the inputs ``abv`` (% vol), ``w_`` (g/g), ``gl_`` (g/L) and ``c_`` (mol/L); the rest is water.

        Every kind may stand beside every other; amounts of the same component add up. Inputs named in ``beside`` are no
        part of the liquid.
        """
        fractions = self.with_prefix("w_")
        water = fractions.pop("water", None)
        per_litre_g = self.with_prefix("gl_")
        for name, mol_per_l in self.with_prefix("c_", beside).items():
            per_litre_g[name] = per_litre_g.get(name, 0.0) + mol_per_l * _molar_mass_g(name)
        if "water" in per_litre_g:
            raise InputError("water is what is left of the litre and cannot be given per litre")
        if self.has("abv"):
            if "ethanol" in fractions or "ethanol" in per_litre_g:
                raise InputError("ethanol is given twice")
            strength = self.number("abv", lowest=0.0, highest=100.0)
            per_litre_g["ethanol"] = strength * 0.01 * ethanol_density_kg_per_m3()
        left = 1.0 - sum(fractions.values())
        if left < -1e-9:
            raise InputError("the mass fractions add up to more than 1")
        liquid = _solved(fractions, per_litre_g, max(left, 0.0))
        if water is not None and abs(liquid.share_of("water") - water) > 1e-6:
            raise InputError("the mass fractions do not add up to 1 with that of water")
        return liquid


def finite_number(text: str, place: str) -> float:
    """The number that a text says; ``InputError`` if it says none, or infinity."""
    try:
        number = float(text)
    except ValueError as error:
        raise InputError(f"{place} is '{text}', not a number") from error
    if not math.isfinite(number):
        raise InputError(f"{place} is '{text}', not a finite number")
    return number


def _molar_mass_g(name: str) -> float:
    key = _stand_ins().get(name, name)
    if key not in keys("molar_mass"):
        raise InputError(f"'{name}' has no molar mass, so it cannot be given in mol/L")
    return value("molar_mass", key)


def _solved(
    fractions: Mapping[str, float], per_litre_g: Mapping[str, float], water_fraction: float
) -> Liquid:
    """The masses: of 1000 g if all is given by mass, else of the litre whose total mass makes the volume 1000 mL."""
    names = ("water", *dict.fromkeys((*fractions, *per_litre_g)))
    shares = np.array([[water_fraction], *([fractions.get(name, 0.0)] for name in names[1:])])
    litre_g = np.array([[0.0], *([per_litre_g.get(name, 0.0)] for name in names[1:])])
    dissolved_g = sum(per_litre_g.values())
    if not per_litre_g:
        return Liquid(names, shares * 1000.0)
    if water_fraction <= 0.0:
        raise InputError("the mass fractions leave nothing for what is given per litre")

    def masses_of(total_g: float) -> Floats:
        masses: Floats = shares * total_g + litre_g
        masses[0, 0] = water_fraction * total_g - dissolved_g
        return masses

    lowest_g = dissolved_g / water_fraction
    highest_g = (dissolved_g + 1000.0) / water_fraction
    total_g = bisect_rising(
        lambda trial: _volume_ml(names, masses_of(trial), 20.0), 1000.0, lowest_g, highest_g, slack=2e-3
    )
    if math.isnan(total_g):
        raise InputError("a litre cannot hold what is given per litre")
    return Liquid(names, masses_of(total_g))
