"""One page for somebody who has never seen the room: what to look at, what to do, what is promised, whom to ask.

Nothing of it says who did or saw what: wherever a code of the room stands in a text, it is replaced.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta

from msgspec import Struct

from walkabout.almanac.handover_codes import without_codes
from walkabout.almanac.handover_looks import first_looks, look_lines
from walkabout.almanac.handover_words import CAUTIONS, COLD, EATING, EVERYWHERE, KNOWN, MAY, TANKS, WHO_SAID
from walkabout.almanac.model import Almanac, Basis, Entry, Forecast, Foreseen
from walkabout.almanac.whole import coming
from walkabout.checklist.model import Checklist, Question
from walkabout.growing.counting import amount_of
from walkabout.growing.units import Scales, words
from walkabout.records.model import Finding, Job, Planting
from walkabout.room.calendar import is_walked
from walkabout.room.model import WHOLE_ROOM, Room, Station

DAYS = 7
"""How far ahead the page looks, in days: whoever comes for longer prints it anew."""
CLOSURE_DAYS = 21
"""A closure that begins within so many days is said: its first steps are taken a week or two before. Assumed."""
MOST_JOBS, MOST_FINDINGS, MOST_PROMISES = 6, 6, 6
LONGEST = 180
"""Characters of a text that somebody typed: what is longer is cut."""

CAN_WAIT = frozenset(
    (
        *("cards", "covers", "channels", "drink", "glass", "lamps", "line", "mats", "measure", "meters", "mist"),
        *("photo", "saucers", "slope", "spare", "stock", "sweep", "tools", "trays", "trellis", "trough"),
        *("tub", "turn", "wicks", "flood-time", "repot", "clear", "air-stones"),
    )
)
"""Standing jobs of the shipped checklists that may wait until the room's own people are back; a room's own stay."""

BLANKS: tuple[str, ...] = (
    "Person in charge of the room",
    "If that person is away",
    "First aid",
    "Site staff, main switch and water tap",
    "Keys, gloves and mop",
)
"""Whom to ask, and where things are: filled in by hand, so that no name is kept by the program."""


class Line(Struct, frozen=True, kw_only=True):
    """One line of the page; what is under it stands set in."""

    says: str
    under: tuple[str, ...] = ()
    warns: bool = False


class Section(Struct, frozen=True, kw_only=True):
    """A heading and its lines."""

    title: str
    lines: tuple[Line, ...]


class Handover(Struct, frozen=True, kw_only=True):
    """The page."""

    room: str
    day: date
    until: date
    sections: tuple[Section, ...]


def handover(
    basis: Basis,
    almanac: Almanac,
    looks: Mapping[str, Sequence[Question]],
    jobs: Iterable[Job],
    findings: Iterable[Finding],
) -> Handover:
    """Return the page for the next days.

    `looks`: station -> the questions it can be asked, in the order of looking; the room as a whole stands
    under its own key. `jobs` and `findings` are the open ones, in the order in which they matter.
    """
    today, until = basis.today, basis.today + timedelta(days=DAYS)
    said: set[str] = set()
    sections = (
        Section(title="Today", lines=tuple(_today(basis, jobs, said))),
        Section(title="The days to come", lines=tuple(_ahead(basis, almanac, until))),
        Section(title="Station by station", lines=tuple(_stations(basis, looks, said))),
        Section(title="Open findings", lines=tuple(_findings(basis, list(findings))) or (Line(says="None."),)),
        Section(title="Promised", lines=tuple(_promises(almanac, basis))),
        Section(title="Who may do what", lines=tuple(Line(says=f"{who} {what}") for who, what in MAY)),
        Section(title="Take care", lines=tuple(Line(says=one) for one in (*CAUTIONS, *_plants(basis)))),
        Section(title="Whom to ask", lines=tuple(Line(says=f"{one}: {'_' * 28}") for one in BLANKS)),
    )
    clean = without_codes(basis)
    return Handover(
        room=clean(basis.room.name),
        day=today,
        until=until,
        sections=tuple(
            Section(
                title=one.title,
                lines=tuple(
                    Line(says=clean(line.says), under=tuple(map(clean, line.under)), warns=line.warns)
                    for line in one.lines
                ),
            )
            for one in sections
        ),
    )


def _today(basis: Basis, jobs: Iterable[Job], said: set[str]) -> Iterator[Line]:
    """Yield the round and the jobs of today that cannot wait; the other jobs are counted."""
    yield _round(basis.room, basis.today)
    due = [one for one in jobs if one.due <= basis.today]
    pressing = [one for one in due if not _waits(one)]
    for job in pressing[:MOST_JOBS]:
        caution = (job.caution,) if job.caution and job.caution not in said else ()
        said.update(caution)
        yield Line(
            says=f"{_name(basis, job.station)}: {_short(job.what)} ({WHO_SAID[job.who]})",
            under=caution,
            warns=job.verdict in ("now", "stop"),
        )
    if left := len(pressing[MOST_JOBS:]):
        yield Line(says=f"{left} more job{'s' if left > 1 else ''} of today: see the list of jobs.", warns=True)
    if small := len(due) - len(pressing):
        yield Line(says=_small(small, "can wait; the list of jobs names them."))


def _round(room: Room, today: date) -> Line:
    takes = f"{room.minutes:g} minute{'s' if room.minutes != 1 else ''}"
    walk = f"Walk the round at about {room.starts}, {takes} long: look at each station, and write down what you see."
    if is_walked(room, today):
        return Line(says=walk)
    return Line(says=f"Nobody comes today. On the next open day: {walk[0].lower()}{walk[1:]}")


def _waits(job: Job) -> bool:
    """Say whether a job can wait: a trivial standing one, or a slow look; a stranger measures nothing."""
    if job.verdict in ("now", "stop"):
        return False
    return bool(job.questions) or job.standing.partition("/")[0] in CAN_WAIT


def _ahead(basis: Basis, almanac: Almanac, until: date) -> Iterator[Line]:
    """Yield a line for each day on which something must happen, then the closure that comes."""
    today = basis.today
    days: dict[date, list[Entry]] = {}
    small: dict[date, int] = {}
    for entry in coming(almanac.entries, today, until):
        if entry.kind in ("term", "closure"):
            continue
        day = max(entry.day, today)
        days.setdefault(day, [])
        if _matters(entry):
            days[day].append(entry)
        else:
            small[day] = small.get(day, 0) + 1
    for day in sorted(day for day in days if days[day]):
        yield _of_day(basis, day, days[day])
    if not any(days.values()):
        yield Line(says="Nothing but the morning rounds.")
    if waiting := sum(small.values()):
        yield Line(says=_small(waiting, "of these days can wait; the almanac names them."))
    for closure in almanac.closures:
        if closure.first <= today + timedelta(days=CLOSURE_DAYS) and closure.last >= today:
            yield _closure(closure)


def _matters(entry: Entry) -> bool:
    """Say whether an entry stands on the page: what may wait, and what is only to be seen, does not."""
    name = entry.uid.split("/")[1] if entry.kind == "job" else ""
    return entry.warns or (entry.kind != "stage" and name not in CAN_WAIT)


def _small(count: int, says: str) -> str:
    return f"{count} small job{'s' if count != 1 else ''} {says}"


def _of_day(basis: Basis, day: date, entries: Sequence[Entry]) -> Line:
    closed = "" if is_walked(basis.room, day) else " (nobody comes)"
    head, warns = f"{day:%A} {day.day} {day:%B}{closed}", any(one.warns for one in entries)
    return Line(says=head, under=tuple(_entry(basis, one) for one in entries), warns=warns)


def _entry(basis: Basis, entry: Entry) -> str:
    where = f"{_name(basis, entry.station)}: " if entry.station else ""
    how = f" ({WHO_SAID[entry.who]}, {entry.minutes:.0f} min)" if entry.minutes else ""
    return f"{where}{_short(entry.says)}{how}"


def _closure(one: Forecast) -> Line:
    """Say when nobody comes, what must be done before, and which days somebody must come all the same."""
    name, under = _short(one.name) or "closure", []
    if one.before:
        under.append(
            f"Before leaving on {_day(one.leaving)}: {len(one.before)} things to do, some of them days before. "
            f"The almanac has the list, and so has walkabout closure {one.first} {one.last}."
        )
    if one.visits:
        days = ", ".join(map(_day, one.visits))
        under.append(f"An adult must come by arrangement on {days}.")
    lost = [_short(station.name) for station in one.stations if station.fate == "lost"]
    if lost:
        under.append(f"What cannot last so long there: {', '.join(lost)}.")
    days = f"from {_day(one.first)} to {_day(one.last)}" if one.last > one.first else f"on {_day(one.first)}"
    return Line(says=f"Nobody comes {days}: {name}", under=tuple(under), warns=True)


def _stations(basis: Basis, looks: Mapping[str, Sequence[Question]], said: set[str]) -> Iterator[Line]:
    yield Line(says=EVERYWHERE)
    if basis.room.tanks:
        yield Line(says=TANKS)
    room = [WHOLE_ROOM] if WHOLE_ROOM in looks else []
    for key in (*room, *(one.key for one in basis.room.stations)):
        station = basis.room.station(key)
        checklist = basis.checklists.get(station.kind if station else key)
        if checklist is None:
            continue
        chosen = first_looks(looks.get(key, ()), checklist)
        if station is None and not chosen:
            continue
        head = _stands(basis, station, checklist) if station else "The room"
        yield Line(says=head, under=tuple(line for one in chosen for line in look_lines(one, said)))


def _stands(basis: Basis, station: Station, checklist: Checklist) -> str:
    here = [_planting(basis, one) for one in basis.standing if one.station == station.key]
    return f"{_short(station.name)} ({checklist.title.lower()}): {', '.join(here) or 'nothing grows here now'}"


def _planting(basis: Basis, planting: Planting) -> str:
    crop = basis.crop(planting)
    apart = " (stands apart: touch it last)" if planting.apart_until and planting.apart_until >= basis.today else ""
    return f"{planting.count} {crop.name if crop else planting.crop}{apart}"


def _findings(basis: Basis, findings: Sequence[Finding]) -> Iterator[Line]:
    for one in findings[:MOST_FINDINGS]:
        again = f"; look again on {_day(one.recheck)}" if one.recheck else ""
        yield Line(
            says=f"{_name(basis, one.station)}: {_short(one.seen)} (since {one.at.day} {one.at:%B}{again})",
            warns=one.verdict in ("now", "stop"),
        )
    if left := len(findings[MOST_FINDINGS:]):
        yield Line(says=f"{left} more: see the list of findings.", warns=True)
    if findings:
        yield Line(says=KNOWN)


def _promises(almanac: Almanac, basis: Basis) -> Iterator[Line]:
    still = [one for one in almanac.promises if one.promise.closed is None]
    for one in still[:MOST_PROMISES]:
        yield _promised(one, basis)
    if left := len(still[MOST_PROMISES:]):
        yield Line(says=f"{left} more: see the almanac.")
    if not still:
        yield Line(says="Nothing.")
    cold = words(COLD, "°C", Scales(basis.room.units == "US"), 0)
    yield Line(says=EATING.format(cold=cold))


def _promised(one: Foreseen, basis: Basis) -> Line:
    promise = one.promise
    amount = amount_of(promise.amount, promise.unit, basis.crops.find(promise.crop), one.name)
    says = f"{promise.day:%A} {promise.day.day} {promise.day:%B}: {amount} for {_short(promise.people)}"
    slips = one.outlook in ("tight", "at risk", "cannot")
    way = (f"What would help: {one.ways[0].says} ({WHO_SAID[one.ways[0].who]}).",) if slips and one.ways else ()
    return Line(
        says=f"{says}; {one.outlook}. {one.says}",
        under=(*way, *one.blocked),
        warns=bool(one.blocked) or one.outlook in ("at risk", "cannot"),
    )


def _plants(basis: Basis) -> Iterator[str]:
    """Yield the caution of each crop that stands here, once."""
    crops = {crop.key: crop for one in basis.standing if (crop := basis.crop(one)) is not None and crop.caution}
    for crop in crops.values():
        yield f"{crop.name[:1].upper()}{crop.name[1:]}: {crop.caution}"


def _name(basis: Basis, station: str) -> str:
    return "The room" if station == WHOLE_ROOM else _short(basis.name_of(station))


def _short(text: str) -> str:
    """Return what somebody typed on one line, cut where it is very long."""
    flat = " ".join(text.split())
    return flat if len(flat) <= LONGEST else f"{flat[: LONGEST - 1].rstrip()}…"


def _day(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b}"
