"""How long a sowing plan takes: a year for ten stations, and how that grows with weeks and stations.

    python tests/benchmarks/succession.py

Each size is planned once with the terms and closures of a school year. Loading the solver is timed apart, in a
process of its own, against a bare start of Python; the ratio counts.
"""

import subprocess
import sys
import time
from datetime import date, timedelta
from statistics import median

from walkabout.almanac.course import courses
from walkabout.almanac.learned import learned
from walkabout.almanac.model import Basis
from walkabout.almanac.succession import plan
from walkabout.almanac.wanted import Wanted
from walkabout.growing.crops import load
from walkabout.room.model import Closure, Lamp, Room, Station

TODAY = date(2026, 11, 25)
CLOSED = (("12-19", 16), ("02-15", 7), ("03-29", 14), ("05-31", 5), ("07-17", 44), ("10-25", 7))
SIZES = ((11, 2), (26, 5), (52, 3), (52, 10))
AMOUNTS = (6, 12, 40)
ROUNDS = 7


def basis(stations: int) -> Basis:
    """Return a room with a sowing shelf of 96 places and so many stations of 24."""
    every = [Station(key="shelf", name="Shelf", kind="shelf", places=96, lamps=("bar",))]
    every += [
        Station(key=f"raft-{one}", name=f"Raft {one}", kind="raft", places=24, lamps=("bar",))
        for one in range(stations)
    ]
    closures = []
    for year in (2026, 2027, 2028):
        for first, days in CLOSED:
            begins = date.fromisoformat(f"{year}-{first}")
            closures.append(Closure(first=begins, last=begins + timedelta(days=days - 1)))
    room = Room(lamps={"bar": Lamp()}, stations=tuple(every), closures=tuple(closures))
    return Basis(room=room, crops=load(), checklists={}, today=TODAY)


def year() -> None:
    """Print how long each size takes, and how good its plan is."""
    print("weeks stations amount  seconds  sowings  short weeks  how good")
    for weeks, stations in SIZES:
        for amount in AMOUNTS:
            on = basis(stations)
            first = TODAY + timedelta(weeks=10)
            last = first + timedelta(weeks=weeks) - timedelta(days=1)
            known = learned(on)
            wanted = Wanted(crop="lettuce", amount=float(amount), unit="heads", first=first, last=last)
            found = plan(wanted, on, courses(on, known), known)
            short = sum(week.short > 0 for week in found.weeks)
            good = "perhaps not the best" if any("perhaps not" in one for one in found.notes) else "best"
            print(f"{weeks:5} {stations:8} {amount:6} {found.seconds:8.2f} {len(found.sowings):8} {short:12}  {good}")


def loading() -> None:
    """Print what loading the solver costs, in turns with a bare start of Python."""
    times: dict[str, list[float]] = {"pass": [], "import scipy.optimize": []}
    for _ in range(ROUNDS):
        for code, taken in times.items():
            begun = time.perf_counter()
            subprocess.run([sys.executable, "-c", code], check=True)
            taken.append(time.perf_counter() - begun)
    bare, solver = (median(one) for one in times.values())
    print(f"\nloading the solver: {solver * 1000:.0f} ms, {solver / bare:.1f} times a bare start of Python")


if __name__ == "__main__":
    year()
    loading()
