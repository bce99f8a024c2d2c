"""Setting up a trial as it is taught: after question, control and what is measured, the plots and the draw."""

import asyncio
import random

from walkabout.jobs.trial_rules import MOST_PLOTS
from walkabout.jobs.trials import set_up
from walkabout.records.model_measured import PLOT_KINDS, Plot, PlotKind, Trial
from walkabout.round.trial_plan import drawn, laid_out, places, power_says
from walkabout.screens.app import Walkabout
from walkabout.screens.widgets.asking import Checked, NumberScreen, PickScreen, through
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.trialcode import code_of, keep
from walkabout.screens.widgets.trialquestion import LAST_SEED, Compared

KIND_WORDS: dict[PlotKind, tuple[str, str]] = {
    "station": ("whole stations", "when all plants of a station get the same"),
    "tray": ("trays", "when all plants of a tray get the same"),
    "plant": ("single plants", "when each plant can get its own"),
}
FIXED = ("lamp", "hours", "gap_cm", "tank", "variety", "crop", "sown", "station")
"""What a place often has already, so that it cannot be drawn for it."""
ONCE_A_PLACE = {
    "lamp": "but one place has one lamp for all its plots",
    "hours": "but one place has one length of day",
    "gap_cm": "but one place has one lamp at one height",
    "tank": "but one place has one solution",
}
"""What all plots of a place share, so that a draw among them changes nothing."""
WORTH, SPREAD = 20.0, 25.0
"""Per cent of the mean: a difference that is worth finding, and how plants treated alike vary. Assumed."""


SPREAD_SAYS = "About two of three such plots lie nearer to the mean than this; a trial before tells how near."
"""Within one standard deviation of the mean lie 68 % of values that are spread normally."""


