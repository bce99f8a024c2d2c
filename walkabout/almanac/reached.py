"""Which stages a crop goes through, and which of them a planting's record says it has reached."""

from datetime import date
from typing import get_args

from walkabout.almanac.model import StageName
from walkabout.growing.crops import Crop
from walkabout.records.model import Planting
from walkabout.records.sums import HARVESTED

ORDER: tuple[StageName, ...] = get_args(StageName)

ENDED_WEIGHT = 0.5
"""A planting known only by the day on which it was cleared says half as much: it was ready then, perhaps long before,
as after a closure. Assumed."""


def stages_of(crop: Crop) -> tuple[StageName, ...]:
    """Return the stages a crop goes through, in their order. A flower that is not food flowers and is not harvested."""
    flower = crop.group == "flower"
    has = {
        "emergence": crop.emerge is not None,
        "move_on": crop.move_on is not None,
        "flowering": flower and crop.harvest is not None,
        "harvest": crop.harvest is not None and bool(crop.eaten),
        "seed": crop.seed is not None,
    }
    return tuple(name for name in ORDER if has[name])


def reached(planting: Planting, crop: Crop) -> dict[StageName, date]:
    """Return the stages that are on record, with their days."""
    found: dict[StageName, date] = {}
    if (day := seen(planting, "germinated")) is not None:
        found["emergence"] = day
    if (day := moved_on(planting, crop)) is not None:
        found["move_on"] = day
    if (day := seen(planting, "flowering")) is not None:
        found["flowering"] = day
    if (first := first_harvest(planting)) is not None:
        found["harvest" if crop.eaten or crop.seed is None else "seed"] = first[0]
    return found


def seen(planting: Planting, what: str) -> date | None:
    """Return the first day on which somebody saw that stage, or None."""
    return min((one.day for one in planting.reached if one.stage == what), default=None)


def moved_on(planting: Planting, crop: Crop) -> date | None:
    """Return the day on which it was moved on, or thinned where the crop is thinned instead; None before that."""
    first = planting.moves[0].station
    away = next((one.day for one in planting.moves[1:] if one.station != first), None)
    if away is None and thins(crop):
        return seen(planting, "thinned")
    return away


def thins(crop: Crop) -> bool:
    """Say whether a crop is thinned where it stands rather than moved on."""
    return crop.move_on is not None and "thinned" in crop.move_on.note


def first_harvest(planting: Planting) -> tuple[date, float] | None:
    """Return the first day of harvest and how much it says, from 0 to 1; None where nothing was harvested."""
    if planting.pickings:
        return min(one.day for one in planting.pickings), 1.0
    if planting.ended is not None and planting.reason.startswith(HARVESTED):
        return planting.ended, ENDED_WEIGHT
    return None
