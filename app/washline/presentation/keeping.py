"""How long the house keeps an item, and the hurdles that food-safety texts name: thresholds beside figures, no promise.

A part never outlives its shortest input: its house-made inputs and leftovers, and the fresh juice, milk, cream or egg that
is poured into it and neither heated nor fermented there. Other raw ingredients do not count, for what is done to them is
what makes a part keep, or not.
"""

import csv
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

from washline.assets import resource
from washline.engine.flags import BUFFER_WORDS, raws_of_unknown_buffer
from washline.engine.live import is_cooked
from washline.engine.result import Result
from washline.engine.step_cautions import LOW_ACID_PH, PH_MARGIN
from washline.model.book import HouseBook
from washline.model.graph import maker_of
from washline.model.house import Settings
from washline.model.item import Build, KeptAt, Leftover, RawIngredient
from washline.model.step import Ferment, items_of
from washline.presentation.contains import listed, short_names
from washline.presentation.strength_words import strength_number
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    UNIT_SPACE,
    UNKNOWN,
    NumberStyle,
    format_number,
    format_trimmed,
)

NOT_TESTED = "not tested"
NONE_SET = "none set"
UNCERTAIN = "uncertain: measure"
HURDLES_ARE_ESTIMATES = (
    "pH, water activity, alcohol and cold are hurdles named in food-safety texts. These figures are estimates; they do not "
    "show that a product is safe or shelf-stable. Measure pH, keep cold, date it, and follow your local food code or a "
    "qualified person."
)
"""What stands with every hurdle that is shown."""

LOW_WATER_ACTIVITY, WATER_ACTIVITY_MARGIN = 0.85, 0.02
"""21 CFR 114.3: low-acid food has a pH above 4.6 and a water activity above 0.85."""
FORTIFIED_PCT_VOL, SPIRIT_PCT_VOL = 15.0, 20.0
"""Oenology texts, from memory: fortified wine of 15 to 18 % vol is fairly stable, from about 20 % most infusions keep."""
COLD_C = 5.0
"""Cold holding at 5 °C (41 °F) or below: FDA Food Code, from memory."""

MOST_NAMES = 3
"""So many things of unknown buffer are named in a sentence."""

PERISHABLE = ("juice-fresh", "dairy-egg")
_DAYS_A_YEAR = 365
_PLACES = {
    KeptAt.FREEZER: "freezer",
    KeptAt.FRIDGE: "fridge",
    KeptAt.ROOM: "room",
    KeptAt.ICE_WELL: "ice well",
}


@dataclass(frozen=True, slots=True)
class HouseDate:
    """How many ``days`` an item is kept, ``None`` where the house has set none: its ``own``, or what its shortest input
    leaves of them (``limit`` days, ``limited_by`` it), unless ``keeps_by`` says what lets it keep longer. ``undated`` are
    the house-made inputs without a date; ``inherited_from`` is the maker whose days a leftover takes."""

    days: int | None
    own: int | None = None
    limit: int | None = None
    limited_by: str = ""
    keeps_by: str = ""
    undated: tuple[str, ...] = ()
    inherited_from: str = ""

    @property
    def is_cut(self) -> bool:
        """Whether its shortest input shortens its own days."""
        return self.own is not None and self.days is not None and self.days < self.own

    @property
    def is_longer(self) -> bool:
        """Whether it is kept longer than its shortest input, by what the house says."""
        return self.limit is not None and self.days is not None and self.days > self.limit

    @property
    def text(self) -> str:
        """*7 days, not tested*, or that none is set."""
        return f"{days_words(self.days)}, {NOT_TESTED}" if self.days is not None else NONE_SET

    @property
    def reasons(self) -> tuple[str, ...]:
        """What is to be said of it, a sentence each."""
        told = []
        shortest = f"{self.limited_by}, {days_words(self.limit)}" if self.limit is not None else ""
        if self.inherited_from:
            told.append(f"Kept as long as the {self.inherited_from} that it is left over from.")
        if self.is_cut:
            told.append(f"Cut from {days_words(self.own)} to its shortest input: {shortest}.")
        if self.is_longer:
            told.append(f"Kept longer than its shortest input ({shortest}): {self.keeps_by.rstrip('.')}.")
        if self.days is None and self.limit is not None:
            told.append(f"Not longer than its shortest input: {shortest}.")
        told += (f"No house date is set for its {name}." for name in self.undated)
        return tuple(told)


@dataclass(frozen=True, slots=True)
class Hurdle:
    """One hurdle: the figure, where it stands against the published threshold, and whose threshold that is."""

    key: str
    name: str
    value: str
    verdict: str
    source: str
    is_uncertain: bool = False

    @property
    def text(self) -> str:
        """*pH 2.97: below 4.6*."""
        return f"{self.name} {self.value}: {self.verdict}"


