"""One piece of advice: what stands in the place of the checklist's words for a reading."""

from msgspec import Struct

from walkabout.checklist.model import Verdict
from walkabout.room.model import Who


class Advice(Struct, frozen=True, kw_only=True):
    """What to put into the place of the checklist's words. Empty parts leave these as they are."""

    do: str = ""
    job: str = ""
    who: Who | None = None
    caution: str = ""
    why: str = ""
    verdict: Verdict = "good"
