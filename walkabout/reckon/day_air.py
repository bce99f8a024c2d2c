"""Reckonings of the air of a whole day."""

from walkabout.growing import air as of
from walkabout.growing import day_air as day
from walkabout.growing.limits import OutOfRange
from walkabout.reckon.air import BANDS, CURVE, FAO, full_line, in_fahrenheit
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.write import amount, number, plainly

HIGH = Field(
    key="high",
    says="highest temperature of the day",
    unit="°C",
    low=0,
    high=50,
    starts="highest air temperature",
    others=("tmax", "t_max", "max", "highest"),
)
LOW = Field(
    key="low",
    says="lowest temperature of the day",
    unit="°C",
    low=0,
    high=50,
    starts="lowest air temperature",
    others=("tmin", "t_min", "min", "lowest"),
)
RH_HIGH = Field(
    key="rh_high",
    says="highest relative humidity",
    unit="%",
    low=1,
    high=100,
    needed=False,
    others=("rhmax", "rh_max", "highest_rh"),
)
RH_LOW = Field(
    key="rh_low",
    says="lowest relative humidity",
    unit="%",
    low=0,
    high=100,
    needed=False,
    others=("rhmin", "rh_min", "lowest_rh"),
)
RH_MEAN = Field(
    key="rh",
    says="mean relative humidity",
    unit="%",
    low=1,
    high=100,
    needed=False,
    others=("rhmean", "rh_mean", "mean_rh", "humidity"),
    note="instead of the highest and the lowest",
)
AIRS = Field(
    key="air",
    says="temperatures of the air",
    unit="°C",
    kind="numbers",
    low=0,
    high=50,
    others=("temperature", "temperatures", "temp", "t"),
)
RHS = Field(
    key="rh",
    says="relative humidities",
    unit="%",
    kind="numbers",
    low=0,
    high=100,
    others=("humidity", "humidities", "relative_humidity"),
)
LEAVES = Field(
    key="leaf",
    says="temperatures of the leaf",
    unit="°C",
    kind="numbers",
    low=0,
    high=50,
    needed=False,
    others=("leaf_temperature", "leaves"),
    note="as warm as the air when not known",
)


def as_many(**lists: tuple[float, ...] | None) -> list[tuple[float, ...] | None]:
    """Return the lists as long as the longest: a single value stands for all readings, None stays None.

    Raises ValueError, naming the lists, when one of another length is among them.
    """
    longest, count = max(((name, len(one)) for name, one in lists.items() if one), key=lambda pair: pair[1])
    for name, one in lists.items():
        if one and len(one) not in (1, count):
            raise ValueError(f"{name} has {len(one)} values and {longest} has {count}: give as many, or one for all")
    return [one * count if one and len(one) == 1 else one for one in lists.values()]


def readings(
    air: tuple[float, ...], rh: tuple[float, ...], leaf: tuple[float, ...] | None
) -> tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...] | None]:
    """Return as many temperatures, humidities and leaf temperatures; raises ValueError as `as_many` does."""
    airs, humidities, leaves = as_many(air=air, rh=rh, leaf=leaf)
    if not airs or not humidities:
        raise ValueError("give at least one reading of air and one of rh")
    return airs, humidities, leaves


def _mean_line(high: float, low: float) -> str:
    mean = day.mean_svp(high, low)
    return f"es = ({number(of.svp(high), 3)} + {number(of.svp(low), 3)}) ÷ 2 = {amount(mean, 'kPa', 3)}"


def work_day_svp(high: float, low: float) -> Reckoned:
    """Work out how much vapour the air of a day can hold."""
    mean = day.mean_svp(high, low)
    middle = (high + low) / 2
    wrong = of.svp(middle)
    return Reckoned(
        results={
            "mean_svp": Result(mean, "kPa", 2, "mean saturation vapour pressure"),
            "svp_of_mean": Result(wrong, "kPa", 2, "at the mean temperature: too low"),
            "difference": Result(mean - wrong, "kPa", 2, "lost by taking the mean first"),
        },
        working=(
            CURVE,
            full_line(high),
            full_line(low),
            _mean_line(high, low),
            f"not: e°(mean) = e°({plainly(middle)}) = {amount(wrong, 'kPa', 2)}",
        ),
        source=f"{FAO}, equations 11 and 12",
        says=(
            f"Over this day the air could hold {amount(mean, 'kPa', 2)} of vapour.",
            "The curve bends upwards, so the mean temperature alone would give too little.",
        ),
    )


def work_day_vapour_pressure(
    high: float, low: float, rh_high: float | None, rh_low: float | None, rh: float | None
) -> Reckoned:
    """Work out how much vapour was in the air of a day."""
    inside, line, equation = _inside(high, low, rh_high, rh_low, rh)
    mean = day.mean_svp(high, low)
    if inside > mean:
        raise OutOfRange(
            f"that makes {inside:.2f} kPa in air that holds {mean:.2f} kPa: the highest humidity cannot be right"
        )
    return Reckoned(
        results={
            "vapour_pressure": Result(inside, "kPa", 2, "vapour pressure of the air"),
            "mean_svp": Result(mean, "kPa", 2, "mean saturation vapour pressure"),
            "vpd": Result(mean - inside, "kPa", 2, "vapour pressure deficit"),
            "dew_point": Result(of.dew_point(inside), "°C", 1, "dew point"),
            **in_fahrenheit("dew_point", of.dew_point(inside)),
        },
        working=(
            CURVE,
            full_line(high),
            full_line(low),
            line,
            f"   = {amount(inside, 'kPa', 3)}",
            _mean_line(high, low),
            f"deficit = {number(mean, 3)} − {number(inside, 3)} = {amount(mean - inside, 'kPa', 2)}",
        ),
        source=f"{FAO}, equations 11, 12, 14 and {equation}",
        says=(f"The air of this day held {amount(inside, 'kPa', 2)} of vapour.", _HOW_SURE[equation]),
    )


