"""What an open room holds, for those who read it and write nothing down.

`opened` makes it, and asks some of them what today's round is about; so they must not know `opened` itself.
"""

from datetime import date
from typing import Protocol

from walkabout.checklist.model import Checklist, Question
from walkabout.growing.crops import Crops
from walkabout.growing.units import Scales
from walkabout.records.book import Records
from walkabout.records.model import Answer, Finding, Job, Planting, Promise, Treatment
from walkabout.room.calendar import Clock
from walkabout.room.model import Room
from walkabout.round.here import Here
from walkabout.round.history import History


class Held(Protocol):
    """A room with its checklists and records, as `OpenRoom` has them."""

    clock: Clock
    room: Room
    checklists: dict[str, Checklist]
    crops: Crops
    records: Records
    history: History
    plantings: dict[str, Planting]
    findings: dict[str, Finding]
    jobs: dict[str, Job]
    promises: dict[str, Promise]
    treatments: dict[str, Treatment]

    @property
    def scales(self) -> Scales:
        """In what the room reads and writes."""

    def today(self) -> date:
        """Return the day by the room's clock."""

    def places(self) -> list[tuple[Here, Checklist]]:
        """Return the room as a whole and then its stations in walking order, each with its checklist."""

    def sharing(self, key: str) -> tuple[str, ...]:
        """Return the stations on the same tank as this one, itself included; none without a tank."""

    def name_of(self, key: str) -> str:
        """Return the name of a station, or of the room as a whole."""

    def question(self, station: str, question: str) -> Question | None:
        """Return a question as it can be asked at a station."""

    def doubt_of(self, answer: Answer) -> str:
        """Return why an answer is not to be trusted, or ''."""
