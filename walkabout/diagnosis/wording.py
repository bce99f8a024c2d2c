"""From what people type to signs: everyday and trade words, several signs in a sentence, 'no webs', misspellings.

The knowledge names each sign in many short phrases. Both they and the text are read as concepts (see
lexicon.py); a phrase is found where a clause, or neighbouring clauses that speak of the same leaves, hold all
of its concepts. The phrase that takes up most is taken first, and each concept is taken up once. Where it is
said which leaves, that holds for the clauses that follow and do not say. What nothing takes up is handed back.
"""

import math
import re
from collections.abc import Iterable, Iterator
from typing import Final

from msgspec import Struct

from walkabout.diagnosis.knowledge import Knowledge
from walkabout.diagnosis.lexicon import (
    CropWords,
    Lexicon,
    Sort,
    Word,
    concepts,
    crop_words,
    plainly,
    read_lexicon,
    split,
    stem,
)

WEIGHT: Final[dict[Sort, float]] = {
    "what": 2.0,
    "part": 1.4,
    "age": 1.4,
    "side": 1.0,
    "soft": 1.0,
    "organ": 0.6,
    "crop": 0.0,
    "unknown": 0.0,
}
"""What a concept adds to a match."""

COMMONEST, RAREST = 1.4, 3.0
"""What a concept that is seen adds to a match, between one in every sign's phrases and one in a single sign's."""

SHARED: Final = frozenset({"age", "side", "organ", "soft"})
"""Sorts that may serve several signs: 'old leaves yellow and spotted'."""

JOINED: Final = 0.35
"""What each further clause takes from a match."""

INHERITED: Final = 0.5
"""The part of a concept's weight that counts when an earlier clause said it."""

RUN: Final = 3
"""So many neighbouring clauses may make up one sign."""

NEARLY: Final = 0.7
"""The part of a phrase's weight that must be there for what no whole phrase takes up."""

ALSO: Final[dict[str, tuple[str, ...]]] = {
    "base": ("stem",),
    "petiole": ("stem",),
    "joint": ("stem",),
    "pot": ("mix",),
    "mix": ("pot",),
    "pad": ("leaf",),
    "seedling": ("plant",),
}
"""What else an organ that is named may be called in a phrase."""

AS_WELL: Final = 0.93
"""A phrase that fits the same words so nearly as well may be what was meant."""

UNNAMED: Final = frozenset({"leaf", "plant"})
"""Organs that people do not always name when they speak of them."""

STANDS_FOR: Final = {"fruiting": "fruit", "cucurbit": "fruit", "strawberry": "fruit", "seedling": "seedling"}
"""Families of crops whose name people use for an organ."""

CLOSE: Final = 79.0
"""How alike two words must be, in percent, for one to be the other misspelt."""

SHORTEST_MISSPELT: Final = 4
SHORT: Final = 5

_CLAUSE = re.compile(
    r"[,;.:()\n!?/]|\s[-–—]\s|\b(?:but|while|whereas|although|though|however|then|and|plus|also|with|or)\b|&|\+"
)
_AND = frozenset({"and", "or", "plus", "also", "with", "&", "+", "/"})
_STOPS = frozenset(".!?\n")
_ANEW = frozenset({"there", "they", "it", "its", "theres"})
"""With one of these a new statement begins."""
_ON = frozenset({"or", "nor"})
"""A denial goes on behind these: 'no webs or spots'."""


class Found(Struct, frozen=True):
    """A sign that a text speaks of, and the words that say so."""

    sign: str
    """A sign or a general sign."""
    present: bool
    text: str
    also: tuple[str, ...] = ()
    """Signs that the same words may mean nearly as well."""


class Read(Struct, frozen=True, kw_only=True):
    """What was understood of a text."""

    signs: tuple[Found, ...] = ()
    crop: str = ""
    also: tuple[str, ...] = ()
    readings: tuple[tuple[str, float, str], ...] = ()
    """Measure, value, and the words that say so."""
    not_understood: tuple[str, ...] = ()


