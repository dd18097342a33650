"""What stands in the cells of the house's own data, in words, and what a row rests on."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from washline.engine.calibrating import Fit
from washline.model.book import HouseBook
from washline.model.house import Calibration, Glass, Measure, Method, Vessel, Weighing
from washline.presentation.costs_table import TEXT_THAT_CALCULATES
from washline.presentation.glass import glass_form
from washline.presentation.glass_level import GlassLevel
from washline.presentation.glass_weighing import fit_words
from washline.presentation.house_data_columns import (
    NO_SOURCE,
    NOT_KNOWN,
    NOT_SET,
    ON_ICE,
    WORDY,
    Column,
    HouseRow,
    HouseTable,
    Key,
    Kind,
)
from washline.presentation.house_data_glass import forms, is_of_the_pantry, pictured
from washline.presentation.house_data_melt import MeltCurve, melt_curve, no_curve_words
from washline.presentation.house_data_weighings import calibrated_g, usual_g
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    NumberStyle,
    format_number,
    format_quantity,
    format_range,
    format_trimmed,
    with_unit,
)
from washline.quantity.pressure_text import KILOPASCALS


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in a cell, and the words of its tooltip. What is quiet is not set, or says nothing here."""

    text: str
    tip: str
    is_quiet: bool = False
    is_left: bool = False


def key_of(row: HouseRow) -> Key:
    """What a row is found by."""
    return row.id if isinstance(row, Weighing) else row.slug


