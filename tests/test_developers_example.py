"""The worked examples of DEVELOPERS.md can be followed to the letter."""

import re
import shutil
from pathlib import Path

from walkabout.diagnosis.knowledge import FOLDER, read_knowledge
from walkabout.diagnosis.wording import make_wording, read_text

TEXT = (Path(__file__).parents[1] / "DEVELOPERS.md").read_text(encoding="utf-8")


def block(begins: str) -> str:
    """Return the TOML block that begins with a line."""
    found = re.search(rf"```toml\n({re.escape(begins)}\n.*?)```", TEXT, re.DOTALL)
    assert found is not None, f"DEVELOPERS.md has no block that begins with {begins}"
    return found[1]


def test_adding_a_cause_and_a_sign(tmp_path: Path) -> None:
    """Both entries, put at the end of their files, make a knowledge without mistakes in which they are found."""
    folder = Path(shutil.copytree(FOLDER, tmp_path / "knowledge"))
    for name, entry in (("climate", block("[[cause]]")), ("signs", block("[[sign]]"))):
        with (folder / f"{name}.toml").open("a", encoding="utf-8") as file:
            file.write(f"\n{entry}")
    known = read_knowledge(folder)
    assert known.causes["tie-too-tight"].kind == "climate"
    read = read_text(make_wording(known), "the string cuts into the stem of the tomato")
    assert [one.sign for one in read.signs] == ["tie-cuts"]
