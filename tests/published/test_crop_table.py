"""The crop table held against published tables, and against itself.

How each figure below is known stands beside it: `published` (seen at the source or in a page that quotes
it), `from memory` (the source is named, the figure was not read again), `common practice`.
"""

import pytest

from walkabout.growing.crops import Figure, Range, load

CROPS = load()
EACH = pytest.mark.parametrize("crop", CROPS, ids=[crop.key for crop in CROPS])


def f(fahrenheit: float) -> float:
    """°F to °C, as the definition of the scale has it."""
    return (fahrenheit - 32) * 5 / 9


# Singh and Dunn, Oklahoma State University Extension HLA-6722, table 2: EC in mS/cm, pH. From memory.
OKLAHOMA = [
    ("african-violet", 1.2, 1.5, 6.0, 7.0),
    ("basil", 1.0, 1.6, 5.5, 6.0),
    ("bean", 2.0, 4.0, 6.0, 6.0),
    ("broccoli", 2.8, 3.5, 6.0, 6.8),
    ("cabbage", 2.5, 3.0, 6.5, 7.0),
    ("celery", 1.8, 2.4, 6.5, 6.5),
    ("courgette", 1.8, 2.4, 6.0, 6.0),
    ("cucumber", 1.7, 2.0, 5.0, 5.5),
    ("aubergine", 2.5, 3.5, 6.0, 6.0),
    ("ficus", 1.6, 2.4, 5.5, 6.0),
    ("leek", 1.4, 1.8, 6.5, 7.0),
    ("lettuce", 1.2, 1.8, 6.0, 7.0),
    ("okra", 2.0, 2.4, 6.5, 6.5),
    ("pak-choi", 1.5, 2.0, 7.0, 7.0),
    ("parsley", 1.8, 2.2, 6.0, 6.5),
    ("pepper", 0.8, 1.8, 5.5, 6.0),
    ("sage", 1.0, 1.6, 5.5, 6.5),
    ("spinach", 1.8, 2.3, 6.0, 7.0),
    ("strawberry", 1.8, 2.2, 6.0, 6.0),
    ("tomato", 2.0, 4.0, 6.0, 6.5),
]

# Quick-reference charts of the trade; no extension source found. Common practice.
TRADE = [
    ("chard", 1.8, 2.3, 6.0, 7.0),
    ("chives", 1.8, 2.4, 6.0, 6.5),
    ("coriander", 1.2, 1.8, 5.8, 6.4),
    ("dill", 1.0, 1.6, 5.5, 6.4),
    ("kale", 1.8, 3.0, 5.5, 6.5),
    ("mint", 2.0, 2.4, 5.5, 6.0),
    ("oregano", 1.6, 2.0, 6.0, 6.5),
    ("pea", 0.8, 1.8, 6.0, 7.0),
    ("radish", 1.6, 2.2, 6.0, 7.0),
    ("rosemary", 1.0, 1.6, 5.5, 6.0),
    ("thyme", 0.8, 1.6, 5.5, 7.0),
    ("watercress", 0.4, 1.8, 6.5, 6.8),
    ("radish-microgreens", 0.5, 1.0, 5.5, 6.5),
]


@pytest.mark.parametrize(
    ("key", "ec_low", "ec_high", "ph_low", "ph_high", "known"),
    [(*row, "from memory") for row in OKLAHOMA] + [(*row, "common practice") for row in TRADE],
)
def test_solution_bands(key, ec_low, ec_high, ph_low, ph_high, known):
    """EC and pH are the followed table's, and the table says how they are known."""
    crop = CROPS.of[key]
    assert (crop.ec.low, crop.ec.high, crop.ph.low, crop.ph.high) == (ec_low, ec_high, ph_low, ph_high)
    assert {CROPS.sources[value.source].known for value in (crop.ec, crop.ph)} == {known}


@pytest.mark.parametrize(
    ("key", "ec", "ph", "verdict"),
    [
        ("lettuce", 1.5, 6.2, ("good", "good")),
        ("lettuce", 2.1, 5.8, ("high", "low")),
        ("basil", 0.9, 5.7, ("low", "good")),
        ("tomato", 2.0, 6.5, ("good", "good")),
        ("cucumber", 1.8, 6.1, ("good", "high")),
        ("spinach", 2.4, 7.2, ("high", "high")),
        ("pepper", 1.8, 5.5, ("good", "good")),
        ("mint", 1.9, 6.0, ("low", "good")),
    ],
)
def test_readings_against_the_bands(key, ec, ph, verdict):
    """A reading is good, low or high as the bands above have it; the ends count as inside."""

    def says(value: float, band: Range) -> str:
        return "good" if band.hold(value) else "low" if value < band.low else "high"

    crop = CROPS.of[key]
    assert (says(ec, crop.ec), says(ph, crop.ph)) == verdict


