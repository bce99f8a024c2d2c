"""Asking once what a logger's file holds: the questions in their order, for whichever face puts them.

    setting = begin(file, Said(), room_folder, {"tub": "Raft tub"})
    while (question := ask(setting, answers)) is not None:
        answers = (*answers, read_answer(setting, question, typed))     # BadLogger says what is wrong
    taking = taking_of(setting, answers)

An answer is taken back by leaving the last one out. Nothing here is ever filled in by itself: a proposal is only what
stands there to be confirmed.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import Literal, cast

import msgspec
from msgspec import Struct

from walkabout.paper.logger_columns import BadLogger, Mapped, guessed, read_column, read_what, station_in
from walkabout.paper.logger_file import LoggerFile, sampled, time_columns
from walkabout.paper.logger_kept import Taking, remembered
from walkabout.paper.logger_times import (
    ORDERS,
    SWAPPED,
    Order,
    can_be_swapped,
    is_open,
    orders_of,
    reading,
    reads_most,
    zone_in,
    zone_of,
)
from walkabout.room.mistakes import one_line, shortened
from walkabout.room.model import WHOLE_ROOM, Room

NOTHING = "-"
"""The answer that leaves a column out."""
HERE = "here"
"""The answer that the logger's clock goes with this computer's."""

Asks = Literal["order", "what", "station", "zone"]


class Said(Struct, frozen=True):
    """What somebody has said already, as options of the command."""

    station: str = ""
    time: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()
    order: Order | None = None
    zone: str | None = None


class Setting(Struct, frozen=True):
    """What the questions depend on. `known`: how such a file is read without a question."""

    file: LoggerFile
    said: Said
    stations: dict[str, str]
    """Key -> name."""
    time: tuple[str, ...]
    orders: tuple[Order, ...]
    open_moment: str
    """A moment of the file that can be read two ways; nothing when the file tells which is meant."""
    zoned: bool
    """Whether the file itself says in which zone its times are, or somebody did."""
    known: Taking | None = None
    told: str = ""
    """What to say of a file that is not written as the last one of its kind; nothing when it is."""


class Question(Struct, frozen=True):
    """One thing to be asked. `proposal` is what confirming means, '' where something must be said."""

    asks: Asks
    says: str
    column: str = ""
    proposal: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    """Answers that can be picked, each with its words."""


def stations_of(room: Room) -> dict[str, str]:
    """Return where a logger may have read, by key: each station's name, and the room as a whole."""
    return {one.key: one.name for one in room.stations} | {WHOLE_ROOM: "The room"}


def begin(
    file: LoggerFile, said: Said, room_folder: Path, stations: Mapping[str, str], *, again: bool = False
) -> Setting:
    """Return what there is to ask of a file; BadLogger when what was said does not fit it.

    `again`: ask anew although such a file was read before.
    """
    if said.station:
        station_in(said.station, stations)
    zone_of(said.zone or "")
    known = None if again or said.columns else remembered(room_folder, file.names)
    if known is not None:
        return _as_before(file, said, stations, _as_said(known, said, stations))
    time, orders = _times(file, said)
    texts = sampled(file, time)
    opens = can_be_swapped if again else is_open
    moment = texts[0] if said.order is None and texts and opens(texts, orders) else ""
    order = said.order or (orders[0] if orders else None)
    if order is None:
        raise BadLogger(f'{file.path}: column "{time[0]}" holds no days and times that can be read')
    own = all(one.offset is not None for text in texts if (one := reading(order)(text)))
    zoned = said.zone is not None or own or any(map(zone_in, time))
    return Setting(file, said, dict(stations), time, orders, moment, zoned)


def _as_before(file: LoggerFile, said: Said, stations: Mapping[str, str], known: Taking) -> Setting:
    """Return what there is to ask of a file whose columns are remembered: at most the order of day and month.

    What the file itself shows goes before what is remembered. Where both orders fit it, the remembered one is followed,
    unless days go on in the other one and leap in this one: then it is asked.
    """
    if said.order is not None:
        return Setting(file, said, dict(stations), known.time, (said.order,), "", zoned=True, known=known)
    texts = sampled(file, known.time)
    orders = orders_of(texts)
    if not orders:
        raise BadLogger(f'{file.path}: column "{known.time[0]}" holds no days and times that can be read')
    told = moment = ""
    if can_be_swapped(texts, orders):
        if known.order not in SWAPPED or (known.order != orders[0] and not is_open(texts, orders)):
            moment = texts[0]
    elif not reads_most(texts, known.order, orders):
        told = f"Days are written otherwise here than is remembered of such files: {ORDERS[orders[0]]}."
        known = msgspec.structs.replace(known, order=orders[0])
    return Setting(file, said, dict(stations), known.time, tuple(orders), moment, zoned=True, known=known, told=told)


def ask(setting: Setting, answers: Sequence[str]) -> Question | None:
    """Return what is to be asked after these answers; None when everything is said."""
    return next((one for number, one in enumerate(_questions(setting, answers)) if number == len(answers)), None)


