"""A whole trial from its table: read, tested, and put in words."""

from collections.abc import Sequence

from msgspec.structs import replace

from walkabout.insight.trials import tests
from walkabout.insight.trials.answer import answer
from walkabout.insight.trials.columns import called_opposite, called_total, is_column, others, quoted, whole
from walkabout.insight.trials.counting import analyse_counts, analyse_parts, analyse_ratio, plates_of
from walkabout.insight.trials.crossing import outcomes, totals_hint, weight
from walkabout.insight.trials.design import Trial, only_yes_no, read_trial
from walkabout.insight.trials.fitted import analyse_fit
from walkabout.insight.trials.groups import far_line, group_facts, group_line
from walkabout.insight.trials.layouts import stands_alone
from walkabout.insight.trials.names import COUNTED, fitting, test_key
from walkabout.insight.trials.outcome import Group, Outcome
from walkabout.insight.trials.outliers import outliers
from walkabout.insight.trials.plates import plates, plates_note
from walkabout.insight.trials.ratio import read_ratio
from walkabout.insight.trials.replicates import plates_compared, side_by_side, told_first
from walkabout.insight.trials.report import Result
from walkabout.insight.trials.single import analyse_single
from walkabout.insight.trials.spelling import bare, no_summary
from walkabout.insight.trials.table import BadTrial, Table
from walkabout.insight.trials.totals import added_up, each_on_one_row, only_total
from walkabout.insight.trials.two_groups import differences
from walkabout.insight.trials.words import several_words, two_words

__all__ = ["Result", "analyse", "analyse_fit"]


def analyse(
    table: Table,
    response: str,
    by: str | None = None,
    pair: str | None = None,
    block: str | None = None,
    test: str | None = None,
    *,
    ratio: str | None = None,
    count: str | None = None,
    of: str | None = None,
    lot: bool | None = None,
) -> Result:
    """Return what a table shows about a response: the test that fits its design, or the one asked for.

    `by` names the column of the treatments, `pair` that of the pairs, `block` that of the blocks. `ratio` ('3:1', or
    'purple=3, white=1') sets the outcomes of the response against a ratio. `count` names a column that says for how
    many plants a row stands, `of` one of totals, of which the response is a part. `lot` says of a trial that was set up
    in a room whether its treatments were drawn by lot; None for any other table. BadTrial, in one line, where that
    cannot be done.
    """
    table = added_up(table, of)
    parts = read_ratio(ratio) if ratio is not None else read_ratio(test) if test is not None else None
    column = ratio if ratio is not None and parts is None and is_column(table, ratio) else None
    if ratio is not None and parts is None and column is None:
        raise BadTrial(
            f'"{ratio[:40]}" is no ratio. Write it as 3:1 or 9:3:3:1, with names as purple=3, white=1, or name the '
            "column that holds the parts"
        )
    key = test_key(test) if test is not None and parts is None else None
    if of is not None and count is not None:
        raise BadTrial("--of takes totals, --count how many plants a row stands for: name one of them only")
    against = parts is not None or column is not None
    table.column(response)
    if key == "exact":
        key = "fisher" if of or count or not by or not _amounts(table, response, by) else "permutation"
    taken: tuple[str, ...] = ()
    plain = of is None and count is None and not (against or pair or block) and (key is None or key in COUNTED)
    if by is not None and plain and lot is None and (total := only_total(table, response, by)):
        of, taken = total, (f'"{total}" was taken for the totals of "{response}" (--of {quoted(total)}).',)
    if not against and key == "ratio":
        raise BadTrial("Give the ratio itself, such as --ratio 3:1 or --test 9:3:3:1")
    if against or (key == "chi-squared" and of is None and stands_alone(table, response, by, count)):
        if pair or block:
            raise BadTrial("A ratio takes no pairs or blocks: trays whose agreement is looked at go with --by")
        return analyse_ratio(table, response, by, parts, count, of, column)
    if lot is None and key is None and not (pair or block) and (by is None or len(set(table.words(by)) - {None}) == 1):
        return analyse_single(table, response, by, count, of)
    if by is None:
        also = " The column of the pairs alone does not say which value belongs to which treatment." if pair else ""
        raise BadTrial(
            f"Name the column that says which treatment each row had: --by COL.{also} For counts against a ratio: "
            "--ratio 3:1. For a line along numbers: --fit line --over COL"
        )
    if of is not None and not (pair or block) and (key in COUNTED or (key is None and each_on_one_row(table, by))):
        return analyse_parts(table, response, by, key, of, taken)
    table, read = (table, ()) if key in COUNTED or of is not None or count is not None else bare(table, response)
    numeric = table.is_numbers(response)
    yes_no = numeric and of is None and only_yes_no(table.numbers(response))
    if key in COUNTED and of is not None:
        raise BadTrial(f'The test "{key}" counts without pairs or blocks: leave {"--pair" if pair else "--block"} out')
    counted = not numeric or key in COUNTED or (yes_no and key is None) or count is not None
    if of is None and counted:
        found = analyse_counts(table, response, by, key, pair, block, count, room=lot is not None)
        return found if lot is not None else _of_plates(table, found, response, by, key, count)
    if of is None and not (pair or block) and not read:
        _may_be_counts(table, response, by, key)
    if key == "friedman" and pair and not block:
        pair, block = None, pair
    elif key in ("paired", "wilcoxon") and block and not pair:
        pair, block = block, None
    found = _numbers(table, response, by, pair, block, key, of, lot=lot)
    return replace(found, notes=(*read, *found.notes))


