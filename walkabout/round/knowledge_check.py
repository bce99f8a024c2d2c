"""What is wrong in the files of the knowledge, said like any other mistake in a file that people edit."""

import re

from walkabout.diagnosis.knowledge import FOLDER, NotUsable, read_knowledge
from walkabout.room.mistakes import Mistake

_SAID = re.compile(r"([\w-]+\.toml):(\d*):? ?(.*)")


def knowledge_mistakes() -> tuple[Mistake, ...]:
    """Return every mistake in the shipped knowledge with file and line; none as a rule."""
    try:
        read_knowledge(FOLDER)
    except NotUsable as error:
        return tuple(sorted(_mistake(line) for line in str(error).splitlines()))
    return ()


def _mistake(line: str) -> Mistake:
    found = _SAID.fullmatch(line)
    if found is None:
        return Mistake(FOLDER, 1, line)
    return Mistake(FOLDER / found[1], max(int(found[2] or 1), 1), found[3])
