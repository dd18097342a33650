"""The words of one row of the build tree: its name, its quiet note, its amount with its unit."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache

from washline.engine.trace import StepTrace, Trace
from washline.model.amount import Amount, Basis, Heft
from washline.model.book import HouseBook
from washline.model.item import Build, Item, KeptAt, Leftover, RawIngredient
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    BarStrain,
    Blend,
    Carbonate,
    Chill,
    Dry,
    Evaporate,
    Ferment,
    Garnish,
    GarnishWay,
    Heat,
    Infuse,
    Line,
    Measurement,
    Muddle,
    Note,
    Reduce,
    Rest,
    Rinse,
    Smoke,
    Strain,
    Take,
    Top,
    Wash,
    Work,
)
from washline.presentation import bar_words as bar
from washline.presentation import kitchen_words as kitchen
from washline.presentation.house_words import lower_first
from washline.presentation.measuring import QUANTITIES
from washline.presentation.pour_view import AS_TYPED, PourView
from washline.presentation.step_details import expected_text, time_words
from washline.quantity.formatting import (
    UNIT_SPACE,
    UNKNOWN,
    NumberStyle,
    format_number,
    format_range,
    format_trimmed,
)
from washline.quantity.pressure_text import KILOPASCALS
from washline.quantity.unit_names import PIECE_WORDS, UNITS, unit_word

_PIECES = frozenset(unit.name for unit in PIECE_WORDS)
_VAGUE = frozenset(
    {"dash", "drop", "barspoon", "splash", "teaspoon", "tablespoon", "oz", "US fl oz", "imp fl oz"}
)


@lru_cache(maxsize=4096)
def trimmed(value: float | None, most_decimals: int, style: NumberStyle) -> str:
    """``format_trimmed``, remembered: most amounts of a build stay as they are from key to key."""
    return format_trimmed(value, most_decimals, style)


class RowKind(StrEnum):
    """What a row is; also the name of its mark."""

    LINE = "line"
    PART = "part"
    INFUSE = "infuse"
    MUDDLE = "muddle"
    BLEND = "blend"
    REST = "rest"
    NOTE = "note"
    WASH = "wash"
    STRAIN = "strain"
    FERMENT = "ferment"
    ADJUST = "adjust"
    MEASURE = "measure"
    HEAT = "heat"
    REDUCE = "reduce"
    DRY = "dry"
    TAKE = "take"
    CHILL = "chill"
    BAR_STRAIN = "strain into the glass"
    RINSE = "rinse"
    SMOKE = "smoke"
    CARBONATE = "carbonate"
    TOP = "top"
    FLOAT = "float"
    GARNISH = "garnish"
    RIM = "rim"
    EXPRESS = "express"
    LEFTOVER = "leftover"
    DETAIL = "detail"
    BOTTLE = "bottle"
    SERVED = "served"
    NEW_LINE = "new line"


_STEP_KINDS: dict[type, RowKind] = {
    Infuse: RowKind.INFUSE,
    Muddle: RowKind.MUDDLE,
    Wash: RowKind.WASH,
    Ferment: RowKind.FERMENT,
    Adjust: RowKind.ADJUST,
    Measurement: RowKind.MEASURE,
    Blend: RowKind.BLEND,
    Rest: RowKind.REST,
    Note: RowKind.NOTE,
    Strain: RowKind.STRAIN,
    Heat: RowKind.HEAT,
    Reduce: RowKind.REDUCE,
    Dry: RowKind.DRY,
    Take: RowKind.TAKE,
    Chill: RowKind.CHILL,
    BarStrain: RowKind.BAR_STRAIN,
    Rinse: RowKind.RINSE,
    Smoke: RowKind.SMOKE,
    Carbonate: RowKind.CARBONATE,
    Top: RowKind.TOP,
    Garnish: RowKind.GARNISH,
}


_GARNISH_KINDS = {
    GarnishWay.GARNISH: RowKind.GARNISH,
    GarnishWay.RIM: RowKind.RIM,
    GarnishWay.EXPRESS: RowKind.EXPRESS,
}


class AmountState(StrEnum):
    """Where a figure comes from: typed, weighed, expected by nobody's scale, or computed to meet a mark."""

    TYPED = "typed"
    WEIGHED = "weighed"
    ESTIMATED = "estimated"


