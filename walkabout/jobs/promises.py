"""The life of a promise: made, changed, kept or called off. Nothing is deleted.

Every function returns the promise anew and saves nothing. What cannot be is a ValueError with one sentence.
"""

import math
from collections.abc import Iterable
from datetime import date, datetime, timedelta
from typing import get_args

import msgspec

from walkabout.growing.counting import amount_of
from walkabout.growing.crops import Crop, load
from walkabout.records.keys import new_key
from walkabout.records.model import Amount, Happening, Promise
from walkabout.records.sums import CALLED_OFF, KEPT

MOST: dict[Amount, float] = {"portions": 2_000, "heads": 2_000, "g": 100_000}
"""More than this in one promise is a slip of the hand. Assumed."""
AHEAD_DAYS = 2 * 365
"""A day further ahead than this is a slip of the hand. Assumed."""
LONGEST = 60
"""The longest words for the people, in characters."""


def promise(
    *,
    crop: str,
    amount: float,
    unit: Amount,
    day: date,
    people: str,
    by: str,
    now: datetime,
    eaters: int | None = None,
    plantings: tuple[str, ...] = (),
) -> Promise:
    """Return a new promise. `people` is a class or an event; `plantings` the keys that it is to come from.

    ValueError for a crop that is not eaten; one that the crop table does not know is taken at its word.
    """
    known = load().find(crop)
    if known is not None and not known.eaten:
        raise ValueError(not_eaten(known))
    made = Promise(
        key=new_key("pr-", now),
        crop=crop.strip(),
        amount=amount,
        unit=unit,
        day=day,
        people=people.strip(),
        made=now,
        by=by,
        eaters=eaters,
        plantings=plantings,
    )
    _must_be(made, now.date())
    says = f"promised: {amount_words(made)} for {made.people} on {day.isoformat()}"
    return msgspec.structs.replace(made, history=(Happening(at=now, by=by, says=says),))


def change(
    one: Promise,
    by: str,
    now: datetime,
    why: str,
    *,
    amount: float | None = None,
    unit: Amount | None = None,
    day: date | None = None,
    people: str | None = None,
    eaters: int | None = None,
    plantings: tuple[str, ...] | None = None,
) -> Promise:
    """Return the promise with what is given changed, and why; the people it was made to should hear of it."""
    _must_be_open(one)
    if not why.strip():
        raise ValueError("Say in a few words why it changes.")
    later = msgspec.structs.replace(
        one,
        amount=one.amount if amount is None else amount,
        unit=unit or one.unit,
        day=day or one.day,
        people=one.people if people is None else people.strip(),
        eaters=one.eaters if eaters is None else eaters,
        plantings=one.plantings if plantings is None else plantings,
    )
    if later == one:
        raise ValueError("Nothing about it would change.")
    _must_be(later, now.date())
    says = f"changed from {_in_full(one)} to {_in_full(later)}: {why.strip()}"
    return msgspec.structs.replace(later, history=(*one.history, Happening(at=now, by=by, says=says)))


def keep(one: Promise, by: str, now: datetime, says: str = "") -> Promise:
    """Return the promise as kept."""
    _must_be_open(one)
    reason = f"{KEPT}: {says.strip()}" if says.strip() else KEPT
    return _closed(one, by, now, reason)


def call_off(one: Promise, reason: str, by: str, now: datetime) -> Promise:
    """Return the promise as called off, for a reason that must be given."""
    _must_be_open(one)
    if not reason.strip():
        raise ValueError("A promise is called off with a reason.")
    return _closed(one, by, now, f"{CALLED_OFF}: {reason.strip()}")


def still_open(promises: Iterable[Promise], crop: str = "") -> list[Promise]:
    """Return the open promises, the nearest first; only those of one crop where it is named."""
    found = [one for one in promises if one.closed is None and crop in ("", one.crop)]
    return sorted(found, key=lambda one: (one.day, one.made, one.key))


def not_eaten(crop: Crop) -> str:
    """Say why a crop is not promised."""
    return f"{crop.name[:1].upper()}{crop.name[1:]} is not grown to be eaten, so it is not promised."


def amount_words(one: Promise) -> str:
    """Say how much was promised: '24 portions of lettuce', '500 g of basil', '2 trays of cress'."""
    return amount_of(one.amount, one.unit, load().find(one.crop), one.crop.replace("-", " "))


def _in_full(one: Promise) -> str:
    return f"{amount_words(one)} for {one.people} on {one.day.isoformat()}"


def _closed(one: Promise, by: str, now: datetime, reason: str) -> Promise:
    history = (*one.history, Happening(at=now, by=by, says=reason))
    return msgspec.structs.replace(one, closed=now, reason=reason, history=history)


def _must_be_open(one: Promise) -> None:
    if one.closed is not None:
        raise ValueError("This promise is closed.")


def _must_be(one: Promise, today: date) -> None:
    if not one.crop:
        raise ValueError("Name the crop.")
    if one.unit not in get_args(Amount):
        raise ValueError(f"A promise is counted in {', '.join(get_args(Amount))}.")
    most = MOST[one.unit]
    if not (math.isfinite(one.amount) and 0 < one.amount <= most):
        raise ValueError(f"It can be more than 0 and up to {most:,.0f} {one.unit}.")
    if one.unit == "heads" and one.amount != int(one.amount):
        raise ValueError("Heads and trays are counted whole.")
    if one.day < today:
        raise ValueError("That day is over.")
    if one.day > today + timedelta(days=AHEAD_DAYS):
        raise ValueError(f"That is more than {AHEAD_DAYS // 365} years ahead.")
    if not one.people:
        raise ValueError("Say for which class or event it is, without the name of a person.")
    if len(one.people) > LONGEST:
        raise ValueError(f"Name the class or event in at most {LONGEST} characters.")
    if one.eaters is not None and not 1 <= one.eaters <= MOST["portions"]:
        raise ValueError(f"There can be from 1 to {MOST['portions']:,.0f} people.")
