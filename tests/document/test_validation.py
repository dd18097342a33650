"""What no command makes, but an import might: books that hang together wrongly are stopped at the door."""

from dataclasses import replace

import pytest
from msgspec import structs

from tests.document.doing import done
from tests.document.house import (
    APERITIF,
    CORDIAL,
    GIN,
    LIME,
    PRESS,
    SIGNAL,
    SIGNAL_CHILL,
    SPENT,
    TIDE,
    house,
)
from washline.document.commands.command import Refusal
from washline.document.validation import validate
from washline.model.book import HouseBook
from washline.model.change import difference
from washline.model.item import Build
from washline.model.step import AnyStep

HOUSE = house()


def check(book: HouseBook) -> None:
    validate(book, difference(HOUSE, book))


def with_step(build_id: int, step_id: int, **fields: object) -> HouseBook:
    """The house with fields of one step changed as no command would."""
    build = HOUSE.builds[build_id]
    steps = tuple(structs.replace(step, **fields) if step.id == step_id else step for step in build.steps)
    return HOUSE.with_build(structs.replace(build, steps=steps))


def without(field: str, key: int | str) -> HouseBook:
    """The house with one row missing."""
    rows = {other: row for other, row in getattr(HOUSE, field).items() if other != key}
    return replace(HOUSE, **{field: rows})


@pytest.mark.parametrize(
    ("field", "key", "words"),
    [
        ("raws", GIN, "dry gin cannot be removed. It is used in Pear Signal and Sloe Tide"),
        ("builds", CORDIAL, "pear cordial cannot be removed. It is used in Pear Signal and Sloe Tide"),
        ("leftovers", SPENT, "spent pear cannot be removed. It is used in pear leather"),
        ("targets", APERITIF, "aperitif cannot be removed. It is used in Pear Signal"),
        ("glasses", "rocks", "Double rocks cannot be removed. It is used in Pear Signal"),
        ("methods", "build", "Build on ice cannot be removed. It is used in Pear Signal"),
    ],
)
def test_nothing_that_is_used_goes_missing(field: str, key: int | str, words: str) -> None:
    with pytest.raises(Refusal, match=words):
        check(without(field, key))


def test_a_measure_may_go_and_the_rows_that_need_it_say_so() -> None:
    check(without("measures", "dash"))


def test_a_parent_is_not_removed_from_under_its_twist() -> None:
    twist = structs.replace(HOUSE.builds[TIDE], parent_id=SIGNAL)
    twisted = HOUSE.with_build(twist)
    gone = replace(twisted, builds={key: row for key, row in twisted.builds.items() if key != SIGNAL})
    with pytest.raises(Refusal, match="Pear Signal cannot be removed. It is used in Sloe Tide"):
        validate(gone, difference(twisted, gone))


def test_a_line_names_an_item_that_is_there() -> None:
    with pytest.raises(Refusal, match="A line of Sloe Tide pours something that is not in the house book"):
        check(with_step(TIDE, 60, item_id=999))


def test_a_name_is_never_empty() -> None:
    with pytest.raises(Refusal, match="A name is missing"):
        check(HOUSE.with_raw(structs.replace(HOUSE.raws[LIME], name=" ")))


@pytest.mark.parametrize(
    ("book", "words"),
    [
        (with_step(TIDE, 61, place=1.0), "places of build 23 do not rise"),
        (with_step(TIDE, 61, place=float("nan")), "places of build 23 do not rise"),
        (with_step(CORDIAL, PRESS, leftover_id=999), "a leftover that is not its own"),
    ],
)
def test_what_only_a_fault_of_the_program_could_make_is_told_as_one(book: HouseBook, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        check(book)


def test_a_leftover_belongs_to_the_build_that_yields_it() -> None:
    moved = HOUSE.with_leftover(structs.replace(HOUSE.leftovers[SPENT], build_id=SIGNAL))
    with pytest.raises(ValueError, match="a leftover that is not its own"):
        validate(with_own_build_touched(moved), difference(HOUSE, with_own_build_touched(moved)))


def with_own_build_touched(book: HouseBook) -> HouseBook:
    return book.with_build(structs.replace(book.builds[CORDIAL], note="moved"))


def test_what_was_there_before_and_is_not_touched_is_not_held_against_an_edit() -> None:
    odd = with_step(TIDE, 60, item_id=999)
    renamed = odd.with_build(structs.replace(odd.builds[SIGNAL], name="Ebb"))
    validate(renamed, difference(odd, renamed))


def test_a_method_that_is_not_in_the_book_is_named() -> None:
    with pytest.raises(Refusal, match="The way to chill Pear Signal is not in the house book: swizzle"):
        check(with_step(SIGNAL, SIGNAL_CHILL, method="swizzle"))


def test_steps_and_builds_of_the_house_are_all_let_through() -> None:
    validate(HOUSE, difference(HouseBook(), HOUSE))
    assert done(HouseBook(), lambda _: HOUSE) is HOUSE
    steps: list[AnyStep] = [step for build in HOUSE.builds.values() for step in build.steps]
    assert len(steps) == 15
    assert all(isinstance(build, Build) for build in HOUSE.builds.values())
