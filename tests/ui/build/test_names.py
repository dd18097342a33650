"""Which items a typed name can mean, and what pasted lines are understood as."""

import pytest
from msgspec import structs

from tests.presentation.small_house import (
    BITTERS,
    CORDIAL,
    GIN,
    LEATHER,
    OTHER,
    SIGNAL,
    SODA,
    SPENT_PEAR,
    VERJUS,
    house,
)
from washline.model.step import Add, Chill, Note, Rest, Top
from washline.ui.build.names import matching_items, named_item, new_step, typed_name
from washline.ui.build.paste import putting_in, read_pasted


def test_a_name_is_found_anywhere_without_case_and_accents() -> None:
    book = house()
    book = book.with_raw(structs.replace(book.raws[VERJUS], name="Verjus d'été"))
    assert [item.id for item in matching_items(book, SIGNAL, "ETE")] == [VERJUS]


def test_words_may_stand_in_any_order() -> None:
    assert [item.id for item in matching_items(house(), SIGNAL, "gin dry")] == [GIN]


def test_names_that_begin_with_the_word_come_first() -> None:
    names = [item.name for item in matching_items(house(), SIGNAL, "pear")]
    assert names[:2] == ["pear cordial", "pear leather"]


def test_drinks_and_what_would_close_a_cycle_are_not_offered() -> None:
    offered = {item.id for item in matching_items(house(), CORDIAL, "e")}
    assert offered.isdisjoint({SIGNAL, OTHER, CORDIAL, LEATHER, SPENT_PEAR})


def test_nothing_typed_offers_nothing() -> None:
    assert matching_items(house(), SIGNAL, "  ") == []


def test_only_the_whole_name_names_an_item() -> None:
    assert named_item(house(), SIGNAL, "gin") is None
    gin = named_item(house(), SIGNAL, "Dry Gin")
    assert gin is not None
    assert gin.id == GIN


def test_the_houses_own_part_goes_before_what_is_bought_under_the_same_name() -> None:
    book = house()
    book = book.with_raw(structs.replace(book.raws[SODA], name="pear cordial"))
    found = named_item(book, SIGNAL, "pear cordial")
    assert found is not None
    assert found.id == CORDIAL


def test_a_name_that_two_items_have_is_not_guessed() -> None:
    book = house()
    book = book.with_raw(structs.replace(book.raws[SODA], name="dry gin"))
    assert named_item(book, SIGNAL, "dry gin") is None


def test_the_amount_is_taken_off_the_name() -> None:
    typed = typed_name("45 ml dry gin")
    assert typed.line is not None
    assert (typed.name, typed.line.amount.number) == ("dry gin", 45.0)
    assert typed_name("dry gin").line is None


def test_a_new_chill_uses_a_method_of_the_house() -> None:
    chill = new_step("chill", house())
    assert isinstance(chill, Chill)
    assert chill.method == "build"


def test_a_new_rest_takes_its_time() -> None:
    rest = new_step("rest", house(), 90.0)
    assert isinstance(rest, Rest)
    assert rest.duration_s == 90.0


def test_a_word_for_no_step_is_the_callers_fault() -> None:
    with pytest.raises(KeyError):
        new_step("juggle", house())


def test_pasted_lines_are_understood_one_by_one() -> None:
    texts = [
        "45 ml dry gin",
        "",
        "\u2022 1/2 oz verjus",
        "soda water\t60 ml",
        "3 dashes house bitters",
        "sing",
    ]
    lines = read_pasted(house(), SIGNAL, texts)
    assert [line.item_id for line in lines] == [GIN, VERJUS, SODA, BITTERS, None]
    assert [line.is_understood for line in lines] == [True, True, True, True, False]
    assert lines[-1].why


def test_a_multiplied_line_is_poured_so_many_times() -> None:
    line = read_pasted(house(), SIGNAL, ["15 ml verjus x 2"])[0]
    assert line.amount is not None
    assert line.amount.number == 30.0


def test_a_pasted_line_may_name_the_only_item_that_fits() -> None:
    assert read_pasted(house(), SIGNAL, ["45 ml gin"])[0].item_id == GIN


def test_an_amount_of_nothing_known_says_why_it_stays_text() -> None:
    line = read_pasted(house(), SIGNAL, ["45 ml moon water"])[0]
    assert line.why == "nothing has just the name \u201cmoon water\u201d"


def test_pasted_lines_go_in_in_order_and_rubbish_becomes_a_note() -> None:
    book = house()
    lines = read_pasted(book, SIGNAL, ["45 ml dry gin", "stir well", "top 60 ml soda water"])
    after = book.builds[SIGNAL].steps[0].id
    steps = putting_in(SIGNAL, lines, after)(book).builds[SIGNAL].steps[1:4]
    assert isinstance(steps[0], Add)
    assert isinstance(steps[1], Note)
    assert isinstance(steps[2], Top)
    assert steps[1].words == "stir well"
