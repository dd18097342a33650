"""The window as a person uses it: what is shown, made, taken back, and how it comes back."""

import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QByteArray, QEvent, QMimeData, QObject, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QAction, QDropEvent, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QLineEdit, QMenu, QWidget

from tests.ui.window.conftest import Room, now
from washline.document.commands.command import in_turn
from washline.document.commands.items import new_drink, rename, set_build
from washline.document.commands.lines import set_amount
from washline.document.house_files import make_own
from washline.model.amount import grams
from washline.presentation.book_rows import Section
from washline.problem import UserError
from washline.ui.book_commands import explanation
from washline.ui.build.columns import AMOUNT
from washline.ui.import_page import ImportPage
from washline.ui.main_window import accepted_files
from washline.ui.regions import Fold, fold_at
from washline.ui.status_line import ALL_KEPT, TYPING


def test_first_drink_of_the_book_is_shown_at_first(room: Room) -> None:
    assert room.workspace.sheet.title.text() == "Pear Signal"


def test_house_and_demo_are_named_at_the_right_of_the_menus(room: Room) -> None:
    assert room.window.house.text() == "The Saltmarsh Rooms · demo house book"


def test_list_shows_a_twist_under_its_parent_by_its_short_name(room: Room) -> None:
    names = room.names(Section.DRINKS)
    assert names == [
        "Beet Lantern", "Drift", "Ebb", "Fennel Rye", "Orchard Bell", "Pear Signal", "bay twist", "Quince Ferry",
        "Saltings", "Sloe Tide",
    ]  # fmt: skip


def test_drink_row_says_strength_and_volume(room: Room) -> None:
    room.settle()
    rows = room.window.book.views[Section.DRINKS].rows
    row = rows.book_row(rows.row_of(room.build("Quince Ferry").id))
    assert row is not None
    assert row.detail == "9.3 % · 194 ml"


def test_choosing_in_the_list_shows_that_drink(room: Room) -> None:
    view = room.window.book.views[Section.DRINKS]
    index = view.rows.index(view.rows.row_of(room.build("Sloe Tide").id))
    QTest.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=view.visualRect(index).center())
    assert room.workspace.sheet.title.text() == "Sloe Tide"


def test_arrow_down_in_the_list_shows_the_next_drink(room: Room) -> None:
    view = room.window.book.views[Section.DRINKS]
    view.show_key(room.build("Quince Ferry").id)
    QTest.keyClick(view, Qt.Key.Key_Down)
    assert room.workspace.sheet.title.text() == "Saltings"


def test_typing_into_the_field_leaves_the_drinks_that_match(room: Room) -> None:
    room.type(room.window.book.field, "quin fer")
    assert room.names(Section.DRINKS) == ["Quince Ferry"]
    assert room.names(Section.PARTS) == []


def test_finding_ignores_case_and_accents(room: Room) -> None:
    drink = room.build("Quince Ferry")
    room.document.do(rename(drink.id, "Quincé Ferry"), "renaming")
    room.type(room.window.book.field, "QUINCE f")
    assert room.names(Section.DRINKS) == ["Quincé Ferry"]


def test_return_in_the_field_opens_the_first_that_matches(room: Room) -> None:
    room.type(room.window.book.field, "sloe")
    QTest.keyClick(room.window.book.field, Qt.Key.Key_Return)
    assert room.workspace.sheet.title.text() == "Sloe Tide"


def test_finding_nothing_says_so_with_a_button_that_clears_it(room: Room) -> None:
    room.type(room.window.book.field, "zzz")
    assert room.window.book._nothing.text() == "Nothing here is called “zzz”."
    room.window.book._clear.click()
    assert len(room.names(Section.DRINKS)) == 10


def test_escape_clears_the_field_first(room: Room) -> None:
    room.type(room.window.book.field, "sloe")
    QTest.keyClick(room.window.book.field, Qt.Key.Key_Escape)
    assert room.window.book.field.text() == ""
    assert len(room.names(Section.DRINKS)) == 10


def test_new_drink_stands_in_the_list_with_its_name_open(room: Room) -> None:
    room.trigger("new_drink")
    field = room.window.book.views[Section.DRINKS].viewport().findChild(QLineEdit)
    assert field is not None
    assert field.text() == "New drink"
    field.selectAll()
    QTest.keyClicks(field, "Neap")
    QTest.keyClick(field, Qt.Key.Key_Return)
    room.qtbot.waitUntil(lambda: "Neap" in room.names(Section.DRINKS))
    assert room.document.undo_label == "renaming New drink to Neap"


