"""Through the build: level, strength, sweetness and acidity after each step that changes what is in the vessel."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from washline.engine.trace import StepTrace, Trace
from washline.model.reading import BY_KEY, READING_INDEX
from washline.model.step import Add, AnyStep, Chill, Dry, Garnish, Heat, Reduce, Strain, Take, Top
from washline.model.target import Aim
from washline.presentation.row_words import item_name
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_number

LANES = ("strength", "sweetness", "acidity")
"""The readings that have a lane of their own, from top to bottom."""


@dataclass(frozen=True, slots=True)
class Point:
    """One column: what happened, the level in ml and the reading of each lane (``None``: not known).

    ``is_pour`` says that it only adds, so that it may be told together with its neighbour.
    """

    label: str
    level_ml: float | None
    values: tuple[float | None, ...]
    is_pour: bool
    names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Lane:
    """One reading from step to step, on its own scale from zero to ``top``, with what the target wants at the end."""

    key: str
    name: str
    unit: str
    decimals: int
    top: float
    values: tuple[float | None, ...]
    texts: tuple[str, ...]
    aim: Aim | None


@dataclass(frozen=True, slots=True)
class ThroughBuild:
    """All columns and lanes of one build; ``level_top_ml`` is the height of the little vessels."""

    points: tuple[Point, ...]
    lanes: tuple[Lane, ...]
    level_top_ml: float
    level_texts: tuple[str, ...]
    wash_line_ml: float | None

    @property
    def sentence(self) -> str:
        """The same in one sentence, for a screen reader."""
        if not self.points:
            return "Nothing is in the vessel yet."
        parts = [f"{len(self.points)} steps"]
        parts += [f"{lane.name} ends at {lane.texts[-1]} {lane.unit}".strip() for lane in self.lanes]
        if self.level_texts[-1]:
            parts.append(f"level ends at {self.level_texts[-1]} ml")
        return ", ".join(parts)


def through_build(
    trace: Trace, aims: Sequence[Aim] = (), style: NumberStyle = ENGLISH_STYLE, most: int = 8
) -> ThroughBuild:
    """The columns of a build, at most ``most`` of them: pours one after another are told together where there are more.

    The last column is the drink as it is served (with what it loses on pouring).
    """
    points = merged(_points(trace), max(2, most))
    if points:
        served = tuple(trace.result.value(key) for key in LANES)
        last = points[-1]
        label = f"{last.label}, served" if trace.build.is_drink else f"{last.label}, bottled"
        points[-1] = replace(last, label=label, values=served, level_ml=trace.result.value("length"))
    known = [point.level_ml for point in points if point.level_ml is not None]
    # A level above the wash line must stand above it in its vessel too.
    highest = max([*known, (trace.wash_line_ml or 0.0) * 1.06, 1.0])
    return ThroughBuild(
        points=tuple(points),
        lanes=tuple(_lane(index, key, points, aims, style) for index, key in enumerate(LANES)),
        level_top_ml=highest * 1.02,
        level_texts=tuple(format_number(point.level_ml, 0, style) for point in points),
        wash_line_ml=trace.wash_line_ml,
    )


def _points(trace: Trace) -> list[Point]:
    points: list[Point] = []
    for step, step_trace in zip(trace.build.steps, trace.steps, strict=True):
        if step.left_out or not _changes(step):
            continue
        name = _name(trace, step)
        is_pour = isinstance(step, Add | Top | Garnish)
        label = f"+ {name}" if is_pour and points else name
        points.append(
            Point(label, _reading(step_trace, "length"), _values(step_trace), isinstance(step, Add), (name,))
        )
    return points


def _changes(step: AnyStep) -> bool:
    if isinstance(step, Garnish):
        return step.in_liquid
    return isinstance(step, Add | Top | Chill | Strain | Take | Heat | Reduce | Dry)


def _name(trace: Trace, step: AnyStep) -> str:
    if isinstance(step, Add | Top | Garnish):
        return item_name(trace.book, step.item_id).split(",")[0].split(" (")[0]
    if isinstance(step, Chill):
        method = trace.book.methods.get(step.method)
        words = method.name.split(",")[0].split(":")[0] if method is not None else "chill"
        return words[:1].lower() + words[1:]
    return type(step).__name__.lower()


def _reading(trace: StepTrace, key: str) -> float | None:
    value = float(trace.readings_after[READING_INDEX[key]])
    return None if value != value else value


def _values(trace: StepTrace) -> tuple[float | None, ...]:
    return tuple(_reading(trace, key) for key in LANES)


def merged(points: Sequence[Point], most: int) -> list[Point]:
    """At most ``most`` columns, if pours alone can make room: two neighbouring pours between which least happens become
    one that stands where the second stood."""
    kept = list(points)
    while len(kept) > most:
        pairs = [place for place in range(1, len(kept)) if kept[place].is_pour and kept[place - 1].is_pour]
        if not pairs:
            return kept
        least = min(pairs, key=lambda place: (len(kept[place].names) + len(kept[place - 1].names), place))
        first, second = kept[least - 1], kept[least]
        names = (*first.names, *second.names)
        label = f"+ {len(names)} lines" if least > 1 else f"{len(names)} lines"
        kept[least - 1 : least + 1] = [replace(second, label=label, names=names)]
    return kept


def _lane(index: int, key: str, points: Sequence[Point], aims: Sequence[Aim], style: NumberStyle) -> Lane:
    reading = BY_KEY[key]
    aim = next((aim for aim in aims if aim.reading == key), None)
    values = tuple(point.values[index] for point in points)
    known = [value for value in values if value is not None]
    top = max([*known, aim.high if aim is not None else 0.0, reading.step]) * 1.08
    texts = tuple(format_number(value, reading.decimals, style) for value in values)
    return Lane(key, reading.name, reading.unit, reading.decimals, top, values, texts, aim)
