"""Today's fruit: how far its sugars and acids lie from the table, until the service ends and the table holds again."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, time, timedelta

from msgspec import structs

from washline.document.commands.command import Command, Refusal
from washline.document.naming import listed
from washline.model.book import HouseBook
from washline.model.item import RawIngredient, Today

FARTHEST_LOWER_PCT = -95.0
FARTHEST_HIGHER_PCT = 300.0
"""Beyond these something was mistyped: no delivery has so little, or so much, of what the table says."""


def set_today(raw_id: int, today: Today) -> Command:
    """Shifts the sugars and acids of a raw ingredient until a time. A shift of nothing is the table itself.

    Refuses a share that no fruit has, and a time that cannot be read.
    """
    _check(today)

    def command(book: HouseBook) -> HouseBook:
        is_table = today.sugars_pct == 0.0 and today.acids_pct == 0.0
        return book.with_raw(structs.replace(_raw(book, raw_id), today=None if is_table else today))

    return command


def clear_today(raw_id: int) -> Command:
    """Back to the table."""
    return lambda book: book.with_raw(structs.replace(_raw(book, raw_id), today=None))


def expire_today(now: datetime) -> Command:
    """Drops the shifts that are over at ``now`` (aware); one without an end stays, one whose end cannot be read goes."""

    def command(book: HouseBook) -> HouseBook:
        gone = {raw.id: structs.replace(raw, today=None) for raw in over(book, now)}
        return replace(book, raws={**book.raws, **gone}) if gone else book

    return command


def over(book: HouseBook, now: datetime) -> tuple[RawIngredient, ...]:
    """The raw ingredients whose shift is over at ``now`` (aware), in the order of the book."""
    return tuple(raw for raw in book.raws.values() if raw.today is not None and _is_over(raw.today, now))


def next_expiry(book: HouseBook) -> datetime | None:
    """When the next shift is over, local time; ``None`` where nothing is shifted until a time."""
    times = [read_until(raw.today) for raw in book.raws.values() if raw.today is not None and raw.today.until]
    return min((when for when in times if when is not None), default=None)


def end_of_service(service_ends: str, now: datetime) -> datetime:
    """The next local time, after ``now`` (aware), at which the service ends. Refuses what is no time of day."""
    try:
        at = time.fromisoformat(service_ends)
    except ValueError:
        raise Refusal(
            f"“{service_ends[:20]}” is no time of day.",
            "It is what the house settings say of the end of service.",
            "Set it there as hours and minutes, such as 02:00.",
        ) from None
    day = now.astimezone().date()
    # A naive local time finds its own offset: the clocks may change in the night between.
    end = datetime.combine(day, at).astimezone()
    return end if end > now else datetime.combine(day + timedelta(days=1), at).astimezone()


def until_text(end: datetime) -> str:
    """A time as ``Today.until`` keeps it: local, ISO 8601, with its offset."""
    return end.astimezone().isoformat(timespec="minutes")


def read_until(today: Today) -> datetime | None:
    """When a shift is over, local and aware; ``None`` where it has no end or one that cannot be read."""
    try:
        return datetime.fromisoformat(today.until).astimezone()
    except ValueError:
        return None


def change_label(name: str) -> str:
    """*today's lemon juice*: a shift set or taken back."""
    return f"today's {name}"


def over_label(raws: Iterable[RawIngredient]) -> str:
    """*today's lemon juice is over*."""
    names = [raw.name for raw in raws]
    return f"today's {listed(names)} {'is' if len(names) == 1 else 'are'} over"


def _is_over(today: Today, now: datetime) -> bool:
    end = read_until(today)
    return bool(today.until) and (end is None or end <= now)


def _check(today: Today) -> None:
    for words, percent in (("sugars", today.sugars_pct), ("acids", today.acids_pct)):
        if not FARTHEST_LOWER_PCT <= percent <= FARTHEST_HIGHER_PCT:
            raise Refusal(
                f"Today's {words} cannot be {percent:+.0f} % from the table.",
                f"From {FARTHEST_LOWER_PCT:.0f} to {FARTHEST_HIGHER_PCT:+.0f} % are allowed.",
                "If the table is that wrong, correct the composition itself.",
            )
    if today.until and read_until(today) is None:
        raise Refusal(f"“{today.until[:40]}” is no time until which today's fruit could hold.")


def _raw(book: HouseBook, raw_id: int) -> RawIngredient:
    raw = book.raws.get(raw_id)
    if raw is None:
        raise Refusal("This raw ingredient is no longer in the house book.", remedy="Undo brings it back.")
    return raw
