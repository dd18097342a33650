"""Sets up everything and makes the pictures of the README anew:  python3 packaging/picture.py"""

from __future__ import annotations

import subprocess
import sys

if sys.version_info < (3, 8):
    sys.exit("washline: needs Python 3.11 or newer, and this is " + sys.version.split()[0])

import environment

PICTURES = {"window.png": "light", "window-dark.png": "dark"}


def make() -> int:
    """Takes each picture in a process of its own, offscreen, of the window on a fresh demo house book."""
    environment.set_up("run")
    variables = {**environment.child_variables(), "QT_QPA_PLATFORM": "offscreen"}
    for name, theme in PICTURES.items():
        target = environment.FOLDER / "pictures" / name
        command = [
            str(environment.PYTHON),
            str(environment.ROOT / "tests" / "pictures" / "take.py"),
            str(target),
            theme,
        ]
        code = subprocess.run(command, env=variables).returncode
        if code:
            return code
        print(f"washline: {target.relative_to(environment.ROOT)}", file=sys.stderr)
    return 0


if __name__ == "__main__":
    sys.exit(make())
