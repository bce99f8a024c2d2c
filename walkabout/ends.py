"""How every command ends: with a status, and with one line where something went wrong."""

# ruff: noqa: PLC0415 - what only a failure needs is imported when there is one

import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from typing import Any

import click

from walkabout.exits import ATTEND, DONE, INTERRUPTED
from walkabout.room.places import data_folder

LOG = "errors.log"


class Commands(click.Group):
    """Loads a command when it is called, ends it with a status, and every mistake with one line."""

    places: dict[str, str]
    """Name -> "module:function" of each command."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names of all commands."""
        return sorted(self.places)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return a command, loaded now; None when there is none of this name."""
        place = self.places.get(cmd_name)
        if place is None:
            return None
        module, _, function = place.partition(":")
        command: click.Command = getattr(import_module(module), function)
        return command

    def main(self, args: Sequence[str] | None = None, **more: Any) -> Any:  # type: ignore[override]
        """Run and exit. A failure that nobody thought of is written to a file, not over the screen."""
        more["standalone_mode"] = False
        more["prog_name"] = "walkabout"
        try:
            status = super().main(args=args, **more)
        except click.exceptions.Abort:
            _complain("stopped.")
            status = INTERRUPTED
        except click.ClickException as error:
            _complain(error.format_message())
            status = error.exit_code
        except BrokenPipeError:
            status = DONE
        except Exception as error:
            status = _failed(error)
        _let_go()
        sys.exit(status if isinstance(status, int) else DONE)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Name the nearest command when there is none of this name."""
        if args and not args[0].startswith("-") and args[0] not in self.places:
            from difflib import get_close_matches

            near = get_close_matches(args[0], self.places, n=1, cutoff=0.5)
            right = f'Did you mean "{near[0]}"?' if near else f"There are: {', '.join(self.places)}."
            raise click.UsageError(f'There is no command "{args[0]}". {right}')
        return super().resolve_command(ctx, args)


def _let_go() -> None:
    """Where nobody reads any more, or the terminal is gone, what is left to be said is not complained about."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except (OSError, ValueError):
            with suppress(OSError, ValueError):
                os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _complain(text: str) -> None:
    click.echo(f"walkabout: {text}", err=True)


def _failed(error: Exception) -> int:
    """Write what happened to a file that can be sent to somebody, and say where it is."""
    import traceback
    from datetime import datetime
    from tempfile import gettempdir

    written = f"{datetime.now().astimezone():%Y-%m-%d %H:%M:%S%z}\n{''.join(traceback.format_exception(error))}\n"
    for place in (data_folder, gettempdir):
        try:
            folder = Path(place())
            folder.mkdir(parents=True, exist_ok=True)
            with (folder / LOG).open("a", encoding="utf-8", errors="backslashreplace") as log:
                log.write(written)
        except Exception:
            continue  # whatever else is broken, the person gets one line
        where = f"What happened is written in {folder / LOG}."
        break
    else:
        where = "What happened could not be written to a file."
    _complain(
        f"an error that should not have been ({type(error).__name__}). What was said to be saved is saved. {where}"
    )
    return ATTEND
