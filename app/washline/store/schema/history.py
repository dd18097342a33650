"""Tables of how the house book came to be as it is: the journal of changes; and of the readings last computed."""

from datetime import UTC, datetime

from sqlalchemy import CheckConstraint, DateTime, Dialect, Index, TypeDecorator
from sqlalchemy.orm import Mapped, mapped_column

from washline.store.schema.base import (
    AnyReading,
    Base,
    Flags,
    Id,
    Number,
    NumberOrNone,
    Position,
    one_of,
    refers_to,
)

TABLES = (
    "settings", "raw", "build", "step", "leftover", "target", "glass", "method", "measure", "making", "ice", "vessel",
    "weighing", "calibration",
)  # fmt: skip


class UtcTime(TypeDecorator[datetime]):
    """A moment in UTC. Databases without time zones store it plain and give it back with its zone."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The moment as it is stored."""
        if value is None or dialect.name != "sqlite":
            return value
        return value.astimezone(UTC).replace(tzinfo=None)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The stored moment with its zone."""
        return value.replace(tzinfo=UTC) if value is not None and value.tzinfo is None else value


def stored_time(moment: datetime) -> str:
    """A moment as SQLAlchemy stores it in SQLite, for statements that the driver runs itself."""
    return moment.astimezone(UTC).strftime("%Y-%m-%d %H:%M:%S.%f")


def moment_of(stored: str) -> datetime:
    """The moment that SQLAlchemy stored in SQLite so."""
    return datetime.fromisoformat(stored).replace(tzinfo=UTC)


class MetaRow(Base):
    """One row about the file: the highest id and the highest journal number that were ever given."""

    __tablename__ = "meta"
    __table_args__ = (CheckConstraint("id = 0", name="is_one_row"),)

    id: Mapped[Position] = mapped_column(primary_key=True)
    top_id: Mapped[NumberOrNone]
    top_number: Mapped[NumberOrNone]


class JournalRow(Base):
    """One change of the house book: what was done and when, whether it is taken back, and when that last changed."""

    __tablename__ = "journal"

    number: Mapped[Number] = mapped_column(primary_key=True)
    label: Mapped[str]
    made_at: Mapped[datetime] = mapped_column(UtcTime)
    is_undone: Mapped[bool]
    moved_at: Mapped[datetime | None] = mapped_column(UtcTime)


class JournalChangeRow(Base):
    """One row of the house book before and after a change, as JSON; NULL where there was or is none."""

    __tablename__ = "journal_change"
    __table_args__ = (
        one_of("table_name", TABLES),
        CheckConstraint("row_before IS NOT NULL OR row_after IS NOT NULL", name="says_something"),
        Index(None, "build_id"),
        # Every edit writes here: its records lie in the tree of the key itself, and there is one index only.
        {"sqlite_with_rowid": False},
    )

    number: Mapped[Number] = mapped_column(refers_to("journal.number", on_delete="CASCADE"), primary_key=True)
    position: Mapped[NumberOrNone] = mapped_column(primary_key=True)
    table_name: Mapped[str]
    row_key: Mapped[str]
    build_id: Mapped[Id | None]
    row_before: Mapped[str | None]
    row_after: Mapped[str | None]


class ResultRow(Base):
    """The readings of one build as last computed, each with how much higher it may be because something is unknown.

    NULL is no value. ``exact`` holds the same numbers to the bit: first all readings, then all that follow *more*, as
    little-endian doubles; SQL would turn a negative zero into zero.
    """

    __tablename__ = "result"

    item_id: Mapped[Id] = mapped_column(refers_to("build.id", on_delete="CASCADE"), primary_key=True)
    journal_number: Mapped[NumberOrNone]
    stamp: Mapped[str]
    flags: Mapped[Flags]
    strength: Mapped[AnyReading | None]
    sweetness: Mapped[AnyReading | None]
    acidity: Mapped[AnyReading | None]
    bitterness: Mapped[AnyReading | None]
    fizz: Mapped[AnyReading | None]
    length: Mapped[AnyReading | None]
    chill: Mapped[AnyReading | None]
    salt: Mapped[AnyReading | None]
    dilution: Mapped[AnyReading | None]
    density: Mapped[AnyReading | None]
    brix_true: Mapped[AnyReading | None]
    brix_shown: Mapped[AnyReading | None]
    sugar_acid_ratio: Mapped[AnyReading | None]
    ethanol: Mapped[AnyReading | None]
    energy_kcal: Mapped[AnyReading | None]
    energy_kj: Mapped[AnyReading | None]
    cost: Mapped[AnyReading | None]
    mass: Mapped[AnyReading | None]
    ph: Mapped[AnyReading | None]
    water_activity: Mapped[AnyReading | None]
    freezing: Mapped[AnyReading | None]
    length_served: Mapped[AnyReading | None]
    strength_more: Mapped[AnyReading | None]
    sweetness_more: Mapped[AnyReading | None]
    acidity_more: Mapped[AnyReading | None]
    bitterness_more: Mapped[AnyReading | None]
    fizz_more: Mapped[AnyReading | None]
    length_more: Mapped[AnyReading | None]
    chill_more: Mapped[AnyReading | None]
    salt_more: Mapped[AnyReading | None]
    dilution_more: Mapped[AnyReading | None]
    density_more: Mapped[AnyReading | None]
    brix_true_more: Mapped[AnyReading | None]
    brix_shown_more: Mapped[AnyReading | None]
    sugar_acid_ratio_more: Mapped[AnyReading | None]
    ethanol_more: Mapped[AnyReading | None]
    energy_kcal_more: Mapped[AnyReading | None]
    energy_kj_more: Mapped[AnyReading | None]
    cost_more: Mapped[AnyReading | None]
    mass_more: Mapped[AnyReading | None]
    ph_more: Mapped[AnyReading | None]
    water_activity_more: Mapped[AnyReading | None]
    freezing_more: Mapped[AnyReading | None]
    length_served_more: Mapped[AnyReading | None]
    exact: Mapped[bytes]
