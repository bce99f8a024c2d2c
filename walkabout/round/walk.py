"""The walk: a round from its first question to its last, with no screen.

A walk is taken up where it stopped: its plan is on record when it begins, and each answer when it is
given. Whoever shows it only asks for the `step`, hands in an answer and says what came of it.
"""

from collections.abc import Sequence
from datetime import datetime

import msgspec
from msgspec import Struct

from walkabout.checklist.model import DOES_NOT_APPLY, NOT_LOOKED
from walkabout.records.model import Answer, Asked, Job, Round, State
from walkabout.round.anew import together
from walkabout.round.bring import anew_here, brought_about, taken_back
from walkabout.round.course import Course, Step
from walkabout.round.follow import fresh_key
from walkabout.round.judge import Judgement, judge_choices, judge_number
from walkabout.round.onfoot import OnFoot
from walkabout.round.opened import OpenRoom, Record
from walkabout.round.slips import Doubt, doubt
from walkabout.round.summary import Summary, summed_up
from walkabout.round.wants import Wanted


class Outcome(Struct, frozen=True):
    """What came of an answer."""

    answer: Answer
    judgement: Judgement
    jobs: tuple[Job, ...] = ()
    """Jobs that it made."""
    unsaved: str = ""
    """Why it is only in memory so far; empty when it is on disk."""


