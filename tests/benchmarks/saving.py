"""How long it takes until an answer is safe: run by hand, `python tests/benchmarks/saving.py`.

Three things take turns on the same disk, so that what else the machine does strikes them alike:
(a) adding a line of the same length to a bare file and forcing it to the disk,
(b) `Records.save` in a room in its first month,
(c) `Records.save` in a room with ten years of records.
"""

import os
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from statistics import median, quantiles

import msgspec

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from walkabout.records import lines
from walkabout.records.book import Records
from walkabout.records.keys import new_key
from walkabout.records.model import Answer

YEARS, PER_MONTH, TURNS = 10, 900, 600
TODAY = date(2026, 5, 1)


def answer(at: datetime) -> Answer:
    """Return an answer of usual size (some 230 bytes as JSON)."""
    return Answer(
        key=new_key("a", at),
        round=new_key("r", at),
        at=at,
        walker="AR",
        station="raft",
        question="raft.conductivity",
        value=1.62,
        unit="mS/cm",
        seconds=11.5,
        verdict="good",
        why="within 1.2 to 1.8 mS/cm for lettuce",
    )


def fill(records: Records) -> None:
    """Write ten years, month by month, up to the month before TODAY."""
    for back in range(YEARS * 12, 0, -1):
        year, month = divmod(TODAY.year * 12 + TODAY.month - 1 - back, 12)
        first = datetime(year, month + 1, 1, 8, tzinfo=UTC)
        with records.together():
            for minute in range(PER_MONTH):
                records.save(answer(first + timedelta(minutes=minute)))


def timed(action: Callable[[], None]) -> float:
    """Return how many microseconds an action takes."""
    start = time.perf_counter()
    action()
    return (time.perf_counter() - start) * 1e6


def main() -> None:
    """Measure, and print medians and ratios."""
    with tempfile.TemporaryDirectory(dir=sys.argv[1] if len(sys.argv) > 1 else None) as place:
        young, old = Path(place, "young"), Path(place, "old")
        young.mkdir()
        old.mkdir()
        filling = Records.open(old, TODAY)
        took = timed(lambda: fill(filling))
        filling.close()
        print(f"wrote {YEARS * 12} months of {PER_MONTH} answers in {took / 1e6:.1f} s")

        now = datetime(2026, 5, 1, 8, tzinfo=UTC)
        bare = os.open(Path(place, "bare"), os.O_WRONLY | os.O_APPEND | os.O_CREAT)
        size = len(lines.line("answers", 100, msgspec.json.encode(answer(now))))

        def append() -> None:
            os.write(bare, b"x" * size)
            os.fsync(bare)

        first, tenth = Records.open(young, TODAY), Records.open(old, TODAY)
        tenth.answers(since=date(2000, 1, 1))
        times: dict[str, list[float]] = {"a": [], "b": [], "c": []}
        for turn in range(TURNS):
            one = answer(now + timedelta(minutes=turn))
            actions = {"a": append, "b": lambda: first.save(one), "c": lambda: tenth.save(one)}  # noqa: B023
            order = "abc"[turn % 3 :] + "abc"[: turn % 3]
            for name in order:
                times[name].append(timed(actions[name]))
        os.close(bare)
        first.close()
        tenth.close()

        names = {
            "a": f"append {size} bytes and fsync",
            "b": "save, first month",
            "c": f"save, after {YEARS} years",
        }
        for name, taken in times.items():
            print(f"({name}) {names[name]:32} median {median(taken):6.0f} us, p95 {quantiles(taken, n=20)[18]:6.0f} us")
        b_a, c_b = median(times["b"]) / median(times["a"]), median(times["c"]) / median(times["b"])
        print(f"b/a {b_a:.2f} (wanted: 3 at most)   c/b {c_b:.2f} (wanted: 1.2 at most)")

        def reopen() -> None:
            Records.open(old, TODAY).answers(since=TODAY)

        month = median(timed(reopen) for _ in range(20))
        print(f"open the old room and read this month ({TURNS} answers): {month / 1000:.1f} ms")
        everything = timed(
            lambda: print(len(Records.open(old, TODAY).answers(since=date(2000, 1, 1))), "answers:", end=" ")
        )
        print(f"read all of them: {everything / 1000:.0f} ms")


if __name__ == "__main__":
    main()
