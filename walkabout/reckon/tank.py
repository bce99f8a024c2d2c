"""Reckonings of the tank: how long it lasts, how large it has to be."""

from msgspec import Struct

from walkabout.growing import water_use as of
from walkabout.reckon import drinking as drink
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.which_crop import MAYBE_CROP
from walkabout.reckon.write import amount, number, plainly

RESERVE, USABLE = 100 * of.RESERVE, 100 * (1 - of.RESERVE)
"""What is taken for what stays in a tank, and for what may be drunk, %."""
CHANGE = 14
"""Days after which the solution of a small tank is changed (common practice)."""
DRY_PUMP = "reserve of 25 % so that the pump never runs dry: common practice; margins: assumed"


class Use(Struct, frozen=True):
    """What leaves a tank: L/day, how far that may be off (0.3 is ±30 %), how it came about, whence."""

    per_day: float
    margin: float
    working: tuple[str, ...]
    sources: tuple[str, ...]
    each: float | None = None


def _use(
    crop: str | None,
    plants: float | None,
    stage: str | None,
    each: float | None,
    used: float | None,
    vpd: float | None,
    dli: float | None,
    margin: float | None,
) -> Use:
    if used is not None:
        _alone("used", "is what the tank really loses", each=each, stage=stage, vpd=vpd, dli=dli)
        off = of.MEASURED_MARGIN if margin is None else margin / 100
        lines = (f"measured: {amount(used, 'L')} a day", _off(off, given=margin is not None))
        return _some(Use(used, off, lines, ("the use measured",)))
    if each is not None:
        _alone("each", "is what a plant drinks", stage=stage, vpd=vpd, dli=dli)
        drunk = drink.Drunk(each, (), ("the litres given",))
    elif crop is not None:
        drunk = drink.drunk_by(crop, stage, vpd, dli)
    else:
        raise ValueError("give used= litres a day, or each= litres a plant and day, or crop=")
    if plants is None:
        raise ValueError("give plants=, the number of plants that drink from the tank")
    off = of.ESTIMATE_MARGIN if margin is None else margin / 100
    per_day = drink.whole(plants) * drunk.each
    line = f"{plainly(plants)} plants × {plainly(drunk.each)} L = {plainly(per_day)} L/day"
    working = (*drunk.working, line, _off(off, given=margin is not None))
    return _some(Use(per_day, off, working, drunk.sources, drunk.each))


def _some(use: Use) -> Use:
    if use.per_day <= 0:
        raise ValueError("nothing is drunk: the litres a day have to be more than 0")
    return use


def _off(margin: float, *, given: bool) -> str:
    return (
        f"{'given' if given else 'taken'}: the use may be off by ± {margin * 100:.0f} %{'' if given else ' (assumed)'}"
    )


def _alone(key: str, why: str, **others: object) -> None:
    given = [name for name, value in others.items() if value is not None]
    if given:
        raise ValueError(f"{key} {why}: leave out {' and '.join(given)}")


def work_tank_days(
    volume: float,
    crop: str | None,
    plants: float | None,
    stage: str | None,
    each: float | None,
    used: float | None,
    vpd: float | None,
    dli: float | None,
    reserve: float,
    keep: float | None,
    full: float | None,
    margin: float | None,
) -> Reckoned:
    """Work out how many days a tank lasts until it is down to its reserve."""
    use = _use(crop, plants, stage, each, used, vpd, dli, margin)
    stays, line = _keep(volume, reserve, keep, full)
    days = of.days_left(volume, stays, use.per_day)
    low = of.days_left(volume, stays, use.per_day * (1 + use.margin))
    high = of.days_left(volume, stays, use.per_day * (1 - use.margin))
    results = {
        "days": Result(days, "days", 1, "lasts about"),
        "low": Result(low, "days", 1, "perhaps only"),
        "high": Result(high, "days", 1, "perhaps as long as"),
        "per_day": Result(use.per_day, "L/day", 2, "drunk a day"),
        "keep": Result(stays, "L", 1, "stays in the tank"),
    }
    if use.each is not None:
        results["each"] = Result(use.each, "L/day", 3, "drunk by one plant")
    return Reckoned(
        results=results,
        working=(
            *use.working,
            line,
            *_days_working(volume, stays, use),
        ),
        source="; ".join(dict.fromkeys((*use.sources, DRY_PUMP))),
        says=_days_say(volume, stays, low, high, measured=used is not None),
        do=_top_up(low, full, volume),
    )


