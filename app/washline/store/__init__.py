"""House books on disk: one SQLite file each, written change by change with its journal."""

from washline.store.files import HouseBookFile
from washline.store.journal import Entry
from washline.store.problem import (
    BusyHouseBook,
    DamagedHouseBook,
    FileFault,
    HistoryRefused,
    HouseBookExists,
    HouseBookProblem,
    MissingHouseBook,
    NewerHouseBook,
    NoSpaceLeft,
    NotAHouseBook,
    ReadOnlyHouseBook,
    RowRefused,
)
from washline.store.recovery import Recovered, recover
from washline.store.results import StoredResult

__all__ = [
    "BusyHouseBook",
    "DamagedHouseBook",
    "Entry",
    "FileFault",
    "HistoryRefused",
    "HouseBookExists",
    "HouseBookFile",
    "HouseBookProblem",
    "MissingHouseBook",
    "NewerHouseBook",
    "NoSpaceLeft",
    "NotAHouseBook",
    "ReadOnlyHouseBook",
    "Recovered",
    "RowRefused",
    "StoredResult",
    "recover",
]
