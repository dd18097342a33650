"""The spec card as data: what stands on it, in the order in which it is read, and what is never left out."""

import math
from dataclasses import replace as replaced
from datetime import date

import pytest
from msgspec.structs import replace

from tests.engine.hazards import PART, SCENES
from tests.engine.kitchen import SOUR
from tests.presentation.cards import (
    CHANGED,
    card_of,
    card_with_steps,
    drink_with,
    house_with_verjus,
    signal_card,
)
from tests.presentation.small_house import CORDIAL, GIN, LEAF, LEATHER, OTHER, SIGNAL, SODA, VERJUS, house
from washline.model.amount import Amount, Basis, grams, millilitres
from washline.model.book import HouseBook
from washline.model.house import MethodKind, Shared
from washline.model.item import Sign
from washline.model.step import Add, Chill, Garnish, Heat, Note, Top
from washline.presentation.card import LastChange
from washline.presentation.cautions import DEFERRAL, allergens, cautions


def add(item_id: int, amount: Amount, place: float = 1.0, **fields: object) -> Add:
    return Add(id=500 + int(place), build_id=OTHER, place=place, item_id=item_id, amount=amount, **fields)


@pytest.mark.parametrize(
    "volume_ml, ounces",
    # A jigger of 45 ml holds 1½ oz and one of 30 ml 1 oz where an ounce is poured as 30 ml: common practice, no source.
    [(45.0, "1½"), (30.0, "1"), (22.5, "¾"), (60.0, "2"), (20.0, "⅔"), (25.0, "⅚")],
)
def test_pour_shows_millilitres_and_the_ounces_of_the_trade(volume_ml: float, ounces: str) -> None:
    pour = card_with_steps([add(GIN, millilitres(volume_ml))]).pours[0]
    assert (pour.ml, pour.oz) == (f"{volume_ml:g}", ounces)
    assert not pour.is_rounded


def test_pour_whose_ounces_are_off_by_more_than_three_percent_is_marked_and_declared() -> None:
    card = card_with_steps([add(GIN, millilitres(17.0))])
    assert card.pours[0].oz.startswith("≈")
    assert card.pours[0].is_rounded
    assert "≈ oz off by more than 3" in card.rounding


def test_ounce_of_the_house_is_declared() -> None:
    assert "1 oz = 30\u202fml" in signal_card().rounding


def test_dashes_and_pieces_stand_as_words() -> None:
    card = card_with_steps([add(GIN, Amount(2.0, "dash")), add(LEAF, Amount(1.0, "piece"), 2.0)])
    assert [pour.words for pour in card.pours] == ["2\u202fdashes", "1\u202fpiece"]
    assert [pour.ml for pour in card.pours] == ["", ""]


def test_pour_weighed_in_grams_stands_in_grams() -> None:
    assert card_with_steps([add(GIN, grams(12.0))]).pours[0].words == "12\u202fg"


def test_pours_stand_in_the_order_of_pouring_with_what_the_house_makes_marked() -> None:
    card = signal_card()
    assert [pour.name for pour in card.pours] == [
        "dry white vermouth",
        "pear cordial",
        "verjus",
        "soda water",
    ]
    assert card.pours[1].note == "ours · 4\u202f°C"
    assert card.pours[3].note == "last, to top · 4\u202f°C"


def test_line_left_out_is_not_on_the_card() -> None:
    book = house()
    steps = tuple(
        replace(step, left_out=True) if getattr(step, "item_id", 0) == VERJUS else step
        for step in book.builds[SIGNAL].steps
    )
    names = [pour.name for pour in signal_card(steps=steps).pours]
    assert names == ["dry white vermouth", "pear cordial", "soda water"]


def test_method_says_one_sentence_a_step() -> None:
    assert signal_card(ice="one cube").method == (
        "One cube in the glass.",
        "Pour the first three, in order.",
        "Build on the cube: 10 turns.",
        "Top with soda water.",
    )


