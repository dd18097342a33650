"""A step written as one line, taken into the model: its items found, its measurement weighed against the computed value."""

from collections.abc import Callable
from dataclasses import replace

from msgspec import structs

from washline.document.commands import labels, steps
from washline.document.commands.command import Command, in_turn, next_id
from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.step import (
    Adjust,
    AnyStep,
    Blend,
    Dry,
    Evaporate,
    Ferment,
    FermentKind,
    Goal,
    Heat,
    Infuse,
    Measurable,
    Measurement,
    Muddle,
    Note,
    Per,
    Portion,
    Reduce,
    Rest,
    Strain,
    Take,
    Wash,
    WashKind,
    Weight,
)
from washline.presentation import kitchen_words as kitchen
from washline.presentation.measuring import FAR_SIGMAS, QUANTITIES, likely_causes, usual_uncertainty
from washline.presentation.step_details import time_words
from washline.quantity.amount_text import TypedAmount
from washline.quantity.formatting import (
    UNIT_SPACE,
    NumberStyle,
    format_number,
    format_range,
    format_trimmed,
)
from washline.quantity.typed_step import (
    TypedAdjustment,
    TypedEvaporation,
    TypedFerment,
    TypedInfusion,
    TypedMeasurement,
    TypedPortion,
    TypedStep,
    TypedStrain,
    TypedTake,
    TypedWash,
)
from washline.ui.build.bar_steps import made_bar_step
from washline.ui.build.edits import line_amount
from washline.ui.build.meaning import NotUnderstood, Understood
from washline.ui.build.place import NEW_IDS, Made, Place, found_item, manner

_KINDS: dict[str, type[AnyStep]] = {
    "blend": Blend,
    "muddle": Muddle,
    "rest": Rest,
    "note": Note,
    "heat": Heat,
    "reduce": Reduce,
    "dry": Dry,
}
_EVAPORATIONS: dict[str, type[Heat | Reduce | Dry]] = {"heat": Heat, "reduce": Reduce, "dry": Dry}
NOTHING_SOUR = "Expected what is added, such as citric + malic 2:3 as sour as lime juice."


def written_step(place: Place, typed: TypedStep) -> Understood | NotUnderstood:
    """Putting in a step that was written out."""
    made = made_step(place, typed)
    if isinstance(made, NotUnderstood):
        return made
    other = written_step(place, typed.alternative) if typed.alternative is not None else None
    return Understood(
        adding(place.build_id, place.after, made),
        labels.adding_step(made.word),
        made.meaning,
        made.aside,
        other if isinstance(other, Understood) else None,
    )


def adding(build_id: int, after: int | None, made: Made) -> Command:
    """Puts in a step behind another one (``None``: at the end), with what it leaves over."""
    put = steps.add_step(build_id, made.step, after, made.leftover)
    if made.leftover_g is None:
        return put

    def command(book: HouseBook) -> HouseBook:
        step_id = next_id(book)
        weigh = steps.set_step(build_id, step_id, leftover_weighed_g=made.leftover_g)
        return in_turn(put, weigh)(book)

    return command


def made_step(place: Place, typed: TypedStep) -> Made | NotUnderstood:
    """The step of the model that a written one is."""
    made = made_bar_step(place, typed)
    if made is not None:
        return made
    makers: tuple[tuple[type[TypedStep], Callable[..., Made | NotUnderstood]], ...] = (
        (TypedInfusion, _infusion),
        (TypedWash, _wash),
        (TypedStrain, _strain),
        (TypedEvaporation, _evaporation),
        (TypedFerment, _ferment),
        (TypedAdjustment, _adjustment),
        (TypedMeasurement, _measurement),
        (TypedTake, _take),
    )
    for kind, maker in makers:
        if isinstance(typed, kind):
            return maker(place, typed)
    return _work(place, typed)


def _manner_words(typed: TypedStep, style: NumberStyle) -> list[str]:
    time = UNIT_SPACE.join(time_words(typed.duration_s, style)).strip(UNIT_SPACE)
    degrees = ""
    if typed.low_c is not None and typed.high_c is not None:
        whole = float(typed.low_c).is_integer() and float(typed.high_c).is_integer()
        degrees = format_range(typed.low_c, typed.high_c, 0 if whole else 1, "°C", style)
    return [part for part in (time, degrees, typed.words) if part]


def _meaning(typed: TypedStep, style: NumberStyle, *parts: str) -> str:
    return ", ".join(part for part in (*parts, *_manner_words(typed, style)) if part)


