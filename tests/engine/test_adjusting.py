"""Adjusting meets its reading on the full model, or adds nothing and says why."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.engine.kitchen import CORDIAL, LEMON, PEAR, SALT, SPIRIT, SUGAR, WATER, Vessel, house, pantry
from washline.engine.trace import Trace
from washline.engine.workings import Workings
from washline.model.amount import Basis
from washline.model.item import Build, BuildKind
from washline.model.step import Goal, Per


def traced(vessel: Vessel) -> Trace:
    return Workings(house().with_build(vessel.build(BuildKind.PART))).trace(vessel.build_id)


def sweet(grams: float = 200.0) -> Vessel:
    return Vessel(1001).add(WATER, 800.0).add(SUGAR, grams)


def test_sugar_to_50_brix_by_hand() -> None:
    """(200 + s) / (1000 + s) = 0.5, s = 600."""
    trace = traced(sweet().adjust(Goal.BRIX, 50.0, SUGAR))
    assert trace.steps[2].found_g == pytest.approx(600.0, rel=1e-12)
    assert trace.steps[2].portions_g == ((SUGAR, pytest.approx(600.0, rel=1e-12)),)


def test_water_to_20_pct_vol_is_found_with_contraction() -> None:
    """100 ml of 40 % vol: 30.94 g of ethanol are 15.80 g/100 ml at 20 % vol: 194.805 ml of 0.97356 g/ml (OIML R 22)."""
    trace = traced(Vessel(1001).add(SPIRIT, 94.805).adjust(Goal.STRENGTH, 20.0, WATER))
    assert trace.result.value("strength") == pytest.approx(20.0, abs=1e-11)
    assert trace.steps[1].found_g == pytest.approx(31.57 / 0.1621 - 94.805, abs=0.1)


@given(st.floats(0.1, 39.0), st.floats(1.0, 5000.0))
def test_any_strength_below_the_spirit_s_is_met(strength: float, grams: float) -> None:
    trace = traced(Vessel(1001).add(SPIRIT, grams).adjust(Goal.STRENGTH, strength, WATER))
    assert trace.result.value("strength") == pytest.approx(strength, rel=1e-11)


@given(st.lists(st.tuples(st.floats(0.1, 39.0), st.floats(1.0, 5000.0)), min_size=2, max_size=4))
def test_what_is_found_for_one_drink_is_found_among_many(cases: list[tuple[float, float]]) -> None:
    """To the byte: a search goes on until the slowest has arrived, and moves nobody else."""
    book = house()
    for place, (strength, grams) in enumerate(cases):
        vessel = Vessel(1001 + 50 * place).add(SPIRIT, grams).adjust(Goal.STRENGTH, strength, WATER)
        book = book.with_build(vessel.build(BuildKind.PART))
    together = Workings(book)
    together.evaluate_all()
    for place in range(len(cases)):
        alone = Workings(book).result_now(1001 + 50 * place)
        assert together.result_now(1001 + 50 * place).values.tobytes() == alone.values.tobytes()


@given(st.floats(0.3, 25.0))
def test_acidity_by_volume_is_what_the_reading_shows(acidity: float) -> None:
    vessel = Vessel(1001).add(WATER, 500.0).add(SUGAR, 100.0).add(LEMON, 20.0)
    book = pantry()
    acid = book.raws[SALT].__class__(
        id=77, slug="acid", name="acid", form="powder", composition=tuple(100.0 * (i == 9) for i in range(24))
    )
    trace = Workings(
        book.with_raw(acid).with_build(vessel.adjust(Goal.ACIDITY, acidity, 77, per=Per.VOLUME).build())
    ).trace(1001)
    assert trace.result.value("acidity") == pytest.approx(acidity, rel=1e-11)


def test_by_weight_and_by_volume_are_not_the_same() -> None:
    """A denser liquid holds more in 100 ml than in 100 g: 6 % by weight at 1.05 g/ml are 6.3 g in 100 ml."""
    by_weight = traced(sweet().adjust(Goal.SALT, 3.0, SALT, per=Per.MASS))
    by_volume = traced(sweet().adjust(Goal.SALT, 3.0, SALT, per=Per.VOLUME))
    density = by_weight.result.value("density") or 0.0
    assert by_weight.result.value("salt") == pytest.approx(3.0 * density, rel=1e-9)
    assert by_volume.result.value("salt") == pytest.approx(3.0, rel=1e-11)


def test_salt_to_2_pct_of_mass() -> None:
    """0.99 s / (1000 + s) = 0.02."""
    trace = traced(sweet().adjust(Goal.SALT, 2.0, SALT))
    assert trace.steps[2].found_g == pytest.approx(20.0 / 0.97, rel=1e-12)


def test_as_sour_as_lemon_juice_and_the_lemon_is_not_poured() -> None:
    vessel = Vessel(1001).add(WATER, 500.0).adjust(Goal.ACIDITY, None, (CORDIAL, 1.0), like_item_id=LEMON)
    assert traced(vessel).steps[1].missed == ("cannot be reached with these: nothing was added",)
    lime = (
        Vessel(1001).add(LEMON, 100.0).adjust(Goal.ACIDITY, None, WATER, like_item_id=CORDIAL, per=Per.VOLUME)
    )
    trace = traced(lime)
    like = Workings(house()).result_now(CORDIAL).value("acidity")
    assert trace.result.value("acidity") == pytest.approx(like, rel=1e-11)
    assert [item for item, _grams in trace.steps[1].portions_g] == [WATER]
    assert trace.total.grams == pytest.approx(100.0 + (trace.steps[1].found_g or 0.0), rel=1e-12)


def test_two_items_go_in_by_their_parts() -> None:
    trace = traced(sweet().adjust(Goal.BRIX, 50.0, (SUGAR, 3.0), (SALT, 1.0)))
    sugar, salt = (grams for _item, grams in trace.steps[2].portions_g)
    assert sugar == pytest.approx(3.0 * salt, rel=1e-12)
    assert trace.result.value("brix_true") == pytest.approx(50.0, rel=1e-12)


@pytest.mark.parametrize(
    "vessel, words",
    [
        (sweet().adjust(Goal.BRIX, 10.0, SUGAR), "already above its mark: nothing was added"),
        (sweet().adjust(Goal.BRIX, 40.0, WATER), "already below its mark: nothing was added"),
        (
            Vessel(1001).add(SPIRIT, 100.0).adjust(Goal.STRENGTH, 50.0, WATER),
            "already below its mark: nothing was added",
        ),
        (sweet().adjust(Goal.STRENGTH, 60.0, SPIRIT), "cannot be reached with these: nothing was added"),
        (sweet().adjust(Goal.SALT, 2.0, SUGAR), "cannot be reached with these: nothing was added"),
        (sweet().adjust(Goal.BRIX, 100.0, SUGAR), "cannot be reached with these: nothing was added"),
    ],
)
def test_what_cannot_meet_its_goal_adds_nothing_and_says_so(vessel: Vessel, words: str) -> None:
    trace = traced(vessel)
    assert trace.steps[-1].missed == (words,)
    assert trace.steps[-1].found_g == 0.0


def test_a_goal_that_is_met_already_adds_nothing_and_says_nothing() -> None:
    trace = traced(sweet().adjust(Goal.BRIX, 20.0, SUGAR))
    assert (trace.steps[2].found_g, trace.steps[2].missed) == (0.0, ())


def test_a_later_share_may_refer_to_what_was_found() -> None:
    vessel = sweet().adjust(Goal.BRIX, 50.0, SUGAR)
    trace = traced(vessel.share(SALT, 1.0, Basis.PERCENT_OF_LINES, 3))
    assert trace.steps[3].found_g == pytest.approx(6.0, rel=1e-12)


@pytest.mark.parametrize(
    "vessel, words",
    [
        (sweet().adjust(Goal.BRIX, 50.0), "say what to adjust it with"),
        (sweet().adjust(Goal.BRIX, None, SUGAR), "say what reading to adjust it to"),
        (sweet().adjust(Goal.BRIX, 50.0, 999), "this item is no longer in the house book"),
        (
            sweet().adjust(Goal.BRIX, None, SUGAR, like_item_id=999),
            "this item is no longer in the house book",
        ),
    ],
)
def test_an_adjustment_that_cannot_be_computed_says_why(vessel: Vessel, words: str) -> None:
    result = Workings(pantry().with_build(vessel.build())).result_now(1001)
    assert words in result.reasons("strength")


def test_an_item_that_cannot_be_computed_spoils_the_adjustment() -> None:
    spoilt: Build = Vessel(CORDIAL).add(999, 1.0).build(BuildKind.PART)
    vessel = Vessel(1001).add(PEAR, 100.0).adjust(Goal.BRIX, 50.0, CORDIAL)
    assert (
        Workings(house().with_build(spoilt).with_build(vessel.build())).result_now(1001).value("mass") is None
    )
