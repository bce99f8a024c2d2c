"""The order of day, month and year: what a file shows goes before what is remembered; it is asked where it is open."""

from pathlib import Path

import pytest

from walkabout.paper.logger_asking import Said, Setting, ask, begin, taking_of
from walkabout.paper.logger_columns import BadLogger, Mapped
from walkabout.paper.logger_file import read_logger_file
from walkabout.paper.logger_kept import Taking, remember, remembered
from walkabout.paper.logger_read import Read, read_readings
from walkabout.paper.logger_times import Order, reading

NAMES = ("Time", "Temp °C")
COLUMN = (Mapped("Temp °C", "air temperature", "°C", "tub"),)


@pytest.fixture
def room(tmp_path: Path) -> Path:
    (tmp_path / "records").mkdir()
    return tmp_path


def known(order: Order) -> Taking:
    return Taking(("Time",), order, COLUMN, "UTC")


def text_of(*moments: str) -> bytes:
    rows = "".join(f"{one},{20 + number}\n" for number, one in enumerate(moments))
    return f"Time,Temp °C\n{rows}".encode()


def setting_of(room: Path, *moments: str, said: Said | None = None) -> Setting:
    return begin(read_logger_file(Path("x.csv"), text_of(*moments)), said or Said(), room, {"tub": "Tub"})


def read(order: Order, *moments: str) -> Read:
    return read_readings(read_logger_file(Path("x.csv"), text_of(*moments)), known(order))


@pytest.mark.parametrize("order", ["dmy", "mdy"])
def test_a_year_in_front_is_always_read(order: Order) -> None:
    """2026-11-13 is the thirteenth of November, whatever order is remembered."""
    moment = reading(order)("2026-11-13 00:30")
    assert moment is not None
    assert (moment.wall.month, moment.wall.day) == (11, 13)


@pytest.mark.parametrize(
    ("before", "moments", "order"),
    [
        ("mdy", ("2026-11-12 00:30", "2026-11-13 00:30"), "ymd"),
        ("ymd", ("11/13/2026 00:30", "11/14/2026 00:30"), "mdy"),
        ("mdy", ("25.11.2026 00:30", "26.11.2026 00:30"), "dmy"),
        ("seconds", ("25.11.2026 00:30", "26.11.2026 00:30"), "dmy"),
    ],
)
def test_what_the_file_shows_goes_first(room: Path, before: Order, moments: tuple[str, ...], order: Order) -> None:
    """A file in which only one order fits is read in it, without a question, and that it is another one is said."""
    remember(room, NAMES, known(before))
    setting = setting_of(room, *moments)
    assert ask(setting, ()) is None
    assert taking_of(setting, ()).order == order
    assert "otherwise here" in setting.told


def test_what_is_remembered_counts_where_the_file_leaves_it_open(room: Path) -> None:
    """One day can be read both ways: it is read as the last time, unasked; which way that was is said."""
    remember(room, NAMES, known("mdy"))
    setting = setting_of(room, "11/10/2026 1:00 PM", "11/10/2026 2:00 PM")
    assert ask(setting, ()) is None
    assert taking_of(setting, ()).order == "mdy"
    assert setting.told == ""
    (told,) = read("mdy", "11/10/2026 1:00 PM", "11/10/2026 2:00 PM").told
    assert told == (
        "Days here can be read two ways. They were read as month, day, year: 2026-11-10 to 2026-11-10."
        " If that is wrong, take it in once more: --again asks anew, e on the screen."
    )


def test_it_is_asked_where_the_remembered_order_makes_leaps(room: Path) -> None:
    """05/11, 06/11, 07/11 go on from day to day in one order and leap from month to month in the remembered one."""
    remember(room, NAMES, known("mdy"))
    moments = ("05/11/2026 08:00", "06/11/2026 08:00", "07/11/2026 08:00")
    setting = setting_of(room, *moments)
    question = ask(setting, ())
    assert question is not None
    assert (question.asks, question.proposal) == ("order", "")
    assert "05/11/2026 08:00" in question.says
    assert ask(setting, ("dmy",)) is None
    assert taking_of(setting, ("dmy",)) == known("dmy")
    assert taking_of(setting, ("mdy",)) == known("mdy")
    assert ask(setting_of(room, *moments, said=Said(order="mdy")), ()) is None
    anew = ask(begin(setting.file, Said(), room, {"tub": "Tub"}, again=True), ())
    assert anew is not None
    assert anew.asks == "order"


def test_it_is_asked_where_what_is_remembered_does_not_fit_and_the_file_is_open(room: Path) -> None:
    """The year used to stand in front and now stands behind: nothing tells day from month."""
    remember(room, NAMES, known("ymd"))
    question = ask(setting_of(room, "05/06/2026 08:00", "05/06/2026 08:10"), ())
    assert question is not None
    assert question.asks == "order"


def test_a_year_in_front_does_not_make_it_forget(room: Path) -> None:
    """Whoever said month, day, year once is not asked again because one file had the year in front."""
    remember(room, NAMES, known("mdy"))
    remember(room, NAMES, known("ymd"))
    assert remembered(room, NAMES) == known("mdy")
    remember(room, NAMES, known("dmy"))
    assert remembered(room, NAMES) == known("dmy")


def test_nothing_fits(room: Path) -> None:
    """Cells that are no moments in any order are said, not guessed at."""
    remember(room, NAMES, known("mdy"))
    with pytest.raises(BadLogger, match="holds no days and times that can be read"):
        setting_of(room, "noon", "one")


def test_one_order_alone_is_not_worth_a_word() -> None:
    """Where only one order fits nothing is said of it."""
    assert read("dmy", "25.11.2026 08:00", "25.11.2026 08:10").told == []
    assert read("ymd", "2026-11-05 08:00", "2026-11-05 08:10").told == []


def test_the_eleventh_of_the_eleventh(room: Path) -> None:
    """Where both orders give the same day the remembered one stays, and nothing is said."""
    remember(room, NAMES, known("mdy"))
    setting = setting_of(room, "11/11/2026 08:00", "11/11/2026 08:10")
    assert ask(setting, ()) is None
    assert (taking_of(setting, ()).order, setting.told) == ("mdy", "")
