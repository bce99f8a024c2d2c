"""The worst that can be typed, on every kind of page."""

from collections.abc import Callable

import pytest

from tests.paper.conftest import HOSTILE
from tests.paper.made import MAKES, MOST_PAGES, harvested
from tests.paper.printed import outside, reader
from walkabout.paper.sizes import LETTER
from walkabout.round.opened import OpenRoom


@pytest.mark.parametrize(("what", "typed"), zip(MAKES, HOSTILE[:7], strict=True), ids=MAKES)
def test_nothing_that_is_typed_breaks_a_page(hostile: Callable[[str], OpenRoom], typed: str, what: str) -> None:
    """Whatever a room, its stations, varieties and reasons are called, nothing leaves the page and pages stay few."""
    data = MAKES[what](harvested(hostile(typed), HOSTILE), LETTER)

    assert outside(data) == []
    assert 1 <= len(reader(data).pages) <= MOST_PAGES[what] + 2
