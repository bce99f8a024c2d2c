"""What to do, from all the probabilities together and never from the first name alone.

What is safe and useful whatever the cause turns out to be comes first. What would do harm on a wrong guess
waits until its cause is likely; what is put on a plant to kill something waits longest, and is never a pupil's.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import numpy as np
from msgspec import Struct

from walkabout.diagnosis.evidence import Numbered, Table
from walkabout.diagnosis.model import HARMLESS, Cause, Moment, Step, Who
from walkabout.diagnosis.network import Numbers, solve

SAFE: Final = 0.12
"""A harmless step is worth doing from this chance of being useful on."""

SURE: Final = 0.5
"""A step that would harm on a wrong guess waits for this chance that its cause is there."""

KILLING: Final = 0.7
"""What is put on plants to kill waits for this."""

MOST: Final = {"now": 6, "next": 4, "if it stays": 3}
"""How many steps of a kind are shown: a longer list is not done."""

ALWAYS: Final = ("photograph", "wash-hands", "set-apart")
"""Shared steps that are right for anything that may be wrong."""

HAZARD: Final = "hazard-stop"
"""The shared step for a danger to people."""

MEANWHILE: Final = ("photograph", "look-neighbours")
"""Shared steps for as long as too little is known."""

OWN: Final = 15
"""Where a cause's own first steps stand among the shared ones."""

CARRY: Final = "set-apart"

NO_FOOD: Final = "do-not-eat"


class ToDo(Struct, frozen=True, kw_only=True):
    """One step, who may do it at least, its caution, and the causes that it is for."""

    step: str
    who: Who
    caution: str
    when: Moment
    useful: float
    """P(at least one of its causes is there)."""
    causes: tuple[str, ...]
    """Keys, the likeliest first."""
    recheck: int
    """Look again so many days after it is done."""
    wait_days: int | None = None
    people: bool = False
    """It keeps people from harm."""
    pesticide: bool = False
    use: str = ""


class _Meant(Struct):
    """A step, and the causes that ask for it."""

    step: Step
    causes: list[str]
    recheck: int


def what_to_do(table: Table, numbered: Numbered, on: Numbers, *, hazard: bool = False) -> tuple[ToDo, ...]:
    """Return the steps in the order of doing; a hazard to people puts everything else off.

    `on`: P(cause), shape (causes,).
    """
    chance = dict(zip(table.causes, on.tolist(), strict=True))
    if hazard:
        return tuple(_shared(table, (HAZARD,)))
    if worst(table, chance) < SAFE:
        return _leave_it(table, chance)
    meant = list(_meant(table, chance))
    useful = _useful(table, numbered, meant)
    todo = [
        _todo(one.step, how_useful, sorted(one.causes, key=lambda key: -chance[key]), one.recheck)
        for one, how_useful in zip(meant, useful, strict=True)
        if how_useful >= needed(one.step) or (one.step.use in ALWAYS and one.step.use != CARRY)
    ]
    return tuple(_in_order(table, todo))


def _todo(step: Step, useful: float, causes: Sequence[str], recheck: int) -> ToDo:
    return ToDo(
        step=step.step,
        who=step.who,
        caution=step.caution,
        when=step.when,
        useful=useful,
        causes=tuple(causes),
        recheck=recheck,
        wait_days=step.wait_days,
        people=step.people,
        pesticide=step.pesticide,
        use=step.use,
    )


def worst(table: Table, chance: Mapping[str, float]) -> float:
    """Return the chance of the likeliest cause that asks for something to be done."""
    causes = table.known.causes
    return max((p for key, p in chance.items() if key in causes and causes[key].kind not in HARMLESS), default=0.0)


def needed(step: Step) -> float:
    """Return how sure one must be before a step is taken."""
    return KILLING if step.pesticide else SAFE if step.harmless else SURE


def acts(table: Table, on: Numbers) -> frozenset[str]:
    """Return the steps that would be taken at these probabilities, plainly: each by its likeliest cause."""
    chance = dict(zip(table.causes, on.tolist(), strict=True))
    if worst(table, chance) < SAFE:
        return frozenset()
    best: dict[str, tuple[Step, float]] = {}
    for cause in _asked_for(table, chance):
        for step in map(table.known.step, cause.do):
            if chance[cause.key] > best.get(step.step, (step, 0.0))[1]:
                best[step.step] = (step, chance[cause.key])
    return frozenset(words for words, (step, p) in best.items() if p >= needed(step))


