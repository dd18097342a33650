"""Weighings and calibrations: kept, forgotten, and what becomes of them when a step, a drink or a twist goes."""

import pytest
from msgspec import structs

from tests.document.doing import done
from tests.document.house import RYE, RYE_CHILL, RYE_GIN, WEIGHING, bar_house
from washline.document.commands import labels
from washline.document.commands.command import Refusal, next_id
from washline.document.commands.items import remove_item
from washline.document.commands.steps import remove_steps
from washline.document.commands.twisting import let_go, make_twist, take_parents_place
from washline.document.commands.weighings import (
    calibrate,
    forget_calibration,
    forget_weighing,
    weigh,
    weighings_of,
)
from washline.document.validation import validate
from washline.model.change import difference
from washline.model.house import Calibration, Weighing

HOUSE = bar_house()
FIRST = HOUSE.weighings[WEIGHING]


def test_a_new_weighing_gets_the_next_id() -> None:
    book = done(HOUSE, weigh(structs.replace(FIRST, id=0, melted_g=26.0, date="2026-11-22")))
    assert book.weighings[next_id(HOUSE)].melted_g == 26.0
    assert [row.melted_g for row in weighings_of(book, "throw", "cubes")] == [24.8, 26.0]
    assert weighings_of(book, "shake", "cubes") == ()


def test_weighings_come_in_the_order_of_their_dates() -> None:
    book = done(HOUSE, weigh(structs.replace(FIRST, id=0, date="2026-11-01")))
    assert [row.date for row in weighings_of(book, "throw", "cubes")] == ["2026-11-01", "2026-11-20"]


def test_a_weighing_is_put_right_in_its_place() -> None:
    book = done(HOUSE, weigh(structs.replace(FIRST, melted_g=25.5)))
    assert (len(book.weighings), book.weighings[WEIGHING].melted_g) == (1, 25.5)
    with pytest.raises(Refusal, match="This weighing is no longer in the house book"):
        done(HOUSE, weigh(structs.replace(FIRST, id=999)))


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"method": "whirl"}, "This weighing names the method “whirl”, which is not in the house book"),
        ({"ice": "hail"}, "This weighing names the ice “hail”, which is not in the house book"),
        ({"date": "yesterday"}, "The day of a weighing is written like 2026-11-21, not “yesterday”"),
        ({"melted_g": 151.0}, "151 g cannot melt of 150 g of ice"),
        ({"melted_g": -1.0}, "The melted ice in grams"),
        ({"liquid_c": float("nan")}, "The liquid in °C"),
        ({"ice_c": 2.0}, "The ice in °C"),
        ({"composition": (-1.0, *[0.0] * 23)}, "A component of what was weighed in grams"),
    ],
)
def test_what_cannot_be_weighed_is_refused_in_words(fields: dict[str, object], words: str) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, weigh(structs.replace(FIRST, id=0, **fields)))


def test_water_on_the_ice_counts_as_what_can_melt() -> None:
    book = done(HOUSE, weigh(structs.replace(FIRST, melted_g=154.0, surface_water_g=5.0)))
    assert book.weighings[WEIGHING].melted_g == 154.0


def test_a_weighing_of_a_step_that_is_not_there_is_a_fault_of_the_program() -> None:
    for row in (
        structs.replace(FIRST, build_id=999),
        structs.replace(FIRST, step_id=999),
        structs.replace(FIRST, build_id=None),
    ):
        book = HOUSE.with_weighing(row)
        with pytest.raises(ValueError, match="is of a build or step that is gone"):
            validate(book, difference(HOUSE, book))


def test_a_weighing_is_forgotten() -> None:
    book = done(HOUSE, forget_weighing(WEIGHING))
    assert book.weighings == {}
    assert book.calibrations == HOUSE.calibrations
    with pytest.raises(Refusal, match="This weighing is no longer in the house book"):
        done(book, forget_weighing(WEIGHING))


