"""People's codes out of texts: a whole cell, a word in what the program said, a word in what people typed.

What people typed is a best effort. A code with a digit in it is a code however its letters are written. One of letters
alone is one as it stands in room.toml; in other letters it may be a word, and is taken for a code where a person must
be meant ("told oc"). One of digits alone may be a number and stays.
"""

import re
from collections import Counter
from collections.abc import Iterable
from functools import lru_cache
from typing import Any

import msgspec

from walkabout.room.model import Room

_BEFORE = "by|told|tell|with|from|for|to|ask|asked|asks|fetch|fetched|call|called"
"""After these words a person is named; assumed."""
_AFTER = "said|says|saw|sees|did|thinks|thought|noticed|told|asked|wrote"
"""Before these too; assumed."""
_PLAIN = """
a all am an and any are as at be big but by can day did do dry end ex far few for get go got had has he her him his hot
how i if in is it its lid low may me my new no nor not now of off oh ok old on one or our out own per pot put red run
saw say see set she so sow sun tap tea ten the tie to too top try tub two up us use via was way we wet who why yes yet
you bed bin bud bug cup cut dew eat fan fly jar lab leg net pad peg rot row tip
mon tue wed thu fri sat jan feb mar apr jun jul aug sep oct nov dec
ac air cm dc ec fc ft gal hpa hr kg kpa kwh lb led lx mg min ml mm mol oz pa par ph pm ppm rh uv vpd
"""
_WORDS = frozenset(_PLAIN.split())
"""Words and units of up to three letters: a code that reads like one is never looked for in other letters."""


class Cleaner:
    """Replaces codes by what stands for them; `names` are those of plots and treatments, which must stay apart."""

    def __init__(self, replaced: dict[str, str], names: Iterable[str] = ()) -> None:
        self.replaced = replaced
        self.left = 0
        """Texts that people typed in which a code of digits alone stands as a word: it may be a number."""
        self.small = 0
        """Texts that people typed in which a code of letters stands in other letters: it may be a word."""
        digits = [code for code in replaced if code.isdecimal()]
        mixed = [code for code in replaced if not code.isdecimal() and not code.isalpha()]
        letters = [code for code in replaced if code.isalpha()]
        loose = [code for code in letters if code.casefold() not in _WORDS]
        many = Counter(code.casefold() for code in replaced)
        self._folded = {code.casefold(): code for code in replaced if many[code.casefold()] == 1}
        self._typed = _pattern(mixed, letters, loose)
        self._said = _pattern(mixed, [*letters, *digits], loose)
        self._digits = _alone(digits, re.NOFLAG)
        self._letters = _alone([code for code in letters if replaced[code] != code], re.IGNORECASE)
        # the name of a logger's file stands in each of its thousands of hours
        self._judged = lru_cache(maxsize=1000)(self._judge)
        self._names, self.kept = self._apart(names)
        """How many names keep their codes, since pseudonyms would make two of them the same."""

    def code(self, text: str) -> str:
        """Return what stands for a code."""
        return self.replaced.get(text, text)

    def said(self, text: str) -> str:
        """Return a sentence of the program's, with every code in it replaced, and those in what people typed there."""
        return self._said.sub(self._for, text) if self._said and text else text

    def typed(self, text: str) -> str:
        """Return what somebody typed, with every code replaced that can be told from a number and from a word."""
        if not text:
            return text
        clean, left, small = self._judged(text)
        self.left += left
        self.small += small
        return clean

    def named(self, text: str) -> str:
        """Return the name of a plot, a treatment or a kind; the same everywhere, and different for different ones."""
        return self._names.get(text, text)

    def room(self, room: Room) -> Room:
        """Return the room with its people under their pseudonyms, in an order that says nothing, and clean texts."""

        def clean(one: Any, *fields: str) -> Any:
            return msgspec.structs.replace(one, **{name: each(self.typed, getattr(one, name)) for name in fields})

        def all_clean(many: dict[str, Any], *fields: str) -> dict[str, Any]:
            return {key: clean(one, *fields) for key, one in many.items()}

        cleaned: Room = msgspec.structs.replace(
            clean(room, "name", "kit"),
            people=dict(sorted((self.code(code), person) for code, person in room.people.items())),
            lamps=all_clean(room.lamps, "mark", "note"),
            tanks=all_clean(room.tanks, "note"),
            pumps=all_clean(room.pumps, "note"),
            stations=tuple(clean(one, "name", "kit", "note") for one in room.stations),
            closures=tuple(clean(one, "name") for one in room.closures),
            terms=tuple(clean(one, "name") for one in room.terms),
            water=clean(room.water, "note"),
            feed=clean(room.feed, "note"),
            aims=all_clean(room.aims, "source"),
            recipes=tuple(clean(one, "source") for one in room.recipes),
        )
        return cleaned

    def _judge(self, text: str) -> tuple[str, bool, bool]:
        """Return a text that is clean, and whether codes of digits or of letters may be left in it."""
        clean = self._clean(text)
        left = self._digits is not None and self._digits.search(text) is not None
        return clean, left, self._letters is not None and self._letters.search(clean) is not None

    def _clean(self, text: str) -> str:
        whole = self._folded.get(text.strip().casefold(), "")
        if whole.isalpha() and whole.casefold() not in _WORDS:
            return text if self.replaced[whole] == whole else text.replace(text.strip(), self.replaced[whole])
        return self._typed.sub(self._for, text) if self._typed else text

    def _for(self, found: re.Match[str]) -> str:
        word = next(filter(None, (found["code"], found["after"], found["before"])))
        code = word if word in self.replaced else self._folded.get(word.casefold(), "")
        stands = self.replaced.get(code, word)
        # one that stands for itself is not touched, or a room made of an export would give other bytes
        return f"{found['lead'] or ''}{word if stands == code else stands}"

    def _apart(self, names: Iterable[str]) -> tuple[dict[str, str], int]:
        """Return name -> clean name for those that can be cleaned, and the number of those that cannot."""
        there = {*names}
        clean = {name: new for name in there if (new := self._clean(name)) != name}
        many = Counter(clean.values())
        held = {name: new for name, new in clean.items() if many[new] == 1 and new not in there}
        return held, len(clean) - len(held)


def each(change: Any, value: Any) -> Any:
    """Return a text, or every text of several, changed."""
    return tuple(map(change, value)) if isinstance(value, tuple) else change(value)


def _alone(codes: Iterable[str], flag: re.RegexFlag) -> re.Pattern[str] | None:
    # The longest first: of two codes that begin alike the whole word is meant.
    known = sorted(codes, key=lambda code: (-len(code), code))
    return re.compile(rf"(?<!\w)(?:{'|'.join(known)})(?!\w)", flag) if known else None


def _pattern(mixed: list[str], exact: list[str], loose: list[str]) -> re.Pattern[str] | None:
    """Return what finds a code: in any letters, as it is written, or in any letters where a person must be meant."""
    if not mixed and not exact:
        return None
    either = "|".join([f"(?i:{code})" for code in sorted(mixed)] + sorted(exact, key=lambda code: (-len(code), code)))
    person = "|".join(sorted(loose)) or r"(?!)"
    return re.compile(
        rf"(?<!\w)(?:(?P<code>{either})"
        rf"|(?P<lead>(?i:{_BEFORE})[ :]+)(?P<after>(?i:{person}))"
        rf"|(?P<before>(?i:{person}))(?=['’]s\b|[ ](?i:{_AFTER})\b))(?!\w)"
    )