def _work(place: Place, typed: TypedStep) -> Made | NotUnderstood:
    step = _KINDS[typed.kind](**manner(typed))  # type: ignore[arg-type]
    return Made(step, typed.kind, _meaning(typed, place.style, typed.kind))


def _infusion(place: Place, typed: TypedInfusion) -> Made | NotUnderstood:
    item_id = found_item(place, typed.line.name)
    if isinstance(item_id, NotUnderstood):
        return item_id
    line_typed = typed.line.amount
    if typed.line.multiplied_by != 1.0:
        line_typed = replace(line_typed, number=line_typed.number * typed.line.multiplied_by, typed="")
    amount = line_amount(place.book, place.build_id, item_id, line_typed)
    if isinstance(amount, NotUnderstood):
        return amount
    given = {kitchen.GIVEN_FIELDS[group]: share for group, share in typed.given_pct.items()}
    if any(not 0.0 <= share <= 100.0 for share in given.values()):
        return NotUnderstood("Expected shares between 0 and 100 %, such as gives 60 % of its salt.")
    step = Infuse(
        **manner(typed),  # type: ignore[arg-type]
        item_id=item_id,
        amount=amount,
        temperature_c=typed.line.temperature_c,
        weight=Weight(typed.line.weight or "used"),
        bought_g=typed.line.bought_g,
        **given,  # type: ignore[arg-type]
    )
    what = f"{format_trimmed(amount.number, 3, place.style)}{UNIT_SPACE}{amount.unit} {kitchen.named(place.book, item_id)}"
    return Made(
        step,
        "infusion",
        _meaning(typed, place.style, f"infuse {what}"),
        kitchen.given_words(step, place.style),
    )


def _wash(place: Place, typed: TypedWash) -> Made:
    step = Wash(**manner(typed), kind=WashKind(typed.washes))  # type: ignore[arg-type]
    name = kitchen.WASH_NAMES[step.kind]
    return Made(step, name, _meaning(typed, place.style, name))


def _strain(place: Place, typed: TypedStrain) -> Made:
    step = Strain(
        **manner(typed),  # type: ignore[arg-type]
        way=typed.way,
        weighed_g=typed.weighed_g,
        expected_pct=typed.expected_pct,
        low_pct=typed.low_pct,
        high_pct=typed.high_pct,
    )
    number = format_trimmed(
        typed.weighed_g if typed.weighed_g is not None else typed.expected_pct, 3, place.style
    )
    told = ""
    if typed.weighed_g is not None:
        told = f"{number}{UNIT_SPACE}g weighed"
    elif typed.expected_pct is not None:
        told = f"expected {number}{UNIT_SPACE}% of the vessel"
    meaning = _meaning(typed, place.style, kitchen.strain_name(step), told)
    leftover = typed.leftover or "leftover"
    return Made(step, kitchen.strain_name(step), meaning, "", leftover, typed.leftover_g)


def _evaporation(place: Place, typed: TypedEvaporation) -> Made:
    kind = _EVAPORATIONS[typed.kind]
    step: Heat | Reduce | Dry = kind(
        **manner(typed),  # type: ignore[arg-type]
        final_g=typed.final_g,
        final_pct=typed.final_pct,
        final_brix=typed.final_brix,
        ethanol_kept_pct=typed.ethanol_kept_pct,
    )
    return Made(
        step, typed.kind, _meaning(typed, place.style, f"{typed.kind} {end_words(step, place.style)}".strip())
    )


def end_words(step: Evaporate, style: NumberStyle) -> str:
    """How far an evaporation goes: *to 400 g*, *to 42 % of its mass*, *to 50 °Bx*."""
    if step.final_g is not None:
        return f"to {format_trimmed(step.final_g, 3, style)}{UNIT_SPACE}g"
    if step.final_pct is not None:
        return f"to {format_trimmed(step.final_pct, 3, style)}{UNIT_SPACE}% of its mass"
    return "" if step.final_brix is None else f"to {format_trimmed(step.final_brix, 3, style)}{UNIT_SPACE}°Bx"


def _ferment(place: Place, typed: TypedFerment) -> Made:
    step = Ferment(
        **manner(typed),  # type: ignore[arg-type]
        kind=FermentKind(typed.ferments),
        gas_lost_g=typed.gas_lost_g,
        final_acidity_pct=typed.final_acidity_pct,
        final_brix=typed.final_brix,
        final_ph=typed.final_ph,
        discard_above_ph=typed.discard_above_ph,
        discard_on_day=typed.discard_on_day,
    )
    told = kitchen.ferment_words(step, None, place.style)
    return Made(step, "ferment", _meaning(typed, place.style, kitchen.ferment_name(step), *told))


