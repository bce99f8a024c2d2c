"""Taking back what was said last: everything that it changed is as it was."""

from collections.abc import Callable

import pytest

from walkabout.growing.crops import load
from walkabout.round.lookup import Lookup, answer_check
from walkabout.round.lookup_undo import before, take_back

CHANGES: dict[str, Callable[[Lookup], object]] = {
    "a line": lambda one: one.say("sticky leaves, no webs, pH 7.9, on tomato, zorky"),
    "a line that turns a sign": lambda one: one.say("no white powder"),
    "danger": lambda one: one.say("sparks from the plug"),
    "yes": lambda one: answer_check(one, "yes"),
    "no": lambda one: answer_check(one, "no"),
    "cannot tell": lambda one: answer_check(one, "cannot tell"),
    "a sign taken away": lambda one: one.set_sign("white-powder", None),
    "another reading": lambda one: one.set_reading("ph", 5.0),
    "a reading taken away": lambda one: one.set_reading("ph", None),
    "a reading that cannot be told": lambda one: one.cannot_tell("ec"),
    "a crop": lambda one: one.set_crop("basil"),
}


@pytest.mark.parametrize("change", CHANGES)
def test_it_is_as_it_was(change: str) -> None:
    """The signs, the readings, the crop, what was passed over, the dangers and the answer."""
    lookup = Lookup(load(), readings={"ph": 6.9})
    lookup.say("white powder")
    then = before(lookup, change)
    answer = lookup.answer()
    CHANGES[change](lookup)
    assert before(lookup, change) != then
    assert take_back(lookup, then) == f"Taken back: {change}."
    assert before(lookup, change) == then
    assert lookup.answer().says == answer.says
    assert [one.key for one in lookup.answer().causes] == [one.key for one in answer.causes]
