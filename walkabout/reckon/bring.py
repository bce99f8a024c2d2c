"""Reckonings for the whole tank: bring it to its strength, top it up to full and right."""

from walkabout.growing import bringing, correcting
from walkabout.growing.bringing import Filling, Step, Stock, Way
from walkabout.reckon.correcting_words import (
    CAPACITY,
    CONCENTRATE,
    DRAIN,
    EC,
    LAST_FIFTH,
    RISE,
    SALT,
    SPILLS,
    STOCK_EC,
    TO,
    VOLUME,
    WATER_EC,
    dilution_line,
    fed_results,
    feeding_lines,
    kept_lines,
    litres,
    must_fit,
    parts_of,
    said,
    stock_of,
    stock_words,
    strength,
    strong,
    taken,
    worked,
)
from walkabout.reckon.model import Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.write import amount, number, plainly


def work_top_up(
    volume: float,
    capacity: float,
    ec: float,
    to: float,
    stock_ec: float | None,
    water_ec: float | None,
    rise: float | None,
) -> Reckoned:
    """Work out the water and the stock that make a tank full and right at once."""
    must_fit(volume, capacity)
    water = 0.0 if water_ec is None else water_ec
    stock = stock_of(stock_ec, rise)
    full = bringing.filling(volume, capacity, ec, to, water, stock)
    alone = bringing.topup_strength(volume, capacity, ec, to)
    lines = [taken("water_ec", 0, "mS/cm")] if water_ec is None else []
    lines += _filling(volume, capacity, ec, to, water, stock, full)
    results = {"water": litres(full.water, "water to add")}
    results |= fed_results(stock, full.stock) if stock is not None else {}
    results |= {"take_out": litres(full.take_out, "take out first"), "ec": strong(full.ec, "EC when full")}
    if alone is not None:
        lines.append(
            f"one liquid alone: ({plainly(capacity)} × {plainly(to)} − {plainly(volume)} × {plainly(ec)}) ÷ "
            f"{plainly(capacity - volume)} = {amount(alone, 'mS/cm', 2)}"
        )
        results["topup_ec"] = strong(alone, "EC of the one top-up that does it")
    steps = _steps_of(full, stock)
    short = 0.0 if correcting.same(full.ec, to) else to - full.ec
    results["verdict"] = Result("too weak" if short else "right", says="the tank when full")
    if short:
        results["missing"] = strong(short, "EC still missing")
        lines.append(f"missing = {plainly(to)} − {number(full.ec, 3)} = {amount(short, 'mS/cm', 3)}")
        says = (
            f"Water alone leaves it too weak: EC {strength(full.ec)} when full, {strength(short)} less than wanted.",
            *([_sentence(steps)] if steps else []),
            "What is missing is feed: give stock_ec or rise to learn how much"
            + (f", or top up with feed of {strength(alone)}." if alone is not None else "."),
        )
    elif steps:
        says = (f"{_sentence(steps)} The tank is then full at {strength(to)}.", LAST_FIFTH)
    else:
        says = ("Nothing to do: the tank is full and has what is wanted.", "Measure again tomorrow.")
    return Reckoned(
        results=results,
        says=says + (parts_of(stock, full.stock) if stock is not None and full.stock else ()),
        working=tuple(lines),
        source=SALT,
        cautions=_cautions(steps),
        do=_to_do(steps),
    )


