"""The readings of a build in words: figures with their spread, where they stand in their band, gates, plain figures."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from washline.chemistry.alcohol import standard_drink
from washline.chemistry.carbonation import volumes_from_g_per_l
from washline.engine.flags import BUFFER_WORDS
from washline.engine.result import Result
from washline.engine.spread import Spread
from washline.model.house import Settings
from washline.model.item import Build
from washline.model.reading import BY_KEY, READING_INDEX, Reading
from washline.model.target import Aim, Target
from washline.presentation.contributions import Contribution as Contribution
from washline.presentation.contributions import contributions as contributions
from washline.presentation.keeping import NOT_TESTED, HouseDate, buffer_words
from washline.presentation.shape import Band
from washline.presentation.strength_words import NEVER_NONE, is_trace, proof_words, strength_number
from washline.presentation.strip import BandStrip
from washline.problem import UserError
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    LESS_THAN_LAST_DIGIT,
    UNKNOWN,
    NumberStyle,
    format_number,
    format_quantity,
    format_trimmed,
    rounded,
    spread_columns,
    spread_decimals,
)

AT_LEAST = "at least"
NOTHING_POURED = "Nothing is poured yet."
NO_ACID = "There is no acid to divide by."
MAY_BE_HIGHER = "Something in it is not known, so that it may be higher."
HOUSE_DATE_EXPLAINED = (
    "The house's own date, not tested. Follow the local food code for how long anything keeps."
)
NOISE = 1e-9
"""A spread smaller than this share of its value is what rounding leaves, and no doubt about anything."""

LEFT_TO_OTHERS = ("mass", "energy_kj", "brix_shown", "length_served")
"""Readings that have no plain line of their own: they stand beside another, or are the foot of the build."""

MAIN_READINGS = ("strength", "sweetness", "acidity", "bitterness", "fizz", "length")
"""What stands in the table without a target."""

PLAIN_ORDER = (
    "strength",
    "sweetness",
    "acidity",
    "bitterness",
    "fizz",
    "length",
    "ph",
    "sugar_acid_ratio",
    "dilution",
    "chill",
    "freezing",
    "ethanol",
    "energy_kcal",
    "cost",
    "salt",
    "density",
    "water_activity",
    "brix_true",
)
"""The plain figures in order; those that the target has as axes are left out."""

_CURRENCY_SIGNS = {"EUR": "€", "GBP": "£", "USD": "$", "JPY": "¥"}
_OF_THE_GLASS = ("chill", "dilution")

_PLAIN_NAMES = {"chill": "Served at", "freezing": "Freezes at", "brix_true": "°Bx true"}


def currency_sign(code: str) -> str:
    """The sign of a currency, or its code."""
    return _CURRENCY_SIGNS.get(code, code)


@dataclass(frozen=True, slots=True)
class Figure:
    """One reading as it is shown. ``number`` is the figure alone, ``?`` where there is none; ``spread`` is empty where
    nothing makes it uncertain. ``reasons`` say why it is missing, greyed or less sure than usual; ``decimals`` are those
    that its ± bears. ``also`` are the same said in other words: proof, volumes of gas, the volume as served."""

    key: str
    name: str
    number: str
    unit: str
    spread: str = ""
    is_at_least: bool = False
    is_greyed: bool = False
    reasons: tuple[str, ...] = ()
    decimals: int = 0
    also: tuple[str, ...] = ()

    @property
    def is_unknown(self) -> bool:
        """Whether there is no figure."""
        return self.number == UNKNOWN

    @property
    def text(self) -> str:
        """The figure with *at least* before it where something is not known; without its unit."""
        return f"{AT_LEAST} {self.number}" if self.is_at_least else self.number

    @property
    def spoken(self) -> str:
        """Figure, unit and ± as they are read aloud."""
        if self.is_unknown:
            return "not known"
        spread = self.spread.replace("± ", "plus or minus ").replace("<", "less than")
        return ", ".join(part for part in (f"{self.text} {self.unit}".strip(), spread) if part)

    @property
    def explanation(self) -> str:
        """The tooltip: what the reading is, its unit, and what is to be said of it now."""
        reading = BY_KEY[self.key]
        unit = f"Unit: {self.unit}" if self.unit else ""
        at_least = MAY_BE_HIGHER if self.is_at_least else ""
        spread = f"{self.spread}: one standard uncertainty." if self.spread else ""
        return "\n".join(
            line
            for line in (f"{reading.definition}.", unit, *self.also, spread, at_least, *self.reasons)
            if line
        )


@dataclass(frozen=True, slots=True)
class BandState:
    """Where a figure stands: *in band*, *over 0.7*; the radar says *over by 0.7*."""

    words: str
    long_words: str = ""
    is_out: bool = False


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One axis of the target: its figure, its strip, where it stands, and the band in the real unit. Without a target
    there is the figure alone."""

    figure: Figure
    strip: BandStrip | None = None
    state: BandState = BandState("")
    band: str = ""
    ideal: str = ""
    has_moved: bool = False

    @property
    def key(self) -> str:
        """The key of the reading."""
        return self.figure.key

    @property
    def spoken(self) -> str:
        """The whole row, its strip in words, for a screen reader."""
        state = "" if self.figure.is_unknown else self.state.long_words or self.state.words
        head = f"{self.figure.name} {self.figure.spoken}"
        moved = "preview" if self.has_moved else ""
        words = ", ".join(part for part in (head, state, moved, self._band_words) if part)
        return ". ".join((words, *self.figure.reasons))

    @property
    def _band_words(self) -> str:
        unit = f" {self.figure.unit}" if self.figure.unit else ""
        return f"band {self.band}{unit}, ideal {self.ideal}" if self.band else ""

    @property
    def explanation(self) -> str:
        """The tooltip, with band and ideal."""
        band = self._band_words
        return f"{self.figure.explanation}\n{band[:1].upper()}{band[1:]}".rstrip()


