"""A made-up almanac of the small room, so that its screens are tested without anything being reckoned."""

from datetime import date, timedelta

from tests.rooms import NOW
from walkabout.almanac.model import (
    Almanac,
    Before,
    Course,
    Entry,
    Expected,
    Forecast,
    Foreseen,
    Lasting,
    Outlook,
    Row,
    Span,
    StageName,
    Standing,
    WayOut,
)
from walkabout.records.model import Move, Planting, Promise

TODAY = NOW.date()
CLOSED = (date(2026, 12, 19), date(2027, 1, 3))


def span(day: date) -> Span:
    """Return the days around a day."""
    return Span(day - timedelta(days=2), day, day + timedelta(days=3))


def course(
    key: str = "p-0",
    crop: str = "lettuce",
    *,
    moves: tuple[tuple[date, str], ...] = ((date(2026, 11, 4), "shelf"),),
    until: date | None = date(2026, 12, 18),
    ended: date | None = None,
    name: str = "",
    **stages: date,
) -> Course:
    """Return a planting's way; stages by name, those that are past have been reached."""
    planting = Planting(
        key=key, crop=crop, sown=moves[0][0], count=12, ended=ended,
        moves=tuple(Move(day=day, station=station) for day, station in moves),
    )  # fmt: skip
    expected = tuple(_stage(stage, day) for stage, day in stages.items())
    return Course(
        planting=planting, name=name or crop, stages=expected, until=until, working=("45 days × 1.1 = 50 days",)
    )


def _stage(stage: str, day: date) -> Expected:
    known: StageName = stage  # type: ignore[assignment]
    return Expected(stage=known, span=span(day), reached=day if day <= TODAY else None)


def foreseen(
    key: str = "pr-1",
    crop: str = "lettuce",
    day: date = date(2026, 12, 11),
    outlook: Outlook = "on course",
    **more: object,
) -> Foreseen:
    """Return how a promise stands."""
    promise = Promise(
        key=key, crop=crop, amount=24, unit="portions", day=day, people="class 8b", by="AR", made=NOW, eaters=24
    )
    says = "24 of 28 are in hand; sow four by Friday, or cut on the 12th."
    ways = (WayOut(says="Cut on Friday 18 Dec instead.", chance=0.92, day=date(2026, 12, 18)),
            WayOut(says="Light the lamp for 16 hours.", chance=0.7, who="adult"))  # fmt: skip
    given: dict[str, object] = {
        "promise": promise, "name": crop, "outlook": outlook, "chance": 0.4, "says": says, "ways": ways,
        "sow_by": date(2026, 11, 27), "sow_count": 6, "expected": 20.5, "working": ("20.5 = 0.85 × 24",),
    }  # fmt: skip
    return Foreseen(**(given | more))  # type: ignore[arg-type]


def forecast(first: date = CLOSED[0], last: date = CLOSED[1], name: str = "end of term") -> Forecast:
    """Return a closure as the room would go through it."""
    drain = Before(says="Harvest, empty and clean the channels", station="channels", minutes=25, day=date(2026, 12, 17))
    plug = Before(
        says="Unplug the pump", station="channels", minutes=5, who="adult", day=date(2026, 12, 18),
        caution="Dry hands; local codes decide.",
    )  # fmt: skip
    stations = (
        Lasting(station="channels", name="Film channels", fate="harvest first", days=2, likely=3, days_helped=None,
                fails="the tank is down to its reserve about Mon 21 Dec", before=(drain, plug),
                working=("40 L ÷ 9 L a day = 4.4 days",)),
        Lasting(station="vine", name="Climbing beans", fate="visit", days=6, likely=8, days_helped=11,
                fails="the tank is empty about Thu 24 Dec", visits=(date(2026, 12, 24),)),
        Lasting(station="case", name="Fern case", fate="lasts", days=None, likely=None, days_helped=None,
                fails="nothing within a month", dim="It may stand at half its hours."),
    )  # fmt: skip
    return Forecast(
        first=first, last=last, name=name, leaving=date(2026, 12, 18), back=date(2027, 1, 4), away=17.0,
        stations=stations, before=(drain, plug), visits=(date(2026, 12, 24),),
        promises=("Basil for the kitchen would be ready on 22 Dec.",),
        first_morning=(("channels", "the pump has stopped"), ("pots", "the pots are dry")),
    )  # fmt: skip


