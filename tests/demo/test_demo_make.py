"""Making the demo, keeping it fresh, and keeping off what is not a demo."""

import shutil
from datetime import date, timedelta

import pytest

from walkabout.demo.make import MARK, fresh, make, read_mark
from walkabout.demo.room import ADULTS, room_text
from walkabout.records.book import Records
from walkabout.round.begin import begin


def contents(folder):
    return {path.relative_to(folder): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def answer_one(folder, today, open_on):
    """Open the demo, answer the first question of today's round and leave."""
    room = open_on(folder, today)
    walk = begin(room, ADULTS[0])
    walk.pick([walk.step.question.choices[0].id])
    room.close()


def walk_all(folder, today, open_on):
    room = open_on(folder, today)
    walk = begin(room, ADULTS[0])
    while walk.step is not None:
        walk.not_looked()
    walk.finish()
    room.close()


def test_a_real_room_is_refused_and_untouched(tmp_path):
    """A folder with a room.toml and no mark is somebody's own."""
    (tmp_path / "room.toml").write_text('name = "Ours"\n', encoding="utf-8")
    before = contents(tmp_path)
    for refused in (make, fresh):
        with pytest.raises(FileExistsError, match="not a demo"):
            refused(tmp_path, date(2026, 5, 6))
    assert contents(tmp_path) == before
    assert list(tmp_path.parent.glob(f"{tmp_path.name}-*")) == []


def test_a_folder_of_other_things_is_refused(tmp_path):
    """Nothing is written among files that have nothing to do with a room."""
    (tmp_path / "letters.txt").write_text("dear all", encoding="utf-8")
    with pytest.raises(FileExistsError, match="not a demo"):
        make(tmp_path, date(2026, 5, 6))
    assert [path.name for path in tmp_path.iterdir()] == ["letters.txt"]


def test_a_mark_that_is_not_ours_is_no_mark(tmp_path):
    """A room that happens to hold a file called demo is left alone."""
    (tmp_path / "room.toml").write_text('name = "Ours"\n', encoding="utf-8")
    (tmp_path / MARK).write_text("notes for the demonstration", encoding="utf-8")
    with pytest.raises(FileExistsError, match="not a demo"):
        fresh(tmp_path, date(2026, 5, 6))


def test_a_missing_and_an_empty_folder_are_filled(tmp_path):
    """Both end up as whole demos, with nothing left beside them."""
    (tmp_path / "empty").mkdir()
    for name in ("empty", "new/in/new"):
        folder = fresh(tmp_path / name, date(2026, 5, 6))
        assert (folder / "room.toml").read_text(encoding="utf-8") == room_text(date(2026, 5, 6))
        assert read_mark(folder).made == date(2026, 5, 6)
        assert [path for path in folder.parent.iterdir() if path.name.startswith(".")] == []


def test_what_was_done_today_is_kept(copied, made, open_on):
    """Opening the demo again on the same day goes on where it was."""
    answer_one(copied, made.today, open_on)
    before = contents(copied)
    assert fresh(copied, made.today) == copied
    assert contents(copied) == before


def test_a_demo_walked_yesterday_goes_on(copied, made, open_on):
    """Whoever walked the demo's round yesterday finds it as it was left."""
    walk_all(copied, made.today, open_on)
    fresh(copied, made.today + timedelta(days=1))
    room = open_on(copied, made.today + timedelta(days=1))
    assert room.last_walked() == made.today
    assert list(copied.parent.glob("copy-*")) == []


def test_an_old_untouched_demo_is_replaced(copied, made, open_on):
    """Nobody did anything in it: nothing is left of it."""
    later = made.today + timedelta(days=9)
    open_on(copied, made.today).close()
    fresh(copied, later)
    assert read_mark(copied).made == later
    assert [path.name for path in copied.parent.iterdir()] == ["copy"]


def test_an_old_demo_in_which_somebody_worked_is_set_aside(copied, made, open_on):
    """It stands beside the new one under its date, whole; a second one on that date gets a number."""
    answer_one(copied, made.today, open_on)
    before = contents(copied)
    spare = shutil.copytree(copied, copied.with_name("spare"))
    later = made.today + timedelta(days=9)
    fresh(copied, later)
    aside = copied.with_name(f"copy-{made.today.isoformat()}")
    assert contents(aside) == before
    shutil.rmtree(copied)
    spare.rename(copied)
    fresh(copied, later)
    assert contents(copied.with_name(f"{aside.name}-2")) == before
    assert read_mark(copied).made == later


def test_a_changed_room_file_is_set_aside_too(copied, made):
    """What a teacher tried in room.toml is not thrown away."""
    text = (copied / "room.toml").read_text(encoding="utf-8").replace("Quillmere", "Our own")
    (copied / "room.toml").write_text(text, encoding="utf-8")
    fresh(copied, made.today + timedelta(days=30))
    aside = copied.with_name(f"copy-{made.today.isoformat()}")
    assert "Our own" in (aside / "room.toml").read_text(encoding="utf-8")


def test_a_demo_from_the_future_is_made_anew(copied, made):
    """A clock that was set back gets a season that ends before today."""
    earlier = made.today - timedelta(days=20)
    fresh(copied, earlier)
    records = Records.open(copied, earlier)
    assert max(one.day for one in records.rounds(date(2000, 1, 1))) < earlier


def test_nothing_is_left_when_making_fails(tmp_path, monkeypatch):
    """A season that breaks off leaves neither half a demo nor a folder beside it."""

    def broken(*_arguments):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("walkabout.demo.make.live_through", broken)
    with pytest.raises(OSError, match="No space"):
        make(tmp_path / "room", date(2026, 5, 6))
    assert list(tmp_path.iterdir()) == []
