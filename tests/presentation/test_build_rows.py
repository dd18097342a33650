"""Rows of the build tree. Expected figures follow from the round compositions and amounts of ``small_house``."""

import re
from dataclasses import replace

import pytest
from msgspec import structs

from tests.presentation.small_house import (
    BITTERS,
    CORDIAL,
    CORDIAL_LINE,
    GIN,
    ICE,
    LEAF_LINE,
    LEATHER,
    LEATHER_LINE,
    OTHER,
    PEAR_LINE,
    SIGNAL,
    SODA_LINE,
    SPIN,
    SUGAR_LINE,
    VERJUS_LINE,
    VERMOUTH_LINE,
    house,
)
from washline.document.commands import lines, steps
from washline.document.commands.command import Command
from washline.engine.workings import Workings
from washline.model.amount import Amount, Basis, millilitres
from washline.model.book import HouseBook
from washline.model.step import Strain
from washline.presentation.build_rows import (
    FOOT_ROW,
    LEFTOVER_ROW,
    BuildRow,
    Key,
    RowMaker,
    RowMemory,
    Tone,
    drinks_that_pour,
)
from washline.presentation.row_words import AmountState, RowKind
from washline.quantity.formatting import NumberStyle


def rows_of(
    build_id: int, *commands: Command, inside: Key = (), style: NumberStyle | None = None
) -> list[BuildRow]:
    book = house()
    for command in commands:
        book = command(book)
    return rows_in(book, build_id, inside, style)


def rows_in(
    book: HouseBook, build_id: int, inside: Key = (), style: NumberStyle | None = None
) -> list[BuildRow]:
    workings = Workings(book)
    maker = RowMaker(book, workings.users_of, style) if style else RowMaker(book, workings.users_of)
    trace = workings.trace(build_id)
    return list(maker.inside(trace, inside) if inside else maker.rows(trace))


def row(rows: list[BuildRow], *key: int) -> BuildRow:
    return next(one for one in rows if one.key == key)


def number(text: str) -> float:
    return float(re.sub(r"[^\d.]", "", text))


def texts(one: BuildRow) -> list[str]:
    return [figure.text for figure in one.figures]


def test_a_line_shows_what_was_typed_and_how_cold_it_is() -> None:
    vermouth = row(rows_of(SIGNAL), VERMOUTH_LINE)
    assert (vermouth.name, vermouth.note, vermouth.amount, vermouth.unit) == (
        "dry white vermouth", "4\u202f°C", "60", "ml",
    )  # fmt: skip


def test_a_house_made_line_is_a_part_that_opens_and_counts_its_drinks() -> None:
    cordial = row(rows_of(SIGNAL), CORDIAL_LINE)
    assert cordial.kind is RowKind.PART
    assert cordial.can_open
    assert cordial.users == (SIGNAL, OTHER)
    assert cordial.note.startswith("in 2 drinks")


def test_melted_ice_stands_as_grams_and_brings_nothing_else() -> None:
    assert texts(row(rows_of(SIGNAL), ICE)) == ["9.8", "", "", "", ""]


def test_a_garnish_brings_its_cost_and_no_gram_to_the_liquid() -> None:
    leaf = row(rows_of(SIGNAL), LEAF_LINE)
    # 0.6 g at 20 a kilogram is 0.012.
    assert texts(leaf) == ["", "", "", "", "0.01"]
    assert leaf.note == "0.6\u202fg, not in the liquid, on the cube"


def test_grams_of_the_lines_add_up_to_what_is_served() -> None:
    rows = rows_of(SIGNAL)
    grams = sum(number(one.figures[0].text) for one in rows[:-1] if one.figures and one.figures[0].text)
    served = row(rows, FOOT_ROW)
    assert number(served.figures[0].text) == pytest.approx(grams, abs=0.3)


def test_cost_of_the_foot_includes_the_garnish() -> None:
    rows = rows_of(SIGNAL)
    costs = [number(one.figures[4].text) for one in rows[:-1] if one.figures[4].text]
    assert number(row(rows, FOOT_ROW).figures[4].text) == pytest.approx(sum(costs), abs=0.03)


def test_the_foot_says_how_far_it_is_under_the_wash_line() -> None:
    served = row(rows_of(SIGNAL), FOOT_ROW)
    missing = 175 - int(served.amount)
    assert served.note == f"{missing}\u202fml under the wash line"
    assert served.note_tone is Tone.QUIET


def test_a_drink_over_its_wash_line_says_so_out_loud() -> None:
    served = row(rows_of(SIGNAL, lines.set_amount(SIGNAL, SODA_LINE, millilitres(90.0))), FOOT_ROW)
    assert served.note.endswith("over the wash line")
    assert served.note_tone is Tone.OUT


def test_an_opened_part_shows_amounts_of_the_batch() -> None:
    pear = row(rows_of(SIGNAL, inside=(CORDIAL_LINE,)), CORDIAL_LINE, PEAR_LINE)
    assert (pear.amount, pear.unit, pear.depth) == ("1,200", "g", 1)


