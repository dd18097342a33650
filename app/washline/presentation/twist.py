"""A twist beside its parent, line by line and reading by reading, in the words and figures of the comparison."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from washline.engine.result import Result
from washline.engine.trace import Share, StepTrace, Trace
from washline.model.item import Build
from washline.model.reading import BY_KEY
from washline.model.step import Add, AnyStep, Chill, Garnish, Take, Top
from washline.model.target import Target
from washline.presentation.contains import short_name
from washline.presentation.readings import Readings, axis_band, band_words, currency_sign, spread_of
from washline.presentation.row_words import RowKind, StepWords, kind_of
from washline.presentation.strip import BandStrip
from washline.quantity.formatting import UNKNOWN, NumberStyle, format_number
from washline.quantity.unit_names import UNITS

SMALLEST_BROUGHT_G = {"sugars": 0.05, "acids": 0.005, "ethanol": 0.05, "water": 0.05}
"""Differences that would be written as zero are left out."""

_DECIMALS = {"sugars": 1, "acids": 2, "ethanol": 1, "water": 1}


class Pair(Protocol):
    """Two steps that answer to one another, as the document pairs them."""

    @property
    def pairing(self) -> str:
        """same, amount, swapped, changed, added or removed."""

    @property
    def parent(self) -> AnyStep | None:
        """The parent's step."""

    @property
    def twist(self) -> AnyStep | None:
        """The twist's step."""