class SettingUp(Compared):
    """The second half: plots, how many, blind or not, and the draw."""

    # 8 and 9: plots

    async def ask_kind(self) -> bool:
        """Ask what a plot is."""
        rows = [Row(*KIND_WORDS[one]) for one in PLOT_KINDS]
        got = await self._pick("8  What is a plot: the smallest thing that gets one treatment for itself?", rows)
        self.kind = PLOT_KINDS[got[0]] if got else "plant"
        return got is not None

    async def ask_places(self) -> bool:
        """Ask where they are, and where that may be whether each has its treatment already."""
        return await through([self._ask_where, self.ask_fixed])

    async def _ask_where(self) -> bool:
        found = places(self.app.opened, self.kind)
        if not found:
            self.app.say("Nothing grows in the room yet: write a planting down first.", grave=True)
            return False
        got = await self._pick(
            "8  Where are they? Tick, then enter.", [Row("all of them"), *(Row(one.says) for one in found)], ticks=True
        )
        if got is not None:
            self.at = tuple(found) if 0 in got else tuple(found[one - 1] for one in got)
            self.per_place, self.fixed = 1, {}
        return got is not None

    async def ask_fixed(self) -> bool:
        """Ask whether each place has its treatment already, where that may be."""
        if self.under_test not in FIXED or len(self.at) < 2:
            return True
        once = self.under_test in ONCE_A_PLACE and self.kind != "station"
        rows = [
            Row("it is drawn at random", ONCE_A_PLACE[self.under_test] if once else "best: chance is fair"),
            Row("each place has its treatment already", "a lamp that hangs where it hangs"),
        ]
        got = await self._pick("9  Who says which plot gets what?", rows)
        self.fixed = {}
        if got != (1,):
            return got is not None
        for place in self.at:
            one = await self._pick(f"9  What has {place.says}?", [Row(name) for name in self.treatments])
            if one is None:
                return False
            self.fixed[place.key] = self.treatments[one[0]]
        if set(self.fixed.values()) != set(self.treatments):
            self.app.say("Each treatment needs at least one place.", grave=True)
            return False
        return True

    # 10: how many

    async def ask_how_many(self) -> bool:
        """Ask for what the number of plots depends on, then for that, where it is not given by the stations."""
        self.worth = self.spread = self.planned = None
        asks = [self.ask_worth]
        if self.counts != "share":
            asks.append(self.ask_spread)
        if self.kind != "station":
            return await through([*asks, self.ask_count])
        if await through(asks):
            _, self.planned = await asyncio.to_thread(
                power_says, self.counts, len(self.treatments), 6, self.worth, self.spread
            )
            return True
        return False

    async def ask_worth(self) -> bool:
        """Ask which difference is worth finding."""
        share = self.counts == "share"
        ask = "10  Which difference would be worth finding?"
        unit = "percentage points" if share else "% of the mean"
        remark = f"enter alone: {WORTH:g}"
        got = await self.app.push_screen_wait(
            NumberScreen(ask, lambda text: _per_cent(text, WORTH), about=self.about(), unit=unit, remark=remark)
        )
        self.worth = got
        return got is not None

    async def ask_spread(self) -> bool:
        """Ask how far plants treated alike lie apart."""
        got = await self.app.push_screen_wait(NumberScreen(
            "10  How far apart are plots that are treated alike?",
            lambda text: _per_cent(text, SPREAD), about=f"{self.about()}\n{SPREAD_SAYS}", unit="% of the mean",
            remark=f"enter alone: {SPREAD:g}, which is assumed",
        ))  # fmt: skip
        self.spread = got
        return got is not None

    async def ask_count(self) -> bool:
        """Ask how many plots there are at each place; what they can find is reckoned beside it."""
        if self.worth is None:
            return False
        says, self.planned = await asyncio.to_thread(
            power_says, self.counts, len(self.treatments), 6, self.worth, self.spread
        )
        places = f"at each of the {len(self.at)} places" if len(self.at) > 1 else "in all"
        many = len(self.treatments)
        if len(self.at) > 1 and not self.fixed:
            says.append(
                f"With {many} at each place, one for each treatment, a place is compared with itself: what differs "
                "from place to place is then taken out."
            )
        about = "\n".join([self.about(), *says])
        got = await self.app.push_screen_wait(NumberScreen(
            f"10  How many plots {places}?", self._count_in, about=about, unit=f"{self.kind}s",
        ))  # fmt: skip
        self.per_place = round(got or 1)
        return got is not None

    def _count_in(self, text: str) -> Checked:
        if not (text.isascii() and text.isdigit() and int(text)):
            raise ValueError("Type how many, such as 12.")
        many = int(text) * len(self.at)
        if many > MOST_PLOTS:
            raise ValueError(f"A trial has at most {MOST_PLOTS} plots; that would be {many}.")
        if many < len(self.treatments):
            raise ValueError(f"That makes {many} for {len(self.treatments)} treatments: each needs at least one.")
        standing = [one.count for place in self.at if (one := self.app.opened.plantings.get(place.planting))]
        if self.kind == "plant" and standing and int(text) > min(standing):
            return Checked(int(text), f"Only {min(standing)} plants stand at one of the places.")
        each = many // len(self.treatments)
        if each < 2:
            return Checked(int(text), "That is one plot a treatment: nobody can tell the treatment from the plot.")
        if self.counts != "share" and self.planned and each < self.planned:
            return Checked(int(text), f"That is {each} a treatment; {self.planned} are needed for {self.worth:g} %.")
        return Checked(int(text))

    # 11 and 12: blind, and the draw

    async def ask_blind(self) -> bool:
        """Ask whether the names are hidden while measuring."""
        rows = [
            Row("yes, by codes", "who measures cannot wish for a result"),
            Row("no, by their names", "where the treatment can be seen anyway"),
        ]
        got = await self._pick("11  Shall the treatments be hidden while measuring?", rows)
        self.blind = got == (0,)
        return got is not None

    async def ask_draw(self) -> bool:
        """Show what was drawn and what would make it unfair, then write it down."""
        while True:
            try:
                trial = self.trial("", self.seed)
            except ValueError as error:
                self.app.say(str(error), grave=True)
                return False
            rows = [Row("write it down"), *([] if self.fixed else [Row("draw anew")])]
            ask = PickScreen("12  Is this the trial?", rows, about=await self._drawn(trial))
            got = await self.app.push_screen_wait(ask)
            if got is None:
                return False
            if got == (1,):
                self.seed = random.randint(1, LAST_SEED)
                continue
            if by := await code_of(self.app):
                keep(self.app, self.trial(by, self.seed))
                return True
            self.app.say("Nothing is written down yet: it needs somebody's code.", grave=True)

    async def _drawn(self, trial: Trial) -> str:
        from walkabout.round.trials import unfair_says  # noqa: PLC0415 - only at the last step

        sizes = {one: sum(plot.treatment == one for plot in trial.plots) for one in trial.treatments}
        each = ", ".join(f"{count} {name}" for name, count in sizes.items())
        drawn_from = f", drawn at random from the number {trial.seed}" if trial.seed else ""
        unfair = unfair_says(self.app.opened, trial)
        lines = [self.about(), f"{len(trial.plots)} plots{drawn_from}: {each}."]
        return "\n".join([*lines, *(f"▴ {one}" for one in unfair[:3]), *_more(len(unfair) - 3)])

    def _plots(self, seed: int) -> tuple[Plot, ...]:
        if not self.fixed:
            return drawn(laid_out(self.kind, self.at, self.per_place), self.treatments, seed)
        from msgspec.structs import replace  # noqa: PLC0415

        plots = laid_out(self.kind, self.at, self.per_place)
        many = 1 if self.kind == "station" else self.per_place
        owners = [place for place in self.at for _ in range(many)]
        return tuple(
            replace(plot, treatment=self.fixed[place.key], block="") for plot, place in zip(plots, owners, strict=True)
        )

    def trial(self, by: str, seed: int) -> Trial:
        """Return the trial as it is known now; ValueError says what is missing."""
        return set_up(
            question=self.question, treatments=self.treatments, control=self.control, plots=self._plots(seed),
            response=self.response, seed=0 if self.fixed else seed, by=by, now=self.app.opened.clock(), unit=self.unit,
            how=self.how, counts=self.counts, under_test=self.under_test, blind=self.blind, worth=self.worth,
            spread=self.spread, planned=self.planned,
        )  # fmt: skip


