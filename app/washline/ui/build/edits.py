"""What a text typed into a cell means for the build: a command with its label and words, or what was expected instead."""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace

from msgspec import structs

from washline.document.commands import labels, leftovers, lines, steps
from washline.document.commands.command import Command
from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.item import Build, RawIngredient
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    Chill,
    Evaporate,
    Ferment,
    Garnish,
    Goal,
    Infuse,
    Line,
    Per,
    Strain,
    Take,
    Top,
    Work,
)
from washline.presentation.kitchen_words import ferment_words, goal_unit
from washline.quantity.amount_text import ParseProblem, TypedAmount, parse_amount
from washline.quantity.clauses import BRIX, NUMBER
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    UNIT_SPACE,
    NumberStyle,
    format_trimmed,
)
from washline.quantity.number import NumberProblem, read_number
from washline.quantity.step_line import parse_step
from washline.quantity.step_text import EXPECTED_DURATION, parse_duration
from washline.quantity.typed_step import TypedAdjustment, TypedFerment
from washline.quantity.unit_names import PIECE_WORDS, UNITS, unit_word
from washline.quantity.units import bar_units

EXPECTED_YIELD = "Expected what was weighed, such as 905 g, or what you expect, such as 70 % or 62\u201376 %."
EXPECTED_LEFTOVER = "Expected what was weighed, such as 405.9 g; empty means all that is not liquid."
EXPECTED_CHILL = (
    "Expected turns or passes, a time, or what was weighed, such as 10 turns, 25 s, 9.8 g or to 124 g."
)
EXPECTED_FINAL = "Expected what is left, such as 400 g, 42 % or 50 °Bx, or a time, such as 20 min."
EXPECTED_REACHED = "Expected what is reached, such as 50 °Bx, 60 % vol, 6 % acidity or 2 % salt."
EXPECTED_FERMENTED = (
    "Expected a time, or what was measured, such as 6 days, 4 g gas, pH 3.5 or 0.73 % acidity."
)
NOT_A_SHARE = "A garnish is counted in pieces, grams or drops, not as a share."
NOT_TO_A_MARK = "A mark is for what is poured; a garnish has an amount of its own."
NO_SUCH_LINE = "There is no such line above. Expected the number or the name of an earlier line."

