"""When a solution is due for a change, and how much bleach makes a cleaning bath.

No single authority sets how long a solution keeps: bulletins start beginners at a week (University of
Florida, Grow Your Own Vegetables Without Soil), growers change after 7 to 14 days or when the top-ups add
up to the tank, and one that is refilled by mass balance can go on (Utah State University, on recirculating
culture). The rule here: 14 days, or top-ups as large as the tank, or too much sodium, whichever is first.
"""

from collections.abc import Sequence

from msgspec import Struct

from walkabout.growing.limits import above, within

WEAKEST_BATH, STRONGEST_BATH = 150.0, 235.0
"""mg/L of chlorine for cleaning: 150 to 200 in a page that quotes an extension bulletin, but the tablespoon of
5.25 to 6 % bleach in a US gallon that it prints beside that gives 205 to 234."""


class Change(Struct, frozen=True):
    """Whether a change is due, why, and what is left until then."""

    due: bool
    reasons: tuple[str, ...]
    """Any of 'top-ups', 'days', 'sodium'."""
    topped: float
    """L of top-up in all."""
    litres_left: float
    days_left: float


def change_due(
    volume: float,
    topped: Sequence[float],
    days: float,
    limit: float = 14.0,
    *,
    share: float = 1.0,
    sodium: float | None = None,
    sodium_limit: float = 60.0,
) -> Change:
    """Return whether the solution of a tank of `volume` L is due for a change after `days` days.

    `topped`: L of each top-up since the last change, or their sum; `limit`: days a solution may stay;
    `share`: top-ups allowed as part of the volume (1 is usual, some say 0.5); `sodium` and `sodium_limit`
    in mg/L. At a limit it is due. Raises OutOfRange.
    """
    above("the volume", volume, 0, "L")
    above("the days allowed", limit, 0, "days")
    above("the share of the tank", share, 0)
    within("the days since the last change", days, 0, float("inf"), "days")
    for litres in topped:
        within("a top-up", litres, 0, float("inf"), "L")
    if sodium is not None:
        within("the sodium", sodium, 0, float("inf"), "mg/L")
    # Sums of tenths: 0.1 + 0.2 must reach 0.3.
    total = round(sum(topped), 9)
    most = round(volume * share, 9)
    reasons = [
        name
        for name, reached in (
            ("top-ups", total >= most),
            ("days", days >= limit),
            ("sodium", sodium is not None and sodium >= sodium_limit),
        )
        if reached
    ]
    return Change(bool(reasons), tuple(reasons), total, max(most - total, 0.0), max(limit - days, 0.0))


def chlorine(percent: float, added: float, volume: float) -> float:
    """Return the mg/L of chlorine that `added` mL of bleach give in `volume` L of water.

    `percent` is the weight in volume, g in 100 mL: percent × 10 mg/mL × mL ÷ L. The volume of the bleach
    itself is left out. Raises OutOfRange unless 0 < percent <= 20, added >= 0, volume > 0.
    """
    _bath(percent, volume)
    within("the bleach", added, 0, float("inf"), "mL")
    return percent * 10 * added / volume


def bleach(percent: float, to: float, volume: float) -> float:
    """Return the mL of bleach that bring `volume` L of water to `to` mg/L of chlorine: `chlorine` turned round."""
    _bath(percent, volume)
    within("the chlorine wanted", to, 0, float("inf"), "mg/L")
    return to * volume / (percent * 10)


def _bath(percent: float, volume: float) -> None:
    above("the strength of the bleach", percent, 0, "%")
    within("the strength of the bleach", percent, 0, 20, "%")
    above("the water", volume, 0, "L")
