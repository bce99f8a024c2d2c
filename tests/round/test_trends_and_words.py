"""Strips, where answers run to, and what the faces say alike."""

from datetime import UTC, datetime, timedelta

import pytest

from tests.round.school import MONDAY, choice, number
from walkabout.checklist.model import Choice, Question, Reading
from walkabout.checklist.read import read_checklists
from walkabout.growing.units import METRIC
from walkabout.records.model import Answer
from walkabout.round.history import History
from walkabout.round.trend import running_towards, strip
from walkabout.round.words import answer_words, clock_words, day_words, minutes_words, stamp

LEVEL = choice(
    "level",
    choices=(
        Choice(id="full", says="full"),
        Choice(id="finger", says="a finger below"),
        Choice(id="hand", says="a hand below", verdict="watch"),
        Choice(id="dry", says="roots hang dry", verdict="now"),
    ),
)
PH = number("ph", Reading(quantity="pH", unit="pH", possible=(0, 14), likely=(4, 9), decimals=1))
SHIPPED = read_checklists(None).of


def looks(question: Question, *answers: tuple[int, str | float]) -> History:
    """Return a history of looks, each as (days before Monday, choice or value)."""
    rows = []
    for days, what in answers:
        verdict = next((one.verdict for one in question.choices if one.id == what), "good")
        rows.append(
            Answer(
                key=f"a{100 - days:03}",
                round="r",
                at=datetime(2026, 9, 14, 8, tzinfo=UTC) - timedelta(days=days),
                walker="AR",
                station="tub",
                question=question.id,
                choices=(what,) if isinstance(what, str) else (),
                value=what if not isinstance(what, str) else None,
                verdict=verdict,
            )
        )
    return History(rows)


def test_a_strip_shows_the_last_fourteen_days() -> None:
    """Fourteen places, the oldest first, today left out; a day without a look is a dot."""
    shown = strip(
        LEVEL,
        "tub",
        looks(LEVEL, (20, "dry"), (14, "dry"), (2, "hand"), (1, "full"), (0, "dry")),
        MONDAY,
        scales=METRIC,
    )
    assert shown is not None
    assert len(shown.levels) == 14
    assert shown.bars() == "▁···········▃▇"
    assert shown.says == "as it should be 1 of 3 times"


def test_a_second_good_choice_is_as_it_should_be() -> None:
    """A finger below is good as well, though it is not the first choice."""
    shown = strip(LEVEL, "tub", looks(LEVEL, (2, "finger"), (1, "full")), MONDAY, scales=METRIC)
    assert shown is not None
    assert shown.says == "as it should be 2 of 2 times"


def test_a_strip_of_numbers_runs_from_least_to_most() -> None:
    """Readings are drawn between the least and the most of the days; equal ones in the middle."""
    history = looks(PH, (3, 5.6), (2, 6.0), (1, 5.8))
    shown = strip(PH, "tub", history, MONDAY, scales=METRIC)
    assert shown is not None
    assert shown.levels[-3:] == pytest.approx((0, 1, 0.5))
    assert shown.says == "from pH 5.6 to pH 6.0, last pH 5.8"
    flat = strip(PH, "tub", looks(PH, (2, 5.8), (1, 5.8)), MONDAY, scales=METRIC)
    assert flat is not None
    assert flat.levels[-1] == 0.5


def test_one_look_is_no_strip() -> None:
    """A single look shows no course; nor do looks nobody took."""
    assert strip(LEVEL, "tub", looks(LEVEL, (1, "full")), MONDAY, scales=METRIC) is None
    assert strip(LEVEL, "tub", History([]), MONDAY, scales=METRIC) is None


def test_a_falling_level_says_when_the_roots_hang_dry() -> None:
    """Full, a finger, a hand on three days: the roots hang dry a day after the last, which is today, Monday."""
    history = looks(LEVEL, (3, "full"), (2, "finger"), (1, "hand"))
    says = running_towards(LEVEL, "tub", history, MONDAY)
    assert says == 'It fell two looks running; at this rate it is "roots hang dry" today.'


