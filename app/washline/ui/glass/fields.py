"""What can be changed of the glass in place: which glass, which ice and how much, wash line and foam."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, Slot
from PySide6.QtWidgets import QComboBox, QVBoxLayout, QWidget

from washline.document.commands import labels
from washline.document.commands.command import Command, in_turn
from washline.document.commands.items import set_build
from washline.document.commands.steps import set_step
from washline.model.book import HouseBook
from washline.model.house import wash_line_ml
from washline.model.item import Build
from washline.model.step import Chill
from washline.presentation.glass_foam import Foam
from washline.presentation.glass_ice import icing_g, icing_step, icing_words, usual_ice
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, UNIT_SPACE, NumberStyle, format_trimmed
from washline.quantity.number import NumberProblem, read_number
from washline.ui.appearance import Appearance
from washline.ui.form import ChoiceRow, NumberRow, PlainField, Row
from washline.ui.session import Session, View

NO_ICE = "no ice"
AS_USUAL = "as usual for the glass"
NO_GLASS = "no glass"


class _Typing(QObject):
    """Shows what a field would do while it is typed into; nothing is written before it is left."""

    def __init__(
        self,
        session: Session,
        field: PlainField,
        command: Callable[[float | None], Command | None],
        style: NumberStyle,
    ) -> None:
        super().__init__(field)
        self._session, self._field, self._command, self._style = session, field, command, style
        field.textEdited.connect(self._preview)

    @Slot(str)
    def _preview(self, text: str) -> None:
        words = text.strip()
        reading = read_number(words, self._style.decimal, self._style.grouping or None)
        if words and isinstance(reading, NumberProblem):
            self._session.set_preview(None)
            return
        value = None if isinstance(reading, NumberProblem) else reading.value
        self._session.set_preview(self._command(value))


class GlassFields(QWidget):
    """Writes through the session, one step of undo for each field."""

    def __init__(
        self,
        session: Session,
        look: Appearance,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._session, self._look, self._style = session, look, style
        self.glass = ChoiceRow(look, "Glass", [(None, NO_GLASS)], self._set_glass)
        self.ice = ChoiceRow(look, "Ice", [(None, AS_USUAL)], self._set_ice, hint=" ")
        self.ice_g = self._number("Ice weighs", "g", self._ice_g_command)
        self.wash_line = self._number("Wash line", "ml", self._setter("wash_line_ml"))
        self.foam = self._number("Foam", "ml", self._setter("foam_ml"))
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        for row in self.rows:
            if isinstance(row.field, QComboBox):
                row.field.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
            self._column.addWidget(row)
            row.field.setEnabled(not session.document.is_read_only)
        self.set_appearance(look)

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows in order."""
        return self.glass, self.ice, self.ice_g, self.wash_line, self.foam

    @property
    def number_rows(self) -> tuple[NumberRow, ...]:
        """Those that are typed into."""
        return self.ice_g, self.wash_line, self.foam

    def _number(self, label: str, unit: str, command: Callable[[float | None], Command | None]) -> NumberRow:
        row = NumberRow(
            self._look, label, unit, lambda value: self._write(command(value)), style=self._style, hint=" "
        )
        assert isinstance(row.field, PlainField)
        row.field.setPlaceholderText("as usual")
        _Typing(self._session, row.field, command, self._style)
        return row

    def show_view(self, view: View, foam: Foam | None) -> None:
        """Shows what is kept of a drink; what is being typed stays. ``foam`` is what there is now."""
        book, build = view.book, view.build
        kept = self._session.kept_view
        written = kept.build if kept is not None else build
        self._show_glass(book, written)
        self._show_ice(book, written)
        step = icing_step(book, written)
        self.ice_g.show_value(written.ice_g if step is None else icing_g(step))
        self.wash_line.show_value(written.wash_line_ml)
        self.foam.show_value(written.foam_ml)
        self._show_usual(book, build, foam, view.trace.ice_left_g)

    def _show_glass(self, book: HouseBook, build: Build) -> None:
        glasses = [(one.slug, f"{one.name}, {self._ml(one.brim_ml)}") for one in book.glasses.values()]
        self.glass.set_choices([(None, NO_GLASS), *glasses])
        self.glass.show_value(build.glass)

    def _show_ice(self, book: HouseBook, build: Build) -> None:
        known = [(ice.name, ice.name) for ice in book.ices.values()]
        self.ice.set_choices([(None, AS_USUAL), (NO_ICE, NO_ICE), *known])
        step = icing_step(book, build)
        words = build.ice if step is None else icing_words(step) or None
        grams = build.ice_g if step is None else icing_g(step)
        named = book.ice_named(words or "")
        is_same = named is not None and named.name.casefold() == (words or "").casefold()
        self.ice.show_value(NO_ICE if grams == 0.0 else named.name if is_same and named else words)

    def _show_usual(self, book: HouseBook, build: Build, foam: Foam | None, ice_left_g: float) -> None:
        """What counts where a field is empty."""
        glass = book.glass_of(build)
        step = icing_step(book, build)
        words, grams = usual_ice(book, build, step)
        of = "the glass" if not isinstance(step, Chill) else f"“{_method_name(book, step)}”"
        self.ice.hint.setText(f"As usual for {of}: {words or 'none'}")
        usual = "not known" if grams is None else self._in(grams, "g")
        self.ice_g.hint.setText(f"Empty: as usual for {of}, {usual}; 0: none")
        foam_ml = foam.ml if foam is not None and foam.has_room else 0.0
        line = wash_line_ml(book.settings, glass, None, ice_left_g, foam_ml)
        of_line = "no glass is chosen" if line is None else self._ml(line)
        self.wash_line.hint.setText(f"Empty: as usual for glass and ice, {of_line}")
        is_own = build.foam_ml is not None
        now = "" if foam is None or is_own else f", now {self._ml(foam.ml)}"
        self.foam.hint.setText(f"Empty: as usual for what is shaken or fizzy{now}")

    def _ml(self, number: float) -> str:
        return self._in(number, "ml")

    def _in(self, number: float, unit: str) -> str:
        return f"{format_trimmed(number, 0, self._style)}{UNIT_SPACE}{unit}"

    # Writing

    def _setter(self, name: str) -> Callable[[Any], Command | None]:
        def command(value: Any) -> Command | None:
            build_id = self._session.build_id
            return None if build_id is None else set_build(build_id, **{name: value})

        return command

    def _set_glass(self, slug: str | None) -> str:
        return self._write(self._setter("glass")(slug))

    def _set_ice(self, key: str | None) -> str:
        if key == NO_ICE:
            return self._write(self._ice_command(ice_g=0.0))
        grams = self._grams
        return self._write(self._ice_command(ice=key, ice_g=None if grams == 0.0 else grams))

    @property
    def _grams(self) -> float | None:
        """The ice in the glass in grams as it is written."""
        view = self._session.kept_view
        if view is None:
            return None
        step = icing_step(view.book, view.build)
        return view.build.ice_g if step is None else icing_g(step)

    def _ice_g_command(self, grams: float | None) -> Command | None:
        return self._ice_command(ice_g=grams)

    def _ice_command(self, **fields: Any) -> Command | None:
        """Changes the ice where it comes from: in the step that leaves it in the glass, and in the drink."""
        view = self._session.kept_view
        if view is None:
            return None
        command = set_build(view.build.id, **fields)
        step = icing_step(view.book, view.build)
        if step is None:
            return command
        prefix = "" if isinstance(step, Chill) else "fresh_"
        own = {f"{prefix}{name}": value or "" if name == "ice" else value for name, value in fields.items()}
        return in_turn(command, set_step(view.build.id, step.id, **own))

    def _write(self, command: Command | None) -> str:
        build_id = self._session.build_id
        if build_id is None or command is None:
            return "No drink is open."
        label = labels.change_of_item(self._session.document.book, build_id)
        try:
            self._session.commit(command, label, self)
        except UserError as refusal:
            return str(refusal)
        return ""

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._column.setSpacing(look.px(6))
        for row in self.rows:
            row.set_appearance(look)


def _method_name(book: HouseBook, step: Chill) -> str:
    method = book.methods.get(step.method)
    return method.name if method is not None else step.method
