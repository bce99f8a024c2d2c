"""Time spent, rounds walked of those expected, and how long findings took to clear, within a span of days."""

import re
from collections.abc import Iterable
from datetime import date, timedelta

from walkabout.insight.term_kept import Kept
from walkabout.insight.term_model import Cleared, FindingsCount, Minutes, Rounds, WalkerRounds
from walkabout.reckon.write import number
from walkabout.records.model import Finding, Round
from walkabout.room.calendar import is_walked
from walkabout.room.model import Room

DONE = "done"
"""The reason of a job that was done, not given up."""
SOMEBODY = "somebody"
DAY_SECONDS = 86_400


def minutes(kept: Kept, first: date, last: date) -> Minutes:
    """Return the time on foot, on measuring and on jobs.

    A job's time is what it is planned for; that of a measuring job is on its own walk, and counts there.
    """
    walks = [one for one in kept.rounds if first <= one.day <= last]
    measuring = [one for one in kept.measured if first <= one.day <= last]
    done = [
        one
        for one in kept.jobs
        if one.closed is not None and one.reason == DONE and first <= one.closed.date() <= last and not one.questions
    ]
    timed = [one.minutes for one in done if one.minutes is not None]
    walked, measured = _walked(walks), _walked(measuring)
    without = sum(1 for one in walks if one.walked_seconds <= 0)
    lines = (
        f"rounds: {len(walks) - without} with a time, {number(walked, 0)} min in all",
        f"measuring: {len(measuring)}, {number(measured, 0)} min in all",
        f"jobs done: {len(timed)} with a time, {number(sum(timed), 0)} min in all, as planned",
    )
    return Minutes(
        walking=walked, measuring=measured, jobs=sum(timed), jobs_done=len(done), jobs_without=len(done) - len(timed),
        rounds_without=without, working=lines,
    )  # fmt: skip


def _walked(rounds: Iterable[Round]) -> float:
    return sum(max(one.walked_seconds, 0.0) for one in rounds) / 60


def rounds(kept: Kept, first: date, last: date) -> Rounds:
    """Return on how many of the days on which somebody should walk somebody did.

    Today is expected only once it has been walked: the day is not over. Nor is any day before the first on record.
    """
    walks = [one for one in kept.rounds if first <= one.day <= last]
    days = {one.day for one in walks}
    span = [first + timedelta(days=ahead) for ahead in range((last - first).days + 1)]
    begun = kept.begun or kept.today
    over = [day for day in span if begun <= day < kept.today or day in days]
    expected = {day for day in over if is_walked(kept.room, day)}
    lines = (
        f"{len(expected)} open days, {len(days & expected)} of them walked",
        f"{len(walks)} rounds on {len(days)} days",
    )
    return Rounds(
        expected=len(expected), walked=len(days & expected), besides=len(days - expected),
        unfinished=sum(1 for one in walks if one.ended is None and one.day < kept.today), working=lines,
    )  # fmt: skip


def by_code(kept: Kept, first: date, last: date) -> tuple[WalkerRounds, ...]:
    """Return the rounds of each code, in the order of the codes: this is no ranking."""
    walks = [one for one in kept.rounds if first <= one.day <= last]
    codes = sorted({one.walker for one in walks})
    found = {code: [one for one in walks if one.walker == code] for code in codes}
    return tuple(WalkerRounds(code, len(mine), _walked(mine)) for code, mine in found.items())


def findings(kept: Kept, first: date, last: date) -> FindingsCount:
    """Return how many findings were opened and closed, and which were cleared soonest and latest."""
    opened = [one for one in kept.findings if first <= one.at.date() <= last]
    closed = [one for one in kept.findings if one.closed is not None and first <= one.closed.date() <= last]
    still = [
        one
        for one in kept.findings
        if one.at.date() <= last and (one.closed is None or one.closed.date() > last)
    ]  # fmt: skip
    times = sorted((_days(one), one.key, one) for one in closed)
    return FindingsCount(
        opened=len(opened), closed=len(closed), still_open=len(still),
        quickest=_cleared(times[0][2], kept) if times else None,
        slowest=_cleared(times[-1][2], kept) if times else None,
    )  # fmt: skip


def _days(one: Finding) -> float:
    return max((one.closed - one.at).total_seconds(), 0.0) / DAY_SECONDS if one.closed is not None else 0.0


def _cleared(one: Finding, kept: Kept) -> Cleared:
    station = "The room" if kept.room.station(one.station) is None else kept.name_of(one.station)
    return Cleared(finding=one.key, station=station, seen=without_codes(one.seen, kept.room), days=_days(one))


def without_codes(text: str, room: Room) -> str:
    """Return text with every code of the room replaced: it may be shown to anybody."""
    if not room.people:
        return text
    # capitals count where a code is letters alone: "OC" is one, "oc" in a sentence is not; "e4" is nothing but a code
    parts = (f"(?i:{re.escape(one)})" if any(map(str.isdigit, one)) else re.escape(one) for one in room.people)
    return re.sub(rf"(?<!\w)(?:{'|'.join(parts)})(?!\w)", SOMEBODY, text)
