"""What grows in the demo, from sowing through its moves to its end, told in days before today."""

from datetime import date, datetime, time, timedelta

from msgspec import Struct

from walkabout.demo.clock import moment
from walkabout.records.keys import new_key
from walkabout.records.model import Happening, Move, Planting

QUARANTINE = 42
"""Days that a plant brought in stands apart: six weeks, the long end of common practice."""


class Sown(Struct, frozen=True, kw_only=True):
    """One planting of the season. Days are counted back from the day on which the demo is made."""

    crop: str
    count: int
    sown: int
    label: str
    at: tuple[tuple[int, str], ...] = ()
    """(days ago, station): where it stood, from when on."""
    ended: int | None = None
    reason: str = ""
    brought_in: bool = False
    variety: str = ""


SEASON: tuple[Sown, ...] = (
    Sown(crop="tomato", count=2, sown=118, label="T1", variety="cordon", at=((118, "shelf"), (76, "arch"))),
    Sown(crop="geranium", count=4, sown=160, label="G1", at=((160, "sill"),)),
    Sown(crop="coleus", count=3, sown=120, label="C1", at=((120, "sill"),)),
    Sown(crop="maidenhair-fern", count=1, sown=400, label="F1", at=((400, "bell"),)),
    Sown(crop="prayer-plant", count=1, sown=380, label="F2", at=((380, "bell"),)),
    Sown(crop="basil", count=12, sown=66, label="B1", at=((66, "shelf"), (48, "herbs"))),
    Sown(
        crop="raft-lettuce",
        count=12,
        sown=64,
        label="L1",
        variety="green butterhead",
        at=((64, "shelf"), (52, "raft")),
        ended=26,
        reason="harvested: 12 heads, 1,730 g, for the salad lunch",
    ),
    Sown(
        crop="lettuce",
        count=40,
        sown=58,
        label="D1",
        variety="red loose-leaf",
        at=((58, "shelf"), (41, "drum")),
        ended=3,
        reason="harvested: 38 heads, 3,120 g; two had bolted",
    ),
    Sown(crop="bean", count=6, sown=50, label="P1", at=((50, "shelf"), (34, "sill"))),
    Sown(crop="dill", count=8, sown=47, label="B2", at=((47, "shelf"), (28, "herbs"))),
    Sown(crop="mizuna", count=30, sown=40, label="D2", at=((40, "shelf"), (25, "drum"))),
    Sown(
        crop="radish-microgreens",
        count=2,
        sown=51,
        label="M1",
        at=((51, "trays"),),
        ended=42,
        reason="harvested: 310 g from two trays",
    ),
    Sown(
        crop="raft-lettuce",
        count=12,
        sown=33,
        label="L2",
        variety="green butterhead",
        at=((33, "shelf"), (21, "raft")),
    ),
    Sown(
        crop="cress",
        count=2,
        sown=27,
        label="M2",
        at=((27, "trays"),),
        ended=17,
        reason="composted: one tray had gone musty, so none of it was eaten",
    ),
    Sown(
        crop="busy-lizzie",
        count=1,
        sown=95,
        label="Q1",
        at=((19, "sill"),),
        brought_in=True,
    ),
    Sown(
        crop="radish-microgreens",
        count=2,
        sown=16,
        label="M3",
        at=((16, "trays"),),
        ended=7,
        reason="harvested: 290 g from two trays",
    ),
    Sown(crop="lettuce", count=48, sown=12, label="D3", variety="red loose-leaf", at=((12, "shelf"),)),
    Sown(crop="pea-shoots", count=2, sown=6, label="M4", at=((6, "trays"),)),
)


class Beds:
    """The plantings as they come, move and go, day by day."""

    def __init__(self, today: date, school_days: list[date], by: str) -> None:
        """`school_days` are those of the season; what is older than the first stands there already."""
        self._today = today
        self._start = start = school_days[0]
        self._school_days = school_days
        self._by = by
        self._standing: dict[int, Planting] = {}
        self._due: dict[date, list[int]] = {}
        for index, one in enumerate(SEASON):
            days = {self.day(ago) for ago, _ in one.at} | ({self.day(one.ended)} if one.ended is not None else set())
            for day in days:
                self._due.setdefault(max(day, start), []).append(index)

    def day(self, ago: int) -> date:
        """Return the day so many days ago, or the school day before it; what lies before the season stays as it is."""
        day = self._today - timedelta(days=ago)
        if day < self._start:
            return day
        return max((one for one in self._school_days if one <= day), default=self._start)

    def on(self, day: date) -> list[Planting]:
        """Return the plantings that change on this day, as they are at its end."""
        changed = []
        for index in self._due.get(day, []):
            now = self._as_of(index, day)
            if now is not None and now != self._standing.get(index):
                self._standing[index] = now
                changed.append(now)
        return changed

    def _as_of(self, index: int, day: date) -> Planting | None:
        one = SEASON[index]
        moves = tuple(Move(day=self.day(ago), station=station, by=self._by) for ago, station in one.at)
        moves = tuple(move for move in moves if move.day <= day)
        if not moves:
            return None
        before = self._standing.get(index)
        arrived = moves[0].day
        ended = self.day(one.ended) if one.ended is not None and self.day(one.ended) <= day else None
        sown = self.day(one.sown) if not one.brought_in else self._today - timedelta(days=one.sown)
        return Planting(
            key=before.key if before else new_key("p", self._at(arrived)),
            crop=one.crop,
            variety=one.variety,
            label=one.label,
            sown=sown,
            count=one.count,
            moves=moves,
            brought_in=one.brought_in,
            apart_until=arrived + timedelta(days=QUARANTINE) if one.brought_in else None,
            ended=ended,
            reason=one.reason if ended else "",
            history=tuple(self._told(one, moves, ended)),
        )

    def _told(self, one: Sown, moves: tuple[Move, ...], ended: date | None) -> list[Happening]:
        first = "brought in, kept apart" if one.brought_in else f"sown at {moves[0].station}"
        told = [Happening(at=self._at(moves[0].day), by=self._by, says=first)]
        told += [Happening(at=self._at(move.day), by=self._by, says=f"moved to {move.station}") for move in moves[1:]]
        if ended:
            told.append(Happening(at=self._at(ended), by=self._by, says=one.reason))
        return told

    def _at(self, day: date) -> datetime:
        return moment(day, time(14, 30))
