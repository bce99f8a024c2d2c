"""What to do at once about a finding that cannot wait, and nothing else."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.room.model import Who
from walkabout.round.endings import FOR
from walkabout.round.flagged import Flagged
from walkabout.screens.alarm import HEADS
from walkabout.screens.base import Ask
from walkabout.screens.text import plain
from walkabout.screens.widgets.keyline import Key, KeyLine

DO_NOT_TOUCH = (
    "Hands off: plugs, leads, lamps and anything wet near them; broken glass; bottles of acid, salts or spray; "
    "what has been spilled."
)
DECIDES = "The emergency plan of the school, local codes and licensed people decide what comes next."


def acts(verdict: str, role: Who) -> tuple[str, ...]:
    """Return the first acts, in the order of doing, for a finding of this verdict and somebody in this role."""
    if verdict == "stop" and role == "pupil":
        return ("Step back, and take the others with you.", "Fetch an adult. Do not go back to it alone.")
    if verdict == "stop":
        return (
            "Take everybody away from it, and stay between it and them.",
            "If anybody is hurt, or there is smoke or fire, that comes first: follow the emergency plan.",
        )
    if role == "pupil":
        return ("Fetch an adult, before anybody leaves the room.", "Until then, leave it as it is.")
    return ("See to it before anybody leaves the room, or say who does.",)


class AdviceScreen(Ask[None]):
    """Fills the screen until somebody has read it."""

    CSS_PATH = "../alarm.tcss"
    AUTO_FOCUS = "#alarm"
    HELP = "This cannot wait. Do what stands here, then press enter."
    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "seen_to", "seen to", tooltip="It is seen to: go on")]

    def __init__(self, flagged: Flagged, again: str) -> None:
        super().__init__()
        self._flagged, self._again = flagged, again

    def compose(self) -> ComposeResult:
        """Verdict, place and what is seen; what to do; the caution; what was written down."""
        opened, finding = self.app.opened, self._flagged.finding
        rows = [plain(HEADS[finding.verdict], "$act bold")]
        rows.append(plain(f"{opened.name_of(finding.station)}. {finding.seen}"))
        rows += [plain(act, "bold") for act in acts(finding.verdict, opened.room.role(finding.by))]
        rows.append(plain(DO_NOT_TOUCH, "$watch"))
        rows.append(plain(DECIDES, "$muted"))
        job = f" There is a job for {FOR[self._flagged.job.who]}." if self._flagged.job else ""
        rows.append(plain(f"Written down.{job} {self._again}", "$muted"))
        if self._flagged.unsaved:
            rows.append(plain(f"Not on disk yet: {self._flagged.unsaved}", "$act"))
        with VerticalScroll(id="alarm"):
            yield Static(Content("\n\n").join(rows))
        yield KeyLine((Key("enter", "seen to, go on", "screen.seen_to"), Key("?", "help", "app.help")))

    def action_seen_to(self) -> None:
        """Go on."""
        self.dismiss()