class Phrase(Struct, frozen=True):
    """One way to say a sign, as concepts."""

    sign: str
    general: bool
    says_present: bool
    """False for words that say the sign is not there: 'roots white and firm'."""
    needs: tuple[tuple[str, Sort, bool], ...]
    """Concept, its sort, and whether the phrase itself denies it ('no flow'); organs apart."""
    organs: tuple[str, ...]
    unnamed: bool
    """It may be found where no organ is named: people who speak of leaves do not always say so."""
    weight: float
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
    vocabulary: tuple[str, ...]
    spelt: frozenset[str]
    """Words of the knowledge's own sentences: they are spelt rightly, and say nothing by themselves."""
    seedling: str = "seedling"


class _Clause(Struct):
    words: list[Word]
    start: int
    end: int
    opens_sentence: bool
    inherited: list[Word]


class _Match(Struct):
    score: float
    phrase: Phrase
    present: bool
    takes: tuple[Word, ...]
    """The concepts that no other sign may have."""
    uses: tuple[Word, ...]
    faint: bool
    """It is one general word: a colour, a size."""
    clauses: tuple[int, ...] = ()


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
        denying=lexicon.denying,
        denying_groups=lexicon.denying_groups,
    )
    phrases: dict[tuple[str, bool, object, object], Phrase] = {}
    for key, general, says_present, words in _all_phrases(known):
        phrase = _phrase(lexicon, crops, organ_of, key, words, general=general, says_present=says_present)
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
    weight = sum(WEIGHT[sort] for _, sort, _ in needs) + (WEIGHT["organ"] if organs else 0.0)
    unnamed = not set(organs) - UNNAMED
    faint = len(needs) == 1 and needs[0][0] in lexicon.generic and needs[0][0] not in lexicon.alone
    full = sum(sort not in SHARED for _, sort, _ in needs) > 1
    return Phrase(key, general, says_present, needs, organs, unnamed, weight, full, faint)


def _says_enough(lexicon: Lexicon, concept: str, organs: tuple[str, ...], words: str) -> bool:
    """Say whether a single concept makes a phrase of one sign.

    It does when it is a telling one, when an organ goes with it that has to be named, or when the phrase was
    this one word of its own.
    """
    if concept in lexicon.alone or (organs and not {"leaf", "plant"} & set(organs)):
        return True
    content = [word for word, _, _ in split(words) if word not in lexicon.denying and word not in lexicon.ignored]
    return concept not in lexicon.generic and len(content) == 1


# reading a text


def read_text(wording: Wording, text: str) -> Read:
    """Return the signs, crop and readings that a text speaks of, and what of it was not understood."""
    plain = plainly(text)
    readings, plain = _readings(plain)
    clauses = _clauses(wording, plain)
    taken: set[Word] = set()
    signs: list[tuple[int, Found]] = []
    matches = sorted(_matches(wording, clauses), key=lambda one: -one.score)
    nearly = sorted(_matches(wording, clauses, nearly=NEARLY), key=lambda one: -one.score)
    busy: set[int] = set()
    """Clauses of which something was taken up."""
    everything = (*matches, *nearly)
    for match in everything:
        if match.faint and busy & set(match.clauses):
            continue  # a colour or size that is left over in a clause that has said its sign
        if taken.isdisjoint(match.takes):
            taken.update(match.takes)
            busy.update(match.clauses)
            start, end = min(one.start for one in match.uses), max(one.end for one in match.uses)
            also = tuple(_also(match, everything)) if match.present else ()
            signs.append((start, Found(match.phrase.sign, match.present, text[start:end].strip(), also)))
    used = {word for match in matches for word in match.uses if not taken.isdisjoint(match.takes)}
    signs.sort(key=lambda one: one[0])
    words = [word for clause in clauses for word in clause.words]
    settled, torn = _settled(found for _, found in signs)
    return Read(
        signs=tuple(settled),
        crop=next((word.concept for word in words if word.sort == "crop"), ""),
        also=(wording.seedling,) if any(word.concept in ("seedling", "seedleaf") for word in words) else (),
        readings=tuple((measure, value, text[start:end]) for measure, value, start, end in readings),
        not_understood=(*torn, *_left_over(wording, text, clauses, taken | used)),
    )


