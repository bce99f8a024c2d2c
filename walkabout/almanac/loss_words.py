"""On what a count to sow rests: how many are lost as a rule, and how that is known."""

from collections.abc import Mapping

from walkabout.almanac.pace import Learned, own_factor
from walkabout.growing.counting import counted
from walkabout.growing.crops import Crop

NEAR = 0.015
"""A share this near to a plain fraction is called by it. Assumed."""
FEW = 2
"""Up to so many plantings of its own, what a room expects rests on the assumed share as much. Assumed."""

_FRACTIONS = {
    0.05: "one in twenty is", 0.1: "a tenth is", 0.125: "an eighth is", 0.2: "a fifth is", 0.25: "a quarter is",
    1 / 3: "a third is", 0.4: "two fifths are", 0.5: "half are",
}  # fmt: skip


def sown_for(sown: int, needed: str, crop: Crop, learned: Mapping[str, Learned]) -> str:
    """Say why more are sown than needed: '20 sown for 12 plants: a fifth is lost as a rule (assumed)'.

    `needed` is what must be left, in words. The count holds a margin on top of the losses, which is said too.
    """
    own = own_factor(crop, learned)
    return f"{counted(sown, crop)} sown for {needed}, enough nine times in ten: {lost_words(own)}."


def lost_words(own: Learned) -> str:
    """Say which share is lost as a rule, and on what that rests."""
    return f"{_share(1 - own.survival)} lost as a rule ({known_by(own)})"


def known_by(own: Learned) -> str:
    """Say on what the losses rest: a guess, a guess and a little of the room's own, or the room's own plantings."""
    if not own.kept:
        return "assumed; no planting here so far"
    here = f"{own.kept} planting{'s' if own.kept != 1 else ''} here"
    return f"assumed; {here} so far" if own.kept <= FEW else f"from {here}"


def _share(lost: float) -> str:
    if lost < NEAR:
        return "hardly any are"
    near = min(_FRACTIONS, key=lambda one: abs(one - lost))
    return _FRACTIONS[near] if abs(near - lost) <= NEAR else f"{round(lost * 100)} in 100 are"
