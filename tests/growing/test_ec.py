"""Conductivity: units, scales, temperature."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import ec
from walkabout.growing.limits import OutOfRange

EC = st.floats(0, 100)


@settings(max_examples=60)
@given(EC, st.sampled_from(sorted(ec.PER_MS_CM)))
def test_units_there_and_back(value: float, unit: str) -> None:
    """A value turned into a unit and back is what it was."""
    assert ec.from_unit(ec.in_unit(value, unit), unit) == pytest.approx(value)


@settings(max_examples=60)
@given(EC, st.floats(400, 1000))
def test_ppm_there_and_back(value: float, scale: float) -> None:
    """Ppm on any scale and back is what it was."""
    assert ec.from_ppm(ec.ppm(value, scale), scale) == pytest.approx(value)


@settings(max_examples=60)
@given(EC, st.floats(0, 50), st.floats(0.01, 0.03))
def test_compensation_there_and_back(value: float, temperature: float, part: float) -> None:
    """What a meter without compensation shows, compensated, is the EC at 25 °C."""
    assert ec.at_25(ec.at_temperature(value, temperature, part), temperature, part) == pytest.approx(value)


@settings(max_examples=40)
@given(st.floats(0, 49))
def test_cold_water_conducts_less(temperature: float) -> None:
    """The same solution shows more the warmer it is, so its EC at 25 °C falls with the temperature."""
    assert ec.at_temperature(1, temperature) < ec.at_temperature(1, temperature + 1)
    assert ec.at_25(1, temperature) > ec.at_25(1, temperature + 1)


def test_compensation_divides() -> None:
    """At 15 °C dividing by 0.8 gives 25 % more, where multiplying by 1.2 would give 4 % less than that."""
    assert ec.at_25(1, 15, 0.02) == pytest.approx(1.25)
    assert ec.at_25(1, 25) == 1


@pytest.mark.parametrize(("given_as", "scale"), [(0.5, 500), (0.64, 640), (0.7, 700), (640, 640), (1, 1000)])
def test_a_scale_is_taken_in_both_ways_of_writing(given_as: float, scale: float) -> None:
    """0.7 and 700 are one scale."""
    assert ec.scale(given_as) == pytest.approx(scale)


@pytest.mark.parametrize("wrong", [0, 0.3, 2, 64, 399, 1001, -500])
def test_what_is_no_scale_is_refused(wrong: float) -> None:
    """The message names the scales there are."""
    with pytest.raises(OutOfRange, match="500, 640 or 700"):
        ec.scale(wrong)


@pytest.mark.parametrize(
    ("call", "names"),
    [
        (lambda: ec.at_25(1, 51), "at most 50 °C"),
        (lambda: ec.at_25(1, -1), "at least 0 °C"),
        (lambda: ec.at_25(1, 20, 0.2), "at most 0.03"),
        (lambda: ec.at_25(-1, 20), "at least 0"),
        (lambda: ec.from_unit(201, "mS/cm"), "at most 200"),
        (lambda: ec.in_unit(201, "CF"), "at most 200"),
        (lambda: ec.from_ppm(-1, 500), "at least 0"),
        (lambda: ec.ppm(float("nan"), 500), "no number"),
    ],
    ids=["hot", "frozen", "coefficient", "negative", "strong", "strong CF", "negative ppm", "nan"],
)
def test_out_of_range_is_refused_with_the_limit(call: object, names: str) -> None:
    """The message names the limit."""
    with pytest.raises(OutOfRange, match=names):
        call()  # type: ignore[operator]
