"""Paths as people type and paste them."""

from pathlib import Path

import pytest

from walkabout.paper.typed_paths import completed, path_typed


@pytest.mark.parametrize(
    "wrap", ["{}", " {} ", "'{}'", '"{}"', "“{}”", "<{}>", "'{}", '"{}'], ids=lambda one: one.format("path")
)
def test_quotation_marks_do_not_belong_to_a_path(tmp_path: Path, wrap: str) -> None:
    """Whatever a file manager or a terminal puts around it, closed or still open."""
    assert path_typed(wrap.format(tmp_path / "shelf log.csv")) == tmp_path / "shelf log.csv"


def test_an_address_of_a_file(tmp_path: Path) -> None:
    """Blanks, umlauts and signs of per cent are written otherwise there."""
    path = tmp_path / "Gewächs 100% #1.csv"
    assert path_typed(path.as_uri()) == path
    assert path_typed(f"file://localhost{tmp_path}/a.csv") == tmp_path / "a.csv"


def test_escaped_blanks(tmp_path: Path) -> None:
    """A file that was dropped on a terminal; a name that really has such a sign is left alone."""
    assert path_typed(f"{tmp_path}/shelf\\ log.csv") == tmp_path / "shelf log.csv"
    odd = tmp_path / "a\\ b.csv"
    odd.touch()
    assert path_typed(str(odd)) == odd


def test_the_own_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """~ is it; that of somebody who is not known here is no mistake yet."""
    monkeypatch.setenv("HOME", str(tmp_path))
    assert path_typed("~/a.csv") == tmp_path / "a.csv"
    assert path_typed("~nobody-of-this-name/a.csv") == Path("~nobody-of-this-name/a.csv")


def test_what_is_no_path_breaks_nothing() -> None:
    """A zero, nothing, a very long name."""
    for text in ("\0", "", "'", "x" * 5000, '"' + "x" * 5000, "file://", "file:%00"):
        assert isinstance(path_typed(text), Path)
        assert isinstance(completed(text), tuple)


def test_a_half_typed_path_is_completed(tmp_path: Path) -> None:
    """As far as the entries agree; one entry whole, a folder with its stroke; hidden ones only when asked for."""
    for name in ("shelf 1.csv", "shelf 2.csv", "tub.csv", ".hidden"):
        (tmp_path / name).touch()
    (tmp_path / "logs").mkdir()
    assert completed(f"{tmp_path}/sh") == (f"{tmp_path}/shelf ", ["shelf 1.csv", "shelf 2.csv"])
    assert completed(f"'{tmp_path}/T") == (f"{tmp_path}/tub.csv", ["tub.csv"])
    assert completed(f"{tmp_path}/lo") == (f"{tmp_path}/logs/", ["logs/"])
    assert completed(f"{tmp_path}/.h") == (f"{tmp_path}/.hidden", [".hidden"])
    assert completed(f"{tmp_path}/")[1] == ["logs/", "shelf 1.csv", "shelf 2.csv", "tub.csv"]
    assert completed(f"{tmp_path}/zz") == (f"{tmp_path}/zz", [])
    assert completed(f"{tmp_path}/none/zz") == (f"{tmp_path}/none/zz", [])
