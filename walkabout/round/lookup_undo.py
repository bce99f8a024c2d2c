"""Taking the last thing back that was said to a lookup, whatever it changed."""

from msgspec import Struct

from walkabout.round.lookup import Lookup


class Before(Struct, frozen=True):
    """What was known before something was said."""

    says: str
    """What was said then, as a person reads it: 'no: fine webs'."""
    signs: dict[str, bool]
    readings: dict[str, float]
    passed: tuple[str, ...]
    crop: str
    also: tuple[str, ...]
    hazards: tuple[str, ...]
    not_understood: tuple[str, ...]


def before(lookup: Lookup, says: str) -> Before:
    """Return what is known now, before `says` is taken in."""
    return Before(
        says=says,
        signs={one.key: one.present for one in lookup.seen()},
        readings=dict(lookup.readings),
        passed=lookup.situation().passed,
        crop=lookup.crop,
        also=lookup.also,
        hazards=lookup.hazards,
        not_understood=tuple(lookup.not_understood),
    )


def take_back(lookup: Lookup, then: Before) -> str:
    """Bring the lookup back to what was known then, and say what was taken back."""
    for key in lookup.situation().passed:
        if key not in then.passed:
            if key in lookup.ready.known.measures:
                lookup.set_reading(key, then.readings.get(key))
            else:
                lookup.set_sign(key, then.signs.get(key))
    for one in lookup.seen():
        if then.signs.get(one.key) is not one.present:
            lookup.set_sign(one.key, then.signs.get(one.key))
    now = {one.key for one in lookup.seen()}
    for key, present in then.signs.items():
        if key not in now:
            lookup.set_sign(key, present)
    for measure in {**lookup.readings, **then.readings}:
        if lookup.readings.get(measure) != then.readings.get(measure):
            lookup.set_reading(measure, then.readings.get(measure))
    for key in then.passed:
        lookup.cannot_tell(key)
    lookup.also, lookup.hazards, lookup.not_understood = then.also, then.hazards, list(then.not_understood)
    lookup.set_crop(then.crop)
    return f"Taken back: {then.says}."
