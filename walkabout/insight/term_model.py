"""What the term in numbers says: small structs that never change.

Electricity in kWh, water in litres, harvest in grams and portions, time in minutes, money in the room's own currency.
A number that is not known is None, and a sentence says why. Every part has its working, line by line.
"""

from datetime import date

from msgspec import Struct

from walkabout.growing.units import Scales
from walkabout.insight.supplies import Stock
from walkabout.insight.supply_used import Used


class LampUse(Struct, frozen=True, kw_only=True):
    """What one lamp took."""

    key: str
    where: str
    """The stations that it lights."""
    kwh: float
    money: float | None
    working: tuple[str, ...]


class Energy(Struct, frozen=True, kw_only=True):
    """What the lamps took."""

    lamps: tuple[LampUse, ...]
    kwh: float
    money: float | None
    left_out: tuple[str, ...]


class TankUse(Struct, frozen=True, kw_only=True):
    """Water that went into one tank, or into one station without a tank."""

    key: str
    name: str
    topped: float
    """Litres on top."""
    renewals: int
    renewed: float
    """Litres of new solution."""
    working: tuple[str, ...]

    @property
    def litres(self) -> float:
        """All of it."""
        return self.topped + self.renewed


class WaterUse(Struct, frozen=True, kw_only=True):
    """Water on record."""

    tanks: tuple[TankUse, ...]
    litres: float
    money: float | None
    left_out: tuple[str, ...]


class Dose(Struct, frozen=True, kw_only=True):
    """The concentrate that one change of solution took, mL of each part; None where it is not known."""

    day: date
    tank: str
    ml: float | None
    says: str


class SolutionUse(Struct, frozen=True, kw_only=True):
    """Concentrate that went into renewed solution, reckoned from its EC."""

    doses: tuple[Dose, ...]
    ml: float | None
    """mL of each part in all, of the changes of which it is known; None when it is known of none."""
    parts: int
    unknown: int
    """Changes of which it is not known."""
    left_out: tuple[str, ...]


class CropHarvest(Struct, frozen=True, kw_only=True):
    """What one crop gave."""

    crop: str
    name: str
    plants: int
    """Whole plants."""
    grams: float
    portions: float
    """As they were counted."""
    by_weight: float
    """Portions reckoned from what was weighed but not counted in portions."""
    portion_grams: float | None
    """What one portion weighs by the crop table; None where the table has none."""
    noted_grams: float
    """Read from words that somebody typed when a planting ended; in no sum."""
    not_eaten: float
    """Grams that nobody ate; in no sum."""
    working: tuple[str, ...]


class Harvest(Struct, frozen=True, kw_only=True):
    """What the room gave."""

    crops: tuple[CropHarvest, ...]
    plants: int
    grams: float
    portions: float
    by_weight: float
    left_out: tuple[str, ...]

    @property
    def all_portions(self) -> float:
        """Portions, those reckoned from weight included."""
        return self.portions + self.by_weight


class Cost(Struct, frozen=True, kw_only=True):
    """What it cost, as far as prices are known."""

    energy: float | None
    water: float | None
    supplies: float | None
    total: float | None
    """The sum of what is known; None when nothing is."""
    portion: float | None
    """Money for each portion; None without a portion or a price."""
    left_out: tuple[str, ...]
    working: tuple[str, ...]


class Lost(Struct, frozen=True):
    """Plants lost for one cause."""

    why: str
    plants: int


class Losses(Struct, frozen=True, kw_only=True):
    """What was lost."""

    whys: tuple[Lost, ...]
    plants: int
    causes: tuple[Lost, ...]
    """Findings opened within the span by the cause that an adult confirmed; `plants` counts the findings."""
    composted: int
    """Plants composted at their end, which is no loss."""


class Minutes(Struct, frozen=True, kw_only=True):
    """Time spent."""

    walking: float
    measuring: float
    jobs: float
    jobs_done: int
    jobs_without: int
    """Jobs done of which nobody wrote down how long they take."""
    rounds_without: int
    """Rounds of which the time is not known."""
    working: tuple[str, ...]

    @property
    def total(self) -> float:
        """All of it."""
        return self.walking + self.measuring + self.jobs


class Rounds(Struct, frozen=True, kw_only=True):
    """Days on which somebody walked, of those on which somebody should have."""

    expected: int
    walked: int
    """Of the expected days."""
    besides: int
    """Days on which nobody had to come and somebody walked all the same."""
    unfinished: int
    """Rounds that were begun and not ended."""
    working: tuple[str, ...]


class WalkerRounds(Struct, frozen=True):
    """Rounds of one code."""

    code: str
    rounds: int
    minutes: float


class Cleared(Struct, frozen=True, kw_only=True):
    """A finding that was closed, and after how long."""

    finding: str
    station: str
    seen: str
    days: float


class FindingsCount(Struct, frozen=True, kw_only=True):
    """What was found, and how long it took to clear."""

    opened: int
    closed: int
    still_open: int
    """Open at the end of the span."""
    quickest: Cleared | None
    slowest: Cleared | None


class Term(Struct, frozen=True, kw_only=True):
    """A span of days in numbers. `until` is the last day that is over or under way: what lies ahead is not counted."""

    name: str
    room: str
    first: date
    last: date
    until: date
    begun: date | None
    """The first day on record, where it lies within the span."""
    currency: str
    scales: Scales
    """In what it is read: everything in here is metric, and written in these."""
    energy: Energy
    water: WaterUse
    solution: SolutionUse
    supplies: tuple[Used, ...]
    harvest: Harvest
    cost: Cost
    losses: Losses
    minutes: Minutes
    rounds: Rounds
    findings: FindingsCount
    shelf: tuple[Stock, ...]
    """Every supply that is kept, as it stands today."""
    buy: tuple[Stock, ...]
    """Those to order now or soon, the most pressing first."""
    codes: tuple[WalkerRounds, ...]
    """Rounds by code: for the teacher alone."""