def _days_working(volume: float, stays: float, use: Use) -> tuple[str, ...]:
    if volume <= stays:
        return (f"{amount(volume, 'L')} is not more than the {amount(stays, 'L')} that stay: 0 days",)
    left, per_day = plainly(volume - stays), plainly(use.per_day)
    one, more, less = (of.days_left(volume, stays, use.per_day * at) for at in (1, 1 + use.margin, 1 - use.margin))
    return (
        f"days = ({plainly(volume)} − {plainly(stays)}) ÷ {per_day} = {number(one)}",
        f"sooner: {left} ÷ ({per_day} × {1 + use.margin:.2f}) = {number(more)} days",
        f"later: {left} ÷ ({per_day} × {1 - use.margin:.2f}) = {number(less)} days",
    )


def _keep(volume: float, reserve: float, keep: float | None, full: float | None) -> tuple[float, str]:
    if full is not None and volume > full * (1 + of.SAME_LEVEL):
        raise ValueError(f"{amount(volume, 'L')} do not go into a tank that holds {amount(full, 'L')}")
    if keep is not None:
        if full is not None and keep > full:
            raise ValueError(f"{amount(keep, 'L')} cannot stay in a tank that holds {amount(full, 'L')}")
        return keep, f"stays in the tank: {amount(keep, 'L')}"
    # 1 means 1 %, as a whole tank kept in reserve makes no sense.
    share = reserve / 100 if reserve >= 1 else reserve
    whole = volume if full is None else full
    taken = "taken: " if reserve == RESERVE else ""
    stays = f"{plainly(share * 100)} % of {plainly(whole)} L = {plainly(share * whole)} L"
    return share * whole, f"{taken}stays in the tank: {stays}"


def _days_say(volume: float, stays: float, low: float, high: float, *, measured: bool) -> tuple[str, ...]:
    if volume <= stays:
        return ("The tank is at its reserve already: top it up now, before the pump draws air.",)
    span = f"{number(low, 1)} to {amount(high, 'days', 1)}" if low < high else amount(low, "days", 1)
    first = f"Count on {amount(low, 'days', 1)}; it lasts {span}. Then only the reserve for the pump is left."
    second = "Plants that grow drink more each day: look again before then." if measured else drink.ESTIMATE
    old = (f"The solution wants changing before that: every {CHANGE} days or so.",) if low > CHANGE else ()
    return (first, second, *old)


def _top_up(low: float, full: float | None, volume: float) -> ToDo | None:
    if low >= 3:
        return None
    by = "now" if low == 0 else "today" if low < 1 else "by tomorrow" if low < 2 else "within 2 days"
    litres = f" with {amount(full - volume, 'L', 0)}" if full is not None and full - volume >= 1 else ""
    return ToDo(what=f"Top up the tank{litres} {by}, then measure EC and pH")


