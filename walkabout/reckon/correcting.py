"""Reckonings that make a tank weaker or stronger: dilute, strengthen, swap."""

from walkabout.growing import bringing, correcting
from walkabout.growing.bringing import Stock
from walkabout.reckon.correcting_words import (
    CONCENTRATE,
    DRAIN,
    EC,
    LAST_FIFTH,
    RISE,
    ROOM,
    SALT,
    SPILLS,
    STOCK_EC,
    TO,
    VOLUME,
    WATER_EC,
    check_line,
    dilution_line,
    fed_results,
    feeding_lines,
    kept_lines,
    litres,
    parts_of,
    said,
    stock_of,
    stock_words,
    strength,
    taken,
    worked,
)
from walkabout.reckon.model import Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.write import plainly


def work_dilute(volume: float, ec: float, to: float, water_ec: float | None, capacity: float | None) -> Reckoned:
    """Work out the water that thins a tank."""
    water = 0.0 if water_ec is None else water_ec
    if ec < to and not correcting.same(ec, to):
        raise ValueError(
            f"the tank has {strength(ec)} and {strength(to)} is wanted, which is stronger: use strengthen, not dilute"
        )
    if capacity is not None and volume > capacity:
        raise ValueError(f"{said(volume)} are more than the {said(capacity)} that the tank holds")
    added = correcting.dilution(volume, ec, to, water)
    lines = [taken("water_ec", 0, "mS/cm")] if water_ec is None else []
    lines += ["water = V × (EC − wanted) ÷ (wanted − EC of the water)", f"= {dilution_line(volume, ec, to, water)}"]
    if added > 0:
        lines.append(check_line((volume, ec), (added, water)))
    results = {"water": litres(added, "water to add"), "volume": litres(volume + added, "then in the tank")}
    if added == 0:
        return Reckoned(
            results=results, says=("Nothing to add: the tank has what is wanted.",), working=tuple(lines), source=SALT
        )
    if capacity is None or volume + added <= capacity:
        return Reckoned(
            results=results | ({"verdict": Result("fits", says="the water")} if capacity is not None else {}),
            says=(f"Add {said(added)} of water: the EC comes to {strength(to)}.", LAST_FIFTH),
            working=tuple(lines),
            source=SALT,
            cautions=(SPILLS,),
            do=ToDo(what=f"Add {said(added)} of water to the tank", caution=SPILLS),
        )
    full = bringing.filling(volume, capacity, ec, to, water, None)
    lines += kept_lines(volume, capacity, ec, to, water, full)
    out, fill = said(full.take_out), said(full.water)
    return Reckoned(
        results=results
        | {
            "verdict": Result("does not fit", says="the water"),
            "take_out": litres(full.take_out, "take out first"),
            "fill": litres(full.water, "then fill in"),
        },
        says=(
            f"{said(added)} of water do not fit into {said(capacity)}.",
            f"Take out {out}, then fill up with {fill} of water: the EC comes to {strength(to)}.",
            LAST_FIFTH,
        ),
        working=tuple(lines),
        source=SALT,
        cautions=(DRAIN, SPILLS),
        do=ToDo(what=f"Take {out} out of the tank, then fill it with {fill} of water", caution=DRAIN),
    )


def work_strengthen(
    volume: float, ec: float, to: float, stock_ec: float | None, rise: float | None, capacity: float | None
) -> Reckoned:
    """Work out the stock or concentrate that strengthens a tank."""
    if ec > to and not correcting.same(ec, to):
        raise ValueError(
            f"the tank has {strength(ec)} and {strength(to)} is wanted, which is weaker: use dilute, not strengthen"
        )
    stock = stock_of(stock_ec, rise)
    if stock is None:
        raise ValueError("strengthen needs stock_ec (the EC of the stock) or rise (mS/cm for 1 mL in a litre)")
    needed = stock.needed(volume, ec, to)
    lines = feeding_lines(volume, ec, to, stock, needed)
    results = fed_results(stock, needed)
    if needed == 0:
        return Reckoned(
            results=results, says=("Nothing to add: the tank has what is wanted.",), working=tuple(lines), source=SALT
        )
    after = volume + (0.0 if stock.rise is not None else needed)
    if capacity is not None and after > capacity:
        raise ValueError(
            f"{said(needed)} of stock do not fit: the tank holds {said(capacity)} and has {said(volume)}. "
            "Use swap, or bring, which says how much to take out first"
        )
    what = _fed(stock, needed)
    return Reckoned(
        results=results | {"volume": litres(after, "then in the tank")},
        says=(f"Add {what}: the EC comes to {strength(to)}.", LAST_FIFTH, *parts_of(stock, needed)),
        working=tuple(lines),
        source=SALT,
        cautions=(CONCENTRATE,),
        do=ToDo(what=f"Add {what} to the tank", who="adult", caution=CONCENTRATE),
    )


