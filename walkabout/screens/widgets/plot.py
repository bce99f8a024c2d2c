"""A picture of numbers: lines and points between two scales, on a canvas of dots.

The canvas is textual-hires-canvas, the drawing half of textual-plot. That widget itself draws a frame, knows no
shaded band, and takes the arrow keys; textual-plotext holds an older plotext and has had no release for two years.
Only what shows a picture imports this module: the canvas loads numpy.
"""

import itertools
from collections.abc import Sequence

from msgspec import Struct
from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.geometry import Size
from textual.strip import Strip
from textual.theme import Theme
from textual_hires_canvas import Canvas, HiResMode

from walkabout.screens.widgets.ticks import Tick

LEAST = Size(24, 5)
"""A picture smaller than this shows nothing: its text stands there instead."""
BAND = 0.16
"""How much of its colour a band has."""
DOTS = (2, 4)
"""Dots in a cell, across and down."""


class Row(Struct, frozen=True):
    """Points by x. `style` is a colour of the theme; a line breaks where neighbours are further apart than `gap`."""

    points: tuple[tuple[float, float], ...]
    style: str = "accent-text"
    line: bool = True
    glyph: str = ""
    """Written at every point; '' for none."""
    gap: float | None = None


class Band(Struct, frozen=True):
    """A shaded range of y."""

    low: float
    high: float
    style: str = "good"


class Rule(Struct, frozen=True):
    """A dashed line across, with a word at its right end."""

    at: float
    says: str = ""
    style: str = "muted"


class Mark(Struct, frozen=True):
    """A glyph below the picture; with `through`, a thin line goes up from it."""

    at: float
    glyph: str
    style: str = "muted"
    through: bool = False


class Span(Struct, frozen=True):
    """An upright line from one y to another, such as an interval."""

    at: float
    low: float
    high: float
    style: str = "words"


class Picture(Struct, frozen=True, kw_only=True):
    """All that is drawn. `x` and `y` are the ends of the scales; `text` says in words what is to be seen."""

    rows: tuple[Row, ...] = ()
    bands: tuple[Band, ...] = ()
    rules: tuple[Rule, ...] = ()
    marks: tuple[Mark, ...] = ()
    spans: tuple[Span, ...] = ()
    x: tuple[float, float] = (0.0, 1.0)
    y: tuple[float, float] = (0.0, 1.0)
    x_ticks: tuple[Tick, ...] = ()
    y_ticks: tuple[Tick, ...] = ()
    text: str = ""


class Field(Struct, frozen=True):
    """The cells in which points stand, and the scales over them."""

    left: int
    width: int
    height: int
    x: tuple[float, float]
    y: tuple[float, float]

    def across(self, x: float) -> float:
        """Return how many cells right of the left edge of the widget a value stands."""
        share = (x - self.x[0]) / ((self.x[1] - self.x[0]) or 1.0)
        return self.left + 0.5 + share * (self.width - 1)

    def down(self, y: float) -> float:
        """Return how many cells below the upper edge a value stands."""
        share = (y - self.y[0]) / ((self.y[1] - self.y[0]) or 1.0)
        return 0.5 + (1 - share) * (self.height - 1)

    def holds(self, x: float, y: float) -> bool:
        """Say whether a point is in the picture."""
        return self.x[0] <= x <= self.x[1] and self.y[0] <= y <= self.y[1]


def field(picture: Picture, width: int, height: int) -> Field:
    """Return where the points go on so many cells: right of the words of the y scale, above marks and the x scale."""
    left = max((cell_len(says) for _, says in picture.y_ticks), default=0) + 1
    below = bool(picture.x_ticks) + bool(picture.marks)
    return Field(left, max(width - left - 1, 2), max(height - below, 2), picture.x, picture.y)


