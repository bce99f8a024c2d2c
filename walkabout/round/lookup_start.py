"""Where a lookup starts from: what is on record of a station, so that nobody types what the room knows already."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta

from msgspec import Struct

from walkabout.checklist.model import VERDICTS, Quantity
from walkabout.growing.units import words as with_unit
from walkabout.jobs.findings import cause_words, still_open
from walkabout.records.model import Answer, Planting
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.confirm import confirmed_counts
from walkabout.round.known import Known, known_at
from walkabout.round.lookup import Lookup
from walkabout.round.opened import OpenRoom
from walkabout.round.words import VERDICT_MEANS, answer_words, day_words

MEASURES: Mapping[Quantity, str] = {
    "pH": "ph",
    "EC": "ec",
    "air temperature": "air",
    "lowest air temperature": "night",
    "humidity": "humidity",
    "solution temperature": "solution",
    "oxygen": "oxygen",
}
"""Quantities of the checklists, and the measures of the knowledge that they are."""

WITHOUT_MIX = frozenset({"raft", "film", "drum", "drip"})
"""Kinds of station where roots stand in water, film, plugs or pebbles: no look asks about a potting mix there."""

SEEDLING_DAYS = 21
"""Younger than this a plant counts as a seedling. Common practice."""
RECENT_DAYS = 14
MOST_LINES = 3
"""So many findings, verdicts and jobs are told of each."""


class Standing(Struct, frozen=True):
    """A crop that stands at a station."""

    key: str
    """The crop as the knowledge has it; '' where it has none of this name."""
    name: str
    plants: int
    planting: Planting
    """The largest planting of it."""


def at_station(opened: OpenRoom, station: str, walker: str, *, crop: str = "") -> Lookup:
    """Return a lookup with what is on record at a station: crop, age, the last week's readings.

    With several crops the one with most plants is taken, unless `crop` names one: a key of the knowledge or the name
    of a planting; for a crop that does not stand here no age is known. Without a station (or for the room as a
    whole) only the month and what was confirmed in the room are known.
    """
    today = opened.today()
    lookup = Lookup(
        opened.crops,
        by=opened.room.role(walker),
        confirmed=confirmed_counts(opened),
        without=_without(opened, station),
    )
    given: dict[str, float] = {"month": today.month}
    standing = crops_here(opened, station)
    named = [one for one in standing if not crop or crop in (one.planting.crop, one.key)]
    here = named[0] if named else None
    if station and station != WHOLE_ROOM and (known := known_at(opened, station)) is not None:
        given |= _readings(known, known_at(opened, WHOLE_ROOM), today)
    if here is None:
        lookup.set_crop(crop if crop in lookup.ready.known.crops else "")
    else:
        lookup.set_crop(here.key)
        given |= _age(here.planting, today)
        if given["sown"] < SEEDLING_DAYS:
            lookup.also = ("seedling",)
    for measure, value in given.items():
        entry = lookup.ready.known.measures.get(measure)
        if entry is not None and entry.possible[0] <= value <= entry.possible[1]:
            lookup.set_reading(measure, value)
    return lookup


def _without(opened: OpenRoom, station: str) -> tuple[str, ...]:
    """Return the organs of signs that nobody can look at there."""
    kind = next((one.kind for one in opened.room.stations if one.key == station), "")
    return ("mix",) if kind in WITHOUT_MIX else ()


def crops_here(opened: OpenRoom, station: str) -> tuple[Standing, ...]:
    """Return the crops that stand at a station, the one with most plants first; none for the room as a whole."""
    plantings = [one for one in opened.plantings.values() if one.ended is None and one.station == station]
    by_crop: dict[str, list[Planting]] = {}
    for planting in plantings:
        by_crop.setdefault(planting.crop, []).append(planting)
    found = [_standing(opened, of_one_crop) for of_one_crop in by_crop.values()]
    return tuple(sorted(found, key=lambda one: (-one.plants, one.name)))


def _standing(opened: OpenRoom, plantings: list[Planting]) -> Standing:
    largest = max(plantings, key=lambda one: (one.count, one.key))
    lookup = Lookup(opened.crops)
    crop = opened.crops.find(largest.crop)
    key = crop.key if crop is not None and crop.key in lookup.ready.known.crops else lookup.find_crop(largest.crop)
    name = crop.name if crop is not None else largest.crop
    return Standing(key, name, sum(one.count for one in plantings), largest)


def _readings(known: Known, room: Known | None, today: date) -> Iterator[tuple[str, float]]:
    """Yield the readings of the last week; what the station itself was not asked for, as the room has it."""
    for quantity, measure in MEASURES.items():
        value = known.value(quantity)
        if value is None and room is not None:
            value = room.value(quantity) if quantity == "lowest air temperature" else None
        if value is not None:
            yield measure, value
    if known.changed is not None:
        yield "change", (today - known.changed).days


def _age(planting: Planting, today: date) -> Iterator[tuple[str, float]]:
    yield "sown", (today - planting.sown).days
    if len(planting.moves) > 1 or planting.brought_in:
        yield "moved", (today - planting.moves[-1].day).days


# what happened here lately


def recent(opened: OpenRoom, station: str) -> tuple[str, ...]:
    """Return a few lines: findings open here, causes confirmed, verdicts that were not good, jobs done."""
    today, since = opened.today(), opened.today() - timedelta(days=RECENT_DAYS)
    here = [one for one in opened.findings.values() if one.station == station]
    lines = [f"Open since {day_words(one.at.date(), today)}: {one.seen}" for one in still_open(here)[::-1][:MOST_LINES]]
    confirmed = sorted((one for one in here if one.cause and one.at.date() >= since), key=lambda one: one.at)
    lines += [f"Cause confirmed for '{one.seen}': {cause_words(one)}" for one in confirmed[::-1][:MOST_LINES]]
    looks = [one for one in opened.history.at_station(station) if one.at.date() >= since]
    lines += [_verdict_line(opened, one, today) for one in [one for one in looks if _not_good(one)][::-1][:MOST_LINES]]
    done = [
        (one.closed, one.what, one.reason)
        for one in opened.jobs.values()
        if one.station == station and one.closed is not None and one.closed.date() >= since
    ]
    for closed, what, reason in sorted(done, reverse=True)[:MOST_LINES]:
        how = "Done" if reason == "done" else "Closed"
        why = "" if reason == "done" else f" ({reason})"
        lines.append(f"{how} {day_words(closed.date(), today)}: {what}{why}")
    return tuple(lines)


def filled_in(opened: OpenRoom, station: str) -> tuple[str, ...]:
    """Return the readings of the last week that a lookup here starts from, each with its day: 'pH 6.9, yesterday'."""
    known, room, today = known_at(opened, station), known_at(opened, WHOLE_ROOM), opened.today()
    if known is None or station == WHOLE_ROOM:
        return ()
    lines = []
    for quantity in MEASURES:
        last = known.readings.get(quantity)
        if last is None and quantity == "lowest air temperature" and room is not None:
            last = room.readings.get(quantity)
        if last is not None:
            unit = {"pH": "pH", "EC": "mS/cm", "humidity": "%", "oxygen": "mg/L"}.get(quantity, "°C")
            said = with_unit(last.value, unit, opened.scales, 1)
            lines.append(f"{said if unit == 'pH' else f'{quantity} {said}'}, {day_words(last.day, today)}")
    return tuple(lines)


def _not_good(answer: Answer) -> bool:
    return answer.verdict in VERDICTS[1:]


def _verdict_line(opened: OpenRoom, answer: Answer, today: date) -> str:
    question = opened.question(answer.station, answer.question)
    asked = f"{question.ask} " if question is not None else ""
    said = answer_words(question, answer, scales=opened.scales)
    day = day_words(answer.at.date(), today)
    return f"{day[:1].upper()}{day[1:]}: {asked}{said} ({VERDICT_MEANS[answer.verdict]})"
