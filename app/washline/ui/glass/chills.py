"""The chill table with what was weighed of each chill, and the calibration to these weighings."""

from collections.abc import Callable
from datetime import datetime
from itertools import pairwise

from PySide6.QtCore import QRect, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from washline.document.commands import labels
from washline.document.commands.command import Command
from washline.document.commands.steps import set_step
from washline.document.commands.weighings import (
    calibrate,
    forget_calibration,
    forget_weighing,
    weigh,
    weighings_of,
)
from washline.engine.calibrating import Fit, fitted
from washline.model.house import Weighing, calibration_slug
from washline.presentation.glass_chill import (
    HEAD_TIPS,
    HEADS,
    NOTHING_CHILLS,
    NOTHING_CHILLS_PART,
    USED,
    ChillRow,
    calibrated_words,
    chill_rows,
)
from washline.presentation.glass_weighing import (
    NO_ICE_NAMED,
    WEIGHING_HEADS,
    WEIGHING_TIPS,
    Weighed,
    calibration_of,
    fit_words,
    weighing_of,
    weighing_rows,
)
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, Words
from washline.ui.glass.rows import FigureTable, TableRow
from washline.ui.glass.weighing_form import WeighingForm
from washline.ui.session import Session, View

_FOLD_FIRST = (6, 7, 4, 0, 1)