def test_contributions_inside_a_part_add_up_to_the_parts_line() -> None:
    outer = row(rows_of(SIGNAL), CORDIAL_LINE)
    inner = rows_of(SIGNAL, inside=(CORDIAL_LINE,))
    for column in (0, 1):
        total = sum(
            number(one.figures[column].text) for one in inner if one.figures and one.figures[column].text
        )
        assert total == pytest.approx(number(outer.figures[column].text), abs=0.15)


def test_a_weighed_yield_replaces_its_estimate_and_names_it() -> None:
    spin = row(rows_of(SIGNAL, inside=(CORDIAL_LINE,)), CORDIAL_LINE, SPIN)
    # 70 % of 1,224 g.
    assert spin.note == "estimate was 857"
    assert (spin.amount, spin.unit, spin.amount_state) == ("905", "g weighed", AmountState.WEIGHED)
    assert spin.scale is not None
    assert spin.scale.weighed_g == 905.0


def test_an_estimated_yield_shows_its_range_in_italics() -> None:
    spin = row(rows_of(CORDIAL, steps.set_step(CORDIAL, SPIN, weighed_g=None)), SPIN)
    # 62 and 76 % of 1,224 g.
    assert (spin.amount, spin.unit, spin.amount_state) == ("857", "g, 759 to 930", AmountState.ESTIMATED)


def test_a_strain_of_which_nothing_is_expected_is_not_known() -> None:
    book = house()
    cordial = book.builds[CORDIAL]
    bare = tuple(
        structs.replace(step, weighed_g=None, expected_pct=None, low_pct=None, high_pct=None)
        if isinstance(step, Strain)
        else step
        for step in cordial.steps
    )
    spin = row(rows_in(book.with_build(structs.replace(cordial, steps=bare)), CORDIAL), SPIN)
    assert spin.amount == "?"


def test_sugar_by_percent_of_the_weighed_yield_shows_the_grams_found() -> None:
    sugar = row(rows_of(CORDIAL), SUGAR_LINE)
    assert (sugar.amount, sugar.unit) == ("42\u202f%", "of weighed")
    # 42 % of 905 g.
    assert sugar.note.startswith("= 380.1\u202fg")


def test_a_leftover_says_where_it_goes_and_what_was_lost() -> None:
    spent = row(rows_of(CORDIAL), SPIN, LEFTOVER_ROW)
    assert (spent.name, spent.goes_to, spent.amount) == ("left over: spent pear", "pear leather", "305.0")
    # Of 1,188 g liquid 269 g are in the cake: 121.2 g sugars x 269 / 1,188 / 305; 26.3 g malic acid count 0.955 as citric.
    # 1,224 - 905 - 305 g are on filter and jug.
    assert spent.remark == "9.0\u202f% sugars, 1.86\u202f% acids, 14.0 g on filter and jug"


def test_a_leftover_that_nobody_uses_says_so() -> None:
    book = house()
    leather = structs.replace(book.builds[LEATHER], steps=())
    spent = row(rows_in(book.with_build(leather), CORDIAL), SPIN, LEFTOVER_ROW)
    assert spent.goes_to == "not used yet"


def test_the_bottle_says_its_pours_inside_a_drink() -> None:
    bottle = row(rows_of(SIGNAL, inside=(CORDIAL_LINE,)), CORDIAL_LINE, FOOT_ROW)
    assert bottle.kind is RowKind.BOTTLE
    assert bottle.remark.endswith("pours of 22.5\u202fml")
    assert bottle.amount == "1,285"


def test_a_line_that_pours_a_leftover_opens_into_its_maker() -> None:
    spent = row(rows_of(LEATHER), LEATHER_LINE)
    assert spent.can_open
    inner = rows_of(LEATHER, inside=(LEATHER_LINE,))
    assert [one.name for one in inner][:2] == ["ripe pear", "malic acid"]


def test_unknown_sugars_are_a_question_mark_and_never_a_zero() -> None:
    rows = rows_of(SIGNAL, lines.add_line(SIGNAL, BITTERS, Amount(3.0, "dash")))
    bitters = next(one for one in rows if one.item_id == BITTERS)
    assert bitters.figures[1].text == "?"
    assert bitters.figures[4].text == "?"
    assert bitters.note.startswith("2.4\u202fml")


def test_a_total_with_something_unknown_in_it_is_at_least() -> None:
    rows = rows_of(SIGNAL, lines.add_line(SIGNAL, BITTERS, Amount(3.0, "dash")))
    assert row(rows, FOOT_ROW).figures[1].text.startswith("\u2265")


def test_less_than_the_last_digit_is_a_centred_dot() -> None:
    rows = rows_of(SIGNAL, lines.set_amount(SIGNAL, VERJUS_LINE, millilitres(0.02)))
    assert row(rows, VERJUS_LINE).figures[4].text == "\u00b7"


