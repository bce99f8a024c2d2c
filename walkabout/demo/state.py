"""The demo's physical state: solutions that are drunk and drift, pots that dry, nights that get cold.

Every figure is assumed: chosen so that eight weeks are as eventful as a school room's.
"""

from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random

LEVELS: dict[str, tuple[tuple[float, str], ...]] = {
    "raft": ((0.06, "finger"), (0.14, "hand"), (0.35, "hanging")),
    "film": ((0.25, "down"), (0.6, "near-pump"), (0.9, "bare")),
    "drum": ((0.45, "some-dip"), (0.75, "none-dip")),
    "vine": ((0.5, "half"), (0.75, "low"), (0.97, "empty")),
}
"""Kind of station -> from which missing share of its tank the level looks like what, the least first."""

NIGHT_AIR = 2.1
"""°C that a window ajar takes from the coldest hour of the night."""
MAT_PACE, MAT_MOST = 0.08, 3.6
"""°C a day by which a mat grows warmer whose probe hangs in the air, and where that ends."""


@dataclass
class Solution:
    """A tank of solution: litres, pH, EC in mS/cm, °C."""

    litres: float
    ph_wanted: float
    ec_wanted: float
    warm_wanted: float
    drift: float
    """How far the pH rises in a day."""
    use: float
    """Litres that plants and air take in a day."""
    renewed: date
    ph: float = 0.0
    ec: float = 0.0
    warm: float = 0.0
    missing: float = 0.0
    added: float = 0.0
    """Litres added since somebody last wrote it down."""

    def pass_days(self, days: int, rng: Random) -> None:
        """Let the plants drink for so many days."""
        self.ph += self.drift * days + rng.gauss(0, 0.03)
        self.ec += 0.004 * days + rng.gauss(0, 0.02)
        self.warm = self.warm_wanted + rng.gauss(0, 0.6)
        self.missing = min(self.missing + self.use * days * rng.uniform(0.8, 1.2), 0.7 * self.litres)

    def top_up(self) -> None:
        """Fill up to the mark."""
        self.added += self.missing
        self.ec += (self.ec_wanted - self.ec) * 0.3
        self.missing = 0.0

    def renew(self, day: date) -> None:
        """Mix the solution anew."""
        self.renewed = day
        self.ph, self.ec, self.missing = self.ph_wanted, self.ec_wanted, 0.0

    def share_missing(self) -> float:
        """Return the share of the tank that is missing."""
        return self.missing / self.litres


@dataclass
class State:
    """The whole room on one day."""

    day: date
    solutions: dict[str, Solution]
    """By station."""
    dry_days: float = 0.0
    """Days since the pots were watered."""
    lowest: float = 17.0
    highest: float = 24.0
    humidity: float = 55.0
    gnats: float = 2.0
    cold_on: frozenset[date] = frozenset()
    nobody_tops_up: frozenset[str] = frozenset()
    """Stations that somebody should have topped up, and did not."""
    mat_since: date | None = None
    """Since when the heat mat grows warmer, by itself."""
    window_ajar: bool = False
    """Cold air comes in at night."""
    breeding: bool = False
    """Gnats are about."""
    side_shoots: int = 0
    says: dict[tuple[str, str], str] = field(default_factory=dict)
    """(station, question) -> the choice that is true today, whatever else holds."""

    def dawn(self, day: date, rng: Random) -> None:
        """Go on to another school day."""
        days = (day - self.day).days
        for solution in self.solutions.values():
            solution.pass_days(days, rng)
        self.dry_days += days
        self.lowest = rng.gauss(17.2 - (NIGHT_AIR if self.window_ajar else 0), 0.6) if day not in self.cold_on else 11.4
        self.highest = rng.gauss(24.3, 0.8)
        self.humidity = min(max(rng.gauss(57, 6), 34), 84)
        self.gnats = (
            max(self.gnats, 3.0) * 1.17 if self.breeding else max(self.gnats * 0.7, rng.choice((2.0, 2.0, 3.0)))
        )
        self.side_shoots = rng.choice((0, 1, 1, 2, 3))
        self.says = {}
        self.day = day

    def mat(self) -> float:
        """Return how warm the heat mat keeps a plug, in °C."""
        days = (self.day - self.mat_since).days if self.mat_since is not None else 0
        return 21.6 + min(MAT_PACE * days, MAT_MOST)

    def dusk(self, rng: Random, *, before_days: int) -> None:
        """Water and top up what looks low; before a weekend everything."""
        for station, solution in self.solutions.items():
            low = solution.share_missing() > 0.09 or before_days > 1
            if station not in self.nobody_tops_up and low and rng.random() < 0.85:
                solution.top_up()
        if self.dry_days >= 2 or before_days > 1:
            self.dry_days = 0.0


def beginning(start: date) -> State:
    """Return the room as the season finds it on its first day."""
    solutions = {
        "raft": Solution(90, 5.75, 1.55, 20.0, 0.015, 1.3, start - timedelta(days=9)),
        "herbs": Solution(30, 5.75, 1.3, 20.5, 0.022, 1.7, start - timedelta(days=4)),
        "drum": Solution(36, 6.3, 1.5, 20.8, 0.02, 3.0, start - timedelta(days=2)),
        "arch": Solution(45, 6.2, 2.6, 20.5, 0.015, 2.6, start - timedelta(days=6)),
    }
    for solution in solutions.values():
        solution.ph, solution.ec, solution.warm = solution.ph_wanted, solution.ec_wanted, solution.warm_wanted
    return State(start, solutions)
