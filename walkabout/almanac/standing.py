"""Standing jobs on their days: every time of each from today on, where somebody comes and there is time for it."""

import heapq
from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, date, datetime, time, timedelta
from math import ceil

from walkabout.almanac.duties import Task, tasks
from walkabout.almanac.emptied import emptied
from walkabout.almanac.model import Basis, Course, Standing
from walkabout.almanac.open_days import OpenDays
from walkabout.records.model import Happening, Job
from walkabout.room.calendar import closure_on, is_walked
from walkabout.room.model import Room

BEYOND = 28
"""Days after the last one wanted that are planned too: what is due then may have to be done before. Assumed."""
BY_ITSELF = "almanac"
"""Who makes a standing job: nobody in the room."""

OVERDUE = "overdue"
DAY_FULL = "that day is full"
DAYS_FULL = "the days before are full"
NOBODY = "nobody comes before"


def standing(basis: Basis, until: date, courses: Mapping[str, Course]) -> tuple[Standing, ...]:
    """Return every standing job from today until that day, by day.

    What plants wait for finds its days first (solution, thinning, moving, training), then what may slip,
    then what the round asks for by itself; within each the job that is due first, of those due on one day the
    longest. Each goes on the last open day up to its due day that has room for it, and only where there is none on
    a later one. No day carries more than the room's `work_minutes`, unless a single job takes longer. Its next
    time is due its interval after the day on which it was put.
    """
    today = basis.today
    if until < today:
        return ()
    span = (until - today).days
    days = OpenDays(basis.room, today, span + BEYOND, basis.room.work_minutes)
    found: list[tuple[int, int, Standing]] = []
    all_tasks = tasks(basis, courses, emptied(basis, courses, until + timedelta(days=BEYOND)))
    for rank in sorted({task.rank for task in all_tasks}):
        for task, due, place, full in _spread([task for task in all_tasks if task.rank == rank], days, today):
            if days.open[place] <= span:
                found.append((days.open[place], len(found), _put(task, basis, days, due, place, full=full)))
    return tuple(one for *_, one in sorted(found, key=lambda entry: entry[:2]))


def _spread(some: Iterable[Task], days: OpenDays, today: date) -> Iterator[tuple[Task, int, int, bool]]:
    """Yield every time of these jobs: the job, its due day, the open day it found, and whether all before were full."""
    queue: list[tuple[int, float, str, int | None, Task]] = [
        ((task.due - today).days, -task.minutes, task.key, None, task) for task in some
    ]
    heapq.heapify(queue)
    while queue and queue[0][0] < len(days.before):
        due, _, key, previous, task = heapq.heappop(queue)
        if task.ends is not None and today + timedelta(days=due) > task.ends:
            continue
        # what was renewed a short while ago is not renewed again because a closure comes
        apart = ceil(task.days / 2) if task.seen else 1
        earliest = _earliest(task, today) if previous is None else previous + apart
        place, full = days.place(earliest, due, task.minutes, task.days, previous, seen=task.seen)
        if place < 0:
            continue
        if task.ends is not None and today + timedelta(days=days.open[place]) > task.ends:
            days.take_back(place, task.minutes)
            continue
        yield task, due, place, full
        following = days.open[place] + task.days
        if task.days and (task.until is None or today + timedelta(days=following) <= task.until):
            heapq.heappush(queue, (following, -task.minutes, key, days.open[place], task))


def _earliest(task: Task, today: date) -> int:
    return max((task.not_before - today).days, 0) if task.not_before is not None else 0


def standing_job(one: Standing, basis: Basis) -> Job:
    """Return the job behind one time of a standing job; its key is the same whenever it is made."""
    made = datetime.combine(basis.today, time.fromisoformat(basis.room.starts), tzinfo=UTC)
    return Job(
        key=f"s-{one.key.replace('/', '-')}-{one.due.isoformat()}",
        what=one.says,
        station=one.station,
        who=one.who,
        due=one.day,
        made=made,
        by=BY_ITSELF,
        verdict="watch",
        why=one.why,
        caution=one.caution,
        standing=one.key,
        minutes=one.minutes,
        history=(Happening(at=made, by=BY_ITSELF, says="made: its days have passed"),),
    )


def _put(task: Task, basis: Basis, days: OpenDays, due: int, place: int, *, full: bool) -> Standing:
    day = days.open[place]
    return Standing(
        key=task.key,
        says=task.says,
        station=task.station,
        who=task.who,
        minutes=task.minutes,
        due=days.first + timedelta(days=due),
        day=days.first + timedelta(days=day),
        asked=task.asked,
        why=task.why,
        caution=task.caution,
        moved="" if day == due else _why_moved(task, basis.room, days, due, place, full=full),
    )


def _why_moved(task: Task, room: Room, days: OpenDays, due: int, place: int, *, full: bool) -> str:
    """Say in a few words why a job does not stand on its own day."""
    if due < 0:
        return OVERDUE
    last = days.latest(due)
    closing = days.closing[last] if last >= 0 else None
    if place > last:
        if task.seen and closing is not None and not full:
            return f"after {closing}: nobody would see it run"
        return DAYS_FULL if full else NOBODY
    if task.seen and closing is not None:
        return f"before {closing}, to be seen running"
    on = days.first + timedelta(days=due)
    if is_walked(room, on):
        return DAY_FULL
    closure = closure_on(room, on)
    return f"before {closure.name or 'the closure'}" if closure is not None else f"nobody comes on {on:%A}"
