"""Looking up what is behind signs; the lists of signs and causes."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

from collections.abc import Iterable, Iterator
from contextlib import contextmanager, nullcontext
from typing import TYPE_CHECKING

import click

from walkabout.commands.options import (
    Options,
    json_option,
    must_have_room,
    opened_room,
    plain_option,
    print_json,
    room_option,
    visible,
)
from walkabout.exits import DONE

if TYPE_CHECKING:
    from walkabout.round.lookup import Lookup
    from walkabout.round.opened import OpenRoom

TELL = "Say what is seen: walkabout lookup --see 'white dust on old leaves'. Or add --plain to be asked."
MOST_LETTERS = 2000
"""So long a text of --see or --not may be."""


@click.command()
@click.option("--crop", metavar="NAME", default="", help="What grows there, by any name people use.")
@click.option("--see", metavar="TEXT", multiple=True, help="What is seen; a whole sentence will do; repeatable.")
@click.option("--not", "gone", metavar="TEXT", multiple=True, help="What was looked for and is not there.")
@click.option("--reading", metavar="NAME=NUMBER", multiple=True, help="A reading: ph=6.9, EC=1.8mS/cm, air=75F.")
@click.option("--station", metavar="KEY", default="", help="Start from what is on record at a station of the room.")
@plain_option
@json_option
@room_option
@click.pass_obj
def lookup(
    options: Options,
    crop: str,
    see: tuple[str, ...],
    gone: tuple[str, ...],
    reading: tuple[str, ...],
    station: str,
    *,
    as_json: bool,
) -> int:
    """Look up what may be behind signs.

    Likely causes with their reasons, the one look that would tell them apart, and what to do, with who may do it.
    With --plain and nothing to see it asks line by line.

    What was confirmed in a room counts only with --room or --station, so that the same words give the same answer
    everywhere else.
    """
    from walkabout.plain.lookup_lines import answer_facts, answer_lines
    from walkabout.plain.wrapping import wrapped

    _must_be_texts((*see, *gone))
    asks = not (see or gone or reading)
    if asks and (as_json or not options.plain) and not station:
        raise click.UsageError(TELL)
    in_room = options.room is not None or bool(station)
    with opened_room(must_have_room(options)) if in_room else nullcontext() as opened, _told():
        place = _station(opened, station) if opened is not None and station else ""
        found = _begin(opened, place, crop)
        if asks and (as_json or not options.plain):
            raise click.UsageError(f"Say what is seen at {place}: add --see TEXT, or --plain to be asked.")
        if asks:
            return _ask(found, opened, place)
        _take_texts(found, see, gone)
        _take_readings(found, reading)
        if as_json:
            print_json(answer_facts(found))
        elif opened is not None:
            _print(wrapped(answer_lines(found, opened.scales)))
        else:
            _print(wrapped(answer_lines(found)))
    return DONE


@click.command()
@json_option
def signs(*, as_json: bool) -> int:
    """List the signs that a lookup knows, by what they are seen on."""
    from walkabout.plain.lookup_lines import sign_list_facts, sign_list_lines
    from walkabout.plain.wrapping import wrapped

    with _told():
        if as_json:
            print_json(sign_list_facts())
        else:
            _print(wrapped(sign_list_lines()))
    return DONE


@click.command()
@click.argument("name", metavar="[NAME]", nargs=-1)
@json_option
@room_option
@click.pass_obj
def causes(options: Options, name: tuple[str, ...], *, as_json: bool) -> int:
    """List the causes that a lookup knows, or tell all about one.

    What it is, what to look for, how it comes about, how to confirm it, what looks like it, what to do and who may
    do it, when to look again, and the sources. With --room it says how often it was confirmed there.
    """
    from walkabout.plain import lookup_lines as face
    from walkabout.plain.wrapping import wrapped
    from walkabout.round.lookup_pages import find_cause

    with _told():
        cause = find_cause(" ".join(name)) if name else None
        if as_json:
            print_json(face.page_facts(cause) if cause is not None else face.cause_list_facts())
        elif cause is not None:
            _print(wrapped(face.page_lines(cause, _learned(options, cause.key))))
        else:
            _print(wrapped(face.cause_list_lines()))
    return DONE


def _begin(opened: "OpenRoom | None", station: str, crop: str) -> "Lookup":
    """Return a lookup that starts from the room, or from nothing."""
    from walkabout.growing.crops import load
    from walkabout.round.lookup import Lookup
    from walkabout.round.lookup_start import at_station
    from walkabout.round.lookup_typed import crop_of

    key = unknown = ""
    try:
        key = crop_of(Lookup(load()), crop) if crop else ""
    except ValueError as error:
        # what is seen can be looked up all the same
        click.echo(f"walkabout: {visible(str(error))} It goes on without the crop.", err=True)
        unknown = crop
    found = at_station(opened, station, "", crop=key) if opened is not None else Lookup(load(), crop=key)
    if unknown:
        found.not_understood.append(unknown)
    return found


def _must_be_texts(texts: Iterable[str]) -> None:
    """Refuse a text that says nothing, or more than anybody reads."""
    for text in texts:
        if not text.strip():
            raise click.UsageError(TELL)
        if len(text) > MOST_LETTERS:
            raise click.UsageError(f"A text may be {MOST_LETTERS} characters long; this one has {len(text)}.")


def _take_texts(found: "Lookup", see: Iterable[str], gone: Iterable[str]) -> None:
    """Take in what is seen and what is not there; ValueError for a sign that is said to be both."""
    there = {one.sign for text in see for one in found.say(text).signs if one.present}
    away = {one.sign for text in gone for one in found.say(text, deny=True).signs}
    if both := [one.name for one in found.seen() if one.key in there & away]:
        raise ValueError(f"It is said to be there and not there: {both[0]}. Leave one of them out.")


def _take_readings(found: "Lookup", readings: Iterable[str]) -> None:
    from walkabout.round.lookup_typed import reading_of

    given: set[str] = set()
    for text in readings:
        measure, value = reading_of(text)
        if measure in given:
            raise ValueError(f"The reading {measure} is given twice.")
        given.add(measure)
        found.set_reading(measure, value)


def _ask(found: "Lookup", opened: "OpenRoom | None", station: str) -> int:
    from walkabout.plain.dialogue import Dialogue, Ended
    from walkabout.plain.lookup import LookupDialogue

    try:
        LookupDialogue(Dialogue(), found, opened, station).run()
    except Ended:
        return DONE
    return DONE


def _station(opened: "OpenRoom", typed: str) -> str:
    """Return the key of the station that was meant, by its key or its name."""
    from walkabout.room.mistakes import nearest

    names = {text.casefold(): one.key for one in opened.room.stations for text in (one.name, one.key)}
    if typed.casefold() in names:
        return names[typed.casefold()]
    raise ValueError(f'No station is called "{typed}". {nearest(typed, [one.key for one in opened.room.stations])}')


def _learned(options: Options, cause: str) -> str:
    """Return what the room has confirmed of a cause, where a room was named."""
    if options.room is None:
        return ""
    from walkabout.round.confirm import learned_words

    with opened_room(must_have_room(options)) as opened:
        return learned_words(opened, cause)


@contextmanager
def _told() -> Iterator[None]:
    """Turn what cannot be understood into wrong use, in one line."""
    try:
        yield
    except ValueError as error:
        first, *more = visible(str(error)).splitlines() or [""]
        raise click.UsageError(f"{first} (and {len(more)} more)" if more else first) from error


def _print(lines: Iterable[str]) -> None:
    for line in lines:
        click.echo(visible(line))
