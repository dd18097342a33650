"""What a house sets: measures, glasses, methods, ice and vessels are put in and removed, and settings are kept in range."""

from typing import Any

import pytest
from msgspec import structs

from tests.document.doing import done
from tests.document.house import CORDIAL, GIN, LEATHER, PEAR, RYE, SIGNAL, SODA, SPENT, TONIC, bar_house
from washline.document.commands.command import Command, Refusal
from washline.document.commands.house import (
    free_slug,
    put_glass,
    put_ice,
    put_measure,
    put_method,
    put_vessel,
    remove_glass,
    remove_ice,
    remove_measure,
    remove_method,
    remove_vessel,
    set_settings,
)
from washline.document.commands.items import remove_item, set_batch, set_build
from washline.document.commands.lines import set_amount
from washline.document.commands.raws import set_raw
from washline.model.amount import Amount
from washline.model.house import Glass, Ice, Measure, Method, MethodKind, Swap, Vessel
from washline.model.item import Batch, BatchService, KeptAt

HOUSE = bar_house()
THROW = HOUSE.methods["throw"]


def test_each_thing_of_a_house_is_put_in_and_put_in_another_s_stead() -> None:
    block = Ice(slug="block", name="Block", pace=0.4, temperature_c=-5.0)
    siphon = Vessel(slug="siphon", name="Siphon", volume_ml=1250.0, fill_ml=1000.0, rated_kpa=1200.0)
    book = done(done(HOUSE, put_ice(block)), put_vessel(siphon))
    assert (book.ices["block"], book.vessels["siphon"]) == (block, siphon)
    colder = structs.replace(block, temperature_c=-12.0)
    assert done(book, put_ice(colder)).ices["block"].temperature_c == -12.0
    kind = structs.replace(THROW, kind=MethodKind.COLD_STORE, kept_at=KeptAt.FREEZER, published="shaken")
    assert done(HOUSE, put_method(kind)).methods["throw"] == kind


@pytest.mark.parametrize(
    ("command", "words"),
    [
        (put_ice(Ice(slug="x", name="X", pace=0.0)), "The pace must be a number from 0.01 to 100, not 0"),
        (put_ice(Ice(slug="x", name="X", pace=float("nan"))), "The pace must be a number"),
        (
            put_ice(Ice(slug="x", name="X", temperature_c=1.0)),
            "The ice in °C must be a number from -100 to 0",
        ),
        (put_ice(Ice(slug="x", name="X", wet_pct=101.0)), "The water on wet ice in percent"),
        (put_ice(Ice(slug="x", name=" ")), "A name is missing"),
        (put_vessel(Vessel(slug="x", name="X", volume_ml=0.0)), "The volume to the brim in ml"),
        (
            put_vessel(Vessel(slug="x", name="X", volume_ml=200.0, fill_ml=201.0)),
            r"The fill in ml \(201\) is above",
        ),
        (put_vessel(Vessel(slug="x", name="X", volume_ml=200.0, rated_kpa=0.0)), "The rated pressure in kPa"),
        (
            put_method(structs.replace(THROW, approach=1.1)),
            "The part of the way to equilibrium must be a number from 0 to 1",
        ),
        (put_method(structs.replace(THROW, tau_s=0.0)), "The time constant in seconds"),
        (put_method(structs.replace(THROW, core=-0.1)), "The part of the ice that takes part"),
        (put_method(structs.replace(THROW, published="whirled")), "There is no published dilution “whirled”"),
        (
            put_method(structs.replace(THROW, vessel_j_per_k=float("inf"))),
            "The heat that tin or glass takes in J/K",
        ),
        (put_glass(Glass(slug="x", name="X", brim_ml=-1.0)), "The brim in ml"),
        (put_measure(Measure(slug="x", name="X", value=3.0, unit="ml", low=1.0, high=2.0)), "The measure"),
        (set_settings(scant_ml=-1.0), "What a scant pour is short in ml"),
        (set_settings(heavy_ml=101.0), "What a heavy pour is over in ml"),
        (set_settings(glass_w_per_k=float("nan")), "The heat that a glass takes up in W/K"),
        (set_settings(warmest_c=90.0), "The warmest place in °C"),
        (set_settings(salt_batch_pct=-5.0), "The salt of a batch in percent"),
        (set_settings(swaps=(Swap(GIN, GIN),)), "cannot give way to the same item"),
        (
            set_settings(swaps=(Swap(GIN, SODA), Swap(GIN))),
            "Two swaps for alcohol-free versions start from the same",
        ),
        (set_settings(swaps=(Swap(GIN, 999),)), "names an item that is not in the house book"),
        (set_settings(swaps=(Swap(999, SODA),)), "names an item that is not in the house book"),
        (set_settings(swaps=(Swap(GIN, SIGNAL),)), "Pear Signal is a drink, which ends in a glass"),
        (set_settings(swaps=(Swap(GIN, SODA, -1.0),)), "The factor of a swap"),
        (set_batch(RYE, Batch(vessel="barrel")), "The batch of Fennel Rye names the vessel “barrel”"),
        (set_batch(RYE, Batch(serves=0.0)), "The serves must be a number from 0.1"),
        (set_batch(RYE, Batch(round_g=0.0)), "The step of the scale in grams"),
        (set_batch(RYE, Batch(salt_pct=float("nan"))), "The salt of a batch in percent"),
        (set_build(RYE, foam_ml=-1.0), "The foam in ml"),
        (set_build(RYE, fizz_loss_pct=101.0), "The fizz lost on pouring in percent"),
    ],
)
def test_what_cannot_be_is_refused_in_words(command: Command, words: str) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, command)


