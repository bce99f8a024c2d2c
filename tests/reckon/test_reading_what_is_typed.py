"""From key=value words to what a reckoning takes."""

from datetime import date

import pytest

from walkabout.reckon.model import Field, Open, Reckoned, Reckoning, Result
from walkabout.reckon.read import reckon, split, take
from walkabout.reckon.typed_day import day

SALTS = {"kno3": "potassium-nitrate"}


def _salt(typed: str) -> str:
    if typed.casefold() in SALTS:
        return SALTS[typed.casefold()]
    raise ValueError(f"there is no salt '{typed}'")


def _work(**given: object) -> Reckoned:
    return Reckoned(results={key: Result(repr(value)) for key, value in given.items()}, working=(), source="none")


TRIAL = Reckoning(
    name="trial",
    subject="water",
    title="A trial",
    about="For the tests.",
    fields=(
        Field(key="volume", says="litres in the tank", unit="L", low=0, others=("tank",)),
        Field(key="from", says="where it starts", needed=False),
        Field(key="lamp", says="the lamp", kind="word", words=("cool-white", "sun"), default="sun"),
        Field(key="days", says="litres each day", kind="numbers", unit="L", needed=False),
        Field(key="on", says="the day", kind="day", needed=False),
        Field(key="strength", says="strength", unit="mol/L", needed=False),
        Field(key="percent", says="share", unit="%", low=0, high=100, needed=False),
        Field(key="to", says="strength wanted", unit="mol/L", needed=False),
        Field(key="rh", says="humidity", kind="numbers", unit="%", low=0, high=100, needed=False),
        Field(key="pressure", says="pressure", unit="kPa", low=50, high=110, needed=False),
        Field(key="ec", says="EC", unit="mS/cm", low=0, high=50, needed=False),
        Field(key="crop", says="crop", kind="text", needed=False),
        Field(key="crops", says="crops", kind="words", needed=False),
    ),
    work=_work,
    example="volume=60",
    open=Open(says="salts with their grams", unit="g", find=_salt),
)


def results(*words: str) -> dict[str, str]:
    return {name: str(one.value) for name, one in reckon(TRIAL, take(TRIAL, split(words))).results.items()}


def test_every_kind_of_value_arrives_as_its_function_takes_it() -> None:
    """Numbers as float, lists as tuple, words as listed, days as dates; what is not given is None or the default."""
    found = results("tank=20gal", "from=3", "lamp=Cool_White", "days=1;2,5", "on=2026-12-18", "KNO3=12")
    assert found["volume"] == repr(20 * 3.785411784)
    assert found["from_"] == "3.0"
    assert found["lamp"] == "'cool-white'"
    assert found["days"] == "(1.0, 2.5)"
    assert found["on"] == repr(date(2026, 12, 18))
    assert found["amounts"] == "{'potassium-nitrate': 12.0}"
    assert found["percent"] == "None"
    assert results("volume=1")["lamp"] == "'sun'"


def test_lists_are_parted_by_commas_or_semicolons() -> None:
    """'1,2,3' is three numbers, and so is '1; 2; 3'."""
    assert results("volume=1", "days=1,2,3")["days"] == results("volume=1", "days=1; 2; 3")["days"] == "(1.0, 2.0, 3.0)"


@pytest.mark.parametrize(("typed", "expected"), [("0.65%", 0.65), ("0", 0.0), ("1", 1.0), ("65", 65.0), ("65%", 65.0)])
def test_a_humidity_that_can_be_meant_is_taken(typed: str, expected: float) -> None:
    """Only a bare number between 0 and 1 is asked about; with its unit behind it it is what it says."""
    assert results("volume=1", f"rh={typed}")["rh"] == repr((expected,))


@pytest.mark.parametrize(
    ("words", "ec"),
    [
        (("ec=700ppm", "scale=500"), 1.4),
        (("ec=900 ppm", "scale=0.5"), 1.8),
        (("scale=ppm700", "ec=980ppm"), 1.4),
        (("ec=980 TDS", "scale=700ppm"), 1.4),
    ],
)
def test_ppm_is_read_with_the_scale_given_beside_it(words: tuple[str, ...], ec: float) -> None:
    """Also where the reckoning itself asks for no scale."""
    assert float(results("volume=1", *words)["ec"]) == pytest.approx(ec)


def test_a_scale_of_ones_own_is_not_the_meters() -> None:
    """Where 'scale' is another name for something else, it stays that."""
    fields = (
        Field(key="ec", says="EC", unit="mS/cm", needed=False),
        Field(key="strength", says="times", low=0.01, high=4, others=("scale",)),
    )
    recipe = Reckoning(
        name="recipe", subject="solution", title="A", about="B.", fields=fields, work=_work, example="scale=1"
    )
    assert dict(take(recipe, {"scale": "0.5", "ec": "1"}).values) == {"strength": 0.5, "ec": 1.0}


def test_long_rows_of_readings_are_read() -> None:
    """A year of daily readings is no mistake."""
    typed = ",".join(["21.5"] * 366)
    assert results("volume=1", f"days={typed}")["days"] == repr((21.5,) * 366)


