"""All stations by day, each day by its worst verdict: for a term or a year, at one look."""

from collections.abc import Iterable
from datetime import date, timedelta

from msgspec import Struct

from walkabout.checklist.model import VERDICTS
from walkabout.records.model import Answer
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.history import KEPT_DAYS
from walkabout.round.opened import OpenRoom
from walkabout.round.today import Days

NOT_LOOKED = "not looked"
LONGEST = 366
"""Days that a strip may have."""
_RANK = {NOT_LOOKED: -1} | {verdict: rank for rank, verdict in enumerate(VERDICTS)}


class Heat(Struct, frozen=True):
    """For each day of `dates` and each row the worst verdict, 'not looked' where nobody did, '' without a round."""

    dates: tuple[date, ...]
    rows: tuple[Days, ...]
    """The room as a whole and then its stations, in walking order."""


def heat(opened: OpenRoom, first: date, last: date) -> Heat:
    """Return the strip from a day to another, both included; ValueError for a span that is none or too long."""
    days = (last - first).days + 1
    if not 0 < days <= LONGEST:
        raise ValueError(f"A strip has 1 to {LONGEST} days, from its first day to its last.")
    dates = tuple(first + timedelta(days=one) for one in range(days))
    rows = [(WHOLE_ROOM, "The room"), *((one.key, one.name) for one in opened.room.stations)]
    worst = _worst(_answers(opened, first), first, last)
    return Heat(dates, tuple(Days(key, name, tuple(worst.get((key, day), "") for day in dates)) for key, name in rows))


def heat_says(row: Days) -> str:
    """Return a row in words, for those who cannot see it: 'Raft tub: 41 days on record; now on 1, today on 3'."""
    walked = sum(bool(one) for one in row.verdicts)
    if not walked:
        return f"{row.name}: no day on record."
    counts = {one: row.verdicts.count(one) for one in (*reversed(VERDICTS[1:]), NOT_LOOKED)}
    found = [f"{one} on {count}" for one, count in counts.items() if count]
    days = f"{walked} day{'s' if walked != 1 else ''} on record"
    return f"{row.name}: {days}; {', '.join(found) or 'good on every one'}."


def _answers(opened: OpenRoom, first: date) -> Iterable[Answer]:
    """Return the answers from a day on that still stand: what was put right is not among them."""
    if first >= opened.today() - timedelta(days=KEPT_DAYS):
        return opened.history.everything()
    answers = opened.records.answers(first)
    # of two corrections of one answer the later one counts; keys rise with the time at which they were made
    last = {one.replaces: one.key for one in sorted(answers, key=lambda one: one.key) if one.replaces}
    return [one for one in answers if one.key not in last and (not one.replaces or last[one.replaces] == one.key)]


def _worst(answers: Iterable[Answer], first: date, last: date) -> dict[tuple[str, date], str]:
    worst: dict[tuple[str, date], str] = {}
    for answer in answers:
        verdict = NOT_LOOKED if answer.state == NOT_LOOKED else answer.verdict
        day = answer.at.date()
        if not verdict or not first <= day <= last:
            continue
        where = (answer.station, day)
        before = worst.get(where)
        if before is None or _RANK[verdict] > _RANK[before]:
            worst[where] = verdict
    return worst