def work_bring(
    volume: float,
    capacity: float,
    ec: float,
    to: float,
    water_ec: float | None,
    stock_ec: float | None,
    rise: float | None,
) -> Reckoned:
    """Work out the plan that brings a tank to its strength."""
    must_fit(volume, capacity)
    water = 0.0 if water_ec is None else water_ec
    stock = stock_of(stock_ec, rise)
    plan = bringing.bring(volume, capacity, ec, to, water, stock)
    lines = [taken("water_ec", 0, "mS/cm")] if water_ec is None else []
    if not plan.ways:
        if not plan.short:
            raise ValueError("; ".join(plan.left_out))
        lines.append(f"missing = {plainly(to)} − {plainly(ec)} = {strength(plan.short)}")
        return Reckoned(
            results={
                "plan": Result("concentrate needed", says="what to do"),
                "missing": strong(plan.short, "EC still missing"),
            },
            says=(
                f"Too weak by {strength(plan.short)}: it needs concentrate, and water cannot help.",
                "Give stock_ec or rise to learn how much.",
            ),
            working=tuple(lines),
            source=SALT,
            cautions=(CONCENTRATE,),
        )
    best, *rest = plan.ways
    lines += _working_of(best, volume, capacity, ec, to, water, stock)
    end = best.steps[-1] if best.steps else Step("water", 0.0, volume, to)
    results = {"plan": Result(_PLANS[best.name], says="what to do")}
    results |= {_KEYS[one.do]: _measure(one) for one in best.steps}
    results |= {"ec": strong(end.ec, "EC at the end"), "volume": litres(end.volume, "then in the tank")}
    says = [f"{turn}. {_step(one)}." for turn, one in enumerate(_told(best.steps), 1)]
    if not says:
        says = ["Nothing to do: the tank has what is wanted."]
    else:
        says.append(LAST_FIFTH)
    near = bool(best.steps) and abs(ec - to) <= NEAR_ENOUGH
    if near:
        says.insert(0, f"Near enough: no pen tells {strength(ec)} from {strength(to)}. What would bring it there:")
    fed = next((one.amount for one in best.steps if one.do in ("stock", "concentrate")), 0.0)
    if stock is not None and fed > 0:
        says += parts_of(stock, fed)
    says += [f"Or: {_sentence(one.steps)}" for one in rest if one.steps]
    says += [f"Not possible: {reason}." for reason in plan.left_out if reason != bringing.FULL]
    return Reckoned(
        results=results,
        says=tuple(says),
        working=tuple(lines),
        source=SALT,
        cautions=_cautions(best.steps),
        do=None if near else _to_do(best.steps),
    )


NEAR_ENOUGH = 0.05
"""mS/cm: about what a school's EC pen is right to; common practice."""

_PLANS = {
    "nothing": "nothing to do",
    "water": "add water",
    "swap": "take out, then fill",
    "feed": "add concentrate",
    "fill and feed": "fill up and feed",
}
_KEYS = {"take out": "take_out", "water": "water", "stock": "stock", "concentrate": "concentrate"}


def _working_of(
    way: Way, volume: float, capacity: float, ec: float, to: float, water: float, stock: Stock | None
) -> list[str]:
    if way.name == "water":
        added = way.steps[0].amount
        return [
            "water = V × (EC − wanted) ÷ (wanted − EC of the water)",
            f"= {dilution_line(volume, ec, to, water)}",
            f"it fits: {plainly(volume)} + {worked(added)} of {worked(capacity)}",
        ]
    if way.name == "feed" and stock is not None:
        return feeding_lines(volume, ec, to, stock, way.steps[0].amount)
    if way.name == "nothing":
        return [f"EC now {plainly(ec)} = wanted {strength(to)}"]
    filled = bringing.filling(volume, capacity, ec, to, water, stock)
    return _filling(volume, capacity, ec, to, water, stock, filled)


def _filling(
    volume: float, capacity: float, ec: float, to: float, water: float, stock: Stock | None, full: Filling
) -> list[str]:
    room = capacity - volume
    filled = correcting.blend(((volume, ec), (room, water)))
    salt = f"({plainly(volume)} × {plainly(ec)} + {plainly(room)} × {plainly(water)})"
    lines = [
        f"room = {plainly(capacity)} − {plainly(volume)} = {worked(room)}",
        f"filled with water: {salt} ÷ {plainly(capacity)} = {amount(filled, 'mS/cm', 3)}",
    ]
    if filled > to and not correcting.same(filled, to):
        return lines + kept_lines(volume, capacity, ec, to, water, full)
    if stock is None or full.stock == 0:
        return lines
    if stock.stock_ec is None:
        rise = stock.rise or 0.0
        lines.append(
            f"concentrate = {plainly(capacity)} × ({plainly(to)} − {number(filled, 3)}) ÷ {plainly(rise)}"
            f" = {worked(full.stock, 'mL')}"
        )
    elif full.take_out == 0:
        missing = f"({plainly(to)} − {number(filled, 3)})"
        lines += [
            "stock = full × (wanted − filled) ÷ (EC of the stock − EC of the water)",
            f"= {plainly(capacity)} × {missing} ÷ {plainly(stock.stock_ec - water)} = {worked(full.stock)}",
            f"water = {plainly(room)} − {worked(full.stock)} = {worked(full.water)}",
        ]
    else:
        missing = f"({plainly(to)} − {plainly(ec)})"
        lines += [
            "stock = full × (wanted − EC) ÷ (EC of the stock − EC)",
            f"= {plainly(capacity)} × {missing} ÷ {plainly(stock.stock_ec - ec)} = {worked(full.stock)}",
            f"take out = {worked(full.stock)} − {worked(room)} = {worked(full.take_out)}",
        ]
    return lines


