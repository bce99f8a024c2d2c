"""What is likeliest to have gone wrong by the first morning back, by what it would cost."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from math import exp

from msgspec import Struct

from walkabout.almanac.drinking import later
from walkabout.almanac.model import Basis, Lasting
from walkabout.almanac.supply import Held
from walkabout.checklist.model import Checklist, Fault, Needs
from walkabout.room.model import WHOLE_ROOM, Room, Station

TOP = 8
PEOPLE = 3
"""So many dangers to people stand first, one of a kind for the whole room; what plants lose comes after. Assumed."""
BY_HAND = frozenset(
    (
        *("animals-kept", "dirty-blade", "guard-off", "label-lost", "lamp-too-far", "lid-late", "mat-soaked"),
        *("meter-wrong", "new-pest", "no-spare", "no-supplies", "open-chemicals", "open-hole", "overwatered"),
        *("pests-brought", "plant-in-reach", "poor-stand", "sap-unlabelled", "soft-plants", "spines-reachable"),
        *("stale-mist", "too-strong", "too-weak", "too-wet", "unsafe-cut", "unsafe-seed", "weaned-too-fast"),
        *("wet-mix", "wet-plugs", "wrong-season", "wrong-water", "dry-mix", "dry-plugs", "mat-dry"),
        *("missed-harvest", "overdue-move"),
    )
)
"""Faults that begin by what somebody does or forgets on an open day: not while nobody comes."""
RUNS_DRY = ("tank-low", "trough-low", "thirsty", "too-dry", "dry-air")
"""Faults that the forecast tells of itself, where it says that a station runs dry."""
RESERVE_LEFT = "the tank is down to its reserve"
STOPPED = ("pump-stopped", "flow-stopped", "no-flood")
"""Faults that are one and the same for whoever comes back: nothing reaches the roots."""
PAST: tuple[tuple[str, str], ...] = (
    (" dry out", " {have} dried out"),
    (" dries slowly", " {has} dried"),
    (" dries", " {has} dried"),
    (" is down to", " {has} come down to"),
    (" runs", " {has} run"),
    (" falls", " {has} fallen"),
    (" stops", " {has} stopped"),
    (" stop", " {have} stopped"),
    (" wrinkle", " {have} wrinkled"),
)
"""What a store's `fails` says, and how it is said once it lies behind."""


class Likely(Struct, frozen=True):
    """One fault at one station and what it is expected to cost, in shares of a station."""

    station: str
    fault: str
    says: str
    people: bool
    loss: float


def first_morning(
    basis: Basis, stations: Iterable[Held], away: float, dry: Mapping[str, str]
) -> tuple[tuple[str, str], ...]:
    """Return (station, what): dangers to people, then what has run dry by the forecast, then faults by expected loss.

    Expected loss: the chance that a fault has begun, 1 - exp(-rate × days away ÷ 7) for a Poisson process, times the
    share lost with it, of those whose hours to loss end before the return. `dry` says of a station what has failed.
    """
    found = sorted(_likely(basis, stations, away), key=lambda one: (-one.loss, one.station, one.fault))
    people: dict[str, Likely] = {}
    for one in found:
        if one.people:
            people.setdefault(one.fault, one)
    rows = {(one.station, one.fault): one.says for one in list(people.values())[:PEOPLE]}
    rows |= {(station, RUNS_DRY[0]): says for station, says in dry.items()}
    for one in found:
        if not one.people:
            rows.setdefault((one.station, _kind(one.fault)), one.says)
    return tuple(dict.fromkeys((station, says) for (station, _), says in rows.items()))[:TOP]


def _kind(fault: str) -> str:
    """Return one name for faults that are the same to whoever looks."""
    return RUNS_DRY[0] if fault in RUNS_DRY else STOPPED[0] if fault in STOPPED else fault


def dried(one: Held, lasting: Lasting, leaving: date, away: float) -> str:
    """Say what has run out at a station by the first morning back, as what lies behind.

    Where visits are planned it is so only if one was missed.
    """
    if not one.tank and one.store is None:
        return "it may have come to its end"
    says = RESERVE_LEFT if one.tank or one.store is None else one.store.fails
    what = says.partition(";")[0].partition(",")[0].rstrip(".")
    likely = lasting.likely_helped if lasting.fate == "lasts if" else lasting.likely
    certain = likely is not None and likely < away
    has, have = ("has probably", "have probably") if certain else ("may have", "may have")
    now, then = next(((now, then) for now, then in PAST if now in what), ("", ""))
    if not now:
        return f"look whether {what}"
    what = what.replace(now, then.format(has=has, have=have), 1)
    since = ""
    if certain and lasting.days is not None and lasting.days >= 1:
        since = f" since about {day_words(later(leaving, lasting.days))}"
    return f"{what}{since}{', if a visit was missed' if lasting.visits else ''}"


def _likely(basis: Basis, stations: Iterable[Held], away: float) -> Iterator[Likely]:
    room = basis.room
    for one in stations:
        checklist = basis.checklists.get(one.station.kind)
        if checklist is not None and one.plantings:
            yield from _of(checklist, one.station, room, away)
    if WHOLE_ROOM in basis.checklists:
        yield from _of(basis.checklists[WHOLE_ROOM], None, room, away)


def _of(checklist: Checklist, station: Station | None, room: Room, away: float) -> Iterator[Likely]:
    looked_for = {
        name for question in checklist.question if _can_be(question.needs, station, room) for name in question.reveals
    }
    for name, fault in checklist.fault.items():
        if name in BY_HAND or (checklist.question and name not in looked_for):
            continue
        if fault.hours >= away * 24:
            continue
        yield Likely(
            station.key if station is not None else WHOLE_ROOM,
            name,
            fault.says,
            fault.people,
            expected_loss(fault, away),
        )


def expected_loss(fault: Fault, away: float) -> float:
    """Return the chance that a fault has begun in so many days, times the share lost; people's dangers count whole."""
    chance = 1 - exp(-fault.per_week * away / 7)
    return chance * (1.0 if fault.people else fault.lost)


def _can_be(needs: Needs, station: Station | None, room: Room) -> bool:
    """Say whether what a question needs of the station itself is there; what grows there is not asked."""
    if station is None:
        return True
    kinds = {room.lamps[key].kind for key in station.lamps if key in room.lamps}
    moves = {room.pumps[key].moves for key in station.pumps if key in room.pumps}
    return (
        (not needs.lamp or bool(kinds))
        and (not needs.lamps or any(kind in kinds for kind in needs.lamps))
        and (needs.pump is None or needs.pump in moves)
        and (not needs.tank or bool(station.tank))
        and (not needs.kit or any(item in (*station.kit, *room.kit) for item in needs.kit))
    )


def day_words(day: date) -> str:
    """Say a day: 'Sat 19 Dec'."""
    return f"{day:%a} {day.day} {day:%b}"
