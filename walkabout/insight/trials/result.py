"""A whole trial from its table: read, tested, and put in words."""

from collections.abc import Sequence
from typing import Any

from msgspec.structs import replace

from walkabout.insight.trials import tests
from walkabout.insight.trials.answer import answer
from walkabout.insight.trials.chances import t_point
from walkabout.insight.trials.columns import called_opposite, called_total, is_column, others, quoted, whole
from walkabout.insight.trials.counting import analyse_counts, analyse_parts, analyse_ratio, plates_of
from walkabout.insight.trials.crossing import may_be_counted, totals_hint, weight
from walkabout.insight.trials.design import Trial, only_yes_no, read_trial
from walkabout.insight.trials.fits import fit, fit_lines
from walkabout.insight.trials.layouts import stands_alone
from walkabout.insight.trials.names import COUNTED, fitting, test_key
from walkabout.insight.trials.outcome import LEVEL, Effect, Group, Outcome, Outlier, Tested, plain
from walkabout.insight.trials.outliers import outliers
from walkabout.insight.trials.plates import plates, plates_note
from walkabout.insight.trials.ratio import read_ratio
from walkabout.insight.trials.report import Result
from walkabout.insight.trials.say import number
from walkabout.insight.trials.table import BadTrial, Table, line_list
from walkabout.insight.trials.totals import added_up, each_on_one_row
from walkabout.insight.trials.two_groups import differences
from walkabout.insight.trials.words import fit_words, several_words, two_words

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
    lot: bool = False,
) -> Result:
    """Return what a table shows about a response: the test that fits its design, or the one asked for.

    `by` names the column of the treatments, `pair` that of the pairs, `block` that of the blocks. `ratio` ('3:1', or
    'purple=3, white=1') sets the outcomes of the response against a ratio. `count` names a column that says for how
    many plants a row stands, `of` one of totals, of which the response is a part; `lot` says that the treatments were
    drawn by lot. BadTrial, in one line, where that cannot be done.
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
    if not against and key == "ratio":
        raise BadTrial("Give the ratio itself, such as --ratio 3:1 or --test 9:3:3:1")
    if against or (key == "chi-squared" and of is None and stands_alone(table, response, by, count)):
        if pair or block:
            raise BadTrial("A ratio takes no pairs or blocks: trays whose agreement is looked at go with --by")
        return analyse_ratio(table, response, by, parts, count, of, column)
    if by is None:
        also = " The column of the pairs alone does not say which value belongs to which treatment." if pair else ""
        raise BadTrial(
            f"Name the column that says which treatment each row had: --by COL.{also} For counts against a ratio: "
            "--ratio 3:1. For a line along numbers: --fit line --over COL"
        )
    if of is not None and not (pair or block) and (key in COUNTED or (key is None and each_on_one_row(table, by))):
        return analyse_parts(table, response, by, key, of)
    numeric = table.is_numbers(response)
    yes_no = numeric and of is None and only_yes_no(table.numbers(response))
    if key in COUNTED and of is not None:
        raise BadTrial(f'The test "{key}" counts without pairs or blocks: leave {"--pair" if pair else "--block"} out')
    counted = not numeric or key in COUNTED or (yes_no and key is None) or count is not None
    if of is None and counted:
        return analyse_counts(table, response, by, key, pair, block, count)
    if of is None and not (pair or block):
        _may_be_counts(table, response, by, key)
    if key == "friedman" and pair and not block:
        pair, block = None, pair
    elif key in ("paired", "wilcoxon") and block and not pair:
        pair, block = block, None
    return _numbers(table, response, by, pair, block, key, of, lot=lot)


def analyse_fit(table: Table, response: str, over: str, curve: str, by: str | None = None) -> Result:
    """Return a line or curve of the response along the numbers of `over`, for each treatment where `by` names them."""
    if table.column(response) == table.column(over):
        raise BadTrial("--response and --over name the same column: a line goes along another one")
    y, x = table.numbers(response), table.numbers(over)
    names = table.words(by) if by is not None else [""] * len(y)
    sides: dict[str, list[tuple[float, float, int]]] = {}
    left_out = []
    for row, one, at, name in zip(table.rows, y, x, names, strict=True):
        if one is None or at is None or name is None:
            left_out.append(row.line)
        else:
            sides.setdefault(name, []).append((at, one, row.line))
    if not sides:
        raise BadTrial(f'{table.file}: no row has a number both in "{response}" and in "{over}"')
    if len(sides) > 12:
        raise BadTrial(f'{table.file}: "{by}" holds {len(sides)} different words: is it the treatment?')
    fits = [(name, fit(curve, [one[0] for one in rows], [one[1] for one in rows])) for name, rows in sides.items()]
    groups = [Group(n, tuple(r[1] for r in rows), tuple(r[2] for r in rows)) for n, rows in sides.items()]
    outcome = None
    if len(fits) == 1:
        only = fits[0][1]
        effect = Effect("r squared", only.r_squared)
        if only.t is not None and only.p is not None:
            tested = Tested(key="line", name="t test of the slope", statistic=only.t, df=only.df, p=only.p)
            outcome = Outcome(test=tested, effect=effect)
    notes = [f"{len(left_out)} rows with something missing left out: {line_list(left_out)}."] if left_out else []
    notes += [f"{name}: {note}" if name else note for name, found in fits for note in found.notes]
    return Result(
        design="line" if curve == "line" else "curve",
        response=response,
        by=by,
        groups=tuple(_group_facts(one) for one in groups),
        samples=tuple(groups),
        outcome=outcome,
        words=fit_words(fits, response, over),
        working=tuple(
            f"{name}: {line}" if name else line for name, found in fits for line in fit_lines(found, over, response)
        ),
        notes=tuple(notes),
        more={
            "over": over,
            "fits": [
                {"group": name, **plain(found), "terms": [plain(one) for one in found.terms]} for name, found in fits
            ],
        },
    )


def _numbers(
    table: Table,
    response: str,
    by: str,
    pair: str | None,
    block: str | None,
    key: str | None,
    of: str | None,
    *,
    lot: bool,
) -> Result:
    trial = read_trial(table, response, by, pair, block, of)
    chosen = fitting(trial.design, key)
    outcome, even = tests.run_or_count(trial, chosen, usual=key is None)
    outcome = _of_shares(outcome) if of else outcome
    said = f"share {response} of {of}" if of else response
    far = outliers(_looked_at(trial))
    second = tests.second_look(trial, outcome.test.key, far)
    notes = [*trial.notes, *outcome.notes, *map(_far_line, far)]
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
        groups=tuple(map(_group_facts, trial.groups)),
        samples=trial.groups,
        outcome=outcome,
        answer=answer(outcome, said, doubt),
        words=" ".join(one for one in (even, say(trial, outcome, said, doubt, lot=lot)) if one),
        working=(*map(_group_line, trial.groups), *outcome.working),
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
    if outcome := may_be_counted(table, response, by):
        raise BadTrial(
            f'If "{response}" says how many plants had each "{outcome}": --response {quoted(outcome)} --by '
            f"{quoted(by)} --count {quoted(response)}. If it is an amount, name the test: --test welch, or the blocks: "
            f"--block {quoted(outcome)}"
        )
    if whole(table, response) and each_on_one_row(table, by) and (hint := totals_hint(table, response, by)):
        raise BadTrial(f'Each "{by}" stands on one line with one number. If "{response}" counts: {hint}')


def _looked_at(trial: Trial) -> Sequence[Group]:
    if trial.design != "paired":
        return trial.groups
    return (differences(*trial.groups),)


def _group_facts(group: Group) -> dict[str, Any]:
    sd = group.sd
    # Values that are all the same show no spread, so nobody can say how far their mean is to be trusted.
    half = t_point(LEVEL, group.n - 1) * sd / group.n**0.5 if sd else None
    ordered, at = sorted(group.values), group.n // 2
    median = ordered[at] if group.n % 2 else (ordered[at - 1] + ordered[at]) / 2
    return {
        "name": group.name,
        "n": group.n,
        "mean": group.mean,
        "sd": sd,
        "mean_low": None if half is None else group.mean - half,
        "mean_high": None if half is None else group.mean + half,
        "median": median,
        "least": ordered[0],
        "most": ordered[-1],
    }


def _group_line(group: Group) -> str:
    head = f"{group.name}: mean = sum/n = {number(group.mean * group.n)}/{group.n} = {number(group.mean)}"
    if group.sd is None:
        return head
    return f"{head}; sd = √(Σ (value − mean)²/(n−1)) = √({number(group.squares)}/{group.n - 1}) = {number(group.sd)}"


def _far_line(one: Outlier) -> str:
    where = f" (line {one.line})" if one.line else ""
    far = f"{number(one.value)} in {one.group}{where} lies {number(one.statistic, 3)} sd from its mean; the limit is "
    far += number(one.limit, 3)
    if one.statistic <= one.limit:
        far += ", but together with the next one it is too far out"
    return f"{far}. It was kept: look whether it was misread, and drop it only for a reason you can name."