# Harrington and Minges 1954, printed in Knott's Handbook for Vegetable Growers: days to emergence at 25
# and at 20 °C. Published; None where the printed cell was not read.
KNOTT = [
    ("lettuce", 2, 3),
    ("tomato", 6, None),
    ("cucumber", None, 6),
    ("pepper", 8, 13),
    ("bean", None, 11),
    ("pea", 6, 8),
    ("radish", 4, 4),
    ("spinach", 5, 6),
    ("spring-onion", 4, 5),
    ("turnip", 1, 2),
    ("parsley", 13, 14),
]


@pytest.mark.parametrize(("key", "warm", "cool"), KNOTT)
def test_days_to_emergence(key, warm, cool):
    """The range runs from the printed days at 25 °C to those at 20 °C."""
    emerge = CROPS.of[key].emerge
    assert warm is None or emerge.low == warm
    assert cool is None or emerge.high == cool


@pytest.mark.parametrize(
    ("key", "at_15", "at_25"),
    [("tomato", 14, 6)],
)
def test_a_cell_between_two_printed_ones(key, at_15, at_25):
    """Days at 20 °C lie where the rate of emergence, 1/days, is midway between its neighbours."""
    rate = (1 / at_15 + 1 / at_25) / 2
    assert CROPS.of[key].emerge.high == pytest.approx(1 / rate, abs=1)


# Mid-Atlantic Commercial Vegetable Production Recommendations, Table A-4, through the University of
# Delaware's Weekly Crop Update: weeks to transplant. Published.
@pytest.mark.parametrize(
    ("key", "weeks"),
    [
        ("tomato", (5, 6)),
        ("pepper", (7, 9)),
        ("aubergine", (6, 9)),
        ("cucumber", (2, 4)),
        ("courgette", (2, 4)),
        ("broccoli", (4, 7)),
    ],
)
def test_weeks_to_transplant(key, weeks):
    """Days to move on are the printed weeks times seven."""
    move_on = CROPS.of[key].move_on
    assert (move_on.low, move_on.high) == (7 * weeks[0], 7 * weeks[1])


# The same table: day temperatures and the lowest night, °F. Published; half a degree for rounding.
@pytest.mark.parametrize(
    ("key", "day_low", "day_high", "lowest_night"),
    [
        ("pepper", 70, 75, 60),
        ("aubergine", 70, 85, 65),
        ("courgette", 70, 75, 65),
        ("broccoli", 65, 70, 60),
    ],
)
def test_temperatures_for_transplants(key, day_low, day_high, lowest_night):
    """Day and night are the printed degrees Fahrenheit, turned into Celsius."""
    crop = CROPS.of[key]
    assert (crop.day.low, crop.day.high) == pytest.approx((f(day_low), f(day_high)), abs=0.5)
    assert crop.night.low == pytest.approx(f(lowest_night), abs=0.5)


