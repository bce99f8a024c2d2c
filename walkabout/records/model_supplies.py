"""What is used up and bought again, as it is written down."""

from datetime import date
from typing import Literal, get_args

from msgspec import Struct

from walkabout.records.model import Happening

Per = Literal["week", "change", "litre", "check", "sown", "lamp"]
"""What a supply goes with: a plain week, a change of solution, a litre of solution renewed, a check of a meter, a plant
that was sown, a lamp (or tube) at the end of its hours."""
PERS: tuple[Per, ...] = get_args(Per)


class Counted(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """How much of a supply stood on the shelf at the end of a day, and how much was bought since the count before."""

    day: date
    amount: float
    bought: float = 0
    by: str = ""


class Supply(Struct, frozen=True, omit_defaults=True, kw_only=True):
    """Something that is used up and bought again: concentrate, salt, pH liquid, seed, tubes.

    `used` is in its own unit for each `per`; None where nobody said: what was counted says it then.
    """

    key: str
    name: str
    unit: str
    amount: float
    """On the shelf when it was counted last."""
    counted: date
    used: float | None = None
    per: Per = "week"
    of: str = ""
    """The tank, the crop or the lamp that it goes with; empty for every one."""
    pack: float | None = None
    """How much is in a pack."""
    price: float | None = None
    """Of one pack, in the room's currency."""
    lead_days: int | None = None
    """Days from the order to the shelf."""
    counts: tuple[Counted, ...] = ()
    """Every count, the oldest first; the last one is `amount` on `counted`."""
    ended: date | None = None
    """The day from which on it is no longer kept."""
    history: tuple[Happening, ...] = ()
    by: str = ""
