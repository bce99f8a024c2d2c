"""Words that mean the same, and the words of the knowledge's phrases: from letters to concepts.

A concept is a group of words for one thing ('yellow': yellow, yellowish, chlorosis ...) or, for a word of a
phrase that is in no group, the word's stem. It has a kind: what is seen, or on which organ, age of leaf,
side or part of a leaf.
"""

import re
import tomllib
import unicodedata
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import Final, Literal

import snowballstemmer  # type: ignore[import-untyped]
from msgspec import Struct

Sort = Literal["what", "part", "age", "side", "organ", "soft", "crop", "unknown"]

WORDS = Path(__file__).with_name("knowledge") / "words.toml"
SORTS: Final[tuple[Sort, ...]] = ("organ", "age", "side", "part", "what")

CROP_AS_COLOUR: Final = frozenset({"dots", "dot", "like", "green", "shaped", "sized", "size", "coloured", "specks"})
"""After one of these a crop's name is a likeness: 'pepper dots', 'pea sized'."""

CropWords = dict[str, list[tuple[tuple[str, ...], str]]]
"""The words of each crop's names by the first of them, the longest first, with the crop."""

_WORD = re.compile(r"[a-z0-9]+(?:'[a-z]+)?")


class Word(Struct, frozen=True):
    """A word or a fixed group of words as it stands in a text."""

    concept: str
    sort: Sort
    start: int
    end: int
    """Where it stands in the text, in characters."""
    denied: bool = False


class Lexicon(Struct, frozen=True, kw_only=True):
    """Every word that is known. Groups are held by their first word."""

    single: dict[str, tuple[str, Sort]]
    groups: dict[str, list[tuple[tuple[str, ...], str, Sort]]]
    ignored: frozenset[str]
    alone: frozenset[str]
    """Concepts that say enough by themselves."""
    generic: frozenset[str]
    """The concepts that are groups of words."""
    hazards: tuple[str, ...]
    """Words of danger to people."""
    denying: frozenset[str]
    denying_groups: tuple[tuple[str, ...], ...]


_stemmer = snowballstemmer.stemmer("english")


@cache
def stem(word: str) -> str:
    """Return the word without its ending: 'spotted' and 'spots' are both 'spot'."""
    return str(_stemmer.stemWord(word))


def plainly(text: str) -> str:
    """Return the text in small letters without accents, as long as it was: places in it stay where they were."""
    text = text.replace("’", "'").replace("‘", "'").replace("`", "'")
    plain = []
    for letter in text:
        base = unicodedata.normalize("NFKD", letter)[:1].lower()
        plain.append(base if len(base) == 1 else letter)
    return "".join(plain)


def split(plain: str) -> Iterator[tuple[str, int, int]]:
    """Yield the words of a plain text with their places; "isn't" is one word, 'isnt'."""
    for found in _WORD.finditer(plain):
        yield found.group().replace("'", ""), *found.span()


def read_lexicon(path: Path = WORDS) -> Lexicon:
    """Read the groups of words."""
    table = tomllib.loads(path.read_text(encoding="utf-8"))
    single: dict[str, tuple[str, Sort]] = {}
    groups: dict[str, list[tuple[tuple[str, ...], str, Sort]]] = {}
    for sort in SORTS:
        for concept, entries in table[sort].items():
            for entry in (concept, *entries):
                words = tuple(word for word, _, _ in split(entry))
                if len(words) == 1:
                    single.setdefault(words[0], (concept, sort))
                else:
                    groups.setdefault(words[0], []).append((words, concept, sort))
    ignored = frozenset(table["ignore"]["words"]) - single.keys()
    for word, meant in list(single.items()):
        if stem(word) not in ignored:
            single.setdefault(stem(word), meant)
    for word in table["soft"]["words"]:
        single.setdefault(word, (stem(word), "soft"))
        single.setdefault(stem(word), (stem(word), "soft"))
    for longest_first in groups.values():
        longest_first.sort(key=lambda one: -len(one[0]))
    denying = [tuple(entry.split()) for entry in table["not"]["words"]]
    return Lexicon(
        single=single,
        groups=groups,
        ignored=ignored - single.keys(),
        alone=frozenset(table["alone"]["concepts"]),
        generic=frozenset(concept for sort in SORTS for concept in table[sort]),
        hazards=tuple(table["hazard"]["words"]),
        denying=frozenset(words[0] for words in denying if len(words) == 1),
        denying_groups=tuple(words for words in denying if len(words) > 1),
    )


def concepts(lexicon: Lexicon, words: list[tuple[str, int, int]], crops: CropWords) -> Iterator[Word]:
    """Yield the concepts of a run of words; a word that is not known has the sort 'unknown'.

    `crops`: the words of each crop by the first of them. What is denied is marked until the run ends.
    """
    at, denied, just_denied = 0, False, False
    while at < len(words):
        rest = [word for word, _, _ in words[at : at + 6]]
        taken, found, denies = _next(lexicon, rest, crops)
        start, end = words[at][1], words[at + taken - 1][2]
        if denies:
            denied = not (denied and just_denied)  # 'not without' is no denial, 'no bugs no webs' is two
        elif found is not None:
            yield Word(found[0], found[1], start, end, denied)
        just_denied = denies
        at += taken


def _next(lexicon: Lexicon, rest: list[str], crops: CropWords) -> tuple[int, tuple[str, Sort] | None, bool]:
    """Return how many words the next concept takes, the concept, and whether it denies."""
    word = rest[0]
    for group in lexicon.denying_groups:
        if tuple(rest[: len(group)]) == group:
            return len(group), None, True
    for group, concept, sort in lexicon.groups.get(word, ()):
        if tuple(rest[: len(group)]) == group:
            return len(group), (concept, sort), False
    for name, crop in crops.get(word, crops.get(stem(word), [])):
        if len(name) == 1 and not (len(rest) > 1 and rest[1] in CROP_AS_COLOUR):
            return 1, (crop, "crop"), False
        if tuple(rest[: len(name)]) == name and not (len(rest) > len(name) and rest[len(name)] in CROP_AS_COLOUR):
            return len(name), (crop, "crop"), False
    if word in lexicon.denying:
        return 1, None, True
    if word in lexicon.single:
        return 1, lexicon.single[word], False
    if word in lexicon.ignored or len(word) == 1 or word.isdigit():
        return 1, None, False
    stemmed = lexicon.single.get(stem(word))
    if stemmed is None and stem(word) in lexicon.ignored:
        return 1, None, False
    return 1, stemmed or (word, "unknown"), False


def crop_words(names: Iterable[tuple[str, str]]) -> CropWords:
    """Return the words of each crop's names by the first of them, the longest first. `names`: (words, crop)."""
    found: CropWords = {}
    for name, crop in names:
        words = tuple(word for word, _, _ in split(plainly(name)))
        if words:
            found.setdefault(words[0], []).append((words, crop))
    for longest_first in found.values():
        longest_first.sort(key=lambda one: -len(one[0]))
    return found
