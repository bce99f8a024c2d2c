"""Knowledge made up for the tests, of any size."""

import numpy as np

from walkabout.diagnosis.knowledge import Knowledge
from walkabout.diagnosis.model import Cause, Gives, Sign, Source, Step, Strength

STRENGTHS: tuple[Strength, ...] = ("always", "usually", "sometimes", "rarely")
KINDS = ("fungi", "insects", "nutrition", "water", "light")


def sign(key: str, **more: object) -> Sign:
    """Return a sign with everything filled in."""
    given = {
        "name": f"sign {key}",
        "organ": "leaf",
        "seen": f"{key} is seen",
        "words": (f"word{key}",),
        "ask": f"Is there {key}?",
        "look": "Look at a leaf.",
        "how": "eye",
        "seconds": 5,
    }
    return Sign(key=key, **{**given, **more})  # type: ignore[arg-type]


def cause(key: str, signs: dict[str, Strength], **more: object) -> Cause:
    """Return a cause that gives these signs, with one step of its own."""
    given = {
        "name": f"cause {key}",
        "kind": "fungi",
        "what": "what",
        "look": "look",
        "story": ("story",),
        "do": (Step(step=f"treat {key}", who="adult", source="made up"),),
        "source": "made up",
    }
    gives = tuple(Gives(sign=one, how=how, source="made up") for one, how in signs.items())
    return Cause(key=key, signs=gives, **{**given, **more})  # type: ignore[arg-type]


def knowledge(signs: list[Sign], causes: list[Cause], **more: object) -> Knowledge:
    """Return a knowledge of these alone."""
    made_up = {"made up": Source(text="Made up.", known="assumed")}
    given = {"generals": {}, "reasons": {}, "measures": {}, "crops": {}, "steps": {}}
    return Knowledge(
        signs={one.key: one for one in signs},
        causes={one.key: one for one in causes},
        sources=dict.fromkeys(("signs", "readings", "steps", "reasons", *(one.kind for one in causes)), made_up),
        **{**given, **more},  # type: ignore[arg-type]
    )


def random_knowledge(causes: int, signs: int, links: int, seed: int) -> Knowledge:
    """Return a knowledge of this size in which each cause gives `links` signs."""
    rng = np.random.default_rng(seed)
    made = []
    for number in range(causes):
        given = {f"s{at}": STRENGTHS[rng.integers(4)] for at in sorted(rng.choice(signs, links, replace=False))}
        base = ("common", "occasional", "rare")[rng.integers(3)]
        made.append(cause(f"c{number}", given, kind=KINDS[number % len(KINDS)], base=base))
    return knowledge([sign(f"s{at}") for at in range(signs)], made)
