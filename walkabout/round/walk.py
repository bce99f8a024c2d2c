"""The walk: a round from its first question to its last, with no screen.

A walk is taken up where it stopped: its plan is on record when it begins, and each answer when it is
given. Whoever shows it only asks for the `step`, hands in an answer and says what came of it.
"""

from collections.abc import Sequence
from datetime import datetime

import msgspec
from msgspec import Struct

from walkabout.checklist.model import DOES_NOT_APPLY, NOT_LOOKED, Checklist, Question
from walkabout.jobs.make import already_asked, to_measure
from walkabout.records.keys import new_key
from walkabout.records.model import Answer, Asked, Job, Round, State
from walkabout.round.due import Due
from walkabout.round.follow import follows, fresh_key, withdrawn
from walkabout.round.here import Here, applies
from walkabout.round.judge import Judgement, judge_choices, judge_number
from walkabout.round.opened import OpenRoom
from walkabout.round.pace import OPENING, WALKING
from walkabout.round.plan import ANOTHER, PUT_BY, Plan
from walkabout.round.slips import Doubt, doubt
from walkabout.round.wants import Wanted, wanted_at

LONGEST_LOOK = 300.0
"""Seconds after which a question was left alone rather than looked at."""


class Step(Struct, frozen=True):
    """One question of the walk, with all that a face needs to show it."""

    here: Here
    checklist: Checklist
    question: Question
    why: str
    vital: bool
    seconds: float
    number: int
    """Its place among the questions of its station, from 1."""
    of: int


class Outcome(Struct, frozen=True):
    """What came of an answer."""

    answer: Answer
    judgement: Judgement
    jobs: tuple[Job, ...] = ()
    """Jobs that it made."""
    unsaved: str = ""
    """Why it is only in memory so far; empty when it is on disk."""


class Summary(Struct, frozen=True):
    """A finished walk in figures."""

    answered: int
    not_looked: int
    seconds: float
    jobs: tuple[Job, ...]
    """Open jobs of the day, by hours to loss."""
    glad: str
    """One thing to be glad of, or ''."""