def _of_plates(table: Table, found: Result, response: str, by: str, key: str | None, count: str | None) -> Result:
    """Return the comparison of plates where seeds stood on plates; with a test of counts it is told before that."""
    wide = side_by_side(table, response, by, count)
    if wide is None:
        return found
    try:
        plates = _numbers(wide.table, wide.told, by, None, None, None, wide.total, lot=None)
    except BadTrial:
        return found
    return plates_compared(plates, wide) if key is None else told_first(found, plates, wide)


def _amounts(table: Table, response: str, by: str) -> bool:
    """Say whether a response holds amounts, by which an exact test deals them out again."""
    if not table.is_numbers(response) or only_yes_no(table.numbers(response)):
        return False
    return not (outcomes(table, response, by) or (whole(table, response) and each_on_one_row(table, by)))


def _numbers(
    table: Table,
    response: str,
    by: str,
    pair: str | None,
    block: str | None,
    key: str | None,
    of: str | None,
    *,
    lot: bool | None,
) -> Result:
    trial = read_trial(table, response, by, pair, block, of)
    chosen = fitting(trial.design, key)
    outcome, even = tests.run_or_count(trial, chosen, usual=key is None)
    outcome = _of_shares(outcome) if of else outcome
    said = f"share {response} of {of}" if of else response
    far = outliers(_looked_at(trial))
    second = tests.second_look(trial, outcome.test.key, far)
    notes = [*trial.notes, *outcome.notes, *map(far_line, far)]
    notes += [tests.second_line(second, outcome)] if second else []
    notes += [_totals_note(table, response, by)] if of is None and not lot else []
    notes += [plates_note(plates(plates_of(table, response, by, of)))] if of else []
    notes += [tests.EVEN] if even else []
    doubt = tests.second_words(second, outcome)
    say = two_words if trial.design in ("two groups", "paired") else several_words
    return Result(
        design=trial.design,
        response=response,
        by=by,
        groups=tuple(map(group_facts, trial.groups)),
        samples=trial.groups,
        outcome=outcome,
        answer=answer(outcome, said, doubt),
        words=" ".join(one for one in (even, say(trial, outcome, said, doubt, by=by, lot=lot)) if one),
        working=(*map(group_line, trial.groups), *outcome.working),
        outliers=far,
        notes=tuple(one for one in notes if one),
        more={"second_look": {"name": second.outcome.test.name, "p": second.outcome.test.judged}} if second else {},
    )


def _totals_note(table: Table, response: str, by: str) -> str:
    """Say which option compares shares, where the response counts and totals or the others stand beside it."""
    beside = others(table, [response, by])
    if not whole(table, response) or not any(called_total(one) or called_opposite(one) for one in beside):
        return ""
    hint = totals_hint(table, response, by)
    return f'"{response}" was compared as an amount. If it counts: {hint}.' if hint else ""


def _of_shares(outcome: Outcome) -> Outcome:
    """Return an outcome whose difference says that its values are shares."""
    gap = outcome.difference
    if gap is None:
        return outcome
    return replace(outcome, difference=replace(gap, kind=gap.kind.replace("mean", "mean share", 1)))


def _may_be_counts(table: Table, response: str, by: str, key: str | None) -> None:
    """BadTrial where amounts may be counts of plants, and a test of means would say something else."""
    if only_yes_no(table.numbers(response)) and (many := weight(table, response, by)[0]):
        raise BadTrial(
            f'Each row stands for as many plants as "{many}" says: those are counted, with --test fisher or '
            "chi-squared; where each row is one plant, leave that column out of the table"
        )
    if key is not None:
        return
    if means := outcomes(table, response, by):
        name = quoted(means[0]) if len(means) == 1 else "OUTCOME"
        each = " or ".join(f'"{one}"' for one in means)
        raise BadTrial(
            f'If "{response}" says how many had each {each}: --response {name} --by {quoted(by)} --count '
            f"{quoted(response)}. If it is an amount, name the test, --test welch, or the blocks: --block "
            f"{quoted(means[0])}"
        )
    no_summary(table, response, by)
    if whole(table, response) and each_on_one_row(table, by) and (hint := totals_hint(table, response, by)):
        raise BadTrial(f'Each "{by}" stands on one line with one number. If "{response}" counts: {hint}')


def _looked_at(trial: Trial) -> Sequence[Group]:
    if trial.design != "paired":
        return trial.groups
    return (differences(*trial.groups),)
