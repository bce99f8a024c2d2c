"""Asking once what a logger's columns are; the answers are remembered for the next file."""

from collections.abc import Collection

from walkabout.paper.logger_columns import QUANTITIES, BadLogger, Mapped, guessed, read_what, station_in
from walkabout.paper.logger_file import LoggerFile, sampled, time_columns
from walkabout.paper.logger_times import ORDERS, Order, is_open
from walkabout.plain.dialogue import Dialogue
from walkabout.room.mistakes import one_line, shortened

NOTHING = "-"


def ask_columns(
    file: LoggerFile, time: tuple[str, ...], dialogue: Dialogue, station: str, stations: Collection[str]
) -> tuple[Mapped, ...]:
    """Ask what each column holds, in which unit and where; Ended when nobody answers any more."""
    dialogue.say(
        f"{file.path.name} is new here. Say what its columns are; it is remembered.",
        f"Quantities: {', '.join(QUANTITIES)}.",
        f"A unit stands behind a colon, as in EC:µS/cm. {NOTHING} leaves a column out.",
    )
    found: list[Mapped] = []
    for name in file.names:
        if name not in time:
            what = _ask_what(file, name, dialogue)
            if what is not None:
                station = station if station in stations else ""
                where = _ask_station(
                    name, dialogue, found[-1].station if found else station, stations, asked=not station
                )
                found.append(Mapped(name, *what, where))
    return tuple(found)


def ask_order(dialogue: Dialogue, example: str) -> Order:
    """Ask which of two orders a day is written in."""
    orders: tuple[Order, Order] = ("dmy", "mdy")
    lines = [f"{number} {ORDERS[one]}" for number, one in enumerate(orders, 1)]
    while True:
        typed = dialogue.ask(f"How is {one_line(example)} to be read?", *lines)
        if typed in ("1", "2"):
            return orders[int(typed) - 1]
        dialogue.say("Type 1 or 2.")


def how_to_say(file: LoggerFile, stations: Collection[str]) -> str:
    """Return the options that would answer the questions, for whoever cannot be asked."""
    time, _ = time_columns(file)
    names = [name for name in file.names if name not in time]
    name = next((one for one in names if guessed(one)), names[0] if names else "NAME")
    quantity, unit = guessed(name) or ("air temperature", "°C")
    station = next(iter(stations), "KEY")
    return f'Say what its columns are: --column "{name}={quantity}:{unit}@{station}", once for each'


def open_order(file: LoggerFile, time: tuple[str, ...], orders: list[Order]) -> str:
    """Return a moment of the file that can be read two ways; nothing when the file tells which is meant."""
    texts = sampled(file, time)
    return texts[0] if is_open(texts, orders) else ""


def _ask_what(file: LoggerFile, name: str, dialogue: Dialogue) -> tuple[str, str] | None:
    guess = guessed(name)
    cells = [cell for cell in file.column(name) if cell]
    example = f", for example {shortened(one_line(cells[0]), 20)}" if cells else ""
    enter = f" Enter for {guess[0]} in {guess[1]}." if guess else " Enter to leave it out."
    while True:
        typed = dialogue.ask(f"Column {shortened(one_line(name), 40)}{example}: which quantity and unit?{enter}")
        if not typed:
            return guess
        if typed == NOTHING:
            return None
        try:
            return read_what(typed)
        except BadLogger as error:
            dialogue.say(_sentence(error))


def _ask_station(name: str, dialogue: Dialogue, usual: str, stations: Collection[str], *, asked: bool) -> str:
    if usual and not asked:
        return usual
    enter = f" Enter for {usual}." if usual else ""
    while True:
        typed = dialogue.ask(f"At which station? There are: {', '.join(stations)}.{enter}") or usual
        if not typed:
            dialogue.say("Type one of them.")
            continue
        try:
            return station_in(typed, stations)
        except BadLogger as error:
            dialogue.say(_sentence(error))


def _sentence(error: BadLogger) -> str:
    says = f"{error}"
    return f"{says[:1].upper()}{says[1:]}.".replace("?.", "?")
