"""What is done at each step, in one plain sentence, for every paper."""

from collections.abc import Iterator, Sequence

from washline.engine.trace import StepTrace, Trace
from washline.model.amount import Amount, Basis, Heft
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    BarStrain,
    BarStrainWay,
    Carbonate,
    Chill,
    Evaporate,
    Ferment,
    FermentKind,
    Garnish,
    GarnishWay,
    Goal,
    Heat,
    IceState,
    Infuse,
    Measurement,
    Note,
    Per,
    Reduce,
    Rinse,
    Smoke,
    Strain,
    Take,
    Top,
    Wash,
    WashKind,
    Weight,
    Work,
)
from washline.presentation.house_words import ice_words, vessel_name
from washline.presentation.kitchen_words import GOAL_LIKE, GOAL_NAMES, named
from washline.presentation.measuring import QUANTITIES
from washline.presentation.step_details import time_words
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    UNIT_SPACE,
    NumberStyle,
    format_amount,
    format_number,
    format_range,
    format_trimmed,
)
from washline.quantity.pressure_text import bar_text
from washline.quantity.rounding import ounces_on_card, trade_fahrenheit
from washline.quantity.unit_names import UNITS

WAY_SENTENCES = {
    "press": "Press",
    "cloth": "Strain through cloth, do not press",
    "paper": "Filter through paper",
    "fine": "Strain through a fine sieve",
    "spin": "Spin and pour off the clear liquid",
    "enzyme": "Rest with the enzyme, then strain",
    "agar": "Break the agar curds and drain through cloth",
    "freeze-thaw": "Freeze, then thaw through cloth in the fridge",
    "milk": "Drain through the curd; pour the first cloudy part back",
    "skim": "Chill, lift the fat and filter",
}
"""What is done at a strain, by its way."""


