"""An answer is put right: judged anew, its consequences taken back or made; the old one stays on record."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from walkabout.jobs.findings import LOOK_AGAIN, flag
from walkabout.records.model import Answer, Move, Planting
from walkabout.round.begin import begin
from walkabout.round.correct import Right, before_it_was_right, correction, question_number
from walkabout.round.doubtful import doubtful
from walkabout.round.opened import OpenRoom
from walkabout.round.walk import Walk

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
ROOM = """
name = "Test room"
kit = ["pH meter", "EC meter"]
people = { AR = { role = "adult" }, K7 = { role = "pupil" } }
tanks = { tub = { litres = 60 } }
pumps = { air = { moves = "air" } }
[[station]]
key = "tub"
name = "Raft tub"
kind = "raft"
tank = "tub"
pumps = ["air"]
"""


class Room:
    """An open room with a clock that can be set."""

    def __init__(self, folder: Path) -> None:
        (folder / "room.toml").write_text(ROOM, encoding="utf-8")
        self.now = NOW
        self.opened = OpenRoom(folder, clock=lambda: self.now)
        sown = NOW.date() - timedelta(days=24)
        move = Move(day=sown, station="tub")
        self.opened.save(Planting(key="p1", crop="raft-lettuce", sown=sown, count=12, moves=(move,)))

    def answer(self, question: str, walker: str = "K7", **given: object) -> Answer:
        """Answer one question as the round does."""
        self.now += timedelta(seconds=10)
        walk = self.walk(question, walker)
        if "value" in given:
            return walk.number(float(given["value"])).answer  # type: ignore[arg-type]
        return walk.pick([str(given["choice"])]).answer

    def walk(self, question: str, walker: str) -> Walk:
        """Return a walk that stands at the question."""
        from walkabout.records.keys import new_key
        from walkabout.records.model import Asked, Round

        station = "room" if self.opened.checklists["room"].find(question) else "tub"
        asked = (Asked(station=station, question=question, vital=True),)
        record = Round(key=new_key("r", self.now), day=self.now.date(), started=self.now, walker=walker, asked=asked)
        return Walk(self.opened, record, walker)

    def correct(self, old: Answer, right: Right, walker: str = "AR", reason: str = "typing slip") -> Answer:
        """Put an answer right and save all that follows."""
        self.now += timedelta(minutes=5)
        made = correction(self.opened, old, right, walker, reason)
        assert self.opened.save(*made.records) == ""
        return made.answer

    def open_findings(self) -> list[str]:
        """Return the questions behind the open findings."""
        return [one.question for one in self.opened.findings.values() if one.closed is None]

    def open_jobs(self) -> int:
        """Return how many jobs are open."""
        return sum(one.closed is None for one in self.opened.jobs.values())


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Room]:
    made = Room(tmp_path)
    yield made
    made.opened.close()


def bad_choice(room: Room) -> tuple[str, str, str]:
    """Return a raft question with a choice for today that makes a job: (question, good, bad)."""
    of_room = room.opened.checklists["room"]
    for question in room.opened.checklists["raft"].question:
        for choice in question.choices[1:]:
            if (
                of_room.find(question.id) is None
                and choice.verdict == "today"
                and choice.job
                and not choice.cases
                and question.kind == "choice"
            ):
                return question.id, question.choices[0].id, choice.id
    raise AssertionError("the raft checklist has no such question")


def reading(room: Room, quantity: str) -> str:
    """Return the id of the raft question that reads this quantity."""
    return next(
        one.id for one in room.opened.checklists["raft"].question if one.reading and one.reading.quantity == quantity
    )


def test_a_wrong_number_is_put_right_and_stays_to_be_seen(room: Room) -> None:
    """The right value stands at the moment of the look; the old one is found behind it, with who and why."""
    old = room.answer(reading(room, "EC"), value=14)
    assert question_number(room.opened, old, 14) is not None
    new = room.correct(old, Right(value=1.2))
    assert (new.at, new.value, new.unit, new.verdict) == (old.at, 1.2, "mS/cm", "good")
    assert (new.walker, new.reason, new.replaces) == ("AR", "typing slip", old.key)
    assert room.opened.history.all("tub", old.question) == [new]
    assert before_it_was_right(room.opened.history, new) == [old]
    room.opened.close()
    again = OpenRoom(room.opened.folder, clock=lambda: room.now)
    assert again.history.all("tub", old.question) == [new]
    assert before_it_was_right(again.history, again.history.all("tub", old.question)[0]) == [old]
    assert len(again.records.answers(NOW.date())) == 2


def test_a_wrong_alarm_is_taken_back(room: Room) -> None:
    """What the wrong answer opened is closed with the reason; nothing is deleted."""
    question, good, bad = bad_choice(room)
    old = room.answer(question, choice=bad)
    assert room.open_findings() == [question]
    assert room.open_jobs() == 1
    room.correct(old, Right(choices=(good,)))
    assert (room.open_findings(), room.open_jobs()) == ([], 0)
    assert [one.reason for one in room.opened.jobs.values()] == ["the answer was put right: typing slip"]


def test_a_wrong_all_is_well_is_made_good(room: Room) -> None:
    """The right answer opens the finding and the job that it asks for."""
    question, good, bad = bad_choice(room)
    old = room.answer(question, choice=good)
    new = room.correct(old, Right(choices=(bad,)), walker="K7")
    assert new.verdict == "today"
    assert room.open_findings() == [question]
    assert room.open_jobs() == 1


def test_from_bad_to_bad_leaves_one_finding_and_one_job_open(room: Room) -> None:
    """Putting the same answer again closes the first finding and opens one that leads to the right answer."""
    question, _, bad = bad_choice(room)
    old = room.answer(question, choice=bad)
    new = room.correct(old, Right(choices=(bad,)))
    open_now = [one.key for one in room.opened.findings.values() if one.closed is None]
    assert (open_now, room.open_jobs()) == ([f"f-{new.key}"], 1)


def test_nobody_looked_takes_back_without_an_all_clear(room: Room) -> None:
    """An answer without a look becomes 'not looked', which is no verdict, and is asked first next time."""
    question, _, bad = bad_choice(room)
    new = room.correct(room.answer(question, choice=bad), Right(state="not looked"))
    assert (new.state, new.verdict) == ("not looked", "")
    assert room.open_findings() == []
    last = room.opened.history.last("tub", question)
    assert last is not None
    assert last.state == "not looked"


def test_a_later_look_decides(room: Room) -> None:
    """Where somebody has looked again since, an old answer put right opens nothing, and closes nothing they saw."""
    question, good, bad = bad_choice(room)
    first = room.answer(question, choice=good)
    room.now += timedelta(days=1)
    room.answer(question, choice=good)
    room.correct(first, Right(choices=(bad,)))
    assert room.open_findings() == []
    room.now += timedelta(days=1)
    wrong = room.answer(question, choice=bad)
    room.now += timedelta(days=1)
    room.answer(question, choice=bad)
    room.correct(wrong, Right(choices=(good,)))
    assert room.open_findings() == [question]
    (still,) = [one for one in room.opened.findings.values() if one.closed is None]
    assert "a later look shows it too" in still.history[-1].says


def test_a_pupil_does_not_close_what_an_adult_must(room: Room) -> None:
    """A grave answer that a pupil puts right waits for an adult; an adult's correction closes it."""
    old = room.answer("doorway", choice="water")
    new = room.correct(old, Right(choices=("nothing",)), walker="K7")
    (waiting,) = [one for one in room.opened.findings.values() if one.closed is None]
    assert waiting.question == "doorway"
    assert any("waits for an adult" in one.says for one in waiting.history)
    room.correct(new, Right(choices=("nothing",)), walker="AR", reason="I looked: dry")
    assert room.open_findings() == []


