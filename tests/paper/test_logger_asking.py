"""The questions about a logger's file: which come, what an answer may be, and that none is answered by itself."""

from pathlib import Path

import pytest

from walkabout.paper.logger_asking import HERE, NOTHING, Said, Setting, ask, begin, read_answer, taking_of
from walkabout.paper.logger_columns import BadLogger, Mapped
from walkabout.paper.logger_file import read_logger_file
from walkabout.paper.logger_kept import Taking, remember

STATIONS = {"tub": "Raft tub", "vine": "Trellis", "room": "The room"}
PLAIN = "Time,Temp (°F),Battery\n2026-11-25 08:00,68,3\n2026-11-25 08:10,69,3\n"


@pytest.fixture
def room(tmp_path: Path) -> Path:
    (tmp_path / "records").mkdir()
    return tmp_path


def setting_of(room: Path, text: str = PLAIN, said: Said | None = None, *, again: bool = False) -> Setting:
    file = read_logger_file(Path("x.csv"), text.encode())
    return begin(file, said or Said(), room, STATIONS, again=again)


def asked(setting: Setting, *typed: str) -> list[tuple[str, str, str]]:
    """Answer with these, and return what was asked: kind, column, proposal."""
    answers: tuple[str, ...] = ()
    found = []
    for one in typed:
        question = ask(setting, answers)
        assert question is not None
        found.append((question.asks, question.column, question.proposal))
        answers = (*answers, read_answer(setting, question, one))
    assert ask(setting, answers) is None
    return found


def test_one_question_after_the_other(room: Path) -> None:
    """Each column's quantity with the guess as a proposal, its station, and at the end the clock."""
    setting = setting_of(room)
    assert asked(setting, "", "raft tub", "", "") == [
        ("what", "Temp (°F)", "air temperature:°F"),
        ("station", "Temp (°F)", ""),
        ("what", "Battery", NOTHING),
        ("zone", "", HERE),
    ]
    made = taking_of(setting, ("air temperature:°F", "tub", NOTHING, HERE))
    assert made == Taking(("Time",), "ymd", (Mapped("Temp (°F)", "air temperature", "°F", "tub"),))


def test_nothing_is_answered_by_itself(room: Path) -> None:
    """A question without a proposal is not answered by nothing; neither is it by what does not exist."""
    setting = setting_of(room)
    station = ask(setting, ("air temperature:°F",))
    assert station is not None
    for typed, says in (("", "say which"), ("4", "no station"), ("tubb", 'Did you mean "tub"')):
        with pytest.raises(BadLogger, match=says):
            read_answer(setting, station, typed)
    what = ask(setting, ())
    assert what is not None
    for typed, says in (("hue", "is no quantity"), ("pH:°C", "cannot be in")):
        with pytest.raises(BadLogger, match=says):
            read_answer(setting, what, typed)
    zone = ask(setting, ("air temperature:°F", "tub", NOTHING))
    assert zone is not None
    with pytest.raises(BadLogger, match="no time zone"):
        read_answer(setting, zone, "Mars")


@pytest.mark.parametrize(("typed", "key"), [("1", "tub"), ("trellis", "vine"), ("room", "room"), ("The room", "room")])
def test_a_station_by_number_name_or_key(room: Path, typed: str, key: str) -> None:
    """All three are understood."""
    setting = setting_of(room)
    question = ask(setting, ("air temperature:°F",))
    assert question is not None
    assert read_answer(setting, question, typed) == key


def test_the_next_column_proposes_the_station_before(room: Path) -> None:
    """It is proposed, and still asked."""
    text = PLAIN.replace("Battery", "RH %")
    found = asked(setting_of(room, text), "", "vine", "", "", "utc")
    assert found[3] == ("station", "RH %", "vine")


def test_an_answer_is_taken_back_by_leaving_it_out(room: Path) -> None:
    """Then the same question comes again, and another answer leads on otherwise."""
    setting = setting_of(room)
    first = ask(setting, ())
    assert ask(setting, ("air temperature:°F",)) != first
    assert ask(setting, ()) == first
    other = ask(setting, (NOTHING,))
    assert other is not None
    assert (other.asks, other.column) == ("what", "Battery")


def test_the_order_of_days_only_where_it_is_open(room: Path) -> None:
    """A day above twelve tells; two days that can be swapped do not."""
    swapped = PLAIN.replace("2026-11-25", "05/06/2026")
    setting = setting_of(room, swapped)
    question = ask(setting, ())
    assert question is not None
    assert question.asks == "order"
    assert taking_of(setting, ("mdy", "pH", "tub", NOTHING, "UTC")).order == "mdy"
    for text, said in ((swapped.replace("05/06", "25/06"), Said()), (swapped, Said(order="dmy"))):
        later = ask(setting_of(room, text, said), ())
        assert later is not None
        assert later.asks == "what"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (PLAIN.replace("Time", "Time (UTC+1)"), Said()),
        (PLAIN.replace("08:00", "08:00Z").replace("08:10", "08:10Z"), Said()),
        (PLAIN, Said(zone="+01:00")),
        (PLAIN.replace("2026-11-25 08:00", "1795593600").replace("2026-11-25 08:10", "1795594200"), Said()),
    ],
)
def test_the_clock_only_where_it_is_open(room: Path, text: str, said: Said) -> None:
    """A zone in the head, in the cells or in what was said is enough."""
    found = asked(setting_of(room, text, said), "", "tub", "")
    assert [one for one, _, _ in found] == ["what", "station", "what"]


def test_what_was_said_is_not_asked(room: Path) -> None:
    """A station for all, columns for all."""
    assert [one for one, _, _ in asked(setting_of(room, said=Said(station="tub")), "", "", "")] == [
        "what", "what", "zone",
    ]  # fmt: skip
    made = setting_of(room, said=Said(columns=("Battery=volume:mL@vine",)))
    assert ask(made, ()) is None
    assert taking_of(made, ()).columns == (Mapped("Battery", "volume", "mL", "vine"),)


def test_what_is_remembered_is_not_asked(room: Path) -> None:
    """Until it is to be asked anew; a station that the room has no more is said."""
    names = ("Time", "Temp (°F)", "Battery")
    known = Taking(("Time",), "ymd", (Mapped("Temp (°F)", "air temperature", "°F", "tub"),), "UTC")
    remember(room, names, known)
    setting = setting_of(room)
    assert ask(setting, ()) is None
    assert taking_of(setting, ()) == known
    assert taking_of(setting_of(room, said=Said(station="vine", zone="+02:00")), ()).zone == "+02:00"
    assert ask(setting_of(room, again=True), ()) is not None
    remember(room, names, Taking(("Time",), "ymd", (Mapped("Temp (°F)", "pH", "", "gone"),)))
    with pytest.raises(BadLogger, match='no station "gone"'):
        setting_of(room)


def test_every_column_left_out_is_nothing(room: Path) -> None:
    """Then there is nothing to take in, and the clock is not asked for."""
    setting = setting_of(room)
    assert ask(setting, (NOTHING, NOTHING)) is None
    with pytest.raises(BadLogger, match="no column was named"):
        taking_of(setting, (NOTHING, NOTHING))
