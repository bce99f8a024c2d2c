"""From the knowledge and what somebody saw to the numbers that the network works with.

Every answer is a noisy-OR child of its own: a cause that shows the sign makes the looker say yes with the
chance that such a looker notices it, and a looker sometimes sees what is not there. A general answer ('the
leaves are yellow') says that at least one of its signs is there: the 'or' of noisy-OR signs is a noisy-OR
sign again. Crop, readings and signs that speak against a cause move the odds that it has before any sign.
"""

from collections.abc import Iterator, Mapping

import numpy as np
from msgspec import Struct

from walkabout.diagnosis.knowledge import Knowledge
from walkabout.diagnosis.model import Cause, Shift
from walkabout.diagnosis.network import Numbers, Solved, solve
from walkabout.diagnosis.situation import Answer, Reading, Situation
from walkabout.diagnosis.strengths import (
    AGAINST,
    BASE,
    EFFECT,
    GIVES,
    IMAGINES,
    LEAK,
    LOOKUPS,
    MISREAD,
    NARROW,
    NOT_LISTED,
    NOT_LISTED_GIVES,
    NOTICES,
    OTHER_CROP,
    OUT_OF_PLACE,
)

UNLISTED = "not-listed"
"""The key of 'something that is not on the list'; it is the last cause."""


class Table(Struct, frozen=True, kw_only=True):
    """The knowledge in numbers."""

    known: Knowledge
    causes: tuple[str, ...]
    """Keys, UNLISTED last."""
    signs: tuple[str, ...]
    base: Numbers
    """P(cause), shape (causes,)."""
    gives: Numbers
    """P(sign | cause alone), shape (signs, causes)."""
    leak: Numbers
    """P(sign | no cause), shape (signs,)."""
    against: dict[str, tuple[int, ...]]
    """The columns of the causes that a sign speaks against."""
    usual: dict[str, Numbers]
    """What each usual value of a measure does to the odds, shape (values, causes); measures that move none left out."""
    row: dict[str, int]
    column: dict[str, int]


def _usual(known: Knowledge) -> Iterator[tuple[str, Numbers]]:
    for measure in known.measures.values():
        factors = np.array(
            [
                [*(of_reading(cause, Reading(of=measure.key, value=one.value)) for cause in known.causes.values()), 1.0]
                for one in measure.usual
            ]
        )
        if (factors != 1.0).any():
            yield measure.key, factors


class Numbered(Struct, frozen=True, kw_only=True):
    """A situation in numbers: what `network.solve` takes, and which answer each row of `gives` stands for."""

    prior: Numbers
    """Shape (causes,)."""
    stays: Numbers
    """Shape (causes,)."""
    gives: Numbers
    """Shape (present answers, causes)."""
    leak: Numbers
    present: tuple[Answer, ...]
    absent: tuple[Answer, ...]
    """General answers stand here as the signs that they deny."""

    def solve(self) -> Solved:
        """Return the probabilities, in one row."""
        return solve(self.prior, self.stays, self.gives, self.leak)


def tabulate(known: Knowledge) -> Table:
    """Return the knowledge in numbers; worth keeping."""
    causes, signs = (*known.causes, UNLISTED), tuple(known.signs)
    row = {key: at for at, key in enumerate(signs)}
    leak = np.array([LEAK[sign.leak] for sign in known.signs.values()])
    gives = np.zeros((len(signs), len(causes)))
    against: dict[str, list[int]] = {}
    for at, cause in enumerate(known.causes.values()):
        for one in cause.signs:
            gives[row[one.sign], at] = GIVES[one.how]
        for other in cause.against:
            against.setdefault(other.sign, []).append(at)
    gives[:, -1] = np.maximum(NOT_LISTED_GIVES, 2 * leak)
    return Table(
        known=known,
        causes=causes,
        signs=signs,
        base=np.array([*(BASE[cause.base] for cause in known.causes.values()), NOT_LISTED]),
        gives=gives,
        leak=leak,
        against={sign: tuple(columns) for sign, columns in against.items()},
        usual=dict(_usual(known)),
        row=row,
        column={key: at for at, key in enumerate(causes)},
    )


def number(table: Table, now: Situation) -> Numbered:
    """Return a situation in numbers. Order of answers does not matter, but of two about one sign the last counts."""
    present, absent = _sorted_out(table.known, now)
    rows = [_row(table, one, absent) for one in present]
    stays = np.ones(len(table.causes))
    for one in absent:
        stays *= 1.0 - said_yes(table, one)[0]
    return Numbered(
        prior=priors(table, now, present),
        stays=stays,
        gives=np.array([gives for gives, _ in rows]).reshape(len(rows), len(table.causes)),
        leak=np.array([leak for _, leak in rows]),
        present=present,
        absent=absent,
    )


def said_yes(table: Table, answer: Answer) -> tuple[Numbers, float]:
    """Return P(such a looker says yes | each cause alone), shape (causes,), and P(says yes | no cause)."""
    sign = table.known.signs[answer.sign]
    at = table.row[answer.sign]
    notices, imagines = NOTICES[sign.clear][answer.by], IMAGINES[sign.clear][answer.by]
    return table.gives[at] * notices, 1.0 - (1.0 - table.leak[at] * notices) * (1.0 - imagines)


