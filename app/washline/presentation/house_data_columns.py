"""The tables of the house's own data and their columns."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from washline.engine.melting import REGRESSIONS
from washline.model.book import HouseBook
from washline.model.house import Glass, Ice, Measure, Method, MethodKind, Vessel, Weighing
from washline.presentation.book_list import KEPT_AT_WORDS

Key = str | int
HouseRow = Glass | Method | Ice | Vessel | Measure | Weighing

NO_SOURCE = "common practice, no source"
AS_USUAL, BY_VOLUME, NOT_KNOWN, NOT_SET = "as usual", "by volume", "not known", "–"


class Kind(StrEnum):
    """What is typed into a column."""

    TEXT = "text"
    CHOICE = "choice"
    VOLUME = "volume"
    MASS = "mass"
    LENGTH = "length"
    DEGREES = "degrees"
    DEGREES_RANGE = "degrees range"
    SECONDS = "seconds"
    SECONDS_RANGE = "seconds range"
    PRESSURE = "pressure"
    PERCENT = "percent"
    PERCENT_RANGE = "percent range"
    NUMBER = "number"
    RANGE = "range"


WORDY = (Kind.TEXT, Kind.CHOICE)
"""What is written from the left; all else is a figure."""

ON_ICE = (MethodKind.ON_ICE, MethodKind.IN_GLASS, MethodKind.ALL_IN)
KIND_WORDS: Mapping[MethodKind, str] = {
    MethodKind.ON_ICE: "on ice, strained",
    MethodKind.IN_GLASS: "in the glass",
    MethodKind.ALL_IN: "all ice goes in",
    MethodKind.NO_ICE: "without ice",
    MethodKind.COLD_STORE: "in the cold",
    MethodKind.HOT: "hot",
    MethodKind.OTHER: "no chilling",
}
_KINDS = tuple(KIND_WORDS.items())
_PUBLISHED = (("", "none"), *((key, key) for key in REGRESSIONS))
_STANDS = ((True, "cold"), (False, "at room"))
_PLACES: tuple[tuple[Any, str], ...] = ((None, NOT_SET), *KEPT_AT_WORDS.items())


@dataclass(frozen=True, slots=True)
class Column:
    """One column. ``field`` is the field of a row that is typed into it (empty: it is computed, or told elsewhere), and
    ``upper`` the upper end of a range. ``unset`` is what stands where nothing is set; where it is empty something must be.
    ``width`` is in pixels of 100 %. With ``only_on_ice`` it says nothing for a method without ice."""

    key: str
    head: str
    width: float
    definition: str
    kind: Kind = Kind.TEXT
    unit: str = ""
    field: str = ""
    upper: str = ""
    unset: str = ""
    choices: tuple[tuple[Any, str], ...] = ()
    only_on_ice: bool = False

    @property
    def title(self) -> str:
        """The head with its unit."""
        return f"{self.head}, {self.unit}" if self.unit else self.head


def _name(width: float, definition: str) -> Column:
    return Column("name", "name", width, definition, field="name")


_SOURCE = Column(
    "source", "source", 190, "Where the figures come from; a figure that is typed here becomes the house’s own",
    field="source", unset=NO_SOURCE,
)  # fmt: skip

GLASS_COLUMNS: tuple[Column, ...] = (
    _name(206, "The glass"),
    Column("brim", "brim", 74, "What it holds to the brim, without ice", Kind.VOLUME, "ml", "brim_ml"),
    Column(
        "fill", "usual fill", 92, "What is usually poured into it", Kind.VOLUME, "ml", "usual_fill_ml",
        unset=NOT_SET,
    ),
    Column(
        "wash", "wash line", 92,
        "The level to which a drink fills it. As usual: the house’s share of what the ice leaves of the brim",
        Kind.VOLUME, "ml", "wash_line_ml", unset=AS_USUAL,
    ),
    Column("ice", "usual ice", 114, "The ice that it is served with", field="ice", unset="no ice"),
    Column("ice_g", "ice", 62, "What that ice weighs; 0: it is served without ice", Kind.MASS, "g", "ice_g"),
    Column(
        "form", "drawn like", 88, "The form in which it is drawn, true to its volume", Kind.CHOICE, field="form",
    ),
    _SOURCE,
)  # fmt: skip

METHOD_COLUMNS: tuple[Column, ...] = (
    _name(226, "The way to chill"),
    Column("kind", "how", 112, "What it does with ice and heat", Kind.CHOICE, field="kind", choices=_KINDS),
    Column(
        "published", "published", 82,
        "The published dilution that was made for it, and counts where it was made for the drink too",
        Kind.CHOICE, field="published", choices=_PUBLISHED, only_on_ice=True,
    ),
    Column(
        "time", "time", 76, "The usual time, shortest to longest", Kind.SECONDS_RANGE, "s", "time_low_s",
        "time_high_s", unset=NOT_SET,
    ),
    Column(
        "tau", "τ", 56,
        "Time constant on its usual ice: in this time it goes 63 % of the way; for a known time",
        Kind.SECONDS, "s", "tau_s", only_on_ice=True,
    ),
    Column(
        "approach", "approach", 76,
        "The part of the way to equilibrium that it goes in its usual time, 0 to 1; where no time is known",
        Kind.NUMBER, "", "approach", only_on_ice=True,
    ),
    Column(
        "core", "core", 54,
        "How far the ice that is left over comes to the drink’s temperature, 0 to 1; only cold ice shows it",
        Kind.NUMBER, "", "core", only_on_ice=True,
    ),
    Column(
        "wet", "water on ice", 106, "The water that clings to the usual ice, in percent of it", Kind.PERCENT, "%",
        "surface_water_pct", only_on_ice=True,
    ),
    Column(
        "vessel", "vessel", 84, "The heat that tin or glass takes up for each kelvin", Kind.NUMBER, "J/K",
        "vessel_j_per_k",
    ),
    Column(
        "stands", "stands", 76, "Whether tin or glass is as cold as the drink gets, or at room temperature",
        Kind.CHOICE, field="vessel_is_cold", choices=_STANDS,
    ),
    Column("ice", "ice", 116, "The ice, by a name of the house’s ice", field="ice", unset="none"),
    Column(
        "ice_g", "ice", 82, "The ice that is used. By volume: so many grams for each ml of drink", Kind.MASS, "g",
        "ice_g", unset=BY_VOLUME, only_on_ice=True,
    ),
    Column(
        "ice_g_per_ml", "ice", 70, "The ice for each ml of drink, where its weight is not set", Kind.NUMBER, "g/ml",
        "ice_g_per_ml", only_on_ice=True,
    ),
    Column(
        "dilution", "dilution", 86, "Published range: what it adds, in percent of the volume before ice",
        Kind.PERCENT_RANGE, "%", "dilution_low_pct", "dilution_high_pct",
    ),
    Column(
        "end", "ends at", 88, "Published range of the temperature at the end", Kind.DEGREES_RANGE, "°C",
        "end_low_c", "end_high_c",
    ),
    Column(
        "kept", "kept at", 80, "Where a batch stands until it is as cold as the place", Kind.CHOICE,
        field="kept_at", choices=_PLACES,
    ),
    _SOURCE,
)  # fmt: skip

ICE_COLUMNS: tuple[Column, ...] = (
    _name(200, "The kind of ice"),
    Column("pace", "pace", 64, "How fast it chills beside 30 mm cubes, which are 1", Kind.NUMBER, "", "pace"),
    Column("cold", "temperature", 112, "How cold it is when it is used", Kind.DEGREES, "°C", "temperature_c"),
    Column(
        "water", "water on it", 98, "The water that clings to it, in percent of it. As usual: what the method says",
        Kind.PERCENT, "%", "surface_water_pct", unset=AS_USUAL,
    ),
    Column("wet", "wet", 70, "What clings to it where a step says that it is wet", Kind.PERCENT, "%", "wet_pct"),
    Column("edge", "edge", 76, "The edge of a piece, as it is drawn", Kind.LENGTH, "mm", "edge_mm"),
    Column("piece", "piece", 70, "What one piece weighs", Kind.MASS, "g", "piece_g", unset=NOT_SET),
    Column("note", "note", 170, "The house’s own words", field="note", unset=NOT_SET),
    _SOURCE,
)  # fmt: skip

VESSEL_COLUMNS: tuple[Column, ...] = (
    _name(230, "The bottle, keg, siphon or jug"),
    Column("volume", "to the brim", 104, "What it holds to the brim", Kind.VOLUME, "ml", "volume_ml"),
    Column(
        "fill", "filled to", 90, "What it is filled to; the rest is its head space", Kind.VOLUME, "ml", "fill_ml",
        unset=NOT_SET,
    ),
    Column(
        "rating", "rated for", 110,
        "The pressure over the atmosphere that its maker rates it for. Not known: not for pressure",
        Kind.PRESSURE, "bar", "rated_kpa", unset=NOT_KNOWN,
    ),
    Column("note", "note", 230, "The house’s own words", field="note", unset=NOT_SET),
    _SOURCE,
)  # fmt: skip

MEASURE_COLUMNS: tuple[Column, ...] = (
    _name(260, "The measure"),
    Column("value", "holds", 82, "What one of it holds", Kind.NUMBER, "", "value"),
    Column("unit", "in", 44, "The unit of the figures in this row"),
    Column("range", "range met", 108, "From the least to the most met in practice", Kind.RANGE, "", "low", "high"),
    Column("note", "note", 170, "The house’s own words", field="note", unset=NOT_SET),
    _SOURCE,
)  # fmt: skip

WEIGHING_COLUMNS: tuple[Column, ...] = (
    Column("name", "weighed", 210, "The day and the drink"),
    Column("method", "method", 92, "How it was chilled"),
    Column("ice", "on", 86, "The ice it was chilled on"),
    Column("ice_g", "ice", 62, "What the ice weighed", Kind.MASS, "g"),
    Column("liquid_c", "drink", 72, "The temperature of the drink before ice", Kind.DEGREES, "°C"),
    Column("seconds", "time", 62, "The time on ice, where it was noted", Kind.SECONDS, "s", unset=AS_USUAL),
    Column("melted_g", "taken up", 88, "The water that the drink took up, as it was weighed", Kind.MASS, "g", "melted_g"),
    Column("computed_g", "computed then", 120, "What was computed for it before any calibration", Kind.MASS, "g"),
    Column("now_g", "computed now", 114, "What is computed for it with the calibration that counts now", Kind.MASS, "g"),
    Column("off_g", "off by", 76, "Computed now less weighed", Kind.MASS, "g"),
    Column("note", "note", 140, "The house’s own words", field="note", unset=NOT_SET),
)  # fmt: skip


@dataclass(frozen=True)
class HouseTable:
    """One table: its tab, what one row is called, where its rows are, and what is said of it. ``adds`` says whether the
    house adds rows here."""

    key: str
    tab: str
    one: str
    columns: Sequence[Column]
    entries: Callable[[HouseBook], Mapping[Any, Any]]
    about: str
    nothing: str
    adds: bool = True


TABLES: tuple[HouseTable, ...] = (
    HouseTable(
        "glass", "Glassware", "glass", GLASS_COLUMNS, lambda book: book.glasses,
        "Every glass is drawn true to its volume.", "No glasses yet.",
    ),
    HouseTable(
        "method", "Methods", "method", METHOD_COLUMNS, lambda book: book.methods,
        "What the balance of heat takes where a step does not say otherwise.", "No methods yet.",
    ),
    HouseTable(
        "ice", "Ice", "ice", ICE_COLUMNS, lambda book: book.ices,
        "A step names its ice by these names.", "No ice yet.",
    ),
    HouseTable(
        "vessel", "Vessels", "vessel", VESSEL_COLUMNS, lambda book: book.vessels,
        "Without a rated pressure a vessel is not for pressure. Only its maker’s rating counts.",
        "No vessels yet.",
    ),
    HouseTable(
        "measure", "Measures", "measure", MEASURE_COLUMNS, lambda book: book.measures,
        "What a dash, a bar spoon or a pinch holds here. Units of law and definition stay as they are.",
        "No measures yet.", adds=False,
    ),
    HouseTable(
        "weighing", "Weighings", "weighing", WEIGHING_COLUMNS, lambda book: book.weighings,
        "What the house weighed of its melting ice. A weighing is made at the step of a drink that chills it.",
        "Nothing was weighed yet. Weigh a drink at a step that chills it, and it stands here.", adds=False,
    ),
)  # fmt: skip


def table_of(key: str) -> HouseTable:
    """The table of a key; raises ``KeyError`` for none."""
    return {table.key: table for table in TABLES}[key]
