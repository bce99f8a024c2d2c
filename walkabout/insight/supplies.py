"""What stands on the shelf: how fast it goes, when it is used up, by when to order, what was used within a span.

Amounts are in the supply's own unit, rates in that unit a week. Nothing is guessed: what nobody counted or said is
None, and a sentence says what is missing.
"""

import heapq
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from itertools import pairwise
from math import ceil
from typing import Literal

from msgspec import Struct

from walkabout.growing.lamp_life import days_of, rated
from walkabout.growing.limits import OutOfRange
from walkabout.reckon.write import plainly
from walkabout.records.model import Per, Planting, Supply
from walkabout.records.sums import started
from walkabout.room.calendar import closure_on, day_before, is_walked
from walkabout.room.model import Room

LATELY_WEEKS = 12
"""What was sown and checked within so many weeks says how much of it goes in one. Assumed."""
LONG_DAYS = 28
"""Counts so far apart say more than what somebody said. Assumed."""
SHORT_DAYS = 7
"""Counts nearer to each other than this say nothing. Assumed."""
SOON_DAYS = 14
"""What has to be ordered within so many days is spoken of now. Assumed."""
BUY_WEEKS = 12
"""A purchase is to last so many weeks: about a term. Assumed."""
FAR_DAYS = 3650
"""What lasts for ten years does not run out. Assumed."""

State = Literal["order now", "order soon", "enough", "not known"]
PER_WORDS: dict[Per, str] = {
    "week": "a week",
    "change": "each change of solution",
    "litre": "each litre of solution renewed",
    "check": "each check of a meter",
    "sown": "each plant sown",
    "lamp": "each lamp at the end of its hours",
}


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


class Stock(Struct, frozen=True, kw_only=True):
    """A supply as it stands today."""

    supply: Supply
    weekly: float | None
    now: float
    """On the shelf today: what was counted, less what has gone since by the rate."""
    weeks: float | None
    """How long that lasts; None where the rate is not known or it does not run out."""
    out: date | None
    """The day on which it is used up."""
    empty_by: date | None
    """The last open day before it is used up: within a closure nobody could order or fetch any."""
    order_by: date | None
    state: State
    packs: int | None
    """To buy, for a term."""
    cost: float | None
    says: str
    working: tuple[str, ...]


class Used(Struct, frozen=True, kw_only=True):
    """What went within a span; `measured` is the part between two counts, the rest is reckoned from the rate."""

    key: str
    name: str
    unit: str
    amount: float | None
    measured: float
    money: float | None
    says: str
    working: tuple[str, ...]


def stock(supply: Supply, uses: Uses) -> Stock:
    """Return how a supply stands: what is left, until when, and by when to order."""
    rate = rate_of(supply, uses)
    room, today, weekly = uses.room, uses.today, rate.weekly
    gone = 0.0 if weekly is None or supply.per == "lamp" else weekly * (today - supply.counted).days / 7
    now = min(max(supply.amount - gone, 0.0), supply.amount)
    out = _out(supply, weekly, uses)
    lines = [*rate.working, _counted(supply)]
    if gone > 0:
        lines.append(f"now = {_of(supply, supply.amount)} − what has gone since = {_of(supply, now)}")
    weeks = max((out - today).days, 0) / 7 if out is not None else None
    empty_by = order_by = None
    if out is not None:
        empty_by = _open(room, out)
        lines.append(_out_words(supply, out, empty_by, room))
        if supply.lead_days is not None:
            order_by = _open(room, empty_by - timedelta(days=supply.lead_days))
            lines.append(f"order by = {empty_by} − {supply.lead_days} days to come = {order_by}")
    packs, cost = _packs(supply, weekly)
    if packs is not None and weekly is not None:
        lines.append(f"for {BUY_WEEKS} weeks: {BUY_WEEKS} × {_of(supply, weekly)} ÷ a pack = {packs}, rounded up")
    state, says = _state(supply, rate, out, empty_by, order_by, today)
    return Stock(
        supply=supply, weekly=weekly, now=now, weeks=weeks, out=out, empty_by=empty_by, order_by=order_by,
        state=state, packs=packs, cost=cost, says=says, working=tuple(lines),
    )  # fmt: skip


