"""The design of a trial as its table shows it: who is compared with whom, in pairs, in blocks, or by counting."""

import re
from collections.abc import Sequence

from msgspec import Struct

from walkabout.insight.trials.outcome import Group
from walkabout.insight.trials.say import count
from walkabout.insight.trials.spelling import spelt_alike
from walkabout.insight.trials.table import BadTrial, Table, as_number, line_list

MOST_GROUPS = 60
"""Treatments of one trial; more means that the wrong column was named."""


class Trial(Struct, frozen=True, kw_only=True):
    """A trial with numbers: its groups in the order of the table, and for each value its block."""

    design: str
    """'two groups', 'paired', 'several groups', 'blocked'."""
    groups: tuple[Group, ...]
    blocks: tuple[tuple[str, ...], ...] = ()
    notes: tuple[str, ...] = ()


class _Cell(Struct, frozen=True):
    group: str
    value: float
    line: int
    key: str = ""


def read_trial(
    table: Table, response: str, by: str, pair: str | None = None, block: str | None = None, of: str | None = None
) -> Trial:
    """Return the trial that a table holds. `of` names a column of totals: the response is then a share of it.

    BadTrial where columns are missing, a cell is no number, or there is nothing to compare.
    """
    if pair and block:
        raise BadTrial("Name either the pairs (--pair) or the blocks (--block): pairs are blocks of two")
    named = [("--response", response), ("--by", by), ("--pair", pair), ("--block", block), ("--of", of)]
    seen: dict[int, str] = {}
    for option, name in named:
        if name is not None and (at := table.column(name)) in seen:
            raise BadTrial(f'{seen[at]} and {option} name the same column "{name}": each takes a column of its own')
        if name is not None:
            seen[table.column(name)] = option
    values, notes = _values(table, response, of)
    cells, left_out = _cells(table, values, by, pair or block)
    if left_out:
        notes.append(f"{count(len(left_out), 'row')} with something missing left out: {line_list(left_out)}.")
    names = group_names(table, [one.group for one in cells], by)
    notes += spelt_alike(names)
    if pair:
        groups, more = _paired(table, cells, names, pair)
        return Trial(design="paired", groups=groups, notes=(*notes, *more))
    groups = tuple(_group(name, [one for one in cells if one.group == name]) for name in names)
    if block:
        blocks = tuple(tuple(one.key for one in cells if one.group == name) for name in names)
        if len({one for each in blocks for one in each}) < 2:
            raise BadTrial(f'The column "{block}" holds one block only: leave --block out')
        return Trial(design="blocked", groups=groups, blocks=blocks, notes=tuple(notes))
    if alone := [one.name for one in groups if one.n == 1]:
        counts = len(alone) == len(groups) and all(one.values[0] == int(one.values[0]) >= 0 for one in groups)
        hint = (
            ". If these are counts, name the totals: --of COL; or set them against a ratio: --ratio 3:1"
            if counts
            else _wide(names, len(alone), by)
        )
        hint = "".join(f". {one.removesuffix('.')}" for one in spelt_alike(names)) or hint
        raise BadTrial(
            f'{table.file}: "{alone[0]}" has 1 value. Each group needs at least 2, and says little below 6{hint}'
        )
    if len(groups) == 2 and (same := _may_be_pairs(table, cells, names, {table.column(one) for one in (response, by)})):
        notes.append(
            f'The column "{same}" names each of its values once in both groups. If those are the same plants or belong '
            f"together, say so: --pair {same}."
        )
    return Trial(design="two groups" if len(groups) == 2 else "several groups", groups=groups, notes=tuple(notes))


def left_out_note(lines: Sequence[int]) -> tuple[str, ...]:
    """Return what is said of rows with something missing; nothing where there are none."""
    return (f"{count(len(lines), 'row')} with something missing left out: {line_list(lines)}.",) if lines else ()


def whole_numbers(table: Table, name: str) -> list[int | None]:
    """Return a column of counts; BadTrial for a cell that counts nothing."""
    found: list[int | None] = []
    for row, value in zip(table.rows, table.numbers(name), strict=True):
        if value is not None and (value < 0 or value != int(value)):
            raise BadTrial(
                f'{table.file}:{row.line}: column "{name}" holds {value:g}, which is no count: write 0, 1, 2, …'
            )
        found.append(None if value is None else int(value))
    return found


def only_yes_no(values: Sequence[float | None]) -> bool:
    """Say whether a column of numbers holds just 0 and 1: that is a yes or no, not an amount."""
    return {one for one in values if one is not None} == {0.0, 1.0}


def unit_of(column: str) -> str:
    """Return the unit that a column name carries in brackets at its end, with a space before it; '' without."""
    found = re.search(r"[(\[]([^()\[\]]{1,12})[)\]]\s*$", column)
    return f" {found[1].strip()}" if found and found[1].strip() else ""


