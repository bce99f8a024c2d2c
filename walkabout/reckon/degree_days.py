"""Reckonings of heat that adds up: degree days of one day or of many, and the days to a heat sum."""

from math import ceil

from walkabout.growing import degree_days as of
from walkabout.reckon.degree_day_method import MCMASTER, METHODS, chosen, known_base, source
from walkabout.reckon.degree_day_working import day_working, one_day
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.which_crop import MAYBE_CROP
from walkabout.reckon.write import amount, number, plainly

LONGEST = 1000
"""Days to a heat sum that are still named: no crop of a room stands longer; assumed."""

_WARM = {"unit": "°C", "low": of.COLDEST, "high": of.HOTTEST}
HIGH = Field(key="high", says="highest temperature of the day", others=("tmax", "max", "maximum", "highest"), **_WARM)  # type: ignore[arg-type]
LOW = Field(
    key="low", says="lowest temperature of the day", others=("tmin", "min", "minimum", "lowest"), needed=False, **_WARM  # type: ignore[arg-type]
)  # fmt: skip
BASE = Field(
    key="base",
    says="temperature below which the crop does not develop",
    unit="°C",
    low=-10,
    high=40,
    needed=False,
    others=("tbase", "tb", "base_temperature"),
    note="or name the crop",
)
UPPER = Field(
    key="upper",
    says="temperature above which more heat does not count",
    unit="°C",
    low=-10,
    high=50,
    needed=False,
    others=("cap", "tcap", "ceiling", "upper_limit", "tupper"),
)
METHOD = Field(
    key="method",
    says="how the day is counted",
    kind="word",
    words=tuple(METHODS),
    needed=False,
    note="mean, or raised where there is an upper limit",
)


def work_day(
    high: float, low: float | None, base: float | None, upper: float | None, method: str | None, crop: str | None
) -> Reckoned:
    """Work out the degree days of one day."""
    way, limits, lines, notes = chosen(base, upper, method, crop)
    low = _needed_low(way, low)
    value = one_day(way, high, low, limits)
    lines += [
        *day_working(way, high, low, limits),
        f"in °F d: {plainly(value)} × 1.8 = {number(value * 1.8, 2)} °F d",
    ]
    results = {
        "degree_days": Result(value, "°C d", 2, "degree days of this day"),
        "degree_days_f": Result(value * 1.8, "°F d", 2, "the same, in °F"),
    }
    if low is not None:
        results |= _all_methods(high, low, *limits)
    results["method"] = Result(way, says="how the day was counted")
    return Reckoned(
        results=results,
        working=tuple(lines),
        says=(*_day_says(value, way, high, low, limits[0], results), *notes),
        source=source(way, limits),
    )


def work_sum(
    high: tuple[float, ...],
    low: tuple[float, ...] | None,
    base: float | None,
    upper: float | None,
    method: str | None,
    crop: str | None,
    need: float | None,
) -> Reckoned:
    """Add up the degree days of several days."""
    way, limits, lines, notes = chosen(base, upper, method, crop)
    lows = _lows(way, high, low)
    each = [one_day(way, one, other, limits) for one, other in zip(high, lows, strict=True)]
    total = sum(each)
    shown = min(len(each), 14)
    for day, (one, other, value) in enumerate(zip(high, lows, each, strict=True), 1):
        if day <= shown:
            pair = amount(one, "°C") if other is None else f"{plainly(one)} and {amount(other, '°C')}"
            lines.append(f"day {day}: {pair} gives {amount(value, '°C d', 2)}")
    if shown < len(each):
        lines.append(f"and so on to day {len(each)}")
    lines.append(f"sum of {len(each)} days = {amount(total, '°C d', 2)} = {amount(total * 1.8, '°F d', 2)}")
    results = {
        "degree_days": Result(total, "°C d", 2, "sum of degree days"),
        "degree_days_f": Result(total * 1.8, "°F d", 2, "the same, in °F"),
        "days": Result(float(len(each)), "days", 0, "days counted"),
        "mean": Result(total / len(each), "°C d", 2, "a day, on average"),
        "method": Result(way, says="how the day was counted"),
    }
    says = [f"These days together count {amount(total, '°C d', 1)}."]
    if need is not None:
        says += _towards(total, need, len(each), results, lines)
    return Reckoned(results=results, working=tuple(lines), says=(*says, *notes), source=source(way, limits))


def work_days(need: float, air: float, base: float | None, upper: float | None, crop: str | None) -> Reckoned:
    """Work out in how many days a heat sum is reached in steady air."""
    base, lines, notes = known_base(base, crop)
    days = of.days_to_sum(need, air, base, upper)
    if days > LONGEST:
        raise ValueError(
            f"at {plainly(air)} °C it takes more than {LONGEST} days: the air is hardly warmer than the base, "
            f"{amount(base, '°C')}"
        )
    counted = air if upper is None else min(air, upper)
    if counted != air:
        lines.append(f"{amount(air, '°C')} counts as the upper limit, {amount(counted, '°C')}")
    each = counted - base
    lines.append(f"each day: {plainly(counted)} − {plainly(base)} = {amount(each, '°C d')}")
    lines.append(f"days = need ÷ each day = {plainly(need)} ÷ {plainly(each)} = {amount(days, 'days', 2)}")
    return Reckoned(
        results={
            "days": Result(days, "days", 2, "days until the heat sum is reached"),
            "whole_days": Result(float(ceil(days - 1e-9)), "days", 0, "whole days"),
            "each_day": Result(each, "°C d", 2, "degree days of each day"),
        },
        working=tuple(lines),
        says=(
            f"At a steady {amount(air, '°C')} it is reached on day {ceil(days - 1e-9)}.",
            "Use the base that the heat sum was counted with: the same sum with another base gives another day.",
            *notes,
        ),
        source=f"days = heat sum ÷ (air − base), from {MCMASTER}",
    )


