"""Numbers with units, as people type them."""

import subprocess
import sys
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.reckon.units import number, on_scale, perhaps


@pytest.mark.parametrize(
    ("typed", "unit", "expected"),
    [
        # NIST Special Publication 811, appendix B, has the factors behind all US units here
        ("75F", "°C", 23.8889),
        ("75 °F", "°C", 23.8889),
        ("24", "°C", 24),
        ("24C", "°C", 24),
        ("24 degC", "°C", 24),
        ("297.15K", "°C", 24),
        ("-40F", "°C", -40),
        ("−5", "°C", -5),
        ("20gal", "L", 75.7082),
        ("60 litres", "L", 60),
        ("500mL", "L", 0.5),
        ("0.5 m3", "L", 500),
        ("1400uS/cm", "mS/cm", 1.4),
        ("1400 µS/cm", "mS/cm", 1.4),
        ("1.4dS/m", "mS/cm", 1.4),
        ("150mS/m", "mS/cm", 1.5),
        ("18CF", "mS/cm", 1.8),
        ("700ppm500", "mS/cm", 1.4),
        ("980 ppm700", "mS/cm", 1.4),
        ("700 ppm (500)", "mS/cm", 1.4),
        ("700ppm0.5", "mS/cm", 1.4),
        ("1400us", "mS/cm", 1.4),
        ("1413 µS", "mS/cm", 1.413),
        ("1.4mS", "mS/cm", 1.4),
        ("180uS/cm", "mS/cm per mL/L", 0.18),
        ("0.18 mS/cm", "mS/cm per mL/L", 0.18),
        ("ppm500", "ppm per mS/cm", 500),
        ("700ppm", "ppm per mS/cm", 700),
        ("0.64", "ppm per mS/cm", 0.64),
        ("100mL", "L/day", 0.1),
        ("pH 6.1", "pH", 6.1),
        ("2%", "", 0.02),
        ("20klx", "lx", 20000),
        ("100fc", "lx", 1076.391),
        ("100 footcandles", "lx", 1076.391),
        ("760mmHg", "kPa", 101.325),
        ("1atm", "kPa", 101.325),
        ("1013 hPa", "kPa", 101.3),
        ("1013mbar", "kPa", 101.3),
        ("12in", "cm", 30.48),
        ("0.3m", "cm", 30),
        ("1ft", "cm", 30.48),
        ("10ft2", "m²", 0.929),
        ("3meq/L", "mg/L CaCO3", 150.12),
        ("10dH", "mg/L CaCO3", 178.48),
        ("244 mg/L HCO3", "mg/L CaCO3", 200.1),
        ("120ppm", "mg/L CaCO3", 120),
        ("2lb", "g", 907.185),
        ("1.5kg", "g", 1500),
        ("0.2 umol/m2/s", "µmol/m²/s", 0.2),
        ("200 µmol/m²/s", "µmol/m²/s", 200),
        ("17 mol/m2/d", "mol/m²/d", 17),
        ("960min", "h", 16),
        ("2 weeks", "days", 14),
        ("1kW", "W", 1000),
        ("60%", "%", 60),
        ("0,5", "mL", 0.5),
        ("1e3", "", 1000),
        ("0.5M", "mol/L", 0.5),
    ],
)
def test_what_is_typed_arrives_in_the_fields_unit(typed: str, unit: str, expected: float) -> None:
    """A bare number is in the field's own unit, every other unit of the same kind is turned into it."""
    assert number(typed, unit) == pytest.approx(expected, rel=2e-4)


@pytest.mark.parametrize(
    ("typed", "unit", "says"),
    [
        ("20L", "°C", "'20L' is not in °C: write a number alone, or with °C or F behind it"),
        ("12 kg", "L", "'12 kg' is not in L"),
        ("warm", "°C", "'warm' is no number: write a number alone, or with °C or F behind it"),
        ("", "L", "'' is no number: write"),
        ("1,400", "mS/cm", "can be read in two ways: write 1400 or 1.400"),
        ("1200ppm", "mS/cm", "write ppm500, ppm640 or ppm700"),
        ("5cm", "", "'5cm' has a unit: write a number alone"),
        ("700mg/L", "mS/cm", "or scale=500 as well"),
        ("700ppm5", "mS/cm", "the ppm scale is 5: it is 500, 640 or 700"),
        ("9" * 400 + "x", "L", "'" + "9" * 40 + "…' is too large"),
        ("1\x1b[2J", "L", "'1\\x1b[2J' is not in L"),
        ("1e300", "L", "too large"),
        ("5 __import__('os')", "L", "is not in L"),
        ("5 **9", "L", "is not in L"),
        ("nan", "L", "is no number"),
        ("inf", "L", "is no number"),
    ],
)
def test_what_cannot_be_read_is_said_in_one_line(typed: str, unit: str, says: str) -> None:
    """A unit of another kind, a doubtful comma or no number at all: one sentence, and what would be right."""
    with pytest.raises(ValueError, match=r".") as refused:
        number(typed, unit)
    assert says in str(refused.value)
    assert "\n" not in str(refused.value)


@settings(max_examples=60, deadline=None)
@given(text=st.text(max_size=20), unit=st.sampled_from(["°C", "L", "mS/cm", "lx", "", "mg/L CaCO3"]))
def test_no_text_breaks_it(text: str, unit: str) -> None:
    """Whatever is typed, a number comes back or one ValueError."""
    with suppress(ValueError):
        assert isinstance(number(text, unit), float)


@pytest.mark.parametrize(
    ("typed", "expected"),
    [("700ppm", "700ppm500"), ("700 ppm", "700ppm500"), ("700tds", "700ppm500"), ("700mg/L", "700ppm500"),
     ("1.4", "1.4"), ("1.4mS/cm", "1.4mS/cm"), ("980ppm700", "980ppm700"), ("", "")],
)  # fmt: skip
def test_a_scale_goes_behind_bare_ppm_alone(typed: str, expected: str) -> None:
    """What is in another unit, or has its scale already, stays as it is."""
    assert on_scale(typed, 500) == expected


@pytest.mark.parametrize(
    ("value", "unit", "ends", "expected"),
    [
        (1013, "kPa", (50, 110), ("1013hPa",)),
        (760, "kPa", (50, 110), ("760hPa", "760mmHg")),
        (75, "°C", (0, 50), ("75F",)),
        (1400, "mS/cm", (0, 50), ("1400uS/cm",)),
        (5000, "°C", (0, 50), ()),
        (300, "%", (0, 100), ()),
    ],
)
def test_a_number_far_off_may_have_been_meant_in_another_unit(
    value: float, unit: str, ends: tuple[float, float], expected: tuple[str, ...]
) -> None:
    """Only units in which it would lie in the range are offered."""
    assert perhaps(value, unit, *ends) == expected


def test_the_usual_units_do_without_the_library() -> None:
    """Metric and the US units that rooms use are turned without loading pint, which takes a while."""
    program = (
        "import sys; from walkabout.reckon.units import number as n;"
        "n('75F','°C'), n('20gal','L'), n('1400uS/cm','mS/cm'), n('20klx','lx'), n('3 in','cm');"
        "sys.exit('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
