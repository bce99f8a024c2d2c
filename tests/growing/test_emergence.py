"""Days to emergence: reading between neighbours, and honesty where nothing came up."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import crops
from walkabout.growing import emergence as of
from walkabout.growing.limits import OutOfRange

TABLE = of.load()
EACH = pytest.mark.parametrize("row", TABLE.row, ids=[row.name for row in TABLE.row])


@EACH
def test_rows_are_sound(row: of.Row) -> None:
    """Temperatures rise, none is in both lists, shares are percentages, and every crop key is in the crop table."""
    temperatures = [temperature for temperature, _ in row.days]
    assert temperatures == sorted(set(temperatures))
    assert not set(temperatures) & set(row.none)
    assert all(days >= 1 for _, days in row.days)
    assert all(0 <= share <= 100 for _, share in row.normal)
    assert set(row.disputed) <= set(temperatures)
    assert all(key in crops.load().of for key in row.crops)


def test_no_crop_stands_in_two_rows() -> None:
    """A name, another name or a crop key leads to one row alone."""
    names = [name for row in TABLE.row for name in {row.name, *row.others, *row.crops}]
    assert len(names) == len(set(names))


@EACH
def test_between_neighbours_days_lie_between_theirs(row: of.Row) -> None:
    """Halfway between two tested temperatures the days are the harmonic mean of theirs, so between them."""
    for (cold, slow), (warm, fast) in pairwise(row.days):
        between = [one for one in row.none if cold < one < warm]
        if not between:
            found = of.emergence(row, (cold + warm) / 2)
            assert found.how == "between"
            assert found.days == pytest.approx(2 / (1 / slow + 1 / fast))


@given(st.sampled_from(TABLE.row), st.floats(0, 40))
@settings(max_examples=100)
def test_any_temperature_gets_an_answer_or_a_refusal(row: of.Row, temperature: float) -> None:
    """Inside the tested temperatures there is an answer that fits its kind; outside there is OutOfRange."""
    tested = {one for one, _ in row.days} | set(row.none)
    if not min(tested) <= temperature <= max(tested):
        with pytest.raises(OutOfRange, match="was tested from"):
            of.emergence(row, temperature)
        return
    found = of.emergence(row, temperature)
    assert (found.days is None) == (found.how in ("none", "unsure"))
    assert (found.slower_than is not None) == (found.how == "unsure")


def test_next_to_none_nothing_is_promised() -> None:
    """Tomato at 7 °C stands between none at 5 °C and 43 days at 10 °C: only the bound is given."""
    tomato = TABLE.find("tomato")
    assert tomato is not None
    found = of.emergence(tomato, 7)
    assert found.how == "unsure"
    assert found.slower_than == pytest.approx(43)
    assert of.emergence(tomato, 2).how == "none"


def test_shares_are_never_read_on_a_line() -> None:
    """Between 99 sound seedlings at 25 °C and 12 at 30 °C lettuce is somewhere from 12 to 99."""
    lettuce = TABLE.find("lettuce")
    assert lettuce is not None
    assert of.normal(lettuce, 27) == (12, 99)
    assert of.normal(lettuce, 30) == (12, 12)
    assert of.normal(lettuce, 45) is None


@pytest.mark.parametrize(
    ("text", "name"),
    [("Snap-Bean", "snap bean"), ("bean", "snap bean"), ("raft-lettuce", "lettuce"), ("eggplant", "aubergine")],
)
def test_rows_are_found_by_any_name(text: str, name: str) -> None:
    """Other names, crop keys, capitals and hyphens lead to the row."""
    found = TABLE.find(text)
    assert found is not None
    assert found.name == name


def test_the_nearest_row_is_named() -> None:
    """A slip of the hand finds its row, nonsense finds none."""
    near = TABLE.nearest("raddish")
    assert near is not None
    assert near.name == "radish"
    assert TABLE.nearest("qqqq") is None
    assert TABLE.find("qqqq") is None


def test_crop_table_agrees_with_the_emergence_table() -> None:
    """The crop table's days at 20 to 25 °C hold what this table has there, within a day."""
    for row in TABLE.row:
        days = dict(row.days)
        for key in row.crops:
            emerge = crops.load().of[key].emerge
            assert emerge is not None
            if "Knott" in emerge.source:
                for temperature in (20.0, 25.0):
                    found = of.emergence(row, temperature)
                    assert found.days is not None
                    slack = 0.5 if temperature in days else 1.0
                    assert emerge.low - slack <= found.days <= emerge.high + slack, (key, temperature)
