"""What a meter shows and what is meant: an EC that was not read at 25 °C is turned into one that was."""

from datetime import date

from msgspec import Struct

from walkabout.checklist.model import Reading
from walkabout.growing.ec import at_25
from walkabout.growing.limits import OutOfRange
from walkabout.growing.units import Scales, words
from walkabout.round.known import Known, known_at
from walkabout.round.opened import OpenRoom


class Meant(Struct, frozen=True):
    """A reading as it is kept. `note` says what was turned, `doubtful` why it is not to be trusted."""

    value: float
    note: str = ""
    doubtful: str = ""


def meant_at(opened: OpenRoom, key: str, value: float, reading: Reading) -> Meant:
    """Return a reading taken at a station now as it is to be judged and kept."""
    if reading.quantity != "EC" or opened.room.meters.compensates:
        return Meant(value)
    return meant(value, reading, known_at(opened, key), opened.today(), opened.scales)


def meant(value: float, reading: Reading, known: Known | None, today: date, scales: Scales) -> Meant:
    """Return a reading in its stored unit as it is to be judged and kept.

    Only an EC read with a meter that does not turn its reading to 25 °C by itself changes, by the
    temperature that the solution had today. Without one it is kept as read, and is doubtful.
    """
    if reading.quantity != "EC" or known is None or known.room.meters.compensates:
        return Meant(value)
    warm = known.readings.get("solution temperature")
    if warm is None or warm.day != today:
        return Meant(
            value,
            doubtful="The meter does not turn its reading to 25 °C, and the solution's temperature is not known today.",
        )
    try:
        turned = at_25(value, warm.value)
    except OutOfRange as error:
        return Meant(value, doubtful=f"It could not be turned to 25 °C: {error}.")
    read, at = words(value, "mS/cm", scales, 2), words(warm.value, "°C", scales, 1)
    return Meant(turned, note=f"read {read} at {at}, turned to 25 °C")