@dataclass(frozen=True, slots=True)
class GateRow:
    """A limit of the target that is no axis, and whether it is kept."""

    key: str
    limit: str
    verdict: str
    is_broken: bool
    is_unsure: bool
    explanation: str

    @property
    def spoken(self) -> str:
        """The line for a screen reader."""
        return f"Gate: {self.limit}: {self.verdict}"


@dataclass(frozen=True, slots=True)
class PlainRow:
    """A figure that is no axis: name, figure, and what stands behind it (unit, units of alcohol, kilojoules)."""

    key: str
    name: str
    number: str
    tail: str
    is_greyed: bool = False
    is_at_least: bool = False
    has_moved: bool = False
    explanation: str = ""
    reasons: tuple[str, ...] = ()

    @property
    def shown_name(self) -> str:
        """The name, with *at least* behind it where something is not known."""
        return f"{self.name} {AT_LEAST}" if self.is_at_least else self.name

    @property
    def spoken(self) -> str:
        """The figure for a screen reader."""
        number = "not known" if self.number == UNKNOWN else self.number
        return f"{self.shown_name} {number} {self.tail}".replace("±", "plus or minus").strip()


@dataclass(frozen=True, slots=True)
class Balance:
    """All figures of the balance pane, in the order in which they stand there."""

    rows: tuple[ReadingRow, ...]
    gates: tuple[GateRow, ...]
    plain: tuple[PlainRow, ...]

    @property
    def reasons(self) -> tuple[str, ...]:
        """Why figures are missing or greyed, each reason once with the names it holds for; of a plain figure the first
        reason, for all stand in its tooltip."""
        names: dict[str, list[str]] = {}
        figures = [row.figure for row in self.rows]
        for shown in figures:
            if shown.is_unknown or shown.is_greyed:
                for reason in shown.reasons:
                    names.setdefault(reason, []).append(shown.name)
        for plain in self.plain:
            if plain.number == UNKNOWN or plain.is_greyed:
                for reason in plain.reasons[:1]:
                    names.setdefault(reason, []).append(plain.name)
        every = len(self.rows)
        return tuple(
            reason if len(held) >= every > 1 else f"{held[0]}{_lower(held[1:])}: {reason}"
            for reason, held in names.items()
        )

    @property
    def spoken_states(self) -> tuple[tuple[str, str], ...]:
        """For each axis its key and its state in words: what is announced when it changes."""
        return tuple((row.key, row.state.words) for row in self.rows)


