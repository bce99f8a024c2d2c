"""The reckonings of heat, as they are typed."""

import pytest

from walkabout.reckon import degree_days
from walkabout.reckon.model import Reckoned
from walkabout.reckon.read import reckon, split, take

OF = {one.name: one for one in degree_days.RECKONINGS}


def worked(name: str, *words: str) -> Reckoned:
    """Work out a reckoning as it is typed."""
    return reckon(OF[name], take(OF[name], split(words)))


def value(name: str, result: str, *words: str) -> float:
    """Return one number that comes out."""
    return float(worked(name, *words).results[result].value)


@pytest.mark.parametrize(
    ("words", "celsius", "fahrenheit"),
    [
        ("high=25 low=15 base=10", 10, 18),
        ("high=20 low=2 base=10", 1, 1.8),
        ("high=20 low=2 base=10 method=1", 1, 1.8),
        ("high=20 low=2 base=10 method=average", 1, 1.8),
        ("high=20 low=2 base=10 method=I", 1, 1.8),
        ("high=20 low=2 base=10 method=II", 5, 9),
        ("high=20 low=2 base=10 method=raised", 5, 9),
        ("high=20 low=2 base=10 method=2", 5, 9),
        ("tmax=20 tmin=2 tbase=10 method=four-case", 3, 5.4),
        ("high=16 low=0 base=10 method=four_case", 1.5, 2.7),
        ("high=90F low=65F base=50F upper=86F", 14.1667, 25.5),
        ("high=72F low=46F base=50F tcap=86F method=raised", 6.1111, 11),
        ("high=72F low=46F method=86/50", 6.1111, 11),
        ("high=83F low=61F base=50F method=simple", 12.2222, 22),
        ("high=35 method=cucumber", 13.5, 24.3),
        ("high=14 method=cucumber", 0, 0),
        ("high=28 crop=cucumber", 12.5, 22.5),
        ("high=30 low=18 crop=lettuce", 24, 43.2),
        ("high=20 low=2 base=10 method=one", 1, 1.8),
        ("high=20 low=2 base=10 method=m1", 1, 1.8),
        ("high=20 low=2 base=10 method=mcmaster", 1, 1.8),
        ("high=20 low=2 base=10 method=two", 5, 9),
        ("high=20 low=2 base=10 method=method_two", 5, 9),
        ("high=20 low=2 base=10 method=McMaster_&_Wilhelm_method_2", 5, 9),
        ("high=20 low=2 base=10 method=4-case", 3, 5.4),
        ("high=20 low=2 base=10 method=fourcase", 3, 5.4),
        ("high=72F low=46F method=86/50_F", 6.1111, 11),
    ],
)
def test_one_day(words: str, celsius: float, fahrenheit: float) -> None:
    """The chief result follows the method asked for, in °C d and in °F d."""
    found = worked("degree-days", *words.split())
    assert next(iter(found.results)) == "degree_days"
    assert float(found.results["degree_days"].value) == pytest.approx(celsius, abs=1e-3)
    assert float(found.results["degree_days_f"].value) == pytest.approx(fahrenheit, abs=1e-3)
    assert f"{celsius:.2f}" in "".join(found.working)


def test_every_method_is_shown() -> None:
    """Beside the chief result stand methods 1 and 2 and the four cases, and a night below the base is pointed out."""
    found = worked("degree-days", "high=20", "low=2", "base=10", "method=2")
    assert [float(found.results[name].value) for name in ("method_1", "method_2", "four_case")] == [1, 5, 3]
    assert found.results["method"].value == "raised"
    assert "method 2" in found.source
    assert any("keep to one" in line for line in found.says)
    assert not any("keep to one" in line for line in worked("degree-days", "high=20", "low=12", "base=10").says)


def test_methods_that_agree_are_not_said_to_differ() -> None:
    """90 and 46 °F give 10 °C d by both: nothing differs."""
    found = worked("degree-days", "high=90F", "low=46F", "method=86/50")
    assert not any("differ" in line for line in found.says)


def test_an_upper_limit_with_the_mean_is_said() -> None:
    """Method 1 holds the mean alone to the limit, which is said, with the method that cuts the highest."""
    found = worked("degree-days", "high=40", "low=20", "base=10", "upper=30", "method=1")
    assert float(found.results["degree_days"].value) == 20
    assert any("method=2 cuts the highest" in line for line in found.says)
    assert "the mean is not above the upper limit, 30 °C: it stays" in found.working


@pytest.mark.parametrize("way", ["mean", "raised", "four-case"])
@pytest.mark.parametrize("day", ["high=89F low=63F", "high=89F low=31F", "high=59F low=31F", "high=40F low=31F"])
def test_lines_fit_the_board(way: str, day: str) -> None:
    """The lines have at most 76 signs, with the long numbers of °F as well."""
    found = worked("degree-days", *day.split(), "base=51F", f"method={way}")
    assert max(map(len, found.working)) <= 76


def test_a_crop_beside_a_base_must_be_one() -> None:
    """The base given is followed, and that it is not the crop's is said."""
    found = worked("degree-days", "high=20", "low=12", "base=10", "crop=lettuce")
    assert "base as given, not that of lettuce" in found.working


