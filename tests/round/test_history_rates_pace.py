"""What was answered before, how often faults come here, and how fast these walkers look."""

from datetime import UTC, date, datetime, timedelta
from itertools import permutations
from pathlib import Path

import pytest

from tests.round.school import MONDAY, School, choice, healthy
from walkabout.records.model import Answer
from walkabout.round.days import coming, open_days
from walkabout.round.history import History
from walkabout.round.pace import WALKING, Pace
from walkabout.round.rates import Rates, weekly_rate

EIGHT = datetime(2026, 9, 14, 8, 0, tzinfo=UTC)


def answer(key: str, days: int = 0, *, at: datetime | None = None, question: str = "q", station: str = "tub",
           shows: tuple[str, ...] = (), seconds: float = 0, walker: str = "AR", replaces: str = "",
           state: str = "answered", value: float | None = None) -> Answer:  # fmt: skip
    return Answer(
        key=key, round="r", at=at or EIGHT + timedelta(days=days), walker=walker, station=station, question=question,
        state=state, shows=shows, seconds=seconds, replaces=replaces, value=value,  # type: ignore[arg-type]
    )  # fmt: skip


# history


def test_a_correction_stands_in_the_place_of_the_old_answer() -> None:
    """The corrected answer is gone from the row, keeps its place there, and can be asked for."""
    rows = [answer("a1"), answer("a2", 1), answer("a3", 2), answer("a4", 1, replaces="a2")]
    history = History(rows)
    assert [one.key for one in history.all("tub", "q")] == ["a1", "a4", "a3"]
    assert history.corrected(rows[3]) == rows[1]
    assert history.corrected(rows[0]) is None


@pytest.mark.parametrize("keys", list(permutations(["a1", "b2", "c3"])))
def test_a_correction_is_known_whatever_its_key(keys: tuple[str, str, str]) -> None:
    """A correction of a correction that keeps the moment of the look counts, whichever key sorts first."""
    first, second, third = keys
    rows = [answer(first), answer(second, replaces=first), answer(third, replaces=second)]
    for order in permutations(rows):
        history = History(order)
        assert [one.key for one in history.all("tub", "q")] == [third]
        assert [one.key for one in history.everything()] == [third]


def test_of_two_corrections_of_one_answer_the_later_counts() -> None:
    """Two people put the same answer right: one answer is left, the later one."""
    history = History([answer("a1"), answer("a2", 1, replaces="a1"), answer("a3", 2, replaces="a1")])
    assert [one.key for one in history.all("tub", "q")] == ["a3"]


def test_a_correction_may_move_to_another_question() -> None:
    """An answer put right at another station is gone from where it was."""
    history = History([answer("a1"), answer("a2", 1, station="film", replaces="a1")])
    assert history.all("tub", "q") == []
    assert [one.key for one in history.all("film", "q")] == ["a2"]


def test_a_correction_of_what_is_long_gone_is_an_answer() -> None:
    """Where the old answer is older than what is read, the correction stands by itself."""
    assert [one.key for one in History([answer("a2", replaces="a-unknown")]).all("tub", "q")] == ["a2"]


def test_a_circle_of_corrections_does_not_hang() -> None:
    """Two answers that claim to replace each other, as only a broken file can have them, are read all the same."""
    history = History([answer("a1", replaces="a2"), answer("a2", replaces="a1")])
    assert len(history.all("tub", "q")) == 1


def test_the_same_answer_saved_again_is_taken_anew() -> None:
    """An answer with a known key takes the place of its older self."""
    history = History([answer("a1"), answer("a2", 1)])
    history.add(answer("a1", value=5))
    assert [(one.key, one.value) for one in history.all("tub", "q")] == [("a1", 5), ("a2", None)]


def test_fresh_counts_calendar_days() -> None:
    """Yesterday evening is one day ago on the next morning; 'not looked' is no look."""
    evening = EIGHT.replace(hour=23)
    history = History([answer("a1", at=evening), answer("a2", 1, state="not looked")])
    morning = EIGHT + timedelta(days=1, hours=-1)
    assert history.fresh("tub", "q", morning, 0) is None
    found = history.fresh("tub", "q", morning, 1)
    assert found is not None
    assert found.key == "a1"
    assert history.fresh("tub", "q", morning + timedelta(days=1), 1) is None


def test_last_is_what_was_written_and_last_look_what_was_seen() -> None:
    """'Not looked' is the last thing written down, but not the last look."""
    history = History([answer("a1"), answer("a2", 1, state="not looked"), answer("a3", 2, state="does not apply")])
    last, look = history.last("tub", "q"), history.last_look("tub", "q")
    assert last is not None
    assert look is not None
    assert (last.key, look.key) == ("a3", "a1")
    assert history.first_at("tub") == EIGHT.date()
    assert history.first_at("film") is None


# rates


def test_the_rate_by_hand() -> None:
    """(0.03 × 26 + 4) ÷ (26 + 13) = 0.1226: a gamma prior of 26 weeks, four faults in thirteen weeks."""
    assert weekly_rate(0.03, 4, 13) == pytest.approx(4.78 / 39)
    assert weekly_rate(0.03, 0, 0) == pytest.approx(0.03)
    assert weekly_rate(0.03, 0, -1) == pytest.approx(0.03)


def test_rates_learn_from_the_rooms_own_answers() -> None:
    """Thirteen weeks of looks with two separate leaks: (0.01 × 26 + 2) ÷ 39."""
    days = [(0, ()), (7, ("leak",)), (8, ("leak",)), (9, ()), (40, ("leak",)), (91, ())]
    history = History([answer(f"a{day:02}", day, shows=shows) for day, shows in days])
    rates = Rates(history, EIGHT.date() + timedelta(days=91))
    assert rates.of("tub", "leak", 0.01) == pytest.approx(2.26 / 39)
    assert rates.of("film", "leak", 0.01) == pytest.approx(0.26 / 39)