def _lower(names: Sequence[str]) -> str:
    return "".join(f", {name[:1].lower()}{name[1:]}" for name in names)


@dataclass(frozen=True, slots=True)
class Readings:
    """What the words are made of: one build's readings now, their spread, those before typing and the parent's.

    ``shown`` holds the decimals that each reading has on the screen, so that they do not flicker; ``date`` is the house
    date through all that it is made of, and the build's own where it is not given; ``unknown_buffers`` names what makes
    a pH unknown.
    """

    build: Build
    settings: Settings
    result: Result
    spread: Spread | None = None
    before: Result | None = None
    parent: Result | None = None
    style: NumberStyle = ENGLISH_STYLE
    shown: Mapping[str, int] | None = None
    date: HouseDate | None = None
    unknown_buffers: tuple[str, ...] = ()

    def figure(self, key: str) -> Figure:
        """One reading as it is shown."""
        shown = figure(self.result, key, self.spread, self.settings, self.style, (self.shown or {}).get(key))
        if BUFFER_WORDS not in shown.reasons:
            return shown
        told = buffer_words(self.unknown_buffers)
        return replace(shown, reasons=tuple(told if one == BUFFER_WORDS else one for one in shown.reasons))

    def has_moved(self, key: str) -> bool:
        """Whether typing changes what is shown of a reading."""
        if self.before is None:
            return False
        now, before = self.result.value(key), self.before.value(key)
        if now == before:
            return False
        decimals = BY_KEY[key].decimals
        return format_number(now, decimals, self.style) != format_number(before, decimals, self.style)


def spread_of(spread: Spread | None, key: str, value: float | None) -> tuple[float, float]:
    """One standard uncertainty downward and upward, without what rounding leaves; zeros where there is none."""
    if spread is None or value is None:
        return 0.0, 0.0
    index = READING_INDEX[key]
    smallest = NOISE * max(abs(value), 1.0)
    down, up = float(spread.down[index]), float(spread.up[index])
    return (down if down > smallest else 0.0), (up if up > smallest else 0.0)


def is_at_least(result: Result, key: str) -> bool:
    """Whether what is not known could move the last digit that is shown."""
    value, more = result.value(key), result.more_than(key)
    if value is None or not more > 0.0:
        return False
    decimals = BY_KEY[key].decimals
    return more == float("inf") or rounded(value + more, decimals) != rounded(value, decimals)


def figure(
    result: Result,
    key: str,
    spread: Spread | None,
    settings: Settings,
    style: NumberStyle,
    shown: int | None = None,
) -> Figure:
    """A reading in words. ``shown`` are the decimals on the screen now."""
    reading, value = BY_KEY[key], result.value(key)
    sigma = max(spread_of(spread, key, value))
    unit = currency_sign(settings.currency) if key == "cost" else reading.unit
    number, plus_minus = spread_columns(value, sigma, style, reading.decimals, shown)
    is_bound = is_at_least(result, key)
    if key in NEVER_NONE and is_trace(value):
        number, plus_minus, is_bound = strength_number(value, style, more=result.more_than(key)), "", False
    if plus_minus == LESS_THAN_LAST_DIGIT:
        plus_minus = f"< {format_number(10.0**-reading.decimals, reading.decimals, style)}"
    reasons = result.reasons(key)
    if value is None and (not reasons or is_empty(result)):
        reasons = (_why_none(result, key),)
    elif number == UNKNOWN and not reasons:
        reasons = (MAY_BE_HIGHER,)
    return Figure(
        key=key,
        name=reading.name,
        number=number,
        unit=unit,
        spread=f"± {plus_minus}" if plus_minus and value is not None else "",
        is_at_least=is_bound,
        is_greyed=result.is_outside(key),
        reasons=reasons,
        decimals=min(spread_decimals(sigma, shown), reading.decimals) if sigma > 0.0 else reading.decimals,
        also=_also(result, key, settings, style),
    )


