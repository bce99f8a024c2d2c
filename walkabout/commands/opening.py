"""Opening a room: full screen or in lines, one's own or the invented one."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

import gc
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from walkabout.commands.options import (
    Options,
    must_have_room,
    plain_option,
    room_option,
    today,
    visible,
)
from walkabout.exits import DONE
from walkabout.room.places import demo_folder

if TYPE_CHECKING:
    from walkabout.room.read import RoomFile


@click.command("round")
@click.option("--as", "walker", metavar="CODE", default="", help="Who walks, by code.")
@plain_option
@room_option
@click.pass_obj
def round_(options: Options, walker: str) -> int:
    """Walk today's round, or go on with it."""
    folder = must_have_room(options)
    if not walker:
        return open_room(folder, options, "round")
    found = _read(folder)
    return open_room(folder, options, "round", _known_walker(found, walker), found)


@click.command()
@plain_option
@click.pass_obj
def demo(options: Options) -> int:
    """Open an invented room, made afresh, to look around in."""
    must_have_terminal(options)
    return open_room(_make_demo(), options, "today")


def open_room(folder: Path, options: Options, start: str, walker: str = "", found: "RoomFile | None" = None) -> int:
    """Open a room in the face that was asked for; `found` is what was read of its room.toml just now."""
    gc.disable()  # nothing made during a start is waste; the full screen enables it behind its first paint
    from walkabout.round.opened import CannotOpen

    try:
        if options.plain:
            gc.enable()
            return _open_plain(folder, options, start, walker)
        must_have_terminal(options)
        if not os.environ.get("NO_COLOR"):
            os.environ.pop("NO_COLOR", None)  # set to nothing counts as not set; textual would not think so
        from walkabout.screens.app import run

        return run(folder, start, walker, found)
    except CannotOpen as error:
        raise click.UsageError(visible(str(error))) from error


def _open_plain(folder: Path, options: Options, start: str, walker: str) -> int:
    import shlex

    from walkabout.plain.round import run
    from walkabout.plain.today import say_today

    named = f" --room {shlex.quote(str(folder))}" if options.room is not None or folder == demo_folder() else ""
    again = f"walkabout{named} round --plain"
    if start == "today" and not say_today(folder, again):
        return DONE
    return run(folder, walker, again)


def _read(folder: Path) -> "RoomFile":
    from walkabout.checklist.read import kinds
    from walkabout.room.read import read_room

    return read_room(folder, kinds(folder))


def _known_walker(found: "RoomFile", typed: str) -> str:
    """Return the code that was meant, before anything opens."""
    from walkabout.round.walkers import find_walker

    if found.room is None:
        return typed  # what is wrong with the file is said when the room opens
    try:
        return find_walker(found.room, typed, today())
    except ValueError as error:
        raise click.UsageError(str(error)) from error


def must_have_terminal(options: Options) -> None:
    """Refuse the full screen where it cannot be drawn: it would never end there."""
    if options.plain:
        return
    streams = (sys.stdin, sys.stdout, sys.stderr)
    if not all(stream is not None and stream.isatty() for stream in streams) or os.environ.get("TERM") == "dumb":
        raise click.UsageError("The full screen needs a terminal. Add --plain to walk the round in lines.")


def without_room(options: Options) -> int:
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
    return open_room(_make_demo(), options, "today") if place == 0 else set_up(folder, Given())


def _make_demo() -> Path:
    from walkabout.demo.make import fresh

    try:
        return fresh(demo_folder(), today())
    except OSError as error:
        raise click.ClickException(f"The demo room cannot be made: {error.strerror or error}.") from error
