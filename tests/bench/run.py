"""The bench: every figure as a ratio to a floor measured in the same run.

python tests/bench/run.py --json FILE [--only NAME ...]
"""

import argparse
import json
import sys
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "app")]

from tests.bench import edits, ripples, windows  # noqa: E402
from tests.bench.measure import Measured  # noqa: E402

BENCHES: dict[str, Callable[[], Measured]] = {
    "key-to-painted": windows.key_to_painted,
    "house-made-key": windows.house_made_key,
    "commit-to-painted": windows.commit_to_painted,
    "saved-edit": edits.saved_edit,
    "ripple-10000": lambda: ripples.ripple(10_000, 400.0, 9),
    "ripple-100000": lambda: ripples.ripple(100_000, 1500.0, 5),
    "first-editable-frame": windows.first_editable_frame,
    "memory": windows.memory,
    "undo": edits.undo,
}


def main() -> int:
    """Runs the benches that were asked for; 0 whatever they measured: a missed mark is said, not hidden in a code."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--json", type=Path, required=True, help="file for the list of rows")
    parser.add_argument("--only", nargs="*", choices=tuple(BENCHES), default=tuple(BENCHES))
    arguments = parser.parse_args()
    rows = []
    for name in arguments.only:
        row = BENCHES[name]()
        rows.append(row.row())
        verdict = "holds" if row.holds else "MISSED"
        print(f"{row.name:22} floor {row.floor:10.3f}  median {row.median:10.3f}  ratio {row.ratio:8.2f}"
              f"  mark {row.mark:6g}  {verdict}", flush=True)  # fmt: skip
    arguments.json.write_text(json.dumps(rows, indent=2) + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
