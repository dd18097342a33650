"""The rows of the house book's list as plain values: light enough to be kept and shown before anything is computed."""

from enum import StrEnum

import msgspec
from msgspec import Struct


class Section(StrEnum):
    """The groups of the list, from the top."""

    DRINKS = "drinks"
    PARTS = "parts"
    RAWS = "raws"
    TARGETS = "targets"


SECTION_NAMES = {
    Section.DRINKS: "Drinks",
    Section.PARTS: "House-made",
    Section.RAWS: "Raw ingredients",
    Section.TARGETS: "Targets",
}


class BookRow(Struct, frozen=True, gc=False, kw_only=True):
    """One row: ``key`` is the id of an item or target.

    ``detail`` is the second line or the quiet words behind the name, ``aside`` what stands at the right edge. ``depth``
    is 1 for a twist under its parent. ``radii`` are those of the small shape (``None``: the reading is not known),
    ``shares`` the parts of sugars, acids and ethanol of the mass (``None``: not known yet). ``is_stale``: the figures
    are the last known ones. ``spoken`` is the row in words.
    """

    key: int
    name: str
    full_name: str
    detail: str = ""
    aside: str = ""
    depth: int = 0
    radii: tuple[float | None, ...] = ()
    shares: tuple[float, float, float] | None = None
    is_stale: bool = False
    is_out: bool = False
    tip: str = ""
    spoken: str = ""


class SectionRows(Struct, frozen=True):
    """The rows of one group as they were last shown, with the count of all."""

    section: Section
    count: int
    rows: tuple[BookRow, ...]


class LastList(Struct, frozen=True):
    """The list as it was when the window was closed: shown at the next start until the house book is read.

    ``path``, ``size`` and ``modified_ns`` tell whether the file is still the one that it was made from.
    """

    path: str
    size: int
    modified_ns: int
    house_name: str
    is_demo: bool
    sections: tuple[SectionRows, ...]
    current: tuple[Section, int] | None = None


def write_last_list(last: LastList) -> bytes:
    """The bytes to keep."""
    return msgspec.msgpack.encode(last)


def read_last_list(data: bytes) -> LastList | None:
    """The list that was kept; ``None`` where the bytes are of another version or damaged."""
    try:
        return msgspec.msgpack.decode(data, type=LastList)
    except msgspec.MsgspecError:
        return None
