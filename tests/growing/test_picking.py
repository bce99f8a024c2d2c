"""How long a crop can be picked."""

from walkabout.growing.crops import load
from walkabout.growing.picking import BY_CROP, BY_GROUP, lasts

CROPS = load()


def test_every_crop_that_is_harvested_has_its_days() -> None:
    """Whatever is eaten or gives seed can be picked for some days; a fern or a marigold for none."""
    for one in CROPS:
        found = lasts(one)
        assert (found is not None) == bool(one.eaten or one.seed), one.key
        if found is not None:
            assert 1 <= found.days <= 366
            assert found.known in ("published", "common practice", "assumed")
            assert found.source


def test_exceptions_are_crops_and_differ_from_their_group() -> None:
    """Each exception names a crop of the table, and says something else than its group."""
    for key, found in BY_CROP.items():
        assert key in CROPS.of
        assert found != BY_GROUP[CROPS.of[key].group]


def test_microgreens_go_first_and_bushes_last() -> None:
    """Days for microgreens, a week or two for heads, weeks for leaves and fruit, months for bushes."""
    keys = ("cress", "radish", "lettuce", "basil", "tomato", "thyme")
    days = [found.days for key in keys if (found := lasts(CROPS.of[key])) is not None]
    assert len(days) == len(keys)
    assert days == sorted(days)
    assert days[0] <= 5
