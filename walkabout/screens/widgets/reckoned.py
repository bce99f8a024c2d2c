"""The almanac behind the screens: reckoned beside the screen, so that no key waits for it."""

from collections.abc import Mapping
from datetime import timedelta
from typing import TYPE_CHECKING

from msgspec import Struct

from walkabout.almanac.model import Almanac, Basis, Course
from walkabout.round.opened import OpenRoom
from walkabout.screens.widgets.bars import monday
from walkabout.screens.widgets.beside import beside

if TYPE_CHECKING:
    from walkabout.almanac.pace import Learned

WEEKS_BACK, WEEKS_AHEAD = 8, 30
"""How far one can leaf back and forth: from the last weeks to the end of the term after next. Assumed."""


class Reckoned(Struct, frozen=True):
    """What the dates say, and what they were reckoned from."""

    basis: Basis
    almanac: Almanac


class Ways(Struct, frozen=True):
    """What a plan is made from: what is on record, each planting's way, what the room has seen."""

    basis: Basis
    courses: Mapping[str, Course]
    learned: "Mapping[str, Learned]"


async def reckoned(opened: OpenRoom) -> Reckoned:
    """Gather what is on record here, and reckon the dates in a thread of their own."""
    from walkabout.round.almanac import basis_of  # noqa: PLC0415 - loaded when the dates are first asked for

    basis = basis_of(opened)
    return Reckoned(basis, await beside(lambda: _almanac(basis)))


def _almanac(basis: Basis) -> Almanac:
    from walkabout.almanac.whole import almanac  # noqa: PLC0415 - it takes its time to load: not on the screen's

    begins = monday(basis.today) - timedelta(weeks=WEEKS_BACK)
    return almanac(basis, begins, monday(basis.today) + timedelta(weeks=WEEKS_AHEAD, days=-1))


async def ways(opened: OpenRoom) -> Ways:
    """Gather what a plan is made from."""
    from walkabout.round.almanac import basis_of  # noqa: PLC0415 - as above

    basis = basis_of(opened)
    return await beside(lambda: _ways(basis))


def _ways(basis: Basis) -> Ways:
    from walkabout.almanac.course import courses  # noqa: PLC0415 - as above
    from walkabout.almanac.learned import learned  # noqa: PLC0415 - as above

    return Ways(basis, courses(basis), learned(basis))
