"""From what people type to signs: everyday and trade words, several signs in a sentence, 'no webs', misspellings.

The knowledge names each sign in many short phrases. Both they and the text are read as concepts (see
lexicon.py); a phrase is found where a clause, or neighbouring clauses that speak of the same leaves, hold all
of its concepts. The phrase that takes up most is taken first, and each concept is taken up once. Where it is
said which leaves, that holds for the clauses that follow and do not say. What nothing takes up is handed back.
"""

import re
from collections.abc import Iterable, Iterator
from typing import Final

from msgspec import Struct

from walkabout.diagnosis.clauses import Clause, clauses_of
from walkabout.diagnosis.lexicon import Sort, Word, plainly
from walkabout.diagnosis.phrases import SHARED, UNNAMED, Phrase, Wording, make_wording
from walkabout.diagnosis.typed_numbers import typed_readings

__all__ = ["Found", "Read", "Wording", "make_wording", "read_text"]

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

STRICT: Final = frozenset({"root", "fruit", "flower", "stem"})
"""Organs that are not mixed up: a phrase that names none is not found where another of them is spoken of."""

AS_WELL: Final = 0.93
"""A phrase that fits the same words so nearly as well may be what was meant."""


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
    hazards: tuple[str, ...] = ()
    """Words of danger to people."""
    not_understood: tuple[str, ...] = ()


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


def read_text(wording: Wording, text: str) -> Read:
    """Return the signs, crop and readings that a text speaks of, and what of it was not understood."""
    plain = plainly(text)
    readings, plain = typed_readings(plain)
    hazards, plain = _hazards(wording, text, plain)
    clauses = clauses_of(wording, plain)
    taken: set[Word] = set()
    signs: list[tuple[_Match, Found]] = []
    matches = sorted(_matches(wording, clauses), key=lambda one: -one.score)
    nearly = sorted(_matches(wording, clauses, nearly=NEARLY), key=lambda one: -one.score)
    busy: set[int] = set()
    """Clauses of which something was taken up."""
    everything = (*matches, *nearly)
    for match in everything:
        if match.faint and match.present and busy & set(match.clauses):
            continue  # a colour or size that is left over in a clause that has said its sign
        if taken.isdisjoint(match.takes):
            taken.update(match.takes)
            busy.update(match.clauses)
            start, end = min(one.start for one in match.uses), max(one.end for one in match.uses)
            also = tuple(_also(match, everything)) if match.present else ()
            signs.append((match, Found(match.phrase.sign, match.present, text[start:end].strip(), also)))
    used = {word for match in matches for word in match.uses if not taken.isdisjoint(match.takes)}
    signs.sort(key=lambda one: min(word.start for word in one[0].uses))
    words = [word for clause in clauses for word in clause.words]
    settled, torn = _settled(signs)
    left = (*torn, *_left_over(wording, text, clauses, taken | used))
    crop = next((word.concept for word in words if word.sort == "crop"), "")
    nothing = not (settled or left or crop or readings or hazards) and any(letter.isalpha() for letter in text)
    return Read(
        hazards=hazards,
        signs=tuple(settled),
        crop=crop,
        also=(wording.seedling,) if any(word.concept in ("seedling", "seedleaf") for word in words) else (),
        readings=tuple((measure, value, text[start:end]) for measure, value, start, end in readings),
        not_understood=(text.strip(),) if nothing else left,
    )


def _hazards(wording: Wording, text: str, plain: str) -> tuple[tuple[str, ...], str]:
    """Return the words of danger to people in a text, and the text with blanks in their place; 'no smoke' is none."""
    found = []
    for group in wording.lexicon.hazards:
        for one in re.finditer(rf"(?<!no )(?<!without )\b{re.escape(group)}\b", plain):
            found.append(text[one.start() : one.end()])
            plain = plain[: one.start()] + " " * (one.end() - one.start()) + plain[one.end() :]
    return tuple(found), plain


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


def _settled(signs: list[tuple[_Match, Found]]) -> tuple[list[Found], list[str]]:
    """Return each sign once, and the words of those that are said to be there and not there: they say nothing."""
    torn = {
        one.sign
        for match, one in signs
        if any(one.present != other.present and _says_the_same(match, rival) for rival, other in signs)
    }
    kept = {one.sign: one for _, one in reversed(signs) if one.sign not in torn}
    return list(reversed(kept.values())), [one.text for _, one in signs if one.sign in torn]


