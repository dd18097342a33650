"""Leftovers of which something is left, and what could take them."""

import pytest
from msgspec import structs

from tests.engine.kitchen import CORDIAL, LEMON, PEAR, SPENT, SUGAR, WATER, Vessel, house
from tests.presentation import demo
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.item import BuildKind, KeptAt
from washline.presentation.unused import Unused, unused

PASTE, DRINK, OTHER = 301, 302, 303


def found(book: HouseBook) -> dict[str, Unused]:
    return {row.name: row for row in unused(Workings(book))}


def in_demo() -> dict[str, Unused]:
    return {row.name: row for row in unused(demo.workings())}


def test_the_demo_house_has_leftovers_that_nobody_takes() -> None:
    rows = in_demo()
    # DEMO 1.10: 230 g of spent hips a batch, and no part takes them.
    assert rows["spent hips"].left_g == pytest.approx(230.0)
    assert rows["spent hips"].maker_name == "rosehip syrup"
    assert not rows["spent hips"].is_partly_taken


def test_a_leftover_that_is_taken_whole_is_not_listed() -> None:
    # DEMO 1.2: the leather takes all 405.9 g of the spent pear.
    assert "spent pear" not in in_demo()


def test_a_leftover_that_is_partly_taken_is_listed_with_the_rest() -> None:
    curd = in_demo()["apple curd"]
    assert (curd.left_g, curd.batch_g) == (pytest.approx(159.1), pytest.approx(179.1))
    assert curd.is_partly_taken
    assert (curd.takers[0].name, curd.takers[0].rank) == ("malted oat lace", 0)
    assert curd.takers[0].reason == "takes 20.0\u202fg of it already"


def test_what_is_left_holds_its_share_of_the_batch() -> None:
    curd = in_demo()["apple curd"]
    assert curd.matter is not None
    assert curd.matter.grams == pytest.approx(159.1)
    assert 0.0 < curd.matter.sugars_g < 20.0


def test_the_heaviest_stands_first() -> None:
    weights = [row.left_g for row in unused(demo.workings()) if row.left_g is not None]
    assert weights == sorted(weights, reverse=True)


def test_a_leftover_keeps_as_long_as_what_it_is_left_over_from() -> None:
    book = house()
    cordial = structs.replace(book.builds[CORDIAL], house_days=7)
    assert found(book.with_build(cordial))["spent pear"].keeps_words() == "7 days, not tested"
    own = structs.replace(book.leftovers[SPENT], house_days=1, kept_at=KeptAt.FREEZER)
    row = found(book.with_build(cordial).with_leftover(own))["spent pear"]
    assert (row.keeps_words(), row.kept_at) == ("1 day, not tested", KeptAt.FREEZER)
    assert found(book)["spent pear"].keeps_words() == "no house date"


def test_those_with_the_same_ingredient_come_before_those_of_its_kind() -> None:
    book = house()
    book = book.with_raw(structs.replace(book.raws[PEAR], category="fruit"))
    book = book.with_raw(structs.replace(book.raws[LEMON], category="fruit"))
    book = book.with_build(Vessel(OTHER).add(LEMON, 20.0).build(name="a lemonade"))
    book = book.with_build(Vessel(DRINK).add(PEAR, 20.0).build(name="z pear drink"))
    takers = found(book)["spent pear"].takers
    ranks = [taker.rank for taker in takers]
    assert ranks == sorted(ranks)
    first = next(taker for taker in takers if taker.name == "z pear drink")
    assert (first.rank, first.reason) == (1, "takes in pear too")
    kind = next(taker for taker in takers if taker.name == "a lemonade")
    assert (kind.rank, kind.reason) == (2, "takes in lemon juice, of the same kind")


def test_that_both_take_in_sugar_is_no_reason() -> None:
    book = house()
    book = book.with_raw(structs.replace(book.raws[SUGAR], category="sugar-syrup"))
    syrup = Vessel(PASTE).add(SUGAR, 100.0).add(WATER, 100.0).build(BuildKind.PART, name="plain syrup")
    assert "plain syrup" not in {taker.name for taker in found(book.with_build(syrup))["spent pear"].takers}


def test_what_would_close_a_loop_is_not_offered() -> None:
    # The cordial pours this part: it cannot take the cordial's leftover.
    book = house()
    pulp = Vessel(PASTE).add(PEAR, 100.0).build(BuildKind.PART, name="pear pulp")
    cordial = book.builds[CORDIAL]
    line = Vessel(CORDIAL).add(PASTE, 50.0).steps[0]
    longer = structs.replace(cordial, steps=(structs.replace(line, id=999, place=0.5), *cordial.steps))
    rows = found(book.with_build(pulp).with_build(longer))
    assert "pear pulp" not in {taker.name for taker in rows["spent pear"].takers}


def test_the_part_itself_is_not_offered_its_own_leftover() -> None:
    assert CORDIAL not in {taker.build_id for taker in found(house())["spent pear"].takers}


def test_a_leftover_whose_strain_is_left_out_is_not_there() -> None:
    book = house()
    cordial = book.builds[CORDIAL]
    steps = tuple(
        structs.replace(step, left_out=True) if step.id == 101003 else step for step in cordial.steps
    )
    assert "spent pear" not in found(book.with_build(structs.replace(cordial, steps=steps)))


def test_a_leftover_that_cannot_be_computed_stands_first_with_its_grams_unknown() -> None:
    book = house()
    cordial = book.builds[CORDIAL]
    line = structs.replace(Vessel(CORDIAL).add(998, 5.0).steps[0], id=998, place=0.1)
    rows = unused(Workings(book.with_build(structs.replace(cordial, steps=(line, *cordial.steps)))))
    assert (rows[0].name, rows[0].left_g, rows[0].matter) == ("spent pear", None, None)


def test_who_takes_another_leftover_of_the_same_batch_comes_before_its_kind() -> None:
    # DEMO 1.14 and 1.15: the peel syrup takes the peel of the lemons whose hulls nobody takes.
    first = in_demo()["lemon hulls"].takers[0]
    assert (first.name, first.rank) == ("peel sugar syrup", 1)
    assert first.reason == "takes in lemon peel, ours, of the same batch"
