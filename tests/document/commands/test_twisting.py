import pytest
from msgspec import structs

from tests.document.bytes import bytes_of
from tests.document.doing import done
from tests.document.house import (
    CORDIAL,
    GIN,
    LEATHER,
    LIME,
    PEARS,
    PRESS,
    SIGNAL,
    SIGNAL_CHILL,
    SIGNAL_CORDIAL,
    SIGNAL_GIN,
    SIGNAL_LIME,
    SIGNAL_SODA,
    SPENT,
    SWEETEN,
    TIDE,
    TIDE_CORDIAL,
    TONIC,
    TOP_ID,
    amount_of,
    house,
    rest,
)
from washline.document.commands.command import Refusal, in_turn
from washline.document.commands.items import remove_item, rename
from washline.document.commands.lines import add_line, set_amount, set_item
from washline.document.commands.steps import add_step, remove_steps, set_step
from washline.document.commands.twisting import (
    default_twist_name,
    keep_both,
    let_go,
    make_twist,
    take_parents_place,
    twist_part_for,
)
from washline.model.amount import Amount, grams, millilitres
from washline.model.book import HouseBook
from washline.model.step import Strain

HOUSE = house()
TWIST = TOP_ID + 1
TWISTED = done(HOUSE, make_twist(SIGNAL, "bay twist"))
T_GIN, T_CORDIAL, T_LIME, T_CHILL, T_SODA, T_LEAF = range(TWIST + 1, TWIST + 7)


def items(book: HouseBook, build_id: int) -> list[int]:
    return [step.item_id for step in book.builds[build_id].steps if hasattr(step, "item_id")]


def test_a_twist_is_a_copy_with_new_ids_that_remembers_its_parent() -> None:
    twist, parent = TWISTED.builds[TWIST], HOUSE.builds[SIGNAL]
    assert (twist.name, twist.parent_id, twist.glass, twist.target_id) == ("bay twist", SIGNAL, "rocks", 70)
    assert [step.id for step in twist.steps] == [T_GIN, T_CORDIAL, T_LIME, T_CHILL, T_SODA, T_LEAF]
    assert [step.place for step in twist.steps] == [step.place for step in parent.steps]
    assert TWISTED.builds[SIGNAL] is parent


def test_a_twist_of_a_part_has_leftovers_and_shares_of_its_own() -> None:
    book = done(HOUSE, make_twist(CORDIAL, "pear and bay cordial"))
    pears, blend, press, sweeten, spent = range(TWIST + 1, TWIST + 6)
    twist = book.builds[TWIST]
    assert [step.id for step in twist.steps] == [pears, blend, press, sweeten]
    assert amount_of(book, TWIST, sweeten).of == (press,)
    strain = book.step(TWIST, press)
    assert isinstance(strain, Strain)
    assert strain.leftover_id == spent
    assert (book.leftovers[spent].build_id, book.leftovers[spent].name) == (TWIST, "spent pear")


def test_a_change_to_a_twist_leaves_the_parent_alone() -> None:
    book = done(TWISTED, set_item(TWIST, T_SODA, TONIC, millilitres(45.0)))
    assert book.builds[SIGNAL] == HOUSE.builds[SIGNAL]


def test_a_free_name_is_proposed() -> None:
    assert default_twist_name(HOUSE, SIGNAL) == "Pear Signal, twist"
    book = done(HOUSE, make_twist(SIGNAL, "Pear Signal, twist"))
    assert default_twist_name(book, SIGNAL) == "Pear Signal, twist 2"


def test_a_twist_let_go_is_gone_and_nothing_else_has_changed() -> None:
    book = done(TWISTED, let_go(TWIST))
    assert bytes_of(book) == bytes_of(HOUSE)


def test_who_pours_a_twisted_part_goes_back_to_its_parent_when_it_is_let_go() -> None:
    book = done(HOUSE, make_twist(CORDIAL, "twisted cordial"))
    spent = TWIST + 5
    book = done(book, in_turn(set_item(TIDE, TIDE_CORDIAL, TWIST), add_line(LEATHER, spent, grams(5.0))))
    book = done(book, let_go(TWIST))
    assert items(book, TIDE) == [GIN, CORDIAL]
    assert items(book, LEATHER) == [SPENT, SPENT]


