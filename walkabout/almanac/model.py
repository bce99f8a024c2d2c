"""What the almanac is reckoned from, and what it says: small structs that never change.

Days are calendar days; temperatures in °C, daily light in mol/m²/d, water in litres, chances from 0 to 1.
"""

from datetime import date, datetime
from typing import Literal

from msgspec import Struct

from walkabout.checklist.model import Checklist
from walkabout.growing.crops import Crop, Crops
from walkabout.records.model import Finding, Job, Planting, Promise, Treatment
from walkabout.room.model import Room, Who

# what it is reckoned from


class Conditions(Struct, frozen=True, kw_only=True):
    """What a station offers to grow in. None where nobody measured: the crop's usual figures are taken then."""

    air: float | None = None
    """Mean of the air over day and night, °C."""
    light: float | None = None
    """Daily light, mol/m²/d."""
    vpd: float | None = None
    """Dryness of the air, kPa."""


class TankSeen(Struct, frozen=True, kw_only=True):
    """What is on record of a tank."""

    used: float | None = None
    """Litres a day that it lost lately, from what was topped up; None without two top-ups."""
    falls: int = 0
    """From how many pairs of top-ups that is."""
    topped: date | None = None
    """The last day on which it was filled up to its mark."""
    changed: date | None = None
    """The last day on which the solution was renewed."""


class Basis(Struct, frozen=True, kw_only=True):
    """All that the dates are reckoned from. What is not known is missing, never guessed here."""

    room: Room
    crops: Crops
    checklists: dict[str, Checklist]
    today: date
    plantings: tuple[Planting, ...] = ()
    promises: tuple[Promise, ...] = ()
    treatments: tuple[Treatment, ...] = ()
    findings: tuple[Finding, ...] = ()
    jobs: tuple[Job, ...] = ()
    conditions: dict[str, Conditions] = {}
    """By station."""
    tanks: dict[str, TankSeen] = {}
    """By the tank's key in room.toml."""
    looked: dict[tuple[str, str], date] = {}
    """(station, question) -> the last day on which it was answered."""

    def crop(self, planting: Planting) -> Crop | None:
        """Return the crop of a planting, or None where the table does not know it."""
        return self.crops.find(planting.crop)

    def name_of(self, station: str) -> str:
        """Return a station's name, or its key where room.toml has it no longer."""
        found = self.room.station(station)
        return found.name if found else station

    @property
    def standing(self) -> tuple[Planting, ...]:
        """The plantings that have not ended."""
        return tuple(one for one in self.plantings if one.ended is None)


# what it says of plantings


class Span(Struct, frozen=True):
    """Within which days something comes: one time in ten earlier, as often as not by `likely`, one in ten later."""

    early: date
    likely: date
    late: date


StageName = Literal["emergence", "move_on", "flowering", "harvest", "seed"]


class Expected(Struct, frozen=True, kw_only=True):
    """One stage of a planting: when it was reached, else when it is expected."""

    stage: StageName
    span: Span
    reached: date | None = None


class Course(Struct, frozen=True, kw_only=True):
    """A planting's way from sowing to its end."""

    planting: Planting
    name: str
    """The crop's name, as people say it."""
    stages: tuple[Expected, ...]
    """In their order; those that the crop table does not know are missing."""
    until: date | None
    """Until when it keeps its place: the end of picking; None where it stays."""
    working: tuple[str, ...] = ()
    """How the days came about: the table's, the temperature's, the light's and the room's own part, with sources."""

    def stage(self, name: StageName) -> Expected | None:
        """Return one stage, or None."""
        return next((one for one in self.stages if one.stage == name), None)


# what it says of promises

Outlook = Literal["on course", "tight", "at risk", "cannot", "kept", "called off"]


class WayOut(Struct, frozen=True, kw_only=True):
    """What would help a promise that slips, and how sure it would be then."""

    says: str
    """One sentence that begins with a verb."""
    chance: float
    who: Who = "pupil"
    day: date | None = None
    """The new day, where that is the way out."""


class Foreseen(Struct, frozen=True, kw_only=True):
    """How a promise stands."""

    promise: Promise
    name: str
    """The crop's name."""
    outlook: Outlook
    chance: float
    """That all of it is ready on the day."""
    says: str
    """One sentence: what is in hand, and what is missing."""
    sow_by: date | None = None
    """The last open day on which sowing still meets it with nine chances in ten; None when that is over."""
    sow_count: int = 0
    """How many to sow then, losses and margin counted in; 0 when enough stand already."""
    sow_says: str = ""
    """On what that count rests, in one sentence; empty without one."""
    expected: float = 0
    """What is expected on the day, in the promise's unit."""
    ways: tuple[WayOut, ...] = ()
    """The surest first."""
    blocked: tuple[str, ...] = ()
    """Why nothing may be eaten on that day as things stand: waiting times, findings."""
    working: tuple[str, ...] = ()


