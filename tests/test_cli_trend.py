"""The command that looks for shifts in a table: what it says, its JSON, and one line for what cannot be used."""

import json
import random
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from walkabout.cli import cli

FIRST = date(2026, 10, 19)
HIGHER = [(6.0, 6.1)[day % 2] + (0.3 if day >= 24 else 0) for day in range(36)]


def written(folder: Path, *lines: str, name: str = "tank.csv") -> Path:
    file = folder / name
    file.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return file


def days(folder: Path, values: list[float], separator: str = ",") -> Path:
    rows = [f"{FIRST + timedelta(days=day)}{separator}{value:.1f}" for day, value in enumerate(values)]
    return written(folder, f"day{separator}ph", *rows)


def ran(file: Path, *more: str) -> Result:
    return CliRunner().invoke(cli, ["trend", str(file), *more])


def told(file: Path, *more: str) -> dict[str, Any]:
    result = ran(file, *more, "--json")
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    return found


def test_a_shift_is_said_in_plain_words_with_the_working(tmp_path: Path) -> None:
    """The lines say what has moved since when, then the numbers; none is wider than a page."""
    result = ran(days(tmp_path, HIGHER), "--value", "ph", "--time", "day")

    assert result.exit_code == 0
    assert "ph: 36 readings from Mon 19 Oct to Mon 23 Nov." in result.stdout
    assert "has been 0.3 higher since Thu 12 Nov: more than chance." in result.stdout
    assert "Working" in result.stdout
    assert "6.3.2.4" in result.stdout
    assert max(map(len, result.stdout.splitlines())) <= 100


def test_the_json_has_the_promised_keys(tmp_path: Path) -> None:
    """Every part that other programs read stands there under its name."""
    found = told(days(tmp_path, HIGHER), "--value", "ph", "--time", "day")

    keys = ("value", "n", "individuals", "ewma", "cusum", "p_chart", "slope", "leaves", "shifts", "words", "working")
    for key in keys:
        assert key in found, key
    assert found["value"] == "ph"
    assert found["n"] == 36
    for key in ("mean", "moving_range", "low", "high", "range_limit", "out"):
        assert key in found["individuals"], key
    assert set(found["ewma"]) >= {"lambda", "target", "sigma", "low", "high", "values", "signals"}
    assert set(found["cusum"]) >= {"target", "k", "h", "upper", "lower", "signals"}
    assert set(found["slope"]) == {"value", "low", "high", "per", "kendall", "p", "n"}
    assert found["slope"]["n"] == 36
    assert (found["p_chart"], found["leaves"], found["slope"]["per"]) == (None, None, "day")
    (shift,) = found["shifts"]
    assert shift["since"] == "2026-11-12T00:00:00+00:00"
    assert shift["direction"] == "up"
    assert shift["rule"].startswith("step test")
    assert shift["words"] == found["words"][0]


def test_a_drift_says_when_the_range_is_left(tmp_path: Path) -> None:
    """With both ends of a range the day and its span stand in the words and in the JSON."""
    values = [(5.9, 6.0, 5.9)[day % 3] + max(0, day - 14) * 0.02 for day in range(36)]
    found = told(days(tmp_path, values), "--value", "ph", "--time", "day", "--low", "5.5", "--high", "6.6")

    leaves = found["leaves"]
    assert (leaves["end"], leaves["limit"]) == ("high", 6.6)
    assert 0 <= leaves["earliest"] < leaves["after"] < leaves["latest"]
    assert "At this rate it leaves 5.5 to 6.6 about " in found["words"][0]


def test_decimal_commas_and_semicolons_are_read(tmp_path: Path) -> None:
    """The table of a spreadsheet that writes commas gives the same numbers."""
    point = told(days(tmp_path, HIGHER), "--value", "ph")
    lines = [f"{row};{str(round(value, 1)).replace('.', ',')}" for row, value in enumerate(HIGHER)]
    comma = told(written(tmp_path, "row;ph", *lines, name="comma.csv"), "--value", "ph")

    assert comma["individuals"] == pytest.approx(point["individuals"])


