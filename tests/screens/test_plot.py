"""The picture of numbers: what stands where, in which colour."""

from textual.app import App, ComposeResult

from walkabout.screens.theme import THEMES
from walkabout.screens.widgets.plot import Band, Mark, Picture, Plot, Row, Rule, Span

RISING = Picture(
    rows=(Row(((0, 0), (10, 10)), glyph="•"),),
    bands=(Band(4, 6),),
    rules=(Rule(8, "limit"),),
    marks=(Mark(5, "◆", "words", through=True),),
    x=(0, 10), y=(0, 10), x_ticks=((0, "begin"), (10, "end")), y_ticks=((0, "0"), (10, "10")), text="It rises.",
)  # fmt: skip


class Holder(App[None]):
    """A program with nothing but a picture."""

    def __init__(self) -> None:
        super().__init__()
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = THEMES[0].name
        self.plot = Plot()

    def compose(self) -> ComposeResult:
        """The picture alone."""
        yield self.plot


def drawn(plot: Plot) -> list[str]:
    """Return the picture as lines of text."""
    return ["".join(plot.get_pixel(x, y)[0] for x in range(plot.size.width)) for y in range(plot.size.height)]


async def test_everything_has_its_place() -> None:
    """The first point stands below on the left, the last above on the right; words beside the scales, a mark below."""
    app = Holder()
    async with app.run_test(size=(43, 12)) as pilot:
        app.plot.show(RISING)
        await pilot.pause()
        rows = drawn(app.plot)

        assert rows[0].startswith("10")
        assert rows[0].rstrip().endswith("•")
        assert rows[9].startswith(" 0 •")
        assert rows[2].rstrip().endswith("limit")
        assert "◆" in rows[10]
        assert rows[10].index("◆") == rows[1].index("┊")
        assert rows[11].split() == ["begin", "end"]
        assert sum("⠀" < letter <= "⣿" for letter in "".join(rows)) >= 20


async def test_a_band_lies_under_what_is_drawn_and_follows_the_theme() -> None:
    """The cells of the band have a ground of their own in each theme, the line in it keeps its colour."""
    app = Holder()
    async with app.run_test(size=(43, 12)) as pilot:
        app.plot.show(RISING)
        grounds = set()
        for theme in THEMES:
            app.theme = theme.name
            await pilot.pause()
            inside = {app.plot.get_pixel(x, 5)[1] for x in range(4, 40)}
            grounds.add(next(style.partition(" on ")[2] or style.removeprefix("on ") for style in inside))
            assert all("on #" in style for style in inside)
            assert any(theme.variables["accent-text"].lower() in style.lower() for style in inside)
            assert "on #" not in app.plot.get_pixel(6, 0)[1]

        assert len(grounds) == len(THEMES)


async def test_a_band_has_no_holes_where_nothing_is_drawn() -> None:
    """Every line between the ends of the band is painted on its ground, also one that holds no letter at all."""
    app = Holder()
    empty = Picture(bands=(Band(2, 8),), x=(0, 10), y=(0, 10))
    async with app.run_test(size=(43, 12)) as pilot:
        app.plot.show(empty)
        await pilot.pause()
        on = app.plot.field
        grounds = [
            {segment.style.bgcolor for segment in app.plot.render_line(y) if segment.style} for y in range(on.height)
        ]
        inside = range(int(on.down(8)), int(on.down(2)) + 1)
        plain, band = grounds[0], grounds[inside[0]] - grounds[0]

        assert len(plain) == len(band) == 1
        assert all(band <= found for y, found in enumerate(grounds) if y in inside)
        assert all(found == plain for y, found in enumerate(grounds) if y not in inside)
        assert all(app.plot.render_line(y).cell_length == 43 for y in range(12))


async def test_a_line_breaks_at_a_gap() -> None:
    """Where readings are missing, nothing is drawn between those beside the gap."""
    app = Holder()
    gap = Picture(rows=(Row(((0, 5), (1, 5), (9, 5), (10, 5)), gap=2),), x=(0, 10), y=(0, 10))
    async with app.run_test(size=(43, 12)) as pilot:
        app.plot.show(gap)
        await pilot.pause()
        (row,) = [row for row in drawn(app.plot) if row.strip()]

        assert "          " in row.strip()
        assert len(row.split()) == 2


async def test_marks_that_meet_stand_beside_each_other() -> None:
    """Of two marks on one day the more telling one, which comes last, keeps its place; like ones are one."""
    app = Holder()
    marks = (Mark(5, "×"), Mark(5, "◆"), Mark(5, "◆"))
    async with app.run_test(size=(43, 12)) as pilot:
        app.plot.show(Picture(marks=marks, x=(0, 10), y=(0, 10)))
        await pilot.pause()
        row = drawn(app.plot)[-1]

        assert row.strip() == "◆×"
        assert row.index("◆") == int(app.plot.field.across(5))


async def test_an_interval_stands_upright() -> None:
    """A span goes from one number to the other, and no further."""
    app = Holder()
    async with app.run_test(size=(43, 12)) as pilot:
        app.plot.show(Picture(spans=(Span(5, 2, 8),), x=(0, 10), y=(0, 10)))
        await pilot.pause()
        there = [at for at, row in enumerate(drawn(app.plot)) if row.strip()]

        assert there == list(range(there[0], there[-1] + 1))
        assert 2 <= there[0] <= 3
        assert 8 <= there[-1] <= 9


async def test_what_is_outside_is_left_out_and_a_small_picture_is_words() -> None:
    """Points outside the scales break nothing; where there is no room for a picture its text stands there."""
    app = Holder()
    far = Picture(rows=(Row(((-50, 3), (5, 5), (60, 900))),), bands=(Band(50, 60),), rules=(Rule(99),),
                  marks=(Mark(-3, "◆"),), x=(0, 10), y=(0, 10), text="One reading of 5.")  # fmt: skip
    async with app.run_test(size=(43, 12)) as pilot:
        app.plot.show(far)
        await pilot.pause()
        assert "◆" not in "".join(drawn(app.plot))
        await pilot.resize_terminal(20, 4)
        await pilot.pause()
        assert drawn(app.plot)[0].startswith("One reading of 5.")
