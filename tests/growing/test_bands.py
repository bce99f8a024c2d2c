"""The range that suits several crops."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from walkabout.growing.bands import shared, wanted
from walkabout.growing.crops import Range, load
from walkabout.growing.units import US

ends = st.floats(min_value=-50, max_value=50, allow_nan=False)
ranges = st.lists(
    st.tuples(
        st.sampled_from(["basil", "mint", "pea", "dill"]),
        st.tuples(ends, ends).map(lambda pair: Range(min(pair), max(pair), "somewhere")),
    ),
    min_size=1,
    max_size=6,
)


@given(ranges=ranges, value=ends)
def test_a_value_inside_suits_everybody_and_one_outside_does_not(ranges, value):
    """The common range holds exactly the values that every single range holds."""
    found = shared(ranges)
    inside = found.range is not None and found.range[0] <= value <= found.range[1]
    assert inside == all(one.hold(value) for _, one in ranges)


@given(ranges=ranges)
def test_there_is_either_a_range_or_a_compromise(ranges):
    """Never both, never neither; a compromise suits at least one crop less than all."""
    found = shared(ranges)
    assert (found.range is None) == found.conflict == (found.compromise is not None)
    if found.compromise is not None:
        assert not all(one.hold(found.compromise) for _, one in ranges)


@given(ranges=ranges)
def test_each_end_is_set_by_a_crop_that_has_it(ranges):
    """The names beside an end belong to crops with just that end."""
    found = shared(ranges)
    assert {(name, found.least.value) for name in found.least.names} <= {(n, r.low) for n, r in ranges}
    assert {(name, found.most.value) for name in found.most.names} <= {(n, r.high) for n, r in ranges}


def test_the_ends_say_who_set_them():
    """Each end carries its crops and their sources; the sentence names both."""
    found = shared([("lettuce", Range(1.2, 1.8, "one sheet")), ("basil", Range(1.0, 1.6, "another"))])
    assert found.range == (1.2, 1.6)
    assert (found.least.names, found.least.sources) == (("lettuce",), ("one sheet",))
    assert (found.most.names, found.most.sources) == (("basil",), ("another",))
    assert found.says("mS/cm") == (
        "1.2 to 1.6 mS/cm: the low end is set by lettuce (one sheet), the high end set by basil (another)."
    )


def test_a_conflict_is_said_plainly():
    """Who wants at least what, who at most what, and that the middle suits neither."""
    found = shared(
        [("pak choi", Range(7, 7, "a sheet")), ("leek", Range(7, 7.5, "a sheet")), ("mint", Range(5.5, 6, "b"))]
    )
    assert found.range is None
    assert found.compromise == pytest.approx(6.5)
    assert found.says("pH") == (
        "pak choi and leek want at least pH 7.0 (a sheet); mint wants at most pH 6.0 (b). "
        "Nothing suits both: pH 6.5 is the middle of the gap and suits neither."
    )


def test_a_room_in_us_units_reads_its_own():
    """The sentence shows °F where the room asks for it, and a single value once."""
    assert shared([("a", Range(20, 25, "s"))]).says("°C", scales=US).startswith("68.0 to 77.0 °F: ")
    assert shared([("a", Range(6, 6, "s"))]).says("pH").startswith("pH 6.0: ")


def test_touching_ranges_leave_one_value():
    """An end that two ranges share is inside both: no conflict."""
    found = shared([("a", Range(1, 2, "s")), ("b", Range(2, 3, "s"))])
    assert found.range == (2, 2)


def test_the_same_crop_twice_is_named_once():
    """Two plantings of one crop are one voice."""
    found = shared([("basil", Range(1, 2, "s")), ("basil", Range(1, 2, "s"))])
    assert found.least.names == ("basil",)
    assert found.crops == 1


def test_no_ranges_is_an_error():
    """Nothing to share is said, not guessed."""
    with pytest.raises(ValueError, match="no crop here"):
        shared([])


def test_crops_without_the_quantity_do_not_count():
    """A cactus has no EC; beside lettuce the lettuce decides; alone nobody does."""
    crops = load()
    found = wanted([crops.of["lettuce"], crops.of["barrel-cactus"]], "EC")
    assert found is not None
    assert found.range == (1.2, 1.8)
    assert found.crops == 1
    assert wanted([crops.of["barrel-cactus"]], "EC") is None
