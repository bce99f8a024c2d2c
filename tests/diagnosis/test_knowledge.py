"""The knowledge is whole, and what is wrong in a file is said with its line."""

import re
import shutil
from pathlib import Path

import numpy as np
import pytest

from walkabout.diagnosis.evidence import UNLISTED, number, tabulate
from walkabout.diagnosis.knowledge import FOLDER, KINDS, Knowledge, NotUsable, facts, read_knowledge
from walkabout.diagnosis.model import HARMLESS
from walkabout.diagnosis.situation import Answer, Situation
from walkabout.growing.crops import load


@pytest.fixture(scope="module")
def known() -> Knowledge:
    """The shipped knowledge."""
    return read_knowledge()


def test_it_is_wide_enough(known: Knowledge) -> None:
    """At least ninety causes that are ranked and a hundred and ten signs, each class with its own file."""
    assert len(known.causes) >= 90
    assert len(known.signs) >= 110
    assert {cause.kind for cause in known.causes.values()} == set(KINDS) - {"reasons"}


def test_every_sign_belongs_to_a_cause_and_every_step_is_used(known: Knowledge) -> None:
    """A sign that no cause gives could not tell anything; a shared step that none names would never be said."""
    given = {one.sign for cause in (*known.causes.values(), *known.reasons.values()) for one in cause.signs}
    assert sorted(set(known.signs) - given) == []
    used = {step.use for cause in (*known.causes.values(), *known.reasons.values()) for step in cause.do}
    assert (
        sorted(set(known.steps) - used - {"photograph", "wash-hands", "set-apart", "do-not-eat", "hazard-stop"}) == []
    )


def test_every_fact_has_a_source_that_says_how_it_is_known(known: Knowledge) -> None:
    """Each short name leads to a text; most of what is known is published."""
    names = {(cause.kind, name) for cause in known.causes.values() for name in facts(cause)}
    found = [known.source(kind, name) for kind, name in sorted(names)]
    assert all(len(one.text) > 10 for one in found)
    assert sum(one.known == "published" for one in found) > len(found) / 2


def test_no_pupil_is_told_to_do_an_adults_work(known: Knowledge) -> None:
    """Spraying, acid, bleach, alcohol, wiring and lamps are never a pupil's step."""
    adult_work = re.compile(
        r"\b(spray (it|the plant)|fungicide|insecticide|pesticide|sulphur|soap|neem|bleach|acid|alcohol|peroxide|"
        r"open the lamp|wiring|plug in|ladder)\b",
        re.IGNORECASE,
    )
    harmless = re.compile(r"with soap|no |never|without")
    everything = (*known.causes.values(), *known.reasons.values())
    steps = [(cause.key, known.step(step)) for cause in everything for step in cause.do]
    wrong = [
        f"{key}: {step.step}"
        for key, step in steps
        if step.who == "pupil" and adult_work.search(step.step) and not harmless.search(step.step)
    ]
    assert wrong == []


def test_whatever_kills_has_a_caution_and_somebody_who_may(known: Knowledge) -> None:
    """A pesticide step names an adult or a licensed person and warns; none of them is called harmless."""
    steps = [known.step(step) for cause in known.causes.values() for step in cause.do]
    killing = [step for step in steps if step.pesticide]
    assert killing
    assert all(step.who in ("adult", "licensed") and step.caution and not step.harmless for step in killing)


def test_nothing_is_eaten_from_a_plant_with_a_rot_or_a_virus(known: Knowledge) -> None:
    """Rots, viruses and bacteria never say that the plant may simply be eaten."""
    wrong = [
        cause.key
        for cause in known.causes.values()
        if (cause.kind in ("viruses", "bacteria") or "rot" in cause.name.split()) and cause.eat == "yes"
    ]
    assert wrong == []


def test_every_crop_of_the_crop_table_is_known(known: Knowledge) -> None:
    """What can be planted in a room can be looked up."""
    assert sorted(crop.key for crop in load() if crop.key not in known.crops) == []


