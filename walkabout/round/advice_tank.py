"""What to add to a tank, drain from it or do about its warmth, for the reading that was taken of it."""

import math

from walkabout.growing import acid, hazard, oxygen, pressure, titration
from walkabout.growing.bringing import Stock, Way, bring
from walkabout.growing.units import METRIC, Scales, shown, words
from walkabout.growing.water_use import days_left
from walkabout.reckon.write import amount
from walkabout.round.advised import Advice
from walkabout.round.known import Known
from walkabout.round.tankwater import tank_water
from walkabout.round.wants import Wanted

DRAINS = "Wipe up at once and keep plugs dry; where old solution may go, local rules say."
CONCENTRATES = (
    "Gloves and goggles; the concentrates never meet undiluted; adult only, by the employer's risk assessment."
)
ACID = (
    "Acid goes into water, never water into acid, and never near bleach; goggles, gloves, open window; rinse a splash "
    "at once; adult only, by local codes and the employer's risk assessment."
)
BASE = (
    "It harms skin and eyes: goggles, gloves, into water slowly, never near acid or bleach; rinse a splash at once; "
    "adult only, by local codes and the employer's risk assessment."
)

NO_TANK = 8.0
"""A fed tank is hardly ever above this pH: the meter is looked at first, and lime that drops out spoils the sums.
Assumed."""
STEP = 0.5
"""How far the pH may be moved at a time; common practice."""
FIRST = 0.8
"""The share of a dose that goes in first; common practice."""
RESERVE = 0.25
"""The share of a tank that must stay so that the pump never runs dry; common practice."""
HEAT_OF_WATER, HEAT_OF_MELTING = 4.186, 334.0
"""kJ to warm a litre by 1 °C, and to melt a kilogram of ice; handbook values, from memory."""
MARGIN = 1.3
"""A tank has to last so much longer than nobody comes. Assumed."""


def of_ec(value: float, wanted: Wanted | None, known: Known, scales: Scales) -> Advice | None:
    """Return how a tank comes to the EC its crops want; None where nothing can be worked out."""
    tank, room = known.tank, known.room
    if tank is None or wanted is None:
        return None
    to = (wanted.low + wanted.high) / 2
    water = room.water.ec
    stock = Stock(rise=room.feed.rise) if room.feed.rise else None
    plan = bring(tank.litres, tank.litres, value, to, water or 0.0, stock)
    if not plan.ways:
        return None
    aim = words(to, "mS/cm", scales, 2)
    litres = words(tank.litres, "L", scales, 0)
    if value < to:
        each = _poured(plan.ways[0].steps[-1].amount, "mL", scales)
        first = _poured(plan.ways[0].steps[-1].amount * FIRST, "mL", scales)
        of = "of the concentrate" if room.feed.parts == 1 else f"of each of the {room.feed.parts} concentrates"
        return Advice(
            do=f"Reckoned for the full {litres}: {each} {of} bring it to {aim}. Put in {first} first, one after "
            "the other, stir for ten minutes and read again.",
            job=f"Add {each} {of}: {aim}",
            who="adult",
            caution=CONCENTRATES,
        )
    out = _taken_out(plan.ways[0])
    if out > tank.litres * (1 - RESERVE):
        return Advice(
            do=f"Far too strong to be thinned: renew the solution, all {litres} of it, and read again.",
            job="Renew the solution: it is far too strong",
            who="adult",
            caution=DRAINS,
        )
    litres_out = _poured(out, "L", scales)
    least = "" if water is not None else "at least "
    return Advice(
        do=f"Reckoned for the full {litres}: take out {least}{litres_out}, fill up with as much water, stir, wait ten "
        f"minutes and read again. It comes to about {aim}.",
        job=f"Take out {least}{litres_out}, fill up with water: {aim}",
        who="pupil",
        caution=DRAINS,
    )


def _poured(amount: float, unit: str, scales: Scales) -> str:
    """Write what is poured no finer than a jug or a syringe can measure it; these count mL everywhere."""
    scales = METRIC if unit == "mL" else scales
    return words(amount, unit, scales, 0 if shown(amount, unit, scales)[0] >= JUG else 1)


JUG = 20
"""From so many L or mL on, tenths are not poured."""


def _taken_out(way: Way) -> float:
    return sum(step.amount for step in way.steps if step.do == "take out")


