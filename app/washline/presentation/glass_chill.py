"""The chill table: what melted at each chill by the balance of heat, as published, as weighed, and what counts."""

from collections.abc import Sequence
from dataclasses import dataclass

from washline.engine.trace import Trace
from washline.engine.traced_ice import ChillTrace
from washline.model.book import HouseBook
from washline.model.house import Calibration, Method, MethodKind, Weighing
from washline.model.step import AnyStep, BarStrain, Chill, ChillBy
from washline.presentation.bar_words import STRAIN_NAMES, glass_words, met_no_ice
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    UNIT_SPACE,
    NumberStyle,
    format_number,
    format_quantity,
    format_trimmed,
)

HEADS = (
    "balance, g",
    "published, g",
    "weighed, g",
    "used, g",
    "from, °C",
    "end, °C",
    "equilibrium, °C",
    "ice left, g",
)
HEAD_TIPS = (
    "Water from ice by the balance of heat of liquid, ice and vessel.",
    "Water from ice by the published dilution of this way of chilling.",
    "Water from ice as this house weighed it.",
    "Water from ice that this drink counts.",
    "Temperature of the liquid before the chill.",
    "Temperature of the liquid after it.",
    "Where liquid and ice would come to rest.",
    "Ice that is left of this chill, in the tin or in the glass.",
)
NOTHING_CHILLS = "Nothing chills this. Add a step in the build, such as “stir 25 s” or “shake 10 s”."
NOTHING_CHILLS_PART = "Nothing chills this part."
USED = 3
"""The column of what counts."""

_BY = {
    "weighed": "Weighed: it wins over what is computed.",
    "published": "Published dilution: it was made for this strength, temperature and ice.",
    "balance": "Balance of heat: the published dilution was not made for this strength, temperature or ice.",
    "between": "Between the two: at the edge of what the published dilution was made for.",
    "none": "Nothing melts.",
}
_WITHOUT_MELT = (MethodKind.NO_ICE, MethodKind.COLD_STORE, MethodKind.HOT, MethodKind.OTHER)


@dataclass(frozen=True, slots=True)
class ChillRow:
    """One chill: its cells under ``HEADS``, and what is to be said of it in sentences. ``method`` and ``ice`` are slugs,
    the ice empty where none of the house's is meant; ``weighings`` are those of this step, the newest last.
    ``is_of_glass``: no ice is met, the drink and its glass only share their heat."""

    step_id: int
    name: str
    cells: tuple[str, ...]
    sentences: tuple[str, ...]
    method: str = ""
    ice: str = ""
    weighings: tuple[Weighing, ...] = ()
    is_weighed: bool = False
    can_weigh: bool = False
    is_of_glass: bool = False

    @property
    def spoken(self) -> str:
        """The row as it is read aloud."""
        cells = (f"{head} {cell}" for head, cell in zip(HEADS, self.cells, strict=True) if cell)
        return ". ".join((self.name, ", ".join(cells), *(words.rstrip(".") for words in self.sentences)))


def chill_rows(trace: Trace, style: NumberStyle = ENGLISH_STYLE) -> tuple[ChillRow, ...]:
    """The chills of a build in order; steps left out do not count."""
    rows = []
    for step in trace.build.steps:
        facts = None if step.left_out else trace.step(step.id).chill
        if facts is not None:
            rows.append(chill_row(trace.book, step, facts, style))
    return tuple(rows)


def chill_row(
    book: HouseBook, step: AnyStep, facts: ChillTrace, style: NumberStyle = ENGLISH_STYLE
) -> ChillRow:
    """One chill in words and figures."""
    if isinstance(step, BarStrain) and met_no_ice(facts):
        return _glass_row(book, step, facts, style)
    method = book.methods.get(step.method) if isinstance(step, Chill) else None
    ice = book.ice_named(_ice_words(step, method))
    weighings = weighings_for(book, step)
    is_weighed = facts.by == "weighed"
    return ChillRow(
        step_id=step.id,
        name=_name(step, method),
        cells=_cells(facts, weighings, style),
        sentences=tuple(_sentences(book, step, method, facts, weighings, style)),
        method=method.slug if method is not None else "",
        ice=ice.slug if ice is not None else "",
        weighings=weighings,
        is_weighed=is_weighed,
        can_weigh=method is not None and method.kind not in _WITHOUT_MELT,
    )


def _glass_row(book: HouseBook, step: BarStrain, facts: ChillTrace, style: NumberStyle) -> ChillRow:
    """A drink that meets its glass and no ice: there is nothing to melt and no equilibrium with ice."""
    words = glass_words(facts, style)
    cells = ("",) * 4 + tuple(format_number(one, 1, style) for one in (facts.from_c, facts.end_c)) + ("", "")
    return ChillRow(
        step_id=step.id,
        name=STRAIN_NAMES[step.way],
        cells=cells,
        sentences=(f"No ice: {words}.", f"The glass is {_glass_at(book, step, style)}."),
        is_of_glass=True,
    )


def _glass_at(book: HouseBook, step: BarStrain, style: NumberStyle) -> str:
    if step.vessel_c is not None:
        return f"at {format_quantity(step.vessel_c, 1, '°C', style)}"
    return f"as warm as the room, at {format_quantity(book.settings.room_c, 1, '°C', style)}"


