"""A short message on the screen."""

from time import time

from textual.notifications import Notification

LEAST = 0.05
"""Seconds for which a message that is shown stands at the least."""


class Told(Notification):
    """A message whose time may run out between being looked at and being shown.

    The framework would then set a timer that should have rung already, and goes round in that for ever.
    """

    @property
    def time_left(self) -> float:
        """Return the seconds for which it is still to stand; never less than a moment."""
        return max(self.raised_at + self.timeout - time(), LEAST)

    @property
    def has_expired(self) -> bool:
        """Say whether its time is over."""
        return self.raised_at + self.timeout <= time()
