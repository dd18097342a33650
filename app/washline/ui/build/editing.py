"""Carries out what is typed and asked for in the tree: previews it, writes it as one step, or says why it cannot be."""

from dataclasses import dataclass, replace

from msgspec import structs
from PySide6.QtCore import QObject, Signal

from washline.document.commands import labels, lines, raws, steps
from washline.document.commands.command import Command, in_turn, next_id
from washline.document.commands.twisting import twist_part_for
from washline.document.notice import Changed
from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.graph import cycle_if_used, maker_of
from washline.model.item import Build, RawIngredient
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    Chill,
    Garnish,
    GarnishWay,
    Goal,
    Infuse,
    Line,
    Measurement,
    Rinse,
    Strain,
    Take,
    Top,
    Weight,
)
from washline.presentation.build_rows import BuildRow, Key, drinks_that_pour
from washline.presentation.detail import Detail
from washline.presentation.house_words import house_words
from washline.presentation.kitchen_words import WEIGHT_NAMES
from washline.presentation.pour_view import AS_TYPED, PourUnit, PourView
from washline.presentation.row_words import RowKind
from washline.presentation.step_details import LIKE
from washline.problem import UserError
from washline.quantity.amount_text import ParseProblem, TypedAmount, parse_amount
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.goal_line import parse_portions
from washline.quantity.line_text import TypedLine
from washline.quantity.names import fold
from washline.quantity.step_line import INFUSING, parse_infusion, parse_step
from washline.quantity.typed_step import (
    TypedAdjustment,
    TypedFloat,
    TypedGarnish,
    TypedInfusion,
    TypedRinse,
    TypedStep,
)
from washline.ui.build.columns import NAME
from washline.ui.build.detail_edits import DetailEdit
from washline.ui.build.editors import Proposal
from washline.ui.build.edits import (
    NOT_A_RINSE,
    NOT_A_SHARE,
    amount_edit,
    amount_words,
    leftover_edit,
    leftover_name_edit,
    line_amount,
)
from washline.ui.build.meaning import Edit, NotUnderstood, Understood
from washline.ui.build.model import BuildTreeModel
from washline.ui.build.names import (
    AT_THE_GLASS,
    ItemChoice,
    MethodChoice,
    NewIngredient,
    StepChoice,
    named_item,
    new_step,
    typed_name,
    usual_item,
)
from washline.ui.build.nodes import NewLine
from washline.ui.build.place import Place
from washline.ui.build.proposals import Proposals
from washline.ui.build.step_edits import found_portions, made_step, written_step
from washline.ui.session import Session

_LINE_KINDS: dict[str, type[Line]] = {
    "top": Top,
    "garnish": Garnish,
    "infuse": Infuse,
    "rinse": Rinse,
    "float": Top,
    "rim": Garnish,
    "express": Garnish,
}
_LINE_FIELDS: dict[str, dict[str, object]] = {
    "float": {"is_layer": True},
    "rim": {"way": GarnishWay.RIM},
    "express": {"way": GarnishWay.EXPRESS},
}
NO_SUCH_NAME = "Nothing has just this name. Choose from the list, or make it a new ingredient there."
AMOUNT_MISSING = "Expected how much of it, such as 45 ml."


@dataclass(frozen=True, slots=True)
class Question:
    """A change inside an opened part that waits to hear where it counts.

    ``way`` leads from the build shown down to the part, ``drinks`` are all that the change would reach.
    """

    key: Key
    column: int
    text: str
    command: Command
    label: str
    way: tuple[int, ...]
    drinks: tuple[int, ...]


