"""What a person is told of taking in and taking back: the same words on every face."""

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from walkabout.paper.logger import Taken
from walkabout.paper.logger_back import Back, Before
from walkabout.paper.logger_columns import QUANTITIES
from walkabout.paper.logger_kept import Copied, Taking
from walkabout.paper.logger_times import ORDERS
from walkabout.room.mistakes import one_line, shortened

SHOWN = 20
"""Lines about cells that cannot be used; the rest is counted."""
WHO_TAKES_IN = (
    "Whoever read the logger may take its file in. Taking it back is for an adult: everybody's trends change."
)
WHO_TAKES_BACK = "An adult should have decided this: everybody's trends change."
"""Said by the command, which asks for nobody's code."""
NONE_YET = "No logger's file was taken in yet."

Name = Callable[[str], str]
"""Returns the name of a station, by its key."""


def hours(number: int) -> str:
    """Return so many hours in words."""
    return f"{number} hour" if number == 1 else f"{number} hours"


def lines_of_taken(taken: Taken) -> list[str]:
    """Return what came of taking a file in: what could not be used, what is odd, and last what is on record now."""
    more = len(taken.wrong) - SHOWN
    found = [*taken.wrong[:SHOWN], *([f"And {more} more that cannot be used."] if more > 0 else []), *taken.told]
    if taken.back:
        found.append(f"{hours(taken.back)} that this file gave when it was read otherwise: taken back.")
    says = f"{taken.fresh} hours new, {taken.changed} changed, {taken.same} as they were"
    return [*found, f"{taken.readings} readings of {shortened(one_line(taken.file.name), 60)}: {says}."]


def lines_of_taking(taking: Taking, name_of: Name, told: str = "") -> list[str]:
    """Return how a file is to be read, for a last look before it is; `told` is what is new about it."""
    when = " and ".join(shortened(one_line(name), 30) for name in taking.time)
    clock = taking.zone or "as this computer"
    found = [*([told] if told else []), f"When: {when}, {ORDERS[taking.order]}; the clock: {clock}."]
    for one in taking.columns:
        unit = one.unit or QUANTITIES[one.quantity].unit
        where = name_of(one.station)
        found.append(f"{shortened(one_line(one.column), 30)}: {one.quantity} in {unit}, at {where}.")
    return found


def lines_of_back(back: Back, room_folder: Path) -> list[str]:
    """Return what came of taking a file back, and what is kept of it."""
    name = shortened(one_line(back.name), 60)
    found = [f"{name} is taken back: {hours(back.emptied)} emptied, {back.anew} reckoned anew from other files."]
    if back.stay:
        which = ", ".join(back.gone) or "a copy"
        found.append(
            f"{hours(back.stay)} had to stay: {which}, which shares them, cannot be read any more, so that nobody can"
            " tell the readings apart."
        )
    if back.kept is not None:
        where = back.kept.relative_to(room_folder).as_posix()
        why = " for the hours that stay" if back.stay else ", in case it is wanted again"
        found.append(f"The file itself is kept as {where}{why}.")
    else:
        found.append("There is no copy of the file any more; to take it in again, its own is needed.")
    if back.forgotten:
        found.append("What its columns are is asked anew when such a file is taken in.")
    return found


def series_words(one: Before, name_of: Name) -> str:
    """Return what was read where: 'air temperature, humidity at Raft tub'."""
    return _by_station(one.hours, name_of)


def line_of_before(one: Before, name_of: Name) -> str:
    """Return one line about a file that was taken in before."""
    when = f"{one.at:%Y-%m-%d %H:%M}" if one.at else "day not known"
    what = series_words(one, name_of)
    span = f" of {one.first:%Y-%m-%d} to {one.last:%Y-%m-%d}" if one.first and one.last else ""
    state = "" if one.whole else " Cut short, or its copy is missing: take it in again, or back."
    also = f" (and as {', '.join(shortened(one_line(name), 40) for name in one.also)})" if one.also else ""
    says = f"{when}: {shortened(one_line(one.name), 60)}{also}: {hours(one.total)}{span}"
    behind = ""
    if one.after:
        behind = f" In {one.after} of them another file came first, and counts where both have a reading."
    return f"{says}{f', {what}' if what else ''}.{behind}{state}"


def asks_instead(old: Copied, new: Taking, name_of: Name) -> str:
    """Return the question whether what a file gave before is to be taken back, now that it is read otherwise."""
    before = {(one.station, one.quantity): 0 for taking in old.takings for one in taking.columns}
    now = {(one.station, one.quantity): 0 for one in new.columns}
    if {*before} == {*now}:
        return "This very file was taken in before and read otherwise. Take back the hours that it gave then?"
    return f"This very file was taken in before, as {_by_station(before, name_of)}. Take those readings back?"


def _by_station(series: Mapping[tuple[str, str], int], name_of: Name) -> str:
    stations: dict[str, list[str]] = {}
    for station, quantity in series:
        stations.setdefault(station, []).append(quantity)
    return "; ".join(f"{', '.join(many)} at {name_of(station)}" for station, many in stations.items())


def facts_of_before(found: list[Before]) -> Iterator[dict[str, object]]:
    """Yield for other programs what was taken in before."""
    for one in found:
        yield {
            "file": one.name,
            "copy": one.copy,
            "at": one.at.isoformat() if one.at else None,
            "hours": one.total,
            "series": [
                {"station": station, "quantity": quantity, "hours": number}
                for (station, quantity), number in one.hours.items()
            ],
            "first": one.first.isoformat() if one.first else None,
            "last": one.last.isoformat() if one.last else None,
            "whole": one.whole,
            "also": [*one.also],
            "hours_after_another_file": one.after,
        }
