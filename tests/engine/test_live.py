"""What is alive or raw in a vessel, and what ends it. Heat: slow pasteurisation, 63 °C, from memory."""

import pytest
from msgspec import structs

from tests.engine.hazards import HERB, JUICE, PART, Bench, bench, cellar, poured
from tests.engine.kitchen import PEAR, SOUR, SPIRIT, SUGAR, WATER, Vessel, raw
from washline.engine.live import closes_a_bottle, is_fresh, is_made_ahead_closed, live_items
from washline.model.book import HouseBook
from washline.model.item import Batch, BatchService, Build
from washline.model.step import FermentKind, Note, Rest

YEAST = 950


def live(vessel: Bench) -> tuple[int, ...]:
    book = poured(vessel)
    return live_items(book, book.builds[PART])


def test_fresh_juice_is_live() -> None:
    assert live(bench().add(JUICE, 100.0).add(WATER, 100.0)) == (JUICE,)


def test_water_sugar_and_spirit_are_not() -> None:
    assert live(bench().add(WATER, 100.0).add(SUGAR, 10.0).add(SPIRIT, 10.0)) == ()


def test_a_ferment_is_live_under_the_name_of_its_part() -> None:
    assert live(bench().add(SUGAR, 50.0).add(WATER, 500.0).ferment(FermentKind.LACTIC)) == (PART,)


def test_heat_ends_what_was_in_before_it_and_not_what_joins_after() -> None:
    assert live(bench().add(JUICE, 100.0).heat(final_pct=95.0)) == ()
    assert live(bench().add(WATER, 100.0).heat(final_pct=95.0).add(JUICE, 10.0)) == (JUICE,)


def test_a_step_that_is_left_out_brings_nothing() -> None:
    build = bench().add(JUICE, 100.0).add(WATER, 100.0).build()
    out = structs.replace(build, steps=tuple(structs.replace(step, left_out=True) for step in build.steps))
    assert live_items(cellar().with_build(out), out) == ()


def test_only_what_stands_before_a_step_is_in_it() -> None:
    vessel = bench().add(WATER, 100.0).rest(words="wait").add(JUICE, 10.0)
    book = poured(vessel)
    build = book.builds[PART]
    assert live_items(book, build, build.steps[1].id) == ()


def test_a_part_that_was_not_heated_brings_its_life_along() -> None:
    book = poured(bench().add(JUICE, 100.0).add(WATER, 100.0))
    assert live_items(book, book.builds[SOUR]) == (PART,)


def named(name: str) -> HouseBook:
    return cellar().with_raw(raw(YEAST, name, {"water": 90.0, "protein": 10.0}))


def of(book: HouseBook) -> tuple[int, ...]:
    build: Build = Vessel(SOUR).add(YEAST, 1.0).add(WATER, 100.0).build()
    return live_items(book.with_build(build), build)


@pytest.mark.parametrize("name", ["Champagne yeast", "Kombucha, ginger", "water kefir", "cider, unfiltered"])
def test_what_is_called_alive_is_live(name: str) -> None:
    assert of(named(name)) == (YEAST,)


def test_what_is_pasteurised_is_not_live() -> None:
    assert of(named("kombucha, pasteurised")) == ()
    assert not is_fresh(named("kombucha, pasteurised").raws[YEAST])


def test_produce_counts_once_its_juice_runs_out() -> None:
    fruit = structs.replace(cellar().raws[PEAR], category="fruit")
    book = cellar().with_raw(fruit)
    whole = bench().add(PEAR, 100.0).build()
    assert live_items(book.with_build(whole), whole) == ()
    pressed = bench().add(PEAR, 100.0).strain(weighed_g=60.0).build()
    assert live_items(book.with_build(pressed), pressed) == (PEAR,)


@pytest.mark.parametrize(
    ("words", "is_closed"),
    [
        ("into bottles", True),
        ("in a swing-top", True),
        ("in the keg", True),
        ("in a jug", False),
        ("", False),
    ],
)
def test_words_say_whether_something_is_closed_tight(words: str, is_closed: bool) -> None:
    assert closes_a_bottle(Rest(id=1, build_id=2, place=1.0, words=words)) is is_closed
    assert closes_a_bottle(Note(id=1, build_id=2, place=1.0, words=words)) is is_closed


@pytest.mark.parametrize(
    ("service", "is_closed"),
    [
        (BatchService.TAP, True),
        (BatchService.CARBONATED, True),
        (BatchService.FRIDGE, True),
        (BatchService.FREEZER, False),
        (BatchService.ON_ICE, False),
    ],
)
def test_a_batch_stands_closed_but_for_the_freezer_and_ice(service: BatchService, is_closed: bool) -> None:
    drink = structs.replace(Vessel(SOUR).add(WATER, 10.0).build(), batch=Batch(service=service))
    assert is_made_ahead_closed(drink) is is_closed
    assert HERB not in live_items(cellar(), drink)
