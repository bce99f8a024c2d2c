"""Setting up a trial, its first half: question, what is changed, control, treatments, and what is measured."""

import random
from collections.abc import Sequence

from walkabout.jobs.trial_rules import LONGEST, SHORT
from walkabout.records.model_measured import COUNTS, Counts, PlotKind
from walkabout.round.trial_plan import UNDER_TEST, Place
from walkabout.screens.app import Walkabout
from walkabout.screens.widgets.asking import LineScreen, PickScreen, through
from walkabout.screens.widgets.choices import Row

COUNT_WORDS: dict[Counts, tuple[str, str]] = {
    "number": ("a number with a unit", "weight in g, height in cm"),
    "count": ("how many of a thing", "leaves, flowers, pods"),
    "share": ("how many out of how many", "7 of 10 seeds came up; or yes and no"),
}
LAST_SEED = 9999


class Compared:
    """What is known so far of a trial that is being set up."""

    asked_like = "A question that measuring can answer: Do lettuces under a second lamp grow heavier?"

    def __init__(self, app: Walkabout) -> None:
        self.app = app
        self.question = ""
        self.under_test = ""
        self.control = ""
        self.treatments: tuple[str, ...] = ()
        self.response = self.unit = self.how = ""
        self.counts: Counts = "number"
        self.kind: PlotKind = "plant"
        self.at: tuple[Place, ...] = ()
        self.per_place = 1
        self.fixed: dict[str, str] = {}
        self.worth: float | None = None
        self.spread: float | None = None
        self.planned: int | None = None
        self.blind = False
        self.seed = random.randint(1, LAST_SEED)

    def about(self) -> str:
        """Say what is known so far, in two lines."""
        parts = [self.question or "A new trial"]
        if self.treatments:
            others = [one for one in self.treatments if one != self.control]
            parts.append(f"{', '.join(others)} against {self.control} (control)")
        return "\n".join(parts)

    async def _line(self, ask: str, check: object, **more: object) -> str | None:
        return await self.app.push_screen_wait(LineScreen(ask, check, about=self.about(), **more))  # type: ignore[arg-type]

    async def _pick(self, ask: str, rows: Sequence[Row], **more: object) -> tuple[int, ...] | None:
        return await self.app.push_screen_wait(PickScreen(ask, rows, about=self.about(), **more))  # type: ignore[arg-type]

    # 1: the question

    async def ask_question(self) -> bool:
        """Ask what is to be found out."""
        got = await self._line(
            "1  What do you want to find out?", _asked, text=self.question, most=LONGEST,
            hint=self.asked_like,
        )  # fmt: skip
        self.question = got if got is not None else self.question
        return got is not None

    async def ask_under_test(self) -> bool:
        """Ask what differs."""
        rows = [Row(says) for _, says in UNDER_TEST]
        got = await self._pick("2  What is changed? One thing only; all else stays alike.", rows)
        self.under_test = UNDER_TEST[got[0]][0] if got else ""
        return got is not None

    async def ask_control(self) -> bool:
        """Ask for the control."""
        got = await self._line(
            "3  What is the control? It gets what plants get now.", _named, text=self.control, most=SHORT,
            hint="A short name, such as: as usual. Without a control nobody knows what would have happened anyway.",
        )  # fmt: skip
        self.control = got if got is not None else self.control
        self.treatments = ()
        return got is not None

    async def ask_treatments(self) -> bool:
        """Ask for what is compared with it."""
        had = "; ".join(one for one in self.treatments if one != self.control)
        got = await self._line(
            f'4  What is compared with "{self.control}"?', self._others, text=had, most=LONGEST,
            hint="A short name, such as: second lamp. Several stand apart with a semicolon; each takes its own plots.",
        )  # fmt: skip
        if got is not None:
            self.treatments = (self.control, *self._others(got))
        return got is not None

    def _others(self, typed: str) -> tuple[str, ...]:
        found = tuple(" ".join(one.split()) for one in typed.split(";") if one.strip())
        for one in found:
            _named(one)
        if not found:
            raise ValueError("Name at least one treatment beside the control.")
        if len({one.casefold() for one in (self.control, *found)}) <= len(found):
            raise ValueError("Each treatment needs a name of its own.")
        return found

    # 5 to 7: what is measured

    async def ask_response(self) -> bool:
        """Ask what is measured."""
        got = await self._line(
            "5  What is measured?", _response, text=self.response, most=SHORT,
            hint="One thing that answers the question, such as: fresh weight of the head.",
        )  # fmt: skip
        self.response = got if got is not None else self.response
        return got is not None

    async def ask_counts(self) -> bool:
        """Ask what kind of number it is, and its unit."""
        return await through([self._ask_kind_of_number, self._ask_unit])

    async def _ask_kind_of_number(self) -> bool:
        got = await self._pick("6  What kind of number is it?", [Row(*COUNT_WORDS[one]) for one in COUNTS])
        if got is None:
            return False
        self.counts = COUNTS[got[0]]
        self.unit = self.unit if self.counts == "number" else ""
        return True

    async def _ask_unit(self) -> bool:
        if self.counts != "number":
            return True
        got = await self._line(
            f"6  In what unit is the {self.response}?", None, text=self.unit, most=12,
            hint="Such as g, cm or mm. Left empty: none.",
        )  # fmt: skip
        self.unit = got if got is not None else self.unit
        return got is not None

    async def ask_how(self) -> bool:
        """Ask how it is measured."""
        got = await self._line(
            "7  How is it measured, so that everybody does it alike?", None, text=self.how, most=LONGEST,
            hint="Such as: cut at the base, roots off, kitchen scale, before 9 o'clock. Enter alone leaves it open.",
        )  # fmt: skip
        self.how = got if got is not None else self.how
        return got is not None


def _asked(typed: str) -> None:
    if len(typed) < 8:
        raise ValueError("Write it as a question that measuring can answer.")


def _named(typed: str) -> None:
    if not typed:
        raise ValueError("Give it a short name.")
    if typed.casefold() in ("na", "n/a", "nan"):
        raise ValueError("Choose another name: in a table this one means that nothing was written.")
    if len(typed) > SHORT:
        raise ValueError(f"Use at most {SHORT} characters for a name.")


def _response(typed: str) -> None:
    if not typed:
        raise ValueError("Say what is measured.")
