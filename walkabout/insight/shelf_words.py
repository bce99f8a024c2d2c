"""How a supply stands, in one line."""

from msgspec import Struct

from walkabout.insight.supplies import BUY_WEEKS, Stock
from walkabout.insight.term_units import short_day, unit_of
from walkabout.reckon.write import digits, number, plainly


class Row(Struct, frozen=True):
    """One line: what, how much with its unit, and a short remark."""

    name: str
    value: str
    remark: str = ""


def shelf_row(one: Stock, currency: str) -> Row:
    """Say how a supply stands in one line."""
    left = amount_words(one.now, one.supply.unit)
    weeks = "" if one.weeks is None else f"{number(one.weeks, 0)} week{'' if round(one.weeks) == 1 else 's'}, "
    says = {
        "order now": "order now",
        "order soon": f"order by {short_day(one.order_by or one.empty_by, one.on)}",
        "enough": "enough" if one.empty_by is None else f"until {short_day(one.empty_by, one.on)}",
        "not known": "how fast it goes is not known",
    }[one.state]
    buy = ""
    if one.packs is not None and one.state in ("order now", "order soon"):
        price = f", {f'{currency} {number(one.cost)}'.strip()}" if one.cost is not None else ""
        more = f" for {BUY_WEEKS} weeks, besides what is left" if one.now else f" for {BUY_WEEKS} weeks"
        buy = f": {one.packs} pack{'s' if one.packs != 1 else ''}{more}{price}"
    return Row(one.supply.name, left, f"{weeks}{says}{buy}")


def amount_words(value: float, unit: str) -> str:
    """Write an amount of a supply with its unit: '89.4 mL', '1 piece'."""
    return f"{_about(value)} {unit_of(_about(value), unit)}"


def _about(value: float) -> str:
    """Write what was reckoned with no more digits than it can hold: three, and never a fraction of a hundred."""
    return plainly(float(digits(value).replace("−", "-")))
