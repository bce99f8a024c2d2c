"""Records to test with: an invented room in the autumn of 2026."""

from datetime import date, datetime, timedelta, timezone
from pathlib import Path

from walkabout.records.book import Records
from walkabout.records.homes import Record
from walkabout.records.model import (
    Answer,
    Finding,
    Happening,
    Job,
    Loss,
    Move,
    Picking,
    Planting,
    Promise,
    Reached,
    Round,
    Treatment,
)

TODAY = date(2026, 11, 25)
MORNING = datetime(2026, 11, 25, 8, 0, tzinfo=timezone(timedelta(hours=1)))
LONG_AGO = date(2000, 1, 1)


def answer(number: int = 1, at: datetime = MORNING, **changes: object) -> Answer:
    """Return an answer whose key and note tell it from others."""
    fields: dict[str, object] = {
        "key": f"a{number:04}",
        "round": "r1",
        "at": at,
        "walker": "AR",
        "station": "raft",
        "question": "raft.level",
        "value": 1.5,
        "unit": "cm",
        "note": f"note {number} “as seen”",
    }
    return Answer(**{**fields, **changes})  # type: ignore[arg-type]


def one_of_each() -> list[Record]:
    """Return one record of every kind, a job last, each naming the code AR wherever it can."""
    said = (Happening(at=MORNING, by="AR", says="handed to BK by AR"),)
    return [
        answer(1),
        Round(key="r1", day=TODAY, started=MORNING, walker="AR"),
        Planting(
            key="p1",
            crop="lettuce",
            sown=TODAY,
            count=12,
            moves=(Move(day=TODAY, station="raft", by="AR"),),
            started=16,
            reached=(Reached(day=TODAY, stage="germinated", count=15, by="AR"),),
            losses=(Loss(day=TODAY, count=3, why="dried out", by="AR"),),
            pickings=(Picking(day=TODAY, count=1, grams=90, by="AR"),),
            history=said,
        ),
        Finding(
            key="f1",
            station="raft",
            seen="AR roots brown",
            verdict="today",
            by="AR",
            at=MORNING,
            history=said,
            cause="root-rot",
            cause_by="AR",
        ),
        Promise(
            key="pr1",
            crop="lettuce",
            amount=24,
            unit="portions",
            day=TODAY,
            people="8B",
            made=MORNING,
            by="AR",
            history=said,
        ),
        Treatment(key="t1", day=TODAY, station="raft", what="soap", by="AR", at=MORNING, wait_days=3, history=said),
        Job(
            key="j1",
            what="top up",
            station="raft",
            who="pupil",
            due=TODAY,
            made=MORNING,
            by="AR",
            closed=MORNING,
            closed_by="AR",
            history=said,
        ),
    ]


def opened(room: Path) -> Records:
    """Open the records of a room on TODAY."""
    return Records.open(room, TODAY)


def keys(records: Records) -> list[str]:
    """Return the keys of all answers, in their order."""
    return [given.key for given in records.answers(LONG_AGO)]