def _values(table: Table, response: str, of: str | None) -> tuple[list[float | None], list[str]]:
    values = table.numbers(response)
    notes = []
    if all(one is None for one in values):
        raise BadTrial(f'{table.file}: the column "{response}" holds no number')
    if table.decimal_commas(response):
        notes.append(f'"{response}" was read with decimal commas.')
    if of is None:
        return values, notes
    counts, totals = whole_numbers(table, response), whole_numbers(table, of)
    shares: list[float | None] = []
    for row, many, total in zip(table.rows, counts, totals, strict=True):
        if many is None or not total:
            shares.append(None)
        elif many > total:
            raise BadTrial(f"{table.file}:{row.line}: {many} of {total} cannot be: the total must be the larger")
        else:
            shares.append(many / total)
    return shares, notes


def _wide(names: Sequence[str], alone: int, by: str) -> str:
    """Say how a table with a column for each treatment must be turned; '' where it does not look like one."""
    if 2 * alone <= len(names) or any(as_number(one) is None for one in names):
        return ""
    return (
        f'. "{by}" holds numbers that hardly come twice: if each column holds the values of one treatment, write one '
        "value a row, with a column that names its treatment"
    )


def _cells(table: Table, values: Sequence[float | None], by: str, key: str | None) -> tuple[list[_Cell], list[int]]:
    groups = table.words(by)
    keys: Sequence[str | None] = table.words(key) if key else [""] * len(groups)
    cells, left_out = [], []
    for row, value, group, one in zip(table.rows, values, groups, keys, strict=True):
        if value is None or group is None or one is None:
            left_out.append(row.line)
        else:
            cells.append(_Cell(group, value, row.line, one))
    return cells, left_out


def group_names(table: Table, groups: Sequence[str], by: str) -> tuple[str, ...]:
    """Return the treatments in the order of the table, numbers by size; BadTrial for fewer than two or too many."""
    names = _ordered(tuple(dict.fromkeys(groups)))
    if not names:
        raise BadTrial(f'{table.file}: no row has both a value and a word in "{by}"')
    if len(names) == 1:
        raise BadTrial(f'{table.file}: "{by}" holds one group only, "{names[0][:40]}": a trial compares at least two')
    if len(names) > MOST_GROUPS:
        raise BadTrial(
            f'{table.file}: "{by}" holds {len(names)} different words: is it the treatment? '
            "A line along numbers: --fit line --over COL"
        )
    return names


def _ordered(names: tuple[str, ...]) -> tuple[str, ...]:
    """Return groups in the order of the table; where all are numbers (doses, codes) by their size."""
    sizes = [as_number(one) for one in names]
    if any(one is None for one in sizes):
        return names
    return tuple(name for _, name in sorted(zip(sizes, names, strict=True), key=lambda one: one[0] or 0.0))


def _group(name: str, cells: Sequence[_Cell]) -> Group:
    return Group(name, tuple(one.value for one in cells), tuple(one.line for one in cells))


def _paired(
    table: Table, cells: Sequence[_Cell], names: tuple[str, ...], pair: str
) -> tuple[tuple[Group, ...], list[str]]:
    if len(names) != 2:
        raise BadTrial(f"A pair is of two groups; here are {len(names)}. For more, name the column with --block {pair}")
    sides: dict[str, dict[str, _Cell]] = {}
    for cell in cells:
        before = sides.setdefault(cell.key, {}).get(cell.group)
        if before is not None:
            raise BadTrial(
                f'{table.file}:{cell.line}: the pair "{cell.key}" has a second value for "{cell.group}" (the first on '
                f"line {before.line}). One value for each group in each pair, or name the column with --block {pair}"
            )
        sides[cell.key][cell.group] = cell
    whole = [side for side in sides.values() if len(side) == 2]
    if not whole:
        raise BadTrial(f'{table.file}: no word in "{pair}" stands in both groups, so nothing is paired')
    notes = []
    if odd := [key for key, side in sides.items() if len(side) == 1]:
        said = ", ".join(odd[:6]) + (" …" if len(odd) > 6 else "")
        notes.append(f"{count(len(odd), 'value')} without a partner left out: {said}.")
    return tuple(_group(name, [side[name] for side in whole]) for name in names), notes


def _may_be_pairs(table: Table, cells: Sequence[_Cell], names: Sequence[str], used: set[int]) -> str | None:
    """Return a column whose words stand once in each of the two groups, if there is one."""
    group_of = {cell.line: cell.group for cell in cells}
    for at, name in enumerate(table.names):
        if at in used or not name or table.names.count(name) > 1:
            continue
        found: dict[str, list[str]] = {one: [] for one in names}
        for row in table.rows:
            if row.line in group_of:
                found[group_of[row.line]].append(row.cells[at])
        first, second = (found[one] for one in names)
        if len(first) > 1 and len(set(first)) == len(first) and sorted(first) == sorted(second) and "" not in first:
            return name
    return None
