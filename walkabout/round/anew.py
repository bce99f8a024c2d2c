"""Judging anew what was answered before: a later answer can show what an earlier one meant.

Limp leaves over dry mix want water, over wet mix they must not have any. Where the mix is felt after
the leaves were looked at, the limp leaves are judged once more.
"""

from collections.abc import Iterable
from datetime import datetime

import msgspec

from walkabout.checklist.model import VERDICTS, Checklist, Question
from walkabout.records.model import Answer
from walkabout.round.here import Here
from walkabout.round.history import History
from walkabout.round.judge import Judgement, judge_choices


def hangs_on(question: Question, picked: Iterable[str], other: str) -> bool:
    """Say whether what was picked means something else depending on the answer to another question."""
    chosen = set(picked)
    return any(
        other in case.when.answers or other in case.when.readings
        for choice in question.choices
        if choice.id in chosen
        for case in choice.cases
    )


def judged_anew(
    answer: Answer, question: Question, checklist: Checklist, here: Here, history: History, now: datetime
) -> tuple[Answer, Judgement] | None:
    """Return the answer with what it means by now, or None when it means what it meant."""
    judged = judge_choices(question, answer.choices, checklist, here, history, now)
    if (judged.verdict, judged.why) == (answer.verdict, answer.why):
        return None
    return msgspec.structs.replace(answer, verdict=judged.verdict, why=judged.why, shows=judged.shows), judged


def together(first: Judgement, others: Iterable[Judgement]) -> Judgement:
    """Return several judgements as one, the gravest meaning first; among equals what was judged anew."""
    all_of_them = [*others, first]
    meanings = [meaning for one in all_of_them for meaning in one.meanings]
    meanings.sort(key=lambda one: -VERDICTS.index(one.verdict))
    return Judgement(
        max((one.verdict for one in all_of_them), key=VERDICTS.index),
        tuple(meanings),
        min((one.hours for one in all_of_them if one.hours is not None), default=None),
    )