class Walk:
    """A round under way."""

    def __init__(self, opened: OpenRoom, record: Round, walker: str) -> None:
        self.opened = opened
        self.record = record
        self.walker = walker
        self._places = {here.key: (here, checklist) for here, checklist in opened.places()}
        self._asked = [one for one in record.asked if opened.question(one.station, one.question) is not None]
        self._given: dict[int, Answer] = {}
        self._unwritten: tuple[Round | Job, ...] = ()
        self._at = 0
        self._shown = opened.clock()
        self._take_up()

    def write_plan(self) -> str:
        """Write the plan of a new round down; return '' or why it is only in memory so far.

        It is done before the first answer is, and may be done once the first question is shown.
        """
        unwritten, self._unwritten = self._unwritten, ()
        return self.opened.save(*unwritten) if unwritten else ""

    # where the walk is

    @property
    def step(self) -> Step | None:
        """The question that is asked now; None at the end."""
        return self.step_at(self._at)

    @property
    def position(self) -> int:
        """The number of the question, from 0."""
        return self._at

    def __len__(self) -> int:
        return len(self._asked)

    def step_at(self, index: int) -> Step | None:
        """Return the question at a place in the walk."""
        if not 0 <= index < len(self._asked):
            return None
        asked = self._asked[index]
        here, checklist = self._places[asked.station]
        question = self.opened.question(asked.station, asked.question)
        if question is None:
            return None
        same = [place for place, one in enumerate(self._asked) if one.station == asked.station]
        return Step(here, checklist, question, asked.why, asked.vital, asked.seconds, same.index(index) + 1, len(same))

    def stations(self) -> list[tuple[str, str, str]]:
        """Return (key, name, state) in the order of this walk; state is done, here, ahead or a verdict to act on."""
        found = []
        for key in dict.fromkeys(one.station for one in self._asked):
            places = [index for index, one in enumerate(self._asked) if one.station == key]
            verdicts = {self._given[index].verdict for index in places if index in self._given}
            skipped = any(self._given[index].state == NOT_LOOKED for index in places if index in self._given)
            current = self._at < len(self._asked) and self._asked[self._at].station == key
            if current:
                state = "here"
            elif verdicts & {"today", "now", "stop"}:
                state = "act"
            elif all(index in self._given for index in places):
                state = "skipped" if skipped else "watch" if "watch" in verdicts else "done"
            else:
                state = "ahead"
            found.append((key, self.opened.name_of(key), state))
        return found

    def given(self) -> Answer | None:
        """Return what was answered here already, when the walk went back to it."""
        return self._given.get(self._at)

    def before(self) -> Answer | None:
        """Return the last answer to this question from before this round."""
        if (step := self.step) is None:
            return None
        rows = self.opened.history.all(step.here.key, step.question.id)
        return next((one for one in reversed(rows) if one.round != self.record.key and one.state == "answered"), None)

    def wanted(self) -> Wanted | None:
        """Return what the crops here want of the reading that is asked for."""
        step = self.step
        if step is None or step.question.reading is None:
            return None
        neighbours = [here for here, _ in self._places.values() if here.station is not None]
        return wanted_at(step.here, neighbours, step.question.reading, us=self.opened.us)

    # time

    def elapsed(self) -> float:
        """Return the seconds on foot: what the answers took, and the question that is open."""
        done = sum(min(answer.seconds, LONGEST_LOOK) for answer in self._given.values())
        return done + self._looking()

    def remaining(self) -> float:
        """Return the seconds that the open questions are expected to take."""
        ahead = [one for index, one in enumerate(self._asked) if index >= self._at and index not in self._given]
        stops = len({one.station for one in ahead})
        return sum(one.seconds for one in ahead) + WALKING * max(stops - 1, 0)

    def can_wait(self) -> list[Asked]:
        """Return what may be left for tomorrow; what is vital is never among it."""
        return [
            one
            for index, one in enumerate(self._asked)
            if index >= self._at and index not in self._given and not one.vital
        ]

    @property
    def late(self) -> bool:
        """Whether the round will run over, and something in it can wait."""
        budget = self.opened.room.minutes * 60
        return bool(self.can_wait()) and self.elapsed() + self.remaining() > budget + OPENING

    def resume_clock(self) -> None:
        """Start counting afresh for the open question, after a pause."""
        self._shown = self.opened.clock()

    def _looking(self) -> float:
        return min((self.opened.clock() - self._shown).total_seconds(), LONGEST_LOOK)

    # answers

    def question_number(self, typed: float) -> Doubt | None:
        """Return why a typed number, in the room's unit, is questioned before it is saved."""
        step = self.step
        if step is None or step.question.reading is None:
            return None
        last = self.before()
        days = (self.opened.clock() - last.at).total_seconds() / 86400 if last else None
        return doubt(typed, step.question.reading, last, days, us=self.opened.us)

    def pick(self, choices: Sequence[str]) -> Outcome:
        """Answer with one choice, or with several signs; an unknown choice raises ValueError."""
        step = self._must_have()
        known = [choice.id for choice in step.question.choices]
        if not choices or any(one not in known for one in choices):
            raise ValueError(f"{', '.join(choices) or 'nothing'} is not among the answers")
        healthy = known[0]
        picked = tuple(one for one in known if one in choices and (one != healthy or len(choices) == 1))
        now = self.opened.clock()
        judged = judge_choices(step.question, picked, step.checklist, step.here, self.opened.history, now)
        return self._write(step, judged, now, choices=picked)

    def number(self, value: float) -> Outcome:
        """Answer with a number in the stored unit; one that cannot be raises ValueError."""
        step = self._must_have()
        reading = step.question.reading
        if reading is None or not reading.possible[0] <= value <= reading.possible[1]:
            raise ValueError(f"{value:g} cannot be")
        now = self.opened.clock()
        judged = judge_number(step.question, value, step.checklist, self.wanted(), self.before(), us=self.opened.us)
        return self._write(step, judged, now, value=value, unit=reading.unit)

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
        """Write the rest of this station down as not looked at."""
        step, found = self._must_have(), []
        while (here := self.step) is not None and here.here.key == step.here.key:
            found.append(self.not_looked())
        return found

    def leave_what_can_wait(self) -> int:
        """Write down as not looked at what can wait; return how many questions that were."""
        self.write_plan()
        waiting = {(one.station, one.question) for one in self.can_wait()}
        now, answers = self.opened.clock(), []
        for index, one in enumerate(self._asked):
            if (one.station, one.question) in waiting and index not in self._given:
                answer = Answer(
                    key=fresh_key(now),
                    round=self.record.key,
                    at=now,
                    walker=self.walker,
                    station=one.station,
                    question=one.question,
                    state=NOT_LOOKED,
                    note="left: the round was late",
                )
                self._given[index] = answer
                answers.append(answer)
        self.opened.save(*answers)
        self._advance()
        return len(answers)

    def back(self) -> bool:
        """Go back one question; say whether there was one."""
        if self._at == 0:
            return False
        self._at -= 1
        self.resume_clock()
        return True

    def forward(self) -> bool:
        """Go on past a question that has its answer; say whether it had."""
        if self._at not in self._given:
            return False
        self._advance()
        return True

    # the end

    def finish(self) -> Summary:
        """End the round and return it in figures."""
        now = self.opened.clock()
        seconds = sum(min(answer.seconds, LONGEST_LOOK) for answer in self._given.values())
        if self.record.ended is None and self.step is None:
            self.record = msgspec.structs.replace(self.record, ended=now, walked_seconds=seconds)
            self.opened.save(self.record)
            self.opened.tidy()
        return Summary(
            answered=sum(answer.state == "answered" for answer in self._given.values()),
            not_looked=sum(answer.state == NOT_LOOKED for answer in self._given.values()),
            seconds=seconds,
            jobs=tuple(self.opened.jobs_due()),
            glad=self._glad(),
        )

    def _glad(self) -> str:
        """Name the station that has been good for the most days on end."""
        best, name = 0, ""
        for key, station, state in self.stations():
            if state == "done" and (days := self.opened.good_days(key)) > best:
                best, name = days, station
        return f"{name}: {best} days running with nothing wrong." if best >= 3 else ""

    # inside

    def _must_have(self) -> Step:
        if (step := self.step) is None:
            raise ValueError("the round is at its end")
        return step

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
    ) -> Outcome:
        self.write_plan()
        before = self._given.get(self._at)
        answer = Answer(
            key=fresh_key(now),
            round=self.record.key,
            at=now,
            walker=self.walker,
            station=step.here.key,
            question=step.question.id,
            state=state,
            choices=choices,
            value=value,
            unit=unit,
            note=note,
            seconds=round(self._looking(), 1) + (before.seconds if before else 0),
            verdict=judged.verdict if state == "answered" else "",
            why=judged.why,
            shows=judged.shows,
            replaces=before.key if before else "",
            reason="put right in the same round" if before else "",
        )
        opened, role = self.opened, self.opened.room.role(self.walker)
        if before:
            undone = withdrawn(before, self.walker, opened.findings, opened.jobs, now, "the answer was put right")
            opened.save(*undone.findings, *undone.jobs)
        then = None
        if state == "answered":
            then = follows(answer, step.question, judged, role, opened.findings, opened.jobs, now)
        inserted = self._insert(step, judged) if state == "answered" else []
        self._given[self._at] = answer
        records: list[Answer | Round] = [answer]
        if inserted:
            self.record = msgspec.structs.replace(self.record, asked=tuple(self._asked))
            records.append(self.record)
        unsaved = opened.save(*records, *(then.findings if then else ()), *(then.jobs if then else ()))
        made = tuple(job for job in then.jobs if job.closed is None and job.made == now) if then else ()
        self._advance()
        return Outcome(answer, judged, made, unsaved)

    def _insert(self, step: Step, judged: Judgement) -> list[Asked]:
        """Put what follows from an answer right behind it, if it applies and is not asked already."""
        already = {(one.station, one.question) for one in self._asked}
        fresh = []
        for name in judged.ask:
            question = step.checklist.find(name)
            if question is None or not applies(question, step.here, self.opened.today()):
                continue
            if (step.here.key, name) in already:
                self._bring_forward(step.here.key, name)
                continue
            why = f"Asked because of the answer before: {judged.why or step.question.ask}"
            fresh.append(Asked(station=step.here.key, question=name, why=why, vital=True, seconds=question.seconds))
        # what is inserted lies ahead of every answer given so far
        self._asked[self._at + 1 : self._at + 1] = fresh
        if fresh:
            self._given = {
                index + len(fresh) if index > self._at else index: answer for index, answer in self._given.items()
            }
        return fresh

    def _bring_forward(self, station: str, question: str) -> None:
        """Move a question that is still ahead to be the next one."""
        for index in range(self._at + 1, len(self._asked)):
            one = self._asked[index]
            if (one.station, one.question) == (station, question) and index not in self._given:
                if not any(place > self._at for place in self._given):
                    self._asked.insert(self._at + 1, self._asked.pop(index))
                return

    def _advance(self) -> None:
        self._at += 1
        self.opened.refresh()
        while self._at < len(self._asked) and (self._at in self._given or self._answered_elsewhere(self._at)):
            self._at += 1
        self.resume_clock()

    def _answered_elsewhere(self, index: int) -> bool:
        """Say whether somebody else has answered this today, in another round."""
        one = self._asked[index]
        last = self.opened.history.last(one.station, one.question)
        return (
            last is not None
            and last.at.date() == self.record.day
            and last.state == "answered"
            and last.round != self.record.key
            and last.at >= self.record.started
        )

    def _take_up(self) -> None:
        """Find the answers that this round has already, and go to the first question without one."""
        for index, one in enumerate(self._asked):
            rows = self.opened.history.all(one.station, one.question)
            mine = [answer for answer in rows if answer.round == self.record.key]
            if mine:
                self._given[index] = mine[-1]
        self._at = -1
        self._advance()


