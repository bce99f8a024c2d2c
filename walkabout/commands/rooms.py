"""Setting a room up, checking its files, taking a code out of its records."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

from pathlib import Path

import click

from walkabout.commands.options import Options, json_option, must_have_room, print_json, room_option
from walkabout.exits import DONE, WRONG_USE


@click.command()
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@click.option("--name", default="", help="What the room is called.")
@click.option("--units", type=click.Choice(["metric", "US"], case_sensitive=False), help="Asked for when not given.")
@click.option("--minutes", type=click.FloatRange(1, 60), help="What the round may take.")
@click.option("--days", default="", metavar='"mon tue …"', help="The days on which somebody walks.")
@click.option("--starts", default="", metavar="08:00", help="When the round is usually walked.")
def new(folder: Path, name: str, units: str | None, minutes: float | None, days: str, starts: str) -> int:
    """Set up a room in DIR by asking.

    A room that is there already stays as it is.
    """
    from walkabout.plain.asking import read_days, read_time
    from walkabout.plain.setup import Given, set_up

    try:
        given = Given(
            name=name.strip(),
            units="US" if units == "US" else "metric" if units else None,
            minutes=minutes,
            days=read_days(days) if days else (),
            starts=read_time(starts) if starts else "",
        )
    except ValueError as error:
        raise click.UsageError(str(error)) from error
    return set_up(folder.expanduser(), given)


@click.command()
@click.argument("folder", metavar="[DIR]", required=False, type=click.Path(path_type=Path))
@json_option
@room_option
@click.pass_obj
def check(options: Options, folder: Path | None, *, as_json: bool) -> int:
    """Name the mistakes in a room's files.

    Each stands on a line with file and line number. Exit status 2 when there are any.
    """
    from walkabout.plain.dialogue import visible
    from walkabout.round.opened import check as find_mistakes

    place = folder.expanduser() if folder else options.folder
    if not place.is_dir():
        raise click.UsageError(f"{place} is not a folder.")
    mistakes = find_mistakes(place)
    if as_json:
        rows = [{"file": str(one.file), "line": one.line, "says": one.says, "right": one.right} for one in mistakes]
        print_json({"mistakes": rows})
    else:
        for line in map(str, mistakes):
            click.echo(visible(line))
        if not mistakes:
            click.echo("no mistakes")
    return WRONG_USE if mistakes else DONE


@click.command()
@click.argument("code", metavar="CODE")
@click.option("--yes", is_flag=True, help="Do not ask for the code once more.")
@room_option
@click.pass_obj
def purge(options: Options, code: str, *, yes: bool) -> int:
    """Take a person's code out of the records.

    What the plants did stays. The entry in room.toml has to be taken out by hand.
    """
    from walkabout.plain.purging import purge_code

    return purge_code(must_have_room(options), code, sure=yes)
