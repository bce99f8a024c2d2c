"""Where rooms lie on this machine."""

from pathlib import Path

import pytest

from walkabout.room.places import data_folder, demo_folder, room_folder


def test_the_room_that_is_named_comes_first(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A folder named counts before WALKABOUT_ROOM, and that before the user's data."""
    assert room_folder(None) == data_folder() / "room"
    monkeypatch.setenv("WALKABOUT_ROOM", str(tmp_path / "set"))
    assert room_folder(None) == tmp_path / "set"
    assert room_folder(tmp_path / "named") == tmp_path / "named"


def test_the_demo_is_never_the_room(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The demo lies apart, whatever else is set."""
    monkeypatch.setenv("WALKABOUT_ROOM", str(tmp_path))
    assert demo_folder() == data_folder() / "demo"
    assert demo_folder() != room_folder(None)


def test_the_users_own_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """~ is the user's folder; ~ with the name of nobody is taken as it is written."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    assert room_folder(Path("~/plants")) == tmp_path / "plants"
    assert room_folder(Path("~nobody-of-that-name/plants")) == Path("~nobody-of-that-name/plants")
