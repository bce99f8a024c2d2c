"""The answer to a lookup: a verdict, the causes in order, the next look and what to do."""

from typing import Final, Literal

import numpy as np
from msgspec import Struct

from walkabout.diagnosis.evidence import UNLISTED, Numbered, Table, number
from walkabout.diagnosis.explain import Reason, Weighed, reasons, weigh
from walkabout.diagnosis.knowledge import facts
from walkabout.diagnosis.model import HARMLESS
from walkabout.diagnosis.network import Numbers, Solved, solve
from walkabout.diagnosis.next_check import NextCheck, next_check
from walkabout.diagnosis.plan import ToDo, what_to_do
from walkabout.diagnosis.situation import Situation

Verdict = Literal["likely", "unsure", "not enough", "healthy"]

LIKELY: Final = 0.6
POSSIBLE: Final = 0.15

SHOWN: Final = 8
"""So many causes are explained; the others are only counted."""

FIRST: Final = 3
"""After so many a cause is listed only when something speaks for it."""

NEGLIGIBLE: Final = 0.005

PAIRED: Final = 4
"""So many of the first causes are looked at two by two."""

RIVAL: Final = 0.4
"""A second cause is named beside the first from this part of its probability on."""

WELL: Final = "healthy-otherwise"
"""The sign that says the plant looks well."""

UNLISTED_NAME: Final = "something that is not on the list"


class Ranked(Struct, frozen=True, kw_only=True):
    """One cause with its probability and why."""

    key: str
    name: str
    kind: str
    probability: float
    speaks_for: tuple[Weighed, ...] = ()
    speaks_against: tuple[Weighed, ...] = ()
    reasons: tuple[Reason, ...] = ()

    @property
    def word(self) -> str:
        """The probability in a word."""
        return likeliness(self.probability)


class Together(Struct, frozen=True):
    """How likely it is that two causes are there at once."""

    one: str
    other: str
    probability: float


class Cited(Struct, frozen=True, kw_only=True):
    """A source behind the answer."""

    text: str
    known: str


class Consulted(Struct, frozen=True, kw_only=True):
    """The whole answer."""

    verdict: Verdict
    says: str
    """The verdict in a sentence."""
    causes: tuple[Ranked, ...]
    together: tuple[Together, ...]
    next_check: NextCheck | None
    do: tuple[ToDo, ...]
    sources: tuple[Cited, ...]


def likeliness(probability: float) -> str:
    """Return the word for a probability."""
    return "likely" if probability >= LIKELY else "possible" if probability >= POSSIBLE else "unlikely"


def consult(table: Table, now: Situation) -> Consulted:
    """Return what a situation tells: the causes ranked exactly, with why, the next look, and what to do."""
    numbered = number(table, now)
    solved = numbered.solve()
    if now.hazards:
        return Consulted(
            verdict="not enough",
            says="Stop: people first. Fetch an adult.",
            causes=(),
            together=(),
            next_check=None,
            do=what_to_do(table, numbered, solved.on[0], hazard=True),
            sources=(),
        )
    ranked = rank(table, now, numbered, solved)
    verdict = judge(table, numbered, solved.on[0])
    return Consulted(
        verdict=verdict,
        says=in_words(verdict, ranked, well=_only_well(numbered)),
        causes=ranked,
        together=_together(table, numbered, solved, ranked),
        next_check=next_check(table, now, numbered, solved),
        do=what_to_do(table, numbered, solved.on[0]),
        sources=_sources(table, ranked),
    )


