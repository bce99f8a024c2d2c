"""What grows in the demo, from sowing through its moves and losses to its harvest, told in days before today."""

from collections.abc import Callable, Iterator
from datetime import date, datetime, time, timedelta

import msgspec
from msgspec import Struct

from walkabout.demo.clock import moment
from walkabout.jobs.plantings import end
from walkabout.jobs.stages import flowering, germinated, lose, pick, thinned
from walkabout.records.keys import new_key
from walkabout.records.model import Happening, Move, Planting

QUARANTINE = 42
"""Days that a plant brought in stands apart: six weeks, the long end of common practice."""

Step = Callable[[Planting, datetime, date], Planting]
"""What happens to a planting at a moment, on the day that is written down."""


class Sown(Struct, frozen=True, kw_only=True):
    """One planting of the season. Days are counted back from the day on which the demo is made."""

    crop: str
    count: int
    """How many were sown, or brought in."""
    sown: int
    label: str
    at: tuple[tuple[int, str], ...] = ()
    """(days ago, station): where it stood, from when on."""
    up: tuple[int, int] | None = None
    """(days ago, how many had come up)."""
    thinned: tuple[int, int] | None = None
    """(days ago, to how many)."""
    flowers: int | None = None
    lost: tuple[tuple[int, int, str], ...] = ()
    """(days ago, how many, why)."""
    picked: tuple[tuple[int, int, float, float | None], ...] = ()
    """(days ago, whole plants, grams, portions)."""
    composted: tuple[int, str] | None = None
    """(days ago, why): the end of what was not eaten."""
    brought_in: bool = False
    variety: str = ""


SEASON: tuple[Sown, ...] = (
    Sown(
        crop="tomato",
        count=2,
        sown=118,
        label="T1",
        variety="cordon",
        at=((118, "shelf"), (76, "arch")),
        flowers=38,
        picked=((4, 0, 240, 8),),
    ),
    Sown(crop="geranium", count=4, sown=160, label="G1", at=((160, "sill"),)),
    Sown(crop="coleus", count=3, sown=120, label="C1", at=((120, "sill"),)),
    Sown(crop="maidenhair-fern", count=1, sown=400, label="F1", at=((400, "bell"),)),
    Sown(crop="prayer-plant", count=1, sown=380, label="F2", at=((380, "bell"),)),
    Sown(
        crop="basil",
        count=14,
        sown=66,
        label="B1",
        at=((66, "shelf"), (48, "herbs")),
        up=(58, 13),
        lost=((45, 1, "broken"),),
        picked=((21, 0, 96, None), (8, 0, 118, None)),
    ),
    Sown(
        crop="raft-lettuce",
        count=16,
        sown=101,
        label="L0",
        variety="green butterhead",
        at=((101, "shelf"), (90, "raft")),
        up=(96, 14),
        lost=((80, 2, "rotted"),),
        picked=((65, 12, 1_690, 30),),
    ),
    Sown(
        crop="raft-lettuce",
        count=14,
        sown=64,
        label="L1",
        variety="green butterhead",
        at=((64, "shelf"), (52, "raft")),
        up=(59, 13),
        lost=((44, 1, "broken"),),
        picked=((26, 12, 1_730, 32),),
    ),
    Sown(
        crop="lettuce",
        count=46,
        sown=58,
        label="D1",
        variety="red loose-leaf",
        at=((58, "shelf"), (41, "drum")),
        up=(53, 42),
        lost=((30, 2, "dried out"), (3, 2, "bolted")),
        picked=((3, 38, 3_120, 60),),
    ),
    Sown(crop="bean", count=7, sown=50, label="P1", at=((50, "shelf"), (34, "sill")), up=(43, 6), flowers=6),
    Sown(crop="dill", count=10, sown=47, label="B2", at=((47, "shelf"), (28, "herbs")), up=(36, 8)),
    Sown(
        crop="mizuna",
        count=34,
        sown=40,
        label="D2",
        at=((40, "shelf"), (25, "drum")),
        up=(36, 31),
        lost=((20, 1, "broken"),),
    ),
    Sown(crop="radish-microgreens", count=2, sown=51, label="M1", at=((51, "trays"),), picked=((42, 2, 310, 20),)),
    Sown(
        crop="raft-lettuce",
        count=14,
        sown=37,
        label="L2",
        variety="green butterhead",
        at=((37, "shelf"), (25, "raft")),
        up=(32, 12),
    ),
    Sown(
        crop="cress",
        count=2,
        sown=27,
        label="M2",
        at=((27, "trays"),),
        composted=(17, "one tray had gone musty, so none of it was eaten"),
    ),
    Sown(
        crop="busy-lizzie",
        count=1,
        sown=95,
        label="Q1",
        at=((19, "sill"),),
        brought_in=True,
    ),
    Sown(crop="radish-microgreens", count=2, sown=16, label="M3", at=((16, "trays"),), picked=((7, 2, 290, 18),)),
    Sown(crop="lettuce", count=52, sown=12, label="D3", variety="red loose-leaf", at=((12, "shelf"),), up=(7, 48)),
    Sown(crop="pea-shoots", count=2, sown=6, label="M4", at=((6, "trays"),)),
)


