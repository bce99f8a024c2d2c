"""Mistakes in the knowledge are named with file and line, as those in other files are."""

import shutil
from pathlib import Path

import pytest

from walkabout.diagnosis.knowledge import FOLDER
from walkabout.round import knowledge_check
from walkabout.round.opened import check


@pytest.fixture
def copy(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = Path(shutil.copytree(FOLDER, tmp_path / "knowledge"))
    monkeypatch.setattr(knowledge_check, "FOLDER", folder)
    return folder


def test_the_shipped_knowledge_has_none(tmp_path: Path) -> None:
    """Nothing to name, and `check` says so too."""
    assert knowledge_check.knowledge_mistakes() == ()
    assert check(tmp_path / "no room") == ()


def test_a_misspelt_sign_is_named_where_it_stands(copy: Path, tmp_path: Path) -> None:
    """File, line of the entry, and the nearest right word."""
    file = copy / "fungi.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("sign = 'white-powder'", "sign = 'white-powdre'", 1), encoding="utf-8")
    (found,) = knowledge_check.knowledge_mistakes()
    assert found.file == file
    assert text.splitlines()[found.line - 1].startswith("key")
    assert "white-powdre" in found.says
    assert "did you mean 'white-powder'" in found.says
    assert found in check(tmp_path / "no room")


def test_a_file_that_is_gone_is_named(copy: Path) -> None:
    """It is said which, on its first line."""
    (copy / "steps.toml").unlink()
    found = knowledge_check.knowledge_mistakes()
    assert any((one.file, one.line) == (copy / "steps.toml", 1) and "cannot be read" in one.says for one in found)
