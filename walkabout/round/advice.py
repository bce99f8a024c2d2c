"""What to add, drain or change at this very station, worked out from a reading that is not as it should be.

The checklist says what a reading means; here the amounts are put in, for the tank, the water and the crops
of the station, in the room's own units. Where something is not known that an amount depends on, none is
given: the checklist's own words stand.
"""

import math
from collections.abc import Callable

import msgspec
from msgspec import Struct

from walkabout.checklist.model import VERDICTS, Meaning, Quantity, Reading, Verdict, gravest
from walkabout.growing import acid, air, hazard, oxygen, pressure, titration
from walkabout.growing.bringing import Stock, Way, bring
from walkabout.growing.limits import OutOfRange
from walkabout.growing.units import METRIC, Scales, shown, words
from walkabout.growing.water_use import days_left
from walkabout.jobs.life import least_role
from walkabout.reckon.write import amount
from walkabout.room.calendar import hours_alone
from walkabout.room.model import Who
from walkabout.round.judge import Judgement
from walkabout.round.known import Known, Last, known_at
from walkabout.round.opened import OpenRoom
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
MARGIN = 1.3
"""A tank has to last so much longer than nobody comes. Assumed."""
HEAT_OF_WATER, HEAT_OF_MELTING = 4.186, 334.0
"""kJ to warm a litre by 1 °C, and to melt a kilogram of ice; handbook values, from memory."""


class Advice(Struct, frozen=True, kw_only=True):
    """What to put into the place of the checklist's words. Empty parts leave these as they are."""

    do: str = ""
    job: str = ""
    who: Who | None = None
    caution: str = ""
    why: str = ""
    verdict: Verdict = "good"


def with_amounts(
    opened: OpenRoom, key: str, judged: Judgement, reading: Reading, value: float, wanted: Wanted | None
) -> Judgement:
    """Return what a reading at a station means, with the amounts that what is known there gives.

    Only for a reading that is to be trusted: a doubtful one is read again first.
    """
    tops_up = reading.quantity == "volume"
    if not tops_up and (judged.verdict == "good" or reading.quantity not in _TELLS):
        return judged
    known = known_at(opened, key)
    if known is None:
        return judged
    if tops_up:
        before = (one for one in known.topped if one.day < opened.today())
        known = msgspec.structs.replace(known, topped=(*before, Last(value, opened.today())))
        return _with(judged, _lasting(known, opened.scales, hours_alone(opened.room, opened.clock())))
    try:
        return _with(judged, _TELLS[reading.quantity](value, wanted, known, opened.scales))
    except OutOfRange:
        return judged  # a reading far out of all range: the checklist's words are what counts


def _with(judged: Judgement, advice: Advice | None) -> Judgement:
    if advice is None:
        return judged
    first = judged.meanings[0] if judged.meanings else Meaning()
    verdict = gravest((first.verdict, advice.verdict))
    acts = VERDICTS.index(verdict) >= VERDICTS.index("today")
    told = msgspec.structs.replace(
        first,
        verdict=verdict,
        why=f"{first.why} {advice.why}".strip(),
        # what is only watched asks for no amounts yet: one looks again
        do=_act(first.do, advice) if acts else first.do,
        job=(advice.job or first.job) if acts else "",
        who=least_role(first.who, advice.who or first.who),
        caution=_cautions(first.caution, advice if acts else Advice()),
    )
    return msgspec.structs.replace(judged, verdict=verdict, meanings=(told, *judged.meanings[1:]))


def _cautions(usual: str, advice: Advice) -> str:
    """The checklist's caution is written for what an adult does with its reading; another act has its own as well."""
    if not usual or not advice.caution:
        return usual or advice.caution
    same = advice.who == "adult" and advice.caution is not BASE
    return usual if same else f"{usual} {advice.caution}"


