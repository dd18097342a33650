"""Timing against a floor: what a figure is compared with is measured in the same run, in turns with it."""

import gc
import os
import statistics
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Measured:
    """One row of the bench: ``floor``, ``median`` and ``p99`` in ms (or MB), ``ratio`` median over floor, ``mark`` the
    most that it may be."""

    name: str
    floor: float
    median: float
    p99: float
    ratio: float
    mark: float
    holds: bool

    def row(self) -> dict[str, object]:
        """The row as JSON writes it."""
        return asdict(self)


def measured(name: str, floors: list[float], times: list[float], mark: float) -> Measured:
    """The row of a figure from its samples and those of its floor."""
    floor, median = statistics.median(floors), statistics.median(times)
    ordered = sorted(times)
    p99 = ordered[min(len(ordered) - 1, round(0.99 * len(ordered)))]
    ratio = median / floor
    return Measured(
        name, round(floor, 4), round(median, 4), round(p99, 4), round(ratio, 3), mark, ratio <= mark
    )


def milliseconds(work: Callable[[], object]) -> float:
    """How long a piece of work takes, in ms."""
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1000.0


def in_turns(
    floor: Callable[[], object], work: Callable[[], object], times: int
) -> tuple[list[float], list[float]]:
    """Samples of a floor and of a piece of work, taken in turns so that both meet the same disturbances."""
    floors, samples = [], []
    floor()
    work()
    gc.collect()
    gc.freeze()
    for _ in range(times):
        floors.append(milliseconds(floor))
        samples.append(milliseconds(work))
    return floors, samples


def write_and_sync(path: Path) -> Callable[[], None]:
    """The floor of durability: a file that grows by 4 KiB, synced to the disk."""
    block = os.urandom(4096)
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND)

    def work() -> None:
        os.write(descriptor, block)
        os.fsync(descriptor)

    return work
