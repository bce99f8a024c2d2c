"""One group by itself: its mean or its shares with their intervals. Nothing is compared, so nothing is tested."""

from collections.abc import Mapping
from typing import Any

from walkabout.insight.trials.columns import called_count, called_label, numbers, once, others, quoted
from walkabout.insight.trials.counted import Counted, share_facts
from walkabout.insight.trials.crossing import weight
from walkabout.insight.trials.design import left_out_note, unit_of
from walkabout.insight.trials.groups import far_line, group_facts, group_line
from walkabout.insight.trials.intervals import wilson
from walkabout.insight.trials.layouts import SINGLE_AMOUNTS, singly
from walkabout.insight.trials.outcome import LEVEL, Group
from walkabout.insight.trials.outliers import outliers
from walkabout.insight.trials.plates import added_note, plates
from walkabout.insight.trials.report import Result
from walkabout.insight.trials.say import count as counted_words
from walkabout.insight.trials.say import number, share, short
from walkabout.insight.trials.spelling import bare, must_be_words
from walkabout.insight.trials.table import BadTrial, Table, as_number
from walkabout.insight.trials.tally import read_tally
from walkabout.insight.trials.totals import read_parts

ALONE = (
    "One group by itself is compared with nothing. With a column that says which treatment each row had: --by COL. For "
    "counts against a ratio: --ratio 3:1. For a line along numbers: --fit line --over COL."
)
COUNTS = 'If "{0}" says how many had each {2}, name the outcome: --response OUTCOME --count {1}'
FAIR = "That holds if those measured were taken without choosing."


def analyse_single(table: Table, response: str, by: str | None, count: str | None, of: str | None) -> Result:
    """Return what one group shows: the mean of numbers, or the shares of words, of 0 and 1, and of counts.

    `of` and `count` as for a trial; `by` may name a column with one group only. BadTrial where there is no value.
    """
    if by is not None:
        named = tuple(row for row, word in zip(table.rows, table.words(by), strict=True) if word is not None)
        table = Table(table.file, table.names, named)
    table, read = bare(table, response) if of is None and count is None else (table, ())
    name = next((one for one in table.words(by) if one is not None), "") if by is not None else ""
    if of is not None:
        counted, notes = read_parts(table, response, by, of)
        rows = [(name, *one) for one in _whole_rows(table, response, of)]
        added = (added_note(plates(rows)),) if len(rows) > 1 else ()
        return _shares(counted, response, by, (*notes, *added))
    amounts = bool(set(numbers(table, response)) - {0.0, 1.0})
    if count is None and called_count(response) and amounts:
        words = [one for one in others(table, [response, by]) if not (called_label(one) or numbers(table, one))]
        words = [one for one in words if None not in table.words(one)]
        if words and once(table, *words):
            if len(words) > 1:
                raise BadTrial(COUNTS.format(response, quoted(response), " or ".join(f'"{one}"' for one in words)))
            note = f'"{response}" was taken for how many had each "{words[0]}" (--response {quoted(words[0])} --count '
            return _tallied(table, words[0], by, response, (f"{note}{quoted(response)}).",), name)
    if singly(table, count):
        if amounts:
            raise BadTrial(SINGLE_AMOUNTS.format(response))
        return _tallied(table, response, by, None, (), name)
    if count is not None:
        return _tallied(table, response, by, count, (), name)
    if amounts:
        return _mean(table, response, by, name, read)
    many, notes, first = weight(table, response, by)
    return _tallied(table, response, by, many, (*notes, first) if first else notes, name)


def _mean(table: Table, response: str, by: str | None, name: str, notes: tuple[str, ...]) -> Result:
    values = table.numbers(response)
    kept = [(row.line, one) for row, one in zip(table.rows, values, strict=True) if one is not None]
    gone = [row.line for row, one in zip(table.rows, values, strict=True) if one is None]
    if len(kept) < 2:
        held = counted_words(len(kept), "value")
        raise BadTrial(f'{table.file}: "{response}" holds {held}. A mean with its interval needs at least 2')
    group = Group(name, tuple(one for _, one in kept), tuple(line for line, _ in kept))
    facts, unit = group_facts(group), unit_of(response)
    far = outliers((group,))
    head = f"{response[:1].upper()}{response[1:]}: the mean of {group.n} values is {short(group.mean)}{unit}"
    if facts["mean_low"] is None:
        words = f"{head}; they are all the same, so nothing says how sure it is."
    else:
        span = f"{short(facts['mean_low'])} to {short(facts['mean_high'])}{unit}"
        words = f"{head}; the mean of all like them may be anything from {span} ({LEVEL * 100:.0f} % interval). {FAIR}"
    commas = (f'"{response}" was read with decimal commas.',) if table.decimal_commas(response) else ()
    return Result(
        design="one group",
        response=response,
        by=by,
        groups=(facts,),
        samples=(group,),
        outcome=None,
        answer=f"{head}. Nothing was compared.",
        words=words,
        working=(group_line(group), *_mean_lines(group, facts)),
        outliers=far,
        notes=(*notes, *commas, *left_out_note(gone), *map(far_line, far), ALONE),
    )


def _mean_lines(group: Group, facts: Mapping[str, float | None]) -> tuple[str, ...]:
    if group.sd is None or facts["mean_low"] is None:
        return ()
    ends = f"{number(facts['mean_low'])} to {number(facts['mean_high'])}"
    error = f"{number(group.sd)}/√{group.n}"
    return (f"{LEVEL * 100:.0f} % interval = mean ± t({group.n - 1})·sd/√n, with sd/√n = {error}: {ends}",)


def _tallied(
    table: Table, response: str, by: str | None, weight: str | None, notes: tuple[str, ...], name: str
) -> Result:
    must_be_words(table, response, table.words(response))
    sums, more = read_tally(table, response, weight)
    return _shares(Counted((name,), tuple(sums), (tuple(sums.values()),)), response, by, (*notes, *more))


def _shares(counted: Counted, response: str, by: str | None, notes: tuple[str, ...]) -> Result:
    row, n = counted.table[0], sum(counted.table[0])
    if not n:
        raise BadTrial(f'"{response}" counts no plant at all')
    shares: list[dict[str, Any]] = []
    for outcome, one in zip(counted.outcomes, row, strict=True):
        low, high = wilson(one, n)
        shares.append({"outcome": outcome, "n": one, "share": one / n, "low": low, "high": high})
    told = shares[counted.told]
    name = told["outcome"] if as_number(told["outcome"]) is None else f"{response} = {told['outcome']}"
    seen = f"{name}: {told['n']} of {n}"
    span = f"{share(told['low'])} to {share(told['high'])}"
    return Result(
        design="one group",
        response=response,
        by=by,
        groups=share_facts(counted),
        outcome=None,
        answer=f"{seen}, {share(told['share'])}. Nothing was compared.",
        words=f"{seen} is {share(told['share'])} as counted; the share among all like them may be anything from {span} "
        f"({LEVEL * 100:.0f} % interval). {FAIR}",
        working=tuple(
            f"{one['outcome']}: {one['n']}/{n} = {share(one['share'])}; Wilson interval {share(one['low'])} to "
            f"{share(one['high'])}"
            for one in shares
        ),
        notes=(*notes, ALONE),
        more={"shares": shares},
    )


def _whole_rows(table: Table, response: str, of: str) -> list[tuple[int, int]]:
    rows = zip(table.numbers(response), table.numbers(of), strict=True)
    return [(int(one), int(total)) for one, total in rows if one is not None and total]
