"""Today's round in the demo: short enough to be walked before the bell."""

from datetime import datetime, timedelta
from datetime import time as hour

import pytest

from walkabout.demo.make import make
from walkabout.demo.room import ADULTS, PUPILS
from walkabout.round.begin import begin
from walkabout.round.opened import OpenRoom
from walkabout.round.walk import Walk


class Ticking:
    """A clock that is moved on by hand."""

    def __init__(self, day):
        self.now = datetime.combine(day, hour(8, 10)).astimezone()

    def __call__(self):
        return self.now


def typed(walk: Walk) -> str:
    """Return the shortest good number, as somebody would type it."""
    reading = walk.step.question.reading
    wanted, before = walk.wanted(), walk.before()
    low, high = (wanted.low, wanted.high) if wanted else reading.good or reading.likely
    tries = [(low + high) / 2, low, high]
    if before is not None and before.value is not None:
        tries.insert(0, before.value)
    for decimals in range(3):
        for value in tries:
            text = f"{value:.{decimals}f}"
            if low <= float(text) <= high and walk.question_number(float(text)) is None:
                return text
    return f"{tries[0]:.{reading.decimals}f}"


def keys_pressed(walk: Walk, clock: Ticking) -> int:
    """Walk to the end with everything healthy: one key for a choice, the figures and Enter for a number."""
    keys = 0
    while (step := walk.step) is not None:
        clock.now += timedelta(seconds=step.seconds)
        if step.question.reading is not None:
            text = typed(walk)
            keys += len(text) + 1
            walk.number(float(text))
        elif step.question.kind == "note":
            keys += 1
            walk.note("")
        else:
            keys += 1
            walk.pick([step.question.choices[0].id])
    return keys


@pytest.mark.parametrize("walker", [*ADULTS, *PUPILS])
def test_the_plan_fits_five_minutes(opened, walker):
    """In the middle of a week: at most 55 questions, and about 300 seconds for whoever walks."""
    plan = opened.plan(walker)
    assert 30 <= len(plan.asked) <= 55
    assert plan.seconds <= 305
    assert plan.stations == len(opened.room.stations)


@pytest.mark.parametrize("walker", [*ADULTS, *PUPILS])
def test_a_healthy_round_takes_at_most_sixty_keys(copied, made, walker):
    """Everything as it should be: about a key for each question."""
    clock = Ticking(made.today)
    room = OpenRoom(copied, clock)
    walk = begin(room, walker)
    assert keys_pressed(walk, clock) <= 60
    summary = walk.finish()
    assert summary.not_looked == 0
    assert summary.answered == len(walk)
    room.close()


@pytest.mark.parametrize("days", [1, 6, 7])
def test_other_days_in_the_middle_of_a_week(made, tmp_path, days):
    """The days around it take no more questions and keys, and at most a tenth more time than there is."""
    today = made.today + timedelta(days=days)
    make(tmp_path / "room", today)
    clock = Ticking(today)
    room = OpenRoom(tmp_path / "room", clock)
    plan = room.plan(ADULTS[0])
    assert len(plan.asked) <= 55
    assert plan.seconds <= 1.1 * plan.budget
    assert keys_pressed(begin(room, ADULTS[0]), clock) <= 60
    room.close()
