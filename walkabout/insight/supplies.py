"""What stands on the shelf: what is left, until when it lasts, by when to order and how much.

Amounts are in the supply's own unit, rates in that unit a week.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from math import ceil
from typing import Literal

from msgspec import Struct

from walkabout.insight.supply_out import counting, open_day, out_words, used_up
from walkabout.insight.supply_rate import Rate, Uses, of, rate_of
from walkabout.reckon.write import plainly
from walkabout.records.model_supplies import Supply

SOON_DAYS = 14
"""What has to be ordered within so many days is spoken of now. Assumed."""
BUY_WEEKS = 12
"""A purchase is to last so many weeks: about a term. Assumed."""

State = Literal["order now", "order soon", "enough", "not known"]


class Stock(Struct, frozen=True, kw_only=True):
    """A supply as it stands today."""

    supply: Supply
    on: date
    """Today."""
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
    """To buy, so that with what is there it lasts a term; 0 where what is there does."""
    cost: float | None
    says: str
    working: tuple[str, ...]


def stock(supply: Supply, uses: Uses) -> Stock:
    """Return how a supply stands: what is left, until when, and by when to order."""
    rate = rate_of(supply, uses)
    room, today, weekly = uses.room, uses.today, rate.weekly
    gone = 0.0 if weekly is None or supply.per == "lamp" else weekly * (today - supply.counted).days / 7
    now = min(max(supply.amount - gone, 0.0), supply.amount)
    out = used_up(supply, weekly, uses)
    lines = [*rate.working, _counted(supply)]
    if gone > 0:
        lines.append(f"now = {of(supply, supply.amount)} − what has gone since = {of(supply, now)}")
    weeks = max((out - today).days, 0) / 7 if out is not None else None
    empty_by = order_by = None
    if out is not None:
        empty_by = open_day(room, out)
        lines.append(out_words(supply, out, empty_by, room))
        if supply.lead_days is not None:
            latest = empty_by - timedelta(days=supply.lead_days)
            order_by = open_day(room, latest)
            to_come = f"{supply.lead_days} day{'' if supply.lead_days == 1 else 's'} to come"
            lines.append(f"order by = {empty_by} − {to_come} = {counting(latest, order_by, room)}")
    state, says = _state(supply, rate, out, empty_by, order_by, today)
    packs, words = _packs(supply, weekly, now, at_least=0 if state == "enough" else 1)
    cost = packs * supply.price if packs is not None and supply.price is not None else None
    lines += words
    return Stock(
        supply=supply, on=today, weekly=weekly, now=now, weeks=weeks, out=out, empty_by=empty_by, order_by=order_by,
        state=state, packs=packs, cost=cost, says=says, working=tuple(lines),
    )  # fmt: skip


def to_buy(stocks: Sequence[Stock]) -> tuple[Stock, ...]:
    """Return what is to be ordered now or soon, the most pressing first."""
    wanted = [one for one in stocks if one.state in ("order now", "order soon")]
    return tuple(sorted(wanted, key=lambda one: (one.order_by or one.empty_by or date.max, one.supply.name)))


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


def _packs(supply: Supply, weekly: float | None, now: float, at_least: int) -> tuple[int | None, list[str]]:
    """Return the packs that are missing for a term besides what is there, with the working; None where not known."""
    if not supply.pack or not weekly:
        return None, []
    whole = weekly * BUY_WEEKS
    missing = max(whole - now, 0.0)
    packs = max(ceil(missing / supply.pack - 1e-9), at_least)
    term = f"for {BUY_WEEKS} weeks: {BUY_WEEKS} × {of(supply, weekly)} = {of(supply, whole)}"
    if not missing:
        more = "; an order takes so long that 1 pack is ordered all the same" if packs else ": no pack"
        return packs, [f"{term}; {of(supply, now)} on the shelf is enough{more}"]
    packed = f"{packs} pack{'' if packs == 1 else 's'}, rounded up"
    short = f"{term} − {of(supply, now)} on the shelf = {of(supply, missing)}"
    return packs, [f"{short}; ÷ {of(supply, supply.pack)} a pack = {plainly(missing / supply.pack)}: {packed}"]


def _counted(supply: Supply) -> str:
    return f"counted on {supply.counted}: {of(supply, supply.amount)}"
