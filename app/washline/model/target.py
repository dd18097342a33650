"""A target: the ideal and the band that a house wants per reading."""

from msgspec import Struct


class Aim(Struct, frozen=True, gc=False):
    """One reading of a target: ``low`` ≤ ``ideal`` ≤ ``high`` in the reading's unit.

    A gate is a limit (alcohol-free) and not an axis of the radar.
    """

    reading: str
    low: float
    ideal: float
    high: float
    is_gate: bool = False
    source: str = ""
    note: str = ""


class Target(Struct, frozen=True, kw_only=True, gc=False, tag="target"):
    """A named set of aims in the order of the radar's axes; three to ten of them are axes."""

    id: int
    name: str
    aims: tuple[Aim, ...]

    @property
    def axes(self) -> tuple[Aim, ...]:
        """The aims that are axes of the radar, in order."""
        return tuple(aim for aim in self.aims if not aim.is_gate)

    @property
    def gates(self) -> tuple[Aim, ...]:
        """The aims that are limits."""
        return tuple(aim for aim in self.aims if aim.is_gate)


MOST_AXES = 10
FEWEST_AXES = 3
