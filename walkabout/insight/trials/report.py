"""The report of a whole trial, and its plain values for other programs."""

from typing import Any

from msgspec import Struct, field

from walkabout.insight.trials.outcome import Group, Outcome, Outlier, Tested, finite, plain


class Result(Struct, frozen=True, kw_only=True):
    """A whole trial, read and judged."""

    design: str
    response: str
    by: str | None
    groups: tuple[dict[str, Any], ...]
    outcome: Outcome | None
    words: str
    answer: str = ""
    """The same in a sentence or two, to be read first; '' for a curve."""
    working: tuple[str, ...]
    outliers: tuple[Outlier, ...] = ()
    notes: tuple[str, ...] = ()
    samples: tuple[Group, ...] = ()
    """The values themselves, for pictures; not part of the facts."""
    more: dict[str, Any] = field(default_factory=dict)

    def facts(self) -> dict[str, Any]:
        """Return the result as plain values; what has no meaning for the design is None, as is what is not finite."""
        outcome = self.outcome
        found: dict[str, Any] = {
            "design": self.design,
            "response": self.response,
            "by": self.by,
            "groups": list(self.groups),
            "test": _test_facts(outcome.test) if outcome else None,
            "difference": plain(outcome.difference) if outcome and outcome.difference else None,
            "effect": plain(outcome.effect) if outcome and outcome.effect else None,
            "answer": self.answer,
            "words": self.words,
            "working": list(self.working),
        }
        if outcome and outcome.pairs:
            found["pairs"] = [plain(one) for one in outcome.pairs]
        found |= {"outliers": [plain(one) for one in self.outliers], "notes": list(self.notes)}
        found |= (outcome.more if outcome else {}) | self.more
        return {name: finite(one) for name, one in found.items()}


def _test_facts(test: Tested) -> dict[str, Any]:
    facts = plain(test) | {"df": list(test.df) if isinstance(test.df, tuple) else test.df}
    del facts["more"]
    return facts | test.more
