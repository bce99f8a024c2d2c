"""A reading held against what crops want of it, alone or together: the judging, and how one writes it."""

from collections.abc import Iterator, Sequence

import msgspec
from msgspec import Struct

from walkabout.growing import bands_published as published
from walkabout.growing.bands import Shared, shared
from walkabout.growing.bands_published import Plant, Wanted
from walkabout.growing.crops import Range
from walkabout.reckon.write import amount

NEAR = 1e-9
PEN = 0.2
"""No meter of a school holds anybody to one pH: so much on either side is near enough (common practice)."""


class Asked(Struct, frozen=True):
    """One quantity: its field, its name in the crop table, its unit."""

    key: str
    quantity: str
    unit: str

    @property
    def name(self) -> str:
        """How one says it."""
        return published.QUANTITIES[self.quantity]


ASKED = (
    Asked("ec", "ec", "mS/cm"),
    Asked("ph", "ph", "pH"),
    Asked("solution", "solution", "°C"),
    Asked("air", "day", "°C"),
    Asked("night", "night", "°C"),
    Asked("rh", "humidity", "%"),
    Asked("dli", "light", "mol/m²/d"),
    Asked("hours", "hours", "h"),
)


class Judged(Struct, frozen=True):
    """What the crops want of one quantity, and what a reading is against it."""

    asked: Asked
    each: tuple[tuple[Plant, Wanted], ...]
    together: Shared
    reading: float | None
    water_ec: float
    verdict: str
    """'in range', 'low', 'high', 'suits neither'; empty without a reading."""

    @property
    def ends(self) -> tuple[float, float]:
        """The lower and the upper value that count, also where nothing suits all."""
        low, high = sorted((self.together.least.value, self.together.most.value))
        return low, high

    @property
    def compromise(self) -> float:
        """The middle of the gap where nothing suits all."""
        return sum(self.ends) / 2

    @property
    def names(self) -> str:
        """The crops that have a figure."""
        return listed([plant.name for plant, _ in self.each])

    @property
    def sources(self) -> tuple[str, ...]:
        """Whose figures they are, each once."""
        return tuple(dict.fromkeys(wanted.range.source for _, wanted in self.each))

    @property
    def above_water(self) -> bool:
        """Whether any figure is counted above the source water."""
        return any(wanted.above_water for _, wanted in self.each)

    @property
    def one_figure(self) -> bool:
        """Whether the pH misses a single figure by no more than a pen can tell."""
        low, high = self.ends
        missed = self.reading is not None and low - PEN - NEAR <= self.reading <= high + PEN + NEAR
        return self.asked.key == "ph" and self.verdict in ("low", "high") and high - low < NEAR and missed


def judge(
    asked: Asked, plants: Sequence[Plant], reading: float | None, follow: str | None, water_ec: float
) -> Judged | None:
    """Return what the plants want of a quantity and what the reading is; None when no figure is known."""
    each = tuple((one, found) for one in plants if (found := published.wanted(one, asked.quantity, follow)) is not None)
    if not each:
        return None
    together = shared([(plant.name, lifted(found, water_ec)) for plant, found in each])
    verdict = "" if reading is None else _verdict(together, reading)
    return Judged(asked, each, together, reading, water_ec, verdict)


def others(one: Judged, follow: str | None) -> Iterator[tuple[str, Plant, Wanted, str]]:
    """Yield (set, plant, its range, verdict) by the other sets; with a reading only where the verdict differs."""
    for plant, wanted in one.each:
        for name, other in published.others(plant, one.asked.quantity, follow):
            if one.reading is None:
                yield name, plant, other, ""
                continue
            own, theirs = (
                _verdict(shared([(plant.name, lifted(found, one.water_ec))]), one.reading) for found in (wanted, other)
            )
            if own != theirs:
                yield name, plant, other, theirs


def suited(one: Judged) -> tuple[str, ...]:
    """Return the names of the crops that the reading suits, each by itself."""
    if one.reading is None:
        return ()
    return tuple(
        plant.name
        for plant, wanted in one.each
        if _verdict(shared([(plant.name, lifted(wanted, one.water_ec))]), one.reading) == "in range"
    )


def lifted(found: Wanted, water_ec: float) -> Range:
    """Return the range; one that is counted above the source water is higher by what the water has."""
    if not found.above_water:
        return found.range
    low, high = found.range.low + water_ec, found.range.high + water_ec
    return msgspec.structs.replace(found.range, low=round(low, 9), high=round(high, 9))


def said(value: float, unit: str) -> str:
    """Write a value of a band with as many decimals as it needs: 'pH 6.0', '1.15 mS/cm', '18 °C'."""
    return amount(value, unit, decimals(unit, value))


def span(band: Range, unit: str) -> str:
    """Write a band: '1.2 to 1.8 mS/cm', 'pH 6.0 to 7.0'; one figure where both ends are the same."""
    if band.low == band.high:
        return said(band.low, unit)
    low, high = said(band.low, unit), said(band.high, unit)
    return f"{low} to {high.removeprefix('pH ')}" if unit == "pH" else f"{low.partition(' ')[0]} to {high}"


def decimals(unit: str, *values: float) -> int:
    """Return how many decimals the values need, at least one for EC and pH, at most two."""
    least = 1 if unit in ("pH", "mS/cm") else 0
    return next((d for d in (0, 1) if d >= least and all(round(v, d) == round(v, 6) for v in values)), 2)


def listed(names: Sequence[str]) -> str:
    """Write names, each once: 'basil, mint and dill'."""
    *before, last = dict.fromkeys(names)
    return f"{', '.join(before)} and {last}" if before else last


def _verdict(together: Shared, reading: float) -> str:
    low, high = sorted((together.least.value, together.most.value))
    # Where nothing suits all, an end suits one side and is wrong for the other.
    slack = -NEAR if together.conflict else NEAR
    if reading < low - slack:
        return "low"
    if reading > high + slack:
        return "high"
    return "suits neither" if together.conflict else "in range"
