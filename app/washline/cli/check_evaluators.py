"""What ``check-values`` can evaluate: one table, a quantity's name to the function that finds its value."""

import math
import re
from collections.abc import Callable, Mapping

from washline.chemistry import (
    acidity,
    alcohol,
    dilution,
    energy,
    ethanol_water,
    heat,
    refraction,
    solids,
    sucrose,
    water,
)
from washline.cli import check_bench, check_fizz, check_ice, check_keeping, check_units
from washline.cli.check_found import Evaluator, Found, found_at, found_in
from washline.cli.check_inputs import InputError, Inputs


def _strength(inputs: Inputs) -> float:
    return inputs.number("abv", lowest=0.0, highest=100.0)


def _fraction(inputs: Inputs) -> float:
    return inputs.number("w", lowest=0.0, highest=1.0)


def _positive(inputs: Inputs, name: str) -> float:
    return inputs.number(name, lowest=0.0)


def _water_density(inputs: Inputs) -> Found:
    temperature_c = inputs.temperature_c()
    return found_at(water.density_kg_per_m3(temperature_c), temperature_c=temperature_c)


def _ethanol_water_density(inputs: Inputs) -> Found:
    fraction, temperature_c = _fraction(inputs), inputs.temperature_c()
    return found_at(ethanol_water.density_kg_per_m3(fraction, temperature_c), temperature_c=temperature_c)


def _density_from_strength(inputs: Inputs) -> Found:
    fraction, temperature_c = (
        ethanol_water.mass_fraction_from_strength(_strength(inputs)),
        inputs.temperature_c(),
    )
    return found_at(ethanol_water.density_kg_per_m3(fraction, temperature_c), temperature_c=temperature_c)


def _strength_from_fraction(inputs: Inputs) -> Found:
    return found_at(ethanol_water.strength_pct_vol_from_mass_fraction(_fraction(inputs)))


def _fraction_from_strength(inputs: Inputs) -> Found:
    return found_at(ethanol_water.mass_fraction_from_strength(_strength(inputs)))


def _fraction_from_density(inputs: Inputs) -> Found:
    density, temperature_c = _positive(inputs, "rho"), inputs.temperature_c()
    fraction = ethanol_water.mass_fraction_from_density(density, temperature_c)
    return found_at(fraction, temperature_c=temperature_c)


def _strength_from_density(inputs: Inputs) -> Found:
    found = _fraction_from_density(inputs)
    return Found(ethanol_water.strength_pct_vol_from_mass_fraction(found.value), found.conditions)


def _mixed_volume(inputs: Inputs) -> Found:
    temperature_c = inputs.temperature_c()
    ethanol_g = _positive(inputs, "ethanol_ml") * ethanol_water.density_kg_per_m3(1.0, temperature_c) * 0.001
    water_g = _positive(inputs, "water_ml") * ethanol_water.density_kg_per_m3(0.0, temperature_c) * 0.001
    total_g = ethanol_g + water_g
    if total_g <= 0.0:
        raise InputError("there is neither ethanol nor water")
    density = ethanol_water.density_kg_per_m3(ethanol_g / total_g, temperature_c)
    return found_at(total_g / density * 1000.0, temperature_c=temperature_c)


def _sucrose_density(inputs: Inputs) -> Found:
    fraction, temperature_c = _fraction(inputs), inputs.temperature_c()
    density = sucrose.density_kg_per_m3(fraction, temperature_c)
    return found_at(density, temperature_c=temperature_c, sugar_fraction=fraction)


def _sucrose_per_litre(inputs: Inputs) -> Found:
    fraction, temperature_c = _fraction(inputs), inputs.temperature_c()
    per_litre_g = sucrose.sugar_g_per_l(fraction, temperature_c)
    return found_at(per_litre_g, temperature_c=temperature_c, sugar_fraction=fraction)


def _sucrose_refractive_index(inputs: Inputs) -> Found:
    fraction, temperature_c = _fraction(inputs), inputs.temperature_c()
    index = sucrose.refractive_index(fraction)
    return found_at(index, temperature_c=temperature_c, sugar_fraction=fraction)


def _brix_from_density(inputs: Inputs) -> Found:
    density, temperature_c = _positive(inputs, "rho"), inputs.temperature_c()
    return found_at(sucrose.brix_from_density(density, temperature_c), temperature_c=temperature_c)


