"""Plantings: sown or brought in, moved on, split, ended. Nothing is deleted.

Every function returns new records and saves none. What cannot be is a ValueError with one sentence.
What they reach, lose and give in between is in `stages`.
"""

import re
from collections.abc import Iterable
from datetime import date, datetime, timedelta

import msgspec

from walkabout.growing.counting import sown_words
from walkabout.growing.crops import Crop, Crops
from walkabout.jobs.newcomers import APART_DAYS, reminder
from walkabout.records.keys import new_key
from walkabout.records.model import Finding, Happening, Move, Planting
from walkabout.records.sums import HARVESTED, started, stood

MOST = 10_000
"""More plants than this stand in no school: a slip of the hand. Assumed."""
OLDEST_DAYS = 50 * 365
"""A day of sowing before this is a slip of the hand. Assumed."""
ENDS = (HARVESTED, "died", "composted", "given away", "other")
"""How a planting ends."""


def sow(
    *, crop: str, station: str, count: int, sown: date, by: str, now: datetime, variety: str = "", label: str = ""
) -> Planting:
    """Return a planting that was sown here. `crop` is a key of the crop table, or a name that is not in it."""
    _must_be(crop, count, sown, now)
    return Planting(
        key=new_key("p", now),
        crop=crop.strip(),
        sown=sown,
        count=count,
        moves=(Move(day=sown, station=station, by=by),),
        variety=variety.strip(),
        label=label.strip(),
        started=count,
        history=(Happening(at=now, by=by, says=f"sown: {count}"),),
    )


def bring_in(
    *, crop: str, station: str, count: int, sown: date, by: str, now: datetime, variety: str = "", label: str = ""
) -> tuple[Planting, Finding]:
    """Return a planting that came from outside and stands apart, with what reminds of looking at it each week."""
    _must_be(crop, count, sown, now)
    until = now.date() + timedelta(days=APART_DAYS)
    planting = Planting(
        key=new_key("p", now),
        crop=crop.strip(),
        sown=sown,
        count=count,
        moves=(Move(day=now.date(), station=station, by=by),),
        variety=variety.strip(),
        label=label.strip(),
        brought_in=True,
        apart_until=until,
        started=count,
        history=(Happening(at=now, by=by, says=f"brought in: {count}; kept apart until {until.isoformat()}"),),
    )
    return planting, reminder(planting, by, now)


def move(planting: Planting, to: str, count: int, by: str, now: datetime) -> tuple[Planting, ...]:
    """Return the planting at its new station; when only a part moves, what stays and then the part.

    Both halves keep where they stood and what they had reached; the part that moves gets a key of its own.
    """
    must_stand(planting, count)
    if to == planting.station:
        raise ValueError("It stands there already.")
    says = f"moved from {planting.station} to {to}"
    stays, goes = _split(planting, count, by, now, f"moved to {to}")
    moved = msgspec.structs.replace(
        goes,
        moves=(*goes.moves, Move(day=now.date(), station=to, by=by)),
        history=(*goes.history, Happening(at=now, by=by, says=says)),
    )
    return (stays, moved) if stays else (moved,)


def end(planting: Planting, how: str, reason: str, count: int, by: str, now: datetime) -> tuple[Planting, ...]:
    """Return the planting ended; when only a part ends, what stays and then the part that ended."""
    must_stand(planting, count)
    if how not in ENDS:
        raise ValueError(f"A planting ends in one of these ways: {', '.join(ENDS)}.")
    reason = reason.strip()
    if how == "other" and not reason:
        raise ValueError("Say in a few words how it ended.")
    says = reason if how == "other" else f"{how}: {reason}" if reason else how
    stays, goes = _split(planting, count, by, now, says)
    ended = msgspec.structs.replace(
        goes, ended=now.date(), reason=says, history=(*goes.history, Happening(at=now, by=by, says=says))
    )
    return (stays, ended) if stays else (ended,)


def _split(planting: Planting, count: int, by: str, now: datetime, says: str) -> tuple[Planting | None, Planting]:
    """Return what stays (None when nothing does) and what goes.

    What was lost or picked before belongs to what stays: the part begins with its own plants.
    """
    if count == planting.count:
        return None, planting
    left = planting.count - count
    stays = msgspec.structs.replace(
        planting,
        count=left,
        started=started(planting) - count,
        history=(*planting.history, Happening(at=now, by=by, says=f"{count} of {planting.count} {says}; {left} stay")),
    )
    part = Happening(at=now, by=by, says=f"{count} of {planting.count} became a planting of their own")
    return stays, msgspec.structs.replace(
        planting,
        key=new_key("p", now),
        count=count,
        started=count,
        parted_from=planting.key,
        losses=(),
        pickings=(),
        history=(*planting.history, part),
    )


