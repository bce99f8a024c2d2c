"""What the words of the knowledge weigh: the one place where they become numbers.

Assumed, all of them, and tried against described cases: sources say 'usually', not 0.75. Rough numbers do for
a network of this kind: Pradhan and others 1996, Artificial Intelligence 85:363-397, found that large noise
on its probabilities cost little accuracy.
"""

from typing import Final

from walkabout.diagnosis.model import Base, Clear, Effect, Leak, Strength, Who

GIVES: Final[dict[Strength, float]] = {
    "always": 0.95,
    "usually": 0.75,
    "sometimes": 0.35,
    "rarely": 0.08,
    "never": 0.003,
}
"""P(sign | this cause alone)."""

BASE: Final[dict[Base, float]] = {"common": 0.025, "occasional": 0.012, "rare": 0.006}
"""P(cause) when somebody looks something up, before anything is known."""

LEAK: Final[dict[Leak, float]] = {"seldom": 0.002, "now and then": 0.008, "often": 0.025, "mostly": 0.4}
"""P(sign | no cause from the list)."""

EFFECT: Final[dict[Effect, float]] = {"raises strongly": 4.0, "raises": 2.0, "lowers": 0.5, "lowers strongly": 0.2}
"""What a reading in the range does to the odds of the cause."""

AGAINST: Final = 0.2
"""What a sign that speaks against a cause does to its odds."""

OTHER_CROP: Final = 0.1
"""The odds of a cause on a crop that it is not known on; on one that it cannot be on they are OUT_OF_PLACE."""

OUT_OF_PLACE: Final = 0.001

NARROW: Final = 0.5
"""The odds of a cause that is found on one kind of crop only, while the crop is not known."""

BEHIND: Final[dict[str, float]] = {"usually": 0.5, "sometimes": 0.25, "rarely": 0.08}
"""The share of a cause's occurrences behind which a reason stands, before readings."""

OTHER_REASON: Final = 0.15
"""The share that is left to a reason that is not named."""

NOT_LISTED: Final = 0.01
"""P(something that is not on the list)."""

NOT_LISTED_GIVES: Final = 0.04
"""P(any one sign | something that is not on the list)."""

NOTICES: Final[dict[Clear, dict[Who, float]]] = {
    "plain": {"pupil": 0.97, "adult": 0.99, "licensed": 0.99},
    "takes care": {"pupil": 0.88, "adult": 0.95, "licensed": 0.97},
    "hard": {"pupil": 0.75, "adult": 0.88, "licensed": 0.95},
}
"""P(the looker says yes | a cause shows the sign), by how hard it is to see and who looked.

A reliability of .8 to .95 for each answer is usual where pupils and practitioners describe the same plants.
"""

IMAGINES: Final[dict[Clear, dict[Who, float]]] = {
    "plain": {"pupil": 0.001, "adult": 0.0005, "licensed": 0.0005},
    "takes care": {"pupil": 0.003, "adult": 0.0015, "licensed": 0.001},
    "hard": {"pupil": 0.007, "adult": 0.003, "licensed": 0.0015},
}
"""P(the looker says yes | the sign is not there)."""

MISREAD: Final = 0.003
"""P(a sign is taken from a sentence that did not mean it): what is typed is less sure than what is picked."""

LOOKUPS: Final = 50.0
"""How many looked-up and confirmed causes the written base rates are worth against the room's own."""
