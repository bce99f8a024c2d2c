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

LIKE: Final = 70.0
"""How alike the words must be, in percent and on average, for a sign to be offered."""

SHORTEST: Final = 3
"""Shorter words tell nothing."""

_WORD = re.compile(r"[^\W_]+")


def nearest_signs(known: Knowledge, text: str, most: int = 3) -> tuple[str, ...]:
    """Return the keys of the signs whose words are most like `text`, the nearest first: none if none is like it.

    A phrase is as like it as its words are like the typed ones, on average, each with the word nearest to it; of
    two that are alike the shorter one is nearer.
    """
    typed = [word for word in _words(text) if len(word) >= SHORTEST]
    phrases = [(_words(words), sign.key) for sign in known.signs.values() for words in (sign.name, *sign.words)]
    like = {
        (one, word): fuzz.ratio(one, word) for one in typed for word in {word for words, _ in phrases for word in words}
    }
    best: dict[str, float] = {}
    for words, key in phrases:
        if typed and words:
            score = sum(max(like[one, word] for word in words) for one in typed) / len(typed)
            if score >= LIKE:
                best[key] = max(best.get(key, 0.0), score - len(words))
    return tuple(sorted(best, key=lambda key: -best[key]))[:most]


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
