"""The phrases of the knowledge as concepts: what a text is compared with. See lexicon.py for concepts."""

import math
from collections.abc import Iterator
from typing import Final

from msgspec import Struct

from walkabout.diagnosis.knowledge import Knowledge
from walkabout.diagnosis.lexicon import (
    CropWords,
    Lexicon,
    Sort,
    concepts,
    crop_words,
    plainly,
    read_lexicon,
    split,
    stem,
)

JOINERS: Final = frozenset({"and", "or", "with", "then", "but", "plus"})
"""Words at which a text is cut into clauses."""

SHARED: Final = frozenset({"age", "side", "organ", "soft"})
"""Sorts that may serve several signs: 'old leaves yellow and spotted'."""

UNNAMED: Final = frozenset({"leaf", "plant"})
"""Organs that people do not always name when they speak of them."""

STANDS_FOR: Final = {"fruiting": "fruit", "cucurbit": "fruit", "strawberry": "fruit", "seedling": "seedling"}
"""Families of crops whose name people use for an organ."""

COMMONEST, RAREST = 1.4, 3.0
"""What a concept that is seen adds to a match, between one in every sign's phrases and one in a single sign's."""

SHORTEST_MISSPELT: Final = 4
SHORT: Final = 5


class Phrase(Struct, frozen=True):
    """One way to say a sign, as concepts."""

    sign: str
    general: bool
    says_present: bool
    """False for words that say the sign is not there: 'roots white and firm'."""
    needs: tuple[tuple[str, Sort, bool], ...]
    """Concept, its sort, and whether the phrase itself denies it ('no flow'); organs apart."""
    organs: tuple[str, ...]
    of: str
    """The organ that the sign belongs to."""
    unnamed: bool
    """It may be found where no organ is named: people who speak of leaves do not always say so."""
    full: bool
    """It says enough without its soft words."""
    faint: bool
    """It is a single word that says little by itself: 'yellow', 'tiny'."""


class Wording(Struct, frozen=True, kw_only=True):
    """All the phrases, and the words that can be recognised."""

    lexicon: Lexicon
    phrases: tuple[Phrase, ...]
    weights: dict[str, float]
    """How telling a concept is that is seen."""
    by_concept: dict[str, tuple[int, ...]]
    """Numbers of the phrases that need a concept."""
    crops: CropWords
    organ_of: dict[str, str]
    """The organ that the name of a crop may stand for: 'the tomatoes have split', 'seedlings fall over'."""
    unsplit: tuple[str, ...]
    """Groups of words that hold an 'and' or its like: 'light and dark green'."""
    vocabulary: tuple[str, ...]
    spelt: frozenset[str]
    """Words of the knowledge's own sentences: they are spelt rightly, and say nothing by themselves."""
    seedling: str = "seedling"


def make_wording(known: Knowledge) -> Wording:
    """Read every phrase of the knowledge as concepts; worth keeping."""
    lexicon = read_lexicon()
    crops = crop_words((name, crop.key) for crop in known.crops.values() for name in (crop.name, *crop.words))
    organ_of = {
        crop.key: organ
        for crop in known.crops.values()
        for family, organ in STANDS_FOR.items()
        if family in (crop.key, *crop.families)
    }
    literal = _literals(known, lexicon, crops)
    single = {**{word: (concept, "what") for word, concept in literal.items()}, **lexicon.single}
    lexicon = Lexicon(
        single=single,
        groups=lexicon.groups,
        ignored=lexicon.ignored,
        alone=lexicon.alone,
        generic=lexicon.generic,
        hazards=lexicon.hazards,
        denying=lexicon.denying,
        denying_groups=lexicon.denying_groups,
    )
    phrases: dict[tuple[str, bool, object, object], Phrase] = {}
    for key, general, says_present, words in _all_phrases(known):
        of = known.signs[key].organ if key in known.signs else ""
        phrase = _phrase(lexicon, crops, organ_of, key, of, words, general=general, says_present=says_present)
        if phrase is not None:
            phrases.setdefault((phrase.sign, phrase.says_present, phrase.needs, phrase.organs), phrase)
    by_concept: dict[str, list[int]] = {}
    signs_of: dict[str, set[str]] = {}
    for number, phrase in enumerate(phrases.values()):
        for concept, sort, _ in phrase.needs:
            if sort not in SHARED:
                by_concept.setdefault(concept, []).append(number)
                signs_of.setdefault(concept, set()).add(phrase.sign)
    weights = {concept: _telling(len(signs), len(known.signs)) for concept, signs in signs_of.items()}
    vocabulary = {
        *single,
        *(word for group in lexicon.groups.values() for words, _, _ in group for word in words),
        *(word for names in crops.values() for words, _ in names for word in words),
        *lexicon.ignored,
        *lexicon.denying,
    }
    return Wording(
        lexicon=lexicon,
        phrases=tuple(phrases.values()),
        weights=weights,
        by_concept={concept: tuple(numbers) for concept, numbers in by_concept.items()},
        crops=crops,
        organ_of=organ_of,
        unsplit=tuple(
            " ".join(words)
            for groups in lexicon.groups.values()
            for words, _, _ in groups
            if JOINERS.intersection(words)
        ),
        vocabulary=tuple(sorted(word for word in vocabulary if len(word) >= SHORTEST_MISSPELT)),
        spelt=frozenset(_spelt(known)),
    )


