"""What is on record and what has shifted, in lines or for other programs."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

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
from walkabout.exits import DONE

if TYPE_CHECKING:
    from walkabout.round.opened import OpenRoom

SPANS = ("weeks", "term", "year", "all")
"""Two weeks, the term (else 12 weeks), a year, all there is."""


@click.command()
@click.option("--station", metavar="KEY", default="", help="One station: the trend of everything that is read there.")
@click.option("--span", type=click.Choice(SPANS), default="term", show_default=True, help="How far back.")
@json_option
@room_option
@click.pass_obj
def logbook(options: Options, station: str, span: str, *, as_json: bool) -> int:
    """Say what is on record, and what has shifted.

    A shift is told only where it is more than chance. With --station the trend of every reading and scored answer
    there is said in sentences, with what was done beside it; what a logger read stands there too, "by logger". The
    span "weeks" is two weeks, "term" 12 weeks where room.toml names no term; without --station "all" goes back a year.
    """
    from walkabout.plain import logbook as face
    from walkabout.plain.dialogue import Dialogue
    from walkabout.round.logbook import Chosen, spans

    with opened_room(must_have_room(options)) as opened:
        found = spans(opened.room, opened.today())[SPANS.index(span)]
        if station:
            key = _station(opened, station)
            if as_json:
                print_json(face.station_facts(opened, key, found))
            else:
                Dialogue().say(*face.station_lines(opened, key, found))
            return DONE
        longest = spans(opened.room, opened.today())[SPANS.index("year")]
        found = found if found.since >= longest.since else Chosen(longest.name, longest.since)
        if as_json:
            print_json(face.logbook_facts(opened, found))
        else:
            Dialogue().say(*face.logbook_lines(opened, found))
    return DONE


def _station(opened: "OpenRoom", typed: str) -> str:
    """Return the key that was meant; wrong use where there is none such."""
    from walkabout.room.mistakes import nearest
    from walkabout.round.logbook import stations

    known = stations(opened)
    folded = typed.strip().casefold()
    for key, name in known:
        if folded in (key.casefold(), name.casefold()):
            return key
    raise click.UsageError(visible(f'No station is called "{typed}". {nearest(typed, [key for key, _ in known])}'))
