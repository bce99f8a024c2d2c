"""The crop table's structs, loading and finding."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from walkabout.growing.crops import GROUPS, Range, load, read

SMALL = """
[sources]
'a book' = { known = 'published', text = 'A Book, page 1.' }

[[crop]]
key = 'basil'
name = 'basil'
others = ['sweet basil']
botanical = 'Ocimum basilicum'
group = 'herb'
day = { low = 20, high = 29, source = 'a book' }
humidity = { low = 50, high = 70, source = 'a book' }
light = { low = 10, high = 17, source = 'a book', note = 'more indoors' }
spacing = { value = 18, source = 'a book' }
"""


def test_a_small_table_is_read():
    """Values arrive with source and note; what is not given is None."""
    basil = read(SMALL).of["basil"]
    assert basil.light == Range(10, 17, "a book", "more indoors")
    assert basil.ph is None
    assert basil.wants("pH") is None
    assert basil.wants("air temperature") == basil.day
    assert basil.wants("moonlight") is None


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("low = 20, high = 29", "low = 30, high = 29", "basil, day: low 30 is above high 29"),
        ("value = 18, source = 'a book'", "value = 18, source = 'a bok'", "basil, spacing: .*did you mean 'a book'"),
        ("high = 70, source = 'a book'", "high = 70", "basil, humidity: .*source"),
        ("value = 18", "value = nan", "basil, spacing: nan is not a number"),
        ("low = 50", "low = 'wet'", "basil, humidity.low: expected"),
        ("group = 'herb'", "group = 'tree'", "basil, group: invalid"),
        ("group = 'herb'", "gruop = 'herb'", "basil: .*gruop"),
        ("'sweet basil'", "'sweet basil', 3", "basil, others"),
        ("[[crop]]", "[crop]", "double brackets"),
        ("[sources]", "[source]", "'source' is neither"),
        ("known = 'published'", "known = 'heard'", "sources, .*heard"),
        ("key = 'basil'", "key = ", "line 6"),
    ],
)
def test_a_mistake_is_named_in_one_line(old, new, says):
    """The crop and the value are named, and nothing is read past a mistake."""
    assert old in SMALL
    with pytest.raises(ValueError, match=says) as caught:
        read(SMALL.replace(old, new, 1))
    assert "\n" not in str(caught.value)


def test_two_crops_may_not_share_a_name():
    """A name leads to one crop only; so does a key."""
    entry = SMALL[SMALL.index("[[crop]]") :]
    with pytest.raises(ValueError, match="'basil' already belongs to basil"):
        read(SMALL + entry)
    with pytest.raises(ValueError, match="other: the name 'Sweet-Basil' already belongs to basil"):
        read(SMALL + entry.replace("'basil'", "'other'").replace("'sweet basil'", "'Sweet-Basil'"))


def test_a_file_of_ones_own_is_read_and_named_when_wrong(tmp_path):
    """`load` reads any file and names it in an error."""
    mine = tmp_path / "mine.toml"
    mine.write_text(SMALL, encoding="utf-8")
    assert [crop.key for crop in load(mine)] == ["basil"]
    bad = tmp_path / "bad.toml"
    bad.write_text(SMALL.replace("high = 29", "high = 2"), encoding="utf-8")
    with pytest.raises(ValueError, match=r"^bad\.toml: basil, day"):
        load(bad)


def test_the_shipped_table_is_read_once():
    """The second call returns what the first read."""
    assert load() is load()


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("basil", "basil"),
        ("  Basil ", "basil"),
        ("toms", "tomato"),
        ("cuke", "cucumber"),
        ("arugula", "rocket"),
        ("Cilantro", "coriander"),
        ("Bok-Choy", "pak-choi"),
        ("zucchini", "courgette"),
        ("eggplant", "aubergine"),
        ("scallion", "spring-onion"),
        ("mother-in-law’s tongue", "snake-plant"),
        ("rapid-cycling Brassica rapa", "rapid-brassica"),
    ],
)
def test_a_crop_is_found_by_what_people_call_it(text, key):
    """Keys, names and other names lead to the crop, whatever the capitals or hyphens."""
    found = load().find(text)
    assert found is not None
    assert found.key == key


@pytest.mark.parametrize("text", ["", "   ", "-", "moon cheese", "basi"])
def test_finding_never_guesses(text):
    """Only a whole name is found."""
    assert load().find(text) is None


def test_every_name_leads_home():
    """Each crop is found by its key, its name and each other name."""
    crops = load()
    for crop in crops:
        for name in (crop.key, crop.name, *crop.others):
            assert crops.find(name) is crop, name
            assert crops.find(name.upper()) is crop, name


@pytest.mark.parametrize(
    ("text", "key"), [("baisl", "basil"), ("tomatoe", "tomato"), ("letuce", "lettuce"), ("cucum", "cucumber")]
)
def test_a_slip_of_the_finger_is_offered_the_nearest(text, key):
    """The nearest name comes first."""
    assert load().nearest(text)[0].key == key


def test_part_of_a_name_offers_all_that_have_it():
    """'fern' leads to the ferns."""
    assert {crop.key for crop in load().nearest("fern")} == {"birds-nest-fern", "maidenhair-fern", "boston-fern"}


@given(text=st.text(max_size=30), most=st.integers(min_value=1, max_value=6))
def test_any_text_may_be_typed(text, most):
    """Whatever is typed, at most so many different crops are offered and nothing breaks."""
    offered = load().nearest(text, most)
    assert len({crop.key for crop in offered}) == len(offered) <= most


def test_every_group_has_a_crop_and_the_table_is_long_enough():
    """At least fifty crops, and no group is empty."""
    crops = load()
    assert len(crops) >= 50
    assert {crop.group for crop in crops} == set(GROUPS)