def _brix_from_refractive_index(inputs: Inputs) -> Found:
    index = inputs.number("n", lowest=1.0)
    fraction = sucrose.mass_fraction_from_refractive_index(index)
    return found_at(fraction * 100.0, temperature_c=inputs.temperature_c())


def _liquid_density(inputs: Inputs) -> Found:
    liquid, temperature_c = inputs.liquid(), inputs.temperature_c()
    density = liquid.total_g() / liquid.volume_ml(temperature_c) * 1000.0
    return found_in(density, liquid, temperature_c)


def _liquid_strength(inputs: Inputs) -> Found:
    liquid = inputs.liquid()
    return found_in(liquid.strength_pct_vol(), liquid)


def _liquid_refractive_index(inputs: Inputs) -> Found:
    liquid = inputs.liquid()
    index = refraction.refractive_index(liquid.component_masses_g(is_refracting=True))[0]
    return found_in(float(index), liquid, inputs.temperature_c())


def _liquid_brix_true(inputs: Inputs) -> Found:
    liquid = inputs.liquid()
    return found_in(float(solids.brix_true(liquid.component_masses_g())[0]), liquid)


def _liquid_brix_refractometer(inputs: Inputs) -> Found:
    liquid = inputs.liquid()
    brix = solids.brix_refractometer(liquid.component_masses_g(is_refracting=True))[0]
    return found_in(float(brix), liquid, inputs.temperature_c())


_SHOWN_AS = ("citric", "malic", "tartaric", "lactic", "acetic", "ascorbic", "phosphoric", "succinic")


def _titratable_acidity(inputs: Inputs) -> Found:
    """Acids of a litre less its strong cation (``cation``, mol/L), as grams of the acid named by ``as`` (or citric)."""
    shown_as = inputs.text("as", "citric")
    if shown_as not in _SHOWN_AS:
        raise InputError(f"input 'as' is '{shown_as}', not one of {', '.join(_SHOWN_AS)}")
    liquid = inputs.liquid()
    titrated_mol = sum(acidity.titrated_mol(name, grams) for name, grams in liquid.grams_by_name().items())
    per_litre_mol = titrated_mol * 1000.0 / liquid.volume_ml(20.0) - inputs.number("cation", 0.0)
    return found_in(max(per_litre_mol, 0.0) * acidity.equivalent_mass_g_per_mol(shown_as), liquid)


def _energy(unit: str) -> Callable[[Inputs], Found]:
    def find(inputs: Inputs) -> Found:
        factors = energy.energy_factors(unit)
        given = [nutrient for nutrient in factors if inputs.has(nutrient)]
        if not given:
            raise InputError(f"none of the nutrients is given: {', '.join(factors)}")
        return found_at(sum(_positive(inputs, nutrient) * factors[nutrient] for nutrient in given))

    return find


def _ethanol_g(inputs: Inputs) -> Found:
    return found_at(alcohol.ethanol_g(_positive(inputs, "ml"), _strength(inputs)))


def _units(inputs: Inputs) -> Found:
    """Units of a serve: ``per=ml10`` counts by 10 mL of ethanol, else by the ``grams`` of one unit or by ``country``."""
    volume_ml, strength = _positive(inputs, "ml"), _strength(inputs)
    grams = inputs.number("grams", lowest=1e-9) if inputs.has("grams") else None
    by_volume = re.fullmatch(r"ml(\d+(?:\.\d+)?)", inputs.text("per", "")) if inputs.has("per") else None
    if by_volume and float(by_volume[1]) > 0.0:
        return found_at(volume_ml * strength * 0.01 / float(by_volume[1]))
    if inputs.has("per") and inputs.text("per") not in ("g", "grams"):
        raise InputError(f"input 'per' is '{inputs.text('per')}', neither 'grams' nor like 'ml10'")
    ethanol_g = alcohol.ethanol_g(volume_ml, strength)
    if grams is not None:
        return found_at(ethanol_g / grams)
    country = inputs.text("country")
    if country not in (drink.key for drink in alcohol.standard_drinks()):
        raise InputError(f"input 'country' is '{country}', which has no unit in the table")
    return found_at(alcohol.units(ethanol_g, country))


def _heat_capacity(inputs: Inputs) -> Found:
    liquid, temperature_c = inputs.liquid(), inputs.temperature_c()
    capacity = heat.heat_capacity_j_per_g_k(liquid.component_masses_g(), temperature_c)[0]
    return found_in(float(capacity), liquid, temperature_c)


