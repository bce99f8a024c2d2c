"""Trials that count: outcomes by treatment, and outcomes against a ratio."""

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from walkabout.insight.trials.answer import answer
from walkabout.insight.trials.counted import Counted, share_facts
from walkabout.insight.trials.counts import chi_squared, fisher, sparse
from walkabout.insight.trials.design import whole_numbers
from walkabout.insight.trials.layouts import Layout, for_counts, for_ratio
from walkabout.insight.trials.names import fitting
from walkabout.insight.trials.outcome import ALPHA
from walkabout.insight.trials.plates import added_note, plates
from walkabout.insight.trials.ratio import (
    agreement,
    agreement_facts,
    agreement_lines,
    agreement_note,
    far_better,
    kind_facts,
    read_expected,
)
from walkabout.insight.trials.ratio import ratio as against_ratio
from walkabout.insight.trials.replicates import unused_words
from walkabout.insight.trials.report import Result
from walkabout.insight.trials.say import number
from walkabout.insight.trials.table import BadTrial, Table
from walkabout.insight.trials.tally import read_counts, read_tally
from walkabout.insight.trials.totals import each_on_one_row, read_parts
from walkabout.insight.trials.words import count_words, ratio_words

CHOSEN = (
    "So many expected counts are small that chi-squared would be rough (Cochran's rule): Fisher's exact test was "
    "taken in its place."
)
Trays = Mapping[str, Sequence[int]]
"""Counts of each tray, in the order of the kinds."""


def analyse_counts(
    table: Table,
    response: str,
    by: str,
    key: str | None,
    pair: str | None,
    block: str | None,
    count: str | None,
    *,
    room: bool = False,
) -> Result:
    """Return what the counts of outcomes by treatment show. BadTrial where they are in pairs or blocks."""
    if pair or block:
        raise BadTrial(
            f'"{response}" holds words or yes and no: those are counted by treatment, without pairs or blocks. Leave '
            f"{'--pair' if pair else '--block'} out, or compare shares of plates: --of COL"
        )
    laid = for_counts(table, response, by, count)
    counted, notes = read_counts(table, laid.outcome, by, laid.count)
    beside = () if room else unused_words(table, laid)
    found = _of_counts(counted, laid.outcome, by, key, (*laid.notes, *notes), room=room)
    words = [laid.first, found.words, *beside[:1]]
    return replace(found, words=" ".join(one for one in words if one), notes=(*found.notes, *beside[1:]))


def analyse_parts(table: Table, response: str, by: str, key: str | None, of: str, taken: Sequence[str] = ()) -> Result:
    """Return what so many of a total by treatment show, rows of a treatment added up."""
    counted, notes = read_parts(table, response, by, of)
    if len(counted.groups) < 2:
        raise BadTrial(f'{table.file}: "{by}" holds one group only: a trial compares at least two')
    added = () if each_on_one_row(table, by) else (added_note(plates(plates_of(table, response, by, of))),)
    return _of_counts(counted, response, by, key, (*taken, *notes, *added), room=False)


def plates_of(table: Table, response: str, by: str, of: str) -> list[tuple[str, int, int]]:
    """Return the plates of a table: treatment, how many had the outcome, of how many."""
    rows = zip(table.words(by), whole_numbers(table, response), whole_numbers(table, of), strict=True)
    return [(name, up, total) for name, up, total in rows if name is not None and up is not None and total]


def _of_counts(
    counted: Counted, response: str, by: str, key: str | None, notes: Sequence[str], *, room: bool
) -> Result:
    two = len(counted.groups) == len(counted.outcomes) == 2
    small = not two and sparse(counted)
    chosen = fitting("counts", key or ("fisher" if two or small else "chi-squared"))
    outcome = fisher(counted) if chosen == "fisher" else chi_squared(counted)
    why = (CHOSEN,) if small and key is None else ()
    return Result(
        design="counts",
        response=response,
        by=by,
        groups=share_facts(counted),
        outcome=outcome,
        answer=answer(outcome, response),
        words=count_words(counted, outcome, response, by, room=room),
        working=outcome.working,
        notes=(*notes, *why, *outcome.notes),
    )