def _also(result: Result, key: str, settings: Settings, style: NumberStyle) -> tuple[str, ...]:
    """A reading in other words, where there are some."""
    value = result.value(key)
    if value is None:
        return ()
    if key == "strength":
        words = proof_words(value, settings.alcohol_units, style)
    elif key == "fizz":
        words = (
            f"{format_number(float(volumes_from_g_per_l(value)), 1, style)} volumes of gas"
            if value > 0.0
            else ""
        )
    else:
        words = _as_served(result, style) if key == "length" else ""
    return (words,) if words else ()


def _as_served(result: Result, style: NumberStyle) -> str:
    served, chill_c = result.value("length_served"), result.value("chill")
    if served is None or chill_c is None:
        return ""
    at = format_quantity(chill_c, 0, "°C", style)
    return f"{format_quantity(served, 0, 'ml', style)} as served, at {at}"


def is_empty(result: Result) -> bool:
    """Whether nothing is poured yet."""
    return not result.value("mass") and not result.problems


def _why_none(result: Result, key: str) -> str:
    if is_empty(result):
        return NOTHING_POURED
    return NO_ACID if key == "sugar_acid_ratio" else "It cannot be computed from what is known."


def band_words(aim: Aim, style: NumberStyle) -> str:
    """The band in the reading's unit: *0.5 to 4*."""
    return f"{format_trimmed(aim.low, 3, style)} to {format_trimmed(aim.high, 3, style)}"


def band_state(aim: Aim, result: Result, style: NumberStyle) -> BandState:
    """Where a reading stands against its band; decided on full precision."""
    value = result.value(aim.reading)
    if value is None:
        return BandState(UNKNOWN, "not known")
    may_be = value + result.more_than(aim.reading) if is_at_least(result, aim.reading) else value
    if value > aim.high:
        return _out(BY_KEY[aim.reading], value - aim.high, "over", style)
    if value < aim.low:
        if may_be >= aim.low:
            return BandState("may be under", "may be under the band")
        return _out(BY_KEY[aim.reading], aim.low - value, "under", style)
    return BandState("may be over", "may be over the band") if may_be > aim.high else BandState("in band")


def _out(reading: Reading, away: float, word: str, style: NumberStyle) -> BandState:
    number = format_trimmed(away, reading.decimals, style)
    if number == "0":
        return BandState(f"just {word}", f"just {word}", is_out=True)
    return BandState(f"{word} {number}", f"{word} by {number}", is_out=True)


def axis_band(aim: Aim) -> Band:
    """The band of an axis with the house step of its reading."""
    return Band(aim.low, aim.ideal, aim.high, BY_KEY[aim.reading].step)


def reading_row(readings: Readings, aim: Aim) -> ReadingRow:
    """The row of one axis."""
    key, result = aim.reading, readings.result
    value = result.value(key)
    down, up = spread_of(readings.spread, key, value)
    strip = BandStrip(
        band=axis_band(aim),
        value=value,
        sigma=(down, up) if max(down, up) > 0.0 else None,
        parent=readings.parent.value(key) if readings.parent is not None else None,
        before=readings.before.value(key) if readings.before is not None else None,
    )
    style = readings.style
    return ReadingRow(
        figure=readings.figure(key),
        strip=strip,
        state=band_state(aim, result, style),
        band=band_words(aim, style),
        ideal=format_trimmed(aim.ideal, 3, style),
        has_moved=readings.has_moved(key),
    )


def gate_row(readings: Readings, aim: Aim) -> GateRow:
    """The line of a limit, kept or broken, or not known."""
    reading, style = BY_KEY[aim.reading], readings.style
    value = readings.result.value(aim.reading)
    shown = readings.figure(aim.reading)
    low, high = (format_trimmed(edge, 3, style) for edge in (aim.low, aim.high))
    bound = f"at most {high}" if aim.ideal == aim.low else f"at least {low}" if aim.ideal == aim.high else ""
    limit = f"{reading.name.lower()} {bound or f'{low} to {high}'} {reading.unit}".strip()
    if value is None:
        return GateRow(aim.reading, limit, UNKNOWN, False, True, shown.explanation)
    is_broken = not aim.low <= value <= aim.high
    is_unsure = not is_broken and value + readings.result.more_than(aim.reading) > aim.high
    verdict = "broken" if is_broken else "not sure, something is not known" if is_unsure else "kept"
    verdict = f"{verdict}, {shown.text} {reading.unit}".strip() if is_broken else verdict
    return GateRow(aim.reading, limit, verdict, is_broken, is_unsure, shown.explanation)


