"""What loggers read: files of every kind of handwriting, taken in once and never twice."""

import random
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta, timezone
from itertools import pairwise
from pathlib import Path
from statistics import fmean

import pytest

from tests.paper.loggers import before
from walkabout.paper.logger import Taken, take_in_file
from walkabout.paper.logger_columns import BadLogger, Mapped, guessed, read_column, read_what, unit_in
from walkabout.paper.logger_file import read_logger_file, time_columns
from walkabout.paper.logger_kept import Taking, copies, remember, remembered
from walkabout.paper.logger_read import read_readings
from walkabout.paper.logger_times import Clock, Order, gaps, is_open, long, orders_of, reading, zone_in, zone_of
from walkabout.paper.logger_words import line_of_before
from walkabout.records.book import Records
from walkabout.records.model_measured import Hour

NOW = datetime(2027, 1, 10, 8, tzinfo=UTC)
START = datetime(2026, 11, 25, 8)  # noqa: DTZ001 - a logger's wall clock
TEMPERATURE = Mapped("Temp", "air temperature", "°C", "raft")
LOGGER = Taking(("Time",), "ymd", (TEMPERATURE,), "UTC")


@pytest.fixture
def room(tmp_path: Path) -> Path:
    folder = tmp_path / "room"
    folder.mkdir()
    return folder


def lines(first: int, last: int, step: int = 10) -> list[str]:
    """Return rows from one number to another, one each ten minutes."""
    return [
        f"{START + timedelta(minutes=step * number):%Y-%m-%d %H:%M},{20 + number / 10:.1f}"
        for number in range(first, last)
    ]


def taken(
    room: Path, rows: Sequence[str], taking: Taking = LOGGER, head: str = "Time,Temp", name: str = "a.csv"
) -> Taken:
    """Take a file with these rows in."""
    path = room.parent / name
    content = "\n".join([head, *rows, ""]).encode()
    path.write_bytes(content)
    records = Records.open(room, date(2026, 11, 25))
    try:
        return take_in_file(read_logger_file(path, content), content, taking, records, room, NOW)
    finally:
        records.close()


def hours(room: Path) -> list[Hour]:
    return Records.open(room, date(2026, 11, 25)).hours(date.min)


def test_an_hour_is_summed_up(room: Path) -> None:
    """Mean, lowest, highest and number of the readings of each hour, in the unit the room keeps."""
    made = taken(room, lines(0, 12))
    assert (made.rows, made.readings, made.fresh, made.changed, made.same) == (12, 12, 2, 0, 0)
    first, second = hours(room)
    assert (first.n, first.mean, first.low, first.high, first.unit) == (6, 20.25, 20.0, 20.5, "°C")
    assert first.start == datetime(2026, 11, 25, 8, tzinfo=UTC)
    assert (second.n, second.mean, first.source) == (6, 20.85, "a.csv")


def test_the_same_file_twice_changes_nothing(room: Path) -> None:
    """Not a record, not a copy; under another name only that name is noted, once, and it is said whose file it is."""
    taken(room, lines(0, 12))
    before = {path: path.read_bytes() for path in sorted(room.rglob("*.*")) if path.is_file()}
    for name, told in (("a.csv", ()), ("again.csv", ("again.csv is the same file as a.csv, taken in before.",))):
        for _ in range(2):
            made = taken(room, lines(0, 12), name=name)
            assert (made.fresh, made.changed, made.same) == (0, 0, 2)
            assert made.told == told
            after = {path: path.read_bytes() for path in sorted(room.rglob("*.*")) if path.is_file()}
            if name == "a.csv":
                assert after == before
    assert {*after} == {*before}
    assert [path.name for path in after if after[path] != before[path]] == ["files.json"]
    (copy,) = copies(room).values()
    assert (copy.name, copy.also) == ("a.csv", ("again.csv",))


