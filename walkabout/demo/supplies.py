"""What stands on the demo's shelf: put on the list early in the season, counted since; one of it runs out soon."""

from collections.abc import Callable
from datetime import date, time

import msgspec
from msgspec import Struct

from walkabout.demo.clock import moment
from walkabout.insight.shelf import add, count
from walkabout.records.model_supplies import Per, Supply


class Kept(Struct, frozen=True, kw_only=True):
    """A supply, told in days before the day on which the demo is made. Every figure is invented."""

    key: str
    name: str
    unit: str
    counted: tuple[tuple[int, float, float], ...]
    """(days ago, what was left, what was bought since the count before)."""
    used: float | None = None
    per: Per = "week"
    of: str = ""
    pack: float | None = None
    price: float | None = None
    lead_days: int | None = None


KEPT: tuple[Kept, ...] = (
    Kept(
        key="su-salts-a", name="hydroponic salts, part A", unit="g", used=0.6, per="litre",
        counted=((54, 1_900, 0), (12, 1_505, 0)), pack=2_000, price=14.5, lead_days=10,
    ),
    Kept(
        key="su-salts-b", name="calcium nitrate, part B", unit="g", used=0.5, per="litre",
        counted=((54, 1_400, 0), (12, 3_070, 2_000)), pack=2_000, price=11.0, lead_days=10,
    ),
    Kept(
        key="su-ph-7", name="pH 7 test liquid", unit="mL", used=20, per="check",
        counted=((54, 420, 0), (5, 120, 0)), pack=250, price=6.9, lead_days=7,
    ),
    Kept(
        key="su-lettuce", name="lettuce seed", unit="seeds", used=1.3, per="sown", of="lettuce",
        counted=((54, 1_150, 0), (12, 1_010, 0)), pack=1_000, price=3.2, lead_days=5,
    ),
    Kept(
        key="su-tubes", name="tubes for the sowing shelf", unit="pieces", used=1, per="lamp", of="shelf-tubes",
        counted=((54, 2, 0),), pack=1, price=9.0, lead_days=14,
    ),
)  # fmt: skip


class Shelf:
    """The supplies as they are counted, day by day."""

    def __init__(self, day_of: Callable[[int], date], by: str) -> None:
        """`day_of` gives the school day that lies so many days ago."""
        self._by = by
        self._day_of = day_of
        self._kept: dict[str, Supply] = {}

    def on(self, day: date) -> list[Supply]:
        """Return the supplies that are put on the list or counted on this day."""
        found = []
        for one in KEPT:
            for place, (ago, left, bought) in enumerate(one.counted):
                if self._day_of(ago) == day:
                    now = moment(day, time(15, 30))
                    before = self._kept.get(one.key)
                    after = (
                        count(before, left, bought, self._by, now)
                        if place and before
                        else _begun(one, left, day, self._by)
                    )
                    self._kept[one.key] = after
                    found.append(after)
        return found


def _begun(one: Kept, amount: float, day: date, by: str) -> Supply:
    made = add(
        name=one.name, unit=one.unit, amount=amount, by=by, now=moment(day, time(15, 30)), used=one.used, per=one.per,
        of=one.of, pack=one.pack, price=one.price, lead_days=one.lead_days,
    )  # fmt: skip
    return msgspec.structs.replace(made, key=one.key)
