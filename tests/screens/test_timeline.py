"""The weeks as text: where bars, stages, closures and promises stand, cell by cell, without a screen."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from tests.screens.made_up import CLOSED, TODAY, almanac, course, foreseen
from walkabout.almanac.model import Almanac, Row
from walkabout.screens.widgets.bars import FEWEST, WEEK, Window, bars, lanes, monday, placed, window, words_at
from walkabout.screens.widgets.linecells import blank, joined, put
from walkabout.screens.widgets.stagewords import label
from walkabout.screens.widgets.timeline import body, heading, paper

WIDE = 116


def drawn(of: Almanac, width: int = WIDE, height: int = 30, station: str = "", chosen: date = TODAY) -> list[str]:
    """Return the stations' lines as plain text."""
    view = window(width, chosen)
    return [one.content.plain for one in body(paper(of, view, chosen, TODAY), station, height)]


def cell_of(view: Window, day: date) -> int:
    """Return the column of a day on the whole line."""
    return view.names + view.at(day)


@pytest.mark.parametrize(("width", "least", "most"), [(76, 8, 9), (116, 14, 16), (56, 5, 7)])
def test_as_many_weeks_as_fit(width: int, least: int, most: int) -> None:
    """Eight or nine weeks stand on a narrow window, fourteen to sixteen on a wide one; one cell is one day."""
    view = window(width, TODAY)

    assert least <= view.weeks <= most
    assert view.names + view.days <= width
    assert view.first.weekday() == 0


@settings(max_examples=80, deadline=None)
@given(width=st.integers(34, 220), steps=st.lists(st.integers(-6, 6), max_size=12))
def test_the_chosen_week_is_always_seen(width: int, steps: list[int]) -> None:
    """However one leafs, the chosen week stays in the window, which moves no further than it must."""
    week, view = monday(TODAY), window(width, TODAY)
    for step in steps:
        week += timedelta(weeks=step)
        before, view = view, window(width, week, view)
        assert view.shows(week)
        assert view.shows(week + timedelta(days=6))
        edge = 1 if view.weeks > FEWEST else 0
        if before.shows(week - timedelta(weeks=edge)) and before.shows(week + timedelta(weeks=edge)):
            assert view.first == before.first


def test_the_heading_names_the_mondays_and_marks_today() -> None:
    """Each Monday has its day, the month where it changes; the mark of today stands above today's cell."""
    view = window(WIDE, TODAY)
    dates, marks = (one.plain for one in heading(view, TODAY, TODAY))

    assert dates[cell_of(view, date(2026, 12, 7)) :].startswith("7 Dec")
    assert dates[cell_of(view, date(2026, 11, 23)) :].startswith("23 ")
    assert marks.index("▾") == cell_of(view, TODAY)
    assert marks.count("─") == WEEK - 1


def test_a_bar_runs_through_its_days_and_stages() -> None:
    """Heavy up to today, light after it, crossed where a stage begins, double from the harvest on."""
    one = course(harvest=date(2026, 12, 7), emergence=date(2026, 11, 9), until=date(2026, 12, 14))
    line = drawn(almanac(rows=(Row(station="shelf", name="Sprout rack", courses=(one,)),), promises=(), standing=()))[0]
    view = window(WIDE, TODAY)

    assert line[cell_of(view, date(2026, 11, 4))] == "━"
    assert line[cell_of(view, date(2026, 11, 3))] == " "
    assert line[cell_of(view, date(2026, 11, 9))] == "╋"
    assert line[cell_of(view, TODAY)] == "│"
    assert line[cell_of(view, date(2026, 12, 1))] == "─"
    assert line[cell_of(view, date(2026, 12, 7))] == "╤"
    assert line[cell_of(view, date(2026, 12, 13))] == "═"
    assert line[cell_of(view, date(2026, 12, 14)) :].startswith(" lettuce, harvest from 7 Dec")


def test_what_moves_on_leaves_its_row() -> None:
    """A bar ends on the day of moving on where a job takes the planting away; else it is thinned and stays."""
    moving = almanac(promises=())
    row = next(one for one in moving.rows if one.station == "shelf")
    view = window(WIDE, TODAY)

    def ends(moves: frozenset[str]) -> int:
        return next(one.end for one in bars(row, view, TODAY, moves, {}) if one.course.planting.key == "p-0")

    assert ends(frozenset({"p-0"})) == view.at(date(2026, 12, 4))
    assert ends(frozenset()) == view.at(date(2026, 12, 18))
    assert label(row.courses[0], TODAY, {"p-0"}) == "lettuce, moves on 4 Dec"
    assert label(row.courses[0], TODAY) == "lettuce, thin on 4 Dec"
    assert "lettuce, moves on 4 Dec" in drawn(moving)[0]


def test_a_planting_stands_in_each_row_where_it_stood() -> None:
    """Its days on the shelf stay there, and end where it went."""
    view = window(WIDE, date(2026, 11, 2))
    row = next(one for one in almanac().rows if one.station == "shelf")
    stay = next(one for one in bars(row, view, TODAY, (), {}) if one.course.planting.key == "p-1")

    assert (stay.start, stay.end) == (view.at(date(2026, 10, 21)), view.at(date(2026, 11, 2)))
    assert stay.words == ()


def test_closed_days_are_shaded_in_every_row_and_named_once() -> None:
    """Every row without a bar is shaded on exactly the closed days."""
    lines, view = drawn(almanac()), window(WIDE, TODAY)
    empty = [one for one in lines if one.lstrip().startswith(("Climbing beans", "Window pots"))]

    assert len(empty) == 2
    for line in empty:
        assert line.index("░") == cell_of(view, CLOSED[0])
        assert line.count("░") == (CLOSED[1] - CLOSED[0]).days + 1
    assert sum("end of term: 19 Dec to 3 Jan" in one for one in lines) == 1


