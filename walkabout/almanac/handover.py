"""One page for somebody who has never seen the room: what to look at, what to do, what is promised, whom to ask.

Nothing of it says who did or saw what: wherever a code of the room stands in a text, it is replaced.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta

from msgspec import Struct

from walkabout.almanac.model import Almanac, Basis, Entry, Foreseen
from walkabout.almanac.whole import coming
from walkabout.checklist.model import VERDICTS, Checklist, Choice, Question, Verdict
from walkabout.records.model import Finding, Job, Planting
from walkabout.room.calendar import is_walked
from walkabout.room.model import WHOLE_ROOM, Room, Station, Who

DAYS = 10
"""How far ahead the page looks, in days. A fortnight's cover begins with the first week."""
LOOKS = 3
"""So many questions of a station stand on the page: it has to stay one page a room can hang on its door."""
SOMEBODY = "somebody"

MAY: tuple[tuple[str, str], ...] = (
    ("Anybody", "looks, counts, writes down, and tops up with plain water to the mark."),
    (
        "An adult",
        "handles plugs, pumps, lamps, concentrates, blades and cleaning agents, and says what is eaten.",
    ),
    ("A licensed person", "opens fittings and wiring, and puts plant protection products on plants."),
)
"""Who may do what; the school's own rules come first."""

CAUTIONS: tuple[str, ...] = (
    "Water and mains: if it is wet near a plug or a lamp, touch nothing and fetch an adult. Tripped means left off.",
    "Broken glass or a broken lamp: everybody out of that corner; an adult sees to it.",
    "Acid, base and concentrates stay locked away. Nobody doses who has not been shown.",
    "Nothing is sprayed, soap included, and nothing is tasted before an adult has cleared the harvest.",
    "The school's rules, local codes and the employer's risk assessment come before this page.",
)
"""Common practice; local codes and licensed people decide."""

BLANKS: tuple[str, ...] = (
    "Person in charge of the room",
    "If that person is away",
    "First aid",
    "Site staff, main switch and water tap",
    "Pest control contact",
)
"""Whom to ask: filled in by hand, so that no name is kept by the program."""


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
    jobs = list(jobs)
    sections = (
        Section(title="Today", lines=tuple(_today(basis, jobs)) or (Line(says="Nothing is due but the round."),)),
        Section(title="The days to come", lines=tuple(_ahead(basis, coming(almanac.entries, today, until)))),
        Section(title="Station by station", lines=tuple(_stations(basis, looks))),
        Section(title="Open findings", lines=tuple(_findings(basis, findings)) or (Line(says="None."),)),
        Section(title="Promised", lines=tuple(map(_promised, almanac.promises)) or (Line(says="Nothing."),)),
        Section(title="Who may do what", lines=tuple(Line(says=f"{who} {what}") for who, what in MAY)),
        Section(title="Take care", lines=tuple(Line(says=one) for one in (*CAUTIONS, *_plants(basis)))),
        Section(title="Whom to ask", lines=tuple(Line(says=f"{one}: {'_' * 28}") for one in BLANKS)),
    )
    page = Handover(room=basis.room.name, day=today, until=until, sections=sections)
    return _without_codes(page, basis.room)


def _today(basis: Basis, jobs: Iterable[Job]) -> Iterator[Line]:
    for job in jobs:
        if job.due <= basis.today:
            where = _name(basis, job.station)
            yield Line(
                says=f"{where}: {job.what} ({_who(job.who)})",
                under=tuple(one for one in (job.caution,) if one),
                warns=job.verdict in ("now", "stop"),
            )


def _ahead(basis: Basis, entries: Iterable[Entry]) -> Iterator[Line]:
    """Yield a line for each day on which something happens, and one for what lasts over many."""
    days: dict[date, list[Entry]] = {}
    for entry in entries:
        if entry.kind != "term":
            days.setdefault(max(entry.day, basis.today), []).append(entry)
    for day in sorted(days):
        closed = "" if is_walked(basis.room, day) else " (nobody comes)"
        yield Line(
            says=f"{day:%A} {day.day} {day:%B}{closed}",
            under=tuple(_entry(basis, one) for one in days[day]),
            warns=any(one.warns for one in days[day]),
        )
    if not days:
        yield Line(says="Nothing but the morning rounds.")


def _entry(basis: Basis, entry: Entry) -> str:
    where = f"{_name(basis, entry.station)}: " if entry.station else ""
    until = f", until {entry.last.day} {entry.last:%B}" if entry.last else ""
    how = f" ({_who(entry.who)}, {entry.minutes:.0f} min)" if entry.minutes else ""
    return f"{where}{entry.says}{until}{how}"