def test_removing_a_drink_offers_undo_where_it_was(room: Room) -> None:
    room.workspace.show_build(room.build("Sloe Tide").id)
    room.trigger("remove")
    assert "Sloe Tide" not in room.names(Section.DRINKS)
    assert room.window.book.notice.text == "Sloe Tide was removed."
    room.window.book.notice.button.click()
    assert "Sloe Tide" in room.names(Section.DRINKS)


def test_removing_a_part_in_use_is_refused_and_names_its_users(room: Room) -> None:
    room.workspace.show_build(room.build("bay tincture").id)
    room.trigger("remove")
    assert "bay tincture" in room.names(Section.PARTS)
    assert "Pear Signal" in room.window.book.notice.text


def test_duplicate_copies_all_lines_under_a_free_name(room: Room) -> None:
    original = room.build("Quince Ferry")
    room.workspace.show_build(original.id)
    room.trigger("duplicate")
    copied = room.build("Quince Ferry copy")
    assert len(copied.steps) == len(original.steps)
    assert copied.parent_id is None
    room.settle()
    results = [room.document.workings.result(build.id) for build in (original, copied)]
    assert results[0] is not None
    assert results[1] is not None
    assert results[0].value("strength") == results[1].value("strength")


def test_undo_and_redo_say_what_they_do(room: Room) -> None:
    drink = room.build("Sloe Tide")
    room.document.do(rename(drink.id, "Gin & Tide"), "renaming Sloe Tide to Gin & Tide")
    undo, redo = room.window.menus.actions["undo"], room.window.menus.actions["redo"]
    assert undo.text() == "&Undo renaming Sloe Tide to Gin && Tide"
    room.trigger("undo")
    assert redo.text() == "&Redo renaming Sloe Tide to Gin && Tide"
    assert not undo.isEnabled() or "renaming" not in undo.text()


def test_history_goes_back_to_the_entry_chosen(room: Room) -> None:
    drink = room.build("Sloe Tide")
    first = room.document.do(rename(drink.id, "One"), "renaming to One")
    assert first is not None
    number = room.document.journal_number
    room.document.do(rename(drink.id, "Two"), "renaming to Two")
    room.document.do(rename(drink.id, "Three"), "renaming to Three")
    room.window.menus.history_asked.emit(number)
    assert room.document.book.builds[drink.id].name == "One"
    room.window.menus.history.aboutToShow.emit()
    texts = [action.text() for action in room.window.menus.history.actions()]
    assert sum("(undone)" in text for text in texts) == 2


def test_undoing_what_is_not_on_the_screen_goes_there(room: Room) -> None:
    raw_id = next(iter(room.document.book.raws))
    room.document.do(rename(raw_id, "Plain spirit"), "renaming")
    room.trigger("undo")
    assert room.workspace.shown == (Section.RAWS, raw_id)


def test_status_says_that_all_is_kept_and_what_was_last(room: Room) -> None:
    room.document.do(rename(room.build("Sloe Tide").id, "Neap"), "renaming Sloe Tide to Neap")
    assert room.window.status.kept.text() == ALL_KEPT
    assert room.window.status.last.text() == "last: renaming Sloe Tide to Neap, undo Ctrl+Z"


def test_status_counts_and_names_the_units(room: Room) -> None:
    room.settle()
    room.workspace.words.refresh()
    words = room.window.status.facts.text()
    assert words == "10 drinks, 20 house-made up to date · ml, g, °C · 1 oz = 30 ml"


def test_preview_says_that_nothing_is_written(room: Room) -> None:
    drink = room.build("Pear Signal")
    room.workspace.session.set_preview(set_build(drink.id, ice_g=10.0))
    assert room.window.status.kept.text() == TYPING
    room.workspace.session.set_preview(None)
    assert room.window.status.kept.text() == ALL_KEPT


def test_save_keys_answer_that_all_is_kept(room: Room) -> None:
    room.trigger("flush")
    assert room.window.status.last.text() == "All changes kept"


