"""Letters on paper: typed text is drawn as it is, every script has a shape, and no line is too long."""

from collections.abc import Iterator
from contextlib import closing
from datetime import date

import pypdfium2
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.paper.printed import text
from tests.rooms import NOW
from walkabout.paper.lettering import wrapped
from walkabout.paper.pages import Pages, Running, pdf_of
from walkabout.paper.sizes import A4

RUNNING = Running("Fernhollow", "a try", date(2026, 11, 25))
BARE = Running("", "a try", date(2026, 11, 25))


@pytest.fixture(scope="module")
def pages() -> Iterator[Pages]:
    with closing(Pages(A4, RUNNING)) as made:
        yield made


def test_typed_text_is_drawn_as_it_is() -> None:
    """Tags, stars, braces and backslashes are letters; what ends a line or steers a terminal is a blank."""
    typed = "<b>x</b> **y** __z__ {nb} &amp; \\n (a) Tj\x1b[31m\nend"
    data = pdf_of(lambda pages: pages.write(typed), A4, RUNNING, NOW)

    assert "<b>x</b> **y** __z__ {nb} &amp; \\n (a) Tj [31m end" in text(data)


def test_other_scripts() -> None:
    """What the type holds is drawn; all else is spelled in Latin letters or named, and nothing is left out."""
    typed = "Ελλάδα Київ č \u690d\u7269 \U0001f331 \u00b0\u2082"
    data = pdf_of(lambda pages: pages.write(typed), A4, RUNNING, NOW)

    assert "Ελλάδα Київ č ZhiWu (seedling) °₂" in text(data)


def test_right_to_left() -> None:
    """The first letter of Hebrew stands at the right, and digits within it from left to right."""
    page = pypdfium2.PdfDocument(pdf_of(lambda pages: pages.write("\u05d0\u05d1\u05d2 12"), A4, BARE, NOW))[
        0
    ].get_textpage()
    where = {page.get_text_range(place, 1): page.get_charbox(place)[0] for place in range(page.count_chars())}

    assert where["\u05d0"] > where["\u05d1"] > where["\u05d2"] > where["2"] > where["1"]


def test_a_name_from_the_right_within_a_line_from_the_left() -> None:
    """What is said around a Hebrew name keeps its order, and the name keeps its own."""
    typed = "\u05d0\u05d1 (raft tub): 12 heads"
    page = pypdfium2.PdfDocument(pdf_of(lambda pages: pages.write(typed), A4, BARE, NOW))[0].get_textpage()
    where = {page.get_text_range(place, 1): page.get_charbox(place)[0] for place in range(page.count_chars())}

    assert where["\u05d1"] < where["\u05d0"] < where["r"] < where["2"] < where["h"]


def test_letters_that_join(pages: Pages) -> None:
    """Arabic letters take their joined shapes, which are narrower than the lone ones."""
    word = "\u0645\u0631\u062d\u0628\u0627"
    assert pages.measure(word) < sum(pages.measure(one) for one in word)


def test_marks_do_not_pile_up(pages: Pages) -> None:
    """A letter keeps two marks at most, and a text of nothing but marks and controls is empty or few letters."""
    assert len(pages.clean("a" + "\u0334" * 50)) <= 3
    assert pages.clean("\u202e\u2066\x00\x07\u200b") == ""
    assert pages.clean("\ud800x") == "?x"


@given(st.text(max_size=200), st.floats(8, 170))
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_lines_fit_and_lose_nothing(pages: Pages, typed: str, width: float) -> None:
    """No line is wider than it may be, and the lines together have every letter of the cleaned text."""
    rows = pages.lines(typed, width)

    assert all(pages.measure(row) <= width or len(row) == 1 for row in rows)
    assert "".join(rows).replace(" ", "") == pages.clean(typed).replace(" ", "")
    assert len(wrapped(pages.clean(typed), width, pages.measure, 2)) <= 2