def test_what_was_taken_is_said() -> None:
    """A method or a base that nobody gave stands in the working, and where it came from."""
    found = worked("degree-days", "high=20", "low=12", "crop=cos")
    assert "taken: method = mean" in found.working
    assert any(line.startswith("taken: base = 0 °C, lettuce") for line in found.working)
    assert any("Lettuce: 4 is used too" in line for line in found.says)
    capped = worked("degree-days", "high=90F", "low=65F", "base=50F", "upper=86F")
    assert "taken: method = raised, as there is an upper limit" in capped.working
    assert "Agronomy 541" in capped.source
    assert "Agronomy 541" not in worked("degree-days", "high=30", "low=20", "base=8", "upper=28").source


def test_a_cucumber_base_goes_with_its_method() -> None:
    """Its base alone chooses the highest-temperature method; another method is followed, with a remark."""
    assert worked("degree-days", "high=30", "low=18", "crop=cucumber").results["method"].value == "cucumber"
    other = worked("degree-days", "high=30", "low=18", "crop=cucumber", "method=1")
    assert other.results["method"].value == "mean"
    assert any("method=cucumber" in line for line in other.says)
    assert any("too hot" in line for line in worked("degree-days", "high=50", "method=cucumber").says)


def test_many_days() -> None:
    """The sum of single days, what is still to come, and the days left if they stay alike."""
    words = ("high=24,26,25", "low=16,15,17", "base=4", "need=99")
    assert value("degree-day-sum", "degree_days", *words) == pytest.approx(49.5)
    assert value("degree-day-sum", "mean", *words) == pytest.approx(16.5)
    assert value("degree-day-sum", "left", *words) == pytest.approx(49.5)
    assert value("degree-day-sum", "days_left", *words) == pytest.approx(3)
    reached = worked("degree-day-sum", "high=24,26", "low=16,15", "base=4", "need=20")
    assert any("is reached" in line for line in reached.says)
    assert "days_left" not in reached.results
    cold = worked("degree-day-sum", "high=4,5", "low=0,1", "base=10", "need=20")
    assert any("nobody can say" in line for line in cold.says)
    assert value("degree-day-sum", "degree_days", "high=24,26,25", "method=cucumber") == pytest.approx(28.5)


def test_a_long_list_is_not_all_written_out() -> None:
    """Of forty days the first fourteen are shown, and the sum is of all."""
    found = worked("degree-day-sum", "high=" + ",".join(["20"] * 40), "low=" + ",".join(["10"] * 40), "base=5")
    assert float(found.results["degree_days"].value) == 400
    assert len(found.working) < 20
    assert "and so on to day 40" in found.working


@pytest.mark.parametrize(
    ("words", "days"),
    [
        ("need=300 air=22 base=4", 16.6667),
        ("need=540°Fd air=22 base=4", 16.6667),
        ("need=300 air=22 crop=lettuce", 13.6364),
        ("need=180 air=40 base=10 upper=28", 10),
    ],
)
def test_days_to_a_heat_sum(words: str, days: float) -> None:
    """Days, with a part of one; and the whole day on which it is reached."""
    found = worked("days-to-heat", *words.split())
    assert float(found.results["days"].value) == pytest.approx(days, abs=1e-3)
    assert float(found.results["whole_days"].value) == -(-days // 1)
    assert any("base that the heat sum was counted with" in line for line in found.says)


@pytest.mark.parametrize(
    ("name", "words", "says"),
    [
        ("degree-days", "high=20 low=2", "give base="),
        ("degree-days", "high=20 base=10", "give low="),
        ("degree-days", "high=2 low=20 base=10", "swap them"),
        ("degree-days", "high=2 low=20 method=cucumber", "swap them"),
        ("degree-days", "high=20 low=2 base=10 upper=28 method=four-case", "no upper limit"),
        ("degree-days", "high=20 low=2 base=10 upper=8", "above the base"),
        ("degree-days", "high=20 low=2 crop=kale", "no base temperature is known for kale"),
        ("degree-days", "high=20 low=2 crop=letuce", "did you mean lettuce"),
        ("degree-days", "high=20 low=2 base=10 method=sine", "it is one of|did you mean"),
        ("degree-days", "high=200 low=2 base=10", "at most 60"),
        ("degree-day-sum", "high=24,26,25 low=16,15 base=4", "3 highest and 2 lowest"),
        ("degree-day-sum", "high=24,26,25 base=4", "give low="),
        ("days-to-heat", "need=300 air=3 base=4", "warmer than the base"),
        ("days-to-heat", "need=300 air=3", "give base="),
        ("days-to-heat", "need=300 air=4.0001 base=4", "more than 1000 days"),
        ("days-to-heat", "need=300 air=20 base=4 crop=unicorn", "no 'unicorn'"),
        ("degree-days", "high=20 low=12 base=10 crop=unicorn", "no 'unicorn'"),
    ],
)
def test_refusals(name: str, words: str, says: str) -> None:
    """What cannot be worked out is refused in one sentence that says what would be right."""
    with pytest.raises(ValueError, match=says) as caught:
        worked(name, *words.split())
    assert "\n" not in str(caught.value)
