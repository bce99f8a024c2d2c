"""What a tank that has stood open still holds against acid: less than its tap water did.

Air takes the carbon dioxide out, and with it most of the bicarbonate that the water brought. What is left
at a pH is set by the carbon dioxide of the room; the phosphate of the feed comes on top. Both are taken low:
a dose that is too small is poured again, one that is too large kills roots.
"""

from walkabout.growing import carbonate
from walkabout.growing.alkalinity import CACO3_PER_MEQ
from walkabout.growing.elements import WEIGHTS
from walkabout.growing.titration import ACIDS, Water, dose
from walkabout.round.known import Known

AIR_CO2 = 0.02
"""mmol/L of carbon dioxide in water that stands open in a classroom (about 600 ppm in the air, 0.034 mol/L for
each atmosphere at 25 °C; from memory)."""
PHOSPHORUS_PER_EC = 0.35
"""mmol/L of phosphorus for each mS/cm of a usual solution, taken low on purpose. Assumed."""
SOFT = 0.5
"""meq/L: what is taken for water whose alkalinity nobody has written down. Soft on purpose. Assumed."""
USUAL = 20.0
"""°C, where nobody measured."""


def carbon(ph: float, known: Known) -> float:
    """Return the dissolved carbon that is left at this pH, mmol/L: what air leaves, and never more than there was."""
    warm = _warm(known)
    written = known.room.water.alkalinity
    brought = written / CACO3_PER_MEQ if written is not None else SOFT
    return min(AIR_CO2 / carbonate.shares(ph, warm).dioxide, carbonate.carbon(brought, ph, warm))


def phosphorus(known: Known) -> float:
    """Return the phosphorus that a solution of this EC holds at least, mmol/L."""
    return PHOSPHORUS_PER_EC * (known.value("EC") or 1.0)


def alkalinity(ph: float, known: Known) -> float:
    """Return what acid has to overcome at this pH, meq/L; below 0 in a tank that is sour already.

    The carbonate left, the water itself, and the phosphate's second form.
    """
    phosphate = phosphorus(known) * (1 - carbonate.dihydrogen_share(ph))
    return carbonate.alkalinity(carbon(ph, known), ph, _warm(known)) + phosphate


def as_caco3(ph: float, known: Known) -> float:
    """Return the alkalinity left at this pH, mg/L of CaCO3."""
    return max(alkalinity(ph, known), 0.0) * CACO3_PER_MEQ


def phosphorus_mg(known: Known) -> float:
    """Return the phosphorus at least, mg/L."""
    return phosphorus(known) * WEIGHTS["P"]


def tank_water(ph: float, known: Known) -> Water:
    """Return the tank's solution as what acid or base is poured into.

    The alkalinity that fits its carbon at this pH, salts counted: what is left of more once acid has
    brought it there. The calcium hangs on the alkalinity, so it is found in two goes.
    """
    held, phosphate, warm, alk = carbon(ph, known), phosphorus(known), _warm(known), alkalinity(ph, known)
    for more in (1.0, 0.2):
        above = alk + more
        alk = above - dose(Water(above, held, phosphate, warm), ph, ACIDS["nitric"]).amount
    return Water(alk, held, phosphate, warm)


def _warm(known: Known) -> float:
    return known.value("solution temperature") or USUAL
