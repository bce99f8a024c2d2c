"""Taking back what was taken in: only what a file alone gave goes, and it can be taken in again."""

from collections.abc import Callable
from datetime import date, datetime
from itertools import permutations
from pathlib import Path
from typing import Any

import msgspec
import pytest

from tests.paper.loggers import TODAY, back, before, hours, lines, reading_of, records_of, summed, take
from walkabout.paper import logger_back
from walkabout.paper.logger_columns import BadLogger
from walkabout.paper.logger_kept import Taking, copies, earlier, remember, remembered
from walkabout.paper.logger_words import line_of_before, lines_of_back, lines_of_taken
from walkabout.records.book import NotSaved, Records
from walkabout.records.storage import JournalStorage


@pytest.fixture
def room(tmp_path: Path) -> Path:
    folder = tmp_path / "room"
    folder.mkdir()
    return folder


def test_what_a_file_alone_gave_is_emptied(room: Path) -> None:
    """Its hours are nobody's any more; its copy lies among the backups, and the list does not know it."""
    content = "\n".join(["Time,Temp", *lines(0, 12), ""]).encode()
    take(room, "a.csv", lines(0, 12))
    made = back(room, "a.csv")
    assert (made.emptied, made.anew, made.stay) == (2, 0, 0)
    assert hours(room) == []
    assert before(room) == []
    assert made.kept is not None
    assert made.kept.read_bytes() == content
    assert made.kept.parent == room / "backups" / "logger"
    assert not list((room / "logger").glob("*.csv"))


def test_it_can_be_taken_in_again(room: Path) -> None:
    """Then everything is as if it had never been taken back."""
    take(room, "a.csv", lines(0, 12))
    was = hours(room)
    back(room, "a.csv")
    made = take(room, "a.csv", lines(0, 12))
    assert (made.fresh, made.changed, made.same) == (2, 0, 0)
    assert hours(room) == was
    assert [(one.name, one.total, one.whole) for one in before(room)] == [("a.csv", 2, True)]


@pytest.mark.parametrize("order", list(permutations(range(3))))
@pytest.mark.parametrize("gone", range(3))
def test_an_hour_that_is_shared_is_reckoned_anew(room: Path, order: tuple[int, ...], gone: int) -> None:
    """Without one of three files that overlap, the records say what the two others alone would have said."""
    pieces = [lines(0, 9), lines(5, 15), lines(14, 24)]
    for number in order:
        take(room, f"{number}.csv", pieces[number])
    back(room, f"{gone}.csv")
    other = room.parent / "other"
    other.mkdir()
    for number in order:
        if number != gone:
            take(other, f"{number}.csv", pieces[number])
    assert summed(room) == summed(other)
    assert {name for hour in hours(room) for name in hour.files} == {*copies(room)}


def test_a_file_that_said_nothing_new_still_counts(room: Path) -> None:
    """Two downloads of the same day: when the first is taken back, the second keeps the day on record."""
    take(room, "first.csv", lines(0, 6))
    take(room, "second.csv", lines(0, 12))
    made = back(room, "first.csv")
    assert (made.emptied, made.anew) == (0, 1)
    assert [one.n for one in hours(room)] == [6, 6]
    assert {one.source for one in hours(room)} == {"second.csv"}


def test_an_hour_whose_other_copy_is_gone_stays(room: Path) -> None:
    """Nobody can tell its readings apart: it stays, that is said, and so does the copy."""
    take(room, "a.csv", lines(0, 4))
    take(room, "b.csv", lines(3, 12))
    (gone,) = (one.copy for one in before(room) if one.name == "a.csv")
    (room / "logger" / gone).unlink()
    was = hours(room)
    made = back(room, "b.csv")
    assert (made.emptied, made.anew, made.stay, made.gone) == (1, 0, 1, (gone,))
    assert hours(room) == was[:1]
    assert made.kept is not None
    assert made.kept.parent == room / "logger"
    says = "\n".join(lines_of_back(made, room))
    assert "1 hour had to stay" in says
    assert gone in says


def test_alone_it_needs_no_copy(room: Path) -> None:
    """A file whose copy is gone is taken back all the same; that there is no copy is said."""
    take(room, "a.csv", lines(0, 12))
    for path in (room / "logger").glob("*.csv"):
        path.unlink()
    assert [one.whole for one in before(room)] == [False]
    made = back(room, "a.csv")
    assert (made.emptied, made.kept) == (2, None)
    assert "no copy of the file any more" in lines_of_back(made, room)[1]
    assert hours(room) == []


def test_without_the_index_names_come_from_the_hours(room: Path) -> None:
    """A list that somebody broke is kept under another name, and what is on record can still be taken back."""
    take(room, "a.csv", lines(0, 6))
    (room / "logger" / "files.json").write_text("{ broken")
    assert [(one.name, one.at, one.total, one.whole) for one in before(room)] == [("a.csv", None, 1, False)]
    assert back(room, "a.csv").emptied == 1
    take(room, "b.csv", lines(0, 6))
    assert (room / "logger" / "files.damaged-1.json").read_text() == "{ broken"
    assert [one.name for one in copies(room).values()] == ["b.csv"]