def to_buy(stocks: Sequence[Stock]) -> tuple[Stock, ...]:
    """Return what is to be ordered now or soon, the most pressing first."""
    wanted = [one for one in stocks if one.state in ("order now", "order soon")]
    return tuple(sorted(wanted, key=lambda one: (one.order_by or one.empty_by or date.max, one.supply.name)))


def rate_of(supply: Supply, uses: Uses) -> Rate:
    """Return how much goes in a week: by counts at least four weeks apart, else as said, else by nearer counts."""
    counted, apart = _by_counts(supply)
    said = _as_said(supply, uses)
    if counted.weekly is not None and (apart >= LONG_DAYS or said.weekly is None) and supply.per != "lamp":
        return Rate(counted.weekly, counted.working + (said.working if said.weekly is not None else ()))
    return said if said.weekly is not None else Rate(None, said.working or counted.working)


def used_within(supply: Supply, first: date, last: date, uses: Uses) -> Used:
    """Return what went from `first` to `last`, both included, up to today.

    Between two counts it is what the counts say, the same on each day; after the last one it is the rate, until the
    shelf is empty. Before the first count nothing is known. Two spans that meet add up to the whole.
    """
    last = min(last, uses.today, supply.ended or uses.today)
    measured, lines, known = 0.0, [], False
    for before, after in pairwise(supply.counts):
        days = (after.day - before.day).days
        share = _overlap(before.day + timedelta(days=1), after.day, first, last)
        if not share or not days:
            continue
        went = max(before.amount + after.bought - after.amount, 0.0)
        measured, known = measured + went * share / days, True
        lines.append(
            f"{before.day} to {after.day}: {plainly(before.amount)} + {plainly(after.bought)} bought − "
            f"{plainly(after.amount)} = {_of(supply, went)}, of that {share} of {days} days"
        )
    rate, reckoned = rate_of(supply, uses), 0.0
    share = _overlap(supply.counted + timedelta(days=1), last, first, last)
    if share and rate.weekly is not None and supply.per != "lamp":
        known = True
        out = _out(supply, rate.weekly, uses)
        until = _overlap(supply.counted + timedelta(days=1), min(last, out) if out else last, first, last)
        reckoned = rate.weekly * until / 7
        lines.append(f"since {supply.counted}: {_of(supply, rate.weekly)} a week × {until} days ÷ 7, not counted yet")
    elif not known:
        says = f"{supply.name}: not known, it was counted too seldom for that."
        return Used(key=supply.key, name=supply.name, unit=supply.unit, amount=None, measured=0.0, money=None,
                    says=says, working=())  # fmt: skip
    total = measured + reckoned
    money = total * supply.price / supply.pack if supply.price is not None and supply.pack else None
    if money is not None:
        lines.append(f"money = {_of(supply, total)} × {plainly(supply.price or 0)} ÷ {_of(supply, supply.pack or 0)}")
    says = "" if money is not None else f"{supply.name}: no price of a pack, so no money."
    if share and rate.weekly is None:
        says = f"{supply.name}: what went since {supply.counted} is not counted yet. {says}".strip()
    return Used(key=supply.key, name=supply.name, unit=supply.unit, amount=total, measured=measured, money=money,
                says=says, working=tuple(lines))  # fmt: skip


# how fast it goes


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
        f"= {_of(supply, weekly)} a week"
    )
    return Rate(weekly, (says,)), days


