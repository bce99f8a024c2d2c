"""On which day a standing job falls that has no interval of its own, or that nobody ever wrote down."""

import zlib
from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from walkabout.almanac.model import Basis, Course
from walkabout.almanac.reached import seen, thins
from walkabout.checklist.model import Checklist, Duty
from walkabout.records.model import Planting

WAITS_DAYS = 7
"""A job that nobody ever wrote down waits for so long after its turn, then for its next one. Assumed."""
THIN_AFTER = timedelta(days=7)
"""Seedlings that are moved on later are thinned so long after they show: about the first true leaf. Assumed."""
TRAIN_AFTER = timedelta(days=21)
"""A vine is led from so long after sowing where no day of moving on is known. Assumed."""
CLEAR_AFTER = timedelta(days=2)
"""A place is cleared so long after its last plants. Assumed."""


def turn(key: str, days: int, today: date) -> date:
    """Return the day of a job that nobody ever wrote down: its last turn while that waits, else its next one.

    Turns lie on fixed days of the calendar, spread by the job's name, so that they come round whatever happens.
    """
    passed = (today.toordinal() + zlib.crc32(key.encode())) % days
    return today - timedelta(days=passed) if passed < min(days, WAITS_DAYS) else today + timedelta(days=days - passed)


def stage_day(
    duty: Duty, planting: Planting, checklist: Checklist, basis: Basis, courses: Mapping[str, Course]
) -> date | None:
    """Return the day on which a planting is to be thinned or moved on, or None when it is not, or was."""
    course, crop = courses.get(planting.key), basis.crop(planting)
    if course is None or crop is None or planting.brought_in:
        return None
    move = course.stage("move_on")
    looked = basis.looked.get((planting.station, duty.settled_by))
    if looked is not None and crop.move_on is not None and (looked - planting.sown).days >= crop.move_on.low:
        return None
    if duty.at == "move on":
        return move.span.likely if move is not None and move.reached is None and not thins(crop) else None
    if seen(planting, "thinned") is not None or (move is not None and move.reached is not None):
        return None
    if thins(crop):
        return move.span.likely if move is not None else None
    shows = course.stage("emergence")
    moves_on_here = any(other.at == "move on" for other in checklist.duty.values())
    if shows is None or not moves_on_here:
        return None  # sown where it stays, in its own place
    return (shows.reached or shows.span.likely) + THIN_AFTER


def led(here: list[Planting], basis: Basis, courses: Mapping[str, Course]) -> tuple[date, date | None]:
    """Return from which day on vines are led, and until when; None where they stay."""
    begins, ends = [], []
    for planting in here:
        course = courses.get(planting.key)
        move = course.stage("move_on") if course else None
        begins.append((move.reached or move.span.likely) if move else planting.sown + TRAIN_AFTER)
        ends.append(course.until if course else None)
    last = None if None in ends or not ends else max(day for day in ends if day is not None)
    return min(begins, default=basis.today), last


def cleared(
    standing: Sequence[Planting], gone: Sequence[Planting], courses: Mapping[str, Course], done: date | None
) -> date | None:
    """Return the day on which a place is cleared after its crop; None while something stays, or once that is done.

    `standing` is what grows there, `gone` what has grown there.
    """
    if standing:
        ends = [course.until if (course := courses.get(one.key)) else None for one in standing]
        if None in ends:
            return None
        due = max(day for day in ends if day is not None) + CLEAR_AFTER
        return None if done is not None and done >= due else due
    left = max((one.ended for one in gone if one.ended is not None), default=None)
    return None if left is None or (done is not None and done >= left) else left + CLEAR_AFTER
