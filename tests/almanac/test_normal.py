"""The normal law, against the standard library's."""

from statistics import NormalDist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.almanac.normal import Z_TENTH, above, below, with_above, with_below

LAW = NormalDist()


@settings(max_examples=60, deadline=None)
@given(st.floats(1e-9, 1 - 1e-9))
def test_as_the_standard_library(share: float) -> None:
    """The z of a share is that of statistics.NormalDist, and its share below is the share again."""
    assert with_below(share) == pytest.approx(LAW.inv_cdf(share), abs=1e-7)
    assert below(with_below(share)) == pytest.approx(share, rel=1e-9, abs=1e-15)


@settings(max_examples=40, deadline=None)
@given(st.floats(-5, 36))
def test_far_out_nothing_is_lost(z: float) -> None:
    """Where 1 - share would be 1, the share above still finds its z again."""
    assert with_above(above(z)) == pytest.approx(z, abs=1e-7)


def test_one_in_ten() -> None:
    """One in ten lies above 1.2816 (printed in every table of the normal law)."""
    assert pytest.approx(1.2815515655, abs=1e-9) == Z_TENTH


@pytest.mark.parametrize("share", [0, 1, -0.1, 1.2, float("nan")])
def test_no_share(share: float) -> None:
    """What is no share is refused."""
    with pytest.raises(ValueError, match="between 0 and 1"):
        with_above(share)