def test_a_finding_closed_by_a_wrong_answer_is_open_again(room: Room) -> None:
    """'Gone', put right to 'the same', opens the flagged finding again instead of a second one."""
    finding = flag(station="tub", seen="half [/b] open", verdict="watch", by="K7", now=room.now)
    room.opened.save(finding)
    old = room.answer(LOOK_AGAIN + finding.key, choice="gone")
    assert room.opened.findings[finding.key].closed is not None
    room.correct(old, Right(choices=("same",)))
    assert room.opened.findings[finding.key].closed is None
    assert len(room.opened.findings) == 1


def test_an_answer_is_judged_by_what_grew_there_then(room: Room) -> None:
    """Plants that came later do not count for an older reading."""
    old = room.answer(reading(room, "EC"), value=1.2)
    room.now += timedelta(days=1)
    move = Move(day=room.now.date(), station="tub")
    room.opened.save(Planting(key="p2", crop="tomato", sown=move.day, count=2, moves=(move,)))
    assert room.correct(old, Right(value=1.22)).verdict == "good"
    assert room.answer(reading(room, "EC"), value=1.22).verdict != "good"


@pytest.mark.parametrize(
    ("right", "reason", "says"),
    [
        (Right(value=1.2), " ", "few words why"),
        (Right(value=1e9), "slip", "cannot be"),
        (Right(), "slip", "cannot be"),
    ],
)
def test_what_cannot_be_put_so_is_refused(room: Room, right: Right, reason: str, says: str) -> None:
    """No reason, no number, or a number that no instrument shows: one sentence, and nothing is saved."""
    old = room.answer(reading(room, "EC"), value=1.4)
    with pytest.raises(ValueError, match=says):
        correction(room.opened, old, right, "AR", reason)


