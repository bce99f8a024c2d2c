"""How numbers are written in words and in the working."""

import math


def number(value: float | None, digits: int = 5) -> str:
    """Write a number with at most `digits` digits that count, without an exponent where it can be read so."""
    if value is None or math.isnan(value):
        return "not known"
    if math.isinf(value):
        return "beyond any number" if value > 0 else "below any number"
    if value == 0:
        return "0"
    size = math.floor(math.log10(abs(value)))
    if size >= 15 or size < -6:
        return f"{value:.{digits - 1}e}".replace("-", "−")
    text = f"{value:.{max(0, digits - 1 - size)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.replace("-", "−") if text not in ("-0", "") else "0"


def short(value: float | None) -> str:
    """Write a number for a sentence: three digits that count."""
    return number(value, 3)


def chance(p: float) -> str:
    """Write a p: 'p = 0.079', 'p < 0.0001'."""
    if p < 0.0001:
        return "p < 0.0001"
    if abs(p - 0.05) < 0.005:
        return f"p = {f'{p:.4f}'.rstrip('0')}"
    return f"p = {number(p, 2) if p < 0.1 else f'{p:.2f}'}"


def in_hundred(p: float) -> str:
    """Write a chance as people count: '8 times in 100', 'less than once in 10 000'."""
    if p < 0.0001:
        return "less than once in 10 000 times"
    if p >= 0.995:
        return "nearly every time"
    if abs(p - 0.05) < 0.005:
        return f"just {'under' if p < 0.05 else 'over'} 5 times in 100" if p != 0.05 else "5 times in 100"
    per = 100 if p >= 0.01 else 1000 if p >= 0.001 else 10_000
    times = round(p * per)
    return f"about {'once' if times == 1 else f'{times} times'} in {per if per < 10_000 else '10 000'}"


def share(value: float) -> str:
    """Write a share as a percentage."""
    return f"{number(100 * value, 3)} %"


def count(n: int, word: str) -> str:
    """Write a count with its word: '1 value', '3 values'."""
    return f"{n} {word}" if n == 1 else f"{n} {word}s"


def with_article(name: str) -> str:
    """Put 'the' before the name of a test, but not before a person's: 'the Wilcoxon test', 'Welch's t test'."""
    return name if "'s " in name else f"the {name}"


def listed(names: list[str]) -> str:
    """Join names: 'a', 'a and b', 'a, b and c'."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
