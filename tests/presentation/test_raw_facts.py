"""What the sheet of a raw ingredient says, and its strength as sold."""

import pytest
from msgspec import structs

from tests.presentation.small_house import (
    BITTERS,
    CORDIAL,
    GIN,
    PEAR,
    SIGNAL,
    SODA,
    SUGAR,
    VERMOUTH,
    house,
    workings,
)
from washline.chemistry.components import COMPONENT_COUNT, COMPONENTS
from washline.engine.workings import Workings
from washline.model.amount import Amount, Basis
from washline.model.item import Price
from washline.presentation.raw_facts import (
    GROUPS,
    amount_words,
    at_component,
    at_strength,
    component,
    doubt_words,
    newest_price,
    own_doubt,
    price_change_words,
    price_history,
    segment_words,
    segments,
    source_lines,
    sum_words,
    users_of,
    uses_of,
    yield_words,
)
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
    assert sum_words(house().raws[GIN]) == "It adds up to 100.0 g and is scaled to 100 g."


def test_nothing_known_is_said_as_such() -> None:
    gin = structs.replace(house().raws[GIN], composition=(None,) * COMPONENT_COUNT)
    assert sum_words(gin).startswith("Nothing is known of its composition")


def test_users_are_named_in_the_order_of_the_book() -> None:
    assert users_of(house(), VERMOUTH) == ["Pear Signal"]
    assert users_of(house(), GIN) == []


def test_a_sharper_fruit_has_less_water_and_still_weighs_a_hundred_grams() -> None:
    before = house().raws[VERMOUTH]
    after = at_component(before, "tartaric", 1.4)
    assert (component(before, "tartaric"), component(after, "tartaric")) == (0.4, 1.4)
    assert component(after, "water") == pytest.approx((component(before, "water") or 0.0) - 1.0)
    assert sum(part or 0.0 for part in after.composition) == pytest.approx(100.0)


def test_water_itself_and_what_becomes_unknown_move_nothing_else() -> None:
    before = house().raws[VERMOUTH]
    assert component(at_component(before, "water", 70.0), "tartaric") == 0.4
    unknown = at_component(before, "tartaric", None)
    assert component(unknown, "tartaric") is None
    assert component(unknown, "water") == component(before, "water")


def test_what_becomes_known_in_an_incomplete_row_takes_of_the_unknown_and_not_of_the_water() -> None:
    after = at_component(house().raws[BITTERS], "sucrose", 5.0)
    assert component(after, "water") == component(house().raws[BITTERS], "water")


def test_more_than_the_water_leaves_room_for_leaves_it_none() -> None:
    after = at_component(house().raws[SUGAR], "citric", 5.0)
    assert component(after, "water") == 0.0


def test_the_bar_shows_every_group_to_scale_and_the_unknown_by_itself() -> None:
    shown = {segment.words: segment.grams for segment in segments(house().raws[BITTERS])}
    assert shown == {
        "alcohol": pytest.approx(36.0),
        "not known": pytest.approx(10.0),
        "water": pytest.approx(54.0),
    }


def test_the_stretches_of_the_bar_differ_by_more_than_colour() -> None:
    raw = structs.replace(house().raws[VERMOUTH])
    fills = [segment.fill for segment in segments(raw)]
    assert fills == ["solid", "striped", "dotted", "open"]


def test_a_stretch_says_its_grams_and_never_none_for_a_little() -> None:
    first = segments(house().raws[VERMOUTH])[0]
    assert segment_words(first) == "sugars 3.0 g"
    trace = structs.replace(
        house().raws[GIN], composition=at_component(house().raws[GIN], "citric", 0.004).composition
    )
    assert "acids under 0.1 g" in [segment_words(segment) for segment in segments(trace)]


def test_uses_name_drinks_before_parts_with_their_amounts() -> None:
    assert [(use.build_id, use.amounts) for use in uses_of(house(), SODA)] == [(SIGNAL, ("60\u202fml",))]
    assert [(use.build_id, use.is_drink) for use in uses_of(house(), PEAR)] == [(CORDIAL, False)]
    assert uses_of(house(), SUGAR)[0].amounts == ("42\u202f% of other lines",)


