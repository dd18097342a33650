"""A house book of one's own starts with the pantry and nothing built."""

from washline.exchange.pantry import Pantry
from washline.model.book import HouseBook


def test_a_starter_house_has_the_whole_pantry_and_no_builds(starter: HouseBook, pantry: Pantry) -> None:
    assert [raw.slug for raw in starter.raws.values()] == [raw.slug for raw in pantry.raws]
    assert (len(starter.targets), len(starter.glasses), len(starter.methods)) == (7, 33, 19)
    assert (len(starter.measures), len(starter.builds), len(starter.leftovers)) == (56, 0, 0)


def test_a_starter_house_has_the_name_it_was_given_and_is_no_demo(starter: HouseBook) -> None:
    assert (starter.settings.house_name, starter.settings.is_demo) == ("The Other Room", False)


def test_invented_prices_are_not_given_to_a_house_of_ones_own(starter: HouseBook) -> None:
    assert {raw.prices for raw in starter.raws.values()} == {()}


def test_ids_start_at_one_and_the_top_one_is_known(starter: HouseBook) -> None:
    assert next(iter(starter.raws)) == 1
    assert starter.top_id == 324 + 7
