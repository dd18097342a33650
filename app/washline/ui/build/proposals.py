"""What is offered under a name that is being typed: items, steps, and making it a new ingredient."""

from dataclasses import dataclass, replace

from washline.model.book import HouseBook
from washline.model.step import Adjust, Chill, Line
from washline.presentation.build_rows import BuildRow
from washline.presentation.detail import Detail
from washline.presentation.row_words import RowKind
from washline.presentation.step_details import PORTION
from washline.quantity.amount_text import ParseProblem
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.goal_line import parse_portions
from washline.quantity.names import fold
from washline.quantity.step_line import INFUSING
from washline.quantity.typed_step import (
    TypedAdjustment,
    TypedFloat,
    TypedGarnish,
    TypedInfusion,
    TypedRinse,
    TypedStep,
)
from washline.ui.build.editors import Proposal
from washline.ui.build.names import (
    AT_THE_GLASS,
    STEP_WORDS,
    WRITTEN_STEPS,
    ItemChoice,
    MethodChoice,
    NewIngredient,
    StepChoice,
    matching_items,
    meant_item,
    named_item,
    typed_name,
)


@dataclass(frozen=True, slots=True)
class Proposals:
    """What fits in one row. ``adds`` is what the line for adding adds, and ``writes`` the step that stands in it."""

    book: HouseBook
    row: BuildRow
    adds: str
    writes: TypedStep | ParseProblem | None
    style: NumberStyle = ENGLISH_STYLE

    def of(self, text: str) -> list[Proposal]:
        """The proposals for a text; under a line making it a new ingredient is always last."""
        row = self.row
        step = self.book.step(row.build_id, row.step_id) if row.step_id is not None else None
        if row.detail is not None:
            return self._of_detail(row.detail, text)
        if row.kind is RowKind.NEW_LINE:
            return self._of_new_line(text)
        if isinstance(step, Chill):
            return self._methods(text)
        if isinstance(step, Adjust):
            return self._last_portion(text)
        return self._line(text) if isinstance(step, Line) else []

    def _methods(self, text: str) -> list[Proposal]:
        wanted = fold(text)
        methods = sorted(self.book.methods.values(), key=lambda method: method.name)
        return [
            Proposal(method.name, MethodChoice(method.slug), method.name)
            for method in methods
            if wanted in fold(method.name)
        ]

    def _of_detail(self, detail: Detail, text: str) -> list[Proposal]:
        if detail.choices:
            wanted = fold(text)
            fitting = [words for words in detail.choices if wanted in fold(words)]
            # Where none fits all are shown, and Enter must not take one of them.
            return [Proposal(words, words, words, bool(fitting)) for words in fitting or detail.choices]
        if not detail.takes_item and detail.key != PORTION:
            return []
        return self._items(text, "", "")

    def _items(self, name: str, before: str, behind: str) -> list[Proposal]:
        """The items that hold a name; choosing one leaves what stands around the name."""
        return [
            Proposal(item.name, ItemChoice(item.id), f"{before}{item.name}{behind}", True)
            for item in matching_items(self.book, self.row.build_id, name)
        ]

    def _last_portion(self, text: str) -> list[Proposal]:
        """For the last of several names: *citric + mal*."""
        typed = parse_portions(text, self.style)
        if isinstance(typed, ParseProblem) or not typed:
            return []
        return self._unless_meant(typed[-1].name, text)

    def _unless_meant(self, name: str, text: str) -> list[Proposal]:
        meant = meant_item(self.book, self.row.build_id, name)
        if meant is not None and fold(meant.name) == fold(name):
            return []
        before, _, behind = text.rpartition(name)
        return self._items(name, before, behind)

    def _of_new_line(self, text: str) -> list[Proposal]:
        typed = self.writes
        if isinstance(typed, TypedInfusion | TypedRinse | TypedFloat | TypedGarnish):
            found = self._unless_meant(typed.line.name, text)
            is_known = named_item(self.book, self.row.build_id, typed.line.name) is not None
            return found if is_known else [*found, _new_ingredient(typed.line.name)]
        if isinstance(typed, TypedAdjustment):
            open_names = [typed.like] if typed.like else []
            open_names += [portion.name for portion in typed.portions]
            lists = (self._unless_meant(name, text) for name in open_names)
            return next((found for found in lists if found), [])
        if isinstance(typed, ParseProblem) and (verb := INFUSING.match(text)) and text[verb.end() :].strip():
            items = self._items(text[verb.end() :], text[: verb.end()], " ")
            return [replace(one, goes_on=True) for one in items]
        if typed is not None and (isinstance(typed, TypedStep) or self.adds != "line"):
            return self._step_words(text) if self._is_only_a_word(text) else []
        if "+" in text:
            return [replace(one, goes_on=True) for one in self._last_portion(text)]
        return [*self._step_words(text), *self._line(text)]

    def _is_only_a_word(self, text: str) -> bool:
        return self.adds == "line" and fold(text) in STEP_WORDS

    @property
    def _is_drink(self) -> bool:
        return self.book.builds[self.row.build_id].is_drink

    def _step_words(self, text: str) -> list[Proposal]:
        first = fold(text)
        if self.adds != "line" or not first or typed_name(text, self.style).line is not None:
            return []
        return [
            Proposal(
                word,
                StepChoice(word),
                f"{word} " if word in WRITTEN_STEPS else word,
                goes_on=word in WRITTEN_STEPS,
            )
            for word in STEP_WORDS
            if word.startswith(first) and (word not in AT_THE_GLASS or self._is_drink)
        ]

    def _line(self, text: str) -> list[Proposal]:
        typed = typed_name(text, self.style)
        before, found, behind = text.partition(typed.name) if typed.line is not None else ("", "", "")
        items = self._items(typed.name, before if found else "", behind)
        return [*items, _new_ingredient(typed.name)]


def _new_ingredient(name: str) -> Proposal:
    return Proposal(f"New ingredient \u201c{name}\u201d", NewIngredient(name))