def _also(match: _Match, others: Iterable[_Match]) -> Iterator[str]:
    """Yield the other signs that fit the same words nearly as well: which is meant cannot be told from them."""
    words = set(match.takes)
    found = {match.phrase.sign}
    for other in others:
        if (
            other.present
            and other.score >= AS_WELL * match.score
            and other.phrase.sign not in found
            and 2 * len(words.intersection(other.takes)) > len(words)
        ):
            found.add(other.phrase.sign)
            yield other.phrase.sign


def _settled(signs: Iterable[Found]) -> tuple[list[Found], list[str]]:
    """Return each sign once, and the words of those that are said to be there and not there: they say nothing."""
    found: dict[str, list[Found]] = {}
    for one in signs:
        found.setdefault(one.sign, []).append(one)
    torn = [one for several in found.values() if len({one.present for one in several}) > 1 for one in several]
    return [several[0] for several in found.values() if several[0] not in torn], [one.text for one in torn]


def _clauses(wording: Wording, plain: str) -> list[_Clause]:
    """Cut a text into clauses of concepts; each knows what leaves and organ the ones before it spoke of."""
    clauses: list[_Clause] = []
    inherited: list[Word] = []
    denied_before = False
    for start, end, before in _pieces(plain):
        words = [(_corrected(wording, word), first, last) for word, first, last in split(plain[start:end])]
        meant = [
            Word(one.concept, one.sort, one.start + start, one.end + start, one.denied)
            for one in concepts(wording.lexicon, words, wording.crops)
        ]
        goes_on = before in _ON or (before in _AND and before != "with" and _short(meant))
        goes_on = goes_on and not (words and words[0][0] in _ANEW)
        if denied_before and goes_on and not any(one.denied for one in meant):
            meant = [Word(one.concept, one.sort, one.start, one.end, denied=True) for one in meant]
        if not meant:
            continue
        denied_before = meant[-1].denied
        places = [one for one in meant if one.sort in ("age", "organ")]
        clauses.append(
            _Clause(meant, start, end, before in _STOPS, [] if places else list(inherited)),
        )
        if places:
            inherited = places
    return clauses


def _short(meant: list[Word]) -> bool:
    """A clause that only adds to a list: 'no webs and spots', but not 'no webs and the leaves are yellow'."""
    return len(meant) <= 2 and not any(one.sort in ("age", "organ") for one in meant)


def _pieces(plain: str) -> Iterator[tuple[int, int, str]]:
    """Yield start, end and what stands before each piece of a text."""
    start, before = 0, "."
    for mark in _CLAUSE.finditer(plain):
        if mark.group() == "." and plain[mark.end() : mark.end() + 1].isdigit():
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


# finding phrases


def _matches(wording: Wording, clauses: list[_Clause], nearly: float = 1.0) -> Iterator[_Match]:
    """Yield every phrase that a clause, or a run of clauses that speak of the same leaves, holds."""
    for first in range(len(clauses)):
        for last in range(first, min(first + RUN, len(clauses))):
            run = clauses[first : last + 1]
            if last > first and (nearly < 1.0 or not _belong_together(run)):
                break
            words = [word for clause in run for word in clause.words if word.sort != "unknown"]
            tried = {number for word in words for number in wording.by_concept.get(word.concept, ())}
            for number in tried:
                match = _match(wording, wording.phrases[number], words, run[0].inherited, nearly)
                if match is not None and (last == first or _spans(match, run)):
                    match.clauses = tuple(range(first, last + 1))
                    match.score -= JOINED * (last - first) + JOINED * sum(clause.opens_sentence for clause in run[1:])
                    yield match


def _belong_together(run: list[_Clause]) -> bool:
    """Clauses may make up one sign when they do not speak of different leaves or organs, said or carried over."""
    ages = {word.concept for clause in run for word in clause.inherited or clause.words if word.sort == "age"}
    organs = {
        ALSO.get(word.concept, (word.concept,))[0] for clause in run for word in clause.words if word.sort == "organ"
    }
    return len(ages) <= 1 and len(organs - {"plant"}) <= 1


def _spans(match: _Match, run: list[_Clause]) -> bool:
    """A joined match must take something from its first and its last clause; otherwise a shorter run has it."""
    taken = set(match.uses)
    return not taken.isdisjoint(run[0].words) and not taken.isdisjoint(run[-1].words)


