"""Taking back what was taken in: which files there were, and their readings out of the records again."""

from collections import Counter
from collections.abc import Callable, Collection
from datetime import date, datetime
from pathlib import Path

from msgspec import Struct

from walkabout.paper.logger_columns import BadLogger
from walkabout.paper.logger_hours import Others, without
from walkabout.paper.logger_kept import FOLDER, Copied, copies, forget, let_go, note
from walkabout.paper.logger_read import Series
from walkabout.records.book import Records
from walkabout.records.model_measured import Hour
from walkabout.room.mistakes import nearest, one_line, shortened

_FEWEST = 4
"""Letters of a copy's name that are enough to mean it; assumed."""
_STEP = 500


class Before(Struct, frozen=True):
    """A file that was taken in before: how many hours of each quantity at each station have its readings."""

    copy: str
    name: str
    at: datetime | None
    hours: dict[Series, int]
    first: datetime | None
    last: datetime | None
    whole: bool
    """Whether its copy is there, and nothing that was begun with it was cut short."""
    also: tuple[str, ...] = ()
    """Other names under which the very same file was taken in."""
    after: int = 0
    """In how many of the hours another file came first."""

    @property
    def total(self) -> int:
        """How many hours have readings of it."""
        return sum(self.hours.values())


class Back(Struct, frozen=True):
    """What came of taking a file back: hours emptied, hours reckoned anew, hours that had to stay."""

    name: str
    copy: str
    emptied: int
    anew: int
    stay: int
    kept: Path | None
    """Where the copy of the file lies now; None where there is none any more."""
    gone: tuple[str, ...] = ()
    """Copies of other files that would be needed for the hours that stay."""
    forgotten: bool = False
    """Whether what its columns are is asked anew."""


def taken_before(records: Records, room_folder: Path) -> list[Before]:
    """Return the files that were taken in, the last one first."""
    known = copies(room_folder)
    hours: dict[str, list[Hour]] = {copy: [] for copy in known}
    for hour in records.hours(date.min):
        for copy in _given_by(hour):
            hours.setdefault(copy, []).append(hour)
    found = [_before(copy, known.get(copy), many, room_folder) for copy, many in hours.items()]
    return sorted(found, key=lambda one: (one.at.timestamp() if one.at else 0, one.name), reverse=True)


def _given_by(hour: Hour) -> tuple[str, ...]:
    """Return the copies of the files that an hour's readings are from; where it names none, its source."""
    return hour.files or ((hour.source,) if hour.source else ())


def _before(copy: str, known: Copied | None, hours: list[Hour], room_folder: Path) -> Before:
    counts = Counter((hour.station, hour.quantity) for hour in hours)
    starts = [hour.start for hour in hours]
    unnamed = known is None and not any(hour.files for hour in hours)
    whole = bool(hours) and (unnamed or (known is not None and not known.under_way))
    return Before(
        copy=copy,
        # a lost index loses names: what the hours say of their source is the next best
        name=known.name if known else next((hour.source for hour in hours if hour.files == (copy,)), copy),
        at=known.at if known else None,
        hours=dict(sorted(counts.items())),
        first=min(starts, default=None),
        last=max(starts, default=None),
        whole=whole and (room_folder / FOLDER / copy).is_file(),
        also=known.also if known else (),
        after=sum(hour.files[:1] not in ((), (copy,)) for hour in hours),
    )


def meant(name: str, there: Collection[Before]) -> Before:
    """Return the one file that a name means; BadLogger where it means none or several.

    The name may be the file's own, another under which the same content was taken in, that of its copy, or how the
    latter begins.
    """
    wanted = name.strip()
    found = [one for one in there if one.copy in (wanted, f"{wanted}.csv")] or [
        one for one in there if _called(wanted, (one.name,))
    ]
    found = found or [one for one in there if _called(wanted, one.also)]
    if not found and len(wanted) >= _FEWEST:
        found = [one for one in there if one.copy.startswith(wanted)]
    if len(found) > 1:
        which = ", ".join(f"{one.copy[:8]} ({_taken(one)})" for one in found)
        raise BadLogger(f'{len(found)} files named "{shortened(wanted, 40)}" were taken in. Say which: {which}')
    if not found:
        right = nearest(wanted, [name for one in there for name in (one.name, *one.also)]) if there else "None was yet"
        raise BadLogger(f'no file "{shortened(wanted, 40)}" was taken in. {right or "walkabout take-in --list"}')
    return found[0]


def same_as(name: str, one: Before) -> str:
    """Return a sentence that says whose file it is, where it was named otherwise than it was first taken in."""
    also = next((each for each in one.also if _called(name.strip(), (each,))), "")
    if not also or _called(name.strip(), (one.name,)):
        return ""
    return f"{shortened(one_line(also), 60)} is the same file as {shortened(one_line(one.name), 60)}."


def _called(wanted: str, names: Collection[str]) -> bool:
    return any(wanted in (name, Path(name).stem) for name in names)


def _taken(one: Before) -> str:
    return f"taken in {one.at:%Y-%m-%d %H:%M}" if one.at else f"{one.total} hours"


def take_back(one: Before, records: Records, room_folder: Path, ticks: Callable[[int], None] = lambda _: None) -> Back:
    """Take a file's readings out of the records; NotSaved and OSError when they could not all be.

    An hour that it gave alone is emptied, one that it shares is reckoned anew from the other files. That it is going
    is written down first and that it is gone last: where it is cut short, the list says so, and taking it back again
    finishes it.
    """
    note(room_folder, one.copy, "back")
    known = copies(room_folder)
    others = Others(room_folder, known)
    changed: list[Hour] = []
    stay = 0
    for number, hour in enumerate(records.hours(date.min), 1):
        if number % _STEP == 0:
            ticks(_STEP)
        if one.copy in _given_by(hour):
            anew = without(hour, one.copy, others)
            changed += [anew] if anew is not None else []
            stay += anew is None
    with records.together():
        for hour in changed:
            records.save(hour)
    # else the mistake would be made again, unasked
    forgotten = one.copy in known and forget(room_folder, known[one.copy].takings)
    copy = room_folder / FOLDER / one.copy
    # an hour that stays still names the copy
    kept = (copy if copy.exists() else None) if stay else let_go(room_folder, one.copy)
    emptied = sum(hour.n == 0 for hour in changed)
    return Back(one.name, one.copy, emptied, len(changed) - emptied, stay, kept, tuple(sorted(others.gone)), forgotten)
