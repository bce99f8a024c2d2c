"""One day's degree days by any of the methods, and the lines that show how."""

from walkabout.growing import degree_days as of
from walkabout.reckon.write import amount, plainly


def one_day(way: str, high: float, low: float | None, limits: tuple[float, float | None]) -> float:
    """Return one day's degree days, °C d, by 'mean', 'raised', 'four-case' or 'cucumber'.

    `limits` are the base and the upper limit, °C. Raises ValueError as the functions below it do, and when
    the lowest temperature is missing where the method needs it.
    """
    base, upper = limits
    if way == "cucumber":
        if low is not None and low > high:
            raise ValueError(f"the lowest temperature ({low:g} °C) is above the highest ({high:g} °C): swap them")
        return of.maximum_method(high, base, of.CUCUMBER_CEILING if upper is None else upper)
    if low is None:
        raise ValueError("give low=, the lowest temperature of the day; only method=cucumber does without it")
    if way == "four-case":
        return of.four_case(high, low, base)
    return (of.mean_method if way == "mean" else of.raised_method)(high, low, base, upper)


def day_working(way: str, high: float, low: float | None, limits: tuple[float, float | None]) -> list[str]:
    """Return the lines of the working for one day; arguments and errors as for `one_day`."""
    base, upper = limits
    value = one_day(way, high, low, limits)
    if way == "cucumber" or low is None:
        return _maximum(high, base, of.CUCUMBER_CEILING if upper is None else upper)
    gives = f" = {amount(value, '°C d', 2)}"
    if way == "mean":
        return _mean(high, low, base, upper, gives)
    return _raised(high, low, base, upper, gives) if way == "raised" else _four_case(high, low, base, gives)


def _mean(high: float, low: float, base: float, upper: float | None, gives: str) -> list[str]:
    mean = (high + low) / 2
    lines = [f"mean = (highest + lowest) ÷ 2 = ({plainly(high)} + {plainly(low)}) ÷ 2 = {amount(mean, '°C')}"]
    counted = max(mean if upper is None else min(mean, upper), base)
    if counted != mean:
        why = "below the base" if counted > mean else "above the upper limit"
        lines.append(f"the mean is {why}: set to {amount(counted, '°C')}")
    elif upper is not None:
        lines.append(f"the mean is not above the upper limit, {amount(upper, '°C')}: it stays")
    return [*lines, f"mean − base = {plainly(counted)} − {_bracketed(base)}{gives}"]


def _raised(high: float, low: float, base: float, upper: float | None, gives: str) -> list[str]:
    lines = []
    for name, one in (("highest", high), ("lowest", low)):
        other = of.held(one, base, upper)
        if other != one:
            how = "raised to the base" if other > one else "cut to the upper limit"
            lines.append(f"{name} {amount(one, '°C')} is {how}, {amount(other, '°C')}")
    pair = f"({plainly(of.held(high, base, upper))} + {plainly(of.held(low, base, upper))})"
    return [*lines, f"(highest + lowest) ÷ 2 − base = {pair} ÷ 2 − {_bracketed(base)}{gives}"]


def _four_case(high: float, low: float, base: float, gives: str) -> list[str]:
    h, lo, b = plainly(high), _bracketed(low), _bracketed(base)
    if high <= base:
        return [f"highest {amount(high, '°C')} ≤ base {amount(base, '°C')}: nothing counts{gives}"]
    if low >= base:
        return ["base ≤ lowest: (highest + lowest) ÷ 2 − base", f"= ({h} + {lo}) ÷ 2 − {b}{gives}"]
    if (high + low) / 2 >= base:
        formula = "lowest < base ≤ mean: (highest − base) ÷ 2 − (base − lowest) ÷ 4"
        return [formula, f"= ({h} − {b}) ÷ 2 − ({plainly(base)} − {lo}) ÷ 4{gives}"]
    return ["mean < base < highest: (highest − base) ÷ 4", f"= ({h} − {b}) ÷ 4{gives}"]


def _maximum(high: float, base: float, ceiling: float) -> list[str]:
    counted, h, c = of.turned_down(high, ceiling), plainly(high), plainly(ceiling)
    lines = [] if counted == high else [f"above {c}: counts as {c} − ({h} − {c}) = {amount(counted, '°C')}"]
    lines.append(f"highest − base = {plainly(counted)} − {plainly(base)} = {amount(counted - base, '°C d', 2)}")
    return lines if counted >= base else [*lines, "never below 0: 0.00 °C d"]


def _bracketed(value: float) -> str:
    return f"({plainly(value)})" if value < 0 else plainly(value)
