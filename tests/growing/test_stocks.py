"""Stocks: the right tank, what must not meet, what still dissolves."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.growing import recipes, stocks
from walkabout.growing.limits import OutOfRange
from walkabout.growing.salts import load

LETTUCE = recipes.find("lettuce")[0].per_litre()


@pytest.mark.parametrize(
    ("key", "two", "three"),
    [
        ("calcium-nitrate", "A", "A"),
        ("calcium-chloride", "A", "A"),
        ("iron-dtpa", "A", "A"),
        ("potassium-nitrate", "A", "C"),
        ("ammonium-nitrate", "A", "C"),
        ("monopotassium-phosphate", "B", "B"),
        ("magnesium-sulfate", "B", "B"),
        ("potassium-sulfate", "B", "B"),
        ("boric-acid", "B", "B"),
        ("manganese-chloride", "B", "B"),
        ("sodium-molybdate", "B", "B"),
    ],
)
def test_each_salt_has_its_tank(key: str, two: str, three: str) -> None:
    """Calcium and iron go into A, phosphate, sulfate and micronutrients into B, plain potassium into C of three."""
    salt = load().known(key)
    assert (stocks.tank_of(salt, 1), stocks.tank_of(salt, 2), stocks.tank_of(salt, 3)) == ("A", two, three)


@pytest.mark.parametrize(
    ("one", "other", "why"),
    [
        ("calcium-nitrate", "magnesium-sulfate", "gypsum"),
        ("calcium-nitrate-double", "potassium-sulfate", "gypsum"),
        ("monopotassium-phosphate", "calcium-chloride", "calcium phosphate"),
        ("calcium-nitrate", "potassium-bicarbonate", "lime"),
        ("iron-sulfate", "monoammonium-phosphate", "not a chelate"),
        ("magnesium-nitrate", "monopotassium-phosphate", "not acid"),
    ],
)
def test_what_must_not_meet_is_said_with_its_reason(one: str, other: str, why: str) -> None:
    """Each forbidden pair gives its reason, whichever is named first."""
    for pair in ((one, other), (other, one)):
        found = stocks.clash(*(load().known(key) for key in pair))
        assert found is not None
        assert why in found.why


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("calcium-nitrate", "potassium-nitrate"),
        ("calcium-nitrate", "iron-dtpa"),
        ("magnesium-sulfate", "potassium-sulfate"),
        ("boric-acid", "calcium-nitrate"),
    ],
)
def test_what_may_meet_is_left_alone(one: str, other: str) -> None:
    """No warning where there is no danger."""
    assert stocks.clash(load().known(one), load().known(other)) is None


@settings(max_examples=50, deadline=None)
@given(st.sampled_from([one.key for one in recipes.known()]), st.floats(1, 200), st.floats(0.1, 50), st.integers(2, 3))
def test_separate_tanks_keep_calcium_from_sulfate_and_phosphate(
    name: str, factor: float, volume: float, parts: int
) -> None:
    """No recipe in two or three tanks has a certain clash; its grams are g/L × factor × litres."""
    recipe = recipes.find(name)[0]
    each = recipe.per_litre() or recipes.worked_out(recipe.target, 1.0).grams
    made = stocks.stock(each, factor, volume, parts)
    assert not [one for one in made.clashes if one.surely]
    assert not made.gypsum
    assert {part.salt: part.grams for part in made.parts} == pytest.approx(
        {key: mass * factor * volume for key, mass in each.items()}
    )


def test_one_tank_of_lettuce_drops_gypsum_above_twenty_times() -> None:
    """In one tank the lettuce recipe is safe at 12 times, over the edge at 21 times."""
    weak, strong = (stocks.stock(LETTUCE, factor, 1.0, 1) for factor in (12, 21))
    assert weak.gypsum["A"] < stocks.GYPSUM_SAFE
    assert strong.gypsum["A"] > stocks.GYPSUM_DROPS
    assert 12 < strong.highest < 21


@pytest.mark.parametrize(
    ("key", "per_litre", "fit"),
    [
        ("potassium-nitrate", 140, "dissolves"),
        ("potassium-nitrate", 190, "close"),
        ("potassium-nitrate", 205, "too strong"),
        ("potassium-sulfate", 80, "dissolves"),
        ("potassium-sulfate", 100, "close"),
        ("potassium-sulfate", 120, "too strong"),
        ("boric-acid", 50, "too strong"),
    ],
)
def test_solubility_is_checked_with_a_margin(key: str, per_litre: float, fit: str) -> None:
    """Up to three quarters of the limit dissolves, up to the limit is close; potassium nitrate ends at 200 g/L."""
    assert stocks.fit(load().known(key), per_litre) == fit


def test_margin_covers_a_store_of_10_degrees() -> None:
    """What is called dissolved at 20 °C also dissolves at 10 °C: g/L 10 °C and 20 °C of the reprinted table."""
    for cold, warm in ((170, 209), (180, 230), (90, 111), (295, 374)):
        assert stocks.MARGIN * warm < cold


def test_highest_factor_is_where_the_first_salt_stops_dissolving() -> None:
    """At the highest factor nothing is too strong, a little above it something is."""
    highest = stocks.stock(LETTUCE, 100, 1.0).highest
    below, above = (stocks.stock(LETTUCE, highest * times, 1.0).parts for times in (0.999, 1.001))
    assert not [part for part in below if part.fit == "too strong"]
    assert [part for part in above if part.fit == "too strong"]


@pytest.mark.parametrize(
    ("per_litre", "factor", "volume", "parts", "words"),
    [
        ({"potassium-nitrate": 1}, 0.5, 1, 2, "the factor is 0.5: it must be at least 1"),
        ({"potassium-nitrate": 1}, 100, 0, 2, "the volume is 0 L"),
        ({"potassium-nitrate": 1}, 100, 1, 4, "1, 2 or 3 tanks, not 4"),
        ({"potassium-hydroxide": 1}, 100, 1, 2, "goes into no stock"),
    ],
    ids=["factor", "volume", "tanks", "base"],
)
def test_what_no_stock_can_be_is_refused(
    per_litre: dict[str, float], factor: float, volume: float, parts: int, words: str
) -> None:
    """One sentence says what would be right."""
    with pytest.raises((OutOfRange, ValueError), match=words):
        stocks.stock(per_litre, factor, volume, parts)