def test_a_promise_has_its_mark_and_its_words() -> None:
    """The mark stands on the day; on course and at risk differ in mark and word; what is missing is said below."""
    lines, view = drawn(almanac()), window(WIDE, TODAY)
    tub = next(at for at, one in enumerate(lines) if "Raft tub" in one)
    basil = next(one for one in lines if "Film channels" in one)

    assert lines[tub][cell_of(view, date(2026, 12, 11))] == "◇"
    assert "pak choi, Fri 11 Dec: at risk" in lines[tub]
    assert "24 of 28 are in hand; sow four by Friday, or cut on the 12th." in lines[tub + 1]
    assert basil[cell_of(view, date(2026, 12, 4))] == "◆"
    assert "basil, Fri 4 Dec: on course" in basil


@pytest.mark.parametrize("width", [56, 64, 76, 90, 116, 150])
def test_words_never_cover_the_mark_of_a_promise(width: int) -> None:
    """Where there is little room the words grow fewer; the mark stays on its day."""
    of, view = almanac(), window(width, TODAY)
    for row in of.rows:
        for bar in bars(row, view, TODAY, (), placed(of)):
            start, says = words_at(bar, view)
            assert start + cell_len(says) <= view.days
            if bar.promise is not None and view.shows(bar.promise.promise.day):
                assert not start - 1 <= view.at(bar.promise.promise.day) < start + cell_len(says)


def test_a_promise_without_a_planting_has_a_line_of_its_own() -> None:
    """What is promised and not yet sown is seen too."""
    lines = drawn(almanac(promises=(foreseen("pr-9", "spinach", outlook="cannot"),)))

    line = next(one for one in lines if "spinach, Fri 11 Dec: cannot be kept" in one)
    assert "promised" in line
    assert line[cell_of(window(WIDE, TODAY), date(2026, 12, 11))] == "◇"


@pytest.mark.parametrize("day", [date(2026, 11, 9), date(2026, 11, 27), date(2026, 12, 21), date(2027, 1, 3)])
def test_the_mark_of_what_is_not_sown_stands_on_its_day(day: date) -> None:
    """Its words stand right of it, or left of it where there is no room."""
    line = drawn(almanac(promises=(foreseen("pr-9", "spinach", day, "cannot"),)), width=76)
    promised = next(one for one in line if "promised" in one)

    assert promised[cell_of(window(76, TODAY), day)] == "◇"
    assert "cannot be kept" in promised


def test_bars_that_meet_stand_in_lines_of_their_own() -> None:
    """Two plantings side by side in time share a line; two at the same time do not; what has ended is below."""
    first = course("p-a", moves=((date(2026, 10, 5), "tub"),), ended=date(2026, 11, 3))
    second = course("p-b", moves=((date(2026, 11, 25), "tub"),))
    third = course("p-c", moves=((date(2026, 10, 20), "tub"),))
    view = window(WIDE, date(2026, 11, 2))
    row = Row(station="tub", name="Tub", courses=(first, second, third))
    found = [[bar.course.planting.key for bar in lane] for lane in lanes(bars(row, view, TODAY, (), {}), view)]

    assert sorted(map(tuple, found)) == [("p-a", "p-b"), ("p-c",)]
    gone = Row(station="tub", name="Tub", courses=(first, third))
    assert [lane[0].course.planting.key for lane in lanes(bars(gone, view, TODAY, (), {}), view)] == ["p-c", "p-a"]


@pytest.mark.parametrize("height", range(3, 16))
@pytest.mark.parametrize("station", ["shelf", "tub", "greens"])
def test_the_chosen_station_is_seen_however_low_the_window(height: int, station: str) -> None:
    """The lines never exceed the height, those of the chosen station are among them, and what is left out is said."""
    of = almanac()
    view = window(76, TODAY)
    shown = body(paper(of, view, TODAY, TODAY), station, height)
    whole = body(paper(of, view, TODAY, TODAY), station, 40)

    assert len(shown) <= height
    assert any(one.station == station and one.content.plain.startswith("▸") for one in shown)
    if len(shown) < len(whole):
        told = "\n".join(one.content.plain for one in shown)
        assert "more" in told or "+1" in told


@settings(max_examples=120, deadline=None)
@given(
    name=st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=40),
    crop=st.text(st.characters(exclude_categories=("Cs", "Cc")), min_size=1, max_size=40),
    width=st.integers(40, 180),
    shift=st.integers(-60, 60),
)
def test_no_name_breaks_the_lines(name: str, crop: str, width: int, shift: int) -> None:
    """Whatever names are in: every line has exactly the window's cells, wide characters counted as two."""
    one = course(harvest=TODAY + timedelta(days=shift), name=crop, until=TODAY + timedelta(days=shift + 9))
    of = almanac(
        rows=(Row(station="shelf", name=name, courses=(one,)), Row(station="x", name=crop, courses=(one,))),
        promises=(foreseen(day=TODAY + timedelta(days=abs(shift)), outlook="tight", name=crop, says=name * 3),),
    )
    view = window(width, TODAY)
    for line in body(paper(of, view, TODAY, TODAY), "shelf", 30):
        assert line.content.cell_length == view.names + view.days


def test_a_wide_character_cut_in_two_leaves_a_blank() -> None:
    """Writing over half of a wide character takes the whole of it away."""
    line = blank(6)
    put(line, 1, "漢字")
    put(line, 2, "x")

    assert joined(line).plain == "  x字 "
    put(line, 5, "漢")
    assert joined(line).cell_length == 6