@pytest.mark.parametrize("order", [(0, 1, 2), (2, 1, 0), (1, 2, 0)])
def test_files_that_overlap_count_each_reading_once(room: Path, order: tuple[int, ...]) -> None:
    """Three files that share readings, in whatever order, come to what one file would have come to."""
    pieces = [lines(0, 9), lines(5, 15), lines(14, 24)]
    for number in order:
        taken(room, pieces[number], name=f"{number}.csv")
    for number in order:
        made = taken(room, pieces[number], name=f"{number}.csv")
        assert (made.fresh, made.changed) == (0, 0)
    found = [(one.start, one.n, one.mean, one.low, one.high) for one in hours(room)]
    other = room.parent / "other"
    other.mkdir()
    taken(other, lines(0, 24))
    assert found == [(one.start, one.n, one.mean, one.low, one.high) for one in hours(other)]


def test_a_moment_that_two_files_have_is_believed_to_the_first(room: Path) -> None:
    """A file with another value for the same moment does not change what is on record."""
    taken(room, lines(0, 6))
    made = taken(room, [one.replace(",20", ",25") for one in lines(0, 6)], name="b.csv")
    assert (made.fresh, made.changed, made.same) == (0, 0, 1)
    assert hours(room)[0].mean == 20.25


def test_two_files_that_disagree_are_told(room: Path) -> None:
    """How many readings differ, and which file counts; the list says in how many hours another file came first."""
    taken(room, lines(0, 12))
    made = taken(room, [one.replace(",20", ",25") for one in lines(0, 12)], name="clash.csv")
    assert made.differ == 10
    (told,) = made.told
    assert told.startswith("10 readings differ from those that a.csv has of the same moments. a.csv counts, since it")
    assert told.endswith("If this one is right: take a.csv back.")
    first, clash = sorted(before(room), key=lambda one: one.name)
    assert (first.total, first.after, clash.total, clash.after) == (2, 0, 2, 2)
    assert "In 2 of them another file came first, and counts where both have a reading." in line_of_before(clash, str)
    assert "another file" not in line_of_before(first, str)


def test_files_that_agree_are_no_matter(room: Path) -> None:
    """Readings that two files have alike are not told of."""
    taken(room, lines(0, 9))
    made = taken(room, lines(5, 15), name="b.csv")
    assert (made.differ, made.told) == (0, ())


def test_a_copy_that_is_gone_loses_no_summary(room: Path) -> None:
    """Without the first file's copy the summary with more readings is kept, and that is said."""
    taken(room, lines(0, 6))
    (copy,) = copies(room)
    (room / "logger" / copy).unlink()
    made = taken(room, lines(4, 9), name="b.csv")
    assert [(one.n, one.mean) for one in hours(room)] == [(6, 20.25), (3, 20.7)]
    assert copy in made.told[-1]


def test_the_raw_file_stays_beside_the_records(room: Path) -> None:
    """Its copy has the very same bytes, and a name made of them."""
    taken(room, lines(0, 6))
    (copy,) = copies(room).values()
    assert (room / "logger" / copy.copy).read_bytes() == (room.parent / "a.csv").read_bytes()
    assert (copy.name, copy.takings) == ("a.csv", (LOGGER,))


WRITTEN = {
    "semicolons and decimal commas": ("Zeit;Temp\n25.11.2026 08:00;20,5\n25.11.2026 08:10;21,5\n", "dmy"),
    "tabs": ("Time\tTemp\n2026-11-25T08:00:00\t20.5\n2026-11-25T08:10:00\t21.5\n", "ymd"),
    "words above the table": ('Logger 7\n\n"Time","Temp"\n11/25/2026 08:00 AM,20.5\n11/25/2026 08:10 AM,21.5\n', "mdy"),
    "day and time apart": ("Date,Clock,Temp\n25/11/2026,08:00:00,20.5\n25/11/2026,08:10:00,21.5\n", "dmy"),
    "seconds since 1970": ("Time,Temp\n1795593600,20.5\n1795594200,21.5\n", "seconds"),
    "milliseconds since 1970": ("Time,Temp\n1795593600000,20.5\n1795594200000,21.5\n", "milliseconds"),
    "an offset of its own": ("Time,Temp\n2026-11-25T09:00:00+01:00,20.5\n2026-11-25T09:10:00+01:00,21.5\n", "ymd"),
    "no names": ("2026-11-25 08:00,20.5\n2026-11-25 08:10,21.5\n", "ymd"),
    "a byte order mark": ("\ufeffTime,Temp\r\n2026/11/25 08:00,20.5\r\n2026/11/25 08:10,21.5\r\n", "ymd"),
}


