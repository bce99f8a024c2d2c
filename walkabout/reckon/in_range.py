"""Whether a number that was typed lies where its field allows, and what is said when it does not."""

from walkabout.reckon import units
from walkabout.reckon.model import Field
from walkabout.reckon.write import amount, plainly, quoted

_WHOLE_PERCENT = ("rh", "rh_high", "rh_low", "losses", "germination", "loss", "margin")
"""Percentages that are never as small as 1 % in a growing room, so that 0.65 is a share written by mistake."""


def check(field: Field, value: float, typed: str) -> None:
    """Raise ValueError, with one clear sentence, for a value that its field cannot have or nobody can mean."""
    bare = not units.named(typed)
    if bare and field.unit == "%" and field.key in _WHOLE_PERCENT and 0 < value < 1:
        percent = plainly(100 * value)
        raise ValueError(f"that is {amount(value, '%')}: write {percent}, not {plainly(value)} (or {plainly(value)}%)")
    if field.low <= value <= field.high:
        return
    below = value < field.low
    limit = field.low if below else field.high
    # Rounded, 24.0001 would be the very 24 that is allowed.
    plain = bare and 1e-4 <= abs(value) < 1e9 and plainly(value) != plainly(limit)
    given = amount(value, field.unit) if plain else quoted(typed).strip("'")
    end = f"at {'least' if below else 'most'} {amount(limit, field.unit)}"
    about = "" if field.says == field.key else f" ({field.says})"
    meant = units.perhaps(value, field.unit, field.low, field.high) if bare else ()
    hint = f". For another unit, write {' or '.join(meant)}" if meant else ""
    raise ValueError(f"{given} is too {'low' if below else 'high'}: it must be {end}{about}{hint}")
