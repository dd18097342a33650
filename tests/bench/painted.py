"""When an act is on the screen: from its start until the window has painted all that it asked to have painted."""

import time
from collections.abc import Callable

from washline.ui.after_paint import AfterPaint


class Painted:
    """Times an act until its frame is painted. What the window does after that frame is no part of it."""

    def __init__(self, process_events: Callable[[], None]) -> None:
        self._process_events = process_events
        self._end = 0.0
        self._moment = AfterPaint()
        self._moment.passed.connect(self._stop)

    def _stop(self) -> None:
        self._end = time.perf_counter()

    def milliseconds(self, act: Callable[[], object]) -> float:
        """How long an act takes until it is painted, in ms."""
        self._process_events()
        # Asked for first, so that it comes before whatever the window lets wait for the same moment.
        self._moment.wait()
        start = time.perf_counter()
        act()
        self._process_events()
        return (self._end - start) * 1000.0
