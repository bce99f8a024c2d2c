"""Water held against published figures: oxygen, pressure, alkalinity, water use, limits of source water.

How each row is known stands beside it. Each goes the whole way: as typed, read, worked out.
"""

import json
import shlex
from pathlib import Path

import pytest

from walkabout.growing import oxygen
from walkabout.growing.pressure import SEA_LEVEL
from walkabout.reckon import alkalinity, source_water, tank, tank_level, water, water_use
from walkabout.reckon.read import reckon, split, take

EVERY = {
    one.name: one
    for module in (water, alkalinity, source_water, tank, tank_level, water_use)
    for one in module.RECKONINGS
}


def came_out(typed):
    """Work out what was typed, as the command does."""
    name, *words = shlex.split(typed)
    return reckon(EVERY[name], take(EVERY[name], split(words)))


# Benson and Krause 1980, 1984, as in APHA 4500-O; the figures of their table at one atmosphere, to 0.01 mg/L, which
# is what the table prints. Pressure rows by the same papers' correction; heights by the standard atmosphere, ±0.03
# as the mean pressure of a height is itself only a mean.
OXYGEN = [
    ("oxygen temperature=0", 14.62, 0.01),
    ("oxygen temperature=5", 12.77, 0.01),
    ("oxygen temperature=10", 11.29, 0.01),
    ("oxygen temperature=15", 10.08, 0.01),
    ("oxygen temperature=16 pressure=1atm", 9.87, 0.01),
    ("oxygen temperature=20", 9.09, 0.01),
    ("oxygen temperature=24", 8.42, 0.01),
    ("oxygen temperature=25", 8.26, 0.01),
    ("oxygen temperature=30", 7.56, 0.01),
    ("oxygen temperature=35", 6.95, 0.01),
    ("oxygen temperature=40", 6.41, 0.01),
    ("oxygen temperature=20 pressure=740mmHg", 8.85, 0.01),
    ("oxygen temperature=25 pressure=740mmHg", 8.04, 0.01),
    ("oxygen temperature=20 pressure=700mmHg", 8.36, 0.01),
    ("oxygen temperature=20 altitude=500", 8.55, 0.03),
    ("oxygen temperature=20 altitude=1000", 8.04, 0.03),
    ("oxygen temperature=25 altitude=1500", 6.85, 0.03),
    ("oxygen temperature=68F altitude=2000", 7.09, 0.03),
]


@pytest.mark.parametrize(("typed", "expected", "off"), OXYGEN, ids=[row[0] for row in OXYGEN])
def test_oxygen_saturation(typed, expected, off):
    """Water holds what Benson and Krause measured."""
    assert came_out(typed).results["saturation"].value == pytest.approx(expected, abs=off)


def test_percent_of_saturation():
    """7.2 mg/L at 22 °C is 82.3 % (the same formula; ±0.2)."""
    got = came_out("oxygen temperature=22 reading=7.2").results
    assert got["percent_saturation"].value == pytest.approx(82.3, abs=0.2)
    assert next(iter(got)) == "percent_saturation"


