"""How long the almanac of ten stations, 200 plantings and a year of dates takes, beside reading the demo's room.

Run: python tests/benchmarks/almanac.py. Everything is measured in one run, in turn; the ratio is what counts.
"""

from datetime import date, timedelta
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

from walkabout.almanac.model import Basis, Conditions, TankSeen
from walkabout.almanac.whole import almanac
from walkabout.checklist.read import read_checklists
from walkabout.growing.crops import load
from walkabout.records.model import Move, Planting, Promise
from walkabout.room.calendar import local_now
from walkabout.room.model import Closure, Lamp, Room, Station, Tank
from walkabout.round.opened import OpenRoom

TODAY = date(2026, 11, 25)
KINDS = ("shelf", "raft", "film", "drum", "vine", "pots", "case", "greens", "drip", "ebb")
CROPS = ("lettuce", "raft-lettuce", "basil", "mizuna", "tomato", "bean", "radish", "dill", "spinach", "pak-choi")
TURNS = 15


def basis() -> Basis:
    """Return a room of ten stations, 200 plantings, twelve promises and a school year with six closures."""
    tanks = {kind: Tank(litres=60) for kind in KINDS}
    stations = tuple(
        Station(key=kind, name=kind, kind=kind, lamps=("bar",), tank="" if kind in ("shelf", "pots", "case") else kind)
        for kind in KINDS
    )
    closures = tuple(
        Closure(first=TODAY + timedelta(days=30 + 55 * one), last=TODAY + timedelta(days=38 + 55 * one), name="break")
        for one in range(6)
    )
    plantings = tuple(
        Planting(
            key=f"p-{number}",
            crop=CROPS[number % len(CROPS)],
            sown=TODAY - timedelta(days=number % 90),
            count=12,
            started=14,
            moves=(Move(day=TODAY - timedelta(days=number % 90), station=KINDS[number % len(KINDS)]),),
        )
        for number in range(200)
    )
    promises = tuple(
        Promise(
            key=f"pr-{number}", crop=CROPS[number % 4], amount=24, unit="heads", people="a class", by="HM",
            day=TODAY + timedelta(days=2 + 14 * number), made=local_now(),
        )
        for number in range(12)
    )  # fmt: skip
    return Basis(
        room=Room(name="A room", lamps={"bar": Lamp(watts=60)}, tanks=tanks, stations=stations, closures=closures),
        crops=load(),
        checklists=read_checklists().of,
        today=TODAY,
        plantings=plantings,
        promises=promises,
        conditions={kind: Conditions(air=20.5, light=12) for kind in KINDS},
        tanks={kind: TankSeen(used=2.0, falls=6) for kind in tanks},
    )


def main() -> None:
    """Measure in turn and say the medians and their ratio."""
    from walkabout.demo.make import make

    given = basis()
    with TemporaryDirectory() as folder:
        make(Path(folder) / "demo", TODAY)
        opens, dates = [], []
        for _ in range(TURNS):
            start = perf_counter()
            OpenRoom(Path(folder) / "demo").close()
            opens.append(perf_counter() - start)
            start = perf_counter()
            almanac(given, TODAY, TODAY + timedelta(days=365))
            dates.append(perf_counter() - start)
    print(f"the almanac of a year: {median(dates) * 1000:.0f} ms (slowest {max(dates) * 1000:.0f} ms)")
    print(f"opening the demo room: {median(opens) * 1000:.0f} ms; ratio {median(dates) / median(opens):.1f}")


if __name__ == "__main__":
    main()
