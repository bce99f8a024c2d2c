"""Trials that count: outcomes by treatment, and outcomes against a ratio."""

from collections.abc import Sequence

from walkabout.insight.trials.counts import chi_squared, fisher, share_facts
from walkabout.insight.trials.counts import ratio as against_ratio
from walkabout.insight.trials.design import only_yes_no, read_counts, read_tally
from walkabout.insight.trials.names import fitting
from walkabout.insight.trials.report import Result
from walkabout.insight.trials.say import number
from walkabout.insight.trials.table import BadTrial, Table
from walkabout.insight.trials.words import count_words, ratio_words


def analyse_counts(
    table: Table, response: str, by: str, key: str | None, pair: str | None, block: str | None, count: str | None
) -> Result:
    """Return what the counts of outcomes by treatment show. BadTrial where they are in pairs or blocks."""
    if pair or block:
        raise BadTrial(
            f'"{response}" holds words or yes and no: those are counted by treatment, without pairs or blocks. Leave '
            f"{'--pair' if pair else '--block'} out, or compare shares of plates: --of COL"
        )
    counted, notes = read_counts(table, response, by, count)
    small = len(counted.groups) == len(counted.outcomes) == 2
    chosen = fitting("counts", key or ("fisher" if small else "chi-squared"))
    outcome = fisher(counted) if chosen == "fisher" else chi_squared(counted)
    return Result(
        design="counts",
        response=response,
        by=by,
        groups=share_facts(counted),
        outcome=outcome,
        words=count_words(counted, outcome, response),
        working=outcome.working,
        notes=(*notes, *outcome.notes),
    )


def analyse_ratio(
    table: Table,
    response: str,
    by: str | None,
    parts: tuple[tuple[str, ...], tuple[float, ...]] | None,
    count: str | None,
) -> Result:
    """Return how counts of outcomes go with a ratio: names of its parts, or none, and the parts.

    Without parts each outcome is held to be as frequent as every other.
    """
    outcome_column, weight, over_all = _columns(table, response, by, count)
    sums, together, notes = read_tally(table, outcome_column, weight)
    if parts is None:
        parts = (), (1.0,) * max(2, len(sums))
    names, numbers = parts
    more = [*notes, *over_all]
    if names:
        known = {one.casefold(): one for one in sums}
        if unknown := [one for one in names if one.casefold() not in known]:
            raise BadTrial(f'No row of "{outcome_column}" holds "{unknown[0]}". It holds: {", ".join(list(sums)[:12])}')
        if len(names) < len(sums):
            left = next(one for one in sums if one.casefold() not in {name.casefold() for name in names})
            raise BadTrial(f'The ratio leaves out "{left}": give it a part too')
        order = [known[one.casefold()] for one in names]
    else:
        order = list(sums)
        if not together and weight is None and len(numbers) == len(order) and len(set(numbers)) > 1:
            order = _by_size(sums, numbers)
        said = ", ".join(f"{name} {number(part)}" for name, part in zip(order, numbers, strict=False))
        more.append(f"The parts were read as {said}. To say otherwise: --ratio '{order[0]}={number(numbers[0])}, …'.")
    outcome = against_ratio(order, [sums[one] for one in order], numbers)
    n = sum(sums.values())
    groups = tuple({"name": name, "n": sums[name], "mean": None, "sd": None, "share": sums[name] / n} for name in order)
    return Result(
        design="ratio",
        response=outcome_column,
        by=None,
        groups=groups,
        outcome=outcome,
        words=ratio_words(outcome),
        working=outcome.working,
        notes=(*more, *outcome.notes),
    )


def is_tally(table: Table, response: str, by: str) -> bool:
    """Say whether a table holds one whole number for each word of `by`: how many plants had that outcome."""
    values, words = table.numbers(response), [one for one in table.words(by) if one is not None]
    return len(set(words)) == len(words) and all(one is None or (one >= 0 and one == int(one)) for one in values)


def _columns(table: Table, response: str, by: str | None, count: str | None) -> tuple[str, str | None, list[str]]:
    """Return the column of the outcomes, that of how many, and what to bear in mind about the groups.

    A table of two columns, the outcome and how many, is read either way round.
    """
    if by is None:
        return response, count, []
    numeric = table.is_numbers(response)
    if count is None and numeric and (is_tally(table, response, by) or not only_yes_no(table.numbers(response))):
        return by, response, []
    if len({one for one in table.words(by) if one is not None}) < 2:
        return response, count, []
    return (
        response,
        count,
        [f'The ratio was set against all plants together; whether the groups of "{by}" differ is another question.'],
    )


def _by_size(sums: dict[str, int], parts: Sequence[float]) -> list[str]:
    """Give the largest part to the most frequent outcome: mixed rows have no order of their own."""
    ranked = sorted(sums, key=lambda one: -sums[one])
    places = sorted(range(len(parts)), key=lambda at: -parts[at])
    order = [""] * len(parts)
    for name, place in zip(ranked, places, strict=True):
        order[place] = name
    return order
