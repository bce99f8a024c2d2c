"""A promise is made, changed, kept or called off; nothing of it is deleted."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import msgspec
import pytest

from walkabout.jobs.promises import amount_words, call_off, change, keep, promise, still_open
from walkabout.records.model import Promise
from walkabout.records.sums import was_kept

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
DAY = date(2026, 12, 11)


def salad(**more: object) -> Promise:
    given = {"crop": "lettuce", "amount": 24, "unit": "portions", "day": DAY, "people": "8B"}
    return promise(by="AR", now=NOW, **(given | more))  # type: ignore[arg-type]


def test_a_promise_says_what_for_whom_and_when() -> None:
    """It is open, and its first line of history tells all of it."""
    made = salad(people=" 8B ")
    assert (made.people, made.closed, was_kept(made)) == ("8B", None, None)
    assert made.history[0].says == "promised: 24 portions of lettuce for 8B on 2026-12-11"


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"crop": " "}, "Name the crop"),
        ({"crop": "barrel-cactus"}, "not grown to be eaten"),
        ({"crop": "maidenhair fern"}, "Maidenhair fern is not grown to be eaten, so it is not promised"),
        ({"amount": 0}, "more than 0 and up to 2,000 portions"),
        ({"amount": float("nan")}, "more than 0"),
        ({"amount": 3_000}, "up to 2,000"),
        ({"unit": "boxes"}, "portions, heads, g"),
        ({"unit": "heads", "amount": 2.5}, "whole"),
        ({"day": date(2026, 11, 24)}, "over"),
        ({"day": date(2029, 1, 1)}, "2 years ahead"),
        ({"people": " "}, "class or event"),
        ({"people": "x" * 61}, "at most 60"),
        ({"eaters": 0}, "from 1 to 2,000 people"),
    ],
)
def test_what_cannot_be_promised_is_said_in_one_sentence(more: dict[str, object], says: str) -> None:
    """A ValueError that says what would be right."""
    with pytest.raises(ValueError, match=says):
        salad(**more)


def test_a_change_tells_before_after_and_why() -> None:
    """What is not named stays as it is; a change of nothing, or without a reason, is refused."""
    later = change(salad(), "AR", NOW, "the lamp failed", day=DAY + timedelta(days=3), amount=20)
    assert (later.day, later.amount, later.people) == (date(2026, 12, 14), 20, "8B")
    assert later.history[-1].says.endswith("20 portions of lettuce for 8B on 2026-12-14: the lamp failed")
    for wrong, says in (
        (lambda: change(salad(), "AR", NOW, " ", amount=2), "why it changes"),
        (lambda: change(salad(), "AR", NOW, "same", amount=24), "Nothing about it"),
        (lambda: change(salad(), "AR", NOW, "earlier", day=NOW.date() - timedelta(days=1)), "over"),
    ):
        with pytest.raises(ValueError, match=says):
            wrong()


@pytest.mark.parametrize(
    ("close", "kept", "reason"),
    [
        (lambda one: keep(one, "AR", NOW), True, "kept"),
        (lambda one: keep(one, "AR", NOW, "22 portions were enough"), True, "kept: 22 portions were enough"),
        (lambda one: call_off(one, "mildew", "AR", NOW), False, "called off: mildew"),
    ],
)
def test_a_promise_is_closed_once(close: Callable[[Promise], Promise], kept: bool, reason: str) -> None:
    """Kept or called off, with its reason; then it is over."""
    closed = close(salad())
    assert (was_kept(closed), closed.reason, closed.closed) == (kept, reason, NOW)
    for again in (lambda: keep(closed, "AR", NOW), lambda: change(closed, "AR", NOW, "x", amount=1)):
        with pytest.raises(ValueError, match="is closed"):
            again()


def test_calling_off_needs_a_reason() -> None:
    """Blanks are none."""
    with pytest.raises(ValueError, match="with a reason"):
        call_off(salad(), " ", "AR", NOW)


def test_the_nearest_open_promise_stands_first() -> None:
    """Closed ones and other crops are left out."""
    near, far, basil = salad(), salad(day=DAY + timedelta(days=9)), salad(crop="basil")
    gone = keep(salad(), "AR", NOW)
    assert still_open([far, gone, basil, near], "lettuce") == [near, far]
    assert len(still_open([far, gone, basil, near])) == 3


def test_amounts_in_words() -> None:
    """One of a thing has no s; grams never do."""
    one = msgspec.structs.replace(salad(), amount=1, unit="heads", crop="raft-lettuce")
    assert amount_words(one) == "1 head of raft lettuce"
    assert amount_words(msgspec.structs.replace(one, amount=500, unit="g")) == "500 g of raft lettuce"
    assert amount_words(msgspec.structs.replace(one, amount=2, crop="cress")) == "2 trays of cress"


def test_a_crop_that_nobody_knows_is_taken_at_its_word() -> None:
    """The table may not have it, and yet it grows here."""
    assert amount_words(salad(crop="moon grass")) == "24 portions of moon grass"
