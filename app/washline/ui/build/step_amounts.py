"""What a text typed into the amount of a step that is no line means: a time, turns, what was weighed, a level."""

import re
from collections.abc import Callable
from dataclasses import dataclass

from msgspec import structs

from washline.document.commands import steps
from washline.model.step import (
    Adjust,
    AnyStep,
    BarStrain,
    Carbonate,
    Chill,
    ChillBy,
    Evaporate,
    Ferment,
    Goal,
    IceState,
    Per,
    Strain,
    Work,
)
from washline.presentation.kitchen_words import ferment_words, goal_unit
from washline.quantity.amount_text import (
    ParseProblem,
    TypedAmount,
    parse_amount,
)
from washline.quantity.clauses import BRIX, NUMBER
from washline.quantity.formatting import (
    UNIT_SPACE,
    NumberStyle,
    format_trimmed,
)
from washline.quantity.house_words import NO_HOUSE, HouseWords
from washline.quantity.number import NumberProblem, read_number
from washline.quantity.pressure_text import bar_text
from washline.quantity.step_line import parse_step
from washline.quantity.step_text import EXPECTED_DURATION, parse_duration
from washline.quantity.typed_step import TypedAdjustment, TypedCarbonation, TypedChill, TypedFerment
from washline.ui.build.meaning import Edit, NotUnderstood, Understood

EXPECTED_YIELD = "Expected what was weighed, such as 905 g, or what you expect, such as 70 % or 62\u201376 %."
EXPECTED_CHILL = (
    "Expected turns or passes, a time, ice, or what was weighed, such as 10 turns, 25 s, 180 g cubes wet, 9.8 g or "
    "to 124 g."
)
EXPECTED_HELD_BACK = "Expected what stays in tin and strainer, such as 3 ml; empty is not measured."
EXPECTED_GAS = "Expected a level or a pressure, such as 7 g/l, 2.2 bar, 220 kPa or 32 psi."
EXPECTED_FINAL = "Expected what is left, such as 400 g, 42 % or 50 °Bx, or a time, such as 20 min."
EXPECTED_REACHED = "Expected what is reached, such as 50 °Bx, 60 % vol, 6 % acidity or 2 % salt."
EXPECTED_FERMENTED = (
    "Expected a time, or what was measured, such as 6 days, 4 g gas, pH 3.5 or 0.73 % acidity."
)

_RANGE = re.compile(r"\s*(?P<low>[\d.,]+)\s*(?:-|\u2013|to)\s*(?P<high>[\d.,]+)\s*%\s*")
_EXPECTED = re.compile(
    r"\s*(?P<mid>[\d.,]+)\s*%\s*\(\s*(?P<low>[\d.,]+)\s*(?:-|\u2013)\s*(?P<high>[\d.,]+)\s*%\s*\)\s*"
)
_BRIX = re.compile(rf"\s*(?:to\s+)?(?P<number>{NUMBER})\s*{BRIX}\s*", re.IGNORECASE)
_COUNT = re.compile(r"\s*(?P<rest>[^\W\d_][\w ]{0,30})\s*")


@dataclass(frozen=True, slots=True)
class StepEdit:
    """The amount of one step, being typed."""

    build_id: int
    step_id: int
    label: str
    style: NumberStyle
    house: HouseWords = NO_HOUSE

    def set(self, meaning: str, **fields: object) -> Understood:
        """The fields of the step that are changed, and what was understood."""
        return Understood(steps.set_step(self.build_id, self.step_id, **fields), self.label, meaning)

    def number(self, value: float) -> str:
        """A number as it is shown."""
        return format_trimmed(value, 3, self.style)

    def grams(self, text: str) -> float | None:
        """Grams from a text; ``None`` where it says none."""
        typed = parse_amount(text, self.style)
        if isinstance(typed, ParseProblem) or typed.basis not in ("absolute", "to_mark"):
            return None
        factor = {"g": 1.0, None: 1.0, "kg": 1000.0}.get(typed.unit)
        return typed.number * factor if factor is not None else None

    def percent(self, text: str) -> float | None:
        """Percent from a text; ``None`` where it says none."""
        typed = parse_amount(text, self.style)
        if isinstance(typed, ParseProblem) or typed.unit != "%" or typed.of is not None:
            return None
        return typed.number

    def duration(self, text: str, step: Work) -> Edit | None:
        """Another time of the step; ``None`` where the text says none."""
        found = parse_duration(text, self.style)
        if isinstance(found, ParseProblem):
            return None
        # A range of times is kept by its longer end: the paper must not promise too early.
        return self.set(_seconds_words(found.high_s, self.style), duration_s=found.high_s)


def _seconds_words(seconds: float, style: NumberStyle) -> str:
    for unit, length in (("d", 86_400.0), ("h", 3600.0), ("min", 60.0)):
        if seconds >= 2 * length and (seconds / length * 2).is_integer():
            return f"{format_trimmed(seconds / length, 1, style)}{UNIT_SPACE}{unit}"
    return f"{format_trimmed(seconds, 1, style)}{UNIT_SPACE}s"


