"""What to do with one tank: the ways from the EC it has to the EC it should have, and why others will not do.

Litres, and EC in mS/cm at 25 °C; the sums are those of `correcting.py`, with their error of up to 6.5 %.
"""

from typing import Literal

from msgspec import Struct

from walkabout.growing.correcting import blend, concentrate_needed, dilution, same, stock_needed
from walkabout.growing.limits import OutOfRange, above, within

FULL = "water alone: the tank is full, so take some out first"
"""Why a full tank cannot be thinned by water alone."""


class Stock(Struct, frozen=True):
    """What makes a tank stronger: its EC if EC stayed proportional, or its rise for each mL in a litre."""

    stock_ec: float | None = None
    rise: float | None = None

    def needed(self, volume: float, ec: float, to: float) -> float:
        """Return L of a stock known by its EC, or mL of each concentrate known by its rise."""
        if self.rise is not None:
            return concentrate_needed(volume, ec, to, self.rise)
        return stock_needed(volume, ec, to, self.stock_ec or 0.0)


class Step(Struct, frozen=True):
    """One thing to do, and what the tank holds and measures after it."""

    do: Literal["take out", "water", "stock", "concentrate"]
    amount: float
    """L, or mL of each concentrate."""
    volume: float
    ec: float


class Way(Struct, frozen=True):
    """Steps in order; after the last one the tank has the EC wanted."""

    name: Literal["nothing", "water", "swap", "feed", "fill and feed"]
    steps: tuple[Step, ...]


class Plan(Struct, frozen=True):
    """The ways that work, the one to take first, and for the others why they do not."""

    ways: tuple[Way, ...]
    left_out: tuple[str, ...]
    short: float = 0.0
    """mS/cm that no way can give because no stock is known."""


class Filling(Struct, frozen=True):
    """How a tank becomes full and right at once."""

    take_out: float
    water: float
    stock: float
    """L of a stock known by its EC, mL of each concentrate known by its rise."""
    ec: float
    """What it then has: the EC wanted, or less where no stock is known."""


def filling(volume: float, capacity: float, ec: float, to: float, water_ec: float, stock: Stock | None) -> Filling:
    """Return what makes a tank of `capacity` L, holding `volume` L at `ec`, full and `to` mS/cm strong.

    With litres kept K, water y and stock s: K + y + s = C and K E + y Ew + s Es = C E*; as much is kept as
    can be. The volume of a concentrate known by its rise is left out. Raises OutOfRange when the water is
    stronger than what is wanted and the tank cannot make up for it.
    """
    _within_tank(volume, capacity)
    filled = _mixed(volume, ec, capacity - volume, water_ec)
    if same(filled, to):
        return Filling(0.0, capacity - volume, 0.0, to)
    if filled > to:
        if to < water_ec and not same(to, water_ec):
            raise OutOfRange(_water_too_strong(water_ec, to))
        kept = capacity * (to - water_ec) / (ec - water_ec)
        return Filling(volume - kept, capacity - kept, 0.0, to)
    if stock is None:
        return Filling(0.0, capacity - volume, 0.0, filled)
    if stock.stock_ec is None:
        return Filling(0.0, capacity - volume, stock.needed(capacity, filled, to), to)
    if stock.stock_ec <= to:
        raise OutOfRange(f"impossible: a stock of {stock.stock_ec:g} mS/cm cannot bring a tank to {to:g} mS/cm")
    litres = capacity * (to - filled) / (stock.stock_ec - water_ec)
    if litres <= capacity - volume:
        return Filling(0.0, capacity - volume - litres, litres, to)
    litres = capacity * (to - ec) / (stock.stock_ec - ec)
    return Filling(litres - (capacity - volume), 0.0, litres, to)


def topup_strength(volume: float, capacity: float, ec: float, to: float) -> float | None:
    """Return the EC of a top-up that makes the tank full and right by itself; None when nothing has it.

    (C E* - V E) ÷ (C - V).
    """
    _within_tank(volume, capacity)
    needed = capacity * to - volume * ec
    return needed / (capacity - volume) if capacity > volume and needed >= 0 else None


