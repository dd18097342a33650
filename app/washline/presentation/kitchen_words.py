"""Words of the steps by which a house makes its own: infusing, washing, straining, fermenting, adjusting, measuring."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from washline.engine.items import edible_yield
from washline.engine.trace import StepTrace
from washline.model.book import HouseBook
from washline.model.step import (
    Add,
    Adjust,
    Ferment,
    FermentKind,
    Goal,
    Infuse,
    Measurable,
    Measurement,
    Per,
    Strain,
    WashKind,
    Weight,
)
from washline.presentation.measuring import FAR_SIGMAS, QUANTITIES, likely_causes
from washline.presentation.strength_words import reading_number
from washline.quantity.formatting import (
    PLUS_MINUS,
    UNIT_SPACE,
    UNKNOWN,
    NumberStyle,
    format_number,
    format_trimmed,
)

WAY_NAMES: Mapping[str, str] = MappingProxyType(
    {
        "press": "press",
        "cloth": "strain through cloth",
        "paper": "strain through paper",
        "fine": "fine strain",
        "spin": "spin",
        "enzyme": "clarify with enzyme",
        "agar": "clarify with agar",
        "freeze-thaw": "clarify by freeze-thaw",
        "milk": "clarify with milk",
        "skim": "skim",
    }
)
"""What a strain is called by its way."""

WASH_NAMES: Mapping[WashKind, str] = MappingProxyType({WashKind.FAT: "fat wash", WashKind.MILK: "milk wash"})

GOAL_NAMES: Mapping[Goal, str] = MappingProxyType(
    {Goal.BRIX: "°Bx", Goal.ACIDITY: "acidity", Goal.STRENGTH: "strength", Goal.SALT: "salt"}
)

GOAL_LIKE: Mapping[Goal, str] = MappingProxyType(
    {Goal.BRIX: "sweet", Goal.ACIDITY: "sour", Goal.STRENGTH: "strong", Goal.SALT: "salty"}
)

WEIGHT_NAMES: Mapping[Weight, str] = MappingProxyType(
    {Weight.USED: "as used", Weight.TRIMMED: "trimmed", Weight.BOUGHT: "as bought"}
)

GIVEN_FIELDS: Mapping[str, str] = MappingProxyType(
    {
        "water": "water_given_pct",
        "sugars": "sugars_given_pct",
        "acids": "acids_given_pct",
        "salt": "salt_given_pct",
        "solids": "solids_given_pct",
    }
)
"""What a solid gives, and the field of an infusion that says how much of it."""


def named(book: HouseBook, item_id: int | None) -> str:
    """The name of an item, or that it is gone."""
    item = book.item(item_id) if item_id is not None else None
    return item.name if item is not None else "deleted item"


def strain_name(step: Strain) -> str:
    """A strain by its way."""
    return WAY_NAMES.get(step.way, step.way or "strain")


def ferment_name(step: Ferment) -> str:
    """A ferment by who ferments."""
    return "ferment, lactic" if step.kind is FermentKind.LACTIC else "ferment, yeast"


def portions_text(book: HouseBook, step: Adjust, style: NumberStyle, *, is_short: bool = False) -> str:
    """What is added, as it is typed: *citric acid + malic acid 2:3*; short names are told only where they are shown."""
    whole = [named(book, portion.item_id) for portion in step.portions]
    short = [name.split(",")[0] for name in whole]
    names = " + ".join(short if is_short and len(short) > 1 and len(set(short)) == len(short) else whole)
    if len(step.portions) < 2:
        return names
    return f"{names} {':'.join(format_trimmed(portion.parts, 3, style) for portion in step.portions)}"


def goal_unit(goal: Goal, per: Per) -> str:
    """The unit in which a goal is said and typed."""
    if goal is Goal.BRIX:
        return "°Bx"
    if goal is Goal.STRENGTH:
        return "% vol"
    if per is Per.VOLUME:
        return f"g/100{UNIT_SPACE}ml {GOAL_NAMES[goal]}"
    return f"% {GOAL_NAMES[goal]}"


def goal_words(book: HouseBook, step: Adjust, style: NumberStyle) -> tuple[str, str]:
    """What an adjustment reaches, and its unit: *to 50*, *°Bx*; *as sour*, *as lime juice*."""
    if step.like_item_id is not None:
        return f"as {GOAL_LIKE[step.goal]}", f"as {named(book, step.like_item_id).split(',')[0]}"
    return f"to {format_trimmed(step.value, 3, style)}", goal_unit(step.goal, step.per)


def found_portions(step: Adjust, trace: StepTrace, style: NumberStyle) -> str:
    """The grams that were found, portion by portion: *= 20.0 + 30.1 g*."""
    grams = [grams for _, grams in trace.portions_g]
    if not grams or step.left_out:
        return ""
    return f"= {' + '.join(format_number(one, 1, style) for one in grams)}{UNIT_SPACE}g"


def bought_words(step: Add | Infuse, trace: StepTrace, book: HouseBook, style: NumberStyle) -> str:
    """How what was bought and what went in hang together: *= 1,200 g trimmed, edible yield 0.90*."""
    if step.left_out or (step.weight is Weight.USED and step.bought_g is None):
        return ""
    used_g = trace.found_g
    bought_g = step.bought_g if step.bought_g is not None else trace.bought_g
    if step.weight is Weight.BOUGHT:
        shown = f"= {_grams(used_g, style)} trimmed"
    elif bought_g is None:
        return "trimmed"
    else:
        shown = f"trimmed, {_grams(bought_g, style)} bought"
    edible = used_g / bought_g if used_g and bought_g else edible_yield(book.item(step.item_id))
    return f"{shown}, edible yield {format_number(edible, 2, style)}"


def _grams(grams: float | None, style: NumberStyle) -> str:
    if grams is None or grams != grams:
        return f"{UNKNOWN}{UNIT_SPACE}g"
    return f"{format_number(grams, 0 if grams >= 1000.0 else 1, style)}{UNIT_SPACE}g"


def given_words(step: Infuse, style: NumberStyle) -> str:
    """What the solid gives, in few words: *gives 55 % of its water, 60 % of its salt*."""
    told = [
        f"{format_trimmed(getattr(step, field), 1, style)}{UNIT_SPACE}% of its {group}"
        for group, field in GIVEN_FIELDS.items()
        if getattr(step, field) is not None
    ]
    return f"gives {', '.join(told)}" if told else "what it gives is not known"


def ferment_words(step: Ferment, ph_after: float | None, style: NumberStyle) -> Sequence[str]:
    """What was measured on a ferment, and the pH after it."""
    told = []
    if step.final_ph is not None:
        told.append(f"pH {format_trimmed(step.final_ph, 2, style)} measured")
    elif ph_after is not None:
        told.append(f"pH {format_number(ph_after, 2, style)} computed")
    if step.gas_lost_g is not None:
        told.append(f"{format_trimmed(step.gas_lost_g, 2, style)}{UNIT_SPACE}g gas")
    if step.final_acidity_pct is not None:
        told.append(f"{format_trimmed(step.final_acidity_pct, 3, style)}{UNIT_SPACE}% acidity")
    if step.final_brix is not None:
        told.append(f"{format_trimmed(step.final_brix, 2, style)}{UNIT_SPACE}°Bx")
    return told


def measured_liquid(step: Strain, style: NumberStyle) -> Sequence[str]:
    """What was measured on a strained liquid."""
    told = []
    if step.measured_brix is not None:
        told.append(f"{format_trimmed(step.measured_brix, 2, style)}{UNIT_SPACE}°Bx measured")
    if step.measured_acidity_pct is not None:
        told.append(f"{format_trimmed(step.measured_acidity_pct, 3, style)}{UNIT_SPACE}% acidity measured")
    return told


def measured_with(step: Measurement, style: NumberStyle) -> str:
    """The instrument of a measurement with its uncertainty: *refractometer ± 0.2*."""
    spread = (
        f"{PLUS_MINUS}{format_trimmed(step.uncertainty, 3, style)}" if step.uncertainty is not None else ""
    )
    return f"{step.instrument}{spread}".strip() if step.instrument else spread.strip()


def computed_words(step: Measurement, trace: StepTrace, style: NumberStyle) -> str:
    """The computed value beside the measured one."""
    if trace.computed is None or step.left_out:
        return ""
    return f"computed {_value(step, trace.computed, style)}"


def _value(step: Measurement, value: float, style: NumberStyle) -> str:
    """A value of what is measured; a strength is never none."""
    key = "strength" if step.quantity is Measurable.STRENGTH else ""
    return reading_number(key, value, QUANTITIES[step.quantity].decimals, style)


def residual_words(step: Measurement, trace: StepTrace, style: NumberStyle) -> str:
    """How far a measured value lies from the computed one, in standard uncertainties, and what the vessel takes over."""
    sigmas = trace.residual_sigmas
    if sigmas is None or sigmas != sigmas or step.left_out:
        return ""
    side = "above" if sigmas > 0.0 else "below"
    away = format_number(abs(sigmas), 1, style)
    told = "as computed" if away in ("0.0", "0,0") else f"{away}{UNIT_SPACE}σ {side} computed"
    if trace.reconciled is None:
        return told
    return f"{told}, counts as {_value(step, trace.reconciled, style)}"


def far_words(step: Measurement, trace: StepTrace, style: NumberStyle) -> str:
    """What to say of a value that lies too far off, with what is likely to have caused it; empty where it does not."""
    sigmas = trace.residual_sigmas
    if step.left_out or sigmas is None or not abs(sigmas) > FAR_SIGMAS:
        return ""
    away = format_number(abs(sigmas), 1, style)
    side = "above" if sigmas > 0.0 else "below"
    causes = ", or ".join(likely_causes(step.quantity, sigmas))
    return f"{away}{UNIT_SPACE}σ {side} computed: {causes} (common practice)."
