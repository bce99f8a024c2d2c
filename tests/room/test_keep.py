"""The last good copy of room.toml."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.room.rooms import GOOD, KINDS, read_text
from walkabout.room.keep import keep_good_room, last_good_room
from walkabout.round.opened import CannotOpen, OpenRoom

BROKEN = ["[[station]\n", "", 'name = "x\n', 'station = "none"\nmin'.encode("utf-16").decode("latin-1")]


def clock() -> datetime:
    return datetime(2026, 11, 25, 8, tzinfo=UTC)


def opened(folder: Path) -> OpenRoom:
    room = OpenRoom(folder, clock)
    room.close()
    return room


def test_a_good_room_is_kept_byte_by_byte(tmp_path: Path) -> None:
    """The copy is the file itself, remarks and all, and follows its changes."""
    file, copy = tmp_path / "room.toml", tmp_path / "backups" / "room.toml"
    for text in (GOOD, "# a remark\r\n" + GOOD):
        file.write_bytes(text.encode())
        keep_good_room(tmp_path)
        assert copy.read_bytes() == text.encode()
    assert [one.name for one in copy.parent.iterdir()] == ["room.toml"]


def test_an_unchanged_room_is_not_written_again(tmp_path: Path) -> None:
    """The copy is left alone while it is the same."""
    (tmp_path / "room.toml").write_text(GOOD, "utf-8")
    keep_good_room(tmp_path)
    before = (tmp_path / "backups" / "room.toml").stat().st_mtime_ns, (tmp_path / "backups" / "room.toml").stat().st_ino
    keep_good_room(tmp_path)
    after = (tmp_path / "backups" / "room.toml").stat().st_mtime_ns, (tmp_path / "backups" / "room.toml").stat().st_ino
    assert after == before


def test_the_last_good_room_is_the_room(tmp_path: Path) -> None:
    """It is what was read when the file was good, with the name of the room's folder where it had none."""
    folder = tmp_path / "fernhollow"
    folder.mkdir()
    for text in (GOOD, GOOD.replace('name = "Fernhollow"\n', "")):
        room = read_text(text, folder).room
        keep_good_room(folder)
        assert last_good_room(folder, KINDS) == room
    assert room is not None
    assert room.name == "fernhollow"


def test_without_a_copy_there_is_none(tmp_path: Path) -> None:
    """Neither a room without a copy nor a broken copy makes one up."""
    assert last_good_room(tmp_path, KINDS) is None
    (tmp_path / "backups").mkdir()
    (tmp_path / "backups" / "room.toml").write_text("[[station]", "utf-8")
    assert last_good_room(tmp_path, KINDS) is None


def test_where_no_copy_can_be_made(tmp_path: Path) -> None:
    """It is no reason to stop."""
    keep_good_room(tmp_path)
    (tmp_path / "room.toml").write_text(GOOD, "utf-8")
    (tmp_path / "backups").write_text("in the way", "utf-8")
    keep_good_room(tmp_path)
    assert (tmp_path / "backups").read_text("utf-8") == "in the way"


@pytest.mark.parametrize("broken", [BROKEN[0], BROKEN[2], BROKEN[3]])
def test_a_file_that_broke_after_it_was_good(broken: str, tmp_path: Path) -> None:
    """The room goes on from the copy and says so; neither the file nor the copy is written while it is broken."""
    file, copy = tmp_path / "room.toml", tmp_path / "backups" / "room.toml"
    file.write_text(GOOD, "utf-8")
    good = opened(tmp_path)
    assert good.mistakes == ()
    file.write_bytes(broken.encode("latin-1"))
    for _ in range(2):
        again = opened(tmp_path)
        assert again.room == good.room
        assert [mistake.file for mistake in again.mistakes] == [file]
        assert [one for one in again.told if "last good copy" in one]
        assert file.read_bytes() == broken.encode("latin-1")
        assert copy.read_text("utf-8") == GOOD


def test_a_file_with_a_mistake_does_not_become_the_good_copy(tmp_path: Path) -> None:
    """What can be read of it is used, and the copy stays what it was until the mistake is mended."""
    file, copy = tmp_path / "room.toml", tmp_path / "backups" / "room.toml"
    file.write_text(GOOD, "utf-8")
    opened(tmp_path)
    file.write_text(GOOD.replace("minutes = 6", "minutes = 600").replace("Fernhollow", "Changed"), "utf-8")
    again = opened(tmp_path)
    assert (again.room.name, len(again.mistakes)) == ("Changed", 1)
    assert copy.read_text("utf-8") == GOOD
    file.write_text(GOOD.replace("Fernhollow", "Changed"), "utf-8")
    assert opened(tmp_path).mistakes == ()
    assert copy.read_text("utf-8") == file.read_text("utf-8")


def test_a_file_that_was_never_good(tmp_path: Path) -> None:
    """Without a copy there is nothing to go on with: the mistake is said and the file stays."""
    file = tmp_path / "room.toml"
    file.write_text(BROKEN[0], "utf-8")
    with pytest.raises(CannotOpen, match=r"room\.toml:1: this is not TOML"):
        OpenRoom(tmp_path, clock)
    assert file.read_text("utf-8") == BROKEN[0]
    assert not (tmp_path / "backups").exists()