def test_counts_out_of_counts_have_a_p_chart(tmp_path: Path) -> None:
    """A tray where far more seeds failed is named; the limits follow how many were sown."""
    rows = [f"{(2, 3, 1, 2)[tray % 4] if tray != 9 else 12},{20 + tray % 3}" for tray in range(24)]
    file = written(tmp_path, "failed,sown", *rows)
    found = told(file, "--value", "failed", "--counts-of", "sown")

    assert found["p_chart"]["out"] == [10]
    assert len(set(found["p_chart"]["high"])) == 3
    assert found["p_chart"]["mean"] == pytest.approx(sum(int(row.split(",")[0]) for row in rows) / (24 * 21))
    assert found["words"][0].startswith(
        "1 share is outside the limits about the usual 11.3 %: reading 10. Chance alone "
    )
    assert found["words"][1] == "No shift shown in these 24 readings."
    assert not any("single readings" in one for one in found["words"])
    assert "rough" in found["words"][-1]


def test_times_that_go_back_are_put_in_order_and_said(tmp_path: Path) -> None:
    """Rows in any order give the same figures; the first line that goes back is named."""
    file = days(tmp_path, HIGHER)
    head, *rows = file.read_text("utf-8").splitlines()
    mixed = written(tmp_path, head, *rows[:5], rows[7], *rows[5:7], *rows[8:], name="mixed.csv")
    straight, found = (told(one, "--value", "ph", "--time", "day") for one in (file, mixed))

    assert found["ewma"] == straight["ewma"]
    assert any(one.startswith("The times go back (line 8 first)") for one in found["words"])


def test_times_with_offsets_are_moments(tmp_path: Path) -> None:
    """Two hours apart on the clock may be the same moment: the pace is by true days."""
    rows = ["2026-11-01T08:00+01:00,1", "2026-11-02T07:00+00:00,2", "2026-11-03T08:00+01:00,3"]
    found = told(written(tmp_path, "at,x", *rows), "--value", "x", "--time", "at")

    assert found["slope"]["value"] == pytest.approx(1)


@pytest.mark.parametrize(
    ("cells", "more", "order"),
    [
        (["12/11/2026", "13/11/2026"], [], "day, month, year"),
        (["11/12/26 7:05 pm", "11/13/26 7:05 PM"], [], "month, day, year"),
        (["1.2.2026", "2.2.2026 08:15"], [], "day, month, year"),
        (["3/4/2026", "4/4/2026"], ["--order", "dmy"], "day, month, year"),
        (["4-3-2026", "4-4-2026"], ["--order", "mdy"], "month, day, year"),
        (["25.12.2026", "Sat 26 Dec 2026"], [], "day, month, year"),
    ],
)
def test_days_with_the_year_at_their_end_are_read(
    tmp_path: Path, cells: list[str], more: list[str], order: str
) -> None:
    """One cell that can be read one way only settles it for the column, so do points; else --order says it."""
    rows = [f"{cell},{place}" for place, cell in enumerate(cells)]
    found = told(written(tmp_path, "day,x", *rows), "--value", "x", "--time", "day", *more)

    assert found["slope"]["value"] == pytest.approx(1, abs=0.4)
    assert found["words"][-1] == f'The days of column "day" were read as {order}.'


@pytest.mark.parametrize(
    "cells",
    [
        ["2026/11/02", "2026/11/3", "2026-11-4"],
        ["2 Nov 2026", "3. November 2026", "4-Nov-2026"],
        ["Mon 2 Nov 2026 8:15", "Nov 3, 2026 08:15", "Wed, 4 november 2026 8.15 am"],
        ["1793577600", "1793664000", "1793750400"],
        ["1793577600000", "1793664000000", "1793750400000"],
    ],
)
def test_days_that_leave_nothing_open_are_read_as_they_are(tmp_path: Path, cells: list[str]) -> None:
    """The year first, the month in letters, and seconds or milliseconds since 1970 need nothing said about order."""
    rows = [f'"{cell}",{place}' for place, cell in enumerate(cells)]
    found = told(written(tmp_path, "day,x", *rows), "--value", "x", "--time", "day", "--target", "-5", "--sigma", "1")

    assert (found["slope"]["value"], found["slope"]["per"]) == (pytest.approx(1), "day")
    assert found["decided"][0]["at"].startswith("2026-11-02")