@pytest.mark.parametrize("name", WRITTEN)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_however_a_logger_writes(room: Path, name: str, encoding: str) -> None:
    """Separator, decimal sign, column of time and order of its parts are found out."""
    text, order = WRITTEN[name]
    file = read_logger_file(Path("x.csv"), text.encode(encoding))
    time_, orders = time_columns(file)
    value = [one for one in file.names if one not in time_][-1]
    read = read_readings(file, Taking(time_, orders[0], (Mapped(value, "air temperature", "°C", "raft"),), "UTC"))
    assert orders[0] == order
    assert read.wrong == []
    start = datetime(2026, 11, 25, 8, tzinfo=UTC).timestamp()
    assert {at: cell[0] for at, cell in read.readings["raft", "air temperature"].items()} == {
        start: 20.5,
        start + 600: 21.5,
    }


def test_a_day_that_can_be_read_two_ways() -> None:
    """Where nothing tells day from month it is open; a file that goes on for a while tells."""
    short = [f"05/06/2026 08:{minute:02}" for minute in range(10)]
    assert is_open(short, orders_of(short))
    long = [f"{START + timedelta(hours=number):%d/%m/%Y %H:%M}" for number in range(200)]
    assert orders_of(long)[0] == "dmy"
    assert not is_open(long, orders_of(long))
    swapped = [f"{START + timedelta(hours=number):%m/%d/%Y %H:%M}" for number in range(200)]
    assert orders_of(swapped)[0] == "mdy"
    assert orders_of(["1.2.2026 08:00"] * 3) == ["dmy"]


@pytest.mark.parametrize(("text", "hour"), [("12:05 AM", 0), ("12:05 PM", 12), ("1:05 PM", 13), ("11:05 am", 11)])
def test_twelve_hours(text: str, hour: int) -> None:
    """Midnight is 12 AM, noon 12 PM."""
    moment = reading("dmy")(f"25/11/2026 {text}")
    assert moment is not None
    assert moment.wall.hour == hour


@pytest.mark.parametrize("text", ["31/02/2026 08:00", "25/11/2026 25:00", "25/11/2026 13:00 PM", "noon", ""])
def test_what_is_no_moment(text: str) -> None:
    """Days and times that there are not are none."""
    for order in ("dmy", "ymd", "seconds"):
        assert reading(order)(text) is None  # type: ignore[arg-type]


def test_the_hour_that_comes_twice_in_autumn() -> None:
    """By a clock that is put back the file goes on: the second two o'clock is an hour after the first."""
    clock = Clock(zone_of("Europe/Vienna"))
    read = reading("ymd")
    walls = [f"2026-10-25 0{hour}:{minute}0" for hour in (1, 2, 2, 3) for minute in range(6)]
    at = [clock.at(moment, number)[0] for number, wall in enumerate(walls) if (moment := read(wall))]
    assert [later - one for one, later in pairwise(at)] == [600.0] * 23
    assert (clock.back, clock.unreal, len(clock.changes)) == ([], [], 1)


def test_the_hour_that_is_not_there_in_spring() -> None:
    """Moments that the clock leapt over are named: the logger keeps winter time."""
    clock = Clock(zone_of("Europe/Vienna"))
    read = reading("ymd")
    for number, wall in enumerate(("2026-03-29 01:50", "2026-03-29 02:10", "2026-03-29 03:10"), 2):
        moment = read(wall)
        assert moment is not None
        clock.at(moment, number)
    assert clock.unreal == [3]