class HouseTexts:
    """Cells of the tables of one house book. ``book`` gives the book of the moment."""

    def __init__(self, book: Callable[[], HouseBook], style: NumberStyle = ENGLISH_STYLE) -> None:
        self._book, self._style = book, style

    def name(self, row: HouseRow) -> str:
        """What a row is called."""
        if not isinstance(row, Weighing):
            return row.name
        build = self._book().builds.get(row.build_id) if row.build_id is not None else None
        return f"{row.date}, {build.name}" if build is not None else row.date

    def value(self, column: Column, row: HouseRow) -> Any:
        """The value of a cell, a pair for a range; ``None`` where it is not set or not known."""
        if column.key == "name":
            return self.name(row)
        if column.key == "form" and isinstance(row, Glass):
            return glass_form(row.slug).name
        if isinstance(row, Weighing) and column.key in ("computed_g", "now_g", "off_g"):
            return self._weighed(column.key, row)
        if isinstance(row, Weighing) and column.key in ("method", "ice"):
            return self._named(column.key, getattr(row, column.key))
        field = column.field or column.key
        if column.upper:
            pair = getattr(row, field), getattr(row, column.upper)
            return None if None in pair else pair
        return getattr(row, field)

    def _named(self, what: str, slug: str) -> str:
        book = self._book()
        rows: Mapping[str, Any] = book.methods if what == "method" else book.ices
        return str(rows[slug].name).split(",")[0] if slug in rows else slug

    def _weighed(self, key: str, row: Weighing) -> float | None:
        book = self._book()
        method, ice = book.methods.get(row.method), book.ices.get(row.ice)
        if method is None or ice is None:
            return None
        if key == "computed_g":
            return usual_g(method, ice, row, book.ice_named(method.ice))
        calibration = book.calibration_of(row.method, ice)
        now = calibrated_g(method, ice, row, calibration, book.ice_named(method.ice))
        return now if key == "now_g" or now is None else now - row.melted_g

    def choices(self, column: Column) -> tuple[tuple[Any, str], ...]:
        """What is chosen from in a column, each key with its words."""
        return forms() if column.key == "form" else column.choices

    def text(self, column: Column, row: HouseRow) -> str:
        """What stands in a cell, without its unit."""
        value = self.value(column, row)
        if value is None or (value == "" and column.kind is Kind.TEXT):
            return column.unset or (NOT_KNOWN if column.kind not in WORDY else NOT_SET)
        if column.kind is Kind.CHOICE:
            return str(dict(self.choices(column)).get(value, value))
        if column.kind is Kind.TEXT:
            return str(value)
        return self._figure(column, value)

    def _figure(self, column: Column, value: Any) -> str:
        if column.kind in (Kind.DEGREES_RANGE, Kind.SECONDS_RANGE, Kind.PERCENT_RANGE, Kind.RANGE):
            decimals = max(_decimals(end) for end in value)
            return format_range(value[0], value[1], decimals, locale=self._style)
        if column.kind is Kind.PRESSURE:
            return format_trimmed(value / KILOPASCALS["bar"], 3, self._style)
        if column.key in WEIGHED:
            text = format_number(value, 1, self._style)
            return f"+{text}" if column.key == "off_g" and value >= 0.05 else text
        return format_trimmed(value, 4, self._style)

    def typed(self, column: Column, row: HouseRow) -> str:
        """What the field of a cell opens with: empty where nothing is set."""
        value = self.value(column, row)
        return "" if value is None or value == "" else self.text(column, row)

    def sort_value(self, column: Column, row: HouseRow) -> Any:
        """What a row is sorted by; ``None``, last, where it is not set."""
        value = self.value(column, row)
        if value in (None, ""):
            return None
        return self.text(column, row).casefold() if column.kind in WORDY else value

    def is_typed(self, column: Column, row: HouseRow) -> bool:
        """Whether the house types into a cell."""
        return bool(column.field) and not why_fixed(column, row)

    def cell(self, column: Column, row: HouseRow) -> Cell:
        """What stands in a cell."""
        value = self.value(column, row)
        is_idle = isinstance(row, Method) and column.only_on_ice and row.kind not in ON_ICE
        return Cell(
            text=self.text(column, row),
            tip=self._tip(column, row, is_idle=is_idle),
            is_quiet=is_idle or value is None or value == "",
            is_left=column.kind in WORDY,
        )

    def _tip(self, column: Column, row: HouseRow, *, is_idle: bool) -> str:
        lines = [f"{column.definition}."]
        figure = self.text(column, row)
        if column.kind not in WORDY and self.value(column, row) is not None:
            unit = row.unit if isinstance(row, Measure) and column.key in ("value", "range") else column.unit
            lines.append(with_unit(figure, unit) if unit else figure)
        if is_idle:
            lines.append("It says nothing here: no ice melts by this method.")
        if column.key == "ice" and isinstance(row, Glass | Method) and row.ice:
            lines.append(self._meant(row.ice))
        if reason := why_fixed(column, row):
            lines.append(reason)
        if column.kind not in WORDY and not isinstance(row, Weighing):
            lines.append(f"Source: {row.source or NO_SOURCE}")
        return "\n".join(lines)

    def _meant(self, words: str) -> str:
        ice = self._book().ice_named(words)
        return (
            f"The house’s ice: {ice.name}."
            if ice is not None
            else "No ice of the house is named so: it counts as 30 mm cubes at 0 °C."
        )

    def tab_separated(self, columns: Sequence[Column], rows: Iterable[HouseRow]) -> str:
        """Rows as text for other programs, the heads first; figures ungrouped."""
        heads = "\t".join(column.title for column in columns)
        return "\n".join((heads, *("\t".join(self._plain(one, row) for one in columns) for row in rows)))

    def _plain(self, column: Column, row: HouseRow) -> str:
        text = " ".join(self.text(column, row).split())
        if column.kind in WORDY:
            return f"'{text}" if text.startswith(TEXT_THAT_CALCULATES) else text
        return text.replace(self._style.grouping, "") if self._style.grouping.strip() else text

    def _weighing_words(self, row: Weighing) -> list[str]:
        book = self._book()
        method, ice = book.methods.get(row.method), book.ices.get(row.ice)
        names = f"{method.name if method else row.method}; ice: {ice.name if ice else row.ice}"
        grams, water = (
            format_quantity(part, 1, "g", self._style) for part in (row.ice_g, row.surface_water_g)
        )
        cold = format_quantity(row.ice_c, 1, "°C", self._style)
        wet = f", with {water} of water on it" if row.surface_water_g > 0.0 else ""
        vessel = f"Tin or glass stood at {format_quantity(row.vessel_c, 1, '°C', self._style)}."
        told = [f"{names}.", f"{grams} of ice at {cold}{wet}.", vessel if row.vessel_j_per_k > 0.0 else ""]
        return [sentence for sentence in (*told, row.note) if sentence]

    def calibrations(self) -> list[tuple[str, str]]:
        """Slug and words of every calibration that counts now."""
        return [(one.slug, self._calibration_words(one)) for one in self._book().calibrations.values()]

    def _calibration_words(self, calibration: Calibration) -> str:
        book = self._book()
        method, ice = book.methods.get(calibration.method), book.ices.get(calibration.ice)
        names = f"{method.name if method else calibration.method}, on {ice.name if ice else calibration.ice}"
        fit = Fit(
            calibration.tau_s, calibration.surface_water_pct, calibration.factor, calibration.offset,
            calibration.left_ml_per_100_ml, (), (),
        )  # fmt: skip
        count = calibration.weighings
        of = "one weighing" if count == 1 else f"{count} weighings"
        return f"{names}: {fit_words(fit, self._style)} From {of}, {calibration.date}."

    def told(
        self, table: HouseTable, row: HouseRow, level: GlassLevel | None, curve: MeltCurve | None
    ) -> list[str]:
        """All that is said beside a row: what its picture shows, then what it rests on."""
        sentences = self.explanation(table, row)
        if isinstance(row, Method):
            return [curve.sentence if curve is not None else no_curve_words(self._book(), row), *sentences]
        return [*(f"{fact.spoken}." for fact in level.facts), *sentences] if level is not None else sentences

    def pictured(self, row: HouseRow | None) -> tuple[GlassLevel | None, MeltCurve | None]:
        """The picture of a glass and the curve of a method; ``None`` for what is none."""
        book = self._book()
        level = pictured(book.settings, row, self._style) if isinstance(row, Glass) else None
        return level, melt_curve(book, row, self._style) if isinstance(row, Method) else None

    def explanation(self, table: HouseTable, row: HouseRow) -> list[str]:
        """What a row rests on, in sentences."""
        if isinstance(row, Weighing):
            return self._weighing_words(row)
        found = [row.note.rstrip(".")] if row.note else []
        if isinstance(row, Vessel) and row.rated_kpa is None:
            found.append("Its rated pressure is not known: not for pressure")
        if isinstance(row, Measure) and is_defined(row):
            found.append("It is a unit by definition and stays as it is")
        found.append(f"Source: {row.source or NO_SOURCE}")
        return [f"{sentence[:1].upper()}{sentence[1:].rstrip('.')}." for sentence in found]


STANDARD = "standard"
WEIGHED = ("liquid_c", "computed_g", "now_g", "off_g", "melted_g")
"""Figures of a weighing, all to one decimal."""


def is_defined(measure: Measure) -> bool:
    """Whether a measure is a unit by definition: a standard without a range."""
    return measure.source_kind == STANDARD and measure.low == measure.high


def why_fixed(column: Column, row: HouseRow) -> str:
    """Why nothing can be typed into a cell of a column that is typed into elsewhere; empty where something can."""
    if isinstance(row, Measure) and is_defined(row) and column.key in ("value", "range"):
        return "A unit by definition: it stays as it is."
    if isinstance(row, Glass) and column.key == "form" and is_of_the_pantry(row.slug):
        return "A glass of the pantry is drawn as it is. Duplicate it to draw it like another."
    return ""


def _decimals(value: float) -> int:
    """The decimals that a figure needs, at most four."""
    return len(f"{value:.4f}".rstrip("0").partition(".")[2])