class Difference(Protocol):
    """One reading of both, as the document judges it."""

    @property
    def key(self) -> str:
        """The reading."""

    @property
    def parent(self) -> float | None:
        """The parent's value."""

    @property
    def twist(self) -> float | None:
        """The twist's value."""

    @property
    def change(self) -> float | None:
        """Their difference."""

    @property
    def verdict(self) -> str:
        """same, clear, within ± or unknown."""


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two builds with its figures and trace."""

    readings: Readings
    trace: Trace

    @property
    def build(self) -> Build:
        """The build."""
        return self.readings.build

    @property
    def result(self) -> Result:
        """Its readings."""
        return self.readings.result


@dataclass(frozen=True, slots=True)
class TwistLine:
    """One line of the comparison. ``difference`` is a figure with its sign, or a word (*swapped*, *same*); ``bar`` is
    the share of the longest bar, signed, 0 where there is none."""

    kind: RowKind
    parent_name: str
    parent_amount: str
    parent_unit: str
    difference: str
    bar: float
    twist_name: str
    twist_amount: str
    twist_unit: str
    brings: tuple[str, ...]
    differs: bool
    is_strong: bool

    @property
    def spoken(self) -> str:
        """The line for a screen reader."""
        before = f"{self.parent_amount} {self.parent_unit} {self.parent_name}".strip()
        after = f"{self.twist_amount} {self.twist_unit} {self.twist_name}".strip()
        parts = [before or "not there", self.difference, after or "not there", *self.brings]
        return ", ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True)
class TwistReading:
    """One reading of both: figures, change and whether it is clear, and the strip where both stand."""

    key: str
    name: str
    note: str
    parent: str
    change: str
    verdict: str
    twist: str
    strip: BandStrip | None
    is_clear: bool

    @property
    def spoken(self) -> str:
        """The row for a screen reader."""
        return f"{self.name}, {self.note}: {self.parent} to {self.twist}, change {self.change} {self.verdict}".strip()


@dataclass(frozen=True, slots=True)
class ServedLine:
    """The foot of the comparison: volumes, glass and cost."""

    parent_ml: str
    twist_ml: str
    difference: str
    bar: float
    glass: str
    cost: str


def twist_lines(pairs: Sequence[Pair], parent: Side, twist: Side) -> tuple[TwistLine, ...]:
    """All lines of the two, in the order in which they are paired."""
    moves = [_moved_ml(pair, parent, twist) for pair in pairs]
    longest = max((abs(move) for move in moves if move is not None), default=0.0)
    return tuple(_line(pair, move, longest, parent, twist) for pair, move in zip(pairs, moves, strict=True))


def served_line(parent: Side, twist: Side, longest_ml: float = 0.0) -> ServedLine:
    """The foot of the comparison."""
    style = twist.readings.style
    before, after = parent.result.value("length"), twist.result.value("length")
    change = None if before is None or after is None else after - before
    sign = currency_sign(twist.readings.settings.currency)
    costs = ", ".join(side.readings.figure("cost").text for side in (parent, twist))
    return ServedLine(
        parent_ml=format_number(before, 0, style),
        twist_ml=format_number(after, 0, style),
        difference=signed(change, 0, style),
        bar=0.0 if not change or not longest_ml else max(-1.0, min(1.0, change / longest_ml)),
        glass=glass_words(twist),
        cost=f"{costs} {sign}",
    )


def longest_move_ml(pairs: Sequence[Pair], parent: Side, twist: Side) -> float:
    """The largest difference of a line in ml: the length of a whole bar."""
    moves = (_moved_ml(pair, parent, twist) for pair in pairs)
    return max((abs(move) for move in moves if move is not None), default=0.0)


def glass_words(side: Side) -> str:
    """Glass and ice of one of them."""
    build, book = side.build, side.trace.book
    glass = book.glass_of(build)
    if glass is None:
        return "no glass chosen"
    ice_g = glass.ice_g if build.ice_g is None else build.ice_g
    ice = (build.ice or glass.ice) if ice_g > 0.0 else "no ice"
    return f"{glass.name}, {ice}" if ice else glass.name


def twist_readings(
    found: Sequence[Difference], parent: Side, twist: Side, target: Target | None
) -> tuple[TwistReading, ...]:
    """The readings of both: the axes of the target, without one those that every drink has."""
    by_key = {one.key: one for one in found}
    keys = [aim.reading for aim in target.axes] if target is not None else list(_WITHOUT_TARGET)
    return tuple(_reading(by_key[key], parent, twist, target) for key in keys)


_WITHOUT_TARGET = ("strength", "sweetness", "acidity", "bitterness", "fizz", "length", "chill")


def _reading(one: Difference, parent: Side, twist: Side, target: Target | None) -> TwistReading:
    reading, style = BY_KEY[one.key], twist.readings.style
    aim = next((aim for aim in target.axes if aim.reading == one.key), None) if target is not None else None
    note = f"{reading.unit}, {band_words(aim, style)}" if aim is not None else reading.unit
    strip = None
    if aim is not None:
        sigma = spread_of(twist.readings.spread, one.key, one.twist)
        strip = BandStrip(axis_band(aim), one.twist, sigma if max(sigma) > 0.0 else None, parent=one.parent)
    return TwistReading(
        key=one.key,
        name=reading.name,
        note=note,
        parent=parent.readings.figure(one.key).text,
        change=signed(one.change, reading.decimals, style) if one.verdict != "same" else "0",
        verdict="something is not known" if one.verdict == "unknown" else str(one.verdict),
        twist=twist.readings.figure(one.key).text,
        strip=strip,
        is_clear=one.verdict == "clear",
    )


def signed(value: float | None, decimals: int, style: NumberStyle) -> str:
    """A difference with its sign: *+1.5*, *−0.7*, *0*; ``?`` where it is not known."""
    if value is None:
        return UNKNOWN
    written = format_number(value, decimals, style)
    if not written.strip("0.,"):
        return "0"
    return written if written.startswith(style.minus) else f"+{written}"


def _line(pair: Pair, move: float | None, longest: float, parent: Side, twist: Side) -> TwistLine:
    style = twist.readings.style
    step = pair.twist or pair.parent
    assert step is not None
    before, after = _named(pair.parent, parent), _named(pair.twist, twist)
    is_same_thing = pair.pairing in ("same", "amount", "changed")
    word = {
        "swapped": "swapped",
        "same": "same",
        "changed": "done otherwise",
        "added": "added",
        "removed": "taken out",
    }
    has_figure = move is not None and pair.pairing in ("amount", "swapped") and abs(move) > 1e-9
    moved = signed(move, 1, style) if has_figure else word.get(pair.pairing, "moved")
    twist_name = after.name
    if is_same_thing:
        twist_name = "same line" if pair.pairing == "same" else "same part" if _is_line(step) else "same step"
    return TwistLine(
        kind=kind_of(step, twist.trace.book if pair.twist is not None else parent.trace.book),
        parent_name=before.name,
        parent_amount=before.amount,
        parent_unit=before.unit,
        difference=moved.removesuffix(".0") if has_figure else moved,
        bar=move / longest if has_figure and move is not None and longest > 0.0 else 0.0,
        twist_name=twist_name,
        twist_amount=after.amount,
        twist_unit=after.unit,
        brings=_brings(pair, parent, twist, style),
        differs=pair.pairing != "same",
        is_strong=pair.pairing != "same",
    )


@dataclass(frozen=True, slots=True)
class _Named:
    name: str = ""
    amount: str = ""
    unit: str = ""


def _named(step: AnyStep | None, side: Side) -> _Named:
    if step is None:
        return _Named()
    words = StepWords(side.trace, side.readings.style)
    amount = words.amount(step, side.trace.step(step.id))
    return _Named(words.name(step), amount.text, amount.unit)


def _is_line(step: AnyStep) -> bool:
    return isinstance(step, Add | Top | Garnish)


def _moved_ml(pair: Pair, parent: Side, twist: Side) -> float | None:
    """How much more the twist pours, in ml; ``None`` where one of them pours no volume."""
    volumes = [_volume_ml(pair.parent, parent), _volume_ml(pair.twist, twist)]
    if volumes[0] is None or volumes[1] is None:
        return None
    return volumes[1] - volumes[0]


def _volume_ml(step: AnyStep | None, side: Side) -> float | None:
    """What a line pours in ml at 20 °C, as typed where it was typed by volume."""
    if not isinstance(step, Add | Top | Take):
        return None
    amount = step.amount
    unit = UNITS.get(amount.unit)
    if amount.basis == "absolute" and unit is not None and amount.unit == "ml":
        return amount.number
    return side.trace.step(step.id).found_ml


def _brings(pair: Pair, parent: Side, twist: Side, style: NumberStyle) -> tuple[str, ...]:
    """What the twist's line brings more or less: grams of sugars, acids, ethanol; of water for a chill."""
    before, after = _brought(pair.parent, parent), _brought(pair.twist, twist)
    keys = ("water",) if isinstance(pair.twist or pair.parent, Chill) else ("sugars", "acids", "ethanol")
    words = []
    for key in keys:
        change = after.get(key, 0.0) - before.get(key, 0.0)
        if abs(change) >= SMALLEST_BROUGHT_G[key]:
            words.append(f"{signed(change, _DECIMALS[key], style)} g {key}")
    return tuple(words)