def _match(wording: Wording, phrase: Phrase, words: list[Word], inherited: list[Word], nearly: float) -> _Match | None:
    takes: list[Word] = []
    uses: list[Word] = []
    score = whole = 0.0
    agree: set[bool] = set()
    for concept, sort, denied in phrase.needs:
        found = next((word for word in words if word.concept == concept), None)
        weight = wording.weights.get(concept, WEIGHT[sort]) if sort == "what" else WEIGHT[sort]
        whole += weight
        if found is not None:
            score += weight
            uses.append(found)
            if sort not in SHARED:
                takes.append(found)
                agree.add(found.denied == denied)
        elif sort == "age" and any(word.concept == concept for word in inherited):
            score += WEIGHT[sort] * INHERITED
        elif sort == "soft" and phrase.full:
            whole -= weight
        elif nearly == 1.0 or sort == "age":
            return None
    if not takes or len(agree) != 1:
        return None
    if phrase.organs:
        own = {word.concept for word in words if word.sort == "organ"}
        organs = own or {word.concept for word in inherited if word.sort == "organ"}
        also = {other for organ in organs for other in ALSO.get(organ, ())}
        if not organs:
            also = {wording.organ_of[word.concept] for word in words if word.concept in wording.organ_of}
        wanted = set(phrase.organs) - UNNAMED or set(phrase.organs)
        if wanted <= organs | also:
            score += WEIGHT["organ"]
        elif own - {"plant"} or not phrase.unnamed:
            return None
    if nearly < 1.0 and (score < nearly * whole or len(takes) < 2):
        return None
    same = agree.pop()
    return _Match(
        score - 0.01 * phrase.general,
        phrase,
        same == phrase.says_present,
        tuple(takes),
        tuple(uses),
        phrase.faint,
    )


def _left_over(wording: Wording, text: str, clauses: list[_Clause], used: set[Word]) -> Iterator[str]:
    """Yield what nothing took up: a whole clause, or the words of it that were left."""
    for clause in clauses:
        missed = [word for word in clause.words if word not in used and word.sort in ("what", "unknown")]
        if missed and not any(word in used for word in clause.words):
            yield text[clause.start : clause.end].strip()
        elif missed := [word for word in missed if word.concept not in wording.spelt]:
            yield text[missed[0].start : missed[-1].end]


# readings in a text

_NUMBER = r"(?:is|was|of|at|=|:|about|around|nearly|reads)?\s*(\d+(?:[.,]\d+)?)"
_DEGREES = r"\s*(?:°|deg(?:rees)?)?\s*c\b"
_READINGS: Final = (
    ("ph", re.compile(rf"\bph\s*{_NUMBER}")),
    ("ec", re.compile(rf"\bec\s*{_NUMBER}\s*(?:ms/?cm|ms|ds/?m)?")),
    ("humidity", re.compile(rf"\b(?:humidity|rh)\s*{_NUMBER}\s*(?:%|percent)?")),
    ("humidity", re.compile(r"(\d+(?:[.,]\d+)?)\s*%\s*(?:rh|humidity|relative humidity)")),
    (
        "solution",
        re.compile(rf"\b(?:solution|water|tank)(?: temperature| temp)?\s*{_NUMBER}\s*(?:°|deg(?:rees)?)?\s*c\b"),
    ),
    ("night", re.compile(rf"\bnights?(?: temperature| temp)?\s*{_NUMBER}\s*(?:°|deg(?:rees)?)?\s*c\b")),
    ("air", re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:°|deg(?:rees)?)\s*c?\b")),
)


def _readings(plain: str) -> tuple[list[tuple[str, float, int, int]], str]:
    """Return the readings in a text, and the text with blanks in their place."""
    found: list[tuple[str, float, int, int]] = []
    for measure, pattern in _READINGS:
        for one in pattern.finditer(plain):
            if all(measure != other for other, _, _, _ in found):
                found.append((measure, float(one.group(1).replace(",", ".")), *one.span()))
            plain = plain[: one.start()] + " " * (one.end() - one.start()) + plain[one.end() :]
    return found, plain
