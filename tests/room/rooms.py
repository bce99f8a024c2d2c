"""Rooms in a file for the tests of this folder."""

from datetime import date
from pathlib import Path

from walkabout.room.model import Closure, Room
from walkabout.room.read import RoomFile, read_room

KINDS = ("drip", "drum", "pots", "raft", "room", "vine")

GOOD = """\
name = "Fernhollow"
units = "metric"
minutes = 6
days = ["mon", "tue", "wed", "thu", "fri"]
starts = "08:10"
kit = ["pH meter"]

[people]
AR = { role = "adult" }
k7 = { role = "pupil", until = 2027-07-31 }

[lamps.long]
kind = "tube"
watts = 58
hours = 14
on = "06:30"
gap_cm = 20

[lamps.sun]
kind = "high-pressure sodium"
watts = 400
enclosed = true
mark = "T"

[tanks.tub]
litres = 60
change_days = 10

[pumps.air]
moves = "air"
litres_per_hour = 120.5
spare = true

[[station]]
key = "raft-1"
name = "Raft tub"
kind = "raft"
lamps = ["long", "sun"]
tank = "tub"
pumps = ["air"]
kit = ["air stone"]
places = 24

[[station]]
key = "pots"
name = "Window pots"
kind = "pots"

[[closure]]
from = 2026-12-19
to = 2027-01-03
name = "midwinter"

[[closure]]
from = 2027-02-15
to = 2027-02-19

[prices]
currency = "EUR"
per_kwh = 0.31
"""


def read_text(text: str, folder: Path) -> RoomFile:
    """Write a room.toml and read it."""
    (folder / "room.toml").write_text(text, "utf-8")
    return read_room(folder, KINDS)


def said(found: RoomFile, folder: Path) -> list[str]:
    """Return the mistakes as a person reads them, without the folder."""
    return [str(mistake).removeprefix(f"{folder}/") for mistake in found.mistakes]


def closed(first: date, last: date) -> Room:
    """Return a room that is walked from Monday to Friday, with one closure."""
    return Room(name="Fernhollow", closures=(Closure(first=first, last=last),))
