"""Readings that are not to be trusted, because the meter behind them failed its check."""

from collections.abc import Iterable
from datetime import datetime

from walkabout.checklist.model import Checklist, Quantity, Question
from walkabout.records.model import Answer
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.history import History


def doubtful(answer: Answer, question: Question | None, room: Checklist | None, history: History) -> str:
    """Return why a reading is not to be trusted, as one sentence, or ''.

    When a meter fails its check, each reading of the quantities that the failing answer names is
    doubtful back to the last good check, and onwards until a check is good again. `room` is the
    checklist of the room as a whole, where meters are checked. A check that says nothing about the
    meter (its test liquid was used up) neither clears nor condemns.
    """
    if answer.doubtful:
        return answer.doubtful
    if room is None or question is None or question.reading is None or answer.value is None:
        return ""
    for check in room.question:
        if question.meter not in ("", check.id):
            continue
        says = _between(answer.at, _checks(check, question.reading.quantity, history))
        if says:
            return says
    return ""


def _checks(check: Question, quantity: Quantity, history: History) -> list[tuple[datetime, bool]]:
    """Return (when, whether the meter passed) of every check that says something, the oldest first."""
    failing = {choice.id for choice in check.choices if quantity in choice.doubts}
    if not failing:
        return []
    good = {choice.id for choice in check.choices if choice.verdict == "good"}
    looks = [one for one in history.all(WHOLE_ROOM, check.id) if one.state == "answered"]
    told = [(one.at, not failing & set(one.choices)) for one in looks if set(one.choices) & (failing | good)]
    return sorted(told)


def _between(moment: datetime, checks: Iterable[tuple[datetime, bool]]) -> str:
    """Judge a reading by the checks before and after it."""
    before: tuple[datetime, bool] | None = None
    for at, passed in checks:
        if at <= moment:
            before = (at, passed)
            continue
        if before is not None and not before[1]:
            break
        if passed:
            return ""
        since = f"; it was last right on {_day(before[0])}" if before else ""
        return f"The meter failed its check on {_day(at)}{since}."
    if before is not None and not before[1]:
        return f"The meter had failed its check on {_day(before[0])} and not passed one since."
    return ""


def _day(moment: datetime) -> str:
    return f"{moment.day} {moment:%b}"
