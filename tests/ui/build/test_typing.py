"""Typing in the tree: what the keys do, what is written and when, and that nothing typed is lost."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QInputMethodEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.presentation.small_house import (
    CORDIAL,
    CORDIAL_LINE,
    GIN,
    ICE,
    PEAR_LINE,
    RESTING,
    SIGNAL,
    SPIN,
    VERJUS,
    VERJUS_LINE,
    VERMOUTH_LINE,
    house,
)
from tests.ui.build.conftest import Bench
from washline.model.step import Add, Chill, Rest, Strain
from washline.problem import UserError
from washline.ui.build.columns import AMOUNT, MASS, NAME
from washline.ui.build.editors import AmountEditor
from washline.ui.build.model import NEW_LINE_KEY

SHIFT = Qt.KeyboardModifier.ShiftModifier


def test_a_key_on_an_amount_opens_its_field_and_replaces_the_text(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.type("4")
    assert isinstance(bench.editor, AmountEditor)
    assert bench.editor.text() == "4"


def test_f2_opens_the_field_with_all_of_its_text_selected(bench: Bench) -> None:
    bench.go((CORDIAL_LINE,))
    bench.press(Qt.Key.Key_F2)
    assert bench.editor.selectedText() == "22.5 ml"


def test_figures_move_while_typing_and_nothing_is_written(bench: Bench) -> None:
    before = bench.row(VERMOUTH_LINE).figures[0].text
    bench.go((VERMOUTH_LINE,))
    bench.type("45 ml")
    assert bench.row(VERMOUTH_LINE).figures[0].text != before
    assert bench.session.view is not None
    assert bench.session.view.is_preview
    assert bench.amount(VERMOUTH_LINE).number == 60.0
    assert bench.labels() == []


def test_figures_that_moved_are_known_to_have_moved(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.type("45")
    node = bench.sheet.model.node(bench.sheet.model.index_of((VERMOUTH_LINE,)))
    verjus = bench.sheet.model.node(bench.sheet.model.index_of((VERJUS_LINE,)))
    assert node is not None
    assert verjus is not None
    assert MASS in node.moved
    assert MASS not in verjus.moved


def test_enter_writes_once_and_goes_down(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.type("45 ml")
    bench.press(Qt.Key.Key_Return)
    assert bench.amount(VERMOUTH_LINE).number == 45.0
    assert bench.labels() == ["change of dry white vermouth"]
    assert bench.sheet.tree.currentIndex() == bench.sheet.model.index_of((CORDIAL_LINE,), AMOUNT)
    assert not bench.sheet.tree.is_editing


def test_enter_writes_the_very_book_that_was_shown(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.type("45 ml")
    assert bench.session.view is not None
    shown = bench.session.view.book
    bench.press(Qt.Key.Key_Return)
    assert bench.session.document.book is shown


def test_the_same_text_typed_after_undo_is_written_again(bench: Bench) -> None:
    for _ in range(2):
        bench.go((VERMOUTH_LINE,))
        bench.type("45 ml")
        bench.press(Qt.Key.Key_Return)
        assert bench.amount(VERMOUTH_LINE).number == 45.0
        bench.session.document.undo()
        assert bench.amount(VERMOUTH_LINE).number == 60.0


def test_after_enter_nothing_is_a_preview_any_more(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.type("45")
    bench.press(Qt.Key.Key_Return)
    node = bench.sheet.model.node(bench.sheet.model.index_of((VERMOUTH_LINE,)))
    assert node is not None
    assert node.moved == frozenset()
    assert bench.session.view is not None
    assert not bench.session.view.is_preview


def test_escape_restores_and_writes_nothing(bench: Bench) -> None:
    before = bench.row(VERMOUTH_LINE)
    bench.go((VERMOUTH_LINE,))
    bench.type("45")
    bench.press(Qt.Key.Key_Escape)
    assert bench.row(VERMOUTH_LINE) == before
    assert bench.labels() == []


def test_tab_writes_and_opens_the_next_cell_to_the_right(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.type("45")
    bench.press(Qt.Key.Key_Tab)
    assert bench.amount(VERMOUTH_LINE).number == 45.0
    assert bench.sheet.tree.edited_index == bench.sheet.model.index_of((CORDIAL_LINE,), NAME)


def test_shift_tab_goes_back(bench: Bench) -> None:
    bench.go((CORDIAL_LINE,))
    bench.press(Qt.Key.Key_F2)
    bench.press(Qt.Key.Key_Backtab, SHIFT)
    assert bench.sheet.tree.edited_index == bench.sheet.model.index_of((CORDIAL_LINE,), NAME)


def test_a_bare_number_keeps_the_unit(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.type("52.5")
    bench.press(Qt.Key.Key_Return)
    assert (bench.amount(VERMOUTH_LINE).number, bench.amount(VERMOUTH_LINE).unit) == (52.5, "ml")


def test_ounces_are_kept_as_they_were_typed(bench: Bench) -> None:
    bench.go((CORDIAL_LINE,))
    bench.type("1¼ oz")
    # 1.25 x 30 ml.
    assert "1¼ oz = 37.5\u202fml" in bench.sheet.tree.bubble.text
    assert "1 oz is 30\u202fml in this house" in bench.sheet.tree.bubble.text
    bench.press(Qt.Key.Key_Return)
    assert bench.amount(CORDIAL_LINE).typed == "1¼ oz"


def test_the_words_beneath_the_field_say_what_the_keys_do(bench: Bench) -> None:
    bench.go((CORDIAL_LINE,))
    bench.type("3")
    words = bench.sheet.tree.bubble.text
    assert "Enter keeps" in words
    assert "Esc restores 22.5\u202fml" in words
    assert "up, down 2.5\u202fml" in words


@pytest.mark.parametrize(
    "key, held, expected",
    [
        (Qt.Key.Key_Up, Qt.KeyboardModifier.NoModifier, "25 ml"),
        (Qt.Key.Key_Down, Qt.KeyboardModifier.NoModifier, "20 ml"),
        (Qt.Key.Key_Up, SHIFT, "47.5 ml"),
        (Qt.Key.Key_Down, SHIFT, "0 ml"),
    ],
)
def test_arrow_keys_step_by_the_jigger_step(
    bench: Bench, key: Qt.Key, held: Qt.KeyboardModifier, expected: str
) -> None:
    bench.go((CORDIAL_LINE,))
    bench.press(Qt.Key.Key_F2)
    bench.press(key, held)
    assert bench.editor.text() == expected
    assert bench.sheet.tree.is_editing


def test_stepping_is_seen_at_once_in_all_figures(bench: Bench) -> None:
    before = bench.row(CORDIAL_LINE).figures[1].text
    bench.go((CORDIAL_LINE,))
    bench.press(Qt.Key.Key_F2)
    bench.press(Qt.Key.Key_Up)
    assert bench.row(CORDIAL_LINE).figures[1].text != before


def test_what_is_typed_survives_a_recompute_of_its_own_cell(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.type("4")
    index = bench.sheet.model.index_of((VERMOUTH_LINE,), AMOUNT)
    bench.sheet.model.dataChanged.emit(index, index)
    assert bench.editor.text() == "4"


def test_text_that_is_no_amount_stays_in_its_cell_and_says_what_was_expected(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    bench.type("10 mll")
    bench.press(Qt.Key.Key_Return)
    index = bench.sheet.model.index_of((VERJUS_LINE,), AMOUNT)
    draft = bench.sheet.model.draft(index)
    assert draft is not None
    assert draft.text == "10 mll"
    assert draft.expected.startswith("unit not known")
    assert bench.amount(VERJUS_LINE).number == 15.0
    assert bench.sheet.tree.currentIndex() == index


def test_focus_may_leave_text_that_is_no_amount(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    bench.type("1/0")
    bench.sheet.twist_button.setFocus()
    QApplication.processEvents()
    assert not bench.sheet.tree.is_editing
    assert bench.sheet.model.drafts[(VERJUS_LINE,), AMOUNT].text == "1/0"


def test_a_text_that_was_not_understood_opens_again_as_it_was(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    bench.type("10 mll")
    bench.press(Qt.Key.Key_Return)
    bench.press(Qt.Key.Key_F2)
    assert bench.editor.text() == "10 mll"
    assert bench.editor.has_error


def test_escape_lets_a_text_go_that_was_not_understood(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    bench.type("10 mll")
    bench.press(Qt.Key.Key_Return)
    bench.press(Qt.Key.Key_F2)
    bench.press(Qt.Key.Key_Escape)
    assert bench.sheet.model.drafts == {}
    assert bench.row(VERJUS_LINE).amount == "15"


def test_a_right_text_takes_the_place_of_one_that_was_not_understood(bench: Bench) -> None:
    bench.go((VERJUS_LINE,))
    bench.type("10 mll")
    bench.press(Qt.Key.Key_Return)
    bench.type("10 ml")
    bench.press(Qt.Key.Key_Return)
    assert bench.sheet.model.drafts == {}
    assert bench.amount(VERJUS_LINE).number == 10.0


def test_texts_not_understood_come_back_with_the_state(make_bench: Callable[..., Bench]) -> None:
    first = make_bench()
    first.go((VERJUS_LINE,))
    first.type("zehn")
    first.press(Qt.Key.Key_Return)
    state = first.sheet.state()
    again = make_bench()
    again.sheet.restore_state(state)
    assert again.sheet.model.drafts[(VERJUS_LINE,), AMOUNT].text == "zehn"


def test_what_cannot_be_written_stays_in_its_cell(bench: Bench) -> None:
    bench.file.fault = UserError("The change was not written.", "The disk is full.", "Make room.")
    bench.go((VERJUS_LINE,))
    bench.type("10 ml")
    bench.press(Qt.Key.Key_Return)
    draft = bench.sheet.model.drafts[(VERJUS_LINE,), AMOUNT]
    assert draft.text == "10 ml"
    assert "The disk is full." in draft.expected


def test_a_number_with_two_readings_shows_the_other_one_a_key_away(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.type("1,200 ml")
    assert "F2: 1.2\u202fml" in bench.sheet.tree.bubble.text
    bench.press(Qt.Key.Key_F2)
    bench.press(Qt.Key.Key_Return)
    assert bench.amount(VERMOUTH_LINE).number == 1.2


def test_a_key_on_a_contribution_goes_to_the_amount(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,), MASS)
    bench.type("7")
    assert bench.sheet.tree.edited_index == bench.sheet.model.index_of((VERMOUTH_LINE,), AMOUNT)


def test_plus_opens_the_field_and_no_branch(bench: Bench) -> None:
    bench.go((CORDIAL_LINE,))
    bench.type("+")
    assert bench.editor.text() == "+"
    assert not bench.sheet.tree.isExpanded(bench.sheet.model.index_of((CORDIAL_LINE,)))


def test_a_text_committed_by_an_input_method_lands_in_the_field(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    event = QInputMethodEvent()
    event.setCommitString("½")
    QApplication.sendEvent(bench.sheet.tree, event)
    assert bench.editor.text() == "½"


def test_a_weighed_yield_is_typed_into_the_strain(bench: Bench) -> None:
    bench.session.show(CORDIAL)
    bench.go((SPIN,))
    bench.type("880 g")
    bench.press(Qt.Key.Key_Return)
    # The drinks that pour it would be asked about only inside a drink.
    strain = bench.step(CORDIAL, SPIN)
    assert isinstance(strain, Strain)
    assert strain.weighed_g == 880.0


def test_a_time_is_typed_into_a_rest(bench: Bench) -> None:
    bench.session.show(CORDIAL)
    bench.go((RESTING,))
    bench.type("2 h")
    bench.press(Qt.Key.Key_Return)
    rest = bench.step(CORDIAL, RESTING)
    assert isinstance(rest, Rest)
    assert rest.duration_s == 7200.0


def test_turns_or_a_weight_are_typed_into_a_chill(bench: Bench) -> None:
    bench.go((ICE,))
    bench.type("12 turns")
    bench.press(Qt.Key.Key_Return)
    bench.go((ICE,))
    bench.type("11.5 g")
    bench.press(Qt.Key.Key_Return)
    chill = bench.step(SIGNAL, ICE)
    assert isinstance(chill, Chill)
    assert (chill.count, chill.count_unit, chill.melted_g) == (12.0, "turns", 11.5)


def test_another_item_is_put_into_a_line_by_its_name(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,), NAME)
    bench.type("dry gin")
    QTest.keyClick(bench.editor.popup, Qt.Key.Key_Escape)  # type: ignore[attr-defined]
    bench.press(Qt.Key.Key_Return)
    line = bench.step(SIGNAL, VERMOUTH_LINE)
    assert isinstance(line, Add)
    assert (line.item_id, line.amount.number) == (GIN, 60.0)


def test_proposals_match_anywhere_without_case_and_end_with_a_new_ingredient(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,), NAME)
    bench.type("JUS")
    texts = [proposal.text for proposal in bench.editor.proposals]  # type: ignore[attr-defined]
    assert texts == ["verjus", "New ingredient \u201cJUS\u201d"]


def test_what_would_close_a_cycle_is_not_proposed_and_is_refused_with_its_path(bench: Bench) -> None:
    bench.session.show(CORDIAL)
    bench.go((PEAR_LINE,), NAME)
    bench.type("pear leather")
    assert [proposal.text for proposal in bench.editor.proposals] == [  # type: ignore[attr-defined]
        "New ingredient \u201cpear leather\u201d"
    ]
    QTest.keyClick(bench.editor.popup, Qt.Key.Key_Escape)  # type: ignore[attr-defined]
    bench.press(Qt.Key.Key_Return)
    draft = bench.sheet.model.drafts[(PEAR_LINE,), NAME]
    assert "pear leather" in draft.expected
    assert "pear cordial" in draft.expected


def test_enter_on_a_proposal_writes_it_at_once(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,), NAME)
    bench.type("verj")
    popup = bench.editor.popup  # type: ignore[attr-defined]
    QTest.keyClick(popup, Qt.Key.Key_Down)
    QTest.keyClick(popup, Qt.Key.Key_Return)
    bench.qtbot.waitUntil(lambda: not bench.sheet.tree.is_editing)
    line = bench.step(SIGNAL, VERMOUTH_LINE)
    assert isinstance(line, Add)
    assert line.item_id == VERJUS


def test_enter_takes_what_is_typed_where_no_proposal_was_chosen(bench: Bench) -> None:
    bench.session.show(CORDIAL)
    bench.go((PEAR_LINE,), NAME)
    bench.type("pear leather")
    popup = bench.editor.popup  # type: ignore[attr-defined]
    assert popup.isVisible()
    assert not popup.currentIndex().isValid()
    QTest.keyClick(popup, Qt.Key.Key_Return)
    bench.qtbot.waitUntil(lambda: not bench.sheet.tree.is_editing)
    assert bench.sheet.model.drafts[(PEAR_LINE,), NAME].text == "pear leather"
    assert bench.labels() == []


def test_enter_beside_the_open_proposals_takes_the_only_one_that_fits(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,), NAME)
    bench.type("verj")
    QTest.keyClick(bench.editor.popup, Qt.Key.Key_Return)  # type: ignore[attr-defined]
    bench.qtbot.waitUntil(lambda: not bench.sheet.tree.is_editing)
    line = bench.step(SIGNAL, VERMOUTH_LINE)
    assert isinstance(line, Add)
    assert line.item_id == VERJUS


def test_tab_beside_the_open_proposals_goes_on_to_the_amount(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,), NAME)
    bench.type("verjus")
    QTest.keyClick(bench.editor.popup, Qt.Key.Key_Tab)  # type: ignore[attr-defined]
    bench.qtbot.waitUntil(lambda: isinstance(bench.sheet.tree.editor, AmountEditor))
    line = bench.step(SIGNAL, VERMOUTH_LINE)
    assert isinstance(line, Add)
    assert line.item_id == VERJUS


def test_escape_closes_the_proposals_only(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,), NAME)
    bench.type("verj")
    popup = bench.editor.popup  # type: ignore[attr-defined]
    assert popup.isVisible()
    QTest.keyClick(popup, Qt.Key.Key_Escape)
    assert not popup.isVisible()
    assert bench.sheet.tree.is_editing


def test_a_line_is_added_as_it_is_written_and_the_next_one_opens(bench: Bench) -> None:
    bench.type_new_line("45 ml dry gin")
    bench.press(Qt.Key.Key_Return)
    line = bench.book.builds[SIGNAL].steps[-1]
    assert isinstance(line, Add)
    assert (line.item_id, line.amount.number, line.amount.unit) == (GIN, 45.0, "ml")
    assert bench.labels() == ["adding dry gin"]
    assert bench.sheet.tree.edited_index == bench.sheet.model.index_of(NEW_LINE_KEY, NAME)


def test_a_name_alone_waits_for_its_amount(bench: Bench) -> None:
    bench.type_new_line("dry gin")
    bench.press(Qt.Key.Key_Return)
    assert bench.labels() == []
    assert bench.sheet.tree.edited_index == bench.sheet.model.index_of(NEW_LINE_KEY, AMOUNT)
    bench.type("30")
    assert bench.row(*NEW_LINE_KEY).figures[3].text
    bench.press(Qt.Key.Key_Return)
    line = bench.book.builds[SIGNAL].steps[-1]
    assert isinstance(line, Add)
    assert (line.item_id, line.amount.number, line.amount.unit) == (GIN, 30.0, "ml")
    assert bench.sheet.tree.edited_index == bench.sheet.model.index_of(NEW_LINE_KEY, NAME)


def test_a_name_that_nothing_has_stays_in_the_line(bench: Bench) -> None:
    bench.type_new_line("45 ml moon water")
    bench.press(Qt.Key.Key_Return)
    assert bench.labels() == []
    assert bench.sheet.model.drafts[NEW_LINE_KEY, NAME].text == "45 ml moon water"


def test_a_new_ingredient_is_made_and_poured_in_one_step(bench: Bench) -> None:
    bench.go(NEW_LINE_KEY, NAME)
    bench.type("45 ml moon water")
    popup = bench.editor.popup  # type: ignore[attr-defined]
    QTest.keyClick(popup, Qt.Key.Key_Down)
    QTest.keyClick(popup, Qt.Key.Key_Return)
    bench.qtbot.waitUntil(lambda: bool(bench.labels()))
    line = bench.book.builds[SIGNAL].steps[-1]
    assert isinstance(line, Add)
    assert bench.book.raws[line.item_id].name == "moon water"
    assert line.amount.number == 45.0
    assert len(bench.labels()) == 1


def test_a_step_is_added_by_its_word(bench: Bench) -> None:
    bench.type_new_line("rest 45 min")
    bench.press(Qt.Key.Key_Return)
    rest = bench.book.builds[SIGNAL].steps[-1]
    assert isinstance(rest, Rest)
    assert rest.duration_s == 2700.0


def test_an_empty_line_for_adding_is_left_without_a_trace(bench: Bench) -> None:
    bench.go(NEW_LINE_KEY, NAME)
    bench.press(Qt.Key.Key_F2)
    bench.press(Qt.Key.Key_Return)
    assert bench.labels() == []
    assert bench.sheet.model.drafts == {}


def test_a_read_only_house_book_cannot_be_typed_in(make_bench: Callable[..., Bench]) -> None:
    bench = make_bench(is_read_only=True)
    bench.go((VERMOUTH_LINE,))
    QTest.keyClicks(bench.sheet.tree, "4")
    assert not bench.sheet.tree.is_editing
    assert "Add a line" not in bench.names()
    assert not bench.sheet.actions_of_build.remove.isEnabled()


def test_structure_waits_while_a_field_is_open(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.type("4")
    assert not any(action.isEnabled() for action in bench.sheet.actions_of_build.structure)
    bench.press(Qt.Key.Key_Escape)
    assert bench.sheet.actions_of_build.remove.isEnabled()


def test_the_title_renames_the_drink_where_it_stands(bench: Bench) -> None:
    title = bench.sheet.title
    title.setFocus()
    title.selectAll()
    QTest.keyClicks(title, "Pear Beacon")
    QTest.keyClick(title, Qt.Key.Key_Return)
    assert bench.book.builds[SIGNAL].name == "Pear Beacon"
    assert bench.labels() == ["renaming Pear Signal to Pear Beacon"]


def test_an_empty_title_goes_back_to_the_name(bench: Bench) -> None:
    title = bench.sheet.title
    title.setFocus()
    title.selectAll()
    QTest.keyClick(title, Qt.Key.Key_Delete)
    QTest.keyClick(title, Qt.Key.Key_Return)
    assert title.text() == "Pear Signal"
    assert house().builds[SIGNAL].name == bench.book.builds[SIGNAL].name


def test_closing_writes_what_is_understood_in_an_open_field(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.type("45 ml")
    bench.sheet.finish_typing()
    assert bench.amount(VERMOUTH_LINE).number == 45.0


def test_closing_keeps_what_is_not_understood_for_the_next_start(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,))
    bench.type("45 mll")
    bench.sheet.finish_typing()
    state = bench.sheet.state()
    assert state[str(SIGNAL)]["drafts"][0]["text"] == "45 mll"
    assert bench.amount(VERMOUTH_LINE).number == 60.0
