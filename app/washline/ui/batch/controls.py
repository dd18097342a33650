"""How much is made, in what, how it is served, and what is scaled otherwise: every answer is kept with the drink."""

from collections.abc import Callable, Sequence
from typing import Any

from msgspec import structs
from PySide6.QtCore import Signal, Slot
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QVBoxLayout, QWidget

from washline.model.book import HouseBook
from washline.model.house import Vessel
from washline.model.item import Batch, BatchService
from washline.presentation.batch_plan import fill_of
from washline.quantity.formatting import ENGLISH_STYLE, UNIT_SPACE, NumberStyle, format_trimmed
from washline.ui.appearance import Appearance
from washline.ui.batch.wrap import WrapLine
from washline.ui.controls import Tick
from washline.ui.costs.bar import HouseNumber, LabelledChoice, Taken

SERVES, VESSELS = "serves", "vessels"
NO_VESSEL = ""
SERVICES = (
    (BatchService.FREEZER, "From the freezer"),
    (BatchService.FRIDGE, "From the fridge"),
    (BatchService.TAP, "On tap"),
    (BatchService.CARBONATED, "Carbonated"),
    (BatchService.ON_ICE, "On ice, undiluted"),
)
SCALE_STEPS_G = (0.01, 0.1, 0.5, 1.0, 2.0, 5.0, 10.0)
_LARGEST = 100_000.0
_MOST_PCT = 200.0


class BatchTick(Tick):
    """A tick in the inks of the sheet."""

    def __init__(self, look: Appearance, words: str, tip: str) -> None:
        super().__init__(words)
        self.setToolTip(tip)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self.setFont(look.fonts.row)
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.Base, look.theme.raised)
        self.setPalette(palette)


class OpenChoice(LabelledChoice):
    """A choice whose list comes from the house book."""

    def set_choices(self, choices: Sequence[tuple[Any, str]], key: Any) -> None:
        """Offers other choices, one of them chosen."""
        keys = [one for one, _ in choices]
        words = [text for _, text in choices]
        if keys != self._keys or words != [
            self.field.itemText(number) for number in range(self.field.count())
        ]:
            self._keys = keys
            self.field.clear()
            self.field.addItems(words)
            self.updateGeometry()
        self.choose(key)


