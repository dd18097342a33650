"""Where steps stand: every step has a place, and the places of a build rise strictly from step to step."""

from collections.abc import Sequence
from itertools import pairwise

from msgspec import structs

from washline.document.commands.command import step_of
from washline.model.item import Build
from washline.model.step import AnyStep

AT_START = 0
"""As ``after``: before all steps. (Ids count from 1.)"""

SMALLEST_GAP = 1e-6
"""Below this distance between two places the build's steps are numbered anew: 1, 2, 3 …"""


def inserted(build: Build, new: Sequence[AnyStep], after: int | None) -> Build:
    """The build with new steps put in after a step (``None``: at the end), in the order given."""
    index = len(build.steps)
    if after is not None:
        index = 0 if after == AT_START else build.steps.index(step_of(build, after)) + 1
    return arranged(build, build.steps[:index], new, build.steps[index:])


def arranged(
    build: Build, before: Sequence[AnyStep], loose: Sequence[AnyStep], behind: Sequence[AnyStep]
) -> Build:
    """The build with the steps ``before``, ``loose``, ``behind`` in this order; only ``loose`` ones get new places,
    evenly between their neighbours, as long as there is room."""
    low = before[-1].place if before else 0.0
    high = behind[0].place if behind else low + len(loose) + 1.0
    gap = (high - low) / (len(loose) + 1)
    placed = [structs.replace(step, place=low + gap * count) for count, step in enumerate(loose, start=1)]
    order = (*before, *placed, *behind)
    if (
        any(second.place - first.place < SMALLEST_GAP for first, second in pairwise(order))
        or gap < SMALLEST_GAP
    ):
        order = tuple(structs.replace(step, place=float(count)) for count, step in enumerate(order, start=1))
    return structs.replace(build, steps=order)


def with_step(build: Build, step: AnyStep) -> Build:
    """The build with a step put in the stead of the one that has its id."""
    return structs.replace(build, steps=tuple(step if one.id == step.id else one for one in build.steps))
