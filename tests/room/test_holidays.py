"""Public holidays as closures."""

import sys
from datetime import date

import pytest

from walkabout.room.holidays import NOT_INSTALLED, public_holidays
from walkabout.room.model import Closure, Room

ROOM = Room(name="Fernhollow")


def test_holidays_of_a_country() -> None:
    """Each is a closure of one day on which somebody would have walked; weekends are left out."""
    found = public_holidays("DE", [2027], ROOM)

    assert Closure(first=date(2027, 3, 26), last=date(2027, 3, 26), name="Good Friday") in found
    assert all(one.first == one.last and one.first.weekday() < 5 for one in found)
    # 3 October, 25 and 26 December 2027 are at weekends
    assert {date(2027, 10, 3), date(2027, 12, 25), date(2027, 12, 26)}.isdisjoint(one.first for one in found)


def test_a_region_has_its_own_days() -> None:
    """Epiphany is kept in the south, and small letters will do."""
    whole = {one.first for one in public_holidays("DE", [2027], ROOM)}
    south = {one.first for one in public_holidays(" de-by ", [2027], ROOM)}

    assert south - whole >= {date(2027, 1, 6)}
    assert whole <= south


def test_only_days_on_which_somebody_walks() -> None:
    """A room that is walked at weekends has those too, and what is closed already is not closed again."""
    weekends = Room(name="Fernhollow", days=("sat", "sun"))
    closed = Room(name="Fernhollow", closures=(Closure(first=date(2027, 3, 25), last=date(2027, 4, 5)),))

    assert [one.first for one in public_holidays("DE", [2027], weekends)] == [
        date(2027, 5, 1),
        date(2027, 10, 3),
        date(2027, 12, 25),
        date(2027, 12, 26),
    ]
    assert date(2027, 3, 26) not in {one.first for one in public_holidays("DE", [2027], closed)}


def test_only_the_years_asked_for() -> None:
    """Two years give both, in order, and nothing of a neighbouring one."""
    found = public_holidays("US", [2022, 2021], ROOM)

    assert {one.first.year for one in found} == {2021, 2022}
    assert list(found) == sorted(found, key=lambda one: one.first)


@pytest.mark.parametrize(
    ("place", "year", "says"),
    [
        ("XX", 2027, 'No country is known by the letters "XX"'),
        ("", 2027, "No country is known"),
        ("DE-ZZ", 2027, 'DE has no region "ZZ"'),
        ("MT-1", 2027, 'MT has no region "1"'),
        ("DE", 1, "1 cannot be meant"),
        ("DE", 9999, "9999 cannot be meant"),
    ],
)
def test_places_and_years_that_are_not_known(place: str, year: int, says: str) -> None:
    """What cannot be is said in one line, with what would be right."""
    with pytest.raises(ValueError, match=r"known|region|meant") as error:
        public_holidays(place, [year], ROOM)
    assert says in str(error.value)
    assert "\n" not in str(error.value)


def test_without_the_library_it_says_how_to_install_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """One sentence with the command, no traceback."""
    monkeypatch.setitem(sys.modules, "holidays", None)
    with pytest.raises(ValueError, match="pip install") as error:
        public_holidays("DE", [2027], ROOM)
    assert str(error.value) == NOT_INSTALLED
