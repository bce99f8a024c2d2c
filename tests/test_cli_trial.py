"""The command that compares: what it says, its facts, with which status it ends, and that it only reads."""

import json
import random
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from walkabout.cli import cli

LETTUCE = "tray,lamp,weight (g)\n" + "".join(
    f"{tray},{lamp},{weight}\n"
    for lamp, weights in {
        "red": (21.0, 24.5, 19.8, 25.1, 22.2, 23.7),
        "white": (18.1, 20.4, 17.7, 21.0, 19.9, 18.8),
    }.items()
    for tray, weight in enumerate(weights, 1)
)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    made = tmp_path / "lettuce.csv"
    made.write_text(LETTUCE, encoding="utf-8")
    return made


def ran(file: Path, *more: str) -> Result:
    return CliRunner().invoke(cli, ["trial", str(file), *more])


def test_words_first_then_tables_then_working(file: Path) -> None:
    """Lines to read: the words, the groups, the difference, what to bear in mind, the working; none too wide."""
    result = ran(file, "--response", "weight (g)", "--by", "lamp")
    assert result.exit_code == 0
    places = [
        result.stdout.index(one)
        for one in ("may be anything", "Groups", "What was found", "To bear in mind", "Working")
    ]
    assert places == sorted(places)
    assert "Welch's t test" in result.stdout
    assert "Hedges g" in result.stdout
    assert max(map(len, result.stdout.splitlines())) <= 100


def test_facts_for_programs(file: Path) -> None:
    """The same for a program: pairs by tray, in the shape that is promised."""
    facts = json.loads(ran(file, "--response", "weight (g)", "--by", "lamp", "--pair", "tray", "--json").stdout)
    assert list(facts)[:1] == ["design"]
    assert facts["design"] == "paired"
    assert [one["name"] for one in facts["groups"]] == ["red", "white"]
    assert facts["test"]["df"] == 5
    assert facts["difference"]["level"] == 0.95
    assert facts["difference"]["low"] < facts["difference"]["value"] < facts["difference"]["high"]


@pytest.mark.parametrize("test", ["welch", "pooled", "mann-whitney", "permutation", "anova", "kruskal"])
def test_every_test_of_two_groups(file: Path, test: str) -> None:
    """Each test of the design can be asked for and names itself."""
    facts = json.loads(ran(file, "--response", "weight (g)", "--by", "lamp", "--test", test, "--json").stdout)
    assert facts["test"]["key"] == test
    assert 0 < facts["test"]["p"] < 0.05


def test_a_counted_chance_stands_beside_that_of_a_curve(file: Path, tmp_path: Path) -> None:
    """With ties both are said, as the words go by the count; where p is counted anyway it is said once."""
    tied = tmp_path / "tied.csv"
    tied.write_text("lamp,leaves\na,4\na,5\na,5\na,6\na,7\nb,3\nb,4\nb,4\nb,4\nb,5\n", encoding="utf-8")
    said = " ".join(ran(tied, "--response", "leaves", "--by", "lamp", "--test", "mann-whitney").stdout.split())
    assert "test Mann-Whitney U test: 21.5, p = 0.063 by a curve, p = 0.10 by counting" in said
    assert "p, counting every order of these ranks = 0.10317; the words go by this one" in said
    file.write_text(LETTUCE.replace("21.0", "21.1", 1), encoding="utf-8")
    once = ran(file, "--response", "weight (g)", "--by", "lamp", "--test", "mann-whitney").stdout
    assert "by a curve" not in once
    assert "counting every order of these ranks = " not in once


def test_a_line(file: Path) -> None:
    """A curve takes --fit and --over."""
    facts = json.loads(ran(file, "--response", "weight (g)", "--over", "tray", "--fit", "line", "--json").stdout)
    assert facts["fits"][0]["curve"] == "line"
    assert facts["test"]["df"] == 10


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (("--response", "wight (g)", "--by", "lamp"), 'Did you mean "weight (g)"?'),
        (("--response", "weight (g)", "--test", "welch"), "--by COL"),
        (("--response", "weight (g)", "--by", "lamp", "--test", "nonsense"), "There is no test"),
        (("--response", "weight (g)", "--by", "lamp", "--fit", "line"), "A curve takes both"),
        (("--response", "weight (g)", "--over", "tray", "--fit", "line", "--test", "welch"), "does not go with --fit"),
        (("--response", "weight (g)", "--over", "lamp", "--fit", "line"), "is no number"),
        (("--by", "lamp"), "--response"),
    ],
)
def test_wrong_use_is_one_line(file: Path, more: tuple[str, ...], says: str) -> None:
    """Exit status 2 and one line that says what would be right."""
    result = ran(file, *more)
    assert result.exit_code == 2
    assert says in result.stderr
    assert len(result.stderr.splitlines()) == 1
    assert result.stdout == ""


