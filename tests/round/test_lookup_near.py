"""The signs nearest to words that were not understood: near ones, or none."""

import pytest

from walkabout.round.lookup import ready
from walkabout.round.lookup_near import nearest_signs


@pytest.mark.parametrize(
    ("text", "sign"),
    [
        ("raggedy bits", "ragged holes"),
        ("powdry", "white powder"),
        ("sticy stuff", "sticky"),
        ("wilty", "limp at the warmest hour"),
        ("roots slimey", "roots brown, soft or slimy"),
    ],
)
def test_a_word_that_is_almost_a_signs_offers_it_first(text: str, sign: str) -> None:
    """Misspelt or with another ending, it is still near."""
    known = ready().known
    assert known.signs[nearest_signs(known, text)[0]].name.startswith(sign)


@pytest.mark.parametrize(
    "text", ["", "zork", "blorp fizzle", "my plant is sad", "the hamster", "looks ill", "leaf is funny", "homework"]
)
def test_words_that_are_near_nothing_offer_nothing(text: str) -> None:
    """Where it is seen, small words and words that only sound alike are no reason for an offer."""
    assert nearest_signs(ready().known, text) == ()


def test_no_more_are_offered_than_asked_for() -> None:
    """The nearest first, three unless told otherwise."""
    known = ready().known
    assert len(nearest_signs(known, "white")) == 3
    assert nearest_signs(known, "white", 5)[:3] == nearest_signs(known, "white")
