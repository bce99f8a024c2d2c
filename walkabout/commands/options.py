"""What commands share: the options that stand anywhere, the room that is meant, and how something is printed."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

import os
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from walkabout.room.places import room_folder

if TYPE_CHECKING:
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


def has_room(folder: Path) -> bool:
    """Say whether there is a room in a folder."""
    from walkabout.room.read import FILE

    return (folder / FILE).exists() or (folder / "backups" / FILE).exists()


def must_have_room(options: Options) -> Path:
    """Return the folder of the room; wrong use where there is none."""
    folder = options.folder
    if not has_room(folder):
        raise click.UsageError(f"There is no room in {folder}. To set one up: walkabout new {folder}")
    return folder


def opened_room(folder: Path) -> "closing[OpenRoom]":
    """Return a context in which the room is open."""
    from walkabout.round.opened import CannotOpen, OpenRoom

    try:
        return closing(OpenRoom(folder))
    except CannotOpen as error:
        raise click.UsageError(visible(str(error))) from error


def today() -> "date":
    """Return the day on this machine's wall."""
    from datetime import date

    return date.today()  # noqa: DTZ011 - the room has no clock yet


def print_json(value: object) -> None:
    """Print for other programs."""
    import json

    click.echo(json.dumps(value, indent=2))


def visible(text: str) -> str:
    """Return lines with everything that could steer a terminal written out."""
    from walkabout.plain.dialogue import visible as one_line

    return "\n".join(map(one_line, text.split("\n")))
