"""What was answered before, ready to be asked about."""

from collections.abc import Iterable
from datetime import date, datetime

from walkabout.records.model import Answer

Where = tuple[str, str]
"""A station's key and a question's id."""

KEPT_DAYS = 200
"""How far back the round looks: longer than any question's longest interval."""


class History:
    """Answers by station and question, corrections in the place of what they correct."""

    def __init__(self, answers: Iterable[Answer]) -> None:
        self._by_where: dict[Where, list[Answer]] = {}
        self._by_key: dict[str, Answer] = {}
        self._corrected: dict[str, Answer] = {}
        self.first_day: date | None = None
        for answer in sorted(answers, key=lambda one: (one.at, one.key)):
            self.add(answer)

    def add(self, answer: Answer) -> None:
        """Take in one more answer, not older than the others at its place; a known key is taken anew."""
        row = self._by_where.setdefault((answer.station, answer.question), [])
        if answer.key in self._by_key:
            row[:] = [answer if one.key == answer.key else one for one in row]
        elif answer.replaces and (old := self._by_key.get(answer.replaces)) is not None:
            self._corrected[answer.key] = old
            row[:] = [answer if one.key == old.key else one for one in row]
            if answer not in row:
                row.append(answer)
        else:
            row.append(answer)
        self._by_key[answer.key] = answer
        if self.first_day is None or answer.at.date() < self.first_day:
            self.first_day = answer.at.date()

    def all(self, station: str, question: str) -> list[Answer]:
        """Return the answers to one question at one station, the oldest first, as corrected."""
        return self._by_where.get((station, question), [])

    def last(self, station: str, question: str) -> Answer | None:
        """Return the last thing written down, be it 'not looked'."""
        row = self.all(station, question)
        return row[-1] if row else None

    def last_look(self, station: str, question: str) -> Answer | None:
        """Return the last answer that came from a look."""
        return next((one for one in reversed(self.all(station, question)) if one.state == "answered"), None)

    def fresh(self, station: str, question: str, now: datetime, days: int) -> Answer | None:
        """Return the last look if it is no more than `days` calendar days old."""
        found = self.last_look(station, question)
        return found if found and (now.date() - found.at.date()).days <= days else None

    def corrected(self, answer: Answer) -> Answer | None:
        """Return what this answer put right, if it is a correction."""
        return self._corrected.get(answer.key)

    def at_station(self, station: str) -> list[Answer]:
        """Return all answers at one station, the oldest first."""
        rows = (row for (place, _), row in self._by_where.items() if place == station)
        return sorted((one for row in rows for one in row), key=lambda one: one.at)

    def everything(self) -> list[Answer]:
        """Return all answers as corrected, the oldest first."""
        return sorted((one for row in self._by_where.values() for one in row), key=lambda one: one.at)

    def places(self) -> list[Where]:
        """Return every station and question that has an answer."""
        return list(self._by_where)
