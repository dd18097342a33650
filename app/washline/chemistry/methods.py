"""How every result is found: its method and source in words that a window, a paper or a file can show."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Method:
    """The method behind one quantity.

    ``functions`` are the names in this package that give it, ``unit`` is the unit of the result, ``error`` what to
    expect of it, ``source`` a sentence with author and year.
    """

    key: str
    functions: tuple[str, ...]
    unit: str
    name: str
    error: str
    source: str


_TABLE: tuple[Method, ...] = (
    Method(
        "volume",
        (
            "mixture.volume_ml",
            "mixture.degassed_g",
            "mixture.composition_from_label",
            "solutes.solute_table",
            "solutes.component_table",
            "solutes.sums_of",
            "solutes.volume_of",
        ),
        "mL",
        "mixing model: ethanol-water tables plus apparent volumes of what is dissolved",
        "0.05 % without ethanol, 0.1 % to 28 % vol, 0.3 % for strong sweet liqueurs",
        "OIML R 22 (1975); apparent volumes fitted to the CRC Handbook, 102nd ed. 2021, and ICUMSA SPS-4.",
    ),
    Method(
        "density",
        ("mixture.density_g_per_ml",),
        "g/mL",
        "mass over the volume of the mixing model, degassed",
        "0.05 % without ethanol, 0.1 % to 28 % vol, 0.3 % for strong sweet liqueurs",
        "OIML R 22 (1975); apparent volumes fitted to the CRC Handbook, 102nd ed. 2021, and ICUMSA SPS-4.",
    ),
    Method(
        "strength",
        (
            "mixture.strength_pct_vol",
            "ethanol_water.strength_pct_vol_from_mass_fraction",
            "ethanol_water.mass_fraction_from_strength",
            "ethanol_water.mass_fraction_from_density",
        ),
        "% vol",
        "ethanol over the volume at 20 degC",
        "0.011 % vol for ethanol and water, 0.05 to 0.3 % of the value with sugar and acids",
        "OIML R 22 (1975), definition of alcoholic strength by volume.",
    ),
    Method(
        "water_density",
        ("water.density_kg_per_m3",),
        "kg/m3",
        "Kell's formula",
        "0.006 kg/m3",
        "Kell 1975, J. Chem. Eng. Data 20.",
    ),
    Method(
        "ethanol_water_density",
        ("ethanol_water.density_kg_per_m3", "ethanol_water.ethanol_density_kg_per_m3"),
        "kg/m3",
        "general formula of the alcoholometric tables, 54 coefficients",
        "0.005 kg/m3 against the tables",
        "OIML R 22 (1975), Wagenbreth and Blanke.",
    ),
    Method(
        "sucrose_density",
        ("sucrose.density_kg_per_m3", "sucrose.sugar_g_per_l"),
        "kg/m3",
        "sugar industry's polynomial in mass fraction and temperature",
        "0.09 kg/m3 (rms), 0.3 at most to 70 %",
        "ICUMSA SPS-4; Bubnik et al. 1995.",
    ),
    Method(
        "refractive_index",
        ("sucrose.refractive_index", "refraction.refractive_index"),
        "1",
        "sucrose polynomial; mixtures by adding specific refractions (Lorentz-Lorenz)",
        "0.00002 for sucrose, 0.00013 for ethanol-water to 50 %, 0.0003 for other solutes",
        "ICUMSA values (OIV-MA-AS2-02); CRC Handbook, 102nd ed. 2021.",
    ),
    Method(
        "brix_true",
        ("solids.brix_true", "sucrose.brix_from_density"),
        "% by mass",
        "everything dissolved but ethanol and CO2, by mass of liquid",
        "that of the composition; 0.04 % when read off a density",
        "Definition of soluble solids (OIV-MA-AS2-02); ICUMSA SPS-4.",
    ),
    Method(
        "brix_refractometer",
        ("solids.brix_refractometer", "sucrose.mass_fraction_from_refractive_index"),
        "% by mass on the sucrose scale",
        "refractive index of the mixture read off the sucrose scale; ethanol raises it",
        "0.02 for sucrose, 0.15 for one other solute, a few tenths in mixtures",
        "Specific refractions fitted to the CRC Handbook, 102nd ed. 2021; ICUMSA scale.",
    ),
    Method(
        "acidity",
        (
            "acidity.titratable_acidity_citric_g",
            "acidity.equivalent_mass_g_per_mol",
            "acidity.titrated_mol",
            "acidity.other_acid_equivalent_g_per_mol",
            "acidity.other_acid_excess_mmol",
        ),
        "g citric acid",
        "equivalents of acid to pH 8.1 less the strong cation that binds them",
        "0.03 % of the acids; that of potassium in juices (15 %) on its part",
        "IFU method 3 and EN 12147 (from memory).",
    ),
    Method(
        "sweetness",
        ("sweetness.sucrose_equivalent_g", "sweetness.sweetness_factors"),
        "g sucrose",
        "mass of each sugar times its sweetness against sucrose",
        "about 15 %; published factors differ",
        "Reviews PMC10346066, PMC3982014, PMC5756564.",
    ),
    Method(
        "energy",
        ("energy.energy_kj", "energy.energy_kcal", "energy.energy_factors"),
        "kJ and kcal",
        "grams of each nutrient times its legal factor; kJ and kcal each from grams",
        "none by definition",
        "Regulation (EU) 1169/2011, Annex XIV.",
    ),
    Method(
        "ethanol",
        ("alcohol.ethanol_g",),
        "g",
        "volume times strength times the density of ethanol, 0.78924 g/mL",
        "none by definition",
        "OIML R 22 (1975).",
    ),
    Method(
        "units",
        ("alcohol.units", "alcohol.standard_drink", "alcohol.standard_drinks"),
        "units",
        "grams of ethanol over the grams of one unit of the country",
        "national figures change; check the local one",
        "WHO and national guidance as compiled in public tables; UK unit 10 mL of ethanol.",
    ),
    Method(
        "heat_capacity",
        ("heat.heat_capacity_j_per_g_k",),
        "J/gK",
        "fit for ethanol-water plus constants for solids",
        "0.04 J/gK",
        "Melinder property set; sugar industry's formula (Lyle; Llano 2005).",
    ),
    Method(
        "temperature",
        ("heat.temperature_from_enthalpy", "heat.enthalpy_j"),
        "degC",
        "heat contents add up; temperature solved from the sum, heat of mixing left out",
        "0.5 K for cold drinks, 1 K with hot water",
        "Integral of the heat capacity from 0 degC.",
    ),
    Method(
        "dilution",
        (
            "dilution.stirred_water_ml_per_ml",
            "dilution.shaken_water_ml_per_ml",
            "dilution.strength_after_dilution",
        ),
        "mL per mL",
        "published regression on the strength before ice",
        "0.05 mL per mL",
        "D. Arnold 2014, Liquid Intelligence (from memory).",
    ),
    Method(
        "range",
        ("ranges.conditions_of", "ranges.flags"),
        "yes or no",
        "conditions of one table held against the state",
        "none",
        "The limits of the sources named by each method.",
    ),
)

METHODS: Mapping[str, Method] = {method.key: method for method in _TABLE}
