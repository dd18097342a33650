"""The steps at the bar through the commands: put in, changed, copied, twisted, and kept in range."""

import msgspec
import pytest
from msgspec import structs

from tests.document.doing import done
from tests.document.house import (
    CORDIAL,
    GIN,
    LIME,
    RYE,
    RYE_CHILL,
    RYE_FLOAT,
    RYE_GAS,
    RYE_GIN,
    RYE_RINSE,
    RYE_SMOKE,
    RYE_STRAIN,
    SIGNAL,
    SODA,
    bar_house,
)
from washline.document.commands import labels
from washline.document.commands.command import Refusal, next_id
from washline.document.commands.copies import StepCopies, copy_steps, paste_steps
from washline.document.commands.house import set_settings
from washline.document.commands.items import new_part, remove_item
from washline.document.commands.lines import add_line, set_amount, set_item, set_kind
from washline.document.commands.placing import AT_START
from washline.document.commands.steps import add_step, leave_out, set_step
from washline.document.commands.twisting import let_go, make_twist, take_parents_place
from washline.document.naming import step_name
from washline.document.twists import Pairing, line_pairs
from washline.model.amount import Amount, Basis, Heft, millilitres
from washline.model.book import HouseBook
from washline.model.house import Swap
from washline.model.step import (
    Add,
    AnyStep,
    BarStrain,
    BarStrainWay,
    Carbonate,
    Chill,
    ChillBy,
    Garnish,
    GarnishWay,
    IceState,
    Rinse,
    Smoke,
    Top,
)

HOUSE = bar_house()


def step(book: HouseBook, step_id: int, build_id: int = RYE) -> AnyStep:
    found = book.step(build_id, step_id)
    assert found is not None
    return found


@pytest.mark.parametrize(
    "new",
    [
        BarStrain(id=0, build_id=0, place=0.0, way=BarStrainWay.FINE, held_back_ml=3.0, fresh_ice="cubes",
                  fresh_ice_g=80.0),
        Smoke(id=0, build_id=0, place=0.0, words="oak"),
        Carbonate(id=0, build_id=0, place=0.0, over_kpa=220.0, at_c=2.0, reached_pct=90.0, fills=3.0, warmest_c=30.0),
        Rinse(id=0, build_id=0, place=0.0, item_id=GIN, amount=millilitres(10.0), film_ml=1.0),
    ],
)  # fmt: skip
def test_each_step_at_the_bar_is_put_in_as_it_was_given(new: AnyStep) -> None:
    book = done(HOUSE, add_step(SIGNAL, new, AT_START))
    first = book.builds[SIGNAL].steps[0]
    assert structs.replace(first, id=0, build_id=0, place=0.0) == new
    assert first.id == next_id(HOUSE)


def test_a_rinse_is_a_line_like_any_other() -> None:
    book = done(HOUSE, add_line(SIGNAL, LIME, millilitres(10.0), AT_START, Rinse))
    rinse = book.builds[SIGNAL].steps[0]
    assert isinstance(rinse, Rinse)
    other = done(book, set_item(SIGNAL, rinse.id, GIN, millilitres(5.0)))
    assert step(other, rinse.id, SIGNAL) == structs.replace(rinse, item_id=GIN, amount=millilitres(5.0))
    with pytest.raises(Refusal, match="lime juice cannot be removed"):
        done(HOUSE, remove_item(LIME))


def test_a_line_keeps_what_both_kinds_have() -> None:
    warm = done(HOUSE, set_step(RYE, RYE_RINSE, temperature_c=4.0, words="swirl", film_ml=2.0))
    top = step(done(warm, set_kind(RYE, RYE_RINSE, Top)), RYE_RINSE)
    assert top == Top(
        id=RYE_RINSE, build_id=RYE, place=1.0, item_id=LIME, amount=millilitres(10.0), temperature_c=4.0, words="swirl"
    )  # fmt: skip


def test_the_fields_of_each_step_are_set_by_name() -> None:
    book = done(
        HOUSE,
        set_step(
            RYE, RYE_CHILL, ice_state=IceState.WET, ice_c=-2.0, vessel_c=20.0, by=ChillBy.BALANCE, end_c=-1.0
        ),
    )
    book = done(book, set_step(RYE, RYE_STRAIN, way=BarStrainWay.UNSTRAINED, held_back_ml=2.0))
    book = done(book, set_step(RYE, RYE_GAS, vessel="keg", over_kpa=200.0, opening_loss_pct=8.0))
    book = done(book, set_step(RYE, RYE_FLOAT, is_layer=False))
    chill, strain, gas, top = (step(book, key) for key in (RYE_CHILL, RYE_STRAIN, RYE_GAS, RYE_FLOAT))
    assert isinstance(chill, Chill)
    assert isinstance(strain, BarStrain)
    assert isinstance(gas, Carbonate)
    assert isinstance(top, Top)
    assert (chill.ice_state, chill.ice_c, chill.vessel_c, chill.by, chill.end_c) == (
        IceState.WET,
        -2.0,
        20.0,
        ChillBy.BALANCE,
        -1.0,
    )
    assert (strain.way, strain.held_back_ml, strain.fresh_ice_g) == (BarStrainWay.UNSTRAINED, 2.0, 115.0)
    assert (gas.vessel, gas.over_kpa, gas.co2_g_per_l, gas.opening_loss_pct) == ("keg", 200.0, 5.0, 8.0)
    assert not top.is_layer


