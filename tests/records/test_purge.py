"""Taking a person's code out of the records."""

from pathlib import Path

import msgspec
import pytest

from tests.records.sample_records import LONG_AGO, MORNING, TODAY, answer, keys, one_of_each, opened
from walkabout.records.book import NotSaved, Records


def test_a_code_is_gone_from_everywhere(room: Path, records: Records) -> None:
    """After a purge no file of the room holds the code in a field that names a person; the rest is equal."""
    for record in one_of_each():
        records.save(record)
    records.fold()
    for month in (3, 11):
        records.save(answer(month, at=MORNING.replace(month=month)))
        records.save(answer(month + 20, at=MORNING.replace(month=month), walker="BK"))
    records.fold()
    records.save(answer(30, note="AR wrote this"))
    (room / "records" / "2026-11.damaged-20261101-080000.json").write_text('{"1":{"walker": "AR","no', "utf-8")
    (room / "records" / "2026-11.json.new").write_text('{"walker":"AR"', "utf-8")
    changed = records.purge("AR")

    for seen in (records, opened(room)):
        assert {one.walker for one in seen.answers(LONG_AGO)} == {"--", "BK"}
        assert [one.walker for one in seen.rounds(LONG_AGO)] == ["--"]
        planting, finding, job = seen.plantings()[0], seen.findings()[0], seen.jobs()[0]
        assert (planting.moves[0].by, planting.history[0].by) == ("--", "--")
        assert {one.by for one in (*planting.reached, *planting.losses, *planting.pickings)} == {"--"}
        promise, treatment = seen.promises()[0], seen.treatments()[0]
        assert (promise.by, treatment.by, promise.history[0].says) == ("--", "--", "handed to BK by --")
        assert (promise.people, treatment.what, treatment.wait_days) == ("8B", "soap", 3)
        assert planting.history[0].says == "handed to BK by --"
        assert (finding.by, finding.history[0].by, job.by, job.closed_by) == ("--", "--", "--", "--")
        assert (finding.cause, finding.cause_by) == ("root-rot", "--")
        assert (planting.crop, planting.count, finding.seen) == ("lettuce", 12, "AR roots brown")
    assert changed == 7 + 3
    texts = {path: path.read_text(encoding="utf-8") for path in room.glob("*/*")}
    left = [text[text.index("AR") - 8 :][:22] for text in texts.values() if "AR" in text]
    assert set(left) == {'"note":"AR wrote this"', '"seen":"AR roots brown'}
    assert sum(text.count("AR") for text in texts.values()) == len(left)
    assert '{"1":{"walker": "--","no' in texts[room / "records" / "2026-11.damaged-20261101-080000.json"]
    assert not list(room.glob("*/*.new"))


def test_a_purged_file_can_still_be_damaged(room: Path, records: Records) -> None:
    """After a purge the backups hold everything, without the code."""
    for number in range(5):
        records.save(answer(number))
    records.purge("AR")
    records.save(answer(5, walker="BK"))
    path = room / "records" / "2026-11.json"
    path.write_bytes(path.read_bytes()[:50])
    again = opened(room)

    assert [one.walker for one in again.answers(TODAY)] == ["--"] * 5 + ["BK"]


def test_a_code_of_letters_beyond_ascii(room: Path, records: Records) -> None:
    """Codes may have any letters, also where a damaged file spells them in another way."""
    records.save(answer(1, walker="ÅÖ"))
    aside = room / "records" / "jobs.damaged-20261101-080000.json"
    aside.write_text('{"by":"\\u00c5\\u00d6","says":"to ÅÖ, ÅÖX"', "utf-8")
    assert records.purge("ÅÖ") == 1

    assert records.answers(TODAY)[0].walker == "--"
    assert aside.read_text("utf-8") == '{"by":"--","says":"to --, ÅÖX"'


def test_longer_codes_and_words_stay(records: Records) -> None:
    """Only the very code is replaced, not a longer one that contains it."""
    records.save(answer(1, walker="ARB"))

    assert records.purge("AR") == 0
    assert records.answers(TODAY)[0].walker == "ARB"


def test_a_record_that_does_not_fit_is_purged_too(room: Path, records: Records) -> None:
    """A misfit that stays in the file gives up the code as well."""
    records.save(answer(1))
    records.fold()
    path = room / "records" / "2026-11.json"
    path.write_bytes(path.read_bytes().replace(b'"value":1.5', b'"value":"x"'))
    assert opened(room).purge("AR") == 1

    assert msgspec.json.decode(path.read_bytes())["answers"]["1"]["walker"] == "--"


def test_an_open_program_learns_of_it(room: Path, records: Records) -> None:
    """Another program that has the room open sees the purged records after a refresh."""
    other = opened(room)
    records.save(answer(1))
    other.refresh()
    records.purge("AR")

    assert other.refresh()
    assert other.answers(TODAY)[0].walker == "--"
    assert keys(other) == ["a0001"]


def test_a_purge_that_cannot_be_done_says_so(room: Path, records: Records) -> None:
    """When the folder is gone, NotSaved tells that the code is still in some file; blanks are no code."""
    records.save(answer(1))
    room.rename(room.with_name("pulled"))
    with pytest.raises(NotSaved, match=r"AR is not out of every file: .* not there"):
        records.purge("AR")
    room.with_name("pulled").rename(room)
    assert records.purge("AR") == 1

    with pytest.raises(ValueError, match="at least one letter"):
        records.purge(" ")