def _read_strain(edit: StepEdit, step: AnyStep, text: str) -> Edit:
    if not text.strip():
        return edit.set("not weighed: the estimate counts", weighed_g=None)
    if found := _EXPECTED.fullmatch(text) or _RANGE.fullmatch(text):
        numbers = {key: _plain(value, edit.style) for key, value in found.groupdict().items()}
        low, high = numbers["low"], numbers["high"]
        if low is None or high is None or not 0.0 <= low <= high <= 100.0:
            return NotUnderstood(EXPECTED_YIELD)
        middle = numbers.get("mid") or (low + high) / 2.0
        return edit.set(
            f"expected {edit.number(middle)}{UNIT_SPACE}% of the vessel",
            expected_pct=middle, low_pct=low, high_pct=high, weighed_g=None,
        )  # fmt: skip
    percent = edit.percent(text)
    if percent is not None and percent <= 100.0:
        return edit.set(
            f"expected {edit.number(percent)}{UNIT_SPACE}% of the vessel",
            expected_pct=percent, low_pct=None, high_pct=None, weighed_g=None,
        )  # fmt: skip
    grams = edit.grams(text)
    if grams is None:
        return NotUnderstood(EXPECTED_YIELD)
    return edit.set(f"{edit.number(grams)}{UNIT_SPACE}g weighed; it replaces the estimate", weighed_g=grams)


def _plain(text: str | None, style: NumberStyle) -> float | None:
    found = read_number(text or "", style.decimal, style.grouping or None)
    return None if isinstance(found, NumberProblem) or found.rest else found.value


def _read_evaporation(edit: StepEdit, step: AnyStep, text: str) -> Edit:
    assert isinstance(step, Work)
    if time := edit.duration(text, step):
        return time
    percent = edit.percent(text.strip().removeprefix("to "))
    if percent is not None and percent <= 100.0:
        meaning = f"to {edit.number(percent)}{UNIT_SPACE}% of its mass"
        return edit.set(meaning, final_pct=percent, final_g=None, final_brix=None)
    if brix := _BRIX.fullmatch(text):
        value = _plain(brix["number"], edit.style)
        if value is not None and value < 100.0:
            meaning = f"to {edit.number(value)}{UNIT_SPACE}°Bx"
            return edit.set(meaning, final_brix=value, final_g=None, final_pct=None)
    grams = edit.grams(text)
    if grams is None:
        return NotUnderstood(EXPECTED_FINAL)
    return edit.set(f"to {edit.number(grams)}{UNIT_SPACE}g", final_g=grams, final_pct=None, final_brix=None)


def _read_ferment(edit: StepEdit, step: AnyStep, text: str) -> Edit:
    assert isinstance(step, Ferment)
    if not text.strip():
        return edit.set("no time given", duration_s=None)
    typed = parse_step(f"ferment {step.kind.value} {text}", edit.style)
    if not isinstance(typed, TypedFerment) or typed.words:
        return NotUnderstood(EXPECTED_FERMENTED)
    measured = {
        "gas_lost_g": typed.gas_lost_g,
        "final_acidity_pct": typed.final_acidity_pct,
        "final_brix": typed.final_brix,
        "final_ph": typed.final_ph,
        "duration_s": typed.duration_s,
    }
    given = {name: value for name, value in measured.items() if value is not None}
    if not given:
        return NotUnderstood(EXPECTED_FERMENTED)
    if typed.low_c is not None:
        high_c = typed.low_c if typed.high_c is None else typed.high_c
        given |= {"temperature_low_c": typed.low_c, "temperature_high_c": high_c}
    time = _seconds_words(typed.duration_s, edit.style) if typed.duration_s is not None else ""
    changed = structs.replace(step, **given)
    told = [*ferment_words(changed, None, edit.style)] if len(given) > 1 or typed.duration_s is None else []
    return edit.set(", ".join(part for part in (time, *told) if part), **given)


def _read_goal(edit: StepEdit, step: AnyStep, text: str) -> Edit:
    """A bare number, or one with the unit of the goal, is another value; another unit is another goal."""
    assert isinstance(step, Adjust)
    words = re.sub(r"^\s*(?:up\s+|down\s+)?to\s+", "", text, flags=re.IGNORECASE).strip()
    typed = parse_step(f"adjust it to {words}", edit.style)
    if isinstance(typed, TypedAdjustment) and typed.value is not None:
        goal, per = Goal(typed.goal), Per.VOLUME if typed.is_by_volume else Per.MASS
        return _goal_set(edit, goal, per, typed.value)
    value = _plain(words.removesuffix("%").strip(), edit.style)
    if value is None or (words.endswith("%") and step.goal is Goal.BRIX):
        return NotUnderstood(EXPECTED_REACHED)
    return _goal_set(edit, step.goal, step.per, value)


def _goal_set(edit: StepEdit, goal: Goal, per: Per, value: float) -> Edit:
    meaning = f"to {edit.number(value)}{UNIT_SPACE}{goal_unit(goal, per)}"
    return edit.set(meaning, goal=goal, per=per, value=value, like_item_id=None)


