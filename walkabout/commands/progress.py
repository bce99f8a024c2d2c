"""A bar that shows how far something has come, on standard error and only where somebody watches."""

import sys
from contextlib import AbstractContextManager
from typing import Protocol

import click


class Bar(Protocol):
    """What is told how much more has been done."""

    def update(self, n_steps: int) -> None:
        """So many more are done."""


def progress(length: int, label: str) -> AbstractContextManager[Bar]:
    """Return a context with a bar for so many steps."""
    watched = sys.stderr.isatty()
    return click.progressbar(length=max(length, 1), label=label, file=sys.stderr, hidden=not watched)
