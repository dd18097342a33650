"""A raw ingredient from what a refractometer, a strip and a titration say of a juice.

The juice is solved so that the model reads what was read on it. What was not read stays not known.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from washline.chemistry import mixture
from washline.chemistry.acidity import titratable_acidity_citric_g
from washline.chemistry.arrays import Floats
from washline.chemistry.components import (
    ACIDS,
    CITRIC,
    CO2,
    COMPONENT_COUNT,
    COMPONENTS,
    ETHANOL,
    FIBRE,
    INSOLUBLE,
    LACTIC,
    MALIC,
    NACL,
    OTHER_CARBOHYDRATE,
    OTHER_SOLIDS,
    POLYOL,
    PROTEIN,
    SUCROSE,
    SUGARS,
    TARTARIC,
    WATER,
)
from washline.chemistry.ph import cations_mmol_for_ph, ph
from washline.chemistry.solids import brix_refractometer
from washline.model.item import RawIngredient
from washline.presentation.entry_parts import (
    SugarsLike,
    Understood,
    put_sugars,
    solved_for,
    split_of,
    sugar_lines,
    sum_line,
)
from washline.problem import UserError

UNTOLD_BY_READINGS_G = 0.1
"""Grams in 100 g that stay of unknown kind in a juice, where a component is not told: what 0.1 °Bx cannot show."""

_ROUNDS = 3


@dataclass(frozen=True, slots=True)
class Juice:
    """What was read on a juice: °Bx as a refractometer shows it, pH, and titratable acidity as g of citric acid in 100 g.

    ``acid`` is the component that its acids count as, or a known ingredient whose acids it has. ``sugars_like`` as in a
    label; a known ingredient also says what else is dissolved beside sugars.
    """

    name: str = ""
    brix: float | None = None
    ph: float | None = None
    acidity_pct: float | None = None
    acid: int | RawIngredient = CITRIC
    sugars_like: SugarsLike | RawIngredient = SugarsLike.UNKNOWN


ACID_CHOICES = (
    (CITRIC, "citric acid"),
    (MALIC, "malic acid"),
    (TARTARIC, "tartaric acid"),
    (LACTIC, "lactic acid"),
)
"""What the acids of a juice can be counted as."""


def from_juice(juice: Juice) -> Understood:
    """What the readings of a juice mean, solved on the model. Raises ``UserError`` for what cannot be."""
    if juice.brix is None:
        raise UserError("The °Bx is missing.", remedy="Enter what a refractometer shows.")
    if not 0.0 <= juice.brix <= 85.0:
        raise UserError("A refractometer reads from 0 to 85 °Bx.")
    if juice.ph is not None and not 1.5 <= juice.ph <= 8.0:
        raise UserError("A juice has a pH from 1.5 to 8.")
    if juice.acidity_pct is not None and not 0.0 <= juice.acidity_pct <= 15.0:
        raise UserError("A juice has an acidity from 0 to 15 g per 100 g.")
    masses, cations = _solved(juice, juice.brix)
    parts = _parts_of_juice(juice, masses)
    knows_ph = juice.ph is not None and juice.acidity_pct is not None
    fields: dict[str, object] = {
        "composition": parts,
        "strength_pct_vol": 0.0,
        "strong_cation_mmol_per_100g": round(cations, 3) if knows_ph else None,
        "ph_model": "fitted" if knows_ph else "none",
        "titratable_acidity_pct": juice.acidity_pct,
        "soluble_solids_pct": juice.brix,
        "typical_ph_low": juice.ph,
        "typical_ph_high": juice.ph,
        "source": "measured in this house",
        "source_kind": "measured",
        "form": "liquid",
    }
    return Understood(fields, _juice_lines(juice, masses, cations, parts), tuple(_juice_doubts(juice)))


def _solved(juice: Juice, brix: float) -> tuple[Floats, float]:
    """Grams in 100 g and mmol of cations: acids from the titration, cations from the pH, the rest of the °Bx as sugars."""
    masses = np.zeros(COMPONENT_COUNT)
    masses[WATER] = 100.0
    acid_split, solid_split = _acid_split(juice.acid), _solid_split(juice.sugars_like)
    cations = 0.0
    for _ in range(_ROUNDS):
        if juice.acidity_pct is not None:
            cations = _solve_acids(masses, acid_split, juice.acidity_pct, juice.ph)
        _solve_solids(masses, solid_split, brix, juice)
    return masses, cations


def _solve_acids(masses: Floats, split: Floats, acidity_pct: float, ph_read: float | None) -> float:
    others = masses.copy()
    others[list(ACIDS)] = 0.0
    found = 0.0

    def titrated(grams: float) -> float:
        nonlocal found
        trial = others + split * grams
        found = 0.0 if ph_read is None else float(cations_mmol_for_ph(trial[:, None], ph_read)[0])
        return float(titratable_acidity_citric_g(trial[:, None], found)[0])

    grams = solved_for(titrated, acidity_pct, 0.0, 40.0)
    masses[list(ACIDS)] = (split * grams)[list(ACIDS)]
    if ph_read is not None and found < -1.0:
        raise UserError(
            f"pH {ph_read:g} is too low for an acidity of {acidity_pct:g} g per 100 g.",
            "Acids alone would not bring it there.",
            "Check the two readings.",
        )
    masses[WATER] = 100.0 - _dissolved(masses)
    return found


def _solve_solids(masses: Floats, split: Floats, brix: float, juice: Juice) -> None:
    acids = np.zeros(COMPONENT_COUNT)
    acids[list(ACIDS)] = masses[list(ACIDS)]
    acid_g = float(np.add.accumulate(acids)[-1])

    def reads(grams: float) -> float:
        trial = acids + split * grams
        trial[WATER] = 100.0 - acid_g - grams
        return float(brix_refractometer(trial[:, None])[0])

    if reads(0.0) > brix + 0.05:
        raise UserError(
            f"{brix:g} °Bx are less than its acids alone read.",
            f"{juice.acidity_pct or 0.0:g} g of acid in 100 g read {reads(0.0):.1f} °Bx.",
            "Check the two readings.",
        )
    grams = solved_for(reads, brix, 0.0, 99.0 - acid_g)
    masses[:] = acids + split * grams
    masses[WATER] = 100.0 - acid_g - grams


def _acid_split(acid: int | RawIngredient) -> Floats:
    if isinstance(acid, RawIngredient):
        return split_of(acid, ACIDS, "acids")
    split = np.zeros(COMPONENT_COUNT)
    split[acid] = 1.0
    return split


_BESIDE_SUGARS = (OTHER_CARBOHYDRATE, POLYOL, NACL, OTHER_SOLIDS, PROTEIN, FIBRE)


def _solid_split(like: SugarsLike | RawIngredient) -> Floats:
    """Shares of what is dissolved beside the acids: as in a known ingredient, else all counted as sucrose."""
    if isinstance(like, RawIngredient):
        return split_of(like, (*SUGARS, *_BESIDE_SUGARS), "sugars")
    split = np.zeros(COMPONENT_COUNT)
    split[SUCROSE] = 1.0
    return split


def _parts_of_juice(juice: Juice, masses: Floats) -> tuple[float | None, ...]:
    """Acids and alcohol are known by the readings; sugars of no known kind stay open, with their grams of unknown kind."""
    parts: list[float | None] = [None] * COMPONENT_COUNT
    parts[WATER], parts[ETHANOL], parts[CO2] = round(float(masses[WATER]), 4), 0.0, 0.0
    if juice.acidity_pct is not None:
        for part in ACIDS:
            parts[part] = round(float(masses[part]), 4)
    if isinstance(juice.sugars_like, RawIngredient):
        for part in (*SUGARS, *_BESIDE_SUGARS):
            if juice.sugars_like.composition[part] is not None:
                parts[part] = round(float(masses[part]), 4)
    elif juice.sugars_like is SugarsLike.SUCROSE:
        put_sugars(parts, float(masses[SUCROSE]), juice.sugars_like)
    known = sum(part for part in parts if part is not None)
    if any(part is None for part in parts) and known > 100.0 - UNTOLD_BY_READINGS_G:
        # What is not known must stay something, or it would read as none.
        parts[WATER] = round((parts[WATER] or 0.0) - UNTOLD_BY_READINGS_G, 4)
    return tuple(parts)


def _juice_lines(
    juice: Juice, masses: Floats, cations: float, parts: Sequence[float | None]
) -> tuple[tuple[str, str], ...]:
    density = float(mixture.density_g_per_ml(masses[:, None])[0])
    sugars = sum(float(masses[part]) for part in SUGARS)
    acids = sum(float(masses[part]) for part in ACIDS)
    lines = [("Sugars", f"{sugars:.1f} g in 100 g, from the °Bx less its acids")]
    lines += sugar_lines(sugars, juice.sugars_like)
    if juice.acidity_pct is not None:
        named = juice.acid.name if isinstance(juice.acid, RawIngredient) else COMPONENTS[juice.acid]
        lines.append(("Acids", f"{acids:.2f} g in 100 g, as in {named}" if isinstance(juice.acid, RawIngredient)
                      else f"{acids:.2f} g in 100 g, counted as {named} acid"))  # fmt: skip
    if juice.ph is not None and juice.acidity_pct is not None:
        back = float(ph(masses[:, None], cations)[0])
        lines.append(("Bound", f"{cations:.1f} mmol of cations in 100 g, so that the pH is {back:.2f}"))
    lines += [("Density", f"{density:.3f} g/ml"), ("Adds up to", sum_line(parts))]
    return tuple(lines)


def _juice_doubts(juice: Juice) -> list[str]:
    doubts = []
    if juice.acidity_pct is None:
        doubts.append(
            "Without its acidity, its acids are not known: acidity reads “at least” wherever it is poured."
        )
        if juice.ph is not None:
            doubts.append("A pH alone does not tell how much acid there is.")
    elif juice.ph is None:
        doubts.append(
            "Without its pH, what binds part of its acids is not known, and neither is the pH of a mixture."
        )
    if not isinstance(juice.sugars_like, RawIngredient):
        doubts.append(
            "All that is dissolved beside the acids is taken as sugars: a little less is (minerals, pectin)."
        )
    return doubts


def _dissolved(masses: Floats) -> float:
    total = float(np.add.accumulate(masses)[-1])
    return total - float(masses[WATER]) - float(masses[INSOLUBLE])
