"""How long a trend takes with ten years of records: run by hand, `python tests/benchmarks/trends.py [DAYS_A_YEAR]`.

A trend of one station may take 0.3 s, and the watch in the next round 5 ms of the start. Every line is printed with
its bar; the exit status is 1 when one is missed.
"""

import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from random import Random
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.round.school import School
from walkabout.checklist.model import Checklist
from walkabout.insight.trend import trend
from walkabout.records.book import Records
from walkabout.records.keys import new_key
from walkabout.records.model import Answer
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.heat import heat
from walkabout.round.opened import OpenRoom
from walkabout.round.trends import series_of

YEARS = 10
TODAY = date(2026, 9, 14)
FITS = 0.6
"""The share of what is due that fits into five minutes: some 45 answers a round."""


def fill(folder: Path, opened: OpenRoom, days_a_year: int) -> int:
    """Write ten years of rounds; return how many answers."""
    rng = Random(1)
    asked: list[tuple[str, Checklist]] = [(here.key, checklist) for here, checklist in opened.places()]
    every = [(key, question) for key, checklist in asked for question in checklist.question]
    records = Records.open(folder, TODAY)
    share = days_a_year / 365
    count = 0
    for month in range(YEARS * 12, 0, -1):
        start = TODAY - timedelta(days=round(month * 365.25 / 12))
        with records.together():
            for day in range(30):
                if rng.random() > share:
                    continue
                at = datetime.combine(start + timedelta(days=day), datetime.min.time(), tzinfo=UTC)
                for key, question in every:
                    if rng.random() * question.should > FITS:
                        continue
                    at += timedelta(seconds=12)
                    value = None
                    if question.reading is not None:
                        low, high = question.reading.likely
                        value = round(rng.gauss((low + high) / 2, (high - low) / 20), question.reading.decimals)
                    picked = (question.choices[0].id,) if question.choices else ()
                    records.save(
                        Answer(
                            key=new_key("a", at),
                            round="r-old",
                            at=at,
                            walker="AR",
                            station=key,
                            question=question.id,
                            value=value,
                            choices=picked,
                            verdict="good",
                            seconds=9.0,
                        )
                    )
                    count += 1
        records.fold()
    records.close()
    return count


def timed(name: str, bar: float, work: Callable[[], object], before: Callable[[], object] = lambda: None) -> bool:
    """Print the median of five runs in ms beside its bar; say whether it was kept."""
    took = []
    for _ in range(5):
        before()
        begun = time.perf_counter()
        work()
        took.append(time.perf_counter() - begun)
    found = median(took) * 1e3
    print(f"{name}: {found:.1f} ms (at most {bar * 1e3:g})")
    return found <= bar * 1e3


def main() -> int:
    """Measure and print; 1 when a bar is missed."""
    days_a_year = int(sys.argv[1]) if len(sys.argv) > 1 else 195
    with tempfile.TemporaryDirectory() as made:
        school = School(Path(made) / "room", day=TODAY)
        count = fill(school.folder, school.room, days_a_year)
        school.again()
        print(f"{count} answers in {YEARS} years")
        kept = []

        def opened_anew() -> None:
            school.again()

        for name, days in (("60 days", 60), ("a term", 110), ("a year", 365), ("ten years", 3660)):
            since = TODAY - timedelta(days=days)
            for question in ("ph", "level"):
                says = f"trend of the raft's {question}, {name}"
                kept.append(timed(says, 0.3, lambda q=question, s=since: shown(school, q, s), opened_anew))  # type: ignore[misc]
        year = TODAY - timedelta(days=365)
        kept.append(timed("heat strip of a year", 0.3, lambda: heat(school.room, year, TODAY), opened_anew))
        kept.append(timed("which readings have shifted", 0.005, lambda: every_watch(school), opened_anew))
    return 0 if all(kept) else 1


def shown(school: School, question: str, since: date) -> object:
    """Reckon all that a trend shows."""
    return trend(series_of(school.room, "tub", question, since))


def every_watch(school: School) -> list[str]:
    """Ask for every reading of the room whether it has shifted."""
    opened = school.room
    places = [(here.key, checklist) for here, checklist in opened.places() if here.key != WHOLE_ROOM or checklist]
    return [
        opened.shifted(key, question.id)
        for key, checklist in places
        for question in checklist.question
        if question.reading is not None
    ]


if __name__ == "__main__":
    sys.exit(main())
