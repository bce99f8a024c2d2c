"""The one look that tells most for the seconds it takes.

For each sign and reading not known yet: how much its answer would tell about each cause that could be behind
what is seen, added up over those causes (mutual information, in nats), worked out exactly, for each second of
looking. It is not asked where no answer of the best of them would change what is done.
"""

from collections.abc import Iterator
from typing import Final

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from walkabout.diagnosis.evidence import Numbered, Table, number, said_yes
from walkabout.diagnosis.model import Who
from walkabout.diagnosis.network import Numbers, Solved, solve
from walkabout.diagnosis.plan import acts
from walkabout.diagnosis.situation import Answer, Situation

TRIED: Final = 40
"""So many signs are worked out in full: the most promising by a rough measure."""

SPACE: Final = 1 << 18
"""Numbers that a batch may hold: with many present signs fewer candidates are tried."""

COULD_MATTER: Final = 12
"""Of so many of the best it is tried whether an answer would change what to do."""

OVERHEAD: Final = 5.0
"""Seconds that any look takes before it begins: to read the question and walk up. Assumed."""

LEAST: Final = 0.004
"""Nats below which a look tells nothing worth asking for."""

ENOUGH: Final = 6
"""After so many that could not be told no more is asked."""

SURE_ENOUGH, FAR = 0.92, 0.15
"""A first cause so likely, with no other so likely, needs no further look."""

NAMED: Final = 6
"""What a look separates is named among so many of the first causes."""

FIRST: Final = frozenset({"leaf", "whole plant", "mix"})
"""Organs that are asked about while nothing is known: every plant has them."""

BEARING: Final = frozenset({"fruiting", "cucurbit", "strawberry", "legume", "citrus", "flower", "houseplant", "rose"})
"""Families that are looked at for flowers and fruit."""

NOTICEABLE: Final = 0.01
"""Probability below which a cause is not worth a look."""

BESIDE: Final = 0.1
"""A cause that is less likely than this part of the likeliest is not worth a look either."""


class NextCheck(Struct, frozen=True, kw_only=True):
    """A sign to look for or a reading to take."""

    key: str
    reading: bool
    ask: str
    look: str
    seconds: int
    who: Who
    caution: str
    gain: float
    """Expected gain of information, in nats."""
    separates: tuple[str, ...]
    """Keys of the causes that it tells most about, the most first."""
    unit: str = ""


class _Tried(Struct, kw_only=True):
    key: str
    reading: bool
    seconds: float
    gains: Numbers
    """For each cause."""
    outcomes: tuple[Numbers, ...]
    """P(cause) after each answer."""

    @property
    def worth(self) -> float:
        return float(self.gains.sum()) / (self.seconds + OVERHEAD)


def next_check(table: Table, now: Situation, numbered: Numbered, base: Solved) -> NextCheck | None:
    """Return the look that is worth most, or None when no answer would change what to do."""
    suspects = _suspects(numbered, base)
    if len(now.passed) >= ENOUGH or _settled(base):
        return None
    tried = [*_signs(table, now, numbered, base, suspects), *_readings(table, now, numbered, base, suspects)]
    tried = [one for one in tried if one.gains.sum() >= LEAST]
    tried.sort(key=lambda one: (-one.worth, one.key))
    settled = acts(table, base.on[0])
    for one in tried[:COULD_MATTER]:
        if any(acts(table, outcome) != settled for outcome in one.outcomes):
            return _asked(table, one, base)
    return None


def _suspects(numbered: Numbered, base: Solved) -> NDArray[np.bool_]:
    """Say of each cause whether it could be behind what is seen; where nothing is seen yet, every cause could be.

    What a look would tell of other causes is no answer to what somebody is looking up.
    """
    if not numbered.present:
        return np.ones(len(numbered.prior), dtype=np.bool_)
    on = base.on[0].copy()
    on[-1] = 0.0  # nothing can be asked about what is not on the list
    suspects: NDArray[np.bool_] = numbered.gives.any(axis=0) & (on > max(NOTICEABLE, BESIDE * float(on.max())))
    return suspects


def _settled(base: Solved) -> bool:
    """One cause is as good as sure and nothing else comes near."""
    first, second = np.sort(base.on[0])[::-1][:2]
    return bool(first >= SURE_ENOUGH and second < FAR)


def _asked(table: Table, one: _Tried, base: Solved) -> NextCheck:
    shown = np.argsort(-base.on[0])[:NAMED]
    order = sorted((int(at) for at in shown), key=lambda at: -one.gains[at])[:4]
    separates = tuple(table.causes[at] for at in order if one.gains[at] > 0.1 * one.gains[order[0]])
    gain = float(one.gains.sum())
    if one.reading:
        measure = table.known.measures[one.key]
        return NextCheck(
            key=one.key,
            reading=True,
            ask=measure.ask,
            look=measure.look,
            seconds=measure.seconds,
            who="pupil",
            caution="",
            gain=gain,
            separates=separates,
            unit=measure.unit,
        )
    sign = table.known.signs[one.key]
    return NextCheck(
        key=one.key,
        reading=False,
        ask=sign.ask,
        look=sign.look,
        seconds=sign.seconds,
        who=sign.who,
        caution=sign.caution,
        gain=gain,
        separates=separates,
    )


# signs


