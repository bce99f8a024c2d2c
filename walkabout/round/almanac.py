"""The almanac of an open room: what is on record, gathered for the dates to be reckoned from."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from itertools import pairwise
from statistics import fmean, median

from walkabout.almanac.model import Almanac, Basis, Conditions, TankSeen
from walkabout.checklist.model import Quantity
from walkabout.growing.air import vpd
from walkabout.records.model import Answer
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.held import Held
from walkabout.round.here import Here
from walkabout.round.history import CHANGED

LATELY_DAYS = 21
"""Plants grow by the weeks they stand in: what was measured within so many days counts. Assumed."""
LIGHT_DAYS = 90
"""A reading of light stands until a lamp is moved; older than this it is forgotten. Assumed."""
WEEKS = 12
"""How far the almanac looks when nobody says how far."""
BACK_DAYS = 28
"""How far back it begins, so that what stands now has a beginning."""

Readings = dict[tuple[str, Quantity], list[Answer]]


def basis_of(opened: Held) -> Basis:
    """Gather all that the dates are reckoned from."""
    today = opened.today()
    places = [here for here, _ in opened.places()]
    readings = _readings(opened, places)
    return Basis(
        room=opened.room,
        crops=opened.crops,
        checklists=opened.checklists,
        today=today,
        plantings=tuple(opened.plantings.values()),
        promises=tuple(opened.promises.values()),
        treatments=tuple(opened.treatments.values()),
        findings=tuple(opened.findings.values()),
        jobs=tuple(opened.jobs.values()),
        conditions={here.key: _conditions(here, readings, today) for here in places if here.station is not None},
        tanks=_tanks(opened, readings),
        looked=_looked(opened),
    )


def almanac_of(opened: Held, first: date | None = None, last: date | None = None) -> Almanac:
    """Return what the dates say from `first` to `last`: four weeks back to twelve ahead unless told otherwise."""
    from walkabout.almanac.whole import almanac  # noqa: PLC0415 - the first page says less, and sooner

    today = opened.today()
    begins = first or today - timedelta(days=BACK_DAYS)
    return almanac(basis_of(opened), begins, max(last or today + timedelta(weeks=WEEKS), begins))


def _readings(opened: Held, places: Iterable[Here]) -> Readings:
    """Gather the numbers that are to be trusted, by station and quantity, the oldest first."""
    found: Readings = {}
    for here in places:
        for question in opened.checklists[here.kind].question:
            if question.reading is None:
                continue
            looks = [
                one
                for one in opened.history.all(here.key, question.id)
                if one.state == "answered" and one.value is not None and not opened.doubt_of(one)
            ]
            if looks:
                found.setdefault((here.key, question.reading.quantity), []).extend(looks)
    return found


def _conditions(here: Here, readings: Readings, today: date) -> Conditions:
    """Say what a station offers to grow in; what was measured there counts before what was measured in the room."""

    def lately(quantity: Quantity, days: int = LATELY_DAYS) -> list[float]:
        for key in (here.key, WHOLE_ROOM):
            looks = readings.get((key, quantity), ())
            values = [one.value for one in looks if (today - one.at.date()).days <= days and one.value is not None]
            if values:
                return values
        return []

    lows, highs = lately("lowest air temperature"), lately("highest air temperature")
    spot, damp = lately("air temperature"), lately("humidity")
    air = (fmean(lows) + fmean(highs)) / 2 if lows and highs else fmean(spot) if spot else None
    lit = [one for one in readings.get((here.key, "illuminance"), ()) if (today - one.at.date()).days <= LIGHT_DAYS]
    lux = lit[-1].value if lit else None
    light = here.lit.dli(lux) if lux is not None and here.lit is not None else None
    dry = max(vpd(air, fmean(damp)), 0.0) if air is not None and damp else None
    return Conditions(air=air, light=light, vpd=dry)


def _tanks(opened: Held, readings: Readings) -> dict[str, TankSeen]:
    """Say of each tank what it loses a day, and when it was last filled and renewed."""
    found = {}
    for tank in opened.room.tanks:
        sharing = [one.key for one in opened.room.stations if one.tank == tank]
        # "0 L" says that nothing went in, not that nothing was drunk
        poured = (one for key in sharing for one in readings.get((key, "volume"), ()) if one.value)
        topped = sorted(poured, key=lambda one: one.at)
        lately = [one for one in topped if (opened.today() - one.at.date()).days <= LATELY_DAYS]
        daily = list(_a_day(lately))
        found[tank] = TankSeen(
            used=median(daily) if daily else None,
            falls=len(daily),
            topped=topped[-1].at.date() if topped else None,
            changed=_changed(opened, sharing, tank),
        )
    return found


def _a_day(topped: list[Answer]) -> Iterator[float]:
    """Yield the litres a day between two top-ups: what went in at the later one is what was gone by then."""
    for earlier, later in pairwise(topped):
        days = (later.at.date() - earlier.at.date()).days
        if days > 0 and later.value is not None:
            yield later.value / days


def _changed(opened: Held, sharing: Iterable[str], tank: str) -> date | None:
    """Return the day on which the solution was last renewed, by what was answered or by the job that was done."""
    looks = [one for key in sharing if (one := opened.history.last_look(key, CHANGED)) is not None]
    days = [one.at.date() - timedelta(days=round(one.value)) for one in looks if one.value is not None]
    days += [
        job.closed.date()
        for job in opened.jobs.values()
        if job.standing == f"change/{tank}" and job.closed is not None and job.reason == "done"
    ]
    return max(days, default=None)


def _looked(opened: Held) -> dict[tuple[str, str], date]:
    found = {}
    for where in opened.history.places():
        look = opened.history.last_look(*where)
        if look is not None:
            found[where] = look.at.date()
    return found
