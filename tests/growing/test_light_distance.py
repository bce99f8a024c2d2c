"""Light and distance: the closed forms against the sum of a lamp's parts, and what holds for every lamp."""

from math import cos, hypot, pi, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing.distance import Face, carried, distance_for, far_enough, seen
from walkabout.growing.limits import OutOfRange

sizes = st.floats(min_value=1, max_value=200)
gaps = st.floats(min_value=5, max_value=500)
few = settings(max_examples=80)


@st.composite
def faces(draw):
    """Any lamp: a point, a tube, a panel or a disc."""
    shape = draw(st.sampled_from(["point", "tube", "panel", "disc"]))
    size = draw(sizes)
    if shape == "point":
        return Face()
    if shape == "tube":
        return Face("tube", 0, size)
    return Face("disc", size) if shape == "disc" else Face("panel", size, draw(sizes))


def in_parts(face, distance, steps=120):
    """Add up the light of small parts of a lamp, each a point that shines by Lambert's law; over that of a point.

    A part of a flat face sends cos θ of its light at an angle θ, and it falls at that angle: cos² θ ÷ r². A part of
    a tube shines alike all round the tube and by cos θ along it, where θ is again the angle at the sensor.
    """
    points = []
    for i in range(steps):
        u = (i + 0.5) / steps - 0.5
        if face.shape == "tube":
            points.append((0.0, u * face.length, 1.0))
            continue
        for j in range(steps):
            v = (j + 0.5) / steps
            if face.shape == "panel":
                points.append((u * face.width, (v - 0.5) * face.length, 1.0))
            else:
                radius = face.width / 2 * (u + 0.5)
                points.append((radius * cos(2 * pi * v), radius * sin(2 * pi * v), radius))
    whole = sum(weight for *_, weight in points)
    light = sum(weight * distance**2 / hypot(x, y, distance) ** 4 for x, y, weight in points)
    return light / whole * distance**2


@pytest.mark.parametrize("distance", [10, 30, 100], ids=str)
@pytest.mark.parametrize(
    "face",
    [
        Face("tube", 0, 60),
        Face("disc", 40),
        Face("panel", 30, 30),
        Face("panel", 20, 120),
    ],
    ids=["tube", "disc", "square", "bank"],
)
def test_closed_forms_against_the_sum_of_parts(face, distance):
    """Formula and sum agree; the sum of 120 parts a side is good to some 0.1 %."""
    assert seen(face, distance) == pytest.approx(in_parts(face, distance), rel=2e-3)


@few
@given(face=faces(), distance=gaps)
def test_a_size_only_takes_away(face, distance):
    """A lamp with a size gives less light straight below than a point of the same strength, and some."""
    assert 0 < seen(face, distance) <= 1 + 1e-12


@few
@given(face=faces(), near=gaps, far=gaps, light=st.floats(1, 2000))
def test_carrying_there_and_back(face, near, far, light):
    """A reading carried to another distance and back is the reading; further away is darker."""
    there = carried(light, near, far, face)
    assert carried(there, far, near, face) == pytest.approx(light)
    if far > near:
        assert there < light


@few
@given(face=faces(), near=gaps, far=gaps)
def test_it_falls_no_faster_than_the_square(face, near, far):
    """Inverse square is the fastest that light can thin out."""
    close, away = sorted((near, far))
    assert carried(100, close, away, face) >= carried(100, close, away, Face()) * (1 - 1e-9)


@few
@given(face=faces(), near=gaps, far=st.floats(min_value=8, max_value=300))
def test_the_distance_for_a_light_is_found(face, near, far):
    """Asked for the light that there is at a distance, that distance comes back."""
    wanted = carried(500, near, far, face)
    assert distance_for(500, near, wanted, face) == pytest.approx(far, rel=1e-4)


@few
@given(face=faces())
def test_five_times_is_within_one_percent(face):
    """At five times the largest dimension the light is within 1 % of a point's, for every shape."""
    if face.shape != "point":
        distance = 5 * face.largest
        assert far_enough(face, distance)
        assert not far_enough(face, distance * 0.99)
        assert 1 - seen(face, distance) <= 0.01


def test_five_times_the_side_is_not_enough():
    """The largest dimension of a square is its diagonal: at five times the side it is still 1.3 % off."""
    square = Face("panel", 30, 30)
    assert not far_enough(square, 150)
    assert 1 - seen(square, 150) > 0.01


def test_a_thin_panel_is_a_tube_and_a_small_lamp_a_point():
    """The shapes meet where they must."""
    assert seen(Face("panel", 0.01, 80), 30) == pytest.approx(seen(Face("tube", 0, 80), 30), rel=1e-5)
    for small in (Face("tube", 0, 0.1), Face("disc", 0.1), Face("panel", 0.1, 0.1)):
        assert seen(small, 100) == pytest.approx(1, abs=1e-5)


@pytest.mark.parametrize(
    ("work", "named"),
    [
        (lambda: seen(Face(), 0), "distance is 0 cm"),
        (lambda: seen(Face("tube", 0, 0), 10), "size of the lamp is 0 cm"),
        (lambda: seen(Face("disc", -1), 10), "size of the lamp is -1 cm"),
        (lambda: seen(Face("panel", 10, 0), 10), "size of the lamp is 0 cm"),
        (lambda: seen(Face("panel", 10, 10), -5), "distance is -5 cm"),
        (lambda: carried(-1, 10, 20, Face()), "at least 0"),
        (lambda: carried(100, 10, 0, Face()), "distance is 0 cm"),
        (lambda: carried(100, 0, 10, Face()), "distance is 0 cm"),
        (lambda: distance_for(400, 30, 4000, Face("panel", 40, 40)), "at most 1120"),
        (lambda: distance_for(400, 30, 1e-9, Face()), "at least"),
        (lambda: distance_for(0, 30, 100, Face()), "more than 0"),
    ],
)
def test_what_distance_refuses(work, named):
    """Nothing is worked out for a lamp or a distance of no size, nor for light that is not to be had."""
    with pytest.raises(OutOfRange, match=named):
        work()
