"""Every reckoning by its name: the table is true, every example works, every title fits."""

import importlib
import pkgutil
import shlex

import pytest

import walkabout.reckon
from walkabout.reckon.catalogue import MODULES, every, find
from walkabout.reckon.model import SUBJECTS, Reckoning
from walkabout.reckon.read import reckon, split, take
from walkabout.round.starts import STARTS

ALL = list(every())
TITLE = 25
"""What the list on the screen has room for."""


def test_the_table_is_true() -> None:
    """Each module with reckonings stands in it, with all their names and no others; no name stands twice."""
    found = {}
    for module in pkgutil.iter_modules(walkabout.reckon.__path__):
        reckonings = getattr(importlib.import_module(f"walkabout.reckon.{module.name}"), "RECKONINGS", ())
        if reckonings:
            found[module.name] = tuple(name for one in reckonings for name in (one.name, *one.others))
    assert found == dict(MODULES)
    names = [name for row in MODULES.values() for name in row]
    assert sorted(set(names)) == sorted(names)


def test_every_subject_has_some() -> None:
    """Light, air, solution, water and growth."""
    assert {one.subject for one in ALL} == set(SUBJECTS)
    assert len(ALL) >= 60


@pytest.mark.parametrize("name", ["", "no-such-thing", "../../etc/passwd", "dli; rm"])
def test_an_unknown_name_is_answered_in_one_line(name: str) -> None:
    """And with where to look."""
    with pytest.raises(ValueError, match=r"walkabout reckon|Did you mean"):
        find(name)


def test_the_nearest_name_is_offered() -> None:
    """A slip of the hand is met with what was meant."""
    with pytest.raises(ValueError, match="Did you mean dew-point"):
        find("dew-pint")


@pytest.mark.parametrize("one", ALL, ids=[one.name for one in ALL])
def test_it_explains_itself(one: Reckoning) -> None:
    """The example works and gives numbers with working and source; what it takes is said in plain words."""
    assert len(one.title) <= TITLE, one.title
    assert one.about.endswith(".")
    assert len(one.about) <= 160
    reckoned = reckon(one, take(one, split(shlex.split(one.example))))
    assert reckoned.results
    assert reckoned.source
    assert reckoned.says or reckoned.results
    assert all(result.value == result.value for result in reckoned.results.values()), "nan"
    for line in (*reckoned.working, *reckoned.says, *reckoned.cautions):
        assert "\n" not in line
        assert "--" not in line
    assert max(map(len, reckoned.working), default=0) <= 110
    for name, result in reckoned.results.items():
        words = name.split("_")
        assert result.says or all(len(word) >= 4 and word.isalpha() for word in words), f"{name} needs words"
    keys = [key for field in one.fields for key in (field.key, *field.others)]
    assert sorted(set(keys)) == sorted(keys), "a key stands for two fields"
    for field in one.fields:
        assert field.says.strip()
        assert field.starts in STARTS | {""}, f"{field.key} starts from {field.starts!r}, which nobody knows"
