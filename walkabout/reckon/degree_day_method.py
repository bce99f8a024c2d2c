"""Which method counts the degree days of a day, with which base and which upper limit."""

from walkabout.growing import degree_days as of
from walkabout.reckon.which_crop import which_crop
from walkabout.reckon.write import amount

MCMASTER = "McMaster and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300"
SOURCES = {
    "mean": f"{MCMASTER}, method 1",
    "raised": f"{MCMASTER}, method 2",
    "four-case": "four-case daily formula of the Irish meteorological service",
    "cucumber": "Perry and Wehner 1996, HortTechnology 6(1):27; never below 0: common practice",
}
CORN = "; the limits 86 and 50 °F: Iowa State University, Agronomy 541, lesson 2b"

METHODS = {
    "mean": "mean", "1": "mean", "method 1": "mean", "simple": "mean", "average": "mean", "i": "mean",
    "one": "mean", "method one": "mean", "m1": "mean", "mcmaster": "mean",
    "mcmaster and wilhelm method 1": "mean", "mcmaster & wilhelm method 1": "mean",
    "raised": "raised", "2": "raised", "method 2": "raised", "86/50": "raised", "ii": "raised",
    "two": "raised", "method two": "raised", "m2": "raised", "86/50 f": "raised", "86/50f": "raised",
    "mcmaster and wilhelm method 2": "raised", "mcmaster & wilhelm method 2": "raised",
    "four-case": "four-case", "four": "four-case", "3": "four-case", "method 3": "four-case",
    "4-case": "four-case", "fourcase": "four-case", "four cases": "four-case", "three": "four-case",
    "method three": "four-case", "m3": "four-case",
    "cucumber": "cucumber", "maximum": "cucumber",
}  # fmt: skip
"""Every word for a method -> its name."""


Limits = tuple[float, float | None]
"""The base and the upper limit, °C."""


def chosen(
    base: float | None, upper: float | None, method: str | None, crop: str | None
) -> tuple[str, Limits, list[str], list[str]]:
    """Return the method, its limits, working lines on what was taken, and sentences on where it came from.

    Raises ValueError when no base is known, and for an upper limit that the method does not have.
    """
    way = METHODS[method] if method else "raised" if upper is not None else "mean"
    lines = (
        [] if method else [f"taken: method = {'raised, as there is an upper limit' if upper is not None else 'mean'}"]
    )
    if way == "four-case" and upper is not None:
        raise ValueError("the four-case formula has no upper limit: leave it out, or take method=raised")
    if method == "mcmaster":
        lines.append("taken: the first of McMaster and Wilhelm's two methods; method=2 is the other")
    if method and method.startswith("86/50"):
        upper = of.CORN_UPPER if upper is None else upper
        base = of.CORN_BASE if base is None and crop is None else base
    if way == "cucumber" and base is None and crop is None:
        base = of.CUCUMBER_BASE
        lines.append(f"taken: base = {amount(base, '°C')}, of the cucumber method")
    found, more, notes = known_base(base, crop)
    by_maximum = base is None and found == of.CUCUMBER_BASE
    if by_maximum and method is None and upper is None:
        way, lines = "cucumber", ["taken: method = cucumber, which this base belongs to"]
    elif by_maximum and way != "cucumber":
        notes.append("This base belongs to the method that takes the highest temperature alone: method=cucumber.")
    if way == "mean" and upper is not None:
        notes.append(
            "With method 1 the upper limit holds the mean of the day; method=2 cuts the highest temperature itself."
        )
    if way == "cucumber" and upper is None:
        upper = of.CUCUMBER_CEILING
    return way, (found, upper), [*lines, *more], notes


def known_base(base: float | None, crop: str | None) -> tuple[float, list[str], list[str]]:
    """Return the base given, or the crop's, °C, with working lines and sentences; raises ValueError for neither."""
    if base is not None:
        return base, [] if crop is None else [f"base as given, not that of {which_crop(crop).name}"], []
    if crop is None:
        raise ValueError("give base=, the temperature below which the crop does not develop, or crop=")
    one = which_crop(crop)
    if one.base is None:
        raise ValueError(f"no base temperature is known for {one.name}: give base=")
    lines = [f"taken: base = {amount(one.base.value, '°C')}, {one.name} ({one.base.source})"]
    notes = [f"{one.name.capitalize()}: {one.base.note}."] if one.base.note else []
    return one.base.value, lines, notes


def source(way: str, limits: Limits) -> str:
    """Return the published source of a method."""
    base, upper = limits
    corn = abs(base - of.CORN_BASE) < 0.01 and upper is not None and abs(upper - of.CORN_UPPER) < 0.01
    return SOURCES[way] + (CORN if way == "raised" and corn else "")
