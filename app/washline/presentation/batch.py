"""The sheet of a batch: the weigh-out with its running total, what waits for service, figures beside the drink as it is
served, and what to know about vessel, cold, gas and keeping."""

from collections.abc import Iterator
from dataclasses import dataclass

from washline.model.reading import READINGS
from washline.model.step import AnyStep, BarStrain, Chill, Garnish, Line, Smoke
from washline.presentation.batch_cold import Cold, cold_of
from washline.presentation.batch_plan import AtService, Batched, BatchLine, Role, Why
from washline.presentation.batch_words import SERVICE_WORDS, Told, facts_told
from washline.presentation.row_words import item_name
from washline.quantity.formatting import ENGLISH_STYLE, UNIT_SPACE, NumberStyle, format_number, format_trimmed
from washline.quantity.rounding import ounces_on_card

WEIGH_HEADS = ("ml a serve", "oz", "g a serve", "weigh, g", "scale shows, g")
SERVICE_HEADS = ("ml a serve", "oz", "g a serve", "for all, g")
FIGURE_HEADS = ("as it is served", "from the batch", "in the vessel")
INTO_THE_VESSEL, AT_SERVICE, READINGS_HEAD = "Into the vessel", "Left until service", "Readings"
_LEAST_OZ_ML = 3.0
"""Below a tenth of an ounce a jigger shows nothing: it is weighed."""
_SHOWN = ("strength", "sweetness", "acidity", "salt", "fizz", "length", "chill", "freezing")
_ALWAYS = ("strength", "sweetness", "acidity", "length")
_READING = {reading.key: reading for reading in READINGS}
_WHY_WORDS = {
    Why.CITRUS: "citrus",
    Why.FIZZ: "fizz",
    Why.RINSE: "rinse",
    Why.FLOAT: "float",
    Why.GARNISH: "garnish",
    Why.ICE: "ice",
    Why.SMOKE: "smoke",
}


@dataclass(frozen=True, slots=True)
class BatchRow:
    """One row: a name, the quiet words behind it, a figure for each column, and the row as it is read aloud.
    ``item_id`` is what opens from it, ``tip`` why it is scaled as it is."""

    name: str
    note: str
    figures: tuple[str, ...]
    spoken: str
    item_id: int | None = None
    tip: str = ""
    is_strong: bool = False


@dataclass(frozen=True, slots=True)
class BatchTable:
    """A table with its heads: the first one stands over the names."""

    name: str
    heads: tuple[str, ...]
    rows: tuple[BatchRow, ...]


@dataclass(frozen=True, slots=True)
class BatchSheet:
    """All that the page, the table file and the paper show."""

    title: str
    subtitle: str
    tables: tuple[BatchTable, ...]
    told: tuple[Told, ...]


def batch_sheet(batched: Batched, style: NumberStyle = ENGLISH_STYLE) -> BatchSheet:
    """The sheet of a batch."""
    cold = cold_of_batch(batched)
    writer = _Writer(batched, cold, style)
    tables = [BatchTable(INTO_THE_VESSEL, WEIGH_HEADS, tuple(writer.weigh_rows()))]
    waiting = tuple(writer.service_row(one) for one in batched.plan.at_service)
    if waiting:
        tables.append(BatchTable(AT_SERVICE, SERVICE_HEADS, waiting))
    tables.append(BatchTable(READINGS_HEAD, FIGURE_HEADS, tuple(writer.figure_rows())))
    name = batched.drink.build.name
    return BatchSheet(f"{name}, batch", writer.subtitle(), tuple(tables), facts_told(batched, cold, style))


def cold_of_batch(batched: Batched) -> Cold:
    """What the place where a batch stands makes of it."""
    trace, service = batched.trace, batched.plan.batch.service
    return cold_of(trace.final_state, trace.result.value("freezing"), service, batched.book.settings)


def scale_decimals(step_g: float) -> int:
    """The decimals that a scale of such a step shows: 0 for 1 and 5 g, 1 for 0.1 and 0.5 g, 2 for finer or none."""
    return next(
        (places for places in (0, 1) if step_g > 0.0 and round(step_g * 10**places, 6) % 1.0 == 0.0), 2
    )


