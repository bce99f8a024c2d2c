"""The working of a lamp's distance, as a class writes it on the board."""

from walkabout.growing import distance as of
from walkabout.reckon.in_full import in_full
from walkabout.reckon.write import digits, number

MEANS = "share = light of this lamp ÷ light if all of it came out of one point"
SHARE = 6
"""Decimals of a share in the working."""
FORMULA: dict[of.Shape, tuple[str, ...]] = {
    "point": (),
    "disc": (),
    "tube": ("share = ½ × [1 ÷ (1 + x²) + arctan(x) ÷ x], x = half its length ÷ distance",),
    "panel": (
        "share = [A/a × arctan(B/a) + B/b × arctan(A/b)] × d² ÷ (2 A B)",
        "A and B are the half sides, a = √(A² + d²), b = √(B² + d²)",
    ),
}


def share_line(face: of.Face, distance: float) -> str:
    """Write how much of a point's light a lamp gives at a distance."""
    d, share = in_full(distance), number(of.seen(face, distance), SHARE)
    if face.shape == "disc":
        return f"at {d} cm: share = 1 ÷ (1 + ({in_full(face.width / 2)} ÷ {d})²) = {share}"
    if face.shape == "tube":
        return f"at {d} cm: x = {in_full(face.length / 2)} ÷ {d}; share = {share}"
    a, b = in_full(face.width / 2), in_full(face.length / 2)
    return f"at {d} cm: A = {a}, B = {b}, d = {d}: share = {share}"


def share_lines(face: of.Face, from_: float, to: float) -> tuple[str, ...]:
    """Write the shares at two distances; the formula of a tube or a panel first."""
    lines = (MEANS, *FORMULA[face.shape], share_line(face, from_))
    return lines if to == from_ else (*lines, share_line(face, to))


def carried_line(step: str, face: of.Face, from_: float, to: float, there: float, unit: str) -> str:
    """Write the light at another distance: `step` by the inverse square, times the shares."""
    shares = f"{number(of.seen(face, to), SHARE)} ÷ {number(of.seen(face, from_), SHARE)}"
    return f"E₂ = {step} × {shares} = {digits(there, 4)} {unit}"
