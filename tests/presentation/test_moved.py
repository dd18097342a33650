"""What a corrected fact did: the drinks by where they stand, their moves in words, the pours in words."""

import numpy as np
import pytest
from msgspec import structs

from tests.document.house import CORDIAL, LIME, PEAR, SIGNAL, TIDE, TONIC, house
from washline.chemistry.components import CITRIC
from washline.engine.mending import Mend
from washline.engine.readings import READING_COUNT
from washline.engine.result import Result
from washline.model.amount import millilitres
from washline.model.item import Build, BuildKind, Price, RawIngredient, Today
from washline.model.reading import READING_INDEX
from washline.model.step import Adjust, Goal
from washline.model.target import Aim
from washline.presentation.moved import (
    Move,
    MovedDrink,
    Standing,
    correction_words,
    count_words,
    drinks_resting_on,
    is_correction,
    move_words,
    moved_drink,
    out_words,
    pour_effect,
    pour_words,
    shown_moves,
    standing_words,
    wanted_back,
)

BUILD = Build(id=9, kind=BuildKind.DRINK, name="Sloe Tide")
SOUR = (Aim("acidity", 0.6, 0.78, 0.95), Aim("sweetness", 5.0, 7.0, 9.0))


def _result(**readings: float) -> Result:
    values = np.full(READING_COUNT, np.nan)
    for key, value in readings.items():
        values[READING_INDEX[key]] = value
    return Result(9, values, np.zeros(READING_COUNT))


def _moved(before: dict[str, float], after: dict[str, float], aims: tuple[Aim, ...] = SOUR) -> MovedDrink:
    drink = moved_drink(BUILD, aims, _result(**before), _result(**after))
    assert drink is not None
    return drink


def test_a_drink_that_leaves_its_band_is_told_so_with_how_far() -> None:
    drink = _moved({"acidity": 0.8, "sweetness": 6.4}, {"acidity": 1.0, "sweetness": 6.4})
    assert drink.standing is Standing.LEFT
    assert standing_words(drink) == "left its band: acidity over by 0.05"
    assert move_words(drink.moves[0]) == "Acidity 0.80 → 1.00 g/100 ml"


def test_one_that_comes_back_is_told_so() -> None:
    drink = _moved({"acidity": 1.0}, {"acidity": 0.9})
    assert drink.standing is Standing.CAME_BACK
    assert standing_words(drink) == "came back into its band"


def test_one_that_was_out_and_moved_is_still_out() -> None:
    assert _moved({"acidity": 1.0}, {"acidity": 1.2}).standing is Standing.STILL_OUT


def test_one_that_moves_inside_its_band_moved() -> None:
    drink = _moved({"acidity": 0.7}, {"acidity": 0.8})
    assert (drink.standing, standing_words(drink)) == (Standing.MOVED, "in its band as before")


def test_one_whose_figures_are_the_same_is_not_in_the_list() -> None:
    same = _result(acidity=0.7, sweetness=6.0, cost=2.0)
    assert moved_drink(BUILD, SOUR, same, same) is None
    assert moved_drink(BUILD, SOUR, None, same) is None


def test_the_last_digits_of_a_sum_are_no_move() -> None:
    assert moved_drink(BUILD, SOUR, _result(acidity=0.7), _result(acidity=0.7 * (1 + 1e-12))) is None


def test_a_price_moves_the_cost_which_no_target_names() -> None:
    drink = _moved({"acidity": 0.7, "cost": 2.0}, {"acidity": 0.7, "cost": 2.4})
    assert standing_words(drink) == "outside what its target names"
    assert [move.reading for move in drink.moves] == ["cost"]


def test_a_drink_without_a_target_is_compared_by_its_main_readings() -> None:
    drink = _moved({"acidity": 0.7, "strength": 12.0}, {"acidity": 0.9, "strength": 12.0}, ())
    assert [move.reading for move in drink.moves] == ["acidity"]
    assert drink.standing is Standing.MOVED


def test_a_reading_that_got_lost_leaves_its_band() -> None:
    drink = _moved({"acidity": 0.7, "sweetness": 6.0}, {"sweetness": 6.0})
    assert drink.standing is Standing.LEFT
    assert standing_words(drink) == "left its band: acidity not known"


def test_what_left_stands_before_what_was_out_already() -> None:
    drink = _moved({"acidity": 0.9, "sweetness": 9.5}, {"acidity": 1.0, "sweetness": 12.0})
    assert [move.reading for move in drink.moves] == ["acidity", "sweetness"]
    assert wanted_back(drink) == ("acidity",)
    assert drink.is_out


def test_the_list_begins_with_those_that_left_and_moved_farthest() -> None:
    near = _moved({"acidity": 0.94}, {"acidity": 0.96})
    far = _moved({"acidity": 0.7}, {"acidity": 1.2})
    inside = _moved({"acidity": 0.61}, {"acidity": 0.94})
    assert sorted([inside, near, far], key=lambda one: one.order) == [far, near, inside]


