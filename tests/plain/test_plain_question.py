"""What a typed line means, and a reading's range, a job's hours and days in words."""

from datetime import date

import pytest

from walkabout.checklist.model import Question, Reading
from walkabout.growing.units import METRIC, US
from walkabout.plain.dialogue import visible
from walkabout.plain.question import NotAnAnswer, understood
from walkabout.round.spoken import due_words, hours_words, range_words, who_words
from walkabout.round.wants import Wanted

AIR = Reading(
    quantity="air temperature", unit="°C", possible=(-10, 60), likely=(5, 40), good=(18, 26), alarm=(None, 35)
)
WARMTH = Question(id="air", ask="How warm is it?", kind="number", seconds=5, should=1, must=1, reading=AIR)


@pytest.mark.parametrize("typed", ["72", "72 °F", "72F", "72,0 f", "°F 72"])
def test_a_us_room_types_its_own_units(typed: str) -> None:
    """A number typed in °F is stored in °C, with or without its unit."""
    assert understood(typed, WARMTH, scales=US).value == pytest.approx(22.222, abs=0.001)


@pytest.mark.parametrize("typed", ["72 °C", "warm", "1e3", "nan", "inf", "--5", "5 6", "٣", "1.2.3"])
def test_what_is_no_number_says_what_would_be(typed: str) -> None:
    """Another unit, words and odd numbers are refused, with an example in the room's unit."""
    with pytest.raises(NotAnAnswer, match=r"Type a number in °F, such as 6\.1, or n if nobody looked\."):
        understood(typed, WARMTH, scales=US)


def test_ranges_in_words() -> None:
    """A range is said with units and whose it is; one that is open at an end is said so."""
    assert range_words(AIR, None, scales=METRIC) == "Wanted: 18.0 °C to 26.0 °C, the usual range."
    assert range_words(AIR, Wanted(20, 24, "what basil wants"), scales=US) == (
        "Wanted: 68.0 °F to 75.2 °F, what basil wants."
    )
    assert range_words(AIR, Wanted(12, 60, "the limit"), scales=METRIC) == "Wanted: at least 12.0 °C, the limit."
    assert range_words(AIR, Wanted(-10, 30, "the limit"), scales=METRIC) == "Wanted: at most 30.0 °C, the limit."


@pytest.mark.parametrize(
    ("hours", "says"),
    [(0, "at once"), (1, "loss in 1 hour"), (40, "loss in 40 hours"), (72, "loss in 3 days"), (None, "no hurry")],
)
def test_hours_to_loss_in_words(hours: float | None, says: str) -> None:
    """Hours to loss are said in hours up to two days, then in days."""
    assert hours_words(hours) == says


def test_due_in_words() -> None:
    """A day that is past is overdue."""
    today = date(2026, 11, 25)

    assert due_words(date(2026, 11, 23), today) == "overdue since Monday"
    assert due_words(today, today) == "due today"
    assert due_words(date(2026, 12, 3), today) == "due 3 Dec"


def test_a_pupil_is_told_whom_to_tell() -> None:
    """Who may not do a thing hears who may, and whom to tell."""
    assert who_words("pupil", "pupil") == "A pupil may do this."
    assert who_words("adult", "adult") == "Only an adult may do this."
    assert who_words("adult", "pupil") == "Only an adult may do this. Tell an adult."
    assert who_words("licensed", "adult").endswith("local codes decide. Tell an adult, who calls one.")


@pytest.mark.parametrize(
    ("text", "seen"),
    [
        ("as typed [/b] é 漢 👩‍🌾", "as typed [/b] é 漢 👩‍🌾"),
        ("\x1b[2J", "\\x1b[2J"),
        ("a\tb\r\nc", "a\\tb\\r\\nc"),
        ("\u202egnp.exe\u2066", "\\u202egnp.exe\\u2066"),
        ("\x9b31m\x7f", "\\x9b31m\\x7f"),
        ("half \ud800", "half \\ud800"),
    ],
)
def test_what_steers_a_terminal_is_made_visible(text: str, seen: str) -> None:
    """Controls, direction marks and half characters are written out; letters of all scripts stay."""
    assert visible(text) == seen