def test_months_alone_are_their_first_days(tmp_path: Path) -> None:
    """Of January and February 31 days lie between the readings."""
    found = told(written(tmp_path, "month,x", "2026-01,0", "2026-02,31"), "--value", "x", "--time", "month")

    assert found["slope"]["value"] == pytest.approx(1)


@pytest.mark.parametrize("cell", ["30 Feb 2026", "3 Foo 2026", "2026-13", "2026/2/30", "13 Nov 2026 13:00 pm"])
def test_days_that_are_none_are_one_line(tmp_path: Path, cell: str) -> None:
    """A day that no calendar has is a mistake, not a guess."""
    result = ran(written(tmp_path, "day,x", "2026-01-01,1", f"{cell},2"), "--value", "x", "--time", "day")

    assert result.exit_code == 2
    assert f'tank.csv:3: column "day" holds "{cell}", which is no date.' in result.stderr


SPIKED = [50, 51, 49, 50, 52, 48, 50, 51, 49, 50, 51, 50, 50, 57, 56.5]


def test_readings_that_stand_out_are_named_calmly(tmp_path: Path) -> None:
    """No shift is shown yet, two readings are outside, the charts signal; how often chance does the like is said."""
    found = told(written(tmp_path, "x", *map(str, SPIKED)), "--value", "x")

    assert found["individuals"]["out"] == [14, 15]
    assert found["words"][0] == "No shift shown in these 15 readings."
    single, charts = found["words"][1:]
    assert single.startswith("57.0 at reading 14 and 56.5 at reading 15 are outside the limits of single readings, ")
    assert (
        "Chance alone puts about 3 readings in 1000 outside, so about one row of this length in 25 has one." in single
    )
    assert charts.startswith("The EWMA signals at reading 15, and so does the CUSUM. Readings that hang on the one ")
    assert [one["reading"] for one in found["flagged"]["individuals"]] == [14, 15]


def test_a_slip_is_left_out_of_the_test_and_of_nothing_else(tmp_path: Path) -> None:
    """What a lone reading far off counts for is said as it is."""
    values = [*SPIKED[:9], 60, *SPIKED[9:13]]
    found = told(written(tmp_path, "x", *map(str, values)), "--value", "x")

    assert found["words"][-1] == (
        "60 at reading 10 is far from the readings beside it: a slip, or read it again. "
        "The test for a shift leaves it out; the limits and the charts count it."
    )
    assert found["individuals"]["mean"] == pytest.approx(sum(values) / len(values))
    assert not any("single readings" in one for one in found["words"])
    assert any("a single reading so far off is enough for it" in one for one in found["words"])


ONE_WAY = "Chance alone does as much in about 1 of 60 such rows, more often where readings hang on the one before."


def test_a_row_that_goes_one_way_on_the_whole_is_said_to(tmp_path: Path) -> None:
    """Where no shift is shown and the slope would seldom be chance, it is said with how seldom."""
    flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
    found = told(written(tmp_path, "x", *map(str, flow)), "--value", "x")

    assert found["words"][0] == "No shift shown in these 10 readings."
    assert found["words"][1:] == [
        f"On the whole they go up by 0.5 for each reading (between 0.15 and 0.86). {ONE_WAY}",
    ]


def test_counts_of_what_is_rare_are_named_with_a_proviso(tmp_path: Path) -> None:
    """Whole numbers may be counts: one that would stand out then is named as that, and numbered in the JSON."""
    counts = [16, 14, 28, 16, 12, 20, 10, 12, 10, 17, 19, 17, 14, 16, 15, 13, 14, 16, 11, 20, 11, 19, 16, 31, 13]
    found = told(written(tmp_path, "x", *map(str, counts)), "--value", "x")

    assert [one["reading"] for one in found["flagged"]["c_chart"]] == [24]
    assert (
        found["words"][-1] == "If these are counts of something rare, reading 24 is outside their limits, 4.0 to 28.0."
    )


