"""The air of one day, reading by reading, and the diseases that it favours.

Temperatures in °C, relative humidity in %. The readings are evenly spaced; each stands for the time until
the next one.
"""

from collections.abc import Sequence

from msgspec import Struct

from walkabout.growing import disease

MOULD_HOURS = 8.0
"""Hours of a film of water that let grey mould in: University of Massachusetts Extension."""

_ORDER = ("no infection expected", "unlikely", "possible", "high")


class Spell(Struct, frozen=True):
    """Readings in a row, from `first` up to but not including `end`."""

    first: int
    end: int

    def hours(self, step: float) -> float:
        """Return how long it lasted, h, with `step` h between readings."""
        return (self.end - self.first) * step


class Favoured(Struct, frozen=True):
    """One disease: its verdict on the day, the spells that favoured it, the reason and whose figures."""

    verdict: str
    spells: tuple[Spell, ...]
    why: str
    source: str


class Day(Struct, frozen=True, kw_only=True):
    """What a day's readings mean."""

    wet: tuple[Spell, ...]
    """When the leaf was wet, going by the air."""
    powdery_mildew: Favoured
    grey_mould: Favoured
    downy_mildew: Favoured


def judge(air: Sequence[float], rh: Sequence[float], leaf: Sequence[float] | None, step: float) -> Day:
    """Judge readings of `air` and `leaf` °C and `rh` %, `step` h apart.

    Raises ValueError for lists of different lengths, OutOfRange for a value outside 0 to 50 °C or 0 to 100 %.
    """
    leaves: Sequence[float | None] = [None] * len(air) if leaf is None else leaf
    wet = [disease.leaf_is_wet(*one) for one in zip(air, rh, leaves, strict=True)]
    return Day(
        wet=spells(wet),
        powdery_mildew=_powdery(air, rh),
        grey_mould=_grey(air, rh, wet, step),
        downy_mildew=_downy(air, wet, step),
    )


def spells(flags: Sequence[bool]) -> tuple[Spell, ...]:
    """Return the runs of True in `flags`."""
    found: list[Spell] = []
    first = None
    for at, flag in enumerate([*flags, False]):
        if flag and first is None:
            first = at
        elif not flag and first is not None:
            found.append(Spell(first, at))
            first = None
    return tuple(found)


def longest(some: Sequence[Spell], step: float) -> float:
    """Return the longest of the spells, h; 0 when there is none."""
    return max((one.hours(step) for one in some), default=0.0)


def _powdery(air: Sequence[float], rh: Sequence[float]) -> Favoured:
    verdicts = [disease.powdery_mildew(*one).verdict for one in zip(air, rh, strict=True)]
    ranked = ("favourable", "possible", "unlikely", "unfavourable")
    verdict = next(one for one in ranked if one in verdicts)
    why = "15 to 30 °C and 94 % humidity or more"
    source = disease.powdery_mildew(20, 50).source
    return Favoured(verdict, spells([one == "favourable" for one in verdicts]), why, source)


def _grey(air: Sequence[float], rh: Sequence[float], wet: Sequence[bool], step: float) -> Favoured:
    readings = zip(air, rh, wet, strict=True)
    fit = [
        wetted and disease.grey_mould_in_the_house(t, MOULD_HOURS, h).verdict == "conditions met"
        for t, h, wetted in readings
    ]
    found = spells(fit)
    verdict = "conditions met" if longest(found, step) >= MOULD_HOURS - 1e-9 else "conditions not met"
    why = "8 h wet on end, 13 to 24 °C, 85 % or more"
    return Favoured(verdict, found, why, disease.MASSACHUSETTS)


def _downy(air: Sequence[float], wet: Sequence[bool], step: float) -> Favoured:
    judged = []
    for spell in spells(wet):
        warmth = air[spell.first : spell.end]
        judged.append(disease.downy_mildew(sum(warmth) / len(warmth), spell.hours(step)))
    worst = max(judged, key=lambda one: _ORDER.index(one.verdict), default=disease.downy_mildew(20, 0))
    fit = spells([wetted and 5 <= t <= 25 for t, wetted in zip(air, wet, strict=True)])
    return Favoured(worst.verdict, fit, "2 h wet or more, 5 to 25 °C, warmer if short", worst.source)