def test_a_measured_end_leaves_what_was_weighed() -> None:
    book = done(HOUSE, set_step(RYE, RYE_CHILL, melted_g=24.8))
    book = done(book, set_step(RYE, RYE_CHILL, end_c=-1.5))
    chill = step(book, RYE_CHILL)
    assert isinstance(chill, Chill)
    assert (chill.melted_g, chill.end_c) == (24.8, -1.5)


@pytest.mark.parametrize(
    ("step_id", "fields", "words"),
    [
        (RYE_CHILL, {"ice_c": 1.0}, "The ice in °C must be a number from -100 to 0, not 1"),
        (RYE_CHILL, {"end_c": float("nan")}, "The end temperature in °C"),
        (RYE_CHILL, {"vessel_c": 900.0}, "Tin or glass in °C"),
        (RYE_STRAIN, {"held_back_ml": -1.0}, "What is held back in ml"),
        (RYE_STRAIN, {"fresh_ice_g": float("inf")}, "The fresh ice in grams"),
        (
            RYE_GAS,
            {"vessel": "barrel"},
            "A carbonation names the vessel “barrel”, which is not in the house book",
        ),
        (RYE_GAS, {"over_kpa": -1.0}, "The pressure in kPa over the atmosphere"),
        (RYE_GAS, {"co2_g_per_l": 26.0}, "The carbon dioxide in g/l must be a number from 0 to 25"),
        (RYE_GAS, {"reached_pct": 101.0}, "What is reached of the equilibrium in percent"),
        (RYE_GAS, {"warmest_c": 81.0}, "The warmest place in °C"),
        (RYE_GAS, {"at_c": 61.0}, "The temperature under pressure in °C"),
        (RYE_GAS, {"fills": -1.0}, "The fills"),
        (RYE_GAS, {"opening_loss_pct": 101.0}, "The gas lost on opening in percent"),
        (RYE_RINSE, {"film_ml": -0.1}, "The film in ml"),
        (RYE_RINSE, {"temperature_c": 501.0}, "The temperature in °C"),
    ],
)
def test_a_number_that_cannot_be_is_refused_in_words(
    step_id: int, fields: dict[str, object], words: str
) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, set_step(RYE, step_id, **fields))


def test_what_stays_of_a_garnish_is_no_negative_weight() -> None:
    peel = Garnish(
        id=0,
        build_id=0,
        place=0.0,
        item_id=LIME,
        amount=millilitres(1.0),
        way=GarnishWay.EXPRESS,
        stays_g=0.05,
    )
    assert done(HOUSE, add_step(RYE, peel)).builds[RYE].steps[-1].stays_g == 0.05  # type: ignore[union-attr]
    with pytest.raises(Refusal, match="What stays on the drink in grams"):
        done(HOUSE, add_step(RYE, structs.replace(peel, stays_g=-0.05)))


@pytest.mark.parametrize("heft", [Heft.SCANT, Heft.HEAVY])
@pytest.mark.parametrize("unit", ["ml", "oz", "bucket"])
def test_a_volume_can_be_scant_or_heavy(heft: Heft, unit: str) -> None:
    amount = Amount(22.5, unit, heft=heft)
    assert step(done(HOUSE, set_amount(RYE, RYE_GIN, amount)), RYE_GIN).amount == amount  # type: ignore[union-attr]


@pytest.mark.parametrize(
    "amount",
    [
        Amount(22.5, "g", heft=Heft.SCANT),
        Amount(1.0, "piece", heft=Heft.HEAVY),
        Amount(5.0, "%", Basis.PERCENT_OF_VESSEL, heft=Heft.SCANT),
        Amount(100.0, "ml", Basis.TO_VOLUME, heft=Heft.HEAVY),
    ],
)
def test_only_a_volume_that_is_poured_can_be_scant_or_heavy(amount: Amount) -> None:
    with pytest.raises(Refusal, match=f"The amount of dry gin cannot be {amount.heft.value}"):
        done(HOUSE, set_amount(RYE, RYE_GIN, amount))