def _brought(step: AnyStep | None, side: Side) -> Mapping[str, float]:
    if step is None or step.left_out:
        return {}
    trace: StepTrace = side.trace.step(step.id)
    if trace.is_on_glass:
        return {}
    share: Share = trace.share
    return {
        "sugars": share.sugars_g,
        "acids": share.acids_g,
        "ethanol": share.ethanol_g,
        "water": share.grams,
    }


def only_differences(lines: Sequence[TwistLine]) -> tuple[TwistLine, ...]:
    """The lines without those that are the same in both."""
    return tuple(line for line in lines if line.differs)


def out_words(readings: Readings, target: Target | None) -> str:
    """How many readings are out: *all in band*, *1 out*; the first word of the lineage."""
    if target is None:
        return "no target"
    values = [readings.result.value(aim.reading) for aim in target.axes]
    if any(value is None for value in values):
        return "not all known"
    pairs = zip(target.axes, values, strict=True)
    out = sum(value is not None and not aim.low <= value <= aim.high for aim, value in pairs)
    return f"{out} out" if out else "all in band"


def changed_words(lines: Sequence[TwistLine]) -> str:
    """The differences in short, for the lineage: *fino sherry for vermouth, verjus 15 to 7.5 ml*."""
    words = []
    for line in lines:
        before, after = short_name(line.parent_name), short_name(line.twist_name)
        is_other = line.twist_name not in ("same part", "same step", "same line", "")
        if line.differs and is_other:
            words.append(f"{after} for {before}" if before else f"{after} added")
        elif line.differs and not line.twist_name:
            words.append(f"no {before}")
        elif line.differs and line.parent_amount != line.twist_amount:
            words.append(f"{before} {line.parent_amount} to {line.twist_amount} {line.twist_unit}".rstrip())
    return ", ".join(words)
