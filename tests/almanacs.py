"""An almanac that was made up, for tests of what is said and written of one."""

from datetime import UTC, date, datetime, timedelta

from walkabout.almanac.model import (
    Almanac,
    Before,
    Course,
    Entry,
    Expected,
    Forecast,
    Foreseen,
    Lasting,
    Row,
    Span,
    Standing,
    WayOut,
)
from walkabout.records.model import Move, Planting, Promise

FIRST = date(2026, 11, 25)
"""A Wednesday."""
LAST = FIRST + timedelta(weeks=8)
NOW = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
CODE = "Q9"
"""Who sowed, promised and recorded: it stands nowhere outside the records."""

PLANTING = Planting(
    key="p-1", crop="lettuce", sown=date(2026, 11, 4), count=12, moves=(Move(day=date(2026, 11, 4), station="tub"),)
)
PROMISE = Promise(
    key="pr-1",
    crop="lettuce",
    amount=28,
    unit="heads",
    day=date(2026, 12, 11),
    people="the lunch club",
    made=NOW,
    by=CODE,
)
CHANGE = Standing(
    key="change/tub",
    says="Change the solution of the raft tub",
    station="tub",
    who="adult",
    minutes=20,
    due=date(2026, 11, 29),
    day=date(2026, 11, 27),
    caution="Fertiliser salts: gloves, and wash hands after.",
    moved="Sunday is closed",
)
ENTRIES = (
    Entry(day=date(2026, 9, 7), last=date(2026, 12, 18), kind="term", says="autumn term", uid="term/2026-09-07"),
    Entry(
        day=date(2026, 11, 27), kind="job", says=CHANGE.says, uid="job/change/tub/2026-11-29", station="tub",
        who="adult", minutes=20, detail="Sunday is closed",
    ),
    Entry(
        day=date(2026, 12, 11), kind="promise", says="28 heads of lettuce for the lunch club: tight",
        uid="promise/pr-1", detail="24 of 28 are in hand", warns=True,
    ),
    Entry(
        day=date(2026, 12, 12), kind="harvest", says="lettuce ready from about this day (12 plants)", uid="harvest/p-1",
        station="tub",
    ),
    Entry(
        day=date(2026, 12, 19), last=date(2027, 1, 3), kind="closure", says="midwinter", uid="closure/2026-12-19",
        warns=True,
    ),
)  # fmt: skip


def made_up(entries: tuple[Entry, ...] = ENTRIES) -> Almanac:
    """Return an almanac with something of everything."""
    span = Span(date(2026, 12, 8), date(2026, 12, 12), date(2026, 12, 17))
    course = Course(
        planting=PLANTING, name="lettuce", stages=(Expected(stage="harvest", span=span),), until=date(2026, 12, 22)
    )
    change = Before(says="water the pots", station="pots", minutes=10, day=date(2026, 12, 18), caution="wet floor")
    pots = Lasting(
        station="pots", name="Window pots", fate="lasts if", days=6.0, likely=8.0, days_helped=12.0, before=(change,),
        fails="the pots are dry about Fri 25 Dec",
    )  # fmt: skip
    closure = Forecast(
        first=date(2026, 12, 19), last=date(2027, 1, 3), name="midwinter", leaving=date(2026, 12, 18),
        back=date(2027, 1, 4), away=17.0, stations=(pots,), before=(change,), visits=(date(2026, 12, 24),),
        promises=("the harvest of basil falls into it",),
    )  # fmt: skip
    foreseen = Foreseen(
        promise=PROMISE, name="lettuce", outlook="tight", chance=0.62, says="24 of 28 are in hand",
        sow_by=date(2026, 11, 27), sow_count=4, expected=24.0,
        ways=(WayOut(says="cut on Monday 14 December", chance=0.93, who="adult"),),
        blocked=("the spray on the raft tub has five days to wait",),
    )  # fmt: skip
    return Almanac(
        made=FIRST, first=FIRST, last=LAST, entries=entries,
        rows=(Row(station="tub", name="Raft tub", courses=(course,)),), promises=(foreseen,),
        standing=(CHANGE,), closures=(closure,),
    )  # fmt: skip