@pytest.mark.parametrize(
    ("command", "words"),
    [
        (
            remove_method("throw"),
            "The method Throw cannot be removed. It is used by Fennel Rye, what the house weighed with it",
        ),
        (
            remove_ice("cubes"),
            "The ice Cubes cannot be removed. It is used by Fennel Rye, what the house weighed with it and a",
        ),
        (remove_ice("cube-50"), "The ice 50 mm cube cannot be removed. It is used by Fennel Rye."),
        (remove_vessel("bottle"), "The vessel Bottle cannot be removed. It is used by Fennel Rye."),
        (remove_vessel("jar"), "The vessel Jar cannot be removed. It is used by Fennel Rye."),
        (remove_glass("rocks"), "The glass Double rocks cannot be removed. It is used by Pear Signal."),
    ],
)
def test_what_is_in_use_is_not_removed(command: Command, words: str) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, command)


def test_what_nobody_uses_is_removed() -> None:
    assert "pebble" not in done(HOUSE, remove_ice("pebble")).ices
    assert "keg" not in done(HOUSE, remove_vessel("keg")).vessels
    assert done(HOUSE, remove_vessel("barrel")) == HOUSE


def test_an_ice_that_a_method_or_a_glass_means_is_in_use() -> None:
    method = done(HOUSE, put_method(structs.replace(THROW, ice="pebble ice")))
    with pytest.raises(Refusal, match="It is used by Throw."):
        done(method, remove_ice("pebble"))
    glass = done(HOUSE, put_glass(structs.replace(HOUSE.glasses["rocks"], ice="pebble, mounded")))
    with pytest.raises(Refusal, match="It is used by Double rocks."):
        done(glass, remove_ice("pebble"))


def test_a_measure_that_an_amount_is_told_in_is_in_use() -> None:
    assert done(HOUSE, remove_measure("dash")).measures == {}
    line = HOUSE.builds[RYE].steps[1]
    book = done(HOUSE, set_amount(RYE, line.id, Amount(2.0, "dash")))
    with pytest.raises(Refusal, match="The measure Dash cannot be removed. It is used by Fennel Rye."):
        done(book, remove_measure("dash"))


def test_a_batch_is_set_and_taken_back() -> None:
    batch = Batch(serves=12.0, vessel="keg", service=BatchService.TAP)
    book = done(HOUSE, set_batch(SIGNAL, batch))
    assert book.builds[SIGNAL].batch == batch
    assert done(book, set_batch(SIGNAL, None)).builds == HOUSE.builds


def test_what_foams_is_said_of_a_raw_ingredient() -> None:
    assert done(HOUSE, set_raw(PEAR, foams=True)).raws[PEAR].foams


@pytest.mark.parametrize(("item_id", "name"), [(GIN, "dry gin"), (TONIC, "tonic water")])
def test_an_item_of_a_swap_is_not_removed(item_id: int, name: str) -> None:
    unused = done(HOUSE, set_settings(swaps=HOUSE.settings.swaps))
    with pytest.raises(
        Refusal, match=f"{name} cannot be removed. A swap for alcohol-free versions names it."
    ):
        done(unused, remove_item(item_id))


def test_a_leftover_of_a_swap_is_not_removed_with_its_part() -> None:
    free = done(HOUSE, remove_item(LEATHER))
    with pytest.raises(Refusal, match="A swap for alcohol-free versions names it."):
        done(free, remove_item(CORDIAL))
    assert SPENT in free.leftovers


@pytest.mark.parametrize(
    ("name", "taken", "slug"),
    [
        ("Big cube", (), "big-cube"),
        ("Big cube", ("big-cube",), "big-cube-2"),
        ("Big cube", ("big-cube", "big-cube-2"), "big-cube-3"),
        ("Crème ½", (), "creme-12"),
        ("氷", (), "new"),
    ],
)
def test_a_new_row_gets_a_slug_of_its_own(name: str, taken: tuple[str, ...], slug: str) -> None:
    assert free_slug(name, taken) == slug


def test_fields_have_the_ranges_that_the_file_has_too() -> None:
    """What the door lets through, the store's own rules hold as well: the widest values of each are written."""
    widest: dict[str, Any] = {"scant_ml": 100.0, "heavy_ml": 100.0, "warmest_c": 80.0, "glass_w_per_k": 100.0}
    assert done(HOUSE, set_settings(**widest)).settings.scant_ml == 100.0
    method = Method(
        slug="x", name="X", dilution_low_pct=0.0, dilution_high_pct=1.0, end_low_c=0.0, end_high_c=1.0, ice_g_per_ml=100.0,
        vessel_j_per_k=1_000_000.0, tau_s=100_000.0,
    )  # fmt: skip
    assert done(HOUSE, put_method(method)).methods["x"] == method
