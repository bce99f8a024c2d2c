"""Start and key times as ratios to bare textual programs, measured in turn in one run.

    python tests/benchmarks/start_and_keys.py [ROUNDS]

Start: from process start to the first painted question, over a textual app that paints one line (at
most 1.5). Key: from a key to the next question painted, over a bare option list whose highlight moves
(at most 1.5). All run from compiled modules, as an installed program does; the first turn compiles them.
"""

import os
import select
import shutil
import statistics
import sys
import tempfile
import time
from datetime import datetime
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parents[1])]

from terminal import Terminal  # noqa: E402

from walkabout.demo.make import make  # noqa: E402

LINE = """
from textual.app import App
from textual.widgets import Static
class Line(App):
    def compose(self):
        yield Static("painted at last")
Line().run()
"""
LIST = """
from textual.app import App
from textual.widgets import OptionList
class Listed(App):
    def compose(self):
        yield OptionList(*(f"answer {n}" for n in range(12)))
    def on_option_list_option_highlighted(self, event):
        self.sub_title = str(event.option_index)
Listed().run()
"""
OPENS = "import sys; from walkabout.cli import main; sys.argv = ['walkabout', 'round', '--as', 'HM']; main()"


def main() -> None:
    """Measure and print medians and ratios."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 12
    with tempfile.TemporaryDirectory() as folder:
        made = Path(folder) / "made"
        make(made, datetime.now().astimezone().date())
        room = Path(folder) / "room"
        environment = {
            "WALKABOUT_ROOM": str(room),
            "WALKABOUT_DATA": folder,
            "PYTHONPATH": str(HERE.parents[1]),
            "TEXTUAL_ANIMATIONS": "none",
            "PYTHONDONTWRITEBYTECODE": "",
            "PYTHONPYCACHEPREFIX": str(Path(folder) / "compiled"),
        }
        start_line, start_round, key_list, key_round = [], [], [], []
        for turn in range(rounds + 1):
            shutil.rmtree(room, ignore_errors=True)
            shutil.copytree(made, room)
            line = Terminal([sys.executable, "-c", LINE], environment)
            took_line = line.until(b"painted at last") - line.started
            line.kill()
            listed = Terminal([sys.executable, "-c", LIST], environment)
            listed.until(b"answer 11")
            listed.settle()
            took_list = keys(listed, b"\x1b[B", 8)
            listed.kill()
            walk = Terminal([sys.executable, "-c", OPENS], environment)
            took_round = walk.until(b"doorway") - walk.started
            walk.settle()
            took_walk = keys(walk, b" ", 1)
            walk.kill()
            if turn:  # the first turn compiles, and warms the disk cache
                start_line.append(took_line)
                start_round.append(took_round)
                key_list += took_list
                key_round += took_walk
    report("start to first painted question", start_round, start_line, 1.5)
    report("key to next question painted", key_round, key_list, 1.5)


def keys(terminal: Terminal, key: bytes, times: int) -> list[float]:
    """Return the seconds from each key to the last byte of what it painted."""
    found = []
    for _ in range(times):
        pressed = terminal.press(key)
        found.append(painted(terminal) - pressed)
    return found


def painted(terminal: Terminal) -> float:
    """Return when the last byte of a burst came, which ends with 80 ms of silence."""
    last = time.perf_counter()
    while select.select([terminal.fd], [], [], 0.08)[0]:
        os.read(terminal.fd, 65536)
        last = time.perf_counter()
    return last


def report(name: str, ours: list[float], bare: list[float], bar: float) -> None:
    """Print medians in ms and the ratio against its bar."""
    one, other = statistics.median(ours) * 1e3, statistics.median(bare) * 1e3
    print(f"{name}: {one:.1f} ms, bare {other:.1f} ms, ratio {one / other:.2f} (at most {bar})")


if __name__ == "__main__":
    main()