@dataclass(frozen=True, slots=True)
class AmountText:
    """An amount as shown and as edited."""

    text: str = ""
    unit: str = ""
    state: AmountState = AmountState.TYPED
    edit_text: str = ""


@dataclass(frozen=True, slots=True)
class BottleWords:
    """What the foot of a house-made part says."""

    amount: str
    note: str
    sugars: str
    pours: str

    @property
    def remark(self) -> str:
        """Sugars and pours in one line."""
        return " · ".join(part for part in (self.sugars, self.pours) if part)


def kind_of(step: AnyStep, book: HouseBook) -> RowKind:
    """The kind of a step's row; a line that pours a house-made part or its leftover is a part."""
    if isinstance(step, Add):
        item = book.item(step.item_id)
        return RowKind.PART if isinstance(item, Build | Leftover) else RowKind.LINE
    if isinstance(step, Top) and step.is_layer:
        return RowKind.FLOAT
    if isinstance(step, Garnish):
        return _GARNISH_KINDS[step.way]
    return _STEP_KINDS[type(step)]


def item_name(book: HouseBook, item_id: int) -> str:
    """The name of an item, or that it is gone."""
    item: Item | None = book.item(item_id)
    return item.name if item is not None else "deleted item"


def duration_words(seconds: float | None, style: NumberStyle) -> tuple[str, str]:
    """A time as a person says it: 90 s, 45 min, 24 h, 6 days."""
    return time_words(seconds, style)


def _time_amount(step: Work, style: NumberStyle) -> AmountText:
    text, unit = duration_words(step.duration_s, style)
    return AmountText(text, unit, edit_text=f"{text} {unit}".strip())


