"""What a tank that has stood open still holds against acid: less than its tap water did.

Air takes the carbon dioxide out, and with it most of the bicarbonate that the water brought. What is left
at a pH is set by the carbon dioxide of the room; the phosphate of the feed comes on top. Both are taken low:
a dose that is too small is poured again, one that is too large kills roots.
"""

import math

from walkabout.growing import carbonate
from walkabout.growing.alkalinity import CACO3_PER_MEQ
from walkabout.growing.elements import WEIGHTS
from walkabout.growing.titration import Water, water
from walkabout.round.known import Known

AIR_CO2 = 0.02
"""mmol/L of carbon dioxide in water that stands open in a classroom (about 600 ppm in the air, 0.034 mol/L for
each atmosphere at 25 °C; from memory)."""
PHOSPHORUS_PER_EC = 0.35
"""mmol/L of phosphorus for each mS/cm of a usual solution, taken low on purpose. Assumed."""
USUAL = 20.0
"""°C, where nobody measured."""


def bicarbonate(ph: float, known: Known) -> float:
    """Return what is left of the water's alkalinity at this pH, meq/L; never more than the water had."""
    left = AIR_CO2 * 10 ** (ph - carbonate.pk1(_warm(known)))
    brought = known.room.water.alkalinity
    return min(left, brought / CACO3_PER_MEQ if brought is not None else math.inf)


def phosphorus(known: Known) -> float:
    """Return the phosphorus that a solution of this EC holds at least, mmol/L."""
    return PHOSPHORUS_PER_EC * (known.value("EC") or 1.0)


def alkalinity(ph: float, known: Known) -> float:
    """Return what acid has to overcome at this pH, meq/L: the bicarbonate left, and the phosphate's second form."""
    return bicarbonate(ph, known) + phosphorus(known) * (1 - carbonate.dihydrogen_share(ph))


def as_caco3(ph: float, known: Known) -> float:
    """Return the alkalinity left at this pH, mg/L of CaCO3."""
    return alkalinity(ph, known) * CACO3_PER_MEQ


def phosphorus_mg(known: Known) -> float:
    """Return the phosphorus at least, mg/L."""
    return phosphorus(known) * WEIGHTS["P"]


def tank_water(ph: float, known: Known) -> Water:
    """Return the tank's solution as what acid or base is poured into."""
    return water(alkalinity(ph, known), ph, _warm(known), phosphorus(known))


def _warm(known: Known) -> float:
    return known.value("solution temperature") or USUAL
