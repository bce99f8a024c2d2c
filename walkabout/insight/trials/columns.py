"""What a column of a table can be, by its cells and by its name: counts, codes, numbers of plants or trays."""

import re
from collections.abc import Sequence

from walkabout.insight.trials.table import BadTrial, Table

COUNTS = frozenset(
    (
        *("n", "number", "numbers", "count", "counts", "counted", "frequency", "frequencies", "freq", "how many"),
        *("many", "observed", "obs", "tally", "total counted", "f", "o"),
    )
)
"""Names of a column that says for how many plants a row stands."""
PLANTS = frozenset(("plants", "seeds", "seedlings", "peas", "offspring", "progeny", "individuals", "flies", "people"))
"""Names of a column that may say so, or what each plant or dish held."""
LABELS = frozenset(
    (
        *("id", "no", "nr", "plant", "line", "row", "tray", "pot", "block", "shelf", "day", "week", "year", "date"),
        *("family", "cross", "generation", "rep", "replicate", "sample", "subject", "pair", "plate", "dish", "bench"),
        *("box", "batch", "cell", "code", "room", "class"),
    )
)
"""Names of a column whose numbers are labels."""
EXPECTED = frozenset(
    ("e", "exp", "ratio", "part", "parts", "theory", "theoretical", "hypothesis", "predicted", "probability", "prob")
)
"""Names of a column that holds the parts of a ratio, beside all that begin with 'expect'."""
SHARES = ("percent", "per cent", "%", "share", "proportion", "fraction")
OPPOSITES = frozenset(
    (
        *("dead", "died", "failed", "failure", "failures", "fail", "absent", "lost", "wilted", "rotten", "mouldy"),
        *("missing", "no", "not", "others", "other", "rest", "without", "recessive", "wrong", "false", "ungerminated"),
    )
)
"""Names of a column of those without the outcome: no total."""


def called_count(name: str) -> bool:
    """Say whether a column's name says that it counts."""
    said = _plain(name)
    return said in COUNTS or re.match(r"(number|count|frequency|no\.?|n) of ", said) is not None


def may_be_called_count(name: str) -> bool:
    """Say whether a column's name lets it count plants."""
    return called_count(name) or _plain(name) in PLANTS


def called_label(name: str) -> bool:
    """Say whether a column's name says that its numbers are labels."""
    said = _plain(name)
    return said in LABELS or said.rsplit(" ", 1)[-1] in ("id", "no", "nr")


def called_expected(name: str) -> bool:
    """Say whether a column's name says that it holds what is expected."""
    said = _plain(name)
    return said in EXPECTED or said.startswith(("expect", "exp ")) or said.endswith((" ratio", " expected"))


def called_share(name: str) -> bool:
    """Say whether a column's name says that it holds shares of a whole."""
    return any(one in _plain(name) for one in SHARES)


def called_total(name: str) -> bool:
    """Say whether a column's name says that it holds totals."""
    said = _plain(name)
    return said in ("total", "totals", "all", "sum", "of", "sown", "planted", "n", "out of") or "total" in said.split()


def called_opposite(name: str) -> bool:
    """Say whether a column's name says that it counts those without the outcome."""
    said = _plain(name)
    return said in OPPOSITES or said.startswith(("not ", "non ", "no ", "un"))


def whole(table: Table, name: str) -> bool:
    """Say whether a column holds whole numbers from 0 only."""
    found = numbers(table, name)
    return bool(found) and all(one >= 0 and one == int(one) for one in found)


def numbers(table: Table, name: str) -> list[float]:
    """Return the numbers of a column; none where it holds words, or more than slips of them."""
    if not table.is_numbers(name):
        return []
    try:
        return [one for one in table.numbers(name) if one is not None]
    except BadTrial:
        return []


def coded(table: Table, name: str) -> bool:
    """Say whether a column holds the codes 0, 1, 2, … or 1, 2, 3, … and no other number."""
    found = sorted(set(numbers(table, name)))
    return len(found) > 1 and found[0] in (0, 1) and found == [found[0] + at for at in range(len(found))]


def once(table: Table, *names: str) -> bool:
    """Say whether no row has the same words in these columns as another."""
    seen = list(zip(*(table.words(name) for name in names), strict=True)) if names else [()] * len(table.rows)
    return len(set(seen)) == len(seen)


def others(table: Table, used: Sequence[str | None]) -> list[str]:
    """Return the columns with a name of their own beside those that are used."""
    taken = {table.column(name) for name in used if name is not None}
    return [name for at, name in enumerate(table.names) if name and at not in taken and _alone(table, name)]


def is_column(table: Table, name: str) -> bool:
    """Say whether a table has a column of this name."""
    return any(one.casefold() == name.strip().casefold() for one in table.names)


def quoted(name: str) -> str:
    """Write the name of a column as it is typed after an option."""
    return name if name.replace("_", "").replace("+", "").isalnum() else f"'{name}'"


def _alone(table: Table, name: str) -> bool:
    return [one.casefold() for one in table.names].count(name.casefold()) == 1


def _plain(name: str) -> str:
    bare = re.sub(r"[(\[](n|f|o|e|count|number)[)\]]\s*$", "", name.casefold())
    return " ".join(re.split(r"[\s_.\-]+", bare)).strip()
