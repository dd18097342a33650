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
            "solutes.volume_of_one",
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
        ("heat.heat_capacity_j_per_g_k", "heat.solvent_capacity_j_per_g_k", "heat.heat_sums"),
        "J/gK",
        "fit for ethanol-water plus constants for solids",
        "0.04 J/gK",
        "Melinder property set; sugar industry's formula (Lyle; Llano 2005).",
    ),
    Method(
        "temperature",
        ("heat.temperature_from_enthalpy", "heat.temperature_with_vessel", "heat.enthalpy_j"),
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
        "mixing_heat",
        ("heat.heat_of_mixing_j", "heat.heat_of_mixing_j_per_g"),
        "J",
        "table of the heat that ethanol and water give off when they meet, straight lines between its rows",
        "2 J/g to 60 % ethanol by mass, 4 J/g beyond",
        "Lama and Lu 1965, Ott et al. 1986 (from memory), shifted to 0 degC by the excess heat capacity.",
    ),
    Method(
        "chilling",
        (
            "chilling.chill",
            "chilling.approach",
            "chilling.ice_heat_j_per_g",
        ),
        "g, degC",
        "balance of the heat of liquid, ice, vessel and surroundings, limited by the freezing point of what is diluted",
        "5 g per 100 mL for ice, time and hand; 8 g or more above 35 % vol",
        "Conservation of energy; the methods of the pantry fitted to D. Arnold 2014, Liquid Intelligence (from memory).",
    ),
    Method(
        "carbonation",
        (
            "carbonation.co2_g_per_l",
            "carbonation.co2_g_per_l_under",
            "carbonation.co2_solubility_g_per_l_atm",
            "carbonation.absolute_kpa_for",
            "carbonation.volumes_from_g_per_l",
            "carbonation.g_per_l_from_volumes",
            "carbonation.water_vapour_kpa",
            "carbonation.bottle_co2_g",
            "carbonation.bottle_kpa",
            "carbonation.co2_left",
            "carbonation.losses",
            "carbonation.usual_loss",
        ),
        "g/L, kPa",
        "Henry's law with the pull of ethanol and sugar; a closed bottle keeps the CO2 of drink and head space",
        "3 % in water, 5 % in beer and wine, 15 % above 20 % vol; 5 % of a bottle's pressure",
        "Weiss 1974; Liger-Belair (PMC8047704); Findlay and Shen 1912 and Buck 1981 (from memory).",
    ),
    Method(
        "ph",
        (
            "ph.ph",
            "ph.ph_and_ionic_strength",
            "ph.cations_mmol_for_ph",
            "charge_balance.ph_of_solution",
            "charge_balance.cations_of_solution",
        ),
        "pH",
        "charge balance of all acids and their cations, activities by Davies; dissociation shifted by ethanol",
        "0.01 for pure acids, 0.2 (0.5 at most) for juices; milk, egg white and tea hold more that is not counted",
        "Davies 1962; dissociation constants of Goldberg et al. 2002, Martell and Smith; ethanol from memory.",
    ),
    Method(
        "water_activity",
        (
            "water_activity.water_activity",
            "water_activity.water_activity_of_solutes",
            "molality.molalities",
        ),
        "1",
        "product over the solutes, each alone in all the water (Ross); Norrish, salt by osmotic coefficients",
        "0.002 for sugars and salt, 0.012 with ethanol",
        "Ross 1975; Norrish 1966 with constants of Chirife et al. 1980-1992; Robinson and Stokes 1965.",
    ),
    Method(
        "freezing_point",
        (
            "freezing.freezing_point_c",
            "freezing.freezing_point_from_osmolality",
            "freezing.osmolality_of_solutes",
            "freezing.osmolality_terms",
            "freezing.ice_line_osmolality",
            "freezing.ice_line_temperature_c",
            "freezing.is_on_ice_line",
            "freezing.ice_mass_fraction",
            "freezing.highest_molality",
            "freezing.freezing_solutes",
        ),
        "degC",
        "osmotic virial sums of all solutes, met with the ice line",
        "0.06 K for one solute (0.28 ethanol), 0.3 K for served drinks, 1 K or more for liqueurs",
        "Fits to the CRC Handbook, 102nd ed. 2021 (Wolf 1966); cross terms of Elliott, Prickett et al.",
    ),
    Method(
        "gauging",
        (
            "alcohol.us_proof",
            "gauging.proof_from_mass_fraction",
            "gauging.mass_fraction_from_proof",
            "gauging.water_parts_per_100",
            "gauging.water_to_reduce_by_volume",
            "gauging.water_to_reduce_by_mass",
        ),
        "US proof, parts of water",
        "ethanol-water tables at 60 degF; ethanol stays, water is added by mass",
        "0.02 parts in 100",
        "27 CFR 30.64 and 30.66; OIML R 22 (1975).",
    ),
    Method(
        "ethanol_retained",
        ("cooking.ethanol_kept_pct", "cooking.ways"),
        "%",
        "retention factors of cooked dishes, straight lines between the times of the table",
        "about 10 of 100; weigh before and after",
        "USDA Table of Nutrient Retention Factors, release 6 (2007).",
    ),
    Method(
        "reconciled",
        (
            "reconcile.reconcile",
            "reconcile.instruments",
            "reconcile.instrument_unit",
            "reconcile.instrument_sigma",
        ),
        "as the quantity",
        "weighted least squares of the measured and the computed value",
        "the standard uncertainty that it states",
        "Gauss 1809; JCGM 100:2008; instruments by common practice, no source.",
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
