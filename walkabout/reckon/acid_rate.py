"""Acid by the rate of a table, where its strength is not known."""

from walkabout.growing.units import LITRES_PER_GALLON, ML_PER_FLUID_OUNCE
from walkabout.reckon import acid_bottle as held
from walkabout.reckon.acid_bottle import ml, poured
from walkabout.reckon.model import Reckoned, Result, ToDo
from walkabout.reckon.ph_board import figure
from walkabout.reckon.write import amount, plainly

THINNED = 20
"""Parts of water to one of the acid of a table: 93 % sulfuric and 67 % nitric acid are no longer corrosive in it."""


def by_rate(volume: float, removed: float, lines: list[str], rate: float) -> Reckoned:
    """Work out the acid by the rate of somebody's own table, mL for 1 mg/L in 100 US gal."""
    hundreds = volume / (100 * LITRES_PER_GALLON)
    pour = rate * removed * hundreds
    lines.append(f"{plainly(volume)} L ÷ 378.54 = {figure(hundreds)} hundreds of US gallons")
    lines.append(f"{plainly(rate)} mL × {plainly(removed)} × {figure(hundreds)} = {plainly(pour)} mL")
    thin = f"stir {poured(pour)} of the acid, a little at a time, into {poured(THINNED * pour)} of cold water"
    job = ToDo(
        what=f"{thin[0].upper()}{thin[1:]}, then four fifths of that into {amount(volume, 'L')}, and measure the pH",
        who="adult",
        caution=f"{held.CORROSIVE} {held.ONE_LINE}",
    )
    return Reckoned(
        results={
            "volume": ml(pour, "to pour in all"),
            "fluid_ounces": Result(pour / ML_PER_FLUID_OUNCE, "US fl oz", 2, "the volume in US fluid ounces"),
            "removed": Result(removed, "mg/L CaCO3", 1, "alkalinity taken out"),
        },
        working=tuple(lines),
        source="arithmetic with the rate from your own table, in mL for 1 mg/L in 100 US gal",
        says=(
            f"First {thin}: acids of such tables are strong.",
            "Then add four fifths of that, stir, and measure the pH before the rest.",
        ),
        cautions=(held.CORROSIVE, held.HEATS, held.UNNAMED, held.INTO_WATER, held.NO_BLEACH),
        do=job if pour > 0 else None,
    )