def test_general_signs_have_signs_to_choose_from(known: Knowledge) -> None:
    """A general answer stands for two signs or more."""
    assert [one.key for one in known.generals.values() if len(one.any) < 2] == []


def test_a_cause_shown_with_its_own_signs_is_found(known: Knowledge) -> None:
    """Given all that a cause always or usually shows, on a crop that it is found on, it stands among the first three.

    This tries the knowledge against itself: two causes that cannot be told apart would fail it.
    """
    table = tabulate(known)
    ranks = {}
    for column, cause in enumerate(known.causes.values()):
        telling = [one.sign for one in cause.signs if one.how in ("always", "usually")]
        if len(telling) < 2:
            telling += [one.sign for one in cause.signs if one.how == "sometimes"][:2]
        crop = next((one for one in cause.crops if one in known.crops), "")
        now = Situation(answers=tuple(Answer(sign=one, by="adult") for one in telling), crop=crop)
        on = number(table, now).solve().on[0, : table.column[UNLISTED]]
        ranks[cause.key] = int((on > on[column]).sum()) + 1
    late = {key: rank for key, rank in ranks.items() if rank > 3}
    assert len(late) <= 0.03 * len(ranks), late
    assert np.mean([rank == 1 for rank in ranks.values()]) > 0.9, {key: rank for key, rank in ranks.items() if rank > 1}


def test_harmless_causes_are_shown_as_harmless(known: Knowledge) -> None:
    """What asks for nothing has no step that could hurt the plant or somebody."""
    wrong = [
        cause.key
        for cause in known.causes.values()
        if cause.kind in HARMLESS and any(known.step(step).pesticide for step in cause.do)
    ]
    assert wrong == []


MISTAKES = [
    (
        "sign = 'white-powder', how = 'always'",
        "sign = 'white-powdr', how = 'always'",
        "no sign is called 'white-powdr'",
    ),
    ("how = 'always'", "how = 'allways'", "Invalid enum value 'allways'"),
    ("spreads = true", "spreeds = true", "unknown field `spreeds`"),
]


@pytest.mark.parametrize(("right", "wrong", "says"), MISTAKES)
def test_a_mistake_is_named_with_file_line_and_what_would_be_right(
    tmp_path: Path, right: str, wrong: str, says: str
) -> None:
    """A teacher who extends the knowledge is told where it went wrong, in one line."""
    folder = tmp_path / "knowledge"
    shutil.copytree(FOLDER, folder)
    file = folder / "fungi.toml"
    text = file.read_text(encoding="utf-8")
    assert right in text
    file.write_text(text.replace(right, wrong, 1), encoding="utf-8")
    with pytest.raises(NotUsable) as caught:
        read_knowledge(folder)
    line = next(one for one in str(caught.value).splitlines() if says in one)
    assert re.match(r"fungi\.toml:[1-9]\d*: powdery-mildew: ", line)


def test_a_fact_without_a_source_is_refused(tmp_path: Path) -> None:
    """Nothing is taken without a source that is defined."""
    folder = tmp_path / "knowledge"
    shutil.copytree(FOLDER, folder)
    file = folder / "viruses.toml"
    text = file.read_text(encoding="utf-8")
    name = re.search(r"source = '([^']+)'", text)
    assert name
    file.write_text(text.replace(name.group(), "source = 'Nobody 1900'", 1), encoding="utf-8")
    with pytest.raises(NotUsable, match="no source is called 'Nobody 1900'"):
        read_knowledge(folder)


def test_a_file_that_is_no_toml_is_named(tmp_path: Path) -> None:
    """A broken file is named; nothing else is lost or changed."""
    folder = tmp_path / "knowledge"
    shutil.copytree(FOLDER, folder)
    (folder / "light.toml").write_text("[[cause]\nkey =", encoding="utf-8")
    with pytest.raises(NotUsable, match=r"light\.toml: it cannot be read"):
        read_knowledge(folder)
