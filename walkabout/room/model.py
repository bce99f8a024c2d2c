"""The room as room.toml describes it: small structs that never change.

Quantities are in metric units as the trade writes them (°C, litres, cm, mS/cm, hours, watts).
"""

from datetime import date
from typing import Literal

from msgspec import Struct, field

from walkabout.room.solution import Acid, Aim, Base, Feed, Meters, OwnRecipe, Water

Who = Literal["pupil", "adult", "licensed"]
"""Who may do a thing, from least to most: each may do what those before may."""

Units = Literal["metric", "US"]
Weekday = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
LampKind = Literal["led", "tube", "high-pressure sodium", "metal halide", "incandescent", "window"]
StationKind = str
"""The name of a checklist: a room may bring kinds of its own."""

WEEKDAYS: tuple[Weekday, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
WHO: tuple[Who, ...] = ("pupil", "adult", "licensed")


class Lamp(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A lamp and its timer. `mark` is the T, R or other letter on a discharge lamp's glass.

    `gap_cm` is how far it hangs above the leaves; `width_cm` and `length_cm` are its lit face. `efficacy` is what
    its maker says it gives, µmol/J.
    """

    kind: LampKind = "led"
    watts: float = 0
    hours: float = 16
    on: str = "06:00"
    gap_cm: float | None = None
    width_cm: float | None = None
    length_cm: float | None = None
    efficacy: float | None = None
    since: date | None = None
    """The day on which it (or its tube) was put in: its hours are counted from then."""
    rated_hours: float | None = None
    """The lit hours after which its maker says it should be replaced."""
    red_blue: bool = False
    """It gives only red and blue light: a lux meter hardly sees it."""
    enclosed: bool | None = None
    mark: str = ""
    note: str = ""


class Tank(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A tank of solution; two stations that name the same tank share it."""

    litres: float
    change_days: int = 14
    note: str = ""


class Pump(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A pump: it moves water or air; `spare` says whether another stands ready."""

    moves: Literal["water", "air"] = "water"
    litres_per_hour: float | None = None
    spare: bool = False
    note: str = ""


class Station(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A place where the walker stops. Lamps, tank and pumps are named by their keys in room.toml."""

    key: str
    name: str
    kind: StationKind
    lamps: tuple[str, ...] = ()
    tank: str = ""
    pumps: tuple[str, ...] = ()
    kit: tuple[str, ...] = ()
    """What else stands here ('heat mat', 'air stone', 'sticky card'): some questions need it."""
    places: int | None = None
    note: str = ""


class Person(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Known by a code of two or three characters and a role, never by a name."""

    role: Who = "pupil"
    until: date | None = None
    """The day on which the code ends."""


class Closure(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Days on which nobody comes, first and last included."""

    first: date = field(name="from")
    last: date = field(name="to")
    name: str = ""


class Term(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A term of the school year, first and last day included. It closes nothing: closures do."""

    first: date = field(name="from")
    last: date = field(name="to")
    name: str = ""


class Prices(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Money in the room's own currency."""

    currency: str = ""
    per_kwh: float | None = None
    per_cubic_metre: float | None = None


class Room(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One growing room. `stations` are in walking order."""

    name: str = ""
    units: Units = "metric"
    minutes: float = 5
    """What the round may take."""
    work_minutes: float = 30
    """What the standing jobs of one day may take."""
    days: tuple[Weekday, ...] = ("mon", "tue", "wed", "thu", "fri")
    """The days on which somebody walks."""
    starts: str = "08:00"
    """When the round is usually walked: hours to loss are counted to the next one."""
    kit: tuple[str, ...] = ()
    """What the whole room has ('pH meter', 'sticky card', 'RCD'): some questions need it."""
    people: dict[str, Person] = field(default_factory=dict)
    lamps: dict[str, Lamp] = field(default_factory=dict)
    tanks: dict[str, Tank] = field(default_factory=dict)
    pumps: dict[str, Pump] = field(default_factory=dict)
    stations: tuple[Station, ...] = field(default=(), name="station")
    closures: tuple[Closure, ...] = field(default=(), name="closure")
    terms: tuple[Term, ...] = field(default=(), name="term")
    prices: Prices = Prices()
    altitude_m: float = 0
    """Height above the sea: water holds less oxygen higher up."""
    water: Water = Water()
    meters: Meters = Meters()
    feed: Feed = Feed()
    acid: Acid | None = None
    base: Base | None = None
    aims: dict[str, Aim] = field(default_factory=dict)
    """Crop -> what this room wants for it, where it follows somebody else than the crop table."""
    recipes: tuple[OwnRecipe, ...] = field(default=(), name="recipe")

    def station(self, key: str) -> Station | None:
        """Return the station with this key, or None."""
        return next((station for station in self.stations if station.key == key), None)

    def role(self, code: str) -> Who:
        """Return the role behind a code; an unknown code may do what a pupil may."""
        person = self.people.get(code)
        return person.role if person else "pupil"


WHOLE_ROOM = "room"
"""The station key under which answers about the room as a whole are kept."""


def may(role: Who, least: Who) -> bool:
    """Say whether somebody in this role may do what asks for at least `least`."""
    return WHO.index(role) >= WHO.index(least)