def work_swap(volume: float, ec: float, to: float, water_ec: float | None, stock_ec: float | None) -> Reckoned:
    """Work out what to take out and replace in a tank that stays as full as it is."""
    if ec < to and not correcting.same(ec, to):
        if stock_ec is None:
            raise ValueError(
                f"the tank has {strength(ec)} and {strength(to)} is wanted, which is stronger: give stock_ec"
            )
        swapped = correcting.swap_for_stock(volume, ec, to, stock_ec)
        liquid, its_ec, lines = "stock", stock_ec, ["out = in = V × (wanted − EC) ÷ (EC of the stock − EC)"]
        lines.append(
            f"= {plainly(volume)} × ({plainly(to)} − {plainly(ec)}) ÷ ({plainly(stock_ec)} − {plainly(ec)})"
            f" = {worked(swapped)}"
        )
    else:
        water = 0.0 if water_ec is None else water_ec
        swapped = correcting.swap_for_water(volume, ec, to, water)
        liquid, its_ec = "water", water
        lines = [taken("water_ec", 0, "mS/cm")] if water_ec is None else []
        lines.append("out = in = V × (EC − wanted) ÷ (EC − EC of the water)")
        if swapped > 0:
            lines.append(
                f"= {plainly(volume)} × ({plainly(ec)} − {plainly(to)}) ÷ ({plainly(ec)} − {plainly(water)})"
                f" = {worked(swapped)}"
            )
    lines.append(check_line((volume - swapped, ec), (swapped, its_ec)))
    results = {
        "take_out": litres(swapped, "take out"),
        liquid: litres(swapped, f"{liquid} to put in"),
        "volume": litres(volume, "then in the tank"),
    }
    if swapped == 0:
        return Reckoned(
            results=results, says=("Nothing to swap: the tank has what is wanted.",), working=tuple(lines), source=SALT
        )
    feeds = liquid == "stock"
    put_in = f"add {stock_words(swapped)}" if feeds else f"put {said(swapped)} of water in"
    return Reckoned(
        results=results,
        says=(
            f"Take out {said(swapped)}, then {put_in}: the EC comes to {strength(to)}.",
            LAST_FIFTH,
            *(parts_of(Stock(stock_ec), swapped) if feeds else ()),
        ),
        working=tuple(lines),
        source=SALT,
        cautions=(DRAIN, CONCENTRATE if feeds else SPILLS),
        do=ToDo(
            what=f"Take {said(swapped)} out of the tank, then {put_in}",
            who="adult" if feeds else "pupil",
            caution=CONCENTRATE if feeds else DRAIN,
        ),
    )


def _fed(stock: Stock, needed: float) -> str:
    return f"{said(needed, 'mL')} of each concentrate" if stock.rise is not None else stock_words(needed)


RECKONINGS = (
    Reckoning(
        name="dilute",
        subject="solution",
        title="Make a tank weaker",
        about="A tank that is too strong burns roots. This is the water that brings it down to the EC wanted.",
        fields=(VOLUME, EC, TO, WATER_EC, ROOM),
        work=work_dilute,
        example="volume=60 ec=2.4 to=1.8 water_ec=0.3",
        others=("dilution", "thin", "weaken", "thin-down", "dilute-ec"),
    ),
    Reckoning(
        name="strengthen",
        subject="solution",
        title="Make a tank stronger",
        about="A tank that is too weak starves the plants. This is the stock that lifts it to the EC wanted.",
        fields=(VOLUME, EC, TO, STOCK_EC, RISE, ROOM),
        work=work_strengthen,
        example="volume=60 ec=1.2 to=1.8 rise=0.18",
        others=("raise-ec", "boost", "strengthen-ec"),
    ),
    Reckoning(
        name="swap",
        subject="solution",
        title="Swap part of a tank",
        about="What to take out of a full tank and replace with water or stock, so that its EC comes right.",
        fields=(VOLUME, EC, TO, WATER_EC, STOCK_EC),
        work=work_swap,
        example="volume=60 ec=2.4 to=1.8 water_ec=0.3",
        others=("exchange", "drain-and-fill", "partial-change"),
    ),
)
