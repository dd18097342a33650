"""The steps of a drink in a batch: which wait for service, and what of a step grows with the number of serves."""

from collections.abc import Mapping

from msgspec import structs

from washline.model.amount import Basis
from washline.model.item import Batch, BatchService
from washline.model.step import (
    Add,
    AnyStep,
    BarStrain,
    Chill,
    Garnish,
    Infuse,
    Measurable,
    Measurement,
    Rinse,
    Smoke,
    Take,
    Top,
)
from washline.presentation.batch_plan import BatchFacts, Why

_GROWS = (
    "weighed_g",
    "leftover_weighed_g",
    "final_g",
    "gas_lost_g",
)
"""Fields of steps that are weights of all that is in the vessel."""
_ALWAYS: Mapping[type, Why] = {Rinse: Why.RINSE, Garnish: Why.GARNISH, Smoke: Why.SMOKE}


def waits_for(step: AnyStep, batch: Batch, facts: BatchFacts) -> Why | None:
    """Why a step is left for service; ``None`` for what goes into the batch or is done without there."""
    if type(step) in _ALWAYS:
        return _ALWAYS[type(step)]
    if isinstance(step, Top) and step.is_layer:
        return Why.FLOAT
    if isinstance(step, Add | Infuse | Top):
        if batch.fizz_at_service and step.id in facts.fizzy:
            return Why.FIZZ
        return Why.CITRUS if batch.citrus_at_service and step.id in facts.citrus else None
    if isinstance(step, Chill):
        return Why.ICE if batch.service is BatchService.ON_ICE else None
    if isinstance(step, BarStrain):
        meets_ice = bool(step.fresh_ice) or bool(step.fresh_ice_g)
        return Why.ICE if meets_ice or batch.service is BatchService.ON_ICE else None
    return None


def scaled_step(step: AnyStep, serves: float) -> AnyStep:
    """A step that takes in no line, for so many serves: its weights grow, its percentages and readings stay. What it
    leaves over is no item of the house."""
    grown = {key: getattr(step, key) * serves for key in _GROWS if getattr(step, key, None) is not None}
    if hasattr(step, "leftover_id"):
        grown["leftover_id"] = None
    if isinstance(step, Take) and step.amount.basis is not Basis.PERCENT_OF_VESSEL:
        grown["amount"] = structs.replace(step.amount, number=step.amount.number * serves)
    if isinstance(step, Measurement) and step.quantity in (Measurable.MASS, Measurable.VOLUME):
        sigma = step.uncertainty
        grown |= {"value": step.value * serves, "uncertainty": None if sigma is None else sigma * serves}
    return structs.replace(step, **grown)
