"""Through the build: level, strength, sweetness and acidity after each step that changes what is in the vessel."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from washline.engine.trace import StepTrace, Trace
from washline.model.reading import BY_KEY
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
    Garnish,
    Infuse,
    Line,
    Measurement,
    Rinse,
    Strain,
    Take,
    Top,
    Wash,
)
from washline.model.target import Aim
from washline.presentation.bar_lines import STRAIN_WORDS
from washline.presentation.kitchen_words import WASH_NAMES, named
from washline.presentation.row_words import item_name
from washline.presentation.strength_words import reading_number
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
        is_pour = isinstance(step, Line | Adjust)
        label = f"+ {name}" if is_pour and points else name
        points.append(
            Point(
                label, step_trace.reading_after("length"), _values(step_trace), isinstance(step, Add), (name,)
            )
        )
    return points


def _changes(step: AnyStep) -> bool:
    if isinstance(step, Garnish):
        return step.in_liquid
    if isinstance(step, BarStrain):
        # Poured through a strainer and nothing else, a drink is what it was.
        is_plain = step.way is BarStrainWay.STRAIN and not step.held_back_ml
        return not is_plain or bool(step.fresh_ice or step.fresh_ice_g)
    return isinstance(step, _CHANGES)


_CHANGES = (
    Add, Infuse, Rinse, Top, Chill, Carbonate, Wash, Strain, Take, Evaporate, Ferment, Adjust, Measurement,
)  # fmt: skip


def _name(trace: Trace, step: AnyStep) -> str:
    if isinstance(step, Line):
        return item_name(trace.book, step.item_id).split(",")[0].split(" (")[0]
    if isinstance(step, Adjust):
        names = [named(trace.book, portion.item_id).split(",")[0] for portion in step.portions]
        return " + ".join(names)
    if isinstance(step, Wash):
        return WASH_NAMES[step.kind]
    if isinstance(step, Chill):
        method = trace.book.methods.get(step.method)
        words = method.name.split(",")[0].split(":")[0] if method is not None else "chill"
        return words[:1].lower() + words[1:]
    if isinstance(step, BarStrain):
        return STRAIN_WORDS[step.way]
    return "measured" if isinstance(step, Measurement) else type(step).__name__.lower()


def _values(trace: StepTrace) -> tuple[float | None, ...]:
    return tuple(trace.reading_after(key) for key in LANES)


def merged(points: Sequence[Point], most: int) -> list[Point]:
    """At most ``most`` columns, if pours alone can make room: two neighbouring pours between which least happens become
    one that stands where the second stood."""
    runs = [(place, place + 1) for place in range(len(points))]
    sizes = [len(point.names) for point in points]
    pours = [point.is_pour for point in points]
    while len(runs) > most:
        pairs = [
            (sizes[place] + sizes[place - 1], place)
            for place in range(1, len(runs))
            if pours[place] and pours[place - 1]
        ]
        if not pairs:
            break
        size, place = min(pairs)
        runs[place - 1 : place + 1] = [(runs[place - 1][0], runs[place][1])]
        sizes[place - 1 : place + 1] = [size]
        del pours[place]
    return [_told_together(points[first:last], is_first=first == 0) for first, last in runs]


def _told_together(points: Sequence[Point], *, is_first: bool) -> Point:
    """Neighbouring pours as one column, which stands where the last of them stood."""
    if len(points) == 1:
        return points[0]
    names = tuple(name for point in points for name in point.names)
    label = f"{len(names)} lines" if is_first else f"+ {len(names)} lines"
    return replace(points[-1], label=label, names=names)


def _lane(index: int, key: str, points: Sequence[Point], aims: Sequence[Aim], style: NumberStyle) -> Lane:
    reading = BY_KEY[key]
    aim = next((aim for aim in aims if aim.reading == key), None)
    values = tuple(point.values[index] for point in points)
    known = [value for value in values if value is not None]
    top = max([*known, aim.high if aim is not None else 0.0, reading.step]) * 1.08
    texts = tuple(reading_number(key, value, reading.decimals, style) for value in values)
    return Lane(key, reading.name, reading.unit, reading.decimals, top, values, texts, aim)
