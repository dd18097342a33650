"""What a house-made part is made of by mass, in groups that a person can read: one line, and the shares of a bar."""

from dataclasses import dataclass

import numpy as np

from washline.chemistry.components import ACIDS, ETHANOL, FAT, NACL, PROTEIN, SUGARS, WATER
from washline.engine.state import (
    MASSES,
    UNKNOWN_ACID,
    UNKNOWN_ETHANOL,
    UNKNOWN_SALT,
    UNKNOWN_SUGAR,
    Numbers,
    mass_g,
)
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    LESS_THAN_LAST_DIGIT,
    UNIT_SPACE,
    NumberStyle,
    format_contribution,
)

SHOWS = 0.0005
"""A group of which nobody knows more than this share is said as it is."""

_GROUPS = (
    ("water", (WATER,), None),
    ("sugars", SUGARS, UNKNOWN_SUGAR),
    ("acids", ACIDS, UNKNOWN_ACID),
    ("ethanol", (ETHANOL,), UNKNOWN_ETHANOL),
    ("salt", (NACL,), UNKNOWN_SALT),
    ("fat", (FAT,), None),
    ("protein", (PROTEIN,), None),
)


@dataclass(frozen=True, slots=True)
class Group:
    """One group: its name, its share of the mass, and whether it may be more because something is not known."""

    key: str
    share: float
    is_at_least: bool = False


def composition(state: Numbers) -> tuple[Group, ...]:
    """The groups of a vessel (ROWS,), each share of its mass, what is left last; empty where there is nothing in it."""
    total = float(mass_g(state[:, None])[0])
    if not total > 0.0:
        return ()
    groups = []
    rest = 1.0
    for key, rows, unknown in _GROUPS:
        share = float(np.add.accumulate(state[MASSES][list(rows)])[-1]) / total
        more = float(state[unknown]) / total if unknown is not None else 0.0
        rest -= share
        if share > 0.0 or more > SHOWS:
            groups.append(Group(key, share, more > SHOWS))
    return (*groups, Group("other", max(rest, 0.0))) if rest > SHOWS else tuple(groups)


def composition_words(groups: tuple[Group, ...], style: NumberStyle = ENGLISH_STYLE) -> str:
    """The groups in one line: *water 54.2 % · sugars 36.5 % · acids at least 1.9 %*; what does not show is left out."""
    told = []
    for one in groups:
        written = format_contribution(100.0 * one.share, 1, style)
        if written and (written != LESS_THAN_LAST_DIGIT or one.is_at_least):
            least = "at least " if one.is_at_least else ""
            number = written if written != LESS_THAN_LAST_DIGIT else "0"
            told.append(f"{one.key} {least}{number}{UNIT_SPACE}%")
        elif one.is_at_least:
            told.append(f"{one.key} not known")
    return " · ".join(told)
