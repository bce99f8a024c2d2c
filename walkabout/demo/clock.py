"""A clock that the demo's season sets and moves on."""

from datetime import date, datetime, time, timedelta


def moment(day: date, at: time) -> datetime:
    """Return a time of day on this machine's own clock, with the offset it has on that day."""
    return datetime.combine(day, at).astimezone()


class DemoClock:
    """Tells the time of the season, to the second."""

    def __init__(self, now: datetime) -> None:
        self._now = now

    def __call__(self) -> datetime:
        """Return the time."""
        return self._now

    def set(self, day: date, at: time) -> None:
        """Go to a time of a day."""
        self._now = moment(day, at)

    def wait(self, seconds: float) -> None:
        """Let so many seconds pass, in whole ones."""
        self._now += timedelta(seconds=round(seconds))