def begin(opened: OpenRoom, walker: str) -> Walk:
    """Begin today's round, or take up the one that was left unfinished today."""
    opened.refresh()
    unfinished = [one for one in opened.rounds_today() if one.ended is None and one.walker == walker]
    if unfinished:
        return Walk(opened, unfinished[-1], walker)
    now = opened.clock()
    plan = opened.plan(walker)
    record = Round(
        key=new_key("r", now),
        day=now.date(),
        started=now,
        walker=walker,
        returning=opened.today_for(walker).returning,
        asked=tuple(_asked(one) for one in plan.asked),
        left=tuple(_asked(one) for one in plan.left),
    )
    walk = Walk(opened, record, walker)
    walk._unwritten = (record, *_jobs_of_the_day(opened, plan, walker, now))
    return walk


def take_up(opened: OpenRoom, record: Round, walker: str) -> Walk:
    """Go on with a round that somebody else left unfinished."""
    return Walk(opened, record, walker)


def measure(opened: OpenRoom, job: Job, walker: str) -> Walk:
    """Return a walk of the questions that a measuring job asks for."""
    now = opened.clock()
    asked = []
    for name in job.questions:
        question = opened.question(job.station, name)
        if question is not None:
            asked.append(Asked(station=job.station, question=name, why=job.why, seconds=question.seconds, vital=True))
    record = Round(key=new_key("r", now), day=now.date(), started=now, walker=walker, asked=tuple(asked))
    opened.save(record)
    return Walk(opened, record, walker)


def _asked(one: Due) -> Asked:
    return Asked(
        station=one.here.key, question=one.question.id, why=one.why, vital=one.vital, seconds=round(one.seconds, 1)
    )


def _jobs_of_the_day(opened: OpenRoom, plan: Plan, walker: str, now: datetime) -> list[Job]:
    """Make one job for each station and role out of the slow looks that did not fit."""
    groups: dict[tuple[str, str], list[Due]] = {}
    for one in plan.jobs:
        groups.setdefault((one.here.key, one.question.who), []).append(one)
    made: list[Job] = []
    for (station, _), dues in groups.items():
        still = [job for job in opened.jobs.values() if job.closed is None and job.station == station]
        asked = {name for job in still for name in job.questions}
        questions = [one.question for one in dues if one.question.id not in asked]
        if not questions:
            continue
        fits = all(one.for_walker for one in dues)
        hours = min((one.hours for one in dues if one.hours is not None), default=None)
        job = to_measure(
            questions,
            station=station,
            who=dues[0].question.who,
            by=walker,
            now=now,
            hours=hours,
            why=PUT_BY if fits else ANOTHER,
        )
        if already_asked(opened.jobs.values(), job) is None:
            made.append(job)
    return made