@pytest.mark.parametrize(
    ("content", "more", "key", "p"),
    [
        # Fisher 1935: 17 in 35; Mendel 1866, round and wrinkled: chi-squared 0.263 on 1
        ("cup,said,n\nm,m,3\nm,t,1\nt,m,1\nt,t,3\n", ("--response", "said", "--by", "cup"), "fisher", 17 / 35),
        ("cup,m,t\nm,3,1\nt,1,3\n", ("--response", "m", "--by", "cup", "--of", "m+t"), "fisher", 17 / 35),
        ("form,n\nround,5474\nbent,1850\n", ("--response", "form", "--by", "n", "--test", "3:1"), "ratio", 0.608148),
        ("form,n,x\nround,5474,3\nbent,1850,1\n", ("--response", "form", "--ratio", "x"), "ratio", 0.608148),
    ],
)
def test_counts_as_people_lay_them_out(tmp_path: Path, content: str, more: tuple[str, ...], key: str, p: float) -> None:
    """Counts with a column of how many, side by side, or with the ratio beside them."""
    made = tmp_path / "counts.csv"
    made.write_text(content, encoding="utf-8")
    facts = json.loads(ran(made, *more, "--json").stdout)
    assert facts["test"]["key"] == key
    assert facts["test"]["p"] == pytest.approx(p, rel=1e-5)


def test_counts_that_may_be_either_are_one_line(tmp_path: Path) -> None:
    """Status 2 and the option that would do it."""
    made = tmp_path / "counts.csv"
    made.write_text("cup,m,t\nm,3,1\nt,1,3\n", encoding="utf-8")
    for test in ("fisher", "chi-squared", "chisquare", "3:1"):
        result = ran(made, "--response", "m", "--by", "cup", "--test", test)
        assert (result.exit_code, result.stdout) == (2, "")
        assert "--of m+t" in result.stderr
        assert len(result.stderr.splitlines()) == 1


def test_one_group_by_itself(file: Path) -> None:
    """Without --by: a mean with its interval, no test, and the options that would compare."""
    facts = json.loads(ran(file, "--response", "weight (g)", "--json").stdout)
    assert (facts["design"], facts["test"], facts["groups"][0]["n"]) == ("one group", None, 12)
    said = " ".join(ran(file, "--response", "weight (g)").stdout.split())
    assert "95 % interval" in said
    assert "What was found" not in said
    assert "--by COL" in said


def test_shares_are_told_in_percent(tmp_path: Path) -> None:
    """The difference of shares in points, the shares as percentages."""
    made = tmp_path / "t.csv"
    made.write_text("lamp,alive,total\nred,14,20\nblue,5,20\n", encoding="utf-8")
    said = " ".join(ran(made, "--response", "alive", "--by", "lamp").stdout.split())
    assert "share of alive: 45 percentage points (95 % interval 14.1 to 65.7)" in said
    assert "as counted 70 % and 25 %" in said
    assert '"total" was taken for the totals' in said


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    """Missing, a folder, empty, or no text: one line each."""
    (tmp_path / "empty.csv").write_text("")
    (tmp_path / "binary.csv").write_bytes(b"\x00\x01\x02")
    for name in ("none.csv", ".", "empty.csv", "binary.csv"):
        result = ran(tmp_path / name, "--response", "w", "--by", "g")
        assert result.exit_code == 2
        assert len(result.stderr.splitlines()) == 1


def test_nothing_in_a_table_steers_the_terminal(tmp_path: Path) -> None:
    """Escapes in a name are written out."""
    made = tmp_path / "t.csv"
    made.write_text("g,w\n\x1b[31ma,1\n\x1b[31ma,2\nb,3\nb,5\n")
    result = ran(made, "--response", "w", "--by", "g")
    assert result.exit_code == 0
    assert "\x1b" not in result.stdout


def test_a_long_table(tmp_path: Path) -> None:
    """A hundred thousand rows in fifty thousand blocks."""
    dice = random.Random(3)
    made = tmp_path / "long.csv"
    rows = [f"{at // 2},{'ab'[at % 2]},{dice.gauss(5, 1):.3f}\n" for at in range(100_000)]
    made.write_text("block,g,w\n" + "".join(rows))
    facts = json.loads(ran(made, "--response", "w", "--by", "g", "--block", "block", "--json").stdout)
    assert facts["test"]["df"] == [1, 49_999]


def test_it_only_reads(file: Path) -> None:
    """Nothing is written beside the table, and the table stays as it was."""
    ran(file, "--response", "weight (g)", "--by", "lamp", "--json")
    assert [one.name for one in file.parent.iterdir()] == ["lettuce.csv"]
    assert file.read_text(encoding="utf-8") == LETTUCE
