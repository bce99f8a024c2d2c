"""What to do about the air, or about the light on the leaves, for the reading that was taken of it."""

from walkabout.growing import air
from walkabout.growing.units import Scales, words
from walkabout.round.advised import Advice
from walkabout.round.known import Known
from walkabout.round.wants import Wanted


def of_humidity(value: float, wanted: Wanted | None, known: Known, scales: Scales) -> Advice | None:
    """Return how hard air of this humidity (%) pulls, and what moves it; None without its temperature."""
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


def of_light(value: float, wanted: Wanted | None, known: Known, scales: Scales) -> Advice | None:
    """Return the light that a lux reading stands for, and how lamp or timer would be set; None without a lamp."""
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