@dataclass(frozen=True, slots=True)
class Proposal:
    """Days that common practice would give, and what for."""

    days: int
    words: str
    source: str

    @property
    def text(self) -> str:
        """The proposal in a sentence."""
        return f"Proposed: {days_words(self.days)} ({self.words}; {self.source}), {NOT_TESTED}."


@dataclass(frozen=True, slots=True)
class Keeping:
    """All about the keeping of one item. ``no_proposal`` says why there is none."""

    date: HouseDate
    kept_at: str
    hurdles: tuple[Hurdle, ...]
    proposal: Proposal | None = None
    no_proposal: str = ""
    caution: str = HURDLES_ARE_ESTIMATES

    @property
    def sentences(self) -> tuple[str, ...]:
        """All of it, read aloud."""
        offered = self.proposal.text if self.proposal is not None else self.no_proposal
        told = (f"House date {self.date.text}.", *self.date.reasons, f"Kept at: {self.kept_at}.")
        return (
            *told,
            *(f"{one.text}." for one in self.hurdles),
            *((offered,) if offered else ()),
            self.caution,
        )


def days_words(days: int | None) -> str:
    """Days as they are said: *7 days*, *1 year*."""
    if days is None:
        return UNKNOWN
    if days and days % _DAYS_A_YEAR == 0:
        years = days // _DAYS_A_YEAR
        return f"{years} year" if years == 1 else f"{years} years"
    return f"{days} day" if days == 1 else f"{days} days"


def house_date_of(book: HouseBook, item_id: int) -> HouseDate:
    """The house date of an item, through all that it is made of. A loop in a damaged book is cut where it closes."""
    return _Dates(book).of(item_id)


class _Dates:
    """House dates of one book, each found once."""

    def __init__(self, book: HouseBook) -> None:
        self._book = book
        self._found: dict[int, HouseDate] = {}

    def of(self, item_id: int) -> HouseDate:
        """The date of one item."""
        if item_id not in self._found:
            self._found[item_id] = HouseDate(None)
            self._found[item_id] = self._date(item_id)
        return self._found[item_id]

    def _date(self, item_id: int) -> HouseDate:
        item, maker = self._book.item(item_id), maker_of(self._book, item_id)
        own = item.house_days if item is not None else None
        if maker is None:
            return HouseDate(own, own)
        inherited_from = ""
        if isinstance(item, Leftover) and own is None:
            made = self.of(maker.id)
            own, inherited_from = made.days, maker.name if made.days is not None else ""
        inputs = tuple(self._inputs(maker))
        limits = [(name, days) for name, days in inputs if days is not None]
        undated = tuple(name for name, days in inputs if days is None)
        limited_by, limit = min(limits, key=lambda one: one[1], default=("", None))
        days = own
        if own is not None and limit is not None and not maker.keeps_by.strip():
            days = min(own, limit)
        return HouseDate(days, own, limit, limited_by, maker.keeps_by.strip(), undated, inherited_from)

    def _inputs(self, build: Build) -> Iterator[tuple[str, int | None]]:
        """The inputs that shorten a date, with their days."""
        steps = [step for step in build.steps if not step.left_out]
        changing = (place for place, step in enumerate(steps) if isinstance(step, Ferment) or is_cooked(step))
        last_changing = max(changing, default=-1)
        for place, step in enumerate(steps):
            is_changed_after = place < last_changing
            for item_id in items_of(step):
                item = self._book.item(item_id)
                if isinstance(item, Build | Leftover):
                    yield item.name, self.of(item_id).days
                elif (
                    item is not None
                    and _is_fresh(item)
                    and not is_changed_after
                    and item.house_days is not None
                ):
                    yield item.name, item.house_days


def _is_fresh(raw: RawIngredient) -> bool:
    return raw.is_poured and raw.category in PERISHABLE


def kept_words(kept_at: KeptAt, settings: Settings, style: NumberStyle = ENGLISH_STYLE) -> str:
    """Where something stands, with its temperature: *fridge, 4 °C*."""
    at_c = format_trimmed(settings.temperature_c(kept_at), 1, style)
    return f"{_PLACES[kept_at]}, {at_c}{UNIT_SPACE}°C"


def keeping_of(book: HouseBook, build: Build, result: Result, style: NumberStyle = ENGLISH_STYLE) -> Keeping:
    """The keeping of a house-made part: its date, where it stands, its hurdles, and a proposal where one may be made."""
    date = house_date_of(book, build.id)
    proposal, why_not = _proposal(build, result, date)
    return Keeping(
        date=date,
        kept_at=kept_words(build.kept_at, book.settings, style),
        hurdles=hurdles(result, build.kept_at, book.settings, style, unknown_buffers(book, build.id)),
        proposal=proposal,
        no_proposal=why_not,
    )


def unknown_buffers(book: HouseBook, build_id: int) -> tuple[str, ...]:
    """The names of what makes the pH of a build unknown, as they are said in a sentence."""
    ids = raws_of_unknown_buffer(book, build_id)
    return tuple(short_names({raw_id: book.raws[raw_id].name for raw_id in ids}).values())