_PIECES = frozenset(unit.name for unit in PIECE_WORDS)
_RANGE = re.compile(r"\s*(?P<low>[\d.,]+)\s*(?:-|\u2013|to)\s*(?P<high>[\d.,]+)\s*%\s*")
_EXPECTED = re.compile(
    r"\s*(?P<mid>[\d.,]+)\s*%\s*\(\s*(?P<low>[\d.,]+)\s*(?:-|\u2013)\s*(?P<high>[\d.,]+)\s*%\s*\)\s*"
)
_BRIX = re.compile(rf"\s*(?:to\s+)?(?P<number>{NUMBER})\s*{BRIX}\s*", re.IGNORECASE)
_COUNT = re.compile(r"\s*(?P<rest>[^\W\d_][\w ]{0,30})\s*")
_LINE_NUMBERS = re.compile(r"lines?\s+(?P<numbers>\d+(?:\s*[-\u2013,]\s*\d+)*)", re.IGNORECASE)
_YIELD = re.compile(r"(?:(?:weighed\s+)?yield|strained|weighed|what was strained)", re.IGNORECASE)
_VESSEL = re.compile(r"(?:what is in )?(?:the )?vessel", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Understood:
    """A text that means something: ``command`` carries it out, ``label`` names it for undo.

    ``meaning`` says what was understood, ``aside`` what it rests on; ``alternative`` is the other way to read it. What
    would take away the row in which it is typed ``shows`` only when it is written.
    """

    command: Command
    label: str
    meaning: str
    aside: str = ""
    alternative: "Understood | None" = None
    shows: bool = True


@dataclass(frozen=True, slots=True)
class NotUnderstood:
    """A text that means nothing here, and in one line what was expected."""

    expected: str


Edit = Understood | NotUnderstood


def amount_edit(
    book: HouseBook, build_id: int, step_id: int, text: str, style: NumberStyle = ENGLISH_STYLE
) -> Edit:
    """What ``text`` typed into the amount of a step means."""
    build = book.builds[build_id]
    step = book.step(build_id, step_id)
    if step is None:
        return NotUnderstood("This step is no longer in the build.")
    label = labels.change_of_step(book, build_id, step_id)
    if isinstance(step, Line | Take):
        return _AmountEdit(book, build, step, label, style).read(text)
    reader = _reader_of(step)
    return reader(_StepEdit(build_id, step_id, label, style), step, text)


def leftover_edit(
    book: HouseBook, build_id: int, step_id: int, text: str, style: NumberStyle = ENGLISH_STYLE
) -> Edit:
    """What ``text`` typed as the weight of a strain's leftover means."""
    edit = _StepEdit(build_id, step_id, labels.change_of_step(book, build_id, step_id), style)
    if not text.strip():
        return edit.set("all that is not liquid", leftover_weighed_g=None)
    grams = edit.grams(text)
    if grams is None:
        return NotUnderstood(EXPECTED_LEFTOVER)
    return edit.set(f"{edit.number(grams)}{UNIT_SPACE}g weighed", leftover_weighed_g=grams)


def line_amount(
    book: HouseBook, build_id: int, item_id: int, typed: TypedAmount, before: AnyStep | None = None
) -> Amount | NotUnderstood:
    """The amount of a new line: shares refer to the lines above ``before`` (``None``: to all lines)."""
    build = book.builds[build_id]
    return _model_amount(book, build, item_id, typed, current=None, before=before)


def leftover_name_edit(book: HouseBook, build_id: int, step_id: int, name: str) -> Edit:
    """What a name typed for a leftover means."""
    words = " ".join(name.split())
    if not words:
        return NotUnderstood("A leftover needs a name.")
    label = f"name of leftover {words}"
    return Understood(leftovers.name_leftover(build_id, step_id, words), label, words)


@dataclass(frozen=True, slots=True)
class _AmountEdit:
    book: HouseBook
    build: Build
    step: Line | Take
    label: str
    style: NumberStyle

    def read(self, text: str) -> Edit:
        typed = parse_amount(text, self.style)
        if isinstance(typed, ParseProblem):
            return NotUnderstood(_expected_only(typed))
        return self._understood(typed)

    def _understood(self, typed: TypedAmount) -> Edit:
        item_id = None if isinstance(self.step, Take) else self.step.item_id
        amount = _model_amount(
            self.book, self.build, item_id, typed, current=self.step.amount, before=self.step
        )
        if isinstance(amount, NotUnderstood):
            return amount
        if isinstance(self.step, Garnish) and amount.basis is not Basis.ABSOLUTE:
            return NotUnderstood(NOT_TO_A_MARK if "to" in amount.basis.value else NOT_A_SHARE)
        other = self._understood(typed.alternative) if typed.alternative is not None else None
        command = lines.set_amount(self.build.id, self.step.id, amount)
        meaning, aside = amount_words(self.book, amount, self.style)
        return Understood(
            command, self.label, meaning, aside, other if isinstance(other, Understood) else None
        )


def amount_words(book: HouseBook, amount: Amount, style: NumberStyle = ENGLISH_STYLE) -> tuple[str, str]:
    """What an amount was understood as (*1¼ oz = 37.5 ml*), and what that rests on."""
    number = format_trimmed(amount.number, 3, style)
    unit = unit_word(amount.unit, amount.number) if amount.unit in UNITS else amount.unit
    match amount.basis:
        case Basis.PERCENT_OF_VESSEL:
            return f"{number}{UNIT_SPACE}% by weight of what is in the vessel", ""
        case Basis.PERCENT_OF_LINES:
            return f"{number}{UNIT_SPACE}% by weight of what it refers to", ""
        case Basis.PARTS:
            return f"{number} {unit} by weight", ""
        case Basis.TO_VOLUME | Basis.TO_MASS:
            return f"up to {number}{UNIT_SPACE}{unit} in the vessel", ""
        case Basis.TO_WASH_LINE:
            return "up to the wash line of the glass", ""
    return _absolute_words(book, amount, number, unit, style)


def _absolute_words(
    book: HouseBook, amount: Amount, number: str, unit: str, style: NumberStyle
) -> tuple[str, str]:
    bar = bar_units(book.settings.oz_ml, {slug: one.value for slug, one in book.measures.items()})
    shown = amount.typed if amount.typed and amount.unit in amount.typed.split() else f"{number} {unit}"
    if amount.unit in ("ml", "g") or amount.unit in _PIECES or amount.unit not in UNITS:
        return f"{number}{UNIT_SPACE}{unit}", ""
    one_ml: float | None = None
    try:
        one_ml = bar.millilitres_per(amount.unit)
    except ValueError:
        grams = format_trimmed(amount.number * bar.grams_per(amount.unit), 3, style)
        return f"{shown} = {grams}{UNIT_SPACE}g", ""
    total = format_trimmed(amount.number * one_ml, 2, style)
    each = format_trimmed(one_ml, 4, style)
    is_own = amount.unit not in ("cl", "dl", "l")
    aside = f"1 {amount.unit} is {each}{UNIT_SPACE}ml in this house" if is_own else ""
    return f"{shown} = {total}{UNIT_SPACE}ml", aside


def _model_amount(
    book: HouseBook,
    build: Build,
    item_id: int | None,
    typed: TypedAmount,
    *,
    current: Amount | None,
    before: AnyStep | None,
) -> Amount | NotUnderstood:
    match typed.basis:
        case "wash_line":
            if not build.is_drink:
                return NotUnderstood("Only a drink has a wash line.")
            return Amount(0.0, "ml", Basis.TO_WASH_LINE, typed=typed.typed)
        case "to_mark":
            return _to_mark(typed)
        case "percent" | "parts":
            return _share(book, build, typed, current, before)
    unit = typed.unit or _usual_unit(book, item_id, current)
    if typed.unit is None and current is not None and current.basis is not Basis.ABSOLUTE:
        return replace_number(current, typed)
    return Amount(typed.number, unit, typed=typed.typed if typed.unit else "")


def replace_number(current: Amount, typed: TypedAmount) -> Amount:
    """The amount as it was, with another number: a bare number keeps unit and basis."""
    return Amount(typed.number, current.unit, current.basis, current.of)


def _usual_unit(book: HouseBook, item_id: int | None, current: Amount | None) -> str:
    if current is not None and current.unit not in ("%", ""):
        return current.unit
    item = book.item(item_id) if item_id is not None else None
    if isinstance(item, RawIngredient):
        return "ml" if item.is_poured else "g"
    return "ml" if isinstance(item, Build) else "g"


def _to_mark(typed: TypedAmount) -> Amount | NotUnderstood:
    unit = typed.unit or "ml"
    if unit in UNITS and UNITS[unit].dimension == "mass":
        return Amount(typed.number, unit, Basis.TO_MASS, typed=typed.typed)
    if unit == "%":
        return NotUnderstood("Expected a mark in ml or g, such as to 180 ml.")
    return Amount(typed.number, unit, Basis.TO_VOLUME, typed=typed.typed)


def _share(
    book: HouseBook, build: Build, typed: TypedAmount, current: Amount | None, before: AnyStep | None
) -> Amount | NotUnderstood:
    unit = "%" if typed.basis == "percent" else "parts"
    basis = Basis.PERCENT_OF_LINES if typed.basis == "percent" else Basis.PARTS
    if typed.of is None:
        if current is not None and current.basis is basis and current.of:
            return Amount(typed.number, unit, basis, current.of)
        if typed.basis == "percent":
            return Amount(typed.number, unit, Basis.PERCENT_OF_VESSEL, typed=typed.typed)
        first = next((step for step in _earlier(build, before) if isinstance(step, Add)), None)
        if first is None:
            return NotUnderstood("Parts need a line above them that they are parts of.")
        return Amount(typed.number, unit, basis, (first.id,), typed.typed)
    if _VESSEL.fullmatch(typed.of) and typed.basis == "percent":
        return Amount(typed.number, unit, Basis.PERCENT_OF_VESSEL, typed=typed.typed)
    of = _referred(book, build, typed.of, before)
    if not of:
        return NotUnderstood(NO_SUCH_LINE)
    # Numbers of lines move when a line is put in above: what is kept is the line itself.
    return Amount(typed.number, unit, basis, of)


def _earlier(build: Build, before: AnyStep | None) -> list[AnyStep]:
    if before is None:
        return list(build.steps)
    return [step for step in build.steps if step.place < before.place]


def _referred(book: HouseBook, build: Build, of: str, before: AnyStep | None) -> tuple[int, ...]:
    earlier = _earlier(build, before)
    if _YIELD.fullmatch(of.strip()):
        strains = [step.id for step in earlier if isinstance(step, Strain)]
        return (strains[-1],) if strains else ()
    if numbered := _LINE_NUMBERS.fullmatch(of.strip()):
        return _numbered(earlier, numbered["numbers"])
    wanted = of.strip().casefold()
    named = [
        step.id
        for step in earlier
        if isinstance(step, Add | Infuse | Top)
        and (item := book.item(step.item_id))
        and wanted in item.name.casefold()
    ]
    return (named[-1],) if named else ()


def _numbered(earlier: list[AnyStep], numbers: str) -> tuple[int, ...]:
    chosen: list[int] = []
    for part in numbers.split(","):
        first, _, last = re.sub(r"\s", "", part).replace("\u2013", "-").partition("-")
        chosen += range(int(first), int(last or first) + 1)
    if not chosen or max(chosen) > len(earlier) or min(chosen) < 1:
        return ()
    return tuple(earlier[number - 1].id for number in chosen)


def _expected_only(problem: ParseProblem) -> str:
    """The reason without the text, which stands in the cell itself."""
    return problem.expected.split("\u201d is not an amount. ", 1)[-1]


@dataclass(frozen=True, slots=True)
class _StepEdit:
    build_id: int
    step_id: int
    label: str
    style: NumberStyle

    def set(self, meaning: str, **fields: object) -> Understood:
        return Understood(steps.set_step(self.build_id, self.step_id, **fields), self.label, meaning)

    def number(self, value: float) -> str:
        return format_trimmed(value, 3, self.style)

    def grams(self, text: str) -> float | None:
        typed = parse_amount(text, self.style)
        if isinstance(typed, ParseProblem) or typed.basis not in ("absolute", "to_mark"):
            return None
        factor = {"g": 1.0, None: 1.0, "kg": 1000.0}.get(typed.unit)
        return typed.number * factor if factor is not None else None

    def percent(self, text: str) -> float | None:
        typed = parse_amount(text, self.style)
        if isinstance(typed, ParseProblem) or typed.unit != "%" or typed.of is not None:
            return None
        return typed.number

    def duration(self, text: str, step: Work) -> Edit | None:
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


def _read_strain(edit: _StepEdit, step: AnyStep, text: str) -> Edit:
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


def _read_evaporation(edit: _StepEdit, step: AnyStep, text: str) -> Edit:
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


def _read_ferment(edit: _StepEdit, step: AnyStep, text: str) -> Edit:
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


def _read_goal(edit: _StepEdit, step: AnyStep, text: str) -> Edit:
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


def _goal_set(edit: _StepEdit, goal: Goal, per: Per, value: float) -> Edit:
    meaning = f"to {edit.number(value)}{UNIT_SPACE}{goal_unit(goal, per)}"
    return edit.set(meaning, goal=goal, per=per, value=value, like_item_id=None)


def _read_chill(edit: _StepEdit, step: AnyStep, text: str) -> Edit:
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
    number = read_number(text, edit.style.decimal, edit.style.grouping or None)
    if isinstance(number, NumberProblem):
        return NotUnderstood(EXPECTED_CHILL)
    words = _COUNT.fullmatch(number.rest)
    unit = words["rest"].strip() if words else ("" if number.rest.strip() else step.count_unit)
    if not unit:
        return NotUnderstood(EXPECTED_CHILL)
    return edit.set(f"{edit.number(number.value)} {unit}", count=number.value, count_unit=unit)


def _read_time(edit: _StepEdit, step: AnyStep, text: str) -> Edit:
    assert isinstance(step, Work)
    if not text.strip():
        return edit.set("no time given", duration_s=None)
    return edit.duration(text, step) or NotUnderstood(EXPECTED_DURATION)


_Reader = Callable[[_StepEdit, AnyStep, str], Edit]


def _reader_of(step: AnyStep) -> _Reader:
    if isinstance(step, Strain):
        return _read_strain
    if isinstance(step, Chill):
        return _read_chill
    if isinstance(step, Evaporate):
        return _read_evaporation
    if isinstance(step, Ferment):
        return _read_ferment
    if isinstance(step, Adjust):
        return _read_goal
    return _read_time


_STEP_SIZES: dict[str, float] = {
    "ml": 2.5,
    "cl": 0.25,
    "dl": 0.1,
    "l": 0.05,
    "oz": 0.25,
    "US fl oz": 0.25,
    "imp fl oz": 0.25,
    "kg": 0.05,
    "barspoon": 0.5,
    "teaspoon": 0.5,
    "tablespoon": 0.5,
    "parts": 0.5,
    "s": 5.0,
    "sec": 5.0,
    "h": 0.5,
}


def step_size(unit: str, number: float) -> float:
    """How far one press of an arrow key moves an amount: the jigger step of 2.5 ml, and what fits other units."""
    if unit == "g":
        return 0.1 if number < 5.0 else 1.0 if number < 100.0 else 5.0
    if unit == "%":
        return 0.1 if number < 2.0 else 1.0
    if unit == "min":
        return 1.0 if number < 10.0 else 5.0
    return _STEP_SIZES.get(unit, 1.0)


def stepped(text: str, presses: int, usual_unit: str, style: NumberStyle = ENGLISH_STYLE) -> str | None:
    """``text`` with its number moved by so many steps, onto whole steps; ``None`` where it starts with no number.

    What stands before and behind the number (*to*, the unit, *of line 1*) is kept.
    """
    lead = re.match(r"\s*(?:[^\W\d_]+\s+)*", text)
    start = lead.end() if lead else 0
    number = read_number(text[start:], style.decimal, style.grouping or None)
    if isinstance(number, NumberProblem):
        return None
    typed = parse_amount(text, style)
    unit = typed.unit if isinstance(typed, TypedAmount) and typed.unit else _word_behind(number.rest)
    size = step_size(unit or usual_unit, number.value)
    place = number.value / size
    # From between two steps the first press goes to the next whole one.
    whole = (
        round(place) if abs(place - round(place)) < 1e-6 else (int(place) if presses > 0 else int(place) + 1)
    )
    moved = max(0.0, (whole + presses) * size)
    rest = number.rest
    if isinstance(typed, TypedAmount) and typed.unit and typed.basis == "absolute":
        rest = f" {unit_word(typed.unit, moved)}" if typed.unit in UNITS else rest
    return f"{text[:start]}{format_trimmed(moved, 4, replace(style, grouping=''))}{rest}"


def _word_behind(rest: str) -> str:
    found = re.match(r"\s*([^\W\d_]+|%)", rest)
    return found[1] if found else ""
