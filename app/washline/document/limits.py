"""The range of every number that a person can type: outside it something was mistyped, and the door says so."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from msgspec import Struct

from washline.model.amount import Amount
from washline.model.house import Calibration, Glass, Ice, Measure, Method, Settings, Swap, Vessel, Weighing
from washline.model.item import Batch, Build, Leftover, Price, RawIngredient, StepYield, Today
from washline.model.step import (
    Add,
    BarStrain,
    Carbonate,
    Chill,
    Evaporate,
    Ferment,
    Garnish,
    Goal,
    Infuse,
    Measurable,
    Measurement,
    Portion,
    Rinse,
    Strain,
    Top,
    Wash,
    Work,
)


@dataclass(frozen=True, slots=True)
class Limits:
    """The lowest and highest value of a number, both allowed, and what it is called with its unit."""

    low: float
    high: float
    words: str


_GRAMS = 10_000_000.0
_MILLILITRES = 10_000_000.0
_DAYS = 36_500.0
_SECONDS = 100_000_000.0


def _degrees(words: str) -> Limits:
    return Limits(-100.0, 500.0, f"{words} in °C")


def _percent(words: str) -> Limits:
    return Limits(0.0, 100.0, f"{words} in percent")


def _mass(words: str) -> Limits:
    return Limits(0.0, _GRAMS, f"{words} in grams")


def _volume(words: str) -> Limits:
    return Limits(0.0, _MILLILITRES, f"{words} in ml")


def _brix(words: str) -> Limits:
    return Limits(0.0, 100.0, f"{words} in °Bx")


def _ph(words: str) -> Limits:
    return Limits(0.0, 14.0, words)


def _ice_degrees(words: str) -> Limits:
    return Limits(-100.0, 0.0, f"{words} in °C")


def _pressure(words: str) -> Limits:
    return Limits(0.0, 5_000.0, f"{words} in kPa over the atmosphere")


def _heat_capacity(words: str) -> Limits:
    return Limits(0.0, 1_000_000.0, f"{words} in J/K")


def _per_kilogram(words: str) -> Limits:
    return Limits(0.0, 10_000_000.0, f"{words} a kilogram")


_POURED_SIZES = {
    "drop_ml": Limits(0.0, 10.0, "a drop in ml"),
    "dash_ml": Limits(0.0, 100.0, "a dash in ml"),
    "piece_g": _mass("a piece"),
    "house_days": Limits(0.0, _DAYS, "the days that it keeps"),
}

LIMITS: tuple[tuple[type[Struct], dict[str, Limits]], ...] = (
    (Amount, {"number": Limits(0.0, _GRAMS, "an amount")}),
    (Add, {"temperature_c": _degrees("the temperature"), "bought_g": _mass("the weight as bought")}),
    (Top, {"temperature_c": _degrees("the temperature")}),
    (
        Rinse,
        {"temperature_c": _degrees("the temperature"), "film_ml": Limits(0.0, 1_000.0, "the film in ml")},
    ),
    (Garnish, {"stays_g": _mass("what stays on the drink")}),
    (
        BarStrain,
        {
            "held_back_ml": _volume("what is held back"),
            "fresh_ice_g": _mass("the fresh ice"),
            "vessel_c": _degrees("the glass"),
        },
    ),
    (
        Carbonate,
        {
            "over_kpa": _pressure("the pressure"),
            "at_c": Limits(-20.0, 60.0, "the temperature under pressure in °C"),
            "co2_g_per_l": Limits(0.0, 25.0, "the carbon dioxide in g/l"),
            "reached_pct": _percent("what is reached of the equilibrium"),
            "fills": Limits(0.0, 100.0, "the fills"),
            "warmest_c": Limits(-20.0, 80.0, "the warmest place in °C"),
            "opening_loss_pct": _percent("the gas lost on opening"),
        },
    ),
    (
        Work,
        {
            "duration_s": Limits(0.0, _SECONDS, "the time in seconds"),
            "temperature_low_c": _degrees("the lower temperature"),
            "temperature_high_c": _degrees("the higher temperature"),
        },
    ),
    (
        Infuse,
        {
            "temperature_c": _degrees("the temperature"),
            "bought_g": _mass("the weight as bought"),
            "water_given_pct": _percent("the water given"),
            "sugars_given_pct": _percent("the sugars given"),
            "acids_given_pct": _percent("the acids given"),
            "salt_given_pct": _percent("the salt given"),
            "solids_given_pct": _percent("the other solids given"),
            "given_spread_pct": _percent("the spread of what is given"),
        },
    ),
    (
        Wash,
        {
            "fat_held_pct": _percent("the fat held"),
            "protein_held_pct": _percent("the protein held"),
            "acids_held_pct": _percent("the acids held"),
        },
    ),
    (
        Strain,
        {
            "measured_brix": _brix("the strained liquid"),
            "measured_acidity_pct": _percent("the acidity of the strained liquid"),
            "weighed_g": _mass("the weighed liquid"),
            "leftover_weighed_g": _mass("the weighed leftover"),
            "expected_pct": _percent("the expected liquid"),
            "low_pct": _percent("the least expected liquid"),
            "high_pct": _percent("the most expected liquid"),
        },
    ),
    (
        Evaporate,
        {
            "final_g": _mass("the final weight"),
            "final_pct": _percent("the final weight"),
            "final_brix": _brix("the final liquid"),
            "ethanol_kept_pct": _percent("the alcohol that stays"),
        },
    ),
    (
        Ferment,
        {
            "gas_lost_g": _mass("the gas that left"),
            "final_acidity_pct": _percent("the acidity reached"),
            "final_brix": _brix("the liquid reached"),
            "final_ph": _ph("the pH reached"),
            "discard_above_ph": _ph("the highest pH allowed"),
            "discard_on_day": Limits(0.0, _DAYS, "the day by which it is reached"),
        },
    ),
    (Portion, {"parts": Limits(0.0, 1_000_000.0, "the parts")}),
    (
        Measurement,
        {
            "uncertainty": Limits(0.0, _GRAMS, "the uncertainty"),
            "gain": Limits(0.0, 1.0, "the share taken over"),
        },
    ),
    (
        Chill,
        {
            "ice_g": _mass("the ice"),
            "count": Limits(0.0, 100_000.0, "the count"),
            "melted_g": _mass("the melted ice"),
            "final_g": _mass("the final weight"),
            "final_ml": _volume("the final volume"),
            "ice_c": _ice_degrees("the ice"),
            "vessel_c": _degrees("tin or glass"),
            "end_c": _degrees("the end temperature"),
        },
    ),
    (
        Build,
        {
            "ice_g": _mass("the ice"),
            "wash_line_ml": _volume("the wash line"),
            "bitterness": Limits(0.0, 10.0, "bitterness on the house scale"),
            "pour_ml": _volume("a pour"),
            "value_per_kg": _per_kilogram("the worth of"),
            "price": Limits(0.0, 10_000_000.0, "the price"),
            "labour_min": Limits(0.0, 100_000.0, "the work in minutes"),
            "waste_pct": _percent("the waste"),
            "fizz_loss_pct": _percent("the fizz lost on pouring"),
            "foam_ml": _volume("the foam"),
            **_POURED_SIZES,
        },
    ),
    (
        Batch,
        {
            "serves": Limits(0.1, 100_000.0, "the serves"),
            "vessel_count": Limits(0.01, 100_000.0, "the vessels"),
            "salt_pct": Limits(0.0, 200.0, "the salt of a batch in percent"),
            "bitters_pct": Limits(0.0, 200.0, "the bitters of a batch in percent"),
            "round_g": Limits(0.001, 1_000.0, "the step of the scale in grams"),
        },
    ),
    (
        Leftover,
        {
            "house_days": _POURED_SIZES["house_days"],
            "piece_g": _POURED_SIZES["piece_g"],
            "bitterness": Limits(0.0, 10.0, "bitterness on the house scale"),
            "value_per_kg": _per_kilogram("the worth of"),
        },
    ),
    (StepYield, {"before_g": _mass("the vessel before a strain"), "weighed_g": _mass("the weighed liquid")}),
    (
        Today,
        {
            "sugars_pct": Limits(-100.0, 300.0, "the sugars of today's fruit in percent of the table"),
            "acids_pct": Limits(-100.0, 300.0, "the acids of today's fruit in percent of the table"),
        },
    ),
    (
        RawIngredient,
        {
            "density_g_per_ml": Limits(0.0, 25.0, "the density in g/ml"),
            "strength_pct_vol": Limits(0.0, 100.0, "the strength in % vol"),
            "co2_g_per_l": Limits(0.0, 100.0, "the carbon dioxide in g/l"),
            "bitterness": Limits(0.0, 10.0, "bitterness on the house scale"),
            "strong_cation_mmol_per_100g": Limits(-10_000.0, 10_000.0, "strong cations in mmol per 100 g"),
            "typical_ph_low": Limits(-2.0, 16.0, "the lowest usual pH"),
            "typical_ph_high": Limits(-2.0, 16.0, "the highest usual pH"),
            "titratable_acidity_pct": _percent("the titratable acidity"),
            "soluble_solids_pct": _percent("the soluble solids"),
            "sugar_uncertainty_pct": _percent("the spread of the sugars"),
            "acid_uncertainty_pct": _percent("the spread of the acids"),
            "edible_yield": Limits(0.0, 1.0, "the edible share"),
            **_POURED_SIZES,
        },
    ),
    (Price, {"per_unit": Limits(0.0, 10_000_000.0, "the price")}),
    (
        Glass,
        {
            "brim_ml": _volume("the brim"),
            "usual_fill_ml": _volume("the usual fill"),
            "ice_g": _mass("the ice"),
            "wash_line_ml": _volume("the wash line"),
        },
    ),
    (
        Method,
        {
            "ice_g": _mass("the ice"),
            "time_low_s": Limits(0.0, _SECONDS, "the shortest time in seconds"),
            "time_high_s": Limits(0.0, _SECONDS, "the longest time in seconds"),
            "dilution_low_pct": Limits(0.0, 1000.0, "the least dilution in percent"),
            "dilution_high_pct": Limits(0.0, 1000.0, "the most dilution in percent"),
            "end_low_c": _degrees("the lowest end temperature"),
            "end_high_c": _degrees("the highest end temperature"),
            "approach": Limits(0.0, 1.0, "the part of the way to equilibrium"),
            "tau_s": Limits(0.01, 100_000.0, "the time constant in seconds"),
            "core": Limits(0.0, 1.0, "the part of the ice that takes part"),
            "ice_g_per_ml": Limits(0.0, 100.0, "the ice in grams for each ml"),
            "surface_water_pct": _percent("the water on the ice"),
            "vessel_j_per_k": _heat_capacity("the heat that tin or glass takes"),
        },
    ),
    (
        Ice,
        {
            "pace": Limits(0.01, 100.0, "the pace"),
            "temperature_c": _ice_degrees("the ice"),
            "surface_water_pct": _percent("the water on the ice"),
            "wet_pct": _percent("the water on wet ice"),
            "edge_mm": Limits(0.1, 2_000.0, "the edge in mm"),
            "piece_g": _mass("a piece"),
        },
    ),
    (
        Vessel,
        {
            "volume_ml": Limits(1.0, _MILLILITRES, "the volume to the brim in ml"),
            "fill_ml": Limits(1.0, _MILLILITRES, "the fill in ml"),
            "rated_kpa": Limits(1.0, 10_000.0, "the rated pressure in kPa over the atmosphere"),
        },
    ),
    (
        Weighing,
        {
            "liquid_c": _degrees("the liquid"),
            "ice_g": _mass("the ice"),
            "ice_c": _ice_degrees("the ice"),
            "surface_water_g": _mass("the water on the ice"),
            "seconds": Limits(0.0, _SECONDS, "the time in seconds"),
            "vessel_j_per_k": _heat_capacity("the heat that tin or glass takes"),
            "vessel_c": _degrees("tin or glass"),
            "melted_g": _mass("the melted ice"),
        },
    ),
    (
        Calibration,
        {
            "tau_s": Limits(0.01, 100_000.0, "the time constant in seconds"),
            "surface_water_pct": _percent("the water on the ice"),
            "factor": Limits(0.0, 100.0, "the factor"),
            "offset": Limits(-10.0, 10.0, "the offset in ml for each ml"),
            "weighings": Limits(0.0, 1_000_000.0, "the weighings"),
            "left_ml_per_100_ml": Limits(0.0, 1_000.0, "what the fit leaves in ml for 100 ml"),
        },
    ),
    (Swap, {"factor": Limits(0.0, 100.0, "the factor of a swap")}),
    (
        Measure,
        {
            "value": Limits(0.0, _MILLILITRES, "the measure"),
            "low": Limits(0.0, _MILLILITRES, "the least of the measure"),
            "high": Limits(0.0, _MILLILITRES, "the most of the measure"),
        },
    ),
    (
        Settings,
        {
            "oz_ml": Limits(1.0, 100.0, "an ounce in ml"),
            "freezer_c": _degrees("the freezer"),
            "fridge_c": _degrees("the fridge"),
            "room_c": _degrees("the room"),
            "ice_well_c": _degrees("the ice well"),
            "fizz_loss_pct": _percent("the fizz lost on pouring"),
            "wash_line_pct": _percent("the wash line"),
            "tax_pct": _percent("the tax"),
            "wanted_pour_cost_pct": Limits(1.0, 100.0, "the wanted pour cost in percent"),
            "labour_per_hour": Limits(0.0, 1_000_000.0, "an hour of work"),
            "foam_allowance_ml": Limits(0.0, 1_000.0, "the room for a head of foam in ml"),
            "egg_foam_pct": _percent("the foam of a shaken drink"),
            "glass_w_per_k": Limits(0.0, 100.0, "the heat that a glass takes up in W/K"),
            "glass_j_per_k": Limits(0.0, 10_000.0, "the heat that a glass gives in J/K"),
            "rinse_film_ml": Limits(0.0, 100.0, "the film of a rinse in ml"),
            "scant_ml": Limits(0.0, 100.0, "what a scant pour is short in ml"),
            "heavy_ml": Limits(0.0, 100.0, "what a heavy pour is over in ml"),
            "warmest_c": Limits(-20.0, 80.0, "the warmest place in °C"),
            "salt_batch_pct": Limits(0.0, 200.0, "the salt of a batch in percent"),
            "bitters_batch_pct": Limits(0.0, 200.0, "the bitters of a batch in percent"),
        },
    ),
)

GOALS: dict[Goal, Limits] = {
    Goal.BRIX: _brix("the goal"),
    Goal.ACIDITY: Limits(0.0, 150.0, "the acidity to reach in percent"),
    Goal.STRENGTH: Limits(0.0, 100.0, "the strength to reach in % vol"),
    Goal.SALT: Limits(0.0, 150.0, "the salt to reach in percent"),
}
"""What an adjustment may aim at: in 100 g, or in 100 ml of something heavier than water."""

MEASURED: dict[Measurable, Limits] = {
    Measurable.MASS: _mass("the measured mass"),
    Measurable.VOLUME: _volume("the measured volume"),
    Measurable.DENSITY: Limits(0.5, 3.0, "the measured density in g/ml"),
    Measurable.BRIX: _brix("the measured liquid"),
    Measurable.PH: _ph("the measured pH"),
    Measurable.ACIDITY: _percent("the measured acidity"),
    Measurable.STRENGTH: Limits(0.0, 100.0, "the measured strength in % vol"),
}
"""What an instrument can show of each quantity."""

RISING: tuple[tuple[type[Struct], tuple[str, ...]], ...] = (
    (Work, ("temperature_low_c", "temperature_high_c")),
    (Strain, ("low_pct", "expected_pct", "high_pct")),
    (Method, ("time_low_s", "time_high_s")),
    (Method, ("dilution_low_pct", "dilution_high_pct")),
    (Method, ("end_low_c", "end_high_c")),
    (Measure, ("low", "value", "high")),
    (Vessel, ("fill_ml", "volume_ml")),
)
"""Fields of which none may be lower than the one before it, where both are given."""


def faults(row: Struct) -> Iterator[str]:
    """What is wrong with the numbers of a row itself, in words: one sentence each."""
    for kind, fields in LIMITS:
        if isinstance(row, kind):
            for name, limits in fields.items():
                yield from fault(getattr(row, name), limits)
    for kind, names in RISING:
        if isinstance(row, kind):
            yield from _fault_in_order(row, names)


def fault(number: float | None, limits: Limits) -> Iterator[str]:
    """What is wrong with one number; nothing where it is not given."""
    if number is None or (math.isfinite(number) and limits.low <= number <= limits.high):
        return
    yield f"{_capital(limits.words)} must be a number from {limits.low:,.6g} to {limits.high:,.9g}, not {number:,.9g}."


def _fault_in_order(row: Struct, names: tuple[str, ...]) -> Iterator[str]:
    given = [(name, getattr(row, name)) for name in names if getattr(row, name) is not None]
    words = {
        name: limits.words
        for kind, fields in LIMITS
        if isinstance(row, kind)
        for name, limits in fields.items()
    }
    for (lower, low), (higher, high) in pairwise(given):
        if low > high:
            yield f"{_capital(words[lower])} ({low:,.9g}) is above {words[higher]} ({high:,.9g})."


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