def test_only_the_newest_of_an_answer_can_be_put_right(room: Room) -> None:
    """An answer that was put right already leads to the one that counts."""
    old = room.answer(reading(room, "EC"), value=14)
    room.correct(old, Right(value=1.2))
    with pytest.raises(ValueError, match="already"):
        correction(room.opened, old, Right(value=1.3), "AR", "slip")


def test_a_round_under_way_goes_on_with_the_right_answer(room: Room) -> None:
    """A correction belongs to the same round, so that taking it up asks nothing twice."""
    walk = begin(room.opened, "AR")
    step = walk.step
    assert step is not None
    answer = walk.pick([step.question.choices[0].id]).answer if step.question.choices else walk.not_looked().answer
    position = walk.position
    room.correct(answer, Right(state="not looked"))
    assert begin(room.opened, "AR").position == position


def test_readings_are_doubtful_back_to_the_last_good_check(room: Room) -> None:
    """A failed meter check casts doubt back to the last good one, and on until the next good one."""
    ec = reading(room, "EC")
    days, readings = ["right", "", "out", "", "expired", "", "right", ""], []
    for choice in days:
        room.now += timedelta(days=1)
        if choice:
            room.answer("meters", choice=choice)
        readings.append(room.answer(ec, value=1.2))
    opened = room.opened
    found = [doubtful(one, opened.question("tub", ec), opened.checklists["room"], opened.history) for one in readings]
    assert [bool(one) for one in found] == [True, True, True, True, True, True, False, False]
    assert found[0] == "The meter failed its check on 28 Nov; it was last right on 26 Nov."
    assert found[3] == "The meter had failed its check on 28 Nov and not passed one since."


def test_what_the_meter_does_not_read_is_not_doubtful(room: Room) -> None:
    """A failed pH and EC check says nothing about a choice or another quantity; a corrected check clears all."""
    question, good, _ = bad_choice(room)
    looked, ec = room.answer(question, choice=good), room.answer(reading(room, "EC"), value=1.2)
    check = room.answer("meters", choice="out")
    opened = room.opened

    def doubt(answer: Answer) -> str:
        asked = opened.question("tub", answer.question)
        return doubtful(answer, asked, opened.checklists["room"], opened.history)

    assert doubt(looked) == ""
    assert doubt(ec) == "The meter failed its check on 25 Nov."
    room.correct(check, Right(choices=("right",)))
    assert doubt(ec) == ""
