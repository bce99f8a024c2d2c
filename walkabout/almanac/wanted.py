"""What somebody wants every week: read from what was typed, and turned into plants to sow."""

import re
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from math import ceil, floor

from msgspec import Struct

from walkabout.almanac.chances import Part
from walkabout.almanac.loss_words import known_by
from walkabout.almanac.model import Basis
from walkabout.almanac.pace import Learned, own_factor
from walkabout.almanac.work_back import SURE, doubt, has_enough, need, to_sow
from walkabout.growing.crops import Crop
from walkabout.growing.picking import Lasts, lasts
from walkabout.reckon.amounts import Promised, promised
from walkabout.reckon.typed_day import day
from walkabout.reckon.write import plainly, quoted
from walkabout.records.model import Amount
from walkabout.room.calendar import is_walked

GRAMS = 10.0
"""In steps of so many grams what can be counted on is told; in fiftieths of the amount where that is finer."""
LONGEST = 2 * 366
"""Days ahead that a plan may reach. Assumed: further on nobody knows the closures."""
MOST_EACH_WEEK = 5000
"""More plants than this every week are a slip of the hand. Assumed."""
PICKED_WHOLE_DAYS = 14
"""Leaves that can be picked for longer than this are picked again and again; shorter, the plant is taken whole.
Assumed."""

_EVERY = re.compile(r"(?:every )?(?:(\d+) |(second|other|third|fourth) )?weeks?")
_ORDINAL = {"second": 2, "other": 2, "third": 3, "fourth": 4}
_TRAYS = re.compile(r"(\d+) trays?")


class Wanted(Struct, frozen=True, kw_only=True):
    """So much of a crop every so many weeks, from a day to a day, both included."""

    crop: str
    """The crop's key."""
    amount: float
    unit: Amount
    first: date
    last: date
    every: int = 1
    """Weeks."""
    stations: tuple[str, ...] = ()
    """Where it may be grown; empty for wherever such a crop grows."""


class Week(Struct, frozen=True):
    """One stretch in which the amount is wanted: a calendar week, or several."""

    first: date
    last: date
    open: tuple[date, ...]
    """Its open days; without any, nothing is wanted."""


class Counted(Struct, frozen=True, kw_only=True):
    """What a week's amount comes to in plants."""

    sow: int
    """To sow for it: with so many there is enough with nine chances in ten, once they are ready."""
    wanted: Wanted
    crop: Crop
    own: Learned
    working: tuple[str, ...]

    def surely(self, sown: int) -> float:
        """Return what can be counted on from so many sown with nine chances in ten, in the unit of what is wanted.

        Heads and portions are whole, grams in steps. More than enough counts in proportion.
        """
        step = min(GRAMS, self.wanted.amount / 50) if self.wanted.unit == "g" else 1.0
        if sown >= self.sow:
            return max(floor(self.wanted.amount * sown / self.sow / step + 1e-9) * step, self.wanted.amount)
        part = Part(sown, 1.0, self.own.survival, doubt(self.own))
        learned = {self.crop.key: self.own}
        low, high = 0, ceil(self.wanted.amount / step - 1e-9)
        while high - low > 1:
            middle = (low + high) // 2
            one = need(self.crop, middle * step, self.wanted.unit, learned)
            low, high = (middle, high) if has_enough(one, part) >= SURE else (low, middle)
        return low * step


def read_wanted(
    crop: str, amount: str, every: str, first: str, last: str, stations: Sequence[str], basis: Basis
) -> Wanted:
    """Return what is wanted from what was typed; raises ValueError with one sentence."""
    found = basis.crops.find(crop)
    if found is None:
        near = basis.crops.nearest(crop, 1)
        hint = f"did you mean {near[0].name}?" if near else "name it as in the crop table, such as lettuce"
        raise ValueError(f"the crop table has no {quoted(crop)}: {hint}")
    begins, ends = day(first), day(last)
    given = _trays(amount, found) or promised(amount, found)
    unit: Amount = {"plants": "heads", "grams": "g", "portions": "portions"}[given.kind]  # type: ignore[assignment]
    wanted = Wanted(
        crop=found.key,
        amount=given.count,
        unit=unit,
        first=begins,
        last=ends,
        every=_weeks(every),
        stations=tuple(dict.fromkeys(stations)),
    )
    check(wanted, basis)
    return wanted


