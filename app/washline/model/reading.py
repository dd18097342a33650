"""The readings: the computed figures of a build, in the order in which a row of results holds them."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Reading:
    """What one computed figure is: its unit, how many decimals are shown, and the step of its axis."""

    key: str
    name: str
    unit: str
    decimals: int
    step: float
    definition: str


READINGS: tuple[Reading, ...] = (
    Reading("strength", "Strength", "% vol", 1, 1.0, "Ethanol in percent of the volume at 20 °C"),
    Reading(
        "sweetness", "Sweetness", "g/100 ml", 1, 1.0, "Grams of sucrose that would taste as sweet, in 100 ml"
    ),
    Reading(
        "acidity",
        "Acidity",
        "g/100 ml",
        2,
        0.1,
        "Titratable acid to pH 8.1, as grams of citric acid in 100 ml",
    ),
    Reading("bitterness", "Bitterness", "of 10", 1, 0.5, "House scale from 0 to 10, mixed by mass"),
    Reading("fizz", "Fizz", "g/l", 1, 0.5, "Grams of dissolved carbon dioxide in a litre, after pouring"),
    Reading("length", "Length", "ml", 0, 10.0, "Volume of the liquid served, at 20 °C"),
    Reading("chill", "Chill", "°C", 0, 1.0, "Temperature when served"),
    Reading("salt", "Salt", "g/100 ml", 2, 0.01, "Grams of sodium chloride in 100 ml"),
    Reading("dilution", "Dilution", "%", 1, 5.0, "Millilitres of water from ice per 100 ml before ice"),
    Reading("density", "Density", "g/ml", 3, 0.01, "Mass of a millilitre at 20 °C"),
    Reading("brix_true", "True °Bx", "°Bx", 1, 1.0, "Dissolved solids in percent of the liquid's mass"),
    Reading(
        "brix_shown", "°Bx as shown", "°Bx", 1, 1.0, "What a refractometer shows; alcohol makes it read high"
    ),
    Reading("sugar_acid_ratio", "Sugar : acid", "", 1, 1.0, "Grams of sugars per gram of titratable acid"),
    Reading("ethanol", "Ethanol", "g", 1, 1.0, "Grams of pure alcohol"),
    Reading(
        "energy_kcal",
        "Energy",
        "kcal",
        0,
        10.0,
        "Energy by the factors of Regulation (EU) 1169/2011, Annex XIV",
    ),
    Reading(
        "energy_kj", "Energy", "kJ", 0, 50.0, "Energy by the factors of Regulation (EU) 1169/2011, Annex XIV"
    ),
    Reading("cost", "Cost", "", 2, 0.1, "What the ingredients cost, in the house's currency"),
    Reading("mass", "Mass", "g", 1, 10.0, "Mass of the liquid"),
    Reading("ph", "pH", "", 2, 0.1, "Acidity as a pH meter shows it, by charge balance of acids and cations"),
    Reading(
        "water_activity",
        "Water activity",
        "",
        3,
        0.01,
        "How free the water is: its vapour pressure against pure water's",
    ),
    Reading("freezing", "Freezing point", "°C", 1, 1.0, "Temperature at which ice starts to form"),
    Reading(
        "length_served",
        "As served",
        "ml",
        0,
        10.0,
        "Volume of the liquid served, at the temperature it has then",
    ),
)

READING_KEYS: tuple[str, ...] = tuple(reading.key for reading in READINGS)
READING_INDEX: dict[str, int] = {key: index for index, key in enumerate(READING_KEYS)}
BY_KEY: dict[str, Reading] = {reading.key: reading for reading in READINGS}
