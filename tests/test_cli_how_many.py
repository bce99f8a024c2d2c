"""The command that plans: how many plots, how small a difference, how surely; and one line for what cannot be."""

import json
from typing import Any

import pytest
from click.testing import CliRunner, Result

from walkabout.cli import cli


def ran(*given: str) -> Result:
    return CliRunner().invoke(cli, ["how-many", *given])


def told(*given: str) -> dict[str, Any]:
    result = ran(*given, "--json")
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    return found


def test_words_then_working_then_source() -> None:
    """Lines to read: how many in each group and in all, how surely, the working, the source; none too wide."""
    result = ran("--difference", "3", "--spread", "4")

    assert result.exit_code == 0
    assert "To find a difference of 3 it takes 29 plots in each group, 58 in all." in result.stdout
    assert "found about 8 times in 10" in result.stdout
    assert "d = 3 ÷ 4 = 0.75" in result.stdout
    assert "n = 28.8996, rounded up to 29" in result.stdout
    assert result.stdout.index("Working") < result.stdout.index("Source: Cohen 1988")
    assert max(map(len, result.stdout.splitlines())) <= 78


def test_the_json_has_the_promised_keys() -> None:
    """Half a standard deviation takes 64 of each, as printed; what came out stands under its name."""
    found = told("--difference", "2", "--spread", "4")

    assert {key: found[key] for key in ("groups", "difference", "spread", "effect", "level", "power", "n")} == {
        "groups": 2,
        "difference": 2,
        "spread": 4,
        "effect": 0.5,
        "level": 0.05,
        "power": 0.8,
        "n": 64,
    }
    assert found["exact"] == pytest.approx(63.766, abs=0.005)
    assert found["power_reached"] == pytest.approx(0.8015, abs=1e-4)
    assert found["wanted"] == "n"
    assert "1992" in found["source"]


@pytest.mark.parametrize("more", [("--effect", "0.25"), ("--difference", "0.6123724357")])
def test_three_groups_go_by_the_two_furthest_apart(more: tuple[str, str]) -> None:
    """Cohen's f of 0.25 is a difference of 0.25 × √6 with the third midway: 52.40, so 53."""
    found = told("--groups", "3", *more)

    assert found["n"] == 53
    assert found["exact"] == pytest.approx(52.397, abs=0.005)
    assert found["effect"] == pytest.approx(0.25)
    assert found["difference"] == pytest.approx(0.25 * 6**0.5)
    assert "between the two groups furthest apart" in found["words"][0]
    assert "159 in all" in found["words"][0]


@pytest.mark.parametrize("groups", ["2", "4"])
def test_back_again_gives_the_same_number(groups: str) -> None:
    """The smallest difference that 12 find, in the unit of the spread, takes 12."""
    least = told("--n", "12", "--spread", "5", "--groups", groups)
    back = told("--difference", str(least["difference"]), "--spread", "5", "--groups", groups)

    assert (least["wanted"], least["n"], least["exact"]) == ("difference", 12, None)
    assert back["exact"] == pytest.approx(12, abs=1e-4)
    assert "standard deviations)" in least["words"][0]


def test_a_smaller_difference_is_found_less_often() -> None:
    """With both a difference and a number it says how surely; below common practice it says that too."""
    few, many = (told("--n", n, "--difference", "1") for n in ("8", "60"))

    assert few["wanted"] == many["wanted"] == "power"
    assert few["power"] == few["power_reached"] < 0.5
    assert many["power"] > 0.99
    assert "Common practice asks for about 8 times in 10" in few["words"][1]
    assert not any("Common practice" in one for one in many["words"])
    assert "a difference of 1 standard deviation is found nearly every time" in many["words"][0]


def test_more_power_and_a_stricter_level_take_more() -> None:
    """For 0.9 or a level of 0.01 more plots are needed than usual."""
    usual, surer, stricter = (
        told("--difference", "-1", *more)["n"] for more in ((), ("--power", "0.9"), ("--level", "0.01"))
    )

    assert (usual, surer, stricter) == (17, 23, 26)


def test_a_ratio_against_another() -> None:
    """3:1 is told from 1:1 with 24 in all; with 10 not as surely, and too few of the rarest kind."""
    found, few = told("--ratio", "3:1", "--other", "1:1"), told("--ratio", "3:1", "--other", "1:1", "--n", "10")

    assert (found["n"], found["groups"], found["ratio"], found["other"]) == (24, None, "3:1", "1:1")
    assert found["effect"] == pytest.approx(3**-0.5)
    assert found["words"][0].startswith("To tell 3:1 from 1:1, count 24 plants in all")
    assert few["power"] < 0.5
    assert any(one.startswith("Below 20 in all, fewer than 5 of the rarest kind") for one in few["words"])
    assert not any("rarest" in one for one in found["words"])


def test_names_put_both_ratios_in_one_order() -> None:
    """The same names in another order are the same kinds."""
    named = told("--ratio", "green=3, pale=1", "--other", "pale=7, green=9")

    assert named["exact"] == pytest.approx(told("--ratio", "3:1", "--other", "9:7")["exact"])


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ((), "Give --difference, with --spread; or --n"),
        (("--spread", "4"), "Give --difference, with --spread; or --n"),
        (("--difference", "0"), "is a number, and not 0"),
        (("--difference", "nan"), "is a number, and not 0"),
        (("--difference", "1e-9"), "d = 1.00e−09: from 0.001 to 1000"),
        (("--difference", "1e308", "--spread", "1e-300"), "from 0.001 to 1000"),
        (("--difference", "1", "--spread", "0"), "--spread 0 cannot be"),
        (("--difference", "1", "--effect", "1"), "--effect stands for --difference and --spread"),
        (("--difference", "1", "--n", "5", "--power", "0.8"), "one too many"),
        (("--difference", "1", "--power", "80"), "--power 80 is no chance: for 80 % write 0.8"),
        (("--difference", "1", "--level", "0"), "--level 0 is no chance: it lies between 0 and 1"),
        (("--difference", "1", "--level", "1e-9"), "lower than can be reckoned with"),
        (("--difference", "1", "--power", "0.04"), "must be above the level"),
        (("--n", "1"), "1 is not in the range"),
        (("--n", "5", "--groups", "1"), "1 is not in the range"),
        (("--ratio", "3:1"), "both --ratio and --other"),
        (("--other", "3:1"), "both --ratio and --other"),
        (("--ratio", "3:1", "--other", "6:2"), "are alike: no count tells them apart"),
        (("--ratio", "9:3:3:1", "--other", "9:3:4"), "has 4 parts, --other 9:3:4 has 3"),
        (("--ratio", "3 to 1", "--other", "1:1"), '--ratio "3 to 1" is no ratio. Write it as 3:1'),
        (("--ratio", "0:1", "--other", "1:1"), "Each part of a ratio is a number above 0"),
        (("--ratio", "a=3, b=1", "--other", "a=1, c=1"), "they must be the same"),
        (("--ratio", "3:1", "--other", "1:1", "--groups", "2"), "--groups is for measured values"),
    ],
)
def test_what_cannot_be_planned_is_one_line_and_status_2(given: tuple[str, ...], says: str) -> None:
    """Each mistake names the option and what would be right."""
    result = ran(*given)

    assert result.exit_code == 2
    assert says in result.stderr
    assert result.stderr.count("\n") == 1
    assert "Traceback" not in result.output
