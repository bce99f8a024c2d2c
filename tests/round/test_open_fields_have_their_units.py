"""Salts in g beside what the water holds in mg/L, in one form."""

import pytest

from walkabout.growing.units import METRIC
from walkabout.reckon.catalogue import find
from walkabout.round.workout import Form


@pytest.mark.parametrize(
    ("typed", "name", "unit"),
    [("KNO3", "potassium-nitrate", "g"), ("water_ca", "water_Ca", "mg/L"), ("KNO3:N", "potassium-nitrate:N", "%")],
)
def test_a_row_has_the_unit_of_what_it_is(typed: str, name: str, unit: str) -> None:
    """A salt is weighed, the water's contents and a label's shares are not."""
    form = Form(find("mix"), lambda _: {}, METRIC)
    assert form.add(typed) == name
    assert next(row.unit for row in form.rows() if row.key == name) == unit


def test_a_bare_number_and_one_with_its_unit_are_the_same() -> None:
    """60 and 60 mg/L of calcium in the water both come out as 60 mg/L."""
    for text in ("60", "60 mg/L", "0.06 g/L"):
        form = Form(find("mix"), lambda _: {}, METRIC)
        form.set("volume", "10")
        form.set(form.add("KNO3"), "5")
        form.set(form.add("water_ca"), text)
        assert form.work().results["ca"].value == pytest.approx(60)
