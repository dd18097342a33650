"""What a house weighs of a chill, and what a calibration makes of it: before and after, weighing by weighing."""

from collections.abc import Sequence
from dataclasses import dataclass

from washline.engine.calibrating import ChillStart, Fit
from washline.model.book import HouseBook
from washline.model.house import Calibration, Weighing, calibration_slug
from washline.problem import UserError
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    UNIT_SPACE,
    NumberStyle,
    format_number,
    format_quantity,
)

WEIGHING_HEADS = ("weighed, g", "computed, g", "off by, g", "calibrated, g", "off by, g")
WEIGHING_TIPS = (
    "Water that the drink took up, as it was weighed.",
    "What is computed for these conditions without any calibration.",
    "Computed less weighed.",
    "What is computed once it is calibrated to all these weighings.",
    "Calibrated less weighed.",
)
NO_ICE_NAMED = (
    "Name an ice of this house for the step first: what is weighed is kept for one method on one ice."
)
NOT_ON_ICE = "Nothing melts at this step, so that there is nothing to weigh."
NOT_COMPUTED = "What stood before the chill cannot be computed, so that the weighing would say nothing."


@dataclass(frozen=True, slots=True)
class Weighed:
    """Where and when something was weighed: the step, by slug its method and ice, and the day."""

    build_id: int
    step_id: int
    method: str
    ice: str
    date: str


def weighing_of(start: ChillStart | None, weighed: Weighed, *, number: float, is_final: bool) -> Weighing:
    """A weighing from what was typed: the melted mass, or, where ``is_final``, the whole drink's after the chill; g.

    Raises ``UserError`` with what was expected: no weighing is below nothing, or more than all the ice.
    """
    if not weighed.ice:
        raise UserError(NO_ICE_NAMED)
    if start is None or not all(part == part for part in start.composition):
        raise UserError(NOT_COMPUTED)
    before_g = 0.0
    for part in start.composition:
        before_g += part
    melted_g = number - before_g if is_final else number
    _check(melted_g, before_g, start, is_final=is_final)
    return Weighing(
        id=0,
        method=weighed.method,
        ice=weighed.ice,
        date=weighed.date,
        build_id=weighed.build_id,
        step_id=weighed.step_id,
        composition=tuple(float(part) for part in start.composition),
        liquid_c=start.liquid_c,
        ice_g=start.ice_g,
        ice_c=start.ice_c,
        surface_water_g=start.surface_water_g,
        seconds=start.seconds,
        vessel_j_per_k=start.vessel_j_per_k,
        vessel_c=start.vessel_c,
        melted_g=melted_g,
    )


def _check(melted_g: float, before_g: float, start: ChillStart, *, is_final: bool) -> None:
    most_g = start.ice_g + start.surface_water_g
    if melted_g < 0.0:
        before = format_quantity(before_g, 1, "g")
        expected = f"more than the {before} that stood there before ice" if is_final else "0 g or more"
        raise UserError(f"Less cannot have melted than nothing. Expected {expected}.")
    if melted_g > most_g:
        most = format_quantity(most_g, 0, "g")
        raise UserError(f"More cannot have melted than the {most} of ice and the water on it.")


@dataclass(frozen=True, slots=True)
class WeighingRow:
    """One weighing under ``WEIGHING_HEADS``: the day and what it was of, then the figures."""

    weighing_id: int
    name: str
    cells: tuple[str, ...]

    @property
    def spoken(self) -> str:
        """The row as it is read aloud."""
        cells = (f"{head} {cell}" for head, cell in zip(WEIGHING_HEADS, self.cells, strict=True) if cell)
        return f"{self.name}. {', '.join(cells)}"


def weighing_rows(
    book: HouseBook, weighings: Sequence[Weighing], fit: Fit | None, style: NumberStyle = ENGLISH_STYLE
) -> tuple[WeighingRow, ...]:
    """Each weighing beside what is computed for it, before a calibration to all of them and after it."""
    return tuple(
        WeighingRow(one.id, _name(book, one), _cells(one, place, fit, style))
        for place, one in enumerate(weighings)
    )


def _name(book: HouseBook, weighing: Weighing) -> str:
    build = book.builds.get(weighing.build_id) if weighing.build_id is not None else None
    what = build.name if build is not None else weighing.note
    return f"{weighing.date}, {what}" if what else weighing.date


def _cells(weighing: Weighing, place: int, fit: Fit | None, style: NumberStyle) -> tuple[str, ...]:
    weighed = format_number(weighing.melted_g, 1, style)
    if fit is None:
        return (weighed, "", "", "", "")
    before, after = fit.computed_g[place], fit.fitted_g[place]
    return (
        weighed,
        format_number(before, 1, style),
        _signed(before - weighing.melted_g, style),
        format_number(after, 1, style),
        _signed(after - weighing.melted_g, style),
    )


def _signed(number: float, style: NumberStyle) -> str:
    text = format_number(number, 1, style)
    return f"+{text}" if number > 0.0 and text.strip("0.,") else text


def calibration_of(method: str, ice: str, date: str, fit: Fit, count: int) -> Calibration:
    """The calibration that a fit to ``count`` weighings makes."""
    return Calibration(
        slug=calibration_slug(method, ice),
        method=method,
        ice=ice,
        date=date,
        tau_s=fit.tau_s,
        surface_water_pct=fit.surface_water_pct,
        factor=fit.factor,
        offset=fit.offset,
        weighings=count,
        left_ml_per_100_ml=fit.left_ml_per_100_ml,
    )


def fit_words(fit: Fit, style: NumberStyle = ENGLISH_STYLE) -> str:
    """What the fit finds, in words: *Time constant 11.8 s, 2.1 % of water on the ice; it leaves ± 0.9 ml per 100 ml.*"""
    found = []
    if fit.tau_s is not None:
        found.append(f"time constant {format_quantity(fit.tau_s, 1, 's', style)}")
    if fit.surface_water_pct is not None:
        found.append(f"{format_quantity(fit.surface_water_pct, 1, '%', style)} of water on the ice")
    if fit.factor != 1.0:
        found.append(f"published dilution times {format_number(fit.factor, 2, style)}")
    if fit.offset != 0.0:
        millilitres = _signed(100.0 * fit.offset, style)
        found.append(f"published dilution {millilitres}{UNIT_SPACE}ml per 100{UNIT_SPACE}ml")
    left = fit.left_ml_per_100_ml
    rest = (
        ""
        if left is None
        else f"; it leaves ± {format_number(left, 1, style)}{UNIT_SPACE}ml per 100{UNIT_SPACE}ml"
    )
    words = ", ".join(found) or "nothing to correct"
    return f"{words[:1].upper()}{words[1:]}{rest}."
