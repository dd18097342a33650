"""Today's fruit as commands: set, taken back, and over when the service ends."""

from datetime import UTC, datetime, timedelta

import pytest

from tests.document.house import LIME, PEAR, house
from washline.document.commands.command import Refusal
from washline.document.commands.today import (
    clear_today,
    end_of_service,
    expire_today,
    next_expiry,
    over,
    over_label,
    read_until,
    set_today,
    until_text,
)
from washline.model.item import Today

NOW = datetime(2026, 11, 21, 18, 0, tzinfo=UTC)
LATER = Today(acids_pct=20.0, until="2026-11-22T02:00+00:00", how="a titration")


def test_a_shift_is_set_and_taken_back() -> None:
    book = set_today(LIME, LATER)(house())
    assert book.raws[LIME].today == LATER
    assert clear_today(LIME)(book).raws[LIME] == house().raws[LIME]


def test_a_shift_of_nothing_is_the_table() -> None:
    assert set_today(LIME, Today(until="2026-11-22T02:00+00:00"))(house()).raws[LIME].today is None


def test_it_holds_until_its_time_and_not_a_minute_longer() -> None:
    book = set_today(LIME, LATER)(house())
    end = datetime(2026, 11, 22, 2, 0, tzinfo=UTC)
    assert expire_today(end - timedelta(minutes=1))(book) is book
    assert expire_today(end)(book).raws[LIME].today is None


def test_only_what_is_over_goes() -> None:
    book = set_today(LIME, LATER)(house())
    book = set_today(PEAR, Today(sugars_pct=-10.0, until="2026-11-21T17:00+00:00"))(book)
    after = expire_today(NOW)(book)
    assert (after.raws[LIME].today, after.raws[PEAR].today) == (LATER, None)
    assert [raw.id for raw in over(book, NOW)] == [PEAR]


def test_one_without_an_end_stays_and_one_that_cannot_be_read_goes() -> None:
    book = set_today(LIME, Today(acids_pct=5.0))(house())
    assert expire_today(NOW + timedelta(days=400))(book) is book
    damaged = book.with_raw(
        house().raws[PEAR].__class__(**_fields(house().raws[PEAR], Today(5.0, 0.0, "soon")))
    )
    assert expire_today(NOW)(damaged).raws[PEAR].today is None


def _fields(raw: object, today: Today) -> dict[str, object]:
    return {name: getattr(raw, name) for name in raw.__struct_fields__} | {"today": today}  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    "today", [Today(acids_pct=400.0), Today(sugars_pct=-96.0), Today(5.0, 0.0, "tonight")]
)
def test_what_no_fruit_has_and_what_is_no_time_are_refused(today: Today) -> None:
    with pytest.raises(Refusal):
        set_today(LIME, today)


def test_an_ingredient_that_is_gone_is_refused() -> None:
    with pytest.raises(Refusal, match="no longer in the house book"):
        set_today(999, LATER)(house())


def test_the_service_ends_the_same_night_or_the_next() -> None:
    local = NOW.astimezone()
    evening, night = local.replace(hour=18, minute=0), local.replace(hour=1, minute=0)
    after_midnight = end_of_service("02:00", evening)
    assert (after_midnight - evening) == timedelta(hours=8)
    assert (end_of_service("02:00", night) - night) == timedelta(hours=1)
    assert end_of_service("02:00", after_midnight) == after_midnight + timedelta(days=1)


def test_what_is_no_time_of_day_is_refused_with_where_to_set_it() -> None:
    with pytest.raises(Refusal, match="house settings"):
        end_of_service("closing", NOW)


def test_a_time_is_kept_with_its_offset_and_read_back() -> None:
    end = datetime(2026, 11, 22, 2, 0, tzinfo=UTC)
    assert read_until(Today(until=until_text(end))) == end


def test_the_next_expiry_is_the_first_of_all() -> None:
    book = set_today(LIME, LATER)(house())
    assert next_expiry(house()) is None
    assert next_expiry(book) == datetime(2026, 11, 22, 2, 0, tzinfo=UTC)


def test_the_label_names_what_is_over() -> None:
    raws = house().raws
    assert over_label([raws[LIME]]) == "today's lime juice is over"
    assert over_label([raws[LIME], raws[PEAR]]) == "today's lime juice and ripe pear are over"
