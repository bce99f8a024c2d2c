"""The range that suits everything that grows in one place or drinks from one tank.

The common range runs from the highest of the low ends to the lowest of the high ends. When these
cross, nothing suits all: the middle of the gap is then the value that misses least, and it is always
marked as suiting neither side.
"""

from collections.abc import Iterable, Sequence

from msgspec import Struct

from walkabout.growing.crops import Crop, Range
from walkabout.growing.units import METRIC, Scales, words


class End(Struct, frozen=True):
    """One end of a common range: the value, the crops that set it and where each has it from."""

    value: float
    names: tuple[str, ...]
    sources: tuple[str, ...]
    """Each source once, in the order of the crops."""


class Shared(Struct, frozen=True):
    """What several crops want together, in the unit of the ranges given.

    `least` is what is wanted at least, `most` what is wanted at most; with a conflict `least` is above
    `most`.
    """

    least: End
    most: End
    crops: int
    """How many different crops were asked."""

    @property
    def conflict(self) -> bool:
        """Whether no value suits all."""
        return self.least.value > self.most.value

    @property
    def range(self) -> tuple[float, float] | None:
        """The common range, both ends inside, or None when there is a conflict."""
        return None if self.conflict else (self.least.value, self.most.value)

    @property
    def compromise(self) -> float | None:
        """The middle of the gap, which suits neither side; None when a common range exists."""
        return (self.least.value + self.most.value) / 2 if self.conflict else None

    def says(self, unit: str, *, scales: Scales = METRIC) -> str:
        """Say the common range or the conflict in plain words, with units, names and sources.

        `unit` is the unit in which the ranges are stored; `scales` are what the room reads and writes.
        """
        if self.compromise is None:
            span = _span(self.least.value, self.most.value, unit, scales=scales)
            return f"{span}: the low end is {_by(self.least)}, the high end {_by(self.most)}."
        return (
            f"{_wants(self.least)} at least {_written(self.least.value, unit, scales=scales)} "
            f"({'; '.join(self.least.sources)}); {_wants(self.most)} at most "
            f"{_written(self.most.value, unit, scales=scales)} ({'; '.join(self.most.sources)}). "
            f"Nothing suits both: {_written(self.compromise, unit, scales=scales)} is the middle of the gap "
            "and suits neither."
        )


def shared(ranges: Sequence[tuple[str, Range]]) -> Shared:
    """Return what the crops want together.

    `ranges` are (crop's name, its range), all in one unit; the same crop may come more than once.
    Raises ValueError when there are none.
    """
    if not ranges:
        raise ValueError("no crop here has a range for this")
    least = max(one.low for _, one in ranges)
    most = min(one.high for _, one in ranges)
    return Shared(
        least=_end(least, [(name, one) for name, one in ranges if one.low == least]),
        most=_end(most, [(name, one) for name, one in ranges if one.high == most]),
        crops=len({name for name, _ in ranges}),
    )


def wanted(crops: Iterable[Crop], quantity: str) -> Shared | None:
    """Return what the crops want together of a quantity as checklists name it ('pH', 'humidity', ...).

    Crops that have no range for it do not count; None when no crop has one.
    """
    ranges = [(crop.name, one) for crop in crops if (one := crop.wants(quantity)) is not None]
    return shared(ranges) if ranges else None


def _end(value: float, setters: Iterable[tuple[str, Range]]) -> End:
    pairs = list(setters)
    return End(
        value=value,
        names=tuple(dict.fromkeys(name for name, _ in pairs)),
        sources=tuple(dict.fromkeys(one.source for _, one in pairs)),
    )


def _by(end: End) -> str:
    return f"set by {_joined(end.names)} ({'; '.join(end.sources)})"


def _wants(end: End) -> str:
    return f"{_joined(end.names)} {'wants' if len(end.names) == 1 else 'want'}"


def _joined(names: Iterable[str]) -> str:
    *others, last = dict.fromkeys(names)
    return f"{', '.join(others)} and {last}" if others else last


def _span(low: float, high: float, unit: str, *, scales: Scales) -> str:
    first, last = (_written(value, unit, scales=scales) for value in (low, high))
    if first == last:
        return first
    if unit == "pH":
        return f"{first} to {last.removeprefix('pH ')}"
    return f"{first.partition(' ')[0]} to {last}"


def _written(value: float, unit: str, *, scales: Scales) -> str:
    # As many decimals as the value needs, at most two: 5.6 beside 1.15 beside 20.
    decimals = next((d for d in (0, 1) if round(value, d) == round(value, 6)), 2)
    if unit == "pH":
        decimals = max(decimals, 1)
    return words(value, unit, scales, 1 if scales.us and unit == "°C" else decimals)