def _act(usual: str, advice: Advice) -> str:
    """The walker, often a pupil, does what the checklist says; an adult's part is marked as one."""
    if not advice.do or advice.who in (None, "pupil"):
        return advice.do or usual
    return f"{usual} For an {advice.who}: {advice.do}".strip()


# the solution


def _ec(value: float, wanted: Wanted | None, known: Known, scales: Scales) -> Advice | None:
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


def _ph(value: float, wanted: Wanted | None, known: Known, scales: Scales) -> Advice | None:
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


def _warm(value: float, wanted: Wanted | None, known: Known, scales: Scales) -> Advice | None:
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


def _oxygen(value: float, wanted: Wanted | None, known: Known, scales: Scales) -> Advice | None:
    temperature = known.value("solution temperature")
    if temperature is None:
        return None
    height = pressure.at_altitude(known.room.altitude_m)
    most = oxygen.saturation(temperature, height)
    share = oxygen.percent(value, temperature, height)
    warm = words(temperature, "°C", scales, 1)
    return Advice(why=f"Water at {warm} can hold {most:.1f} mg/L here; this is {share:.0f} % of it.")


# the air


def _humidity(value: float, wanted: Wanted | None, known: Known, scales: Scales) -> Advice | None:
    warm = known.value("air temperature")
    if warm is None or not 0 <= value <= 100:
        return None
    pull = air.vpd(warm, value)
    why = (
        f"At {words(warm, '°C', scales, 1)} the air pulls with {pull:.2f} kPa; 0.2 to 1.0 suits most crops "
        "(Grange and Hand 1987)."
    )
    if wanted is None:
        return Advice(why=why)
    if value > wanted.high:
        return Advice(
            why=why, do=f"Move the air and let drier air in until the meter shows {wanted.high:.0f} % or less."
        )
    return Advice(
        why=why, do=f"Keep draughts away and stand trays of water among the pots until it shows {wanted.low:.0f} %."
    )


def _light(value: float, wanted: Wanted | None, known: Known, scales: Scales) -> Advice | None:
    lit = known.here.lit
    if lit is None or wanted is None or value <= 0:
        return None
    end = wanted.low if value < wanted.low else wanted.high
    daily = lit.dli(end)
    hours = lit.hours_for(daily, value)
    reads = f"{lit.ppfd(value):.0f} µmol/m²/s, {lit.dli(value):.1f} mol/m²/d in {lit.hours:g} h"
    why = f"That is {reads} (good to about {lit.kind.error:.0f} %)."
    ways = []
    gap = lit.gap_for(value, end)
    if gap is not None and lit.lamp.gap_cm and CLOSEST <= gap <= lit.lamp.gap_cm * 2:
        now = words(lit.lamp.gap_cm, "cm", scales, 0)
        ways.append(f"hang the lamp {words(gap, 'cm', scales, 0)} above the leaves instead of {now}")
    if 1 <= hours <= LONGEST_DAY:
        ways.append(f"set its timer to {round(2 * hours) / 2:g} h a day instead of {lit.hours:g}")
    if not ways:
        return Advice(
            why=why, do="The lamp alone cannot give it; think of a stronger lamp or another crop.", who="adult"
        )
    return Advice(
        why=why,
        do=f"Cold and with the supply off, {' or '.join(ways)}; then read again.",
        job=f"Give the leaves {'more' if value < wanted.low else 'less'} light: {' or '.join(ways)}",
        who="adult",
    )


CLOSEST = 15.0
"""cm: nearer than this no advice brings a lamp; the maker's distance comes first. Assumed."""
LONGEST_DAY = 18.0
"""h: most crops do with a night of six hours or more; common practice."""


# how long it lasts


def _lasting(known: Known, scales: Scales, alone: float) -> Advice | None:
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


_TELLS: dict[Quantity, Callable[[float, Wanted | None, Known, Scales], Advice | None]] = {
    "EC": _ec,
    "pH": _ph,
    "solution temperature": _warm,
    "oxygen": _oxygen,
    "humidity": _humidity,
    "illuminance": _light,
}