def _steps_of(full: Filling, stock: Stock | None) -> tuple[Step, ...]:
    feed: tuple[Step, ...] = ()
    if stock is not None and full.stock > 0:
        feed = (Step("stock" if stock.rise is None else "concentrate", full.stock, 0, full.ec),)
    out = (Step("take out", full.take_out, 0, 0),) if full.take_out > 0 else ()
    water = (Step("water", full.water, 0, full.ec),) if full.water > 0 else ()
    return (*out, *water, *feed)


def _measure(one: Step) -> Result:
    if one.do in ("stock", "concentrate"):
        return fed_results(Stock(rise=1.0 if one.do == "concentrate" else None), one.amount)[one.do]
    return litres(one.amount, "water to add" if one.do == "water" else "take out first")


def _told(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    return tuple(one for one in steps if one.amount > 0)


def _step(one: Step) -> str:
    return f"{_words(one)}: the EC is then {amount(one.ec, 'mS/cm', 2)} and the tank holds {said(one.volume)}"


def _words(one: Step) -> str:
    if one.do == "take out":
        return f"Take out {said(one.amount)}"
    if one.do == "concentrate":
        return f"Add {said(one.amount, 'mL')} of each concentrate"
    if one.do == "stock":
        return f"Add {stock_words(one.amount)}"
    return f"Add {said(one.amount)} of {one.do}"


def _sentence(steps: tuple[Step, ...]) -> str:
    said_so = [_words(one) for one in _told(steps)]
    return ", then ".join([*said_so[:1], *(one[0].lower() + one[1:] for one in said_so[1:])]) + "." if said_so else ""


def _cautions(steps: tuple[Step, ...]) -> tuple[str, ...]:
    does = {one.do for one in steps}
    found = [CONCENTRATE] if does & {"stock", "concentrate"} else []
    if "take out" in does:
        found.append(DRAIN)
    if "water" in does:
        found.append(SPILLS)
    return tuple(found)


def _to_do(steps: tuple[Step, ...]) -> ToDo | None:
    if not _told(steps):
        return None
    feeds = any(one.do in ("stock", "concentrate") for one in steps)
    what = _sentence(steps).rstrip(".")
    return ToDo(what=f"{what} (tank)", who="adult" if feeds else "pupil", caution=_cautions(steps)[0])


RECKONINGS = (
    Reckoning(
        name="bring",
        subject="solution",
        title="Bring the tank right",
        about="The steps that bring a tank to the EC wanted, whatever it holds now: what to take out, what to add.",
        fields=(VOLUME, CAPACITY, EC, TO, WATER_EC, STOCK_EC, RISE),
        work=work_bring,
        example="volume=70 capacity=80 ec=2.4 to=1.8 water_ec=0.3",
        others=("correct", "correct-ec", "bring-to", "fix-ec", "set-ec"),
    ),
    Reckoning(
        name="top-up",
        subject="solution",
        title="Top up to full and right",
        about="Water and stock that make a half-empty tank full and bring it to the EC wanted at the same time.",
        fields=(VOLUME, CAPACITY, EC, TO, STOCK_EC, WATER_EC, RISE),
        work=work_top_up,
        example="volume=45 capacity=60 ec=2.0 to=1.8 stock_ec=180 water_ec=0.3",
        others=("topup", "refill", "fill-up"),
    ),
)
