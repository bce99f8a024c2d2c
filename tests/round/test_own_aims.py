"""The room's own aims take the place of what the crop table says of pH and EC."""

from pathlib import Path

import pytest

from tests.round.amounts import FEED, judged
from tests.round.school import School
from walkabout.growing.crops import Range, load
from walkabout.growing.units import METRIC
from walkabout.room.solution import Aim
from walkabout.round.aims import with_aims
from walkabout.round.known import known_at
from walkabout.round.opened import OpenRoom, check
from walkabout.round.starts import starts

AIMS = '[aims.raft-lettuce]\nph = [5.8, 6.4]\nec = [1.6, 2.0]\nsource = "our trial of 2025"\n'


def school(tmp_path: Path, more: str = AIMS) -> School:
    return School(tmp_path / "room", ("tub", "film", "vine"), more=more)


def test_an_aim_takes_the_place_of_the_table() -> None:
    """Both ranges with the aim's source; what it leaves out, other crops and the shipped table stay as they are."""
    table = load()
    aims = {"raft-lettuce": Aim(ph=(5.8, 6.4)), "basil": Aim(ec=(1, 1.4), source="ours")}
    aimed = with_aims(table, aims)
    raft, before = aimed.crops.of["raft-lettuce"], table.of["raft-lettuce"]
    assert raft.ph == Range(5.8, 6.4, "the room's own aim")
    assert (raft.ec, raft.day, raft.light) == (before.ec, before.day, before.light)
    assert aimed.crops.of["basil"].ec == Range(1, 1.4, "ours")
    assert aimed.crops.of["rocket"] == table.of["rocket"]
    assert before.ph != raft.ph
    assert aimed.wrong == ()
    assert aimed.told == ()
    assert aimed.crops.sources["ours"].known == "assumed"


@pytest.mark.parametrize("name", ["raft-lettuce", "Raft  Lettuce", "lettuce on rafts", "deep water lettuce"])
def test_a_crop_is_found_by_any_of_its_names(name: str) -> None:
    """As everywhere: capitals, hyphens and blanks do not count."""
    assert with_aims(load(), {name: Aim(ec=(1, 2))}).crops.of["raft-lettuce"].ec == Range(1, 2, "the room's own aim")


def test_a_crop_that_the_table_lacks_gets_what_the_room_wants() -> None:
    """A crop without an EC in the table has one where the room says so."""
    table = load()
    bare = next(crop for crop in table if crop.ec is None)
    assert with_aims(table, {bare.key: Aim(ec=(0.4, 0.8))}).crops.of[bare.key].wants("EC") is not None


def test_a_known_source_keeps_what_stands_behind_it() -> None:
    """An aim taken from a source of the table does not make that source assumed; an empty one is the room's own."""
    table = load()
    aims = {"lettuce": Aim(ec=(1, 2), source="Cornell lettuce"), "basil": Aim(ec=(1, 2), source=" ")}
    aimed = with_aims(table, aims)
    assert aimed.crops.sources["Cornell lettuce"] == table.sources["Cornell lettuce"]
    assert aimed.crops.of["basil"].ec == Range(1, 2, "the room's own aim")


def test_a_source_stays_on_one_line() -> None:
    """What somebody wrote behind `source` comes into a sentence on a small screen."""
    ec = with_aims(load(), {"basil": Aim(ec=(1, 2), source="line\nbreak \x1b[31m" + "x" * 500)}).crops.of["basil"].ec
    assert ec is not None
    assert ec.source.isprintable()
    assert len(ec.source) <= 120


def test_a_reading_is_judged_by_the_rooms_own_aim(tmp_path: Path) -> None:
    """1.8 mS/cm is too strong by the handbook and right by this room, and the reason names whose range it is."""
    ours, plain = school(tmp_path), school(tmp_path / "plain", "")
    assert judged(plain, "tub", "ec", 1.8)[0].verdict == "today"
    assert judged(ours, "tub", "ec", 1.8)[0].verdict == "good"
    weak = judged(ours, "tub", "ec", 1.0)[0]
    assert weak.verdict == "today"
    assert "our trial of 2025" in weak.why
    assert judged(ours, "tub", "ph", 6.3)[0].verdict == "good"


def test_amounts_and_forms_go_by_it_too(tmp_path: Path) -> None:
    """60 L from 1.0 to the middle of 1.6 and 2.0 take 480 mL, and the form starts from 1.8."""
    ours = school(tmp_path, AIMS + FEED)
    assert judged(ours, "tub", "ec", 1.0)[1].meanings[0].job.startswith("Add 480 mL")
    known = known_at(ours.room, "tub")
    assert known is not None
    assert starts(known, METRIC)["wanted EC"] == "1.8"


