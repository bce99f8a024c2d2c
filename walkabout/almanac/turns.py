"""In whose turn a planting is: which of several promises of a crop it may be ready for, and how likely that is."""

from collections.abc import Iterator, Mapping
from datetime import date
from itertools import product
from math import prod

from msgspec import Struct

from walkabout.almanac.chances import Part

LIKELIER = 0.5
"""Where too many plantings stand to go through all that may happen, one that is likelier ready than not for an earlier
promise goes to that one first."""

FEW = 4
"""Up to so many plantings each may be ready for one promise or another; among more, one planting weighs less."""

MOST_WAYS = 16
"""In so many ways plantings may be ready for one promise or another before the likelier way alone is taken."""

SLIGHT = 0.01
"""A way with a smaller chance is left out."""


class Claim(Struct, frozen=True):
    """Another promise of the same crop; what is for an earlier day takes its plants first."""

    day: date
    plants: float
    """What it takes out of the plantings of this promise: what only others give it is off already."""
    ready: Mapping[str, float]
    """The plantings of this promise that it may be met from: key -> chance that it is ready for it."""
    whole: bool
    """It takes whole plants, which cannot grow back."""
    first: bool
    """It comes before this promise as things stand; else only if this one is put off beyond its day."""


Turns = list[tuple[int, Part]]
"""For each planting the first claim for which it is ready, as its place, else one beyond; and what it brings then."""


def turns_of(parts: list[tuple[str, Part]], claims: list[Claim]) -> Iterator[tuple[float, Turns]]:
    """Yield the ways in which plantings may be ready for one claim or another, each with its chance."""
    few = len(parts) <= FEW
    options = [_options(*one, claims) if few else [_likelier(*one, claims)] for one in parts]
    for place in sorted(range(len(parts)), key=lambda place: parts[place][1].plants):
        if prod(map(len, options)) <= MOST_WAYS:
            break
        options[place] = [_likelier(*parts[place], claims)]
    for way in product(*options):
        yield prod(weight for weight, _, _ in way), [(turn, part) for _, turn, part in way]


def _options(key: str, part: Part, claims: list[Claim]) -> list[tuple[float, int, Part]]:
    """Return (chance, turn, what it brings) of one planting: ready for one of the claims, or for none of them."""
    found, before = [], 0.0
    for place, claim in enumerate(claims if part.plants else ()):
        ready = max(claim.ready.get(key, 0.0), before)
        if ready - before > SLIGHT:
            found.append((ready - before, place, Part(part.plants, 1.0, part.survival, part.doubt)))
            before = ready
    if 1 - before > SLIGHT:
        late = max(part.ready - before, 0.0) / (1 - before)
        found.append((1 - before, len(claims), Part(part.plants, late, part.survival, part.doubt)))
    total = sum(weight for weight, _, _ in found)
    return [(weight / total, turn, brings) for weight, turn, brings in found]


def _likelier(key: str, part: Part, claims: list[Claim]) -> tuple[float, int, Part]:
    turns = (place for place, claim in enumerate(claims) if claim.ready.get(key, 0.0) >= LIKELIER)
    return 1.0, next(turns, len(claims)), part