def test_target_of_the_drink_is_chosen_from_the_menu(room: Room) -> None:
    highball = next(target for target in room.document.book.targets.values() if target.name == "highball")
    room.window.menus.target_asked.emit(highball.id)
    assert room.build("Pear Signal").target_id == highball.id


def test_raw_ingredient_opens_its_sheet(room: Room) -> None:
    raw_id = next(iter(room.document.book.raws))
    room.workspace.show(Section.RAWS, raw_id)
    assert room.window.regions.sheet.currentWidget() is room.workspace.raw_sheet
    assert not room.window.regions.balance.isVisible()


def test_settings_open_and_close_to_what_was_shown(room: Room) -> None:
    room.trigger("settings")
    assert room.window.regions.sheet.currentWidget() is room.workspace.settings
    room.workspace.settings._done.click()
    assert room.window.regions.sheet.currentWidget() is room.workspace.build_region


def test_twist_is_shown_with_whose_it_is(room: Room) -> None:
    room.trigger("twist")
    assert room.workspace.build_region.twist_line.words.text() == "Twist of Pear Signal, being tried"
    room.workspace.build_region.twist_line.compare.click()
    assert room.window.regions.sheet.currentWidget() is room.workspace.twist


def test_about_names_versions_and_the_credits_of_the_data(room: Room) -> None:
    room.trigger("about")
    page = room.window.regions.sheet.currentWidget()
    assert page is not None
    texts = " ".join(label.text() for label in page.findChildren(QWidget) if hasattr(label, "text"))
    assert "PySide6-Essentials 6" in texts
    assert "Source Sans 3" in texts


def test_explaining_a_row_of_the_list_says_what_it_is(room: Room) -> None:
    view = room.window.book.views[Section.DRINKS]
    view.show_key(room.build("Quince Ferry").id)
    assert "Quince Ferry" in explanation(view)


def test_no_two_commands_share_a_key_in_one_place(room: Room) -> None:
    anywhere = (Qt.ShortcutContext.WindowShortcut, Qt.ShortcutContext.ApplicationShortcut)
    keys: Counter[str] = Counter()
    for action in room.window.findChildren(QAction):
        if action.shortcutContext() in anywhere:
            keys.update({sequence.toString() for sequence in action.shortcuts()} - {""})
    assert [key for key, count in keys.items() if count > 1] == []


def test_no_two_entries_of_a_menu_share_a_mnemonic(room: Room) -> None:
    for menu in room.window.menuBar().findChildren(QMenu):
        letters = [
            found.group(1).lower()
            for action in menu.actions()
            if (found := re.search(r"&(\w)", action.text().replace("&&", "")))
        ]
        double = [letter for letter, count in Counter(letters).items() if count > 1]
        assert double == [], (menu.title(), double)


def test_every_action_keeps_out_of_the_way_of_the_mac_menu(room: Room) -> None:
    placed = {"quit", "about", "settings"}
    for action in room.window.findChildren(QAction):
        if action.menu() is None and not action.isSeparator() and action.objectName() not in placed:
            roles = (QAction.MenuRole.NoRole, QAction.MenuRole.TextHeuristicRole)
            assert action.menuRole() in roles
    for action in room.window.menus.actions.values():
        if action.objectName() not in placed:
            assert action.menuRole() is QAction.MenuRole.NoRole


def test_redo_has_all_keys_of_the_system(room: Room) -> None:
    wanted = QKeySequence.keyBindings(QKeySequence.StandardKey.Redo)
    assert room.window.menus.actions["redo"].shortcuts() == wanted


def test_every_control_that_takes_the_focus_has_a_name(room: Room) -> None:
    nameless = []
    for widget in room.window.findChildren(QWidget):
        is_viewport = isinstance(widget.parent(), QAbstractScrollArea) and type(widget) is QWidget
        takes = widget.focusPolicy() != Qt.FocusPolicy.NoFocus and widget.isVisible() and not is_viewport
        if takes and not (widget.accessibleName() or getattr(widget, "text", str)()):
            nameless.append(f"{type(widget).__name__} in {type(widget.parent()).__name__}")
    assert nameless == []


def test_next_region_goes_from_book_to_sheet_to_balance(room: Room) -> None:
    room.window.activateWindow()
    room.qtbot.waitUntil(room.window.isActiveWindow)
    room.window.book.start_find()
    found = []
    for _ in range(3):
        room.trigger("next_region")
        focused = QApplication.focusWidget()
        found.append(
            next(
                region.objectName()
                for region in room.window.regions.regions
                if focused is not None and region.isAncestorOf(focused)
            )
        )
    assert found == ["sheet", "balance", "book"]


