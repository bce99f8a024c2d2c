"""Every text can be read: at least 4.5:1 (WCAG 2.2, success criterion 1.4.3, text of ordinary size)."""

from pathlib import Path

import pytest
from textual.color import Color

from tests.rooms import write_small_room
from tests.screens.driving import LOOKS, app_for, painted_cells
from walkabout.screens.theme import GROUNDS, TEXTS, THEMES

LEAST = 4.5


def luminance(colour: Color) -> float:
    """Return relative luminance as WCAG 2.2 defines it."""

    def linear(part: int) -> float:
        share = part / 255
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    return 0.2126 * linear(colour.r) + 0.7152 * linear(colour.g) + 0.0722 * linear(colour.b)


def contrast(one: Color, other: Color) -> float:
    """Return the contrast ratio as WCAG 2.2 defines it."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_formula_against_known_pairs() -> None:
    """Black on white is 21:1 (WCAG 2.2); #767676 on white is the well-known 4.54:1."""
    assert contrast(Color.parse("#000000"), Color.parse("#ffffff")) == pytest.approx(21.0)
    assert contrast(Color.parse("#767676"), Color.parse("#ffffff")) == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("text", TEXTS)
def test_every_text_colour_on_every_ground(theme, ground: str, text: str) -> None:
    """Every text colour of every theme stands on each of its grounds with 4.5:1."""
    ratio = contrast(Color.parse(theme.variables[text]), Color.parse(theme.variables[ground]))

    assert ratio >= LEAST, f"{text} on {ground} in {theme.name}: {ratio:.2f}"


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
async def test_every_painted_cell(theme: str, look: str, tmp_path: Path) -> None:
    """What is really painted, on every screen and in every theme, has 4.5:1 too."""
    app = app_for(write_small_room(tmp_path / "room"))
    async with app.run_test(size=(100, 36), notifications=True) as pilot:
        app.theme = theme
        await pilot.pause()
        await LOOKS[look](pilot)
        await pilot.pause()
        poor = {
            (text.strip()[:30], round(contrast(front, back), 2))
            for text, front, back in painted_cells(app)
            if contrast(front, back) < LEAST
        }

        assert poor == set()


async def test_no_colour_from_the_start(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """NO_COLOR gives greys only, from the first paint on."""
    monkeypatch.setenv("NO_COLOR", "1")
    app = app_for(write_small_room(tmp_path / "room"))
    async with app.run_test(size=(100, 36)) as pilot:
        await pilot.press("r", "2")
        await pilot.pause()
        colours = {colour for _, *both in painted_cells(app) for colour in both}

        assert len(colours) > 1
        assert all(colour.r == colour.g == colour.b for colour in colours)
