import pytest
from msgspec import structs

from tests.document.house import (
    BREW,
    BREW_ACID,
    BREW_FERMENT,
    BREW_LEAF,
    BREW_MUDDLE,
    BREW_PH,
    BREW_SWEET,
    BREW_WASH,
    CORDIAL,
    GIN,
    PRESS,
    SIGNAL,
    SIGNAL_CHILL,
    SIGNAL_GIN,
    TONIC,
    bench_house,
    house,
)
from washline.document.commands import labels
from washline.document.commands.twisting import make_twist
from washline.document.naming import counted, item_name, listed, step_name
from washline.model.book import HouseBook
from washline.model.step import Measurable, Measurement

HOUSE = house()


@pytest.mark.parametrize(
    ("names", "sentence"),
    [
        ([], ""),
        (["gin"], "gin"),
        (["gin", "lime"], "gin and lime"),
        (["gin", "lime", "gin", "soda"], "gin, lime and soda"),
        (["a", "b", "c", "d", "e"], "a, b, c, d and e"),
        (["a", "b", "c", "d", "e", "f", "g"], "a, b, c, d and 3 more"),
    ],
)
def test_names_make_a_sentence(names: list[str], sentence: str) -> None:
    assert listed(names) == sentence


def test_counts_are_written_out_up_to_ten() -> None:
    assert [counted(n, "line") for n in (1, 2, 10, 11)] == ["one line", "two lines", "ten lines", "11 lines"]
    assert counted(2, "leaf", "leaves") == "two leaves"


def test_steps_are_called_by_their_item_method_or_kind() -> None:
    def name(book: HouseBook, build_id: int, step_id: int) -> str:
        step = book.step(build_id, step_id)
        assert step is not None
        return step_name(book, step)

    assert name(HOUSE, SIGNAL, SIGNAL_GIN) == "dry gin"
    assert name(HOUSE, SIGNAL, SIGNAL_CHILL) == "Build on ice"
    assert name(HOUSE, CORDIAL, PRESS) == "strain"
    assert name(HouseBook(builds=HOUSE.builds), SIGNAL, SIGNAL_CHILL) == "build"
    assert item_name(HOUSE, 999) == "an item that is no longer there"


BENCH = bench_house()


@pytest.mark.parametrize(
    ("step_id", "name"),
    [
        (BREW_LEAF, "sorrel leaf"),
        (BREW_MUDDLE, "muddle"),
        (BREW_WASH, "milk wash"),
        (BREW_FERMENT, "yeast ferment"),
        (BREW_ACID, "adjustment with lime juice and tonic water"),
        (BREW_SWEET, "adjustment with white sugar"),
        (BREW_PH, "measurement of °Bx"),
    ],
)
def test_bench_steps_are_called_so_that_a_label_reads_well(step_id: int, name: str) -> None:
    assert labels.change_of_step(BENCH, BREW, step_id) == f"change of {name}"


def test_every_quantity_that_can_be_measured_has_a_name() -> None:
    step = BENCH.step(BREW, BREW_PH)
    assert isinstance(step, Measurement)
    names = [step_name(BENCH, structs.replace(step, quantity=quantity)) for quantity in Measurable]
    assert names[0] == "measurement of mass"
    assert len(set(names)) == len(Measurable)


TWISTED = make_twist(SIGNAL, "bay twist")(HOUSE)
TWIST = HOUSE.top_id + 1


@pytest.mark.parametrize(
    ("label", "words"),
    [
        (labels.change_of_step(HOUSE, SIGNAL, 52), "change of lime juice"),
        (labels.change_of_step(HOUSE, SIGNAL, 999), "change of a step"),
        (labels.change_of_item(HOUSE, SIGNAL), "change of Pear Signal"),
        (labels.swap(HOUSE, SIGNAL, 54, TONIC), "swap of soda water for tonic water"),
        (labels.adding(HOUSE, GIN), "adding dry gin"),
        (labels.adding_step("strain"), "adding a strain"),
        (labels.adding_step("adjustment"), "adding an adjustment"),
        (labels.removing(HOUSE, SIGNAL, [50]), "removing dry gin"),
        (labels.removing(HOUSE, SIGNAL, [50, 52]), "removing dry gin and lime juice"),
        (labels.removing(HOUSE, SIGNAL, [50, 51, 52]), "removing three steps"),
        (labels.cutting(HOUSE, SIGNAL, [50]), "cutting dry gin"),
        (labels.moving(HOUSE, SIGNAL, [53]), "moving Build on ice"),
        (labels.leaving_out(HOUSE, SIGNAL, [50], True), "leaving out dry gin"),
        (labels.leaving_out(HOUSE, SIGNAL, [50], False), "taking in dry gin again"),
        (labels.pasting(3), "pasting three steps"),
        (labels.making("Ebb"), "making Ebb"),
        (labels.renaming("Ebb", "Neap"), "renaming Ebb to Neap"),
        (labels.removing_item("Ebb"), "removing Ebb"),
        (labels.twisting(HOUSE, SIGNAL), "twist of Pear Signal"),
        (labels.keeping_both(TWISTED, TWIST), "keeping bay twist and Pear Signal"),
        (labels.taking_place(TWISTED, TWIST), "bay twist taking the place of Pear Signal"),
        (labels.letting_go(TWISTED, TWIST), "letting go of bay twist"),
        (labels.change_for_one(HOUSE, CORDIAL, SIGNAL), "change of pear cordial for Pear Signal alone"),
        (labels.change_of_target(HOUSE, 70), "change of target aperitif"),
        (labels.change_of_target(HOUSE, 70, "acidity"), "change of acidity in target aperitif"),
        (labels.choosing_target(HOUSE, SIGNAL), "target of Pear Signal"),
        (labels.change_of_settings(), "change of house settings"),
        (labels.importing("Ebb"), "import of Ebb"),
    ],
)
def test_labels_read_well_after_undo(label: str, words: str) -> None:
    assert label == words


def test_a_long_name_is_cut_in_a_label() -> None:
    label = labels.making("Sea buckthorn and " * 10)
    assert len(label) == len("making ") + 60
    assert label.endswith("…")
