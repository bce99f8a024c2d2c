"""What a planting's record adds up to: started, lost, thinned, picked; and the words in which that is kept.

One record accounts for its own plants: started = standing + lost + thinned out + picked whole. A part that is
split off takes its plants out of `started` and begins with them.
"""

from datetime import date, timedelta

from walkabout.records.model import Planting, Promise, Treatment

THINNED = "thinned"
"""Why plants were taken out on purpose: no loss of the crop, nor of the room's."""
NOT_UP = "did not come up"
"""Why sowings are gone that never showed."""
HARVESTED = "harvested"
"""What the reason of a planting begins with that was eaten or cut to the end."""
KEPT = "kept"
"""The reason of a promise that was kept."""
CALLED_OFF = "called off"
"""What the reason of a promise begins with that was not."""


def started(planting: Planting) -> int:
    """Return with how many plants or sowings it began."""
    if planting.started is not None:
        return planting.started
    return planting.count + sum(one.count for one in planting.losses) + picked_whole(planting)


def lost(planting: Planting) -> int:
    """Return how many were lost; what was thinned out on purpose is none of them."""
    return sum(one.count for one in planting.losses if one.why != THINNED)


def thinned_out(planting: Planting) -> int:
    """Return how many were taken out on purpose to give the others room."""
    return sum(one.count for one in planting.losses if one.why == THINNED)


def picked_whole(planting: Planting) -> int:
    """Return how many plants were picked whole and are gone."""
    return sum(one.count for one in planting.pickings)


def grams_picked(planting: Planting) -> float | None:
    """Return the grams picked so far, None where nothing was weighed."""
    weighed = [one.grams for one in planting.pickings if one.grams is not None]
    return sum(weighed) if weighed else None


def stood(planting: Planting, day: date) -> int:
    """Return how many of what belongs to this record stood at the end of a day."""
    lost_since = sum(one.count for one in planting.losses if one.day > day)
    return planting.count + lost_since + sum(one.count for one in planting.pickings if one.day > day)


def was_kept(promise: Promise) -> bool | None:
    """Say whether a promise was kept or called off; None while it is open."""
    return None if promise.closed is None else not promise.reason.startswith(CALLED_OFF)


def edible_from(treatment: Treatment) -> date | None:
    """Return the first day on which what was treated may be eaten; None where nobody knows the waiting time."""
    return None if treatment.wait_days is None else treatment.day + timedelta(days=treatment.wait_days)