# what it says of standing jobs


class Standing(Struct, frozen=True, kw_only=True):
    """One time of a standing job, on its day."""

    key: str
    """The job, not the day: "change/raft", "clean-filter/arch", "thin/p-…", "lamp/raft-bar"."""
    says: str
    station: str
    who: Who
    minutes: float
    due: date
    """By its interval."""
    day: date
    """The open day on which it is planned: never after `due` unless that is over already."""
    asked: bool = False
    """The round asks for it: no job is made of it."""
    why: str = ""
    caution: str = ""
    moved: str = ""
    """Why it is not on its own day, one short phrase, empty when it is."""


# what it says of closures

Fate = Literal["lasts", "lasts if", "visit", "harvest first", "lost"]


class Before(Struct, frozen=True, kw_only=True):
    """Something to do before leaving, in its order."""

    says: str
    station: str
    minutes: float
    who: Who = "pupil"
    day: date | None = None
    """The open day on which it is best done."""
    caution: str = ""


class Lasting(Struct, frozen=True, kw_only=True):
    """How long one station lives by itself from the last round of a closure on."""

    station: str
    name: str
    fate: Fate
    days: float | None
    """Days that it surely lasts as it is, margin taken off; None when it lasts for as long as anybody plans."""
    likely: float | None
    """Days without the margin."""
    days_helped: float | None
    """Days that it surely lasts once `before` is done; None for as long as anybody plans."""
    likely_helped: float | None = None
    """The same without the margin."""
    fails: str
    """What fails first, and about when: 'the tank is down to its reserve about Sat 19 Dec'."""
    before: tuple[Before, ...] = ()
    visits: tuple[date, ...] = ()
    """Days on which somebody must come all the same."""
    visit_does: str = ""
    """What a visit does here, in a few words: 'water', 'fill the tank of', 'only look at'; empty without visits."""
    dim: str = ""
    """What may be dark or dimmed meanwhile; empty when the light stays as it is."""
    risk: str = ""
    """What may go wrong with nobody there, its chance and how soon it would be felt; a risk, not a certainty."""
    instead: str = ""
    """What would do in place of the visits, a second tank say; empty where nothing would."""
    working: tuple[str, ...] = ()


class Forecast(Struct, frozen=True, kw_only=True):
    """A closure as the room would go through it."""

    first: date
    last: date
    name: str
    leaving: date
    """The last open day before it."""
    back: date
    """The first open day after it."""
    away: float
    """Days from the last round to the first one, by the hour of the round."""
    stations: tuple[Lasting, ...]
    """What fails first stands first."""
    before: tuple[Before, ...]
    """Everything to do before leaving, in the order of doing."""
    visits: tuple[date, ...]
    promises: tuple[str, ...] = ()
    """Promises and harvests that fall into it, one sentence each."""
    first_morning: tuple[tuple[str, str], ...] = ()
    """(station, what is likeliest to have gone wrong), the likeliest loss first."""

    @property
    def minutes(self) -> float:
        """What there is to do before leaving takes."""
        return sum(one.minutes for one in self.before)

    @property
    def adult_minutes(self) -> float:
        """So many of them are an adult's, or a licensed person's."""
        return sum(one.minutes for one in self.before if one.who != "pupil")


# what it says of days

EntryKind = Literal["closure", "promise", "harvest", "move", "sow", "thin", "stage", "job", "visit", "apart", "term"]


class Entry(Struct, frozen=True, kw_only=True):
    """One line of the almanac: what a day brings."""

    day: date
    kind: EntryKind
    says: str
    uid: str
    """The same for the same thing whenever it is reckoned anew: 'promise/pr-…', 'harvest/p-…'."""
    last: date | None = None
    """Where it lasts several days: the last one."""
    station: str = ""
    who: Who = "pupil"
    minutes: float = 0
    warns: bool = False
    """Something must be done before."""
    detail: str = ""


class Row(Struct, frozen=True, kw_only=True):
    """A station's line on the screen: what stands there, has stood or will stand."""

    station: str
    name: str
    courses: tuple[Course, ...]


class Almanac(Struct, frozen=True, kw_only=True):
    """All that the dates say."""

    made: datetime | date
    first: date
    last: date
    entries: tuple[Entry, ...]
    """By day."""
    rows: tuple[Row, ...]
    promises: tuple[Foreseen, ...]
    standing: tuple[Standing, ...]
    closures: tuple[Forecast, ...]
    """Those ahead, the nearest first."""
