"""Electricity by lamp, water by tank, and the concentrate that went into new solution, within a span of days."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from walkabout.growing.lamps import kwh
from walkabout.growing.limits import OutOfRange
from walkabout.insight.term_kept import Kept, Poured, Renewed
from walkabout.insight.term_model import Dose, Energy, LampUse, SolutionUse, TankUse, WaterUse
from walkabout.insight.term_units import in_gallons, scales_of, short_day
from walkabout.reckon.write import number, plainly
from walkabout.room.calendar import closure_on
from walkabout.room.model import Lamp

NEAR_DAYS = 3
"""What an answer counts back to within so many days of a known change is that change: people count roughly. Assumed."""
NEXT_DAY = 1
"""Nobody renews a tank on two days running: two jobs so near are one change. Assumed."""
READ_WITHIN = 7
"""The EC of a new solution is the first one read within so many days. Assumed."""


def energy(kept: Kept, first: date, last: date) -> Energy:
    """Return what the lamps took: watts × lit hours ÷ 1000, every day as the timer runs.

    On closed days they are lit for `closed_light` of their hours. A lamp counts from the day since which it hangs, or
    from the first day on record where that is earlier: one like it hung there then. Before both nothing is known.
    """
    price = kept.room.prices.per_kwh
    used, left_out = [], []
    for key, lamp in kept.room.lamps.items():
        if lamp.watts <= 0:
            if lamp.kind != "window":
                left_out.append(f"Lamp {key}: its watts are not in room.toml.")
            continue
        try:
            begins = _counts_from(lamp, kept)
            if begins is None or begins > last:
                left_out.append(f"Lamp {key}: that it hung there in these days is not on record.")
                continue
            if begins > first:
                left_out.append(f"Lamp {key} before {short_day(begins, last)}: it is not on record that it hung there.")
            used.append(_lamp(key, lamp, max(first, begins), last, kept))
        except OutOfRange as error:
            left_out.append(f"Lamp {key}: {error}.")
    if kept.room.lamps or kept.room.pumps:
        left_out.append("Pumps, fans, mats and all else that is plugged in: their watts are not on record.")
    if used and price is None:
        left_out.append("Money for electricity: the price of a kWh is not in room.toml.")
    total = sum(one.kwh for one in used)
    money = total * price if used and price is not None else None
    return Energy(lamps=tuple(used), kwh=total, money=money, left_out=tuple(left_out))


def _counts_from(lamp: Lamp, kept: Kept) -> date | None:
    return min((day for day in (lamp.since, kept.known_from) if day is not None), default=None)


def _lamp(key: str, lamp: Lamp, first: date, last: date, kept: Kept) -> LampUse:
    share, price = kept.closed_light, kept.room.prices.per_kwh
    days = (last - first).days + 1
    closed = sum(1 for ahead in range(days) if closure_on(kept.room, first + timedelta(days=ahead)) is not None)
    lit = days - closed
    open_days, closed_days = kwh(lamp.watts, lamp.hours, lit), kwh(lamp.watts, lamp.hours * share, closed)
    total = open_days + closed_days
    lines = [f"{plainly(lamp.watts)} W × {plainly(lamp.hours)} h × {lit} days ÷ 1000 = {plainly(open_days)} kWh"]
    if closed:
        part = f"{plainly(lamp.watts)} W × {plainly(lamp.hours * share)} h × {closed} closed days ÷ 1000"
        lines.append(f"{part} = {plainly(closed_days)} kWh")
    if lamp.since is not None and lamp.since > first:
        lines.append(f"It, or its tube, hangs since {lamp.since}; the days before count as if one like it had hung.")
    money = total * price if price is not None else None
    if money is not None and price is not None:
        lines.append(f"{plainly(total)} kWh × {plainly(price)} = {number(money)}")
    where = ", ".join(one.name for one in kept.room.stations if key in one.lamps)
    return LampUse(key=key, where=where, kwh=total, money=money, working=tuple(lines))


def changes(told: Iterable[Renewed]) -> tuple[Renewed, ...]:
    """Return each change of solution once, the oldest first: what jobs say, and what answers say besides."""
    found: list[Renewed] = []
    for one in sorted(set(told), key=lambda one: (not one.exact, one.day, one.tank)):
        near = NEXT_DAY if one.exact else NEAR_DAYS
        if not any(each.tank == one.tank and abs((each.day - one.day).days) <= near for each in found):
            found.append(one)
    return tuple(sorted(found, key=lambda one: (one.day, one.tank)))


def water(kept: Kept, first: date, last: date) -> WaterUse:
    """Return the water on record: what was poured in on top, and whole tanks for each change of solution."""
    room, tank_of = kept.room, {one.key: one.tank for one in kept.room.stations if one.tank in kept.room.tanks}
    topped: dict[str, list[Poured]] = {}
    for one in kept.poured:
        if first <= one.day <= last and one.litres > 0:
            topped.setdefault(tank_of.get(one.station, one.station), []).append(one)
    renewed = [one for one in changes(kept.renewed) if first <= one.day <= last]
    keys = dict.fromkeys([*room.tanks, *topped])
    mine = {key: [one for one in renewed if one.tank == key] for key in keys}
    found = [
        _tank(key, topped.get(key, ()), mine[key], kept) for key in keys if topped.get(key) or mine[key]
    ]  # fmt: skip
    gone = sum(1 for one in renewed if one.tank not in room.tanks)
    left_out = ["Watering by can and spray: nobody writes down how much it was."]
    if gone:
        left_out.append(f"{gone} change{'s' if gone > 1 else ''} of tanks that are no longer in room.toml.")
    total, price = sum(one.litres for one in found), room.prices.per_cubic_metre
    if total and price is None:
        left_out.append("Money for water: the price of a cubic metre is not in room.toml.")
    money = total / 1000 * price if total and price is not None else None
    return WaterUse(tanks=tuple(found), litres=total, money=money, left_out=tuple(left_out))


def _tank(key: str, topped: Iterable[Poured], renewed: list[Renewed], kept: Kept) -> TankUse:
    poured, scales = [one.litres for one in topped], scales_of(kept.room)
    tank = kept.room.tanks.get(key)
    new = len(renewed) * tank.litres if tank is not None else 0.0
    names = [one.name for one in kept.room.stations if one.tank == key]
    lines = []
    if poured:
        times = f"topped up {len(poured)} time{'s' if len(poured) > 1 else ''}"
        lines.append(f"{times}: {plainly(sum(poured))} L in all{in_gallons(sum(poured), scales)}")
    if renewed and tank is not None:
        days = ", ".join(short_day(one.day, kept.today) for one in renewed)
        much = f"{len(renewed)} × {plainly(tank.litres)} L = {plainly(new)} L{in_gallons(new, scales)}"
        lines.append(f"renewed {much} ({days})")
    return TankUse(
        key=key, name=", ".join(names) or kept.name_of(key), topped=sum(poured), renewals=len(renewed), renewed=new,
        working=tuple(lines),
    )  # fmt: skip


def solution(kept: Kept, first: date, last: date) -> SolutionUse:
    """Return the concentrate in renewed solution: (EC read − EC of the water) ÷ rise × litres, mL of each part.

    The `rise` is that of room.toml; without it, without the water's EC or without a reading it is not known.
    """
    feed, base = kept.room.feed, kept.room.water.ec
    renewed = [one for one in changes(kept.renewed) if first <= one.day <= last and one.tank in kept.room.tanks]
    doses = tuple(_doses(renewed, kept))
    known = [one.ml for one in doses if one.ml is not None]
    left_out = []
    if renewed and not feed.rise:
        left_out.append("Concentrate: how much the EC rises with it (feed, rise) is not in room.toml.")
    if renewed and base is None:
        left_out.append("Concentrate: the EC of the water that fills the tanks (water, ec) is not in room.toml.")
    if renewed:
        left_out.append("What was added between two changes to strengthen or correct a solution.")
    return SolutionUse(
        doses=doses, ml=sum(known) if known else None, parts=feed.parts, unknown=len(doses) - len(known),
        left_out=tuple(left_out),
    )  # fmt: skip


def _doses(renewed: Iterable[Renewed], kept: Kept) -> Iterator[Dose]:
    rise, base = kept.room.feed.rise, kept.room.water.ec
    for one in renewed:
        litres = kept.room.tanks[one.tank].litres
        near = [
            each
            for each in kept.strengths
            if each.tank == one.tank and 0 <= (each.day - one.day).days <= READ_WITHIN
        ]  # fmt: skip
        read = [each for each in near if each.trusted]
        where = ", ".join(each.name for each in kept.room.stations if each.tank == one.tank) or one.tank
        when = f"{where}, {short_day(one.day, kept.today)}"
        if not rise or base is None or not read:
            why = "no EC was read in the week after" if not near else "no EC of the week after can be trusted"
            why = why if rise and base is not None else "room.toml does not say enough"
            yield Dose(day=one.day, tank=one.tank, ml=None, says=f"{when}: not known, {why}")
            continue
        ec = min(read, key=lambda each: each.day).ec
        ml = max(ec - base, 0.0) / rise * litres
        says = (
            f"{when}: ({plainly(ec)} − {plainly(base)} mS/cm) ÷ {plainly(rise)} × {plainly(litres)} L "
            f"= {plainly(ml)} mL of each part"
        )
        yield Dose(day=one.day, tank=one.tank, ml=ml, says=says)
