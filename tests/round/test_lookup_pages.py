"""The page of each cause, and the lists."""

import re

import pytest

from walkabout.diagnosis.model import Cause
from walkabout.round.lookup import ready
from walkabout.round.lookup_pages import KINDS, by_kind, by_organ, find_cause, page


def every() -> list[Cause]:
    known = ready().known
    return [*known.causes.values(), *known.reasons.values()]


def test_every_cause_has_a_page_with_what_it_must_say() -> None:
    """What it is, what to look for, its story in four lines, what to do and who, when to look again, sources."""
    for cause in every():
        sections = {one.title: one.lines for one in page(cause)}
        for title in ("What it is", "What to look for", "What to do", "Look again", "Sources"):
            assert sections[title], (cause.key, title)
        assert 1 <= len(sections["How it comes about"]) <= 4, cause.key
        assert all("Who: " in line for line in sections["What to do"]), cause.key
        assert all(
            line.endswith(("(published)", "(from memory)", "(common practice)", "(assumed)"))
            for line in sections["Sources"]
        )


def test_every_name_finds_its_cause() -> None:
    """By key, by name, in any case and with blanks for hyphens."""
    for cause in every():
        assert find_cause(cause.key) == cause
        assert find_cause(cause.key.replace("-", " ").upper()) == cause
    assert find_cause("Oidium").key == "powdery-mildew"


@pytest.mark.parametrize(
    ("typed", "says"),
    [("powdry mildew", "Did you mean powdery mildew"), ("qqqq", "walkabout causes"), ("", "No cause")],
)
def test_an_unknown_cause_names_what_would_be_right(typed: str, says: str) -> None:
    """One line with the nearest names, or where the list is."""
    with pytest.raises(ValueError, match=re.escape(says)) as error:
        find_cause(typed)
    assert "\n" not in str(error.value)


def test_the_lists_hold_everything_once() -> None:
    """Each cause stands under its class, each sign under what it is seen on; each class has a heading."""
    causes = [one.key for causes in by_kind().values() for one in causes]
    assert sorted(causes) == sorted(one.key for one in every())
    assert set(by_kind()) <= set(KINDS)
    signs = [one.key for signs in by_organ().values() for one in signs]
    assert sorted(signs) == sorted(ready().known.signs)