def _signs(
    table: Table, now: Situation, numbered: Numbered, base: Solved, suspects: NDArray[np.bool_]
) -> Iterator[_Tried]:
    on = base.on[0]
    known = {one.sign for one in (*numbered.present, *numbered.absent)} | set(now.passed)
    spread = on * (1.0 - on) * suspects
    rough = (table.gives - table.gives @ on[:, None]) ** 2 @ spread
    seconds = np.array([sign.seconds for sign in table.known.signs.values()]) + OVERHEAD
    order = (table.signs[at] for at in np.argsort(-rough / seconds, kind="stable"))
    best = [key for key in order if key not in known and _can_be_looked_at(table, now, key)]
    open_generals = {
        member
        for one in numbered.present
        if one.sign in table.known.generals
        for member in table.known.generals[one.sign].any
    }
    apart = [key for key in best[:TRIED] if key in open_generals]
    together = [key for key in best[:TRIED] if key not in open_generals]
    together = together[: max(SPACE >> len(numbered.present), 4)]
    if together:
        yields = np.array([said_yes(table, Answer(sign=key))[0] for key in together])
        leaks = np.array([said_yes(table, Answer(sign=key))[1] for key in together])
        prior = np.broadcast_to(numbered.prior, yields.shape)
        absent = solve(prior, numbered.stays * (1.0 - yields), numbered.gives, numbered.leak)
        logs = absent.log_evidence + np.log1p(-leaks)
        for at, key in enumerate(together):
            yield _tried(table, key, base, suspects, absent.on[at], float(logs[at]))
    for key in apart:
        # the answer says which of a general answer's signs is meant, so its row changes with it
        without = _denied(table, now, key)
        solved = without.solve()
        leak = said_yes(table, Answer(sign=key))[1]
        yield _tried(table, key, base, suspects, solved.on[0], float(solved.log_evidence[0] + np.log1p(-leak)))


def _can_be_looked_at(table: Table, now: Situation, key: str) -> bool:
    """Say whether there is such an organ to look at: no potting mix at a raft, no fruit on a lettuce."""
    organ = table.known.signs[key].organ
    if organ in now.without or not (now.answers or organ in FIRST):
        return False
    if organ in ("flower", "fruit") and now.crop:
        return bool(BEARING & table.known.families(now.crop))
    return not (organ == "seedling" and now.crop and "seedling" not in {*now.also, *table.known.families(now.crop)})


def _denied(table: Table, now: Situation, key: str) -> Numbered:
    return number(
        table,
        Situation(
            answers=(*now.answers, Answer(sign=key, present=False)),
            readings=now.readings,
            crop=now.crop,
            also=now.also,
            confirmed=now.confirmed,
        ),
    )


def _tried(
    table: Table, key: str, base: Solved, suspects: NDArray[np.bool_], after_no: Numbers, log_no: float
) -> _Tried:
    on = base.on[0]
    no = min(float(np.exp(log_no - base.log_evidence[0])), 1.0)
    yes = max(1.0 - no, 1e-12)
    after_yes = np.clip((on - no * after_no) / yes, 0.0, 1.0)
    gains = expected_gain(np.array([no, yes]), np.array([after_no, after_yes])) * suspects
    return _Tried(
        key=key,
        reading=False,
        seconds=table.known.signs[key].seconds,
        gains=gains,
        outcomes=(after_no, after_yes),
    )


def expected_gain(weights: Numbers, outcomes: Numbers) -> Numbers:
    """Return what an answer is expected to tell about each cause, in nats, shape (causes,); never below zero.

    `weights`: P(answer), shape (answers,), adding up to one; `outcomes`: P(cause | answer), shape (answers, causes).
    It is the mutual information between the answer and each cause taken by itself.
    """
    gain: Numbers = np.maximum(_entropy(weights @ outcomes) - weights @ _entropy(outcomes), 0.0)
    return gain


def _entropy(p: Numbers) -> Numbers:
    """Return the entropy of each yes-or-no, in nats."""
    safe = np.clip(p, 1e-15, 1.0 - 1e-15)
    entropy: Numbers = -(safe * np.log(safe) + (1.0 - safe) * np.log1p(-safe))
    return entropy


# readings


def _readings(
    table: Table, now: Situation, numbered: Numbered, base: Solved, suspects: NDArray[np.bool_]
) -> Iterator[_Tried]:
    taken = {one.of for one in now.readings} | set(now.passed)
    counts = suspects & (base.on[0] > NOTICEABLE)
    wanted = [
        table.known.measures[key]
        for key, factors in table.usual.items()
        if key not in taken and table.known.measures[key].askable and ((factors != 1.0).any(axis=0) & counts).any()
    ]
    if not wanted:
        return
    odds = numbered.prior / (1.0 - numbered.prior) * np.concatenate([table.usual[one.key] for one in wanted])
    stays = np.broadcast_to(numbered.stays, odds.shape)
    solved = solve(odds / (1.0 + odds), stays, numbered.gives, numbered.leak)
    first = 0
    for measure in wanted:
        rows = slice(first, first + len(measure.usual))
        first = rows.stop
        logs = solved.log_evidence[rows]
        weight = np.array([one.weight for one in measure.usual]) * np.exp(logs - logs.max())
        weight /= weight.sum()
        yield _Tried(
            key=measure.key,
            reading=True,
            seconds=measure.seconds,
            gains=expected_gain(weight, solved.on[rows]) * suspects,
            outcomes=tuple(solved.on[rows]),
        )
