from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.records.sample_records import opened
from walkabout.records.book import NotSaved, Records


@pytest.fixture
def room(tmp_path: Path) -> Path:
    folder = tmp_path / "room"
    folder.mkdir()
    return folder


@pytest.fixture
def records(room: Path) -> Iterator[Records]:
    records = opened(room)
    yield records
    try:
        records.close()
    except NotSaved:
        assert records.waiting  # a test that left the disk full
