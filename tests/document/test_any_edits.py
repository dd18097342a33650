"""Whatever a person does, in whatever order: the book stays sound, every step can be taken back to the byte, and results
are what a fresh computation gives."""

from contextlib import closing, suppress
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from tests.document.any_command import Maker
from tests.document.bytes import bytes_of
from tests.document.fakes import MemoryFile
from tests.document.house import Clock, bench_house
from tests.document.soundness import assert_sound
from washline.document.commands.command import Refusal
from washline.document.document import Document
from washline.document.opening import create_document, open_document
from washline.document.stored_results import StoredResults
from washline.engine.workings import Workings
from washline.model.change import apply, difference


class AnyEdits(RuleBasedStateMachine):
    """A document, and beside it the plain list of all states that it went through."""

    def __init__(self) -> None:
        super().__init__()
        self.file = MemoryFile(bench_house())
        workings = Workings(self.file.book)
        results = StoredResults(self.file, workings, "stamp")
        self.clock = Clock()
        self.document = Document(self.file, self.file.book, workings, results, self.clock)
        self.document.shown(list(self.document.book.builds))
        self.states = [bytes_of(self.document.book)]
        self.at = 0

    @rule(data=st.data(), merge_key=st.sampled_from([None, None, None, "stepping"]))
    def edit(self, data: st.DataObject, merge_key: str | None) -> None:
        before = self.document.book
        entries = len(self.document.history())
        command = Maker(data.draw, before).command()
        try:
            changed = self.document.do(command, "any", merge_key=merge_key)
        except Refusal:
            assert self.document.book is before
            return
        if changed is None:
            assert bytes_of(self.document.book) == bytes_of(before)
            return
        assert bytes_of(apply(before, changed.change_set)) == bytes_of(self.document.book)
        assert bytes_of(apply(self.document.book, changed.change_set.reversed())) == bytes_of(before)
        assert difference(before, self.document.book) == changed.change_set
        is_merged = len(self.document.history()) == entries and self.at == len(self.states) - 1
        self.states = self.states[: self.at if is_merged else self.at + 1]
        self.states.append(bytes_of(self.document.book))
        self.at = len(self.states) - 1

    @rule()
    def undo(self) -> None:
        if self.document.undo() is not None:
            self.at -= 1

    @rule()
    def redo(self) -> None:
        if self.document.redo() is not None:
            self.at += 1

    @rule()
    def wait(self) -> None:
        self.clock.pass_seconds(2.0)

    @rule(most=st.integers(1, 3))
    def rest_a_little(self, most: int) -> None:
        self.document.work_on(most)

    @invariant()
    def the_book_is_as_it_was_at_this_point(self) -> None:
        assert bytes_of(self.document.book) == self.states[self.at]

    @invariant()
    def the_file_holds_the_same(self) -> None:
        assert bytes_of(self.file.book) == bytes_of(self.document.book)

    @invariant()
    def the_book_is_sound(self) -> None:
        assert_sound(self.document.book)

    def teardown(self) -> None:
        """At the end: all the way back, all the way forth, and every row as computed from nothing."""
        self._compare_results()
        while self.document.undo() is not None:
            self.at -= 1
            self.the_book_is_as_it_was_at_this_point()
        assert self.at == 0
        self._compare_results()
        while self.document.redo() is not None:
            self.at += 1
        assert self.at == len(self.states) - 1
        self.the_book_is_as_it_was_at_this_point()
        self._compare_results()

    def _compare_results(self) -> None:
        while self.document.work_on():
            pass
        fresh = Workings(self.document.book)
        fresh.evaluate_all()
        for build_id in self.document.book.builds:
            kept, new = self.document.workings.result_now(build_id), fresh.result_now(build_id)
            assert kept.values.tobytes() == new.values.tobytes()
            assert kept.more.tobytes() == new.more.tobytes()
            assert (kept.flags, kept.problems) == (new.flags, new.problems)


TestAnyEdits = AnyEdits.TestCase
TestAnyEdits.settings = settings(max_examples=60, stateful_step_count=25)


@given(data=st.data())
@settings(max_examples=12)
def test_any_edits_are_whole_on_disk_and_can_all_be_taken_back_after_opening_again(
    data: st.DataObject,
) -> None:
    clock = Clock()
    with TemporaryDirectory() as folder:
        path = Path(folder) / "saltmarsh.housebook"
        with closing(create_document(path, bench_house(), "the Saltmarsh Rooms", clock=clock)) as document:
            for _ in range(15):
                with suppress(Refusal):
                    document.do(Maker(data.draw, document.book).command(), "any", merge_key="stepping")
                clock.pass_seconds(data.draw(st.sampled_from([0.1, 2.0])))
            edited = bytes_of(document.book)
        with closing(open_document(path, clock=clock)) as again:
            assert bytes_of(again.book) == edited
            while again.undo():
                assert_sound(again.book)
            assert bytes_of(again.book) == bytes_of(bench_house())
            while again.redo():
                pass
            assert bytes_of(again.book) == edited