class BuildEditing(QObject):
    """The one place from which the tree changes the house book.

    ``asked`` is emitted with a ``Question`` (or ``None`` when it is settled); ``said`` with words for the status line.
    """

    asked = Signal(object)
    said = Signal(str)

    def __init__(
        self,
        session: Session,
        model: BuildTreeModel,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.session = session
        self.model = model
        self.style = style
        self.question: Question | None = None

    # What a text means

    def understand(self, row: BuildRow, column: int, text: str, choice: object | None = None) -> Edit:
        """What a text typed into a cell would do."""
        if row.kind is RowKind.NEW_LINE:
            return self._new_line(row, column, text, choice)
        if row.detail is not None:
            return self._detail(row, column, text, choice)
        if column == NAME:
            return self._name(row, text, choice)
        assert row.step_id is not None
        step = self._book.step(row.build_id, row.step_id)
        if row.kind is not RowKind.LEFTOVER and isinstance(step, Measurement | Adjust):
            found = self._measured_or_like(row, step, text)
            if found is not None:
                return found
        if row.kind is RowKind.LEFTOVER:
            return leftover_edit(self._book, row.build_id, row.step_id, text, self.style)
        return amount_edit(self._book, row.build_id, row.step_id, text, self.style, self._pour_in(row))

    @property
    def _book(self) -> HouseBook:
        return self.session.document.book

    def _pour_in(self, row: BuildRow) -> PourView:
        """How the poured lines beside a row are shown: parts are those of the build that is shown."""
        pour = self.model.pour
        return AS_TYPED if row.depth and pour.unit is PourUnit.PARTS else pour

    def _detail(self, row: BuildRow, column: int, text: str, choice: object | None) -> Edit:
        step = self._book.step(row.build_id, row.step_id) if row.step_id is not None else None
        if step is None or row.detail is None:
            return NotUnderstood("This step is no longer in the build.")
        chosen_id = choice.item_id if isinstance(choice, ItemChoice) else None
        build = self._book.builds[row.build_id]
        edit = DetailEdit(self.session.document, build, step, row.detail, self.style, chosen_id)
        return edit.rename(text) if column == NAME else edit.read(text)

    def _measured_or_like(self, row: BuildRow, step: Measurement | Adjust, text: str) -> Edit | None:
        """What needs more than the step itself: the computed value beside a measured one, an item to be like."""
        build, document = self._book.builds[row.build_id], self.session.document
        detail = Detail("value", "value")
        if isinstance(step, Measurement):
            return DetailEdit(document, build, step, detail, self.style).measured_value(text)
        typed = parse_step(f"adjust it {text.strip()}", self.style)
        if not isinstance(typed, TypedAdjustment) or not typed.like:
            return None
        like = replace(detail, key=LIKE)
        edit = DetailEdit(document, build, structs.replace(step, goal=Goal(typed.goal)), like, self.style)
        found = edit.read(typed.like)
        if isinstance(found, NotUnderstood):
            return found
        goal = steps.set_step(row.build_id, step.id, goal=Goal(typed.goal))
        return replace(found, command=in_turn(goal, found.command))

    def _name(self, row: BuildRow, text: str, choice: object | None) -> Edit:
        assert row.step_id is not None
        step = self._book.step(row.build_id, row.step_id)
        if step is None:
            return NotUnderstood("This step is no longer in the build.")
        if row.kind is RowKind.LEFTOVER:
            return leftover_name_edit(self._book, row.build_id, row.step_id, text)
        if isinstance(step, Line):
            return self._swap(row, step, text, choice)
        if isinstance(step, Adjust):
            return self._portions(step, text, choice)
        label = labels.change_of_step(self._book, row.build_id, step.id)
        if isinstance(step, Chill):
            return self._method(step, text, choice, label)
        return Understood(steps.set_step(row.build_id, step.id, words=" ".join(text.split())), label, text)

    def _portions(self, step: Adjust, text: str, choice: object | None) -> Edit:
        """Other items, or other parts, in an adjustment."""
        typed = parse_portions(text, self.style)
        if isinstance(typed, ParseProblem):
            return NotUnderstood("Expected what is added, such as citric + malic 2:3.")
        chosen_id = choice.item_id if isinstance(choice, ItemChoice) else None
        place = Place(self._book, step.build_id, None, self.style, chosen_id)
        portions = found_portions(place, typed)
        if isinstance(portions, NotUnderstood):
            return portions
        label = labels.change_of_step(self._book, step.build_id, step.id)
        return Understood(steps.set_portions(step.build_id, step.id, portions), label, text)

    def _method(self, step: Chill, text: str, choice: object | None, label: str) -> Edit:
        slug = choice.slug if isinstance(choice, MethodChoice) else None
        if slug is None:
            wanted = fold(text)
            known = [
                key for key, method in self._book.methods.items() if wanted in (fold(method.name), fold(key))
            ]
            slug = known[0] if known else None
        if slug is None:
            # A whole chill may be typed over the name of one.
            whole = amount_edit(self._book, step.build_id, step.id, text, self.style)
            is_chill = isinstance(whole, Understood)
            return whole if is_chill else NotUnderstood("No method has this name. Choose one from the list.")
        command = steps.set_step(step.build_id, step.id, method=slug)
        return Understood(command, label, self._book.methods[slug].name)

    def _swap(self, row: BuildRow, step: Line, text: str, choice: object | None) -> Edit:
        typed = typed_name(text, self.style)
        if fold(text) == fold(row.name_text):
            return Understood(lambda book: book, "", row.name)
        found = self._item(row.build_id, text if choice is not None else typed.name, choice)
        if found is None:
            found = self._item(row.build_id, text, choice)
            typed = typed_name("", self.style)
        if isinstance(found, NotUnderstood) or found is None:
            return found or NotUnderstood(NO_SUCH_NAME)
        if isinstance(found, NewIngredient):
            command = in_turn(
                raws.new_raw(found.name),
                lambda book: lines.set_item(row.build_id, step.id, book.top_id)(book),
            )
            return Understood(command, labels.making(found.name), found.name)
        amount = self._line_amount(row, found.item_id, typed.line, step)
        if isinstance(amount, NotUnderstood):
            return amount
        label = labels.swap(self._book, row.build_id, step.id, found.item_id)
        return Understood(lines.set_item(row.build_id, step.id, found.item_id, amount), label, text)

    def _line_amount(
        self, row: BuildRow, item_id: int, line: TypedLine | None, step: AnyStep | None
    ) -> Amount | NotUnderstood | None:
        if line is None:
            return None
        typed = line.amount
        if line.multiplied_by != 1.0:
            typed = TypedAmount(
                typed.number * line.multiplied_by, typed.unit, typed.basis, "", None, typed.of
            )
        return line_amount(self._book, row.build_id, item_id, typed, step)

    def _item(
        self, build_id: int, name: str, choice: object | None
    ) -> ItemChoice | NewIngredient | NotUnderstood | None:
        """The item that was chosen, or that has just this name; ``None`` where none has."""
        if isinstance(choice, ItemChoice | NewIngredient):
            found: ItemChoice | NewIngredient = choice
        else:
            item = named_item(self._book, build_id, name) or usual_item(self._book, name)
            if item is None:
                return None
            found = ItemChoice(item.id)
        if isinstance(found, ItemChoice):
            cycle = cycle_if_used(self._book, build_id, found.item_id)
            if cycle:
                names = " \u2192 ".join(self._book.builds[member].name for member in cycle)
                return NotUnderstood(f"This would make it of itself: {names}.")
        return found

    def _new_line(self, row: BuildRow, column: int, text: str, choice: object | None) -> Edit:
        pending = self.model.new_line
        if column != NAME:
            if pending.item_id is None:
                return NotUnderstood("Expected a name first.")
            typed = parse_amount(text, self.style)
            if isinstance(typed, ParseProblem):
                return NotUnderstood(typed.expected.split("\u201d is not an amount. ", 1)[-1])
            return self._adding(row, pending.item_id, typed)
        if isinstance(choice, StepChoice):
            return self.step_edit(row.build_id, choice.word, self._after)
        if (written := self._written(row, text, choice)) is not None:
            return written
        typed_text = typed_name(text, self.style)
        found = self._item(row.build_id, typed_text.name, choice)
        if found is None and typed_text.line is not None:
            # The number may belong to the name.
            found = self._item(row.build_id, text, choice)
            typed_text = typed_name("", self.style) if found is not None else typed_text
        if found is None:
            return NotUnderstood(NO_SUCH_NAME)
        if isinstance(found, NotUnderstood):
            return found
        return self._named(row, found, typed_text.line, text)

    def written(self, text: str) -> TypedStep | ParseProblem | None:
        """The step that a text in the line for adding writes out; ``None`` where it is a line."""
        kind = self.model.new_line.kind
        build = self._book.builds.get(self.session.build_id or 0)
        house = house_words(self._book, is_drink=build is not None and build.is_drink)
        typed = parse_step(text, self.style, house)
        if kind == "infuse" and not isinstance(typed, TypedInfusion):
            infusion = parse_infusion(INFUSING.sub("", text), self.style)
            # A bare name waits for its amount, as in any line.
            return infusion if isinstance(infusion, TypedInfusion) else None
        if kind in AT_THE_GLASS and not isinstance(typed, TypedStep):
            written = parse_step(f"{kind} {text}", self.style, replace(house, is_drink=True))
            # A bare name waits for its amount, as in any line.
            return written if isinstance(written, TypedStep) else None
        if kind in ("adjust", "measure") and not isinstance(typed, TypedStep):
            return parse_step(f"{kind} {text}", self.style)
        return typed if kind not in ("top", "garnish") else None

    def _written(self, row: BuildRow, text: str, choice: object | None) -> Edit | None:
        typed = self.written(text)
        if typed is None or isinstance(choice, NewIngredient):
            return self._with_new_item(row, typed, choice) if isinstance(typed, TypedStep) else None
        if self.model.new_line.kind == "line" and named_item(self._book, row.build_id, text) is not None:
            # The word for a step may begin a name.
            return None
        if isinstance(typed, ParseProblem):
            return NotUnderstood(typed.expected)
        chosen_id = choice.item_id if isinstance(choice, ItemChoice) else None
        place = Place(
            self._book, row.build_id, self._after, self.style, chosen_id, self.session.document.workings
        )
        return written_step(place, typed)

    def _with_new_item(self, row: BuildRow, typed: TypedStep, choice: object | None) -> Edit | None:
        """A step that takes in something that is not in the house book yet."""
        line = (
            typed.line if isinstance(typed, TypedInfusion | TypedRinse | TypedFloat | TypedGarnish) else None
        )
        if not isinstance(choice, NewIngredient) or line is None:
            return None
        made = made_step(Place(self._book, row.build_id, None, self.style, new_name=choice.name), typed)
        if isinstance(made, NotUnderstood):
            return made
        after = self._after

        def adding_it(book: HouseBook) -> HouseBook:
            step = structs.replace(made.step, item_id=book.top_id)
            return steps.add_step(row.build_id, step, after)(book)

        command = in_turn(raws.new_raw(choice.name), adding_it)
        return Understood(command, f"adding {choice.name}", line.typed)

    def _named(
        self, row: BuildRow, found: ItemChoice | NewIngredient, line: TypedLine | None, text: str
    ) -> Edit:
        if isinstance(found, NewIngredient):
            made = Understood(raws.new_raw(found.name), labels.making(found.name), found.name)
            if line is None:
                return made
            amount = self._line_amount(row, 0, line, None)
            if amount is None or isinstance(amount, NotUnderstood):
                return amount or made
            command = in_turn(
                made.command,
                lambda book: lines.add_line(row.build_id, book.top_id, amount, self._after, self._kind)(book),
                self._manner(row.build_id, line),
            )
            return Understood(command, f"adding {found.name}", text)
        if line is None:
            return Understood(lambda book: book, "", f"how much {self._item_name(found.item_id)}?")
        typed = line.amount
        if line.multiplied_by != 1.0:
            typed = TypedAmount(
                typed.number * line.multiplied_by, typed.unit, typed.basis, "", None, typed.of
            )
        return self._adding(row, found.item_id, typed, line)

    def _item_name(self, item_id: int) -> str:
        item = self._book.item(item_id)
        return item.name if item is not None else ""

    @property
    def _after(self) -> int | None:
        return self.model.new_line.after

    @property
    def _kind(self) -> type[Line]:
        return _LINE_KINDS.get(self.model.new_line.kind, Add)

    def _manner(self, build_id: int, line: TypedLine | None) -> Command:
        """What was said of the line beside its amount: which weight is meant, what was bought for it, how warm it is."""
        fields: dict[str, object] = dict(_LINE_FIELDS.get(self.model.new_line.kind, {}))
        if line is not None and self._kind in (Add, Infuse):
            fields |= {"weight": Weight(line.weight)} if line.weight else {}
            fields |= {"bought_g": line.bought_g} if line.bought_g is not None else {}
        if line is not None and self._kind is not Garnish and line.temperature_c is not None:
            fields["temperature_c"] = line.temperature_c
        if not fields:
            return lambda book: book
        return lambda book: steps.set_step(build_id, book.top_id, **fields)(book)

    def _adding(self, row: BuildRow, item_id: int, typed: TypedAmount, line: TypedLine | None = None) -> Edit:
        if self._kind in (Add, Top) and self._is_poured(item_id):
            typed = self.model.pour.meant(typed)
        amount = line_amount(self._book, row.build_id, item_id, typed)
        if isinstance(amount, NotUnderstood):
            return amount
        if issubclass(self._kind, Rinse | Garnish) and amount.basis is not Basis.ABSOLUTE:
            return NotUnderstood(NOT_A_RINSE if self._kind is Rinse else NOT_A_SHARE)
        kind = Top if typed.tops and self._kind is Add else self._kind
        command = in_turn(
            lines.add_line(row.build_id, item_id, amount, self._after, kind), self._manner(row.build_id, line)
        )
        meaning, aside = amount_words(self._book, amount, self.style)
        if line is not None and line.weight:
            meaning = f"{meaning} {WEIGHT_NAMES[Weight(line.weight)]}"
        other = self._adding(row, item_id, typed.alternative, line) if typed.alternative is not None else None
        return Understood(
            command,
            labels.adding(self._book, item_id),
            meaning,
            aside,
            other if isinstance(other, Understood) else None,
        )

    def _is_poured(self, item_id: int) -> bool:
        item = self._book.item(item_id)
        return item.is_poured if isinstance(item, RawIngredient) else isinstance(item, Build)

    def step_edit(self, build_id: int, word: str, after: int | None) -> Understood:
        """Putting in a step that is no line."""
        step = new_step(word, self._book, is_drink=self._book.builds[build_id].is_drink)
        leftover = "leftover" if isinstance(step, Strain | Take) else ""
        command = steps.add_step(build_id, step, after, leftover)
        return Understood(command, labels.adding_step(word), word)

    def proposals(self, row: BuildRow, text: str) -> list[Proposal]:
        """What is offered under a name, or under the value of a detail, that is being typed."""
        writes = self.written(text) if row.kind is RowKind.NEW_LINE else None
        return Proposals(self._book, row, self.model.new_line.kind, writes, self.style).of(text)

    # Previewing and writing

    def preview(self, row: BuildRow, edit: Edit) -> UserError | None:
        """Shows what an edit would do; ``NotUnderstood`` shows what stands in the book."""
        if isinstance(edit, NotUnderstood) or not edit.label or not edit.shows:
            return self.session.set_preview(None)
        return self.session.set_preview(edit.command)

    def end_preview(self) -> None:
        """Shows what stands in the book, unless a question is open."""
        if self.question is None:
            self.session.set_preview(None)

    def write(self, row: BuildRow, column: int, text: str, edit: Understood) -> Changed | None:
        """Writes an edit; one inside an opened part first asks where it counts. Raises ``UserError``."""
        if not edit.label:
            self.end_preview()
            return None
        if self._asks(row.build_id, row.key, column, text, edit.command, edit.label):
            return None
        return self.session.commit(edit.command, edit.label, self)

    def apply(self, row: BuildRow, command: Command, label: str) -> Changed | None:
        """Carries out a change of the build that a row stands in; says what refuses it."""
        try:
            if self._asks(row.build_id, row.key, NAME, "", command, label):
                return None
            return self.session.commit(command, label, self)
        except UserError as refusal:
            self.said.emit(str(refusal))
            return None

    def _asks(self, build_id: int, key: Key, column: int, text: str, command: Command, label: str) -> bool:
        shown = self.session.build_id
        if shown is None or build_id == shown:
            return False
        drinks = drinks_that_pour(self._book, self.session.document.workings.users_of, build_id)
        if not set(drinks) - {shown}:
            return False
        self.settle(None)
        refusal = self.session.set_preview(command)
        if refusal is not None:
            raise refusal
        self.question = Question(key, column, text, command, label, self.way_to(key), drinks)
        self.asked.emit(self.question)
        return True

    def way_to(self, key: Key) -> tuple[int, ...]:
        """The parts from the build shown down to the one that the row with ``key`` stands in."""
        build_id = self.session.build_id
        way: list[int] = []
        key = tuple(one for one in key if one > 0)
        for step_id in key:
            step = self._book.step(build_id, step_id) if build_id is not None else None
            if not isinstance(step, Line):
                break
            maker = maker_of(self._book, step.item_id)
            if maker is None or len(way) == len(key) - 1:
                break
            way.append(maker.id)
            build_id = maker.id
        return tuple(way)

    def settle(self, answer: str | None) -> None:
        """Answers the open question: *everywhere*, *twist*, or ``None`` for neither."""
        question = self.question
        if question is None:
            return
        self.question = None
        self.asked.emit(None)
        shown = self.session.build_id
        try:
            if answer == "everywhere":
                self.session.commit(question.command, question.label, self)
            elif answer == "twist" and shown is not None:
                label = labels.change_for_one(self._book, question.way[-1], shown)
                self.session.commit(twist_part_for(shown, question.way, question.command), label, self)
            else:
                self.session.set_preview(None)
        except UserError as refusal:
            self.said.emit(str(refusal))

    def written_line(self) -> int:
        """The id that the next line gets."""
        return next_id(self._book)

    def wait_for_amount(self, item_id: int) -> None:
        """Keeps the item of the line that is being added until its amount is typed."""
        pending = self.model.new_line
        self.model.set_new_line(NewLine(pending.after, pending.kind, item_id, self._item_name(item_id)))

    def chosen_item(self, row: BuildRow, text: str, choice: object | None) -> int | None:
        """The item that a text in the line for adding names, if it names one."""
        found = self._item(row.build_id, typed_name(text, self.style).name, choice)
        return found.item_id if isinstance(found, ItemChoice) else None
