"""A file that is being asked about: the answers so far, the question now, and how it is to be read at the end."""

from walkabout.paper.logger_asking import (
    HERE,
    NOTHING,
    Asks,
    Question,
    Said,
    Setting,
    ask,
    begin,
    read_answer,
    stations_of,
    taking_of,
)
from walkabout.paper.logger_columns import BadLogger
from walkabout.paper.logger_kept import Taking
from walkabout.round.opened import OpenRoom
from walkabout.screens.widgets.longjobs import Opened

NEEDED: dict[Asks, str] = {
    "what": f"Type a quantity, or {NOTHING} to leave the column out.",
    "station": "Type a station.",
    "order": "Type 1 or 2.",
}
"""What is said of an emptied line: only what stands in it is confirmed."""


class Filling:
    """The same questions as everywhere, with the line in which a proposal stands to be confirmed."""

    def __init__(self, what: Opened, opened: OpenRoom, *, again: bool = False) -> None:
        """`again`: ask anew although such a file was read before. BadLogger when it cannot be asked about."""
        self.what = what
        self._setting: Setting = begin(what.file, Said(), opened.folder, stations_of(opened.room), again=again)
        self._answers: tuple[str, ...] = ()

    @property
    def question(self) -> Question | None:
        """What is asked now; None when everything is answered."""
        return ask(self._setting, self._answers)

    @property
    def proposal(self) -> str:
        """What stands in the line of the question that is asked now."""
        question = self.question
        return "" if question is None or question.proposal == HERE else question.proposal

    @property
    def told(self) -> str:
        """What is new about the file, compared with the last one of its kind."""
        return self._setting.told

    @property
    def begun(self) -> bool:
        """Whether there is an answer that can be taken back."""
        return bool(self._answers)

    def taking(self) -> Taking:
        """Return how the file is to be read; BadLogger when every column was left out."""
        return taking_of(self._setting, self._answers)

    def answer(self, text: str) -> None:
        """Take the answer to the question that is asked now; ValueError says in a sentence why not."""
        question = self.question
        assert question is not None
        if not text.strip() and question.asks in NEEDED:
            raise ValueError(NEEDED[question.asks])
        try:
            self._answers = (*self._answers, read_answer(self._setting, question, text))
        except BadLogger as error:
            says = str(error)
            raise ValueError(f"{says[:1].upper()}{says[1:]}.".replace("?.", "?")) from error

    def undo(self) -> str:
        """Take the last answer back, and return it as it stood in the line."""
        last, self._answers = self._answers[-1], self._answers[:-1]
        return "" if last == HERE else last