def _must_be(crop: str, count: int, sown: date, now: datetime) -> None:
    if not crop.strip():
        raise ValueError("Name the crop.")
    if not 1 <= count <= MOST:
        raise ValueError(f"A planting has from 1 to {MOST} plants.")
    must_be_past(sown, now.date())


def must_be_past(day: date, today: date) -> None:
    """Raise ValueError for a day still to come, or so long ago that it is a slip of the hand."""
    if day > today:
        raise ValueError("That day is still to come.")
    if (today - day).days > OLDEST_DAYS:
        raise ValueError(f"That is more than {OLDEST_DAYS // 365} years ago.")


def must_stand(planting: Planting, count: int) -> None:
    """Raise ValueError unless it has not ended and so many of it stand."""
    if planting.ended is not None:
        raise ValueError("This planting has ended.")
    if not 1 <= count <= planting.count:
        raise ValueError("There is only 1." if planting.count == 1 else f"It can be from 1 to {planting.count}.")


def as_of(plantings: Iterable[Planting], day: date) -> list[Planting]:
    """Return the plantings as they stood at the end of a day: where each was, how many, and that it had not ended."""
    found = []
    for one in plantings:
        moves = tuple(each for each in one.moves if each.day <= day)
        if moves and (one.ended is None or one.ended > day):
            found.append(msgspec.structs.replace(one, moves=moves, count=stood(one, day), ended=None))
    return found


def in_words(planting: Planting, crops: Crops, today: date) -> str:
    """Say a planting in short: "12 basil 'Genovese', 24 days"; of small greens "2 trays of cress, 4 days"."""
    crop = crops.find(planting.crop)
    variety = f" '{planting.variety}'" if planting.variety else ""
    days = (today - planting.sown).days
    words = sown_words(planting.count, crop, f"{crop.name if crop else planting.crop}{variety}")
    return f"{words}, {days} day{'s' if days != 1 else ''}"


def offered(crops: Crops, typed: str, most: int = 9, *, eaten: bool = False) -> tuple[Crop, ...]:
    """Return the crops that may be meant: the one of exactly this name first; all of them for nothing typed.

    With `eaten` only those that are eaten.
    """
    wanted = " ".join(typed.casefold().split())
    if not wanted:
        return tuple(sorted((one for one in crops if one.eaten or not eaten), key=lambda one: one.name.casefold()))
    exact = crops.find(typed)
    begun = [one for one in crops if one.name.casefold().startswith(wanted)]
    near = (*((exact,) if exact else ()), *begun, *crops.nearest(typed, 2 * most if eaten else most))
    keys = dict.fromkeys(one.key for one in near if one.eaten or not eaten)
    return tuple(crops.of[key] for key in keys)[:most]


def count_in(text: str, most: int = MOST, least: int = 1) -> int:
    """Return the whole number that was typed, from `least` to `most`."""
    if not re.fullmatch(r"[0-9]{1,9}", text.strip()) or not least <= int(text) <= most:
        raise ValueError("There is only 1." if most == least == 1 else f"Type a whole number from {least} to {most}.")
    return int(text)


def day_in(text: str, today: date) -> date:
    """Return the day that was typed: nothing for today, '2026-11-20', 'yesterday', '3 days ago', '2 weeks ago'."""
    words = " ".join(text.casefold().split())
    ago = re.fullmatch(r"([0-9]{1,6}) ?(d|days?|w|weeks?)( ago)?", words)
    if words in ("", "today", "yesterday"):
        day = today - timedelta(days=words == "yesterday")
    elif ago:
        days = int(ago[1]) * (7 if ago[2].startswith("w") else 1)
        day = today - timedelta(days=min(days, OLDEST_DAYS + 1))
    else:
        try:
            day = date.fromisoformat(words)
        except ValueError:
            says = f"Write the day as {today.isoformat()}, or as '3 days ago' or 'yesterday'."
            raise ValueError(says) from None
    must_be_past(day, today)
    return day