def test_a_part_that_takes_the_composition_of_an_ingredient_is_a_user_of_it() -> None:
    book = house()
    book = book.with_build(structs.replace(book.builds[CORDIAL], acts_as_id=BITTERS))
    assert uses_of(book, BITTERS)[0].amounts == ("pear cordial has its composition",)


def test_a_line_left_out_is_still_named_and_says_so() -> None:
    book = house()
    build = book.builds[SIGNAL]
    steps = tuple(structs.replace(step, left_out=True) for step in build.steps)
    book = book.with_build(structs.replace(build, steps=steps))
    assert uses_of(book, SODA)[0].amounts == ("60\u202fml, left out",)


@pytest.mark.parametrize(
    ("amount", "words"),
    [
        (Amount(0.0, "ml", Basis.TO_WASH_LINE), "to the wash line"),
        (Amount(500.0, "g", Basis.TO_MASS), "to 500\u202fg"),
        (Amount(2.0, "dash"), "2\u202fdashes"),
    ],
)
def test_amounts_in_a_list_say_what_they_are_of(amount: Amount, words: str) -> None:
    assert amount_words(amount) == words


def test_prices_are_listed_from_the_newest_with_their_places() -> None:
    prices = (Price(1.0, "l", "2026-02-01"), Price(2.0, "l", "2026-03-01"), Price(1.5, "l", "2025-12-01"))
    raw = structs.replace(house().raws[GIN], prices=prices)
    assert [index for index, _ in price_history(raw)] == [1, 0, 2]
    assert price_change_words(raw) == "up 100 % since 2026-02-01"


def test_a_price_by_another_unit_is_not_compared() -> None:
    prices = (Price(1.0, "kg", "2026-02-01"), Price(2.0, "l", "2026-03-01"))
    assert price_change_words(structs.replace(house().raws[GIN], prices=prices)) == ""


def test_an_edible_yield_says_what_leaves_what() -> None:
    pear = structs.replace(house().raws[PEAR], edible_yield=0.85, edible_yield_basis="edible")
    assert yield_words(pear).startswith("1,000 g as bought leave 850 g as used")
    assert yield_words(house().raws[PEAR]).startswith("Not known how much")
    assert "choose the basis" in yield_words(structs.replace(pear, edible_yield_basis=""))
    assert "no trimming is counted" in yield_words(structs.replace(pear, edible_yield_basis="juice"))


def test_sources_say_what_comes_from_memory() -> None:
    gin = structs.replace(
        house().raws[GIN], source="a table", source_kind="published", from_memory_fields="acids;typical_pH"
    )
    assert source_lines(gin) == (
        "Main composition: published table.",
        "Source: a table.",
        "From memory, so trust these least: acids, typical pH.",
    )
    assert source_lines(house().raws[GIN]) == ("Source: none recorded.",)


def test_no_spread_is_not_called_sure() -> None:
    assert "not the same as sure" in doubt_words(house().raws[GIN])
    unsure = structs.replace(house().raws[GIN], sugar_uncertainty_pct=20.0, acid_uncertainty_pct=12.0)
    assert doubt_words(unsure).startswith(
        "From delivery to delivery its sugars vary by 20 % and its acids vary by 12 %"
    )


def test_an_ingredient_that_alone_makes_a_drink_unsure_has_all_of_its_variance() -> None:
    book = house()
    book = book.with_raw(structs.replace(book.raws[VERMOUTH], acid_uncertainty_pct=10.0))
    spread = Workings(book).spread(SIGNAL)
    found = own_doubt(SIGNAL, "Pear Signal", VERMOUTH, spread)
    assert found is not None
    assert found.reading == "acidity"
    assert found.share == pytest.approx(1.0)
    assert found.own == pytest.approx(found.whole)


def test_one_without_a_spread_makes_nothing_unsure() -> None:
    assert own_doubt(SIGNAL, "Pear Signal", VERMOUTH, workings().spread(SIGNAL)) is None
