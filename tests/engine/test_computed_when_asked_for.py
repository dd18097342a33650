"""What is computed only when somebody asks for it: to the byte what it would be if all of it were computed at once."""

import numpy as np
import pytest

from tests.bench.books import forty_steps
from washline.document.commands.lines import set_amount
from washline.engine import aside
from washline.engine.batch import Block
from washline.engine.readings import BY_ITSELF
from washline.engine.trace import Share, Trace
from washline.engine.traced import brought_by
from washline.engine.workings import Workings
from washline.exchange.demo import demo_house
from washline.model.amount import Amount
from washline.model.book import HouseBook
from washline.model.change import difference
from washline.model.reading import READING_INDEX

BOOK = forty_steps(demo_house())
INNER = next(build for build in BOOK.builds.values() if build.name == "Bench inner")
LONG = next(build for build in BOOK.builds.values() if build.name == "Forty steps")


def typed(grams: float) -> HouseBook:
    """The book with another amount in the innermost of three nested parts."""
    return set_amount(INNER.id, INNER.steps[0].id, Amount(grams, "g"))(BOOK)


def previewed(grams: float = 320.0) -> Trace:
    return Workings(BOOK).trace(LONG.id, typed(grams))


@pytest.mark.parametrize("key", [*BY_ITSELF, "energy_kcal"])
def test_one_reading_after_a_step_is_that_of_all_readings(key: str) -> None:
    alone, together = previewed(), previewed()
    expected = [float(step.readings_after[READING_INDEX[key]]) for step in together.steps]
    found = [step.reading_after(key) for step in alone.steps]
    assert [float("nan") if one is None else one for one in found] == pytest.approx(
        expected, rel=0.0, abs=0.0, nan_ok=True
    )


@pytest.mark.parametrize("key", BY_ITSELF)
def test_one_reading_of_an_opened_part_is_that_of_its_result(key: str) -> None:
    alone, together = previewed().opened(INNER.id), previewed().opened(INNER.id)
    assert together.result.value(key) is not None
    assert alone.value(key) == together.result.value(key)


def test_a_preview_reads_only_the_build_that_is_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[int] = []

    def noted(blocks: list[Block]) -> object:
        read.extend(int(block.build_ids[0]) for block in blocks)
        return read_blocks(blocks)

    read_blocks = aside.read_blocks
    monkeypatch.setattr(aside, "read_blocks", noted)
    trace = previewed()
    assert trace.result.value("mass") is not None
    assert trace.opened(INNER.id).value("mass") is not None
    assert read == [LONG.id]


def test_readings_asked_for_late_are_those_of_a_book_computed_afresh() -> None:
    late = previewed().source.result_now(INNER.id)
    fresh = Workings(typed(320.0)).result_now(INNER.id)
    assert late.values.tobytes() == fresh.values.tobytes()
    assert late.more.tobytes() == fresh.more.tobytes()
    assert late.flags == fresh.flags


def test_a_part_that_is_opened_twice_is_traced_once() -> None:
    trace = previewed()
    assert trace.opened(INNER.id) is trace.opened(INNER.id)


def test_a_run_that_was_kept_gives_way_to_that_of_a_changed_build() -> None:
    workings = Workings(BOOK)
    before = workings.trace(LONG.id)
    after_edit = typed(345.0)
    workings.update(after_edit, difference(BOOK, after_edit), [LONG.id])
    fresh = Workings(after_edit).trace(LONG.id)
    assert workings.trace(LONG.id).final_state.tobytes() == fresh.final_state.tobytes()
    assert before.final_state.tobytes() != fresh.final_state.tobytes()


def test_a_preview_after_an_edit_pours_what_the_edit_made() -> None:
    workings = Workings(BOOK)
    workings.trace(LONG.id)
    after_edit = typed(345.0)
    workings.update(after_edit, difference(BOOK, after_edit))
    step = LONG.steps[0]
    preview = set_amount(LONG.id, step.id, Amount(77.0, "ml"))(after_edit)
    found, fresh = workings.trace(LONG.id, preview), Workings(preview).trace(LONG.id)
    assert found.result.values.tobytes() == fresh.result.values.tobytes()
    assert found.opened(INNER.id).final_state.tobytes() == fresh.opened(INNER.id).final_state.tobytes()


def test_what_all_shares_bring_is_what_each_brings() -> None:
    shares = [step.share.rows for step in previewed().steps]
    each = [
        (share.grams, share.sugars_g, share.acids_g, share.ethanol_g, share.cost)
        for share in map(Share, shares)
    ]
    assert np.array(brought_by(shares)).tobytes() == np.array(each).tobytes()
    assert brought_by([]) == []
