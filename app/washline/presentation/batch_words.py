"""What to know about a batch, in sentences: vessel, cold, gas, keeping, allergens, and what is not scaled by the serves."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from washline.engine.step_cautions import step_cautions
from washline.model.house import Vessel
from washline.model.item import BatchService, RawIngredient
from washline.model.step import Chill, Line
from washline.presentation.batch_cold import Cold, Pours, cold_words
from washline.presentation.batch_plan import Batched, BatchLine, Role
from washline.presentation.cautions import DEFERRAL
from washline.presentation.contains import contains_box, listed, short_name
from washline.presentation.keeping import house_date_of
from washline.presentation.pressure import KEYS as PRESSURE_KEYS
from washline.presentation.pressure import pressures
from washline.presentation.row_words import item_name
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_number, format_trimmed, with_unit

SERVICE_WORDS = {
    BatchService.FREEZER: "from the freezer",
    BatchService.FRIDGE: "from the fridge",
    BatchService.TAP: "on tap",
    BatchService.CARBONATED: "carbonated",
    BatchService.ON_ICE: "undiluted, each serve meets its ice",
}
NO_DATE = "No house date is set, and nothing in it has one: date it, and taste it before service."
TASTE = "Common practice, no source."
_NOTHING_ML = 0.5
"""Less than half a millilitre is not said."""


@dataclass(frozen=True, slots=True)
class Told:
    """A few sentences under a heading; an alert is what must not be passed over. A list has a line for each of them."""

    title: str
    sentences: tuple[str, ...]
    is_alert: bool = False
    is_list: bool = False

    @property
    def text(self) -> str:
        """All sentences, as they are set."""
        return ("\n" if self.is_list else " ").join(self.sentences)


def facts_told(batched: Batched, cold: Cold, style: NumberStyle = ENGLISH_STYLE) -> tuple[Told, ...]:
    """Everything that is to be said, the most urgent first."""
    teller = _Teller(batched, cold, style)
    problems = tuple(teller.problems())
    told = [Told("Cannot be made so", problems, is_alert=True)] if problems else []
    told.append(teller.vessel())
    if batched.plan.batch.service is not BatchService.ON_ICE:
        told.append(teller.cold())
    told += teller.gas()
    told += teller.seasoning()
    notes = tuple(teller.notes())
    if notes:
        told.append(Told("Mind", notes))
    told += (teller.keeping(), teller.contains())
    return (*told, *teller.cautions())


class _Teller:
    def __init__(self, batched: Batched, cold: Cold, style: NumberStyle) -> None:
        self._batched, self._plan, self._cold, self._style = batched, batched.plan, cold, style
        self._book = batched.drink.book
        self._box = contains_box(batched.book, batched.plan.build.id, step_cautions(batched.trace))

    def problems(self) -> Iterator[str]:
        """What of the batch or of a serve cannot be computed, or not met."""
        words = [
            problem.words
            for trace in (self._batched.trace, self._batched.serve)
            for problem in trace.problems
        ]
        words += [missed for step in self._batched.trace.steps for missed in step.missed]
        yield from map(_sentence, dict.fromkeys(words))

    def vessel(self) -> Told:
        """How many vessels, to what they are filled, and what stays over."""
        volume, vessel = self._batched.volume_ml, self._batched.vessel
        if volume is None:
            return Told("Vessel", ("How much it is in all is not known: see what the build says.",))
        if vessel is None:
            gone = (
                " The vessel that was chosen is no longer in the house book."
                if self._plan.batch.vessel
                else ""
            )
            return Told("Vessel", (f"{self._ml(volume)} in all. No vessel is chosen.{gone}",))
        return Told("Vessel", tuple(self._filled(volume, vessel, self._batched.fill_ml or vessel.volume_ml)))

    def _filled(self, volume: float, vessel: Vessel, fill: float) -> Iterator[str]:
        asked = self._plan.batch.vessel_count
        count = math.floor(volume / fill + _NOTHING_ML / fill) if asked is None else asked
        neck = vessel.volume_ml - fill
        if count < 1:
            yield f"{self._ml(volume)} in all: less than one {vessel.name} ({self._ml(fill)})."
            return
        number = format_trimmed(count, 2, self._style)
        room = f", {self._ml(neck)} neck space each" if neck > 0.0 else ", with no neck space"
        yield f"{number} × {vessel.name}, filled to {self._ml(fill)}{room}."
        over = volume - count * fill
        if over > _NOTHING_ML:
            yield f"{self._ml(over)} stays over."
        elif over < -_NOTHING_ML:
            yield f"{self._ml(-over)} short of full, by rounding."
        else:
            yield "Nothing stays over."

    def cold(self) -> Told:
        """Whether it freezes, and whether the vessel has room for the ice."""
        service = self._plan.batch.service
        mass = self._batched.mass_g
        water = sum(line.batch_g for line in self._plan.lines if line.role is Role.WATER)
        told = cold_words(
            self._cold,
            service,
            self._style,
            serve_g=None if mass is None else mass / self._plan.serves,
            water_g=water / self._plan.serves,
        )
        sentences = [*told, *self._burst()]
        return Told("Cold", tuple(sentences), is_alert=self._cold.pours not in (Pours.LIQUID, Pours.CRYSTALS))

    def _burst(self) -> Iterator[str]:
        vessel, fill, grows = self._batched.vessel, self._batched.fill_ml, self._cold.grows_pct
        if vessel is None or fill is None or not grows:
            return
        wanted, neck = fill * grows / 100.0, vessel.volume_ml - fill
        if wanted > neck:
            yield (
                f"The ice needs {self._ml(wanted)} more room in each {vessel.name}, and its neck has {self._ml(neck)}: a "
                "full bottle can burst."
            )

    def gas(self) -> list[Told]:
        """Level and pressure of a carbonated batch, with what to take care of."""
        return [
            Told(
                "Gas",
                (
                    _sentence(one.words),
                    *(_sentence(fact.spoken) for fact in one.facts),
                    *(words for words in one.cautions if words != DEFERRAL),
                ),
                is_alert=one.is_refused,
                is_list=True,
            )
            for one in pressures(self._batched.trace, self._style)
        ]

    def seasoning(self) -> list[Told]:
        """Salt and bitters that do not grow with the serves, and what was held back."""
        less = [line for line in self._plan.lines if line.share != 1.0 and line.share > 0.0]
        none = [
            line for line in self._plan.lines if line.share == 0.0 and line.role in (Role.SALT, Role.BITTERS)
        ]
        sentences = [self._held_back(line) for line in less]
        sentences += [f"{self._name(line)} is left out: add it at service, to taste." for line in none]
        if not sentences:
            return []
        return [Told("Salt and bitters", (*sentences, f"Taste, then add the rest. {TASTE}"))]

    def _held_back(self, line: BatchLine) -> str:
        share = with_unit(format_trimmed(100.0 * line.share, 1, self._style), "%")
        rest = line.exact_g / line.share - line.exact_g
        name = _sentence(self._name(line)).rstrip(".")
        if rest < 0.0:
            return f"{name} goes in at {share} of the serves: {self._fine(-rest)} more than they have."
        return f"{name} goes in at {share} of the serves: {self._fine(rest)} is held back ({line.why})."

    def notes(self) -> Iterator[str]:
        """Sentences on rounding, fizz, citrus, foam and ice."""
        yield from self._plan.dropped
        coarse = [
            self._name(line) for line in self._plan.lines if line.is_rounded_much or line.is_below_scale
        ]
        if coarse:
            step = with_unit(format_trimmed(self._plan.batch.round_g, 3, self._style), "g")
            yield (
                f"A scale of {step} is too coarse for {listed(coarse)}: weigh it on a finer one, or make a larger batch."
            )
        yield from self._fizz()
        yield from self._foam()
        yield from self._ice()

    def _fizz(self) -> Iterator[str]:
        if self._plan.batch.service is BatchService.CARBONATED:
            return
        gas = self._batched.trace.result.value("fizz")
        if gas is not None and gas > 0.05:
            yield (
                "The fizzy pour is in the batch: its gas leaves an open vessel. Leave it until service, or choose the "
                "service Carbonated."
            )

    def _foam(self) -> Iterator[str]:
        foaming = [
            self._name(line)
            for line in self._plan.lines
            if isinstance(item := self._book.item(line.item_id), RawIngredient) and item.foams
        ]
        if foaming:
            yield f"The foam of {listed(foaming)} is made at service: shake each serve without ice first."

    def _ice(self) -> Iterator[str]:
        glass = self._book.glass_of(self._batched.drink.build)
        own = self._batched.drink.build.ice_g
        ice = own if own is not None else glass.ice_g if glass is not None else 0.0
        is_diluted = any(line.role is Role.WATER for line in self._plan.lines)
        if ice > 0.0 and is_diluted and self._plan.batch.service is not BatchService.ON_ICE:
            yield (
                "It is served on ice, and its dilution is in the batch already: the ice in the glass goes on melting. "
                "Taste one, and hold back water if it is thin."
            )
        if self._plan.batch.service is BatchService.ON_ICE and not self._has_chill():
            yield "The drink has no chill: nothing says how each serve meets its ice."

    def _has_chill(self) -> bool:
        return any(isinstance(one.step, Chill) for one in self._plan.at_service)

    def keeping(self) -> Told:
        """The house date of what is in it; only what is in the vessel counts."""
        date = house_date_of(self._batched.book, self._plan.build.id)
        sentences = list(date.reasons)
        if date.days is not None:
            sentences.insert(0, f"{date.text}.")
        return Told("Keeping", tuple(sentences) or (NO_DATE,))

    def contains(self) -> Told:
        """What is on the label of the vessel."""
        box = self._box
        sentences = [_sentence(box.contains_text)]
        if box.may_contain_text:
            sentences.append(f"May contain {box.may_contain_text}.")
        if box.unknown_text:
            sentences.append(f"Not known: {box.unknown_text}.")
        waiting = [one.step for one in self._plan.at_service if isinstance(one.step, Line)]
        if waiting:
            names = listed(dict.fromkeys(short_name(item_name(self._book, step.item_id)) for step in waiting))
            sentences.append(f"What is added at service counts too, on the card of the drink: {names}.")
        return Told("Contains", tuple(sentences))

    def cautions(self) -> tuple[Told, ...]:
        """Each caution that goes with what is in the vessel, in full; those of pressure stand with the gas."""
        with_gas = PRESSURE_KEYS if self._plan.batch.service is BatchService.CARBONATED else ()
        due = [one for one in self._box.cautions if one.key not in with_gas]
        told = [
            Told(
                f"Caution: {one.title}",
                tuple(
                    _sentence(part) for part in (one.origin, one.text.removesuffix(DEFERRAL).strip()) if part
                ),
            )
            for one in due
        ]
        return (*told, Told("These cautions", (DEFERRAL,))) if told or with_gas else ()

    def _name(self, line: BatchLine) -> str:
        return short_name(item_name(self._book, line.item_id))

    def _ml(self, value: float) -> str:
        return with_unit(format_number(value, 0, self._style), "ml")

    def _fine(self, value: float) -> str:
        return with_unit(format_number(value, 1 if value >= 1.0 else 2, self._style), "g")


def _sentence(words: str) -> str:
    """Words with a capital and a full stop."""
    return f"{words[:1].upper()}{words[1:].rstrip('.')}."
