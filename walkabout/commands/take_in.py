"""Taking in: an export becomes a room again, a logger's file becomes readings."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

import sys
from pathlib import Path
from typing import TYPE_CHECKING, cast

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
    from walkabout.paper.logger import Taken
    from walkabout.paper.logger_asking import Said
    from walkabout.paper.logger_kept import Taking
    from walkabout.paper.logger_times import Order
    from walkabout.plain.dialogue import Dialogue
    from walkabout.round.opened import OpenRoom


@click.command("take-in")
@click.argument("path", metavar="PATH", required=False, type=click.Path(path_type=Path))
@click.option("--station", metavar="KEY", default="", help="Where a logger's file was read.")
@click.option("--time", metavar="COLUMN", multiple=True, help="The column that says when; twice for day and time.")
@click.option("--column", "columns", metavar="NAME=QUANTITY:UNIT@STATION", multiple=True, help="What a column is.")
@click.option(
    "--order", type=click.Choice(["ymd", "dmy", "mdy", "seconds", "milliseconds"]), help="How days are written."
)
@click.option("--zone", metavar="ZONE", help="The logger's time zone: UTC, +01:00, Europe/Vienna.")
@click.option("--again", is_flag=True, help="Ask anew what the columns are.")
@click.option("--instead", is_flag=True, help="Take back what this very file gave when it was read otherwise.")
@click.option("--list", "listed", is_flag=True, help="List what was taken in.")
@click.option("--back", metavar="NAME", default="", help="Take a file's readings back.")
@click.option("--changed", is_flag=True, help="Take in an export whose tables were changed by hand.")
@json_option
@room_option
@click.pass_obj
def take_in(
    options: Options,
    path: Path | None,
    station: str,
    time: tuple[str, ...],
    columns: tuple[str, ...],
    order: str | None,
    zone: str | None,
    back: str,
    *,
    again: bool,
    instead: bool,
    listed: bool,
    changed: bool,
    as_json: bool,
) -> int:
    """Take in a logger's file, or an export as a new room.

    PATH is a table of readings (CSV), an export's folder or its datapackage.json. Of a logger's file the readings
    are kept by the hour; what its columns are is asked once. A reading is never counted twice. A file that was taken
    in wrongly is taken back with --back and its name, as --list shows it. Exit status 1 when some of a file could
    not be used, or not all of it taken back.
    """
    from walkabout.paper.belonging import belongs
    from walkabout.paper.logger_asking import Said
    from walkabout.paper.logger_columns import BadLogger
    from walkabout.paper.take_in import package_of

    if listed or back:
        if path is not None or (listed and back):
            raise click.UsageError("--list, --back and a PATH are three different things: name one of them.")
        try:
            return _list(options, as_json=as_json) if listed else _back(options, back, as_json=as_json)
        except BadLogger as error:
            raise click.UsageError(visible(str(error))) from error
    if path is None:
        raise click.UsageError(
            "Name a file: walkabout take-in PATH. To see what was taken in: walkabout take-in --list"
        )
    path = path.expanduser()
    if (package := package_of(path)) is not None:
        return _room(options, package, changed=changed, as_json=as_json)
    if not path.is_file():
        says = f"{path} is no export: it has no datapackage.json." if path.is_dir() else f"There is no file {path}."
        raise click.UsageError(visible(says))
    if says := belongs(path):
        raise click.UsageError(visible(says))
    said = Said(station, time, columns, cast("Order | None", order), zone)
    try:
        return _readings(options, path, said, again=again, instead=instead, as_json=as_json)
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


def _readings(options: Options, path: Path, said: "Said", *, again: bool, instead: bool, as_json: bool) -> int:
    from walkabout.commands.logger_questions import taking_by_asking
    from walkabout.paper.logger import take_in_file
    from walkabout.paper.logger_asking import begin, stations_of
    from walkabout.paper.logger_file import read_logger_file
    from walkabout.paper.logger_kept import remember
    from walkabout.plain.dialogue import Dialogue
    from walkabout.records.book import NotSaved

    with opened_room(must_have_room(options)) as opened:
        dialogue = Dialogue()
        try:
            content = path.read_bytes()
            file = read_logger_file(path, content)
            setting = begin(file, said, opened.folder, stations_of(opened.room), again=again)
            taking, asked = taking_by_asking(setting, dialogue, silent=as_json)
            if not instead and not as_json and (asked or sys.stdin.isatty()):
                instead = _instead(opened, content, taking, dialogue)
            with progress(len(file.rows), "Reading") as bar:
                taken = take_in_file(
                    file, content, taking, opened.records, opened.folder, opened.clock(), bar.update, instead=instead
                )
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


def _instead(opened: "OpenRoom", content: bytes, taking: "Taking", dialogue: "Dialogue") -> bool:
    """Ask whether to take back what the very same file gave before; where nobody answers, nothing is taken back."""
    from walkabout.paper.logger_kept import earlier
    from walkabout.paper.logger_words import asks_instead
    from walkabout.plain.dialogue import Ended

    old = earlier(opened.folder, content, taking)
    if old is None:
        return False
    try:
        return dialogue.yes(asks_instead(old, taking, opened.name_of))
    except Ended:
        return False


def _print_facts(taken: "Taken", taking: "Taking") -> None:
    import msgspec

    facts = msgspec.to_builtins(msgspec.structs.asdict(taken) | {"file": str(taken.file)})
    facts["hours"] = {name: facts.pop(name) for name in ("fresh", "changed", "same", "back", "left")}
    print_json(facts | {"taking": msgspec.to_builtins(taking)})


def _print_lines(taken: "Taken") -> None:
    from walkabout.paper.logger_words import lines_of_taken

    for line in lines_of_taken(taken):
        click.echo(visible(line))
    if taken.left:
        click.echo("To take back what it gave then: the same command with --instead.")


def _list(options: Options, *, as_json: bool) -> int:
    from walkabout.paper.logger_back import taken_before
    from walkabout.paper.logger_words import NONE_YET, facts_of_before, line_of_before

    with opened_room(must_have_room(options)) as opened:
        found = taken_before(opened.records, opened.folder)
        if as_json:
            print_json({"files": [*facts_of_before(found)]})
        else:
            for line in [line_of_before(one, opened.name_of) for one in found] or [NONE_YET]:
                click.echo(visible(line))
    return DONE


def _back(options: Options, name: str, *, as_json: bool) -> int:
    from walkabout.paper.logger_back import meant, same_as, take_back, taken_before
    from walkabout.paper.logger_words import WHO_TAKES_BACK, lines_of_back
    from walkabout.records.book import NotSaved

    with opened_room(must_have_room(options)) as opened:
        found = taken_before(opened.records, opened.folder)
        one = meant(name, found)
        try:
            back = take_back(one, opened.records, opened.folder)
        except (OSError, NotSaved) as error:
            says = getattr(error, "strerror", None) or error
            click.echo(visible(f"walkabout: {one.name} is not wholly taken back: {says}."), err=True)
            click.echo(visible(f"To finish it: walkabout take-in --back {one.copy[:8]}"), err=True)
            return ATTEND
    if as_json:
        hours = {"emptied": back.emptied, "anew": back.anew, "stay": back.stay}
        kept = str(back.kept) if back.kept else None
        print_json({"file": back.name, "copy": back.copy, "hours": hours, "kept": kept, "gone": list(back.gone)})
    else:
        for line in [*filter(None, [same_as(name, one)]), *lines_of_back(back, options.folder), WHO_TAKES_BACK]:
            click.echo(visible(line))
    return ATTEND if back.stay else DONE
