"""How long something lasts, and lists of days, in words."""

from datetime import date, timedelta

import pytest

from walkabout.almanac.lasting_words import days_words, span_words, visit_words

TODAY = date(2026, 12, 4)


@pytest.mark.parametrize(
    ("sure", "likely", "says"),
    [
        (7 / 24, 22 / 24, "7 to 22 hours"),
        (8 / 24, 1.0, "8 hours to 1 day"),
        (9.0, 12.5, "9 to 12 days"),
        (3.0, 3.4, "3 days"),
        (1.0, 1.2, "1 day"),
        (0.0, 0.5, "an hour or less to 12 hours"),
        (21.0, None, "21 days and more"),
        (None, None, "long enough"),
    ],
)
def test_from_surely_to_likely(sure: float | None, likely: float | None, says: str) -> None:
    """Whole days, below one whole hours, and one figure where both are the same."""
    assert span_words(sure, likely) == says


def test_a_year_is_said_once() -> None:
    """In a row of days the year stands where it begins, and not again."""
    days = [date(2026, 12, 28), date(2027, 1, 1), date(2027, 1, 4)]
    assert days_words(days, TODAY) == "Mon 28 Dec, Fri 1 Jan 2027 and Mon 4 Jan"


def test_many_visits_are_counted() -> None:
    """One is a visit, a few are named, many are counted between their ends."""
    days = [TODAY + timedelta(days=7 * week) for week in range(1, 9)]
    assert visit_words(days[:1], TODAY) == "a visit on Fri 11 Dec"
    assert visit_words(days[:2], TODAY) == "visits on Fri 11 Dec and Fri 18 Dec"
    assert visit_words(days, TODAY) == "8 visits between Fri 11 Dec and Fri 29 Jan 2027"
