"""Evaluators of what a liquid keeps by: pH, water activity and freezing point."""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from washline.chemistry import charge_balance, freezing, water_activity
from washline.chemistry.acidity import other_acid_equivalent_g_per_mol
from washline.chemistry.arrays import Floats
from washline.chemistry.coefficients import keys, value
from washline.chemistry.components import TABLE
from washline.cli import check_units
from washline.cli.check_found import Evaluator, Found, found_at, found_in
from washline.cli.check_inputs import InputError, Inputs, Liquid

_ACIDS_OF_NO_COMPONENT = ("c_formic", "c_hcl")
_WITHOUT_MOLECULES = ("water", "protein", "pectin", "fat", "insoluble", "co2")


class _Gives(NamedTuple):
    """What one mol of a solute puts into a charge balance: an acid, mol of charge on its cations, mol of neutral salt."""

    acid: str
    cations: float
    salts: float


_SALTS: Mapping[str, _Gives] = {
    "nacl": _Gives("", 0.0, 1.0),
    "kcl": _Gives("", 0.0, 1.0),
    "nahco3": _Gives("carbonic", 1.0, 0.0),
    "k2co3": _Gives("carbonic", 2.0, 0.0),
    "kh2po4": _Gives("phosphoric", 1.0, 0.0),
    "trisodium_citrate_2h2o": _Gives("citric", 3.0, 0.0),
    "co2": _Gives("carbonic", 0.0, 0.0),
}


def _gives(name: str) -> _Gives:
    if name in _SALTS:
        return _SALTS[name]
    return _Gives(name if name in keys("pKa") else "", 0.0, 0.0)


def _mol(name: str, mass_g: float) -> float:
    if name == "other_acid":
        return mass_g / other_acid_equivalent_g_per_mol("unnamed")
    return mass_g / value("molar_mass", name)


def _one(number: float) -> Floats:
    return np.array([number])


def _ph(inputs: Inputs) -> Found:
    """Acids and salts of a litre with its strong cation (``cation``, mol/L; less strong anion), by charge balance."""
    liquid = inputs.liquid(beside=_ACIDS_OF_NO_COMPONENT)
    litres = liquid.volume_ml(20.0) * 0.001
    formic, hydrochloric = (inputs.number(name, 0.0, lowest=0.0) for name in _ACIDS_OF_NO_COMPONENT)
    acids, cations, salts = {"formic": formic}, inputs.number("cation", 0.0) - hydrochloric, 0.0
    for name, mass_g in liquid.grams_by_name().items():
        gives = _gives(name)
        if gives == _Gives("", 0.0, 0.0):
            continue
        mol_per_l = _mol(name, mass_g) / litres
        if gives.acid:
            acids[gives.acid] = acids.get(gives.acid, 0.0) + mol_per_l
        cations, salts = cations + gives.cations * mol_per_l, salts + gives.salts * mol_per_l
    strength = liquid.strength_pct_vol()
    found = charge_balance.ph_of_solution(
        tuple(acids), np.array([[mol] for mol in acids.values()]), _one(cations), _one(salts), _one(strength)
    )
    ph, ionic_strength = float(found.ph[0]), float(found.ionic_strength_mol_per_l[0])
    return found_in(ph, liquid, ph=ph, ionic_strength_mol_per_l=ionic_strength)


def _molalities(liquid: Liquid, group: str, is_salt_taken: bool) -> dict[str, float]:
    """mol per kg of water by solute; ``InputError`` for a solute that the group of the tables does not hold."""
    stand_ins = {component.key: component.solute_key or component.key for component in TABLE}
    grams = liquid.grams_by_name()
    if grams["water"] <= 0.0:
        raise InputError("there is no water")
    found: dict[str, float] = {}
    for name, mass_g in grams.items():
        solute = stand_ins.get(name, name)
        if solute in _WITHOUT_MOLECULES:
            continue
        if solute not in keys(group) and not (is_salt_taken and solute in water_activity.SALTS):
            raise InputError(f"what '{name}' does to the water is not known here")
        mol_per_kg = mass_g * 1000.0 / (value("molar_mass", solute) * grams["water"])
        found[solute] = found.get(solute, 0.0) + mol_per_kg
    return found


def _column(molalities: Mapping[str, float]) -> Floats:
    return np.array([[molality] for molality in molalities.values()]).reshape(-1, 1)


def _water_activity(inputs: Inputs) -> Found:
    liquid = inputs.liquid()
    molalities = _molalities(liquid, "norrish_K", is_salt_taken=True)
    activity = water_activity.water_activity_of_solutes(tuple(molalities), _column(molalities)).item()
    return found_in(activity, liquid, water_activity=activity)


def _water_activity_molal(solute: str) -> Evaluator:
    def find(inputs: Inputs) -> Found:
        molality = np.array([[inputs.number("m", lowest=0.0)]])
        activity = water_activity.water_activity_of_solutes((solute,), molality).item()
        return found_at(activity, water_activity=activity)

    return Evaluator(find, check_units.WATER_ACTIVITY, "water_activity")


def _freezing_point(inputs: Inputs) -> Found:
    liquid = inputs.liquid()
    molalities = _molalities(liquid, "osm_nu", is_salt_taken=False)
    osmolality = (
        freezing.osmolality_of_solutes(tuple(molalities), _column(molalities)) if molalities else _one(0.0)
    )
    celsius = freezing.freezing_point_from_osmolality(osmolality).item()
    limits = {f"molality_{solute}": molality for solute, molality in molalities.items()}
    return found_in(celsius, liquid, freezing_point_c=celsius, **limits)


EVALUATORS: Mapping[str, Evaluator] = {
    "ph": Evaluator(_ph, check_units.PH, "ph"),
    "aw": Evaluator(_water_activity, check_units.WATER_ACTIVITY, "water_activity"),
    "aw_nacl_molal": _water_activity_molal("nacl"),
    "aw_sucrose_molal": _water_activity_molal("sucrose"),
    "freezing_point": Evaluator(_freezing_point, check_units.TEMPERATURE, "freezing_point"),
    "freezing_point_label": Evaluator(_freezing_point, check_units.TEMPERATURE, "freezing_point"),
}