def test_a_twist_with_a_leftover_of_its_own_in_use_is_not_let_go() -> None:
    book = done(HOUSE, make_twist(CORDIAL, "twisted cordial"))
    new = Strain(id=0, build_id=0, place=0.0, weighed_g=10.0)
    book = done(book, add_step(TWIST, new, leftover_name="foam"))
    book = done(book, add_line(LEATHER, book.top_id, grams(5.0)))
    with pytest.raises(
        Refusal, match=r"twisted cordial cannot be let go. foam is left over by it alone, and is used in"
    ):
        done(book, let_go(TWIST))


def test_a_twist_takes_its_parents_place_under_the_parents_name_and_id() -> None:
    book = done(
        TWISTED,
        in_turn(
            set_item(TWIST, T_SODA, TONIC, millilitres(45.0)),
            set_amount(TWIST, T_LIME, millilitres(7.5)),
            remove_steps(TWIST, [T_LEAF]),
            add_step(TWIST, rest(1.0), after=T_CHILL),
        ),
    )
    book = done(book, take_parents_place(TWIST))
    drink = book.builds[SIGNAL]
    assert TWIST not in book.builds
    assert (drink.name, drink.parent_id) == ("Pear Signal", None)
    assert items(book, SIGNAL) == [GIN, CORDIAL, LIME, TONIC]
    assert [step.id for step in drink.steps if step.id <= TOP_ID] == [
        SIGNAL_GIN, SIGNAL_CORDIAL, SIGNAL_LIME, SIGNAL_CHILL, SIGNAL_SODA,
    ]  # fmt: skip
    assert all(step.build_id == SIGNAL for step in drink.steps)
    assert amount_of(book, SIGNAL, SIGNAL_LIME) == millilitres(7.5)


def test_all_that_poured_the_parent_or_the_twist_pours_what_came_of_both() -> None:
    book = done(HOUSE, make_twist(CORDIAL, "twisted cordial"))
    sweeten, spent = TWIST + 4, TWIST + 5
    book = done(
        book,
        in_turn(
            set_amount(TWIST, sweeten, grams(300.0)),
            set_item(TIDE, TIDE_CORDIAL, TWIST),
            add_line(LEATHER, spent, grams(5.0)),
        ),
    )
    book = done(book, take_parents_place(TWIST))
    assert amount_of(book, CORDIAL, SWEETEN) == grams(300.0)
    assert items(book, TIDE) == [GIN, CORDIAL]
    assert items(book, SIGNAL) == [GIN, CORDIAL, LIME, 5, 6]
    assert items(book, LEATHER) == [SPENT, SPENT]
    assert list(book.leftovers) == [SPENT]


def test_shares_of_a_twist_refer_to_the_steps_that_took_its_place() -> None:
    book = done(done(HOUSE, make_twist(CORDIAL, "twisted cordial")), take_parents_place(TWIST))
    assert bytes_of(book) == bytes_of(HOUSE)


def test_a_parent_whose_leftover_is_used_and_not_made_by_the_twist_keeps_its_place() -> None:
    book = done(HOUSE, make_twist(CORDIAL, "twisted cordial"))
    press, sweeten = TWIST + 3, TWIST + 4
    book = done(book, remove_steps(TWIST, [press], {sweeten: 380.0}))
    with pytest.raises(Refusal, match="spent pear is left over by it alone, and is used in pear leather"):
        done(book, take_parents_place(TWIST))


def test_a_twist_made_of_its_parent_cannot_take_its_place() -> None:
    book = done(done(HOUSE, make_twist(CORDIAL, "twisted cordial")), add_line(TWIST, CORDIAL, grams(10.0)))
    with pytest.raises(Refusal, match="made of itself"):
        done(book, take_parents_place(TWIST))


def test_twists_of_a_twist_stay_in_the_family() -> None:
    book = done(TWISTED, make_twist(TWIST, "bay twist, shaken"))
    second = book.top_id - 6
    assert book.builds[second].parent_id == TWIST
    assert done(book, take_parents_place(TWIST)).builds[second].parent_id == SIGNAL
    assert done(book, let_go(TWIST)).builds[second].parent_id == SIGNAL
    assert done(book, remove_item(SIGNAL)).builds[TWIST].parent_id is None


@pytest.mark.parametrize("command", [keep_both, let_go, take_parents_place])
def test_what_is_no_twist_is_not_decided_upon(command) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(Refusal, match="Sloe Tide is no twist of another"):
        done(HOUSE, command(TIDE))