_REGRESSIONS: Mapping[str, Callable[[float], float]] = {
    "stirred": dilution.stirred_water_ml_per_ml,
    "shaken": dilution.shaken_water_ml_per_ml,
}


def _dilution(inputs: Inputs) -> Found:
    strength, how = _strength(inputs), inputs.text("how")
    if how not in _REGRESSIONS:
        raise InputError(f"input 'how' is '{how}', neither stirred nor shaken")
    return found_at(_REGRESSIONS[how](strength * 0.01), before_ice_pct_vol=strength)


def _strength_after_dilution(inputs: Inputs) -> Found:
    diluted = _dilution(inputs)
    return Found(
        dilution.strength_after_dilution(_strength(inputs), diluted.value),
        diluted.conditions,
    )


EVALUATORS: Mapping[str, Evaluator] = {
    "rho_water": Evaluator(_water_density, check_units.DENSITY, "water_density"),
    "rho_ethanol_water": Evaluator(_ethanol_water_density, check_units.DENSITY, "ethanol_water_density"),
    "rho_from_abv": Evaluator(_density_from_strength, check_units.DENSITY, "ethanol_water_density"),
    "abv_from_w": Evaluator(_strength_from_fraction, check_units.STRENGTH, "strength"),
    "w_from_abv": Evaluator(_fraction_from_strength, check_units.MASS_FRACTION, "strength"),
    "w_from_rho": Evaluator(_fraction_from_density, check_units.MASS_FRACTION, "ethanol_water_density"),
    "abv_from_rho": Evaluator(_strength_from_density, check_units.STRENGTH, "ethanol_water_density"),
    "mix_volume_ethanol_water": Evaluator(_mixed_volume, check_units.VOLUME, "volume"),
    "rho_sucrose": Evaluator(_sucrose_density, check_units.DENSITY, "sucrose_density"),
    "sugar_g_per_l": Evaluator(_sucrose_per_litre, check_units.CONCENTRATION, "sucrose_density"),
    "ri_sucrose": Evaluator(_sucrose_refractive_index, check_units.REFRACTIVE_INDEX, "refractive_index"),
    "brix_from_rho": Evaluator(_brix_from_density, check_units.BRIX, "sucrose_density"),
    "brix_from_ri": Evaluator(_brix_from_refractive_index, check_units.BRIX, "refractive_index"),
    "rho_solution": Evaluator(_liquid_density, check_units.DENSITY, "density"),
    "rho_mixture": Evaluator(_liquid_density, check_units.DENSITY, "density"),
    "abv_mixture": Evaluator(_liquid_strength, check_units.STRENGTH, "strength"),
    "ri_mixture": Evaluator(_liquid_refractive_index, check_units.REFRACTIVE_INDEX, "refractive_index"),
    "brix_true": Evaluator(_liquid_brix_true, check_units.BRIX, "brix_true"),
    "brix_refractometer": Evaluator(_liquid_brix_refractometer, check_units.BRIX, "brix_refractometer"),
    "ta_as": Evaluator(_titratable_acidity, check_units.CONCENTRATION, "acidity"),
    "energy_kj": Evaluator(_energy(energy.KILOJOULE), check_units.KILOJOULE, "energy"),
    "energy_kcal": Evaluator(_energy(energy.KILOCALORIE), check_units.KILOCALORIE, "energy"),
    "alcohol_g": Evaluator(_ethanol_g, check_units.MASS, "ethanol"),
    "units": Evaluator(_units, check_units.UNITS_OF_ALCOHOL, "units"),
    "cp": Evaluator(_heat_capacity, check_units.HEAT_CAPACITY, "heat_capacity"),
    "dilution": Evaluator(_dilution, check_units.VOLUME_RATIO, "dilution"),
    "abv_after_dilution": Evaluator(_strength_after_dilution, check_units.STRENGTH, "dilution"),
    **check_keeping.EVALUATORS,
    **check_bench.EVALUATORS,
    **check_ice.EVALUATORS,
    **check_fizz.EVALUATORS,
}


def evaluate(evaluator: Evaluator, inputs: Inputs) -> Found:
    """The value of a quantity; ``InputError`` for inputs that are missing, impossible or not taken by it."""
    found = evaluator.find(inputs)
    inputs.refuse_unused()
    if not math.isfinite(found.value):
        raise InputError("there is no value: the inputs lie outside what the formula can give")
    return found
