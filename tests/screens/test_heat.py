"""The days of every station beside each other."""

from datetime import date, timedelta

import pytest
from textual.content import Content

from walkabout.round.heat import Heat
from walkabout.round.today import Days
from walkabout.screens.text import STRIP_GLYPHS
from walkabout.screens.widgets.heat import legend, scale, strips
from walkabout.screens.widgets.ticks import days, numbers

LAST = date(2026, 11, 25)


def heat(count: int, *verdicts: str) -> Heat:
    """Return a strip of two stations; the first has `verdicts` on its last days, the second only good ones."""
    dates = tuple(LAST - timedelta(days=back) for back in range(count - 1, -1, -1))
    first = ("good",) * (count - len(verdicts)) + verdicts
    return Heat(dates, (Days("tub", "Raft tub", first), Days("case", "Fern case", ("good",) * count)))


@pytest.mark.parametrize(("count", "room"), [(1, 40), (14, 58), (14, 10), (84, 58), (84, 98), (365, 58), (366, 20)])
def test_the_strip_fits_and_its_last_cell_ends_with_the_last_day(count: int, room: int) -> None:
    """However many days there are, they take no more columns than there are, and the newest stands last."""
    found = strips(heat(count, "now"), room)

    assert found.width <= room
    assert {len(row[2]) for row in found.rows} == {found.cells}
    assert found.rows[0][2][-1] == "now"
    assert found.first + timedelta(days=found.cells * found.per - 1) == LAST


def test_a_cell_of_several_days_shows_the_worst_of_them() -> None:
    """One bad day in a week is not hidden by six good ones, and a look outweighs a day without one."""
    found = strips(heat(70, "today", "good", "", "not looked", "good", "good", "good"), 10)

    assert found.per == 7
    assert found.rows[0][2][-1] == "today"
    assert set(found.rows[1][2]) == {"good"}


def test_a_short_span_has_a_day_in_each_cell() -> None:
    """Two weeks on a wide screen are days, each with room beside it."""
    found = strips(heat(14, "watch"), 98)

    assert (found.per, found.wide, found.cells) == (1, 3, 14)


@pytest.mark.parametrize(("count", "room"), [(14, 58), (84, 58), (365, 58), (365, 98)])
def test_the_scale_names_each_day_above_its_cell(count: int, room: int) -> None:
    """Every name on the scale begins above the cell that holds its day, and none runs into the next."""
    found = strips(heat(count), room)
    line = scale(found).plain

    named = [(day, says) for day, says in days(found.first, found.last, found.width) if says in line.split("  ")]
    assert len(line) <= found.width
    assert line.split()
    for day, says in named:
        at = (day - found.first).days // found.per * found.wide
        assert line[at : at + len(says)] == says


def test_the_legend_says_only_what_is_shown() -> None:
    """A glyph that does not occur is not explained; several days in a cell are."""
    few, many = legend(heat(14), 1), legend(heat(84, "watch", "now"), 2)

    assert isinstance(few, Content)
    assert "watch" not in few.plain
    assert all(words in many.plain for words in ("good", "watch", "act", "a cell is 2 days"))
    assert STRIP_GLYPHS["now"] in many.plain


@pytest.mark.parametrize(("low", "high"), [(5.4, 6.6), (0, 0.003), (-2.5, 40000), (17.95, 18.05)])
def test_numbers_on_a_scale_are_round_and_inside(low: float, high: float) -> None:
    """A scale names at least two and at most six round numbers, each written so that it reads as what it is."""
    found = numbers(low, high, 6)

    assert 2 <= len(found) <= 6
    assert all(low - 1e-9 <= at <= high + 1e-9 and float(says) == pytest.approx(at) for at, says in found)
    assert len({says for _, says in found}) == len(found)


def test_no_scale_without_a_span() -> None:
    """Where all is one number, or there is no room, nothing is named."""
    assert numbers(5, 5, 4) == numbers(1, 2, 0) == ()


@pytest.mark.parametrize("long", [1, 6, 13, 83, 364, 3650, 20000])
@pytest.mark.parametrize("width", [20, 60, 110])
def test_days_on_a_scale_have_room(long: int, width: int) -> None:
    """Days are named in order, inside the span, no more of them than have room."""
    first = date(1970, 1, 1) if long > 19000 else LAST - timedelta(days=long)
    found = days(first, first + timedelta(days=long), width)

    assert [day for day, _ in found] == sorted({day for day, _ in found})
    assert all(first <= day <= first + timedelta(days=long) for day, _ in found)
    assert len(found) <= max(width // 5, 2)
