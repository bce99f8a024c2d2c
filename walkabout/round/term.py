"""The term in numbers for an open room: what is on record, gathered for a span of days."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from walkabout.checklist.model import Quantity
from walkabout.insight.supplies import Stock, stock
from walkabout.insight.supply_rate import Uses
from walkabout.insight.term import LONGEST_DAYS, span_of, term
from walkabout.insight.term_energy import READ_WITHIN
from walkabout.insight.term_kept import Kept, Poured, Renewed, Strength
from walkabout.insight.term_model import Term
from walkabout.records.model import Answer, Finding, Round
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.doubtful import doubtful
from walkabout.round.history import CHANGED, History
from walkabout.round.opened import OpenRoom, measures

AROUND = timedelta(days=62)
"""So much before the span is read too: a change of solution is reported later, and its neighbours count. Assumed."""


def term_of(opened: OpenRoom, first: date | None = None, last: date | None = None, *, closed_light: float = 1) -> Term:
    """Return the numbers of a span: the term of room.toml that runs, else the last 12 weeks, where none is given.

    With one end only, the other is that of the term, or today. `closed_light` is the share of their hours that lamps
    were lit on closed days, 0 to 1. ValueError, one sentence, for a span that is no span or lies ahead.
    """
    begins, ends, name = span_of(Kept(room=opened.room, crops=opened.crops, today=opened.today()))
    if first is not None or last is not None:
        whole = (first or begins, last or max(ends, first or begins))
        name = name if whole == (begins, ends) else ""
        begins, ends = whole
    return term(kept_of(opened, begins, closed_light=closed_light), begins, ends, name)


def kept_of(opened: OpenRoom, since: date, *, closed_light: float = 1) -> Kept:
    """Return what is on record from `since` on, and a little before."""
    oldest = opened.today() - timedelta(days=LONGEST_DAYS)
    since = max(since, oldest) - AROUND
    history = History(opened.records.answers(since))
    walks = opened.records.rounds(since)
    tanks = {one.key: one.tank for one in opened.room.stations if one.tank in opened.room.tanks}
    findings = tuple(opened.findings.values())
    renewed = tuple(_renewed(opened, history, tanks))
    return Kept(
        room=opened.room,
        crops=opened.crops,
        today=opened.today(),
        rounds=tuple(one for one in walks if not measures(one)),
        measured=tuple(one for one in walks if measures(one)),
        plantings=tuple(opened.plantings.values()),
        findings=findings,
        jobs=tuple(opened.jobs.values()),
        supplies=tuple(opened.records.supplies()),
        poured=tuple(_poured(opened, history)),
        renewed=renewed,
        strengths=tuple(_strengths(opened, history, tanks, renewed)),
        checks=tuple(_checks(opened, history)),
        causes=_named(findings),
        begun=_begun(opened, walks),
        closed_light=closed_light,
    )


def shelf_of(opened: OpenRoom) -> list[Stock]:
    """Return every supply that is kept, as it stands today."""
    today = opened.today()
    uses = Uses(
        room=opened.room,
        today=today,
        plantings=tuple(opened.plantings.values()),
        checks=tuple(_checks(opened, opened.history)),
    )
    return [stock(one, uses) for one in opened.records.supplies() if one.ended is None]


def _looks(opened: OpenRoom, history: History, quantity: Quantity) -> Iterator[Answer]:
    """Yield the numbers of one quantity, as corrected, those marked as doubtful too."""
    for station, question in history.places():
        asked = opened.question(station, question)
        if asked is None or asked.reading is None or asked.reading.quantity != quantity:
            continue
        for one in history.all(station, question):
            if one.state == "answered" and one.value is not None:
                yield one


def _poured(opened: OpenRoom, history: History) -> Iterator[Poured]:
    for one in _looks(opened, history, "volume"):
        if not one.doubtful:
            yield Poured(one.at.date(), one.station, one.value or 0.0)


def _strengths(
    opened: OpenRoom, history: History, tanks: dict[str, str], renewed: Iterable[Renewed]
) -> Iterator[Strength]:
    """Yield the EC that was read in the week after a change, and whether it and its meter are to be trusted."""
    fresh = {(one.tank, one.day + timedelta(days=more)) for one in renewed for more in range(READ_WITHIN + 1)}
    room = opened.checklists.get(WHOLE_ROOM)
    for one in _looks(opened, history, "EC"):
        tank, day = tanks.get(one.station, ""), one.at.date()
        if (tank, day) in fresh:
            asked = opened.question(one.station, one.question)
            yield Strength(day, tank, one.value or 0.0, trusted=not doubtful(one, asked, room, history))


def _renewed(opened: OpenRoom, history: History, tanks: dict[str, str]) -> Iterator[Renewed]:
    """Yield each change that a job or an answer speaks of; several may speak of the same."""
    for job in opened.jobs.values():
        duty, _, tank = job.standing.partition("/")
        if duty == "change" and tank and job.closed is not None and job.reason == "done":
            yield Renewed(job.closed.date(), tank, exact=True)
    for station, tank in tanks.items():
        for one in history.all(station, CHANGED):
            if one.state == "answered" and one.value is not None and not one.doubtful:
                yield Renewed(one.at.date() - timedelta(days=round(one.value)), tank)


def _checks(opened: OpenRoom, history: History) -> Iterator[date]:
    """Yield a day for each check of a meter: an answer of the room's that may make readings doubtful."""
    room = opened.checklists.get(WHOLE_ROOM)
    for question in room.question if room is not None else ():
        if any(choice.doubts for choice in question.choices):
            looks = history.all(WHOLE_ROOM, question.id)
            yield from (one.at.date() for one in looks if one.state == "answered")


def _begun(opened: OpenRoom, walks: Iterable[Round]) -> date | None:
    """Return the first day on which anything was written down, as far as known."""
    days = [one.day for one in walks]
    days += [one.at.date() for one in opened.findings.values()]
    days += [one.made.date() for one in opened.jobs.values()]
    return min(days, default=None)


def _named(findings: Iterable[Finding]) -> dict[str, str]:
    """Return the names of the causes that were confirmed; a key that the knowledge has lost stays as it is."""
    confirmed = {one.cause for one in findings if one.cause}
    if not confirmed:
        return {}
    from walkabout.round.confirm import cause_name  # noqa: PLC0415 - it reads all the knowledge

    found = {}
    for cause in sorted(confirmed):
        try:
            found[cause] = cause_name(cause)
        except ValueError:
            found[cause] = cause.replace("-", " ")
    return found
