"""A round on paper that is typed in leaves the room as the same round, walked, would have left it."""

import shutil
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import msgspec
import pytest

from walkabout.demo.make import make
from walkabout.jobs.findings import LOOK_AGAIN
from walkabout.plain.logbook import logbook_facts
from walkabout.plain.today import today_facts
from walkabout.round.begin import begin
from walkabout.round.logbook import spans
from walkabout.round.on_paper import Given, TypedIn, Where
from walkabout.round.opened import OpenRoom
from walkabout.round.today import today_page

DAY = date(2026, 11, 25)
MORNING = datetime(2026, 11, 25, 8, 10, tzinfo=UTC)
LEFT_OUT = ("key", "round", "made", "at", "history", "finding", "cleared_by", "started", "ended", "walked_seconds")
"""Keys, and times: all answers of a sheet have the time at which its round began."""


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo") / "room"
    make(folder, DAY)
    return folder


def _answered(number: int, opened: OpenRoom, step: Any) -> Given:
    """Return an answer: mostly what is well, at times what is not, nothing looked at, or a number."""
    question = step.question
    if number % 11 == 7:
        return Given(state="not looked")
    if question.reading is not None:
        before = opened.history.last_look(step.here.key, question.id)
        return Given(value=before.value if before and before.value is not None else question.reading.likely[0])
    if question.choices:
        return Given(choices=(question.choices[-1 if number % 5 == 3 else 0].id,))
    return Given(note="as ever")


def walked(folder: Path, walker: str) -> tuple[OpenRoom, list[tuple[Where, Given]]]:
    """Walk the round of the day, and return what was answered where."""
    opened = OpenRoom(folder, lambda: MORNING)
    given: list[tuple[Where, Given]] = []
    walk = begin(opened, walker)
    while (step := walk.step) is not None:
        answer = _answered(len(given), opened, step)
        given.append(((step.here.key, step.question.id), answer))
        if answer.state == "not looked":
            walk.not_looked()
        elif answer.value is not None:
            walk.number(answer.value)
        elif answer.choices:
            walk.pick(answer.choices)
        else:
            walk.note(answer.note)
    walk.finish()
    return opened, given


def typed(folder: Path, walker: str, given: list[tuple[Where, Given]]) -> OpenRoom:
    """Type the same answers in as those of a sheet."""
    opened = OpenRoom(folder, lambda: MORNING)
    sheet = TypedIn(opened, walker)
    for where, answer in given:
        sheet.write(where, answer)
    assert sheet.finish() == ""
    return opened


def plain(records: Any) -> list[str]:
    """Return records without their keys and times, in an order of their own."""
    return sorted(
        repr({name: value for name, value in msgspec.structs.asdict(one).items() if name not in LEFT_OUT})
        for one in records
    )


def of_the_day(opened: OpenRoom) -> dict[str, list[str]]:
    """Return everything that the round can have changed."""
    records = opened.records
    rounds = [one for one in records.rounds(DAY) if one.day == DAY]
    return {
        "answers": plain(one for one in records.answers(DAY) if one.at.date() == DAY),
        "jobs": plain(records.jobs()),
        "findings": plain(records.findings()),
        "rounds": plain(msgspec.structs.replace(one, asked=(), left=()) for one in rounds),
        "asked": plain(asked for one in rounds for asked in one.asked),
        "left": plain(asked for one in rounds for asked in one.left),
    }


