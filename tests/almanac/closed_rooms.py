"""Small rooms that nobody comes to, and what stands in them, for the tests of closures."""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from walkabout.almanac.model import Basis, Course, Expected, Span, TankSeen
from walkabout.checklist.model import Checklist, Fault, Store
from walkabout.growing.crops import load
from walkabout.records.model import Move, Planting
from walkabout.room.model import Lamp, Pump, Room, Station, Tank

CROPS = load()
FRIDAY = date(2026, 12, 4)
"""The last open day: today, in these rooms, unless told otherwise."""
MONDAY_AFTER = date(2026, 12, 7)

TANK = Store(water="tank", ml=(10, 40), fails="the film stops", source="assumed")
POTS = Store(ml=(300, 375), fails="the pots dry out", saves=("Set thirsty pots on a wet mat",), source="assumed")
CASE = Store(water="nothing", days=(21, 60), fails="the air inside dries; sun cooks it", source="common practice")
PLUGS = Store(
    ml=(6, 12), fails="the plugs dry out", saves=("Lay a wet mat under the plugs",), dark=False, source="assumed"
)


def station(key: str, kind: str = "film", **more: object) -> Station:
    return Station(key=key, name=f"The {key}", kind=kind, **more)  # type: ignore[arg-type]


def planting(crop: str, place: str, count: int, *, days: int = 300, key: str = "", until: date = FRIDAY) -> Planting:
    """Return a planting sown so many days before a day; 300 days make anything full grown."""
    sown = until - timedelta(days=days)
    return Planting(
        key=key or f"p-{place}-{crop}", crop=crop, sown=sown, count=count, moves=(Move(day=sown, station=place),)
    )


def checklist(kind: str, store: Store | None, faults: Mapping[str, Fault] | None = None) -> Checklist:
    return Checklist(kind=kind, title=kind, store=store, fault=dict(faults or {}))


def basis(
    stations: Iterable[Station],
    plantings: Iterable[Planting],
    stores: Mapping[str, Checklist],
    *,
    tanks: Mapping[str, float] | None = None,
    seen: Mapping[str, TankSeen] | None = None,
    today: date = FRIDAY,
    **room: object,
) -> Basis:
    """Return a basis of a room; `tanks` by key in litres, filled on `today` unless `seen` says otherwise."""
    litres = dict(tanks or {})
    fields: dict[str, object] = {
        "lamps": {"bar": Lamp(hours=16, on="06:00")},
        "pumps": {"one": Pump(), "air": Pump(moves="air")},
    }
    made = Room(
        stations=tuple(stations),
        tanks={key: Tank(litres=value) for key, value in litres.items()},
        **(fields | room),  # type: ignore[arg-type]
    )
    known = dict(seen) if seen is not None else {key: TankSeen(topped=today, changed=today) for key in litres}
    return Basis(room=made, crops=CROPS, checklists=dict(stores), today=today, plantings=tuple(plantings), tanks=known)


def course(one: Planting, ready: date, until: date | None) -> Course:
    """Return a course that is ready on a day, five days early and late, and keeps its place until another."""
    spread = timedelta(days=5)
    crop = CROPS.find(one.crop)
    stage = Expected(stage="harvest", span=Span(ready - spread, ready, ready + spread))
    return Course(planting=one, name=crop.name if crop else one.crop, stages=(stage,), until=until)


def film_room(count: int, litres: float, *, crop: str = "lettuce", days: int = 300, **more: object) -> Basis:
    """Return a room of film channels alone, on a tank of so many litres."""
    return basis(
        [station("channels", tank="tub", pumps=("one",), lamps=("bar",))],
        [planting(crop, "channels", count, days=days)],
        {"film": checklist("film", TANK)},
        tanks={"tub": litres},
        **more,  # type: ignore[arg-type]
    )
