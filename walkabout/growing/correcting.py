"""Making a tank stronger or weaker: where the salt goes when litres come and go.

Litres, and EC in mS/cm at 25 °C. EC is treated as if it were salt: what a litre brings or takes away is
its EC, and nothing is lost in mixing (mass balance, own derivation). That is not quite so: a solution
thinned to half with pure water keeps 53 % of its EC, not 50 % (Hoagland's and Steiner's solutions worked
out ion by ion with PHREEQC). Down to half the strength the sums are up to 6.5 % out, 2 to 3 % down to three
quarters, so one adds four fifths of what they say, stirs, measures, and only then adds the rest.

A stock is known by the EC it would have if EC stayed proportional (`stock_ec`), or by the `rise` in mS/cm
that 1 mL gives to 1 L; a stock of 180 mS/cm raises a litre by close to 0.18 for each mL.
"""

from collections.abc import Sequence

from walkabout.growing.limits import OutOfRange, above, within

NEAR = 1e-9
"""Two strengths closer than this, mS/cm, are the same."""


def dilution(volume: float, ec: float, to: float, water_ec: float = 0.0) -> float:
    """Return the litres of water that bring `volume` L at `ec` down to `to`.

    V (E - E*) ÷ (E* - Ew). 0 when the tank is there already. Raises OutOfRange when the water is not
    weaker than what is wanted, or the tank is weaker already.
    """
    _sound(volume, ec=ec, to=to, water_ec=water_ec)
    if same(ec, to):
        return 0.0
    if ec < to:
        raise OutOfRange(f"the tank has {ec:g} mS/cm and {to:g} is wanted: water cannot make it stronger")
    if to <= water_ec or same(to, water_ec):
        raise OutOfRange(
            f"impossible: water at {water_ec:g} mS/cm cannot bring a tank down to {to:g} mS/cm; "
            "the water must be weaker than what is wanted"
        )
    return volume * (ec - to) / (to - water_ec)


def stock_needed(volume: float, ec: float, to: float, stock_ec: float) -> float:
    """Return the litres of a stock of `stock_ec` that bring `volume` L at `ec` up to `to`.

    V (E* - E) ÷ (Es - E*). 0 when the tank is there already. Raises OutOfRange when the stock is not
    stronger than what is wanted, or the tank is stronger already.
    """
    _rising(volume, ec, to)
    _stronger(stock_ec, to)
    return volume * max(to - ec, 0.0) / (stock_ec - to)


def concentrate_needed(volume: float, ec: float, to: float, rise: float) -> float:
    """Return the mL of concentrate (of each part where equal parts go in together) that lift `ec` to `to`.

    V (E* - E) ÷ r, with `rise` r in mS/cm for each mL in a litre; the volume of the concentrate itself is
    left out. 0 when the tank is there already. Raises OutOfRange.
    """
    _rising(volume, ec, to)
    above("the rise", rise, 0, "mS/cm for each mL in a litre")
    return volume * max(to - ec, 0.0) / rise


def swap_for_water(volume: float, ec: float, to: float, water_ec: float = 0.0) -> float:
    """Return the litres to take out and replace with water so that a full tank falls from `ec` to `to`.

    V (E - E*) ÷ (E - Ew): at most the whole tank. Raises OutOfRange when the water is stronger than what is
    wanted, or the tank is weaker already.
    """
    _sound(volume, ec=ec, to=to, water_ec=water_ec)
    if same(ec, to):
        return 0.0
    if ec < to:
        raise OutOfRange(f"the tank has {ec:g} mS/cm and {to:g} is wanted: water cannot make it stronger")
    if to < water_ec and not same(to, water_ec):
        raise OutOfRange(
            f"impossible: water at {water_ec:g} mS/cm is itself stronger than the {to:g} mS/cm that is wanted"
        )
    return volume * (ec - to) / (ec - water_ec)


def swap_for_stock(volume: float, ec: float, to: float, stock_ec: float) -> float:
    """Return the litres to take out and replace with stock so that a full tank rises from `ec` to `to`.

    V (E* - E) ÷ (Es - E). Raises OutOfRange as `stock_needed` does.
    """
    _rising(volume, ec, to)
    _stronger(stock_ec, to)
    return volume * max(to - ec, 0.0) / (stock_ec - ec)


def blend(parts: Sequence[tuple[float, float]]) -> float:
    """Return the EC of several waters together, each given as (litres, EC): ΣVE ÷ ΣV. Raises OutOfRange.

    It holds for EC and for mg/L, not for pH.
    """
    for litres, ec in parts:
        within("a volume", litres, 0, float("inf"), "L")
        within("an EC", ec, 0, float("inf"), "mS/cm")
    total = sum(litres for litres, _ in parts)
    above("the volume together", total, 0, "L")
    return sum(litres * ec for litres, ec in parts) / total


