"""A small room on one morning, and the words that nobody should type."""

from collections.abc import Callable, Iterator
from pathlib import Path

import msgspec
import pytest

from tests.rooms import NOW, write_small_room
from walkabout.round.opened import OpenRoom

HOSTILE = (
    "x" * 400,
    "long words " * 60,
    "\u202egnirts\u202c \u05e9\u05dc\u05d5\u05dd \u0645\u0631\u062d\u0628\u0627 123",
    "\U0001f331\U0001f469\u200d\U0001f33e \u690d\u7269\u5712 \u0939\u093f\u0928\u094d\u0926\u0940",
    "a\nb\tc\r\u2028d\x00\x1b[31m\x07",
    "<b>bold</b> **b** __u__ {nb} [link](x) &amp; %PDF \\n (a) Tj",
    "Z\u0334\u0322\u0321\u031b\u0347\u0316a\u0336\u0327l\u0337go" * 20,
    " ",
)


@pytest.fixture
def opened(tmp_path: Path) -> Iterator[OpenRoom]:
    room = OpenRoom(write_small_room(tmp_path / "room"), lambda: NOW)
    yield room
    room.close()


@pytest.fixture
def hostile(tmp_path: Path) -> Iterator[Callable[[str], OpenRoom]]:
    """Return a maker of a room with a hostile name, in which each station and each planting has one of its own."""
    rooms: list[OpenRoom] = []

    def make(typed: str) -> OpenRoom:
        room = OpenRoom(write_small_room(tmp_path / f"room-{len(rooms)}"), lambda: NOW)
        named = tuple(
            msgspec.structs.replace(one, name=name) for one, name in zip(room.room.stations, HOSTILE, strict=True)
        )
        room.room = msgspec.structs.replace(room.room, name=typed, stations=named)
        for one, name in zip(tuple(room.plantings.values()), HOSTILE, strict=True):
            room.plantings[one.key] = msgspec.structs.replace(one, label=name, variety=name)
        rooms.append(room)
        return room

    yield make
    for room in rooms:
        room.close()