def test_a_shared_tank_takes_the_aim_into_the_common_range(tmp_path: Path) -> None:
    """Tomato, held back by the room to 1.2 to 1.6, no longer quarrels with rocket."""
    ours = school(tmp_path, "[aims.tomato]\nec = [1.2, 1.6]\n")
    assert "Nothing suits both" not in judged(ours, "film", "ec", 3.0)[0].why
    assert "Nothing suits both" in judged(school(tmp_path / "plain", ""), "film", "ec", 3.0)[0].why


WRONG = {
    "a slip": ("letuce", 'no crop is called "letuce"', 'Did you mean "lettuce"?'),
    "no such thing": ("zzzzqqq", 'no crop is called "zzzzqqq"', "Write a crop as the crop table names it"),
    "a hostile name": (
        '"a\\n\\u001b[31m"',
        'no crop is called "a \\x1b[31m"',
        "Write a crop as the crop table names it",
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_an_unknown_crop_is_told_and_named_by_check(name: str, tmp_path: Path) -> None:
    """One line when the room is opened; file, line and the nearest name in `check`; the other aims count."""
    written, says, right = WRONG[name]
    ours = school(tmp_path, f"{AIMS}[aims.{written}]\nec = [1, 2]\n")
    assert ours.room.told == [f"room.toml: {says}, so this aim is not used. {right}"]
    assert "\n" not in ours.room.told[0]
    assert judged(ours, "tub", "ec", 1.8)[0].verdict == "good"
    mistakes = check(ours.folder)
    text = (ours.folder / "room.toml").read_text("utf-8").split("\n")
    assert [(one.says, one.right) for one in mistakes] == [(says, right)]
    assert text[mistakes[0].line - 1] == f"[aims.{written}]"


def test_one_crop_under_two_names(tmp_path: Path) -> None:
    """The first counts, and the second is said."""
    ours = school(tmp_path, '[aims.basil]\nec = [1, 1.2]\n[aims."sweet basil"]\nec = [2, 3]\n')
    assert ours.room.crops.of["basil"].ec == Range(1, 1.2, "the room's own aim")
    assert [one.says for one in check(ours.folder)] == ['"sweet basil" is the same crop as "basil"']
    assert len(ours.room.told) == 1


def test_mistakes_of_the_file_and_of_its_aims_come_in_the_order_of_the_file(tmp_path: Path) -> None:
    """`check` goes through room.toml from top to bottom."""
    ours = school(tmp_path)
    with (ours.folder / "room.toml").open("a", encoding="utf-8") as file:
        file.write("[aims.letuce]\nec = [1, 2]\n[aims.basil]\nec = [2, 1]\n[aims.tomatto]\nec = [1, 2]\n")
    mistakes = check(ours.folder)
    assert [one.says.split()[0] for one in mistakes] == ["no", "ec", "no"]
    assert [one.line for one in mistakes] == sorted(one.line for one in mistakes)


def test_a_room_that_cannot_be_read_goes_on_with_its_last_aims(tmp_path: Path) -> None:
    """The last good copy's aims hold, and a folder without a room has no mistakes of aims."""
    ours = school(tmp_path)
    (ours.folder / "room.toml").write_text("broken [", "utf-8")
    again = OpenRoom(ours.folder, lambda: ours.now)
    assert again.crops.of["raft-lettuce"].ec == Range(1.6, 2.0, "our trial of 2025")
    assert [one.line for one in check(ours.folder)] == [1]
    assert check(tmp_path / "nowhere") == ()


def test_an_ec_that_is_counted_above_the_water_is_lifted_by_it() -> None:
    """Cornell's 1.15 to 1.25 for lettuce on rafts are above the source water: with 0.4 in it, 1.55 to 1.65."""
    crops = with_aims(load(), {}, 0.4).crops
    raft, basil = crops.find("raft-lettuce"), crops.find("basil")
    assert raft is not None
    assert raft.ec is not None
    assert (raft.ec.low, raft.ec.high) == (1.55, 1.65)
    assert "0.4 mS/cm" in raft.ec.source
    assert basil == load().find("basil")
    assert with_aims(load(), {}).crops.find("raft-lettuce") == load().find("raft-lettuce")


def test_an_aim_for_ph_alone_keeps_the_lifted_ec() -> None:
    """What the room does not say itself is still lifted."""
    raft = with_aims(load(), {"raft-lettuce": Aim(ph=(5.5, 6.0))}, 0.4).crops.find("raft-lettuce")
    assert raft is not None
    assert raft.ec is not None
    assert raft.ec.low == 1.55
