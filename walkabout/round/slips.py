"""Numbers that cannot be right, or hardly: questioned before they are saved."""

from collections.abc import Callable

from msgspec import Struct

from walkabout.checklist.model import Quantity, Reading
from walkabout.growing.units import Scales, shown, stored, words
from walkabout.records.model import Answer

JUMP_DAYS = 3


class Doubt(Struct, frozen=True):
    """Why a number is questioned. `perhaps` is what may have been meant, in the stored unit."""

    says: str
    perhaps: float | None = None
    impossible: bool = False
    """It cannot be saved as it is; otherwise the walker may insist."""


class Slip(Struct, frozen=True):
    """A way in which a number is often typed wrong: from what was typed to what was meant."""

    meant: Callable[[float], float]
    says: str
    stored: bool = True
    """What was meant is in the stored unit; otherwise in the room's."""


def _divided(by: float, says: str) -> Slip:
    return Slip(lambda typed: typed / by, says)


_POINT = Slip(lambda typed: typed / 10, "a decimal point left out", stored=False)
_POINTS = Slip(lambda typed: typed / 100, "a decimal point left out", stored=False)
_TEMPERATURE = (_POINT,)
_LENGTH = (_divided(10, "read in mm"), Slip(lambda typed: typed * 100, "read in m"))

SLIPS: dict[Quantity, tuple[Slip, ...]] = {
    "pH": (_POINT, _POINTS),
    "EC": (_divided(1000, "read in µS/cm"), Slip(lambda typed: typed, "read in mS/cm"), _POINT, _POINTS),
    "air temperature": _TEMPERATURE,
    "lowest air temperature": _TEMPERATURE,
    "highest air temperature": _TEMPERATURE,
    "solution temperature": _TEMPERATURE,
    "medium temperature": _TEMPERATURE,
    "humidity": (Slip(lambda typed: typed * 100, "written as a fraction"), _POINT),
    "oxygen": (_POINT,),
    "level": _LENGTH,
    "gap": _LENGTH,
    "height": _LENGTH,
    "volume": (_divided(1000, "read in mL"), _POINT),
    "flow": (_divided(1000, "read in mL"),),
    "mass": (Slip(lambda typed: typed * 1000, "read in kg"),),
}


def doubt(
    typed: float, reading: Reading, last: Answer | None, days_since: float | None, *, scales: Scales
) -> Doubt | None:
    """Return why a typed number is questioned, or None when it can be saved.

    `typed` is in the room's unit; `last` is the last reading in the stored unit, `days_since` its age.
    """
    value = stored(typed, reading.unit, scales)
    low, high = reading.possible
    read = words(value, reading.unit, scales, reading.decimals)
    perhaps = _meant(typed, value, reading, last, scales=scales)
    if not low <= value <= high:
        ends = f"{words(low, reading.unit, scales, 0)} to {words(high, reading.unit, scales, 0)}"
        says = _sentence(f"{read} cannot be: it lies outside {ends}", perhaps, reading, scales=scales)
        return Doubt(says, _value(perhaps), impossible=True)
    if not reading.likely[0] <= value <= reading.likely[1]:
        return Doubt(_sentence(f"{read} is unusual", perhaps, reading, scales=scales), _value(perhaps))
    before = last.value if last is not None and days_since is not None and days_since <= JUMP_DAYS else None
    if reading.jump is not None and before is not None and abs(value - before) > reading.jump:
        was = words(before, reading.unit, scales, reading.decimals)
        return Doubt(f"{read} is a jump: it was {was} last time. A mixing slip, or the meter?")
    return None


def _meant(
    typed: float, value: float, reading: Reading, last: Answer | None, *, scales: Scales
) -> tuple[float, str] | None:
    """Return the likeliest value behind a slip, with what the slip was: the other system of units among them."""
    middle = last.value if last is not None and last.value is not None else sum(reading.good or reading.likely) / 2
    found = [(stored(typed, reading.unit, scales.other), f"read in {shown(0, reading.unit, scales.other)[1]}")]
    for slip in SLIPS.get(reading.quantity, ()):
        meant = slip.meant(typed)
        found.append((meant if slip.stored else stored(meant, reading.unit, scales), slip.says))
    likely = [one for one in found if reading.likely[0] <= one[0] <= reading.likely[1] and abs(one[0] - value) > 1e-9]
    return min(likely, key=lambda one: abs(one[0] - middle), default=None)


def _value(perhaps: tuple[float, str] | None) -> float | None:
    return perhaps[0] if perhaps else None


def _sentence(says: str, perhaps: tuple[float, str] | None, reading: Reading, *, scales: Scales) -> str:
    if perhaps is None:
        return f"{says}. Please look once more."
    value, slip = perhaps
    return f"{says}. Did you mean {words(value, reading.unit, scales, reading.decimals)} ({slip})?"