def test_a_calibration_is_kept_replaced_and_forgotten() -> None:
    fitted = Calibration(
        slug="shake/cubes",
        method="shake",
        ice="cubes",
        date="2026-11-21",
        tau_s=5.0,
        factor=1.05,
        weighings=2,
    )
    book = done(HOUSE, calibrate(fitted))
    assert book.calibration_of("shake", book.ices["cubes"]) == fitted
    again = done(book, calibrate(structs.replace(fitted, tau_s=5.5)))
    assert again.calibrations["shake/cubes"].tau_s == 5.5
    assert done(book, forget_calibration("shake/cubes")).calibrations == HOUSE.calibrations
    with pytest.raises(Refusal, match="This calibration is no longer in the house book"):
        done(HOUSE, forget_calibration("shake/cubes"))


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"slug": "whirl/cubes", "method": "whirl"}, "This calibration names the method “whirl”"),
        ({"slug": "throw/hail", "ice": "hail"}, "This calibration names the ice “hail”"),
        ({"tau_s": 0.0}, "The time constant in seconds"),
        ({"factor": float("inf")}, "The factor must be a number"),
        ({"date": ""}, "The day of a calibration is written like 2026-11-21"),
    ],
)
def test_a_calibration_that_cannot_be_is_refused_in_words(fields: dict[str, object], words: str) -> None:
    row = HOUSE.calibrations["throw/cubes"]
    with pytest.raises(Refusal, match=words):
        done(HOUSE, calibrate(structs.replace(row, **fields)))


def test_a_calibration_under_the_slug_of_another_is_a_fault_of_the_caller() -> None:
    with pytest.raises(ValueError, match="slug of a calibration"):
        calibrate(structs.replace(HOUSE.calibrations["throw/cubes"], slug="stir/cubes"))


def test_a_weighing_outlives_its_step_and_its_drink() -> None:
    """What melted under those conditions still holds."""
    without_step = done(HOUSE, remove_steps(RYE, [RYE_CHILL]))
    assert without_step.weighings[WEIGHING] == structs.replace(FIRST, step_id=None)
    assert done(HOUSE, remove_steps(RYE, [RYE_GIN])).weighings == HOUSE.weighings
    without_drink = done(HOUSE, remove_item(RYE))
    assert without_drink.weighings[WEIGHING] == structs.replace(FIRST, build_id=None, step_id=None)


def test_a_twist_has_no_weighings_of_its_parent_and_gives_it_its_own() -> None:
    twist_id = next_id(HOUSE)
    book = done(HOUSE, make_twist(RYE, "Fennel Rye, twist"))
    assert book.weighings == HOUSE.weighings
    chill = book.builds[twist_id].steps[2]
    own = structs.replace(FIRST, id=0, build_id=twist_id, step_id=chill.id, melted_g=26.0)
    weighing_id = next_id(book)
    book = done(book, weigh(own))
    taken = done(book, take_parents_place(twist_id))
    assert where(taken.weighings[weighing_id]) == (RYE, RYE_CHILL)
    assert where(taken.weighings[WEIGHING]) == (RYE, RYE_CHILL)
    gone = done(book, let_go(twist_id))
    assert where(gone.weighings[weighing_id]) == (None, None)


def test_a_twist_without_the_step_leaves_the_weighing_of_it_alone() -> None:
    twist_id = next_id(HOUSE)
    book = done(HOUSE, make_twist(RYE, "Fennel Rye, twist"))
    book = done(book, remove_steps(twist_id, [book.builds[twist_id].steps[2].id]))
    taken = done(book, take_parents_place(twist_id))
    assert where(taken.weighings[WEIGHING]) == (RYE, None)


def where(weighing: Weighing) -> tuple[int | None, int | None]:
    return weighing.build_id, weighing.step_id


def test_the_history_says_what_was_weighed_and_fitted() -> None:
    assert labels.weighing(HOUSE, "throw", "cubes") == "weighing of throw on cubes"
    assert (
        labels.forgetting_weighing(HOUSE, WEIGHING)
        == "forgetting the weighing of throw on cubes of 2026-11-20"
    )
    assert labels.forgetting_weighing(HOUSE, 999) == "forgetting a weighing"
    assert labels.calibrating(HOUSE, "throw", "cubes") == "calibration of throw on cubes"
    assert (
        labels.forgetting_calibration(HOUSE, "throw/cubes") == "forgetting the calibration of throw on cubes"
    )
    assert labels.forgetting_calibration(HOUSE, "x/y") == "forgetting a calibration"
    assert labels.adding_entry("vessel", "Keg") == "adding vessel Keg"
    assert labels.change_of_entry("ice", "50 mm cube") == "change of ice 50 mm cube"
    assert labels.removing_entry("glass", "Coupe") == "removing glass Coupe"
    assert labels.change_of_batch(HOUSE, RYE) == "change of the batch of Fennel Rye"