def test_method_uses_the_words_that_the_house_typed() -> None:
    chill = Chill(
        id=502,
        build_id=OTHER,
        place=2.0,
        method="build",
        words="over the cube",
        count=10.0,
        count_unit="turns",
    )
    note = Note(id=503, build_id=OTHER, place=3.0, words="double strain")
    card = card_with_steps([add(GIN, millilitres(45.0)), chill, note])
    assert card.method[-2:] == ("Over the cube: 10 turns.", "Double strain.")


@pytest.mark.parametrize(
    "temperature_c, words",
    # To the nearest five, as the trade rounds: 176, 167 and 140 °F exactly. Common practice, no source.
    [
        (80.0, "80\u202f°C (175\u202f°F)"),
        (75.0, "75\u202f°C (165\u202f°F)"),
        (60.0, "60\u202f°C (140\u202f°F)"),
    ],
)
def test_kitchen_temperature_stands_in_celsius_and_in_the_fahrenheit_of_a_dial(
    temperature_c: float, words: str
) -> None:
    warm = Heat(id=502, build_id=OTHER, place=2.0, temperature_low_c=temperature_c)
    card = card_with_steps([add(GIN, millilitres(45.0), temperature_c=temperature_c), warm])
    assert card.pours[0].note == f"at {words}"
    assert card.method[-1] == f"Heat: {words}."


def test_garnish_says_how_much_of_what_and_where() -> None:
    die = Garnish(
        id=502, build_id=OTHER, place=2.0, item_id=CORDIAL, amount=Amount(3.0, "drop"), words="on the foam"
    )
    leaf = Garnish(
        id=503, build_id=OTHER, place=3.0, item_id=LEAF, amount=Amount(1.0, "leaf"), words="on the cube"
    )
    card = card_with_steps([add(GIN, millilitres(45.0)), die, leaf])
    assert card.garnishes == ("3\u202fdrops of pear cordial, on the foam", "1 sorrel leaf, on the cube")
    assert card.served is not None
    assert card.served.has_leaf


def test_top_to_the_wash_line_says_so_and_shows_what_was_found() -> None:
    top = Top(id=502, build_id=OTHER, place=2.0, item_id=SODA, amount=Amount(0.0, "ml", Basis.TO_WASH_LINE))
    card = card_with_steps([add(GIN, millilitres(45.0)), top], wash_line_ml=180.0)
    assert card.pours[1].note.startswith("last, to the wash line")
    # 180 ml less 45 ml of gin and what the two lose on mixing (contraction, below 2 ml here).
    assert 135.0 <= float(card.pours[1].ml) < 137.0


def test_allergen_names_what_brings_it() -> None:
    card = card_of(house_with_verjus(allergens=("sulphites",)))
    assert card.box.contained_text == "sulphites from the verjus"


def test_nothing_recorded_promises_nothing() -> None:
    assert signal_card().box.contained_text == "none recorded; check labels"


@pytest.mark.parametrize("key", allergens())
def test_every_allergen_reaches_the_card(key: str) -> None:
    card = card_of(house_with_verjus(allergens=(key,)))
    assert f"{allergens()[key].word} from the verjus" in card.box.contained_text


@pytest.mark.parametrize("key", cautions())
def test_every_caution_reaches_the_card_and_the_box_ends_with_the_deferral(key: str) -> None:
    card = card_of(house_with_verjus(cautions=(key,)))
    found = next(one for one in card.box.cautions if one.key == key)
    assert found.text == cautions()[key].bar
    assert "verjus" in found.sources
    assert card.box.deferral == DEFERRAL


def test_caution_without_a_text_is_told_by_its_name() -> None:
    card = card_of(house_with_verjus(cautions=("never-heard-of",)))
    assert "Caution: never heard of." in next(
        one.text for one in card.box.cautions if one.key == "never-heard-of"
    )


def test_unknown_allergens_rise_through_a_house_made_part_and_name_it() -> None:
    book = house()
    pear = next(raw for raw in book.raws.values() if raw.name == "ripe pear")
    card = card_of(book.with_raw(replace(pear, allergens=("unknown",))))
    assert card.box.unknown == ("ripe pear (in pear cordial)",)
    assert card.box.unknown_text == "Unknown: ripe pear (in pear cordial). Read the labels."


