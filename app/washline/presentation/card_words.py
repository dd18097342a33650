"""The words of a spec card that follow from the steps: what is poured, what is done, what goes on top, what keeps."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from washline.engine.trace import StepTrace, Trace
from washline.model.amount import Basis, Heft
from washline.model.book import HouseBook
from washline.model.graph import inputs_of
from washline.model.house import MethodKind
from washline.model.item import Build, Item, KeptAt, Leftover, RawIngredient
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    BarStrain,
    Carbonate,
    Chill,
    Ferment,
    Garnish,
    GarnishWay,
    Heat,
    Infuse,
    Measurement,
    Note,
    Reduce,
    Rinse,
    Smoke,
    Strain,
    Take,
    Top,
    Wash,
    Weight,
    Work,
)
from washline.presentation import contains
from washline.presentation.keeping import days_words, house_date_of
from washline.presentation.row_words import duration_words, item_name
from washline.presentation.step_sentences import StepSentences
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    UNIT_SPACE,
    UNKNOWN,
    NumberStyle,
    format_amount,
    format_range,
    format_trimmed,
)
from washline.quantity.rounding import TradeOunces, ounces_on_card, trade_fahrenheit
from washline.quantity.unit_names import UNITS, unit_word

IN_THE_GLASS = ("build", "build-long", "swizzle", "top-up", "hot-build")
"""The methods that chill in the glass that is served, on its own ice, by their slugs in the pantry."""
_GLASS_KINDS = (MethodKind.IN_GLASS, MethodKind.ALL_IN)
_SHIFTS = {Heft.SCANT: "scant", Heft.HEAVY: "heavy"}

ROUNDED = "\u2248"

_POURED = ("ml", "cl", "dl", "l", "oz", "US fl oz", "imp fl oz")
_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_OF_THE_BENCH = (Infuse, Wash, Ferment, Adjust, Measurement, BarStrain, Rinse, Smoke, Carbonate)
"""Steps that have the same sentence on every paper."""

_COLD = (KeptAt.FRIDGE, KeptAt.FREEZER)


Poured = Add | Infuse | Rinse | Top


@dataclass(frozen=True, slots=True)
class Pour:
    """One line of the drink: ``ml`` with ``oz`` beside it, or an amount in ``words`` where it is not poured by volume.

    ``is_rounded``: the ounces differ from the amount by more than the paper may leave unsaid, and ``off`` says by how much:
    *4 % more*. ``problem`` says why there is no amount.
    """

    name: str
    note: str = ""
    ml: str = ""
    oz: str = ""
    words: str = ""
    is_rounded: bool = False
    problem: str = ""
    off: str = ""


class CardWords:
    """Words for the steps of one drink; steps that are left out do not exist on paper."""

    def __init__(self, trace: Trace, style: NumberStyle = ENGLISH_STYLE) -> None:
        self._trace = trace
        self._book = trace.book
        self._style = style
        self._steps = [step for step in trace.build.steps if not step.left_out]
        self._lines = [step for step in self._steps if isinstance(step, Add | Infuse | Rinse | Top)]
        self._short = short_names(trace.book, trace.build)
        self._bench = StepSentences(trace, style)

    def pours(self) -> tuple[Pour, ...]:
        """The lines in the order in which they are poured."""
        return tuple(self._pour(line) for line in self._lines)

    def method(self, ice: str) -> tuple[str, ...]:
        """One short sentence a step, in order; ``ice`` is what stands in the glass."""
        return tuple(self._sentences(ice))

    def garnishes(self) -> tuple[str, ...]:
        """What goes on the glass: *1 die of quince paste, on a pick*."""
        return tuple(self._garnish(step) for step in self._steps if isinstance(step, Garnish))

    @property
    def has_leaf(self) -> bool:
        """Whether a leaf lies on the drink."""
        return any(isinstance(step, Garnish) and step.amount.unit == "leaf" for step in self._steps)

    def keeps(self) -> tuple[str, ...]:
        """The house dates of what is poured; a house-made part without one says so. A part's own stands first."""
        own = (self._trace.build.id,) if not self._trace.build.is_drink else ()
        ids = dict.fromkeys((*own, *inputs_of(self._trace.build)))
        found = (self._book.item(item_id) for item_id in ids)
        told = ((item, _keeps(self._book, item)) for item in found if item is not None)
        return tuple(f"{self._short.get(item.id, item.name)}: {words}" for item, words in told if words)

    def _pour(self, line: Poured) -> Pour:
        name, note = item_name(self._book, line.item_id), self._pour_note(line)
        trace = self._trace.step(line.id)
        problem = self._problem(line, trace)
        if problem:
            return Pour(name, note, words=UNKNOWN, problem=problem)
        is_absolute = line.amount.basis is Basis.ABSOLUTE
        if is_absolute and line.amount.unit not in _POURED:
            return Pour(name, note, words=self._typed(line))
        if trace.found_ml is None:
            return Pour(name, note, words=self._grams(trace))
        if not self._trace.build.is_drink:
            return self._weighed(name, note, line, trace)
        ounces = ounces_on_card(self._even_ml(line, trace.found_ml), self._book.settings.oz_ml)
        shift = _SHIFTS.get(line.amount.heft, "")
        ml = format_trimmed(trace.found_ml, 1, self._style)
        oz = f"{shift} {ounces.text}".strip()
        if not ounces.is_declared:
            return Pour(name, note, ml=ml, oz=oz)
        return Pour(name, note, ml, f"{ROUNDED}{UNIT_SPACE}{oz}", is_rounded=True, off=self._off(ounces))

    def _typed(self, line: Poured) -> str:
        """The amount as it was typed: *2 dashes*, *scant 1 oz*."""
        typed = format_amount(line.amount.number, line.amount.unit, self._style)
        return f"{_SHIFTS.get(line.amount.heft, '')} {typed}".strip()

    def _even_ml(self, line: Poured, found_ml: float) -> float:
        """The ml that a scant or heavy pour is short of or over: what the jigger is read at."""
        settings = self._book.settings
        if line.amount.heft is Heft.SCANT:
            return found_ml + settings.scant_ml
        return found_ml - settings.heavy_ml if line.amount.heft is Heft.HEAVY else found_ml

    def _off(self, ounces: TradeOunces) -> str:
        by = format_trimmed(abs(100.0 * ounces.relative_error), 0, self._style)
        return f"{by}{UNIT_SPACE}% {'more' if ounces.relative_error > 0.0 else 'less'}"

    def _weighed(self, name: str, note: str, line: Poured, trace: StepTrace) -> Pour:
        """A liquid of a part: as it was typed with its grams beside it, or in grams where it is a share."""
        if line.amount.basis is not Basis.ABSOLUTE:
            return Pour(name, note, words=self._grams(trace))
        typed = self._typed(line)
        return Pour(name, " · ".join(part for part in (self._grams(trace), note) if part), words=typed)

    def _problem(self, line: Poured, trace: StepTrace) -> str:
        words = [one.words for one in self._trace.result.problems if one.step_id == line.id]
        told = next(iter((*words, *trace.missed)), "")
        if not told and (trace.found_g is None or not math.isfinite(trace.found_g)):
            told = "Its amount could not be computed."
        return told

    def _grams(self, trace: StepTrace) -> str:
        grams = format_trimmed(trace.found_g, 1, self._style)
        return grams if grams == UNKNOWN else f"{grams}{UNIT_SPACE}g"

    def _pour_note(self, line: Poured) -> str:
        item = self._book.item(line.item_id)
        is_ours = isinstance(item, Build | Leftover) and not item.name.casefold().endswith("ours")
        parts = ["ours"] if is_ours else []
        if isinstance(line, Rinse):
            parts.append("rinse, poured out")
        if isinstance(line, Top) and line.is_layer:
            parts.append("floated")
        elif isinstance(line, Top):
            is_marked = line.amount.basis is Basis.TO_WASH_LINE
            place = "last, " if line is self._lines[-1] else ""
            parts.append(f"{place}to the wash line" if is_marked else f"{place}to top")
        if line.temperature_c is not None:
            parts.append(f"at {self._hot(line.temperature_c)}")
        elif item is not None and item.kept_at in _COLD:
            parts.append(self._celsius(self._book.settings.temperature_c(item.kept_at)))
        if isinstance(line, Infuse):
            parts.append("to infuse")
        if isinstance(line, Add | Infuse):
            parts += (self._bought(line), line.words)
        return " · ".join(part for part in parts if part)

    def _bought(self, line: Add | Infuse) -> str:
        """Which weight of produce it is, and what to buy for it."""
        if line.weight is Weight.BOUGHT:
            return "as bought"
        bought_g = self._trace.step(line.id).bought_g
        told = "trimmed" if line.weight is Weight.TRIMMED else ""
        if bought_g is None or not bought_g > (self._trace.step(line.id).found_g or 0.0):
            return told
        buy = f"buy {format_trimmed(bought_g, 0, self._style)}{UNIT_SPACE}g"
        return f"{told}, {buy}" if told else buy

    def _sentences(self, ice: str) -> Iterator[str]:
        is_on_ice = any(isinstance(step, Chill) and is_in_glass(self._book, step) for step in self._steps)
        if ice and is_on_ice:
            yield sentence(f"{ice} in the glass")
        poured = 0
        block: list[Add] = []
        for step in (*self._steps, None):
            if isinstance(step, Add):
                block.append(step)
                continue
            if block:
                yield self._pouring(block, poured)
                poured += len(block)
                block = []
            if isinstance(step, Infuse | Rinse | Top):
                poured += 1
            if step is not None and not isinstance(step, Garnish):
                yield self._doing(step)

    def _pouring(self, block: Sequence[Add], before: int) -> str:
        count = len(block)
        verb = "Pour" if self._trace.build.is_drink else "Add"
        if count == 1:
            return sentence(f"{'Add' if before else verb} {self._name(block[0].item_id)}")
        number = _COUNTS[count] if count < len(_COUNTS) else str(count)
        if before:
            return f"Add the next {number}, in order."
        if count == len(self._lines):
            return f"{verb} both, in order." if count == 2 else f"{verb} all {number}, in order."
        return f"{verb} the first {number}, in order."

    def _doing(self, step: AnyStep) -> str:
        if isinstance(step, Top) and step.is_layer:
            return sentence(f"Float {self._name(step.item_id)} on top", [step.words])
        if isinstance(step, Top):
            mark = " to the wash line" if step.amount.basis is Basis.TO_WASH_LINE else ""
            return sentence(f"Top with {self._name(step.item_id)}{mark}", [step.words])
        if isinstance(step, Take):
            return sentence(step.words or self._taking(step))
        if isinstance(step, Chill):
            return self._chilling(step)
        if isinstance(step, _OF_THE_BENCH) or not self._trace.build.is_drink:
            return self._bench.of(step)
        assert isinstance(step, Work)
        told = step.words or ("See the build" if isinstance(step, Note) else type(step).__name__)
        return sentence(told, [*self._figures(step), self._time(step)])

    def _name(self, item_id: int) -> str:
        return self._short.get(item_id, item_name(self._book, item_id))

    def _taking(self, step: Take) -> str:
        amount = format_amount(step.amount.number, step.amount.unit, self._style)
        return f"Take out {amount}" if step.leftover_id is not None else f"Pour away {amount}"

    def _chilling(self, step: Chill) -> str:
        method = self._book.methods.get(step.method)
        told = step.words or (method.name if method is not None else step.method)
        count = ""
        if step.count is not None and not (step.count == 1.0 and _says(told, step.count_unit)):
            count = f"{format_trimmed(step.count, 1, self._style)} {step.count_unit}".strip()
        is_own_ice = is_in_glass(self._book, step)
        ice = "" if is_own_ice or _says(told, step.ice) else step.ice
        return sentence(told, [count, self._time(step), ice])

    def _figures(self, step: Work) -> Iterator[str]:
        low, high = step.temperature_low_c, step.temperature_high_c
        if low is not None and high is not None and low != high:
            first, last = trade_fahrenheit(low), trade_fahrenheit(high)
            celsius = format_range(low, high, 0, "°C", self._style)
            yield f"{celsius} ({format_range(first.temperature_f, last.temperature_f, 0, '°F', self._style)})"
        elif low is not None or high is not None:
            yield self._hot(high if low is None else low)
        if isinstance(step, Heat | Reduce) and step.final_g is not None:
            yield f"to {format_trimmed(step.final_g, 1, self._style)}{UNIT_SPACE}g"
        if isinstance(step, Strain) and step.weighed_g is not None:
            yield f"{format_trimmed(step.weighed_g, 1, self._style)}{UNIT_SPACE}g weighed"

    def _time(self, step: Work) -> str:
        return UNIT_SPACE.join(duration_words(step.duration_s, self._style)).strip(UNIT_SPACE)

    def _celsius(self, temperature_c: float | None) -> str:
        return f"{format_trimmed(temperature_c, 1, self._style)}{UNIT_SPACE}°C"

    def _hot(self, temperature_c: float | None) -> str:
        """A temperature of the kitchen with the °F of its dial: *80 °C (175 °F)*."""
        if temperature_c is None:
            return ""
        return (
            f"{self._celsius(temperature_c)} ({trade_fahrenheit(temperature_c).temperature_f}{UNIT_SPACE}°F)"
        )

    def _garnish(self, step: Garnish) -> str:
        name = item_name(self._book, step.item_id)
        unit = step.amount.unit
        number = format_trimmed(step.amount.number, 2, self._style)
        word = unit_word(unit, step.amount.number) if unit in UNITS else unit
        if unit in UNITS and UNITS[unit].dimension == "count" and word.casefold() in name.casefold():
            told = f"{number} {name}"
        else:
            told = f"{number}{UNIT_SPACE}{word} of {name}"
        if step.way is GarnishWay.RIM:
            told = f"rim: {told}"
        elif step.way is GarnishWay.EXPRESS:
            told = (
                f"{told}, expressed over the drink{', then thrown away' if step.stays_g is not None else ''}"
            )
        return f"{told}, {step.words}" if step.words else told


