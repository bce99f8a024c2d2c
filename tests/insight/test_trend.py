"""What is said to have shifted: rarely wrong, soon enough, robust to slips and gaps, and in plain words."""

from datetime import UTC, datetime, timedelta
from random import Random

import msgspec
import pytest

from walkabout.insight.series import Mark, Point, Series
from walkabout.insight.shift import FEWEST, change, slips
from walkabout.insight.trend import Trend, shifts_of, trend
from walkabout.insight.trend_words import good_words

FIRST = datetime(2026, 10, 19, 8, tzinfo=UTC)
"""A Monday."""
PEN = 0.1
"""A school pen: it scatters by about its last digit."""


def ph(values: dict[int, float], *marks: Mark, good: tuple[float, float] | None = (5.5, 6.5)) -> Series:
    """Return readings by the day on which they were taken."""
    points = tuple(Point(FIRST + timedelta(days=day), value) for day, value in values.items())
    return Series(points, "pH", "pH", good, marks, step=PEN)


def pen(days: range, rng: Random, level: float = 6.0, leaning: float = 0.0) -> dict[int, float]:
    """Return readings of a pen on a tank where nothing moves, with gaps: three days in ten nobody read."""
    noise, found = rng.gauss(0, 1), {}
    for day in days:
        noise = leaning * noise + rng.gauss(0, 1) * (1 - leaning**2) ** 0.5
        if rng.random() > 0.3:
            found[day] = round(level + PEN * noise, 1)
    return found


def step_at(day: int, size: float, seed: int, days: int = 36) -> dict[int, float]:
    values = pen(range(days), Random(seed))
    return {one: round(value + (size if one >= day else 0), 1) for one, value in values.items()}


def creeping(day: int, pace: float, seed: int, days: int = 36) -> dict[int, float]:
    values = pen(range(days), Random(seed))
    return {one: round(value + pace * max(one - day, 0), 1) for one, value in values.items()}


def test_in_a_long_row_it_takes_more_to_be_a_slip() -> None:
    """Of 20,000 normal readings, some are far from both neighbours by chance: hardly one is called a slip.

    One that is ten times the scatter off still is.
    """
    rng = Random(3)
    values = [rng.gauss(50, 2) for _ in range(20_000)]

    assert len(slips(values, 0.01)) <= 1
    values[700] = 80
    assert 700 in slips(values, 0.01)


@pytest.mark.parametrize(("leaning", "at_least"), [(0.0, 1500), (0.3, 700), (0.5, 300)])
def test_it_seldom_cries_wolf(leaning: float, at_least: int) -> None:
    """Looked at after every reading, sixty at a time, a tank where nothing moves gives one false alarm in 1500.

    Where readings lean on the one before by 0.3, one in 700; by 0.5, one in 300: the average run length. One reading
    in fifty is a slip of the hand. Longer runs give some 3500, 2000 and 650.
    """
    rng = Random(11)
    read = alarms = 0
    for _ in range(6):
        seen: dict[int, float] = {}
        for day, value in pen(range(950), rng, leaning=leaning).items():
            slip = rng.random() < 0.02
            seen[day] = rng.choice((value * 10, value + 1, value - 1)) if slip else value
            read += 1
            last = dict(list(seen.items())[-60:])
            if len(last) >= FEWEST and shifts_of(ph(last)):
                alarms += 1
                seen = {}

    assert read / max(alarms, 1) >= at_least