def analyse_ratio(
    table: Table,
    response: str,
    by: str | None,
    parts: tuple[tuple[str, ...], tuple[float, ...]] | None,
    count: str | None,
    of: str | None = None,
    column: str | None = None,
) -> Result:
    """Return how counts of outcomes go with a ratio: names of its parts, or none, and the parts.

    Without parts those in `column` are taken, or those that stand beside the counts; else each outcome is held to be
    as frequent as every other. `of` names totals, of which the response is a part.
    """
    if of is not None:
        counted, notes = read_parts(table, response, by, of)
        laid = Layout(response, by, None)
        sums = dict(zip(counted.outcomes, map(sum, zip(*counted.table, strict=True)), strict=True))
    else:
        laid = for_ratio(
            table, response, by, count, named=bool(parts and parts[0]) or column is not None, parts=parts is not None
        )
        sums, notes = read_tally(table, laid.outcome, laid.count)
    more = [*laid.notes, *notes]
    column = column or laid.expected
    if parts is None and column is not None:
        parts = read_expected(table, laid.outcome, column)
        more.append(f'The parts were read from "{column}". To say otherwise: --ratio 3:1.')
    if parts is None:
        parts = (), (1.0,) * max(2, len(sums))
    names, numbers = parts
    order, first = list(sums), ""
    if names:
        order = _by_name(sums, names, laid.outcome)
    elif len(numbers) == len(order) and len(set(numbers)) > 1:
        best = _by_size(sums, numbers)
        if laid.count is None and of is None:
            order = best
        else:
            first = far_better(order, best, sums, numbers)
    if not names:
        said = ", ".join(f"{name} {number(part)}" for name, part in zip(order, numbers, strict=False))
        more.append(f"The parts were read as {said}. To say otherwise: --ratio '{order[0]}={number(numbers[0])}, …'.")
    trays: Trays = {}
    if laid.by is not None and of is not None:
        places = [counted.outcomes.index(one) for one in order]
        trays = {name: [row[at] for at in places] for name, row in zip(counted.groups, counted.table, strict=True)}
    elif laid.by is not None and not each_on_one_row(table, laid.by):
        more.append(f'The ratio was set against all plants together, whatever their "{laid.by}".')
        trays = _trays(table, laid.outcome, laid.by, laid.count, order)
    return of_ratio(order, [sums[one] for one in order], numbers, laid.outcome, trays, "group", more, first, room=False)


def of_ratio(
    names: Sequence[str],
    seen: Sequence[int],
    parts: Sequence[float],
    response: str,
    trays: Trays,
    tray: str = "tray",
    notes: Sequence[str] = (),
    first: str = "",
    *,
    room: bool = True,
) -> Result:
    """Return how counts of kinds go with a ratio, and whether the trays agree; `tray` is what those are called.

    `first` is what the words begin with; `room`: it was counted in a room.

    BadTrial for no counts, or where names and parts are not as many.
    """
    outcome = against_ratio(names, seen, parts)
    agreed = agreement(trays, parts)
    more = [agreement_note(agreed, tray)] if agreed else []
    words = ratio_words(outcome, agreed.p if agreed else None, tray, room=room)
    return Result(
        design="ratio",
        response=response,
        by=None,
        groups=kind_facts(names, seen),
        outcome=outcome,
        answer=answer(outcome, response, f"But the {tray}s disagree: read on." if agreed and agreed.p < ALPHA else ""),
        words=f"{first} {words}" if first else words,
        working=(*outcome.working, *(agreement_lines(agreed, tray) if agreed else ())),
        notes=(*notes, *more, *outcome.notes),
        more=agreement_facts(agreed) if agreed else {},
    )


def _by_name(sums: Mapping[str, int], names: Sequence[str], column: str) -> list[str]:
    """Return the outcomes in the order of the names of the parts; BadTrial where one has no partner."""
    known = {one.casefold(): one for one in sums}
    if unknown := [one for one in names if one.casefold() not in known]:
        raise BadTrial(f'No row of "{column}" holds "{unknown[0]}". It holds: {", ".join(list(sums)[:12])}')
    if len(names) < len(sums):
        left = next(one for one in sums if one.casefold() not in {name.casefold() for name in names})
        raise BadTrial(f'The ratio leaves out "{left}": give it a part too')
    return [known[one.casefold()] for one in names]


def _trays(table: Table, response: str, by: str, weight: str | None, order: Sequence[str]) -> Trays:
    """Return the counts of each group in the order of the kinds; none where they cannot be told apart."""
    try:
        counted, _ = read_counts(table, response, by, weight)
    except BadTrial:
        return {}
    places = [counted.outcomes.index(name) if name in counted.outcomes else None for name in order]
    return {
        name: [0 if at is None else row[at] for at in places]
        for name, row in zip(counted.groups, counted.table, strict=True)
    }


def _by_size(sums: dict[str, int], parts: Sequence[float]) -> list[str]:
    """Give the largest part to the most frequent outcome: no other order fits better, and rows have none."""
    ranked = sorted(sums, key=lambda one: -sums[one])
    places = sorted(range(len(parts)), key=lambda at: -parts[at])
    order = [""] * len(parts)
    for name, place in zip(ranked, places, strict=True):
        order[place] = name
    return order
