"""A school room in a folder, its clock, and a walker who finds everything as it should be."""

from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import msgspec

from walkabout.checklist.model import Checklist, Choice, Fault, Question, Reading
from walkabout.records.model import Answer, Job, Move, Planting
from walkabout.round.begin import begin
from walkabout.round.due import Due
from walkabout.round.opened import OpenRoom
from walkabout.round.plan import Plan
from walkabout.round.walk import Outcome, Walk

MONDAY = date(2026, 9, 14)
SOWN = MONDAY - timedelta(days=14)

ROOM = """\
name = "School room"
{head}
kit = ["thermometer", "hygrometer", "pH meter", "EC meter", "RCD", "sticky card"]
[people.AR]
role = "adult"
[people.BO]
role = "adult"
[people.K7]
role = "pupil"
[lamps.bar]
watts = 60
[tanks.tub]
litres = 60
[tanks.channels]
litres = 40
[pumps.air]
moves = "air"
[pumps.water]
"""
STATIONS = {
    "shelf": ("shelf", 'lamps = ["bar"]'),
    "tub": ("raft", 'tank = "tub"\npumps = ["air"]\nlamps = ["bar"]'),
    "film": ("film", 'tank = "channels"\npumps = ["water"]'),
    "vine": ("vine", 'tank = "channels"'),
    "drum": ("drum", ""),
    "pots": ("pots", ""),
    "case": ("case", ""),
    "greens": ("greens", ""),
}
PLANTED = (
    ("raft-lettuce", "tub", 12),
    ("basil", "film", 10),
    ("rocket", "film", 10),
    ("tomato", "vine", 2),
    ("lettuce", "drum", 40),
    ("lettuce", "shelf", 40),
    ("basil", "pots", 6),
    ("maidenhair", "case", 3),
    ("radish-microgreens", "greens", 1),
)
EIGHT = tuple(STATIONS)


class School:
    """The folder, the clock and the open room."""

    def __init__(
        self, folder: Path, stations: Iterable[str] = EIGHT, head: str = "", more: str = "", day: date = MONDAY
    ) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        keys = list(stations)
        text = ROOM.format(head=head) + "".join(
            f'[[station]]\nkey = "{key}"\nname = "The {key}"\nkind = "{STATIONS[key][0]}"\n{STATIONS[key][1]}\n'
            for key in keys
        )
        (folder / "room.toml").write_text(text + more, encoding="utf-8")
        self.folder = folder
        self.now = datetime.combine(day, time(7, 55), tzinfo=UTC)
        self.room = self.open()
        assert self.room.mistakes == ()
        for number, (crop, station, count) in enumerate(PLANTED):
            if station in keys:
                moves = (Move(day=SOWN, station=station),)
                self.room.save(Planting(key=f"p-{number}", crop=crop, sown=SOWN, count=count, moves=moves))

    def open(self) -> OpenRoom:
        """Open the room as another program would."""
        return OpenRoom(self.folder, lambda: self.now)

    def beside(self) -> OpenRoom:
        """Open the room in a second program, with the same checklists."""
        room = self.open()
        room.checklists = self.room.checklists
        return room

    def again(self) -> OpenRoom:
        """Forget all that is in memory and open the room from its files."""
        old, self.room = self.room, self.open()
        self.room.checklists = old.checklists
        return self.room

    def go_to(self, day: date, hour: int = 7, minute: int = 55) -> None:
        self.now = datetime.combine(day, time(hour, minute), tzinfo=UTC)

    def tomorrow(self) -> None:
        self.go_to(self.now.date() + timedelta(days=1))

    def tick(self, seconds: float) -> None:
        self.now += timedelta(seconds=seconds)

    def plan(self, walker: str = "AR") -> Plan:
        return self.room.plan(walker)

    def begin(self, walker: str = "AR") -> Walk:
        return begin(self.room, walker)

    def checklist(
        self, kind: str, *questions: Question, faults: dict[str, Fault] | None = None, first: str = ""
    ) -> None:
        """Put a small checklist in the place of a shipped one."""
        self.room.checklists[kind] = Checklist(
            kind=kind, title=kind, first=first, fault=faults or {}, question=questions
        )

    def only(self, kind: str, *questions: Question, faults: dict[str, Fault] | None = None) -> None:
        """Leave questions to one kind only."""
        for other in self.room.checklists:
            self.room.checklists[other] = Checklist(kind=other, title=other)
        self.checklist(kind, *questions, faults=faults)

    def written(self, station: str, question: str, days_ago: int = 0, **more: object) -> Answer:
        """Save an answer that was given some days ago."""
        at = self.now - timedelta(days=days_ago)
        fields: dict[str, object] = {"walker": "AR", "verdict": "good", "seconds": 0.0, "round": "r-old"} | more
        count = len(self.room.history.all(station, question))
        key = f"a-{station}-{question}-{at:%m%d%H%M%S}-{count}"
        raw = {"key": key, "at": at, "station": station, "question": question} | fields
        answer = msgspec.convert(raw, Answer)
        self.room.save(answer)
        return answer


def asked(plan: Plan) -> list[tuple[str, str]]:
    return [(one.here.key, one.question.id) for one in plan.asked]


def due(plan: Plan, station: str, question: str) -> Due:
    return next(one for one in plan.asked if (one.here.key, one.question.id) == (station, question))


def open_jobs(room: OpenRoom) -> list[Job]:
    return [job for job in room.jobs.values() if job.closed is None]


def to(walk: Walk, station: str, question: str) -> Walk:
    """Answer healthily up to a question."""
    while (step := walk.step) is not None and (step.here.key, step.question.id) != (station, question):
        healthy(walk)
    assert walk.step is not None, f"{station} {question} was not asked"
    return walk


def value_for(walk: Walk) -> float:
    """Return a number that is as it should be."""
    step = walk.step
    assert step is not None
    assert step.question.reading is not None
    reading = step.question.reading
    wanted = walk.wanted()
    low, high = (wanted.low, wanted.high) if wanted else reading.good or reading.likely
    return round((max(low, reading.likely[0]) + min(high, reading.likely[1])) / 2, reading.decimals)


def healthy(walk: Walk) -> tuple[int, Outcome]:
    """Answer the open question as it should be; return the keys pressed: one, or the digits and one more."""
    step = walk.step
    assert step is not None
    if step.question.choices:
        return 1, walk.pick([step.question.choices[0].id])
    if step.question.reading is not None:
        value = value_for(walk)
        digits = sum(one.isdigit() for one in f"{value:.{step.question.reading.decimals}f}")
        return digits + 1, walk.number(value)
    return 1, walk.note("")


def choice(name: str, *, must: int = 1, should: int = 1, **more: object) -> Question:
    """Return a question with a healthy and a bad answer."""
    fields: dict[str, object] = {
        "choices": (
            Choice(id="good", says="as it should be"),
            Choice(id="bad", says="bad", verdict="today", why="It is bad.", do="Make it good."),
        ),
        "seconds": 5.0,
    }
    return Question(id=name, ask=f"How is {name}?", should=should, must=must, **(fields | more))  # type: ignore[arg-type]


def number(name: str, reading: Reading, **more: object) -> Question:
    fields: dict[str, object] = {"seconds": 10.0, "should": 1, "must": 3} | more
    return Question(id=name, ask=f"What is {name}?", kind="number", reading=reading, **fields)  # type: ignore[arg-type]


def fault(hours: float = 20, per_week: float = 0.02, *, lost: float = 1.0, people: bool = False) -> Fault:
    return Fault(says="it has gone", per_week=per_week, hours=hours, lost=lost, people=people, source="assumed")