def _adjustment(place: Place, typed: TypedAdjustment) -> Made | NotUnderstood:
    portions = found_portions(place, typed.portions)
    if isinstance(portions, NotUnderstood):
        return portions
    like_id = found_item(place, typed.like) if typed.like else None
    if isinstance(like_id, NotUnderstood):
        return like_id
    step = Adjust(
        **manner(typed),  # type: ignore[arg-type]
        goal=Goal(typed.goal),
        value=typed.value,
        per=Per.VOLUME if typed.is_by_volume else Per.MASS,
        like_item_id=like_id,
        portions=portions,
    )
    text, unit = kitchen.goal_words(place.book, step, place.style)
    what = kitchen.portions_text(place.book, step, place.style)
    return Made(step, "adjustment", f"{what} {text} {unit}")


def found_portions(place: Place, typed: tuple[TypedPortion, ...]) -> tuple[Portion, ...] | NotUnderstood:
    """The items of portions; where none was named (*as sour as lime juice*) the house's citric acid."""
    if not typed:
        typed = (TypedPortion("citric", 1.0),)
        if isinstance(found_item(place, "citric"), NotUnderstood):
            return NotUnderstood(NOTHING_SOUR)
    portions: list[Portion] = []
    for portion in typed:
        item_id = found_item(place, portion.name)
        if isinstance(item_id, NotUnderstood):
            return item_id
        if any(one.item_id == item_id for one in portions):
            return NotUnderstood(f"{kitchen.named(place.book, item_id)} stands there twice.")
        portions.append(Portion(item_id, portion.parts))
    return tuple(portions)


def _measurement(place: Place, typed: TypedMeasurement) -> Made:
    step = Measurement(
        **manner(typed),  # type: ignore[arg-type]
        quantity=Measurable(typed.quantity),
        value=typed.value,
        instrument=typed.instrument,
        uncertainty=typed.uncertainty,
    )
    step, aside = weighed_against(place, step)
    return Made(step, "measurement", measured_words(step, place.style), aside)


def measured_words(step: Measurement, style: NumberStyle) -> str:
    """What was measured: *°Bx 6.6, refractometer ± 0.2*."""
    quantity = QUANTITIES[step.quantity]
    value = format_trimmed(step.value, 4, style)
    unit = f"{UNIT_SPACE}{quantity.unit}" if quantity.unit else ""
    name = f"{quantity.name} " if quantity.unit != quantity.name else ""
    return ", ".join(part for part in (f"{name}{value}{unit}", kitchen.measured_with(step, style)) if part)


def weighed_against(place: Place, step: Measurement) -> tuple[Measurement, str]:
    """A measurement with the share of the difference that the vessel takes over, found from both uncertainties, and what
    it was weighed against, in words. Where no uncertainty is given, that of the instrument in practice is taken."""
    if step.uncertainty is None:
        usual = usual_uncertainty(step.quantity, step.value, step.instrument)
        step = structs.replace(step, uncertainty=usual)
    if place.workings is None:
        return step, ""
    found = place.workings.reconcile(place.build_id, place.after, step.quantity, step.value, step.uncertainty)
    sigmas = found.residual_sigmas
    if sigmas is None or found.computed != found.computed:
        return structs.replace(step, gain=1.0), "nothing to compare it with was computed"
    decimals = QUANTITIES[step.quantity].decimals
    computed = format_number(found.computed, decimals, place.style)
    share = format_number(100.0 * found.gain, 0, place.style)
    words = f"computed {computed}, {share}{UNIT_SPACE}% of the difference counts"
    if abs(sigmas) > FAR_SIGMAS:
        away = format_number(abs(sigmas), 1, place.style)
        words = (
            f"computed {computed}: {away}{UNIT_SPACE}σ off; likely {likely_causes(step.quantity, sigmas)[0]}"
        )
    return structs.replace(step, gain=min(1.0, max(0.0, found.gain))), words


def _take(place: Place, typed: TypedTake) -> Made | NotUnderstood:
    amount = _taken(typed.amount)
    words = f"take {format_trimmed(amount.number, 3, place.style)}{UNIT_SPACE}{amount.unit}"
    return Made(
        Take(**NEW_IDS, amount=amount),  # type: ignore[arg-type]
        "take",
        f"{words}{' as ' if typed.leftover else ''}{typed.leftover}",
        "",
        typed.leftover,
    )


def _taken(typed: TypedAmount) -> Amount:
    if typed.basis == "percent":
        return Amount(typed.number, "%", Basis.PERCENT_OF_VESSEL, typed=typed.typed)
    return Amount(typed.number, typed.unit or "g", typed=typed.typed)