SINGLE = [
    # Brechner and Both, Cornell Hydroponic Lettuce Handbook, through pages that quote it. Published.
    ("raft-lettuce", "day", "high", 24),
    ("raft-lettuce", "day", "low", 19),
    ("raft-lettuce", "humidity", "low", 50),
    ("raft-lettuce", "humidity", "high", 70),
    ("raft-lettuce", "light", "high", 17),
    ("raft-lettuce", "hours", "high", 24),
    ("raft-lettuce", "move_on", "low", 11),
    ("raft-lettuce", "harvest", "low", 35),
    # The same handbook, its title seen. From memory.
    ("raft-lettuce", "ec", "low", 1.15),
    ("raft-lettuce", "ec", "high", 1.25),
    ("raft-lettuce", "ph", "low", 5.6),
    ("raft-lettuce", "ph", "high", 6.0),
    # Palmer and van Iersel 2020, Agronomy 10(11):1659: days from seed, hours, light. Published.
    ("lettuce", "harvest", "low", 41),
    ("mizuna", "harvest", "low", 30),
    ("mizuna", "hours", "low", 10),
    ("mizuna", "hours", "high", 20),
    ("mizuna", "light", "high", 16),
    # Kohler and Runkle 2024, HortScience 59(7):903: 12 and 18 mol/m²/d. Published.
    ("lettuce", "light", "low", 12),
    ("lettuce", "light", "high", 18),
    # University of Massachusetts Greenhouse Update, 19 March 2021: 55 °F, given as 13 °C. Published.
    ("basil", "chill", "value", 13),
    # Dou and others 2018, HortScience 53(4):496. Published.
    ("basil", "light", "low", 9.3),
    ("basil", "light", "high", 17.8),
    # Walters and Currey 2015, HortTechnology 25(5):645: 2 to 3 weeks, then 3 weeks. Published.
    ("basil", "move_on", "low", 14),
    ("basil", "move_on", "high", 21),
    ("basil", "harvest", "low", 35),
    ("basil", "harvest", "high", 42),
    # Plants 2024, 13(5):652: leafy greens and herbs indoors, 12 or more. Published.
    ("kale", "light", "low", 12),
    ("parsley", "light", "low", 12),
    # University of Florida advice as reported: fruiting vegetables. Published, second-hand.
    ("tomato", "light", "low", 20),
    ("tomato", "light", "high", 25),
    # University of Arizona, as quoted. Published.
    ("tomato", "day", "low", 21),
    ("tomato", "day", "high", 26),
    ("tomato", "night", "low", 16),
    ("tomato", "night", "high", 18),
    # Iowa State University: flowers fail to set above it by day. Published.
    ("tomato", "heat", "value", 29),
    # Agronomy 2022, 12(7):1704. Published.
    ("dwarf-tomato", "light", "low", 10.4),
    ("dwarf-tomato", "light", "high", 18.4),
    # Snyder, Mississippi State University Publication 1828. From memory.
    ("tomato", "water_young", "value", 0.05),
    ("tomato", "water_mature", "value", 1.9),
    # University of Florida HS790: 80 to 85 °F. Published.
    ("cucumber", "day", "high", 29),
    # Ohio State University berry site. Published.
    ("strawberry", "day", "low", 20),
    ("strawberry", "day", "high", 24),
    ("strawberry", "night", "low", 10),
    ("strawberry", "night", "high", 12),
    ("strawberry", "light", "high", 25),
    # Cornell trial in a trade magazine. Published.
    ("cress", "light", "low", 3),
    ("cress", "light", "high", 12),
    # University of Massachusetts Greenhouse Update, 24 March 2023: potting mix. Published.
    ("petunia", "ph", "low", 5.4),
    ("petunia", "ph", "high", 6.2),
    ("pansy", "ph", "high", 6.2),
    ("busy-lizzie", "ph", "low", 6.0),
    ("busy-lizzie", "ph", "high", 6.4),
    ("marigold", "ph", "low", 6.0),
    ("geranium", "ph", "high", 6.6),
    # Iowa State University Extension, germination requirements, 2023. Published.
    ("busy-lizzie", "emerge", "low", 10),
    ("busy-lizzie", "emerge", "high", 14),
    # North Carolina State University, Temperature for Houseplants. Published.
    ("pothos", "day", "low", 21),
    ("pothos", "day", "high", 27),
    ("peace-lily", "night", "low", 16),
    ("peace-lily", "night", "high", 20),
    # Lecture on low temperature and indoor plants: leaves drop below it. Published.
    ("ficus", "chill", "value", 12),
    # Classroom literature on rapid-cycling Brassica rapa. Published.
    ("rapid-brassica", "day", "low", 24),
    ("rapid-brassica", "day", "high", 26),
    ("rapid-brassica", "hours", "low", 24),
    ("rapid-brassica", "harvest", "low", 14),
    ("rapid-brassica", "seed", "low", 35),
    ("rapid-brassica", "seed", "high", 45),
    # Base temperatures: Peet's appendix 2 (40, 40, 50 °F); Perry and Wehner 1996 (60 °F). Published.
    ("pea", "base", "value", 4.4),
    ("turnip", "base", "value", 4.4),
    ("bean", "base", "value", 10),
    ("cucumber", "base", "value", 15.5),
]


@pytest.mark.parametrize(("key", "value", "end", "expected"), SINGLE)
def test_single_values(key, value, end, expected):
    """Each value is the one its source gives."""
    assert getattr(getattr(CROPS.of[key], value), end) == expected


def test_the_bands_of_the_trial_light():
    """8 mol/m²/d is too little for strawberry, 12 for tomato; 17 is right for lettuce (published)."""
    assert CROPS.of["strawberry"].light.low > 8
    assert CROPS.of["tomato"].light.low > 12
    assert CROPS.of["lettuce"].light.hold(17)


def test_water_of_a_vine_by_light():
    """A cucumber's litres lie within 150 to 200 mL/m² per 100 J/cm² at 1500 J/cm² and 1.25 plants/m².

    Alberta Agriculture opp4580, published.
    """
    low, high = (mL * 15 / 1000 / 1.25 for mL in (150, 200))
    assert low <= CROPS.of["cucumber"].water_mature.value <= high


@pytest.mark.parametrize(
    ("key", "litres_m2", "plants_m2"),
    # Closed canopy in a growth chamber, life-support baseline values document. From memory.
    [("lettuce", 1.77, 18), ("strawberry", 2.22, 10)],
)
def test_water_of_a_canopy(key, litres_m2, plants_m2):
    """Litres for one plant are the canopy's, shared among the plants, within a fifth."""
    assert CROPS.of[key].water_mature.value == pytest.approx(litres_m2 / plants_m2, rel=0.2)


# ---- The table against itself


