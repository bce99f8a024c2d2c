"""Letters that a line of text missed: a quick hand types before the line has the focus, a click takes it away."""

from textual import events
from textual.widgets import Input


def goes_into(line: Input, event: events.Key) -> bool:
    """Put what was typed into the line that was meant, and give it the focus; say whether there was anything.

    A line that has the focus keeps what can be printed to itself, so whatever of it reaches the screen was missed.
    """
    if not event.is_printable or not event.character:
        return False
    if not line.has_focus:
        # at once, not after the next key as with line.focus()
        line.screen.set_focus(line)
    line.replace(event.character, *line.selection)
    event.stop()
    event.prevent_default()
    return True
