"""EC from ions against PHREEQC (frozen), a standard solution, and the two rules of thumb."""

import json
from pathlib import Path

import pytest

from walkabout.growing import conductivity as of
from walkabout.growing.concentration import millimoles, species

FROZEN = json.loads((Path(__file__).with_name("frozen") / "conductivity.json").read_text(encoding="utf-8"))["solutions"]
FEEDS = ("Hoagland", "Steiner", "lettuce", "tomato")


def _estimate(ions: dict[str, float]) -> float:
    return of.estimate({species(name).ion: amount for name, amount in ions.items()})


@pytest.mark.parametrize("solution", FROZEN, ids=lambda one: one["name"])
def test_an_estimate_agrees_with_phreeqc(solution: dict[str, object]) -> None:
    """Feeds and tap waters within 1 %; lone salts within 6 %, most where calcium goes paired with sulfate."""
    close = str(solution["name"]).startswith(FEEDS) or "tap" in str(solution["name"])
    expected = solution["ec"]
    assert _estimate(solution["ions"]) == pytest.approx(expected, rel=0.01 if close else 0.06)  # type: ignore[arg-type]


@pytest.mark.parametrize(("millimolar", "expected"), [(10, 1.413), (1, 0.147)])
def test_an_estimate_agrees_with_potassium_chloride_standards(millimolar: float, expected: float) -> None:
    """KCl standards at 25 °C, 1413 and 147 µS/cm (Standard Methods 2510): within 1 %."""
    assert of.estimate({"K+": millimolar, "Cl-": millimolar}) == pytest.approx(expected, rel=0.01)


def test_a_gram_of_table_salt() -> None:
    """1000 mg/L of sodium chloride conduct about 1.975 mS/cm (PHREEQC): where the ppm scale of 0.5 comes from."""
    amount = 1000 / 58.44
    assert of.estimate({"Na+": amount, "Cl-": amount}) == pytest.approx(1.975, rel=0.02)


@pytest.mark.parametrize(
    ("cations", "tenth", "sonneveld"), [(20, 2.0, 2.09), (12.79, 1.279, 1.405), (19, 1.9, 1.995), (5, 0.5, 0.665)]
)
def test_rules_of_thumb(cations: float, tenth: float, sonneveld: float) -> None:
    """A tenth of the cations (teaching), 0.095 C + 0.19 (Sonneveld et al. 1999); half of the last digit."""
    assert of.rule_tenth(cations) == pytest.approx(tenth, abs=5e-4)
    assert of.rule_sonneveld(cations) == pytest.approx(sonneveld, abs=5.1e-4)


@pytest.mark.parametrize(
    ("ions", "cations"),
    [
        ({"K": 6, "Ca": 5, "Mg": 2, "NH4": 0}, 20),
        ({"K": 7, "Ca": 4.5, "Mg": 2, "NH4": 0}, 20),
    ],
    ids=["Hoagland 1", "Steiner"],
)
def test_sum_of_the_cations(ions: dict[str, float], cations: float) -> None:
    """Hoagland and Arnon 1950, Steiner 1984: 20 meq/L, exactly."""
    assert of.cations({species(name).ion: amount for name, amount in ions.items()}) == cations


def test_sum_of_the_anions() -> None:
    """NO3 15, H2PO4 1, SO4 2 mmol/L are 20 meq/L, exactly."""
    assert of.anions({"NO3-": 15, "H2PO4-": 1, "SO4-2": 2}) == 20


def test_rule_of_sonneveld_from_milligrams() -> None:
    """K 234.6, Ca 200.4, Mg 48.6 mg/L: 2.09 mS/cm, ±0.01."""
    found = {"K": 234.6, "Ca": 200.4, "Mg": 48.6}
    ions = {species(name).ion: millimoles(amount, species(name), "mg/L") for name, amount in found.items()}
    assert of.rule_sonneveld(of.cations(ions)) == pytest.approx(2.09, abs=0.01)
