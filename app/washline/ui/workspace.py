"""An open house book in its window: the panels, and who tells whom. Loaded after the first paint, for it needs it all."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from PySide6.QtCore import QCollator, QLocale, QObject, Qt, QTimer, Signal, Slot
from PySide6.QtWidgets import QWidget

from washline.document.commands.command import Command, Refusal
from washline.document.document import Document
from washline.document.notice import Changed
from washline.document.places import Places
from washline.model.change import Table
from washline.presentation.book_list import BookList
from washline.presentation.book_rows import Section
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NUMBER_STYLES, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.background import Background
from washline.ui.balance.panel import BalancePanel
from washline.ui.balance.target_sheet import TargetSheet
from washline.ui.book.details_sheet import DetailsSheet
from washline.ui.book.editing import BookEditing
from washline.ui.book.raw_sheet import RawSheet
from washline.ui.bridge import Bridge
from washline.ui.build.look import Look
from washline.ui.build.sheet import BuildSheet
from washline.ui.build_region import BuildRegion, Layout
from washline.ui.curves.panel import ThroughBuildPanel
from washline.ui.form import FormSheet
from washline.ui.house_pages import HousePages
from washline.ui.main_window import MainWindow
from washline.ui.papers.papers_view import PapersView
from washline.ui.regions import Fold
from washline.ui.session import Session
from washline.ui.settings.sheet import SettingsSheet
from washline.ui.start_page import StartPage
from washline.ui.state_words import StateWords
from washline.ui.today_watch import TodayWatch
from washline.ui.twist.view import TwistView

TAB_BELOW = 960
"""Below this width (at 100 %) *through the build* stands behind a tab."""

_LISTED = {Table.BUILD, Table.RAW, Table.TARGET, Table.SETTINGS}


Page = (
    BuildRegion | RawSheet | TargetSheet | DetailsSheet | SettingsSheet | PapersView | TwistView | StartPage
)


@dataclass(frozen=True)
class Surroundings:
    """What a workspace needs of the world: the time, and where things of the user are kept."""

    clock: Callable[[], datetime]
    places: Places


class Workspace(QObject):
    """Puts a document into a window; ``close`` takes it out again.

    ``shown_changed`` carries group and id of what the sheet shows (``None`` twice: nothing).
    """

    shown_changed = Signal(object, object)
    import_asked = Signal(object)
    demo_asked = Signal()

    def __init__(self, window: MainWindow, document: Document, world: Surroundings) -> None:
        super().__init__(window)
        self.window = window
        self.document = document
        self.world = world
        self.style = number_style(QLocale())
        self.bridge = Bridge(document, self)
        self.session = Session(document, self.bridge, self)
        self.sort_key = collation(QLocale())
        self.rows = BookList(document.workings, self.sort_key, self.style)
        self.editing = BookEditing(document, self)
        self.background = Background(document, self)
        self.shown: tuple[Section, int] | None = None
        self._fresh = 0
        self.commands: Any = None
        self._unlisted: set[int] = set()
        self._make_panels()
        self.house = HousePages(
            document,
            self.bridge,
            self.session,
            lambda: window.look,
            self.style,
            self.sort_key,
            world.clock,
            self,
        )
        window.regions.sheet.addWidget(self.house.moved)
        self.words = StateWords(window, document, self.session, self.background, self.style, world.clock)
        self.today = TodayWatch(document, world.clock, self)
        self._connect()
        window.book.set_source(self.rows, is_read_only=document.is_read_only)
        self._fold(window.regions.fold)
        self.background.start()
        self.today.start()

    def _make_panels(self) -> None:
        look = sheet_look(self.window.look)
        regions = self.window.regions
        self.sheet = BuildSheet(self.session, look, self.style)
        self.curves = ThroughBuildPanel(self.session, look, self.style)
        self.build_region = BuildRegion(self.session, self.sheet, self.curves, self.window.look)
        self.balance = BalancePanel(self.document, self.bridge, self.session, self.window.look, self.style)
        self.raw_sheet = RawSheet(self.document, self.bridge, self.window.look, self.world.clock, self.style)
        self.details = DetailsSheet(
            self.document, self.bridge, self.window.look, self.style, clock=self.world.clock
        )
        self.settings = SettingsSheet(
            self.document, self.bridge, self.window.preferences, self.window.look, self.style
        )
        self.target_sheet = TargetSheet(
            self.document, self.bridge, self.session, self.window.look, self.style
        )
        self.start_page = StartPage(self.window.look)
        self.papers = PapersView(self.document, self.session, self.window.look, self.style)
        self.twist = TwistView(self.document, self.bridge, self.session, self.window.look, self.style)
        for page in self._pages:
            regions.sheet.addWidget(page)
        regions.balance.addWidget(self.balance)

    @property
    def _pages(self) -> tuple[Page, ...]:
        """The sheets of the middle region."""
        return (
            self.build_region,
            self.raw_sheet,
            self.target_sheet,
            self.details,
            self.settings,
            self.papers,
            self.twist,
            self.start_page,
        )

    def _connect(self) -> None:
        book = self.window.book
        self.bridge.changed.connect(self._follow)
        self.session.shown_changed.connect(self._follow_session)
        self.session.after_paint.passed.connect(self._refresh_listed)
        book.chosen.connect(self.show)
        book.opened.connect(self._open)
        book.renamed.connect(self._rename)
        book.new_asked.connect(self.make_new)
        self.editing.made.connect(self._show_new)
        self.sheet.said.connect(self.window.status.say)
        self.sheet.new_drink_asked.connect(self._new_drink)
        self.window.regions.folded.connect(self._fold)
        self.editing.failed.connect(self.words.say_failure)
        self.background.finished.connect(book.refresh)
        self.background.finished.connect(self._say_backup_problem)
        self.balance.said.connect(self.window.status.say)
        self.balance.new_target_asked.connect(self._new_target)
        self.balance.target_edit_asked.connect(self._show_target)
        self.details.closed.connect(self.back)
        self.details.said.connect(self.window.status.say)
        self.settings.closed.connect(self.back)
        self.house.page_asked.connect(self.show_page)
        self.house.item_asked.connect(self.show_item)
        self.house.new_drink_asked.connect(self._new_drink)
        self.house.closed.connect(self.back)
        self.house.said.connect(self.window.status.say)
        self.house.twist_made.connect(self._compare_made)
        self.house.moved.found.connect(self._say_moved)
        self.raw_sheet.item_asked.connect(self.show_item)
        self.raw_sheet.moved_asked.connect(self.house.show_moved)
        self.today.said.connect(self.window.status.say)
        self.today.failed.connect(self.words.say_failure)
        self.twist.closed.connect(self._leave_twist)
        self.twist.said.connect(self.window.status.say)
        self.target_sheet.closed.connect(self._leave_target)
        self.target_sheet.said.connect(self.window.status.say)
        self.papers.closed.connect(self.back)
        self.start_page.new_drink_asked.connect(self._new_drink)
        self.start_page.demo_asked.connect(self.demo_asked)
        self.papers.said.connect(self.window.status.say)
        self.sheet.papers_asked.connect(self.show_papers)
        self.build_region.compare_asked.connect(self.compare)

    # What is shown

    @Slot(object, object)
    def show(self, section: Section, key: int) -> None:
        """Shows a drink, part, raw ingredient or target in the sheet."""
        if section in (Section.DRINKS, Section.PARTS) and key in self.document.book.builds:
            self.session.show(key)
            self._turn_to(self.build_region, section, key)
        elif section is Section.RAWS and key in self.document.book.raws:
            self.raw_sheet.show_raw(key)
            self._turn_to(self.raw_sheet, section, key)
        elif section is Section.TARGETS and key in self.document.book.targets:
            self.target_sheet.show_target(key)
            self._turn_to(self.target_sheet, section, key)

    @Slot()
    def show_papers(self) -> None:
        """Shows the card of the drink that is open."""
        if self.session.build_id is not None:
            self.show_page(self.papers)

    @Slot()
    def _leave_target(self) -> None:
        """From a target to the drink that was open before it."""
        build_id = self.session.build_id
        if build_id is not None:
            self.show_build(build_id)
        else:
            self._turn_to_nothing()

    def show_settings(self) -> None:
        """Shows how the house counts and how the window looks."""
        self.settings.refresh()
        self.show_page(self.settings)

    def show_details(self) -> None:
        """Shows what the open drink or part is besides its steps."""
        if self.session.build_id is not None:
            self.details.show_build(self.session.build_id)
            self.show_page(self.details)

    @Slot(object)
    def show_page(self, page: QWidget) -> None:
        """Shows a sheet over what was open; ``back`` goes back to that."""
        if self.window.regions.sheet.indexOf(page) < 0:
            self.window.regions.sheet.addWidget(page)
        self.window.regions.sheet.setCurrentWidget(page)
        self._show_balance(page)
        self.window.regions.bring_up(self.window.regions.sheet)
        if isinstance(page, FormSheet):
            page.focus_first()

    def _turn_to_nothing(self) -> None:
        """Nothing is open: what to do first stands there while the book has no builds."""
        page = self.build_region if self.document.book.builds else self.start_page
        self._turn_to(page, None, None)

    def _show_balance(self, page: QWidget) -> None:
        """The balance stands beside what can move it."""
        can_move_it = page in (self.build_region, self.target_sheet, self.details)
        self.window.regions.show_balance(can_move_it and self._has_build)

    @property
    def _has_build(self) -> bool:
        return self.session.build_id is not None

    @Slot()
    def back(self) -> None:
        """From a sheet that was opened on demand to what was shown before."""
        if self.shown is not None:
            self.show(*self.shown)
        else:
            self._turn_to_nothing()
        page = self.window.regions.sheet.currentWidget()
        if page is not None:
            page.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def _is_build_shown(self) -> bool:
        return self.shown is not None and self.shown[0] in (Section.DRINKS, Section.PARTS)

    @Slot()
    def _new_target(self) -> None:
        """A target around what the drink that is open reads."""
        self.target_sheet.make_new()
        if self.target_sheet.target_id is not None:
            self._turn_to(self.target_sheet, Section.TARGETS, self.target_sheet.target_id)

    @Slot(int)
    def _show_target(self, target_id: int) -> None:
        self.show(Section.TARGETS, target_id)

    def _turn_to(self, page: QWidget, section: Section | None, key: int | None) -> None:
        self.window.regions.sheet.setCurrentWidget(page)
        self._show_balance(page)
        self.shown = (section, key) if section is not None and key is not None else None
        self.window.book.show_row(section, key)
        self.shown_changed.emit(section, key)

    @Slot(object, object)
    def _open(self, section: Section, key: int) -> None:
        """Shows it and puts the cursor into its sheet."""
        self.show(section, key)
        page = self.window.regions.sheet.currentWidget()
        self.window.regions.bring_up(self.window.regions.sheet)
        target = self.sheet.tree if page is self.build_region else page
        if target is not None:
            target.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot(object, object)
    def _show_new(self, section: Section, key: int) -> None:
        """What is new is shown with its name open for typing."""
        self.window.book.field.clear()
        self.show(section, key)
        self._fresh = key
        self.window.book.edit_name(section, key)

    @Slot(object, object, str)
    def _rename(self, section: Section, key: int, name: str) -> None:
        """After the name of something new its sheet is next."""
        self.editing.rename(section, key, name)
        if key == self._fresh:
            self._fresh = 0
            QTimer.singleShot(0, self, self._focus_sheet)

    @Slot()
    def _focus_sheet(self) -> None:
        if self.shown is not None:
            self._open(*self.shown)

    def take_focus(self) -> None:
        """At the start the cursor stands in the build, unless somebody has typed into the field meanwhile."""
        if self.window.book.field.text():
            return
        if self._is_build_shown:
            self.sheet.tree.setFocus(Qt.FocusReason.OtherFocusReason)
        elif self.window.regions.sheet.currentWidget() is self.start_page:
            self.start_page.new_drink.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot(object)
    def make_new(self, section: Section) -> None:
        """Makes something new of a group and shows it with its name open for typing."""
        if section is Section.TARGETS:
            self._new_target()
        else:
            self.editing.make_new(section)

    @Slot()
    def _new_drink(self) -> None:
        self.make_new(Section.DRINKS)

    @Slot(object)
    def _follow_session(self, build_id: int | None) -> None:
        """Another panel has turned to another build."""
        if build_id is None:
            if self.shown is not None and self.shown[0] in (Section.DRINKS, Section.PARTS):
                self._turn_to_nothing()
            return
        build = self.document.book.builds[build_id]
        section = Section.DRINKS if build.is_drink else Section.PARTS
        if self.shown != (section, build_id):
            self._turn_to(self.build_region, section, build_id)

    @Slot(object)
    def _follow(self, changed: Changed) -> None:
        book = self.window.book
        tables = {change.table for change in changed.change_set.changes}
        if is_of_lines(changed):
            # The list stands beside what is edited: its row follows once that is painted.
            self._unlisted |= changed.items | changed.change_set.build_ids()
            self.session.after_paint.wait()
        elif tables & _LISTED:
            book.relist()
            book.refresh()
        elif changed.change_set:
            book.refresh()
        else:
            book.refresh(changed.items)
        self.background.follow(changed)

    @Slot()
    def _refresh_listed(self) -> None:
        if self._unlisted:
            unlisted, self._unlisted = self._unlisted, set()
            self.window.book.refresh(unlisted)

    def show_build(self, build_id: int) -> None:
        """Shows a drink or part by its id."""
        build = self.document.book.builds.get(build_id)
        if build is not None:
            self.show(Section.DRINKS if build.is_drink else Section.PARTS, build_id)

    @Slot(str)
    def _say_moved(self, words: str) -> None:
        """A correction was compared: said in the status line, and where the fact was corrected."""
        self.window.status.say(words)
        self.raw_sheet.say_moved(self.house.moved.corrections.raw_ids, words)

    @Slot(int)
    def show_item(self, item_id: int) -> None:
        """Shows a raw ingredient, a drink or part, or what a leftover is."""
        leftover = self.document.book.leftovers.get(item_id)
        if item_id in self.document.book.raws:
            self.show(Section.RAWS, item_id)
        elif leftover is not None:
            self.show_build(leftover.build_id)
            self.details.show_leftover(item_id)
            self.show_page(self.details)
        else:
            self.show_build(item_id)

    @Slot()
    def compare(self) -> None:
        """Shows the open twist beside its parent."""
        build_id = self.session.build_id
        if build_id is not None and self.has_parent:
            self.twist.show_twist(build_id)
            self.show_page(self.twist)

    @Slot(object)
    def _compare_made(self, build_id: int) -> None:
        """Opens a drink that was made beside its parent, and shows both."""
        self.show_build(build_id)
        self.compare()

    @property
    def has_parent(self) -> bool:
        """Whether what is open is a twist whose parent is there."""
        build = self.document.book.builds.get(self.session.build_id or 0)
        return self._is_build_shown and build is not None and build.parent_id in self.document.book.builds

    @Slot(object)
    def _leave_twist(self, build_id: int | None) -> None:
        if build_id is not None and build_id in self.document.book.builds:
            self.show_build(build_id)
            self.sheet.tree.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.back()

    def go_to(self, changed: Changed) -> None:
        """Goes to where an undone change was, if nothing of it is on the screen; the sheet goes to its own rows."""
        book = self.document.book
        for change in changed.change_set.changes:
            key = change.key
            if not isinstance(key, int):
                continue
            if change.table is Table.RAW and key in book.raws:
                self.show(Section.RAWS, key)
                return
            if change.table is Table.TARGET and key in book.targets:
                self.show(Section.TARGETS, key)
                return

    def import_file(self, path: Path) -> None:
        """Takes a build file into the house book."""
        self.import_asked.emit(path)

    def do(self, command: Command, label: str) -> Changed | None:
        """Makes a change; a refusal is said at the top of the window."""
        try:
            return self.document.do(command, label, self)
        except UserError as problem:
            self.window.say_problem(str(problem))
            if not isinstance(problem, Refusal):
                self.words.say_failure(problem.what)
            return None

    @Slot()
    def _say_backup_problem(self) -> None:
        """The copy that is made at opening could not be made: said once."""
        problem, self.document.backup_problem = self.document.backup_problem, None
        if problem is not None:
            self.window.say_problem(f"No backup could be made. {problem}")

    @Slot()
    def note_demo_seen(self) -> None:
        """The words about the demo house were closed: they do not come back."""
        self.window.preferences.has_seen_demo = True

    # State

    def keep_state(self) -> None:
        """Writes down what is shown, how far it is scrolled, which branches are open; what is being typed is written
        first, or kept as it stands where it was not understood."""
        focused = self.window.focusWidget()
        if focused is not None:
            focused.clearFocus()
        self.sheet.finish_typing()
        state = {
            "shown": list(self.shown) if self.shown is not None else None,
            "scroll": self.window.book.scroll_places(),
            "sheet": self.sheet.state(),
        }
        self.window.preferences.set_book_state(self.document.path, state)

    def restore_state(self) -> None:
        """Shows what was shown last, else the first drink."""
        state = self.window.preferences.book_state(self.document.path)
        sheet, scroll, shown = state.get("sheet"), state.get("scroll"), state.get("shown")
        if isinstance(sheet, dict):
            self.sheet.restore_state(sheet)
        known = {section.value: section for section in Section}
        if isinstance(shown, list) and len(shown) == 2 and shown[0] in known and isinstance(shown[1], int):
            self.show(known[shown[0]], shown[1])
        if self.shown is None:
            first = next(self.document.book.drinks(), None)
            if first is not None:
                self.show(Section.DRINKS, first.id)
            else:
                self._turn_to_nothing()
        if isinstance(scroll, dict):
            self.window.book.scroll_to({key: int(value) for key, value in scroll.items()})

    # Look

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        own = sheet_look(look)
        self.sheet.set_look(own)
        self.curves.set_look(own)
        for panel in (*self._pages, self.balance):
            panel.set_appearance(look)
        self.house.set_appearance(look)

    @Slot(object)
    def _fold(self, _: object) -> None:
        width = self.window.width() / self.window.look.unit
        self.build_region.set_layout(Layout.TAB if width < TAB_BELOW else Layout.UNDER)
        self.balance.put_strips_first(self.window.regions.fold >= Fold.STACKED)

    # End

    def close(self) -> None:
        """Commits what is being typed and lets go of the house book; everything is written already."""
        self.background.close()
        # Figures that were still on their way have nobody to go to.
        self.session.blockSignals(True)
        self.session.after_paint.close()
        self.today.close()
        self.house.close()
        self.bridge.close()
        self.document.close()


def is_of_lines(changed: Changed) -> bool:
    """Whether only steps of builds have changed, as by a typed amount: what is on the screen of it is in the sheet and the
    balance, and the rest of the window may follow."""
    return {change.table for change in changed.change_set.changes} == {Table.STEP}


def sheet_look(look: Appearance) -> Look:
    """The same look as the sheet takes it."""
    return Look(look.theme, look.fonts, look.measures)


def number_style(locale: QLocale) -> NumberStyle:
    """How numbers are written where this person lives; English where that is not known."""
    return NUMBER_STYLES.get(locale.name(), ENGLISH_STYLE)


def collation(locale: QLocale) -> Callable[[str], object]:
    """What names are ordered by: the person's language, figures by their value."""
    collator = QCollator(locale)
    collator.setNumericMode(True)
    collator.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
    return collator.sortKey