def test_item_that_is_gone_counts_as_unknown() -> None:
    book = house()
    raws = {key: raw for key, raw in book.raws.items() if key != VERJUS}
    assert "no longer in the book" in card_of(replaced(book, raws=raws)).box.unknown_text


def test_what_the_house_adds_is_contained_and_never_taken_away() -> None:
    card = signal_card(added_allergens=("milk", "unknown"))
    assert card.box.contained_text == "milk added by the house"
    assert card.box.unknown == ("what the house marked as unknown",)


def test_alcohol_stands_with_its_unit_explained() -> None:
    book = drink_with([add(GIN, millilitres(45.0))])
    book = book.with_settings(replace(book.settings, alcohol_units="uk"))
    # A UK unit is 10 ml of ethanol (789.24 kg/m³ at 20 °C, OIML R 22): 7.9 g.
    assert card_of(book, OTHER).box.alcohol.endswith("units of 7.9\u202fg")


def test_reading_that_cannot_be_computed_says_so_and_why() -> None:
    book = house()
    raws = {key: raw for key, raw in book.raws.items() if key != VERJUS}
    card = card_of(replaced(book, raws=raws))
    strength = card.figures[1]
    assert (strength.label, strength.value) == ("Strength", "?")
    assert card.box.alcohol.startswith("? · ? · ? units of")
    assert any(reason.startswith("Strength") for reason in card.reasons)
    gone = next(pour for pour in card.pours if pour.words == "?")
    assert gone.problem


def test_strength_of_what_may_hold_any_alcohol_is_not_known_and_never_zero() -> None:
    book = house()
    composition = list(book.raws[SODA].composition)
    from_water = [value for value in composition if value]
    unknown = tuple(
        None if value == 0.0 else value if value is None else value - 5.0 for value in composition
    )
    assert from_water == [100.0]
    card = card_of(
        drink_with([add(SODA, millilitres(60.0))]).with_raw(replace(book.raws[SODA], composition=unknown)),
        OTHER,
    )
    assert card.figures[1].value == "?"
    assert card.figures[3].value == "?"
    assert card.figures[3].second.startswith("? units")
    assert any("may be higher" in reason for reason in card.reasons)


def test_melt_says_whether_it_was_weighed() -> None:
    assert (signal_card().figures[0].value, signal_card().figures[0].second) == (
        "10\u202fml",
        "from ice, weighed",
    )
    estimated = Chill(id=502, build_id=OTHER, place=2.0, method="build")
    card = card_with_steps([add(GIN, millilitres(45.0)), estimated])
    assert card.figures[0].second == "from ice, estimated"
    assert card_with_steps([add(GIN, millilitres(45.0))]).figures[0].value == "none"


def test_serving_temperature_stands_in_both_scales() -> None:
    figure = signal_card().figures[2]
    celsius = float(figure.value.split("\u202f")[0].replace("−", "-"))
    fahrenheit = float(figure.second.split("\u202f")[0])
    assert figure.label == "Served at"
    assert math.isclose(fahrenheit, celsius * 9 / 5 + 32, abs_tol=1.5)


def test_house_dates_are_those_of_what_is_poured() -> None:
    book = house()
    book = book.with_build(replace(book.builds[CORDIAL], house_days=7))
    book = book.with_raw(replace(book.raws[VERJUS], house_days=365))
    card = card_of(book)
    assert card.keeps == ("pear cordial: 7 days cold", "verjus: 1 year open, cold")
    assert card.house_dates == "House dates, not tested."


def test_part_without_a_house_date_says_so() -> None:
    assert signal_card().keeps == ("pear cordial: no house date",)


def test_words_of_the_house_stand_where_they_are_typed_and_leave_no_gap_where_not() -> None:
    plain = signal_card()
    assert (plain.tastes_like, plain.signs) == ("", ())
    typed = signal_card(tastes_like="ripe pear", if_off=(Sign("thin", "too many turns"), Sign("", "")))
    assert typed.tastes_like == "Ripe pear."
    assert typed.signs == (("thin", "too many turns"),)