def _as_said(supply: Supply, uses: Uses) -> Rate:
    """Return the rate from what somebody said that it goes with."""
    each = 1.0 if supply.used is None and supply.per == "lamp" else supply.used
    if each is None:
        return Rate(None, ())
    if supply.per == "week":
        return Rate(each, (f"as said: {_of(supply, each)} a week",))
    times, says = _a_week(supply, uses)
    if times is None:
        return Rate(None, (says,))
    weekly = each * times
    line = f"as said: {_of(supply, each)} {PER_WORDS[supply.per]} × {says} = {_of(supply, weekly)} a week"
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
        return times, f"{plainly(times)} L renewed a week, by the tanks in room.toml"
    if supply.per == "lamp":
        lives = [7 / days for _, days in _lamps(supply, room)]
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


def _lamps(supply: Supply, room: Room) -> Iterator[tuple[date, int]]:
    """Yield (in place since, days that it lasts) of each lamp that a supply is for."""
    for key, lamp in room.lamps.items():
        try:
            life = rated(lamp.kind, lamp.rated_hours)
            days = days_of(life.hours, lamp.hours) if life is not None else None
        except OutOfRange:
            continue
        if supply.of in ("", key) and lamp.since is not None and days:
            yield lamp.since, days


# when it is used up


def _out(supply: Supply, weekly: float | None, uses: Uses) -> date | None:
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
    ends = [(max(since + timedelta(days=days), uses.today), days) for since, days in _lamps(supply, uses.room)]
    heapq.heapify(ends)
    day = supply.counted
    for _ in range(min(int(supply.amount / (supply.used or 1)), 1000)):
        day, days = ends[0]
        if (day - uses.today).days > FAR_DAYS:
            return None
        heapq.heapreplace(ends, (day + timedelta(days=days), days))
    return day


def _open(room: Room, day: date) -> date:
    """Return the day, or the last open one before it."""
    return day if is_walked(room, day) else day_before(room, day)


def _state(
    supply: Supply, rate: Rate, out: date | None, empty_by: date | None, order_by: date | None, today: date
) -> tuple[State, str]:
    name = supply.name
    if rate.weekly is None:
        why = rate.working[0] if rate.working else "Count it once more in a week or two."
        return "not known", f"{name}: how fast it goes is not known. {why}"
    if out is None or empty_by is None:
        return "enough", f"{name}: it does not run out at this rate."
    if out <= today:
        return "order now", f"{name}: by reckoning it is used up. Count it, and order more."
    if order_by is None:
        near = (empty_by - today).days <= SOON_DAYS
        says = f"{name}: used up about {empty_by}. How long an order takes is not known."
        return ("order soon" if near else "enough"), says
    if order_by <= today:
        return "order now", f"{name}: order now, it is used up about {empty_by}."
    state: State = "order soon" if (order_by - today).days <= SOON_DAYS else "enough"
    return state, f"{name}: order by {order_by}, it is used up about {empty_by}."


def _packs(supply: Supply, weekly: float | None) -> tuple[int | None, float | None]:
    if not supply.pack or not weekly:
        return None, None
    packs = max(ceil(weekly * BUY_WEEKS / supply.pack - 1e-9), 1)
    return packs, packs * supply.price if supply.price is not None else None


# words


def _of(supply: Supply, value: float) -> str:
    return f"{plainly(value)} {supply.unit}"


def _counted(supply: Supply) -> str:
    return f"counted on {supply.counted}: {_of(supply, supply.amount)}"


def _out_words(supply: Supply, out: date, empty_by: date, room: Room) -> str:
    how = "the day the last one is put in" if supply.per == "lamp" else f"{_of(supply, supply.amount)} ÷ the rate"
    if empty_by == out:
        return f"used up = {how} = {out}"
    closure = closure_on(room, out)
    why = f"in {closure.name or 'a closure'}" if closure else "on a day on which nobody comes"
    return f"used up = {how} = {out}, {why}: {empty_by} counts"


def _overlap(one: date, other: date, first: date, last: date) -> int:
    return max((min(other, last) - max(one, first)).days + 1, 0)
