"""What is asked of *Bring to target*, and what it answers."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from washline.engine.state import Numbers
from washline.model.amount import Amount
from washline.model.reading import READING_INDEX
from washline.model.target import Aim


@dataclass(frozen=True, slots=True)
class Limit:
    """How little and how much of a line there may be, and the step that it is poured in, in its amount's own unit;
    ``None``: as usual (``pours``)."""

    low: float | None = None
    high: float | None = None
    step: float | None = None


@dataclass(frozen=True, slots=True)
class Extra:
    """An ingredient that may be used besides those of the drink, up to ``high`` of a unit, in steps."""

    item_id: int
    unit: str
    step: float
    high: float


@dataclass(frozen=True, slots=True)
class Request:
    """What is asked: bring one build to its aims.

    ``weights`` are by reading (1 where it names none; an aim of weight 0 is left out). ``held`` are steps that stay as they
    are, ``limits`` by step. ``hold`` are readings that must lie in a range, in the reading's unit; either end may be
    infinite. ``gates`` are limits that no proposal crosses: a reading counts there with all that is unknown in it. A gate
    among the aims is one of them.
    ``most_alcohol_g`` is the house's maximum in one serve.
    """

    build_id: int
    aims: tuple[Aim, ...]
    weights: Mapping[str, float] = field(default_factory=dict)
    held: frozenset[int] = frozenset()
    limits: Mapping[int, Limit] = field(default_factory=dict)
    extras: tuple[Extra, ...] = ()
    hold: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    gates: tuple[Aim, ...] = ()
    most_alcohol_g: float | None = None
    allow_allergens: bool = False


@dataclass(frozen=True, slots=True)
class Change:
    """One line that is poured otherwise. ``step_id`` and ``before`` are ``None`` for an ingredient that is new."""

    step_id: int | None
    item_id: int
    before: Amount | None
    after: Amount


@dataclass(frozen=True, slots=True)
class GivesWay:
    """A reading that stays outside its band: by how many tolerances of its side, its value, and the edge it misses."""

    reading: str
    by: float
    value: float
    edge: float


class Merit(StrEnum):
    """What speaks for a proposal."""

    NEAREST = "nearest"
    FEWEST_CHANGES = "fewest changes"
    LEAST_ALCOHOL = "least alcohol"
    ANOTHER_WAY = "another way"


@dataclass(frozen=True, slots=True)
class Proposal:
    """One way to the target: what changes, in the order of the build, the new ingredients last.

    ``values`` are the readings then, (READING_COUNT,); ``more`` how much higher each may be. ``ethanol_change_g`` is grams
    of pure alcohol against now. The new allergens and cautions are keys; ``new_unknown_allergens`` are items of which
    nobody knows. ``objective`` is what the search made least (``terms``).
    """

    merit: Merit
    changes: tuple[Change, ...]
    values: Numbers
    more: Numbers
    gives_way: tuple[GivesWay, ...]
    ethanol_change_g: float
    new_allergens: tuple[str, ...]
    new_unknown_allergens: tuple[int, ...]
    new_cautions: tuple[str, ...]
    objective: float

    def value(self, key: str) -> float | None:
        """A reading with this proposal, or ``None`` where there is none."""
        number = float(self.values[READING_INDEX[key]])
        return None if number != number else number


class Outcome(StrEnum):
    """How it went."""

    FOUND = "found"
    GIVES_WAY = "gives way"
    """There are proposals, and none brings every reading into its band."""
    ALREADY = "already"
    """It lies in its bands, and no pour brings it nearer."""
    NO_NEARER = "no nearer"
    OUT_OF_REACH = "out of reach"
    """Whatever is poured breaks a limit."""
    ALL_HELD = "all held"
    NOTHING_POURED = "nothing poured"
    NO_LIQUID = "no liquid"
    NOT_COMPUTED = "not computed"
    NO_AIMS = "no aims"


@dataclass(frozen=True, slots=True)
class Refused:
    """An extra ingredient that was not used, and why."""

    item_id: int
    words: str


@dataclass(frozen=True, slots=True)
class Answer:
    """Up to three proposals, the best first. ``words`` say why there is none, or what stays out of reach; ``out_of_reach``
    are readings outside their band that no line moves, ``unknown`` those that nobody knows."""

    outcome: Outcome
    words: str
    proposals: tuple[Proposal, ...] = ()
    out_of_reach: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    refused: tuple[Refused, ...] = ()


@dataclass(frozen=True, slots=True)
class Dragged:
    """The amounts that bring a dragged reading where it is wanted, of the steps that move, and the readings then,
    (READING_COUNT,)."""

    amounts: Mapping[int, Amount]
    values: Numbers

    def value(self, key: str) -> float | None:
        """A reading with these amounts, or ``None`` where there is none."""
        number = float(self.values[READING_INDEX[key]])
        return None if number != number else number
