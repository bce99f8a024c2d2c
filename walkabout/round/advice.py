"""What to add, drain or change at this very station, worked out from a reading that is not as it should be.

The checklist says what a reading means; here the amounts are put in, for the tank, the water and the crops
of the station, in the room's own units. Where something is not known that an amount depends on, none is
given: the checklist's own words stand.
"""

from collections.abc import Callable

import msgspec

from walkabout.checklist.model import VERDICTS, Meaning, Quantity, Reading, gravest
from walkabout.growing.limits import OutOfRange
from walkabout.growing.units import Scales
from walkabout.jobs.life import least_role
from walkabout.room.calendar import hours_alone
from walkabout.round.advice_air import of_humidity, of_light
from walkabout.round.advice_tank import BASE, lasting, of_ec, of_oxygen, of_ph, of_warm
from walkabout.round.advised import Advice
from walkabout.round.judge import Judgement
from walkabout.round.known import Known, Last, known_at
from walkabout.round.opened import OpenRoom
from walkabout.round.wants import Wanted

_TELLS: dict[Quantity, Callable[[float, Wanted | None, Known, Scales], Advice | None]] = {
    "EC": of_ec,
    "pH": of_ph,
    "solution temperature": of_warm,
    "oxygen": of_oxygen,
    "humidity": of_humidity,
    "illuminance": of_light,
}


def with_amounts(
    opened: OpenRoom, key: str, judged: Judgement, reading: Reading, value: float, wanted: Wanted | None
) -> Judgement:
    """Return what a reading at a station means, with the amounts that what is known there gives.

    Only for a reading that is to be trusted: a doubtful one is read again first.
    """
    tops_up = reading.quantity == "volume"
    if not tops_up and (judged.verdict == "good" or reading.quantity not in _TELLS):
        return judged
    known = known_at(opened, key)
    if known is None:
        return judged
    if tops_up:
        before = (one for one in known.topped if one.day < opened.today())
        known = msgspec.structs.replace(known, topped=(*before, Last(value, opened.today())))
        return _with(judged, lasting(known, opened.scales, hours_alone(opened.room, opened.clock())))
    try:
        return _with(judged, _TELLS[reading.quantity](value, wanted, known, opened.scales))
    except OutOfRange:
        return judged  # a reading far out of all range: the checklist's words are what counts


def _with(judged: Judgement, advice: Advice | None) -> Judgement:
    if advice is None:
        return judged
    first = judged.meanings[0] if judged.meanings else Meaning()
    verdict = gravest((first.verdict, advice.verdict))
    acts = VERDICTS.index(verdict) >= VERDICTS.index("today")
    told = msgspec.structs.replace(
        first,
        verdict=verdict,
        why=f"{first.why} {advice.why}".strip(),
        # what is only watched asks for no amounts yet: one looks again
        do=_act(first.do, advice) if acts else first.do,
        job=(advice.job or first.job) if acts else "",
        who=least_role(first.who, advice.who or first.who),
        caution=_cautions(first.caution, advice if acts else Advice()),
    )
    return msgspec.structs.replace(judged, verdict=verdict, meanings=(told, *judged.meanings[1:]))


def _cautions(usual: str, advice: Advice) -> str:
    """The checklist's caution is written for what an adult does with its reading; another act has its own as well."""
    if not usual or not advice.caution:
        return usual or advice.caution
    same = advice.who == "adult" and advice.caution is not BASE
    return usual if same else f"{usual} {advice.caution}"


def _act(usual: str, advice: Advice) -> str:
    """The walker, often a pupil, does what the checklist says; an adult's part is marked as one."""
    if not advice.do or advice.who in (None, "pupil"):
        return advice.do or usual
    return f"{usual} For an {advice.who}: {advice.do}".strip()
