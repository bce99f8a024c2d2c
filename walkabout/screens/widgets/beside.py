"""Something that takes long, done in a thread of its own, watched and stopped from the screen."""

import asyncio
import threading
from collections.abc import Callable
from contextlib import suppress
from typing import TypeVar

from textual.content import Content

from walkabout.screens.text import plain

Result = TypeVar("Result")
BAR = 30
"""Cells of a bar."""


class Stopped(Exception):
    """Somebody stopped it."""


async def beside(work: Callable[[], Result], *, waited_for: bool = False) -> Result:
    """Return what `work` returns, done in a thread; the program ends without it, but where it is `waited_for`."""
    loop = asyncio.get_running_loop()
    done: asyncio.Future[Result] = loop.create_future()

    def settle(found: Result | None, error: Exception | None) -> None:
        if done.done():
            return  # nobody waits for it any longer
        if error is not None:
            done.set_exception(error)
        else:
            done.set_result(found)  # type: ignore[arg-type]

    def run() -> None:
        found, failed = None, None
        try:
            found = work()
        except Exception as error:  # raised again where it is waited for
            failed = error
        with suppress(RuntimeError):  # the program has ended meanwhile
            loop.call_soon_threadsafe(settle, found, failed)

    threading.Thread(target=run, daemon=not waited_for, name="beside the screen").start()
    return await done


class Work:
    """One long job. The thread tells how far it has come; nothing of a screen is touched there."""

    def __init__(self, says: str) -> None:
        self.says = says
        self.steps = 0
        """How many steps there are, about; 0 while that is not known."""
        self.done = 0
        self.stopped = False
        """Whether somebody has had enough."""

    def ticks(self, steps: int) -> None:
        """Take in, in the thread, that so many more are done; Stopped when that was enough."""
        if self.stopped:
            raise Stopped
        self.done += steps

    def stop(self) -> None:
        """Let it stop at its next step."""
        self.stopped = True

    async def run(self, job: Callable[[], Result]) -> Result:
        """Return what the job returns, or raise what it raises.

        The program does not end before the thread does: what it writes is never cut off.
        """

        def run() -> Result:
            self.ticks(0)
            return job()

        try:
            return await beside(run, waited_for=True)
        except asyncio.CancelledError:  # the screen is gone
            self.stop()
            raise

    def drawn(self) -> Content:
        """Return one line: what is done, a bar, how far it has come."""
        if not self.steps:
            return plain(f"{self.says} …", "$muted")
        share = min(self.done / self.steps, 1.0)
        full = round(share * BAR)
        bar = plain("━" * full, "$accent-text").append(plain("─" * (BAR - full), "$muted"))
        return Content("").join([plain(f"{self.says} "), bar, plain(f" {share:4.0%}", "bold")])