def test_a_part_is_changed_for_one_drink_alone() -> None:
    command = twist_part_for(SIGNAL, [CORDIAL], set_amount(CORDIAL, SWEETEN, grams(300.0)))
    book = done(HOUSE, command)
    copy = book.builds[TWIST]
    assert (copy.name, copy.parent_id) == ("pear cordial, for Pear Signal", CORDIAL)
    assert amount_of(book, TWIST, TWIST + 4) == grams(300.0)
    assert items(book, SIGNAL)[1] == TWIST
    assert items(book, TIDE)[1] == CORDIAL
    assert book.builds[CORDIAL] == HOUSE.builds[CORDIAL]
    assert book.leftovers[SPENT] == HOUSE.leftovers[SPENT]


def test_the_same_way_serves_any_command_on_the_part() -> None:
    command = in_turn(
        add_line(CORDIAL, LIME, millilitres(10.0), after=PEARS),
        set_step(CORDIAL, PRESS, weighed_g=900.0),
        add_step(CORDIAL, Strain(id=0, build_id=0, place=0.0, weighed_g=800.0), leftover_name="foam"),
        rename(CORDIAL, "cordial"),
    )
    book = done(HOUSE, twist_part_for(SIGNAL, [CORDIAL], command))
    copy = book.builds[TWIST]
    assert copy.name == "cordial, for Pear Signal"
    assert items(book, TWIST) == [4, LIME, 3]
    assert sorted(leftover.name for leftover in book.leftovers.values() if leftover.build_id == TWIST) == [
        "foam", "spent pear",
    ]  # fmt: skip
    assert book.builds[CORDIAL] == HOUSE.builds[CORDIAL]
    assert [key for key, row in book.leftovers.items() if row.build_id == CORDIAL] == [SPENT]


def test_a_part_deep_in_a_drink_is_changed_for_it_alone_with_all_between() -> None:
    book = done(HOUSE, add_line(TIDE, LEATHER, Amount(1.0, "piece")))
    top = book.top_id
    command = twist_part_for(TIDE, [LEATHER, CORDIAL], set_amount(CORDIAL, PEARS, grams(1000.0)))
    book = done(book, command)
    leather = book.builds[top + 1]
    assert leather.name == "pear leather, for Sloe Tide"
    spent = items(book, leather.id)[0]
    cordial = book.builds[book.leftovers[spent].build_id]
    assert cordial.name == "pear cordial, for Sloe Tide"
    assert cordial.steps[0].amount == grams(1000.0)  # type: ignore[union-attr]
    assert items(book, TIDE) == [GIN, CORDIAL, leather.id]
    assert book.builds[LEATHER] == HOUSE.builds[LEATHER]


def test_only_what_the_drink_pours_is_twisted_for_it() -> None:
    with pytest.raises(Refusal, match="Sloe Tide does not pour pear leather"):
        done(HOUSE, twist_part_for(TIDE, [LEATHER], set_step(LEATHER, 46, final_pct=50.0)))


def test_a_command_on_something_else_is_a_fault_of_the_caller() -> None:
    with pytest.raises(ValueError, match="changes more than part 20"):
        done(HOUSE, twist_part_for(SIGNAL, [CORDIAL], rename(TIDE, "Ebb")))


def test_a_name_that_is_taken_gets_a_number() -> None:
    command = twist_part_for(SIGNAL, [CORDIAL], set_amount(CORDIAL, SWEETEN, grams(300.0)))
    taken = structs.replace(HOUSE.builds[LEATHER], name="pear cordial, for Pear Signal")
    assert done(HOUSE.with_build(taken), command).builds[TWIST].name == "pear cordial, for Pear Signal 2"


def test_a_twist_is_being_tried_until_both_are_kept() -> None:
    book = done(TWISTED, keep_both(TWIST))
    assert TWISTED.builds[TWIST].is_tried
    assert book.builds[TWIST] == structs.replace(TWISTED.builds[TWIST], is_tried=False)
    assert book.builds[SIGNAL] == HOUSE.builds[SIGNAL]
    assert bytes_of(done(book, keep_both(TWIST))) == bytes_of(book)


def test_what_takes_its_parents_place_is_no_longer_being_tried() -> None:
    assert not done(TWISTED, take_parents_place(TWIST)).builds[SIGNAL].is_tried


def test_a_part_changed_for_one_drink_is_decided_upon() -> None:
    command = twist_part_for(SIGNAL, [CORDIAL], set_amount(CORDIAL, SWEETEN, grams(300.0)))
    assert not done(HOUSE, command).builds[TWIST].is_tried