@pytest.mark.parametrize(
    "typed",
    ["2026-06-19", "19/06/2026", "19.6.2026", "6/19/2026", "2026/06/19", "19 June 2026", "19 Jun 2026", "June 19, 2026",
     "19th of June 2026", "19-Jun-2026", "  19  june  2026 ", "20260619"],
)  # fmt: skip
def test_a_day_is_read_in_every_clear_way_of_writing_it(typed: str) -> None:
    """With the month as a word, or as a number that can be no day."""
    assert day(typed) == date(2026, 6, 19)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("05/06/2026", "'05/06/2026' can be read in two ways: write 2026-05-06 or 2026-06-05"),
        ("5.6.2026", "write 2026-05-06 or 2026-06-05"),
        ("31/02/2026", "is no day"),
        ("31 June 2026", "is no day"),
        ("19 June", "'19 June' has no year: write it as 2026-12-18"),
        ("19/06/26", "is no day"),
        ("19 Ju 2026", "is no day"),
        ("tomorrow", "is no day"),
        ("June 2026", "is no day"),
        ("0000-01-01", "is no day"),
    ],
)
def test_a_day_that_is_not_clear_is_refused(typed: str, says: str) -> None:
    """Both readings are named; nothing is guessed."""
    with pytest.raises(ValueError, match=r".") as refused:
        day(typed)
    assert says in str(refused.value)


def test_the_same_day_twice_over_is_clear() -> None:
    """05/05/2026 has one reading."""
    assert day("05/05/2026") == date(2026, 5, 5)


def test_an_acids_strength_goes_to_the_field_of_its_unit() -> None:
    """A strength in % is the other field's: 'strength=60%' means percent=60."""
    found = results("volume=1", "strength=60%")
    assert (found["strength"], found["percent"]) == ("None", "60.0")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("volume",), "'volume' is not written as key=value"),
        (("volume=1", "volume=2"), "'volume' is given twice"),
        (("volume=1", "tank=2"), "'volume' is given twice"),
        (("volume=-1",), "volume: −1 L is too low: it must be at least 0 L (litres in the tank)"),
        (("volume=",), "volume has no value"),
        (("lamp=sun",), "trial needs volume (litres in the tank). Example: trial volume=60"),
        (("volume=1", "lamp=son"), "did you mean sun?"),
        (("volume=1", "lamp=zebra"), "it is one of cool-white, sun"),
        (("volume=1", "on=31.11.2026"), "'31.11.2026' is no day: write it as 2026-12-18"),
        (("volume=1", "percent=140"), "at most 100 %"),
        (("volume=1", "unobtainium=3"), "there is no salt 'unobtainium'"),
        (("volume=1", "KNO3=-3"), "potassium-nitrate: −3 g is too low: it must be at least 0 g"),
        (("volume=1", "KNO3="), "potassium-nitrate has no value: write it behind the equals sign"),
        (("volume=1", "percent=200"), "percent: 200 % is too high: it must be at most 100 % (share)"),
        (("volume=1e-300", "percent=-2e300"), "'-2e300' is too large"),
        (("volume=1", "rh=0.65"), "rh: that is 0.65 %: write 65, not 0.65"),
        (("volume=1", "rh=80;0.7"), "write 70, not 0.7"),
        (("volume=1", "pressure=1013"), "at most 110 kPa. For another unit, write 1013hPa"),
        (("volume=1", "lamp=so\nn"), "there is no 'so n' here"),
        (("volume=1", "lamp=" + "z" * 10_000), "there is no '" + "z" * 40 + "…' here"),
        (("volume=1", "lamp=\x1b[31m"), "there is no '\\x1b[31m' here"),
        (("volume=1", "crop=" + "z" * 10_000), "crop: '" + "z" * 40 + "…' cannot be read"),
        (("volume=1", "crops=basil," + "z" * 10_000), "crops: '" + "z" * 40 + "…' cannot be read"),
        (("volume=1", "z" * 10_000 + "=1"), "trial takes no '" + "z" * 40 + "…'"),
        (("volume=1", "to=5%"), "to: '5%' is not in mol/L"),
        (("volume=1", "ec=700ppm"), "ec: '700ppm' is not clear"),
        (("volume=1", "ec=1.4", "scale=500"), "scale goes with an EC in ppm"),
        (("volume=1", "ec=700ppm", "scale=9999"), "scale: 9999 ppm per mS/cm is too high"),
        (("volume=1", "KNO3=3", "kno3=4"), "'potassium-nitrate' is given twice"),
    ],
)
def test_mistakes_are_said_in_one_line(words: tuple[str, ...], says: str) -> None:
    """Each names the key and says what would be right."""
    with pytest.raises(ValueError, match=r".") as refused:
        take(TRIAL, split(words))
    assert says in str(refused.value)
    assert "\n" not in str(refused.value)


def test_a_key_that_is_not_taken_is_answered_with_the_nearest() -> None:
    """Without open keys an unknown one names the nearest or all."""
    closed = Reckoning(**{name: getattr(TRIAL, name) for name in TRIAL.__struct_fields__ if name != "open"})
    with pytest.raises(ValueError, match="did you mean volume"):
        take(closed, {"volum": "3"})
    with pytest.raises(ValueError, match="it takes volume, from"):
        take(closed, {"zzz": "3"})
