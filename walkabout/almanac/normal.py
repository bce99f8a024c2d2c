"""The normal law: shares below and above, and back. Written out here, since the program starts with it.

Everything is in standard deviations from the mean; shares from 0 to 1.
"""

from math import erfc, exp, log, pi, sqrt

_ROOT_2 = sqrt(2)
_PEAK = 1 / sqrt(2 * pi)


def below(z: float) -> float:
    """Return the share that lies below `z`."""
    return 0.5 * erfc(-z / _ROOT_2)


def above(z: float) -> float:
    """Return the share that lies above `z`; exact far out too, where 1 - below(z) is not."""
    return 0.5 * erfc(z / _ROOT_2)


def with_above(share: float) -> float:
    """Return the z that has this share above it; `share` from 1e-300 up to below 1.

    The start is formula 26.2.23 of Abramowitz and Stegun, Handbook of Mathematical Functions (wrong by less than
    0.00045); two of Halley's steps make it exact. Raises ValueError outside.
    """
    if not 1e-300 <= share < 1:
        raise ValueError(f"a share above lies between 0 and 1, not at {share}")
    if share > 0.5:
        return -with_above(1 - share) if share < 1 - 1e-16 else -8.3
    t = sqrt(-2 * log(share))
    z = t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)))
    for _ in range(2):
        off = above(z) - share
        z += 2 * off / (2 * _PEAK * exp(-z * z / 2) - off * z)
    return z


def with_below(share: float) -> float:
    """Return the z that has this share below it; as `with_above`."""
    return -with_above(share)


Z_TENTH = with_above(0.1)
"""One in ten lies above this, and one in ten below its negative: 1.2816."""