def _read_chill(edit: StepEdit, step: AnyStep, text: str) -> Edit:
    assert isinstance(step, Chill)
    if time := edit.duration(text, step):
        return time
    typed = parse_amount(text, edit.style)
    if isinstance(typed, TypedAmount) and typed.basis == "to_mark" and typed.unit in ("ml", "g"):
        field = "final_ml" if typed.unit == "ml" else "final_g"
        meaning = f"{edit.number(typed.number)}{UNIT_SPACE}{typed.unit} in all, measured"
        return edit.set(meaning, **{field: typed.number})
    if isinstance(typed, TypedAmount) and typed.unit == "g" and typed.basis == "absolute":
        return edit.set(f"{edit.number(typed.number)}{UNIT_SPACE}g melted, weighed", melted_g=typed.number)
    if written := _written_chill(edit, text):
        return written
    number = read_number(text, edit.style.decimal, edit.style.grouping or None)
    if isinstance(number, NumberProblem):
        return NotUnderstood(EXPECTED_CHILL)
    words = _COUNT.fullmatch(number.rest)
    unit = words["rest"].strip() if words else ("" if number.rest.strip() else step.count_unit)
    if not unit:
        return NotUnderstood(EXPECTED_CHILL)
    return edit.set(f"{edit.number(number.value)} {unit}", count=number.value, count_unit=unit)


def _written_chill(edit: StepEdit, text: str) -> Edit | None:
    """What else a chill can say: *180 g cubes wet*, *24 g melted, ends at −4 °C*; ``None`` where it says none of it."""
    typed = parse_step(f"chill {text}", edit.style, edit.house)
    if not isinstance(typed, TypedChill) or typed.words:
        return None
    given: dict[str, object] = {
        name: value
        for name in (
            "duration_s",
            "ice_g",
            "ice_c",
            "vessel_c",
            "melted_g",
            "final_g",
            "final_ml",
            "end_c",
            "count",
        )
        if (value := getattr(typed, name)) is not None
    }
    if typed.count is not None:
        given["count_unit"] = typed.count_unit
    if typed.method:
        given["method"] = typed.method
    if typed.ice:
        given["ice"] = typed.ice
    if typed.ice_state != "usual":
        given["ice_state"] = IceState(typed.ice_state)
    if typed.by != "usual":
        given["by"] = ChillBy(typed.by)
    return edit.set(" ".join(text.split()), **given) if given else None


def _read_held_back(edit: StepEdit, step: AnyStep, text: str) -> Edit:
    words = re.sub(r"\s*(?:held\s+back|stays?)\s*$", "", text, flags=re.IGNORECASE)
    if not words.strip():
        return edit.set("not measured: none is counted", held_back_ml=None)
    typed = parse_amount(words, edit.style)
    is_volume = (
        isinstance(typed, TypedAmount) and typed.basis == "absolute" and typed.unit in (None, "ml", "cl")
    )
    if not is_volume or not isinstance(typed, TypedAmount) or typed.heft:
        return NotUnderstood(EXPECTED_HELD_BACK)
    ml = typed.number * (10.0 if typed.unit == "cl" else 1.0)
    return edit.set(f"{edit.number(ml)}{UNIT_SPACE}ml held back", held_back_ml=ml)


def _read_gas(edit: StepEdit, step: AnyStep, text: str) -> Edit:
    assert isinstance(step, Carbonate)
    # A bare number is another level, or another pressure where that is what was typed.
    usual = "bar" if step.over_kpa is not None and step.co2_g_per_l is None else "g/l"
    bare = _plain(text.strip(), edit.style)
    typed = parse_step(
        f"carbonate {text.strip()}{f' {usual}' if bare is not None else ''}", edit.style, edit.house
    )
    if not isinstance(typed, TypedCarbonation) or typed.words:
        return NotUnderstood(EXPECTED_GAS)
    if typed.co2_g_per_l is not None:
        return edit.set(f"{edit.number(typed.co2_g_per_l)}{UNIT_SPACE}g/l", co2_g_per_l=typed.co2_g_per_l)
    if typed.over_kpa is None:
        return NotUnderstood(EXPECTED_GAS)
    meaning = f"{bar_text(typed.over_kpa, edit.style)} over: the level is what that holds"
    return edit.set(meaning, over_kpa=typed.over_kpa, co2_g_per_l=None)


def _read_time(edit: StepEdit, step: AnyStep, text: str) -> Edit:
    assert isinstance(step, Work)
    if not text.strip():
        return edit.set("no time given", duration_s=None)
    return edit.duration(text, step) or NotUnderstood(EXPECTED_DURATION)


_Reader = Callable[[StepEdit, AnyStep, str], Edit]


def reader_of(step: AnyStep) -> _Reader:
    """What reads the amount of a step that is no line."""
    if isinstance(step, Strain):
        return _read_strain
    if isinstance(step, Chill):
        return _read_chill
    if isinstance(step, BarStrain):
        return _read_held_back
    if isinstance(step, Carbonate):
        return _read_gas
    if isinstance(step, Evaporate):
        return _read_evaporation
    if isinstance(step, Ferment):
        return _read_ferment
    if isinstance(step, Adjust):
        return _read_goal
    return _read_time
