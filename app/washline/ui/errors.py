"""What nobody caught: written to the log once, said in the window, never in a box that stops the work."""

import logging
import logging.handlers
import sys
import traceback
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QObject, Qt, Signal

from washline.problem import UserError

LARGEST_LOG_BYTES = 500_000
_log = logging.getLogger("washline")


class ErrorReporter(QObject):
    """Stands in for ``sys.excepthook``. ``reported`` carries a sentence and the detail to copy, in the window's thread.

    The same fault at the same place is logged and told once; a failing paint would else tell it sixty times a second.
    """

    reported = Signal(str, str)
    _raised = Signal(str, str)

    def __init__(self, log: Path | None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._seen: set[str] = set()
        self._before = sys.excepthook
        self._handler = _log_file(log)
        if self._handler is not None:
            _log.addHandler(self._handler)
        # A worker may raise: the signal carries it over to the window's thread.
        self._raised.connect(self.reported, Qt.ConnectionType.QueuedConnection)

    def install(self) -> None:
        """Takes over what nobody caught."""
        sys.excepthook = self._take

    def close(self) -> None:
        """Gives the hook back and closes the log."""
        sys.excepthook = self._before
        if self._handler is not None:
            _log.removeHandler(self._handler)
            self._handler.close()

    def _take(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if issubclass(kind, KeyboardInterrupt | SystemExit):
            self._before(kind, error, trace)
            return
        detail = "".join(traceback.format_exception(kind, error, trace))
        place = "".join(traceback.format_tb(trace)[-3:])
        key = f"{kind.__name__} {place}"
        if key in self._seen:
            return
        self._seen.add(key)
        if isinstance(error, UserError):
            _log.info("%s", error)
            self._raised.emit(str(error), "")
            return
        _log.error("%s", detail)
        last = traceback.extract_tb(trace)[-1:] if trace is not None else []
        where = f" ({Path(last[0].filename).name}, line {last[0].lineno})" if last else ""
        what = f"Something went wrong in the program{where}. What was kept before is safe."
        self._raised.emit(what, detail)


def _log_file(log: Path | None) -> logging.Handler | None:
    """A log that cannot be written is no reason not to start."""
    if log is None:
        return None
    try:
        log.parent.mkdir(parents=True, exist_ok=True)
        handler = logging.handlers.RotatingFileHandler(
            log, maxBytes=LARGEST_LOG_BYTES, backupCount=1, encoding="utf-8"
        )
    except OSError:
        return None
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
    return handler