def test_foot_holds_house_target_and_the_last_change() -> None:
    book = house()
    book = book.with_settings(replace(book.settings, house_name="The Saltmarsh Rooms"))
    card = card_of(book, SIGNAL, LastChange(12, date(2026, 11, 21)))
    assert card.foot == "The Saltmarsh Rooms · no target · change 12 of 21 Nov 2026"
    assert card.change == ("change 12", "21 Nov 2026")
    assert card.computed == "Figures are computed; measure your batch. Local codes come first."


def test_house_book_without_a_journal_names_no_change() -> None:
    card = card_of(house(), SIGNAL, None)
    assert card.change == ()
    assert "change" not in card.foot


def test_credit_is_named_where_the_licence_of_the_data_asks_for_it() -> None:
    card = card_of(house_with_verjus(source="CIQUAL 2020, code 1"))
    assert card.credits == ("Anses. 2020. Ciqual French food composition table.",)
    assert card_of(house_with_verjus(source="USDA SR28")).credits == ()


def test_glass_is_drawn_with_the_ice_that_is_left() -> None:
    book = house()
    in_glass = replace(book.methods["build"], kind=MethodKind.IN_GLASS)
    book = replaced(book, methods={**book.methods, "build": in_glass})
    drink = book.builds[SIGNAL]
    steps = tuple(replace(step, ice_g=115.0) if isinstance(step, Chill) else step for step in drink.steps)
    served = card_of(book.with_build(replace(drink, ice="one 50 mm cube", steps=steps))).served
    assert served is not None
    assert served.glass.ice is not None
    # 115 g of ice less the 9.8 g that melted.
    assert math.isclose(served.glass.ice.mass_g, 105.2)
    assert served.volume.startswith("16")


def test_house_made_part_has_a_card_of_its_own() -> None:
    card = card_of(house(), CORDIAL, CHANGED)
    assert (card.name, card.glass_name) == ("pear cordial", "House-made part")
    assert card.ice.startswith("makes 1,285\u202fg, ")
    assert card.ice.endswith(" pours of 22.5\u202fml")
    assert [pour.words for pour in card.pours] == ["1,200\u202fg", "24\u202fg", "380.1\u202fg"]
    assert card.order_words == "weigh in, in this order"
    assert (card.served, card.shape, card.garnishes) == (None, None, ())


def test_card_of_a_part_has_a_sentence_for_every_step_of_the_bench() -> None:
    assert card_of(house(), CORDIAL).method == (
        "Add the first two, in order.",
        "Blend: high, 90\u202fs.",
        "Rest: covered, 45\u202fmin, at 35–40\u202f°C (95–105\u202f°F).",
        "Strain: weigh the liquid, 905\u202fg last time, keep spent pear.",
        "Add white sugar.",
    )


def test_card_of_a_part_says_how_it_should_measure() -> None:
    labels = [figure.label for figure in card_of(house(), CORDIAL).figures]
    assert labels == ["Makes", "Strength", "°Bx true", "pH", "Acidity"]


def test_card_of_a_part_says_how_long_where_and_against_which_hurdles() -> None:
    book = house()
    book = book.with_build(replace(book.builds[CORDIAL], house_days=7))
    card = card_of(book, CORDIAL)
    assert card.keeps[0] == "pear cordial: 7 days cold"
    assert card.keeping is not None
    assert card.keeping.kept_at == "fridge, 4\u202f°C"
    assert [one.key for one in card.keeping.hurdles] == ["ph", "water_activity", "strength", "cold"]
    assert card.keeping.caution.endswith("a qualified person.")


def test_date_that_its_shortest_input_cuts_says_so_on_the_card() -> None:
    book = house()
    book = book.with_build(replace(book.builds[CORDIAL], house_days=7))
    book = book.with_build(replace(book.builds[LEATHER], house_days=14))
    book = book.with_build(replace(book.builds[OTHER], steps=(add(LEATHER, grams(4.3)),)))
    assert card_of(book, OTHER).keeps == (
        "pear leather: 7 days cold (Cut from 14 days to its shortest input: spent pear, 7 days)",
    )
    book = book.with_build(replace(book.builds[LEATHER], keeps_by="dried to 42 %"))
    assert card_of(book, OTHER).keeps == (
        "pear leather: 14 days cold (Kept longer than its shortest input (spent pear, 7 days): dried to 42 %)",
    )


