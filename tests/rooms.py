"""Small rooms for tests: eight stations, each with something growing, and no history."""

from datetime import date, datetime, timedelta, timezone
from pathlib import Path

from walkabout.records.book import Records
from walkabout.records.model import Move, Planting

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=timezone(timedelta(hours=1)))
"""A Wednesday morning."""

ROOM = """\
name = "{name}"
kit = ["thermometer", "hygrometer", "pH meter", "EC meter", "sticky card"]

[people.AR]
role = "adult"

[people.K7]
role = "pupil"

[lamps.bar]
kind = "led"
watts = 60

[tanks.tub]
litres = 60

[tanks.channels]
litres = 40

[pumps.air]
moves = "air"

[pumps.channels]

[[station]]
key = "shelf"
name = "Sprout rack"
kind = "shelf"
lamps = ["bar"]

[[station]]
key = "tub"
name = "{station}"
kind = "raft"
tank = "tub"
pumps = ["air"]
lamps = ["bar"]

[[station]]
key = "channels"
name = "Film channels"
kind = "film"
tank = "channels"
pumps = ["channels"]

[[station]]
key = "vine"
name = "Climbing beans"
kind = "vine"

[[station]]
key = "drum"
name = "Rotating drum"
kind = "drum"

[[station]]
key = "pots"
name = "Window pots"
kind = "pots"

[[station]]
key = "case"
name = "Fern case"
kind = "case"

[[station]]
key = "greens"
name = "Small greens"
kind = "greens"
"""

PLANTINGS = (
    ("lettuce", "shelf", 40),
    ("raft-lettuce", "tub", 12),
    ("basil", "channels", 10),
    ("bean", "vine", 4),
    ("lettuce", "drum", 30),
    ("geranium", "pots", 6),
    ("maidenhair-fern", "case", 3),
    ("radish-microgreens", "greens", 1),
)


def write_small_room(folder: Path, *, name: str = "Small room", station: str = "Raft tub", label: str = "") -> Path:
    """Write the room with its plantings; the texts go in as they are, quoted for TOML."""
    folder.mkdir(parents=True)
    text = ROOM.replace('"{name}"', _quoted(name)).replace('"{station}"', _quoted(station))
    (folder / "room.toml").write_text(text, encoding="utf-8")
    records = Records.open(folder, NOW.date())
    sown = date(2026, 11, 4)
    for number, (crop, place, count) in enumerate(PLANTINGS):
        moves = (Move(day=sown, station=place),)
        records.save(Planting(key=f"p-{number}", crop=crop, sown=sown, count=count, moves=moves, label=label))
    records.close()
    return folder


def _quoted(text: str) -> str:
    plain = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{plain}"'
