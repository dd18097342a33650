"""The stamp of a result: two rows with the same stamp were computed by the same code on the same tables."""

import hashlib
from functools import cache

import numpy as np

from washline import __version__
from washline.assets import resource
from washline.model.reading import READING_KEYS

ENGINE_REVISION = 4
"""Raised by hand whenever a step, a reading or a formula changes what it gives."""


@cache
def engine_stamp() -> str:
    """Version, revision and readings of the engine, digest of its tables, and the NumPy that adds them up."""
    digest = hashlib.sha256(" ".join(READING_KEYS).encode())
    for table in sorted(resource("tables").glob("*.csv")):
        digest.update(table.read_bytes())
    return f"{__version__}-{ENGINE_REVISION}-{digest.hexdigest()[:16]}-numpy-{np.__version__}"
