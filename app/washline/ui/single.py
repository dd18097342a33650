"""One process per user: a second start hands its files to the first and ends."""

import hashlib
import json
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtNetwork import QLocalServer, QLocalSocket

WAIT_MS = 1000
_END = b"\n"


class Single(QObject):
    """``asked`` carries the files of a second start. Named by the user's own data folder."""

    asked = Signal(object)

    def __init__(self, data: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        mark = hashlib.sha1(str(data).encode(), usedforsecurity=False).hexdigest()[:16]
        self.name = f"washline-{mark}"
        self._server = QLocalServer(self)
        self._server.setSocketOptions(QLocalServer.SocketOption.UserAccessOption)
        self._server.newConnection.connect(self._answer)
        self._parts: dict[QLocalSocket, bytes] = {}

    def is_taken(self, files: Sequence[Path]) -> bool:
        """Whether another process has taken the files; else this one listens from now on.

        Nobody answers where that process was killed: its name is then taken over.
        """
        call = QLocalSocket()
        call.connectToServer(self.name)
        if call.waitForConnected(WAIT_MS):
            call.write(json.dumps([str(path) for path in files]).encode() + _END)
            call.waitForBytesWritten(WAIT_MS)
            has_answer = call.waitForReadyRead(WAIT_MS)
            call.disconnectFromServer()
            if has_answer:
                return True
        QLocalServer.removeServer(self.name)
        self._server.listen(self.name)
        return False

    @Slot()
    def _answer(self) -> None:
        call = self._server.nextPendingConnection()
        self._parts[call] = b""
        call.readyRead.connect(self._read)
        call.disconnected.connect(self._forget)

    @Slot()
    def _read(self) -> None:
        call = self.sender()
        if not isinstance(call, QLocalSocket):
            return
        self._parts[call] = self._parts.get(call, b"") + bytes(call.readAll().data())
        if not self._parts[call].endswith(_END):
            return
        try:
            words = json.loads(self._parts[call])
        except ValueError:
            words = []
        self._parts[call] = b""
        call.write(b"ok\n")
        call.flush()
        self.asked.emit([Path(word) for word in words if isinstance(word, str)])

    @Slot()
    def _forget(self) -> None:
        call = self.sender()
        if isinstance(call, QLocalSocket):
            self._parts.pop(call, None)
            call.deleteLater()

    def close(self) -> None:
        """Listens no more."""
        self._server.close()
