"""What the reckonings that correct a tank share: their fields, cautions, and lines of the working."""

from walkabout.growing import correcting
from walkabout.growing.bringing import Filling, Stock
from walkabout.reckon.model import Field, Result
from walkabout.reckon.write import amount, plainly

SALT = (
    "mass balance of the salt, own derivation, with EC taken as conserved; up to 6.5 % off where a solution is "
    "thinned to half (Hoagland's and Steiner's solutions mixed with water, worked out ion by ion with PHREEQC)"
)
SPILLS = (
    "A pupil may do this: keep water and wet hands away from plugs and lamps and wipe up spills; the school's own "
    "rules go first."
)
CONCENTRATE = (
    "An adult measures out concentrates: gloves and goggles on, spills wiped up, parts A and B never mixed undiluted; "
    "the label and local rules go first."
)
DRAIN = (
    "A pupil with gloves on may take solution out: it goes into an indoor sink, never into an outdoor drain or a pond; "
    "local rules decide."
)
LAST_FIFTH = (
    "Hold back the last fifth until you have stirred, waited ten minutes and measured: the sum may be up to 6.5 % out."
)

VOLUME = Field(
    key="volume",
    says="solution in the tank now",
    unit="L",
    low=0,
    high=1e6,
    starts="litres",
    others=("v", "litres", "liters", "tank", "v_l"),
)
CAPACITY = Field(
    key="capacity",
    says="what the tank holds when full",
    unit="L",
    low=0,
    high=1e6,
    starts="capacity",
    others=("c", "full", "holds", "size"),
)
EC = Field(
    key="ec",
    says="EC now",
    unit="mS/cm",
    low=0,
    high=50,
    starts="EC",
    others=("e", "ec_now", "now", "from", "strength"),
)
TO = Field(
    key="to",
    says="EC wanted",
    unit="mS/cm",
    low=0,
    high=50,
    starts="wanted EC",
    others=("target", "wanted", "want", "aim", "target_ec", "to_ec", "ec_target"),
)
WATER_EC = Field(
    key="water_ec",
    says="EC of the water",
    unit="mS/cm",
    low=0,
    high=20,
    needed=False,
    starts="water EC",
    others=("water", "ec_water", "source_ec", "tap_ec", "ew"),
    note="0, pure water, unless given",
)
STOCK_EC = Field(
    key="stock_ec",
    says="EC that the stock would have if EC stayed proportional",
    unit="mS/cm",
    low=0,
    high=2000,
    needed=False,
    others=("stock", "feed_ec", "ec_stock", "stock_ec_equiv", "es"),
    note="about 1000 times the rise for 1 mL in a litre",
)
RISE = Field(
    key="rise",
    says="rise of the EC for 1 mL of concentrate in a litre",
    unit="mS/cm per mL/L",
    low=0,
    high=20,
    needed=False,
    others=("r", "rise_per_ml", "per_ml", "lift"),
    starts="rise",
    note="of A and B together, where 1 mL of each goes in",
)
ROOM = Field(
    key="capacity",
    says=CAPACITY.says,
    unit="L",
    low=0,
    high=1e6,
    needed=False,
    starts="capacity",
    others=CAPACITY.others,
    note="to see whether it fits",
)


def litres(value: float, says: str) -> Result:
    """Return litres as a result, with more decimals for a small measure."""
    return Result(value, "L", _places(value), says)


def _places(value: float) -> int:
    return 3 if 0 < value < 1 else 2 if value < 100 else 1


def fed_results(stock: Stock, needed: float) -> dict[str, Result]:
    """Return what is needed of a stock, or of each concentrate, as a result."""
    if stock.rise is not None:
        return {"concentrate": Result(needed, "mL", 1, "of each concentrate")}
    return {"stock": litres(needed, "stock in all, half A and half B")}


def strong(value: float, says: str = "") -> Result:
    """Return an EC as a result, with a third decimal only where it has one."""
    return Result(value, "mS/cm", 2 if abs(round(value, 2) - value) < 1e-6 else 3, says)


def worked(value: float, unit: str = "L") -> str:
    """Write litres or mL for the working."""
    if unit == "mL":
        return amount(value, unit, 0 if value >= 100 else 1)
    return amount(value, unit, _places(value))


