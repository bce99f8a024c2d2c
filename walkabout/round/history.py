"""What was answered before, ready to be asked about."""

from collections.abc import Iterable
from datetime import date, datetime

from walkabout.records.model import Answer

Where = tuple[str, str]
"""A station's key and a question's id."""

KEPT_DAYS = 200
"""How far back the round looks: longer than any question's longest interval."""
CHANGED = "change-due"
"""The question in which the days since the last change of solution are asked."""


class History:
    """Answers by station and question, corrections in the place of what they correct."""

    def __init__(self, answers: Iterable[Answer]) -> None:
        self._by_where: dict[Where, list[Answer]] = {}
        self._by_key: dict[str, Answer] = {}
        self._corrected: dict[str, Answer] = {}
        self._stands: dict[str, str] = {}
        self._first_at: dict[str, date] = {}
        self.first_day: date | None = None
        known = {one.key: one for one in answers}
        for answer in sorted(known.values(), key=lambda one: (one.at, _corrections(one, known), one.key)):
            self.add(answer)

    def add(self, answer: Answer) -> None:
        """Take in one more answer, not older than the others at its place; a known key is taken anew."""
        row = self._by_where.setdefault((answer.station, answer.question), [])
        stands = answer.key
        if answer.key not in self._by_key and (old := self._by_key.get(answer.replaces)) is not None:
            self._corrected[answer.key] = old
            # of two corrections of the same answer the later one counts
            stands = self._stands[old.key]
            elsewhere = self._by_where[old.station, old.question]
            if elsewhere is not row:
                elsewhere[:] = [one for one in elsewhere if self._stands[one.key] != stands]
        stands = self._stands.setdefault(answer.key, stands)
        known = answer.key in self._by_key or answer.replaces
        places = [place for place, one in enumerate(row) if self._stands[one.key] == stands] if known else []
        if not places:
            row.append(answer)
        elif answer.key not in self._by_key or row[places[0]].key == answer.key:
            row[places[0]] = answer
        self._by_key[answer.key] = answer
        day = answer.at.date()
        self._first_at[answer.station] = min(day, self._first_at.get(answer.station, day))
        self.first_day = min(day, self.first_day or day)

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

    def first_at(self, station: str) -> date | None:
        """Return the day of the first answer at a station."""
        return self._first_at.get(station)

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


def _corrections(answer: Answer, known: dict[str, Answer]) -> int:
    """Return how many answers this one replaces, one behind the other: a correction comes after what it corrects."""
    count, seen = 0, {answer.key}
    while (before := known.get(answer.replaces)) is not None and before.key not in seen:
        seen.add(before.key)
        answer, count = before, count + 1
    return count