def test_a_step_of_three_digits_is_seen_within_six_readings() -> None:
    """A step of three times the scatter is found on the average after five or six readings, and dated within two days.

    Of thirty tanks with some eleven readings after the step it is found in nine of ten.
    """
    late, off = [], []
    for seed in range(30):
        values = step_at(20, 0.3, seed)
        for count in range(8, len(values) + 1):
            seen = dict(list(values.items())[:count])
            if found := shifts_of(ph(seen)):
                late.append(sum(day >= 20 for day in seen))
                since = found[-1].since
                assert isinstance(since, datetime)
                off.append(abs((since - FIRST).days - 20))
                break

    assert len(late) >= 27
    assert sum(late) / len(late) <= 6
    assert sorted(off)[len(off) // 2] <= 2


def test_a_step_is_said_with_its_size_and_its_day() -> None:
    """Readings that went up by 0.3 have been higher since the day of the first of them, by more than chance."""
    values = {day: (6.0, 6.1)[day % 2] + (0.3 if day >= 24 else 0) for day in range(36)}
    found = trend(ph(values))

    assert found.says == ("PH has been 0.3 higher since Thu 12 Nov: more than chance.".replace("PH", "pH"),)
    (shift,) = found.shifts
    assert (shift.direction, shift.change.kind, shift.explained) == ("up", "step", False)
    assert (found.pace, found.leaves) == (None, None)


def test_a_drift_is_said_with_the_day_on_which_the_range_is_left() -> None:
    """Readings that creep up name the day from which they do, and between which days the range is left."""
    found = trend(ph(creeping(14, 0.02, seed=4)))

    (shift,) = found.shifts
    assert shift.change.kind == "drift"
    assert found.leaves is not None
    assert found.leaves.end == "high"
    assert found.leaves.earliest < found.leaves.after < found.leaves.latest
    said = found.says[0]
    assert said.startswith("pH has crept up since ")
    assert ": more than chance. At this rate it leaves 5.5 to 6.5 about " in said
    assert " (between " in said


def test_the_day_on_which_it_leaves_is_about_right() -> None:
    """Of forty tanks that creep by 0.02 a day, the true day lies in the interval for most, and near it for nearly all.

    Readings rise from 6.0 on day 14, so 6.5 is left on day 39, 4 days after the last reading. The interval is
    that of the pace and the level since the drift was seen to set in; it is narrow where that was seen too late.
    """
    told, held, near = 0, 0, 0
    for seed in range(40):
        found = trend(ph(creeping(14, 0.02, seed)))
        if (ahead := found.leaves) is None:
            continue
        told += 1
        true = 39 - max(creeping(14, 0.02, seed))
        held += ahead.earliest - 0.5 <= true <= ahead.latest + 0.5
        near += abs(ahead.after - true) <= 6

    assert told >= 15
    assert held >= 0.6 * told
    assert near >= 0.9 * told


@pytest.mark.parametrize("wrong", [60.0, 9.6, 0.6])
def test_one_slip_makes_no_shift_and_hides_none(wrong: float) -> None:
    """A typing slip, wherever it stands, changes nothing but that it is named."""
    still, moved = pen(range(36), Random(5)), step_at(20, 0.4, seed=5)
    for day in list(still)[::3]:
        assert trend(ph(still | {day: wrong})).shifts == ()
    for day in list(moved)[1:-1:3]:
        found = trend(ph(dict(sorted((moved | {day: wrong}).items()))))
        assert [one.direction for one in found.shifts] == ["up"]
        assert any("is far from the readings beside it" in one for one in found.says)
        assert [one.value for one in found.lone] == [wrong]


def test_a_lone_last_reading_waits_for_the_next() -> None:
    """The first reading at a new level is no shift yet; it is one once others are there, and then it is no slip."""
    values = dict.fromkeys(range(12), 6.0)
    assert trend(ph(values | {12: 6.6})).shifts == ()

    found = trend(ph(values | {12: 6.6, 13: 6.6, 14: 6.5, 15: 6.6}))
    assert [one.change.kind for one in found.shifts] == ["step"]
    assert found.lone == ()


def test_where_nobody_read_the_day_of_a_step_is_not_made_up() -> None:
    """A step across a closure came on some day between the last reading before and the first one after."""
    values = {day: (6.0, 6.1)[day % 2] + (0.4 if day > 20 else 0) for day in range(36) if not 10 < day < 27}
    found = trend(ph(values))

    assert found.says[0].startswith("pH has been 0.4 higher since some day between Thu 29 Oct and Sun 15 Nov: more")


def test_what_was_done_that_day_is_named_and_explains() -> None:
    """A change of the solution a day before explains a step; a finding stands on the line and explains nothing."""
    change_ = Mark(FIRST + timedelta(days=19), "solution", "the solution was changed")
    seen = Mark(FIRST + timedelta(days=20), "finding", "somebody noticed a leaf")
    values = {day: (6.0, 6.1)[day % 2] + (0.4 if day >= 20 else 0) for day in range(36)}
    done, noticed = trend(ph(values, change_)), trend(ph(values, seen))

    assert done.says[0].endswith("more than chance. The solution was changed the day before.")
    assert done.shifts[0].explained
    assert "leaf" not in noticed.says[0]
    assert not noticed.shifts[0].explained


def test_a_change_three_days_before_explains_nothing() -> None:
    """Where every day was read, what was done three days before has no part in a step."""
    change_ = Mark(FIRST + timedelta(days=17), "solution", "the solution was changed")
    values = {day: (6.0, 6.1)[day % 2] + (0.4 if day >= 20 else 0) for day in range(36)}

    assert not trend(ph(values, change_)).shifts[0].explained


def test_two_steps_are_told_in_their_order() -> None:
    """Up and down again is two shifts: the first one is over, the last one holds."""
    values = {day: (6.0, 6.1)[day % 2] + (0.5 if 20 <= day < 40 else 0) for day in range(60)}
    found = trend(ph(values))

    assert [(one.direction, one.last) for one in found.shifts] == [("up", False), ("down", True)]
    assert found.says[0].startswith("pH went 0.5 higher ")
    assert found.says[1].startswith("pH has been 0.5 lower since ")


def test_a_shift_out_of_the_range_says_so() -> None:
    """Where the readings lie now is said when it is outside what plants want."""
    found = trend(ph({day: 6.0 if day < 12 else 6.8 for day in range(24)}))

    assert found.says[0].endswith("It is above 5.5 to 6.5 now.")


def test_a_change_of_one_digit_is_not_spoken_of() -> None:
    """A pen that shows 6.0 for weeks and then 6.1 has moved by its last digit, which says nothing."""
    assert trend(ph({day: 6.0 if day < 20 else 6.1 for day in range(40)})).shifts == ()


def test_scored_answers_grow_better_or_worse() -> None:
    """The level that stood well and has stood lower since is worse, without a number."""
    labels = ("touching the raft", "a finger's width", "a hand's width", "roots hang dry")
    points = tuple(Point(FIRST + timedelta(days=day), 0.0 if day < 12 else -2.0) for day in range(20))
    found = trend(Series(points, "", 'the answer to "How far down?"', None, (), 0, 0.6, labels))

    assert found.says == ('The answer to "How far down?" has been worse since Sat 31 Oct: more than chance.',)


LABELS = ("touching the raft", "a finger's width", "a hand's width", "roots hang dry")


def scored(values: list[int], days: list[int] | None = None) -> Series:
    """Return answers by their places on a scale of four, one a day or on school days."""
    at = days or list(range(len(values)))
    points = tuple(Point(FIRST + timedelta(days=day), -float(one)) for day, one in zip(at, values, strict=True))
    return Series(points, "", 'the answer to "How far down?"', None, (), 0, 0.6, LABELS)


@pytest.mark.parametrize("first", [5, 6, 10, 20])
@pytest.mark.parametrize("second", [4, 5, 8, 15])
@pytest.mark.parametrize("third", [3, 5, 10])
def test_a_clean_stair_is_seen(first: int, second: int, third: int) -> None:
    """Answers that go down a place, stay there and go down another have grown worse, on school days as on all days.

    One step fitted to a stair leaves the other one over, which looks like answers that lean on each other.
    """
    values = [0] * first + [1] * second + [2] * third
    school = [day for day in range(400) if day % 7 < 5][: len(values)]
    for days in (None, school):
        found = shifts_of(scored(values, days))

        assert found
        assert {one.direction for one in found} == {"down"}


def test_the_two_steps_of_a_stair_are_dated() -> None:
    """Where two steps have been found together, both days are named, and the working says how they were found."""
    found = trend(scored([0] * 5 + [1] * 5 + [2] * 15))

    assert [one.since for one in found.shifts] == [FIRST + timedelta(days=5), FIRST + timedelta(days=10)]
    assert [one.last for one in found.shifts] == [False, True]
    assert any("for each of two steps" in one and "stair test" in one for one in found.working)


@pytest.mark.parametrize(("share", "lean", "at_least"), [(0.05, 0.0, 600), (0.3, 0.0, 1500), (0.3, 0.3, 700)])
def test_scored_answers_seldom_cry_wolf(share: float, lean: float, at_least: int) -> None:
    """Answers that are now and then a place lower, at random, give one false alarm in many hundreds of looks.

    Answers that stay as they were (by `lean`) are looked at as well: what a level does until somebody tops it up.
    """
    rng = Random(5)
    read = alarms = 0
    for _ in range(4):
        seen: list[int] = []
        place = 0
        for _ in range(600):
            place = place if rng.random() < lean else int(rng.random() < share)
            seen = [*seen, place][-60:]
            read += 1
            if len(seen) >= FEWEST and shifts_of(scored(seen)):
                alarms += 1
                seen = []

    assert read / max(alarms, 1) >= at_least


@pytest.mark.parametrize("count", range(FEWEST))
def test_few_readings_say_what_they_can(count: int) -> None:
    """Fewer than eight are never said to have shifted, whatever they are; how many it takes is said."""
    found = trend(ph({day: 5.0 + day for day in range(count)}))

    assert found.shifts == ()
    assert f"it takes {FEWEST} to tell a shift from chance" in found.says[0]
    assert (found.limits is None) == (count < 2)


def test_an_even_run_of_few_readings_says_its_pace() -> None:
    """Six readings that all rise say by how much a day, and that they go one way."""
    said = trend(ph({day: 5.5 + day / 10 for day in range(6)})).says[0]

    assert said.endswith("So far they go up by 0.1 a day, and nearly all go the same way.")


def test_a_table_without_times_counts_its_rows() -> None:
    """Rows are readings by number: a shift is since reading 21."""
    points = tuple(Point(float(row), (7.0, 7.2)[row % 2] + (2 if row > 20 else 0)) for row in range(1, 41))
    found = trend(Series(points, "cm", "height", step=PEN, per="reading"))

    assert found.says == ("Height has been 2.0 cm higher since reading 21: more than chance.",)


def test_since_leaves_out_what_was_before() -> None:
    """A trend from a day on knows nothing of the days before it."""
    values = {day: (6.0, 6.1)[day % 2] + (0.4 if day >= 20 else 0) for day in range(40)}

    assert len(trend(ph(values)).shifts) == 1
    assert trend(ph(values), since=(FIRST + timedelta(days=21)).date()).shifts == ()


def test_years_are_said_where_there_is_more_than_one() -> None:
    """Readings over New Year carry the year with each day."""
    found = trend(ph({day: (6.0, 6.1)[day % 2] + (0.4 if day >= 90 else 0) for day in range(110)}))

    assert "since Sun 17 Jan 2027" in found.says[0]


def test_the_working_holds_the_numbers() -> None:
    """Each chart, the tested F and the pace stand there with their sources."""
    working = "\n".join(trend(ph(creeping(14, 0.02, seed=4))).working)

    for part in ("6.3.2.2", "6.3.2.3", "6.3.2.4", "F ", "chance stays below", "Theil 1950, Sen 1968", "Kendall S"):
        assert part in working


def test_what_never_moves_has_no_slips_and_no_shift() -> None:
    """Forty times the same reading, and the same with one other among them."""
    same = [3.0] * 40

    assert slips(same, 0.0) == ()
    assert change(list(range(40)), same) is None
    assert everything_finite(trend(ph(dict.fromkeys(range(40), 3.0))))


# ranges with one end


@pytest.mark.parametrize(
    ("good", "open_ends", "says"),
    [
        ((13.0, 60.0), (False, True), "13.0 °C or more"),
        ((-10.0, 35.0), (True, False), "at most 35.0 °C"),
        ((18.0, 26.0), (False, False), "18.0 to 26.0 °C"),
        (None, (False, False), ""),
    ],
)
def test_a_good_range_is_named_by_the_ends_that_it_has(
    good: tuple[float, float] | None, open_ends: tuple[bool, bool], says: str
) -> None:
    """An end that no instrument could pass is not named."""
    assert good_words(Series((), "°C", "air temperature", good, open_ends=open_ends)) == says


def test_a_range_with_one_end_is_left_at_that_end_only() -> None:
    """Readings that creep down say when they fall below the end; those that creep up leave nothing."""
    down, up = (
        msgspec.structs.replace(
            ph({day: round(20 + way * max(day - 14, 0) / 8 + (0.1 if day % 2 else 0), 1) for day in range(36)},
               good=(15.0, 60.0)),
            unit="°C", name="lowest air temperature", open_ends=(False, True),
        )
        for way in (-1, 1)
    )  # fmt: skip

    assert " At this rate it falls below 15.0 °C about " in trend(down).says[0]
    assert trend(up).shifts != ()
    assert trend(up).leaves is None


def test_below_the_only_end_says_so() -> None:
    """What lies below a range with no upper end is below its end, not below a range."""
    values = {day: 16.0 + day % 2 / 10 - (4 if day >= 20 else 0) for day in range(36)}
    series = msgspec.structs.replace(ph(values, good=(13.0, 60.0)), unit="°C", open_ends=(False, True))

    assert trend(series).says[0].endswith("more than chance. It is below 13.0 °C now.")


def everything_finite(found: Trend) -> bool:
    text = "\n".join((*found.says, *found.working))
    return "nan" not in text and "inf" not in text