def check(wanted: Wanted, basis: Basis) -> Crop:
    """Return the crop; raises ValueError with one sentence for what cannot be planned."""
    crop = basis.crops.find(wanted.crop)
    if crop is None:
        raise ValueError(f"the crop table has no {quoted(wanted.crop)}")
    if crop.harvest is None or lasts(crop) is None:
        raise ValueError(f"nothing of {crop.name} is harvested, so no amount of it can be planned")
    if not 0 < wanted.amount < 1e9:
        raise ValueError("the amount must be more than nothing")
    if not 1 <= wanted.every <= 52:
        raise ValueError("an amount can be wanted every 1 to 52 weeks")
    if wanted.last < wanted.first:
        raise ValueError(f"the last day, {wanted.last}, is before the first, {wanted.first}")
    if wanted.last < basis.today:
        raise ValueError(f"the last day, {wanted.last}, is over")
    if (wanted.last - basis.today).days > LONGEST:
        raise ValueError(f"a plan reaches two years ahead at most: to {basis.today + timedelta(days=LONGEST)}")
    for key in wanted.stations:
        if basis.room.station(key) is None:
            known = ", ".join(one.key for one in basis.room.stations)
            raise ValueError(f"there is no station {quoted(key)}; there are: {known}")
    return crop


def counted(wanted: Wanted, crop: Crop, learned: Mapping[str, Learned]) -> Counted:
    """Return a week's amount in plants to sow, losses and margin counted in as for a promise.

    Raises ValueError where nobody knows what one plant gives.
    """
    own = own_factor(crop, learned)
    if crop.group == "microgreen" and wanted.unit != "heads" and own.grams is None:
        raise ValueError(
            f"{crop.name} is counted in trays, and no tray of it has been weighed here yet: "
            "write the amount as '2 trays'"
        )
    one = need(crop, wanted.amount, wanted.unit, learned)
    if one.plants > MOST_EACH_WEEK:
        raise ValueError(f"that takes {one.plants} plants every time; a plan holds {MOST_EACH_WEEK} at most")
    sow = to_sow(one, own.survival, doubt(own))
    lines = [] if wanted.unit == "heads" else list(one.working)
    lines.append(
        f"{plainly(round(own.survival, 2))} of those sown reach the harvest, give or take "
        f"{plainly(round(own.lost_spread, 2))} ({known_by(own)})"
    )
    lines.append(
        f"{sow} sown leave {said(wanted.amount, wanted.unit, crop)} or more with 9 chances in 10 (beta-binomial law)"
    )
    return Counted(sow=sow, wanted=wanted, crop=crop, own=own, working=tuple(lines))


def weeks_of(wanted: Wanted, basis: Basis) -> tuple[Week, ...]:
    """Return the stretches in which the amount is wanted: calendar weeks from Monday, cut at both ends and today."""
    first = max(wanted.first, basis.today)
    monday = wanted.first - timedelta(days=wanted.first.weekday())
    found = []
    while monday <= wanted.last:
        end = min(monday + timedelta(days=7 * wanted.every - 1), wanted.last)
        begin = max(monday, first)
        days = [begin + timedelta(days=ahead) for ahead in range((end - begin).days + 1)]
        if days:
            found.append(Week(begin, end, tuple(one for one in days if is_walked(basis.room, one))))
        monday += timedelta(days=7 * wanted.every)
    return tuple(found)


def keeps(crop: Crop) -> Lasts:
    """Return how long it can be picked once ready; `check` has said that it can."""
    found = lasts(crop)
    if found is None:
        raise ValueError(f"nothing of {crop.name} is harvested")
    return found


def picked_again(crop: Crop, wanted: Wanted) -> bool:
    """Say whether the same plants give again in every week of their picking: not where whole plants are wanted."""
    again = crop.group in ("herb", "fruiting", "legume") or (
        crop.group == "leafy" and keeps(crop).days > PICKED_WHOLE_DAYS
    )
    return again and wanted.unit != "heads"


def said(amount: float, unit: Amount, crop: Crop) -> str:
    """Write an amount: '12 heads', '1 tray', '500 g'."""
    if unit == "g":
        return f"{plainly(amount)} g"
    words = {"microgreen": "tray", "leafy": "head"}
    word = "portion" if unit == "portions" else words.get(crop.group, "plant")
    return f"{plainly(amount)} {word}{'' if amount == 1 else 's'}"


def _trays(text: str, crop: Crop) -> Promised | None:
    found = _TRAYS.fullmatch(" ".join(text.casefold().split()))
    if found is None or crop.group != "microgreen":
        return None
    if int(found[1]) == 0:
        raise ValueError("the amount must be more than nothing")
    return Promised(int(found[1]), "plants")


def _weeks(text: str) -> int:
    plain = " ".join(text.casefold().split())
    if plain == "fortnight":
        return 2
    found = _EVERY.fullmatch(plain)
    number = 0 if found is None else int(found[1]) if found[1] else _ORDINAL.get(found[2] or "", 1)
    if not 1 <= number <= 52:
        raise ValueError(f"--every takes 'week', or a number of weeks such as '2 weeks', not {quoted(text)}")
    return number
