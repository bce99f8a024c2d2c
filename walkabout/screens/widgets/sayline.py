"""The line in which one says what is seen. While it is empty, single keys of the look are answers."""

from textual import events
from textual.message import Message
from textual.widgets import Input


class SayLine(Input):
    """A line of text; `answers` are the characters that are no text while it holds none."""

    class Answered(Message):
        """A key of the look was pressed while the line was empty."""

        def __init__(self, key: str) -> None:
            super().__init__()
            self.key = key

    answers: str = ""

    def on_key(self, event: events.Key) -> None:
        """Hand a key of the look on, before it becomes text."""
        character = event.character or ""
        if not self.value and character and character in self.answers:
            event.stop()
            event.prevent_default()
            self.post_message(self.Answered(character))
