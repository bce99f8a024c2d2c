"""What goes wrong in the demo's season: a small script, and chance.

Faults are named as the checklists name them; what a room's own checklist has taken out does not happen.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from random import Random

from walkabout.checklist.model import Checklist

SHARE = 0.35
"""Of what the checklists expect by chance: the script brings the rest. Assumed."""

LONGEST = 6
"""School days after which a fault of chance that nobody saw has passed by itself. Assumed."""


@dataclass
class Trouble:
    """One fault at one station. `says` gives the choice for a question where it matters which."""

    station: str
    fault: str
    says: Mapping[str, str] = field(default_factory=dict)
    stays: int = 0
    """How many more looks still show it after the first one."""
    sure: bool = True
    """Whoever looks sees it."""
    kept: bool = False
    """It is still there today."""
    age: int = 0
    """School days since it began."""
    looks: int = 0
    """Days on which it was seen."""
    seen_on: date | None = None
    shown_by: set[str] = field(default_factory=set)
    """The questions whose answers showed it."""


SCRIPT: dict[int, tuple[tuple[str, str, Mapping[str, str], int], ...]] = {
    3: (("herbs", "lamp-out", {"lamp": "off"}, 0),),
    6: (("herbs", "pump-stopped", {"flow": "none", "leaves": "limp"}, 0),),
    8: (("sill", "mildew", {"powder": "white-powder"}, 2),),
    10: (("room", "meter-wrong", {"meters": "out"}, 0),),
    12: (("room", "floor-water", {"doorway": "water"}, 0),),
    16: (("drum", "trough-low", {"level": "some-dip"}, 0),),
    18: (("shelf", "dry-plugs", {"moisture": "corners"}, 0),),
    22: (("shelf", "gnats", {"flies": "flies"}, 1),),
    24: (("sill", "aphids", {"insects": "aphids"}, 1),),
    28: (("shelf", "damping-off", {"fallen": "few"}, 0),),
    31: (("arch", "untied", {"stem": "untied"}, 0),),
}
"""School day, counted from the season's first as 0 -> (station, fault, answers, looks it stays)."""

LAST_DAY: tuple[tuple[str, str, Mapping[str, str]], ...] = (("herbs", "pump-clogged", {"flow": "weak"}),)
"""What the last walk found, and is still there today."""

NEVER_BY_CHANCE = frozenset(
    {"ph-off", "too-strong", "too-weak", "tank-low", "trough-low", "change-overdue", "power-off", "label-lost"}
)
"""What the state of the solutions decides, or what would upset a whole day."""


def scripted(day: int, last: int) -> list[Trouble]:
    """Return what the script begins on this school day; `last` is the number of the last one."""
    found = [Trouble(station, fault, says, stays) for station, fault, says, stays in SCRIPT.get(day, ())]
    if day == last:
        found += [Trouble(station, fault, says, kept=True) for station, fault, says in LAST_DAY]
    return found


def by_chance(checklists: Mapping[str, Checklist], there: list[Trouble], rng: Random) -> list[Trouble]:
    """Return what begins by chance on one school day; `checklists` are those of the stations, by key."""
    taken = {(one.station, one.fault) for one in there}
    found = []
    for station, checklist in checklists.items():
        for fault, about in checklist.fault.items():
            chance = about.per_week / 5 * SHARE
            begins = rng.random() < chance and not about.people and fault not in NEVER_BY_CHANCE
            if begins and (station, fault) not in taken:
                found.append(Trouble(station, fault, sure=False, stays=rng.choice((0, 0, 1))))
    return found
