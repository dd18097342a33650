"""Which items are salt, bitters, citrus and fizz to a batch. The limits are common practice, no source."""

import pytest

from tests.presentation.batch_house import base, item, workings
from washline.model.amount import Amount, grams, millilitres
from washline.presentation.batch_plan import Role
from washline.presentation.batch_roles import ItemRoles


def roles() -> ItemRoles:
    some = next(iter(base().drinks()))
    return ItemRoles(workings().trace(some.id))


@pytest.mark.parametrize("name", ["salt-table", "salt-flaky", "saline-20", "saline 20 %, ours"])
def test_what_is_mostly_there_for_its_salt_is_salt(name: str) -> None:
    role, why = roles().role(item(name), grams(1))
    assert role is Role.SALT
    assert "sodium chloride" in why


@pytest.mark.parametrize("name", ["olive-brine", "beet brine", "sodium-citrate", "gin-dry-47"])
def test_what_only_holds_some_salt_is_no_salt(name: str) -> None:
    assert roles().role(item(name), millilitres(10)) == (Role.LINE, "")


@pytest.mark.parametrize(
    "name", ["bitters-aromatic-45", "bitters-celery-44", "rose-water", "chilli-tincture-50"]
)
def test_what_the_pantry_lists_among_bitters_is_bitters(name: str) -> None:
    role, why = roles().role(item(name), millilitres(5))
    assert role is Role.BITTERS
    assert "listed" in why


def test_a_house_tincture_is_bitters_when_it_is_poured_by_the_dash() -> None:
    role, why = roles().role(item("bay tincture"), Amount(1.0, "dash"))
    assert role is Role.BITTERS
    assert "by the dash" in why
    assert roles().role(item("bay tincture"), millilitres(15))[0] is Role.LINE


def test_a_dash_of_what_holds_no_alcohol_is_a_plain_line() -> None:
    assert roles().role(item("rosehip syrup"), Amount(1.0, "dash"))[0] is Role.LINE


@pytest.mark.parametrize(
    "name",
    [
        "lemon-juice",
        "lime-juice",
        "blood-orange-juice",
        "grapefruit-juice-pink",
        "yuzu-juice",
        "bergamot-juice",
    ],
)
def test_fresh_juice_of_a_citrus_fruit_is_citrus(name: str) -> None:
    assert roles().is_citrus(item(name))


@pytest.mark.parametrize(
    "name",
    [
        "verjus",
        "apple-juice-tart",
        "passionfruit-juice",
        "lemon-lime-soda",
        "orange-flower-water",
        "citric-acid-anhydrous",
    ],
)
def test_other_sour_things_are_no_citrus(name: str) -> None:
    assert not roles().is_citrus(item(name))


def test_a_part_pressed_from_lemons_is_citrus() -> None:
    assert roles().is_citrus(item("lemon juice, ours (breakdown)"))


def test_a_part_with_a_little_lemon_in_it_is_no_citrus() -> None:
    # 220 g of lemon juice among 2,179 g (DEMO 1.19).
    assert 0.0 < roles().citrus_share(item("barley cream punch base")) < 0.2
    assert not roles().is_citrus(item("barley cream punch base"))


@pytest.mark.parametrize(
    ("name", "is_fizzy"),
    [("soda-water", True), ("tonic-water", True), ("water-still", False), ("quince shrub", False)],
)
def test_what_brings_gas_is_fizzy(name: str, is_fizzy: bool) -> None:
    assert roles().is_fizzy(item(name)) is is_fizzy
