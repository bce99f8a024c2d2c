"""A day as people type it."""

from datetime import date, timedelta

NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
FURTHEST = 365
"""Days ahead that can be meant; what is further away is more likely a slip."""


def day_to_come(typed: str, today: date) -> date:
    """Return the day after today that was typed: '2026-12-03', '3 Dec', 'Dec 3', 'friday', 'tomorrow'.

    Without a year it is the next such day. ValueError says in a sentence what cannot be taken.
    """
    day = _day_meant(typed.strip().lower().replace(",", " ").replace(".", " ").split(), today)
    if day is None:
        raise ValueError(f"Type a day, such as {(today + timedelta(days=7)).isoformat()}, 3 Dec or Friday.")
    if day <= today:
        raise ValueError("That day is past or today. A job is put off to a later day.")
    if (day - today).days > FURTHEST:
        raise ValueError("That is more than a year away.")
    return day


def _day_meant(words: list[str], today: date) -> date | None:
    if words == ["tomorrow"]:
        return today + timedelta(days=1)
    if len(words) == 1:
        return _iso(words[0]) or _weekday(words[0], today)
    if len(words) == 2:
        number, name = words if words[0].isdigit() else reversed(words)
        return _day_of_month(number, name, today)
    return None


def _iso(word: str) -> date | None:
    try:
        return date.fromisoformat(word)
    except ValueError:
        return None


def _weekday(word: str, today: date) -> date | None:
    meant = next((at for at, name in enumerate(NAMES) if len(word) >= 3 and name.startswith(word)), None)
    return None if meant is None else today + timedelta(days=(meant - today.weekday() - 1) % 7 + 1)


def _day_of_month(number: str, name: str, today: date) -> date | None:
    if not (number.isascii() and number.isdigit()) or name[:3] not in MONTHS or len(number) > 2:
        return None
    for year in (today.year, today.year + 1):
        try:
            day = date(year, MONTHS.index(name[:3]) + 1, int(number))
        except ValueError:
            continue
        if day > today:
            return day
    return None