def rank(table: Table, now: Situation, numbered: Numbered, solved: Solved) -> tuple[Ranked, ...]:
    """Return the causes in order of probability, the first of them explained; none while nothing is known.

    What is not on the list stands last, however likely: it names nothing that could be looked at.
    """
    if not (numbered.present or numbered.absent or now.readings):
        return ()
    on = solved.on[0]
    unlisted = table.column[UNLISTED]
    order = [int(at) for at in np.argsort(-on, kind="stable") if at != unlisted]
    shown = [at for at in (*order[:SHOWN], unlisted) if on[at] >= NEGLIGIBLE]
    whys = weigh(table, now, numbered, solved, shown)
    found = []
    for at, why in zip(shown, whys, strict=True):
        key = table.causes[at]
        cause = table.known.causes.get(key)
        found.append(
            Ranked(
                key=key,
                name=cause.name if cause else UNLISTED_NAME,
                kind=cause.kind if cause else "unlisted",
                probability=float(on[at]),
                speaks_for=tuple(one for one in why if one.weight > 0),
                speaks_against=tuple(one for one in why if one.weight < 0),
                reasons=reasons(table, now, numbered, solved, cause) if cause else (),
            )
        )
    return tuple(
        one for place, one in enumerate(found) if place < FIRST or one.speaks_for or one.probability >= POSSIBLE
    )


def judge(table: Table, numbered: Numbered, on: Numbers) -> Verdict:
    """Return how much can be said."""
    if not numbered.present:
        return "not enough"
    if _only_well(numbered):
        return "healthy"
    kinds = [*(cause.kind for cause in table.known.causes.values()), ""]
    harmless = max((p for p, kind in zip(on, kinds, strict=True) if kind in HARMLESS), default=0.0)
    harmful = max(p for p, kind in zip(on, kinds, strict=True) if kind not in HARMLESS)
    listed = max(on[:-1])
    if harmless >= LIKELY and harmful < LIKELY / 2:
        return "healthy"
    if listed >= LIKELY:
        return "likely"
    return "unsure" if listed >= POSSIBLE else "not enough"


def in_words(verdict: Verdict, ranked: tuple[Ranked, ...], *, well: bool = False) -> str:
    """Return the verdict in a sentence; `well`: all that is said is that the plant looks well."""
    listed = [one for one in ranked if one.key != UNLISTED]
    if verdict == "healthy":
        return "It looks well; look again on the next round." if well else f"Probably nothing wrong: {listed[0].name}."
    if verdict == "likely":
        return f"Likely {listed[0].name}."
    if verdict == "unsure":
        rivals = [one.name for one in listed[:2] if one.probability >= RIVAL * listed[0].probability]
        return f"Not sure: it may be {' or '.join(rivals)}."
    return "Not enough to tell."


def _only_well(numbered: Numbered) -> bool:
    """Say whether the only thing that is there is that the plant looks well."""
    return bool(numbered.present) and all(one.sign == WELL for one in numbered.present)


def _together(table: Table, numbered: Numbered, solved: Solved, ranked: tuple[Ranked, ...]) -> tuple[Together, ...]:
    """Return how likely the first causes are there two by two, the likeliest pair first: exact, like the rest."""
    columns = [table.column[one.key] for one in ranked[:PAIRED]]
    if len(columns) < 2:
        return ()
    prior = np.repeat(numbered.prior[None, :], len(columns), axis=0)
    for row, column in enumerate(columns):
        prior[row, column] = 1.0
    given = solve(prior, np.broadcast_to(numbered.stays, prior.shape), numbered.gives, numbered.leak).on
    pairs = [
        Together(table.causes[one], table.causes[other], float(solved.on[0, one] * given[row, other]))
        for row, one in enumerate(columns)
        for other in columns[row + 1 :]
    ]
    return tuple(sorted(pairs, key=lambda pair: -pair.probability))


def _sources(table: Table, ranked: tuple[Ranked, ...]) -> tuple[Cited, ...]:
    """Return what stands behind the causes that count, each text once."""
    found: dict[str, Cited] = {}
    for one in ranked:
        cause = table.known.causes.get(one.key)
        if cause is None or one.probability < POSSIBLE / 2:
            continue
        for name in facts(cause):
            source = table.known.source(cause.kind, name)
            found.setdefault(source.text, Cited(text=source.text, known=source.known))
    return tuple(found.values())