def test_a_left_out_line_brings_nothing_and_cannot_be_opened() -> None:
    cordial = row(rows_of(SIGNAL, steps.set_step(SIGNAL, CORDIAL_LINE, left_out=True)), CORDIAL_LINE)
    assert cordial.is_left_out
    assert not cordial.can_open
    assert texts(cordial) == ["", "", "", "", ""]


def test_a_line_whose_item_is_gone_says_so_beside_itself() -> None:
    book = house()
    raws = {key: raw for key, raw in book.raws.items() if key != GIN}
    book = lines.add_line(SIGNAL, GIN, millilitres(45.0))(book)
    gone = next(one for one in rows_in(replace(book, raws=raws), SIGNAL) if one.item_id == GIN)
    assert gone.name == "deleted item"
    assert gone.problem


def test_topping_to_the_wash_line_shows_the_millilitres_found() -> None:
    top = Amount(0.0, "ml", Basis.TO_WASH_LINE)
    rows = rows_of(SIGNAL, lines.set_amount(SIGNAL, SODA_LINE, top))
    soda = row(rows, SODA_LINE)
    assert soda.unit == "ml, to the wash line"
    assert number(soda.amount) > 60.0
    assert row(rows, FOOT_ROW).note == "at the wash line"


def test_an_amount_opens_as_it_was_typed() -> None:
    typed = Amount(1.25, "oz", typed="1¼ oz")
    cordial = row(rows_of(SIGNAL, lines.set_amount(SIGNAL, CORDIAL_LINE, typed)), CORDIAL_LINE)
    assert cordial.edit_text == "1¼ oz"
    assert (cordial.amount, cordial.unit) == ("1.25", "oz")


def test_a_number_to_be_typed_again_holds_no_mark_for_thousands() -> None:
    assert row(rows_of(CORDIAL), PEAR_LINE).edit_text == "1200 g"


def test_figures_follow_the_marks_of_the_locale() -> None:
    german = NumberStyle(",", ".")
    assert row(rows_of(SIGNAL, style=german), CORDIAL_LINE).amount == "22,5"


def test_share_bars_of_a_column_add_up_to_the_whole() -> None:
    shares = [one.figures[0].share for one in rows_of(SIGNAL)[:-1] if one.figures]
    assert sum(shares) == pytest.approx(1.0, abs=0.03)


def test_a_change_of_a_part_reaches_every_drink_that_pours_it_or_its_leftover() -> None:
    book = house()
    workings = Workings(book)
    assert drinks_that_pour(book, workings.users_of, CORDIAL) == (SIGNAL, OTHER)


def test_the_way_into_what_is_no_part_is_empty() -> None:
    assert rows_of(SIGNAL, inside=(VERMOUTH_LINE,)) == []
    assert rows_of(SIGNAL, inside=(99999,)) == []


def test_remembered_rows_are_those_of_a_fresh_start() -> None:
    memory = RowMemory()
    book = house()
    for number in (60.0, 61.0, 90.0, 0.5, 60.0):
        book = lines.set_amount(SIGNAL, VERMOUTH_LINE, millilitres(number))(book)
        book = lines.set_amount(CORDIAL, PEAR_LINE, Amount(1000.0 + number, "g"))(book)
        workings = Workings(book)
        trace = workings.trace(SIGNAL)
        remembering = RowMaker(book, workings.users_of, memory=memory)
        fresh = RowMaker(book, workings.users_of)
        assert remembering.rows(trace) == fresh.rows(trace)
        assert remembering.inside(trace, (CORDIAL_LINE,)) == fresh.inside(trace, (CORDIAL_LINE,))


def test_a_listed_row_is_made_once_and_when_somebody_asks_for_it() -> None:
    book, asked = house(), list[int]()
    workings = Workings(book)

    def users_of(item_id: int) -> frozenset[int]:
        asked.append(item_id)
        return workings.users_of(item_id)

    listed = RowMaker(book, users_of).listed(workings.trace(SIGNAL))
    part = next(one for one in listed if one.key == (CORDIAL_LINE,))
    assert asked == []
    assert part.row.name == "pear cordial"
    assert part.row is part.row
    assert asked == [CORDIAL]


def test_only_steps_are_listed_as_steps() -> None:
    book = house()
    workings = Workings(book)
    for key in ((), (CORDIAL_LINE,)):
        for one in RowMaker(book, workings.users_of).listed(workings.trace(SIGNAL), key):
            assert (one.key, one.step_id, one.is_step) == (one.row.key, one.row.step_id, one.row.is_step)


def test_a_renamed_item_is_not_remembered_under_its_old_name() -> None:
    memory = RowMemory()
    book = house()
    for name in ("dry white vermouth", "house vermouth"):
        book = book.with_raw(structs.replace(book.raws[1], name=name))
        workings = Workings(book)
        rows = RowMaker(book, workings.users_of, memory=memory).rows(workings.trace(SIGNAL))
        assert rows[0].name == name
