"""What a text typed into a cell means for the build: a command with its label and words, or what was expected instead."""

import re
from dataclasses import dataclass, replace

from washline.document.commands import labels, leftovers, lines
from washline.model.amount import Amount, Basis, Heft
from washline.model.book import HouseBook
from washline.model.item import Build, RawIngredient
from washline.model.step import (
    Add,
    AnyStep,
    Garnish,
    Infuse,
    Line,
    Rinse,
    Strain,
    Take,
    Top,
)
from washline.presentation.house_words import house_words
from washline.presentation.pour_view import AS_TYPED, PourUnit, PourView
from washline.quantity.amount_text import (
    HEFT_OF_A_VOLUME,
    ParseProblem,
    TypedAmount,
    has_heft,
    parse_amount,
)
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    UNIT_SPACE,
    NumberStyle,
    format_trimmed,
)
from washline.quantity.number import NumberProblem, read_number
from washline.quantity.unit_names import PIECE_WORDS, UNITS, unit_word
from washline.quantity.units import bar_units
from washline.ui.build.meaning import Edit, NotUnderstood, Understood
from washline.ui.build.step_amounts import StepEdit, reader_of

EXPECTED_LEFTOVER = "Expected what was weighed, such as 405.9 g; empty means all that is not liquid."
NOT_A_SHARE = "A garnish is counted in pieces, grams or drops, not as a share."
NOT_A_RINSE = "A rinse is so many ml, not a share and not a mark."
NOT_TO_A_MARK = "A mark is for what is poured; a garnish has an amount of its own."
NO_SUCH_LINE = "There is no such line above. Expected the number or the name of an earlier line."

_PIECES = frozenset(unit.name for unit in PIECE_WORDS)
_LINE_NUMBERS = re.compile(r"lines?\s+(?P<numbers>\d+(?:\s*[-\u2013,]\s*\d+)*)", re.IGNORECASE)
_YIELD = re.compile(r"(?:(?:weighed\s+)?yield|strained|weighed|what was strained)", re.IGNORECASE)
_VESSEL = re.compile(r"(?:what is in )?(?:the )?vessel", re.IGNORECASE)


def amount_edit(
    book: HouseBook,
    build_id: int,
    step_id: int,
    text: str,
    style: NumberStyle = ENGLISH_STYLE,
    pour: PourView = AS_TYPED,
) -> Edit:
    """What ``text`` typed into the amount of a step means, where poured lines are shown as ``pour`` says."""
    build = book.builds[build_id]
    step = book.step(build_id, step_id)
    if step is None:
        return NotUnderstood("This step is no longer in the build.")
    label = labels.change_of_step(book, build_id, step_id)
    if isinstance(step, Line | Take):
        return _AmountEdit(book, build, step, label, style, pour).read(text)
    reader = reader_of(step)
    house = house_words(book, is_drink=build.is_drink)
    return reader(StepEdit(build_id, step_id, label, style, house), step, text)


def leftover_edit(
    book: HouseBook, build_id: int, step_id: int, text: str, style: NumberStyle = ENGLISH_STYLE
) -> Edit:
    """What ``text`` typed as the weight of a strain's leftover means."""
    edit = StepEdit(build_id, step_id, labels.change_of_step(book, build_id, step_id), style)
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
    pour: PourView = AS_TYPED

    def read(self, text: str) -> Edit:
        typed = parse_amount(text, self.style)
        if isinstance(typed, ParseProblem):
            return NotUnderstood(_expected_only(typed))
        if not isinstance(self.step, Add | Top):
            return self._understood(typed)
        meant = self.pour.meant(typed, self.step.amount)
        found = self._understood(meant)
        if meant is typed or isinstance(found, NotUnderstood) or self.pour.unit is not PourUnit.PARTS:
            return found
        one = f"{format_trimmed(self.pour.one_ml, 3, self.style)}{UNIT_SPACE}ml"
        return replace(found, aside=f"1 part is {one} here")

    def _understood(self, typed: TypedAmount) -> Edit:
        item_id = None if isinstance(self.step, Take) else self.step.item_id
        amount = _model_amount(
            self.book, self.build, item_id, typed, current=self.step.amount, before=self.step
        )
        if isinstance(amount, NotUnderstood):
            return amount
        if isinstance(self.step, Garnish) and amount.basis is not Basis.ABSOLUTE:
            return NotUnderstood(NOT_TO_A_MARK if "to" in amount.basis.value else NOT_A_SHARE)
        if isinstance(self.step, Rinse) and amount.basis is not Basis.ABSOLUTE:
            return NotUnderstood(NOT_A_RINSE)
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
    heft = {Heft.SCANT: -book.settings.scant_ml, Heft.HEAVY: book.settings.heavy_ml}.get(amount.heft, 0.0)
    bar = bar_units(book.settings.oz_ml, {slug: one.value for slug, one in book.measures.items()})
    shown = amount.typed if amount.typed and amount.unit in amount.typed.split() else f"{number} {unit}"
    if heft:
        total = format_trimmed(max(0.0, amount.number * bar.millilitres_per(amount.unit) + heft), 2, style)
        shown = amount.typed or f"{amount.heft.value} {number}{UNIT_SPACE}{unit}"
        less = f"{format_trimmed(abs(heft), 2, style)}{UNIT_SPACE}ml {'less' if heft < 0.0 else 'more'}"
        return f"{shown} = {total}{UNIT_SPACE}ml", f"{amount.heft.value} is {less} in this house"
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
        return NotUnderstood(HEFT_OF_A_VOLUME) if typed.heft else replace_number(current, typed)
    if typed.heft and (unit not in UNITS or not has_heft(UNITS[unit])):
        return NotUnderstood(HEFT_OF_A_VOLUME)
    return Amount(typed.number, unit, typed=typed.typed if typed.unit else "", heft=Heft(typed.heft))


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
    "parts": 0.25,
    "part": 0.25,
    "g/l": 0.5,
    "bar": 0.1,
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
