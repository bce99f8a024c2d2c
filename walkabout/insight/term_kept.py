"""What the term in numbers is made from: the room and all that is on record, small structs that never change."""

from datetime import date

from msgspec import Struct

from walkabout.growing.crops import Crops
from walkabout.records.model import Finding, Job, Planting, Round
from walkabout.records.model_supplies import Supply
from walkabout.room.model import Room


class Poured(Struct, frozen=True):
    """Litres of water that somebody wrote down as poured in."""

    day: date
    station: str
    litres: float


class Renewed(Struct, frozen=True):
    """A tank's solution was renewed; `exact` where a job says the day, else it was counted back from an answer."""

    day: date
    tank: str
    exact: bool = False


class Strength(Struct, frozen=True):
    """An EC that was read in a tank, mS/cm at 25 °C; `trusted` unless it, or the meter on that day, is doubtful."""

    day: date
    tank: str
    ec: float
    trusted: bool = True


class Kept(Struct, frozen=True, kw_only=True):
    """All that is on record, and the room. The days of it may reach far beyond the span that is asked for."""

    room: Room
    crops: Crops
    today: date
    rounds: tuple[Round, ...] = ()
    """Walks through the room."""
    measured: tuple[Round, ...] = ()
    """Walks that only did a measuring job."""
    plantings: tuple[Planting, ...] = ()
    findings: tuple[Finding, ...] = ()
    jobs: tuple[Job, ...] = ()
    supplies: tuple[Supply, ...] = ()
    poured: tuple[Poured, ...] = ()
    renewed: tuple[Renewed, ...] = ()
    strengths: tuple[Strength, ...] = ()
    checks: tuple[date, ...] = ()
    """A day for each check of a meter."""
    causes: dict[str, str] = {}
    """Cause -> its name, of those that were confirmed."""
    begun: date | None = None
    """The first day with a round, a finding or a job on record; before it nobody was expected to walk."""
    closed_light: float = 1.0
    """What share of their hours the lamps were lit on closed days: all of it, as the timer runs, unless said."""

    @property
    def known_from(self) -> date | None:
        """The first day of which anything at all is on record; None where nothing is."""
        days = [one.sown for one in self.plantings]
        days += [each.day for one in self.supplies for each in one.counts]
        return min([*days, *([self.begun] if self.begun else [])], default=None)

    def name_of(self, station: str) -> str:
        """Return a station's name, or its key where room.toml has it no longer."""
        found = self.room.station(station)
        return found.name if found else station
