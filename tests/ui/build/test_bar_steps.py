"""Steps of the bar in the sheet: typed, put in from the menu, edited in place, copied, and lines shown in parts."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QMimeData, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from tests.presentation.bar_house import (
    ANISE,
    AT_THE_BAR,
    BOTTLED,
    CARBONATING,
    CREAM,
    EXPRESSING,
    FLOATING,
    PEEL,
    RIMMING,
    RINSING,
    RYE,
    RYE_LINE,
    SALT,
    SMOKING,
    STIRRING,
    STRAINING,
    VERMOUTH_LINE,
    bar_house,
)
from tests.ui.build.conftest import Bench
from washline.model.amount import Heft
from washline.model.step import (
    Add,
    AnyStep,
    BarStrain,
    BarStrainWay,
    Carbonate,
    Chill,
    ChillBy,
    Garnish,
    GarnishWay,
    IceState,
    Note,
    Rinse,
    Smoke,
    Strain,
    Top,
)
from washline.presentation.bar_details import AS_THE_ROOM
from washline.presentation.build_rows import FIRST_DETAIL_ROW, Key
from washline.presentation.pour_view import PourUnit
from washline.presentation.row_words import RowKind
from washline.presentation.step_details import DETAIL_KEYS
from washline.ui.build.columns import AMOUNT, NAME
from washline.ui.build.editors import ChoiceEditor
from washline.ui.build.model import NEW_LINE_KEY
from washline.ui.build.pour_choice import PourChoice
from washline.ui.build.row_painter import _MARK_ICONS
from washline.ui.icons import icon_names

Make = Callable[..., Bench]
THIN = "\u202f"


@pytest.fixture
def bar(make_bench: Make) -> Bench:
    """The sheet on the drink with every step of the bar."""
    return make_bench(bar_house(), AT_THE_BAR)


@pytest.fixture
def bottled(make_bench: Make) -> Bench:
    """The sheet on the part that is carbonated."""
    return make_bench(bar_house(), BOTTLED)


def write(bench: Bench, text: str) -> None:
    """Types a line for adding and presses Enter."""
    bench.type_new_line(text)
    bench.press(Qt.Key.Key_Return)
    if bench.sheet.tree.is_editing:
        bench.press(Qt.Key.Key_Escape)


def last_step(bench: Bench, build_id: int = AT_THE_BAR) -> AnyStep:
    return bench.book.builds[build_id].steps[-1]


def detail_key(step_id: int, key: str) -> Key:
    return (step_id, FIRST_DETAIL_ROW - DETAIL_KEYS.index(key))


def set_detail(bench: Bench, step_id: int, key: str, text: str) -> None:
    """Unfolds a step and types into one of its details."""
    if not bench.sheet.tree.isExpanded(bench.sheet.model.index_of((step_id,))):
        bench.go((step_id,))
        bench.sheet.actions_of_build.details.trigger()
    bench.go(detail_key(step_id, key), AMOUNT)
    if text:
        bench.type(text)
    else:
        bench.press(Qt.Key.Key_F2)
        bench.press(Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
        bench.press(Qt.Key.Key_Delete)
    bench.press(Qt.Key.Key_Return)


def set_amount(bench: Bench, step_id: int, text: str) -> None:
    bench.go((step_id,))
    bench.type(text)
    bench.press(Qt.Key.Key_Return)


def draft(bench: Bench) -> str:
    (kept,) = bench.sheet.model.drafts.values()
    return kept.expected


# Typed


def test_a_chill_is_typed_as_one_line(bar: Bench) -> None:
    write(bar, "shake 200 g cracked wet 12 s, tin at 20 °C, ends at -5 °C")
    step = last_step(bar)
    assert isinstance(step, Chill)
    assert (step.method, step.ice, step.ice_g, step.ice_state, step.duration_s, step.vessel_c, step.end_c) == (
        "shake", "cracked", 200.0, IceState.WET, 12.0, 20.0, -5.0,
    )  # fmt: skip
    assert bar.labels()[0] == "adding a chill"


def test_what_was_understood_is_said_beneath_while_it_is_typed(bar: Bench) -> None:
    bar.type_new_line("shake cubes 12 s wet 200 g")
    assert bar.sheet.tree.bubble.isVisible()
    edit = bar.sheet.editing.understand(bar.row(*NEW_LINE_KEY), NAME, "shake cubes 12 s wet 200 g")
    assert edit.meaning == "shake 200 g wet cubes, 12 s"  # type: ignore[union-attr]


@pytest.mark.parametrize(
    "text, kind",
    [
        ("strain over 50 mm cube", BarStrain),
        ("fine strain", BarStrain),
        ("rinse 5 ml anise spirit", Rinse),
        ("float 10 ml cream", Top),
        ("rim 2 g flake salt", Garnish),
        ("express 1 piece lemon peel, thrown away", Garnish),
        ("smoke oak 20 s", Smoke),
        ("carbonate to 7 g/l in keg, 19 l", Carbonate),
        ("strain through paper 100 g", Strain),
    ],
)
def test_each_step_of_the_bar_is_typed_as_one_line_and_undone_as_one(
    bar: Bench, text: str, kind: type
) -> None:
    before = bar.book.builds[AT_THE_BAR].steps
    write(bar, text)
    assert isinstance(last_step(bar), kind)
    bar.document.undo()
    assert bar.book.builds[AT_THE_BAR].steps == before


def test_ice_that_is_not_known_stays_in_the_line_with_what_there_is(bar: Bench) -> None:
    bar.type_new_line("stir with pebbly ice")
    bar.press(Qt.Key.Key_Return)
    assert draft(bar) == "Expected ice of this house: cubes, 50 mm cube, cracked, crushed, machine cubes."


def test_a_line_is_typed_scant(bar: Bench) -> None:
    write(bar, "scant 3/4 oz rye spirit")
    step = last_step(bar)
    assert isinstance(step, Add)
    assert (step.amount.number, step.amount.unit, step.amount.heft) == (0.75, "oz", Heft.SCANT)
    set_amount(bar, step.id, "heavy 20 ml")
    assert bar.amount(step.id, AT_THE_BAR).heft is Heft.HEAVY
    set_amount(bar, step.id, "20 ml")
    assert bar.amount(step.id, AT_THE_BAR).heft is Heft.EVEN


def test_a_rinse_of_something_new_makes_it_an_ingredient(bar: Bench) -> None:
    bar.type_new_line("rinse 5 ml wormwood tincture")
    proposals = bar.sheet.editing.proposals(bar.row(*NEW_LINE_KEY), "rinse 5 ml wormwood tincture")
    choice = proposals[-1].choice
    edit = bar.sheet.editing.understand(bar.row(*NEW_LINE_KEY), NAME, "rinse 5 ml wormwood tincture", choice)
    bar.session.commit(edit.command, edit.label)  # type: ignore[union-attr]
    step = last_step(bar)
    assert isinstance(step, Rinse)
    assert bar.book.raws[step.item_id].name == "wormwood tincture"


# From the menu


@pytest.mark.parametrize(
    "word, typed, item_id, fields",
    [
        ("rinse", "5 ml anise spirit", ANISE, {}),
        ("float", "10 ml cream", CREAM, {"is_layer": True}),
        ("rim", "2 g flake salt", SALT, {"way": GarnishWay.RIM}),
        ("express", "1 piece lemon peel", PEEL, {"way": GarnishWay.EXPRESS}),
    ],
)
def test_what_takes_in_an_item_is_written_in_the_line_for_adding(
    bar: Bench, word: str, typed: str, item_id: int, fields: dict[str, object]
) -> None:
    bar.go((SMOKING,))
    bar.sheet.actions_of_build.steps[word].trigger()
    bar.type(typed)
    bar.press(Qt.Key.Key_Return)
    step = bar.book.builds[AT_THE_BAR].steps[-1]
    assert step.item_id == item_id  # type: ignore[union-attr]
    for name, value in fields.items():
        assert getattr(step, name) == value


def test_a_rinse_can_be_named_first_and_measured_then(bar: Bench) -> None:
    bar.go((SMOKING,))
    bar.sheet.actions_of_build.steps["rinse"].trigger()
    bar.type("anise spirit")
    bar.press(Qt.Key.Key_Return)
    bar.type("4 ml")
    bar.press(Qt.Key.Key_Return)
    step = last_step(bar)
    assert isinstance(step, Rinse)
    assert (step.item_id, step.amount.number) == (ANISE, 4.0)


def test_every_step_of_the_menu_has_its_own_letter_or_none(bar: Bench) -> None:
    titles = [action.text() for action in bar.sheet.actions_of_build.steps.values()]
    assert len(set(titles)) == len(titles)
    assert {"rinse", "fine strain", "float", "rim", "express", "smoke", "carbonate"} <= set(
        bar.sheet.actions_of_build.steps
    )


def test_what_is_done_at_the_glass_is_not_offered_in_a_part(bottled: Bench) -> None:
    bottled.go((CARBONATING,))
    actions = bottled.sheet.actions_of_build.steps
    assert not any(actions[word].isEnabled() for word in ("rinse", "float", "rim", "express"))
    assert actions["carbonate"].isEnabled()
    offered = [one.text for one in bottled.sheet.editing.proposals(bottled.row(*NEW_LINE_KEY), "ri")]
    assert "rinse" not in offered


def test_a_chill_typed_over_the_name_of_another_changes_all_that_it_says(bar: Bench) -> None:
    bar.go((STIRRING,), NAME)
    bar.press(Qt.Key.Key_F2)
    edit = bar.sheet.editing.understand(bar.row(STIRRING), NAME, "shake 150 g cracked 12 s")
    bar.session.commit(edit.command, edit.label)  # type: ignore[union-attr]
    step = bar.step(AT_THE_BAR, STIRRING)
    assert isinstance(step, Chill)
    assert (step.method, step.ice, step.ice_g, step.duration_s) == ("shake", "cracked", 150.0, 12.0)


@pytest.mark.parametrize(
    "text, label",
    [
        ("express 1 piece lemon peel", "adding a peel"),
        ("rim 2 g flake salt", "adding a rim"),
        ("pour unstrained", "adding a strain"),
        ("fine strain", "adding a fine strain"),
        ("carbonate to 7 g/l", "adding a carbonation"),
    ],
)
def test_undo_names_what_was_added(bar: Bench, text: str, label: str) -> None:
    write(bar, text)
    assert bar.labels()[0] == label


# Edited in place


@pytest.mark.parametrize(
    "step_id, key, text, field, value",
    [
        (STIRRING, "method", "shake on", "method", "shake"),
        (STIRRING, "ice", "cracked", "ice", "cracked"),
        (STIRRING, "ice", "as usual", "ice", ""),
        (STIRRING, "ice_g", "200 g", "ice_g", 200.0),
        (STIRRING, "ice_g", "", "ice_g", None),
        (STIRRING, "ice_state", "dry", "ice_state", IceState.DRY),
        (STIRRING, "ice_c", "-10 °C", "ice_c", -10.0),
        (STIRRING, "vessel_c", "68 F", "vessel_c", 20.0),
        (STIRRING, "by", "balance", "by", ChillBy.BALANCE),
        (STIRRING, "melted_g", "24 g", "melted_g", 24.0),
        (STIRRING, "final_g", "120", "final_g", 120.0),
        (STIRRING, "final_ml", "118 ml", "final_ml", 118.0),
        (STIRRING, "end_c", "-4", "end_c", -4.0),
        (STIRRING, "duration_s", "25 s", "duration_s", 25.0),
        (STRAINING, "strain_way", "unstrained", "way", BarStrainWay.UNSTRAINED),
        (STRAINING, "held_back_ml", "4 ml", "held_back_ml", 4.0),
        (STRAINING, "fresh_ice", "50 mm cube", "fresh_ice", "50 mm cube"),
        (STRAINING, "fresh_ice_g", "115 g", "fresh_ice_g", 115.0),
        (STRAINING, "vessel_c", "4 °C", "vessel_c", 4.0),
        (STRAINING, "vessel_c", "14 F", "vessel_c", -10.0),
        (RINSING, "film_ml", "2 ml", "film_ml", 2.0),
        (RINSING, "temperature_c", "4 °C", "temperature_c", 4.0),
        (FLOATING, "is_layer", "poured", "is_layer", False),
        (EXPRESSING, "garnish_way", "on the glass", "way", GarnishWay.GARNISH),
        (EXPRESSING, "stays_g", "0.05 g", "stays_g", 0.05),
        (RIMMING, "stays_g", "", "stays_g", None),
    ],
)
def test_each_detail_of_the_bar_is_typed_in_its_row(
    bar: Bench, step_id: int, key: str, text: str, field: str, value: object
) -> None:
    set_detail(bar, step_id, key, text)
    assert getattr(bar.step(AT_THE_BAR, step_id), field) == (
        pytest.approx(value) if isinstance(value, float) else value
    )
    bar.document.undo()
    assert bar.book.builds[AT_THE_BAR] == bar_house().builds[AT_THE_BAR]


@pytest.mark.parametrize(
    "key, text, field, value",
    [
        ("vessel", "keg", "vessel", "keg-19"),
        ("co2_g_per_l", "7 g/l", "co2_g_per_l", 7.0),
        ("over_kpa", "32 psi", "over_kpa", 220.632),
        ("over_kpa", "2.2", "over_kpa", 220.0),
        ("at_c", "4 °C", "at_c", 4.0),
        ("fills", "2", "fills", 2.0),
        ("reached_pct", "90 %", "reached_pct", 90.0),
        ("warmest_c", "30 °C", "warmest_c", 30.0),
        ("opening_loss_pct", "10 %", "opening_loss_pct", 10.0),
        ("duration_s", "2 h", "duration_s", 7200.0),
    ],
)
def test_each_detail_of_a_carbonating_is_typed_in_its_row(
    bottled: Bench, key: str, text: str, field: str, value: object
) -> None:
    set_detail(bottled, CARBONATING, key, text)
    found = getattr(bottled.step(BOTTLED, CARBONATING), field)
    assert found == (pytest.approx(value, rel=1e-5) if isinstance(value, float) else value)


@pytest.mark.parametrize(
    "step_id, key, text, words",
    [
        (STIRRING, "ice_c", "4 °C", "at most 0 °C"),
        (STIRRING, "ice", "hail", "Expected one of as usual for the method, cubes"),
        (STIRRING, "method", "juggle", "No method has this name"),
        (STIRRING, "end_c", "-5 to -3 °C", "measured at the end"),
        (STIRRING, "melted_g", "20 ml", "what melted"),
        (STRAINING, "held_back_ml", "much", "tin and strainer"),
        (EXPRESSING, "garnish_way", "under it", "Expected one of on the glass"),
    ],
)
def test_a_detail_that_is_not_understood_says_what_was_expected_where_it_was_typed(
    bar: Bench, step_id: int, key: str, text: str, words: str
) -> None:
    set_detail(bar, step_id, key, text)
    assert words in draft(bar)
    assert bar.book.builds[AT_THE_BAR] == bar_house().builds[AT_THE_BAR]


def test_the_pickers_list_what_the_house_has(bar: Bench) -> None:
    bar.go((STIRRING,))
    bar.sheet.actions_of_build.details.trigger()
    bar.go(detail_key(STIRRING, "ice"), AMOUNT)
    bar.press(Qt.Key.Key_F2)
    editor = bar.editor
    assert isinstance(editor, ChoiceEditor)
    editor.list_all()
    offered = [
        proposal.text for proposal in bar.sheet.editing.proposals(bar.row(*detail_key(STIRRING, "ice")), "")
    ]
    assert offered == [
        "as usual for the method",
        "cubes",
        "50 mm cube",
        "cracked",
        "crushed",
        "machine cubes",
    ]


def test_what_was_found_is_not_to_be_typed_in(bar: Bench) -> None:
    bar.go((STIRRING,))
    bar.sheet.actions_of_build.details.trigger()
    row = bar.row(*detail_key(STIRRING, "found"))
    assert not row.has_amount
    assert row.amount.startswith("melts ")
    current = bar.sheet.tree.current_row()
    assert current is not None
    assert current.key == detail_key(STIRRING, "method")


@pytest.mark.parametrize(
    "text, field, value",
    [
        ("24 g", "melted_g", 24.0),
        ("to 120 g", "final_g", 120.0),
        ("40 turns", "count", 40.0),
        ("25 s", "duration_s", 25.0),
        ("150 g cracked wet", "ice_g", 150.0),
        ("24 g melted, ends at -4 °C", "end_c", -4.0),
    ],
)
def test_the_amount_of_a_chill_takes_all_that_is_said_of_it(
    bar: Bench, text: str, field: str, value: float
) -> None:
    set_amount(bar, STIRRING, text)
    assert getattr(bar.step(AT_THE_BAR, STIRRING), field) == value


def test_a_glass_of_which_nothing_is_said_is_as_warm_as_the_room(bar: Bench) -> None:
    set_detail(bar, STRAINING, "vessel_c", "4 °C")
    key = detail_key(STRAINING, "vessel_c")
    row = bar.row(*key)
    assert (row.name, row.amount, row.unit) == ("glass at", "4", "°C")
    assert bar.sheet.editing.understand(row, AMOUNT, "").meaning == AS_THE_ROOM  # type: ignore[union-attr]
    set_detail(bar, STRAINING, "vessel_c", "")
    assert bar.step(AT_THE_BAR, STRAINING) == bar_house().step(AT_THE_BAR, STRAINING)
    assert bar.row(*key).remark.replace("\u202f", " ") == "as warm as the room, 20 °C"


@pytest.mark.parametrize("text, value", [("4", 4.0), ("4 ml", 4.0), ("0.5 cl", 5.0), ("4 ml held back", 4.0)])
def test_the_amount_of_a_strain_is_what_it_holds_back(bar: Bench, text: str, value: float) -> None:
    set_amount(bar, STRAINING, text)
    step = bar.step(AT_THE_BAR, STRAINING)
    assert isinstance(step, BarStrain)
    assert step.held_back_ml == value


@pytest.mark.parametrize(
    "text, level, kpa",
    [("7", 7.0, None), ("7 g/l", 7.0, None), ("2.2 bar", None, 220.0), ("220 kPa over", None, 220.0)],
)
def test_the_amount_of_a_carbonating_is_a_level_or_a_pressure(
    bottled: Bench, text: str, level: float | None, kpa: float | None
) -> None:
    set_amount(bottled, CARBONATING, text)
    step = bottled.step(BOTTLED, CARBONATING)
    assert isinstance(step, Carbonate)
    assert (step.co2_g_per_l, step.over_kpa) == (level, pytest.approx(kpa) if kpa is not None else None)


def test_a_rinse_is_no_share(bar: Bench) -> None:
    set_amount(bar, RINSING, "10 %")
    assert draft(bar) == "A rinse is so many ml, not a share and not a mark."


# Copied


def test_steps_of_the_bar_are_copied_and_pasted_with_all_they_hold(bar: Bench) -> None:
    for step_id in (RINSING, STIRRING, STRAINING, FLOATING, EXPRESSING, SMOKING):
        bar.go((step_id,))
        bar.sheet.actions_of_build.copy.trigger()
        bar.sheet.actions_of_build.paste.trigger()
        steps = bar.book.builds[AT_THE_BAR].steps
        place = [step.id for step in steps].index(step_id)
        copied, original = steps[place + 1], steps[place]
        assert type(copied) is type(original)
        for name in original.__struct_fields__:
            if name not in ("id", "place"):
                assert getattr(copied, name) == getattr(original, name)


def test_what_is_copied_as_text_is_pasted_as_the_same_steps(bar: Bench) -> None:
    bar.go((STIRRING,), NAME)
    bar.sheet.actions_of_build.copy.trigger()
    text = QGuiApplication.clipboard().text()
    mime = QMimeData()
    mime.setText(text.split("\t")[0])
    bar.sheet.structure.put_in(mime, None)
    QApplication.processEvents()
    again, original = last_step(bar), bar.step(AT_THE_BAR, STIRRING)
    assert isinstance(again, Chill)
    assert isinstance(original, Chill)
    assert (again.method, again.ice, again.ice_g, again.ice_state, again.duration_s) == (
        original.method, original.ice, original.ice_g, original.ice_state, original.duration_s,
    )  # fmt: skip


def test_a_pasted_bare_word_stays_a_note(bar: Bench) -> None:
    mime = QMimeData()
    mime.setText("45 ml rye spirit\nstir well\nstir 30 s")
    bar.sheet.structure.put_in(mime, None)
    bar.sheet.strip.answered.emit("add")
    kinds = [type(step) for step in bar.book.builds[AT_THE_BAR].steps[-3:]]
    assert kinds == [Add, Note, Chill]


# In parts


def shown(bench: Bench) -> list[str]:
    return [f"{row.amount} {row.unit}" for row in bench.sheet.model.rows()][:3]


def test_lines_are_shown_as_typed_in_ml_in_ounces_and_in_parts(bar: Bench) -> None:
    assert shown(bar) == ["5 ml", "60 ml", "scant 0.75 oz"]
    bar.sheet.show_in(PourUnit.ML)
    assert shown(bar) == ["5 ml", "60 ml", "scant 22.5 ml"]
    bar.sheet.show_in(PourUnit.OZ)
    assert shown(bar) == ["5 ml", "2 oz", "scant ¾ oz"]
    bar.sheet.show_in(PourUnit.PARTS)
    assert shown(bar) == ["5 ml", "2 parts", "scant ¾ part"]
    assert bar.labels() == []


def test_parts_are_typed_in_the_parts_view(bar: Bench) -> None:
    bar.sheet.show_in(PourUnit.PARTS)
    set_amount(bar, RYE_LINE, "1 1/2")
    assert (bar.amount(RYE_LINE, AT_THE_BAR).number, bar.amount(RYE_LINE, AT_THE_BAR).unit) == (45.0, "ml")
    set_amount(bar, VERMOUTH_LINE, "3/4 part")
    amount = bar.amount(VERMOUTH_LINE, AT_THE_BAR)
    assert (amount.number, amount.unit) == (pytest.approx(0.75), "oz")


def test_while_a_line_is_typed_a_part_stays_what_it_was(bar: Bench) -> None:
    bar.sheet.show_in(PourUnit.PARTS)
    bar.go((RYE_LINE,))
    bar.type("1.37")
    assert bar.row(VERMOUTH_LINE).amount == "scant ¾"
    bar.press(Qt.Key.Key_Escape)
    assert bar.row(RYE_LINE).amount == "2"


def test_a_new_line_is_typed_in_parts_too(bar: Bench) -> None:
    bar.sheet.show_in(PourUnit.PARTS)
    write(bar, "1/2 rye spirit")
    step = last_step(bar)
    assert isinstance(step, Add)
    assert (step.item_id, step.amount.number, step.amount.unit) == (RYE, 15.0, "ml")


def test_grams_keep_their_unit_in_every_view(bar: Bench) -> None:
    bar.sheet.show_in(PourUnit.PARTS)
    write(bar, "2 flake salt")
    step = last_step(bar)
    assert isinstance(step, Add)
    assert (step.item_id, step.amount.number, step.amount.unit) == (SALT, 2.0, "g")


def test_the_view_is_chosen_in_the_head_by_keyboard_and_kept(bar: Bench, make_bench: Make) -> None:
    choice = bar.sheet.findChild(PourChoice)
    assert choice is not None
    choice.choices[PourUnit.PARTS].trigger()
    assert choice.text() == "Parts"
    assert bar.row(RYE_LINE).amount == "2"
    state = bar.sheet.state()
    other = make_bench(bar_house(), AT_THE_BAR)
    other.sheet.restore_state(state)
    assert other.row(RYE_LINE).amount == "2"
    assert other.sheet.pour_choice.unit is PourUnit.PARTS


def test_the_choice_opens_with_a_key(bar: Bench) -> None:
    choice = bar.sheet.pour_choice
    choice.setFocus()
    choice.click()
    QApplication.processEvents()
    menu = choice.choices[PourUnit.ML].parent()
    assert menu.isVisible()  # type: ignore[union-attr]
    menu.close()  # type: ignore[union-attr]
    assert choice.accessibleName() == "Amounts shown in"


def test_another_build_has_a_part_of_its_own(bar: Bench) -> None:
    bar.sheet.show_in(PourUnit.PARTS)
    set_amount(bar, RYE_LINE, "1 1/2")
    assert bar.row(RYE_LINE).amount == "1½"
    bar.session.show(BOTTLED)
    bar.session.show(AT_THE_BAR)
    # 45 and 22.5 ml.
    assert shown(bar)[1:] == ["2 parts", "scant 1 part"]


def test_undo_in_the_parts_view_shows_the_line_as_it_was(bar: Bench) -> None:
    bar.sheet.show_in(PourUnit.PARTS)
    set_amount(bar, RYE_LINE, "3")
    assert bar.row(RYE_LINE).amount == "3"
    bar.document.undo()
    QApplication.processEvents()
    assert bar.row(RYE_LINE).amount == "2"


def test_every_kind_of_row_with_a_mark_has_a_drawing() -> None:
    drawn_otherwise = {RowKind.LINE, RowKind.PART, RowKind.SERVED, RowKind.DETAIL}
    assert set(RowKind) - drawn_otherwise == set(_MARK_ICONS)
    assert set(_MARK_ICONS.values()) <= set(icon_names())