def test_the_limits_of_the_first_readings_may_be_exact(tmp_path: Path) -> None:
    """With --exact they start at lambda times the width, and are narrower than what they end at."""
    file = written(tmp_path, "x", *map(str, SPIKED))
    found, plain = (told(file, "--value", "x", "--target", "50", "--sigma", "1", *more) for more in (["--exact"], []))

    assert (found["ewma"]["limits"], plain["ewma"]["limits"]) == ("exact", "asymptotic")
    assert found["ewma"]["highs"][0] == pytest.approx(50 + 3 * 0.3)
    assert plain["ewma"]["highs"][0] == pytest.approx(plain["ewma"]["high"])
    assert found["ewma"]["high"] == pytest.approx(plain["ewma"]["high"], abs=1e-4)


@pytest.mark.parametrize("gap", ["", ",", ",somebody was ill"])
def test_rows_keep_their_numbers_where_some_are_empty(tmp_path: Path, gap: str) -> None:
    """The pace is by rows, empty ones counted, and a shift is said to be since the row that stands in the table."""
    rows = [f"{6.0 + 0.1 * (row % 2) + (0.5 if row >= 22 else 0):.1f},a" for row in range(1, 37)]
    rows[5] = rows[6] = gap
    found = told(written(tmp_path, "x,y", *rows), "--value", "x")
    short = told(written(tmp_path, "x,y", "5,a", gap, "7,a", "8,a", name="short.csv"), "--value", "x")

    assert found["words"][0] == "X has been 0.5 higher since row 22: more than chance."
    assert found["shifts"][0]["since"] == 22
    assert any("too far from the one before: row 22" in one for one in found["working"])
    assert (short["slope"]["value"], short["slope"]["per"]) == (1, "row")


def test_a_table_with_an_empty_line_after_each_row_has_no_gaps(tmp_path: Path) -> None:
    """Some programs write line ends twice; those are no empty rows."""
    found = told(written(tmp_path, "x", "", "5", "", "6", "", "7"), "--value", "x")

    assert (found["slope"]["value"], found["slope"]["per"]) == (1, "reading")


def test_what_the_charts_flag_stands_as_numbers(tmp_path: Path) -> None:
    """Each flagged reading has its number, its moment, its value, and what passed which limit."""
    found = told(days(tmp_path, HIGHER), "--value", "ph", "--time", "day")

    for name, value in (("ewma", "smoothed"), ("cusum", "sum")):
        flagged = found["flagged"][name]
        assert [one["reading"] for one in flagged] == found[name]["signals"]
        assert flagged
        for one in flagged:
            assert one["value"] == pytest.approx(HIGHER[one["reading"] - 1])
            high = one["high"] if name == "ewma" else one["limit"]
            assert one[value] > high or one[value] < one.get("low", high)
            assert one["at"].startswith("2026-")


def test_a_count_may_be_said_to_be_out_of_another(tmp_path: Path) -> None:
    """--out-of reads as it is meant, and is the same as --counts-of."""
    file = written(tmp_path, "failed,sown", *(f"{tray % 4},{20 + tray % 3}" for tray in range(12)))

    assert told(file, "--value", "failed", "--out-of", "sown") == told(file, "--value", "failed", "--counts-of", "sown")


def test_numbers_may_be_times(tmp_path: Path) -> None:
    """A column of weeks or years counts in its own unit."""
    rows = [f"{2 * week},{week}" for week in range(12)]
    found = told(written(tmp_path, "week,x", *rows), "--value", "x", "--time", "week")

    assert (found["slope"]["value"], found["slope"]["per"]) == (0.5, "week")