def said(value: float, unit: str = "L") -> str:
    """Write litres or mL for a sentence: '24 L', '11.1 L', '202 mL'."""
    if unit == "L" and 0 < value < 1:
        value, unit = value * 1000, "mL"
    return amount(round(value, 2 if value < 10 else 1 if value < 1000 else 0), unit)


def taken(key: str, value: float, unit: str) -> str:
    """Say in the working that nothing was given for a key."""
    return f"taken: {key} = {amount(value, unit)}"


def strength(value: float) -> str:
    """Write an EC for a sentence."""
    return amount(round(value, 3), "mS/cm")


def dilution_line(volume: float, ec: float, to: float, water: float) -> str:
    """Put the values into the formula of dilution."""
    added = correcting.dilution(volume, ec, to, water)
    if added == 0:
        return f"{plainly(volume)} × 0 = 0 L"
    return f"{plainly(volume)} × ({plainly(ec)} − {plainly(to)}) ÷ ({plainly(to)} − {plainly(water)}) = {worked(added)}"


def feeding_lines(volume: float, ec: float, to: float, stock: Stock, needed: float) -> list[str]:
    """Work the stock or concentrate that strengthens a tank."""
    if stock.rise is not None:
        return [
            "concentrate = V × (wanted − EC) ÷ rise",
            f"= {plainly(volume)} × ({plainly(to)} − {plainly(ec)}) ÷ {plainly(stock.rise)} = {worked(needed, 'mL')}",
        ]
    its_ec = stock.stock_ec or 0.0
    values = f"({plainly(to)} − {plainly(ec)}) ÷ ({plainly(its_ec)} − {plainly(to)})"
    return [
        "stock = V × (wanted − EC) ÷ (EC of the stock − wanted)",
        f"= {plainly(volume)} × {values} = {worked(needed)}",
        check_line((volume, ec), (needed, its_ec)),
    ]


def kept_lines(volume: float, capacity: float, ec: float, to: float, water: float, full: Filling) -> list[str]:
    """Work what is kept, taken out and filled in where water alone does not do."""
    kept = volume - full.take_out
    share = f"({plainly(to)} − {plainly(water)}) ÷ ({plainly(ec)} − {plainly(water)})"
    return [
        "keep = full × (wanted − EC of the water) ÷ (EC − EC of the water)",
        f"= {plainly(capacity)} × {share} = {worked(kept)}",
        f"take out = {plainly(volume)} − {worked(kept)} = {worked(full.take_out)}",
        f"water = {plainly(capacity)} − {worked(kept)} = {worked(full.water)}",
    ]


def check_line(one: tuple[float, float], other: tuple[float, float]) -> str:
    """Mix two waters, each (litres, EC), to show that the sum closes."""
    ec = correcting.blend((one, other))
    return (
        f"check: ({plainly(one[0])} × {plainly(one[1])} + {plainly(other[0])} × {plainly(other[1])}) ÷ "
        f"{plainly(one[0] + other[0])} = {amount(ec, 'mS/cm', 2)}"
    )


def stock_of(stock_ec: float | None, rise: float | None) -> Stock | None:
    """Return the stock that was given, or None; raises ValueError when both ways are given."""
    if stock_ec is not None and rise is not None:
        raise ValueError("stock_ec and rise say the same thing: give one of them")
    return None if stock_ec is None and rise is None else Stock(stock_ec, rise)


def must_fit(volume: float, capacity: float) -> None:
    """Raise ValueError when there is more in the tank than it holds."""
    if volume > capacity:
        raise ValueError(f"{said(volume)} are more than the {said(capacity)} that the tank holds")


def stock_words(needed: float) -> str:
    """Write how so many litres of stock go in: its two parts one after the other, never together."""
    half = said(needed / 2)
    return f"{half} of stock A, stir it in well, then {half} of stock B"


def parts_of(stock: Stock, needed: float) -> tuple[str, ...]:
    """Say how the two parts of a stock go in, and what they do to the level."""
    if stock.rise is None:
        return (
            f"That is {said(needed)} of stock in all, half of it A and half B, which never meet undiluted.",
            "A stock that is all in one bottle goes in whole.",
        )
    return (
        "Stir after each part: A first, B when A is well mixed in.",
        f"A and B together raise the level by {said(2 * needed / 1000)}, which this sum leaves out.",
    )
