"""One question as a whole, drawn as one widget."""

from textual import events
from textual.app import App, ComposeResult

from walkabout.screens.text import plain
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.question import QuestionView, Shown

SHOWN = Shown(
    where=plain("RAFT TUB"), ask="How far is the solution below the raft?", rows=(Row("touching"), Row("dry"))
)


class Deaf(QuestionView):
    """Hears nothing of its size."""

    def on_resize(self, event: events.Resize) -> None:  # type: ignore[override]
        """Keep the word from the question."""
        event.prevent_default()


class Asks(App[None]):
    """Shows one question."""

    def __init__(self, shown: Shown) -> None:
        super().__init__()
        self.view = Deaf()
        self.view.show(shown)

    def compose(self) -> ComposeResult:
        """Nothing but the question."""
        yield self.view


def lines_of(app: Asks) -> list[str]:
    """Return what is painted, line by line."""
    return ["".join(segment.text for segment in row).strip() for row in app.screen._compositor.render_strips()]


async def test_the_first_paint_shows_the_question() -> None:
    """What was given before the size was known is laid out by the first paint itself, without word of the size."""
    app = Asks(SHOWN)
    async with app.run_test(size=(80, 24)):
        lines = lines_of(app)
    assert lines[0] == "RAFT TUB"
    assert lines[2] == "How far is the solution below the raft?"
    assert [line.split()[-1] for line in lines if line[:1].isdigit()] == ["touching", "dry"]


async def test_a_long_place_keeps_to_its_line() -> None:
    """A place too long for the window ends in an ellipsis; the rows stay where a click looks for them."""
    app = Asks(Shown(where=plain("A VERY LONG NAME " * 8), ask="Is it wet?", rows=(Row("yes"),)))
    async with app.run_test(size=(40, 24)):
        lines = lines_of(app)
        first = app.view._first_row
    assert lines[0].endswith("…")
    assert lines[2] == "Is it wet?"
    assert lines[first].startswith("1")
