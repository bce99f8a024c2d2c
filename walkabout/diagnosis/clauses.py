"""Cutting a text into clauses of concepts: spelling put right, denials marked, and which leaves they speak of."""

import re
from collections.abc import Iterator
from typing import Final

from msgspec import Struct

from walkabout.diagnosis.lexicon import Word, concepts, split, stem
from walkabout.diagnosis.phrases import SHORTEST_MISSPELT, Wording

CLOSE: Final = 79.0
"""How alike two words must be, in percent, for one to be the other misspelt."""

SHORT: Final = 5

_CLAUSE = re.compile(
    r"[,;.:()\n!?/]|\s[-–—]\s|\b(?:but|while|whereas|although|though|however|then|and|plus|also|with|or)\b|&|\+"
)
_AND = frozenset({"and", "or", "plus", "also", "with", "&", "+", "/"})
_STOPS = frozenset(".!?\n")
_ANEW = frozenset({"there", "they", "it", "its", "theres"})
"""With one of these a new statement begins."""
_WELL = frozenset({"healthy", "otherwise"})
"""'no insects and plant healthy' does not deny that it is healthy."""
_ON = frozenset({"or", "nor"})
"""A denial goes on behind these: 'no webs or spots'."""


class Clause(Struct):
    """A piece of a text, in concepts. Places are in characters."""

    words: list[Word]
    start: int
    end: int
    opens_sentence: bool
    inherited: list[Word]
    """Which leaves and organ the clauses before it spoke of, where it names none itself."""


def clauses_of(wording: Wording, plain: str) -> list[Clause]:
    """Cut a text into clauses of concepts; each knows what leaves and organ the ones before it spoke of."""
    clauses: list[Clause] = []
    inherited: list[Word] = []
    denied_before = False
    for start, end, before in _pieces(plain, wording.unsplit):
        words = [(_corrected(wording, word), first, last) for word, first, last in split(plain[start:end])]
        meant = [
            Word(one.concept, one.sort, one.start + start, one.end + start, one.denied)
            for one in concepts(wording.lexicon, words, wording.crops)
        ]
        goes_on = before in _ON or (before in _AND and before != "with" and _short(meant))
        goes_on = goes_on and not (words and words[0][0] in _ANEW) and not any(one.concept in _WELL for one in meant)
        if denied_before and goes_on and not any(one.denied for one in meant):
            meant = [Word(one.concept, one.sort, one.start, one.end, denied=True) for one in meant]
        if not meant:
            continue
        denied_before = meant[-1].denied
        places = [one for one in meant if one.sort in ("age", "organ")]
        clauses.append(
            Clause(meant, start, end, before in _STOPS, [] if places else list(inherited)),
        )
        if places:
            inherited = places
    return clauses


def _short(meant: list[Word]) -> bool:
    """A clause that only adds to a list: 'no webs and spots', but not 'no webs and the leaves are yellow'."""
    return len(meant) <= 2 and not any(one.sort in ("age", "organ") for one in meant)


def _pieces(plain: str, unsplit: tuple[str, ...]) -> Iterator[tuple[int, int, str]]:
    """Yield start, end and what stands before each piece of a text; fixed groups of words are not cut."""
    whole = [found.span() for group in unsplit for found in re.finditer(rf"\b{re.escape(group)}\b", plain)]
    start, before = 0, "."
    for mark in _CLAUSE.finditer(plain):
        if mark.group() == "." and plain[mark.end() : mark.end() + 1].isdigit():
            continue
        if any(first < mark.start() and mark.end() < last for first, last in whole):
            continue
        if plain[start : mark.start()].strip():
            yield start, mark.start(), before
            before = mark.group().strip()
        elif mark.group().strip() in _STOPS:
            before = "."
        elif before not in _STOPS:
            before = mark.group().strip()
        start = mark.end()
    if plain[start:].strip():
        yield start, len(plain), before


def _corrected(wording: Wording, word: str) -> str:
    """Return the word as it is spelt, where it is nearly a known one; else the word as it stands."""
    lexicon = wording.lexicon
    known = (
        word in lexicon.single
        or word in lexicon.ignored
        or word in lexicon.denying
        or word in lexicon.groups
        or word in wording.crops
        or stem(word) in lexicon.single
        or len(word) < SHORTEST_MISSPELT
        or not word.isalpha()
    )
    if known or word in wording.vocabulary:
        return word
    from rapidfuzz import process  # noqa: PLC0415 - loaded only for a word that is not known
    from rapidfuzz.distance import OSA  # noqa: PLC0415

    if word in wording.spelt:
        return word
    alike = process.extract(
        word, wording.vocabulary, scorer=OSA.normalized_similarity, score_cutoff=CLOSE / 100, limit=5
    )
    return next((near for near, _, _ in alike if _misspelt(word, near)), word)


def _misspelt(word: str, right: str) -> bool:
    """People begin a word rightly, and in a short one they leave out, double or swap letters rather than change one."""
    if word[0] != right[0]:
        return False
    return len(word) > SHORT or len(word) != len(right) or sorted(word) == sorted(right)
