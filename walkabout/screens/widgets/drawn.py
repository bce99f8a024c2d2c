"""What draws its own lines: each of them fits already, and none holds a link."""

from textual.reactive import Reactive
from textual.widget import Widget


class Drawn(Widget):
    """A widget whose lines are painted as they were drawn: not wrapped once more, not searched for links."""

    DEFAULT_CSS = """
    Drawn { text-wrap: nowrap; text-overflow: clip; }
    """

    auto_links: Reactive[bool] = Reactive(False)  # noqa: FBT003 - the way reactives are set up
    """No link is ever drawn."""
