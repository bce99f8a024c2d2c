"""When seedlings show, by the temperature they are sown at: the table beside this file, and what lies between.

Temperatures in °C, times in days. Between two tested temperatures the rate (1 ÷ days) is read on a straight
line, since it is speed, not time, that rises evenly with warmth. Where nothing came up, nothing is promised.
"""

import tomllib
from difflib import get_close_matches
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Literal

import msgspec
from msgspec import Struct

from walkabout.growing.limits import OutOfRange

How = Literal["printed", "between", "none", "unsure"]
"""In the table; read between two neighbours; nothing came up; between 'none' and a number."""


class Row(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What was seen of one crop; see the head of the table."""

    name: str
    others: tuple[str, ...] = ()
    crops: tuple[str, ...] = ()
    days: tuple[tuple[float, float], ...]
    none: tuple[float, ...] = ()
    normal: tuple[tuple[float, float], ...] = ()
    disputed: tuple[float, ...] = ()
    note: str = ""


class Table(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """All rows, with the sources of the days and of the shares."""

    days_source: str
    normal_source: str
    row: tuple[Row, ...]

    def find(self, text: str) -> Row | None:
        """Return the row of this name, other name or crop key; capitals and hyphens do not count."""
        wanted = _plainly(text)
        for one in self.row:
            if wanted in {_plainly(name) for name in (one.name, *one.others, *one.crops)}:
                return one
        return None

    def nearest(self, text: str) -> Row | None:
        """Return the row whose name looks most like the text, or None when none does."""
        names = {_plainly(name): one for one in self.row for name in (one.name, *one.others)}
        close = get_close_matches(_plainly(text), names, n=1, cutoff=0.6)
        return names[close[0]] if close else None


class Emergence(Struct, frozen=True, kw_only=True):
    """When seedlings show at one temperature."""

    how: How
    days: float | None = None
    """None where nothing came up, and where that is not known."""
    slower_than: float | None = None
    """Where it is not known: the days of the neighbour at which seedlings did come."""
    colder: tuple[float, float] | None = None
    warmer: tuple[float, float] | None = None
    """The two neighbours it was read between: °C and rate, 1 ÷ days (0 for none)."""


@cache
def load() -> Table:
    """Read the shipped table."""
    text = Path(__file__).with_name("emergence.toml").read_text(encoding="utf-8")
    return msgspec.convert(tomllib.loads(text), Table)


def emergence(row: Row, temperature: float, *, disputed_comes: bool = True) -> Emergence:
    """Return when seedlings of a row show at `temperature` °C, after Harrington and Minges 1954.

    A tested temperature gives what was printed; between two, 1 ÷ days = r1 + (r2 - r1) × (T - T1) ÷ (T2 - T1).
    Beside a temperature at which nothing came up it is 'unsure'. Where printings disagree, the days are
    followed unless `disputed_comes` is False. Raises OutOfRange outside the tested temperatures.
    """
    rates = _rates(row, disputed_comes=disputed_comes)
    if not min(rates) <= temperature <= max(rates):
        tested = f"{row.name} was tested from {min(rates):g} to {max(rates):g} °C"
        raise OutOfRange(f"{tested}: for {temperature:g} °C nothing is known")
    if temperature in rates:
        rate = rates[temperature]
        return Emergence(how="printed", days=1 / rate) if rate else Emergence(how="none")
    cold, warm = next((one, two) for one, two in pairwise(sorted(rates)) if one < temperature < two)
    first, second = rates[cold], rates[warm]
    if not (first or second):
        return Emergence(how="none")
    if not (first and second):
        return Emergence(how="unsure", slower_than=1 / max(first, second), colder=(cold, first), warmer=(warm, second))
    rate = first + (second - first) * (temperature - cold) / (warm - cold)
    return Emergence(how="between", days=1 / rate, colder=(cold, first), warmer=(warm, second))


def normal(row: Row, temperature: float) -> tuple[float, float] | None:
    """Return how many seeds in 100 give a sound seedling, from and to, or None where that was not counted.

    Between two counts the share lies somewhere from one to the other: it can fall off a cliff (lettuce,
    25 to 30 °C), so it is not read on a straight line.
    """
    counts = dict(row.normal)
    if temperature in counts:
        return counts[temperature], counts[temperature]
    for cold, warm in pairwise(sorted(counts)):
        if cold < temperature < warm:
            return min(counts[cold], counts[warm]), max(counts[cold], counts[warm])
    return None


def fastest(row: Row) -> tuple[float, float]:
    """Return the coolest temperature at which seedlings showed soonest, °C, and the days."""
    days, temperature = min((days, temperature) for temperature, days in row.days)
    return temperature, days


def _rates(row: Row, *, disputed_comes: bool) -> dict[float, float]:
    rates = {temperature: 1 / days for temperature, days in row.days}
    rates |= dict.fromkeys(row.none, 0.0)
    if not disputed_comes:
        rates |= dict.fromkeys(row.disputed, 0.0)
    return rates


def _plainly(name: str) -> str:
    return " ".join(name.casefold().replace("-", " ").replace("_", " ").split())
