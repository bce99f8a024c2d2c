"""Why a cause stands where it does: what each answer and reading does to it, worked out from the model itself.

The weight of a piece of evidence is how far the odds of the cause fall or rise when it is left out, in nats:
ln(odds with it / odds without it). And the usual reasons behind a cause, weighed by what is known of them.
"""

from collections.abc import Sequence
from typing import Final

import msgspec
import numpy as np
from msgspec import Struct

from walkabout.diagnosis.evidence import Numbered, Table, number, of_reading, on_crop, said_yes
from walkabout.diagnosis.model import Cause, Measure
from walkabout.diagnosis.network import Numbers, Solved, solve
from walkabout.diagnosis.situation import Answer, Situation
from walkabout.diagnosis.strengths import AGAINST, BEHIND, GIVES, LEAK, OTHER_REASON

COUNTS: Final = 0.1
"""Nats below which a piece of evidence is not worth a word."""

MOST_LIFT: Final = 5.0
"""A reason's odds are moved by what is known of it by no more than this, either way."""


class Weighed(Struct, frozen=True, kw_only=True):
    """What one piece of evidence does to a cause."""

    key: str
    """A sign, a general sign, a reading, or 'crop'."""
    name: str
    """'no fine webbing', 'pH 7.4', 'it is basil'."""
    weight: float
    """In nats; above zero it speaks for the cause."""


class Reason(Struct, frozen=True, kw_only=True):
    """What usually stands behind a cause."""

    key: str
    name: str
    share: float
    """P(this reason | the cause is there)."""


def weigh(
    table: Table, now: Situation, numbered: Numbered, base: Solved, columns: Sequence[int]
) -> list[list[Weighed]]:
    """Return, for each of the causes in `columns`, its evidence in order of weight."""
    left_out = _left_out(table, now, numbered)
    lists: list[list[Weighed]] = [[] for _ in columns]
    whole = _log_odds(base.on[0])
    for key, name, on in left_out:
        moved = whole - _log_odds(on)
        direct = _direct(table, now, key)
        for at, column in enumerate(columns):
            # a crop or reading that says nothing of a cause itself only moved its rivals: that is no reason to name
            if abs(moved[column]) >= COUNTS and (direct is None or moved[column] * direct[column] > 0):
                lists[at].append(Weighed(key=key, name=name, weight=float(moved[column])))
    for one in lists:
        one.sort(key=lambda weighed: (-abs(weighed.weight), weighed.key))
    return lists


def _direct(table: Table, now: Situation, key: str) -> Numbers | None:
    """Return ln of what a reading or the crop does to the odds of each cause itself; None for a sign."""
    causes = table.known.causes.values()
    if key == "crop":
        families = table.known.families(now.crop) | frozenset(now.also)
        # held against a crop that says nothing, as NARROW is for causes of one crop only
        factors = [
            on_crop(table.known, one, families, now.crop) / on_crop(table.known, one, frozenset(), "") for one in causes
        ]
    elif reading := next((one for one in now.readings if one.of == key), None):
        factors = [of_reading(one, reading) for one in causes]
    else:
        return None
    direct: Numbers = np.log([*factors, 1.0])
    return direct


