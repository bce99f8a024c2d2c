"""Whose figures are followed."""

import pytest

from walkabout.growing import crops
from walkabout.growing.bands_published import QUANTITIES, SHIPPED, load, others, plant, read, source, wanted


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("Lettuce", "lettuce"),
        ("zucchini", "courgette"),
        ("pepper (sweet)", "pepper"),
        ("oregano / marjoram", "oregano"),
        ("lettuce raft", "raft-lettuce"),
        ("seedling plugs", "seedlings"),
        ("tomato seedlings", "seedlings"),
        ("New-Guinea impatiens", "new-guinea-impatiens"),
        ("roses", "rose"),
        ("microgreens", "microgreens"),
    ],
)
def test_crops_are_found_as_people_type_them(typed, key):
    """Other names, brackets, slashes and turned words find the crop, also one the crop table lacks."""
    assert plant(typed).key == key


@pytest.mark.parametrize(
    ("typed", "says"),
    [("lettuse", "did you mean lettuce"), ("carnashion", "did you mean carnation"), ("qqq", "'qqq'$")],
)
def test_an_unknown_crop_names_the_nearest(typed, says):
    """A slip of the hand is answered with the nearest name, nonsense with none."""
    with pytest.raises(ValueError, match=says):
        plant(typed)


def test_every_crop_of_the_table_keeps_its_own_figures():
    """Nothing followed means the crop table; the file adds to it and never overrules it."""
    for crop in crops.load():
        for quantity in QUANTITIES:
            own = getattr(crop, quantity)
            found = wanted(plant(crop.key), quantity)
            assert own is None or found.range is own


def test_every_crop_of_the_file_has_a_band():
    """A crop that only the file knows wants something, by a set that can be followed."""
    for name in load().crop:
        found = [wanted(plant(name.key), quantity) for quantity in ("ph", "ec", "light")]
        assert any(found)


def test_following_a_set_takes_its_figures_where_it_has_them():
    """Basil by the trade is 1.6 to 2.2; by Cornell there is none, so the crop table's is taken and marked."""
    basil = plant("basil")
    assert (wanted(basil, "ec").range.low, wanted(basil, "ec").range.high) == (1.0, 1.6)
    trade = wanted(basil, "ec", "trade")
    assert (trade.range.low, trade.range.high, trade.instead) == (1.6, 2.2, False)
    assert wanted(basil, "ec", "OSU").instead is False
    cornell = wanted(basil, "ec", "Cornell")
    assert (cornell.range, cornell.instead) == (wanted(basil, "ec").range, True)


def test_the_other_sets_are_those_that_differ():
    """Others never repeat the range that is followed, and never one that was only lent."""
    basil = plant("basil")
    assert {name for name, _ in others(basil, "ec")} == {"trade"}
    assert {name for name, _ in others(basil, "ec", "trade")} == {"OSU"}
    assert {name for name, _ in others(plant("lettuce"), "ec")} == {"Cornell", "research"}


def test_cornell_lettuce_counts_above_the_source_water():
    """The raft figures are above the water, the Oklahoma ones are not."""
    assert wanted(plant("raft lettuce"), "ec").above_water
    assert wanted(plant("lettuce"), "ec", "Cornell").above_water
    assert not wanted(plant("lettuce"), "ec").above_water
    assert not wanted(plant("raft lettuce"), "ph").above_water


def test_every_source_is_known_and_says_how():
    """Each set's sources and each band's stand in one of the two tables."""
    for one in load().sets.values():
        for name in one.sources:
            assert source(name).text


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (("crop = 'basil'", "crop = 'bazil'"), "bazil, trade: no such crop, or no such set"),
        (("follow = 'trade'", "follow = 'charts'"), "no such crop, or no such set"),
        (("low = 1.6, high = 2.2", "low = 3.6, high = 2.2"), "basil, trade: low 3.6 is above high 2.2"),
        (("source = 'Samarakoon 2020', note", "source = 'Samarakon', note"), "no source is called 'Samarakon'"),
        (("name = 'rose'", "name = 'basil'"), "the crop table has 'basil' already"),
        (("above_water = ['raft-lettuce']", "above = 1"), "above"),
    ],
)
def test_a_spoiled_file_says_what_is_wrong(change, says):
    """A file that contradicts itself is refused in one line that names the place."""
    text = SHIPPED.read_text(encoding="utf-8")
    assert change[0] in text
    with pytest.raises(ValueError, match=says):
        read(text.replace(*change))
