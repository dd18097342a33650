"""What a card says of a bottle under pressure: keep it cold, until when, in which bottle, and how it is opened."""

from collections.abc import Iterator

from washline.engine.trace import Trace
from washline.model.step import Carbonate
from washline.presentation.keeping import NOT_TESTED, days_words, house_date_of
from washline.presentation.pressure import kpa_words
from washline.quantity.formatting import ENGLISH_STYLE, UNIT_SPACE, NumberStyle, format_trimmed

OPENING = "Open slowly, away from every face; eye protection when filling and opening."


def pressure_block(trace: Trace, style: NumberStyle = ENGLISH_STYLE) -> tuple[str, ...]:
    """The sentences of the block, for what the build itself carbonates; none where it carbonates nothing."""
    steps = [step for step in trace.build.steps if isinstance(step, Carbonate) and not step.left_out]
    if not steps:
        return ()
    told = [words for step in steps for words in _of(trace, step, style)]
    return (*dict.fromkeys(told), OPENING)


def _of(trace: Trace, step: Carbonate, style: NumberStyle) -> Iterator[str]:
    settings, gas = trace.book.settings, trace.step(step.id).gas
    warmest = _celsius(settings.warmest_c if step.warmest_c is None else step.warmest_c, style)
    cold = settings.fridge_c if gas is None or gas.at_c is None else gas.at_c
    yield f"Keep it cold, at {_celsius(cold, style)} or below, never above {warmest}; {_until(trace)}."
    vessel = trace.book.vessels.get(step.vessel)
    if vessel is None or vessel.rated_kpa is None:
        yield "Only bottles rated for pressure: that of this vessel is not known, so do not fill it."
        return
    rated = kpa_words(vessel.rated_kpa, style)
    over = kpa_words(None if gas is None else gas.warm_over_kpa, style)
    yield (
        f"Only bottles rated for pressure: {vessel.name} is rated for {rated}; {over} over the atmosphere computed at "
        f"{warmest}."
    )


def _until(trace: Trace) -> str:
    date = house_date_of(trace.book, trace.build.id)
    if date.days is None:
        return "no house date is set, so serve it the same day"
    return f"for {days_words(date.days)} at most, a house date, {NOT_TESTED}"


def _celsius(temperature_c: float, style: NumberStyle) -> str:
    return f"{format_trimmed(temperature_c, 1, style)}{UNIT_SPACE}°C"
