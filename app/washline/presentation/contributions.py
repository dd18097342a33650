"""Why a reading is what it is: what each line brings to it, the formula in words, its method and source."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import numpy as np
from msgspec import structs

from washline.chemistry import acidity, energy, mixture, sweetness
from washline.chemistry.components import CO2, ETHANOL, NACL
from washline.chemistry.methods import METHODS
from washline.engine.readings import ETHANOL_DENSITY_G_PER_ML
from washline.engine.state import BITTER, COST, MASSES, Numbers, bound_mmol, mass_g
from washline.engine.trace import StepTrace, Trace
from washline.engine.workings import Workings
from washline.model.reading import BY_KEY
from washline.model.step import Garnish
from washline.presentation.row_words import StepWords
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle

SMALLEST = 1e-12
"""What is smaller than this share of the reading is nothing."""

ADDITIVE = (
    "strength",
    "sweetness",
    "acidity",
    "bitterness",
    "fizz",
    "salt",
    "ethanol",
    "energy_kcal",
    "energy_kj",
    "cost",
    "mass",
)
"""Readings to which each line brings a share, so that the shares add up."""

ADDS_UP = "The lines add up to the reading."
DOES_NOT_ADD_UP = (
    "Each figure is the change when that line alone is taken out. They are differences and do not add up."
)


@dataclass(frozen=True, slots=True)
class Contribution:
    """What one step brings to a reading, in the reading's unit; ``None`` where it cannot be told."""

    step_id: int
    name: str
    value: float | None


@dataclass(frozen=True, slots=True)
class Unfolded:
    """A reading taken apart: what it is, its formula in words, its lines, and where the method comes from."""

    key: str
    definition: str
    formula: str
    lines: tuple[Contribution, ...]
    adds_up: bool
    method: str
    error: str
    source: str
    reasons: tuple[str, ...] = ()

    @property
    def note(self) -> str:
        """Whether the figures of the lines may be added."""
        return ADDS_UP if self.adds_up else DOES_NOT_ADD_UP


def contributions(trace: Trace, key: str, style: NumberStyle = ENGLISH_STYLE) -> tuple[Contribution, ...]:
    """What each step brings to one of the readings of ``ADDITIVE``, in the order of the build; steps that bring nothing
    are left out. Their values add up to the reading. Raises ``KeyError`` for another reading.

    A reading without a value has no contributions.
    """
    share_of = _SHARES[key]
    total = trace.result.value(key)
    if total is None:
        return ()
    scale = _scale(trace, key)
    words = StepWords(trace, style)
    found = []
    for step, step_trace in zip(trace.build.steps, trace.steps, strict=True):
        if step.left_out:
            continue
        rows = _rows(step_trace, key, is_on_glass=isinstance(step, Garnish) and not step.in_liquid)
        value = share_of(rows) * scale
        if abs(value) > SMALLEST * max(abs(total), SMALLEST):
            found.append(Contribution(step.id, words.name(step), value))
    return tuple(found)


def differences(
    workings: Workings, trace: Trace, key: str, style: NumberStyle = ENGLISH_STYLE
) -> tuple[Contribution, ...]:
    """How much higher a reading is with each step than without it, each step taken out alone.

    ``None`` where the build cannot be computed without the step (another line is a share of it).
    """
    total = trace.result.value(key)
    if total is None:
        return ()
    words = StepWords(trace, style)
    found = []
    for index, step in enumerate(trace.build.steps):
        if step.left_out:
            continue
        steps = list(trace.build.steps)
        steps[index] = structs.replace(step, left_out=True)
        book = replace(
            trace.book,
            builds={**trace.book.builds, trace.build.id: structs.replace(trace.build, steps=tuple(steps))},
        )
        without = workings.trace(trace.build.id, book).result.value(key)
        value = None if without is None else total - without
        if value is None or abs(value) > SMALLEST * max(abs(total), SMALLEST):
            found.append(Contribution(step.id, words.name(step), value))
    return tuple(found)


def unfolded(workings: Workings, trace: Trace, key: str, style: NumberStyle = ENGLISH_STYLE) -> Unfolded:
    """A reading taken apart, for the window, a paper or a file."""
    adds_up = key in ADDITIVE
    lines = contributions(trace, key, style) if adds_up else differences(workings, trace, key, style)
    formula, method, error, source = _words(key)
    return Unfolded(
        key=key,
        definition=BY_KEY[key].definition,
        formula=formula,
        lines=lines,
        adds_up=adds_up,
        method=method,
        error=error,
        source=source,
        reasons=trace.result.reasons(key),
    )


def _rows(step_trace: StepTrace, key: str, *, is_on_glass: bool) -> Numbers:
    """The share of a step; what sits on the glass counts in cost and energy only."""
    if is_on_glass and key not in ("cost", "energy_kcal", "energy_kj"):
        return np.zeros_like(step_trace.share.rows)
    return step_trace.share.rows


