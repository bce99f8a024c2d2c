"""Described cases from extension bulletins, handbooks and papers: whether the cause that the source gives is found.

Each text is written in everyday words after the picture that a named source gives; `known` says whether the
source was seen or is from memory. `described_cases.json` was kept unseen while the knowledge was written and
repaired: it measures. `described_cases_tried.json` was used to find what was missing: it guards.
"""

import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from walkabout.diagnosis.consult import Consulted
from walkabout.diagnosis.evidence import UNLISTED
from walkabout.diagnosis.model import HARMLESS
from walkabout.growing.crops import load
from walkabout.round.lookup import Lookup, ready

FROZEN = Path(__file__).with_name("frozen")
FIRST, THREE = 0.8, 0.95
TRIED_FIRST, TRIED_THREE = 0.85, 0.95
BANDS = ((0.0, 0.3), (0.3, 0.5), (0.5, 0.7), (0.7, 0.9), (0.9, 1.01))


def cases(name: str) -> list[dict[str, Any]]:
    """Return the cases of a frozen file."""
    found: list[dict[str, Any]] = json.loads((FROZEN / f"{name}.json").read_text(encoding="utf-8"))
    return found


def looked_up(case: dict[str, Any]) -> Consulted:
    """Look a case up as somebody would who types it."""
    lookup = Lookup(load())
    if case.get("crop"):
        named = lookup.say(case["crop"])
        lookup = Lookup(load(), crop=named.crop, also=named.also)
    lookup.say(case["text"])
    for measure, value in case.get("readings", {}).items():
        lookup.set_reading(measure, value)
    return lookup.answer()


@cache
def ranks(name: str) -> tuple[tuple[str, int, float, bool], ...]:
    """Return, for each case, its id, the rank of its cause, the first cause's probability, and whether it was right."""
    return tuple(_ranks(name))


def _ranks(name: str) -> Iterator[tuple[str, int, float, bool]]:
    for case in cases(name):
        listed = [one for one in looked_up(case).causes if one.key != UNLISTED]
        keys = [one.key for one in listed]
        rank = min((keys.index(key) + 1 for key in case["causes"] if key in keys), default=len(keys) + 1)
        yield case["id"], rank, listed[0].probability if listed else 0.0, rank == 1


def calibration(name: str) -> list[tuple[float, float, int, int]]:
    """Return, for each band of probability, how many first causes were called so likely, and how many were right."""
    found = [(p, right) for _, _, p, right in ranks(name)]
    return [
        (low, high, sum(low <= p < high for p, _ in found), sum(right for p, right in found if low <= p < high))
        for low, high in BANDS
    ]


@pytest.mark.parametrize("name", ["described_cases", "described_cases_tried"])
def test_every_case_names_its_source_and_a_known_cause(name: str) -> None:
    """A case without a source, or for a cause that the knowledge does not have, would check nothing."""
    known = ready().known
    for case in cases(name):
        assert case["source"], case["id"]
        assert case["known"] in ("published", "from memory"), case["id"]
        assert case["causes"], case["id"]
        assert set(case["causes"]) <= set(known.causes), case["id"]


def test_there_are_enough_cases() -> None:
    """At least fifty that were kept unseen, of many causes."""
    found = cases("described_cases")
    assert len(found) >= 50
    assert len({case["causes"][0] for case in found}) >= 40


def test_the_true_cause_is_found() -> None:
    """On cases kept unseen the cause is first in at least FIRST and among the first three in at least THREE of them."""
    found = ranks("described_cases")
    first = sum(rank == 1 for _, rank, _, _ in found) / len(found)
    three = sum(rank <= 3 for _, rank, _, _ in found) / len(found)
    print(f"\n{len(found)} cases: first in {first:.0%}, among the first three in {three:.0%}")
    print("late:", [(case, rank) for case, rank, _, _ in found if rank > 3])
    assert first >= FIRST
    assert three >= THREE


def test_what_was_repaired_stays_repaired() -> None:
    """The cases that the knowledge was widened with keep their figures."""
    found = ranks("described_cases_tried")
    assert sum(rank == 1 for _, rank, _, _ in found) / len(found) >= TRIED_FIRST
    assert sum(rank <= 3 for _, rank, _, _ in found) / len(found) >= TRIED_THREE


def test_probabilities_mean_what_they_say() -> None:
    """Of those called 70 to 90 % likely about so many are right; nothing is called sure and mostly wrong.

    The engine may be modest, but not boastful: in each band with ten cases or more, the share that was right is
    not below the band by more than ten points.
    """
    table = [
        (low, high, one + other, right + more)
        for (low, high, one, right), (_, _, other, more) in zip(
            calibration("described_cases"), calibration("described_cases_tried"), strict=True
        )
    ]
    print("\ncalled       cases  right")
    for low, high, called, right in table:
        print(f"{low:4.0%} - {min(high, 1):4.0%}  {called:5}  {right / called if called else 0:5.0%}")
    assert all(right / called >= low - 0.1 for low, _, called, right in table if called >= 10)


@pytest.mark.parametrize("case", cases("vague_cases"), ids=lambda case: str(case["id"]))
def test_what_is_vague_or_contradicts_itself_is_not_called_likely(case: dict[str, Any]) -> None:
    """'The plant looks sad' and 'wet and dry' say too little, and it is said so."""
    assert looked_up(case).verdict in ("not enough", "unsure")


@pytest.mark.parametrize("case", cases("healthy_cases"), ids=lambda case: str(case["id"]))
def test_a_healthy_oddity_raises_no_alarm(case: dict[str, Any]) -> None:
    """Old leaves yellowing one by one, fading seed leaves, variegation, mineral marks: no harmful cause is likely."""
    known = ready().known
    found = looked_up(case)
    alarming = [
        one.key
        for one in found.causes
        if one.key != UNLISTED and known.causes[one.key].kind not in HARMLESS and one.probability >= 0.6
    ]
    assert alarming == []
    assert found.verdict != "likely" or not alarming
