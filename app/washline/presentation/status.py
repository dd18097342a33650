"""The words of the status line and of the history: what there is, how it is counted, what was done when."""

from datetime import datetime

from washline.model.book import HouseBook
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_trimmed


def count_drinks(book: HouseBook) -> int:
    """How many builds end in a glass."""
    return sum(build.is_drink for build in book.builds.values())


def facts(book: HouseBook, drinks: int, stale: int, style: NumberStyle = ENGLISH_STYLE) -> str:
    """*10 drinks, 20 house-made up to date · ml, g, °C · 1 oz = 30 ml*; ``drinks`` is the count of them."""
    whole = len(book.builds)
    parts = whole - drinks
    state = f", {stale:,} of {whole:,} not up to date" if stale else " up to date" if whole else ""
    counts = f"{drinks:,} {'drink' if drinks == 1 else 'drinks'}, {parts:,} house-made"
    ounce = format_trimmed(book.settings.oz_ml, 4, style)
    return f"{counts}{state} · ml, g, °C · 1 oz = {ounce} ml"


def last_words(label: str, undo_keys: str) -> str:
    """*last: change of verjus, undo Ctrl+Z*; empty where nothing was done yet."""
    return f"last: {label}, undo {undo_keys}" if label else ""


def when_words(when: datetime, now: datetime) -> str:
    """A moment as people say it: *14:05*, *yesterday 18:40*, *21 Nov 2026 09:12*; both with their zone, shown local."""
    local, today = when.astimezone(), now.astimezone()
    clock = f"{local:%H:%M}"
    days = (today.date() - local.date()).days
    if days == 0:
        return clock
    if days == 1:
        return f"yesterday {clock}"
    return f"{local.day} {_MONTHS[local.month - 1]} {local.year} {clock}"


_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
