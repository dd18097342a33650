"""The demo house with its readings, for the tests of the balance: one book, evaluated once."""

from functools import cache

from washline.engine.workings import Workings
from washline.exchange.demo import demo_house
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.target import Target
from washline.presentation.readings import Readings
from washline.presentation.twist import Side


@cache
def demo() -> HouseBook:
    """The demo house; nobody changes it."""
    return demo_house()


@cache
def workings() -> Workings:
    """The engine on the demo house."""
    return Workings(demo())


def build(name: str) -> Build:
    """A build of the demo house by its name."""
    return next(one for one in demo().builds.values() if one.name == name)


def target_of(name: str) -> Target:
    """The target of a drink."""
    target_id = build(name).target_id
    assert target_id is not None
    return demo().targets[target_id]


def readings(name: str) -> Readings:
    """The readings of a build with their spread."""
    one = build(name)
    result, spread = workings().result_now(one.id), workings().spread(one.id)
    return Readings(one, demo().settings, result, spread)


def side(name: str) -> Side:
    """A build as one side of a comparison."""
    return Side(readings(name), workings().trace(build(name).id))
