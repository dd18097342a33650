"""A target as it is edited: the numbers of its aims as texts and back, and what may be added to it or taken away."""

from dataclasses import dataclass

from washline.engine.result import Result
from washline.model.reading import BY_KEY, READINGS, Reading
from washline.model.target import FEWEST_AXES, MOST_AXES, Aim, Target
from washline.quantity.formatting import NumberStyle, format_trimmed, rounded
from washline.quantity.names import fold
from washline.quantity.number import NumberProblem, read_number

FIELDS = ("low", "ideal", "high")
FIRST_AXES = ("strength", "sweetness", "acidity")
"""What a new target begins with: the three that every drink has."""

MOST_DECIMALS = 4

_STEPS_EACH_WAY = 3
_FREEST = {
    "chill": (-60.0, 100.0),
    "strength": (0.0, 100.0),
    "bitterness": (0.0, 10.0),
    "dilution": (0.0, 1000.0),
}
_LEAST, _MOST = 0.0, 100_000.0
_FIRST_IDEALS = {"strength": 16.0, "sweetness": 7.0, "acidity": 0.6, "length": 120.0, "density": 1.02}


@dataclass(frozen=True, slots=True)
class AimTexts:
    """The three numbers of an aim as they are shown and edited, in the reading's unit."""

    low: str
    ideal: str
    high: str


@dataclass(frozen=True, slots=True)
class AimProblem:
    """What is wrong with a typed number: the field (low, ideal, high) and one line of what was expected."""

    field: str
    words: str


def aim_texts(aim: Aim, style: NumberStyle) -> AimTexts:
    """The numbers of an aim as texts that can be typed again."""
    plain = NumberStyle(style.decimal, "", style.minus)
    low, ideal, high = (
        format_trimmed(number, MOST_DECIMALS, plain) for number in (aim.low, aim.ideal, aim.high)
    )
    return AimTexts(low, ideal, high)


def read_edge(field: str, text: str, reading: Reading, style: NumberStyle) -> float | AimProblem:
    """One number of an aim from its text; its unit may stand behind it."""
    if not text.strip():
        return AimProblem(field, f"Expected a number{_in_unit(reading)}.")
    found = read_number(text, style.decimal, style.grouping or None, signed=True)
    if isinstance(found, NumberProblem):
        return AimProblem(field, f"“{_shown(text)}” is not a number. {found.reason}")
    if found.rest.strip() and _bare(found.rest) not in _units(reading):
        return AimProblem(field, f"“{_shown(text)}”: expected a number{_in_unit(reading)}.")
    low, high = _FREEST.get(reading.key, (_LEAST, _MOST))
    if not low <= found.value <= high:
        bounds = f"{format_trimmed(low, 0, style)} to {format_trimmed(high, 0, style)}"
        return AimProblem(field, f"{reading.name} is {bounds}{_in_unit(reading, '')}.")
    return found.value


def read_aim(aim: Aim, texts: AimTexts, style: NumberStyle) -> Aim | AimProblem:
    """The aim that three texts say; what was not touched keeps its full precision."""
    reading, shown = BY_KEY[aim.reading], aim_texts(aim, style)
    numbers = []
    for field in FIELDS:
        text = getattr(texts, field)
        number = (
            getattr(aim, field) if text == getattr(shown, field) else read_edge(field, text, reading, style)
        )
        if isinstance(number, AimProblem):
            return number
        numbers.append(number)
    low, ideal, high = numbers
    if low > ideal:
        field = "low" if texts.low != shown.low else "ideal"
        return AimProblem(field, "The low edge cannot be above the ideal.")
    if ideal > high:
        field = "high" if texts.high != shown.high else "ideal"
        return AimProblem(field, "The high edge cannot be below the ideal.")
    if low == high and not aim.is_gate:
        return AimProblem("high", "A band needs room: low and high cannot be the same.")
    return Aim(aim.reading, low, ideal, high, aim.is_gate, aim.source, aim.note)


def addable(target: Target) -> tuple[Reading, ...]:
    """The readings that the target has no aim for."""
    taken = {aim.reading for aim in target.aims}
    return tuple(reading for reading in READINGS if reading.key not in taken)


def why_no_axis(target: Target) -> str:
    """Why no axis can be added; empty where one can."""
    if len(target.axes) >= MOST_AXES:
        return f"A radar has at most {MOST_AXES} axes. Make one a gate, or take one away, to add another."
    return ""


def why_not_fewer(target: Target, reading: str) -> str:
    """Why an axis cannot be taken away or made a gate; empty where it can."""
    is_axis = any(aim.reading == reading for aim in target.axes)
    if is_axis and len(target.axes) <= FEWEST_AXES:
        return f"A radar needs {FEWEST_AXES} axes. Add another before this one goes."
    return ""


def first_aim(key: str, result: Result | None) -> Aim:
    """An aim for a reading that is new in a target: around what the drink reads now, three house steps each way."""
    reading = BY_KEY[key]
    low_end, high_end = _FREEST.get(key, (_LEAST, _MOST))
    value = result.value(key) if result is not None else None
    if value is None:
        value = _FIRST_IDEALS.get(key, 10.0 * reading.step)
    ideal = min(max(float(rounded(value, reading.decimals)), low_end), high_end)
    room = _STEPS_EACH_WAY * reading.step
    low, high = max(low_end, ideal - room), min(high_end, ideal + room)
    digits = MOST_DECIMALS
    return Aim(key, float(rounded(low, digits)), ideal, float(rounded(high, digits)), source="the house")


def first_aims(result: Result | None) -> tuple[Aim, ...]:
    """What a new target begins with."""
    return tuple(first_aim(key, result) for key in FIRST_AXES)


def free_target_name(names: set[str], wanted: str) -> str:
    """The name itself, or with a number behind it where a target has it already."""
    free, count = wanted, 1
    while free in names:
        count += 1
        free = f"{wanted} {count}"
    return free


def step_words(reading: Reading, style: NumberStyle) -> str:
    """The distance of the ticks on radar and strip, in the reading's unit."""
    return format_trimmed(reading.step, 3, style)


def _in_unit(reading: Reading, before: str = " in") -> str:
    return f"{before} {reading.unit}" if reading.unit else ""


def _bare(text: str) -> str:
    return fold(text).replace(" ", "")


def _units(reading: Reading) -> set[str]:
    """How the unit of a reading may be typed."""
    unit = _bare(reading.unit)
    return {
        unit,
        unit.removesuffix("vol"),
        unit.replace("°", ""),
        "g" if reading.unit.startswith("g/") else unit,
    }


def _shown(text: str) -> str:
    plain = " ".join(text.split())
    return plain if len(plain) <= 40 else f"{plain[:39]}…"