def test_copies_keep_every_field_and_survive_as_json() -> None:
    ids = [RYE_RINSE, RYE_CHILL, RYE_STRAIN, RYE_SMOKE, RYE_GAS, RYE_FLOAT]
    copied = copy_steps(HOUSE, RYE, ids)
    through = msgspec.json.decode(msgspec.json.encode(copied), type=StepCopies)
    assert through == copied
    book = done(HOUSE, paste_steps(through, SIGNAL))
    pasted = book.builds[SIGNAL].steps[-len(ids) :]
    assert [without_ids(one) for one in pasted] == [without_ids(step(HOUSE, key)) for key in ids]


def test_a_twist_keeps_every_field_of_the_drink() -> None:
    book = done(HOUSE, make_twist(RYE, "Fennel Rye, twist"))
    twist = book.builds[next_id(HOUSE)]
    assert [without_ids(one) for one in twist.steps] == [without_ids(one) for one in HOUSE.builds[RYE].steps]
    assert twist.batch == HOUSE.builds[RYE].batch
    assert all(pair.pairing is Pairing.SAME for pair in line_pairs(HOUSE.builds[RYE], twist))


def test_a_scant_pour_is_another_amount_than_an_even_one() -> None:
    twist_id = next_id(HOUSE)
    book = done(HOUSE, make_twist(RYE, "Fennel Rye, twist"))
    line = book.builds[twist_id].steps[1]
    book = done(book, set_amount(twist_id, line.id, Amount(60.0, "ml", heft=Heft.SCANT)))
    pairs = line_pairs(book.builds[RYE], book.builds[twist_id])
    assert [pair.pairing for pair in pairs if pair.pairing is not Pairing.SAME] == [Pairing.AMOUNT]


def without_ids(one: AnyStep) -> AnyStep:
    return structs.replace(one, id=0, build_id=0, place=0.0)


def test_swaps_follow_a_part_that_another_takes_the_place_of() -> None:
    book = done(HOUSE, set_settings(swaps=(Swap(GIN, CORDIAL, 0.5),)))
    twist_id = next_id(book)
    book = done(book, make_twist(CORDIAL, "pear cordial, twist"))
    book = done(book, set_settings(swaps=(Swap(GIN, twist_id, 0.5), Swap(twist_id, SODA))))
    assert done(book, take_parents_place(twist_id)).settings.swaps == (
        Swap(GIN, CORDIAL, 0.5),
        Swap(CORDIAL, SODA),
    )
    assert done(book, let_go(twist_id)).settings.swaps == (Swap(GIN, CORDIAL, 0.5), Swap(CORDIAL, SODA))


def test_a_part_of_a_swap_is_not_removed() -> None:
    part_id = next_id(HOUSE)
    book = done(HOUSE, new_part("bitter root"))
    book = done(book, set_settings(swaps=(Swap(GIN, part_id),)))
    with pytest.raises(
        Refusal, match="bitter root cannot be removed. A swap for alcohol-free versions names it."
    ):
        done(book, remove_item(part_id))


def test_a_step_at_the_bar_has_a_name_in_a_sentence() -> None:
    names = [step_name(HOUSE, one) for one in HOUSE.builds[RYE].steps]
    assert names == [
        "rinse with lime juice",
        "dry gin",
        "Throw",
        "strain",
        "smoke",
        "carbonation",
        "float of soda water",
    ]


@pytest.mark.parametrize(
    ("way", "name"),
    [
        (BarStrainWay.STRAIN, "strain"),
        (BarStrainWay.FINE, "fine strain"),
        (BarStrainWay.UNSTRAINED, "unstrained pour"),
    ],
)
def test_a_strain_is_named_by_its_way(way: BarStrainWay, name: str) -> None:
    assert step_name(HOUSE, structs.replace(step(HOUSE, RYE_STRAIN), way=way)) == name


@pytest.mark.parametrize(
    ("way", "name"),
    [
        (GarnishWay.GARNISH, "lime juice"),
        (GarnishWay.RIM, "rim of lime juice"),
        (GarnishWay.EXPRESS, "expressed lime juice"),
    ],
)
def test_a_garnish_is_named_by_where_it_goes(way: GarnishWay, name: str) -> None:
    one = Garnish(id=1, build_id=RYE, place=1.0, item_id=LIME, amount=Amount(1.0, "g"), way=way)
    assert step_name(HOUSE, one) == name


def test_undo_says_what_was_done_at_the_glass() -> None:
    ids = {"strain": RYE_STRAIN, "rinse": RYE_RINSE, "carbonation": RYE_GAS}
    told = {word: labels.change_of_step(HOUSE, RYE, one) for word, one in ids.items()}
    assert told == {
        "strain": "change of strain",
        "rinse": "change of rinse with lime juice",
        "carbonation": "change of carbonation",
    }


def test_a_rinse_that_is_left_out_still_holds_its_item() -> None:
    book = done(HOUSE, leave_out(RYE, [RYE_RINSE]))
    assert step(book, RYE_RINSE).left_out
    assert isinstance(step(book, RYE_GIN), Add)