@pytest.mark.parametrize(
    ("answers", "when"),
    [
        (((2, "full"), (1, "finger"), (0, "hand")), "tomorrow"),
        (((4, "full"), (2, "finger"), (0, "hand")), "on Wednesday"),
    ],
)
def test_the_day_is_said_as_people_say_it(answers: tuple[tuple[int, str], ...], when: str) -> None:
    """The nearest days by their word, days within a week by their name."""
    assert running_towards(LEVEL, "tub", looks(LEVEL, *answers), MONDAY).endswith(f"{when}.")


@pytest.mark.parametrize(
    "answers",
    [
        ((3, "full"), (2, "finger"), (1, "finger")),
        ((2, "finger"), (1, "hand")),
        ((3, "hand"), (2, "finger"), (1, "full")),
        ((12, "full"), (11, "finger"), (1, "hand")),
        ((3, "finger"), (2, "hand"), (1, "dry")),
        (),
    ],
)
def test_what_does_not_fall_twice_runs_nowhere(answers: tuple[tuple[int, str], ...]) -> None:
    """It takes two steps down in a row within a week; at the end already, or rising, nothing is said."""
    assert running_towards(LEVEL, "tub", looks(LEVEL, *answers), MONDAY) == ""


def test_choices_that_are_no_scale_run_nowhere() -> None:
    """From water to smoke to glass at the doorway is no course towards 'something else'."""
    doorway = SHIPPED["room"].find("doorway")
    assert doorway is not None
    history = looks(doorway, (3, "nothing"), (2, "water"), (1, "tripped"))
    assert running_towards(doorway, "tub", history, MONDAY) == ""
    assert running_towards(PH, "tub", looks(PH, (3, 5.8), (2, 5.6), (1, 5.4)), MONDAY) == ""


def test_answers_in_words() -> None:
    """Choices in their words, numbers with their unit, states and notes as they are."""
    (level,) = looks(LEVEL, (0, "hand")).everything()
    (acid,) = looks(PH, (0, 5.8)).everything()
    assert answer_words(LEVEL, level, scales=METRIC) == "a hand below"
    assert answer_words(None, level, scales=METRIC) == "hand"
    assert answer_words(PH, acid, scales=METRIC) == "pH 5.8"
    at = datetime(2026, 9, 14, 8, tzinfo=UTC)
    for state, note, says in (
        ("not looked", "", "not looked"),
        ("answered", "[b]", "[b]"),
        ("answered", "", "nothing to note"),
    ):
        one = Answer(key="a", round="r", at=at, walker="AR", station="t", question="q", state=state, note=note)  # type: ignore[arg-type]
        assert answer_words(None, one, scales=METRIC) == says


@pytest.mark.parametrize(
    ("back", "says"),
    [
        (0, "today"),
        (1, "yesterday"),
        (-1, "tomorrow"),
        (3, "Friday"),
        (6, "Tuesday"),
        (7, "7 Sep"),
        (400, "10 Aug 2025"),
    ],
)
def test_days_in_words(back: int, says: str) -> None:
    """Near days by their word, days of the last week by name, others by date."""
    assert day_words(MONDAY - timedelta(days=back), MONDAY) == says


@pytest.mark.parametrize(
    ("seconds", "clock", "minutes"),
    [
        (0, "0:00", "0 seconds"),
        (54, "0:54", "54 seconds"),
        (58, "0:58", "about 1 minute"),
        (130, "2:10", "about 2 minutes"),
    ],
)
def test_times_in_words(seconds: float, clock: str, minutes: str) -> None:
    """Minutes and seconds on foot; one minute is singular."""
    assert clock_words(seconds) == clock
    assert minutes_words(seconds) == minutes
    assert clock_words(-3) == "0:00"


def test_a_stamp() -> None:
    """A day with its time."""
    assert stamp(datetime(2026, 11, 25, 8, 3, tzinfo=UTC)) == "Wed 25 Nov, 08:03"
