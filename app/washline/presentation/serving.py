"""A drink on ice while it is drunk: strength, sweetness, acidity and temperature over the minutes, as lanes and table."""

from collections.abc import Sequence
from dataclasses import dataclass

from washline.engine.serving import Serving
from washline.engine.state import Numbers
from washline.model.reading import BY_KEY
from washline.presentation.strength_words import reading_number
from washline.quantity.formatting import ENGLISH_STYLE, UNKNOWN, NumberStyle

TABLE_MINUTES = (0.0, 2.0, 5.0, 10.0, 15.0, 20.0)
LANES = ("strength", "sweetness", "acidity", "chill")
NO_ICE = (
    "No ice is in the glass: nothing melts while it is drunk. Choose an ice above to see what it would do."
)
_DECIMALS = {"chill": 1}
_NAMES = {"chill": "Temperature"}


@dataclass(frozen=True, slots=True)
class ServingLane:
    """One figure over the minutes. ``low`` and ``high`` are the ends of its scale: of a share from zero up."""

    key: str
    name: str
    unit: str
    values: tuple[float | None, ...]
    low: float
    high: float
    first: str
    last: str


@dataclass(frozen=True, slots=True)
class ServingRow:
    """One moment in figures, under ``ServingCurves.heads``."""

    name: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ServingCurves:
    """The lanes over ``minutes``, the same as a table, and what is assumed."""

    minutes: tuple[float, ...]
    lanes: tuple[ServingLane, ...]
    heads: tuple[str, ...]
    rows: tuple[ServingRow, ...]
    assumptions: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """What happens, in one sentence: *In 20 minutes: strength 28.0 to 22.1 % vol, …*"""
        span = f"{self.minutes[-1]:.0f}" if self.minutes else "0"
        moved = (f"{lane.name.lower()} {lane.first} to {lane.last} {lane.unit}" for lane in self.lanes)
        return f"In {span} minutes: {', '.join(moved)}."

    def spoken(self, row: ServingRow) -> str:
        """One moment as it is read aloud."""
        cells = (f"{head} {cell}" for head, cell in zip(self.heads, row.cells, strict=True))
        return f"{row.name}: {', '.join(cells)}"


def serving_curves(served: Serving, style: NumberStyle = ENGLISH_STYLE) -> ServingCurves:
    """The lanes and the table of a drink on ice."""
    minutes = tuple(float(minute) for minute in served.minutes)
    columns = _columns(served)
    lanes = tuple(_lane(key, columns[key], style) for key in LANES)
    heads = tuple(f"{lane.name.lower()}, {lane.unit}" for lane in lanes)
    heads = (*heads, "volume, ml", "ice left, g")
    keys = (*LANES, "length", "ice")
    places = [_place(minutes, minute) for minute in TABLE_MINUTES if minutes and minute <= minutes[-1] + 1e-9]
    rows = tuple(
        ServingRow(
            f"{minutes[place]:.0f} min",
            tuple(_text(key, columns[key][place], style) for key in keys),
        )
        for place in places
    )
    return ServingCurves(minutes, lanes, heads, rows, tuple(served.assumptions))


def _columns(served: Serving) -> dict[str, Numbers]:
    return {
        "strength": served.strength,
        "sweetness": served.sweetness,
        "acidity": served.acidity,
        "chill": served.chill_c,
        "length": served.length_ml,
        "ice": served.ice_left_g,
    }


def _lane(key: str, values: Numbers, style: NumberStyle) -> ServingLane:
    reading = BY_KEY[key]
    known = [float(value) for value in values if value == value]
    low = min(0.0, *known) if known else 0.0
    high = max(0.0, *known) if known else 0.0
    return ServingLane(
        key=key,
        name=_NAMES.get(key, reading.name),
        unit=reading.unit,
        values=tuple(float(value) if value == value else None for value in values),
        low=low,
        high=high if high > low else low + 1.0,
        first=_text(key, values[0], style) if len(values) else UNKNOWN,
        last=_text(key, values[-1], style) if len(values) else UNKNOWN,
    )


def _text(key: str, value: float, style: NumberStyle) -> str:
    decimals = _DECIMALS.get(key, BY_KEY[key].decimals if key in BY_KEY else 0)
    return reading_number(key, float(value), decimals, style)


def _place(minutes: Sequence[float], minute: float) -> int:
    return min(range(len(minutes)), key=lambda place: abs(minutes[place] - minute))
