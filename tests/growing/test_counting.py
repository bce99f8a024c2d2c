"""In what a crop is counted."""

import pytest

from walkabout.growing.counting import amount_of, counted, noun, sown_words, unit_word
from walkabout.growing.crops import GROUPS, load


@pytest.mark.parametrize(
    ("crop", "count", "says"),
    [("pea-shoots", 2, "2 trays"), ("cress", 1, "1 tray"), ("lettuce", 1, "1 plant"), ("moon grass", 3, "3 plants")],
)
def test_small_greens_are_counted_in_trays(crop: str, count: int, says: str) -> None:
    """Pea shoots are trays, lettuces are plants, and so is what the table does not know."""
    assert counted(count, load().find(crop)) == says


def test_only_small_greens_are_trays() -> None:
    """Every crop of the table is counted in one of the two, by its group alone."""
    in_trays = {one.group for one in load() if noun(one) == "trays"}
    assert in_trays == {"microgreen"} < set(GROUPS)


@pytest.mark.parametrize(
    ("amount", "unit", "crop", "says"),
    [
        (24, "portions", "lettuce", "24 portions of lettuce"),
        (1, "portions", "cress", "1 portion of cress"),
        (2, "heads", "cress", "2 trays of cress"),
        (1, "heads", "cress", "1 tray of cress"),
        (1, "heads", "lettuce", "1 head of lettuce"),
        (500, "g", "cress", "500 g of cress"),
    ],
)
def test_an_amount_is_written_in_what_the_crop_is_counted_in(amount: float, unit: str, crop: str, says: str) -> None:
    """Heads of small greens are trays; portions and grams are the same for all."""
    assert amount_of(amount, unit, load().find(crop), crop) == says
    assert unit_word(unit, load().find(crop), amount) in says


def test_what_is_sown_reads_as_it_is_counted() -> None:
    """Forty lettuce, but two trays of cress."""
    assert sown_words(40, load().find("lettuce"), "lettuce") == "40 lettuce"
    assert sown_words(2, load().find("cress"), "cress") == "2 trays of cress"