def test_one_fault_on_two_looks_has_come_once() -> None:
    """Rot that shows in limp leaves and on the roots is one fault, until neither look shows it any more."""
    rows = [
        answer("a1", 1, question="leaves", shows=("rot",)),
        answer("a2", 1, question="roots", shows=("rot",)),
        answer("a3", 2, question="leaves"),
        answer("a4", 3, question="leaves", shows=("rot",)),
        answer("a5", 4, question="leaves"),
        answer("a6", 4, question="roots"),
        answer("a7", 60, question="roots", shows=("rot",)),
        answer("a0", 0),
    ]
    rates = Rates(History(rows), EIGHT.date() + timedelta(days=70))
    assert rates.of("tub", "rot", 0.0) == pytest.approx(2 / 36)


def test_not_looked_is_no_look_without_the_fault() -> None:
    """A day nobody looked does not end a fault: seen before and after, it has come once."""
    rows = [answer("a1", 0, shows=("leak",)), answer("a2", 1, state="not looked"), answer("a3", 2, shows=("leak",))]
    assert Rates(History(rows), EIGHT.date()).of("tub", "leak", 0.0) == pytest.approx(1 / 26)


# pace


def test_pace_by_hand() -> None:
    """Six looks of 10 s from the checklist, four of 20 s: (6 + 4 × 2) ÷ 10 = 1.4 times 10 s, the way not counted."""
    history = History([answer(f"a{day}", day, seconds=20 if day else 20 + WALKING) for day in range(4)])
    pace = Pace(history, {("tub", "q"): 10.0})
    assert pace.seconds("tub", choice("q", seconds=10), "somebody new") == pytest.approx(14)
    assert pace.seconds("tub", choice("q", seconds=10), "AR") == pytest.approx(14)
    assert pace.seconds("film", choice("q", seconds=10), "AR") == 10


def test_an_interruption_counts_as_four_times_at_most() -> None:
    """Five minutes on a five-second look were not spent looking."""
    pace = Pace(History([answer("a1", seconds=300)]), {("tub", "q"): 5.0})
    assert pace.seconds("tub", choice("q", seconds=5), "new") == pytest.approx(5 * 10 / 7)


def test_a_slow_walker_is_given_more_time() -> None:
    """Who takes longer than the others over the same looks has a longer round than they."""
    rows = [answer(f"a{day}", day, seconds=5, walker="AR") for day in range(30)]
    rows += [answer(f"b{day}", day, seconds=15, walker="K7") for day in range(30)]
    pace = Pace(History(rows), {("tub", "q"): 10.0})
    slow, quick = (pace.seconds("tub", choice("q", seconds=10), walker) for walker in ("K7", "AR"))
    assert slow > 1.2 * quick


def test_answers_without_seconds_teach_nothing() -> None:
    """Corrections, 'not looked' and answers without a time leave the checklist's seconds."""
    rows = [answer("a1"), answer("a2", 1, state="not looked", seconds=90), answer("a3", 2, seconds=90, replaces="a1")]
    assert Pace(History(rows), {("tub", "q"): 10.0}).seconds("tub", choice("q", seconds=10), "AR") == 10


def test_seconds_come_from_the_walk(tmp_path: Path) -> None:
    """A walker who takes twice the planned time makes the next plan's seconds longer; the way there is no look."""
    school = School(tmp_path / "room", ["pots"])
    school.only("pots", choice("q", seconds=5))
    before = school.plan().asked[0].seconds
    for _ in range(10):
        walk = school.begin()
        school.tick(10 + WALKING)
        healthy(walk)
        walk.finish()
        school.tomorrow()
    assert before == 5
    assert school.plan().asked[0].seconds == pytest.approx(5 * (6 + 10 * 2) / 16)


# days


def test_closed_days_do_not_count(tmp_path: Path) -> None:
    """From Friday over a closed week to Monday week is one day: its weekends belong to the closure."""
    more = "[[closure]]\nfrom = 2026-09-21\nto = 2026-09-25\n[[closure]]\nfrom = 2026-09-23\nto = 2026-09-24\n"
    room = School(tmp_path / "room", ["pots"], more=more).room.room
    friday, monday = MONDAY + timedelta(days=4), MONDAY + timedelta(days=14)
    assert open_days(room, friday, monday) == 1
    assert open_days(room, friday, monday + timedelta(days=1)) == 2
    assert open_days(room, friday - timedelta(days=1), monday) == 2
    assert open_days(room, date(2026, 9, 22), date(2026, 9, 24)) == 0
    assert open_days(room, monday, friday) == 0


def test_an_ordinary_weekend_counts(tmp_path: Path) -> None:
    """From Friday to Monday are three days; plants know no weekend."""
    room = School(tmp_path / "room", ["pots"]).room.room
    assert open_days(room, MONDAY + timedelta(days=4), MONDAY + timedelta(days=7)) == 3


def test_the_coming_rounds(tmp_path: Path) -> None:
    """Thursday's next rounds: Friday with 72 hours alone after it, then Monday with 24."""
    room = School(tmp_path / "room", ["pots"]).room.room
    found = coming(room, MONDAY + timedelta(days=3), 2)
    assert [(one.day.day, one.gap, one.alone, one.returning) for one in found] == [
        (18, 3, 72.0, False),
        (21, 1, 24.0, False),
    ]
