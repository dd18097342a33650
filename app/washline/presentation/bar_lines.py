"""Steps of the bar as one line each, in the words in which they are typed: read again, the line is the same step."""

from collections.abc import Iterator
from dataclasses import replace

from washline.model.amount import Amount, Heft
from washline.model.book import HouseBook
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
    Line,
    Rinse,
    Smoke,
    Top,
    Work,
)
from washline.presentation.house_words import lower_first, vessel_name
from washline.presentation.kitchen_words import named
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_trimmed
from washline.quantity.pressure_text import KILOPASCALS
from washline.quantity.unit_names import UNITS, unit_word

STRAIN_WORDS = {
    BarStrainWay.STRAIN: "strain",
    BarStrainWay.FINE: "fine strain",
    BarStrainWay.UNSTRAINED: "pour unstrained",
}
"""What a drink's way into its glass is called."""

GARNISH_WORDS = {GarnishWay.GARNISH: "garnish", GarnishWay.RIM: "rim", GarnishWay.EXPRESS: "express"}

_KITCHEN_METHODS = ("blend",)
"""Methods whose word is a step of the kitchen too."""


def bar_line(step: AnyStep, book: HouseBook, style: NumberStyle = ENGLISH_STYLE) -> str:
    """The step as it is typed; empty for a step that is none of the bar."""
    return _Lines(book, replace(style, grouping="")).of(step)


