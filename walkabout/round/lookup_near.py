"""Finding a sign or a cause by a part of its name, and the signs nearest to words that were not understood."""

import re
from collections.abc import Iterable, Mapping
from typing import Final

from rapidfuzz import fuzz

from walkabout.diagnosis.knowledge import Knowledge
from walkabout.diagnosis.model import Cause, Sign

ORGANS: Final = (
    "leaf",
    "stem",
    "flower",
    "fruit",
    "root",
    "mix",
    "water",
    "seedling",
    "whole plant",
    "insect",
    "place",
)
"""What signs are seen on, in the order in which one looks."""

LIKE: Final = 82.0
"""How alike two words must be, in percent, to be near each other; one that begins with the other is."""

ENOUGH: Final = 0.5
"""This share of the words that tell something must be near a sign's for it to be offered. Assumed."""

SHORTEST: Final = 3
"""Shorter words tell nothing."""

SHORT: Final = 4
"""A word up to so long is near another only where it is that word, or begins it."""

LONGER: Final = 3
"""A word may be so many letters longer than the one that it begins with."""


_WORD = re.compile(r"[^\W_]+")

EMPTY: Final = frozenset(
    _WORD.findall(
        "the this that these those and but are was has have had its his her our your with from for not very some any "
        "all like looks look looking seems seem bit bits what why how they them there here lot lots kind sort thing "
        "things stuff something somewhat rather quite really only one two too on in into over under near whole my"
    )
)
"""Words that tell nothing of a plant."""

VAGUE: Final = frozenset(
    _WORD.findall(
        "leaf leaves plant plants root roots stem stems flower flowers fruit fruits soil mix water seedling seedlings "
        "insect insects place"
    )
)
"""Words that say where, not what: alone they are near every sign there."""


def nearest_signs(known: Knowledge, text: str, most: int = 3) -> tuple[str, ...]:
    """Return the keys of the signs whose words are most like `text`, the nearest first: none if none is like it.

    Half of the words that tell something must be near one of the phrase's, and one of these must say more than
    where it is seen; of two that are alike the shorter phrase is nearer. No offer is better than a silly one.
    """
    typed = [word for word in _words(text) if len(word) >= SHORTEST and word not in EMPTY]
    phrases = [(_words(words), sign.key) for sign in known.signs.values() for words in (sign.name, *sign.words)]
    like = {(one, word): _like(one, word) for one in typed for word in {word for words, _ in phrases for word in words}}
    best: dict[str, float] = {}
    for words, key in phrases:
        scores = {one: max((like[one, word] for word in words), default=0.0) for one in typed}
        near = [one for one, score in scores.items() if score >= LIKE]
        if len(near) >= ENOUGH * len(scores) and any(one not in VAGUE for one in near):
            score = sum(scores[one] for one in near) / len(scores)
            best[key] = max(best.get(key, 0.0), score - len(words))
    return tuple(sorted(best, key=lambda key: -best[key]))[:most]


def _like(one: str, other: str) -> float:
    """Return how alike two words are, in percent."""
    short, long = sorted((one, other), key=len)
    begins = len(short) >= SHORT and len(long) - len(short) <= LONGER and long.startswith(short)
    alike = fuzz.ratio(one, other) if len(short) > SHORT or one == other else 0.0
    return max(alike, LIKE if begins else 0.0)


def signs_with(known: Knowledge, text: str, organ: str = "") -> tuple[Sign, ...]:
    """Return the signs whose words begin with every word of `text`, in the order of the organs; else the nearest."""
    wanted = _words(text)
    on = [sign for sign in known.signs.values() if organ in ("", sign.organ)]
    found = [sign for sign in on if _holds(wanted, (sign.name, sign.place, sign.organ, *sign.words))]
    if not found and wanted:
        near = nearest_signs(known, text, 8)
        found = [known.signs[key] for key in near if organ in ("", known.signs[key].organ)]
    order = {name: at for at, name in enumerate(organs(known))}
    return tuple(sorted(found, key=lambda sign: order[sign.organ]))


def causes_with(known: Knowledge, text: str, kind: str = "") -> tuple[Cause, ...]:
    """Return the causes and reasons whose names begin with every word of `text`, in the order of the files."""
    wanted = _words(text)
    every = (*known.causes.values(), *known.reasons.values())
    return tuple(one for one in every if kind in ("", one.kind) and _holds(wanted, (one.name, *one.others)))


def organs(known: Knowledge) -> tuple[str, ...]:
    """Return what the signs are seen on, in the order in which one looks."""
    there: Mapping[str, None] = dict.fromkeys(sign.organ for sign in known.signs.values())
    return (*(one for one in ORGANS if one in there), *(one for one in there if one not in ORGANS))


def kinds(known: Knowledge) -> tuple[str, ...]:
    """Return the classes of cause in the order of the files, the reasons last."""
    return tuple(dict.fromkeys(one.kind for one in (*known.causes.values(), *known.reasons.values())))


def _words(text: str) -> list[str]:
    return _WORD.findall(text.casefold())


def _holds(wanted: list[str], texts: Iterable[str]) -> bool:
    words = _words(" ".join(texts))
    return all(any(word.startswith(part) for word in words) for part in wanted)
