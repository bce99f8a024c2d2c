"""An alarm: what to do before the round goes on, and nothing else."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.jobs.life import words_for
from walkabout.room.model import may
from walkabout.round.walk import Outcome
from walkabout.screens.base import Ask
from walkabout.screens.text import plain
from walkabout.screens.widgets.keyline import Key, KeyLine

HEADS = {
    "stop": "STOP. People first, hands off, fetch an adult.",
    "now": "NOW. Before anybody leaves the room.",
}


class AlarmScreen(Ask[None]):
    """Fills the screen until somebody has seen to it."""

    CSS_PATH = "alarm.tcss"
    HELP = "Something cannot wait. Do what stands here, then press enter: the round goes on at the next question."
    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "seen_to", "seen to", tooltip="It is seen to: go on")]

    def __init__(self, outcome: Outcome, walker: str) -> None:
        super().__init__()
        self._outcome = outcome
        self._walker = walker

    def compose(self) -> ComposeResult:
        """Verdict, place and reason; what to do; who; the caution; the job it made."""
        opened, judgement = self.app.opened, self._outcome.judgement
        role = opened.room.role(self._walker)
        rows = [plain(HEADS[judgement.verdict], "$act bold")]
        rows.append(plain(f"{opened.name_of(self._outcome.answer.station)}. {judgement.why}"))
        for meaning in judgement.meanings:
            if meaning.do:
                rows.append(plain(meaning.do, "bold"))
            if meaning.do and not may(role, meaning.who):
                rows.append(plain(f"This is for {_a(meaning.who)}. Fetch one now; do not do it yourself.", "$act"))
            if meaning.caution:
                rows.append(plain(f"Caution: {meaning.caution}", "$watch"))
        rows += [
            plain(f"Written down as a job ({words_for(job.who)}): {job.what}", "$muted") for job in self._outcome.jobs
        ]
        if self._outcome.unsaved:
            rows.append(plain(f"Not on disk yet: {self._outcome.unsaved}", "$act"))
        with VerticalScroll(id="alarm", can_focus=False):
            yield Static(Content("\n\n").join(rows))
        yield KeyLine((Key("enter", "seen to, go on", "screen.seen_to"), Key("?", "help", "app.help")))

    def action_seen_to(self) -> None:
        """Go on with the round."""
        self.dismiss()


def _a(who: str) -> str:
    return {"adult": "an adult", "licensed": "a licensed person"}.get(who, "anybody")