@pytest.mark.parametrize(
    "width, fold",
    [(1440, Fold.WIDE), (1120, Fold.WIDE), (1119, Fold.RAIL), (799, Fold.STACKED), (559, Fold.SINGLE)],
)
def test_window_folds_in_the_order_of_the_style(width: int, fold: Fold) -> None:
    assert fold_at(width) is fold


def test_narrow_window_leaves_a_rail_of_small_shapes(room: Room) -> None:
    room.window.resize(1000, 800)
    assert room.window.book.width() == 44
    assert room.window.book.is_rail
    assert not room.window.book.field.isVisible()


def test_narrowest_window_shows_one_region_at_a_time(room: Room) -> None:
    room.window.resize(520, 800)
    regions = room.window.regions
    assert regions.tabs.isVisible()
    regions.tabs.setCurrentIndex(0)
    assert [region.isVisible() for region in regions.regions] == [True, False, False]


def test_window_comes_back_as_it_was_left(open_room: Callable[..., Room]) -> None:
    room = open_room()
    room.workspace.show_build(room.build("Sloe Tide").id)
    room.window.book.set_open({Section.DRINKS, Section.TARGETS})
    room.window.regions.inner.setSizes([600, 500])
    widths = room.window.regions.inner.sizes()
    room.workspace.keep_state()
    room.window.keep_state()
    room.workspace.close()
    again = open_room()
    assert again.workspace.sheet.title.text() == "Sloe Tide"
    assert again.window.book.open_sections == {Section.DRINKS, Section.TARGETS}
    assert again.window.regions.inner.sizes() == widths


def test_second_window_on_a_book_can_only_read_and_says_who_has_it(open_room: Callable[..., Room]) -> None:
    open_room()
    second = open_room()
    assert second.document.is_read_only
    assert "is open for reading only. It is being edited in another window" in second.window.banner.text
    assert second.window.status.kept.text() == "Read only: nothing is written"
    assert not second.window.menus.actions["new_drink"].isEnabled()


def test_empty_house_book_says_the_first_thing_to_do(open_room: Callable[..., Room], tmp_path: Path) -> None:
    path = tmp_path / "Own.housebook"
    make_own(path, "Own", clock=now).close()
    room = open_room(path)
    button = room.window.book._empty_buttons[Section.DRINKS]
    assert room.window.book._empty_words[Section.DRINKS].text() == "No drinks yet."
    assert button.isVisible()
    button.click()
    assert [build.name for build in room.document.book.drinks()] == ["New drink"]


def test_long_name_with_marks_is_shown_plain(room: Room) -> None:
    name = "Gin & <b>Tonic</b> %1 " + "very long " * 6
    room.document.do(rename(room.build("Sloe Tide").id, name), "renaming")
    assert name.strip() in room.names(Section.DRINKS)
    room.workspace.show_build(room.build(name.strip()).id)
    assert room.window.width() == 1440


def test_copy_of_the_book_can_be_opened(room: Room, tmp_path: Path, open_room: Callable[..., Room]) -> None:
    room.workspace.commands.copy_to(tmp_path / "copy")
    second = open_room(tmp_path / "copy.housebook")
    assert not second.document.is_read_only
    assert len(second.document.book.builds) == len(room.document.book.builds)


def test_build_file_goes_out_and_comes_into_another_book(
    room: Room, tmp_path: Path, open_room: Callable[..., Room]
) -> None:
    room.workspace.commands.export_to(room.build("Quince Ferry").id, tmp_path / "ferry.build.json")
    own = tmp_path / "Own.housebook"
    make_own(own, "Own", clock=now).close()
    second = open_room(own)
    second.workspace.import_file(tmp_path / "ferry.build.json")
    assert second.workspace.sheet.title.text() == "Quince Ferry"
    assert second.document.undo_label == "import of Quince Ferry"


def test_file_that_is_no_build_file_is_told_at_the_top(room: Room, tmp_path: Path) -> None:
    (tmp_path / "x.build.json").write_text("{}")
    before = room.document.book
    room.workspace.import_file(tmp_path / "x.build.json")
    assert room.window.banner.isVisible()
    assert room.document.book is before


