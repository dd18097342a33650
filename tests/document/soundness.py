"""What must hold of any house book that the document has let through."""

from itertools import pairwise

from washline.model.book import HouseBook
from washline.model.graph import path_between
from washline.model.step import Adjust, Carbonate, Line, Strain, Take, items_of


def assert_sound(book: HouseBook) -> None:
    """Ids are unique, places rise, everything named is there, nothing is made of itself."""
    _assert_ids(book)
    for build in book.builds.values():
        assert all(first.place < second.place for first, second in pairwise(build.steps))
        assert build.glass is None or build.glass in book.glasses
        assert build.target_id is None or build.target_id in book.targets
        assert build.parent_id is None or build.parent_id in book.builds
        above: set[int] = set()
        for step in build.steps:
            assert step.build_id == build.id
            assert all(book.item(item_id) is not None for item_id in items_of(step))
            if isinstance(step, Adjust):
                assert (step.value is None) != (step.like_item_id is None)
                assert step.like_item_id is None or book.item(step.like_item_id) is not None
                assert all(portion.parts > 0.0 for portion in step.portions)
                assert step.portions
            if isinstance(step, Line | Take):
                assert above.issuperset(step.amount.of)
            above.add(step.id)
        for user in book.builds.values():
            if user.id != build.id and path_between(book, user.id, build.id):
                assert not path_between(book, build.id, user.id)
    for row in (*book.builds.values(), *book.leftovers.values()):
        assert row.acts_as_id is None or row.acts_as_id in book.raws
    for making in book.makings.values():
        strains = {step.id for step in book.builds[making.build_id].steps if isinstance(step, Strain)}
        assert strains.issuperset(one.step_id for one in making.yields)
    for weighing in book.weighings.values():
        assert weighing.method in book.methods
        assert weighing.ice in book.ices
        owner = book.builds.get(weighing.build_id or 0)
        assert (weighing.build_id is None) or (owner is not None)
        steps_of_it = {step.id for step in owner.steps} if owner is not None else set()
        assert weighing.step_id is None or weighing.step_id in steps_of_it
    for calibration in book.calibrations.values():
        assert calibration.method in book.methods
        assert calibration.ice in book.ices
    for swap in book.settings.swaps:
        assert book.item(swap.from_id) is not None
        assert swap.to_id is None or book.item(swap.to_id) is not None
    vessels = {
        step.vessel for build in book.builds.values() for step in build.steps if isinstance(step, Carbonate)
    }
    vessels |= {build.batch.vessel for build in book.builds.values() if build.batch is not None}
    assert vessels <= {"", *book.vessels}
    made = [
        (step.leftover_id, build.id)
        for build in book.builds.values()
        for step in build.steps
        if isinstance(step, Strain | Take) and step.leftover_id is not None
    ]
    assert sorted(made) == sorted((row.id, row.build_id) for row in book.leftovers.values())


def _assert_ids(book: HouseBook) -> None:
    ids = [
        *book.raws,
        *book.builds,
        *book.leftovers,
        *book.targets,
        *book.makings,
        *book.weighings,
        *(step.id for build in book.builds.values() for step in build.steps),
    ]
    assert len(ids) == len(set(ids))
    assert max(ids) <= book.top_id
    slugs = [raw.slug for raw in book.raws.values()]
    assert len(slugs) == len(set(slugs))
