"""A sowing plan in lines: when to sow how many, which weeks fall short and why, what would fit instead."""

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from textual.content import Content

from walkabout.screens.text import plain
from walkabout.screens.widgets.reading import columns, head, wrapped
from walkabout.screens.widgets.stagewords import day_long, day_short

if TYPE_CHECKING:
    from walkabout.almanac.succession import Sowing, SuccessionPlan

NARROW = 74
DAY, COUNT, READY = 12, 6, 14


def plan_rows(plan: "SuccessionPlan", width: int, name_of: Callable[[str], str]) -> Iterator[Content]:
    """Yield a plan in lines of `width` cells; `name_of` gives a station's name."""
    wanted = [one for one in plan.weeks if one.wanted]
    short = [one for one in wanted if one.short > 0]
    days = len({one.day for one in plan.sowings})
    if not plan.sowings:
        yield plain("No sowing can give it.", "$act bold")
    elif short:
        yield plain(f"▴ {len(short)} of {len(wanted)} weeks fall short; {_sowings(days)} give the rest.", "$watch")
    else:
        yield plain(f"✓ Every week has what it wants, from {_sowings(days)}.", "$good")
    for says in plan.conflicts:
        yield from wrapped(says, width, "$watch")
    if plan.nearest:
        offer = " f4 plans with that." if 0 < plan.nearest_amount < plan.wanted.amount else ""
        yield from wrapped(f"{plan.nearest}{offer}", width, "bold")
    if plan.sowings:
        yield from head("The sowings")
        yield _sowing_head(width)
    for sowings in _together(plan.sowings):
        yield from _sowing(sowings, width, name_of)
    if short:
        yield from head("Weeks that fall short")
    for week in short:
        says = f"{week.expected:g} of {week.wanted:g}, {week.short:g} too few"
        yield columns(((f"  {day_long(week.day)}", DAY + 2, ""), (says, max(width - DAY - 2, 20), "$watch")))
    for title, told in (("Good to know", plan.notes), ("The working", plan.working)):
        if told:
            yield from head(title)
        for says in told:
            yield from wrapped(says, width)
    yield plain("")
    yield plain(f"Found in {plan.seconds:.1f} s. It is an offer: nothing has been written down.", "$muted")


def _sowings(days: int) -> str:
    return f"sowings on {days} day{'s' if days != 1 else ''}"


def _sowing_head(width: int) -> Content:
    where = max(width - DAY - COUNT - READY - 2, 16)
    return columns((("  sow on", DAY + 2, "$muted"), ("many", COUNT, "$muted"), ("where", where, "$muted"),
                    ("ready by", READY, "$muted")))  # fmt: skip


def _together(sowings: "Sequence[Sowing]") -> "list[list[Sowing]]":
    """Put together what is sown, moved and ready on the same days at the same places, for whatever weeks."""
    found: dict[tuple[object, ...], list[Sowing]] = {}
    for one in sowings:
        found.setdefault((one.day, one.shelf, one.station, one.moves_on, one.ready), []).append(one)
    return list(found.values())


def _sowing(sowings: "Sequence[Sowing]", width: int, name_of: Callable[[str], str]) -> Iterator[Content]:
    one, count = sowings[0], sum(each.count for each in sowings)
    room = max(width - DAY - COUNT - READY - 2, 16)
    where = name_of(one.station)
    if one.moves_on is not None:
        where = f"{name_of(one.shelf)}, {day_short(one.moves_on)} → {where}"
    rows = plain(where.replace("\n", " ")).wrap(room)
    first = columns(((f"  {day_long(one.day)}", DAY + 2, ""), (f"{count}", COUNT, "bold")))
    last = columns(((day_long(one.ready), READY, ""),))
    yield Content("").join([first, rows[0].pad_right(max(room - rows[0].cell_length, 0)), last])
    for row in rows[1:]:
        yield plain(" " * (DAY + COUNT + 2)).append(row)