class BatchControls(QWidget):
    """``changed`` carries the batch as it is wanted now; ``fill_changed`` a vessel with another fill; ``refused`` why a
    text was not understood, or an empty text."""

    changed = Signal(object)
    fill_changed = Signal(object)
    refused = Signal(str)

    def __init__(self, look: Appearance, style: NumberStyle = ENGLISH_STYLE) -> None:
        super().__init__()
        self._style = style
        self._batch = Batch()
        self._vessel: Vessel | None = None
        self._make(look)
        self._lines = (
            WrapLine(look, (self.by, self.serves, self.count, self.vessel, self.fill)),
            WrapLine(look, (self.service, self.citrus, self.fizz, self.salt, self.bitters, self.scale)),
        )
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for line in self._lines:
            column.addWidget(line)
        self._connect()
        self.set_appearance(look)

    def _make(self, look: Appearance) -> None:
        style = self._style
        self.by = LabelledChoice(look, "Make", ((SERVES, "a number of serves"), (VESSELS, "full vessels")))
        self.serves = HouseNumber(look, "Serves", "", self._number("serves"), style, unset="10")
        self.count = HouseNumber(look, "Vessels", "", self._number("vessel_count"), style, unset="1")
        self.vessel = OpenChoice(look, "Vessel", ((NO_VESSEL, "none"),))
        self.fill = HouseNumber(look, "filled to", "ml", self._take_fill, style)
        self.fill.setToolTip("What every such vessel of the house is filled to")
        self.service = LabelledChoice(look, "Service", SERVICES)
        self.citrus = BatchTick(look, "Citrus at service", "Fresh citrus juice is poured into each serve")
        self.fizz = BatchTick(look, "Fizz at service", "What is fizzy is poured into each serve")
        self.salt = HouseNumber(look, "Salt", "%", self._share("salt_pct"), style, unset="75")
        self.bitters = HouseNumber(look, "Bitters", "%", self._share("bitters_pct"), style, unset="60")
        for number, what in ((self.salt, "salt"), (self.bitters, "bitters")):
            number.setToolTip(
                f"How much of the {what} of the serves goes in; empty: what the house's settings say. "
                "Start low, taste, add the rest (common practice, no source)"
            )
        self.scale = OpenChoice(look, "Scale step", ((1.0, ""),))

    @property
    def _ticks(self) -> tuple[BatchTick, ...]:
        return self.citrus, self.fizz

    @property
    def _numbers(self) -> tuple[HouseNumber, ...]:
        return self.serves, self.count, self.fill, self.salt, self.bitters

    @property
    def _choices(self) -> tuple[LabelledChoice, ...]:
        return self.by, self.vessel, self.service, self.scale

    @property
    def fields(self) -> tuple[QWidget, ...]:
        """What can be filled in, in order."""
        return (
            self.by.field, self.serves.field, self.count.field, self.vessel.field, self.fill.field, self.service.field,
            self.citrus, self.fizz, self.salt.field, self.bitters.field, self.scale.field,
        )  # fmt: skip

    def _connect(self) -> None:
        self.by.chosen.connect(self._choose_by)
        self.vessel.chosen.connect(self._choose_vessel)
        self.service.chosen.connect(self._choose_service)
        self.scale.chosen.connect(self._choose_scale)
        self.citrus.clicked.connect(self._tick_citrus)
        self.fizz.clicked.connect(self._tick_fizz)
        for number in self._numbers:
            number.refused.connect(self.refused)

    # What is shown

    def show_batch(self, batch: Batch, book: HouseBook, *, is_read_only: bool) -> None:
        """Shows a batch, with the vessels of the house."""
        self._batch, self._vessel = batch, book.vessels.get(batch.vessel)
        self._offer_vessels(book)
        is_by_vessel = batch.vessel_count is not None
        self.by.choose(VESSELS if is_by_vessel else SERVES)
        self.serves.setVisible(not is_by_vessel)
        self.count.setVisible(is_by_vessel)
        self.fill.setVisible(self._vessel is not None)
        self.serves.show_value(batch.serves)
        self.count.show_value(batch.vessel_count)
        self.fill.show_value(None if self._vessel is None else fill_of(self._vessel))
        self.service.choose(batch.service)
        self.citrus.setChecked(batch.citrus_at_service)
        self.fizz.setChecked(batch.fizz_at_service)
        self._show_shares(batch, book)
        self._show_scale(batch)
        for field in self.fields:
            field.setEnabled(not is_read_only)
        if not book.vessels:
            self.vessel.setToolTip("The house book has no vessels yet")

    def _show_shares(self, batch: Batch, book: HouseBook) -> None:
        settings = book.settings
        usual = (settings.salt_batch_pct, settings.bitters_batch_pct)
        for number, share, house in zip(
            (self.salt, self.bitters), (batch.salt_pct, batch.bitters_pct), usual, strict=True
        ):
            number.field.setPlaceholderText(format_trimmed(house, 1, self._style))
            number.show_value(share)

    def _show_scale(self, batch: Batch) -> None:
        steps = sorted({*SCALE_STEPS_G, batch.round_g} - {0.0})
        written = [(step, f"{format_trimmed(step, 3, self._style)}{UNIT_SPACE}g") for step in steps]
        self.scale.set_choices([*written, (0.0, "not rounded")], batch.round_g)

    def _offer_vessels(self, book: HouseBook) -> None:
        offered = [(NO_VESSEL, "none")]
        offered += [
            (vessel.slug, vessel.name)
            for vessel in sorted(book.vessels.values(), key=lambda one: (one.volume_ml, one.name))
        ]
        self.vessel.set_choices(offered, self._batch.vessel if self._vessel is not None else NO_VESSEL)

    # What is changed

    def _change(self, **fields: Any) -> None:
        self.changed.emit(structs.replace(self._batch, **fields))

    def _number(self, name: str) -> Callable[[Taken], str]:
        def write(value: Taken) -> str:
            if value is None or not 0.0 < value <= _LARGEST:
                return f"Expected a number above 0, at most {_LARGEST:,.0f}."
            self._change(**{name: value})
            return ""

        return write

    def _share(self, name: str) -> Callable[[Taken], str]:
        def write(value: Taken) -> str:
            if value is not None and not 0.0 <= value <= _MOST_PCT:
                return f"Expected 0 to {_MOST_PCT:.0f} %."
            self._change(**{name: value})
            return ""

        return write

    def _take_fill(self, value: Taken) -> str:
        vessel = self._vessel
        if vessel is None:
            return "Choose a vessel first."
        if value is None or not 0.0 < value <= vessel.volume_ml:
            brim = format_trimmed(vessel.volume_ml, 1, self._style)
            return f"Expected ml above 0 and at most the {brim} ml that it holds to the brim."
        self.fill_changed.emit(structs.replace(vessel, fill_ml=value))
        return ""

    @Slot(object)
    def _choose_by(self, key: str) -> None:
        if key == SERVES:
            self._change(vessel_count=None)
        elif self._vessel is None:
            self.by.choose(SERVES)
            self.refused.emit("Choose a vessel first: then so many of it can be filled.")
        elif self._batch.vessel_count is None:
            self._change(vessel_count=1.0)

    @Slot(object)
    def _choose_vessel(self, slug: str) -> None:
        is_gone = slug == NO_VESSEL
        self._change(vessel=slug, **({"vessel_count": None} if is_gone else {}))

    @Slot(object)
    def _choose_service(self, service: BatchService) -> None:
        self._change(service=service)

    @Slot(object)
    def _choose_scale(self, step_g: float) -> None:
        self._change(round_g=step_g)

    @Slot(bool)
    def _tick_citrus(self, is_on: bool) -> None:
        self._change(citrus_at_service=is_on)

    @Slot(bool)
    def _tick_fizz(self, is_on: bool) -> None:
        self._change(fizz_at_service=is_on)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._column.setSpacing(look.px(6))
        for choice in self._choices:
            choice.set_appearance(look)
        for number in self._numbers:
            number.set_appearance(look)
        for tick in self._ticks:
            tick.set_appearance(look)
        for line in self._lines:
            line.set_appearance(look)