def _asked_for(table: Table, chance: Mapping[str, float]) -> Iterator[Cause]:
    """Yield the causes whose steps count, the likeliest first."""
    causes = table.known.causes
    for key in sorted(causes, key=lambda one: -chance[one]):
        if chance[key] < SAFE / 4:
            return
        if causes[key].kind not in HARMLESS:
            yield causes[key]


def _meant(table: Table, chance: Mapping[str, float]) -> Iterator[_Meant]:
    """Yield each step once, with every cause that asks for it; first those that are right for anything."""
    found: dict[str, _Meant] = {}
    asking = list(_asked_for(table, chance))
    soonest = min((cause.recheck for cause in asking if chance[cause.key] >= SAFE), default=7)
    stays_put = any(cause.stays_put and chance[cause.key] >= SAFE for cause in asking)
    for key in ALWAYS:
        if key in table.known.steps and not (key == CARRY and stays_put):
            step = table.known.step(Step(use=key, when="now"))
            asked_by = [cause.key for cause in asking if cause.spreads or key != CARRY]
            found[step.step] = _Meant(step, asked_by, soonest)
    unsafe = [cause.key for cause in asking if cause.eat == "no"]
    if unsafe and NO_FOOD in table.known.steps:
        step = table.known.step(Step(use=NO_FOOD, when="now"))
        found[step.step] = _Meant(step, unsafe, soonest)
    harmless = [one for one in table.known.causes.values() if one.kind in HARMLESS and chance[one.key] >= SAFE]
    for cause in (*asking, *harmless):
        for step in map(table.known.step, cause.do):
            if (cause.kind in HARMLESS and not step.people) or (step.use == CARRY and stays_put):
                continue
            one = found.setdefault(step.step, _Meant(step, [], cause.recheck))
            if cause.key not in one.causes:
                one.causes.append(cause.key)
    yield from found.values()


def _useful(table: Table, numbered: Numbered, meant: list[_Meant]) -> list[float]:
    """Return P(at least one of a step's causes is there) for each step, exactly: 1 - P(none of them | evidence)."""
    sets = list(dict.fromkeys(frozenset(one.causes) for one in meant))
    if not sets:
        return []
    prior = np.repeat(numbered.prior[None, :], len(sets) + 1, axis=0)
    none_of = np.zeros(len(sets))
    for at, keys in enumerate(sets):
        columns = [table.column[key] for key in keys]
        none_of[at] = np.log1p(-numbered.prior[columns]).sum()
        prior[at, columns] = 0.0
    stays = np.broadcast_to(numbered.stays, prior.shape)
    log_evidence = solve(prior, stays, numbered.gives, numbered.leak).log_evidence
    useful = 1.0 - np.exp(none_of + log_evidence[:-1] - log_evidence[-1])
    by_set = dict(zip(sets, useful.tolist(), strict=True))
    return [by_set[frozenset(one.causes)] for one in meant]


def _in_order(table: Table, todo: list[ToDo]) -> Iterator[ToDo]:
    rank = {key: step.rank for key, step in table.known.steps.items()}
    for when, most in MOST.items():
        these = [one for one in todo if one.when == when]
        these.sort(
            key=lambda one: (
                not one.people,
                one.pesticide,
                rank.get(one.use, OWN) if when == "now" else 0,
                -one.useful,
            )
        )
        yield from these[:most]


def _leave_it(table: Table, chance: Mapping[str, float]) -> tuple[ToDo, ...]:
    """Nothing asks for anything: say so, with the harmless causes that are there."""
    harmless = [key for key, cause in table.known.causes.items() if cause.kind in HARMLESS and chance[key] >= SURE]
    harmless.sort(key=lambda key: -chance[key])
    found: dict[str, ToDo] = {}
    for key in harmless:
        cause = table.known.causes[key]
        for step in map(table.known.step, cause.do):
            if not step.pesticide:
                found.setdefault(step.step, _todo(step, chance[key], (key,), cause.recheck))
    if not found:
        return tuple(_shared(table, MEANWHILE))
    return tuple(_in_order(table, list(found.values())))


def _shared(table: Table, keys: tuple[str, ...]) -> Iterator[ToDo]:
    """Yield shared steps that no cause asks for."""
    for key in keys:
        if key in table.known.steps:
            step = table.known.step(Step(use=key, when="now", people=key == HAZARD))
            yield _todo(step, 0.0, (), 1)
