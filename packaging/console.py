"""What the set-up says and how it runs other programs."""

from __future__ import annotations

import subprocess
import sys
from typing import Any, NoReturn


def say(text: str) -> None:
    """Tells the user what happens; results belong to standard output, this does not."""
    print(f"washline: {text}", file=sys.stderr, flush=True)


def stop(text: str) -> NoReturn:
    """Ends with exit status 1 and a sentence."""
    raise SystemExit(f"washline: {text}")


def run(*command: object, **options: Any) -> None:
    """Runs a program that must succeed."""
    words = [str(word) for word in command]
    code = subprocess.run(words, check=False, **options).returncode
    if code:
        stop(f"this failed with exit status {code}: {' '.join(words)}")


def succeeds(*command: object, **options: Any) -> bool:
    """Runs a program and tells whether it succeeded."""
    try:
        return subprocess.run([str(word) for word in command], check=False, **options).returncode == 0
    except OSError:
        return False


def output(*command: object, **options: Any) -> str | None:
    """What a program prints on standard output, or None if it fails or cannot be started."""
    options.setdefault("stderr", subprocess.DEVNULL)
    try:
        ended = subprocess.run(
            [str(word) for word in command], check=False, stdout=subprocess.PIPE, **options
        )
    except OSError:
        return None
    return None if ended.returncode else ended.stdout.decode(errors="replace")