async def set_up_trial(app: Walkabout) -> bool:
    """Ask for all that a trial needs, and write it down; say whether it was."""
    rows = [
        Row("treatments are compared", "some plants get something new, others not"),
        Row("kinds are counted against a ratio", "such as green and pale seedlings, 3:1"),
    ]
    while True:
        got = await app.push_screen_wait(PickScreen("What kind of trial is it?", rows))
        if got is None:
            return False
        if await (compare_treatments(app) if got == (0,) else _count_kinds(app)):
            return True


async def compare_treatments(app: Walkabout) -> bool:
    """Ask for all that a comparison of treatments needs, and write it down; say whether it was."""
    new = SettingUp(app)
    return await through([
        new.ask_question, new.ask_under_test, new.ask_control, new.ask_treatments, new.ask_response, new.ask_counts,
        new.ask_how, new.ask_kind, new.ask_places, new.ask_how_many,
        new.ask_blind, new.ask_draw,
    ])  # fmt: skip


async def _count_kinds(app: Walkabout) -> bool:
    from walkabout.screens.widgets.ratioasking import count_kinds  # noqa: PLC0415 - only for a ratio

    return await count_kinds(app)


def _more(count: int) -> list[str]:
    return [f"  and {count} more, on its page"] if count > 0 else []


def _per_cent(text: str, usual: float) -> Checked:
    if not text:
        return Checked(usual)
    try:
        value = float(text)
    except ValueError:
        raise ValueError(f"Type a number of per cent, such as {usual:g}.") from None
    if not 0.5 <= value <= 300:
        raise ValueError("It is from 0.5 to 300 %.")
    return Checked(value)
