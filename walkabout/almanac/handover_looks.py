"""Which looks at a station stand on the handover page, and what is said of each."""

from collections.abc import Iterable, Iterator, Sequence

from walkabout.almanac.handover_words import MAINS, WHO_SAID
from walkabout.checklist.model import VERDICTS, Checklist, Choice, Question, Verdict

LOOKS = 2
"""So many questions of a station stand on the page: it has to stay one page a room can hang on its door."""
SOON_HOURS = 48.0
"""A second look stands there only where something is lost within so many hours. Assumed."""
NEVER = 1e6


def first_looks(questions: Sequence[Question], checklist: Checklist) -> list[Question]:
    """Return the looks behind which plants are lost soonest, in the order of looking; for each fault the surest look.

    Only those that are quick, picked and daily: a stranger measures nothing. What can hurt people is said for
    every station together.
    """
    able = [
        one
        for one in questions
        if one.choices and not one.slow and one.should <= 2 and one.who == "pupil" and _gravest(one.choices[1:])
    ]

    found: dict[str, tuple[float, float, Question]] = {}
    for one in able:
        name, sure = max(one.reveals.items(), key=lambda item: item[1], default=("", 0.0))
        fault = checklist.fault.get(name)
        if fault is None or not fault.people:
            rank = (fault.hours if fault else NEVER, -sure, one)
            if name not in found or rank[:2] < found[name][:2]:
                found[name] = rank
    soonest = sorted(found.values(), key=lambda rank: rank[:2])
    kept = [one for at, (hours, _, one) in enumerate(soonest[:LOOKS]) if at == 0 or hours <= SOON_HOURS]
    return [one for one in able if one in kept]


def look_lines(question: Question, said: set[str]) -> Iterator[str]:
    """Yield what good looks like, and what to do when it does not; a caution stands once on the page."""
    choice = _gravest(question.choices[1:])
    if choice is None:
        return
    adult = "" if choice.who == "pupil" else f" ({WHO_SAID[choice.who]})"
    yield f"{question.ask} Good: {good_answers(question)}. If {choice.says}: {choice.do}{adult}"
    if choice.caution and choice.caution not in said and not choice.caution.startswith(MAINS):
        said.add(choice.caution)
        yield f"Take care: {choice.caution}"


def good_answers(question: Question) -> str:
    """Return every answer that is good whatever else is true: 'touching it or a finger's width'."""
    first, *others = question.choices
    good = [first.says, *(one.says for one in others if one.verdict == "good" and not one.cases and not one.do)]
    if len(good) == 1:
        return good[0]
    clear = not any("," in one or ";" in one or " or " in one for one in good)
    return f"{', '.join(good[:-1])} or {good[-1]}" if clear else "; or ".join(good)


def _gravest(choices: Iterable[Choice]) -> Choice | None:
    """Return the gravest answer that asks for something at once, or None; what stops people stands apart."""
    grave: tuple[Verdict, ...] = ("now", "today")
    return max(
        (one for one in choices if one.verdict in grave and one.do),
        key=lambda one: VERDICTS.index(one.verdict),
        default=None,
    )