def buffer_words(names: Sequence[str]) -> str:
    """Why a pH is not known: *It holds egg white, whose buffer is not known: measure it.*"""
    if not names:
        return BUFFER_WORDS
    told = listed((*names[:MOST_NAMES], "others")) if len(names) > MOST_NAMES + 1 else listed(names)
    return f"It holds {told}, whose buffer is not known: measure it."


def hurdles(
    result: Result,
    kept_at: KeptAt,
    settings: Settings,
    style: NumberStyle = ENGLISH_STYLE,
    buffers: Sequence[str] = (),
) -> tuple[Hurdle, ...]:
    """pH, water activity, alcohol and cold, each against its published threshold; ``buffers`` names what makes a pH
    unknown."""
    return (
        _ph(_threshold("ph", "pH", result, LOW_ACID_PH, PH_MARGIN, 2, style), buffers),
        _threshold(
            "water_activity", "Water activity", result, LOW_WATER_ACTIVITY, WATER_ACTIVITY_MARGIN, 3, style
        ),
        _alcohol(result, style),
        _cold(settings.temperature_c(kept_at), style),
    )


def _threshold(
    key: str, name: str, result: Result, edge: float, margin: float, decimals: int, style: NumberStyle
) -> Hurdle:
    value = result.value(key)
    shown, at = format_number(value, decimals, style), format_trimmed(edge, 2, style)
    source = "21 CFR 114.3"
    if value is None or result.is_outside(key):
        why = next(iter(result.reasons(key)), "").rstrip(".")
        return Hurdle(
            key, name, shown, f"not known ({why}): measure" if why else "not known: measure", source, True
        )
    if abs(value - edge) < margin:
        return Hurdle(key, name, shown, f"{UNCERTAIN}; the threshold is {at}", source, True)
    return Hurdle(key, name, shown, f"{'below' if value < edge else 'above'} {at}", source)


def _ph(hurdle: Hurdle, buffers: Sequence[str]) -> Hurdle:
    verdict = hurdle.verdict.replace(BUFFER_WORDS.rstrip("."), buffer_words(buffers).rstrip("."))
    return replace(hurdle, verdict=verdict)


def _alcohol(result: Result, style: NumberStyle) -> Hurdle:
    value = result.value("strength")
    shown = f"{strength_number(value, style, more=result.more_than('strength'))}{UNIT_SPACE}% vol"
    source = "oenology texts, from memory"
    if value is None:
        return Hurdle("strength", "Alcohol", UNKNOWN, "not known", source, True)
    if value >= SPIRIT_PCT_VOL:
        told = "above about 20 % vol, where most infusions keep"
    elif value >= FORTIFIED_PCT_VOL:
        told = "as fortified wine, which is fairly stable; below about 20 % vol"
    else:
        told = "too little to preserve; the threshold is about 20 % vol"
    return Hurdle("strength", "Alcohol", shown, told, source)


def _cold(at_c: float, style: NumberStyle) -> Hurdle:
    told = "at or below 5 °C" if at_c <= COLD_C else "above 5 °C: not cold"
    value = f"{format_trimmed(at_c, 1, style)}{UNIT_SPACE}°C"
    return Hurdle("cold", "Cold", value, told, "FDA Food Code, from memory")


def _proposal(build: Build, result: Result, date: HouseDate) -> tuple[Proposal | None, str]:
    if date.own is not None:
        return None, ""
    ph = result.value("ph")
    if ph is None or result.is_outside("ph"):
        return None, "No days are proposed: its pH is not known. Measure it."
    if ph > LOW_ACID_PH - PH_MARGIN:
        return (
            None,
            "No days are proposed: its pH is not shown to be below 4.6. Measure it, and ask a qualified person.",
        )
    if build.kept_at not in (KeptAt.FRIDGE, KeptAt.FREEZER):
        return None, "No days are proposed for what is not kept cold."
    row = next((one for one in _practice() if _holds(one, build, result, ph)), None)
    if row is None:
        return None, "No days are proposed for this."
    days = int(row["days"])
    limit = date.limit if date.limit is not None and not date.keeps_by else days
    return Proposal(min(days, limit), row["words"], row["source"]), ""


def _holds(row: Mapping[str, str], build: Build, result: Result, ph: float) -> bool:
    is_heated = any(is_cooked(step) for step in build.steps if not step.left_out)
    return (
        ph <= float(row["ph_high"])
        and (result.value("strength") or 0.0) >= float(row["strength_low"] or 0.0)
        and (result.value("brix_true") or 0.0) >= float(row["brix_low"] or 0.0)
        and (is_heated or row["is_heated"] != "yes")
    )


@cache
def _practice() -> tuple[Mapping[str, str], ...]:
    with resource("texts", "keeping_proposals.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))