class Chills(QWidget):
    """Follows a view by ``show_view``. ``said`` carries a sentence for the status line, ``focus_moved`` where the cursor
    went, in its own coordinates."""

    said = Signal(str)
    focus_moved = Signal(QRect)

    def __init__(
        self,
        session: Session,
        look: Appearance,
        clock: Callable[[], datetime],
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._session, self._look, self._clock, self._style = session, look, clock, style
        self._rows: tuple[ChillRow, ...] = ()
        self._weighings: tuple[Weighing, ...] = ()
        self._build_id: int | None = None
        self._fit: Fit | None = None
        self._fit_of: tuple[object, ...] | None = None
        self._make()
        self._lay_out()
        self._connect()
        self.set_appearance(look)

    def _make(self) -> None:
        look = self._look
        self.empty = Words(look, NOTHING_CHILLS, token="ink2", wraps=True)
        self.table = FigureTable(look, "Chills", HEADS, HEAD_TIPS, strong=USED, fold_first=_FOLD_FIRST)
        self.about = Words(look, "", token="ink2", style="label", wraps=True)
        self.weigh_button = PlainButton(look, "Weigh…")
        self.use_button = PlainButton(look, "Use the weighed")
        self.calibrate_button = PlainButton(look, "Calibrate")
        self.forget_button = PlainButton(look, "Forget the calibration")
        self.form = WeighingForm(look, self._style)
        self.problem = Words(look, "", token="alert", style="label", wraps=True)
        self.found = Words(look, "", token="ink2", style="label", wraps=True)
        self.weighings = FigureTable(look, "Weighings", WEIGHING_HEADS, WEIGHING_TIPS, fold_first=(2, 4))
        self.drop_button = PlainButton(look, "Forget this weighing")
        self.form.hide()

    def _lay_out(self) -> None:
        buttons = self._buttons = QHBoxLayout()
        for button in (self.weigh_button, self.use_button, self.calibrate_button, self.forget_button):
            buttons.addWidget(button)
        buttons.addStretch(1)
        drop = self._drop = QHBoxLayout()
        drop.addWidget(self.drop_button)
        drop.addStretch(1)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for part in (self.empty, self.table, self.about):
            column.addWidget(part)
        column.addLayout(buttons)
        below: tuple[QWidget, ...] = (self.form, self.problem, self.found, self.weighings)
        for widget in below:
            column.addWidget(widget)
        column.addLayout(drop)
        order = (
            self.table, self.weigh_button, self.use_button, self.calibrate_button, self.forget_button,
            self.form.kind, self.form.field, self.form.keep_button, self.form.cancel_button, self.weighings,
            self.drop_button,
        )  # fmt: skip
        for before, after in pairwise(order):
            self.setTabOrder(before, after)

    def _connect(self) -> None:
        self.table.chosen.connect(self._show_row)
        self.table.current_changed.connect(self._pass_rect)
        self.weighings.current_changed.connect(self._pass_rect)
        self.weigh_button.clicked.connect(self._start_weighing)
        self.use_button.clicked.connect(self._toggle_use)
        self.calibrate_button.clicked.connect(self._calibrate)
        self.forget_button.clicked.connect(self._forget_calibration)
        self.drop_button.clicked.connect(self._forget_weighing)
        self.form.given.connect(self._weigh)
        self.form.left.connect(self._leave_form)
        self._session.after_paint.passed.connect(self._fit_weighings)

    # What is shown

    @property
    def row(self) -> ChillRow | None:
        """The chill that is chosen."""
        number = self.table.current
        return self._rows[number] if number < len(self._rows) else None

    @property
    def fit(self) -> Fit | None:
        """What a calibration to the weighings would give, once it is found."""
        return self._fit

    def show_view(self, view: View) -> None:
        """Shows the chills of a build."""
        self._rows = chill_rows(view.trace, self._style)
        self.empty.setText(NOTHING_CHILLS if view.build.is_drink else NOTHING_CHILLS_PART)
        self.empty.setVisible(all(row.is_of_glass for row in self._rows))
        self.table.setVisible(bool(self._rows))
        self.table.set_rows([TableRow(row.name, row.cells, row.spoken) for row in self._rows])
        if view.build.id != self._build_id:
            self._build_id = view.build.id
            self._say("")
            self.form.hide()
            first = next((number for number, row in enumerate(self._rows) if row.can_weigh), 0)
            self.table.choose(first, moves_page=False)
        self._show_row()

    @property
    def has_rows(self) -> bool:
        """Whether anything chills here."""
        return bool(self._rows)

    @Slot()
    def _show_row(self) -> None:
        row, book = self.row, self._session.document.book
        self.about.setText("" if row is None else " ".join(row.sentences))
        self.about.setVisible(row is not None)
        self._weighings = () if row is None or not row.ice else weighings_of(book, row.method, row.ice)
        self._show_buttons(row)
        self._ask_fit(row)
        self._show_weighings()

    def _show_buttons(self, row: ChillRow | None) -> None:
        is_open = row is not None and not self._session.document.is_read_only
        self.weigh_button.setVisible(row is not None and row.can_weigh)
        self.weigh_button.setEnabled(is_open)
        has_own = row is not None and bool(row.weighings)
        self.use_button.setVisible(row is not None and (row.is_weighed or has_own) and row.can_weigh)
        self.use_button.setText(
            "Use the computed" if row is not None and row.is_weighed else "Use the weighed"
        )
        count = len(self._weighings)
        many = "1 weighing" if count == 1 else f"{count} weighings"
        self.calibrate_button.setText(f"Calibrate to {many}")
        self.calibrate_button.setVisible(count > 0)
        self.forget_button.setVisible(self._slug(row) in self._session.document.book.calibrations)
        for button in (self.use_button, self.calibrate_button, self.forget_button, self.drop_button):
            button.setEnabled(is_open)
            button.updateGeometry()
        if row is None or not row.can_weigh:
            self.form.hide()

    @staticmethod
    def _slug(row: ChillRow | None) -> str:
        return "" if row is None else calibration_slug(row.method, row.ice)

    def _show_weighings(self) -> None:
        book = self._session.document.book
        rows = weighing_rows(book, self._weighings, self._fit, self._style)
        self.weighings.set_rows([TableRow(row.name, row.cells, row.spoken) for row in rows])
        for part in (self.weighings, self.drop_button):
            part.setVisible(bool(rows))
        calibration = book.calibrations.get(self._slug(self.row))
        told = (
            [] if self._fit is None else [f"Calibrated to these: {_lower(fit_words(self._fit, self._style))}"]
        )
        if calibration is not None:
            told.insert(0, calibrated_words(calibration, self._style))
        self.found.setText(" ".join(told))
        self.found.setVisible(bool(told))
        self.calibrate_button.setEnabled(not self._session.document.is_read_only and not self._is_fitted)

    @property
    def _is_fitted(self) -> bool:
        """Whether the calibration that stands is the one that these weighings give."""
        row, fit = self.row, self._fit
        kept = self._session.document.book.calibrations.get(self._slug(row))
        if row is None or fit is None or kept is None:
            return False
        return kept == calibration_of(row.method, row.ice, kept.date, fit, len(self._weighings))

    def _ask_fit(self, row: ChillRow | None) -> None:
        """A fit is found after the paint; one that is known is shown at once."""
        key = self._key(row)
        if key != self._fit_of:
            self._fit = self._fit_of = None
            if key is not None:
                self._session.after_paint.wait()

    def _key(self, row: ChillRow | None) -> tuple[object, ...] | None:
        if row is None or not self._weighings:
            return None
        book = self._session.document.book
        method = book.methods.get(row.method)
        usual = book.ice_named(method.ice) if method is not None else None
        return method, book.ices.get(row.ice), usual, self._weighings

    @Slot()
    def _fit_weighings(self) -> None:
        row = self.row
        key = self._key(row)
        if not self.isVisible() or row is None or key is None or key == self._fit_of:
            return
        book = self._session.document.book
        method, ice = book.methods.get(row.method), book.ices.get(row.ice)
        if method is None or ice is None:
            return
        usual = book.ice_named(method.ice)
        self._fit, self._fit_of = fitted(method, ice, self._weighings, usual), key
        self._show_weighings()

    @Slot(QRect)
    def _pass_rect(self, rect: QRect) -> None:
        sender = self.table if self.table.hasFocus() else self.weighings
        self.focus_moved.emit(QRect(sender.mapTo(self, rect.topLeft()), rect.size()))

    # Weighing

    @Slot()
    def _start_weighing(self) -> None:
        row = self.row
        if row is None:
            return
        if not row.ice:
            self._say(NO_ICE_NAMED)
            return
        self._say("")
        self.form.start()

    @Slot()
    def _leave_form(self) -> None:
        self.form.hide()
        self.weigh_button.setFocus()

    @Slot(float, bool)
    def _weigh(self, number: float, is_final: bool) -> None:
        row, build_id = self.row, self._session.build_id
        if row is None or build_id is None:
            return
        document = self._session.document
        weighed = Weighed(build_id, row.step_id, row.method, row.ice, self._today())
        try:
            start = document.workings.chill_start(build_id, row.step_id)
            weighing = weighing_of(start, weighed, number=number, is_final=is_final)
            self._session.commit(weigh(weighing), labels.weighing(document.book, row.method, row.ice), self)
        except UserError as refusal:
            self.form.say(str(refusal))
            return
        self._leave_form()
        self.said.emit("The weighing is kept. It changes nothing until it is used or calibrated to.")

    def _today(self) -> str:
        return self._clock().date().isoformat()

    @Slot()
    def _toggle_use(self) -> None:
        row, build_id = self.row, self._session.build_id
        if row is None or build_id is None:
            return
        if row.is_weighed:
            command = set_step(build_id, row.step_id, melted_g=None, final_g=None, final_ml=None)
        else:
            command = set_step(build_id, row.step_id, melted_g=row.weighings[-1].melted_g)
        book = self._session.document.book
        self._do(command, labels.change_of_step(book, build_id, row.step_id))

    @Slot()
    def _calibrate(self) -> None:
        self._fit_weighings()
        row, fit = self.row, self._fit
        if row is None or fit is None:
            return
        count = len(self._weighings)
        calibration = calibration_of(row.method, row.ice, self._today(), fit, count)
        book = self._session.document.book
        self._do(calibrate(calibration), labels.calibrating(book, row.method, row.ice))

    @Slot()
    def _forget_calibration(self) -> None:
        slug, book = self._slug(self.row), self._session.document.book
        if slug in book.calibrations:
            self._do(forget_calibration(slug), labels.forgetting_calibration(book, slug))

    @Slot()
    def _forget_weighing(self) -> None:
        number, book = self.weighings.current, self._session.document.book
        if number < len(self._weighings):
            weighing_id = self._weighings[number].id
            self._do(forget_weighing(weighing_id), labels.forgetting_weighing(book, weighing_id))

    def _do(self, command: Command, label: str) -> None:
        try:
            self._session.commit(command, label, self)
        except UserError as refusal:
            self._say(str(refusal))
            return
        self._say("")

    def _say(self, problem: str) -> None:
        self.problem.setText(problem)
        self.problem.setVisible(bool(problem))

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._column.setSpacing(look.px(8))
        self._buttons.setSpacing(look.px(8))
        for part in (
            self.empty, self.table, self.about, self.weigh_button, self.use_button, self.calibrate_button,
            self.forget_button, self.form, self.problem, self.found, self.weighings, self.drop_button,
        ):  # fmt: skip
            part.set_appearance(look)
        self.problem.setVisible(bool(self.problem.text()))


def _lower(words: str) -> str:
    return f"{words[:1].lower()}{words[1:]}"
