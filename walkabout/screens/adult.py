"""What an adult decides, where there is one: a room that names no adult locks nobody out."""

from walkabout.room.model import may
from walkabout.round.walkers import walkers
from walkabout.screens.app import Walkabout
from walkabout.screens.planting_picking import adult_of


async def decided_by(app: Walkabout, ask: str) -> str | None:
    """Return the code of the adult who decides: the walker's own, else one that is asked for.

    '' where no adult has a code in this room, so that nobody is asked; None where none is there.
    """
    opened = app.opened
    if not any(may(role, "adult") for _, role in walkers(opened.room, opened.today())):
        return ""
    return await adult_of(app, ask) or None
