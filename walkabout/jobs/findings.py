"""The life of a finding: flagged, looked at again, clear or not, closed with a reason."""

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from typing import Literal

import msgspec

from walkabout.checklist.model import Choice, Question
from walkabout.jobs.life import NotAllowed
from walkabout.jobs.newcomers import look_at_newcomers, reminds_of_newcomers
from walkabout.records.keys import new_key
from walkabout.records.model import Finding, Happening, Verdict
from walkabout.room.model import Who, may

LOOK_AGAIN = "finding-"
"""What the id of the question begins with that looks at a finding again; its key follows."""

RECHECK_DAYS: dict[str, int] = {"stop": 1, "now": 1, "today": 1, "watch": 3}
"""Common practice: the graver, the sooner."""


def flag(
    *,
    station: str,
    seen: str,
    verdict: Verdict,
    by: str,
    now: datetime,
    signs: tuple[str, ...] = (),
    planting: str = "",
) -> Finding:
    """Return a finding that somebody flagged. What is grave can only be closed by an adult."""
    if not seen.strip():
        raise ValueError("Write in a few words what is seen.")
    days = RECHECK_DAYS[verdict]
    return Finding(
        key=new_key("f", now),
        station=station,
        seen=seen.strip(),
        verdict=verdict,
        by=by,
        at=now,
        signs=signs,
        planting=planting,
        who="adult" if verdict in ("stop", "now") else "pupil",
        recheck=now.date() + timedelta(days=days),
        recheck_days=days,
        history=(Happening(at=now, by=by, says=f"flagged: {seen.strip()}"),),
    )


def still_open(findings: Iterable[Finding]) -> list[Finding]:
    """Return the open findings, the oldest first."""
    return sorted((one for one in findings if one.closed is None), key=lambda one: (one.at, one.key))


def open_at(findings: Iterable[Finding], station: str, question: str) -> Finding | None:
    """Return the open finding that this question raised at this station, if there is one."""
    return next((one for one in still_open(findings) if (one.station, one.question) == (station, question)), None)


def seen_again(finding: Finding, by: str, now: datetime, says: str) -> Finding:
    """Return the finding after a look that still shows it."""
    return msgspec.structs.replace(
        finding,
        recheck=now.date() + timedelta(days=finding.recheck_days),
        history=(*finding.history, Happening(at=now, by=by, says=says)),
    )


def clear(finding: Finding, by: str, role: Who, now: datetime, says: str) -> Finding:
    """Return the finding after a look that no longer shows it.

    Somebody who may close it closes it. Anybody else is written down, and it waits for one who may.
    """
    if may(role, finding.who):
        return close(finding, by, role, now, says)
    waits = f"{says}; waits for an adult to confirm"
    return msgspec.structs.replace(
        finding, recheck=now.date(), history=(*finding.history, Happening(at=now, by=by, says=waits))
    )


def close(finding: Finding, by: str, role: Who, now: datetime, reason: str) -> Finding:
    """Return the finding closed; NotAllowed when it asks for another role."""
    if not reason.strip():
        raise ValueError("A finding is closed with a reason.")
    if not may(role, finding.who):
        raise NotAllowed("Only an adult may close this finding.")
    history = (*finding.history, Happening(at=now, by=by, says=f"closed: {reason.strip()}"))
    return msgspec.structs.replace(finding, closed=now, recheck=None, reason=reason.strip(), history=history)


CONFIRMED = "cause confirmed: "
"""What the line in the history begins with that names a cause; the name follows."""


def confirm_cause(finding: Finding, cause: str, name: str, by: str, role: Who, now: datetime) -> Finding:
    """Return the finding, open or closed, with its cause; NotAllowed for anybody but an adult.

    `cause` is a key of the knowledge of the diagnosis, `name` how it is called there.
    """
    must_be_adult(role)
    says = Happening(at=now, by=by, says=f"{CONFIRMED}{name}")
    return msgspec.structs.replace(finding, cause=cause, cause_by=by, history=(*finding.history, says))


def take_back_cause(finding: Finding, by: str, role: Who, now: datetime) -> Finding:
    """Return the finding without a confirmed cause; NotAllowed for anybody but an adult, ValueError without one."""
    if not finding.cause:
        raise ValueError("No cause is confirmed for this finding.")
    must_be_adult(role)
    says = Happening(at=now, by=by, says=f"cause taken back: {cause_words(finding)}")
    return msgspec.structs.replace(finding, cause="", cause_by="", history=(*finding.history, says))


def cause_words(finding: Finding) -> str:
    """Return what the confirmed cause is called, as it was written down; '' where none is confirmed."""
    if not finding.cause:
        return ""
    said = (one.says.removeprefix(CONFIRMED) for one in reversed(finding.history) if one.says.startswith(CONFIRMED))
    return next(said, finding.cause.replace("-", " "))


def must_be_adult(role: Who) -> None:
    """Raise NotAllowed for somebody who may not say what a finding turned out to be: the lookup learns from it."""
    if not may(role, "adult"):
        raise NotAllowed("Only an adult may confirm a cause or take it back.")


def look_again(finding: Finding) -> Question:
    """Return the question that looks at a flagged finding once more."""
    if reminds_of_newcomers(finding):
        return look_at_newcomers(finding, LOOK_AGAIN + finding.key)
    return Question(
        id=LOOK_AGAIN + finding.key,
        ask=f"Look again: {finding.seen}",
        how=f"Flagged by {finding.by} on {finding.at:%d %b}.",
        seconds=6,
        should=finding.recheck_days,
        must=max(finding.recheck_days, 7),
        may_not_apply=False,
        choices=(
            Choice(id="gone", says="gone"),
            Choice(id="better", says="better", verdict="watch", why="It is getting better but is still there."),
            Choice(
                id="same",
                says="the same",
                verdict=_still(finding.verdict),
                why="It is still there.",
                do="Do what was agreed, and tell an adult if nothing was.",
            ),
            Choice(
                id="worse",
                says="worse, or it has spread",
                verdict="today",
                why="It has grown since it was flagged.",
                do="Set the plant apart if it can be moved, wash your hands, and tell an adult.",
                who="adult",
                job=f"Decide what to do: {finding.seen}",
            ),
        ),
    )


def _still(verdict: str) -> Literal["watch", "today"]:
    """A second look without change is no new alarm: what was grave has its job by now."""
    return "watch" if verdict in ("", "good", "watch") else "today"


def due_again(findings: Iterable[Finding], day: date) -> list[Finding]:
    """Return the open findings whose next look is due by `day`."""
    return [one for one in still_open(findings) if one.recheck is not None and one.recheck <= day]