def of_ph(value: float, wanted: Wanted | None, known: Known, scales: Scales) -> Advice | None:
    """Return the first, small dose that moves a tank's pH towards what is wanted; None where none can be said."""
    tank, room = known.tank, known.room
    if tank is None or wanted is None or value > NO_TANK:
        return None
    to = (
        max((wanted.low + wanted.high) / 2, value - STEP)
        if value > wanted.high
        else min((wanted.low + wanted.high) / 2, value + STEP)
    )
    by = room.acid if value > to else room.base
    if by is None:
        return None
    if hazard.danger_of(by.kind, by.strength) == "corrosive":
        return Advice(
            do=f"The {acid.said(by.kind)} of {by.strength:g} mol/L is corrosive: make it weaker first, then work out "
            "the dose of that.",
            who="adult",
            caution=ACID if value > to else BASE,
        )
    reagent = titration.ACIDS[by.kind] if value > to else titration.BASES[by.kind]
    start = tank_water(value, known)
    millilitres = titration.dose(start, to, reagent).amount * tank.litres / by.strength
    dose = _poured(millilitres * FIRST, "mL", scales)
    name = acid.said(by.kind)
    strength = f"{by.strength:g} mol/L"
    litres = words(tank.litres, "L", scales, 0)
    return Advice(
        do=f"First dose, small on purpose: {dose} of {name} {strength} into the full {litres}, poured in slowly "
        f"while somebody stirs. Wait twenty minutes, read again. No more than {STEP:g} of pH at a time.",
        job=f"{'Lower' if value > to else 'Raise'} the pH: {dose} of {name} {strength}, wait, read again",
        who="adult",
        caution=ACID if value > to else BASE,
    )


def of_warm(value: float, wanted: Wanted | None, known: Known, scales: Scales) -> Advice | None:
    """Return how much oxygen such warm water holds, and the ice that cools a tank; None where it is cool enough."""
    height = pressure.at_altitude(known.room.altitude_m)
    most = oxygen.saturation(min(max(value, 0), 40), height)
    holds = f"Water at {words(value, '°C', scales, 1)} holds {most:.1f} mg/L of oxygen at most."
    if wanted is None or value <= wanted.high or known.tank is None:
        return Advice(why=holds) if wanted is None or value > wanted.high else None
    litres = known.tank.litres * HEAT_OF_WATER * (value - wanted.high) / (HEAT_OF_MELTING + HEAT_OF_WATER * wanted.high)
    bottles = max(1, math.ceil(litres))
    if bottles > MOST_BOTTLES:
        return Advice(why=holds)
    bottle = words(1, "L", scales, 0 if not scales.us else 1)
    return Advice(
        why=holds,
        do=f"Shade the tank and float {bottles} closed bottle{'s' if bottles > 1 else ''} of ice ({bottle} each) in "
        f"it: that takes it down to {words(wanted.high, '°C', scales, 0)}. Read again in two hours.",
    )


MOST_BOTTLES = 8
"""More ice than this nobody has at hand. Assumed."""


def of_oxygen(value: float, wanted: Wanted | None, known: Known, scales: Scales) -> Advice | None:
    """Return which share of what the water can hold an oxygen reading (mg/L) is; None without its temperature."""
    temperature = known.value("solution temperature")
    if temperature is None:
        return None
    height = pressure.at_altitude(known.room.altitude_m)
    most = oxygen.saturation(temperature, height)
    share = oxygen.percent(value, temperature, height)
    warm = words(temperature, "°C", scales, 1)
    return Advice(why=f"Water at {warm} can hold {most:.1f} mg/L here; this is {share:.0f} % of it.")


def lasting(known: Known, scales: Scales, alone: float) -> Advice | None:
    """A full tank has to outlast the time until somebody comes again, at what it has lost a day lately."""
    if known.tank is None or not known.used:
        return None
    litres = known.tank.litres
    days = days_left(litres, litres * RESERVE, known.used)
    used = words(known.used, "L", scales, 1)
    if days >= alone / 24 * MARGIN:
        return None
    return Advice(
        verdict="today",
        why=f"It loses {used} a day: even full it is down to a quarter in {amount(round(days), 'days')}, and nobody "
        f"comes for {amount(round(alone / 24), 'days')}.",
        do="It has to be full to the mark before everybody leaves; then somebody comes and fills it in between, or a "
        "can above feeds it.",
        job=f"See that the tank lasts: it loses {used} a day",
        who="adult",
    )