def test_what_is_odd_about_times_is_told(room: Path) -> None:
    """Rows that go back, moments that stand twice, gaps and moments to come are said, each in a line."""
    rows = [*lines(0, 6), *lines(2, 4), *lines(30, 36)]
    rows.append(f"{NOW + timedelta(days=9):%Y-%m-%d %H:%M},20")
    made = taken(room, rows)
    told = "\n".join(made.told)
    assert "1 row goes back in time, the first on line 8." in told
    assert "2 moments stand there twice and count once." in told
    assert "2 gaps where readings usually come every 10 min" in told
    assert "still to come" in told
    assert made.readings == 13


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("2026-11-25 08:00,warm", r'a\.csv:3: column "Temp": "warm" is no number'),
        ("2026-11-25 08:00,=2+2", r'a\.csv:3: column "Temp": "=2\+2" is no number'),
        ("2026-11-25 08:00,999", r"a\.csv:3: column \"Temp\": 999 °C cannot be: air temperature is -40 to 80 °C"),
        ("2026-13-25 08:00,20", r'a\.csv:3: column "Time": "2026-13-25 08:00" is no moment'),
    ],
)
def test_a_bad_cell_is_one_line_and_the_rest_counts(room: Path, row: str, says: str) -> None:
    """Each names file, line and column; the readings around it are taken in."""
    import re

    made = taken(room, [lines(0, 1)[0], row, *lines(1, 6)])
    assert len(made.wrong) == 1
    assert re.search(says, made.wrong[0])
    assert made.readings == 6


@pytest.mark.parametrize("word", ["", "NA", "NaN", "OFL", "---", "Err"])
def test_what_the_logger_did_not_read_is_empty(room: Path, word: str) -> None:
    """Such a cell is counted and no mistake."""
    made = taken(room, [*lines(0, 5), f"2026-11-25 08:50,{word}"])
    assert (made.readings, made.wrong, made.told) == (5, (), ("1 cell held no reading.",))


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", r"x\.csv:1: the file is empty"),
        (b"\n \n", r"x\.csv:1: the file is empty"),
        (b"just words\nand more\n", r"x\.csv:1: no semicolons, tabs or commas"),
        (b"PK\x00\x01", r"x\.csv:1: this is no table of text"),
        (b"Time,Temp\n", r"x\.csv:1: there are no readings"),
    ],
)
def test_what_is_no_file_of_a_logger(content: bytes, says: str) -> None:
    """One line with file and line."""
    with pytest.raises(BadLogger, match=says):
        read_logger_file(Path("x.csv"), content)


def test_a_file_without_times() -> None:
    """The person is told how to name the column."""
    with pytest.raises(BadLogger, match=r"x\.csv:2: no column holds days and times.*--time"):
        time_columns(read_logger_file(Path("x.csv"), b"a,b\n1,2\n3,4\n"))


def test_a_file_in_which_nothing_can_be_used(room: Path) -> None:
    """It is refused with its first mistake, and leaves no copy."""
    with pytest.raises(BadLogger, match=r'a\.csv:2: column "Temp": "x" is no number'):
        taken(room, ["2026-11-25 08:00,x"])
    assert not (room / "logger").exists()


@pytest.mark.parametrize(
    ("name", "quantity", "unit"),
    [
        ("Temp (°F)", "air temperature", "°F"),
        ("Water_Temp_C", "solution temperature", "°C"),
        ("RH, %", "humidity", "%"),
        ("pH", "pH", "pH"),
        ("EC (µS/cm)", "EC", "µS/cm"),
        ("CO2 ppm", "carbon dioxide", "ppm"),
        ("Lux", "illuminance", "lx"),
        ("PPFD", "light", "µmol/m²/s"),
        ("Soil temperature", "medium temperature", "°C"),
    ],
)
def test_names_say_what_a_column_is(name: str, quantity: str, unit: str) -> None:
    """The usual names are understood; the unit counts, however it is spelled."""
    guess = guessed(name)
    assert guess is not None
    assert guess[0] == quantity
    assert unit_in(*guess) == unit_in(quantity, unit)


def test_a_name_that_says_nothing() -> None:
    """A remark is no quantity."""
    assert guessed("Remark") is None


