"""On what a count to sow rests, in words."""

import pytest

from walkabout.almanac.loss_words import known_by, lost_words, sown_for
from walkabout.almanac.pace import Learned
from walkabout.growing.crops import load
from walkabout.growing.harvest import LOSSES

CROPS = load()


def test_a_fifth_of_which_one_planting_tells() -> None:
    """The share is called by its plain fraction, and a guess with a little of the room's own is called one."""
    own = {"lettuce": Learned(survival=0.8, kept=1)}
    assert sown_for(20, "12 plants", CROPS.of["lettuce"], own) == (
        "20 plants sown for 12 plants, enough nine times in ten: a fifth is lost as a rule "
        "(assumed; 1 planting here so far)."
    )


def test_small_greens_are_sown_in_trays() -> None:
    """Nothing is known of this room: the usual share, said to be assumed."""
    says = sown_for(3, "2 trays", CROPS.of["cress"], {})
    assert says.startswith("3 trays sown for 2 trays, ")
    assert says.endswith("(assumed; no planting here so far).")
    assert lost_words(Learned()).startswith({0.1: "a tenth is lost", 0.2: "a fifth is lost"}[LOSSES])


@pytest.mark.parametrize(
    ("kept", "says"),
    [
        (0, "assumed; no planting here so far"),
        (1, "assumed; 1 planting here so far"),
        (2, "assumed; 2 plantings here so far"),
        (3, "from 3 plantings here"),
    ],
)
def test_from_the_third_planting_on_it_is_the_rooms_own(kept: int, says: str) -> None:
    """Up to two plantings the assumed share weighs as much."""
    assert known_by(Learned(kept=kept)) == says


@pytest.mark.parametrize(
    ("survival", "says"),
    [(1.0, "hardly any are"), (0.9, "a tenth is"), (0.83, "17 in 100 are"), (0.5, "half are"), (0.1, "90 in 100 are")],
)
def test_the_share_in_plain_words(survival: float, says: str) -> None:
    """A plain fraction where one is near, else so many in a hundred."""
    assert lost_words(Learned(survival=survival)).startswith(f"{says} lost as a rule")
