"""How long the logbook and a trend take on the screen with ten years of records: run by hand.

`python tests/benchmarks/trend_screen.py`. A trend of one station may take 0.3 s; no key may wait for longer than a
tenth of a second, not even while years are being read. Every line is printed with its bar; the exit status is 1
when one is missed.
"""

import asyncio
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path[:0] = [str(Path(__file__).resolve().parents[2]), str(Path(__file__).resolve().parents[1] / "round")]

from school import School  # noqa: E402
from textual.pilot import Pilot  # noqa: E402

from tests.benchmarks.trends import TODAY, fill  # noqa: E402
from walkabout.screens.app import Walkabout  # noqa: E402

KEY, TREND = 0.1, 0.3


class Stalls:
    """How long the program was busy at a time, at most, while something went on."""

    def __init__(self) -> None:
        self.worst = 0.0
        self._task: asyncio.Task[None] | None = None

    async def __aenter__(self) -> "Stalls":
        """Begin to watch."""
        self._task = asyncio.create_task(self._watch())
        await asyncio.sleep(0)
        return self

    async def __aexit__(self, *_: object) -> None:
        """Look no longer."""
        if self._task is not None:
            self._task.cancel()

    async def _watch(self) -> None:
        while True:
            before = time.perf_counter()
            await asyncio.sleep(0.001)
            self.worst = max(self.worst, time.perf_counter() - before)


async def until(pilot: Pilot[Any], done: Callable[[], bool]) -> float:
    """Return how many seconds it takes until something is true."""
    start = time.perf_counter()
    while not done():
        await asyncio.sleep(0.002)
        if time.perf_counter() - start > 30:
            raise TimeoutError
    return time.perf_counter() - start


def said(name: str, took: float, bar: float) -> bool:
    """Print how long something took beside its bar; say whether it was kept."""
    print(f"{name:58} {1000 * took:7.0f} ms  (at most {1000 * bar:.0f})")
    return took <= bar


async def measured(app: Walkabout) -> bool:
    """Open the logbook and a trend, over every span."""
    kept = []
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause(0.5)
        async with Stalls() as stalls:
            app.simulate_key("b")
            took = await until(pilot, lambda: getattr(app.screen, "moved", None) is not None)
        kept.append(said("the logbook, with what has shifted", took, 1.0))
        kept.append(said("  the longest that a key would have waited", stalls.worst, KEY))
        await pilot.press("down", "down", "enter")
        await pilot.pause()
        async with Stalls() as stalls:
            app.simulate_key("enter")
            took = await until(pilot, lambda: getattr(app.screen, "trend", None) is not None)
        kept.append(said(f"the trend of {app.screen.question_id}, 12 weeks", took, TREND))  # type: ignore[attr-defined]
        for name, days in (("a year", 300), ("ten years", 3000)):
            async with Stalls() as stalls:
                app.simulate_key("right")
                took = await until(pilot, lambda days=days: _whole(app, days))  # type: ignore[misc]
            count = len(app.screen.series.points)  # type: ignore[attr-defined]
            kept.append(said(f"the same, {name}, {count} readings", took, TREND))
            kept.append(said("  the longest that a key would have waited", stalls.worst, KEY))
    return all(kept)


def _whole(app: Walkabout, days: int) -> bool:
    """Say whether a trend is there whose readings span so many days."""
    series, trend = app.screen.series, app.screen.trend  # type: ignore[attr-defined]
    return trend is not None and (series.points[-1].at - series.points[0].at).days > days


def main() -> int:
    """Make ten years of records and measure."""
    with tempfile.TemporaryDirectory() as place:
        school = School(Path(place) / "room", day=TODAY)
        print(f"{fill(school.folder, school.room, 195)} answers in ten years")
        school.again()
        return 0 if asyncio.run(measured(Walkabout(school.room, walker="AR"))) else 1


if __name__ == "__main__":
    sys.exit(main())