@pytest.mark.parametrize(
    ("quantity", "unit", "value", "kept"),
    [
        ("air temperature", "°F", 68, 20),
        ("EC", "µS/cm", 1400, 1.4),
        ("EC", "ppm 500", 700, 1.4),
        ("illuminance", "klx", 2, 2000),
        ("level", "mm", 85, 8.5),
        ("volume", "gal", 1, 3.785411784),
        ("flow", "L/h", 120, 2),
        ("energy", "Wh", 250, 0.25),
    ],
)
def test_units_are_turned_into_the_kept_ones(quantity: str, unit: str, value: float, kept: float) -> None:
    """Factors are those of the units' definitions."""
    factor, offset = unit_in(quantity, unit)
    assert value * factor + offset == pytest.approx(kept)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("Tmp=pH@raft", 'no column "Tmp". Did you mean "Temp"'),
        ("Temp=hue@raft", '"hue" is no quantity'),
        ("Temp=pH:°C@raft", 'pH cannot be in "°C"'),
        ("Temp=pH@rafft", 'no station "rafft". Did you mean "raft"'),
        ("Temp=pH", "say at which station"),
    ],
)
def test_a_column_that_is_said_wrongly(text: str, says: str) -> None:
    """The nearest right word is offered."""
    with pytest.raises(BadLogger) as caught:
        read_column(text, ("Time", "Temp"), "", ("raft", "room"))
    assert says in str(caught.value)


def test_a_column_as_it_is_said() -> None:
    """Name, quantity, unit and station; names with = or : in them too."""
    names = ("Time", "T=1: top")
    assert read_column("T=1: top=air temperature:°F@raft", names, "", ("raft",)) == Mapped(
        "T=1: top", "air temperature", "°F", "raft"
    )
    assert read_column("T=1: top=pH", names, "raft", ("raft",)) == Mapped("T=1: top", "pH", "pH", "raft")
    assert read_what(" Carbon  Dioxide ") == ("carbon dioxide", "ppm")


def test_two_columns_cannot_be_the_same(room: Path) -> None:
    """One would be lost: it is refused."""
    taking = Taking(("Time",), "ymd", (TEMPERATURE, Mapped("Other", "air temperature", "°C", "raft")), "UTC")
    with pytest.raises(BadLogger, match="two columns cannot be the same quantity"):
        taken(room, ["2026-11-25 08:00,1,2"], taking, "Time,Temp,Other")


def test_what_was_said_is_remembered(room: Path) -> None:
    """By the names of the columns; what is said later takes its place; a broken file of it is nothing."""
    (room / "records").mkdir()
    assert remembered(room, ("Time", "Temp")) is None
    later = Taking(("Time",), "dmy", (TEMPERATURE,))
    for taking in (LOGGER, later):
        remember(room, ("Time", "Temp"), taking)
    assert remembered(room, ("Time", "Temp")) == later
    assert remembered(room, ("Time",)) is None
    (room / "records" / "logger-columns.json").write_text("{")
    assert remembered(room, ("Time", "Temp")) is None


@pytest.mark.parametrize(("head", "zone"), [("Date Time, GMT+01:00", "GMT+01:00"), ("Time (UTC)", "UTC"), ("Time", "")])
def test_a_zone_in_the_name_of_a_column(head: str, zone: str) -> None:
    """What the head says of the zone counts."""
    assert zone_in(head) == zone
    assert (zone_of(zone) is None) == (zone == "")


def test_zones() -> None:
    """Offsets, names, and one line for what is neither."""
    assert zone_of("+01:00") == timezone(timedelta(hours=1)) == zone_of("GMT+1")
    assert zone_of("-03:30") == timezone(timedelta(hours=-3.5))
    for wrong in ("Middle/Earth", "../../x", "+99:00"):
        with pytest.raises(BadLogger, match="is no time zone"):
            zone_of(wrong)


def test_gaps_are_measured_by_the_usual_step() -> None:
    """A step two and a half times as long as usual is one."""
    assert gaps([0, 60, 120, 270, 330]) == (60, [])
    usual, found = gaps([0, 60, 120, 271, 331])
    assert (usual, [(one.first, one.last) for one in found]) == (60, [(120, 271)])
    assert gaps([5]) == (0, [])


@pytest.mark.parametrize(
    ("seconds", "says"),
    [
        (22_200, "6 h 10 min"), (3600, "1 h"), (600, "10 min"), (90, "1 min 30 s"), (0.1, "0.1 s"), (86_400, "24 h"),
        (172_800, "2 days"), (180_000, "2 days 2 h"), (3599.8, "1 h"), (7199, "2 h"),
    ],
)  # fmt: skip
def test_how_long_in_words(seconds: float, says: str) -> None:
    """Hours and minutes as a clock has them, never a part of an hour in tenths."""
    assert long(seconds) == says


