"""What a card says of a bottle under pressure."""

from dataclasses import replace

import pytest
from msgspec import structs

from tests.engine.hazards import PART, RATED, bench, poured
from tests.engine.kitchen import SOUR, WATER
from washline.engine.contents import contents
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.presentation.card import card_content
from washline.presentation.card_pressure import OPENING, pressure_block


def block(book: HouseBook, build_id: int = PART) -> tuple[str, ...]:
    return pressure_block(Workings(book).trace(build_id))


def bottled(**fields: object) -> HouseBook:
    return poured(bench().add(WATER, 900.0).carbonate(**fields))


def dated(book: HouseBook, days: int) -> HouseBook:
    return book.with_build(structs.replace(book.builds[PART], house_days=days))


def test_nothing_is_said_where_nothing_is_carbonated() -> None:
    assert block(poured(bench().add(WATER, 900.0))) == ()


def test_a_step_left_out_is_under_no_pressure() -> None:
    assert block(bottled(left_out=True)) == ()


def test_it_says_how_cold_until_when_in_what_and_how_it_is_opened() -> None:
    cold, vessel, opening = block(dated(bottled(), 5))
    assert cold == (
        "Keep it cold, at 4\u202f°C or below, never above 25\u202f°C; for 5 days at most, a house date, not tested."
    )
    assert "Rated bottle is rated for 800\u202fkPa (8.0\u202fbar)" in vessel
    assert "over the atmosphere computed at 25\u202f°C" in vessel
    assert opening == OPENING


def test_the_warmest_place_is_the_one_of_the_step() -> None:
    assert "never above 18\u202f°C" in block(bottled(warmest_c=18.0))[0]


def test_without_a_house_date_it_is_served_the_same_day() -> None:
    assert "no house date is set, so serve it the same day" in block(bottled())[0]


@pytest.mark.parametrize("vessel", ["", "no-such", "unrated"])
def test_a_vessel_that_is_not_rated_is_not_to_be_filled(vessel: str) -> None:
    book = bottled(vessel=vessel)
    unrated = structs.replace(RATED, slug="unrated", rated_kpa=None)
    book = replace(book, vessels={**book.vessels, "unrated": unrated})
    assert any("do not fill it" in words for words in block(book))


def test_eye_protection_and_the_face_are_named() -> None:
    assert "away from every face" in OPENING
    assert "eye protection" in OPENING


def test_the_card_of_the_part_has_the_block_and_the_drink_the_caution() -> None:
    book = dated(bottled(), 5)
    workings = Workings(book)
    part, drink = (card_content(workings.trace(one), None, contents(book, one)) for one in (PART, SOUR))
    assert part.pressure == block(book)
    assert drink.pressure == ()
    assert "pressure" in {line.key for line in drink.box.cautions}
