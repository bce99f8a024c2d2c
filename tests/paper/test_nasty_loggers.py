"""Files as loggers, spreadsheets and a power cut leave them: read rightly, or refused in one line."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from walkabout.paper.logger_columns import BadLogger, Mapped, guessed
from walkabout.paper.logger_file import read_logger_file, time_columns
from walkabout.paper.logger_kept import Taking
from walkabout.paper.logger_read import Read, read_readings


def read(content: str | bytes, zone: str = "UTC") -> Read:
    """Read a file as its own names and times suggest."""
    file = read_logger_file(Path("x.csv"), content if isinstance(content, bytes) else content.encode())
    time, orders = time_columns(file)
    columns = [Mapped(name, *guess, "tub") for name in file.names if name not in time and (guess := guessed(name))]
    return read_readings(file, Taking(time, orders[0], tuple(columns), zone))


def values(found: Read, quantity: str = "air temperature") -> list[float]:
    """Return the readings in the order of time."""
    return [value for _, (value, _) in sorted(found.readings["tub", quantity].items())]


TWO = "2026-11-25 08:00,20.5\n2026-11-25 08:10,21.5\n"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
def test_every_spelling(encoding: str) -> None:
    """With a mark or without one, the letters of units are read."""
    found = read("Zeit;Temp °C;LF µS/cm\n25.11.2026 08:00;20,5;1400\n25.11.2026 08:10;21,5;1500\n".encode(encoding))
    assert values(found) == [20.5, 21.5]
    assert values(found, "EC") == [1.4, 1.5]
    assert (found.wrong, found.told) == ([], [])


def test_a_clock_of_twelve_hours() -> None:
    """Midnight and noon are where they belong."""
    rows = "11/25/2026 12:00:00 AM,1\n11/25/2026 6:00:00 AM,2\n11/25/2026 12:00:00 PM,3\n11/25/2026 6:00 p.m.,4\n"
    moments = sorted(read(f"Time,Temp\n{rows}").readings["tub", "air temperature"])
    assert [datetime.fromtimestamp(at, UTC).hour for at in moments] == [0, 6, 12, 18]


def test_ten_readings_a_second() -> None:
    """Tenths of a second are moments of their own, however they are written."""
    for row in ("2026-11-25 08:00:{:04.1f},20\n", "25.11.2026 08:00:{:06.3f},20\n"):
        found = read("Time,Temp\n" + "".join(row.format(number / 10) for number in range(100)))
        assert len(values(found)) == 100
        assert found.told == []
    millis = read("Time,Temp\n" + "".join(f"{1795593600000 + 100 * number},20\n" for number in range(100)))
    assert len(values(millis)) == 100


def test_other_units() -> None:
    """Degrees Fahrenheit, hectopascals, microsiemens, in the head or behind each number."""
    found = read("Time,Temp (°F),VPD (kPa),Pressure [hPa],RH\n2026-11-25 08:00,68,1.25,1013,55 %\n")
    assert values(found) == [20.0]
    assert values(found, "vapour pressure deficit") == [1.25]
    assert values(found, "air pressure") == [101.3]
    assert values(found, "humidity") == [55]
    assert values(read("Time,Temp\n2026-11-25 08:00,20.5 °C\n2026-11-25 08:10,20.6°C\n")) == [20.5, 20.6]
    assert "is no number" in read("Time,Temp\n2026-11-25 08:00,68 °F\n2026-11-25 08:10,20\n").wrong[0]


@pytest.mark.parametrize("word", ["-9999", "-9999.0", "-999", "NaN", "9999", "", "OFL"])
def test_numbers_that_stand_for_nothing(word: str) -> None:
    """They are no readings and no mistakes."""
    found = read(f"Time,Temp\n{TWO}2026-11-25 08:20,{word}\n")
    assert values(found) == [20.5, 21.5]
    assert (found.wrong, found.told) == ([], ["1 cell held no reading."])


def test_such_a_number_counts_where_it_can_be() -> None:
    """A balance may well read -999 g."""
    assert values(read("Time,Mass g\n2026-11-25 08:00,-999\n"), "mass") == [-999]


def test_the_names_once_more_in_the_middle() -> None:
    """Files that were put one behind the other: the line is passed over, and said."""
    found = read(f"Time,Temp\n{TWO}Time,Temp\n2026-11-25 08:20,22\nTime,Temp\n")
    assert values(found) == [20.5, 21.5, 22]
    assert found.wrong == []
    assert found.told == ["The names of the columns stand there 2 more times, first on line 4: no reading is lost."]


def test_rows_in_no_order_and_twice() -> None:
    """Each moment counts once, the first of two values, and all that is said."""
    found = read("Time,Temp\n2026-11-25 08:20,3\n2026-11-25 08:00,1\n2026-11-25 08:10,2\n2026-11-25 08:00,9\n")
    assert values(found) == [1, 2, 3]
    told = "\n".join(found.told)
    assert "2 rows go back in time, the first on line 3." in told
    assert "1 moment stands there twice and counts once." in told
    assert "1 of them has another value there: the first one counts." in told


def test_a_row_that_was_cut_off() -> None:
    """A last row without its value, cut within its day, is no reading of another day."""
    found = read(f"Time,Temp\n{TWO}2026-11-2")
    assert values(found) == [20.5, 21.5]
    assert found.wrong == ["x.csv:4: 1 cell, but 2 are needed"]
    assert found.told == []


def test_a_power_cut() -> None:
    """A stretch of zeros in the middle or at the end takes nothing else away."""
    for content in (
        f"Time,Temp\n{TWO}".encode() + b"\0" * 512,
        f"Time,Temp\n{TWO}".replace("\n", "\n\0\0\0", 2).encode(),
    ):
        assert values(read(content)) == [20.5, 21.5]


def test_a_quotation_mark_that_is_never_closed() -> None:
    """It does not swallow the rows below it."""
    assert values(read('Time,Temp\n2026-11-25 08:00,"20.5\n2026-11-25 08:10,21.5\n')) == [20.5, 21.5]


def test_commas_between_thousands() -> None:
    """Beside a point they are plain; alone they may be meant otherwise, and how they were read is said."""
    plain = read('Time,Lux\n2026-11-25 08:00,"1,234.5"\n2026-11-25 08:10,900.1\n')
    assert (values(plain, "illuminance"), plain.told) == ([1234.5, 900.1], [])
    doubtful = read('Time,Lux\n2026-11-25 08:00,"1,234"\n2026-11-25 08:10,"12,345"\n')
    assert values(doubtful, "illuminance") == [1.234, 12.345]
    assert "1,234 was read as 1.234" in doubtful.told[0]


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "the file is empty"),
        (b"\xef\xbb\xbf", "the file is empty"),
        (b"\xff\xfe", "the file is empty"),
        (b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n", "this is a PDF, made for printing"),
        (b"PK\x03\x04\x14\x00\x06\x00", "this is a spreadsheet or a packed folder"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1", "this is an old spreadsheet"),
        (b"\x1f\x8b\x08\x00", "this is packed"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\x02\x80\0\0\x01\xe0\x08\x06", "this is no table of text"),
        (b"\0" * 4096, "this is no table of text"),
    ],
)
def test_what_is_no_table(content: bytes, says: str) -> None:
    """One line with file and line that says what it is."""
    with pytest.raises(BadLogger, match=rf"^x\.csv:1: {says}") as caught:
        read_logger_file(Path("x.csv"), content)
    assert "\n" not in str(caught.value)


def test_the_hour_that_comes_twice_and_the_one_that_does_not_come() -> None:
    """In autumn both hours are kept, in spring a moment that cannot be is told."""
    autumn = read(
        "Time,Temp\n" + "".join(f"2026-10-25 0{hour}:{half}0,{hour}\n" for hour in (1, 2, 2, 3) for half in (0, 3)),
        "Europe/Vienna",
    )
    assert len(values(autumn)) == 8
    spring = read("Time,Temp\n2026-03-29 01:30,1\n2026-03-29 02:30,3\n2026-03-29 03:30,4\n", "Europe/Vienna")
    assert any("1 moment cannot be, since the clock was put forward (line 3)" in one for one in spring.told)
