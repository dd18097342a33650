"""Steps of a kitchen, typed and chosen in the sheet, with their details edited in place."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest

from tests.presentation.kitchen_house import (
    ADJUSTING,
    BASE_LINE,
    BAY,
    CITRIC,
    FERMENTING,
    HEATING,
    INFUSING,
    KITCHEN,
    LIME,
    MEASURING,
    STRAINING,
    WASHING,
    WATER,
    kitchen,
)
from tests.presentation.small_house import MALIC, PEAR, SUGAR
from tests.ui.build.conftest import Bench
from washline.document.commands.leftovers import drop_leftover
from washline.model.item import Leftover
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    Evaporate,
    Ferment,
    FermentKind,
    Goal,
    Infuse,
    Measurable,
    Measurement,
    Portion,
    Strain,
    Wash,
    WashKind,
    Weight,
)
from washline.presentation.build_rows import FIRST_DETAIL_ROW, BuildRow, Key
from washline.presentation.row_words import RowKind
from washline.presentation.step_details import DETAIL_KEYS
from washline.ui.build.actions import STEP_TITLES
from washline.ui.build.columns import AMOUNT, NAME
from washline.ui.build.editors import ChoiceEditor, NameEditor
from washline.ui.build.model import NEW_LINE_KEY
from washline.ui.build.names import STEP_WORDS

Make = Callable[..., Bench]


@pytest.fixture
def kitchen_bench(make_bench: Make) -> Bench:
    """The sheet on *kitchen part*."""
    return make_bench(kitchen(), KITCHEN)


def last_step(bench: Bench) -> AnyStep:
    return bench.book.builds[KITCHEN].steps[-1]


def write(bench: Bench, text: str) -> None:
    """Types a line for adding and presses Enter."""
    bench.type_new_line(text)
    bench.press(Qt.Key.Key_Return)
    if bench.sheet.tree.is_editing:
        bench.press(Qt.Key.Key_Escape)


def draft(bench: Bench) -> str:
    (kept,) = bench.sheet.model.drafts.values()
    return kept.expected


def detail_key(step_id: int, key: str) -> Key:
    return (step_id, FIRST_DETAIL_ROW - DETAIL_KEYS.index(key))


def unfold(bench: Bench, step_id: int) -> None:
    bench.go((step_id,))
    bench.sheet.actions_of_build.details.trigger()


def set_detail(bench: Bench, step_id: int, key: str, text: str) -> None:
    """Unfolds a step and types into one of its details."""
    if not bench.sheet.tree.isExpanded(bench.sheet.model.index_of((step_id,))):
        unfold(bench, step_id)
    bench.go(detail_key(step_id, key), AMOUNT)
    if text:
        bench.type(text)
    else:
        bench.press(Qt.Key.Key_F2)
        bench.press(Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
        bench.press(Qt.Key.Key_Delete)
    bench.press(Qt.Key.Key_Return)


# Typed lines


def test_an_infusion_is_typed_as_one_line(kitchen_bench: Bench) -> None:
    write(kitchen_bench, "infuse 30 g bay leaf 6 h at 4 °C")
    step = last_step(kitchen_bench)
    assert isinstance(step, Infuse)
    assert (step.item_id, step.amount.number, step.amount.unit) == (BAY, 30.0, "g")
    assert (step.duration_s, step.temperature_low_c) == (21_600.0, 4.0)
    assert kitchen_bench.labels()[0] == "adding an infusion"


def test_an_infusion_may_say_what_it_gives(kitchen_bench: Bench) -> None:
    write(kitchen_bench, "infuse 30 g bay leaf, gives 60 % of its salt")
    step = last_step(kitchen_bench)
    assert isinstance(step, Infuse)
    assert (step.salt_given_pct, step.water_given_pct) == (60.0, None)


def test_produce_is_typed_as_bought(kitchen_bench: Bench) -> None:
    write(kitchen_bench, "buy 1,333 g ripe pear")
    step = last_step(kitchen_bench)
    assert isinstance(step, Add)
    assert (step.item_id, step.amount.number, step.weight) == (PEAR, 1333.0, Weight.BOUGHT)


def test_water_is_typed_with_its_temperature(kitchen_bench: Bench) -> None:
    write(kitchen_bench, "500 g water at 176 F")
    step = last_step(kitchen_bench)
    assert isinstance(step, Add)
    assert (step.item_id, step.temperature_c) == (WATER, pytest.approx(80.0))


def test_a_strain_keeps_way_weight_and_what_it_leaves(kitchen_bench: Bench) -> None:
    write(kitchen_bench, "spin 15 min 700 g leaving spent apple 180 g")
    step = last_step(kitchen_bench)
    assert isinstance(step, Strain)
    assert (step.way, step.weighed_g, step.leftover_weighed_g, step.duration_s) == (
        "spin",
        700.0,
        180.0,
        900.0,
    )
    leftover = kitchen_bench.book.item(step.leftover_id or 0)
    assert isinstance(leftover, Leftover)
    assert leftover.name == "spent apple"


def test_a_strain_not_weighed_keeps_what_is_expected(kitchen_bench: Bench) -> None:
    write(kitchen_bench, "press 70 % 62-76")
    step = last_step(kitchen_bench)
    assert isinstance(step, Strain)
    assert (step.expected_pct, step.low_pct, step.high_pct) == (70.0, 62.0, 76.0)


def test_sugar_goes_in_up_to_a_reading(kitchen_bench: Bench) -> None:
    book = kitchen_bench.book
    assert book.raws[SUGAR].name == "white sugar"
    write(kitchen_bench, "white sugar to 50 °Bx")
    step = last_step(kitchen_bench)
    assert isinstance(step, Adjust)
    assert (step.goal, step.value, step.portions) == (Goal.BRIX, 50.0, (Portion(SUGAR),))
    assert "g" in kitchen_bench.row(step.id).note
    assert kitchen_bench.labels()[0] == "adding an adjustment"


def test_two_acids_go_in_by_parts(kitchen_bench: Bench) -> None:
    write(kitchen_bench, "citric + malic 2:3 to 6 % acidity")
    step = last_step(kitchen_bench)
    assert isinstance(step, Adjust)
    assert step.portions == (Portion(CITRIC, 2.0), Portion(MALIC, 3.0))


def test_it_is_made_as_sour_as_lime_juice(kitchen_bench: Bench) -> None:
    write(kitchen_bench, "juice as sour as lime juice")
    step = last_step(kitchen_bench)
    assert isinstance(step, Adjust)
    assert (step.like_item_id, step.value, step.portions) == (LIME, None, (Portion(CITRIC),))


@pytest.mark.parametrize(
    "text, kind",
    [
        ("fat wash 4 h", Wash),
        ("ferment lactic 6 days 18-20 °C to pH 3.5", Ferment),
        ("reduce to 50 °Bx", Evaporate),
    ],
)
def test_other_steps_are_typed_as_one_line(kitchen_bench: Bench, text: str, kind: type) -> None:
    write(kitchen_bench, text)
    assert isinstance(last_step(kitchen_bench), kind)


def test_a_measurement_is_weighed_against_the_computed_value(kitchen_bench: Bench) -> None:
    write(kitchen_bench, "measure pH 3.3 strip")
    step = last_step(kitchen_bench)
    assert isinstance(step, Measurement)
    assert (step.quantity, step.value, step.instrument, step.uncertainty) == (
        Measurable.PH,
        3.3,
        "strip",
        0.3,
    )
    # The strip is less sure than the computed value, so that less than all of the difference counts.
    assert 0.0 < step.gain < 1.0


def test_while_a_step_is_typed_it_is_said_and_shown(kitchen_bench: Bench) -> None:
    kitchen_bench.type_new_line("reduce to 40 °Bx")
    assert kitchen_bench.sheet.tree.bubble.text.startswith("reduce to 40\u202f°Bx")
    view = kitchen_bench.session.view
    assert view is not None
    assert view.is_preview
    kitchen_bench.press(Qt.Key.Key_Escape)
    assert len(kitchen_bench.book.builds[KITCHEN].steps) == 11


def test_what_is_not_understood_stays_and_says_what_was_expected(kitchen_bench: Bench) -> None:
    write(kitchen_bench, "reduce to 50 moons")
    assert draft(kitchen_bench).startswith("Expected how far, such as to 400 g")
    assert len(kitchen_bench.book.builds[KITCHEN].steps) == 11


def test_a_name_that_is_not_known_is_said(kitchen_bench: Bench) -> None:
    write(kitchen_bench, "moonwort to 50 °Bx")
    assert draft(kitchen_bench) == "Nothing is called just \u201cmoonwort\u201d. Choose it from the list."


def test_a_value_out_of_range_is_refused_where_it_was_typed(kitchen_bench: Bench) -> None:
    write(kitchen_bench, "measure pH 15")
    assert "pH" in draft(kitchen_bench)


def test_an_infusion_of_the_part_itself_is_refused(kitchen_bench: Bench) -> None:
    write(kitchen_bench, "infuse 20 g spent bay 1 h")
    assert draft(kitchen_bench).startswith("This would make it of itself")


def test_the_list_completes_the_name_within_the_step(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    bench.go(NEW_LINE_KEY, NAME)
    bench.type("infuse 20 g bay 6 h")
    editor = bench.editor
    assert isinstance(editor, NameEditor)
    assert editor.proposals[0].fills == "infuse 20 g bay leaf, fresh 6 h"
    assert editor.proposals[-1].text == "New ingredient \u201cbay\u201d"


def test_the_list_completes_the_last_of_several_names(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    bench.go(NEW_LINE_KEY, NAME)
    bench.type("citric + mal")
    editor = bench.editor
    assert isinstance(editor, NameEditor)
    assert [one.fills for one in editor.proposals] == ["citric + malic acid"]


def test_an_item_that_is_new_is_made_and_infused_in_one_step_of_the_history(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    bench.go(NEW_LINE_KEY, NAME)
    bench.type("infuse 20 g wormwood 6 h")
    editor = bench.editor
    assert isinstance(editor, NameEditor)
    editor._take(editor._rows.index(len(editor.proposals) - 1))
    bench.qtbot.waitUntil(lambda: isinstance(last_step(bench), Infuse))
    step = last_step(bench)
    assert isinstance(step, Infuse)
    assert bench.book.raws[step.item_id].name == "wormwood"
    assert bench.labels()[0] == "adding wormwood"


# The step menu


def test_every_step_of_the_list_is_in_the_menu_and_the_other_way_round() -> None:
    assert set(STEP_WORDS) | {"top", "garnish"} == set(STEP_TITLES)


@pytest.mark.parametrize(
    "word, kind", [("fat wash", Wash), ("milk wash", Wash), ("ferment", Ferment), ("strain", Strain)]
)
def test_the_menu_puts_in_a_step_that_can_stand_empty(kitchen_bench: Bench, word: str, kind: type) -> None:
    kitchen_bench.go((FERMENTING,))
    kitchen_bench.sheet.actions_of_build.steps[word].trigger()
    assert isinstance(last_step(kitchen_bench), kind)


@pytest.mark.parametrize(
    "word, text, kind",
    [
        ("infuse", "20 g bay leaf 48 h at 20 °C", Infuse),
        ("adjust", "white sugar to 50 °Bx", Adjust),
        ("measure", "12 °Bx", Measurement),
    ],
)
def test_the_menu_opens_the_line_for_a_step_that_needs_words(
    kitchen_bench: Bench, word: str, text: str, kind: type
) -> None:
    kitchen_bench.go((FERMENTING,))
    kitchen_bench.sheet.actions_of_build.steps[word].trigger()
    assert kitchen_bench.editor.isVisible()
    kitchen_bench.type(text)
    kitchen_bench.press(Qt.Key.Key_Return)
    assert isinstance(last_step(kitchen_bench), kind)


def test_an_infusion_from_the_menu_may_name_first_and_weigh_then(kitchen_bench: Bench) -> None:
    kitchen_bench.go((FERMENTING,))
    kitchen_bench.sheet.actions_of_build.steps["infuse"].trigger()
    kitchen_bench.type("bay leaf, fresh")
    kitchen_bench.press(Qt.Key.Key_Return)
    kitchen_bench.type("25 g")
    kitchen_bench.press(Qt.Key.Key_Return)
    step = last_step(kitchen_bench)
    assert isinstance(step, Infuse)
    assert step.amount.number == 25.0


def test_the_list_fills_the_word_for_a_step_that_needs_words(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    bench.go(NEW_LINE_KEY, NAME)
    bench.type("adj")
    editor = bench.editor
    assert isinstance(editor, NameEditor)
    editor._take(editor._rows.index(0))
    assert editor.text() == "adjust "
    assert bench.sheet.tree.is_editing


# Amount cells


@pytest.mark.parametrize(
    "step_id, text, field, value",
    [
        (HEATING, "to 900 g", "final_g", 900.0),
        (HEATING, "30 °Bx", "final_brix", 30.0),
        (ADJUSTING, "3", "value", 3.0),
        (ADJUSTING, "3 %", "value", 3.0),
        (ADJUSTING, "14 °Bx", "goal", Goal.BRIX),
        (ADJUSTING, "as sour as lime juice", "like_item_id", LIME),
        (FERMENTING, "4 days", "duration_s", 345_600.0),
        (FERMENTING, "2 g gas", "gas_lost_g", 2.0),
        (FERMENTING, "pH 3.4", "final_ph", 3.4),
        (MEASURING, "11.5", "value", 11.5),
        (MEASURING, "pH 3.4", "quantity", Measurable.PH),
        (WASHING, "6 h", "duration_s", 21_600.0),
        (INFUSING, "25 g", "amount", 25.0),
    ],
)
def test_the_amount_of_each_step_is_typed_in_its_cell(
    kitchen_bench: Bench, step_id: int, text: str, field: str, value: object
) -> None:
    kitchen_bench.go((step_id,))
    kitchen_bench.type(text)
    kitchen_bench.press(Qt.Key.Key_Return)
    assert kitchen_bench.sheet.model.drafts == {}
    found = getattr(kitchen_bench.step(KITCHEN, step_id), field)
    assert (found.number if field == "amount" else found) == value


@pytest.mark.parametrize(
    "step_id, text, why",
    [
        (ADJUSTING, "sweet", "Expected what is reached, such as 50 °Bx"),
        (FERMENTING, "sour", "Expected a time, or what was measured"),
        (MEASURING, "a lot", "Expected a value and its unit, such as 6.6 °Bx"),
        (HEATING, "7 moons", "Expected what is left, such as 400 g, 42 % or 50 °Bx"),
    ],
)
def test_an_amount_that_is_not_understood_says_what_was_expected(
    kitchen_bench: Bench, step_id: int, text: str, why: str
) -> None:
    kitchen_bench.go((step_id,))
    kitchen_bench.type(text)
    kitchen_bench.press(Qt.Key.Key_Return)
    assert draft(kitchen_bench).startswith(why)


def test_a_new_value_is_weighed_against_the_computed_one_again(kitchen_bench: Bench) -> None:
    kitchen_bench.go((MEASURING,))
    kitchen_bench.type("11.5")
    kitchen_bench.press(Qt.Key.Key_Return)
    step = kitchen_bench.step(KITCHEN, MEASURING)
    assert isinstance(step, Measurement)
    assert step.gain != 0.5
    assert 0.0 < step.gain < 1.0


def test_the_items_of_an_adjustment_are_typed_in_its_name(kitchen_bench: Bench) -> None:
    kitchen_bench.go((ADJUSTING,), NAME)
    kitchen_bench.type("citric + malic 1:1")
    kitchen_bench.press(Qt.Key.Key_Return)
    step = kitchen_bench.step(KITCHEN, ADJUSTING)
    assert isinstance(step, Adjust)
    assert step.portions == (Portion(CITRIC, 1.0), Portion(MALIC, 1.0))


def test_another_item_goes_into_an_infusion(kitchen_bench: Bench) -> None:
    kitchen_bench.go((INFUSING,), NAME)
    kitchen_bench.type("ripe pear")
    kitchen_bench.press(Qt.Key.Key_Return)
    step = kitchen_bench.step(KITCHEN, INFUSING)
    assert isinstance(step, Infuse)
    assert step.item_id == PEAR


# Details


def test_the_details_of_a_step_unfold_under_it_and_fold_again(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    before = [row.key for row in bench.sheet.model.rows()]
    unfold(bench, INFUSING)
    current = bench.sheet.tree.current_row()
    assert current is not None
    assert (current.kind, current.name) == (RowKind.DETAIL, "how")
    bench.sheet.actions_of_build.details.trigger()
    assert [row.key for row in bench.sheet.model.rows()] == before
    folded = bench.sheet.tree.current_row()
    assert folded is not None
    assert folded.key == (INFUSING,)


def test_alt_return_unfolds_the_details(kitchen_bench: Bench) -> None:
    kitchen_bench.go((STRAINING,))
    kitchen_bench.press(Qt.Key.Key_Return, Qt.KeyboardModifier.AltModifier)
    assert kitchen_bench.sheet.tree.isExpanded(kitchen_bench.sheet.model.index_of((STRAINING,)))


def test_a_click_beside_the_mark_unfolds_the_details(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    tree = bench.sheet.tree
    index = bench.sheet.model.index_of((WASHING,))
    row = bench.row(WASHING)
    rect = tree.visualRect(index)
    place = tree._painter.chevron_rect(row, rect.top(), rect.height()).center().toPoint()
    QTest.mouseClick(tree.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, place)
    assert tree.isExpanded(index)


@pytest.mark.parametrize(
    "step_id, key, text, field, value",
    [
        (INFUSING, "sugars_given_pct", "40 %", "sugars_given_pct", 40.0),
        (INFUSING, "given_spread_pct", "20", "given_spread_pct", 20.0),
        (INFUSING, "duration_s", "3 days", "duration_s", 259_200.0),
        (INFUSING, "temperature", "4 °C", "temperature_low_c", 4.0),
        (INFUSING, "temperature", "40-50 °F", "temperature_high_c", pytest.approx(10.0)),
        (INFUSING, "weight", "as bought", "weight", Weight.BOUGHT),
        (INFUSING, "bought_g", "30 g", "bought_g", 30.0),
        (INFUSING, "words", "torn, dark", "words", "torn, dark"),
        (BASE_LINE, "temperature_c", "80 °C", "temperature_c", 80.0),
        (WASHING, "wash_kind", "milk", "kind", WashKind.MILK),
        (WASHING, "fat_held_pct", "95", "fat_held_pct", 95.0),
        (WASHING, "acids_held_pct", "12,5 %", "acids_held_pct", 12.5),
        (STRAINING, "way", "cloth", "way", "cloth"),
        (STRAINING, "expected", "70 % 62-76", "low_pct", 62.0),
        (STRAINING, "measured_brix", "11 °Bx", "measured_brix", 11.0),
        (STRAINING, "measured_acidity_pct", "0.5 %", "measured_acidity_pct", 0.5),
        (HEATING, "ethanol_way", "flamed", "ethanol_way", "flamed"),
        (HEATING, "ethanol_kept_pct", "35 %", "ethanol_kept_pct", 35.0),
        (FERMENTING, "ferment_kind", "yeast", "kind", FermentKind.YEAST),
        (FERMENTING, "gas_lost_g", "4 g", "gas_lost_g", 4.0),
        (FERMENTING, "final_acidity_pct", "0.73", "final_acidity_pct", 0.73),
        (FERMENTING, "final_ph", "pH 3.4", "final_ph", 3.4),
        (FERMENTING, "discard_above_ph", "4.2", "discard_above_ph", 4.2),
        (FERMENTING, "discard_on_day", "4", "discard_on_day", 4.0),
        (ADJUSTING, "goal", "strength", "goal", Goal.STRENGTH),
        (ADJUSTING, "value", "3 %", "value", 3.0),
        (ADJUSTING, "per", "volume", "per", "volume"),
        (ADJUSTING, "like_item_id", "lime juice", "like_item_id", LIME),
        (MEASURING, "quantity", "acidity", "quantity", Measurable.ACIDITY),
        (MEASURING, "instrument", "my own", "instrument", "my own"),
        (MEASURING, "uncertainty", "0.1", "uncertainty", 0.1),
    ],
)
def test_each_detail_is_typed_in_its_row(
    kitchen_bench: Bench, step_id: int, key: str, text: str, field: str, value: object
) -> None:
    set_detail(kitchen_bench, step_id, key, text)
    assert kitchen_bench.sheet.model.drafts == {}
    assert getattr(kitchen_bench.step(KITCHEN, step_id), field) == value
    assert kitchen_bench.labels()[0].startswith("change of ")


def test_a_range_of_a_yield_can_be_changed_without_unweighing_it(kitchen_bench: Bench) -> None:
    set_detail(kitchen_bench, STRAINING, "expected", "62-76 %")
    step = kitchen_bench.step(KITCHEN, STRAINING)
    assert isinstance(step, Strain)
    assert (step.weighed_g, step.expected_pct) == (905.0, 69.0)


@pytest.mark.parametrize(
    "step_id, key, field",
    [(INFUSING, "water_given_pct", "water_given_pct"), (FERMENTING, "final_ph", "final_ph")],
)
def test_an_emptied_detail_is_not_known(kitchen_bench: Bench, step_id: int, key: str, field: str) -> None:
    set_detail(kitchen_bench, step_id, key, "")
    assert getattr(kitchen_bench.step(KITCHEN, step_id), field) is None


def test_an_emptied_uncertainty_is_the_one_of_common_practice(kitchen_bench: Bench) -> None:
    set_detail(kitchen_bench, MEASURING, "uncertainty", "0.5")
    set_detail(kitchen_bench, MEASURING, "uncertainty", "")
    step = kitchen_bench.step(KITCHEN, MEASURING)
    assert isinstance(step, Measurement)
    assert step.uncertainty == 0.2


@pytest.mark.parametrize(
    "step_id, key, text, why",
    [
        (
            INFUSING,
            "water_given_pct",
            "160",
            "Expected what the solid gives of its own in percent from 0 to 100",
        ),
        (INFUSING, "duration_s", "long", "Expected a number and a unit of time"),
        (INFUSING, "temperature", "warm", "Expected a number and °C or °F"),
        (WASHING, "wash_kind", "oil", "Expected one of fat or milk."),
        (STRAINING, "expected", "much", "Expected a share of the vessel"),
        (FERMENTING, "final_ph", "35", "Expected the pH as measured"),
        (ADJUSTING, "like_item_id", "moon", "Nothing is called just \u201cmoon\u201d"),
        (
            MEASURING,
            "uncertainty",
            "bad",
            "Expected one standard deviation of the instrument, such as 0.2 °Bx.",
        ),
    ],
)
def test_a_detail_that_is_not_understood_stays_and_says_what_was_expected(
    kitchen_bench: Bench, step_id: int, key: str, text: str, why: str
) -> None:
    set_detail(kitchen_bench, step_id, key, text)
    assert draft(kitchen_bench).startswith(why)


def portion_row(bench: Bench, name: str) -> BuildRow:
    return next(row for row in bench.sheet.model.rows() if row.detail is not None and row.name == name)


def test_a_portion_gets_other_parts_another_item_and_a_third_beside_it(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    unfold(bench, ADJUSTING)
    bench.go(portion_row(bench, "malic acid").key)
    bench.type("4")
    bench.press(Qt.Key.Key_Return)
    bench.go(portion_row(bench, "malic acid").key, NAME)
    bench.type("white sugar")
    bench.press(Qt.Key.Key_Return)
    set_detail(bench, ADJUSTING, "another", "2 malic acid")
    step = bench.step(KITCHEN, ADJUSTING)
    assert isinstance(step, Adjust)
    assert step.portions == (Portion(CITRIC, 2.0), Portion(SUGAR, 4.0), Portion(MALIC, 2.0))


def test_a_portion_that_is_emptied_is_taken_out_but_for_the_last(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    unfold(bench, ADJUSTING)
    for name in ("malic acid", "Citric acid, anhydrous"):
        bench.go(portion_row(bench, name).key)
        bench.press(Qt.Key.Key_F2)
        bench.press(Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
        bench.press(Qt.Key.Key_Delete)
        bench.press(Qt.Key.Key_Return)
    step = bench.step(KITCHEN, ADJUSTING)
    assert isinstance(step, Adjust)
    assert step.portions == (Portion(CITRIC, 2.0),)
    assert draft(bench).startswith("One thing at least must be added")


def test_a_choice_lists_all_there_is_with_the_down_arrow(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    unfold(bench, STRAINING)
    bench.go(detail_key(STRAINING, "way"))
    bench.press(Qt.Key.Key_F2)
    editor = bench.editor
    assert isinstance(editor, ChoiceEditor)
    bench.press(Qt.Key.Key_Down)
    assert [one.text for one in editor.proposals][:3] == ["no way named", "press", "strain through cloth"]
    editor._take(editor._rows.index(1))
    bench.qtbot.waitUntil(lambda: not bench.sheet.tree.is_editing)
    step = bench.step(KITCHEN, STRAINING)
    assert isinstance(step, Strain)
    assert step.way == "press"


def test_a_detail_previews_while_it_is_typed(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    unfold(bench, INFUSING)
    bench.go(detail_key(INFUSING, "water_given_pct"))
    bench.type("90")
    view = bench.session.view
    assert view is not None
    assert view.is_preview
    bench.press(Qt.Key.Key_Escape)
    step = bench.step(KITCHEN, INFUSING)
    assert isinstance(step, Infuse)
    assert step.water_given_pct == 55.0


def test_a_detail_is_heard_with_its_name_and_value(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    unfold(bench, INFUSING)
    index = bench.sheet.model.index_of(detail_key(INFUSING, "water_given_pct"), AMOUNT)
    assert index.data(Qt.ItemDataRole.AccessibleTextRole) == "water given: 55 %"


def test_an_undone_detail_is_as_it_was(kitchen_bench: Bench) -> None:
    set_detail(kitchen_bench, WASHING, "fat_held_pct", "95")
    kitchen_bench.document.undo()
    step = kitchen_bench.step(KITCHEN, WASHING)
    assert isinstance(step, Wash)
    assert step.fat_held_pct is None


def test_a_detail_is_no_step_to_be_removed_or_moved(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    unfold(bench, INFUSING)
    assert bench.sheet.structure.chosen() == []
    assert not bench.sheet.actions_of_build.remove.isEnabled()


def test_unfolded_details_come_back_with_the_build(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    unfold(bench, STRAINING)
    bench.session.show(None)
    bench.session.show(KITCHEN)
    assert bench.sheet.tree.isExpanded(bench.sheet.model.index_of((STRAINING,)))


# Rows as a whole


@pytest.mark.parametrize("step_id", [INFUSING, WASHING, STRAINING, MEASURING, ADJUSTING, FERMENTING])
def test_each_step_is_left_out_moved_copied_and_pasted(kitchen_bench: Bench, step_id: int) -> None:
    bench = kitchen_bench
    actions = bench.sheet.actions_of_build
    bench.go((step_id,))
    actions.left_out.trigger()
    assert bench.row(step_id).is_left_out
    actions.left_out.trigger()
    actions.move_up.trigger()
    actions.duplicate.trigger()
    kinds = [type(step) for step in bench.book.builds[KITCHEN].steps]
    assert kinds.count(type(bench.step(KITCHEN, step_id))) == 2


def test_pasted_lines_become_the_steps_that_they_write_out(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    QGuiApplication.clipboard().setText(
        "1,333 g ripe pear as bought\ninfuse 20 g bay leaf, fresh 48 h\nspin 800 g\nwhite sugar to 50 °Bx\nsing a song"
    )
    bench.go((FERMENTING,))
    bench.sheet.structure.paste()
    bench.sheet.strip.buttons[0].click()
    added = bench.book.builds[KITCHEN].steps[11:]
    assert [type(step).__name__ for step in added] == ["Add", "Infuse", "Strain", "Adjust", "Note"]
    assert isinstance(added[0], Add)
    assert added[0].weight is Weight.BOUGHT


def test_a_strain_gets_a_leftover_by_naming_it(kitchen_bench: Bench) -> None:
    bench = kitchen_bench
    bench.document.do(drop_leftover(KITCHEN, STRAINING), "dropping")
    set_detail(bench, STRAINING, "leftover", "leaf and pulp")
    step = bench.step(KITCHEN, STRAINING)
    assert isinstance(step, Strain)
    leftover = bench.book.item(step.leftover_id or 0)
    assert leftover is not None
    assert leftover.name == "leaf and pulp"
