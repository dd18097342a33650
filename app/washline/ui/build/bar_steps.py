"""Written steps of the bar as steps of the model: chilling, straining, rinsing, floating, garnishing, carbonating."""

from dataclasses import replace

from washline.model.amount import Amount, Basis
from washline.model.step import (
    AnyStep,
    BarStrain,
    BarStrainWay,
    Carbonate,
    Chill,
    ChillBy,
    Garnish,
    GarnishWay,
    IceState,
    Rinse,
    Smoke,
    Top,
)
from washline.presentation.bar_lines import bar_line
from washline.quantity.line_text import TypedLine
from washline.quantity.names import fold
from washline.quantity.typed_step import (
    TypedBarStrain,
    TypedCarbonation,
    TypedChill,
    TypedFloat,
    TypedGarnish,
    TypedRinse,
    TypedStep,
)
from washline.ui.build.edits import NOT_A_SHARE, NOT_TO_A_MARK, line_amount
from washline.ui.build.meaning import NotUnderstood
from washline.ui.build.place import NEW_IDS, Made, Place, found_item, manner


def made_bar_step(place: Place, typed: TypedStep) -> Made | NotUnderstood | None:
    """The step of the bar that a written one is; ``None`` for one of the kitchen."""
    match typed:
        case TypedChill():
            return _made(place, _chill(place, typed), "chill")
        case TypedBarStrain():
            return _made(place, _strain(typed), "fine strain" if typed.way == "fine" else "strain")
        case TypedRinse():
            return _rinse(place, typed)
        case TypedFloat():
            return _float(place, typed)
        case TypedGarnish():
            return _garnish(place, typed)
        case TypedCarbonation():
            return _made(place, _carbonation(typed), "carbonation")
        case TypedStep(kind="smoke"):
            return _made(place, Smoke(**manner(typed)), "smoke")  # type: ignore[arg-type]
    return None


def _made(place: Place, step: AnyStep, word: str) -> Made:
    """A step with its line as it would be typed again: what is shown is what was understood."""
    return Made(step, word, bar_line(step, place.book, place.style))


def _chill(place: Place, typed: TypedChill) -> Chill:
    methods = place.book.methods
    fields = manner(typed)
    slug = typed.method
    words = typed.words
    if not slug:
        named = [key for key, one in methods.items() if words and fold(words) in fold(one.name)]
        slug = named[0] if named else "stir" if "stir" in methods else next(iter(sorted(methods)), "stir")
        words = "" if named else words
    elif words:
        # On a paper the words of a chill stand in the place of its method's name.
        words = f"{typed.said} {words}"
    fields["words"] = words
    return Chill(
        **fields,  # type: ignore[arg-type]
        method=slug,
        ice=typed.ice,
        ice_g=typed.ice_g,
        ice_state=IceState(typed.ice_state),
        ice_c=typed.ice_c,
        vessel_c=typed.vessel_c,
        by=ChillBy(typed.by),
        count=typed.count,
        count_unit=typed.count_unit,
        melted_g=typed.melted_g,
        final_g=typed.final_g,
        final_ml=typed.final_ml,
        end_c=typed.end_c,
    )


def _strain(typed: TypedBarStrain) -> BarStrain:
    return BarStrain(
        **manner(typed),  # type: ignore[arg-type]
        way=BarStrainWay(typed.way),
        held_back_ml=typed.held_back_ml,
        fresh_ice=typed.fresh_ice,
        fresh_ice_g=typed.fresh_ice_g,
        vessel_c=typed.vessel_c,
    )


def _carbonation(typed: TypedCarbonation) -> Carbonate:
    return Carbonate(
        **manner(typed),  # type: ignore[arg-type]
        vessel=typed.vessel,
        over_kpa=typed.over_kpa,
        at_c=typed.at_c,
        co2_g_per_l=typed.co2_g_per_l,
        reached_pct=typed.reached_pct,
        fills=typed.fills,
        warmest_c=typed.warmest_c,
        opening_loss_pct=typed.opening_loss_pct,
    )


def _rinse(place: Place, typed: TypedRinse) -> Made | NotUnderstood:
    found = _item_and_amount(place, typed.line)
    if isinstance(found, NotUnderstood):
        return found
    item_id, amount = found
    if amount.basis is not Basis.ABSOLUTE:
        return NotUnderstood("A rinse is so many ml, not a share and not a mark.")
    step = Rinse(
        **NEW_IDS,  # type: ignore[arg-type]
        item_id=item_id,
        amount=amount,
        film_ml=typed.film_ml,
        temperature_c=typed.line.temperature_c,
    )
    return _made(place, step, "rinse")


def _float(place: Place, typed: TypedFloat) -> Made | NotUnderstood:
    found = _item_and_amount(place, typed.line)
    if isinstance(found, NotUnderstood):
        return found
    item_id, amount = found
    step = Top(
        **NEW_IDS,  # type: ignore[arg-type]
        item_id=item_id,
        amount=amount,
        temperature_c=typed.line.temperature_c,
        is_layer=True,
    )
    return _made(place, step, "float")


def _garnish(place: Place, typed: TypedGarnish) -> Made | NotUnderstood:
    found = _item_and_amount(place, typed.line)
    if isinstance(found, NotUnderstood):
        return found
    item_id, amount = found
    if amount.basis is not Basis.ABSOLUTE:
        return NotUnderstood(NOT_TO_A_MARK if "to" in amount.basis.value else NOT_A_SHARE)
    way = GarnishWay(typed.way)
    step = Garnish(**NEW_IDS, item_id=item_id, amount=amount, way=way, stays_g=typed.stays_g)  # type: ignore[arg-type]
    made = _made(place, step, "peel" if way is GarnishWay.EXPRESS else way.value)
    return made if made.meaning else replace(made, meaning=f"garnish, {typed.line.typed.strip()}")


def _item_and_amount(place: Place, line: TypedLine) -> tuple[int, Amount] | NotUnderstood:
    item_id = found_item(place, line.name)
    if isinstance(item_id, NotUnderstood):
        return item_id
    typed = line.amount
    if line.multiplied_by != 1.0:
        typed = replace(typed, number=typed.number * line.multiplied_by, typed="")
    amount = line_amount(place.book, place.build_id, item_id, typed)
    return amount if isinstance(amount, NotUnderstood) else (item_id, amount)
