"""Learning from the room: what an adult confirmed moves the base rates there, and only there."""

from pathlib import Path

import pytest

from tests.round.school import School
from walkabout.diagnosis.evidence import UNLISTED
from walkabout.diagnosis.strengths import BASE, LOOKUPS
from walkabout.jobs.findings import close, flag
from walkabout.jobs.life import NotAllowed
from walkabout.records.model import Finding
from walkabout.round.confirm import (
    confirm,
    confirmed_counts,
    learned_lines,
    learned_words,
    look_up_finding,
    ranked_for,
    take_back,
)
from walkabout.round.lookup_jobs import keep_finding
from walkabout.round.lookup_start import at_station


@pytest.fixture
def school(tmp_path: Path) -> School:
    return School(tmp_path / "room", ["tub", "pots"])


def a_finding(school: School, seen: str = "white powder that rubs off") -> Finding:
    finding = flag(station="pots", seen=seen, verdict="watch", by="K7", now=school.now)
    school.room.save(finding)
    return finding


def confirmed(school: School, cause: str = "powdery-mildew", times: int = 1) -> Finding:
    for _ in range(times):
        finding = a_finding(school)
        school.room.save(*confirm(school.room, finding, cause, "AR").records)
    return school.room.findings[finding.key]


def test_a_confirmed_cause_is_on_disk_and_moves_the_next_lookup(school: School) -> None:
    """Three confirmations of a common cause raise its chance before any sign; other rooms know nothing of it."""
    before = at_station(school.room, "pots", "K7")
    before.say("white powder")
    confirmed(school, times=3)
    again = school.again()
    after = at_station(again, "pots", "K7")
    after.say("white powder")
    assert confirmed_counts(again) == {"powdery-mildew": 3}
    assert after.answer().causes[0].probability > before.answer().causes[0].probability


def test_how_far_a_cause_was_moved_is_said(school: School) -> None:
    """(LOOKUPS · base + times) / (LOOKUPS + times), in percent, for what was confirmed here."""
    base = BASE["common"]
    now = (LOOKUPS * base + 3) / (LOOKUPS + 3)
    assert learned_words(school.room, "powdery-mildew") == ""
    confirmed(school, times=3)
    said = learned_words(school.room, "powdery-mildew")
    figures = f"(it begins at {100 * now:.0f} %, elsewhere at {100 * base:.0f} %)"
    moved = f"so it is thought of sooner here {figures}"
    assert said == f"powdery mildew: confirmed 3 times in this room, {moved}"
    assert learned_lines(school.room) == (said,)


def test_what_is_said_when_it_is_confirmed_counts_it_already(school: School) -> None:
    """The sentence after the first confirmation says once; after the second, twice."""
    one, other = a_finding(school), a_finding(school)
    first = confirm(school.room, one, "powdery-mildew", "AR")
    assert first.says.startswith("Written down. Powdery mildew: confirmed once in this room, so it is thought of ")
    school.room.save(*first.records)
    assert "confirmed twice in this room" in confirm(school.room, other, "powdery-mildew", "AR").says
    named = school.room.findings[one.key]
    assert "confirmed once in this room" in confirm(school.room, named, "powdery-mildew", "AR").says


def test_closed_findings_count_and_can_be_named(school: School) -> None:
    """Closing does not forget; a cause may become clear after the finding was closed."""
    finding = confirmed(school)
    school.room.save(close(finding, "AR", "adult", school.now, "treated"))
    late = close(a_finding(school), "AR", "adult", school.now, "gone")
    school.room.save(late)
    school.room.save(*confirm(school.room, late, "powdery-mildew", "AR").records)
    assert confirmed_counts(school.room) == {"powdery-mildew": 2}


def test_what_was_confirmed_is_taken_back(school: School) -> None:
    """It no longer counts, and the line stays in the history."""
    finding = confirmed(school)
    school.room.save(*take_back(school.room, finding, "BO").records)
    assert confirmed_counts(school.room) == {}
    last = school.room.findings[finding.key].history[-1]
    assert (last.by, last.says) == ("BO", "cause taken back: powdery mildew")


def test_only_an_adult_confirms(school: School) -> None:
    """A pupil, an unknown code and no code are refused; nothing changes."""
    finding = a_finding(school)
    for code in ("K7", "ZZ", ""):
        with pytest.raises(NotAllowed):
            confirm(school.room, finding, "powdery-mildew", code)
    with pytest.raises(NotAllowed):
        take_back(school.room, confirmed(school), "K7")


def test_a_cause_that_nobody_knows_is_refused(school: School) -> None:
    """The nearest key is named; a reason that is never ranked is no cause."""
    finding = a_finding(school)
    with pytest.raises(ValueError, match='Did you mean "powdery-mildew"'):
        confirm(school.room, finding, "powdery-mildow", "AR")
    with pytest.raises(ValueError, match="No cause is called 'ph-too-high'"):
        confirm(school.room, finding, "ph-too-high", "AR")


def test_what_is_on_no_list_can_be_confirmed(school: School) -> None:
    """So that the lookup learns how often it has no answer here."""
    confirmed(school, UNLISTED)
    assert confirmed_counts(school.room) == {UNLISTED: 1}
    assert learned_words(school.room, UNLISTED).startswith("something that is not on the list: confirmed once")


def test_a_cause_that_left_the_knowledge_does_no_harm(school: School) -> None:
    """It is kept on record and counts for nothing."""
    confirmed(school)
    lookup = at_station(school.room, "pots", "K7")
    with_it = lookup.answer().causes
    import msgspec

    gone = msgspec.structs.replace(a_finding(school), cause="no-longer-known", cause_by="AR")
    school.room.save(gone)
    assert learned_words(school.room, "no-longer-known") == ""
    assert at_station(school.room, "pots", "K7").answer().causes == with_it


def test_a_finding_offers_its_likeliest_causes(school: School) -> None:
    """From its signs where a lookup raised it, from its words else."""
    flagged = a_finding(school, "white powder on the leaves")
    lookup = at_station(school.room, "pots", "K7")
    lookup.say("white powder")
    kept = keep_finding(school.room, lookup, "pots", "K7", "watch").finding
    for finding in (flagged, kept):
        first = ranked_for(school.room, finding)[0]
        assert (first.key, first.name) == ("powdery-mildew", "powdery mildew")
        assert first.remark in ("likely", "possible")
    assert [one.key for one in look_up_finding(school.room, kept).seen()] == ["white-powder"]


def test_what_was_written_besides_the_signs_counts_too(school: School) -> None:
    """The signs that a lookup kept stand; words that are no name of them are read as well."""
    import msgspec

    lookup = at_station(school.room, "pots", "K7")
    lookup.say("white powder")
    kept = keep_finding(school.room, lookup, "pots", "K7", "watch").finding
    told = msgspec.structs.replace(kept, seen=f"{kept.seen}; sticky leaves")
    keys = {one.key for one in look_up_finding(school.room, told).seen()}
    assert "white-powder" in keys
    assert len(keys) == 2
