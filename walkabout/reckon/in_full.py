"""Numbers that a working carries from one line into the next."""

from walkabout.reckon.write import digits

CARRIED = 7
"""Significant digits: so many that no result, as it is shown, comes out otherwise on a pocket calculator."""


def in_full(value: float, unit: str = "") -> str:
    """Write a number with up to seven significant digits, without zeros at its end, and its unit behind it."""
    written = digits(value, CARRIED)
    return f"{written.rstrip('0').rstrip('.') if '.' in written else written} {unit}".rstrip()
