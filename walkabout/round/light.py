"""Lux at the leaves, turned into the light that plants live on, where one kind of lamp hangs alone."""

from collections.abc import Sequence

from msgspec import Struct

from walkabout.growing.bands import Shared, shared
from walkabout.growing.crops import Crop
from walkabout.growing.distance import Face, distance_for
from walkabout.growing.light import dli, hours_for, ppfd_for, ppfd_from_lux
from walkabout.growing.light_kinds import KINDS, Kind
from walkabout.growing.limits import OutOfRange
from walkabout.room.model import Lamp, LampKind

LIGHTS: dict[LampKind, str] = {
    "led": "white-led",
    "tube": "cool-white",
    "high-pressure sodium": "high-pressure-sodium",
    "metal halide": "metal-halide",
    "incandescent": "incandescent",
    "window": "sun",
}
"""A lamp's kind in room.toml -> its kind of light."""


class Lit(Struct, frozen=True):
    """What one kind of lamp, lit so many hours a day, makes of a lux reading."""

    kind: Kind
    hours: float
    lamp: Lamp

    def ppfd(self, lux: float) -> float:
        """Return µmol/m²/s."""
        return ppfd_from_lux(lux, self.kind.lux)

    def dli(self, lux: float) -> float:
        """Return mol/m²/d."""
        return dli(self.ppfd(lux), self.hours)

    def lux_for(self, daily: float) -> float:
        """Return the lux at which the lamp brings so many mol/m²/d."""
        return ppfd_for(daily, self.hours) * self.kind.lux

    def hours_for(self, daily: float, lux: float) -> float:
        """Return the hours that it takes at this lux."""
        return hours_for(daily, self.ppfd(lux))

    def gap_for(self, lux: float, wanted: float) -> float | None:
        """Return how far, cm, the lamp would have to hang for `wanted` lux; None when its size or gap is not known."""
        face = _face(self.lamp)
        if face is None or not self.lamp.gap_cm:
            return None
        try:
            return distance_for(lux, self.lamp.gap_cm, wanted, face)
        except OutOfRange:
            return None


def lit_by(lamps: Sequence[Lamp]) -> Lit | None:
    """Return what lights a place; None where several kinds do, a window does, or red and blue alone."""
    kinds = {lamp.kind for lamp in lamps}
    if len(kinds) != 1 or "window" in kinds or any(lamp.red_blue for lamp in lamps):
        return None
    lamp = lamps[0]
    hours = min(one.hours for one in lamps)
    return Lit(KINDS[LIGHTS[lamp.kind]], hours, lamp) if hours > 0 else None


def light_wanted(crops: Sequence[Crop]) -> Shared | None:
    """Return the daily light, mol/m²/d, that suits all crops here; None when nothing grows."""
    return shared([(crop.name, crop.light) for crop in crops]) if crops else None


def _face(lamp: Lamp) -> Face | None:
    if lamp.width_cm and lamp.length_cm:
        return Face(shape="panel", width=lamp.width_cm, length=lamp.length_cm)
    return Face(shape="tube", length=lamp.length_cm) if lamp.kind == "tube" and lamp.length_cm else None