def test_a_hair_over_the_edge_does_not_read_as_nothing() -> None:
    move = Move("acidity", 0.9, 0.9501, SOUR[0])
    assert out_words(move) == "acidity over by less than 0.01"
    assert out_words(Move("acidity", 0.9, 0.55, SOUR[0])) == "acidity under by 0.05"


def test_a_move_below_the_last_digit_shows_the_digit_that_moved() -> None:
    assert move_words(Move("strength", 14.52, 14.53, None)) == "Strength 14.52 → 14.53 % vol"


def test_the_list_passes_over_moves_that_do_not_show() -> None:
    drink = _moved({"acidity": 0.7, "sweetness": 6.0}, {"acidity": 0.8, "sweetness": 6.001})
    assert [move.reading for move in shown_moves(drink)] == ["acidity"]


def test_counts_say_how_many_left_and_came_back() -> None:
    left = _moved({"acidity": 0.9}, {"acidity": 1.0})
    back = _moved({"acidity": 1.0}, {"acidity": 0.9})
    inside = _moved({"acidity": 0.7}, {"acidity": 0.8})
    assert count_words([left, back, inside]) == "3 drinks moved: 1 left its band, 1 came back."
    assert count_words([left, left]) == "2 drinks moved: 2 left their band."
    assert count_words([inside]) == "1 drink moved, all inside their band."
    assert count_words([]) == "No drink moved."


def test_a_strip_shows_before_and_after_where_there_is_a_band() -> None:
    strip = Move("acidity", 0.7, 0.9, SOUR[0]).strip
    assert strip is not None
    assert (strip.before, strip.value) == (0.7, 0.9)
    assert Move("cost", 1.0, 2.0, None).strip is None


# The correction


def _lime(**fields: object) -> RawIngredient:
    return structs.replace(house().raws[LIME], **fields)


def _with_citric(grams: float) -> RawIngredient:
    parts = list(house().raws[LIME].composition)
    parts[CITRIC] = grams
    return _lime(composition=tuple(parts))


@pytest.mark.parametrize(
    ("after", "words"),
    [
        (_with_citric(7.0), "lime juice: acids 6.0 → 7.0 g per 100 g"),
        (_lime(strength_pct_vol=5.0), "lime juice: strength ? → 5.0 % vol"),
        (_lime(prices=(Price(25.0, "l", "2026-11-20"),)), "lime juice: price 20.00 → 25.00 per l"),
        (_lime(prices=()), "lime juice: price 20.00 → ?"),
        (_lime(today=Today(0.0, 20.0)), "lime juice: today as in the table → acids +20 %"),
        (_lime(piece_g=30.0), "lime juice: changed"),
    ],
)
def test_a_correction_is_said_in_figures(after: RawIngredient, words: str) -> None:
    assert is_correction(house().raws[LIME], after)
    assert correction_words(house().raws[LIME], after) == words


def test_a_note_or_an_allergen_corrects_no_figure() -> None:
    before = house().raws[LIME]
    assert not is_correction(before, _lime(note="from the corner shop", allergens=("celery",)))
    assert not is_correction(None, before)
    assert not is_correction(before, None)


# The pour


def _mend(*strains: str) -> Mend:
    return Mend(1, 2, millilitres(22.5), millilitres(20.0), 2.6, np.zeros(READING_COUNT), 0.0, strains)


def test_a_pour_is_said_as_the_bar_pours_it() -> None:
    assert pour_words("lemon juice", _mend()) == "lemon juice 22.5 → 20\u202fml"


def test_what_else_a_pour_does_is_said() -> None:
    assert pour_effect(_mend()) == "all others stay where they are in their bands"
    assert pour_effect(_mend("length")) == "but length would leave its band, or go farther out"
    assert pour_effect(_mend("length", "sweetness")).startswith(
        "but length and sweetness would leave their bands"
    )


# Who is touched


def test_drinks_are_found_through_parts_and_their_leftovers() -> None:
    book = house()
    assert drinks_resting_on(book, [PEAR]) == [SIGNAL, TIDE]
    assert drinks_resting_on(book, [LIME]) == [SIGNAL]


def test_a_drink_that_pours_what_acts_as_an_ingredient_rests_on_it() -> None:
    book = house()
    book = book.with_build(structs.replace(book.builds[CORDIAL], acts_as_id=TONIC))
    assert drinks_resting_on(book, [TONIC]) == [SIGNAL, TIDE]


def test_what_is_adjusted_to_be_like_an_ingredient_rests_on_it() -> None:
    book = house()
    cordial = book.builds[CORDIAL]
    like = Adjust(id=500, build_id=CORDIAL, place=9.0, goal=Goal.ACIDITY, like_item_id=TONIC)
    book = book.with_build(structs.replace(cordial, steps=(*cordial.steps, like)))
    assert drinks_resting_on(book, [TONIC]) == [SIGNAL, TIDE]


def test_a_line_that_is_left_out_moves_nothing() -> None:
    book = house()
    signal = book.builds[SIGNAL]
    steps = tuple(structs.replace(step, left_out=True) for step in signal.steps)
    assert drinks_resting_on(book.with_build(structs.replace(signal, steps=steps)), [LIME]) == []