def test_only_house_books_and_build_files_can_be_dropped(room: Room) -> None:
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(f"/a/{name}") for name in ("a.housebook", "b.build.json", "c.pdf")])
    assert [path.name for path in accepted_files(mime)] == ["a.housebook", "b.build.json"]
    dropped: list[object] = []
    room.window.files_dropped.connect(dropped.append)
    event = QDropEvent(
        QPointF(5, 5),
        Qt.DropAction.CopyAction,
        mime,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    room.window.dropEvent(event)
    assert len(dropped) == 1


def test_menu_of_the_list_opens_at_the_row(room: Room) -> None:
    view = room.window.book.views[Section.DRINKS]
    room.window.book.menu_asked.emit(Section.DRINKS, room.build("Sloe Tide").id, QPoint(10, 10))
    menu = next(one for one in room.window.findChildren(QMenu) if one.isVisible())
    texts = [action.text() for action in menu.actions()]
    menu.close()
    assert "&Make a twist" in texts
    assert view.painter_of_rows.shown_key == room.build("Sloe Tide").id


def test_reset_layout_goes_back_to_the_first_widths(room: Room) -> None:
    room.window.regions.inner.setSizes([400, 800])
    room.trigger("reset_layout")
    sheet, balance = room.window.regions.inner.sizes()
    assert sheet > balance
    assert room.window.preferences.bytes_of("inner") == QByteArray()


def test_larger_text_makes_everything_larger(room: Room) -> None:
    room.trigger("larger")
    assert room.window.preferences.text_scale == 1.125
    room.trigger("usual_size")
    assert room.window.preferences.text_scale == 1.0


def test_a_change_of_a_raw_ingredient_reaches_the_rows_of_its_drinks(room: Room) -> None:
    room.settle()
    drink = room.build("Quince Ferry")
    before = room.document.workings.result_now(drink.id).value("cost")
    raw_id = next(
        step.item_id for step in drink.steps if getattr(step, "item_id", None) in room.document.book.raws
    )
    room.workspace.show(Section.RAWS, raw_id)
    assert room.workspace.raw_sheet._set_price(999.0) == ""
    room.settle()
    after = room.document.workings.result_now(drink.id).value("cost")
    assert before is not None
    assert after is not None
    assert after > before


def test_two_commands_as_one_step_make_one_entry(room: Room) -> None:
    drink = room.build("Sloe Tide")
    room.document.do(in_turn(rename(drink.id, "A"), new_drink("B")), "both")
    room.trigger("undo")
    assert "B" not in room.names(Section.DRINKS)
    assert "Sloe Tide" in room.names(Section.DRINKS)


def test_empty_house_book_offers_a_drink_or_the_demo(open_room: Callable[..., Room], tmp_path: Path) -> None:
    path = tmp_path / "Own.housebook"
    make_own(path, "Own", clock=now).close()
    room = open_room(path)
    page = room.workspace.start_page
    assert room.window.regions.sheet.currentWidget() is page
    assert not room.window.regions.balance.isVisible()
    with room.qtbot.waitSignal(room.workspace.demo_asked):
        page.demo.click()
    page.new_drink.click()
    assert room.window.regions.sheet.currentWidget() is room.workspace.build_region
    assert room.window.regions.balance.isVisible()


def test_failure_to_write_is_said_loudly_and_nothing_is_lost(
    room: Room, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> None:
        raise UserError("“book” could not be written: there is no space left.", "Nothing was changed.")

    book = room.document.book
    with monkeypatch.context() as patched:
        patched.setattr(type(room.document._storage), "write", full)
        room.workspace.editing.rename(Section.DRINKS, room.build("Sloe Tide").id, "Neap")
    assert room.window.status.kept.text().startswith("Saving failed: “book” could not be written")
    assert room.document.book is book
    room.workspace.editing.rename(Section.DRINKS, room.build("Sloe Tide").id, "Neap")
    assert room.window.status.kept.text() == ALL_KEPT


def test_import_that_is_in_doubt_asks_before_anything_comes_in(
    room: Room, tmp_path: Path, open_room: Callable[..., Room]
) -> None:
    room.workspace.commands.export_to(room.build("Quince Ferry").id, tmp_path / "ferry.build.json")
    shrub = room.build("quince shrub")
    room.document.do(set_build(shrub.id, note="ours is another"), "note")
    room.document.do(set_amount(shrub.id, shrub.steps[0].id, grams(777.0)), "other")
    room.document.do(rename(room.build("Quince Ferry").id, "Old Ferry"), "renaming")
    before = room.document.book
    room.workspace.import_file(tmp_path / "ferry.build.json")
    page = room.window.regions.sheet.currentWidget()
    assert isinstance(page, ImportPage)
    assert room.document.book is before
    assert not page.take.isEnabled()
    for row in list(page._rows.values()):
        choice = next(key for key in row._keys if key is not None and key.value == "theirs")
        row._field.setCurrentIndex(row._keys.index(choice))
        row._field.activated.emit(row._field.currentIndex())
    assert page.take.isEnabled()
    page.take.click()
    assert room.workspace.sheet.title.text() == "Quince Ferry"
    assert room.build("quince shrub").steps == room.document.book.builds[shrub.id].steps
    room.trigger("undo")
    assert dict(room.document.book.builds) == dict(before.builds)


def test_import_in_doubt_can_be_left(room: Room, tmp_path: Path) -> None:
    room.workspace.commands.export_to(room.build("Quince Ferry").id, tmp_path / "ferry.build.json")
    shrub = room.build("quince shrub")
    room.document.do(set_amount(shrub.id, shrub.steps[0].id, grams(777.0)), "other")
    before = room.document.book
    room.workspace.import_file(tmp_path / "ferry.build.json")
    page = room.window.regions.sheet.currentWidget()
    assert isinstance(page, ImportPage)
    page.leave.click()
    assert room.window.regions.sheet.currentWidget() is room.workspace.build_region
    assert room.document.book is before


def typed_into_first_amount(room: Room, text: str) -> int:
    tree = room.workspace.sheet.tree
    step = room.build("Pear Signal").steps[0]
    room.window.activateWindow()
    room.qtbot.waitUntil(room.window.isActiveWindow)
    assert tree.go_to((step.id,))
    tree.setFocus()
    for letter in text:
        QTest.keyClicks(tree.editor or tree, letter)
    assert tree.is_editing
    return step.id


def test_amount_that_is_still_being_typed_is_written_at_closing(
    open_room: Callable[..., Room],
) -> None:
    room = open_room()
    step_id = typed_into_first_amount(room, "52.5 ml")
    room.workspace.keep_state()
    room.workspace.close()
    again = open_room()
    step = again.document.book.step(again.build("Pear Signal").id, step_id)
    assert getattr(step, "amount").number == 52.5  # noqa: B009  a line, and so with an amount


def test_text_that_was_not_understood_is_there_again_at_the_next_start(
    open_room: Callable[..., Room],
) -> None:
    room = open_room()
    step_id = typed_into_first_amount(room, "45 mll")
    room.workspace.keep_state()
    room.workspace.close()
    again = open_room()
    model = again.workspace.sheet.model
    draft = model.draft(model.index_of((step_id,), AMOUNT))
    assert draft is not None
    assert draft.text == "45 mll"
    assert getattr(again.document.book.step(again.build("Pear Signal").id, step_id), "amount").number == 60.0  # noqa: B009


class ShownWindows(QObject):
    """Hears what is shown as a window of its own."""

    def __init__(self) -> None:
        super().__init__()
        self.shown: list[str] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Show and isinstance(watched, QWidget) and watched.isWindow():
            self.shown.append(type(watched).__name__)
        return False


@pytest.mark.parametrize(
    "name",
    [
        "in_the_glass", "batch", "alcohol_free", "house_data", "mass_flow", "costs", "unused", "moved", "from_label",
        "settings", "details", "card",
    ],
)  # fmt: skip
def test_opening_a_sheet_opens_no_window(room: Room, name: str) -> None:
    """What is shown before it has a parent flashes up as a window, and the keyboard is gone."""
    room.workspace.show_build(room.build("Pear Signal").id)
    heard = ShownWindows()
    QApplication.instance().installEventFilter(heard)  # type: ignore[union-attr]
    room.window.menus.actions[name].trigger()
    room.settle()
    QApplication.instance().removeEventFilter(heard)  # type: ignore[union-attr]
    assert heard.shown == []
