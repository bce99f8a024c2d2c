"""When a supply is used up, and the last open day before that."""

import heapq
from datetime import date, timedelta

from walkabout.insight.supply_rate import Uses, lamps_of, of
from walkabout.records.model_supplies import Supply
from walkabout.room.calendar import closure_on, day_before, is_walked
from walkabout.room.model import Room

FAR_DAYS = 3650
"""What lasts for ten years does not run out. Assumed."""


def used_up(supply: Supply, weekly: float | None, uses: Uses) -> date | None:
    """Return the day on which it is used up; None where that is not known or lies ten years ahead."""
    if weekly is None:
        return None
    if supply.per == "lamp":
        return _last_lamp(supply, uses)
    if supply.amount <= 0:
        return supply.counted
    if weekly <= 0 or supply.amount / weekly * 7 > FAR_DAYS:
        return None
    return supply.counted + timedelta(days=int(supply.amount / weekly * 7))


def _last_lamp(supply: Supply, uses: Uses) -> date | None:
    """Return the day on which the last spare is put in: each lamp takes one at the end of its hours."""
    ends = [(max(since + timedelta(days=days), uses.today), days) for since, days in lamps_of(supply, uses.room)]
    heapq.heapify(ends)
    day = supply.counted
    for _ in range(min(int(supply.amount / (supply.used or 1)), 1000)):
        day, days = ends[0]
        if (day - uses.today).days > FAR_DAYS:
            return None
        heapq.heapreplace(ends, (day + timedelta(days=days), days))
    return day


def open_day(room: Room, day: date) -> date:
    """Return the day, or the last open one before it."""
    return day if is_walked(room, day) else day_before(room, day)


def out_words(supply: Supply, out: date, empty_by: date, room: Room) -> str:
    """Say when a supply is used up, and which open day counts where nobody comes then."""
    how = "the day the last one is put in" if supply.per == "lamp" else f"{of(supply, supply.amount)} ÷ the rate"
    return f"used up = {how} = {counting(out, empty_by, room)}"


def counting(day: date, counts: date, room: Room) -> str:
    """Write a day, and which open day counts in its place where nobody comes then."""
    if counts == day:
        return f"{day}"
    closure = closure_on(room, day)
    why = f"in {closure.name or 'a closure'}" if closure else "on a day on which nobody comes"
    return f"{day}, {why}: {counts} counts"
