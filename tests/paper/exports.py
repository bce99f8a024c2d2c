"""A room with one of everything, hostile texts among them, for tests of exports."""

import csv
from datetime import timedelta, timezone
from pathlib import Path
from typing import Any

from tests.records.sample_records import MORNING, TODAY, answer, one_of_each
from walkabout.paper.export import Exported, export, read_all
from walkabout.paper.writers import Form
from walkabout.records.book import Records
from walkabout.records.model import Asked, Happening, Round
from walkabout.records.model_measured import Hour, Measurement, Plot, Trial
from walkabout.records.model_supplies import Counted, Supply
from walkabout.room.model import Room
from walkabout.room.read import read_room

ROOM = """\
name = "Small room"

[people.AR]
role = "adult"

[people.BK]

[lamps.bar]
watts = 60
note = "hung by AR"

[tanks.tub]
litres = 60

[[station]]
key = "raft"
name = "Raft tub"
kind = "raft"
tank = "tub"
lamps = ["bar"]
kit = ["air stone", "heat; mat"]
"""
KINDS = ("raft",)
FORMULAS = ('=HYPERLINK("x")', "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", " =1", "'=1", "'", "#N/A", "\uff1d1")
HOSTILE = (*FORMULAS, "two\r\nlines", 'quotes " and ; and ,', "\x00 and _x0041_ \uffff", "“°C”", "\\e;\\", "  ")


def write_room(folder: Path, notes: tuple[str, ...] = HOSTILE) -> Path:
    """Write a room with every kind of record."""
    folder.mkdir(parents=True)
    (folder / "room.toml").write_text(ROOM, encoding="utf-8")
    records = Records.open(folder, TODAY)
    said = (Happening(at=MORNING, by="AR", says="handed to BK by AR, not ARX"),)
    with records.together():
        for record in one_of_each():
            records.save(record)
        records.save(
            Round(
                key="r1",
                day=TODAY,
                started=MORNING,
                walker="AR",
                asked=(Asked(station="raft", question="raft.level", vital=True, seconds=4.5),),
                left=(Asked(station="gone", question="ph", why="no time"), Asked(station="room", question="door")),
            )
        )
        for number, note in enumerate(notes, 10):
            at = MORNING.astimezone(timezone(timedelta(hours=number % 5 - 2))) + timedelta(microseconds=number)
            records.save(answer(number, at=at, note=note, value=0.1 + number / 3, choices=("a;b", "", note[:5])))
        records.save(
            Hour(key="h1", station="raft", quantity="pH", start=MORNING, n=3, mean=6.1, low=6, high=6.2, unit="pH")
        )
        records.save(
            Supply(
                key="s1",
                name="part A",
                unit="L",
                amount=2,
                counted=TODAY,
                counts=(Counted(day=TODAY, amount=2, by="AR"),),
                history=said,
                by="BK",
            )
        )
        plots = (Plot(name="A1", kind="station", treatment="two lamps", station="raft"),)
        records.save(
            Trial(
                key="t1",
                question="Does it help?",
                treatments=("one lamp", "two lamps"),
                control="one lamp",
                plots=plots,
                response="fresh weight",
                seed=7,
                made=MORNING,
                by="AR",
                history=said,
            )
        )
        records.save(Measurement(key="m1", trial="t1", plot="A1", day=TODAY, at=MORNING, by="BK", value=12.25))
    records.close()
    return folder


def read(folder: Path) -> tuple[Records, Room]:
    """Open a room."""
    room = read_room(folder, KINDS).room
    assert room is not None
    return Records.open(folder, TODAY), room


def exported(folder: Path, to: Path, form: Form = "csv", *, codes: bool = False, **more: Any) -> Exported:
    """Export a room."""
    records, room = read(folder)
    return export(read_all(records, room), folder, to, form, codes=codes, **more)


def rows(folder: Path, table: str) -> list[dict[str, str]]:
    """Return the rows of a CSV table."""
    with (folder / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def everything(folder: Path) -> dict[str, list[Any]]:
    """Return all that is on record, by kind."""
    records, room = read(folder)
    return read_all(records, room).of
