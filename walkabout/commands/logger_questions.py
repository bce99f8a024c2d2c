"""Asking once, line by line, what a logger's columns are; the answers are remembered for the next file."""

from walkabout.paper.logger_asking import HERE, NOTHING, Question, Setting, ask, how_to_say, read_answer, taking_of
from walkabout.paper.logger_columns import QUANTITIES, BadLogger
from walkabout.paper.logger_kept import Taking
from walkabout.plain.dialogue import Dialogue, Ended


def taking_by_asking(setting: Setting, dialogue: Dialogue, *, silent: bool) -> tuple[Taking, bool]:
    """Return how the file is to be read, and whether anything was asked; BadLogger where nobody answers.

    `silent`: nobody is there to be asked.
    """
    answers: tuple[str, ...] = ()
    if setting.told and not silent:
        dialogue.say(setting.told)
    question = ask(setting, answers)
    if question is not None and (silent or setting.said.columns):
        raise BadLogger(_cannot_ask(setting, question))
    try:
        while question is not None:
            if question.asks == "what" and not any(answers[1 if setting.open_moment else 0 :]):
                _begin(setting, dialogue)
            answers = (*answers, _asked(setting, question, dialogue))
            question = ask(setting, answers)
    except Ended:
        assert question is not None
        raise BadLogger(_cannot_ask(setting, question)) from None
    return taking_of(setting, answers), bool(answers)


def _begin(setting: Setting, dialogue: Dialogue) -> None:
    dialogue.say(
        f"{setting.file.path.name} is new here. Say what its columns are; it is remembered.",
        f"Quantities: {', '.join(QUANTITIES)}.",
        f"A unit stands behind a colon, as in EC:µS/cm. {NOTHING} leaves a column out.",
    )


def _asked(setting: Setting, question: Question, dialogue: Dialogue) -> str:
    lines = [f"{question.says}{_enter(question)}"]
    if question.asks == "station":
        lines[0] = f"{question.says} There are: {', '.join(setting.stations)}.{_enter(question)}"
    else:
        lines += [f"{number} {says}" for number, (_, says) in enumerate(question.choices, 1)]
    if question.asks == "zone":
        lines.append("Or type a zone, such as +01:00 or Europe/Vienna.")
    while True:
        typed = dialogue.ask(*lines)
        try:
            return read_answer(setting, question, typed)
        except BadLogger as error:
            says = f"{error}"
            dialogue.say(f"{says[:1].upper()}{says[1:]}.".replace("?.", "?"))


def _enter(question: Question) -> str:
    if not question.proposal:
        return ""
    if question.asks == "what":
        quantity, _, unit = question.proposal.partition(":")
        return f" Enter for {quantity} in {unit}." if unit else " Enter to leave it out."
    return " Enter for 1." if question.proposal == HERE else f" Enter for {question.proposal}."


def _cannot_ask(setting: Setting, question: Question) -> str:
    path = setting.file.path
    if question.asks == "order":
        return f"{path}: {setting.open_moment} can be read two ways. Say which: --order dmy or --order mdy"
    return f"{path} is new here. {how_to_say(setting)}"