def test_hours_of_a_zone_off_the_full_hour(room: Path) -> None:
    """Where the clock is half an hour off, hours begin at the full hour of that clock."""
    taking = Taking(("Time",), "ymd", (TEMPERATURE,), "+05:30")
    taken(room, lines(0, 6), taking)
    (one,) = hours(room)
    assert (one.n, one.start.isoformat()) == (6, "2026-11-25T08:00:00+05:30")


def test_ten_thousand_rows(room: Path) -> None:
    """Ten thousand rows of three columns are summed up as plain reckoning does."""
    drawn = random.Random(5)
    values = [[round(drawn.uniform(10, 30), 2) for _ in range(3)] for _ in range(10_000)]
    rows = [
        f"{START + timedelta(minutes=2 * number):%Y-%m-%d %H:%M:%S},{','.join(map(str, cells))}"
        for number, cells in enumerate(values)
    ]
    columns = tuple(
        Mapped(name, what, "", "raft") for name, what in zip("abc", ("air temperature", "humidity", "EC"), strict=True)
    )
    made = taken(room, rows, Taking(("Time",), "ymd", columns, "UTC"), "Time,a,b,c")
    assert made.readings == 30_000
    found = {one.start: one for one in hours(room) if one.quantity == "humidity"}
    start = datetime(2026, 11, 25, 8, tzinfo=UTC)
    for hour in (0, 100, 332):
        expected = [cells[1] for cells in values[30 * hour : 30 * hour + 30]]
        assert found[start + timedelta(hours=hour)].mean == pytest.approx(fmean(expected), abs=1e-6)


def test_orders_have_words() -> None:
    """Each order reads back a moment that is written in it."""
    written: dict[Order, str] = {"ymd": "2026-11-25 08:00", "dmy": "25.11.26 08:00", "mdy": "11/25/26 08:00"}
    for order, text in written.items():
        moment = reading(order)(text)
        assert moment is not None
        assert moment.wall == START


def test_a_clock_that_was_put_back_without_a_zone(room: Path) -> None:
    """Moments, not cells, are counted; a zone is asked for, and when it is named both hours are kept apart."""
    walls = [f"2026-10-25 0{hour}:{minute:02}" for hour in (1, 2, 2, 3) for minute in (0, 30)]
    rows = [f"{wall},{20 + number},{50 + number}" for number, wall in enumerate(walls)]
    columns = (TEMPERATURE, Mapped("h", "humidity", "", "raft"))
    head = f"Time,{TEMPERATURE.column},h"
    made = taken(room, rows, Taking(("Time",), "ymd", columns), head)
    told = "\n".join(made.told)
    assert "2 moments stand there twice and count once." in told
    assert "2 of them have another value there" in told
    assert "--zone Europe/Vienna" in told

    again = taken(room, rows, Taking(("Time",), "ymd", columns, "Europe/Vienna"), head)
    assert again.readings == 16
    assert "--zone" not in "\n".join(again.told)


def test_hours_that_were_read_otherwise_are_told(room: Path) -> None:
    """The same file in another zone gives other hours; of those that it gave before it says that they stay."""
    first = taken(room, lines(0, 6), Taking(("Time",), "ymd", (TEMPERATURE,), "UTC"))
    assert not any("read otherwise" in one for one in first.told)
    again = taken(room, lines(0, 6), Taking(("Time",), "ymd", (TEMPERATURE,), "+03:00"))
    assert "1 hour stays on record from when this file was read otherwise, the first 2026-11-25 08:00." in again.told


def test_units_are_written_as_usual() -> None:
    """A unit that a column's name spells in small letters is offered as people write it."""
    assert guessed("ec uS/cm") == ("EC", "µS/cm")
    with pytest.raises(BadLogger, match="µS/cm") as error:
        unit_in("EC", "furlong")
    assert "us/cm" not in str(error.value)
