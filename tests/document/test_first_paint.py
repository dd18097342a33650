"""What the first paint does not need is not imported with the document."""

import subprocess
import sys

PROBE = """
import sys
sys.path[:0] = {path!r}
import washline.document.commands.twisting
import washline.document.document
print([name for name in ("sqlalchemy", "alembic", "sqlite3", "PySide6", "pint") if name in sys.modules])
"""


def test_the_document_itself_loads_neither_store_nor_window() -> None:
    probe = PROBE.format(path=sys.path)
    done = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
