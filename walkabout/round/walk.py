"""The walk: a round from its first question to its last, with no screen.

A walk is taken up where it stopped: its plan is on record when it begins, and each answer when it is
given. Whoever shows it only asks for the `step`, hands in an answer and says what came of it.
"""

from collections.abc import Sequence
from datetime import datetime

import msgspec
from msgspec import Struct

from walkabout.checklist.model import DOES_NOT_APPLY, NOT_LOOKED, Checklist, Question
from walkabout.jobs.findings import LOOK_AGAIN
from walkabout.records.keys import new_key
from walkabout.records.model import Answer, Asked, Finding, Job, Round, State
from walkabout.room.model import may
from walkabout.round.anew import hangs_on, judged_anew, together
from walkabout.round.due import Due, in_one_line
from walkabout.round.follow import follows, fresh_key, reopened, withdrawn
from walkabout.round.here import Here, applies
from walkabout.round.judge import Judgement, judge_choices, judge_number
from walkabout.round.measuring import job_for_others, jobs_of_the_day
from walkabout.round.opened import OpenRoom, measures
from walkabout.round.pace import OPENING, WALKING
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
        self._asked = [
            one
            for one in record.asked
            if one.station in self._places and opened.question(one.station, one.question) is not None
        ]
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
            answers = [self._given.get(index) or self._answered_elsewhere(index) for index in places]
            verdicts = {answer.verdict for answer in answers if answer is not None}
            skipped = any(answer is not None and answer.state == NOT_LOOKED for answer in answers)
            current = self._at < len(self._asked) and self._asked[self._at].station == key
            if current:
                state = "here"
            elif verdicts & {"today", "now", "stop"}:
                state = "act"
            elif all(answer is not None for answer in answers):
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
        ahead = [self._asked[index] for index in self._ahead()]
        stops = len({one.station for one in ahead})
        return sum(one.seconds for one in ahead) + WALKING * max(stops - 1, 0)

    def can_wait(self) -> list[Asked]:
        """Return what may be left for tomorrow; what is vital is never among it."""
        return [self._asked[index] for index in self._ahead() if not self._asked[index].vital]

    def _ahead(self) -> list[int]:
        """Return the places that still ask: from here on, answered neither in this round nor elsewhere today."""
        return [index for index in range(max(self._at, 0), len(self._asked)) if not self._settled(index)]

    @property
    def late(self) -> bool:
        """Whether the round will run over, and something in it can wait."""
        budget = self.opened.room.minutes * 60
        return bool(self.can_wait()) and self.elapsed() + self.remaining() > budget + OPENING

    def resume_clock(self) -> None:
        """Start counting afresh for the open question, after a pause."""
        self._shown = self.opened.clock()

    def _looking(self) -> float:
        # a clock that was set back meanwhile counts as no time at all
        return max(min((self.opened.clock() - self._shown).total_seconds(), LONGEST_LOOK), 0.0)

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
        """Write the rest of this station down as not looked at; answers that were given stay."""
        step, found = self._must_have(), []
        while (here := self.step) is not None and here.here.key == step.here.key:
            if not self.forward():
                found.append(self.not_looked())
        return found

    def leave_what_can_wait(self) -> int:
        """Write down as not looked at what can wait; return how many questions that were."""
        self.write_plan()
        now, answers = self.opened.clock(), []
        for index in self._ahead():
            one = self._asked[index]
            if not one.vital:
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
        self._at -= 1  # the question that is open stays, if it cannot wait
        self._advance()
        return len(answers)

    def back(self) -> bool:
        """Go back to the question answered before this one; say whether there was one."""
        answered = [index for index in self._given if index < self._at]
        if not answered:
            return False
        self._at = max(answered)
        self.resume_clock()
        return True

    def pass_by(self) -> bool:
        """Go past the open question if somebody else has answered it meanwhile; say whether they had."""
        self.opened.refresh()
        if self.step is None or self._answered_elsewhere(self._at) is None:
            return False
        self._advance()
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
        self.write_plan()
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
        plan = list(self._asked)
        if before:
            self._undo(before, judged, now, state)
            self._take_out(before, step.question)
        self._given[self._at] = answer
        self.opened.history.add(answer)
        meant = [(self._at, answer, judged)] if state == "answered" else []
        meant += self._judged_anew(step, now)
        records = self._follow(meant, answer, now)
        if self._asked != plan:
            self.record = msgspec.structs.replace(self.record, asked=tuple(self._asked))
            records.append(self.record)
        unsaved = self.opened.save(*records)
        made = tuple(one for one in records if isinstance(one, Job) and one.closed is None and one.made == now)
        self._advance()
        return Outcome(answer, together(judged, [one for _, late, one in meant if late is not answer]), made, unsaved)

    def _judged_anew(self, step: Step, now: datetime) -> list[tuple[int, Answer, Judgement]]:
        """Judge once more what was answered at this station before and hangs on the answer just given."""
        found = []
        for index, given in self._given.items():
            asked = self._asked[index]
            question = step.checklist.find(asked.question)
            if index == self._at or asked.station != step.here.key or question is None:
                continue
            if hangs_on(question, given.choices, step.question.id):
                anew = judged_anew(given, question, step.checklist, step.here, self.opened.history, now)
                if anew is not None:
                    found.append((index, *anew))
        return found

    def _follow(
        self, meant: list[tuple[int, Answer, Judgement]], answer: Answer, now: datetime
    ) -> list[Answer | Round | Finding | Job]:
        """Return all that is to be written down, `answer` first; what is to be asked next is put into the plan."""
        opened, role = self.opened, self.opened.room.role(self.walker)
        findings, jobs = dict(opened.findings), dict(opened.jobs)
        changed: dict[str, Finding | Job] = {}
        late: list[Answer] = []
        asking: list[tuple[Step, Judgement]] = []
        for index, one, judged in meant:
            step = self.step_at(index)
            if step is None:
                continue
            asking.append((step, judged))
            then = follows(one, step.question, judged, role, findings, jobs, now)
            findings |= {finding.key: finding for finding in then.findings}
            jobs |= {job.key: job for job in then.jobs}
            changed.update({finding.key: finding for finding in then.findings})
            changed.update({job.key: job for job in then.jobs})
            if one is not answer:
                self._given[index] = one
                late.append(one)
        # what follows from the answer just given comes before what follows from earlier ones
        for step, judged in reversed(asking):
            changed.update({job.key: job for job in self._insert(step, judged, now)})
        return [answer, *late, *changed.values()]

    def _undo(self, before: Answer, judged: Judgement, now: datetime, state: State) -> None:
        """Take back what the answer before had opened, and what it had closed if the right one does not."""
        opened, why = self.opened, "the answer was put right"
        undone = withdrawn(before, self.walker, opened.findings, opened.jobs, now, why)
        opened.save(*undone.findings, *undone.jobs)
        if state != "answered" or judged.verdict != "good":
            again = reopened(before, self.walker, opened.findings, opened.jobs, now, why)
            opened.save(*again.findings, *again.jobs)

    def _take_out(self, before: Answer, question: Question) -> None:
        """Take out what only followed from the answer before and has no answer yet."""
        why = _because(before.why, question)
        gone = [
            index
            for index in self._ahead()
            if self._asked[index].station == before.station and self._asked[index].why == why
        ]
        self._asked = [one for index, one in enumerate(self._asked) if index not in gone]
        self._given = {index - sum(one < index for one in gone): answer for index, answer in self._given.items()}

    def _insert(self, step: Step, judged: Judgement, now: datetime) -> list[Job]:
        """Put what follows from an answer right behind it, if it applies and is not asked already.

        What this walker may not look at becomes a job: these are returned.
        """
        role, why, place = self.opened.room.role(self.walker), _because(judged.why, step.question), self._at + 1
        others: list[Question] = []
        for name in judged.ask:
            question = step.checklist.find(name)
            if question is None or not applies(question, step.here, self.opened.today()):
                continue
            if not may(role, question.who):
                others.append(question)
            elif any((one.station, one.question) == (step.here.key, name) for one in self._asked):
                place += self._bring_forward(step.here.key, name, place)
            else:
                asked = Asked(
                    station=step.here.key, question=name, why=why, vital=True, seconds=round(question.seconds, 1)
                )
                self._asked.insert(place, asked)
                self._given = {index + (index >= place): answer for index, answer in self._given.items()}
                place += 1
        return job_for_others(self.opened, step.here.key, others, self.walker, now, judged.hours)

    def _bring_forward(self, station: str, question: str, place: int) -> bool:
        """Move a question that is still ahead to `place`; say whether it was."""
        for index in range(place, len(self._asked)):
            one = self._asked[index]
            if (one.station, one.question) == (station, question) and index not in self._given:
                if any(given >= place for given in self._given):
                    return False
                self._asked.insert(place, self._asked.pop(index))
                return True
        return False

    def _advance(self) -> None:
        self._at += 1
        self.opened.refresh()
        while self._at < len(self._asked) and self._settled(self._at):
            self._at += 1
        self.resume_clock()

    def _settled(self, index: int) -> bool:
        """Say whether a question has its answer, or needs none any more."""
        if index in self._given or self._answered_elsewhere(index) is not None:
            return True
        finding = self.opened.findings.get(self._asked[index].question.removeprefix(LOOK_AGAIN))
        return finding is not None and finding.closed is not None

    def _answered_elsewhere(self, index: int) -> Answer | None:
        """Return what somebody else has answered here today, since this round began, in another round."""
        one = self._asked[index]
        last = self.opened.history.last(one.station, one.question)
        elsewhere = (
            last is not None
            and last.at.date() == self.record.day
            and last.state == "answered"
            and last.round != self.record.key
            and last.at >= self.record.started
        )
        return last if elsewhere else None

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
    unfinished = [
        one for one in opened.rounds_today() if one.ended is None and one.walker == walker and not measures(one)
    ]
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
    walk._unwritten = (record, *jobs_of_the_day(opened, plan, walker, now))
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


def _because(why: str, question: Question) -> str:
    return in_one_line(f"Asked because of the answer before: {why or question.ask}")
