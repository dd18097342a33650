"""A corrected raw ingredient reaches every drink that uses it: against one evaluation of one such drink."""

import gc
from dataclasses import replace

from msgspec import structs

from tests.bench.books import COMMONEST, item_by_slug, large_book
from tests.bench.measure import Measured, measured, milliseconds
from washline.chemistry.components import CITRIC, WATER
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.change import difference

SLICE = 2000


def sharper(book: HouseBook, item_id: int, step: int) -> HouseBook:
    """The book with a little more acid in one raw ingredient."""
    raw = book.raws[item_id]
    composition = list(raw.composition)
    composition[CITRIC] = (composition[CITRIC] or 0.0) + 0.01 * step
    composition[WATER] = (composition[WATER] or 0.0) - 0.01 * step
    return replace(book, raws={**book.raws, item_id: structs.replace(raw, composition=tuple(composition))})


def ripple(drinks: int, mark: float, times: int) -> Measured:
    """One row: every reading of every drink after a change of the commonest raw ingredient."""
    book = large_book(drinks)
    lemon = item_by_slug(book, COMMONEST)
    workings = Workings(book)
    workings.evaluate_all()
    one = max(book.builds)
    gc.collect()
    gc.freeze()
    floors, samples = [], []
    kept = [book]  # So that no floor pays for letting go of the book before.
    for number in range(times):
        for again in range(20):
            single = book.with_build(structs.replace(book.builds[one], note=f"{number} {again}"))
            change = difference(workings.book, single)
            kept.append(single)
            floors.append(
                milliseconds(lambda single=single, change=change: workings.update(single, change, (one,)))
            )  # type: ignore[misc]
        kept.clear()
        changed = sharper(workings.book, lemon, number + 1)
        change = difference(workings.book, changed)

        def work(changed: HouseBook = changed, change: object = change) -> None:
            workings.update(changed, change)  # type: ignore[arg-type]
            while workings.pending:
                workings.evaluate_some(SLICE)

        samples.append(milliseconds(work))
    gc.unfreeze()
    return measured(f"ripple-{drinks}", floors, samples, mark)