TANKS = [
    f"2026-11-{day:02},{tank},{level + day % 2 / 10:.1f}"
    for day in range(1, 11)
    for tank, level in (("A", 6), ("B", 7))
]


def test_times_that_stand_twice_are_said_with_what_tells_them_apart(tmp_path: Path) -> None:
    """Two tanks in one column are no row: the note names the column that splits them, and --only looks at one."""
    file = written(tmp_path, "day,tank,ph", *TANKS)
    asked = ("--value", "ph", "--time", "day")
    both, one = told(file, *asked), told(file, *asked, "--only", "tank=b")

    assert both["words"][-1] == (
        'Every time stands beside more than one reading, so this may be several rows in one. Column "tank" tells them '
        "apart: look at each by itself, such as with --only 'tank=A'."
    )
    assert (both["n"], one["n"], one["individuals"]["mean"]) == (20, 10, pytest.approx(7.05))
    assert not any("more than one reading" in says for says in one["words"])


def test_a_time_that_stands_twice_by_itself_is_said(tmp_path: Path) -> None:
    """Where no column tells them apart both count; a column of plain row numbers is none."""
    rows = ["1,2026-11-01,6.0", "2,2026-11-02,6.1", "3,2026-11-02,6.2", "4,2026-11-03,6.1"]
    found = told(written(tmp_path, "no,day,ph", *rows), "--value", "ph", "--time", "day")

    assert found["n"] == 4
    assert found["words"][-1] == (
        "1 of 3 times stands beside more than one reading (line 4 first): each of them counts by itself."
    )


def test_a_name_with_an_equals_sign_can_be_chosen(tmp_path: Path) -> None:
    """The longest name of a column that fits is the column."""
    file = written(tmp_path, "a=b,x", "c,1", "c,2", "d,9")

    assert told(file, "--value", "x", "--only", "a=b=c")["individuals"]["mean"] == pytest.approx(1.5)


def test_a_long_row_signals_by_length_alone(tmp_path: Path) -> None:
    """Of many independent readings the sentence puts chance and length before readings that hang together."""
    draw = random.Random(4)
    file = written(tmp_path, "x", *(f"{draw.gauss(10, 2):.3f}" for _ in range(3000)))
    (says,) = (one for one in told(file, "--value", "x")["words"] if "signals" in one)

    assert "A long row has such signals by chance alone, about one in 500 readings;" in says
    assert says.endswith("The test for a shift allows for both.")


def test_missing_values_are_left_out_and_said(tmp_path: Path) -> None:
    """An empty cell is no reading and no zero."""
    found = told(written(tmp_path, "x,y", "1,a", ",b", "3,c", "n/a,d"), "--value", "x")

    assert found["n"] == 2
    assert "2 rows have no value and counted for nothing: lines 3 and 5." in found["words"]


def test_few_readings_end_with_0_and_say_so(tmp_path: Path) -> None:
    """Three readings have a mean and no shift; one has nothing but itself."""
    three, one = (written(tmp_path, "x", *rows, name=f"{len(rows)}.csv") for rows in (["1", "2", "4"], ["5"]))
    few, lone = told(three, "--value", "x"), told(one, "--value", "x")

    assert few["words"][0].startswith("Only 3 readings: it takes 8 to tell a shift from chance.")
    assert few["individuals"]["mean"] == pytest.approx(7 / 3)
    assert (lone["n"], lone["individuals"], lone["slope"], lone["shifts"]) == (1, None, None, [])