class StepWords:
    """Words for the steps of one build."""

    def __init__(self, trace: Trace, style: NumberStyle, pour: PourView = AS_TYPED) -> None:
        self._pour = pour
        self._book = trace.book
        self._build = trace.build
        self._style = style
        # A number that is typed again must not hold a mark that can be read in two ways.
        self._typed_style = replace(style, grouping="")

    def name(self, step: AnyStep) -> str:
        """What the step is called in the tree."""
        if isinstance(step, Line):
            return item_name(self._book, step.item_id)
        if isinstance(step, Chill):
            method = self._book.methods.get(step.method)
            return lower_first(method.name) if method else f"chill: {step.method}"
        if isinstance(step, Note):
            return step.words or "note"
        return self._kitchen_name(step)

    def _kitchen_name(self, step: AnyStep) -> str:
        if isinstance(step, Wash):
            return kitchen.WASH_NAMES[step.kind]
        if isinstance(step, Strain):
            return kitchen.strain_name(step)
        if isinstance(step, Ferment):
            return kitchen.ferment_name(step)
        if isinstance(step, Adjust):
            return kitchen.portions_text(self._book, step, self._style, is_short=True)
        if isinstance(step, Measurement):
            return f"measure {QUANTITIES[step.quantity].name}"
        if isinstance(step, BarStrain):
            return bar.STRAIN_NAMES[step.way]
        return _STEP_KINDS[type(step)].value

    def name_text(self, step: AnyStep) -> str:
        """What is edited in the place of the name: the item, the method, or the step's own words."""
        if isinstance(step, Line):
            return item_name(self._book, step.item_id)
        if isinstance(step, Adjust):
            return kitchen.portions_text(self._book, step, self._typed_style)
        if isinstance(step, Chill):
            method = self._book.methods.get(step.method)
            return method.name if method else step.method
        return step.words

    def note(self, step: AnyStep, trace: StepTrace, drinks: Sequence[int] = ()) -> str:
        """The quiet words behind the name."""
        parts = [self._found(step, trace), *self._kitchen_notes(step, trace)]
        if isinstance(step, Line):
            parts += [self._users(step, drinks), "" if isinstance(step, Infuse) else self._temperature(step)]
        if isinstance(step, Work):
            parts.append(self._work_temperature(step))
        if not isinstance(step, Note):
            parts.append(step.words)
        if isinstance(step, Infuse):
            parts.append(kitchen.given_words(step, self._style))
        if isinstance(step, Top):
            parts.append("floated" if step.is_layer else "top")
        return ", ".join(part for part in parts if part)

    def _kitchen_notes(self, step: AnyStep, trace: StepTrace) -> Sequence[str]:
        """What a step found, or what was measured on it."""
        if isinstance(step, Chill):
            return tuple(bar.chill_notes(step, trace, self._book, self._style))
        if isinstance(step, BarStrain):
            return tuple(bar.strain_notes(step, trace, self._book, self._style))
        if isinstance(step, Carbonate):
            return tuple(bar.carbonate_notes(step, trace, self._book, self._style))
        if isinstance(step, Add | Infuse):
            time = f"infused {self._time(step)}".strip() if isinstance(step, Infuse) else ""
            return (time, kitchen.bought_words(step, trace, self._book, self._style))
        if isinstance(step, Ferment):
            return kitchen.ferment_words(step, trace.reading_after("ph"), self._style)
        if isinstance(step, Adjust):
            return (kitchen.found_portions(step, trace, self._style),)
        if isinstance(step, Strain):
            return (*kitchen.measured_liquid(step, self._style), self._time(step))
        if isinstance(step, Measurement):
            computed = kitchen.computed_words(step, trace, self._style)
            return (computed, kitchen.measured_with(step, self._style))
        if isinstance(step, Evaporate) and _has_end(step):
            return (self._time(step),)
        return ()

    def _time(self, step: Work) -> str:
        return UNIT_SPACE.join(duration_words(step.duration_s, self._style)).strip(UNIT_SPACE)

    def amount(self, step: AnyStep, trace: StepTrace) -> AmountText:
        """The step's one number."""
        if isinstance(step, Line | Take):
            shown = self._pour.shown(step)
            return self._amount(step.amount, trace) if shown is None else self._poured(step.amount, shown)
        if isinstance(step, BarStrain | Carbonate):
            return self._at_the_bar(step)
        if isinstance(step, Adjust):
            return self._goal(step)
        if isinstance(step, Measurement):
            return self._measured(step)
        if isinstance(step, Ferment) and step.duration_s is None:
            return self._fermented(step)
        if isinstance(step, Strain):
            return self._yield(step, trace)
        if isinstance(step, Chill):
            return self._chill(step, trace)
        if isinstance(step, Evaporate) and _has_end(step):
            return self._final(step)
        return _time_amount(step, self._style)

    def _poured(self, amount: Amount, shown: float) -> AmountText:
        """A poured line in the unit of the view; in parts the number alone is edited."""
        number, unit = self._pour.number_text(shown, self._style), self._pour.unit_text(shown)
        typed = self._pour.number_text(shown, self._typed_style)
        heft = f"{amount.heft.value} " if amount.heft is not Heft.EVEN else ""
        edit = f"{heft}{typed}" if unit.startswith("part") else f"{heft}{typed} {unit}"
        return AmountText(f"{heft}{number}", unit, edit_text=edit)

    def _at_the_bar(self, step: BarStrain | Carbonate) -> AmountText:
        if isinstance(step, BarStrain):
            if step.held_back_ml is None:
                return AmountText()
            text, typed = self._number(step.held_back_ml), self._typed(step.held_back_ml)
            return AmountText(text, "ml held back", AmountState.WEIGHED, f"{typed} ml held back")
        if step.co2_g_per_l is not None:
            text, typed = self._number(step.co2_g_per_l), self._typed(step.co2_g_per_l, 6)
            return AmountText(text, "g/l", edit_text=f"{typed} g/l")
        if step.over_kpa is None:
            return AmountText()
        bars = step.over_kpa / KILOPASCALS["bar"]
        return AmountText(self._number(bars, 2), "bar over", edit_text=f"{self._typed(bars, 6)} bar over")

    def _number(self, value: float | None, most_decimals: int = 3) -> str:
        return trimmed(value, most_decimals, self._style)

    def _typed(self, value: float | None, most_decimals: int = 3) -> str:
        return trimmed(value, most_decimals, self._typed_style)

    def _grams(self, value: float | None) -> str:
        return f"{format_number(value, 1, self._style)}{UNIT_SPACE}g"

    def _amount(self, amount: Amount, trace: StepTrace) -> AmountText:
        number = self._number(amount.number)
        unit = unit_word(amount.unit, amount.number) if amount.unit in UNITS else amount.unit
        edit = amount.typed or f"{self._typed(amount.number)} {unit}"
        match amount.basis:
            case Basis.PERCENT_OF_VESSEL:
                return AmountText(
                    f"{number}{UNIT_SPACE}%",
                    "of the vessel",
                    edit_text=amount.typed or f"{self._typed(amount.number)} %",
                )
            case Basis.PERCENT_OF_LINES:
                return AmountText(
                    f"{number}{UNIT_SPACE}%",
                    f"of {self._base(amount)}",
                    edit_text=amount.typed or f"{self._typed(amount.number)} %",
                )
            case Basis.PARTS:
                return AmountText(number, f"{unit} of {self._base(amount)}", edit_text=edit)
            case Basis.TO_VOLUME | Basis.TO_MASS:
                return AmountText(
                    f"to {number}", unit, edit_text=amount.typed or f"to {self._typed(amount.number)} {unit}"
                )
            case Basis.TO_WASH_LINE:
                found = self._number(trace.found_ml, 1)
                return AmountText(found, "ml, to the wash line", AmountState.ESTIMATED, "to the wash line")
        heft = f"{amount.heft.value} " if amount.heft is not Heft.EVEN else ""
        return AmountText(f"{heft}{number}", unit, edit_text=amount.typed or f"{heft}{edit}")

    def _base(self, amount: Amount) -> str:
        """What a share refers to, in few words."""
        steps = [step for step in self._build.steps if step.id in amount.of]
        if len(steps) == 1 and isinstance(steps[0], Strain):
            return "weighed" if steps[0].weighed_g is not None else "the yield"
        names = [self.name(step) for step in steps]
        if not names:
            return "a removed line"
        return names[0] if len(names) == 1 else f"{names[0]} and {len(names) - 1} more"

    def _found(self, step: AnyStep, trace: StepTrace) -> str:
        if isinstance(step, Strain):
            if step.weighed_g is None or trace.estimate_g is None:
                return ""
            return f"estimate was {format_number(trace.estimate_g, 0, self._style)}"
        if isinstance(step, Chill):
            return self._dilution(trace)
        if not isinstance(step, Line | Take) or step.left_out:
            return ""
        if isinstance(step, Garnish):
            grams = (
                f"{self._grams(trace.found_g)}" if trace.found_g is not None else f"{UNKNOWN}{UNIT_SPACE}g"
            )
            where = "in the liquid" if step.in_liquid else "not in the liquid"
            told = (grams, bar.GARNISH_NOTES[step.way], bar.stays_words(step, self._style), where)
            return ", ".join(part for part in told if part)
        if isinstance(step, Rinse):
            return bar.film_words(step, self._book, self._style)
        return self._found_amount(step.amount, trace)

    def _found_amount(self, amount: Amount, trace: StepTrace) -> str:
        if amount.basis is Basis.ABSOLUTE:
            is_rough = amount.unit in _VAGUE or amount.heft is not Heft.EVEN
            if is_rough and trace.found_ml is not None:
                return f"{self._number(trace.found_ml, 2)}{UNIT_SPACE}ml"
            return self._grams(trace.found_g) if amount.unit in _PIECES else ""
        if amount.basis is Basis.TO_WASH_LINE:
            return ""
        is_volume = amount.basis is Basis.TO_VOLUME and trace.found_ml is not None
        found = (
            f"{self._number(trace.found_ml, 1)}{UNIT_SPACE}ml" if is_volume else self._grams(trace.found_g)
        )
        return f"= {found}"

    def _dilution(self, trace: StepTrace) -> str:
        dilution = trace.dilution_pct
        if not dilution > 0.0:
            return ""
        return f"dilution {format_number(dilution, 1, self._style)}{UNIT_SPACE}%"

    def _temperature(self, step: Line) -> str:
        own = None if isinstance(step, Garnish) else step.temperature_c
        if own is not None:
            return f"{self._number(own, 1)}{UNIT_SPACE}°C"
        item = self._book.item(step.item_id)
        if isinstance(step, Garnish) or item is None or not _is_cold(item):
            return ""
        return f"{self._number(self._book.settings.temperature_c(item.kept_at), 1)}{UNIT_SPACE}°C"

    def _users(self, step: AnyStep, drinks: Sequence[int]) -> str:
        return f"in {len(drinks)} drinks" if len(drinks) > 1 else ""

    def _work_temperature(self, step: Work) -> str:
        low, high = step.temperature_low_c, step.temperature_high_c
        if low is None and high is None:
            return ""
        first = low if low is not None else high
        last = high if high is not None else low
        decimals = 0 if all(value is None or float(value).is_integer() for value in (first, last)) else 1
        return format_range(first, last, decimals, "°C", self._style)

    def _yield(self, step: Strain, trace: StepTrace) -> AmountText:
        if step.weighed_g is not None:
            text = self._number(step.weighed_g, 1)
            return AmountText(text, "g weighed", AmountState.WEIGHED, f"{self._typed(step.weighed_g, 1)} g")
        if trace.estimate_g is None:
            return AmountText(UNKNOWN, "g", AmountState.ESTIMATED, "")
        text = format_number(trace.estimate_g, 0, self._style)
        unit = "g"
        if trace.estimate_low_g is not None and trace.estimate_high_g is not None:
            low, high = (
                format_number(value, 0, self._style)
                for value in (trace.estimate_low_g, trace.estimate_high_g)
            )
            unit = f"g, {low} to {high}"
        return AmountText(text, unit, AmountState.ESTIMATED, expected_text(step, self._style))

    def _goal(self, step: Adjust) -> AmountText:
        text, unit = kitchen.goal_words(self._book, step, self._style)
        if step.like_item_id is not None:
            return AmountText(text, unit, edit_text=f"{text} as {item_name(self._book, step.like_item_id)}")
        return AmountText(
            text, unit, edit_text=f"{self._typed(step.value, 6)} {unit}".replace(UNIT_SPACE, " ")
        )

    def _measured(self, step: Measurement) -> AmountText:
        quantity = QUANTITIES[step.quantity]
        text = format_trimmed(step.value, max(quantity.decimals, 3), self._style)
        unit = quantity.unit or quantity.name
        return AmountText(
            text, unit, AmountState.WEIGHED, f"{self._typed(step.value, 6)} {quantity.unit}".strip()
        )

    def _fermented(self, step: Ferment) -> AmountText:
        if step.final_ph is not None:
            text = self._number(step.final_ph)
            return AmountText(f"to {text}", "pH", AmountState.WEIGHED, f"pH {self._typed(step.final_ph)}")
        if step.gas_lost_g is not None:
            text = self._number(step.gas_lost_g)
            return AmountText(text, "g gas", AmountState.WEIGHED, f"{self._typed(step.gas_lost_g)} g gas")
        return AmountText()

    def _chill(self, step: Chill, trace: StepTrace) -> AmountText:
        if step.count is not None:
            text = self._number(step.count)
            return AmountText(text, step.count_unit, edit_text=f"{text} {step.count_unit}".strip())
        if step.melted_g is not None:
            text = self._number(step.melted_g, 1)
            return AmountText(text, "g melted", AmountState.WEIGHED, f"{self._typed(step.melted_g, 1)} g")
        if step.duration_s is not None:
            return _time_amount(step, self._style)
        if step.final_g is not None:
            text = self._number(step.final_g, 1)
            return AmountText(text, "g in all", AmountState.WEIGHED, f"to {self._typed(step.final_g, 1)} g")
        if step.final_ml is not None:
            text = self._number(step.final_ml, 1)
            return AmountText(
                text, "ml in all", AmountState.WEIGHED, f"to {self._typed(step.final_ml, 1)} ml"
            )
        return AmountText(self._number(trace.found_g, 1), "g melt", AmountState.ESTIMATED, "")

    def _final(self, step: Evaporate) -> AmountText:
        if step.final_g is not None:
            text = self._number(step.final_g, 1)
            return AmountText(f"to {text}", "g", AmountState.WEIGHED, f"{self._typed(step.final_g, 1)} g")
        if step.final_brix is not None:
            text = self._number(step.final_brix)
            return AmountText(f"to {text}", "°Bx", AmountState.TYPED, f"{self._typed(step.final_brix)} °Bx")
        text = self._number(step.final_pct)
        return AmountText(f"to {text}{UNIT_SPACE}%", "of its mass", AmountState.TYPED, f"{text} %")