class _Lines:
    def __init__(self, book: HouseBook, style: NumberStyle) -> None:
        self._book, self._style = book, style

    def of(self, step: AnyStep) -> str:
        """The line of one step."""
        if isinstance(step, Chill):
            return self._joined(self._chill(step))
        if isinstance(step, BarStrain):
            return self._joined(self._strain(step))
        if isinstance(step, Rinse):
            stays = f"{self._number(step.film_ml)} ml stays" if step.film_ml is not None else ""
            return self._joined((f"rinse {self._line(step)}", stays))
        if isinstance(step, Top) and step.is_layer:
            return f"float {self._line(step)}"
        if isinstance(step, Garnish) and step.way is not GarnishWay.GARNISH:
            return self._joined((f"{GARNISH_WORDS[step.way]} {self._line(step)}", self._stays(step)))
        if isinstance(step, Smoke):
            return self._joined((f"smoke {step.words}".strip(), *self._manner(step)))
        return self._joined(self._carbonate(step)) if isinstance(step, Carbonate) else ""

    def _joined(self, parts: Iterator[str] | tuple[str, ...]) -> str:
        return ", ".join(part for part in parts if part)

    def _number(self, value: float | None) -> str:
        return format_trimmed(value, 6, self._style)

    def _degrees(self, before: str, value: float | None) -> str:
        return f"{before} {self._number(value)} °C".strip() if value is not None else ""

    def _manner(self, step: Work) -> Iterator[str]:
        yield exact_time(step.duration_s, self._style)
        low, high = step.temperature_low_c, step.temperature_high_c
        low, high = (high if low is None else low), (low if high is None else high)
        if low is not None and high is not None:
            first, last = self._number(low), self._number(high)
            yield f"at {first} °C" if first == last else f"at {first} to {last} °C"

    def _chill(self, step: Chill) -> Iterator[str]:
        method = self._book.methods.get(step.method)
        said = method.slug.replace("-", " ") if method is not None else ""
        words = step.words
        if said and words.casefold().startswith(f"{said} "):
            words = words[len(said) + 1 :]
        verb = said if said and said not in _KITCHEN_METHODS else f"chill {said}".strip()
        ice = self._ice(step.ice, step.ice_g, step.ice_state)
        yield f"{verb} {ice}".strip()
        if step.count is not None:
            yield f"{self._number(step.count)} {step.count_unit}"
        yield from self._manner(step)
        yield self._degrees("ice at", step.ice_c)
        yield self._degrees("tin at", step.vessel_c)
        yield f"{self._number(step.melted_g)} g melted" if step.melted_g is not None else ""
        yield f"to {self._number(step.final_g)} g" if step.final_g is not None else ""
        yield f"to {self._number(step.final_ml)} ml" if step.final_ml is not None else ""
        yield self._degrees("ends at", step.end_c)
        yield {ChillBy.USUAL: "", ChillBy.BALANCE: "by heat balance", ChillBy.PUBLISHED: "as published"}[
            step.by
        ]
        yield words

    def _ice(self, words: str, grams: float | None, state: IceState = IceState.USUAL) -> str:
        ice = self._book.ice_named(words)
        name = lower_first(ice.name) if ice is not None else words
        is_said = grams is not None or state is not IceState.USUAL or name
        parts = (
            f"{self._number(grams)} g" if grams is not None else "",
            state.value if state is not IceState.USUAL else "",
            name or ("ice" if is_said else ""),
        )
        return " ".join(part for part in parts if part)

    def _strain(self, step: BarStrain) -> Iterator[str]:
        ice = self._ice(step.fresh_ice, step.fresh_ice_g)
        glass = self._degrees("glass at", step.vessel_c)
        # A glass stands beside its ice, and beside words that say what it is poured into.
        is_into = bool(glass) and not ice and not step.words.casefold().startswith("into ")
        where = f" over {ice}" if ice else f" into a {glass}" if is_into else ""
        yield f"{STRAIN_WORDS[step.way]}{where}"
        yield "" if is_into else glass
        yield f"{self._number(step.held_back_ml)} ml held back" if step.held_back_ml is not None else ""
        yield from self._manner(step)
        yield step.words

    def _carbonate(self, step: Carbonate) -> Iterator[str]:
        level = f" to {self._number(step.co2_g_per_l)} g/l" if step.co2_g_per_l is not None else ""
        yield f"carbonate{level}"
        if step.over_kpa is not None:
            yield f"{format_trimmed(step.over_kpa / KILOPASCALS['bar'], 8, self._style)} bar over"
        yield self._degrees("at", step.at_c)
        yield f"in {vessel_name(self._book, step.vessel)}" if step.vessel else ""
        yield (
            f"{self._number(step.fills)} {'fill' if step.fills == 1.0 else 'fills'}"
            if step.fills is not None
            else ""
        )
        yield f"{self._number(step.reached_pct)} % reached" if step.reached_pct is not None else ""
        yield exact_time(step.duration_s, self._style)
        yield self._degrees("warmest", step.warmest_c)
        yield (
            f"opening loses {self._number(step.opening_loss_pct)} %"
            if step.opening_loss_pct is not None
            else ""
        )
        yield step.words

    def _line(self, step: Line) -> str:
        at = None if isinstance(step, Garnish) else step.temperature_c
        amount = amount_line(step.amount, self._style)
        return f"{amount} {named(self._book, step.item_id)}{f' at {self._number(at)} °C' if at is not None else ''}"

    def _stays(self, step: Garnish) -> str:
        if step.stays_g is None:
            return ""
        return f"{self._number(step.stays_g)} g stays" if step.stays_g else "thrown away"


def amount_line(amount: Amount, style: NumberStyle) -> str:
    """An amount as it was typed, or as it would be."""
    unit = unit_word(amount.unit, amount.number) if amount.unit in UNITS else amount.unit
    heft = f"{amount.heft.value} " if amount.heft is not Heft.EVEN else ""
    return amount.typed or f"{heft}{format_trimmed(amount.number, 6, style)} {unit}"


def exact_time(seconds: float | None, style: NumberStyle) -> str:
    """A time in the largest unit in which it is a round number: 90 s, 45 min, 2.5 h."""
    if seconds is None:
        return ""
    for unit, length in (("days", 86_400.0), ("h", 3600.0), ("min", 60.0)):
        if seconds >= 2.0 * length and (seconds / length * 2.0).is_integer():
            return f"{format_trimmed(seconds / length, 1, style)} {unit}"
    return f"{format_trimmed(seconds, 3, style)} s"
