"""This much every week: a sowing plan that fits the places free."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

import sys
import threading
import time
from types import TracebackType

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


@click.command()
@click.argument("crop")
@click.argument("amount")
@click.option("--every", metavar="WEEK", default="week", help="week, or such as '2 weeks'.", show_default=True)
@click.option("--from", "first", metavar="DAY", required=True, help="The first day on which it is wanted.")
@click.option("--to", "last", metavar="DAY", required=True, help="The last day.")
@click.option("--station", metavar="KEY", multiple=True, help="Grow it only here; repeatable.")
@json_option
@room_option
@click.pass_obj
def succession(
    options: Options,
    crop: str,
    amount: str,
    every: str,
    first: str,
    last: str,
    station: tuple[str, ...],
    *,
    as_json: bool,
) -> int:
    """Plan sowings so that there is an AMOUNT of a CROP every week.

    Such as: walkabout succession lettuce "12 heads" --from 2027-01-11 --to 2027-03-26

    The plan fits the places free at each station. What does not fit is said, with the nearest plan that does; the
    exit status is 1 then. Nothing is written down.
    """
    from walkabout.almanac.course import courses
    from walkabout.almanac.learned import learned
    from walkabout.almanac.succession import plan
    from walkabout.almanac.wanted import read_wanted
    from walkabout.plain.succession import succession_facts, succession_lines
    from walkabout.plain.wrapping import wrapped
    from walkabout.round.almanac import basis_of

    with opened_room(must_have_room(options)) as opened:
        basis = basis_of(opened)
        try:
            wanted = read_wanted(crop, amount, every, first, last, station, basis)
            known = learned(basis)
            with Shown() as shown:
                found = plan(wanted, basis, courses(basis, known), known, shown.tell)
        except ValueError as error:
            raise click.UsageError(visible(str(error))) from error
        if as_json:
            print_json(succession_facts(found, basis))
        else:
            for line in wrapped(succession_lines(found, basis)):
                click.echo(visible(line))
    return ATTEND if found.short else DONE


class Shown:
    """One line on stderr that says what is being done and for how many seconds; nothing where nobody watches."""

    def __init__(self) -> None:
        self._watched = sys.stderr.isatty()
        self._begun = time.monotonic()
        self._says = ""
        self._over = threading.Event()
        self._ticks = threading.Thread(target=self._tick, daemon=True)

    def __enter__(self) -> "Shown":
        if self._watched:
            self._ticks.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        if self._watched:
            self._over.set()
            self._ticks.join()
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()

    def tell(self, says: str) -> None:
        """Say what is being done from now on."""
        self._says = says
        self._draw()

    def _tick(self) -> None:
        while not self._over.wait(0.5):
            self._draw()

    def _draw(self) -> None:
        if self._watched and self._says:
            sys.stderr.write(f"\r\x1b[K{visible(self._says)} … {time.monotonic() - self._begun:.0f} s")
            sys.stderr.flush()