@pytest.mark.parametrize(
    ("text", "options", "says"),
    [
        ("day,ph\n2026-01-01,6\n", ["--value", "pH2"], 'there is no column "pH2". Did you mean "ph"?'),
        ("day,ph\n2026-01-01,6\n2026-01-02,six\n", ["--value", "ph"], 'tank.csv:3: column "ph" holds "six"'),
        (
            "day,ph\n1.2.2026,6\nmon,7\n",
            ["--value", "ph", "--time", "day"],
            'tank.csv:3: column "day" holds "mon", which is no date. Write it as',
        ),
        (
            "day,ph\n3/4/2026,6\n4/4/2026,7\n",
            ["--value", "ph", "--time", "day"],
            'tank.csv: column "day" has days such as "3/4/2026", and nothing in it tells the day from the month. Add',
        ),
        (
            "day,ph\n13/4/2026,6\n4/14/2026,7\n",
            ["--value", "ph", "--time", "day"],
            'tank.csv:3: column "day" holds "4/14/2026", which is no date where others are day, month, year.',
        ),
        ("day,ph\n2026-01-01,6\n,7\n", ["--value", "ph", "--time", "day"], "tank.csv:3: column"),
        (
            "day,ph\n2026-01-01T08:00Z,6\n2026-01-02T08:00,7\n",
            ["--value", "ph", "--time", "day"],
            'tank.csv:3: column "day" has a time without an offset',
        ),
        ("x\n\n", ["--value", "x"], "has no rows"),
        ("x,y\n,1\n,2\n", ["--value", "x"], 'column "x" holds no number'),
        ("a,b\n3,2\n", ["--value", "a", "--counts-of", "b"], "tank.csv:2: column"),
        ("x,y\n1,a\n2,b\n", ["--value", "x", "--only", "y"], '--only "y" wants a column and what stands in it'),
        ("x,y\n1,a\n2,b\n", ["--value", "x", "--only", "y=c"], 'column "y" holds no "c". It holds a, b'),
        ("x,y\n1,a\n2,b\n", ["--value", "x", "--only", "z=c"], 'there is no column "z"'),
        ("x\n1\n2\n", ["--value", "x", "--low", "3"], "both --low and --high"),
        ("x\n1\n2\n", ["--value", "x", "--low", "3", "--high", "3"], "is not below"),
        ("x\n1\n2\n", ["--value", "x", "--lambda", "0"], "λ is above 0"),
        ("x\n1\n2\n", ["--value", "x", "--k", "-1"], "k and h are not below 0"),
        ("x\n1\n2\n", ["--value", "x", "--target", "nan"], "no number to reckon with"),
        ("x\n1\n2\n", ["--value", "x", "--sigma", "0"], "--sigma 0 cannot be: readings scatter, so it is above 0"),
        ("x\n1\n2\n", ["--value", "x", "--sigma", "-1"], "--sigma -1 cannot be"),
    ],
)
def test_what_cannot_be_used_is_one_line_and_status_2(tmp_path: Path, text: str, options: list[str], says: str) -> None:
    """Each mistake names the file and the line, or the option, and what would be right."""
    file = tmp_path / "tank.csv"
    file.write_text(text, encoding="utf-8")
    result = ran(file, *options)

    assert result.exit_code == 2
    assert says in result.stderr
    assert len(result.stderr.strip().splitlines()) == 1
    assert "Traceback" not in result.output


def test_a_file_that_is_not_there_is_one_line(tmp_path: Path) -> None:
    """Its name and the reason."""
    result = ran(tmp_path / "gone.csv", "--value", "x")

    assert result.exit_code == 2
    assert result.stderr.count("\n") == 1
    assert "gone.csv cannot be read: No such file or directory." in result.stderr


def test_what_could_steer_a_terminal_is_written_out(tmp_path: Path) -> None:
    """A column's name is text, not a command to the screen."""
    file = written(tmp_path, "a\x1b[31mb,y", "1,2", "3,4")
    result = ran(file, "--value", "nothing")

    assert result.exit_code == 2
    assert "\x1b" not in result.stderr


def test_it_needs_no_heavy_library(tmp_path: Path) -> None:
    """Other programs get the trend of a table without waiting for numpy, scipy or a screen."""
    file = days(tmp_path, HIGHER)
    code = (
        "import sys\nfrom walkabout.cli import main\n"
        f"sys.argv = ['walkabout', 'trend', {str(file)!r}, '--value', 'ph', '--json']\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "print([one for one in ('numpy', 'scipy', 'textual') if one in sys.modules])"
    )
    result = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert result.stdout.strip().splitlines()[-1] == "[]"
