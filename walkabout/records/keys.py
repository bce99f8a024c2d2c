"""Keys for new records: short, unique, and in the order of time when sorted."""

import os
from datetime import datetime
from itertools import count

_DIGITS = "0123456789abcdefghjkmnpqrstvwxyz"
"""Thirty-two characters in their ASCII order, without those that are easily misread (i, l, o, u)."""

_counts = count()
_tags: dict[int, int] = {}


def new_key(prefix: str, now: datetime) -> str:
    """Return a key such as `a01jqz5m3vk8d2f004`: prefix, milliseconds, this program's tag, a counter.

    Keys of one prefix sort by `now`. Two programs on one room draw different tags (one chance in a
    million that they do not, and then they would also have to meet in the same millisecond at the
    same count); one program would have to make 32,768 keys for one millisecond to repeat itself.
    """
    milliseconds = max(0, round(now.timestamp() * 1000))
    return prefix + _written(milliseconds, 9) + _written(_tag(), 4) + _written(next(_counts), 3)


def _tag() -> int:
    # A forked program starts with its parent's memory: the tag belongs to the process, not the module.
    process = os.getpid()
    if process not in _tags:
        _tags.clear()
        _tags[process] = int.from_bytes(os.urandom(4))
    return _tags[process]


def _written(number: int, width: int) -> str:
    return "".join(_DIGITS[number >> 5 * place & 31] for place in reversed(range(width)))
