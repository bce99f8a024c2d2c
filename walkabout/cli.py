"""The commands. Thin: each finds its folder, and what it does is done elsewhere.

What a command needs is imported inside it, so that help and mistakes are said at once.
"""
# ruff: noqa: PLC0415

import gc
import os
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from walkabout import __version__
from walkabout.ends import Commands
from walkabout.exits import DONE, WRONG_USE
from walkabout.room.places import demo_folder, room_folder

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from walkabout.round.opened import OpenRoom

PLAIN_VARIABLE = "WALKABOUT_PLAIN"

Function = TypeVar("Function", bound=Callable[..., Any])


class Options:
    """The options that every command knows, wherever they stand on the line."""

    room: Path | None = None
    plain: bool = False

    @property
    def folder(self) -> Path:
        """Return the folder of the room."""
        return room_folder(self.room)


def _keep_room(ctx: click.Context, _: click.Parameter, value: Path | None) -> None:
    options = ctx.ensure_object(Options)
    options.room = value or options.room


def _keep_plain(ctx: click.Context, _: click.Parameter, value: bool) -> None:  # noqa: FBT001
    options = ctx.ensure_object(Options)
    options.plain = value or options.plain or os.environ.get(PLAIN_VARIABLE, "") not in ("", "0")


def room_option(function: Function) -> Function:
    """Add --room."""
    says = "The room's folder, else WALKABOUT_ROOM, else the one among your own data."
    kind = click.Path(path_type=Path)
    option = click.option("--room", metavar="DIR", type=kind, callback=_keep_room, expose_value=False, help=says)
    return option(function)


def plain_option(function: Function) -> Function:
    """Add --plain."""
    says = "Lines to read and type instead of the full screen; WALKABOUT_PLAIN=1 does the same."
    return click.option("--plain", is_flag=True, callback=_keep_plain, expose_value=False, help=says)(function)


json_option = click.option("--json", "as_json", is_flag=True, help="For other programs to read.")