class StepSentences:
    """Sentences for the steps of one build."""

    def __init__(self, trace: Trace, style: NumberStyle = ENGLISH_STYLE) -> None:
        self._trace = trace
        self._book = trace.book
        self._style = style

    def all(self) -> tuple[tuple[int, str], ...]:
        """The id and the sentence of every step that is not left out, in order."""
        return tuple((step.id, self.of(step)) for step in self._trace.build.steps if not step.left_out)

    def of(self, step: AnyStep) -> str:
        """The sentence of one step; a note is its own sentence."""
        trace = self._trace.step(step.id)
        if isinstance(step, Note):
            return _sentence(step.words or "See the build")
        if isinstance(step, Add | Infuse | Top | Garnish):
            return self._line(step, trace)
        if isinstance(step, Take):
            return self._take(step)
        if isinstance(step, Chill):
            return self._chill(step)
        if isinstance(step, Rinse):
            return self._rinse(step, trace)
        if isinstance(step, BarStrain):
            return self._bar_strain(step)
        if isinstance(step, Smoke):
            return _sentence(f"Smoke {step.words}".strip(), list(self._timing(step)))
        if isinstance(step, Carbonate):
            return self._carbonate(step, trace)
        told, details = self._kitchen(step, trace)
        return _sentence(told, [*details, *self._how(step, is_told=step.words in told)])

    # Lines

    def _line(self, step: Add | Infuse | Top | Garnish, trace: StepTrace) -> str:
        verb = _verb(step)
        amount = self._amount(step.amount, trace)
        details = [step.words]
        if isinstance(step, Add | Infuse):
            details += self._weights(step)
        if isinstance(step, Infuse):
            details = [*self._timing(step), *details]
        elif not isinstance(step, Garnish) and step.temperature_c is not None:
            details.append(f"at {self._hot(step.temperature_c)}")
        if isinstance(step, Garnish) and step.stays_g is not None:
            details.append(
                "then throw it away" if step.way is GarnishWay.EXPRESS else "the rest is thrown away"
            )
        is_expressed = isinstance(step, Garnish) and step.way is GarnishWay.EXPRESS
        where = " over the drink" if is_expressed else ""
        return _sentence(f"{verb} {amount} {named(self._book, step.item_id)}{where}", details)

    def _weights(self, step: Add | Infuse) -> Iterator[str]:
        if step.weight is Weight.BOUGHT:
            yield "as bought"
        if step.weight is Weight.TRIMMED:
            yield "trimmed"
        if step.bought_g is not None and step.weight is not Weight.BOUGHT:
            yield f"buy {self._grams(step.bought_g)}"

    def _amount(self, amount: Amount, trace: StepTrace) -> str:
        if amount.basis is Basis.ABSOLUTE and amount.unit in UNITS:
            heft = f"{amount.heft.value} " if amount.heft is not Heft.EVEN else ""
            return f"{heft}{format_amount(amount.number, amount.unit, self._style)}"
        if amount.basis is Basis.ABSOLUTE:
            return f"{format_trimmed(amount.number, 2, self._style)} {amount.unit}"
        if amount.basis is Basis.TO_WASH_LINE:
            return "to the wash line:"
        number = format_trimmed(amount.number, 3, self._style)
        share = {
            Basis.PERCENT_OF_VESSEL: f"{number}{UNIT_SPACE}% of the vessel in",
            Basis.PERCENT_OF_LINES: f"{number}{UNIT_SPACE}% of {self._bases(amount)} in",
            Basis.PARTS: f"{number} parts to {self._bases(amount)} of",
        }.get(amount.basis, f"up to {number}{UNIT_SPACE}{amount.unit} of")
        return (
            f"{share}"
            if trace.found_g is None
            else f"{self._grams(trace.found_g)} ({share.rpartition(' ')[0]})"
        )

    def _bases(self, amount: Amount) -> str:
        steps = [step for step in self._trace.build.steps if step.id in amount.of]
        if len(steps) == 1 and isinstance(steps[0], Strain):
            return "the weighed liquid"
        names = [named(self._book, step.item_id) for step in steps if isinstance(step, Add | Infuse | Top)]
        return " and ".join(names) or "a line above"

    def _take(self, step: Take) -> str:
        number = format_trimmed(step.amount.number, 3, self._style)
        is_share = step.amount.basis is Basis.PERCENT_OF_VESSEL
        amount = f"{number}{UNIT_SPACE}{step.amount.unit}{' of the vessel' if is_share else ''}"
        if step.leftover_id is None:
            return _sentence(f"Pour {amount} away", [step.words])
        return _sentence(f"Take {amount} out as {named(self._book, step.leftover_id)}", [step.words])

    def _chill(self, step: Chill) -> str:
        method = self._book.methods.get(step.method)
        told = step.words or (method.name if method is not None else step.method)
        count = (
            f"{format_trimmed(step.count, 1, self._style)} {step.count_unit}"
            if step.count is not None
            else ""
        )
        return _sentence(told, [count, self._time(step), self._ice(step)])

    def _ice(self, step: Chill) -> str:
        state = "" if step.ice_state is IceState.USUAL else f"{step.ice_state.value} ice"
        weight = self._grams(step.ice_g) if step.ice_g is not None else ""
        ice = " ".join(part for part in (weight, ice_words(self._book, step.ice)) if part)
        return ", ".join(part for part in (ice, state) if part)

    # Steps at the glass

    def _rinse(self, step: Rinse, trace: StepTrace) -> str:
        amount = self._amount(step.amount, trace)
        if step.amount.basis is Basis.ABSOLUTE and step.amount.unit == "ml":
            amount = self._both(step.amount.number)
        film = step.film_ml if step.film_ml is not None else self._book.settings.rinse_film_ml
        stays = f"about {format_trimmed(film, 1, self._style)}{UNIT_SPACE}ml stays"
        told = f"Rinse the glass with {amount} {named(self._book, step.item_id)} and pour it out"
        return _sentence(told, [step.words, stays])

    def _bar_strain(self, step: BarStrain) -> str:
        told = {
            BarStrainWay.STRAIN: "Strain",
            BarStrainWay.FINE: "Fine strain",
            BarStrainWay.UNSTRAINED: "Pour unstrained",
        }[step.way]
        ice = ice_words(self._book, step.fresh_ice) or ("ice" if step.fresh_ice_g is not None else "")
        weight = f" ({self._grams(step.fresh_ice_g)})" if step.fresh_ice_g is not None else ""
        where = f" over fresh {ice.removeprefix('fresh ').removeprefix('one fresh ')}{weight}" if ice else ""
        words, glass = step.words, f"at {self._exact(step.vessel_c)}" if step.vessel_c is not None else ""
        if where:
            glass = f"glass {glass}" if glass else ""
        elif words.casefold().startswith("into "):
            where, words = f" {words}", ""
        else:
            where, glass = f" into a glass {glass}" if glass else " into the glass", ""
        return _sentence(f"{told}{where}", [glass, words, *self._timing(step)])

    def _carbonate(self, step: Carbonate, trace: StepTrace) -> str:
        gas = trace.gas
        details = [f"in {vessel_name(self._book, step.vessel)}" if step.vessel else ""]
        over = step.over_kpa
        if over is None and gas is not None and gas.needed_over_kpa is not None:
            over = max(0.0, gas.needed_over_kpa)
        if over is not None:
            details.append(f"{bar_text(over, self._style)} over the atmosphere")
        if step.at_c is not None:
            details.append(f"at {self._exact(step.at_c)}")
        if step.fills is not None:
            details.append(
                f"{format_trimmed(step.fills, 1, self._style)} {'fill' if step.fills == 1.0 else 'fills'}"
            )
        details += [self._time(step), step.words]
        if gas is not None and gas.warm_over_kpa is not None:
            warm, rated = bar_text(gas.warm_over_kpa, self._style), bar_text(gas.rated_kpa, self._style)
            details.append(f"{warm} over at {self._exact(gas.warmest_c)}, rated for {rated}")
        level = ""
        if step.co2_g_per_l is not None:
            level = f" to {format_trimmed(step.co2_g_per_l, 1, self._style)}{UNIT_SPACE}g/l"
        return _sentence(f"Carbonate{level}", details)

    def _both(self, volume_ml: float) -> str:
        """A volume in both languages of the bar."""
        ounces = ounces_on_card(volume_ml, self._book.settings.oz_ml)
        millilitres = f"{format_trimmed(volume_ml, 1, self._style)}{UNIT_SPACE}ml"
        return f"{millilitres} ({ounces.text}{UNIT_SPACE}oz)"

    def _exact(self, temperature_c: float) -> str:
        """A temperature below room temperature, where five degrees of Fahrenheit would hide the difference."""
        celsius = f"{format_trimmed(temperature_c, 1, self._style)}{UNIT_SPACE}°C"
        fahrenheit = format_number(trade_fahrenheit(temperature_c, 1).temperature_f, 0, self._style)
        return f"{celsius} ({fahrenheit}{UNIT_SPACE}°F)"

    # Steps of the kitchen

    def _kitchen(self, step: AnyStep, trace: StepTrace) -> tuple[str, Sequence[str]]:
        if isinstance(step, Wash):
            told = (
                "Wash with the fat"
                if step.kind is WashKind.FAT
                else "Wash with milk: pour the liquid onto the milk"
            )
            return told, ()
        if isinstance(step, Strain):
            return self._strain(step, trace)
        if isinstance(step, Ferment):
            return self._ferment(step)
        if isinstance(step, Adjust):
            return self._adjust(step, trace)
        if isinstance(step, Measurement):
            return self._measure(step)
        if isinstance(step, Evaporate):
            return self._evaporate(step)
        assert isinstance(step, Work)
        return type(step).__name__, ()

    def _strain(self, step: Strain, trace: StepTrace) -> tuple[str, Sequence[str]]:
        told = WAY_SENTENCES.get(step.way, "Strain")
        details = ["weigh the liquid"]
        if step.weighed_g is not None:
            details = [f"weigh the liquid, {self._grams(step.weighed_g)} last time"]
        elif trace.estimate_g is not None:
            details = [f"weigh the liquid, about {self._grams(trace.estimate_g)} is expected"]
        if step.leftover_id is not None:
            details.append(f"keep {named(self._book, step.leftover_id)}")
        return told, details

    def _ferment(self, step: Ferment) -> tuple[str, Sequence[str]]:
        kind = "lactic" if step.kind is FermentKind.LACTIC else "by yeast"
        details = []
        if step.final_ph is not None:
            details.append(f"to pH {format_trimmed(step.final_ph, 2, self._style)}")
        if step.final_acidity_pct is not None:
            details.append(
                f"to {format_trimmed(step.final_acidity_pct, 3, self._style)}{UNIT_SPACE}% acidity"
            )
        if step.final_brix is not None:
            details.append(f"to {format_trimmed(step.final_brix, 2, self._style)}{UNIT_SPACE}°Bx")
        if step.discard_above_ph is not None:
            limit = format_trimmed(step.discard_above_ph, 2, self._style)
            day = step.discard_on_day
            on_day = f" on day {format_trimmed(day, 1, self._style)}" if day is not None else ""
            details.append(f"discard it if above pH {limit}{on_day}")
        return f"Ferment, {kind}", details

    def _adjust(self, step: Adjust, trace: StepTrace) -> tuple[str, Sequence[str]]:
        found = dict(trace.portions_g)
        parts = [
            f"{self._grams(found[portion.item_id])} {named(self._book, portion.item_id)}"
            if portion.item_id in found
            else named(self._book, portion.item_id)
            for portion in step.portions
        ]
        if step.like_item_id is not None:
            goal = f"as {GOAL_LIKE[step.goal]} as {named(self._book, step.like_item_id)}"
        else:
            goal = f"to {format_trimmed(step.value, 3, self._style)}{UNIT_SPACE}{self._goal_unit(step)}"
        return f"Add {' and '.join(parts)}, {goal}", ()

    def _goal_unit(self, step: Adjust) -> str:
        if step.goal is Goal.BRIX:
            return "°Bx"
        if step.goal is Goal.STRENGTH:
            return "% vol"
        if step.per is Per.VOLUME:
            return f"g {GOAL_NAMES[step.goal]} in 100{UNIT_SPACE}ml"
        return f"% {GOAL_NAMES[step.goal]} by weight"

    def _measure(self, step: Measurement) -> tuple[str, Sequence[str]]:
        quantity = QUANTITIES[step.quantity]
        by = f" with the {step.instrument}" if step.instrument else ""
        value = f"{format_trimmed(step.value, 3, self._style)}{UNIT_SPACE}{quantity.unit}".strip(UNIT_SPACE)
        return f"Measure {quantity.name}{by}", [f"{value} last time"]

    def _evaporate(self, step: Evaporate) -> tuple[str, Sequence[str]]:
        told = "Reduce" if isinstance(step, Reduce) else "Heat" if isinstance(step, Heat) else "Dry"
        end = ""
        if step.final_g is not None:
            end = f"to {self._grams(step.final_g)}"
        elif step.final_brix is not None:
            end = f"to {format_trimmed(step.final_brix, 2, self._style)}{UNIT_SPACE}°Bx"
        elif step.final_pct is not None:
            end = f"to {format_trimmed(step.final_pct, 2, self._style)}{UNIT_SPACE}% of its weight"
        return f"{told} {end}".strip(), ()

    # Pieces

    def _how(self, step: AnyStep, *, is_told: bool) -> Iterator[str]:
        if step.words and not is_told:
            yield step.words
        if isinstance(step, Work):
            yield from self._timing(step)

    def _timing(self, step: Work) -> Iterator[str]:
        if time := self._time(step):
            yield time
        low, high = step.temperature_low_c, step.temperature_high_c
        low, high = (high if low is None else low), (low if high is None else high)
        if low is None or high is None:
            return
        if low == high:
            yield f"at {self._hot(low)}"
            return
        first, last = trade_fahrenheit(low), trade_fahrenheit(high)
        fahrenheit = format_range(first.temperature_f, last.temperature_f, 0, "°F", self._style)
        yield f"at {format_range(low, high, 0, '°C', self._style)} ({fahrenheit})"

    def _time(self, step: Work) -> str:
        return UNIT_SPACE.join(time_words(step.duration_s, self._style)).strip(UNIT_SPACE)

    def _hot(self, temperature_c: float) -> str:
        celsius = f"{format_trimmed(temperature_c, 1, self._style)}{UNIT_SPACE}°C"
        return f"{celsius} ({trade_fahrenheit(temperature_c).temperature_f}{UNIT_SPACE}°F)"

    def _grams(self, grams: float) -> str:
        decimals = 0 if grams >= 1000.0 or float(grams).is_integer() else 1
        return f"{format_number(grams, decimals, self._style)}{UNIT_SPACE}g"


def _verb(step: Add | Infuse | Top | Garnish) -> str:
    if isinstance(step, Top) and step.is_layer:
        return "Float"
    if isinstance(step, Garnish):
        return {
            GarnishWay.GARNISH: "Garnish with",
            GarnishWay.RIM: "Rim the glass with",
            GarnishWay.EXPRESS: "Express",
        }[step.way]
    return {Add: "Add", Infuse: "Infuse", Top: "Top with"}[type(step)]


def _sentence(words: str, details: Sequence[str] = ()) -> str:
    told = words.strip().rstrip(".")
    rest = ", ".join(detail.strip().rstrip(".") for detail in details if detail.strip())
    mark = ";" if ":" in told else ":"
    whole = f"{told}{mark} {rest}" if rest else told
    return f"{whole[:1].upper()}{whole[1:]}{'' if whole[-1:] in ('!', '?') else '.'}"