class _Writer:
    def __init__(self, batched: Batched, cold: Cold, style: NumberStyle) -> None:
        self._batched, self._plan, self._cold, self._style = batched, batched.plan, cold, style
        self._book = batched.drink.book

    def subtitle(self) -> str:
        """*10 serves of 85 ml · freezer · 848 ml, 812 g*."""
        plan, style = self._plan, self._style
        serves = format_trimmed(plan.serves, 1, style)
        word = "serve" if serves == "1" else "serves"
        portion = format_number(self._batched.portion_ml, 0, style)
        volume, mass = (
            format_number(value, 0, style) for value in (self._batched.volume_ml, self._batched.mass_g)
        )
        service = SERVICE_WORDS[plan.batch.service]
        whole = f"{volume}{UNIT_SPACE}ml, {mass}{UNIT_SPACE}g in all"
        return f"{serves} {word} of {portion}{UNIT_SPACE}ml · {whole} · {service}"

    def weigh_rows(self) -> Iterator[BatchRow]:
        """A weight a row, with what one scale shows that is never set back, and the sum."""
        running = 0.0
        for line in self._plan.lines:
            running += line.batch_g
            yield self._weigh_row(line, running)
        if self._plan.lines:
            serve_g = self._fixed(sum(line.serve_g for line in self._plan.lines), 1)
            total = self._grams(running)
            words = f"All that is weighed: {total} grams, {serve_g} grams a serve"
            yield BatchRow("weighed in all", "", ("", "", serve_g, total, total), words, is_strong=True)

    def _weigh_row(self, line: BatchLine, running_g: float) -> BatchRow:
        name = item_name(self._book, line.item_id)
        ml, oz = self._poured(line.serve_ml)
        serve_g, weigh, shows = self._fixed(line.serve_g, 1), self._exact(line), self._grams(running_g)
        note = self._line_note(line)
        spoken = f"{name}: weigh {weigh} grams, the scale then shows {shows}; {serve_g} grams a serve"
        if ml:
            spoken += f", {ml} millilitres"
        return BatchRow(
            name,
            note,
            (ml, oz, serve_g, weigh, shows),
            f"{spoken}, {note}" if note else spoken,
            line.item_id,
            line.why,
        )

    def _line_note(self, line: BatchLine) -> str:
        share = format_trimmed(100.0 * line.share, 1, self._style)
        words = {Role.SALT: "salt", Role.BITTERS: "bitters"}
        parts = [f"{words[line.role]} at {share}{UNIT_SPACE}%"] if line.role in words else []
        if line.role is Role.WATER:
            parts.append("the dilution")
        if line.is_below_scale:
            parts.append("finer than the scale")
        return ", ".join(parts)

    def service_row(self, waiting: AtService) -> BatchRow:
        """What one serve gets, and how much of it is wanted for all."""
        name, note = self._service_name(waiting.step), _WHY_WORDS[waiting.why]
        if waiting.serve_g is None:
            return BatchRow(name, note, ("", "", "", ""), f"{name}, at service: {note}")
        is_poured = waiting.why is not Why.GARNISH
        ml, oz = self._poured(waiting.serve_ml if is_poured else None)
        serve_g = self._fixed(waiting.serve_g, 1)
        whole = self._fixed(waiting.serve_g * self._plan.serves, 0)
        spoken = f"{name}, at service, {note}: {serve_g} grams a serve, {whole} grams for all"
        item_id = waiting.step.item_id if isinstance(waiting.step, Line) else None
        return BatchRow(name, note, (ml, oz, serve_g, whole), spoken, item_id)

    def _service_name(self, step: AnyStep) -> str:
        if isinstance(step, Line):
            name = item_name(self._book, step.item_id)
            return f"{name}, {step.words}" if isinstance(step, Garnish) and step.words else name
        if isinstance(step, Chill):
            method = self._book.methods.get(step.method)
            return method.name if method is not None else step.method
        if isinstance(step, BarStrain):
            return "Strain over ice" if step.fresh_ice or step.fresh_ice_g else "Strain"
        return step.words or "Smoke" if isinstance(step, Smoke) else step.words

    def figure_rows(self) -> Iterator[BatchRow]:
        """Each reading of the drink as it is served now, of a serve from the batch, and of what is in the vessel."""
        traces = (self._batched.drink, self._batched.serve, self._batched.trace)
        for key in _SHOWN:
            values = [trace.result.value(key) for trace in traces]
            if key not in _ALWAYS and not any(value for value in values[:2]):
                continue
            reading = _READING[key]
            texts = [
                "at least " * (trace.result.more_than(key) > 0.0)
                + format_number(value, reading.decimals, self._style)
                for trace, value in zip(traces, values, strict=True)
            ]
            if key == "chill" and self._is_partly_ice():
                texts[1] = texts[2] = "partly ice"
            said = zip(FIGURE_HEADS, texts, strict=True)
            spoken = f"{reading.name}: " + ", ".join(f"{head} {text} {reading.unit}" for head, text in said)
            yield BatchRow(reading.name, reading.unit, tuple(texts), spoken)

    def _is_partly_ice(self) -> bool:
        return self._cold.ice_share is None or self._cold.ice_share > 0.0

    def _poured(self, millilitres: float | None) -> tuple[str, str]:
        if millilitres is None:
            return "", ""
        ml = format_trimmed(millilitres, 2, self._style)
        is_poured = millilitres >= _LEAST_OZ_ML
        return ml, ounces_on_card(millilitres, self._book.settings.oz_ml).text if is_poured else ""

    def _exact(self, line: BatchLine) -> str:
        return (
            format_trimmed(line.batch_g, 2, self._style) if line.is_below_scale else self._grams(line.batch_g)
        )

    def _grams(self, value: float) -> str:
        return format_number(value, scale_decimals(self._plan.batch.round_g), self._style)

    def _fixed(self, value: float, decimals: int) -> str:
        return format_number(value, decimals, self._style)