def test_hours_that_name_no_file_go_by_their_source(room: Path) -> None:
    """Hours that came some other way are listed and taken back by what they say of their source."""
    take(room, "a.csv", lines(0, 6))
    with records_of(room) as records:
        (one,) = records.hours(date.min)
        records.save(msgspec.structs.replace(one, key="h-other", files=(), source="bell.csv"))
    (room / "logger" / "bell.csv").write_text("Time,Temp")
    assert sorted((one.name, one.total, one.whole) for one in before(room)) == [
        ("a.csv", 1, True),
        ("bell.csv", 1, True),
    ]
    assert back(room, "bell.csv").kept == room / "backups" / "logger" / "bell.csv"
    assert [one.name for one in before(room)] == ["a.csv"]
    assert len(hours(room)) == 1


def test_read_otherwise_it_can_take_the_place_of_what_it_gave(room: Path) -> None:
    """At another station, in another zone: with `instead` only the new reading is on record, without it both."""
    take(room, "a.csv", lines(0, 6))
    take(room, "b.csv", lines(4, 12))
    both = take(room, "a.csv", lines(0, 6), reading_of("vine"))
    assert (both.fresh, both.back, both.left) == (1, 0, 1)
    assert [one.station for one in hours(room)] == ["raft", "vine", "raft"]
    made = take(room, "a.csv", lines(0, 6), reading_of("vine", "+02:00"), instead=True)
    assert (made.fresh, made.back, made.left) == (1, 2, 0)
    assert [(one.station, one.start.hour, one.n) for one in hours(room)] == [
        ("vine", 8, 6),
        ("raft", 8, 2),
        ("raft", 9, 6),
    ]
    assert "2 hours that this file gave when it was read otherwise: taken back." in lines_of_taken(made)
    again = take(room, "a.csv", lines(0, 6), reading_of("vine", "+02:00"))
    assert (again.fresh, again.changed, again.same, again.left) == (0, 0, 1, 0)


def test_it_is_offered_when_a_file_is_read_otherwise(room: Path) -> None:
    """Only for the very same content, and only for a way of reading it that is new."""
    take(room, "a.csv", lines(0, 6))
    content = (room.parent / "a.csv").read_bytes()
    assert earlier(room, content, reading_of()) is None
    assert earlier(room, content + b"\n", reading_of("vine")) is None
    found = earlier(room, content, reading_of("vine"))
    assert found is not None
    assert found.takings == (reading_of(),)


def test_the_second_reading_of_a_series_is_what_others_are_put_together_with(room: Path) -> None:
    """A file that was read with the wrong column first counts, in an hour that it shares, as it was read last."""
    rows = [f"{one},{30 + number}" for number, one in enumerate(lines(0, 6))]
    head = "Time,Temp,Other"
    path = room.parent / "two.csv"
    path.write_text("\n".join([head, *rows, ""]))
    from walkabout.paper.logger import take_in_file
    from walkabout.paper.logger_columns import Mapped
    from walkabout.paper.logger_file import read_logger_file

    for column in ("Temp", "Other"):
        taking = Taking(("Time",), "ymd", (Mapped(column, "air temperature", "", "raft"),), "UTC")
        with records_of(room) as records:
            take_in_file(
                read_logger_file(path, path.read_bytes()), path.read_bytes(), taking, records, room,
                datetime.fromisoformat("2027-01-10T08:00:00Z"),
            )  # fmt: skip
    # the moment of the first row stands in this file too; the one that was taken in first is believed
    take(room, "b.csv", lines(0, 1))
    assert [(one.n, one.low, one.high) for one in hours(room)] == [(6, 30, 35)]


def test_what_its_columns_are_is_asked_anew(room: Path) -> None:
    """What was remembered of the file is forgotten; what was remembered of others stays."""
    (room / "records").mkdir()
    remember(room, ("Time", "Temp"), reading_of())
    remember(room, ("Time", "pH"), reading_of("vine"))
    take(room, "a.csv", lines(0, 6))
    made = back(room, "a.csv")
    assert made.forgotten
    assert remembered(room, ("Time", "Temp")) is None
    assert remembered(room, ("Time", "pH")) == reading_of("vine")


# Cut short


def _fails(monkeypatch: pytest.MonkeyPatch, after: int) -> None:
    """Let the disk take so many more writes of records."""
    put: Callable[..., Any] = JournalStorage.put
    left = [after]

    def sometimes(self: JournalStorage, *args: Any) -> Any:
        left[0] -= 1
        if left[0] < 0:
            raise OSError(28, "No space left on device")
        return put(self, *args)

    monkeypatch.setattr(JournalStorage, "put", sometimes)


