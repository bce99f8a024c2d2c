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
        *("box", "batch", "cell", "code", "room", "class", "plot", "quadrat", "student", "pupil", "person", "observer"),
        *("animal", "leaf", "site", "bed", "jar", "petri", "petri dish", "cup", "run", "season", "month", "position"),
        *("farm", "field", "individual", "garden", "greenhouse", "transect", "trap", "colony", "station", "school"),
        *("team", "name", "time", "place", "location", "note", "notes", "remark", "remarks", "comment", "comments"),
    )
)
"""Names of a column that tells rows apart: its cells are labels, never outcomes or counts."""
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
    said = plain_name(name)
    return said in COUNTS or re.match(r"(number|count|frequency|no\.?|n) of ", said) is not None


def may_be_called_count(name: str) -> bool:
    """Say whether a column's name lets it count plants."""
    return called_count(name) or plain_name(name) in PLANTS


def called_label(name: str) -> bool:
    """Say whether a column's name says that its numbers are labels."""
    said = plain_name(name)
    return said in LABELS or said.rsplit(" ", 1)[-1] in ("id", "no", "nr")


def called_expected(name: str) -> bool:
    """Say whether a column's name says that it holds what is expected."""
    said = plain_name(name)
    return said in EXPECTED or said.startswith(("expect", "exp ")) or said.endswith((" ratio", " expected"))


def called_share(name: str) -> bool:
    """Say whether a column's name says that it holds shares of a whole."""
    return any(one in plain_name(name) for one in SHARES)


def called_total(name: str) -> bool:
    """Say whether a column's name says that it holds totals."""
    said = plain_name(name)
    return said in ("total", "totals", "all", "sum", "of", "sown", "planted", "n", "out of") or "total" in said.split()


def called_opposite(name: str) -> bool:
    """Say whether a column's name says that it counts those without the outcome."""
    said = plain_name(name)
    return said in OPPOSITES or said.startswith(("not ", "non ", "no ", "un"))


def yes_no(table: Table, name: str) -> bool:
    """Say whether a column holds just 0 and 1."""
    return set(numbers(table, name)) == {0.0, 1.0}


def numbering(table: Table, name: str, by: str | None) -> bool:
    """Say whether a column numbers the rows from 1, all of them or those of each group."""
    found = numbers(table, name)
    if len(found) < len(table.rows):
        return False
    groups: dict[str | None, list[float]] = {}
    for group, one in zip(table.words(by) if by is not None else [None] * len(found), found, strict=True):
        groups.setdefault(group, []).append(one)
    return _runs(found) or all(map(_runs, groups.values()))


def _runs(found: Sequence[float]) -> bool:
    return sorted(found) == list(range(1, len(found) + 1))


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


def plain_name(name: str) -> str:
    """Return a column's name in small letters, words parted by one blank, without what stands in brackets."""
    bare = re.sub(r"[(\[](n|f|o|e|count|number)[)\]]\s*$", "", name.casefold())
    return " ".join(re.split(r"[\s_.\-]+", bare)).strip()
