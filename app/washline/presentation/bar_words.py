"""What happens at and on the glass, in the words of rows, details and papers: ice, melt, gas, rinses and rims."""

from collections.abc import Iterator
from datetime import date

from washline.engine.trace import StepTrace
from washline.engine.traced_ice import BALANCE, BETWEEN, NONE_MELTS, PUBLISHED, WEIGHED, ChillTrace
from washline.model.book import HouseBook
from washline.model.house import Weighing
from washline.model.step import (
    BarStrain,
    BarStrainWay,
    Carbonate,
    Chill,
    Garnish,
    GarnishWay,
    IceState,
    Rinse,
)
from washline.presentation.house_words import ice_words, vessel_name
from washline.quantity.formatting import (
    UNIT_SPACE,
    UNKNOWN,
    NumberStyle,
    format_number,
    format_trimmed,
    with_unit,
)
from washline.quantity.pressure_text import bar_text

STRAIN_NAMES = {
    BarStrainWay.STRAIN: "strain into the glass",
    BarStrainWay.FINE: "fine strain into the glass",
    BarStrainWay.UNSTRAINED: "pour unstrained",
}
"""What a drink's way into its glass is called in the tree."""

GARNISH_NOTES = {GarnishWay.GARNISH: "", GarnishWay.RIM: "on the rim", GarnishWay.EXPRESS: "expressed"}

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_SMALLEST_FROZEN_PCT = 0.5


def ice_note(book: HouseBook, words: str, grams: float | None, state: IceState, style: NumberStyle) -> str:
    """The ice of a step in few words: *180 g cubes, wet*; empty where nothing was said of it."""
    name = ice_words(book, words)
    weight = with_unit(format_trimmed(grams, 1, style), "g") if grams is not None else ""
    said = " ".join(part for part in (weight, name or ("ice" if weight else "")) if part)
    told = "" if state is IceState.USUAL else f"{state.value}" if said else f"{state.value} ice"
    return ", ".join(part for part in (said, told) if part)


def chill_notes(step: Chill, trace: StepTrace, book: HouseBook, style: NumberStyle) -> Iterator[str]:
    """What the row of a chill says of its ice, of the temperature at the end, and of what was weighed."""
    chill = trace.chill
    if chill is not None and not step.left_out and chill.end_c is not None:
        yield f"ends {_degrees(chill.end_c, style)}"
    weighed = weighings_of(book, step)
    if weighed:
        yield f"weighed {_grams(weighed[-1].melted_g, style)}"
    yield ice_note(book, step.ice, step.ice_g, step.ice_state, style)


def found_words(chill: ChillTrace, style: NumberStyle) -> str:
    """How much melts and why, and how cold it gets: *melts 29.8 g by heat balance; published 33.0; ends −4.1 °C*."""
    return "; ".join(
        part for part in (_melt(chill, style), *_beside(chill, style), _end(chill, style)) if part
    )


def met_no_ice(chill: ChillTrace) -> bool:
    """Whether a drink met its glass and no ice there."""
    return chill.by == NONE_MELTS


def glass_words(chill: ChillTrace, style: NumberStyle) -> str:
    """What a glass without ice does to a drink: *the glass warms it from −8.7 to −4.5 °C*."""
    return f"the glass {_warmed(chill, style, is_whole=True)}"


def _warmed(chill: ChillTrace, style: NumberStyle, *, is_whole: bool) -> str:
    """What the glass does, with where it begins if that is to be told."""
    if chill.from_c is None or chill.end_c is None:
        return "changes its temperature, by how much is not known"
    first, last = (format_number(one, 1, style) for one in (chill.from_c, chill.end_c))
    if first == last:
        return f"leaves it at {last}{UNIT_SPACE}°C"
    verb = "warms" if chill.end_c > chill.from_c else "cools"
    return f"{verb} it {f'from {first} ' if is_whole else ''}to {last}{UNIT_SPACE}°C"


def _melt(chill: ChillTrace, style: NumberStyle) -> str:
    melted = _grams(chill.melted_g, style)
    own = ", calibrated" if chill.is_calibrated else ""
    match chill.by:
        case _ if chill.by == NONE_MELTS:
            return "nothing melts"
        case _ if chill.by == WEIGHED:
            return f"{melted} melted, as weighed"
        case _ if chill.by == PUBLISHED:
            return f"melts {melted} as published{own}"
        case _ if chill.by == BETWEEN:
            return f"melts {melted}, between heat balance and published{own}"
    return f"melts {melted} by heat balance{own}"


def _beside(chill: ChillTrace, style: NumberStyle) -> Iterator[str]:
    if chill.by == NONE_MELTS:
        return
    if chill.by != BALANCE and chill.balance_g is not None:
        yield f"heat balance {format_number(chill.balance_g, 1, style)}"
    if chill.by != PUBLISHED and chill.published_g is not None:
        yield f"published {format_number(chill.published_g, 1, style)}"


