"""What a week or a station brings, as lines: day, what, who, minutes."""

from collections.abc import Sequence
from datetime import date, timedelta

from textual.content import Content

from walkabout.almanac.model import Almanac, Entry, Foreseen
from walkabout.screens.text import plain
from walkabout.screens.widgets.bars import placed
from walkabout.screens.widgets.pointed import cells
from walkabout.screens.widgets.stagewords import OUTLOOKS, day_long

MINUTES = 7
NARROW = 66
"""Under so many columns a day stands without its month."""


def of_week(almanac: Almanac, week: date) -> list[Entry]:
    """Return what the seven days from `week` on bring, what lasts over them included; a term says nothing to do."""
    last = week + timedelta(days=6)
    found = [one for one in almanac.entries if one.kind != "term" and one.day <= last and (one.last or one.day) >= week]
    asked = asked_by_round(almanac)
    return sorted(found, key=lambda one: (one.day, one.uid in asked))


def asked_by_round(almanac: Almanac) -> frozenset[str]:
    """Return the entries of which no job is made, since the round asks for them."""
    return frozenset(f"job/{one.key}/{one.due}" for one in almanac.standing if one.asked)


def of_station(almanac: Almanac, station: str, since: date) -> list[Entry]:
    """Return what is ahead at a station from a day on, promises from its plantings and closures included."""
    promised = {f"promise/{one.promise.key}" for (where, _), one in placed(almanac).items() if where == station}
    return [
        one
        for one in almanac.entries
        if (one.station == station or one.uid in promised or one.kind == "closure") and (one.last or one.day) >= since
    ]


def term_of(almanac: Almanac, week: date) -> str:
    """Return the name of the term that a week lies in, or ''."""
    terms = (one for one in almanac.entries if one.kind == "term" and one.day <= week + timedelta(days=6))
    return next((one.says for one in terms if (one.last or one.day) >= week), "")


def load(entries: Sequence[Entry]) -> str:
    """Say how much it is: '5 things, 42 min'."""
    minutes = sum(one.minutes for one in entries)
    things = f"{len(entries)} thing{'s' if len(entries) != 1 else ''}"
    return f"{things}, {minutes:.0f} min" if minutes else things


def entry_lines(almanac: Almanac, entries: Sequence[Entry], names: dict[str, str], width: int) -> list[Content]:
    """Return one line for each entry, `width` cells wide; `names` are the stations' by key."""
    promises, asked = {f"promise/{one.promise.key}": one for one in almanac.promises}, asked_by_round(almanac)
    whose = ["round" if one.uid in asked else "" if one.who == "pupil" else one.who for one in entries]
    longest = max(map(len, whose), default=0)
    who = longest + 2 if width >= NARROW - 10 and longest else 0
    minutes = MINUTES if any(one.minutes for one in entries) else 0
    days = 7 if width < NARROW - 6 else 11
    drawn, before = [], None
    for one, does in zip(entries, whose, strict=True):
        day = "" if one.day == before else f"{one.day:%a} {one.day.day}" if days == 7 else day_long(one.day)
        takes = f"{one.minutes:.0f} min" if one.minutes else ""
        quiet = "$muted" if does == "round" else ""
        drawn.append(
            Content("").join([
                plain(cells(day, days), "$muted"),
                _says(one, promises.get(one.uid), names, max(width - days - who - minutes, 10), quiet),
                plain(cells(f" {does}", who), quiet or "$watch"), plain(f"{takes:>{minutes}}"[:minutes], "$muted"),
            ])
        )  # fmt: skip
        before = one.day
    return drawn


def _says(one: Entry, promise: Foreseen | None, names: dict[str, str], room: int, quiet: str) -> Content:
    """Return the mark of an entry and what it says, in `room` cells."""
    mark, style, _ = OUTLOOKS[promise.outlook] if promise else (*_mark(one), "")
    where = f"{names[one.station]}: " if one.station in names else ""
    until = f", until {day_long(one.last)}" if one.last else ""
    words = plain(cells(f"{where}{one.says}{until}", room - 2), style if one.warns else quiet)
    return plain(cells(mark, 2), style).append(words)


def _mark(one: Entry) -> tuple[str, str]:
    if one.kind == "closure":
        return "░", "$watch"
    return ("▴", "$watch") if one.warns else (" ", "")