class Plot(Canvas):
    """Shows a picture in the colours of the theme."""

    DEFAULT_CSS = """
    Plot { height: 1fr; width: 1fr; background: $ground; color: $words; }
    """

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(1, 1, id=id)
        self.picture = Picture()

    def on_mount(self) -> None:
        """Draw again when the colours change."""
        self.app.theme_changed_signal.subscribe(self, self._recoloured)

    def _recoloured(self, _theme: Theme) -> None:
        self._draw()

    def on_resize(self) -> None:
        """Draw for the new size."""
        self._draw()

    def render_line(self, y: int) -> Strip:
        """Return a line; the canvas gives no style to one that is not made yet, nor a band to one without a letter."""
        drawn = super().render_line(y)
        if not drawn.cell_length:
            return Strip.blank(self.size.width, self.rich_style)
        return drawn if drawn.text.strip(" ") else self._bare(y, drawn.cell_length)

    def _bare(self, y: int, width: int) -> Strip:
        """Return a line without a letter, on the ground that each of its cells has."""
        styles = itertools.groupby(self.get_pixel(x, y)[1] for x in range(width))
        parts = ((len(list(cells)), Style.parse(style)) for style, cells in styles)
        return Strip([Segment(" " * many, self.rich_style + style) for many, style in parts], width)

    def show(self, picture: Picture) -> None:
        """Show another picture."""
        self.picture = picture
        self._draw()

    @property
    def field(self) -> Field:
        """Where the points stand now."""
        return field(self.picture, *self.size)

    def _draw(self) -> None:
        size = self.size
        if not size.area:
            return
        with self.batch_refresh():
            self.reset(size)
            if size.width < LEAST.width or size.height < LEAST.height:
                self._words()
                return
            on = self.field
            for mark in self.picture.marks:
                if mark.through:
                    self._upright(on, mark)
            for rule in self.picture.rules:
                self._rule(on, rule)
            for style in dict.fromkeys(span.style for span in self.picture.spans):
                self._lines([_ends(on, span) for span in self.picture.spans if span.style == style], style)
            for row in self.picture.rows:
                self._row(on, row)
            for band in self.picture.bands:
                self._band(on, band)
            self._scales(on)

    def _colour(self, name: str) -> str:
        return self.app.theme_variables.get(name, "") or "default"

    def _words(self) -> None:
        from rich.text import Text  # noqa: PLC0415 - only on a window too small for a picture

        rows = Text(self.picture.text).wrap(self.app.console, self.size.width)[: self.size.height]
        for at, row in enumerate(rows):
            self._write(0, at, row.plain.rstrip(), "words")

    def _write(self, x: int, y: int, text: str, style: str) -> None:
        colour = self._colour(style)
        for letter in text:
            self.set_pixel(x, y, letter, colour)
            if cell_len(letter) == 2:
                self.set_pixel(x + 1, y, "", colour)
            x += max(cell_len(letter), 1)

    def _lines(self, ends: Sequence[tuple[float, float, float, float]], style: str) -> None:
        self.draw_hires_lines(list(ends), hires_mode=HiResMode.BRAILLE, style=self._colour(style))

    def _row(self, on: Field, row: Row) -> None:
        points = [one for one in row.points if on.holds(*one)]
        if row.line:
            pairs = itertools.pairwise(points)
            joined = [(one, other) for one, other in pairs if row.gap is None or other[0] - one[0] <= row.gap]
            # a cell is written anew by every call: the lone points go along as lines of no length
            self._lines(_once(on, [*joined, *((one, one) for one in points)]), row.style)
        if row.glyph:
            for x, y in points:
                self._write(int(on.across(x)), int(on.down(y)), row.glyph, row.style)

    def _rule(self, on: Field, rule: Rule) -> None:
        if not on.y[0] <= rule.at <= on.y[1]:
            return
        y, end = int(on.down(rule.at)), on.left + on.width
        says = f" {rule.says}" if rule.says else ""
        dashes = max(on.width - cell_len(says), 0)
        self.set_pixels([(x, y) for x in range(on.left, on.left + dashes)], "╌", self._colour(rule.style))
        self._write(end - cell_len(says), y, says, rule.style)

    def _upright(self, on: Field, mark: Mark) -> None:
        if on.x[0] <= mark.at <= on.x[1]:
            x = int(on.across(mark.at))
            self.set_pixels([(x, y) for y in range(on.height)], "┊", self._colour("muted"))

    def _band(self, on: Field, band: Band) -> None:
        """Lay a band under what is drawn already."""
        low, high = max(band.low, on.y[0]), min(band.high, on.y[1])
        if low > high:
            return
        ground = Color.parse(self._colour("ground"))
        shade = ground.blend(Color.parse(self._colour(band.style)), BAND).hex
        for y in range(int(on.down(high)), int(on.down(low)) + 1):
            for x in range(on.left, on.left + on.width):
                letter, style = self.get_pixel(x, y)
                self.set_pixel(x, y, letter, f"{style} on {shade}".strip())

    def _scales(self, on: Field) -> None:
        taken: set[int] = set()
        for at, says in self.picture.y_ticks:
            y = int(on.down(at))
            if on.y[0] <= at <= on.y[1] and y not in taken:
                taken.add(y)
                self._write(on.left - 1 - cell_len(says), y, says, "muted")
        free = 0
        for at, says in self.picture.x_ticks:
            long = cell_len(says)
            start = min(max(int(on.across(at)) - long // 2, on.left), on.left + on.width - long)
            if on.x[0] <= at <= on.x[1] and start >= free:
                self._write(start, self.size.height - 1, says, "muted")
                free = start + long + 1
        self._marks(on)

    def _marks(self, on: Field) -> None:
        """Write the marks below the picture; where two meet the later one keeps its cell, the other moves beside it."""
        taken: dict[int, str] = {}
        for mark in reversed(self.picture.marks):
            x = int(on.across(mark.at))
            beside = [at for at in (x, x + 1, x - 1) if taken.get(at, mark.glyph) == mark.glyph]
            if on.x[0] <= mark.at <= on.x[1] and beside:
                taken[beside[0]] = mark.glyph
                self._write(beside[0], on.height, mark.glyph, mark.style)


def _ends(on: Field, span: Span) -> tuple[float, float, float, float]:
    x = on.across(span.at)
    return x, on.down(span.low), x, on.down(span.high)


def _once(
    on: Field, joined: Sequence[tuple[tuple[float, float], tuple[float, float]]]
) -> list[tuple[float, float, float, float]]:
    """Return the lines between points in cells, each that would cover the same dots only once."""
    found: dict[tuple[int, int, int, int], tuple[float, float, float, float]] = {}
    for one, other in joined:
        ends = on.across(one[0]), on.down(one[1]), on.across(other[0]), on.down(other[1])
        dots = tuple(int(value * DOTS[at % 2]) for at, value in enumerate(ends))
        found.setdefault(dots, ends)  # type: ignore[arg-type]
    return list(found.values())
