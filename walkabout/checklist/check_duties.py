"""What cannot be in a standing job, or in what a place holds: names that must exist, figures that must agree."""

import re
from collections.abc import Collection, Iterator

from walkabout.checklist.model import Duty, Store
from walkabout.growing.crops import GROUPS
from walkabout.room.mistakes import nearest
from walkabout.room.toml_lines import Place

WITH_A_STAGE = ("thin", "move on", "lamp hours", "end of crop")
"""What comes once for each planting or lamp, and has no days of its own."""
MOST_ML, MOST_DAYS = 50_000.0, 730.0
"""The most that the roots of one plant can hold, mL, and the longest that a place lives by itself, days. Assumed."""

_ID = re.compile(r"[a-z0-9][a-z0-9-]*")


def wrong_duty(
    name: str, duty: Duty, ids: Collection[str], written: Collection[str]
) -> Iterator[tuple[Place, str, str]]:
    """Find what cannot be in a standing job; `ids` are the questions, `written` those that are in the file at least."""
    if not _ID.fullmatch(name):
        yield (), f'"{name}" is not a name for a standing job', "Use small letters, digits and hyphens"
    for key in ("says", "source"):
        if not getattr(duty, key).strip():
            right = "Begin with a verb" if key == "says" else "Name one, or write common practice, from memory, assumed"
            yield (key,), f"{key} is empty", right
    if duty.at in WITH_A_STAGE and duty.days:
        yield ("days",), f'"{duty.at}" has no days of its own', "Write days = 0"
    if duty.at not in WITH_A_STAGE and not duty.days:
        yield ("days",), "days is 0, so that it would never be over", "Give the days between two times, or say at"
    if duty.settled_by and duty.settled_by not in ids and duty.settled_by not in written:
        yield ("settled_by",), f'there is no question "{duty.settled_by}"', nearest(duty.settled_by, ids)
    for index, group in enumerate(duty.needs.groups):
        if group not in GROUPS:
            yield ("needs", "groups", index), f'no crop is in the group "{group}"', nearest(group, GROUPS)


def wrong_store(store: Store | None) -> Iterator[tuple[Place, str, str]]:
    """Find what cannot be in the store of a place."""
    if store is None:
        return
    for key, pair, most in (("ml", store.ml, MOST_ML), ("days", store.days, MOST_DAYS)):
        if pair is None:
            continue
        if pair[0] > pair[1]:
            yield (key,), f"{key} begins at {pair[0]:g} and ends at {pair[1]:g}", "The lower end comes first"
        elif not 0 < pair[0] <= pair[1] <= most:
            yield (key,), f"{key} cannot be {pair[0]:g} to {pair[1]:g}", f"It can be above 0 to {most:g}"
    if store.ml is None and store.days is None and store.water != "tank":
        yield (), "it is not said for how long this lasts", 'Write ml or days, or water = "tank"'
    for key in ("fails", "source"):
        if not getattr(store, key).strip():
            yield (key,), f"{key} is empty", "Say what happens first" if key == "fails" else "Say how it is known"