@click.group(cls=Commands, invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@room_option
@plain_option
@click.version_option(__version__, message="walkabout %(version)s")
@click.pass_context
def cli(ctx: click.Context) -> int:
    """Walk the morning round of a school growing room: what to look at, what it means, who does what.

    Without a command the room opens. Exit status: 0 done, 1 something to attend to, 2 wrong use.
    """
    if ctx.invoked_subcommand is not None:
        return DONE
    options = ctx.ensure_object(Options)
    if options.room is None and not _has_room(options.folder):
        return _without_room(options)
    return _open(_must_have_room(options), options, "today")


@cli.command("round")
@click.option("--as", "walker", metavar="CODE", default="", help="Who walks, by code.")
@plain_option
@room_option
@click.pass_obj
def round_(options: Options, walker: str) -> int:
    """Walk today's round, or go on with it."""
    folder = _must_have_room(options)
    return _open(folder, options, "round", _known_walker(folder, walker) if walker else "")


@cli.command()
@plain_option
@click.pass_obj
def demo(options: Options) -> int:
    """Open an invented room, made afresh, to look around in."""
    _must_have_terminal(options)
    return _open(_make_demo(), options, "today")


@cli.command()
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


@cli.command()
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
        _print_json({"mistakes": rows})
    else:
        for line in map(str, mistakes):
            click.echo(visible(line))
        if not mistakes:
            click.echo("no mistakes")
    return WRONG_USE if mistakes else DONE


@cli.command()
@json_option
@room_option
@click.pass_obj
def today(options: Options, *, as_json: bool) -> int:
    """Say what today asks.

    The round, the jobs that are due and the findings that are open.
    """
    from walkabout.plain.dialogue import Dialogue
    from walkabout.plain.today import today_facts, today_lines
    from walkabout.round.today import today_page

    with _opened(_must_have_room(options)) as opened:
        page = today_page(opened)
        if as_json:
            _print_json(today_facts(opened, page))
        else:
            Dialogue().say(*today_lines(opened, page))
    return DONE


@cli.command()
@json_option
@room_option
@click.pass_obj
def jobs(options: Options, *, as_json: bool) -> int:
    """List the open jobs, and who may do them.

    They stand by hours to loss: what would be lost first is done first.
    """
    from walkabout.jobs.life import ordered
    from walkabout.plain.dialogue import Dialogue
    from walkabout.plain.outcome import job_lines

    with _opened(_must_have_room(options)) as opened:
        rows = ordered(opened.jobs.values())
        if as_json:
            import msgspec

            _print_json({"jobs": [msgspec.to_builtins(one) | {"name": opened.name_of(one.station)} for one in rows]})
        else:
            Dialogue().say(*job_lines(opened, rows, "Open jobs"))
    return DONE


@cli.command(context_settings={"ignore_unknown_options": True})
@click.argument("name", metavar="[NAME]", required=False)
@click.argument("given", metavar="[KEY=VALUE]…", nargs=-1)
@json_option
@room_option
@click.pass_obj
def reckon(options: Options, name: str | None, given: tuple[str, ...], *, as_json: bool) -> int:
    """Work something out, with the working.

    Without a NAME all that can be worked out is listed; with a NAME alone, what it takes. Values may have
    units: air=75F, volume=20gal, ec=1400uS/cm. Where there is a room, its own recipes are known too.
    """
    from walkabout.plain import reckon as face
    from walkabout.reckon.catalogue import find
    from walkabout.reckon.read import reckon as work_out
    from walkabout.reckon.read import split, take

    try:
        if not name:
            facts, lines = {"reckonings": face.all_facts()} if as_json else {}, [] if as_json else face.all_lines()
        elif not given and (one := find(name)).example:
            facts, lines = face.takes_facts(one), face.takes_lines(one)
        else:
            one = find(name)
            taken = take(one, split(given))
            reckoned = work_out(one, taken, _own_recipes(options) if one.own_recipes else ())
            facts, lines = face.facts(one, taken, reckoned), face.lines(one, reckoned)
    except ValueError as error:
        raise click.UsageError(_visible(str(error))) from error
    if as_json:
        _print_json(facts)
    else:
        for line in lines:
            click.echo(_visible(line))
    return DONE


@cli.command()
@click.argument("code", metavar="CODE")
@click.option("--yes", is_flag=True, help="Do not ask for the code once more.")
@room_option
@click.pass_obj
def purge(options: Options, code: str, *, yes: bool) -> int:
    """Take a person's code out of the records.

    What the plants did stays. The entry in room.toml has to be taken out by hand.
    """
    from walkabout.plain.purging import purge_code

    return purge_code(_must_have_room(options), code, sure=yes)


def _open(folder: Path, options: Options, start: str, walker: str = "") -> int:
    """Open a room in the face that was asked for."""
    gc.disable()  # nothing made during a start is waste; the full screen enables it behind its first paint
    from walkabout.round.opened import CannotOpen

    try:
        if options.plain:
            gc.enable()
            return _open_plain(folder, options, start, walker)
        _must_have_terminal(options)
        if not os.environ.get("NO_COLOR"):
            os.environ.pop("NO_COLOR", None)  # set to nothing counts as not set; textual would not think so
        from walkabout.screens.app import run

        return run(folder, start, walker)
    except CannotOpen as error:
        raise click.UsageError(_visible(str(error))) from error


def _open_plain(folder: Path, options: Options, start: str, walker: str) -> int:
    import shlex

    from walkabout.plain.round import run
    from walkabout.plain.today import say_today

    named = f" --room {shlex.quote(str(folder))}" if options.room is not None or folder == demo_folder() else ""
    again = f"walkabout{named} round --plain"
    if start == "today" and not say_today(folder, again):
        return DONE
    return run(folder, walker, again)


def _opened(folder: Path) -> "closing[OpenRoom]":
    """Return a context in which the room is open."""
    from walkabout.round.opened import CannotOpen, OpenRoom

    try:
        return closing(OpenRoom(folder))
    except CannotOpen as error:
        raise click.UsageError(_visible(str(error))) from error


def _own_recipes(options: Options) -> "Sequence[object]":
    """Return the recipes of the room, if there is one that can be read."""
    from walkabout.checklist.read import kinds
    from walkabout.room.read import read_room
    from walkabout.round.own import own_recipes

    folder = options.folder
    room = read_room(folder, kinds(folder)).room if _has_room(folder) else None
    return own_recipes(room.recipes) if room is not None else ()


def _has_room(folder: Path) -> bool:
    from walkabout.room.read import FILE

    return (folder / FILE).exists() or (folder / "backups" / FILE).exists()


def _must_have_room(options: Options) -> Path:
    folder = options.folder
    if not _has_room(folder):
        raise click.UsageError(f"There is no room in {folder}. To set one up: walkabout new {folder}")
    return folder


def _known_walker(folder: Path, typed: str) -> str:
    """Return the code that was meant, before anything opens."""
    from walkabout.checklist.read import kinds
    from walkabout.room.read import read_room
    from walkabout.round.walkers import find_walker

    room = read_room(folder, kinds(folder)).room
    if room is None:
        return typed  # what is wrong with the file is said when the room opens
    try:
        return find_walker(room, typed, _today())
    except ValueError as error:
        raise click.UsageError(str(error)) from error


def _must_have_terminal(options: Options) -> None:
    """Refuse the full screen where it cannot be drawn: it would never end there."""
    if options.plain:
        return
    streams = (sys.stdin, sys.stdout, sys.stderr)
    if not all(stream is not None and stream.isatty() for stream in streams) or os.environ.get("TERM") == "dumb":
        raise click.UsageError("The full screen needs a terminal. Add --plain to walk the round in lines.")


def _without_room(options: Options) -> int:
    """Offer the demo, or to set a room up."""
    folder = options.folder
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise click.UsageError(f"There is no room in {folder}. To set one up: walkabout new {folder}")
    from walkabout.plain.asking import pick
    from walkabout.plain.dialogue import Dialogue, Ended
    from walkabout.plain.setup import Given, set_up

    try:
        rows = ["look around in an invented room", "set up your own room by answering questions"]
        place = pick(Dialogue(), f"There is no room yet in {folder}.", rows, "neither")
    except Ended:
        return DONE
    if place is None:
        return DONE
    return _open(_make_demo(), options, "today") if place == 0 else set_up(folder, Given())


def _make_demo() -> Path:
    from walkabout.demo.make import fresh

    try:
        return fresh(demo_folder(), _today())
    except OSError as error:
        raise click.ClickException(f"The demo room cannot be made: {error.strerror or error}.") from error


def _today() -> "date":
    from datetime import date

    return date.today()  # noqa: DTZ011 - the day on this machine's wall


def _print_json(value: object) -> None:
    import json

    click.echo(json.dumps(value, indent=2))


def _visible(text: str) -> str:
    from walkabout.plain.dialogue import visible

    return "\n".join(map(visible, text.split("\n")))


def main() -> None:
    """Run the commands; text that a terminal cannot show, or that is no text, stops nothing."""
    for stream, instead in ((sys.stdin, "replace"), (sys.stdout, "backslashreplace"), (sys.stderr, "backslashreplace")):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors=instead)
    cli()
