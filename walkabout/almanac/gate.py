"""Before anybody eats: what forbids it, and what an adult answers first. There is no way around a waiting time.

The gate informs; whether the harvest is eaten is for the school, its local authority and licensed people to say.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping
from datetime import date, datetime, timedelta
from functools import cache
from typing import Literal

from msgspec import Struct

from walkabout.almanac.gate_checks import Check, checks_for
from walkabout.almanac.model import Basis
from walkabout.records.model import Finding, Planting, Treatment
from walkabout.records.sums import edible_from
from walkabout.room.model import WHOLE_ROOM, Who, may

UNDECIDED = ("today", "now", "stop")
"""Verdicts of a finding that forbid eating until it is closed or its cause is known."""

Eat = Mapping[str, str]
"""Cause key -> 'yes', 'clean parts' or 'no'."""
BlockKind = Literal["waiting", "waiting not known", "touching", "finding", "apart", "not food"]


class Block(Struct, frozen=True, kw_only=True):
    """Why it may not be done now."""

    kind: BlockKind
    says: str
    """One sentence."""
    ends: str
    """What would end it, one sentence."""
    planting: str
    until: date | None = None
    """The first day on which it no longer holds, where that is known."""


class Gate(Struct, frozen=True, kw_only=True):
    """Whether plants may be picked; for eating also what an adult answers before."""

    open: bool
    """Nothing forbids it. For eating, every check must still be answered with yes."""
    blocks: tuple[Block, ...] = ()
    checks: tuple[Check, ...] = ()
    warns: tuple[str, ...] = ()
    """What to look at, one sentence each; it forbids nothing."""


def gate(
    plantings: Iterable[Planting],
    basis: Basis,
    day: date,
    eating: bool = True,  # noqa: FBT001, FBT002 - called so by others
    *,
    eats: Eat | None = None,
    now: datetime | None = None,
) -> Gate:
    """Say whether these plantings may be picked on a day, to be eaten or not.

    `eats` says of causes whether people may eat; None reads the shipped knowledge, only where a finding has a
    confirmed cause. With `now` the hours until plants may be touched end at their moment; without it the day on
    which they end still counts whole.
    """
    these = tuple(plantings)
    blocks = [block for one in these for block in _touching(one, basis, day, now)]
    blocks += [block for one in these for block in _findings(one, basis, eats, eating=eating)]
    if eating:
        blocks += [block for one in these for block in _eating(one, basis, day)]
    return Gate(
        open=not blocks and bool(these),
        blocks=tuple(blocks),
        checks=checks_for(these, basis) if eating else (),
        warns=tuple(dict.fromkeys(says for one in these for says in _warns(one, basis, eats))) if eating else (),
    )


def refused(found: Gate, yes: Collection[str], role: Who) -> str:
    """Return why nobody may eat yet, one sentence, or '' when everything is answered.

    `yes` are the ids of the checks that were answered with yes, `role` the role of who answered.
    """
    if not found.open:
        return found.blocks[0].says if found.blocks else "Nothing is there to be picked."
    if found.checks and not may(role, "adult"):
        return "An adult answers before anybody eats: fetch one."
    left = [one for one in found.checks if one.id not in yes]
    return f"Not to be eaten yet. Not answered with yes: {left[0].ask}" if left else ""


def waits(planting: Planting, basis: Basis) -> tuple[Treatment, ...]:
    """Return the treatments that this planting got, the latest first."""
    got = (one for one in basis.treatments if _was_treated(planting, one, basis))
    return tuple(sorted(got, key=lambda one: (one.day, one.at), reverse=True))


# what forbids it


def _eating(planting: Planting, basis: Basis, day: date) -> Iterator[Block]:
    crop = basis.crop(planting)
    name = crop.name if crop else planting.crop
    if crop is not None and not crop.eaten:
        says = f"{_capital(name)} is not food."
        yield Block(kind="not food", says=says, ends="It never is.", planting=planting.key)
    for one in waits(planting, basis):
        until = edible_from(one)
        on = f"{_day(one.day)}: {one.what}"
        if until is None:
            yield Block(
                kind="waiting not known",
                says=f"{_capital(name)}: how long to wait after what was put on it on {on} is not known.",
                ends="An adult fills in the days from the label.",
                planting=planting.key,
            )
        elif day < until:
            yield Block(
                kind="waiting",
                says=f"{_capital(name)}: not to be eaten before {_day(until)}, after what was put on it on {on}.",
                ends=f"It is over on {_day(until)}; nobody can make it shorter.",
                planting=planting.key,
                until=until,
            )
    if planting.apart_until is not None and day < planting.apart_until:
        yield Block(
            kind="apart",
            says=f"{_capital(name)} came from outside and stands apart until {_day(planting.apart_until)}.",
            ends="Then it may be eaten, if the looks at it were clean.",
            planting=planting.key,
            until=planting.apart_until,
        )


def _touching(planting: Planting, basis: Basis, day: date, now: datetime | None) -> Iterator[Block]:
    """Yield what keeps hands off the plants, whatever they are picked for."""
    for one in waits(planting, basis):
        if not one.entry_hours:
            continue
        # written down later than it was done: counted from the end of its day
        begun = one.at if one.at.date() == one.day else one.at.replace(hour=23, minute=59) - (one.at.date() - one.day)
        until = begun + timedelta(hours=one.entry_hours)
        over = now >= until if now is not None and now.date() == day else day > until.date()
        if not over:
            yield Block(
                kind="touching",
                says=f"Nobody touches these plants before {until:%H:%M} on {_day(until.date())}: {one.what}.",
                ends="It ends by itself.",
                planting=planting.key,
                until=until.date() + timedelta(days=1),
            )


def _findings(planting: Planting, basis: Basis, eats: Eat | None, *, eating: bool) -> Iterator[Block]:
    for finding, about in _about(planting, basis):
        if finding.verdict == "stop" or (eating and about and _forbids(finding, eats)):
            sure = finding.cause and finding.verdict != "stop"
            yield Block(
                kind="finding",
                says=f"{basis.name_of(finding.station)}, open since {_day(finding.at.date())}: {finding.seen}. "
                + ("Nothing is eaten from plants with this cause." if sure else "It is not decided yet."),
                ends="An adult closes the finding once it is dealt with"
                + (", or says what it turned out to be." if not finding.cause else "."),
                planting=planting.key,
            )


def _warns(planting: Planting, basis: Basis, eats: Eat | None) -> Iterator[str]:
    for finding, about in _about(planting, basis):
        if finding.verdict == "stop" or (about and _forbids(finding, eats)):
            continue
        if finding.station == WHOLE_ROOM:
            continue
        clean = about and finding.cause and _eat(finding.cause, eats) == "clean parts"
        do = "take only parts without marks, and wash them" if clean else "look again before picking"
        yield f"Open at {basis.name_of(finding.station)}: {finding.seen}; {do}."


def _forbids(finding: Finding, eats: Eat | None) -> bool:
    """Say whether an open finding about these very plants or their station forbids eating."""
    if finding.cause:
        eat = _eat(finding.cause, eats)
        # a cause that the knowledge has no longer says nothing: the verdict counts again
        if eat:
            return eat == "no"
    return finding.verdict in UNDECIDED


def _about(planting: Planting, basis: Basis) -> Iterator[tuple[Finding, bool]]:
    """Yield the open findings here, and whether each is about these plants rather than others beside them."""
    family = _family(planting, basis)
    for one in basis.findings:
        if one.closed is not None:
            continue
        if one.planting in family:
            yield one, True
        elif one.station == planting.station:
            known = any(other.key == one.planting for other in basis.plantings)
            yield one, not (one.planting and known)
        elif one.station == WHOLE_ROOM:
            yield one, False


def _was_treated(planting: Planting, one: Treatment, basis: Basis) -> bool:
    """Say whether a planting stood where the treatment was given, and was meant by it."""
    if one.station not in (*_stood_at(planting, one.day), WHOLE_ROOM):
        return False
    if not one.planting or one.planting in _family(planting, basis):
        return True
    # a planting that is on record no longer: all that stood there may have been it
    return all(other.key != one.planting for other in basis.plantings)


def _stood_at(planting: Planting, day: date) -> tuple[str, ...]:
    """Return the stations at which it stood on a day: two or more when it was moved that day."""
    before = [move.station for move in planting.moves if move.day < day][-1:]
    return (*before, *(move.station for move in planting.moves if move.day == day))


def _family(planting: Planting, basis: Basis) -> frozenset[str]:
    """Return its key and those of the plantings that it was a part of."""
    parents = {one.key: one.parted_from for one in basis.plantings if one.parted_from}
    found, key = {planting.key}, planting.parted_from
    while key and key not in found:
        found.add(key)
        key = parents.get(key, "")
    return frozenset(found)


def _eat(cause: str, eats: Eat | None) -> str:
    """Return whether people may eat from a plant with this cause, '' where nobody knows."""
    return (_known() if eats is None else eats).get(cause, "")


@cache
def _known() -> dict[str, str]:
    """Read whether people may eat, cause by cause; nothing is known where the knowledge cannot be used."""
    from walkabout.diagnosis.knowledge import NotUsable, read_knowledge  # noqa: PLC0415 - seldom needed, and slow

    try:
        known = read_knowledge()
    except (NotUsable, OSError):
        return {}
    return {cause.key: cause.eat for cause in (*known.causes.values(), *known.reasons.values())}


def _day(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
