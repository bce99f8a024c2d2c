"""From key=value words to what a reckoning takes."""

from datetime import date

import pytest

from walkabout.reckon.model import Field, Open, Reckoned, Reckoning, Result
from walkabout.reckon.read import reckon, split, take

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
        (("volume=-1",), "volume: the litres in the tank is −1 L; it must be at least 0 L"),
        (("volume=",), "volume has no value"),
        (("lamp=sun",), "trial needs volume (litres in the tank). Example: trial volume=60"),
        (("volume=1", "lamp=son"), "did you mean sun?"),
        (("volume=1", "lamp=zebra"), "it is one of cool-white, sun"),
        (("volume=1", "on=18.12.2026"), "write it as 2026-12-18"),
        (("volume=1", "percent=140"), "at most 100 %"),
        (("volume=1", "unobtainium=3"), "there is no salt 'unobtainium'"),
        (("volume=1", "KNO3=-3"), "at least 0 g"),
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
