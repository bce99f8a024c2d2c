"""One promise with all that it depends on: what is in hand, what others take first, and the chance of enough."""

from collections.abc import Iterator, Mapping
from datetime import date
from math import ceil

from msgspec import Struct

from walkabout.almanac.chances import Mass, Part, Tally, enough, heavy_enough, mean, nothing, with_parts, without
from walkabout.almanac.hand import AS_IT_IS, REGROWS_DAYS, Plot, When, delivered, is_of, plots_of, regrows
from walkabout.almanac.model import Basis
from walkabout.almanac.pace import Learned
from walkabout.almanac.turns import Claim, turns_of
from walkabout.almanac.work_back import Need, need
from walkabout.growing.crops import Crop
from walkabout.records.model import Promise


class Case(Struct, frozen=True):
    """A promise with all that it depends on."""

    promise: Promise
    crop: Crop
    need: Need
    """What is still to come of it."""
    plots: tuple[Plot, ...]
    claims: tuple[Claim, ...]
    """The earliest first."""

    def tally(self, day: date, when: When = AS_IT_IS) -> Tally:
        """Return the chances of each number of plants for this promise on a day, earlier promises served first.

        Earlier promises take first what only they can use, and what is past its best by the day. What regrows by
        the day is taken from nobody.
        """
        claims = self._before(day)
        parts = [(one.planting.key, one.part(day, when)) for one in self.plots]
        over = {one.planting.key: one for one, (_, part) in zip(self.plots, parts, strict=True) if not part.plants}
        takes = [max(one.plants - sum(_brings(over, one.ready)), 0.0) for one in claims]
        empty = nothing(round(self.need.told + sum(takes)))
        below: list[float] = []
        for weight, turns in turns_of(parts, claims):
            tally = empty
            for place, take in enumerate(takes):
                if take > 0:
                    tally = without(with_parts(tally, [part for turn, part in turns if turn == place]), take)
            free = [part for turn, part in turns if turn == len(claims) or takes[turn] <= 0]
            tally = with_parts(tally, [*free, *when.extra])
            below = [
                one + weight * chance
                for one, chance in zip(below or [0.0] * len(tally.below), tally.below, strict=True)
            ]
        return Tally(tuple(below), empty.step)

    def chance(self, day: date, when: When = AS_IT_IS, grams: float = 1.0) -> float:
        """Return the chance that all of it is there on a day; a plant weighs the share `grams` of its usual mass."""
        return self.met(self.tally(day, when), grams)

    def met(self, tally: Tally, grams: float = 1.0, share: float = 1.0) -> float:
        """Return the chance that what is in hand is enough for a `share` of the promise; `grams` as in `chance`."""
        if self.need.plants <= 0:
            return 1.0
        mass = self.need.mass
        if self.need.grams is None or mass is None:
            return enough(tally, ceil(self.need.plants * share - 1e-9))
        return heavy_enough(tally, self.need.grams * share, Mass(mass.grams * grams, mass.doubt, mass.scatter))

    def expected(self, day: date) -> float:
        """Return the plants that are left for it on average, surplus included."""
        parts = [one.part(day, AS_IT_IS) for one in self.plots]
        claims = self._before(day)
        alone = sum(one.plants * one.ready * one.survival for one in parts) - sum(one.plants for one in claims)
        return max(alone, mean(self.tally(day)))

    def in_unit(self, plants: float) -> float:
        """Return plants in the unit of the promise."""
        if self.need.grams is None or self.need.mass is None:
            return plants
        grams = plants * self.need.mass.grams
        return grams / self.need.portion if self.need.portion else grams

    def _before(self, day: date) -> list[Claim]:
        """Return the claims that are met before this promise when it is for that day."""
        due = (one for one in self.claims if one.day < day or (one.first and one.day == day))
        return [one for one in due if not self._grown_back(one, day)]

    def _grown_back(self, claim: Claim, day: date) -> bool:
        return not claim.whole and regrows(self.crop) and (day - claim.day).days >= REGROWS_DAYS


def case(promise: Promise, crop: Crop, basis: Basis, learned: Mapping[str, Learned]) -> Case:
    """Return a promise with what is in hand for it; raises ValueError where its amount cannot be turned into plants."""
    plots = plots_of(crop, basis, learned)
    named = promise.plantings
    ours = [one for one in plots if not named or one.planting.key in named]
    others = [one for one in plots if named and one.planting.key not in named]
    ahead = (one for one in basis.promises if one.closed is None and one.day >= basis.today)
    every = sorted((one for one in ahead if is_of(one.crop, crop, basis)), key=_turn)
    claims = tuple(
        _claim(one, _plants_of(one, crop, basis, learned), ours, others, first=_turn(one) < _turn(promise))
        for one in every
        if one.key != promise.key
    )
    still = _still(promise, crop, basis, learned)
    return Case(promise, crop, still, tuple(ours), tuple(one for one in claims if one.plants > 0))


def _claim(other: Promise, plants: float, ours: list[Plot], others: list[Plot], *, first: bool) -> Claim:
    """Return what another promise takes out of `ours`: first it takes what only it can use."""

    def usable(plots: list[Plot]) -> list[tuple[str, Part]]:
        may = [one for one in plots if not other.plantings or one.planting.key in other.plantings]
        return [(one.planting.key, one.part(other.day, AS_IT_IS)) for one in may]

    here, elsewhere = usable(ours), usable(others)
    rest = max(plants - sum(part.plants * part.ready * part.survival for _, part in elsewhere), 0.0) if here else 0.0
    ready = {key: part.ready for key, part in here if part.plants}
    return Claim(other.day, rest, ready, whole=other.unit == "heads", first=first)


def _plants_of(other: Promise, crop: Crop, basis: Basis, learned: Mapping[str, Learned]) -> float:
    """Return the plants that another promise still takes; none where nobody can say."""
    try:
        return _still(other, crop, basis, learned).plants
    except ValueError:
        return 0.0


def _brings(over: Mapping[str, Plot], ready: Mapping[str, float]) -> Iterator[float]:
    """Yield what an earlier promise gets on average from plantings that are past their best later."""
    for key, chance in ready.items():
        if key in over:
            yield over[key].planting.count * over[key].survival * chance


def _still(promise: Promise, crop: Crop, basis: Basis, learned: Mapping[str, Learned]) -> Need:
    """Return what is still to come of a promise."""
    whole = need(crop, promise.amount, promise.unit, learned)
    rest = promise.amount - delivered(promise, whole.portion, basis.plantings)
    if rest <= 1e-9:
        return Need(0, None, whole.mass, whole.portion, whole.working)
    return whole if rest == promise.amount else need(crop, rest, promise.unit, learned)


def _turn(promise: Promise) -> tuple[date, float, str]:
    return promise.day, promise.made.timestamp(), promise.key
