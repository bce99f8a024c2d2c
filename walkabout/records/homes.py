"""Which file a record belongs in: one a month for answers and rounds, one each for the others.

What loggers read stands in a file of its own for each month, so that nobody reads it who does not ask for it.
"""

import re
from datetime import date

from walkabout.records.memory import Kinds
from walkabout.records.model import Answer, Finding, Job, Planting, Promise, Round, Treatment
from walkabout.records.model_measured import Hour, Measurement, Trial
from walkabout.records.model_supplies import Supply

Record = Answer | Round | Planting | Finding | Job | Promise | Treatment | Supply | Hour | Trial | Measurement

MONTHLY: Kinds = {"answers": Answer, "rounds": Round}
"""The tables of a month's file."""

SINGLE: dict[str, Kinds] = {
    "plantings": {"plantings": Planting},
    "findings": {"findings": Finding},
    "jobs": {"jobs": Job},
    "promises": {"promises": Promise},
    "treatments": {"treatments": Treatment},
}
"""The other files and their tables."""

ASKED: dict[str, Kinds] = {
    "supplies": {"supplies": Supply},
    "trials": {"trials": Trial},
    "measurements": {"measurements": Measurement},
}
"""Files that are read only when somebody asks for what is in them: no round needs them."""

HOURLY: Kinds = {"hours": Hour}
"""The table of a month's file of what loggers read."""

HOURS = "-hours"
"""How the name of such a file ends."""

MONTH_FILE = re.compile(r"(\d{4}-\d{2})\.(?:json|journal)")
HOURS_FILE = re.compile(rf"(\d{{4}}-\d{{2}}{HOURS})\.(?:json|journal)")

TABLES: dict[type, str] = {
    kind: table for kinds in (MONTHLY, HOURLY, *SINGLE.values(), *ASKED.values()) for table, kind in kinds.items()
}


def table_of(record: Record) -> str:
    """Return the name of a record's table."""
    return TABLES[type(record)]


def home(record: Record) -> str:
    """Return the name, without suffix, of the file in which a record belongs."""
    if isinstance(record, Answer):
        return month(record.at)
    if isinstance(record, Hour):
        return month(record.start) + HOURS
    return month(record.day) if isinstance(record, Round) else table_of(record)


def kinds_in(name: str) -> Kinds:
    """Return the tables of a file, given by its name without suffix."""
    if name.endswith(HOURS):
        return HOURLY
    return SINGLE.get(name) or ASKED.get(name, MONTHLY)


def is_month(name: str) -> bool:
    """Say whether a name without suffix is that of a month's answers and rounds."""
    return name not in SINGLE and name not in ASKED and not name.endswith(HOURS)


def month(day: date) -> str:
    """Return the name of the file that holds a day (or moment, by the clock where it was written)."""
    return f"{day.year:04}-{day.month:02}"


def what(record: Record) -> str:
    """Return the word for a record's kind."""
    return type(record).__name__.lower()