_HOW_SURE = {
    17: "Worked out from both ends of the humidity: the surest way.",
    18: "Worked out from the highest humidity alone, as one does when the lowest cannot be trusted.",
    19: "Worked out from the mean humidity: the least sure way, use both ends where you have them.",
}


def _inside(
    high: float, low: float, rh_high: float | None, rh_low: float | None, rh: float | None
) -> tuple[float, str, int]:
    if rh is not None and (rh_high is not None or rh_low is not None):
        raise ValueError("give rh_high and rh_low, or the mean rh, not both")
    if rh is not None:
        line = f"ea = RH ÷ 100 × es = {plainly(rh)} ÷ 100 × {number(day.mean_svp(high, low), 3)}"
        return day.from_mean(high, low, rh), line, 19
    if rh_high is None:
        raise ValueError("give rh_high and rh_low, or the mean as rh")
    if rh_low is None:
        line = f"ea = e°(low) × RH high ÷ 100 = {number(of.svp(low), 3)} × {plainly(rh_high)} ÷ 100"
        return day.from_highest(low, rh_high), line, 18
    line = f"ea = ({number(of.svp(low), 3)} × {plainly(rh_high)} + {number(of.svp(high), 3)} × {plainly(rh_low)}) ÷ 200"
    return day.from_both(high, low, rh_high, rh_low), line, 17


def work_mean_vpd(air: tuple[float, ...], rh: tuple[float, ...], leaf: tuple[float, ...] | None) -> Reckoned:
    """Work out the mean dryness of the air from several readings."""
    airs, humidity, leaves = readings(air, rh, leaf)
    mean, of_means = day.mean_vpd(airs, humidity, leaves)
    each = [of.vpd(*one) for one in zip(airs, humidity, leaves or airs, strict=True)]
    verdict = of.verdict(mean)
    taken = zip(airs, humidity, each, strict=True)
    lines = [f"{plainly(t)} °C, {plainly(h)} %: VPD = {amount(one, 'kPa', 2)}" for t, h, one in taken]
    shown = lines if len(lines) <= 8 else [*lines[:7], f"… and {len(lines) - 7} more"]
    return Reckoned(
        results={
            "vpd": Result(mean, "kPa", 2, "mean vapour pressure deficit"),
            "vpd_of_means": Result(of_means, "kPa", 2, "from the means instead"),
            "lowest": Result(min(each), "kPa", 2, "lowest"),
            "highest": Result(max(each), "kPa", 2, "highest"),
            "verdict": Result(verdict, says="the air of this day"),
        },
        working=(
            CURVE,
            "VPD = e°(leaf) − e°(air) × RH ÷ 100",
            *(["taken: leaf as warm as the air"] if leaves is None else []),
            *shown,
            f"mean of the {len(each)} = {amount(mean, 'kPa', 2)}",
            f"not: VPD of the means = {amount(of_means, 'kPa', 2)}",
            f"band: {of.DAMP} to {amount(of.DRY, 'kPa', 1)} (Grange and Hand 1987): {verdict}",
        ),
        source=f"{FAO}, equations 10 and 11; {BANDS}",
        says=(
            f"On the whole the air pulled with {amount(mean, 'kPa', 2)}: {verdict}.",
            "Work out each reading first and take the mean last: the means of both seldom give the same.",
        ),
    )


RECKONINGS = (
    Reckoning(
        name="day-svp",
        subject="air",
        title="What a day's air can hold",
        about="From the highest and the lowest temperature; the mean temperature alone gives too little.",
        fields=(HIGH, LOW),
        work=work_day_svp,
        example="high=24.5 low=15",
        others=("mean-svp", "daily-svp"),
    ),
    Reckoning(
        name="day-vapour-pressure",
        subject="air",
        title="Vapour in a day's air",
        about="How much water vapour the air held, from the extremes of temperature and humidity.",
        fields=(HIGH, LOW, RH_HIGH, RH_LOW, RH_MEAN),
        work=work_day_vapour_pressure,
        example="high=25 low=18 rh_high=82 rh_low=54",
        others=("day-vapor-pressure", "daily-vapour-pressure", "mean-vapour-pressure"),
    ),
    Reckoning(
        name="mean-vpd",
        subject="air",
        title="Mean dryness of the air",
        about="From several readings of a day: each is worked out by itself, and the mean is taken last.",
        fields=(AIRS, RHS, LEAVES),
        work=work_mean_vpd,
        example="air=18,22,26,22 rh=85,70,55,65",
        others=("day-vpd", "average-vpd"),
    ),
)
