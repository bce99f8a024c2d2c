"""How fast a supply goes: by counts, or by what somebody said that it goes with.

Rates are in the supply's own unit a week. Nothing is guessed: what nobody counted or said is None, and a line of the
working says what is missing.
"""

from collections.abc import Iterator
from datetime import date, timedelta

from msgspec import Struct

from walkabout.growing.lamp_life import days_of, rated
from walkabout.growing.limits import OutOfRange
from walkabout.growing.units import LITRES_PER_GALLON
from walkabout.insight.term_units import scales_of, unit_of, volume
from walkabout.reckon.write import plainly
from walkabout.records.model import Planting
from walkabout.records.model_supplies import Per, Supply
from walkabout.records.sums import started
from walkabout.room.model import Room

LATELY_WEEKS = 12
"""What was sown and checked within so many weeks says how much of it goes in one. Assumed."""
LONG_DAYS = 28
"""Counts so far apart say more than what somebody said. Assumed."""
SHORT_DAYS = 7
"""Counts nearer to each other than this say nothing. Assumed."""

PER_WORDS: dict[Per, str] = {
    "week": "a week",
    "change": "each change of solution",
    "litre": "each litre of solution renewed",
    "check": "each check of a meter",
    "sown": "each plant sown",
    "lamp": "each lamp at the end of its hours",
}


def per_words(per: Per, room: Room) -> str:
    """Say what a supply goes with: in a US room solution is counted in gallons, though it is kept for each litre."""
    return "each US gallon of solution renewed" if per == "litre" and room.units == "US" else PER_WORDS[per]


class Uses(Struct, frozen=True, kw_only=True):
    """What the room does with supplies: `checks` are the days on which a meter was checked, once for each check."""

    room: Room
    today: date
    plantings: tuple[Planting, ...] = ()
    checks: tuple[date, ...] = ()


class Rate(Struct, frozen=True):
    """How much goes in a week, and how that is known."""

    weekly: float | None
    working: tuple[str, ...]


def rate_of(supply: Supply, uses: Uses) -> Rate:
    """Return how much goes in a week: by counts at least four weeks apart, else as said, else by nearer counts."""
    counted, apart = _by_counts(supply)
    said = _as_said(supply, uses)
    if counted.weekly is not None and (apart >= LONG_DAYS or said.weekly is None) and supply.per != "lamp":
        return Rate(counted.weekly, counted.working + (said.working if said.weekly is not None else ()))
    return said if said.weekly is not None else Rate(None, said.working or counted.working)


def _by_counts(supply: Supply) -> tuple[Rate, int]:
    """Return the rate between the first and the last count, and how many days lie between them."""
    if len(supply.counts) < 2:
        return Rate(None, ()), 0
    first, last = supply.counts[0], supply.counts[-1]
    days = (last.day - first.day).days
    bought = sum(one.bought for one in supply.counts[1:])
    went = first.amount + bought - last.amount
    if days < SHORT_DAYS:
        return Rate(None, ("The counts lie too near to each other to say how fast it goes.",)), days
    if went < 0:
        return Rate(None, ("More was counted than before, and no purchase is on record.",)), days
    weekly = went * 7 / days
    says = (
        f"by counts: ({plainly(first.amount)} + {plainly(bought)} bought − {plainly(last.amount)}) × 7 ÷ {days} days "
        f"= {of(supply, weekly)} a week"
    )
    return Rate(weekly, (says,)), days


def _as_said(supply: Supply, uses: Uses) -> Rate:
    """Return the rate from what somebody said that it goes with."""
    each = 1.0 if supply.used is None and supply.per == "lamp" else supply.used
    if each is None:
        return Rate(None, ())
    if supply.per == "week":
        return Rate(each, (f"as said: {of(supply, each)} a week",))
    times, says = _a_week(supply, uses)
    if times is None:
        return Rate(None, (says,))
    weekly = each * times
    gallons = supply.per == "litre" and uses.room.units == "US"
    said = of(supply, each * LITRES_PER_GALLON if gallons else each)
    line = f"as said: {said} {per_words(supply.per, uses.room)} × {says} = {of(supply, weekly)} a week"
    return Rate(weekly, (line,))


def _a_week(supply: Supply, uses: Uses) -> tuple[float | None, str]:
    """Return how often in a week what a supply goes with comes, and in which words."""
    room = uses.room
    if supply.per in ("change", "litre"):
        tanks = {key: one for key, one in room.tanks.items() if supply.of in ("", key)}
        if not tanks:
            return None, f"There is no tank '{supply.of}' in room.toml." if supply.of else "The room has no tank."
        if supply.per == "change":
            times = sum(7 / one.change_days for one in tanks.values() if one.change_days > 0)
            return times, f"{plainly(times)} changes a week, by the days in room.toml"
        times = sum(one.litres * 7 / one.change_days for one in tanks.values() if one.change_days > 0)
        renewed = volume(times, scales_of(room)) if room.units == "US" else f"{plainly(times)} L"
        return times, f"{renewed} renewed a week, by the tanks in room.toml"
    if supply.per == "lamp":
        lives = [7 / days for _, days in lamps_of(supply, room)]
        return (sum(lives), f"{plainly(sum(lives))} a week, by hours and timers") if lives else (None, _NO_LAMP)
    since = uses.today - timedelta(weeks=LATELY_WEEKS)
    if supply.per == "check":
        count = sum(1 for day in uses.checks if since < day <= uses.today)
        what = "checks"
    else:
        fits = [one for one in uses.plantings if supply.of in ("", one.crop) and not one.brought_in]
        count = sum(started(one) for one in fits if since < one.sown <= uses.today)
        what = "sown"
    if not count:
        return None, f"No {'check of a meter' if what == 'checks' else 'sowing'} in the last {LATELY_WEEKS} weeks."
    return count / LATELY_WEEKS, f"{count} {what} in {LATELY_WEEKS} weeks"


_NO_LAMP = "Since when the lamps hang is not in room.toml, so nobody knows when they are due."


def lamps_of(supply: Supply, room: Room) -> Iterator[tuple[date, int]]:
    """Yield (in place since, days that it lasts) of each lamp that a supply is for."""
    for key, lamp in room.lamps.items():
        try:
            life = rated(lamp.kind, lamp.rated_hours)
            days = days_of(life.hours, lamp.hours) if life is not None else None
        except OutOfRange:
            continue
        if supply.of in ("", key) and lamp.since is not None and days:
            yield lamp.since, days


def of(supply: Supply, value: float) -> str:
    """Write an amount of a supply with its unit."""
    return f"{plainly(value)} {unit_of(plainly(value), supply.unit)}"