@pytest.mark.parametrize("after", [0, 1])
def test_a_full_disk_while_it_is_taken_back(room: Path, monkeypatch: pytest.MonkeyPatch, after: int) -> None:
    """Whichever month could not be written, the list says that it was cut short, and a second time finishes it."""
    rows = [*lines(0, 6), *lines(0, 6, datetime(2026, 12, 1, 8))]  # noqa: DTZ001 - a wall clock
    take(room, "a.csv", rows)
    with monkeypatch.context() as patch:
        _fails(patch, after)
        with pytest.raises(NotSaved):
            back(room, "a.csv")
    (one,) = before(room)
    assert (one.total, one.whole) == (2 - after, False)
    assert "Cut short" in line_of_before(one, str)
    assert back(room, "a.csv").emptied == 2 - after
    assert (hours(room), before(room)) == ([], [])


@pytest.mark.parametrize("after", [0, 1])
def test_a_full_disk_while_it_is_taken_in(room: Path, monkeypatch: pytest.MonkeyPatch, after: int) -> None:
    """It is listed as cut short; taking it in again finishes it, and taking it back leaves nothing."""
    rows = [*lines(0, 6), *lines(0, 6, datetime(2026, 12, 1, 8))]  # noqa: DTZ001 - a wall clock
    with monkeypatch.context() as patch:
        _fails(patch, after)
        with pytest.raises(NotSaved):
            take(room, "a.csv", rows)
    assert [(one.total, one.whole) for one in before(room)] == [(after, False)]
    made = take(room, "a.csv", rows)
    assert (made.fresh, made.same) == (2 - after, after)
    assert [(one.total, one.whole) for one in before(room)] == [(2, True)]
    back(room, "a.csv")
    assert (hours(room), before(room)) == ([], [])


def test_stopped_before_it_is_forgotten(room: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Emptied on record, still in the list: a second time takes the file out of the list too."""
    take(room, "a.csv", lines(0, 6))
    with monkeypatch.context() as patch:
        patch.setattr(logger_back, "let_go", lambda *_: (_ for _ in ()).throw(OSError(5, "I/O error")))
        with pytest.raises(OSError, match="I/O"):
            back(room, "a.csv")
    assert [(one.total, one.whole) for one in before(room)] == [(0, False)]
    assert back(room, "a.csv").emptied == 0
    assert before(room) == []


def test_stopped_while_it_is_read_nothing_is_written(room: Path) -> None:
    """What the bar raises ends it: no copy, no hour."""

    def enough(_: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        take(room, "a.csv", lines(0, 6), ticks=enough)
    assert not (room / "logger").exists()
    assert hours(room) == []


# Which file is meant


def test_which_file_is_meant(room: Path) -> None:
    """Its name, with or without its ending, or the beginning of its copy's; two of one name must be told apart."""
    take(room, "log.csv", lines(0, 6))
    first = copies(room)
    take(room, "log.csv", lines(20, 26))
    found = before(room)
    (copy,) = first
    from walkabout.paper.logger_back import meant

    for name in (copy, copy.removesuffix(".csv"), copy[:6]):
        assert meant(name, found).copy == copy
    for name in ("log.csv", "log"):
        with pytest.raises(BadLogger, match=f"2 files named .* Say which: .*{copy[:8]}"):
            meant(name, found)
    with pytest.raises(BadLogger, match=r'no file "lag\.csv" was taken in\. Did you mean "log\.csv"'):
        meant("lag.csv", found)
    with pytest.raises(BadLogger, match="None was yet"):
        meant("log.csv", [])


def test_a_file_by_its_other_name(room: Path) -> None:
    """A doubled file is taken back by either name, and the list has both."""
    from walkabout.paper.logger_back import meant, same_as

    take(room, "a.csv", lines(0, 6))
    take(room, "b.csv", lines(0, 6))
    take(room, "c.csv", lines(20, 26))
    found = before(room)
    assert {meant(name, found).name for name in ("a", "a.csv", "b", "b.csv")} == {"a.csv"}
    assert same_as("b.csv", meant("b.csv", found)) == "b.csv is the same file as a.csv."
    assert same_as("a.csv", meant("a.csv", found)) == ""
    assert "a.csv (and as b.csv)" in line_of_before(meant("b", found), str)
    with pytest.raises(BadLogger, match=r'Did you mean "b\.csv"'):
        meant("bb.csv", found)
    # a file whose own name it is goes before one that merely had it too
    take(room, "b.csv", lines(30, 36))
    assert meant("b.csv", before(room)).name == "b.csv"
    assert back(room, "a.csv").emptied == 1


def test_an_emptied_hour_counts_for_nothing(room: Path) -> None:
    """It stays in its file, since records know no delete, and neither `hours` nor `every` shows it."""
    take(room, "a.csv", lines(0, 6))
    back(room, "a.csv")
    from walkabout.records.model_measured import Hour

    assert '"n":0' in (room / "records" / "2026-11-hours.json").read_text(encoding="utf-8")
    with records_of(room) as records:
        assert records.hours(date.min) == records.every(Hour) == []
    assert Records.open(room, TODAY).told == []
