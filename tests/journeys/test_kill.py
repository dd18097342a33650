"""The program is killed while somebody types: what the window showed as kept is there, and can be undone."""

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.journeys.driver import Person
from tests.journeys.victim import LINE

KILLS = 5


def type_until_killed(home: Path, acknowledged: int, wait_s: float) -> tuple[int, str]:
    """Returns the history's length and the amount that were acknowledged last."""
    folders = {f"XDG_{kind}_HOME": str(home / kind.lower()) for kind in ("CONFIG", "DATA", "STATE", "CACHE")}
    variables = {**os.environ, **folders, "HOME": str(home), "QT_QPA_PLATFORM": "offscreen"}
    variables["PYTHONPATH"] = os.pathsep.join(str(Path(folder).resolve()) for folder in sys.path if folder)
    with subprocess.Popen(
        [sys.executable, "-m", "tests.journeys.victim"],
        env=variables,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as victim:
        assert victim.stdout is not None
        assert victim.stderr is not None
        lines = [victim.stdout.readline() for _ in range(acknowledged)]
        time.sleep(wait_s)
        victim.send_signal(signal.SIGKILL)
        lines += victim.stdout.read().splitlines()
        assert lines[0], victim.stderr.read()
    count, amount = lines[-1].split(maxsplit=1)
    return int(count), amount.strip()


def press_and_see(person: Person, keys: str, amount: str) -> None:
    person.hands.press(keys)
    person.see(lambda: person.amount(LINE) == amount)


@pytest.mark.parametrize("hands", ["sent"], indirect=True)
def test_nothing_that_was_kept_is_missing_after_a_kill_and_undo_works(
    make_person: Callable[[], Person], tmp_path: Path
) -> None:
    source = random.Random(9)
    amounts = ["60 ml"]
    for _ in range(KILLS):
        count, amount = type_until_killed(tmp_path / "home", source.randint(1, 4), source.uniform(0.0, 0.08))
        person = make_person()
        person.start()
        # The change that was under way when it was killed may be there, whole, or not at all.
        assert len(person.labels) in (count, count + 1)
        amounts += [f"{20 + number % 50}.5 ml" for number in range(len(amounts) - 1, len(person.labels))]
        assert amounts[count] == amount
        assert person.amount(LINE) == amounts[-1]
        assert not person.document.is_read_only
        press_and_see(person, "Ctrl+Z", amounts[-2])
        press_and_see(person, "Ctrl+Shift+Z", amounts[-1])
        person.leave()
