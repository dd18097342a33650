"""The credits that the licences of data, fonts and libraries ask for."""

import csv
from dataclasses import dataclass
from functools import cache

from washline.assets import resource


@dataclass(frozen=True, slots=True)
class Credit:
    """Who is credited, in the wording that is asked for, and the licence. ``is_data`` marks sources of the pantry's
    figures, owed wherever the figures are shown."""

    key: str
    name: str
    text: str
    licence: str
    is_data: bool

    @property
    def line(self) -> str:
        """The credit with its licence in one line."""
        return f"{self.text} ({self.licence})"


@cache
def credit_list() -> tuple[Credit, ...]:
    """All credits, data first, then fonts and libraries."""
    with resource("texts", "credits.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return tuple(
        Credit(row["key"], row["name"], row["text"], row["licence"], bool(row["named_in_source"]))
        for row in rows
    )
