"""Trials that count kinds go out and come back whole, and an export from before there were kinds is still taken in."""

import json
from pathlib import Path

import pytest

from tests.paper.exports import exported, read, rows, write_room
from tests.records.sample_records import MORNING, TODAY
from walkabout.jobs.trials import measure, set_up_ratio
from walkabout.paper.take_in import take_in
from walkabout.paper.writers import Form
from walkabout.records.model_measured import Kind, Measurement, Plot, Trial


def with_kinds(folder: Path) -> tuple[Trial, Measurement]:
    """Add a ratio with one count to a room."""
    records, _ = read(write_room(folder))
    kinds = (Kind(name="green; tall", part=3, other=1), Kind(name="=pale", part=1.5, other=1))
    trial = set_up_ratio(
        question="3 to 1?", kinds=kinds, plots=[Plot(name="Tray 1", kind="tray", treatment="")], by="AR",
        now=MORNING, sown_each=20, planned=24,
    )  # fmt: skip
    one = measure(trial, "Tray 1", 15, kind="=pale", day=TODAY, by="AR", now=MORNING)
    records.save(trial)
    records.save(one)
    records.close()
    return trial, one


@pytest.mark.parametrize("form", ["csv", "xlsx", "parquet"])
def test_kinds_go_out_and_come_back(tmp_path: Path, form: Form) -> None:
    """Names with ; and =, parts, the other ratio, and the kind of each count."""
    trial, one = with_kinds(tmp_path / "room")
    exported(tmp_path / "room", tmp_path / "out", form, codes=True)
    take_in(tmp_path / "out" / "datapackage.json", tmp_path / "back")
    records, _ = read(tmp_path / "back")
    assert next(each for each in records.trials() if each.key == trial.key) == trial
    assert records.measurements(trial.key) == [one]


def test_the_table_of_kinds_says_what_it_holds(tmp_path: Path) -> None:
    """One row a kind, in order, with the key of its trial; the trial says how many seeds were sown in each."""
    trial, _ = with_kinds(tmp_path / "room")
    exported(tmp_path / "room", tmp_path / "out")
    assert rows(tmp_path / "out", "kinds") == [
        {"trial": trial.key, "number": "1", "name": "green; tall", "expected_part": "3", "other_part": "1"},
        {"trial": trial.key, "number": "2", "name": "'=pale", "expected_part": "1.5", "other_part": "1"},
    ]
    assert [one["sown_each"] for one in rows(tmp_path / "out", "trials") if one["key"] == trial.key] == ["20"]


def test_an_export_from_before_there_were_kinds(tmp_path: Path) -> None:
    """Without the table and without the columns: trials and measurements are taken in as they were."""
    write_room(tmp_path / "room")
    out = tmp_path / "out"
    exported(tmp_path / "room", out, codes=True)
    (out / "kinds.csv").unlink()
    told = json.loads((out / "datapackage.json").read_text(encoding="utf-8"))
    told["resources"] = [one for one in told["resources"] if one["name"] != "kinds"]
    for name, gone in (("trials", "sown_each"), ("measurements", "kind")):
        schema = next(one for one in told["resources"] if one["name"] == name)["schema"]
        schema["fields"] = [one for one in schema["fields"] if one["name"] != gone]
        _without(out / f"{name}.csv", gone)
    (out / "datapackage.json").write_text(json.dumps(told), encoding="utf-8")
    take_in(out / "datapackage.json", tmp_path / "back", changed=True)
    before, after = read(tmp_path / "room")[0], read(tmp_path / "back")[0]
    assert after.trials() == before.trials()
    assert after.measurements("t1") == before.measurements("t1") != []


def _without(file: Path, column: str) -> None:
    import csv

    with file.open(encoding="utf-8", newline="") as opened:
        found = list(csv.DictReader(opened))
    names = [name for name in found[0] if name != column]
    with file.open("w", encoding="utf-8", newline="") as opened:
        writer = csv.DictWriter(opened, names, extrasaction="ignore", lineterminator="\n")
        writer.writeheader()
        writer.writerows(found)
