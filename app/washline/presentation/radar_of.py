"""From a build's readings and its target to what the radar draws."""

from collections.abc import Sequence
from dataclasses import replace

from washline.model.reading import BY_KEY
from washline.model.target import Aim, Target
from washline.presentation.radar import RadarAxis, RadarShape
from washline.presentation.readings import (
    AT_LEAST,
    Figure,
    ReadingRow,
    Readings,
    is_at_least,
    is_empty,
    reading_row,
    spread_of,
)

_AT_THE_RADAR = {"strength": "%", "length": "ml", "chill": "°C", "dilution": "%", "ethanol": "g", "mass": "g"}
"""Units short enough to stand behind the figure at the end of a spoke; the others stand in the table."""

_SOFT_EDGE_REACHES = 2.0
"""The soft edge ends at so many standard uncertainties: what is not known then reaches just so far."""

_ENDLESS = 3.0
"""How many tolerances the soft edge goes out where nothing bounds what is not known."""


def radar_shape(
    readings: Readings,
    target: Target,
    *,
    is_preview: bool = False,
    parent_name: str = "parent",
    drink_name: str = "this drink",
    rows: Sequence[ReadingRow] = (),
) -> RadarShape:
    """The shape of a build against a target. A reading without a value leaves its span open. ``rows`` are those of the
    table, where they are made already."""
    rows = rows or [reading_row(readings, aim) for aim in target.axes]
    keys = [aim.reading for aim in target.axes]
    before, parent = readings.before, readings.parent
    return RadarShape(
        axes=tuple(_axis(row, aim) for row, aim in zip(rows, target.axes, strict=True)),
        parent=None if parent is None else tuple(parent.value(key) for key in keys),
        before=None if before is None else tuple(before.value(key) for key in keys),
        sigma=tuple(_sigma(readings, aim) for aim in target.axes),
        is_preview=is_preview,
        is_empty=is_empty(readings.result),
        drink_name=drink_name,
        parent_name=parent_name,
    )


def compared(shape: RadarShape, parent_texts: tuple[str, ...]) -> RadarShape:
    """The same shape with the parent's figure before each axis' own: *6.7 → 6.2*."""
    axes = tuple(
        replace(axis, parent_text=text, value_text=_without_unit(axis))
        for axis, text in zip(shape.axes, parent_texts, strict=True)
    )
    return replace(shape, axes=axes)


def _without_unit(axis: RadarAxis) -> str:
    unit = _AT_THE_RADAR.get(axis.key, "")
    return axis.shown_value.removesuffix(f" {unit}") if unit else axis.shown_value


def target_alone(target: Target) -> RadarShape:
    """The wish without a drink: ring and circle."""
    axes = tuple(
        RadarAxis(
            key=aim.reading,
            name=BY_KEY[aim.reading].name,
            value=None,
            value_text=" ",
            state_text="",
            low=aim.low,
            ideal=aim.ideal,
            high=aim.high,
            house_step=BY_KEY[aim.reading].step,
            unit=BY_KEY[aim.reading].unit,
        )
        for aim in target.axes
    )
    return RadarShape(axes, is_empty=True)


def short_figure(shown: Figure) -> str:
    """A figure at the end of a spoke."""
    unit = _AT_THE_RADAR.get(shown.key, "")
    if shown.is_unknown:
        return shown.number
    number = f"{AT_LEAST} {shown.number}" if shown.is_at_least else shown.number
    return f"{number} {unit}" if unit else number


def _axis(row: ReadingRow, aim: Aim) -> RadarAxis:
    is_out = row.state.is_out
    return RadarAxis(
        key=row.key,
        name=row.figure.name,
        value=row.strip.value if row.strip is not None else None,
        value_text=short_figure(row.figure),
        state_text=row.state.long_words if is_out else "",
        short_state_text=row.state.words if is_out else "",
        low=aim.low,
        ideal=aim.ideal,
        high=aim.high,
        house_step=BY_KEY[aim.reading].step,
        unit=BY_KEY[aim.reading].unit,
        spoken_text=row.spoken,
        tool_tip=row.explanation,
    )


def _sigma(readings: Readings, aim: Aim) -> tuple[float, float] | None:
    value = readings.result.value(aim.reading)
    down, up = spread_of(readings.spread, aim.reading, value)
    if is_at_least(readings.result, aim.reading):
        more = readings.result.more_than(aim.reading)
        endless = _ENDLESS * ((aim.high - aim.ideal) or BY_KEY[aim.reading].step)
        up = max(up, (more if more < float("inf") else endless) / _SOFT_EDGE_REACHES)
    return (down, up) if max(down, up) > 0.0 else None
