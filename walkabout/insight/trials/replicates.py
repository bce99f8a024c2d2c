"""Counts whose plants stood together: on plates, which are then compared, or in parts of the table not asked about."""

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from walkabout.insight.trials.columns import once, others, plain_name
from walkabout.insight.trials.counted import Counted
from walkabout.insight.trials.layouts import Layout, for_counts
from walkabout.insight.trials.outcome import ALPHA
from walkabout.insight.trials.report import Result
from walkabout.insight.trials.say import chance, listed
from walkabout.insight.trials.table import Row, Table, as_number
from walkabout.insight.trials.tally import read_counts

PLATES = frozenset(("plate", "dish", "petri", "petri dish", "replicate", "rep", "jar", "pot", "cup"))
"""Names of what belongs to one treatment, though its number comes again in the next."""
STANDS = frozenset(("tray", "box", "bench", "bed", "plot", "batch", "shelf", "row", "trap", "greenhouse"))
"""Names of what may hold several treatments: it is a plate only where each holds one."""
APART = frozenset(("note", "notes", "remark", "remarks", "comment", "comments", "date", "day", "time", "name", "id"))
"""Names of columns that say nothing of how the plants are parted."""
MOST_PARTS = 12
"""Different words of a column beyond which it parts no plants. Assumed."""


class SideBySide(Struct, frozen=True):
    """Counts as a table of plates: `told` and `total` name its columns, `unit` what a plate is called."""

    table: Table
    told: str
    total: str
    unit: str


def side_by_side(table: Table, response: str, by: str, count: str | None) -> SideBySide | None:
    """Return counts by plate where a column splits those of each treatment into plates; None where none does.

    There are two outcomes, two plates in each treatment, and more than two plants a plate on average.
    """
    laid = for_counts(table, response, by, count)
    counted, _ = read_counts(table, laid.outcome, by, laid.count)
    if len(counted.outcomes) != 2:
        return None
    for unit in others(table, [laid.outcome, by, laid.count]):
        if plain_name(unit) in PLATES | STANDS and (rows := _plates(table, laid, by, unit, counted)):
            told = counted.outcomes[counted.told]
            told = told if as_number(told) is None else f"{laid.outcome} = {told}"
            names = (by, f"{unit} of {by}", told, "all" if "all" not in (by, told) else "all counted")
            return SideBySide(Table(table.file, names, rows), told, names[-1], unit)
    return None


def plates_compared(found: Result, wide: SideBySide) -> Result:
    """Return the comparison of plates with the note that they were compared."""
    note = (
        f'Each "{wide.unit}" of a treatment was taken as one, by its share: seeds that share a {wide.unit} are not '
        "apart from each other. To count them singly: --test fisher."
    )
    words = f'Compared by "{wide.unit}", each by its share. {found.words}'
    return replace(found, words=words, notes=(note, *found.notes))


def told_first(found: Result, plates: Result, wide: SideBySide) -> Result:
    """Return a test of counts that begins with what the comparison of plates gives."""
    if found.outcome is None or plates.outcome is None:
        return found
    p, test = plates.outcome.test.judged, plates.outcome.test.name
    first = (
        f'Compared by "{wide.unit}", as they stood, {test} gives {chance(p)}: trust that one. Counted singly, as '
        "below, they look surer than they are."
    )
    answer = found.answer
    if (p < ALPHA) != (found.outcome.test.judged < ALPHA):
        answer = f'{answer.split(". ")[0]}. But compared by "{wide.unit}" it is {chance(p)}.'
    return replace(found, words=f"{first} {found.words}", answer=answer)


def unused_words(table: Table, laid: Layout) -> tuple[str, ...]:
    """Return a sentence and a note about the columns of words that were not asked for; nothing where there are none."""
    found = [one for one in others(table, [laid.outcome, laid.by, laid.count]) if _parts(table, one, laid.by)]
    if not found:
        return ()
    names = listed([f'"{one}"' for one in found])
    each = "any of them" if len(found) > 1 else "it"
    return (
        f"The table also has {names}; what holds over all may not hold within each.",
        f"Not looked at: {names}. Shares may run otherwise within {each}: compare each part by itself.",
    )


def _parts(table: Table, name: str, by: str | None) -> bool:
    words = table.words(name)
    kinds = len(set(words))
    apart = plain_name(name) in APART | PLATES or (by is not None and once(table, name, by))
    return not (apart or table.is_numbers(name) or None in words) and 2 <= kinds <= MOST_PARTS and kinds < len(words)


def _plates(table: Table, laid: Layout, by: str, unit: str, counted: Counted) -> tuple[Row, ...]:
    """Return a row a plate: treatment, plate, how many had the outcome told, of how many; none where they are none."""
    weights: Sequence[float | None] = table.numbers(laid.count) if laid.count else [1.0] * len(table.rows)
    sums: dict[tuple[str, str], list[int]] = {}
    for group, one, outcome, n in zip(
        table.words(by), table.words(unit), table.words(laid.outcome), weights, strict=True
    ):
        if group is None or outcome is None or n is None:
            continue
        if one is None:
            return ()
        cell = sums.setdefault((group, one), [0, 0])
        cell[0] += int(n) if outcome == counted.outcomes[counted.told] else 0
        cell[1] += int(n)
    each = [group for group, _ in sums]
    nested = len({one for _, one in sums}) == len(sums) or plain_name(unit) in PLATES
    several = min((each.count(one) for one in counted.groups), default=0) > 1
    if not (nested and several) or sum(of for _, of in sums.values()) <= 2 * len(sums):
        return ()
    cells = [(group, f"{group} {one}", str(up), str(of)) for (group, one), (up, of) in sums.items()]
    return tuple(Row(line, row) for line, row in enumerate(cells, 2))
