"""What the dates say, as lines or as a calendar; terms, closures and public holidays taken in."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import click

from walkabout.commands.options import (
    Options,
    json_option,
    must_have_room,
    opened_room,
    print_json,
    room_option,
    visible,
)
from walkabout.exits import ATTEND, DONE

if TYPE_CHECKING:
    from walkabout.room.ics import Dates
    from walkabout.room.model import Closure, Room

WEEKS = 8
LONGEST_DAYS = 732
"""Two years: nobody plans a room further."""


@click.command()
@click.option("--from", "since", metavar="DAY", default="", help="The first day; today when not given.")
@click.option("--to", "until", metavar="DAY", default="", help="The last day; eight weeks on when not given.")
@click.option("--ics", "file", metavar="FILE", default="", help="Write a calendar file; - for standard output.")
@json_option
@room_option
@click.pass_obj
def almanac(options: Options, since: str, until: str, file: str, *, as_json: bool) -> int:
    """Say what the dates say.

    What to sow, move, harvest and change, how the promises stand, and what the closures ahead need. A calendar
    file that is written again updates the calendar that takes it in. A file that this command did not write is
    never written over.
    """
    from walkabout.plain.almanac import almanac_facts, almanac_lines
    from walkabout.plain.dialogue import Dialogue
    from walkabout.round.almanac import almanac_of

    if file == "-" and as_json:
        raise click.UsageError("Only one of --json and --ics - can go to standard output.")
    with opened_room(must_have_room(options)) as opened:
        today = opened.today()
        first = _day(since, "--from") if since else today
        last = _day(until, "--to") if until else first + timedelta(weeks=WEEKS)
        if last < first:
            raise click.UsageError(f"--to is {last}, and that is before {first}.")
        if (last - first).days > LONGEST_DAYS:
            raise click.UsageError("The almanac looks two years ahead at most.")
        found = almanac_of(opened, first, last)
        if file:
            from walkabout.paper.feed import feed

            _write(feed(found, opened.room, opened.clock()), file, len(found.entries), quiet=as_json)
        if as_json:
            print_json(almanac_facts(found, opened.room))
        elif not file:
            Dialogue().say(*almanac_lines(found, opened.room, today))
    return DONE


@click.command()
@click.argument("file", metavar="[FILE.ics]", required=False, type=click.Path(path_type=Path))
@click.option("--holidays", "places", metavar="COUNTRY[-REGION]", multiple=True, help="Public holidays; repeatable.")
@click.option("--year", "years", type=int, multiple=True, help="The year of the holidays; repeatable.")
@click.option("--only", metavar="TEXT", default="", help="Only what has this text in its name.")
@click.option("--write", is_flag=True, help="Add what was found to room.toml.")
@json_option
@room_option
@click.pass_obj
def dates(
    options: Options,
    file: Path | None,
    places: tuple[str, ...],
    years: tuple[int, ...],
    only: str,
    *,
    write: bool,
    as_json: bool,
) -> int:
    """Find terms, closures and public holidays.

    They come from a calendar file, or from the country's public holidays. What was found is shown; only with --write
    it is added at the end of room.toml. An event whose name or category speaks of a term is a term, any other that
    lasts whole days a closure. Exit status 1 when something was left out.
    """
    from walkabout.checklist.read import kinds
    from walkabout.plain.dates import dates_facts, dates_lines
    from walkabout.plain.dialogue import Dialogue

    if file is None and not places:
        raise click.UsageError("Name a calendar file, or a country: walkabout dates --holidays NZ --year 2027")
    if bool(places) != bool(years):
        raise click.UsageError("--holidays and --year go together: walkabout dates --holidays NZ --year 2027")
    folder = must_have_room(options)
    room = _room(folder)
    found = _found(file, room)
    closures = [*found.closures, *_holidays(places, years, room)]
    if only:
        closures = [one for one in closures if only.casefold() in one.name.casefold()]
    terms = [one for one in found.terms if only.casefold() in one.name.casefold()]
    if as_json:
        print_json(dates_facts(closures, terms, found.skipped, found.notes, room))
    else:
        Dialogue().say(*dates_lines(closures, terms, found.skipped, found.notes, room))
    if closures or terms:
        from walkabout.room.dates_file import ByHand, add_dates, not_in

        count = len(not_in(closures, room.closures)) + len(not_in(terms, room.terms))
        if write:
            try:
                add_dates(folder, closures, terms, kinds(folder))
            except ByHand as error:
                raise click.ClickException(visible("\n".join((str(error), *error.lines)))) from error
            except ValueError as error:
                raise click.ClickException(visible(str(error))) from error
        if not as_json:
            Dialogue().say(_outcome(count, write=write))
    return ATTEND if found.skipped else DONE


def _outcome(count: int, *, write: bool) -> str:
    if not count:
        return "All of it is in room.toml already."
    if write:
        return f"Added to room.toml: {count}. The file as it was is in backups/room-before-dates.toml."
    return (
        f"Nothing was written. To add {'it' if count == 1 else f'these {count}'} to room.toml: the same with --write."
    )


def _room(folder: Path) -> "Room":
    from walkabout.checklist.read import kinds
    from walkabout.room.read import read_room

    found = read_room(folder, kinds(folder))
    if found.room is None:
        raise click.UsageError(visible(str(found.mistakes[0])))
    return found.room


def _found(file: Path | None, room: "Room") -> "Dates":
    from datetime import time

    from walkabout.room.calendar import local_now
    from walkabout.room.ics import Dates, read_dates

    if file is None:
        return Dates()
    try:
        return read_dates(file.expanduser(), today=local_now().date(), starts=time.fromisoformat(room.starts))
    except ValueError as error:
        raise click.UsageError(visible(str(error))) from error


def _holidays(places: Sequence[str], years: Sequence[int], room: "Room") -> "list[Closure]":
    from walkabout.room.holidays import public_holidays

    try:
        return [one for place in places for one in public_holidays(place, years, room)]
    except ValueError as error:
        raise click.UsageError(visible(str(error))) from error


def _day(typed: str, option: str) -> date:
    from walkabout.plain.asking import read_day
    from walkabout.reckon.typed_day import day

    try:
        return read_day(day(typed).isoformat())
    except ValueError as error:
        raise click.UsageError(visible(f"{option}: {error}")) from error


def _write(data: bytes, file: str, count: int, *, quiet: bool) -> None:
    """Write the calendar, but over nothing that this program did not write."""
    from walkabout.paper.feed import MADE_BY
    from walkabout.records.disk import write_whole

    if file == "-":
        click.echo(data, nl=False)
        return
    path = Path(file).expanduser()
    try:
        if path.exists():
            if not path.is_file():
                raise click.UsageError(visible(f"{file} is not a file. Name another one."))
            with path.open("rb") as opened:
                begin = opened.read(1000)
            if not begin.startswith(b"BEGIN:VCALENDAR"):
                raise click.UsageError(visible(f"{file} is not a calendar. It was left as it is: name another one."))
            if f"PRODID:{MADE_BY}".encode() not in begin:
                says = f"{file} is a calendar that somebody else made. It was left as it is: name another one."
                raise click.UsageError(visible(says))
        write_whole(path.resolve(), data)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise click.ClickException(visible(f"{file} cannot be written: {why}.")) from error
    if not quiet:
        click.echo(visible(f"Written: {file}, {count} date{'s' if count != 1 else ''}."))
