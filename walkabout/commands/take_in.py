"""Taking in: an export becomes a room again, a logger's file becomes readings."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

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
from walkabout.commands.progress import progress
from walkabout.exits import ATTEND, DONE

if TYPE_CHECKING:
    from collections.abc import Collection

    from walkabout.paper.logger import Taken
    from walkabout.paper.logger_file import LoggerFile
    from walkabout.paper.logger_kept import Taking

SHOWN = 20
"""Lines about cells that cannot be used; the rest is counted."""


@click.command("take-in")
@click.argument("path", metavar="PATH", type=click.Path(path_type=Path))
@click.option("--station", metavar="KEY", default="", help="Where a logger's file was read.")
@click.option("--time", metavar="COLUMN", multiple=True, help="The column that says when; twice for day and time.")
@click.option("--column", "columns", metavar="NAME=QUANTITY:UNIT@STATION", multiple=True, help="What a column is.")
@click.option(
    "--order", type=click.Choice(["ymd", "dmy", "mdy", "seconds", "milliseconds"]), help="How days are written."
)
@click.option("--zone", metavar="ZONE", help="The logger's time zone: UTC, +01:00, Europe/Vienna.")
@click.option("--again", is_flag=True, help="Ask anew what the columns are.")
@click.option("--changed", is_flag=True, help="Take in an export whose tables were changed by hand.")
@json_option
@room_option
@click.pass_obj
def take_in(
    options: Options,
    path: Path,
    station: str,
    time: tuple[str, ...],
    columns: tuple[str, ...],
    order: str | None,
    zone: str | None,
    *,
    again: bool,
    changed: bool,
    as_json: bool,
) -> int:
    """Take in a logger's file, or an export as a new room.

    PATH is a table of readings (CSV), an export's folder or its datapackage.json. Of a logger's file the readings
    are kept by the hour; what its columns are is asked once. A reading is never counted twice. Exit status 1 when
    some of a file could not be used.
    """
    from walkabout.paper.logger_columns import BadLogger
    from walkabout.paper.take_in import package_of

    path = path.expanduser()
    if (package := package_of(path)) is not None:
        return _room(options, package, changed=changed, as_json=as_json)
    if not path.is_file():
        says = f"{path} is no export: it has no datapackage.json." if path.is_dir() else f"There is no file {path}."
        raise click.UsageError(visible(says))
    asked = {"station": station, "time": time, "columns": columns, "order": order, "zone": zone}
    try:
        return _readings(options, path, asked, again=again, as_json=as_json)
    except BadLogger as error:
        raise click.UsageError(visible(str(error))) from error


def _room(options: Options, package: Path, *, changed: bool, as_json: bool) -> int:
    from walkabout.paper.take_in import BadExport, rows_of, take_in
    from walkabout.records.book import NotSaved

    folder = options.folder
    try:
        with progress(rows_of(package), "Reading tables") as bar:
            taken = take_in(package, folder, changed=changed, ticks=bar.update)
    except (BadExport, FileExistsError) as error:
        raise click.UsageError(visible(str(error))) from error
    except (OSError, NotSaved) as error:
        says = getattr(error, "strerror", None) or error
        click.echo(visible(f"walkabout: nothing was taken in: {says}."), err=True)
        return ATTEND
    if as_json:
        print_json({"room": str(taken.folder), "records": taken.records, "told": list(taken.told)})
    else:
        many = ", ".join(f"{number} {name}" for name, number in taken.records.items() if number)
        click.echo(visible(f"Taken in to {taken.folder}: {many or 'no records'}."))
        for line in taken.told:
            click.echo(visible(line))
    return DONE


def _readings(options: Options, path: Path, asked: dict[str, Any], *, again: bool, as_json: bool) -> int:
    from walkabout.paper.logger import take_in_file
    from walkabout.paper.logger_file import read_logger_file
    from walkabout.paper.logger_kept import remember
    from walkabout.records.book import NotSaved
    from walkabout.room.model import WHOLE_ROOM

    with opened_room(must_have_room(options)) as opened:
        stations = (*(one.key for one in opened.room.stations), WHOLE_ROOM)
        try:
            content = path.read_bytes()
            file = read_logger_file(path, content)
            taking = _taking(file, asked, opened.folder, stations, again=again, silent=as_json)
            with progress(len(file.rows), "Reading") as bar:
                taken = take_in_file(file, content, taking, opened.records, opened.folder, opened.clock(), bar.update)
            remember(opened.folder, file.names, taking)
        except (OSError, NotSaved) as error:
            says = getattr(error, "strerror", None) or error
            click.echo(visible(f"walkabout: {path} was not taken in: {says}."), err=True)
            return ATTEND
    if as_json:
        _print_facts(taken, taking)
    else:
        _print_lines(taken)
    return ATTEND if taken.wrong else DONE


def _taking(
    file: "LoggerFile",
    asked: dict[str, Any],
    folder: Path,
    stations: "Collection[str]",
    *,
    again: bool,
    silent: bool,
) -> "Taking":
    """Return how the file is to be read: as said now, else as remembered, else as answered."""
    import msgspec

    from walkabout.commands import logger_questions as face
    from walkabout.paper.logger_columns import BadLogger, read_column, station_in
    from walkabout.paper.logger_file import sampled, time_columns
    from walkabout.paper.logger_kept import Taking, remembered
    from walkabout.paper.logger_times import Order, orders_of, zone_in, zone_of
    from walkabout.plain.dialogue import Dialogue, Ended

    known = None if again or asked["columns"] else remembered(folder, file.names)
    if asked["station"]:
        station_in(asked["station"], stations)
    if known is not None:
        columns = known.columns
        if asked["station"]:
            columns = tuple(msgspec.structs.replace(one, station=asked["station"]) for one in columns)
        for one in columns:
            station_in(one.station, stations)
        known = msgspec.structs.replace(known, columns=columns, order=asked["order"] or known.order)
        return known if asked["zone"] is None else msgspec.structs.replace(known, zone=asked["zone"])
    time: tuple[str, ...] = asked["time"]
    for name in time:
        if name not in file.names:
            raise BadLogger(f'{file.path}:1: there is no column "{name}". It has: {", ".join(file.names)}')
    if time:
        orders = orders_of(sampled(file, time))
    else:
        time, orders = time_columns(file)
    zone = asked["zone"] if asked["zone"] is not None else next(filter(None, map(zone_in, time)), "")
    zone_of(zone)
    dialogue = Dialogue()
    try:
        order = cast("Order | None", asked["order"])
        if order is None:
            if not orders:
                raise BadLogger(f'{file.path}: column "{time[0]}" holds no days and times that can be read')
            order = orders[0]
            if example := face.open_order(file, time, orders):
                if silent or asked["columns"]:
                    raise BadLogger(
                        f"{file.path}: {example} can be read two ways. Say which: --order dmy or --order mdy"
                    )
                order = face.ask_order(dialogue, example)
        if asked["columns"]:
            columns = tuple(read_column(one, file.names, asked["station"], stations) for one in asked["columns"])
        elif silent:
            raise BadLogger(f"{file.path} is new here. {face.how_to_say(file, stations)}")
        else:
            columns = face.ask_columns(file, time, dialogue, asked["station"], stations)
    except Ended:
        raise BadLogger(f"{file.path} is new here. {face.how_to_say(file, stations)}") from None
    if not columns:
        raise BadLogger(f"{file.path}: no column was named, so nothing was taken in")
    return Taking(time, order, columns, zone)


def _print_facts(taken: "Taken", taking: "Taking") -> None:
    import msgspec

    facts = msgspec.to_builtins(msgspec.structs.asdict(taken) | {"file": str(taken.file)})
    facts["hours"] = {name: facts.pop(name) for name in ("fresh", "changed", "same")}
    print_json(facts | {"taking": msgspec.to_builtins(taking)})


def _print_lines(taken: "Taken") -> None:
    for line in taken.wrong[:SHOWN]:
        click.echo(visible(line))
    if len(taken.wrong) > SHOWN:
        click.echo(f"And {len(taken.wrong) - SHOWN} more that cannot be used.")
    for line in taken.told:
        click.echo(visible(line))
    hours = f"{taken.fresh} hours new, {taken.changed} changed, {taken.same} as they were"
    click.echo(visible(f"{taken.readings} readings of {taken.file.name}: {hours}."))