def weighings_for(book: HouseBook, step: AnyStep) -> tuple[Weighing, ...]:
    """What the house weighed of a step, the newest last."""
    found = (
        one for one in book.weighings.values() if one.build_id == step.build_id and one.step_id == step.id
    )
    return tuple(sorted(found, key=lambda one: (one.date, one.id)))


def _ice_words(step: AnyStep, method: Method | None) -> str:
    if isinstance(step, BarStrain):
        return step.fresh_ice
    own = step.ice if isinstance(step, Chill) else ""
    return own or (method.ice if method is not None else "")


def _name(step: AnyStep, method: Method | None) -> str:
    if isinstance(step, BarStrain):
        return f"strain over {step.fresh_ice}" if step.fresh_ice else "strain over fresh ice"
    if method is not None:
        return method.name
    return getattr(step, "method", "") or "chill"


def _cells(facts: ChillTrace, weighings: Sequence[Weighing], style: NumberStyle) -> tuple[str, ...]:
    weighed = facts.melted_g if facts.by == "weighed" else weighings[-1].melted_g if weighings else None

    def grams(value: float | None) -> str:
        return "" if value is None else format_number(value, 1, style)

    return (
        grams(facts.balance_g),
        grams(facts.published_g),
        grams(weighed),
        format_number(facts.melted_g, 1, style),
        format_number(facts.from_c, 1, style),
        format_number(facts.end_c, 1, style),
        grams(facts.equilibrium_c),
        format_number(facts.ice_left_g, 0, style) if facts.ice_g > 0.0 else "",
    )


def _sentences(
    book: HouseBook,
    step: AnyStep,
    method: Method | None,
    facts: ChillTrace,
    weighings: Sequence[Weighing],
    style: NumberStyle,
) -> list[str]:
    told = [_why(step, facts)]
    ice = book.ice_named(_ice_words(step, method))
    calibration = book.calibration_of(method.slug, ice) if method is not None else None
    if facts.is_calibrated and calibration is not None:
        told.append(calibrated_words(calibration, style))
    if isinstance(step, BarStrain) and book.settings.glass_j_per_k > 0.0:
        told.append(f"The glass, {_glass_at(book, step, style)}, shares its heat before the ice melts.")
    if facts.ice_g > 0.0:
        told.append(_conditions(ice.name if ice is not None else _ice_words(step, method), facts, style))
    if facts.frozen_pct:
        frozen = format_number(facts.frozen_pct, 0, style)
        told.append(f"Colder than its freezing point: {frozen}{UNIT_SPACE}% of it is frozen.")
    if abs(facts.cold_left_j) >= 500.0:
        told.append(_cold_left(facts.cold_left_j, style))
    if isinstance(step, Chill) and step.end_c is not None:
        told.append("The end temperature is as measured.")
    if weighings and facts.by != "weighed":
        told.append(_weighed_beside(weighings, facts, style))
    return told


def _why(step: AnyStep, facts: ChillTrace) -> str:
    """Why what is used is used."""
    by = step.by if isinstance(step, Chill) else ChillBy.USUAL
    if facts.by == by.value:
        return f"{'Balance of heat' if by is ChillBy.BALANCE else 'Published dilution'}, as asked for."
    if facts.by == "balance" and facts.published_g is None:
        return "Balance of heat: no published dilution was made for this way."
    return _BY.get(facts.by, f"{facts.by[:1].upper()}{facts.by[1:]}.")


def _conditions(ice: str, facts: ChillTrace, style: NumberStyle) -> str:
    grams = format_quantity(facts.ice_g, 0, "g", style)
    at = format_quantity(facts.ice_c, 0, "°C", style)
    kind = f" ({ice[:1].lower()}{ice[1:]})" if ice else ""
    water = format_quantity(facts.surface_water_g, 1, "g", style)
    way = format_number(100.0 * facts.approach, 0, style)
    seconds = "" if facts.seconds is None else f" in {format_trimmed(facts.seconds, 0, style)}{UNIT_SPACE}s"
    return (
        f"{grams} of ice{kind} at {at} with {water} of water on it; "
        f"{way}{UNIT_SPACE}% of the way to equilibrium{seconds}."
    )


def _cold_left(joules: float, style: NumberStyle) -> str:
    kilojoules = format_quantity(abs(joules) / 1000.0, 1, "kJ", style)
    return f"{kilojoules} of the cold of ice and vessel is not given off: it would freeze water out of the drink."


def _weighed_beside(weighings: Sequence[Weighing], facts: ChillTrace, style: NumberStyle) -> str:
    newest = weighings[-1]
    away = facts.melted_g - newest.melted_g
    many = "once" if len(weighings) == 1 else f"{len(weighings)} times"
    if abs(away) < 0.05:
        return f"Weighed {many}: the newest agrees."
    side = "more" if away > 0.0 else "less"
    grams = format_quantity(abs(away), 1, "g", style)
    return f"Weighed {many}: what is used is {grams} {side} than the newest, of {newest.date}."


def calibrated_words(calibration: Calibration, style: NumberStyle = ENGLISH_STYLE) -> str:
    """What a calibration rests on: *Corrected by 2 weighings of this house (2026-11-21), to ± 1.2 ml per 100 ml.*"""
    count = calibration.weighings
    many = "one weighing" if count == 1 else f"{count} weighings"
    left = calibration.left_ml_per_100_ml
    to = "" if left is None else f", to ± {format_number(left, 1, style)}{UNIT_SPACE}ml per 100{UNIT_SPACE}ml"
    return f"Corrected by {many} of this house ({calibration.date}){to}."
