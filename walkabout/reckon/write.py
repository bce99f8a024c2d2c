"""Numbers and lines of the working, written for people."""

import math

from walkabout.reckon.model import Result


def number(value: float, decimals: int = 2) -> str:
    """Write a number with so many decimals, a minus as a minus sign; '-0.00' is never written."""
    return f"{round(value, decimals) + 0.0:.{decimals}f}".replace("-", "−")


def digits(value: float, significant: int = 3) -> str:
    """Write a number with so many significant digits and no exponent: 0.0123, 4.56, 1230."""
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else str(value)
    decimals = max(0, significant - 1 - math.floor(math.log10(abs(value))))
    return number(value, decimals)


def plainly(value: float) -> str:
    """Write a number that was given about as short as it was: 24, 0.35, 1200, 23.889."""
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else str(value)
    decimals = max(0, 4 - math.floor(math.log10(abs(value))))
    written = f"{round(value, decimals):.{decimals}f}"
    return (written.rstrip("0").rstrip(".") if "." in written else written).replace("-", "−")


def amount(value: float, unit: str, decimals: int | None = None) -> str:
    """Write a number with its unit: '24 °C', '1.19 kPa', 'pH 6.1', '60 %', '1 day'."""
    written = plainly(value) if decimals is None else number(value, decimals)
    if unit == "pH":
        return f"pH {written}"
    if unit in ("d", "days"):
        return f"{written} day{'' if float(written.replace('−', '-')) == 1 else 's'}"
    return f"{written} {unit}".rstrip()


def quoted(text: str, most: int = 40) -> str:
    """Write what somebody typed between quotes, cut after `most` signs, with signs that do not print spelled out."""
    cut = text if len(text) <= most else f"{text[:most]}…"
    return "'" + "".join(one if one.isprintable() else one.encode("unicode_escape").decode() for one in cut) + "'"


def result(one: Result) -> str:
    """Write a result with its unit."""
    return one.value if isinstance(one.value, str) else amount(one.value, one.unit, one.decimals)