def balance(readings: Readings, target: Target | None) -> Balance:
    """All rows of the balance pane. Without a target every reading is a plain figure."""
    if target is None:
        rows = tuple(
            ReadingRow(readings.figure(key), has_moved=readings.has_moved(key)) for key in MAIN_READINGS
        )
        gates: tuple[GateRow, ...] = ()
    else:
        rows = tuple(reading_row(readings, aim) for aim in target.axes)
        gates = tuple(gate_row(readings, aim) for aim in target.gates)
    taken = {row.key for row in rows}
    return Balance(
        rows=rows,
        gates=gates,
        plain=plain_rows(readings, [key for key in PLAIN_ORDER if key not in taken]),
    )


def plain_rows(readings: Readings, keys: Sequence[str]) -> tuple[PlainRow, ...]:
    """The plain figures of these readings, and the house date of a part, which is neither chilled nor served."""
    rows = []
    for key in keys:
        if key in _OF_THE_GLASS and not readings.build.is_drink:
            continue
        rows.append(_plain_row(readings, key))
        if key == "brix_true":
            shown = readings.figure("brix_shown")
            rows.append(_plain(readings, shown, "°Bx as shown", _told(shown.spread)))
    has_date = not readings.build.is_drink or readings.build.house_days is not None
    if not has_date:
        return tuple(rows)
    date = readings.date if readings.date is not None else HouseDate(readings.build.house_days)
    return (*rows, house_date(date, readings.style))


def _plain_row(readings: Readings, key: str) -> PlainRow:
    shown = readings.figure(key)
    tail = f"{shown.unit} {_told(shown.spread)}".strip()
    if key == "ethanol":
        tail = f"{shown.unit} · {units_words(readings)}" if not shown.is_unknown else ""
    elif key == "energy_kcal":
        joules = readings.figure("energy_kj")
        tail = f"kcal · {joules.number} kJ" if not shown.is_unknown else ""
    elif key in ("sugar_acid_ratio", "brix_true"):
        tail = _told(shown.spread)
    elif shown.also:
        tail = f"{tail} · {shown.also[0].partition(' of gas')[0].partition(', at')[0]}"
    return _plain(readings, shown, _PLAIN_NAMES.get(key, shown.name), tail)


def _told(spread: str) -> str:
    """The ± of a plain figure; one below the last digit stands in the tooltip."""
    return "" if "<" in spread else spread


def _plain(readings: Readings, shown: Figure, name: str, tail: str) -> PlainRow:
    return PlainRow(
        key=shown.key,
        name=name,
        number=shown.number,
        tail="" if shown.is_unknown else tail,
        is_greyed=shown.is_greyed,
        is_at_least=shown.is_at_least,
        has_moved=readings.has_moved(shown.key),
        explanation=shown.explanation,
        reasons=shown.reasons,
    )


def units_words(readings: Readings) -> str:
    """The alcohol in the units that the house counts in, always with the grams of one: *0.9 units of 10 g*."""
    grams, style = readings.result.value("ethanol"), readings.style
    try:
        unit = standard_drink(readings.settings.alcohol_units)
    except UserError:
        return f"no unit of alcohol is set for {readings.settings.alcohol_units}"
    number = format_number(None if grams is None else grams / unit.grams, 1, style)
    return f"{number} units of {format_trimmed(unit.grams, 2, style)} g"


def house_date(date: HouseDate, style: NumberStyle) -> PlainRow:
    """How long the house keeps it: its own date, not tested, and never longer than its shortest input."""
    explanation = "\n".join((HOUSE_DATE_EXPLAINED, *date.reasons))
    if date.days is None:
        return PlainRow("house_date", "House date", UNKNOWN, "none set", explanation=explanation)
    word = "day" if date.days == 1 else "days"
    number = format_number(date.days, 0, style)
    return PlainRow("house_date", "House date", number, f"{word}, {NOT_TESTED}", explanation=explanation)