def _says_the_same(one: _Match, other: _Match) -> bool:
    """Two matches speak of the same thing on the same leaves: 'powder' and 'no powder'."""
    if one.phrase.sign == other.phrase.sign:
        return True
    places = [{word.concept for word in match.uses if word.sort in ("age", "side")} for match in (one, other)]
    seen = [{word.concept for word in match.takes if word.sort == "what"} for match in (one, other)]
    return places[0] == places[1] and bool(seen[0] & seen[1]) and (seen[0] <= seen[1] or seen[1] <= seen[0])


def _matches(wording: Wording, clauses: list[Clause], nearly: float = 1.0) -> Iterator[_Match]:
    """Yield every phrase that a clause, or a run of clauses that speak of the same leaves, holds."""
    for first in range(len(clauses)):
        for last in range(first, min(first + RUN, len(clauses))):
            run = clauses[first : last + 1]
            if last > first and (nearly < 1.0 or not _belong_together(run)):
                break
            words = [word for clause in run for word in clause.words if word.sort != "unknown"]
            here = {word.concept: word for word in reversed(words)}
            tried = {number for word in words for number in wording.by_concept.get(word.concept, ())}
            for number in tried:
                match = _match(wording, wording.phrases[number], here, words, run[0].inherited, nearly)
                if match is not None and (last == first or _spans(match, run)):
                    match.clauses = tuple(range(first, last + 1))
                    match.score -= JOINED * (last - first) + JOINED * sum(clause.opens_sentence for clause in run[1:])
                    yield match


def _belong_together(run: list[Clause]) -> bool:
    """Clauses may make up one sign when they do not speak of different leaves or organs, said or carried over."""
    for clause in run[1:]:
        own = {word.sort for word in clause.words}
        if {"age", "what"} <= own and not any(word.sort == "age" for word in (*run[0].inherited, *run[0].words)):
            return False  # 'scorched spots, new leaves are clean': the new leaves are not the scorched ones
    ages = {word.concept for clause in run for word in clause.inherited or clause.words if word.sort == "age"}
    organs = {
        ALSO.get(word.concept, (word.concept,))[0] for clause in run for word in clause.words if word.sort == "organ"
    }
    return len(ages) <= 1 and len(organs - {"plant"}) <= 1


def _spans(match: _Match, run: list[Clause]) -> bool:
    """A joined match must take something from its first and its last clause; otherwise a shorter run has it."""
    taken = set(match.uses)
    return not taken.isdisjoint(run[0].words) and not taken.isdisjoint(run[-1].words)


def _match(
    wording: Wording,
    phrase: Phrase,
    here: dict[str, Word],
    words: list[Word],
    inherited: list[Word],
    nearly: float,
) -> _Match | None:
    """Return the match of a phrase with a run of clauses; `here` is the first of its words for each concept."""
    takes: list[Word] = []
    uses: list[Word] = []
    score = whole = 0.0
    agree: set[bool] = set()
    for concept, sort, denied in phrase.needs:
        found = here.get(concept)
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
    own = {word.concept for word in words if word.sort == "organ"}
    named = [word for word in words if word.sort == "organ"] or inherited
    if phrase.organs:
        organs = own or {word.concept for word in inherited if word.sort == "organ"}
        also = {other for organ in organs for other in ALSO.get(organ, ())}
        if not organs:
            also = {wording.organ_of[word.concept] for word in words if word.concept in wording.organ_of}
        wanted = set(phrase.organs) - UNNAMED or set(phrase.organs)
        if wanted <= organs | also:
            score += WEIGHT["organ"]
        elif own - {"plant"} or not phrase.unnamed:
            return None
    elif phrase.of in STRICT and any(word.concept in STRICT and word.concept != phrase.of for word in named):
        return None  # 'roots brown, slimy and smell' is no rotten stem
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


def _left_over(wording: Wording, text: str, clauses: list[Clause], used: set[Word]) -> Iterator[str]:
    """Yield what nothing took up: a whole clause, or the words of it that were left."""
    for clause in clauses:
        missed = [word for word in clause.words if word not in used and word.sort in ("what", "unknown")]
        if missed and not any(word in used for word in clause.words):
            yield text[clause.start : clause.end].strip()
        elif missed := [word for word in missed if word.concept not in wording.spelt]:
            yield text[missed[0].start : missed[-1].end]
