"""What the sheet of a raw ingredient says, and its strength as sold."""

import pytest
from msgspec import structs

from tests.presentation.small_house import BITTERS, GIN, VERMOUTH, house
from washline.chemistry.components import COMPONENT_COUNT, COMPONENTS
from washline.model.item import Price
from washline.presentation.raw_facts import GROUPS, at_strength, component, newest_price, sum_words, users_of
from washline.problem import UserError


def test_every_component_but_the_gas_stands_in_one_group() -> None:
    listed = [key for group in GROUPS for key, _ in group.components]
    assert sorted(listed) == sorted(set(COMPONENTS) - {"co2"})


def test_ethanol_and_water_of_forty_percent() -> None:
    """OIML R 22 (1975), table I: 40 % vol is 33.30 % by mass."""
    changed = at_strength(house().raws[GIN], 40.0)
    assert component(changed, "ethanol") == pytest.approx(33.30, abs=0.01)
    assert component(changed, "water") == pytest.approx(66.70, abs=0.01)
    assert changed.strength_pct_vol == 40.0


def test_density_that_was_recorded_no_longer_holds() -> None:
    gin = structs.replace(house().raws[GIN], density_g_per_ml=0.94)
    assert at_strength(gin, 37.5).density_g_per_ml is None


def test_sugars_and_acids_stay_when_the_strength_changes() -> None:
    before = house().raws[VERMOUTH]
    after = at_strength(before, 18.0)
    for key in ("glucose", "fructose", "tartaric"):
        assert component(after, key) == component(before, key)
    total = sum(part or 0.0 for part in after.composition)
    assert total == pytest.approx(100.0, abs=1e-4)


def test_no_strength_means_no_ethanol() -> None:
    assert component(at_strength(house().raws[GIN], 0.0), "ethanol") == 0.0


def test_unknown_strength_leaves_ethanol_and_water_unknown() -> None:
    changed = at_strength(house().raws[GIN], None)
    assert component(changed, "ethanol") is None
    assert component(changed, "water") is None


def test_strength_that_leaves_no_room_is_refused_with_the_reason() -> None:
    with pytest.raises(UserError, match="cannot have 99 % vol"):
        at_strength(house().raws[VERMOUTH], 99.0)


def test_newest_price_is_that_of_the_last_day_and_the_last_entered_of_it() -> None:
    prices = (Price(1.0, "l", "2026-02-01"), Price(2.0, "l", "2026-03-01"), Price(3.0, "l", "2026-03-01"))
    found = newest_price(structs.replace(house().raws[GIN], prices=prices))
    assert found == (2, prices[2])


def test_no_price_is_none() -> None:
    assert newest_price(house().raws[BITTERS]) is None


def test_sum_says_what_is_not_known() -> None:
    assert sum_words(house().raws[BITTERS]).startswith(
        f"5 of {COMPONENT_COUNT} are not known; what is known adds up"
    )
    assert sum_words(house().raws[GIN]) == "it adds up to 100.0 g and is scaled to 100 g."


def test_nothing_known_is_said_as_such() -> None:
    gin = structs.replace(house().raws[GIN], composition=(None,) * COMPONENT_COUNT)
    assert sum_words(gin).startswith("Nothing is known of its composition")


def test_users_are_named_in_the_order_of_the_book() -> None:
    assert users_of(house(), VERMOUTH) == ["Pear Signal"]
    assert users_of(house(), GIN) == []