def _telling(signs: int, of: int) -> float:
    """Return what a concept adds to a match that stands in the phrases of so many signs of so many: rare ones more."""
    return COMMONEST + (RAREST - COMMONEST) * math.log(of / signs) / math.log(of) if signs < of else COMMONEST


def _spelt(known: Knowledge) -> Iterator[str]:
    """Yield the words of the knowledge's sentences."""
    for sign in known.signs.values():
        for text in (sign.seen, sign.ask, sign.look, sign.caution):
            yield from (word for word, _, _ in split(plainly(text)))
    for cause in (*known.causes.values(), *known.reasons.values()):
        texts = (cause.what, cause.look, *cause.story, *(one.tell for one in cause.alike))
        for text in (*texts, *(one.look for one in cause.confirm), *(one.step for one in cause.do)):
            yield from (word for word, _, _ in split(plainly(text)))


def _all_phrases(known: Knowledge) -> Iterator[tuple[str, bool, bool, str]]:
    for sign in known.signs.values():
        for words in (sign.name, *sign.words):
            yield sign.key, False, True, words
        for words in sign.absent:
            yield sign.key, False, False, words
    for general in known.generals.values():
        for words in (general.name, *general.words):
            yield general.key, True, True, words
        for words in general.absent:
            yield general.key, True, False, words


def _literals(known: Knowledge, lexicon: Lexicon, crops: CropWords) -> dict[str, str]:
    """Return the words of phrases that are in no group, with their stems."""
    found: dict[str, str] = {}
    for _, _, _, phrase in _all_phrases(known):
        words = list(split(plainly(phrase)))
        for word in concepts(lexicon, words, crops):
            if word.sort == "unknown":
                found[word.concept] = stem(word.concept)
                if stem(word.concept) not in lexicon.ignored:
                    found.setdefault(stem(word.concept), stem(word.concept))
    return found


def _phrase(
    lexicon: Lexicon,
    crops: CropWords,
    organ_of: dict[str, str],
    key: str,
    of: str,
    words: str,
    *,
    general: bool,
    says_present: bool,
) -> Phrase | None:
    meant = list(concepts(lexicon, list(split(plainly(words))), crops))
    named = [one.concept for one in meant if one.sort == "organ"]
    named += [organ_of[one.concept] for one in meant if one.sort == "crop" and one.concept in organ_of]
    organs = tuple(dict.fromkeys(named))
    needs = tuple(sorted({(one.concept, one.sort, one.denied) for one in meant if one.sort not in ("organ", "crop")}))
    if not any(sort not in SHARED for _, sort, _ in needs) or (len(needs) == 1 and needs[0][1] == "part"):
        return None  # only places: it would be found in any sentence
    if len(needs) == 1 and not general and not _says_enough(lexicon, needs[0][0], organs, words):
        return None
    unnamed = not set(organs) - UNNAMED
    faint = len(needs) == 1 and needs[0][0] in lexicon.generic and needs[0][0] not in lexicon.alone
    full = sum(sort not in SHARED for _, sort, _ in needs) > 1
    return Phrase(key, general, says_present, needs, organs, of, unnamed, full, faint)


def _says_enough(lexicon: Lexicon, concept: str, organs: tuple[str, ...], words: str) -> bool:
    """Say whether a single concept makes a phrase of one sign.

    It does when it is a telling one, when an organ goes with it that has to be named, or when the phrase was
    this one word of its own.
    """
    if concept in lexicon.alone or (organs and not {"leaf", "plant"} & set(organs)):
        return True
    content = [word for word, _, _ in split(words) if word not in lexicon.denying and word not in lexicon.ignored]
    return concept not in lexicon.generic and len(content) == 1
