"""A closed terminal, HUP and TERM end the program cleanly; what was answered is on disk."""

import os
import signal
import sys
import time
from pathlib import Path

import pytest

from tests.benchmarks.terminal import Terminal
from tests.rooms import write_small_room
from walkabout.records.book import Records
from walkabout.room.calendar import local_now

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs a pseudo-terminal")

OPENS = [sys.executable, "-m", "walkabout", "round", "--as", "AR"]


def ended(terminal: Terminal, seconds: float = 10) -> int | None:
    """Return the exit status, reading on so that the program is not held up; None when it does not end."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        done, status = os.waitpid(terminal.pid, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        terminal.settle(0.05)
    return None


@pytest.mark.parametrize("how", ["HUP", "TERM", "closed"])
def test_the_end_is_clean(how: str, tmp_path: Path, alone: Path) -> None:
    """An answer given before the end is there afterwards, and the program is gone within seconds."""
    room = write_small_room(tmp_path / "room")
    environment = {
        "WALKABOUT_ROOM": str(room), "WALKABOUT_DATA": str(alone), "PYTHONPATH": str(Path(__file__).parents[2])
    }  # fmt: skip
    terminal = Terminal(OPENS, environment)
    terminal.until(b"doorway")
    terminal.settle()
    terminal.press(b" ")
    terminal.until(b"lamps")
    if how == "closed":
        os.close(terminal.fd)
        until = time.monotonic() + 10
        status = None
        while status is None and time.monotonic() < until:
            done, raw = os.waitpid(terminal.pid, os.WNOHANG)
            status = os.waitstatus_to_exitcode(raw) if done else None
            time.sleep(0.05)
    else:
        os.kill(terminal.pid, getattr(signal, f"SIG{how}"))
        status = ended(terminal)
    records = Records.open(room, local_now().date())

    assert status is not None, "it did not end"
    assert status in (129, 143, 0)
    assert [one.question for one in records.answers(local_now().date())] == ["doorway"]
    assert records.told == []