def bring(volume: float, capacity: float, ec: float, to: float, water_ec: float, stock: Stock | None = None) -> Plan:
    """Return the ways to bring a tank of `capacity` L, holding `volume` L at `ec`, to `to` mS/cm.

    Too strong: water comes first, because anybody may add it. Too weak: the tank is filled and fed for its
    whole volume. Raises OutOfRange for a volume above the capacity, or an EC below 0.
    """
    above("the volume", volume, 0, "L")
    _within_tank(volume, capacity)
    for what, value in (("the EC of the tank", ec), ("the EC wanted", to), ("the EC of the water", water_ec)):
        within(what, value, 0, float("inf"), "mS/cm")
    if same(ec, to):
        fed = _fill_and_feed(volume, capacity, ec, to, water_ec, stock) if capacity > volume else None
        return Plan((Way("nothing", ()), *([fed] if isinstance(fed, Way) else [])), ())
    tries = _weaker if ec > to else _stronger
    found = tries(volume, capacity, ec, to, water_ec, stock)
    short = 0.0 if stock is not None or ec > to else to - ec
    return Plan(
        tuple(one for one in found if isinstance(one, Way)), tuple(one for one in found if isinstance(one, str)), short
    )


def _weaker(
    volume: float, capacity: float, ec: float, to: float, water_ec: float, stock: Stock | None
) -> list[Way | str]:
    room = capacity - volume
    if to < water_ec and not same(to, water_ec):
        return [_water_too_strong(water_ec, to)]
    found: list[Way | str] = []
    litres = dilution(volume, ec, to, water_ec) if to > water_ec and not same(to, water_ec) else None
    if litres is not None and litres <= room:
        found.append(Way("water", (Step("water", litres, volume + litres, to),)))
        if stock is not None and litres < room:
            found.append(_fill_and_feed(volume, capacity, ec, to, water_ec, stock))
        return found
    full = filling(volume, capacity, ec, to, water_ec, None)
    kept = volume - full.take_out
    steps = (
        Step("take out", full.take_out, kept, ec),
        Step("water", full.water, capacity, to),
    )
    found.append(Way("swap", steps))
    if room > 0:
        filled = _mixed(volume, ec, room, water_ec)
        found.append(
            f"water alone: {_litres(room)} L up to the mark bring the EC to {filled:.2f} mS/cm, not there yet, "
            "so take some out first"
        )
    else:
        found.append(FULL)
    return found


def _stronger(
    volume: float, capacity: float, ec: float, to: float, water_ec: float, stock: Stock | None
) -> list[Way | str]:
    if stock is None:
        return ["concentrate: how much cannot be said without stock_ec or rise"]
    found: list[Way | str] = []
    if capacity > volume:
        found.append(_fill_and_feed(volume, capacity, ec, to, water_ec, stock))
    try:
        amount = stock.needed(volume, ec, to)
    except OutOfRange as error:
        return [str(error)]
    by_litre = stock.stock_ec is not None
    if by_litre and amount > capacity - volume:
        full = filling(volume, capacity, ec, to, water_ec, stock)
        steps = (
            Step("take out", full.take_out, volume - full.take_out, ec),
            Step("stock", full.stock, capacity, to),
        )
        if capacity == volume:
            found.append(Way("swap", steps))
        found.append(f"stock alone: {_litres(amount)} L do not fit as the tank stands, so take some out first")
        return found
    done = volume + (amount if by_litre else 0.0)
    found.append(Way("feed", (Step("stock" if by_litre else "concentrate", amount, done, to),)))
    return found


def _fill_and_feed(
    volume: float, capacity: float, ec: float, to: float, water_ec: float, stock: Stock | None
) -> Way | str:
    if stock is None:
        return "filling up: how much concentrate it takes cannot be said without stock_ec or rise"
    filled = _mixed(volume, ec, capacity - volume, water_ec)
    if filled > to and not same(filled, to):
        return f"filling up with water: the EC comes to {filled:.2f} mS/cm, above what is wanted"
    try:
        full = filling(volume, capacity, ec, to, water_ec, stock)
    except OutOfRange as error:
        return str(error)
    steps: list[Step] = []
    level = volume
    if full.take_out > 0:
        level -= full.take_out
        steps.append(Step("take out", full.take_out, level, ec))
    if full.water > 0:
        ec = _mixed(level, ec, full.water, water_ec)
        level += full.water
        steps.append(Step("water", full.water, level, ec))
    if full.stock > 0:
        steps.append(Step("concentrate" if stock.stock_ec is None else "stock", full.stock, capacity, to))
    return Way("fill and feed", tuple(steps))


def _mixed(volume: float, ec: float, water: float, water_ec: float) -> float:
    return blend(((volume, ec), (water, water_ec)))


def _water_too_strong(water_ec: float, to: float) -> str:
    return (
        f"impossible: water at {water_ec:g} mS/cm cannot bring a tank down to {to:g} mS/cm; "
        "the water must be weaker than what is wanted"
    )


def _within_tank(volume: float, capacity: float) -> None:
    above("the capacity", capacity, 0, "L")
    within("what is in the tank", volume, 0, capacity, "L")


def _litres(value: float) -> str:
    return f"{value:.3g}" if value < 100 else f"{value:.0f}"
