"""Something was put on plants: written down by an adult, with the waiting times of its label.

Soaps, oils and mixtures from the kitchen count too: many places treat whatever is put on plants against
something as a pesticide (from memory; local rules decide).
"""

import math
from datetime import date, datetime

import msgspec

from walkabout.jobs.life import NotAllowed
from walkabout.jobs.plantings import must_be_past
from walkabout.records.keys import new_key
from walkabout.records.model import Happening, Job, Treatment
from walkabout.room.model import Who, may

MOST_DAYS = 730
"""A longer waiting time is a slip of the hand. Assumed."""
MOST_HOURS = 720.0
"""Likewise for the hours until plants may be touched. Assumed."""
LONGEST = 120
"""The longest name of what was put on, in characters."""
CAUTION = "The label, local rules and licensed people decide what may be put on plants, and when they may be eaten."


def treat(
    *,
    station: str,
    what: str,
    wait_days: int | None,
    entry_hours: float | None,
    by: str,
    role: Who,
    now: datetime,
    planting: str = "",
    day: date | None = None,
) -> Treatment:
    """Return what was put on the plants of a station, or on one planting; NotAllowed for a pupil's code.

    None for a waiting time that nobody knows: nothing that was treated may be eaten until somebody fills it in.
    """
    _must_be_adult(role)
    what = what.strip()
    if not what:
        raise ValueError("Say what was put on the plants, as it stands on the label.")
    if len(what) > LONGEST:
        raise ValueError(f"Say it in at most {LONGEST} characters.")
    _must_be_waits(wait_days, entry_hours)
    seen = day or now.date()
    must_be_past(seen, now.date())
    return Treatment(
        key=new_key("t", now),
        day=seen,
        station=station,
        what=what,
        by=by,
        at=now,
        planting=planting,
        wait_days=wait_days,
        entry_hours=entry_hours,
        history=(Happening(at=now, by=by, says=f"put on: {what}; {waits_words(wait_days, entry_hours)}"),),
    )


def treated(job: Job, wait_days: int | None, entry_hours: float | None, by: str, role: Who, now: datetime) -> Treatment:
    """Return what a job that was done has put on the plants of its station."""
    what = job.what if len(job.what) <= LONGEST else f"{job.what[: LONGEST - 1]}…"
    return treat(
        station=job.station, what=what, wait_days=wait_days, entry_hours=entry_hours, by=by, role=role, now=now
    )


def fill_in(
    one: Treatment, wait_days: int | None, entry_hours: float | None, by: str, role: Who, now: datetime
) -> Treatment:
    """Return the treatment with waiting times that were not known, or that turned out longer.

    What is on record is never shortened. NotAllowed for a pupil's code.
    """
    _must_be_adult(role)
    _must_be_waits(wait_days, entry_hours)
    if wait_days is not None and one.wait_days is not None and wait_days < one.wait_days:
        raise ValueError(f"{one.wait_days} days are on record, and a waiting time is never shortened here.")
    if entry_hours is not None and one.entry_hours is not None and entry_hours < one.entry_hours:
        raise ValueError(f"{one.entry_hours:g} hours are on record, and a waiting time is never shortened here.")
    filled = msgspec.structs.replace(
        one,
        wait_days=one.wait_days if wait_days is None else wait_days,
        entry_hours=one.entry_hours if entry_hours is None else entry_hours,
    )
    if filled == one:
        raise ValueError("Nothing about it would change.")
    says = f"filled in: {waits_words(filled.wait_days, filled.entry_hours)}"
    return msgspec.structs.replace(filled, history=(*one.history, Happening(at=now, by=by, says=says)))


def waits_words(wait_days: int | None, entry_hours: float | None) -> str:
    """Say the waiting times in one line."""
    eaten = "waiting time not known" if wait_days is None else f"{_count(wait_days, 'day')} until it may be eaten"
    return eaten if entry_hours is None else f"{eaten}, {_count(entry_hours, 'hour')} until it may be touched"


def wait_in(text: str) -> int | None:
    """Return the days of a label as typed: nothing for not known, else a whole number."""
    typed = text.strip()
    if not typed:
        return None
    if not (typed.isascii() and typed.isdigit() and int(typed[:9]) <= MOST_DAYS):
        raise ValueError(f"Type whole days from 0 to {MOST_DAYS}, or nothing where the label is not at hand.")
    return int(typed)


def hours_in(text: str) -> float | None:
    """Return the hours of a label as typed: nothing for not known."""
    typed = text.strip().replace(",", ".")
    if not typed:
        return None
    right = f"Type hours from 0 to {MOST_HOURS:g}, or nothing where the label is not at hand."
    try:
        hours = float(typed)
    except ValueError:
        raise ValueError(right) from None
    if not (math.isfinite(hours) and 0 <= hours <= MOST_HOURS):
        raise ValueError(right)
    return hours


def _must_be_adult(role: Who) -> None:
    if not may(role, "adult"):
        raise NotAllowed("Only an adult may write down what was put on plants.")


def _must_be_waits(wait_days: int | None, entry_hours: float | None) -> None:
    if wait_days is not None and not 0 <= wait_days <= MOST_DAYS:
        raise ValueError(f"A waiting time can be from 0 to {MOST_DAYS} days.")
    if entry_hours is not None and not (math.isfinite(entry_hours) and 0 <= entry_hours <= MOST_HOURS):
        raise ValueError(f"It can be from 0 to {MOST_HOURS:g} hours until plants may be touched.")


def _count(number: float, one: str) -> str:
    return f"{number:g} {one}{'s' if number != 1 else ''}"
