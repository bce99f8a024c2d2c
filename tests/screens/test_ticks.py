"""The numbers beside a picture: round, and as many rows from one to the next."""

import itertools

from hypothesis import given
from hypothesis import strategies as st

from walkabout.screens.widgets.plot import Field
from walkabout.screens.widgets.ticks import even

LOWS = st.floats(-500, 500)
SPANS = st.floats(-2, 4).map(lambda power: 10.0**power)


@given(low=LOWS, span=SPANS, rows=st.integers(3, 40))
def test_labels_stand_at_equal_steps_of_rows(low: float, span: float, rows: int) -> None:
    """All that is drawn stays inside, two labels at least stand there, and none is nearer to the next than another."""
    first, last, ticks = even(low, low + span, rows)
    near = span * 1e-6 + abs(low) * 1e-9
    assert first <= low + near
    assert last >= low + span - near
    assert low < 0 or first >= 0
    field = Field(4, 40, rows, (0.0, 1.0), (first, last))
    at = [int(field.down(value)) for value, _ in ticks]
    assert len(at) >= 2
    assert len({one - other for one, other in itertools.pairwise(at)}) == 1
    assert all(abs(float(says) - value) < near for value, says in ticks)


def test_a_scale_of_days_begins_at_nothing() -> None:
    """What cannot be below 0 is not drawn below 0; the labels are those that anybody would count by."""
    first, last, ticks = even(0.0, 9.5, 11)
    assert (first, last) == (0.0, 10.0)
    assert [says for _, says in ticks] == ["0", "2", "4", "6", "8", "10"]


def test_nothing_to_draw_on_has_no_even_scale() -> None:
    """With no room, or no span, the ends stay as they are."""
    assert even(1.0, 1.0, 10)[:2] == (1.0, 1.0)
    assert even(1.0, 2.0, 2)[:2] == (1.0, 2.0)
