"""Rows put in, taken out, moved, copied and pasted; parts opened and changed; undo and what it shows."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from msgspec import structs
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt
from PySide6.QtGui import QAction, QDropEvent, QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu

from tests.presentation.small_house import (
    CORDIAL,
    CORDIAL_LINE,
    GIN,
    ICE,
    LEAF_LINE,
    LEATHER,
    LEATHER_LINE,
    MALIC_LINE,
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
from tests.ui.build.conftest import Bench
from washline.document.commands.items import new_drink
from washline.document.commands.lines import set_amount
from washline.model.amount import grams, millilitres
from washline.model.book import HouseBook
from washline.model.item import RawIngredient
from washline.model.step import Add, BarStrain, BarStrainWay, Garnish, Note, Rest, Strain
from washline.presentation.build_rows import Key
from washline.ui.build.columns import AMOUNT, NAME
from washline.ui.build.model import NEW_LINE_KEY

CONTROL = Qt.KeyboardModifier.ControlModifier
ALT = Qt.KeyboardModifier.AltModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


def order(bench: Bench, build_id: int = SIGNAL) -> list[int]:
    return [step.id for step in bench.book.builds[build_id].steps]


def open_cordial(bench: Bench) -> None:
    bench.go((CORDIAL_LINE,), NAME)
    bench.press(Qt.Key.Key_Right)


def paste(bench: Bench, text: str, html: str = "") -> None:
    mime = QMimeData()
    mime.setText(text)
    if html:
        mime.setHtml(html)
    bench.sheet.structure.put_in(mime, bench.sheet.structure._after())
    QApplication.processEvents()


def test_delete_removes_the_row_and_the_next_one_is_current(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    bench.press(Qt.Key.Key_Delete)
    assert VERJUS_LINE not in order(bench)
    assert bench.labels() == ["removing verjus"]
    assert bench.sheet.tree.current_row() == bench.row(ICE)


def test_after_the_last_row_is_removed_the_one_before_is_current(bench: Bench) -> None:
    bench.go((LEAF_LINE,))
    bench.press(Qt.Key.Key_Delete)
    assert bench.sheet.tree.current_row() == bench.row(SODA_LINE)


def test_several_rows_are_removed_as_one_step(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.press(Qt.Key.Key_Down, SHIFT)
    bench.press(Qt.Key.Key_Down, SHIFT)
    bench.press(Qt.Key.Key_Delete)
    assert order(bench) == [ICE, SODA_LINE, LEAF_LINE]
    assert bench.labels() == ["removing three steps"]


def test_removing_the_only_row_leaves_a_sentence_and_the_line_for_adding(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.press(Qt.Key.Key_A, CONTROL)
    bench.press(Qt.Key.Key_Delete)
    assert order(bench) == []
    assert bench.sheet._first.isVisible()
    assert bench.names() == ["Add a line", "Served"]


def test_a_line_that_is_a_share_of_a_removed_one_stands_at_the_grams_found(bench: Bench) -> None:
    bench.session.show(LEATHER)
    bench.session.show(CORDIAL)
    bench.document.do(lambda book: _without_leather(book), "letting the leather go")
    bench.go((SPIN,))
    bench.press(Qt.Key.Key_Delete)
    assert bench.amount(SUGAR_LINE, CORDIAL).number == pytest.approx(380.1)
    assert bench.amount(SUGAR_LINE, CORDIAL).unit == "g"


def _without_leather(book: HouseBook) -> HouseBook:
    return replace(book, builds={key: build for key, build in book.builds.items() if key != LEATHER})


def test_a_step_whose_leftover_is_used_is_not_removed_and_says_why(bench: Bench) -> None:
    bench.session.show(CORDIAL)
    said: list[str] = []
    bench.sheet.said.connect(said.append)
    bench.go((SPIN,))
    bench.press(Qt.Key.Key_Delete)
    assert SPIN in order(bench, CORDIAL)
    assert "pear leather" in said[0]


def test_alt_and_an_arrow_move_a_row_and_keep_it_current(bench: Bench) -> None:
    bench.go((CORDIAL_LINE,))
    bench.press(Qt.Key.Key_Up, ALT)
    assert order(bench)[:2] == [CORDIAL_LINE, VERMOUTH_LINE]
    assert bench.labels() == ["moving pear cordial"]
    assert bench.sheet.tree.current_row() == bench.row(CORDIAL_LINE)
    bench.press(Qt.Key.Key_Down, ALT)
    assert order(bench)[:2] == [VERMOUTH_LINE, CORDIAL_LINE]


def test_the_first_row_cannot_move_up_nor_the_last_one_down(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.press(Qt.Key.Key_Up, ALT)
    bench.go((LEAF_LINE,))
    bench.press(Qt.Key.Key_Down, ALT)
    assert bench.labels() == []


def test_several_rows_move_together_in_their_order(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.press(Qt.Key.Key_Down, SHIFT)
    bench.press(Qt.Key.Key_Down, ALT)
    assert order(bench)[:3] == [VERJUS_LINE, VERMOUTH_LINE, CORDIAL_LINE]


def test_control_d_puts_a_copy_behind_the_row(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    bench.press(Qt.Key.Key_D, CONTROL)
    names = bench.names()
    assert names[names.index("verjus") + 1] == "verjus"
    assert len(bench.labels()) == 1


def test_a_row_is_left_out_struck_and_taken_in_again(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    bench.sheet.actions_of_build.left_out.trigger()
    assert bench.row(VERJUS_LINE).is_left_out
    assert bench.sheet.actions_of_build.left_out.isChecked()
    bench.sheet.actions_of_build.left_out.trigger()
    assert not bench.row(VERJUS_LINE).is_left_out


def test_a_garnish_counts_in_the_liquid_when_told(bench: Bench) -> None:
    bench.go((LEAF_LINE,))
    bench.sheet.actions_of_build.in_liquid.trigger()
    leaf = bench.step(SIGNAL, LEAF_LINE)
    assert isinstance(leaf, Garnish)
    assert leaf.in_liquid
    assert bench.row(LEAF_LINE).figures[0].text == "0.6"


def test_in_the_liquid_is_for_a_garnish_only(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    assert not bench.sheet.actions_of_build.in_liquid.isEnabled()


@pytest.mark.parametrize(
    "word", ["blend", "rest", "note", "heat", "reduce", "dry", "take", "chill", "smoke", "carbonate"]
)
def test_a_step_of_each_kind_is_put_in_behind_the_current_row(bench: Bench, word: str) -> None:
    bench.go((CORDIAL_LINE,))
    bench.sheet.actions_of_build.steps[word].trigger()
    step = bench.book.builds[SIGNAL].steps[2]
    assert type(step).__name__.lower() == word
    assert bench.labels() == [f"adding a {word}"]
    current = bench.sheet.tree.current_row()
    assert current is not None
    assert current.step_id == step.id


def test_a_strain_in_a_part_comes_with_a_leftover(make_bench: Callable[..., Bench]) -> None:
    bench = make_bench(build_id=CORDIAL)
    bench.go((SUGAR_LINE,))
    bench.sheet.actions_of_build.steps["strain"].trigger()
    strain = bench.book.builds[CORDIAL].steps[-1]
    assert isinstance(strain, Strain)
    assert strain.leftover_id in bench.book.leftovers
    assert "left over: leftover" in bench.names()


@pytest.mark.parametrize("word, way", [("strain", BarStrainWay.STRAIN), ("fine strain", BarStrainWay.FINE)])
def test_to_strain_a_drink_is_to_pour_it_into_its_glass(bench: Bench, word: str, way: BarStrainWay) -> None:
    bench.go((ICE,))
    bench.sheet.actions_of_build.steps[word].trigger()
    strain = bench.book.builds[SIGNAL].steps[4]
    assert isinstance(strain, BarStrain)
    assert strain.way is way
    assert bench.labels() == [f"adding a {word}"]


def test_add_line_opens_behind_the_current_row_and_goes_on_there(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.sheet.actions_of_build.add_line.trigger()
    bench.type("10 ml dry gin")
    bench.press(Qt.Key.Key_Return)
    bench.type("20 ml dry gin")
    bench.press(Qt.Key.Key_Return)
    steps = bench.book.builds[SIGNAL].steps
    assert [step.amount.number for step in steps[:4] if isinstance(step, Add)] == [60.0, 10.0, 20.0, 22.5]


def test_a_garnish_is_added_by_its_own_action(bench: Bench) -> None:
    bench.go((LEAF_LINE,))
    bench.sheet.actions_of_build.steps["garnish"].trigger()
    bench.type("2 g dry gin")
    bench.press(Qt.Key.Key_Return)
    last = bench.book.builds[SIGNAL].steps[-1]
    assert isinstance(last, Garnish)
    assert (last.item_id, last.amount.number) == (GIN, 2.0)


def test_right_opens_a_part_and_left_closes_it(bench: Bench) -> None:
    open_cordial(bench)
    assert bench.row(CORDIAL_LINE, PEAR_LINE).name == "ripe pear"
    bench.press(Qt.Key.Key_Left)
    assert not bench.sheet.model.index_of((CORDIAL_LINE, PEAR_LINE)).isValid()


def test_return_on_the_name_of_a_part_opens_it(bench: Bench) -> None:
    bench.go((CORDIAL_LINE,), NAME)
    bench.press(Qt.Key.Key_Return)
    assert bench.row(CORDIAL_LINE, PEAR_LINE).depth == 1


def test_left_goes_from_a_row_of_a_part_to_the_part(bench: Bench) -> None:
    open_cordial(bench)
    bench.go((CORDIAL_LINE, MALIC_LINE), NAME)
    bench.press(Qt.Key.Key_Left)
    assert bench.sheet.tree.current_row() == bench.row(CORDIAL_LINE)


def test_left_and_right_go_from_column_to_column_and_pass_the_unit_over(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,), AMOUNT)
    bench.press(Qt.Key.Key_Right)
    assert bench.sheet.tree.currentIndex().column() == 3
    bench.press(Qt.Key.Key_Left)
    assert bench.sheet.tree.currentIndex().column() == AMOUNT


def test_a_click_on_the_chevron_opens_a_part(bench: Bench) -> None:
    rect = bench.sheet.tree.visualRect(bench.sheet.model.index_of((CORDIAL_LINE,)))
    QTest.mouseClick(
        bench.sheet.tree.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier,
        QPoint(44, rect.center().y()),
    )  # fmt: skip
    assert bench.sheet.tree.isExpanded(bench.sheet.model.index_of((CORDIAL_LINE,)))


def test_a_leftover_opens_into_the_part_it_comes_from(bench: Bench) -> None:
    bench.session.show(LEATHER)
    bench.go((LEATHER_LINE,), NAME)
    bench.press(Qt.Key.Key_Right)
    assert bench.row(LEATHER_LINE, SPIN).name == "strain"


def ask(bench: Bench, text: str = "30 g") -> None:
    open_cordial(bench)
    bench.go((CORDIAL_LINE, MALIC_LINE))
    bench.type(text)
    bench.press(Qt.Key.Key_Return)


def test_a_part_edited_inside_a_drink_asks_where_it_counts(bench: Bench) -> None:
    ask(bench)
    assert bench.sheet.strip.isVisible()
    assert [button.text() for button in bench.sheet.strip.buttons] == [
        "Change in all 2 drinks", "Make a twist of it for this drink",
    ]  # fmt: skip
    assert bench.sheet.strip.buttons[0].hasFocus()
    assert bench.labels() == []
    assert bench.session.view is not None
    assert bench.session.view.is_preview


def test_the_change_counts_in_all_drinks(bench: Bench) -> None:
    ask(bench)
    bench.sheet.strip.buttons[0].click()
    assert bench.amount(MALIC_LINE, CORDIAL).number == 30.0
    assert len(bench.labels()) == 1
    assert not bench.sheet.strip.isVisible()


def test_the_change_makes_a_twist_for_this_drink_alone(bench: Bench) -> None:
    ask(bench)
    bench.sheet.strip.buttons[1].click()
    assert bench.amount(MALIC_LINE, CORDIAL).number == 24.0
    line = bench.step(SIGNAL, CORDIAL_LINE)
    assert isinstance(line, Add)
    assert bench.book.builds[line.item_id].name == "pear cordial, for Pear Signal"
    assert bench.book.builds[OTHER].steps[0].item_id == CORDIAL  # type: ignore[union-attr]
    assert len(bench.labels()) == 1


def test_escape_is_neither(bench: Bench) -> None:
    ask(bench)
    QTest.keyClick(bench.sheet.strip.buttons[0], Qt.Key.Key_Escape)
    assert bench.labels() == []
    assert not bench.sheet.strip.isVisible()
    assert bench.session.view is not None
    assert not bench.session.view.is_preview
    assert bench.sheet.tree.hasFocus()


def test_the_choice_can_be_undone_as_one_step(bench: Bench) -> None:
    ask(bench)
    bench.sheet.strip.buttons[1].click()
    bench.document.undo()
    assert bench.book.builds == house().builds
    assert bench.book.leftovers == house().leftovers


def test_a_question_that_is_left_keeps_the_text_in_its_cell(bench: Bench) -> None:
    ask(bench, "31 g")
    bench.session.show(OTHER)
    bench.session.show(SIGNAL)
    assert bench.sheet.model.drafts[(CORDIAL_LINE, MALIC_LINE), AMOUNT].text == "31 g"
    assert bench.labels() == []


def test_a_part_that_only_this_drink_pours_is_changed_without_a_question(
    make_bench: Callable[..., Bench],
) -> None:
    book = house()
    bench = make_bench(
        replace(book, builds={key: build for key, build in book.builds.items() if key != OTHER})
    )
    ask(bench)
    assert not bench.sheet.strip.isVisible()
    assert bench.amount(MALIC_LINE, CORDIAL).number == 30.0


def test_a_pasted_line_goes_in_at_once(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    paste(bench, "45 ml dry gin")
    assert bench.names()[1] == "dry gin"
    assert len(bench.labels()) == 1


def test_pasted_lines_are_shown_first_and_what_is_rubbish_is_kept_as_text(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    paste(bench, "45 ml dry gin\n- verjus 1/2 oz\nstir until it sings\n")
    assert bench.labels() == []
    assert bench.sheet.strip.words == (
        "3 lines: 2 understood, 1 kept as a note: \u201cstir until it sings\u201d."
    )
    assert bench.names()[1:4] == ["dry gin", "verjus", "stir until it sings"]
    bench.sheet.strip.buttons[0].click()
    assert bench.labels() == ["pasting three steps"]
    assert isinstance(bench.book.builds[SIGNAL].steps[3], Note)
    bench.document.undo()
    assert bench.book.builds[SIGNAL] == house().builds[SIGNAL]


def test_a_paste_that_is_declined_leaves_nothing(bench: Bench) -> None:
    before = bench.names()
    bench.go((VERMOUTH_LINE,))
    paste(bench, "45 ml dry gin\n15 ml verjus")
    QTest.keyClick(bench.sheet.strip.buttons[0], Qt.Key.Key_Escape)
    assert bench.labels() == []
    assert bench.names() == before


def test_lines_pasted_into_the_line_for_adding_are_offered_together(bench: Bench) -> None:
    QGuiApplication.clipboard().setText("45 ml dry gin\n15 ml verjus")
    bench.go(NEW_LINE_KEY, NAME)
    bench.press(Qt.Key.Key_F2)
    bench.press(Qt.Key.Key_V, CONTROL)
    assert bench.sheet.strip.words == "2 lines: 2 understood."
    bench.sheet.strip.buttons[0].click()
    assert bench.names()[-4:-2] == ["dry gin", "verjus"]


def test_an_amount_takes_the_first_of_several_pasted_lines(bench: Bench) -> None:
    QGuiApplication.clipboard().setText("45 ml\n15 ml")
    bench.go((VERJUS_LINE,))
    bench.press(Qt.Key.Key_F2)
    bench.press(Qt.Key.Key_V, CONTROL)
    assert bench.editor.text() == "45 ml"


def test_a_pasted_table_is_read_by_its_cells(bench: Bench) -> None:
    html = "<table><tr><td>45 ml</td><td>dry<br>gin</td></tr><tr><td>verjus</td><td>15 ml</td></tr></table>"
    bench.go((VERMOUTH_LINE,))
    paste(bench, "45 ml\tdry\ngin\nverjus\t15 ml", html)
    assert bench.sheet.strip.words == "2 lines: 2 understood."


def test_rows_are_copied_with_text_table_and_steps_and_pasted_again(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,), NAME)
    bench.press(Qt.Key.Key_Down, SHIFT)
    bench.sheet.actions_of_build.copy.trigger()
    mime = QGuiApplication.clipboard().mimeData()
    assert mime.text().splitlines()[0].startswith("dry white vermouth\t60 ml")
    assert "<table>" in mime.html()
    bench.go((LEAF_LINE,))
    bench.sheet.actions_of_build.paste.trigger()
    assert bench.names()[-4:-2] == ["dry white vermouth", "pear cordial"]
    assert bench.labels() == ["pasting two steps"]


def test_cut_rows_are_on_the_clipboard_and_gone(bench: Bench) -> None:
    bench.go((VERJUS_LINE,), NAME)
    bench.sheet.actions_of_build.cut.trigger()
    assert VERJUS_LINE not in order(bench)
    assert bench.labels() == ["cutting verjus"]
    bench.sheet.actions_of_build.paste.trigger()
    assert "verjus" in bench.names()


def test_one_cell_is_copied_as_its_own_text(bench: Bench) -> None:
    bench.go((CORDIAL_LINE,), AMOUNT)
    bench.sheet.actions_of_build.copy.trigger()
    assert QGuiApplication.clipboard().text() == "22.5 ml"


def test_steps_of_another_shape_on_the_clipboard_are_refused_in_words(bench: Bench) -> None:
    said: list[str] = []
    bench.sheet.said.connect(said.append)
    mime = QMimeData()
    mime.setData("application/x-washline-steps+json", b'{"steps": 3}')
    bench.sheet.structure.put_in(mime, None)
    assert said == ["What is on the clipboard cannot be read as steps."]


def test_a_row_dropped_further_down_is_moved_once(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.sheet._drop(QMimeData(), (), 3, True)
    assert order(bench) == [CORDIAL_LINE, VERJUS_LINE, VERMOUTH_LINE, ICE, SODA_LINE, LEAF_LINE]
    assert bench.labels() == ["moving dry white vermouth"]


def test_a_row_dropped_on_its_own_place_is_no_change(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    for place in (2, 3):
        bench.sheet._drop(QMimeData(), (), place, True)
    assert bench.labels() == []


def test_the_model_moves_nothing_itself_when_something_is_dropped(bench: Bench) -> None:
    mime = bench.sheet.structure.mime()
    assert mime is not None
    parent = bench.sheet.model.index(-1, -1)
    assert not bench.sheet.model.dropMimeData(mime, Qt.DropAction.MoveAction, 0, 0, parent)
    assert order(bench) == order_of_house()


def order_of_house() -> list[int]:
    return [step.id for step in house().builds[SIGNAL].steps]


def test_text_dropped_on_the_sheet_is_pasted_where_it_was_dropped(bench: Bench) -> None:
    mime = QMimeData()
    mime.setText("45 ml dry gin")
    tree = bench.sheet.tree
    rect = tree.visualRect(bench.sheet.model.index_of((CORDIAL_LINE,)))
    place = QPointF(200, rect.top() + 2)
    event = QDropEvent(
        place, Qt.DropAction.CopyAction, mime, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    )
    tree.dropEvent(event)
    assert bench.names()[:3] == ["dry white vermouth", "dry gin", "pear cordial"]


def undo_place(bench: Bench) -> Key:
    QApplication.processEvents()
    row = bench.sheet.tree.current_row()
    assert row is not None
    return row.key


def test_undo_goes_to_where_the_change_was(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    bench.type("10")
    bench.press(Qt.Key.Key_Return)
    bench.go((LEAF_LINE,))
    bench.document.undo()
    assert undo_place(bench) == (VERJUS_LINE,)


def test_undo_inside_a_part_opens_it_again(bench: Bench) -> None:
    bench.document.do(set_amount(CORDIAL, MALIC_LINE, grams(30.0)), "change of malic acid")
    bench.document.undo()
    assert undo_place(bench) == (CORDIAL_LINE, MALIC_LINE)
    assert bench.sheet.tree.isExpanded(bench.sheet.model.index_of((CORDIAL_LINE,)))


def test_undo_elsewhere_goes_there_and_says_so(bench: Bench) -> None:
    said: list[str] = []
    bench.sheet.said.connect(said.append)
    bench.document.do(set_amount(OTHER, 130, millilitres(45.0)), "change of pear cordial")
    bench.document.undo()
    assert undo_place(bench) == (130,)
    assert bench.session.build_id == OTHER
    assert said == ["Undo changed Other Signal, which is shown now."]


def test_an_undone_removal_comes_back_as_the_current_row(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    bench.press(Qt.Key.Key_Delete)
    bench.document.undo()
    assert undo_place(bench) == (VERJUS_LINE,)


def test_branches_current_row_and_scroll_come_back_with_the_drink(bench: Bench) -> None:
    open_cordial(bench)
    bench.go((CORDIAL_LINE, SPIN))
    bench.session.show(OTHER)
    bench.session.show(SIGNAL)
    assert bench.sheet.tree.isExpanded(bench.sheet.model.index_of((CORDIAL_LINE,)))
    assert undo_place(bench) == (CORDIAL_LINE, SPIN)


def test_the_tree_is_never_reset_by_an_edit(bench: Bench) -> None:
    resets: list[bool] = []
    bench.sheet.model.modelReset.connect(lambda: resets.append(True))
    open_cordial(bench)
    bench.go((VERJUS_LINE,))
    bench.press(Qt.Key.Key_Up, ALT)
    bench.press(Qt.Key.Key_Delete)
    bench.document.undo()
    assert resets == []
    assert bench.sheet.tree.isExpanded(bench.sheet.model.index_of((CORDIAL_LINE,)))


def test_the_menu_key_opens_the_menu_at_the_current_row(bench: Bench) -> None:
    bench.go((ICE,))
    QTest.keyClick(bench.sheet.tree, Qt.Key.Key_Menu)
    bench.sheet._open_menu(QPoint(5, 5))
    menus = [menu for menu in bench.sheet.findChildren(QMenu) if menu.isVisible()]
    texts = [action.text() for action in menus[0].actions() if action.text()]
    assert "&Remove" in texts
    menus[0].close()


def test_every_entry_of_the_trees_menu_is_in_the_build_menu_or_the_clipboard(bench: Bench) -> None:
    own, build = QMenu(), QMenu()
    bench.sheet.actions_of_build.fill_with_clipboard(own)
    bench.sheet.actions_of_build.fill(build)
    actions = bench.sheet.actions_of_build
    beside = {actions.cut, actions.copy, actions.paste}
    missing = _leaves(own) - _leaves(build) - beside
    assert missing == set()


def _leaves(menu: QMenu) -> set[QAction]:
    found: set[QAction] = set()
    for action in menu.actions():
        inner = action.menu()
        if isinstance(inner, QMenu):
            found |= _leaves(inner)
        elif not action.isSeparator():
            found.add(action)
    return found


def test_no_two_actions_share_a_shortcut(bench: Bench) -> None:
    keys = [key.toString() for action in bench.sheet.actions_of_build.all for key in action.shortcuts()]
    assert len(keys) == len(set(keys))


def test_an_empty_sheet_says_the_first_thing_to_do(make_bench: Callable[..., Bench]) -> None:
    bench = make_bench(build_id=None)
    asked: list[bool] = []
    bench.sheet.new_drink_asked.connect(lambda: asked.append(True))
    assert bench.sheet._empty_words.isVisible()
    bench.sheet._empty_button.click()
    assert asked == [True]


def test_a_new_drink_offers_its_first_line(bench: Bench) -> None:
    bench.document.do(new_drink("Neap"), "making Neap")
    bench.session.show(bench.book.top_id)
    assert bench.sheet._first.isVisible()
    bench.sheet._first_button.click()
    assert bench.sheet.tree.edited_index == bench.sheet.model.index_of(NEW_LINE_KEY, NAME)


def test_a_drink_that_is_gone_empties_the_sheet(bench: Bench) -> None:
    bench.document.do(new_drink("Neap"), "making Neap")
    bench.session.show(bench.book.top_id)
    bench.document.undo()
    QApplication.processEvents()
    assert bench.session.build_id is None
    assert bench.sheet._empty_words.isVisible()


def test_contribution_columns_fold_from_the_right_and_name_and_amount_never(bench: Bench) -> None:
    columns = bench.sheet.tree.columns
    assert not any(columns.is_folded(column) for column in range(8))
    bench.sheet.resize(560, 700)
    QApplication.processEvents()
    columns = bench.sheet.tree.columns
    assert columns.is_folded(7)
    assert columns.is_folded(6)
    bench.sheet.resize(330, 700)
    QApplication.processEvents()
    columns = bench.sheet.tree.columns
    assert [columns.is_folded(column) for column in range(3)] == [False, False, False]


def test_a_folded_figure_stands_in_the_tooltip_of_the_name(bench: Bench) -> None:
    tip = bench.sheet.model.index_of((VERMOUTH_LINE,)).data(Qt.ItemDataRole.ToolTipRole)
    assert "cost: 0.66" in tip


def test_tooltips_escape_what_a_person_typed(bench: Bench) -> None:
    bench.document.do(lambda book: book.with_raw(_renamed(book, "<b>gin</b>")), "renaming gin")
    bench.document.do(set_amount(SIGNAL, VERMOUTH_LINE, millilitres(50.0)), "change")
    tip = bench.sheet.model.index_of((VERMOUTH_LINE,)).data(Qt.ItemDataRole.ToolTipRole)
    assert "&lt;b&gt;gin&lt;/b&gt;" in tip


def _renamed(book: HouseBook, name: str) -> RawIngredient:
    return structs.replace(book.raws[1], name=name)


def test_a_cell_is_read_with_what_it_is_of(bench: Bench) -> None:
    role = Qt.ItemDataRole.AccessibleTextRole
    assert bench.sheet.model.index_of((VERMOUTH_LINE,), AMOUNT).data(role) == "60 ml of dry white vermouth"
    assert (
        bench.sheet.model.index_of((VERMOUTH_LINE,), 6).data(role)
        == "dry white vermouth: 8.5, grams of ethanol"
    )


def test_a_rest_is_read_without_inventing_figures(bench: Bench) -> None:
    open_cordial(bench)
    rests = [row for row in bench.sheet.model.rows() if row.name == "rest"]
    index = bench.sheet.model.index_of(rests[0].key, 3)
    assert index.data(Qt.ItemDataRole.AccessibleTextRole) == "rest: none, grams in the glass"
    assert isinstance(bench.step(CORDIAL, 103), Rest)