class Walk:
    """A round under way."""

    def __init__(self, opened: OpenRoom, record: Round, walker: str, unwritten: tuple[Round | Job, ...] = ()) -> None:
        """Go to the first question of `record` without an answer; `unwritten` is its plan, if it is new."""
        self.opened = opened
        self.walker = walker
        self._course = Course(opened, record)
        self._unwritten = unwritten
        self._unsaved = ""
        self._on_foot = OnFoot(self._course)

    @property
    def record(self) -> Round:
        """The round as it is on record, or will be."""
        return self._course.record

    @property
    def unsaved(self) -> str:
        """Why something of this walk is only in memory so far; '' when all of it is on disk."""
        return self._unsaved if self.opened.records.waiting else ""

    def write_plan(self) -> str:
        """Write the plan of a new round down; return '' or why it is only in memory so far.

        It is done before the first answer is, and may be done once the first question is shown. The standing
        jobs of the day are made with it.
        """
        unwritten, self._unwritten = self._unwritten, ()
        if not unwritten:
            return ""
        from walkabout.round.standing import standing_due  # noqa: PLC0415 - behind the first question

        return self._save(*unwritten, *standing_due(self.opened))

    # where the walk is

    @property
    def step(self) -> Step | None:
        """The question that is asked now; None at the end."""
        return self._course.step

    @property
    def position(self) -> int:
        """The number of the question, from 0."""
        return self._course.at

    def __len__(self) -> int:
        return len(self._course)

    def step_at(self, place: int) -> Step | None:
        """Return the question at a place in the walk."""
        return self._course.step_at(place)

    def stations(self) -> list[tuple[str, str, str]]:
        """Return (key, name, state) in the order of this walk; state is done, here, ahead or a verdict to act on."""
        return self._course.stations()

    def given(self) -> Answer | None:
        """Return what was answered here already, when the walk went back to it."""
        return self._course.given.get(self.position)

    def before(self) -> Answer | None:
        """Return the last answer to this question from before this round."""
        return self._course.before()

    def wanted(self) -> Wanted | None:
        """Return what the crops here want of the reading that is asked for."""
        return self._course.wanted()

    # time

    def elapsed(self) -> float:
        """Return the seconds on foot: what the answers took, and the question that is open."""
        return self._on_foot.walked() + self._on_foot.looking()

    def remaining(self) -> float:
        """Return the seconds that the open questions are expected to take."""
        return self._on_foot.remaining()

    def can_wait(self) -> list[Asked]:
        """Return what may be left for tomorrow; what is vital is never among it."""
        return self._on_foot.can_wait()

    @property
    def late(self) -> bool:
        """Whether the round will run over, and something in it can wait."""
        return self._on_foot.late()

    def resume_clock(self) -> None:
        """Start counting afresh for the open question, after a pause."""
        self._on_foot.resume()

    # answers

    def question_number(self, typed: float) -> Doubt | None:
        """Return why a typed number, in the room's unit, is questioned before it is saved."""
        step = self.step
        if step is None or step.question.reading is None:
            return None
        last = self.before()
        days = (self.opened.clock() - last.at).total_seconds() / 86400 if last else None
        return doubt(typed, step.question.reading, last, days, scales=self.opened.scales)

    def pick(self, choices: Sequence[str]) -> Outcome:
        """Answer with one choice, or with several signs; an unknown choice raises ValueError."""
        step = self._must_have()
        known = [choice.id for choice in step.question.choices]
        if not choices or any(one not in known for one in choices):
            raise ValueError(f"{', '.join(choices) or 'nothing'} is not among the answers")
        if step.question.kind != "signs" and len(set(choices)) > 1:
            raise ValueError("this question takes one answer")
        healthy = known[0]
        picked = tuple(one for one in known if one in choices and (one != healthy or len(set(choices)) == 1))
        now = self.opened.clock()
        judged = judge_choices(step.question, picked, step.checklist, step.here, self.opened.history, now)
        return self._write(step, judged, now, choices=picked)

    def number(self, value: float) -> Outcome:
        """Answer with a number in the stored unit; one that cannot be raises ValueError."""
        step = self._must_have()
        reading = step.question.reading
        if reading is None or not reading.possible[0] <= value <= reading.possible[1]:
            raise ValueError(f"{value:g} cannot be")
        # what the amounts are worked out with is loaded with the first number, not with the first question
        from walkabout.round.advice import with_amounts  # noqa: PLC0415
        from walkabout.round.meter import meant_at  # noqa: PLC0415

        opened, wanted = self.opened, self.wanted()
        read = meant_at(opened, step.here.key, value, reading)
        judged = judge_number(step.question, read.value, step.checklist, wanted, self.before(), scales=opened.scales)
        now = opened.clock()
        look = msgspec.structs.replace(self._look(step.here.key, step.question.id, now), value=read.value)
        if not (read.doubtful or opened.doubt_of(look)):
            judged = with_amounts(opened, step.here.key, judged, reading, read.value, wanted)
        return self._write(
            step, judged, now, value=read.value, unit=reading.unit, note=read.note, doubtful=read.doubtful
        )

    def note(self, text: str) -> Outcome:
        """Answer with a free note."""
        step = self._must_have()
        return self._write(step, Judgement("good"), self.opened.clock(), note=text.strip())

    def not_looked(self) -> Outcome:
        """Write down that nobody looked; it comes first next time."""
        return self._write(self._must_have(), Judgement("good"), self.opened.clock(), state=NOT_LOOKED)

    def does_not_apply(self) -> Outcome:
        """Write down that the question does not apply here; ValueError where it always does."""
        step = self._must_have()
        if not step.question.may_not_apply:
            raise ValueError("this question always applies")
        return self._write(step, Judgement("good"), self.opened.clock(), state=DOES_NOT_APPLY)

    def skip_station(self) -> list[Outcome]:
        """Write the rest of this station down as not looked at; answers that were given stay."""
        step, found = self._must_have(), []
        while (here := self.step) is not None and here.here.key == step.here.key:
            if not self.forward():
                found.append(self.not_looked())
        return found

    def leave_what_can_wait(self) -> int:
        """Write down as not looked at what can wait; return how many questions that were."""
        self.write_plan()
        now, course, answers = self.opened.clock(), self._course, []
        for place in course.ahead():
            one = course.asked[place]
            if not one.vital:
                look = self._look(one.station, one.question, now)
                answer = msgspec.structs.replace(look, state=NOT_LOOKED, note="left: the round was late")
                course.given[place] = answer
                answers.append(answer)
        self._save(*answers)
        course.stay_if_it_asks()
        self.resume_clock()
        return len(answers)

    def back(self) -> bool:
        """Go back to the question answered before this one; say whether there was one."""
        went = self._course.go_back()
        if went:
            self.resume_clock()
        return went

    def pass_by(self) -> bool:
        """Go past the open question if somebody else has answered it meanwhile; say whether they had."""
        self.opened.refresh()
        if self.step is None or self._course.answered_elsewhere(self.position) is None:
            return False
        self._go_on()
        return True

    def forward(self) -> bool:
        """Go on past a question that has its answer; say whether it had."""
        if self.given() is None:
            return False
        self._go_on()
        return True

    # the end

    def finish(self) -> Summary:
        """End the round and return it in figures."""
        self.write_plan()
        seconds = self._on_foot.walked()
        if self.record.ended is None and self.step is None:
            course = self._course
            course.record = msgspec.structs.replace(self.record, ended=self.opened.clock(), walked_seconds=seconds)
            self._save(course.record)
            self.opened.tidy()
        return summed_up(self._course, seconds)

    # inside

    def _must_have(self) -> Step:
        if (step := self.step) is None:
            raise ValueError("the round is at its end")
        return step

    def _look(self, station: str, question: str, now: datetime) -> Answer:
        return Answer(
            key=fresh_key(now), round=self.record.key, at=now, walker=self.walker, station=station, question=question
        )

    def _write(
        self,
        step: Step,
        judged: Judgement,
        now: datetime,
        *,
        state: State = "answered",
        choices: tuple[str, ...] = (),
        value: float | None = None,
        unit: str = "",
        note: str = "",
        doubtful: str = "",
    ) -> Outcome:
        self.write_plan()
        course, before = self._course, self.given()
        answer = msgspec.structs.replace(
            self._look(step.here.key, step.question.id, now),
            state=state,
            choices=choices,
            value=value,
            unit=unit,
            note=note,
            doubtful=doubtful,
            seconds=round(self._on_foot.looking(), 1) + (before.seconds if before else 0),
            verdict=judged.verdict if state == "answered" else "",
            why=judged.why,
            shows=judged.shows,
            replaces=before.key if before else "",
            reason="put right in the same round" if before else "",
        )
        plan = list(course.asked)
        if before:
            self._save(*taken_back(course, before, self.walker, judged, now, state))
            course.take_out(before, step.question)
        course.given[course.at] = answer
        self.opened.history.add(answer)
        meant = [(course.at, answer, judged)] if state == "answered" else []
        meant += anew_here(course, step, now)
        records: list[Record] = [*brought_about(course, meant, answer, now)]
        if course.asked != plan:
            course.record = msgspec.structs.replace(self.record, asked=tuple(course.asked))
            records.append(course.record)
        unsaved = self._save(*records)
        made = tuple(one for one in records if isinstance(one, Job) and one.closed is None and one.made == now)
        self._go_on()
        return Outcome(answer, together(judged, [one for _, late, one in meant if late is not answer]), made, unsaved)

    def _save(self, *records: Record) -> str:
        """Write records down; return '' or why they are only in memory, which is kept as long as anything is."""
        said = self.opened.save(*records)
        self._unsaved = said or self.unsaved
        return said

    def _go_on(self) -> None:
        self._course.go_on()
        self.resume_clock()