class Beds:
    """The plantings as they come, move, thin out and go, day by day."""

    def __init__(self, today: date, school_days: list[date], by: str) -> None:
        """`school_days` are those of the season; what is older than the first stands there already."""
        self._today = today
        self._start = school_days[0]
        self._school_days = school_days
        self._by = by
        self._standing: dict[int, Planting] = {}
        self._due: dict[date, list[tuple[int, date, Step]]] = {}
        for index, one in enumerate(SEASON):
            for day, step in sorted(self._steps(one), key=lambda due: due[0]):
                self._due.setdefault(max(day, self._start), []).append((index, day, step))

    def day(self, ago: int) -> date:
        """Return the day so many days ago, or the school day before it; what lies before the season stays as it is."""
        day = self._today - timedelta(days=ago)
        if day < self._start:
            return day
        return max((one for one in self._school_days if one <= day), default=self._start)

    def on(self, day: date) -> list[Planting]:
        """Return the plantings that change on this day, as they are at its end."""
        changed: dict[int, Planting] = {}
        for index, then, step in self._due.get(day, []):
            # each thing happens at the moment it is told of, so that what lies before the season has its own day
            before = self._standing.get(index, _NOTHING)
            self._standing[index] = changed[index] = step(before, self._at(then), then)
        return list(changed.values())

    def _steps(self, one: Sown) -> Iterator[tuple[date, Step]]:
        by = self._by
        (ago, station), *later = one.at
        yield self.day(ago), self._begins(one, self.day(ago), station)
        for moved, to in later:
            yield self.day(moved), _moves(to, by)
        if one.up is not None:
            ups = one.up
            yield self.day(ups[0]), lambda it, now, day: germinated(it, ups[1], by, now, day)[0]
        if one.thinned is not None:
            left = one.thinned
            yield self.day(left[0]), lambda it, now, day: thinned(it, left[1], by, now, day)[0]
        if one.flowers is not None:
            yield self.day(one.flowers), lambda it, now, day: flowering(it, by, now, day)[0]
        for lost, count, why in one.lost:
            yield self.day(lost), _loses(count, why, by)
        for picked, count, grams, portions in one.picked:
            yield self.day(picked), _picks(count, grams, portions, by)
        if one.composted is not None:
            gone = one.composted
            yield self.day(gone[0]), lambda it, now, _: end(it, "composted", gone[1], it.count, by, now)[-1]

    def _begins(self, one: Sown, day: date, station: str) -> Step:
        sown = self._today - timedelta(days=one.sown) if one.brought_in else self.day(one.sown)
        says = "brought in, kept apart" if one.brought_in else f"sown at {station}"

        def step(_: Planting, now: datetime, __: date) -> Planting:
            return Planting(
                key=new_key("p", now),
                crop=one.crop,
                variety=one.variety,
                label=one.label,
                sown=sown,
                count=one.count,
                started=one.count,
                moves=(Move(day=day, station=station, by=self._by),),
                brought_in=one.brought_in,
                apart_until=day + timedelta(days=QUARANTINE) if one.brought_in else None,
                history=(Happening(at=now, by=self._by, says=says),),
            )

        return step

    def _at(self, day: date) -> datetime:
        return moment(day, time(14, 30))


_NOTHING = Planting(key="", crop="", sown=date.min, count=0, moves=())
"""What stands before a planting begins."""


def _moves(to: str, by: str) -> Step:
    def step(it: Planting, now: datetime, day: date) -> Planting:
        return msgspec.structs.replace(
            it,
            moves=(*it.moves, Move(day=day, station=to, by=by)),
            history=(*it.history, Happening(at=now, by=by, says=f"moved to {to}")),
        )

    return step


def _loses(count: int, why: str, by: str) -> Step:
    return lambda it, now, day: lose(it, count, why, by, now, day)[0]


def _picks(count: int, grams: float, portions: float | None, by: str) -> Step:
    return lambda it, now, _: pick(it, count, grams, portions, "", by, now, signed=by)[0]