def _above(lower: Range | None, higher: Range | None) -> bool:
    return lower is None or higher is None or (lower.low < higher.low and lower.high < higher.high)


@EACH
def test_every_value_is_whole(crop):
    """Low is not above high, and the source of each value is in the table of sources."""
    seen = 0
    for _, value in crop.values():
        seen += 1
        assert value.source in CROPS.sources
        if isinstance(value, Range):
            assert value.low <= value.high
    assert seen >= 4


@EACH
def test_temperatures_stand_in_order(crop):
    """Chill is below night and day, day below heat, night not warmer than day; all of this world."""
    assert -10 <= crop.chill.value < crop.day.low
    assert crop.day.high < crop.heat.value <= 45
    assert crop.chill.value < crop.night.low
    assert crop.night.low <= crop.day.low
    assert crop.night.high <= crop.day.high
    assert crop.solution is None or 5 <= crop.solution.low <= crop.solution.high <= 28


@EACH
def test_days_stand_in_order(crop):
    """It shows before it is moved on, is moved on before the harvest, and flowers before it seeds."""
    assert _above(crop.emerge, crop.move_on)
    assert _above(crop.move_on, crop.harvest)
    assert _above(crop.emerge, crop.harvest)
    assert _above(crop.harvest, crop.seed)
    if crop.move_on and crop.harvest:
        assert crop.move_on.high < crop.harvest.low


@EACH
def test_solution_air_and_light_are_of_this_world(crop):
    """The pH lies in 4 to 8, EC in 0.2 to 5, humidity in 10 to 95 %, light in 1 to 30 mol/m²/d."""
    assert crop.ph is None or 4 <= crop.ph.low <= crop.ph.high <= 8
    assert crop.ec is None or 0.2 <= crop.ec.low <= crop.ec.high <= 5
    assert 10 <= crop.humidity.low < crop.humidity.high <= 95
    assert 1 <= crop.light.low < crop.light.high <= 30
    assert crop.hours is None or 8 <= crop.hours.low <= crop.hours.high <= 24
    assert 0 < crop.spacing.value <= 100


@EACH
def test_a_plant_grown_drinks_more_than_a_young_one(crop):
    """Water rises with age and is of the size of a plant."""
    young, mature = crop.water_young, crop.water_mature
    assert mature is None or 0 < mature.value <= 3
    assert young is None or 0 < young.value < mature.value


@EACH
def test_food_has_its_days(crop):
    """What is eaten says when it shows and when it is ready."""
    if crop.eaten:
        assert crop.emerge is not None
        assert crop.harvest is not None
    elif crop.group == "foliage":
        assert crop.harvest is None


@EACH
def test_light_can_be_given_in_its_hours(crop):
    """The most light in the hours given needs no more than 600 µmol/m²/s of a lamp."""
    if crop.hours:
        assert crop.light.high / (0.0036 * crop.hours.high) <= 600


@EACH
def test_words_are_short_and_plain(crop):
    """Names are there, a caution is one line, and notes end without a full stop of their own."""
    assert crop.key == crop.key.lower()
    assert " " not in crop.key
    assert crop.name
    assert crop.botanical
    assert len(crop.caution) <= 110
    assert "!" not in crop.caution + crop.note
    for name, value in crop.values():
        assert not value.note.endswith("."), name


@pytest.mark.parametrize(
    ("key", "word"),
    [
        ("pothos", "xalate"),
        ("dumb-cane", "xalate"),
        ("peace-lily", "xalate"),
        ("barrel-cactus", "Spines"),
        ("crown-of-thorns", "Milky sap"),
        ("ficus", "Milky sap"),
        ("tomato", "leaves"),
        ("aubergine", "leaves"),
        ("bean", "raw"),
        ("broad-bean", "favism"),
        ("chilli", "eyes"),
        ("watercress", "fluke"),
    ],
)
def test_plants_that_can_hurt_say_so(key, word):
    """The usual caution stands beside a plant that can hurt (common practice)."""
    assert word in CROPS.of[key].caution


def test_every_source_is_used_and_says_what_it_is():
    """No source without a value; each has a text that ends."""
    used = {value.source for crop in CROPS for _, value in crop.values()}
    assert used == set(CROPS.sources)
    assert all(len(source.text) > 20 and source.text.endswith(".") for source in CROPS.sources.values())


def test_estimates_are_marked_as_estimates():
    """Water without a published figure says that it is assumed."""
    assumed = [
        crop.key for crop in CROPS if crop.water_mature and CROPS.sources[crop.water_mature.source].known == "assumed"
    ]
    assert "basil" in assumed
    assert "tomato" not in assumed


def test_a_figure_is_one_number_and_a_range_is_two():
    """Both kinds of value are in use."""
    kinds = {type(value) for crop in CROPS for _, value in crop.values()}
    assert kinds == {Figure, Range}
