"""What is in hand of a crop: its standing plantings, how they ripen, and how many of their plants are left."""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from math import ceil

from msgspec import Struct

from walkabout.almanac.chances import Part
from walkabout.almanac.model import Basis
from walkabout.almanac.pace import Learned, own_factor
from walkabout.almanac.way import Paces, Way, toward
from walkabout.almanac.work_back import doubt
from walkabout.growing.crops import Crop
from walkabout.growing.picking import lasts
from walkabout.records.model import Planting, Promise

REGROWS_DAYS = 14
"""What is cut again and again has grown back after so many days. Assumed."""

OVER = 0.9
"""A planting is past its best once it was ready, with so much chance, longer ago than its crop can be held."""

FOR_EVER = 366.0
"""Days for which a crop can be held where nothing limits it within the year that is reckoned ahead."""


class When(Struct, frozen=True):
    """What would be otherwise: see ways_out."""

    quicker: Mapping[str, float] = {}
    """By station: the days ahead are divided by it."""
    early: int = 0
    """Cut so many days before it is full-grown."""
    extra: tuple[Part, ...] = ()
    """More, sown on purpose."""


AS_IT_IS = When()


class Plot(Struct, frozen=True):
    """A planting that a promise may be met from."""

    planting: Planting
    way: Way | None
    """Its way to the harvest; None once that has begun."""
    today: date
    survival: float
    """The share of what stands today that reaches the harvest, on average."""
    alike: float
    """See chances.Part."""
    holds: float
    """Days for which it can be picked or held once it is ready."""

    def ready(self, day: date, quicker: float = 1.0) -> float:
        """Return the chance that it is ready by a day; the days still to come are divided by `quicker`.

        As course.ready_by: that nobody has picked yet does not make it less ready.
        """
        if self.way is None:
            return 1.0
        age, ahead = (self.today - self.planting.sown).days, (day - self.today).days
        return self.way.by(age + ahead * (quicker if ahead > 0 else 1.0))

    def best(self, day: date, quicker: float = 1.0) -> float:
        """Return the chance that it is not past its best on a day.

        It holds for its crop's days after it was ready with nine chances in ten; from then on the chance falls
        evenly, to none after as many days again (assumed).
        """
        if self.way is None:
            since = min(one.day for one in self.planting.pickings)
        else:
            surely = ceil(self.way.within(OVER))
            age = (self.today - self.planting.sown).days
            if surely > age:
                surely = age + ceil((surely - age) / quicker)
            since = self.planting.sown + timedelta(days=surely)
        past = (day - since).days - self.holds
        return min(max(1.0 - past / self.holds, 0.0), 1.0) if self.holds > 0 else float(past <= 0)

    def over(self, day: date, quicker: float = 1.0) -> bool:
        """Say whether it is likelier past its best on a day than not."""
        return self.best(day, quicker) < 0.5

    def part(self, day: date, when: "When") -> Part:
        """Return what it may bring on a day; nothing while it stands apart and once it is surely past its best."""
        quicker = when.quicker.get(self.planting.station, 1.0) if when.quicker else 1.0
        if self.planting.apart_until is not None and day < self.planting.apart_until:
            return NONE
        ready = self.ready(day + timedelta(days=when.early), quicker)
        # what is not ready by now cannot be past its best
        if ready >= OVER:
            ready *= self.best(day, quicker)
        return Part(self.planting.count, ready, self.survival, self.alike) if ready > 0 else NONE


NONE = Part(0, 0.0, 1.0)
"""A planting that brings nothing."""


def plots_of(crop: Crop, basis: Basis, learned: Mapping[str, Learned]) -> tuple[Plot, ...]:
    """Return the standing plantings of a crop, those that are ready first at the front.

    What dies from now on is the share of the losses that belongs to the days still ahead: losses are taken as even
    over the days from sowing to harvest (assumed).
    """
    own, held, paces = own_factor(crop, learned), lasts(crop), Paces(basis.conditions, learned)
    table = paces.table(crop, "harvest")
    if table is None or not crop.eaten:
        return ()
    found = []
    for planting in basis.standing:
        if planting.count <= 0 or not is_of(planting.crop, crop, basis):
            continue
        way = None if planting.pickings else toward(planting, crop, "harvest", paces)
        survives = 1.0
        if way is not None:
            ahead = way.law.median - way.usual((basis.today - planting.sown).days)
            survives = own.survival ** min(max(ahead / (table.median * own.factor), 0.0), 1.0)
        holds = held.days if held is not None else FOR_EVER
        found.append(Plot(planting, way, basis.today, survives, doubt(own), holds))
    return tuple(sorted(found, key=lambda one: (-one.ready(basis.today), one.planting.sown, one.planting.key)))


def regrows(crop: Crop) -> bool:
    """Say whether a crop is cut or picked again and again rather than taken whole."""
    found = lasts(crop)
    if crop.group in ("herb", "fruiting", "legume"):
        return True
    return crop.group == "leafy" and found is not None and found.days > REGROWS_DAYS


def delivered(promise: Promise, portion: float | None, plantings: Iterable[Planting]) -> float:
    """Return what was picked for a promise already, in its unit; `portion` in g turns grams into portions."""
    total = 0.0
    for planting in plantings:
        for one in planting.pickings:
            if one.promise != promise.key:
                continue
            if promise.unit == "heads":
                total += one.count
            elif promise.unit == "g":
                total += one.grams or 0.0
            elif one.portions is not None:
                total += one.portions
            elif one.grams is not None and portion:
                total += one.grams / portion
    return total


def is_of(name: str, crop: Crop, basis: Basis) -> bool:
    """Say whether a crop as written in a record is this one."""
    if name == crop.key:
        return True
    if name in basis.crops.of:
        return False
    found = basis.crops.find(name)
    return found is not None and found.key == crop.key
