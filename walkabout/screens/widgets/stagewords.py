"""What comes next for a planting, and how a promise stands, in a few words and a mark."""

from collections.abc import Collection
from datetime import date

from walkabout.almanac.model import Course, Expected, Outlook
from walkabout.growing.counting import in_trays
from walkabout.growing.crops import load

OUTLOOKS: dict[Outlook, tuple[str, str, str]] = {
    "on course": ("◆", "$good", "on course"),
    "tight": ("◈", "$watch", "tight"),
    "at risk": ("◇", "$act", "at risk"),
    "cannot": ("◇", "$act bold", "cannot be kept"),
    "kept": ("✓", "$good", "kept"),
    "called off": ("·", "$muted", "called off"),
}
"""How a promise stands: its mark, its colour, its words. No state is told by a colour alone."""
COMES = {
    "emergence": "shows",
    "move_on": "moves on",
    "flowering": "flowers",
    "harvest": "harvest from",
    "seed": "seed ripe",
}
"""What a stage is called before its day."""
THINNED = "thin on"
LIT = "to the light"


def day_short(day: date) -> str:
    """Say a day: '4 Dec'."""
    return f"{day.day} {day:%b}"


def day_long(day: date) -> str:
    """Say a day with its weekday: 'Fri 4 Dec'."""
    return f"{day:%a} {day_short(day)}"


def next_stage(course: Course, today: date) -> Expected | None:
    """Return the stage that comes next, or None when no more is expected."""
    ahead = [one for one in course.stages if one.reached is None and one.span.late >= today]
    return min(ahead, key=lambda one: one.span.likely, default=None)


def picked_since(course: Course, today: date) -> date | None:
    """Return the day from which it has been ready to be picked, or None while it is not."""
    harvest = course.stage("harvest")
    if harvest is None:
        return None
    begins = harvest.reached or (course.planting.pickings[0].day if course.planting.pickings else None)
    begins = begins or harvest.span.likely
    return begins if begins <= today else None


def label(course: Course, today: date, moving: Collection[str] = ()) -> str:
    """Say what a planting is and what comes next: 'basil, moves on 4 Dec'.

    `moving` are the keys of the plantings that change their station at the stage 'move_on'; others are thinned.
    """
    if course.planting.ended is not None:
        return f"{course.name}, ended {day_short(course.planting.ended)}"
    if picked_since(course, today) is not None:
        return f"{course.name}, picked until {day_short(course.until)}" if course.until else f"{course.name}, ready"
    comes = next_stage(course, today)
    if comes is None:
        return course.name
    says = COMES[comes.stage]
    if comes.stage == "move_on" and course.planting.key not in moving:
        says = LIT if in_trays(load().find(course.planting.crop)) else THINNED
    day = comes.span.likely
    return f"{course.name}, {says} {day_short(day) if day > today else 'now'}"
