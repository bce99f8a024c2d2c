"""The life of a supply: put on the list, counted, changed, taken off. Nothing is deleted.

Every function returns the supply anew and saves nothing. What cannot be is a ValueError with one sentence.
"""

import math
from datetime import datetime

import msgspec

from walkabout.insight.supply_rate import PER_WORDS
from walkabout.insight.supply_rate import of as amount_of
from walkabout.reckon.write import plainly
from walkabout.records.keys import new_key
from walkabout.records.model import Happening
from walkabout.records.model_supplies import Counted, Per, Supply

MOST = 1_000_000.0
"""More than this of anything is a slip of the hand. Assumed."""
MOST_DAYS = 365
"""An order that takes longer is a slip of the hand. Assumed."""
LONGEST, LONGEST_UNIT = 40, 12
"""The longest name and unit, in characters."""
UNITS = ("mL", "L", "g", "kg", "pieces", "seeds")
US_UNITS = ("US fl oz", "US gal", "oz", "lb", "mL", "pieces", "seeds")
"""Offered first, in a metric room and in one with US units; any other is typed."""


def add(
    *,
    name: str,
    unit: str,
    amount: float,
    by: str,
    now: datetime,
    used: float | None = None,
    per: Per = "week",
    of: str = "",
    pack: float | None = None,
    price: float | None = None,
    lead_days: int | None = None,
) -> Supply:
    """Return a supply that is kept from now on, counted today."""
    day = now.date()
    made = Supply(
        key=new_key("su-", now), name=name.strip(), unit=unit.strip(), amount=amount, counted=day, used=used, per=per,
        of=of, pack=pack, price=price, lead_days=lead_days, counts=(Counted(day=day, amount=amount, by=by),), by=by,
    )  # fmt: skip
    _must_be(made)
    says = f"kept from now on: {amount_of(made, amount)}"
    return msgspec.structs.replace(made, history=(Happening(at=now, by=by, says=says),))


def count(one: Supply, amount: float, bought: float, by: str, now: datetime) -> Supply:
    """Return the supply as counted today, with what was bought since the count before.

    A second count of one day takes the place of the first; what was bought adds up.
    """
    _must_be_kept(one)
    must_be_amount(amount, "what is left")
    must_be_amount(bought, "what was bought")
    day = now.date()
    if day < one.counted:
        raise ValueError(f"It was counted on {one.counted} already, and that is later.")
    before = [each for each in one.counts if each.day == day]
    kept = tuple(each for each in one.counts if each.day != day)
    # the first count of all has nothing before it: what was bought on that day is in it
    more = bought + sum(each.bought for each in before) if kept else 0.0
    counts = (*kept, Counted(day=day, amount=amount, bought=more, by=by))
    new = f", {plainly(bought)} bought" if bought else ""
    said = Happening(at=now, by=by, says=f"counted: {amount_of(one, amount)}{new}")
    return msgspec.structs.replace(one, amount=amount, counted=day, counts=counts, history=(*one.history, said))


def change(
    one: Supply,
    by: str,
    now: datetime,
    *,
    name: str,
    used: float | None,
    per: Per,
    of: str,
    pack: float | None,
    price: float | None,
    lead_days: int | None,
) -> Supply:
    """Return the supply with what is known about it changed; what stands on the shelf is counted, not changed."""
    _must_be_kept(one)
    later = msgspec.structs.replace(
        one, name=name.strip(), used=used, per=per, of=of, pack=pack, price=price, lead_days=lead_days
    )
    if later == one:
        raise ValueError("Nothing about it would change.")
    _must_be(later)
    said = Happening(at=now, by=by, says=f"changed from {_in_full(one)} to {_in_full(later)}")
    return msgspec.structs.replace(later, history=(*one.history, said))


def end(one: Supply, by: str, now: datetime) -> Supply:
    """Return the supply as no longer kept."""
    _must_be_kept(one)
    said = Happening(at=now, by=by, says="no longer kept")
    return msgspec.structs.replace(one, ended=now.date(), history=(*one.history, said))


def must_be_amount(value: float, what: str) -> None:
    """Raise ValueError, with one sentence, for what is no amount of anything."""
    if not (math.isfinite(value) and 0 <= value <= MOST):
        raise ValueError(f"For {what}: from 0 to {MOST:,.0f}.")


def _must_be(one: Supply) -> None:
    if not one.name:
        raise ValueError("Give it a name.")
    if len(one.name) > LONGEST or len(one.unit) > LONGEST_UNIT:
        raise ValueError(f"The name has at most {LONGEST} characters, the unit {LONGEST_UNIT}.")
    if not one.unit:
        raise ValueError("Say in which unit it is counted.")
    must_be_amount(one.amount, "what is left")
    for value, what in ((one.used, "what is used"), (one.price, "the price")):
        if value is not None:
            must_be_amount(value, what)
    if one.pack is not None and not (math.isfinite(one.pack) and 0 < one.pack <= MOST):
        raise ValueError("A pack holds more than 0.")
    if one.per not in PER_WORDS:
        raise ValueError(f"It goes with {', '.join(PER_WORDS.values())}.")
    if one.lead_days is not None and not 0 <= one.lead_days <= MOST_DAYS:
        raise ValueError(f"An order takes from 0 to {MOST_DAYS} days.")


def _must_be_kept(one: Supply) -> None:
    if one.ended is not None:
        raise ValueError("It is no longer kept.")


def _in_full(one: Supply) -> str:
    used = f"{amount_of(one, one.used)} {PER_WORDS[one.per]}" if one.used is not None else "use not known"
    of = f" ({one.of})" if one.of else ""
    pack = f", packs of {plainly(one.pack)}" if one.pack is not None else ""
    price = f" at {plainly(one.price)}" if one.price is not None else ""
    lead = f", {one.lead_days} day{'' if one.lead_days == 1 else 's'} to come" if one.lead_days is not None else ""
    return f"{one.name}: {used}{of}{pack}{price}{lead}"