def test_what_may_get_in_stands_apart_from_what_is_contained() -> None:
    book = house_with_verjus(allergens=("sulphites",), may_contain=("nuts", "sulphites"))
    book = book.with_settings(replace(book.settings, shared=(Shared("fridge", ("milk", "eggs")),)))
    box = card_of(book).box
    assert box.contained_text == "sulphites from the verjus"
    assert box.may_contain_text == (
        "egg, milk by the fridge; nuts with the verjus: ask before serving to an allergy."
    )


def test_nothing_that_may_get_in_says_nothing_of_it() -> None:
    assert signal_card().box.may_contain_text == ""


@pytest.mark.parametrize("key", SCENES)
def test_every_caution_of_a_step_reaches_the_card_of_the_drink_and_of_the_part(key: str) -> None:
    book = SCENES[key]()
    drink = card_of(book, SOUR).box
    found = next(one for one in drink.cautions if one.key == key)
    assert found.text.startswith(cautions()[key].bar)
    assert drink.deferral == DEFERRAL
    if PART in book.builds:
        assert found.sources == ("house part",)
        part = next(one for one in card_of(book, PART).box.cautions if one.key == key)
        assert part.text.startswith(cautions()[key].bench)


def test_figures_of_a_step_stand_on_the_part_and_only_those_of_its_own_steps_on_the_drink() -> None:
    book = SCENES["ferment-salt"]()
    assert text_of(book, PART, "ferment-salt").endswith("2 % salt of all that ferments.")
    assert "2 %" not in text_of(book, SOUR, "ferment-salt")
    frozen = SCENES["sub-zero-pour"]()
    assert text_of(frozen, SOUR, "sub-zero-pour").endswith("Poured at −18 °C.")


def text_of(book: HouseBook, build_id: int, key: str) -> str:
    """The text of a caution on a card."""
    return next(one.text for one in card_of(book, build_id).box.cautions if one.key == key)


def test_drink_without_any_step_is_a_card_with_nothing_poured() -> None:
    card = card_with_steps([])
    assert card.pours == ()
    assert card.method == ()
    assert card.box.contained_text == "none recorded; check labels"


def test_the_glass_has_a_line_with_brim_and_wash_line() -> None:
    assert signal_card().level.startswith("brim ")
    assert "wash line 175\u202fml" in signal_card().level


def test_a_drink_over_its_wash_line_says_by_how_much() -> None:
    assert "over the wash line" in signal_card(wash_line_ml=100.0).level
    assert "over the wash line" not in signal_card(wash_line_ml=170.0).level


def test_a_part_and_a_drink_without_a_glass_have_no_level() -> None:
    assert card_of(house(), CORDIAL).level == ""
    assert signal_card(glass=None).level == ""


def test_rounded_ounces_are_named_with_what_they_are_off_by() -> None:
    card = card_with_steps([add(SODA, millilitres(4.0))])
    assert card.rounding.endswith("of the ml: soda water 6\u202f% less")


def test_a_drink_of_low_strength_says_what_it_may_be_called() -> None:
    card = card_with_steps([add(SODA, millilitres(60.0))])
    assert card.wording.startswith("may be called low-alcohol, not alcohol-free (the strictest known")
    assert card.box.alcohol.startswith("below 0.05\u202f% vol · below 0.05\u202fg · below 0.05 units of 10")
    assert signal_card().wording == ""


def test_proof_stands_beside_strength_where_the_house_counts_as_in_the_us() -> None:
    book = house()
    book = book.with_settings(replace(book.settings, alcohol_units="us"))
    card = card_of(book)
    strength = card.figures[1].value.removesuffix("\u202f%")
    proof = float(card.figures[1].second.rpartition(" · ")[2].removesuffix(" proof"))
    assert proof == pytest.approx(2.0 * float(strength), abs=0.11)
    assert "proof" in card.box.alcohol
    assert "proof" not in signal_card().box.alcohol
