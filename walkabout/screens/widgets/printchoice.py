"""What is chosen on the screen that prints: which kind, its few options, and the file it goes to."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from walkabout.jobs.trials import in_order
from walkabout.paper.making import KINDS, WHAT, Kind, Wanted, file_name, usual_folder, usual_paper
from walkabout.paper.sizes import PAPERS
from walkabout.records.model_measured import Trial
from walkabout.round.opened import OpenRoom
from walkabout.screens.widgets.stagewords import day_long


class Chosen:
    """What somebody has chosen so far. Options stay when another kind is pointed at, and return with it."""

    def __init__(self, what: str = "", trial: str = "") -> None:
        """`what`: one of WHAT, '' for the first; `trial`: the key of a trial, '' for the first of the list."""
        self.at = WHAT.index(what) if what in WHAT else 0
        self.paper = ""
        self.day: date | None = None
        self.walker = ""
        self.people = ""
        self.trial = trial
        self.since: date | None = None
        self.until: date | None = None
        self.folder = usual_folder()
        self.named: dict[str, str] = {}
        """The file name that somebody typed for a kind."""

    @property
    def kind(self) -> Kind:
        """What is pointed at."""
        return KINDS[self.at]

    def trial_in(self, opened: OpenRoom) -> Trial | None:
        """Return the trial that was chosen, else the first of the list; None where there is none."""
        trials = in_order(opened.records.trials())
        return next((one for one in trials if one.key == self.trial), trials[0] if trials else None)

    def wanted(self, opened: OpenRoom) -> Wanted:
        """Return what would be printed."""
        takes = self.kind.takes
        trial = self.trial_in(opened) if "trial" in takes else None
        return Wanted(
            what=self.kind.name,
            paper=self.paper,
            day=self.day if "day" in takes else None,
            walker=self.walker if "walker" in takes else "",
            since=self.since if "since" in takes else None,
            until=self.until if "until" in takes else None,
            people=self.people if "people" in takes else "",
            trial=trial.key if trial else "",
        )

    def path(self, opened: OpenRoom) -> Path:
        """Return the file that would be written."""
        trial = self.trial_in(opened) if self.kind.name == "plots" else None
        usual = file_name(self.wanted(opened), opened.today(), trial.question if trial else "")
        return self.folder / self.named.get(self.kind.name, usual)

    def size(self, opened: OpenRoom) -> str:
        """Return the name of the paper."""
        return self.paper or usual_paper(opened).name

    def other_size(self, opened: OpenRoom) -> None:
        """Take the next size of paper."""
        names = list(PAPERS)
        self.paper = names[(names.index(self.size(opened)) + 1) % len(names)]

    def options(self, opened: OpenRoom) -> list[tuple[str, str, str, str]]:
        """Return (key, name, value, action) of what can be changed for the kind pointed at."""
        takes, today = self.kind.takes, opened.today()
        found = [("s", "paper", self.size(opened), "size")]
        if "day" in takes:
            on = self.day or today
            found.append(("d", "day", f"today, {day_long(on)}" if on == today else day_long(on), "days"))
        if "walker" in takes:
            found.append(("a", "walker", self.walker or "not said: filled in by hand", "walker"))
        if "trial" in takes:
            trial = self.trial_in(opened)
            found.append(("t", "trial", trial.question if trial else "there is none yet", "trial"))
        if "people" in takes:
            found.append(("c", "class", self.people or "each to whom a promise was kept", "people"))
        if "since" in takes:
            found.append(("d", "days", span_words((self.since, self.until)), "days"))
        return [*found, ("w", "file", self.path(opened).name, "where")]


def span_words(days: Sequence[date | None]) -> str:
    """Say which days a report is about."""
    first, last = days
    if first is None and last is None:
        return "as usual: this term, else the last 12 weeks"
    begins = f"from {day_long(first)}" if first else ""
    ends = f"to {day_long(last)}" if last else ""
    return " ".join(filter(None, (begins, ends)))