def _has_end(step: Evaporate) -> bool:
    return any(one is not None for one in (step.final_g, step.final_pct, step.final_brix))


def _is_cold(item: Item) -> bool:
    return item.kept_at is not KeptAt.ROOM and not (
        isinstance(item, RawIngredient) and item.form not in ("liquid", "syrup", "")
    )


def wash_line_words(
    length_ml: float | None, wash_line_ml: float | None, style: NumberStyle
) -> tuple[str, bool]:
    """How far a drink is from the wash line, and whether it is over it."""
    if wash_line_ml is None:
        return "no glass chosen", False
    if length_ml is None:
        return "", False
    away = format_number(abs(length_ml - wash_line_ml), 0, style)
    if away == "0":
        return "at the wash line", False
    is_over = length_ml > wash_line_ml
    return f"{away}{UNIT_SPACE}ml {'over' if is_over else 'under'} the wash line", is_over


def bottle_words(trace: Trace, style: NumberStyle) -> BottleWords:
    """What a house-made part yields: grams, millilitres, sugars and pours or pieces."""
    build = trace.build
    mass, volume = trace.value("mass"), trace.value("length")
    note = f"{format_number(volume, 0, style)}{UNIT_SPACE}ml" if volume is not None else ""
    grams = trace.total.sugars_g
    has_sugars = mass is not None and grams > 0.0005 * mass
    sugars = (
        f"{format_number(100.0 * grams / mass, 1, style)}{UNIT_SPACE}% sugars" if mass and has_sugars else ""
    )
    pours = ""
    if build.pour_ml and volume is not None:
        count = int(volume / build.pour_ml + 1e-9)
        pours = f"{count} pours of {trimmed(build.pour_ml, 2, style)}{UNIT_SPACE}ml"
    elif build.piece_g and mass is not None:
        count = int(mass / build.piece_g + 1e-9)
        pours = f"{count} pieces of {trimmed(build.piece_g, 2, style)}{UNIT_SPACE}g"
    return BottleWords(format_number(mass, 0, style), note, sugars, pours)
