"""The whole almanac: plantings, promises, standing jobs and closures put together, and what each day brings."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from walkabout.almanac.closure import forecast
from walkabout.almanac.course import courses
from walkabout.almanac.learned import learned
from walkabout.almanac.model import Almanac, Basis, Course, Entry, EntryKind, Forecast, Foreseen, Outlook, Row, Standing
from walkabout.almanac.promises import foresee
from walkabout.almanac.standing import standing
from walkabout.almanac.visiting import doing
from walkabout.growing.counting import amount_of, counted, sown_words
from walkabout.room.calendar import is_walked
from walkabout.room.model import Room

SOON_DAYS = 7
"""A sowing that a promise needs within so many days is warned of. Assumed."""


def almanac(basis: Basis, first: date, last: date) -> Almanac:
    """Return what the dates say from `first` to `last`, both included. Nothing is promised for the past."""
    known = learned(basis)
    all_courses = courses(basis)
    promises = tuple(foresee(one, basis, all_courses, known) for one in sorted(basis.promises, key=_by_day))
    jobs = standing(basis, last, all_courses)
    ahead = sorted((one for one in basis.room.closures if one.last >= basis.today), key=lambda one: one.first)
    closures = tuple(
        forecast(one.first, one.last, one.name, basis, all_courses, promises, jobs)
        for one in ahead
        if one.first <= last
    )
    entries = [
        *_of_room(basis.room),
        *(entry for one in all_courses.values() for entry in _of_course(one, basis)),
        *(entry for one in promises for entry in _of_promise(one, basis)),
        *(_of_job(one) for one in jobs),
        *(entry for one in closures for entry in _of_forecast(one, basis.today)),
    ]
    return Almanac(
        made=basis.today,
        first=first,
        last=last,
        entries=tuple(sorted((one for one in entries if _touches(one, first, last)), key=_in_turn)),
        rows=tuple(_rows(basis, all_courses.values(), first)),
        promises=promises,
        standing=jobs,
        closures=closures,
    )


def coming(entries: Iterable[Entry], first: date, last: date) -> list[Entry]:
    """Return what happens on these days, what lasts over them included."""
    return [one for one in entries if _touches(one, first, last)]


def _touches(entry: Entry, first: date, last: date) -> bool:
    return entry.day <= last and (entry.last or entry.day) >= first


_TURN: tuple[EntryKind, ...] = (
    *("term", "closure", "promise", "visit", "sow", "move", "thin", "harvest", "job", "stage", "apart"),
)


def _in_turn(entry: Entry) -> tuple[date, int, str, str]:
    return entry.day, _TURN.index(entry.kind), entry.station, entry.uid


def _by_day(promise: object) -> tuple[date, str]:
    return promise.day, promise.key  # type: ignore[attr-defined]


def _rows(basis: Basis, all_courses: Iterable[Course], first: date) -> Iterator[Row]:
    """Yield a line for each station: what stands there, and what stood there within the days shown."""
    shown = [one for one in all_courses if one.planting.ended is None or one.planting.ended >= first]
    for station in basis.room.stations:
        here = tuple(one for one in shown if any(move.station == station.key for move in one.planting.moves))
        yield Row(station=station.key, name=station.name, courses=here)


def _of_room(room: Room) -> Iterator[Entry]:
    for term in room.terms:
        yield Entry(day=term.first, last=term.last, kind="term", says=term.name or "term", uid=f"term/{term.first}")
    for closure in room.closures:
        yield Entry(
            day=closure.first, last=closure.last, kind="closure", says=closure.name or "closure",
            uid=f"closure/{closure.first}", warns=True,
        )  # fmt: skip


def _of_course(course: Course, basis: Basis) -> Iterator[Entry]:
    """Yield what a standing planting will come to; moving and thinning are jobs, and stand among them."""
    planting, today = course.planting, basis.today
    if planting.ended is not None:
        return
    if planting.apart_until is not None and planting.apart_until >= today:
        yield Entry(
            day=_open_from(basis.room, planting.apart_until), kind="apart",
            says=f"{course.name} may join the others, if clean", uid=f"apart/{planting.key}", station=planting.station,
        )  # fmt: skip
    for stage in course.stages:
        if stage.reached is not None or stage.stage == "move_on":
            continue
        likely = _open_from(basis.room, stage.span.likely)
        between = f"{_said(stage.span.early)} to {_said(stage.span.late)}"
        if stage.stage == "harvest":
            many = counted(planting.count, basis.crop(planting))
            yield Entry(
                day=likely, kind="harvest", says=f"{course.name} ready from about this day ({many})",
                uid=f"harvest/{planting.key}", station=planting.station, detail=f"eight times in ten from {between}",
            )  # fmt: skip
        else:
            yield Entry(
                day=stage.span.likely, kind="stage", says=f"{course.name}: {_STAGES[stage.stage]}",
                uid=f"{stage.stage}/{planting.key}", station=planting.station, detail=between,
            )  # fmt: skip


_STAGES = {
    "emergence": "seedlings should show", "flowering": "should flower", "seed": "seed should be ripe",
}  # fmt: skip


_OUTLOOKS: dict[Outlook, str] = {"cannot": "cannot be met as it stands"}
"""How a promise stands, where the bare word is no end of a sentence."""


def _of_promise(one: Foreseen, basis: Basis) -> Iterator[Entry]:
    promise, today, crop = one.promise, basis.today, basis.crops.find(one.promise.crop)
    if promise.closed is None:
        amount = amount_of(promise.amount, promise.unit, crop, one.name)
        stands = _OUTLOOKS.get(one.outlook, one.outlook)
        yield Entry(
            day=promise.day, kind="promise", says=f"{amount} for {promise.people}: {stands}",
            uid=f"promise/{promise.key}", detail=one.says, warns=one.outlook in ("tight", "at risk", "cannot"),
        )  # fmt: skip
        if one.sow_count and one.sow_by is not None and one.sow_by >= today:
            many = sown_words(one.sow_count, crop, one.name)
            yield Entry(
                day=one.sow_by, kind="sow", says=f"Last day to sow {many} for {promise.people}",
                uid=f"sow/{promise.key}", warns=(one.sow_by - today).days <= SOON_DAYS,
            )  # fmt: skip


def _of_job(one: Standing) -> Entry:
    begins = one.key.partition("/")[0]
    kind: EntryKind = "thin" if begins == "thin" else "move" if begins == "move-on" else "job"
    return Entry(
        day=one.day, kind=kind, says=one.says, uid=f"job/{one.key}/{one.due}", station=one.station, who=one.who,
        minutes=one.minutes, detail=one.moved or one.why,
    )  # fmt: skip


def _of_forecast(one: Forecast, today: date) -> Iterator[Entry]:
    for day in one.visits:
        what = doing([(each.visit_does, each.name) for each in one.stations if day in each.visits])
        yield Entry(
            day=day, kind="visit", says=f"A visit is needed during {one.name or 'the closure'}", who="adult",
            uid=f"visit/{one.first}/{day}", warns=True, detail=what,
        )  # fmt: skip
    if one.before and one.leaving >= today:
        things = f"{len(one.before)} thing{'s' if len(one.before) > 1 else ''} to do"
        minutes = f"{one.minutes:.0f} min, {one.adult_minutes:.0f} of them an adult's"
        begins = min((each.day for each in one.before if each.day is not None), default=one.leaving)
        yield Entry(
            day=one.leaving, kind="job", says=f"Before {one.name or 'the closure'}: {things}, {minutes}",
            uid=f"leaving/{one.first}", who="adult" if one.adult_minutes == one.minutes else "pupil",
            minutes=one.minutes, warns=True,
            detail=f"The first of them on {_said(begins)}." if begins < one.leaving else "",
        )  # fmt: skip


def _open_from(room: Room, day: date) -> date:
    """Return the day itself, or the next on which somebody walks: nothing is picked in an empty room."""
    for ahead in range(366):
        later = day + timedelta(days=ahead)
        if is_walked(room, later):
            return later
    return day


def _said(day: date) -> str:
    return f"{day.day} {day:%b}"
