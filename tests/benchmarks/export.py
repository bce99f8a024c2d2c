"""How long it takes to export ten years of records, to take them in again, and to take in a logger's file.

    python tests/benchmarks/export.py [YEARS]

A room of twelve stations, walked on five days a week, with a logger at each station. Times are of this machine and
stand beside that of writing the same number of cells with the csv module alone; the ratio counts.
"""

import csv
import random
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date, datetime, timedelta, timezone
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parents[1])]

from walkabout.commands.progress import progress  # noqa: E402
from walkabout.paper.export import PACKAGE, export, read_all, total_rows  # noqa: E402
from walkabout.paper.logger import take_in_file  # noqa: E402
from walkabout.paper.logger_back import meant, take_back, taken_before  # noqa: E402
from walkabout.paper.logger_columns import Mapped  # noqa: E402
from walkabout.paper.logger_file import read_logger_file  # noqa: E402
from walkabout.paper.logger_kept import Taking  # noqa: E402
from walkabout.paper.take_in import take_in  # noqa: E402
from walkabout.paper.writers import Form  # noqa: E402
from walkabout.records.book import Records  # noqa: E402
from walkabout.records.model import Answer, Asked, Happening, Job, Move, Planting, Round  # noqa: E402
from walkabout.records.model_measured import Hour  # noqa: E402
from walkabout.room.read import read_room  # noqa: E402

STATIONS = 12
ASKED = 20
LAST = date(2026, 11, 25)
ZONE = timezone(timedelta(hours=1))
FORMS: tuple[Form, ...] = ("csv", "parquet", "xlsx")


def make(folder: Path, years: int) -> None:
    """Write a room with so many years of records."""
    drawn = random.Random(3)
    folder.mkdir()
    stations = "".join(
        f'[[station]]\nkey = "s{number}"\nname = "Station {number}"\nkind = "raft"\n' for number in range(STATIONS)
    )
    (folder / "room.toml").write_text(f'name = "Ten years"\n[people.AR]\n[people.BK]\n{stations}')
    records = Records.open(folder, LAST)
    with records.together():
        for back in range(365 * years):
            day = LAST - timedelta(days=back)
            at = datetime(day.year, day.month, day.day, 8, tzinfo=ZONE)
            for number in range(STATIONS if back < 365 else 0):  # a year of one quantity by the hour
                for hour in range(24):
                    start = at.replace(hour=hour)
                    key = f"h{start:%Y%m%d%H}-s{number}"
                    mean = round(drawn.uniform(15, 25), 3)
                    records.save(
                        Hour(
                            key=key,
                            station=f"s{number}",
                            quantity="air temperature",
                            start=start,
                            n=30,
                            mean=mean,
                            low=mean - 1,
                            high=mean + 1,
                            unit="°C",
                        )
                    )
            if day.weekday() > 4:
                continue
            said = (Happening(at=at, by="AR", says="handed to BK by AR"),)
            asked = tuple(
                Asked(station=f"s{number % STATIONS}", question=f"q{number}", why="Asked because it is due.", seconds=6)
                for number in range(ASKED)
            )
            records.save(Round(key=f"r{back:05}", day=day, started=at, walker="AR", asked=asked))
            for number in range(ASKED):
                records.save(
                    Answer(
                        key=f"a{back:05}{number:02}",
                        round=f"r{back:05}",
                        at=at + timedelta(seconds=7 * number),
                        walker="AR",
                        station=f"s{number % STATIONS}",
                        question=f"q{number}",
                        choices=("good",),
                        value=drawn.uniform(5, 7),
                        unit="pH",
                        note="as yesterday, said BK",
                        seconds=6.2,
                        verdict="good",
                    )
                )
            records.save(
                Job(
                    key=f"j{back:05}",
                    what="Top up",
                    station="s1",
                    who="pupil",
                    due=day,
                    made=at,
                    by="AR",
                    closed=at,
                    closed_by="BK",
                    history=said,
                )
            )
            if back % 7 == 0:
                moves = (Move(day=day, station="s1", by="AR"), Move(day=day, station="s2", by="BK"))
                records.save(Planting(key=f"p{back:05}", crop="lettuce", sown=day, count=12, moves=moves, history=said))
    records.close()


def timed(words: str, work: Callable[[], object]) -> float:
    """Do something and print how long it took."""
    begun = time.perf_counter()
    work()
    took = time.perf_counter() - begun
    print(f"{words:34} {took:7.2f} s", flush=True)
    return took


def tables(room: Path, to: Path, form: Form) -> None:
    """Export as the command does: reading, writing, with its bar."""
    read = read_room(room, ("raft",)).room
    assert read is not None
    everything = read_all(Records.open(room, LAST), read)
    with progress(total_rows(everything), "Writing tables") as bar:
        export(everything, room, to, form, ticks=bar.update)


def plain(source: Path, to: Path) -> None:
    """Write the same tables with the csv module alone, from rows in memory."""
    for path in source.glob("*.csv"):
        with path.open(newline="", encoding="utf-8") as file, (to / path.name).open("w", newline="") as into:
            csv.writer(into).writerows(csv.reader(file))


def logger(folder: Path, rows: int, step: timedelta = timedelta(minutes=2)) -> None:
    """Take in a file of so many rows and three columns, twice, and take it back."""
    start = datetime(2026, 5, 1)  # noqa: DTZ001 - a wall clock
    drawn = random.Random(4)
    lines = ["Time,a,b,c"]
    for number in range(rows):
        cells = ",".join(f"{drawn.uniform(10, 30):.2f}" for _ in range(3))
        lines.append(f"{start + step * number:%Y-%m-%d %H:%M:%S.%f},{cells}")
    content = "\n".join(lines).encode()
    kinds = ("air temperature", "humidity", "EC")
    columns = tuple(Mapped(name, what, "", "s1") for name, what in zip("abc", kinds, strict=True))
    taking = Taking(("Time",), "ymd", columns, "UTC")
    records = Records.open(folder, LAST)
    now = datetime(2027, 1, 1, tzinfo=ZONE)

    def once() -> None:
        take_in_file(read_logger_file(Path("x.csv"), content), content, taking, records, folder, now)

    timed(f"a logger's file of {rows} rows", once)
    timed("  the same file once more", once)
    timed("  taken back", lambda: take_back(meant("x.csv", taken_before(records, folder)), records, folder))
    records.close()


def main() -> None:
    """Measure and print."""
    years = int(sys.argv[1]) if len(sys.argv) > 1 else 10
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        timed(f"making {years} years", lambda: make(folder / "room", years))
        for form in FORMS:
            to = folder / form
            took = timed(f"export as {form}", lambda form=form, to=to: tables(folder / "room", to, form))
            if form == "csv":
                (folder / "plain").mkdir()
                bare = timed("  the csv module alone, read and write", lambda: plain(to, folder / "plain"))  # noqa: B023
                print(f"  ratio {took / bare:.1f}")
            timed("  take in", lambda form=form: take_in(folder / form / PACKAGE, folder / f"new-{form}"))
        for rows in (10_000, 100_000):
            logger(folder / "room", rows)
        # ten readings a second for a day
        logger(folder / "room", 864_000, timedelta(milliseconds=100))


if __name__ == "__main__":
    main()
