"""Planting labels."""

import msgspec

from tests.paper.printed import codes, text
from walkabout.paper.labels import _caution, labels_of, planting_labels
from walkabout.paper.sizes import A4, LETTER
from walkabout.round.opened import OpenRoom


def test_what_stands_on_a_label(opened: OpenRoom) -> None:
    """Crop, variety, what was written on it, when it was sown and when its harvest is expected."""
    one = opened.plantings["p-1"]
    opened.plantings["p-1"] = msgspec.structs.replace(one, variety="green butterhead", label="L2")
    label = next(row for row in labels_of(opened) if row.key == "p-1")

    assert (label.crop, label.variety, label.label) == ("Lettuce on rafts", "green butterhead", "L2")
    assert label.sown == "sown 4 Nov 2026, 12 plants"
    assert label.expected.startswith("harvest ")
    printed = text(planting_labels(opened, A4))
    for says in (label.crop, label.variety, label.label, label.sown, label.expected):
        assert says in printed


def test_codes_hold_the_plantings_keys(opened: OpenRoom) -> None:
    """Each planting that stands has its label, by walking order; what has ended has none."""
    ended = opened.plantings["p-3"]
    opened.plantings["p-3"] = msgspec.structs.replace(ended, ended=opened.today(), reason="died")
    keys = [one.key for one in labels_of(opened)]

    assert keys == ["p-0", "p-1", "p-2", "p-4", "p-5", "p-6", "p-7"]
    assert codes(planting_labels(opened, A4)) == keys
    assert codes(planting_labels(opened, LETTER)) == keys


def test_what_is_no_food_says_so(opened: OpenRoom) -> None:
    """A fern's label says that it is not for eating; of food an adult is asked first, with what the table warns of."""
    cautions = {one.key: one.caution for one in labels_of(opened)}
    assert cautions["p-6"] == "Not for eating."
    assert cautions["p-1"] == "Ask an adult before tasting."
    bean = opened.crops.find("bean")
    assert bean is not None
    assert _caution(bean) == f"Ask an adult before tasting. {bean.caution}"
    coleus = opened.crops.find("coleus")
    assert coleus is not None
    assert _caution(coleus).lower().count("not for eating") == 1


def test_a_room_where_nothing_grows(opened: OpenRoom) -> None:
    """The page says that there is nothing to label."""
    opened.plantings = {}
    assert "there is no label to print" in text(planting_labels(opened, A4))
