"""What went of a supply within a span: as counted between two counts, by its rate since the last one."""

from datetime import date, timedelta
from itertools import pairwise

from msgspec import Struct

from walkabout.insight.supply_out import used_up
from walkabout.insight.supply_rate import Uses, of, rate_of
from walkabout.reckon.write import number, plainly
from walkabout.records.model_supplies import Supply


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
            f"{plainly(after.amount)} = {of(supply, went)}, of that {share} of {days} days"
            f"{f' = {of(supply, went * share / days)}' if share < days else ''}"
        )
    rate, reckoned = rate_of(supply, uses), 0.0
    share = _overlap(supply.counted + timedelta(days=1), last, first, last)
    if share and rate.weekly is not None and supply.per != "lamp":
        known = True
        out = used_up(supply, rate.weekly, uses)
        until = _overlap(supply.counted + timedelta(days=1), min(last, out) if out else last, first, last)
        reckoned = rate.weekly * until / 7
        went_since = f"{of(supply, rate.weekly)} a week × {until} days ÷ 7 = {of(supply, reckoned)}"
        lines.append(f"since {supply.counted}: {went_since}, not counted yet")
    elif not known:
        says = f"{supply.name}: not known, it was counted too seldom for that."
        return Used(key=supply.key, name=supply.name, unit=supply.unit, amount=None, measured=0.0, money=None,
                    says=says, working=())  # fmt: skip
    total = measured + reckoned
    money = total * supply.price / supply.pack if supply.price is not None and supply.pack else None
    if money is not None:
        packed = f"{plainly(supply.price or 0)} ÷ {of(supply, supply.pack or 0)}"
        lines.append(f"money = {of(supply, total)} × {packed} = {number(money)}")
    says = "" if money is not None else f"{supply.name}: no price of a pack, so no money."
    if share and rate.weekly is None:
        says = f"{supply.name}: what went since {supply.counted} is not counted yet. {says}".strip()
    return Used(key=supply.key, name=supply.name, unit=supply.unit, amount=total, measured=measured, money=money,
                says=says, working=tuple(lines))  # fmt: skip


def _overlap(one: date, other: date, first: date, last: date) -> int:
    return max((min(other, last) - max(one, first)).days + 1, 0)