def _sorted_out(known: Knowledge, now: Situation) -> tuple[tuple[Answer, ...], tuple[Answer, ...]]:
    """Return what is there and what is not, each sign once; an answer that says nothing more is left out."""
    last = {one.sign: one for one in now.answers}
    plain = {key: one for key, one in last.items() if key in known.signs and not (one.present and one.also)}
    there = {key for key, one in plain.items() if one.present}
    absent = {key: one for key, one in plain.items() if not one.present}
    for key, one in last.items():
        if key in known.generals and not one.present:
            for member in known.generals[key].any:
                if member not in plain:
                    absent.setdefault(member, Answer(sign=member, present=False, by=one.by, text=one.text))
    one_of = [(_meant(known, one), one) for key, one in last.items() if one.present and key not in plain]
    present = [plain[key] for key in there]
    for members, one in one_of:
        narrower = any(other < members for other, _ in one_of)
        if not (members & there) and not narrower:
            present.append(one)
    present.sort(key=lambda one: one.sign)
    return tuple(present), tuple(absent[key] for key in sorted(absent))


def _meant(known: Knowledge, answer: Answer) -> frozenset[str]:
    """Return the signs of which an answer says that at least one is there."""
    keys = (answer.sign, *answer.also)
    return frozenset(
        member for key in keys for member in (known.generals[key].any if key in known.generals else (key,))
    )


def _row(table: Table, answer: Answer, absent: tuple[Answer, ...]) -> tuple[Numbers, float]:
    single = answer.sign in table.known.signs and not answer.also
    gives, leak = said_yes(table, answer) if single else _any_of(table, answer, absent)
    return gives, 1.0 - (1.0 - leak) * (1.0 - MISREAD) if answer.text else leak


def _any_of(table: Table, answer: Answer, absent: tuple[Answer, ...]) -> tuple[Numbers, float]:
    """Return the same for a general answer: the 'or' of its signs, without those that were denied."""
    denied = {one.sign for one in absent}
    members = _meant(table.known, answer)
    still = sorted(members - denied) or sorted(members)
    not_seen, not_leaked = np.ones(len(table.causes)), 1.0
    for key in still:
        gives, leak = said_yes(table, Answer(sign=key, by=answer.by))
        not_seen *= 1.0 - gives
        not_leaked *= 1.0 - leak
    return 1.0 - not_seen, 1.0 - not_leaked


# what is known before any sign


def priors(table: Table, now: Situation, present: tuple[Answer, ...]) -> Numbers:
    """Return P(cause) with the crop, the readings and what speaks against it, shape (causes,)."""
    known = table.known
    base = learned(table, now.confirmed) if now.confirmed else table.base
    odds = base / (1.0 - base)
    families = known.families(now.crop) | frozenset(now.also) if now.crop or now.also else frozenset()
    for at, cause in enumerate(known.causes.values()):
        odds[at] *= on_crop(known, cause, families, now.crop)
        for reading in now.readings:
            odds[at] *= of_reading(cause, reading)
    for one in present:
        for at in table.against.get(one.sign, ()):
            odds[at] *= AGAINST
    prior: Numbers = odds / (1.0 + odds)
    return prior


def learned(table: Table, confirmed: Mapping[str, int]) -> Numbers:
    """Return the base rates with what was confirmed in the room: (LOOKUPS · base + times) / (LOOKUPS + all)."""
    counts = np.zeros(len(table.causes))
    for key, times in confirmed.items():
        if key in table.column:
            counts[table.column[key]] = times
    rates: Numbers = (LOOKUPS * table.base + counts) / (LOOKUPS + counts.sum())
    return rates


def on_crop(known: Knowledge, cause: Cause, families: frozenset[str], crop: str) -> float:
    """Return what the crop does to the odds of a cause."""
    if "all" in cause.crops:
        return 1.0
    if not families:
        return NARROW if cause.only else 1.0
    if families & set(cause.crops):
        return 1.0
    if crop and any(crop in known.crops[one].families for one in cause.crops if one in known.crops):
        return NARROW  # 'house plant' may be the very one
    return OUT_OF_PLACE if cause.only else OTHER_CROP


def of_reading(cause: Cause, reading: Reading) -> float:
    """Return what a reading does to the odds of a cause: of several ranges that hold, the one furthest from even."""
    effects = [EFFECT[shift.does] for shift in cause.readings if shift.of == reading.of and holds(shift, reading)]
    return max(effects, key=lambda one: max(one, 1 / one), default=1.0)


def holds(shift: Shift, reading: Reading) -> bool:
    """Say whether a reading lies in the range of a shift; the crop's own range counts where it is known."""
    if shift.below_crop and reading.low is not None:
        return reading.value < reading.low
    if shift.above_crop and reading.high is not None:
        return reading.value > reading.high
    if shift.at_least is None and shift.at_most is None:
        return False
    return (shift.at_least is None or reading.value >= shift.at_least) and (
        shift.at_most is None or reading.value <= shift.at_most
    )
