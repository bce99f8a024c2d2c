"""Where a formula holds: outside its range a value is refused, never bent into it."""

import math


class OutOfRange(ValueError):
    """A value for which a formula does not hold; its text names the value and the limit."""


def within(what: str, value: float, low: float, high: float, unit: str = "") -> None:
    """Raise OutOfRange, naming the limit, unless low <= value <= high.

    `what` names the value as one says it ('the air temperature'); `unit` is that of all three numbers.
    """
    if math.isfinite(value) and low <= value <= high:
        return
    if value < low or value > high:
        side = f"at least {_said(low, unit)}" if value < low else f"at most {_said(high, unit)}"
        raise OutOfRange(f"{what} is {_said(value, unit)}: it must be {side}")
    raise OutOfRange(f"{what} is {value}, which is no number")


def above(what: str, value: float, floor: float, unit: str = "") -> None:
    """Raise OutOfRange, naming the limit, unless value > floor."""
    if not (math.isfinite(value) and value > floor):
        raise OutOfRange(f"{what} is {_said(value, unit)}: it must be more than {_said(floor, unit)}")


def _said(value: float, unit: str) -> str:
    return f"{value:g} {unit}".rstrip()
