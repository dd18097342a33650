"""A raw ingredient from what stands on its label.

What is not told stays not known. A label tells grams in 100 g or in 100 ml; in 100 ml the water is solved so that the
volume is right, and the density follows.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from washline.chemistry import energy, mixture
from washline.chemistry.arrays import Floats
from washline.chemistry.components import (
    CO2,
    COMPONENT_COUNT,
    ETHANOL,
    FAT,
    NACL,
    OTHER_CARBOHYDRATE,
    OTHER_SOLIDS,
    PROTEIN,
    SUCROSE,
    WATER,
)
from washline.model.item import RawIngredient
from washline.presentation.entry_parts import (
    SugarsLike,
    Understood,
    put_sugars,
    solved_for,
    sugar_lines,
    sum_line,
)
from washline.problem import UserError

NOT_TOLD_G = 1.0
"""Grams in 100 g that a label may leave out (acids, minerals, fibre), where its energy does not tell: our assumption."""

ACID_KJ_PER_G = 13.0
"""Organic acids, Regulation (EU) 1169/2011, Annex XIV."""

KJ_PER_KCAL = 4.184
GROSS_DIFFERENCE = 0.2
_LEAST_KJ = 4.0


class Per(StrEnum):
    """What the grams of a label are in."""

    ML = "100 ml"
    G = "100 g"


@dataclass(frozen=True, slots=True)
class Label:
    """What a label tells, in g per 100 ml or 100 g; ``None`` is not on it. Energy is a check and in kJ.

    ``sugars_like`` says of which kind the sugars are: nobody knows, all sucrose, or as in a known ingredient.
    """

    name: str = ""
    per: Per = Per.ML
    energy_kj: float | None = None
    fat: float | None = None
    carbohydrate: float | None = None
    sugars: float | None = None
    protein: float | None = None
    salt: float | None = None
    strength_pct_vol: float | None = None
    gas_g_per_l: float | None = None
    sugars_like: SugarsLike | RawIngredient = SugarsLike.UNKNOWN


def from_label(label: Label) -> Understood:
    """What a label means. Raises ``UserError`` for figures that cannot be together."""
    _check_label(label)
    not_told = _not_told(label)
    masses = _in_a_litre(label, not_told) if label.per is Per.ML else _in_a_kilogram(label, not_told)
    total = float(np.add.accumulate(masses)[-1])
    density = float(mixture.density_g_per_ml(masses[:, None])[0])
    parts = _parts_of_label(label, masses / total * 100.0)
    fields: dict[str, object] = {
        "composition": parts,
        "strength_pct_vol": label.strength_pct_vol,
        "co2_g_per_l": label.gas_g_per_l,
        "source": f"its label, per {label.per}",
        "source_kind": "label",
        "form": "liquid",
    }
    if label.gas_g_per_l:
        fields["density_g_per_ml"] = round(density, 4)
    lines = (
        (
            "Density",
            f"{density:.3f} g/ml, solved on the model" if label.per is Per.ML else f"{density:.3f} g/ml",
        ),
        ("Adds up to", sum_line(parts)),
        *_energy_lines(label),
        *sugar_lines(label.sugars, label.sugars_like),
    )
    return Understood(fields, lines, tuple(_label_doubts(label)))


def _check_label(label: Label) -> None:
    told = (label.fat, label.carbohydrate, label.sugars, label.protein, label.salt)
    if all(one is None for one in told) and label.strength_pct_vol is None:
        raise UserError("Nothing of the label is entered yet.", remedy="Enter its sugars, or its strength.")
    if any(one is not None and not 0.0 <= one <= 200.0 for one in told):
        raise UserError(f"Grams in {label.per} must lie from 0 to 200.")
    if label.strength_pct_vol is not None and not 0.0 <= label.strength_pct_vol <= 100.0:
        raise UserError("A strength lies from 0 to 100 % vol.")
    if label.sugars is not None and label.carbohydrate is not None and label.sugars > label.carbohydrate:
        raise UserError(
            f"The sugars, {label.sugars:g} g, are more than the carbohydrate, {label.carbohydrate:g} g.",
            "On a label sugars are part of the carbohydrate.",
            "Check the two figures.",
        )


def _not_told(label: Label) -> float:
    """Grams of what the label leaves out: as acids, by the energy that its figures do not bring, else an assumption."""
    gap = energy_gap_kj(label)
    if gap is None:
        return NOT_TOLD_G
    return max(NOT_TOLD_G, gap / ACID_KJ_PER_G) if gap > rounding_kj(label) else NOT_TOLD_G


def _solutes(label: Label, not_told: float) -> Floats:
    """Grams of all but water and ethanol in 100 of what the label is per; what is not told counts as other solids."""
    solutes = np.zeros(COMPONENT_COUNT)
    for part, grams in ((FAT, label.fat), (PROTEIN, label.protein), (NACL, label.salt)):
        solutes[part] = grams or 0.0
    # What kind of sugar it is moves the volume by less than the label is rounded.
    solutes[SUCROSE] = label.sugars or 0.0
    solutes[OTHER_CARBOHYDRATE] = (
        (label.carbohydrate or 0.0) - (label.sugars or 0.0) if label.carbohydrate else 0.0
    )
    solutes[OTHER_SOLIDS] = not_told
    return solutes


def _in_a_litre(label: Label, not_told: float) -> Floats:
    solutes = _solutes(label, not_told) * 10.0
    masses = mixture.composition_from_label(label.strength_pct_vol or 0.0, solutes[:, None])[:, 0]
    if np.isnan(masses).any():
        raise UserError(
            "So much does not go into 100 ml.",
            "What is dissolved and the alcohol leave no room for water.",
            f"Is the label per {Per.G}?",
        )
    return masses


def _in_a_kilogram(label: Label, not_told: float) -> Floats:
    masses = _solutes(label, not_told) * 10.0
    rest = 1000.0 - float(np.add.accumulate(masses)[-1])
    if rest < -15.0:
        raise UserError(
            f"The figures add up to {(1000.0 - rest) / 10.0:.1f} g in 100 g.", remedy="Check them."
        )
    if rest < 0.0:
        # A dry product: what is not told has no room.
        masses[OTHER_SOLIDS] = max(0.0, masses[OTHER_SOLIDS] + rest)
        rest = max(0.0, 1000.0 - float(np.add.accumulate(masses)[-1]))
    wanted = label.strength_pct_vol or 0.0
    masses[WATER] = rest
    if wanted <= 0.0:
        return masses
    masses[WATER], masses[ETHANOL] = 0.0, rest
    if float(mixture.strength_pct_vol(masses[:, None])[0]) < wanted:
        raise UserError(f"{wanted:g} % vol do not go into it: the other figures leave no room.")

    def strength(ethanol: float) -> float:
        masses[ETHANOL], masses[WATER] = ethanol, rest - ethanol
        return float(mixture.strength_pct_vol(masses[:, None])[0])

    solved_for(strength, wanted, 0.0, rest)
    return masses


def _parts_of_label(label: Label, per_100_g: Floats) -> tuple[float | None, ...]:
    """The composition with what the label does not tell left open; its grams are then of unknown kind."""
    parts: list[float | None] = [None] * COMPONENT_COUNT
    parts[CO2] = 0.0
    parts[WATER] = round(float(per_100_g[WATER]), 4)
    for part, told in (
        (FAT, label.fat),
        (PROTEIN, label.protein),
        (NACL, label.salt),
        (ETHANOL, label.strength_pct_vol),
    ):
        if told is not None:
            parts[part] = round(float(per_100_g[part]), 4)
    if label.carbohydrate is not None and label.sugars is not None:
        parts[OTHER_CARBOHYDRATE] = round(float(per_100_g[OTHER_CARBOHYDRATE]), 4)
    if label.sugars is not None:
        put_sugars(parts, float(per_100_g[SUCROSE]), label.sugars_like)
    return tuple(parts)


def energy_gap_kj(label: Label) -> float | None:
    """kJ that the label states beyond what its own figures bring; ``None`` where it states none or no carbohydrate."""
    if label.energy_kj is None or (label.carbohydrate is None and label.sugars is None):
        return None
    return label.energy_kj - told_kj(label)


def told_kj(label: Label) -> float:
    """kJ that the figures of a label bring, in 100 of what it is per."""
    masses = np.zeros(COMPONENT_COUNT)
    masses[SUCROSE] = label.carbohydrate if label.carbohydrate is not None else label.sugars or 0.0
    masses[FAT], masses[PROTEIN] = label.fat or 0.0, label.protein or 0.0
    if label.strength_pct_vol:
        if label.per is Per.ML:
            masses[ETHANOL] = label.strength_pct_vol * 0.78924
        else:
            masses[ETHANOL] = _in_a_kilogram(label, NOT_TOLD_G)[ETHANOL] / 10.0
    return float(energy.energy_kj(masses[:, None])[0])


def rounding_kj(label: Label) -> float:
    """How far energy and figures of a label can differ by rounding: figures to 0.1 g, from 10 g on to 1 g; energy to 1 kJ
    (guidance of the Commission on tolerances, December 2012, from memory)."""
    factors = energy.energy_factors(energy.KILOJOULE)
    told = label.carbohydrate if label.carbohydrate is not None else label.sugars
    slack = 0.5
    for grams, factor in ((told, "carb"), (label.fat, "fat"), (label.protein, "protein")):
        if grams is not None:
            slack += (0.5 if grams >= 10.0 else 0.05) * factors[factor]
    return max(slack, _LEAST_KJ)


def _energy_lines(label: Label) -> tuple[tuple[str, str], ...]:
    gap = energy_gap_kj(label)
    if gap is None:
        return (
            (
                "Left out",
                f"up to {NOT_TOLD_G:g} g in {label.per}, assumed: acids and minerals are on no label",
            ),
        )
    told = told_kj(label)
    head = f"label {label.energy_kj:.0f} kJ, figures {told:.0f} kJ"
    if abs(gap) <= rounding_kj(label):
        return (("Energy", f"{head}: they agree"),)
    if gap > 0:
        return (
            (
                "Energy",
                f"{head}: {gap:.0f} kJ more may be {gap / ACID_KJ_PER_G:.1f} g of acids, counted as not known",
            ),
        )
    return (("Energy", f"{head}: {-gap:.0f} kJ less"),)


def _label_doubts(label: Label) -> list[str]:
    doubts = []
    gap = energy_gap_kj(label)
    if gap is not None and abs(gap) > max(rounding_kj(label), GROSS_DIFFERENCE * (label.energy_kj or 0.0)):
        why = (
            "Is it kJ and not kcal, and no figure missing?"
            if gap > 0
            else "Is a figure too high, or is it kcal?"
        )
        doubts.append(f"The energy does not fit the figures. {why}")
    if label.sugars is None:
        doubts.append("Without its sugars, sweetness reads “at least” wherever this is poured.")
    if label.strength_pct_vol is None:
        doubts.append(
            "Without its strength, alcohol reads “at least” wherever this is poured; type 0 if it has none."
        )
    return doubts