def share_of_water(water_ec: float, other_ec: float, to: float) -> float:
    """Return the part (0 to 1) that the first of two waters has in a mix of `to` mS/cm.

    (Ea - E*) ÷ (Ea - Ew). Raises OutOfRange when `to` is outside the two, or both are the same.
    """
    _sound(1.0, water_ec=water_ec, other_ec=other_ec, to=to)
    low, high = sorted((water_ec, other_ec))
    if not (low - NEAR <= to <= high + NEAR):
        raise OutOfRange(f"a mix of {low:g} and {high:g} mS/cm cannot have {to:g}: that must lie between the two")
    if same(low, high):
        raise OutOfRange(f"both waters have {low:g} mS/cm: any mix of them has it too")
    return (other_ec - to) / (other_ec - water_ec)


def after_loss(volume: float, ec: float, lost: float, uptake_ec: float = 0.0) -> float:
    """Return the EC after plants and air took `lost` L and with each litre salt worth `uptake_ec`.

    (E V - Eu ΔV) ÷ (V - ΔV); uptake 0 is evaporation alone. Raises OutOfRange when all the water would be
    gone, or more salt than there was.
    """
    _sound(volume, ec=ec, uptake_ec=uptake_ec)
    within("what was lost", lost, 0, volume, "L")
    above("what is left", volume - lost, 0, "L")
    left = ec * volume - uptake_ec * lost
    if left < -NEAR * volume:
        raise OutOfRange(
            f"{lost:g} L at {uptake_ec:g} mS/cm would carry off more salt than {volume:g} L at {ec:g} mS/cm hold"
        )
    return max(left, 0.0) / (volume - lost)


def after_topup(volume: float, ec: float, lost: float, uptake_ec: float, topup_ec: float) -> float:
    """Return the EC when what was lost has been topped up with water or feed of `topup_ec`.

    E + (Ef - Eu) ΔV ÷ V: steady when the top-up is as strong as what the plants take. Raises OutOfRange.
    """
    _sound(volume, topup_ec=topup_ec)
    remaining = after_loss(volume, ec, lost, uptake_ec)
    return blend(((volume - lost, remaining), (lost, topup_ec)))


def built_up(volume: float, start: float, water: float, topped: float) -> float:
    """Return the mg/L of an ion that plants leave behind, after `topped` L of top-up in all.

    C0 + Cw n ÷ V, with `start` and `water` in mg/L and the tank always filled back to `volume` L.
    """
    _sound(volume)
    for what, value, unit in (("the start", start, "mg/L"), ("the water", water, "mg/L"), ("the top-up", topped, "L")):
        within(what, value, 0, float("inf"), unit)
    return start + water * topped / volume


def litres_to_limit(volume: float, start: float, water: float, limit: float) -> float | None:
    """Return the litres of top-up, in all, until such an ion reaches `limit` mg/L; None when it never does.

    (Clim - C0) V ÷ Cw; 0 when it is there already. Raises OutOfRange.
    """
    built_up(volume, start, water, 0)
    within("the limit", limit, 0, float("inf"), "mg/L")
    if start >= limit:
        return 0.0
    return (limit - start) * volume / water if water > 0 else None


def same(one: float, other: float) -> bool:
    """Say whether two strengths are the same."""
    return abs(one - other) <= NEAR


def _sound(volume: float, **strengths: float) -> None:
    above("the volume", volume, 0, "L")
    for name, value in strengths.items():
        within(_SAID[name], value, 0, float("inf"), "mS/cm")


def _rising(volume: float, ec: float, to: float) -> None:
    _sound(volume, ec=ec, to=to)
    if ec > to and not same(ec, to):
        raise OutOfRange(f"the tank has {ec:g} mS/cm and {to:g} is wanted: it needs water, not stock")


def _stronger(stock_ec: float, to: float) -> None:
    if not stock_ec > to + NEAR:
        raise OutOfRange(f"impossible: a stock of {stock_ec:g} mS/cm cannot bring a tank to {to:g} mS/cm")


_SAID = {
    "ec": "the EC of the tank",
    "to": "the EC wanted",
    "water_ec": "the EC of the water",
    "other_ec": "the EC of the other water",
    "uptake_ec": "the EC of what the plants take",
    "topup_ec": "the EC of the top-up",
}
