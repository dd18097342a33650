import numpy as np

from washline import __version__
from washline.engine.stamp import engine_stamp


def test_a_stamp_names_the_code_the_tables_and_numpy() -> None:
    version, revision, tables, *numpy = engine_stamp().split("-")
    assert version == __version__
    assert int(revision) > 0
    assert len(tables) == 16
    assert numpy == ["numpy", np.__version__]