def almanac(**more: object) -> Almanac:
    """Return an almanac of the small room: moves, harvests, two promises, a closure, a term, jobs."""
    shelf = course("p-0", move_on=date(2026, 12, 4), emergence=date(2026, 11, 9), harvest=date(2026, 12, 28))
    tub = course(
        "p-1", "pak-choi", name="pak choi", until=date(2026, 12, 21), harvest=date(2026, 12, 11),
        moves=((date(2026, 10, 21), "shelf"), (date(2026, 11, 2), "tub")), move_on=date(2026, 11, 2),
    )  # fmt: skip
    basil = course(
        "p-2", "basil", moves=((date(2026, 10, 12), "channels"),), harvest=date(2026, 11, 22), until=date(2027, 1, 10)
    )
    fern = course("p-6", "maidenhair-fern", name="maidenhair fern", moves=((date(2026, 3, 2), "case"),), until=None)
    names = {
        "shelf": "Sprout rack", "tub": "Raft tub", "channels": "Film channels", "vine": "Climbing beans",
        "drum": "Rotating drum", "pots": "Window pots", "case": "Fern case", "greens": "Small greens",
    }  # fmt: skip
    at = {"shelf": (shelf, tub), "tub": (tub,), "channels": (basil,), "case": (fern,)}
    job = Standing(
        key="change/tub", says="Renew the solution", station="tub", who="adult", minutes=40,
        due=date(2026, 11, 29), day=date(2026, 11, 27), moved="not on a Sunday", caution="Gloves.",
    )  # fmt: skip
    move = Standing(
        key="move-on/p-0", says="Move on 12 lettuce", station="shelf", who="pupil", minutes=12,
        due=date(2026, 12, 4), day=date(2026, 12, 4),
    )  # fmt: skip
    promises = (
        foreseen("pr-1", "pak-choi", outlook="at risk", name="pak choi"),
        foreseen("pr-2", "basil", day=date(2026, 12, 4)),
    )
    closing = forecast()
    given: dict[str, object] = {
        "made": TODAY, "first": date(2026, 10, 5), "last": date(2027, 4, 30), "promises": promises,
        "rows": tuple(Row(station=key, name=name, courses=at.get(key, ())) for key, name in names.items()),
        "standing": (job, move), "closures": (closing,),
    }  # fmt: skip
    given |= more
    given.setdefault("entries", _entries(given["promises"], given["standing"], given["closures"]))  # type: ignore[arg-type]
    return Almanac(**given)  # type: ignore[arg-type]


def _entries(
    promises: tuple[Foreseen, ...], jobs: tuple[Standing, ...], closures: tuple[Forecast, ...]
) -> tuple[Entry, ...]:
    found = [
        Entry(day=date(2026, 9, 1), last=date(2027, 1, 29), kind="term", says="autumn term", uid="term/2026-09-01"),
        Entry(day=date(2026, 12, 28), kind="harvest", says="lettuce ready from about now (12 plants)", station="shelf",
              uid="harvest/p-0"),
        *(Entry(day=one.promise.day, kind="promise", says=f"24 portions {one.name} for class 8b: {one.outlook}",
                uid=f"promise/{one.promise.key}", detail=one.says, warns=one.outlook != "on course")
          for one in promises),
        *(Entry(day=one.day, kind="job", says=one.says, uid=f"job/{one.key}/{one.due}", station=one.station,
                who=one.who, minutes=one.minutes, detail=one.moved) for one in jobs),
        *(Entry(day=one.first, last=one.last, kind="closure", says=one.name, uid=f"closure/{one.first}", warns=True)
          for one in closures),
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda one: (one.day, one.uid)))