@pytest.mark.parametrize("walker", ["E4", "HM"])
def test_both_ways_leave_the_same(demo: Path, tmp_path: Path, walker: str) -> None:
    """Answers, findings, jobs with the standing and the measuring ones, Today and tomorrow's plan are the same."""
    one, other = tmp_path / "walked", tmp_path / "typed"
    shutil.copytree(demo, one)
    shutil.copytree(demo, other)
    by_foot, given = walked(one, walker)
    by_hand = typed(other, walker, given)
    first, second = of_the_day(by_foot), of_the_day(by_hand)

    for name in first:
        assert first[name] == second[name], name
    made = [job for job in by_hand.jobs.values() if job.made == MORNING]
    assert any(job.standing for job in made), "the demo's Wednesday has a standing job due"
    assert any(job.questions for job in made), "the demo's Wednesday has a slow look that is left to the day"

    pages = [today_page(opened, walker) for opened in (by_foot, by_hand)]
    facts = [_facts(today_facts(opened, page)) for opened, page in zip((by_foot, by_hand), pages, strict=True)]
    assert pages[0].walked
    assert facts[0] == facts[1]
    span = spans(by_foot.room, DAY)[0]
    assert _facts(logbook_facts(by_foot, span)) == _facts(logbook_facts(by_hand, span))
    for opened in (by_foot, by_hand):
        opened.clock = lambda: MORNING + timedelta(days=1)
        opened.close()
    ahead = [OpenRoom(folder, lambda: MORNING + timedelta(days=1)).plan(walker) for folder in (one, other)]
    for part in ("asked", "jobs", "left"):
        lines = [[(due.here.key, due.question.id, due.why) for due in getattr(plan, part)] for plan in ahead]
        assert _named(lines[0], by_foot) == _named(lines[1], by_hand), part


def _facts(found: Any) -> Any:
    """Return facts without keys and times."""
    if isinstance(found, dict):
        return {name: _facts(value) for name, value in found.items() if name not in LEFT_OUT}
    if isinstance(found, (list, tuple)):
        return [_facts(one) for one in found]
    return found


def _named(lines: list[tuple[str, str, str]], opened: OpenRoom) -> list[tuple[str, str, str]]:
    """Return planned questions with what was seen in place of a finding's key."""
    return [
        (station, opened.findings[question.removeprefix(LOOK_AGAIN)].seen if LOOK_AGAIN in question else question, why)
        for station, question, why in lines
    ]


def test_nothing_is_made_for_a_day_that_was_walked_since(demo: Path, tmp_path: Path) -> None:
    """Where a later round has been walked, it has made what was due: the sheet of the day before makes none of it."""
    folder = tmp_path / "room"
    shutil.copytree(demo, folder)
    by_foot, _ = walked(folder, "E4")
    jobs = set(by_foot.jobs)
    by_foot.close()
    opened = OpenRoom(folder, lambda: MORNING - timedelta(days=1, hours=-2))
    sheet = TypedIn(opened, "E4")
    here, checklist = opened.places()[0]
    where = (here.key, checklist.question[0].id)
    assert sheet.write(where, Given(choices=(checklist.question[0].choices[0].id,))).outcome is None
    sheet.finish()

    assert set(opened.jobs) == jobs


def test_a_refused_line_makes_nothing(demo: Path, tmp_path: Path) -> None:
    """The jobs of the day come with the first line that is written down, and only once."""
    folder = tmp_path / "room"
    shutil.copytree(demo, folder)
    opened = OpenRoom(folder, lambda: MORNING)
    before = set(opened.jobs)
    sheet = TypedIn(opened, "E4")
    here, checklist = opened.places()[0]
    where = (here.key, checklist.question[0].id)
    with pytest.raises(ValueError, match="not among the answers"):
        sheet.write(where, Given(choices=("no such",)))
    assert set(opened.jobs) == before
    sheet.write(where, Given(choices=(checklist.question[0].choices[0].id,)))
    made = set(opened.jobs) - before
    assert made
    sheet.write(where, Given(state="not looked"))
    assert set(opened.jobs) - before == made


@pytest.mark.parametrize(("ended", "seconds"), [(None, 0), (MORNING + timedelta(minutes=6), 360)])
def test_how_long_it_took(demo: Path, tmp_path: Path, ended: datetime | None, seconds: int) -> None:
    """A sheet that says when it ended gives the time on foot; where it does not, Today says no time at all."""
    folder = tmp_path / "room"
    shutil.copytree(demo, folder)
    opened = OpenRoom(folder, lambda: MORNING)
    sheet = TypedIn(opened, "E4")
    here, checklist = opened.places()[0]
    sheet.write((here.key, checklist.question[0].id), Given(state="not looked"))
    sheet.finish(ended)

    assert (sheet.record.ended, sheet.record.walked_seconds) == (ended or MORNING, seconds)
    says = "The round was walked today by E4" + (", in 6:00." if seconds else ".")
    assert today_page(opened, "E4").headline == says
