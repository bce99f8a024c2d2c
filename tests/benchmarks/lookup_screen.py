"""From a key on the lookup screen to the last of what it paints, beside a bare option list, in one run.

    python tests/benchmarks/lookup_screen.py

Letters preview what is understood; enter ranks all causes anew, chooses the next look and says what to do; a
digit answers the look. The bar is a tenth of a second for each.
"""

import statistics
import sys
import tempfile
from datetime import datetime
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parents[1])]

from start_and_keys import LIST, keys, painted  # noqa: E402
from terminal import Terminal  # noqa: E402

from walkabout.demo.make import make  # noqa: E402

OPENS = "import sys; from walkabout.cli import main; sys.argv = ['walkabout']; main()"
SAID = ("white dust on old leaves, no webs", "lower leaves yellow, new ones curled", "sticky, black specks")
ROUNDS = 3


def main() -> None:
    """Measure and print medians, the slowest and ratios."""
    with tempfile.TemporaryDirectory() as folder:
        room = Path(folder) / "room"
        make(room, datetime.now().astimezone().date())
        environment = {
            "WALKABOUT_ROOM": str(room),
            "WALKABOUT_DATA": folder,
            "PYTHONPATH": str(HERE.parents[1]),
            "TEXTUAL_ANIMATIONS": "none",
        }
        bare: list[float] = []
        took: dict[str, list[float]] = {"letter": [], "enter": [], "answer": []}
        opening = []
        for _ in range(ROUNDS):
            listed = Terminal([sys.executable, "-c", LIST], environment)
            listed.until(b"answer 11")
            listed.settle()
            bare += keys(listed, b"\x1b[B", 8)
            listed.kill()
            screen = Terminal([sys.executable, "-c", OPENS], environment)
            screen.until(b"lookup")
            screen.settle(0.3)
            pressed = screen.press(b"l")
            opening.append(painted(screen) - pressed)
            screen.settle(0.3)
            for text in SAID:
                for letter in text:
                    took["letter"] += keys(screen, letter.encode(), 1)
                took["enter"] += keys(screen, b"\r", 1)
                took["answer"] += keys(screen, b"2", 1)
            screen.kill()
    other = statistics.median(bare) * 1e3
    print(f"a key in a bare list: {other:.1f} ms")
    print(f"opening the lookup: {statistics.median(opening) * 1e3:.0f} ms")
    for name, found in took.items():
        one, worst = statistics.median(found) * 1e3, max(found) * 1e3
        print(f"{name}: {one:.1f} ms, slowest {worst:.1f} ms, ratio {one / other:.1f} (at most 100 ms)")


if __name__ == "__main__":
    main()
