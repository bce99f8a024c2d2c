"""`walkabout logbook`: what is recorded and what has shifted, in lines and for other programs."""

import json
from datetime import datetime
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.rooms import write_small_room
from tests.screens.driving import creeping
from walkabout.cli import cli
from walkabout.records.book import Records


@pytest.fixture(scope="module")
def room(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the small room with forty days of pH that creeps up, to yesterday by this machine's clock."""
    folder = write_small_room(tmp_path_factory.mktemp("logbook") / "room")
    now = datetime.now().astimezone().replace(hour=8)
    records = Records.open(folder, now.date())
    with records.together():
        for one in creeping(now):
            records.save(one)
    records.close()
    return folder


def run(room: Path, *words: str) -> Result:
    """Run the command."""
    return CliRunner().invoke(cli, ["logbook", "--room", str(room), *words])


def test_shifts_come_first_then_every_station(room: Path) -> None:
    """The first sentence after the heading is the shift; then each station has its days and what is on record."""
    lines = run(room).output.splitlines()

    assert lines[1].startswith("Raft tub: pH has crept up since ")
    assert "Raft tub, pH: pH 6.1, yesterday." in lines
    assert "Fern case: no day on record." in lines


def test_a_station_by_key_or_name_has_its_trends(room: Path) -> None:
    """The trend is said in sentences: the shift, the pace, the good range, what was done."""
    by_key, by_name = run(room, "--station", "tub"), run(room, "--station", "raft TUB")

    assert by_key.exit_code == 0
    assert by_key.output == by_name.output
    for says in ("pH: 40 readings from", "pH has crept up", "a week since it began to", "Good for what grows here now"):
        assert says in by_key.output


def test_a_station_without_answers_says_so(room: Path) -> None:
    """Nothing on record is a sentence, not an empty page."""
    assert run(room, "--station", "case").output.splitlines()[1] == "Nothing is on record there yet."


@pytest.mark.parametrize("span", ["weeks", "term", "year", "all"])
def test_facts_of_the_room(room: Path, span: str) -> None:
    """The JSON has the shifts, the days, and a verdict for each day and station."""
    facts = json.loads(run(room, "--span", span, "--json").output)

    assert len({len(one["days"]) for one in facts["stations"]} | {len(facts["dates"])}) == 1
    assert len(facts["dates"]) == {"weeks": 14, "term": 84}.get(span, 365)
    tub = next(one for one in facts["stations"] if one["station"] == "tub")
    assert tub["recorded"][0]["question"] == "ph"
    assert bool(facts["shifted"]) is (span != "weeks")


def test_facts_of_a_station(room: Path) -> None:
    """The JSON of a station has every point, the good range, the shifts and what was done."""
    (trend,) = json.loads(run(room, "--station", "tub", "--json").output)["trends"]

    assert (trend["question"], trend["n"], len(trend["points"]), trend["good"]) == ("ph", 40, 40, [5.6, 6.0])
    assert trend["shifts"][-1]["direction"] == "up"
    assert trend["marks"][0]["kind"] == "move"


def test_a_station_that_is_none_is_wrong_use(room: Path) -> None:
    """A slip in a key names the nearest one, in one line."""
    found = run(room, "--station", "tubb")

    assert found.exit_code == 2
    assert 'Did you mean "tub"?' in found.output
    assert "Traceback" not in found.output
