"""Sixty school days in a room of eight stations where nothing ever goes wrong."""

from collections import Counter
from datetime import date, timedelta

import pytest

from tests.round.school import School, healthy
from walkabout.room.calendar import day_before, is_walked
from walkabout.round.begin import measure
from walkabout.round.days import open_days
from walkabout.round.due import age_of, vital_at
from walkabout.round.here import applies, measured_elsewhere
from walkabout.round.plan import Plan

LAST_BEFORE, FIRST_BACK = date(2026, 10, 16), date(2026, 11, 2)
CLOSURE = '[[closure]]\nfrom = 2026-10-19\nto = 2026-10-30\nname = "half-term"\n'


class Season:
    """What was seen of each day."""

    def __init__(self) -> None:
        self.plans: dict[date, Plan] = {}
        self.presses: dict[date, int] = {}
        self.too_late: list[str] = []
        self.vital_missed: list[str] = []
        self.returning: list[date] = []
        self.whys: set[str] = set()
        self.looks: Counter[tuple[str, str]] = Counter()
        self.alarms: list[str] = []
        self.unasked: set[tuple[str, str]] = set()


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Season:
    school, season = School(tmp_path_factory.mktemp("season") / "room", more=CLOSURE), Season()
    applied: set[tuple[str, str]] = set()
    while len(season.plans) < 60:
        if is_walked(school.room.room, school.room.today()):
            applied |= _check_the_day(school, season)
            if len(season.plans) % 3 == 0:
                _measure(school, season)
        school.tomorrow()
    season.unasked = applied - set(season.looks)
    return season


def _check_the_day(school: School, season: Season) -> set[tuple[str, str]]:
    room, day = school.room, school.room.today()
    today, plan, places = room.today_for("AR"), school.plan(), room.places()
    season.plans[day] = plan
    walk = school.begin()
    if walk.record.returning:
        season.returning.append(day)
    in_round = {(one.here.key, one.question.id) for one in plan.asked}
    walk.write_plan()
    in_jobs = {(job.station, name) for job in room.jobs.values() if job.closed is None for name in job.questions}
    since_last = open_days(room.room, day_before(room.room, day), day)
    elsewhere = measured_elsewhere(places, day)
    applied: set[tuple[str, str]] = set()
    for here, checklist in places:
        fitting = [one for one in checklist.question if applies(one, here, day)]
        vital = vital_at(here, checklist, fitting, today)
        for question in fitting:
            where = (here.key, question.id)
            if where in elsewhere:
                continue
            applied.add(where)
            if question.id in vital and where not in in_round and not (question.slow and where in in_jobs):
                season.vital_missed.append(f"{day} {where}")
            age = age_of(here, question, today)
            waits = question.slow and where in in_jobs
            if age > max(question.must, since_last) and where not in in_round and not waits:
                season.too_late.append(f"{day} {where}: {age} days, at most {question.must}")
            if age > max(question.must, since_last) and not question.slow:
                season.too_late.append(f"{day} {where}: {age} days before it was asked, at most {question.must}")
    presses = 0
    while (step := walk.step) is not None:
        season.whys.add(step.why)
        season.looks[step.here.key, step.question.id] += 1
        school.tick(step.question.seconds)
        keys, outcome = healthy(walk)
        presses += keys
        if outcome.judgement.verdict != "good":
            season.alarms.append(f"{day} {step.here.key} {step.question.id}: {outcome.judgement.why}")
    walk.finish()
    season.presses[day] = presses
    return applied


def _measure(school: School, season: Season) -> None:
    school.go_to(school.room.today(), 14)
    for job in (one for one in school.room.jobs_due() if one.questions):
        walk = measure(school.room, job, "AR")
        while (step := walk.step) is not None:
            season.looks[step.here.key, step.question.id] += 1
            healthy(walk)
        assert school.room.jobs[job.key].closed is not None


def test_no_question_goes_past_its_longest_interval(season: Season) -> None:
    """Each question that applies is asked within its longest interval; a slow one is in a job of the day by then."""
    assert season.too_late == []


def test_every_question_that_applies_is_asked(season: Season) -> None:
    """In sixty days every question with an interval of up to ten weeks has been answered at least once."""
    assert season.unasked <= {("pots", "reach"), ("case", "animals")}  # asked every two and four months


def test_what_is_vital_is_asked_every_day(season: Season) -> None:
    """Nothing that could be lost before the next round is left out, on Fridays and before the closure least of all."""
    assert season.vital_missed == []


def test_a_healthy_round_takes_at_most_sixty_keys(season: Season) -> None:
    """One key a choice, a key a digit and one more a number: at most sixty, but before two closed weeks."""
    usual = {day: keys for day, keys in season.presses.items() if day != LAST_BEFORE}
    assert len(usual) == 59
    assert {day: keys for day, keys in usual.items() if keys > 60} == {}


def test_the_round_before_a_closure_asks_only_what_cannot_wait(season: Season) -> None:
    """The last round before seventeen days alone is longer, and holds nothing that could be left out."""
    plan = season.plans[LAST_BEFORE]
    assert [one.question.id for one in plan.asked if not one.bound] == []
    assert sum(one.vital for one in plan.asked) > 0.9 * len(plan.asked)
    assert season.presses[LAST_BEFORE] <= 90


def test_the_round_stays_near_the_rooms_minutes(season: Season) -> None:
    """Five minutes, a quarter more on the last day before the closure."""
    late = {day: plan.seconds for day, plan in season.plans.items() if plan.seconds > 300}
    assert set(late) <= {LAST_BEFORE}
    assert season.plans[LAST_BEFORE].seconds < 300 * 1.3


def test_most_of_the_round_time_is_used(season: Season) -> None:
    """After the first days the round is no empty shell: at least forty questions on every day but a few."""
    counts = [len(plan.asked) for plan in season.plans.values()][5:]
    assert sum(count >= 38 for count in counts) > 0.9 * len(counts)


def test_fridays_are_levelled(season: Season) -> None:
    """Friday asks before a weekend alone, and is still not much longer than the other days."""
    fridays = [plan.seconds for day, plan in season.plans.items() if day.weekday() == 4 and day != LAST_BEFORE]
    assert len(fridays) >= 10
    assert max(fridays) <= 300


def test_every_reason_is_one_line(season: Season) -> None:
    """Each question says why it is asked in at most 120 characters, as a whole sentence."""
    assert max(len(why) for why in season.whys) <= 120
    assert [why for why in season.whys if not why.endswith((".", "…"))] == []
    assert [why for why in season.whys if "  " in why or "None" in why] == []


def test_only_the_first_round_after_the_closure_is_a_return(season: Season) -> None:
    """A weekend is no return; two closed weeks are."""
    assert season.returning == [FIRST_BACK]


def test_healthy_answers_are_good(season: Season) -> None:
    """The middle of what is wanted is judged good, every time."""
    assert season.alarms == []


def test_the_doorway_opens_every_round(season: Season) -> None:
    """The first question of every round is the doorway."""
    assert {plan.asked[0].question.id for plan in season.plans.values()} == {"doorway"}


def test_some_rounds_are_walked_on_each_weekday(season: Season) -> None:
    """The season has whole weeks, and nobody walks on a closed day."""
    assert Counter(day.weekday() for day in season.plans).keys() == {0, 1, 2, 3, 4}
    closed = {date(2026, 10, 19) + timedelta(days=days) for days in range(12)}
    assert not closed & set(season.plans)
