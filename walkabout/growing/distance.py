"""How light thins out with the distance from a lamp.

For an evenly bright lamp that shines like a sheet of paper (Lambert's law), read straight below its middle.
Distances and sizes in one and the same unit; each `seen` function gives the light as a share of what the
same lamp would give if it were all in one point, so that light = constant × share ÷ distance². The closed
forms are textbook photometry; a test integrates them anew.
"""

from math import atan, hypot, sqrt
from typing import Literal, get_args

from msgspec import Struct

from walkabout.growing.limits import OutOfRange, above

Shape = Literal["point", "tube", "panel", "disc"]
SHAPES: tuple[Shape, ...] = get_args(Shape)
RULE = 5.0
"""From so many times its largest dimension an evenly bright lamp follows the inverse square law within 1 %:
definition of that law by the Illuminating Engineering Society (IES)."""


class Face(Struct, frozen=True):
    """The shining face of a lamp. `width` of a disc is its diameter; a tube has only a length, a point nothing."""

    shape: Shape = "point"
    width: float = 0.0
    length: float = 0.0

    @property
    def largest(self) -> float:
        """Its largest dimension; of a panel that is the diagonal."""
        return hypot(self.width, self.length) if self.shape == "panel" else max(self.width, self.length)


def seen_tube(length: float, distance: float) -> float:
    """Return the share for a tube of `length`, read `distance` from its middle; both above 0.

    E = I' [a ÷ (d² + a²) + arctan(a ÷ d) ÷ d], a half the length, against 2 a I' ÷ d². Raises OutOfRange.
    """
    _sizes(length, distance)
    x = length / 2 / distance
    return (1 / (1 + x * x) + atan(x) / x) / 2


def seen_disc(diameter: float, distance: float) -> float:
    """Return the share for a disc of `diameter`, read `distance` below its middle; both above 0.

    1 ÷ (1 + (R ÷ d)²), R half the diameter. Raises OutOfRange.
    """
    _sizes(diameter, distance)
    return 1 / (1 + (diameter / 2 / distance) ** 2)


def seen_panel(width: float, length: float, distance: float) -> float:
    """Return the share for a panel `width` by `length`, read `distance` below its middle; all above 0.

    E = 2 L [A ÷ √(A² + d²) arctan(B ÷ √(A² + d²)) + the same with A and B changed], A and B the half sides,
    against 4 A B L ÷ d². Raises OutOfRange.
    """
    _sizes(width, distance)
    _sizes(length, distance)
    a, b = width / 2 / distance, length / 2 / distance
    far_a, far_b = sqrt(1 + a * a), sqrt(1 + b * b)
    return (a / far_a * atan(b / far_a) + b / far_b * atan(a / far_b)) / (2 * a * b)


def seen(face: Face, distance: float) -> float:
    """Return the light below a lamp as a share of what a point would give there, 0 to 1. Raises OutOfRange."""
    if face.shape == "tube":
        return seen_tube(face.length, distance)
    if face.shape == "disc":
        return seen_disc(face.width, distance)
    if face.shape == "panel":
        return seen_panel(face.width, face.length, distance)
    above("the distance", distance, 0, "cm")
    return 1.0


def carried(light: float, near: float, far: float, face: Face) -> float:
    """Return the light at distance `far` from what it is at `near`, in the unit of `light` (0 or more).

    light × (near ÷ far)² × share(far) ÷ share(near); with a point as `face` the inverse square law (CIE
    e-ILV 17-25-104). Either distance may be the larger; above 0. Raises OutOfRange.
    """
    if light < 0:
        raise OutOfRange(f"the light is {light:g}: it must be at least 0")
    share = seen(face, far) / seen(face, near)
    return light * (near / far) ** 2 * share


def distance_for(light: float, near: float, wanted: float, face: Face) -> float:
    """Return the distance at which the light is `wanted`, from `light` at distance `near`, in the unit of `near`.

    `carried` turned round, by halving; to 1 part in a million. Light falls steadily with the distance, so there is
    one answer or none: close to a lamp that has a size it never gets brighter than its face. Raises OutOfRange.
    """
    above("the light", light, 0)
    above("the light wanted", wanted, 0)
    close, away = near / 1000, near * 1000
    most, least = carried(light, near, close, face), carried(light, near, away, face)
    if not least <= wanted <= most:
        limit = f"at most {_plain(most)}" if wanted > most else f"at least {_plain(least)}"
        raise OutOfRange(f"the light wanted is {wanted:g}: below this lamp it can be {limit}")
    while away / close > 1 + 1e-7:
        middle = sqrt(close * away)
        if carried(light, near, middle, face) > wanted:
            close = middle
        else:
            away = middle
    return sqrt(close * away)


def far_enough(face: Face, distance: float) -> bool:
    """Say whether the lamp may be taken for a point at this distance, within 1 %: five times its size or more."""
    return distance >= RULE * face.largest - 1e-9


def _plain(value: float) -> str:
    """Write a number with three significant digits and no exponent."""
    return f"{float(f'{value:.3g}'):.12g}"


def _sizes(size: float, distance: float) -> None:
    above("the size of the lamp", size, 0, "cm")
    above("the distance", distance, 0, "cm")