def _left_out(table: Table, now: Situation, numbered: Numbered) -> list[tuple[str, str, Numbers]]:
    """Return P(cause) without each piece of evidence in turn; a row of one batch for each."""
    named: list[tuple[str, str]] = []
    priors: list[Numbers] = []
    stays: list[Numbers] = []
    spared: list[int | None] = []

    def leave_out(key: str, name: str, prior: Numbers, stay: Numbers, spare: int | None = None) -> None:
        named.append((key, name))
        priors.append(prior)
        stays.append(stay)
        spared.append(spare)

    odds = numbered.prior / (1.0 - numbered.prior)
    for at, one in enumerate(numbered.present):
        without = odds.copy()
        without[list(table.against.get(one.sign, ()))] /= AGAINST
        leave_out(one.sign, sign_name(table, one), without / (1.0 + without), numbered.stays, at)
    for one in numbered.absent:
        stay = numbered.stays / (1.0 - said_yes(table, one)[0])
        leave_out(one.sign, sign_name(table, one), numbered.prior, stay)
    for reading in now.readings:
        without = odds / np.array([*(of_reading(cause, reading) for cause in table.known.causes.values()), 1.0])
        name = reading_name(table.known.measures[reading.of], reading.value)
        leave_out(reading.of, name, without / (1.0 + without), numbered.stays)
    if now.crop:
        entry = table.known.crops.get(now.crop)
        anywhere = number(table, msgspec.structs.replace(now, crop="", also=())).prior
        leave_out("crop", f"it is {entry.name if entry else now.crop}", anywhere, numbered.stays)
    if not named:
        return []
    left_out = np.zeros((len(named), len(numbered.present)), dtype=np.bool_)
    for row, spare in enumerate(spared):
        if spare is not None:
            left_out[row, spare] = True
    on = solve(np.array(priors), np.array(stays), numbered.gives, numbered.leak, left_out).on
    return [(key, name, row) for (key, name), row in zip(named, on, strict=True)]


def sign_name(table: Table, answer: Answer) -> str:
    """Return the sign as it stands in a list; 'no …' where it is not there."""
    entry = table.known.signs.get(answer.sign) or table.known.generals[answer.sign]
    return entry.name if answer.present else f"no {entry.name}"


def reading_name(measure: Measure, value: float) -> str:
    """Return a reading as it stands in a list: 'pH 7.4', 'moved 5 days ago'."""
    return measure.says.format(f"{value:g}") or f"{measure.name} {value:g}{measure.unit and ' ' + measure.unit}"


def _log_odds(p: Numbers) -> Numbers:
    safe = np.clip(p, 1e-12, 1.0 - 1e-12)
    odds: Numbers = np.log(safe) - np.log1p(-safe)
    return odds


# what stands behind


def reasons(table: Table, now: Situation, numbered: Numbered, base: Solved, cause: Cause) -> tuple[Reason, ...]:
    """Return the usual reasons of a cause that is there, the likeliest first.

    They are taken to exclude each other: each has its usual share, moved by the readings and signs that are
    known of it, or, for one that is ranked itself, by what was found for it.
    """
    weights: dict[str, float] = {}
    for one in cause.behind:
        behind = table.known.cause(one.cause)
        if behind is not None:
            weights[one.cause] = BEHIND[one.how] * _lift(table, now, numbered, base, behind)
    whole = sum(weights.values()) + OTHER_REASON
    found = [Reason(key=key, name=_name(table, key), share=weight / whole) for key, weight in weights.items()]
    return tuple(sorted(found, key=lambda one: (-one.share, one.key)))


def _name(table: Table, key: str) -> str:
    cause = table.known.cause(key)
    return cause.name if cause else key


def _lift(table: Table, now: Situation, numbered: Numbered, base: Solved, reason: Cause) -> float:
    column = table.column.get(reason.key)
    if column is not None:
        lift = float(np.exp(_log_odds(base.on[0])[column] - _log_odds(table.base)[column]))
        return min(max(lift, 1 / MOST_LIFT), MOST_LIFT)
    lift = 1.0
    for reading in now.readings:
        lift *= of_reading(reason, reading)
    gives = {one.sign: GIVES[one.how] for one in reason.signs}
    for answer in (*numbered.present, *numbered.absent):
        if answer.sign in gives:
            leak = LEAK[table.known.signs[answer.sign].leak]
            shown = gives[answer.sign] + leak - gives[answer.sign] * leak
            lift *= shown / max(leak, 0.05) if answer.present else (1.0 - shown) / (1.0 - leak)
    return min(max(lift, 1 / MOST_LIFT), MOST_LIFT)