def _scale(trace: Trace, key: str) -> float:
    """What turns a share into the unit of the reading: the volume, the mass, or nothing."""
    state = trace.final_state[:, None]
    if key in ("ethanol", "energy_kcal", "energy_kj", "cost", "mass"):
        return 1.0
    if key == "bitterness":
        return 1.0 / float(mass_g(state)[0])
    per_ml = 1.0 / float(mixture.volume_ml(state[MASSES])[0])
    return per_ml * (1000.0 if key == "fizz" else 100.0)


def _acid_g(rows: Numbers) -> float:
    """Titratable acid as citric, below zero for a line whose minerals bind the acid of others."""
    free = acidity.titratable_acidity_citric_g(rows[MASSES, None], 0.0)
    bound_mol = float(bound_mmol(rows[:, None])[0]) * 0.001
    return float(free[0]) - bound_mol * acidity.equivalent_mass_g_per_mol("citric")


_SHARES: Mapping[str, Callable[[Numbers], float]] = {
    "strength": lambda rows: float(rows[ETHANOL]) / ETHANOL_DENSITY_G_PER_ML,
    "sweetness": lambda rows: float(sweetness.sucrose_equivalent_g(rows[MASSES, None])[0]),
    "acidity": _acid_g,
    "bitterness": lambda rows: float(rows[BITTER]),
    "fizz": lambda rows: float(rows[CO2]),
    "salt": lambda rows: float(rows[NACL]),
    "ethanol": lambda rows: float(rows[ETHANOL]),
    "energy_kcal": lambda rows: float(energy.energy_kcal(rows[MASSES, None])[0]),
    "energy_kj": lambda rows: float(energy.energy_kj(rows[MASSES, None])[0]),
    "cost": lambda rows: float(rows[COST]),
    "mass": lambda rows: float(mass_g(rows[:, None])[0]),
}

_FORMULAS = {
    "strength": "grams of ethanol ÷ 0.78924 g/ml ÷ millilitres served × 100",
    "sweetness": "grams of each sugar × its sweetness against sucrose, added ÷ millilitres served × 100",
    "acidity": "(equivalents of acid − those that minerals bind) as grams of citric acid ÷ millilitres served × 100",
    "bitterness": "bitterness of each line × its grams, added ÷ grams served",
    "fizz": "grams of carbon dioxide left after pouring ÷ millilitres served × 1,000",
    "length": "volume at 20 °C of all that is in the glass, with the contraction of alcohol and water",
    "length_served": "the same volume at the temperature that the drink is served at",
    "chill": "heat that the lines bring and the ice takes ÷ heat capacity of the mixture",
    "salt": "grams of sodium chloride ÷ millilitres served × 100",
    "dilution": "millilitres of water from ice ÷ millilitres before ice × 100",
    "density": "grams ÷ millilitres at 20 °C",
    "brix_true": "grams of all that is dissolved but alcohol ÷ grams of liquid × 100",
    "brix_shown": "refractive index of the mixture, read off the scale for sucrose in water",
    "sugar_acid_ratio": "grams of sugars ÷ grams of titratable acid",
    "ethanol": "grams of ethanol that each line brings, added",
    "energy_kcal": "grams of each nutrient × its legal factor, the garnish included",
    "energy_kj": "grams of each nutrient × its legal factor, the garnish included",
    "cost": "amount of each line × what was paid for it, the garnish included",
    "mass": "grams of all that is in the glass",
    "ph": "the pH at which the charges of all acids and of their cations add up to nothing",
    "water_activity": "share of each solute's own water activity, multiplied",
    "freezing": "the temperature at which ice is in balance with all that is dissolved",
}

_METHOD_OF = {
    "strength": "strength",
    "sweetness": "sweetness",
    "acidity": "acidity",
    "length": "volume",
    "length_served": "volume",
    "chill": "temperature",
    "dilution": "dilution",
    "density": "density",
    "brix_true": "brix_true",
    "brix_shown": "brix_refractometer",
    "sugar_acid_ratio": "acidity",
    "ethanol": "ethanol",
    "energy_kcal": "energy",
    "energy_kj": "energy",
    "ph": "ph",
    "water_activity": "water_activity",
    "freezing": "freezing_point",
}

_OWN_METHODS = {
    "bitterness": ("mixed by mass on the house's own scale", "a judgement, not a measurement", "The house."),
    "fizz": (
        "mixed by mass, less the loss on pouring that the house sets",
        "that of the loss: weigh a glass to know it",
        "Common practice, no source.",
    ),
    "salt": ("a sum of what each line holds", "that of the compositions", "The sources of the ingredients."),
    "cost": ("a sum; no labour, no waste", "that of the prices", "The house's own prices."),
    "mass": ("a sum", "that of the scale", "Conservation of mass."),
}


def _words(key: str) -> tuple[str, str, str, str]:
    """Formula, method, error and source of a reading."""
    if key in _OWN_METHODS:
        return (_FORMULAS[key], *_OWN_METHODS[key])
    method = METHODS[_METHOD_OF[key]]
    return _FORMULAS[key], method.name, method.error, method.source