def work_tank_size(
    days: float,
    crop: str | None,
    plants: float | None,
    stage: str | None,
    each: float | None,
    used: float | None,
    vpd: float | None,
    dli: float | None,
    usable: float,
    margin: float | None,
) -> Reckoned:
    """Work out how large a tank has to be to last so many days."""
    use = _use(crop, plants, stage, each, used, vpd, dli, margin)
    share = drink.fraction(usable)
    volume = of.tank_size(use.per_day, days, share)
    safe = of.tank_size(use.per_day * (1 + use.margin), days, share)
    results = {
        "volume": Result(volume, "L", 2, "has to hold"),
        "safe": Result(safe, "L", 1, "to be safe"),
        "per_day": Result(use.per_day, "L/day", 2, "drunk a day"),
    }
    if use.each is not None:
        results["each"] = Result(use.each, "L/day", 3, "drunk by one plant")
    return Reckoned(
        results=results,
        working=(
            *use.working,
            f"{'taken: ' if usable == USABLE else ''}of the tank {plainly(share * 100)} % may be drunk",
            f"V = {plainly(use.per_day)} L/day × {plainly(days)} days ÷ {plainly(share)} = {number(volume)} L",
            f"to be safe × {1 + use.margin:.2f} = {number(safe, 1)} L",
        ),
        source="; ".join(dict.fromkeys((*use.sources, DRY_PUMP))),
        says=(
            f"A tank of {amount(safe, 'L', 0)} lasts {amount(days, 'days')} even if the plants drink more.",
            f"Only {plainly(share * 100)} % of it may be drunk: the rest keeps the pump under water.",
        ),
    )


VOLUME = Field(
    key="volume",
    says="solution in the tank now",
    unit="L",
    low=0,
    high=1e6,
    others=("tank", "v", "litres", "v_l"),
    starts="litres",
)
USED = Field(
    key="used",
    says="litres that the tank loses a day, as measured",
    unit="L/day",
    low=0,
    high=1e5,
    needed=False,
    others=("per_day", "measured", "use"),
    starts="litres a day",
)
MARGIN = Field(
    key="margin",
    says="how far the use may be off",
    unit="%",
    low=0,
    high=90,
    needed=False,
    note="30 % for an estimate, 15 % for a measured use unless given; assumed",
)

RECKONINGS = (
    Reckoning(
        name="tank-days",
        subject="water",
        title="How long the tank lasts",
        about="Days until the tank is down to the reserve that keeps the pump under water.",
        fields=(
            VOLUME,
            MAYBE_CROP,
            drink.PLANTS,
            drink.STAGE,
            drink.EACH,
            USED,
            drink.VPD,
            drink.DLI,
            Field(
                key="reserve",
                says="share of the tank that stays",
                unit="%",
                low=0,
                high=100,
                default=RESERVE,
                note="a number under 1 is read as a share",
            ),
            Field(
                key="keep",
                says="litres that stay, in place of the reserve",
                unit="L",
                low=0,
                high=1e6,
                needed=False,
                others=("vmin", "vmin_l", "minimum", "v_min"),
            ),
            Field(
                key="full",
                says="what the tank holds when full",
                unit="L",
                low=0.01,
                high=1e6,
                needed=False,
                others=("capacity", "size"),
                note="the reserve is a share of this; of the solution in it when not given",
                starts="capacity",
            ),
            MARGIN,
        ),
        work=work_tank_days,
        example="volume=60 crop=lettuce plants=36",
        others=("days-left", "reservoir-days", "tank-lasts"),
    ),
    Reckoning(
        name="tank-size",
        subject="water",
        title="How large a tank",
        about="Litres that a tank has to hold to last over a weekend or a holiday, with a reserve for the pump.",
        fields=(
            Field(key="days", says="days it has to last", unit="days", low=0, high=366, others=("d", "for")),
            MAYBE_CROP,
            drink.PLANTS,
            drink.STAGE,
            drink.EACH,
            USED,
            drink.VPD,
            drink.DLI,
            Field(
                key="usable",
                says="share of the tank that may be drunk",
                unit="%",
                low=0.01,
                high=100,
                default=USABLE,
                others=("usable_fraction",),
                note="a number up to 1 is read as a share",
            ),
            MARGIN,
        ),
        work=work_tank_size,
        example="plants=24 each=0.08 days=7",
        others=("reservoir-size", "tank-volume"),
    ),
)