def read_answer(setting: Setting, question: Question, typed: str) -> str:
    """Return the answer that a text means: a number of the list, a word, nothing for the proposal; BadLogger."""
    text = typed.strip() or question.proposal
    if text.isdecimal() and text.isascii() and 1 <= int(text) <= len(question.choices):
        return question.choices[int(text) - 1][0]
    if not text:
        raise BadLogger("say which")
    if question.asks == "order":
        if text not in SWAPPED:
            raise BadLogger("type 1 or 2")
        return text
    if question.asks == "station":
        named = [key for key, name in setting.stations.items() if name.casefold() == text.casefold()]
        return named[0] if len(named) == 1 else station_in(text, setting.stations)
    if question.asks == "zone":
        if text != HERE:
            zone_of(text)
        return text
    return NOTHING if text == NOTHING else ":".join(read_what(text))


def taking_of(setting: Setting, answers: Sequence[str]) -> Taking:
    """Return how the file is to be read, when every question is answered; BadLogger when nothing is left to read."""
    if setting.known is not None:
        return msgspec.structs.replace(setting.known, order=cast("Order", answers[0])) if answers else setting.known
    said = setting.said
    order, zone = said.order or setting.orders[0], said.zone or ""
    if said.zone is None:
        zone = next(filter(None, map(zone_in, setting.time)), "")
    columns = [read_column(one, setting.file.names, said.station, setting.stations) for one in said.columns]
    for question, answer in zip(_questions(setting, answers), answers, strict=False):
        if question.asks == "order":
            order = cast("Order", answer)
        elif question.asks == "zone":
            zone = "" if answer == HERE else answer
        elif question.asks == "what" and answer != NOTHING:
            columns.append(Mapped(question.column, *read_what(answer), said.station))
        elif question.asks == "station":
            columns[-1] = msgspec.structs.replace(columns[-1], station=answer)
    if not columns:
        raise BadLogger(f"{setting.file.path}: no column was named, so nothing was taken in")
    return Taking(setting.time, order, tuple(columns), zone)


def how_to_say(setting: Setting) -> str:
    """Return the options that would answer the questions, for whoever cannot be asked."""
    names = [name for name in setting.file.names if name not in setting.time]
    name = next((one for one in names if guessed(one)), names[0] if names else "NAME")
    quantity, unit = guessed(name) or ("air temperature", "°C")
    station = next(iter(setting.stations), "KEY")
    return f'Say what its columns are: --column "{name}={quantity}:{unit}@{station}", once for each'


def example(file: LoggerFile, column: str) -> str:
    """Return the first cell of a column that holds anything, short and on one line."""
    return next((shortened(one_line(cell), 20) for cell in file.column(column) if cell), "")


def _questions(setting: Setting, answers: Sequence[str]) -> "list[Question]":
    """Return the questions as far as the answers lead, and one more."""
    found: list[Question] = []
    if setting.open_moment:
        choices = tuple((one, ORDERS[one]) for one in SWAPPED)
        found.append(Question("order", f"How is {one_line(setting.open_moment)} to be read?", choices=choices))
    if setting.said.columns or setting.known is not None:
        return found
    stations = tuple((key, name) for key, name in setting.stations.items())
    usual = ""
    for column in setting.file.names:
        if column in setting.time:
            continue
        if len(found) > len(answers):
            return found
        guess = guessed(column)
        shown = example(setting.file, column)
        says = f"Column {shortened(one_line(column), 40)}{f', for example {shown}' if shown else ''}: which quantity"
        found.append(Question("what", f"{says} and unit?", column, ":".join(guess) if guess else NOTHING))
        if len(found) > len(answers) or answers[len(found) - 1] == NOTHING or setting.said.station:
            continue
        found.append(Question("station", "At which station?", column, usual, stations))
        usual = answers[len(found) - 1] if len(found) <= len(answers) else ""
    if not setting.zoned and len(found) <= len(answers) and any(one != NOTHING for one in answers):
        found.append(Question("zone", "Which clock does the logger keep?", proposal=HERE, choices=_zones()))
    return found


def _zones() -> tuple[tuple[str, str], ...]:
    now = datetime.now().astimezone()
    minutes = min(
        round((one.utcoffset() or now - now).total_seconds() / 60)
        for one in (datetime(now.year, month, 1).astimezone() for month in (1, 7))
    )
    winter = f"{'-' if minutes < 0 else '+'}{abs(minutes) // 60:02}:{abs(minutes) % 60:02}"
    return (
        (HERE, "as this computer, put forward and back with it"),
        (winter, "this computer's in winter, all year round"),
        ("UTC", "world time (UTC)"),
    )


def _times(file: LoggerFile, said: Said) -> tuple[tuple[str, ...], tuple[Order, ...]]:
    for name in said.time:
        if name not in file.names:
            raise BadLogger(f'{file.path}:1: there is no column "{name}". It has: {", ".join(file.names)}')
    if said.time:
        return said.time, tuple(orders_of(sampled(file, said.time)))
    time, orders = time_columns(file)
    return time, tuple(orders)


def _as_said(known: Taking, said: Said, stations: Mapping[str, str]) -> Taking:
    """Return how such a file was read last, with what is said otherwise now."""
    columns = known.columns
    if said.station:
        columns = tuple(msgspec.structs.replace(one, station=said.station) for one in columns)
    for one in columns:
        station_in(one.station, stations)
    known = msgspec.structs.replace(known, columns=columns, order=said.order or known.order)
    return known if said.zone is None else msgspec.structs.replace(known, zone=said.zone)
