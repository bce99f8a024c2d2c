"""One demo for all tests here: made once, opened for reading, never changed."""

import shutil
from collections.abc import Callable
from datetime import date, datetime
from datetime import time as hour
from pathlib import Path
from typing import NamedTuple

import pytest

from walkabout.demo.make import make
from walkabout.round.opened import OpenRoom

TODAY = date(2026, 11, 25)
"""A Wednesday."""


class Made(NamedTuple):
    """A demo on disk, and the day for which it was made."""

    folder: Path
    today: date


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    folder = tmp_path_factory.mktemp("demo") / "room"
    make(folder, TODAY)
    return Made(folder, TODAY)


@pytest.fixture(scope="session")
def open_on() -> Callable[[Path, date], OpenRoom]:
    """Return a function that opens a room in the morning of a day, with a clock that stands still."""

    def opened(folder: Path, day: date) -> OpenRoom:
        now = datetime.combine(day, hour(8, 10)).astimezone()
        return OpenRoom(folder, lambda: now)

    return opened


@pytest.fixture(scope="session")
def opened(made: Made, open_on: Callable[[Path, date], OpenRoom]) -> OpenRoom:
    return open_on(made.folder, made.today)


@pytest.fixture
def copied(made: Made, tmp_path: Path) -> Path:
    """Return a copy of the demo that a test may change."""
    return Path(shutil.copytree(made.folder, tmp_path / "copy"))
