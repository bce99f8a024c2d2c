"""The course of a walk: its questions in their order, what they have been answered, and where it stands.

What follows from an answer is put in right behind it, what no longer follows is taken out, and what
somebody else has answered meanwhile is passed by.
"""

from msgspec import Struct

from walkabout.checklist.model import NOT_LOOKED, Checklist, Question
from walkabout.jobs.findings import LOOK_AGAIN
from walkabout.records.model import Answer, Asked, Round
from walkabout.room.model import Who, may
from walkabout.round.due import in_one_line
from walkabout.round.here import Here, applies
from walkabout.round.judge import Judgement
from walkabout.round.opened import OpenRoom
from walkabout.round.wants import Wanted, wanted_at


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


class Course:
    """The questions of a round in their order. A place is the number of a question, from 0."""

    def __init__(self, opened: OpenRoom, record: Round) -> None:
        """Find the answers that the round has already, and stand at the first question without one."""
        self.opened = opened
        self.record = record
        self.places = {here.key: (here, checklist) for here, checklist in opened.places()}
        self.asked = [
            one
            for one in record.asked
            if one.station in self.places and opened.question(one.station, one.question) is not None
        ]
        self.given: dict[int, Answer] = {}
        """What was answered on this walk, by place."""
        for place, one in enumerate(self.asked):
            rows = opened.history.all(one.station, one.question)
            mine = [answer for answer in rows if answer.round == record.key]
            if mine:
                self.given[place] = mine[-1]
        self._made: tuple[tuple[int, int, Asked], Step] | None = None
        self.at = -1
        self.go_on()

    def __len__(self) -> int:
        return len(self.asked)

    # where it stands

    @property
    def step(self) -> Step | None:
        """The question that is asked now; None at the end."""
        return self.step_at(self.at)

    def step_at(self, place: int) -> Step | None:
        """Return the question at a place; None where there is none."""
        if not 0 <= place < len(self.asked):
            return None
        asked = self.asked[place]
        # a face asks for the same step several times a key; its numbering hangs on how many questions there are
        known = (place, len(self.asked), asked)
        if self._made is not None and self._made[0] == known:
            return self._made[1]
        here, checklist = self.places[asked.station]
        question = self.opened.question(asked.station, asked.question)
        if question is None:
            return None
        same = [index for index, one in enumerate(self.asked) if one.station == asked.station]
        step = Step(here, checklist, question, asked.why, asked.vital, asked.seconds, same.index(place) + 1, len(same))
        # a second look at a finding is worded by the finding, which changes
        self._made = None if question.id.startswith(LOOK_AGAIN) else (known, step)
        return step

    def stations(self) -> list[tuple[str, str, str]]:
        """Return (key, name, state) in the order of this walk; state is done, here, ahead or a verdict to act on."""
        found = []
        for key in dict.fromkeys(one.station for one in self.asked):
            places = [place for place, one in enumerate(self.asked) if one.station == key]
            answers = [self.given.get(place) or self.answered_elsewhere(place) for place in places]
            verdicts = {answer.verdict for answer in answers if answer is not None}
            skipped = any(answer is not None and answer.state == NOT_LOOKED for answer in answers)
            current = self.at < len(self.asked) and self.asked[self.at].station == key
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
        neighbours = [here for here, _ in self.places.values() if here.station is not None]
        return wanted_at(step.here, neighbours, step.question.reading, scales=self.opened.scales)

    def ahead(self) -> list[int]:
        """Return the places that still ask: from here on, answered neither in this round nor elsewhere today."""
        return [place for place in range(max(self.at, 0), len(self.asked)) if not self.settled(place)]

    def settled(self, place: int) -> bool:
        """Say whether a question has its answer, or needs none any more."""
        if place in self.given or self.answered_elsewhere(place) is not None:
            return True
        finding = self.opened.findings.get(self.asked[place].question.removeprefix(LOOK_AGAIN))
        return finding is not None and finding.closed is not None

    def answered_elsewhere(self, place: int) -> Answer | None:
        """Return what somebody else has answered here today, since this round began, in another round."""
        one = self.asked[place]
        last = self.opened.history.last(one.station, one.question)
        elsewhere = (
            last is not None
            and last.at.date() == self.record.day
            and last.state == "answered"
            and last.round != self.record.key
            and last.at >= self.record.started
        )
        return last if elsewhere else None

    # going

    def go_on(self) -> None:
        """Take in what others have written, and go to the next question that still asks."""
        self.at += 1
        self.opened.refresh()
        while self.at < len(self.asked) and self.settled(self.at):
            self.at += 1

    def stay_if_it_asks(self) -> None:
        """Stand where it stands if that question still asks, else go on."""
        self.at -= 1
        self.go_on()

    def go_back(self) -> bool:
        """Go back to the question answered before this one; say whether there was one."""
        answered = [place for place in self.given if place < self.at]
        if not answered:
            return False
        self.at = max(answered)
        return True

    # what follows

    def ask_next(self, step: Step, judged: Judgement, role: Who) -> list[Question]:
        """Put what follows from an answer right behind this place, if it applies and is not asked already.

        What `role` may not look at is left out, and returned.
        """
        why, place = _because(judged.why, step.question), self.at + 1
        others: list[Question] = []
        for name in judged.ask:
            question = step.checklist.find(name)
            if question is None or not applies(question, step.here, self.opened.today()):
                continue
            if not may(role, question.who):
                others.append(question)
            elif any((one.station, one.question) == (step.here.key, name) for one in self.asked):
                place += self._bring_forward(step.here.key, name, place)
            else:
                asked = Asked(
                    station=step.here.key, question=name, why=why, vital=True, seconds=round(question.seconds, 1)
                )
                self.asked.insert(place, asked)
                self.given = {index + (index >= place): answer for index, answer in self.given.items()}
                place += 1
        return others

    def _bring_forward(self, station: str, question: str, place: int) -> bool:
        """Move a question that is still ahead to `place`; say whether it was."""
        for index in range(place, len(self.asked)):
            one = self.asked[index]
            if (one.station, one.question) == (station, question) and index not in self.given:
                if any(given >= place for given in self.given):
                    return False
                self.asked.insert(place, self.asked.pop(index))
                return True
        return False

    def take_out(self, before: Answer, question: Question) -> None:
        """Take out what only followed from the answer before and has no answer yet."""
        why = _because(before.why, question)
        gone = [
            place
            for place in self.ahead()
            if self.asked[place].station == before.station and self.asked[place].why == why
        ]
        self.asked = [one for place, one in enumerate(self.asked) if place not in gone]
        self.given = {place - sum(one < place for one in gone): answer for place, answer in self.given.items()}


def _because(why: str, question: Question) -> str:
    return in_one_line(f"Asked because of the answer before: {why or question.ask}")
