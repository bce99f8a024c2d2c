"""Setting up a count of kinds against a ratio: the kinds, the ratio, another worth telling from it, and the trays."""

import asyncio

from walkabout.insight.trials.say import number
from walkabout.jobs.trial_rules import LONGEST, MOST_KINDS, MOST_PLOTS, MOST_SOWN, SHORT
from walkabout.jobs.trials import set_up_ratio
from walkabout.records.model_measured import Kind, Trial
from walkabout.round.ratio_trials import needed, needed_says
from walkabout.round.trial_plan import laid_out, places
from walkabout.screens.app import Walkabout
from walkabout.screens.widgets.asking import Checked, NumberScreen, PickScreen, through
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.trialcode import code_of, keep
from walkabout.screens.widgets.trialquestion import Compared

PLATES = "trays or plates"


class Counting(Compared):
    """What is known so far of a count that is being set up."""

    asked_like = "A question that counting can answer: Do green and pale seedlings come 3 to 1?"
    kinds: tuple[str, ...] = ()
    parts: tuple[float, ...] = ()
    other: tuple[float, ...] = ()
    sown: int | None = None

    def about(self) -> str:
        """Say what is known so far, in two lines."""
        parts = [self.question or "A new trial"]
        if self.kinds:
            ratio = f" against {_ratio(self.parts)}" if self.parts else ""
            parts.append(f"{' : '.join(self.kinds)}{ratio}")
        return "\n".join(parts)

    async def ask_kinds(self) -> bool:
        """Ask for the kinds."""
        got = await self._line(
            "2  Which kinds are told apart? The one that is expected most first.", _kinds,
            text="; ".join(self.kinds), most=LONGEST,
            hint=f"Such as: green; pale. From 2 to {MOST_KINDS}, with a semicolon between them.",
        )  # fmt: skip
        if got is not None:
            self.kinds, self.parts, self.other = _kinds(got), (), ()
        return got is not None

    async def ask_parts(self) -> bool:
        """Ask for the ratio."""
        usual = {2: "3:1", 3: "1:2:1", 4: "9:3:3:1"}.get(len(self.kinds), "")
        got = await self._line(
            f"3  In which ratio are {' : '.join(self.kinds)} expected?", self._parts,
            text=_ratio(self.parts) if self.parts else usual, most=SHORT,
            hint="The ratio that the question is about, a part for each kind, such as 3:1.",
        )  # fmt: skip
        if got is not None:
            self.parts = self._parts(got)
        return got is not None

    async def ask_other(self) -> bool:
        """Ask for the other ratio."""
        even = ":".join("1" for _ in self.kinds)
        got = await self._line(
            f"4  From which other ratio should {_ratio(self.parts)} be told?", self._other,
            text=_ratio(self.other) if self.other else even, most=SHORT,
            hint="The nearer it is, the more must be counted. Left empty: none.",
        )  # fmt: skip
        if got is not None:
            self.other = self._other(got)
        return got is not None

    async def ask_how_told(self) -> bool:
        """Ask how kinds are told apart."""
        got = await self._line(
            "5  When and how are they told apart, so that everybody does it alike?", None, text=self.how, most=LONGEST,
            hint="Such as: when both seed leaves are open; green or not, held beside white paper. May be left empty.",
        )  # fmt: skip
        self.how = got if got is not None else self.how
        return got is not None

    async def ask_where(self) -> bool:
        """Ask where they grow."""
        found = [*places(self.app.opened, "tray"), *places(self.app.opened, "station")]
        rows = [Row("all of them"), *(Row(one.says) for one in found)]
        got = await self._pick("6  Where do they grow? Tick, then enter.", rows, ticks=True)
        if got is not None:
            self.at = tuple(found) if 0 in got else tuple(found[one - 1] for one in got)
        return got is not None

    async def ask_trays(self) -> bool:
        """Ask how many trays or plates there are; what must be counted is reckoned beside it."""
        each = f"at each of the {len(self.at)} places" if len(self.at) > 1 else "there"
        kinds = self._as_kinds()
        self.planned = await asyncio.to_thread(needed, kinds)
        about = "\n".join([self.about(), *needed_says(kinds, self.planned)])
        got = await self.app.push_screen_wait(
            NumberScreen(f"7  How many {PLATES} are {each}?", self._trays, about=about, unit=PLATES)
        )
        self.per_place = round(got or 1)
        return got is not None

    async def ask_sown(self) -> bool:
        """Ask how many seeds are sown in each."""
        about = "\n".join([self.about(), *needed_says(self._as_kinds(), self.planned)])
        got = await self.app.push_screen_wait(NumberScreen(
            "8  How many seeds are sown in each?", self._sown, about=about, unit="seeds",
            remark="enter alone: not known",
        ))  # fmt: skip
        self.sown = round(got) if got else None
        return got is not None

    async def ask_write(self) -> bool:
        """Show what would make it unfair, then write it down."""
        from walkabout.round.trials import unfair_says  # noqa: PLC0415 - only at the last step

        try:
            trial = self.trial("")
        except ValueError as error:
            self.app.say(str(error), grave=True)
            return False
        lines = [self.about(), f"{len(trial.plots)} {PLATES}. {' '.join(needed_says(trial.kinds, self.planned)[:1])}"]
        lines += [f"▴ {one}" for one in unfair_says(self.app.opened, trial)]
        while True:
            ask = PickScreen("9  Is this the trial?", [Row("write it down")], about="\n".join(lines))
            if await self.app.push_screen_wait(ask) is None:
                return False
            if by := await code_of(self.app):
                keep(self.app, self.trial(by))
                return True
            self.app.say("Nothing is written down yet: it needs somebody's code.", grave=True)

    def trial(self, by: str) -> Trial:
        """Return the trial as it is known now; ValueError says what is missing."""
        return set_up_ratio(
            question=self.question, kinds=self._as_kinds(), plots=laid_out("tray", self.at, self.per_place), by=by,
            now=self.app.opened.clock(), how=self.how, sown_each=self.sown, planned=self.planned,
        )  # fmt: skip

    def _as_kinds(self) -> tuple[Kind, ...]:
        other = self.other or (None,) * len(self.kinds)
        return tuple(
            Kind(name=name, part=part, other=one)
            for name, part, one in zip(self.kinds, self.parts, other, strict=True)
        )  # fmt: skip

    def _parts(self, typed: str) -> tuple[float, ...]:
        from walkabout.insight.trials.ratio import read_ratio  # noqa: PLC0415 - only for a ratio

        read = read_ratio(typed)
        if read is None or read[0]:
            raise ValueError("Write a ratio with : between its parts, such as 3:1.")
        if len(read[1]) != len(self.kinds):
            raise ValueError(f"There are {len(self.kinds)} kinds, so the ratio has {len(self.kinds)} parts.")
        if max(read[1]) > 100:
            raise ValueError("Each part of a ratio is at most 100.")
        return read[1]

    def _other(self, typed: str) -> tuple[float, ...]:
        if not typed:
            return ()
        other = self._parts(typed)
        apart = [abs(a / sum(other) - b / sum(self.parts)) for a, b in zip(other, self.parts, strict=True)]
        if max(apart) < 0.005:
            raise ValueError("That is the same ratio, or nearly: name one that is worth telling from it.")
        return other

    def _trays(self, typed: str) -> Checked:
        if not (typed.isascii() and typed.isdigit() and int(typed)):
            raise ValueError("Type how many, such as 4.")
        if int(typed) * len(self.at) > MOST_PLOTS:
            raise ValueError(f"A trial has at most {MOST_PLOTS}; that would be {int(typed) * len(self.at)}.")
        if int(typed) * len(self.at) == 1:
            return Checked(1, "With a single one nobody can see whether trays agree.")
        return Checked(int(typed))

    def _sown(self, typed: str) -> Checked:
        if not typed:
            return Checked(0)
        if not (typed.isascii() and typed.isdigit() and 1 <= int(typed) <= MOST_SOWN):
            raise ValueError(f"Type how many, from 1 to {MOST_SOWN}.")
        every = int(typed) * len(self.at) * self.per_place
        if self.planned and every < self.planned:
            return Checked(int(typed), f"That is {every} seeds in all; {self.planned} must be counted.")
        return Checked(int(typed))


async def count_kinds(app: Walkabout) -> bool:
    """Ask for all that a count of kinds against a ratio needs, and write it down; say whether it was."""
    new = Counting(app)
    return await through([
        new.ask_question, new.ask_kinds, new.ask_parts, new.ask_other, new.ask_how_told, new.ask_where, new.ask_trays,
        new.ask_sown, new.ask_write,
    ])  # fmt: skip


def _ratio(parts: tuple[float, ...]) -> str:
    return ":".join(number(one) for one in parts)


def _kinds(typed: str) -> tuple[str, ...]:
    found = tuple(" ".join(one.split()) for one in typed.split(";") if one.strip())
    if not 2 <= len(found) <= MOST_KINDS:
        raise ValueError(f"Name 2 to {MOST_KINDS} kinds with a semicolon between them, such as: green; pale.")
    if len({one.casefold() for one in found}) < len(found):
        raise ValueError("Each kind needs a name of its own.")
    if any(len(one) > SHORT or one.casefold() in ("na", "n/a", "nan") for one in found):
        raise ValueError(f"Choose names of at most {SHORT} characters, and not NA.")
    return found
