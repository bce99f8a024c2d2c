"""Runs a command in a pseudo-terminal and says when a text was painted."""

import contextlib
import fcntl
import os
import pty
import re
import select
import signal
import struct
import termios
import time
from collections.abc import Sequence

_ESCAPES = re.compile(rb"\x1b\[[0-9;:?<>=]*[ -/]*[@-~]|\x1b[()][A-Z0-9]|\x1b[=>]")


class Terminal:
    """A command in a pseudo-terminal of 100 columns and 30 lines."""

    def __init__(self, command: Sequence[str], environment: dict[str, str]) -> None:
        self.started = time.perf_counter()
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            os.environ.update(environment, TERM="xterm-256color", COLUMNS="100", LINES="30")
            os.execvp(command[0], command)
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", 30, 100, 0, 0))
        self._seen = b""

    def until(self, text: bytes, seconds: float = 20) -> float:
        """Read until `text` was painted since the last call; return the time at which it came."""
        self._seen = b""
        end = time.perf_counter() + seconds
        while time.perf_counter() < end:
            if select.select([self.fd], [], [], 0.05)[0]:
                try:
                    self._seen += os.read(self.fd, 65536)
                except OSError:
                    break
                if text in _ESCAPES.sub(b"", self._seen):
                    return time.perf_counter()
        raise TimeoutError(f"{text!r} was not painted; seen: {_ESCAPES.sub(b'', self._seen)[-300:]!r}")

    def settle(self, seconds: float = 0.25) -> None:
        """Read until nothing has come for so long."""
        while select.select([self.fd], [], [], seconds)[0]:
            try:
                if not os.read(self.fd, 65536):
                    return
            except OSError:
                return

    def press(self, keys: bytes) -> float:
        """Press keys; return the time."""
        at = time.perf_counter()
        os.write(self.fd, keys)
        return at

    def kill(self, number: int = signal.SIGKILL) -> None:
        """End the command."""
        with contextlib.suppress(ProcessLookupError):
            os.kill(self.pid, number)
        with contextlib.suppress(ChildProcessError):
            os.waitpid(self.pid, 0)
        os.close(self.fd)