def _needed_low(way: str, low: float | None) -> float | None:
    if low is None and way != "cucumber":
        raise ValueError("give low= (the lowest temperature of the day); only method=cucumber does without it")
    return low


def _lows(way: str, high: tuple[float, ...], low: tuple[float, ...] | None) -> tuple[float | None, ...]:
    if not high:
        raise ValueError("give at least one day: high=24,26,25 low=16,15,17")
    if low is None:
        _needed_low(way, None)
        return (None,) * len(high)
    if len(low) != len(high):
        raise ValueError(f"there are {len(high)} highest and {len(low)} lowest temperatures: give one of each a day")
    return low


def _all_methods(high: float, low: float, base: float, upper: float | None) -> dict[str, Result]:
    found = {
        "method_1": Result(of.mean_method(high, low, base, upper), "°C d", 2, "by method 1 (mean)"),
        "method_2": Result(of.raised_method(high, low, base, upper), "°C d", 2, "by method 2 (raised)"),
    }
    if upper is None:
        found["four_case"] = Result(of.four_case(high, low, base), "°C d", 2, "by the four-case formula")
    return found


def _day_says(
    value: float, way: str, high: float, low: float | None, base: float, results: dict[str, Result]
) -> list[str]:
    says = [
        f"This day adds {amount(value, '°C d', 1)} to the heat sum."
        if value > 0
        else "Nothing counts on this day: it was too hot."
        if way == "cucumber" and high > of.CUCUMBER_CEILING
        else "Too cold to count: the crop hardly went on this day."
    ]
    apart = [float(one.value) for name, one in results.items() if name in ("method_1", "method_2", "four_case")]
    if low is not None and low < base and way != "cucumber" and max(apart) - min(apart) >= 0.05:
        others = [f"method 1 {_shown(results['method_1'])}", f"method 2 {_shown(results['method_2'])}"]
        if "four_case" in results:
            others.append(f"four cases {_shown(results['four_case'])}")
        says.append(f"The night was below the base, so the methods differ ({', '.join(others)} °C d): keep to one.")
    return says


def _shown(one: Result) -> str:
    return number(float(one.value), 1)


def _towards(total: float, need: float, days: int, results: dict[str, Result], lines: list[str]) -> list[str]:
    left = max(need - total, 0.0)
    results["left"] = Result(left, "°C d", 2, "still to come")
    lines.append(f"still to come = {plainly(need)} − {number(total, 2)} = {amount(left, '°C d', 2)}")
    if left == 0:
        return [f"The heat sum of {amount(need, '°C d')} is reached."]
    if total <= 0:
        return ["None of these days counted, so nobody can say when the heat sum will be reached."]
    more = left / (total / days)
    results["days_left"] = Result(more, "days", 1, "days left, if the days stay like these")
    each = plainly(total / days)
    lines.append(f"at {each} °C d a day: {plainly(left)} ÷ {each} = {amount(more, 'days', 1)}")
    return [f"If the days stay like these, it takes about {ceil(more - 1e-9)} more."]


def _many(one: Field, *, needed: bool) -> Field:
    return Field(
        key=one.key, says=f"{one.says}, for each day", unit="°C", kind="numbers", low=one.low, high=one.high,
        others=one.others, needed=needed, note="parted by commas",
    )  # fmt: skip


def _need(*, needed: bool) -> Field:
    return Field(
        key="need", says="heat sum to reach", unit="°C d", low=0, high=100_000, needed=needed,
        others=("heat_sum", "sum", "gdd", "heat", "degree_days"),
    )  # fmt: skip


RECKONINGS = (
    Reckoning(
        name="degree-days",
        subject="growth",
        title="Degree days of one day",
        about="How much heat a day gave a crop to develop with: degrees above the base, below which it stands still.",
        fields=(HIGH, LOW, BASE, UPPER, METHOD, MAYBE_CROP),
        work=work_day,
        example="high=25 low=15 base=10",
        others=("gdd", "growing-degree-days", "degree-day", "heat-units"),
    ),
    Reckoning(
        name="degree-day-sum",
        subject="growth",
        title="Degree days of a week",
        about="The heat of several days added up, and how far that is from what the crop needs.",
        fields=(
            _many(HIGH, needed=True),
            _many(LOW, needed=False),
            BASE,
            UPPER,
            METHOD,
            MAYBE_CROP,
            _need(needed=False),
        ),
        work=work_sum,
        example="high=24,26,25 low=16,15,17 base=4",
        others=("degree-days-sum", "heat-sum", "gdd-sum"),
    ),
    Reckoning(
        name="days-to-heat",
        subject="growth",
        title="Days to a heat sum",
        about="In how many days a crop gets the heat it needs, when the air stays as warm as it is.",
        fields=(
            _need(needed=True),
            Field(
                key="air",
                says="mean temperature of the air",
                unit="°C",
                low=of.COLDEST,
                high=of.HOTTEST,
                others=("temperature", "mean", "temp"),
                starts="air temperature",
            ),
            BASE,
            UPPER,
            MAYBE_CROP,
        ),
        work=work_days,
        example="need=300 air=22 base=4",
        others=("days-to-heat-sum", "heat-days", "days-to-degree-days"),
    ),
)