def _stations(basis: Basis, looks: Mapping[str, Sequence[Question]]) -> Iterator[Line]:
    room = [WHOLE_ROOM] if WHOLE_ROOM in looks else []
    for key in (*room, *(one.key for one in basis.room.stations)):
        station = basis.room.station(key)
        checklist = basis.checklists.get(station.kind if station else key)
        if checklist is None:
            continue
        head = _stands(basis, station, checklist) if station else "The room: before anything else"
        chosen = _first_looks(looks.get(key, ()), checklist)
        yield Line(says=head, under=tuple(line for one in chosen for line in _look(one)))


def _stands(basis: Basis, station: Station, checklist: Checklist) -> str:
    here = [_planting(basis, one) for one in basis.standing if one.station == station.key]
    return f"{station.name} ({checklist.title.lower()}): {', '.join(here) or 'nothing grows here now'}"


def _planting(basis: Basis, planting: Planting) -> str:
    crop = basis.crop(planting)
    return f"{planting.count} {crop.name if crop else planting.crop}"


def _first_looks(questions: Sequence[Question], checklist: Checklist) -> list[Question]:
    """Return the looks behind which something is lost soonest, in the order of looking.

    Only those that are quick, picked and daily: a stranger measures nothing.
    """
    able = [one for one in questions if one.choices and not one.slow and one.should <= 2 and one.who == "pupil"]

    def hours(question: Question) -> tuple[bool, float]:
        faults = [checklist.fault[name] for name in question.reveals if name in checklist.fault]
        return not any(one.people for one in faults), min((one.hours for one in faults), default=1e6)

    kept = sorted(able, key=hours)[:LOOKS]
    return [one for one in able if one in kept]


def _look(question: Question) -> Iterator[str]:
    """Yield what good looks like, and what to do when it does not."""
    yield f"{question.ask} Good: {question.choices[0].says}."
    for choice in _graver(question.choices[1:]):
        adult = "" if choice.who == "pupil" else f" ({_who(choice.who)})"
        yield f"  if {choice.says}: {choice.do}{adult}"
        if choice.caution:
            yield f"  take care: {choice.caution}"


def _graver(choices: Iterable[Choice]) -> list[Choice]:
    """Return the answers that ask for something at once, the gravest first, two at most."""
    grave: tuple[Verdict, ...] = ("now", "stop", "today")
    found = [one for one in choices if one.verdict in grave and one.do]
    return sorted(found, key=lambda one: -VERDICTS.index(one.verdict))[:2]


def _findings(basis: Basis, findings: Iterable[Finding]) -> Iterator[Line]:
    for one in findings:
        again = f"; look again on {one.recheck.day} {one.recheck:%B}" if one.recheck else ""
        yield Line(
            says=f"{_name(basis, one.station)}: {one.seen} (since {one.at.day} {one.at:%B}{again})",
            under=("It is known: it need not be reported again unless it has grown.",),
            warns=one.verdict in ("now", "stop"),
        )


def _promised(one: Foreseen) -> Line:
    promise = one.promise
    amount = f"{promise.amount:g} {promise.unit}" if promise.unit != "g" else f"{promise.amount:g} g"
    says = f"{promise.day:%A} {promise.day.day} {promise.day:%B}: {amount} of {one.name} for {promise.people}"
    return Line(says=f"{says}; {one.outlook}", under=(one.says,), warns=one.outlook in ("at risk", "cannot"))


def _plants(basis: Basis) -> Iterator[str]:
    """Yield the caution of each crop that stands here, once."""
    crops = {crop.key: crop for one in basis.standing if (crop := basis.crop(one)) is not None and crop.caution}
    for crop in crops.values():
        yield f"{crop.name[:1].upper()}{crop.name[1:]}: {crop.caution}"


def _name(basis: Basis, station: str) -> str:
    return "The room" if station == WHOLE_ROOM else basis.name_of(station)


def _who(who: Who) -> str:
    return {"pupil": "anybody", "adult": "an adult", "licensed": "a licensed person"}[who]


def _without_codes(page: Handover, room: Room) -> Handover:
    """Return the page with every code of the room replaced by 'somebody'."""
    if not room.people:
        return page
    # capitals count: "OC" is a code, "oc" in a word is not
    code = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, room.people))})(?!\w)")

    def clean(line: Line) -> Line:
        under = tuple(code.sub(SOMEBODY, one) for one in line.under)
        return Line(says=code.sub(SOMEBODY, line.says), under=under, warns=line.warns)

    sections = tuple(Section(title=one.title, lines=tuple(map(clean, one.lines))) for one in page.sections)
    return Handover(room=page.room, day=page.day, until=page.until, sections=sections)
