"""Which file a record belongs in: one a month for answers and rounds, one each for the others."""

import re
from datetime import date

from walkabout.records.memory import Kinds
from walkabout.records.model import Answer, Finding, Job, Planting, Round

Record = Answer | Round | Planting | Finding | Job

MONTHLY: Kinds = {"answers": Answer, "rounds": Round}
"""The tables of a month's file."""

SINGLE: dict[str, Kinds] = {
    "plantings": {"plantings": Planting},
    "findings": {"findings": Finding},
    "jobs": {"jobs": Job},
}
"""The other files and their tables."""

MONTH_FILE = re.compile(r"(\d{4}-\d{2})\.(?:json|journal)")

TABLES: dict[type, str] = {kind: table for kinds in (MONTHLY, *SINGLE.values()) for table, kind in kinds.items()}


def table_of(record: Record) -> str:
    """Return the name of a record's table."""
    return TABLES[type(record)]


def home(record: Record) -> str:
    """Return the name, without suffix, of the file in which a record belongs."""
    if isinstance(record, Answer):
        return month(record.at)
    return month(record.day) if isinstance(record, Round) else table_of(record)


def month(day: date) -> str:
    """Return the name of the file that holds a day (or moment, by the clock where it was written)."""
    return f"{day.year:04}-{day.month:02}"


def what(record: Record) -> str:
    """Return the word for a record's kind."""
    return type(record).__name__.lower()
