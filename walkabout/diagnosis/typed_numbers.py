"""Readings in what people type: 'pH 7.4', '31 °C', 'humidity 85 %'."""

import re
from typing import Final

_NUMBER = r"(?:is|was|of|at|=|:|about|around|nearly|reads)?\s*(\d+(?:[.,]\d+)?)"
_DEGREES = r"\s*(?:°|deg(?:rees)?)?\s*c\b"
_READINGS: Final = (
    ("ph", re.compile(rf"\bph\s*{_NUMBER}")),
    ("ec", re.compile(rf"\bec\s*{_NUMBER}\s*(?:ms/?cm|ms|ds/?m)?")),
    ("humidity", re.compile(rf"\b(?:humidity|rh)\s*{_NUMBER}\s*(?:%|percent)?")),
    ("humidity", re.compile(r"(\d+(?:[.,]\d+)?)\s*%\s*(?:rh|humidity|relative humidity)")),
    (
        "solution",
        re.compile(rf"\b(?:solution|water|tank)(?: temperature| temp)?\s*{_NUMBER}\s*(?:°|deg(?:rees)?)?\s*c\b"),
    ),
    ("night", re.compile(rf"\bnights?(?: temperature| temp)?\s*{_NUMBER}\s*(?:°|deg(?:rees)?)?\s*c\b")),
    ("air", re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:°|deg(?:rees)?)\s*c?\b")),
)


def typed_readings(plain: str) -> tuple[list[tuple[str, float, int, int]], str]:
    """Return the readings in a text, and the text with blanks in their place."""
    found: list[tuple[str, float, int, int]] = []
    for measure, pattern in _READINGS:
        for one in pattern.finditer(plain):
            if all(measure != other for other, _, _, _ in found):
                found.append((measure, float(one.group(1).replace(",", ".")), *one.span()))
            plain = plain[: one.start()] + " " * (one.end() - one.start()) + plain[one.end() :]
    return found, plain