FROZEN = json.loads((Path(__file__).parent / "frozen" / "oxygen.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize(("temperature", "held"), FROZEN["rows"])
def test_against_seawater_library(temperature, held):
    """Within 0.05 % of what gsw gives at salinity 0: two fits to the same measurements."""
    assert oxygen.saturation(temperature, SEA_LEVEL) == pytest.approx(held, rel=5e-4)


# International Standard Atmosphere, ISO 2533; ±0.05 kPa.
PRESSURE = [(0, 101.33), (500, 95.46), (1000, 89.87), (2000, 79.50)]


@pytest.mark.parametrize(("altitude", "expected"), PRESSURE)
def test_pressure_at_altitude(altitude, expected):
    """The mean pressure is that of the standard atmosphere, and FAO's stands beside it."""
    got = came_out(f"pressure altitude={altitude}").results
    assert got["pressure"].value == pytest.approx(expected, abs=0.05)
    assert got["pressure_fao"].value == pytest.approx(expected, rel=0.004)
    assert got["followed"].value == "ISA"


# Molar masses by IUPAC atomic weights; the German degree as 10 mg CaO in a litre, from memory; tolerances of rounding.
UNITS = [
    ("alkalinity amount=150", "meq", 2.997, 0.003),
    ("alkalinity amount=244 from='mg/L HCO3'", "meq", 3.999, 0.003),
    ("alkalinity amount='244 mg/L HCO3'", "meq", 3.999, 0.003),
    ("hardness amount=10 from=dH", "caco3", 178.5, 0.5),
    ("hardness amount=10dGH", "caco3", 178.5, 0.5),
    ("alkalinity amount=10dKH", "caco3", 178.5, 0.5),
    ("alkalinity amount=1 from=meq/L", "caco3", 50.0, 0.1),
    ("alkalinity amount=1meq/L", "hco3", 61.017, 0.01),
    ("hardness amount=15 from=fH", "caco3", 150, 0.01),
    ("hardness amount=1 from=gpg", "caco3", 17.118, 0.01),
    ("hardness amount=1mmol/L", "caco3", 100.09, 0.01),
]


@pytest.mark.parametrize(("typed", "result", "expected", "off"), UNITS, ids=[row[0] for row in UNITS])
def test_units_of_alkalinity_and_hardness(typed, result, expected, off):
    """A unit of a water report turns into another by molar masses."""
    assert came_out(typed).results[result].value == pytest.approx(expected, abs=off)


# J1, J2, J3: arithmetic. J4: Barbosa 2015, 20 L/kg. J6: Langenfeld 2022, 3 g/L. J7, J8: Alberta opp4580. J9: NASA
# figures, from memory. J10: 700 to 800 L/m² a year, Alberta opp4580. J11: table 2 of PMC7885021 (110 days assumed).
USE = [
    ("tank-days plants=36 each=0.1 volume=60 keep=15", "days", 12.5, 1e-9),
    ("tank-days plants=36 each=0.1 volume=60", "days", 12.5, 1e-9),
    ("tank-days plants=4 q=2.0 tank=80 vmin=20", "days", 7.5, 1e-9),
    ("tank-size plants=24 each=0.08 days=7 usable=0.75", "volume", 17.92, 0.05),
    ("tank-size plants=24 each=0.08 days=7 usable=75%", "volume", 17.92, 0.05),
    ("water-for-growth fresh=0.15kg per_kg=20", "water", 3.0, 1e-9),
    ("mean-use litres=3.0 days=35", "mean", 0.0857, 0.0005),
    ("water-for-growth fresh=150 dry=0.05 efficiency=3", "water", 2.5, 1e-9),
    ("water-for-growth fresh=150 dry=5% wue=3", "water", 2.5, 1e-9),
    ("water-by-light radiation=1500 per_100j=150", "per_m2", 2.25, 1e-9),
    ("water-by-light radiation=1500 per_100j=200 plants_m2=1.25", "each", 2.4, 1e-9),
    ("water-use canopy=1.77 plants_m2=18", "each", 0.0983, 0.0005),
    ("water-use crop=lettuce plants_m2=18", "each", 0.0983, 0.0005),
    ("mean-use litres=750 days=365", "mean", 2.055, 0.005),
    ("mean-use litres=48.07 days=110", "mean", 0.437, 0.001),
]


@pytest.mark.parametrize(("typed", "result", "expected", "off"), USE, ids=[row[0] for row in USE])
def test_water_use(typed, result, expected, off):
    """What plants drink, what a tank lasts and how large it has to be."""
    assert came_out(typed).results[result].value == pytest.approx(expected, abs=off)


# Limits: HLA-6722 table 1 and Mattson and Peters (sodium), Mattson and Peters (chloride), Dole (EC, alkalinity).
SOURCE_WATER = [
    ("source-water Na=35 Cl=60 EC=0.45 alkalinity=60", "within all limits", {"na": "in range", "cl": "in range"}),
    ("source-water na=65", "outside", {"na": "high"}),
    ("source-water ec=0.80 use=plugs", "outside", {"ec": "high"}),
    ("source-water ec=0.80 use=pot", "usable", {"ec": "usable"}),
    ("source-water alkalinity=1.0meq/L", "within all limits", {"alkalinity": "in range"}),
    ("source-water cl=100", "outside", {"cl": "high"}),
    ("source-water cl=100 use=open", "within all limits", {"cl": "in range"}),
    ("source-water ph=7 ph_by=Purdue", "within all limits", {"ph": "in range"}),
    ("source-water chlorine=1", "outside", {"chlorine": "high"}),
]


@pytest.mark.parametrize(("typed", "overall", "words"), SOURCE_WATER, ids=[row[0] for row in SOURCE_WATER])
def test_source_water(typed, overall, words):
    """Each figure and the water as a whole are judged by the published limits."""
    got = came_out(typed).results
    assert got["verdict"].value == overall
    assert {key: got[key].value for key in words} == words


def test_alkalinity_of_one_milliequivalent():
    """1 meq/L is 50.0 mg/L of CaCO3, inside 40 to 65 (Dole)."""
    got = came_out("alkalinity amount=1.0 from=meq/L").results
    assert got["caco3"].value == pytest.approx(50.0, abs=0.1)
    assert got["verdict"].value == "in range"


# McGehee and Raudales 2023, HortTechnology 33(1):125-130, abstract seen: shoot mass of raft lettuce.
@pytest.mark.parametrize(("chlorine", "loss"), [(0.5, 30), (1, 55), (1.5, 66), (2, 83), (4, 92)])
def test_chlorine_on_rafts(chlorine, loss):
    """At each dose tried the loss is the published one, and the water is called harmful."""
    got = came_out(f"chlorine chlorine={chlorine} crop='lettuce raft'").results
    assert got["shoot_loss"].value == pytest.approx(loss)
    assert got["verdict"].value == "harmful"


def test_thiosulfate_by_stoichiometry():
    """2 mg/L of chlorine take 1.115 mg/L of thiosulfate; 2.5 mg/L of it cover the 4 mg/L that mains water may have."""
    assert came_out("chlorine chlorine=2").results["thiosulfate"].value == pytest.approx(1.115, abs=0.01)
    assert came_out("chlorine chlorine=1").results["pentahydrate"].value == pytest.approx(0.875, abs=0.001)
    assert came_out("chlorine chlorine=4").results["thiosulfate"].value < 2.5