def is_in_glass(book: HouseBook, step: Chill) -> bool:
    """Whether a chill works in the glass that is served, on its own ice."""
    method = book.methods.get(step.method)
    return step.method in IN_THE_GLASS or (method is not None and method.kind in _GLASS_KINDS)


def sentence(words: str, details: Sequence[str] = ()) -> str:
    """Words as a sentence, with what else is to be known behind a colon."""
    told = words.strip().rstrip(".")
    rest = ", ".join(detail.strip().rstrip(".") for detail in details if detail.strip())
    whole = f"{told}: {rest}" if rest and told else told or rest
    if not whole:
        return ""
    return f"{whole[0].upper()}{whole[1:]}{'' if whole[-1] in '!?' else '.'}"


def _says(words: str, thing: str) -> bool:
    """Whether words already name the ice, or what is counted."""
    kind = thing.partition(" ")[0].casefold()
    return not kind or kind.rstrip("s") in words.casefold()


def short_names(book: HouseBook, build: Build) -> Mapping[int, str]:
    """What is poured as it is said in a sentence: *vermouth* for *Vermouth, dry, 18 %*, unless two would be called so."""
    return contains.short_names({item_id: item_name(book, item_id) for item_id in inputs_of(build)})


def kept_words(kept_at: KeptAt) -> str:
    """Where something stands, as the bar says it."""
    return {KeptAt.FRIDGE: "cold", KeptAt.FREEZER: "frozen", KeptAt.ICE_WELL: "on ice", KeptAt.ROOM: ""}[
        kept_at
    ]


def _keeps(book: HouseBook, item: Item) -> str:
    """How long and where, and why not as long as the house set, or longer than what is in it."""
    date = house_date_of(book, item.id)
    if date.days is None:
        told = "no house date" if isinstance(item, Build) else ""
    else:
        is_opened = isinstance(item, RawIngredient) and item.is_poured
        state = ("open" if is_opened else "", kept_words(item.kept_at))
        told = " ".join((days_words(date.days), ", ".join(part for part in state if part))).strip()
    why = " ".join(date.reasons) if date.is_cut or date.is_longer else ""
    return f"{told} ({why.rstrip('.')})" if told and why else told


def ice_of(book: HouseBook, build: Build) -> tuple[str, float]:
    """The ice that a drink is served on, as words and grams, as set for the drink, else as usual for its glass."""
    glass = book.glass_of(build)
    grams = build.ice_g if build.ice_g is not None else glass.ice_g if glass is not None else 0.0
    words = build.ice if build.ice is not None else glass.ice if glass is not None else ""
    return (words if grams > 0.0 else "", grams)
