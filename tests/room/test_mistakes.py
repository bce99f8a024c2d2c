"""The one line in which a mistake is said."""

from pathlib import Path

import pytest

from walkabout.room.mistakes import LONGEST, Mistake, nearest, one_line


def test_a_mistake_in_one_line() -> None:
    """File, line, what is wrong and what would be right, with nothing left out."""
    assert str(Mistake(Path("room.toml"), 3, "this is wrong", "Do that")) == "room.toml:3: this is wrong. Do that"
    assert str(Mistake(Path("room.toml"), 3, "this is wrong")) == "room.toml:3: this is wrong"


@pytest.mark.parametrize(
    "text", ["a\nb", "a\r\nb", "a\x0bb", "a\x1cb", "a\x85b", "a\u2028b", "a\u2029b", "\x1b[31mred"]
)
def test_nothing_in_a_file_breaks_the_line(text: str) -> None:
    """Line ends and control characters of every kind are shown, not obeyed, in all three parts."""
    said = str(Mistake(Path(text), 1, text, text))
    assert len(said.splitlines()) == 1
    assert said.isprintable()


def test_half_a_surrogate_pair_can_be_printed() -> None:
    """A file name that is no text on this machine is still shown."""
    said = str(Mistake(Path("a\udcffb"), 1, "x\ud800"))
    assert said.encode("utf-8").decode() == "a\\udcffb:1: x\\ud800"


def test_letters_of_all_languages_stay() -> None:
    """Only what cannot be printed is changed."""
    assert one_line("Grünes Zimmer 植物 ½ °C – “so”") == "Grünes Zimmer 植物 ½ °C – “so”"


def test_a_long_message_is_cut() -> None:
    """A value of a megabyte does not fill the screen."""
    mistake = Mistake(Path("room.toml"), 1, "x" * 10**6, "y" * 10**6)
    assert len(mistake.says) == len(mistake.right) == LONGEST
    assert mistake.says.endswith("…")


def test_the_nearest_word() -> None:
    """A near word is offered; else all of them when they are few; else nothing."""
    assert nearest("dripp", ["drip", "drum"]) == 'Did you mean "drip"?'
    assert nearest("LED", ["led", "tube"]) == 'Did you mean "led"?'
    assert nearest("zzz", ["tube", "led"]) == "It can be: led, tube"
    assert nearest("zzz", [f"word{number}" for number in range(15)]) == ""
    assert nearest("zzz", []) == ""
