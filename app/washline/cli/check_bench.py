"""Evaluators of bench work: gauging of spirits and the ethanol that heating leaves."""

from collections.abc import Mapping

from washline.chemistry import cooking, gauging
from washline.cli import check_units
from washline.cli.check_found import Evaluator, Found, found_at
from washline.cli.check_inputs import InputError, Inputs


def _proof(inputs: Inputs, name: str, lowest: float = 0.0) -> float:
    return inputs.number(name, lowest=lowest, highest=gauging.HIGHEST_PROOF)


def _proofs(inputs: Inputs) -> tuple[float, float]:
    """The proofs of the inputs ``from`` and ``to``; ``InputError`` if the spirit is weaker already."""
    stronger, weaker = _proof(inputs, "from"), _proof(inputs, "to", gauging.LOWEST_PROOF)
    if stronger < weaker:
        raise InputError(f"a spirit of {stronger:g} proof cannot be reduced to {weaker:g}")
    return stronger, weaker


def _water_parts(inputs: Inputs) -> Found:
    return found_at(gauging.water_parts_per_100(_proof(inputs, "proof")))


def _reduce_by_volume(inputs: Inputs) -> Found:
    return found_at(gauging.water_to_reduce_by_volume(*_proofs(inputs)))


def _reduce_by_mass(inputs: Inputs) -> Found:
    return found_at(gauging.water_to_reduce_by_mass(inputs.number("m", lowest=0.0), *_proofs(inputs)))


def _ethanol_retained(inputs: Inputs) -> Found:
    """Percent kept by a ``way`` of heating; only ``simmered`` needs its ``minutes``."""
    way = inputs.text("way")
    if way not in cooking.ways():
        raise InputError(f"input 'way' is '{way}', not one of {', '.join(cooking.ways())}")
    if way != cooking.SIMMERED:
        inputs.number("minutes", 0.0, lowest=0.0)
        return found_at(cooking.ethanol_kept_pct(way, 0.0))
    minutes = inputs.number("minutes", lowest=0.0)
    return found_at(cooking.ethanol_kept_pct(way, minutes), cooking_minutes=minutes)


EVALUATORS: Mapping[str, Evaluator] = {
    "gauge_water_parts": Evaluator(_water_parts, check_units.PARTS_OF_A_HUNDRED, "gauging"),
    "gauge_water_to_reduce_vol": Evaluator(_reduce_by_volume, check_units.PARTS_OF_A_HUNDRED, "gauging"),
    "gauge_water_to_reduce_mass": Evaluator(_reduce_by_mass, check_units.GAUGED_MASS, "gauging"),
    "ethanol_retained": Evaluator(_ethanol_retained, check_units.PERCENT_KEPT, "ethanol_retained"),
}