def _end(chill: ChillTrace, style: NumberStyle) -> str:
    if chill.end_c is None:
        return "where it ends is not known"
    frozen = chill.frozen_pct
    is_slush = frozen is not None and frozen >= _SMALLEST_FROZEN_PCT
    behind = f", {format_number(frozen, 0, style)}{UNIT_SPACE}% of it frozen" if is_slush else ""
    return f"ends {_degrees(chill.end_c, style)}{behind}"


def weighings_of(book: HouseBook, step: Chill) -> tuple[Weighing, ...]:
    """What the house weighed for a step, in order of date."""
    found = (
        one for one in book.weighings.values() if one.step_id == step.id and one.build_id == step.build_id
    )
    return tuple(sorted(found, key=lambda one: (one.date, one.id)))


def weighed_words(book: HouseBook, step: Chill, style: NumberStyle) -> str:
    """The weighings of a step: *27.6 g on 21 Nov 2026*."""
    told = (f"{_grams(one.melted_g, style)} on {date_words(one.date)}" for one in weighings_of(book, step))
    return "; ".join(told)


def date_words(written: str) -> str:
    """A date (ISO 8601) as it is written out; the text itself where it is none."""
    try:
        day = date.fromisoformat(written[:10])
    except ValueError:
        return written
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def strain_notes(step: BarStrain, trace: StepTrace, book: HouseBook, style: NumberStyle) -> Iterator[str]:
    """What the row of a strain into the glass says of fresh ice and what melted of it, or of a glass without ice."""
    ice = ice_note(book, step.fresh_ice, step.fresh_ice_g, IceState.USUAL, style)
    if ice:
        yield f"over {ice}"
    if step.vessel_c is not None:
        yield f"glass at {_degrees(step.vessel_c, style)}"
    chill = trace.chill
    if chill is None or step.left_out:
        return
    if met_no_ice(chill):
        yield f"the glass {_warmed(chill, style, is_whole=False)}"
    else:
        yield f"melts {_grams(chill.melted_g, style)}"


def film_words(step: Rinse, book: HouseBook, style: NumberStyle) -> str:
    """What stays of a rinse: *1.5 ml stays, the rest is poured away*."""
    film = step.film_ml if step.film_ml is not None else book.settings.rinse_film_ml
    return f"{format_trimmed(film, 2, style)}{UNIT_SPACE}ml stays, the rest is poured away"


def stays_words(step: Garnish, style: NumberStyle) -> str:
    """What of a garnish stays where the rest is thrown away."""
    if step.stays_g is None:
        return ""
    stays = format_trimmed(step.stays_g, 3, style)
    return f"{stays}{UNIT_SPACE}g of it stays" if step.stays_g else "thrown away"


def carbonate_notes(step: Carbonate, trace: StepTrace, book: HouseBook, style: NumberStyle) -> Iterator[str]:
    """What the row of a carbonating says: the level or pressure that goes with what was typed, and in what."""
    gas = trace.gas
    if gas is not None and not step.left_out:
        if step.co2_g_per_l is not None and gas.needed_over_kpa is not None:
            yield f"{bar_text(max(0.0, gas.needed_over_kpa), style)} over at {_degrees(gas.at_c, style)}"
        elif step.co2_g_per_l is None:
            yield f"{format_number(gas.co2_g_per_l, 1, style)}{UNIT_SPACE}g/l"
    if step.vessel:
        yield f"in {vessel_name(book, step.vessel)}"
    if step.fills is not None:
        yield f"{format_trimmed(step.fills, 1, style)} {'fill' if step.fills == 1.0 else 'fills'}"


def pressure_words(trace: StepTrace, style: NumberStyle) -> str:
    """The pressures of a carbonating: *needs 1.1 bar over at 2 °C; 3.0 bar over at 25 °C in the closed vessel, rated for
    6 bar*."""
    gas = trace.gas
    if gas is None:
        return ""
    told = []
    if gas.needed_over_kpa is not None:
        at = f" at {_degrees(gas.at_c, style)}" if gas.at_c is not None else ""
        told.append(f"needs {bar_text(max(0.0, gas.needed_over_kpa), style)} over{at}")
    warm = bar_text(gas.warm_over_kpa, style) if gas.warm_over_kpa is not None else UNKNOWN
    rated = bar_text(gas.rated_kpa, style)
    told.append(f"{warm} over at {_degrees(gas.warmest_c, style)} in the closed vessel, rated for {rated}")
    return "; ".join(told)


def _grams(grams: float | None, style: NumberStyle) -> str:
    return f"{format_number(grams, 1, style)}{UNIT_SPACE}g"


def _degrees(celsius: float | None, style: NumberStyle) -> str:
    decimals = 0 if celsius is not None and float(celsius).is_integer() else 1
    return f"{format_number(celsius, decimals, style)}{UNIT_SPACE}°C"
